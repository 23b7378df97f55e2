#ifndef HBK_CLI_TUNE_IN_H
#define HBK_CLI_TUNE_IN_H

#include "cli/cli.h"
#include "tune/document.h"

/*
 * Reads the tune that a word names, with --tune, --part and --voice; with
 * --run the notes that were typed, and no word. Finish the document in
 * either case.
 */
enum hbk_status hbk_read_tune(const struct hbk_options *options,
                              const char *word,
                              struct hbk_tune_document *document,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

/* The same with the faults printed; returns the exit code. */
int hbk_load_tune(const struct hbk_options *options, const char *word,
                  struct hbk_tune_document *document);

#endif
