#include "reader/order_sheets.h"

#include "base/messages.h"
#include "music/moving.h"

#include <math.h>
#include <string.h>

enum { SHEETS_MAX = 20, NUMBER_MAX = 999999 };

static const char *const papers[] = {"A4", "A3", "A5", "A6", "Letter"};

static bool read_kind(struct hbk_asked asked, enum hbk_order_kind *kind)
{
    const char *kinds[HBK_ORDER_KIND_COUNT];
    for (int k = 0; k < HBK_ORDER_KIND_COUNT; k++) {
        kinds[k] = hbk_order_kind_name((enum hbk_order_kind)k);
    }
    size_t i = 0;
    if (!hbk_value_choice(asked, kinds, HBK_ORDER_KIND_COUNT, &i)) {
        return false;
    }
    *kind = (enum hbk_order_kind)i;
    return true;
}

void hbk_order_read_paper(const struct hbk_fields *fields, const char **paper)
{
    size_t i = 0;
    if (hbk_field_choice(fields, "paper", papers,
                         sizeof(papers) / sizeof(papers[0]), &i) == HBK_GOT) {
        *paper = papers[i];
    }
}

const char *hbk_order_from_folder(const struct hbk_order_ground *ground,
                                  const char *path, struct hbk_arena *arena)
{
    const char *const slash = strrchr(ground->path, '/');
    return path[0] == '/' || slash == NULL
               ? path
               : hbk_arena_printf(arena, "%.*s%s",
                                  (int)(slash - ground->path + 1), ground->path,
                                  path);
}

enum hbk_got hbk_order_read_word(const struct hbk_fields *fields,
                                 const char *name, struct hbk_order_word *word)
{
    const enum hbk_got got =
        hbk_field_text(fields, name, HBK_ORDER_PATH_COLUMNS, &word->text);
    if (got == HBK_GOT) {
        word->place = hbk_fields_find(fields, name)->place;
    }
    return got;
}

/* A name, or a number that serves as one: `tune: 3`, `bars: 8`. */
static void read_name(const struct hbk_fields *fields, const char *name,
                      struct hbk_order_word *word)
{
    const struct hbk_node *const node = hbk_fields_find(fields, name);
    long number = 0;
    if (node == NULL || node->kind != HBK_SCALAR ||
        hbk_node_type(node) != HBK_IS_NUMBER) {
        (void)hbk_order_read_word(fields, name, word);
    } else if (hbk_field_whole(fields, name, 0, NUMBER_MAX, &number) ==
               HBK_GOT) {
        word->text = hbk_arena_printf(fields->arena, "%ld", number);
        word->place = node->place;
    }
}

/* A word of music/moving.h, be it a number; NULL where there is none. */
static const char *
read_move(const struct hbk_fields *fields, const char *name, const char *takes,
          bool (*is_one)(const char *word, struct hbk_moving *moving))
{
    struct hbk_moving moving = {0};
    const struct hbk_node *const node = hbk_fields_find(fields, name);
    if (node == NULL) {
        return NULL;
    }
    if (node->kind != HBK_SCALAR || !is_one(node->text, &moving)) {
        hbk_value_fault(hbk_fields_ask(fields, name), HBK_H_ORDER_MOVING, "%s",
                        takes);
        return NULL;
    }
    return node->text;
}

void hbk_order_read_moving(const struct hbk_fields *fields,
                           struct hbk_order_moving *moving)
{
    *moving = (struct hbk_order_moving){
        .octave = read_move(fields, "octave", hbk_moving_takes_octave,
                            hbk_moving_octave),
        .transpose = read_move(fields, "transpose", hbk_moving_takes_interval,
                               hbk_moving_interval),
        .to_key =
            read_move(fields, "to_key", hbk_moving_takes_key, hbk_moving_key)};
    if (moving->transpose != NULL && moving->to_key != NULL) {
        hbk_value_fault(hbk_fields_ask(fields, "to_key"), HBK_H_ORDER_MOVING,
                        "'transpose' says already where the part goes; leave "
                        "one of the two out");
    }
}

/* top, bottom, or a number from 1 to 9. */
static void read_line(const struct hbk_fields *fields, int *line)
{
    enum { LINES_MAX = 9 };
    const struct hbk_asked asked = hbk_fields_ask(fields, "line");
    if (asked.node == NULL) {
        return;
    }
    const char *const text =
        asked.node->kind == HBK_SCALAR ? asked.node->text : "";
    if (strcmp(text, "top") == 0) {
        *line = 1;
    } else if (strcmp(text, "bottom") == 0) {
        *line = -1;
    } else if (text[0] >= '1' && text[0] <= '0' + LINES_MAX &&
               text[1] == '\0') {
        *line = text[0] - '0';
    } else {
        hbk_value_fault(asked, HBK_H_ORDER_LINE,
                        "'line' is top, bottom, or a number from 1 to %d "
                        "counted from the top",
                        LINES_MAX);
    }
}

/* What says which music, and how it is to be fingered. */
static void read_part(const struct hbk_order_ground *ground,
                      const struct hbk_fields *fields,
                      struct hbk_order_part *part)
{
    const enum hbk_got got = hbk_order_read_word(fields, "file", &part->file);
    if (got == HBK_ABSENT) {
        hbk_fields_missing(fields, "file",
                           "the music, as in 'file: galop.abc'");
    } else if (got == HBK_GOT && strcmp(part->file.text, "-") == 0) {
        hbk_value_fault(hbk_fields_ask(fields, "file"), HBK_H_TUNE_FROM_INPUT,
                        "an order does not read music from standard input; "
                        "name a file");
    } else if (got == HBK_GOT) {
        part->file.text =
            hbk_order_from_folder(ground, part->file.text, fields->arena);
    }
    read_name(fields, "tune", &part->tune);
    read_name(fields, "part", &part->part);
    read_name(fields, "voice", &part->voice);
    read_line(fields, &part->line);
    read_name(fields, "bars", &part->bars);
    (void)hbk_field_number(fields, "tempo",
                           (struct hbk_range){5.0, 1000.0, HBK_UNIT_NONE},
                           &part->tempo);
    (void)hbk_field_whole(fields, "choices", 0, 8, &part->choices);
    (void)hbk_field_bool(fields, "circles", &part->circles);
    (void)hbk_field_bool(fields, "keep", &part->keep);
    (void)hbk_field_bool(fields, "only_departures", &part->only_departures);
    part->says_sounding = hbk_field_bool(fields, "from_sounding",
                                         &part->from_sounding) == HBK_GOT;
    hbk_order_read_moving(fields, &part->moving);
}

/* Names that a sheet may have, in the order of whose they are. */
static const char *const known[] = {"sheet",         "paper",
                                    "title",         "file",
                                    "tune",          "part",
                                    "voice",         "line",
                                    "bars",          "tempo",
                                    "choices",       "circles",
                                    "keep",          "only_departures",
                                    "from_sounding", "octave",
                                    "transpose",     "to_key",
                                    "fold",          "large",
                                    "range"};
enum {
    N_KNOWN = sizeof(known) / sizeof(known[0]),
    FIRST_OF_PART = 3,
    FIRST_OF_PRIMER = 18
};

/* Refuses what only a part has, on another sheet. */
static void refuse_part(const struct hbk_fields *fields)
{
    for (size_t i = FIRST_OF_PART; i < FIRST_OF_PRIMER; i++) {
        if (hbk_fields_find(fields, known[i]) != NULL) {
            hbk_value_fault(hbk_fields_ask(fields, known[i]), HBK_H_PART_ONLY,
                            "this belongs to a part; write 'sheet: part', or "
                            "'sheet: practice', or leave it out");
        }
    }
}

/* Likewise what only a primer has. */
static void refuse_primer(const struct hbk_fields *fields)
{
    for (size_t i = FIRST_OF_PRIMER; i < N_KNOWN; i++) {
        if (hbk_fields_find(fields, known[i]) != NULL) {
            hbk_value_fault(hbk_fields_ask(fields, known[i]), HBK_H_PRIMER_ONLY,
                            "this belongs to a primer; write 'sheet: primer', "
                            "or leave it out");
        }
    }
}

static void read_primer(const struct hbk_fields *fields,
                        struct hbk_order_primer *primer)
{
    (void)hbk_field_bool(fields, "fold", &primer->fold);
    (void)hbk_field_bool(fields, "large", &primer->large);
    (void)hbk_order_read_word(fields, "range", &primer->range);
}

/* What each kind of sheet has of its own. */
static void read_own(const struct hbk_order_ground *ground,
                     const struct hbk_fields *fields,
                     struct hbk_order_sheet *sheet)
{
    if (hbk_order_kind_has_music(sheet->kind)) {
        read_part(ground, fields, &sheet->part);
    } else {
        refuse_part(fields);
    }
    if (sheet->kind == HBK_ORDER_PRIMER) {
        read_primer(fields, &sheet->primer);
    } else {
        refuse_primer(fields);
    }
}

/*
 * Until the sheet names its own: the order's, or A4; a card for the case A6. A
 * booklet is folded of the order's paper, its pages are half as large; of
 * Letter none is, which is told where it is laid out.
 */
static void set_paper(const struct hbk_order_ground *ground,
                      struct hbk_order_sheet *sheet)
{
    sheet->paper = ground->paper != NULL             ? ground->paper
                   : sheet->kind == HBK_ORDER_SLIDES ? "A6"
                                                     : "A4";
    if (sheet->primer.fold) {
        sheet->paper = strcmp(sheet->paper, "A3") == 0   ? "A4"
                       : strcmp(sheet->paper, "A4") == 0 ? "A5"
                                                         : sheet->paper;
    }
}

/* `wall`, or {sheet: wall, paper: A5, title: ...}, or a part with its file. */
static void read_sheet(const struct hbk_order_ground *ground,
                       struct hbk_asked asked, struct hbk_arena *arena,
                       struct hbk_order_sheet *sheet)
{
    const struct hbk_fields fields = {.map = asked.node,
                                      .words = asked.owner,
                                      .arena = arena,
                                      .faults = asked.faults};
    sheet->place = asked.node->place;
    sheet->part.tempo = (double)NAN;
    sheet->part.choices = -1;
    if (asked.node->kind != HBK_MAP) {
        if (read_kind(asked, &sheet->kind) &&
            hbk_order_kind_has_music(sheet->kind)) {
            hbk_value_fault(asked, HBK_H_MISSING,
                            "a part needs its music; write '{sheet: %s, "
                            "file: galop.abc}'",
                            hbk_order_kind_name(sheet->kind));
        }
        set_paper(ground, sheet);
        return;
    }
    hbk_fields_known(&fields, known, N_KNOWN);
    const struct hbk_asked kind = hbk_fields_ask(&fields, "sheet");
    if (kind.node == NULL) {
        hbk_fields_missing(&fields, "sheet", "which, as in 'sheet: wall'");
    } else if (read_kind(kind, &sheet->kind)) {
        read_own(ground, &fields, sheet);
    }
    set_paper(ground, sheet);
    hbk_order_read_paper(&fields, &sheet->paper);
    (void)hbk_field_text(&fields, "title", HBK_ORDER_NAME_COLUMNS,
                         &sheet->title);
}

void hbk_order_read_sheets(const struct hbk_order_ground *ground,
                           const struct hbk_fields *fields, size_t *n,
                           const struct hbk_order_sheet **sheets)
{
    const struct hbk_node *list = NULL;
    if (hbk_field_list(fields, "sheets", 1, SHEETS_MAX, &list) != HBK_GOT) {
        return;
    }
    struct hbk_order_sheet *const read =
        HBK_ARENA_ARRAY(fields->arena, struct hbk_order_sheet, list->n);
    const char *const words =
        fields->words[0] == '\0'
            ? "sheets"
            : hbk_arena_printf(fields->arena, "%s: sheets", fields->words);
    for (size_t i = 0; i < list->n; i++) {
        const struct hbk_asked asked = {
            .node = &list->items[i],
            .owner = words,
            .name = hbk_arena_printf(fields->arena, "%zu", i + 1),
            .faults = fields->faults};
        read_sheet(ground, asked, fields->arena, &read[i]);
    }
    *n = list->n;
    *sheets = read;
}
