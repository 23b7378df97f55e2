#include "cli/commands.h"

#include "cli/horns_in.h"
#include "cli/output.h"
#include "cli/setting.h"
#include "edition/band.h"

#include <math.h>

static void progress(void *ctx, size_t count)
{
    const struct hbk_band_ask *const ask = ctx;
    hbk_progress(false, count, ask->n, "horns");
}

static int write_view(const struct hbk_options *options, enum hbk_output output,
                      const struct hbk_pitch_view *view,
                      struct hbk_arena *arena)
{
    struct hbk_text out = {.arena = arena};
    if (output == HBK_OUT_CSV) {
        hbk_pitch_csv(view, &out);
    } else if (output == HBK_OUT_JSON) {
        hbk_pitch_json(view, &out);
    } else {
        hbk_pitch_text(view, &out);
    }
    return hbk_write_text(options, output, &out);
}

/* What was found out about each horn; returns how many are left out. */
static size_t tell_members(const struct hbk_options *options,
                           const struct hbk_band *band)
{
    size_t left_out = 0;
    for (size_t i = 0; i < band->n; i++) {
        const struct hbk_band_member *const member = &band->members[i];
        if (member->unmet != HBK_WISH_ALL) {
            (void)hbk_unmet(options, member->unmet, member->why);
        }
        left_out += member->status == HBK_OK ? 0 : 1;
    }
    for (size_t i = 0; i < band->n; i++) {
        hbk_print_faults(&band->members[i].faults, options->quiet);
    }
    return left_out;
}

static int bring_together(const struct hbk_options *options,
                          const struct hbk_horn_words *words,
                          enum hbk_output output, struct hbk_arena *arena)
{
    struct hbk_band_ask ask = {
        .n = words->n,
        .words = words->words,
        .wishes = hbk_wishes_of(options),
        .threads = isnan(options->jobs) ? 0 : (size_t)options->jobs,
        .done = options->quiet ? NULL : progress};
    ask.ctx = &ask;
    struct hbk_band band;
    hbk_band_gather(&ask, arena, &band);
    const size_t left_out = tell_members(options, &band);
    int code = HBK_EXIT_INPUT;
    if (band.view.n > 0) {
        code = write_view(options, output, &band.view, arena);
        code = code == HBK_EXIT_DONE && left_out > 0 ? HBK_EXIT_NO : code;
    } else if (band.n == 1) {
        const struct hbk_band_member *const alone = &band.members[0];
        code = alone->unmet != HBK_WISH_ALL ? HBK_EXIT_USAGE
                                            : hbk_exit_of(alone->status);
    }
    hbk_band_finish(&band);
    return code;
}

int hbk_cmd_pitch(const struct hbk_options *options)
{
    if (options->n_words == 0) {
        return hbk_usage("pitch", "name the horns, or a folder of them");
    }
    enum hbk_output output;
    int code = hbk_read_output(options, options->writes, HBK_OUT_TEXT,
                               "pitches are", &output);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    struct hbk_arena arena = {0};
    struct hbk_horn_words words;
    const size_t n_faulty = hbk_read_horn_words(options, 0, &arena, &words);
    code = HBK_EXIT_INPUT;
    if (words.n > 1 && options->stuck != NULL) {
        code =
            hbk_usage("pitch", "--stuck is of one horn, and several are named; "
                               "write 'stuck:' into that horn's file");
    } else if (words.n > 0) {
        code = bring_together(options, &words, output, &arena);
    }
    hbk_arena_finish(&arena);
    return code == HBK_EXIT_DONE && n_faulty > 0 ? HBK_EXIT_NO : code;
}
