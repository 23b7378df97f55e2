#include "begin/make_keys.h"

#include "begin/fingers.h"
#include "horn/called.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>
#include <string.h>
#include <strings.h>

enum { OCTAVE = 12, NONE = -1 };

/* Keys while they are worked out. */
struct row {
    const struct hbk_answers *answers;
    const struct hbk_horn *from;
    struct hbk_draft *draft;
    int shift; /* semitones from the pattern's written notes to the horn's */
    int of[HBK_BEGIN_KEYS_MAX]; /* control of the pattern that each is, or NONE
                                 */
};

static bool is_called(const struct hbk_control *control, const char *text)
{
    return control->called != NULL && strcasecmp(control->called, text) == 0;
}

static bool is_taken(const struct row *row, size_t before, int control)
{
    for (size_t i = 0; i < before; i++) {
        if (row->of[i] == control) {
            return true;
        }
    }
    return false;
}

/* The key of the pattern that key i is by its name: the same text, or note. */
static int named_alike(const struct row *row, size_t i, int note)
{
    const struct hbk_horn *const from = row->from;
    int found = NONE;
    for (size_t k = 0; k < from->n_controls; k++) {
        const struct hbk_control *const control = &from->controls[k];
        if (control->kind != HBK_KEY || is_taken(row, i, (int)k)) {
            continue;
        }
        if (row->shift % OCTAVE == 0 &&
            is_called(control, row->answers->called[i])) {
            return (int)k;
        }
        const int its = hbk_called_note(from, k);
        if (found == NONE && its >= 0 &&
            (its + row->shift + OCTAVE * OCTAVE) % OCTAVE == note) {
            found = (int)k;
        }
    }
    return found;
}

/* "Eb": the written note that a key gives alone, without its octave. */
static const char *note_name(const struct row *row, double semitones)
{
    char name[HBK_NAME_SIZE];
    const int note = HBK_NOTE_C4 + row->shift + (int)lround(semitones);
    hbk_spelling_letter(hbk_note_usual(note), HBK_ASCII, name);
    return hbk_arena_printf(row->answers->arena, "%s", name);
}

static double raises_of(const struct row *row, int control)
{
    const struct hbk_site *const site =
        control < 0 ? NULL : hbk_pattern_site(row->from, (size_t)control);
    return site == NULL ? (double)NAN : site->hole.raises;
}

/*
 * What the keys that are open at rest lower by, from the highest: `down` is
 * how far below the open horn it is once the key, and those above it, are
 * closed; 0 where nobody says.
 */
static void set_open(struct row *row, const int down[HBK_BEGIN_KEYS_MAX])
{
    int level = 0;
    for (size_t i = row->draft->n_keys; i-- > 0;) {
        struct hbk_draft_key *const key = &row->draft->keys[i];
        if (key->is_open) {
            const int to = down[i] > level ? down[i] : level + 1;
            key->raises = level - to;
            level = to;
        }
    }
}

/* Keys as the player named them. */
static void take_named(struct row *row)
{
    const struct hbk_answers *const answers = row->answers;
    struct hbk_draft *const draft = row->draft;
    struct hbk_horn named = {.n_controls = draft->n_keys};
    int down[HBK_BEGIN_KEYS_MAX] = {0};
    for (size_t i = 0; i < draft->n_keys; i++) {
        named.controls[i] =
            (struct hbk_control){.kind = HBK_KEY, .called = answers->called[i]};
    }
    for (size_t i = 0; i < draft->n_keys; i++) {
        struct hbk_draft_key *const key = &draft->keys[i];
        const int note = hbk_called_note(&named, i);
        const int above =
            (note - row->shift + OCTAVE * OCTAVE) % OCTAVE; /* open C */
        row->of[i] = named_alike(row, i, note);
        const struct hbk_control *const like =
            row->of[i] < 0 ? NULL : &row->from->controls[row->of[i]];
        key->called = answers->called[i];
        key->is_open = answers->given[HBK_ASK_OPEN]
                           ? (answers->open >> i & 1U) != 0
                           : like != NULL && like->stands_open;
        key->raises = above == 0 ? OCTAVE : above;
        down[i] = OCTAVE - above;
        if (like != NULL && is_called(like, key->called) &&
            !isnan(raises_of(row, row->of[i])) &&
            key->is_open == like->stands_open) {
            key->raises = raises_of(row, row->of[i]);
        }
    }
    set_open(row, down);
}

/* In a chromatic row, the keys that are closed at rest from the bell up. */
static void take_row(struct row *row)
{
    struct hbk_draft *const draft = row->draft;
    const int none[HBK_BEGIN_KEYS_MAX] = {0};
    const int first = hbk_pattern_control(row->from, HBK_KEY, 0);
    const bool has_names =
        first >= 0 && row->from->controls[first].called != NULL;
    double above = 0.0;
    for (size_t i = 0; i < draft->n_keys; i++) {
        draft->keys[i].is_open = (row->answers->open >> i & 1U) != 0;
        if (!draft->keys[i].is_open) {
            draft->keys[i].raises = ++above;
        }
    }
    set_open(row, none);
    double below = 0.0;
    for (size_t i = draft->n_keys; i-- > 0;) {
        struct hbk_draft_key *const key = &draft->keys[i];
        below += key->is_open ? key->raises : 0.0;
        key->called = !has_names
                          ? NULL
                          : note_name(row, key->is_open ? below : key->raises);
    }
}

/* Keys as the pattern has them, and others above them by semitones. */
static void take_pattern(struct row *row)
{
    struct hbk_draft *const draft = row->draft;
    double highest = 0.0;
    bool has_names = false;
    for (size_t i = 0; i < draft->n_keys; i++) {
        struct hbk_draft_key *const key = &draft->keys[i];
        const struct hbk_control *const like =
            row->of[i] < 0 ? NULL : &row->from->controls[row->of[i]];
        const double raises = raises_of(row, row->of[i]);
        key->is_open = like != NULL && like->stands_open;
        key->raises = isnan(raises) ? highest + 1.0 : raises;
        highest = fmax(highest, key->raises);
        has_names = has_names || (like != NULL && like->called != NULL);
        key->called = like != NULL && row->shift % OCTAVE == 0 ? like->called
                      : has_names ? note_name(row, key->raises)
                                  : NULL;
    }
}

static bool is_free(const struct row *row, enum hbk_finger finger)
{
    for (size_t i = 0; i < row->draft->n_keys; i++) {
        const char *const of = row->draft->keys[i].finger;
        if (of != NULL && strstr(of, hbk_finger_name(finger)) != NULL) {
            return false;
        }
    }
    for (size_t i = 0; i < row->draft->n_valves; i++) {
        const int valve = hbk_pattern_control(row->from, HBK_VALVE, i);
        if (valve >= 0 && row->from->controls[valve].fingers[0] == finger) {
            return false;
        }
    }
    return true;
}

/*
 * A finger for a key that the pattern has not: a free one, of the hand that
 * has the keys nearest the player first; else that of the key below.
 */
static const char *spare_finger(const struct row *row, size_t i)
{
    static const enum hbk_finger order[] = {
        HBK_L_INDEX, HBK_L_MIDDLE, HBK_L_RING, HBK_L_LITTLE, HBK_L_THUMB,
        HBK_R_INDEX, HBK_R_MIDDLE, HBK_R_RING, HBK_R_LITTLE, HBK_R_THUMB};
    const size_t half = HBK_FINGER_COUNT / 2;
    const char *const below = i == 0 || row->draft->keys[i - 1].finger == NULL
                                  ? hbk_finger_name(HBK_L_INDEX)
                                  : row->draft->keys[i - 1].finger;
    const size_t first = strncmp(below, "right", 5) == 0 ? half : 0;
    for (size_t k = 0; k < HBK_FINGER_COUNT; k++) {
        const enum hbk_finger finger = order[(first + k) % HBK_FINGER_COUNT];
        if (is_free(row, finger)) {
            return hbk_finger_name(finger);
        }
    }
    return below[0] == '[' ? hbk_finger_name(HBK_R_INDEX) : below;
}

/* Fingers, and touches that open the hole of another key too. */
static void set_touches(struct row *row)
{
    struct hbk_draft *const draft = row->draft;
    for (size_t i = 0; i < draft->n_keys; i++) {
        if (row->of[i] >= 0) {
            draft->keys[i].finger = hbk_fingers_written(
                row->answers->arena, &row->from->controls[row->of[i]]);
        }
    }
    for (size_t i = 0; i < draft->n_keys; i++) {
        struct hbk_draft_key *const key = &draft->keys[i];
        if (row->of[i] < 0) {
            key->finger = spare_finger(row, i);
            key->is_added = true;
            continue;
        }
        for (size_t k = 0; k < draft->n_keys; k++) {
            const struct hbk_site *const hole =
                row->of[k] < 0 || k == i
                    ? NULL
                    : hbk_pattern_site(row->from, (size_t)row->of[k]);
            for (size_t t = 1; hole != NULL && t < hole->n_terms; t++) {
                if (hole->terms[t] == UINT32_C(1) << row->of[i] &&
                    key->is_open == draft->keys[k].is_open) {
                    key->opens = k + 1;
                }
            }
        }
    }
}

/* Whether the player's open keys are those of the pattern. */
static bool stands_as_pattern(const struct row *row)
{
    for (size_t i = 0; i < row->draft->n_keys; i++) {
        const bool is_open = (row->answers->open >> i & 1U) != 0;
        if (is_open !=
            (row->of[i] >= 0 && row->from->controls[row->of[i]].stands_open)) {
            return false;
        }
    }
    return true;
}

void hbk_draft_keys(const struct hbk_answers *answers, struct hbk_draft *draft,
                    int shift)
{
    struct row row = {answers, draft->pattern->horn, draft, shift, {0}};
    for (size_t i = 0; i < draft->n_keys; i++) {
        row.of[i] = hbk_pattern_control(row.from, HBK_KEY, i);
    }
    if (answers->given[HBK_ASK_CALLED]) {
        take_named(&row);
    } else if (answers->given[HBK_ASK_OPEN] && !stands_as_pattern(&row)) {
        take_row(&row);
    } else {
        take_pattern(&row);
    }
    set_touches(&row);
}
