#include "sheet/article/slide_card.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "sheet/article/slide_notes.h"
#include "sheet/article/slide_page.h"
#include "sheet/article/slide_parts.h"
#include "sheet/block/title.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_slides.h"

#include <math.h>
#include <string.h>

/* What a gap may be widened by, mm at unit 1. */
static const double most_air = 6.0;

static void draw_title(struct hbk_slide_card *card)
{
    const double u = card->unit;
    const struct hbk_title title = {.name = card->name,
                                    .below = "",
                                    .points = 20.0 / 0.7,
                                    .unit = 0.7 * u,
                                    .rule = 62.0};
    hbk_title_draw(&card->pad, &title, 0.5 * card->paper.width,
                   card->y + 0.6 * u, card->width);
    card->y += hbk_title_height(&title) + 2.0 * u;
}

/* What was set on which note, and that nothing needs to be pulled. */
static const char *tuned_words(const struct hbk_slide_card *card)
{
    struct hbk_arena *const arena = card->pad.sheet->arena;
    const struct hbk_slides *const slides = card->slides;
    const char *const all = slides->n == 0 ? " This horn has no slides."
                            : hbk_slides_all_in(slides) ? " All slides in."
                                                        : "";
    return hbk_arena_printf(arena, "%s%s",
                            hbk_words_tuned(arena, &slides->notes), all);
}

static void draw_heading(struct hbk_slide_card *card)
{
    const struct hbk_notes *const notes = &card->slides->notes;
    struct hbk_arena *const arena = card->pad.sheet->arena;
    const struct hbk_style italic =
        hbk_slide_style(card, HBK_FACE_ITALIC, 10.0, HBK_CENTRE);
    draw_title(card);
    hbk_slide_paragraph(card, italic, card->below);
    hbk_slide_paragraph(card, italic, hbk_words_whom(arena, card->whom));
    card->y += 0.8 * card->unit;
    hbk_slide_paragraph(card,
                        hbk_slide_style(card, HBK_FACE_PLAIN, 12.0, HBK_CENTRE),
                        hbk_words_pitch(arena, &notes->setting));
    hbk_slide_paragraph(card, italic, hbk_words_setting(arena, notes));
    hbk_slide_paragraph(
        card,
        hbk_slide_style(
            card, hbk_rest_alarms(notes) ? HBK_FACE_BOLD : HBK_FACE_ITALIC,
            hbk_rest_alarms(notes) ? 9.0 : 10.0, HBK_CENTRE),
        hbk_words_rest(arena, notes, HBK_WORDS_FULL));
    hbk_slide_paragraph(card, italic, tuned_words(card));
}

static bool has_bent(const struct hbk_horn *horn)
{
    for (size_t s = 0; s < horn->n_slides; s++) {
        if (horn->slides[s].legs == 2) {
            return true;
        }
    }
    return false;
}

/* Limits, what the ways to set valve slides are good for, how to read it. */
static const char *foot_words(const struct hbk_slide_card *card)
{
    struct hbk_arena *const arena = card->pad.sheet->arena;
    const struct hbk_slides *const slides = card->slides;
    struct hbk_text text = {.arena = arena};
    const char *const limits = hbk_words_slide_limits(arena, slides);
    hbk_text_addf(&text, "%s%s", limits, limits[0] == '\0' ? "" : " ");
    if (slides->has_valve_slides) {
        hbk_text_addf(&text,
                      "%s At its own interval a valve is in tune alone; the "
                      "best compromise favors valves pressed together. ",
                      hbk_words_slide_ways(arena, slides));
    }
    if (slides->n > 0) {
        hbk_text_add(&text,
                     "Bars are full size when printed at 100 %; one tick is "
                     "5 mm. ");
    }
    if (has_bent(slides->horn)) {
        hbk_text_add(&text, "On a bent slide the mm are those of each leg. ");
    }
    const char *const not_to_learn =
        hbk_words_not_to_learn(arena, &slides->notes);
    hbk_text_addf(&text,
                  "Never force a slide that sticks: a repairer frees it. "
                  "%s%s%s",
                  not_to_learn, not_to_learn[0] == '\0' ? "" : " ",
                  hbk_words_provenance(arena, slides->horn));
    return hbk_text_string(&text);
}

/* At the foot of the last page, under a rule. */
static void draw_foot(struct hbk_slide_card *card)
{
    const double u = card->unit;
    const struct hbk_style small =
        hbk_slide_style(card, HBK_FACE_PLAIN, 7.8, HBK_LEFT);
    const char *const words = foot_words(card);
    const double height =
        hbk_slide_paragraph_height(card, small, words) + 1.4 * u;
    hbk_slide_need(card, height);
    hbk_slide_end(card, height);
    card->y = card->end - height;
    hbk_pad_group(&card->pad);
    hbk_pad_line(&card->pad, card->x, card->y, card->width, 0.0,
                 fmax(0.15 * u, HBK_SLIDE_THIN));
    card->y += 1.2 * u;
    hbk_slide_paragraph(card, small, words);
}

static void lay(struct hbk_slide_card *card)
{
    struct hbk_sheet *const sheet = card->pad.sheet;
    struct hbk_arena *const arena = sheet->arena;
    *sheet = (struct hbk_sheet){.arena = arena,
                                .title = sheet->title,
                                .kind = "slides",
                                .subject = "How to set the slides"};
    card->pad.groups = 0;
    hbk_slide_page(card);
    draw_heading(card);
    hbk_slide_gap(card);
    hbk_slide_pulls_draw(card);
    hbk_slide_gap(card);
    hbk_slide_warmths_draw(card);
    hbk_slide_gap(card);
    hbk_slide_notes_draw(card);
    hbk_slide_gap(card);
    draw_foot(card);
}

/* The largest unit with which the card takes no more than so many pages. */
static bool choose_unit(struct hbk_slide_card *card, size_t pages, double most)
{
    enum { STEPS = 5 };
    double low = 1.0;
    double high = most;
    card->unit = low;
    lay(card);
    if (card->pad.sheet->n_pages > pages) {
        return false;
    }
    card->unit = high;
    lay(card);
    if (card->pad.sheet->n_pages <= pages) {
        return true;
    }
    for (int i = 0; i < STEPS; i++) {
        card->unit = 0.5 * (low + high);
        lay(card);
        *(card->pad.sheet->n_pages <= pages ? &low : &high) = card->unit;
    }
    card->unit = low;
    lay(card);
    return card->pad.sheet->n_pages <= pages;
}

/* Letters so large that the pages are full, and white where they are not. */
static void fill(struct hbk_slide_card *card)
{
    static const double most[HBK_PAPER_COUNT] = {[HBK_A4] = 2.3,
                                                 [HBK_A3] = 3.3,
                                                 [HBK_A5] = 1.65,
                                                 [HBK_A6] = 1.3,
                                                 [HBK_LETTER] = 2.3};
    enum hbk_paper paper = HBK_A4;
    while (hbk_paper_size(paper).width != card->paper.width) {
        paper = (enum hbk_paper)(paper + 1);
    }
    size_t pages = 1;
    while (!choose_unit(card, pages, most[paper]) &&
           pages < HBK_SLIDE_PAGES_MAX) {
        pages++;
    }
    for (size_t p = 0; p < HBK_SLIDE_PAGES_MAX; p++) {
        const double share = card->gaps[p] == 0
                                 ? 0.0
                                 : 0.98 * card->left[p] / (double)card->gaps[p];
        card->air[p] = fmin(fmax(share, 0.0), most_air * card->unit);
    }
    lay(card);
}

void hbk_sheet_slide_card(const struct hbk_slides *slides,
                          const struct hbk_sheet_options *options,
                          const struct hbk_ruler *ruler,
                          struct hbk_sheet *sheet)
{
    struct hbk_arena *const arena = sheet->arena;
    const char *const title =
        options->title == NULL ? slides->horn->name : options->title;
    const size_t length = strcspn(title, ",");
    const char *rest = title + length;
    rest += strspn(rest, ", ");
    sheet->title = hbk_arena_copy(arena, title, strlen(title));
    struct hbk_slide_card card = {
        .pad = {.sheet = sheet, .ruler = ruler},
        .slides = slides,
        .paper = hbk_paper_size(options->paper),
        .name = hbk_arena_copy(arena, title, length),
        .below = hbk_arena_printf(arena, "%s%s%s", rest,
                                  rest[0] == '\0' ? "" : " \u00B7 ",
                                  hbk_words_read_sounds(arena, &slides->notes)),
        .whom = options->whom};
    fill(&card);
}
