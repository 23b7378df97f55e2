#include "sheet/words/words_slides.h"

#include "base/text.h"
#include "horn/horn.h"
#include "horn/pull.h"

#include <string.h>

/* Nearer than this the two ends are one. */
static const double same_hz = 0.05;
const char *hbk_words_reach(struct hbk_arena *arena,
                            const struct hbk_slides *slides)
{
    const struct hbk_reach *const reach = &slides->reach;
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(&text, "One degree warmer is %.1f cents sharper. ",
                  reach->cents_per_degree);
    if (reach->highest_hz - reach->lowest_hz < same_hz) {
        hbk_text_addf(&text,
                      "Nothing can be pulled: the horn plays at A = "
                      "%.1f Hz.",
                      reach->highest_hz);
    } else {
        hbk_text_addf(&text, "The horn can be tuned from A = %.1f to %.1f Hz.",
                      reach->lowest_hz, reach->highest_hz);
    }
    return hbk_text_string(&text);
}

const char *hbk_words_slide_ways(struct hbk_arena *arena,
                                 const struct hbk_slides *slides)
{
    return !slides->has_valve_slides
               ? ""
               : hbk_arena_printf(
                     arena,
                     "A note is %.0f cents off on average with the valve "
                     "slides in, %.0f at each valve\u2019s own interval, "
                     "%.0f in the best compromise.",
                     slides->home_rms, slides->own_rms, slides->best_rms);
}

const char *hbk_words_slide_limits(struct hbk_arena *arena,
                                   const struct hbk_slides *slides)
{
    const struct hbk_horn *const horn = slides->horn;
    struct hbk_text text = {.arena = arena};
    for (size_t s = 0; s < slides->n; s++) {
        const struct hbk_slide *const slide = &horn->slides[s];
        const struct hbk_slide_pull *const pull = &slides->pulls[s];
        const double travel_mm = 1e3 * slide->travel_m;
        if (slide->valve < 0) {
            continue;
        }
        const char *const before = text.length > 0 ? " " : "";
        char mm[HBK_PULL_SIZE];
        if (hbk_pull_slide_mm(horn, s, pull->own_m) > travel_mm) {
            hbk_text_addf(&text,
                          "%sThe %s slide would need %s mm to keep the "
                          "valve\u2019s own interval; it has %.4g.",
                          before, slide->name,
                          hbk_pull_text(horn, pull->own_m, mm), travel_mm);
        } else if (hbk_pull_slide_mm(horn, s, pull->draw_m) >= travel_mm) {
            hbk_text_addf(&text, "%sThe %s slide is out all the way.", before,
                          slide->name);
        } else if (hbk_pull_mm(horn, pull->own_m) < 0.0) {
            hbk_text_addf(&text,
                          "%sThe %s slide, pushed in, is still %s mm too "
                          "long for the valve\u2019s own interval.",
                          before, slide->name,
                          hbk_pull_text(horn, -pull->own_m, mm));
        }
    }
    return hbk_text_string(&text);
}

const char *hbk_words_slide_name(struct hbk_arena *arena,
                                 const struct hbk_slide *slide)
{
    const bool bare = slide->legs == 2 && strstr(slide->name, "slide") == NULL;
    return hbk_arena_printf(arena, "%s%s", slide->name, bare ? " slide" : "");
}

const char *hbk_words_slide_order(struct hbk_arena *arena,
                                  const struct hbk_slides *slides, size_t s)
{
    const char *name = hbk_words_slide_name(arena, &slides->horn->slides[s]);
    name += strncmp(name, "the ", 4) == 0 ? 4 : 0;
    const bool is_stuck = (slides->notes.setting.stuck.slides >> s & 1U) != 0;
    if (is_stuck) {
        return hbk_arena_printf(arena, "Stuck: the %s", name);
    }
    return hbk_arena_printf(
        arena, "%s the %s",
        hbk_pull_slide_mm(slides->horn, s, slides->pulls[s].draw_m) > 0.0
            ? "Pull"
            : "Push",
        name);
}

bool hbk_slides_all_in(const struct hbk_slides *slides)
{
    for (size_t s = 0; s < slides->n; s++) {
        if (hbk_pull_slide_mm(slides->horn, s, slides->pulls[s].draw_m) > 0.0) {
            return false;
        }
    }
    return slides->n > 0 && slides->notes.tuned.bits == 0;
}
