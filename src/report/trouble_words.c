#include "report/trouble_words.h"

#include "horn/horn.h"

#include <math.h>
#include <string.h>

const char *hbk_trouble_odds(double probability)
{
    return probability >= 0.99   ? "almost certain"
           : probability >= 0.9  ? "very likely"
           : probability >= 0.67 ? "likely"
           : probability >= 0.33 ? "as likely as not"
           : probability >= 0.1  ? "possible"
                                 : "unlikely";
}

/* Which of the holes that one key works, counted from the bell; 0: only one. */
static size_t hole_of_key(const struct hbk_horn *horn, size_t at)
{
    const uint32_t term = horn->sites[at].terms[0];
    size_t number = 0;
    size_t n = 0;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind == HBK_HOLE && site->n_terms > 0 &&
            site->terms[0] == term) {
            n++;
            number = k == at ? n : number;
        }
    }
    return n > 1 ? number : 0;
}

static void add_hole(const struct hbk_horn *horn, size_t site,
                     struct hbk_text *out)
{
    const size_t number = hole_of_key(horn, site);
    if (number > 0) {
        hbk_text_addf(out, " (its hole %zu)", number);
    }
}

static void add_slide(const struct hbk_horn *horn,
                      const struct hbk_trouble *trouble, bool in_short,
                      struct hbk_text *out)
{
    const struct hbk_slide *const slide = &horn->slides[trouble->what.slide];
    char name[64];
    if (slide->valve >= 0) {
        hbk_text_addf(out, "the slide of %s",
                      hbk_control_words(&horn->controls[slide->valve], name,
                                        sizeof(name)));
    } else if (strcmp(slide->name, "main") == 0) {
        hbk_text_add(out, "the main slide");
    } else {
        hbk_text_addf(out, "the slide called %s", slide->name);
    }
    const double mm = 1e3 * trouble->amount_m;
    if (in_short) {
        hbk_text_addf(out, " is further %s", mm < 0.0 ? "in" : "out");
        return;
    }
    const double sd = 1e3 * trouble->amount_sd_m;
    if (fabs(mm) < 0.5) {
        hbk_text_addf(out,
                      " is not quite where the page says (give or take %.0f "
                      "mm)",
                      fmax(sd, 1.0));
        return;
    }
    hbk_text_addf(out, " is %.0f mm further %s than the page says", fabs(mm),
                  mm < 0.0 ? "in" : "out");
    if (sd >= 0.5) {
        hbk_text_addf(out, " (give or take %.0f)", sd);
    }
}

static void add_pad(const struct hbk_horn *horn,
                    const struct hbk_trouble *trouble, const char *control,
                    bool in_short, struct hbk_text *out)
{
    const bool is_leak = trouble->what.kind == HBK_TROUBLE_LEAK;
    hbk_text_addf(out, is_leak ? "the pad of %s" : "%s", control);
    add_hole(horn, (size_t)trouble->what.site, out);
    if (trouble->is_whole) {
        hbk_text_add(out, is_leak ? " does not close" : " does not open");
        return;
    }
    hbk_text_add(out, is_leak ? " leaks" : " opens too little");
    if (!isnan(trouble->amount_m) && !in_short) {
        hbk_text_addf(out,
                      is_leak ? ", as a hole of %.1f mm would"
                              : ": its pad lifts only %.1f mm or so",
                      1e3 * trouble->amount_m);
    }
}

void hbk_trouble_words(const struct hbk_horn *horn,
                       const struct hbk_trouble *trouble, bool in_short,
                       struct hbk_text *out)
{
    char control[64] = "";
    if (trouble->what.control >= 0) {
        hbk_control_words(&horn->controls[trouble->what.control], control,
                          sizeof(control));
    }
    switch (trouble->what.kind) {
    case HBK_TROUBLE_NONE:
        hbk_text_add(out, "nothing is wrong");
        return;
    case HBK_TROUBLE_OTHER:
        hbk_text_add(out, "more than one thing, or something else");
        return;
    case HBK_TROUBLE_LEAK:
    case HBK_TROUBLE_LIFT:
        add_pad(horn, trouble, control, in_short, out);
        return;
    case HBK_TROUBLE_SLIDE:
        add_slide(horn, trouble, in_short, out);
        return;
    case HBK_TROUBLE_STUCK_DOWN:
        hbk_text_addf(out, "%s sticks down", control);
        return;
    case HBK_TROUBLE_STUCK_UP:
        hbk_text_addf(out, "%s does not go down", control);
        return;
    }
}

const char *hbk_trouble_look(const struct hbk_trouble *trouble)
{
    switch (trouble->what.kind) {
    case HBK_TROUBLE_LEAK:
        return "Have somebody press the pad gently onto its hole while you "
               "play the note again: if the note moves, the pad leaks.";
    case HBK_TROUBLE_LIFT:
        return "Look whether the pad lifts as far as those beside it, and "
               "whether its cork or felt has swollen or slipped.";
    case HBK_TROUBLE_SLIDE:
        return "Measure how far out the slide is, set it as it was when the "
               "horn played well, and read a note again.";
    case HBK_TROUBLE_STUCK_DOWN:
    case HBK_TROUBLE_STUCK_UP:
        return "Work the valve slowly and watch it, and look at its spring. "
               "If it does not move freely, do not force it.";
    case HBK_TROUBLE_NONE:
    case HBK_TROUBLE_OTHER:
        break;
    }
    return "";
}
