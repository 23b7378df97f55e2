#include "sound/wave.h"

#include <string.h>

enum {
    HEADER = 44,
    RIFF_HEAD = 8, /* what the length of a chunk does not count */
    FORMAT_BYTES = 16,
    FORMAT_PCM = 1,
    CHANNELS = 1,
    SAMPLE_BYTES = 2
};

/* Where the next byte goes. */
struct pen {
    char *at;
};

static void put_name(struct pen *pen, const char name[4])
{
    memcpy(pen->at, name, 4);
    pen->at += 4;
}

static void put_number(struct pen *pen, uint32_t number, size_t n_bytes)
{
    for (size_t i = 0; i < n_bytes; i++) {
        *pen->at++ = (char)(number >> (8 * i) & 0xffU);
    }
}

char *hbk_wave_bytes(const struct hbk_sound *sound, struct hbk_arena *arena,
                     size_t *length)
{
    const size_t data = sound->n * SAMPLE_BYTES;
    char *const bytes = HBK_ARENA_ARRAY(arena, char, HEADER + data);
    struct pen pen = {.at = bytes};
    put_name(&pen, "RIFF");
    put_number(&pen, (uint32_t)(HEADER - RIFF_HEAD + data), 4);
    put_name(&pen, "WAVE");
    put_name(&pen, "fmt ");
    put_number(&pen, FORMAT_BYTES, 4);
    put_number(&pen, FORMAT_PCM, 2);
    put_number(&pen, CHANNELS, 2);
    put_number(&pen, HBK_SOUND_RATE, 4);
    put_number(&pen, HBK_SOUND_RATE * CHANNELS * SAMPLE_BYTES, 4);
    put_number(&pen, CHANNELS * SAMPLE_BYTES, 2);
    put_number(&pen, 8 * SAMPLE_BYTES, 2);
    put_name(&pen, "data");
    put_number(&pen, (uint32_t)data, 4);
    for (size_t i = 0; i < sound->n; i++) {
        put_number(&pen, (uint16_t)sound->samples[i], SAMPLE_BYTES);
    }
    *length = HEADER + data;
    return bytes;
}
