#ifndef HBK_CLI_TUNE_IN_H
#define HBK_CLI_TUNE_IN_H

#include "cli/cli.h"
#include "edition/ask.h"
#include "tune/document.h"

/*
 * Reads the tune that a word names, with --tune, --part and --voice; with
 * --run the notes that were typed, and no word. The faults are printed.
 * Finish the document in either case. Returns the exit code.
 */
int hbk_load_tune(const struct hbk_options *options, const char *word,
                  struct hbk_tune_document *document);

/* What the options say of how a tune is performed. */
struct hbk_perform_ask hbk_perform_ask_of(const struct hbk_options *options);

#endif
