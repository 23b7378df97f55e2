#ifndef HBK_CLI_SETTING_H
#define HBK_CLI_SETTING_H

#include "cli/cli.h"
#include "solve/setting.h"

/* What the options say of how a horn is set. */
struct hbk_wishes hbk_wishes_of(const struct hbk_options *options);

/* Prints, as wrong usage, what would be right in place of a wish. */
int hbk_unmet(const struct hbk_options *options, enum hbk_wish wish,
              const char *why);

/*
 * The setting that the options ask for. Returns HBK_EXIT_DONE or
 * HBK_EXIT_USAGE with the reason printed.
 */
int hbk_read_setting(const struct hbk_horn *horn,
                     const struct hbk_options *options,
                     struct hbk_setting *setting);

#endif
