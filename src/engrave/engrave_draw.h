#ifndef HBK_ENGRAVE_ENGRAVE_DRAW_H
#define HBK_ENGRAVE_ENGRAVE_DRAW_H

#include "engrave/engrave.h"
#include "engrave/quill.h"

/*
 * The drawing of a line of music once it is laid out; signs are also measured
 * by the same walk.
 */

/* engrave_signs.c: clef, key and meter; bar lines. */

/* What changes exactly at an event after the first; NULL for what does not. */
struct hbk_eng_change {
    const struct hbk_tune_clef *clef;
    const struct hbk_tune_key *key, *key_before;
    const struct hbk_tune_meter *meter;
};

struct hbk_eng_change hbk_eng_change_at(const struct hbk_tune *tune,
                                        size_t event);

/*
 * Signs one after the other from x on; with a quill of NULL they are only
 * measured. Return the x where they end, with the gap that belongs behind.
 */
double hbk_eng_draw_prefix(const struct hbk_engraving *eng, size_t bar,
                           struct hbk_quill *quill, double x);
double hbk_eng_draw_key(const struct hbk_tune_key *key,
                        const struct hbk_tune_key *before,
                        const struct hbk_tune_clef *clef,
                        struct hbk_quill *quill, double x);
double hbk_eng_draw_meter(const struct hbk_tune_meter *meter,
                          struct hbk_quill *quill, double x);
double hbk_eng_draw_clef(const struct hbk_tune_clef *clef, double scale,
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

/* A line being drawn; notes first to before end stand on it. */
struct hbk_eng_view {
    struct hbk_engraving *eng;
    const struct hbk_eng_line *line;
    struct hbk_quill *quill;
    size_t first, end;
};

/* engrave_ink.c: a note with all that touches it; a beam after its notes. */
void hbk_eng_draw_note(struct hbk_eng_view *view, struct hbk_eng_note *note);
void hbk_eng_draw_beam(struct hbk_eng_view *view, struct hbk_eng_beam *beam);

/*
 * A small note as in a metronome mark, its head at a position; returns its
 * width. With a quill of NULL it is only measured.
 */
double hbk_eng_draw_beat(struct hbk_quill *quill, int value, unsigned dots,
                         double x, int pos);

/* engrave_marks.c: what tells how a note is played. */
void hbk_eng_draw_near_marks(struct hbk_eng_view *view,
                             const struct hbk_eng_note *note);
/* Fermata, trill: above everything drawn so far. */
void hbk_eng_draw_far_marks(struct hbk_eng_view *view,
                            const struct hbk_eng_note *note);

/* engrave_bows.c: ties and slurs, also those that go on to other lines. */
void hbk_eng_draw_bows(struct hbk_eng_view *view);

/* engrave_over.c: tuplets, endings, tempo, number of the first bar. */
void hbk_eng_draw_tuplets(struct hbk_eng_view *view);
void hbk_eng_draw_over(struct hbk_eng_view *view);

/* engrave_line.c: a whole line but for what stands below it. */
void hbk_eng_draw_line(struct hbk_eng_view *view);

#endif
