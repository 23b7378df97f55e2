#include <cairo-pdf.h>
#include <pango/pangocairo.h>

#include <stddef.h>
#include <stdio.h>

/*
 * What any program pays that shows 300 words on a page with cairo and pango:
 * the yardstick for a chart. Takes the path of the PDF to write.
 */
int main(int argc, char *argv[])
{
    if (argc != 2) {
        (void)fprintf(stderr, "usage: bare_page FILE.pdf\n");
        return 2;
    }
    cairo_surface_t *surface =
        cairo_pdf_surface_create(argv[1], 841.89, 595.28);
    cairo_t *cr = cairo_create(surface);
    static const char *const faces[] = {"DejaVu Sans 9", "Noto Sans Bold 12",
                                        "EB Garamond 9"};
    for (int i = 0; i < 300; i++) {
        PangoLayout *layout = pango_cairo_create_layout(cr);
        PangoFontDescription *face =
            pango_font_description_from_string(faces[i % 3]);
        pango_layout_set_font_description(layout, face);
        char word[32];
        (void)snprintf(word, sizeof(word), "valve %d", i);
        pango_layout_set_text(layout, word, -1);
        cairo_move_to(cr, 20.0 + 54.0 * (i % 15), 20.0 + 27.0 * (i / 15));
        pango_cairo_show_layout(cr, layout);
        pango_font_description_free(face);
        g_object_unref(layout);
    }
    cairo_show_page(cr);
    cairo_destroy(cr);
    cairo_surface_destroy(surface);
    return 0;
}
