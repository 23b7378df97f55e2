#ifndef HBK_HORN_HANDS_H
#define HBK_HORN_HANDS_H

#include "horn/control.h"

struct hbk_arena;
struct hbk_horn;

/*
 * Which presses the hands can make. A finger works one control at a time
 * (one touch that opens two holes is one control), so a press is possible
 * when its controls can be given different fingers.
 */

/* What a finger costs; the prices in use: solve/fingering_prices.h. */
struct hbk_finger_prices {
    double of[HBK_FINGER_COUNT];
};

/*
 * Gives each control of a press its finger so that the sum of prices is
 * least; of equal assignments the one that keeps the fingers named first in
 * the file. finger_of[i] is set for the controls of the press only.
 *
 * Returns false when the hands cannot make the press.
 */
bool hbk_hands_assign(const struct hbk_horn *horn, uint32_t press,
                      const struct hbk_finger_prices *prices,
                      enum hbk_finger finger_of[HBK_CONTROLS_MAX],
                      double *price);

/* One way to give the controls of a press their fingers. */
struct hbk_assignment {
    enum hbk_finger finger_of[HBK_CONTROLS_MAX]; /* of the press only */
    double price;
};

/*
 * Several assignments of a press, the cheapest first, at most `limit`; of
 * equal ones those first that keep the fingers named first in the file. The
 * first is that of hbk_hands_assign(). Returns how many; 0 when the hands
 * cannot make the press.
 */
size_t hbk_hands_assign_all(const struct hbk_horn *horn, uint32_t press,
                            const struct hbk_finger_prices *prices,
                            size_t limit, struct hbk_assignment *assignments);

/*
 * Every press the hands can make with the controls in `usable` and at most
 * `most` fingers, each once, rest first, in rising numerical order. Returns
 * how many; `presses` (from the arena) receives them. Stops at `limit` and
 * then returns limit + 1.
 */
size_t hbk_hands_presses(const struct hbk_horn *horn, uint32_t usable,
                         size_t most, size_t limit, struct hbk_arena *arena,
                         uint32_t **presses);

#endif
