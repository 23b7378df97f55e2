#include "cli/commands.h"

#include "cli/output.h"
#include "cli/setting.h"
#include "edition/beside.h"
#include "edition/lesson_range.h"
#include "edition/primer.h"
#include "horn/about.h"
#include "solve/solve.h"

/* Everything one primer needs, so that it can be handed on as one. */
struct asked {
    const struct hbk_options *options;
    enum hbk_output output;
    struct hbk_primer_options sheet;
    struct hbk_horn *known; /* of --knows */
    struct hbk_notes known_notes, notes;
    struct hbk_primer_made made;
    struct hbk_arena arena;
    struct hbk_faults faults;
};

static enum hbk_status lay(void *ctx, const struct hbk_ruler *ruler,
                           struct hbk_sheet *sheet)
{
    const struct asked *const asked = ctx;
    return hbk_sheet_primer(&asked->made.primer, &asked->sheet, ruler, sheet);
}

/* The range; HBK_EXIT_DONE or the usage told. */
static int read_range(struct asked *asked, struct hbk_primer_wish *wish)
{
    const char *const range = asked->options->range;
    struct hbk_text why = {.arena = &asked->arena};
    if (range != NULL &&
        !hbk_lesson_range_read(range, &asked->notes, &wish->low, &wish->high,
                               &why)) {
        return hbk_usage("primer", "--range: %s", hbk_text_string(&why));
    }
    return HBK_EXIT_DONE;
}

static int make(struct asked *asked, const struct hbk_horn *horn)
{
    const struct hbk_options *const options = asked->options;
    struct hbk_primer_wish wish = {.notes = &asked->notes};
    struct hbk_setting setting;
    int code = hbk_read_setting(horn, options, &setting);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    enum hbk_status status =
        hbk_solve(horn, &setting, &asked->arena, &asked->notes, &asked->faults);
    if (status == HBK_OK && options->knows != NULL) {
        const struct hbk_wishes wishes = hbk_wishes_of(options);
        status = hbk_solve_beside(asked->known, &wishes, &asked->arena,
                                  &asked->known_notes, &asked->faults);
        wish.known = &asked->known_notes;
    }
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    code = read_range(asked, &wish);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    status =
        hbk_primer_make(&wish, &asked->arena, &asked->made, &asked->faults);
    return status == HBK_OK ? hbk_draw_sheet(options, asked->output, lay, asked,
                                             &asked->arena, &asked->faults)
                            : hbk_exit_of(status);
}

/* What the options ask for; HBK_EXIT_DONE or the usage told. */
static int read_sheet(struct asked *asked)
{
    const struct hbk_options *const options = asked->options;
    struct hbk_sheet_options sheet = {.paper = HBK_A4};
    if (options->n_words != 1) {
        return hbk_usage("primer", "name one horn (see 'hornbook horns')");
    }
    if (options->output == NULL) {
        return hbk_usage("primer", "say where the primer goes: -o primer.pdf");
    }
    int code = hbk_read_output(options, options->writes, 0, "a primer is",
                               &asked->output);
    if (code == HBK_EXIT_DONE) {
        code = hbk_read_paper(options, &sheet);
    }
    /* A folded sheet of A4 has pages of A5. */
    if (options->fold && options->paper == NULL) {
        sheet.paper = HBK_A5;
    }
    asked->sheet = (struct hbk_primer_options){.paper = sheet.paper,
                                               .title = sheet.title,
                                               .large = options->large,
                                               .fold = options->fold};
    if (code == HBK_EXIT_DONE && !hbk_primer_takes(sheet.paper)) {
        return hbk_usage("primer", "a primer has pages of A5, A4 or Letter");
    }
    if (code == HBK_EXIT_DONE && options->fold && sheet.paper == HBK_LETTER) {
        return hbk_usage("primer", "--fold makes pages of A5 (of sheets of A4) "
                                   "or A4 (of A3)");
    }
    return code;
}

int hbk_cmd_primer(const struct hbk_options *options)
{
    struct asked asked = {.options = options};
    struct hbk_horn *const horn = hbk_horn_new(&asked.arena);
    asked.known = hbk_horn_new(&asked.arena);
    int code = read_sheet(&asked);
    if (code == HBK_EXIT_DONE) {
        code = hbk_load_horn(options->words[0], options->quiet, horn);
    }
    if (code == HBK_EXIT_DONE && options->knows != NULL) {
        code = hbk_load_horn(options->knows, options->quiet, asked.known);
    }
    if (code == HBK_EXIT_DONE) {
        code = make(&asked, horn);
        hbk_print_faults(&asked.faults, options->quiet);
    }
    hbk_primer_finish(&asked.made);
    hbk_horn_finish(horn);
    hbk_horn_finish(asked.known);
    hbk_arena_finish(&asked.arena);
    return code;
}
