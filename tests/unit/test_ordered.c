/*
 * What is made of an order, without any argument of a program: the players'
 * horns, their sheets and the names of those.
 */
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "edition/file_names.h"
#include "edition/order_sheet.h"

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

static const double none = (double)NAN;

/* An order that is sound, with what its players are made in. */
struct ordered {
    struct hbk_order order;
    struct hbk_arena arena;
    struct hbk_faults faults;
};

static void order_open(struct ordered *o, const char *path)
{
    *o = (struct ordered){.arena = {0}};
    assert_int_equal(hbk_order_read(path, &o->order, &o->faults), HBK_OK);
}

static void order_close(struct ordered *o)
{
    hbk_order_finish(&o->order);
    hbk_arena_finish(&o->arena);
}

/* Lays a sheet out and checks what every sheet of a band must be. */
static void check_ordered(struct ordered *o, const struct hbk_player *player,
                          size_t index)
{
    struct hbk_arena arena = {0};
    struct hbk_sheet sheet = {.arena = &arena};
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_ordered ordered = {player, &player->asked->sheets[index]};
    bool whole = false;
    assert_int_equal(
        hbk_order_sheet_lay(&ordered, &ruler, &sheet, &whole, &o->faults),
        HBK_OK);
    assert_true(whole);
    assert_true(sheet.n_pages > 0);
    enum hbk_paper paper = HBK_PAPER_COUNT;
    assert_true(hbk_paper_parse(ordered.asked->paper, &paper));
    const struct hbk_paper_size size = hbk_paper_size(paper);
    for (size_t p = 0; p < sheet.n_pages; p++) {
        const struct hbk_page *const page = &sheet.pages[p];
        check_abs(fmin(page->width, page->height), size.width, 1e-9);
        check_abs(fmax(page->width, page->height), size.height, 1e-9);
        assert_true(page->n > 0);
    }
    check_sheet_says(&sheet, player->asked->name);
    check_no_clash(&sheet, &ruler);
    hbk_arena_finish(&arena);
}

static void every_sheet_of_the_shipped_orders_is_laid_out(void **state)
{
    (void)state;
    static const char *const paths[] = {"charts/larkmoor.yaml",
                                        "charts/tarn-street.yaml"};
    size_t kinds[HBK_ORDER_KIND_COUNT] = {0};
    for (size_t i = 0; i < COUNT(paths); i++) {
        struct ordered o;
        order_open(&o, paths[i]);
        for (size_t k = 0; k < o.order.n_players; k++) {
            struct hbk_player player;
            assert_int_equal(
                hbk_player_open(&o.order, k, &o.arena, &player, &o.faults),
                HBK_OK);
            for (size_t s = 0; s < player.asked->n_sheets; s++) {
                check_ordered(&o, &player, s);
                kinds[player.asked->sheets[s].kind]++;
            }
            hbk_player_finish(&player);
        }
        assert_int_equal(o.faults.errors, 0);
        order_close(&o);
    }
    assert_true(kinds[HBK_ORDER_CARD] > 0 && kinds[HBK_ORDER_PART] > 0);
}

/* An order of one player, written here and not read. */
struct small_order {
    struct hbk_order_sheet sheet;
    struct hbk_order_player player;
    struct hbk_order order;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_player ready;
};

static void small_order(struct small_order *o, enum hbk_order_kind kind,
                        const char *horn)
{
    *o = (struct small_order){
        .sheet = {.kind = kind, .paper = "A4", .part = {.tempo = none}},
        .player = {.name = "Ida",
                   .horn = {.text = horn},
                   .lip_cents = none,
                   .setting = {.a4_hz = none,
                               .temperature_c = none,
                               .room_c = none},
                   .n_sheets = 1,
                   .sheets = &o->sheet},
        .order = {.band = "Band",
                  .format = HBK_ORDER_PDF,
                  .dpi = none,
                  .n_players = 1,
                  .players = &o->player}};
}

static enum hbk_status open_small(struct small_order *o)
{
    return hbk_player_open(&o->order, 0, &o->arena, &o->ready, &o->faults);
}

static enum hbk_status lay_small(struct small_order *o, struct hbk_sheet *sheet,
                                 bool *whole)
{
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_ordered ordered = {&o->ready, &o->sheet};
    *sheet = (struct hbk_sheet){.arena = &o->arena};
    assert_int_equal(open_small(o), HBK_OK);
    return hbk_order_sheet_lay(&ordered, &ruler, sheet, whole, &o->faults);
}

static void close_small(struct small_order *o)
{
    hbk_player_finish(&o->ready);
    hbk_arena_finish(&o->arena);
}

/* Every kind there is, so that none lacks its row. */
static void every_kind_of_sheet_is_laid_out(void **state)
{
    (void)state;
    for (int kind = 0; kind < HBK_ORDER_KIND_COUNT; kind++) {
        struct small_order o;
        struct hbk_sheet sheet;
        bool whole = false;
        small_order(&o, (enum hbk_order_kind)kind, "cornet-b-flat");
        o.sheet.title = "A title of its own";
        o.sheet.part.file.text = "charts/attic-galop.abc";
        o.sheet.part.bars.text = "1-4";
        assert_int_equal(lay_small(&o, &sheet, &whole), HBK_OK);
        assert_true(whole);
        assert_int_equal(o.faults.errors, 0);
        check_sheet_says(&sheet, "Ida, Band");
        check_sheet_says(&sheet, "A title of its own");
        close_small(&o);
    }
}

/* Each says whose horn it is; a file with a player is played so when asked. */
static void every_sheet_as_it_is_played_says_so(void **state)
{
    (void)state;
    for (int kind = 0; kind < 2 * HBK_ORDER_KIND_COUNT; kind++) {
        struct small_order o;
        struct hbk_sheet sheet;
        bool whole = false;
        const bool as_played = kind >= HBK_ORDER_KIND_COUNT;
        small_order(&o, (enum hbk_order_kind)(kind % HBK_ORDER_KIND_COUNT),
                    "tests/data/good/keyed-bugle-by-length.yaml");
        o.sheet.part.file.text = "charts/attic-galop.abc";
        o.player.setting.as_played = as_played;
        assert_int_equal(lay_small(&o, &sheet, &whole), HBK_OK);
        assert_int_equal(o.ready.notes.setting.as_played, as_played);
        const bool says =
            strstr(sheet_words(&sheet),
                   "As its player plays it: 10 cents flatter") != NULL;
        if (says != as_played) {
            print_error("%s\n", sheet.kind);
        }
        assert_int_equal(says, as_played);
        const struct hbk_ruler ruler = fixed_ruler();
        check_no_clash(&sheet, &ruler);
        close_small(&o);
    }
}

static void the_horn_of_a_player_is_set_as_the_order_says(void **state)
{
    (void)state;
    struct small_order o;
    small_order(&o, HBK_ORDER_WALL, "cornet-b-flat");
    o.player.setting.a4_hz = 438.0;
    o.player.setting.room_c = 13.0;
    o.player.setting.valve_slides = "best";
    o.player.lip_cents = 40.0;
    o.player.stuck.text = "valve:3=up";
    o.player.knows.text = "cornet-b-flat-semitone-first";
    assert_int_equal(open_small(&o), HBK_OK);
    assert_string_equal(o.ready.whom, "Ida, Band");
    const struct hbk_setting *const setting = &o.ready.notes.setting;
    check_abs(setting->a4_hz, 438.0, 0.0);
    check_abs(setting->room_c, 13.0, 0.0);
    check_abs(setting->temperature_c, hbk_air_in_horn_c(13.0), 1e-12);
    check_abs(setting->lip_cents, 40.0, 0.0);
    assert_int_equal(setting->valve_slides, HBK_VALVE_SLIDES_BEST);
    assert_int_equal(setting->stuck.held_up, 1u << 2);
    /* The horn known stands in the same room, but nothing of it is stuck. */
    assert_non_null(o.ready.known_notes);
    check_abs(o.ready.known_notes->setting.a4_hz, 438.0, 0.0);
    assert_int_equal(o.ready.known_notes->setting.stuck.held_up, 0);
    close_small(&o);
    small_order(&o, HBK_ORDER_WALL, "cornet-b-flat");
    o.player.setting.temperature_c = 26.0;
    assert_int_equal(open_small(&o), HBK_OK);
    check_abs(o.ready.notes.setting.temperature_c, 26.0, 0.0);
    assert_true(isnan(o.ready.notes.setting.room_c));
    close_small(&o);
}

static void what_an_order_cannot_have_is_told_with_the_player(void **state)
{
    (void)state;
    struct small_order o;
    struct hbk_sheet sheet;
    bool whole = true;
    small_order(&o, HBK_ORDER_WALL, "cornet-b-flat");
    o.player.crook.text = "no such";
    assert_int_equal(open_small(&o), HBK_ERR_INPUT);
    assert_int_equal(o.faults.items[0].number, 320);
    assert_non_null(strstr(o.faults.items[0].text, "Ida: crook: "));
    close_small(&o);

    small_order(&o, HBK_ORDER_WALL, "cornet-b-flat");
    o.player.stuck.text = "key:1=open";
    assert_int_equal(open_small(&o), HBK_ERR_INPUT);
    assert_int_equal(o.faults.items[0].number, 321);
    close_small(&o);

    small_order(&o, HBK_ORDER_STAND, "cornet-b-flat");
    o.sheet.paper = "A6";
    assert_int_equal(lay_small(&o, &sheet, &whole), HBK_ERR_INPUT);
    assert_int_equal(o.faults.items[0].number, 326);
    assert_int_equal(sheet.n_pages, 0);
    close_small(&o);

    small_order(&o, HBK_ORDER_PART, "cornet-b-flat");
    o.sheet.part.file.text = "charts/attic-galop.abc";
    o.sheet.part.bars.text = "900";
    assert_int_equal(lay_small(&o, &sheet, &whole), HBK_ERR_INPUT);
    assert_int_equal(o.faults.items[0].number, 328);
    close_small(&o);
}

/* A part with notes out of reach is printed, but it is not whole. */
static void a_part_that_lacks_notes_is_not_whole(void **state)
{
    (void)state;
    struct small_order o;
    struct hbk_sheet sheet;
    bool whole = true;
    small_order(&o, HBK_ORDER_PART, "cornet-b-flat");
    o.sheet.part.file.text = "tests/data/torture.abc";
    assert_int_equal(lay_small(&o, &sheet, &whole), HBK_OK);
    assert_false(whole);
    assert_true(sheet.n_pages > 0);
    size_t told = 0;
    for (size_t i = 0; i < o.faults.count; i++) {
        told += o.faults.items[i].number == 327 ? 1 : 0;
    }
    assert_int_equal(told, 1);
    close_small(&o);
}

/* The hard places alone, by the same words; with its file in its name. */
static void practice_is_ordered_like_a_part(void **state)
{
    (void)state;
    struct small_order o;
    struct hbk_sheet sheet;
    bool whole = false;
    small_order(&o, HBK_ORDER_PRACTICE, "keyed-bugle-c-6");
    o.sheet.part.file.text = "charts/attic-galop.abc";
    o.sheet.part.tempo = 240.0;
    assert_int_equal(lay_small(&o, &sheet, &whole), HBK_OK);
    assert_true(whole);
    assert_string_equal(sheet.kind, "practice");
    assert_string_equal(sheet.title, "Attic Galop: practice");
    close_small(&o);
}

/* A part of tests/data/ordered.abc, laid out; what its sheet says. */
struct laid {
    struct small_order o;
    struct hbk_sheet sheet;
    bool whole;
    const char *words;
};

static void part_order(struct laid *l, const char *tune)
{
    small_order(&l->o, HBK_ORDER_PART, "cornet-b-flat");
    l->o.sheet.part.file.text = "tests/data/ordered.abc";
    l->o.sheet.part.tune.text = tune;
    l->o.sheet.part.says_sounding = true; /* that it is as written */
}

static void lay_part(struct laid *l)
{
    l->whole = false;
    assert_int_equal(lay_small(&l->o, &l->sheet, &l->whole), HBK_OK);
    l->words = sheet_words(&l->sheet);
}

static bool says(const struct laid *l, const char *words)
{
    return strstr(l->words, words) != NULL;
}

static size_t count_marks(const struct laid *l, enum hbk_mark_kind kind)
{
    size_t n = 0;
    for (size_t p = 0; p < l->sheet.n_pages; p++) {
        for (size_t i = 0; i < l->sheet.pages[p].n; i++) {
            n += l->sheet.pages[p].marks[i].kind == kind ? 1 : 0;
        }
    }
    return n;
}

/* The same part as it stands, and with one thing asked. */
static void a_part_is_performed_as_the_order_says(void **state)
{
    (void)state;
    struct laid plain, asked;
    part_order(&plain, "1");
    lay_part(&plain);
    assert_true(plain.whole);
    assert_true(says(&plain, "quarter = 132, at the tempo written"));
    assert_false(says(&plain, "moved up"));
    assert_int_equal(plain.o.faults.count, 0);

    part_order(&asked, "1");
    asked.o.sheet.part.tempo = 66.0;
    lay_part(&asked);
    assert_true(says(&asked, "quarter = 66, as asked"));
    assert_false(says(&asked, "132"));
    close_small(&asked.o);

    part_order(&asked, "1");
    asked.o.sheet.part.from_sounding = true;
    lay_part(&asked);
    assert_true(says(&asked, "moved up by a whole tone"));
    close_small(&asked.o);

    part_order(&asked, "1");
    asked.o.sheet.part.only_departures = true;
    lay_part(&asked);
    assert_true(count_marks(&asked, HBK_TEXT) + 7 <=
                count_marks(&plain, HBK_TEXT));
    close_small(&asked.o);

    part_order(&asked, "1");
    asked.o.player.sounding = true;
    lay_part(&asked);
    assert_true(count_marks(&asked, HBK_TEXT) >=
                count_marks(&plain, HBK_TEXT) + 7);
    close_small(&asked.o);
    close_small(&plain.o);
}

/* The first note is to be played with 3, the second cannot be as it says. */
static void fingerings_of_a_part_are_kept_if_the_order_says_so(void **state)
{
    (void)state;
    struct laid plain, kept;
    part_order(&plain, "1");
    lay_part(&plain);
    assert_false(says(&plain, "Underlined: not the usual"));
    part_order(&kept, "1");
    kept.o.sheet.part.keep = true;
    lay_part(&kept);
    assert_int_equal(kept.o.faults.count, 1);
    assert_int_equal(kept.o.faults.items[0].number, 303);
    assert_true(says(&kept, "Underlined: not the usual"));
    close_small(&plain.o);
    close_small(&kept.o);
}

/* Valve 3 is up for good, which the notes do not need. */
static void fingers_stand_as_circles_if_the_order_says_so(void **state)
{
    (void)state;
    struct laid plain, circles, stuck;
    part_order(&plain, "1");
    lay_part(&plain);
    assert_int_equal(count_marks(&plain, HBK_RING), 0);
    part_order(&circles, "1");
    circles.o.sheet.part.circles = true;
    lay_part(&circles);
    assert_true(count_marks(&circles, HBK_RING) > 0);
    assert_false(says(&circles, "Crossed"));
    part_order(&stuck, "1");
    stuck.o.sheet.part.circles = true;
    stuck.o.player.stuck.text = "valve:3=up";
    lay_part(&stuck);
    assert_true(says(&stuck, "Crossed: stuck."));
    close_small(&plain.o);
    close_small(&circles.o);
    close_small(&stuck.o);
}

static void quick_places_of_a_part_are_marked(void **state)
{
    (void)state;
    struct laid quick, slow;
    part_order(&quick, "3");
    lay_part(&quick);
    assert_true(says(&quick, "Bracketed: too fast"));
    part_order(&slow, "3");
    slow.o.sheet.part.tempo = 40.0;
    lay_part(&slow);
    assert_false(says(&slow, "Bracketed: too fast"));
    close_small(&quick.o);
    close_small(&slow.o);
}

/* One voice is wanted of two, and one tune of a book. */
static void an_order_chooses_voice_and_tune(void **state)
{
    (void)state;
    struct laid l;
    part_order(&l, "2");
    assert_int_equal(lay_small(&l.o, &l.sheet, &l.whole), HBK_ERR_INPUT);
    assert_int_equal(l.o.faults.items[0].number, 214);
    close_small(&l.o);
    part_order(&l, "2");
    l.o.sheet.part.voice.text = "high";
    lay_part(&l);
    assert_true(says(&l, "Two voices"));
    close_small(&l.o);
    part_order(&l, NULL);
    assert_int_equal(lay_small(&l.o, &l.sheet, &l.whole), HBK_ERR_INPUT);
    assert_int_equal(l.o.faults.items[0].number, 212);
    close_small(&l.o);
}

static void notes_that_a_part_lacks_are_told_with_their_bars(void **state)
{
    (void)state;
    struct laid l;
    part_order(&l, "4");
    lay_part(&l);
    assert_false(l.whole);
    assert_int_equal(l.o.faults.count, 1);
    assert_string_equal(
        l.o.faults.items[0].text,
        "Ida: bar 1, beat 4: C7 is not available on this horn, and 2 notes "
        "more; the part is printed without their fingerings");
    assert_true(says(&l, "C7 in bars 1, 2; E7 in bar 3"));
    close_small(&l.o);
    part_order(&l, "4");
    l.o.sheet.part.bars.text = "3";
    lay_part(&l);
    assert_string_equal(
        l.o.faults.items[0].text,
        "Ida: bar 3, beat 4: E7 is not available on this horn; the part is "
        "printed without its fingering");
    assert_false(says(&l, "C7 in bar"));
    close_small(&l.o);
}

static void names_of_files_tell_who_what_and_which(void **state)
{
    (void)state;
    static const char *const wanted[][4] = {
        {"ada-laerche_cornopean-b-flat-a_trills"},
        {"7_cornet-by-bore_wall", "7_cornet-by-bore_wall_2"},
        {"bela_cornet-b-flat_galop_part",
         "bela_cornet-b-flat_book-3-2-cornet-ii_part",
         "bela_cornet-b-flat_galop_practice"},
        {"cy_cornet-b-flat_wall", "cy_cornet-b-flat_wall_2"},
        {"di_cornet-b-flat_primer", "di_cornet-b-flat_primer_2",
         "di_cornet-b-flat_primer_3"},
    };
    struct ordered o;
    order_open(&o, "tests/data/orders/all.yaml");
    const char *const *const *const names = hbk_order_names(&o.order, &o.arena);
    assert_int_equal(o.order.n_players, COUNT(wanted));
    for (size_t i = 0; i < COUNT(wanted); i++) {
        for (size_t k = 0; k < o.order.players[i].n_sheets; k++) {
            assert_non_null(wanted[i][k]);
            assert_string_equal(names[i][k], wanted[i][k]);
        }
    }
    order_close(&o);
}

/* Two parts of one score have names of their own. */
static void names_of_files_tell_which_part_of_a_score(void **state)
{
    (void)state;
    struct small_order o;
    small_order(&o, HBK_ORDER_PART, "cornet-b-flat");
    struct hbk_order_sheet *const sheet = &o.sheet;
    sheet->part.file.text = "music/Grand March.mxl";
    sheet->part.part.text = "Solo Cornet in B\xE2\x99\xAD";
    const char *const *const *names = hbk_order_names(&o.order, &o.arena);
    assert_string_equal(
        names[0][0],
        "ida_cornet-b-flat_grand-march-solo-cornet-in-b-flat_part");
    sheet->part.part.text = "2";
    sheet->part.voice.text = "1";
    names = hbk_order_names(&o.order, &o.arena);
    assert_string_equal(names[0][0], "ida_cornet-b-flat_grand-march-2-1_part");
    close_small(&o);
}

/* Each part of a name is cut where a folder would get too wide. */
static void names_of_files_are_cut(void **state)
{
    (void)state;
    struct small_order o;
    small_order(&o, HBK_ORDER_WALL, "cornet-b-flat");
    o.player.name = "abcdefghij abcdefghij abcdefghij abcdefghij abcdefghij";
    const char *const *const *const names = hbk_order_names(&o.order, &o.arena);
    assert_string_equal(names[0][0], "abcdefghij-abcdefghij-abcdefghij-abcdefg_"
                                     "cornet-b-flat_wall");
    close_small(&o);
}

/* Namesakes, names without letters, and one that is another's second. */
static void no_two_files_have_one_name(void **state)
{
    (void)state;
    static const char *const people[] = {"Eve",      "eve",   "\xC3\x98rsted",
                                         "\xD0\x90", "Eve 2", "Straße's"};
    static const char *const wanted[] = {
        "eve-player-1_cornet-b-flat_wall", "eve-player-2_cornet-b-flat_wall",
        "orsted_cornet-b-flat_wall",       "player-4_cornet-b-flat_wall",
        "eve-2_cornet-b-flat_wall",        "strasses_cornet-b-flat_wall"};
    struct hbk_arena arena = {0};
    const struct hbk_order_sheet sheet = {.kind = HBK_ORDER_WALL};
    struct hbk_order_player players[COUNT(people)];
    for (size_t i = 0; i < COUNT(people); i++) {
        players[i] =
            (struct hbk_order_player){.name = people[i],
                                      .horn = {.text = "cornet-b-flat"},
                                      .n_sheets = 1,
                                      .sheets = &sheet};
    }
    const struct hbk_order order = {.n_players = COUNT(people),
                                    .players = players};
    const char *const *const *const names = hbk_order_names(&order, &arena);
    for (size_t i = 0; i < COUNT(people); i++) {
        assert_string_equal(names[i][0], wanted[i]);
    }
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_sheet_of_the_shipped_orders_is_laid_out),
        cmocka_unit_test(every_kind_of_sheet_is_laid_out),
        cmocka_unit_test(every_sheet_as_it_is_played_says_so),
        cmocka_unit_test(the_horn_of_a_player_is_set_as_the_order_says),
        cmocka_unit_test(what_an_order_cannot_have_is_told_with_the_player),
        cmocka_unit_test(a_part_that_lacks_notes_is_not_whole),
        cmocka_unit_test(practice_is_ordered_like_a_part),
        cmocka_unit_test(a_part_is_performed_as_the_order_says),
        cmocka_unit_test(fingerings_of_a_part_are_kept_if_the_order_says_so),
        cmocka_unit_test(fingers_stand_as_circles_if_the_order_says_so),
        cmocka_unit_test(quick_places_of_a_part_are_marked),
        cmocka_unit_test(an_order_chooses_voice_and_tune),
        cmocka_unit_test(notes_that_a_part_lacks_are_told_with_their_bars),
        cmocka_unit_test(names_of_files_tell_who_what_and_which),
        cmocka_unit_test(names_of_files_tell_which_part_of_a_score),
        cmocka_unit_test(names_of_files_are_cut),
        cmocka_unit_test(no_two_files_have_one_name),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
