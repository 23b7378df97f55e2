#ifndef HBK_NOTES_ORIGIN_H
#define HBK_NOTES_ORIGIN_H

#include "notes/notes.h"

/*
 * Where the first fingering of a note and its tuning come from: the partial
 * it is on, as the open horn has it, and what the press does to that partial.
 * The cents of the fingering are the sum of both.
 *
 * The open partial p is that of the note 12 log2 p semitones, rounded, above
 * the fundamental; the press is to lead from there to the note in whole
 * semitones. What is off at the partial is off on every fingering of it; what
 * is off at the press is the doing of its loops or holes.
 */
struct hbk_origin {
    const struct hbk_note *note;        /* borrowed */
    const struct hbk_fingering *first;  /* NULL: the note is not available */
    const struct hbk_fingering *taught; /* what is taught, where it is listed
                                           and is not the first; or NULL */
    int open_note;                      /* written note of the open partial */
    double open_cents;    /* off that note; NAN where it is not known */
    double natural_cents; /* off it in the series of whole numbers */
    double press_cents;   /* beyond the whole semitones wanted; 0 without a
                             press, NAN where the partial is not known */
    int control;          /* index of the key that is pressed and opens the
                             hole nearest the mouthpiece, or -1 */
    size_t n_pressed;
};

/* Of a note of the compass; the result borrows from `notes`. */
struct hbk_origin hbk_origin_of(const struct hbk_notes *notes,
                                const struct hbk_note *note);

#endif
