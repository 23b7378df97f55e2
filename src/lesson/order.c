#include "lesson/order.h"

#include "horn/horn.h"
#include "lesson/hold.h"
#include "lesson/lesson_words.h"
#include "lesson/movement.h"
#include "lesson/plan.h"

#include <stdlib.h>

/* So many calls end the lessons of a horn without a scale. */
enum { CALLS = 4 };

/* A course while it is written down. */
struct course {
    struct hbk_plan plan;
    struct hbk_arena *arena;
    struct hbk_lessons *lessons;
    size_t room, room_left;
    struct hbk_lesson *list;
    struct hbk_lesson_left *left;
    unsigned signs; /* that were seen by now */
};

/* What is known by now: notes, and hard moves. */
static void list_known(struct course *course, struct hbk_lesson *lesson)
{
    struct hbk_moves *const moves =
        HBK_ARENA_ARRAY(course->arena, struct hbk_moves, 1);
    *moves = course->plan.moves;
    lesson->moves = moves;
    int *const known = HBK_ARENA_ARRAY(course->arena, int, HBK_PLAN_NOTES);
    for (int w = 0; w < HBK_PLAN_NOTES; w++) {
        if (course->plan.taught[w] > 0) {
            known[lesson->n_known++] = w;
        }
    }
    lesson->known = known;
    lesson->low = known[0];
    lesson->high = known[lesson->n_known - 1];
}

static struct hbk_study_wish wish_of(const struct course *course,
                                     const struct hbk_lesson *lesson,
                                     int fifths)
{
    const struct hbk_horn *const horn = course->plan.pupil.notes->horn;
    /* A horn without a scale has few lessons: rhythm is what it can learn. */
    enum { AHEAD = 4 };
    const bool is_open = course->plan.first.is_open;
    struct hbk_study_wish wish = {
        .number = lesson->number,
        .rhythm = lesson->number + (is_open && lesson->number > 1 ? AHEAD : 0),
        .n_known = lesson->n_known,
        .known = lesson->known,
        .home = course->plan.pupil.home,
        .fifths = fifths,
        .clef = horn->clef,
        .moves = lesson->moves,
        .by_partials = is_open,
        .seed = horn->name};
    for (size_t i = 0; i < lesson->n_new; i++) {
        wish.added[wish.n_new++] = lesson->added[i].written;
    }
    wish.n_fresh = wish.n_new;
    return wish;
}

static void put_lesson(struct course *course, struct hbk_lesson lesson)
{
    lesson.new_signs = lesson.study.signs & ~course->signs;
    course->signs |= lesson.study.signs;
    HBK_ARENA_GROW(course->arena, course->list, course->lessons->n,
                   course->room);
    course->list[course->lessons->n++] = lesson;
    course->plan.number++;
}

/* Makes the study one of the new note and another, if that can be. */
static void pair_with(const struct course *course,
                      const struct hbk_lesson *lesson, int other,
                      struct hbk_study_wish *wish)
{
    if (!wish->paired && lesson->n_new == 1 && other >= 0 &&
        course->plan.taught[other] > 0 &&
        hbk_pupil_is_of_key(&course->plan.pupil, other, wish->fifths)) {
        wish->added[wish->n_new++] = other;
        wish->paired = true;
    }
}

/*
 * What is taken by shutting a key that stands open is practised against the
 * open note above: the leading note of a keyed horn. A step for which a finger
 * stays down is practised too.
 */
static void pair_with_known(const struct course *course,
                            const struct hbk_lesson *lesson,
                            struct hbk_study_wish *wish)
{
    const struct hbk_lesson_note *const added = &lesson->added[0];
    pair_with(course, lesson,
              hbk_pupil_open_above(&course->plan.pupil, added->written), wish);
    for (size_t i = 0; i < added->n_holds; i++) {
        pair_with(course, lesson,
                  added->holds[i].from + added->holds[i].to - added->written,
                  wish);
    }
}

static void teach_notes(struct course *course, int written)
{
    struct hbk_plan *const plan = &course->plan;
    const struct hbk_plan before = *plan;
    int notes[HBK_LESSON_NEW_MOST] = {written};
    size_t n = 1;
    plan->taught[written] = plan->number;
    const int second = hbk_plan_second(plan, written);
    if (second >= 0) {
        notes[n++] = second;
        plan->taught[second] = plan->number;
        /* The only two there are have the move between them, hard or not. */
        if (hbk_move_is_hard(&plan->pupil, written, second)) {
            hbk_moves_add(&plan->moves, written, second);
        }
    }
    struct hbk_lesson lesson = {.kind = HBK_LESSON_NOTES,
                                .number = plan->number,
                                .n_new = n,
                                .why = ""};
    struct hbk_movement along;
    const int key = hbk_plan_key(plan, notes, n);
    const bool has_along =
        hbk_movement_along(plan, key, written, &along, course->arena);
    if (has_along) {
        hbk_moves_add(&plan->moves, along.from, along.to);
    }
    const int fifths = hbk_pupil_fifths(plan->pupil.home, key);
    for (size_t i = 0; i < n; i++) {
        const struct hbk_fingering *const fingering =
            hbk_pupil_fingering(&plan->pupil, notes[i]);
        lesson.added[i] = (struct hbk_lesson_note){
            .written = notes[i],
            .spelling = hbk_spelling_in_key(notes[i], fifths),
            .fingering = fingering,
            .care = hbk_pupil_needs_care(fingering)};
    }
    list_known(course, &lesson);
    hbk_lesson_say_why(&before, key, &lesson, course->arena);
    for (size_t i = 0; i < n; i++) {
        hbk_holds_find(plan, key, &lesson.added[i], course->arena);
    }
    struct hbk_study_wish wish = wish_of(course, &lesson, key);
    if (has_along) {
        lesson.added[0].why = hbk_arena_printf(course->arena, "%s %s",
                                               lesson.added[0].why, along.why);
        pair_with(course, &lesson, along.from + along.to - written, &wish);
    }
    pair_with_known(course, &lesson, &wish);
    lesson.study = hbk_study_make(&wish, course->arena);
    put_lesson(course, lesson);
}

/* False where there is none. */
static bool teach_movement(struct course *course, enum hbk_lesson_kind kind)
{
    struct hbk_lesson lesson = {.kind = kind, .number = course->plan.number};
    struct hbk_movement movement;
    if (!hbk_movement_find(&course->plan, kind, &movement, course->arena)) {
        return false;
    }
    if (kind == HBK_LESSON_MOVE) {
        hbk_moves_add(&course->plan.moves, movement.from, movement.to);
    }
    list_known(course, &lesson);
    lesson.from = movement.from;
    lesson.to = movement.to;
    lesson.why = movement.why;
    struct hbk_study_wish wish = wish_of(course, &lesson, movement.key);
    lesson.study = hbk_movement_study(&movement, &wish, course->arena);
    put_lesson(course, lesson);
    return true;
}

/* New notes, then each hard step that they make. Movements end a part. */
static void teach_part(struct course *course, enum hbk_plan_part part)
{
    course->plan.part = part;
    for (int next = hbk_plan_next(&course->plan); next >= 0;
         next = hbk_plan_next(&course->plan)) {
        teach_notes(course, next);
        while (teach_movement(course, HBK_LESSON_MOVE)) {
        }
    }
    if (part == HBK_PLAN_OCTAVE) {
        (void)teach_movement(course, HBK_LESSON_SLUR);
    } else if (part == HBK_PLAN_KEYS) {
        (void)teach_movement(course, HBK_LESSON_CHORD);
    }
}

static void list_left(struct course *course)
{
    const struct hbk_pupil *const pupil = &course->plan.pupil;
    struct hbk_lessons *const lessons = course->lessons;
    if (course->plan.first.is_open) {
        return; /* that it has open notes only says it all */
    }
    for (int w = pupil->low; w <= pupil->high; w++) {
        const struct hbk_fingering *const fingering =
            hbk_pupil_fingering(pupil, w);
        if (course->plan.taught[w] > 0 ||
            (lessons->n == 0 && fingering != NULL)) {
            continue;
        }
        HBK_ARENA_GROW(course->arena, course->left, lessons->n_left,
                       course->room_left);
        course->left[lessons->n_left++] = (struct hbk_lesson_left){
            w, hbk_lesson_why_left(fingering, course->arena)};
    }
}

const struct hbk_lessons *hbk_lessons_of(const struct hbk_notes *notes, int low,
                                         int high, struct hbk_arena *arena)
{
    struct course course = {.arena = arena,
                            .lessons =
                                HBK_ARENA_ARRAY(arena, struct hbk_lessons, 1)};
    struct hbk_pupil *const pupil = &course.plan.pupil;
    hbk_pupil_make(notes, low, high, pupil);
    course.plan.moves.pupil = *pupil;
    course.plan.told.pupil = *pupil;
    course.plan.first = hbk_first_find(pupil, arena);
    course.plan.number = 1;
    *course.lessons = (struct hbk_lessons){.notes = notes,
                                           .home = pupil->home,
                                           .low = pupil->low,
                                           .high = pupil->high,
                                           .first = course.plan.first};
    for (int part = HBK_PLAN_FIRST;
         course.plan.first.n > 0 && part < HBK_PLAN_PARTS; part++) {
        teach_part(&course, (enum hbk_plan_part)part);
    }
    for (int i = 0; i < CALLS; i++) {
        (void)teach_movement(&course, HBK_LESSON_CALL);
    }
    list_left(&course);
    course.lessons->lessons = course.list;
    course.lessons->left = course.left;
    return course.lessons;
}

bool hbk_lesson_knows(const struct hbk_lesson *lesson, int written)
{
    for (size_t i = 0; i < lesson->n_known; i++) {
        if (lesson->known[i] == written) {
            return true;
        }
    }
    return false;
}
