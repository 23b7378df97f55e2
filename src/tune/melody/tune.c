#include "tune/melody/tune.h"

#include <assert.h>
#include <inttypes.h>
#include <math.h>
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

struct hbk_tune_clef hbk_tune_clef_of(enum hbk_clef clef)
{
    static const struct hbk_tune_clef clefs[HBK_CLEF_COUNT] = {
        [HBK_TREBLE] = {.sign = 'G', .line = 2},
        [HBK_BASS] = {.sign = 'F', .line = 4},
        [HBK_ALTO] = {.sign = 'C', .line = 3},
        [HBK_TENOR] = {.sign = 'C', .line = 4}};
    return clefs[clef];
}

const struct hbk_tune_clef *hbk_tune_clef_at(const struct hbk_tune *tune,
                                             size_t event)
{
    return &tune->clefs[last_at(tune->clefs, tune->n_clefs,
                                sizeof(tune->clefs[0]), event)];
}

const struct hbk_tune_tempo *hbk_tune_tempo_at(const struct hbk_tune *tune,
                                               size_t event)
{
    if (tune->n_tempos == 0 || tune->tempos[0].event > event) {
        return NULL;
    }
    return &tune->tempos[last_at(tune->tempos, tune->n_tempos,
                                 sizeof(tune->tempos[0]), event)];
}

double hbk_tune_quarters_at(const struct hbk_tune *tune, size_t event,
                            double asked)
{
    const struct hbk_tune_tempo *const tempo = hbk_tune_tempo_at(tune, event);
    return !isnan(asked)   ? asked
           : tempo == NULL ? HBK_TUNE_ASSUMED_QUARTERS
                           : tempo->quarters;
}

bool hbk_tune_is_tempo_assumed(const struct hbk_tune *tune, double asked)
{
    return isnan(asked) && hbk_tune_tempo_at(tune, 0) == NULL;
}

struct hbk_ratio hbk_tune_full_bar(const struct hbk_tune_meter *meter)
{
    struct hbk_ratio full = hbk_ratio_whole(0);
    if (meter->beats > 0) {
        (void)hbk_ratio_make(meter->beats, meter->unit, &full);
    }
    return full;
}

/*
 * The beat so many beats after the first, exactly: "2.5", "1.125"; what does
 * not end after three decimals, as in triplets, as "1 2/3".
 */
static char *beat_text(struct hbk_ratio since, char text[HBK_TUNE_BEAT_SIZE])
{
    const int64_t beat = 1 + (since.num / since.den);
    const int64_t rest = since.num % since.den;
    if (rest == 0) {
        (void)snprintf(text, HBK_TUNE_BEAT_SIZE, "%" PRId64, beat);
    } else if (1000 % since.den == 0) {
        const int64_t thousandths = rest * (1000 / since.den);
        const int n = snprintf(text, HBK_TUNE_BEAT_SIZE,
                               "%" PRId64 ".%03" PRId64, beat, thousandths);
        for (int i = n - 1; i > 0 && text[i] == '0'; i--) {
            text[i] = '\0';
        }
    } else if (since.den > 9999) {
        (void)snprintf(text, HBK_TUNE_BEAT_SIZE, "%" PRId64, beat);
    } else {
        (void)snprintf(text, HBK_TUNE_BEAT_SIZE,
                       "%" PRId64 " %" PRId64 "/%" PRId64, beat, rest,
                       since.den);
    }
    return text;
}

char *hbk_tune_beat(const struct hbk_tune *tune, size_t event,
                    char text[HBK_TUNE_BEAT_SIZE])
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
    const struct hbk_ratio unit =
        hbk_ratio_whole(meter->beats > 0 ? (int64_t)meter->unit : 4);
    struct hbk_ratio beat = hbk_ratio_whole(0);
    if (!hbk_ratio_mul(since, unit, &beat)) {
        beat = hbk_ratio_whole(0);
    }
    return beat_text(beat, text);
}

char *hbk_tune_where(const struct hbk_tune *tune, size_t event,
                     char text[HBK_TUNE_WHERE_SIZE])
{
    char beat[HBK_TUNE_BEAT_SIZE];
    (void)snprintf(text, HBK_TUNE_WHERE_SIZE, "bar %.40s, beat %s",
                   tune->bars[tune->events[event].bar].number,
                   hbk_tune_beat(tune, event, beat));
    return text;
}

/* A metronome mark before all other marks. */
static void mark_beginning(struct hbk_tune *tune, double quarters,
                           struct hbk_arena *arena)
{
    struct hbk_tune_marks *const marks = &tune->marks;
    struct hbk_tune_mark *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_tune_mark, marks->n + 1);
    const struct hbk_tune_spot start = {.time = hbk_ratio_whole(0)};
    items[0] = (struct hbk_tune_mark){
        .kind = HBK_TUNE_MARK_TEMPO,
        .at = start,
        .end = start,
        .text = "",
        .metronome = {.beat = {.num = 1, .den = 4},
                      .count = hbk_arena_printf(arena, "%.4g", quarters),
                      .equals = hbk_ratio_whole(0)},
    };
    for (size_t i = 0; i < marks->n; i++) {
        items[i + 1] = marks->items[i];
    }
    marks->items = items;
    marks->n++;
}

void hbk_tune_begin_at(struct hbk_tune *tune, double quarters,
                       struct hbk_arena *arena)
{
    if (hbk_tune_tempo_at(tune, 0) != NULL) {
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
    mark_beginning(tune, quarters, arena);
}
