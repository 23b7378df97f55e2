#include "sheet/article/scales_sheet.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "sheet/article/scale_staff.h"
#include "sheet/article/scales_ranking.h"
#include "sheet/block/head.h"
#include "sheet/block/signs.h"
#include "sheet/block/title.h"
#include "sheet/words/words.h"

#include <math.h>
#include <string.h>

/* Scales on the sheet: as many as a page holds in a size for the stand. */
enum { SHOWN = 8 };

/* mm at unit 1, and points. */
static const double title_points = 27.0;
static const double title_rule = 70.0;
static const double line_points = 12.0;
static const double legend_points = 10.2;
static const double least_words = 8.5;
static const double figure_points = 15.5;
static const double least_figure = 10.0;
static const double most_gap = 7.0;
static const double least_gap = 1.6;
static const double white = 1.6; /* beside a figure */

/* A figure keeps so much of its size before a line is broken. */
static const double figure_share = 0.74;

/* Of a staff, mm at unit 1, and the least at any unit. */
static const double most_space = 1.9;
static const double least_space = 1.3;

struct scales {
    struct hbk_article *article;
    const struct hbk_notes *notes;
    const char *whom; /* for whom the sheet is; NULL for nobody */
    struct hbk_scale_plan plan;
    size_t n;
    struct hbk_scale_octave shown[SHOWN];
    struct hbk_legend_lines legend;
    double heights[SHOWN];
};

static double unit_of(enum hbk_paper paper)
{
    static const double units[HBK_PAPER_COUNT] = {[HBK_A4] = 1.0,
                                                  [HBK_A3] = 1.414,
                                                  [HBK_A5] = 0.78,
                                                  [HBK_A6] = 0.72,
                                                  [HBK_LETTER] = 1.0};
    return units[paper];
}

/* The easiest keys; of these the major ones, then the minor ones. */
static void choose(struct scales *scales, const struct hbk_scales *all,
                   enum hbk_scale_from from)
{
    size_t chosen[SHOWN];
    struct hbk_scale_octave octave;
    size_t n = 0;
    for (size_t i = 0; i < all->n_placed && n < SHOWN; i++) {
        if (hbk_scale_octave_find(scales->notes, &all->keys[all->order[i]],
                                  from, &octave)) {
            chosen[n++] = all->order[i];
        }
    }
    for (int minor = 0; minor < 2; minor++) {
        for (size_t i = 0; i < n; i++) {
            const struct hbk_scale *const key = &all->keys[chosen[i]];
            if (key->minor == (minor == 1) &&
                hbk_scale_octave_find(scales->notes, key, from, &octave)) {
                scales->shown[scales->n++] = octave;
            }
        }
    }
}

/* What the scales that are shown have among them. */
static void look_through(struct scales *scales)
{
    for (size_t i = 0; i < scales->n; i++) {
        const struct hbk_scale_octave *const octave = &scales->shown[i];
        for (size_t k = 0; k < HBK_SCALE_UP; k++) {
            const struct hbk_scale_note *const note =
                hbk_scale_octave_note(octave, k);
            scales->plan.asks_lip |=
                hbk_sign_lip(note->taken->cents) != HBK_SIGN_NONE;
            scales->plan.has_unusual |=
                hbk_scale_is_unusual(scales->notes, note);
        }
        for (size_t k = 0; k < octave->scale->n_awkward; k++) {
            const size_t from = octave->scale->awkward[k].from;
            scales->plan.has_awkward |= from >= octave->first &&
                                        from + 1 < octave->first + HBK_SCALE_UP;
        }
    }
}

static double widest_figure(const struct scales *scales, double size)
{
    const struct hbk_style style = {.face = HBK_FACE_FIGURE, .size = size};
    struct hbk_pad *const pad = &scales->article->pad;
    double widest = 0.0;
    for (size_t i = 0; i < scales->n; i++) {
        for (size_t k = 0; k < HBK_SCALE_UP; k++) {
            widest = fmax(
                widest,
                hbk_pad_width(
                    pad, style,
                    hbk_scale_figure(
                        pad->sheet->arena, &scales->plan,
                        hbk_scale_octave_note(&scales->shown[i], k)->taken)));
        }
    }
    return widest;
}

/* Whether "123" can mean nothing but 1, 2 and 3 together. */
static bool can_close_up(const struct hbk_horn *horn)
{
    char label[HBK_LABEL_SIZE];
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        if (strlen(hbk_horn_control_label(horn, i, label, sizeof(label))) > 1) {
            return false;
        }
    }
    return true;
}

static double prefix_of(const struct scales *scales, double space)
{
    int most = 0;
    for (size_t i = 0; i < scales->n; i++) {
        const int signature = scales->shown[i].read.signature;
        const int signs = signature < 0 ? -signature : signature;
        most = signs > most ? signs : most;
    }
    return (4.6 + 1.05 * most) * space;
}

/*
 * Whether the figures fit as the plan stands, in a good size, and accidentals
 * keep clear of bar lines.
 */
static bool try_figures(struct scales *scales, double least)
{
    struct hbk_scale_plan *const plan = &scales->plan;
    const double most = HBK_PT(figure_points) * plan->unit;
    const double room = hbk_scale_pitch(plan) - white * plan->unit;
    const double widest = widest_figure(scales, most);
    plan->figure = fmax(widest <= room ? most : most * room / widest,
                        HBK_PT(least_figure));
    return widest * plan->figure / most <= room + 1e-6 &&
           plan->figure >= least - 1e-9 &&
           hbk_scale_pitch(plan) >= 5.4 * plan->space;
}

/*
 * All notes on one line, else without hyphens, else the line is broken in two
 * or four.
 */
static void set_figures(struct scales *scales)
{
    static const size_t per_line[] = {HBK_SCALE_NOTES, 8, 4};
    struct hbk_scale_plan *const plan = &scales->plan;
    const bool closes = can_close_up(scales->notes->horn);
    const double least =
        fmax(HBK_PT(least_figure),
             figure_share * HBK_PT(figure_points) * plan->unit);
    for (size_t i = 0; i < sizeof(per_line) / sizeof(per_line[0]); i++) {
        for (int closed = 0; closed < (closes ? 2 : 1); closed++) {
            plan->per_line = per_line[i];
            plan->closed_up = closed == 1;
            const double enough = i == 0 ? least : HBK_PT(least_figure);
            if (try_figures(scales, enough)) {
                return;
            }
        }
    }
}

static void set_space(struct scales *scales, double space)
{
    scales->plan.space = space;
    scales->plan.prefix = prefix_of(scales, space);
    set_figures(scales);
    for (size_t i = 0; i < scales->n; i++) {
        scales->heights[i] =
            hbk_scale_staff_height(&scales->plan, &scales->shown[i]);
    }
}

static double all_heights(const struct scales *scales)
{
    double sum = 0.0;
    for (size_t i = 0; i < scales->n; i++) {
        sum += scales->heights[i] + least_gap * scales->plan.unit;
    }
    return sum;
}

/* The largest staff with which all scales stand on one page, else the least. */
static void set_plan(struct scales *scales, double room)
{
    const double u = scales->plan.unit;
    const double least = fmax(least_space, least_space * u);
    for (double space = fmax(most_space * u, least); space > least;
         space -= 0.05) {
        set_space(scales, space);
        if (all_heights(scales) <= room) {
            return;
        }
    }
    set_space(scales, least);
}

static const char *figures_mean(struct hbk_arena *arena,
                                const struct hbk_horn *horn, bool closed_up)
{
    const bool keys = hbk_horn_has_kind(horn, HBK_KEY);
    const bool valves = hbk_horn_has_kind(horn, HBK_VALVE);
    const char *const what = keys && valves ? "keys (k) and valves (v)"
                             : keys         ? "keys"
                                            : "valves";
    return hbk_arena_printf(arena, "Figures: the %s pressed; 0: none.%s", what,
                            closed_up ? " 12: 1 and 2 together." : "");
}

/* "Key 1 is open at rest; pressing closes it." */
static const char *open_at_rest(struct hbk_arena *arena,
                                const struct hbk_notes *notes)
{
    const struct hbk_horn *const horn = notes->horn;
    const struct hbk_stuck *const stuck = &notes->setting.stuck;
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        const bool moves = ((stuck->held_down | stuck->held_up) >> i & 1U) == 0;
        if (hbk_horn_control(horn, i)->stands_open && moves) {
            hbk_text_addf(
                &text, "%sKey %s is open at rest; pressing closes it.",
                text.length == 0 ? "" : " ", hbk_horn_control(horn, i)->name);
        }
    }
    return hbk_text_string(&text);
}

static void set_legend(struct scales *scales)
{
    enum { ENTRIES = 8 };
    struct hbk_arena *const arena = scales->article->pad.sheet->arena;
    struct hbk_sign_words *const entries =
        HBK_ARENA_ARRAY(arena, struct hbk_sign_words, ENTRIES);
    const struct hbk_horn *const horn = scales->notes->horn;
    bool has_minor = false;
    for (size_t i = 0; i < scales->n; i++) {
        has_minor |= scales->shown[i].read.minor;
    }
    size_t n = 0;
    entries[n++].words = figures_mean(arena, horn, scales->plan.closed_up);
    if (scales->plan.asks_lip) {
        entries[n++] = (struct hbk_sign_words){HBK_SIGN_LIP_UP, "lip up"};
        entries[n++] = (struct hbk_sign_words){HBK_SIGN_LIP_DOWN, "lip down"};
    }
    entries[n++].words = open_at_rest(arena, scales->notes);
    entries[n++].words =
        has_minor ? "Minor scales have their seventh raised, up and down." : "";
    if (scales->plan.has_awkward) {
        entries[n++] = (struct hbk_sign_words){
            HBK_SIGN_CROSSING, "fingers cross or change together: go slowly."};
    }
    if (scales->plan.has_unusual) {
        entries[n++].words = "Underlined: not the usual fingering, but easier "
                             "in this scale.";
    }
    entries[n++].words = hbk_words_assumed(arena, scales->notes);
    struct hbk_style style = hbk_style_of(HBK_FACE_PLAIN, legend_points,
                                          scales->plan.unit, HBK_LEFT);
    style.size = fmax(style.size, HBK_PT(least_words));
    scales->legend = (struct hbk_legend_lines){.n = n,
                                               .entries = entries,
                                               .style = style,
                                               .width = scales->article->width};
}

static double legend_height(const struct scales *scales)
{
    return hbk_signs_height(&scales->article->pad, &scales->legend) +
           2.2 * scales->plan.unit;
}

static void draw_legend(struct scales *scales)
{
    struct hbk_article *const article = scales->article;
    const double y = article->end - legend_height(scales);
    hbk_pad_group(&article->pad);
    hbk_pad_line(&article->pad, article->x, y, article->width, 0.0,
                 0.15 * fmax(scales->plan.unit, 1.0));
    hbk_signs_draw(&article->pad, &scales->legend, article->x,
                   y + 1.6 * scales->plan.unit);
}

/* "Five major and three minor scales, the easiest of each first". */
static const char *which_scales(struct hbk_arena *arena,
                                const struct scales *scales)
{
    size_t n[2] = {0, 0};
    for (size_t i = 0; i < scales->n; i++) {
        n[scales->shown[i].read.minor ? 1 : 0]++;
    }
    if (n[0] > 0 && n[1] > 0) {
        return hbk_arena_printf(
            arena, "%s major and %s minor scales, the easiest of each first",
            hbk_words_count(arena, n[0], true),
            hbk_words_count(arena, n[1], false));
    }
    const size_t all = n[0] + n[1];
    return hbk_arena_printf(arena, "%s %s scale%s%s",
                            hbk_words_count(arena, all, true),
                            n[0] > 0 ? "major" : "minor", all == 1 ? "" : "s",
                            all == 1 ? "" : ", the easiest first");
}

/* The line below the title, centred; broken where it is long. */
static void draw_below(struct scales *scales, const char *text)
{
    struct hbk_article *const article = scales->article;
    struct hbk_style style = hbk_style_of(HBK_FACE_ITALIC, line_points,
                                          scales->plan.unit, HBK_CENTRE);
    style.size = fmax(style.size, HBK_PT(least_words));
    style = hbk_pad_fit(&article->pad, style, article->width - 0.05,
                        fmin(1.0, HBK_PT(least_words) / style.size), text);
    article->y += hbk_pad_paragraph(
        &article->pad, HBK_TAG_PARAGRAPH, style, 1.25 * style.size,
        (struct hbk_point){article->x, article->y}, article->width, text);
}

/* The title of either sheet with what it holds, and the horn with its key. */
static void draw_title(struct scales *scales, const char *holds)
{
    struct hbk_article *const article = scales->article;
    struct hbk_arena *const arena = article->pad.sheet->arena;
    const struct hbk_notes *const notes = scales->notes;
    const double u = scales->plan.unit;
    const char *name;
    const char *rest;
    hbk_head_split(arena, article->title, &name, &rest);
    const struct hbk_title title = {.name = name,
                                    .below = "",
                                    .points = title_points,
                                    .unit = u,
                                    .rule = title_rule};
    hbk_article_title(article, &title);
    article->y += 1.8 * u;
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(&text, "%s%s%s", rest, rest[0] == '\0' ? "" : " \u00B7 ",
                  holds);
    hbk_text_addf(&text, " \u00B7 %s",
                  hbk_words_sounds(arena, notes->written_c4_sounds -
                                              notes->notation.shift));
    const char *const whom = hbk_words_whom(arena, scales->whom);
    hbk_text_addf(&text, "%s%s", whom[0] == '\0' ? "" : " \u00B7 ", whom);
    draw_below(scales, hbk_text_string(&text));
    article->y += 1.4 * u;
}

/* How many scales from `first` on stand in so much room, and their heights. */
static size_t in_room(const struct scales *scales, size_t first, double room,
                      double *sum)
{
    const double gap = least_gap * scales->plan.unit;
    size_t n = 0;
    *sum = 0.0;
    while (first + n < scales->n &&
           (n == 0 || *sum + scales->heights[first + n] + gap <= room)) {
        *sum += scales->heights[first + n] + gap;
        n++;
    }
    return n;
}

/* As many pages as it takes, with about as many scales on each. */
static size_t per_page(const struct scales *scales, double room)
{
    size_t pages = 0;
    double sum;
    for (size_t first = 0; first < scales->n; pages++) {
        first += in_room(scales, first, room, &sum);
    }
    return (scales->n + pages - 1) / pages;
}

static void draw_scales(struct scales *scales)
{
    struct hbk_article *const article = scales->article;
    const double u = scales->plan.unit;
    const double foot = legend_height(scales);
    const size_t most = per_page(scales, article->end - foot - article->y);
    size_t first = 0;
    while (first < scales->n) {
        double sum;
        const double room = article->end - foot - article->y;
        size_t n = in_room(scales, first, room, &sum);
        while (n > most) {
            n--;
            sum -= scales->heights[first + n] + least_gap * u;
        }
        const double gap = fmin(
            least_gap * u + fmax(0.0, room - sum) / (double)n, most_gap * u);
        for (size_t i = first; i < first + n; i++) {
            hbk_scale_staff_draw(&article->pad, &scales->plan,
                                 &scales->shown[i], article->x, article->y);
            article->y += scales->heights[i] + gap;
        }
        draw_legend(scales);
        first += n;
        if (first < scales->n) {
            hbk_article_turn(article);
        }
    }
}

/* What is to be written out, with words so large. */
static void prepare(struct scales *scales, const struct hbk_scales *all,
                    double unit, enum hbk_scale_from from)
{
    scales->plan = (struct hbk_scale_plan){
        .notes = scales->notes, .unit = unit, .width = scales->article->width};
    choose(scales, all, from);
    look_through(scales);
}

/* The scales from here on, as large as a page holds; there is one at least. */
static void write_out(struct scales *scales)
{
    struct hbk_article *const article = scales->article;
    set_legend(scales);
    set_plan(scales, article->end - article->y - legend_height(scales));
    set_legend(scales);
    draw_scales(scales);
}

struct hbk_scales_written {
    struct scales scales;
};

struct hbk_scales_written *hbk_scales_written_plan(
    struct hbk_article *article, const struct hbk_notes *notes,
    const struct hbk_scales *all, const struct hbk_scales_size *size)
{
    struct hbk_scales_written *const written = HBK_ARENA_ARRAY(
        article->pad.sheet->arena, struct hbk_scales_written, 1);
    struct scales *const scales = &written->scales;
    scales->article = article;
    scales->notes = notes;
    prepare(scales, all, size->unit, size->from);
    if (scales->n == 0) {
        return NULL;
    }
    set_space(scales, size->space);
    set_legend(scales);
    return written;
}

double hbk_scales_written_height(const struct hbk_scales_written *written)
{
    const struct scales *const scales = &written->scales;
    return hbk_signs_height(&scales->article->pad, &scales->legend) +
           least_gap * scales->plan.unit + scales->heights[0];
}

void hbk_scales_written_draw(struct hbk_scales_written *written)
{
    struct scales *const scales = &written->scales;
    struct hbk_article *const article = scales->article;
    hbk_signs_draw(&article->pad, &scales->legend, article->x, article->y);
    article->y += hbk_signs_height(&article->pad, &scales->legend);
    for (size_t i = 0; i < scales->n; i++) {
        hbk_article_gap(article, least_gap * scales->plan.unit);
        hbk_article_room(article, scales->heights[i]);
        hbk_scale_staff_draw(&article->pad, &scales->plan, &scales->shown[i],
                             article->x, article->y);
        article->y += scales->heights[i];
    }
}

/* All keys with their measures, under how the horn is set. */
static void rank(struct scales *scales, const struct hbk_scales *all)
{
    struct hbk_article *const article = scales->article;
    struct hbk_arena *const arena = article->pad.sheet->arena;
    const struct hbk_notes *const notes = scales->notes;
    struct hbk_style style =
        hbk_article_style(article, HBK_FACE_PLAIN, legend_points);
    style.size = fmax(style.size, HBK_PT(least_words));
    draw_title(scales, all->n_placed > 0
                           ? "All keys, with what makes them easy or hard"
                           : "Scales");
    hbk_article_paragraph(
        article, style,
        hbk_arena_printf(arena, "%s %s %s",
                         hbk_words_set(arena, notes, HBK_WORDS_FULL),
                         hbk_words_rest(arena, notes, HBK_WORDS_FULL),
                         hbk_words_assumed(arena, notes)));
    hbk_scales_ranking_draw(article, notes, all);
}

enum hbk_status hbk_sheet_scales(const struct hbk_notes *notes,
                                 const struct hbk_scales *scales,
                                 const struct hbk_sheet_options *options,
                                 const struct hbk_ruler *ruler,
                                 struct hbk_sheet *sheet)
{
    struct hbk_arena *const arena = sheet->arena;
    bool reached = false;
    for (size_t i = 0; i < notes->n; i++) {
        reached = reached || notes->notes[i].n > 0;
    }
    if (!reached) {
        return HBK_ERR_DOMAIN;
    }
    const char *const name =
        options->title == NULL ? hbk_horn_name(notes->horn) : options->title;
    sheet->title = hbk_arena_printf(arena, "%s: scales", name);
    sheet->kind = "scales";
    sheet->subject = hbk_arena_printf(
        arena, "%s. %s.", hbk_words_sounds(arena, notes->written_c4_sounds),
        hbk_words_pitch(arena, &notes->setting));
    struct hbk_article *const article =
        HBK_ARENA_ARRAY(arena, struct hbk_article, 1);
    hbk_article_begin(article, sheet, ruler, hbk_paper_size(options->paper),
                      hbk_article_unit(options->paper), name);
    struct scales *const sheets = HBK_ARENA_ARRAY(arena, struct scales, 1);
    sheets->article = article;
    sheets->notes = notes;
    sheets->whom = options->whom;
    prepare(sheets, scales, unit_of(options->paper), HBK_SCALE_TONIC);
    if (sheets->n > 0) {
        draw_title(sheets, which_scales(arena, sheets));
        write_out(sheets);
        hbk_article_page(article);
    }
    rank(sheets, scales);
    return HBK_OK;
}
