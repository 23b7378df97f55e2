#include "report/passage_moved.h"

#include "base/text.h"
#include "report/columns.h"
#include "sheet/words/words.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { OCTAVE = 12 };

const char *hbk_octaves_words(int octaves, struct hbk_arena *arena)
{
    return octaves == 0
               ? "as written"
               : hbk_arena_printf(arena, "%s %s",
                                  hbk_words_interval(arena, OCTAVE * octaves),
                                  octaves > 0 ? "higher" : "lower");
}

const char *hbk_key_words(const struct hbk_tune_key *key,
                          enum hbk_naming naming, struct hbk_arena *arena)
{
    char name[HBK_NAME_SIZE];
    const bool plain = key->mode[0] == '\0' || strcmp(key->mode, "major") == 0;
    return hbk_arena_printf(
        arena, "%s%s%s",
        hbk_spelling_called(hbk_tune_tonic(key), naming, HBK_UNICODE, name),
        plain ? "" : " ", plain ? "" : key->mode);
}

/* "D (two sharps)" */
static const char *key_signed(const struct hbk_passage_view *view,
                              const struct hbk_tune_key *key,
                              struct hbk_arena *arena)
{
    const int n = abs(key->fifths);
    const char *const name =
        hbk_key_words(key, view->notes->notation.naming, arena);
    return n == 0 ? name
                  : hbk_arena_printf(arena, "%s (%d %s%s)", name, n,
                                     key->fifths < 0 ? "flat" : "sharp",
                                     n == 1 ? "" : "s");
}

/* "from D to C, a whole tone lower than written" */
static const char *asked_words(const struct hbk_passage_view *view,
                               struct hbk_arena *arena)
{
    const struct hbk_placing *const placing = &view->placing;
    const int asked = hbk_placing_asked(placing);
    const enum hbk_naming naming = view->notes->notation.naming;
    const char *const keys =
        !placing->rekeyed
            ? ""
            : hbk_arena_printf(
                  arena, "from %s to %s",
                  hbk_key_words(&placing->stays.key, naming, arena),
                  hbk_key_words(&placing->found.key, naming, arena));
    if (asked == 0) {
        return placing->rekeyed
                   ? hbk_arena_printf(arena, "%s, which sounds the same", keys)
                   : NULL;
    }
    return hbk_arena_printf(
        arena, "%s%s%s %s than written", keys, placing->rekeyed ? ", " : "",
        hbk_words_interval(arena, abs(asked)), asked > 0 ? "higher" : "lower");
}

const char *hbk_passage_moved(const struct hbk_passage_view *view,
                              struct hbk_arena *arena)
{
    const struct hbk_placing *const placing = &view->placing;
    const int by = placing->for_horn + view->notes->notation.shift;
    const bool is_own = view->notes->setting.reads == HBK_READS_OWN;
    const char *const asked = asked_words(view, arena);
    if (by == 0) {
        return asked == NULL
                   ? NULL
                   : hbk_arena_printf(arena, "The part is %s%s",
                                      placing->rekeyed ? "moved " : "", asked);
    }
    return hbk_arena_printf(arena, "The part is moved %s by %s for %s%s%s",
                            by > 0 ? "up" : "down",
                            hbk_words_interval(arena, abs(by)),
                            is_own ? "this horn" : "the player who reads it",
                            asked == NULL      ? ""
                            : placing->rekeyed ? ", then "
                                               : " and is ",
                            asked == NULL ? "" : asked);
}

/*
 * What notes out of reach say for the place that was found against another,
 * "as written"; NULL if nothing.
 */
static const char *reach_words(const struct hbk_placing *placing,
                               const char *other, struct hbk_arena *arena)
{
    const size_t before = placing->stays.n_out;
    const size_t now = placing->found.n_out;
    if (before <= now) {
        return NULL;
    }
    if (before == SIZE_MAX) {
        return hbk_arena_printf(arena, "%s it leaves the notes there are",
                                other);
    }
    return now == 0
               ? hbk_arena_printf(arena,
                                  "every note is available there, and %zu %s "
                                  "not %s",
                                  before, before == 1 ? "is" : "are", other)
               : hbk_arena_printf(
                     arena, "%zu note%s not available there, and %zu %s", now,
                     now == 1 ? " is" : "s are", before, other);
}

/* A price as the cents that one held note would be out of tune. */
static double cost_of(double price)
{
    return hbk_report_whole(sqrt(fmax(price, 0.0)));
}

static const char *key_chosen(const struct hbk_passage_view *view,
                              struct hbk_arena *arena)
{
    const struct hbk_placing *const placing = &view->placing;
    const char *const stays = key_signed(view, &placing->stays.key, arena);
    const char *const reach =
        reach_words(placing, hbk_arena_printf(arena, "in %s", stays), arena);
    const char *const found = key_signed(view, &placing->found.key, arena);
    const char *const within =
        hbk_arena_printf(arena, "Of the keys within %d semitone%s",
                         placing->reach, placing->reach == 1 ? "" : "s");
    if (placing->semitones == 0) {
        return hbk_arena_printf(
            arena, "%s, %s as it is, is the easiest to finger and to read",
            within, found);
    }
    if (reach != NULL) {
        return hbk_arena_printf(arena, "%s, %s is the best: %s", within, found,
                                reach);
    }
    return hbk_arena_printf(
        arena,
        "%s, %s is the easiest to finger and to read: it costs %.0f, %s %.0f",
        within, found, cost_of(placing->found.price), stays,
        cost_of(placing->stays.price));
}

static const char *octave_chosen(const struct hbk_passage_view *view,
                                 struct hbk_arena *arena)
{
    const struct hbk_placing *const placing = &view->placing;
    const char *const reach = reach_words(placing, "as written", arena);
    if (placing->octaves == 0) {
        return placing->semitones == 0
                   ? "Of all octaves, the part lies best where it is written"
                   : "Of all octaves, the part lies best in this one";
    }
    return hbk_arena_printf(arena, "Of all octaves, the part lies best %s%s%s",
                            hbk_octaves_words(placing->octaves, arena),
                            reach == NULL ? "" : ": ",
                            reach == NULL ? "" : reach);
}

/* Key and octave, where both were looked for. */
static const char *both_chosen(const struct hbk_passage_view *view,
                               struct hbk_arena *arena)
{
    const int octaves = view->placing.octaves;
    return hbk_arena_printf(
        arena, "%s; in that key %s%s", key_chosen(view, arena),
        octaves == 0 ? "no other octave is better" : "the part lies best ",
        octaves == 0 ? "" : hbk_octaves_words(octaves, arena));
}

const char *hbk_passage_chosen(const struct hbk_passage_view *view,
                               struct hbk_arena *arena)
{
    const struct hbk_placing *const placing = &view->placing;
    return placing->key_looked_for && placing->octave_looked_for
               ? both_chosen(view, arena)
           : placing->key_looked_for    ? key_chosen(view, arena)
           : placing->octave_looked_for ? octave_chosen(view, arena)
                                        : NULL;
}

const char *hbk_passage_reads(const struct hbk_passage_view *view,
                              struct hbk_arena *arena)
{
    const int by = hbk_placing_moved(&view->placing);
    return by == 0 ? NULL
                   : hbk_arena_printf(arena,
                                      "for a horn that reads these notes %s %s",
                                      hbk_words_interval(arena, abs(by)),
                                      by > 0 ? "higher" : "lower");
}
