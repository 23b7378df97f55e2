#include "lesson/pupil.h"

#include "horn/about.h"
#include "horn/horn.h"

#include <math.h>

enum { OCTAVE = 12, LETTERS = 7, FIFTH = 7, STEP = 2 };

int hbk_lesson_home(const struct hbk_notes *notes)
{
    if (notes->horn->clef == HBK_TREBLE) {
        return HBK_NOTE_C4;
    }
    int home = notes->tuned.note;
    for (unsigned p = notes->tuned.partial; p >= 4; p /= 2) {
        home -= OCTAVE;
    }
    while (home < notes->lowest) {
        home += OCTAVE;
    }
    return home;
}

void hbk_pupil_make(const struct hbk_notes *notes, int low, int high,
                    struct hbk_pupil *pupil)
{
    const int home = hbk_lesson_home(notes);
    const bool usual = low == 0 && high == 0;
    *pupil = (struct hbk_pupil){
        .notes = notes,
        .home = home,
        .low = usual ? home - HBK_LESSON_BELOW : low,
        .high = usual ? home + HBK_LESSON_ABOVE : high,
    };
    hbk_keywork_make(notes->horn, &notes->fingers, &pupil->keywork);
}

const struct hbk_fingering *hbk_pupil_fingering(const struct hbk_pupil *pupil,
                                                int written)
{
    const struct hbk_note *const note = hbk_notes_find(pupil->notes, written);
    return note == NULL || note->n == 0 || written < pupil->low ||
                   written > pupil->high
               ? NULL
               : &note->fingerings[0];
}

bool hbk_pupil_needs_care(const struct hbk_fingering *fingering)
{
    return (fingering->verdict & ((unsigned)HBK_VERDICT_CARE |
                                  (unsigned)HBK_VERDICT_UNRELIABLE)) != 0;
}

double hbk_pupil_note_price(const struct hbk_pupil *pupil, int written)
{
    const struct hbk_fingering *const fingering =
        hbk_pupil_fingering(pupil, written);
    enum hbk_finger finger_of[HBK_CONTROLS_MAX];
    double fingers = 0.0;
    if (fingering == NULL ||
        !hbk_hands_assign(pupil->notes->horn, fingering->press,
                          &pupil->notes->fingers, finger_of, &fingers)) {
        return INFINITY;
    }
    struct hbk_ease ease = {0};
    hbk_ease_add_note(&ease, fingering, 1.0, 0);
    return ease.beyond + fingers +
           (hbk_pupil_needs_care(fingering) ? HBK_PUPIL_CARE : 0.0);
}

struct hbk_ease_move hbk_pupil_move(const struct hbk_pupil *pupil, int a, int b)
{
    const struct hbk_fingering *const from = hbk_pupil_fingering(pupil, a);
    const struct hbk_fingering *const to = hbk_pupil_fingering(pupil, b);
    struct hbk_grips low;
    struct hbk_grips high;
    if (from == NULL || to == NULL ||
        !hbk_grips_make(&pupil->keywork, from->press, &low) ||
        !hbk_grips_make(&pupil->keywork, to->press, &high)) {
        return (struct hbk_ease_move){.available_s = HBK_PUPIL_S};
    }
    return hbk_ease_between(&pupil->keywork, &low, &high, HBK_PUPIL_S);
}

unsigned hbk_pupil_fingers(const struct hbk_fingering *fingering)
{
    unsigned n = 0;
    for (uint32_t press = fingering->press; press != 0; press &= press - 1) {
        n++;
    }
    return n;
}

int hbk_pupil_open_above(const struct hbk_pupil *pupil, int written)
{
    const struct hbk_fingering *const shut =
        hbk_pupil_fingering(pupil, written);
    if (shut == NULL) {
        return -1;
    }
    uint32_t open = shut->press;
    for (size_t i = 0; i < hbk_horn_n_controls(pupil->notes->horn); i++) {
        const struct hbk_control *const control =
            hbk_horn_control(pupil->notes->horn, i);
        if (control->kind == HBK_KEY && control->stands_open) {
            open &= ~(UINT32_C(1) << i);
        }
    }
    for (int above = written + 1;
         open != shut->press && above <= written + STEP; above++) {
        const struct hbk_fingering *const other =
            hbk_pupil_fingering(pupil, above);
        if (other != NULL && other->press == open &&
            other->partial == shut->partial) {
            return above;
        }
    }
    return -1;
}

bool hbk_pupil_is_of_key(const struct hbk_pupil *pupil, int written, int fifths)
{
    static const bool major[OCTAVE] = {true,  false, true,  false, true,  true,
                                       false, true,  false, true,  false, true};
    const int above = (written - pupil->home - FIFTH * fifths) % OCTAVE;
    return major[above < 0 ? above + OCTAVE : above];
}

int hbk_pupil_fifths(int home, int fifths)
{
    enum { MOST = 6 };
    const int up = (fifths + LETTERS * (home - HBK_NOTE_C4)) % OCTAVE;
    const int sharps = up < 0 ? up + OCTAVE : up;
    return sharps > MOST ? sharps - OCTAVE : sharps;
}

struct hbk_spelling hbk_spelling_in_key(int written, int fifths)
{
    static const int naturals[LETTERS] = {0, 2, 4, 5, 7, 9, 11};
    static const int order[LETTERS] = {3, 0, 4, 1, 5, 2, 6}; /* F C G ... */
    for (int i = 0; i < LETTERS; i++) {
        const int step = order[i];
        const int alter = i < fifths ? 1 : i >= LETTERS + fifths ? -1 : 0;
        const int above = written - naturals[step] - alter;
        if (above % OCTAVE == 0) {
            return (struct hbk_spelling){step, alter, above / OCTAVE - 1};
        }
    }
    return hbk_note_usual(written);
}

char *hbk_pupil_called(const struct hbk_pupil *pupil,
                       struct hbk_spelling written, char name[HBK_NAME_SIZE])
{
    const struct hbk_notation *const notation = &pupil->notes->notation;
    return hbk_spelling_said(hbk_notation_spelling(notation, written),
                             notation->naming, HBK_UNICODE, name);
}
