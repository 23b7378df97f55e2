#include "cli/output.h"

#include "edition/held.h"
#include "horn/stuck.h"
#include "notes/beside.h"
#include "report/notes.h"
#include "solve/setting.h"
#include "solve/solve.h"

/*
 * What the horn loses by what is stuck. Warnings were given of the horn as it
 * is; what it was before tells nothing new.
 */
static int compare_free(const struct hbk_horn *horn,
                        const struct hbk_notes *notes, struct hbk_arena *arena,
                        struct hbk_account *account)
{
    struct hbk_setting free = notes->setting;
    free.stuck = (struct hbk_stuck){0};
    struct hbk_faults faults = {0};
    struct hbk_notes before;
    const enum hbk_status status =
        hbk_solve(horn, &free, arena, &before, &faults);
    if (status != HBK_OK) {
        hbk_print_faults(&faults, false);
        return hbk_exit_of(status);
    }
    *account = hbk_account_of(&before, notes, arena);
    return HBK_EXIT_DONE;
}

/* The horn of --beside, set by the same wishes, and the rows of both. */
static int solve_beside(const struct hbk_horn *known,
                        const struct hbk_options *options,
                        struct hbk_arena *arena, struct hbk_notes_view *view)
{
    const struct hbk_wishes wishes = hbk_wishes_of(options);
    const struct hbk_setting setting = hbk_setting_beside(known, &wishes);
    struct hbk_notes *const notes = HBK_ARENA_ARRAY(arena, struct hbk_notes, 1);
    struct hbk_faults faults = {0};
    const enum hbk_status status =
        hbk_solve(known, &setting, arena, notes, &faults);
    hbk_print_faults(&faults, options->quiet);
    if (status == HBK_OK) {
        view->known = notes;
        view->rows = hbk_beside_rows(view->notes, notes, arena, &view->n_rows);
    }
    return hbk_exit_of(status);
}

static int write_notes(const struct hbk_horn *horn,
                       const struct hbk_horn *known,
                       const struct hbk_options *options,
                       enum hbk_output output, struct hbk_arena *arena)
{
    struct hbk_setting setting;
    const int usable = hbk_read_setting(horn, options, &setting);
    if (usable != HBK_EXIT_DONE) {
        return usable;
    }
    struct hbk_faults faults = {0};
    struct hbk_notes notes;
    const enum hbk_status status =
        hbk_solve(horn, &setting, arena, &notes, &faults);
    hbk_print_faults(&faults, options->quiet);
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    struct hbk_held held;
    const int code = hbk_held_read(options, &notes, arena, &held);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    struct hbk_notes_view view = {.notes = &notes,
                                  .sounding = options->sounding,
                                  .held = options->hold == NULL ? NULL : &held};
    if (options->beside != NULL) {
        const int solved = solve_beside(known, options, arena, &view);
        if (solved != HBK_EXIT_DONE) {
            return solved;
        }
    }
    struct hbk_account account;
    if (hbk_stuck_any(&setting.stuck)) {
        const int compared = compare_free(horn, &notes, arena, &account);
        if (compared != HBK_EXIT_DONE) {
            return compared;
        }
        view.stuck = &account;
    }
    struct hbk_text out = {.arena = arena};
    if (output == HBK_OUT_CSV) {
        hbk_notes_csv(&view, &out);
    } else if (output == HBK_OUT_JSON) {
        hbk_notes_json(&view, &out);
    } else {
        hbk_notes_text(&view, &out);
    }
    return hbk_write_text(options, &out);
}

int hbk_cmd_notes(const struct hbk_options *options)
{
    if (options->n_words != 1) {
        return hbk_usage(options->command,
                         "name one horn (see 'hornbook horns')");
    }
    if (options->hold != NULL && options->beside != NULL) {
        return hbk_usage("notes", "--hold and --beside ask two things; give "
                                  "one of them");
    }
    enum hbk_output output;
    int code =
        hbk_read_output(options, HBK_OUT_TEXT | HBK_OUT_CSV | HBK_OUT_JSON,
                        HBK_OUT_TEXT, "notes are", &output);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    struct hbk_horn horn = {0};
    struct hbk_horn known = {0};
    code = hbk_load_horn(options->words[0], options->quiet, &horn);
    if (code == HBK_EXIT_DONE && options->beside != NULL) {
        code = hbk_load_horn(options->beside, options->quiet, &known);
    }
    if (code == HBK_EXIT_DONE) {
        struct hbk_arena arena = {0};
        code = write_notes(&horn, &known, options, output, &arena);
        hbk_arena_finish(&arena);
    }
    hbk_horn_finish(&horn);
    hbk_horn_finish(&known);
    return code;
}
