#include "fit/names.h"

#include "base/messages.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "solve/setting.h"
#include "solve/setup.h"
#include "solve/taught.h"

#include <math.h>
#include <string.h>

/* A fingering that may be a tutor's for a note; better ones rank lower. */
struct tutored {
    bool is_there;
    uint32_t press;
    unsigned partial;
    unsigned rank;
};

struct taker {
    const struct hbk_horn *horn;
    struct hbk_arena *arena;
    struct hbk_setup setup;
    struct hbk_taught_rule rule;
    struct tutored best[HBK_NOTE_MAX + 1];
};

enum { AVOIDED_RANK = 1000, KEYS_LEAST = 2 };

static bool is_avoided(const struct hbk_horn *horn, unsigned partial)
{
    return horn->partials.avoid[partial];
}

static void offer(struct taker *t, uint32_t press, unsigned rank)
{
    const struct hbk_horn *const horn = t->horn;
    for (unsigned p = horn->partials.lowest; p <= horn->partials.highest; p++) {
        const unsigned here = rank + (is_avoided(horn, p) ? AVOIDED_RANK : 0);
        for (int note = 0; note <= HBK_NOTE_MAX; note++) {
            struct tutored *const best = &t->best[note];
            const bool is_better = !best->is_there || here < best->rank;
            if (is_better &&
                hbk_taught_is(&t->rule, press, p, note) == HBK_TAUGHT_YES) {
                *best = (struct tutored){.is_there = true,
                                         .press = press,
                                         .partial = p,
                                         .rank = here};
            }
        }
    }
}

/* Whether a key has its name on it, or in a record: not in our own file. */
static bool is_named(const struct taker *t, size_t control)
{
    const struct hbk_horn *const horn = t->horn;
    const uint32_t bit = UINT32_C(1) << control;
    const enum hbk_provenance own = horn->controls[control].provenance;
    const enum hbk_provenance from =
        own == HBK_UNSTATED ? horn->provenance[HBK_PART_KEYS] : own;
    return (t->rule.keys & bit) != 0 && (t->rule.unsaid & bit) == 0 &&
           from != HBK_ASSUMED && from != HBK_OF_PATTERN;
}

/* How many keys have names. */
static size_t offer_all(struct taker *t)
{
    size_t n = 0;
    offer(t, 0, 0);
    for (size_t i = 0; i < t->horn->n_controls; i++) {
        if (is_named(t, i)) {
            offer(t, t->rule.with[i], 1 + (unsigned)i);
            n++;
        }
    }
    return n;
}

static enum hbk_status refuse(const struct hbk_horn *horn, const char *why,
                              struct hbk_faults *faults)
{
    hbk_fault_add(faults, hbk_whole_file(horn->path), HBK_H_NO_KEY_NAMES,
                  "the names of its keys tell nothing: %s", why);
    return HBK_ERR_NO_RESULT;
}

/* The horn as it was tuned, as a page of readings says it. */
static const struct hbk_reading_set *tuned_set(const struct taker *t)
{
    const struct hbk_horn *const horn = t->horn;
    const struct hbk_rig *const rig = &t->setup.rig;
    struct hbk_reading_set *const set =
        HBK_ARENA_ARRAY(t->arena, struct hbk_reading_set, 1);
    struct hbk_reading_draw *const draws =
        HBK_ARENA_ARRAY(t->arena, struct hbk_reading_draw, horn->n_slides + 1);
    for (size_t i = 0; i < horn->n_slides && rig->draw_m != NULL; i++) {
        draws[set->n_draws++] = (struct hbk_reading_draw){
            .slide = horn->slides[i].name,
            .draw_m = round(1e4 * rig->draw_m[i]) / 1e4,
            .place = hbk_whole_file(horn->path)};
    }
    set->draws = draws;
    for (unsigned i = 0; i < HBK_READING_BITS_MAX; i++) {
        if ((rig->bits >> i & 1U) != 0) {
            set->bits[set->n_bits++] = i + 1;
        }
    }
    set->none_stuck = true;
    return set;
}

static struct hbk_reading reading_of(const struct taker *t, int note,
                                     const struct hbk_reading_set *set)
{
    const struct tutored *const best = &t->best[note];
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(t->horn, best->press, label);
    return (struct hbk_reading){
        .place = hbk_whole_file(t->horn->path),
        .note = note,
        .fingering = hbk_arena_copy(t->arena, label, strlen(label)),
        .press = hbk_whole_file(t->horn->path),
        .partial = best->partial,
        .uncertainty_cents = HBK_NAMES_CENTS,
        .a4_hz = t->setup.tuned.pitch_hz,
        .temperature_c = t->setup.rig.temperature_c,
        .set = set,
        .is_name = true,
    };
}

static enum hbk_status set_up(struct taker *t, struct hbk_faults *faults)
{
    const struct hbk_horn *const horn = t->horn;
    struct hbk_setting setting = hbk_setting_of(horn);
    setting.stuck = (struct hbk_stuck){0};
    HBK_TRY(hbk_set_up(horn, &setting, t->arena, &t->setup, faults));
    const double c4_hz =
        hbk_note_hz(horn->written_c4_sounds, t->setup.tuned.pitch_hz);
    return hbk_taught_make(horn, &t->setup.rig, &setting.stuck, c4_hz, t->arena,
                           faults, &t->rule);
}

/* Whether a press opens a key that is shut at rest. */
static bool opens_a_key(const struct hbk_horn *horn, uint32_t press)
{
    bool opens = false;
    for (size_t i = 0; i < horn->n_controls; i++) {
        opens =
            opens || ((press >> i & 1U) != 0 && !horn->controls[i].stands_open);
    }
    return opens;
}

/*
 * Whether a note belongs to the horn: the lowest, with every key shut, also
 * where the file leaves it out of the compass because it comes out badly.
 */
static bool is_asked(const struct taker *t, int note)
{
    const struct hbk_horn *const horn = t->horn;
    const struct tutored *const best = &t->best[note];
    const bool is_all_shut = best->press != 0 &&
                             !opens_a_key(horn, best->press) &&
                             best->partial == horn->partials.lowest;
    return best->is_there && (!horn->has_compass || is_all_shut ||
                              (note >= horn->lowest && note <= horn->highest));
}

/* Named keys by which no note of the horn is fingered. */
static void say_idle_keys(const struct taker *t,
                          const struct hbk_readings *taken,
                          struct hbk_faults *faults)
{
    uint32_t pressed = 0;
    for (size_t i = 0; i < taken->n; i++) {
        pressed |= t->best[taken->readings[i].note].press;
    }
    for (size_t i = 0; i < t->horn->n_controls; i++) {
        const uint32_t own = t->rule.with[i];
        if (is_named(t, i) && (pressed & own) != own) {
            char label[HBK_LABEL_SIZE];
            hbk_fault_warn(
                faults, hbk_whole_file(t->horn->path), HBK_H_NO_KEY_NAMES,
                "the name of key %s tells nothing: by what the other keys are "
                "called, every note it would give is fingered without it; if "
                "it is called otherwise, mend its 'called'",
                hbk_horn_control_label(t->horn, i, label, sizeof(label)));
        }
    }
}

enum hbk_status hbk_names_take(const struct hbk_horn *horn,
                               const struct hbk_readings *read,
                               struct hbk_arena *arena,
                               struct hbk_readings *taken,
                               struct hbk_faults *faults)
{
    struct taker *const t = HBK_ARENA_ARRAY(arena, struct taker, 1);
    t->horn = horn;
    t->arena = arena;
    if (horn->model != HBK_MODEL_BORE) {
        return refuse(horn,
                      "this horn is described by its length, where a key "
                      "raises by what it is said to; give its bore",
                      faults);
    }
    if (horn->fitted.n_names > 0) {
        return refuse(horn,
                      "the file was fitted to them already, as 'fitted' in it "
                      "says; give the file from before that, if you have it",
                      faults);
    }
    HBK_TRY(set_up(t, faults));
    if (offer_all(t) < KEYS_LEAST) {
        return refuse(horn,
                      "two keys at least must be called by their notes, as in "
                      "'called: C#', and not be assumed or of a pattern, by "
                      "their 'provenance'",
                      faults);
    }
    const size_t n_read = read == NULL ? 0 : read->n;
    struct hbk_reading *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_reading, HBK_NOTE_MAX + 1 + n_read);
    const struct hbk_reading_set *const set = tuned_set(t);
    *taken = read == NULL ? (struct hbk_readings){.path = horn->path} : *read;
    taken->arena = (struct hbk_arena){0};
    taken->n = 0;
    for (int note = 0; note <= HBK_NOTE_MAX; note++) {
        if (is_asked(t, note)) {
            items[taken->n++] = reading_of(t, note, set);
        }
    }
    taken->readings = items;
    say_idle_keys(t, taken, faults);
    for (size_t i = 0; i < n_read; i++) {
        items[taken->n++] = read->readings[i];
    }
    return HBK_OK;
}

static bool is_of_shut_key(const struct hbk_horn *horn,
                           const struct hbk_reading *reading)
{
    uint32_t press = 0;
    return reading->is_name &&
           hbk_horn_press_parse(horn, reading->fingering, &press) &&
           opens_a_key(horn, press);
}

struct hbk_readings hbk_names_moved(const struct hbk_horn *horn,
                                    const struct hbk_readings *taken,
                                    int semitones, struct hbk_arena *arena)
{
    struct hbk_reading *const items =
        HBK_ARENA_ARRAY(arena, struct hbk_reading, taken->n + 1);
    struct hbk_readings moved = *taken;
    for (size_t i = 0; i < taken->n; i++) {
        items[i] = taken->readings[i];
        items[i].note += is_of_shut_key(horn, &items[i]) ? semitones : 0;
    }
    moved.readings = items;
    return moved;
}
