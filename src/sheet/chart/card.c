#include "sheet/chart/card.h"

#include "horn/about.h"
#include "page/impose.h"
#include "sheet/block/foot.h"
#include "sheet/block/head.h"
#include "sheet/block/heading.h"
#include "sheet/chart/chart_words.h"
#include "sheet/chart/strip_page.h"
#include "sheet/chart/strip_rows.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"

#include <math.h>

/* mm. */
static const double margin = 6.0;
static const double head_gap = 1.0;
static const double strip_gap = 1.4;
static const double widest_gap = 5.0;
static const double foot_gap = 1.0;
static const double finger_gap = 1.0; /* after the map */

/* Of heads and lines, beside those of an A4 sheet. */
static const double head_unit = 0.55;
static const double running_unit = 0.9;
static const double line_unit = 0.7;

/* Sizes at scale 1, points and mm; letters and staff are no smaller. */
static const double name_points = 9.0;
static const double figure_points = 10.5;
static const double letter_points = 7.5;
static const double word_points = 8.5;
static const double staff_space = 1.3;
static const double row_height = 3.82; /* discs that hold their number */
static const double radius = 1.6;
static const double hand_width = 4.2;
static const double most_scale = 1.9;
/* Discs of 3 mm without their numbers, the rows close together. */
static const double least_scale = 0.86;
/* Where every disc must hold its number, or two letters. */
static const double least_numbered = 0.92;
static const double least_lettered = 1.2;
static const double lettered_width = 5.0; /* as hand_width */

struct card {
    const struct hbk_notes *notes;
    struct hbk_pad pad; /* of the small pages */
    struct hbk_paper_size size;
    double width;
    struct hbk_chart_words words;
    struct hbk_head head;
    struct hbk_foot foot;
    struct hbk_strip strip;
    struct hbk_strip_run all;
    struct hbk_strip_rows rows;
};

static void set_type(struct card *card, double scale)
{
    struct hbk_strip_look *look = &card->strip.look;
    const double letters = fmax(1.0, scale);
    look->unit = line_unit;
    look->air = 0.45 * scale * fmin(1.0, scale * scale * scale);
    look->name = HBK_PT(1.2 * name_points * letters);
    look->half = HBK_PT(name_points * letters);
    look->figure = HBK_PT(figure_points * letters);
    look->letter = HBK_PT(letter_points);
    look->word = HBK_PT(word_points);
    look->finger = HBK_PT(word_points);
    look->sound = HBK_PT(word_points);
    look->row = row_height * scale;
    look->disc = 1.4 * radius * scale;
}

/* Keys and valves look alike in the grid: "k1", "v1" tell which is which. */
static bool is_lettered(const struct card *card)
{
    const struct hbk_horn *horn = card->notes->horn;
    return hbk_horn_has_kind(horn, HBK_KEY) &&
           hbk_horn_has_kind(horn, HBK_VALVE);
}

/* The column of one hand is told by its numbers alone. */
static bool is_numbered(const struct card *card)
{
    return is_lettered(card) || card->strip.cells.n_hands == 1;
}

static double least_of(const struct card *card)
{
    return is_lettered(card)   ? least_lettered
           : is_numbered(card) ? least_numbered
                               : least_scale;
}

/* The column at the left. */
static double label_width(const struct card *card)
{
    const struct hbk_cells *cells = &card->strip.cells;
    const struct hbk_style style = {.face = HBK_FACE_PLAIN,
                                    .size = card->strip.look.finger};
    if (cells->n == 0) {
        return 6.5 * card->strip.look.space;
    }
    return hbk_cells_words(&card->pad, cells, style) +
           (is_lettered(card) ? lettered_width : hand_width) *
               (double)hbk_cells_across(cells) +
           finger_gap;
}

/* Rows and cells at a scale. */
static void arrange(struct card *card, double scale)
{
    struct hbk_strip *strip = &card->strip;
    set_type(card, scale);
    strip->look.space = staff_space * scale;
    strip->look.label = label_width(card);
    const double room = card->width - strip->look.label;
    const double least = hbk_strip_narrowest(
        &card->pad, strip, &card->all,
        radius * fmin(fmax(scale, is_numbered(card) ? 1.01 : 0.95), 1.2));
    const double most = floor(room / least);
    card->rows = hbk_strip_break(card->pad.sheet->arena, card->notes,
                                 &card->all, most < 1.0 ? 1 : (size_t)most);
    strip->look.cell = room / (double)card->rows.longest;
    const double heads = hbk_strip_settle(&card->pad, strip, &card->all);
    strip->look.space = fmax(staff_space, fmin(strip->look.space, heads));
}

/* Where the rows of a side begin and end. */
static double top_of(const struct card *card, size_t side)
{
    return margin + (side == 0
                         ? hbk_head_height(&card->pad, &card->head) + head_gap
                         : hbk_running_head_height(running_unit));
}

static double bottom_of(const struct card *card, bool foot)
{
    return card->size.height - margin -
           (foot ? foot_gap + hbk_foot_height(&card->pad, &card->foot) : 0.0);
}

/* Rows from `row` on that stand between two heights. */
static size_t rows_that_fit(const struct card *card, size_t row, double y,
                            double bottom)
{
    size_t n = 0;
    while (row + n < card->rows.n) {
        y += hbk_strip_height(&card->strip, &card->rows.runs[row + n]) +
             (n > 0 ? strip_gap : 0.0);
        if (y > bottom + 1e-9) {
            break;
        }
        n++;
    }
    return n;
}

/* The rows of a side; *last when the foot stands on it, too. */
static size_t rows_of_side(const struct card *card, size_t side, size_t row,
                           bool *last)
{
    const double y = top_of(card, side);
    const size_t left = card->rows.n - row;
    *last = y <= bottom_of(card, true) &&
            rows_that_fit(card, row, y, bottom_of(card, true)) == left;
    if (*last) {
        return left;
    }
    const size_t n = rows_that_fit(card, row, y, bottom_of(card, false));
    return n == 0 && side > 0 && left > 0 ? 1 : n;
}

static size_t sides(const struct card *card)
{
    size_t row = 0;
    bool last = false;
    size_t side = 0;
    while (!last && side <= card->rows.n + 1) {
        row += rows_of_side(card, side, row, &last);
        side++;
    }
    return side;
}

/*
 * The largest scale on the fewest sides, front and back at least: a card has
 * both.
 */
static void choose(struct card *card)
{
    double best = least_of(card);
    arrange(card, best);
    size_t fewest = sides(card);
    fewest = fewest < 2 ? 2 : fewest;
    for (double scale = most_scale; scale > best; scale -= 0.04) {
        arrange(card, scale);
        if (sides(card) <= fewest) {
            best = scale;
        }
    }
    arrange(card, best);
}

/* n rows from `row` on between two heights, the white shared out. */
static void draw_rows(struct card *card, size_t row, size_t n, double y,
                      double bottom)
{
    double used = 0.0;
    for (size_t i = 0; i < n; i++) {
        used += hbk_strip_height(&card->strip, &card->rows.runs[row + i]);
    }
    const double spare = n > 1 ? (bottom - y - used) / (double)(n - 1) : 0.0;
    const double gap = fmin(fmax(spare, strip_gap), widest_gap);
    const struct hbk_strip_page page = {
        n, &card->rows.runs[row], {margin, y}, gap};
    hbk_strip_draw_page(&card->pad, &card->strip, &page);
}

static void start_side(struct card *card, size_t side)
{
    struct hbk_pad *pad = &card->pad;
    struct hbk_arena *arena = pad->sheet->arena;
    hbk_pad_page(pad, card->size,
                 side == 0 ? card->words.title
                           : hbk_arena_printf(arena, "%s: card, side %zu",
                                              card->words.title, side + 1));
    if (side == 0) {
        hbk_head_draw(pad, &card->head, margin, margin);
        return;
    }
    hbk_running_head_draw(pad, card->words.title,
                          hbk_arena_printf(arena, "card, side %zu", side + 1),
                          running_unit, margin, margin, card->width);
}

static void draw(struct card *card)
{
    size_t row = 0;
    bool last = false;
    for (size_t side = 0; !last; side++) {
        const size_t n = rows_of_side(card, side, row, &last);
        start_side(card, side);
        draw_rows(card, row, n, top_of(card, side), bottom_of(card, last));
        if (last) {
            hbk_foot_draw(&card->pad, &card->foot, margin,
                          bottom_of(card, true) + foot_gap);
        }
        row += n;
    }
}

static struct hbk_imposition imposition_of(enum hbk_paper paper)
{
    struct hbk_paper_size size = hbk_paper_size(paper);
    size.margin = margin;
    struct hbk_imposition how = {hbk_paper_turned(size), 2, 2};
    if (paper == HBK_A6) {
        how.across = 1;
        how.down = 1;
    } else if (paper == HBK_A5) {
        how.paper = size;
        how.across = 1;
    } else if (paper == HBK_A3) {
        how.paper = size;
        how.across = 2;
        how.down = 4;
    }
    return how;
}

enum hbk_status hbk_sheet_card(const struct hbk_notes *notes,
                               const struct hbk_sheet_options *options,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet)
{
    struct hbk_arena *arena = sheet->arena;
    struct hbk_gamut_notes chosen;
    hbk_gamut_choose(arena, notes, &chosen);
    if (chosen.n == 0) {
        return HBK_ERR_DOMAIN;
    }
    const struct hbk_imposition how = imposition_of(options->paper);
    struct hbk_sheet small = {.arena = arena};
    struct card card = {
        .notes = notes,
        .pad = {.sheet = &small, .ruler = ruler},
        .size = {how.paper.width / (double)how.across,
                 how.paper.height / (double)how.down, margin},
        .words = hbk_chart_words(arena, notes, options, &chosen, HBK_MARK_NONE),
        .strip = {.notes = notes, .sounding = options->sounding},
        .all = {chosen.n, chosen.shown}};
    card.width = card.size.width - 2.0 * margin;
    card.head = (struct hbk_head){.name = card.words.name,
                                  .line = card.words.line,
                                  .legend = card.words.legend,
                                  .unit = head_unit,
                                  .width = card.width};
    card.foot = (struct hbk_foot){.left = card.words.known,
                                  .right = card.words.care,
                                  .points = HBK_CARD_POINTS,
                                  .width = card.width};
    hbk_cells_arrange(notes->horn,
                      notes->setting.stuck.held_down |
                          notes->setting.stuck.held_up,
                      &card.strip.cells);
    choose(&card);
    draw(&card);
    sheet->title = card.words.title;
    sheet->kind = "card";
    sheet->subject =
        hbk_arena_printf(arena, "%s. %s.", hbk_words_read_sounds(arena, notes),
                         hbk_words_pitch(arena, &notes->setting));
    struct hbk_pad pad = {.sheet = sheet, .ruler = ruler};
    hbk_impose(&pad, &how, &small);
    return HBK_OK;
}
