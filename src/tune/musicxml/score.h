#ifndef HBK_TUNE_MUSICXML_SCORE_H
#define HBK_TUNE_MUSICXML_SCORE_H

#include "tune/melody/build.h"
#include "tune/melody/document.h"
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

/* A note or rest that is read, or what else stands in a measure, in time. */
struct hbk_musicxml_item {
    xmlNode *node;  /* of a chord the note that is read */
    xmlNode *first; /* of a chord the first one, else the same */
    size_t order;   /* in the file */
    struct hbk_ratio onset, length; /* in whole notes, from the bar line */
    bool is_read;                   /* a note or rest of the line */
    bool is_cut; /* shorter than written, for its own line goes on */
};

enum { HBK_MUSICXML_SPLITS_MAX = 8 };

/* One measure of the chosen part; as many bars as bar lines part it into. */
struct hbk_musicxml_measure {
    const xmlNode *content; /* its children are notes, attributes, ... */
    const xmlNode *element; /* carries number and implicit */
    const char *number;
    size_t n_items;
    struct hbk_musicxml_item *items; /* of the line that is read, by time */
    struct hbk_ratio reach;          /* furthest that any voice came */
    size_t bar;                      /* the first that it became */
    size_t n_splits;                 /* bar lines within it that part it */
    const xmlNode *splits[HBK_MUSICXML_SPLITS_MAX];
};

struct hbk_musicxml_reader {
    struct hbk_build build;
    const char *file;
    struct hbk_arena *arena;
    size_t n_measures, room_measures;
    struct hbk_musicxml_measure *measures;
    const char *bar; /* the number of the measure at hand */
    int staff;       /* the one that is read, from 1 */

    struct hbk_ratio divisions;           /* of a quarter note; 0 until given */
    struct hbk_musicxml_measure *measure; /* that is read */
    struct hbk_ratio begun;               /* the last bar, in its measure */
    struct hbk_ratio cursor;              /* in the bar, in whole notes */
    struct hbk_ratio filled; /* end of the last event of the line */
    size_t tuplet;           /* open, or HBK_TUNE_NONE */
    bool tuplet_is_marked;   /* by its own start sign */
    struct hbk_ratio tuplet_sum;
    unsigned depth;    /* signs of tuplets that are open */
    size_t nest_first; /* the first tuplet since none was */
    unsigned nests;    /* tuplets with others in them so far */
    bool has_transpose;
    bool transpose_told;
    bool was_chord; /* the last note was one of several */

    const char *jump; /* one that only sounds, still to be printed; or NULL */
    struct hbk_build_spot jump_at;
    struct hbk_place jump_place;

    size_t room_notes;
    xmlNode **notes;
};

/* Finds the part and its measures; false with an error recorded. */
bool hbk_musicxml_find_part(struct hbk_musicxml_reader *reader,
                            const xmlNode *root,
                            const struct hbk_tune_options *options);
/*
 * Lays the measures out in time and leaves in them what belongs to the line
 * that is asked for; false with an error recorded.
 */
bool hbk_musicxml_find_line(struct hbk_musicxml_reader *reader,
                            const struct hbk_tune_options *options);

void hbk_musicxml_attributes(struct hbk_musicxml_reader *reader,
                             const xmlNode *node);
void hbk_musicxml_direction(struct hbk_musicxml_reader *reader,
                            const xmlNode *node);
void hbk_musicxml_sound(struct hbk_musicxml_reader *reader,
                        const xmlNode *node);
void hbk_musicxml_barline(struct hbk_musicxml_reader *reader,
                          const xmlNode *node);
/*
 * At a bar line within a measure: begins another bar of the same number at the
 * cursor. False where nothing divides the music there; and, with the bar line
 * counted as not shown, where it would cut a note.
 */
bool hbk_musicxml_split(struct hbk_musicxml_reader *reader,
                        const xmlNode *barline, enum hbk_tune_barline style);
void hbk_musicxml_note(struct hbk_musicxml_reader *reader,
                       const struct hbk_musicxml_item *item);
/* What says in which order the bars are played; all measures are read. */
void hbk_musicxml_signs(struct hbk_musicxml_reader *reader,
                        const xmlNode *root);
/* Titles, creators and what else stands at the head of the score. */
void hbk_musicxml_heading(struct hbk_musicxml_reader *reader,
                          const xmlNode *root);
/* What an item of a measure prints besides notes; the cursor is at it. */
void hbk_musicxml_mark(struct hbk_musicxml_reader *reader, const xmlNode *node);
void hbk_musicxml_direction_marks(struct hbk_musicxml_reader *reader,
                                  const xmlNode *node);
/* What notes print besides themselves, when all of them are read. */
void hbk_musicxml_note_marks(struct hbk_musicxml_reader *reader);
/* An ornament with a sign of its own, and not the roll that we write. */
bool hbk_musicxml_is_strange(struct hbk_arena *arena, const xmlNode *ornament);
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
/* The divisions that attributes give; false with an error recorded. */
bool hbk_musicxml_divisions(struct hbk_musicxml_reader *reader,
                            const xmlNode *attributes);
/*
 * A rest up to `until` where the line has nothing: a player counts it, whether
 * the file skips it, hides its rest or has a cue or a drum there. One that is
 * shorter than a 64th is hidden.
 */
bool hbk_musicxml_fill(struct hbk_musicxml_reader *reader,
                       struct hbk_ratio until, struct hbk_place place);
/* The duration of a note, backup or forward; false with an error recorded. */
bool hbk_musicxml_duration(struct hbk_musicxml_reader *reader,
                           const xmlNode *node, struct hbk_ratio *duration);

#endif
