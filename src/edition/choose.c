#include "edition/choose.h"

#include "base/messages.h"
#include "edition/place.h"
#include "passage/passage.h"
#include "solve/fingering_prices.h"
#include "tune/melody/transpose.h"
#include "tune/melody/unfold.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum hbk_status hbk_choose_check(const struct hbk_tune *tune,
                                 struct hbk_faults *faults)
{
    struct hbk_arena scratch = {0};
    struct hbk_tune_performance performance;
    const bool fits =
        hbk_tune_unfold(tune, (double)NAN, &scratch, &performance) == HBK_OK &&
        performance.n <= HBK_PASSAGE_PLAYED_MAX;
    hbk_arena_finish(&scratch);
    if (fits) {
        return HBK_OK;
    }
    hbk_fault_add(faults, (struct hbk_place){.file = tune->file},
                  HBK_H_TOO_LONG_TO_CHOOSE,
                  "as it is played, with its repeats, the tune has more than "
                  "%d notes and rests; choose by a part of it",
                  HBK_PASSAGE_PLAYED_MAX);
    return HBK_ERR_INPUT;
}

/* What was found, with what it keeps copied from the scratch memory. */
static void keep_suit(const struct hbk_suit *suit, struct hbk_arena *keep,
                      struct hbk_chosen *chosen)
{
    struct hbk_suit_out *const out =
        HBK_ARENA_ARRAY(keep, struct hbk_suit_out, suit->n_out + 1);
    for (size_t i = 0; i < suit->n_out; i++) {
        out[i] = suit->out[i];
    }
    chosen->suit = *suit;
    chosen->suit.out = out;
}

enum hbk_status
hbk_choose_try(const struct hbk_choose_ask *ask, const struct hbk_notes *notes,
               struct hbk_arena *keep, struct hbk_arena *scratch,
               struct hbk_chosen *chosen, struct hbk_faults *faults)
{
    struct hbk_tune tune;
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    struct hbk_keywork keywork;
    hbk_keywork_make(notes->horn, &prices, &keywork);
    chosen->written_c4_sounds = notes->written_c4_sounds;
    chosen->as_played = notes->setting.as_played ? notes->horn : NULL;
    HBK_TRY(hbk_place(&ask->perform, ask->tune, notes, &keywork,
                      &chosen->placing, faults));
    chosen->unwritable =
        hbk_tune_transposed(ask->tune, hbk_placing_moved(&chosen->placing),
                            scratch, &tune) != HBK_OK;
    if (chosen->unwritable) {
        chosen->suit = (struct hbk_suit){.a4_hz = notes->setting.a4_hz,
                                         .pitch_hz = notes->tuned.pitch_hz,
                                         .left_cents = notes->tuned.left_cents,
                                         .lost_reach = 100.0};
        return HBK_OK;
    }
    const struct hbk_passage_request request = {.notes = notes,
                                                .keywork = &keywork,
                                                .tune = &tune,
                                                .quarters = ask->perform.tempo,
                                                .ways = 1,
                                                .octaves =
                                                    chosen->placing.octaves};
    struct hbk_suit suit;
    HBK_TRY(hbk_suit_find(&request, scratch, &suit));
    /* Bars are named by the tune itself, which outlives the copy. */
    keep_suit(&suit, keep, chosen);
    return HBK_OK;
}

static int by_score(const void *a, const void *b)
{
    const struct hbk_chosen *const x = a;
    const struct hbk_chosen *const y = b;
    if (x->suit.score != y->suit.score) {
        return x->suit.score > y->suit.score ? -1 : 1;
    }
    if (x->suit.rms_cents != y->suit.rms_cents) {
        return x->suit.rms_cents < y->suit.rms_cents ? -1 : 1;
    }
    return strcmp(x->word, y->word);
}

struct hbk_choice hbk_choose_from(const struct hbk_choose_ask *ask, size_t n,
                                  struct hbk_chosen horns[])
{
    const double tempo = ask->perform.tempo;
    if (n > 0) {
        qsort(horns, n, sizeof(horns[0]), by_score);
    }
    return (struct hbk_choice){
        .title = ask->tune->title,
        .semitones = ask->perform.moving.semitones,
        .line = ask->tune->line,
        .tempo_assumed = hbk_tune_is_tempo_assumed(ask->tune, tempo),
        .quarters = hbk_tune_quarters_at(ask->tune, 0, tempo),
        .n = n,
        .horns = horns};
}
