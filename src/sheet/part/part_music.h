#ifndef HBK_SHEET_PART_PART_MUSIC_H
#define HBK_SHEET_PART_PART_MUSIC_H

#include "page/pad.h"
#include "sheet/part/part.h"
#include "tune/melody/tune.h"

struct hbk_horn;

/*
 * Music within another sheet: engraved as a part is, but line by line, for
 * whoever lays out the page to put each where it wants. Lengths in mm.
 */
struct hbk_part_music;

/* Where and how large. */
struct hbk_part_frame {
    double x, width; /* of the staff */
    double staff_mm; /* its height, 4 to 9 mm */
};

/*
 * Engraves a tune, not empty, that borrows nothing of the page yet.
 *
 * pad          of the sheet that it will stand on; its arena owns the result
 * fingerings   one for each event of the tune, or NULL for none
 * options      circles, sounding, naming and stuck are read; the rest is not
 * horn         for the order of circles; may be NULL without them
 */
struct hbk_part_music *
hbk_part_music_engrave(struct hbk_pad *pad, const struct hbk_tune *tune,
                       const struct hbk_part_fingering *fingerings,
                       const struct hbk_part_options *options,
                       const struct hbk_horn *horn,
                       const struct hbk_part_frame *frame);

size_t hbk_part_music_lines(const struct hbk_part_music *music);
/* Of a line with all that stands above and below its staff. */
double hbk_part_music_height(const struct hbk_part_music *music, size_t line);
/* Whether some line of it has such a music character (engrave/glyph.h). */
bool hbk_part_music_has(const struct hbk_part_music *music, uint32_t glyph);
/* From the last page's top to the top of its ink: y. A paragraph. */
void hbk_part_music_draw(struct hbk_pad *pad, struct hbk_part_music *music,
                         size_t line, double y);

#endif
