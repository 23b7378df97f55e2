#ifndef HBK_TUNE_MUSICXML_SCORE_H
#define HBK_TUNE_MUSICXML_SCORE_H

#include "tune/melody/build.h"
#include "tune/musicxml/xml.h"

/*
 * A MusicXML file while it is read, and what is kept of it. Private to
 * src/tune/musicxml.
 */

/*
 * What is kept of a file: its bytes, the tree they were parsed to, and the
 * note element of each event.
 */
struct hbk_musicxml {
    const char *bytes;
    size_t length;
    xmlDoc *document;
    xmlNode **notes; /* by event; NULL for rests that fill a gap */
};

/* One measure of the chosen part. */
struct hbk_musicxml_measure {
    const xmlNode *content; /* its children are notes, attributes, ... */
    const xmlNode *element; /* carries number and implicit */
};

struct hbk_musicxml_reader {
    struct hbk_build build;
    const char *file;
    struct hbk_arena *arena;
    size_t n_measures, room_measures;
    struct hbk_musicxml_measure *measures;
    const char *voice; /* the one that is read */
    int staff;         /* in which it is, from 1; 0 where the file has one */

    struct hbk_ratio divisions; /* of a quarter note; 0 until given */
    struct hbk_ratio cursor;    /* in the bar, in whole notes */
    struct hbk_ratio filled;    /* end of the last event of the voice */
    struct hbk_ratio reach;     /* furthest that any voice came */
    size_t tuplet;              /* open, or HBK_TUNE_NONE */
    bool tuplet_is_marked;      /* by its own start sign */
    struct hbk_ratio tuplet_sum;
    bool has_transpose;
    bool unpitched_told, transpose_told;

    const char *jump; /* one that only sounds, still to be printed; or NULL */
    struct hbk_build_spot jump_at;
    struct hbk_place jump_place;

    size_t room_notes;
    xmlNode **notes;
};

/* Finds the part and its measures; false with an error recorded. */
bool hbk_musicxml_find_part(struct hbk_musicxml_reader *reader,
                            const xmlNode *root, const char *wanted);
/* Finds the voice; false with an error recorded. */
bool hbk_musicxml_find_voice(struct hbk_musicxml_reader *reader,
                             const char *wanted);

void hbk_musicxml_attributes(struct hbk_musicxml_reader *reader,
                             const xmlNode *node);
void hbk_musicxml_direction(struct hbk_musicxml_reader *reader,
                            const xmlNode *node);
void hbk_musicxml_sound(struct hbk_musicxml_reader *reader,
                        const xmlNode *node);
void hbk_musicxml_barline(struct hbk_musicxml_reader *reader,
                          const xmlNode *node);
/* What says in which order the bars are played; all measures are read. */
void hbk_musicxml_signs(struct hbk_musicxml_reader *reader,
                        const xmlNode *root);
void hbk_musicxml_note(struct hbk_musicxml_reader *reader, xmlNode *node);
/* Titles, creators and what else stands at the head of the score. */
void hbk_musicxml_heading(struct hbk_musicxml_reader *reader,
                          const xmlNode *root);
/* What an item of a measure prints besides notes; the cursor is at it. */
void hbk_musicxml_mark(struct hbk_musicxml_reader *reader, const xmlNode *node);
void hbk_musicxml_direction_marks(struct hbk_musicxml_reader *reader,
                                  const xmlNode *node);
/* What notes print besides themselves, when all of them are read. */
void hbk_musicxml_note_marks(struct hbk_musicxml_reader *reader);
/* "p", "sfz", or other words for dynamics. */
const char *hbk_musicxml_dynamics(struct hbk_arena *arena, const xmlNode *node);
/* The usual words for a jump that a <sound> makes, or NULL. */
const char *hbk_musicxml_sound_jump(const xmlNode *sound);
/* A <sound> without words: a jump it makes is printed if no words turn up. */
void hbk_musicxml_silent_jump(struct hbk_musicxml_reader *reader,
                              const xmlNode *sound);
void hbk_musicxml_print_jump(struct hbk_musicxml_reader *reader);
/* Whether an item belongs to the staff that is read, or to all. */
bool hbk_musicxml_is_own_staff(struct hbk_musicxml_reader *reader,
                               const xmlNode *node);
/* A hidden rest up to `until` where the voice has nothing. */
bool hbk_musicxml_fill(struct hbk_musicxml_reader *reader,
                       struct hbk_ratio until, struct hbk_place place);
/* The duration of a note, backup or forward; false with an error recorded. */
bool hbk_musicxml_duration(struct hbk_musicxml_reader *reader,
                           const xmlNode *node, struct hbk_ratio *duration);

#endif
