#include "cli/commands.h"

#include "cli/output.h"
#include "cli/setting.h"
#include "edition/beside.h"
#include "edition/lesson_range.h"
#include "horn/about.h"
#include "lesson/order.h"
#include "report/lessons.h"
#include "solve/solve.h"

/* Everything the lessons of one horn need, so that it can be handed on. */
struct asked {
    const struct hbk_options *options;
    enum hbk_output output;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_horn *known; /* of --knows */
    struct hbk_notes known_notes, notes;
};

static int tell(struct asked *asked, const struct hbk_lessons *lessons)
{
    struct hbk_text out = {.arena = &asked->arena};
    const struct hbk_notes *const known =
        asked->options->knows == NULL ? NULL : &asked->known_notes;
    if (asked->output == HBK_OUT_JSON) {
        hbk_lessons_json(lessons, known, &out);
    } else {
        hbk_lessons_text(lessons, known, &out);
    }
    const int code = hbk_write_text(asked->options, asked->output, &out);
    return code == HBK_EXIT_DONE && lessons->n == 0 ? HBK_EXIT_NO : code;
}

static int order(struct asked *asked, const struct hbk_horn *horn)
{
    const struct hbk_options *const options = asked->options;
    struct hbk_setting setting;
    const int usable = hbk_read_setting(horn, options, &setting);
    if (usable != HBK_EXIT_DONE) {
        return usable;
    }
    enum hbk_status status =
        hbk_solve(horn, &setting, &asked->arena, &asked->notes, &asked->faults);
    if (status == HBK_OK && options->knows != NULL) {
        const struct hbk_wishes wishes = hbk_wishes_of(options);
        status = hbk_solve_beside(asked->known, &wishes, &asked->arena,
                                  &asked->known_notes, &asked->faults);
    }
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    int low = 0;
    int high = 0;
    struct hbk_text why = {.arena = &asked->arena};
    if (options->range != NULL &&
        !hbk_lesson_range_read(options->range, &asked->notes, &low, &high,
                               &why)) {
        return hbk_usage("lessons", "--range: %s", hbk_text_string(&why));
    }
    return tell(asked, hbk_lessons_of(&asked->notes, low, high, &asked->arena));
}

int hbk_cmd_lessons(const struct hbk_options *options)
{
    struct asked asked = {.options = options};
    struct hbk_sheet_options sheet; /* lessons are no sheet; it stays unused */
    struct hbk_horn *const horn = hbk_horn_new(&asked.arena);
    asked.known = hbk_horn_new(&asked.arena);
    const struct hbk_one_horn one = {options->writes, HBK_OUT_TEXT,
                                     "lessons are"};
    int code = hbk_read_one_horn(options, &one, &asked.output, &sheet, horn);
    if (code == HBK_EXIT_DONE && options->knows != NULL) {
        code = hbk_load_horn(options->knows, options->quiet, asked.known);
    }
    if (code == HBK_EXIT_DONE) {
        code = order(&asked, horn);
        hbk_print_faults(&asked.faults, options->quiet);
    }
    hbk_horn_finish(horn);
    hbk_horn_finish(asked.known);
    hbk_arena_finish(&asked.arena);
    return code;
}
