#ifndef HBK_REPORT_HORNS_H
#define HBK_REPORT_HORNS_H

#include "base/text.h"

#include <stdbool.h>

struct hbk_horn;

/* A horn in a list, by the word that names it to every command. */
struct hbk_listed_horn {
    const char *word;
    const struct hbk_horn *horn;
    bool is_measured; /* from a real object; else a pattern */
};

/* The words and what the horns are called; the words alone; as JSON. */
void hbk_horns_text(size_t n, const struct hbk_listed_horn horns[],
                    struct hbk_text *out);
void hbk_horns_brief(size_t n, const struct hbk_listed_horn horns[],
                     struct hbk_text *out);
void hbk_horns_json(size_t n, const struct hbk_listed_horn horns[],
                    struct hbk_text *out);

#endif
