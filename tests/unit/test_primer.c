/*
 * Primers: every page of every shipped horn, and of horns with something stuck
 * or missing, is clean; what is printed has been taught.
 */
#include "support/check.h"
#include "support/ruler.h"
#include "support/sanitized.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "edition/primer.h"
#include "engrave/glyph.h"
#include "horn/stuck_list.h"
#include "page/impose.h"
#include "sheet/article/scale_staff.h"
#include "sheet/primer/primer_moves.h"
#include "sheet/primer/primer_taught.h"

static void make(struct solved *solved, struct hbk_primer_made *made)
{
    const struct hbk_primer_wish wish = {.notes = &solved->notes};
    *made = (struct hbk_primer_made){0};
    assert_int_equal(
        hbk_primer_make(&wish, &solved->arena, made, &solved->faults), HBK_OK);
}

static struct hbk_sheet lay(struct solved *solved,
                            const struct hbk_primer *primer,
                            const struct hbk_primer_options *options)
{
    const struct hbk_ruler ruler = fixed_ruler();
    struct hbk_sheet sheet = {.arena = &solved->arena};
    assert_int_equal(hbk_sheet_primer(primer, options, &ruler, &sheet), HBK_OK);
    assert_true(sheet.n_pages > 0);
    return sheet;
}

/* Words can be read; the dots of notes are no words. */
static void check_letters(const struct hbk_sheet *sheet)
{
    static const double least = 7.0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            if (mark->kind == HBK_TEXT && !is_in_dot(&sheet->pages[p], i) &&
                mark->size < HBK_PT(least) - TOL_SIZE) {
                print_error("%s: \"%s\" has %.2f pt\n", sheet->title,
                            mark->text, mark->size / HBK_PT(1.0));
                fail();
            }
        }
    }
}

/* The page on which the chart is over. */
static size_t first_after_chart(const struct hbk_sheet *sheet)
{
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            if (mark->kind == HBK_TEXT &&
                strcmp(mark->text, "This horn") == 0) {
                return p;
            }
        }
    }
    fail_msg("%s: nothing after the chart", sheet->title);
    return 0;
}

/* Every note that a text names, "F\u266F4", may be asked for. */
static void check_names(const struct hbk_sheet *sheet, size_t page,
                        const struct hbk_primer *primer, const char *text,
                        size_t *n)
{
    static const char ends[] = " ,:()/\u2013-";
    for (const char *at = text + strspn(text, ends); *at != '\0';
         at += strspn(at, ends)) {
        char name[HBK_NAME_SIZE];
        const size_t length = strcspn(at, ends);
        (void)snprintf(name, sizeof(name), "%.*s", (int)length, at);
        int written = 0;
        at += length;
        if (length >= sizeof(name) || !hbk_note_parse(name, &written)) {
            continue;
        }
        if (!hbk_primer_asks(primer, written)) {
            fail_msg("%s, page %zu: %s is asked for, and no lesson has it: "
                     "\"%s\"",
                     sheet->title, page + 1, name, text);
        }
        (*n)++;
    }
}

/* Where a mark stands in a table. */
struct in_table {
    bool is_cell;
    size_t column, sounding; /* what the tuner says is no written note */
};

static void step_in_table(struct in_table *in, const struct hbk_mark *mark)
{
    const bool opens = mark->kind == HBK_OPEN;
    if (mark->kind == HBK_TEXT && strncmp(mark->text, "The tuner", 9) == 0) {
        in->sounding = in->column;
    } else if (opens && mark->tag == HBK_TAG_TABLE) {
        in->sounding = 0;
    } else if (opens && mark->tag == HBK_TAG_ROW) {
        in->column = 0;
    } else if (opens || mark->kind == HBK_CLOSE) {
        const bool is_cell =
            mark->tag == HBK_TAG_CELL || mark->tag == HBK_TAG_HEADER;
        in->column += opens && (is_cell || mark->tag == HBK_TAG_COLUMN) ? 1 : 0;
        in->is_cell = is_cell ? opens : in->is_cell;
    }
}

/*
 * In tables, diagrams and music no note stands that is not taught, but for
 * those beyond the lessons; sentences may name one, to say what it is.
 */
static void check_asked(const struct hbk_sheet *sheet,
                        const struct hbk_primer *primer)
{
    const struct hbk_notes *const notes = primer->notes;
    size_t n = 0;
    size_t n_white = 0;
    bool is_beyond = false;
    for (size_t p = first_after_chart(sheet); p < sheet->n_pages; p++) {
        struct in_table in = {.is_cell = false};
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            step_in_table(&in, mark);
            const bool asks = mark->kind == HBK_GLYPH ||
                              (in.is_cell && in.column != in.sounding);
            if (mark->kind == HBK_OPEN && mark->tag == HBK_TAG_HEADING) {
                is_beyond = strcmp(mark[1].text, "Beyond the lessons") == 0;
            } else if (mark->text != NULL && asks && !is_beyond) {
                check_names(sheet, p, primer, mark->text, &n);
            }
        }
    }
    /* The gamut alone names every white note that there is. */
    for (size_t i = 0; i < notes->n; i++) {
        const int written = notes->notes[i].written;
        n_white +=
            hbk_primer_asks(primer, written) && !hbk_note_is_black(written) ? 1
                                                                            : 0;
    }
    assert_true(n >= n_white && n > 0);
}

/* The chart to fill in asks for every note of the lessons, and no other. */
static void check_blank(const struct hbk_sheet *sheet,
                        const struct hbk_primer *primer)
{
    const char *const words = sheet_words(sheet);
    const char *const from = strstr(words, "A chart to fill in from memory");
    assert_non_null(from);
    const char *const to = strstr(from, "Your tuner");
    assert_non_null(to);
    const char *const rows =
        hbk_arena_printf(sheet->arena, "%.*s", (int)(to - from), from);
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        char name[HBK_NAME_SIZE];
        hbk_spelling_name(hbk_note_sharp(written), HBK_UNICODE, name);
        const char *const row = hbk_arena_printf(sheet->arena, " %s ", name);
        const bool is_asked = hbk_primer_taught(primer, written) != NULL;
        if ((strstr(rows, row) != NULL) != is_asked) {
            fail_msg("%s: %s in the chart to fill in", sheet->title, name);
        }
    }
}

/* Signs of music with the words that explain them. */
static const struct {
    uint32_t glyph;
    const char *words;
} explained[] = {{HBK_GLYPH_SHARP, "A sharp ("},
                 {HBK_GLYPH_FLAT, "A flat ("},
                 {HBK_GLYPH_NATURAL, "A natural ("},
                 {HBK_GLYPH_DOUBLE_SHARP, "A small cross before a note"},
                 {HBK_GLYPH_REST_4, "a zigzag lasts one"},
                 {HBK_GLYPH_REST_8, "A rest with one hook"},
                 {HBK_GLYPH_OPEN_HEAD, "A half note, white with a stem"},
                 {HBK_GLYPH_BLACK_HEAD, "A quarter note, black with a stem"},
                 {HBK_GLYPH_BREATH, "Breathe where a comma stands"}};

/* Words of music with those that explain them. */
static const struct {
    const char *word, *words;
} terms[] = {{"half note", "A half note, "},
             {"quarter note", "A quarter note, "},
             {"eighth note", "An eighth note has"},
             {"dotted half", "A dot adds half"},
             {"raises a semitone", "A semitone is the smallest"},
             {"is partial ", "counted from the lowest"},
             {"Tempos:", "a minute"},
             {"cents ", "a tuner counts 100 cents"},
             {" tied ", "A curve between two notes"}};

/* Heads, clefs and the like, which stand with whatever they belong to. */
static bool needs_no_words(uint32_t glyph)
{
    static const uint32_t plain[] = {HBK_GLYPH_G_CLEF, HBK_GLYPH_F_CLEF,
                                     HBK_GLYPH_C_CLEF, HBK_GLYPH_WHOLE_HEAD};
    for (size_t i = 0; i < sizeof(plain) / sizeof(plain[0]); i++) {
        if (glyph == plain[i]) {
            return true;
        }
    }
    return false;
}

/* The words of a sign; NULL for none that is known. */
static const char *words_of(uint32_t glyph)
{
    for (size_t k = 0; k < sizeof(explained) / sizeof(explained[0]); k++) {
        if (glyph == explained[k].glyph) {
            return explained[k].words;
        }
    }
    return NULL;
}

/* No sign stands before its explanation, and none has no explanation. */
static void check_sign(const struct hbk_sheet *sheet, size_t page,
                       uint32_t glyph, const char *said)
{
    const char *const words = words_of(glyph);
    if (words == NULL && !needs_no_words(glyph)) {
        fail_msg("%s, page %zu: nothing explains U+%X", sheet->title, page + 1,
                 (unsigned)glyph);
    } else if (words != NULL && strstr(said, words) == NULL) {
        fail_msg("%s, page %zu: a sign before \"%s\"", sheet->title, page + 1,
                 words);
    }
}

/* Nor a word of music. */
static void check_term(const struct hbk_sheet *sheet, size_t page,
                       const char *text, const char *said)
{
    for (size_t k = 0; k < sizeof(terms) / sizeof(terms[0]); k++) {
        if (strstr(text, terms[k].word) != NULL &&
            strstr(said, terms[k].words) == NULL) {
            fail_msg("%s, page %zu: \"%s\" before \"%s\"", sheet->title,
                     page + 1, text, terms[k].words);
        }
    }
}

static void check_explained(const struct hbk_sheet *sheet)
{
    struct hbk_text said = {.arena = sheet->arena};
    hbk_text_add(&said, "");
    for (size_t p = first_after_chart(sheet); p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            if (mark->kind == HBK_TEXT) {
                hbk_text_addf(&said, "%s ", mark->text);
                check_term(sheet, p, mark->text, hbk_text_string(&said));
            } else if (mark->kind == HBK_GLYPH) {
                check_sign(sheet, p, mark->glyph, hbk_text_string(&said));
            }
        }
    }
}

/* How far down a page there is ink, of its height. */
static double filled(const struct hbk_page *page)
{
    double low = 0.0;
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *const mark = &page->marks[i];
        if (mark->kind != HBK_OPEN && mark->kind != HBK_CLOSE) {
            low = fmax(low, mark->y + fmax(0.0, mark->dy));
        }
    }
    return low / page->height;
}

/*
 * Pages are full, but for a few that end before something whole; the last
 * three, with the chart to fill in and the tuner's page, end where they end.
 */
static void check_full(const struct hbk_sheet *sheet)
{
    static const double least = 0.42;
    static const double mean = 0.78;
    const size_t first = first_after_chart(sheet);
    double all = 0.0;
    size_t n = 0;
    for (size_t p = first; p + 3 < sheet->n_pages; p++) {
        const double here = filled(&sheet->pages[p]);
        if (here < least) {
            fail_msg("%s, page %zu: ends at %.2f", sheet->title, p + 1, here);
        }
        all += here;
        n++;
    }
    if (n > 0 && all / (double)n < mean) {
        fail_msg("%s: pages end at %.2f", sheet->title, all / (double)n);
    }
}

/* All music stands on staves of one size. */
static void check_staves(const struct hbk_sheet *sheet)
{
    double size = 0.0;
    for (size_t p = first_after_chart(sheet); p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            if (mark->kind == HBK_GLYPH && mark->glyph == HBK_GLYPH_OPEN_HEAD) {
                assert_true(size == 0.0 || fabs(mark->size - size) < 1e-6);
                size = mark->size;
            }
        }
    }
    assert_true(size > 0.0);
}

static void check_clean(struct solved *solved, const struct hbk_primer *primer,
                        struct hbk_primer_options options)
{
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_sheet sheet = lay(solved, primer, &options);
    check_no_clash(&sheet, &ruler);
    check_letters(&sheet);
    if (!options.fold) {
        check_asked(&sheet, primer);
    }
    if (!options.fold && primer->lessons->n > 0) {
        check_blank(&sheet, primer);
        check_explained(&sheet);
        check_staves(&sheet);
        check_full(&sheet);
    }
}

static void check_other_sizes(struct solved *solved,
                              const struct hbk_primer *primer)
{
    const struct hbk_primer_options others[] = {
        {.paper = HBK_A5},
        {.paper = HBK_A5, .fold = true},
        {.paper = HBK_LETTER, .whom = "Ada Fenwick, Larkmoor Band"},
        {.paper = HBK_A4, .large = true}};
    for (size_t i = 0; i < sizeof(others) / sizeof(others[0]); i++) {
        check_clean(solved, primer, others[i]);
    }
}

static void primers_of_shipped_horns_are_clean(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    assert_true(n > 30);
    for (size_t i = 0; i < n; i++) {
        struct solved solved;
        struct hbk_primer_made made;
        solved_open(&solved, horns[i].name);
        make(&solved, &made);
        check_clean(&solved, &made.primer,
                    (struct hbk_primer_options){.paper = HBK_A4});
        /* Every third horn in the other sizes; the benchmark takes all. */
        if (i % (IS_SANITIZED ? 12 : 3) == 0) {
            check_other_sizes(&solved, &made.primer);
        }
        hbk_primer_finish(&made);
        solved_close(&solved);
    }
    hbk_arena_finish(&arena);
}

/* In the chart's first fingering, and taught by a lesson. */
static void check_taught(const struct hbk_primer *primer, size_t lesson,
                         const struct hbk_tune *tune)
{
    const struct hbk_lessons *const lessons = primer->lessons;
    for (size_t e = 0; tune != NULL && e < tune->n_events; e++) {
        const int written = tune->events[e].note;
        if (tune->events[e].kind == HBK_TUNE_REST) {
            continue;
        }
        const struct hbk_note *const note =
            hbk_notes_find(primer->notes, written);
        assert_non_null(note);
        assert_true(note->n > 0);
        assert_true(written >= lessons->low && written <= lessons->high);
        assert_true(lesson >= 1 && lesson <= lessons->n);
        assert_true(hbk_lesson_knows(&lessons->lessons[lesson - 1], written));
    }
}

/* Bars of an exercise are full. */
static void check_bars(const struct hbk_tune *tune)
{
    for (size_t b = 0; tune != NULL && b < tune->n_bars; b++) {
        assert_true(tune->bars[b].length.num == tune->bars[b].length.den);
    }
}

/* The scales that are written out, with whatever fingering is easiest. */
static void check_keys(struct hbk_arena *arena, const struct hbk_primer *primer)
{
    const struct hbk_scales *const keys = hbk_primer_keys(primer, arena);
    for (size_t i = 0; i < keys->n_placed; i++) {
        struct hbk_scale_octave octave;
        assert_true(hbk_scale_octave_find(
            primer->notes, &keys->keys[keys->order[i]], &octave));
        for (size_t k = 0; k < HBK_SCALE_NOTES; k++) {
            const struct hbk_scale_note *const note =
                hbk_scale_octave_note(&octave, k);
            assert_non_null(note->taken);
            assert_non_null(hbk_primer_taught(primer, note->written));
        }
    }
}

/* All music of a primer. */
static void check_music(struct hbk_arena *arena,
                        const struct hbk_primer *primer)
{
    const size_t last = primer->lessons->n;
    size_t n = 0;
    for (size_t i = 0; i < last; i++) {
        check_taught(primer, i + 1, primer->lessons->lessons[i].study.tune);
    }
    for (size_t i = 0; i < primer->n_tunes; i++) {
        check_taught(primer, primer->tunes[i].after, primer->tunes[i].tune);
    }
    const struct hbk_primer_drill *const drills =
        hbk_primer_drills(primer, arena, &n);
    for (size_t i = 0; i < n; i++) {
        assert_true(drills[i].why[0] != '\0');
        assert_true(drills[i].low < drills[i].high);
        const struct hbk_tune *const tune =
            hbk_primer_drill_tune(primer, &drills[i], arena);
        assert_int_equal(tune->n_bars, 2);
        check_taught(primer, last, tune);
        check_bars(tune);
    }
    const struct hbk_tune *const exercises[] = {
        hbk_primer_slurs(primer, arena), hbk_primer_leading(primer, arena),
        hbk_primer_chromatic(primer, arena),
        hbk_primer_arpeggios(primer, arena)};
    for (size_t i = 0; i < sizeof(exercises) / sizeof(exercises[0]); i++) {
        check_taught(primer, last, exercises[i]);
        check_bars(exercises[i]);
    }
    check_keys(arena, primer);
}

static void what_is_printed_has_been_taught(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    for (size_t i = 0; i < n; i++) {
        struct solved solved;
        struct hbk_primer_made made;
        solved_open(&solved, horns[i].name);
        make(&solved, &made);
        check_music(&solved.arena, &made.primer);
        hbk_primer_finish(&made);
        solved_close(&solved);
    }
    hbk_arena_finish(&arena);
}

static const struct {
    const char *name, *stuck;
} broken[] = {
    {"keyed-bugle-c-6", "key:1=open"},
    {"keyed-bugle-c-6", "key:2=closed,key:4=closed"},
    {"keyed-bugle-b-flat-6", "key:3=open"},
    {"keyed-bugle-e-flat-9", "key:5=closed,key:6=closed,key:7=closed"},
    {"ophicleide-c-9", "key:1=closed"},
    {"cornet-b-flat", "valve:2=down"},
    {"cornet-b-flat-rotary", "valve:1=up,valve:2=up,valve:3=up"},
    {"cornet-six-independent", "valve:4=up"},
    {"keyed-bugle-c-tone-valve", "key:1=open"},
};

static void so_it_is_within_a_range(void **state)
{
    (void)state;
    static const char *const ranges[][2] = {{"C4", "G4"}, {"B3", "D5"}};
    struct solved solved;
    solved_open(&solved, "cornet-b-flat");
    for (size_t i = 0; i < sizeof(ranges) / sizeof(ranges[0]); i++) {
        const struct hbk_primer_wish wish = {.notes = &solved.notes,
                                             .low = note_of(ranges[i][0]),
                                             .high = note_of(ranges[i][1])};
        struct hbk_primer_made made = {0};
        assert_int_equal(
            hbk_primer_make(&wish, &solved.arena, &made, &solved.faults),
            HBK_OK);
        check_music(&solved.arena, &made.primer);
        check_clean(&solved, &made.primer,
                    (struct hbk_primer_options){.paper = HBK_A4});
        const struct hbk_primer_options options = {.paper = HBK_A4};
        const struct hbk_sheet sheet = lay(&solved, &made.primer, &options);
        check_sheet_says(&sheet, i == 0 ? "No key has a whole scale of the "
                                          "notes that the lessons have."
                                        : "which need notes that no lesson "
                                          "has.");
        hbk_primer_finish(&made);
    }
    solved_close(&solved);
}

static void so_it_is_with_something_stuck(void **state)
{
    (void)state;
    for (size_t i = 0; i < sizeof(broken) / sizeof(broken[0]); i++) {
        struct solved solved;
        struct hbk_primer_made made;
        solved_read(&solved, broken[i].name);
        struct hbk_text why = {.arena = &solved.arena};
        assert_true(hbk_stuck_parse(&solved.horn, NULL, broken[i].stuck,
                                    &solved.setting.stuck, &why));
        solved_run(&solved);
        make(&solved, &made);
        check_music(&solved.arena, &made.primer);
        check_clean(&solved, &made.primer,
                    (struct hbk_primer_options){.paper = HBK_A4});
        hbk_primer_finish(&made);
        solved_close(&solved);
    }
}

/* Where each of some words begins, in their order. */
static void check_order(const struct hbk_sheet *sheet,
                        const char *const words[], size_t n)
{
    const char *at = sheet_words(sheet);
    for (size_t i = 0; i < n; i++) {
        const char *const found = strstr(at, words[i]);
        if (found == NULL) {
            fail_msg("%s: no \"%s\" after what comes before it", sheet->title,
                     words[i]);
        }
        at = found;
    }
}

static void a_beginner_is_told_what_comes(void **state)
{
    (void)state;
    static const char *const told[] = {
        "Care, before the first note",
        "The first sound",
        "Press nothing",
        "the first lesson wants C4 (0), which a tuner calls C4",
        "The first five notes",
        "Each note stands on five lines",
        "Lessons",
        "where that changes, the page says so",
        "From this lesson on a study has",
        "From this tune on, tunes have fig",
        "From this tune on, tunes have no",
        "Awkward moves",
        "1. ",
        "2. "};
    struct solved solved;
    struct hbk_primer_made made;
    solved_open(&solved, "keyed-bugle-c-6");
    make(&solved, &made);
    const struct hbk_primer_options options = {.paper = HBK_A4};
    const struct hbk_sheet sheet = lay(&solved, &made.primer, &options);
    check_order(&sheet, told, sizeof(told) / sizeof(told[0]));
    hbk_primer_finish(&made);
    solved_close(&solved);
}

static void a_horn_too_poor_for_lessons_is_told_so(void **state)
{
    (void)state;
    struct solved solved;
    struct hbk_primer_made made;
    solved_open(&solved, "bugle-b-flat");
    /* From C4 to F4 it has one note. */
    const struct hbk_primer_wish wish = {
        .notes = &solved.notes, .low = 60, .high = 65};
    made = (struct hbk_primer_made){0};
    assert_int_equal(
        hbk_primer_make(&wish, &solved.arena, &made, &solved.faults), HBK_OK);
    assert_int_equal(made.primer.lessons->n, 0);
    assert_int_equal(made.primer.n_tunes, 0);
    const struct hbk_primer_options options = {.paper = HBK_A4};
    const struct hbk_sheet sheet = lay(&solved, &made.primer, &options);
    check_sheet_says(&sheet, "Notes to play");
    check_sheet_says(&sheet, "The first sound");
    check_sheet_says(&sheet, "There is nothing to press");
    check_sheet_says(&sheet, "The whole gamut");
    assert_null(strstr(sheet_words(&sheet), "Lesson"));
    assert_true(sheet.n_pages <= 4);
    hbk_primer_finish(&made);
    solved_close(&solved);
}

/* Open notes, calls of them, and the one tune they have. */
static void a_duty_bugle_has_music(void **state)
{
    (void)state;
    struct solved solved;
    struct hbk_primer_made made;
    solved_open(&solved, "bugle-b-flat");
    make(&solved, &made);
    assert_true(made.primer.lessons->n > 5);
    assert_int_equal(made.primer.n_tunes, 1);
    const struct hbk_primer_options options = {.paper = HBK_A4};
    const struct hbk_sheet sheet = lay(&solved, &made.primer, &options);
    check_sheet_says(&sheet, "a call");
    check_sheet_says(&sheet, "Taps (D. Butterfield)");
    assert_null(strstr(sheet_words(&sheet), "Left out"));
    assert_null(strstr(sheet_words(&sheet), "Every semitone"));
    hbk_primer_finish(&made);
    solved_close(&solved);
}

/* A page of nothing but its name. */
static void add_page(struct hbk_pad *pad, struct hbk_paper_size size,
                     const char *name)
{
    hbk_pad_page(pad, size, name);
    hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
    hbk_pad_text(pad, 20.0, 20.0,
                 (struct hbk_style){.face = HBK_FACE_PLAIN, .size = 4.0}, name);
    hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
}

/* The names on one side of a sheet, left to right. */
static const char *names_on(struct hbk_arena *arena,
                            const struct hbk_page *page)
{
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < page->n; i++) {
        if (page->marks[i].kind == HBK_TEXT) {
            hbk_text_addf(&text, "%s%s%s",
                          page->marks[i].x > 0.5 * page->width ? "|" : "",
                          page->marks[i].text,
                          page->marks[i].x > 0.5 * page->width ? "" : " ");
        }
    }
    return hbk_text_string(&text);
}

static void check_folded(size_t n, bool has_middle, size_t n_sides,
                         const char *const sides[])
{
    struct hbk_arena arena = {0};
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_paper_size a4 = hbk_paper_turned(hbk_paper_size(HBK_A4));
    struct hbk_sheet pages = {.arena = &arena};
    struct hbk_sheet plate = {.arena = &arena};
    struct hbk_sheet sheet = {.arena = &arena};
    struct hbk_pad pad = {.sheet = &pages, .ruler = &ruler};
    for (size_t i = 1; i <= n; i++) {
        add_page(&pad, hbk_paper_size(HBK_A5),
                 hbk_arena_printf(&arena, "%zu", i));
    }
    pad = (struct hbk_pad){.sheet = &plate, .ruler = &ruler};
    add_page(&pad, a4, "plate");
    pad = (struct hbk_pad){.sheet = &sheet, .ruler = &ruler};
    const struct hbk_folding how = {
        .paper = a4, .middle = has_middle ? &plate.pages[0] : NULL};
    hbk_fold(&pad, &how, &pages);
    assert_int_equal(sheet.n_pages, n_sides);
    for (size_t i = 0; i < n_sides; i++) {
        assert_string_equal(names_on(&arena, &sheet.pages[i]), sides[i]);
    }
    hbk_arena_finish(&arena);
}

static void folded_pages_follow_each_other(void **state)
{
    (void)state;
    static const char *const four[] = {"4 |1", "2 |3"};
    static const char *const five[] = {"|1", "2 ", "|3", "4 |5"};
    static const char *const six[] = {"6 |1", "2 |5", "4 |3", "plate "};
    check_folded(4, false, 2, four);
    check_folded(5, false, 4, five);
    check_folded(6, true, 4, six);
    assert_int_equal(hbk_folded_pages(6, true), 8);
    assert_int_equal(hbk_folded_pages(7, true), 12);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(primers_of_shipped_horns_are_clean),
        cmocka_unit_test(what_is_printed_has_been_taught),
        cmocka_unit_test(so_it_is_within_a_range),
        cmocka_unit_test(so_it_is_with_something_stuck),
        cmocka_unit_test(a_beginner_is_told_what_comes),
        cmocka_unit_test(a_horn_too_poor_for_lessons_is_told_so),
        cmocka_unit_test(a_duty_bugle_has_music),
        cmocka_unit_test(folded_pages_follow_each_other),
    };
    return cmocka_run_group_tests_name("primer", tests, NULL, NULL);
}
