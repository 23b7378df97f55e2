#include "tune/abc/abc_write.h"

#include "base/messages.h"
#include "tune/abc/abc.h"
#include "tune/abc/abc_fingering.h"
#include "tune/abc/abc_source.h"
#include "tune/melody/source.h"
#include "tune/melody/write.h"

#include <stdlib.h>
#include <string.h>

/*
 * Fingerings go into the user's ABC as annotations "_1-2", by byte, so that
 * not a space of his changes. A comment after the X: line counts the texts
 * below the notes and names, by their number, those that are his own.
 */

/* Which texts an earlier call wrote; NULL when the tune was edited since. */
static bool *find_own(const struct hbk_abc *abc, struct hbk_arena *arena)
{
    bool *const own = HBK_ARENA_ARRAY(arena, bool, abc->texts.n + 1);
    if (abc->source.remark_end == 0) {
        return own;
    }
    const char *const end = abc->source.bytes + abc->source.remark_end;
    const char *at =
        abc->source.bytes + abc->source.remark + strlen(HBK_ABC_REMARK);
    size_t number = 0;
    at = hbk_abc_number_at(at, end, &number);
    if (at == NULL || number != abc->texts.n) {
        return NULL;
    }
    for (size_t i = 0; i < abc->texts.n; i++) {
        own[i] = true;
    }
    for (at = hbk_abc_number_at(at, end, &number); at != NULL;
         at = hbk_abc_number_at(at, end, &number)) {
        if (number >= 1 && number <= abc->texts.n) {
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
    hbk_text_put(&copy->music, copy->abc->source.bytes + copy->done,
                 to - copy->done);
    copy->done = to;
}

/* Whether the user's own annotation right before the note says the same. */
static bool is_said(const struct hbk_abc *abc, const bool *own, size_t texts,
                    size_t offset, const char *main)
{
    struct hbk_text wanted = {.arena = abc->build.arena};
    hbk_text_add(&wanted, "\"_");
    hbk_abc_escape(&wanted, main);
    hbk_text_add(&wanted, "\"");
    for (size_t k = texts; k > 0 && abc->texts.items[k - 1].end == offset;
         k--) {
        const struct hbk_abc_note_text *const text = &abc->texts.items[k - 1];
        if (!own[k - 1] && text->end - text->begin == wanted.length &&
            memcmp(abc->source.bytes + text->begin, wanted.bytes,
                   wanted.length) == 0) {
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
    while (k < abc->texts.n && abc->texts.items[k].end <= offset) {
        const struct hbk_abc_note_text *const text = &abc->texts.items[k];
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

struct offset {
    size_t byte, event;
};

static int compare_offsets(const void *a, const void *b)
{
    const struct offset *const left = a;
    const struct offset *const right = b;
    if (left->byte != right->byte) {
        return left->byte < right->byte ? -1 : 1;
    }
    return left->event < right->event ? -1 : 1;
}

/*
 * The notes in the order of the file, which is not that of time where a line
 * goes from one voice of a bar to another. Returns how many there are.
 */
static size_t in_file_order(const struct hbk_tune *tune,
                            struct hbk_arena *arena, struct offset **offsets)
{
    size_t n = 0;
    *offsets = HBK_ARENA_ARRAY(arena, struct offset, tune->n_events + 1);
    for (size_t i = 0; i < tune->n_events; i++) {
        if (tune->events[i].kind == HBK_TUNE_NOTE) {
            (*offsets)[n++] =
                (struct offset){.byte = tune->events[i].offset, .event = i};
        }
    }
    qsort(*offsets, n, sizeof(struct offset), compare_offsets);
    return n;
}

static size_t insert(struct copy *copy, const struct hbk_tune *tune,
                     const struct hbk_tune_fingering *fingerings,
                     const bool *own)
{
    size_t k = 0;
    struct offset *offsets = NULL;
    const size_t n = in_file_order(tune, copy->music.arena, &offsets);
    for (size_t o = 0; o < n; o++) {
        const size_t i = offsets[o].event;
        const struct hbk_tune_event *const event = &tune->events[i];
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

/* `fingerings` NULL to strip. */
static enum hbk_status write_copy(const struct hbk_tune_document *document,
                                  const struct hbk_tune_fingering *fingerings,
                                  const char *remark, struct hbk_text *out,
                                  struct hbk_faults *faults)
{
    const struct hbk_abc *const abc = document->source->abc;
    const bool *const own = find_own(abc, out->arena);
    if (own == NULL) {
        hbk_fault_add(faults,
                      (struct hbk_place){.file = abc->source.file,
                                         .line = abc->source.begin_line + 1},
                      HBK_H_TEXTS_EDITED,
                      "texts below the notes were added or removed since "
                      "fingerings were written; remove the fingerings and "
                      "the comment about them by hand");
        return HBK_ERR_INPUT;
    }
    const struct hbk_abc_line first = hbk_abc_line_at(
        abc->source.bytes, abc->source.length, abc->source.begin, 0);
    struct copy copy = {.abc = abc,
                        .music = {.arena = out->arena},
                        .done = first.next,
                        .others = {.arena = out->arena}};
    if (abc->source.remark_end > 0) {
        copy_to(&copy, abc->source.remark);
        copy.done = abc->source.remark_end;
    }
    const size_t k = fingerings == NULL
                         ? 0
                         : insert(&copy, &document->tune, fingerings, own);
    (void)pass_texts(&copy, own, fingerings == NULL, k, abc->source.length);
    copy_to(&copy, abc->source.length);
    hbk_text_put(out, abc->source.bytes, first.next);
    if (copy.texts > copy.n_others) {
        hbk_abc_put_remark(out, copy.texts,
                           copy.n_others > 0 ? copy.others.bytes : NULL,
                           remark);
        hbk_text_put(out, abc->source.bytes + first.end,
                     first.next - first.end);
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
