#include "sheet/words/words.h"

#include "base/text.h"

#include <math.h>
#include <stdlib.h>

/* By how many cents another fingering must be nearer to be called truer. */
static const double truer_by = 5.0;

/*
 * How far a resonance lies under the usual one of the horn: at 3 dB it still
 * has 0.7 of the height that helps the lips along, at 10 dB less than a third
 * of it. The limits are our choice, without a source.
 */
static const double little_below_db = 3.0;
static const double far_below_db = 10.0;

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
    if (horn->partials.avoid[other->partial] &&
        other->taught != HBK_TAUGHT_YES) {
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

/* The median of the first choices' responses; false where it is not known. */
static bool usual_response(const struct hbk_notes *notes, double *usual_db)
{
    double responses[HBK_NOTE_MAX + 1];
    size_t n = 0;
    if (notes->horn->model != HBK_MODEL_BORE) {
        return false;
    }
    for (size_t i = 0; i < notes->n && n <= HBK_NOTE_MAX; i++) {
        if (notes->notes[i].n > 0) {
            responses[n++] = notes->notes[i].fingerings[0].response_db;
        }
    }
    if (n == 0) {
        return false;
    }
    qsort(responses, n, sizeof(responses[0]), by_size);
    *usual_db = 0.5 * (responses[(n - 1) / 2] + responses[n / 2]);
    return true;
}

double hbk_care_db(const struct hbk_notes *notes)
{
    double usual_db;
    return usual_response(notes, &usual_db) ? usual_db - far_below_db
                                            : -(double)INFINITY;
}

/* Notes of first choices between two responses, as runs; "" for none. */
static const char *notes_between(struct hbk_arena *arena,
                                 const struct hbk_notes *notes, double low_db,
                                 double high_db, size_t *n)
{
    int *found = HBK_ARENA_ARRAY(arena, int, notes->n);
    *n = 0;
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *note = &notes->notes[i];
        if (note->n > 0 && note->fingerings[0].response_db >= low_db &&
            note->fingerings[0].response_db < high_db) {
            found[(*n)++] = note->written;
        }
    }
    return hbk_words_note_runs(arena, *n, found);
}

const char *hbk_words_response(struct hbk_arena *arena,
                               const struct hbk_notes *notes)
{
    double usual_db;
    if (!usual_response(notes, &usual_db)) {
        return "";
    }
    const double inf = (double)INFINITY;
    size_t n_free, n_care;
    const char *freely =
        notes_between(arena, notes, usual_db - little_below_db, inf, &n_free);
    const char *care =
        notes_between(arena, notes, -inf, usual_db - far_below_db, &n_care);
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(&text, "Speak%s freely: %s. ", n_free == 1 ? "s" : "",
                  freely);
    if (n_care > 0) {
        hbk_text_addf(&text, "Need%s care: %s. ", n_care == 1 ? "s" : "", care);
    }
    return hbk_text_string(&text);
}
