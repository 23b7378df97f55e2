#ifndef HBK_LESSON_STUDY_LINE_H
#define HBK_LESSON_STUDY_LINE_H

#include "base/dice.h"
#include "lesson/study_wish.h"

/* A study while it is made: a line of notes and rests, in eighths of 4/4. */

enum {
    HBK_LINE_BARS = 8,
    HBK_LINE_BAR_NOTES = 6,
    HBK_LINE_MOST = HBK_LINE_BARS * HBK_LINE_BAR_NOTES,
    HBK_LINE_EIGHTHS = 8, /* of a bar */
    HBK_LINE_REST = -1
};

struct hbk_line_note {
    int written; /* or HBK_LINE_REST */
    int eighths;
    bool breath;       /* a breath mark after it */
    bool slur, unslur; /* a slur begins, ends */
};

struct hbk_line {
    size_t n;
    struct hbk_line_note notes[HBK_LINE_MOST];
    size_t n_bars; /* that are full or begun */
    size_t first[HBK_LINE_BARS];
};

void hbk_line_open_bar(struct hbk_line *line);
void hbk_line_add(struct hbk_line *line, int written, int eighths);

/* The notes a study may use, and where it is at home. */
enum { HBK_GROUND_NOTES = 128 };
struct hbk_ground {
    const struct hbk_study_wish *wish;
    size_t n;
    int notes[HBK_GROUND_NOTES]; /* written, rising */
    int place[HBK_GROUND_NOTES]; /* of a written note among them, or -1 */
    bool
        begins[HBK_GROUND_NOTES]; /* of each: whether a study may begin on it */
    size_t tonic;                 /* index of the note it ends on */
    /* Indices of the notes from which it is reached at the end: by step, or by
       leap where no step is to be had. */
    size_t n_closers;
    size_t closers[HBK_GROUND_NOTES];
    int fifths; /* of the signature for the pupil */
    /* Of written notes: it is reached and left by step. */
    bool by_step[HBK_GROUND_NOTES];
    int resolves[HBK_GROUND_NOTES]; /* of these: where it leads; -1 nowhere */
    /* Of indices: barred, or not by step where it must be. */
    bool avoided[HBK_GROUND_NOTES][HBK_GROUND_NOTES];
    /* Of indices: the fingers cannot be asked for that yet without a rest. */
    bool barred[HBK_GROUND_NOTES][HBK_GROUND_NOTES];
};

/*
 * From one written note to another in semitones; among open notes two for
 * each place, since the next is what a step is elsewhere.
 */
int hbk_ground_interval(const struct hbk_ground *ground, int from, int to);

/* One line by lot that has the form of a study. */
void hbk_line_draw(const struct hbk_ground *ground, struct hbk_dice *dice,
                   struct hbk_line *line);

#endif
