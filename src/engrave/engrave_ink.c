#include "engrave/engrave_ink.h"

#include "engrave/engrave_beam.h"
#include "engrave/engrave_marks.h"
#include "engrave/engrave_rests.h"
#include "engrave/engrave_shape.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

/* In staff spaces; common practice. */
static const double stem_foot = 0.168; /* SMuFL: where a stem joins a head */
static const double stub = 1.1;        /* a beam that reaches one note only */
static const double beside_sign = 0.1;
static const double beat_scale = 0.7; /* of a metronome mark */

static double side_of(bool up)
{
    return up ? 1.0 : -1.0;
}

static void draw_paren(struct hbk_quill *quill, double x, double y,
                       double scale, bool opens)
{
    const double tall = 1.25 * scale;
    const double out = (opens ? -0.42 : 0.42) * scale;
    const double in = (opens ? -0.26 : 0.26) * scale;
    const struct hbk_point band[8] = {{x, y + tall},
                                      {x + out, y + 0.4 * tall},
                                      {x + out, y - 0.4 * tall},
                                      {x, y - tall},
                                      {x, y - tall},
                                      {x + in, y - 0.4 * tall},
                                      {x + in, y + 0.4 * tall},
                                      {x, y + tall}};
    hbk_quill_band(quill, band);
}

static void draw_sign(struct hbk_quill *quill, const struct hbk_eng_note *note)
{
    const double y = hbk_eng_y(note->pos);
    const double s = note->scale;
    double x = note->x - hbk_eng_sign_room(note);
    if (note->bracketed) {
        const double middle = y + 0.5 * s *
                                      (hbk_glyph_box(note->sign).top +
                                       hbk_glyph_box(note->sign).bottom);
        x += 0.4 * s;
        draw_paren(quill, x, middle, s, true);
        x += 0.15 * s;
        hbk_quill_glyph(quill, x, y, s, note->sign, "");
        x += (hbk_glyph_box(note->sign).width + 0.15) * s;
        draw_paren(quill, x, middle, s, false);
    } else {
        hbk_quill_glyph(quill, x, y, s, note->sign, "");
    }
}

static void draw_ledger_lines(struct hbk_quill *quill,
                              const struct hbk_eng_note *note)
{
    const int n = hbk_eng_ledger_lines(note->pos);
    const double s = note->scale;
    const double left = (note->sign == 0 ? HBK_ENG_LEDGER_BEYOND : beside_sign);
    const double width = note->width + s * (left + HBK_ENG_LEDGER_BEYOND);
    for (int i = 1; i <= n; i++) {
        hbk_quill_line(quill, note->x - s * left, 4.0 + i, width, 0.0,
                       HBK_ENG_LEDGER_PEN);
    }
    for (int i = -1; i >= n; i--) {
        hbk_quill_line(quill, note->x - s * left, i, width, 0.0,
                       HBK_ENG_LEDGER_PEN);
    }
}

static void draw_dots(struct hbk_quill *quill, const struct hbk_eng_note *note,
                      double y)
{
    for (unsigned i = 0; i < note->source->dots; i++) {
        const double x = note->width +
                         note->scale * (HBK_ENG_DOT_GAP + i * HBK_ENG_NEXT_DOT +
                                        HBK_ENG_DOT_RADIUS);
        hbk_quill_disc(quill, note->x + x, y, note->scale * HBK_ENG_DOT_RADIUS);
    }
}

static void draw_rest(struct hbk_eng_view *view,
                      const struct hbk_eng_note *note)
{
    struct hbk_quill *quill = view->quill;
    if (note->n_bars > 1) {
        hbk_eng_draw_rests(view, note);
        return;
    }
    if (note->head != 0) {
        hbk_quill_glyph(quill, note->x, 2.0, 1.0, note->head, NULL);
    } else if (note->source->value < 0) {
        hbk_quill_block(quill, note->x, 2.0, note->width, 1.0);
    } else {
        /* A whole rest hangs from line 4, a half rest sits on line 3. */
        const bool is_whole = note->fills_bar || note->source->value == 0;
        hbk_quill_block(quill, note->x, is_whole ? 2.5 : 2.0, note->width, 0.5);
    }
    if (!note->fills_bar) {
        draw_dots(quill, note, 2.5);
    }
}

/* A flag hanging from y towards the head; `full` when it is the only one. */
static void draw_flag(struct hbk_quill *quill, const struct hbk_eng_note *note,
                      double x, double y, bool full)
{
    const double s = note->scale;
    const double d = -side_of(note->up) * s;
    const double v = d * (full ? 1.0 : 0.76);
    const struct hbk_point band[8] = {{x, y},
                                      {x + 0.12 * s, y + 0.90 * v},
                                      {x + 1.30 * s, y + 1.30 * v},
                                      {x + 0.72 * s, y + 2.75 * v},
                                      {x + 0.72 * s, y + 2.75 * v},
                                      {x + 1.00 * s, y + 1.75 * v},
                                      {x + 0.60 * s, y + 1.20 * v},
                                      {x, y + 0.90 * v}};
    hbk_quill_band(quill, band);
}

static void draw_stem(struct hbk_quill *quill, struct hbk_eng_note *note)
{
    const double s = note->scale;
    const double side = side_of(note->up);
    const double head = hbk_eng_y(note->pos);
    if (note->beam == HBK_ENG_NONE) {
        note->tip = head + side * s * hbk_eng_stem_length(note->flags);
        if (s == 1.0 && abs(hbk_eng_ledger_lines(note->pos)) > 1) {
            /* To the middle line at least. */
            note->tip = note->up ? fmax(note->tip, 2.0) : fmin(note->tip, 2.0);
        }
    }
    const double pen = HBK_ENG_STEM_PEN * (s < 1.0 ? 0.8 : 1.0);
    const double x = note->x + hbk_eng_stem_x(note) - 0.5 * pen;
    const double foot = head + side * s * stem_foot;
    hbk_quill_block(quill, x, fmin(foot, note->tip), pen,
                    fabs(note->tip - foot));
    if (note->beam != HBK_ENG_NONE) {
        return;
    }
    for (unsigned i = 0; i < note->flags; i++) {
        const double y = note->tip - side * s * HBK_ENG_BEAM_STEP * i;
        draw_flag(quill, note, x + 0.5 * pen, y, note->flags == 1);
    }
}

/* Through the stem and flag or beam of a short grace note. */
static void draw_slash(struct hbk_quill *quill, const struct hbk_eng_note *note)
{
    const double s = note->scale;
    const double x = note->x + hbk_eng_stem_x(note);
    hbk_quill_line(quill, x - 0.75 * s, note->tip - 2.0 * s, 1.9 * s, 1.55 * s,
                   0.13);
}

/* "bar 3: " before the first note of a bar; "" before every other. */
static const char *bar_said(const struct hbk_eng_view *view,
                            const struct hbk_eng_note *note)
{
    const struct hbk_tune *const tune = view->eng->tune;
    const struct hbk_tune_bar *const bar = &tune->bars[note->source->bar];
    for (size_t e = bar->first; e < bar->first + bar->count; e++) {
        if (tune->events[e].kind != HBK_TUNE_REST) {
            return e != note->event ? ""
                                    : hbk_arena_printf(view->eng->arena,
                                                       "bar %s: ", bar->number);
        }
    }
    return "";
}

void hbk_eng_draw_note(struct hbk_eng_view *view, struct hbk_eng_note *note)
{
    struct hbk_quill *quill = view->quill;
    if (!note->drawn) {
        return;
    }
    if (note->source->kind == HBK_TUNE_REST) {
        draw_rest(view, note);
        return;
    }
    if (note->sign != 0) {
        draw_sign(quill, note);
    }
    draw_ledger_lines(quill, note);
    char name[HBK_NAME_SIZE];
    hbk_spelling_said(note->source->spelling, view->eng->naming, HBK_UNICODE,
                      name);
    /* So that names do not run together when they are read out. */
    const char *reads = hbk_arena_printf(
        view->eng->arena, "%s%s%s%s %s%s", bar_said(view, note),
        hbk_eng_marks_said(view->eng->arena, note->source->articulation), name,
        (note->source->articulation & HBK_TUNE_CAESURA) != 0  ? ", break"
        : (note->source->articulation & HBK_TUNE_BREATH) != 0 ? ", breath"
                                                              : "",
        note->says == NULL ? "" : note->says, note->says == NULL ? "" : " ");
    hbk_quill_glyph(quill, note->x, hbk_eng_y(note->pos), note->scale,
                    note->head, reads);
    draw_dots(quill, note,
              note->scale < 1.0 ? hbk_eng_y(note->pos)
                                : hbk_eng_dot_y(note->pos));
    if (note->has_stem) {
        draw_stem(quill, note);
    }
    if (note->source->slash && note->scale < 1.0 &&
        (note->beam == HBK_ENG_NONE || view->eng->beams[note->beam].first ==
                                           (size_t)(note - view->eng->notes))) {
        draw_slash(quill, note);
    }
}

/* The length of a beat, to be read out. */
static const char *beat_name(int value)
{
    static const char *const names[] = {"double whole", "whole",  "half",
                                        "quarter",      "eighth", "16th"};
    return value < 5 ? names[value + 1] : "short";
}

double hbk_eng_draw_beat(struct hbk_quill *quill, int value, unsigned dots,
                         double x, int pos)
{
    const struct hbk_tune_event beat = {.value = value, .dots = dots};
    struct hbk_eng_note note = {
        .source = &beat,
        .scale = beat_scale,
        .pos = pos,
        .beam = HBK_ENG_NONE,
        .x = x,
        .up = true,
    };
    hbk_eng_shape_head(&note, value);
    const double dotted =
        dots > 0
            ? note.scale * (HBK_ENG_DOT_GAP + (dots - 1) * HBK_ENG_NEXT_DOT +
                            2.0 * HBK_ENG_DOT_RADIUS)
            : 0.0;
    const double flagged =
        note.flags > 0 ? note.scale * HBK_ENG_FLAG_REACH : 0.0;
    if (quill != NULL) {
        char name[40];
        snprintf(name, sizeof(name), "%s%s ", dots > 0 ? "dotted " : "",
                 beat_name(value));
        hbk_quill_glyph(quill, x, hbk_eng_y(pos), note.scale, note.head, name);
        draw_dots(quill, &note, hbk_eng_y(pos));
        if (note.has_stem) {
            draw_stem(quill, &note);
        }
    }
    return note.width + fmax(dotted, flagged);
}

/* One beam between two x, `level` counted from the outermost. */
static void draw_bar(struct hbk_quill *quill, const struct hbk_eng_beam *beam,
                     double scale, unsigned level, double x0, double x1)
{
    const double down = -side_of(beam->up) * scale * HBK_ENG_BEAM_STEP * level;
    const double half = 0.5 * HBK_ENG_BEAM * scale;
    const double y0 = hbk_eng_beam_y(beam, x0) + down;
    const double y1 = hbk_eng_beam_y(beam, x1) + down;
    const struct hbk_point shape[4] = {
        {x0, y0 + half}, {x1, y1 + half}, {x1, y1 - half}, {x0, y0 - half}};
    hbk_quill_shape(quill, 4, shape);
}

/* Notes under a beam, without the grace notes between them. */
struct under {
    size_t n;
    const struct hbk_eng_note **notes;
};

static bool crosses_beat(const struct hbk_engraving *eng,
                         const struct hbk_eng_note *a,
                         const struct hbk_eng_note *b)
{
    if (a->scale < 1.0 || a->source->tuplet != HBK_TUNE_NONE) {
        return false;
    }
    const struct hbk_tune_meter *meter = hbk_tune_meter_at(eng->tune, a->event);
    const bool compound = meter->beats % 3 == 0 && meter->unit >= 8;
    const double beat = compound ? 3.0 / meter->unit : 0.25;
    const double from = hbk_eng_time_in_bar(eng->tune, a->source);
    const double to = hbk_eng_time_in_bar(eng->tune, b->source);
    return floor(from / beat + 1e-6) != floor(to / beat + 1e-6);
}

/* Whether a note alone at a level turns its stub back to the note before. */
static bool turns_back(const struct hbk_engraving *eng,
                       const struct under *under, size_t i)
{
    if (i == 0 || i + 1 == under->n) {
        return i > 0;
    }
    const struct hbk_eng_note *note = under->notes[i];
    if (crosses_beat(eng, under->notes[i - 1], note)) {
        return false;
    }
    return crosses_beat(eng, note, under->notes[i + 1]) ||
           under->notes[i - 1]->source->dots > 0 ||
           under->notes[i - 1]->flags >= under->notes[i + 1]->flags;
}

static void draw_level(struct hbk_eng_view *view, struct hbk_eng_beam *beam,
                       const struct under *under, unsigned level)
{
    const struct hbk_engraving *eng = view->eng;
    const double half = 0.5 * HBK_ENG_STEM_PEN;
    size_t i = 0;
    while (i < under->n) {
        if (under->notes[i]->flags <= level) {
            i++;
            continue;
        }
        size_t last = i;
        while (last + 1 < under->n && under->notes[last + 1]->flags > level &&
               (level == 0 || !crosses_beat(eng, under->notes[last],
                                            under->notes[last + 1]))) {
            last++;
        }
        const struct hbk_eng_note *a = under->notes[i];
        const struct hbk_eng_note *b = under->notes[last];
        double x0 = a->x + hbk_eng_stem_x(a);
        double x1 = b->x + hbk_eng_stem_x(b);
        if (last == i) {
            const double reach = stub * a->scale;
            x0 -= turns_back(eng, under, i) ? reach : 0.0;
            x1 += turns_back(eng, under, i) ? 0.0 : reach;
        }
        draw_bar(view->quill, beam, a->scale, level, x0 - half, x1 + half);
        i = last + 1;
    }
}

void hbk_eng_draw_beam(struct hbk_eng_view *view, struct hbk_eng_beam *beam)
{
    struct hbk_engraving *eng = view->eng;
    struct under under = {
        0, HBK_ARENA_ARRAY(eng->arena, const struct hbk_eng_note *, beam->n)};
    unsigned levels = 0;
    for (size_t i = beam->first; i < beam->first + beam->n; i++) {
        const struct hbk_eng_note *note = &eng->notes[i];
        if (note->beam == (size_t)(beam - eng->beams)) {
            under.notes[under.n++] = note;
            levels = note->flags > levels ? note->flags : levels;
        }
    }
    for (unsigned level = 0; level < levels; level++) {
        draw_level(view, beam, &under, level);
    }
}
