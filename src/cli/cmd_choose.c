#include "cli/commands.h"

#include "base/jobs.h"
#include "cli/horns_in.h"
#include "cli/output.h"
#include "cli/setting.h"
#include "cli/tune_in.h"
#include "edition/choose.h"
#include "edition/place_tell.h"
#include "horn/about.h"
#include "reader/horn_word.h"
#include "solve/solve.h"

#include <math.h>

/* One horn, with all that must live until the answer is written. */
struct entry {
    const char *word;
    int code; /* HBK_EXIT_DONE once it was looked at */
    struct hbk_arena arena;
    struct hbk_horn *horn;
    struct hbk_faults faults;
    struct hbk_chosen chosen;
};

struct search {
    const struct hbk_options *options;
    struct hbk_choose_ask ask;
    size_t n;
    struct entry *entries;
};

/*
 * One horn from its file to its score. Everything but the result is thrown
 * away at once, so that memory does not grow with the collection.
 */
static void look(void *ctx, size_t i)
{
    const struct search *const search = ctx;
    struct entry *const entry = &search->entries[i];
    struct hbk_arena scratch = {0};
    struct hbk_setting setting;
    struct hbk_notes notes;
    entry->horn = hbk_horn_new(&entry->arena);
    entry->code = hbk_exit_of(hbk_horn_read_word(entry->word, &entry->arena,
                                                 entry->horn, &entry->faults));
    if (entry->code == HBK_EXIT_DONE) {
        entry->code = hbk_read_setting(entry->horn, search->options, &setting);
    }
    if (entry->code == HBK_EXIT_DONE) {
        enum hbk_status status =
            hbk_solve(entry->horn, &setting, &scratch, &notes, &entry->faults);
        if (status == HBK_OK) {
            status = hbk_choose_try(&search->ask, &notes, &entry->arena,
                                    &scratch, &entry->chosen, &entry->faults);
        }
        entry->code = hbk_exit_of(status);
        entry->chosen.word = entry->word;
        entry->chosen.name = hbk_horn_name(entry->horn);
    }
    hbk_arena_finish(&scratch);
}

static void progress(void *ctx, size_t count)
{
    const struct search *const search = ctx;
    hbk_progress(search->options->quiet, count, search->n, "horns");
}

static int write_choice(const struct search *search, enum hbk_output output,
                        const struct hbk_choice *choice,
                        struct hbk_arena *arena)
{
    struct hbk_text out = {.arena = arena};
    if (output == HBK_OUT_CSV) {
        hbk_choose_csv(choice, &out);
    } else if (output == HBK_OUT_JSON) {
        hbk_choose_json(choice, &out);
    } else {
        hbk_choose_text(choice, &out);
    }
    return hbk_write_text(search->options, output, &out);
}

/* How a part that states nothing was taken, once for all horns. */
static void tell_taken(const struct search *search, size_t n,
                       const struct hbk_chosen list[])
{
    const struct hbk_tune *const tune = search->ask.tune;
    struct hbk_place_asker asker = {.place = hbk_whole_file(tune->file),
                                    .whom = "",
                                    .remedy = "say --from-sounding"};
    struct hbk_faults faults = {0};
    const struct hbk_placing *written = NULL;
    const struct hbk_placing *by_clef = NULL;
    bool some_as_written = false;
    for (size_t i = 0; i < n; i++) {
        const struct hbk_placing *const placing = &list[i].placing;
        some_as_written |= placing->taken == HBK_TAKEN_WRITTEN;
        if (placing->taken == HBK_TAKEN_WRITTEN &&
            list[i].written_c4_sounds != HBK_NOTE_C4) {
            written = placing;
        } else if (placing->by_clef && placing->for_horn != 0) {
            by_clef = placing;
        }
    }
    if (written != NULL) {
        asker.whom = by_clef != NULL ? "for horns that read its clef: " : "";
        hbk_place_tell(&asker, written, tune, &faults);
    }
    if (by_clef != NULL) {
        asker.whom = some_as_written ? "for horns in the treble clef: " : "";
        hbk_place_tell(&asker, by_clef, tune, &faults);
    }
    hbk_print_faults(&faults, search->options->quiet);
}

/*
 * The exit code of it all: a sound answer is no when no horn plays the whole
 * part, or a horn had to be passed over.
 */
static int rank_them(const struct search *search, enum hbk_output output,
                     struct hbk_arena *arena)
{
    struct hbk_chosen *const list =
        HBK_ARENA_ARRAY(arena, struct hbk_chosen, search->n);
    size_t n = 0;
    int first_code = HBK_EXIT_DONE;
    bool whole = false;
    for (size_t i = 0; i < search->n; i++) {
        const struct entry *const entry = &search->entries[i];
        hbk_print_faults(&entry->faults, search->options->quiet);
        if (entry->code == HBK_EXIT_DONE) {
            whole |= entry->chosen.suit.n_out == 0 && !entry->chosen.unwritable;
            list[n++] = entry->chosen;
        } else if (first_code == HBK_EXIT_DONE) {
            first_code = entry->code;
        }
    }
    if (n == 0) {
        return first_code;
    }
    tell_taken(search, n, list);
    const struct hbk_choice choice = hbk_choose_from(&search->ask, n, list);
    const int code = write_choice(search, output, &choice, arena);
    return code != HBK_EXIT_DONE                   ? code
           : !whole || first_code != HBK_EXIT_DONE ? HBK_EXIT_NO
                                                   : HBK_EXIT_DONE;
}

static int choose(const struct hbk_options *options, enum hbk_output output,
                  const struct hbk_perform_ask *ask,
                  const struct hbk_tune *tune)
{
    struct hbk_arena arena = {0};
    struct hbk_horn_words words;
    const size_t n_faulty = hbk_read_horn_words(options, 1, &arena, &words);
    struct search search = {.options = options,
                            .ask = {.tune = tune, .perform = *ask},
                            .n = words.n,
                            .entries =
                                HBK_ARENA_ARRAY(&arena, struct entry, words.n)};
    for (size_t i = 0; i < search.n; i++) {
        search.entries[i].word = words.words[i];
    }
    int code = HBK_EXIT_INPUT;
    if (search.n > 1 && (options->stuck != NULL || options->crook != NULL ||
                         options->mouthpiece != NULL)) {
        code = hbk_usage(
            "choose", "--stuck, --crook and --mouthpiece say how one horn is; "
                      "name that "
                      "horn alone");
    } else if (search.n > 0) {
        const struct hbk_jobs jobs = {
            .n = search.n,
            .threads = isnan(options->jobs) ? 0 : (size_t)options->jobs,
            .work = look,
            .done = progress,
            .ctx = &search};
        hbk_jobs_run(&jobs);
        code = rank_them(&search, output, &arena);
    }
    for (size_t i = 0; i < search.n; i++) {
        hbk_horn_finish(search.entries[i].horn);
        hbk_arena_finish(&search.entries[i].arena);
    }
    hbk_arena_finish(&arena);
    return code == HBK_EXIT_DONE && n_faulty > 0 ? HBK_EXIT_NO : code;
}

int hbk_cmd_choose(const struct hbk_options *options)
{
    if (options->n_words < 2) {
        return hbk_usage("choose", "name a tune, then the horns or a folder "
                                   "of them");
    }
    enum hbk_output output;
    int code = hbk_read_output(options, options->writes, HBK_OUT_TEXT,
                               "choices are", &output);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    struct hbk_tune_document document = {0};
    struct hbk_perform_ask ask;
    code = hbk_read_perform_ask(options, "auto", &ask);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    code = hbk_load_tune(options, options->words[0], NULL, &document);
    if (code == HBK_EXIT_DONE) {
        struct hbk_faults faults = {0};
        code = hbk_exit_of(hbk_choose_check(&document.tune, &faults));
        hbk_print_faults(&faults, options->quiet);
    }
    if (code == HBK_EXIT_DONE) {
        code = choose(options, output, &ask, &document.tune);
    }
    hbk_tune_document_finish(&document);
    return code;
}
