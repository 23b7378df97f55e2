#ifndef HBK_PASSAGE_MOVE_H
#define HBK_PASSAGE_MOVE_H

#include "horn/hands.h"

/*
 * What the hands do between two presses, and the time they need for it.
 *
 * Only two presses in succession are ever compared, never three: how tired a
 * finger is from the moves before is not looked at.
 */

/*
 * Opening or closing a flute key takes 10 ms when a finger pushes it and 16
 * ms when a spring returns it (Almeida, Chow, Smith and Wolfe 2009, J.
 * Acoust. Soc. Am., from the abstract). Brass keys and valves are heavier,
 * so these are the least.
 */
#define HBK_MOVE_DOWN_S 0.010
#define HBK_MOVE_UP_S 0.016

/*
 * Fingers meant to move together do so tens of milliseconds apart, the more
 * the more fingers move (same source). The figure for each finger beyond
 * the first is our own choice.
 */
#define HBK_MOVE_SPREAD_S 0.010

/*
 * What an index finger needs beside the key's own time before it can do the
 * next thing: our own choice, no source. Chosen so that one finger makes
 * about 14 changes a second, as in a quick trill.
 */
#define HBK_MOVE_FINGER_S 0.055

/*
 * One finger goes down while another comes up, and nothing wrong may sound
 * in between: players keep to paths without a wrong note (Almeida and others
 * 2009). The figure is our own choice, no source.
 */
#define HBK_MOVE_CROSSED_S 0.020
/*
 * Where both fingers may be down for a moment and one of the two notes still
 * sounds, they need not meet so closely: half of that. Our own choice.
 */
#define HBK_MOVE_SAFE 0.5

/* Two thumbs one after the other: our own choice, no source. */
#define HBK_MOVE_THUMBS_S 0.015

/*
 * Two fingers in turn tap 50 % faster than one finger alone (Aoki and
 * Kinoshita 2001, Ergonomics 44, from the abstract). So a finger that must
 * leave one control and land on another needs 1.5 times the sum of both
 * strokes, and fingers of different hands cross in 1 / 1.5 of the time.
 */
#define HBK_MOVE_SAME_FINGER 1.5

/*
 * How much slower than the index a finger is. That ring and little finger
 * are slower than index and middle: Aoki, Furuya and Kinoshita 2005, Motor
 * Control 9, from the abstract. The figures are our own choice, no source.
 */
#define HBK_MOVE_THUMB 1.10
#define HBK_MOVE_MIDDLE 1.05
#define HBK_MOVE_RING 1.30
#define HBK_MOVE_LITTLE 1.20

/*
 * How much slower than a slim piston an action is: a long stroke takes
 * longer, a quarter turn less (common practice); the figures are our own
 * choice, no source.
 */
#define HBK_MOVE_EARLY_PISTON 1.25
#define HBK_MOVE_WIDE_PISTON 1.10
#define HBK_MOVE_DOUBLE_PISTON 1.15
#define HBK_MOVE_ROTARY 0.90
#define HBK_MOVE_STRING_ROTARY 0.95
/* A trigger is drawn, not struck. Our own choice, no source. */
#define HBK_MOVE_TRIGGER 1.50

/*
 * A stroke that the file gives counts in proportion to a slim piston's 16 mm
 * (from memory), within these bounds. Our own choice, no source.
 */
#define HBK_MOVE_USUAL_STROKE_M 0.016
#define HBK_MOVE_LEAST_STROKE 0.80
#define HBK_MOVE_MOST_STROKE 1.50

/*
 * Large pads near the bell are slower than small ones (common practice):
 * 1 + (diameter - 15 mm) / 60 mm, our own choice, no source. From 22 mm on
 * a pad is called large.
 */
#define HBK_MOVE_SMALL_PAD_M 0.015
#define HBK_MOVE_PAD_SCALE_M 0.060
#define HBK_MOVE_LARGE_PAD_M 0.022

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

/* Returns false, and leaves `grip`, when the hands cannot make the press. */
bool hbk_grip_make(const struct hbk_keywork *keywork, uint32_t press,
                   struct hbk_grip *grip);

/*
 * The grips of one press, where keys lie under more than one finger: the
 * cheapest first, which is that of hbk_grip_make(), and no more than so many.
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

enum { HBK_MOVE_WORDS_SIZE = 240 };

/*
 * The reasons that are in `which` in words, the weightiest first: "the left
 * index jumps from key 6 to key 7; 3 fingers move at once". Without any, what
 * moves: "the right index presses valve 1", and the key that stays open
 * beneath, if that is in `which`; "" when nothing does. UTF-8.
 */
char *hbk_move_words(const struct hbk_keywork *keywork,
                     const struct hbk_grip *from, const struct hbk_grip *to,
                     unsigned which, char words[HBK_MOVE_WORDS_SIZE]);

/* The same of the move that hbk_move_choose() takes. */
char *hbk_passing_words(const struct hbk_keywork *keywork,
                        const struct hbk_grips *from,
                        const struct hbk_grips *to, unsigned which,
                        char words[HBK_MOVE_WORDS_SIZE]);

/* And of two presses; "" when the hands cannot make one of them. */
char *hbk_presses_words(const struct hbk_keywork *keywork, uint32_t from,
                        uint32_t to, unsigned which,
                        char words[HBK_MOVE_WORDS_SIZE]);

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
