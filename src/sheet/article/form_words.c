#include "sheet/article/form_words.h"

#include <math.h>

static const double words_points = 8.5;
static const double name_points = 7.5;
static const double leading = 1.18; /* of the em */
static const double between = 6.0;  /* columns, mm at unit 1 */

enum { MOST = 16 };

/* Where the second column begins, and the lines of the longer one. */
struct columns {
    double width;
    size_t lines[MOST];
    size_t second; /* the first item of the second column */
    size_t most;
};

static struct hbk_style words_style(const struct hbk_form_words *list)
{
    return hbk_style_of(HBK_FACE_PLAIN, words_points, list->unit, HBK_LEFT);
}

static struct hbk_lines wrapped(const struct hbk_pad *pad,
                                const struct hbk_form_words *list, double width,
                                size_t i)
{
    return hbk_pad_wrap(pad, words_style(list),
                        width - list->name_width * list->unit,
                        list->items[i].words);
}

static struct columns set(const struct hbk_pad *pad,
                          const struct hbk_form_words *list)
{
    struct columns columns = {.width =
                                  0.5 * (list->width - between * list->unit)};
    size_t all = 0;
    for (size_t i = 0; i < list->n; i++) {
        columns.lines[i] = wrapped(pad, list, columns.width, i).n;
        all += columns.lines[i];
    }
    size_t left = 0;
    columns.most = all;
    for (size_t i = 0; i < list->n; i++) {
        left += columns.lines[i];
        const size_t longer = left > all - left ? left : all - left;
        if (longer < columns.most) {
            columns.most = longer;
            columns.second = i + 1;
        }
    }
    return columns;
}

double hbk_form_words_height(const struct hbk_pad *pad,
                             const struct hbk_form_words *list)
{
    return (double)set(pad, list).most * leading * words_style(list).size;
}

void hbk_form_words_draw(struct hbk_pad *pad, const struct hbk_form_words *list,
                         double x, double y)
{
    const struct columns columns = set(pad, list);
    const struct hbk_style style = words_style(list);
    const struct hbk_style bold =
        hbk_style_of(HBK_FACE_BOLD, name_points, list->unit, HBK_LEFT);
    const double step = leading * style.size;
    double base = y + 0.8 * style.size;
    for (size_t i = 0; i < list->n; i++) {
        if (i == columns.second && i > 0) {
            x += list->width - columns.width;
            base = y + 0.8 * style.size;
        }
        const struct hbk_lines lines = wrapped(pad, list, columns.width, i);
        hbk_pad_group(pad);
        hbk_pad_open(pad, HBK_TAG_PARAGRAPH);
        hbk_pad_text(pad, x, base, bold, list->items[i].name);
        hbk_pad_lines(pad, x + list->name_width * list->unit, base, style, step,
                      &lines);
        hbk_pad_close(pad, HBK_TAG_PARAGRAPH);
        base += (double)lines.n * step;
    }
}
