#include "report/passage_played.h"

#include "tune/melody/sign_words.h"

enum { SHOWN_MAX = 30 }; /* stretches in words */

/* "1-8", or "5" for one bar. */
static void add_bars(struct hbk_text *out, const struct hbk_tune *tune,
                     const struct hbk_tune_stretch *stretch)
{
    hbk_text_add(out, tune->bars[stretch->first].number);
    if (stretch->last > stretch->first) {
        hbk_text_addf(out, "-%s", tune->bars[stretch->last].number);
    }
}

static bool are_alike(const struct hbk_tune_stretch *one,
                      const struct hbk_tune_stretch *other)
{
    return one->first == other->first && one->last == other->last &&
           (one->way == other->way || one->way == HBK_WAY_BEGIN) &&
           one->signs == other->signs;
}

/* Why the player comes there; NULL where repeat signs say it. */
static const char *why(const struct hbk_tune_stretch *stretch,
                       char text[HBK_SIGN_TEXT])
{
    if (stretch->way == HBK_WAY_JUMP) {
        return hbk_sign_text(stretch->signs, text);
    }
    return stretch->way == HBK_WAY_CODA ? "the coda" : NULL;
}

void hbk_played_text(const struct hbk_tune *tune, struct hbk_text *out)
{
    const struct hbk_tune_order *const order = &tune->order;
    const bool is_plain = order->n == 1 && order->stretches[0].first == 0 &&
                          order->stretches[0].last + 1 == tune->n_bars;
    if (order->n == 0 || is_plain) {
        return;
    }
    hbk_text_add(out, "Played: bars ");
    size_t shown = 0;
    for (size_t i = 0; i < order->n;) {
        const struct hbk_tune_stretch *const stretch = &order->stretches[i];
        size_t times = 1;
        while (i + times < order->n &&
               are_alike(stretch, &order->stretches[i + times])) {
            times++;
        }
        if (shown == SHOWN_MAX) {
            hbk_text_add(out, ", and so on");
            break;
        }
        char sign[HBK_SIGN_TEXT];
        const char *const reason = why(stretch, sign);
        hbk_text_add(out, shown == 0 ? "" : reason != NULL ? ", then " : ", ");
        add_bars(out, tune, stretch);
        if (times > 1) {
            hbk_text_addf(out, times == 2 ? " twice" : " %zu times", times);
        }
        if (reason != NULL) {
            hbk_text_addf(out, " (%s)", reason);
        }
        shown++;
        i += times;
    }
    hbk_text_add(out, order->repeats_left_out
                          ? "; after D.C. and D.S. without repeats.\n"
                          : ".\n");
}

static const char *way_name(enum hbk_tune_way way)
{
    static const char *const names[] = {
        [HBK_WAY_BEGIN] = "beginning", [HBK_WAY_REPEAT] = "repeat",
        [HBK_WAY_ENDING] = "ending",   [HBK_WAY_JUMP] = "jump",
        [HBK_WAY_CODA] = "coda",       [HBK_WAY_PART] = "part"};
    return names[way];
}

void hbk_played_json(const struct hbk_tune *tune, struct hbk_json *json)
{
    const struct hbk_tune_order *const order = &tune->order;
    hbk_json_open_object(json, "played");
    hbk_json_open_array(json, "bars");
    for (size_t i = 0; i < order->n; i++) {
        const struct hbk_tune_stretch *const stretch = &order->stretches[i];
        for (size_t b = stretch->first; b <= stretch->last; b++) {
            hbk_json_string(json, NULL, tune->bars[b].number);
        }
    }
    hbk_json_close_array(json);
    hbk_json_open_array(json, "stretches");
    for (size_t i = 0; i < order->n; i++) {
        const struct hbk_tune_stretch *const stretch = &order->stretches[i];
        char text[HBK_SIGN_TEXT];
        hbk_json_open_object(json, NULL);
        hbk_json_whole(json, "from", (long)stretch->first + 1);
        hbk_json_whole(json, "to", (long)stretch->last + 1);
        hbk_json_string(json, "way", way_name(stretch->way));
        if (stretch->way == HBK_WAY_JUMP) {
            hbk_json_string(json, "sign", hbk_sign_text(stretch->signs, text));
        }
        if (stretch->way == HBK_WAY_PART && stretch->part != 0) {
            hbk_json_string(json, "part", (char[]){stretch->part, '\0'});
        }
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    hbk_json_bool(json, "repeats_left_out", order->repeats_left_out);
    hbk_json_close_object(json);
}
