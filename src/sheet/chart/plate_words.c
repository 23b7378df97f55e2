#include "sheet/chart/plate_words.h"

#include "base/text.h"
#include "horn/about.h"
#include "sheet/block/heading.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_system.h"
#include "sheet/words/words_use.h"

#include <math.h>

static const double legend_points = 9.4;
static const double foot_points = 7.8;

/* Between the columns of the foot, mm at unit 1. */
static const double column_gap = 8.0;

static bool is_doubtful(const struct hbk_plate *plate)
{
    for (size_t i = 0; i < plate->n; i++) {
        const struct hbk_note *note = plate->columns[i].note;
        if (note->n > 0 &&
            (note->fingerings[0].verdict & HBK_VERDICT_UNRELIABLE) != 0) {
            return true;
        }
    }
    return false;
}

static bool has_vents(const struct hbk_plate *plate)
{
    for (size_t i = 0; i < plate->n; i++) {
        const struct hbk_note *note = plate->columns[i].note;
        for (size_t k = 1; k < note->n; k++) {
            if (note->fingerings[k].use == HBK_USE_VENTS) {
                return true;
            }
        }
    }
    return false;
}

static bool is_missing(const struct hbk_plate *plate)
{
    for (size_t i = 0; i < plate->n; i++) {
        if (plate->columns[i].note->n == 0) {
            return true;
        }
    }
    return false;
}

/* Whether some key has another name than its own for this reader. */
static bool are_keys_named(const struct hbk_notes *notes)
{
    const struct hbk_notation *notation = &notes->notation;
    bool has_name = false;
    for (size_t i = 0; i < notes->horn->n_controls; i++) {
        has_name = has_name || notes->horn->controls[i].called != NULL;
    }
    return has_name &&
           (notation->shift % 12 != 0 || notation->naming != HBK_NAMES_ENGLISH);
}

/* What the signs mean that this sheet has. */
static void add_signs(struct hbk_text *text, const struct hbk_plate *plate)
{
    const struct hbk_setting *set = &plate->notes->setting;
    if (plate->n_rows > 0) {
        hbk_text_add(text, "\u25CF pressed. No dot: nothing pressed, the open "
                           "horn (0). ");
        hbk_text_add(text, hbk_words_system(text->arena, plate->notes));
    } else {
        hbk_text_add(text, hbk_words_system(text->arena, plate->notes));
        hbk_text_add(text, "The number is the partial, counted from the "
                           "lowest note of the tube. ");
    }
    if (plate->options->sounding) {
        hbk_text_add(text, "Under each name: what the note sounds. ");
    }
    if (plate->n_rows > 0 && is_doubtful(plate)) {
        hbk_text_add(text, "\u25CB with a number: pressed, but unreliable: "
                           "more than 30 cents off, or on an out-of-tune "
                           "partial. ");
    }
    if ((set->stuck.held_down | set->stuck.held_up) != 0) {
        hbk_text_add(text, "Crossed: stuck; no finger moves it. ");
    }
    if (are_keys_named(plate->notes)) {
        hbk_text_add(text, "Keys are named for the notes that they give as you "
                           "read them. ");
    }
    hbk_text_add(text, hbk_words_reads(text->arena, plate->notes));
    hbk_text_add(text, plate->beyond);
    hbk_text_add(text, hbk_words_response(text->arena, plate->notes));
    if (is_missing(plate)) {
        hbk_text_add(text, "\u2013 no usable fingering. ");
    }
    if (plate->has_slide) {
        hbk_text_add(text, "Slide out: how far the trigger moves its slide "
                           "while the note is played. ");
    }
    if (plate->is_every) {
        hbk_text_add(text, "Cents: how far a note is above (+) or below "
                           "(\u2212) its pitch, 100 to a semitone; lip it the "
                           "opposite way. ");
    } else if (plate->has_lip) {
        hbk_text_add(text, "\u2191 \u2193 lip up, lip down, by so many cents "
                           "of the tuner (100 to a semitone; no number where "
                           "there is no room); no arrow: within 10. ");
    }
    if (plate->others > 0 && plate->is_every) {
        hbk_text_add(text,
                     "In the row or: alternate fingerings, the best "
                     "first, with their cents; in brackets: unreliable. ");
    } else if (plate->others > 0) {
        hbk_text_add(text, "In the row or: an alternate fingering; the wall "
                           "chart has them all. ");
    }
    if (plate->others > 0 && has_vents(plate)) {
        hbk_text_add(text, "+: the second key is opened for tone; it vents. ");
    }
    if (plate->options->beside != NULL) {
        hbk_text_addf(text, "Underlined: %s as on the %s. ",
                      plate->marks_same ? "the same fingering" : "not",
                      plate->options->beside->horn->name);
    }
}

static bool is_measured(const struct hbk_horn *horn, enum hbk_part part)
{
    return horn->provenance[part] == HBK_MEASURED;
}

/* What of the picture was never measured: it must not be built by. */
static void add_honesty(struct hbk_text *text, const struct hbk_plate *plate)
{
    const struct hbk_horn *horn = plate->notes->horn;
    if (horn->n_controls == 0) {
        hbk_text_add(text, "Length to scale, widths not. ");
        return;
    }
    const bool keys = hbk_horn_has_kind(horn, HBK_KEY);
    const bool valves = hbk_horn_has_kind(horn, HBK_VALVE);
    const bool by_rule = keys && hbk_instrument_by_rule(horn);
    hbk_text_add(text, "Lengths to scale, widths not. ");
    if (by_rule) {
        hbk_text_add(text, "Hole places are calculated, not measured: never "
                           "drill by this picture. ");
    }
    const bool loops = valves && horn->model == HBK_MODEL_LENGTH &&
                       !is_measured(horn, HBK_PART_VALVES);
    if (loops) {
        hbk_text_add(text, "Loops not measured. ");
    }
    if (valves && hbk_instrument_unplaced(horn)) {
        hbk_text_add(text, "Where the loops branch off is not known. ");
    }
    if (by_rule || loops) {
        hbk_text_add(text, "Trust your tuner before this sheet. ");
    }
}

static const char *known_words(struct hbk_arena *arena,
                               const struct hbk_notes *notes)
{
    const char *const remarks = hbk_words_remarks(arena, notes);
    return hbk_arena_printf(arena, "%s%s%s",
                            hbk_words_known(arena, notes->horn),
                            remarks[0] == '\0' ? "" : " ", remarks);
}

void hbk_plate_words(struct hbk_plate *plate)
{
    struct hbk_arena *arena = plate->pad.sheet->arena;
    const double s = plate->s;
    const double width = plate->paper.width - 2.0 * HBK_PLATE_MARGIN * s;
    struct hbk_text legend = {.arena = arena};
    add_signs(&legend, plate);
    add_honesty(&legend, plate);
    plate->legend = hbk_pad_wrap(
        &plate->pad, hbk_style_of(HBK_FACE_PLAIN, legend_points, s, HBK_LEFT),
        width, hbk_text_string(&legend));
    const struct hbk_style foot =
        hbk_style_of(HBK_FACE_PLAIN, foot_points, s, HBK_LEFT);
    const char *known = known_words(arena, plate->notes);
    size_t fewest = SIZE_MAX;
    for (int percent = 40; percent <= 70; percent += 10) {
        const double left = 0.01 * percent * (width - column_gap * s);
        const struct hbk_lines a = hbk_pad_wrap(&plate->pad, foot, left, known);
        const struct hbk_lines b =
            hbk_pad_wrap(&plate->pad, foot, width - column_gap * s - left,
                         hbk_words_cautions());
        const size_t deeper = a.n > b.n ? a.n : b.n;
        if (deeper < fewest) {
            fewest = deeper;
            plate->known = a;
            plate->care = b;
            plate->known_share = 0.01 * percent;
        }
    }
}

void hbk_plate_foot_draw(struct hbk_plate *plate)
{
    struct hbk_pad *pad = &plate->pad;
    const double s = plate->s;
    const double x = HBK_PLATE_MARGIN * s;
    const double width = plate->paper.width - 2.0 * x;
    double y = plate->paper.height - (HBK_PLATE_FRAME + 3.0) * s -
               hbk_plate_foot_height(plate) + 1.5 * s;
    hbk_pad_block(pad, HBK_TAG_PARAGRAPH, x, y + 3.2 * s,
                  hbk_style_of(HBK_FACE_PLAIN, legend_points, s, HBK_LEFT),
                  4.3 * s, &plate->legend);
    y += (double)plate->legend.n * 4.3 * s + 0.6 * s;
    hbk_pad_group(pad);
    hbk_pad_line(pad, x, y, width, 0.0, 0.15 * s);
    y += 1.0 * s;
    const struct hbk_style foot =
        hbk_style_of(HBK_FACE_PLAIN, foot_points, s, HBK_LEFT);
    if (!plate->known_apart) {
        hbk_pad_block(pad, HBK_TAG_PARAGRAPH, x, y + 2.3 * s, foot, 2.95 * s,
                      &plate->known);
    }
    const double right =
        x + plate->known_share * (width - column_gap * s) + column_gap * s;
    hbk_pad_block(pad, HBK_TAG_PARAGRAPH, right, y + 2.3 * s, foot, 2.95 * s,
                  &plate->care);
}

void hbk_plate_others_explain(struct hbk_plate *plate, double y)
{
    const double s = plate->s;
    const double x = HBK_PLATE_MARGIN * s;
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, legend_points, s, HBK_LEFT);
    const struct hbk_lines lines = hbk_pad_wrap(
        &plate->pad, style, plate->paper.width - 2.0 * x,
        hbk_arena_printf(plate->pad.sheet->arena,
                         "Under each fingering its cents: above (+) or below "
                         "(\u2212) the pitch, 100 to a semitone. In brackets: "
                         "unreliable.%s",
                         has_vents(plate)
                             ? " +: the second key is opened for tone; it "
                               "vents."
                             : ""));
    hbk_pad_block(&plate->pad, HBK_TAG_PARAGRAPH, x, y + 3.2 * s, style,
                  4.3 * s, &lines);
}

void hbk_plate_known_draw(struct hbk_plate *plate)
{
    const double s = plate->s;
    const double x = HBK_PLATE_MARGIN * s;
    const double step = 4.3 * s;
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_PLAIN, legend_points, s, HBK_LEFT);
    struct hbk_arena *arena = plate->pad.sheet->arena;
    const struct hbk_lines all =
        hbk_pad_wrap(&plate->pad, style, plate->paper.width - 2.0 * x,
                     known_words(arena, plate->notes));
    const double head = hbk_running_head_height(s);
    const size_t room = (size_t)((plate->paper.height - 2.0 * x - head) / step);
    for (size_t first = 0; first < all.n; first += room) {
        const struct hbk_lines part = {all.n - first < room ? all.n - first
                                                            : room,
                                       all.text + first, all.widest};
        struct hbk_paper_size paper = plate->paper;
        paper.margin = HBK_PLATE_FRAME * s;
        hbk_pad_page(&plate->pad, paper,
                     hbk_arena_printf(arena, "%s: sources and remarks",
                                      plate->pad.sheet->title));
        hbk_running_head_draw(&plate->pad, plate->pad.sheet->title,
                              "Sources and remarks", s, x, x,
                              plate->paper.width - 2.0 * x);
        hbk_pad_block(&plate->pad, HBK_TAG_PARAGRAPH, x, x + head + 3.0 * s,
                      style, step, &part);
    }
}
