#include "engrave/engrave_shape.h"
#include "render/fonts.h"
#include "sheet/part/part_sheet.h"
#include "support/engraved.h"
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "base/file.h"
#include "render/faces.h"
#include "render/render.h"
#include "support/collide.h"

/* Fingerings by a rule that has every length, mark and gap in it. */
static void finger(struct laid *laid)
{
    static const char *const labels[] = {"0", "1-2", "1-2-3", "2", "1-3"};
    static const uint32_t presses[] = {0, 3, 7, 2, 5};
    const struct hbk_tune *tune = &laid->document.tune;
    laid->fingerings = HBK_ARENA_ARRAY(&laid->arena, struct hbk_part_fingering,
                                       tune->n_events);
    for (size_t i = 0; i < tune->n_events; i++) {
        const size_t k = (i * 7 + i / 3) % 5;
        laid->fingerings[i] =
            (struct hbk_part_fingering){.label = labels[k],
                                        .press = presses[k],
                                        .shown = i % 11 != 10,
                                        .unreachable = i % 11 == 10,
                                        .departure = i % 6 == 1,
                                        .hard = i % 9 > 6};
    }
}

/* Trills and other choices besides, of which some notes have none. */
static void finger_more(struct laid *laid)
{
    static const struct hbk_part_press presses[] = {
        {"1-2-3", 7}, {"3", 4}, {NULL, 0}, {"2-3", 6}};
    finger(laid);
    for (size_t i = 0; i < laid->document.tune.n_events; i++) {
        struct hbk_part_fingering *const fingering = &laid->fingerings[i];
        fingering->trill = i % 5 == 3 ? &presses[i % 4] : NULL;
        fingering->n_others = i % 4 == 2 ? 2 : i % 2;
        fingering->others = presses;
    }
}

/* The stem of the SMuFL specification, and to the middle line from afar. */
static void stems_have_their_length(void **state)
{
    (void)state;
    check_abs(hbk_eng_stem_length(0), 3.5, 1e-12);
    check_abs(hbk_eng_stem_length(2), 3.5, 1e-12);
    check_abs(hbk_eng_stem_length(4), 5.0, 1e-12);
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nK:C\nE, c'' F C");
    const struct hbk_ruler ruler = fixed_ruler();
    lay_part(&laid, NULL, NULL, &ruler);
    /* Stems are the panels of 0.12 spaces of 1.75 mm. */
    double tall[4] = {0.0};
    size_t n = 0;
    const struct hbk_page *page = &laid.sheet.pages[0];
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *mark = &page->marks[i];
        if (mark->kind == HBK_PANEL && fabs(mark->dx - 0.21) < 1e-9) {
            assert_true(n < 4);
            tall[n++] = mark->dy / 1.75;
        }
    }
    assert_int_equal(n, 4);
    /* E3 lies 3.5 spaces below the lowest line, C7 9.5 above it: to 2. */
    check_abs(tall[0], 5.5 - 0.168, 1e-9);
    check_abs(tall[1], 7.5 - 0.168, 1e-9);
    check_abs(tall[2], 3.5 - 0.168, 1e-9);
    check_abs(tall[3], 3.5 - 0.168, 1e-9);
    close_laid(&laid);
}

/* With and without circles, sounding names, on every paper. */
static void check_papers(struct laid *laid, const struct hbk_horn *horn)
{
    const struct hbk_ruler ruler = fixed_ruler();
    for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
        for (int k = 0; k < 6; k++) {
            (k < 3 ? finger : finger_more)(laid);
            const struct hbk_part_options options = {.paper =
                                                         (enum hbk_paper)paper,
                                                     .circles = k % 3 == 1,
                                                     .sounding = k % 3 == 2,
                                                     .sounds_higher_by = -2};
            lay_part(laid, &options, horn, &ruler);
            check_no_clash(&laid->sheet, &ruler);
            check_sheet_says(&laid->sheet, "For Ada Fenwick, Larkmoor Keyed");
        }
    }
}

static void nothing_overlaps_in_the_melodies(void **state)
{
    (void)state;
    struct solved cornet;
    solved_read(&cornet, "cornet-b-flat");
    for (int tune = 1; tune <= 12; tune++) {
        struct laid laid;
        char name[4];
        (void)snprintf(name, sizeof(name), "%d", tune);
        read_tune(&laid, "tests/data/tunes.abc", name);
        check_papers(&laid, &cornet.horn);
        close_laid(&laid);
    }
    solved_close(&cornet);
}

static void nothing_overlaps_where_everything_comes_at_once(void **state)
{
    (void)state;
    struct solved horn;
    solved_read(&horn, "ophicleide-c-11");
    struct laid laid;
    read_tune(&laid, "tests/data/torture.abc", NULL);
    check_papers(&laid, &horn.horn);
    close_laid(&laid);
    read_tune(&laid, "tests/data/galop.abc", NULL);
    check_papers(&laid, &horn.horn);
    close_laid(&laid);
    read_tune(&laid, "tests/data/march.musicxml", NULL);
    check_papers(&laid, &horn.horn);
    close_laid(&laid);
    solved_close(&horn);
}

/* Music with a few bytes changed at random is odd, and still engraved. */
static void whatever_can_be_read_can_be_engraved(void **state)
{
    (void)state;
    static const char *const paths[] = {"tests/data/torture.abc",
                                        "tests/data/galop.abc",
                                        "tests/data/marks/01-ferry-march.abc",
                                        "tests/data/marks/03-lantern-song.abc"};
    const struct hbk_ruler ruler = fixed_ruler();
    uint32_t seed = 20261125;
    size_t n_read = 0;
    for (int i = 0; i < 240; i++) {
        struct laid laid = {.sheet = {.n_pages = 0}};
        char *bytes = NULL;
        size_t length = 0;
        assert_int_equal(hbk_file_read(paths[i % 4], 1u << 20, &laid.arena,
                                       &bytes, &length, &laid.faults),
                         HBK_OK);
        char *const changed = HBK_ARENA_ARRAY(&laid.arena, char, length + 999);
        memcpy(changed, bytes, length);
        length = mutate(changed, length, length + 998, &seed);
        if (hbk_tune_read_bytes("changed.abc", changed, length, NULL,
                                &laid.document, &laid.faults) == HBK_OK) {
            finger_more(&laid);
            const struct hbk_part_options options = {
                .paper = (enum hbk_paper)(i % HBK_PAPER_COUNT),
                .sounding = i % 3 == 0};
            lay_part(&laid, &options, NULL, &ruler);
            check_no_clash(&laid.sheet, &ruler);
            n_read++;
        }
        close_laid(&laid);
    }
    assert_true(n_read > 80);
}

static void a_note_is_read_out_with_its_fingering(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nK:C\nC ^D E- E");
    const struct hbk_ruler ruler = fixed_ruler();
    static const char *const labels[] = {"0", "2-3", "1-2", "1-2"};
    struct hbk_part_fingering fingerings[4] = {{.label = NULL}};
    for (size_t i = 0; i < 4; i++) {
        fingerings[i].label = labels[i];
        fingerings[i].shown = true;
    }
    laid.fingerings = fingerings;
    lay_part(&laid, NULL, NULL, &ruler);
    /* The later piece of a tied note has no fingering of its own. */
    assert_non_null(strstr(said(&laid), "C4 0 D\u266F4 2-3 E4 1-2 E4 "));
    assert_non_null(strstr(said(&laid), "for: Keyed bugle in C"));
    assert_non_null(strstr(said(&laid), "Hard places"));
    assert_non_null(strstr(said(&laid), "playable from quarter = 84 down"));
    assert_null(strstr(said(&laid), "Underlined"));
    assert_null(strstr(said(&laid), "Bracketed"));
    fingerings[1].departure = true;
    fingerings[2].hard = true;
    lay_part(&laid, NULL, NULL, &ruler);
    assert_non_null(strstr(said(&laid), "Underlined: not the usual"));
    assert_non_null(strstr(said(&laid), "Bracketed: too fast"));
    fingerings[1].shown = false;
    lay_part(&laid, NULL, NULL, &ruler);
    assert_non_null(strstr(said(&laid), "C4 0 D\u266F4 E4 1-2 E4 "));
    assert_null(strstr(said(&laid), "Underlined"));
    close_laid(&laid);
}

/* Wide numbers under short notes would push them apart: fingers in stacks. */
static void numbers_are_stacked_where_notes_are_dense(void **state)
{
    (void)state;
    const struct hbk_ruler ruler = fixed_ruler();
    for (int dense = 0; dense < 2; dense++) {
        struct laid laid;
        read_text(&laid, dense ? "M:4/4\nL:1/16\nK:C\nCDCD CDCD CDCD CDCD"
                               : "M:4/4\nL:1/2\nK:C\nC D | C D | C D");
        const struct hbk_tune *tune = &laid.document.tune;
        laid.fingerings = HBK_ARENA_ARRAY(
            &laid.arena, struct hbk_part_fingering, tune->n_events);
        for (size_t i = 0; i < tune->n_events; i++) {
            laid.fingerings[i] = (struct hbk_part_fingering){
                .label = "1-2-3", .press = 7, .shown = true};
        }
        lay_part(&laid, NULL, NULL, &ruler);
        check_no_clash(&laid.sheet, &ruler);
        const char *row = strstr(said(&laid), "C4 1-2-3 D4 1-2-3 ");
        const char *stack = strstr(said(&laid), "C4 1 2 3 D4 1 2 3 ");
        const char *told = strstr(said(&laid), "one above the other");
        assert_true(dense ? row == NULL && stack != NULL && told != NULL
                          : row != NULL && stack == NULL && told == NULL);
        close_laid(&laid);
    }
}

/* Read from a stand: 10 points on any paper, and the legend 8.5. */
static void fingerings_are_large_enough(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nK:C\nC{DE}D E F");
    finger(&laid);
    const struct hbk_ruler ruler = fixed_ruler();
    for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
        const struct hbk_part_options options = {.paper =
                                                     (enum hbk_paper)paper};
        lay_part(&laid, &options, NULL, &ruler);
        size_t figures = 0;
        size_t legends = 0;
        for (size_t i = 0; i < laid.sheet.pages[0].n; i++) {
            const struct hbk_mark *mark = &laid.sheet.pages[0].marks[i];
            const bool is_text = mark->kind == HBK_TEXT;
            if (is_text && mark->face == HBK_FACE_FIGURE) {
                figures++;
                assert_true(mark->size >= HBK_PT(10.0) - 1e-9);
            } else if (is_text && strstr(mark->text, "Underlined") != NULL) {
                legends++;
                assert_true(mark->size >= HBK_PT(8.5) - 1e-9);
            }
        }
        assert_true(figures >= laid.document.tune.n_events);
        assert_int_equal(legends, 1);
    }
    close_laid(&laid);
}

static void circles_are_filled_where_pressed(void **state)
{
    (void)state;
    struct solved cornet;
    solved_read(&cornet, "cornet-b-flat");
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nK:C\nC D E z");
    const struct hbk_ruler ruler = fixed_ruler();
    struct hbk_part_fingering fingerings[4] = {
        {.label = "0", .press = 0, .shown = true},
        {.label = "1-3", .press = 5, .shown = true},
        {.label = "1-2", .press = 3, .shown = true},
        {.label = NULL}};
    laid.fingerings = fingerings;
    const struct hbk_part_options options = {.circles = true};
    lay_part(&laid, &options, &cornet.horn, &ruler);
    /* Four under the notes; a white one behind each number of the map. */
    assert_int_equal(count_marks(&laid, HBK_DISC), 7);
    /* Five under the notes, three with their numbers in the map. */
    assert_int_equal(count_marks(&laid, HBK_RING), 8);
    assert_non_null(strstr(said(&laid), " R index middle ring 1 2 3 Circles"));
    assert_non_null(strstr(said(&laid), "D4 1-3 E4 1-2 "));
    assert_non_null(strstr(said(&laid), "a row for each finger of the right "
                                        "hand. Black: the finger presses"));
    const struct hbk_part_options small = {.circles = true, .paper = HBK_A6};
    lay_part(&laid, &small, &cornet.horn, &ruler);
    for (size_t i = 0; i < laid.sheet.pages[0].n; i++) {
        const struct hbk_mark *mark = &laid.sheet.pages[0].marks[i];
        assert_true(mark->kind != HBK_DISC || mark->ink != HBK_BLACK ||
                    mark->dx >= 1.5 - 1e-9);
        assert_true(mark->kind != HBK_RING || mark->dx >= 0.6 - 1e-9);
    }
    close_laid(&laid);
    solved_close(&cornet);
}

/* How many heads a sheet has. */
static size_t heads(const struct laid *laid)
{
    size_t n = 0;
    for (size_t p = 0; p < laid->sheet.n_pages; p++) {
        const struct hbk_page *page = &laid->sheet.pages[p];
        for (size_t i = 0; i < page->n; i++) {
            const uint32_t glyph = page->marks[i].glyph;
            n += glyph == HBK_GLYPH_BLACK_HEAD ||
                         glyph == HBK_GLYPH_OPEN_HEAD ||
                         glyph == HBK_GLYPH_WHOLE_HEAD
                     ? 1
                     : 0;
        }
    }
    return n;
}

static void a_range_of_bars_is_drawn_alone(void **state)
{
    (void)state;
    struct laid laid;
    read_tune(&laid, "tests/data/tunes.abc", "3");
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_part_options options = {
        .first_bar = 8, .n_bars = 2, .title = "Two bars"};
    lay_part(&laid, &options, NULL, &ruler);
    assert_int_equal(heads(&laid), 6); /* dddd | A2A2 */
    assert_string_equal(laid.sheet.title, "Two bars");
    assert_non_null(strstr(said(&laid), "9 ")); /* the number of the bar */
    close_laid(&laid);
}

static void a_wide_bar_is_broken_between_its_beats(void **state)
{
    (void)state;
    struct laid laid;
    struct hbk_arena arena = {NULL};
    struct hbk_text music = {.arena = &arena};
    hbk_text_add(&music, "M:none\nL:1/16\nK:C\n");
    for (int i = 0; i < 60; i++) {
        hbk_text_add(&music, "c^d_e=f ");
    }
    read_text(&laid, hbk_text_string(&music));
    finger(&laid);
    const struct hbk_ruler ruler = fixed_ruler();
    for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
        const struct hbk_part_options options = {.paper =
                                                     (enum hbk_paper)paper};
        lay_part(&laid, &options, NULL, &ruler);
        assert_int_equal(heads(&laid), 240);
        check_no_clash(&laid.sheet, &ruler);
    }
    hbk_arena_finish(&arena);
    close_laid(&laid);
}

/* Sixty-four notes under one beam, on the smallest paper. */
static void a_beam_too_wide_for_a_line_is_parted(void **state)
{
    (void)state;
    struct laid laid;
    struct hbk_arena arena = {NULL};
    struct hbk_text music = {.arena = &arena};
    hbk_text_add(&music, "M:8/4\nL:1/32\nK:Cb\n");
    for (int i = 0; i < 16; i++) {
        hbk_text_add(&music, i % 2 == 0 ? "c=de=f" : "g=a=b=c'");
    }
    read_text(&laid, hbk_text_string(&music));
    finger(&laid);
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_part_options options = {.paper = HBK_A6};
    lay_part(&laid, &options, NULL, &ruler);
    assert_int_equal(heads(&laid), 64);
    check_no_clash(&laid.sheet, &ruler);
    hbk_arena_finish(&arena);
    close_laid(&laid);
}

/* Slurs and ties of an excerpt come from before it and lead out of it. */
static void an_excerpt_keeps_the_slurs_that_cross_its_ends(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nK:C\n(CDEF | GAB) c- | c (d e f | g4)");
    const struct hbk_ruler ruler = fixed_ruler();
    static const size_t slurs[] = {1, 2, 2, 1};
    for (size_t bar = 0; bar < 4; bar++) {
        const struct hbk_part_options options = {.first_bar = bar, .n_bars = 1};
        lay_part(&laid, &options, NULL, &ruler);
        assert_int_equal(count_marks(&laid, HBK_CURVE), slurs[bar]);
        check_no_clash(&laid.sheet, &ruler);
    }
    close_laid(&laid);
}

static void a_long_part_turns_its_pages(void **state)
{
    (void)state;
    struct laid laid;
    struct hbk_arena arena = {NULL};
    struct hbk_text music = {.arena = &arena};
    hbk_text_add(&music, "M:2/4\nL:1/8\nK:Eb\n");
    for (int i = 0; i < 300; i++) {
        hbk_text_add(&music, i % 3 == 0 ? "c=BAG | " : "(e>d) c2 | ");
    }
    read_text(&laid, hbk_text_string(&music));
    finger(&laid);
    const struct hbk_ruler ruler = fixed_ruler();
    lay_part(&laid, NULL, NULL, &ruler);
    assert_int_equal(heads(&laid), 1000);
    assert_in_range(laid.sheet.n_pages, 3, 12);
    for (size_t p = 1; p < laid.sheet.n_pages; p++) {
        assert_string_equal(laid.sheet.pages[p].label,
                            hbk_arena_printf(&arena, "Test, page %zu", p + 1));
    }
    assert_non_null(
        strstr(said(&laid), hbk_arena_printf(&arena, "page 1 of %zu Test ",
                                             laid.sheet.n_pages)));
    assert_non_null(
        strstr(said(&laid), hbk_arena_printf(&arena, "page 2 of %zu Test ",
                                             laid.sheet.n_pages)));
    hbk_arena_finish(&arena);
    close_laid(&laid);
}

/* The first or the last rest of several bars of a page; NULL for a page
 * without. */
static const struct hbk_mark *rest_of(const struct hbk_page *page, bool last)
{
    const struct hbk_mark *found = NULL;
    for (size_t i = 0; i < page->n && (last || found == NULL); i++) {
        const char *reads = page->marks[i].reads;
        if (reads != NULL && strstr(reads, "bars rest") != NULL) {
            found = &page->marks[i];
        }
    }
    return found;
}

/* The highest or lowest clef of a page. */
static double clef_of(const struct hbk_page *page, bool lowest)
{
    double y = NAN;
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *mark = &page->marks[i];
        if (mark->glyph == HBK_GLYPH_G_CLEF) {
            y = isnan(y) || lowest ? mark->y : y;
        }
    }
    return y;
}

/* A page ends where the player rests, if one of its last lines lets him. */
static void pages_are_turned_in_a_rest(void **state)
{
    (void)state;
    size_t turned = 0;
    for (int every = 9; every < 16; every++) {
        struct laid laid;
        struct hbk_arena arena = {0};
        struct hbk_text music = {.arena = &arena};
        hbk_text_add(&music, "M:2/4\nL:1/8\nK:Eb\n");
        for (int i = 0; i < 150; i++) {
            hbk_text_add(&music, i % every == every - 1 ? "Z8|" : "cBAG|");
        }
        read_text(&laid, hbk_text_string(&music));
        finger(&laid);
        const struct hbk_ruler ruler = fixed_ruler();
        lay_part(&laid, NULL, NULL, &ruler);
        check_no_clash(&laid.sheet, &ruler);
        assert_true(laid.sheet.n_pages > 1);
        for (size_t p = 0; p + 1 < laid.sheet.n_pages; p++) {
            const struct hbk_page *page = &laid.sheet.pages[p];
            const struct hbk_mark *last = rest_of(page, true);
            const struct hbk_mark *first = rest_of(page + 1, false);
            /* The number stands above the line that its clef is on. */
            const bool ends = last != NULL &&
                              fabs(last->y - clef_of(page, true)) < 12.0 &&
                              last->x > 160.0;
            const bool begins =
                first != NULL &&
                fabs(first->y - clef_of(page + 1, false)) < 12.0 &&
                first->x < 60.0;
            turned += ends || begins ? 1 : 0;
        }
        hbk_arena_finish(&arena);
        close_laid(&laid);
    }
    assert_true(turned >= 10);
}

/* A tie or slur that crosses from line to line is drawn on both. */
static void bows_go_on_to_the_next_line(void **state)
{
    (void)state;
    struct laid laid;
    struct hbk_arena arena = {NULL};
    struct hbk_text music = {.arena = &arena};
    hbk_text_add(&music, "M:4/4\nL:1/1\nK:C\n(B");
    for (int i = 0; i < 30; i++) {
        hbk_text_add(&music, " | c");
    }
    hbk_text_add(&music, ")");
    read_text(&laid, hbk_text_string(&music));
    const struct hbk_ruler ruler = fixed_ruler();
    lay_part(&laid, NULL, NULL, &ruler);
    size_t clefs = 0;
    for (size_t i = 0; i < laid.sheet.pages[0].n; i++) {
        clefs += laid.sheet.pages[0].marks[i].glyph == HBK_GLYPH_G_CLEF;
    }
    assert_true(clefs > 1);
    assert_int_equal(count_marks(&laid, HBK_CURVE), clefs);
    hbk_arena_finish(&arena);
    close_laid(&laid);
}

static void questions_without_sense_are_refused(void **state)
{
    (void)state;
    struct laid laid;
    read_tune(&laid, "tests/data/tunes.abc", "1");
    const struct hbk_ruler ruler = fixed_ruler();
    static const struct hbk_part_options cases[] = {{.first_bar = 7},
                                                    {.circles = true},
                                                    {.staff_mm = 3.0},
                                                    {.staff_mm = 20.0}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        assert_int_equal(hbk_sheet_part(&laid.document.tune, NULL, NULL,
                                        &cases[i], NULL, &ruler, &laid.sheet),
                         HBK_ERR_DOMAIN);
        assert_int_equal(laid.sheet.n_pages, 0);
    }
    close_laid(&laid);
}

/* In the real faces: nothing missing, nothing overlapping. */
static void the_faces_have_every_sign(void **state)
{
    (void)state;
    struct laid laid;
    read_tune(&laid, "tests/data/torture.abc", NULL);
    finger(&laid);
    struct hbk_fonts *fonts = NULL;
    struct hbk_faults faults = {0};
    assert_int_equal(hbk_fonts_open(&laid.arena, &fonts, &faults), HBK_OK);
    const struct hbk_ruler ruler = hbk_fonts_ruler(fonts);
    lay_part(&laid, NULL, NULL, &ruler);
    check_no_clash(&laid.sheet, &ruler);
    for (size_t p = 0; p < laid.sheet.n_pages; p++) {
        const struct hbk_page *page = &laid.sheet.pages[p];
        for (size_t i = 0; i < page->n; i++) {
            if (page->marks[i].kind == HBK_GLYPH) {
                assert_true(
                    hbk_fonts_music_index(fonts, page->marks[i].glyph) != 0);
            }
        }
    }
    char *bytes = NULL;
    size_t length = 0;
    for (int format = HBK_PDF; format <= HBK_PNG; format++) {
        const struct hbk_render_job job = {&laid.sheet, (enum hbk_format)format,
                                           0, 60.0};
        assert_int_equal(
            hbk_render(fonts, &job, &laid.arena, &bytes, &length, &faults),
            HBK_OK);
        assert_int_equal(faults.count, 0);
        assert_true(length > 1000);
    }
    hbk_fonts_close(fonts);
    close_laid(&laid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(stems_have_their_length),
        cmocka_unit_test(nothing_overlaps_in_the_melodies),
        cmocka_unit_test(nothing_overlaps_where_everything_comes_at_once),
        cmocka_unit_test(whatever_can_be_read_can_be_engraved),
        cmocka_unit_test(a_note_is_read_out_with_its_fingering),
        cmocka_unit_test(numbers_are_stacked_where_notes_are_dense),
        cmocka_unit_test(fingerings_are_large_enough),
        cmocka_unit_test(circles_are_filled_where_pressed),
        cmocka_unit_test(a_range_of_bars_is_drawn_alone),
        cmocka_unit_test(a_wide_bar_is_broken_between_its_beats),
        cmocka_unit_test(a_beam_too_wide_for_a_line_is_parted),
        cmocka_unit_test(an_excerpt_keeps_the_slurs_that_cross_its_ends),
        cmocka_unit_test(a_long_part_turns_its_pages),
        cmocka_unit_test(pages_are_turned_in_a_rest),
        cmocka_unit_test(bows_go_on_to_the_next_line),
        cmocka_unit_test(questions_without_sense_are_refused),
        cmocka_unit_test(the_faces_have_every_sign),
    };
    return cmocka_run_group_tests_name("part", tests, NULL, NULL);
}
