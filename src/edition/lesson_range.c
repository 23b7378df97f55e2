#include "edition/lesson_range.h"

#include "music/pitch.h"

#include <stdio.h>
#include <string.h>

/* The note named by the first `length` bytes. */
static bool note_of(const char *text, size_t length, int *note)
{
    char name[HBK_NAME_SIZE];
    if (length >= sizeof(name)) {
        return false;
    }
    (void)snprintf(name, sizeof(name), "%.*s", (int)length, text);
    return hbk_note_parse(name, note);
}

/* Parts it at the hyphen that leaves a note on either side: C-1 has its own. */
static bool part_at_hyphen(const char *text, int *low, int *high)
{
    for (const char *at = strchr(text, '-'); at != NULL;
         at = strchr(at + 1, '-')) {
        if (note_of(text, (size_t)(at - text), low) &&
            note_of(at + 1, strlen(at + 1), high)) {
            return true;
        }
    }
    return false;
}

bool hbk_lesson_range_read(const char *text, const struct hbk_notes *notes,
                           int *low, int *high, struct hbk_text *why)
{
    if (!part_at_hyphen(text, low, high)) {
        hbk_text_addf(why, "'%s' is not two notes; write them like C4-C5",
                      text);
        return false;
    }
    *low -= notes->notation.shift;
    *high -= notes->notation.shift;
    const int top = notes->lowest + (int)notes->n - 1;
    if (*low >= *high) {
        hbk_text_addf(why, "'%s' does not rise; the lower note comes first",
                      text);
        return false;
    }
    if (*low < notes->lowest || *high > top) {
        char lowest[HBK_NAME_SIZE];
        char highest[HBK_NAME_SIZE];
        const struct hbk_notation *const n = &notes->notation;
        hbk_text_addf(
            why, "'%s' is outside the compass of this horn, %s to %s", text,
            hbk_note_name(hbk_notation_note(n, notes->lowest), HBK_ASCII,
                          lowest),
            hbk_note_name(hbk_notation_note(n, top), HBK_ASCII, highest));
        return false;
    }
    return true;
}
