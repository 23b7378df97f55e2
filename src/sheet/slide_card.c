#include "sheet/slide_card.h"

#include "base/text.h"
#include "music/pitch.h"
#include "sheet/wedge.h"
#include "sheet/words.h"
#include "sheet/words_slides.h"

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

static struct hbk_style style_of(const struct card *card, enum hbk_face face,
                                 double points, enum hbk_align align)
{
    return (struct hbk_style){
        .face = face, .size = HBK_PT(points) * card->unit, .align = align};
}

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
    hbk_pad_group(&card->pad);
    hbk_pad_open(&card->pad, tag);
    hbk_pad_lines(&card->pad, card->paper.margin, card->y + 0.76 * style.size,
                  style, leading, &lines);
    hbk_pad_close(&card->pad, tag);
    card->y += (double)lines.n * leading;
}

static void heading(struct card *card)
{
    const double u = card->unit;
    const struct hbk_notes *const notes = &card->slides->notes;
    struct hbk_arena *const arena = card->pad.sheet->arena;
    paragraph(card,
              hbk_pad_fit(&card->pad,
                          style_of(card, HBK_FACE_BOLD, 15.0, HBK_LEFT),
                          0.99 * card->width, 0.6, card->title),
              HBK_TAG_TITLE, card->title);
    hbk_pad_group(&card->pad);
    hbk_pad_line(&card->pad, card->paper.margin, card->y + 0.3 * u, card->width,
                 0.0, 0.5 * u);
    card->y += 2.0 * u;
    paragraph(card, style_of(card, HBK_FACE_PLAIN, 9.0, HBK_LEFT),
              HBK_TAG_PARAGRAPH, hbk_words_whom(arena, card->whom));
    paragraph(card, style_of(card, HBK_FACE_BOLD, 11.0, HBK_LEFT),
              HBK_TAG_HEADING,
              hbk_arena_printf(arena, "%s. %s",
                               hbk_words_pitch(arena, &notes->setting),
                               hbk_words_setting(arena, notes)));
    paragraph(
        card, style_of(card, HBK_FACE_PLAIN, 8.5, HBK_LEFT), HBK_TAG_PARAGRAPH,
        hbk_arena_printf(arena, "%s. %s %s",
                         hbk_words_sounds(arena, notes->written_c4_sounds),
                         hbk_words_tuning(arena, notes),
                         hbk_words_reach(arena, card->slides)));
    card->y += 1.5 * u;
}

static const double bar_pen = 0.15;
/* Less than this is not drawn. */
static const double least_mm = 0.05;

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
    if (draw_mm >= least_mm) {
        hbk_pad_panel(pad, x, y - 2.0, draw_mm, 2.0, HBK_BLACK);
    }
}

/* "of 15 on each leg; in proportion 5.4; a mm is 2.0 cents" */
static const char *slide_words(const struct card *card, size_t s)
{
    const struct hbk_slide *const slide = &card->slides->horn->slides[s];
    const struct hbk_slide_pull *const pull = &card->slides->pulls[s];
    struct hbk_text text = {.arena = card->pad.sheet->arena};
    hbk_text_addf(&text, "of %.0f%s", 1000.0 * slide->travel_m,
                  slide->legs == 2 ? " on each leg" : "");
    if (slide->valve >= 0 && !isnan(pull->own_m)) {
        const double mm = 1000.0 * pull->own_m;
        hbk_text_addf(&text, "; in proportion %.1f",
                      fabs(mm) < least_mm ? 0.0 : mm);
    }
    if (!isnan(pull->cents_per_mm)) {
        hbk_text_addf(&text, "; a mm is %.1f cents", fabs(pull->cents_per_mm));
    }
    return hbk_text_string(&text);
}

/* The name and "12.3 mm", what is known of it beside or beneath, the bar. */
static void draw_slide(struct card *card, size_t s)
{
    struct hbk_pad *const pad = &card->pad;
    const double u = card->unit;
    const struct hbk_slide *const slide = &card->slides->horn->slides[s];
    const double travel_mm = 1000.0 * slide->travel_m;
    const double draw_mm = 1000.0 * card->slides->pulls[s].draw_m;
    const bool has_bar = travel_mm <= card->width - (2.0 * bar_pen);
    need(card, 14.0 * u);
    const double base = card->y + 3.4 * u;
    const char *const name =
        hbk_arena_printf(pad->sheet->arena, "%s: %.1f mm", slide->name,
                         draw_mm < least_mm ? 0.0 : draw_mm);
    const struct hbk_style bold =
        hbk_pad_fit(pad, style_of(card, HBK_FACE_BOLD, 10.0, HBK_LEFT),
                    card->width, 0.7, name);
    const struct hbk_style small =
        style_of(card, HBK_FACE_PLAIN, 7.5, HBK_LEFT);
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
        draw_bar(card, card->y + 2.2, draw_mm, travel_mm);
        card->y += 4.6;
    }
    card->y += 1.6 * u;
}

static void draw_bits(struct card *card)
{
    const struct hbk_horn *const horn = card->slides->horn;
    for (size_t b = 0; b < horn->n_bits; b++) {
        const bool in = (card->slides->notes.tuned.bits >> b & 1U) != 0;
        paragraph(card, style_of(card, HBK_FACE_BOLD, 10.0, HBK_LEFT),
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

/* A row of cells: a head, then one a temperature. */
static void warmth_row(struct card *card, enum hbk_face face, const char *head,
                       const char *const cells[HBK_WARMTHS_MAX])
{
    struct hbk_pad *const pad = &card->pad;
    const double u = card->unit;
    const double first = 0.31 * card->width;
    const double column =
        (card->width - first) / (double)card->slides->n_warmths;
    const struct hbk_style left = style_of(card, face, 8.0, HBK_LEFT);
    const struct hbk_style right = style_of(card, face, 8.0, HBK_RIGHT);
    hbk_pad_open(pad, HBK_TAG_ROW);
    hbk_pad_open(pad, HBK_TAG_HEADER);
    hbk_pad_text(pad, card->paper.margin, card->y + 3.2 * u,
                 hbk_pad_fit(pad, left, first, 0.6, head), head);
    hbk_pad_close(pad, HBK_TAG_HEADER);
    for (size_t i = 0; i < card->slides->n_warmths; i++) {
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
    const char *cells[HBK_WARMTHS_MAX];
    if (rows == 2 && slides->horn->n_bits == 0) {
        return; /* nothing that could be set */
    }
    need(card, row_height * card->unit * (double)rows);
    hbk_pad_group(&card->pad);
    hbk_pad_open(&card->pad, HBK_TAG_TABLE);
    for (size_t i = 0; i < slides->n_warmths; i++) {
        cells[i] = hbk_arena_printf(arena, "%.0f \u00b0C",
                                    slides->warmths[i].temperature_c);
    }
    warmth_row(card, HBK_FACE_BOLD, "when it is", cells);
    for (size_t s = 0; s < slides->n; s++) {
        if (slides->horn->slides[s].valve >= 0) {
            continue;
        }
        for (size_t i = 0; i < slides->n_warmths; i++) {
            const double mm = 1000.0 * slides->warmths[i].draw_m[s];
            cells[i] =
                hbk_arena_printf(arena, "%.1f", fabs(mm) < 0.05 ? 0.0 : mm);
        }
        warmth_row(
            card, HBK_FACE_PLAIN,
            hbk_arena_printf(arena, "%s, mm", slides->horn->slides[s].name),
            cells);
    }
    for (size_t i = 0; i < slides->n_warmths; i++) {
        char text[HBK_CENTS_SIZE];
        cells[i] = hbk_arena_printf(
            arena, "%s", hbk_cents_text(slides->warmths[i].after_cents, text));
    }
    warmth_row(card, HBK_FACE_PLAIN, "stays, cents", cells);
    hbk_pad_close(&card->pad, HBK_TAG_TABLE);
    card->y += 1.5 * card->unit;
}

static bool stays_out(const struct hbk_slide_note *note)
{
    return note->partial > 0 && fabs(note->best_cents) >= HBK_STAYS_OUT_CENTS;
}

/* "E♭4  2-3  +17" with its wedge. */
static void draw_note(struct card *card, const struct hbk_slide_note *note,
                      double x, double column)
{
    struct hbk_pad *const pad = &card->pad;
    const double base = card->y + 3.4 * card->unit;
    const struct hbk_style bold = style_of(card, HBK_FACE_BOLD, 8.5, HBK_LEFT);
    const struct hbk_style plain =
        style_of(card, HBK_FACE_PLAIN, 8.5, HBK_LEFT);
    char name[HBK_NAME_SIZE];
    char label[HBK_LABEL_SIZE];
    hbk_pad_group(pad);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_text(
        pad, x, base, bold,
        hbk_spelling_name(hbk_note_usual(note->written), HBK_UNICODE, name));
    hbk_horn_press_label(card->slides->horn, note->press, label);
    hbk_pad_text(pad, x + 0.3 * column, base,
                 hbk_pad_fit(pad, plain, 0.32 * column, 0.5, label), label);
    hbk_wedge_draw(pad, x + 0.65 * column, base, plain, note->best_cents);
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
}

/* Notes that no fingering gives as the horn is set up. */
static void draw_out_of_reach(struct card *card)
{
    const struct hbk_slides *const slides = card->slides;
    struct hbk_text out = {.arena = card->pad.sheet->arena};
    for (size_t i = 0; i < slides->notes.n; i++) {
        char name[HBK_NAME_SIZE];
        if (slides->list[i].partial == 0) {
            hbk_spelling_name(hbk_note_usual(slides->list[i].written),
                              HBK_UNICODE, name);
            hbk_text_addf(&out, "%s%s",
                          out.length == 0 ? "Out of reach: " : ", ", name);
        }
    }
    if (out.length > 0) {
        hbk_text_add(&out, ".");
        card->y += 0.6 * card->unit;
        paragraph(card, style_of(card, HBK_FACE_PLAIN, 8.5, HBK_LEFT),
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
        n += stays_out(&slides->list[i]) ? 1 : 0;
    }
    const struct hbk_style style = style_of(card, HBK_FACE_BOLD, 9.0, HBK_LEFT);
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
        if (!stays_out(&slides->list[i])) {
            continue;
        }
        if (at == 0) {
            need(card, 5.4 * u);
        }
        draw_note(card, &slides->list[i],
                  card->paper.margin + column * (double)at, column);
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
        style_of(card, HBK_FACE_PLAIN, 7.0, HBK_LEFT);
    card->y += 1.0 * card->unit;
    paragraph(card, small, HBK_TAG_PARAGRAPH,
              hbk_words_slide_limits(arena, slides));
    if (slides->has_valve_slides) {
        paragraph(card, small, HBK_TAG_PARAGRAPH,
                  "A valve slide serves alone and with others: its draw is "
                  "the best compromise of all notes. In proportion, a valve "
                  "alone is as true as the maker left it, and the others "
                  "less so.");
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

static const double units[HBK_PAPER_COUNT] = {
    [HBK_A4] = 1.45, [HBK_A5] = 1.1, [HBK_A6] = 0.86, [HBK_LETTER] = 1.45};

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
        options->title == NULL ? slides->horn->name : options->title;
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
