#ifndef HBK_TESTS_CHARTS_H
#define HBK_TESTS_CHARTS_H

#include "support/ruler.h"
#include "support/solved.h"
#include "support/trills.h"

#include "base/text.h"
#include "sheet/chart/chart.h"

#include <string.h>

/* A shipped horn on a wall chart, laid out with the fixed ruler. */
struct chart {
    struct solved solved;
    struct hbk_sheet sheet;
};

static inline void lay_out_as(struct chart *chart, enum hbk_layout layout,
                              struct hbk_sheet_options options)
{
    const struct hbk_ruler ruler = fixed_ruler();
    chart->sheet = (struct hbk_sheet){.arena = &chart->solved.arena};
    options = with_trills(options, layout, &chart->solved.notes,
                          &chart->solved.arena);
    assert_int_equal(hbk_sheet_chart(layout, &chart->solved.notes, &options,
                                     &ruler, &chart->sheet),
                     HBK_OK);
}

static inline void lay_out(struct chart *chart,
                           struct hbk_sheet_options options)
{
    lay_out_as(chart, HBK_LAYOUT_WALL, options);
}

static inline void open_chart(struct chart *chart, const char *name,
                              struct hbk_sheet_options options)
{
    solved_open(&chart->solved, name);
    lay_out(chart, options);
}

/* All words of a sheet in their order, with spaces between the marks. */
static inline const char *words_of(const struct chart *chart)
{
    struct hbk_text text = {.arena = chart->sheet.arena};
    for (size_t p = 0; p < chart->sheet.n_pages; p++) {
        const struct hbk_page *page = &chart->sheet.pages[p];
        for (size_t i = 0; i < page->n; i++) {
            if (page->marks[i].kind == HBK_TEXT) {
                hbk_text_add(&text, page->marks[i].text);
                hbk_text_add(&text, " ");
            }
        }
    }
    return hbk_text_string(&text);
}

static inline void check_says(const struct chart *chart, const char *wanted)
{
    if (strstr(words_of(chart), wanted) == NULL) {
        print_error("\"%s\" is not in: %s\n", wanted, words_of(chart));
        fail();
    }
}

#endif
