#include "cli/commands.h"

#include "base/jobs.h"
#include "cli/horns_in.h"
#include "cli/output.h"
#include "horn/about.h"
#include "reader/horn_word.h"
#include "report/pitch.h"

#include <math.h>

/* A hall in which nobody is cold; each horn's own would not be one room. */
static const double usual_temperature_c = 20.0;

/* One horn, with all that belongs to it. */
struct member {
    const char *word;
    int code; /* HBK_EXIT_DONE when it can be used */
    struct hbk_arena arena;
    struct hbk_horn *horn;
    struct hbk_faults faults;
    struct hbk_pitch_member reach;
    struct hbk_pitch_place place;
};

struct band {
    const struct hbk_options *options; /* the temperature filled in */
    size_t n;
    struct member *members;
    double a4_hz; /* the pitch, once it is known */
};

static void look(void *ctx, size_t i)
{
    struct band *const band = ctx;
    struct member *const member = &band->members[i];
    struct hbk_setting setting = {0};
    member->horn = hbk_horn_new(&member->arena);
    member->code = hbk_exit_of(hbk_horn_read_word(
        member->word, &member->arena, member->horn, &member->faults));
    if (member->code == HBK_EXIT_DONE) {
        member->code = hbk_read_setting(member->horn, band->options, &setting);
    }
    if (member->code == HBK_EXIT_DONE) {
        member->code =
            hbk_exit_of(hbk_pitch_reach(member->horn, &setting, &member->arena,
                                        &member->reach, &member->faults));
    }
}

static void settle(void *ctx, size_t i)
{
    struct band *const band = ctx;
    struct member *const member = &band->members[i];
    if (member->code == HBK_EXIT_DONE) {
        member->code = hbk_exit_of(
            hbk_pitch_place(&member->reach, band->a4_hz, &member->arena,
                            &member->place, &member->faults));
    }
}

static void progress(void *ctx, size_t count)
{
    const struct band *const band = ctx;
    hbk_progress(band->options->quiet, count, band->n, "horns");
}

/* What is left of the band, packed for the view. */
static size_t pack(const struct band *band, struct hbk_arena *arena,
                   struct hbk_pitch_view *view)
{
    const char **const words = HBK_ARENA_ARRAY(arena, const char *, band->n);
    struct hbk_pitch_member *const reaches =
        HBK_ARENA_ARRAY(arena, struct hbk_pitch_member, band->n);
    struct hbk_pitch_place *const places =
        HBK_ARENA_ARRAY(arena, struct hbk_pitch_place, band->n);
    size_t n = 0;
    for (size_t i = 0; i < band->n; i++) {
        if (band->members[i].code == HBK_EXIT_DONE) {
            words[n] = band->members[i].word;
            reaches[n] = band->members[i].reach;
            places[n++] = band->members[i].place;
        }
    }
    view->n = n;
    view->words = words;
    view->members = reaches;
    view->places = places;
    return n;
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
    return hbk_write_text(options, &out);
}

static int bring_together(struct band *band, enum hbk_output output,
                          struct hbk_arena *arena)
{
    const struct hbk_options *const options = band->options;
    const bool asked = !isnan(options->a4_hz);
    struct hbk_jobs jobs = {
        .n = band->n,
        .threads = isnan(options->jobs) ? 0 : (size_t)options->jobs,
        .work = look,
        .done = progress,
        .ctx = band};
    hbk_jobs_run(&jobs);
    struct hbk_pitch_view view = {.asked = asked};
    if (pack(band, arena, &view) > 0) {
        band->a4_hz = asked ? options->a4_hz
                            : hbk_common_pitch_find(view.n, view.members).a4_hz;
        jobs.work = settle;
        jobs.done = NULL;
        hbk_jobs_run(&jobs);
    }
    size_t faulty = 0;
    for (size_t i = 0; i < band->n; i++) {
        hbk_print_faults(&band->members[i].faults, options->quiet);
        faulty += band->members[i].code == HBK_EXIT_DONE ? 0 : 1;
    }
    if (pack(band, arena, &view) == 0) {
        return band->n == 1 ? band->members[0].code : HBK_EXIT_INPUT;
    }
    view.pitch = hbk_common_pitch_at(view.n, view.members, band->a4_hz);
    const int code = write_view(options, output, &view, arena);
    return code != HBK_EXIT_DONE ? code : faulty > 0 ? HBK_EXIT_NO : code;
}

int hbk_cmd_pitch(const struct hbk_options *options)
{
    if (options->n_words == 0) {
        return hbk_usage("pitch", "name the horns, or a folder of them");
    }
    enum hbk_output output;
    int code =
        hbk_read_output(options, HBK_OUT_TEXT | HBK_OUT_CSV | HBK_OUT_JSON,
                        HBK_OUT_TEXT, "pitches are", &output);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    struct hbk_arena arena = {0};
    struct hbk_horn_words words;
    const size_t n_faulty = hbk_read_horn_words(options, 0, &arena, &words);
    struct hbk_options filled = *options;
    if (isnan(options->temperature_c) && isnan(options->room_c)) {
        filled.temperature_c = usual_temperature_c;
    }
    struct band band = {.options = &filled,
                        .n = words.n,
                        .members =
                            HBK_ARENA_ARRAY(&arena, struct member, words.n)};
    for (size_t i = 0; i < band.n; i++) {
        band.members[i].word = words.words[i];
    }
    code = HBK_EXIT_INPUT;
    if (band.n > 1 && options->stuck != NULL) {
        code = hbk_usage("pitch",
                         "--stuck says how one horn is; name that horn alone");
    } else if (band.n > 0) {
        code = bring_together(&band, output, &arena);
    }
    for (size_t i = 0; i < band.n; i++) {
        hbk_horn_finish(band.members[i].horn);
        hbk_arena_finish(&band.members[i].arena);
    }
    hbk_arena_finish(&arena);
    return code == HBK_EXIT_DONE && n_faulty > 0 ? HBK_EXIT_NO : code;
}
