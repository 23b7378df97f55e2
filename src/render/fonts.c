#include "render/fonts.h"

#include "base/messages.h"
#include "page/paper.h"
#include "render/faces.h"

#include <cairo-ft.h>
#include <fontconfig/fontconfig.h>
#include <pango/pangofc-fontmap.h>

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* Where Debian, and hand-installed fonts, keep the files. */
static const char *const usual_folders =
    "/usr/share/fonts/opentype/ebgaramond:/usr/share/fonts/truetype/noto:"
    "/usr/share/fonts/truetype/open-sans:/usr/share/fonts/truetype/dejavu:"
    "/usr/local/share/fonts";

struct font_file {
    const char *name;
    const char *family; /* one that no other file here has */
    const char *style;
    const char *package;
};

static const struct font_file font_files[HBK_CUT_COUNT] = {
    [HBK_CUT_BOOK] = {"EBGaramond08-Regular.otf", "EB Garamond 08",
                      "08 Regular", "fonts-ebgaramond"},
    [HBK_CUT_BOOK_LARGE] = {"EBGaramond12-Regular.otf", "EB Garamond 12",
                            "12 Regular", "fonts-ebgaramond"},
    [HBK_CUT_ITALIC] = {"EBGaramond08-Italic.otf", "EB Garamond 08",
                        "08 Italic", "fonts-ebgaramond"},
    [HBK_CUT_ITALIC_LARGE] = {"EBGaramond12-Italic.otf", "EB Garamond 12",
                              "12 Italic", "fonts-ebgaramond"},
    [HBK_CUT_BOLD] = {"NotoSans-Bold.ttf", "Noto Sans", "Bold",
                      "fonts-noto-core"},
    [HBK_CUT_FIGURE] = {"OpenSans-CondBold.ttf", "Open Sans Condensed", "Bold",
                        "fonts-open-sans"},
    [HBK_CUT_OTHER] = {"DejaVuSans.ttf", "DejaVu Sans", "Book",
                       "fonts-dejavu-core"},
    [HBK_CUT_OTHER_BOLD] = {"DejaVuSans-Bold.ttf", "DejaVu Sans", "Bold",
                            "fonts-dejavu-core"},
    [HBK_CUT_MUSIC] = {"NotoMusic-Regular.ttf", "Noto Music", "Regular",
                       "fonts-noto-core"},
};

static const struct hbk_place nowhere = {NULL, 0, 0};

/* The first folder of the list that has the file; NULL for none. */
static char *find_file(struct hbk_arena *arena, const char *folders,
                       const char *name)
{
    while (*folders != '\0') {
        const size_t length = strcspn(folders, ":");
        if (length > 0) {
            char *path =
                hbk_arena_printf(arena, "%.*s/%s", (int)length, folders, name);
            if (access(path, R_OK) == 0) {
                return path;
            }
        }
        folders += length;
        folders += *folders == ':' ? 1 : 0;
    }
    return NULL;
}

/* Whether the pattern has the value, among those of several languages. */
static bool says(FcPattern *pattern, const char *object, const char *value)
{
    FcChar8 *found;
    for (int i = 0;
         FcPatternGetString(pattern, object, i, &found) == FcResultMatch; i++) {
        if (strcmp((const char *)found, value) == 0) {
            return true;
        }
    }
    return false;
}

/* Adds a file; what it says of itself, which the configuration owns. */
static FcPattern *add_file(FcConfig *config, const char *path)
{
    if (!FcConfigAppFontAddFile(config, (const FcChar8 *)path)) {
        return NULL;
    }
    const FcFontSet *set = FcConfigGetFonts(config, FcSetApplication);
    for (int i = set == NULL ? 0 : set->nfont; i-- > 0;) {
        if (says(set->fonts[i], FC_FILE, path)) {
            return set->fonts[i];
        }
    }
    return NULL;
}

/* NULL, with a fault, if the file is missing or another font. */
static FcPattern *query(const struct font_file *file, FcConfig *config,
                        struct hbk_arena *arena, struct hbk_faults *faults,
                        const char **path)
{
    const char *folders = getenv("HORNBOOK_FONTS");
    if (folders == NULL || folders[0] == '\0') {
        folders = usual_folders;
    }
    *path = find_file(arena, folders, file->name);
    if (*path == NULL) {
        hbk_fault_add(faults, nowhere, HBK_H_FONT_MISSING,
                      "the font %s is missing: no %s in %s; install the "
                      "package %s, or name the folder in HORNBOOK_FONTS",
                      file->family, file->name, folders, file->package);
        return NULL;
    }
    FcPattern *pattern = add_file(config, *path);
    if (pattern != NULL && says(pattern, FC_FAMILY, file->family) &&
        says(pattern, FC_STYLE, file->style)) {
        return pattern;
    }
    const struct hbk_place place = {*path, 0, 0};
    hbk_fault_add(faults, place, HBK_H_NOT_THE_FONT,
                  "this file is not the font %s %s; install the package %s",
                  file->family, file->style, file->package);
    return NULL;
}

/*
 * A font map that knows these files and nothing else of the machine. They are
 * made current besides, or the drawing library would read the whole set-up of
 * the machine's fonts, which nothing here asks for.
 */
static bool make_map(struct hbk_fonts *fonts, FcConfig *config)
{
    fonts->map = pango_cairo_font_map_new_for_font_type(CAIRO_FONT_TYPE_FT);
    if (fonts->map == NULL || !FcConfigSetCurrent(config)) {
        return false;
    }
    pango_fc_font_map_set_config(PANGO_FC_FONT_MAP(fonts->map), config);
    return true;
}

static PangoContext *make_context(const struct hbk_fonts *fonts)
{
    PangoContext *context = pango_font_map_create_context(fonts->map);
    pango_cairo_context_set_font_options(context, fonts->options);
    pango_cairo_context_set_resolution(context, HBK_POINTS_PER_INCH);
    pango_context_set_round_glyph_positions(context, FALSE);
    pango_context_set_language(context, pango_language_from_string("en"));
    return context;
}

static void make_contexts(struct hbk_fonts *fonts)
{
    fonts->options = cairo_font_options_create();
    cairo_font_options_set_hint_style(fonts->options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_hint_metrics(fonts->options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_antialias(fonts->options, CAIRO_ANTIALIAS_GRAY);
    fonts->context = make_context(fonts);
    for (size_t i = 0; i < HBK_CUT_MUSIC; i++) {
        PangoFontDescription *what = pango_font_description_new();
        pango_font_description_set_family_static(what, font_files[i].family);
        const bool bold =
            i == HBK_CUT_BOLD || i == HBK_CUT_FIGURE || i == HBK_CUT_OTHER_BOLD;
        pango_font_description_set_weight(what, bold ? PANGO_WEIGHT_BOLD
                                                     : PANGO_WEIGHT_NORMAL);
        const bool italic = i == HBK_CUT_ITALIC || i == HBK_CUT_ITALIC_LARGE;
        pango_font_description_set_style(what, italic ? PANGO_STYLE_ITALIC
                                                      : PANGO_STYLE_NORMAL);
        pango_font_description_set_absolute_size(what,
                                                 HBK_SET_SIZE * PANGO_SCALE);
        fonts->cuts[i] = what;
    }
}

/* All files of a configuration, which owns the patterns. */
static enum hbk_status query_all(FcConfig *config, struct hbk_arena *arena,
                                 struct hbk_faults *faults,
                                 FcPattern *patterns[HBK_CUT_COUNT],
                                 const char *paths[HBK_CUT_COUNT])
{
    enum hbk_status status = HBK_OK;
    for (size_t i = 0; i < HBK_CUT_COUNT; i++) {
        patterns[i] = query(&font_files[i], config, arena, faults, &paths[i]);
        status = patterns[i] == NULL ? HBK_ERR_RENDER : status;
    }
    return status;
}

static enum hbk_status refuse(struct hbk_faults *faults)
{
    hbk_fault_add(faults, nowhere, HBK_H_FONT_LIBRARY,
                  "the font library could not open the fonts");
    return HBK_ERR_RENDER;
}

enum hbk_status hbk_fonts_check(struct hbk_arena *arena,
                                struct hbk_faults *faults)
{
    FcPattern *patterns[HBK_CUT_COUNT];
    const char *paths[HBK_CUT_COUNT];
    FcConfig *config = FcConfigCreate();
    if (config == NULL) {
        return refuse(faults);
    }
    const enum hbk_status status =
        query_all(config, arena, faults, patterns, paths);
    FcConfigDestroy(config);
    return status;
}

enum hbk_status hbk_fonts_open(struct hbk_arena *arena,
                               struct hbk_fonts **fonts,
                               struct hbk_faults *faults)
{
    FcPattern *patterns[HBK_CUT_COUNT] = {NULL};
    struct hbk_fonts *made = HBK_ARENA_ARRAY(arena, struct hbk_fonts, 1);
    made->self = made;
    made->arena = arena;
    FcConfig *config = FcConfigCreate();
    if (config == NULL) {
        return refuse(faults);
    }
    enum hbk_status status =
        query_all(config, arena, faults, patterns, made->files);
    if (status == HBK_OK && make_map(made, config)) {
        make_contexts(made);
        made->music =
            cairo_ft_font_face_create_for_pattern(patterns[HBK_CUT_MUSIC]);
        for (size_t i = 0; i < HBK_CUT_COUNT; i++) {
            FcCharSet *charset = NULL;
            FcPatternGetCharSet(patterns[i], FC_CHARSET, 0, &charset);
            made->charsets[i] = FcCharSetCopy(charset);
        }
        *fonts = made;
    } else if (status == HBK_OK) {
        hbk_fonts_close(made);
        status = refuse(faults);
    }
    FcConfigDestroy(config);
    return status;
}

void hbk_fonts_close(struct hbk_fonts *fonts)
{
    if (fonts == NULL) {
        return;
    }
    for (size_t i = 0; i < HBK_CUT_COUNT; i++) {
        if (fonts->cuts[i] != NULL) {
            pango_font_description_free(fonts->cuts[i]);
        }
        if (fonts->charsets[i] != NULL) {
            FcCharSetDestroy(fonts->charsets[i]);
        }
    }
    cairo_font_face_destroy(fonts->music);
    if (fonts->options != NULL) {
        cairo_font_options_destroy(fonts->options);
    }
    if (fonts->context != NULL) {
        g_object_unref(fonts->context);
    }
    if (fonts->map != NULL) {
        g_object_unref(fonts->map);
    }
    fonts->music = NULL;
    fonts->options = NULL;
    fonts->context = NULL;
    fonts->map = NULL;
}

unsigned long hbk_fonts_music_index(struct hbk_fonts *fonts, uint32_t glyph)
{
    cairo_matrix_t em, identity;
    cairo_matrix_init_scale(&em, 100.0, 100.0);
    cairo_matrix_init_identity(&identity);
    cairo_scaled_font_t *scaled =
        cairo_scaled_font_create(fonts->music, &em, &identity, fonts->options);
    FT_Face face = cairo_ft_scaled_font_lock_face(scaled);
    unsigned long index = 0;
    if (face != NULL) {
        index = FT_Get_Char_Index(face, glyph);
        cairo_ft_scaled_font_unlock_face(scaled);
    }
    cairo_scaled_font_destroy(scaled);
    return index;
}

bool hbk_fonts_has(const struct hbk_fonts *fonts, enum hbk_cut cut,
                   uint32_t letter)
{
    return FcCharSetHasChar(fonts->charsets[cut], letter);
}

enum hbk_cut hbk_fonts_cut(const struct hbk_fonts *fonts, PangoFont *font)
{
    FcPattern *pattern = pango_fc_font_get_pattern(PANGO_FC_FONT(font));
    FcChar8 *file = NULL;
    if (FcPatternGetString(pattern, FC_FILE, 0, &file) == FcResultMatch) {
        for (size_t i = 0; i < HBK_CUT_MUSIC; i++) {
            if (strcmp((const char *)file, fonts->files[i]) == 0) {
                return (enum hbk_cut)i;
            }
        }
    }
    return HBK_CUT_COUNT;
}
