#include "sheet/part/part_layout.h"

#include "engrave/engrave_dynamics.h"
#include "engrave/engrave_line.h"
#include "engrave/engrave_lyrics.h"
#include "engrave/engrave_notes.h"
#include "engrave/engrave_space.h"
#include "engrave/quill.h"

#include <math.h>

/* Collects and spaces the music with the fingerings in a shape. */
static void engrave(struct hbk_part_layout *part,
                    const struct hbk_part_excerpt *excerpt, bool labelled,
                    struct hbk_engraving *eng)
{
    *eng =
        (struct hbk_engraving){.arena = part->eng.arena,
                               .tune = part->eng.tune,
                               .naming = part->eng.naming,
                               .first_bar = excerpt->first_bar,
                               .other_tempo = part->options->other_tempo,
                               .end_bar = excerpt->first_bar + excerpt->n_bars};
    hbk_eng_collect(eng, labelled ? hbk_fingers_widths(&part->fingers,
                                                       &part->pad, part->space)
                                  : NULL);
    hbk_eng_measure_lyrics(eng, &part->pad, part->space);
    hbk_eng_space(eng, part->width / part->space);
}

static double width_of(const struct hbk_engraving *eng)
{
    double width = 0.0;
    for (size_t b = 0; b < eng->n_bars; b++) {
        width += eng->bars[b].lead + eng->bars[b].tail;
    }
    for (size_t i = 0; i < eng->n_columns; i++) {
        const struct hbk_eng_column *column = &eng->columns[i];
        width += fmax(column->least, HBK_ENG_LOOSE * column->ideal);
    }
    return width;
}

/* The music on one endless line, as loose as lines are on the average. */
static double natural_width(struct hbk_part_layout *part, bool labelled)
{
    double width = 0.0;
    for (size_t i = 0; i < part->shown.n; i++) {
        struct hbk_engraving eng;
        engrave(part, &part->shown.items[i], labelled, &eng);
        width += width_of(&eng);
    }
    return width;
}

/*
 * Numbers beside each other as players write them, unless they would push
 * the notes apart by more than this share. Few bars have room for more.
 */
static const double pushed_apart = 1.15;
static const double excerpts_apart = 1.6;

static void choose_shape(struct hbk_part_layout *part)
{
    struct hbk_fingers *fingers = &part->fingers;
    fingers->space = part->space;
    if (part->options->circles) {
        hbk_cells_arrange(fingers->horn, part->options->stuck, &fingers->cells);
        fingers->size = hbk_fingers_size(&fingers->cells, part->space);
        fingers->shape = HBK_FINGERS_CELLS;
        return;
    }
    fingers->shape = HBK_FINGERS_ROW;
    const double most =
        part->options->excerpts == NULL ? pushed_apart : excerpts_apart;
    if (natural_width(part, true) > most * natural_width(part, false)) {
        fingers->shape = HBK_FINGERS_STACK;
    }
}

/* Circles and crosses are no words: the note says what they mean instead. */
static void say_signs(const struct hbk_part_layout *part,
                      struct hbk_eng_view *view)
{
    for (size_t i = view->first; i < view->end; i++) {
        struct hbk_eng_note *note = &view->eng->notes[i];
        if (part->options->circles &&
            hbk_fingers_at(&part->fingers, note->event)) {
            note->says =
                hbk_fingers_said(&part->fingers, note->event, view->eng->arena);
        } else if (hbk_fingers_out(&part->fingers, note->event)) {
            note->says = "not available";
        }
    }
}

/* `begins` and `ends` are those of the row, to be filled. */
static void draw_row(struct hbk_part_layout *part, size_t number,
                     size_t *begins, size_t *ends)
{
    struct hbk_part_row *row = &part->rows[number];
    struct hbk_engraving *eng = row->eng;
    struct hbk_eng_line *line = &eng->lines[row->line];
    hbk_eng_place(eng, line);
    struct hbk_sheet scratch = {.arena = eng->arena};
    struct hbk_pad pad = {.sheet = &scratch,
                          .ruler = part->pad.ruler,
                          .groups = part->pad.groups};
    hbk_pad_page(&pad, part->paper, "");
    struct hbk_quill quill;
    hbk_quill_open(&quill, &pad, part->left, 0.0, part->space, line->room);
    struct hbk_eng_view view = {.eng = eng, .line = line, .quill = &quill};
    hbk_part_notes(eng, line, &view.first, &view.end);
    say_signs(part, &view);
    hbk_eng_draw_line(&view);
    /* Grids of hands are tall: dynamics go above them, but below numbers. */
    const bool is_tall = part->fingers.shape == HBK_FINGERS_CELLS;
    if (is_tall) {
        hbk_eng_draw_dynamics(&view, false);
    }
    const struct hbk_fingers_used used =
        hbk_fingers_draw(&part->fingers, &view, begins, ends);
    if (!is_tall) {
        hbk_eng_draw_dynamics(&view, false);
    }
    hbk_eng_draw_lyrics(&view);
    part->text.used.any |= used.any;
    part->text.used.departure |= used.departure;
    part->text.used.hard |= used.hard;
    part->text.used.unreachable |= used.unreachable;
    part->text.used.trill |= used.trill;
    part->text.used.no_trill |= used.no_trill;
    part->text.used.no_room |= used.no_room;
    part->text.used.others = used.others > part->text.used.others
                                 ? used.others
                                 : part->text.used.others;
    part->pad.groups = pad.groups;
    row->begins = begins;
    row->ends = ends;
    row->page = &scratch.pages[0];
    row->n_asides = view.n_asides;
    row->asides = view.asides;
    const double far = 1e6;
    row->head = row->opens == NULL
                    ? 0.0
                    : hbk_part_excerpt_head(&part->pad, &part->text, row->opens,
                                            false, 0.0, 0.0);
    row->above = row->head + hbk_quill_top(&quill, -far, far) * part->space;
    row->below = -hbk_quill_bottom(&quill, -far, far) * part->space;
}

/* Engraves an excerpt and draws its lines after those that are there. */
static void draw_excerpt(struct hbk_part_layout *part,
                         const struct hbk_part_excerpt *excerpt,
                         struct hbk_engraving *eng)
{
    struct hbk_arena *arena = part->eng.arena;
    const size_t n_events = part->eng.tune->n_events;
    size_t *begins = HBK_ARENA_ARRAY(arena, size_t, n_events + 1);
    size_t *ends = HBK_ARENA_ARRAY(arena, size_t, n_events + 1);
    engrave(part, excerpt, true, eng);
    hbk_eng_break(eng, part->width / part->space);
    const size_t before = part->n_rows;
    struct hbk_part_row *rows =
        HBK_ARENA_ARRAY(arena, struct hbk_part_row, before + eng->n_lines);
    for (size_t i = 0; i < before; i++) {
        rows[i] = part->rows[i];
    }
    part->rows = rows;
    for (size_t i = 0; i < eng->n_lines; i++) {
        rows[part->n_rows].eng = eng;
        rows[part->n_rows].line = i;
        rows[part->n_rows].opens =
            i == 0 && excerpt->heading != NULL ? excerpt : NULL;
        draw_row(part, part->n_rows++, begins, ends);
    }
}

void hbk_part_draw_rows(struct hbk_part_layout *part)
{
    struct hbk_engraving *engs = HBK_ARENA_ARRAY(
        part->eng.arena, struct hbk_engraving, part->shown.n + 1);
    choose_shape(part);
    part->text.used = (struct hbk_fingers_used){.any = false};
    part->n_rows = 0;
    for (size_t i = 0; i < part->shown.n; i++) {
        draw_excerpt(part, &part->shown.items[i], &engs[i]);
    }
}
