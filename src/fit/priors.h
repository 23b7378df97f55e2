#ifndef HBK_FIT_PRIORS_H
#define HBK_FIT_PRIORS_H

/*
 * What is assumed of notes tried on an unsigned horn before any is read; how
 * it is used, fit/identify.h says.
 */

/* The overall pitch may be as far off, one standard deviation. */
#define HBK_IDENTIFY_PITCH_CENTS 200.0
/* What the model of a layout leaves out, as cents of one note. */
#define HBK_IDENTIFY_MODEL_CENTS 8.0
/* The share of slips among notes tried. */
#define HBK_IDENTIFY_SLIP 0.02

#endif
