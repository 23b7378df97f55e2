#include "render/faces.h"

#include "base/messages.h"
#include "render/fonts.h"

#include <fontconfig/fontconfig.h>

#include <string.h>

/* WHITE SQUARE, which DejaVu Sans has. */
static const char box[] = "\xE2\x96\xA1";

static const struct hbk_place nowhere = {NULL, 0, 0};

/* One character of valid UTF-8. */
static uint32_t letter_at(const char *text, size_t *bytes)
{
    FcChar32 letter = 0xFFFD;
    const int used =
        FcUtf8ToUcs4((const FcChar8 *)text, &letter, (int)strnlen(text, 6));
    *bytes = used > 0 ? (size_t)used : 1;
    return used > 0 ? letter : 0xFFFD;
}

static void tell(uint32_t letter, const char *shown, size_t bytes,
                 uint32_t missing[HBK_MISSING_KEPT], struct hbk_faults *faults)
{
    size_t i = 0;
    while (i < HBK_MISSING_KEPT && missing[i] != 0 && missing[i] != letter) {
        i++;
    }
    if (i == HBK_MISSING_KEPT || missing[i] == letter) {
        return;
    }
    missing[i] = letter;
    hbk_fault_warn(faults, nowhere, HBK_H_NO_CHARACTER,
                   "the font DejaVu Sans has no character U+%04X (%.*s): a box "
                   "is printed in its place",
                   (unsigned)letter, (int)bytes, shown);
}

const char *hbk_fonts_known_text(const struct hbk_fonts *fonts,
                                 enum hbk_face face, const char *text,
                                 uint32_t missing[HBK_MISSING_KEPT],
                                 struct hbk_faults *faults)
{
    const FcCharSet *charset = fonts->charsets[face];
    struct hbk_text known = {.arena = fonts->arena};
    const char *from = text; /* what is not copied yet */
    for (const char *at = text; *at != '\0';) {
        size_t bytes;
        const uint32_t letter = letter_at(at, &bytes);
        if (!FcCharSetHasChar(charset, letter)) {
            if (faults != NULL) {
                tell(letter, at, bytes, missing, faults);
            }
            hbk_text_put(&known, from, (size_t)(at - from));
            hbk_text_add(&known, box);
            from = at + bytes;
        }
        at += bytes;
    }
    if (from == text) {
        return text;
    }
    hbk_text_add(&known, from);
    return hbk_text_string(&known);
}

PangoLayout *hbk_fonts_layout(const struct hbk_fonts *fonts,
                              PangoContext *context, enum hbk_face face,
                              double size, const char *known_text)
{
    PangoLayout *layout = pango_layout_new(context);
    pango_font_description_set_absolute_size(fonts->faces[face],
                                             size * PANGO_SCALE);
    pango_layout_set_font_description(layout, fonts->faces[face]);
    pango_layout_set_single_paragraph_mode(layout, TRUE);
    PangoAttrList *attributes = pango_attr_list_new();
    pango_attr_list_insert(attributes, pango_attr_fallback_new(FALSE));
    /* Some readers of PDF lose the rest of a line after a ligature. */
    pango_attr_list_insert(attributes,
                           pango_attr_font_features_new("liga 0, clig 0"));
    pango_layout_set_attributes(layout, attributes);
    pango_attr_list_unref(attributes);
    pango_layout_set_text(layout, known_text, -1);
    return layout;
}

static double measure(const struct hbk_fonts *fonts, enum hbk_face face,
                      const char *text)
{
    /* Large, so that pango's units of 1/1024 lose nothing. */
    const double size = 200.0;
    const char *known = hbk_fonts_known_text(fonts, face, text, NULL, NULL);
    PangoLayout *layout =
        hbk_fonts_layout(fonts, fonts->context, face, size, known);
    PangoRectangle logical;
    pango_layout_get_extents(layout, NULL, &logical);
    g_object_unref(layout);
    return (double)logical.width / PANGO_SCALE / size;
}

/* FNV-1a, 32 bits. */
static size_t hash(enum hbk_face face, const char *text)
{
    uint32_t sum = 2166136261u ^ (uint32_t)face;
    for (const char *at = text; *at != '\0'; at++) {
        sum = (sum ^ (unsigned char)*at) * 16777619u;
    }
    return sum % HBK_WIDTHS_KEPT;
}

static double text_width(const void *ctx, enum hbk_face face, double size,
                         const char *text)
{
    /* The ruler's word for "does not change what it measures". */
    struct hbk_fonts *fonts = *(struct hbk_fonts *const *)ctx;
    size_t at = hash(face, text);
    while (fonts->kept[at].text != NULL) {
        if (fonts->kept[at].face == face &&
            strcmp(fonts->kept[at].text, text) == 0) {
            return size * fonts->kept[at].width;
        }
        at = (at + 1) % HBK_WIDTHS_KEPT;
    }
    const double width = measure(fonts, face, text);
    /* A quarter of the places stays free, so that a search always ends. */
    if (fonts->n_kept < HBK_WIDTHS_KEPT / 4 * 3) {
        fonts->kept[at].text = hbk_arena_copy(fonts->arena, text, strlen(text));
        fonts->kept[at].face = face;
        fonts->kept[at].width = width;
        fonts->n_kept++;
    }
    return size * width;
}

struct hbk_ruler hbk_fonts_ruler(struct hbk_fonts *fonts)
{
    const struct hbk_ruler ruler = {text_width, &fonts->self};
    return ruler;
}
