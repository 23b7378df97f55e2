#include "support/dump.h"

static const char *const kinds[] = {
    [HBK_LINE] = "line",   [HBK_FRAME] = "frame", [HBK_PANEL] = "panel",
    [HBK_RING] = "ring",   [HBK_DISC] = "disc",   [HBK_SHAPE] = "shape",
    [HBK_PATH] = "path",   [HBK_CURVE] = "curve", [HBK_TEXT] = "text",
    [HBK_GLYPH] = "glyph", [HBK_SAY] = "say",     [HBK_OPEN] = "open",
    [HBK_CLOSE] = "close"};

static const char *const tags[] = {
    [HBK_TAG_SECTION] = "section",  [HBK_TAG_TITLE] = "title",
    [HBK_TAG_HEADING] = "heading",  [HBK_TAG_PARAGRAPH] = "paragraph",
    [HBK_TAG_TABLE] = "table",      [HBK_TAG_ROW] = "row",
    [HBK_TAG_COLUMN] = "column",    [HBK_TAG_HEADER] = "header",
    [HBK_TAG_CELL] = "cell",        [HBK_TAG_FIGURE] = "figure",
    [HBK_TAG_ARTIFACT] = "artifact"};

static void dump_points(const struct hbk_mark *mark, struct hbk_text *out)
{
    for (size_t i = 0; i < mark->n_points; i++) {
        hbk_text_addf(out, " %.2f,%.2f", mark->points[i].x, mark->points[i].y);
    }
}

static void dump_dash(const struct hbk_mark *mark, struct hbk_text *out)
{
    for (size_t i = 0; i < HBK_DASH_MAX && mark->dash[i] > 0.0; i++) {
        hbk_text_addf(out, "%s%.2f", i == 0 ? " dash " : ",", mark->dash[i]);
    }
}

static void dump_mark(const struct hbk_mark *mark, struct hbk_text *out)
{
    static const char *const faces[HBK_FACE_COUNT] = {
        [HBK_FACE_PLAIN] = "plain",
        [HBK_FACE_ITALIC] = "italic",
        [HBK_FACE_CAPS] = "caps",
        [HBK_FACE_BOLD] = "bold",
        [HBK_FACE_FIGURE] = "figure"};
    static const char *const aligns[] = {"left", "centre", "right"};
    static const char *const inks[] = {[HBK_BLACK] = "",
                                       [HBK_GREY] = " grey",
                                       [HBK_PALE] = " pale",
                                       [HBK_TINT] = " tint",
                                       [HBK_WHITE] = " white"};
    hbk_text_add(out, kinds[mark->kind]);
    switch (mark->kind) {
    case HBK_LINE:
    case HBK_FRAME:
        hbk_text_addf(out, " %.2f %.2f %.2f %.2f pen %.2f", mark->x, mark->y,
                      mark->dx, mark->dy, mark->pen);
        dump_dash(mark, out);
        break;
    case HBK_PANEL:
        hbk_text_addf(out, " %.2f %.2f %.2f %.2f", mark->x, mark->y, mark->dx,
                      mark->dy);
        break;
    case HBK_RING:
        hbk_text_addf(out, " %.2f %.2f radius %.2f pen %.2f", mark->x, mark->y,
                      mark->dx, mark->pen);
        break;
    case HBK_DISC:
        hbk_text_addf(out, " %.2f %.2f radius %.2f", mark->x, mark->y,
                      mark->dx);
        break;
    case HBK_SHAPE:
    case HBK_CURVE:
        dump_points(mark, out);
        break;
    case HBK_PATH:
        dump_points(mark, out);
        hbk_text_addf(out, " pen %.2f", mark->pen);
        dump_dash(mark, out);
        break;
    case HBK_TEXT:
        hbk_text_addf(out, " %.2f %.2f %s %s %.2f |%s|", mark->x, mark->y,
                      faces[mark->face], aligns[mark->align], mark->size,
                      mark->text);
        if (mark->reads != NULL) {
            hbk_text_addf(out, " reads |%s|", mark->reads);
        }
        break;
    case HBK_SAY:
        hbk_text_addf(out, " %.2f %.2f |%s|", mark->x, mark->y, mark->text);
        break;
    case HBK_GLYPH:
        hbk_text_addf(out, " %.2f %.2f U+%04X %.2f |%s|", mark->x, mark->y,
                      (unsigned)mark->glyph, mark->size,
                      mark->text == NULL ? "" : mark->text);
        break;
    case HBK_OPEN:
    case HBK_CLOSE:
        hbk_text_addf(out, " %s", tags[mark->tag]);
        if (mark->text != NULL) {
            hbk_text_addf(out, " |%s|", mark->text);
        }
        break;
    }
    hbk_text_addf(out, "%s\n", inks[mark->ink]);
}

void hbk_sheet_dump(const struct hbk_sheet *sheet, struct hbk_text *out)
{
    hbk_text_addf(out, "sheet |%s| |%s|\n", sheet->title,
                  sheet->subject == NULL ? "" : sheet->subject);
    for (size_t i = 0; i < sheet->n_pages; i++) {
        const struct hbk_page *page = &sheet->pages[i];
        hbk_text_addf(out, "page %zu %.2f x %.2f margin %.2f |%s|\n", i + 1,
                      page->width, page->height, page->margin, page->label);
        for (size_t k = 0; k < page->n; k++) {
            dump_mark(&page->marks[k], out);
        }
    }
}
