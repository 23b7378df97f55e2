#include "sheet/words_slides.h"

#include "base/text.h"

#include <math.h>

/* Nearer than this the two ends are one. */
static const double same_hz = 0.05;
/* A slide at its end, and one that wants more than it has. */
static const double at_end_m = 0.05e-3;

const char *hbk_words_reach(struct hbk_arena *arena,
                            const struct hbk_slides *slides)
{
    const struct hbk_reach *const reach = &slides->reach;
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(&text, "A degree warmer is %.1f cents sharper",
                  reach->cents_per_degree);
    if (reach->highest_hz - reach->lowest_hz < same_hz) {
        hbk_text_addf(&text,
                      "; nothing can be drawn, and the horn stays at A4 = "
                      "%.1f Hz.",
                      reach->highest_hz);
    } else {
        hbk_text_addf(&text,
                      "; the horn can be brought to A4 from %.1f to %.1f Hz.",
                      reach->lowest_hz, reach->highest_hz);
    }
    return hbk_text_string(&text);
}

const char *hbk_words_slide_limits(struct hbk_arena *arena,
                                   const struct hbk_slides *slides)
{
    struct hbk_text text = {.arena = arena};
    for (size_t s = 0; s < slides->n; s++) {
        const struct hbk_slide *const slide = &slides->horn->slides[s];
        const struct hbk_slide_pull *const pull = &slides->pulls[s];
        if (slide->valve < 0) {
            continue;
        }
        const char *const before = text.length > 0 ? " " : "";
        if (pull->own_m > slide->travel_m + at_end_m) {
            hbk_text_addf(&text,
                          "%sThe %s slide would want %.1f mm to stay in "
                          "proportion, and has %.1f.",
                          before, slide->name, 1000.0 * pull->own_m,
                          1000.0 * slide->travel_m);
        } else if (pull->draw_m > slide->travel_m - at_end_m) {
            hbk_text_addf(&text, "%sThe %s slide is out as far as it goes.",
                          before, slide->name);
        } else if (pull->own_m < -at_end_m) {
            hbk_text_addf(&text,
                          "%sThe %s slide would have to be %.1f mm shorter "
                          "than home to stay in proportion.",
                          before, slide->name, -1000.0 * pull->own_m);
        }
    }
    return hbk_text_string(&text);
}
