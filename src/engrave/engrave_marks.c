#include "engrave/engrave_marks.h"

#include "base/text.h"
#include "engrave/engrave_spots.h"
#include "engrave/quill.h"

#include <math.h>

/* In staff spaces; common practice. */
static const double apart = 0.45; /* between one sign and the next */

/* The accidental above a trill or another ornament. */
struct sign_above {
    unsigned mark;
    uint32_t glyph;
    const char *said;
};

static const struct sign_above *sign_above(unsigned marks)
{
    static const struct sign_above signs[] = {
        {HBK_TUNE_SIGN_SHARP, HBK_GLYPH_SHARP, "a sharp"},
        {HBK_TUNE_SIGN_FLAT, HBK_GLYPH_FLAT, "a flat"},
        {HBK_TUNE_SIGN_DOUBLE_SHARP, HBK_GLYPH_DOUBLE_SHARP, "a double sharp"},
        {HBK_TUNE_SIGN_DOUBLE_FLAT, HBK_GLYPH_DOUBLE_FLAT, "a double flat"},
        {HBK_TUNE_SIGN_NATURAL, HBK_GLYPH_NATURAL, "a natural"},
    };
    size_t i = 0;
    while (i + 1 < sizeof(signs) / sizeof(signs[0]) &&
           (marks & signs[i].mark) == 0) {
        i++;
    }
    return &signs[i];
}

const char *hbk_eng_marks_said(struct hbk_arena *arena, unsigned marks)
{
    static const struct {
        unsigned mark;
        const char *said;
    } words[] = {
        {HBK_TUNE_STACCATO, "staccato "},
        {HBK_TUNE_STACCATISSIMO, "staccatissimo "},
        {HBK_TUNE_TENUTO, "tenuto "},
        {HBK_TUNE_ACCENT, "accent "},
        {HBK_TUNE_MARCATO, "marcato "},
        {HBK_TUNE_FERMATA, "fermata "},
        {HBK_TUNE_TRILL, "trill "},
        {HBK_TUNE_TURN, "turn "},
        {HBK_TUNE_INVERTED_TURN, "inverted turn "},
        {HBK_TUNE_MORDENT, "mordent "},
        {HBK_TUNE_UPPER_MORDENT, "upper mordent "},
        {HBK_TUNE_ROLL, "ornament "},
    };
    struct hbk_text out = {.arena = arena};
    for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++) {
        if ((marks & words[i].mark) != 0) {
            hbk_text_add(&out, words[i].said);
        }
    }
    if ((marks & HBK_TUNE_TRILL_SIGN) != 0) {
        hbk_text_addf(&out, "with %s above, ", sign_above(marks)->said);
    }
    return hbk_text_string(&out);
}

static void draw_wedge(struct hbk_quill *quill, double x, double y, double dir)
{
    const struct hbk_point shape[3] = {{x - 0.25, y + 0.4 * dir},
                                       {x + 0.25, y + 0.4 * dir},
                                       {x, y - 0.4 * dir}};
    hbk_quill_shape(quill, 3, shape);
}

static void draw_accent(struct hbk_quill *quill, double x, double y)
{
    const struct hbk_point path[3] = {
        {x - 0.75, y + 0.42}, {x + 0.75, y}, {x - 0.75, y - 0.42}};
    hbk_quill_path(quill, 3, path, 0.15);
}

static void draw_marcato(struct hbk_quill *quill, double x, double foot)
{
    const struct hbk_point path[3] = {
        {x - 0.5, foot}, {x, foot + 1.1}, {x + 0.5, foot}};
    hbk_quill_path(quill, 3, path, 0.17);
}

/* A middle height for a small sign: in a space while within the staff. */
static double in_space(double y, double dir)
{
    if (y > -0.3 && y < 4.3 && fabs(y - floor(y + 0.5)) < 0.2) {
        return y + 0.5 * dir;
    }
    return y;
}

void hbk_eng_draw_near_marks(struct hbk_eng_view *view,
                             const struct hbk_eng_note *note)
{
    struct hbk_quill *quill = view->quill;
    const unsigned marks = note->source->articulation;
    if (note->source->kind == HBK_TUNE_REST) {
        return;
    }
    /* On the side of the head, away from the stem. */
    const bool below = note->has_stem ? note->up : note->pos < 4;
    const double dir = below ? -1.0 : 1.0;
    const double x = note->x + 0.5 * note->width;
    double y = hbk_eng_y(note->pos) + dir * note->scale;
    if ((marks & (HBK_TUNE_STACCATO | HBK_TUNE_STACCATISSIMO)) != 0) {
        y = in_space(y, dir);
        if ((marks & HBK_TUNE_STACCATISSIMO) != 0) {
            draw_wedge(quill, x, y, dir);
        } else {
            hbk_quill_disc(quill, x, y, 0.19);
        }
        y += dir;
    }
    if ((marks & HBK_TUNE_TENUTO) != 0) {
        y = in_space(y, dir);
        hbk_quill_block(quill, x - 0.65, y - 0.07, 1.3, 0.14);
        y += dir;
    }
    if ((marks & HBK_TUNE_ACCENT) != 0) {
        const double edge = below ? -0.85 : 4.85;
        y = below ? fmin(y, edge) : fmax(y, edge);
        draw_accent(quill, x, y);
    }
}

void hbk_eng_draw_fermata(struct hbk_quill *quill, double x)
{
    const double foot = hbk_quill_top(quill, x - HBK_ENG_FERMATA_HALF,
                                      x + HBK_ENG_FERMATA_HALF) +
                        apart;
    const double wide = 1.35;
    const struct hbk_point band[8] = {{x - wide, foot},
                                      {x - wide, foot + 1.85},
                                      {x + wide, foot + 1.85},
                                      {x + wide, foot},
                                      {x + wide - 0.1, foot},
                                      {x + wide - 0.35, foot + 1.45},
                                      {x - wide + 0.35, foot + 1.45},
                                      {x - wide + 0.1, foot}};
    hbk_quill_band(quill, band);
    hbk_quill_disc(quill, x, foot + 0.25, 0.24);
}

/* A wave of two crests; with a stroke through it, by the note below. */
static void draw_mordent(struct hbk_quill *quill, double x, double foot,
                         bool has_stroke)
{
    const double y = foot + 0.6;
    const double from = x - 1.25;
    /* Thick where it falls, thin where it rises. */
    for (int i = 0; i < 3; i++) {
        const double at = from + 0.8 * i;
        const struct hbk_point fall[4] = {{at, y + 0.25},
                                          {at + 0.3, y + 0.5},
                                          {at + 0.9, y - 0.25},
                                          {at + 0.6, y - 0.5}};
        hbk_quill_shape(quill, 4, fall);
    }
    const struct hbk_point line[6] = {{from, y},
                                      {from + 0.15, y + 0.35},
                                      {from + 0.8, y - 0.4},
                                      {from + 0.95, y + 0.35},
                                      {from + 1.6, y - 0.4},
                                      {from + 1.75, y + 0.35}};
    hbk_quill_path(quill, 6, line, 0.12);
    if (has_stroke) {
        hbk_quill_line(quill, x, y - 0.9, 0.0, 1.8, 0.14);
    }
}

static void draw_sign_glyph(struct hbk_quill *quill, double x, uint32_t glyph,
                            double scale, const char *reads)
{
    const struct hbk_glyph_box box = hbk_glyph_box(glyph);
    const double half = 0.5 * scale * box.width;
    const double foot = hbk_quill_top(quill, x - half, x + half) + apart;
    hbk_quill_glyph(quill, x - half, foot - scale * box.bottom, scale, glyph,
                    reads);
}

/* Turns, mordents, rolls, and the accidentals above them and a trill. */
static void draw_ornaments(struct hbk_quill *quill, double x, unsigned marks)
{
    const double top = hbk_quill_top(quill, x - 1.3, x + 1.3) + apart;
    if ((marks & HBK_TUNE_TURN) != 0) {
        draw_sign_glyph(quill, x, HBK_GLYPH_TURN, 1.0, NULL);
    } else if ((marks & HBK_TUNE_INVERTED_TURN) != 0) {
        draw_sign_glyph(quill, x, HBK_GLYPH_INVERTED_TURN, 1.0, NULL);
    }
    if ((marks & (HBK_TUNE_MORDENT | HBK_TUNE_UPPER_MORDENT)) != 0) {
        const bool has_stroke = (marks & HBK_TUNE_MORDENT) != 0;
        draw_mordent(quill, x, has_stroke ? top + 0.3 : top, has_stroke);
    }
    if ((marks & HBK_TUNE_ROLL) != 0) {
        const double y = hbk_quill_top(quill, x - 1.0, x + 1.0) + apart;
        hbk_quill_slur(quill, (struct hbk_point){x - 1.0, y},
                       (struct hbk_point){x + 1.0, y}, 0.9);
    }
    if ((marks & HBK_TUNE_TRILL_SIGN) != 0) {
        draw_sign_glyph(quill, x, sign_above(marks)->glyph, 0.7, NULL);
    }
}

/* Whether the hand stops the bell, of a horn, at a note. */
static void draw_hand(struct hbk_eng_view *view,
                      const struct hbk_eng_note *note)
{
    const struct hbk_tune_marks *marks = &view->eng->tune->marks;
    struct hbk_quill *quill = view->quill;
    const double x = note->x + 0.5 * note->width;
    const double half = 0.5;
    for (size_t i = hbk_tune_marks_from(marks, note->event);
         i < marks->n && marks->items[i].at.event == note->event; i++) {
        const struct hbk_tune_mark *mark = &marks->items[i];
        const bool is_plus = mark->kind == HBK_TUNE_MARK_PLUS;
        if (!is_plus && mark->kind != HBK_TUNE_MARK_OPEN) {
            continue;
        }
        const struct hbk_eng_spot spot = {
            .note = (size_t)(note - view->eng->notes)};
        const size_t begin = hbk_eng_marks_now(view);
        const double y =
            hbk_quill_top(quill, x - half, x + half) + apart + half;
        if (is_plus) {
            hbk_quill_line(quill, x - half, y, 2.0 * half, 0.0, 0.16);
            hbk_quill_line(quill, x, y - half, 0.0, 2.0 * half, 0.16);
        } else {
            hbk_quill_ring(quill, x, y, 0.8 * half, 0.14);
        }
        hbk_quill_say(quill, x, y, is_plus ? "stopped " : "open ");
        hbk_eng_read_at(view, &spot, HBK_ENG_BEFORE, begin);
    }
}

/* Two strokes through the upper line, up to `end`. */
static void draw_caesura(struct hbk_quill *quill, double end)
{
    const double lean = 0.7;
    const double between = 0.55;
    hbk_quill_line(quill, end - lean, 3.1, lean, 1.8, 0.18);
    hbk_quill_line(quill, end - lean - between, 3.1, lean, 1.8, 0.18);
}

void hbk_eng_draw_far_marks(struct hbk_eng_view *view,
                            const struct hbk_eng_note *note)
{
    struct hbk_quill *quill = view->quill;
    const unsigned marks = note->source->articulation;
    const double x = note->x + 0.5 * note->width;
    if ((marks & HBK_TUNE_MARCATO) != 0) {
        draw_marcato(quill, x, hbk_quill_top(quill, x - 0.6, x + 0.6) + apart);
    }
    if ((marks & HBK_TUNE_TRILL) != 0) {
        const double half = 0.5 * hbk_glyph_box(HBK_GLYPH_TRILL).width;
        hbk_quill_glyph(quill, x - half,
                        hbk_quill_top(quill, x - half, x + half) + apart, 1.0,
                        HBK_GLYPH_TRILL, NULL);
    }
    if ((marks & (HBK_TUNE_ORNAMENT | HBK_TUNE_TRILL_SIGN)) != 0) {
        draw_ornaments(quill, x, marks);
    }
    draw_hand(view, note);
    if ((marks & HBK_TUNE_FERMATA) != 0) {
        hbk_eng_draw_fermata(quill, x);
    }
    if ((marks & HBK_TUNE_CAESURA) != 0) {
        draw_caesura(quill, note->x + note->right);
    }
    if ((marks & HBK_TUNE_BREATH) != 0) {
        const double at = note->x + note->right - 0.5;
        hbk_quill_glyph(quill, at,
                        hbk_quill_top(quill, at, at + 0.8) + 0.5 * apart, 1.0,
                        HBK_GLYPH_BREATH, NULL);
    }
}
