#ifndef HBK_SOLVE_ORIGIN_H
#define HBK_SOLVE_ORIGIN_H

#include "base/fault.h"
#include "notes/notes.h"
#include "solve/tuning.h"

/*
 * Where the first fingering of a note and its tuning come from.
 *
 * The open partial p is that of the note 12 log2 p semitones, rounded, above
 * the fundamental; the press is to lead from there to the note in whole
 * semitones. The cents of the fingering are the sum of what the open note is
 * off and of what the press does beyond the whole semitones, both as they are
 * heard, so as the table has them. How far above the maximum of the tube they
 * are heard (acoustics/ear.h) may be the reason of either.
 */
struct hbk_origin {
    const struct hbk_note *note;       /* borrowed */
    const struct hbk_fingering *first; /* NULL: the note is not available */
    int open_note;                     /* written note of the open partial */
    double open_cents;                 /* as heard, off that note */
    double natural_cents;              /* off it in a series of whole numbers */
    double press_cents; /* beyond the semitones wanted, as heard; 0 without */
    /*
     * What the same press does beyond those semitones on most of the partials
     * that are used, their median, as heard.
     */
    double usual_press_cents;
    /* Heard above the maximum: the open note, and the press more than that. */
    double open_lift_cents, press_lift_cents; /* 0 by length */
    /* Semitones that the key pressed alone is named for; else those wanted. */
    int own;
    size_t n_pressed;
    /*
     * Index of the key that is pressed and opens the hole nearest the
     * mouthpiece, or -1; of the valve or key that is pressed alone, or -1.
     */
    int opens, alone;
    /*
     * What is taught, where it is not the first: the nearest, from however
     * far off. press 0 and partial 0 where nothing taught comes near.
     */
    bool has_taught;
    struct hbk_fingering taught;
    /*
     * A fingering on a partial to avoid that is nearer than the first by
     * HBK_LIP_TOLD_CENTS, and not taught; or NULL.
     */
    const struct hbk_fingering *avoided;
};

/*
 * The horn once more for players who bend a note by half an octave, so that
 * what is taught is found however far off it lies.
 *
 * setup   the one that the notes were found with
 * arena   owns the result
 *
 * Errors as hbk_solve_as_set().
 */
enum hbk_status hbk_origin_wide(const struct hbk_notes *notes,
                                const struct hbk_setup *setup,
                                struct hbk_arena *arena, struct hbk_notes *wide,
                                struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * note     of the compass of `notes`
 * wide     of hbk_origin_wide()
 * origin   result; borrows from `notes`
 *
 * Errors as hbk_column_peaks().
 */
enum hbk_status hbk_origin_of(const struct hbk_notes *notes,
                              const struct hbk_notes *wide,
                              const struct hbk_setup *setup,
                              const struct hbk_note *note,
                              struct hbk_origin *origin,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
