#include "tune/abc/abc_fingering.h"

#include "tune/melody/source.h"
#include "tune/melody/write.h"

#include <string.h>
#include <strings.h>

void hbk_abc_escape(struct hbk_text *out, const char *text)
{
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '"') {
            hbk_text_add(out, "\\u0022");
        } else if (*c == '$') {
            hbk_text_add(out, "\\u0024"); /* $1 to $4 would change the font */
        } else {
            if (*c == '\\' || *c == '%' || *c == '&') {
                hbk_text_add(out, "\\");
            }
            hbk_text_put(out, c, 1);
        }
    }
}

static void put_graces(struct hbk_text *out, const struct hbk_tune *tune,
                       const struct hbk_tune_fingering *fingerings,
                       size_t event)
{
    size_t first = event;
    while (first > 0 && tune->events[first - 1].kind == HBK_TUNE_GRACE) {
        first--;
    }
    bool is_open = false;
    for (size_t i = first; i < event; i++) {
        const struct hbk_tune_fingering fingering =
            hbk_write_fingering(tune, fingerings, i);
        if (fingering.main == NULL) {
            continue;
        }
        hbk_text_add(out, is_open ? " " : "\"_{");
        hbk_abc_escape(out, fingering.main);
        is_open = true;
    }
    hbk_text_add(out, is_open ? "}\"" : "");
}

void hbk_abc_put_fingering(struct hbk_text *out, const struct hbk_tune *tune,
                           const struct hbk_tune_fingering *fingerings,
                           size_t event)
{
    put_graces(out, tune, fingerings, event);
    const struct hbk_tune_fingering fingering =
        hbk_write_fingering(tune, fingerings, event);
    if (fingering.main == NULL) {
        return;
    }
    hbk_text_add(out, "\"_");
    hbk_abc_escape(out, fingering.main);
    hbk_text_add(out, "\"");
    for (size_t k = 0; k < fingering.n_alternates; k++) {
        hbk_text_add(out, "\"_(");
        hbk_abc_escape(out, fingering.alternates[k]);
        hbk_text_add(out, ")\"");
    }
}

/* Counts the annotations in what was written. */
size_t hbk_abc_count_texts(const char *text)
{
    size_t n = 0;
    for (const char *at = strstr(text, "\"_"); at != NULL;
         at = strstr(at + 2, "\"_")) {
        n++;
    }
    return n;
}

void hbk_abc_put_remark(struct hbk_text *out, size_t texts, const char *others,
                        const char *remark)
{
    hbk_text_add(out, HBK_ABC_REMARK);
    hbk_text_addf(out, " %zu texts below the notes", texts);
    if (others != NULL) {
        hbk_text_addf(out, "; by others:%s", others);
    }
    if (remark != NULL) {
        hbk_text_addf(out, "; %s", remark);
    }
}

const char *hbk_abc_number_at(const char *at, const char *end, size_t *number)
{
    while (at < end && (*at < '0' || *at > '9')) {
        at++;
    }
    if (at == end) {
        return NULL;
    }
    *number = 0;
    while (at < end && *at >= '0' && *at <= '9' && *number < 100000000) {
        *number = (10 * *number) + (size_t)(*at - '0');
        at++;
    }
    return at;
}

bool hbk_abc_is_fingering(const char *text)
{
    return strcasecmp(text, "open") == 0 ||
           (strspn(text, "0123456789kvtT+-,/() ") == strlen(text) &&
            strpbrk(text, "0123456789T") != NULL);
}
