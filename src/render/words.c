#include "render/faces.h"

#include "base/messages.h"
#include "render/fonts.h"

#include <fontconfig/fontconfig.h>

#include <string.h>

/* WHITE SQUARE, which the cuts for other characters have. */
static const char box[] = "\xE2\x96\xA1";

/* Between small capitals, ems. */
static const double caps_spacing = 0.06;

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

/* Where the characters come from that a cut lacks. */
static enum hbk_cut other_of(enum hbk_cut cut)
{
    return cut == HBK_CUT_BOLD || cut == HBK_CUT_FIGURE ||
                   cut == HBK_CUT_OTHER_BOLD
               ? HBK_CUT_OTHER_BOLD
               : HBK_CUT_OTHER;
}

struct hbk_typeset hbk_typeset_of(enum hbk_face face, double size)
{
    static const enum hbk_cut cuts[HBK_FACE_COUNT] = {
        [HBK_FACE_PLAIN] = HBK_CUT_BOOK,
        [HBK_FACE_ITALIC] = HBK_CUT_ITALIC,
        [HBK_FACE_CAPS] = HBK_CUT_BOOK,
        [HBK_FACE_BOLD] = HBK_CUT_BOLD,
        [HBK_FACE_FIGURE] = HBK_CUT_FIGURE};
    struct hbk_typeset how = {cuts[face], face == HBK_FACE_CAPS};
    if (size >= HBK_LARGE_CUT - 1e-6) {
        how.cut = how.cut == HBK_CUT_BOOK     ? HBK_CUT_BOOK_LARGE
                  : how.cut == HBK_CUT_ITALIC ? HBK_CUT_ITALIC_LARGE
                                              : how.cut;
    }
    return how;
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
    hbk_fault_warn(
        faults, nowhere, HBK_H_NO_CHARACTER,
        "none of the fonts has the character U+%04X (%.*s): a box is "
        "printed in its place",
        (unsigned)letter, (int)bytes, shown);
}

const char *hbk_fonts_known_text(const struct hbk_fonts *fonts,
                                 struct hbk_typeset how, const char *text,
                                 uint32_t missing[HBK_MISSING_KEPT],
                                 struct hbk_faults *faults)
{
    struct hbk_text known = {.arena = fonts->arena};
    const char *from = text; /* what is not copied yet */
    for (const char *at = text; *at != '\0';) {
        size_t bytes;
        const uint32_t letter = letter_at(at, &bytes);
        if (!hbk_fonts_has(fonts, how.cut, letter) &&
            !hbk_fonts_has(fonts, other_of(how.cut), letter)) {
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

/* From `first` to `end` in bytes. */
static void insert(PangoAttrList *list, PangoAttribute *attribute, size_t first,
                   size_t end)
{
    attribute->start_index = (guint)first;
    attribute->end_index = (guint)end;
    pango_attr_list_insert(list, attribute);
}

/* Runs of characters that the cut lacks are set in the other. */
static void insert_others(const struct hbk_fonts *fonts, enum hbk_cut cut,
                          const char *text, PangoAttrList *list)
{
    const PangoFontDescription *other = fonts->cuts[other_of(cut)];
    for (const char *at = text; *at != '\0';) {
        const char *first = at;
        size_t bytes = 0;
        while (*at != '\0' &&
               !hbk_fonts_has(fonts, cut, letter_at(at, &bytes))) {
            at += bytes;
        }
        if (at > first) {
            insert(list, pango_attr_font_desc_new(other),
                   (size_t)(first - text), (size_t)(at - text));
        } else {
            at += bytes;
        }
    }
}

PangoLayout *hbk_fonts_layout(const struct hbk_fonts *fonts,
                              struct hbk_typeset how, const char *known_text)
{
    PangoLayout *layout = pango_layout_new(fonts->context);
    pango_layout_set_font_description(layout, fonts->cuts[how.cut]);
    pango_layout_set_single_paragraph_mode(layout, TRUE);
    PangoAttrList *attributes = pango_attr_list_new();
    pango_attr_list_insert(attributes, pango_attr_fallback_new(FALSE));
    /*
     * Some readers of PDF lose the rest of a line after a ligature. Without
     * it the book face kerns an f so far from an l that they read as two
     * words, hence no kerning either. Figures are keys, pitches and notes: all
     * of one height.
     */
    pango_attr_list_insert(attributes,
                           pango_attr_font_features_new(
                               how.is_caps
                                   ? "liga 0, clig 0, lnum 1, smcp 1"
                                   : "liga 0, clig 0, dlig 0, kern 0, lnum 1"));
    if (how.is_caps) {
        pango_attr_list_insert(
            attributes, pango_attr_letter_spacing_new(
                            (int)(caps_spacing * HBK_SET_SIZE * PANGO_SCALE)));
    }
    insert_others(fonts, how.cut, known_text, attributes);
    pango_layout_set_attributes(layout, attributes);
    pango_attr_list_unref(attributes);
    pango_layout_set_text(layout, known_text, -1);
    return layout;
}

static double measure(const struct hbk_fonts *fonts, struct hbk_typeset how,
                      const char *text)
{
    const char *known = hbk_fonts_known_text(fonts, how, text, NULL, NULL);
    PangoLayout *layout = hbk_fonts_layout(fonts, how, known);
    PangoRectangle logical;
    pango_layout_get_extents(layout, NULL, &logical);
    g_object_unref(layout);
    return (double)logical.width / PANGO_SCALE / HBK_SET_SIZE;
}

/* FNV-1a, 32 bits. */
static size_t hash(struct hbk_typeset how, const char *text)
{
    uint32_t sum = 2166136261u ^ ((uint32_t)how.cut * 2u + how.is_caps);
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
    const struct hbk_typeset how = hbk_typeset_of(face, size);
    size_t at = hash(how, text);
    while (fonts->kept[at].text != NULL) {
        if (fonts->kept[at].how.cut == how.cut &&
            fonts->kept[at].how.is_caps == how.is_caps &&
            strcmp(fonts->kept[at].text, text) == 0) {
            return size * fonts->kept[at].width;
        }
        at = (at + 1) % HBK_WIDTHS_KEPT;
    }
    const double width = measure(fonts, how, text);
    /* A quarter of the places stays free, so that a search always ends. */
    if (fonts->n_kept < HBK_WIDTHS_KEPT / 4 * 3) {
        fonts->kept[at].text = hbk_arena_copy(fonts->arena, text, strlen(text));
        fonts->kept[at].how = how;
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
