#ifndef HBK_REPORT_PASSAGE_H
#define HBK_REPORT_PASSAGE_H

#include "base/text.h"
#include "page/mark.h"
#include "page/paper.h"
#include "passage/passage.h"

/* A passage as it is to be shown. Borrows everything. */
struct hbk_passage_view {
    const struct hbk_notes *notes;
    const struct hbk_keywork *keywork;
    const struct hbk_tune *tune; /* as this horn reads it */
    const struct hbk_passage *passage;
    double quarters;   /* the tempo asked for; 0 for the tune's own */
    int moved;         /* semitones by which the part was moved */
    size_t first, end; /* bars shown: [first, end) */
    size_t others;     /* other choices shown for each note */
    bool other_ways;   /* also show the next best ways as a whole */
    bool only_departures;
    bool sounding; /* also name the notes as they sound */
};

/* Whether the event stands in one of the bars shown. */
bool hbk_passage_in_bars(const struct hbk_passage_view *view, size_t event);

/* Whether the event is to be shown: its bar and what is asked for. */
bool hbk_passage_shows(const struct hbk_passage_view *view, size_t event);

/* How many written notes of the bars shown are what. */
struct hbk_passage_counts {
    size_t notes; /* that the horn has */
    size_t departures, hard;
    size_t out; /* of reach */
};

struct hbk_passage_counts
hbk_passage_count(const struct hbk_passage_view *view);

/* Whether a way differs from all cheaper ones in the bars shown. */
bool hbk_passage_is_new_way(const struct hbk_passage_view *view, size_t way);

/* "dotted quarter = 84, as written"; in the arena. */
const char *hbk_passage_tempo(const struct hbk_passage_view *view,
                              struct hbk_arena *arena);

/*
 * A tempo in quarter notes a minute as one would say it at that event, in the
 * beat that the tune counts there or, where the user gave a tempo, in
 * quarters: "dotted quarter = 72". Rounded down; in the arena.
 */
const char *hbk_passage_pace(const struct hbk_passage_view *view, size_t event,
                             double quarters, struct hbk_arena *arena);

/* "The part is moved up by a tone for this horn", NULL when it is not. */
const char *hbk_passage_moved(const struct hbk_passage_view *view,
                              struct hbk_arena *arena);
/* "for a horn that reads these notes a tone higher", likewise. */
const char *hbk_passage_reads(const struct hbk_passage_view *view,
                              struct hbk_arena *arena);

/*
 * The hard places of the bars shown, the worst first, those alike told once
 * and no more than a dozen: "bar 8, beat 1.25, D4 to E4: ...; playable from
 * about quarter = 135 down". The last line says from which tempo all are.
 */
const char *const *hbk_passage_hard(const struct hbk_passage_view *view,
                                    struct hbk_arena *arena, size_t *n);

/* Bar by bar, one line a note. */
void hbk_passage_text(const struct hbk_passage_view *view,
                      struct hbk_text *out);

/* The same for other programs. */
void hbk_passage_json(const struct hbk_passage_view *view,
                      struct hbk_text *out);

/*
 * The part engraved, with its fingerings. As hbk_sheet_part(): `sheet` is
 * zero-initialised but for its arena.
 */
enum hbk_status hbk_passage_part(const struct hbk_passage_view *view,
                                 const struct hbk_sheet_options *options,
                                 bool circles, const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
