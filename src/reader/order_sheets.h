#ifndef HBK_READER_ORDER_SHEETS_H
#define HBK_READER_ORDER_SHEETS_H

#include "reader/fields.h"
#include "reader/order.h"

/* The lists of sheets of an order, for its reader. */

/* What holds for every sheet. */
struct hbk_order_ground {
    const char *path;  /* of the order */
    const char *paper; /* of sheets that name none; NULL: what is usual */
};

/* "paper"; left alone where the file does not say. */
void hbk_order_read_paper(const struct hbk_fields *fields, const char **paper);

/* "sheets" of a player, or of everybody; left alone where it is absent. */
void hbk_order_read_sheets(const struct hbk_order_ground *ground,
                           const struct hbk_fields *fields, size_t *n,
                           const struct hbk_order_sheet **sheets);

/* A path as seen from here, which the order names from its own folder. */
const char *hbk_order_from_folder(const struct hbk_order_ground *ground,
                                  const char *path, struct hbk_arena *arena);

/* "octave", "transpose" and "to_key"; left alone where they are absent. */
void hbk_order_read_moving(const struct hbk_fields *fields,
                           struct hbk_order_moving *moving);

/* A word with its place. */
enum hbk_got hbk_order_read_word(const struct hbk_fields *fields,
                                 const char *name, struct hbk_order_word *word);

enum {
    HBK_ORDER_NAME_COLUMNS = 120, /* the most that a name may have */
    HBK_ORDER_PATH_COLUMNS = 1000
};

#endif
