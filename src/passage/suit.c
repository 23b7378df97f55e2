#include "passage/suit.h"

#include "passage/find.h"
#include "tune/melody/unfold.h"

#include <math.h>
#include <stdlib.h>

struct look {
    const struct hbk_passage_request *request;
    const struct hbk_passage *passage;
    struct hbk_arena *arena;
    const double *seconds; /* how long each event sounds in all */
    struct hbk_ease ease;
    struct hbk_suit suit;
};

/* How long each written event sounds, all its times together. */
static enum hbk_status listen(struct look *look)
{
    const struct hbk_passage_request *const request = look->request;
    struct hbk_tune_performance performance;
    HBK_TRY(hbk_tune_unfold(request->tune, request->quarters, look->arena,
                            &performance));
    double *const seconds =
        HBK_ARENA_ARRAY(look->arena, double, request->tune->n_events + 1);
    for (size_t i = 0; i < performance.n; i++) {
        seconds[performance.items[i].event] += performance.items[i].length_s;
    }
    look->seconds = seconds;
    return HBK_OK;
}

static const char *bar_of(const struct look *look, size_t event)
{
    const struct hbk_tune *const tune = look->request->tune;
    return tune->bars[tune->events[event].bar].number;
}

static void look_at_reach(struct look *look)
{
    const struct hbk_passage *const passage = look->passage;
    struct hbk_suit_out *const out =
        HBK_ARENA_ARRAY(look->arena, struct hbk_suit_out, passage->n_out + 1);
    for (size_t i = 0; i < passage->n_out; i++) {
        out[i] = (struct hbk_suit_out){
            .bar = bar_of(look, passage->out[i]),
            .written = look->request->tune->events[passage->out[i]].note};
    }
    look->suit.n_notes = passage->n + passage->n_out;
    look->suit.n_out = passage->n_out;
    look->suit.out = out;
}

static void look_at_pitch(struct look *look)
{
    const struct hbk_notes *const notes = look->request->notes;
    look->suit.a4_hz = notes->setting.a4_hz;
    look->suit.pitch_hz = notes->tuned.pitch_hz;
    look->suit.left_cents = notes->tuned.left_cents;
}

static void look_at_notes(struct look *look)
{
    const struct hbk_passage *const passage = look->passage;
    const struct hbk_tune *const tune = look->request->tune;
    struct hbk_suit *const suit = &look->suit;
    double extreme = 0.0;
    for (size_t i = 0; i < passage->n; i++) {
        const struct hbk_passage_note *const note = &passage->notes[i];
        const double length_s = look->seconds[note->event];
        hbk_ease_add_note(&look->ease, note->candidates->of[note->taken],
                          length_s, note->event);
        extreme += hbk_notes_extreme(look->request->notes,
                                     tune->events[note->event].note)
                       ? length_s
                       : 0.0;
    }
    const struct hbk_ease *const ease = &look->ease;
    suit->worst_bar = "";
    if (passage->n > 0) {
        suit->worst_cents = ease->worst_cents;
        suit->worst_written = tune->events[ease->worst].note;
        suit->worst_bar = bar_of(look, ease->worst);
    }
    if (ease->weight > 0.0) {
        suit->rms_cents = hbk_ease_rms_cents(ease);
        suit->care_share = hbk_ease_care_share(ease);
        suit->extreme_share = extreme / ease->weight;
    }
}

/* What hands find awkward between a note and the one before it. */
static unsigned reasons_of(const struct look *look,
                           const struct hbk_passage_note *note)
{
    const struct hbk_passage_note *const before =
        &look->passage->notes[note->before];
    return hbk_move_choose(look->request->keywork,
                           &before->candidates->grips[before->taken],
                           &note->candidates->grips[note->taken])
        .move.reasons;
}

static void look_at_moves(struct look *look)
{
    const struct hbk_passage *const passage = look->passage;
    double worst = 0.0;
    for (size_t i = 0; i < passage->n; i++) {
        const struct hbk_passage_note *const note = &passage->notes[i];
        if (note->before == HBK_TUNE_NONE) {
            continue;
        }
        const struct hbk_ease_move move = {.reasons = reasons_of(look, note),
                                           .need_s =
                                               fmax(note->hands_s, note->lip_s),
                                           .available_s = note->available_s};
        hbk_ease_add_move(&look->ease, &move);
        if (note->playable_quarters > 0.0 && note->quarters > 0.0 &&
            note->quarters / note->playable_quarters > worst) {
            worst = note->quarters / note->playable_quarters;
            look->suit.playable_quarters = note->playable_quarters;
            look->suit.quarters = note->quarters;
        }
    }
    look->suit.hurry =
        passage->n > 0 ? look->ease.hurry / (double)passage->n : 0.0;
    look->suit.n_hard = passage->n_hard;
}

double hbk_suit_lost(const struct hbk_suit *suit)
{
    return suit->lost_reach + suit->lost_octave + suit->lost_pitch +
           suit->lost_tuning + suit->lost_difficulty + suit->lost_comfort;
}

static void reckon(struct hbk_suit *suit, int octaves)
{
    suit->lost_octave = fmin(HBK_SUIT_OCTAVE * abs(octaves), HBK_SUIT_OCTAVES);
    const double out_share =
        suit->n_notes > 0 ? (double)suit->n_out / (double)suit->n_notes : 0.0;
    suit->lost_reach =
        suit->n_out > 0 ? HBK_SUIT_OUT + (HBK_SUIT_OUT_SHARE * out_share) : 0.0;
    suit->lost_pitch = HBK_SUIT_PITCH *
                       fmin(fabs(suit->left_cents) / HBK_SUIT_PITCH_CENTS, 1.0);
    suit->lost_tuning =
        HBK_SUIT_TUNING * fmin(suit->rms_cents / HBK_SUIT_TUNING_CENTS, 1.0);
    const double half = 0.5 * HBK_SUIT_DIFFICULTY;
    suit->lost_difficulty =
        fmin(HBK_SUIT_TOO_QUICK * (double)suit->n_hard, half) +
        (half * fmin(suit->hurry / HBK_SUIT_DIFFICULTY_ALL, 1.0));
    suit->lost_comfort = HBK_SUIT_COMFORT * suit->extreme_share;
    suit->score = fmax(100.0 - hbk_suit_lost(suit), 0.0);
}

enum hbk_status hbk_suit_find(const struct hbk_passage_request *request,
                              struct hbk_arena *arena, struct hbk_suit *suit)
{
    struct hbk_passage passage;
    struct look look = {
        .request = request, .passage = &passage, .arena = arena};
    HBK_TRY(hbk_passage_find(request, arena, &passage));
    HBK_TRY(listen(&look));
    look_at_reach(&look);
    look_at_pitch(&look);
    look_at_notes(&look);
    look_at_moves(&look);
    const struct hbk_ease *const ease = &look.ease;
    look.suit.ease_price =
        (ease->weight > 0.0 ? ease->beyond / ease->weight : 0.0) +
        hbk_ease_mean_price(ease);
    reckon(&look.suit, request->octaves);
    *suit = look.suit;
    return HBK_OK;
}
