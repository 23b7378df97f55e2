#include "sheet/words/words_slides.h"

#include "base/text.h"
#include "horn/horn.h"
#include "horn/pull.h"

/* Nearer than this the two ends are one. */
static const double same_hz = 0.05;
const char *hbk_words_reach(struct hbk_arena *arena,
                            const struct hbk_slides *slides)
{
    const struct hbk_reach *const reach = &slides->reach;
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(&text, "A degree warmer is %.1f cents sharper",
                  reach->cents_per_degree);
    if (reach->highest_hz - reach->lowest_hz < same_hz) {
        hbk_text_addf(&text,
                      "; nothing can be drawn, and the horn stays at A = "
                      "%.1f Hz.",
                      reach->highest_hz);
    } else {
        hbk_text_addf(&text,
                      "; the horn can be brought to A = %.1f to %.1f Hz.",
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
                     "All notes together lie %.0f cents off with the valve "
                     "slides home, %.0f in proportion, %.0f in the best "
                     "compromise.",
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
                          "%sThe %s slide would want %s mm to stay in "
                          "proportion, and has %.4g.",
                          before, slide->name,
                          hbk_pull_text(horn, pull->own_m, mm), travel_mm);
        } else if (hbk_pull_slide_mm(horn, s, pull->draw_m) >= travel_mm) {
            hbk_text_addf(&text, "%sThe %s slide is out as far as it goes.",
                          before, slide->name);
        } else if (hbk_pull_mm(horn, pull->own_m) < 0.0) {
            hbk_text_addf(&text,
                          "%sThe %s slide would have to be %s mm shorter "
                          "than home to stay in proportion.",
                          before, slide->name,
                          hbk_pull_text(horn, -pull->own_m, mm));
        }
    }
    return hbk_text_string(&text);
}
