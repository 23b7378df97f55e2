#include "tune/melody/order_parts.h"

#include "base/messages.h"

#include <string.h>

/* A part of the music: its bars up to the next label. */
struct part {
    size_t first, end; /* the same where there is none */
};

struct parts {
    struct part of[128]; /* by letter, those that come first of their name */
    size_t first;        /* the first bar with a label; n_bars without any */
    size_t n;            /* labels */
    bool again;          /* a letter labels several parts */
    bool as_written;     /* the labels are the form, one after the other */
};

static struct parts find_parts(const struct hbk_tune *tune)
{
    struct parts parts = {.first = tune->n_bars, .as_written = true};
    const size_t length = strlen(tune->form);
    size_t b = 0;
    while (b < tune->n_bars) {
        const unsigned char letter = (unsigned char)tune->bars[b].part;
        size_t end = b + 1;
        if (letter == 0 || letter >= 128) {
            b = end;
            continue;
        }
        while (end < tune->n_bars && tune->bars[end].part == 0) {
            end++;
        }
        parts.first = parts.n == 0 ? b : parts.first;
        parts.as_written = parts.as_written && parts.n < length &&
                           (unsigned char)tune->form[parts.n] == letter;
        parts.n++;
        if (parts.of[letter].end > 0) {
            parts.again = true;
        } else {
            parts.of[letter] = (struct part){.first = b, .end = end};
        }
        b = end;
    }
    parts.as_written = parts.as_written && parts.n == length;
    return parts;
}

/*
 * How often repeat signs have the part played, where it is all one repeated
 * section; else 1.
 */
static unsigned times_of(const struct hbk_sections *sections, struct part part)
{
    return sections->end[part.first] == part.end ? sections->times[part.first]
                                                 : 1;
}

static void play_part(struct hbk_order_walk *walk, struct part part,
                      char letter, unsigned pass)
{
    walk->way = HBK_WAY_PART;
    walk->part = letter;
    walk->once = pass > 0;
    walk->forced = pass;
    hbk_order_play(walk, part.first, part.end);
    walk->once = false;
    walk->forced = 0;
}

static void tell(struct hbk_order_walk *walk, size_t bar, const char *text)
{
    hbk_build_warn(walk->build, walk->tune->bars[bar].place,
                   HBK_H_ORDER_READING, "%s", text);
}

/*
 * One part so often. AABB over parts with repeat signs is the same said twice:
 * where the count of the order comes out even with the repeats, each time is
 * one time through them, with its own ending; so has ABC 2.1 its P:A4.B4.
 */
static void play_run(struct hbk_order_walk *walk, const struct parts *parts,
                     char letter, size_t count, bool *told)
{
    const struct part part = parts->of[(unsigned char)letter];
    const unsigned times = times_of(walk->sections, part);
    const bool counted = times > 1 && count % times == 0;
    if (times > 1 && count > 1 && !*told) {
        tell(walk, part.first,
             hbk_arena_printf(walk->build->arena,
                              "P: has part %c %zu times and its repeat signs "
                              "%u: read as %s",
                              letter, count, times,
                              counted ? "the same said twice"
                                      : "repeated every time"));
        *told = true;
    }
    for (size_t i = 0; i < count && !walk->too_long; i++) {
        play_part(walk, part, letter, counted ? (unsigned)(i % times) + 1 : 0);
    }
}

static void tell_missing(struct hbk_order_walk *walk, const struct parts *parts)
{
    bool told[128] = {false};
    for (const char *at = walk->tune->form; *at != '\0'; at++) {
        const unsigned char letter = (unsigned char)*at;
        if (parts->of[letter].end == 0 && !told[letter]) {
            told[letter] = true;
            tell(walk, parts->first,
                 hbk_arena_printf(walk->build->arena,
                                  "P: names part %c, but no part of the music "
                                  "is labelled so: passed over",
                                  *at));
        }
    }
}

static bool has_any(const struct hbk_tune *tune, const struct parts *parts)
{
    for (const char *at = tune->form; *at != '\0'; at++) {
        if (parts->of[(unsigned char)*at].end > 0) {
            return true;
        }
    }
    return false;
}

bool hbk_order_parts(struct hbk_order_walk *walk)
{
    const struct hbk_tune *const tune = walk->tune;
    const struct parts parts = find_parts(tune);
    if (!has_any(tune, &parts)) {
        hbk_build_warn(walk->build, (struct hbk_place){.file = tune->file},
                       HBK_H_ABC_PART_ORDER,
                       "the order of parts P:%.40s is not followed: no part of "
                       "it is labelled in the music, as in P:A",
                       tune->form);
        return false;
    }
    if (parts.as_written) {
        return false;
    }
    if (parts.again) {
        tell(walk, parts.first,
             "several parts have the same letter: P: is read as meaning the "
             "first of them");
    }
    tell_missing(walk, &parts);
    for (size_t b = 0; b < tune->n_bars; b++) {
        if ((tune->bars[b].signs.bits & HBK_SIGN_JUMP) != 0) {
            hbk_order_tell(walk->build, b,
                           "D.C. or D.S., but P: says what is played: not "
                           "followed");
        }
    }
    if (parts.first > 0) {
        play_part(walk, (struct part){.first = 0, .end = parts.first}, 0, 0);
    }
    bool told = false;
    for (const char *at = tune->form; *at != '\0' && !walk->too_long;) {
        size_t count = 1;
        while (at[count] == *at) {
            count++;
        }
        if (parts.of[(unsigned char)*at].end > 0) {
            play_run(walk, &parts, *at, count, &told);
        }
        at += count;
    }
    return true;
}
