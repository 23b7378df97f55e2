#include "sheet/article/trills_page.h"

#include "base/text.h"
#include "horn/about.h"
#include "sheet/words/words.h"
#include "sheet/words/words_use.h"

#include <math.h>

static const double legend_points = 10.0;

/* Kinds of trills among those shown. */
struct kinds {
    bool none, off, lip;
};

static struct kinds look_through(const struct hbk_trills_page *trills)
{
    struct kinds kinds = {0};
    for (size_t i = 0; i < trills->n; i++) {
        for (size_t k = 0; k < HBK_TRILLS_HALVES; k++) {
            const struct hbk_trill *const trill =
                trills->cells[i].half[k].trill;
            kinds.none |= trill->kind == HBK_TRILL_NONE;
            kinds.lip |= trill->kind == HBK_TRILL_LIP;
            kinds.off |= hbk_trill_cell_is_off(trill);
        }
    }
    return kinds;
}

void hbk_trills_set_legend(struct hbk_trills_page *trills)
{
    enum { ENTRIES = 5 };
    struct hbk_article *const article = &trills->article;
    struct hbk_sign_words *const entries = HBK_ARENA_ARRAY(
        article->pad.sheet->arena, struct hbk_sign_words, ENTRIES);
    const struct kinds kinds = look_through(trills);
    size_t n = 0;
    entries[n++].words =
        hbk_words_assumed(article->pad.sheet->arena, trills->notes);
    if (kinds.none) {
        entries[n++].words =
            "\u2013 no trill: the upper note is not available, or the "
            "trill is not playable.";
    }
    if (kinds.lip) {
        entries[n++].words = "by lip: the fingers stay, the lip alone trills.";
    }
    if (kinds.off) {
        entries[n++] = (struct hbk_sign_words){HBK_SIGN_LIP_UP, ""};
        entries[n - 1].words = "beside a name: lip up; 30 cents flat or more.";
        entries[n++] = (struct hbk_sign_words){
            HBK_SIGN_LIP_DOWN, "lip down; 30 cents sharp or more."};
    }
    struct hbk_style style = hbk_style_of(HBK_FACE_PLAIN, legend_points,
                                          trills->look.unit, HBK_LEFT);
    style.size = fmax(style.size, HBK_PT(HBK_TRILLS_SENTENCE));
    trills->legend = (struct hbk_legend_lines){
        .n = n, .entries = entries, .style = style, .width = article->width};
}

void hbk_trills_set_head(struct hbk_trills_page *trills)
{
    struct hbk_arena *const arena = trills->article.pad.sheet->arena;
    const struct hbk_notes *const notes = trills->notes;
    const char *name;
    const char *rest;
    struct hbk_text line = {.arena = arena};
    hbk_head_split(arena, trills->article.title, &name, &rest);
    const char *const whom = hbk_words_whom(arena, trills->options->whom);
    hbk_text_addf(&line, "%s%s%s%s%s", rest, rest[0] == '\0' ? "" : " \u00B7 ",
                  hbk_words_sounds(arena, notes->written_c4_sounds -
                                              notes->notation.shift),
                  whom[0] == '\0' ? "" : " \u00B7 ", whom);
    const bool fingers = hbk_horn_n_controls(notes->horn) > 0 && trills->n > 0;
    trills->head = (struct hbk_head){
        .name = hbk_arena_printf(arena, "%s: trills", name),
        .line = hbk_text_string(&line),
        .legend = fingers ? "trill with this finger: white begins up, black "
                            "begins down. A plain figure stays pressed."
                          : "",
        .unit = trills->look.unit,
        .width = trills->article.width,
        .sign = fingers ? 3.4 * HBK_TRILLS_SIGN_RADIUS : 0.0};
}

void hbk_trills_set_facts(struct hbk_trills_page *trills)
{
    struct hbk_arena *const arena = trills->article.pad.sheet->arena;
    const struct hbk_notes *const notes = trills->notes;
    const char *const parts[] = {hbk_words_assumed(arena, notes),
                                 hbk_words_set(arena, notes, HBK_WORDS_BRIEF),
                                 hbk_words_rest(arena, notes, HBK_WORDS_BRIEF),
                                 hbk_words_response(arena, notes),
                                 hbk_words_provenance(arena, notes->horn),
                                 hbk_words_cautions_short()};
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < sizeof(parts) / sizeof(parts[0]); i++) {
        hbk_text_addf(&text, "%s%s",
                      text.length == 0 || parts[i][0] == '\0' ? "" : " ",
                      parts[i]);
    }
    trills->facts = hbk_text_string(&text);
}
