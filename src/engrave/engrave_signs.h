#ifndef HBK_ENGRAVE_ENGRAVE_SIGNS_H
#define HBK_ENGRAVE_ENGRAVE_SIGNS_H

#include "engrave/engrave.h"
#include "engrave/quill.h"

/* Clef, key and meter; bar lines. */

/* What changes exactly at an event after the first; NULL for what does not. */
struct hbk_eng_change {
    const struct hbk_tune_clef *clef;
    const struct hbk_tune_key *key, *key_before;
    const struct hbk_tune_meter *meter;
};

struct hbk_eng_change hbk_eng_change_at(const struct hbk_tune *tune,
                                        size_t event);

/*
 * The signs before a line from x on; with a quill of NULL they are only
 * measured. Returns the x where they end, with the gap that belongs behind.
 */
double hbk_eng_draw_prefix(const struct hbk_engraving *eng, size_t bar,
                           struct hbk_quill *quill, double x);
/*
 * Key and meter that change at the beginning of a bar, after the line before
 * it, with the sign of a repeat that begins there; as a courtesy at the end of
 * a line without it.
 */
double hbk_eng_draw_change(const struct hbk_engraving *eng, size_t bar,
                           bool is_courtesy, struct hbk_quill *quill, double x);
/* All that changes before a column within a bar. */
double hbk_eng_draw_change_within(const struct hbk_engraving *eng,
                                  const struct hbk_eng_column *column,
                                  struct hbk_quill *quill, double x);
/* The line that ends a bar, a clef before it and a repeat after it. */
double hbk_eng_draw_bar_line(const struct hbk_engraving *eng, size_t bar,
                             bool ends_line, struct hbk_quill *quill, double x);

#endif
