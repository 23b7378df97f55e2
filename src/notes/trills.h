#ifndef HBK_NOTES_TRILLS_H
#define HBK_NOTES_TRILLS_H

#include "notes/notes.h"

/* The trills of a horn as plain results; passage/trill.h finds them. */

/*
 * Easy is one finger on one partial that needs no more than
 * HBK_TRILL_SLOW_S (passage/trill.h) and is free: ring and little finger trill
 * badly while another finger of their hand holds a key or valve down, and so
 * does the thumb while ring or little finger hold (common practice, no source;
 * for B to C sharp and C sharp to D sharp of the keyed bugle inferred from the
 * fingers).
 */
enum hbk_trill_kind {
    HBK_TRILL_NONE,    /* one of the two notes is out of reach */
    HBK_TRILL_EASY,    /* one free finger, on one partial */
    HBK_TRILL_AWKWARD, /* more than that */
    HBK_TRILL_LIP      /* by the lip alone, on one press */
};

struct hbk_trill {
    enum hbk_trill_kind kind;
    int written;  /* the lower note */
    int interval; /* 1 or 2 semitones */
    /* Borrowed from the notes; NULL for HBK_TRILL_NONE. */
    const struct hbk_fingering *main, *upper;
    unsigned reasons; /* of passage/move.h, either way */
    double least_s;   /* what hands and lip need for one note of it */
    double price;     /* in squared cents; less is better */
    /* What the player does; "" for HBK_TRILL_NONE, NULL outside the table. */
    const char *words;
};

/* The trills of every written note, from the lowest on. */
struct hbk_trills {
    size_t n; /* as notes->n */
    const struct hbk_trill *half, *whole;
};

/*
 * Both notes of a trill from `note` on, spelled on neighbouring letters: C
 * sharp to D, but D flat to E flat; F to G flat, but E to F sharp.
 */
struct hbk_spelling hbk_trill_lower(int note, int interval);
struct hbk_spelling hbk_trill_upper(int note, int interval);

/* "easy", "awkward", "by lip", "none". */
const char *hbk_trill_kind_name(enum hbk_trill_kind kind);

#endif
