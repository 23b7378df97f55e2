#ifndef HBK_BASE_STATUS_H
#define HBK_BASE_STATUS_H

/*
 * How an operation ended. The words for the user travel separately, in
 * struct hbk_faults: the lower layers return a status and know no sentences.
 */
enum hbk_status {
    HBK_OK = 0,
    HBK_ERR_INPUT,     /* an input could not be read, or is not acceptable */
    HBK_ERR_OUTPUT,    /* an output could not be written whole */
    HBK_ERR_DOMAIN,    /* an argument lies outside the model's valid range */
    HBK_ERR_NO_RESULT, /* a sound question without an answer */
    HBK_ERR_RENDER     /* a font is missing, or the drawing library failed */
};

#define HBK_MUST_CHECK __attribute__((warn_unused_result))
#define HBK_PRINTF(fmt, args) __attribute__((format(printf, fmt, args)))

/* Leaves the calling function with the status of `expr` unless it is OK. */
#define HBK_TRY(expr)                                                          \
    do {                                                                       \
        const enum hbk_status hbk_try_status_ = (expr);                        \
        if (hbk_try_status_ != HBK_OK) {                                       \
            return hbk_try_status_;                                            \
        }                                                                      \
    } while (0)

#endif
