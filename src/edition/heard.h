#ifndef HBK_EDITION_HEARD_H
#define HBK_EDITION_HEARD_H

#include "base/fault.h"
#include "edition/perform.h"

/*
 * A passage as it sounds on this horn: every note in the order played, at the
 * pitch of its fingering as the horn gives it, deviation and all, so that run
 * and intonation can be heard.
 *
 * Tempo, repeats, ties, rests and grace notes are those that the fingerings
 * were found for (passage/timing.h). Under a slur one tone goes over into the
 * next, else there is a little silence between; a staccato note sounds half
 * of its length, a staccatissimo a third. A trill is played with the fingering
 * that was found for it. What is not available is silent. Fermatas are not
 * held, turns and mordents not played.
 */

/* The silence before a note that is tongued; a fifth of the note at most. */
#define HBK_HEARD_TONGUE_S 0.030

/* What a file of sound may last, in seconds. */
#define HBK_HEARD_MOST_S 3600.0

/*
 * The bars shown (hbk_perform_bars), as often as they are played and with
 * nothing between, as the bytes of a WAVE file (sound/wave.h).
 *
 * arena   receives the bytes
 *
 * Returns HBK_OK, or HBK_ERR_INPUT with the reason in `faults` when it lasts
 * longer than HBK_HEARD_MOST_S.
 */
enum hbk_status hbk_heard(const struct hbk_performed *performed,
                          struct hbk_arena *arena, char **bytes, size_t *length,
                          struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
