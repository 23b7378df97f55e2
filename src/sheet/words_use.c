#include "sheet/words.h"

#include <math.h>
#include <stdlib.h>

/* By how many cents another fingering must be nearer to be called truer. */
static const double truer_by = 5.0;

/* Which hands a press needs: 1 left, 2 right, 3 both. */
static unsigned hands_of(const struct hbk_horn *horn, uint32_t press)
{
    unsigned hands = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        if ((press >> i & 1u) != 0) {
            hands |= hbk_finger_is_left(horn->controls[i].fingers[0]) ? 1u : 2u;
        }
    }
    return hands;
}

/* A note within a tone whose first choice is this press, or NULL. */
static const struct hbk_note *neighbour(const struct hbk_notes *notes, size_t i,
                                        uint32_t press)
{
    static const int steps[] = {-1, 1, -2, 2};
    for (size_t k = 0; k < sizeof(steps) / sizeof(steps[0]); k++) {
        const struct hbk_note *note =
            hbk_notes_find(notes, notes->notes[i].written + steps[k]);
        if (note != NULL && note->n > 0 && note->fingerings[0].press == press) {
            return note;
        }
    }
    return NULL;
}

const char *hbk_words_use(struct hbk_arena *arena,
                          const struct hbk_notes *notes, size_t i, size_t rank)
{
    const struct hbk_fingering *first = &notes->notes[i].fingerings[0];
    const struct hbk_fingering *other = &notes->notes[i].fingerings[rank];
    const struct hbk_horn *horn = notes->horn;
    if (horn->partials.avoid[other->partial]) {
        return "avoid";
    }
    if (fabs(other->cents) + truer_by < fabs(first->cents)) {
        return "truer";
    }
    const struct hbk_note *near = neighbour(notes, i, other->press);
    if (near != NULL) {
        char name[HBK_NAME_SIZE];
        return hbk_arena_printf(
            arena, "as for %s",
            hbk_spelling_letter(hbk_note_usual(near->written), HBK_UNICODE,
                                name));
    }
    if (__builtin_popcount(other->press) < __builtin_popcount(first->press)) {
        return "fewer fingers";
    }
    const unsigned hands = hands_of(horn, other->press);
    if ((hands == 1 || hands == 2) &&
        hands + hands_of(horn, first->press) == 3) {
        return "other hand";
    }
    return "";
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return (x > y) - (x < y);
}

double hbk_care_db(const struct hbk_notes *notes)
{
    static const double far_below_db = 10.0;
    double responses[HBK_NOTE_MAX + 1];
    size_t n = 0;
    if (notes->horn->model != HBK_MODEL_BORE) {
        return -INFINITY;
    }
    for (size_t i = 0; i < notes->n && n <= HBK_NOTE_MAX; i++) {
        if (notes->notes[i].n > 0) {
            responses[n++] = notes->notes[i].fingerings[0].response_db;
        }
    }
    if (n == 0) {
        return -INFINITY;
    }
    qsort(responses, n, sizeof(responses[0]), by_size);
    return 0.5 * (responses[(n - 1) / 2] + responses[n / 2]) - far_below_db;
}
