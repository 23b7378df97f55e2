#include "sound/tone.h"

#include "base/pi.h"

#include <math.h>

enum { HARMONICS_MAX = 32 };

/* Above this nothing is heard of a horn: well below half the rate. */
static const double highest_hz = 12000.0;

/* Where the harmonics give out, in first partials of the open tube. */
static const double bright = 10.0;

/* The mean square of a tone; 1 is the largest sample. */
static const double loudness = 0.12;
/* No sum of harmonics goes beyond this. */
static const double peak_most = 0.90;

/* How loud each harmonic of a tone is; nothing at 0. */
struct timbre {
    size_t n;
    double of[HARMONICS_MAX + 1];
};

static struct timbre timbre_of(double hz, double open_hz)
{
    struct timbre timbre = {0};
    double squares = 0.0;
    double sum = 0.0;
    for (size_t k = 1; k <= HARMONICS_MAX && (double)k * hz < highest_hz; k++) {
        const double ratio = (double)k * hz / (bright * open_hz);
        timbre.of[k] = 1.0 / (1.0 + (ratio * ratio * ratio));
        timbre.n = k;
        squares += timbre.of[k] * timbre.of[k] / 2.0;
        sum += timbre.of[k];
    }
    const double scale =
        timbre.n == 0 ? 0.0 : fmin(loudness / sqrt(squares), peak_most / sum);
    for (size_t k = 1; k <= timbre.n; k++) {
        timbre.of[k] *= scale;
    }
    return timbre;
}

/* From 0 to 1 without a corner, as x goes from 0 to 1. */
static double soft(double x)
{
    const double t = fmin(fmax(x, 0.0), 1.0);
    return t * t * (3.0 - (2.0 * t));
}

/* A tone with what it takes to sound. */
struct voice {
    const struct hbk_tone *tone;
    struct timbre timbre;
    double from_hz;       /* where a slur comes from */
    struct timbre before; /* likewise */
    bool slurred_on;      /* the next one goes on from it */
};

/* How much of harmonic k is there; `left_s` until the end. */
static double loudness_at(const struct voice *voice, size_t k, double at_s,
                          double left_s)
{
    const double third_s = voice->tone->length_s / 3.0;
    const double ends = voice->slurred_on
                            ? 1.0
                            : soft(left_s / fmin(HBK_SOUND_RELEASE_S, third_s));
    if (voice->tone->slurred) {
        const double gone = soft(at_s / fmin(HBK_SOUND_GLIDE_S, third_s));
        return ends * (((1.0 - gone) * voice->before.of[k]) +
                       (gone * voice->timbre.of[k]));
    }
    const double attack_s =
        fmin(HBK_SOUND_ATTACK_S * (1.0 + ((double)k / 8.0)), third_s);
    return ends * soft(at_s / attack_s) * voice->timbre.of[k];
}

/* From here on a tone has all its harmonics. */
static double steady_from(const struct voice *voice)
{
    return voice->tone->slurred
               ? HBK_SOUND_GLIDE_S
               : HBK_SOUND_ATTACK_S * (1.0 + (HARMONICS_MAX / 8.0));
}

static double hz_at(const struct voice *voice, double at_s)
{
    if (!voice->tone->slurred) {
        return voice->tone->hz;
    }
    if (at_s > HBK_SOUND_GLIDE_S) {
        return voice->tone->hz;
    }
    const double gone =
        soft(at_s / fmin(HBK_SOUND_GLIDE_S, voice->tone->length_s / 3.0));
    return voice->from_hz * pow(voice->tone->hz / voice->from_hz, gone);
}

/* All harmonics at one moment; `turns` of the first, from 0 to 1. */
static double sample_at(const struct voice *voice, double turns, double at_s,
                        double left_s)
{
    const size_t n =
        voice->timbre.n > voice->before.n ? voice->timbre.n : voice->before.n;
    const double c = cos(2.0 * HBK_PI * turns);
    const bool is_steady = at_s > steady_from(voice) &&
                           (voice->slurred_on || left_s > HBK_SOUND_RELEASE_S);
    double last = 0.0; /* sines of the multiples: s(k+1) = 2 c s(k) - s(k-1) */
    double now = sin(2.0 * HBK_PI * turns);
    double sum = 0.0;
    for (size_t k = 1; k <= n; k++) {
        sum += now * (is_steady ? voice->timbre.of[k]
                                : loudness_at(voice, k, at_s, left_s));
        const double next = (2.0 * c * now) - last;
        last = now;
        now = next;
    }
    return sum;
}

static size_t frame_of(double time_s, size_t n)
{
    const double frame = round(time_s * HBK_SOUND_RATE);
    return frame <= 0.0 ? 0 : frame >= (double)n ? n : (size_t)frame;
}

/* Writes one tone; `turns` goes on from tone to tone under a slur. */
static void sound_tone(const struct voice *voice, double *turns,
                       struct hbk_sound *sound)
{
    const double end_s = voice->tone->start_s + voice->tone->length_s;
    const size_t first = frame_of(voice->tone->start_s, sound->n);
    const size_t end = frame_of(end_s, sound->n);
    for (size_t i = first; i < end; i++) {
        const double at_s = ((double)i / HBK_SOUND_RATE) - voice->tone->start_s;
        const double left_s = (double)(end - 1 - i) / HBK_SOUND_RATE;
        const double sample = sample_at(voice, *turns, fmax(at_s, 0.0), left_s);
        sound->samples[i] = (int16_t)lround(sample * INT16_MAX);
        *turns += hz_at(voice, at_s) / HBK_SOUND_RATE;
        *turns -= floor(*turns);
    }
}

struct hbk_sound hbk_sound_of(const struct hbk_tone *tones, size_t n,
                              double length_s, double open_hz,
                              struct hbk_arena *arena)
{
    struct hbk_sound sound = {
        .n = (size_t)ceil(fmax(length_s, 0.0) * HBK_SOUND_RATE)};
    sound.samples = HBK_ARENA_ARRAY(arena, int16_t, sound.n + 1);
    double turns = 0.0;
    struct voice voice = {.tone = NULL};
    for (size_t i = 0; i < n; i++) {
        const struct voice before = voice;
        voice = (struct voice){.tone = &tones[i],
                               .timbre = timbre_of(tones[i].hz, open_hz),
                               .slurred_on = i + 1 < n && tones[i + 1].slurred};
        if (tones[i].slurred && before.tone != NULL) {
            voice.from_hz = before.tone->hz;
            voice.before = before.timbre;
        } else {
            voice.from_hz = tones[i].hz;
            turns = 0.0;
        }
        sound_tone(&voice, &turns, &sound);
    }
    return sound;
}
