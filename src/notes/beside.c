#include "notes/beside.h"

#include "base/arena.h"
#include "horn/about.h"
#include "music/pitch.h"

/* The first choice of a written note, or NULL. */
static const struct hbk_fingering *first(const struct hbk_notes *notes,
                                         int written)
{
    const struct hbk_note *const note = hbk_notes_find(notes, written);
    return note == NULL || note->n == 0 ? NULL : &note->fingerings[0];
}

int hbk_beside_written(const struct hbk_notes *here,
                       const struct hbk_notes *known, int written)
{
    return hbk_notation_note(&here->notation, written) - known->notation.shift;
}

const struct hbk_fingering *hbk_beside_known(const struct hbk_notes *here,
                                             const struct hbk_notes *known,
                                             int written)
{
    return first(known, hbk_beside_written(here, known, written));
}

static size_t bits(uint32_t press)
{
    size_t n = 0;
    for (; press != 0; press &= press - 1) {
        n++;
    }
    return n;
}

/* The namesake of a control in another horn, or -1. */
static int twin(const struct hbk_horn *horn, const struct hbk_control *control)
{
    return hbk_horn_find_control(horn, control->kind, control->name);
}

static bool presses_agree(const struct hbk_horn *a, uint32_t press_a,
                          const struct hbk_horn *b, uint32_t press_b)
{
    if (bits(press_a) != bits(press_b)) {
        return false;
    }
    for (size_t i = 0; i < hbk_horn_n_controls(a); i++) {
        if ((press_a >> i & 1u) != 0) {
            const int k = twin(b, hbk_horn_control(a, i));
            if (k < 0 || (press_b >> k & 1u) == 0) {
                return false;
            }
        }
    }
    return true;
}

/* Whether presses that agree are made with the same fingers. */
static bool fingers_agree(const struct hbk_notes *a, uint32_t press_a,
                          const struct hbk_notes *b, uint32_t press_b)
{
    struct hbk_assignment one;
    struct hbk_assignment two;
    if (hbk_hands_assign_all(a->horn, press_a, &a->fingers, 1, &one) == 0 ||
        hbk_hands_assign_all(b->horn, press_b, &b->fingers, 1, &two) == 0) {
        return false;
    }
    for (size_t i = 0; i < hbk_horn_n_controls(a->horn); i++) {
        if ((press_a >> i & 1u) != 0 &&
            one.finger_of[i] !=
                two.finger_of[twin(b->horn, hbk_horn_control(a->horn, i))]) {
            return false;
        }
    }
    return true;
}

enum hbk_beside_note hbk_beside_note(const struct hbk_notes *here,
                                     const struct hbk_notes *known, int written)
{
    const struct hbk_fingering *const now = first(here, written);
    const struct hbk_fingering *const then =
        hbk_beside_known(here, known, written);
    if (now == NULL || then == NULL) {
        return now != NULL    ? HBK_BESIDE_NEW
               : then != NULL ? HBK_BESIDE_LOST
                              : HBK_BESIDE_NEITHER;
    }
    if (!presses_agree(here->horn, now->press, known->horn, then->press)) {
        return HBK_BESIDE_OTHER;
    }
    return fingers_agree(here, now->press, known, then->press)
               ? HBK_BESIDE_SAME
               : HBK_BESIDE_FINGER;
}

const struct hbk_note *hbk_beside_rows(const struct hbk_notes *here,
                                       const struct hbk_notes *known,
                                       struct hbk_arena *arena, size_t *n)
{
    struct hbk_note *const rows =
        HBK_ARENA_ARRAY(arena, struct hbk_note, HBK_NOTE_MAX + 1);
    *n = 0;
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        const struct hbk_note *const note = hbk_notes_find(here, written);
        if (note != NULL) {
            rows[(*n)++] = *note;
        } else if (hbk_beside_known(here, known, written) != NULL) {
            const int sounding =
                written + here->written_c4_sounds - HBK_NOTE_C4;
            rows[(*n)++] = (struct hbk_note){
                .written = written,
                .sounding = sounding,
                .target_hz = hbk_note_hz(sounding, here->tuned.pitch_hz)};
        }
    }
    return rows;
}
