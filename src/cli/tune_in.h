#ifndef HBK_CLI_TUNE_IN_H
#define HBK_CLI_TUNE_IN_H

#include "cli/cli.h"
#include "tune/document.h"

/*
 * Reads the tune that a word names, with --tune, --part and --voice. On
 * failure the faults are printed and HBK_EXIT_INPUT is returned. Finish the
 * document in either case.
 */
int hbk_load_tune(const struct hbk_options *options, const char *word,
                  struct hbk_tune_document *document);

#endif
