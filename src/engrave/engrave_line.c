#include "engrave/engrave_line.h"

#include "engrave/engrave_beam.h"
#include "engrave/engrave_dynamics.h"
#include "engrave/engrave_ink.h"
#include "engrave/engrave_marks.h"
#include "engrave/engrave_over.h"
#include "engrave/engrave_signs.h"
#include "engrave/engrave_slurs.h"
#include "engrave/engrave_spots.h"
#include "engrave/quill.h"

static void draw_staff(struct hbk_eng_view *view)
{
    struct hbk_quill *quill = view->quill;
    quill->pad->group = HBK_GROUP_STAFF;
    for (int i = 0; i < 5; i++) {
        hbk_quill_line(quill, 0.0, i, view->line->width, 0.0,
                       HBK_ENG_STAFF_PEN);
    }
}

static void draw_signs(struct hbk_eng_view *view)
{
    const struct hbk_engraving *eng = view->eng;
    struct hbk_quill *quill = view->quill;
    const size_t end = view->line->first + view->line->n;
    hbk_pad_group(quill->pad);
    hbk_eng_draw_prefix(eng, view->line->first, quill, 0.0);
    for (size_t b = view->line->first; b < end; b++) {
        const struct hbk_eng_bar *bar = &eng->bars[b];
        hbk_pad_group(quill->pad);
        if (b > view->line->first && bar->opens) {
            hbk_eng_draw_change(eng, bar->bar, false, quill, bar->x);
        }
        for (size_t i = bar->first; i < bar->first + bar->n; i++) {
            const struct hbk_eng_column *column = &eng->columns[i];
            if (column->changes) {
                hbk_pad_group(quill->pad);
                hbk_eng_draw_change_within(eng, column, quill,
                                           column->x - column->left +
                                               HBK_ENG_CHANGE_GAP);
            }
        }
        if (!bar->closes) {
            continue;
        }
        hbk_pad_group(quill->pad);
        const double x = hbk_eng_draw_bar_line(eng, bar->last, b + 1 == end,
                                               quill, bar->end);
        if (b + 1 == end && view->line->courtesy > 0.0) {
            hbk_eng_draw_change(eng, bar->last + 1, true, quill, x);
        }
    }
}

static void draw_notes(struct hbk_eng_view *view)
{
    struct hbk_engraving *eng = view->eng;
    struct hbk_pad *pad = view->quill->pad;
    for (size_t i = view->first; i < view->end; i++) {
        struct hbk_eng_note *note = &eng->notes[i];
        note->marks_from = hbk_pad_last(pad)->n;
        if (note->beam == HBK_ENG_NONE) {
            hbk_pad_group(pad);
            hbk_eng_draw_note(view, note);
            hbk_eng_draw_near_marks(view, note);
            note->marks = hbk_pad_last(pad)->n;
            continue;
        }
        struct hbk_eng_beam *beam = &eng->beams[note->beam];
        if (beam->first == i) {
            hbk_eng_slant(eng, beam);
            hbk_pad_group(pad);
            beam->group = pad->group;
        }
        pad->group = beam->group;
        hbk_eng_draw_note(view, note);
        hbk_eng_draw_near_marks(view, note);
        note->marks = hbk_pad_last(pad)->n;
        if (beam->first + beam->n - 1 == i) {
            hbk_eng_draw_beam(view, beam);
        }
    }
}

void hbk_eng_draw_line(struct hbk_eng_view *view)
{
    hbk_eng_find_marks(view);
    draw_staff(view);
    draw_signs(view);
    draw_notes(view);
    hbk_eng_draw_slurs(view);
    hbk_eng_draw_tuplets(view);
    for (size_t i = view->first; i < view->end; i++) {
        hbk_pad_group(view->quill->pad);
        hbk_eng_draw_far_marks(view, &view->eng->notes[i]);
    }
    hbk_eng_draw_dynamics(view, true);
    hbk_eng_draw_over(view);
}
