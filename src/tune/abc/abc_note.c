#include "tune/abc/abc_note.h"

#include "base/messages.h"
#include "tune/abc/abc_bar.h"
#include "tune/abc/abc_mark.h"
#include "tune/abc/abc_voice.h"
#include "tune/melody/build_often.h"

#include <stdlib.h>
#include <string.h>

bool hbk_abc_length(struct hbk_abc *abc, struct hbk_ratio *factor)
{
    enum { LENGTH_MAX = 9999 };
    const size_t from = abc->at;
    unsigned num = 1;
    bool good = true;
    if (hbk_abc_peek(abc, 0) >= '0' && hbk_abc_peek(abc, 0) <= '9') {
        good = hbk_abc_digits(abc, LENGTH_MAX, &num) && num > 0;
    }
    int64_t den = 1;
    while (good && hbk_abc_peek(abc, 0) == '/') {
        abc->at++;
        unsigned part = 2;
        if (hbk_abc_peek(abc, 0) >= '0' && hbk_abc_peek(abc, 0) <= '9') {
            good = hbk_abc_digits(abc, LENGTH_MAX, &part) && part > 0;
        }
        den *= part;
        good = good && den <= 1000000;
    }
    good = good && hbk_ratio_make(num, den, factor);
    if (!good) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, from), HBK_H_NOTE_TIME,
                        "this length cannot be read; right would be 2, 3/2 "
                        "or /2, each number from 1 to %d",
                        LENGTH_MAX);
    }
    return good;
}

/* ^ ^^ _ __ = before the letter; false with an error for anything else. */
static bool read_accidental(struct hbk_abc *abc, int *alter, bool *is_printed)
{
    const size_t from = abc->at;
    while (hbk_abc_peek(abc, 0) != '\0' &&
           strchr("^_=", hbk_abc_peek(abc, 0)) != NULL) {
        abc->at++;
    }
    const size_t n = abc->at - from;
    static const struct {
        const char *sign;
        int alter;
    } signs[] = {{"^", 1}, {"^^", 2}, {"_", -1}, {"__", -2}, {"=", 0}};
    *is_printed = n > 0;
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        if (strlen(signs[i].sign) == n &&
            memcmp(signs[i].sign, abc->source.bytes + from, n) == 0) {
            *alter = signs[i].alter;
            return true;
        }
    }
    if (n > 0) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, from), HBK_H_STRAY_SIGN,
                        "\"%.*s\" is no accidental; right would be ^ ^^ _ __ "
                        "or =",
                        (int)(n > 8 ? 8 : n), abc->source.bytes + from);
    }
    return n == 0;
}

/* The letter and its octave marks. */
static bool read_letter(struct hbk_abc *abc, struct hbk_spelling *spelling)
{
    static const char letters[] = "CDEFGABcdefgab";
    const size_t from = abc->at;
    const char c = hbk_abc_peek(abc, 0);
    const char *const letter = c == '\0' ? NULL : strchr(letters, c);
    if (letter == NULL) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, from), HBK_H_STRAY_SIGN,
                        "an accidental stands before no note");
        return false;
    }
    abc->at++;
    int octave = abc->said.octave + (letter - letters < 7 ? 4 : 5);
    for (;;) {
        const char mark = hbk_abc_peek(abc, 0);
        if (mark != ',' && mark != '\'') {
            break;
        }
        octave += mark == ',' ? -1 : 1;
        abc->at++;
    }
    spelling->step = (int)((letter - letters) % 7);
    spelling->octave = octave;
    if (octave < -1 || octave > 9) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, from), HBK_H_NOTE_RANGE,
                        "the note is outside C-1 to G9");
        return false;
    }
    return true;
}

/* What a note without an accidental of its own is, by the rules of the bar. */
static int alter_in_bar(struct hbk_abc *abc, struct hbk_spelling spelling,
                        size_t at)
{
    const struct hbk_abc_music *const music = &abc->music;
    const int step = spelling.step;
    const int octave = spelling.octave + 1;
    const int signature = abc->said.key.alter[step];
    const int by_octave =
        music->marked[step][octave] ? music->alter[step][octave] : signature;
    if (abc->said.reach == HBK_ABC_REACH_NOT) {
        return signature;
    }
    if (abc->said.reach == HBK_ABC_REACH_OCTAVE || music->latest[step] < 0) {
        return by_octave;
    }
    const int alter = music->alter[step][music->latest[step]];
    if (alter != by_octave) {
        char name[HBK_NAME_SIZE];
        spelling.alter = alter;
        const char *const one = hbk_arena_printf(
            abc->build.arena,
            "read as %s because of the accidental before it in another "
            "octave, as ABC 2.1 has it; write the accidental to be sure",
            hbk_spelling_name(spelling, HBK_ASCII, name));
        hbk_build_often(
            &abc->build, hbk_abc_place(abc, at), HBK_H_ABC_OCTAVES, one,
            "read by an accidental before them in another octave, as ABC 2.1 "
            "has it; write the accidentals to be sure");
    }
    return alter;
}

static void mark(struct hbk_abc_music *music, struct hbk_spelling spelling)
{
    music->alter[spelling.step][spelling.octave + 1] = spelling.alter;
    music->marked[spelling.step][spelling.octave + 1] = true;
    music->latest[spelling.step] = spelling.octave + 1;
}

/* The alteration that a tie brings along, also over a bar line. */
static bool is_tied_on(const struct hbk_abc *abc, struct hbk_spelling *spelling)
{
    const struct hbk_tune_event *const events = abc->build.tune->events;
    for (size_t i = hbk_abc_tied(abc, HBK_TUNE_NONE); i != HBK_TUNE_NONE;
         i = hbk_abc_tied(abc, i)) {
        if (events[i].spelling.step == spelling->step &&
            events[i].spelling.octave == spelling->octave) {
            spelling->alter = events[i].spelling.alter;
            return true;
        }
    }
    return false;
}

/* Whether a tie comes from a note of the same pitch, however spelled. */
static bool is_tie_stop(const struct hbk_abc *abc, int note)
{
    size_t i = hbk_abc_tied(abc, HBK_TUNE_NONE);
    while (i != HBK_TUNE_NONE && abc->build.tune->events[i].note != note) {
        i = hbk_abc_tied(abc, i);
    }
    return i != HBK_TUNE_NONE;
}

static bool read_pitch(struct hbk_abc *abc, struct hbk_tune_event *event)
{
    const size_t from = abc->at;
    int printed = 0;
    bool is_printed = false;
    struct hbk_spelling spelling = {.alter = 0};
    if (!read_accidental(abc, &printed, &is_printed) ||
        !read_letter(abc, &spelling)) {
        return false;
    }
    if (is_printed) {
        spelling.alter = printed;
        mark(&abc->music, spelling);
        event->accidental = abc->music.accidental != HBK_TUNE_NOT_PRINTED
                                ? abc->music.accidental
                                : HBK_TUNE_PRINTED;
        abc->music.accidental = HBK_TUNE_NOT_PRINTED;
    } else if (!is_tied_on(abc, &spelling)) {
        spelling.alter = alter_in_bar(abc, spelling, from);
    }
    event->spelling = spelling;
    event->note = hbk_spelling_note(spelling);
    event->tie_stop = is_tie_stop(abc, event->note);
    if (event->note < 0 || event->note > HBK_NOTE_MAX) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, from), HBK_H_NOTE_RANGE,
                        "the note is outside C-1 to G9");
        return false;
    }
    return true;
}

static bool scale(struct hbk_abc *abc, struct hbk_ratio *length,
                  struct hbk_ratio factor)
{
    if (!hbk_ratio_mul(*length, factor, length)) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, abc->at),
                        HBK_H_NOTE_TIME,
                        "this length is too long or too fine to be kept "
                        "exactly");
        return false;
    }
    return true;
}

/* Broken rhythm that waits for this note, whose own length is complete. */
static bool break_rhythm(struct hbk_abc *abc, struct hbk_ratio *length)
{
    struct hbk_abc_music *const music = &abc->music;
    if (music->broken == 0) {
        return true;
    }
    struct hbk_tune_event *const before = &abc->build.tune->events[music->last];
    if (!hbk_ratio_equal(before->length, *length)) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->at),
                       HBK_H_BROKEN_RHYTHM,
                       "broken rhythm between unequal notes: what it means is "
                       "not defined");
    }
    const int64_t parts = (int64_t)1 << abs(music->broken);
    const struct hbk_ratio shorter = {.num = 1, .den = parts};
    const struct hbk_ratio longer = {.num = (2 * parts) - 1, .den = parts};
    const bool is_first_long = music->broken > 0;
    music->broken = 0;
    return scale(abc, &before->length, is_first_long ? longer : shorter) &&
           scale(abc, length, is_first_long ? shorter : longer);
}

static bool put_in_tuplet(struct hbk_abc *abc, struct hbk_tune_event *event)
{
    struct hbk_abc_music *const music = &abc->music;
    if (music->tuplet_left == 0) {
        return true;
    }
    struct hbk_tune *const tune = abc->build.tune;
    struct hbk_tune_tuplet *const tuplet = &tune->tuplets[music->tuplet];
    const struct hbk_ratio factor = {.num = tuplet->normal,
                                     .den = tuplet->actual};
    event->tuplet = music->tuplet;
    tuplet->count = tune->n_events + 1 - tuplet->first;
    music->tuplet_left--;
    return scale(abc, &event->length, factor);
}

void hbk_abc_add_timed(struct hbk_abc *abc, struct hbk_tune_event *event,
                       struct hbk_ratio factor)
{
    struct hbk_abc_music *const music = &abc->music;
    event->length = abc->said.unit;
    if (!scale(abc, &event->length, factor) || !put_in_tuplet(abc, event) ||
        !break_rhythm(abc, &event->length)) {
        return;
    }
    event->articulation = music->decorations;
    event->fingering = music->below != NULL ? music->below : music->above;
    event->beam =
        music->is_joined ? HBK_TUNE_BEAM_CONTINUE : HBK_TUNE_BEAM_NONE;
    if (event->kind == HBK_TUNE_NOTE) {
        event->slur_starts = music->slur_starts;
        music->slur_starts = 0;
    }
    music->decorations = 0;
    music->below = NULL;
    music->above = NULL;
    music->point = HBK_TUNE_NONE;
    hbk_abc_need_bar(abc);
    if (hbk_abc_add(abc, *event)) {
        music->last = abc->build.tune->n_events - 1;
        hbk_abc_marks_to_event(abc, music->last);
    }
    music->is_joined = event->kind == HBK_TUNE_NOTE;
    music->is_adjacent = true;
}

void hbk_abc_note(struct hbk_abc *abc)
{
    struct hbk_abc_music *const music = &abc->music;
    struct hbk_tune_event event =
        hbk_build_blank(music->in_grace ? HBK_TUNE_GRACE : HBK_TUNE_NOTE,
                        hbk_abc_place(abc, abc->at));
    event.offset = music->point == HBK_TUNE_NONE ? abc->at : music->point;
    struct hbk_ratio factor = hbk_ratio_whole(1);
    hbk_abc_need_bar(abc);
    if (!read_pitch(abc, &event) || !hbk_abc_length(abc, &factor)) {
        return;
    }
    if (abc->chord.is_open) {
        hbk_abc_chord_note(abc, event, factor);
        return;
    }
    if (!music->in_grace) {
        hbk_abc_add_timed(abc, &event, factor);
        return;
    }
    event.slash = music->grace_slash;
    event.slur_starts = music->slur_starts;
    music->slur_starts = 0;
    (void)hbk_abc_add(abc, event);
}

/* Z and X: whole bars, as many as the number says. */
static void whole_bars(struct hbk_abc *abc, struct hbk_tune_event event)
{
    unsigned count = 1;
    const char next = hbk_abc_peek(abc, 0);
    if (next >= '0' && next <= '9' &&
        (!hbk_abc_digits(abc, 999, &count) || count == 0)) {
        hbk_build_error(&abc->build, event.place, HBK_H_NOTE_TIME,
                        "a rest of whole bars is 1 to 999 bars long");
        return;
    }
    struct hbk_ratio full = hbk_tune_full_bar(&abc->said.meter);
    if (full.num == 0) {
        full = hbk_ratio_whole(1);
    }
    event.length = full;
    event.whole_bar = true;
    event.articulation = abc->music.decorations;
    abc->music.decorations = 0;
    count = abc->voiced.layer > 0 ? 1 : count; /* within its bar */
    for (unsigned i = 0; i < count; i++) {
        hbk_abc_need_bar(abc);
        if (!hbk_abc_add(abc, event)) {
            return;
        }
        abc->music.last = abc->build.tune->n_events - 1;
        abc->bars.is_open = i + 1 == count;
        if (i == 0) {
            hbk_abc_marks_to_event(abc, abc->music.last);
            hbk_build_last_bar(&abc->build)->rests = event.hidden ? 0 : count;
            event.articulation = 0;
        }
    }
    abc->music.is_joined = false;
    abc->music.broken = 0;
}

void hbk_abc_rest(struct hbk_abc *abc)
{
    struct hbk_tune_event event =
        hbk_build_blank(HBK_TUNE_REST, hbk_abc_place(abc, abc->at));
    const char sign = hbk_abc_peek(abc, 0);
    event.offset = abc->at;
    event.hidden = sign == 'x' || sign == 'X';
    abc->at++;
    if (sign == 'Z' || sign == 'X') {
        whole_bars(abc, event);
        return;
    }
    struct hbk_ratio factor = hbk_ratio_whole(1);
    if (hbk_abc_length(abc, &factor) && !abc->music.in_grace &&
        !abc->chord.is_open) {
        hbk_abc_need_bar(abc);
        hbk_abc_add_timed(abc, &event, factor);
    }
}
