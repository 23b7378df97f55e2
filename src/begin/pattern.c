#include "begin/pattern.h"

#include "base/messages.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "reader/horn_file.h"
#include "reader/shipped.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

/*
 * How unlike a horn is in each way. A kind outweighs any number of keys, and
 * one key or valve too many all that can be said of how they are made.
 */
static const double other_kind = 200.0;
static const double other_count = 10.0; /* for each */
static const double other_open = 2.0;   /* for each key */
static const double other_called = 1.0;
static const double other_lowers = 1.5; /* for each valve */
static const double other_action = 1.2;
static const double other_key = 0.2; /* for each semitone, up to an octave */

/* Cents off the note that a fundamental is said to be. */
static const double on_a_note = 5.0;

int hbk_pattern_control(const struct hbk_horn *horn, enum hbk_control_kind kind,
                        size_t i)
{
    for (size_t k = 0; k < horn->n_controls; k++) {
        if (horn->controls[k].kind == kind && i-- == 0) {
            return (int)k;
        }
    }
    return -1;
}

const struct hbk_site *hbk_pattern_site(const struct hbk_horn *horn,
                                        size_t control)
{
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->terms[0] == UINT32_C(1) << control &&
            !(site->kind == HBK_LOOP && site->loop.is_drawn)) {
            return site;
        }
    }
    return NULL;
}

int hbk_pattern_lowers(const struct hbk_horn *horn, size_t control)
{
    const struct hbk_site *const site = hbk_pattern_site(horn, control);
    if (site == NULL || site->kind != HBK_LOOP ||
        site->loop.measure == HBK_LOOP_METRES) {
        return 0;
    }
    const double share = site->loop.value;
    const double cents = site->loop.measure == HBK_LOOP_CENTS ? share
                         : site->at_rest ? -hbk_cents(1.0 - share, 1.0)
                                         : hbk_cents(1.0 + share, 1.0);
    const int semitones = (int)lround(cents / HBK_SEMITONE_CENTS);
    return site->at_rest ? -semitones : semitones;
}

/* The note of partial 1; false where it is none, or not said. */
static bool find_fundamental(const struct hbk_horn *horn, int *note)
{
    if (horn->model != HBK_MODEL_LENGTH || isnan(horn->fundamental_hz)) {
        return false;
    }
    const double cents = hbk_cents(horn->fundamental_hz, horn->a4_hz);
    const double semitones = round(cents / HBK_SEMITONE_CENTS);
    *note = HBK_NOTE_A4 + (int)semitones;
    return fabs(cents - semitones * HBK_SEMITONE_CENTS) < on_a_note;
}

enum hbk_status hbk_patterns_read(struct hbk_arena *arena,
                                  struct hbk_patterns *patterns,
                                  struct hbk_faults *faults)
{
    const struct hbk_shipped_horn *shipped = NULL;
    const size_t n = hbk_shipped_list(arena, &shipped);
    *patterns = (struct hbk_patterns){
        .arena = arena, .items = HBK_ARENA_ARRAY(arena, struct hbk_pattern, n)};
    for (size_t i = 0; i < n; i++) {
        struct hbk_pattern pattern = {.name = shipped[i].name};
        struct hbk_horn *const horn = hbk_horn_new(arena);
        pattern.horn = horn;
        if (!shipped[i].is_measured &&
            hbk_horn_read(shipped[i].path, horn, faults) == HBK_OK &&
            find_fundamental(horn, &pattern.fundamental)) {
            patterns->items[patterns->n++] = pattern;
        } else {
            hbk_horn_finish(horn);
        }
    }
    if (patterns->n > 0) {
        return HBK_OK;
    }
    const char *const none = hbk_shipped_none(arena);
    if (none != NULL) {
        hbk_fault_add(faults, (struct hbk_place){0}, HBK_H_NO_SHIPPED_HORNS,
                      "%s", none);
    } else {
        hbk_fault_add(faults, (struct hbk_place){0}, HBK_H_NO_PATTERN,
                      "none of the shipped horns is a pattern to begin from; "
                      "it is one that gives its fundamental as a note");
    }
    return HBK_ERR_INPUT;
}

void hbk_patterns_finish(struct hbk_patterns *patterns)
{
    for (size_t i = 0; i < patterns->n; i++) {
        hbk_horn_finish(patterns->items[i].horn);
    }
    patterns->n = 0;
}

size_t hbk_answers_keys(const struct hbk_answers *answers)
{
    return answers->given[HBK_ASK_KEYS]               ? answers->n_keys
           : answers->kind->system == HBK_SYSTEM_KEYS ? answers->kind->n
                                                      : 0;
}

size_t hbk_answers_valves(const struct hbk_answers *answers)
{
    return answers->given[HBK_ASK_VALVES]               ? answers->n_valves
           : answers->kind->system == HBK_SYSTEM_VALVES ? answers->kind->n
                                                        : 0;
}

int hbk_answers_lowers(const struct hbk_answers *answers, size_t i)
{
    static const int usual[HBK_BEGIN_VALVES_MAX] = {2, 1, 3, 5, 4, 7};
    const int valve =
        answers->pattern == NULL
            ? -1
            : hbk_pattern_control(answers->pattern->horn, HBK_VALVE, i);
    return answers->given[HBK_ASK_LOWERS] ? answers->lowers[i]
           : valve >= 0
               ? hbk_pattern_lowers(answers->pattern->horn, (size_t)valve)
           : answers->kind->is_independent
               ? -(int)(hbk_answers_valves(answers) - i)
               : usual[i];
}

static size_t count(const struct hbk_horn *horn, enum hbk_control_kind kind)
{
    size_t n = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        n += horn->controls[i].kind == kind ? 1 : 0;
    }
    return n;
}

static double apart(size_t a, size_t b)
{
    return fabs((double)a - (double)b);
}

static double unlike_keys(const struct hbk_horn *horn,
                          const struct hbk_answers *answers)
{
    const size_t n = hbk_answers_keys(answers);
    double unlike = other_count * apart(n, count(horn, HBK_KEY));
    for (size_t i = 0; i < n; i++) {
        const int key = hbk_pattern_control(horn, HBK_KEY, i);
        if (key < 0) {
            break;
        }
        const struct hbk_control *const control = &horn->controls[key];
        const bool is_open = (answers->open >> i & 1U) != 0;
        if (answers->given[HBK_ASK_OPEN] && is_open != control->stands_open) {
            unlike += other_open;
        }
        if (answers->given[HBK_ASK_CALLED] &&
            (control->called == NULL ||
             strcasecmp(control->called, answers->called[i]) != 0)) {
            unlike += other_called;
        }
    }
    return unlike;
}

static double unlike_valves(const struct hbk_horn *horn,
                            const struct hbk_answers *answers)
{
    const size_t n = hbk_answers_valves(answers);
    double unlike = other_count * apart(n, count(horn, HBK_VALVE));
    bool is_made_so = true;
    for (size_t i = 0; i < n; i++) {
        const int valve = hbk_pattern_control(horn, HBK_VALVE, i);
        if (valve < 0) {
            break;
        }
        if (hbk_pattern_lowers(horn, (size_t)valve) !=
            hbk_answers_lowers(answers, i)) {
            unlike += other_lowers;
        }
        is_made_so =
            is_made_so && horn->controls[valve].action == answers->action;
    }
    return unlike +
           (answers->given[HBK_ASK_ACTION] && !is_made_so ? other_action : 0.0);
}

static double unlike(const struct hbk_pattern *pattern,
                     const struct hbk_answers *answers)
{
    const char *const begins = answers->kind->pattern;
    const int sounds =
        answers->given[HBK_ASK_KEY] ? answers->sounds : answers->kind->sounds;
    const bool is_kind =
        strncmp(pattern->name, begins, strlen(begins)) == 0 &&
        hbk_horn_kind_of_pattern(pattern->name) == strlen(begins);
    return (is_kind ? 0.0 : other_kind) + unlike_keys(pattern->horn, answers) +
           unlike_valves(pattern->horn, answers) +
           fmin(other_key * abs(sounds - pattern->horn->written_c4_sounds),
                12.0 * other_key);
}

const struct hbk_pattern *
hbk_pattern_nearest(const struct hbk_patterns *patterns,
                    const struct hbk_answers *answers)
{
    const struct hbk_pattern *nearest = answers->pattern;
    double least = nearest == NULL ? (double)INFINITY : -1.0;
    for (size_t i = 0; i < patterns->n; i++) {
        const double is = unlike(&patterns->items[i], answers);
        if (is < least) {
            least = is;
            nearest = &patterns->items[i];
        }
    }
    return nearest;
}
