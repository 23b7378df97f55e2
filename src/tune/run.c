#include "base/messages.h"
#include "base/number.h"
#include "tune/document.h"
#include "tune/melody/build.h"
#include "tune/melody/source.h"

#include <string.h>

/* A few typed notes. */

enum { NUMBER_DIGITS_MAX = 4, DOTS_MAX = 3, RUN_BYTES_MAX = 65536 };

struct run {
    struct hbk_build build;
    const char *name;
    const char *text;
    bool bar_is_open;
    unsigned slurs_waiting;
    unsigned slurs_open;
    size_t last_note; /* or HBK_TUNE_NONE */
};

static struct hbk_place place_of(const struct run *run, const char *at)
{
    return (struct hbk_place){
        .file = run->name, .line = 1, .column = (unsigned)(at - run->text) + 1};
}

static const char *whole_at(const char *text, int64_t *number)
{
    long count = 0;
    const char *const rest = hbk_number_count(text, NUMBER_DIGITS_MAX, &count);
    *number = count;
    return count > 0 ? rest : NULL;
}

/* Each dot, three at most, adds half of what the last one added. */
static const char *dots_at(const char *text, struct hbk_ratio *length)
{
    const size_t n = strspn(text, ".");
    struct hbk_ratio part = *length;
    bool fits = n <= DOTS_MAX;
    for (size_t i = 0; fits && i < n; i++) {
        fits = hbk_ratio_make(part.num, 2 * part.den, &part) &&
               hbk_ratio_add(*length, part, length);
    }
    return fits ? text + n : NULL;
}

/*
 * Nothing for a quarter note, else a colon and the part of a whole note:
 * ":1/8", ":3/8", ":1/4." with a dot, ":1"; NULL when it cannot be read.
 */
static const char *length_at(const char *text, struct hbk_ratio *length)
{
    int64_t num = 1;
    int64_t den = *text == ':' ? 1 : 4;
    const char *at = text;
    if (*at == ':') {
        at = whole_at(at + 1, &num);
        if (at != NULL && *at == '/') {
            at = whole_at(at + 1, &den);
        }
    }
    return at != NULL && hbk_ratio_make(num, den, length) ? dots_at(at, length)
                                                          : NULL;
}

/* Why that is no length: a stroke or star, or figures that are none. */
static void refuse_length(struct run *run, const char *at, const char *name)
{
    if (*at == '/' || *at == '*') {
        hbk_build_error(&run->build, place_of(run, at), HBK_H_RUN_LENGTH,
                        "\"%.40s%.*s\": put a colon before the length; right "
                        "would be %.40s:1/4 for a quarter note, %.40s:1/8 for "
                        "an eighth, %.40s:1/16 for a sixteenth",
                        name, (int)strcspn(at, " \t()|,"), at, name, name,
                        name);
        return;
    }
    hbk_build_error(&run->build, place_of(run, at), HBK_H_RUN_LENGTH,
                    "the length of \"%.40s\" cannot be read; right would be "
                    ":1/8 for an eighth note, :3/8 for a dotted quarter, :1 "
                    "for a whole note",
                    name);
}

static void add(struct run *run, struct hbk_tune_event event)
{
    if (!run->bar_is_open) {
        (void)hbk_build_open_bar(&run->build, event.place);
        run->bar_is_open = true;
    }
    if (event.kind == HBK_TUNE_NOTE) {
        event.slur_starts = run->slurs_waiting;
        run->slurs_waiting = 0;
    }
    if (hbk_build_add(&run->build, event) && event.kind == HBK_TUNE_NOTE) {
        run->last_note = run->build.tune->n_events - 1;
    }
}

/* A note or rest with its length; returns what is left, NULL on an error. */
static const char *event_at(struct run *run, const char *at)
{
    const size_t n = strcspn(at, " \t:./*()|,");
    const char *const name = hbk_arena_copy(run->build.arena, at, n);
    struct hbk_tune_event event =
        hbk_build_blank(HBK_TUNE_REST, place_of(run, at));
    if (strcmp(name, "r") != 0) {
        event.kind = HBK_TUNE_NOTE;
        if (!hbk_note_parse(name, &event.note) ||
            !hbk_spelling_parse(name, &event.spelling)) {
            hbk_build_error(&run->build, event.place, HBK_H_RUN_NOTE,
                            "\"%.40s\" is no note; right would be a letter "
                            "A to G, # or b, and the octave, as in F#4, or r "
                            "for a rest",
                            name);
            return NULL;
        }
    }
    const bool is_old = at[n] == '/' || at[n] == '*';
    const char *const rest = is_old ? NULL : length_at(at + n, &event.length);
    if (rest == NULL) {
        refuse_length(run, at + n, name);
        return NULL;
    }
    add(run, event);
    return rest;
}

static void end_slur(struct run *run, const char *at)
{
    if (run->slurs_open == 0 || run->last_note == HBK_TUNE_NONE ||
        run->slurs_waiting > 0) {
        hbk_build_error(&run->build, place_of(run, at), HBK_H_SLUR_OPEN,
                        "a slur ends here that never began");
        return;
    }
    run->slurs_open--;
    run->build.tune->events[run->last_note].slur_stops++;
}

static void read_run(struct run *run)
{
    const char *at = run->text;
    while (at != NULL && *at != '\0' && !run->build.failed) {
        switch (*at) {
        case ' ':
        case '\t':
        case ',':
            at++;
            break;
        case '|':
            run->bar_is_open = false;
            at++;
            break;
        case '(':
            run->slurs_waiting++;
            run->slurs_open++;
            at++;
            break;
        case ')':
            end_slur(run, at);
            at++;
            break;
        default:
            at = event_at(run, at);
            break;
        }
    }
}

enum hbk_status hbk_tune_from_run(const char *name, const char *text,
                                  struct hbk_tune_document *document,
                                  struct hbk_faults *faults)
{
    hbk_tune_document_begin(document, HBK_TUNE_RUN, NULL);
    struct run run = {
        .build = {.arena = &document->arena,
                  .faults = faults,
                  .tune = &document->tune,
                  .needs_notes = true,
                  .bars_to_number = true},
        .name = name,
        .text = text,
        .last_note = HBK_TUNE_NONE,
    };
    if (strlen(text) > RUN_BYTES_MAX) {
        hbk_build_error(&run.build, (struct hbk_place){.file = NULL},
                        HBK_H_TUNE_TOO_LARGE,
                        "so long a run belongs in a file, as ABC or MusicXML");
        return HBK_ERR_INPUT;
    }
    if (text[strspn(text, " \t|,")] == '\0') {
        hbk_build_error(&run.build, (struct hbk_place){.file = NULL},
                        HBK_H_RUN_EMPTY,
                        "no notes are given; right would be \"C5 D5 E5:1/8\"");
        return HBK_ERR_INPUT;
    }
    hbk_build_set_meter(&run.build, (struct hbk_tune_meter){.unit = 4});
    hbk_build_set_key(&run.build, hbk_build_key(0, ""));
    hbk_build_set_clef(&run.build,
                       (struct hbk_tune_clef){.sign = 'G', .line = 2});
    read_run(&run);
    return hbk_build_finish(&run.build);
}
