#include "sheet/engrave_draw.h"

#include <math.h>

/* In staff spaces; common practice. */
static const double apart = 0.45; /* between one sign and the next */

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

static void draw_fermata(struct hbk_quill *quill, double x, double foot)
{
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
                        HBK_GLYPH_TRILL, "trill ");
    }
    if ((marks & HBK_TUNE_FERMATA) != 0) {
        draw_fermata(quill, x, hbk_quill_top(quill, x - 1.4, x + 1.4) + apart);
    }
    if ((marks & HBK_TUNE_BREATH) != 0) {
        const double at = note->x + note->right - 0.5;
        hbk_quill_glyph(quill, at,
                        hbk_quill_top(quill, at, at + 0.8) + 0.5 * apart, 1.0,
                        HBK_GLYPH_BREATH, NULL);
    }
}
