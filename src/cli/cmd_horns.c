#include "cli/commands.h"

#include "cli/output.h"
#include "horn/about.h"
#include "reader/horn_file.h"
#include "reader/shipped.h"

#include <string.h>
#include <strings.h>

/* Whether `part` stands in `text`, small and capital letters alike. */
static bool has_word(const char *text, const char *part)
{
    const size_t length = strlen(part);
    const size_t whole = strlen(text);
    for (size_t at = 0; at + length <= whole; at++) {
        if (strncasecmp(text + at, part, length) == 0) {
            return true;
        }
    }
    return false;
}

/* Whether every word asked for stands in the name or the title of a horn. */
static bool is_asked(const struct hbk_options *options, const char *name,
                     const char *title)
{
    for (size_t i = 0; i < options->n_words; i++) {
        if (!has_word(name, options->words[i]) &&
            !has_word(title, options->words[i])) {
            return false;
        }
    }
    return true;
}

static enum hbk_status list(const struct hbk_options *options,
                            const struct hbk_shipped_horn *shipped, size_t n,
                            struct hbk_text *out, struct hbk_faults *faults)
{
    enum hbk_status status = HBK_OK;
    for (size_t i = 0; i < n && status == HBK_OK; i++) {
        struct hbk_horn *const horn = hbk_horn_new(out->arena);
        status = hbk_horn_read(shipped[i].path, horn, faults);
        if (status == HBK_OK &&
            is_asked(options, shipped[i].name, hbk_horn_name(horn))) {
            hbk_text_addf(out, "%-38s %s\n", shipped[i].name,
                          hbk_horn_name(horn));
        }
        hbk_horn_finish(horn);
    }
    return status;
}

int hbk_cmd_horns(const struct hbk_options *options)
{
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_text out = {.arena = &arena};
    const struct hbk_shipped_horn *shipped = NULL;
    const size_t n = hbk_shipped_list(&arena, &shipped);
    int code = hbk_exit_of(list(options, shipped, n, &out, &faults));
    hbk_print_faults(&faults, options->quiet);
    if (n == 0) {
        fprintf(stderr,
                "hornbook horns: there are no horns in %s; set "
                "HORNBOOK_INSTRUMENTS to the folder they are in\n",
                hbk_shipped_folder(&arena));
        code = HBK_EXIT_INPUT;
    } else if (code == HBK_EXIT_DONE && out.length == 0) {
        fputs("hornbook horns: no horn that comes with the program is called "
              "that; 'hornbook horns' lists them all\n",
              stderr);
        code = HBK_EXIT_NO;
    } else if (code == HBK_EXIT_DONE) {
        code = hbk_write_text(options, &out);
    }
    hbk_arena_finish(&arena);
    return code;
}
