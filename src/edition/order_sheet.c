#include "edition/order_sheet.h"

#include "base/messages.h"
#include "base/text.h"
#include "edition/lesson_range.h"
#include "edition/part_sheet.h"
#include "edition/perform.h"
#include "edition/place_tell.h"
#include "edition/practice_sheet.h"
#include "edition/primer.h"
#include "horn/about.h"
#include "passage/scale.h"
#include "passage/trill.h"
#include "report/passage_moved.h"
#include "sheet/article/scales_sheet.h"
#include "sheet/article/slide_card.h"
#include "sheet/chart/chart.h"
#include "solve/slides.h"
#include "tune/document.h"

#include <assert.h>

/* A sheet being laid out, handed on as one. */
struct job {
    const struct hbk_player *player;
    const struct hbk_order_sheet *asked;
    struct hbk_sheet_options options;
    const struct hbk_ruler *ruler;
    struct hbk_sheet *sheet;
    bool whole;
    struct hbk_faults *faults;
};

static enum hbk_status lay_scales(struct job *job)
{
    return hbk_sheet_scales(
        &job->player->notes,
        hbk_scales_of(&job->player->notes, job->sheet->arena), &job->options,
        job->ruler, job->sheet);
}

static enum hbk_status lay_slides(struct job *job)
{
    const struct hbk_notes *const notes = &job->player->notes;
    struct hbk_slides slides;
    HBK_TRY(hbk_slides_plan(notes->horn, &notes->setting, job->sheet->arena,
                            &slides, job->faults));
    hbk_sheet_slide_card(&slides, &job->options, job->ruler, job->sheet);
    return HBK_OK;
}

/* Whether a primer can be had as it is asked for; else tells why not. */
static bool read_primer(struct job *job, struct hbk_primer_wish *wish)
{
    const struct hbk_order_sheet *const asked = job->asked;
    const char *const name = job->player->asked->name;
    const struct hbk_order_word *const range = &asked->primer.range;
    struct hbk_text why = {.arena = job->sheet->arena};
    if (!hbk_primer_takes(job->options.paper)) {
        hbk_fault_add(job->faults, asked->place, HBK_H_PAPER_TOO_SMALL,
                      "%s: a primer needs paper of A5, A4 or Letter", name);
        return false;
    }
    if (asked->primer.fold && job->options.paper == HBK_LETTER) {
        hbk_fault_add(job->faults, asked->place, HBK_H_PAPER_TOO_SMALL,
                      "%s: a folded primer has pages of A5 (of sheets of A4) "
                      "or A4 (of A3); write 'paper: A5'",
                      name);
        return false;
    }
    if (range->text != NULL &&
        !hbk_lesson_range_read(range->text, wish->notes, &wish->low,
                               &wish->high, &why)) {
        hbk_fault_add(job->faults, range->place, HBK_H_ORDER_RANGE,
                      "%s: 'range': %s", name, hbk_text_string(&why));
        return false;
    }
    return true;
}

static enum hbk_status lay_primer(struct job *job)
{
    struct hbk_primer_wish wish = {.notes = &job->player->notes,
                                   .known = job->player->known_notes};
    const struct hbk_primer_options options = {.paper = job->options.paper,
                                               .title = job->options.title,
                                               .whom = job->options.whom,
                                               .large =
                                                   job->asked->primer.large,
                                               .fold = job->asked->primer.fold};
    if (!read_primer(job, &wish)) {
        return HBK_ERR_INPUT;
    }
    struct hbk_primer_made made = {0};
    enum hbk_status status =
        hbk_primer_make(&wish, job->sheet->arena, &made, job->faults);
    if (status == HBK_OK) {
        status =
            hbk_sheet_primer(&made.primer, &options, job->ruler, job->sheet);
    }
    hbk_primer_finish(&made);
    return status;
}

static void tell_out(const struct job *job,
                     const struct hbk_performed *performed)
{
    struct hbk_arena *const arena = job->sheet->arena;
    const size_t n = hbk_passage_count(&performed->view).out;
    const int octaves = hbk_perform_fitting(performed);
    hbk_fault_add(
        job->faults, job->asked->place, HBK_H_PART_OUT_OF_REACH,
        "%s: %s is not available on this horn%s; the part is printed without "
        "%s%s",
        job->player->asked->name, hbk_perform_first_out(performed, arena),
        n == 1 ? ""
               : hbk_arena_printf(arena, ", and %zu note%s more", n - 1,
                                  n == 2 ? "" : "s"),
        n == 1 ? "its fingering" : "their fingerings",
        octaves == 0
            ? ""
            : hbk_arena_printf(
                  arena, "; %s the horn has every note: write 'octave: %d'",
                  hbk_octaves_words(octaves, arena),
                  performed->view.placing.octaves + octaves));
}

/* Octave and key: what the sheet says before what the player says. */
static struct hbk_move_words words_of(const struct job *job)
{
    const struct hbk_order_moving *const sheet = &job->asked->part.moving;
    const struct hbk_order_moving *const player = &job->player->asked->moving;
    const bool has_key = sheet->transpose != NULL || sheet->to_key != NULL;
    const struct hbk_order_moving *const key = has_key ? sheet : player;
    return (struct hbk_move_words){
        .octave = sheet->octave != NULL ? sheet->octave : player->octave,
        .transpose = key->transpose,
        .to_key = key->to_key};
}

/* Nothing where the order says how the part is meant. */
static void tell_taken(const struct job *job,
                       const struct hbk_performed *performed,
                       const struct hbk_tune *tune)
{
    const struct hbk_place_asker asker = {
        .place = job->asked->place,
        .whom = hbk_arena_printf(job->sheet->arena,
                                 "%s: ", job->player->asked->name),
        .remedy = "write 'from_sounding: true'; if not, 'from_sounding: false'",
        .notes = &job->player->notes};
    if (!job->asked->part.says_sounding) {
        hbk_place_tell(&asker, &performed->view.placing, tune, job->faults);
    }
}

static enum hbk_status lay_tune(struct job *job, const struct hbk_tune *tune)
{
    const struct hbk_order_part *const part = &job->asked->part;
    struct hbk_arena *const arena = job->sheet->arena;
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    ask.tempo = part->tempo;
    if (part->choices >= 0) {
        ask.choices = (double)part->choices;
    }
    ask.keep = part->keep;
    ask.only_departures = part->only_departures;
    ask.from_sounding = part->from_sounding;
    const struct hbk_move_words words = words_of(job);
    struct hbk_text why = {.arena = arena};
    /* The reader of orders has refused whatever is no such word. */
    const bool is_move = hbk_perform_ask_move(&ask, &words, &why);
    assert(is_move);
    (void)is_move;
    struct hbk_performed *const performed =
        HBK_ARENA_ARRAY(arena, struct hbk_performed, 1);
    HBK_TRY(hbk_perform(&ask, tune, &job->player->notes, arena, performed,
                        job->faults));
    if (!hbk_perform_bars(performed, part->bars.text, &why)) {
        hbk_fault_add(job->faults, part->bars.place, HBK_H_PART_BARS,
                      "%s: 'bars' %s", job->player->asked->name,
                      hbk_text_string(&why));
        return HBK_ERR_INPUT;
    }
    tell_taken(job, performed, tune);
    hbk_perform_tell_kept(performed, job->faults);
    hbk_perform_tell_ornaments(performed, arena, job->faults);
    job->whole = hbk_passage_count(&performed->view).out == 0;
    if (!job->whole) {
        tell_out(job, performed);
    }
    return (job->asked->kind == HBK_ORDER_PRACTICE ? hbk_passage_practice
                                                   : hbk_passage_part)(
        &performed->view, &job->options, part->circles, job->ruler, job->sheet);
}

static enum hbk_status lay_part(struct job *job)
{
    const struct hbk_order_part *const part = &job->asked->part;
    const struct hbk_tune_options which = {
        .tune = part->tune.text,
        .part = part->part.text,
        .voice = part->voice.text,
        .line = part->line,
        .player = job->player->asked->name,
        .horn = hbk_horn_name(job->player->notes.horn)};
    struct hbk_tune_document document = {0};
    enum hbk_status status =
        hbk_tune_read(part->file.text, &which, &document, job->faults);
    if (status == HBK_OK) {
        status = lay_tune(job, &document.tune);
    }
    hbk_tune_document_finish(&document);
    return status;
}

/* A kind of sheet: a layout of the chart, or a way of its own. */
static const struct {
    enum hbk_layout layout;
    enum hbk_status (*lay)(struct job *job); /* NULL for a chart */
} kinds[HBK_ORDER_KIND_COUNT] = {
    [HBK_ORDER_PLATE] = {HBK_LAYOUT_PLATE, NULL},
    [HBK_ORDER_WALL] = {HBK_LAYOUT_WALL, NULL},
    [HBK_ORDER_STAND] = {HBK_LAYOUT_STAND, NULL},
    [HBK_ORDER_CARD] = {HBK_LAYOUT_CARD, NULL},
    [HBK_ORDER_LARGE] = {HBK_LAYOUT_LARGE, NULL},
    [HBK_ORDER_TRILLS] = {HBK_LAYOUT_TRILLS, NULL},
    [HBK_ORDER_SCALES] = {HBK_LAYOUT_COUNT, lay_scales},
    [HBK_ORDER_SLIDES] = {HBK_LAYOUT_COUNT, lay_slides},
    [HBK_ORDER_PRIMER] = {HBK_LAYOUT_COUNT, lay_primer},
    [HBK_ORDER_PART] = {HBK_LAYOUT_COUNT, lay_part},
    [HBK_ORDER_PRACTICE] = {HBK_LAYOUT_COUNT, lay_part},
};

enum hbk_status hbk_order_sheet_lay(const struct hbk_ordered *ordered,
                                    const struct hbk_ruler *ruler,
                                    struct hbk_sheet *sheet, bool *whole,
                                    struct hbk_faults *faults)
{
    const struct hbk_player *const player = ordered->player;
    const struct hbk_order_sheet *const asked = ordered->asked;
    struct job job = {.player = player,
                      .asked = asked,
                      .options = {.title = asked->title,
                                  .sounding = player->asked->sounding,
                                  .whom = player->whom,
                                  .beside = player->known_notes},
                      .ruler = ruler,
                      .sheet = sheet,
                      .whole = true,
                      .faults = faults};
    (void)hbk_paper_parse(asked->paper, &job.options.paper);
    const enum hbk_layout layout = kinds[asked->kind].layout;
    enum hbk_status status = HBK_OK;
    if (kinds[asked->kind].lay != NULL) {
        status = kinds[asked->kind].lay(&job);
    } else if (hbk_layout_takes(layout, job.options.paper)) {
        if (hbk_layout_shows_trills(layout)) {
            job.options.trills = hbk_trills_of(&player->notes, sheet->arena);
        }
        status =
            hbk_sheet_chart(layout, &player->notes, &job.options, ruler, sheet);
    } else {
        hbk_fault_add(faults, asked->place, HBK_H_PAPER_TOO_SMALL,
                      "%s: a %s chart needs paper of %s", player->asked->name,
                      hbk_order_kind_name(asked->kind),
                      hbk_layout_papers(layout));
        status = HBK_ERR_INPUT;
    }
    *whole = job.whole;
    return status;
}
