#include "cli/cli.h"

#include "cli/terminal.h"
#include "reader/horn_word.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

void hbk_add_faults(const struct hbk_faults *faults, bool quiet,
                    struct hbk_text *text)
{
    for (size_t i = 0; i < faults->count; i++) {
        char line[HBK_FAULT_LINE];
        if (faults->items[i].warning && quiet) {
            continue;
        }
        hbk_fault_format(&faults->items[i], line, sizeof(line));
        hbk_text_addf(text, "%s\n", line);
    }
    if (faults->beyond > 0) {
        hbk_text_addf(text, "and %zu more\n", faults->beyond);
    }
}

void hbk_print_faults(const struct hbk_faults *faults, bool quiet)
{
    struct hbk_arena arena = {0};
    struct hbk_text text = {.arena = &arena};
    hbk_add_faults(faults, quiet, &text);
    hbk_terminal_messages(&text);
    hbk_arena_finish(&arena);
}

int hbk_exit_of(enum hbk_status status)
{
    switch (status) {
    case HBK_OK:
        return HBK_EXIT_DONE;
    case HBK_ERR_NO_RESULT:
        return HBK_EXIT_NO;
    case HBK_ERR_OUTPUT:
    case HBK_ERR_RENDER:
        return HBK_EXIT_OUTPUT;
    case HBK_ERR_INPUT:
    case HBK_ERR_DOMAIN:
        return HBK_EXIT_INPUT;
    }
    return HBK_EXIT_INPUT;
}

int hbk_load_horn(const char *word, bool quiet, struct hbk_horn *horn)
{
    struct hbk_faults faults = {0};
    struct hbk_arena scratch = {0};
    const enum hbk_status status =
        hbk_horn_read_word(word, &scratch, horn, &faults);
    hbk_print_faults(&faults, quiet);
    hbk_arena_finish(&scratch);
    return hbk_exit_of(status);
}
