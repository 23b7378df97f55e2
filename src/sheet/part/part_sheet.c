#include "sheet/part/part_sheet.h"

#include "horn/about.h"
#include "sheet/part/part_layout.h"

#include <string.h>

static const double least_staff = 4.0; /* mm */
static const double widest_staff = 9.0;

struct sizes {
    double staff, unit;
};

static struct sizes sizes_of(enum hbk_paper paper)
{
    static const struct sizes sizes[HBK_PAPER_COUNT] = {
        [HBK_A4] = {7.0, 1.0},     [HBK_A3] = {9.0, 1.3},
        [HBK_A5] = {6.0, 0.9},     [HBK_A6] = {5.0, 0.83},
        [HBK_LETTER] = {7.0, 1.0},
    };
    return sizes[paper];
}

/* "Solo cornet"; the name of a voice where the source has none of the part. */
static const char *part_name(const struct hbk_tune *tune,
                             struct hbk_arena *arena)
{
    if (tune->part[0] != '\0' || tune->voice[0] == '\0') {
        return tune->part;
    }
    const bool is_number =
        strspn(tune->voice, "0123456789") == strlen(tune->voice);
    return hbk_arena_printf(arena, "%s%s", is_number ? "Voice " : "",
                            tune->voice);
}

/* Copies what the sheet says of itself. */
static void name_sheet(struct hbk_part_layout *part)
{
    const struct hbk_tune *tune = part->eng.tune;
    struct hbk_sheet *sheet = part->pad.sheet;
    const char *title = part->options->title;
    if (title == NULL) {
        title = tune->title[0] == '\0' ? "Passage" : tune->title;
    }
    sheet->title = hbk_arena_copy(sheet->arena, title, strlen(title));
    const struct hbk_part_words *words = part->text.words;
    const char *subject =
        words != NULL && words->heading != NULL ? words->heading : "";
    sheet->subject = hbk_arena_copy(sheet->arena, subject, strlen(subject));
    sheet->kind = part->options->excerpts == NULL ? "part" : "practice";
    part->text.title = sheet->title;
    part->text.subtitle = tune->subtitle;
    part->text.lyricist = tune->lyricist;
    part->text.composer = tune->composer;
    part->text.arranger = tune->arranger;
    part->text.rights = tune->rights;
    if (part->options->excerpts == NULL) {
        part->text.stanzas =
            hbk_part_stanzas(sheet->arena, tune->marks.n_stanzas,
                             tune->marks.stanzas, &part->text.n_stanzas);
    }
    part->text.part = part_name(tune, sheet->arena);
    const struct hbk_horn *horn = part->fingers.horn;
    part->text.horn = horn == NULL ? "" : hbk_horn_name(horn);
}

static bool is_sound(const struct hbk_tune *tune,
                     const struct hbk_part_options *options,
                     const struct hbk_horn *horn)
{
    const bool staff_fits =
        options->staff_mm == 0.0 ||
        (options->staff_mm >= least_staff && options->staff_mm <= widest_staff);
    return tune->n_events > 0 && options->first_bar < tune->n_bars &&
           staff_fits && (!options->circles || horn != NULL);
}

/* Whether each line of music has room on a page. */
static bool rows_have_room(struct hbk_part_layout *part)
{
    const double room =
        part->paper.height - 2.0 * part->paper.margin -
        hbk_part_head(&part->pad, &part->text, "", false, 0.0, 0.0);
    bool fit = true;
    for (size_t i = 0; i < part->n_rows; i++) {
        fit = fit && part->rows[i].above + part->rows[i].below <= room;
    }
    return fit;
}

/* Draws all lines, with as many choices as have room, then the pages. */
static void lay_part(struct hbk_part_layout *part)
{
    part->fingers.most_others = HBK_PART_OTHERS_MAX;
    hbk_part_draw_rows(part);
    while (part->text.used.others > 0 && !rows_have_room(part)) {
        part->fingers.most_others = part->text.used.others - 1;
        hbk_part_draw_rows(part);
    }
    hbk_part_lay_pages(part, false);
    hbk_part_lay_pages(part, true);
}

enum hbk_status hbk_sheet_part(const struct hbk_tune *tune,
                               const struct hbk_part_fingering *fingerings,
                               const struct hbk_part_words *words,
                               const struct hbk_part_options *options,
                               const struct hbk_horn *horn,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet)
{
    static const struct hbk_part_options usual = {.paper = HBK_A4};
    options = options == NULL ? &usual : options;
    if (!is_sound(tune, options, horn)) {
        return HBK_ERR_DOMAIN;
    }
    const struct sizes sizes = sizes_of(options->paper);
    const size_t left = tune->n_bars - options->first_bar;
    const struct hbk_part_excerpt whole = {
        .first_bar = options->first_bar,
        .n_bars = options->n_bars == 0 || options->n_bars > left
                      ? left
                      : options->n_bars};
    const struct hbk_part_excerpts range = {.n = 1, .items = &whole};
    struct hbk_part_layout part = {
        .options = options,
        .shown = options->excerpts == NULL ? range : *options->excerpts,
        .paper = hbk_paper_size(options->paper),
        .pad = {.sheet = sheet, .ruler = ruler},
        .eng = {.arena = sheet->arena, .tune = tune, .naming = options->naming},
        .fingers = {.tune = tune,
                    .fingerings = fingerings,
                    .horn = horn,
                    .sounding = options->sounding,
                    .sounds_higher_by = options->sounds_higher_by,
                    .naming = options->naming},
        .text = {.words = words, .unit = sizes.unit},
    };
    part.space =
        0.25 * (options->staff_mm > 0.0 ? options->staff_mm : sizes.staff);
    part.left = part.paper.margin;
    part.width = part.paper.width - 2.0 * part.paper.margin;
    part.text.width = part.width;
    part.text.fingers = &part.fingers;
    name_sheet(&part);
    lay_part(&part);
    return HBK_OK;
}
