#ifndef HBK_CLI_OPTION_LIST_H
#define HBK_CLI_OPTION_LIST_H

#include <stdbool.h>
#include <stddef.h>

/* An option as --help, the manual and the completions show it. */
struct hbk_option_shown {
    const char *name;
    char letter;       /* a short form, or 0 */
    const char *value; /* what stands for its value; "" for a switch */
    const char *help;
    bool is_number; /* from low to high, both included, in unit */
    double low, high;
    const char *unit; /* " Hz", or "" */
};

/* Room for the options of any command. */
enum { HBK_OPTIONS_MOST = 128 };

/*
 * The options of a command that takes these sets (cli/cli.h), in the order of
 * its --help and with --quiet and --help; returns how many.
 */
size_t hbk_options_list(unsigned takes,
                        struct hbk_option_shown shown[HBK_OPTIONS_MOST]);

/*
 * The words an option of that name takes, one after the other; NULL past the
 * last, and at once for an option that takes others. Those of --format differ
 * from command to command: hbk_output_word() in cli/output.h.
 */
const char *hbk_option_word(const char *option, size_t i);

#endif
