#ifndef HBK_PASSAGE_SUIT_H
#define HBK_PASSAGE_SUIT_H

#include "passage/ease.h"
#include "passage/passage.h"

/*
 * How well a horn suits a part, as one number from 0 to 100 that falls by
 *
 *   reach        80, and up to 20 more by the share of notes, for notes
 *                that the horn has not: a horn that plays the whole part
 *                always stands above one that does not, since the others
 *                together take 80 at most;
 *   octave       5 for each octave that the part is moved for it, up to 10:
 *                what stays where it is written is what was asked for;
 *   pitch        up to 20, in proportion to the cents by which all its notes
 *                lie off the pitch asked for, which it cannot reach; all at
 *                40 cents. Cents of notes are of the pitch it has, so this is
 *                charged once, for the horn; by the measure of the tuning,
 *                since beside others a note is as far off by the one as by
 *                the other;
 *   tuning       up to 20, in proportion to the root mean square of the
 *                cents, each note as long as it sounds; all at 40 cents;
 *   difficulty   1 for every move that is too quick, up to 10, and up to 10
 *                by how hurried the moves are; all of that when the moves of
 *                a quarter of the notes are too quick altogether;
 *   comfort      up to 10, by the share of the time in the extreme notes of
 *                the horn (hbk_notes_extreme).
 *
 * Tuning and hurry are those of passage/ease.h; its third part, how much of the
 * time needs care, is told and not charged, since the ranking has charged weak
 * fingerings already. The measures and their weights are our own choice,
 * without a source.
 */
#define HBK_SUIT_OUT 80.0
#define HBK_SUIT_OUT_SHARE 20.0
#define HBK_SUIT_OCTAVE 5.0
#define HBK_SUIT_OCTAVES 10.0
#define HBK_SUIT_PITCH 20.0
#define HBK_SUIT_PITCH_CENTS 40.0
#define HBK_SUIT_TUNING 20.0
#define HBK_SUIT_TUNING_CENTS 40.0
#define HBK_SUIT_DIFFICULTY 20.0
#define HBK_SUIT_DIFFICULTY_ALL 0.25
#define HBK_SUIT_TOO_QUICK 1.0
#define HBK_SUIT_COMFORT 10.0

/* A note out of reach. */
struct hbk_suit_out {
    const char *bar; /* as the tune numbers it; borrowed from the tune */
    int written;     /* for this horn */
};

struct hbk_suit {
    size_t n_notes; /* written notes, ties counted once, with grace notes */
    size_t n_out;
    const struct hbk_suit_out *out; /* in the order of the tune */
    double a4_hz;                   /* the pitch asked for, */
    double pitch_hz;                /* the one the horn has, */
    double left_cents;              /* and from the first to the second */
    double rms_cents;               /* of the notes in reach, at pitch_hz */
    double worst_cents;             /* with its sign */
    int worst_written;
    const char *worst_bar;    /* "" when nothing sounds */
    double care_share;        /* of the time on notes that need care, 0 to 1 */
    double hurry;             /* 0 to 1, a mean over the notes in reach */
    size_t n_hard;            /* moves for which there is not time enough */
    double playable_quarters; /* tempo at which all have it; 0: as it is */
    double quarters;          /* the tempo at the hardest place */
    double extreme_share;     /* of the time, 0 to 1 */
    double lost_reach, lost_octave, lost_pitch;
    double lost_tuning, lost_difficulty, lost_comfort;
    double score;
    /*
     * The whole measure of passage/ease.h in squared cents, as of a scale
     * (passage/scale.h): what the cents are beyond the lip's, each note as long
     * as it sounds, and the mean of the moves with what hands find awkward.
     */
    double ease_price;
};

/* Points lost of the 100, all together; may be more than that. */
double hbk_suit_lost(const struct hbk_suit *suit);

/*
 * Looks at the part with the fingerings of hbk_passage_find().
 *
 * request   the tune as written for this horn; `ways` at least 1
 * arena     owns the result, which borrows the tune
 *
 * Errors as hbk_passage_find().
 */
enum hbk_status hbk_suit_find(const struct hbk_passage_request *request,
                              struct hbk_arena *arena,
                              struct hbk_suit *suit) HBK_MUST_CHECK;

#endif
