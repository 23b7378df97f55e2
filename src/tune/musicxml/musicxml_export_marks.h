#ifndef HBK_TUNE_MUSICXML_MUSICXML_EXPORT_MARKS_H
#define HBK_TUNE_MUSICXML_MUSICXML_EXPORT_MARKS_H

#include "tune/musicxml/musicxml_export_part.h"

/* The marks of a tune in a new MusicXML file (tune/melody/marks.h). */

/*
 * The directions that stand in a bar up to where an event begins, or
 * (`is_after`) up to where it ends; all of the bar for HBK_TUNE_NONE.
 */
void hbk_musicxml_put_marks(struct hbk_musicxml_export *writer, size_t bar,
                            size_t event, bool is_after);

/* The tempos up to an event that only sound and are not printed. */
void hbk_musicxml_put_sounds(struct hbk_musicxml_export *writer, size_t event);

/* Whether a fermata stands over the line at the end of a bar. */
bool hbk_musicxml_has_fermata(const struct hbk_tune *tune, size_t bar);

/* What is closed and open above a note, as children of <technical>. */
void hbk_musicxml_put_stops(const struct hbk_tune *tune, size_t event,
                            struct hbk_text *out);

/* The words that are sung to a note. */
void hbk_musicxml_put_lyrics(struct hbk_musicxml_export *writer, size_t event);

/* What stands in the head besides title and composer, and below the music. */
void hbk_musicxml_put_names(const struct hbk_tune *tune, struct hbk_text *out);
void hbk_musicxml_put_credits(const struct hbk_tune *tune,
                              struct hbk_text *out);

#endif
