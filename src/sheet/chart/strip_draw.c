#include "sheet/chart/strip_draw.h"

#include "notes/beside.h"
#include "sheet/block/said.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_said.h"

#include <math.h>
#include <string.h>

/* The figure of an octave: of the em of the name, and its least size. */
static const double octave_share = 0.55;
static const double octave_points = 7.5;

static const double side_gap = 0.6;   /* white, mm at unit 1 */
static const double doubt_pen = 0.45; /* likewise */

/* Alternates that are read out; none is printed. */
enum { SAID_OTHERS = 3 };

static double room_of(const struct hbk_strip *strip)
{
    return strip->look.cell - 2.0 * side_gap * strip->look.unit;
}

static struct hbk_style style_of(enum hbk_face face, double size,
                                 enum hbk_align align)
{
    return (struct hbk_style){.face = face, .size = size, .align = align};
}

/* A name with the figure of its octave, about `centre`. */
static void draw_natural(struct hbk_pad *pad, const struct hbk_strip *strip,
                         int read, bool octave, double centre, double y)
{
    const struct hbk_strip_look *look = &strip->look;
    char name[HBK_NAME_SIZE];
    const struct hbk_spelling spelling = hbk_note_usual(read);
    hbk_spelling_called(spelling, strip->notes->notation.naming, HBK_UNICODE,
                        name);
    const char *number =
        octave ? hbk_arena_printf(pad->sheet->arena, "%d", spelling.octave)
               : "";
    struct hbk_style style = style_of(HBK_FACE_BOLD, look->name, HBK_LEFT);
    const struct hbk_style small = style_of(
        HBK_FACE_PLAIN, fmax(octave_share * look->name, HBK_PT(octave_points)),
        HBK_LEFT);
    const double gap = octave ? 0.05 * look->name : 0.0;
    const double beside = gap + hbk_pad_width(pad, small, number);
    style = hbk_pad_fit(pad, style, room_of(strip) - beside, 0.3, name);
    const double wide = hbk_pad_width(pad, style, name);
    const double x = centre - 0.5 * (wide + beside);
    hbk_pad_text(pad, x, y, style, name);
    hbk_pad_text(pad, x + wide + gap, y + 0.1 * style.size, small, number);
}

/* Sharp and flat: side by side, or stacked. */
static void draw_half_tone(struct hbk_pad *pad, const struct hbk_strip *strip,
                           int read, double centre, const struct hbk_levels *at,
                           double y)
{
    const struct hbk_strip_look *look = &strip->look;
    const enum hbk_naming naming = strip->notes->notation.naming;
    char sharp[HBK_NAME_SIZE];
    char flat[HBK_NAME_SIZE];
    hbk_spelling_called(hbk_note_sharp(read), naming, HBK_UNICODE, sharp);
    hbk_spelling_called(hbk_note_flat(read), naming, HBK_UNICODE, flat);
    struct hbk_style style = style_of(HBK_FACE_BOLD, look->half, HBK_LEFT);
    if (look->pairs) {
        const double gap = 0.30 * look->half;
        const double wide =
            hbk_pad_width(pad, style, sharp) + hbk_pad_width(pad, style, flat);
        const double share = fmin(1.0, room_of(strip) / (wide + gap));
        style.size *= share;
        const double x = centre - 0.5 * share * (wide + gap);
        hbk_pad_text(pad, x, y + at->name, style, sharp);
        hbk_pad_text(pad, x + hbk_pad_width(pad, style, sharp) + share * gap,
                     y + at->name, style, flat);
        return;
    }
    style.align = HBK_CENTRE;
    hbk_pad_text(pad, centre, y + at->name,
                 hbk_pad_fit(pad, style, room_of(strip), 0.3, sharp), sharp);
    hbk_pad_text(pad, centre, y + at->lower,
                 hbk_pad_fit(pad, style, room_of(strip), 0.3, flat), flat);
}

static bool is_marked(const struct hbk_strip *strip,
                      const struct hbk_note *note)
{
    if (strip->mark == HBK_MARK_NONE) {
        return false;
    }
    const bool same = hbk_beside_note(strip->notes, strip->beside,
                                      note->written) == HBK_BESIDE_SAME;
    return same == (strip->mark == HBK_MARK_SAME);
}

/* The figure; ringed where it is unreliable and no disc can say so. */
static void draw_figure(struct hbk_pad *pad, const struct hbk_strip *strip,
                        const struct hbk_note *note, double centre, double y)
{
    const struct hbk_strip_look *look = &strip->look;
    const char *figure = hbk_strip_figure(strip, pad->sheet->arena, note);
    const struct hbk_style style =
        hbk_pad_fit(pad, style_of(HBK_FACE_FIGURE, look->figure, HBK_CENTRE),
                    room_of(strip), 0.2, figure);
    hbk_pad_group(pad);
    hbk_pad_text(pad, centre, y, style, figure);
    const double wide = hbk_pad_width(pad, style, figure);
    if (hbk_strip_ringed(note)) {
        const double pen = doubt_pen * look->unit;
        hbk_pad_ring(pad, centre, y - 0.5 * HBK_STRIP_TALL * style.size,
                     fmin(HBK_STRIP_RING * style.size, 0.5 * room_of(strip)) -
                         0.5 * pen,
                     pen);
    }
    if (is_marked(strip, note)) {
        hbk_pad_line(pad, centre - 0.5 * wide, y + 0.11 * look->figure, wide,
                     0.0, 0.05 * look->figure);
    }
}

/* An arrow as HBK_STRIP_TALL as a capital, its left end at x and its foot at y.
 */
static void draw_arrow(struct hbk_pad *pad, double x, double y, double size,
                       bool up)
{
    const double high = HBK_STRIP_TALL * size;
    const double half = 0.19 * size;
    const double middle = x + half;
    const double tip = up ? y - high : y;
    const double way = up ? 1.0 : -1.0;
    const struct hbk_point head[] = {{middle, tip},
                                     {middle - half, tip + way * 0.36 * size},
                                     {middle + half, tip + way * 0.36 * size}};
    hbk_pad_shape(pad, 3, head);
    hbk_pad_line(pad, middle, tip + way * 0.3 * size, 0.0,
                 way * (high - 0.3 * size), 0.09 * size);
}

/* How far a trigger pulls its slide. */
static void draw_slide(struct hbk_pad *pad, const struct hbk_strip *strip,
                       const struct hbk_note *note, double centre, double y)
{
    const char *slide = hbk_strip_slide(strip, pad->sheet->arena, note);
    const struct hbk_style style =
        style_of(HBK_FACE_FIGURE, strip->look.word, HBK_CENTRE);
    hbk_pad_group(pad);
    hbk_pad_text(pad, centre, y,
                 hbk_pad_fit(pad, style, room_of(strip), 0.5, slide), slide);
}

/* What the lips have to do. */
static void draw_word(struct hbk_pad *pad, const struct hbk_strip *strip,
                      const struct hbk_note *note, double centre, double y)
{
    struct hbk_style style =
        style_of(HBK_FACE_FIGURE, strip->look.word, HBK_CENTRE);
    hbk_pad_group(pad);
    const char *lip = hbk_strip_lip(note);
    if (lip[0] == '\0') {
        return;
    }
    static const char *const word = "lip";
    style.align = HBK_LEFT;
    const double text = hbk_pad_width(pad, style, word);
    const double arrow = 0.38 * style.size;
    const double gap = 0.22 * style.size;
    const bool alone = text + gap + arrow > room_of(strip);
    const double wide = alone ? arrow : text + gap + arrow;
    const double x = centre - 0.5 * wide;
    if (!alone) {
        hbk_pad_text(pad, x, y, style, word);
    }
    draw_arrow(pad, x + wide - arrow, y, style.size,
               note->fingerings[0].cents < 0.0);
}

/* The cell of note i of a row, with its top left corner at `at`. */
static void draw_cell(struct hbk_pad *pad, const struct hbk_strip *strip,
                      const struct hbk_strip_run *run, size_t i,
                      const struct hbk_levels *levels,
                      const struct hbk_staff *staff, struct hbk_point at)
{
    const struct hbk_strip_look *look = &strip->look;
    const struct hbk_note *note = hbk_strip_note(strip, run, i);
    const double centre = at.x + 0.5 * look->cell;
    const double y = at.y;
    const int read = hbk_strip_read(strip, note);
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_said_open_name(pad, strip->notes, note->written);
    hbk_pad_group(pad);
    if (hbk_note_is_black(read)) {
        draw_half_tone(pad, strip, read, centre, levels, y);
    } else {
        draw_natural(pad, strip, read, i == 0 || read % 12 == 0, centre,
                     y + 0.5 * (levels->name + levels->lower));
    }
    if (strip->sounding) {
        const char *sounds = hbk_words_read_sounding(
            pad->sheet->arena, strip->notes, note->written);
        const struct hbk_style style =
            style_of(HBK_FACE_PLAIN, look->sound, HBK_CENTRE);
        hbk_pad_group(pad);
        hbk_pad_read_as(pad,
                        hbk_words_said(pad->sheet->arena,
                                       hbk_arena_printf(pad->sheet->arena,
                                                        "sounds %s", sounds)));
        hbk_pad_text(pad, centre, y + levels->sound,
                     hbk_pad_fit(pad, style, room_of(strip), 0.5, sounds),
                     sounds);
    }
    hbk_said_close_name(pad);
    hbk_said_open_fingering(pad, strip->notes,
                            note->n == 0 ? NULL : &note->fingerings[0]);
    draw_figure(pad, strip, note, centre, y + levels->figure);
    hbk_said_close_fingering(pad);
    hbk_said_rest(pad, (struct hbk_point){centre, y + levels->figure},
                  strip->notes, note, SAID_OTHERS);
    hbk_pad_open(pad, HBK_TAG_ARTIFACT);
    if (levels->word > 0.0) {
        draw_word(pad, strip, note, centre, y + levels->word);
    }
    if (levels->slide > 0.0) {
        draw_slide(pad, strip, note, centre, y + levels->slide);
    }
    /* Heads last: see hbk_gamut_bar_draw. */
    const struct hbk_heads heads = hbk_strip_heads_of(strip, read);
    hbk_heads_draw(pad, staff, centre, &heads);
    hbk_pad_close(pad, HBK_TAG_ARTIFACT);
    hbk_pad_close(pad, HBK_TAG_ROW);
}

void hbk_strip_draw(struct hbk_pad *pad, const struct hbk_strip *strip,
                    const struct hbk_strip_run *run, double x, double y)
{
    const struct hbk_strip_look *look = &strip->look;
    const struct hbk_levels at = hbk_strip_levels(strip, run);
    const double first = x + look->label;
    pad->group = 0;
    for (size_t i = 0; i < run->n; i++) {
        if (hbk_note_is_black(
                hbk_strip_read(strip, hbk_strip_note(strip, run, i)))) {
            hbk_pad_panel(pad, first + look->cell * (double)i, y, look->cell,
                          at.end, HBK_TINT);
        }
    }
    const double clef = 5.0 * look->space;
    const struct hbk_staff staff = {.clef = strip->notes->notation.clef,
                                    .x = first - clef,
                                    .bottom = y + at.bottom,
                                    .width = hbk_strip_end(strip, run, x) -
                                             first + clef,
                                    .space = look->space};
    hbk_pad_open_figure(
        pad, hbk_said_staff(pad->sheet->arena, strip->notes,
                            hbk_strip_note(strip, run, 0)->written,
                            hbk_strip_note(strip, run, run->n - 1)->written));
    hbk_staff_lines(pad, &staff);
    hbk_staff_clef(pad, &staff);
    hbk_pad_close(pad, HBK_TAG_FIGURE);
    hbk_pad_open(pad, HBK_TAG_TABLE);
    hbk_said_heads(pad, (struct hbk_point){first, y + at.figure}, true);
    for (size_t i = 0; i < run->n; i++) {
        draw_cell(pad, strip, run, i, &at, &staff,
                  (struct hbk_point){first + look->cell * (double)i, y});
    }
    hbk_pad_close(pad, HBK_TAG_TABLE);
}
