#include "cli/cli.h"

#include "cli/terminal.h"
#include "reader/horn_word.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

void hbk_add_faults(const struct hbk_faults *faults, bool quiet,
                    struct hbk_text *text)
{
    const struct hbk_screen screen = hbk_terminal_of_messages();
    for (size_t i = 0; i < faults->count; i++) {
        char line[HBK_FAULT_LINE];
        if (faults->items[i].warning && quiet) {
            continue;
        }
        hbk_fault_format(&faults->items[i], line, sizeof(line));
        hbk_screen_lay(&screen, line, text);
    }
    if (faults->beyond > 0) {
        hbk_text_addf(text, "and %zu more\n", faults->beyond);
    }
}

/* The word that says how bad it is stands out on a terminal that can. */
static void print_colored(const char *lines)
{
    static const struct {
        const char *word, *color;
    } kinds[] = {{"error:", "\x1B[1;31m"}, {"warning:", "\x1B[1;33m"}};
    if (!hbk_terminal_has_color(STDERR_FILENO)) {
        fputs(lines, stderr);
        return;
    }
    for (const char *line = lines; *line != '\0';) {
        const size_t length = strcspn(line, "\n") + 1;
        const char *word = NULL;
        size_t k = 0;
        for (size_t i = 0; i < 2 && word == NULL; i++) {
            word = strstr(line, kinds[i].word);
            word = word != NULL && word < line + length ? word : NULL;
            k = i;
        }
        if (word == NULL) {
            fprintf(stderr, "%.*s", (int)length, line);
        } else {
            const int n = (int)strlen(kinds[k].word);
            fprintf(stderr, "%.*s%s%.*s\x1B[0m%.*s", (int)(word - line), line,
                    kinds[k].color, n, word, (int)(line + length - word) - n,
                    word + n);
        }
        line += length;
    }
}

void hbk_print_faults(const struct hbk_faults *faults, bool quiet)
{
    struct hbk_arena arena = {0};
    struct hbk_text text = {.arena = &arena};
    hbk_add_faults(faults, quiet, &text);
    if (text.length > 0) {
        hbk_terminal_wipe();
        print_colored(hbk_text_string(&text));
    }
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
