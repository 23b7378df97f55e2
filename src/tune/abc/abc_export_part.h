#ifndef HBK_TUNE_ABC_ABC_EXPORT_PART_H
#define HBK_TUNE_ABC_ABC_EXPORT_PART_H

#include "base/text.h"
#include "tune/melody/document.h"
#include "tune/melody/lost.h"
#include "tune/melody/mark_stops.h"

/* A new ABC file in the making, shared by those who write its parts. */

struct hbk_abc_export {
    const struct hbk_tune *tune;
    const struct hbk_tune_fingering *fingerings;
    struct hbk_text *out;
    size_t texts;                   /* below the notes, so far */
    size_t n_others;                /* of these, those that are no fingerings */
    struct hbk_text others;         /* and their numbers */
    struct hbk_text signs;          /* waiting for their note or bar line */
    size_t line;                    /* the event that its line begins with */
    size_t key, meter, clef, tempo; /* the next change of each */
    struct hbk_mark_stops stops;
    const struct hbk_tune_syllable **sung; /* by verse, the last so far */
    struct hbk_lost lost;
    int alter[7][12]; /* signs in the bar, as the reader has it */
    bool marked[7][12];
    int latest[7];
};

/* The fields before the music. */
void hbk_abc_put_header(struct hbk_abc_export *writer);
/* The key, clef and meter that change at an event, in brackets. */
void hbk_abc_put_changes(struct hbk_abc_export *writer, size_t event);
/* The tempos up to an event that are not yet written, likewise. */
void hbk_abc_put_tempos(struct hbk_abc_export *writer, size_t event);
/* Q: with words, "" for none, and a number, unless `tempo` is NULL. */
void hbk_abc_put_tempo(struct hbk_text *out, const char *words,
                       const struct hbk_tune_tempo *tempo);
/* The same for a mark, with the number of the tempo that begins there. */
void hbk_abc_put_tempo_mark(struct hbk_abc_export *writer,
                            const struct hbk_tune_mark *mark,
                            struct hbk_text *out);

/*
 * The marks in a bar up to where an event begins, all of the bar for
 * HBK_TUNE_NONE: to `fields` what stands in brackets, to `signs` what stands
 * right before a note or bar line.
 */
void hbk_abc_put_marks(struct hbk_abc_export *writer, size_t bar, size_t event,
                       struct hbk_text *fields, struct hbk_text *signs);

/* The words under the events from one to before another, a line a verse. */
void hbk_abc_put_words(struct hbk_abc_export *writer, size_t from, size_t to);
/* The words below the music. */
void hbk_abc_put_stanzas(const struct hbk_abc_export *writer);

#endif
