#ifndef HBK_EDITION_PART_GIVEN_H
#define HBK_EDITION_PART_GIVEN_H

#include "passage/view.h"
#include "sheet/part/part.h"

/* What a part is laid out from, of the whole or of its hard places alone. */
struct hbk_part_given {
    struct hbk_part_fingering *fingerings; /* one for each event */
    struct hbk_part_words words;
    struct hbk_part_options options;
};

/*
 * Fills it; `others` further choices stand under each note. Everything is in
 * the arena or borrowed from view and options.
 */
void hbk_part_give(const struct hbk_passage_view *view,
                   const struct hbk_sheet_options *options, bool circles,
                   size_t others, struct hbk_arena *arena,
                   struct hbk_part_given *given);

#endif
