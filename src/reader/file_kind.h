#ifndef HBK_READER_FILE_KIND_H
#define HBK_READER_FILE_KIND_H

/* What the first name in a YAML file says it is. */
enum hbk_file_kind {
    HBK_FILE_OTHER, /* also what cannot be opened */
    HBK_FILE_HORN,
    HBK_FILE_READINGS,
    HBK_FILE_ORDER
};

enum hbk_file_kind hbk_peek_kind(const char *path);

/* "this is an order"; NULL for other files. */
const char *hbk_file_kind_is(enum hbk_file_kind kind);

#endif
