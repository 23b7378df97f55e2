#include "render/fonts.h"
#include "support/sheets.h"
#include "support/solved.h"
#include "support/trills.h"

#include "engrave/glyph.h"
#include "render/faces.h"
#include "render/render.h"
#include "sheet/chart/plate.h"

#include <stdlib.h>
#include <unistd.h>

/* A wall chart measured and drawn with the real faces. */
struct drawing {
    struct solved solved;
    struct hbk_fonts *fonts;
    struct hbk_sheet sheet;
    char *bytes;
    size_t length;
};

static void open_drawing(struct drawing *d, const char *horn,
                         struct hbk_sheet_options options)
{
    solved_open(&d->solved, horn);
    assert_int_equal(
        hbk_fonts_open(&d->solved.arena, &d->fonts, &d->solved.faults), HBK_OK);
    const struct hbk_ruler ruler = hbk_fonts_ruler(d->fonts);
    d->sheet = (struct hbk_sheet){.arena = &d->solved.arena};
    assert_int_equal(
        hbk_sheet_wall(&d->solved.notes, &options, &ruler, &d->sheet), HBK_OK);
}

static void close_drawing(struct drawing *d)
{
    hbk_fonts_close(d->fonts);
    solved_close(&d->solved);
}

static enum hbk_status render(struct drawing *d, enum hbk_format format,
                              size_t page, double dpi)
{
    const struct hbk_render_job job = {&d->sheet, format, page, dpi};
    return hbk_render(d->fonts, &job, &d->solved.arena, &d->bytes, &d->length,
                      &d->solved.faults);
}

/* How often a string occurs in bytes that may hold NULs. */
static size_t occurrences(const struct drawing *d, const char *what)
{
    const size_t size = strlen(what);
    size_t n = 0;
    for (size_t i = 0; i + size <= d->length; i++) {
        n += memcmp(d->bytes + i, what, size) == 0 ? 1 : 0;
    }
    return n;
}

static void a_pdf_has_its_pages_at_their_size(void **state)
{
    (void)state;
    struct drawing d;
    open_drawing(&d, "ophicleide-c-11-museum",
                 (struct hbk_sheet_options){.paper = HBK_A4});
    assert_true(d.sheet.n_pages > 1);
    assert_int_equal(render(&d, HBK_PDF, 0, 0.0), HBK_OK);
    assert_memory_equal(d.bytes, "%PDF-1.", 7);
    /* ISO 216: A4 is 210 x 297 mm, 595.276 x 841.890 pt; here on its side. */
    assert_int_equal(occurrences(&d, "/MediaBox [ 0 0 841.889764 595.275591 ]"),
                     d.sheet.n_pages);
    /* The document, its entry in the outline, and its first page's. */
    assert_int_equal(occurrences(&d, "/Title (Ophicleide in C, eleven keys)"),
                     3);
    assert_int_equal(occurrences(&d, "/Author (hornbook)"), 1);
    assert_true(occurrences(&d, "/StructTreeRoot") >= 1);
    assert_true(occurrences(&d, "/FontFile") >= 3);
    close_drawing(&d);
}

static uint32_t u32_at(const char *bytes)
{
    const unsigned char *b = (const unsigned char *)bytes;
    return (uint32_t)b[0] << 24 | (uint32_t)b[1] << 16 | (uint32_t)b[2] << 8 |
           b[3];
}

static void a_png_has_its_dots_and_says_how_many_to_the_metre(void **state)
{
    (void)state;
    struct drawing d;
    open_drawing(&d, "keyed-bugle-c-6", (struct hbk_sheet_options){0});
    assert_int_equal(render(&d, HBK_PNG, 0, 120.0), HBK_OK);
    /* PNG (ISO/IEC 15948): signature, IHDR, then here pHYs. */
    assert_memory_equal(d.bytes, "\x89PNG\r\n\x1a\n", 8);
    assert_int_equal(u32_at(d.bytes + 16), 1403); /* 297 mm at 120 dpi */
    assert_int_equal(u32_at(d.bytes + 20), 992);  /* 210 mm */
    assert_memory_equal(d.bytes + 37, "pHYs", 4);
    assert_int_equal(u32_at(d.bytes + 41), 4724); /* 120 / 0.0254 */
    assert_int_equal(render(&d, HBK_PNG, 0, 5.0), HBK_ERR_DOMAIN);
    assert_int_equal(render(&d, HBK_PNG, d.sheet.n_pages, 120.0),
                     HBK_ERR_DOMAIN);
    close_drawing(&d);
}

static void an_svg_has_its_size(void **state)
{
    (void)state;
    struct drawing d;
    open_drawing(&d, "bugle-b-flat",
                 (struct hbk_sheet_options){.paper = HBK_LETTER});
    assert_int_equal(render(&d, HBK_SVG, 0, 0.0), HBK_OK);
    assert_memory_equal(d.bytes, "<?xml", 5);
    assert_int_equal(occurrences(&d, "width=\"279.4mm\" height=\"215.9mm\""),
                     1);
    assert_int_equal(occurrences(&d, "<svg"), 1);
    assert_int_equal(occurrences(&d, "</svg>"), 1);
    close_drawing(&d);
}

static void the_same_sheet_gives_the_same_bytes(void **state)
{
    (void)state;
    for (int format = HBK_PDF; format <= HBK_PNG; format++) {
        struct drawing one, two;
        open_drawing(&one, "keyed-bugle-c-6", (struct hbk_sheet_options){0});
        assert_int_equal(render(&one, (enum hbk_format)format, 0, 72.0),
                         HBK_OK);
        open_drawing(&two, "keyed-bugle-c-6", (struct hbk_sheet_options){0});
        assert_int_equal(render(&two, (enum hbk_format)format, 0, 72.0),
                         HBK_OK);
        assert_int_equal(one.length, two.length);
        assert_memory_equal(one.bytes, two.bytes, one.length);
        close_drawing(&one);
        close_drawing(&two);
    }
}

/* 1893456000 is 2030-01-01T00:00:00Z. */
static void the_date_is_the_one_asked_for(void **state)
{
    (void)state;
    struct drawing d;
    open_drawing(&d, "bugle-b-flat", (struct hbk_sheet_options){0});
    assert_int_equal(setenv("SOURCE_DATE_EPOCH", "1893456000", 1), 0);
    assert_int_equal(render(&d, HBK_PDF, 0, 0.0), HBK_OK);
    assert_int_equal(occurrences(&d, "(20300101000000Z)"), 2);
    assert_int_equal(unsetenv("SOURCE_DATE_EPOCH"), 0);
    assert_int_equal(render(&d, HBK_PDF, 0, 0.0), HBK_OK);
    assert_int_equal(occurrences(&d, "(20000101000000Z)"), 2);
    assert_int_equal(d.solved.faults.count, 0);
    /* One that is no date is not passed over in silence. */
    assert_int_equal(setenv("SOURCE_DATE_EPOCH", "tomorrow", 1), 0);
    assert_int_equal(render(&d, HBK_PDF, 0, 0.0), HBK_OK);
    assert_int_equal(unsetenv("SOURCE_DATE_EPOCH"), 0);
    assert_int_equal(occurrences(&d, "(20000101000000Z)"), 2);
    assert_int_equal(d.solved.faults.count, 1);
    assert_int_equal(d.solved.faults.items[0].number, 155);
    assert_true(d.solved.faults.items[0].warning);
    close_drawing(&d);
}

static void a_missing_font_names_its_package(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_fonts *fonts = NULL;
    assert_int_equal(setenv("HORNBOOK_FONTS", "/nonexistent:tests", 1), 0);
    assert_int_equal(hbk_fonts_open(&arena, &fonts, &faults), HBK_ERR_RENDER);
    assert_int_equal(unsetenv("HORNBOOK_FONTS"), 0);
    assert_null(fonts);
    static const char *const packages[HBK_CUT_COUNT] = {
        "fonts-ebgaramond",  "fonts-ebgaramond",  "fonts-ebgaramond",
        "fonts-ebgaramond",  "fonts-noto-core",   "fonts-open-sans",
        "fonts-dejavu-core", "fonts-dejavu-core", "fonts-noto-core"};
    assert_int_equal(faults.errors, HBK_CUT_COUNT);
    for (size_t i = 0; i < HBK_CUT_COUNT; i++) {
        assert_int_equal(faults.items[i].number, 150);
        assert_non_null(strstr(faults.items[i].text, packages[i]));
    }
    hbk_arena_finish(&arena);
}

/* A file of the right name that is another font, and one that is none. */
static void another_face_is_never_taken(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_fonts *fonts = NULL;
    char folder[] = "/tmp/hornbook-fonts-XXXXXX";
    assert_non_null(mkdtemp(folder));
    enum { FILES = 4 };
    static const char *const names[FILES] = {
        "DejaVuSans.ttf", "EBGaramond08-Regular.otf", "OpenSans-CondBold.ttf",
        "NotoMusic-Regular.ttf"};
    static const char *const targets[FILES] = {
        "/usr/share/fonts/truetype/dejavu/DejaVuSans-Bold.ttf",
        "/usr/share/fonts/opentype/ebgaramond/EBGaramond12-Regular.otf",
        "/usr/share/fonts/truetype/noto/NotoMusic-Regular.ttf", "/dev/null"};
    for (size_t i = 0; i < FILES; i++) {
        assert_int_equal(
            symlink(targets[i],
                    hbk_arena_printf(&arena, "%s/%s", folder, names[i])),
            0);
    }
    assert_int_equal(setenv("HORNBOOK_FONTS", folder, 1), 0);
    assert_int_equal(hbk_fonts_open(&arena, &fonts, &faults), HBK_ERR_RENDER);
    assert_int_equal(unsetenv("HORNBOOK_FONTS"), 0);
    size_t wrong = 0;
    for (size_t i = 0; i < faults.count; i++) {
        wrong += faults.items[i].number == 151 ? 1 : 0;
    }
    assert_int_equal(wrong, FILES);
    for (size_t i = 0; i < FILES; i++) {
        assert_int_equal(
            unlink(hbk_arena_printf(&arena, "%s/%s", folder, names[i])), 0);
    }
    assert_int_equal(rmdir(folder), 0);
    hbk_arena_finish(&arena);
}

static void an_unknown_character_is_told_once(void **state)
{
    (void)state;
    struct drawing d;
    open_drawing(&d, "bugle-b-flat",
                 (struct hbk_sheet_options){.title = "\u5F26\u5F26 horn"});
    assert_int_equal(render(&d, HBK_PDF, 0, 0.0), HBK_OK);
    assert_int_equal(d.solved.faults.errors, 0);
    assert_int_equal(d.solved.faults.count, 1);
    assert_int_equal(d.solved.faults.items[0].number, 153);
    assert_true(d.solved.faults.items[0].warning);
    assert_non_null(strstr(d.solved.faults.items[0].text, "U+5F26"));
    close_drawing(&d);
}

/* The layout's boxes against the ink of the face as it is drawn. */
static void glyph_boxes_are_those_of_the_face(void **state)
{
    (void)state;
    static const uint32_t glyphs[] = {
        HBK_GLYPH_G_CLEF,       HBK_GLYPH_C_CLEF,
        HBK_GLYPH_F_CLEF,       HBK_GLYPH_WHOLE_HEAD,
        HBK_GLYPH_OPEN_HEAD,    HBK_GLYPH_BLACK_HEAD,
        HBK_GLYPH_DOUBLE_SHARP, HBK_GLYPH_DOUBLE_FLAT,
        HBK_GLYPH_FLAT,         HBK_GLYPH_NATURAL,
        HBK_GLYPH_SHARP,        HBK_GLYPH_DOUBLE_WHOLE_HEAD,
        HBK_GLYPH_REST_4,       HBK_GLYPH_REST_8,
        HBK_GLYPH_REST_16,      HBK_GLYPH_REST_32,
        HBK_GLYPH_REST_64,      HBK_GLYPH_REST_128,
        HBK_GLYPH_COMMON_TIME,  HBK_GLYPH_CUT_TIME,
        HBK_GLYPH_TRILL,        HBK_GLYPH_BREATH,
        HBK_GLYPH_TURN,         HBK_GLYPH_INVERTED_TURN,
        HBK_GLYPH_SEGNO,        HBK_GLYPH_CODA,
        HBK_GLYPH_DYNAMIC_R,    HBK_GLYPH_DYNAMIC_S,
        HBK_GLYPH_DYNAMIC_Z,    HBK_GLYPH_DYNAMIC_P,
        HBK_GLYPH_DYNAMIC_M,    HBK_GLYPH_DYNAMIC_F};
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_fonts *fonts = NULL;
    assert_int_equal(hbk_fonts_open(&arena, &fonts, &faults), HBK_OK);
    cairo_surface_t *surface =
        cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, NULL);
    cairo_t *cr = cairo_create(surface);
    cairo_set_font_face(cr, fonts->music);
    cairo_set_font_options(cr, fonts->options);
    const double space = 100.0;
    for (size_t i = 0; i < sizeof(glyphs) / sizeof(glyphs[0]); i++) {
        const struct hbk_music_fix fix = hbk_music_fix(glyphs[i]);
        const cairo_glyph_t glyph = {hbk_fonts_music_index(fonts, glyphs[i]),
                                     0.0, 0.0};
        assert_true(glyph.index != 0);
        cairo_set_font_size(cr, 4.0 * space * fix.scale);
        cairo_text_extents_t ink;
        cairo_glyph_extents(cr, &glyph, 1, &ink);
        const struct hbk_glyph_box box = hbk_glyph_box(glyphs[i]);
        const double tol = 0.02;
        check_abs(ink.x_bearing / space + fix.dx, 0.0, tol);
        check_abs(ink.width / space, box.width, tol);
        check_abs(-ink.y_bearing / space + fix.dy, box.top, tol);
        check_abs(-(ink.y_bearing + ink.height) / space + fix.dy, box.bottom,
                  tol);
    }
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
    hbk_fonts_close(fonts);
    hbk_arena_finish(&arena);
}

static void the_ruler_measures_what_is_drawn(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_fonts *fonts = NULL;
    assert_int_equal(hbk_fonts_open(&arena, &fonts, &faults), HBK_OK);
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    /*
     * A sharp is in DejaVu Sans 2.37 alone: its advance is 991 of 2048 units.
     */
    check_abs(ruler.text_width(ruler.ctx, HBK_FACE_PLAIN, 3.0, "\u266F"),
              3.0 * 991.0 / 2048.0, 1e-3);
    /* Cuts for small and for large text are drawn of different widths. */
    const double small =
        ruler.text_width(ruler.ctx, HBK_FACE_PLAIN, HBK_PT(12.9), "valve");
    const double large =
        ruler.text_width(ruler.ctx, HBK_FACE_PLAIN, HBK_PT(13.0), "valve");
    assert_true(fabs(large / small - 13.0 / 12.9) > 1e-3);
    const double once = ruler.text_width(ruler.ctx, HBK_FACE_BOLD, 3.0, "AV");
    check_abs(ruler.text_width(ruler.ctx, HBK_FACE_BOLD, 3.0, "AV"), once, 0.0);
    check_rel(ruler.text_width(ruler.ctx, HBK_FACE_BOLD, 6.0, "AV"), 2.0 * once,
              1e-12);
    hbk_fonts_close(fonts);
    hbk_arena_finish(&arena);
}

static void check_no_letter_is_missing(struct hbk_fonts *fonts,
                                       const struct hbk_sheet *sheet)
{
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *mark = &sheet->pages[p].marks[i];
            if (mark->kind == HBK_TEXT) {
                uint32_t missing[HBK_MISSING_KEPT] = {0};
                assert_ptr_equal(
                    hbk_fonts_known_text(fonts,
                                         hbk_typeset_of(mark->face, mark->size),
                                         mark->text, missing, NULL),
                    mark->text);
            } else if (mark->kind == HBK_GLYPH) {
                assert_true(hbk_fonts_music_index(fonts, mark->glyph) != 0);
            }
        }
    }
}

/* One chart in the real faces: nothing touches, is too small or missing. */
static void check_chart(struct solved *solved, struct hbk_fonts *fonts,
                        enum hbk_layout layout,
                        struct hbk_sheet_options options)
{
    const struct hbk_ruler fonts_ruler = hbk_fonts_ruler(fonts);
    const struct hbk_ruler *ruler = &fonts_ruler;
    struct hbk_sheet sheet = {.arena = &solved->arena};
    options = with_trills(options, layout, &solved->notes, &solved->arena);
    assert_int_equal(
        hbk_sheet_chart(layout, &solved->notes, &options, ruler, &sheet),
        HBK_OK);
    check_no_clash(&sheet, ruler);
    check_sizes(&sheet, least_points(layout));
    check_no_letter_is_missing(fonts, &sheet);
    /* One page holds the plate and the stand chart of every horn. */
    static const size_t most[HBK_LAYOUT_COUNT] = {
        [HBK_LAYOUT_PLATE] = 1, [HBK_LAYOUT_WALL] = 3, [HBK_LAYOUT_LARGE] = 8,
        [HBK_LAYOUT_STAND] = 1, [HBK_LAYOUT_CARD] = 4, [HBK_LAYOUT_TRILLS] = 4};
    if (options.paper == HBK_A4 && !options.sounding) {
        assert_true(sheet.n_pages <= most[layout]);
    }
}

/* All papers of all horns: the benchmark `every_sheet`. */
static void no_chart_clashes_in_the_real_faces(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_fonts *fonts = NULL;
    assert_int_equal(hbk_fonts_open(&arena, &fonts, &faults), HBK_OK);
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    for (size_t i = 0; i < n; i++) {
        struct solved solved;
        solved_open(&solved, horns[i].name);
        for (int k = 0; k < HBK_LAYOUT_COUNT; k++) {
            const enum hbk_layout layout = (enum hbk_layout)k;
            const enum hbk_paper paper = (enum hbk_paper)(i % HBK_PAPER_COUNT);
            check_chart(&solved, fonts, layout, (struct hbk_sheet_options){0});
            if (hbk_layout_takes(layout, paper)) {
                check_chart(&solved, fonts, layout,
                            (struct hbk_sheet_options){.paper = paper,
                                                       .sounding = true});
            }
        }
        solved_close(&solved);
    }
    hbk_fonts_close(fonts);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_pdf_has_its_pages_at_their_size),
        cmocka_unit_test(a_png_has_its_dots_and_says_how_many_to_the_metre),
        cmocka_unit_test(an_svg_has_its_size),
        cmocka_unit_test(the_same_sheet_gives_the_same_bytes),
        cmocka_unit_test(the_date_is_the_one_asked_for),
        cmocka_unit_test(a_missing_font_names_its_package),
        cmocka_unit_test(another_face_is_never_taken),
        cmocka_unit_test(an_unknown_character_is_told_once),
        cmocka_unit_test(glyph_boxes_are_those_of_the_face),
        cmocka_unit_test(the_ruler_measures_what_is_drawn),
        cmocka_unit_test(no_chart_clashes_in_the_real_faces),
    };
    return cmocka_run_group_tests_name("render", tests, NULL, NULL);
}
