#include "sheet/chart/gamut.h"

#include "horn/horn.h"
#include "sheet/chart/gamut_bar.h"

#include <math.h>
#include <string.h>

/* In units of the gamut, mm. */
static const double spot_share = 0.78; /* of the pitch, across a circle */

/* The notes of a row: which of those shown is its first, and how many. */
struct span {
    size_t first, n;
};

/* Rather than leave a few notes over, the last two rows are about alike. */
static struct span span_of(const struct hbk_gamut *gamut, size_t row)
{
    const size_t rows = hbk_gamut_rows(gamut);
    struct span span = {row * gamut->per_row, gamut->per_row};
    if (rows >= 2 && row + 2 >= rows) {
        const size_t before = (rows - 2) * gamut->per_row;
        const size_t both = gamut->n - before;
        const size_t widow = both - gamut->per_row;
        const size_t upper =
            2 * widow < gamut->per_row ? (both + 1) / 2 : gamut->per_row;
        span = row + 2 == rows ? (struct span){before, upper}
                               : (struct span){before + upper, both - upper};
    } else if (rows == 1) {
        span.n = gamut->n;
    }
    return span;
}

void hbk_gamut_measure(const struct hbk_pad *pad, struct hbk_gamut *gamut)
{
    struct hbk_gamut one = *gamut;
    one.least_points = gamut->least_points / gamut->unit;
    one.unit = 1.0;
    gamut->widest = 0.0;
    memset(gamut->widest_alternate, 0, sizeof(gamut->widest_alternate));
    for (size_t i = 0; i < gamut->n; i++) {
        const size_t index = gamut->shown[i];
        const struct hbk_note *note = &gamut->notes->notes[index];
        gamut->widest =
            fmax(gamut->widest, hbk_gamut_first_width(pad, &one, index));
        for (size_t k = 1; k < note->n && k <= HBK_ALTERNATES_MAX; k++) {
            const size_t last = hbk_note_other(note, k, k);
            gamut->widest_alternate[k] =
                fmax(gamut->widest_alternate[k],
                     fmax(hbk_gamut_alternate_width(pad, &one, index, k),
                          hbk_gamut_alternate_width(pad, &one, index, last)));
        }
    }
    for (size_t k = 1; k <= HBK_ALTERNATES_MAX; k++) {
        gamut->widest_alternate[k] =
            fmax(gamut->widest_alternate[k], gamut->widest_alternate[k - 1]);
    }
}

double hbk_gamut_narrowest(const struct hbk_gamut *gamut)
{
    /* A circle under 1.6 mm is no longer told from its neighbour. */
    const double least_pitch = fmax(2.1, gamut->least_spot / spot_share);
    const double u = gamut->unit;
    /* Numbers of neighbouring alternates must not read as one. */
    static const double alternate_pad = 1.8;
    const double other = gamut->widest_alternate[gamut->alternates];
    const double widest =
        fmax(gamut->widest + 2.0 * HBK_GAMUT_BAR_PAD, other + alternate_pad) *
        u;
    return gamut->hands.n == 0
               ? widest
               : fmax(widest,
                      least_pitch * (gamut->hands.width + 1.0) + 2.0 * u);
}

/* What the notes of a row need. */
struct needs {
    double above, below; /* spaces beyond the staff */
    bool lip, draw, care;
    size_t alternates;
};

static struct needs needs_of(const struct hbk_gamut *gamut, size_t row)
{
    const enum hbk_clef clef = gamut->notes->horn->clef;
    struct needs needs = {0};
    double reach;
    /* The clef may stand up beside the names, but not hang among numbers. */
    hbk_clef_reach(clef, &reach, &needs.below);
    needs.above = fmax(0.0, reach - 2.5);
    const struct span span = span_of(gamut, row);
    for (size_t i = span.first; i < span.first + span.n; i++) {
        const struct hbk_note *note = &gamut->notes->notes[gamut->shown[i]];
        const struct hbk_heads heads = hbk_heads_of(note->written);
        double above, below;
        hbk_heads_reach(clef, &heads, &above, &below);
        needs.above = fmax(needs.above, above);
        needs.below = fmax(needs.below, below);
        if (note->n > 0 && fabs(note->fingerings[0].cents) > 10.0) {
            needs.lip = true;
        }
        if (note->n > 0 && gamut->care &&
            (note->fingerings[0].verdict & HBK_VERDICT_CARE) != 0) {
            needs.care = true;
        }
        if (note->n > 0 && note->fingerings[0].drawn_m > 0.0) {
            needs.draw = true;
        }
        if (note->n > needs.alternates + 1) {
            needs.alternates = note->n - 1;
        }
    }
    if (needs.alternates > gamut->alternates) {
        needs.alternates = gamut->alternates;
    }
    if (gamut->detail == HBK_DETAIL_FINGERS) {
        needs.lip = false;
        needs.care = false;
    }
    return needs;
}

/* A line of words below; returns its baseline. */
static double word_line(double *y, double down, double unit)
{
    const double baseline = *y + down;
    *y = baseline + 0.6 * unit;
    return baseline;
}

static struct hbk_gamut_lines lines_of(const struct hbk_gamut *gamut,
                                       size_t row)
{
    const double u = gamut->unit;
    const struct needs needs = needs_of(gamut, row);
    const double space = hbk_gamut_space(gamut);
    struct hbk_gamut_lines at = {0};
    double y = 3.7 * u;
    at.name = y;
    if (gamut->sounding) {
        y += 3.3 * u;
        at.sounding = y;
    }
    y += 1.7 * u + (needs.above + 4.0) * space;
    at.bottom = y;
    y += needs.below * space + 5.2 * u;
    at.number = y;
    if (gamut->hands.n_rows > 0) {
        const double pitch = hbk_gamut_pitch(gamut);
        at.hands = y + 1.1 * u + 0.5 * pitch;
        y = at.hands + ((double)gamut->hands.n_rows - 0.5) * pitch;
    }
    if (gamut->detail == HBK_DETAIL_ALL) {
        y += 3.9 * u;
        at.cents = y;
        y += 1.3 * u;
        at.lip = needs.lip ? word_line(&y, 2.2 * u, u) : 0.0;
    } else {
        y += 0.6 * u;
        at.lip = needs.lip ? word_line(&y, 3.0 * u, u) : 0.0;
    }
    at.draw = needs.draw ? word_line(&y, 2.5 * u, u) : 0.0;
    at.care = needs.care ? word_line(&y, 2.5 * u, u) : 0.0;
    at.rest = y + 0.9 * u;
    if (needs.alternates > 0) {
        y = at.rest +
            (double)needs.alternates * hbk_gamut_alternate_height(gamut);
    }
    at.end = y;
    return at;
}

double hbk_gamut_row_height(const struct hbk_gamut *gamut, size_t row)
{
    return lines_of(gamut, row).end;
}

/* Thin bars between the notes, a closing bar after the last of all. */
static void draw_barlines(struct hbk_pad *pad, const struct hbk_staff *staff,
                          double first, double bar, size_t n, bool closes)
{
    const double pen = 0.16 * staff->space;
    const double top = staff->bottom - 4.0 * staff->space;
    for (size_t i = 1; i < n; i++) {
        hbk_pad_line(pad, first + (double)i * bar, top, 0.0, 4.0 * staff->space,
                     pen);
    }
    const double end = staff->x + staff->width;
    if (closes) {
        const double thick = 0.5 * staff->space;
        hbk_pad_line(pad, end - 0.5 * thick, top, 0.0, 4.0 * staff->space,
                     thick);
        hbk_pad_line(pad, end - thick - 0.48 * staff->space, top, 0.0,
                     4.0 * staff->space, pen);
    } else {
        hbk_pad_line(pad, end - 0.5 * pen, top, 0.0, 4.0 * staff->space, pen);
    }
}

void hbk_gamut_row_draw(struct hbk_pad *pad, const struct hbk_gamut *gamut,
                        size_t row, double x, double y)
{
    const struct hbk_gamut_lines lines = lines_of(gamut, row);
    const struct span span = span_of(gamut, row);
    const size_t n = span.n;
    const double bar = hbk_gamut_bar_width(gamut);
    const double start = x + HBK_GAMUT_CLEF_ROOM * gamut->unit;
    const struct hbk_staff staff = {
        .clef = gamut->notes->horn->clef,
        .x = x,
        .bottom = y + lines.bottom,
        .width = start - x + (double)n * bar,
        .space = hbk_gamut_space(gamut),
    };
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_staff_lines(pad, &staff);
    draw_barlines(pad, &staff, start, bar, n, row + 1 == hbk_gamut_rows(gamut));
    hbk_staff_clef(pad, &staff);
    for (size_t i = 0; i < n; i++) {
        hbk_pad_open(pad, HBK_TAG_CELL);
        hbk_gamut_bar_draw(pad, gamut, &lines, &staff,
                           gamut->shown[span.first + i],
                           start + (double)i * bar, y);
        hbk_pad_close(pad, HBK_TAG_CELL);
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
}
