#ifndef HBK_EDITION_HELD_H
#define HBK_EDITION_HELD_H

#include "cli/cli.h"
#include "notes/held.h"

/*
 * Reads --hold and --root, and orders the fingerings. Everything lives in the
 * arena. HBK_EXIT_DONE or HBK_EXIT_USAGE with the reason printed.
 */
int hbk_held_read(const struct hbk_options *options,
                  const struct hbk_notes *notes, struct hbk_arena *arena,
                  struct hbk_held *held);

#endif
