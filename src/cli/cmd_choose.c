#include "cli/output.h"

#include "cli/horn_words.h"
#include "cli/jobs.h"
#include "cli/tune_in.h"
#include "report/choose.h"
#include "solve/ranking.h"
#include "solve/solve.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { H_TOO_LONG_TO_CHOOSE = 402 };

/* One horn, with all that must live until the answer is written. */
struct entry {
    const char *word;
    int code; /* HBK_EXIT_DONE once it was looked at */
    struct hbk_horn horn;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_chosen chosen;
};

struct search {
    const struct hbk_options *options;
    const struct hbk_tune *tune;
    size_t n;
    struct entry *entries;
};

/* What was found, with what it keeps copied from the scratch memory. */
static void keep(struct entry *entry, const struct hbk_suit *suit)
{
    struct hbk_suit_out *const out =
        HBK_ARENA_ARRAY(&entry->arena, struct hbk_suit_out, suit->n_out + 1);
    for (size_t i = 0; i < suit->n_out; i++) {
        out[i] = suit->out[i];
    }
    entry->chosen.suit = *suit;
    entry->chosen.suit.out = out;
}

static enum hbk_status try_part(const struct search *search,
                                struct entry *entry,
                                const struct hbk_notes *notes,
                                struct hbk_arena *scratch)
{
    struct hbk_tune tune;
    struct hbk_chosen *const chosen = &entry->chosen;
    chosen->written_c4_sounds = notes->written_c4_sounds;
    chosen->shift = hbk_tune_shift_for(search->tune, notes->written_c4_sounds,
                                       search->options->from_sounding);
    chosen->unwritable = hbk_tune_transposed(search->tune, chosen->shift,
                                             scratch, &tune) != HBK_OK;
    if (chosen->unwritable) {
        chosen->suit.a4_hz = notes->setting.a4_hz;
        chosen->suit.pitch_hz = notes->tuned.pitch_hz;
        chosen->suit.left_cents = notes->tuned.left_cents;
        chosen->suit.lost_reach = 100.0;
        return HBK_OK;
    }
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    struct hbk_keywork keywork;
    hbk_keywork_make(&entry->horn, &prices, &keywork);
    const struct hbk_passage_request request = {.notes = notes,
                                                .keywork = &keywork,
                                                .tune = &tune,
                                                .quarters =
                                                    search->options->tempo,
                                                .ways = 1};
    struct hbk_suit suit;
    HBK_TRY(hbk_suit_find(&request, scratch, &suit));
    /* Bars are named by the tune itself, which outlives the copy. */
    keep(entry, &suit);
    return HBK_OK;
}

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
    entry->code = hbk_exit_of(hbk_read_horn_word(entry->word, &entry->arena,
                                                 &entry->horn, &entry->faults));
    if (entry->code == HBK_EXIT_DONE) {
        entry->code = hbk_read_setting(&entry->horn, search->options, &setting);
    }
    if (entry->code == HBK_EXIT_DONE) {
        enum hbk_status status =
            hbk_solve(&entry->horn, &setting, &scratch, &notes, &entry->faults);
        if (status == HBK_OK) {
            status = try_part(search, entry, &notes, &scratch);
        }
        entry->code = hbk_exit_of(status);
        entry->chosen.word = entry->word;
        entry->chosen.name = entry->horn.name;
    }
    hbk_arena_finish(&scratch);
}

static void progress(void *ctx, size_t count)
{
    const struct search *const search = ctx;
    hbk_progress(search->options->quiet, count, search->n, "horns");
}

/* Best first; equal scores by fewer cents, then in the order given. */
static int by_score(const void *a, const void *b)
{
    const struct hbk_chosen *const x = a;
    const struct hbk_chosen *const y = b;
    if (x->suit.score != y->suit.score) {
        return x->suit.score > y->suit.score ? -1 : 1;
    }
    if (x->suit.rms_cents != y->suit.rms_cents) {
        return x->suit.rms_cents < y->suit.rms_cents ? -1 : 1;
    }
    return strcmp(x->word, y->word);
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
    return hbk_write_text(search->options, &out);
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
    const double tempo = search->options->tempo;
    struct hbk_choice choice = {
        .title = search->tune->title,
        .tempo_assumed = isnan(tempo) && search->tune->n_tempos == 0,
        .quarters = hbk_tune_quarters_at(search->tune, 0, tempo),
        .horns = list};
    int first_code = HBK_EXIT_DONE;
    bool whole = false;
    for (size_t i = 0; i < search->n; i++) {
        const struct entry *const entry = &search->entries[i];
        hbk_print_faults(&entry->faults, search->options->quiet);
        if (entry->code == HBK_EXIT_DONE) {
            whole |= entry->chosen.suit.n_out == 0 && !entry->chosen.unwritable;
            list[choice.n++] = entry->chosen;
        } else if (first_code == HBK_EXIT_DONE) {
            first_code = entry->code;
        }
    }
    if (choice.n == 0) {
        return first_code;
    }
    qsort(list, choice.n, sizeof(*list), by_score);
    const int code = write_choice(search, output, &choice, arena);
    return code != HBK_EXIT_DONE                   ? code
           : !whole || first_code != HBK_EXIT_DONE ? HBK_EXIT_NO
                                                   : HBK_EXIT_DONE;
}

static int choose(const struct hbk_options *options, enum hbk_output output,
                  const struct hbk_tune *tune)
{
    struct hbk_arena arena = {0};
    struct hbk_horn_words words;
    hbk_read_horn_words(options, 1, &arena, &words);
    struct search search = {.options = options,
                            .tune = tune,
                            .n = words.n,
                            .entries =
                                HBK_ARENA_ARRAY(&arena, struct entry, words.n)};
    for (size_t i = 0; i < search.n; i++) {
        search.entries[i].word = words.words[i];
    }
    int code = HBK_EXIT_INPUT;
    if (search.n > 1 && (options->stuck != NULL || options->crook != NULL)) {
        code = hbk_usage("choose",
                         "--stuck and --crook say how one horn is; name that "
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
        hbk_arena_finish(&search.entries[i].arena);
        hbk_horn_finish(&search.entries[i].horn);
    }
    hbk_arena_finish(&arena);
    return code == HBK_EXIT_DONE && words.n_faulty > 0 ? HBK_EXIT_NO : code;
}

/* What no horn could be tried on is told once, and not for every horn. */
static int check_length(const struct hbk_options *options,
                        const struct hbk_tune *tune)
{
    struct hbk_arena scratch = {0};
    struct hbk_tune_performance performance;
    const bool fits =
        hbk_tune_unfold(tune, (double)NAN, &scratch, &performance) == HBK_OK &&
        performance.n <= HBK_PASSAGE_PLAYED_MAX;
    hbk_arena_finish(&scratch);
    if (fits) {
        return HBK_EXIT_DONE;
    }
    struct hbk_faults faults = {0};
    hbk_fault_add(&faults, (struct hbk_place){.file = tune->file},
                  H_TOO_LONG_TO_CHOOSE,
                  "as it is played, with its repeats, the tune has more than "
                  "%d notes and rests; choose by a part of it",
                  HBK_PASSAGE_PLAYED_MAX);
    hbk_print_faults(&faults, options->quiet);
    return HBK_EXIT_INPUT;
}

int hbk_cmd_choose(const struct hbk_options *options)
{
    if (options->n_words < 2) {
        return hbk_usage("choose", "name a tune, then the horns or a folder "
                                   "of them");
    }
    enum hbk_output output;
    int code =
        hbk_read_output(options, HBK_OUT_TEXT | HBK_OUT_CSV | HBK_OUT_JSON,
                        HBK_OUT_TEXT, "choices are", &output);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    struct hbk_tune_document document = {0};
    code = hbk_load_tune(options, options->words[0], &document);
    if (code == HBK_EXIT_DONE) {
        code = check_length(options, &document.tune);
    }
    if (code == HBK_EXIT_DONE) {
        code = choose(options, output, &document.tune);
    }
    hbk_tune_document_finish(&document);
    return code;
}
