/* The sheet of a fit: on the page, nothing over anything, all of it there. */
#include "support/fitting.h"
#include "support/ruler.h"
#include "support/sheets.h"

#include "base/text.h"
#include "sheet/article/fit_sheet.h"

/* Twelve readings, one of them wild, one far off, again and again. */
static void make(struct fitting *f, size_t n, struct hbk_arena *arena,
                 struct hbk_fit *fit)
{
    struct rng rng = {.state = 3};
    struct hbk_faults faults = {0};
    fitting_open(f, "cornet-b-flat");
    fitting_ask(f, "C4=0 G4=0 C5=0 E5=0 G5=0 C6=0 F4=1 D5=1 B4=2 G#4=2-3 "
                   "D4=1-3 F#3=1-2-3");
    fitting_build(f, &rng);
    fitting_read(f, 12, 3.0, &rng);
    f->items[4].cents += 100.0;
    f->items[7].note -= 12;
    for (size_t i = 12; i < n; i++) {
        f->items[i] = f->items[i % 12];
    }
    f->readings.n = n;
    assert_int_equal(
        hbk_fit_horn(&f->base.horn, &f->readings, arena, fit, &faults), HBK_OK);
}

static size_t count_texts(const struct hbk_sheet *sheet, const char *text)
{
    size_t n = 0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const m = &sheet->pages[p].marks[i];
            n += m->kind == HBK_TEXT && strcmp(m->text, text) == 0 ? 1 : 0;
        }
    }
    return n;
}

/* Pairs of lines, one falling and one rising, over the same square. */
static size_t count_crosses(const struct hbk_sheet *sheet)
{
    size_t n = 0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *const page = &sheet->pages[p];
        for (size_t i = 0; i + 1 < page->n; i++) {
            const struct hbk_mark *const a = &page->marks[i];
            const struct hbk_mark *const b = &page->marks[i + 1];
            n += a->kind == HBK_LINE && b->kind == HBK_LINE && a->dx > 0.0 &&
                         fabs(a->dx - a->dy) < 1e-9 &&
                         fabs(b->dx - a->dx) < 1e-9 &&
                         fabs(b->dy + a->dy) < 1e-9 &&
                         fabs(b->x - a->x) < 1e-9 &&
                         fabs(b->y - a->y - a->dy) < 1e-9
                     ? 1
                     : 0;
        }
    }
    return n;
}

static void check_sheet(const struct hbk_fit_report *report,
                        enum hbk_paper paper)
{
    struct hbk_arena arena = {0};
    struct hbk_sheet sheet = {.arena = &arena};
    const struct hbk_sheet_options options = {.paper = paper};
    const struct hbk_ruler ruler = fixed_ruler();
    hbk_sheet_fit(report, &options, &ruler, &sheet);
    check_no_clash(&sheet, &ruler);
    /* Every reading has its row. */
    assert_true(count_texts(&sheet, "1-2-3") >= report->n / 12);
    assert_int_equal(
        count_texts(&sheet, "no note of this fingering is near: not used"),
        report->n / 12);
    assert_int_equal(count_texts(&sheet, "What was learned"), 1);
    assert_int_equal(count_texts(&sheet, "Read next, most useful first"),
                     report->n_next > 0 ? 1 : 0);
    hbk_arena_finish(&arena);
}

static void every_paper_holds_the_report(void **state)
{
    (void)state;
    static const size_t counts[] = {12, 60};
    for (size_t c = 0; c < 2; c++) {
        static struct fitting f;
        struct hbk_arena arena = {0};
        struct hbk_fit fit;
        make(&f, counts[c], &arena, &fit);
        /* Five times the same tell enough. */
        assert_int_equal(fit.report.n_next > 0, counts[c] == 12);
        for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
            check_sheet(&fit.report, (enum hbk_paper)paper);
        }
        hbk_arena_finish(&arena);
        fitting_close(&f);
    }
}

static size_t count_arrows(const struct hbk_sheet *sheet)
{
    size_t n = 0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            n += sheet->pages[p].marks[i].kind == HBK_SHAPE ? 1 : 0;
        }
    }
    return n;
}

/*
 * What contradicts the others is marked by a cross, with an arrow beside it
 * where it lies beyond the scale.
 */
static void a_reading_set_aside_is_crossed_out(void **state)
{
    (void)state;
    static struct fitting f;
    struct hbk_arena arena = {0};
    struct hbk_fit fit;
    make(&f, 12, &arena, &fit);
    struct hbk_fit_reading *const items =
        HBK_ARENA_ARRAY(&arena, struct hbk_fit_reading, fit.report.n);
    memcpy(items, fit.report.items, fit.report.n * sizeof(*items));
    fit.report.items = items;
    assert_int_equal(items[4].state, HBK_FIT_SLIPPED);
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_sheet_options options = {.paper = HBK_A4};
    static const size_t arrows[] = {1, 0};
    for (size_t i = 0; i < 2; i++) {
        struct hbk_sheet sheet = {.arena = &arena};
        hbk_sheet_fit(&fit.report, &options, &ruler, &sheet);
        check_no_clash(&sheet, &ruler);
        assert_int_equal(count_crosses(&sheet), 1);
        assert_int_equal(count_arrows(&sheet), arrows[i]);
        /* From a hundred cents off to ten, which is on the scale. */
        items[4].after_cents = items[4].reading->cents - 10.0;
    }
    hbk_arena_finish(&arena);
    fitting_close(&f);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_paper_holds_the_report),
        cmocka_unit_test(a_reading_set_aside_is_crossed_out),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
