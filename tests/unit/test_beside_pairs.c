/*
 * The page for a player of another horn, for every pair of horns: that it is
 * one page, clean and readable, and that what it says is so.
 */
#include "support/ruler.h"
#include "support/sanitized.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "sheet/article/beside.h"
#include "sheet/words/words_beside.h"

#include <math.h>

/* Horns that no museum has: what only such a horn could bring to light. */
static const struct {
    const char *id, *yaml;
} odd_horns[] = {
    {"ten-keys", "hornbook: 1\nname: Bugle of ten keys\nwritten_c4_sounds: C4\n"
                 "compass: [B3, C6]\nfundamental: C3\nkeys:\n"
                 "  - {key: 1, rest: open, raises: -1, finger: right little}\n"
                 "  - {key: 2, rest: shut, raises: 1, finger: right ring}\n"
                 "  - {key: 3, rest: shut, raises: 2, finger: right middle}\n"
                 "  - {key: 4, rest: shut, raises: 3, finger: right index}\n"
                 "  - {key: 5, rest: shut, raises: 4, finger: right thumb}\n"
                 "  - {key: 6, rest: shut, raises: 5, finger: left little}\n"
                 "  - {key: 7, rest: shut, raises: 6, finger: left ring}\n"
                 "  - {key: 8, rest: shut, raises: 7, finger: left middle}\n"
                 "  - {key: 9, rest: shut, raises: 8, finger: left index}\n"
                 "  - {key: 10, rest: shut, raises: 9, finger: left thumb}\n"},
    {"five-valves",
     "hornbook: 1\nname: Bass of five valves\nwritten_c4_sounds: C3\n"
     "compass: [C3, C6]\nfundamental: C2\nvalves:\n"
     "  - {valve: 1, lowers: 200 cents, finger: right index}\n"
     "  - {valve: 2, lowers: 100 cents, finger: right middle}\n"
     "  - {valve: 3, lowers: 300 cents, finger: right ring}\n"
     "  - {valve: 4, lowers: 500 cents, finger: left index}\n"
     "  - {valve: 5, lowers: 250 cents, finger: left middle}\n"},
    {"one-hand",
     "hornbook: 1\nname: Trumpet of one hand\nwritten_c4_sounds: Eb4\n"
     "compass: [C4, C6]\nfundamental: Eb3\nkeys:\n"
     "  - {key: 1, rest: shut, raises: 1, finger: left index}\n"
     "  - {key: 2, rest: shut, raises: 2, finger: left middle}\n"
     "  - {key: 3, rest: shut, raises: 4, finger: left ring}\n"},
    {"one-valve",
     "hornbook: 1\nname: Horn of one valve and two keys\n"
     "written_c4_sounds: F3\ncompass: [B3, C6]\nfundamental: F2\nkeys:\n"
     "  - {key: 1, rest: open, raises: -1, finger: right little}\n"
     "  - {key: 2, rest: shut, raises: 2, finger: right ring}\n"
     "valves:\n"
     "  - {valve: 1, lowers: 200 cents, finger: left index}\n"},
};

static const char *const odd_files[] = {"tests/data/good/triggers.yaml",
                                        "tests/data/good/ascending.yaml",
                                        "tests/data/good/compensating.yaml",
                                        "tests/data/good/six-independent.yaml"};

enum {
    ODD_HORNS = sizeof(odd_horns) / sizeof(odd_horns[0]),
    ODD_FILES = sizeof(odd_files) / sizeof(odd_files[0]),
    HORNS_MAX = 96
};

struct horns {
    size_t n, n_shipped;
    struct solved *of[HORNS_MAX];
    struct hbk_arena arena;
};

static void open_text(struct solved *s, const char *id, const char *yaml)
{
    *s = (struct solved){0};
    if (hbk_horn_read_text(id, yaml, strlen(yaml), &s->horn, &s->faults) !=
        HBK_OK) {
        print_error("%s: %s\n", id, s->faults.items[0].text);
        fail();
    }
    s->setting = hbk_setting_of(&s->horn);
    solved_run(s);
}

static int open_horns(void **state)
{
    static struct horns horns;
    const struct hbk_shipped_horn *const shipped =
        all_shipped(&horns.arena, &horns.n_shipped);
    horns.n = horns.n_shipped + ODD_FILES + ODD_HORNS;
    assert_true(horns.n <= HORNS_MAX);
    for (size_t i = 0; i < horns.n; i++) {
        horns.of[i] = HBK_ARENA_ARRAY(&horns.arena, struct solved, 1);
        if (i < horns.n_shipped) {
            solved_open(horns.of[i], shipped[i].name);
        } else if (i < horns.n_shipped + ODD_FILES) {
            solved_open(horns.of[i], odd_files[i - horns.n_shipped]);
        } else {
            const size_t k = i - horns.n_shipped - ODD_FILES;
            open_text(horns.of[i], odd_horns[k].id, odd_horns[k].yaml);
        }
    }
    *state = &horns;
    return 0;
}

static int close_horns(void **state)
{
    struct horns *const horns = *state;
    for (size_t i = 0; i < horns->n; i++) {
        solved_close(horns->of[i]);
    }
    hbk_arena_finish(&horns->arena);
    return 0;
}

/* What is tried with two horns; words and sheets go into the arena. */
typedef void pair_check(const struct hbk_notes *here,
                        const struct hbk_notes *known, struct hbk_arena *arena);

static void for_all_pairs(const struct horns *horns, pair_check *check)
{
    for (size_t i = 0; i < horns->n; i++) {
        for (size_t k = 0; k < horns->n; k++) {
            if (IS_SANITIZED && (i + k) % 4 != 0) {
                continue;
            }
            struct hbk_arena arena = {0};
            check(&horns->of[i]->notes, &horns->of[k]->notes, &arena);
            hbk_arena_finish(&arena);
        }
    }
}

/* The book face is smaller than a sans of so many points. */
static void check_book_face(const struct hbk_sheet *sheet)
{
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            assert_true(mark->kind != HBK_TEXT || mark->face == HBK_FACE_BOLD ||
                        mark->face == HBK_FACE_FIGURE ||
                        mark->size >= HBK_PT(7.5) - TOL_SIZE);
        }
    }
}

static struct hbk_sheet lay_out(const struct hbk_notes *here,
                                const struct hbk_notes *known,
                                enum hbk_paper paper, struct hbk_arena *arena)
{
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_sheet_options options = {
        .paper = paper, .whom = "Ada Fenwick", .beside = known};
    struct hbk_sheet sheet = {.arena = arena, .title = here->horn->name};
    hbk_sheet_beside(here, &options, &ruler, &sheet);
    check_no_clash(&sheet, &ruler);
    check_sizes(&sheet, 7.0);
    check_book_face(&sheet);
    return sheet;
}

static void told_of(const struct hbk_notes *here, const struct hbk_notes *known,
                    const char *what)
{
    print_error("%s beside %s: %s\n", here->horn->id, known->horn->id, what);
    fail();
}

static void one_page(const struct hbk_notes *here,
                     const struct hbk_notes *known, struct hbk_arena *arena)
{
    static const enum hbk_paper papers[] = {HBK_A4, HBK_LETTER};
    for (size_t i = 0; i < 2; i++) {
        const struct hbk_sheet sheet = lay_out(here, known, papers[i], arena);
        if (sheet.n_pages != 1) {
            told_of(here, known, "more than one page");
        }
        assert_true(sheet.pages[0].width > sheet.pages[0].height);
    }
}

static void every_pair_has_one_page_on_a4_and_letter(void **state)
{
    struct horns shipped = *(const struct horns *)*state;
    shipped.n = shipped.n_shipped;
    for_all_pairs(&shipped, one_page);
}

/* Smaller paper may go on overleaf, larger may not. */
static void other_papers_are_clean_too(void **state)
{
    const struct horns *const horns = *state;
    for (size_t i = 0; i < horns->n; i++) {
        struct hbk_arena arena = {0};
        const size_t k = (7 * i + 3) % horns->n;
        const struct hbk_notes *const here = &horns->of[i]->notes;
        const struct hbk_notes *const known = &horns->of[k]->notes;
        assert_int_equal(lay_out(here, known, HBK_A3, &arena).n_pages, 1);
        (void)lay_out(here, known, HBK_A5, &arena);
        (void)lay_out(here, known, HBK_A6, &arena);
        hbk_arena_finish(&arena);
    }
}

/* Whether a control moves the pitch down when pressed, by its file alone. */
static bool lengthens(const struct hbk_control *control)
{
    return control->kind == HBK_KEY ? control->stands_open : !control->rests_in;
}

/* Keys and valves that shorten, and that lengthen. */
static void count(const struct hbk_horn *horn, enum hbk_control_kind kind,
                  size_t *shorter, size_t *longer)
{
    *shorter = 0;
    *longer = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind == kind) {
            ++*(lengthens(&horn->controls[i]) ? longer : shorter);
        }
    }
}

static bool says(const char *words, const char *what)
{
    return strstr(words, what) != NULL;
}

static void pressing(const struct hbk_notes *here,
                     const struct hbk_notes *known, struct hbk_arena *arena)
{
    const char *const words = hbk_beside_pressing(arena, here, known);
    size_t shut, open, up, down, knew_shut, knew_open, knew_up, knew_down;
    count(here->horn, HBK_KEY, &shut, &open);
    count(here->horn, HBK_VALVE, &up, &down);
    count(known->horn, HBK_KEY, &knew_shut, &knew_open);
    count(known->horn, HBK_VALVE, &knew_up, &knew_down);
    const bool keys_for_valves =
        shut > 0 && knew_shut == 0 && down == 0 && knew_down > 0;
    const bool valves_for_keys =
        shut == 0 && knew_shut > 0 && down > 0 && knew_down == 0;
    if (says(words, "Keys shorten where valves lengthen.") != keys_for_valves ||
        says(words, "Valves lengthen where keys shorten.") != valves_for_keys ||
        says(words, "No finger changes the tube here") !=
            (shut + open + up + down == 0) ||
        says(words, "Keys do not add up") !=
            (shut > 1 && knew_shut < 2 && knew_down > 1) ||
        words[0] == '\0') {
        told_of(here, known, words);
    }
}

static void pressing_is_told_of_every_pair(void **state)
{
    for_all_pairs(*state, pressing);
}

/* Every note named as open on both is, and every such note is named. */
static void rest(const struct hbk_notes *here, const struct hbk_notes *known,
                 struct hbk_arena *arena)
{
    const char *const words = hbk_beside_rest(arena, here, known);
    const char *const both =
        strstr(words, "Without any finger on both horns: ");
    const char *const end = both == NULL ? NULL : strchr(both, '.');
    size_t open = 0;
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        const struct hbk_note *const a = hbk_notes_find(here, written);
        const struct hbk_note *const b = hbk_notes_find(known, written);
        if (a == NULL || b == NULL || a->n == 0 || b->n == 0 ||
            a->fingerings[0].press != 0 || b->fingerings[0].press != 0) {
            continue;
        }
        open++;
        char name[HBK_NAME_SIZE];
        hbk_note_name(written, HBK_UNICODE, name);
        const char *const at = both == NULL ? NULL : strstr(both, name);
        if (at == NULL || at > end) {
            told_of(here, known, words);
        }
    }
    size_t shut, stand_open;
    count(here->horn, HBK_KEY, &shut, &stand_open);
    if ((open > 0) != (both != NULL) || words[0] == '\0' ||
        (stand_open > 0 && !says(words, "OPEN at rest: pressing closes") &&
         !says(words, "open at rest, as you know"))) {
        told_of(here, known, words);
    }
}

static void what_is_open_is_told_of_every_pair(void **state)
{
    for_all_pairs(*state, rest);
}

/* What valve 1 or 2 lowers by in semitones; 0 for none. */
static long valve_lowers(const struct hbk_notes *notes, const char *name)
{
    const int i = hbk_horn_find_control(notes->horn, HBK_VALVE, name);
    return i < 0 ? 0 : lround(notes->effect_cents[i] / -100.0);
}

static void reversed(const struct hbk_notes *here,
                     const struct hbk_notes *known, struct hbk_arena *arena)
{
    const char *const words = hbk_beside_reversed(arena, here, known);
    const char *const warning = hbk_beside_warning(arena, here, known);
    const long one = valve_lowers(here, "1");
    const long two = valve_lowers(here, "2");
    const bool swapped = one > 0 && two > 0 && one != two &&
                         one == valve_lowers(known, "2") &&
                         two == valve_lowers(known, "1");
    size_t shut, open, up, down;
    count(here->horn, HBK_KEY, &shut, &open);
    count(here->horn, HBK_VALVE, &up, &down);
    if (swapped != (warning[0] != '\0') ||
        swapped != says(words, "the other way round") ||
        (says(words, "Only key 1 lengthens") &&
         (open != 1 || down != 0 || shut + up == 0)) ||
        (says(words, "Every finger lengthens") && shut + up > 0) ||
        (says(words, "No finger lengthens") && open + down > 0) ||
        words[0] == '\0') {
        told_of(here, known, words);
    }
    /* The same kind and number, that does the opposite, is never left out. */
    for (size_t i = 0; i < here->horn->n_controls; i++) {
        const struct hbk_control *const now = &here->horn->controls[i];
        const int k = hbk_horn_find_control(known->horn, now->kind, now->name);
        if (k >= 0 && now->kind != HBK_TRIGGER &&
            lengthens(now) != lengthens(&known->horn->controls[k]) &&
            says(words, "Nothing is reversed")) {
            told_of(here, known, words);
        }
    }
}

static void what_is_reversed_is_told_of_every_pair(void **state)
{
    for_all_pairs(*state, reversed);
}

/* Never key by key: at most two of a kind are told one by one. */
static void beyond(const struct hbk_notes *here, const struct hbk_notes *known,
                   struct hbk_arena *arena)
{
    const char *const words = hbk_beside_beyond(arena, here, known);
    size_t fresh = 0;
    for (const char *at = strstr(words, " is new"); at != NULL;
         at = strstr(at + 1, " is new")) {
        fresh++;
    }
    if (fresh > 4 || (known->horn->n_controls == 0 && fresh > 0)) {
        told_of(here, known, words);
    }
    if (here == known && words[0] != '\0') {
        told_of(here, known, words);
    }
}

static void nothing_obvious_is_told_key_by_key(void **state)
{
    for_all_pairs(*state, beyond);
}

static size_t count_signs(const struct hbk_sheet *sheet, size_t *dots)
{
    size_t n = 0;
    *dots = 0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            *dots += mark->kind == HBK_DISC ? 1 : 0;
            n +=
                mark->kind == HBK_DISC || mark->kind == HBK_RING ||
                        (mark->kind == HBK_TEXT && strcmp(mark->text, "=") == 0)
                    ? 1
                    : 0;
        }
    }
    return n;
}

/* What most notes do bears no sign; every other has one of its own. */
static void signs(const struct hbk_notes *here, const struct hbk_notes *known,
                  struct hbk_arena *arena)
{
    const struct hbk_sheet sheet = lay_out(here, known, HBK_A4, arena);
    size_t n[HBK_BESIDE_LOST + 1] = {0};
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        n[hbk_beside_note(here, known, written)]++;
    }
    const size_t same = n[HBK_BESIDE_SAME];
    const size_t other = n[HBK_BESIDE_OTHER];
    const size_t finger = n[HBK_BESIDE_FINGER];
    size_t most = same > other ? same : other;
    most = most > finger ? most : finger;
    size_t dots = 0;
    const size_t signs = count_signs(&sheet, &dots);
    if (signs != same + other + finger - most || (dots > 0 && dots != other) ||
        says(sheet_words(&sheet), "A dot marks a different fingering") !=
            (dots > 0)) {
        told_of(here, known, sheet_words(&sheet));
    }
}

static void only_the_minority_is_marked(void **state)
{
    for_all_pairs(*state, signs);
}

/* The words of a newcomer's first minute, for the pair they were asked of. */
static void a_cornet_player_hears_it_at_once(void **state)
{
    (void)state;
    struct solved here, known;
    solved_open(&here, "keyed-bugle-c-6");
    solved_open(&known, "cornet-b-flat");
    const struct hbk_sheet sheet =
        lay_out(&here.notes, &known.notes, HBK_A4, &here.arena);
    static const char *const words[] = {
        "Coming from the cornet in B flat",
        "to the keyed bugle in C, six keys \u00B7 For Ada Fenwick",
        "Keys shorten where valves lengthen.",
        "Without any finger on both horns: C4, G4, C5, E5 and G5.",
        "Key 1 is OPEN at rest: pressing closes the hole",
        "Only key 1 lengthens",
        "Keys do not add up as valves do",
        "Both hands are used here; on the horn you know the right hand alone.",
        "The same written note sounds a whole tone higher",
        "= marks the same fingering. Without a sign"};
    for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++) {
        check_sheet_says(&sheet, words[i]);
    }
    solved_close(&here);
    solved_close(&known);
}

/* What sticks is not told of as if it moved. */
static void a_stuck_key_is_left_out(void **state)
{
    (void)state;
    struct solved here, known;
    solved_read(&here, "keyed-bugle-c-6");
    here.setting.stuck.held_down = 1; /* key 1, open at rest */
    solved_run(&here);
    solved_open(&known, "cornet-b-flat");
    struct hbk_arena *const arena = &here.arena;
    assert_null(strstr(hbk_beside_rest(arena, &here.notes, &known.notes),
                       "OPEN at rest"));
    assert_null(strstr(hbk_beside_reversed(arena, &here.notes, &known.notes),
                       "Only key 1"));
    (void)lay_out(&here.notes, &known.notes, HBK_A4, arena);
    solved_close(&here);
    solved_close(&known);
}

/* Who reads another clef sees that clef, and hears of his own notes. */
static void the_page_is_in_the_readers_clef(void **state)
{
    (void)state;
    struct solved here, known;
    solved_open(&here, "ophicleide-c-9");
    solved_open(&known, "cornet-b-flat");
    here.notes.notation =
        (struct hbk_notation){.clef = HBK_TREBLE, .shift = 14};
    const char *const sounds =
        hbk_beside_sounds(&here.arena, &here.notes, &known.notes);
    /* C as he reads it sounds B flat below, an octave under the cornet's. */
    check_words_say(sounds, "sounds an octave lower");
    assert_null(strstr(sounds, "clef"));
    (void)lay_out(&here.notes, &known.notes, HBK_A4, &here.arena);
    solved_close(&here);
    solved_close(&known);
}

static void names_stand_in_a_sentence(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    assert_string_equal(hbk_beside_called(&arena, "Keyed bugle in C"),
                        "the keyed bugle in C");
    assert_string_equal(hbk_beside_called(&arena, "Bass of five valves"),
                        "the bass of five valves");
    assert_string_equal(hbk_beside_called(&arena, "E flat bass"),
                        "E flat bass");
    assert_string_equal(hbk_beside_called(&arena, "Basset"), "Basset");
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_pair_has_one_page_on_a4_and_letter),
        cmocka_unit_test(other_papers_are_clean_too),
        cmocka_unit_test(pressing_is_told_of_every_pair),
        cmocka_unit_test(what_is_open_is_told_of_every_pair),
        cmocka_unit_test(what_is_reversed_is_told_of_every_pair),
        cmocka_unit_test(nothing_obvious_is_told_key_by_key),
        cmocka_unit_test(only_the_minority_is_marked),
        cmocka_unit_test(a_cornet_player_hears_it_at_once),
        cmocka_unit_test(a_stuck_key_is_left_out),
        cmocka_unit_test(the_page_is_in_the_readers_clef),
        cmocka_unit_test(names_stand_in_a_sentence),
    };
    return cmocka_run_group_tests(tests, open_horns, close_horns);
}
