#ifndef HBK_PASSAGE_MOVE_H
#define HBK_PASSAGE_MOVE_H

#include "horn/hands.h"

/*
 * What the hands do between two presses, and the time they need for it; the
 * times are in passage/move_times.h.
 *
 * Only two presses in succession are ever compared, never three: how tired a
 * finger is from the moves before is not looked at.
 */

/* Why a move is hard, or easier than it looks. */
enum hbk_move_reason {
    HBK_MOVE_JUMPS = 1 << 0,       /* a finger leaves a control for another */
    HBK_MOVE_SWAPS = 1 << 1,       /* a held control changes its finger */
    HBK_MOVE_CROSSED = 1 << 2,     /* one finger down, another up */
    HBK_MOVE_THUMBS = 1 << 3,      /* one thumb down, the other up */
    HBK_MOVE_HANDS = 1 << 4,       /* crossed, but between the hands */
    HBK_MOVE_WEAK = 1 << 5,        /* ring or little finger */
    HBK_MOVE_MANY = 1 << 6,        /* two fingers or more */
    HBK_MOVE_LARGE_PAD = 1 << 7,   /* a large pad */
    HBK_MOVE_LONG_STROKE = 1 << 8, /* a slow valve */
    HBK_MOVE_STAYS = 1 << 9,       /* easier: a lower key stays open */
    HBK_MOVE_UNSTEADY = 1 << 10    /* crossed, right thumb and a finger */
};

/* What the hands know of a horn; see hbk_keywork_make(). */
struct hbk_keywork {
    const struct hbk_horn *horn; /* borrowed */
    struct hbk_finger_prices prices;
    double slow[HBK_CONTROLS_MAX];  /* 1 for a slim piston or a small key */
    double pad_m[HBK_CONTROLS_MAX]; /* of the widest hole; NAN unknown */
    /* Of keys that open a hole: more is nearer the player; else NAN. */
    double height[HBK_CONTROLS_MAX];
};

/* `prices` decide which of several fingers takes a control. */
void hbk_keywork_make(const struct hbk_horn *horn,
                      const struct hbk_finger_prices *prices,
                      struct hbk_keywork *keywork);

/*
 * A press with its fingers. Controls that are stuck are no fingers' work and
 * do not belong to the press.
 */
struct hbk_grip {
    uint32_t press;
    signed char finger_of[HBK_CONTROLS_MAX];  /* -1 for none */
    signed char control_of[HBK_FINGER_COUNT]; /* -1 for none */
};

/*
 * The grips of one press, where keys lie under more than one finger: the
 * cheapest first, and no more than so many.
 */
enum { HBK_GRIPS_MAX = 6 };

struct hbk_grips {
    size_t n;
    struct hbk_grip of[HBK_GRIPS_MAX];
};

/* Returns false, with n 0, when the hands cannot make the press. */
bool hbk_grips_make(const struct hbk_keywork *keywork, uint32_t press,
                    struct hbk_grips *grips);

struct hbk_move {
    uint32_t down, up, held; /* controls */
    unsigned fingers_down;   /* sets of fingers; a jumping finger is in */
    unsigned fingers_up;     /* both */
    unsigned fingers_jump;
    unsigned reasons; /* of enum hbk_move_reason */
    double least_s;   /* what the hands need; 0 when nothing moves */
};

/* The move from one grip to another. */
struct hbk_move hbk_move_between(const struct hbk_keywork *keywork,
                                 const struct hbk_grip *from,
                                 const struct hbk_grip *to);

/* A move with the fingers that make it. */
struct hbk_passing {
    const struct hbk_grip *from, *to; /* borrowed from their grips */
    struct hbk_move move;
};

/*
 * The move from one press to another with the fingers that need the least
 * time there and back; of equal ones the cheaper grips. `from` and `to` have
 * one grip at least.
 *
 * An approximation where three presses follow each other: the middle one is
 * gripped anew for each of its two moves, and a finger that must give its key
 * to another while the note sounds is not counted.
 */
struct hbk_passing hbk_move_choose(const struct hbk_keywork *keywork,
                                   const struct hbk_grips *from,
                                   const struct hbk_grips *to);

/* The part of least_s that is there because fingers cross. */
double hbk_move_crossing_s(const struct hbk_move *move);

/*
 * What a need of `least_s` costs where `available_s` is there, in the squared
 * cents of the ranking: HBK_PRICE_PRESSED (least / available)^2, and the
 * fourth power where there is too little, up to eight times too little. Our
 * own choice, no source: as good as nothing at leisure, and when time is just
 * enough as much as being 32 cents out of tune.
 */
#define HBK_PRICE_PRESSED 1000.0
double hbk_pressed_price(double least_s, double available_s);

#endif
