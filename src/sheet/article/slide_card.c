#include "sheet/article/slide_card.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "horn/pull.h"
#include "music/pitch.h"
#include "sheet/block/wedge.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_slides.h"

#include <math.h>
#include <string.h>

struct card {
    struct hbk_pad pad;
    const struct hbk_slides *slides;
    struct hbk_paper_size paper;
    const char *title;
    const char *whom; /* NULL for nobody */
    double unit;      /* 1 for body text of 8.5 points */
    double width;     /* between the margins */
    double y;         /* where the next thing goes */
    bool tight;       /* what belongs beside a name had to go beneath it */
};

/* A new page where `height` does not fit on this one. */
static void need(struct card *card, double height)
{
    if (card->y + height > card->paper.height - card->paper.margin) {
        hbk_pad_page(&card->pad, card->paper, card->title);
        card->y = card->paper.margin;
    }
}

static void paragraph(struct card *card, struct hbk_style style,
                      enum hbk_tag tag, const char *text)
{
    if (text[0] == '\0') {
        return;
    }
    const double leading = 1.28 * style.size;
    const struct hbk_lines lines =
        hbk_pad_wrap(&card->pad, style, card->width, text);
    need(card, (double)lines.n * leading);
    hbk_pad_block(&card->pad, tag, card->paper.margin,
                  card->y + 0.76 * style.size, style, leading, &lines);
    card->y += (double)lines.n * leading;
}

static void heading(struct card *card)
{
    const double u = card->unit;
    const struct hbk_notes *const notes = &card->slides->notes;
    struct hbk_arena *const arena = card->pad.sheet->arena;
    paragraph(
        card,
        hbk_pad_fit(&card->pad,
                    hbk_style_of(HBK_FACE_BOLD, 15.0, card->unit, HBK_LEFT),
                    0.99 * card->width, 0.6, card->title),
        HBK_TAG_TITLE, card->title);
    hbk_pad_group(&card->pad);
    hbk_pad_line(&card->pad, card->paper.margin, card->y + 0.3 * u, card->width,
                 0.0, 0.5 * u);
    card->y += 2.0 * u;
    paragraph(card, hbk_style_of(HBK_FACE_PLAIN, 9.0, card->unit, HBK_LEFT),
              HBK_TAG_PARAGRAPH, hbk_words_whom(arena, card->whom));
    paragraph(card, hbk_style_of(HBK_FACE_BOLD, 11.0, card->unit, HBK_LEFT),
              HBK_TAG_HEADING,
              hbk_arena_printf(arena, "%s. %s",
                               hbk_words_pitch(arena, &notes->setting),
                               hbk_words_setting(arena, notes)));
    paragraph(
        card,
        hbk_style_of(hbk_rest_alarms(notes) ? HBK_FACE_BOLD : HBK_FACE_PLAIN,
                     9.0, card->unit, HBK_LEFT),
        HBK_TAG_PARAGRAPH, hbk_words_rest(arena, notes, HBK_WORDS_FULL));
    paragraph(card, hbk_style_of(HBK_FACE_PLAIN, 8.5, card->unit, HBK_LEFT),
              HBK_TAG_PARAGRAPH,
              hbk_arena_printf(arena, "%s. %s %s",
                               hbk_words_read_sounds(arena, notes),
                               hbk_words_slides(arena, notes, HBK_WORDS_FULL),
                               hbk_words_reach(arena, card->slides)));
    card->y += 1.5 * u;
}

static const double bar_pen = 0.15;

/* The bar of true size over a rule with a tick each 5 mm. */
static void draw_bar(struct card *card, double y, double draw_mm,
                     double travel_mm)
{
    struct hbk_pad *const pad = &card->pad;
    const double x = card->paper.margin + bar_pen;
    hbk_pad_group(pad);
    hbk_pad_line(pad, x, y, travel_mm, 0.0, bar_pen);
    for (int i = 0; 5.0 * i <= travel_mm + 1e-6; i++) {
        hbk_pad_line(pad, x + 5.0 * i, y, 0.0, i % 2 == 0 ? 1.6 : 1.0, bar_pen);
    }
    if (draw_mm > 0.0) {
        hbk_pad_panel(pad, x, y - 2.0, draw_mm, 2.0, HBK_BLACK);
    }
}

/* Where else the slide could be: "; best compromise 12". */
static void add_other_way(struct hbk_text *text, const struct card *card,
                          size_t s, const char *name, double draw_m)
{
    char mm[HBK_PULL_SIZE];
    if (!isnan(draw_m)) {
        hbk_text_addf(text, "; %s %s", name,
                      hbk_pull_slide_text(card->slides->horn, s, draw_m, mm));
    }
}

/* "of 15 on each leg; best compromise 12; a mm is 2.0 cents" */
static const char *slide_words(const struct card *card, size_t s)
{
    const struct hbk_slide *const slide = &card->slides->horn->slides[s];
    const struct hbk_slide_pull *const pull = &card->slides->pulls[s];
    struct hbk_text text = {.arena = card->pad.sheet->arena};
    const enum hbk_valve_slides how = card->slides->notes.setting.valve_slides;
    const bool is_stuck =
        (card->slides->notes.setting.stuck.slides >> s & 1U) != 0;
    hbk_text_addf(&text, "%sof %.4g%s", is_stuck ? "stuck; " : "",
                  1000.0 * slide->travel_m,
                  slide->legs == 2 ? " on each leg" : "");
    if (slide->valve >= 0 && !is_stuck && how != HBK_VALVE_SLIDES_OWN) {
        add_other_way(&text, card, s, "in proportion", pull->own_m);
    }
    if (slide->valve >= 0 && !is_stuck && how != HBK_VALVE_SLIDES_BEST) {
        add_other_way(&text, card, s, "best compromise", pull->best_m);
    }
    if (!isnan(pull->cents_per_mm)) {
        hbk_text_addf(&text, "; a mm is %.1f cents", fabs(pull->cents_per_mm));
    }
    return hbk_text_string(&text);
}

/* The name and "12 mm", what is known of it beside or beneath, the bar. */
static void draw_slide(struct card *card, size_t s)
{
    struct hbk_pad *const pad = &card->pad;
    const double u = card->unit;
    const struct hbk_slide *const slide = &card->slides->horn->slides[s];
    const double travel_mm = 1000.0 * slide->travel_m;
    const double draw_m = card->slides->pulls[s].draw_m;
    char mm[HBK_PULL_SIZE];
    const bool has_bar = travel_mm <= card->width - (2.0 * bar_pen);
    need(card, 14.0 * u);
    const double base = card->y + 3.4 * u;
    const char *const name = hbk_arena_printf(
        pad->sheet->arena, "%s: %s mm", slide->name,
        hbk_pull_slide_text(card->slides->horn, s, draw_m, mm));
    const struct hbk_style bold = hbk_pad_fit(
        pad, hbk_style_of(HBK_FACE_BOLD, 10.0, card->unit, HBK_LEFT),
        card->width, 0.7, name);
    const struct hbk_style small =
        hbk_style_of(HBK_FACE_PLAIN, 7.5, card->unit, HBK_LEFT);
    const char *const more = slide_words(card, s);
    const double left = hbk_pad_width(pad, bold, name) + 2.0 * u;
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_text(pad, card->paper.margin, base, bold, name);
    if (hbk_pad_width(pad, small, more) <= card->width - left) {
        hbk_pad_text(pad, card->paper.margin + left, base, small, more);
        hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
        card->y += 4.6 * u;
    } else {
        hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
        card->tight = true;
        card->y += 4.6 * u;
        paragraph(card, small, HBK_TAG_PARAGRAPH, more);
    }
    if (has_bar) {
        /* As long as the number says. */
        draw_bar(card, card->y + 2.2,
                 hbk_pull_slide_mm(card->slides->horn, s, draw_m), travel_mm);
        card->y += 4.6;
    }
    card->y += 1.6 * u;
}

static void draw_bits(struct card *card)
{
    const struct hbk_horn *const horn = card->slides->horn;
    for (size_t b = 0; b < horn->n_bits; b++) {
        const bool in = (card->slides->notes.tuned.bits >> b & 1U) != 0;
        paragraph(card, hbk_style_of(HBK_FACE_BOLD, 10.0, card->unit, HBK_LEFT),
                  HBK_TAG_PARAGRAPH,
                  hbk_arena_printf(
                      card->pad.sheet->arena, "Tuning bit of %.3g mm: %s",
                      1000.0 * horn->bits[b].adds_m, in ? "in" : "left out"));
    }
}

static size_t count_main(const struct hbk_horn *horn)
{
    size_t n = 0;
    for (size_t s = 0; s < horn->n_slides; s++) {
        n += horn->slides[s].valve < 0 ? 1 : 0;
    }
    return n;
}

static const double row_height = 4.6;

/* Columns of the table of temperatures. */
enum { COLUMNS = 5 };

/* The first of those shown, which take in the temperature asked. */
static size_t first_warmth(const struct hbk_slides *slides)
{
    const double asked_c = slides->notes.setting.temperature_c;
    const size_t last = slides->n_warmths - COLUMNS;
    return asked_c < slides->warmths[last].temperature_c ? 0 : last;
}

/* A row of cells: a head, then one a temperature. */
static void warmth_row(struct card *card, enum hbk_face face, const char *head,
                       const char *const cells[COLUMNS])
{
    struct hbk_pad *const pad = &card->pad;
    const double u = card->unit;
    const double first = 0.31 * card->width;
    const double column = (card->width - first) / COLUMNS;
    const struct hbk_style left = hbk_style_of(face, 8.0, card->unit, HBK_LEFT);
    const struct hbk_style right =
        hbk_style_of(face, 8.0, card->unit, HBK_RIGHT);
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_pad_open(pad, HBK_TAG_HEADER);
    hbk_pad_text(pad, card->paper.margin, card->y + 3.2 * u,
                 hbk_pad_fit(pad, left, first, 0.6, head), head);
    hbk_pad_close(pad, HBK_TAG_HEADER);
    for (size_t i = 0; i < COLUMNS; i++) {
        hbk_pad_open(pad, HBK_TAG_CELL);
        hbk_pad_text(pad, card->paper.margin + first + column * (double)(i + 1),
                     card->y + 3.2 * u, right, cells[i]);
        hbk_pad_close(pad, HBK_TAG_CELL);
    }
    hbk_pad_close(pad, HBK_TAG_ROW);
    card->y += row_height * u;
}

static void draw_warmths(struct card *card)
{
    const struct hbk_slides *const slides = card->slides;
    struct hbk_arena *const arena = card->pad.sheet->arena;
    const size_t rows = 2 + count_main(slides->horn);
    const struct hbk_warmth *const shown =
        &slides->warmths[first_warmth(slides)];
    const char *cells[COLUMNS];
    if (rows == 2 && slides->horn->n_bits == 0) {
        return; /* nothing that could be set */
    }
    need(card, row_height * card->unit * (double)rows);
    hbk_pad_group(&card->pad);
    hbk_pad_open(&card->pad, HBK_TAG_TABLE);
    for (size_t i = 0; i < COLUMNS; i++) {
        cells[i] =
            hbk_arena_printf(arena, "%.0f \u00b0C", shown[i].temperature_c);
    }
    warmth_row(card, HBK_FACE_BOLD, "in the horn", cells);
    for (size_t s = 0; s < slides->n; s++) {
        if (slides->horn->slides[s].valve >= 0) {
            continue;
        }
        for (size_t i = 0; i < COLUMNS; i++) {
            char mm[HBK_PULL_SIZE];
            hbk_pull_slide_text(slides->horn, s, shown[i].draw_m[s], mm);
            cells[i] = hbk_arena_copy(arena, mm, strlen(mm));
        }
        warmth_row(
            card, HBK_FACE_PLAIN,
            hbk_arena_printf(arena, "%s, mm", slides->horn->slides[s].name),
            cells);
    }
    for (size_t i = 0; i < COLUMNS; i++) {
        char text[HBK_CENTS_SIZE];
        cells[i] = hbk_arena_printf(arena, "%s",
                                    hbk_cents_text(shown[i].after_cents, text));
    }
    warmth_row(card, HBK_FACE_PLAIN, "stays, cents", cells);
    hbk_pad_close(&card->pad, HBK_TAG_TABLE);
    card->y += 1.5 * card->unit;
}

/* Of the first choice as the slides are set; 0 out of reach. */
static double cents_of(const struct hbk_slides *slides, size_t i)
{
    const struct hbk_note *const note = &slides->notes.notes[i];
    return note->n == 0 ? 0.0 : note->fingerings[0].cents;
}

static bool stays_out(const struct hbk_slides *slides, size_t i)
{
    return fabs(cents_of(slides, i)) >= HBK_STAYS_OUT_CENTS;
}

/* "E♭4  2-3  +17" with its wedge. */
static void draw_note(struct card *card, size_t i, double x, double column)
{
    const struct hbk_slide_note *const note = &card->slides->list[i];
    struct hbk_pad *const pad = &card->pad;
    const double base = card->y + 3.4 * card->unit;
    const struct hbk_style bold =
        hbk_style_of(HBK_FACE_BOLD, 8.5, card->unit, HBK_LEFT);
    const struct hbk_style plain =
        hbk_style_of(HBK_FACE_PLAIN, 8.5, card->unit, HBK_LEFT);
    char label[HBK_LABEL_SIZE];
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_text(
        pad, x, base, bold,
        hbk_words_read(pad->sheet->arena, &card->slides->notes, note->written));
    hbk_horn_press_label(card->slides->horn, note->press, label);
    hbk_pad_text(pad, x + 0.3 * column, base,
                 hbk_pad_fit(pad, plain, 0.32 * column, 0.5, label), label);
    hbk_wedge_draw(pad, x + 0.65 * column, base, plain,
                   cents_of(card->slides, i));
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
}

/* Notes that no fingering gives as the horn is set up. */
static void draw_out_of_reach(struct card *card)
{
    const struct hbk_slides *const slides = card->slides;
    struct hbk_text out = {.arena = card->pad.sheet->arena};
    for (size_t i = 0; i < slides->notes.n; i++) {
        if (slides->list[i].partial == 0) {
            hbk_text_addf(&out, "%s%s",
                          out.length == 0 ? "Out of reach: " : ", ",
                          hbk_words_read(out.arena, &slides->notes,
                                         slides->list[i].written));
        }
    }
    if (out.length > 0) {
        hbk_text_add(&out, ".");
        card->y += 0.6 * card->unit;
        paragraph(card, hbk_style_of(HBK_FACE_PLAIN, 8.5, card->unit, HBK_LEFT),
                  HBK_TAG_PARAGRAPH, hbk_text_string(&out));
    }
}

static void draw_notes(struct card *card)
{
    const struct hbk_slides *const slides = card->slides;
    struct hbk_arena *const arena = card->pad.sheet->arena;
    const double u = card->unit;
    const size_t columns = (size_t)fmax(1.0, card->width / (29.0 * u));
    const double column = card->width / (double)columns;
    size_t n = 0;
    for (size_t i = 0; i < slides->notes.n; i++) {
        n += stays_out(slides, i) ? 1 : 0;
    }
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_BOLD, 9.0, card->unit, HBK_LEFT);
    if (n == 0) {
        paragraph(card, style, HBK_TAG_PARAGRAPH,
                  hbk_arena_printf(arena,
                                   "Every note in reach then lies within "
                                   "%.0f cents.",
                                   HBK_STAYS_OUT_CENTS));
        return;
    }
    paragraph(card, style, HBK_TAG_HEADING,
              "What stays out of tune, in cents: up is sharp, down is flat");
    card->y += 0.6 * u;
    size_t at = 0;
    for (size_t i = 0; i < slides->notes.n; i++) {
        if (!stays_out(slides, i)) {
            continue;
        }
        if (at == 0) {
            need(card, 5.4 * u);
        }
        draw_note(card, i, card->paper.margin + column * (double)at, column);
        at = (at + 1) % columns;
        card->y += at == 0 ? 5.4 * u : 0.0;
    }
    card->y += at == 0 ? 0.0 : 5.4 * u;
}

/* Limits, how to read the bars, where the figures come from, cautions. */
static void draw_foot(struct card *card)
{
    struct hbk_arena *const arena = card->pad.sheet->arena;
    const struct hbk_slides *const slides = card->slides;
    const struct hbk_style small =
        hbk_style_of(HBK_FACE_PLAIN, 7.0, card->unit, HBK_LEFT);
    card->y += 1.0 * card->unit;
    paragraph(card, small, HBK_TAG_PARAGRAPH,
              hbk_words_slide_limits(arena, slides));
    if (slides->has_valve_slides) {
        paragraph(card, small, HBK_TAG_PARAGRAPH,
                  hbk_arena_printf(
                      arena,
                      "%s In proportion, a valve alone is as true as the "
                      "maker left it; the best compromise serves valves "
                      "together better, and one alone less well.",
                      hbk_words_slide_ways(arena, slides)));
    }
    paragraph(card, small, HBK_TAG_PARAGRAPH,
              hbk_arena_printf(
                  arena,
                  "%sNever force a slide that sticks: a repairer frees it. %s",
                  slides->n > 0 ? "Bars are true to size when printed at 100 "
                                  "%; a tick is 5 mm. "
                                : "",
                  hbk_words_provenance(arena, slides->horn)));
}

static const double units[HBK_PAPER_COUNT] = {[HBK_A4] = 1.45,
                                              [HBK_A3] = 2.05,
                                              [HBK_A5] = 1.1,
                                              [HBK_A6] = 0.86,
                                              [HBK_LETTER] = 1.45};

static void lay(struct card *card)
{
    card->width = card->paper.width - 2.0 * card->paper.margin;
    card->y = card->paper.margin;
    hbk_pad_page(&card->pad, card->paper, card->title);
    heading(card);
    for (size_t s = 0; s < card->slides->n; s++) {
        draw_slide(card, s);
    }
    draw_bits(card);
    draw_warmths(card);
    draw_notes(card);
    draw_out_of_reach(card);
    draw_foot(card);
}

void hbk_sheet_slide_card(const struct hbk_slides *slides,
                          const struct hbk_sheet_options *options,
                          const struct hbk_ruler *ruler,
                          struct hbk_sheet *sheet)
{
    /* Larger letters where there is room for them; the last always serve. */
    static const double scales[] = {1.35, 1.2, 1.1, 1.0};
    enum { N_SCALES = sizeof(scales) / sizeof(scales[0]) };
    const char *const title =
        options->title == NULL ? hbk_horn_name(slides->horn) : options->title;
    const char *const copy = hbk_arena_copy(sheet->arena, title, strlen(title));
    for (size_t i = 0; i < N_SCALES; i++) {
        *sheet = (struct hbk_sheet){.arena = sheet->arena,
                                    .title = copy,
                                    .kind = "slides",
                                    .subject = "How to set the slides"};
        struct card card = {
            .pad = {.sheet = sheet, .ruler = ruler},
            .slides = slides,
            .paper = hbk_paper_size(options->paper),
            .title = copy,
            .whom = options->whom,
            .unit = units[options->paper] * scales[i],
        };
        lay(&card);
        if (sheet->n_pages == 1 && !card.tight) {
            break;
        }
    }
}
