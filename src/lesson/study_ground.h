#ifndef HBK_LESSON_STUDY_GROUND_H
#define HBK_LESSON_STUDY_GROUND_H

#include "lesson/study_line.h"

/* Chooses key and tonic; every new note is among the notes. */
struct hbk_ground hbk_ground_of(const struct hbk_study_wish *wish);

#endif
