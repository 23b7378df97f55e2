#include "base/messages.h"
#include "base/number.h"
#include "base/text.h"
#include "tune/melody/build_marks.h"
#include "tune/melody/sign_words.h"
#include "tune/musicxml/score.h"

#include <math.h>
#include <string.h>

/*
 * Segno, coda, D.C. and the like, as signs, as words and as what a player
 * program is told (sound). A score may have them in its first part only; then
 * they are meant for all.
 */

/* What one direction or sound says. */
struct found {
    struct hbk_tune_signs signs;
    const char *words; /* as printed, or what would be */
    bool understood;
};

/* The words and signs of a direction in a row, signs by their names. */
static const char *words_of(struct hbk_arena *arena, const xmlNode *direction)
{
    static const char *const kinds[] = {"words", "symbol", "segno", "coda"};
    struct hbk_text text = {.arena = arena};
    for (const xmlNode *type = hbk_xml_child(direction, "direction-type");
         type != NULL; type = hbk_xml_next(type, "direction-type")) {
        for (const xmlNode *at = type->children; at != NULL; at = at->next) {
            const bool has_text =
                hbk_xml_is(at, kinds[0]) || hbk_xml_is(at, kinds[1]);
            if (!has_text && !hbk_xml_is(at, kinds[2]) &&
                !hbk_xml_is(at, kinds[3])) {
                continue;
            }
            hbk_text_add(&text, text.length > 0 ? " " : "");
            hbk_text_add(&text, has_text ? hbk_xml_text(arena, at)
                                         : (const char *)at->name);
        }
    }
    return hbk_text_string(&text);
}

static const char *printed_for(struct hbk_arena *arena, unsigned bits)
{
    char text[HBK_SIGN_TEXT];
    return (bits & HBK_SIGN_JUMP) != 0
               ? hbk_arena_printf(arena, "%s", hbk_sign_text(bits, text))
           : (bits & HBK_SIGN_FINE) != 0 ? "Fine"
                                         : "To Coda";
}

static void add_sound(struct hbk_arena *arena, const xmlNode *sound,
                      struct hbk_tune_signs *signs)
{
    if (sound == NULL) {
        return;
    }
    signs->bits |= hbk_xml_says(sound, "dacapo", "yes") ? HBK_SIGN_DA_CAPO : 0;
    signs->bits |= hbk_xml_has(sound, "fine") ? HBK_SIGN_FINE : 0;
    signs->segno = hbk_xml_attribute(arena, sound, "segno");
    signs->coda = hbk_xml_attribute(arena, sound, "coda");
    signs->dal_segno = hbk_xml_attribute(arena, sound, "dalsegno");
    signs->to_coda = hbk_xml_attribute(arena, sound, "tocoda");
    signs->bits |= signs->segno != NULL ? HBK_SIGN_SEGNO : 0;
    signs->bits |= signs->coda != NULL ? HBK_SIGN_CODA : 0;
    signs->bits |= signs->dal_segno != NULL ? HBK_SIGN_DAL_SEGNO : 0;
    if (signs->to_coda != NULL) {
        signs->bits |= HBK_SIGN_TO_CODA;
        /* A coda sign beside it is the one printed for it. */
        signs->bits &= signs->coda == NULL ? ~(unsigned)HBK_SIGN_CODA : ~0U;
    }
}

/* A bar line may carry a segno or coda, and may say so to a player program. */
static void add_barline(struct hbk_arena *arena, const xmlNode *barline,
                        struct hbk_tune_signs *signs)
{
    signs->segno = hbk_xml_attribute(arena, barline, "segno");
    signs->coda = hbk_xml_attribute(arena, barline, "coda");
    const bool has_segno = hbk_xml_child(barline, "segno") != NULL;
    const bool has_coda = hbk_xml_child(barline, "coda") != NULL;
    signs->bits |= has_segno || signs->segno != NULL ? HBK_SIGN_SEGNO : 0;
    signs->bits |= has_coda || signs->coda != NULL ? HBK_SIGN_CODA : 0;
}

static struct found look_at(struct hbk_arena *arena, const xmlNode *node)
{
    struct found found = {.understood = true};
    if (hbk_xml_is(node, "barline")) {
        add_barline(arena, node, &found.signs);
        return found;
    }
    const bool is_direction = hbk_xml_is(node, "direction");
    if (is_direction) {
        const char *const words = words_of(arena, node);
        found.signs.bits = hbk_sign_words(words, &found.understood);
        found.words =
            (found.signs.bits & ~(unsigned)HBK_SIGN_PLACE) != 0 ? words : NULL;
    }
    add_sound(arena, is_direction ? hbk_xml_child(node, "sound") : node,
              &found.signs);
    if (found.words == NULL &&
        (found.signs.bits & ~(unsigned)HBK_SIGN_PLACE) != 0) {
        found.words = printed_for(arena, found.signs.bits);
    }
    return found;
}

static double duration_of(struct hbk_arena *arena, const xmlNode *node)
{
    double duration = 0.0;
    const bool counts =
        !hbk_xml_is(node, "note") || (hbk_xml_child(node, "chord") == NULL &&
                                      hbk_xml_child(node, "grace") == NULL);
    const char *const text =
        counts ? hbk_xml_text(arena, hbk_xml_child(node, "duration")) : "";
    return hbk_number_parse(text, &duration) ? duration : 0.0;
}

/* Where a node leaves the time in its measure, in divisions. */
static double time_after(struct hbk_arena *arena, const xmlNode *node,
                         double time)
{
    if (hbk_xml_is(node, "note") || hbk_xml_is(node, "forward")) {
        return time + duration_of(arena, node);
    }
    return hbk_xml_is(node, "backup") ? time - duration_of(arena, node) : time;
}

/* A sign without a name leaves the one that is there. */
static void set_name(const char **name, const char *found)
{
    *name = found == NULL ? *name : found;
}

static void put(struct hbk_musicxml_reader *reader, size_t bar,
                const struct found *found, double time, double length)
{
    struct hbk_tune *const tune = reader->build.tune;
    struct hbk_tune_bar *const here = &tune->bars[bar];
    const bool is_first = time <= 0.0;
    const bool goes_over =
        !is_first && time >= length && bar + 1 < tune->n_bars;
    struct hbk_tune_bar *const place = goes_over ? here + 1 : here;
    const bool is_within = !is_first && !goes_over;
    const unsigned bits = found->signs.bits;
    enum { ROOM = 200 }; /* for words at the end of one bar */
    here->signs.bits |= bits & ~(unsigned)HBK_SIGN_PLACE;
    if ((bits & HBK_SIGN_FINE) != 0 && is_first) {
        here->signs.bits |= HBK_SIGN_FINE_FIRST;
    }
    if ((bits & HBK_SIGN_TO_CODA) != 0) {
        here->signs.bits |= is_first ? HBK_SIGN_TO_CODA_FIRST : 0;
        set_name(&here->signs.to_coda, found->signs.to_coda);
    }
    set_name(&here->signs.dal_segno, found->signs.dal_segno);
    if (found->words != NULL && here->jump == NULL) {
        here->jump = found->words;
    } else if (found->words != NULL && strlen(here->jump) < ROOM &&
               strstr(here->jump, found->words) == NULL) {
        here->jump =
            hbk_arena_printf(reader->arena, "%s; %s", here->jump, found->words);
    }
    if ((bits & HBK_SIGN_SEGNO) != 0) {
        place->signs.bits |=
            HBK_SIGN_SEGNO | (is_within ? HBK_SIGN_SEGNO_WITHIN : 0U);
        set_name(&place->signs.segno, found->signs.segno);
    }
    if ((bits & HBK_SIGN_CODA) != 0) {
        place->signs.bits |= is_within ? HBK_SIGN_CODA_WITHIN : HBK_SIGN_CODA;
        set_name(&place->signs.coda, found->signs.coda);
    }
}

/* The bars of a measure, in divisions from its beginning. */
struct pieces {
    size_t n;
    double begin[HBK_MUSICXML_SPLITS_MAX + 2]; /* the last is where it ends */
};

static struct pieces pieces_of(struct hbk_arena *arena,
                               const struct hbk_musicxml_measure *measure,
                               const xmlNode *content, bool is_other_part)
{
    struct pieces pieces = {.n = 0};
    double length = 0.0;
    double time = 0.0;
    for (const xmlNode *at = content->children; at != NULL; at = at->next) {
        time = time_after(arena, at, time);
        length = fmax(length, time);
        if (pieces.n < measure->n_splits && hbk_xml_is(at, "barline") &&
            (at == measure->splits[pieces.n] ||
             (is_other_part && hbk_xml_says(at, "location", "middle")))) {
            pieces.begin[++pieces.n] = time;
        }
    }
    pieces.begin[++pieces.n] = length;
    return pieces;
}

/* Where a sign stands, and the piece that was at hand at it. */
static double time_of(const xmlNode *node, const struct pieces *pieces,
                      double time, size_t *piece)
{
    if (hbk_xml_is(node, "barline") &&
        !hbk_xml_says(node, "location", "middle")) {
        const bool is_left = hbk_xml_says(node, "location", "left");
        *piece = is_left ? 0 : pieces->n - 1;
        return is_left ? 0.0 : pieces->begin[pieces->n];
    }
    while (*piece + 1 < pieces->n && time > pieces->begin[*piece + 1]) {
        ++*piece;
    }
    while (*piece > 0 && time < pieces->begin[*piece]) {
        --*piece;
    }
    return time;
}

/* The signs of one measure, into its bars; whether there are any. */
static bool read_measure(struct hbk_musicxml_reader *reader,
                         const struct hbk_musicxml_measure *measure,
                         const xmlNode *content, bool is_other_part)
{
    const struct pieces pieces =
        pieces_of(reader->arena, measure, content, is_other_part);
    bool any = false;
    double time = 0.0;
    size_t piece = 0;
    for (const xmlNode *at = content->children; at != NULL; at = at->next) {
        time = time_after(reader->arena, at, time);
        const bool is_barline = hbk_xml_is(at, "barline");
        if (!hbk_xml_is(at, "direction") && !hbk_xml_is(at, "sound") &&
            !is_barline) {
            continue;
        }
        const bool is_between = is_barline && piece + 1 < pieces.n &&
                                hbk_xml_says(at, "location", "middle") &&
                                time == pieces.begin[piece + 1];
        piece += is_between ? 1 : 0;
        const struct found found = look_at(reader->arena, at);
        if (found.signs.bits == 0) {
            continue;
        }
        any = true;
        size_t here = piece;
        const double when = time_of(at, &pieces, time, &here);
        const size_t bar = measure->bar + here;
        put(reader, bar, &found, when - pieces.begin[here],
            pieces.begin[here + 1] - pieces.begin[here]);
        if (is_other_part) {
            hbk_build_sign_marks(&reader->build, bar, found.signs.bits,
                                 found.words, hbk_xml_place(reader->file, at));
        }
        if (!found.understood) {
            char sign[HBK_SIGN_TEXT];
            hbk_build_warn(&reader->build, hbk_xml_place(reader->file, at),
                           HBK_H_ORDER_READING, "\"%.60s\" is read as %s",
                           found.words, hbk_sign_text(found.signs.bits, sign));
        }
    }
    return any;
}

/* The n-th child of this name, from 0. */
static const xmlNode *nth(const xmlNode *parent, const char *name, size_t n)
{
    const xmlNode *child = hbk_xml_child(parent, name);
    while (child != NULL && n > 0) {
        child = hbk_xml_next(child, name);
        n--;
    }
    return child;
}

/* The signs of the n-th part of the score, from 0. */
static bool read_other(struct hbk_musicxml_reader *reader, const xmlNode *root,
                       size_t n)
{
    const bool is_timewise = hbk_xml_is(root, "score-timewise");
    bool any = false;
    const xmlNode *measure =
        is_timewise ? hbk_xml_child(root, "measure")
                    : hbk_xml_child(nth(root, "part", n), "measure");
    for (size_t m = 0; m < reader->n_measures && measure != NULL; m++) {
        const xmlNode *const content =
            is_timewise ? nth(measure, "part", n) : measure;
        any = (content != NULL &&
               read_measure(reader, &reader->measures[m], content, true)) ||
              any;
        measure = hbk_xml_next(measure, "measure");
    }
    return any;
}

void hbk_musicxml_signs(struct hbk_musicxml_reader *reader, const xmlNode *root)
{
    enum { PARTS_MAX = 200 };
    bool any = false;
    for (size_t m = 0; m < reader->n_measures; m++) {
        any = read_measure(reader, &reader->measures[m],
                           reader->measures[m].content, false) ||
              any;
    }
    const xmlNode *const holder = hbk_xml_is(root, "score-timewise")
                                      ? hbk_xml_child(root, "measure")
                                      : root;
    for (size_t n = 0; !any && n < PARTS_MAX && nth(holder, "part", n) != NULL;
         n++) {
        any = read_other(reader, root, n);
    }
}
