#ifndef HBK_CLI_COMMAND_TABLE_H
#define HBK_CLI_COMMAND_TABLE_H

#include <stddef.h>

struct hbk_options;

/* A command, as --help, the manual and the completions show it. */
struct hbk_command {
    const char *name;
    const char *words; /* what stands after it */
    const char *does;
    const char *example; /* what stands after it, for instance */
    unsigned takes;      /* option sets, see cli/cli.h */
    int (*run)(const struct hbk_options *options);
    unsigned writes; /* of enum hbk_output: what --format can ask for */
};

/* Every command, in the order of --help. */
enum { HBK_COMMANDS_MOST = 32 };
extern const struct hbk_command hbk_commands[];
extern const size_t hbk_n_commands;

#endif
