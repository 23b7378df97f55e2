#ifndef HBK_SHEET_ARTICLE_SCALE_STAFF_H
#define HBK_SHEET_ARTICLE_SCALE_STAFF_H

#include "notes/scales.h"
#include "page/pad.h"

/*
 * One scale written out with its fingerings: a heading, then eight notes up and
 * seven down in four bars, the figures on one line below, an arrow over a
 * figure that asks for the lip, a curve under two figures where the move is
 * awkward, a line under a figure that is not the usual one. Lengths in mm.
 */

enum { HBK_SCALE_UP = 8, HBK_SCALE_NOTES = 15 };

/* A scale with the octave of it that is written. */
struct hbk_scale_octave {
    const struct hbk_scale *scale;
    struct hbk_scale read; /* the key as whoever reads it writes it */
    size_t first;          /* index into scale->notes: the lowest */
};

/* With which degree an octave may begin. */
enum hbk_scale_from {
    HBK_SCALE_TONIC,
    HBK_SCALE_CHORD /* the tonic; where that cannot be, fifth or third */
};

/*
 * Finds the octave: its lowest note lies on the staff's lowest line or a fourth
 * below, B3 to B flat 4 in the treble clef, G2 to F sharp 3 in the bass; where
 * the horn has not all notes of that octave, the nearest that it has. Returns
 * false if it has none.
 */
bool hbk_scale_octave_find(const struct hbk_notes *notes,
                           const struct hbk_scale *scale,
                           enum hbk_scale_from from,
                           struct hbk_scale_octave *octave);

/* Note k of HBK_SCALE_NOTES, up and down. */
const struct hbk_scale_note *
hbk_scale_octave_note(const struct hbk_scale_octave *octave, size_t k);

/* The tonic as its reader calls it: "E♭", "G♭/F♯". In the arena. */
const char *hbk_scale_tonic_read(struct hbk_arena *arena,
                                 const struct hbk_scale *scale,
                                 const struct hbk_notation *notation);
/* The same with its mode: "E♭ major". */
const char *hbk_scale_heading(struct hbk_arena *arena,
                              const struct hbk_scale *scale,
                              const struct hbk_notation *notation);

/* How all scales of a sheet are written. */
struct hbk_scale_plan {
    const struct hbk_notes *notes;
    double unit;      /* 1 for headings of 15.5 points */
    double width;     /* of the staff */
    double space;     /* between its lines */
    double prefix;    /* clef and the longest signature */
    size_t per_line;  /* HBK_SCALE_NOTES, 8 or 4: bars are not broken */
    bool closed_up;   /* "123" for "1-2-3" */
    double figure;    /* size of the figures, mm */
    bool asks_lip;    /* some scale has an arrow */
    bool has_awkward; /* some scale has a curve */
    bool has_unusual; /* some scale has an underlined figure */
};

/*
 * Whether a note is taken otherwise than with its first fingering, the one of
 * the chart: its figure is underlined.
 */
bool hbk_scale_is_unusual(const struct hbk_notes *notes,
                          const struct hbk_scale_note *note);

/* "1-2-3" as it is printed. */
const char *hbk_scale_figure(struct hbk_arena *arena,
                             const struct hbk_scale_plan *plan,
                             const struct hbk_fingering *taken);

/* Room for one note at this plan. */
double hbk_scale_pitch(const struct hbk_scale_plan *plan);

double hbk_scale_staff_height(const struct hbk_scale_plan *plan,
                              const struct hbk_scale_octave *octave);
/* Draws it with its top left corner at (x, y). */
void hbk_scale_staff_draw(struct hbk_pad *pad,
                          const struct hbk_scale_plan *plan,
                          const struct hbk_scale_octave *octave, double x,
                          double y);

#endif
