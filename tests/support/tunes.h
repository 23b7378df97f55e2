#ifndef HBK_TESTS_TUNES_H
#define HBK_TESTS_TUNES_H

#include "support/check.h"

#include "base/text.h"
#include "tune/document.h"
#include "tune/melody/unfold.h"

#include <stdio.h>
#include <string.h>

/* Helpers of the tests that read tunes. */

/* "C4 1/4, r 1/8": the tune as played, ties merged, grace notes left out. */
static inline const char *played_text(const struct hbk_tune *tune,
                                      struct hbk_arena *arena)
{
    struct hbk_tune_performance performance;
    assert_int_equal(hbk_tune_unfold(tune, (double)NAN, arena, &performance),
                     HBK_OK);
    struct hbk_text out = {.arena = arena};
    for (size_t i = 0; i < performance.n; i++) {
        const struct hbk_tune_played *const item = &performance.items[i];
        const struct hbk_tune_event *const event = &tune->events[item->event];
        char name[HBK_NAME_SIZE] = "r";
        char length[HBK_RATIO_TEXT];
        if (event->kind == HBK_TUNE_GRACE) {
            continue;
        }
        if (event->kind == HBK_TUNE_NOTE) {
            hbk_spelling_name(event->spelling, HBK_ASCII, name);
        }
        hbk_text_addf(&out, "%s%s %s", out.length > 0 ? ", " : "", name,
                      hbk_ratio_text(item->length, length));
    }
    return hbk_text_string(&out);
}

static inline void describe_event(const struct hbk_tune *tune, size_t i,
                                  struct hbk_text *out)
{
    const struct hbk_tune_event *const event = &tune->events[i];
    char name[HBK_NAME_SIZE] = "r";
    char onset[HBK_RATIO_TEXT];
    char length[HBK_RATIO_TEXT];
    char held[HBK_RATIO_TEXT];
    if (event->kind != HBK_TUNE_REST) {
        hbk_spelling_name(event->spelling, HBK_ASCII, name);
    }
    hbk_text_addf(out,
                  "%d %s note %d at %s for %s bar %zu tie %d%d head %zu held "
                  "%s main %zd slash %d slur +%u-%u art %u acc %d value %d.%u "
                  "tuplet %zd beam %d whole %d hidden %d\n",
                  (int)event->kind, name, event->note,
                  hbk_ratio_text(event->onset, onset),
                  hbk_ratio_text(event->length, length), event->bar,
                  event->tie_start, event->tie_stop, event->head,
                  hbk_ratio_text(event->held, held), (ssize_t)event->main,
                  event->slash, event->slur_starts, event->slur_stops,
                  event->articulation, (int)event->accidental, event->value,
                  event->dots, (ssize_t)event->tuplet, (int)event->beam,
                  event->whole_bar, event->hidden);
}

/* Everything that the model says of the music, one line a thing. */
static inline const char *describe(const struct hbk_tune *tune,
                                   struct hbk_arena *arena)
{
    struct hbk_text out = {.arena = arena};
    hbk_text_addf(&out, "title %s composer %s transpose %d\n", tune->title,
                  tune->composer, tune->transpose);
    for (size_t i = 0; i < tune->n_events; i++) {
        describe_event(tune, i, &out);
    }
    for (size_t i = 0; i < tune->n_bars; i++) {
        const struct hbk_tune_bar *const bar = &tune->bars[i];
        char length[HBK_RATIO_TEXT];
        hbk_text_addf(
            &out, "bar %s %d for %s: %zu+%zu right %d %d:%u %s %llx %d %s %x\n",
            bar->number, bar->implicit, hbk_ratio_text(bar->length, length),
            bar->first, bar->count, (int)bar->right, bar->repeat_start,
            bar->repeat_end, bar->ending == NULL ? "-" : bar->ending,
            (unsigned long long)bar->ending_passes, bar->ending_stop,
            bar->jump == NULL ? "" : bar->jump,
            bar->signs.bits & ~(unsigned)HBK_SIGN_TO_CODA_FIRST);
    }
    for (size_t i = 0; i < tune->n_tuplets; i++) {
        hbk_text_addf(&out, "tuplet %zu+%zu %u:%u\n", tune->tuplets[i].first,
                      tune->tuplets[i].count, tune->tuplets[i].actual,
                      tune->tuplets[i].normal);
    }
    for (size_t i = 0; i < tune->n_keys; i++) {
        const struct hbk_tune_key *const key = &tune->keys[i];
        hbk_text_addf(&out, "key %zu: %d %s", key->event,
                      key->traditional ? key->fifths : 99, key->mode);
        for (int step = 0; step < 7; step++) {
            hbk_text_addf(&out, " %d", key->alter[step]);
        }
        hbk_text_add(&out, "\n");
    }
    for (size_t i = 0; i < tune->n_meters; i++) {
        const struct hbk_tune_meter *const meter = &tune->meters[i];
        hbk_text_addf(&out, "meter %zu: %u/%u %d %s\n", meter->event,
                      meter->beats, meter->unit, (int)meter->sign,
                      meter->groups == NULL ? "-" : meter->groups);
    }
    for (size_t i = 0; i < tune->n_clefs; i++) {
        const struct hbk_tune_clef *const clef = &tune->clefs[i];
        hbk_text_addf(&out, "clef %zu: %c%d %d\n", clef->event, clef->sign,
                      clef->line, clef->octave);
    }
    for (size_t i = 0; i < tune->n_tempos; i++) {
        const struct hbk_tune_tempo *const tempo = &tune->tempos[i];
        char beat[HBK_RATIO_TEXT];
        hbk_text_addf(&out, "tempo %zu: %.6f, %s is %.6f \"%s\"\n",
                      tempo->event, tempo->quarters,
                      hbk_ratio_text(tempo->beat, beat), tempo->beats,
                      tempo->words);
    }
    return hbk_text_string(&out);
}

static inline void print_faults(const struct hbk_faults *faults)
{
    for (size_t i = 0; i < faults->count; i++) {
        char line[600];
        hbk_fault_format(&faults->items[i], line, sizeof(line));
        print_message("# %s\n", line);
    }
}

/* Whether a fault with this number was recorded. */
static inline bool has_fault(const struct hbk_faults *faults, unsigned number)
{
    for (size_t i = 0; i < faults->count; i++) {
        if (faults->items[i].number == number) {
            return true;
        }
    }
    return false;
}

/* Reads text that must be readable. */
static inline void read_good(const char *name, const char *text,
                             struct hbk_tune_document *document,
                             struct hbk_faults *faults)
{
    const enum hbk_status status =
        hbk_tune_read_bytes(name, text, strlen(text), NULL, document, faults);
    if (status != HBK_OK) {
        print_faults(faults);
    }
    assert_int_equal(status, HBK_OK);
    assert_int_equal(faults->errors, 0);
}

/* Reads text that must be refused with this message. */
static inline void read_bad(const char *name, const char *text, unsigned number,
                            const char *part_of_message)
{
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const enum hbk_status status =
        hbk_tune_read_bytes(name, text, strlen(text), NULL, &document, &faults);
    assert_int_equal(status, HBK_ERR_INPUT);
    assert_true(faults.errors > 0);
    bool found = false;
    for (size_t i = 0; i < faults.count; i++) {
        char line[600];
        hbk_fault_format(&faults.items[i], line, sizeof(line));
        found = found || (faults.items[i].number == number &&
                          strstr(line, part_of_message) != NULL);
    }
    if (!found) {
        print_message("# wanted H%03u \"%s\", got:\n", number, part_of_message);
        print_faults(&faults);
    }
    assert_true(found);
    hbk_tune_document_finish(&document);
}

/* A small generator (xorshift, Marsaglia 2003) for mutations by rule. */
static inline uint32_t next_random(uint32_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 17;
    *state ^= *state << 5;
    return *state;
}

/* Changes, removes and doubles a few bytes of `bytes`; returns its length. */
static inline size_t mutate(char *bytes, size_t length, size_t room,
                            uint32_t *state)
{
    const uint32_t changes = 1 + (next_random(state) % 4);
    for (uint32_t k = 0; k < changes && length > 1; k++) {
        const size_t at = next_random(state) % length;
        const uint32_t kind = next_random(state) % 4;
        if (kind == 0) {
            bytes[at] = (char)(next_random(state) & 0xFF);
        } else if (kind == 1) {
            bytes[at] = bytes[next_random(state) % length];
        } else if (kind == 2) {
            const size_t n = 1 + (next_random(state) % 8);
            const size_t cut = n < length - at ? n : length - at;
            memmove(bytes + at, bytes + at + cut, length - at - cut);
            length -= cut;
        } else {
            const size_t n = 1 + (next_random(state) % 16);
            const size_t from = next_random(state) % length;
            const size_t copy = n < length - from ? n : length - from;
            if (length + copy <= room) {
                char piece[16];
                memcpy(piece, bytes + from, copy);
                memmove(bytes + at + copy, bytes + at, length - at);
                memcpy(bytes + at, piece, copy);
                length += copy;
            }
        }
    }
    return length;
}

#endif
