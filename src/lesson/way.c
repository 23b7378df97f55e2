#include "lesson/way.h"

#include "base/arena.h"
#include "base/text.h"
#include "horn/about.h"
#include "horn/press.h"
#include "passage/trill.h"

#include <math.h>

bool hbk_way_is_hard(const struct hbk_ease_move *move)
{
    return (move->reasons & HBK_EASE_AWKWARD) != 0 &&
           hbk_ease_move_price(move) >= HBK_MOVE_HARD;
}

enum { STEP = 2 };

/* Whether a fingering does for a note whose first one is `usual`. */
static bool does(const struct hbk_fingering *fingering,
                 const struct hbk_fingering *usual)
{
    return fingering->untaught <= usual->untaught &&
           fabs(fingering->cents) <= fmax(HBK_WAY_CENTS, fabs(usual->cents)) &&
           (!hbk_pupil_needs_care(fingering) || hbk_pupil_needs_care(usual));
}

/* The best easy trill so far. */
struct search {
    const struct hbk_pupil *pupil;
    int low, interval;
    bool is_hard; /* by the first fingerings */
    double price;
    struct hbk_way *way;
};

static void try_trill(struct search *search, const struct hbk_fingering *low,
                      const struct hbk_fingering *high)
{
    const struct hbk_keywork *const keywork = &search->pupil->keywork;
    const struct hbk_trill trill =
        hbk_trill_between(keywork, search->low, search->interval, low, high);
    struct hbk_grips below;
    struct hbk_grips above;
    if (trill.kind == HBK_TRILL_EASY && trill.price < search->price &&
        hbk_grips_make(keywork, low->press, &below) &&
        hbk_grips_make(keywork, high->press, &above)) {
        search->price = trill.price;
        *search->way = (struct hbk_way){
            low, high, true, search->is_hard,
            hbk_ease_between(keywork, &below, &above, HBK_PUPIL_S)};
    }
}

/* All fingerings of a note but its first, against the first of the other. */
static void try_all(struct search *search, int written,
                    const struct hbk_fingering *other)
{
    const struct hbk_note *const note =
        hbk_notes_find(search->pupil->notes, written);
    const struct hbk_fingering *const usual = &note->fingerings[0];
    for (size_t i = 1; i < note->n + note->n_idle; i++) {
        const struct hbk_fingering *const fingering =
            i < note->n ? &note->fingerings[i] : &note->idle[i - note->n];
        if (!does(fingering, usual)) {
            continue;
        }
        if (written == search->low) {
            try_trill(search, fingering, other);
        } else {
            try_trill(search, other, fingering);
        }
    }
}

struct hbk_way hbk_way_find(const struct hbk_pupil *pupil, int low, int high)
{
    const struct hbk_fingering *const below = hbk_pupil_fingering(pupil, low);
    const struct hbk_fingering *const above = hbk_pupil_fingering(pupil, high);
    const struct hbk_ease_move usual = hbk_pupil_move(pupil, low, high);
    struct hbk_way way = {below, above, false, false, usual};
    struct search search = {.pupil = pupil,
                            .low = low,
                            .interval = high - low,
                            .is_hard = hbk_way_is_hard(&usual),
                            .price = INFINITY,
                            .way = &way};
    if ((usual.reasons & HBK_EASE_AWKWARD) != 0 && high - low <= STEP) {
        try_all(&search, high, below);
        try_all(&search, low, above);
    }
    return way;
}

/* "leave key 2 down and add key 3 (2-3).", going from one press to the other.
 */
static void say_move(const struct hbk_horn *horn, uint32_t from, uint32_t to,
                     struct hbk_text *words)
{
    const uint32_t held = from & to;
    const uint32_t moved = from ^ to;
    char label[HBK_LABEL_SIZE];
    char name[HBK_LABEL_SIZE];
    if (held != 0) {
        const bool is_one = (held & (held - 1)) == 0;
        hbk_text_addf(
            words, "leave %s down and ",
            is_one ? hbk_control_words(
                         hbk_horn_control(horn, (size_t)__builtin_ctz(held)),
                         label, sizeof(label))
                   : hbk_horn_press_label(horn, held, label));
    }
    hbk_text_addf(
        words, "%s %s (%s).", (to & moved) != 0 ? "add" : "lift",
        hbk_control_words(hbk_horn_control(horn, (size_t)__builtin_ctz(moved)),
                          name, sizeof(name)),
        hbk_horn_press_label(horn, to, label));
}

/* Of the note that has another fingering, where that is heard. */
static void say_cents(const char *name, const struct hbk_fingering *fingering,
                      const struct hbk_fingering *usual, struct hbk_text *words)
{
    enum { HEARD = 3 };
    const double cents = round(fingering->cents);
    if (fabs(fingering->cents - usual->cents) < HEARD) {
        return;
    }
    if (cents == 0.0) {
        hbk_text_addf(words, " %s is then in tune.", name);
    } else {
        hbk_text_addf(words, " %s is then %.0f cents %s.", name, fabs(cents),
                      cents > 0.0 ? "sharp" : "flat");
    }
}

const char *hbk_way_words(const struct hbk_pupil *pupil,
                          const struct hbk_way *way, struct hbk_spelling low,
                          struct hbk_spelling high, struct hbk_arena *arena)
{
    const struct hbk_fingering *const below =
        hbk_pupil_fingering(pupil, hbk_spelling_note(low));
    const struct hbk_fingering *const above =
        hbk_pupil_fingering(pupil, hbk_spelling_note(high));
    /* It is told from the note that keeps its first fingering. */
    const bool up = way->low == below;
    struct hbk_text words = {.arena = arena};
    char from[HBK_NAME_SIZE];
    char to[HBK_NAME_SIZE];
    (void)hbk_pupil_called(pupil, up ? low : high, from);
    (void)hbk_pupil_called(pupil, up ? high : low, to);
    hbk_text_addf(&words, "From %s to %s ", from, to);
    say_move(pupil->notes->horn, up ? way->low->press : way->high->press,
             up ? way->high->press : way->low->press, &words);
    say_cents(to, up ? way->high : way->low, up ? above : below, &words);
    return hbk_text_string(&words);
}
