#include "reader/order_file.h"

#include "base/messages.h"
#include "reader/kind.h"
#include "reader/order_sheets.h"
#include "reader/shipped.h"

#include <math.h>
#include <string.h>

enum { PLAYERS_MAX = 1000 };

static const char *const valve_slides[] = {"in", "own", "best"};

static const char *const reads_words[] = {"treble", "bass", "treble-bflat",
                                          "treble-eflat", "concert"};

static const char *const namings[] = {"english", "german", "solfege"};

enum {
    N_VALVE_SLIDES = sizeof(valve_slides) / sizeof(valve_slides[0]),
    N_READS = sizeof(reads_words) / sizeof(reads_words[0]),
    N_NAMINGS = sizeof(namings) / sizeof(namings[0])
};

/* An order being read. */
struct work {
    struct hbk_order *order;
    struct hbk_fields top;
    struct hbk_order_ground ground;
    /* For players who say nothing else. */
    struct hbk_order_setting setting;
    size_t n_sheets;
    const struct hbk_order_sheet *sheets;
};

/* A horn is found from the folder of the order, unless it is shipped. */
static enum hbk_got read_horn(const struct work *work,
                              const struct hbk_fields *fields, const char *name,
                              struct hbk_order_word *word)
{
    const enum hbk_got got = hbk_order_read_word(fields, name, word);
    if (got == HBK_GOT && hbk_shipped_is_path(word->text) &&
        strcmp(word->text, "-") == 0) {
        hbk_value_fault(hbk_fields_ask(fields, name), HBK_H_HORN_FROM_INPUT,
                        "an order does not read horns from standard input; "
                        "name a file");
        return HBK_REFUSED;
    }
    if (got == HBK_GOT && hbk_shipped_is_path(word->text)) {
        word->text =
            hbk_order_from_folder(&work->ground, word->text, fields->arena);
    }
    return got;
}

/* Who reads it, and what he calls the notes. */
static void read_notation(const struct hbk_fields *fields,
                          struct hbk_order_setting *setting)
{
    size_t i = 0;
    if (hbk_field_choice(fields, "reads", reads_words, N_READS, &i) ==
        HBK_GOT) {
        setting->reads = reads_words[i];
    }
    if (hbk_field_choice(fields, "names", namings, N_NAMINGS, &i) == HBK_GOT) {
        setting->names = namings[i];
    }
}

/*
 * What is said of pitch, temperature and slides. Either temperature
 * takes the place of the other that stood in `setting` before.
 */
static void read_setting(const struct hbk_fields *fields,
                         struct hbk_order_setting *setting)
{
    (void)hbk_field_number(fields, "a4", HBK_RANGE_A4, &setting->a4_hz);
    const bool of_air = hbk_field_number(fields, "temperature", HBK_RANGE_AIR,
                                         &setting->temperature_c) != HBK_ABSENT;
    const bool of_room = hbk_field_number(fields, "room", HBK_RANGE_AIR,
                                          &setting->room_c) != HBK_ABSENT;
    if (of_air && of_room) {
        hbk_value_fault(hbk_fields_ask(fields, "room"), HBK_H_TWO_TEMPERATURES,
                        "'temperature' is given already; write 'room' for what "
                        "the thermometer on the wall says, or 'temperature' "
                        "for the mean of the air in the horn, not both");
    } else if (of_air) {
        setting->room_c = (double)NAN;
    } else if (of_room) {
        setting->temperature_c = (double)NAN;
    }
    size_t i = 0;
    if (hbk_field_choice(fields, "valve_slides", valve_slides, N_VALVE_SLIDES,
                         &i) == HBK_GOT) {
        setting->valve_slides = valve_slides[i];
    }
    (void)hbk_field_bool(fields, "as_played", &setting->as_played);
}

static void read_player(const struct work *work, const struct hbk_node *node,
                        size_t i, struct hbk_order_player *player)
{
    static const char *const known[] = {
        "name",   "horn",      "crook",       "stuck",    "knows",
        "lip",    "a4",        "temperature", "room",     "valve_slides",
        "reads",  "names",     "sounding",    "sheets",   "mouthpiece",
        "octave", "transpose", "to_key",      "as_played"};
    struct hbk_arena *const arena = work->top.arena;
    const struct hbk_asked asked = {.node = node,
                                    .owner = "players",
                                    .name =
                                        hbk_arena_printf(arena, "%zu", i + 1),
                                    .faults = work->top.faults};
    player->lip_cents = (double)NAN;
    if (!hbk_value_map(asked, "{name: Ada, horn: cornet-b-flat}")) {
        return;
    }
    struct hbk_fields fields = {
        .map = node,
        .words = hbk_arena_printf(arena, "player %zu", i + 1),
        .arena = arena,
        .faults = work->top.faults};
    if (hbk_field_text(&fields, "name", HBK_ORDER_NAME_COLUMNS,
                       &player->name) == HBK_ABSENT) {
        hbk_fields_missing(&fields, "name", "who plays, as in 'name: Ada'");
    } else if (player->name != NULL) {
        fields.words = player->name;
    }
    hbk_fields_known(&fields, known, sizeof(known) / sizeof(known[0]));
    if (read_horn(work, &fields, "horn", &player->horn) == HBK_ABSENT) {
        hbk_fields_missing(&fields, "horn",
                           "a horn file, or the name of a shipped horn");
    }
    (void)read_horn(work, &fields, "knows", &player->knows);
    (void)hbk_order_read_word(&fields, "crook", &player->crook);
    (void)hbk_order_read_word(&fields, "mouthpiece", &player->mouthpiece);
    (void)hbk_order_read_word(&fields, "stuck", &player->stuck);
    (void)hbk_field_number(
        &fields, "lip",
        (struct hbk_range){0.0, HBK_LIP_MOST_CENTS, HBK_UNIT_CENTS},
        &player->lip_cents);
    player->setting = work->setting;
    read_setting(&fields, &player->setting);
    read_notation(&fields, &player->setting);
    (void)hbk_field_bool(&fields, "sounding", &player->sounding);
    hbk_order_read_moving(&fields, &player->moving);
    player->n_sheets = work->n_sheets;
    player->sheets = work->sheets;
    hbk_order_read_sheets(&work->ground, &fields, &player->n_sheets,
                          &player->sheets);
    if (hbk_fields_find(&fields, "sheets") == NULL &&
        hbk_fields_find(&work->top, "sheets") == NULL) {
        hbk_fields_missing(&fields, "sheets",
                           "what to print, as in 'sheets: [wall]', here or "
                           "above 'players' for everybody");
    }
}

static void read_players(const struct work *work)
{
    const struct hbk_node *list = NULL;
    const enum hbk_got got =
        hbk_field_list(&work->top, "players", 1, PLAYERS_MAX, &list);
    if (got == HBK_ABSENT) {
        hbk_fields_missing(&work->top, "players",
                           "a list of who plays what, as in "
                           "'- {name: Ada, horn: cornet-b-flat}'");
    }
    if (got != HBK_GOT) {
        return;
    }
    struct hbk_order_player *const players =
        HBK_ARENA_ARRAY(work->top.arena, struct hbk_order_player, list->n);
    for (size_t i = 0; i < list->n; i++) {
        read_player(work, &list->items[i], i, &players[i]);
    }
    work->order->n_players = list->n;
    work->order->players = players;
}

static void read_order(struct work *work)
{
    static const char *const known[] = {
        "hornbook_order", "band",  "a4",     "temperature", "room",
        "valve_slides",   "reads", "names",  "as_played",   "paper",
        "format",         "dpi",   "sheets", "players"};
    const struct hbk_fields *const top = &work->top;
    struct hbk_order *const order = work->order;
    hbk_fields_known(top, known, sizeof(known) / sizeof(known[0]));
    hbk_kind_check(&hbk_kind_order, top);
    if (hbk_field_text(top, "band", HBK_ORDER_NAME_COLUMNS, &order->band) ==
        HBK_ABSENT) {
        hbk_fields_missing(top, "band", "the name of the band");
    }
    read_setting(top, &work->setting);
    read_notation(top, &work->setting);
    (void)hbk_field_number(top, "dpi",
                           (struct hbk_range){36.0, 1200.0, HBK_UNIT_NONE},
                           &order->dpi);
    const char *formats[HBK_ORDER_FORMAT_COUNT];
    for (int i = 0; i < HBK_ORDER_FORMAT_COUNT; i++) {
        formats[i] = hbk_order_format_name((enum hbk_order_format)i);
    }
    size_t format = HBK_ORDER_PDF;
    (void)hbk_field_choice(top, "format", formats, HBK_ORDER_FORMAT_COUNT,
                           &format);
    order->format = (enum hbk_order_format)format;
    hbk_order_read_paper(top, &work->ground.paper);
    hbk_order_read_sheets(&work->ground, top, &work->n_sheets, &work->sheets);
    read_players(work);
}

enum hbk_status hbk_order_read(const char *path, struct hbk_order *order,
                               struct hbk_faults *faults)
{
    *order = (struct hbk_order){.dpi = (double)NAN};
    const size_t errors = faults->errors;
    struct hbk_node root = {0};
    HBK_TRY(hbk_kind_read(&hbk_kind_order, path, &order->arena, &root, faults));
    struct work work = {.order = order,
                        .top = {.map = &root,
                                .words = "",
                                .arena = &order->arena,
                                .faults = faults},
                        .ground = {.path = path},
                        .setting = {.a4_hz = (double)NAN,
                                    .temperature_c = (double)NAN,
                                    .room_c = (double)NAN}};
    read_order(&work);
    return faults->errors > errors ? HBK_ERR_INPUT : HBK_OK;
}
