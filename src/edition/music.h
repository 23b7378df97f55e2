#ifndef HBK_EDITION_MUSIC_H
#define HBK_EDITION_MUSIC_H

#include "edition/perform.h"
#include "tune/melody/document.h"

/*
 * Whether music of that format goes into the user's own text, else it is
 * written anew: where the format holds it (hbk_tune_holds()), and its notes
 * stay where they are. What is asked for elsewhere, or read otherwise than the
 * horn is written, is never written there.
 */
bool hbk_music_is_own(const struct hbk_tune_document *document,
                      const struct hbk_performed *performed,
                      enum hbk_tune_format format);

/*
 * The music with the fingerings of the bars shown, those of the best way and,
 * where they were asked for, the next ones: into the user's own text, where
 * the notes stay as they are, or written anew (hbk_music_is_own()) as the horn
 * reads it.
 *
 * document   the tune that was performed
 * format     HBK_TUNE_ABC, HBK_TUNE_MUSICXML or HBK_TUNE_MXL
 * out        receives the bytes of the file; its arena, what they come from
 */
enum hbk_status hbk_music_write(const struct hbk_tune_document *document,
                                const struct hbk_performed *performed,
                                enum hbk_tune_format format,
                                struct hbk_text *out,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
