#include "sheet/block/ladder.h"

#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "sheet/block/note_name.h"
#include "sheet/block/wedge.h"
#include "sheet/words/words_said.h"

#include <math.h>

/* At unit 1, mm. */
static const double head_height = 12.5;
static const double partial_room = 4.6;
static const double cents_room = 9.0;
static const double hertz_room = 16.5;
static const double least_scale = 15.0;
static const double gap = 1.4;

/* Lines, mm; all but the fine ones grow with the unit. */
static const double fine = 0.13;
static const double middle = 0.45;
static const double lever = 0.6; /* from the middle line to the mark */

/* Half the height of a mark, of the row and in mm. */
static const double largest = 0.46;
static const double largest_mm = 2.7;
static const double smallest_share = 0.36; /* of the largest */

static struct hbk_style name_style(const struct hbk_ladder *ladder)
{
    return hbk_style_of(HBK_FACE_BOLD, 10.5, ladder->unit, HBK_LEFT);
}

/* The written note of a partial; -1 where it has no name. */
static int note_of(const struct hbk_ladder *ladder, unsigned partial)
{
    const struct hbk_series series = hbk_series_of(ladder->curve);
    const int written = hbk_series_note(&series, partial);
    const int read = hbk_notation_note(&ladder->about->notation, written);
    return hbk_curve_partial(ladder->curve, partial) != NULL && read >= 0 &&
                   read <= HBK_NOTE_MAX
               ? written
               : -1;
}

static double names_width(const struct hbk_pad *pad,
                          const struct hbk_ladder *ladder)
{
    double widest = 8.0 * ladder->unit;
    for (unsigned p = 1; p <= ladder->rungs; p++) {
        const int written = note_of(ladder, p);
        if (written >= 0) {
            widest = fmax(widest, hbk_note_name_width(pad, name_style(ladder),
                                                      &ladder->about->notation,
                                                      written));
        }
    }
    return widest + gap * ladder->unit;
}

double hbk_ladder_least_width(const struct hbk_pad *pad,
                              const struct hbk_ladder *ladder)
{
    return names_width(pad, ladder) + (partial_room + least_scale + cents_room +
                                       hertz_room * ladder->hertz) *
                                          ladder->unit;
}

double hbk_ladder_head_height(double unit)
{
    return head_height * unit;
}

/* Where things stand across a ladder. */
struct across {
    double partial, name; /* left edges */
    double flat, sharp;   /* the ends of the scale */
    double cents;         /* right edge of the numbers */
    double hertz[2];      /* right edges */
};

static struct across lay_across(const struct hbk_pad *pad,
                                const struct hbk_ladder *ladder, double x)
{
    const double u = ladder->unit;
    const double right = x + ladder->width - hertz_room * u * ladder->hertz;
    struct across across = {.partial = x, .name = x + partial_room * u};
    across.flat = across.name + names_width(pad, ladder);
    across.sharp = right - cents_room * u;
    across.cents = right;
    across.hertz[0] = right + hertz_room * u;
    across.hertz[1] = right + 2.0 * hertz_room * u;
    return across;
}

static double x_of(const struct across *across, double cents)
{
    const double half = 0.5 * (across->sharp - across->flat);
    const double kept = fmin(fmax(cents, -HBK_LADDER_CENTS), HBK_LADDER_CENTS);
    return across->flat + half * (1.0 + kept / HBK_LADDER_CENTS);
}

/* The fingering over its ladder, and which way is flat. */
static void draw_head(struct hbk_pad *pad, const struct hbk_ladder *ladder,
                      const struct across *across, double y)
{
    const double u = ladder->unit;
    const double centre = x_of(across, 0.0);
    char label[HBK_LABEL_SIZE];
    struct hbk_style figure =
        hbk_style_of(HBK_FACE_FIGURE, 17.0, u, HBK_CENTRE);
    hbk_horn_press_label(ladder->about->horn, ladder->curve->press, label);
    const double half = fmin(centre - across->partial, across->cents - centre);
    figure = hbk_pad_fit(pad, figure, 2.0 * half, 0.6, label);
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_HEADING);
    hbk_pad_text(pad, centre, y + 5.2 * u, figure,
                 hbk_pad_cut(pad, figure, 2.0 * half + u, label));
    hbk_pad_close(pad, HBK_TAG_HEADING);
    hbk_pad_open(pad, HBK_TAG_ARTIFACT);
    hbk_pad_group(pad);
    hbk_pad_text(pad, across->flat, y + 10.6 * u,
                 hbk_style_of(HBK_FACE_ITALIC, 9.5, u, HBK_LEFT), "flat");
    hbk_pad_text(pad, across->sharp, y + 10.6 * u,
                 hbk_style_of(HBK_FACE_ITALIC, 9.5, u, HBK_RIGHT), "sharp");
    static const char *const whose[] = {"played", "tube"};
    for (unsigned i = 0; i < ladder->hertz; i++) {
        hbk_pad_text(pad, across->hertz[i], y + 10.6 * u,
                     hbk_style_of(HBK_FACE_ITALIC, 9.5, u, HBK_RIGHT),
                     whose[i]);
    }
    hbk_pad_close(pad, HBK_TAG_ARTIFACT);
}

/* The tint of what is in tune, the lines of the scale, the rungs. */
static void draw_ground(struct hbk_pad *pad, const struct hbk_ladder *ladder,
                        const struct across *across, double y)
{
    const double height = ladder->row * (double)ladder->rungs;
    const double left = x_of(across, -HBK_LADDER_TRUE_CENTS);
    pad->group = 0;
    hbk_pad_panel(pad, left, y, x_of(across, HBK_LADDER_TRUE_CENTS) - left,
                  height, HBK_TINT);
    for (int i = -2; i <= 2; i++) {
        hbk_pad_line(pad, x_of(across, HBK_LADDER_LINE_CENTS * i), y, 0.0,
                     height, i == 0 ? middle * ladder->unit : fine);
    }
    for (unsigned i = 0; i < ladder->rungs; i++) {
        hbk_pad_line(pad, across->flat, y + ladder->row * (i + 0.5),
                     across->sharp - across->flat, 0.0, fine);
    }
    for (int end = 0; end < 2; end++) {
        hbk_pad_line(pad, across->flat, y + (end == 0 ? 0.0 : height),
                     across->sharp - across->flat, 0.0, middle * ladder->unit);
    }
}

/* From 0 for what speaks weakly to 1 for what speaks most surely. */
static double sureness(const struct hbk_ladder *ladder, double response_db)
{
    const double under = ladder->surest_db - response_db;
    return fmin(fmax(1.0 - under / HBK_LADDER_WEAK_DB, 0.0), 1.0);
}

static void draw_mark(struct hbk_pad *pad, const struct hbk_ladder *ladder,
                      const struct across *across,
                      const struct hbk_curve_maximum *m, double cents, double y)
{
    const double size = fmin(largest * ladder->row, largest_mm * ladder->unit);
    const double half =
        size * (smallest_share +
                (1.0 - smallest_share) * sureness(ladder, m->response_db));
    const double x = x_of(across, cents);
    const double from = x_of(across, 0.0);
    const double wide = 0.8 * half;
    const bool beyond = fabs(cents) > HBK_LADDER_CENTS;
    const double out = cents > 0.0 ? 1.0 : -1.0;
    /* An arrow has its point at the end of the rung. */
    const struct hbk_point arrow[] = {{x, y},
                                      {x - out * 1.6 * wide, y - half},
                                      {x - out * 1.6 * wide, y + half}};
    const struct hbk_point lozenge[] = {
        {x - wide, y}, {x, y - half}, {x + wide, y}, {x, y + half}};
    hbk_pad_line(pad, fmin(from, x), y, fabs(x - from), 0.0,
                 lever * ladder->unit);
    hbk_pad_shape(pad, beyond ? 3 : 4, beyond ? arrow : lozenge);
}

/* "11, F sharp 6 or G flat 6": the partial and the note nearest to it. */
static const char *said_rung(struct hbk_arena *arena,
                             const struct hbk_ladder *ladder, unsigned partial,
                             int written)
{
    return written < 0 ? hbk_arena_printf(arena, "%u", partial)
                       : hbk_arena_printf(arena, "%u, %s", partial,
                                          hbk_words_said_note(
                                              arena, ladder->about, written));
}

/* Where the tube has it, when that is not under the mark. */
static void draw_stroke(struct hbk_pad *pad, const struct hbk_ladder *ladder,
                        const struct across *across, double cents, double mark,
                        double y)
{
    const double half = 0.36 * ladder->row;
    if (fabs(cents - mark) >= HBK_LADDER_STROKE_CENTS &&
        fabs(cents) <= HBK_LADDER_CENTS) {
        hbk_pad_line(pad, x_of(across, cents), y - half, 0.0, 2.0 * half,
                     lever * ladder->unit);
    }
}

static void draw_hertz(struct hbk_pad *pad, const struct hbk_ladder *ladder,
                       const struct across *across,
                       const struct hbk_curve_maximum *m, double base)
{
    const double hz[] = {m->heard.hz, m->at.hz};
    for (unsigned i = 0; i < ladder->hertz; i++) {
        hbk_pad_open(pad, HBK_TAG_CELL);
        hbk_pad_text(pad, across->hertz[i], base,
                     hbk_style_of(HBK_FACE_PLAIN, 9.0, ladder->unit, HBK_RIGHT),
                     hbk_arena_printf(pad->sheet->arena, "%.1f Hz", hz[i]));
        hbk_pad_close(pad, HBK_TAG_CELL);
    }
}

static void draw_rung(struct hbk_pad *pad, const struct hbk_ladder *ladder,
                      const struct across *across, unsigned partial, double y)
{
    struct hbk_arena *const arena = pad->sheet->arena;
    const double u = ladder->unit;
    const struct hbk_curve_maximum *const m =
        hbk_curve_partial(ladder->curve, partial);
    const struct hbk_style small =
        hbk_style_of(HBK_FACE_PLAIN, 8.0, u, HBK_LEFT);
    const struct hbk_style figure =
        hbk_style_of(HBK_FACE_FIGURE, 10.5, u, HBK_RIGHT);
    const double base = y + 0.36 * figure.size;
    char cents[HBK_CENTS_SIZE];
    if (m == NULL) {
        return; /* nothing was found there */
    }
    const struct hbk_series series = hbk_series_of(ladder->curve);
    const double off = hbk_series_cents(&series, m);
    const int written = note_of(ladder, partial);
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_pad_open(pad, HBK_TAG_HEADER);
    hbk_pad_read_as(pad, said_rung(arena, ladder, partial, written));
    hbk_pad_text(pad, across->partial, base, small,
                 hbk_arena_printf(arena, "%u", partial));
    if (written >= 0) {
        hbk_note_name_draw(pad, across->name, base, name_style(ladder),
                           &ladder->about->notation, written);
    }
    hbk_pad_read_as(pad, NULL);
    hbk_pad_close(pad, HBK_TAG_HEADER);
    hbk_pad_open(pad, HBK_TAG_CELL);
    pad->group = 0;
    draw_mark(pad, ladder, across, m, off, y);
    draw_stroke(pad, ladder, across,
                off + 1200.0 * log2(m->at.hz / m->heard.hz), off, y);
    hbk_pad_group(pad);
    hbk_pad_text(pad, across->cents, base, figure, hbk_cents_text(off, cents));
    hbk_pad_close(pad, HBK_TAG_CELL);
    draw_hertz(pad, ladder, across, m, base);
    hbk_pad_close(pad, HBK_TAG_ROW);
}

/* The heads of the columns are not printed; they are said. */
static void draw_heads(struct hbk_pad *pad, const struct hbk_ladder *ladder,
                       double x, double y)
{
    static const char *const heads[] = {"Partial", "Cents", "Frequency played",
                                        "Frequency of the tube"};
    hbk_pad_open(pad, HBK_TAG_ROW);
    for (size_t i = 0; i < 2 + (size_t)ladder->hertz; i++) {
        hbk_pad_open(pad, HBK_TAG_COLUMN);
        hbk_pad_say(pad, x, y, heads[i]);
        hbk_pad_close(pad, HBK_TAG_COLUMN);
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
}

void hbk_ladder_draw(struct hbk_pad *pad, const struct hbk_ladder *ladder,
                     double x, double y)
{
    const struct across across = lay_across(pad, ladder, x);
    const double top = y + hbk_ladder_head_height(ladder->unit);
    draw_head(pad, ladder, &across, y);
    draw_ground(pad, ladder, &across, top);
    hbk_pad_open(pad, HBK_TAG_TABLE);
    draw_heads(pad, ladder, x, top);
    for (unsigned i = 0; i < ladder->rungs; i++) {
        draw_rung(pad, ladder, &across, ladder->rungs - i,
                  top + ladder->row * (i + 0.5));
    }
    hbk_pad_close(pad, HBK_TAG_TABLE);
}
