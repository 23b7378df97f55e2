#include "report/beside.h"

#include "horn/about.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "report/members.h"
#include "sheet/words/words_beside.h"

enum { WIDE_PRESS = 11 };

static const char *change_word(enum hbk_beside_note change)
{
    static const char *const words[] = {
        [HBK_BESIDE_NEITHER] = "none",    [HBK_BESIDE_SAME] = "none",
        [HBK_BESIDE_FINGER] = "finger",   [HBK_BESIDE_NEW] = "new",
        [HBK_BESIDE_OTHER] = "fingering", [HBK_BESIDE_LOST] = "lost"};
    return words[change];
}

static bool is_change(enum hbk_beside_note change)
{
    return change != HBK_BESIDE_NEITHER && change != HBK_BESIDE_SAME;
}

/* What the signs beside fingerings mean, and only those that stand there. */
static void add_legend(const struct hbk_notes *here,
                       const struct hbk_notes *known, struct hbk_text *out)
{
    bool any = false;
    bool any_finger = false;
    for (size_t i = 0; i < here->n; i++) {
        const enum hbk_beside_note change =
            hbk_beside_note(here, known, here->notes[i].written);
        any_finger |= change == HBK_BESIDE_FINGER;
        any |= is_change(change) && change != HBK_BESIDE_FINGER;
    }
    hbk_text_addf(out, "%s%s%s%s", any ? "* a different fingering" : "",
                  any && any_finger ? ", " : "",
                  any_finger ? "o the same number under another finger" : "",
                  any || any_finger ? ".\n" : "");
}

void hbk_beside_text_head(const struct hbk_notes *here,
                          const struct hbk_notes *known, struct hbk_text *out)
{
    struct hbk_arena *const arena = out->arena;
    const char *const warning = hbk_beside_warning(arena, here, known);
    const char *const words[] = {hbk_beside_pressing(arena, here, known),
                                 hbk_beside_rest(arena, here, known),
                                 hbk_beside_reversed(arena, here, known),
                                 hbk_beside_beyond(arena, here, known),
                                 hbk_beside_sounds(arena, here, known),
                                 hbk_beside_summary(arena, here, known)};
    if (warning[0] != '\0') {
        hbk_text_addf(out, "\n%s.\n", warning);
    }
    hbk_text_add(out, "\n");
    for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++) {
        hbk_text_addf(out, "%s%s", words[i], words[i][0] == '\0' ? "" : "\n");
    }
    add_legend(here, known, out);
}

void hbk_beside_text_cells(const struct hbk_notes *here,
                           const struct hbk_notes *known, int written,
                           struct hbk_text *out)
{
    if (written < 0) {
        hbk_text_addf(out, "%-*s   ", WIDE_PRESS, "you know");
        return;
    }
    const struct hbk_fingering *const f =
        hbk_beside_known(here, known, written);
    const enum hbk_beside_note change = hbk_beside_note(here, known, written);
    char label[HBK_LABEL_SIZE] = "-";
    if (f != NULL) {
        hbk_horn_press_label(known->horn, f->press, label);
    }
    hbk_text_addf(out, "%-*s %s ", WIDE_PRESS, label,
                  !is_change(change)            ? " "
                  : change == HBK_BESIDE_FINGER ? "o"
                                                : "*");
}

void hbk_beside_csv(const struct hbk_notes *here, const struct hbk_notes *known,
                    int written, struct hbk_text *out)
{
    const struct hbk_fingering *const f =
        hbk_beside_known(here, known, written);
    const enum hbk_beside_note change = hbk_beside_note(here, known, written);
    char label[HBK_LABEL_SIZE];
    if (f == NULL) {
        hbk_text_add(out, ",,,,");
    } else {
        hbk_text_addf(out, ",%s,%u,%.3f,%.2f",
                      hbk_horn_press_label(known->horn, f->press, label),
                      f->partial, f->hz, f->cents);
    }
    hbk_text_addf(out, ",%s,%s", is_change(change) ? "true" : "false",
                  change_word(change));
}

void hbk_beside_json(const struct hbk_notes *here,
                     const struct hbk_notes *known, int written,
                     struct hbk_json *json)
{
    const struct hbk_fingering *const f =
        hbk_beside_known(here, known, written);
    const enum hbk_beside_note change = hbk_beside_note(here, known, written);
    if (f == NULL) {
        hbk_json_null(json, "beside");
    } else {
        hbk_json_open_object(json, "beside");
        hbk_notes_json_fields(known, f, json);
        hbk_json_close_object(json);
    }
    hbk_json_bool(json, "changed", is_change(change));
    hbk_json_string(json, "change", change_word(change));
}

void hbk_beside_json_brief(const struct hbk_notes *here,
                           const struct hbk_notes *known, int written,
                           struct hbk_json *json)
{
    const struct hbk_fingering *const f =
        hbk_beside_known(here, known, written);
    char label[HBK_LABEL_SIZE];
    if (f == NULL) {
        hbk_json_null(json, "known");
    } else {
        hbk_json_string(json, "known",
                        hbk_horn_press_label(known->horn, f->press, label));
    }
    hbk_json_string(json, "change",
                    change_word(hbk_beside_note(here, known, written)));
}

void hbk_beside_json_head(const struct hbk_notes *here,
                          const struct hbk_notes *known, struct hbk_json *json)
{
    struct hbk_arena *const arena = json->out->arena;
    const struct {
        const char *name, *words;
    } said[] = {{"warning", hbk_beside_warning(arena, here, known)},
                {"pressing", hbk_beside_pressing(arena, here, known)},
                {"rest", hbk_beside_rest(arena, here, known)},
                {"reversed", hbk_beside_reversed(arena, here, known)},
                {"beyond", hbk_beside_beyond(arena, here, known)},
                {"sounds", hbk_beside_sounds(arena, here, known)},
                {"summary", hbk_beside_summary(arena, here, known)}};
    hbk_json_open_object(json, "knows");
    hbk_json_string(json, "horn", hbk_horn_name(known->horn));
    for (size_t i = 0; i < sizeof(said) / sizeof(said[0]); i++) {
        if (said[i].words[0] == '\0') {
            hbk_json_null(json, said[i].name);
        } else {
            hbk_json_string(json, said[i].name, said[i].words);
        }
    }
    hbk_json_close_object(json);
}
