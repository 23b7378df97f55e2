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
#include "horn/stuck_list.h"
#include "page/impose.h"

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

static void check_clean(struct solved *solved, const struct hbk_primer *primer,
                        struct hbk_primer_options options)
{
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_sheet sheet = lay(solved, primer, &options);
    check_no_clash(&sheet, &ruler);
    check_letters(&sheet);
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
        if (IS_SANITIZED && i % 8 != 0) {
            hbk_primer_finish(&made);
            solved_close(&solved);
            continue;
        }
        check_clean(&solved, &made.primer,
                    (struct hbk_primer_options){.paper = HBK_A5});
        check_clean(
            &solved, &made.primer,
            (struct hbk_primer_options){.paper = HBK_LETTER,
                                        .whom = "Ada Fenwick, Larkmoor Band"});
        check_clean(
            &solved, &made.primer,
            (struct hbk_primer_options){.paper = HBK_A4, .large = true});
        hbk_primer_finish(&made);
        solved_close(&solved);
    }
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(primers_of_shipped_horns_are_clean),
    };
    return cmocka_run_group_tests_name("primer", tests, NULL, NULL);
}
