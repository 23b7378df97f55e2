#include "sheet/chart/card.h"

#include "horn/about.h"
#include "page/impose.h"
#include "sheet/block/heading.h"
#include "sheet/chart/card_words.h"
#include "sheet/chart/gamut.h"
#include "sheet/words/words.h"
#include "sheet/words/words_system.h"
#include "sheet/words/words_use.h"

#include <math.h>
#include <string.h>

/* Names are 14 pt at unit 1. */
static const double least_unit = 0.75;
static const double largest_unit = 1.1;

/* mm. */
static const double margin = 6.0;
static const double row_gap = 1.9; /* in units of the gamut */
static const double widest_row_gap = 6.0;
static const double paragraph_gap = 0.7;

/* Of the running head overleaf: its words are 6 pt and more. */
static const double head_unit = 0.85;

enum { PARAGRAPHS_MAX = 6 };

/* A piece of text with its look, broken into lines. */
struct paragraph {
    struct hbk_style style;
    double leading;
    struct hbk_lines lines;
};

struct text_block {
    size_t n;
    struct paragraph items[PARAGRAPHS_MAX];
    double height;
};

struct card {
    const struct hbk_notes *notes;
    struct hbk_pad pad; /* of the small pages */
    struct hbk_paper_size size;
    const char *title;
    const char *whom; /* NULL for nobody */
    struct hbk_gamut gamut;
    double points; /* of the words */
    struct text_block head, foot;
};

static void add(struct card *card, struct text_block *block, enum hbk_face face,
                double points, const char *text)
{
    if (text[0] == '\0') {
        return;
    }
    const struct hbk_style style = {.face = face, .size = HBK_PT(points)};
    const double leading = 1.2 * style.size;
    const struct hbk_lines lines =
        hbk_pad_wrap(&card->pad, style, card->gamut.width, text);
    block->items[block->n++] = (struct paragraph){style, leading, lines};
    block->height += (double)lines.n * leading + paragraph_gap;
}

static void draw_block(struct card *card, const struct text_block *block,
                       double y)
{
    for (size_t i = 0; i < block->n; i++) {
        const struct paragraph *item = &block->items[i];
        hbk_pad_block(&card->pad, HBK_TAG_PARAGRAPH, card->size.margin,
                      y + 0.76 * item->style.size, item->style, item->leading,
                      &item->lines);
        y += (double)item->lines.n * item->leading + paragraph_gap;
    }
}

/* What the horn is and how it works, and what it cannot play. */
static void write_head(struct card *card, const struct hbk_gamut_notes *chosen)
{
    const struct hbk_notes *notes = card->notes;
    struct hbk_arena *arena = card->pad.sheet->arena;
    card->head = (struct text_block){0};
    add(card, &card->head, HBK_FACE_BOLD, 11.0, card->title);
    if (card->whom != NULL) {
        add(card, &card->head, HBK_FACE_PLAIN, card->points,
            hbk_words_whom(arena, card->whom));
    }
    add(card, &card->head, HBK_FACE_BOLD, card->points + 1.5,
        hbk_arena_printf(arena, "%s.",
                         hbk_words_sounds(arena, notes->written_c4_sounds)));
    add(card, &card->head, HBK_FACE_BOLD, card->points,
        hbk_words_assumed(arena, notes->horn));
    const char *beyond = "";
    if (chosen->n_left_out > 0) {
        beyond = hbk_arena_printf(
            arena, "It cannot play %s. ",
            hbk_words_note_runs(arena, chosen->n_left_out, chosen->left_out));
    }
    add(card, &card->head,
        hbk_rest_alarms(notes) ? HBK_FACE_BOLD : HBK_FACE_PLAIN, card->points,
        hbk_words_rest(arena, notes, HBK_WORDS_BRIEF));
    add(card, &card->head, HBK_FACE_PLAIN, card->points,
        hbk_arena_printf(arena, "%s %s%s%s",
                         hbk_words_set(arena, notes, HBK_WORDS_BRIEF),
                         hbk_words_system(arena, notes), beyond,
                         hbk_words_response(arena, notes)));
    add(card, &card->head, HBK_FACE_PLAIN, card->points,
        hbk_card_hands(arena, notes, &card->gamut.hands));
}

static void write_foot(struct card *card)
{
    const struct hbk_notes *notes = card->notes;
    struct hbk_arena *arena = card->pad.sheet->arena;
    card->foot = (struct text_block){0};
    add(card, &card->foot, HBK_FACE_PLAIN, card->points,
        hbk_arena_printf(arena, "%s%s", hbk_card_signs(arena, notes),
                         hbk_words_provenance(arena, notes->horn)));
    add(card, &card->foot, HBK_FACE_PLAIN, card->points,
        hbk_words_cautions_short());
}

/* Where the contents of a side begin: a further one has the title again. */
static double top_of(const struct card *card, size_t side)
{
    return side == 0 ? card->size.margin + card->head.height
                     : card->size.margin + hbk_running_head_height(head_unit);
}

static double bottom_of(const struct card *card)
{
    return card->size.height - card->size.margin;
}

static size_t rows_that_fit(const struct card *card, size_t row, double y,
                            double bottom)
{
    const struct hbk_gamut *gamut = &card->gamut;
    const size_t rows = hbk_gamut_rows(gamut);
    size_t n = 0;
    while (row + n < rows) {
        y += row_gap * gamut->unit + hbk_gamut_row_height(gamut, row + n);
        if (y > bottom + 1e-9) {
            break;
        }
        n++;
    }
    return n;
}

/* The rows of one side; *last when the foot stands on it, too. */
static size_t rows_of_side(const struct card *card, size_t side, size_t row,
                           bool *last)
{
    const double y = top_of(card, side);
    const size_t left = hbk_gamut_rows(&card->gamut) - row;
    const double foot =
        bottom_of(card) - card->foot.height - row_gap * card->gamut.unit;
    *last = (left == 0 && y <= foot) ||
            (left > 0 && rows_that_fit(card, row, y, foot) == left);
    if (*last) {
        return left;
    }
    const size_t n = rows_that_fit(card, row, y, bottom_of(card));
    return n == 0 && side > 0 && left > 0 ? 1 : n;
}

static size_t sides(const struct card *card)
{
    size_t row = 0;
    bool last = false;
    for (size_t side = 0;; side++) {
        row += rows_of_side(card, side, row, &last);
        if (last || side > hbk_gamut_rows(&card->gamut)) {
            return side + 1;
        }
    }
}

/* How the rows are arranged; see `better`. */
struct plan {
    double unit;
    size_t per_row;
    size_t sides;
    double worth;
};

/* The fewest sides; then large notes, in rows that fill evenly. */
static bool better(const struct plan *a, const struct plan *b)
{
    return a->sides < b->sides ||
           (a->sides == b->sides && a->worth > b->worth + 1e-9);
}

static struct plan choose(struct card *card)
{
    struct hbk_gamut *gamut = &card->gamut;
    struct plan best = {least_unit, 1, SIZE_MAX, 0.0};
    for (size_t bars = 1; bars <= 16 && bars <= gamut->n; bars++) {
        gamut->per_row = bars;
        const double empty =
            (double)(hbk_gamut_rows(gamut) * bars - gamut->n) / (double)bars;
        for (double unit = largest_unit; unit > least_unit - 1e-6;
             unit -= 0.01) {
            gamut->unit = unit;
            if (hbk_gamut_bar_width(gamut) < hbk_gamut_narrowest(gamut)) {
                continue;
            }
            const struct plan plan = {unit, bars, sides(card),
                                      unit - 0.1 * empty};
            if (better(&plan, &best)) {
                best = plan;
            }
        }
    }
    gamut->unit = best.unit;
    gamut->per_row = best.per_row;
    return best;
}

/* Words as large as they can be without a further side or tiny notes. */
static void arrange(struct card *card, const struct hbk_gamut_notes *chosen)
{
    static const double points[] = {HBK_CARD_POINTS, 7.0, 6.5, HBK_CARD_POINTS};
    static const double good_unit = 0.85;
    size_t fewest = 0;
    for (size_t i = 0; i < sizeof(points) / sizeof(points[0]); i++) {
        card->points = points[i];
        write_head(card, chosen);
        write_foot(card);
        const struct plan plan = choose(card);
        if (i == 0) {
            fewest = plan.sides;
        } else if (plan.sides == fewest && plan.unit > good_unit) {
            return;
        }
    }
}

static void start_side(struct card *card, size_t side)
{
    struct hbk_pad *pad = &card->pad;
    struct hbk_arena *arena = pad->sheet->arena;
    hbk_pad_page(pad, card->size,
                 side == 0 ? card->title
                           : hbk_arena_printf(arena, "%s: card, side %zu",
                                              card->title, side + 1));
    if (side == 0) {
        draw_block(card, &card->head, card->size.margin);
        return;
    }
    hbk_running_head_draw(
        pad, card->title, hbk_arena_printf(arena, "card, side %zu", side + 1),
        head_unit, card->size.margin, card->size.margin, card->gamut.width);
}

static void draw_rows(struct card *card, size_t row, size_t n, double y,
                      double bottom)
{
    const struct hbk_gamut *gamut = &card->gamut;
    double used = 0.0;
    for (size_t i = 0; i < n; i++) {
        used += hbk_gamut_row_height(gamut, row + i);
    }
    const double gap =
        fmax(row_gap * gamut->unit, fmin((bottom - y - used) / (double)(n + 1),
                                         widest_row_gap * gamut->unit));
    if (n == 0) {
        return;
    }
    hbk_pad_open(&card->pad, HBK_TAG_TABLE);
    for (size_t i = 0; i < n; i++) {
        y += gap;
        hbk_gamut_row_draw(&card->pad, gamut, row + i, card->size.margin, y);
        y += hbk_gamut_row_height(gamut, row + i);
    }
    hbk_pad_close(&card->pad, HBK_TAG_TABLE);
}

static void draw(struct card *card)
{
    size_t row = 0;
    bool last = false;
    for (size_t side = 0; !last; side++) {
        const size_t n = rows_of_side(card, side, row, &last);
        const double y = top_of(card, side);
        start_side(card, side);
        /* A foot without rows follows the head. */
        const double foot = n == 0 ? y : bottom_of(card) - card->foot.height;
        draw_rows(card, row, n, y, last ? foot : bottom_of(card));
        if (last) {
            draw_block(card, &card->foot, foot);
        }
        row += n;
    }
}

static struct hbk_imposition imposition_of(enum hbk_paper paper)
{
    struct hbk_paper_size size = hbk_paper_size(paper);
    size.margin = margin;
    struct hbk_imposition how = {size, 2, 2};
    if (paper == HBK_A6) {
        how.across = 1;
        how.down = 1;
    } else if (paper == HBK_A5) {
        how.paper = hbk_paper_turned(size);
        how.down = 1;
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
    const char *title =
        options->title == NULL ? hbk_horn_name(notes->horn) : options->title;
    sheet->title = hbk_arena_copy(arena, title, strlen(title));
    sheet->kind = "card";
    sheet->subject = hbk_arena_printf(
        arena, "%s. %s.", hbk_words_sounds(arena, notes->written_c4_sounds),
        hbk_words_pitch(arena, &notes->setting));
    const struct hbk_imposition how = imposition_of(options->paper);
    struct hbk_sheet small = {.arena = arena};
    struct card card = {.notes = notes,
                        .pad = {.sheet = &small, .ruler = ruler},
                        .size = {how.paper.width / (double)how.across,
                                 how.paper.height / (double)how.down, margin},
                        .title = sheet->title,
                        .whom = options->whom,
                        .gamut = {.notes = notes,
                                  .n = chosen.n,
                                  .shown = chosen.shown,
                                  .unit = least_unit,
                                  .sounding = options->sounding,
                                  .least_points = HBK_CARD_POINTS,
                                  .detail = HBK_DETAIL_FINGERS}};
    card.gamut.width = card.size.width - 2.0 * margin;
    hbk_hands_arrange(notes->horn, &card.gamut.hands);
    card.gamut.hands.stuck =
        notes->setting.stuck.held_down | notes->setting.stuck.held_up;
    hbk_gamut_measure(&card.pad, &card.gamut);
    arrange(&card, &chosen);
    draw(&card);
    struct hbk_pad pad = {.sheet = sheet, .ruler = ruler};
    hbk_impose(&pad, &how, &small);
    return HBK_OK;
}
