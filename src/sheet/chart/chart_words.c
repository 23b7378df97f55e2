#include "sheet/chart/chart_words.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/control.h"
#include "horn/horn.h"
#include "sheet/block/head.h"
#include "sheet/words/words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_signs.h"
#include "sheet/words/words_system.h"
#include "sheet/words/words_use.h"

#include <string.h>

/* Adds a part of a line after a dot, unless it says nothing. */
static void add_part(struct hbk_text *text, const char *part)
{
    if (part[0] != '\0') {
        hbk_text_addf(text, "%s%s", text->length > 0 ? " \u00b7 " : "", part);
    }
}

static const char *line_of(struct hbk_arena *arena,
                           const struct hbk_notes *notes,
                           const struct hbk_sheet_options *options,
                           const char *rest)
{
    struct hbk_text text = {.arena = arena};
    add_part(&text, hbk_words_whom(arena, options->whom));
    add_part(&text, rest);
    add_part(&text, hbk_words_read_sounds(arena, notes));
    if (hbk_rest_alarms(notes)) {
        add_part(&text, hbk_words_rest(arena, notes, HBK_WORDS_BRIEF));
    }
    return hbk_text_string(&text);
}

static const char *legend_of(struct hbk_arena *arena,
                             const struct hbk_notes *notes,
                             const struct hbk_sheet_options *options,
                             const struct hbk_gamut_notes *chosen,
                             enum hbk_strip_mark mark)
{
    struct hbk_text text = {.arena = arena};
    bool out = false;
    for (size_t i = 0; i < chosen->n; i++) {
        out = out || notes->notes[chosen->shown[i]].n == 0;
    }
    hbk_text_add(&text, hbk_words_reversed(arena, notes));
    hbk_text_add(&text, hbk_words_signs(arena, notes, out));
    if (options->beside != NULL) {
        static const char *const marks[] = {
            [HBK_MARK_NONE] = "",
            [HBK_MARK_OTHER] = "Underlined: other than on the ",
            [HBK_MARK_SAME] = "Underlined: the same as on the "};
        hbk_text_addf(
            &text, "%s%s", marks[mark],
            mark == HBK_MARK_NONE ? "" : hbk_horn_name(options->beside->horn));
        hbk_text_add(&text, mark == HBK_MARK_NONE ? "" : ". ");
    }
    hbk_text_add(&text, hbk_words_unmeasured(arena, notes));
    hbk_text_add(&text, hbk_words_assumed(arena, notes));
    return hbk_text_string(&text);
}

static const char *known_of(struct hbk_arena *arena,
                            const struct hbk_notes *notes,
                            const struct hbk_gamut_notes *chosen)
{
    struct hbk_text text = {.arena = arena};
    hbk_text_addf(&text, "%s ", hbk_words_set(arena, notes, HBK_WORDS_BRIEF));
    if (!hbk_rest_alarms(notes)) {
        hbk_text_addf(&text, "%s ",
                      hbk_words_rest(arena, notes, HBK_WORDS_BRIEF));
    }
    if (hbk_horn_has_kind(notes->horn, HBK_VALVE) ||
        hbk_horn_has_kind(notes->horn, HBK_TRIGGER) ||
        hbk_horn_n_controls(notes->horn) == 0) {
        /* What keys do is seen in the map. */
        hbk_text_add(&text, hbk_words_system(arena, notes));
    }
    hbk_text_add(&text, hbk_words_choices(arena, notes->horn));
    if (chosen->n_left_out > 0) {
        hbk_text_addf(&text, "It cannot play %s. ",
                      hbk_words_read_runs(arena, notes, chosen->n_left_out,
                                          chosen->left_out));
    }
    hbk_text_add(&text, hbk_words_response(arena, notes));
    hbk_text_add(&text, hbk_words_provenance(arena, notes->horn));
    return hbk_text_string(&text);
}

struct hbk_chart_words hbk_chart_words(struct hbk_arena *arena,
                                       const struct hbk_notes *notes,
                                       const struct hbk_sheet_options *options,
                                       const struct hbk_gamut_notes *chosen,
                                       enum hbk_strip_mark mark)
{
    const char *title =
        options->title == NULL ? hbk_horn_name(notes->horn) : options->title;
    struct hbk_chart_words words = {
        .title = hbk_arena_copy(arena, title, strlen(title))};
    const char *rest;
    hbk_head_split(arena, title, &words.name, &rest);
    words.line = line_of(arena, notes, options, rest);
    words.legend = legend_of(arena, notes, options, chosen, mark);
    words.known = known_of(arena, notes, chosen);
    words.remarks = hbk_words_remarks(arena, notes);
    if (words.remarks[0] != '\0') {
        words.remarks = hbk_arena_printf(arena, "%s ", words.remarks);
    }
    words.care = hbk_words_cautions_short();
    return words;
}
