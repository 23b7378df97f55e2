#ifndef HBK_SHEET_WORDS_BESIDE_SIDE_H
#define HBK_SHEET_WORDS_BESIDE_SIDE_H

#include "base/text.h"
#include "horn/control.h"
#include "notes/notes.h"

/*
 * What the fingers of one horn do, found in its model: for the words on a horn
 * beside another. Sets of controls are bit masks over the horn's; what is
 * stuck is in none of them.
 */
struct hbk_side {
    const struct hbk_notes *notes; /* borrowed */
    const struct hbk_horn *horn;   /* of the notes */
    uint32_t shut, open;           /* keys, as they rest */
    uint32_t down, up; /* valves, by what pressing does to the pitch */
    uint32_t triggers;
};

struct hbk_side hbk_side_of(const struct hbk_notes *notes);

/* Keys and valves that move. */
uint32_t hbk_side_moves(const struct hbk_side *side);

/*
 * The control of the other horn with the same kind and number, which moves
 * there; -1 for none.
 */
int hbk_side_twin(const struct hbk_side *side, size_t control,
                  const struct hbk_side *other);

/* The controls of `set` whose twins are in the other horn's `other_set`. */
uint32_t hbk_side_shared(const struct hbk_side *side, uint32_t set,
                         const struct hbk_side *other, uint32_t other_set);

/* How many bits are set. */
size_t hbk_side_count(uint32_t set);

/* "key 1", "valves 1 and 3", "keys 1 to 6 and valve 1"; "" for none. */
const char *hbk_side_list(struct hbk_arena *arena, const struct hbk_horn *horn,
                          uint32_t set);

/* The same with a capital, to begin a sentence. */
const char *hbk_side_list_first(struct hbk_arena *arena,
                                const struct hbk_horn *horn, uint32_t set);

/* Adds a sentence, a space before it unless it is the first. */
void hbk_side_say(struct hbk_text *text, const char *sentence);

#endif
