#ifndef HBK_NOTES_VERDICT_H
#define HBK_NOTES_VERDICT_H

#include "base/arena.h"
#include "notes/notes.h"

/*
 * What is held of fingerings: judged once when the notes are found, for every
 * sheet and output to read. The limits are our own choice, without a source,
 * unless said otherwise.
 */

/* A fingering further off than this is unreliable, cents. */
#define HBK_UNRELIABLE_CENTS 30.0

/*
 * How far a resonance lies under the usual one of the horn, the median of its
 * first choices: down to 3 dB it still has 0.7 of the height that helps the
 * lips along, and speaks freely; at more than 10 dB it has less than a third
 * of it, and needs care.
 */
#define HBK_FREE_DB 3.0
#define HBK_CARE_DB 10.0

/*
 * From so many cents off the lips are told of it; less they do without a
 * thought. Our own choice, without a source.
 */
#define HBK_LIP_TOLD_CENTS 10.0

/* What the lips must do: 1 up (the note is flat), -1 down, 0 nothing. */
int hbk_lip_needed(double cents);

/* Nearer to its aim than this a note or a horn counts as in tune, cents. */
#define HBK_IN_TUNE_CENTS 0.5

/*
 * When a second key vents: what it opens besides leaves the pitch where the
 * first choice has it, within these cents, and lifts the resonance by so much.
 * Only of a bored horn.
 */
#define HBK_VENT_CENTS 20.0
#define HBK_VENT_DB 1.0

/* By how many cents another fingering must be nearer to be called better in
 * tune. */
#define HBK_NEARER_CENTS 5.0

/*
 * Judges every fingering, idle ones too: puts a list with `verdict`, `use` and
 * `as_for` filled in, of the arena, in the place of notes->notes. The length
 * model knows nothing of response, so neither is said there.
 */
void hbk_verdicts_make(struct hbk_notes *notes, struct hbk_arena *arena);

/*
 * Fills in `use` and `as_for` of n fingerings of one written note: what each
 * is good for beside the first of them.
 *
 * notes      found for the whole horn, for the neighbours of the note
 * aim_cents  where the note should lie, from its place in `notes`
 */
void hbk_uses_make(const struct hbk_notes *notes, int written, double aim_cents,
                   size_t n, struct hbk_fingering list[]);

/* "unreliable", "speaks freely", "needs care": the name of one verdict. */
const char *hbk_verdict_name(enum hbk_verdict verdict);

/*
 * "avoid", "vents", "better in tune", "as for", "fewer fingers", "other hand";
 * "" for none.
 */
const char *hbk_use_name(enum hbk_use use);

#endif
