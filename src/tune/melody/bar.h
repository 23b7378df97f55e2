#ifndef HBK_TUNE_MELODY_BAR_H
#define HBK_TUNE_MELODY_BAR_H

#include "base/fault.h"
#include "tune/melody/ratio.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * A bar of a line of music, with the repeats and endings at its ends. Times
 * are as in tune/melody/tune.h.
 */

enum hbk_tune_barline {
    HBK_TUNE_BAR_PLAIN,
    HBK_TUNE_BAR_DOUBLE,
    HBK_TUNE_BAR_FINAL, /* thin, thick */
    HBK_TUNE_BAR_THICK_THIN,
    HBK_TUNE_BAR_DOTTED,
    HBK_TUNE_BAR_DASHED,
    HBK_TUNE_BAR_HEAVY,       /* one thick */
    HBK_TUNE_BAR_HEAVY_HEAVY, /* two thick */
    HBK_TUNE_BAR_TICK,        /* a short stroke through the upper line */
    HBK_TUNE_BAR_SHORT,       /* between the second and the fourth line */
    HBK_TUNE_BAR_INVISIBLE
};

/*
 * What the signs and words of a bar say about the order in which it is played;
 * bits of hbk_tune_signs.bits. tune/melody/sign_words.h reads them from words.
 */
enum {
    HBK_SIGN_SEGNO = 1,          /* at its beginning */
    HBK_SIGN_SEGNO_WITHIN = 2,   /* with SEGNO: after its first note, in fact */
    HBK_SIGN_CODA = 4,           /* the sign or word at its beginning */
    HBK_SIGN_CODA_WITHIN = 8,    /* after its first note */
    HBK_SIGN_TO_CODA = 16,       /* from its end to the coda */
    HBK_SIGN_TO_CODA_FIRST = 32, /* with TO_CODA: over its first note */
    HBK_SIGN_FINE = 64,          /* at its end */
    HBK_SIGN_DA_CAPO = 128,   /* from its end to the beginning, and then ... */
    HBK_SIGN_DAL_SEGNO = 256, /* to the segno, and then ... */
    HBK_SIGN_AL_FINE = 512,
    HBK_SIGN_AL_CODA = 1024,
    HBK_SIGN_AL_SEGNO = 2048, /* up to the segno */
    HBK_SIGN_WITH_REPEATS = 4096,
    HBK_SIGN_NO_REPEATS = 8192,
    HBK_SIGN_FINE_FIRST = 16384, /* with FINE: over its first note */
    HBK_SIGN_JUMP = HBK_SIGN_DA_CAPO | HBK_SIGN_DAL_SEGNO,
    /* The signs that are gone to. */
    HBK_SIGN_PLACE = HBK_SIGN_SEGNO | HBK_SIGN_CODA | HBK_SIGN_CODA_WITHIN
};

struct hbk_tune_signs {
    unsigned bits;
    /* What MusicXML calls the segno and coda here, and those meant; or NULL. */
    const char *segno, *coda, *dal_segno, *to_coda;
};

struct hbk_tune_bar {
    const char *number; /* as the source numbers it; a token such as "12" */
    bool implicit;      /* a pickup, or the second half of a split bar */
    struct hbk_ratio onset, length;
    size_t first, count;         /* its events */
    enum hbk_tune_barline right; /* at its end */
    bool repeat_start;           /* a repeated section begins with it */
    unsigned repeat_end; /* how often the section that ends with it is played;
                            0 without a repeat, else 2 to 64 */
    const char *ending;  /* "1" or "1,3" if an ending begins with it, or NULL */
    uint64_t ending_passes; /* bit n - 1 set for the n-th time through */
    bool ending_stop;       /* an ending ends with it */
    const char *jump;       /* "D.C. al Fine" or the like at its end; several
                               with "; " between them; or NULL */
    struct hbk_tune_signs signs;
    char part; /* ABC: the letter of the part that begins with it, or 0 */
    /*
     * Of a bar of rest with which a rest of several bars begins that the source
     * writes as one: how many they are, 2 or more; else 0. The others follow
     * as bars of their own, with 0.
     */
    unsigned rests;
    struct hbk_place place;
};

#endif
