#include "page/ink.h"
#include "render/play.h"
#include "render/svg_said.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/*
 * SVG by hand: each glyph is drawn once, in thousandths of its em, and used
 * wherever it stands. The library's own writer repeats itself at three times
 * the size, and numbers its parts through the whole run of the program, so
 * that the same sheet would not give the same bytes twice.
 */
struct outline {
    enum hbk_cut cut;
    unsigned long index;
};

struct writer {
    struct hbk_player *player;
    struct hbk_arena *arena;
    struct hbk_text glyphs;
    struct hbk_text body;
    struct hbk_svg_said said;
    cairo_t *scratch; /* where outlines are traced */
    size_t n_outlines, capacity;
    struct outline *outlines;
};

/* A length with at most three decimals and no needless character. */
static void put_number(struct hbk_text *out, double value)
{
    char text[32];
    snprintf(text, sizeof(text), "%.3f", value);
    char *end = text + strlen(text);
    while (end[-1] == '0') {
        *--end = '\0';
    }
    if (end[-1] == '.') {
        *--end = '\0';
    }
    hbk_text_add(out, strcmp(text, "-0") == 0 ? "0" : text);
}

static void put_pair(struct hbk_text *out, const char *before, double x,
                     double y)
{
    hbk_text_add(out, before);
    put_number(out, x);
    hbk_text_add(out, " ");
    put_number(out, y);
}

static void put_ink(struct hbk_text *out, const char *what, enum hbk_ink ink)
{
    const long level = lround(255.0 * hbk_ink_level(ink));
    if (level == 0 || level == 255) {
        hbk_text_addf(out, " %s=\"%s\"", what, level == 0 ? "#000" : "#fff");
    } else {
        hbk_text_addf(out, " %s=\"#%02lx%02lx%02lx\"", what, level, level,
                      level);
    }
}

/* What is traced, as relative whole numbers. */
static void put_outline(struct hbk_text *out, const cairo_path_t *path)
{
    long x = 0;
    long y = 0;
    for (int i = 0; i < path->num_data; i += path->data[i].header.length) {
        const cairo_path_data_t *data = &path->data[i];
        const int points = data->header.length - 1;
        static const char letters[] = {[CAIRO_PATH_MOVE_TO] = 'M',
                                       [CAIRO_PATH_LINE_TO] = 'l',
                                       [CAIRO_PATH_CURVE_TO] = 'c',
                                       [CAIRO_PATH_CLOSE_PATH] = 'z'};
        const bool absolute = data->header.type == CAIRO_PATH_MOVE_TO;
        if (absolute && i + data->header.length >= path->num_data) {
            break; /* a last move draws nothing */
        }
        hbk_text_put(out, &letters[data->header.type], 1);
        const long from_x = absolute ? 0 : x;
        const long from_y = absolute ? 0 : y;
        for (int k = 1; k <= points; k++) {
            x = lround(data[k].point.x);
            y = lround(data[k].point.y);
            hbk_text_addf(out, "%s%ld %ld", k > 1 ? " " : "", x - from_x,
                          y - from_y);
        }
    }
}

static cairo_font_face_t *face_of(struct writer *writer, enum hbk_cut cut,
                                  PangoFont *font)
{
    if (cut == HBK_CUT_MUSIC) {
        return writer->player->fonts->music;
    }
    return cairo_scaled_font_get_font_face(
        pango_cairo_font_get_scaled_font(PANGO_CAIRO_FONT(font)));
}

/* The number of an outline, which is drawn if it is new. */
static size_t outline_of(struct writer *writer, enum hbk_cut cut,
                         PangoFont *font, unsigned long index)
{
    for (size_t i = 0; i < writer->n_outlines; i++) {
        if (writer->outlines[i].cut == cut &&
            writer->outlines[i].index == index) {
            return i;
        }
    }
    HBK_ARENA_GROW(writer->arena, writer->outlines, writer->n_outlines,
                   writer->capacity);
    const size_t number = writer->n_outlines++;
    writer->outlines[number] = (struct outline){cut, index};
    const cairo_glyph_t glyph = {index, 0.0, 0.0};
    cairo_new_path(writer->scratch);
    cairo_set_font_face(writer->scratch, face_of(writer, cut, font));
    cairo_set_font_size(writer->scratch, 1000.0);
    cairo_set_font_options(writer->scratch, writer->player->fonts->options);
    cairo_glyph_path(writer->scratch, &glyph, 1);
    cairo_path_t *path = cairo_copy_path(writer->scratch);
    hbk_text_addf(&writer->glyphs, "<path id=\"g%zu\" d=\"", number);
    put_outline(&writer->glyphs, path);
    hbk_text_add(&writer->glyphs, "\"/>\n");
    cairo_path_destroy(path);
    return number;
}

/* Opens a group in which a thousandth of the em is the unit. */
static void open_em(struct writer *writer, struct hbk_point at, bool turned,
                    double size, enum hbk_ink ink)
{
    struct hbk_text *out = &writer->body;
    put_pair(out, "<g transform=\"translate(", at.x, at.y);
    hbk_text_addf(out, ")%sscale(%.6g)\"", turned ? "rotate(-90)" : "",
                  size / 1000.0);
    if (ink != HBK_BLACK) {
        put_ink(out, "fill", ink);
    }
    hbk_text_add(out, ">");
}

static void use(struct writer *writer, size_t number, double x, double y)
{
    struct hbk_text *out = &writer->body;
    hbk_text_addf(out, "<use xlink:href=\"#g%zu\"", number);
    if (lround(x) != 0) {
        hbk_text_addf(out, " x=\"%ld\"", lround(x));
    }
    if (lround(y) != 0) {
        hbk_text_addf(out, " y=\"%ld\"", lround(y));
    }
    hbk_text_add(out, "/>");
}

/* One run of glyphs of one font; `x` in ems moves on. */
static void write_run(struct writer *writer, const PangoGlyphItem *run,
                      enum hbk_ink ink, double *x)
{
    PangoFont *font = run->item->analysis.font;
    const enum hbk_cut cut = hbk_fonts_cut(writer->player->fonts, font);
    const double unit = 1000.0 / (PANGO_SCALE * HBK_SET_SIZE);
    const bool thick = cut == HBK_CUT_OTHER_BOLD;
    if (thick) {
        hbk_text_addf(&writer->body, "<g stroke-width=\"%.0f\"",
                      1000.0 * HBK_BOLD_OUTLINE);
        put_ink(&writer->body, "stroke", ink);
        hbk_text_add(&writer->body, ">");
    }
    for (int i = 0; i < run->glyphs->num_glyphs; i++) {
        const PangoGlyphInfo *info = &run->glyphs->glyphs[i];
        const bool drawn = info->glyph != PANGO_GLYPH_EMPTY &&
                           (info->glyph & PANGO_GLYPH_UNKNOWN_FLAG) == 0;
        if (drawn) {
            const size_t number = outline_of(writer, cut, font, info->glyph);
            use(writer, number, *x + info->geometry.x_offset * unit,
                info->geometry.y_offset * unit);
        }
        *x += info->geometry.width * unit;
    }
    hbk_text_add(&writer->body, thick ? "</g>" : "");
}

/*
 * Words as text that a browser finds and a voice reads: not painted, as long
 * as the outlines that are seen (thousandths of the em; 0 for any length).
 */
static void put_words(struct hbk_text *out, const char *attributes,
                      double width, const char *words)
{
    hbk_text_addf(out, "<text fill-opacity=\"0\"%s", attributes);
    if (width > 0.0) {
        hbk_text_addf(out, " textLength=\"%.0f\"", width);
    }
    hbk_text_add(out, ">");
    hbk_text_add_xml(out, words);
    hbk_text_add(out, "</text>");
}

/* What is read out and has no letters of its own. */
static void write_said(struct writer *writer, const struct hbk_mark *mark,
                       const char *words)
{
    if (writer->said.hidden > 0) {
        return;
    }
    put_words(&writer->body,
              hbk_arena_printf(writer->arena,
                               " x=\"%.1f\" y=\"%.1f\" font-size=\"%g\"",
                               mark->x, mark->y, HBK_SAID_SIZE),
              0.0, words);
    hbk_text_add(&writer->body, "\n");
    hbk_svg_account(&writer->said, mark, words);
}

static void write_text(struct writer *writer, const struct hbk_mark *mark)
{
    const bool is_read =
        mark->reads == NULL || strcmp(mark->reads, mark->text) == 0;
    if (!is_read && mark->reads[0] != '\0') {
        write_said(writer, mark, mark->reads);
    } else if (is_read) {
        hbk_svg_account(&writer->said, mark, mark->text);
    }
    struct hbk_fonts *fonts = writer->player->fonts;
    const struct hbk_typeset how = hbk_typeset_of(mark->face, mark->size);
    const char *known =
        hbk_fonts_known_text(fonts, how, mark->text, writer->player->missing,
                             writer->player->faults);
    PangoLayout *layout = hbk_fonts_layout(fonts, how, known);
    PangoRectangle logical;
    pango_layout_get_extents(layout, NULL, &logical);
    static const double shares[] = {
        [HBK_LEFT] = 0.0, [HBK_CENTRE] = 0.5, [HBK_RIGHT] = 1.0};
    const double width =
        logical.width / (PANGO_SCALE * HBK_SET_SIZE) * mark->size;
    const double before = shares[mark->align] * width;
    const struct hbk_point start = {mark->x - (mark->turned ? 0.0 : before),
                                    mark->y + (mark->turned ? before : 0.0)};
    open_em(writer, start, mark->turned, mark->size, mark->ink);
    double x = 0.0;
    const PangoLayoutLine *line = pango_layout_get_line_readonly(layout, 0);
    for (const GSList *run = line->runs; run != NULL; run = run->next) {
        write_run(writer, run->data, mark->ink, &x);
    }
    put_words(&writer->body, hbk_svg_hush(&writer->said, is_read), x, known);
    hbk_text_add(&writer->body, "</g>\n");
    g_object_unref(layout);
}

static void write_glyph(struct writer *writer, const struct hbk_mark *mark)
{
    if (mark->text != NULL && mark->text[0] != '\0') {
        write_said(writer, mark, mark->text);
    }
    const struct hbk_music_fix fix = hbk_music_fix(mark->glyph);
    const double space = mark->size / 4.0;
    const size_t number =
        outline_of(writer, HBK_CUT_MUSIC, NULL,
                   hbk_fonts_music_index(writer->player->fonts, mark->glyph));
    const struct hbk_point at = {mark->x + fix.dx * space,
                                 mark->y - fix.dy * space};
    open_em(writer, at, false, mark->size * fix.scale, mark->ink);
    use(writer, number, 0.0, 0.0);
    hbk_text_add(&writer->body, "</g>\n");
}

static void write_points(struct hbk_text *out, const struct hbk_mark *mark)
{
    const struct hbk_point *p = mark->points;
    if (mark->kind == HBK_CURVE) {
        put_pair(out, "M", p[0].x, p[0].y);
        for (size_t i = 1; i < 4; i++) {
            put_pair(out, i == 1 ? "C" : " ", p[i].x, p[i].y);
        }
        put_pair(out, "L", p[4].x, p[4].y);
        for (size_t i = 5; i < 8; i++) {
            put_pair(out, i == 5 ? "C" : " ", p[i].x, p[i].y);
        }
        return;
    }
    for (size_t i = 0; i < mark->n_points; i++) {
        put_pair(out, i == 0 ? "M" : "L", p[i].x, p[i].y);
    }
}

static void put_dashes(struct hbk_text *out, const struct hbk_mark *mark)
{
    const bool takes_dashes = mark->kind == HBK_LINE || mark->kind == HBK_PATH;
    if (!takes_dashes || mark->dash[0] == 0.0) {
        return;
    }
    hbk_text_add(out, " stroke-dasharray=\"");
    for (size_t i = 0; i < HBK_DASH_MAX && mark->dash[i] > 0.0; i++) {
        hbk_text_add(out, i == 0 ? "" : " ");
        put_number(out, mark->dash[i]);
    }
    hbk_text_add(out, "\"");
}

/* Lines and surfaces: a path, or a circle. */
static void write_shape(struct writer *writer, const struct hbk_mark *mark)
{
    struct hbk_text *out = &writer->body;
    const bool round = mark->kind == HBK_RING || mark->kind == HBK_DISC;
    const bool stroked = mark->kind == HBK_LINE || mark->kind == HBK_FRAME ||
                         mark->kind == HBK_RING || mark->kind == HBK_PATH;
    if (round) {
        hbk_text_add(out, "<circle cx=\"");
        put_number(out, mark->x);
        hbk_text_add(out, "\" cy=\"");
        put_number(out, mark->y);
        hbk_text_add(out, "\" r=\"");
        put_number(out, mark->dx);
    } else {
        hbk_text_add(out, "<path d=\"");
        if (mark->kind == HBK_LINE) {
            put_pair(out, "M", mark->x, mark->y);
            put_pair(out, "l", mark->dx, mark->dy);
        } else if (mark->kind == HBK_FRAME || mark->kind == HBK_PANEL) {
            put_pair(out, "M", mark->x, mark->y);
            hbk_text_add(out, "h");
            put_number(out, mark->dx);
            hbk_text_add(out, "v");
            put_number(out, mark->dy);
            hbk_text_add(out, "h");
            put_number(out, -mark->dx);
            hbk_text_add(out, "z");
        } else {
            write_points(out, mark);
            hbk_text_add(out, mark->kind == HBK_PATH ? "" : "z");
        }
    }
    hbk_text_add(out, "\"");
    if (stroked) {
        hbk_text_add(out, " fill=\"none\"");
        put_ink(out, "stroke", mark->ink);
        hbk_text_add(out, " stroke-width=\"");
        put_number(out, mark->pen);
        hbk_text_add(out, "\"");
        put_dashes(out, mark);
    } else if (mark->ink != HBK_BLACK) {
        put_ink(out, "fill", mark->ink);
    }
    hbk_text_add(out, "/>\n");
}

static void write_mark(struct writer *writer, const struct hbk_mark *mark)
{
    switch (mark->kind) {
    case HBK_TEXT:
        write_text(writer, mark);
        return;
    case HBK_GLYPH:
        write_glyph(writer, mark);
        return;
    case HBK_SAY:
        write_said(writer, mark, mark->text);
        return;
    case HBK_OPEN:
    case HBK_CLOSE:
        hbk_svg_part(&writer->said, mark, &writer->body);
        return;
    case HBK_LINE:
    case HBK_FRAME:
    case HBK_PANEL:
    case HBK_RING:
    case HBK_DISC:
    case HBK_SHAPE:
    case HBK_PATH:
    case HBK_CURVE:
        write_shape(writer, mark);
        return;
    }
}

static void join(const struct writer *writer, const struct hbk_sheet *sheet,
                 const struct hbk_page *page, struct hbk_text *out)
{
    hbk_text_addf(out,
                  "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                  "<svg xmlns=\"http://www.w3.org/2000/svg\" "
                  "xmlns:xlink=\"http://www.w3.org/1999/xlink\" "
                  "version=\"1.1\" width=\"%gmm\" height=\"%gmm\" "
                  "viewBox=\"0 0 %g %g\" lang=\"en-US\" "
                  "xml:lang=\"en-US\" "
                  "role=\"document\" aria-labelledby=\"title\" "
                  "aria-describedby=\"desc\" font-family=\"serif\" "
                  "font-size=\"1000\">\n<title id=\"title\">",
                  page->width, page->height, page->width, page->height);
    hbk_text_add_xml(out, page->label);
    hbk_text_add(out, "</title>\n<desc id=\"desc\">");
    hbk_text_add_xml(out, sheet->subject == NULL ? "" : sheet->subject);
    hbk_text_add(out, "\n");
    hbk_text_add_xml(out, hbk_text_string(&writer->said.account));
    hbk_text_add(out, "</desc>\n<defs>\n");
    hbk_text_add(out, hbk_text_string(&writer->glyphs));
    hbk_text_add(out, "</defs>\n<path fill=\"#fff\" d=\"M0 0");
    hbk_text_addf(out, "h%gv%gh%gz\"/>\n", page->width, page->height,
                  -page->width);
    hbk_text_add(out, hbk_text_string(&writer->body));
    hbk_text_add(out, "</svg>\n");
}

void hbk_svg_write(struct hbk_player *player, const struct hbk_sheet *sheet,
                   const struct hbk_page *page, struct hbk_text *out)
{
    struct writer writer = {.player = player,
                            .arena = out->arena,
                            .glyphs = {.arena = out->arena},
                            .body = {.arena = out->arena},
                            .said = {.account = {.arena = out->arena}},
                            .scratch = player->cr};
    for (size_t i = 0; i < page->n; i++) {
        write_mark(&writer, &page->marks[i]);
    }
    join(&writer, sheet, page, out);
}
