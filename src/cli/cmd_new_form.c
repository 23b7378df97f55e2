#include "cli/cmd_new_form.h"

#include "begin/answers.h"
#include "cli/output.h"
#include "sheet/article/form.h"

struct asked {
    struct hbk_form form;
    struct hbk_sheet_options sheet;
};

static enum hbk_status lay(void *ctx, const struct hbk_ruler *ruler,
                           struct hbk_sheet *sheet)
{
    const struct asked *const asked = ctx;
    hbk_sheet_form(&asked->form, &asked->sheet, ruler, sheet);
    return HBK_OK;
}

/* For which horns: as --kind, --keys and --valves say, or for both. */
static int read_form(const struct hbk_options *options, struct hbk_arena *arena,
                     struct hbk_form *form)
{
    const struct {
        enum hbk_question question;
        const char *option, *text;
    } parts[] = {{HBK_ASK_KIND, "kind", options->begin.kind},
                 {HBK_ASK_KEYS, "keys", options->begin.keys},
                 {HBK_ASK_VALVES, "valves", options->begin.valves}};
    struct hbk_answers answers = {.arena = arena};
    char hint[HBK_HINT_SIZE];
    for (size_t i = 0; i < 3; i++) {
        if (parts[i].text != NULL &&
            !hbk_answer(&answers, parts[i].question, parts[i].text, hint)) {
            return hbk_usage(options->command, "--%s: %s", parts[i].option,
                             hint);
        }
    }
    const struct hbk_horn_kind *const kind = answers.kind;
    form->n_keys = answers.n_keys;
    form->n_valves = answers.n_valves;
    form->has_keys =
        answers.n_keys > 0 || (kind != NULL && kind->system == HBK_SYSTEM_KEYS);
    form->has_valves = answers.n_valves > 0 ||
                       (kind != NULL && kind->system != HBK_SYSTEM_KEYS);
    if (!form->has_keys && !form->has_valves) {
        form->has_keys = true;
        form->has_valves = true;
    }
    return HBK_EXIT_DONE;
}

int hbk_new_form(const struct hbk_options *options)
{
    struct asked asked = {.sheet = {.paper = HBK_A4}};
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    enum hbk_output output = HBK_OUT_PDF;
    int code = hbk_read_output(options, options->writes, HBK_OUT_PDF,
                               "forms are", &output);
    if (code == HBK_EXIT_DONE) {
        code = hbk_read_paper(options, &asked.sheet);
    }
    if (code == HBK_EXIT_DONE && !hbk_form_takes(asked.sheet.paper)) {
        code = hbk_usage(options->command,
                         "a form is on A4, A3 or Letter, to have room to "
                         "write");
    }
    if (code == HBK_EXIT_DONE) {
        code = read_form(options, &arena, &asked.form);
    }
    if (code == HBK_EXIT_DONE) {
        code = hbk_draw_sheet(options, output, lay, &asked, &arena, &faults);
        hbk_print_faults(&faults, options->quiet);
    }
    hbk_arena_finish(&arena);
    return code;
}
