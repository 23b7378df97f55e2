#ifndef HBK_SOLVE_RANKING_H
#define HBK_SOLVE_RANKING_H

#include "horn/hands.h"
#include "notes/notes.h"
#include "solve/fingering_prices.h"

/* Which of the two a horn has; of keys, if it has any. */
double hbk_ranking_untaught(const struct hbk_horn *horn);

/*
 * The cost of one fingering whose press, partial, cents, response are
 * set; what is charged for leaving what is taught is added later, when all
 * fingerings of the note are known. `finger_price` from hbk_hands_assign(),
 * `raise` from hbk_column_raise().
 */
double hbk_ranking_cost(const struct hbk_horn *horn,
                        const struct hbk_fingering *fingering,
                        double finger_price, double raise);

/*
 * Order of two fingerings of one note: cost, then lower partial, then the
 * smaller press number, so that no two runs differ. For qsort().
 */
int hbk_ranking_compare(const void *a, const void *b);

#endif
