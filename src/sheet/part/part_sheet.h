#ifndef HBK_SHEET_PART_PART_SHEET_H
#define HBK_SHEET_PART_PART_SHEET_H

#include "base/status.h"
#include "page/mark.h"
#include "sheet/part/part.h"
#include "tune/melody/tune.h"

struct hbk_horn;

/*
 * A part to play from: the tune engraved, with fingerings under its notes.
 */

/*
 * Lays out the part. Accidentals are those that key and bar demand, whatever
 * the source prints; beams are the source's where it has any, else by the
 * meter. Lines are broken at bars so that they are filled as evenly as can
 * be; a bar wider than a line is broken between its beats.
 *
 * tune         not empty; a tune that the readers accept
 * fingerings   one for each event of the tune, or NULL for none
 * words        may be NULL
 * options      may be NULL
 * horn         for the order of circles; may be NULL without them
 * sheet        zero-initialised but for its arena; receives the pages
 *
 * Nothing given is kept: strings are copied. Returns HBK_OK, or
 * HBK_ERR_DOMAIN when the range holds no bar, `circles` are asked for
 * without a horn or staff_mm is out of range; `sheet` is then untouched.
 *
 * Measures are in engrave/engrave.h. 300 bars of sixteenths take some 30 ms.
 */
enum hbk_status hbk_sheet_part(const struct hbk_tune *tune,
                               const struct hbk_part_fingering *fingerings,
                               const struct hbk_part_words *words,
                               const struct hbk_part_options *options,
                               const struct hbk_horn *horn,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet) HBK_MUST_CHECK;

#endif
