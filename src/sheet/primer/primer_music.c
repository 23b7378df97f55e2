#include "sheet/primer/primer_music.h"

#include "horn/about.h"
#include "horn/press.h"
#include "sheet/primer/primer_taught.h"
#include "tune/melody/transpose.h"

#include <math.h>
#include <string.h>

/* White between two lines of one piece, in heights of a staff. */
static const double between = 0.32;
/* By which it grows on a page that is not full. */
static const double stretch = 0.45;

struct hbk_figures hbk_figures_all(enum hbk_figured how)
{
    struct hbk_figures figures = {.is_usual = false};
    for (int note = 0; note <= HBK_NOTE_MAX; note++) {
        figures.of[note] = how;
    }
    return figures;
}

/* The figure; of a horn with nothing to press the partial, as on diagrams. */
static const char *label_of(struct hbk_arena *arena,
                            const struct hbk_horn *horn,
                            const struct hbk_fingering *first)
{
    char label[HBK_LABEL_SIZE];
    if (hbk_horn_n_controls(horn) == 0) {
        return hbk_arena_printf(arena, "%u", first->partial);
    }
    hbk_horn_press_label(horn, first->press, label);
    return hbk_arena_copy(arena, label, strlen(label));
}

/* Whether an event is a note and goes on, without a rest, to another. */
static bool goes_on(const struct hbk_tune *tune, size_t e)
{
    return e + 1 < tune->n_events && tune->events[e].kind != HBK_TUNE_REST &&
           tune->events[e + 1].kind != HBK_TUNE_REST;
}

static bool repeats(const struct hbk_tune *tune, size_t e)
{
    return goes_on(tune, e) && tune->events[e].note == tune->events[e + 1].note;
}

/* How a note is taken next to another, if a lesson told of that; else NULL. */
static const struct hbk_fingering *held_beside(const struct hbk_primer *primer,
                                               const struct hbk_pupil *pupil,
                                               int written, int other)
{
    const struct hbk_fingering *const usual =
        hbk_pupil_fingering(pupil, written);
    if (usual == NULL || hbk_pupil_fingering(pupil, other) == NULL) {
        return NULL;
    }
    const struct hbk_fingering *const as =
        hbk_primer_way(primer, pupil, written, other);
    return as == usual ? NULL : as;
}

/*
 * The fingering of an event that is not the first of its note, because a finger
 * stays down on the way to its neighbor or from it, as a lesson told; else
 * NULL. A note that is repeated keeps its fingering.
 */
static const struct hbk_fingering *held(const struct hbk_primer *primer,
                                        const struct hbk_pupil *pupil,
                                        const struct hbk_tune *tune, size_t e)
{
    const struct hbk_fingering *as = NULL;
    size_t first = e;
    size_t last = e;
    while (first > 0 && repeats(tune, first - 1)) {
        first--;
    }
    while (repeats(tune, last)) {
        last++;
    }
    const int written = tune->events[e].note;
    if (first > 0 && goes_on(tune, first - 1)) {
        as = held_beside(primer, pupil, written, tune->events[first - 1].note);
    }
    if (as == NULL && goes_on(tune, last)) {
        as = held_beside(primer, pupil, written, tune->events[last + 1].note);
    }
    return as;
}

static struct hbk_part_fingering *
fingerings_of(struct hbk_booklet *booklet, const struct hbk_tune *tune,
              const struct hbk_figures *figures)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_notes *const notes = booklet->primer->notes;
    struct hbk_figures left = *figures;
    struct hbk_pupil pupil;
    hbk_pupil_make(notes, notes->lowest, notes->highest, &pupil);
    struct hbk_part_fingering *const fingerings =
        HBK_ARENA_ARRAY(arena, struct hbk_part_fingering, tune->n_events + 1);
    for (size_t e = 0; e < tune->n_events; e++) {
        const struct hbk_tune_event *const event = &tune->events[e];
        const struct hbk_note *const note =
            event->kind == HBK_TUNE_REST ? NULL
                                         : hbk_notes_find(notes, event->note);
        if (note == NULL || note->n == 0) {
            fingerings[e].unreachable = event->kind != HBK_TUNE_REST;
            continue;
        }
        const struct hbk_fingering *const other =
            figures->is_usual ? NULL : held(booklet->primer, &pupil, tune, e);
        const struct hbk_fingering *const as =
            other != NULL ? other : &note->fingerings[0];
        fingerings[e].press = as->press;
        fingerings[e].label = label_of(arena, notes->horn, as);
        enum hbk_figured *const how = &left.of[event->note];
        const bool is_head = event->head == e;
        /* What is not the usual one is shown wherever the music has figures. */
        fingerings[e].shown =
            is_head &&
            (*how != HBK_FIGURED_NEVER ||
             (other != NULL && figures->of[event->note] != HBK_FIGURED_NEVER));
        if (*how == HBK_FIGURED_ONCE && is_head && other == NULL) {
            *how = HBK_FIGURED_NEVER;
        }
    }
    return fingerings;
}

const struct hbk_tune *hbk_booklet_read(struct hbk_booklet *booklet,
                                        const struct hbk_tune *tune)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_notation *const notation =
        &booklet->primer->notes->notation;
    struct hbk_tune *const read = HBK_ARENA_ARRAY(arena, struct hbk_tune, 1);
    if (hbk_tune_transposed(tune, notation->shift, arena, read) != HBK_OK) {
        *read = *tune;
    }
    struct hbk_tune_clef *const clef =
        HBK_ARENA_ARRAY(arena, struct hbk_tune_clef, 1);
    *clef = hbk_tune_clef_of(notation->clef);
    read->clefs = clef;
    read->n_clefs = 1;
    return read;
}

struct hbk_booklet_music hbk_booklet_engrave(struct hbk_booklet *booklet,
                                             const struct hbk_tune *tune,
                                             const struct hbk_figures *figures,
                                             double x, double width)
{
    const struct hbk_notes *const notes = booklet->primer->notes;
    const struct hbk_part_options options = {.paper = booklet->options->paper,
                                             .naming = notes->notation.naming};
    const struct hbk_part_frame frame = {x, width, booklet->staff};
    struct hbk_booklet_music music = {
        .music = hbk_part_music_engrave(&booklet->article.pad,
                                        hbk_booklet_read(booklet, tune),
                                        fingerings_of(booklet, tune, figures),
                                        &options, notes->horn, &frame)};
    const size_t n = hbk_part_music_lines(music.music);
    for (size_t i = 0; i < n; i++) {
        music.height += hbk_part_music_height(music.music, i) +
                        (i + 1 < n ? between * booklet->staff : 0.0);
    }
    return music;
}

double hbk_booklet_music_at(struct hbk_booklet *booklet,
                            const struct hbk_booklet_music *music, double y)
{
    const double top = y;
    const size_t n = hbk_part_music_lines(music->music);
    for (size_t i = 0; i < n; i++) {
        hbk_part_music_draw(&booklet->article.pad, music->music, i, y);
        y += hbk_part_music_height(music->music, i) +
             (i + 1 < n ? between * booklet->staff : 0.0);
    }
    return y - top;
}

/* Whether the page overleaf lies beside this one, in print on both sides. */
static bool is_left_page(const struct hbk_booklet *booklet)
{
    return booklet->article.pad.sheet->n_pages % 2 == 0;
}

double hbk_booklet_music_kept(const struct hbk_booklet *booklet,
                              const struct hbk_booklet_music *music,
                              double above)
{
    enum { KEPT = 2 };
    const struct hbk_article *const article = &booklet->article;
    const size_t n = hbk_part_music_lines(music->music);
    double kept = 0.0;
    for (size_t i = 0; i < n && i < KEPT; i++) {
        kept += hbk_part_music_height(music->music, i) +
                (i + 1 < KEPT ? between * booklet->staff : 0.0);
    }
    const double room = article->end - article->y - above;
    const bool may_part = n > KEPT && is_left_page(booklet) &&
                          room < music->height && room >= kept;
    return may_part ? kept : music->height;
}

void hbk_booklet_music(struct hbk_booklet *booklet,
                       const struct hbk_booklet_music *music)
{
    struct hbk_article *const article = &booklet->article;
    const double kept = hbk_booklet_music_kept(booklet, music, 0.0);
    /* What is longer than a page is broken anyway. */
    if (kept <= article->end - article->top) {
        hbk_booklet_room(booklet, kept);
    }
    const size_t n = hbk_part_music_lines(music->music);
    for (size_t i = 0; i < n; i++) {
        const double height = hbk_part_music_height(music->music, i);
        hbk_booklet_room(booklet, height);
        hbk_article_stretch(article, i > 0 ? stretch * booklet->staff : 0.0);
        hbk_part_music_draw(&article->pad, music->music, i, article->y);
        article->y += height + between * booklet->staff;
    }
    article->y += hbk_booklet_mm(booklet, 1.0);
}
