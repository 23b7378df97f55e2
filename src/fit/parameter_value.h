#ifndef HBK_FIT_PARAMETER_VALUE_H
#define HBK_FIT_PARAMETER_VALUE_H

#include "fit/parameter.h"

struct hbk_arena;

/* A value as the file has it, and what its deviation means for it. */
struct hbk_parameter_value {
    double value;     /* with d put in */
    double per_d;     /* by how much it moves for a small d */
    const char *unit; /* "mm", "%", "cents", "semitones", "ml", "Hz" */
    int decimals;     /* that are worth writing into a file */
};

struct hbk_parameter_value
hbk_parameter_value(const struct hbk_parameters *parameters, size_t i,
                    double d);

/* "loop of valve 1", "place of key 3"; lives in the arena. */
const char *hbk_parameter_words(const struct hbk_parameters *parameters,
                                size_t i, struct hbk_arena *arena);

#endif
