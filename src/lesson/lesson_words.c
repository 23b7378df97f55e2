#include "lesson/lesson_words.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/press.h"
#include "notes/verdict.h"

#include <math.h>
#include <stdlib.h>

enum { STEP = 2, FIFTH = 7, OCTAVE = 12 };

/* One new note about to be spoken of. */
struct told {
    const struct hbk_plan *plan; /* with what came before it taught */
    int key;
    const struct hbk_lesson_note *note;
    struct hbk_text *why;
};

static char *called(const struct told *told, int written,
                    char name[HBK_NAME_SIZE])
{
    const int fifths = hbk_pupil_fifths(told->plan->pupil.home, told->key);
    return hbk_pupil_called(&told->plan->pupil,
                            hbk_spelling_in_key(written, fifths), name);
}

/* The major key of so many sharps, as the player reads and names it. */
static char *key_called(const struct hbk_pupil *pupil, int key,
                        char name[HBK_NAME_SIZE])
{
    const struct hbk_notation *const notation = &pupil->notes->notation;
    const struct hbk_spelling tonic =
        hbk_spelling_in_key(pupil->home + FIFTH * key + 3 * OCTAVE,
                            hbk_pupil_fifths(pupil->home, key));
    return hbk_spelling_called(hbk_notation_spelling(notation, tonic),
                               notation->naming, HBK_UNICODE, name);
}

/* What lips do for a further note of a horn with nothing to press. */
static const char *lip_words(const struct told *told)
{
    return told->note->written >
                   hbk_plan_nearest(told->plan, told->note->written)
               ? "firmer lips, faster air"
               : "looser lips, slower air";
}

static void say_fingers(const struct told *told)
{
    static const char *const counts[] = {"no finger", "one finger",
                                         "two fingers", "three fingers",
                                         "four fingers"};
    const struct hbk_pupil *const pupil = &told->plan->pupil;
    const struct hbk_fingering *const fingering = told->note->fingering;
    const unsigned n = hbk_pupil_fingers(fingering);
    char label[HBK_LABEL_SIZE];
    enum hbk_finger finger_of[HBK_CONTROLS_MAX];
    double price = 0.0;
    if (n == 0) {
        hbk_text_add(told->why, hbk_horn_n_controls(pupil->notes->horn) > 0
                                    ? "open, with nothing pressed"
                                    : lip_words(told));
        return;
    }
    (void)hbk_horn_press_label(pupil->notes->horn, fingering->press, label);
    if (n == 1 && hbk_hands_assign(pupil->notes->horn, fingering->press,
                                   &pupil->notes->fingers, finger_of, &price)) {
        size_t control = 0;
        while ((fingering->press >> control & 1U) == 0) {
            control++;
        }
        hbk_text_addf(
            told->why, "the %s alone, on %s",
            hbk_finger_words(finger_of[control]),
            hbk_control_words(hbk_horn_control(pupil->notes->horn, control),
                              label, sizeof(label)));
        return;
    }
    hbk_text_addf(told->why, "%s together, %s", counts[n > 4 ? 4 : n], label);
}

/* A known note with the same fingers; -1 for none. */
static int same_fingers(const struct told *told)
{
    const struct hbk_pupil *const pupil = &told->plan->pupil;
    int best = -1;
    for (int w = pupil->low; w <= pupil->high; w++) {
        if (told->plan->taught[w] > 0 &&
            hbk_pupil_fingering(pupil, w)->press ==
                told->note->fingering->press &&
            (best < 0 ||
             abs(w - told->note->written) < abs(best - told->note->written))) {
            best = w;
        }
    }
    return best;
}

static const char *place_words(int by)
{
    switch (by) {
    case -2:
        return "a whole tone below";
    case -1:
        return "a semitone below";
    case 1:
        return "a semitone above";
    case 2:
        return "a whole tone above";
    default:
        return by > 0 ? "above" : "below";
    }
}

/* Where it lies, and how it is fingered. */
static void say_place(const struct told *told)
{
    const int written = told->note->written;
    const int home = told->plan->pupil.home;
    const int open = hbk_pupil_open_above(&told->plan->pupil, written);
    const int nearest = hbk_plan_nearest(told->plan, written);
    const int same = same_fingers(told);
    char name[HBK_NAME_SIZE];
    char other[HBK_NAME_SIZE];
    (void)called(told, written, name);
    if (nearest < 0) {
        const bool has_controls =
            hbk_horn_n_controls(told->plan->pupil.notes->horn) > 0;
        hbk_text_addf(told->why, "%s comes first", name);
        if (has_controls) {
            hbk_text_add(told->why, ": ");
            say_fingers(told);
        }
        if (written >= home && written <= home + FIFTH) {
            hbk_text_addf(told->why, "%s a new lip is at ease there",
                          has_controls ? ", and" : ":");
        }
        hbk_text_add(told->why, ".");
        return;
    }
    hbk_text_addf(told->why, "%s is %s %s: ", name,
                  place_words(written - nearest), called(told, nearest, other));
    if (open >= 0 && told->plan->taught[open] > 0) {
        say_fingers(told);
        hbk_text_addf(told->why,
                      ". It closes a key that is open at rest, so %s had to be "
                      "sure first.",
                      called(told, open, other));
    } else if (same >= 0 && same != nearest && told->plan->number > 2) {
        hbk_text_addf(told->why, "fingered as %s, the lip does the rest.",
                      called(told, same, other));
    } else {
        say_fingers(told);
        hbk_text_add(told->why, ".");
    }
}

/* Whether all of the scale from the pupil's C4 to C5 is known with this. */
static bool is_octave_whole(const struct told *told)
{
    static const int scale[] = {0, 2, 4, 5, 7, 9, 11, 12};
    bool whole = false;
    for (size_t i = 0; i < sizeof(scale) / sizeof(scale[0]); i++) {
        const int written = told->plan->pupil.home + scale[i];
        if (written == told->note->written) {
            whole = true;
        } else if (told->plan->taught[written] == 0) {
            return false;
        }
    }
    return whole;
}

/* What is wrong with it, and that it had to wait for that. */
static void say_care(const struct told *told)
{
    const double cents = told->note->fingering->cents;
    const bool off = (told->note->fingering->verdict &
                      (unsigned)HBK_VERDICT_UNRELIABLE) != 0;
    hbk_text_add(told->why, told->plan->part == HBK_PLAN_CARE
                                ? " It is kept for last: it"
                                : " It");
    if (off && fabs(cents) <= HBK_UNRELIABLE_CENTS) {
        hbk_text_addf(told->why,
                      " is partial %u, which is out of tune on any horn.",
                      told->note->fingering->partial);
    } else if (off) {
        hbk_text_addf(told->why, " is %.0f cents %s, and the lip must %s it.",
                      fabs(cents), cents > 0.0 ? "sharp" : "flat",
                      cents > 0.0 ? "lower" : "raise");
    } else {
        hbk_text_add(told->why,
                     " speaks unwillingly; little breath, a steady lip.");
    }
}

/* The same note an octave lower or higher that was taught; -1 for none. */
static int namesake(const struct told *told)
{
    const int written = told->note->written;
    for (int w = written % OCTAVE; w < HBK_PLAN_NOTES; w += OCTAVE) {
        if (told->plan->taught[w] > 0) {
            return w;
        }
    }
    return -1;
}

/* Whether with this the whole scale of the key is known, in some octave. */
static bool is_scale_whole(const struct told *told)
{
    bool known[OCTAVE] = {false};
    size_t n = 0;
    for (int w = 0; w < HBK_PLAN_NOTES; w++) {
        if ((told->plan->taught[w] > 0 || w == told->note->written) &&
            hbk_pupil_is_of_key(&told->plan->pupil, w, told->key)) {
            n += known[w % OCTAVE] ? 0 : 1;
            known[w % OCTAVE] = true;
        }
    }
    return n == 7;
}

/* Of a note that C has not: in what it is played, when it is the first such. */
static void say_tunes(const struct told *told)
{
    const int written = told->note->written;
    const int same = namesake(told);
    char name[HBK_NAME_SIZE];
    if (same < 0) {
        (void)key_called(&told->plan->pupil, told->key, name);
        hbk_text_addf(told->why,
                      is_scale_whole(told) ? " With it you can play in %s."
                                           : " The scale of %s has it.",
                      name);
    } else if (abs(same - written) == OCTAVE) {
        hbk_text_addf(told->why, " It is %s an octave %s.",
                      called(told, same, name),
                      same < written ? "higher" : "lower");
    }
}

/* What the note is good for. */
static void say_use(const struct told *told)
{
    char key[HBK_NAME_SIZE];
    if (told->note->care) {
        say_care(told);
    } else if (is_octave_whole(told)) {
        (void)key_called(&told->plan->pupil, 0, key);
        hbk_text_addf(told->why, " With it the scale of %s is whole.", key);
    } else if (!hbk_pupil_is_of_key(&told->plan->pupil, told->note->written,
                                    0)) {
        say_tunes(told);
    }
}

void hbk_lesson_say_why(const struct hbk_plan *before, int key,
                        struct hbk_lesson *lesson, struct hbk_arena *arena)
{
    struct hbk_plan plan = *before;
    for (size_t i = 0; i < lesson->n_new; i++) {
        struct hbk_text why = {.arena = arena};
        const struct told told = {&plan, key, &lesson->added[i], &why};
        say_place(&told);
        say_use(&told);
        lesson->added[i].why = hbk_text_string(&why);
        plan.taught[lesson->added[i].written] = plan.number;
    }
}

const char *hbk_lesson_why_left(const struct hbk_fingering *fingering,
                                struct hbk_arena *arena)
{
    return fingering == NULL
               ? "not available"
               : hbk_arena_printf(arena,
                                  "%.0f cents %s: more than a beginner can "
                                  "bend",
                                  fabs(fingering->cents),
                                  fingering->cents > 0.0 ? "sharp" : "flat");
}
