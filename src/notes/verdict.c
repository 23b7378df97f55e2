#include "notes/verdict.h"

#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>
#include <stdlib.h>

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
static const struct hbk_note *neighbour(const struct hbk_notes *notes,
                                        int written, uint32_t press)
{
    static const int steps[] = {-1, 1, -2, 2};
    for (size_t k = 0; k < sizeof(steps) / sizeof(steps[0]); k++) {
        const struct hbk_note *const note =
            hbk_notes_find(notes, written + steps[k]);
        if (note != NULL && note->n > 0 && note->fingerings[0].press == press) {
            return note;
        }
    }
    return NULL;
}

static bool is_avoided(const struct hbk_horn *horn,
                       const struct hbk_fingering *f)
{
    return horn->partials.avoid[f->partial] && f->taught != HBK_TAUGHT_YES;
}

/* Whether it is the first choice with one key more, which helps the tone. */
static bool is_vented(const struct hbk_horn *horn,
                      const struct hbk_fingering *first,
                      const struct hbk_fingering *other)
{
    const uint32_t more = other->press & ~first->press;
    if (horn->model != HBK_MODEL_BORE || (first->press & ~other->press) != 0 ||
        first->press == 0 || __builtin_popcount(more) != 1) {
        return false;
    }
    const struct hbk_control *key = &horn->controls[__builtin_ctz(more)];
    return key->kind == HBK_KEY && !key->stands_open &&
           other->partial == first->partial &&
           fabs(other->cents - first->cents) <= HBK_VENT_CENTS &&
           other->response_db >= first->response_db + HBK_VENT_DB;
}

/* What another fingering is good for beside the first. */
static void find_use(const struct hbk_notes *notes, int written,
                     double aim_cents, const struct hbk_fingering *first,
                     struct hbk_fingering *other)
{
    const struct hbk_horn *const horn = notes->horn;
    const struct hbk_note *const near = neighbour(notes, written, other->press);
    const unsigned hands = hands_of(horn, other->press);
    other->use = HBK_USE_NONE;
    other->as_for = 0;
    if (is_avoided(horn, other)) {
        other->use = HBK_USE_AVOID;
    } else if (is_vented(horn, first, other)) {
        other->use = HBK_USE_VENTS;
    } else if (fabs(other->cents - aim_cents) + HBK_NEARER_CENTS <
               fabs(first->cents - aim_cents)) {
        other->use = HBK_USE_NEARER;
    } else if (near != NULL) {
        other->use = HBK_USE_AS_FOR;
        other->as_for = near->written;
    } else if (__builtin_popcount(other->press) <
               __builtin_popcount(first->press)) {
        other->use = HBK_USE_FEWER_FINGERS;
    } else if ((hands == 1 || hands == 2) &&
               hands + hands_of(horn, first->press) == 3) {
        other->use = HBK_USE_OTHER_HAND;
    }
}

void hbk_uses_make(const struct hbk_notes *notes, int written, double aim_cents,
                   size_t n, struct hbk_fingering list[])
{
    for (size_t i = 0; i < n; i++) {
        if (i == 0) {
            list[0].use = HBK_USE_NONE;
            list[0].as_for = 0;
        } else {
            find_use(notes, written, aim_cents, &list[0], &list[i]);
        }
    }
}

static int by_size(const void *a, const void *b)
{
    const double x = *(const double *)a;
    const double y = *(const double *)b;
    return (x > y) - (x < y);
}

/* The median of the first choices' responses; NAN where it is not known. */
static double usual_response(const struct hbk_notes *notes)
{
    double responses[HBK_NOTE_MAX + 1];
    size_t n = 0;
    if (notes->horn->model != HBK_MODEL_BORE) {
        return (double)NAN;
    }
    for (size_t i = 0; i < notes->n && n <= HBK_NOTE_MAX; i++) {
        if (notes->notes[i].n > 0) {
            responses[n++] = notes->notes[i].fingerings[0].response_db;
        }
    }
    if (n == 0) {
        return (double)NAN;
    }
    qsort(responses, n, sizeof(responses[0]), by_size);
    return 0.5 * (responses[(n - 1) / 2] + responses[n / 2]);
}

/* The verdicts on one fingering; usual_db may be NAN. */
static unsigned verdict_on(const struct hbk_horn *horn, double usual_db,
                           const struct hbk_fingering *f)
{
    unsigned verdict = 0;
    if (fabs(f->cents) > HBK_UNRELIABLE_CENTS || is_avoided(horn, f)) {
        verdict |= HBK_VERDICT_UNRELIABLE;
    }
    /* Both are false beside NAN. */
    if (f->response_db >= usual_db - HBK_FREE_DB) {
        verdict |= HBK_VERDICT_FREE;
    }
    if (f->response_db < usual_db - HBK_CARE_DB) {
        verdict |= HBK_VERDICT_CARE;
    }
    return verdict;
}

void hbk_verdicts_make(struct hbk_notes *notes, struct hbk_arena *arena)
{
    const double usual_db = usual_response(notes);
    struct hbk_note *const list =
        HBK_ARENA_ARRAY(arena, struct hbk_note, notes->n);
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *const note = &notes->notes[i];
        /* Idle ones stand behind: none is good for a note by itself. */
        const size_t n = note->n + note->n_idle;
        struct hbk_fingering *const judged =
            HBK_ARENA_ARRAY(arena, struct hbk_fingering, n);
        for (size_t k = 0; k < n; k++) {
            judged[k] =
                k < note->n ? note->fingerings[k] : note->idle[k - note->n];
            judged[k].verdict = verdict_on(notes->horn, usual_db, &judged[k]);
        }
        hbk_uses_make(notes, note->written, 0.0, note->n, judged);
        list[i] = *note;
        list[i].fingerings = judged;
        list[i].idle = judged + note->n;
    }
    notes->notes = list;
}

const char *hbk_verdict_name(enum hbk_verdict verdict)
{
    switch (verdict) {
    case HBK_VERDICT_UNRELIABLE:
        return "unreliable";
    case HBK_VERDICT_FREE:
        return "speaks freely";
    case HBK_VERDICT_CARE:
        return "needs care";
    }
    return "";
}

const char *hbk_use_name(enum hbk_use use)
{
    static const char *const names[] = {[HBK_USE_NONE] = "",
                                        [HBK_USE_AVOID] = "avoid",
                                        [HBK_USE_NEARER] = "better in tune",
                                        [HBK_USE_AS_FOR] = "as for",
                                        [HBK_USE_FEWER_FINGERS] =
                                            "fewer fingers",
                                        [HBK_USE_OTHER_HAND] = "other hand",
                                        [HBK_USE_VENTS] = "vents"};
    return names[use];
}

int hbk_lip_needed(double cents)
{
    return fabs(cents) < HBK_LIP_TOLD_CENTS ? 0 : cents < 0.0 ? 1 : -1;
}
