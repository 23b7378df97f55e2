#ifndef HBK_CLI_TUNE_IN_H
#define HBK_CLI_TUNE_IN_H

#include "cli/cli.h"
#include "edition/ask.h"
#include "tune/document.h"

struct hbk_horn;

/*
 * Reads the tune that a word names, with --tune, --part, --voice, --line; with
 * --run the notes that were typed, and no word. The faults are printed.
 * Finish the document in either case. Returns the exit code.
 *
 * horn   whose part of a score it is, where none is named; NULL for no one's
 */
int hbk_load_tune(const struct hbk_options *options, const char *word,
                  const struct hbk_horn *horn,
                  struct hbk_tune_document *document);

/*
 * What the options say of how a tune is performed. Wrong usage is told; returns
 * the exit code.
 *
 * octave   what --octave would say where it is not given; or NULL
 */
int hbk_read_perform_ask(const struct hbk_options *options, const char *octave,
                         struct hbk_perform_ask *ask);

#endif
