#include "cli/commands.h"

#include "cli/output.h"
#include "cli/setting.h"
#include "edition/beside.h"
#include "edition/held.h"
#include "edition/origin.h"
#include "edition/stuck.h"
#include "horn/about.h"
#include "horn/stuck.h"
#include "notes/beside.h"
#include "passage/trill.h"
#include "report/notes.h"
#include "report/plain.h"
#include "report/trills.h"
#include "solve/solve.h"

/* As many of a note as fit beside it on a line, and as one learns. */
enum { ALTERNATES = 3 };

/* The horn of --beside, and the rows of both. */
static int solve_beside(const struct hbk_horn *known,
                        const struct hbk_options *options,
                        struct hbk_arena *arena, struct hbk_notes_view *view)
{
    const struct hbk_wishes wishes = hbk_wishes_of(options);
    struct hbk_notes *const notes = HBK_ARENA_ARRAY(arena, struct hbk_notes, 1);
    struct hbk_faults faults = {0};
    const enum hbk_status status =
        hbk_solve_beside(known, &wishes, arena, notes, &faults);
    hbk_print_faults(&faults, options->quiet);
    if (status == HBK_OK) {
        view->known = notes;
        view->rows = hbk_beside_rows(view->notes, notes, arena, &view->n_rows);
    }
    return hbk_exit_of(status);
}

/* What is held, if anything is. */
static int read_hold(const struct hbk_options *options, struct hbk_arena *arena,
                     struct hbk_held *held, struct hbk_notes_view *view)
{
    static const char *const names[] = {
        [HBK_HOLD_NOTES] = "hold", [HBK_HOLD_ROOT] = "root"};
    const struct hbk_hold_ask ask = {
        .notes = options->hold, .root = options->root, .root_by = "--root"};
    struct hbk_text why = {.arena = arena};
    if (options->hold == NULL) {
        return options->root == NULL
                   ? HBK_EXIT_DONE
                   : hbk_usage("notes",
                               "--root belongs to --hold \"C5 E5 G5\"");
    }
    const enum hbk_hold_fault fault =
        hbk_hold_notes(&ask, view->notes, arena, held, &why);
    if (fault != HBK_HOLD_FINE) {
        return hbk_usage("notes", "--%s %s", names[fault],
                         hbk_text_string(&why));
    }
    view->held = held;
    return HBK_EXIT_DONE;
}

/* What the horn loses by what is stuck, if anything is. */
static int account_for(const struct hbk_notes *notes, struct hbk_arena *arena,
                       struct hbk_account *account, struct hbk_notes_view *view)
{
    struct hbk_faults faults = {0};
    if (!hbk_stuck_any(&notes->setting.stuck)) {
        return HBK_EXIT_DONE;
    }
    const enum hbk_status status =
        hbk_stuck_account(notes, arena, account, &faults);
    hbk_print_faults(&faults, false);
    view->stuck = account;
    return hbk_exit_of(status);
}

static int write_trills(const struct hbk_notes *notes,
                        const struct hbk_options *options,
                        enum hbk_output output, struct hbk_arena *arena)
{
    const struct hbk_trills_view view = {.notes = notes,
                                         .trills = hbk_trills_of(notes, arena),
                                         .sounding = options->sounding};
    struct hbk_text out = {.arena = arena};
    if (output == HBK_OUT_CSV) {
        hbk_trills_csv(&view, &out);
    } else if (output == HBK_OUT_JSON) {
        hbk_trills_json(&view, &out);
    } else if (options->plain) {
        hbk_trills_plain(&view, &out);
    } else {
        hbk_trills_text(&view, &out);
    }
    return hbk_write_text(options, output, &out);
}

static int write_reasons(const struct hbk_horn *horn,
                         const struct hbk_setting *setting,
                         const struct hbk_options *options,
                         struct hbk_arena *arena)
{
    struct hbk_faults faults = {0};
    struct hbk_text out = {.arena = arena};
    struct hbk_text bad = {.arena = arena};
    const enum hbk_status status =
        hbk_explain_notes(horn, setting, options->why, &out, &bad, &faults);
    hbk_print_faults(&faults, options->quiet);
    if (bad.length > 0) {
        return hbk_usage("notes", "--why %s", hbk_text_string(&bad));
    }
    return status == HBK_OK ? hbk_write_text(options, HBK_OUT_TEXT, &out)
                            : hbk_exit_of(status);
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
    if (options->why != NULL) {
        return write_reasons(horn, &setting, options, arena);
    }
    struct hbk_faults faults = {0};
    struct hbk_notes notes;
    const enum hbk_status status =
        hbk_solve(horn, &setting, arena, &notes, &faults);
    hbk_print_faults(&faults, options->quiet);
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    if (options->trills) {
        return write_trills(&notes, options, output, arena);
    }
    struct hbk_held held;
    struct hbk_account account;
    struct hbk_notes_view view = {.notes = &notes,
                                  .sounding = options->sounding,
                                  .alternates =
                                      options->all ? SIZE_MAX : ALTERNATES,
                                  .all_by = "--all"};
    int code = read_hold(options, arena, &held, &view);
    if (code == HBK_EXIT_DONE && options->beside != NULL) {
        code = solve_beside(known, options, arena, &view);
    }
    if (code == HBK_EXIT_DONE) {
        code = account_for(&notes, arena, &account, &view);
    }
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    struct hbk_text out = {.arena = arena};
    if (output == HBK_OUT_CSV) {
        hbk_notes_csv(&view, &out);
    } else if (output == HBK_OUT_JSON) {
        hbk_notes_json(&view, &out);
    } else if (options->brief) {
        hbk_notes_brief(&view, &out);
    } else if (options->plain) {
        hbk_notes_plain(&view, &out);
    } else {
        hbk_notes_text(&view, &out);
    }
    return hbk_write_text(options, output, &out);
}

/* Sentences to be read out are no table, and of one horn. */
static int check_plain(const struct hbk_options *options,
                       enum hbk_output output)
{
    const char *other = options->brief            ? "brief"
                        : options->why != NULL    ? "why"
                        : options->hold != NULL   ? "hold"
                        : options->beside != NULL ? "beside"
                                                  : NULL;
    if (options->plain && output != HBK_OUT_TEXT) {
        return hbk_usage("notes", "--plain is text to be read out; leave out "
                                  "--json, or an output in csv or json");
    }
    return options->plain && other != NULL
               ? hbk_usage("notes", "--plain stands without --%s", other)
               : HBK_EXIT_DONE;
}

/* How long the table is to be, which nothing else may contradict. */
static int check_length(const struct hbk_options *options,
                        enum hbk_output output)
{
    const bool has_more = options->trills || options->beside != NULL ||
                          options->hold != NULL || options->sounding;
    if (options->why != NULL &&
        (has_more || options->brief || options->all || options->root != NULL ||
         output != HBK_OUT_TEXT)) {
        return hbk_usage("notes", "--why tells in words of a few notes, and "
                                  "stands alone");
    }
    if ((options->brief || options->all) && output != HBK_OUT_TEXT) {
        return hbk_usage("notes",
                         "--%s is of the table as text; csv and json "
                         "always have everything",
                         options->brief ? "brief" : "all");
    }
    if (options->brief && (has_more || options->all)) {
        return hbk_usage("notes", "--brief shows notes and their first "
                                  "fingerings alone");
    }
    return options->all && options->trills
               ? hbk_usage("notes", "--all is of fingerings, not of --trills")
               : HBK_EXIT_DONE;
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
    if (options->trills && (options->hold != NULL || options->root != NULL ||
                            options->beside != NULL)) {
        return hbk_usage("notes", "--trills stands alone, without --hold, "
                                  "--root or --beside");
    }
    enum hbk_output output;
    int code = hbk_read_output(options, options->writes, HBK_OUT_TEXT,
                               "notes are", &output);
    if (code == HBK_EXIT_DONE) {
        code = check_plain(options, output);
    }
    if (code == HBK_EXIT_DONE) {
        code = check_length(options, output);
    }
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    struct hbk_arena arena = {0};
    struct hbk_horn *const horn = hbk_horn_new(&arena);
    struct hbk_horn *const known = hbk_horn_new(&arena);
    code = hbk_load_horn(options->words[0], options->quiet, horn);
    if (code == HBK_EXIT_DONE && options->beside != NULL) {
        code = hbk_load_horn(options->beside, options->quiet, known);
    }
    if (code == HBK_EXIT_DONE) {
        code = write_notes(horn, known, options, output, &arena);
    }
    hbk_horn_finish(horn);
    hbk_horn_finish(known);
    hbk_arena_finish(&arena);
    return code;
}
