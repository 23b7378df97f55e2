#ifndef HBK_TUNE_MELODY_BUILD_MARKS_H
#define HBK_TUNE_MELODY_BUILD_MARKS_H

#include "tune/melody/build.h"

/* Marks for a tune that a reader fills. */

/* The next event that is added; for a note the reader is about to add. */
struct hbk_build_spot hbk_build_at_next(const struct hbk_build *build);
struct hbk_build_spot hbk_build_at_event(size_t event);
/* The last bar that was opened, at a time from its beginning or at its end. */
struct hbk_build_spot hbk_build_at_time(const struct hbk_build *build,
                                        struct hbk_ratio time);
struct hbk_build_spot hbk_build_at_bar_end(const struct hbk_build *build);

/*
 * Adds a mark without text; NULL, with an error, when there are too many. What
 * is returned may be filled in until the next is added.
 */
struct hbk_build_mark *hbk_build_mark(struct hbk_build *build,
                                      enum hbk_tune_mark_kind kind,
                                      struct hbk_build_spot at,
                                      struct hbk_place place);

/*
 * Words of which only the words tell what they are: dynamics, a jump, how fast
 * or how to play. NULL for words that are all spaces, too.
 */
struct hbk_build_mark *hbk_build_words(struct hbk_build *build,
                                       const char *words,
                                       struct hbk_build_spot at,
                                       struct hbk_place place);

/*
 * The signs of the played order that a bar takes over from another part or
 * voice: bits of tune/melody/bar.h, and words for its end or NULL.
 */
void hbk_build_sign_marks(struct hbk_build *build, size_t bar, unsigned bits,
                          const char *words, struct hbk_place place);

/*
 * A mark that was just added goes on until hbk_build_end_line(); of more than
 * 16 at a time the oldest never ends.
 */
void hbk_build_begin_line(struct hbk_build *build, struct hbk_build_mark *mark,
                          unsigned number);
/*
 * Ends the latest with this number, a hairpin or else dashes; NULL when none
 * is open.
 */
struct hbk_build_mark *hbk_build_end_line(struct hbk_build *build,
                                          bool is_hairpin, unsigned number,
                                          struct hbk_build_spot end);

/* Adds a syllable, its events as the reader numbers them; NULL as above. */
struct hbk_tune_syllable *hbk_build_syllable(struct hbk_build *build,
                                             size_t event, unsigned verse,
                                             const char *text,
                                             struct hbk_place place);
void hbk_build_stanza(struct hbk_build *build, const char *line);

/*
 * Counts something that is in the file and not in the tune. Both names live
 * as long as the tune.
 */
void hbk_build_left_out(struct hbk_build *build, const char *one,
                        const char *many);

/*
 * The places of all marks, once events have theirs; and tells what was left
 * out.
 */
void hbk_build_place_marks(struct hbk_build *build);

#endif
