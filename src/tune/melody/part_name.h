#ifndef HBK_TUNE_MELODY_PART_NAME_H
#define HBK_TUNE_MELODY_PART_NAME_H

#include "tune/melody/document.h"

/*
 * The part of a score that is somebody's by its name, where none is asked for.
 */

/*
 * Of names such as "Cornet in B♭" the one that is the player's own, or else the
 * one that says most of what the name of his horn says and nothing besides:
 * "Cornet in Bb" for "Cornet in B flat, three pistons", and neither "Cornet 1"
 * nor "Bass". The number of names where there is none, or more than one.
 */
size_t hbk_part_by_name(const struct hbk_tune_options *options,
                        const char *const names[], size_t n);

#endif
