#include "sheet/primer/primer_moves.h"

#include "base/text.h"
#include "horn/about.h"
#include "lesson/way.h"
#include "passage/ease.h"
#include "passage/move_words.h"
#include "passage/passage.h"
#include "sheet/article/scale_staff.h"
#include "sheet/primer/primer_compose.h"
#include "sheet/primer/primer_taught.h"

#include <math.h>
#include <string.h>

enum { FIFTH = 7, FOURTH = 5, QUARTER = 2, HALF = 4, SLURS_MOST = 8 };
enum { DRILLS_MOST = 6, LEADING_MOST = 4 };

static void begin(struct hbk_composer *composer,
                  const struct hbk_primer *primer, struct hbk_arena *arena)
{
    hbk_compose_begin(composer, hbk_horn_clef(primer->notes->horn), arena);
}

const struct hbk_tune *hbk_primer_slurs(const struct hbk_primer *primer,
                                        struct hbk_arena *arena)
{
    struct hbk_composer composer;
    size_t n = 0;
    begin(&composer, primer, arena);
    for (int low = primer->lessons->low; low < primer->lessons->high; low++) {
        const struct hbk_fingering *const from = hbk_primer_taught(primer, low);
        for (int high = low + 1; from != NULL && high <= low + FIFTH; high++) {
            const struct hbk_fingering *const to =
                hbk_primer_taught(primer, high);
            if (to == NULL || to->press != from->press ||
                to->partial == from->partial || n == SLURS_MOST) {
                continue;
            }
            const struct hbk_spelling below = hbk_note_usual(low);
            const struct hbk_spelling above = hbk_note_usual(high);
            hbk_compose_note(&composer, below, HALF, HBK_COMPOSED_SLUR);
            hbk_compose_note(&composer, above, HALF, HBK_COMPOSED_UNSLUR);
            hbk_compose_note(&composer, above, HALF, HBK_COMPOSED_SLUR);
            hbk_compose_note(&composer, below, HALF, HBK_COMPOSED_UNSLUR);
            n++;
            break;
        }
    }
    return hbk_compose_end(&composer);
}

/* Whether the press is one key that is open at rest, and nothing else. */
static bool closes_alone(const struct hbk_horn *horn, uint32_t press)
{
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        if (press == UINT32_C(1) << i) {
            return hbk_horn_control(horn, i)->stands_open;
        }
    }
    return false;
}

const struct hbk_tune *hbk_primer_leading(const struct hbk_primer *primer,
                                          struct hbk_arena *arena)
{
    struct hbk_composer composer;
    size_t n = 0;
    begin(&composer, primer, arena);
    for (int low = primer->lessons->low; low < primer->lessons->high; low++) {
        const struct hbk_fingering *const from = hbk_primer_taught(primer, low);
        const struct hbk_fingering *const to =
            hbk_primer_taught(primer, low + 1);
        if (from == NULL || to == NULL || to->press != 0 || n == LEADING_MOST ||
            !closes_alone(primer->notes->horn, from->press)) {
            continue;
        }
        const struct hbk_spelling tonic = hbk_note_usual(low + 1);
        const struct hbk_spelling leading = hbk_spelling_moved(tonic, -1);
        hbk_compose_note(&composer, tonic, QUARTER, 0);
        hbk_compose_note(&composer, leading, QUARTER, 0);
        hbk_compose_note(&composer, tonic, HALF, 0);
        n++;
    }
    return hbk_compose_end(&composer);
}

/*
 * Up and down a chord in its octave: four notes, whichever of the three it
 * begins with.
 */
static void arpeggio(struct hbk_composer *composer,
                     const struct hbk_scale_octave *octave)
{
    enum { NOTES = 7 };
    static const size_t order[NOTES] = {0, 1, 2, 3, 2, 1, 0};
    const struct hbk_scale *const scale = octave->scale;
    int chord[HBK_SCALE_UP];
    size_t n = 0;
    for (size_t i = 0; i < HBK_SCALE_UP; i++) {
        const int written = scale->notes[octave->first + i].written;
        const size_t degree = hbk_scale_degree(scale, written);
        if (degree == 0 || degree == 2 || degree == 4) {
            chord[n++] = written;
        }
    }
    hbk_compose_key(composer, scale->signature,
                    scale->minor ? "minor" : "major");
    for (size_t i = 0; i < NOTES; i++) {
        hbk_compose_note(composer, hbk_scale_spelling(scale, chord[order[i]]),
                         i + 1 == NOTES ? HALF : QUARTER, 0);
    }
    hbk_compose_bar(composer, true);
}

const struct hbk_tune *hbk_primer_arpeggios(const struct hbk_primer *primer,
                                            struct hbk_arena *arena)
{
    struct hbk_composer composer;
    struct hbk_scale_octave octave;
    const struct hbk_scales *const keys = hbk_primer_keys(primer, arena);
    begin(&composer, primer, arena);
    for (size_t i = 0; i < keys->n_placed; i++) {
        if (hbk_scale_octave_find(primer->notes, &keys->keys[keys->order[i]],
                                  HBK_SCALE_CHORD, &octave)) {
            arpeggio(&composer, &octave);
        }
    }
    return hbk_compose_end(&composer);
}

const struct hbk_tune *hbk_primer_chromatic(const struct hbk_primer *primer,
                                            struct hbk_arena *arena)
{
    struct hbk_composer composer;
    const struct hbk_lessons *const lessons = primer->lessons;
    begin(&composer, primer, arena);
    for (int written = lessons->low; written <= lessons->high; written++) {
        if (hbk_primer_taught(primer, written) != NULL) {
            hbk_compose_note(&composer, hbk_note_sharp(written), QUARTER, 0);
        }
    }
    hbk_compose_bar(&composer, true);
    for (int written = lessons->high; written >= lessons->low; written--) {
        if (hbk_primer_taught(primer, written) != NULL) {
            hbk_compose_note(&composer, hbk_note_flat(written), QUARTER, 0);
        }
    }
    return hbk_compose_end(&composer);
}

/* Whether the gamut has a note. */
static bool is_in_gamut(const struct hbk_primer *primer, int written)
{
    return hbk_primer_taught(primer, written) != NULL &&
           (primer->lessons->first.is_open || !hbk_note_is_black(written));
}

const struct hbk_tune *hbk_primer_gamut(const struct hbk_primer *primer,
                                        struct hbk_arena *arena)
{
    struct hbk_composer composer;
    const struct hbk_lessons *const lessons = primer->lessons;
    int top = lessons->low;
    begin(&composer, primer, arena);
    for (int written = lessons->low; written <= lessons->high; written++) {
        if (is_in_gamut(primer, written)) {
            hbk_compose_note(&composer, hbk_note_usual(written), HALF, 0);
            top = written;
        }
    }
    for (int written = top - 1; written >= lessons->low; written--) {
        if (is_in_gamut(primer, written)) {
            hbk_compose_note(&composer, hbk_note_usual(written), HALF, 0);
        }
    }
    return hbk_compose_end(&composer);
}

/* Tempos that climb to the one at which hands have just time for eighths. */
static const char *tempos_for(struct hbk_arena *arena, double need_s)
{
    static const int ladder[] = {50, 60, 72, 88, 104, 120, 144};
    struct hbk_text text = {.arena = arena};
    const double most = 30.0 / (HBK_PASSAGE_HARD * need_s);
    for (size_t i = 0; i < sizeof(ladder) / sizeof(ladder[0]); i++) {
        if (i < 2 || ladder[i] <= most) {
            hbk_text_addf(&text, "%s%d", i == 0 ? "" : ", ", ladder[i]);
        }
    }
    return hbk_text_string(&text);
}

/* No price of a move comes near it. */
static const double of_lesson = 1e6;

/* Of drills by falling price. */
struct priced {
    struct hbk_primer_drill drill;
    double price;
    uint32_t low, high; /* presses */
};

/* Whether a lesson is about the move: its drill goes before others. */
static bool is_lesson(const struct hbk_primer *primer, int low, int high)
{
    const struct hbk_lessons *const lessons = primer->lessons;
    for (size_t i = 0; i < lessons->n; i++) {
        const struct hbk_lesson *const lesson = &lessons->lessons[i];
        if (lesson->kind == HBK_LESSON_MOVE && lesson->from == low &&
            lesson->to == high) {
            return true;
        }
    }
    return false;
}

/* Puts a drill in its place; of the same fingers the dearer stays. */
static void keep(struct priced best[], size_t *n, const struct priced *one)
{
    for (size_t i = 0; i < *n; i++) {
        if ((best[i].low == one->low && best[i].high == one->high) ||
            (best[i].low == one->high && best[i].high == one->low)) {
            if (best[i].price >= one->price) {
                return;
            }
            memmove(best + i, best + i + 1, (*n - i - 1) * sizeof(best[0]));
            (*n)--;
            break;
        }
    }
    size_t at = *n < DRILLS_MOST ? (*n)++ : DRILLS_MOST;
    while (at > 0 && best[at - 1].price < one->price) {
        if (at < DRILLS_MOST) {
            best[at] = best[at - 1];
        }
        at--;
    }
    if (at < DRILLS_MOST) {
        best[at] = *one;
    }
}

const struct hbk_primer_drill *
hbk_primer_drills(const struct hbk_primer *primer, struct hbk_arena *arena,
                  size_t *n)
{
    struct priced best[DRILLS_MOST];
    struct hbk_pupil pupil;
    const struct hbk_lessons *const lessons = primer->lessons;
    *n = 0;
    hbk_pupil_make(primer->notes, lessons->low, lessons->high, &pupil);
    for (int low = lessons->low; low < lessons->high; low++) {
        for (int high = low + 1; high <= low + FOURTH; high++) {
            const struct hbk_fingering *const from =
                hbk_primer_taught(primer, low);
            const struct hbk_fingering *const to =
                hbk_primer_taught(primer, high);
            if (from == NULL || to == NULL) {
                continue;
            }
            const struct hbk_way way = hbk_way_find(&pupil, low, high);
            const struct hbk_ease_move move = way.move;
            if ((move.reasons & HBK_EASE_AWKWARD) == 0) {
                continue;
            }
            char why[HBK_MOVE_WORDS_SIZE];
            hbk_presses_words(&pupil.keywork, from->press, to->press,
                              move.reasons, why);
            const struct priced one = {
                .drill = {low, high, hbk_arena_copy(arena, why, strlen(why)),
                          tempos_for(arena, move.need_s)},
                .price = hbk_ease_move_price(&move) +
                         (is_lesson(primer, low, high) ? of_lesson : 0.0),
                .low = from->press,
                .high = to->press};
            keep(best, n, &one);
        }
    }
    struct hbk_primer_drill *const drills =
        HBK_ARENA_ARRAY(arena, struct hbk_primer_drill, *n + 1);
    for (size_t i = 0; i < *n; i++) {
        drills[i] = best[i].drill;
    }
    return drills;
}

const struct hbk_tune *
hbk_primer_drill_tune(const struct hbk_primer *primer,
                      const struct hbk_primer_drill *drill,
                      struct hbk_arena *arena)
{
    enum { PAIRS = 6 };
    struct hbk_composer composer;
    const struct hbk_spelling low = hbk_note_usual(drill->low);
    const struct hbk_spelling high = hbk_note_usual(drill->high);
    begin(&composer, primer, arena);
    for (size_t k = 0; k < PAIRS; k++) {
        hbk_compose_note(&composer, low, 1, 0);
        hbk_compose_note(&composer, high, 1, 0);
    }
    hbk_compose_note(&composer, low, HALF, 0);
    return hbk_compose_end(&composer);
}
