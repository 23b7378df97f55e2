#ifndef HBK_READER_HORN_FILE_H
#define HBK_READER_HORN_FILE_H

#include "base/fault.h"

struct hbk_horn;

/*
 * Reads a horn file, and the files it is based on, into the model. What is
 * written in millimeters, millilitres and degrees is SI from here on, but
 * cents, semitones and Celsius stay. instruments/horn.schema.json describes
 * the format.
 *
 * path    "-" is standard input; copied
 * horn    initialised here; finish it in either case
 * faults  every fault of the file, up to 20, in the order of their places
 *
 * Returns HBK_OK, and the horn is sound: every control has a finger and
 * changes a site, every hole and loop lies within the tube, and the air
 * column keeps a length whatever is pressed. Or HBK_ERR_INPUT with at least
 * one error added; the horn is then empty.
 *
 * Optional texts the file does not give (source, called) are NULL.
 */
enum hbk_status hbk_horn_read(const char *path, struct hbk_horn *horn,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

/* The same from text; `path` names it and places what it is based on. */
enum hbk_status hbk_horn_read_text(const char *path, const char *bytes,
                                   size_t length, struct hbk_horn *horn,
                                   struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
