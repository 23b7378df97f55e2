#include "sheet/article/trill_cell.h"

#include "engrave/glyph.h"
#include "horn/about.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "sheet/block/dot.h"
#include "sheet/block/signs.h"
#include "sheet/words/words.h"
#include "sheet/words/words_said.h"

#include <math.h>
#include <string.h>

/* Points at unit 1, and the least. */
static const double lower_points = 14.0;
static const double upper_points = 12.0;
static const double name_least = 9.0;
static const double octave_share = 0.6;
static const double figure_points = 17.5;
static const double figure_least = 10.0;
static const double word_points = 10.0;
static const double word_least = 8.5;

/* mm at unit 1. */
static const double radius = 3.3;
static const double radius_least = 1.76; /* the dot keeps its number */
static const double number_least = 7.05; /* points of a dot's number, */
static const double number_share = 1.55; /* which is so wide, of the radius */
static const double white = 0.7;         /* beside what stands in a cell */
static const double name_gap = 1.0;
static const double arrow_tall = 2.4;

/* The second head is smaller; staff spaces between and beside the heads. */
static const double small = 0.86;
static const double head_gap = 1.1;   /* at least, */
static const double head_apart = 2.4; /* and at most */
static const double sign_gap = 0.2;

/* Of the radius: from the middle of a dot to the top of its wave. */
static const double wave_top = 1.75;
static const double dot_gap = 0.7;

/* A note so far off is told, as on the charts. */
static const double told_cents = 30.0;

static double points(const struct hbk_trill_look *look, double nominal,
                     double least)
{
    return HBK_PT(fmax(nominal * look->unit, least));
}

static struct hbk_style styled(const struct hbk_trill_look *look,
                               enum hbk_face face, double nominal, double least)
{
    return (struct hbk_style){.face = face,
                              .size = points(look, nominal, least)};
}

struct hbk_trill_cell hbk_trill_cell_of(const struct hbk_notes *notes,
                                        const struct hbk_trill *trill)
{
    const int low = hbk_notation_note(&notes->notation, trill->written);
    return (struct hbk_trill_cell){
        .trill = trill,
        .lower = hbk_trill_lower(low, trill->interval),
        .upper = hbk_trill_upper(low, trill->interval)};
}

const char *hbk_trill_cell_words(const struct hbk_trill *trill)
{
    return trill->kind == HBK_TRILL_AWKWARD || trill->kind == HBK_TRILL_LIP
               ? hbk_trill_kind_name(trill->kind)
               : "";
}

static bool is_off(const struct hbk_trill *trill,
                   const struct hbk_fingering *fingering)
{
    return trill->kind != HBK_TRILL_NONE &&
           fabs(fingering->cents) >= told_cents;
}

bool hbk_trill_cell_is_off(const struct hbk_trill *trill)
{
    return is_off(trill, trill->main) || is_off(trill, trill->upper);
}

/* The names of a cell, with the arrows behind them. */
struct names {
    char text[2][HBK_NAME_SIZE];
    char octave[HBK_NAME_SIZE];
    struct hbk_style style[2], small;
    bool has_octave;
    enum hbk_sign lip[2];
    double arrow; /* room for one */
    double width[2], octave_width, all;
};

static enum hbk_sign lip_of(const struct hbk_trill *trill,
                            const struct hbk_fingering *fingering)
{
    return is_off(trill, fingering) ? hbk_sign_lip(fingering->cents)
                                    : HBK_SIGN_NONE;
}

/* Octaves stand at C alone, where one row of notes ends and another begins. */
static void name_it(const struct hbk_pad *pad,
                    const struct hbk_trill_look *look,
                    const struct hbk_trill_cell *cell, double scale,
                    struct names *names)
{
    const enum hbk_naming naming = look->notes->notation.naming;
    const double least = HBK_PT(name_least);
    hbk_spelling_called(cell->lower, naming, HBK_UNICODE, names->text[0]);
    hbk_spelling_called(cell->upper, naming, HBK_UNICODE, names->text[1]);
    names->style[0] = styled(look, HBK_FACE_BOLD, lower_points, name_least);
    names->style[1] = styled(look, HBK_FACE_PLAIN, upper_points, name_least);
    for (int i = 0; i < 2; i++) {
        names->style[i].size = fmax(scale * names->style[i].size, least);
        names->width[i] = hbk_pad_width(pad, names->style[i], names->text[i]);
    }
    names->small = names->style[1];
    names->small.size = fmax(octave_share * names->style[0].size, HBK_PT(7.5));
    names->has_octave = cell->lower.step == 0 && cell->lower.alter == 0;
    names->octave[0] = (char)('0' + cell->lower.octave % 10);
    names->octave[1] = '\0';
    names->octave_width = names->has_octave
                              ? hbk_pad_width(pad, names->small, names->octave)
                              : 0.0;
    names->lip[0] = lip_of(cell->trill, cell->trill->main);
    names->lip[1] = lip_of(cell->trill, cell->trill->upper);
    names->arrow = 0.75 * arrow_tall * look->unit;
    names->all = names->width[0] + names->width[1] + names->octave_width +
                 name_gap * look->unit;
    for (int i = 0; i < 2; i++) {
        names->all += names->lip[i] == HBK_SIGN_NONE ? 0.0 : names->arrow;
    }
}

/* What the fingers do: those that stay, and those that trill. */
struct fingers {
    const char *held; /* "" for none */
    size_t n;
    char label[HBK_CONTROLS_MAX][HBK_NAME_SIZE];
    bool begins_down[HBK_CONTROLS_MAX];
    struct hbk_style figure;
    double radius, held_width, gap, all;
};

static void list_fingers(struct hbk_arena *arena,
                         const struct hbk_trill_look *look,
                         const struct hbk_trill *trill, struct fingers *fingers)
{
    const struct hbk_horn *const horn = look->notes->horn;
    *fingers = (struct fingers){.held = "\u2013"};
    if (trill->kind == HBK_TRILL_NONE) {
        return;
    }
    const uint32_t low = trill->main->press;
    const uint32_t high = trill->upper->press;
    char held[HBK_LABEL_SIZE];
    hbk_horn_press_label(horn, low & high, held);
    const bool shows = (low & high) != 0 || low == high;
    fingers->held = shows ? hbk_arena_copy(arena, held, strlen(held)) : "";
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        if (((low ^ high) >> i & 1U) != 0) {
            hbk_horn_control_label(horn, i, fingers->label[fingers->n],
                                   HBK_NAME_SIZE);
            fingers->begins_down[fingers->n++] = (low >> i & 1U) != 0;
        }
    }
}

/* Large enough for its longest number in the least letters. */
static double least_radius(const struct hbk_pad *pad,
                           const struct fingers *fingers)
{
    const struct hbk_style style = {.face = HBK_FACE_BOLD,
                                    .size = HBK_PT(number_least)};
    double least = radius_least;
    for (size_t i = 0; i < fingers->n; i++) {
        const double width = hbk_pad_width(pad, style, fingers->label[i]);
        least = fmax(least, width / number_share);
    }
    return least;
}

static void size_fingers(const struct hbk_pad *pad,
                         const struct hbk_trill_look *look, double scale,
                         struct fingers *fingers)
{
    fingers->figure =
        styled(look, HBK_FACE_FIGURE, figure_points * scale, figure_least);
    fingers->radius =
        fmax(radius * look->unit * scale, least_radius(pad, fingers));
    fingers->held_width = hbk_pad_width(pad, fingers->figure, fingers->held);
    fingers->gap = fingers->held[0] == '\0' || fingers->n == 0
                       ? 0.0
                       : 0.28 * fingers->figure.size;
    const double n = (double)fingers->n;
    fingers->all =
        fingers->held_width + fingers->gap + n * 2.3 * fingers->radius +
        (n > 1.0 ? (n - 1.0) * (dot_gap - 0.3) * fingers->radius : 0.0);
}

/* Heads, accidentals and the white between them, in staff spaces. */
static double heads_spaces(const struct hbk_trill_cell *cell, double gap,
                           double at[2], double width[2])
{
    static const uint32_t glyphs[] = {HBK_GLYPH_WHOLE_HEAD,
                                      HBK_GLYPH_BLACK_HEAD};
    const double scales[] = {1.0, small};
    const struct hbk_spelling spellings[] = {cell->lower, cell->upper};
    double x = 0.0;
    for (int i = 0; i < 2; i++) {
        const uint32_t sign = hbk_spelling_accidental(spellings[i]);
        x += sign == 0 ? 0.0 : scales[i] * hbk_glyph_box(sign).width + sign_gap;
        at[i] = x;
        width[i] = scales[i] * hbk_glyph_box(glyphs[i]).width;
        x += width[i] + (i == 0 ? gap : 0.0);
    }
    return x;
}

double hbk_trill_cell_least(const struct hbk_pad *pad,
                            const struct hbk_trill_look *look,
                            const struct hbk_trill_cell *cell)
{
    struct names names;
    struct fingers fingers;
    double at[2];
    double width[2];
    name_it(pad, look, cell, 0.0, &names);
    list_fingers(pad->sheet->arena, look, cell->trill, &fingers);
    size_fingers(pad, look, 0.0, &fingers);
    const double word =
        hbk_pad_width(pad, styled(look, HBK_FACE_ITALIC, 0.0, word_least),
                      hbk_trill_cell_words(cell->trill));
    /* Ledger lines stand out beside the heads. */
    const double heads =
        (heads_spaces(cell, head_gap, at, width) + 0.8) * look->space;
    return fmax(fmax(names.all, fingers.all), fmax(word, heads)) +
           2.0 * white * look->unit;
}

void hbk_trill_cell_reach(const struct hbk_trill_look *look,
                          const struct hbk_trill_cell *cell, double *above,
                          double *below)
{
    const enum hbk_clef clef = look->notes->notation.clef;
    const struct hbk_heads heads = {2, {cell->lower, cell->upper}};
    double up;
    double down;
    hbk_heads_reach(clef, &heads, &up, &down);
    *above = fmax(*above, up);
    *below = fmax(*below, down);
}

static double full_radius(const struct hbk_trill_look *look)
{
    return fmax(radius * look->unit, radius_least);
}

struct hbk_trill_lines hbk_trill_lines_of(const struct hbk_trill_look *look,
                                          double above, double below,
                                          double extra)
{
    const double u = look->unit;
    const double name = points(look, lower_points, name_least);
    const double word = points(look, word_points, word_least);
    struct hbk_trill_lines lines = {0};
    double y = 1.3 * u + 0.15 * extra + 0.74 * name;
    lines.name = y;
    if (look->sounding) {
        y += 1.15 * word;
        lines.sounding = y;
    }
    y += 0.24 * word + 0.8 * u + 0.2 * extra + (above + 4.0) * look->space;
    lines.bottom = y;
    y += below * look->space + 0.8 * u + 0.35 * extra +
         wave_top * full_radius(look);
    lines.middle = y;
    y += full_radius(look);
    if (look->words) {
        y += 0.7 * u + 0.76 * word + 0.15 * extra;
        lines.words = y;
        y += 0.24 * word;
    }
    lines.end = y + 1.1 * u + 0.15 * extra;
    return lines;
}

static void draw_names(struct hbk_pad *pad, const struct hbk_trill_look *look,
                       const struct hbk_trill_cell *cell, double centre,
                       double y)
{
    struct names names;
    const double room = look->column - 2.0 * white * look->unit;
    double scale = 1.0;
    name_it(pad, look, cell, scale, &names);
    while (names.all > room && scale > 0.4) {
        scale -= 0.05;
        name_it(pad, look, cell, scale, &names);
    }
    double x = centre - 0.5 * names.all;
    hbk_pad_group(pad);
    for (int i = 0; i < 2; i++) {
        hbk_pad_text(pad, x, y, names.style[i], names.text[i]);
        x += names.width[i];
        if (i == 0 && names.has_octave) {
            hbk_pad_text(pad, x, y, names.small, names.octave);
            x += names.octave_width;
        }
        if (names.lip[i] != HBK_SIGN_NONE) {
            hbk_sign_arrow(pad, x + 0.5 * names.arrow, y,
                           arrow_tall * look->unit, names.lip[i]);
            x += names.arrow;
        }
        x += i == 0 ? name_gap * look->unit : 0.0;
    }
}

static void draw_sounding(struct hbk_pad *pad,
                          const struct hbk_trill_look *look,
                          const struct hbk_trill *trill, double centre,
                          double y)
{
    struct hbk_arena *const arena = pad->sheet->arena;
    struct hbk_style style =
        styled(look, HBK_FACE_PLAIN, word_least, word_least);
    style.align = HBK_CENTRE;
    const char *const note = hbk_words_sounding(arena, trill->written,
                                                look->notes->written_c4_sounds);
    const char *const long_words = hbk_arena_printf(arena, "sounds %s", note);
    const bool fits = hbk_pad_width(pad, style, long_words) <=
                      look->column - 2.0 * white * look->unit;
    hbk_pad_group(pad);
    hbk_pad_text(pad, centre, y, style, fits ? long_words : note);
}

static void draw_fingers(struct hbk_pad *pad, const struct hbk_trill_look *look,
                         const struct hbk_trill *trill, double centre,
                         double middle)
{
    struct fingers fingers;
    const double room = look->column - 2.0 * white * look->unit;
    list_fingers(pad->sheet->arena, look, trill, &fingers);
    double scale = 1.0;
    size_fingers(pad, look, scale, &fingers);
    while (fingers.all > room && scale > 0.3) {
        scale -= 0.05;
        size_fingers(pad, look, scale, &fingers);
    }
    double x = centre - 0.5 * fingers.all;
    hbk_pad_group(pad);
    hbk_pad_text(pad, x, middle + 0.357 * fingers.figure.size, fingers.figure,
                 fingers.held);
    x += fingers.held_width + fingers.gap + 1.15 * fingers.radius;
    for (size_t i = 0; i < fingers.n; i++) {
        const struct hbk_dot dot = {x, middle, fingers.radius,
                                    fingers.label[i]};
        hbk_dot_trill(pad, &dot, fingers.begins_down[i]);
        x += (2.0 + dot_gap) * fingers.radius;
    }
}

/* Both heads; the upper one is a little smaller. */
static void draw_heads(struct hbk_pad *pad, const struct hbk_trill_look *look,
                       const struct hbk_staff *staff,
                       const struct hbk_trill_cell *cell, double centre)
{
    static const uint32_t glyphs[] = {HBK_GLYPH_WHOLE_HEAD,
                                      HBK_GLYPH_BLACK_HEAD};
    const struct hbk_spelling spellings[] = {cell->lower, cell->upper};
    const double scales[] = {1.0, small};
    const double space = staff->space;
    double at[2];
    double width[2];
    const double closest = heads_spaces(cell, head_gap, at, width) + 0.8;
    const double spare = 0.5 * (look->column / space - closest);
    const double gap = fmin(head_apart, head_gap + fmax(0.0, spare));
    const double left =
        centre - 0.5 * heads_spaces(cell, gap, at, width) * space;
    for (int i = 0; i < 2; i++) {
        const struct hbk_spelling spelling = spellings[i];
        const int step = hbk_spelling_staff_step(spelling);
        const double x = left + at[i] * space;
        const double y = hbk_staff_y(staff, step);
        const uint32_t sign = hbk_spelling_accidental(spelling);
        char name[HBK_NAME_SIZE];
        hbk_pad_group(pad);
        if (sign != 0) {
            const double room =
                scales[i] * hbk_glyph_box(sign).width + sign_gap;
            hbk_pad_glyph(pad, x - room * space, y, scales[i] * space, sign,
                          NULL);
        }
        hbk_staff_ledgers(pad, staff, x, width[i] * space, sign != 0, step);
        hbk_spelling_called(spelling, look->notes->notation.naming, HBK_UNICODE,
                            name);
        hbk_pad_glyph(
            pad, x, y, scales[i] * space, glyphs[i],
            hbk_arena_printf(pad->sheet->arena, "%s%d", name, spelling.octave));
    }
}

/* "B3 to C4: 1 to open, easy": the whole cell. */
static const char *said(struct hbk_arena *arena,
                        const struct hbk_trill_look *look,
                        const struct hbk_trill_cell *cell)
{
    const struct hbk_trill *const trill = cell->trill;
    const enum hbk_naming naming = look->notes->notation.naming;
    char lower[HBK_NAME_SIZE];
    char upper[HBK_NAME_SIZE];
    hbk_spelling_said(cell->lower, naming, HBK_UNICODE, lower);
    hbk_spelling_said(cell->upper, naming, HBK_UNICODE, upper);
    const char *const names = hbk_words_said(
        arena, hbk_arena_printf(arena, "%s to %s", lower, upper));
    if (trill->kind == HBK_TRILL_NONE) {
        return hbk_arena_printf(arena, "%s: not playable", names);
    }
    return hbk_arena_printf(
        arena, "%s: %s to %s, %s", names,
        hbk_words_said_fingering(arena, look->notes, trill->main),
        hbk_words_said_fingering(arena, look->notes, trill->upper),
        hbk_trill_kind_name(trill->kind));
}

void hbk_trill_cell_draw(struct hbk_pad *pad, const struct hbk_trill_look *look,
                         const struct hbk_trill_lines *lines,
                         const struct hbk_staff *staff,
                         const struct hbk_trill_cell *cell, struct hbk_point at)
{
    const double centre = at.x + 0.5 * look->column;
    struct hbk_style word =
        styled(look, HBK_FACE_ITALIC, word_points, word_least);
    const char *const words = hbk_trill_cell_words(cell->trill);
    word.align = HBK_CENTRE;
    hbk_pad_open(pad, HBK_TAG_CELL);
    hbk_pad_read_as(pad, said(pad->sheet->arena, look, cell));
    draw_names(pad, look, cell, centre, at.y + lines->name);
    if (look->sounding) {
        draw_sounding(pad, look, cell->trill, centre, at.y + lines->sounding);
    }
    draw_fingers(pad, look, cell->trill, centre, at.y + lines->middle);
    hbk_pad_group(pad);
    hbk_pad_text(pad, centre, at.y + lines->words,
                 hbk_pad_fit(pad, word, look->column - 0.4 * look->unit,
                             HBK_PT(word_least) / word.size, words),
                 words);
    hbk_pad_read_as(pad, NULL);
    /* The heads come last: all words of the cell are read out before them. */
    hbk_pad_open(pad, HBK_TAG_ARTIFACT);
    draw_heads(pad, look, staff, cell, centre);
    hbk_pad_close(pad, HBK_TAG_ARTIFACT);
    hbk_pad_close(pad, HBK_TAG_CELL);
}
