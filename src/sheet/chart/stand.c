#include "sheet/chart/stand.h"

#include "sheet/block/foot.h"
#include "sheet/block/head.h"
#include "sheet/chart/chart_words.h"
#include "sheet/chart/strip_page.h"
#include "sheet/chart/strip_rows.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"

#include <math.h>

/*
 * Sizes at unit 1, points. At 1.2 m the capitals of a figure of 29 points fill
 * 21 minutes of arc, those of a name of 23 points 17, a disc of 6.8 mm 19:
 * three to four times what normal sight just reads (5 minutes, the rule of
 * Snellen's charts; from memory).
 */
static const double name_points = 23.0;
static const double half_points = 17.0;
static const double figure_points = 29.0;
static const double letter_points = 9.5;
static const double word_points = 11.0;
static const double finger_points = 14.0;

/* No letter is smaller. */
static const double least_points = 8.5;
static const double foot_points = 7.6;

/* mm at unit 1. */
static const double hand_width = 8.2;
static const double hand_of_two = 11.5;
static const double clef_room = 16.0;
static const double clef_spaces = 5.1; /* staff spaces before the notes */
static const double head_gap = 1.6;
static const double strip_gap = 2.2;
static const double widest_gap = 7.0;
static const double foot_gap = 1.6;
static const double disc = 3.4;

/* What the height is shared out among: see `worth`. */
static const double least_type = 0.69;
static const double bearable = 0.96; /* of all sizes, for the remarks */
static const double bare_type = 1.8; /* of a horn without fingers */
static const double air_given = 2.0; /* white goes before letters shrink */
static const double least_space = 1.4;
static const double most_space = 2.5;
static const double least_row = 4.35;
static const double most_row = 8.0;

/* mm on any paper: discs of 3 mm, a staff that can be read. */
static const double floor_row = 3.27;
static const double floor_space = 1.3;

struct stand {
    const struct hbk_notes *notes;
    struct hbk_pad pad;
    struct hbk_paper_size paper;
    double unit, width;
    struct hbk_chart_words words;
    struct hbk_head head;
    struct hbk_foot foot;
    struct hbk_strip strip;
    struct hbk_strip_run all;
    struct hbk_strip_rows rows;
    size_t pages;
};

/* Shares of the height: type, staff space and finger's row at unit 1. */
struct shares {
    double type, space, row;
    double cost; /* HUGE_VAL: it does not fit */
};

/* A large sheet is the same picture enlarged, a small one reduced. */
static double unit_of(enum hbk_paper paper)
{
    static const double units[HBK_PAPER_COUNT] = {
        [HBK_A4] = 1.0, [HBK_A3] = 1.414,   [HBK_A5] = 0.707,
        [HBK_A6] = 0.5, [HBK_LETTER] = 1.0,
    };
    return units[paper];
}

static struct hbk_paper_size paper_of(enum hbk_paper paper)
{
    struct hbk_paper_size size = hbk_paper_turned(hbk_paper_size(paper));
    size.margin = fmin(size.margin, 9.0 * fmax(1.0, unit_of(paper)));
    return size;
}

static double points(const struct stand *stand, double at_unit, double type)
{
    return HBK_PT(fmax(at_unit * type * stand->unit, least_points));
}

static void set_type(struct stand *stand, double type)
{
    struct hbk_strip_look *look = &stand->strip.look;
    look->name = points(stand, name_points, type);
    look->half = points(stand, half_points, type);
    look->figure = points(stand, figure_points, type);
    look->letter = HBK_PT(fmax(letter_points * stand->unit, 7.0));
    look->word = points(stand, word_points, fmax(1.0, type));
    look->finger = points(stand, finger_points, 1.0);
    look->sound = points(stand, letter_points, 1.0);
    look->air = stand->unit * (1.0 - air_given * (1.0 - type));
}

/* The column at the left, and what it leaves to the notes of a row. */
static void set_columns(struct stand *stand)
{
    struct hbk_strip *strip = &stand->strip;
    const double u = stand->unit;
    set_type(stand, 1.0);
    double label = 0.0;
    if (strip->cells.n > 0) {
        const struct hbk_style style = {.face = HBK_FACE_PLAIN,
                                        .size = strip->look.finger};
        label = hbk_cells_words(&stand->pad, &strip->cells, style) + 1.5 * u;
        for (size_t i = 0; i < strip->cells.n_hands; i++) {
            label +=
                u * (strip->cells.abreast[i] > 1 ? hand_of_two : hand_width);
        }
    }
    strip->look.label = fmax(label, clef_room * u);
    strip->look.disc = disc * u;
    strip->look.unit = u;
    const double room = stand->width - strip->look.label;
    const double least =
        hbk_strip_narrowest(&stand->pad, strip, &stand->all, 0.46 * floor_row);
    const double most = floor(room / least);
    stand->rows = hbk_strip_break(stand->pad.sheet->arena, stand->notes,
                                  &stand->all, most < 1.0 ? 1 : (size_t)most);
    strip->look.cell = room / (double)stand->rows.longest;
}

/* The rows of a page: the same number on every one but the last. */
static size_t per_page(const struct stand *stand)
{
    return (stand->rows.n + stand->pages - 1) / stand->pages;
}

static size_t rows_on(const struct stand *stand, size_t page)
{
    const size_t first = page * per_page(stand);
    const size_t left = stand->rows.n > first ? stand->rows.n - first : 0;
    return left < per_page(stand) ? left : per_page(stand);
}

/* Height of the rows of a page with the white between them. */
static double rows_height(const struct stand *stand, size_t page)
{
    const size_t n = rows_on(stand, page);
    double height = 0.0;
    for (size_t i = 0; i < n; i++) {
        height += hbk_strip_height(
            &stand->strip, &stand->rows.runs[page * per_page(stand) + i]);
    }
    return height +
           (n > 1 ? (double)(n - 1) * strip_gap * stand->strip.look.air : 0.0);
}

static double room_of(const struct stand *stand)
{
    return stand->paper.height - 2.0 * stand->paper.margin -
           hbk_head_height(&stand->pad, &stand->head) -
           hbk_foot_height(&stand->pad, &stand->foot) -
           (head_gap + foot_gap) * stand->unit;
}

static double most_type(const struct stand *stand)
{
    return stand->strip.cells.n > 0 ? 1.0 : bare_type;
}

/* What is given up, by how much it hurts at a distance. */
static double cost_of(const struct stand *stand, const struct shares *shares)
{
    const double type = (most_type(stand) - shares->type) / 0.25;
    const double space = fmax(0.0, 2.3 - shares->space) / 0.7;
    const double row = fmax(0.0, 7.0 - shares->row) / 2.2;
    return type * type + 0.7 * space * space + 1.6 * row * row;
}

/* The row that is left to the fingers by the other two shares. */
static double row_left(struct stand *stand, double room)
{
    const size_t fingers = stand->strip.cells.n_rows;
    double row = most_row * stand->unit;
    stand->strip.look.row = 0.0;
    for (size_t page = 0; page < stand->pages; page++) {
        const double left = room - rows_height(stand, page);
        const size_t n = fingers * rows_on(stand, page);
        row = left < 0.0 ? -1.0 : n == 0 ? row : fmin(row, left / (double)n);
    }
    return row;
}

static void take(struct stand *stand, const struct shares *shares)
{
    set_type(stand, shares->type);
    const double heads =
        hbk_strip_settle(&stand->pad, &stand->strip, &stand->all);
    const double space = shares->space * fmax(1.0, shares->type) * stand->unit;
    stand->strip.look.space =
        fmin(fmax(space, floor_space),
             fmin(heads, stand->strip.look.label / clef_spaces));
    stand->strip.look.row = shares->row * stand->unit;
}

/* Shares out the height of a page; false where it does not suffice. */
static bool share_out(struct stand *stand)
{
    const double room = room_of(stand);
    const double least = fmax(least_row * stand->unit, floor_row);
    struct shares best = {.cost = HUGE_VAL};
    for (double type = most_type(stand); type > least_type - 1e-6;
         type -= 0.025) {
        for (double space = most_space; space > least_space - 1e-6;
             space -= 0.05) {
            struct shares shares = {.type = type, .space = space};
            take(stand, &shares);
            const double row = row_left(stand, room);
            shares.row = row / stand->unit;
            shares.cost = cost_of(stand, &shares);
            if (row >= least && shares.cost < best.cost) {
                best = shares;
            }
        }
    }
    if (best.cost < HUGE_VAL) {
        take(stand, &best);
    }
    return best.cost < HUGE_VAL;
}

/* On as few pages as hold the rows; one row a page at the least sizes. */
static void plan(struct stand *stand)
{
    for (stand->pages = 1; stand->pages <= stand->rows.n; stand->pages++) {
        if (share_out(stand)) {
            return;
        }
    }
    stand->pages = stand->rows.n;
    const struct shares least = {least_type, least_space,
                                 floor_row / stand->unit, 0.0};
    take(stand, &least);
}

/* The file's remarks stand in the foot unless they cost a page or size. */
static void plan_with_remarks(struct stand *stand)
{
    plan(stand);
    if (stand->words.remarks[0] == '\0') {
        return;
    }
    const size_t pages = stand->pages;
    const struct hbk_strip_look before = stand->strip.look;
    stand->foot.left =
        hbk_arena_printf(stand->pad.sheet->arena, "%s%s", stand->words.known,
                         stand->words.remarks);
    plan(stand);
    if (stand->pages > pages ||
        stand->strip.look.figure < bearable * before.figure ||
        stand->strip.look.row < bearable * before.row) {
        stand->foot.left = stand->words.known;
        plan(stand);
    }
}

static void draw_page(struct stand *stand, size_t page)
{
    struct hbk_pad *pad = &stand->pad;
    const double margin = stand->paper.margin;
    const size_t n = rows_on(stand, page);
    hbk_pad_page(pad, stand->paper,
                 page == 0 ? stand->words.title
                           : hbk_arena_printf(pad->sheet->arena, "%s, page %zu",
                                              stand->words.title, page + 1));
    hbk_head_draw(pad, &stand->head, margin, margin);
    const double top =
        margin + hbk_head_height(pad, &stand->head) + head_gap * stand->unit;
    const double spare =
        (room_of(stand) - rows_height(stand, page)) / (double)n;
    const double gap =
        strip_gap * stand->strip.look.air + fmax(0.0, fmin(spare, widest_gap));
    const struct hbk_strip_page rows = {
        n, &stand->rows.runs[page * per_page(stand)], {margin, top}, gap};
    hbk_strip_draw_page(pad, &stand->strip, &rows);
    if (page + 1 == stand->pages) {
        hbk_foot_draw(pad, &stand->foot, margin,
                      stand->paper.height - margin -
                          hbk_foot_height(pad, &stand->foot));
    }
}

enum hbk_status hbk_sheet_stand(const struct hbk_notes *notes,
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
    const struct hbk_strip_run all = {chosen.n, chosen.shown};
    const enum hbk_strip_mark mark =
        hbk_strip_mark_of(notes, options->beside, &all);
    struct stand stand = {
        .notes = notes,
        .pad = {.sheet = sheet, .ruler = ruler},
        .paper = paper_of(options->paper),
        .unit = unit_of(options->paper),
        .words = hbk_chart_words(arena, notes, options, &chosen, mark),
        .strip = {.notes = notes,
                  .beside = options->beside,
                  .mark = mark,
                  .sounding = options->sounding},
        .all = all};
    stand.width = stand.paper.width - 2.0 * stand.paper.margin;
    stand.head = (struct hbk_head){.name = stand.words.name,
                                   .line = stand.words.line,
                                   .legend = stand.words.legend,
                                   .unit = stand.unit,
                                   .width = stand.width};
    stand.foot =
        (struct hbk_foot){.left = stand.words.known,
                          .right = stand.words.care,
                          .points = fmax(foot_points, foot_points * stand.unit),
                          .width = stand.width};
    hbk_cells_arrange(notes->horn,
                      notes->setting.stuck.held_down |
                          notes->setting.stuck.held_up,
                      &stand.strip.cells);
    sheet->title = stand.words.title;
    sheet->kind = "stand chart";
    sheet->subject =
        hbk_arena_printf(arena, "%s. %s.", hbk_words_read_sounds(arena, notes),
                         hbk_words_pitch(arena, &notes->setting));
    set_columns(&stand);
    plan_with_remarks(&stand);
    for (size_t page = 0; page < stand.pages; page++) {
        draw_page(&stand, page);
    }
    return HBK_OK;
}
