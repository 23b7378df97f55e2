#include "cli/commands.h"

#include "base/ending.h"
#include "base/file.h"
#include "cli/output.h"
#include "cli/setting.h"
#include "cli/tune_in.h"
#include "edition/heard.h"
#include "edition/music.h"
#include "edition/part_sheet.h"
#include "edition/perform.h"
#include "edition/place_tell.h"
#include "edition/practice_sheet.h"
#include "horn/about.h"
#include "passage/practice.h"
#include "report/passage.h"
#include "solve/solve.h"
#include "tune/document.h"

#include <math.h>

/* Everything one passage needs, so that it can be handed on as one. */
struct job {
    const struct hbk_options *options;
    struct hbk_options with_sound; /* the same, and the sound beside it */
    struct hbk_outgoing sound;
    enum hbk_output output;
    struct hbk_sheet_options sheet;
    struct hbk_horn *horn;
    struct hbk_tune_document document;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_notes notes;
    struct hbk_perform_ask ask;
    struct hbk_performed performed;
};

/* The format of music that is asked for. */
static enum hbk_tune_format music_of(const struct job *job)
{
    return job->output == HBK_OUT_ABC        ? HBK_TUNE_ABC
           : job->output == HBK_OUT_MUSICXML ? HBK_TUNE_MUSICXML
                                             : HBK_TUNE_MXL;
}

/* Whether music is asked for that keeps the user's own text. */
static bool is_own(const struct job *job)
{
    const unsigned music = HBK_OUT_ABC | HBK_OUT_MUSICXML | HBK_OUT_MXL;
    return ((unsigned)job->output & music) != 0 &&
           hbk_tune_holds(&job->document, music_of(job)) &&
           (job->options->bare ||
            hbk_music_is_own(&job->document, &job->performed, music_of(job)));
}

/* Whether that is the very file that was read, with or without fingerings. */
static bool is_same(const struct job *job)
{
    return job->options->run == NULL && is_own(job) &&
           job->document.format == music_of(job);
}

static enum hbk_status lay(void *ctx, const struct hbk_ruler *ruler,
                           struct hbk_sheet *sheet)
{
    const struct job *const job = ctx;
    return (job->options->practice ? hbk_passage_practice : hbk_passage_part)(
        &job->performed.view, &job->sheet, job->options->circles, ruler, sheet);
}

/*
 * The user's own file may be written over itself: --bare brings it back. A
 * listing of the tune, or the tune in another format, may not.
 */
static int write_out(const struct job *job, const struct hbk_text *out)
{
    const bool is_bare = job->options->bare && job->output == HBK_OUT_TEXT;
    return is_bare || is_same(job)
               ? hbk_write_over(job->options, job->options->words[1], out)
               : hbk_write_text(job->options, job->output, out);
}

static int write_passage(struct job *job)
{
    if ((job->output & HBK_OUT_SHEETS) != 0) {
        return hbk_draw_sheet(job->options, job->output, lay, job, &job->arena,
                              &job->faults);
    }
    struct hbk_text out = {.arena = &job->arena};
    enum hbk_status status = HBK_OK;
    if (job->options->practice) {
        hbk_practice_only(&job->performed.view, &job->arena);
    }
    if (job->output == HBK_OUT_TEXT && job->options->brief) {
        hbk_passage_brief(&job->performed.view, &out);
    } else if (job->output == HBK_OUT_TEXT) {
        hbk_passage_text(&job->performed.view, "--tempo", &out);
    } else if (job->output == HBK_OUT_JSON) {
        hbk_passage_json(&job->performed.view, &out);
    } else {
        status = hbk_music_write(&job->document, &job->performed, music_of(job),
                                 &out, &job->faults);
    }
    return status == HBK_OK ? write_out(job, &out) : hbk_exit_of(status);
}

/* Makes the sound, which is then written with the result. */
static int make_sound(struct job *job)
{
    char *bytes = NULL;
    if (job->options->sound == NULL) {
        return HBK_EXIT_DONE;
    }
    const enum hbk_status status = hbk_heard(
        &job->performed, &job->arena, &bytes, &job->sound.length, &job->faults);
    job->sound.bytes = bytes;
    job->sound.path = job->options->sound;
    job->with_sound = *job->options;
    job->with_sound.with = &job->sound;
    job->options = &job->with_sound;
    return hbk_exit_of(status);
}

static int find_passage(struct job *job)
{
    struct hbk_performed *const performed = &job->performed;
    const enum hbk_status status =
        hbk_perform(&job->ask, &job->document.tune, &job->notes, &job->arena,
                    performed, &job->faults);
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    struct hbk_text why = {.arena = &job->arena};
    if (!hbk_perform_bars(performed, job->options->bars, &why)) {
        return hbk_usage("passage", "--bars %s", hbk_text_string(&why));
    }
    const struct hbk_place_asker asker = {
        .place = hbk_whole_file(job->document.tune.file),
        .whom = "",
        .remedy = "say --from-sounding",
        .notes = &job->notes};
    hbk_place_tell(&asker, &performed->view.placing, &job->document.tune,
                   &job->faults);
    hbk_perform_tell_out(performed, &job->arena, &job->faults);
    hbk_perform_tell_kept(performed, &job->faults);
    hbk_perform_tell_ornaments(performed, &job->arena, &job->faults);
    return HBK_EXIT_DONE;
}

/* The user's own file without the fingerings that were written into it. */
static int write_bare(struct job *job)
{
    const bool is_plain = job->output == HBK_OUT_TEXT;
    if (!is_plain && !is_own(job)) {
        return hbk_usage("passage", "--bare writes the file as it is, so that "
                                    "the ending must be that of the tune");
    }
    struct hbk_text out = {.arena = &job->arena};
    const enum hbk_status status = hbk_tune_strip(
        &job->document, is_plain ? job->document.format : music_of(job), &out,
        &job->faults);
    hbk_print_faults(&job->faults, job->options->quiet);
    return status == HBK_OK ? write_out(job, &out) : hbk_exit_of(status);
}

static int answer(struct job *job)
{
    struct hbk_setting setting;
    int code = hbk_read_setting(job->horn, job->options, &setting);
    if (code == HBK_EXIT_DONE) {
        code = hbk_exit_of(hbk_solve(job->horn, &setting, &job->arena,
                                     &job->notes, &job->faults));
    }
    if (code == HBK_EXIT_DONE) {
        code = hbk_load_tune(job->options,
                             job->options->run != NULL ? NULL
                                                       : job->options->words[1],
                             job->horn, &job->document);
    }
    if (code == HBK_EXIT_DONE && job->options->bare) {
        return write_bare(job);
    }
    if (code == HBK_EXIT_DONE && job->options->run != NULL &&
        !isnan(job->options->tempo)) {
        hbk_tune_begin_at(&job->document.tune, job->options->tempo,
                          &job->document.arena);
    }
    if (code == HBK_EXIT_DONE) {
        code = find_passage(job);
    }
    if (code == HBK_EXIT_DONE) {
        code = make_sound(job);
    }
    if (code == HBK_EXIT_DONE) {
        code = write_passage(job);
    }
    hbk_print_faults(&job->faults, job->options->quiet);
    if (code != HBK_EXIT_DONE) {
        return code;
    }
    return hbk_passage_count(&job->performed.view).out > 0 ? HBK_EXIT_NO
                                                           : HBK_EXIT_DONE;
}

/* Nothing that was asked is passed over in silence. */
static int check_output(const struct job *job)
{
    const bool is_sheet = (job->output & HBK_OUT_SHEETS) != 0;
    if (job->options->circles && !is_sheet) {
        return hbk_usage("passage", "--circles are drawn on a sheet; say "
                                    "which, as in -o part.pdf");
    }
    const unsigned music = HBK_OUT_ABC | HBK_OUT_MUSICXML | HBK_OUT_MXL;
    if (job->options->names != NULL && ((unsigned)job->output & music) != 0) {
        return hbk_usage("passage", "--names are those of a text or a sheet; "
                                    "music has none");
    }
    const bool has_more =
        !isnan(job->options->choices) || job->options->sounding;
    if (job->options->brief && (job->output != HBK_OUT_TEXT || has_more)) {
        return hbk_usage("passage", "--brief is a text of notes and their "
                                    "fingerings alone");
    }
    if (job->options->practice && ((unsigned)job->output & music) != 0) {
        return hbk_usage("passage", "--practice is for a sheet, text or json; "
                                    "a copy of the music has all of it");
    }
    return HBK_EXIT_DONE;
}

/* A name that says what is in it. */
static int check_sound(const struct hbk_options *options)
{
    if (options->sound == NULL) {
        return HBK_EXIT_DONE;
    }
    if (options->bare) {
        return hbk_usage("passage", "--bare looks for no fingerings, so that "
                                    "there is nothing to hear; leave out "
                                    "--sound");
    }
    if (!hbk_ends(options->sound, ".wav")) {
        return hbk_usage("passage",
                         "--sound writes a file that ends in .wav, not '%s'",
                         options->sound);
    }
    return HBK_EXIT_DONE;
}

/* What is asked, as far as it can be judged without any file. */
static int read_words(struct job *job)
{
    const struct hbk_options *const options = job->options;
    if (options->n_words != (options->run != NULL ? 1 : 2)) {
        return hbk_usage("passage", "name one horn and one tune, or a horn and "
                                    "--run \"C5 D5 E5:1/8 F5:1/8\"");
    }
    if (options->bare && (options->run != NULL || options->format != NULL)) {
        return hbk_usage("passage", "--bare takes the fingerings out of a "
                                    "file again, which keeps its format");
    }
    const bool chooses = options->tune != NULL || options->part != NULL ||
                         options->voice != NULL || options->line != NULL;
    if (options->run != NULL && chooses) {
        return hbk_usage("passage", "a run that is typed has no tunes, parts, "
                                    "voices or lines to choose from");
    }
    int code = hbk_read_perform_ask(options, NULL, &job->ask);
    if (code == HBK_EXIT_DONE) {
        code = hbk_read_output(options, options->writes, HBK_OUT_TEXT,
                               "a passage is", &job->output);
    }
    if (code == HBK_EXIT_DONE) {
        code = check_output(job);
    }
    if (code == HBK_EXIT_DONE) {
        code = check_sound(options);
    }
    return code == HBK_EXIT_DONE ? hbk_read_paper(options, &job->sheet) : code;
}

int hbk_cmd_passage(const struct hbk_options *options)
{
    struct job job = {.options = options};
    job.horn = hbk_horn_new(&job.arena);
    int code = read_words(&job);
    if (code == HBK_EXIT_DONE) {
        code = hbk_load_horn(options->words[0], options->quiet, job.horn);
    }
    if (code == HBK_EXIT_DONE) {
        code = answer(&job);
    }
    hbk_tune_document_finish(&job.document);
    hbk_horn_finish(job.horn);
    hbk_arena_finish(&job.arena);
    return code;
}
