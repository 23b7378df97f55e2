/* The sheet of scales written out, and the ranking behind it. */
#include "support/real_ruler.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "engrave/glyph.h"
#include "passage/scale.h"
#include "sheet/article/scale_staff.h"
#include "sheet/article/scales_sheet.h"

/* The real faces, whose widths decide what stands on a page. */
static struct hbk_ruler ruler;

/* A horn with its scales, and the sheet of them. */
struct laid {
    struct solved s;
    const struct hbk_scales *scales;
    struct hbk_sheet sheet;
};

static void lay(struct laid *laid, enum hbk_paper paper)
{
    const struct hbk_sheet_options options = {.paper = paper,
                                              .whom = "Ada Fenwick"};
    laid->sheet = (struct hbk_sheet){.arena = &laid->s.arena};
    assert_int_equal(hbk_sheet_scales(&laid->s.notes, laid->scales, &options,
                                      &ruler, &laid->sheet),
                     HBK_OK);
    check_no_clash(&laid->sheet, &ruler);
}

static void open_laid(struct laid *laid, const char *name)
{
    solved_open(&laid->s, name);
    laid->scales = hbk_scales_of(&laid->s.notes, &laid->s.arena);
}

/* Figures, staffs and words are no smaller than they may be. */
static void check_least(const struct hbk_sheet *sheet)
{
    static const double least[HBK_FACE_COUNT] = {[HBK_FACE_PLAIN] = 7.0,
                                                 [HBK_FACE_ITALIC] = 8.5,
                                                 [HBK_FACE_CAPS] = 8.0,
                                                 [HBK_FACE_BOLD] = 7.0,
                                                 [HBK_FACE_FIGURE] = 10.0};
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *const page = &sheet->pages[p];
        for (size_t i = 0; i < page->n; i++) {
            const struct hbk_mark *const mark = &page->marks[i];
            if (mark->kind == HBK_TEXT) {
                assert_true(mark->size >= HBK_PT(least[mark->face]) - TOL_SIZE);
            } else if (mark->kind == HBK_GLYPH &&
                       mark->glyph == HBK_GLYPH_BLACK_HEAD) {
                assert_true(mark->size >= 4.0 * 1.3 - TOL_SIZE);
            }
        }
    }
}

/* Pages before the ranking, which has its own title. */
static size_t written_pages(const struct hbk_sheet *sheet)
{
    size_t n = 0;
    while (n < sheet->n_pages) {
        struct hbk_sheet page = *sheet;
        page.n_pages = 1;
        page.pages = &sheet->pages[n];
        if (strstr(sheet_words(&page), "All keys, with what makes") != NULL) {
            break;
        }
        n++;
    }
    return n;
}

static bool sheet_has_words(const struct hbk_sheet *sheet, const char *words)
{
    return strstr(sheet_words(sheet), words) != NULL;
}

/* Two large pages at most; without a scale, one sentence instead of a table. */
static void check_ranking(const struct hbk_sheet *sheet, size_t pages,
                          bool none, enum hbk_paper paper)
{
    const bool is_large =
        paper == HBK_A4 || paper == HBK_A3 || paper == HBK_LETTER;
    assert_true(!is_large || pages <= (none ? 1u : 2u));
    if (none) {
        const char *const words = sheet_words(sheet);
        assert_null(strstr(words, "All keys"));
        assert_null(strstr(words, "No note of it can be played"));
        assert_null(strstr(words, "major"));
    }
}

static void every_horn_has_its_scales_on_every_paper(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t i = 0; i < n; i++) {
        struct laid laid;
        open_laid(&laid, horns[i].name);
        for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
            lay(&laid, (enum hbk_paper)paper);
            check_least(&laid.sheet);
            const bool none = laid.scales->n_placed == 0;
            check_sheet_says(&laid.sheet,
                             none ? "No scale can be played on this horn"
                                  : "Easiest scales: ");
            if (!none) {
                check_sheet_says(&laid.sheet, "F\u266F minor");
                check_sheet_says(&laid.sheet, "E\u266D/D\u266F minor");
            }
            check_sheet_says(&laid.sheet, "verdigris");
            check_sheet_says(&laid.sheet, "For Ada Fenwick");
            const size_t pages = none ? 0 : written_pages(&laid.sheet);
            assert_true(none || pages > 0);
            assert_true(pages < laid.sheet.n_pages);
            check_ranking(&laid.sheet, laid.sheet.n_pages - pages, none,
                          (enum hbk_paper)paper);
            /* One page, or two of four scales where every sign is wanted. */
            if (paper == HBK_A4 || paper == HBK_A3 || paper == HBK_LETTER) {
                assert_true(pages == (none ? 0 : 1) ||
                            (pages == 2 &&
                             sheet_has_words(&laid.sheet, "fingers cross") &&
                             sheet_has_words(&laid.sheet, "Underlined:")));
            }
        }
        solved_close(&laid.s);
    }
    hbk_arena_finish(&arena);
}

/* The next text of a figure from `at` on in this cell. */
static const char *figure_in(const struct hbk_page *page, size_t at)
{
    for (; page->marks[at].kind != HBK_CLOSE; at++) {
        if (page->marks[at].kind == HBK_TEXT) {
            assert_int_equal(page->marks[at].face, HBK_FACE_FIGURE);
            return page->marks[at].text;
        }
    }
    fail();
    return NULL;
}

static const char *head_in(const struct hbk_page *page, size_t at)
{
    for (; page->marks[at].kind != HBK_CLOSE; at++) {
        if (page->marks[at].kind == HBK_GLYPH && page->marks[at].text != NULL) {
            return page->marks[at].text;
        }
    }
    fail();
    return NULL;
}

/* What the cells of the first page say: "C4 0 D4 1-3 ...". */
static const char *cells_of(const struct laid *laid)
{
    const struct hbk_page *const page = &laid->sheet.pages[0];
    struct hbk_text text = {.arena = laid->sheet.arena};
    for (size_t i = 0; i < page->n; i++) {
        if (page->marks[i].kind == HBK_OPEN &&
            page->marks[i].tag == HBK_TAG_CELL) {
            hbk_text_addf(&text, "%s %s ", head_in(page, i + 1),
                          figure_in(page, i + 1));
        }
    }
    return hbk_text_string(&text);
}

/* Without hyphens, which a full line leaves out. */
static const char *closed_up(struct hbk_arena *arena, const char *text)
{
    struct hbk_text closed = {.arena = arena};
    for (const char *at = text; *at != '\0'; at++) {
        if (*at != '-') {
            hbk_text_put(&closed, at, 1);
        }
    }
    return hbk_text_string(&closed);
}

/* The headings of a page in their order. */
static const char *headings_of(const struct laid *laid)
{
    const struct hbk_page *const page = &laid->sheet.pages[0];
    struct hbk_text text = {.arena = laid->sheet.arena};
    for (size_t i = 0; i + 1 < page->n; i++) {
        if (page->marks[i].kind == HBK_OPEN &&
            page->marks[i].tag == HBK_TAG_HEADING) {
            hbk_text_addf(&text, "%s, ", page->marks[i + 1].text);
        }
    }
    return hbk_text_string(&text);
}

/* Every figure is that of the search, every name that of the key. */
static void figures_are_those_of_the_easiest_way(void **state)
{
    (void)state;
    static const char *const names[] = {"keyed-bugle-c-6", "cornet-b-flat",
                                        "ophicleide-c-11",
                                        "keyed-bugle-c-tone-valve"};
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        struct laid laid;
        open_laid(&laid, names[i]);
        lay(&laid, HBK_A4);
        struct hbk_text wanted = {.arena = &laid.s.arena};
        size_t shown[2] = {0, 0};
        for (int minor = 0; minor < 2; minor++) {
            for (size_t k = 0; k < 8; k++) {
                const struct hbk_scale *const key =
                    &laid.scales->keys[laid.scales->order[k]];
                struct hbk_scale_octave octave;
                if (key->minor != (minor == 1)) {
                    continue;
                }
                shown[minor]++;
                assert_true(hbk_scale_octave_find(&laid.s.notes, key,
                                                  HBK_SCALE_TONIC, &octave));
                for (size_t note = 0; note < HBK_SCALE_NOTES; note++) {
                    const struct hbk_scale_note *const at =
                        hbk_scale_octave_note(&octave, note);
                    char name[HBK_NAME_SIZE];
                    char label[HBK_LABEL_SIZE];
                    hbk_text_addf(
                        &wanted, "%s %s ",
                        hbk_spelling_name(hbk_scale_spelling(key, at->written),
                                          HBK_UNICODE, name),
                        hbk_horn_press_label(&laid.s.horn, at->taken->press,
                                             label));
                }
            }
        }
        assert_string_equal(closed_up(&laid.s.arena, cells_of(&laid)),
                            closed_up(&laid.s.arena, hbk_text_string(&wanted)));
        assert_int_equal(shown[0] + shown[1], 8);
        solved_close(&laid.s);
    }
}

/*
 * Up and down within the staff: the tonic from B3 to B flat 4 in the treble,
 * from G2 to F sharp 3 in the bass, where the horn has that octave.
 */
static void the_octave_is_that_of_the_staff(void **state)
{
    (void)state;
    static const struct {
        const char *horn, *low, *high;
    } cases[] = {{"cornet-b-flat", "B3", "A#4"},
                 {"keyed-bugle-c-6", "B3", "A#4"},
                 {"ophicleide-c-11", "G2", "F#3"}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct laid laid;
        open_laid(&laid, cases[i].horn);
        size_t found = 0;
        for (size_t k = 0; k < HBK_KEYS; k++) {
            struct hbk_scale_octave octave;
            const struct hbk_scale *const key = &laid.scales->keys[k];
            const bool has = hbk_scale_octave_find(&laid.s.notes, key,
                                                   HBK_SCALE_TONIC, &octave);
            assert_int_equal(has, key->octaves > 0);
            if (!has) {
                continue;
            }
            const int tonic = hbk_scale_octave_note(&octave, 0)->written;
            found++;
            assert_true(tonic >= note_of(cases[i].low));
            assert_true(tonic <= note_of(cases[i].high));
            assert_int_equal(hbk_scale_octave_note(&octave, 7)->written,
                             tonic + 12);
            assert_int_equal(hbk_scale_octave_note(&octave, 14)->written,
                             tonic);
        }
        assert_true(found > 18);
        solved_close(&laid.s);
    }
}

static void majors_come_before_minors(void **state)
{
    (void)state;
    struct laid laid;
    open_laid(&laid, "ophicleide-c-11");
    lay(&laid, HBK_A4);
    const char *const headings = headings_of(&laid);
    const char *const minor = strstr(headings, "minor");
    assert_non_null(minor);
    assert_null(strstr(minor, "major"));
    /* Of what the fingers find easiest, B flat comes before C. */
    assert_true(strstr(headings, "B\u266D major") <
                strstr(headings, "C major"));
    solved_close(&laid.s);
}

/*
 * A bass clef player of a B flat horn at concert pitch: written C4 is B flat,
 * so that the scale of C is his scale of B flat with two flats.
 */
static void scales_are_written_as_they_are_read(void **state)
{
    (void)state;
    struct laid laid;
    open_laid(&laid, "baritone-b-flat");
    lay(&laid, HBK_A4);
    const char *const own = cells_of(&laid);
    assert_non_null(strstr(own, "C4 0 "));
    assert_non_null(strstr(headings_of(&laid), "C major, "));
    laid.s.notes.notation =
        (struct hbk_notation){.clef = HBK_BASS,
                              .shift = laid.s.horn.written_c4_sounds - 60,
                              .naming = HBK_NAMES_GERMAN};
    lay(&laid, HBK_A4);
    const char *const read = cells_of(&laid);
    assert_null(strstr(read, "C4 0 "));
    assert_non_null(strstr(read, "B2 0 "));
    assert_non_null(strstr(headings_of(&laid), "B major, "));
    check_sheet_says(&laid.sheet, "Written C sounds C, as written");
    solved_close(&laid.s);
}

/* Seven signatures in either direction, and the two names of six flats. */
static void a_key_moves_by_fifths(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    static const struct {
        int signature, shift, read;
        const char *called;
    } cases[] = {{0, -2, -2, "B\u266D"}, {0, 2, 2, "D"},
                 {0, -12, 0, "C"},       {5, 7, -6, "G\u266D/F\u266F"},
                 {-6, -1, -1, "F"},      {3, -9, 0, "C"}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        const struct hbk_scale key = {.signature = cases[i].signature};
        const struct hbk_notation notation = {.shift = cases[i].shift};
        assert_int_equal(hbk_scale_read(&key, &notation).signature,
                         cases[i].read);
        assert_string_equal(hbk_scale_tonic_read(&arena, &key, &notation),
                            cases[i].called);
    }
    hbk_arena_finish(&arena);
}

/* Arrows and curves of the page, counted from what the search found. */
static void signs_stand_where_they_belong(void **state)
{
    (void)state;
    struct laid laid;
    open_laid(&laid, "cornet-b-flat");
    lay(&laid, HBK_A4);
    size_t arrows = 0;
    size_t curves = 0;
    for (size_t k = 0; k < 8; k++) {
        struct hbk_scale_octave octave;
        const struct hbk_scale *const key =
            &laid.scales->keys[laid.scales->order[k]];
        assert_true(hbk_scale_octave_find(&laid.s.notes, key, HBK_SCALE_TONIC,
                                          &octave));
        for (size_t note = 0; note < HBK_SCALE_NOTES; note++) {
            const double cents =
                hbk_scale_octave_note(&octave, note)->taken->cents;
            arrows += cents >= 10.0 || cents <= -10.0 ? 1 : 0;
        }
        for (size_t a = 0; a < key->n_awkward; a++) {
            const size_t from = key->awkward[a].from;
            curves += from >= octave.first && from < octave.first + 7 ? 2 : 0;
        }
    }
    const struct hbk_page *const page = &laid.sheet.pages[0];
    size_t drawn[2] = {0, 0};
    for (size_t i = 0; i < page->n; i++) {
        if (page->marks[i].kind == HBK_SHAPE) {
            drawn[0] += page->marks[i].n_points == 7 ? 1 : 0;
            drawn[1] += page->marks[i].n_points == 34 ? 1 : 0;
        }
    }
    /* One of each stands in the legend, an arrow either way. */
    assert_true(arrows > 10 && curves > 2);
    assert_int_equal(drawn[0], arrows + 2);
    assert_int_equal(drawn[1], curves + 1);
    solved_close(&laid.s);
}

/* A line under each figure that is not the first fingering, and no other. */
static void figures_other_than_the_charts_are_underlined(void **state)
{
    (void)state;
    static const char *const names[] = {"keyed-bugle-c-6", "cornet-b-flat",
                                        "ophicleide-c-11"};
    size_t underlined = 0;
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        struct laid laid;
        open_laid(&laid, names[i]);
        lay(&laid, HBK_A4);
        const struct hbk_page *const page = &laid.sheet.pages[0];
        size_t wanted = 0;
        size_t found = 0;
        for (size_t k = 0; k < 8; k++) {
            struct hbk_scale_octave octave;
            assert_true(hbk_scale_octave_find(
                &laid.s.notes, &laid.scales->keys[laid.scales->order[k]],
                HBK_SCALE_TONIC, &octave));
            for (size_t n = 0; n < HBK_SCALE_NOTES; n++) {
                const struct hbk_scale_note *const at =
                    hbk_scale_octave_note(&octave, n);
                const struct hbk_note *const note =
                    hbk_notes_find(&laid.s.notes, at->written);
                wanted += at->taken->press != note->fingerings[0].press ? 1 : 0;
            }
        }
        for (size_t m = 1; m < page->n; m++) {
            const struct hbk_mark *const figure = &page->marks[m - 1];
            const struct hbk_mark *const line = &page->marks[m];
            found += figure->kind == HBK_TEXT &&
                             figure->face == HBK_FACE_FIGURE &&
                             line->kind == HBK_LINE && line->y > figure->y &&
                             line->group == figure->group
                         ? 1
                         : 0;
        }
        assert_int_equal(found, wanted);
        assert_int_equal(strstr(sheet_words(&laid.sheet), "Underlined: ") !=
                             NULL,
                         wanted > 0);
        underlined += wanted;
        solved_close(&laid.s);
    }
    assert_true(underlined > 0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_horn_has_its_scales_on_every_paper),
        cmocka_unit_test(figures_are_those_of_the_easiest_way),
        cmocka_unit_test(the_octave_is_that_of_the_staff),
        cmocka_unit_test(majors_come_before_minors),
        cmocka_unit_test(scales_are_written_as_they_are_read),
        cmocka_unit_test(a_key_moves_by_fifths),
        cmocka_unit_test(signs_stand_where_they_belong),
        cmocka_unit_test(figures_other_than_the_charts_are_underlined),
    };
    return run_with_fonts("scales_sheet", tests,
                          sizeof(tests) / sizeof(tests[0]), &ruler);
}
