#include "lesson/study_ground.h"

#include "lesson/pupil.h"

#include <stdlib.h>

enum { OCTAVE = 12, STEP = 2, WINDOW = 12, FIFTHS_STEP = 7, FA = 5, SOL = 7 };

static int in_octave(int semitones)
{
    return ((semitones % OCTAVE) + OCTAVE) % OCTAVE;
}

/* Whether a note is of the major scale on `tonic`. */
static bool is_of_key(int written, int tonic)
{
    static const bool major[OCTAVE] = {true,  false, true,  false, true,  true,
                                       false, true,  false, true,  false, true};
    return major[in_octave(written - tonic)];
}

static bool is_added(const struct hbk_study_wish *wish, int written)
{
    for (size_t i = 0; i < wish->n_new; i++) {
        if (wish->added[i] == written) {
            return true;
        }
    }
    return false;
}

/*
 * Whether a note lies within a window about the new ones; everything does
 * where none is new.
 */
static bool is_near(const struct hbk_study_wish *wish, int window, int written)
{
    bool near = wish->n_new == 0;
    for (size_t i = 0; i < wish->n_new; i++) {
        near = near || abs(written - wish->added[i]) <= window;
    }
    return near;
}

/* Known notes of both keys, which may be one. */
static void take_notes(struct hbk_ground *ground, int tonic, int other,
                       int window)
{
    const struct hbk_study_wish *const wish = ground->wish;
    ground->n = 0;
    for (size_t i = 0; i < wish->n_known; i++) {
        const int written = wish->known[i];
        if (is_added(wish, written) ||
            (is_of_key(written, tonic) && is_of_key(written, other) &&
             is_near(wish, window, written))) {
            ground->notes[ground->n++] = written;
        }
    }
}

static bool has_step_beside(const struct hbk_ground *ground, size_t at)
{
    return ground->wish->by_partials ||
           (at > 0 && ground->notes[at] - ground->notes[at - 1] <= STEP) ||
           (at + 1 < ground->n &&
            ground->notes[at + 1] - ground->notes[at] <= STEP);
}

/* The middle of the new notes, or of all where none is new. */
static int middle_of(const struct hbk_ground *ground)
{
    const struct hbk_study_wish *const wish = ground->wish;
    if (wish->n_new == 0) {
        return (ground->notes[0] + ground->notes[ground->n - 1]) / 2;
    }
    return (wish->added[0] + wish->added[wish->n_new - 1]) / 2;
}

/*
 * The tonic nearest to the middle that a close can be made on; false if there
 * is none.
 */
static bool take_tonic(struct hbk_ground *ground, int tonic)
{
    bool found = false;
    const int middle = ground->n == 0 ? 0 : middle_of(ground);
    for (size_t i = 0; i < ground->n; i++) {
        const int written = ground->notes[i];
        if (in_octave(written - tonic) == 0 && has_step_beside(ground, i) &&
            (!found || abs(written - middle) <
                           abs(ground->notes[ground->tonic] - middle))) {
            ground->tonic = i;
            found = true;
        }
    }
    return found;
}

int hbk_ground_interval(const struct hbk_ground *ground, int from, int to)
{
    return ground->wish->by_partials
               ? STEP * (ground->place[to] - ground->place[from])
               : to - from;
}

static struct hbk_ground choose(const struct hbk_study_wish *wish)
{
    struct hbk_ground ground = {.wish = wish, .fifths = wish->fifths};
    const int tonic = wish->home + FIFTHS_STEP * wish->fifths;
    static const int windows[] = {WINDOW, HBK_NOTE_MAX};
    for (size_t i = 0; i < sizeof(windows) / sizeof(windows[0]); i++) {
        take_notes(&ground, tonic, tonic, windows[i]);
        if (take_tonic(&ground, tonic)) {
            return ground;
        }
    }
    /* While do is not known, fa or sol may stand for it: F or G in C. */
    static const int others[] = {FA, SOL};
    const size_t n_others =
        wish->fifths == 0 ? sizeof(others) / sizeof(int) : 0;
    for (size_t i = 0; i < n_others; i++) {
        take_notes(&ground, tonic, tonic + others[i], HBK_NOTE_MAX);
        if (take_tonic(&ground, tonic + others[i])) {
            return ground;
        }
    }
    take_notes(&ground, tonic, tonic, HBK_NOTE_MAX);
    for (size_t i = 0; i < ground.n; i++) {
        if (has_step_beside(&ground, i)) {
            ground.tonic = i;
            break;
        }
    }
    return ground;
}

/* How far a note lies outside what is easy to begin on, in semitones. */
static int away_from_start(const struct hbk_study_wish *wish, int written)
{
    bool is_high = false;
    for (size_t i = 0; i < wish->n_new; i++) {
        is_high = is_high || wish->added[i] > wish->home + OCTAVE;
    }
    const int high = wish->home + (is_high ? OCTAVE : SOL);
    return written < wish->home ? wish->home - written
           : written > high     ? written - high
                                : 0;
}

/* Where none is easy to begin on, those nearest to it are. */
static void find_starts(struct hbk_ground *ground)
{
    int least = HBK_GROUND_NOTES;
    for (size_t i = 0; i < ground->n; i++) {
        const int away = away_from_start(ground->wish, ground->notes[i]);
        least = away < least ? away : least;
    }
    for (size_t i = 0; i < ground->n; i++) {
        ground->begins[i] =
            away_from_start(ground->wish, ground->notes[i]) == least;
    }
}

/* Notes within a width of the tonic that fingers may come from. */
static void find_closers(struct hbk_ground *ground, int most)
{
    const int tonic = ground->notes[ground->tonic];
    ground->n_closers = 0;
    for (size_t i = 0; i < ground->n; i++) {
        const int width =
            abs(hbk_ground_interval(ground, ground->notes[i], tonic));
        if (width > 0 && width <= most && !ground->barred[i][ground->tonic]) {
            ground->closers[ground->n_closers++] = i;
        }
    }
}

/* Whether fingers may go by step from a note to another of the ground. */
static bool has_way_by_step(const struct hbk_ground *ground, int written)
{
    const int at = ground->place[written];
    for (int w = written - STEP; w <= written + STEP; w++) {
        if (w >= 0 && w < HBK_GROUND_NOTES && w != written &&
            ground->place[w] >= 0 && !ground->barred[at][ground->place[w]]) {
            return true;
        }
    }
    return false;
}

/* Where ti and fa of the key lead, if fingers may go there. */
static int resolution_of(const struct hbk_ground *ground, int written)
{
    enum { TI = 11 };
    const int tonic = ground->wish->home + FIFTHS_STEP * ground->wish->fifths;
    const int degree = in_octave(written - tonic);
    const int to = degree == TI ? written + 1 : degree == FA ? written - 1 : -1;
    return to >= 0 && to < HBK_GROUND_NOTES && ground->place[to] >= 0 &&
                   !ground->barred[ground->place[written]][ground->place[to]]
               ? to
               : -1;
}

/* What is new and not of the pupil's C major. */
static void find_half_tones(struct hbk_ground *ground)
{
    const struct hbk_study_wish *const wish = ground->wish;
    for (size_t i = 0; i < wish->n_fresh && !wish->by_partials; i++) {
        const int written = wish->added[i];
        ground->by_step[written] =
            !is_of_key(written, wish->home) && has_way_by_step(ground, written);
        ground->resolves[written] = resolution_of(ground, written);
    }
}

static void find_avoided(struct hbk_ground *ground)
{
    for (size_t i = 0; i < ground->n; i++) {
        for (size_t k = 0; k < ground->n; k++) {
            const int from = ground->notes[i];
            const int to = ground->notes[k];
            const int width = abs(hbk_ground_interval(ground, from, to));
            const bool by_step = ground->by_step[from] || ground->by_step[to];
            ground->avoided[i][k] = ground->barred[i][k] ||
                                    (by_step && (width == 0 || width > STEP));
        }
    }
}

struct hbk_ground hbk_ground_of(const struct hbk_study_wish *wish)
{
    struct hbk_ground ground = choose(wish);
    for (size_t w = 0; w < HBK_GROUND_NOTES; w++) {
        ground.place[w] = -1;
    }
    for (size_t i = 0; i < ground.n; i++) {
        ground.place[ground.notes[i]] = (int)i;
        for (size_t k = 0; k < i; k++) {
            ground.barred[i][k] = ground.barred[k][i] =
                wish->moves != NULL &&
                !hbk_moves_allow(wish->moves, ground.notes[i], ground.notes[k]);
        }
    }
    find_half_tones(&ground);
    find_avoided(&ground);
    find_starts(&ground);
    static const int widths[] = {STEP, FIFTHS_STEP, HBK_NOTE_MAX};
    for (size_t i = 0;
         i < sizeof(widths) / sizeof(widths[0]) && ground.n_closers == 0; i++) {
        find_closers(&ground, widths[i]);
    }
    return ground;
}
