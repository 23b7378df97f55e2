#ifndef HBK_READER_FIELDS_H
#define HBK_READER_FIELDS_H

#include "reader/value.h"

/*
 * A mapping read name by name. The readers of horns, readings and orders
 * stand on it:
 *
 *     struct hbk_fields fields = {.map = &root, .words = "", ...};
 *     hbk_fields_known(&fields, known, n_known);
 *     switch (hbk_field_number(&fields, "a4", range, &a4)) { ... }
 */
struct hbk_fields {
    const struct hbk_node *map;
    const char *words; /* how sentences name it: "key 3"; "" for the file */
    struct hbk_arena *arena;
    struct hbk_faults *faults;
};

enum hbk_got {
    HBK_ABSENT, /* the name is not there; the result is untouched */
    HBK_GOT,    /* the result is set */
    HBK_REFUSED /* a fault was recorded; the result is untouched */
};

/* Refuses every name that is not among `known`, with the nearest that is. */
void hbk_fields_known(const struct hbk_fields *fields,
                      const char *const known[], size_t n);

/*
 * Whether a name of the mapping was refused by hbk_fields_known() with this
 * one as what was meant, so that it need not be told to be missing.
 */
bool hbk_fields_meant(const struct hbk_fields *fields, const char *name);

/*
 * Refuses entry `i` if it is what a decimal comma left over of the number
 * before it; returns whether.
 */
bool hbk_fields_half_number(const struct hbk_fields *fields, size_t i);

/* The value of that name, or NULL. */
const struct hbk_node *hbk_fields_find(const struct hbk_fields *fields,
                                       const char *name);

/* Refuses the mapping because a name is missing: "write `advice`". */
void hbk_fields_missing(const struct hbk_fields *fields, const char *name,
                        const char *advice);

/* Adds an error about the mapping as a whole: "key 3: ...". */
void hbk_fields_fault(const struct hbk_fields *fields, unsigned number,
                      const char *fmt, ...) HBK_PRINTF(3, 4);

/* The value of that name, which must be there, to be read by hbk_value_x. */
struct hbk_asked hbk_fields_ask(const struct hbk_fields *fields,
                                const char *name);

/* As their namesakes in reader/value.h. */
enum hbk_got hbk_field_number(const struct hbk_fields *fields, const char *name,
                              struct hbk_range range, double *value);
enum hbk_got hbk_field_whole(const struct hbk_fields *fields, const char *name,
                             long low, long high, long *value);
enum hbk_got hbk_field_bool(const struct hbk_fields *fields, const char *name,
                            bool *value);
enum hbk_got hbk_field_text(const struct hbk_fields *fields, const char *name,
                            size_t most, const char **value);
enum hbk_got hbk_field_note(const struct hbk_fields *fields, const char *name,
                            int *value);
enum hbk_got hbk_field_choice(const struct hbk_fields *fields, const char *name,
                              const char *const words[], size_t n,
                              size_t *value);

/* A list of `low` to `high` items. */
enum hbk_got hbk_field_list(const struct hbk_fields *fields, const char *name,
                            size_t low, size_t high,
                            const struct hbk_node **list);

/* A mapping inside this one; `form` shows one, for the message. */
enum hbk_got hbk_field_map(const struct hbk_fields *fields, const char *name,
                           const char *form, struct hbk_fields *inner);

#endif
