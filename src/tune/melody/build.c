#include "tune/melody/build.h"

#include "base/messages.h"
#include "base/text.h"

#include <assert.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* Bytes of the file in a message must not upset a terminal. */
static void make_printable(char *text)
{
    const bool is_utf8 = hbk_text_is_utf8(text, strlen(text));
    for (char *c = text; *c != '\0'; c++) {
        const unsigned char byte = (unsigned char)*c;
        if (byte < 0x20 || byte == 0x7F || (byte >= 0x80 && !is_utf8)) {
            *c = '?';
        }
    }
}

/* The words of a message, in `text`, as far as they fit. */
static void write_words(char text[], size_t size, const char *fmt, va_list args)
    __attribute__((format(printf, 3, 0)));

static void write_words(char text[], size_t size, const char *fmt, va_list args)
{
    (void)vsnprintf(text, size, fmt, args);
    make_printable(text);
}

void hbk_build_error(struct hbk_build *build, struct hbk_place place,
                     unsigned number, const char *fmt, ...)
{
    char text[sizeof(build->faults->items[0].text)];
    va_list args;
    va_start(args, fmt);
    write_words(text, sizeof(text), fmt, args);
    va_end(args);
    hbk_fault_add(build->faults, place, number, "%s", text);
    build->failed = true;
}

void hbk_build_warn(struct hbk_build *build, struct hbk_place place,
                    unsigned number, const char *fmt, ...)
{
    build->warnings++;
    if (build->warnings > HBK_BUILD_WARNINGS_MAX) {
        return;
    }
    char text[sizeof(build->faults->items[0].text)];
    va_list args;
    va_start(args, fmt);
    write_words(text, sizeof(text), fmt, args);
    va_end(args);
    hbk_fault_warn(build->faults, place, number, "%s", text);
}

struct hbk_tune_event hbk_build_blank(enum hbk_tune_kind kind,
                                      struct hbk_place place)
{
    return (struct hbk_tune_event){
        .kind = kind,
        .onset = hbk_ratio_whole(0),
        .length = hbk_ratio_whole(0),
        .held = hbk_ratio_whole(0),
        .head = HBK_TUNE_NONE,
        .main = HBK_TUNE_NONE,
        .tuplet = HBK_TUNE_NONE,
        .value = HBK_TUNE_NO_VALUE,
        .place = place,
    };
}

bool hbk_build_add(struct hbk_build *build, struct hbk_tune_event event)
{
    struct hbk_tune *const tune = build->tune;
    assert(tune->n_bars > 0);
    if (tune->n_events == HBK_BUILD_EVENTS_MAX) {
        if (!build->failed) {
            hbk_build_error(build, event.place, HBK_H_TUNE_TOO_LARGE,
                            "the tune has more than %d notes and rests",
                            HBK_BUILD_EVENTS_MAX);
        }
        return false;
    }
    HBK_ARENA_GROW(build->arena, tune->events, tune->n_events,
                   build->room_events);
    event.bar = tune->n_bars - 1;
    tune->events[tune->n_events++] = event;
    tune->bars[tune->n_bars - 1].count++;
    return true;
}

struct hbk_tune_bar *hbk_build_open_bar(struct hbk_build *build,
                                        struct hbk_place place)
{
    struct hbk_tune *const tune = build->tune;
    HBK_ARENA_GROW(build->arena, tune->bars, tune->n_bars, build->room_bars);
    tune->bars[tune->n_bars] = (struct hbk_tune_bar){
        .number = "",
        .onset = hbk_ratio_whole(0),
        .length = hbk_ratio_whole(0),
        .first = tune->n_events,
        .place = place,
    };
    return &tune->bars[tune->n_bars++];
}

struct hbk_tune_bar *hbk_build_last_bar(struct hbk_build *build)
{
    assert(build->tune->n_bars > 0);
    return &build->tune->bars[build->tune->n_bars - 1];
}

size_t hbk_build_add_tuplet(struct hbk_build *build,
                            struct hbk_tune_tuplet tuplet)
{
    struct hbk_tune *const tune = build->tune;
    HBK_ARENA_GROW(build->arena, tune->tuplets, tune->n_tuplets,
                   build->room_tuplets);
    tune->tuplets[tune->n_tuplets] = tuplet;
    return tune->n_tuplets++;
}

/* The four lists of changes are kept alike. */
#define SET_CHANGE(build, list, count, room, change)                           \
    do {                                                                       \
        struct hbk_tune *const tune_ = (build)->tune;                          \
        (change).event = tune_->n_events;                                      \
        if (tune_->count > 0 &&                                                \
            tune_->list[tune_->count - 1].event == tune_->n_events) {          \
            tune_->count--;                                                    \
        }                                                                      \
        HBK_ARENA_GROW((build)->arena, tune_->list, tune_->count,              \
                       (build)->room);                                         \
        tune_->list[tune_->count++] = (change);                                \
    } while (0)

void hbk_build_set_key(struct hbk_build *build, struct hbk_tune_key key)
{
    SET_CHANGE(build, keys, n_keys, room_keys, key);
}

void hbk_build_set_meter(struct hbk_build *build, struct hbk_tune_meter meter)
{
    SET_CHANGE(build, meters, n_meters, room_meters, meter);
}

void hbk_build_set_clef(struct hbk_build *build, struct hbk_tune_clef clef)
{
    const struct hbk_tune *const tune = build->tune;
    if (tune->n_clefs > 0) {
        const struct hbk_tune_clef *const last =
            &tune->clefs[tune->n_clefs - 1];
        if (last->sign == clef.sign && last->line == clef.line &&
            last->octave == clef.octave) {
            return;
        }
    }
    SET_CHANGE(build, clefs, n_clefs, room_clefs, clef);
}

void hbk_build_set_tempo(struct hbk_build *build, struct hbk_tune_tempo tempo)
{
    unsigned dots = 0;
    if (tempo.beat.num <= 0 ||
        hbk_tune_value_of(tempo.beat, &dots) == HBK_TUNE_NO_VALUE) {
        tempo.beat = (struct hbk_ratio){.num = 1, .den = 4};
    }
    tempo.beats = tempo.quarters / (4.0 * hbk_ratio_value(tempo.beat));
    tempo.words = tempo.words == NULL ? "" : tempo.words;
    SET_CHANGE(build, tempos, n_tempos, room_tempos, tempo);
}

struct hbk_tune_key hbk_build_key(int fifths, const char *mode)
{
    static const int sharps[7] = {3, 0, 4, 1, 5, 2, 6}; /* F C G D A E B */
    struct hbk_tune_key key = {
        .fifths = fifths, .traditional = true, .mode = mode};
    for (int i = 0; i < 7; i++) {
        if (i < fifths) {
            key.alter[sharps[i]] = 1;
        }
        if (i < -fifths) {
            key.alter[sharps[6 - i]] = -1;
        }
    }
    return key;
}

int hbk_build_value(struct hbk_ratio length, unsigned actual, unsigned normal,
                    unsigned *dots)
{
    const struct hbk_ratio in_tuplet = {.num = actual, .den = normal};
    struct hbk_ratio written;
    if (!hbk_ratio_mul(length, in_tuplet, &written) || written.num <= 0) {
        return HBK_TUNE_NO_VALUE;
    }
    for (int value = -1; value <= 10; value++) {
        for (unsigned n = 0; n <= 3; n++) {
            if (hbk_ratio_equal(hbk_build_length(value, n), written)) {
                *dots = n;
                return value;
            }
        }
    }
    return HBK_TUNE_NO_VALUE;
}

int hbk_tune_value_of(struct hbk_ratio length, unsigned *dots)
{
    return hbk_build_value(length, 1, 1, dots);
}

struct hbk_ratio hbk_build_length(int value, unsigned dots)
{
    /* Two wholes, less what the missing next dot would add. */
    struct hbk_ratio length = hbk_ratio_whole(0);
    const int64_t parts = ((int64_t)2 << dots) - 1;
    (void)hbk_ratio_make(2 * parts,
                         (int64_t)1 << ((unsigned)(value + 1) + dots), &length);
    return length;
}

const char *hbk_build_ending_text(struct hbk_arena *arena, uint64_t passes)
{
    struct hbk_text text = {.arena = arena};
    for (unsigned n = 1; n <= 64; n++) {
        if ((passes >> (n - 1) & 1) != 0) {
            hbk_text_addf(&text, "%s%u", text.length > 0 ? "," : "", n);
        }
    }
    return hbk_text_string(&text);
}
