#ifndef HBK_SOUND_WAVE_H
#define HBK_SOUND_WAVE_H

#include "sound/tone.h"

/*
 * The bytes of a RIFF/WAVE file: one channel of linear PCM, 16 bits, in the
 * 44 bytes of header and the samples that the format wants and nothing else
 * (IBM and Microsoft, Multimedia Programming Interface and Data Specifications
 * 1.0, August 1991, "Waveform Audio File Format"; numbers with the lowest byte
 * first). No date and no name, so that the same sound makes the same bytes.
 *
 * sound    of less than 2^31 samples less the header
 * length   receives their number
 */
char *hbk_wave_bytes(const struct hbk_sound *sound, struct hbk_arena *arena,
                     size_t *length);

#endif
