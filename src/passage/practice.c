#include "passage/practice.h"

#include "base/arena.h"

#include <string.h>

bool hbk_practice_is_trill(const struct hbk_passage_note *note)
{
    return note->wants_trill && note->trill.kind == HBK_TRILL_AWKWARD;
}

/* What one hard note asks for, or several that are looked at together. */
static struct hbk_practice_place bars_of(const struct hbk_passage_view *view,
                                         const struct hbk_passage_note *note)
{
    const struct hbk_tune_event *const events = view->tune->events;
    const size_t bar = events[note->event].bar;
    if (note->playable_quarters == 0.0) {
        return (struct hbk_practice_place){
            .hard = bar, .hard_end = bar + 1, .first = bar, .end = bar + 1};
    }
    const size_t from = events[view->passage->notes[note->before].event].bar;
    /* A repeat may come to it from afar. */
    const bool is_from_before = from + 1 == bar && from >= view->first;
    const size_t hard = is_from_before ? from : bar;
    return (struct hbk_practice_place){
        .hard = hard, .hard_end = bar + 1, .first = hard, .end = bar + 1};
}

static bool has_notes(const struct hbk_passage_view *view, size_t bar)
{
    const struct hbk_tune_bar *const of = &view->tune->bars[bar];
    for (size_t e = of->first; e < of->first + of->count; e++) {
        if (view->tune->events[e].kind == HBK_TUNE_NOTE) {
            return true;
        }
    }
    return false;
}

/* Whether a player who has played a bar reads on in the next one. */
static bool reads_on(const struct hbk_passage_view *view, size_t bar)
{
    const struct hbk_tune_bar *const bars = view->tune->bars;
    return bar >= view->first && bar + 1 < view->end &&
           bars[bar].repeat_end == 0 && !bars[bar].ending_stop &&
           bars[bar].jump == NULL && bars[bar].right != HBK_TUNE_BAR_FINAL &&
           !bars[bar + 1].repeat_start;
}

/* Adds a bar before what comes early in its bar, one after what comes late. */
static void lead(const struct hbk_passage_view *view,
                 const struct hbk_passage_note *note,
                 struct hbk_practice_place *place)
{
    const struct hbk_tune_event *const event = &view->tune->events[note->event];
    const struct hbk_tune_bar *const bar = &view->tune->bars[event->bar];
    const double into =
        hbk_ratio_value(event->onset) - hbk_ratio_value(bar->onset);
    const bool is_early = into < 0.5 * hbk_ratio_value(bar->length);
    const size_t before = place->hard - 1; /* wraps for none */
    if (is_early && place->hard + 1 == place->hard_end && place->hard > 0 &&
        reads_on(view, before) && has_notes(view, before)) {
        place->first = before;
    }
    if (!is_early && reads_on(view, event->bar) &&
        has_notes(view, place->hard_end)) {
        place->end = place->hard_end + 1;
    }
}

static size_t least(size_t a, size_t b)
{
    return a < b ? a : b;
}

static size_t most(size_t a, size_t b)
{
    return a > b ? a : b;
}

/* Takes a place into the one before it, where both are read together. */
static bool join(struct hbk_practice_place *a,
                 const struct hbk_practice_place *b)
{
    const size_t first = least(a->first, b->first);
    const size_t end = most(a->end, b->end);
    const bool is_within = b->hard >= a->hard && b->hard_end <= a->hard_end;
    const bool is_apart = b->first >= a->end && b->hard > a->hard_end;
    if (is_apart || (end - first > HBK_PRACTICE_BARS_MAX && !is_within)) {
        return false;
    }
    if (end - first <= HBK_PRACTICE_BARS_MAX) {
        a->first = first;
        a->end = end;
    }
    a->hard = least(a->hard, b->hard);
    a->hard_end = most(a->hard_end, b->hard_end);
    return true;
}

static const char *letter_at(const struct hbk_tune *tune, size_t bar)
{
    const char *letter = NULL;
    for (size_t i = 0; i < tune->marks.n; i++) {
        const struct hbk_tune_mark *const mark = &tune->marks.items[i];
        if (mark->kind == HBK_TUNE_MARK_REHEARSAL && mark->at.bar <= bar &&
            mark->text[0] != '\0') {
            letter = mark->text;
        }
    }
    return letter;
}

/* Whether two events are the same to play. */
static bool are_alike(const struct hbk_passage_view *view, size_t a, size_t b)
{
    const struct hbk_tune_event *const x = &view->tune->events[a];
    const struct hbk_tune_event *const y = &view->tune->events[b];
    const struct hbk_passage *const passage = view->passage;
    const size_t i = passage->note_of[a];
    const size_t k = passage->note_of[b];
    if (x->kind != y->kind || hbk_ratio_compare(x->length, y->length) != 0 ||
        (x->kind != HBK_TUNE_REST && x->note != y->note) ||
        (i == HBK_TUNE_NONE) != (k == HBK_TUNE_NONE)) {
        return false;
    }
    return i == HBK_TUNE_NONE ||
           (passage->notes[i].taken == passage->notes[k].taken &&
            passage->notes[i].wants_trill == passage->notes[k].wants_trill &&
            (passage->notes[i].playable_quarters > 0.0) ==
                (passage->notes[k].playable_quarters > 0.0) &&
            passage->notes[i].quarters == passage->notes[k].quarters);
}

/* Whether a place brings what an earlier one has. */
static bool is_again(const struct hbk_passage_view *view,
                     const struct hbk_practice_place *place,
                     const struct hbk_practice_place *earlier)
{
    const struct hbk_tune_bar *const bars = view->tune->bars;
    const size_t n = place->hard_end - place->hard;
    if (earlier->hard_end - earlier->hard != n) {
        return false;
    }
    for (size_t b = 0; b < n; b++) {
        const struct hbk_tune_bar *const x = &bars[place->hard + b];
        const struct hbk_tune_bar *const y = &bars[earlier->hard + b];
        if (x->count != y->count) {
            return false;
        }
        for (size_t e = 0; e < x->count; e++) {
            if (!are_alike(view, x->first + e, y->first + e)) {
                return false;
            }
        }
    }
    return true;
}

/* Keeps what comes first and notes where it comes again; returns how many. */
static size_t gather_again(const struct hbk_passage_view *view,
                           struct hbk_practice_place places[], size_t n,
                           struct hbk_arena *arena)
{
    size_t kept = 0;
    for (size_t i = 0; i < n; i++) {
        size_t k = 0;
        while (k < kept && !is_again(view, &places[i], &places[k])) {
            k++;
        }
        if (k == kept) {
            places[kept++] = places[i];
            continue;
        }
        size_t *const again =
            HBK_ARENA_ARRAY(arena, size_t, places[k].n_again + 1);
        for (size_t a = 0; a < places[k].n_again; a++) {
            again[a] = places[k].again[a];
        }
        again[places[k].n_again++] = places[i].hard;
        places[k].again = again;
    }
    return kept;
}

const struct hbk_practice_place *
hbk_practice_find(const struct hbk_passage_view *view, struct hbk_arena *arena,
                  size_t *n)
{
    const struct hbk_passage *const passage = view->passage;
    struct hbk_practice_place *const places =
        HBK_ARENA_ARRAY(arena, struct hbk_practice_place, passage->n + 1);
    *n = 0;
    for (size_t i = 0; i < passage->n; i++) {
        const struct hbk_passage_note *const note = &passage->notes[i];
        if ((note->playable_quarters > 0.0 || hbk_practice_is_trill(note)) &&
            hbk_passage_in_bars(view, note->event)) {
            struct hbk_practice_place place = bars_of(view, note);
            lead(view, note, &place);
            if (*n == 0 || !join(&places[*n - 1], &place)) {
                places[(*n)++] = place;
            }
        }
    }
    for (size_t i = 0; i < *n; i++) {
        places[i].letter = letter_at(view->tune, places[i].hard);
    }
    *n = gather_again(view, places, *n, arena);
    return places;
}

void hbk_practice_only(struct hbk_passage_view *view, struct hbk_arena *arena)
{
    size_t n = 0;
    const struct hbk_practice_place *const places =
        hbk_practice_find(view, arena, &n);
    bool *const practised =
        HBK_ARENA_ARRAY(arena, bool, view->tune->n_bars + 1);
    for (size_t i = 0; i < n; i++) {
        for (size_t b = places[i].first; b < places[i].end; b++) {
            practised[b] = true;
        }
    }
    view->practised = practised;
}

struct hbk_passage_view
hbk_practice_view(const struct hbk_passage_view *view,
                  const struct hbk_practice_place *place)
{
    struct hbk_passage_view narrow = *view;
    narrow.first = place->hard;
    narrow.end = place->hard_end;
    return narrow;
}
