#include "engrave/engrave_notes.h"

#include "engrave/engrave_beam.h"
#include "engrave/engrave_pitch.h"
#include "engrave/engrave_rests.h"
#include "engrave/engrave_shape.h"
#include "engrave/engrave_signs.h"
#include "engrave/engrave_spots.h"

#include <math.h>

/* In staff spaces; gaps by common practice. */
static const double rest_width = 1.2; /* of a whole or half rest */
static const double grace_gap = 0.35;
static const double caesura_room = 1.9;

static void shape_rest(const struct hbk_tune_bar *bar,
                       struct hbk_eng_note *note, int value)
{
    note->pos = 4;
    note->drawn = !note->source->hidden && value != HBK_TUNE_NO_VALUE;
    /* Whatever the meter, a whole rest stands for a whole bar. */
    note->fills_bar =
        note->source->whole_bar || (bar->count == 1 && !bar->implicit);
    if (value < 2 || note->fills_bar) {
        note->width = value < 0 ? 0.6 : rest_width;
        return;
    }
    note->head = HBK_GLYPH_REST_4 + (uint32_t)(value > 7 ? 5 : value - 2);
    note->width = hbk_glyph_box(note->head).width;
}

static void shape(struct hbk_engraving *eng, struct hbk_eng_note *note)
{
    const struct hbk_tune_event *event = note->source;
    const int value = event->value;
    note->beam = HBK_ENG_NONE;
    note->drawn = true;
    note->scale = event->kind == HBK_TUNE_GRACE ? HBK_ENG_GRACE : 1.0;
    if (event->kind == HBK_TUNE_REST) {
        shape_rest(&eng->tune->bars[event->bar], note, value);
        return;
    }
    note->pos = hbk_spelling_staff_step(event->spelling) -
                hbk_eng_bottom_step(hbk_tune_clef_at(eng->tune, note->event));
    hbk_eng_shape_head(note, value);
}

/* Ledger lines reach beyond the head; less beside an accidental. */
static double ledger_beyond(const struct hbk_eng_note *note)
{
    return hbk_eng_ledger_lines(note->pos) == 0 || note->head == 0
               ? 0.0
               : note->scale * HBK_ENG_LEDGER_BEYOND;
}

static void measure(struct hbk_eng_note *note)
{
    const bool is_rest = note->source->kind == HBK_TUNE_REST;
    const double beyond = is_rest ? 0.0 : ledger_beyond(note);
    note->left = fmax(hbk_eng_sign_room(note), note->sign ? 0.0 : beyond);
    note->right = note->width + beyond;
    if (note->source->dots > 0 && !note->fills_bar) {
        const double dots = HBK_ENG_DOT_GAP + 2.0 * HBK_ENG_DOT_RADIUS +
                            (double)(note->source->dots - 1) * HBK_ENG_NEXT_DOT;
        note->right = fmax(note->right, note->width + note->scale * dots);
    }
    if (note->flags > 0 && note->beam == HBK_ENG_NONE && note->up) {
        note->right =
            fmax(note->right, note->width + note->scale * HBK_ENG_FLAG_REACH);
    }
    if ((note->source->articulation & HBK_TUNE_BREATH) != 0) {
        note->right += 1.1;
    }
    if ((note->source->articulation & HBK_TUNE_CAESURA) != 0) {
        note->right += caesura_room;
    }
}

/* Stands grace notes one after the other; returns the room they take. */
static double stand_graces(struct hbk_engraving *eng,
                           const struct hbk_eng_column *column, double from)
{
    double x = from;
    for (size_t i = column->n_graces; i-- > 0;) {
        struct hbk_eng_note *note = &eng->notes[column->first + i];
        const double label = 0.5 * (note->label - note->width);
        x -= grace_gap + fmax(note->right, note->width + label);
        note->x = x; /* relative to the anchor until the column is placed */
        x -= fmax(note->left, label);
    }
    return -x;
}

static void measure_column(struct hbk_engraving *eng,
                           struct hbk_eng_column *column)
{
    const size_t n = column->n_graces + (column->has_main ? 1 : 0);
    for (size_t i = 0; i < n; i++) {
        measure(&eng->notes[column->first + i]);
    }
    const struct hbk_eng_note *main = &eng->notes[column->first + n - 1];
    if (column->has_main) {
        const double label = 0.5 * (main->label - main->width);
        const bool both = column->n_graces > 0;
        const double own = both ? fmax(main->left, label) : main->left;
        column->left = own;
        column->right = main->right;
        if (both) {
            column->left = fmax(own, stand_graces(eng, column, -own - 0.15));
        }
    } else {
        column->left = stand_graces(eng, column, 0.0);
        column->right = 0.0;
    }
    if (column->changes) {
        column->left += HBK_ENG_CHANGE_GAP +
                        hbk_eng_draw_change_within(eng, column, NULL, 0.0);
    }
}

static struct hbk_eng_column *open_column(struct hbk_engraving *eng)
{
    struct hbk_eng_column *column = &eng->columns[eng->n_columns++];
    column->first = eng->n_notes;
    return column;
}

/* Bars from `number` on: one, or several of rest. */
static void collect_bar(struct hbk_engraving *eng, size_t number, size_t n,
                        const double *labels)
{
    const struct hbk_tune_bar *bar = &eng->tune->bars[number];
    struct hbk_eng_bar *out = &eng->bars[eng->n_bars++];
    *out = (struct hbk_eng_bar){.bar = number,
                                .last = number + n - 1,
                                .first = eng->n_columns,
                                .opens = true,
                                .closes = true};
    for (size_t i = bar->first; i < bar[n - 1].first + bar[n - 1].count; i++) {
        eng->note_of[i] = eng->n_notes; /* bars of rest have one for all */
    }
    struct hbk_eng_column *column = NULL;
    for (size_t i = bar->first; i < bar->first + bar->count; i++) {
        const struct hbk_tune_event *event = &eng->tune->events[i];
        if (column == NULL) {
            column = open_column(eng);
            out->n++;
        }
        const struct hbk_eng_change change = hbk_eng_change_at(eng->tune, i);
        if (i > bar->first && (change.clef != NULL || change.key != NULL ||
                               change.meter != NULL)) {
            column->changes = true;
        }
        eng->note_of[i] = eng->n_notes;
        struct hbk_eng_note *note = &eng->notes[eng->n_notes++];
        note->event = i;
        note->source = event;
        note->n_bars = n;
        note->label = labels == NULL ? 0.0 : labels[i];
        shape(eng, note);
        if (event->kind == HBK_TUNE_GRACE) {
            column->n_graces++;
        } else {
            column->has_main = true;
            column = NULL;
        }
    }
}

void hbk_eng_collect(struct hbk_engraving *eng, const double *labels)
{
    const struct hbk_tune *tune = eng->tune;
    struct hbk_arena *arena = eng->arena;
    const size_t n = tune->n_events;
    eng->note_of = HBK_ARENA_ARRAY(arena, size_t, n + 1);
    eng->notes = HBK_ARENA_ARRAY(arena, struct hbk_eng_note, n + 1);
    eng->columns = HBK_ARENA_ARRAY(arena, struct hbk_eng_column, n + 1);
    eng->bars = HBK_ARENA_ARRAY(arena, struct hbk_eng_bar,
                                eng->end_bar - eng->first_bar + n + 1);
    for (size_t i = 0; i <= n; i++) {
        eng->note_of[i] = HBK_ENG_NONE;
    }
    const size_t *rests = hbk_eng_gather_rests(eng);
    for (size_t b = eng->first_bar; b < eng->end_bar; b += rests[b]) {
        collect_bar(eng, b, rests[b], labels);
    }
    hbk_eng_find_long_marks(eng);
    hbk_eng_accidentals(eng);
    hbk_eng_beams(eng);
    for (size_t i = 0; i < eng->n_columns; i++) {
        measure_column(eng, &eng->columns[i]);
    }
}
