#ifndef HBK_FIT_TROUBLE_PRIORS_H
#define HBK_FIT_TROUBLE_PRIORS_H

/*
 * What is assumed of readings of a horn that played well before any is looked
 * at; how it is used, fit/trouble.h says.
 */

#define HBK_TROUBLE_MODEL_CENTS 4.0
#define HBK_TROUBLE_UNFITTED_CENTS 10.0
#define HBK_TROUBLE_PITCH_CENTS 12.0
#define HBK_TROUBLE_SLIP 0.02
#define HBK_TROUBLE_ASTRAY 0.1
#define HBK_TROUBLE_OTHER_CENTS 30.0

/* How likely before any reading: sound, and none of the cases. */
#define HBK_TROUBLE_PRIOR_SOUND 0.5
#define HBK_TROUBLE_PRIOR_OTHER 0.1

#endif
