#include "sheet/article/slide_parts.h"

#include "base/text.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "horn/pull.h"
#include "music/pitch.h"
#include "sheet/block/note_name.h"
#include "sheet/words/words.h"
#include "sheet/words/words_slides.h"

#include <math.h>
#include <string.h>

static void rule(struct hbk_slide_card *card, double y, double pen)
{
    hbk_pad_line(&card->pad, card->x, y, card->width, 0.0,
                 fmax(pen * card->unit, HBK_SLIDE_THIN));
}

/* mm, whatever the unit: a bar is as long as the hand pulls. */
static const double bar_pen = 0.15;
static const double bar_height = 2.2;
static const double tick_mm = 5.0;

static void draw_bar(struct hbk_slide_card *card, double y, double draw_mm,
                     double travel_mm)
{
    struct hbk_pad *const pad = &card->pad;
    const double x = card->x + bar_pen;
    hbk_pad_group(pad);
    hbk_pad_line(pad, x, y, travel_mm, 0.0, bar_pen);
    for (int i = 0; tick_mm * i <= travel_mm + 1e-6; i++) {
        hbk_pad_line(pad, x + tick_mm * i, y, 0.0, i % 2 == 0 ? 1.6 : 1.0,
                     bar_pen);
    }
    if (draw_mm > 0.0) {
        hbk_pad_panel(pad, x, y - bar_height, draw_mm, bar_height, HBK_BLACK);
    }
}

static bool is_stuck(const struct hbk_slide_card *card, size_t s)
{
    return (card->slides->notes.setting.stuck.slides >> s & 1U) != 0;
}

/* "10 mm", "in" */
static const char *pull_words(const struct hbk_slide_card *card, size_t s)
{
    const double draw_m = card->slides->pulls[s].draw_m;
    char mm[HBK_PULL_SIZE];
    if (hbk_pull_slide_mm(card->slides->horn, s, draw_m) <= 0.0) {
        return "in";
    }
    hbk_pull_slide_text(card->slides->horn, s, draw_m, mm);
    return hbk_arena_printf(card->pad.sheet->arena, "%s mm%s", mm,
                            is_stuck(card, s) ? " out" : "");
}

static void add_other_way(struct hbk_text *text,
                          const struct hbk_slide_card *card, size_t s,
                          const char *name, double draw_m)
{
    char mm[HBK_PULL_SIZE];
    if (!isnan(draw_m)) {
        hbk_text_addf(text, "%s%s: %s", text->length > 0 ? " \u00B7 " : "",
                      name,
                      hbk_pull_slide_text(card->slides->horn, s, draw_m, mm));
    }
}

/* Where else a valve slide could be: "best compromise: 4". */
static const char *other_words(const struct hbk_slide_card *card, size_t s)
{
    const struct hbk_slide_pull *const pull = &card->slides->pulls[s];
    const enum hbk_valve_slides how = card->slides->notes.setting.valve_slides;
    struct hbk_text text = {.arena = card->pad.sheet->arena};
    if (card->slides->horn->slides[s].valve < 0 || is_stuck(card, s)) {
        return "";
    }
    if (how != HBK_VALVE_SLIDES_OWN) {
        add_other_way(&text, card, s, "keeps the valve\u2019s own interval",
                      pull->own_m);
    }
    if (how != HBK_VALVE_SLIDES_BEST) {
        add_other_way(&text, card, s, "best compromise", pull->best_m);
    }
    return hbk_text_string(&text);
}

/* "1 mm = 2.0 cents" */
static const char *worth_words(const struct hbk_slide_card *card, size_t s)
{
    const double cents = card->slides->pulls[s].cents_per_mm;
    return isnan(cents) ? ""
                        : hbk_arena_printf(card->pad.sheet->arena,
                                           "1 mm = %.1f cents", fabs(cents));
}

/* "30" at the end of the bar of a slide that goes so far. */
static const char *travel_words(const struct hbk_slide_card *card, size_t s)
{
    return hbk_arena_printf(card->pad.sheet->arena, "%.4g mm",
                            1000.0 * card->slides->horn->slides[s].travel_m);
}

/* Gaps of a row, at unit 1. */
static const double between = 2.0;

/* Where the orders of all rows end, and the numbers after them. */
struct columns {
    double order, number; /* widths, mm */
    bool apart; /* long names: what a mm does goes to a line of its own */
};

static struct hbk_style order_style(const struct hbk_slide_card *card)
{
    return hbk_slide_style(card, HBK_FACE_PLAIN, 11.5, HBK_LEFT);
}

static struct hbk_style number_style(const struct hbk_slide_card *card)
{
    return hbk_slide_style(card, HBK_FACE_FIGURE, 15.0, HBK_RIGHT);
}

static struct hbk_style small_style(const struct hbk_slide_card *card)
{
    return hbk_slide_style(card, HBK_FACE_ITALIC, 9.0, HBK_RIGHT);
}

static const double smallest_order = 0.78;

static struct columns lay_columns(const struct hbk_slide_card *card)
{
    const struct hbk_pad *const pad = &card->pad;
    struct hbk_arena *const arena = pad->sheet->arena;
    const double gap = between * card->unit;
    struct columns columns = {0};
    /* Small letters are wider for their size, so both are measured. */
    struct hbk_style small = order_style(card);
    small.size *= smallest_order;
    double smallest = 0.0;
    double worth = 0.0;
    for (size_t s = 0; s < card->slides->n; s++) {
        columns.order =
            fmax(columns.order,
                 hbk_pad_width(pad, order_style(card),
                               hbk_words_slide_order(arena, card->slides, s)));
        smallest =
            fmax(smallest,
                 hbk_pad_width(pad, small,
                               hbk_words_slide_order(arena, card->slides, s)));
        columns.number =
            fmax(columns.number,
                 hbk_pad_width(pad, number_style(card), pull_words(card, s)));
        worth = fmax(
            worth, hbk_pad_width(pad, small_style(card), worth_words(card, s)));
    }
    const double free = card->width - columns.number - gap;
    columns.apart = smallest > free - worth - gap;
    columns.order =
        fmin(columns.order, columns.apart ? free : free - worth - gap);
    return columns;
}

static double order_height(const struct hbk_slide_card *card,
                           const struct columns *columns)
{
    return (columns->apart ? 10.4 : 6.4) * card->unit;
}

/* "Pull the main slide 10 mm", and at the right what a mm does. */
static void draw_order(struct hbk_slide_card *card,
                       const struct columns *columns, size_t s)
{
    struct hbk_pad *const pad = &card->pad;
    const double u = card->unit;
    const char *const order =
        hbk_words_slide_order(pad->sheet->arena, card->slides, s);
    const struct hbk_style words = hbk_pad_fit(
        pad, order_style(card), columns->order, smallest_order, order);
    const double base = card->y + 5.3 * u;
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    /* What fits but for a rounding of the face is not cut. */
    hbk_pad_text(pad, card->x, base, words,
                 hbk_pad_cut(pad, words, columns->order + 0.5 * u, order));
    hbk_pad_text(pad, card->x + columns->order + between * u + columns->number,
                 base, number_style(card), pull_words(card, s));
    hbk_pad_group(pad);
    hbk_pad_text(pad, card->x + card->width,
                 base + (columns->apart ? 4.0 * u : 0.0), small_style(card),
                 worth_words(card, s));
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
}

/* What stands under the order of a slide. */
struct measure {
    bool has_bar; /* not one longer than the card is wide */
    bool apart;   /* the other ways go beneath the bar */
    const char *travel, *other;
    double base; /* of the words beside the bar, from the top */
    double height;
};

static struct measure lay_measure(const struct hbk_slide_card *card, size_t s)
{
    const struct hbk_pad *const pad = &card->pad;
    const double u = card->unit;
    const double travel_mm = 1000.0 * card->slides->horn->slides[s].travel_m;
    struct measure m = {.travel = travel_words(card, s),
                        .other = other_words(card, s)};
    m.has_bar = travel_mm <= card->width - (2.0 * bar_pen);
    m.base = fmax(bar_height + 1.0, 3.5 * u);
    const double free = card->width - (m.has_bar ? travel_mm : 0.0) -
                        hbk_pad_width(pad, small_style(card), m.travel) -
                        2.0 * between * u;
    m.apart = m.other[0] != '\0' &&
              hbk_pad_width(pad, small_style(card), m.other) > free;
    m.height = m.base + 1.8 * u + (m.apart ? 4.2 * u : 0.0);
    return m;
}

/* The bar, how far the slide goes, and at the right where else it could be. */
static void draw_measure(struct hbk_slide_card *card, const struct measure *m,
                         size_t s)
{
    struct hbk_pad *const pad = &card->pad;
    const double u = card->unit;
    const double travel_mm = 1000.0 * card->slides->horn->slides[s].travel_m;
    const struct hbk_style end =
        hbk_slide_style(card, HBK_FACE_PLAIN, 8.5, HBK_LEFT);
    const double base = card->y + m->base;
    const double after = card->x + travel_mm + 1.2 * u;
    const double right = card->x + card->width;
    if (m->has_bar) {
        /* As long as the number says. */
        draw_bar(card, base - 1.0,
                 hbk_pull_slide_mm(card->slides->horn, s,
                                   card->slides->pulls[s].draw_m),
                 travel_mm);
    }
    if (!m->has_bar || after + hbk_pad_width(pad, end, m->travel) <= right) {
        const char *const of =
            hbk_arena_printf(pad->sheet->arena, "of %s", m->travel);
        hbk_pad_group(pad);
        hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
        hbk_pad_read_as(pad, of);
        hbk_pad_text(pad, m->has_bar ? after : card->x, base, end,
                     m->has_bar ? m->travel : of);
        hbk_pad_read_as(pad, NULL);
        hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
    }
    if (m->other[0] != '\0') {
        hbk_pad_group(pad);
        hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
        hbk_pad_text(
            pad, right, base + (m->apart ? 4.2 * u : 0.0),
            hbk_pad_fit(pad, small_style(card), card->width, 0.9, m->other),
            m->other);
        hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
    }
}

static void draw_bits(struct hbk_slide_card *card)
{
    const struct hbk_horn *const horn = card->slides->horn;
    for (size_t b = 0; b < horn->n_bits; b++) {
        const bool in = (card->slides->notes.tuned.bits >> b & 1U) != 0;
        hbk_slide_paragraph(
            card, hbk_slide_style(card, HBK_FACE_PLAIN, 11.5, HBK_LEFT),
            hbk_arena_printf(card->pad.sheet->arena,
                             "Tuning bit of %.3g mm: %s",
                             1000.0 * horn->bits[b].adds_m,
                             in ? "put it in" : "leave it out"));
    }
}

void hbk_slide_pulls_draw(struct hbk_slide_card *card)
{
    const double u = card->unit;
    const struct columns columns = lay_columns(card);
    for (size_t s = 0; s < card->slides->n; s++) {
        const struct measure measure = lay_measure(card, s);
        const bool is_last = s + 1 == card->slides->n;
        hbk_slide_need(card, 0.4 * u + order_height(card, &columns) +
                                 measure.height +
                                 (is_last ? HBK_SLIDE_THICK * u : 0.0));
        hbk_pad_group(&card->pad);
        rule(card, card->y, s == 0 ? HBK_SLIDE_THICK : HBK_SLIDE_THIN);
        card->y += 0.4 * u;
        draw_order(card, &columns, s);
        card->y += order_height(card, &columns);
        draw_measure(card, &measure, s);
        card->y += measure.height;
        hbk_slide_air(card);
        if (is_last) {
            hbk_pad_group(&card->pad);
            rule(card, card->y, HBK_SLIDE_THICK);
            card->y += HBK_SLIDE_THICK * u;
        }
    }
    draw_bits(card);
}

/* Columns of the table of temperatures. */
enum { COLUMNS = 5 };

static const double row_height = 5.4;
static const double head_share = 0.33;
static const double table_gap = 0.8; /* from words to their table */

static size_t count_main(const struct hbk_horn *horn)
{
    size_t n = 0;
    for (size_t s = 0; s < horn->n_slides; s++) {
        n += horn->slides[s].valve < 0 ? 1 : 0;
    }
    return n;
}

/* The first of those shown, which take in the temperature asked. */
static size_t first_warmth(const struct hbk_slides *slides)
{
    const double asked_c = slides->notes.setting.temperature_c;
    const size_t last = slides->n_warmths - COLUMNS;
    return asked_c < slides->warmths[last].temperature_c ? 0 : last;
}

/* A row of cells: a head, then one a temperature. */
static void warmth_row(struct hbk_slide_card *card, bool is_head,
                       const char *head, const char *const cells[COLUMNS])
{
    const enum hbk_tag first_tag = is_head ? HBK_TAG_COLUMN : HBK_TAG_HEADER;
    const enum hbk_tag tag = is_head ? HBK_TAG_COLUMN : HBK_TAG_CELL;
    struct hbk_pad *const pad = &card->pad;
    const double u = card->unit;
    const double first = head_share * card->width;
    const double column = (card->width - first) / COLUMNS;
    const double base = card->y + 3.9 * u;
    const struct hbk_style words =
        hbk_slide_style(card, HBK_FACE_ITALIC, 9.5, HBK_LEFT);
    const struct hbk_style fitted =
        hbk_pad_fit(pad, words, first - 0.5 * u, 0.8, head);
    const struct hbk_style figure =
        hbk_slide_style(card, HBK_FACE_FIGURE, 10.5, HBK_CENTRE);
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_pad_open(pad, first_tag);
    hbk_pad_text(pad, card->x, base, fitted,
                 hbk_pad_cut(pad, fitted, first - 0.5 * u, head));
    hbk_pad_close(pad, first_tag);
    for (size_t i = 0; i < COLUMNS; i++) {
        hbk_pad_open(pad, tag);
        hbk_pad_text(pad, card->x + first + column * ((double)i + 0.5), base,
                     figure, cells[i]);
        hbk_pad_close(pad, tag);
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
    card->y += row_height * u;
}

/* The rules of the table, and a tint under the temperature that was asked. */
static void warmth_rules(struct hbk_slide_card *card, size_t rows,
                         const struct hbk_warmth shown[COLUMNS])
{
    struct hbk_pad *const pad = &card->pad;
    const double u = card->unit;
    const double height = row_height * u * (double)rows;
    const double first = head_share * card->width;
    const double column = (card->width - first) / COLUMNS;
    pad->group = 0;
    for (size_t i = 0; i < COLUMNS; i++) {
        if (fabs(shown[i].temperature_c -
                 card->slides->notes.setting.temperature_c) < 0.5) {
            hbk_pad_panel(pad, card->x + first + column * (double)i, card->y,
                          column, height, HBK_TINT);
        }
        hbk_pad_line(pad, card->x + first + column * (double)i, card->y, 0.0,
                     height, HBK_SLIDE_THIN);
    }
    for (size_t i = 0; i <= rows; i++) {
        rule(card, card->y + row_height * u * (double)i,
             i == 0 || i == rows ? HBK_SLIDE_THICK : HBK_SLIDE_THIN);
    }
}

void hbk_slide_warmths_draw(struct hbk_slide_card *card)
{
    const struct hbk_slides *const slides = card->slides;
    struct hbk_arena *const arena = card->pad.sheet->arena;
    const size_t rows = 2 + count_main(slides->horn);
    const struct hbk_warmth *const shown =
        &slides->warmths[first_warmth(slides)];
    const char *cells[COLUMNS];
    const struct hbk_style plain =
        hbk_slide_style(card, HBK_FACE_PLAIN, 9.0, HBK_LEFT);
    const char *const reach = hbk_words_reach(arena, slides);
    hbk_slide_need(
        card, hbk_slide_paragraph_height(card, plain, reach) +
                  (row_height * (double)rows + table_gap + HBK_SLIDE_THICK) *
                      card->unit);
    hbk_slide_paragraph(card, plain, reach);
    card->y += table_gap * card->unit;
    warmth_rules(card, rows, shown);
    hbk_pad_open(&card->pad, HBK_TAG_TABLE);
    for (size_t i = 0; i < COLUMNS; i++) {
        cells[i] =
            hbk_arena_printf(arena, "%.0f \u00b0C", shown[i].temperature_c);
    }
    warmth_row(card, true, "air in the horn", cells);
    for (size_t s = 0; s < slides->n; s++) {
        if (slides->horn->slides[s].valve >= 0) {
            continue;
        }
        for (size_t i = 0; i < COLUMNS; i++) {
            char mm[HBK_PULL_SIZE];
            hbk_pull_slide_text(slides->horn, s, shown[i].draw_m[s], mm);
            cells[i] = hbk_arena_copy(arena, mm, strlen(mm));
        }
        warmth_row(card, false,
                   hbk_arena_printf(
                       arena, "%s, mm",
                       hbk_words_slide_name(arena, &slides->horn->slides[s])),
                   cells);
    }
    for (size_t i = 0; i < COLUMNS; i++) {
        const double cents = round(shown[i].after_cents);
        cells[i] = hbk_arena_printf(arena, "%s%.0f",
                                    cents > 0.0   ? "+"
                                    : cents < 0.0 ? "\u2212"
                                                  : "",
                                    fabs(cents));
    }
    warmth_row(card, false, "still off, cents", cells);
    hbk_pad_close(&card->pad, HBK_TAG_TABLE);
    card->y += HBK_SLIDE_THICK * card->unit;
}
