#include "engrave/engrave_signs.h"

#include "engrave/engrave_pitch.h"

#include <stdio.h>
#include <string.h>

/* In staff spaces; common practice. */
static const double clef_indent = 0.8;
static const double clef_gap = 0.9;
static const double key_gap = 0.9;
/* Signs of a key stand closer than their boxes: their heights differ. */
static const double sharp_step = 1.12;
static const double other_step = 0.98;
static const double meter_gap = 0.9;
static const double first_gap = 0.6; /* before the first note of a line */
static const double change_gap = 0.7;
static const double repeat_gap = 0.5; /* from dots to line */
static const double after_line = 1.1;

/* Figures of a meter are two spaces tall; DejaVu's are 0.729 of its em. */
static const double figure_em = 2.0 / 0.745;
static const double octave_em = 1.7;

struct hbk_eng_change hbk_eng_change_at(const struct hbk_tune *tune,
                                        size_t event)
{
    struct hbk_eng_change change = {NULL, NULL, NULL, NULL};
    const struct hbk_tune_clef *clef = hbk_tune_clef_at(tune, event);
    if (clef->event == event && clef > tune->clefs) {
        change.clef = clef;
    }
    const struct hbk_tune_key *key = hbk_tune_key_at(tune, event);
    if (key->event == event && key > tune->keys &&
        memcmp(key->alter, key[-1].alter, sizeof(key->alter)) != 0) {
        change.key = key;
        change.key_before = key - 1;
    }
    const struct hbk_tune_meter *meter = hbk_tune_meter_at(tune, event);
    if (meter->event == event && meter > tune->meters) {
        change.meter = meter;
    }
    return change;
}

/* What changes where a bar begins; an empty bar before has had it already. */
static struct hbk_eng_change change_of_bar(const struct hbk_tune *tune,
                                           size_t bar)
{
    const struct hbk_eng_change none = {NULL, NULL, NULL, NULL};
    if (bar == 0 || bar >= tune->n_bars ||
        tune->bars[bar - 1].first == tune->bars[bar].first) {
        return none;
    }
    return hbk_eng_change_at(tune, tune->bars[bar].first);
}

/* Words that stand on the lines of the staff. */
static void draw_on_staff(struct hbk_quill *quill, double x, double y,
                          struct hbk_style style, const char *text)
{
    const unsigned group = quill->pad->group;
    quill->pad->group = HBK_GROUP_STAFF;
    hbk_quill_text(quill, x, y, style, text);
    quill->pad->group = group;
}

static double draw_clef(const struct hbk_tune_clef *clef, double scale,
                        struct hbk_quill *quill, double x)
{
    const double y = clef->line - 1.0;
    if (clef->sign == 'N') {
        return x;
    }
    if (clef->sign == 'P') {
        if (quill != NULL) {
            hbk_quill_block(quill, x + 0.4, 1.0, 0.5, 2.0);
            hbk_quill_block(quill, x + 1.3, 1.0, 0.5, 2.0);
        }
        return x + 2.2;
    }
    const uint32_t glyph = clef->sign == 'G'   ? HBK_GLYPH_G_CLEF
                           : clef->sign == 'F' ? HBK_GLYPH_F_CLEF
                                               : HBK_GLYPH_C_CLEF;
    const struct hbk_glyph_box box = hbk_glyph_box(glyph);
    if (quill != NULL) {
        hbk_quill_glyph(quill, x, y, scale, glyph, NULL);
        if (clef->octave != 0) {
            const struct hbk_style style = {.face = HBK_FACE_BOLD,
                                            .size = octave_em * scale,
                                            .align = HBK_CENTRE};
            const double at = clef->octave < 0
                                  ? y + scale * box.bottom - 0.8 * style.size
                                  : y + scale * box.top + 0.1 * style.size;
            draw_on_staff(quill, x + 0.55 * scale * box.width, at, style,
                          clef->octave == 1 || clef->octave == -1 ? "8" : "15");
        }
    }
    return x + scale * box.width;
}

static double draw_key(const struct hbk_tune_key *key,
                       const struct hbk_tune_key *before,
                       const struct hbk_tune_clef *clef,
                       struct hbk_quill *quill, double x)
{
    struct hbk_eng_sign signs[HBK_ENG_SIGNS_MAX];
    const size_t n = hbk_eng_signature(key, before, clef, signs);
    for (size_t i = 0; i < n; i++) {
        if (quill != NULL) {
            hbk_quill_glyph(quill, x, hbk_eng_y(signs[i].pos), 1.0,
                            signs[i].glyph, NULL);
        }
        const double step =
            signs[i].glyph == HBK_GLYPH_SHARP ? sharp_step : other_step;
        x += i + 1 < n ? step : hbk_glyph_box(signs[i].glyph).width;
    }
    return x;
}

/* The advance of a bold figure in DejaVu Sans 2.37: 1425 of 2048. */
static const double figure_wide = 1425.0 / 2048.0;

static double draw_figures(struct hbk_quill *quill, double x, double y,
                           double width, const char *figures)
{
    const struct hbk_style style = {
        .face = HBK_FACE_BOLD, .size = figure_em, .align = HBK_CENTRE};
    if (quill != NULL) {
        draw_on_staff(quill, x + 0.5 * width, y, style, figures);
    }
    return (double)strlen(figures) * figure_em * figure_wide;
}

static double draw_meter(const struct hbk_tune_meter *meter,
                         struct hbk_quill *quill, double x)
{
    if (meter->beats == 0) {
        return x;
    }
    if (meter->sign != HBK_TUNE_METER_NUMBERS) {
        const uint32_t glyph = meter->sign == HBK_TUNE_METER_CUT
                                   ? HBK_GLYPH_CUT_TIME
                                   : HBK_GLYPH_COMMON_TIME;
        if (quill != NULL) {
            hbk_quill_glyph(quill, x, 2.0, 1.0, glyph, NULL);
        }
        return x + hbk_glyph_box(glyph).width;
    }
    char beats[16];
    char unit[16];
    (void)snprintf(beats, sizeof(beats), "%u", meter->beats);
    (void)snprintf(unit, sizeof(unit), "%u", meter->unit);
    const char *const upper = meter->groups == NULL ? beats : meter->groups;
    const double above = draw_figures(NULL, x, 0.0, 0.0, upper);
    const double below = draw_figures(NULL, x, 0.0, 0.0, unit);
    const double width = above > below ? above : below;
    if (quill != NULL) {
        draw_figures(quill, x, 2.02, width, upper);
        draw_figures(quill, x, 0.02, width, unit);
    }
    return x + width;
}

static void draw_dots(struct hbk_quill *quill, double x)
{
    if (quill != NULL) {
        hbk_quill_disc(quill, x + HBK_ENG_DOT_RADIUS, 1.5, HBK_ENG_DOT_RADIUS);
        hbk_quill_disc(quill, x + HBK_ENG_DOT_RADIUS, 2.5, HBK_ENG_DOT_RADIUS);
    }
}

/* Part of the staff: ties and slurs run through it. */
static double draw_stroke(struct hbk_quill *quill, double x, double pen)
{
    if (quill != NULL) {
        const unsigned group = quill->pad->group;
        quill->pad->group = HBK_GROUP_STAFF;
        hbk_quill_block(quill, x, -0.5 * HBK_ENG_STAFF_PEN, pen,
                        4.0 + HBK_ENG_STAFF_PEN);
        quill->pad->group = group;
    }
    return x + pen;
}

static double draw_repeat_start(struct hbk_quill *quill, double x)
{
    x = draw_stroke(quill, x, HBK_ENG_THICK_PEN) + HBK_ENG_BAR_GAP;
    x = draw_stroke(quill, x, HBK_ENG_BAR_PEN) + repeat_gap;
    draw_dots(quill, x);
    return x + 2.0 * HBK_ENG_DOT_RADIUS;
}

static double draw_repeat_end(struct hbk_quill *quill, double x)
{
    draw_dots(quill, x);
    x += 2.0 * HBK_ENG_DOT_RADIUS + repeat_gap;
    x = draw_stroke(quill, x, HBK_ENG_BAR_PEN) + HBK_ENG_BAR_GAP;
    return draw_stroke(quill, x, HBK_ENG_THICK_PEN);
}

static double draw_dotted(struct hbk_quill *quill, double x)
{
    const double radius = 0.14;
    for (int i = 0; quill != NULL && i < 8; i++) {
        hbk_quill_disc(quill, x + radius, (0.5 * i) + 0.25, radius);
    }
    return x + (2.0 * radius);
}

static double draw_dashed(struct hbk_quill *quill, double x)
{
    for (int i = 0; quill != NULL && i < 4; i++) {
        hbk_quill_block(quill, x, i + 0.2, HBK_ENG_BAR_PEN, 0.6);
    }
    return x + HBK_ENG_BAR_PEN;
}

/* A line that is not as tall as the staff. */
static double draw_part_line(struct hbk_quill *quill, double x, double foot,
                             double height)
{
    if (quill != NULL) {
        hbk_quill_block(quill, x, foot, HBK_ENG_BAR_PEN, height);
    }
    return x + HBK_ENG_BAR_PEN;
}

static double draw_plain_line(enum hbk_tune_barline kind,
                              struct hbk_quill *quill, double x)
{
    switch (kind) {
    case HBK_TUNE_BAR_PLAIN:
        return draw_stroke(quill, x, HBK_ENG_BAR_PEN);
    case HBK_TUNE_BAR_DOUBLE:
        x = draw_stroke(quill, x, HBK_ENG_BAR_PEN) + HBK_ENG_BAR_GAP;
        return draw_stroke(quill, x, HBK_ENG_BAR_PEN);
    case HBK_TUNE_BAR_FINAL:
        x = draw_stroke(quill, x, HBK_ENG_BAR_PEN) + HBK_ENG_BAR_GAP;
        return draw_stroke(quill, x, HBK_ENG_THICK_PEN);
    case HBK_TUNE_BAR_THICK_THIN:
        x = draw_stroke(quill, x, HBK_ENG_THICK_PEN) + HBK_ENG_BAR_GAP;
        return draw_stroke(quill, x, HBK_ENG_BAR_PEN);
    case HBK_TUNE_BAR_DOTTED:
        return draw_dotted(quill, x);
    case HBK_TUNE_BAR_DASHED:
        return draw_dashed(quill, x);
    case HBK_TUNE_BAR_HEAVY:
        return draw_stroke(quill, x, HBK_ENG_THICK_PEN);
    case HBK_TUNE_BAR_HEAVY_HEAVY:
        x = draw_stroke(quill, x, HBK_ENG_THICK_PEN) + HBK_ENG_BAR_GAP;
        return draw_stroke(quill, x, HBK_ENG_THICK_PEN);
    case HBK_TUNE_BAR_TICK:
        return draw_part_line(quill, x, 3.5, 1.0);
    case HBK_TUNE_BAR_SHORT:
        return draw_part_line(quill, x, 1.0, 2.0);
    case HBK_TUNE_BAR_INVISIBLE:
        return x;
    }
    return x;
}

double hbk_eng_draw_bar_line(const struct hbk_engraving *eng, size_t bar,
                             bool ends_line, struct hbk_quill *quill, double x)
{
    const struct hbk_tune *tune = eng->tune;
    const struct hbk_tune_bar *this = &tune->bars[bar];
    const bool goes_on = bar + 1 < eng->end_bar;
    const struct hbk_eng_change change = change_of_bar(tune, bar + 1);
    if (goes_on && change.clef != NULL) {
        x = draw_clef(change.clef, HBK_ENG_SMALL_CLEF, quill, x) + change_gap;
    }
    /* Key and meter come before the sign; hbk_eng_draw_change() draws it. */
    const bool begins = goes_on && !ends_line && this[1].repeat_start &&
                        change.key == NULL && change.meter == NULL;
    if (this->repeat_end > 0) {
        x = draw_repeat_end(quill, x);
        if (begins) {
            /* The thick line is shared. */
            x += HBK_ENG_BAR_GAP;
            x = draw_stroke(quill, x, HBK_ENG_BAR_PEN) + repeat_gap;
            draw_dots(quill, x);
            x += 2.0 * HBK_ENG_DOT_RADIUS;
        }
        return x;
    }
    /* A new key is announced by a double bar. */
    const bool is_double =
        goes_on && change.key != NULL && this->right == HBK_TUNE_BAR_PLAIN;
    return begins
               ? draw_repeat_start(quill, x)
               : draw_plain_line(is_double ? HBK_TUNE_BAR_DOUBLE : this->right,
                                 quill, x);
}

double hbk_eng_draw_prefix(const struct hbk_engraving *eng, size_t bar,
                           struct hbk_quill *quill, double x)
{
    const struct hbk_eng_bar *at = &eng->bars[bar];
    const struct hbk_tune *tune = eng->tune;
    const size_t event = at->n > 0
                             ? eng->notes[eng->columns[at->first].first].event
                             : tune->bars[at->bar].first;
    const size_t last = tune->n_events - 1;
    const size_t where = event > last ? last : event;
    const struct hbk_tune_clef *clef = hbk_tune_clef_at(tune, where);
    const struct hbk_tune_key *key = hbk_tune_key_at(tune, where);
    x = draw_clef(clef, 1.0, quill, x + clef_indent) + clef_gap;
    const struct hbk_eng_change change = change_of_bar(tune, at->bar);
    const bool new_key = at->opens && change.key != NULL;
    const double before = x;
    x = draw_key(key, new_key ? change.key_before : NULL, clef, quill, x);
    x += x > before ? key_gap : 0.0;
    if (bar == 0 || (at->opens && change.meter != NULL)) {
        const double from = x;
        x = draw_meter(hbk_tune_meter_at(tune, where), quill, x);
        x += x > from ? meter_gap : 0.0;
    }
    if (at->opens && tune->bars[at->bar].repeat_start) {
        x = draw_repeat_start(quill, x) + change_gap;
    }
    return x + first_gap;
}

double hbk_eng_draw_change(const struct hbk_engraving *eng, size_t bar,
                           bool is_courtesy, struct hbk_quill *quill, double x)
{
    const struct hbk_tune *tune = eng->tune;
    const struct hbk_eng_change change = change_of_bar(tune, bar);
    const double from = x;
    if (change.key != NULL) {
        x += change_gap;
        x = draw_key(change.key, change.key_before,
                     hbk_tune_clef_at(tune, change.key->event), quill, x);
    }
    if (change.meter != NULL) {
        x += change_gap;
        x = draw_meter(change.meter, quill, x);
    }
    if (x > from && !is_courtesy && tune->bars[bar].repeat_start) {
        return draw_repeat_start(quill, x + change_gap);
    }
    return x > from ? x + after_line - change_gap : x;
}

double hbk_eng_draw_change_within(const struct hbk_engraving *eng,
                                  const struct hbk_eng_column *column,
                                  struct hbk_quill *quill, double x)
{
    const struct hbk_tune *tune = eng->tune;
    const size_t n = column->n_graces + (column->has_main ? 1 : 0);
    for (size_t i = 0; i < n; i++) {
        const size_t event = eng->notes[column->first + i].event;
        const struct hbk_eng_change change = hbk_eng_change_at(tune, event);
        if (change.clef != NULL) {
            x = draw_clef(change.clef, HBK_ENG_SMALL_CLEF, quill, x) +
                change_gap;
        }
        if (change.key != NULL) {
            x = draw_key(change.key, change.key_before,
                         hbk_tune_clef_at(tune, event), quill, x) +
                change_gap;
        }
        if (change.meter != NULL) {
            x = draw_meter(change.meter, quill, x) + change_gap;
        }
    }
    return x;
}
