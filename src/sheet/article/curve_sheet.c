#include "sheet/article/curve_sheet.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "sheet/block/curve_plot.h"
#include "sheet/block/frame.h"
#include "sheet/block/ladder.h"
#include "sheet/block/title.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"

#include <math.h>
#include <string.h>

/* mm, in units of the sheet. */
static const double inside = 3.0;  /* from the frame to what it holds */
static const double between = 5.0; /* two ladders */
static const double row_least = 4.3;
static const double row_most = 10.0;
/* Of a ladder that says hertz too: of what is heard, and of the tube. */
static const double hertz_width[] = {76.0, 92.0};
static const double widest_ladder = 170.0;
static const double plot_least = 24.0;
static const double plot_most = 34.0;
static const double part_gap = 2.0;

static const double line_share = 1.28;

struct page {
    struct hbk_pad pad;
    const struct hbk_curves *curves; /* all of them */
    struct hbk_curves shown;         /* those of the page that is open */
    struct hbk_paper_size paper;
    bool upright; /* the smallest paper, which is too low on its side */
    const char *name, *below;
    double unit;
    double x, width, end;
    unsigned found; /* the highest partial of any fingering */
    double surest_db;
};

static struct hbk_style style_of(const struct page *page, enum hbk_face face,
                                 double points, enum hbk_align align)
{
    return hbk_style_of(face, points, page->unit, align);
}

static double text_height(const struct page *page, struct hbk_style style,
                          const char *text)
{
    return hbk_pad_paragraph_height(&page->pad, style, line_share * style.size,
                                    page->width, text);
}

/* Returns where it ends. */
static double paragraph(struct page *page, struct hbk_style style, double y,
                        const char *text)
{
    return y + hbk_pad_paragraph(&page->pad, HBK_TAG_PARAGRAPH, style,
                                 line_share * style.size,
                                 (struct hbk_point){page->x, y}, page->width,
                                 text);
}

/* The frame, the title and how the horn is set; returns where it ends. */
static double begin_page(struct page *page)
{
    const double u = page->unit;
    const struct hbk_notes *const about = &page->curves->about;
    struct hbk_arena *const arena = page->pad.sheet->arena;
    const double edge = page->paper.margin + 0.3 * u;
    const struct hbk_page_frame frame = {.width = page->paper.width,
                                         .height = page->paper.height,
                                         .edge = edge,
                                         .unit = u};
    const struct hbk_title title = {.name = page->name,
                                    .below = "",
                                    .points = page->upright ? 17.0 : 22.0,
                                    .unit = u,
                                    .rule = page->upright ? 46.0 : 70.0};
    const struct hbk_style italic =
        style_of(page, HBK_FACE_ITALIC, page->upright ? 9.0 : 10.5, HBK_CENTRE);
    hbk_pad_page(&page->pad, page->paper, page->pad.sheet->title);
    hbk_page_frame_draw(&page->pad, &frame);
    page->x = edge + hbk_page_frame_depth(u) + inside * u;
    page->width = page->paper.width - 2.0 * page->x;
    page->end = page->paper.height - page->x;
    hbk_title_draw(&page->pad, &title, 0.5 * page->paper.width, page->x,
                   page->width);
    const double y =
        paragraph(page, italic, page->x + hbk_title_height(&title) + 1.0 * u,
                  page->below);
    return paragraph(
        page, italic, y,
        hbk_arena_printf(arena, "%s %s",
                         hbk_words_set(arena, about, HBK_WORDS_BRIEF),
                         hbk_words_rest(arena, about, HBK_WORDS_FULL)));
}

static void look_through(struct page *page)
{
    page->surest_db = -INFINITY;
    for (size_t i = 0; i < page->curves->n; i++) {
        const struct hbk_curve *const curve = &page->curves->curves[i];
        for (size_t k = 0; k < curve->n_maxima; k++) {
            const struct hbk_curve_maximum *const m = &curve->maxima[k];
            if (m->partial > 0) {
                page->found =
                    m->partial > page->found ? m->partial : page->found;
                page->surest_db = fmax(page->surest_db, m->response_db);
            }
        }
    }
}

static struct hbk_ladder ladder_of(const struct page *page,
                                   const struct hbk_curve *curve)
{
    return (struct hbk_ladder){.about = &page->curves->about,
                               .curve = curve,
                               .rungs = page->found,
                               .surest_db = page->surest_db,
                               .unit = page->unit,
                               .row = row_least * page->unit};
}

/* How many ladders stand beside each other on a page, evenly shared out. */
static size_t ladders_a_page(const struct page *page)
{
    const double u = page->unit;
    const double width = page->paper.width -
                         2.0 * (page->paper.margin + hbk_page_frame_depth(u) +
                                (0.3 + inside) * u);
    double widest = 0.0;
    for (size_t i = 0; i < page->curves->n; i++) {
        const struct hbk_ladder ladder =
            ladder_of(page, &page->curves->curves[i]);
        widest = fmax(widest, hbk_ladder_least_width(&page->pad, &ladder));
    }
    const size_t most = (size_t)fmax(
        1.0, floor((width + between * u) / (widest + between * u)));
    const size_t pages = (page->curves->n + most - 1) / most;
    return (page->curves->n + pages - 1) / pages;
}

static bool has_side_maxima(const struct hbk_curves *curves)
{
    for (size_t i = 0; i < curves->n; i++) {
        if (hbk_curve_partial(&curves->curves[i], 0) != NULL) {
            return true;
        }
    }
    return false;
}

/* How the ladders are read. */
static const char *legend(const struct page *page, unsigned rungs)
{
    struct hbk_text text = {.arena = page->pad.sheet->arena};
    hbk_text_addf(&text,
                  "A rung for each partial: its number, the note it is played "
                  "for, and by how many cents it is flat (left) or sharp "
                  "(right). Lines every %.0f cents; tint: within %.0f; an "
                  "arrow: over %.0f off. The larger the mark, the more surely "
                  "the note speaks. The mark: the pitch that is played, all "
                  "harmonics together; a stroke: where the tube alone has it.",
                  HBK_LADDER_LINE_CENTS, HBK_LADDER_TRUE_CENTS,
                  HBK_LADDER_CENTS);
    if (rungs < page->found) {
        hbk_text_addf(&text, " Partials above %u are not shown.", rungs);
    }
    return hbk_text_string(&text);
}

/* Where it all comes from. */
static const char *caption(const struct page *page, bool has_plot)
{
    struct hbk_arena *const arena = page->pad.sheet->arena;
    const char *const not_to_learn =
        hbk_words_not_to_learn(arena, &page->curves->about);
    const char *const change =
        hbk_words_mouthpiece(arena, &page->curves->about);
    return hbk_arena_printf(
        arena,
        "Computed for the air in the tube, without the player. %s%s%s%s%s%s%s",
        has_plot ? "The curve: input impedance at the mouthpiece, 20 log |Z| "
                   "S/\u03c1c, S the area of the bore where the air column "
                   "begins; its tops are the partials. "
                 : "The curve of impedance needs a larger paper. ",
        has_plot && page->shown.n == 1 && has_side_maxima(&page->shown)
            ? "A top without a number is a side resonance. "
            : "",
        change, change[0] == '\0' ? "" : " ", not_to_learn,
        not_to_learn[0] == '\0' ? "" : " ",
        hbk_words_provenance(arena, page->curves->about.horn));
}

static void draw_ladders(struct page *page, double y, unsigned rungs,
                         double row)
{
    const double u = page->unit;
    const size_t n = page->shown.n;
    const double most =
        (page->width - between * u * (double)(n - 1)) / (double)n;
    const double width = fmin(most, widest_ladder * u);
    const double all = width * (double)n + between * u * (double)(n - 1);
    const double left = page->x + 0.5 * (page->width - all);
    for (size_t i = 0; i < n; i++) {
        struct hbk_ladder ladder = ladder_of(page, &page->shown.curves[i]);
        ladder.rungs = rungs;
        ladder.row = row;
        ladder.width = width;
        ladder.hertz = (width >= hertz_width[0] * u ? 1U : 0U) +
                       (width >= hertz_width[1] * u ? 1U : 0U);
        hbk_ladder_draw(&page->pad, &ladder,
                        left + (width + between * u) * (double)i, y);
    }
}

static void lay_page(struct page *page)
{
    const double u = page->unit;
    const struct hbk_style plain =
        style_of(page, HBK_FACE_PLAIN, 9.0, HBK_LEFT);
    const struct hbk_style small =
        style_of(page, HBK_FACE_PLAIN, 7.8, HBK_LEFT);
    const double top = begin_page(page) + 0.5 * part_gap * u;
    const double words = fmax(text_height(page, small, caption(page, true)),
                              text_height(page, small, caption(page, false))) +
                         text_height(page, plain, legend(page, 0)) +
                         2.0 * part_gap * u;
    const double room = page->end - top - words - hbk_ladder_head_height(u);
    const double least = row_least * u;
    const unsigned most = (unsigned)fmax(1.0, floor(room / least));
    const unsigned rungs =
        page->found < most ? (page->found > 0 ? page->found : 1) : most;
    /* The ladders first; the curve takes what they can spare. */
    const double spare = room - least * rungs;
    const bool has_plot = spare >= (plot_least + part_gap) * u;
    const double plot =
        has_plot ? fmin(fmax(plot_least * u, 0.28 * room), plot_most * u) : 0.0;
    const double for_plot = has_plot ? fmin(plot, spare - part_gap * u) : 0.0;
    const double row =
        fmin((room - (has_plot ? for_plot + part_gap * u : 0.0)) / rungs,
             row_most * u);
    double y = top;
    draw_ladders(page, y, rungs, row);
    y += hbk_ladder_head_height(u) + row * rungs + part_gap * u;
    y = paragraph(page, plain, y, legend(page, rungs)) + part_gap * u;
    const char *const foot = caption(page, has_plot);
    const double foot_y = page->end - text_height(page, small, foot);
    if (has_plot) {
        const struct hbk_plot inset = {
            .curves = &page->shown,
            .unit = u,
            .x = page->x,
            .y = y,
            .width = page->width,
            .height = fmin(foot_y - y - 1.0 * u, plot_most * u)};
        hbk_plot_draw(&page->pad, &inset);
    }
    paragraph(page, small, foot_y, foot);
}

void hbk_sheet_curves(const struct hbk_curves *curves,
                      const struct hbk_sheet_options *options,
                      const struct hbk_ruler *ruler, struct hbk_sheet *sheet)
{
    struct hbk_arena *const arena = sheet->arena;
    const char *const title =
        options->title == NULL ? curves->about.horn->name : options->title;
    const size_t length = strcspn(title, ",");
    const char *rest = title + length;
    rest += strspn(rest, ", ");
    sheet->title = hbk_arena_copy(arena, title, strlen(title));
    sheet->kind = "curves";
    sheet->subject = "The partials of each fingering, flat or sharp";
    struct page page = {
        .pad = {.sheet = sheet, .ruler = ruler},
        .curves = curves,
        .shown = *curves,
        .paper = options->paper == HBK_A6
                     ? hbk_paper_size(options->paper)
                     : hbk_paper_turned(hbk_paper_size(options->paper)),
        .upright = options->paper == HBK_A6,
        .unit = options->paper == HBK_A3 ? 1.4 : 1.0,
        .name = hbk_arena_copy(arena, title, length),
        .below = hbk_arena_printf(arena, "%s%s%s", rest,
                                  rest[0] == '\0' ? "" : " \u00B7 ",
                                  hbk_words_read_sounds(arena, &curves->about)),
    };
    look_through(&page);
    const size_t each = ladders_a_page(&page);
    for (size_t first = 0; first < curves->n; first += each) {
        const size_t left = curves->n - first;
        page.shown.curves = curves->curves + first;
        page.shown.n = left < each ? left : each;
        lay_page(&page);
    }
}
