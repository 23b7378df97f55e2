#include "edition/music.h"

#include "base/messages.h"
#include "horn/about.h"
#include "horn/press.h"
#include "passage/keep.h"
#include "report/passage_moved.h"
#include "tune/abc/abc_export.h"
#include "tune/document.h"
#include "tune/musicxml/musicxml_anew.h"

#include <string.h>

/* Music being written, handed on as one. */
struct job {
    const struct hbk_performed *performed;
    bool is_own;
    struct hbk_arena *arena;
};

static bool is_moved(const struct hbk_performed *performed)
{
    const struct hbk_passage_view *const view = &performed->view;
    return hbk_placing_asked(&view->placing) != 0 || view->placing.rekeyed ||
           view->notes->setting.reads != HBK_READS_OWN;
}

bool hbk_music_is_own(const struct hbk_tune_document *document,
                      const struct hbk_performed *performed,
                      enum hbk_tune_format format)
{
    return hbk_tune_holds(document, format) && !is_moved(performed);
}

/*
 * A fingering as it is written: as the user's own file spells it where it
 * says the same, so that nothing stands there twice.
 */
static const char *spell(const struct job *job, size_t event, uint32_t press)
{
    const struct hbk_notes *const notes = job->performed->view.notes;
    const char *const own = job->performed->tune.events[event].fingering;
    uint32_t said = 0;
    if (own != NULL && job->is_own && hbk_keep_press(notes, own, &said) &&
        said == press) {
        return own;
    }
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(notes->horn, press, label);
    return hbk_arena_copy(job->arena, label, strlen(label));
}

/* What is written at one event. */
static struct hbk_tune_fingering fingering_of(const struct job *job,
                                              size_t event)
{
    const struct hbk_passage_view *const view = &job->performed->view;
    struct hbk_tune_fingering fingering = {NULL, NULL, 0};
    const size_t i = view->passage->note_of[event];
    if (i == HBK_TUNE_NONE || !hbk_passage_shows(view, event)) {
        return fingering;
    }
    const struct hbk_passage_note *const note = &view->passage->notes[i];
    const size_t n = view->other_ways ? view->others : 0;
    const char **const others =
        HBK_ARENA_ARRAY(job->arena, const char *, n + 1);
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
static enum hbk_status write_own(const struct hbk_tune_document *document,
                                 enum hbk_tune_format format,
                                 const struct hbk_passage_view *view,
                                 const struct hbk_tune_fingering *fingerings,
                                 struct hbk_text *out,
                                 struct hbk_faults *faults)
{
    const char *const reads = hbk_passage_reads(view, out->arena);
    if (reads != NULL) {
        hbk_fault_warn(faults, (struct hbk_place){.file = document->tune.file},
                       HBK_H_FINGERINGS_ELSEWHERE,
                       "the notes in the file stay as they are, the "
                       "fingerings are %s",
                       reads);
    }
    return hbk_tune_annotate(document, format, fingerings, reads, out, faults);
}

enum hbk_status hbk_music_write(const struct hbk_tune_document *document,
                                const struct hbk_performed *performed,
                                enum hbk_tune_format format,
                                struct hbk_text *out, struct hbk_faults *faults)
{
    struct hbk_tune tune = performed->read;
    const struct job job = {.performed = performed,
                            .is_own =
                                hbk_music_is_own(document, performed, format),
                            .arena = out->arena};
    struct hbk_tune_fingering *const fingerings = HBK_ARENA_ARRAY(
        out->arena, struct hbk_tune_fingering, tune.n_events + 1);
    for (size_t e = 0; e < tune.n_events; e++) {
        fingerings[e] = fingering_of(&job, e);
    }
    if (job.is_own) {
        return write_own(document, format, &performed->view, fingerings, out,
                         faults);
    }
    hbk_tune_count_besides(document, out->arena, &tune);
    if (hbk_tune_holds(document, format) && document->format != HBK_TUNE_RUN) {
        hbk_fault_warn(faults, hbk_whole_file(document->tune.file),
                       HBK_H_MOVED_ANEW,
                       "the music is moved, so it is written anew, and not "
                       "into a copy of the file");
    }
    if (tune.part[0] == '\0') {
        tune.part = hbk_horn_name(performed->view.notes->horn);
    }
    if (format == HBK_TUNE_ABC) {
        return hbk_tune_to_abc(&tune, fingerings, out, faults);
    }
    return format == HBK_TUNE_MXL
               ? hbk_tune_to_mxl(&tune, fingerings, out, faults)
               : hbk_tune_to_musicxml(&tune, fingerings, out, faults);
}
