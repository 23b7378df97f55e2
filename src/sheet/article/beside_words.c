#include "sheet/article/beside_words.h"

#include "horn/about.h"
#include "sheet/words/words.h"
#include "sheet/words/words_beside.h"
#include "sheet/words/words_read.h"

#include "base/text.h"

#include <math.h>
#include <string.h>

/* Between parts side by side, and columns of the foot, mm at unit 1. */
static const double column_gap = 7.0;
static const double part_gap = 2.0; /* below a row of parts */

static const double heading_points = 13.0;
static const double caption_points = 11.0;
static const double legend_points = 9.4;
static const double foot_points = 7.8;
static const double warning_points = 14.0;

/* From line to line, of the height of the type. */
static const double leading = 1.27;

static struct hbk_style part_style(const struct hbk_beside_page *page)
{
    return hbk_style_of(HBK_FACE_PLAIN, page->points, 1.0, HBK_LEFT);
}

static struct hbk_style heading_style(const struct hbk_beside_page *page)
{
    return hbk_beside_style(page, HBK_FACE_CAPS, heading_points, 9.5);
}

static struct hbk_style caption_style(const struct hbk_beside_page *page)
{
    return hbk_beside_style(page, HBK_FACE_ITALIC, caption_points, 8.5);
}

static struct hbk_style legend_style(const struct hbk_beside_page *page)
{
    return hbk_beside_style(page, HBK_FACE_PLAIN, legend_points, 8.5);
}

static struct hbk_style foot_style(const struct hbk_beside_page *page)
{
    return hbk_beside_style(page, HBK_FACE_PLAIN, foot_points, 7.5);
}

static struct hbk_style warning_style(const struct hbk_beside_page *page)
{
    struct hbk_style style =
        hbk_beside_style(page, HBK_FACE_BOLD, warning_points, 9.0);
    style.align = HBK_CENTRE;
    return hbk_pad_fit(&page->pad, style, page->width - 7.2 * page->s, 0.6,
                       page->warning);
}

/* ---- What is said ------------------------------------------------------- */

static bool has_note(const struct hbk_beside_page *page,
                     enum hbk_beside_note what)
{
    for (size_t i = 0; i < page->n; i++) {
        if (page->columns[i].what == what) {
            return true;
        }
    }
    return false;
}

/* What the signs under the numbers mean, of those that this sheet has. */
static const char *signs(struct hbk_arena *arena,
                         const struct hbk_beside_page *page)
{
    static const struct {
        enum hbk_beside_note what;
        const char *sign, *rest;
    } words[] = {
        {HBK_BESIDE_OTHER, "\u25CF A dot marks a different fingering. ",
         "Without a sign the fingering is different. "},
        {HBK_BESIDE_FINGER,
         "\u25CB A ring marks the same number under another finger. ",
         "Without a sign it is the same number under another finger. "},
        {HBK_BESIDE_SAME, "= marks the same fingering. ",
         "Without a sign the fingering is the same. "}};
    struct hbk_text text = {.arena = arena};
    const char *rest = "";
    for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++) {
        if (words[i].what == page->unmarked) {
            rest = words[i].rest;
        } else if (has_note(page, words[i].what)) {
            hbk_text_add(&text, words[i].sign);
        }
    }
    /* Where no sign stands at all the caption has said it. */
    hbk_text_add(&text, page->has_sign ? rest : "");
    hbk_text_add(&text, "0: nothing pressed, the open horn. ");
    if (has_note(page, HBK_BESIDE_NEW) || has_note(page, HBK_BESIDE_LOST)) {
        hbk_text_add(&text, "\u2013: not available on that horn. ");
    }
    hbk_text_add(&text, "First choices only; the chart has the alternates.");
    return hbk_text_string(&text);
}

/* Which horn it is and how it is set. */
static const char *horn_words(struct hbk_arena *arena, const char *role,
                              const struct hbk_notes *notes)
{
    const char *const also[] = {hbk_words_set(arena, notes, HBK_WORDS_BRIEF),
                                hbk_words_rest(arena, notes, HBK_WORDS_BRIEF),
                                hbk_words_assumed(arena, notes)};
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(&text, "%s: %s. %s.", role, hbk_horn_name(notes->horn),
                  hbk_words_read_sounds(arena, notes));
    for (size_t i = 0; i < sizeof(also) / sizeof(also[0]); i++) {
        hbk_text_addf(&text, "%s%s", also[i][0] == '\0' ? "" : " ", also[i]);
    }
    return hbk_text_string(&text);
}

void hbk_beside_write(struct hbk_beside_page *page)
{
    struct hbk_arena *const arena = page->pad.sheet->arena;
    const struct hbk_notes *const here = page->here;
    const struct hbk_notes *const known = page->known;
    const char *const beyond = hbk_beside_beyond(arena, here, known);
    page->parts[0] = (struct hbk_beside_part){
        .heading = "Pressing",
        .words = hbk_beside_pressing(arena, here, known)};
    page->parts[1] = (struct hbk_beside_part){
        .heading = "At rest", .words = hbk_beside_rest(arena, here, known)};
    page->parts[2] = (struct hbk_beside_part){
        .heading = "Reversed",
        .words = hbk_beside_reversed(arena, here, known)};
    page->parts[3] = (struct hbk_beside_part){
        .heading = "Beyond that",
        .words = hbk_arena_printf(arena, "%s%s%s", beyond,
                                  beyond[0] == '\0' ? "" : " ",
                                  hbk_beside_sounds(arena, here, known))};
    page->caption = hbk_pad_wrap(&page->pad, caption_style(page), page->width,
                                 hbk_beside_summary(arena, here, known));
    page->legend = hbk_pad_wrap(&page->pad, legend_style(page), page->width,
                                signs(arena, page));
    const double half = 0.5 * (page->width - column_gap * page->s);
    page->foot[0] = hbk_pad_wrap(&page->pad, foot_style(page), half,
                                 horn_words(arena, "This horn", here));
    page->foot[1] = hbk_pad_wrap(&page->pad, foot_style(page), half,
                                 horn_words(arena, "The horn you know", known));
}

/* ---- Where it stands ---------------------------------------------------- */

static double part_height(const struct hbk_beside_page *page,
                          const struct hbk_beside_part *part)
{
    return 1.3 * heading_style(page).size +
           leading * part_style(page).size * (double)part->lines.n +
           part_gap * page->s;
}

/* The tallest of the parts that stand side by side from `first` on. */
static double row_height(const struct hbk_beside_page *page, size_t first)
{
    double tallest = 0.0;
    for (size_t i = first; i < first + page->across && i < HBK_BESIDE_PARTS;
         i++) {
        tallest = fmax(tallest, part_height(page, &page->parts[i]));
    }
    return tallest;
}

double hbk_beside_parts_row(const struct hbk_beside_page *page)
{
    double tallest = 0.0;
    for (size_t i = 0; i < HBK_BESIDE_PARTS; i += page->across) {
        tallest = fmax(tallest, row_height(page, i));
    }
    return tallest;
}

/* Widths by the length of the words, the more so the higher `power`. */
static void lay_row(struct hbk_beside_page *page, size_t first, double power)
{
    double sum = 0.0;
    for (size_t i = first; i < first + page->across; i++) {
        sum += pow((double)strlen(page->parts[i].words), power);
    }
    const double gap = column_gap * page->s;
    const double room = page->width - gap * (double)(page->across - 1);
    double x = page->x;
    for (size_t i = first; i < first + page->across; i++) {
        struct hbk_beside_part *part = &page->parts[i];
        part->x = x;
        part->width = room * pow((double)strlen(part->words), power) / sum;
        part->lines = hbk_pad_wrap(&page->pad, part_style(page), part->width,
                                   part->words);
        x += part->width + gap;
    }
}

/* Whether each heading of a row fits its column. */
static bool headings_fit(const struct hbk_beside_page *page, size_t first)
{
    for (size_t i = first; i < first + page->across; i++) {
        const struct hbk_beside_part *part = &page->parts[i];
        if (hbk_pad_width(&page->pad, heading_style(page), part->heading) >
            part->width) {
            return false;
        }
    }
    return true;
}

void hbk_beside_lay_parts(struct hbk_beside_page *page)
{
    static const double powers[] = {0.0, 0.25, 0.5, 0.75};
    for (size_t first = 0; first < HBK_BESIDE_PARTS; first += page->across) {
        double best = 0.0;
        double least = INFINITY;
        for (size_t k = 0; k < sizeof(powers) / sizeof(powers[0]); k++) {
            lay_row(page, first, powers[k]);
            if (row_height(page, first) < least - 1e-9 &&
                headings_fit(page, first)) {
                least = row_height(page, first);
                best = powers[k];
            }
        }
        lay_row(page, first, best);
    }
}

static double warning_height(const struct hbk_beside_page *page)
{
    return page->warning[0] == '\0' ? 0.0
                                    : warning_style(page).size + 9.0 * page->s;
}

static double caption_height(const struct hbk_beside_page *page)
{
    return leading * caption_style(page).size * (double)page->caption.n +
           1.5 * page->s;
}

double hbk_beside_words_height(const struct hbk_beside_page *page)
{
    double height = warning_height(page) + caption_height(page);
    for (size_t i = 0; i < HBK_BESIDE_PARTS; i += page->across) {
        height += row_height(page, i);
    }
    return height;
}

double hbk_beside_foot_height(const struct hbk_beside_page *page)
{
    const size_t deeper =
        page->foot[0].n > page->foot[1].n ? page->foot[0].n : page->foot[1].n;
    return leading * legend_style(page).size * (double)page->legend.n +
           leading * foot_style(page).size * (double)deeper + 3.2 * page->s;
}

/* ---- Drawn -------------------------------------------------------------- */

/* In a frame, which no eye passes over: nothing on the horn shows it. */
static void draw_warning(struct hbk_beside_page *page)
{
    if (page->warning[0] == '\0') {
        return;
    }
    const struct hbk_style style = warning_style(page);
    const double s = page->s;
    const double wide =
        hbk_pad_width(&page->pad, style, page->warning) + 7.0 * s;
    const double tall = style.size + 3.5 * s;
    const double left = 0.5 * (page->paper.width - wide);
    hbk_beside_room(page, warning_height(page));
    hbk_pad_group(&page->pad);
    hbk_pad_frame(&page->pad, left, page->y, wide, tall, 0.55 * s);
    hbk_pad_open(&page->pad, HBK_TAG_PARAGRAPH);
    hbk_pad_text(&page->pad, 0.5 * page->paper.width,
                 page->y + 0.5 * tall + 0.36 * style.size, style,
                 page->warning);
    hbk_pad_close(&page->pad, HBK_TAG_PARAGRAPH);
    page->y += warning_height(page);
}

static void draw_heading(struct hbk_beside_page *page,
                         const struct hbk_beside_part *part)
{
    const struct hbk_style style = heading_style(page);
    hbk_pad_group(&page->pad);
    hbk_pad_open(&page->pad, HBK_TAG_HEADING);
    hbk_pad_text(&page->pad, part->x, page->y + 0.8 * style.size, style,
                 part->heading);
    hbk_pad_close(&page->pad, HBK_TAG_HEADING);
}

/* Side by side, a rule between them. */
static void draw_row(struct hbk_beside_page *page, size_t first)
{
    const double s = page->s;
    const struct hbk_style style = part_style(page);
    const double step = leading * style.size;
    const double tall = row_height(page, first);
    hbk_beside_room(page, tall);
    for (size_t i = first; i < first + page->across; i++) {
        const struct hbk_beside_part *part = &page->parts[i];
        draw_heading(page, part);
        hbk_pad_block(&page->pad, HBK_TAG_PARAGRAPH, part->x,
                      page->y + 1.3 * heading_style(page).size +
                          0.8 * style.size,
                      style, step, &part->lines);
        if (i > first) {
            hbk_pad_group(&page->pad);
            hbk_pad_line(&page->pad, part->x - 0.5 * column_gap * s, page->y,
                         0.0, tall - part_gap * s, 0.15 * s);
        }
    }
    page->y += tall;
}

/* One below the other, line by line over as many pages as it takes. */
static void draw_part(struct hbk_beside_page *page,
                      const struct hbk_beside_part *part)
{
    const struct hbk_style style = part_style(page);
    const double step = leading * style.size;
    const double head = 1.3 * heading_style(page).size;
    hbk_beside_room(page, head + 2.0 * step);
    draw_heading(page, part);
    page->y += head;
    for (size_t i = 0; i < part->lines.n; i++) {
        const struct hbk_lines line = {1, part->lines.text + i,
                                       part->lines.widest};
        hbk_beside_room(page, step);
        hbk_pad_block(&page->pad, HBK_TAG_PARAGRAPH, part->x,
                      page->y + 0.8 * style.size, style, step, &line);
        page->y += step;
    }
    page->y += part_gap * page->s;
}

void hbk_beside_words_draw(struct hbk_beside_page *page)
{
    draw_warning(page);
    for (size_t i = 0; i < HBK_BESIDE_PARTS; i += page->across) {
        if (page->across == 1) {
            draw_part(page, &page->parts[i]);
        } else {
            draw_row(page, i);
        }
    }
    page->y += page->air;
    const struct hbk_style style = caption_style(page);
    hbk_beside_room(page, caption_height(page));
    hbk_pad_block(&page->pad, HBK_TAG_PARAGRAPH, page->x,
                  page->y + 0.8 * style.size, style, leading * style.size,
                  &page->caption);
    page->y += caption_height(page);
}

void hbk_beside_foot_draw(struct hbk_beside_page *page)
{
    const double s = page->s;
    const struct hbk_style legend = legend_style(page);
    const struct hbk_style foot = foot_style(page);
    double y = page->end - hbk_beside_foot_height(page) + 0.8 * s;
    hbk_pad_block(&page->pad, HBK_TAG_PARAGRAPH, page->x, y + 0.8 * legend.size,
                  legend, leading * legend.size, &page->legend);
    y += leading * legend.size * (double)page->legend.n + 0.6 * s;
    hbk_pad_group(&page->pad);
    hbk_pad_line(&page->pad, page->x, y, page->width, 0.0,
                 fmax(0.15 * s, 0.12));
    y += 1.0 * s;
    for (size_t i = 0; i < 2; i++) {
        hbk_pad_block(
            &page->pad, HBK_TAG_PARAGRAPH,
            page->x + (double)i * 0.5 * (page->width + column_gap * s),
            y + 0.8 * foot.size, foot, leading * foot.size, &page->foot[i]);
    }
}
