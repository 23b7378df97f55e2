#ifndef HBK_TESTS_GOLDEN_H
#define HBK_TESTS_GOLDEN_H

#include "support/check.h"
#include "support/dump.h"
#include "support/written.h"

#include "base/file.h"

/*
 * A sheet against what was kept of it when somebody looked at it; with
 * `update` it is kept anew.
 */
static inline void check_golden(const struct hbk_sheet *sheet, const char *path,
                                bool update)
{
    struct hbk_text dump = {.arena = sheet->arena};
    hbk_sheet_dump(sheet, &dump);
    struct hbk_faults faults = {0};
    if (update) {
        assert_int_equal(write_one(path, dump.bytes, dump.length, &faults),
                         HBK_OK);
    }
    char *kept = NULL;
    size_t length = 0;
    assert_int_equal(
        hbk_file_read(path, 1u << 20, sheet->arena, &kept, &length, &faults),
        HBK_OK);
    const char *got = hbk_text_string(&dump);
    size_t line = 1;
    for (size_t i = 0; got[i] != '\0' || kept[i] != '\0'; i++) {
        if (got[i] != kept[i]) {
            print_error("%s:%zu differs; look at the sheet, then run this "
                        "test with --update\n",
                        path, line);
            fail();
        }
        line += got[i] == '\n' ? 1 : 0;
    }
}

#endif
