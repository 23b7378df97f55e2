#ifndef HBK_HORN_SLIDE_NAME_H
#define HBK_HORN_SLIDE_NAME_H

struct hbk_horn;

/*
 * The valve that a slide of that name is most likely meant for, as an index
 * of the horn's controls: the valve's own name, or its number in figures or in
 * words with no other word than valve, slide, loop, tube, upper or lower
 * ("first", "valve slide 2", "3rd upper"). -1 for none.
 */
int hbk_slide_named_valve(const struct hbk_horn *horn, const char *slide);

#endif
