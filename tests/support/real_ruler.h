#ifndef HBK_TESTS_REAL_RULER_H
#define HBK_TESTS_REAL_RULER_H

#include "support/check.h"

#include "render/fonts.h"

/*
 * Runs a group of tests with the fonts of the product open; `ruler` measures
 * with them meanwhile. Returns how many failed, 1 without the fonts.
 */
static inline int run_with_fonts(const char *group,
                                 const struct CMUnitTest *tests, size_t n,
                                 struct hbk_ruler *ruler)
{
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    struct hbk_fonts *fonts = NULL;
    int failed = 1;
    if (hbk_fonts_open(&arena, &fonts, &faults) == HBK_OK) {
        *ruler = hbk_fonts_ruler(fonts);
        failed = _cmocka_run_group_tests(group, tests, n, NULL, NULL);
    }
    hbk_fonts_close(fonts);
    hbk_arena_finish(&arena);
    return failed;
}

#endif
