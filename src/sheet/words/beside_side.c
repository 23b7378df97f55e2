#include "sheet/words/beside_side.h"

#include "base/arena.h"
#include "horn/about.h"
#include "sheet/words/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* Whether pressing a valve raises the pitch. */
static bool raises(const struct hbk_notes *notes, size_t control)
{
    const double cents = notes->effect_cents[control];
    return isnan(cents) ? hbk_horn_control(notes->horn, control)->rests_in
                        : cents > 0.0;
}

struct hbk_side hbk_side_of(const struct hbk_notes *notes)
{
    struct hbk_side side = {.notes = notes, .horn = notes->horn};
    for (size_t i = 0; i < hbk_horn_n_controls(side.horn); i++) {
        const struct hbk_control *const control =
            hbk_horn_control(side.horn, i);
        const uint32_t bit = UINT32_C(1) << i;
        if (hbk_notes_stuck(notes, i)) {
            continue;
        }
        if (control->kind == HBK_KEY) {
            *(control->stands_open ? &side.open : &side.shut) |= bit;
        } else if (control->kind == HBK_VALVE) {
            *(raises(notes, i) ? &side.up : &side.down) |= bit;
        } else {
            side.triggers |= bit;
        }
    }
    return side;
}

uint32_t hbk_side_moves(const struct hbk_side *side)
{
    return side->shut | side->open | side->down | side->up;
}

int hbk_side_twin(const struct hbk_side *side, size_t control,
                  const struct hbk_side *other)
{
    const struct hbk_control *const what =
        hbk_horn_control(side->horn, control);
    const int twin = hbk_horn_find_control(other->horn, what->kind, what->name);
    const uint32_t moves = hbk_side_moves(other) | other->triggers;
    return twin >= 0 && (moves >> twin & 1u) != 0 ? twin : -1;
}

uint32_t hbk_side_shared(const struct hbk_side *side, uint32_t set,
                         const struct hbk_side *other, uint32_t other_set)
{
    uint32_t shared = 0;
    for (size_t i = 0; i < hbk_horn_n_controls(side->horn); i++) {
        const int twin =
            (set >> i & 1u) != 0 ? hbk_side_twin(side, i, other) : -1;
        if (twin >= 0 && (other_set >> twin & 1u) != 0) {
            shared |= UINT32_C(1) << i;
        }
    }
    return shared;
}

size_t hbk_side_count(uint32_t set)
{
    return (size_t)__builtin_popcount(set);
}

/* The number that is the name of a control; 0 for any other name. */
static int number_of(const struct hbk_control *control)
{
    char name[16];
    for (int number = 1; number <= HBK_CONTROLS_MAX; number++) {
        (void)snprintf(name, sizeof(name), "%d", number);
        if (strcmp(name, control->name) == 0) {
            return number;
        }
    }
    return 0;
}

/* Controls of one kind, in their order. */
struct chosen {
    size_t n;
    const struct hbk_control *of[HBK_CONTROLS_MAX];
};

/* How many from the first on are numbered on and on. */
static size_t run_length(const struct chosen *chosen, size_t first)
{
    size_t n = 1;
    const int start = number_of(chosen->of[first]);
    while (start > 0 && first + n < chosen->n &&
           number_of(chosen->of[first + n]) == start + (int)n) {
        n++;
    }
    return n;
}

/* "1", "1 and 3", "1 to 3, 5 and 6". */
static void add_numbers(struct hbk_text *text, const struct chosen *chosen)
{
    for (size_t i = 0; i < chosen->n;) {
        const size_t run = run_length(chosen, i);
        const size_t step = run > 2 ? run : 1;
        hbk_text_add(text, i == 0                  ? " "
                           : i + step == chosen->n ? " and "
                                                   : ", ");
        hbk_text_add(text, chosen->of[i]->name);
        if (step > 1) {
            hbk_text_addf(text, " to %s", chosen->of[i + step - 1]->name);
        }
        i += step;
    }
}

const char *hbk_side_list(struct hbk_arena *arena, const struct hbk_horn *horn,
                          uint32_t set)
{
    static const char *const words[] = {
        [HBK_KEY] = "key", [HBK_VALVE] = "valve", [HBK_TRIGGER] = "trigger"};
    static const enum hbk_control_kind kinds[] = {HBK_KEY, HBK_VALVE,
                                                  HBK_TRIGGER};
    struct hbk_text text = {.arena = arena};
    for (size_t k = 0; k < sizeof(kinds) / sizeof(kinds[0]); k++) {
        struct chosen chosen = {0};
        for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
            if ((set >> i & 1u) != 0 &&
                hbk_horn_control(horn, i)->kind == kinds[k]) {
                chosen.of[chosen.n++] = hbk_horn_control(horn, i);
            }
        }
        if (chosen.n > 0) {
            hbk_text_addf(&text, "%s%s%s", text.length == 0 ? "" : " and ",
                          words[kinds[k]], chosen.n == 1 ? "" : "s");
            add_numbers(&text, &chosen);
        }
    }
    return hbk_text_string(&text);
}

const char *hbk_side_list_first(struct hbk_arena *arena,
                                const struct hbk_horn *horn, uint32_t set)
{
    const char *const list = hbk_side_list(arena, horn, set);
    char *const copy = hbk_arena_copy(arena, list, strlen(list));
    if (copy[0] >= 'a' && copy[0] <= 'z') {
        copy[0] = (char)(copy[0] - 'a' + 'A');
    }
    return copy;
}

void hbk_side_say(struct hbk_text *text, const char *sentence)
{
    hbk_text_addf(text, "%s%s",
                  text->length == 0 || sentence[0] == '\0' ? "" : " ",
                  sentence);
}
