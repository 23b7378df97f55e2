#include "tune/melody/build_often.h"

#include "base/text.h"

#include <string.h>

static struct hbk_build_often *find(struct hbk_build *build, unsigned number)
{
    struct hbk_build_often *often = build->often;
    while (often != NULL && often->number != number) {
        often = often->next;
    }
    return often;
}

void hbk_build_often(struct hbk_build *build, struct hbk_place place,
                     unsigned number, const char *one, const char *many)
{
    const size_t n_bars = build->tune->n_bars;
    const size_t bar = n_bars == 0 ? 0 : n_bars - 1;
    struct hbk_build_often *often = find(build, number);
    if (often == NULL) {
        often = HBK_ARENA_ARRAY(build->arena, struct hbk_build_often, 1);
        *often = (struct hbk_build_often){
            .number = number,
            .place = place,
            .one = hbk_arena_copy(build->arena, one, strlen(one)),
            .many = many,
            .next = build->often};
        build->often = often;
    }
    often->count++;
    if (often->n_bars == 0 || often->bars[often->n_bars - 1] != bar) {
        HBK_ARENA_GROW(build->arena, often->bars, often->n_bars,
                       often->room_bars);
        often->bars[often->n_bars++] = bar;
    }
}

/* "bar 3", "bars 1, 3 to 6 and others". */
static const char *name_bars(const struct hbk_build *build,
                             const struct hbk_build_often *often)
{
    enum { LIST_MAX = 80 };
    const struct hbk_tune_bar *const bars = build->tune->bars;
    struct hbk_text text = {.arena = build->arena};
    hbk_text_add(&text, often->n_bars == 1 ? "bar " : "bars ");
    for (size_t i = 0; i < often->n_bars;) {
        if (text.length > LIST_MAX) {
            hbk_text_add(&text, " and others");
            break;
        }
        size_t last = i;
        while (last + 1 < often->n_bars &&
               often->bars[last + 1] == often->bars[last] + 1) {
            last++;
        }
        last = last == i + 1 ? i : last;
        hbk_text_addf(&text, "%s%.20s", i == 0 ? "" : ", ",
                      bars[often->bars[i]].number);
        if (last > i) {
            hbk_text_addf(&text, " to %.20s", bars[often->bars[last]].number);
        }
        i = last + 1;
    }
    return hbk_text_string(&text);
}

void hbk_build_tell_often(struct hbk_build *build)
{
    for (const struct hbk_build_often *often = build->often; often != NULL;
         often = often->next) {
        const char *const bars = name_bars(build, often);
        if (often->count == 1) {
            hbk_build_warn(build, often->place, often->number, "%s: %s", bars,
                           often->one);
        } else {
            hbk_build_warn(build, often->place, often->number,
                           "%s: %zu notes are %s", bars, often->count,
                           often->many);
        }
    }
}
