#include "edition/order_sheet.h"

#include "base/text.h"
#include "cli/tune_in.h"
#include "edition/part_sheet.h"
#include "edition/perform.h"
#include "passage/scale.h"
#include "passage/trill.h"
#include "reader/shipped.h"
#include "sheet/article/scales_sheet.h"
#include "sheet/article/slide_card.h"
#include "sheet/chart/chart.h"
#include "solve/slides.h"

#include <string.h>

enum { H_PART_OUT = 327, H_PART_BARS = 328 };

/* A way to lay out; `whole` is true unless it says otherwise. */
typedef enum hbk_status lay_sheet(const struct hbk_printed *printed,
                                  struct hbk_sheet *sheet, bool *whole);

static enum hbk_status lay_chart(const struct hbk_printed *printed,
                                 enum hbk_layout layout,
                                 struct hbk_sheet *sheet)
{
    struct hbk_sheet_options options = *printed->options;
    if (hbk_layout_shows_trills(layout)) {
        options.trills = hbk_trills_of(printed->notes, sheet->arena);
    }
    return hbk_sheet_chart(layout, printed->notes, &options, printed->ruler,
                           sheet);
}

static enum hbk_status lay_scales(const struct hbk_printed *printed,
                                  struct hbk_sheet *sheet, bool *whole)
{
    (void)whole;
    return hbk_sheet_scales(printed->notes,
                            hbk_scales_of(printed->notes, sheet->arena),
                            printed->options, printed->ruler, sheet);
}

static enum hbk_status lay_slides(const struct hbk_printed *printed,
                                  struct hbk_sheet *sheet, bool *whole)
{
    (void)whole;
    struct hbk_slides slides;
    HBK_TRY(hbk_slides_plan(printed->notes->horn, &printed->notes->setting,
                            sheet->arena, &slides, printed->faults));
    hbk_sheet_slide_card(&slides, printed->options, printed->ruler, sheet);
    return HBK_OK;
}

/* What the passage command would be asked. */
static struct hbk_options part_options(const struct hbk_printed *printed)
{
    const struct hbk_order_part *const part = &printed->asked->part;
    struct hbk_options options = hbk_options_none("passage");
    options.tune = part->tune.text;
    options.part = part->part.text;
    options.voice = part->voice.text;
    options.tempo = part->tempo;
    options.keep = part->keep;
    options.only_departures = part->only_departures;
    options.from_sounding = part->from_sounding;
    options.sounding = printed->options->sounding;
    return options;
}

static void tell_out(const struct hbk_printed *printed,
                     const struct hbk_performed *performed,
                     struct hbk_arena *arena)
{
    const size_t n = hbk_passage_count(&performed->view).out;
    hbk_fault_add(
        printed->faults, printed->asked->place, H_PART_OUT,
        "%s: %s is out of reach of this horn%s; the part is printed without "
        "%s",
        printed->player, hbk_perform_first_out(performed, arena),
        n == 1 ? ""
               : hbk_arena_printf(arena, ", and %zu note%s more", n - 1,
                                  n == 2 ? "" : "s"),
        n == 1 ? "its fingering" : "their fingerings");
}

static enum hbk_status lay_tune(const struct hbk_printed *printed,
                                const struct hbk_tune *tune,
                                struct hbk_sheet *sheet, bool *whole)
{
    const struct hbk_order_part *const part = &printed->asked->part;
    const struct hbk_options options = part_options(printed);
    struct hbk_performed *const performed =
        HBK_ARENA_ARRAY(sheet->arena, struct hbk_performed, 1);
    HBK_TRY(hbk_perform(&options, tune, printed->notes, sheet->arena, performed,
                        printed->faults));
    struct hbk_text why = {.arena = sheet->arena};
    if (!hbk_perform_bars(performed, part->bars.text, &why)) {
        hbk_fault_add(printed->faults, part->bars.place, H_PART_BARS,
                      "%s: 'bars' %s", printed->player, hbk_text_string(&why));
        return HBK_ERR_INPUT;
    }
    hbk_perform_tell_kept(performed, printed->faults);
    hbk_perform_tell_ornaments(performed, sheet->arena, printed->faults);
    *whole = hbk_passage_count(&performed->view).out == 0;
    if (!*whole) {
        tell_out(printed, performed, sheet->arena);
    }
    return hbk_passage_part(&performed->view, printed->options, part->circles,
                            printed->ruler, sheet);
}

static enum hbk_status lay_part(const struct hbk_printed *printed,
                                struct hbk_sheet *sheet, bool *whole)
{
    const struct hbk_options options = part_options(printed);
    struct hbk_tune_document document = {0};
    enum hbk_status status = hbk_read_tune(
        &options, printed->asked->part.file.text, &document, printed->faults);
    if (status == HBK_OK) {
        status = lay_tune(printed, &document.tune, sheet, whole);
    }
    hbk_tune_document_finish(&document);
    return status;
}

/* A kind of sheet: a layout of the chart, or a way of its own. */
static const struct {
    enum hbk_layout layout;
    lay_sheet *lay; /* NULL for a chart */
} kinds[HBK_ORDER_KIND_COUNT] = {
    [HBK_ORDER_WALL] = {HBK_LAYOUT_WALL, NULL},
    [HBK_ORDER_STAND] = {HBK_LAYOUT_STAND, NULL},
    [HBK_ORDER_CARD] = {HBK_LAYOUT_CARD, NULL},
    [HBK_ORDER_TRILLS] = {HBK_LAYOUT_TRILLS, NULL},
    [HBK_ORDER_SCALES] = {HBK_LAYOUT_COUNT, lay_scales},
    [HBK_ORDER_SLIDES] = {HBK_LAYOUT_COUNT, lay_slides},
    [HBK_ORDER_PART] = {HBK_LAYOUT_COUNT, lay_part},
};

enum hbk_status hbk_printed_lay(const struct hbk_printed *printed,
                                struct hbk_sheet *sheet, bool *whole)
{
    const enum hbk_order_kind kind = printed->asked->kind;
    *whole = true;
    return kinds[kind].lay == NULL
               ? lay_chart(printed, kinds[kind].layout, sheet)
               : kinds[kind].lay(printed, sheet, whole);
}

bool hbk_printed_takes(enum hbk_order_kind kind, enum hbk_paper paper)
{
    return kinds[kind].lay != NULL ||
           hbk_layout_takes(kinds[kind].layout, paper);
}

/* So long may each part of a name be. */
enum { PART_MAX = 40 };

/* The small letter, or letters, for a character above ASCII; or "". */
static const char *plain_letters(unsigned point, char letter[2])
{
    /* U+00C0 to U+00DF; the small letters follow in the same order. */
    static const char *const latin_1[32] = {
        "a",  "a", "a", "a", "ae", "a", "ae", "c", "e",  "e", "e",
        "e",  "i", "i", "i", "i",  "d", "n",  "o", "o",  "o", "o",
        "oe", "",  "o", "u", "u",  "u", "ue", "y", "th", "ss"};
    /* U+0100 to U+017F without their accents. */
    static const char extended_a[] =
        "aaaaaaccccccccddddeeeeeeeeeegggggggghhhhiiiiiiiiiiiijjkkkllllllllll"
        "nnnnnnnnnoooooooorrrrrrssssssssttttttuuuuuuuuuuuuwwyyyzzzzzzs";
    if (point == 0xFF) {
        return "y";
    }
    if (point >= 0xC0 && point < 0x100) {
        return latin_1[(point - 0xC0) % 32];
    }
    if (point >= 0x100 && point < 0x100 + sizeof(extended_a) - 1) {
        letter[0] = extended_a[point - 0x100];
        letter[1] = '\0';
        return letter;
    }
    return "";
}

/* One character of valid UTF-8; moves `text` past it. */
static unsigned next_point(const char **text)
{
    const unsigned char *at = (const unsigned char *)*text;
    const size_t more = *at < 0xC0 ? 0 : *at < 0xE0 ? 1 : *at < 0xF0 ? 2 : 3;
    unsigned point = more == 0 ? *at : *at & (0x3Fu >> more);
    for (size_t i = 1; i <= more; i++) {
        point = point << 6 | (at[i] & 0x3Fu);
    }
    *text += more + 1;
    return point;
}

/* The text as a part of a file name; "" when nothing of it is left. */
static const char *letters_of(const char *text, struct hbk_arena *arena)
{
    struct hbk_text part = {.arena = arena};
    bool gap = false;
    while (*text != '\0' && part.length < PART_MAX) {
        const unsigned point = next_point(&text);
        const bool is_capital = point >= 'A' && point <= 'Z';
        char letter[2] = {(char)(is_capital ? point - 'A' + 'a' : point), '\0'};
        const bool is_plain = is_capital || (point >= 'a' && point <= 'z') ||
                              (point >= '0' && point <= '9');
        const char *const put =
            is_plain ? letter : plain_letters(point, letter);
        if (put[0] == '\0') {
            /* An apostrophe parts no words. */
            gap = gap || (point != '\'' && point != 0x2019);
            continue;
        }
        if (gap && part.length > 0) {
            hbk_text_add(&part, "-");
        }
        gap = false;
        hbk_text_add(&part, put);
    }
    return hbk_text_string(&part);
}

/* The same of what needs no letters, a file or a crook: "x" for nothing. */
static const char *part_of(const char *text, struct hbk_arena *arena)
{
    const char *const letters = letters_of(text, arena);
    return letters[0] == '\0' ? "x" : letters;
}

/* The name of a file without folder and ending, fit for another name. */
static const char *file_part(const char *path, bool has_ending,
                             struct hbk_arena *arena)
{
    const char *const slash = strrchr(path, '/');
    const char *const name = slash == NULL ? path : slash + 1;
    const char *const dot = has_ending ? strrchr(name, '.') : NULL;
    const size_t length =
        dot == NULL || dot == name ? strlen(name) : (size_t)(dot - name);
    return part_of(hbk_arena_copy(arena, name, length), arena);
}

static const char *horn_part(const struct hbk_order_player *player,
                             struct hbk_arena *arena)
{
    const char *const horn = player->horn.text;
    const char *const part = file_part(horn, hbk_shipped_is_path(horn), arena);
    return player->crook.text == NULL
               ? part
               : hbk_arena_printf(arena, "%s-%s", part,
                                  part_of(player->crook.text, arena));
}

/* "wall"; of a part "galop_part", or "book-3_part" for a tune of a book. */
static const char *sheet_part(const struct hbk_order_sheet *sheet,
                              struct hbk_arena *arena)
{
    const char *const kind = hbk_order_kind_name(sheet->kind);
    if (sheet->kind != HBK_ORDER_PART) {
        return kind;
    }
    const char *const which = sheet->part.tune.text;
    const char *const file = file_part(sheet->part.file.text, true, arena);
    return which == NULL ? hbk_arena_printf(arena, "%s_%s", file, kind)
                         : hbk_arena_printf(arena, "%s-%s_%s", file,
                                            part_of(which, arena), kind);
}

struct names {
    struct hbk_arena *arena;
    const char **all; /* so far */
    size_t n;
};

static bool is_taken(const struct names *names, const char *name)
{
    for (size_t i = 0; i < names->n; i++) {
        if (strcmp(names->all[i], name) == 0) {
            return true;
        }
    }
    return false;
}

static const char *add_name(struct names *names, const char *stem)
{
    const char *name = stem;
    /* A further page of a sheet is called name-2, so a namesake is name_2. */
    for (size_t k = 2; is_taken(names, name); k++) {
        name = hbk_arena_printf(names->arena, "%s_%zu", stem, k);
    }
    names->all[names->n++] = name;
    return name;
}

/* Whom and what for: "ada-fenwick_cornet-b-flat". */
static const char *player_stem(const struct hbk_order_player *player,
                               size_t place, struct hbk_arena *arena)
{
    const char *const letters = letters_of(player->name, arena);
    const char *const who = letters[0] == '\0'
                                ? hbk_arena_printf(arena, "player-%zu", place)
                                : letters;
    return hbk_arena_printf(arena, "%s_%s", who, horn_part(player, arena));
}

/* Two of a name who play the same horn are told apart by their places. */
static const char *namesake_stem(const struct hbk_order_player *player,
                                 size_t place, struct hbk_arena *arena)
{
    const char *const letters = letters_of(player->name, arena);
    return letters[0] == '\0'
               ? player_stem(player, place, arena)
               : hbk_arena_printf(arena, "%s-player-%zu_%s", letters, place,
                                  horn_part(player, arena));
}

static const char **player_stems(const struct hbk_order *order,
                                 struct hbk_arena *arena)
{
    const size_t n = order->n_players;
    const char **const plain = HBK_ARENA_ARRAY(arena, const char *, n);
    const char **const stems = HBK_ARENA_ARRAY(arena, const char *, n);
    for (size_t i = 0; i < n; i++) {
        plain[i] = player_stem(&order->players[i], i + 1, arena);
    }
    for (size_t i = 0; i < n; i++) {
        stems[i] = plain[i];
        for (size_t k = 0; k < n; k++) {
            if (k != i && strcmp(plain[k], plain[i]) == 0) {
                stems[i] = namesake_stem(&order->players[i], i + 1, arena);
            }
        }
    }
    return stems;
}

const char *const *const *hbk_printed_names(const struct hbk_order *order,
                                            struct hbk_arena *arena)
{
    size_t all = 0;
    for (size_t i = 0; i < order->n_players; i++) {
        all += order->players[i].n_sheets;
    }
    struct names names = {.arena = arena,
                          .all = HBK_ARENA_ARRAY(arena, const char *, all)};
    const char **const stems = player_stems(order, arena);
    const char *const **const of_players =
        HBK_ARENA_ARRAY(arena, const char *const *, order->n_players);
    for (size_t i = 0; i < order->n_players; i++) {
        const struct hbk_order_player *const player = &order->players[i];
        const char **const of_sheets =
            HBK_ARENA_ARRAY(arena, const char *, player->n_sheets);
        for (size_t k = 0; k < player->n_sheets; k++) {
            of_sheets[k] = add_name(
                &names,
                hbk_arena_printf(arena, "%s_%s", stems[i],
                                 sheet_part(&player->sheets[k], arena)));
        }
        of_players[i] = of_sheets;
    }
    return of_players;
}
