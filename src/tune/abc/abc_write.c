#include "base/messages.h"
#include "tune/abc/abc.h"
#include "tune/melody/source.h"
#include "tune/melody/write.h"

#include <string.h>

/*
 * Fingerings go into the user's ABC as annotations "_1-2", by byte, so that
 * not a space of his changes. A comment after the X: line counts the texts
 * below the notes and names, by their number, those that are his own.
 */

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

static const char *number_at(const char *at, const char *end, size_t *number)
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

/* Which texts an earlier call wrote; NULL when the tune was edited since. */
static bool *find_own(const struct hbk_abc *abc, struct hbk_arena *arena)
{
    bool *const own = HBK_ARENA_ARRAY(arena, bool, abc->n_texts + 1);
    if (abc->remark_end == 0) {
        return own;
    }
    const char *const end = abc->bytes + abc->remark_end;
    const char *at = abc->bytes + abc->remark + strlen(HBK_ABC_REMARK);
    size_t number = 0;
    at = number_at(at, end, &number);
    if (at == NULL || number != abc->n_texts) {
        return NULL;
    }
    for (size_t i = 0; i < abc->n_texts; i++) {
        own[i] = true;
    }
    for (at = number_at(at, end, &number); at != NULL;
         at = number_at(at, end, &number)) {
        if (number >= 1 && number <= abc->n_texts) {
            own[number - 1] = false;
        }
    }
    return own;
}

/* A copy of the file in the making. */
struct copy {
    const struct hbk_abc *abc;
    struct hbk_text music;  /* from after the X: line to the end of the tune */
    size_t done;            /* bytes of the file that are in it */
    struct hbk_text others; /* numbers of the texts that are not ours */
    size_t texts, n_others; /* below the notes, so far */
};

static void copy_to(struct copy *copy, size_t to)
{
    hbk_text_put(&copy->music, copy->abc->bytes + copy->done, to - copy->done);
    copy->done = to;
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

/* Whether the user's own annotation right before the note says the same. */
static bool is_said(const struct hbk_abc *abc, const bool *own, size_t texts,
                    size_t offset, const char *main)
{
    struct hbk_text wanted = {.arena = abc->build.arena};
    hbk_text_add(&wanted, "\"_");
    hbk_abc_escape(&wanted, main);
    hbk_text_add(&wanted, "\"");
    for (size_t k = texts; k > 0 && abc->texts[k - 1].end == offset; k--) {
        const struct hbk_abc_note_text *const text = &abc->texts[k - 1];
        if (!own[k - 1] && text->end - text->begin == wanted.length &&
            memcmp(abc->bytes + text->begin, wanted.bytes, wanted.length) ==
                0) {
            return true;
        }
        offset = text->begin;
    }
    return false;
}

/* Passes the texts before `offset`, leaving out those to be removed. */
static size_t pass_texts(struct copy *copy, const bool *own, bool strip_all,
                         size_t k, size_t offset)
{
    const struct hbk_abc *const abc = copy->abc;
    while (k < abc->n_texts && abc->texts[k].end <= offset) {
        const struct hbk_abc_note_text *const text = &abc->texts[k];
        if (own[k] && (strip_all || text->is_heard)) {
            copy_to(copy, text->begin);
            copy->done = text->end;
        } else {
            copy->texts++;
            if (!own[k]) {
                hbk_text_addf(&copy->others, " %zu", copy->texts);
                copy->n_others++;
            }
        }
        k++;
    }
    return k;
}

static size_t insert(struct copy *copy, const struct hbk_tune *tune,
                     const struct hbk_tune_fingering *fingerings,
                     const bool *own)
{
    size_t k = 0;
    for (size_t i = 0; i < tune->n_events; i++) {
        const struct hbk_tune_event *const event = &tune->events[i];
        if (event->kind != HBK_TUNE_NOTE) {
            continue;
        }
        k = pass_texts(copy, own, false, k, event->offset);
        const struct hbk_tune_fingering fingering =
            hbk_write_fingering(tune, fingerings, i);
        if (fingering.main != NULL &&
            is_said(copy->abc, own, k, event->offset, fingering.main)) {
            continue;
        }
        struct hbk_text text = {.arena = copy->music.arena};
        hbk_abc_put_fingering(&text, tune, fingerings, i);
        copy_to(copy, event->offset);
        hbk_text_put(&copy->music, text.bytes, text.length);
        copy->texts += hbk_abc_count_texts(hbk_text_string(&text));
    }
    return k;
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

/* `fingerings` NULL to strip. */
static enum hbk_status write_copy(const struct hbk_tune_document *document,
                                  const struct hbk_tune_fingering *fingerings,
                                  const char *remark, struct hbk_text *out,
                                  struct hbk_faults *faults)
{
    const struct hbk_abc *const abc = document->source->abc;
    const bool *const own = find_own(abc, out->arena);
    if (own == NULL) {
        hbk_fault_add(
            faults,
            (struct hbk_place){.file = abc->file, .line = abc->begin_line + 1},
            HBK_H_TEXTS_EDITED,
            "texts below the notes were added or removed since "
            "fingerings were written; remove the fingerings and "
            "the comment about them by hand");
        return HBK_ERR_INPUT;
    }
    const struct hbk_abc_line first =
        hbk_abc_line_at(abc->bytes, abc->length, abc->begin, 0);
    struct copy copy = {.abc = abc,
                        .music = {.arena = out->arena},
                        .done = first.next,
                        .others = {.arena = out->arena}};
    if (abc->remark_end > 0) {
        copy_to(&copy, abc->remark);
        copy.done = abc->remark_end;
    }
    const size_t k = fingerings == NULL
                         ? 0
                         : insert(&copy, &document->tune, fingerings, own);
    (void)pass_texts(&copy, own, fingerings == NULL, k, abc->length);
    copy_to(&copy, abc->length);
    hbk_text_put(out, abc->bytes, first.next);
    if (copy.texts > copy.n_others) {
        hbk_abc_put_remark(out, copy.texts,
                           copy.n_others > 0 ? copy.others.bytes : NULL,
                           remark);
        hbk_text_put(out, abc->bytes + first.end, first.next - first.end);
    }
    hbk_text_put(out, copy.music.bytes, copy.music.length);
    return HBK_OK;
}

enum hbk_status hbk_abc_annotate(const struct hbk_tune_document *document,
                                 const struct hbk_tune_fingering *fingerings,
                                 const char *remark, struct hbk_text *out,
                                 struct hbk_faults *faults)
{
    return write_copy(document, fingerings, remark, out, faults);
}

enum hbk_status hbk_abc_strip(const struct hbk_tune_document *document,
                              struct hbk_text *out, struct hbk_faults *faults)
{
    return write_copy(document, NULL, NULL, out, faults);
}
