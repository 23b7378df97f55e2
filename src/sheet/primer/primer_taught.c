#include "sheet/primer/primer_taught.h"

#include "lesson/way.h"
#include "passage/scale.h"
#include "sheet/article/scale_staff.h"

#include <stdlib.h>

const struct hbk_fingering *hbk_primer_taught(const struct hbk_primer *primer,
                                              int written)
{
    const struct hbk_lessons *const lessons = primer->lessons;
    const struct hbk_note *const note = hbk_notes_find(primer->notes, written);
    return lessons->n > 0 && note != NULL && note->n > 0 &&
                   hbk_lesson_knows(&lessons->lessons[lessons->n - 1], written)
               ? &note->fingerings[0]
               : NULL;
}

static bool tells(const struct hbk_primer *primer,
                  const struct hbk_lesson_note *added,
                  const struct hbk_fingering *usual,
                  const struct hbk_fingering *fingering)
{
    for (size_t h = 0; h < added->n_holds; h++) {
        const struct hbk_lesson_hold *const hold = &added->holds[h];
        const struct hbk_fingering *const of =
            hbk_primer_taught(primer, hold->to);
        if (of != NULL && of->press == usual->press &&
            hold->fingering->press == fingering->press) {
            return true;
        }
    }
    return false;
}

static bool holds(const struct hbk_primer *primer, int written,
                  const struct hbk_fingering *fingering)
{
    const struct hbk_lessons *const lessons = primer->lessons;
    const struct hbk_fingering *const usual =
        hbk_primer_taught(primer, written);
    for (size_t i = 0; usual != NULL && i < lessons->n; i++) {
        for (size_t k = 0; k < lessons->lessons[i].n_new; k++) {
            if (tells(primer, &lessons->lessons[i].added[k], usual,
                      fingering)) {
                return true;
            }
        }
    }
    return false;
}

const struct hbk_fingering *hbk_primer_way(const struct hbk_primer *primer,
                                           const struct hbk_pupil *pupil,
                                           int written, int other)
{
    const struct hbk_fingering *const usual =
        hbk_pupil_fingering(pupil, written);
    if (written == other) {
        return usual;
    }
    const struct hbk_way way =
        hbk_way_find(pupil, written < other ? written : other,
                     written < other ? other : written);
    const struct hbk_fingering *const as = written < other ? way.low : way.high;
    return as == usual || holds(primer, written, as) ? as : usual;
}

struct hbk_spelling hbk_primer_spelling(const struct hbk_primer *primer,
                                        int written)
{
    const struct hbk_lessons *const lessons = primer->lessons;
    for (size_t i = 0; i < lessons->n; i++) {
        for (size_t k = 0; k < lessons->lessons[i].n_new; k++) {
            if (lessons->lessons[i].added[k].written == written) {
                return lessons->lessons[i].added[k].spelling;
            }
        }
    }
    return hbk_note_usual(written);
}

bool hbk_primer_asks(const struct hbk_primer *primer, int written)
{
    const struct hbk_note *const note = hbk_notes_find(primer->notes, written);
    return primer->lessons->n > 0 ? hbk_primer_taught(primer, written) != NULL
                                  : note != NULL && note->n > 0;
}

/* Whether the music of lessons and tunes is in a key. */
static bool is_used(const struct hbk_primer *primer,
                    const struct hbk_scale *scale)
{
    enum { CIRCLE = 12 };
    bool is = false;
    for (size_t i = 0; i < primer->lessons->n + primer->n_tunes; i++) {
        const struct hbk_tune *const tune =
            i < primer->lessons->n ? primer->lessons->lessons[i].study.tune
                                   : primer->tunes[i - primer->lessons->n].tune;
        for (size_t k = 0; k < tune->n_keys; k++) {
            is |= !scale->minor &&
                  (tune->keys[k].fifths - scale->signature) % CIRCLE == 0;
        }
    }
    return is;
}

/* A key that may be chosen. */
struct candidate {
    size_t key; /* index into the keys */
    bool is_minor, is_used;
    int n_signs, signature; /* as it is read */
};

/* The easiest to read first, flats before sharps. */
static bool reads_before(const struct candidate *a, const struct candidate *b)
{
    return a->is_minor != b->is_minor ? !a->is_minor
           : a->n_signs != b->n_signs ? a->n_signs < b->n_signs
                                      : a->signature < b->signature;
}

/* Of one mode those of the music first, then the easiest to read. */
static bool is_chosen_before(const struct candidate *a,
                             const struct candidate *b)
{
    return a->is_minor != b->is_minor ? !a->is_minor
           : a->is_used != b->is_used ? a->is_used
                                      : reads_before(a, b);
}

static void sort(struct candidate list[], size_t n,
                 bool (*before)(const struct candidate *a,
                                const struct candidate *b))
{
    for (size_t i = 1; i < n; i++) {
        const struct candidate one = list[i];
        size_t at = i;
        while (at > 0 && before(&one, &list[at - 1])) {
            list[at] = list[at - 1];
            at--;
        }
        list[at] = one;
    }
}

/* All keys with an octave; returns how many, of them n_major first. */
static size_t list_keys(const struct hbk_primer *primer,
                        const struct hbk_scales *keys,
                        struct candidate list[HBK_KEYS], size_t *n_major)
{
    size_t n = 0;
    *n_major = 0;
    for (size_t i = 0; i < HBK_KEYS; i++) {
        struct hbk_scale_octave octave;
        if (hbk_scale_octave_find(primer->notes, &keys->keys[i],
                                  HBK_SCALE_CHORD, &octave)) {
            const int signature = octave.read.signature;
            list[n++] =
                (struct candidate){.key = i,
                                   .is_minor = octave.read.minor,
                                   .is_used = is_used(primer, &keys->keys[i]),
                                   .n_signs = abs(signature),
                                   .signature = signature};
            *n_major += octave.read.minor ? 0 : 1;
        }
    }
    sort(list, n, is_chosen_before);
    return n;
}

/* As it was taught, and with what stays down on steps that lessons told of. */
static struct hbk_learned learned_of(const struct hbk_primer *primer,
                                     const struct hbk_pupil *pupil, int written)
{
    enum { STEP = 2 };
    const struct hbk_fingering *const usual =
        hbk_primer_taught(primer, written);
    struct hbk_learned learned = {.n = 0};
    if (usual == NULL) {
        return learned;
    }
    learned.of[learned.n++] = usual;
    for (int other = written - STEP; other <= written + STEP; other++) {
        if (hbk_primer_taught(primer, other) == NULL) {
            continue;
        }
        const struct hbk_fingering *const as =
            hbk_primer_way(primer, pupil, written, other);
        bool is_new = true;
        for (size_t i = 0; i < learned.n; i++) {
            is_new = is_new && learned.of[i] != as;
        }
        if (is_new) {
            learned.of[learned.n++] = as;
        }
    }
    return learned;
}

/* The lowest note that is written has none below it to come from. */
static void begin_octave(const struct hbk_primer *primer,
                         const struct hbk_pupil *pupil, struct hbk_scale *scale,
                         struct hbk_arena *arena)
{
    struct hbk_scale_octave octave;
    if (!hbk_scale_octave_find(primer->notes, scale, HBK_SCALE_CHORD,
                               &octave)) {
        return;
    }
    struct hbk_scale_note *const notes =
        HBK_ARENA_ARRAY(arena, struct hbk_scale_note, scale->n);
    for (size_t i = 0; i < scale->n; i++) {
        notes[i] = scale->notes[i];
    }
    struct hbk_scale_note *const first = &notes[octave.first];
    first->taken = hbk_primer_way(primer, pupil, first->written,
                                  notes[octave.first + 1].written);
    scale->notes = notes;
}

const struct hbk_scales *hbk_primer_keys(const struct hbk_primer *primer,
                                         struct hbk_arena *arena)
{
    enum { MINORS = 2 };
    struct hbk_pupil pupil;
    struct hbk_learned learned[HBK_NOTE_MAX + 1];
    hbk_pupil_make(primer->notes, primer->notes->lowest, primer->notes->highest,
                   &pupil);
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        learned[written] = learned_of(primer, &pupil, written);
    }
    struct hbk_scales *const keys =
        HBK_ARENA_ARRAY(arena, struct hbk_scales, 1);
    *keys = *hbk_scales_learned(primer->notes, learned, arena);
    struct candidate list[HBK_KEYS];
    size_t n_major = 0;
    const size_t n = list_keys(primer, keys, list, &n_major);
    const size_t n_minor = n - n_major;
    const size_t minors = n_minor < MINORS ? n_minor : MINORS;
    const size_t majors =
        n_major < HBK_PRIMER_KEYS - minors ? n_major : HBK_PRIMER_KEYS - minors;
    struct candidate chosen[HBK_PRIMER_KEYS];
    keys->n_placed = 0;
    for (size_t i = 0; i < n && keys->n_placed < HBK_PRIMER_KEYS; i++) {
        if (i < majors || i >= n_major) {
            chosen[keys->n_placed++] = list[i];
        }
    }
    sort(chosen, keys->n_placed, reads_before);
    for (size_t i = 0; i < keys->n_placed; i++) {
        keys->order[i] = chosen[i].key;
        begin_octave(primer, &pupil, &keys->keys[chosen[i].key], arena);
    }
    return keys;
}
