#include "cli/output.h"

#include "cli/passage_out.h"
#include "solve/ranking.h"
#include "solve/solve.h"
#include "tune/document.h"

#include <math.h>
#include <string.h>

enum {
    H_TOO_LONG = 300,
    H_OUT_OF_REACH = 301,
    H_KEPT_UNKNOWN = 302,
    H_KEPT_UNPLAYABLE = 303,
    H_MOVED_OUT = 304
};

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
    struct hbk_keywork keywork;
    struct hbk_tune tune; /* as this horn reads it */
    struct hbk_passage passage;
    struct hbk_passage_view view;
};

static int read_tune(struct job *job)
{
    const struct hbk_options *const options = job->options;
    const struct hbk_tune_options which = {
        .tune = options->tune, .part = options->part, .voice = options->voice};
    struct hbk_faults faults = {0};
    const enum hbk_status status =
        options->run != NULL
            ? hbk_tune_from_run(options->run, &job->document, &faults)
            : hbk_tune_read(options->words[1], &which, &job->document, &faults);
    hbk_print_faults(&faults, options->quiet);
    return hbk_exit_of(status);
}

/*
 * A part that says nothing of its transposition is taken as this horn's own:
 * that is how players have their music.
 */
static int move_tune(struct job *job)
{
    const struct hbk_tune *const tune = &job->document.tune;
    const bool from_sounding = job->options->from_sounding || tune->concert;
    job->tune = *tune;
    if (!from_sounding && tune->transpose == 0) {
        return HBK_EXIT_DONE;
    }
    job->view.moved =
        hbk_tune_shift_for(tune, job->notes.written_c4_sounds, from_sounding);
    if (job->view.moved == 0) {
        return HBK_EXIT_DONE;
    }
    const enum hbk_status status =
        hbk_tune_transposed(tune, job->view.moved, &job->arena, &job->tune);
    if (status != HBK_OK) {
        hbk_fault_add(&job->faults, (struct hbk_place){.file = tune->file},
                      H_MOVED_OUT,
                      "moved by %d semitones for this horn, a note leaves the "
                      "range from C-1 to G9",
                      job->view.moved);
    }
    return hbk_exit_of(status);
}

/* The bar of that number, the last of them if `last`; n_bars for none. */
static size_t find_bar(const struct hbk_tune *tune, const char *number,
                       size_t length, bool last)
{
    size_t found = tune->n_bars;
    for (size_t b = 0; b < tune->n_bars; b++) {
        const char *const name = tune->bars[b].number;
        if (strlen(name) == length && memcmp(name, number, length) == 0) {
            found = b;
            if (!last) {
                break;
            }
        }
    }
    return found;
}

/* --bars 23-26 or 23. */
static int read_bars(struct job *job)
{
    const struct hbk_tune *const tune = &job->tune;
    const char *const text = job->options->bars;
    job->view.first = 0;
    job->view.end = tune->n_bars;
    if (text == NULL) {
        return HBK_EXIT_DONE;
    }
    const size_t length = strcspn(text, "-");
    const char *const to = text[length] == '-' ? text + length + 1 : text;
    job->view.first = find_bar(tune, text, length, false);
    const size_t last =
        find_bar(tune, to, text[length] == '-' ? strlen(to) : length, true);
    if (job->view.first == tune->n_bars || last == tune->n_bars ||
        last < job->view.first) {
        return hbk_usage("passage",
                         "--bars takes bars as 23-26 or 23, not '%s'; this "
                         "tune goes from bar %s to bar %s",
                         text, tune->bars[0].number,
                         tune->bars[tune->n_bars - 1].number);
    }
    job->view.end = last + 1;
    return HBK_EXIT_DONE;
}

static void tell_kept(struct job *job, const struct hbk_passage_note *note)
{
    const struct hbk_tune_event *const event = &job->tune.events[note->event];
    char where[HBK_TUNE_WHERE_SIZE];
    char name[HBK_NAME_SIZE];
    hbk_tune_where(&job->tune, note->event, where);
    hbk_spelling_name(event->spelling, HBK_UNICODE, name);
    if (note->kept == HBK_PASSAGE_UNKNOWN) {
        hbk_fault_warn(&job->faults, event->place, H_KEPT_UNKNOWN,
                       "%s: '%.40s' is no fingering of this horn; another is "
                       "chosen for %s",
                       where, event->fingering, name);
    } else if (note->kept == HBK_PASSAGE_UNPLAYABLE) {
        hbk_fault_warn(&job->faults, event->place, H_KEPT_UNPLAYABLE,
                       "%s: this horn does not play %s with '%.40s'; another "
                       "is chosen",
                       where, name, event->fingering);
    }
}

static void tell(struct job *job)
{
    for (size_t i = 0; i < job->passage.n_out; i++) {
        const size_t e = job->passage.out[i];
        char where[HBK_TUNE_WHERE_SIZE];
        char name[HBK_NAME_SIZE];
        hbk_fault_add(
            &job->faults, job->tune.events[e].place, H_OUT_OF_REACH,
            "%s: %s is out of reach of this horn",
            hbk_tune_where(&job->tune, e, where),
            hbk_spelling_name(job->tune.events[e].spelling, HBK_UNICODE, name));
    }
    for (size_t i = 0; i < job->passage.n; i++) {
        tell_kept(job, &job->passage.notes[i]);
    }
}

/* What is written at one event. */
static struct hbk_tune_fingering fingering_of(struct job *job, size_t event)
{
    struct hbk_tune_fingering fingering = {NULL, NULL, 0};
    const size_t i = job->passage.note_of[event];
    if (i == HBK_TUNE_NONE || !hbk_passage_shows(&job->view, event)) {
        return fingering;
    }
    const struct hbk_passage_note *const note = &job->passage.notes[i];
    const size_t n = job->view.other_ways ? job->view.others : 0;
    const char **const others =
        HBK_ARENA_ARRAY(&job->arena, const char *, n + 1);
    for (size_t k = 0; k < note->n_choices && k <= n; k++) {
        const size_t candidate = note->choices[k].candidate;
        char label[HBK_LABEL_SIZE];
        hbk_horn_press_label(&job->horn, note->candidates->of[candidate]->press,
                             label);
        const char *const kept =
            hbk_arena_copy(&job->arena, label, strlen(label));
        if (k == 0) {
            fingering.main = kept;
        } else {
            others[fingering.n_alternates++] = kept;
        }
    }
    fingering.alternates = others;
    return fingering;
}

/* Into the user's own file if that is of the kind, else written anew. */
static enum hbk_status write_music(struct job *job, struct hbk_text *out)
{
    struct hbk_tune_fingering *const fingerings = HBK_ARENA_ARRAY(
        &job->arena, struct hbk_tune_fingering, job->tune.n_events + 1);
    for (size_t e = 0; e < job->tune.n_events; e++) {
        fingerings[e] = fingering_of(job, e);
    }
    const enum hbk_tune_format format = job->document.format;
    const bool own =
        (job->output == HBK_OUT_ABC &&
         (format == HBK_TUNE_ABC || format == HBK_TUNE_RUN)) ||
        (job->output == HBK_OUT_MUSICXML && format == HBK_TUNE_MUSICXML) ||
        (job->output == HBK_OUT_MXL && format == HBK_TUNE_MXL);
    if (own) {
        return hbk_tune_annotate(&job->document, fingerings, out, &job->faults);
    }
    if (job->output == HBK_OUT_ABC) {
        return hbk_tune_to_abc(&job->tune, fingerings, out, &job->faults);
    }
    return job->output == HBK_OUT_MXL
               ? hbk_tune_to_mxl(&job->tune, fingerings, out, &job->faults)
               : hbk_tune_to_musicxml(&job->tune, fingerings, out,
                                      &job->faults);
}

static int draw(struct job *job)
{
    struct hbk_fonts *fonts = NULL;
    struct hbk_sheet sheet = {.arena = &job->arena};
    enum hbk_status status = hbk_fonts_open(&job->arena, &fonts, &job->faults);
    if (status == HBK_OK) {
        const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
        status = hbk_passage_part(&job->view, &job->sheet,
                                  job->options->circles, &ruler, &sheet);
    }
    const int code = status == HBK_OK
                         ? hbk_write_sheet(job->options, job->output, fonts,
                                           &sheet, &job->faults)
                         : hbk_exit_of(status);
    hbk_fonts_close(fonts);
    return code;
}

static int write_passage(struct job *job)
{
    if ((job->output & HBK_OUT_SHEETS) != 0) {
        return draw(job);
    }
    struct hbk_text out = {.arena = &job->arena};
    enum hbk_status status = HBK_OK;
    if (job->output == HBK_OUT_TEXT) {
        hbk_passage_text(&job->view, &out);
    } else if (job->output == HBK_OUT_JSON) {
        hbk_passage_json(&job->view, &out);
    } else {
        status = write_music(job, &out);
    }
    return status == HBK_OK ? hbk_write_text(job->options, &out)
                            : hbk_exit_of(status);
}

static int find_passage(struct job *job)
{
    const struct hbk_options *const options = job->options;
    const struct hbk_finger_prices prices = hbk_ranking_fingers();
    hbk_keywork_make(&job->horn, &prices, &job->keywork);
    const size_t others =
        isnan(options->choices) ? 1 : (size_t)options->choices;
    const struct hbk_passage_request request = {
        .notes = &job->notes,
        .keywork = &job->keywork,
        .tune = &job->tune,
        .quarters = isnan(options->tempo) ? 0.0 : options->tempo,
        .keep = options->keep,
        .ways = others + 1,
    };
    const enum hbk_status status =
        hbk_passage_find(&request, &job->arena, &job->passage);
    if (status != HBK_OK) {
        hbk_fault_add(&job->faults, (struct hbk_place){.file = job->tune.file},
                      H_TOO_LONG,
                      "with its repeats the tune has more than %d notes and "
                      "rests; give it fewer repeats, or take a part of it",
                      HBK_PASSAGE_PLAYED_MAX);
        return hbk_exit_of(status);
    }
    job->view.notes = &job->notes;
    job->view.keywork = &job->keywork;
    job->view.tune = &job->tune;
    job->view.passage = &job->passage;
    job->view.quarters = request.quarters;
    job->view.others = others;
    job->view.other_ways = !isnan(options->choices);
    job->view.only_departures = options->only_departures;
    job->view.sounding = options->sounding;
    return HBK_EXIT_DONE;
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
        code = read_tune(job);
    }
    if (code == HBK_EXIT_DONE) {
        code = move_tune(job);
    }
    if (code == HBK_EXIT_DONE) {
        code = read_bars(job);
    }
    if (code == HBK_EXIT_DONE) {
        code = find_passage(job);
    }
    if (code == HBK_EXIT_DONE) {
        tell(job);
        code = write_passage(job);
    }
    hbk_print_faults(&job->faults, job->options->quiet);
    return code == HBK_EXIT_DONE && job->passage.n_out > 0 ? HBK_EXIT_NO : code;
}

/* What is asked, as far as it can be judged without any file. */
static int read_words(struct job *job)
{
    const struct hbk_options *const options = job->options;
    if (options->n_words != (options->run != NULL ? 1 : 2)) {
        return hbk_usage("passage", "name one horn and one tune, or a horn and "
                                    "--run \"C5 D5 E5/2 F5/2\"");
    }
    const bool chooses = options->tune != NULL || options->part != NULL ||
                         options->voice != NULL;
    if (options->run != NULL && chooses) {
        return hbk_usage("passage", "a run that is typed has no tunes, parts "
                                    "or voices to choose from");
    }
    const int code =
        hbk_read_output(options,
                        HBK_OUT_TEXT | HBK_OUT_JSON | HBK_OUT_ABC |
                            HBK_OUT_MUSICXML | HBK_OUT_MXL | HBK_OUT_SHEETS,
                        HBK_OUT_TEXT, "a passage is", &job->output);
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
