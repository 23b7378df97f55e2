/* The plot of impedance: on the page, nothing over anything, all of it there.
 */
#include "solve/setting.h"
#include "support/check.h"
#include "support/ruler.h"
#include "support/sheets.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "reader/horn_file.h"
#include "sheet/article/curve_sheet.h"
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
    assert_int_equal(s->sheet.n_pages, 1);
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

static void check_page(const struct drawn *s)
{
    const struct hbk_page *const page = &s->sheet.pages[0];
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
                check_page(&s);
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
    /* Named at its end and in the table. */
    assert_int_equal(count_text(page, HBK_FACE_BOLD, "1-2-3"), 2);
    assert_int_equal(count_text(page, HBK_FACE_BOLD, "0"), 2);
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
        const double x = frame->x + frame->dx * curve->maxima[k].hz / 1400.0;
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
        (void)snprintf(hz, sizeof(hz), "%.1f", curve->maxima[k].hz);
        assert_int_equal(count_text(page, HBK_FACE_BOLD, number), 2);
        assert_int_equal(count_text(page, HBK_FACE_PLAIN, hz), 1);
    }
    /* Written C5 sounds 466.16 Hz: B flat 4 of ISO 16. */
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *const m = &page->marks[i];
        if (m->kind == HBK_TEXT && strcmp(m->text, "C5") == 0) {
            check_abs((m->x - frame->x) / frame->dx * 1400.0, 466.16, 0.01);
        }
    }
    assert_int_equal(count_text(page, HBK_FACE_PLAIN, "C5"), 1);
    put_away(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(no_text_meets_another_on_any_paper),
        cmocka_unit_test(every_curve_has_its_own_kind_of_line),
        cmocka_unit_test(the_tip_of_each_maximum_is_drawn_and_numbered),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
