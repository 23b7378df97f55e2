#include "lesson/first.h"

#include "base/text.h"
#include "notes/verdict.h"
#include "passage/move_words.h"

#include <math.h>
#include <stdlib.h>

/*
 * Each semitone away from where first books begin; our own choice: from C4 to
 * F4 it outweighs four fingers.
 */
static const double away_price = 150.0;

/* A note that must wait for one that is not among them; likewise. */
static const double waits_price = 2000.0;

/* Do re mi fa sol, as first books have them. */
static const int steps[HBK_FIRST_MOST] = {0, 2, 4, 5, 7};

/* The highest of the first notes, from the pupil's C4: his D5. */
enum { REACH = 14, OCTAVE = 12, FIFTH = 7 };

struct run {
    size_t n;
    bool is_open;
    int notes[HBK_FIRST_MOST]; /* written, rising */
    int key;                   /* in which they are spelled, for the pupil */
    double price;              /* INFINITY: the horn has it not */
};

/* Which runs are looked at. */
struct wanted {
    size_t n;
    int keys;      /* up to so many sharps or flats */
    bool from_do;  /* the lowest is do */
    bool in_reach; /* the highest is within REACH */
};

/* The n notes of a key from `low` up, or none where low is not of it. */
static struct run run_of(const struct hbk_pupil *pupil, int low, int key,
                         size_t n)
{
    struct run run = {.key = key, .price = INFINITY};
    for (int w = low; run.n < n; w++) {
        if (hbk_pupil_is_of_key(pupil, w, key)) {
            run.notes[run.n++] = w;
        } else if (w == low) {
            break;
        }
    }
    return run;
}

static double price_of(const struct hbk_pupil *pupil, const struct run *run)
{
    const int top = run->notes[run->n - 1];
    double price = away_price * abs(run->notes[0] - pupil->home);
    for (size_t i = 0; i < run->n; i++) {
        price += hbk_pupil_note_price(pupil, run->notes[i]);
        price += hbk_pupil_open_above(pupil, run->notes[i]) > top ? waits_price
                                                                  : 0.0;
        if (i > 0) {
            const struct hbk_ease_move move =
                hbk_pupil_move(pupil, run->notes[i - 1], run->notes[i]);
            price += hbk_ease_move_price(&move);
        }
    }
    return price;
}

static bool is_do(const struct hbk_pupil *pupil, int written, int key)
{
    return (written - pupil->home - FIFTH * key) % OCTAVE == 0;
}

static struct run cheapest_run(const struct hbk_pupil *pupil,
                               const struct wanted *wanted)
{
    struct run best = {.price = INFINITY};
    for (int low = pupil->low; low <= pupil->high; low++) {
        for (int key = -wanted->keys; key <= wanted->keys; key++) {
            struct run run = run_of(pupil, low, key, wanted->n);
            if (run.n < wanted->n ||
                (wanted->from_do && !is_do(pupil, low, key)) ||
                (wanted->in_reach &&
                 run.notes[run.n - 1] > pupil->home + REACH)) {
                continue;
            }
            run.price = price_of(pupil, &run);
            const bool nearer =
                run.price == best.price && abs(run.key) < abs(best.key);
            best = run.price < best.price || nearer ? run : best;
        }
    }
    return best;
}

/* The open notes of the octave; none where there are not two. */
static struct run open_run(const struct hbk_pupil *pupil)
{
    struct run run = {.is_open = true};
    for (int w = pupil->home;
         w <= pupil->home + OCTAVE && run.n < HBK_FIRST_MOST; w++) {
        const struct hbk_fingering *const fingering =
            hbk_pupil_fingering(pupil, w);
        if (fingering != NULL && fingering->press == 0 &&
            !hbk_pupil_needs_care(fingering)) {
            run.notes[run.n++] = w;
        }
    }
    return run.n >= 2 ? run : (struct run){.n = 0};
}

static struct run find_run(const struct hbk_pupil *pupil)
{
    enum { EARLY = 1, ALL = 5 };
    static const struct wanted wanted[] = {
        {5, EARLY, true, true},  {5, EARLY, false, true},
        {4, EARLY, false, true}, {3, EARLY, false, true},
        {5, ALL, false, false},  {4, ALL, false, false},
        {3, ALL, false, false}};
    struct run best = {.price = INFINITY};
    for (size_t i = 0;
         i < sizeof(wanted) / sizeof(wanted[0]) && isinf(best.price); i++) {
        best = cheapest_run(pupil, &wanted[i]);
    }
    return isinf(best.price) ? open_run(pupil) : best;
}

/* How many fingers the notes take: "two are open, none takes more ...". */
static void say_fingers(const struct hbk_first *first, struct hbk_text *why)
{
    static const char *const counts[] = {"none",  "one",  "two",
                                         "three", "four", "all"};
    static const char *const most_words[] = {"no finger", "one finger",
                                             "two fingers", "three fingers"};
    size_t n_open = 0;
    unsigned most = 0;
    for (size_t i = 0; i < first->n; i++) {
        const unsigned fingers = hbk_pupil_fingers(first->fingerings[i]);
        n_open += fingers == 0 ? 1 : 0;
        most = fingers > most ? fingers : most;
    }
    if (n_open > 0) {
        hbk_text_addf(why, " %c%s %s played open",
                      counts[n_open][0] - 'a' + 'A', counts[n_open] + 1,
                      n_open == 1 ? "is" : "are");
        hbk_text_addf(why,
                      most <= 1 ? ", the others take one finger each."
                                : ", none takes more than %s.",
                      most_words[most > 3 ? 3 : most]);
    } else {
        hbk_text_addf(why,
                      most <= 1 ? " Each takes one finger."
                                : " None takes more than %s.",
                      most_words[most > 3 ? 3 : most]);
    }
}

/* "but E4, 14 cents flat": those that the lips are told of, if any. */
static void say_off(const struct hbk_pupil *pupil,
                    const struct hbk_first *first, struct hbk_text *why)
{
    struct hbk_text list = {.arena = why->arena};
    size_t n = 0;
    for (size_t i = first->n; i-- > 0;) {
        const double cents = first->fingerings[i]->cents;
        char name[HBK_NAME_SIZE];
        if (hbk_lip_needed(cents) != 0) {
            const char *const later = hbk_text_string(&list);
            list = (struct hbk_text){.arena = why->arena};
            hbk_text_addf(&list, "%s, %.0f cents %s%s%s",
                          hbk_pupil_called(pupil, first->spellings[i], name),
                          fabs(cents), cents > 0.0 ? "sharp" : "flat",
                          n == 0   ? ""
                          : n == 1 ? ", and "
                                   : ", ",
                          later);
            n++;
        }
    }
    if (n > 0) {
        hbk_text_addf(why, " but %s", hbk_text_string(&list));
    }
}

static void say_sureness(const struct hbk_pupil *pupil,
                         const struct hbk_first *first, struct hbk_text *why)
{
    size_t n_care = 0;
    size_t n_free = 0;
    for (size_t i = 0; i < first->n; i++) {
        const unsigned verdict = first->fingerings[i]->verdict;
        n_care += hbk_pupil_needs_care(first->fingerings[i]) ? 1 : 0;
        n_free += (verdict & (unsigned)HBK_VERDICT_FREE) != 0 ? 1 : 0;
    }
    if (n_care > 0) {
        hbk_text_addf(why, " %s of them %s care: the horn has no surer run.",
                      n_care == 1 ? "One" : "Some",
                      n_care == 1 ? "needs" : "need");
        return;
    }
    hbk_text_add(why, n_free == first->n
                          ? " All speak freely and are well in tune"
                          : " All are well in tune");
    say_off(pupil, first, why);
    hbk_text_add(why, ".");
}

/* Names a note of the pupil's own C. */
static char *called(const struct hbk_pupil *pupil, int written,
                    char name[HBK_NAME_SIZE])
{
    return hbk_pupil_called(
        pupil, hbk_spelling_in_key(written, hbk_pupil_fifths(pupil->home, 0)),
        name);
}

/* A note that the five of first books lack on this horn, or 0. */
static int missing_note(const struct hbk_pupil *pupil)
{
    for (size_t i = 0; i < HBK_FIRST_MOST; i++) {
        if (hbk_pupil_fingering(pupil, pupil->home + steps[i]) == NULL) {
            return pupil->home + steps[i];
        }
    }
    return 0;
}

/* The most awkward of their steps, if one is. */
static void say_awkward(const struct hbk_pupil *pupil, struct hbk_text *why)
{
    double most = 0.0;
    int from = 0;
    int to = 0;
    for (size_t i = 1; i < HBK_FIRST_MOST; i++) {
        const int low = pupil->home + steps[i - 1];
        const int high = pupil->home + steps[i];
        const struct hbk_ease_move move = hbk_pupil_move(pupil, low, high);
        const double price = hbk_ease_move_price(&move);
        if ((move.reasons & HBK_EASE_AWKWARD) != 0 && price > most) {
            most = price;
            from = low;
            to = high;
        }
    }
    if (most > 0.0) {
        char low[HBK_NAME_SIZE];
        char high[HBK_NAME_SIZE];
        char words[HBK_MOVE_WORDS_SIZE];
        hbk_text_addf(why, " From %s to %s there it is %s.",
                      called(pupil, from, low), called(pupil, to, high),
                      hbk_presses_words(&pupil->keywork,
                                        hbk_pupil_fingering(pupil, from)->press,
                                        hbk_pupil_fingering(pupil, to)->press,
                                        HBK_EASE_AWKWARD, words));
    }
}

/* Whether these are the five of first books, and if not, why. */
static void say_where(const struct hbk_pupil *pupil,
                      const struct hbk_first *first, struct hbk_text *why)
{
    char low[HBK_NAME_SIZE];
    char high[HBK_NAME_SIZE];
    if (first->notes[0] == pupil->home && first->n == HBK_FIRST_MOST) {
        hbk_text_add(why, "Five notes by step in the middle of a beginner's "
                          "range, where first books begin.");
        return;
    }
    const int missing = missing_note(pupil);
    hbk_text_addf(why, "First books begin with the five notes from %s to %s; ",
                  called(pupil, pupil->home, low),
                  called(pupil, pupil->home + steps[HBK_FIRST_MOST - 1], high));
    (void)hbk_pupil_called(pupil, first->spellings[0], low);
    if (pupil->low > pupil->home ||
        pupil->high < pupil->home + steps[HBK_FIRST_MOST - 1]) {
        hbk_text_addf(why, "the range you asked for has others, from %s.", low);
    } else if (missing != 0) {
        hbk_text_addf(why, "here %s is not available, so these begin on %s.",
                      called(pupil, missing, high), low);
    } else {
        hbk_text_addf(why, "on this horn those from %s are easier.", low);
        say_awkward(pupil, why);
    }
}

struct hbk_first hbk_first_find(const struct hbk_pupil *pupil,
                                struct hbk_arena *arena)
{
    const struct run run = find_run(pupil);
    struct hbk_first first = {
        .n = run.n, .is_open = run.is_open, .key = run.key};
    if (run.n == 0) {
        first.why = "The horn has no three notes by step within the range, nor "
                    "two open ones, so there is nothing to make lessons of.";
        return first;
    }
    const int fifths = hbk_pupil_fifths(pupil->home, run.key);
    for (size_t i = 0; i < run.n; i++) {
        first.notes[i] = run.notes[i];
        first.spellings[i] = hbk_spelling_in_key(run.notes[i], fifths);
        first.fingerings[i] = hbk_pupil_fingering(pupil, run.notes[i]);
    }
    struct hbk_text why = {.arena = arena};
    if (first.is_open) {
        hbk_text_add(&why, "The horn has no three notes by step, so no scale: "
                           "it has its open notes, and the calls that are made "
                           "of them, which are told by their rhythm. The "
                           "fingers rest; the lip finds each.");
    } else {
        say_where(pupil, &first, &why);
        say_fingers(&first, &why);
    }
    say_sureness(pupil, &first, &why);
    first.why = hbk_text_string(&why);
    return first;
}
