#include "base/messages.h"
#include "base/text.h"
#include "tune/melody/order_parts.h"
#include "tune/melody/unfold.h"

/* The bar after bar b up to which none is played. */
static size_t unplayed_end(const struct hbk_tune *tune, const bool played[],
                           size_t b)
{
    while (b < tune->n_bars && !played[b]) {
        b++;
    }
    return b;
}

/* Bars that are never played: "17-20" and so on. */
static void tell_unplayed(struct hbk_build *build)
{
    enum { LIST_MAX = 100 };
    const struct hbk_tune *const tune = build->tune;
    const bool *const played = hbk_tune_played_bars(tune, build->arena);
    struct hbk_text list = {.arena = build->arena};
    size_t n = 0;
    size_t first = HBK_TUNE_NONE;
    for (size_t b = 0; b < tune->n_bars; b++) {
        if (played[b] || tune->bars[b].count == 0) {
            continue;
        }
        const size_t end = unplayed_end(tune, played, b);
        first = first == HBK_TUNE_NONE ? b : first;
        n += end - b;
        if (list.length < LIST_MAX) {
            hbk_text_addf(&list, "%s%.20s%s%.20s", list.length > 0 ? ", " : "",
                          tune->bars[b].number, end > b + 1 ? "-" : "",
                          end > b + 1 ? tune->bars[end - 1].number : "");
        }
        b = end - 1;
    }
    if (n > 0) {
        hbk_build_warn(build, tune->bars[first].place, HBK_H_NEVER_PLAYED,
                       "bar%s %s %s never played, as the signs stand",
                       n == 1 ? "" : "s", hbk_text_string(&list),
                       n == 1 ? "is" : "are");
    }
}

/* A repeat that begins and does not end. */
static void tell_open_repeats(struct hbk_build *build,
                              const struct hbk_sections *sections)
{
    const struct hbk_tune *const tune = build->tune;
    for (size_t b = 0; b < tune->n_bars; b++) {
        if (tune->bars[b].repeat_start && sections->start[b] == b &&
            sections->times[b] == 1) {
            hbk_build_warn(build, tune->bars[b].place, HBK_H_REPEAT_SIGN,
                           "bar %.20s: the repeat that begins here does not "
                           "end: played once",
                           tune->bars[b].number);
        }
    }
}

void hbk_build_order(struct hbk_build *build)
{
    struct hbk_tune *const tune = build->tune;
    const struct hbk_sections sections = hbk_sections_of(tune, build->arena);
    struct hbk_order_walk walk = {
        .build = build,
        .tune = tune,
        .sections = &sections,
        .jump = HBK_TUNE_NONE,
        .segno = HBK_TUNE_NONE,
        .taken = HBK_ARENA_ARRAY(build->arena, bool, tune->n_bars + 1),
    };
    tune->order = (struct hbk_tune_order){.n = 0};
    tell_open_repeats(build, &sections);
    if (tune->form == NULL || !hbk_order_parts(&walk)) {
        const struct hbk_order_signs signs =
            hbk_order_signs_of(build, &sections);
        walk.signs = &signs;
        hbk_order_play(&walk, 0, tune->n_bars);
        walk.signs = NULL;
    }
    tune->order.too_long = walk.too_long;
    if (!walk.too_long) {
        tune->order.stretches = walk.stretches;
        tune->order.n = walk.n;
        tell_unplayed(build);
    }
}
