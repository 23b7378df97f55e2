#ifndef HBK_BEGIN_HORN_KIND_H
#define HBK_BEGIN_HORN_KIND_H

#include "music/clef.h"

#include <stdbool.h>
#include <stddef.h>

/*
 * What a player calls a horn, and what is usual for such a one. The patterns
 * that come with the program say the rest.
 */

enum hbk_system { HBK_SYSTEM_KEYS, HBK_SYSTEM_VALVES, HBK_SYSTEM_PLAIN };

struct hbk_horn_kind {
    const char *word;  /* "keyed bugle" */
    const char *other; /* another word for it, or NULL */
    const char *title; /* in names: "Keyed bugle" */
    /* What the names of its patterns begin with; "" for those of any kind. */
    const char *pattern;
    enum hbk_system system;
    int sounds; /* what its open C sounds, the C read as C4 in a treble clef */
    size_t n;   /* keys or valves, as most have */
    enum hbk_clef clef;
    bool is_independent; /* each valve alone, the first raises most */
};

/*
 * The kind of that word, in capitals or not, with blanks or dashes. NULL where
 * there is none; `nearest` then receives the word most like it, or NULL.
 */
const struct hbk_horn_kind *hbk_horn_kind_find(const char *text,
                                               const char **nearest);

/*
 * How much of a pattern's name is that of its kind: as long as the `pattern`
 * of those it belongs to, 0 for none. A "cornet-six-..." is no "cornet-".
 */
size_t hbk_horn_kind_of_pattern(const char *name);

/* All kinds, the usual ones first; returns how many. */
size_t hbk_horn_kinds(const struct hbk_horn_kind **kinds);

/* "keyed bugle, ophicleide, ..." in lines of 70 columns, two blanks before. */
const char *hbk_horn_kinds_listed(void);

#endif
