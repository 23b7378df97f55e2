#ifndef HBK_TESTS_SHEETS_H
#define HBK_TESTS_SHEETS_H

#include "support/check.h"

#include "base/text.h"
#include "sheet/chart.h"
#include "sheet/collide.h"

#include <string.h>

/* All words of a sheet in their order, one space between them. */
static inline const char *sheet_words(const struct hbk_sheet *sheet)
{
    struct hbk_text text = {.arena = sheet->arena};
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *page = &sheet->pages[p];
        for (size_t i = 0; i < page->n; i++) {
            if (page->marks[i].kind != HBK_TEXT) {
                continue;
            }
            for (const char *at = page->marks[i].text; *at != '\0';) {
                const size_t length = strcspn(at, " ");
                hbk_text_put(&text, at, length);
                hbk_text_add(&text, " ");
                at += length;
                at += strspn(at, " ");
            }
        }
    }
    return hbk_text_string(&text);
}

static inline void check_sheet_says(const struct hbk_sheet *sheet,
                                    const char *wanted)
{
    const char *words = sheet_words(sheet);
    if (strstr(words, wanted) == NULL) {
        print_error("\"%s\" is not in: %s\n", wanted, words);
        fail();
    }
}

static inline void check_no_clash(const struct hbk_sheet *sheet,
                                  const struct hbk_ruler *ruler)
{
    struct hbk_clashes clashes;
    hbk_sheet_clashes(sheet, ruler, &clashes);
    struct hbk_text told = {.arena = sheet->arena};
    hbk_clashes_print(sheet, &clashes, &told);
    if (clashes.found > 0) {
        print_error("%s on %.0f x %.0f mm:\n", sheet->title,
                    sheet->pages[0].width, sheet->pages[0].height);
    }
    assert_string_equal(hbk_text_string(&told), "");
}

#endif
