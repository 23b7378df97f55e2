#include "render/play.h"

#include "base/pi.h"
#include "page/ink.h"
#include "render/fonts.h"

#include <math.h>
#include <string.h>

static void set_ink(cairo_t *cr, enum hbk_ink ink)
{
    const double level = hbk_ink_level(ink);
    cairo_set_source_rgb(cr, level, level, level);
}

/* The signs that HBK_BOLD_OUTLINE speaks of, once more as outlines. */
static void thicken(struct hbk_player *player, const PangoLayoutLine *line,
                    double x)
{
    cairo_t *cr = player->cr;
    cairo_set_line_width(cr, HBK_BOLD_OUTLINE * HBK_SET_SIZE);
    for (const GSList *at = line->runs; at != NULL; at = at->next) {
        const PangoGlyphItem *run = at->data;
        PangoFont *font = run->item->analysis.font;
        if (hbk_fonts_cut(player->fonts, font) == HBK_CUT_OTHER_BOLD) {
            cairo_move_to(cr, x, 0.0);
            pango_cairo_glyph_string_path(cr, font, run->glyphs);
            cairo_stroke(cr);
        }
        x += (double)pango_glyph_string_get_width(run->glyphs) / PANGO_SCALE;
    }
}

/*
 * In a tagged document each text ends with a space, or the words at the ends
 * of lines would run together when read out. The space takes no part in the
 * alignment.
 */
static void play_text(struct hbk_player *player, const struct hbk_mark *mark)
{
    cairo_t *cr = player->cr;
    struct hbk_fonts *fonts = player->fonts;
    const struct hbk_typeset how = hbk_typeset_of(mark->face, mark->size);
    const char *text = hbk_fonts_known_text(fonts, how, mark->text,
                                            player->missing, player->faults);
    double beyond = 0.0;
    if (player->structure != NULL) {
        const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
        text = hbk_arena_printf(fonts->arena, "%s ", text);
        beyond = ruler.text_width(ruler.ctx, mark->face, mark->size, " ");
    }
    PangoLayout *layout = hbk_fonts_layout(fonts, how, text);
    PangoRectangle logical;
    pango_layout_get_extents(layout, NULL, &logical);
    const double scale = mark->size / HBK_SET_SIZE;
    const double width = (double)logical.width / PANGO_SCALE - beyond / scale;
    static const double shares[] = {
        [HBK_LEFT] = 0.0, [HBK_CENTRE] = 0.5, [HBK_RIGHT] = 1.0};
    cairo_save(cr);
    cairo_translate(cr, mark->x, mark->y);
    cairo_rotate(cr, mark->turned ? -HBK_PI / 2.0 : 0.0);
    cairo_scale(cr, scale, scale);
    cairo_move_to(cr, -shares[mark->align] * width, 0.0);
    PangoLayoutLine *line = pango_layout_get_line_readonly(layout, 0);
    pango_cairo_show_layout_line(cr, line);
    thicken(player, line, -shares[mark->align] * width);
    cairo_restore(cr);
    g_object_unref(layout);
}

static void play_glyph(struct hbk_player *player, const struct hbk_mark *mark)
{
    cairo_t *cr = player->cr;
    const struct hbk_music_fix fix = hbk_music_fix(mark->glyph);
    const double space = mark->size / 4.0;
    const cairo_glyph_t glyph = {
        hbk_fonts_music_index(player->fonts, mark->glyph),
        mark->x + fix.dx * space, mark->y - fix.dy * space};
    cairo_set_font_face(cr, player->fonts->music);
    cairo_set_font_options(cr, player->fonts->options);
    cairo_set_font_size(cr, mark->size * fix.scale);
    /* Left to the font, an accidental would run into the name of its head. */
    const cairo_text_cluster_t cluster = {1, 1};
    cairo_show_text_glyphs(cr, " ", -1, &glyph, 1, &cluster, 1, 0);
}

static void trace_points(cairo_t *cr, const struct hbk_mark *mark)
{
    cairo_new_path(cr);
    for (size_t i = 0; i < mark->n_points; i++) {
        cairo_line_to(cr, mark->points[i].x, mark->points[i].y);
    }
}

static void stroke_dashed(cairo_t *cr, const struct hbk_mark *mark)
{
    int n = 0;
    while (n < HBK_DASH_MAX && mark->dash[n] > 0.0) {
        n++;
    }
    cairo_set_dash(cr, mark->dash, n, 0.0);
    cairo_stroke(cr);
    cairo_set_dash(cr, NULL, 0, 0.0);
}

/* A band: out along points 0 to 3, back along 4 to 7. */
static void play_curve(cairo_t *cr, const struct hbk_point p[8])
{
    cairo_move_to(cr, p[0].x, p[0].y);
    cairo_curve_to(cr, p[1].x, p[1].y, p[2].x, p[2].y, p[3].x, p[3].y);
    cairo_line_to(cr, p[4].x, p[4].y);
    cairo_curve_to(cr, p[5].x, p[5].y, p[6].x, p[6].y, p[7].x, p[7].y);
    cairo_close_path(cr);
    cairo_fill(cr);
}

/*
 * In a document with parts every run is enclosed, by the one name that the
 * library takes for any of them; hbk_pdf_finish() puts it right.
 */
static const char run_name[] = "P";

static void begin_run(struct hbk_player *player, const struct hbk_mark *mark)
{
    if (player->structure != NULL &&
        hbk_structure_take(player->structure, mark)) {
        cairo_tag_end(player->cr, run_name);
        cairo_tag_begin(player->cr, run_name, NULL);
    }
}

/*
 * What is said is text as well, small and not seen; within the page, since
 * readers leave out what lies beyond.
 */
static void play_said(struct hbk_player *player, const struct hbk_mark *mark,
                      const char *words)
{
    if (player->structure == NULL || !hbk_structure_hears(player->structure)) {
        return;
    }
    struct hbk_mark said = {
        .kind = HBK_SAY, .y = mark->y, .size = HBK_SAID_SIZE, .text = words};
    const struct hbk_ruler *ruler = player->structure->ruler;
    const double room = player->page->width - 2.0 * player->page->margin;
    double width = ruler->text_width(ruler->ctx, said.face, said.size, words);
    if (width > room) {
        said.size *= room / width;
        width = room;
    }
    said.x = fmin(mark->x, player->page->width - player->page->margin - width);
    begin_run(player, &said);
    play_text(player, &said);
}

/* What is read otherwise than it is printed is said, and then printed. */
static void play_words(struct hbk_player *player, const struct hbk_mark *mark)
{
    struct hbk_mark printed = *mark;
    if (mark->reads != NULL && strcmp(mark->reads, mark->text) != 0) {
        if (mark->reads[0] != '\0') {
            play_said(player, mark, mark->reads);
        }
        printed.reads = "";
    }
    begin_run(player, &printed);
    set_ink(player->cr, mark->ink);
    play_text(player, &printed);
}

/* A music character is drawn beside the words that say it. */
static void play_sign(struct hbk_player *player, const struct hbk_mark *mark)
{
    struct hbk_mark printed = *mark;
    if (mark->text != NULL && mark->text[0] != '\0') {
        play_said(player, mark, mark->text);
    }
    printed.text = NULL;
    begin_run(player, &printed);
    set_ink(player->cr, mark->ink);
    play_glyph(player, &printed);
}

static void play_mark(struct hbk_player *player, const struct hbk_mark *mark)
{
    static const double turn = 6.283185307179586;
    cairo_t *cr = player->cr;
    if (mark->kind == HBK_TEXT) {
        play_words(player, mark);
        return;
    }
    if (mark->kind == HBK_SAY) {
        play_said(player, mark, mark->text);
        return;
    }
    if (mark->kind == HBK_GLYPH) {
        play_sign(player, mark);
        return;
    }
    begin_run(player, mark);
    set_ink(cr, mark->ink);
    cairo_set_line_width(cr, mark->pen);
    switch (mark->kind) {
    case HBK_LINE:
        cairo_move_to(cr, mark->x, mark->y);
        cairo_rel_line_to(cr, mark->dx, mark->dy);
        stroke_dashed(cr, mark);
        return;
    case HBK_FRAME:
        cairo_rectangle(cr, mark->x, mark->y, mark->dx, mark->dy);
        cairo_stroke(cr);
        return;
    case HBK_PANEL:
        cairo_rectangle(cr, mark->x, mark->y, mark->dx, mark->dy);
        cairo_fill(cr);
        return;
    case HBK_RING:
        cairo_new_path(cr);
        cairo_arc(cr, mark->x, mark->y, mark->dx, 0.0, turn);
        cairo_close_path(cr);
        cairo_stroke(cr);
        return;
    case HBK_DISC:
        cairo_new_path(cr);
        cairo_arc(cr, mark->x, mark->y, mark->dx, 0.0, turn);
        cairo_fill(cr);
        return;
    case HBK_SHAPE:
        trace_points(cr, mark);
        cairo_close_path(cr);
        cairo_fill(cr);
        return;
    case HBK_PATH:
        trace_points(cr, mark);
        stroke_dashed(cr, mark);
        return;
    case HBK_CURVE:
        play_curve(cr, mark->points);
        return;
    case HBK_GLYPH:
    case HBK_TEXT:
    case HBK_SAY:
    case HBK_OPEN:
    case HBK_CLOSE:
        return;
    }
}

/*
 * The library keeps the region that its marks cover as a union of boxes, and
 * each mark among thousands takes as long as all before it. With the whole
 * page covered first, every later box lies within one.
 */
static void white_ground(cairo_t *cr, const struct hbk_page *page)
{
    cairo_set_source_rgb(cr, 1.0, 1.0, 1.0);
    cairo_rectangle(cr, 0.0, 0.0, page->width, page->height);
    cairo_fill(cr);
}

void hbk_play_page(struct hbk_player *player, const struct hbk_page *page)
{
    if (player->structure != NULL) {
        hbk_structure_page(player->structure);
        cairo_tag_begin(player->cr, run_name, NULL);
        white_ground(player->cr, page);
    }
    player->page = page;
    for (size_t i = 0; i < page->n; i++) {
        play_mark(player, &page->marks[i]);
    }
    if (player->structure != NULL) {
        cairo_tag_end(player->cr, run_name);
    }
}
