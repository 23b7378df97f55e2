#include "edition/place.h"

#include "base/messages.h"
#include "horn/about.h"
#include "music/fifths.h"
#include "passage/suit.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>

enum {
    OCTAVE = 12,
    TRITONE = 6,
    SEMITONE = 7, /* on the line of fifths */
    SIGNS_MOST = 7
};

/* All that is known of the question, so that it can be handed on as one. */
struct search {
    const struct hbk_perform_ask *ask;
    const struct hbk_tune *tune;
    const struct hbk_notes *notes;
    const struct hbk_keywork *keywork;
    int for_horn;
};

/* One place that the part might have. */
struct spot {
    int octaves, semitones;
    size_t n_out; /* SIZE_MAX where it cannot be written */
    double lost;  /* points of passage/suit.h; 0 until it is judged */
    double price; /* of the key; NAN likewise */
};

static bool is_low_clef(const struct hbk_tune_clef *clef)
{
    return clef->sign == 'F' || clef->sign == 'C';
}

/* How a part is taken by a horn for which its clef decides nothing. */
static enum hbk_taken taken_as(const struct hbk_perform_ask *ask,
                               const struct hbk_tune *tune)
{
    return ask->from_sounding || tune->concert ? HBK_TAKEN_SOUNDING
           : tune->says_transposition || tune->transpose != 0
               ? HBK_TAKEN_STATED
               : HBK_TAKEN_WRITTEN;
}

static void take(const struct search *search, struct hbk_placing *placing)
{
    const struct hbk_tune *const tune = search->tune;
    const struct hbk_horn *const horn = search->notes->horn;
    placing->taken = taken_as(search->ask, tune);
    if (placing->taken == HBK_TAKEN_WRITTEN && is_low_clef(&tune->clefs[0]) &&
        hbk_horn_clef(horn) == HBK_TREBLE) {
        placing->taken = HBK_TAKEN_SOUNDING;
        placing->by_clef = true;
    }
    if (placing->taken != HBK_TAKEN_WRITTEN) {
        placing->for_horn =
            hbk_tune_shift_for(tune, search->notes->written_c4_sounds,
                               placing->taken == HBK_TAKEN_SOUNDING);
    }
}

static int moved_by(const struct search *search, const struct spot *spot)
{
    return search->for_horn + (OCTAVE * spot->octaves) + spot->semitones;
}

/* Written notes that the horn has not; SIZE_MAX beyond what can be named. */
static size_t count_out(const struct search *search, int semitones)
{
    const struct hbk_tune *const tune = search->tune;
    const int read = search->notes->notation.shift;
    size_t n = 0;
    for (size_t e = 0; e < tune->n_events; e++) {
        const int written = tune->events[e].note + semitones;
        if (tune->events[e].kind == HBK_TUNE_REST || tune->events[e].tie_stop) {
            continue;
        }
        if (written < 0 || written > HBK_NOTE_MAX || written + read < 0 ||
            written + read > HBK_NOTE_MAX) {
            return SIZE_MAX;
        }
        const struct hbk_note *const note =
            hbk_notes_find(search->notes, written);
        n += note == NULL || note->n == 0 ? 1 : 0;
    }
    return n;
}

/* Signs in the signature, a mean over the notes. */
static double signs_of(const struct hbk_tune *tune)
{
    double signs = 0.0;
    double n = 0.0;
    for (size_t e = 0; e < tune->n_events; e++) {
        if (tune->events[e].kind != HBK_TUNE_REST) {
            signs += abs(hbk_tune_key_at(tune, e)->fifths);
            n += 1.0;
        }
    }
    return n > 0.0 ? signs / n : 0.0;
}

/* Plays the part through there. */
static enum hbk_status judge(const struct search *search, struct spot *spot)
{
    struct hbk_arena scratch = {0};
    struct hbk_tune written;
    struct hbk_tune read;
    struct hbk_suit suit;
    const int by = moved_by(search, spot);
    enum hbk_status status =
        hbk_tune_transposed(search->tune, by, &scratch, &written);
    if (status == HBK_OK) {
        status = hbk_tune_transposed(
            search->tune, by + search->notes->notation.shift, &scratch, &read);
    }
    if (status == HBK_OK) {
        const struct hbk_passage_request request = {.notes = search->notes,
                                                    .keywork = search->keywork,
                                                    .tune = &written,
                                                    .quarters =
                                                        search->ask->tempo,
                                                    .ways = 1,
                                                    .octaves = spot->octaves};
        status = hbk_suit_find(&request, &scratch, &suit);
    }
    if (status == HBK_OK) {
        /* The nearer octave, also of those that cost a horn the same. */
        spot->lost = hbk_suit_lost(&suit) - suit.lost_octave +
                     (HBK_SUIT_OCTAVE * abs(spot->octaves));
        spot->price = suit.ease_price + (HBK_PLACE_SIGN * signs_of(&read));
    }
    hbk_arena_finish(&scratch);
    return status;
}

/* The nearer one, of equals the lower. */
static bool is_nearer(int a, int b)
{
    return abs(a) != abs(b) ? abs(a) < abs(b) : a < b;
}

static bool is_better_octave(const struct spot *a, const struct spot *b)
{
    return a->n_out != b->n_out ? a->n_out < b->n_out
           : a->lost != b->lost ? a->lost < b->lost
                                : is_nearer(a->octaves, b->octaves);
}

static bool is_better_key(const struct spot *a, const struct spot *b)
{
    return a->n_out != b->n_out   ? a->n_out < b->n_out
           : a->price != b->price ? a->price < b->price
                                  : is_nearer(a->semitones, b->semitones);
}

/* Octaves to be looked at, and the fewest notes out of reach in any. */
struct octaves {
    struct spot spots[(2 * HBK_OCTAVES_MOST) + 1];
    size_t n, n_best;
    size_t fewest;
};

static void list_octaves(const struct search *search, int semitones,
                         struct octaves *octaves)
{
    const bool any = search->ask->moving.any_octave;
    const int low = any ? -HBK_OCTAVES_MOST : search->ask->moving.octaves;
    const int high = any ? HBK_OCTAVES_MOST : low;
    *octaves = (struct octaves){.fewest = SIZE_MAX};
    for (int octave = low; octave <= high; octave++) {
        struct spot *const spot = &octaves->spots[octaves->n++];
        *spot = (struct spot){
            .octaves = octave, .semitones = semitones, .price = (double)NAN};
        spot->n_out = count_out(search, moved_by(search, spot));
        if (spot->n_out < octaves->fewest) {
            octaves->fewest = spot->n_out;
            octaves->n_best = 0;
        }
        octaves->n_best += spot->n_out == octaves->fewest ? 1 : 0;
    }
}

/*
 * The best octave at so many semitones. Only those in which fewest notes are
 * out of reach are played through, and one alone only where its price is
 * wanted: most parts have one such octave.
 */
static enum hbk_status best_octave(const struct search *search, int semitones,
                                   bool priced, struct spot *best)
{
    struct octaves octaves;
    list_octaves(search, semitones, &octaves);
    const bool plays =
        octaves.fewest != SIZE_MAX && (priced || octaves.n_best > 1);
    const struct spot *found = NULL;
    for (size_t i = 0; i < octaves.n; i++) {
        struct spot *const spot = &octaves.spots[i];
        if (plays && spot->n_out == octaves.fewest) {
            HBK_TRY(judge(search, spot));
        }
        found = found == NULL || is_better_octave(spot, found) ? spot : found;
    }
    *best = *found;
    return HBK_OK;
}

/* The key within the reach, each in its best octave. */
static enum hbk_status best_key(const struct search *search, struct spot *best)
{
    const int reach = search->ask->moving.reach;
    for (int by = -reach; by <= reach; by++) {
        struct spot spot;
        HBK_TRY(best_octave(search, by, true, &spot));
        if (by == -reach || is_better_key(&spot, best)) {
            *best = spot;
        }
    }
    return HBK_OK;
}

/* To the key of that note: the shorter way, of both the one down. */
static enum hbk_status to_key(const struct search *search,
                              struct hbk_placing *placing,
                              struct hbk_faults *faults)
{
    const struct hbk_tune_key *const from = &placing->stays.key;
    const struct hbk_spelling tonic = hbk_tune_tonic(from);
    const int by =
        search->ask->moving.tonic - hbk_fifths_of(tonic.step, tonic.alter);
    const int signature = from->fifths + by;
    if (abs(signature) > SIGNS_MOST) {
        hbk_fault_add(faults, hbk_whole_file(search->tune->file),
                      HBK_H_TOO_MANY_SIGNS,
                      "in that key the part would have %d %s, more than any "
                      "signature has",
                      abs(signature), signature < 0 ? "flats" : "sharps");
        return HBK_ERR_INPUT;
    }
    const int up = hbk_rest_of(SEMITONE * by, OCTAVE);
    placing->semitones = up >= TRITONE ? up - OCTAVE : up;
    placing->read.spelling = HBK_MOVE_SPELLED;
    placing->read.fifths = signature - search->tune->keys[0].fifths;
    return HBK_OK;
}

/* What is to be said of a place without playing the part through. */
static struct hbk_place_found look(const struct search *search,
                                   const struct spot *spot)
{
    const int by = moved_by(search, spot);
    return (struct hbk_place_found){.n_out = count_out(search, by),
                                    .price = spot->price};
}

/* The semitones that are asked for, and how they are spelled. */
static enum hbk_status asked_semitones(const struct search *search,
                                       struct hbk_placing *placing,
                                       struct hbk_faults *faults)
{
    const struct hbk_moving *const moving = &search->ask->moving;
    placing->semitones = moving->semitones;
    if (moving->to_key) {
        return to_key(search, placing, faults);
    }
    if (moving->spelled) {
        placing->read.spelling = HBK_MOVE_LEANING;
        placing->read.fifths = placing->stays.key.fifths -
                               search->tune->keys[0].fifths + moving->fifths;
    }
    return HBK_OK;
}

/* Octave and semitones. */
static enum hbk_status find_spot(const struct search *search,
                                 struct hbk_placing *placing,
                                 struct hbk_faults *faults)
{
    struct spot best = {.price = (double)NAN};
    struct spot stays = {.price = (double)NAN};
    if (search->ask->moving.any_key) {
        HBK_TRY(best_key(search, &best));
        HBK_TRY(best_octave(search, 0, true, &stays));
    } else {
        HBK_TRY(asked_semitones(search, placing, faults));
        HBK_TRY(best_octave(search, placing->semitones, false, &best));
    }
    placing->octaves = best.octaves;
    placing->semitones = best.semitones;
    placing->found = look(search, &best);
    const struct hbk_tune_key from = placing->stays.key;
    placing->stays = look(search, &stays);
    placing->stays.key = from;
    return HBK_OK;
}

enum hbk_status
hbk_place(const struct hbk_perform_ask *ask, const struct hbk_tune *tune,
          const struct hbk_notes *notes, const struct hbk_keywork *keywork,
          struct hbk_placing *placing, struct hbk_faults *faults)
{
    struct search search = {
        .ask = ask, .tune = tune, .notes = notes, .keywork = keywork};
    *placing = (struct hbk_placing){.octave_looked_for = ask->moving.any_octave,
                                    .key_looked_for = ask->moving.any_key,
                                    .reach = ask->moving.reach};
    take(&search, placing);
    search.for_horn = placing->for_horn;
    const struct hbk_tune_move plain = {.semitones = placing->for_horn +
                                                     notes->notation.shift};
    placing->stays.key = hbk_tune_key_moved(tune, &plain);
    HBK_TRY(find_spot(&search, placing, faults));
    placing->read.semitones =
        hbk_placing_moved(placing) + notes->notation.shift;
    placing->found.key = hbk_tune_key_moved(tune, &placing->read);
    placing->rekeyed = placing->found.key.fifths != placing->stays.key.fifths;
    return HBK_OK;
}
