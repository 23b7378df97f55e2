#include "sheet/words/words_beside.h"

#include "horn/about.h"
#include "music/pitch.h"
#include "sheet/words/beside_side.h"
#include "sheet/words/words_read.h"

#include <string.h>

/* ---- Pressing: what a finger does to the tube ------------------------- */

enum does {
    DOES_OPEN = 1,    /* a key opens its hole: shorter */
    DOES_CLOSE = 2,   /* a key closes its hole: longer */
    DOES_ADD = 4,     /* a valve adds tube */
    DOES_TAKE_OUT = 8 /* a valve takes tube out */
};

static unsigned does_of(const struct hbk_side *side)
{
    return (side->shut != 0 ? DOES_OPEN : 0u) |
           (side->open != 0 ? DOES_CLOSE : 0u) |
           (side->down != 0 ? DOES_ADD : 0u) |
           (side->up != 0 ? DOES_TAKE_OUT : 0u);
}

static void add_clause(struct hbk_text *text, const char *clause)
{
    hbk_text_addf(text, "%s%s", text->length == 0 ? "" : ", ", clause);
}

/* "a key opens a hole and raises the pitch, a valve adds tube and lowers it" */
static const char *does_words(struct hbk_arena *arena,
                              const struct hbk_side *side)
{
    struct hbk_text text = {.arena = arena};
    if (side->shut != 0) {
        add_clause(&text, "a key opens a hole and raises the pitch");
    } else if (side->open != 0) {
        add_clause(&text, "a key closes its hole and lowers the pitch");
    }
    if (side->down != 0 && side->up != 0) {
        const bool one = hbk_side_count(side->down) == 1;
        add_clause(&text, hbk_arena_printf(
                              arena, "%s add%s tube and lower%s the pitch",
                              hbk_side_list(arena, side->horn, side->down),
                              one ? "s" : "", one ? "s" : ""));
        const bool alone = hbk_side_count(side->up) == 1;
        add_clause(&text,
                   hbk_arena_printf(arena, "%s take%s tube out and raise%s it",
                                    hbk_side_list(arena, side->horn, side->up),
                                    alone ? "s" : "", alone ? "s" : ""));
    } else if (side->down != 0) {
        add_clause(&text, text.length == 0
                              ? "a valve adds tube and lowers the pitch"
                              : "a valve adds tube and lowers it");
    } else if (side->up != 0) {
        add_clause(&text, text.length == 0
                              ? "a valve takes tube out and raises the pitch"
                              : "a valve takes tube out and raises it");
    }
    return hbk_text_string(&text);
}

/* What must be heard first, in a few words; "" where nothing is opposed. */
static const char *opposed(unsigned here, unsigned known)
{
    const unsigned shorter = DOES_OPEN | DOES_TAKE_OUT;
    const bool keys = (here & DOES_OPEN) != 0;
    const bool knows_keys = (known & DOES_OPEN) != 0;
    if (keys && !knows_keys && (known & DOES_ADD) != 0) {
        return (here & DOES_ADD) == 0 ? "Keys shorten where valves lengthen."
                                      : "Keys shorten, valves lengthen.";
    }
    if (knows_keys && !keys && (here & DOES_ADD) != 0 &&
        (known & DOES_ADD) == 0) {
        return "Valves lengthen where keys shorten.";
    }
    if (keys && knows_keys && (here & DOES_ADD) != 0 &&
        (known & DOES_ADD) == 0) {
        return "Keys shorten, a valve lengthens.";
    }
    if ((here & shorter) == 0 && (known & shorter) != 0 && here != 0) {
        return "Every finger lengthens.";
    }
    return (here & ~shorter) == 0 && (known & ~shorter) != 0 && here != 0
               ? "Every finger shortens."
               : "";
}

static bool used_alone(const struct hbk_side *side, uint32_t set)
{
    for (size_t i = 0; i < hbk_horn_n_controls(side->horn); i++) {
        if ((set >> i & 1u) != 0 && !hbk_horn_control(side->horn, i)->alone) {
            return false;
        }
    }
    return true;
}

/* Several fingers at once: holes do not add up as tubes do. */
static const char *together(const struct hbk_side *here,
                            const struct hbk_side *known)
{
    const bool holes = hbk_side_count(here->shut) > 1;
    const bool knew_holes = hbk_side_count(known->shut) > 1;
    const bool tubes =
        hbk_side_count(here->down) > 1 && !used_alone(here, here->down);
    const bool knew_tubes =
        hbk_side_count(known->down) > 1 && !used_alone(known, known->down);
    if (holes && !knew_holes) {
        return knew_tubes ? "Keys do not add up as valves do: of several open "
                            "holes the one nearest the mouthpiece sets the "
                            "pitch."
                          : "Of several open holes the one nearest the "
                            "mouthpiece sets the pitch.";
    }
    return tubes && !knew_tubes ? "Valves add up: pressed together, each "
                                  "lowers the pitch further."
                                : "";
}

const char *hbk_beside_pressing(struct hbk_arena *arena,
                                const struct hbk_notes *here,
                                const struct hbk_notes *known)
{
    const struct hbk_side now = hbk_side_of(here);
    const struct hbk_side then = hbk_side_of(known);
    const unsigned does = does_of(&now);
    const unsigned did = does_of(&then);
    struct hbk_text text = {.arena = arena};
    if (does == 0) {
        hbk_side_say(&text, "No finger changes the tube here: the lips alone "
                            "find the notes, from the natural series of one "
                            "tube.");
        hbk_side_say(&text, did == 0 ? "So it is on the horn you know." : "");
        return hbk_text_string(&text);
    }
    const char *const doing = does_words(arena, &now);
    if (strcmp(doing, does_words(arena, &then)) == 0) {
        hbk_side_say(
            &text,
            hbk_arena_printf(arena, "A finger does what you know: %s.", doing));
    } else if (did == 0) {
        hbk_side_say(
            &text,
            hbk_arena_printf(arena, "The fingers are new to you: %s.", doing));
    } else {
        hbk_side_say(&text, opposed(does, did));
        hbk_side_say(
            &text, hbk_arena_printf(arena, "Here %s; on the horn you know %s.",
                                    doing, does_words(arena, &then)));
    }
    hbk_side_say(&text, together(&now, &then));
    return hbk_text_string(&text);
}

/* ---- At rest: what is open ------------------------------------------- */

/* Notes of this horn by who plays them open; both horns reach them. */
struct open_notes {
    size_t n_both, n_here, n_known;
    int both[HBK_NOTE_MAX + 1], here[HBK_NOTE_MAX + 1], known[HBK_NOTE_MAX + 1];
};

static void find_open(const struct hbk_notes *here,
                      const struct hbk_notes *known, struct open_notes *open)
{
    *open = (struct open_notes){0};
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        const struct hbk_note *const note = hbk_notes_find(here, written);
        const struct hbk_fingering *const then =
            hbk_beside_known(here, known, written);
        if (note == NULL || note->n == 0 || then == NULL) {
            continue;
        }
        const bool is_open = note->fingerings[0].press == 0;
        const bool was_open = then->press == 0;
        if (is_open && was_open) {
            open->both[open->n_both++] = written;
        } else if (is_open) {
            open->here[open->n_here++] = written;
        } else if (was_open) {
            open->known[open->n_known++] = written;
        }
    }
}

/* "C4, G4 and C5" of "C4, G4, C5". */
static const char *joined(struct hbk_arena *arena, const char *runs)
{
    const char *last = NULL;
    for (const char *at = strstr(runs, ", "); at != NULL;
         at = strstr(at + 2, ", ")) {
        last = at;
    }
    return last == NULL ? runs
                        : hbk_arena_printf(arena, "%.*s and %s",
                                           (int)(last - runs), runs, last + 2);
}

/* A sentence about notes; nothing where there is none. */
static void add_notes(struct hbk_text *text, const struct hbk_notes *notes,
                      size_t n, const int written[], const char *before,
                      const char *after)
{
    if (n > 0) {
        const char *const runs =
            hbk_words_read_runs(text->arena, notes, n, written);
        hbk_side_say(text, hbk_arena_printf(text->arena, "%s%s%s.", before,
                                            joined(text->arena, runs), after));
    }
}

static void add_open_notes(struct hbk_text *text, const struct hbk_side *here,
                           const struct hbk_side *known)
{
    const struct hbk_notes *const notes = here->notes;
    struct open_notes open;
    find_open(notes, known->notes, &open);
    add_notes(text, notes, open.n_both, open.both,
              "Without any finger on both horns: ", "");
    if (open.n_both == 0 && open.n_here + open.n_known > 0) {
        hbk_side_say(text, "No written note is open on both horns.");
    }
    if (hbk_side_moves(here) != 0) {
        add_notes(text, notes, open.n_here, open.here,
                  "Open here, but not on the horn you know: ", "");
    }
    add_notes(text, notes, open.n_known, open.known,
              "Open on the horn you know, but fingered here: ", "");
}

/* Tube that pressing takes out. */
static void add_tube(struct hbk_text *text, const struct hbk_side *here,
                     const struct hbk_side *known)
{
    if (here->up != 0 &&
        hbk_side_shared(here, here->up, known, known->up) != here->up) {
        hbk_side_say(
            text,
            hbk_arena_printf(text->arena, "At rest the tube of %s is in.",
                             hbk_side_list(text->arena, here->horn, here->up)));
    }
}

static void add_open_key(struct hbk_text *text, const struct hbk_side *here,
                         uint32_t keys, bool as_known)
{
    struct hbk_arena *const arena = text->arena;
    const bool one = hbk_side_count(keys) == 1;
    const char *const list = hbk_side_list_first(arena, here->horn, keys);
    if (as_known) {
        hbk_side_say(text, hbk_arena_printf(arena,
                                            "%s %s open at rest, as you know "
                                            "%s.",
                                            list, one ? "is" : "are",
                                            one ? "it" : "them"));
        return;
    }
    hbk_side_say(
        text,
        hbk_arena_printf(arena,
                         "%s %s OPEN at rest: pressing closes the "
                         "hole and lowers the pitch.%s",
                         list, one ? "is" : "are",
                         here->shut == 0 ? "" : " The other keys are closed."));
}

/* Holes that stand open, and those that only the other horn has. */
static void add_open_keys(struct hbk_text *text, const struct hbk_side *here,
                          const struct hbk_side *known)
{
    struct hbk_arena *const arena = text->arena;
    const uint32_t same = hbk_side_shared(here, here->open, known, known->open);
    if (same != 0) {
        add_open_key(text, here, same, true);
    }
    if ((here->open & ~same) != 0) {
        add_open_key(text, here, here->open & ~same, false);
    }
    if (here->open == 0 && here->shut != 0 && known->open == 0 &&
        known->shut == 0) {
        hbk_side_say(text, "At rest every key is closed.");
    }
    const uint32_t gone =
        known->open & ~hbk_side_shared(known, known->open, here, here->open);
    if (gone != 0) {
        hbk_side_say(text,
                     hbk_arena_printf(
                         arena, "%s of the horn you know %s open at rest; %s.",
                         hbk_side_list_first(arena, known->horn, gone),
                         hbk_side_count(gone) == 1 ? "is" : "are",
                         here->open != 0   ? "not here"
                         : here->shut != 0 ? "here every key is closed"
                                           : "here there is no hole to close"));
    }
}

const char *hbk_beside_rest(struct hbk_arena *arena,
                            const struct hbk_notes *here,
                            const struct hbk_notes *known)
{
    const struct hbk_side now = hbk_side_of(here);
    const struct hbk_side then = hbk_side_of(known);
    struct hbk_text text = {.arena = arena};
    if (hbk_side_moves(&now) == 0) {
        hbk_side_say(&text, "Every note is an open note here.");
    }
    add_open_notes(&text, &now, &then);
    add_open_keys(&text, &now, &then);
    add_tube(&text, &now, &then);
    if (text.length == 0) {
        hbk_side_say(&text, "The horns have no open note in common.");
    }
    return hbk_text_string(&text);
}
