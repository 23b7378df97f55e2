#include "cli/output.h"

#include "cli/horn_words.h"
#include "report/check.h"
#include "solve/doubts.h"
#include "solve/reach.h"
#include "solve/search.h"
#include "solve/setup.h"

/*
 * Sets a horn up and solves it, as notes does, and says what was understood.
 * Any fault of that is a reason not to call the horn good.
 */
static enum hbk_status understand(const struct hbk_horn *horn,
                                  struct hbk_arena *arena,
                                  struct hbk_text *facts,
                                  struct hbk_faults *faults)
{
    const struct hbk_setting setting = hbk_setting_of(horn);
    struct hbk_setup setup;
    struct hbk_notes notes;
    struct hbk_gaps gaps;
    struct hbk_reach reach;
    struct hbk_faults told = {0}; /* what setting up has said already */
    hbk_doubt_horn(horn, faults);
    const bool has_slip = faults->count > 0;
    HBK_TRY(hbk_set_up(horn, &setting, arena, &setup, faults));
    HBK_TRY(hbk_solve_as_set(horn, &setting, &setup, arena, &notes, faults));
    HBK_TRY(hbk_gaps_of(&notes, &setup, arena, &gaps, faults));
    if (!has_slip) { /* else lost notes are most likely its doing */
        hbk_doubt_notes(&notes, &gaps, faults);
    }
    const enum hbk_status status =
        hbk_reach_of(horn, &setting, arena, &reach, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, faults);
        return status;
    }
    hbk_check_text(&(struct hbk_understood){&notes, &gaps, &reach}, facts);
    return HBK_OK;
}

static int check(const char *word, const struct hbk_options *options,
                 struct hbk_arena *arena, struct hbk_text *out)
{
    struct hbk_horn horn = {0};
    struct hbk_faults read = {0};
    struct hbk_faults faults = {0};
    struct hbk_text facts = {.arena = arena};
    int code = hbk_exit_of(hbk_read_horn_word(word, arena, &horn, &read));
    hbk_print_faults(&read, options->quiet);
    if (code == HBK_EXIT_DONE) {
        code = hbk_exit_of(understand(&horn, arena, &facts, &faults));
        hbk_print_faults(&faults, options->quiet);
    }
    if (code == HBK_EXIT_DONE) {
        const bool is_good = read.count == 0 && faults.count == 0;
        hbk_text_addf(out, "%s: %s: %s\n", word,
                      is_good ? "good"
                              : "can be read, but look at the warnings",
                      horn.name);
        hbk_text_add(out, options->quiet ? "" : hbk_text_string(&facts));
    }
    hbk_horn_finish(&horn);
    return code;
}

int hbk_cmd_check(const struct hbk_options *options)
{
    if (options->n_words == 0) {
        return hbk_usage(options->command,
                         "name the horn files to look through");
    }
    struct hbk_arena arena = {0};
    struct hbk_text out = {.arena = &arena};
    struct hbk_horn_words words;
    hbk_read_horn_words(options, 0, &arena, &words);
    int code = words.n_faulty > 0 ? HBK_EXIT_NO : HBK_EXIT_DONE;
    for (size_t i = 0; i < words.n; i++) {
        struct hbk_arena scratch = {0};
        struct hbk_text one = {.arena = &scratch};
        if (check(words.words[i], options, &scratch, &one) == HBK_EXIT_DONE) {
            hbk_text_add(&out, hbk_text_string(&one));
        } else {
            code = HBK_EXIT_NO;
        }
        hbk_arena_finish(&scratch);
    }
    if (out.length > 0) {
        const int written =
            hbk_write_result(NULL, out.bytes, out.length, options->quiet);
        code = written == HBK_EXIT_DONE ? code : written;
    }
    hbk_arena_finish(&arena);
    return code;
}
