#ifndef HBK_SHEET_ARTICLE_FORM_H
#define HBK_SHEET_ARTICLE_FORM_H

#include "page/pad.h"

/*
 * The form to take to a horn that is to be described: on a first page what a
 * ruler and a caliper tell, with the places drawn; on a second the slides and
 * a table of readings to take with a tuner. What is written in goes into a
 * horn file, and a file of readings, under the names it stands by. No horn is
 * needed to print it.
 */
struct hbk_form {
    bool has_keys, has_valves; /* a form for each that is asked */
    size_t n_keys, n_valves;   /* rows; 0 for as many as horns mostly have */
};

/* Two pages on each of these; other paper has no room to write. */
bool hbk_form_takes(enum hbk_paper paper);

/*
 * Lays it out. options->title stands in place of the usual title; at least one
 * form is asked for, and the paper is one it takes.
 */
void hbk_sheet_form(const struct hbk_form *form,
                    const struct hbk_sheet_options *options,
                    const struct hbk_ruler *ruler, struct hbk_sheet *sheet);

#endif
