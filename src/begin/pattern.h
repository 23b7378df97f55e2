#ifndef HBK_BEGIN_PATTERN_H
#define HBK_BEGIN_PATTERN_H

#include "base/fault.h"
#include "begin/answers.h"

struct hbk_horn;
struct hbk_site;

/*
 * The patterns that come with the program, as far as a horn can be begun from
 * them: those described by a fundamental that is a note. What was measured on
 * an object is that object's and no pattern.
 */
struct hbk_pattern {
    const char *name; /* "cornet-b-flat" */
    struct hbk_horn *horn;
    int fundamental; /* the note of its partial 1 at its own pitch */
};

struct hbk_patterns {
    struct hbk_arena *arena; /* borrowed */
    size_t n;
    struct hbk_pattern *items; /* in the order of their names */
};

/*
 * Reads them all. HBK_ERR_INPUT, with the reason, where there is none; what
 * cannot be read is told and left out. Finish them before the arena.
 */
enum hbk_status hbk_patterns_read(struct hbk_arena *arena,
                                  struct hbk_patterns *patterns,
                                  struct hbk_faults *faults) HBK_MUST_CHECK;
void hbk_patterns_finish(struct hbk_patterns *patterns);

/*
 * The pattern most like what was said: of its kind, with as many keys and
 * valves, that are open, called and made so. `answers->kind` is known.
 */
const struct hbk_pattern *
hbk_pattern_nearest(const struct hbk_patterns *patterns,
                    const struct hbk_answers *answers);

/* What a player of such a horn would say of it, where he did not. */

/* Keys or valves: as given, else as most have. */
size_t hbk_answers_keys(const struct hbk_answers *answers);
size_t hbk_answers_valves(const struct hbk_answers *answers);
/* Semitones by which valve i lowers, negative where it raises. */
int hbk_answers_lowers(const struct hbk_answers *answers, size_t i);

/* The hole or loop that a control works alone; NULL for none. */
const struct hbk_site *hbk_pattern_site(const struct hbk_horn *horn,
                                        size_t control);
/* Control of that kind, counted from 0 in the order of the file; or -1. */
int hbk_pattern_control(const struct hbk_horn *horn, enum hbk_control_kind kind,
                        size_t i);
/* Semitones by which a valve lowers, negative where it raises. */
int hbk_pattern_lowers(const struct hbk_horn *horn, size_t control);

#endif
