#ifndef HBK_TESTS_TAUGHT_H
#define HBK_TESTS_TAUGHT_H

#include "lesson/order.h"
#include "support/solved.h"

#include "horn/stuck_list.h"

#include <stdlib.h>

/* Lessons of one horn, and what must hold of any. */
struct taught {
    struct solved s;
    const struct hbk_lessons *lessons;
};

/* `stuck` as on the command line; NULL for a whole horn. */
static inline void taught_open(struct taught *t, const char *name,
                               const char *stuck)
{
    solved_read(&t->s, name);
    struct hbk_text why = {.arena = &t->s.arena};
    if (stuck != NULL &&
        !hbk_stuck_parse(&t->s.horn, NULL, stuck, &t->s.setting.stuck, &why)) {
        fail_msg("%s %s: %s", name, stuck, hbk_text_string(&why));
    }
    solved_run(&t->s);
    t->lessons = hbk_lessons_of(&t->s.notes, 0, 0, &t->s.arena);
}

static inline void taught_close(struct taught *t)
{
    solved_close(&t->s);
}

/* In which lesson a written note is taught; 0 in none. */
static inline size_t lesson_of(const struct hbk_lessons *lessons, int written)
{
    for (size_t i = 0; i < lessons->n; i++) {
        for (size_t k = 0; k < lessons->lessons[i].n_new; k++) {
            if (lessons->lessons[i].added[k].written == written) {
                return lessons->lessons[i].number;
            }
        }
    }
    return 0;
}

static inline size_t lesson_of_name(const struct taught *t, const char *name)
{
    return lesson_of(t->lessons, note_of(name));
}

/* Every shipped horn, and horns in need: worked out once for all tests. */
struct taught_horn {
    const char *name, *stuck; /* stuck: NULL for a whole horn */
    struct taught t;
};

struct taught_horns {
    struct hbk_arena arena;
    size_t n;
    struct taught_horn *of;
};

struct taught_need {
    const char *horn, *stuck;
};

static inline void taught_horns_open(struct taught_horns *horns,
                                     const struct taught_need need[],
                                     size_t n_need)
{
    size_t n = 0;
    const struct hbk_shipped_horn *const shipped =
        all_shipped(&horns->arena, &n);
    horns->of = HBK_ARENA_ARRAY(&horns->arena, struct taught_horn, n + n_need);
    for (size_t i = 0; i < n + n_need; i++) {
        struct taught_horn *const horn = &horns->of[horns->n++];
        horn->name = i < n ? shipped[i].name : need[i - n].horn;
        horn->stuck = i < n ? NULL : need[i - n].stuck;
        taught_open(&horn->t, horn->name, horn->stuck);
    }
}

static inline void taught_horns_close(struct taught_horns *horns)
{
    for (size_t i = 0; i < horns->n; i++) {
        taught_close(&horns->of[i].t);
    }
    hbk_arena_finish(&horns->arena);
}

/* The lesson after which all notes of a tune are known, from 1; 0 for none. */
static inline size_t ready_for(const struct hbk_lessons *lessons,
                               const struct hbk_tune *tune)
{
    for (size_t i = 0; i < lessons->n; i++) {
        bool knows_all = true;
        for (size_t e = 0; e < tune->n_events; e++) {
            knows_all = knows_all && (tune->events[e].kind == HBK_TUNE_REST ||
                                      hbk_lesson_knows(&lessons->lessons[i],
                                                       tune->events[e].note));
        }
        if (knows_all) {
            return lessons->lessons[i].number;
        }
    }
    return 0;
}

#endif
