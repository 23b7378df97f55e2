#include "begin/write_parts.h"

#include "begin/write_yaml.h"
#include "horn/horn.h"

/* The parts of a horn file that are lists, each under how it is measured. */

static void write_called(const struct hbk_draft_key *key, struct hbk_text *out)
{
    if (key->called == NULL) {
        return;
    }
    hbk_text_add(out, "called: ");
    hbk_write_scalar(out, key->called, true);
    hbk_text_add(out, ", ");
}

void hbk_write_keys(const struct hbk_draft *draft, struct hbk_text *out)
{
    if (draft->n_keys == 0) {
        return;
    }
    hbk_text_add(out, "\n");
    hbk_write_lines(out, "# ", "Keys, numbered from the bell.");
    hbk_write_remark(out, "called",
                     "look: the note that is engraved on it or that it is for");
    hbk_write_remark(out, "rest",
                     "look: open or closed while nobody presses it");
    hbk_write_remark(out, "raises",
                     "measure: the semitones from the open note to the note "
                     "with this key alone, on a tuner; 1.9 if it is not quite "
                     "2. A key that is open at rest lowers: -1");
    hbk_write_remark(
        out, "finger",
        "look: the finger that lies on it; of two, [left thumb, right thumb]");
    hbk_text_add(out, "keys:\n");
    for (size_t i = 0; i < draft->n_keys; i++) {
        const struct hbk_draft_key *const key = &draft->keys[i];
        hbk_text_addf(out, "  - {key: %zu, ", i + 1);
        write_called(key, out);
        hbk_text_addf(out, "rest: %s, raises: %g, ",
                      key->is_open ? "open" : "closed", key->raises);
        if (key->opens > 0) {
            hbk_text_addf(out, "opens: [%zu], ", key->opens);
        }
        hbk_text_addf(out, "finger: %s%s} # measure\n", key->finger,
                      key->is_added ? ", provenance: assumed" : "");
    }
}

void hbk_write_valves(const struct hbk_draft *draft, struct hbk_text *out)
{
    static const char *const words[] = {
        [HBK_MEASURED] = "measured", [HBK_ASSUMED] = "assumed"};
    if (draft->n_valves == 0) {
        return;
    }
    hbk_text_add(out, "\n");
    hbk_write_lines(out, "# ", "Valves, numbered as players do.");
    hbk_write_remark(out, "loop",
                     "measure: the tube that the valve brings in, along its "
                     "middle, with its slide as far out as stands_out says "
                     "below; in mm, or as a share of the open horn (12.356 %)");
    hbk_write_remark(out, "lowers",
                     "in place of loop, measure: the cents from the open note "
                     "to the note with this valve alone, on a tuner (198 "
                     "cents); raises, for a valve that takes tube out");
    hbk_write_remark(
        out, "action",
        "look: piston, wide piston (Berlin), early piston (Stoelzel), double "
        "piston (Vienna), rotary or string rotary");
    hbk_write_remark(out, "finger", "look: the finger that lies on it");
    hbk_text_add(out, "valves:\n");
    for (size_t i = 0; i < draft->n_valves; i++) {
        const struct hbk_draft_valve *const valve = &draft->valves[i];
        const enum hbk_provenance known = valve->provenance;
        hbk_text_addf(out, "  - {valve: %zu, %s,%s action: %s, finger: %s",
                      i + 1, valve->length,
                      valve->is_alone ? " alone: true," : "",
                      hbk_action_name(valve->action), valve->finger);
        if (known == HBK_ASSUMED) {
            hbk_text_addf(out, ", provenance: %s", words[known]);
        }
        hbk_text_add(out, known == HBK_MEASURED ? "}\n" : "} # measure\n");
    }
}

/* Whether a slide of that valve is among them. */
static bool has_slide(const struct hbk_draft *draft, size_t valve)
{
    for (size_t i = 0; i < draft->n_slides; i++) {
        if (draft->slides[i].valve == valve) {
            return true;
        }
    }
    return false;
}

/* Lines to uncomment for valves of which the pattern knows no slide. */
static void offer_slides(const struct hbk_draft *draft, struct hbk_text *out)
{
    static const char *const names[HBK_BEGIN_VALVES_MAX + 1] = {
        "main", "first", "second", "third", "fourth", "fifth", "sixth"};
    for (size_t valve = 0; valve <= draft->n_valves; valve++) {
        if (has_slide(draft, valve)) {
            continue;
        }
        hbk_text_addf(out, "#  - {slide: %s, ", names[valve]);
        if (valve > 0) {
            hbk_text_addf(out, "valve: %zu, ", valve);
        }
        hbk_text_add(out, "travel: 20, stands_out: 2, legs: 2}\n");
    }
}

void hbk_write_slides(const struct hbk_draft *draft, struct hbk_text *out)
{
    hbk_text_add(out, "\n");
    hbk_write_lines(out, "# ",
                    "Slides and shanks that are pulled to tune, one a line; "
                    "the lengths above hold where each is out by stands_out.");
    hbk_write_remark(out, "travel",
                     "measure: how far it can be pulled and still holds");
    hbk_write_remark(
        out, "stands_out",
        "measure: how far out it was when a4 and the loops were measured");
    hbk_write_remark(out, "legs", "look: 2 for a bow, 1 for a straight shank");
    hbk_text_add(out, draft->n_slides == 0 ? "# slides:\n" : "slides:\n");
    for (size_t i = 0; i < draft->n_slides; i++) {
        const struct hbk_draft_slide *const slide = &draft->slides[i];
        hbk_text_add(out, "  - {slide: ");
        hbk_write_scalar(out, slide->name, true);
        if (slide->valve > 0) {
            hbk_text_addf(out, ", valve: %zu", slide->valve);
        }
        hbk_text_addf(out,
                      ", travel: %g, stands_out: %g, legs: %d} # measure\n",
                      slide->travel_mm, slide->stands_out_mm, slide->legs);
    }
    offer_slides(draft, out);
}

void hbk_write_crooks(const struct hbk_draft *draft, struct hbk_text *out)
{
    if (draft->n_crooks == 0) {
        return;
    }
    hbk_text_add(out, "\n");
    hbk_write_lines(
        out, "# ",
        "Crooks and shanks that go in at the receiver. adds: measure the tube "
        "each adds, along its middle, without what goes into the receiver.");
    hbk_text_add(out, "crooks:\n");
    for (size_t i = 0; i < draft->n_crooks; i++) {
        const struct hbk_draft_crook *const crook = &draft->crooks[i];
        hbk_text_add(out, "  - {crook: ");
        hbk_write_scalar(out, crook->name, true);
        hbk_text_addf(
            out, ", kind: %s, adds: %g, written_c4_sounds: %s} # measure\n",
            crook->kind, crook->adds_mm, hbk_write_sounds(out, crook->sounds));
    }
}
