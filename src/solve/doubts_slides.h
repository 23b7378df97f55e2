#ifndef HBK_SOLVE_DOUBTS_SLIDES_H
#define HBK_SOLVE_DOUBTS_SLIDES_H

struct hbk_faults;
struct hbk_horn;

/*
 * A main slide of so little travel that it seems to be in centimetres. Two
 * slides of one valve, unless that is plausible: the valve works more than one
 * loop, as where loops compensate, or both are named after it, as in "third
 * upper" and "third lower". One that is named after another valve never is.
 */
void hbk_doubt_slides(const struct hbk_horn *horn, struct hbk_faults *faults);

#endif
