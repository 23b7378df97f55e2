/* The trills on the staff, read back cell by cell. */
#include "support/real_ruler.h"
#include "support/sheets.h"
#include "support/solved.h"
#include "support/trills.h"

#include "engrave/glyph.h"
#include "sheet/words/words.h"

/* The real faces, whose widths decide what stands on a page. */
static struct hbk_ruler ruler;

struct laid {
    struct solved s;
    struct hbk_sheet_options options;
    struct hbk_sheet sheet;
};

static void lay(struct laid *laid, enum hbk_paper paper, bool sounding)
{
    laid->options = with_trills(
        (struct hbk_sheet_options){
            .paper = paper, .sounding = sounding, .whom = "Ada Fenwick"},
        HBK_LAYOUT_TRILLS, &laid->s.notes, &laid->s.arena);
    laid->sheet = (struct hbk_sheet){.arena = &laid->s.arena};
    assert_int_equal(hbk_sheet_chart(HBK_LAYOUT_TRILLS, &laid->s.notes,
                                     &laid->options, &ruler, &laid->sheet),
                     HBK_OK);
    check_no_clash(&laid->sheet, &ruler);
}

/* What a cell says. */
struct read {
    int lower, upper; /* notes by their heads */
    uint32_t held, up, down;
    bool dash, awkward, lip;
    double arrows;
    const char *last_plain; /* the upper name, or what the lower note sounds */
};

static uint32_t press_of(const struct solved *s, const char *label)
{
    uint32_t press = 0;
    assert_true(hbk_horn_press_parse(&s->horn, label, &press));
    return press;
}

static void read_text(const struct solved *s, const struct hbk_mark *mark,
                      bool on_dot, struct read *read)
{
    if (on_dot) {
        /* White figures stand on a black dot. */
        *(mark->ink == HBK_WHITE ? &read->down : &read->up) |=
            press_of(s, mark->text);
    } else if (mark->face == HBK_FACE_FIGURE) {
        read->dash = strcmp(mark->text, "\u2013") == 0;
        read->held = read->dash ? 0 : press_of(s, mark->text);
    } else if (mark->face == HBK_FACE_PLAIN) {
        read->last_plain = mark->text;
    } else if (mark->face == HBK_FACE_ITALIC) {
        read->awkward = strcmp(mark->text, "awkward") == 0;
        read->lip = strcmp(mark->text, "by lip") == 0;
        assert_true(read->awkward || read->lip);
    }
}

static struct read read_cell(const struct solved *s,
                             const struct hbk_page *page, size_t at)
{
    struct read read = {0};
    bool on_dot = false;
    for (; page->marks[at].kind != HBK_CLOSE; at++) {
        const struct hbk_mark *const mark = &page->marks[at];
        if (mark->kind == HBK_DISC) {
            on_dot = true;
            assert_true(2.0 * mark->dx >= 3.0);
        } else if (mark->kind == HBK_TEXT) {
            read_text(s, mark, on_dot, &read);
            on_dot = false;
        } else if (mark->kind == HBK_SHAPE) {
            read.arrows++;
        } else if (mark->kind == HBK_GLYPH && mark->text != NULL) {
            struct hbk_spelling spelling;
            assert_true(hbk_spelling_parse(mark->text, &spelling));
            *(mark->glyph == HBK_GLYPH_WHOLE_HEAD ? &read.lower : &read.upper) =
                hbk_spelling_note(spelling);
            assert_true(mark->size >= 4.0 * 1.3 * 0.86 - TOL_SIZE);
        }
    }
    return read;
}

static void check_cell(const struct laid *laid, const struct read *read)
{
    const struct hbk_notes *const notes = &laid->s.notes;
    const int interval = read->upper - read->lower;
    assert_true(interval == 1 || interval == 2);
    const struct hbk_trill *const all = interval == 1
                                            ? laid->options.trills->half
                                            : laid->options.trills->whole;
    const struct hbk_trill *const trill = &all[read->lower - notes->lowest];
    if (laid->options.sounding) {
        const char *const sounds = hbk_words_sounding(
            laid->sheet.arena, read->lower, notes->written_c4_sounds);
        assert_true(strcmp(read->last_plain, sounds) == 0 ||
                    strcmp(read->last_plain,
                           hbk_arena_printf(laid->sheet.arena, "sounds %s",
                                            sounds)) == 0);
    }
    assert_int_equal(read->dash, trill->kind == HBK_TRILL_NONE);
    assert_int_equal(read->awkward, trill->kind == HBK_TRILL_AWKWARD);
    assert_int_equal(read->lip, trill->kind == HBK_TRILL_LIP);
    if (trill->kind != HBK_TRILL_NONE) {
        assert_int_equal(read->held | read->down, trill->main->press);
        assert_int_equal(read->held | read->up, trill->upper->press);
        assert_int_equal(read->up & read->down, 0);
        const double arrows = (fabs(trill->main->cents) >= 30.0 ? 1.0 : 0.0) +
                              (fabs(trill->upper->cents) >= 30.0 ? 1.0 : 0.0);
        check_abs(read->arrows, arrows, 0.0);
    }
}

/* Returns how many trills were read that are no dash. */
static size_t check_cells(const struct laid *laid)
{
    size_t n = 0;
    for (size_t p = 0; p < laid->sheet.n_pages; p++) {
        const struct hbk_page *const page = &laid->sheet.pages[p];
        for (size_t i = 0; i < page->n; i++) {
            if (page->marks[i].kind == HBK_OPEN &&
                page->marks[i].tag == HBK_TAG_CELL) {
                const struct read read = read_cell(&laid->s, page, i + 1);
                check_cell(laid, &read);
                n += read.dash ? 0 : 1;
            }
        }
    }
    return n;
}

static size_t count_trills(const struct laid *laid)
{
    size_t n = 0;
    for (size_t i = 0; i < laid->s.notes.n; i++) {
        n += laid->options.trills->half[i].kind != HBK_TRILL_NONE ? 1 : 0;
        n += laid->options.trills->whole[i].kind != HBK_TRILL_NONE ? 1 : 0;
    }
    return n;
}

static void check_facts(const struct laid *laid)
{
    static const char *const cautions[] = {"conservator",  "repairer",
                                           "verdigris",    "lead",
                                           "ever force a", "hearing"};
    struct hbk_arena *const arena = laid->sheet.arena;
    const struct hbk_notes *const notes = &laid->s.notes;
    const char *const words = sheet_words(&laid->sheet);
    const char *const name = laid->s.horn.name;
    check_words_say(words, hbk_arena_printf(arena, "%.*s: trills",
                                            (int)strcspn(name, ","), name));
    check_words_say(words, hbk_words_sounds(arena, notes->written_c4_sounds));
    check_words_say(words, hbk_words_pitch(arena, &notes->setting));
    check_words_say(words, hbk_words_slides(arena, notes, HBK_WORDS_BRIEF));
    check_words_say(words, "For Ada Fenwick");
    for (size_t i = 0; i < HBK_PART_COUNT; i++) {
        if (laid->s.horn.provenance[i] == HBK_ASSUMED) {
            check_words_say(words, hbk_part_name((enum hbk_part)i));
        }
    }
    for (size_t i = 0; i < sizeof(cautions) / sizeof(cautions[0]); i++) {
        check_words_say(words, cautions[i]);
    }
}

/* Each trill of each horn stands once, with the fingers that it has. */
static void every_trill_of_every_horn_is_read_back(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    size_t dashes = 0;
    for (size_t i = 0; i < n; i++) {
        struct laid laid;
        solved_open(&laid.s, horns[i].name);
        for (int k = 0; k < 2 * HBK_PAPER_COUNT; k++) {
            const enum hbk_paper paper = (enum hbk_paper)(k / 2);
            lay(&laid, paper, k % 2 == 1);
            assert_int_equal(check_cells(&laid), count_trills(&laid));
            check_facts(&laid);
            check_sizes(&laid.sheet, 7.0);
            const char *const words = sheet_words(&laid.sheet);
            const bool has_dash = strstr(words, " \u2013 ") != NULL;
            dashes += has_dash ? 1 : 0;
            assert_int_equal(has_dash,
                             strstr(words, "\u2013 no trill: ") != NULL);
            const bool is_large =
                paper == HBK_A4 || paper == HBK_A3 || paper == HBK_LETTER;
            assert_true(!is_large || laid.sheet.n_pages <= 2);
        }
        solved_close(&laid.s);
    }
    assert_true(dashes > 20);
    hbk_arena_finish(&arena);
}

static void two_octaves_stand_on_a_page(void **state)
{
    (void)state;
    static const char *const names[] = {
        "keyed-bugle-c-6", "keyed-bugle-b-flat-6", "keyed-bugle-e-flat-9",
        "keyed-bugle-c-tone-valve"};
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        struct laid laid;
        solved_open(&laid.s, names[i]);
        lay(&laid, HBK_A4, false);
        assert_int_equal(laid.sheet.n_pages, 1);
        lay(&laid, HBK_LETTER, false);
        assert_int_equal(laid.sheet.n_pages, 1);
        solved_close(&laid.s);
    }
}

/* The lower note of the first cell of every row, "F#3 F#3 C4 C4 ...". */
static const char *row_starts(const struct laid *laid)
{
    struct hbk_text text = {.arena = laid->sheet.arena};
    for (size_t p = 0; p < laid->sheet.n_pages; p++) {
        const struct hbk_page *const page = &laid->sheet.pages[p];
        bool fresh = false;
        for (size_t i = 0; i < page->n; i++) {
            const struct hbk_mark *const mark = &page->marks[i];
            fresh |= mark->kind == HBK_OPEN && mark->tag == HBK_TAG_ROW;
            if (fresh && mark->kind == HBK_OPEN && mark->tag == HBK_TAG_CELL) {
                char name[HBK_NAME_SIZE];
                fresh = false;
                hbk_text_addf(
                    &text, "%s ",
                    hbk_spelling_name(
                        hbk_note_sharp(read_cell(&laid->s, page, i + 1).lower),
                        HBK_ASCII, name));
            }
        }
    }
    return hbk_text_string(&text);
}

static void rows_break_at_c(void **state)
{
    (void)state;
    static const struct {
        const char *horn;
        enum hbk_paper paper;
        const char *starts;
    } cases[] = {{"cornet-b-flat", HBK_A4, "F#3 F#3 C4 C4 C5 C5 "},
                 /* One or two notes below the first C join its row. */
                 {"keyed-bugle-c-6", HBK_A4, "B3 B3 C5 C5 "},
                 {"keyed-bugle-c-tone-valve", HBK_A4, "A#3 A#3 C5 C5 "},
                 {"ophicleide-c-11", HBK_A4, "B1 B1 C3 C3 C4 C4 "},
                 {"keyed-bugle-c-6", HBK_A6, "B3 B3 F#4 F#4 C5 C5 F#5 F#5 "}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct laid laid;
        solved_open(&laid.s, cases[i].horn);
        lay(&laid, cases[i].paper, false);
        assert_string_equal(row_starts(&laid), cases[i].starts);
        solved_close(&laid.s);
    }
}

/*
 * A first valve that is stuck moves in no trill, and the sheet says so; the
 * notes of a bass clef player stand where he reads them.
 */
static void what_is_stuck_or_read_otherwise_is_heeded(void **state)
{
    (void)state;
    struct laid laid;
    solved_read(&laid.s, "cornet-b-flat");
    laid.s.setting.stuck.held_up = 1U;
    solved_run(&laid.s);
    lay(&laid, HBK_A4, false);
    assert_true(check_cells(&laid) > 10);
    check_sheet_says(&laid.sheet, "Valve 1 is stuck up.");
    solved_close(&laid.s);

    solved_open(&laid.s, "baritone-b-flat");
    laid.s.notes.notation = (struct hbk_notation){
        .clef = HBK_BASS, .shift = -14, .naming = HBK_NAMES_ENGLISH};
    lay(&laid, HBK_A4, false);
    check_sheet_says(&laid.sheet, "Written C sounds C, as written");
    /* F sharp 3 as the horn is written is E2. */
    assert_string_equal(row_starts(&laid), "E2 E2 C3 C3 C4 C4 ");
    solved_close(&laid.s);
}

/* B to C sharp, but C to D flat: letters that are neighbours. */
static void trills_are_spelled_on_neighbouring_letters(void **state)
{
    (void)state;
    struct laid laid;
    solved_open(&laid.s, "keyed-bugle-c-6");
    lay(&laid, HBK_A4, false);
    const char *const words = sheet_words(&laid.sheet);
    static const char *const pairs[] = {
        " B C ",       " B C\u266F ", " C 4 D\u266D ",     " C\u266F D ",
        " F G\u266D ", " E F\u266F ", " D\u266D E\u266D ", " A\u266F B ",
        " B\u266D C ", " G A\u266D "};
    for (size_t i = 0; i < sizeof(pairs) / sizeof(pairs[0]); i++) {
        check_words_say(words, pairs[i]);
    }
    assert_null(strstr(words, " C\u266F E\u266D "));
    solved_close(&laid.s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_trill_of_every_horn_is_read_back),
        cmocka_unit_test(two_octaves_stand_on_a_page),
        cmocka_unit_test(rows_break_at_c),
        cmocka_unit_test(what_is_stuck_or_read_otherwise_is_heeded),
        cmocka_unit_test(trills_are_spelled_on_neighbouring_letters),
    };
    return run_with_fonts("trills_sheet", tests,
                          sizeof(tests) / sizeof(tests[0]), &ruler);
}
