/* Tones as samples, and samples as a file. */
#include "support/check.h"

#include "base/pi.h"
#include "sound/wave.h"

#include <string.h>

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

static const double open_hz = 116.5; /* a cornet in B flat */

static struct hbk_sound one_tone(double hz, double length_s, double bright_hz,
                                 struct hbk_arena *arena)
{
    const struct hbk_tone tone = {.length_s = length_s, .hz = hz};
    return hbk_sound_of(&tone, 1, length_s, bright_hz, arena);
}

/* How far the phase of `hz` goes beyond its own turns over `hop` samples. */
static double drift(const struct hbk_sound *sound, double hz, size_t from,
                    size_t hop)
{
    enum { WINDOW = 8192 };
    double phase[2] = {0.0};
    for (size_t w = 0; w < 2; w++) {
        double re = 0.0;
        double im = 0.0;
        for (size_t i = 0; i < WINDOW; i++) {
            const size_t at = from + (w * hop) + i;
            const double turn = 2.0 * HBK_PI * hz * (double)at / HBK_SOUND_RATE;
            const double hann = 1.0 - cos(2.0 * HBK_PI * (double)i / WINDOW);
            re += hann * sound->samples[at] * cos(turn);
            im -= hann * sound->samples[at] * sin(turn);
        }
        phase[w] = atan2(im, re);
    }
    return remainder(phase[1] - phase[0], 2.0 * HBK_PI);
}

/* The pitch near `hz`, by how its phase goes on. */
static double pitch_near(const struct hbk_sound *sound, double hz, size_t from)
{
    const size_t hops[] = {512, 16384};
    double found = hz;
    for (size_t i = 0; i < COUNT(hops); i++) {
        found += drift(sound, found, from, hops[i]) * HBK_SOUND_RATE /
                 (2.0 * HBK_PI * (double)hops[i]);
    }
    return found;
}

static void a_tone_has_its_pitch(void **state)
{
    (void)state;
    static const double pitches[] = {38.9, 103.3, 233.082, 441.7, 939.2};
    for (size_t i = 0; i < COUNT(pitches); i++) {
        struct hbk_arena arena = {0};
        const struct hbk_sound sound =
            one_tone(pitches[i], 1.5, open_hz, &arena);
        /* Looked for a quarter of a tone off, so that it must be found. */
        const double got = pitch_near(&sound, pitches[i] * 1.0145, 10000);
        check_abs(1200.0 * log2(got / pitches[i]), 0.0, 0.05);
        hbk_arena_finish(&arena);
    }
}

static void nothing_is_clipped_and_all_is_equally_loud(void **state)
{
    (void)state;
    static const double tubes[] = {30.0, 65.4, 116.5, 349.0};
    for (double hz = 20.0; hz <= 5000.0; hz *= 1.37) {
        for (size_t t = 0; t < COUNT(tubes); t++) {
            struct hbk_arena arena = {0};
            const struct hbk_sound sound = one_tone(hz, 0.6, tubes[t], &arena);
            double squares = 0.0;
            for (size_t i = 0; i < sound.n; i++) {
                const double sample = (double)sound.samples[i] / INT16_MAX;
                assert_true(fabs(sample) < 0.95);
                squares += i > 8820 && i <= 17640 ? sample * sample : 0.0;
            }
            /* Where 0.2 s hold not enough turns for a mean, more or less. */
            check_abs(sqrt(squares / 8820.0), 0.12, 0.03);
            hbk_arena_finish(&arena);
        }
    }
}

/* The most that two samples in succession differ by. */
static double steepest(const struct hbk_sound *sound, size_t from, size_t end)
{
    double most = 0.0;
    for (size_t i = from + 1; i < end; i++) {
        most =
            fmax(most, fabs((double)sound->samples[i] - sound->samples[i - 1]));
    }
    return most;
}

/* No step anywhere that is steeper than the tones themselves. */
static void nothing_clicks(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_tone tones[] = {
        {.start_s = 0.000, .length_s = 0.371, .hz = 440.0},
        {.start_s = 0.500, .length_s = 0.075, .hz = 311.1},
        {.start_s = 0.575, .length_s = 0.075, .hz = 349.2, .slurred = true},
        {.start_s = 0.650, .length_s = 0.010, .hz = 415.3, .slurred = true},
        {.start_s = 0.660, .length_s = 0.400, .hz = 440.0, .slurred = true},
        {.start_s = 1.060, .length_s = 0.003, .hz = 440.0},
    };
    const struct hbk_sound sound =
        hbk_sound_of(tones, COUNT(tones), 1.2, open_hz, &arena);
    assert_int_equal(sound.n, 52920);
    const double own = steepest(&sound, 4000, 12000);
    assert_true(own > 100.0);
    check_abs(steepest(&sound, 0, sound.n), 0.0, 1.6 * own);
    assert_int_equal(sound.samples[0], 0);
    assert_int_equal(sound.samples[sound.n - 1], 0);
    /* Silent between the first and the second. */
    for (size_t i = 16362; i < 22050; i++) {
        assert_int_equal(sound.samples[i], 0);
    }
    hbk_arena_finish(&arena);
}

static double loudness(const struct hbk_sound *sound, double from_s)
{
    double squares = 0.0;
    const size_t from = (size_t)(from_s * HBK_SOUND_RATE);
    for (size_t i = from; i < from + 441; i++) {
        squares += (double)sound->samples[i] * sound->samples[i];
    }
    return sqrt(squares / 441.0);
}

/* Under a slur the sound goes on, and is the new pitch's soon after. */
static void a_slur_goes_over(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_tone tones[] = {
        {.start_s = 0.0, .length_s = 0.5, .hz = 440.0},
        {.start_s = 0.5, .length_s = 1.0, .hz = 493.9, .slurred = true},
    };
    const struct hbk_sound slurred =
        hbk_sound_of(tones, 2, 1.5, open_hz, &arena);
    tones[1].slurred = false;
    const struct hbk_sound tongued =
        hbk_sound_of(tones, 2, 1.5, open_hz, &arena);
    const double full = loudness(&slurred, 0.3);
    assert_true(loudness(&slurred, 0.495) > 0.8 * full);
    assert_true(loudness(&tongued, 0.495) < 0.5 * full);
    check_abs(pitch_near(&slurred, 490.0, 23000), 493.9, 0.02);
    hbk_arena_finish(&arena);
}

/* A low note has more of its harmonics than a high one. */
static void low_notes_are_brighter(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    double share[2] = {0.0};
    static const double pitches[] = {174.6, 932.3};
    for (size_t p = 0; p < 2; p++) {
        const struct hbk_sound sound =
            one_tone(pitches[p], 1.0, open_hz, &arena);
        double part[2] = {0.0};
        for (size_t k = 1; k <= 2; k++) {
            double re = 0.0;
            double im = 0.0;
            for (size_t i = 10000; i < 30000; i++) {
                const double turn = 2.0 * HBK_PI * (double)k * pitches[p] *
                                    (double)i / HBK_SOUND_RATE;
                re += sound.samples[i] * cos(turn);
                im += sound.samples[i] * sin(turn);
            }
            part[k - 1] = hypot(re, im);
        }
        share[p] = part[1] / part[0];
    }
    assert_true(share[0] > 0.8);
    assert_true(share[1] < 0.5);
    hbk_arena_finish(&arena);
}

/* The header as the specification prints it, field by field. */
static void the_file_is_as_specified(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    int16_t samples[] = {0, 1, -2, 32767, -32768};
    const struct hbk_sound sound = {.n = COUNT(samples), .samples = samples};
    size_t length = 0;
    const char *const bytes = hbk_wave_bytes(&sound, &arena, &length);
    static const unsigned char want[] = {
        'R', 'I', 'F',  'F',  46,   0,    0,    0,    'W', 'A', 'V',
        'E', 'f', 'm',  't',  ' ',  16,   0,    0,    0,   1,   0,
        1,   0,   0x44, 0xac, 0,    0,    0x88, 0x58, 1,   0,   2,
        0,   16,  0,    'd',  'a',  't',  'a',  10,   0,   0,   0,
        0,   0,   1,    0,    0xfe, 0xff, 0xff, 0x7f, 0,   0x80};
    assert_int_equal(length, sizeof(want));
    assert_memory_equal(bytes, want, sizeof(want));
    hbk_arena_finish(&arena);
}

static void the_same_tones_make_the_same_samples(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_sound a = one_tone(311.127, 0.4, open_hz, &arena);
    const struct hbk_sound b = one_tone(311.127, 0.4, open_hz, &arena);
    assert_int_equal(a.n, b.n);
    assert_memory_equal(a.samples, b.samples, a.n * sizeof(a.samples[0]));
    /* Nothing at all is a sound as well. */
    const struct hbk_sound none = hbk_sound_of(NULL, 0, 0.0, open_hz, &arena);
    assert_int_equal(none.n, 0);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_tone_has_its_pitch),
        cmocka_unit_test(nothing_is_clipped_and_all_is_equally_loud),
        cmocka_unit_test(nothing_clicks),
        cmocka_unit_test(a_slur_goes_over),
        cmocka_unit_test(low_notes_are_brighter),
        cmocka_unit_test(the_file_is_as_specified),
        cmocka_unit_test(the_same_tones_make_the_same_samples),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
