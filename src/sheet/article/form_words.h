#ifndef HBK_SHEET_ARTICLE_FORM_WORDS_H
#define HBK_SHEET_ARTICLE_FORM_WORDS_H

#include "page/pad.h"

/* How each field is measured: its name, and beside it what to do. */
struct hbk_form_word {
    const char *name;
    const char *words;
};

/* A list of them in two columns of about the same height. */
struct hbk_form_words {
    size_t n;
    const struct hbk_form_word *items;
    double name_width; /* room for the names, mm at unit 1 */
    double unit;
    double width; /* mm */
};

double hbk_form_words_height(const struct hbk_pad *pad,
                             const struct hbk_form_words *list);
void hbk_form_words_draw(struct hbk_pad *pad, const struct hbk_form_words *list,
                         double x, double y);

#endif
