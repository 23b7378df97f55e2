#include "render/render.h"

#include "base/messages.h"
#include "base/number.h"
#include "page/paper.h"
#include "render/fonts.h"
#include "render/pdf.h"
#include "render/play.h"

#include <cairo-pdf.h>

#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static const double points_per_mm = HBK_POINTS_PER_INCH / HBK_MM_PER_INCH;

static const struct hbk_place nowhere = {NULL, 0, 0};

static cairo_status_t take(void *closure, const unsigned char *data,
                           unsigned length)
{
    hbk_text_put(closure, (const char *)data, length);
    return CAIRO_STATUS_SUCCESS;
}

/* The date a PDF carries, "YYYY-MM-DDTHH:MM:SSZ". */
static void stamp(char text[32], struct hbk_faults *faults)
{
    /* A fixed date, when none is asked for: 1 January 2000. */
    time_t moment = 946684800;
    /* The last second of the year 9999, the end of the format. */
    const double end = 253402300799.0;
    const char *epoch = getenv("SOURCE_DATE_EPOCH");
    double asked;
    if (epoch != NULL && hbk_number_parse(epoch, &asked) && asked >= 0.0 &&
        asked <= end) {
        moment = (time_t)asked;
    } else if (epoch != NULL) {
        hbk_fault_warn(faults, nowhere, HBK_H_EPOCH,
                       "SOURCE_DATE_EPOCH is '%.40s', not a number of seconds "
                       "from 1970 to 9999; the document is dated 1 January "
                       "2000 instead",
                       epoch);
    }
    struct tm date;
    gmtime_r(&moment, &date);
    strftime(text, 32, "%Y-%m-%dT%H:%M:%SZ", &date);
}

static void describe_pdf(cairo_surface_t *surface,
                         const struct hbk_pdf_about *about)
{
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE,
                                   about->title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_SUBJECT,
                                   about->subject);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_AUTHOR,
                                   "hornbook");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATOR,
                                   "hornbook");
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE,
                                   about->date);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_MOD_DATE,
                                   about->date);
}

/* One entry for the sheet, and one below it for each page of several. */
static void outline_pdf(cairo_surface_t *surface, const struct hbk_sheet *sheet,
                        struct hbk_arena *arena)
{
    const int root = cairo_pdf_surface_add_outline(
        surface, CAIRO_PDF_OUTLINE_ROOT, sheet->title, "page=1 pos=[0 0]",
        CAIRO_PDF_OUTLINE_FLAG_OPEN);
    for (size_t i = 0; sheet->n_pages > 1 && i < sheet->n_pages; i++) {
        cairo_pdf_surface_add_outline(
            surface, root, sheet->pages[i].label,
            hbk_arena_printf(arena, "page=%zu pos=[0 0]", i + 1),
            (cairo_pdf_outline_flags_t)0);
    }
}

static cairo_surface_t *draw_pdf(struct hbk_player *player,
                                 const struct hbk_render_job *job,
                                 const struct hbk_pdf_about *about,
                                 struct hbk_text *out)
{
    const struct hbk_sheet *sheet = job->sheet;
    cairo_surface_t *surface =
        cairo_pdf_surface_create_for_stream(take, out, 1.0, 1.0);
    describe_pdf(surface, about);
    outline_pdf(surface, sheet, out->arena);
    player->cr = cairo_create(surface);
    for (size_t i = 0; i < sheet->n_pages; i++) {
        const struct hbk_page *page = &sheet->pages[i];
        cairo_pdf_surface_set_size(surface, page->width * points_per_mm,
                                   page->height * points_per_mm);
        /* The library writes no label that is the page's number alone. */
        cairo_pdf_surface_set_page_label(
            surface, hbk_arena_printf(
                         out->arena, "%s %zu",
                         sheet->kind == NULL ? "page" : sheet->kind, i + 1));
        cairo_save(player->cr);
        cairo_scale(player->cr, points_per_mm, points_per_mm);
        hbk_play_page(player, page);
        cairo_restore(player->cr);
        cairo_show_page(player->cr);
    }
    return surface;
}

static cairo_surface_t *draw_svg(struct hbk_player *player,
                                 const struct hbk_render_job *job,
                                 struct hbk_text *out)
{
    /* The outlines of glyphs are traced on a surface that keeps nothing. */
    cairo_surface_t *surface =
        cairo_image_surface_create(CAIRO_FORMAT_A8, 1, 1);
    player->cr = cairo_create(surface);
    hbk_svg_write(player, job->sheet, &job->sheet->pages[job->page], out);
    return surface;
}

static cairo_surface_t *draw_png(struct hbk_player *player,
                                 const struct hbk_render_job *job,
                                 struct hbk_text *out)
{
    const struct hbk_page *page = &job->sheet->pages[job->page];
    const double scale = job->dpi / HBK_MM_PER_INCH;
    cairo_surface_t *surface = cairo_image_surface_create(
        CAIRO_FORMAT_RGB24, (int)lround(page->width * scale),
        (int)lround(page->height * scale));
    player->cr = cairo_create(surface);
    cairo_set_source_rgb(player->cr, 1.0, 1.0, 1.0);
    cairo_paint(player->cr);
    cairo_scale(player->cr, scale, scale);
    hbk_play_page(player, page);
    cairo_surface_flush(surface);
    if (cairo_surface_status(surface) == CAIRO_STATUS_SUCCESS) {
        player->failed = hbk_png_write(surface, job->dpi, out);
    }
    return surface;
}

/* Draws, with what the library says of it. */
static cairo_status_t draw(struct hbk_player *player,
                           const struct hbk_render_job *job,
                           const struct hbk_pdf_about *about,
                           struct hbk_text *out)
{
    cairo_surface_t *surface = NULL;
    switch (job->format) {
    case HBK_PDF:
        surface = draw_pdf(player, job, about, out);
        break;
    case HBK_SVG:
        surface = draw_svg(player, job, out);
        break;
    case HBK_PNG:
        surface = draw_png(player, job, out);
        break;
    }
    cairo_surface_finish(surface);
    cairo_status_t status = player->failed;
    if (status == CAIRO_STATUS_SUCCESS) {
        status = cairo_status(player->cr);
    }
    if (status == CAIRO_STATUS_SUCCESS) {
        status = cairo_surface_status(surface);
    }
    cairo_destroy(player->cr);
    cairo_surface_destroy(surface);
    return status;
}

enum hbk_status hbk_render(struct hbk_fonts *fonts,
                           const struct hbk_render_job *job,
                           struct hbk_arena *arena, char **bytes,
                           size_t *length, struct hbk_faults *faults)
{
    const struct hbk_sheet *sheet = job->sheet;
    if (sheet->n_pages == 0 ||
        (job->format != HBK_PDF && job->page >= sheet->n_pages) ||
        (job->format == HBK_PNG &&
         !(job->dpi >= HBK_DPI_LOW && job->dpi <= HBK_DPI_HIGH))) {
        return HBK_ERR_DOMAIN;
    }
    const bool is_pdf = job->format == HBK_PDF;
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    struct hbk_structure structure = {.arena = arena, .ruler = &ruler};
    struct hbk_player player = {.fonts = fonts,
                                .faults = faults,
                                .structure = is_pdf ? &structure : NULL};
    char date[32] = "";
    if (is_pdf) {
        stamp(date, faults);
    }
    const struct hbk_pdf_about about = {
        .title = sheet->title,
        .subject = sheet->subject == NULL ? "" : sheet->subject,
        .date = date};
    struct hbk_text out = {.arena = arena};
    const cairo_status_t status = draw(&player, job, &about, &out);
    const char *wrong =
        status == CAIRO_STATUS_SUCCESS ? NULL : cairo_status_to_string(status);
    struct hbk_text finished = {.arena = arena};
    if (is_pdf && wrong == NULL) {
        wrong = hbk_pdf_finish(&out, &structure, &about, &finished);
        out = finished;
    }
    if (wrong != NULL) {
        hbk_fault_add(faults, nowhere, HBK_H_DRAWING,
                      "the drawing library failed: %s", wrong);
        return HBK_ERR_RENDER;
    }
    *bytes = out.bytes;
    *length = out.length;
    return HBK_OK;
}
