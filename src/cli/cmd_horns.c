#include "cli/commands.h"

#include "cli/output.h"
#include "horn/about.h"
#include "reader/horn_file.h"
#include "reader/shipped.h"

int hbk_cmd_horns(const struct hbk_options *options)
{
    if (options->n_words > 0) {
        return hbk_usage(options->command,
                         "it lists every shipped horn; leave out '%s'",
                         options->words[0]);
    }
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_text out = {.arena = &arena};
    const struct hbk_shipped_horn *shipped = NULL;
    const size_t n = hbk_shipped_list(&arena, &shipped);
    enum hbk_status status = HBK_OK;
    for (size_t i = 0; i < n && status == HBK_OK; i++) {
        struct hbk_horn *const horn = hbk_horn_new(&arena);
        status = hbk_horn_read(shipped[i].path, horn, &faults);
        if (status == HBK_OK) {
            hbk_text_addf(&out, "%-38s %s\n", shipped[i].name,
                          hbk_horn_name(horn));
        }
        hbk_horn_finish(horn);
    }
    hbk_print_faults(&faults, options->quiet);
    int code = hbk_exit_of(status);
    if (code == HBK_EXIT_DONE) {
        code = hbk_write_text(options, &out);
    }
    hbk_arena_finish(&arena);
    return code;
}
