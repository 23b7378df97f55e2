#include "notes/scales.h"

#include <stdio.h>
#include <string.h>

/*
 * Degrees as steps along the line of fifths, on which F is -1, C 0, G 1; a
 * minor tonic stands three beyond the major one of the same signature.
 */
static const int major_fifths[HBK_DEGREES] = {0, 2, 4, -1, 1, 3, 5};
static const int minor_fifths[HBK_DEGREES] = {0, 2, -3, -1, 1, -4, 5};
enum { MINOR_BEYOND = 3, FIFTH = 7, OCTAVE = 12, STEPS = 7 };

static int floor_of(int value, int by)
{
    const int rest = value % by;
    return value / by - (rest < 0 ? 1 : 0);
}

/* The note that many fifths from C, in octave 4. */
static struct hbk_spelling on_line(int fifths)
{
    /* A fifth is four steps; from F the line sharpens every seven. */
    const int steps = fifths * 4;
    return (struct hbk_spelling){.step = steps - STEPS * floor_of(steps, STEPS),
                                 .alter = floor_of(fifths + 1, STEPS),
                                 .octave = 4};
}

static int degree_fifths(const struct hbk_scale *scale, size_t degree)
{
    return scale->minor ? scale->signature + MINOR_BEYOND + minor_fifths[degree]
                        : scale->signature + major_fifths[degree];
}

struct hbk_spelling hbk_scale_tonic(const struct hbk_scale *scale)
{
    return on_line(degree_fifths(scale, 0));
}

size_t hbk_scale_degree(const struct hbk_scale *scale, int written)
{
    size_t degree = 0;
    while (degree < HBK_DEGREES &&
           (written - FIFTH * degree_fifths(scale, degree)) % OCTAVE != 0) {
        degree++;
    }
    return degree;
}

struct hbk_spelling hbk_scale_spelling(const struct hbk_scale *scale,
                                       int written)
{
    const size_t degree = hbk_scale_degree(scale, written);
    struct hbk_spelling spelling =
        on_line(degree_fifths(scale, degree % HBK_DEGREES));
    spelling.octave += (written - hbk_spelling_note(spelling)) / OCTAVE;
    return spelling;
}

struct hbk_scale hbk_scale_read(const struct hbk_scale *scale,
                                const struct hbk_notation *notation)
{
    struct hbk_scale read = *scale;
    const int fifths = FIFTH * notation->shift + scale->signature;
    read.signature = fifths + HBK_FLATS_MOST -
                     OCTAVE * floor_of(fifths + HBK_FLATS_MOST, OCTAVE) -
                     HBK_FLATS_MOST;
    return read;
}

char *hbk_scale_tonics_called(const struct hbk_scale *scale,
                              enum hbk_naming naming,
                              enum hbk_accidentals style,
                              char name[HBK_KEY_NAME_SIZE])
{
    char tonic[HBK_NAME_SIZE];
    hbk_spelling_called(hbk_scale_tonic(scale), naming, style, tonic);
    const int n = snprintf(name, HBK_KEY_NAME_SIZE, "%s", tonic);
    if (scale->signature == -HBK_FLATS_MOST) {
        /* Twelve fifths on, the same note has its name in sharps. */
        const struct hbk_spelling other =
            on_line(degree_fifths(scale, 0) + OCTAVE);
        (void)snprintf(name + n, HBK_KEY_NAME_SIZE - (size_t)n, "/%s",
                       hbk_spelling_called(other, naming, style, tonic));
    }
    return name;
}

char *hbk_scale_called(const struct hbk_scale *scale, enum hbk_naming naming,
                       enum hbk_accidentals style, char name[HBK_KEY_NAME_SIZE])
{
    const size_t n =
        strlen(hbk_scale_tonics_called(scale, naming, style, name));
    (void)snprintf(name + n, HBK_KEY_NAME_SIZE - n, " %s",
                   scale->minor ? "minor" : "major");
    return name;
}

char *hbk_scale_name(const struct hbk_scale *scale, enum hbk_accidentals style,
                     char name[HBK_KEY_NAME_SIZE])
{
    return hbk_scale_called(scale, HBK_NAMES_ENGLISH, style, name);
}
