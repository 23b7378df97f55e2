#ifndef HBK_LESSON_STUDY_JUDGE_H
#define HBK_LESSON_STUDY_JUDGE_H

#include "lesson/study_line.h"

/*
 * What a line breaks of the rules: HBK_LINE_WRONG and more where it breaks one
 * that no study may break (leaps, cadence, new notes), less where it could only
 * be better; the least is the best.
 */
#define HBK_LINE_WRONG 1000.0
double hbk_line_judge(const struct hbk_ground *ground,
                      const struct hbk_line *line);

#endif
