#include "tune/tune.h"

#include <assert.h>
#include <stdio.h>
#include <string.h>

/*
 * Each list is in order of the event that its entries begin with; the entry
 * wanted is the last one that is not after `at`.
 */
static size_t last_at(const void *list, size_t count, size_t stride, size_t at)
{
    assert(count > 0);
    size_t low = 0;
    size_t high = count;
    while (high - low > 1) {
        const size_t middle = low + ((high - low) / 2);
        size_t event = 0;
        memcpy(&event, (const char *)list + (middle * stride), sizeof(event));
        if (event <= at) {
            low = middle;
        } else {
            high = middle;
        }
    }
    return low;
}

const struct hbk_tune_key *hbk_tune_key_at(const struct hbk_tune *tune,
                                           size_t event)
{
    return &tune->keys[last_at(tune->keys, tune->n_keys, sizeof(tune->keys[0]),
                               event)];
}

const struct hbk_tune_meter *hbk_tune_meter_at(const struct hbk_tune *tune,
                                               size_t event)
{
    return &tune->meters[last_at(tune->meters, tune->n_meters,
                                 sizeof(tune->meters[0]), event)];
}

const struct hbk_tune_clef *hbk_tune_clef_at(const struct hbk_tune *tune,
                                             size_t event)
{
    return &tune->clefs[last_at(tune->clefs, tune->n_clefs,
                                sizeof(tune->clefs[0]), event)];
}

struct hbk_ratio hbk_tune_full_bar(const struct hbk_tune_meter *meter)
{
    struct hbk_ratio full = hbk_ratio_whole(0);
    if (meter->beats > 0) {
        (void)hbk_ratio_make(meter->beats, meter->unit, &full);
    }
    return full;
}

char *hbk_tune_where(const struct hbk_tune *tune, size_t event,
                     char text[HBK_TUNE_WHERE_SIZE])
{
    assert(event < tune->n_events);
    const struct hbk_tune_event *const at = &tune->events[event];
    const struct hbk_tune_bar *const bar = &tune->bars[at->bar];
    const struct hbk_tune_meter *const meter =
        hbk_tune_meter_at(tune, bar->first);
    struct hbk_ratio since = hbk_ratio_whole(0);
    (void)hbk_ratio_sub(at->onset, bar->onset, &since);
    const struct hbk_ratio full = hbk_tune_full_bar(meter);
    /* A pickup, and the later half of a split bar, end where a bar ends. */
    if (bar->implicit && hbk_ratio_compare(bar->length, full) < 0) {
        struct hbk_ratio missing = hbk_ratio_whole(0);
        (void)hbk_ratio_sub(full, bar->length, &missing);
        (void)hbk_ratio_add(since, missing, &since);
    }
    const double unit = meter->beats > 0 ? (double)meter->unit : 4.0;
    const double beat = (hbk_ratio_value(since) * unit) + 1.0;
    const long hundredths = (long)((beat * 100.0) + 0.5);
    char part[8] = "";
    if (hundredths % 100 != 0) {
        (void)snprintf(part, sizeof(part), ".%02ld", hundredths % 100);
        if (part[2] == '0') {
            part[2] = '\0';
        }
    }
    (void)snprintf(text, HBK_TUNE_WHERE_SIZE, "bar %.40s, beat %ld%s",
                   bar->number, hundredths / 100, part);
    return text;
}

void hbk_tune_begin_at(struct hbk_tune *tune, double quarters,
                       struct hbk_arena *arena)
{
    if (tune->n_tempos > 0 && tune->tempos[0].event == 0) {
        return;
    }
    struct hbk_tune_tempo *const tempos =
        HBK_ARENA_ARRAY(arena, struct hbk_tune_tempo, tune->n_tempos + 1);
    tempos[0] = (struct hbk_tune_tempo){.quarters = quarters,
                                        .beat = {.num = 1, .den = 4},
                                        .beats = quarters,
                                        .words = ""};
    for (size_t i = 0; i < tune->n_tempos; i++) {
        tempos[i + 1] = tune->tempos[i];
    }
    tune->tempos = tempos;
    tune->n_tempos++;
}
