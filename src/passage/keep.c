#include "passage/keep.h"

#include "horn/press.h"
#include "passage/lattice.h"

#include <string.h>

/* The text with one hyphen between names; false if it is too long. */
static bool tidy(const char *text, char label[HBK_LABEL_SIZE])
{
    size_t n = 0;
    bool gap = false;
    for (; *text != '\0'; text++) {
        const bool parts = strchr("-,+ \t", *text) != NULL;
        if (parts) {
            gap = n > 0;
            continue;
        }
        if (n + 2 >= HBK_LABEL_SIZE) {
            return false;
        }
        if (gap) {
            label[n++] = '-';
        }
        gap = false;
        label[n++] = *text;
    }
    label[n] = '\0';
    return n > 0;
}

/* "13" as "1-3". */
static bool spread(const char *label, char out[HBK_LABEL_SIZE])
{
    size_t n = 0;
    for (; *label != '\0'; label++) {
        if (*label < '0' || *label > '9' || n + 2 >= HBK_LABEL_SIZE) {
            return false;
        }
        if (n > 0) {
            out[n++] = '-';
        }
        out[n++] = *label;
    }
    out[n] = '\0';
    return true;
}

static bool read_press(const struct hbk_horn *horn, const char *text,
                       uint32_t *press)
{
    char label[HBK_LABEL_SIZE];
    char apart[HBK_LABEL_SIZE];
    if (!tidy(text, label)) {
        return false;
    }
    return hbk_horn_press_parse(horn, label, press) ||
           (spread(label, apart) && hbk_horn_press_parse(horn, apart, press));
}

bool hbk_keep_press(const struct hbk_notes *notes, const char *fingering,
                    uint32_t *press)
{
    uint32_t read = 0;
    if (!read_press(notes->horn, fingering, &read)) {
        return false;
    }
    *press = read & ~notes->setting.stuck.held_down;
    return true;
}

enum hbk_passage_kept hbk_keep(const struct hbk_notes *notes,
                               const char *fingering,
                               const struct hbk_candidates *candidates,
                               int64_t costs[])
{
    uint32_t press = 0;
    if (!hbk_keep_press(notes, fingering, &press)) {
        return HBK_PASSAGE_UNKNOWN;
    }
    bool any = false;
    for (size_t x = 0; x < candidates->n; x++) {
        any = any || candidates->of[x]->press == press;
    }
    for (size_t x = 0; any && x < candidates->n; x++) {
        if (candidates->of[x]->press != press) {
            costs[x] = HBK_LATTICE_BARRED;
        }
    }
    return any ? HBK_PASSAGE_KEPT : HBK_PASSAGE_UNPLAYABLE;
}
