#ifndef HBK_TUNE_MELODY_BUILD_OFTEN_H
#define HBK_TUNE_MELODY_BUILD_OFTEN_H

#include "tune/melody/build.h"

/*
 * Remembers, for the last bar that was opened, a warning that many notes of a
 * tune may give. `one` is what is said of a single note and is copied; `many`
 * follows the number of notes and lives as long as the tune.
 */
void hbk_build_often(struct hbk_build *build, struct hbk_place place,
                     unsigned number, const char *one, const char *many);

/* Gives each of them as one warning with its bars, which have numbers now. */
void hbk_build_tell_often(struct hbk_build *build);

#endif
