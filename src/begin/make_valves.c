#include "begin/make_valves.h"

#include "base/text.h"
#include "begin/fingers.h"
#include "horn/horn.h"
#include "music/pitch.h"

#include <math.h>
#include <string.h>

/* A loop as a file has it: a share, mm or cents. */
static const char *loop_words(struct hbk_arena *arena,
                              const struct hbk_loop *loop)
{
    return loop->measure == HBK_LOOP_SHARE
               ? hbk_arena_printf(arena, "%.3f %%", 100.0 * loop->value)
               : hbk_arena_printf(arena, "%g", 1000.0 * loop->value);
}

/* The number of the valve that control is; 0 for none. */
static size_t number_of(const struct hbk_horn *horn, size_t control)
{
    size_t number = 0;
    for (size_t i = 0; i <= control; i++) {
        number += horn->controls[i].kind == HBK_VALVE ? 1 : 0;
    }
    return horn->controls[control].kind == HBK_VALVE ? number : 0;
}

static uint32_t lowest_bit(uint32_t term)
{
    return term & (~term + 1U);
}

/*
 * "{adds: 4.1 %, when: [1, 4]}" for each loop that comes in only with other
 * valves, after the valve's own; nothing where the horn lacks one of them.
 */
static void add_combined(struct hbk_text *text, const struct hbk_horn *horn,
                         size_t valve, size_t n_valves)
{
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        const uint32_t term = site->terms[0];
        if (site->kind != HBK_LOOP || lowest_bit(term) == term ||
            lowest_bit(term) != UINT32_C(1) << valve) {
            continue;
        }
        struct hbk_text when = {.arena = text->arena};
        bool has_all = true;
        for (size_t i = 0; i < horn->n_controls; i++) {
            if ((term >> i & 1U) != 0) {
                const size_t number = number_of(horn, i);
                has_all = has_all && number > 0 && number <= n_valves;
                hbk_text_addf(&when, "%s%zu", when.length == 0 ? "" : ", ",
                              number);
            }
        }
        if (has_all) {
            hbk_text_addf(text, ", {adds: %s, when: [%s]}",
                          loop_words(text->arena, &site->loop),
                          hbk_text_string(&when));
        }
    }
}

/* What the pattern says of the length of that valve's loops. */
static const char *pattern_length(struct hbk_arena *arena,
                                  const struct hbk_horn *horn, size_t valve,
                                  size_t n_valves)
{
    const struct hbk_site *const site = hbk_pattern_site(horn, valve);
    struct hbk_text more = {.arena = arena};
    const char *const rest = site->at_rest ? "rest: in, " : "";
    if (site->loop.measure == HBK_LOOP_CENTS) {
        return hbk_arena_printf(arena, "%s%s: %g cents", rest,
                                site->at_rest ? "raises" : "lowers",
                                site->loop.value);
    }
    add_combined(&more, horn, valve, n_valves);
    const char *const own = loop_words(arena, &site->loop);
    return more.length == 0 ? hbk_arena_printf(arena, "%sloop: %s", rest, own)
                            : hbk_arena_printf(arena, "%sloops: [%s%s]", rest,
                                               own, hbk_text_string(&more));
}

/* The valve of the pattern that does so much, that of its own number first. */
static int does_alike(const struct hbk_horn *horn, size_t i, int lowers)
{
    const int own = hbk_pattern_control(horn, HBK_VALVE, i);
    int found = -1;
    if (own >= 0 && hbk_pattern_lowers(horn, (size_t)own) == lowers) {
        return own;
    }
    for (size_t k = 0; k < horn->n_controls; k++) {
        if (found < 0 && horn->controls[k].kind == HBK_VALVE &&
            hbk_pattern_lowers(horn, k) == lowers) {
            found = (int)k;
        }
    }
    return found;
}

/* Fingers of valves that the pattern has not, of those that no other has. */
static const char *spare_finger(const struct hbk_draft *draft, size_t i)
{
    static const enum hbk_finger order[] = {
        HBK_R_INDEX, HBK_R_MIDDLE, HBK_R_RING,   HBK_L_INDEX, HBK_L_MIDDLE,
        HBK_L_RING,  HBK_L_LITTLE, HBK_R_LITTLE, HBK_L_THUMB, HBK_R_THUMB};
    for (size_t k = 0; k < HBK_FINGER_COUNT; k++) {
        const char *const name = hbk_finger_name(order[k]);
        bool is_free = true;
        for (size_t v = 0; v < i; v++) {
            is_free = is_free && strstr(draft->valves[v].finger, name) == NULL;
        }
        for (size_t key = 0; key < draft->n_keys; key++) {
            is_free = is_free && strstr(draft->keys[key].finger, name) == NULL;
        }
        if (is_free) {
            return name;
        }
    }
    return hbk_finger_name(HBK_L_INDEX);
}

/* Whether valves are only ever pressed alone, as each raises by its own. */
static bool are_independent(const struct hbk_answers *answers, size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (hbk_answers_lowers(answers, i) > 0) {
            return false;
        }
    }
    return n > 1;
}

static enum hbk_provenance take_length(const struct hbk_answers *answers,
                                       struct hbk_draft *draft, size_t i)
{
    struct hbk_draft_valve *const valve = &draft->valves[i];
    struct hbk_arena *const arena = answers->arena;
    const struct hbk_horn *const from = draft->pattern->horn;
    const char *const rest = valve->lowers < 0 ? "rest: in, " : "";
    const int like = does_alike(from, i, valve->lowers);
    if (answers->given[HBK_ASK_LOOPS]) {
        valve->length =
            hbk_arena_printf(arena, "%sloop: %g", rest, answers->loops_mm[i]);
        return HBK_MEASURED;
    }
    if (like >= 0) {
        valve->length =
            pattern_length(arena, from, (size_t)like, draft->n_valves);
        return HBK_OF_PATTERN;
    }
    valve->length =
        hbk_arena_printf(arena, "%s%s: %.0f cents", rest,
                         valve->lowers < 0 ? "raises" : "lowers",
                         HBK_SEMITONE_CENTS * fabs((double)valve->lowers));
    return HBK_ASSUMED;
}

void hbk_draft_valves(const struct hbk_answers *answers,
                      struct hbk_draft *draft)
{
    const struct hbk_horn *const from = draft->pattern->horn;
    const int first = hbk_pattern_control(from, HBK_VALVE, 0);
    const bool is_alone = are_independent(answers, draft->n_valves);
    const enum hbk_action usual =
        first < 0 ? HBK_ACTION_PISTON : from->controls[first].action;
    for (size_t i = 0; i < draft->n_valves; i++) {
        struct hbk_draft_valve *const valve = &draft->valves[i];
        const int own = hbk_pattern_control(from, HBK_VALVE, i);
        valve->lowers = hbk_answers_lowers(answers, i);
        valve->is_alone = is_alone;
        valve->action =
            answers->given[HBK_ASK_ACTION] ? answers->action : usual;
        valve->finger =
            own < 0 ? spare_finger(draft, i)
                    : hbk_fingers_written(answers->arena, &from->controls[own]);
        valve->provenance = take_length(answers, draft, i);
    }
}
