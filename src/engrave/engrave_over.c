#include "engrave/engrave_over.h"

#include "engrave/engrave_signposts.h"
#include "engrave/quill.h"

#include <math.h>
#include <string.h>

/* In staff spaces; common practice. */
static const double number_em = 1.75; /* of a tuplet */
static const double hook = 0.7;
static const double ending_tall = 2.1;
static const double ending_em = 1.7;
static const double bar_number_em = 1.5;
static const double apart = 0.5;

static struct hbk_style style_of(enum hbk_face face, double em,
                                 enum hbk_align align)
{
    const struct hbk_style style = {.face = face, .size = em, .align = align};
    return style;
}

/* Whether one beam covers the notes from first to last and no other. */
static bool beam_covers(const struct hbk_engraving *eng, size_t first,
                        size_t last)
{
    const size_t beam = eng->notes[first].beam;
    return beam != HBK_ENG_NONE && eng->beams[beam].first == first &&
           eng->beams[beam].first + eng->beams[beam].n - 1 == last;
}

static void draw_bracket(struct hbk_quill *quill, double x0, double x1,
                         double y, double dir, double gap)
{
    const double middle = 0.5 * (x0 + x1);
    const struct hbk_point left[3] = {
        {x0, y - dir * hook}, {x0, y}, {middle - gap, y}};
    const struct hbk_point right[3] = {
        {middle + gap, y}, {x1, y}, {x1, y - dir * hook}};
    hbk_quill_path(quill, 3, left, HBK_ENG_BRACKET_PEN);
    hbk_quill_path(quill, 3, right, HBK_ENG_BRACKET_PEN);
}

/* The part of a tuplet that stands on the line. */
static void draw_tuplet(struct hbk_eng_view *view, unsigned number,
                        bool has_bracket, size_t first, size_t last)
{
    const struct hbk_engraving *eng = view->eng;
    struct hbk_quill *quill = view->quill;
    const struct hbk_eng_note *a = &eng->notes[first];
    const struct hbk_eng_note *b = &eng->notes[last];
    const bool beamed = !has_bracket && beam_covers(eng, first, last);
    const double dir = beamed && !a->up ? -1.0 : 1.0;
    const double x0 = a->x - 0.1;
    const double x1 = b->x + b->width + 0.1;
    const char *text = hbk_arena_printf(eng->arena, "%u", number);
    const struct hbk_style style =
        style_of(HBK_FACE_BOLD, number_em, HBK_CENTRE);
    const double half = 0.5 * hbk_quill_width(quill, style, text);
    const double tall = 0.73 * number_em;
    double middle = 0.5 * (x0 + x1);
    hbk_pad_group(quill->pad);
    if (beamed) {
        middle = 0.5 * (eng->beams[a->beam].x0 + eng->beams[a->beam].x1);
        const double y =
            dir > 0.0 ? hbk_quill_top(quill, middle - half, middle + half) + 0.4
                      : hbk_quill_bottom(quill, middle - half, middle + half) -
                            0.4 - tall;
        hbk_quill_text(quill, middle, y, style, text);
        return;
    }
    const double y = hbk_quill_top(quill, x0, x1) + apart + hook;
    draw_bracket(quill, x0, x1, y, dir, half + 0.3);
    hbk_quill_text(quill, middle, y - 0.5 * tall, style, text);
}

/* The nest that a note is in; 0 for none. */
static unsigned nest_of(const struct hbk_engraving *eng, size_t note)
{
    const size_t tuplet = eng->notes[note].source->tuplet;
    return tuplet == HBK_TUNE_NONE ? 0 : eng->tune->tuplets[tuplet].nest;
}

/* Brackets over those that hold others, beyond those of the others. */
static void draw_outer(struct hbk_eng_view *view)
{
    const struct hbk_engraving *eng = view->eng;
    for (size_t i = view->first; i < view->end;) {
        const unsigned nest = nest_of(eng, i);
        size_t last = i;
        for (size_t k = i + 1; nest > 0 && k < view->end; k++) {
            if (eng->notes[k].scale < 1.0) {
                continue;
            }
            if (nest_of(eng, k) != nest) {
                break;
            }
            last = k;
        }
        if (nest > 0 && eng->notes[i].scale == 1.0) {
            const size_t tuplet = eng->notes[i].source->tuplet;
            draw_tuplet(view, eng->tune->tuplets[tuplet].outer, true, i, last);
        }
        i = last + 1;
    }
}

void hbk_eng_draw_tuplets(struct hbk_eng_view *view)
{
    const struct hbk_engraving *eng = view->eng;
    for (size_t i = view->first; i < view->end;) {
        const size_t tuplet = eng->notes[i].source->tuplet;
        if (tuplet == HBK_TUNE_NONE || eng->notes[i].scale < 1.0) {
            i++;
            continue;
        }
        size_t last = i;
        for (size_t k = i + 1; k < view->end; k++) {
            if (eng->notes[k].scale < 1.0) {
                continue;
            }
            if (eng->notes[k].source->tuplet != tuplet) {
                break;
            }
            last = k;
        }
        const struct hbk_tune_tuplet *const at = &eng->tune->tuplets[tuplet];
        if (at->nest == 0 || at->inner > 0) {
            draw_tuplet(view, at->nest == 0 ? at->actual : at->inner, false, i,
                        last);
        }
        i = last + 1;
    }
    draw_outer(view);
}

/* An ending: the bars it goes over on this line. */
struct ending {
    const char *label; /* NULL when it began on a line before */
    double x0, x1;
    bool stops; /* with a hook; else it stays open */
};

/* Whether a bar of the tune lies under an ending, and which. */
static bool under_ending(const struct hbk_tune *tune, size_t bar)
{
    for (size_t b = bar + 1; b-- > 0;) {
        if (b < bar && tune->bars[b].ending_stop) {
            return false;
        }
        if (tune->bars[b].ending != NULL) {
            return true;
        }
    }
    return false;
}

/* Takes an ending to the end of bar `b` of the line; whether it goes on. */
static bool extend_ending(const struct hbk_eng_view *view, size_t b,
                          struct ending *ending)
{
    const struct hbk_eng_bar *at = &view->eng->bars[b];
    const struct hbk_tune_bar *bar = &view->eng->tune->bars[at->last];
    const bool is_last = b + 1 == view->line->first + view->line->n;
    const bool stops = at->closes && bar->ending_stop;
    const bool repeats = bar->repeat_end > 0;
    const double line = at->end + (!at->closes ? 0.0 : repeats ? 1.1 : 0.1);
    ending->x1 = is_last ? fmax(line, at->end) : line;
    ending->stops = stops && (repeats || bar->right != HBK_TUNE_BAR_PLAIN);
    return !stops;
}

static size_t find_endings(struct hbk_eng_view *view, struct ending *endings)
{
    const struct hbk_engraving *eng = view->eng;
    const struct hbk_tune *tune = eng->tune;
    const size_t end = view->line->first + view->line->n;
    size_t n = 0;
    bool open = false;
    for (size_t b = view->line->first; b < end; b++) {
        const struct hbk_eng_bar *at = &eng->bars[b];
        const struct hbk_tune_bar *bar = &tune->bars[at->bar];
        const bool begins = at->opens && bar->ending != NULL;
        if (begins ||
            (!open && b == view->line->first && under_ending(tune, at->bar))) {
            const double x0 =
                b == view->line->first ? view->line->prefix - 1.2 : at->x - 0.2;
            if (n > 0) {
                endings[n - 1].x1 = fmin(endings[n - 1].x1, x0 - 0.3);
            }
            endings[n++] =
                (struct ending){.label = begins ? bar->ending : NULL, .x0 = x0};
            open = true;
        }
        if (open) {
            open = extend_ending(view, b, &endings[n - 1]);
        }
    }
    return n;
}

static void draw_endings(struct hbk_eng_view *view)
{
    struct hbk_quill *quill = view->quill;
    struct ending *endings =
        HBK_ARENA_ARRAY(view->eng->arena, struct ending, view->line->n + 1);
    const size_t n = find_endings(view, endings);
    double y = 4.0;
    for (size_t i = 0; i < n; i++) {
        y = fmax(y, hbk_quill_top(quill, endings[i].x0, endings[i].x1));
    }
    y += 0.4 + ending_tall;
    for (size_t i = 0; i < n; i++) {
        const struct ending *ending = &endings[i];
        hbk_pad_group(quill->pad);
        const double pen = HBK_ENG_BRACKET_PEN;
        hbk_quill_line(quill, ending->x0, y, ending->x1 - ending->x0, 0.0, pen);
        if (ending->label != NULL) {
            hbk_quill_line(quill, ending->x0 + 0.5 * pen, y, 0.0, -ending_tall,
                           pen);
            const char *text =
                hbk_arena_printf(view->eng->arena, "%s.", ending->label);
            hbk_quill_text(quill, ending->x0 + 0.7, y - 0.35 - 0.73 * ending_em,
                           style_of(HBK_FACE_PLAIN, ending_em, HBK_LEFT), text);
        }
        if (ending->stops) {
            hbk_quill_line(quill, ending->x1 - 0.5 * pen, y, 0.0, -ending_tall,
                           pen);
        }
    }
}

/* "3x" over a repeat that is played more than twice. */
static void draw_times(struct hbk_eng_view *view)
{
    const struct hbk_engraving *eng = view->eng;
    for (size_t b = view->line->first; b < view->line->first + view->line->n;
         b++) {
        const struct hbk_eng_bar *at = &eng->bars[b];
        const unsigned times = eng->tune->bars[at->last].repeat_end;
        if (!at->closes || times < 3) {
            continue;
        }
        const char *text = hbk_arena_printf(eng->arena, "%u\u00D7", times);
        const struct hbk_style style =
            style_of(HBK_FACE_PLAIN, ending_em, HBK_RIGHT);
        const double x = at->end + 2.0;
        const double wide = hbk_quill_width(view->quill, style, text);
        hbk_pad_group(view->quill->pad);
        hbk_quill_text(view->quill, x,
                       hbk_quill_top(view->quill, x - wide, x) + apart, style,
                       text);
    }
}

static void draw_bar_number(struct hbk_eng_view *view)
{
    const struct hbk_engraving *eng = view->eng;
    const struct hbk_eng_bar *at = &eng->bars[view->line->first];
    const char *number = eng->tune->bars[at->bar].number;
    if (number == NULL || number[0] == '\0' || strcmp(number, "1") == 0 ||
        strcmp(number, "0") == 0) {
        return;
    }
    const char *text =
        at->opens ? number : hbk_arena_printf(eng->arena, "(%s)", number);
    const struct hbk_style style =
        style_of(HBK_FACE_PLAIN, bar_number_em, HBK_LEFT);
    const double wide = hbk_quill_width(view->quill, style, text);
    hbk_pad_group(view->quill->pad);
    hbk_pad_read_as(view->quill->pad, ""); /* the notes say it */
    hbk_quill_text(view->quill, 0.0,
                   hbk_quill_top(view->quill, 0.0, wide) + 0.6, style, text);
    hbk_pad_read_as(view->quill->pad, NULL);
}

void hbk_eng_draw_over(struct hbk_eng_view *view)
{
    draw_endings(view);
    draw_times(view);
    hbk_eng_draw_signposts(view);
    draw_bar_number(view);
}
