/*
 * Ladders of partials over their curve: on the page, nothing over anything, all
 * of it there, and every mark where its cents say.
 */
#include "solve/setting.h"
#include "support/check.h"
#include "support/ruler.h"
#include "support/sheets.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "notes/series.h"
#include "reader/horn_file.h"
#include "sheet/article/curve_sheet.h"
#include "sheet/block/ladder.h"
#include "solve/curve.h"
#include "solve/solve.h"
#include "support/dump.h"

#include <stdio.h>
#include <string.h>

#define CORNET "tests/data/good/cornet-by-bore.yaml"

struct drawn {
    struct hbk_horn horn;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_curves curves;
    struct hbk_sheet sheet;
};

static void draw(struct drawn *s, size_t n, enum hbk_paper paper, double to_hz)
{
    static const uint32_t presses[] = {0, 1, 5, 7, 2, 6};
    *s = (struct drawn){0};
    s->sheet.arena = &s->arena;
    assert_int_equal(hbk_horn_read(CORNET, &s->horn, &s->faults), HBK_OK);
    const struct hbk_setting setting = hbk_setting_of(&s->horn);
    const struct hbk_curve_ask ask = {
        .n = n, .presses = presses, .to_hz = to_hz, .n_points = 500};
    assert_int_equal(hbk_curves_compute(&s->horn, &setting, &ask, &s->arena,
                                        &s->curves, &s->faults),
                     HBK_OK);
    const struct hbk_sheet_options options = {.paper = paper};
    const struct hbk_ruler ruler = fixed_ruler();
    hbk_sheet_curves(&s->curves, &options, &ruler, &s->sheet);
    /* Small papers are too narrow for all ladders beside each other. */
    const size_t least = paper == HBK_A6 ? 3 : paper == HBK_A5 ? 5 : 6;
    assert_true(s->sheet.n_pages >= 1);
    assert_true(s->sheet.n_pages == 1 || n >= least);
}

static void put_away(struct drawn *s)
{
    hbk_arena_finish(&s->arena);
    hbk_horn_finish(&s->horn);
}

struct box {
    double left, top, right, bottom;
};

/* The ink of a line of text, by the same ruler. */
static struct box text_box(const struct hbk_mark *m)
{
    const double width = fixed_text_width(NULL, m->face, m->size, m->text);
    static const double shares[] = {0.0, 0.5, 1.0};
    const double left = m->x - shares[m->align] * width;
    return (struct box){left, m->y - 0.73 * m->size, left + width, m->y};
}

static struct box mark_box(const struct hbk_mark *m)
{
    if (m->kind == HBK_TEXT) {
        return text_box(m);
    }
    struct box box = {fmin(m->x, m->x + m->dx), fmin(m->y, m->y + m->dy),
                      fmax(m->x, m->x + m->dx), fmax(m->y, m->y + m->dy)};
    for (size_t i = 0; i < m->n_points; i++) {
        const struct hbk_point p = m->points[i];
        box.left = i == 0 ? p.x : fmin(box.left, p.x);
        box.right = i == 0 ? p.x : fmax(box.right, p.x);
        box.top = i == 0 ? p.y : fmin(box.top, p.y);
        box.bottom = i == 0 ? p.y : fmax(box.bottom, p.y);
    }
    return box;
}

static void check_page(const struct hbk_page *page)
{
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *const m = &page->marks[i];
        if (m->kind == HBK_OPEN || m->kind == HBK_CLOSE) {
            continue;
        }
        const struct box a = mark_box(m);
        if (a.left < page->margin - 0.01 || a.top < page->margin - 0.01 ||
            a.right > page->width - page->margin + 0.01 ||
            a.bottom > page->height - page->margin + 0.01) {
            print_error("mark %zu %s beyond the margin\n", i,
                        m->text == NULL ? "" : m->text);
            fail();
        }
        for (size_t k = 0; k < i && m->kind == HBK_TEXT; k++) {
            if (page->marks[k].kind != HBK_TEXT) {
                continue;
            }
            const struct box b = text_box(&page->marks[k]);
            if (a.left < b.right && b.left < a.right && a.top < b.bottom &&
                b.top < a.bottom) {
                print_error("'%s' over '%s'\n", m->text, page->marks[k].text);
                fail();
            }
        }
    }
}

/* The title, the plot, the table and the words keep clear of each other. */
static void check_parts(const struct drawn *s)
{
    const struct hbk_ruler ruler = fixed_ruler();
    check_no_clash(&s->sheet, &ruler);
    check_sizes(&s->sheet, 7.5);
}

static void no_text_meets_another_on_any_paper(void **state)
{
    (void)state;
    static const size_t counts[] = {1, 2, 4, 6};
    static const double ends[] = {430.0, 1400.0, 3700.0};
    for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
        for (size_t i = 0; i < 4; i++) {
            for (size_t k = 0; k < 3; k++) {
                struct drawn s;
                draw(&s, counts[i], (enum hbk_paper)paper, ends[k]);
                for (size_t p = 0; p < s.sheet.n_pages; p++) {
                    check_page(&s.sheet.pages[p]);
                }
                check_parts(&s);
                put_away(&s);
            }
        }
    }
}

static size_t count_text(const struct hbk_page *page, enum hbk_face face,
                         const char *text)
{
    size_t n = 0;
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *const m = &page->marks[i];
        n += m->kind == HBK_TEXT && m->face == face &&
             strcmp(m->text, text) == 0;
    }
    return n;
}

static void every_curve_has_its_own_kind_of_line(void **state)
{
    (void)state;
    struct drawn s;
    draw(&s, HBK_CURVES_MAX, HBK_A4, 1400.0);
    const struct hbk_page *const page = &s.sheet.pages[0];
    const struct hbk_mark *paths[HBK_CURVES_MAX];
    size_t n = 0;
    for (size_t i = 0; i < page->n; i++) {
        if (page->marks[i].kind == HBK_PATH) {
            assert_true(n < HBK_CURVES_MAX);
            paths[n++] = &page->marks[i];
            assert_true(page->marks[i].n_points > 450);
            assert_int_equal(page->marks[i].ink, HBK_BLACK);
        }
    }
    assert_int_equal(n, HBK_CURVES_MAX);
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < i; k++) {
            assert_true(memcmp(paths[i]->dash, paths[k]->dash,
                               sizeof(paths[i]->dash)) ||
                        fabs(paths[i]->pen - paths[k]->pen) > 0.3);
        }
    }
    /* Named at its end and over its ladder. */
    assert_int_equal(count_text(page, HBK_FACE_BOLD, "1-2-3"), 1);
    assert_int_equal(count_text(page, HBK_FACE_FIGURE, "1-2-3"), 1);
    assert_int_equal(count_text(page, HBK_FACE_BOLD, "0"), 1);
    assert_int_equal(count_text(page, HBK_FACE_FIGURE, "0"), 1);
    struct hbk_text dump = {.arena = &s.arena};
    hbk_sheet_dump(&s.sheet, &dump);
    assert_non_null(strstr(hbk_text_string(&dump), "pen 0.30 dash 2.20,1.10"));
    put_away(&s);
}

static void the_tip_of_each_maximum_is_drawn_and_numbered(void **state)
{
    (void)state;
    struct drawn s;
    draw(&s, 1, HBK_A4, 1400.0);
    const struct hbk_page *const page = &s.sheet.pages[0];
    const struct hbk_curve *const curve = &s.curves.curves[0];
    const struct hbk_mark *path = NULL;
    const struct hbk_mark *frame = NULL;
    for (size_t i = 0; i < page->n; i++) {
        path = page->marks[i].kind == HBK_PATH ? &page->marks[i] : path;
        frame = page->marks[i].kind == HBK_FRAME ? &page->marks[i] : frame;
    }
    assert_non_null(path);
    assert_non_null(frame);
    for (size_t k = 0; k < curve->n_maxima; k++) {
        const double x = frame->x + frame->dx * curve->maxima[k].at.hz / 1400.0;
        bool found = false;
        for (size_t i = 1; i + 1 < path->n_points; i++) {
            found = found || (fabs(path->points[i].x - x) < 1e-6 &&
                              path->points[i].y <= path->points[i - 1].y &&
                              path->points[i].y <= path->points[i + 1].y);
        }
        assert_true(found);
        char number[16];
        char hz[32];
        (void)snprintf(number, sizeof(number), "%u", curve->maxima[k].partial);
        assert_int_equal(count_text(page, HBK_FACE_BOLD, number), 1);
        /* What is heard and what the tube has, which may read the same. */
        const double told[] = {curve->maxima[k].at.hz,
                               curve->maxima[k].heard.hz};
        char other[32];
        (void)snprintf(hz, sizeof(hz), "%.1f Hz", told[0]);
        (void)snprintf(other, sizeof(other), "%.1f Hz", told[1]);
        const size_t times = strcmp(hz, other) == 0 ? 2 : 1;
        assert_int_equal(count_text(page, HBK_FACE_PLAIN, hz), times);
        assert_int_equal(count_text(page, HBK_FACE_PLAIN, other), times);
    }
    put_away(&s);
}

/* The tint of a ladder, of 20 cents about its middle line. */
static const struct hbk_mark *tint_of(const struct hbk_page *page, size_t nth)
{
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *const m = &page->marks[i];
        if (m->kind == HBK_PANEL && m->ink == HBK_TINT && nth-- == 0) {
            return m;
        }
    }
    return NULL;
}

/* The marks of a ladder from its foot: shapes of three or four corners. */
static size_t marks_of(const struct hbk_page *page, size_t nth,
                       const struct hbk_mark *marks[])
{
    size_t tints = 0;
    size_t n = 0;
    for (size_t i = page->n; i-- > 0;) {
        const struct hbk_mark *const m = &page->marks[i];
        tints += m->kind == HBK_PANEL && m->ink == HBK_TINT ? 1 : 0;
        if (m->kind == HBK_SHAPE && m->n_points <= 4 && tints == nth) {
            marks[n++] = m;
        }
    }
    return n;
}

static double mark_height(const struct hbk_mark *m)
{
    const struct box box = mark_box(m);
    return box.bottom - box.top;
}

static void check_ladder(const struct drawn *s, size_t i)
{
    const struct hbk_page *const page = &s->sheet.pages[0];
    const struct hbk_curve *const curve = &s->curves.curves[i];
    const struct hbk_series series = hbk_series_of(curve);
    const struct hbk_mark *const tint = tint_of(page, i);
    const struct hbk_mark *marks[64];
    const size_t n = marks_of(page, s->curves.n - 1 - i, marks);
    assert_non_null(tint);
    const double middle = tint->x + 0.5 * tint->dx;
    const double a_cent = tint->dx / (2.0 * HBK_LADDER_TRUE_CENTS);
    size_t at = 0;
    double before = INFINITY;
    for (unsigned p = 1; p <= 30; p++) {
        const struct hbk_curve_maximum *const m = hbk_curve_partial(curve, p);
        if (m == NULL) {
            continue;
        }
        assert_true(at < n);
        const struct box box = mark_box(marks[at]);
        const double cents = hbk_series_cents(&series, m);
        if (fabs(cents) <= HBK_LADDER_CENTS) {
            assert_int_equal(marks[at]->n_points, 4);
            check_abs(0.5 * (box.left + box.right) - middle, a_cent * cents,
                      1e-6);
        } else {
            assert_int_equal(marks[at]->n_points, 3);
            check_abs(cents > 0.0 ? box.right - middle : middle - box.left,
                      a_cent * HBK_LADDER_CENTS, 1e-6);
        }
        assert_true(box.bottom < before);
        before = 0.5 * (box.top + box.bottom);
        at++;
    }
    assert_int_equal(at, n);
}

static void a_mark_stands_where_its_cents_say(void **state)
{
    (void)state;
    struct drawn s;
    draw(&s, HBK_CURVES_MAX, HBK_A4, 1400.0);
    for (size_t i = 0; i < s.curves.n; i++) {
        check_ladder(&s, i);
    }
    put_away(&s);
}

static void a_surer_note_has_a_larger_mark(void **state)
{
    (void)state;
    struct drawn s;
    draw(&s, 1, HBK_A4, 1400.0);
    const struct hbk_curve *const curve = &s.curves.curves[0];
    const struct hbk_mark *marks[64];
    (void)marks_of(&s.sheet.pages[0], 0, marks);
    size_t compared = 0;
    for (unsigned p = 2; hbk_curve_partial(curve, p) != NULL; p++) {
        const double more = hbk_curve_partial(curve, p)->response_db -
                            hbk_curve_partial(curve, p - 1)->response_db;
        const double taller =
            mark_height(marks[p - 1]) - mark_height(marks[p - 2]);
        assert_true(more * taller >= 0.0);
        compared += more * taller > 0.0 ? 1 : 0;
    }
    assert_true(compared >= 5);
    put_away(&s);
}

/* An open tube is played for C, G, C, E, G, B flat, C. */
static void rungs_bear_the_notes_they_are_played_for(void **state)
{
    (void)state;
    struct drawn s;
    draw(&s, 1, HBK_A4, 1400.0);
    const struct hbk_series series = hbk_series_of(&s.curves.curves[0]);
    static const int call[] = {48, 60, 67, 72, 76, 79, 82, 84};
    for (unsigned p = 1; p <= 8; p++) {
        assert_int_equal(hbk_series_note(&series, p), call[p - 1]);
    }
    check_sheet_says(&s.sheet, "8 C 6 ");
    check_sheet_says(&s.sheet, "7 B\u266D 5 ");
    check_sheet_says(&s.sheet, "2 C 4 ");
    put_away(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_text_meets_another_on_any_paper),
        cmocka_unit_test(every_curve_has_its_own_kind_of_line),
        cmocka_unit_test(the_tip_of_each_maximum_is_drawn_and_numbered),
        cmocka_unit_test(a_mark_stands_where_its_cents_say),
        cmocka_unit_test(a_surer_note_has_a_larger_mark),
        cmocka_unit_test(rungs_bear_the_notes_they_are_played_for),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
