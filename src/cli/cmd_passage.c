#include "cli/output.h"

#include "cli/tune_in.h"
#include "edition/part_sheet.h"
#include "edition/perform.h"
#include "passage/keep.h"
#include "report/passage.h"
#include "report/passage_tempo.h"
#include "solve/solve.h"
#include "tune/abc/abc_export.h"
#include "tune/musicxml/musicxml_anew.h"

#include <math.h>
#include <string.h>

enum { H_MOVED = 290 };

/* Everything one passage needs, so that it can be handed on as one. */
struct job {
    const struct hbk_options *options;
    enum hbk_output output;
    struct hbk_sheet_options sheet;
    struct hbk_horn horn;
    struct hbk_tune_document document;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_notes notes;
    struct hbk_performed performed;
};

/* Whether the music goes into the user's own file, else it is a new one. */
static bool is_own(const struct job *job)
{
    const enum hbk_tune_format format = job->document.format;
    return (job->output == HBK_OUT_ABC &&
            (format == HBK_TUNE_ABC || format == HBK_TUNE_RUN)) ||
           (job->output == HBK_OUT_MUSICXML && format == HBK_TUNE_MUSICXML) ||
           (job->output == HBK_OUT_MXL && format == HBK_TUNE_MXL);
}

/*
 * A fingering as it is written: as the user's own file spells it where it
 * says the same, so that nothing stands there twice.
 */
static const char *spell(struct job *job, size_t event, uint32_t press)
{
    const char *const own = job->performed.tune.events[event].fingering;
    uint32_t said = 0;
    if (own != NULL && is_own(job) && hbk_keep_press(&job->notes, own, &said) &&
        said == press) {
        return own;
    }
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(&job->horn, press, label);
    return hbk_arena_copy(&job->arena, label, strlen(label));
}

/* What is written at one event. */
static struct hbk_tune_fingering fingering_of(struct job *job, size_t event)
{
    struct hbk_tune_fingering fingering = {NULL, NULL, 0};
    const size_t i = job->performed.passage.note_of[event];
    if (i == HBK_TUNE_NONE || !hbk_passage_shows(&job->performed.view, event)) {
        return fingering;
    }
    const struct hbk_passage_note *const note =
        &job->performed.passage.notes[i];
    const size_t n =
        job->performed.view.other_ways ? job->performed.view.others : 0;
    const char **const others =
        HBK_ARENA_ARRAY(&job->arena, const char *, n + 1);
    for (size_t k = 0; k < note->n_choices && k <= n; k++) {
        const size_t candidate = note->choices[k].candidate;
        const uint32_t press = note->candidates->of[candidate]->press;
        if (k == 0) {
            fingering.main = spell(job, event, press);
        } else {
            others[fingering.n_alternates++] = spell(job, event, press);
        }
    }
    fingering.alternates = others;
    return fingering;
}

/* In his own file the notes stay as they are, the fingerings do not. */
static void tell_moved(struct job *job)
{
    const struct hbk_passage_view *const view = &job->performed.view;
    if (view->moved != 0) {
        hbk_fault_warn(&job->faults,
                       (struct hbk_place){.file = job->document.tune.file},
                       H_MOVED,
                       "the notes in the file stay as they are, the "
                       "fingerings are %s",
                       hbk_passage_reads(view, &job->arena));
    }
}

/* Into the user's own file if that is of the kind, else written anew. */
static enum hbk_status write_music(struct job *job, struct hbk_text *out)
{
    struct hbk_tune_fingering *const fingerings =
        HBK_ARENA_ARRAY(&job->arena, struct hbk_tune_fingering,
                        job->performed.tune.n_events + 1);
    for (size_t e = 0; e < job->performed.tune.n_events; e++) {
        fingerings[e] = fingering_of(job, e);
    }
    const struct hbk_passage_view *const view = &job->performed.view;
    if (is_own(job)) {
        tell_moved(job);
        return hbk_tune_annotate(&job->document, fingerings,
                                 hbk_passage_reads(view, &job->arena), out,
                                 &job->faults);
    }
    if (job->performed.tune.part[0] == '\0') {
        job->performed.tune.part = job->horn.name;
    }
    if (job->output == HBK_OUT_ABC) {
        return hbk_tune_to_abc(&job->performed.tune, fingerings, out,
                               &job->faults);
    }
    return job->output == HBK_OUT_MXL
               ? hbk_tune_to_mxl(&job->performed.tune, fingerings, out,
                                 &job->faults)
               : hbk_tune_to_musicxml(&job->performed.tune, fingerings, out,
                                      &job->faults);
}

static enum hbk_status lay(void *ctx, const struct hbk_ruler *ruler,
                           struct hbk_sheet *sheet)
{
    const struct job *const job = ctx;
    return hbk_passage_part(&job->performed.view, &job->sheet,
                            job->options->circles, ruler, sheet);
}

/*
 * The user's own file may be written over itself: --bare brings it back. A
 * listing of the tune, or the tune in another format, may not.
 */
static int write_out(const struct job *job, const struct hbk_text *out)
{
    const bool own = job->options->bare || is_own(job);
    return own && job->options->run == NULL
               ? hbk_write_over(job->options, job->options->words[1], out)
               : hbk_write_text(job->options, out);
}

static int write_passage(struct job *job)
{
    if ((job->output & HBK_OUT_SHEETS) != 0) {
        return hbk_draw_sheet(job->options, job->output, lay, job, &job->arena,
                              &job->faults);
    }
    struct hbk_text out = {.arena = &job->arena};
    enum hbk_status status = HBK_OK;
    if (job->output == HBK_OUT_TEXT) {
        hbk_passage_text(&job->performed.view, &out);
    } else if (job->output == HBK_OUT_JSON) {
        hbk_passage_json(&job->performed.view, &out);
    } else {
        status = write_music(job, &out);
    }
    return status == HBK_OK ? write_out(job, &out) : hbk_exit_of(status);
}

static int find_passage(struct job *job)
{
    struct hbk_performed *const performed = &job->performed;
    const enum hbk_status status =
        hbk_perform(job->options, &job->document.tune, &job->notes, &job->arena,
                    performed, &job->faults);
    if (status != HBK_OK) {
        return hbk_exit_of(status);
    }
    struct hbk_text why = {.arena = &job->arena};
    if (!hbk_perform_bars(performed, job->options->bars, &why)) {
        return hbk_usage("passage", "--bars %s", hbk_text_string(&why));
    }
    hbk_perform_tell_out(performed, &job->arena, &job->faults);
    hbk_perform_tell_kept(performed, &job->faults);
    hbk_perform_tell_ornaments(performed, &job->arena, &job->faults);
    return HBK_EXIT_DONE;
}

/* The user's own file without the fingerings that were written into it. */
static int write_bare(struct job *job)
{
    if (job->output != HBK_OUT_TEXT && !is_own(job)) {
        return hbk_usage("passage", "--bare writes the file as it is, so that "
                                    "the ending must be that of the tune");
    }
    struct hbk_text out = {.arena = &job->arena};
    const enum hbk_status status =
        hbk_tune_strip(&job->document, &out, &job->faults);
    hbk_print_faults(&job->faults, job->options->quiet);
    return status == HBK_OK ? write_out(job, &out) : hbk_exit_of(status);
}

static int answer(struct job *job)
{
    struct hbk_setting setting;
    int code = hbk_read_setting(&job->horn, job->options, &setting);
    if (code == HBK_EXIT_DONE) {
        code = hbk_exit_of(hbk_solve(&job->horn, &setting, &job->arena,
                                     &job->notes, &job->faults));
    }
    if (code == HBK_EXIT_DONE) {
        code = hbk_load_tune(job->options,
                             job->options->run != NULL ? NULL
                                                       : job->options->words[1],
                             &job->document);
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
    if (!isnan(job->options->choices) && is_sheet) {
        return hbk_usage("passage",
                         "--choices have no room on a sheet; leave it out, or "
                         "ask for text, json or music");
    }
    return HBK_EXIT_DONE;
}

/* What is asked, as far as it can be judged without any file. */
static int read_words(struct job *job)
{
    const struct hbk_options *const options = job->options;
    if (options->n_words != (options->run != NULL ? 1 : 2)) {
        return hbk_usage("passage", "name one horn and one tune, or a horn and "
                                    "--run \"C5 D5 E5/2 F5/2\"");
    }
    if (options->bare && (options->run != NULL || options->format != NULL)) {
        return hbk_usage("passage", "--bare takes the fingerings out of a "
                                    "file again, which keeps its format");
    }
    const bool chooses = options->tune != NULL || options->part != NULL ||
                         options->voice != NULL;
    if (options->run != NULL && chooses) {
        return hbk_usage("passage", "a run that is typed has no tunes, parts "
                                    "or voices to choose from");
    }
    int code =
        hbk_read_output(options,
                        HBK_OUT_TEXT | HBK_OUT_JSON | HBK_OUT_ABC |
                            HBK_OUT_MUSICXML | HBK_OUT_MXL | HBK_OUT_SHEETS,
                        HBK_OUT_TEXT, "a passage is", &job->output);
    if (code == HBK_EXIT_DONE) {
        code = check_output(job);
    }
    return code == HBK_EXIT_DONE ? hbk_read_paper(options, &job->sheet) : code;
}

int hbk_cmd_passage(const struct hbk_options *options)
{
    struct job job = {.options = options};
    int code = read_words(&job);
    if (code == HBK_EXIT_DONE) {
        code = hbk_load_horn(options->words[0], options->quiet, &job.horn);
    }
    if (code == HBK_EXIT_DONE) {
        code = answer(&job);
    }
    hbk_arena_finish(&job.arena);
    hbk_tune_document_finish(&job.document);
    hbk_horn_finish(&job.horn);
    return code;
}
