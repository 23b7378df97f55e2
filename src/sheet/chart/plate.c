#include "sheet/chart/plate.h"

#include "sheet/block/frame.h"
#include "sheet/block/heading.h"
#include "sheet/block/title.h"
#include "sheet/chart/plate_columns.h"
#include "sheet/chart/plate_list.h"
#include "sheet/chart/plate_plan.h"
#include "sheet/chart/plate_scale.h"
#include "sheet/chart/plate_table.h"
#include "sheet/chart/plate_words.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_said.h"

#include <math.h>
#include <string.h>

/* At unit 1, mm. */
static const double title_top = 13.6;

static void draw_frame(struct hbk_plate *plate)
{
    const struct hbk_page_frame frame = {.width = plate->paper.width,
                                         .height = plate->paper.height,
                                         .edge = HBK_PLATE_FRAME * plate->s,
                                         .unit = plate->s};
    hbk_page_frame_draw(&plate->pad, &frame);
}

static double draw_title(struct hbk_plate *plate)
{
    const double s = plate->s;
    const struct hbk_title title = {.name = plate->name,
                                    .below = plate->below,
                                    .points = 26.0,
                                    .unit = s,
                                    .rule = 74.0};
    const double centre = 0.5 * plate->paper.width;
    double y = title_top * s;
    hbk_title_draw(&plate->pad, &title, centre, y,
                   plate->paper.width - 4.0 * HBK_PLATE_MARGIN * s);
    y += hbk_title_height(&title);
    hbk_pad_block(&plate->pad, HBK_TAG_PARAGRAPH, centre, y + 3.2 * s,
                  hbk_style_of(HBK_FACE_ITALIC, 10.5, s, HBK_CENTRE), 4.6 * s,
                  &plate->set);
    return y + 4.6 * s * (double)plate->set.n + 1.0 * s;
}

static double draw_system(struct hbk_plate *plate,
                          const struct hbk_plate_system *system, double y)
{
    y += plate->air;
    const double table = y + hbk_plate_names_height(plate) +
                         hbk_plate_staff_height(plate, system) +
                         hbk_plate_figure_height(plate);
    /* The tint lies under the scale, so the table comes first. */
    hbk_pad_open_figure(
        &plate->pad,
        hbk_arena_printf(
            plate->pad.sheet->arena,
            "A row for each key or valve, with a dot for each note of the "
            "table below that presses it: %s.",
            hbk_words_said_controls(plate->pad.sheet->arena, plate->notes->horn,
                                    plate->notes)));
    const double foot = hbk_plate_table_draw(plate, system, table);
    hbk_pad_close(&plate->pad, HBK_TAG_FIGURE);
    hbk_plate_scale_draw(plate, system, y);
    return foot;
}

/* "Alternate fingerings, page 2" of the last page. */
static const char *page_words(const struct hbk_plate *plate, const char *what)
{
    const struct hbk_sheet *sheet = plate->pad.sheet;
    return hbk_arena_printf(sheet->arena, "%spage %zu", what, sheet->n_pages);
}

static void new_page(struct hbk_plate *plate)
{
    const struct hbk_sheet *sheet = plate->pad.sheet;
    const char *label =
        sheet->n_pages == 0
            ? sheet->title
            : hbk_arena_printf(sheet->arena, "%s: %s, page %zu", sheet->title,
                               sheet->kind, sheet->n_pages + 1);
    struct hbk_paper_size paper = plate->paper;
    paper.margin = (HBK_PLATE_FRAME - 0.5) * plate->s;
    hbk_pad_page(&plate->pad, paper, label);
    draw_frame(plate);
}

static double overleaf_page(struct hbk_plate *plate)
{
    const double x = HBK_PLATE_MARGIN * plate->s;
    new_page(plate);
    hbk_running_head_draw(&plate->pad, plate->pad.sheet->title,
                          page_words(plate, "Alternate fingerings, "), plate->s,
                          x, x, plate->paper.width - 2.0 * x);
    return x + hbk_running_head_height(plate->s) + 1.0 * plate->s;
}

/* Every other fingering, in two systems on as many pages as they need. */
static void draw_overleaf(struct hbk_plate *plate)
{
    struct hbk_plate every = *plate;
    hbk_plate_turn(&every);
    const double foot =
        every.paper.height - (HBK_PLATE_FRAME + 3.0 + 13.0) * every.s;
    double y = foot;
    for (size_t i = 0; i < every.n_systems; i++) {
        const struct hbk_plate_system *system = &every.systems[i];
        every.others = hbk_plate_lines(&every, system);
        if (every.others == 0) {
            continue; /* the chart says all of it */
        }
        const double tall = hbk_plate_names_height(&every) +
                            hbk_plate_staff_height(&every, system) +
                            hbk_plate_figure_height(&every) +
                            hbk_plate_below_height(&every);
        if (y + tall > foot) {
            y = overleaf_page(&every);
        }
        y = draw_system(&every, system, y) + 3.0 * every.s;
    }
    hbk_plate_others_explain(&every, y);
    plate->pad = every.pad;
}

static void draw(struct hbk_plate *plate)
{
    const double s = plate->s;
    new_page(plate);
    double y = draw_title(plate);
    /* What is left between the title and the foot goes above the tube. */
    double used = y + hbk_instrument_above(&plate->instrument) +
                  hbk_instrument_below(&plate->instrument) + 2.0 * s +
                  hbk_plate_foot_height(plate) + (HBK_PLATE_FRAME + 3.0) * s;
    for (size_t i = 0; i < plate->with_tube; i++) {
        used += plate->air + hbk_plate_names_height(plate) +
                hbk_plate_staff_height(plate, &plate->systems[i]) +
                hbk_plate_figure_height(plate) + hbk_plate_below_height(plate) +
                plate->row_height * (double)plate->n_rows;
    }
    y += 0.6 * fmax(0.0, plate->paper.height - used);
    const double axis = y + hbk_instrument_above(&plate->instrument);
    hbk_instrument_draw(&plate->pad, &plate->instrument, axis);
    y = axis + hbk_instrument_below(&plate->instrument) + 2.0 * s;
    for (size_t i = 0; i < plate->with_tube; i++) {
        y = draw_system(plate, &plate->systems[i], y);
    }
    hbk_plate_foot_draw(plate);
    for (size_t i = plate->with_tube; i < plate->n_systems; i++) {
        const double x = HBK_PLATE_MARGIN * s;
        new_page(plate);
        hbk_running_head_draw(&plate->pad, plate->pad.sheet->title,
                              page_words(plate, ""), s, x, x,
                              plate->paper.width - 2.0 * x);
        plate->air = 0.0;
        draw_system(plate, &plate->systems[i], x + hbk_running_head_height(s));
        hbk_plate_foot_draw(plate);
    }
    if (plate->overleaf) {
        draw_overleaf(plate);
    }
    if (plate->known_apart) {
        hbk_plate_known_draw(plate);
    }
}

/* Sizes to try, the largest first: A3 is larger by the root of two. */
static double scale_of(enum hbk_paper paper)
{
    return paper == HBK_A3 ? 297.0 / 210.0 : 1.0;
}

static bool plan(struct hbk_plate *plate, double s)
{
    const struct hbk_plate fresh = {.pad = plate->pad,
                                    .notes = plate->notes,
                                    .options = plate->options,
                                    .paper = plate->paper,
                                    .is_every = plate->is_every,
                                    .s = s};
    *plate = fresh;
    if (!hbk_plate_begin(plate)) {
        return false;
    }
    hbk_plate_choose(plate);
    return true;
}

static enum hbk_status lay_out(struct hbk_plate *plate)
{
    static const double least_scale = 1.05;
    const struct hbk_sheet_options *options = plate->options;
    const struct hbk_notes *notes = plate->notes;
    struct hbk_sheet *sheet = plate->pad.sheet;
    struct hbk_arena *arena = sheet->arena;
    const double largest = scale_of(options->paper);
    if (!plan(plate, largest)) {
        return HBK_ERR_DOMAIN;
    }
    /* On a large sheet a little smaller is better than overleaf. */
    for (double s = largest - 0.04; plate->overleaf && s > least_scale;
         s -= 0.04) {
        (void)plan(plate, s);
    }
    if (plate->overleaf) {
        (void)plan(plate, largest);
    }
    const char *title =
        options->title == NULL ? notes->horn->name : options->title;
    sheet->title = hbk_arena_copy(arena, title, strlen(title));
    sheet->kind = plate->is_every ? "chart" : "plate";
    sheet->subject =
        hbk_arena_printf(arena, "%s. %s.", hbk_words_read_sounds(arena, notes),
                         hbk_words_pitch(arena, &notes->setting));
    draw(plate);
    return HBK_OK;
}

static struct hbk_plate plate_of(const struct hbk_notes *notes,
                                 const struct hbk_sheet_options *options,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet)
{
    return (struct hbk_plate){
        .pad = {.sheet = sheet, .ruler = ruler},
        .notes = notes,
        .options = options,
        .paper = hbk_paper_turned(hbk_paper_size(options->paper))};
}

enum hbk_status hbk_sheet_plate(const struct hbk_notes *notes,
                                const struct hbk_sheet_options *options,
                                const struct hbk_ruler *ruler,
                                struct hbk_sheet *sheet)
{
    struct hbk_plate plate = plate_of(notes, options, ruler, sheet);
    return lay_out(&plate);
}

enum hbk_status hbk_sheet_wall(const struct hbk_notes *notes,
                               const struct hbk_sheet_options *options,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet)
{
    struct hbk_plate plate = plate_of(notes, options, ruler, sheet);
    plate.is_every = true;
    return lay_out(&plate);
}
