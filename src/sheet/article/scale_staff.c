#include "sheet/article/scale_staff.h"

#include "engrave/glyph.h"
#include "engrave/pens.h"
#include "engrave/signature.h"
#include "horn/press.h"
#include "sheet/block/signs.h"
#include "sheet/words/words.h"
#include "sheet/words/words_said.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { BAR = 4, DEGREES_UP = HBK_SCALE_UP - 1, MIDDLE = 4 };

/* In staff spaces. */
static const double stem_length = 3.5;
static const double sign_gap = 0.25;
static const double signature_at = 4.0;
static const double figure_gap = 0.7;

/* mm at unit 1. */
static const double heading_points = 15.5;
static const double words_points = 10.5;
static const double least_words = 8.5;
static const double heading_gap = 1.5;
static const double arrow_room = 3.3;
static const double arrow_tall = 2.5;
static const double curve_gap = 0.8;
static const double curve_room = 2.2;
static const double underline_at = 0.4; /* below the figure */
static const double underline_pen = 0.25;

/* Heights of capitals and of figures, of the em. */
static const double capital = 0.65;
static const double tall_figure = 0.714;

/*
 * Where the tonic lies lowest: B3 in the treble, G2 in the bass, and as far
 * from the staff between them.
 */
static int lowest_tonic(enum hbk_clef clef)
{
    static const int lowest[] = {
        [HBK_TREBLE] = 59, [HBK_BASS] = 43, [HBK_ALTO] = 48, [HBK_TENOR] = 45};
    return lowest[clef];
}

static bool has_octave(const struct hbk_scale *scale, size_t degree,
                       size_t first)
{
    if (first + DEGREES_UP >= scale->n ||
        hbk_scale_degree(scale, scale->notes[first].written) != degree) {
        return false;
    }
    for (size_t i = 0; i < HBK_SCALE_UP; i++) {
        if (scale->notes[first + i].taken == NULL) {
            return false;
        }
    }
    return true;
}

/* The octave that begins with a degree; false if there is none. */
static bool find_from(const struct hbk_notes *notes,
                      const struct hbk_scale *scale, size_t degree,
                      struct hbk_scale_octave *octave)
{
    const int low = lowest_tonic(notes->notation.clef);
    const int high = low + 11;
    int nearest = INT32_MAX;
    for (size_t i = 0; i < scale->n; i++) {
        const int note =
            hbk_notation_note(&notes->notation, scale->notes[i].written);
        const int off = note < low ? low - note : note > high ? note - high : 0;
        if (has_octave(scale, degree, i) && off < nearest) {
            nearest = off;
            octave->first = i;
        }
    }
    return nearest < INT32_MAX;
}

bool hbk_scale_octave_find(const struct hbk_notes *notes,
                           const struct hbk_scale *scale,
                           enum hbk_scale_from from,
                           struct hbk_scale_octave *octave)
{
    static const size_t degrees[] = {0, 4, 2};
    const size_t n =
        from == HBK_SCALE_TONIC ? 1 : sizeof(degrees) / sizeof(degrees[0]);
    *octave = (struct hbk_scale_octave){
        .scale = scale, .read = hbk_scale_read(scale, &notes->notation)};
    size_t i = 0;
    while (i < n && !find_from(notes, scale, degrees[i], octave)) {
        i++;
    }
    return i < n;
}

/* How many degrees above the tonic note k lies. */
static size_t degree_of(size_t k)
{
    return k < HBK_SCALE_UP ? k : HBK_SCALE_NOTES - 1 - k;
}

const struct hbk_scale_note *
hbk_scale_octave_note(const struct hbk_scale_octave *octave, size_t k)
{
    return &octave->scale->notes[octave->first + degree_of(k)];
}

/* Whether the move from note k to the next is awkward. */
static bool is_awkward(const struct hbk_scale_octave *octave, size_t k)
{
    const size_t here = degree_of(k);
    const size_t next = degree_of(k + 1);
    const size_t lower = octave->first + (here < next ? here : next);
    for (size_t i = 0; i < octave->scale->n_awkward; i++) {
        if (octave->scale->awkward[i].from == lower) {
            return true;
        }
    }
    return false;
}

bool hbk_scale_is_unusual(const struct hbk_notes *notes,
                          const struct hbk_scale_note *note)
{
    const struct hbk_note *const found = hbk_notes_find(notes, note->written);
    return note->taken->press != found->fingerings[0].press;
}

const char *hbk_scale_figure(struct hbk_arena *arena,
                             const struct hbk_scale_plan *plan,
                             const struct hbk_fingering *taken)
{
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(plan->notes->horn, taken->press, label);
    if (plan->closed_up) {
        char *to = label;
        for (const char *at = label; *at != '\0'; at++) {
            if (*at != '-') {
                *to++ = *at;
            }
        }
        *to = '\0';
    }
    return hbk_arena_copy(arena, label, strlen(label));
}

double hbk_scale_pitch(const struct hbk_scale_plan *plan)
{
    return (plan->width - plan->prefix - 1.2 * plan->space) /
           (double)plan->per_line;
}

/* One note as it is engraved. */
struct engraved {
    struct hbk_spelling spelling;
    int pos;       /* half spaces above the lowest line */
    uint32_t sign; /* of the raised seventh of a minor scale, or 0 */
    uint32_t head;
};

static struct engraved engrave(const struct hbk_scale_plan *plan,
                               const struct hbk_scale_octave *octave, size_t k)
{
    const struct hbk_notation *const notation = &plan->notes->notation;
    const int note =
        hbk_notation_note(notation, hbk_scale_octave_note(octave, k)->written);
    const struct hbk_spelling spelling =
        hbk_scale_spelling(&octave->read, note);
    struct engraved engraved = {.spelling = spelling,
                                .pos = hbk_spelling_staff_step(spelling) -
                                       hbk_clef_bottom_step(notation->clef),
                                .head = k + 1 == HBK_SCALE_NOTES
                                            ? HBK_GLYPH_OPEN_HEAD
                                            : HBK_GLYPH_BLACK_HEAD};
    if (octave->read.minor &&
        hbk_scale_degree(&octave->read, note) == HBK_DEGREES - 1) {
        engraved.sign = spelling.alter == 0   ? HBK_GLYPH_NATURAL
                        : spelling.alter == 1 ? HBK_GLYPH_SHARP
                                              : HBK_GLYPH_DOUBLE_SHARP;
    }
    return engraved;
}

static bool stem_is_up(const struct engraved *note)
{
    return note->pos < MIDDLE;
}

/* The free end of the stem; of a note far out it reaches the middle line. */
static double stem_tip(const struct engraved *note)
{
    const double y = 0.5 * note->pos;
    return stem_is_up(note) ? fmax(y + stem_length, 2.0)
                            : fmin(y - stem_length, 2.0);
}

/* Ink above the top and below the bottom line, >= 0, spaces. */
struct reach {
    double above, below;
};

static void take_in(struct reach *reach, double bottom, double top)
{
    reach->above = fmax(reach->above, top - 4.0);
    reach->below = fmax(reach->below, -bottom);
}

static struct reach reach_of(const struct hbk_scale_plan *plan,
                             const struct hbk_scale_octave *octave,
                             size_t first, size_t n)
{
    struct reach reach = {0};
    hbk_clef_reach(plan->notes->notation.clef, &reach.above, &reach.below);
    /* The third sharp of a signature, G, stands above the staff. */
    const int sharps = octave->read.signature;
    reach.above = fmax(reach.above, sharps >= 3   ? 1.9
                                    : sharps != 0 ? 1.4
                                                  : 0.0);
    take_in(&reach, 0.0, hbk_signature_top(plan->notes->notation.clef, sharps));
    for (size_t k = first; k < first + n; k++) {
        const struct engraved note = engrave(plan, octave, k);
        const double y = 0.5 * note.pos;
        const struct hbk_glyph_box head = hbk_glyph_box(note.head);
        take_in(&reach, y + head.bottom, y + head.top);
        take_in(&reach, stem_tip(&note), stem_tip(&note));
        if (note.sign != 0) {
            const struct hbk_glyph_box sign = hbk_glyph_box(note.sign);
            take_in(&reach, y + sign.bottom, y + sign.top);
        }
    }
    return reach;
}

static double line_height(const struct hbk_scale_plan *plan,
                          const struct reach *reach)
{
    const double u = plan->unit;
    return (reach->above + 4.0 + reach->below + figure_gap) * plan->space +
           (plan->asks_lip ? arrow_room * u : 0.0) +
           tall_figure * plan->figure +
           (plan->has_awkward ? (curve_gap + curve_room) * u : curve_gap * u);
}

static double heading_height(const struct hbk_scale_plan *plan)
{
    return capital * HBK_PT(heading_points) * plan->unit +
           heading_gap * plan->unit;
}

static size_t in_line(const struct hbk_scale_plan *plan, size_t first)
{
    const size_t left = HBK_SCALE_NOTES - first;
    return left < plan->per_line ? left : plan->per_line;
}

double hbk_scale_staff_height(const struct hbk_scale_plan *plan,
                              const struct hbk_scale_octave *octave)
{
    double height = heading_height(plan);
    for (size_t first = 0; first < HBK_SCALE_NOTES; first += plan->per_line) {
        const struct reach reach =
            reach_of(plan, octave, first, in_line(plan, first));
        height += line_height(plan, &reach);
    }
    return height;
}

const char *hbk_scale_tonic_read(struct hbk_arena *arena,
                                 const struct hbk_scale *scale,
                                 const struct hbk_notation *notation)
{
    const struct hbk_scale key = hbk_scale_read(scale, notation);
    char name[HBK_KEY_NAME_SIZE];
    return hbk_arena_printf(
        arena, "%s",
        hbk_scale_tonics_called(&key, notation->naming, HBK_UNICODE, name));
}

const char *hbk_scale_heading(struct hbk_arena *arena,
                              const struct hbk_scale *scale,
                              const struct hbk_notation *notation)
{
    const struct hbk_scale key = hbk_scale_read(scale, notation);
    char name[HBK_KEY_NAME_SIZE];
    return hbk_arena_printf(
        arena, "%s",
        hbk_scale_called(&key, notation->naming, HBK_UNICODE, name));
}

/* The same; "B♭ major, from F" where the octave begins elsewhere. */
static const char *heading_of(struct hbk_arena *arena,
                              const struct hbk_scale_plan *plan,
                              const struct hbk_scale_octave *octave)
{
    const struct hbk_notation *const notation = &plan->notes->notation;
    const char *const key = hbk_scale_heading(arena, octave->scale, notation);
    const int first = hbk_notation_note(
        notation, octave->scale->notes[octave->first].written);
    char name[HBK_NAME_SIZE];
    return hbk_scale_degree(&octave->read, first) == 0
               ? key
               : hbk_arena_printf(arena, "%s, from %s", key,
                                  hbk_spelling_called(
                                      hbk_scale_spelling(&octave->read, first),
                                      notation->naming, HBK_UNICODE, name));
}

/* "three flats". */
static const char *signature_words(struct hbk_arena *arena, int signature)
{
    if (signature == 0) {
        return "no sharp, no flat";
    }
    const size_t n = (size_t)abs(signature);
    return hbk_arena_printf(arena, "%s %s%s", hbk_words_count(arena, n, false),
                            signature > 0 ? "sharp" : "flat",
                            n == 1 ? "" : "s");
}

static void draw_heading(struct hbk_pad *pad, const struct hbk_scale_plan *plan,
                         const struct hbk_scale_octave *octave, double x,
                         double y)
{
    struct hbk_arena *const arena = pad->sheet->arena;
    const double u = plan->unit;
    const double base = y + capital * HBK_PT(heading_points) * u;
    struct hbk_style words =
        hbk_style_of(HBK_FACE_ITALIC, words_points, u, HBK_RIGHT);
    words.size = fmax(words.size, HBK_PT(least_words));
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_HEADING);
    hbk_pad_text(pad, x, base,
                 hbk_style_of(HBK_FACE_CAPS, heading_points, u, HBK_LEFT),
                 heading_of(arena, plan, octave));
    hbk_pad_close(pad, HBK_TAG_HEADING);
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_text(pad, x + plan->width, base, words,
                 signature_words(arena, octave->read.signature));
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
}

static void draw_stem(struct hbk_pad *pad, const struct hbk_staff *staff,
                      const struct engraved *note, double x)
{
    const double space = staff->space;
    const double width = hbk_glyph_box(note->head).width * space;
    const double stem_x = stem_is_up(note)
                              ? x + width - 0.5 * HBK_ENG_STEM_PEN * space
                              : x + 0.5 * HBK_ENG_STEM_PEN * space;
    const double y = staff->bottom - 0.5 * note->pos * space;
    hbk_pad_line(pad, stem_x, y, 0.0,
                 staff->bottom - stem_tip(note) * space - y,
                 HBK_ENG_STEM_PEN * space);
}

static void draw_note(struct hbk_pad *pad, const struct hbk_staff *staff,
                      const struct engraved *note, double centre,
                      const char *reads)
{
    const double space = staff->space;
    const double x = centre - 0.5 * hbk_glyph_box(note->head).width * space;
    const double y = staff->bottom - 0.5 * note->pos * space;
    hbk_pad_group(pad);
    if (note->sign != 0) {
        const double room = hbk_glyph_box(note->sign).width + sign_gap;
        hbk_pad_glyph(pad, x - room * space, y, space, note->sign, NULL);
    }
    hbk_staff_ledgers(pad, staff, x, hbk_glyph_box(note->head).width * space,
                      note->sign != 0, hbk_spelling_staff_step(note->spelling));
    draw_stem(pad, staff, note, x);
    hbk_pad_glyph(pad, x, y, space, note->head, reads);
}

static void draw_bar_line(struct hbk_pad *pad, const struct hbk_staff *staff,
                          double x, bool is_last)
{
    const double space = staff->space;
    const double top = staff->bottom - 4.0 * space;
    pad->group = HBK_GROUP_STAFF;
    if (is_last) {
        hbk_pad_line(pad, x - 0.5 * HBK_ENG_THICK_PEN * space, top, 0.0,
                     4.0 * space, HBK_ENG_THICK_PEN * space);
        x -= (HBK_ENG_THICK_PEN + HBK_ENG_BAR_GAP) * space;
    }
    hbk_pad_line(pad, x - 0.5 * HBK_ENG_BAR_PEN * space, top, 0.0, 4.0 * space,
                 HBK_ENG_BAR_PEN * space);
}

/* One line of a scale: where its staff and its figures stand. */
struct line {
    const struct hbk_scale_plan *plan;
    const struct hbk_scale_octave *octave;
    struct hbk_staff staff;
    double first_x; /* centre of the first note */
    double pitch;
    double figures; /* base line */
    size_t first, n;
};

static double centre_of(const struct line *line, size_t i)
{
    return line->first_x + line->pitch * (double)i;
}

static const char *name_of(const struct hbk_scale_plan *plan,
                           struct hbk_arena *arena, const struct engraved *note)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(arena, "%s%d",
                            hbk_spelling_called(note->spelling,
                                                plan->notes->notation.naming,
                                                HBK_UNICODE, name),
                            note->spelling.octave);
}

/* The figure of a note, underlined if it is not that of the chart. */
static void draw_figure(struct hbk_pad *pad, const struct line *line, double x,
                        const struct hbk_scale_note *note)
{
    const struct hbk_scale_plan *const plan = line->plan;
    const struct hbk_style style = {
        .face = HBK_FACE_FIGURE, .size = plan->figure, .align = HBK_CENTRE};
    const char *const figure =
        hbk_scale_figure(pad->sheet->arena, plan, note->taken);
    hbk_pad_group(pad);
    hbk_pad_text(pad, x, line->figures, style, figure);
    if (hbk_scale_is_unusual(plan->notes, note)) {
        const double width = hbk_pad_width(pad, style, figure);
        hbk_pad_line(pad, x - 0.5 * width,
                     line->figures + underline_at * plan->unit, width, 0.0,
                     underline_pen * plan->unit);
    }
}

/* A note with its figure; the head comes last, see gamut_bar.c. */
static void draw_cell(struct hbk_pad *pad, const struct line *line, size_t i)
{
    const struct hbk_scale_plan *const plan = line->plan;
    struct hbk_arena *const arena = pad->sheet->arena;
    const double u = plan->unit;
    const double x = centre_of(line, i);
    const size_t k = line->first + i;
    const struct engraved note = engrave(plan, line->octave, k);
    const struct hbk_scale_note *const at =
        hbk_scale_octave_note(line->octave, k);
    const enum hbk_sign lip = hbk_sign_lip(at->taken->cents);
    hbk_pad_open(pad, HBK_TAG_CELL);
    hbk_pad_read_as(pad,
                    hbk_arena_printf(
                        arena, "%s: %s, %s",
                        hbk_words_said(arena, name_of(plan, arena, &note)),
                        hbk_words_said_fingering(arena, plan->notes, at->taken),
                        hbk_words_said_tuning(arena, at->taken)));
    draw_figure(pad, line, x, at);
    hbk_pad_read_as(pad, NULL);
    hbk_pad_open(pad, HBK_TAG_ARTIFACT);
    if (lip != HBK_SIGN_NONE) {
        hbk_pad_group(pad);
        hbk_sign_arrow(pad, x,
                       line->figures - tall_figure * plan->figure - 0.5 * u,
                       arrow_tall * u, lip);
    }
    draw_note(pad, &line->staff, &note, x, name_of(plan, arena, &note));
    hbk_pad_close(pad, HBK_TAG_ARTIFACT);
    hbk_pad_close(pad, HBK_TAG_CELL);
}

/* Bar lines after every fourth note, and the curves under figures. */
static void draw_between(struct hbk_pad *pad, const struct line *line)
{
    const double u = line->plan->unit;
    const double right = line->staff.x + line->staff.width;
    for (size_t i = 0; i < line->n; i++) {
        const size_t k = line->first + i;
        const bool ends = i + 1 == line->n;
        if (ends || (k + 1) % BAR == 0) {
            draw_bar_line(pad, &line->staff,
                          ends ? right : centre_of(line, i) + 0.5 * line->pitch,
                          k + 1 == HBK_SCALE_NOTES);
        }
        if (k + 1 < HBK_SCALE_NOTES && is_awkward(line->octave, k)) {
            /* Across a break of the line, half of the curve. */
            const double share = ends ? 0.36 : 0.64;
            hbk_pad_group(pad);
            hbk_sign_curve(pad, centre_of(line, i) + 0.18 * line->pitch,
                           line->figures + curve_gap * u, share * line->pitch);
        }
    }
}

static double draw_line(struct hbk_pad *pad, const struct hbk_scale_plan *plan,
                        const struct hbk_scale_octave *octave, size_t first,
                        struct hbk_point at)
{
    const size_t n = in_line(plan, first);
    const struct reach reach = reach_of(plan, octave, first, n);
    const double bottom = at.y + (reach.above + 4.0) * plan->space;
    const double pitch = hbk_scale_pitch(plan);
    struct line line = {.plan = plan,
                        .octave = octave,
                        .staff = {.clef = plan->notes->notation.clef,
                                  .x = at.x,
                                  .bottom = bottom,
                                  .width = plan->width,
                                  .space = plan->space},
                        .first_x = at.x + plan->prefix + 0.5 * pitch,
                        .pitch = pitch,
                        .figures =
                            bottom + (reach.below + figure_gap) * plan->space +
                            (plan->asks_lip ? arrow_room * plan->unit : 0.0) +
                            tall_figure * plan->figure,
                        .first = first,
                        .n = n};
    if (plan->per_line < HBK_SCALE_NOTES && n < plan->per_line) {
        /* The last line, a note short, closes where its notes do. */
        line.staff.width -= pitch * (double)(plan->per_line - n);
    }
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_pad_open(pad, HBK_TAG_HEADER);
    hbk_pad_say(pad, at.x, bottom,
                hbk_words_said(pad->sheet->arena,
                               heading_of(pad->sheet->arena, plan, octave)));
    hbk_pad_close(pad, HBK_TAG_HEADER);
    hbk_staff_open_lines(pad, &line.staff);
    hbk_staff_clef(pad, &line.staff);
    hbk_signature_draw(pad, &line.staff, octave->read.signature,
                       at.x + signature_at * plan->space);
    draw_between(pad, &line);
    for (size_t i = 0; i < n; i++) {
        draw_cell(pad, &line, i);
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
    return at.y + line_height(plan, &reach);
}

void hbk_scale_staff_draw(struct hbk_pad *pad,
                          const struct hbk_scale_plan *plan,
                          const struct hbk_scale_octave *octave, double x,
                          double y)
{
    draw_heading(pad, plan, octave, x, y);
    y += heading_height(plan);
    hbk_pad_open(pad, HBK_TAG_TABLE);
    for (size_t first = 0; first < HBK_SCALE_NOTES; first += plan->per_line) {
        y = draw_line(pad, plan, octave, first, (struct hbk_point){x, y});
    }
    hbk_pad_close(pad, HBK_TAG_TABLE);
}
