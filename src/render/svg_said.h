#ifndef HBK_RENDER_SVG_SAID_H
#define HBK_RENDER_SVG_SAID_H

#include "base/text.h"
#include "page/mark.h"

/*
 * For the files of this folder only: what an SVG says to whoever does not see
 * it. Parts become groups with the roles of ARIA, words real text that is not
 * painted, and the rows of tables and lines of music its description.
 * Zero-initialise but for the arenas.
 */
struct hbk_svg_said {
    struct hbk_text account; /* the description */
    struct hbk_text line;    /* of a row or a line of music, so far */
    size_t cells;            /* in this row, so far */
    bool in_row, in_words;   /* a row, a paragraph is open */
    bool has_music;          /* the paragraph has signs that are read out */
    size_t hidden;           /* parts open in a figure or an artifact */
    bool is_artifact;        /* the outermost of them */
};

/* Begins or ends a group. */
void hbk_svg_part(struct hbk_svg_said *said, const struct hbk_mark *mark,
                  struct hbk_text *out);

/* An attribute for text that is found, but not read out; else "". */
const char *hbk_svg_hush(const struct hbk_svg_said *said, bool is_read);

/* Takes words that are read out into the description. */
void hbk_svg_account(struct hbk_svg_said *said, const struct hbk_mark *mark,
                     const char *words);

#endif
