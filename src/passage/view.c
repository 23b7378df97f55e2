#include "passage/view.h"

bool hbk_passage_in_bars(const struct hbk_passage_view *view, size_t event)
{
    const size_t bar = view->tune->events[event].bar;
    return bar >= view->first && bar < view->end;
}

bool hbk_passage_shows(const struct hbk_passage_view *view, size_t event)
{
    const size_t i = view->passage->note_of[event];
    if (!hbk_passage_in_bars(view, event) ||
        (view->practised != NULL &&
         !view->practised[view->tune->events[event].bar])) {
        return false;
    }
    return !view->only_departures || i == HBK_TUNE_NONE ||
           view->passage->notes[i].taken > 0;
}

bool hbk_passage_is_out(const struct hbk_passage *passage, size_t event)
{
    size_t low = 0;
    size_t high = passage->n_out;
    while (low < high) {
        const size_t middle = low + (high - low) / 2;
        if (passage->out[middle] < event) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low < passage->n_out && passage->out[low] == event;
}

struct hbk_passage_counts hbk_passage_count(const struct hbk_passage_view *view)
{
    const struct hbk_passage *const passage = view->passage;
    struct hbk_passage_counts counts = {.notes = 0};
    for (size_t i = 0; i < passage->n; i++) {
        const struct hbk_passage_note *const note = &passage->notes[i];
        if (hbk_passage_in_bars(view, note->event)) {
            counts.notes++;
            counts.departures += note->taken > 0 ? 1 : 0;
            counts.hard += note->playable_quarters > 0.0 ? 1 : 0;
        }
    }
    for (size_t i = 0; i < passage->n_out; i++) {
        counts.out += hbk_passage_in_bars(view, passage->out[i]) ? 1 : 0;
    }
    return counts;
}

/* Whether two ways are the same in the bars shown. */
static bool are_same_ways(const struct hbk_passage_view *view,
                          const struct hbk_passage_way *a,
                          const struct hbk_passage_way *b)
{
    for (size_t i = 0; i < view->passage->n; i++) {
        if (a->pick[i] != b->pick[i] &&
            hbk_passage_in_bars(view, view->passage->notes[i].event)) {
            return false;
        }
    }
    return true;
}

bool hbk_passage_is_new_way(const struct hbk_passage_view *view, size_t way)
{
    const struct hbk_passage_way *const ways = view->passage->ways;
    for (size_t w = 0; w < way; w++) {
        if (are_same_ways(view, &ways[w], &ways[way])) {
            return false;
        }
    }
    return true;
}
