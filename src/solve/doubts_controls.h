#ifndef HBK_SOLVE_DOUBTS_CONTROLS_H
#define HBK_SOLVE_DOUBTS_CONTROLS_H

struct hbk_faults;
struct hbk_horn;

/*
 * Keys numbered from the wrong end; several that raise alike, or an open one
 * said to be shut. Either that does more than any, valves that do next to
 * nothing, or two the same, or that one finger would have to press at once.
 */
void hbk_doubt_keys(const struct hbk_horn *horn, struct hbk_faults *faults);
void hbk_doubt_valves(const struct hbk_horn *horn, struct hbk_faults *faults);

#endif
