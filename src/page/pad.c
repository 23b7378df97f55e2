#include "page/pad.h"

#include <assert.h>
#include <string.h>

struct hbk_style hbk_style_of(enum hbk_face face, double points, double unit,
                              enum hbk_align align)
{
    return (struct hbk_style){
        .face = face, .size = HBK_PT(points) * unit, .align = align};
}

struct hbk_page *hbk_pad_page(struct hbk_pad *pad, struct hbk_paper_size size,
                              const char *label)
{
    struct hbk_sheet *sheet = pad->sheet;
    HBK_ARENA_GROW(sheet->arena, sheet->pages, sheet->n_pages, sheet->capacity);
    struct hbk_page *page = &sheet->pages[sheet->n_pages++];
    page->width = size.width;
    page->height = size.height;
    page->margin = size.margin;
    page->label = hbk_arena_copy(sheet->arena, label, strlen(label));
    return page;
}

struct hbk_page *hbk_pad_last(const struct hbk_pad *pad)
{
    assert(pad->sheet->n_pages > 0);
    return &pad->sheet->pages[pad->sheet->n_pages - 1];
}

void hbk_pad_group(struct hbk_pad *pad)
{
    pad->group = ++pad->groups;
}

struct hbk_mark *hbk_pad_add(struct hbk_pad *pad, struct hbk_mark mark)
{
    struct hbk_page *page = hbk_pad_last(pad);
    HBK_ARENA_GROW(pad->sheet->arena, page->marks, page->n, page->capacity);
    mark.group = pad->group;
    page->marks[page->n] = mark;
    return &page->marks[page->n++];
}

struct hbk_mark hbk_mark_moved(struct hbk_arena *arena,
                               const struct hbk_mark *mark, double x, double y)
{
    struct hbk_mark copy = *mark;
    copy.x += x;
    copy.y += y;
    if (mark->n_points > 0) {
        struct hbk_point *const points =
            HBK_ARENA_ARRAY(arena, struct hbk_point, mark->n_points);
        for (size_t i = 0; i < mark->n_points; i++) {
            points[i].x = mark->points[i].x + x;
            points[i].y = mark->points[i].y + y;
        }
        copy.points = points;
    }
    return copy;
}

void hbk_pad_shift(struct hbk_pad *pad, size_t first, double dy)
{
    struct hbk_page *const page = hbk_pad_last(pad);
    for (size_t i = first; i < page->n; i++) {
        page->marks[i] =
            hbk_mark_moved(pad->sheet->arena, &page->marks[i], 0.0, dy);
    }
}

void hbk_pad_line(struct hbk_pad *pad, double x, double y, double dx, double dy,
                  double pen)
{
    hbk_pad_add(
        pad,
        (struct hbk_mark){
            .kind = HBK_LINE, .x = x, .y = y, .dx = dx, .dy = dy, .pen = pen});
}

void hbk_pad_frame(struct hbk_pad *pad, double x, double y, double dx,
                   double dy, double pen)
{
    hbk_pad_add(
        pad,
        (struct hbk_mark){
            .kind = HBK_FRAME, .x = x, .y = y, .dx = dx, .dy = dy, .pen = pen});
}

void hbk_pad_panel(struct hbk_pad *pad, double x, double y, double dx,
                   double dy, enum hbk_ink ink)
{
    hbk_pad_add(
        pad,
        (struct hbk_mark){
            .kind = HBK_PANEL, .ink = ink, .x = x, .y = y, .dx = dx, .dy = dy});
}

void hbk_pad_ring(struct hbk_pad *pad, double x, double y, double radius,
                  double pen)
{
    hbk_pad_add(
        pad, (struct hbk_mark){
                 .kind = HBK_RING, .x = x, .y = y, .dx = radius, .pen = pen});
}

void hbk_pad_disc(struct hbk_pad *pad, double x, double y, double radius)
{
    hbk_pad_add(
        pad, (struct hbk_mark){.kind = HBK_DISC, .x = x, .y = y, .dx = radius});
}

static const struct hbk_point *keep(struct hbk_pad *pad, size_t n,
                                    const struct hbk_point points[])
{
    struct hbk_point *kept =
        HBK_ARENA_ARRAY(pad->sheet->arena, struct hbk_point, n);
    memcpy(kept, points, n * sizeof(points[0]));
    return kept;
}

void hbk_pad_shape(struct hbk_pad *pad, size_t n,
                   const struct hbk_point points[])
{
    hbk_pad_add(pad, (struct hbk_mark){.kind = HBK_SHAPE,
                                       .n_points = n,
                                       .points = keep(pad, n, points)});
}

void hbk_pad_path(struct hbk_pad *pad, size_t n,
                  const struct hbk_point points[], double pen)
{
    hbk_pad_add(pad, (struct hbk_mark){.kind = HBK_PATH,
                                       .pen = pen,
                                       .n_points = n,
                                       .points = keep(pad, n, points)});
}

void hbk_pad_text(struct hbk_pad *pad, double x, double y,
                  struct hbk_style style, const char *text)
{
    if (text[0] == '\0') {
        return;
    }
    const char *reads = pad->reads;
    pad->reads = reads == NULL ? NULL : "";
    hbk_pad_add(
        pad, (struct hbk_mark){
                 .kind = HBK_TEXT,
                 .reads = reads,
                 .ink = style.ink,
                 .x = x,
                 .y = y,
                 .face = style.face,
                 .align = style.align,
                 .size = style.size,
                 .text = hbk_arena_copy(pad->sheet->arena, text, strlen(text)),
             });
}

void hbk_pad_glyph(struct hbk_pad *pad, double x, double y, double space,
                   uint32_t glyph, const char *reads)
{
    hbk_pad_add(pad, (struct hbk_mark){
                         .kind = HBK_GLYPH,
                         .x = x,
                         .y = y,
                         .size = 4.0 * space,
                         .glyph = glyph,
                         .text = reads == NULL
                                     ? NULL
                                     : hbk_arena_copy(pad->sheet->arena, reads,
                                                      strlen(reads)),
                     });
}

void hbk_pad_say(struct hbk_pad *pad, double x, double y, const char *text)
{
    hbk_pad_add(
        pad, (struct hbk_mark){
                 .kind = HBK_SAY,
                 .x = x,
                 .y = y,
                 .size = HBK_SAID_SIZE,
                 .text = hbk_arena_copy(pad->sheet->arena, text, strlen(text)),
             });
}

void hbk_pad_read_as(struct hbk_pad *pad, const char *reads)
{
    pad->reads = reads;
}

void hbk_pad_open_figure(struct hbk_pad *pad, const char *alt)
{
    hbk_pad_add(pad,
                (struct hbk_mark){.kind = HBK_OPEN,
                                  .tag = HBK_TAG_FIGURE,
                                  .text = hbk_arena_copy(pad->sheet->arena, alt,
                                                         strlen(alt))});
}

void hbk_pad_open(struct hbk_pad *pad, enum hbk_tag tag)
{
    hbk_pad_add(pad, (struct hbk_mark){.kind = HBK_OPEN, .tag = tag});
}

void hbk_pad_close(struct hbk_pad *pad, enum hbk_tag tag)
{
    hbk_pad_add(pad, (struct hbk_mark){.kind = HBK_CLOSE, .tag = tag});
}
