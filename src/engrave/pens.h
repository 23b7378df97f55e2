#ifndef HBK_ENGRAVE_PENS_H
#define HBK_ENGRAVE_PENS_H

/*
 * Weights of lines in staff spaces, from the SMuFL standard layout and its
 * reference font's published defaults (w3c.github.io/smufl).
 */
#define HBK_ENG_STAFF_PEN 0.13
#define HBK_ENG_LEDGER_PEN 0.16
#define HBK_ENG_LEDGER_BEYOND 0.4
#define HBK_ENG_STEM_PEN 0.12
#define HBK_ENG_BEAM 0.5
#define HBK_ENG_BEAM_STEP 0.75 /* a beam and the gap of 0.25 below it */
#define HBK_ENG_BAR_PEN 0.16
#define HBK_ENG_THICK_PEN 0.5
#define HBK_ENG_BAR_GAP 0.4
#define HBK_ENG_DOT_RADIUS 0.2
#define HBK_ENG_BRACKET_PEN 0.16

#endif
