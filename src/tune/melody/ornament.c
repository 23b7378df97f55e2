#include "tune/melody/ornament.h"

enum { STEPS = 7 };

static const struct {
    unsigned bit;
    int alter;
} signs[] = {{HBK_TUNE_SIGN_SHARP, 1},
             {HBK_TUNE_SIGN_FLAT, -1},
             {HBK_TUNE_SIGN_NATURAL, 0},
             {HBK_TUNE_SIGN_DOUBLE_SHARP, 2},
             {HBK_TUNE_SIGN_DOUBLE_FLAT, -2}};

unsigned hbk_tune_sign_of(int alter)
{
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        if (signs[i].alter == alter) {
            return signs[i].bit;
        }
    }
    return 0;
}

/* The letter beside the note, with its octave, as a natural. */
static struct hbk_spelling letter_beside(const struct hbk_tune_event *event)
{
    const bool is_below =
        (event->articulation & (HBK_TUNE_MORDENT | HBK_TUNE_TRILL)) ==
        HBK_TUNE_MORDENT;
    const int at = (STEPS * event->spelling.octave) + event->spelling.step +
                   (is_below ? -1 : 1);
    const int octave = at < 0 ? -1 : at / STEPS;
    return (struct hbk_spelling){.step = at - (STEPS * octave),
                                 .octave = octave};
}

struct hbk_spelling hbk_tune_other_note(const struct hbk_tune *tune,
                                        size_t event)
{
    const struct hbk_tune_event *const at = &tune->events[event];
    struct hbk_spelling other = letter_beside(at);
    other.alter = hbk_tune_key_at(tune, event)->alter[other.step];
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        if ((at->articulation & signs[i].bit) != 0) {
            other.alter = signs[i].alter;
            break;
        }
    }
    return other;
}

int hbk_tune_other_interval(const struct hbk_tune *tune, size_t event)
{
    return hbk_spelling_note(hbk_tune_other_note(tune, event)) -
           hbk_spelling_note(tune->events[event].spelling);
}

unsigned hbk_tune_moved_signs(const struct hbk_tune *from,
                              const struct hbk_tune *moved, size_t event)
{
    const unsigned all = HBK_TUNE_TRILL_SIGN;
    const unsigned was = from->events[event].articulation;
    const unsigned others = was & ~all;
    if ((others & (HBK_TUNE_TRILL | HBK_TUNE_ORNAMENT)) == 0) {
        return was;
    }
    const int note = hbk_spelling_note(hbk_tune_other_note(from, event)) +
                     moved->events[event].note - from->events[event].note;
    const struct hbk_spelling letter = letter_beside(&moved->events[event]);
    const int alter = note - hbk_spelling_note(letter);
    const bool is_of_key =
        alter == hbk_tune_key_at(moved, event)->alter[letter.step];
    return (was & all) == 0 && is_of_key ? others
                                         : others | hbk_tune_sign_of(alter);
}
