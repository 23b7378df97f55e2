#ifndef HBK_TESTS_HORN_FILES_H
#define HBK_TESTS_HORN_FILES_H

#include "support/check.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "reader/horn_file.h"

#include <stdio.h>
#include <string.h>

/* Reads tests/data/good/NAME.yaml, which has no fault; one at a time. */
static inline void read_good(const char *name, struct hbk_horn *horn)
{
    static char path[256]; /* outlives the horn, as the header asks */
    struct hbk_faults faults = {0};
    (void)snprintf(path, sizeof(path), "tests/data/good/%s.yaml", name);
    if (hbk_horn_read(path, horn, &faults) != HBK_OK) {
        char line[1024];
        hbk_fault_format(&faults.items[0], line, sizeof(line));
        fail_msg("%s", line);
    }
    assert_int_equal(faults.count, 0);
    assert_string_equal(horn->id, name);
}

/* Reads a text; `faults` holds what was said of it and nothing else. */
static inline enum hbk_status read_text(const char *text, struct hbk_horn *horn,
                                        struct hbk_faults *faults)
{
    memset(faults, 0, sizeof(*faults));
    return hbk_horn_read_text("t.yaml", text, strlen(text), horn, faults);
}

#endif
