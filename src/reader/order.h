#ifndef HBK_READER_ORDER_H
#define HBK_READER_ORDER_H

#include "base/arena.h"
#include "base/fault.h"

#include <stdbool.h>

/*
 * An order: what to print for whom. charts/order.schema.json describes the
 * file. What concerns a single horn (its crooks, mouthpieces, what is stuck) is
 * checked when that horn is read, so that one player's slip spoils no other's
 * sheets.
 */

/* What can be printed for a player; the words are those of the file. */
enum hbk_order_kind {
    HBK_ORDER_PLATE,    /* the usual chart */
    HBK_ORDER_WALL,     /* with all alternates, for the wall */
    HBK_ORDER_STAND,    /* the large one for the stand */
    HBK_ORDER_CARD,     /* for the pocket */
    HBK_ORDER_LARGE,    /* in large print */
    HBK_ORDER_TRILLS,   /* the trill table */
    HBK_ORDER_SCALES,   /* how well each key suits the horn */
    HBK_ORDER_SLIDES,   /* how far each slide is drawn */
    HBK_ORDER_PRIMER,   /* a booklet to learn the horn from */
    HBK_ORDER_PART,     /* a tune with its fingerings */
    HBK_ORDER_PRACTICE, /* its hard places alone */
    HBK_ORDER_KIND_COUNT
};

/* "wall", ... */
const char *hbk_order_kind_name(enum hbk_order_kind kind);

/* Whether such a sheet has music: a struct hbk_order_part. */
bool hbk_order_kind_has_music(enum hbk_order_kind kind);

/* What every sheet is written as; the words are those of the file. */
enum hbk_order_format {
    HBK_ORDER_PDF,
    HBK_ORDER_SVG,
    HBK_ORDER_PNG,
    HBK_ORDER_FORMAT_COUNT
};

/* "pdf", ..., which is also how the names of such files end. */
const char *hbk_order_format_name(enum hbk_order_format format);

/* A word of the file with its place, NULL where it is not given. */
struct hbk_order_word {
    const char *text;
    struct hbk_place place;
};

/*
 * Octave and key of a part, each a word that music/moving.h takes; NULL where
 * it is not given. One of the last two at most.
 */
struct hbk_order_moving {
    const char *octave, *transpose, *to_key;
};

/* The music of a part; all of it means what the options of `passage` mean. */
struct hbk_order_part {
    struct hbk_order_word file; /* a path as seen from here */
    struct hbk_order_word tune; /* of a book: its number or title */
    struct hbk_order_word part; /* of a score: its id, name or number */
    struct hbk_order_word voice;
    int line; /* of a divided part (tune/melody/line.h): 1 is the top one, 2
                 the next, -1 the bottom one; 0 where it is not given */
    struct hbk_order_word bars; /* "23-26" or "23" */
    double tempo;               /* quarter notes a minute; NAN: its own */
    long choices;               /* others under each note; -1: as usual */
    bool circles;
    bool keep;
    bool only_departures;
    bool from_sounding;
    bool says_sounding; /* whether from_sounding is given, be it false */
    struct hbk_order_moving moving;
};

/* How a primer is wanted; all of it means what the options of `primer` mean. */
struct hbk_order_primer {
    bool fold, large;
    struct hbk_order_word range; /* "C4-G4" */
};

struct hbk_order_sheet {
    enum hbk_order_kind kind;
    const char *paper; /* "A3" to "A6" or "Letter" */
    const char *title; /* in place of the horn's or the tune's; or NULL */
    struct hbk_place place;
    struct hbk_order_part part;     /* of a sheet with music alone */
    struct hbk_order_primer primer; /* of a primer alone */
};

/*
 * How a horn is set before it is played, and who reads it; what is not given is
 * as the horn's own file has it. At most one of the two temperatures is given.
 */
struct hbk_order_setting {
    double a4_hz;             /* NAN when not given */
    double temperature_c;     /* mean of the air in the horn; NAN */
    double room_c;            /* what the thermometer on the wall says; NAN */
    const char *valve_slides; /* "in", "own" or "best"; NULL */
    const char *reads;        /* "treble", "treble-bflat", ...; NULL */
    const char *names;        /* "english", "german" or "solfege"; NULL */
    bool as_played;           /* as the player of the horn's file plays it */
};

struct hbk_order_player {
    const char *name;
    struct hbk_order_word horn;       /* a path as seen from here, or shipped */
    struct hbk_order_word crook;      /* its name */
    struct hbk_order_word mouthpiece; /* its name */
    struct hbk_order_word stuck;      /* see horn/stuck.h */
    struct hbk_order_word knows;      /* another horn, like `horn` */
    double lip_cents;                 /* NAN when not given */
    struct hbk_order_setting setting; /* the order's where theirs is silent */
    bool sounding;
    struct hbk_order_moving moving; /* for parts that say nothing else */
    size_t n_sheets;
    const struct hbk_order_sheet *sheets;
};

struct hbk_order {
    struct hbk_arena arena; /* owns every string and array */
    const char *band;
    enum hbk_order_format format;
    double dpi;       /* of a png; NAN when not given */
    size_t n_players; /* at least 1, with a sheet each */
    const struct hbk_order_player *players;
};

/* Releases everything. A zeroed order is fine. */
void hbk_order_finish(struct hbk_order *order);

#endif
