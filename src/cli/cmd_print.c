#include "cli/commands.h"

#include "base/file.h"
#include "base/jobs.h"
#include "base/messages.h"
#include "base/number.h"
#include "base/pool.h"
#include "cli/horns_in.h"
#include "cli/output.h"
#include "cli/terminal.h"
#include "cli/told.h"
#include "edition/file_names.h"
#include "edition/order_sheet.h"
#include "horn/about.h"
#include "reader/horn_word.h"
#include "render/fonts.h"

#include <errno.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>

/* What became of a player's sheets. */
struct outcome {
    int code;
    size_t written;
    const char *words; /* faults, a line each */
};

/* An order being printed. */
struct print {
    const struct hbk_options *options;
    const char *path;
    struct hbk_order order;
    const char *folder;
    enum hbk_output output;
    const char *const *const *names; /* names[player][sheet] */
    struct hbk_arena arena;
    struct hbk_fonts *fonts;  /* of this process; NULL until it has a job */
    struct outcome *outcomes; /* of each player */
    size_t n_sheets, n_answered;
};

/* A player at work, in whatever process. */
struct task {
    const struct print *print;
    size_t index;
    struct hbk_player player;
    struct hbk_arena arena;
    struct hbk_faults faults;
};

static int print_sheet(struct task *task, size_t index, struct outcome *outcome)
{
    const struct print *const print = task->print;
    struct hbk_arena arena = {0};
    const struct hbk_ruler ruler = hbk_fonts_ruler(print->fonts);
    const struct hbk_ordered ordered = {&task->player,
                                        &task->player.asked->sheets[index]};
    bool whole = false;
    struct hbk_sheet sheet = {.arena = &arena};
    const enum hbk_status status =
        hbk_order_sheet_lay(&ordered, &ruler, &sheet, &whole, &task->faults);
    int code = hbk_exit_of(status);
    if (status == HBK_OK) {
        struct hbk_options file = *print->options;
        file.dpi = print->order.dpi;
        file.output =
            hbk_arena_printf(&task->arena, "%s/%s.%s", print->folder,
                             print->names[task->index][index],
                             hbk_order_format_name(print->order.format));
        code = hbk_write_sheet(&file, print->output, print->fonts, &sheet,
                               &task->faults);
        outcome->written += code == HBK_EXIT_DONE ? 1 : 0;
    }
    hbk_arena_finish(&arena);
    return code == HBK_EXIT_DONE && !whole ? HBK_EXIT_NO : code;
}

/* The exit code that says more: an output not written before a refusal. */
static int worse(int a, int b)
{
    return a > b ? a : b;
}

/* A job of the pool: all sheets of a player. */
static void work(void *ctx, size_t job, struct hbk_text *answer)
{
    struct print *const print = ctx;
    const struct hbk_order_player *const asked = &print->order.players[job];
    struct task task = {.print = print, .index = job};
    struct outcome outcome = {.code = HBK_EXIT_DONE};
    enum hbk_status status = HBK_OK;
    if (print->fonts == NULL) {
        status = hbk_fonts_open(&print->arena, &print->fonts, &task.faults);
    }
    if (status == HBK_OK) {
        status = hbk_player_open(&print->order, job, &task.arena, &task.player,
                                 &task.faults);
    }
    if (status != HBK_OK) {
        outcome.code = hbk_exit_of(status);
    }
    for (size_t i = 0; status == HBK_OK && i < asked->n_sheets; i++) {
        outcome.code = worse(outcome.code, print_sheet(&task, i, &outcome));
    }
    if (outcome.written < asked->n_sheets) {
        hbk_fault_add(&task.faults, asked->horn.place, HBK_H_SHEETS_LEFT_OUT,
                      "%s: %zu of %zu sheets are printed", asked->name,
                      outcome.written, asked->n_sheets);
    }
    hbk_text_addf(answer, "%d %zu\n", outcome.code, outcome.written);
    hbk_add_faults(&task.faults, print->options->quiet, answer);
    hbk_player_finish(&task.player);
    hbk_arena_finish(&task.arena);
}

static void show_progress(struct print *print, size_t job)
{
    print->n_answered += print->order.players[job].n_sheets;
    hbk_progress(print->options->quiet, print->n_answered, print->n_sheets,
                 "sheets");
}

static void answered(void *ctx, size_t job, const char *bytes, size_t length)
{
    struct print *const print = ctx;
    struct outcome *const outcome = &print->outcomes[job];
    const char *const end = memchr(bytes, '\n', length);
    long code = 0;
    long written = 0;
    const char *const after = hbk_number_count(bytes, 9, &code);
    (void)hbk_number_count(after + 1, 9, &written);
    outcome->code = (int)code;
    outcome->written = (size_t)written;
    outcome->words = hbk_arena_copy(&print->arena, end + 1,
                                    length - (size_t)(end + 1 - bytes));
    show_progress(print, job);
}

static void lost(void *ctx, size_t job, int code)
{
    struct print *const print = ctx;
    const struct hbk_order_player *const player = &print->order.players[job];
    struct hbk_text words = {.arena = &print->arena};
    struct hbk_faults faults = {0};
    hbk_fault_add(&faults, player->horn.place, HBK_H_WORKER_ENDED,
                  "%s: the program ended %s", player->name,
                  code == HBK_EXIT_MEMORY ? "for want of memory"
                                          : "before the sheets were done");
    hbk_add_faults(&faults, false, &words);
    print->outcomes[job] = (struct outcome){
        .code = code == HBK_EXIT_MEMORY ? HBK_EXIT_MEMORY : HBK_EXIT_OUTPUT,
        .words = hbk_text_string(&words)};
    show_progress(print, job);
}

/* "march" for "orders/march.yaml": where the sheets go unless told. */
static const char *usual_folder(const char *path, struct hbk_arena *arena)
{
    const char *const slash = strrchr(path, '/');
    const char *const name = slash == NULL ? path : slash + 1;
    const char *const dot = strrchr(name, '.');
    if (strcmp(name, "-") == 0 || dot == name) {
        return "sheets";
    }
    /* Without an ending the folder would need the name of the file. */
    return dot == NULL ? hbk_arena_printf(arena, "%s-sheets", name)
                       : hbk_arena_copy(arena, name, (size_t)(dot - name));
}

static enum hbk_status make_folder(const char *folder,
                                   struct hbk_faults *faults)
{
    struct stat info;
    if (mkdir(folder, 0777) == 0 ||
        (errno == EEXIST && stat(folder, &info) == 0 &&
         S_ISDIR(info.st_mode))) {
        return HBK_OK;
    }
    hbk_fault_add(faults, (struct hbk_place){.file = folder}, HBK_H_MAKE_FOLDER,
                  "this folder cannot be made: %s", strerror(errno));
    return HBK_ERR_OUTPUT;
}

/* Tells what became of each player, in the order of the file. */
static int tell(struct print *print)
{
    const size_t n = print->order.n_players;
    struct hbk_told *const told =
        HBK_ARENA_ARRAY(&print->arena, struct hbk_told, n);
    struct hbk_text words = {.arena = &print->arena};
    size_t written = 0;
    int code = HBK_EXIT_DONE;
    for (size_t i = 0; i < n; i++) {
        const struct outcome *const outcome = &print->outcomes[i];
        told[i] = (struct hbk_told){
            .name = print->order.players[i].name,
            .words = outcome->words == NULL ? "" : outcome->words};
        written += outcome->written;
        code = worse(code, outcome->code);
    }
    hbk_tell_once(told, n, &words);
    hbk_terminal_wipe();
    hbk_terminal_messages(&words);
    if (!print->options->quiet) {
        fprintf(stderr, "wrote %zu of %zu sheets for %s into %s\n", written,
                print->n_sheets, print->order.band, print->folder);
    }
    /* The order itself is sound; that some of it failed is an answer. */
    return code == HBK_EXIT_INPUT ? HBK_EXIT_NO : code;
}

static void guard_horn(struct print *print, const struct hbk_order_word *word)
{
    struct hbk_faults unsaid = {0}; /* the player's own process says it */
    struct hbk_horn *const horn = hbk_horn_new(&print->arena);
    if (word->text != NULL) {
        (void)!hbk_horn_read_word(word->text, &print->arena, horn, &unsaid);
    }
    hbk_horn_finish(horn);
}

/*
 * Each process knows what it has read itself. Of no player may a sheet
 * replace what another's are made from: horns, what these are based on, tunes.
 */
static void guard_inputs(struct print *print)
{
    for (size_t i = 0; i < print->order.n_players; i++) {
        const struct hbk_order_player *const player = &print->order.players[i];
        guard_horn(print, &player->horn);
        guard_horn(print, &player->knows);
        for (size_t k = 0; k < player->n_sheets; k++) {
            const char *const tune = player->sheets[k].part.file.text;
            if (tune != NULL) {
                hbk_file_guard(tune);
            }
        }
    }
}

static int run(struct print *print)
{
    static const enum hbk_output outputs[HBK_ORDER_FORMAT_COUNT] = {
        [HBK_ORDER_PDF] = HBK_OUT_PDF,
        [HBK_ORDER_SVG] = HBK_OUT_SVG,
        [HBK_ORDER_PNG] = HBK_OUT_PNG};
    const struct hbk_options *const options = print->options;
    struct hbk_faults faults = {0};
    print->folder = options->output == NULL
                        ? usual_folder(print->path, &print->arena)
                        : options->output;
    print->output = outputs[print->order.format];
    print->names = hbk_order_names(&print->order, &print->arena);
    print->outcomes =
        HBK_ARENA_ARRAY(&print->arena, struct outcome, print->order.n_players);
    for (size_t i = 0; i < print->order.n_players; i++) {
        print->n_sheets += print->order.players[i].n_sheets;
    }
    /*
     * Only looked at: to open them starts threads, and a process that parts
     * while another thread holds a lock keeps it for ever.
     */
    enum hbk_status status = hbk_fonts_check(&print->arena, &faults);
    if (status == HBK_OK) {
        status = make_folder(print->folder, &faults);
    }
    hbk_print_faults(&faults, options->quiet);
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    guard_inputs(print);
    hbk_pool_run(&(struct hbk_pool){.n_jobs = print->order.n_players,
                                    .n_workers = isnan(options->jobs)
                                                     ? hbk_jobs_threads()
                                                     : (size_t)options->jobs,
                                    .ctx = print,
                                    .work = work,
                                    .answered = answered,
                                    .lost = lost});
    return tell(print);
}

int hbk_cmd_print(const struct hbk_options *options)
{
    if (options->n_words != 1) {
        return hbk_usage("print", "name one order file");
    }
    if (hbk_is_shipped_name(options, options->words[0], "an order")) {
        return HBK_EXIT_USAGE;
    }
    struct print print = {.options = options, .path = options->words[0]};
    struct hbk_faults faults = {0};
    const enum hbk_status status =
        hbk_order_read(print.path, &print.order, &faults);
    hbk_print_faults(&faults, options->quiet);
    const int code = status == HBK_OK ? run(&print) : hbk_exit_of(status);
    hbk_fonts_close(print.fonts);
    hbk_arena_finish(&print.arena);
    hbk_order_finish(&print.order);
    return code;
}
