#include "music/moving.h"

#include "base/number.h"
#include "music/fifths.h"
#include "music/pitch.h"

#include <stdio.h>
#include <string.h>

enum { SEMITONES_MOST = 24, NUMBER_MOST = 15, OCTAVE = 12 };

const char *const hbk_moving_takes_octave =
    "takes auto or a number of octaves from -4 to 4, as in -1";
const char *const hbk_moving_takes_interval =
    "takes an interval, as in M2, -m3, P4 or P5 (major, minor, perfect; minus "
    "is down), or semitones from -24 to 24";
const char *const hbk_moving_takes_key =
    "takes auto, auto:3 (within 3 semitones, 1 to 6) or the note of a key, as "
    "in Bb; major stays major, and minor minor";

static bool whole(const char *word, int most, int *number)
{
    long value = 0;
    if (!hbk_number_parse_whole(word, -most, most, &value)) {
        return false;
    }
    *number = (int)value;
    return true;
}

bool hbk_moving_octave(const char *word, struct hbk_moving *moving)
{
    if (strcmp(word, "auto") == 0) {
        moving->any_octave = true;
        moving->octaves = 0;
        return true;
    }
    if (!whole(word, HBK_OCTAVES_MOST, &moving->octaves)) {
        return false;
    }
    moving->any_octave = false;
    return true;
}

/*
 * A named interval upwards from C: its place on the line of fifths. Perfect
 * ones lie within one place of C, major ones behind them; minor is seven
 * places below major, and so is diminished below minor or perfect.
 */
static bool named(char quality, int number, int *fifths)
{
    static const int natural[7] = {0, 2, 4, -1, 1, 3, 5};
    enum { SIGN = 7 };
    const int step = (number - 1) % 7;
    const bool perfect = step == 0 || step == 3 || step == 4;
    int alter = 0;
    switch (quality) {
    case 'P':
        if (!perfect) {
            return false;
        }
        break;
    case 'M':
    case 'm':
        if (perfect) {
            return false;
        }
        alter = quality == 'm' ? -1 : 0;
        break;
    case 'A':
        alter = 1;
        break;
    case 'd':
        alter = perfect ? -1 : -2;
        break;
    default:
        return false;
    }
    *fifths = natural[step] + (SIGN * alter);
    return true;
}

/* "M2", "m10": the letters say which way it differs, a figure how far. */
static bool interval_up(const char *word, int *semitones, int *fifths)
{
    static const int natural[7] = {0, 2, 4, 5, 7, 9, 11};
    long number = 0;
    if (word[0] == '\0' || word[1] < '1' || word[1] > '9' ||
        !hbk_number_parse_whole(word + 1, 1, NUMBER_MOST, &number) ||
        !named(word[0], (int)number, fifths)) {
        return false;
    }
    const int step = (int)(number - 1) % 7;
    const int octaves = (int)(number - 1) / 7;
    *semitones = natural[step] + (OCTAVE * octaves) + hbk_fifths_alter(*fifths);
    return *semitones >= 0;
}

bool hbk_moving_interval(const char *word, struct hbk_moving *moving)
{
    const bool down = word[0] == '-';
    const bool has_sign = down || word[0] == '+';
    int semitones = 0;
    int fifths = 0;
    if (whole(word, SEMITONES_MOST, &semitones)) {
        moving->semitones = semitones;
        moving->spelled = false;
        moving->fifths = 0;
        return true;
    }
    if (!interval_up(word + (has_sign ? 1 : 0), &semitones, &fifths)) {
        return false;
    }
    moving->semitones = down ? -semitones : semitones;
    moving->fifths = down ? -fifths : fifths;
    moving->spelled = true;
    return true;
}

static bool reach_of(const char *word, int *reach)
{
    static const char automatic[] = "auto";
    const size_t n = sizeof(automatic) - 1;
    long number = HBK_REACH_USUAL;
    if (strncmp(word, automatic, n) != 0 ||
        (word[n] != '\0' &&
         (word[n] != ':' ||
          !hbk_number_parse_whole(word + n + 1, 1, HBK_REACH_MOST, &number)))) {
        return false;
    }
    *reach = (int)number;
    return true;
}

bool hbk_moving_key(const char *word, struct hbk_moving *moving)
{
    enum { MOST = 8 };
    char note[MOST + 2];
    struct hbk_spelling tonic;
    int reach = 0;
    if (reach_of(word, &reach)) {
        moving->any_key = true;
        moving->to_key = false;
        moving->reach = reach;
        return true;
    }
    if (word[0] == '\0' || strlen(word) > MOST) {
        return false;
    }
    (void)snprintf(note, sizeof(note), "%s4", word);
    if (strpbrk(word, "0123456789-") != NULL ||
        !hbk_spelling_parse(note, &tonic) || tonic.alter > 1 ||
        tonic.alter < -1) {
        return false;
    }
    moving->any_key = false;
    moving->to_key = true;
    moving->tonic = hbk_fifths_of(tonic.step, tonic.alter);
    return true;
}

bool hbk_moving_asked(const struct hbk_moving *moving)
{
    return moving->any_octave || moving->octaves != 0 || moving->any_key ||
           moving->to_key || moving->semitones != 0;
}
