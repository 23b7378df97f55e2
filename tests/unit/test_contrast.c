/* Inks stand out from their grounds; sheets are held to it by sheets.h. */
#include "support/contrast.h"
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"
#include "support/trills.h"

#define TOL_RATIO 0.005

/*
 * W3C, Understanding 1.4.3: #767676 is the lightest grey with 4.5 on white,
 * 4.54; black on white is 21 by the definition.
 */
static void ratios_are_those_of_the_guidelines(void **state)
{
    (void)state;
    check_abs(contrast(0.0, 1.0), 21.0, TOL_RATIO);
    check_abs(contrast(118.0 / 255.0, 1.0), 4.54, TOL_RATIO);
    assert_true(contrast(119.0 / 255.0, 1.0) < CONTRAST_TEXT);
}

static void every_ink_of_text_does_on_every_ground(void **state)
{
    (void)state;
    static const enum hbk_ink text[] = {HBK_BLACK, HBK_GREY};
    static const enum hbk_ink grounds[] = {HBK_WHITE, HBK_TINT};
    for (size_t i = 0; i < 2; i++) {
        for (size_t k = 0; k < 2; k++) {
            assert_true(contrast(hbk_ink_level(text[i]),
                                 hbk_ink_level(grounds[k])) >= CONTRAST_TEXT);
        }
    }
    /* A number on a black dot. */
    assert_true(contrast(hbk_ink_level(HBK_WHITE), hbk_ink_level(HBK_BLACK)) >=
                CONTRAST_TEXT);
    /* And these are told from what one must see. */
    assert_true(contrast(hbk_ink_level(HBK_PALE), 1.0) < CONTRAST_GRAPHIC);
    assert_true(contrast(hbk_ink_level(HBK_TINT), 1.0) < CONTRAST_GRAPHIC);
}

static void every_chart_stands_out(void **state)
{
    (void)state;
    static const char *const horns[] = {"keyed-bugle-c-6", "ophicleide-c-11",
                                        "cornet-b-flat", "bass-e-flat-4",
                                        "keyed-bugle-c-tone-valve"};
    const struct hbk_ruler ruler = fixed_ruler();
    struct solved known;
    solved_open(&known, "cornet-b-flat");
    for (size_t h = 0; h < sizeof(horns) / sizeof(horns[0]); h++) {
        struct solved solved;
        solved_open(&solved, horns[h]);
        for (int k = 0; k < HBK_LAYOUT_COUNT; k++) {
            const enum hbk_layout layout = (enum hbk_layout)k;
            struct hbk_sheet sheet = {.arena = &solved.arena};
            struct hbk_sheet_options options =
                with_trills((struct hbk_sheet_options){0}, layout,
                            &solved.notes, &solved.arena);
            options.beside = hbk_layout_compares(layout) ? &known.notes : NULL;
            assert_int_equal(hbk_sheet_chart(layout, &solved.notes, &options,
                                             &ruler, &sheet),
                             HBK_OK);
            check_contrast(&sheet);
        }
        solved_close(&solved);
    }
    solved_close(&known);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(ratios_are_those_of_the_guidelines),
        cmocka_unit_test(every_ink_of_text_does_on_every_ground),
        cmocka_unit_test(every_chart_stands_out),
    };
    return cmocka_run_group_tests_name("contrast", tests, NULL, NULL);
}
