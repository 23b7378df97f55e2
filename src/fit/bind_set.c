#include "fit/bind_set.h"

#include "base/messages.h"
#include "base/text.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "horn/stuck_list.h"

#include <string.h>

/* The first name that stands in a fingering twice, or length 0. */
static size_t find_double(const char *fingering, const char **name)
{
    for (const char *at = fingering; *at != '\0';) {
        const size_t length = strcspn(at, "-");
        const char *next = at + length;
        while (*next == '-') {
            const size_t other = strcspn(next + 1, "-");
            if (other == length && strncmp(at, next + 1, length) == 0) {
                *name = at;
                return length;
            }
            next += 1 + other;
        }
        at += length + (at[length] == '-' ? 1 : 0);
    }
    return 0;
}

/* "13" as "1-3", where the horn has both; NULL where it has not. */
static const char *spread(const struct hbk_binder *b, const char *fingering)
{
    struct hbk_text out = {.arena = b->arena};
    uint32_t press = 0;
    for (const char *at = fingering; *at != '\0'; at++) {
        hbk_text_addf(&out, "%s%c", out.length > 0 ? "-" : "", *at);
    }
    const char *const text = hbk_text_string(&out);
    return fingering[0] != '\0' && fingering[1] != '\0' &&
                   hbk_horn_press_parse(b->horn, text, &press)
               ? text
               : NULL;
}

void hbk_bind_say_press(const struct hbk_binder *b,
                        const struct hbk_reading *reading)
{
    const char *name = NULL;
    const size_t doubled = find_double(reading->fingering, &name);
    if (doubled > 0) {
        hbk_fault_add(b->faults, reading->press, HBK_H_NO_SUCH_PRESS,
                      "'%.60s' names %.*s twice; write it once",
                      reading->fingering, (int)doubled, name);
        return;
    }
    const char *const meant = spread(b, reading->fingering);
    if (meant != NULL) {
        hbk_fault_add(b->faults, reading->press, HBK_H_NO_SUCH_PRESS,
                      "'%.60s' names what this horn has not; did you mean %s?",
                      reading->fingering, meant);
        return;
    }
    struct hbk_text list = {.arena = b->arena};
    for (size_t i = 0; i < b->horn->n_controls; i++) {
        char label[HBK_LABEL_SIZE];
        hbk_text_addf(&list, "%s%s", i == 0 ? "" : ", ",
                      hbk_horn_control_label(b->horn, i, label, sizeof(label)));
    }
    hbk_fault_add(b->faults, reading->press, HBK_H_NO_SUCH_PRESS,
                  "'%.60s' names what this horn has not; write 0 for nothing "
                  "pressed%s%s%s",
                  reading->fingering,
                  b->horn->n_controls > 0 ? ", or join with - any of " : "",
                  hbk_text_string(&list),
                  b->horn->n_controls > 0 ? "" : "; it has nothing to press");
}

/* "; did you mean 'A'?", or all names that there are. */
static const char *say_names(const struct hbk_binder *b, const char *word,
                             const char *const names[], size_t n)
{
    struct hbk_text out = {.arena = b->arena};
    /* Letters alone are as near to one another as they can be. */
    const char *const meant =
        strlen(word) > 2 ? hbk_text_nearest(word, names, n) : NULL;
    if (meant != NULL) {
        hbk_text_addf(&out, "did you mean '%s'?", meant);
        hbk_text_add(&out, n > 1 ? " It has " : "");
    } else {
        hbk_text_add(&out, "it has ");
    }
    for (size_t i = 0; i < n && (meant == NULL || n > 1); i++) {
        hbk_text_addf(&out, "%s%s", i == 0 ? "" : ", ", names[i]);
    }
    return hbk_text_string(&out);
}

/* What holds for several readings is told once. */
static void say_setting(const struct hbk_binder *b, struct hbk_place place,
                        const char *text)
{
    for (size_t i = 0; i < b->faults->count; i++) {
        const struct hbk_fault *const fault = &b->faults->items[i];
        if (fault->number == HBK_H_NO_SUCH_SETTING &&
            strcmp(fault->text, text) == 0) {
            return;
        }
    }
    hbk_fault_add(b->faults, place, HBK_H_NO_SUCH_SETTING, "%s", text);
}

static void bind_crook(const struct hbk_binder *b,
                       const struct hbk_reading_set *set, struct hbk_rig *rig)
{
    rig->crook = -1;
    for (size_t c = 0; set->crook != NULL && c < b->horn->n_crooks; c++) {
        if (strcmp(b->horn->crooks[c].name, set->crook) == 0) {
            rig->crook = (int)c;
        }
    }
    if (set->crook == NULL || rig->crook >= 0) {
        return;
    }
    const char **const names =
        HBK_ARENA_ARRAY(b->arena, const char *, b->horn->n_crooks + 1);
    for (size_t c = 0; c < b->horn->n_crooks; c++) {
        names[c] = b->horn->crooks[c].name;
    }
    say_setting(b, set->crook_place,
                hbk_arena_printf(
                    b->arena, "set: this horn has no crook '%.40s'; %s",
                    set->crook,
                    b->horn->n_crooks > 0
                        ? say_names(b, set->crook, names, b->horn->n_crooks)
                        : "write 'crook: none'"));
}

static void bind_mouthpiece(const struct hbk_binder *b,
                            const struct hbk_reading_set *set,
                            struct hbk_rig *rig)
{
    const struct hbk_horn *const horn = b->horn;
    const char **const names =
        HBK_ARENA_ARRAY(b->arena, const char *, horn->n_mouthpieces + 1);
    for (size_t i = 0; i < horn->n_mouthpieces; i++) {
        names[i] = horn->mouthpieces[i].name;
        if (set->mouthpiece != NULL && strcmp(names[i], set->mouthpiece) == 0) {
            rig->mouthpiece = i + 1;
        }
    }
    if (set->mouthpiece == NULL || rig->mouthpiece > 0) {
        return;
    }
    say_setting(
        b, set->mouthpiece_place,
        hbk_arena_printf(
            b->arena, "set: this horn has no mouthpiece '%.40s'; %s",
            set->mouthpiece,
            horn->n_mouthpieces > 0
                ? say_names(b, set->mouthpiece, names, horn->n_mouthpieces)
            : horn->model == HBK_MODEL_BORE
                ? "its file lists none; leave this out"
                : "to a horn described by its length it makes no "
                  "difference; leave this out"));
}

/*
 * What was meant by the name of a slide that is not there: one of the n slides,
 * or one of the other things that a set says.
 */
static const char *say_slides(const struct hbk_binder *b, const char *word,
                              const char *const names[], size_t n)
{
    static const char *const others[] = {"mouthpiece", "crook", "stuck",
                                         "bits"};
    const char *const other =
        strlen(word) > 2 && hbk_text_nearest(word, names, n) == NULL
            ? hbk_text_nearest(word, others, sizeof(others) / sizeof(others[0]))
            : NULL;
    if (other != NULL) {
        return hbk_arena_printf(b->arena, "did you mean '%s'?", other);
    }
    return n > 0 ? say_names(b, word, names, n)
                 : "it has none to pull; leave this out";
}

static void bind_draws(const struct hbk_binder *b,
                       const struct hbk_reading_set *set, double draw_m[])
{
    const struct hbk_horn *const horn = b->horn;
    const char **const names =
        HBK_ARENA_ARRAY(b->arena, const char *, horn->n_slides + 1);
    for (size_t s = 0; s < horn->n_slides; s++) {
        names[s] = horn->slides[s].name;
        draw_m[s] = horn->slides[s].stands_out_m;
    }
    for (size_t i = 0; i < set->n_draws; i++) {
        const struct hbk_reading_draw *const draw = &set->draws[i];
        size_t s = 0;
        while (s < horn->n_slides &&
               strcmp(horn->slides[s].name, draw->slide) != 0) {
            s++;
        }
        if (s == horn->n_slides) {
            say_setting(b, draw->place,
                        hbk_arena_printf(
                            b->arena, "set: this horn has no slide '%.40s'; %s",
                            draw->slide,
                            say_slides(b, draw->slide, names, horn->n_slides)));
        } else if (draw->draw_m > horn->slides[s].travel_m + 1e-9) {
            say_setting(
                b, draw->place,
                hbk_arena_printf(
                    b->arena,
                    "set: slide %.40s cannot be pulled %g mm; it goes %g "
                    "mm, as the hand pulls it",
                    draw->slide, 1000.0 * draw->draw_m,
                    1000.0 * horn->slides[s].travel_m));
        } else {
            draw_m[s] = draw->draw_m;
        }
    }
}

/* What is stuck before the set says anything of it. */
static struct hbk_stuck stuck_before(const struct hbk_binder *b,
                                     const struct hbk_reading_set *set)
{
    static const struct hbk_stuck nothing;
    return set->none_stuck ? nothing : b->horn->stuck;
}

/* What is stuck stands where it is, unless its draw was read as well. */
static void bind_stuck_slides(const struct hbk_binder *b,
                              const struct hbk_reading_set *set,
                              double draw_m[])
{
    struct hbk_stuck stuck = stuck_before(b, set);
    struct hbk_text unheard = {.arena = b->arena}; /* told where it is bound */
    if (set->stuck != NULL) {
        (void)hbk_stuck_parse(b->horn, &stuck, set->stuck, &stuck, &unheard);
    }
    for (size_t s = 0; s < b->horn->n_slides; s++) {
        if ((stuck.slides >> s & 1U) != 0) {
            draw_m[s] = stuck.slide_out_m[s];
        }
    }
}

static void bind_bits(const struct hbk_binder *b,
                      const struct hbk_reading_set *set, struct hbk_rig *rig)
{
    for (size_t i = 0; i < set->n_bits; i++) {
        if (set->bits[i] > b->horn->n_bits) {
            say_setting(b, set->bits_place,
                        hbk_arena_printf(
                            b->arena,
                            "set: this horn has no bit %u; it has %zu, counted "
                            "in the order of its file",
                            set->bits[i], b->horn->n_bits));
        } else {
            rig->bits |= UINT32_C(1) << (set->bits[i] - 1);
        }
    }
}

static bool same_rig(const struct hbk_binder *b, const struct hbk_rig *x,
                     const struct hbk_rig *y)
{
    return x->temperature_c == y->temperature_c && x->crook == y->crook &&
           x->mouthpiece == y->mouthpiece && x->bits == y->bits &&
           x->as_played == y->as_played &&
           (b->horn->n_slides == 0 ||
            memcmp(x->draw_m, y->draw_m,
                   b->horn->n_slides * sizeof(*x->draw_m)) == 0);
}

size_t hbk_bind_rig(struct hbk_binder *b, const struct hbk_reading *reading,
                    const struct hbk_reading *before, size_t before_rig)
{
    if (before != NULL && before->set == reading->set &&
        before->temperature_c == reading->temperature_c) {
        return before_rig;
    }
    double *const draw_m =
        HBK_ARENA_ARRAY(b->arena, double, b->horn->n_slides + 1);
    struct hbk_rig rig = {.temperature_c = reading->temperature_c,
                          .draw_m = draw_m,
                          .as_played = !reading->is_name};
    bind_crook(b, reading->set, &rig);
    bind_mouthpiece(b, reading->set, &rig);
    bind_stuck_slides(b, reading->set, draw_m);
    bind_draws(b, reading->set, draw_m);
    bind_bits(b, reading->set, &rig);
    for (size_t r = 0; r < b->n_rigs; r++) {
        if (same_rig(b, &b->rigs[r], &rig)) {
            return r;
        }
    }
    b->rigs[b->n_rigs] = rig;
    return b->n_rigs++;
}

uint32_t hbk_bind_stuck(const struct hbk_binder *b,
                        const struct hbk_reading *reading, uint32_t press,
                        struct hbk_stuck *all)
{
    const struct hbk_reading_set *const set = reading->set;
    struct hbk_stuck stuck = stuck_before(b, set);
    struct hbk_text why = {.arena = b->arena};
    if (set->stuck != NULL &&
        !hbk_stuck_parse(b->horn, &stuck, set->stuck, &stuck, &why)) {
        say_setting(b, set->stuck_place,
                    hbk_arena_printf(b->arena, "set: stuck: %s",
                                     hbk_text_string(&why)));
    }
    if ((press & stuck.held_up) != 0) {
        say_setting(b, reading->press,
                    hbk_arena_printf(
                        b->arena,
                        "'%.60s' presses what is said to be stuck (%.60s); "
                        "correct one of them",
                        reading->fingering,
                        set->stuck == NULL ? "in the horn file" : set->stuck));
    }
    all->held_down &= stuck.held_down;
    all->held_up &= stuck.held_up;
    return press | stuck.held_down;
}
