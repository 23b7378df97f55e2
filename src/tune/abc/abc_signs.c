#include "tune/abc/abc_signs.h"

#include "base/messages.h"
#include "base/number.h"
#include "base/text.h"
#include "tune/abc/abc_mark.h"
#include "tune/abc/abc_text.h"
#include "tune/melody/sign_words.h"

#include <string.h>

/* Decorations and what is printed for them; ABC 2.1, and 2.2 for some. */
static const struct {
    const char *name, *words;
} jumps[] = {
    {"fine", "Fine"},
    {"D.C.", "D.C."},
    {"dacapo", "D.C."},
    {"D.S.", "D.S."},
    {"dalsegno", "D.S."},
    {"dacoda", "To Coda"},
    {"D.C.alcoda", "D.C. al Coda"},
    {"D.C.alfine", "D.C. al Fine"},
    {"D.S.alcoda", "D.S. al Coda"},
    {"D.S.alfine", "D.S. al Fine"},
};

const char *hbk_abc_jump_name(const char *words)
{
    for (size_t i = 0; i < sizeof(jumps) / sizeof(jumps[0]); i++) {
        if (strcmp(jumps[i].words, words) == 0) {
            return jumps[i].name;
        }
    }
    return NULL;
}

static const char *words_for(const char *name)
{
    for (size_t i = 0; i < sizeof(jumps) / sizeof(jumps[0]); i++) {
        if (strcmp(jumps[i].name, name) == 0) {
            return jumps[i].words;
        }
    }
    return name;
}

/* A text without ^ _ < > or @x,y before it. */
static const char *bare(const char *text)
{
    if (text[0] == '@') {
        return text + 1 + strspn(text + 1, "-+0123456789., ");
    }
    return text[0] != '\0' && strchr("^_<>", text[0]) != NULL ? text + 1 : text;
}

/* Words that stand at the end of a bar, one after the other, a few. */
static const char *joined(struct hbk_arena *arena, const char *one,
                          const char *other)
{
    enum { ROOM = 200 };
    return one == NULL                           ? other
           : other == NULL || strlen(one) > ROOM ? one
           : strcmp(one, other) == 0
               ? one
               : hbk_arena_printf(arena, "%s; %s", one, other);
}

bool hbk_abc_sign(struct hbk_abc *abc, const char *words, bool is_text)
{
    bool understood = true;
    const char *const text = is_text ? bare(words) : words_for(words);
    const unsigned bits = hbk_sign_words(text, &understood);
    if (bits == 0) {
        return false;
    }
    struct hbk_abc_bars *const bars = &abc->bars;
    bars->signs |= bits;
    if (!is_text) {
        const bool is_place = (bits & ~(unsigned)HBK_SIGN_PLACE) == 0;
        hbk_abc_mark_jump(abc, (bits & HBK_SIGN_CODA) != 0 ? "coda" : "segno",
                          is_place ? NULL : text);
    }
    if ((bits & ~(unsigned)HBK_SIGN_PLACE) != 0) {
        bars->jump =
            joined(abc->build.arena, bars->jump, hbk_abc_skip_spaces(text));
    }
    if (!understood) {
        char sign[HBK_SIGN_TEXT];
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->at),
                       HBK_H_ORDER_READING, "\"%.60s\" is read as %s", text,
                       hbk_sign_text(bits, sign));
    }
    return true;
}

/* What stands at the end of a bar. */
static void put_end(struct hbk_abc *abc, struct hbk_tune_bar *bar)
{
    struct hbk_abc_bars *const bars = &abc->bars;
    bar->signs.bits |= bars->signs & ~(unsigned)HBK_SIGN_PLACE;
    bar->jump = joined(abc->build.arena, bar->jump, bars->jump);
    bars->signs &= HBK_SIGN_PLACE;
    bars->jump = NULL;
}

void hbk_abc_signs_at_note(struct hbk_abc *abc)
{
    struct hbk_abc_bars *const bars = &abc->bars;
    if (bars->signs == 0) {
        return;
    }
    struct hbk_tune_bar *const bar = hbk_build_last_bar(&abc->build);
    const bool is_first = bar->count == 0;
    const unsigned signs = bars->signs;
    put_end(abc, bar);
    if ((signs & HBK_SIGN_TO_CODA) != 0 && is_first) {
        bar->signs.bits |= HBK_SIGN_TO_CODA_FIRST;
    }
    if ((signs & HBK_SIGN_FINE) != 0 && is_first) {
        bar->signs.bits |= HBK_SIGN_FINE_FIRST;
    }
    if ((signs & HBK_SIGN_SEGNO) != 0) {
        bar->signs.bits |=
            HBK_SIGN_SEGNO | (is_first ? 0U : HBK_SIGN_SEGNO_WITHIN);
    }
    if ((signs & HBK_SIGN_CODA) != 0) {
        bar->signs.bits |= is_first ? HBK_SIGN_CODA : HBK_SIGN_CODA_WITHIN;
    }
    bars->signs = 0;
}

void hbk_abc_signs_at_bar_line(struct hbk_abc *abc)
{
    if (abc->bars.signs != 0 && abc->build.tune->n_bars > 0) {
        put_end(abc, hbk_build_last_bar(&abc->build));
    }
}

void hbk_abc_signs_end(struct hbk_abc *abc)
{
    hbk_abc_signs_at_bar_line(abc);
    if ((abc->bars.signs & HBK_SIGN_CODA) != 0 && abc->build.tune->n_bars > 0) {
        hbk_build_last_bar(&abc->build)->signs.bits |= HBK_SIGN_CODA_WITHIN;
    }
}

/* An order of parts as it is expanded. */
struct form {
    const char *at;
    struct hbk_text out;
    bool good;
};

/* How often the letter or group before it is played; 1 without a number. */
static size_t count_at(struct form *form)
{
    if (*form->at < '0' || *form->at > '9') {
        return 1;
    }
    long count = 0;
    const char *const rest = hbk_number_count(form->at, 3, &count);
    form->good = form->good && rest != NULL && count > 0;
    form->at = rest == NULL ? form->at + strlen(form->at) : rest;
    return count > 0 ? (size_t)count : 1;
}

/* Plays what was added from `begin` on so often. */
static void multiply(struct form *form, size_t begin, size_t count)
{
    const size_t length = form->out.length - begin;
    if (begin + (length * count) > HBK_ORDER_PARTS_MAX) {
        form->good = false;
        return;
    }
    const char *const once = hbk_arena_copy(
        form->out.arena, hbk_text_string(&form->out) + begin, length);
    for (size_t i = 1; i < count; i++) {
        hbk_text_put(&form->out, once, length);
    }
}

static const char *expanded(struct hbk_arena *arena, const char *text)
{
    enum { DEPTH_MAX = 20 };
    struct form form = {.at = text, .out = {.arena = arena}, .good = true};
    size_t begins[DEPTH_MAX];
    size_t depth = 0;
    while (*form.at != '\0' && form.good) {
        const char c = *form.at++;
        if (c == '(') {
            form.good = depth < DEPTH_MAX;
            if (form.good) {
                begins[depth++] = form.out.length;
            }
        } else if (c == ')') {
            form.good = depth > 0;
            if (form.good) {
                depth--;
                multiply(&form, begins[depth], count_at(&form));
            }
        } else if (hbk_abc_is_letter(c)) {
            hbk_text_put(&form.out, &c, 1);
            multiply(&form, form.out.length - 1, count_at(&form));
        } else {
            form.good = strchr(". \t,", c) != NULL;
        }
    }
    return form.good && depth == 0 && form.out.length > 0
               ? hbk_text_string(&form.out)
               : NULL;
}

void hbk_abc_part_order(struct hbk_abc *abc, const char *text)
{
    const char *const form = expanded(abc->build.arena, text);
    abc->build.tune->form = form;
    if (form == NULL) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->line.begin),
                       HBK_H_ABC_FIELD,
                       "P:%.40s is no order of parts and is left out; right "
                       "would be ABA or (AB)3, of up to %d parts",
                       text, HBK_ORDER_PARTS_MAX);
    }
}

void hbk_abc_part_label(struct hbk_abc *abc, const char *text)
{
    struct hbk_abc_bars *const bars = &abc->bars;
    const char *const label = hbk_abc_skip_spaces(text);
    const bool is_one = hbk_abc_is_letter(label[0]) &&
                        hbk_abc_skip_spaces(label + 1)[0] == '\0';
    /* Each voice may say it again. */
    if (is_one && label[0] != bars->last_part) {
        bars->part = label[0];
    }
}
