#include "edition/file_names.h"

#include "base/text.h"
#include "reader/shipped.h"

#include <string.h>

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
    if (point == 0x266D || point == 0x266F) {
        return point == 0x266D ? "flat" : "sharp";
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
        /* A flat or sharp sign is a word. */
        const bool is_sign = point == 0x266D || point == 0x266F;
        gap = gap || is_sign;
        if (put[0] == '\0') {
            /* An apostrophe parts no words. */
            gap = gap || (point != '\'' && point != 0x2019);
            continue;
        }
        if (gap && part.length > 0) {
            hbk_text_add(&part, "-");
        }
        gap = is_sign;
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
    const char *const words[] = {player->crook.text, player->mouthpiece.text};
    struct hbk_text text = {.arena = arena};
    hbk_text_add(&text, part);
    for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++) {
        if (words[i] != NULL && strcmp(words[i], "own") != 0) {
            hbk_text_addf(&text, "-%s", part_of(words[i], arena));
        }
    }
    return hbk_text_string(&text);
}

/*
 * "wall"; of a part "galop_part", with the tune of a book, the part of a score
 * and its voice where they are chosen: "book-3_part", "march-solo-cornet_part".
 */
static const char *sheet_part(const struct hbk_order_sheet *sheet,
                              struct hbk_arena *arena)
{
    const char *const kind = hbk_order_kind_name(sheet->kind);
    if (!hbk_order_kind_has_music(sheet->kind)) {
        return kind;
    }
    const char *const chosen[] = {sheet->part.tune.text, sheet->part.part.text,
                                  sheet->part.voice.text};
    struct hbk_text name = {.arena = arena};
    hbk_text_add(&name, file_part(sheet->part.file.text, true, arena));
    for (size_t i = 0; i < sizeof(chosen) / sizeof(chosen[0]); i++) {
        if (chosen[i] != NULL) {
            hbk_text_addf(&name, "-%s", part_of(chosen[i], arena));
        }
    }
    hbk_text_addf(&name, "_%s", kind);
    return hbk_text_string(&name);
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

const char *const *const *hbk_order_names(const struct hbk_order *order,
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

const char *hbk_page_file_name(const char *path, size_t page,
                               struct hbk_arena *arena)
{
    if (page == 0 || strcmp(path, "-") == 0) {
        return path;
    }
    const char *const slash = strrchr(path, '/');
    const char *const name = slash == NULL ? path : slash + 1;
    const char *const dot = strrchr(name, '.');
    const char *const end = dot == NULL ? name + strlen(name) : dot;
    return hbk_arena_printf(arena, "%.*s-%zu%s", (int)(end - path), path,
                            page + 1, end);
}
