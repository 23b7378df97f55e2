#ifndef HBK_READER_READINGS_FILE_H
#define HBK_READER_READINGS_FILE_H

#include "horn/readings.h"

/*
 * Reads a file of tuner readings. instruments/readings.schema.json describes
 * the format. Whether the horn has what the fingerings name is found out
 * later, when the readings are tied to it (fit/bind.h).
 *
 * path      "-" is standard input; borrowed: must outlive the readings
 * readings  initialised here; finish it in either case
 *
 * Returns HBK_OK, or HBK_ERR_INPUT with at least one error added; there are
 * then no readings.
 */
enum hbk_status hbk_readings_read(const char *path,
                                  struct hbk_readings *readings,
                                  struct hbk_faults *faults) HBK_MUST_CHECK;

#endif
