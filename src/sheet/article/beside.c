#include "sheet/article/beside.h"

#include "base/arena.h"
#include "horn/about.h"
#include "sheet/article/beside_table.h"
#include "sheet/article/beside_words.h"
#include "sheet/block/title.h"
#include "sheet/words/words.h"
#include "sheet/words/words_beside.h"

#include <math.h>

/* At unit 1, mm. */
static const double title_top = 13.6;
static const double below_title = 4.0;
static const double above_edge = 3.0; /* between the foot and the frame */

/* From line to line, of the height of the type. */
static const double leading = 1.27;

/* Sentences, from what reads best to the least, points. */
static const double most_points = 12.0;
static const double least_points = 8.5;
static const double points_step = 0.5;

/* What is wished for: of the narrowest column, mm at unit 1, and a number. */
static const double good_column = 10.0;
static const double good_figure = 13.0; /* points */

/* Rows and staves grow into what is left over. */
static const double most_growth = 1.5;
static const double growth_step = 0.05;
static const double least_air = 7.0; /* of all gaps, mm at unit 1 */

static struct hbk_title title_of(const struct hbk_beside_page *page)
{
    const struct hbk_title title = {.name = page->coming,
                                    .below = "",
                                    .points = 26.0,
                                    .unit = hbk_beside_title_unit(page),
                                    .rule = 74.0};
    return title;
}

static struct hbk_style to_style(const struct hbk_beside_page *page)
{
    struct hbk_style style = hbk_beside_style(page, HBK_FACE_ITALIC, 12.0, 8.5);
    style.align = HBK_CENTRE;
    return style;
}

static double title_height(const struct hbk_beside_page *page)
{
    const struct hbk_title title = title_of(page);
    return title_top * page->s + hbk_title_height(&title) +
           leading * to_style(page).size * (double)page->to.n +
           below_title * page->s;
}

static void draw_title(struct hbk_beside_page *page)
{
    const struct hbk_title title = title_of(page);
    const double centre = 0.5 * page->paper.width;
    const double top = title_top * page->s;
    const struct hbk_style style = to_style(page);
    hbk_title_draw(&page->pad, &title, centre, top, page->width);
    hbk_pad_block(&page->pad, HBK_TAG_PARAGRAPH, centre,
                  top + hbk_title_height(&title) + style.size, style,
                  leading * style.size, &page->to);
    page->y = title_height(page) + page->air;
}

/* What one page would have to hold. */
static double whole_height(const struct hbk_beside_page *page)
{
    double height = title_height(page) + hbk_beside_words_height(page) +
                    hbk_beside_foot_height(page);
    for (size_t i = 0; i < page->n_systems; i++) {
        height += hbk_beside_system_height(page, &page->systems[i]);
    }
    return height;
}

/* Large sentences, wide columns and large numbers; more is no better. */
static double pleases(const struct hbk_beside_page *page)
{
    double narrowest = INFINITY;
    for (size_t i = 0; i < page->n; i++) {
        narrowest = fmin(narrowest, page->columns[i].width);
    }
    return page->points / (most_points * page->s) +
           0.7 * fmin(1.0, narrowest / (good_column * page->s)) +
           fmin(good_figure, page->figure) / good_figure;
}

static size_t most_systems(const struct hbk_beside_page *page)
{
    return page->n < HBK_BESIDE_SYSTEMS_MAX ? page->n : HBK_BESIDE_SYSTEMS_MAX;
}

/* The number of staves that pleases most with sentences of that size, or 0. */
static size_t best_systems(struct hbk_beside_page *page, double *pleasure)
{
    size_t best = 0;
    for (size_t n = 1; n <= most_systems(page); n++) {
        const bool readable = hbk_beside_lay_systems(page, n);
        if (whole_height(page) > page->end) {
            break; /* and more staves are taller still */
        }
        if (readable && pleases(page) > *pleasure) {
            best = n;
            *pleasure = pleases(page);
        }
    }
    return best;
}

static void set_points(struct hbk_beside_page *page, double points)
{
    page->points = fmax(least_points, points * page->s);
    hbk_beside_lay_parts(page);
}

/* What does not go on one page: as few staves as can be read. */
static void choose_overleaf(struct hbk_beside_page *page)
{
    page->growth = 1.0;
    set_points(page, least_points);
    if (hbk_beside_parts_row(page) > page->end - hbk_beside_top(page)) {
        page->across = 1;
        hbk_beside_lay_parts(page);
    }
    size_t n = 1;
    while (!hbk_beside_lay_systems(page, n) && n < most_systems(page)) {
        n++;
    }
}

/* The points that please most on one page and how many staves; 0 for none. */
static size_t best_sizes(struct hbk_beside_page *page, double *points)
{
    double pleasure = -1.0;
    size_t systems = 0;
    for (double p = most_points; p >= least_points - 1e-9; p -= points_step) {
        set_points(page, p);
        const size_t best = best_systems(page, &pleasure);
        if (best > 0) {
            systems = best;
            *points = p;
        }
    }
    return systems;
}

/* Rows and staves take what is left over, and the gaps the rest. */
static void grow(struct hbk_beside_page *page, size_t systems)
{
    const double least = page->growth;
    for (page->growth = most_growth; page->growth > least;
         page->growth -= growth_step) {
        if (hbk_beside_lay_systems(page, systems) &&
            whole_height(page) + least_air * page->s <= page->end) {
            break;
        }
    }
    page->growth = fmax(least, page->growth);
    (void)hbk_beside_lay_systems(page, systems);
    const double left = page->end - whole_height(page);
    page->air = fmax(0.0, left) / (double)(page->n_systems + 3);
}

/* Of all that goes on one page, what pleases most; rows shrink last. */
static void choose(struct hbk_beside_page *page)
{
    static const double growths[] = {1.0, 0.86, 0.73};
    for (size_t i = 0; i < sizeof(growths) / sizeof(growths[0]); i++) {
        double points = 0.0;
        page->growth = growths[i];
        const size_t systems = best_sizes(page, &points);
        if (systems > 0) {
            set_points(page, points);
            grow(page, systems);
            return;
        }
    }
    choose_overleaf(page);
}

static void draw(struct hbk_beside_page *page)
{
    hbk_beside_begin(page);
    draw_title(page);
    hbk_beside_words_draw(page);
    for (size_t i = 0; i < page->n_systems; i++) {
        const struct hbk_beside_system *system = &page->systems[i];
        const double height = hbk_beside_system_height(page, system);
        /* The foot is not worth a page: the last staff goes with it. */
        const bool is_last = i > 0 && i + 1 == page->n_systems;
        page->y += page->air;
        hbk_beside_room(page,
                        height + (is_last ? hbk_beside_foot_height(page) : 0));
        hbk_beside_system_draw(page, system);
        page->y += height;
    }
    hbk_beside_room(page, hbk_beside_foot_height(page));
    hbk_beside_foot_draw(page);
}

/* 1 on A4 and Letter, on small paper as small as can still be read. */
static double unit_of(enum hbk_paper paper)
{
    return paper == HBK_A3   ? 297.0 / 210.0
           : paper == HBK_A5 ? 0.74
           : paper == HBK_A6 ? 0.60
                             : 1.0;
}

void hbk_sheet_beside(const struct hbk_notes *here,
                      const struct hbk_sheet_options *options,
                      const struct hbk_ruler *ruler, struct hbk_sheet *sheet)
{
    struct hbk_arena *const arena = sheet->arena;
    const bool small = options->paper == HBK_A5 || options->paper == HBK_A6;
    const struct hbk_paper_size upright = hbk_paper_size(options->paper);
    struct hbk_beside_page page = {.pad = {.sheet = sheet, .ruler = ruler},
                                   .here = here,
                                   .known = options->beside,
                                   .options = options,
                                   .paper = small ? upright
                                                  : hbk_paper_turned(upright),
                                   .s = unit_of(options->paper),
                                   .growth = 1.0,
                                   .across = options->paper == HBK_A6 ? 1u
                                             : small                  ? 2u
                                                                      : 4u};
    page.x = HBK_BESIDE_MARGIN * page.s;
    page.width = page.paper.width - 2.0 * page.x;
    page.end = page.paper.height - (HBK_BESIDE_EDGE + above_edge) * page.s;
    page.coming = hbk_beside_coming(arena, here, page.known);
    const char *const whom = hbk_words_whom(arena, options->whom);
    const char *const to = hbk_arena_printf(
        arena, "to %s%s%s",
        hbk_beside_called(arena, options->title == NULL
                                     ? hbk_horn_name(here->horn)
                                     : options->title),
        whom[0] == '\0' ? "" : " \u00B7 ", whom);
    page.to = hbk_pad_wrap(&page.pad, to_style(&page), page.width, to);
    page.warning = hbk_beside_warning(arena, here, page.known);
    hbk_beside_list(&page);
    hbk_beside_write(&page);
    choose(&page);
    draw(&page);
}
