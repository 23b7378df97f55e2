#include "tune/musicxml/score.h"

#include "base/number.h"
#include "base/text.h"
#include "tune/melody/build_marks.h"

#include <stdlib.h>
#include <string.h>

/*
 * What notes carry besides their own signs: dynamics, words that are sung, and
 * what no sheet of a horn shows. Read when all notes are there.
 */

/* ---- words that are sung ---- */

enum { VERSES_MAX = 32 };

struct verse {
    const char *name; /* as the file numbers it */
    long number;
    unsigned rank;   /* from the top, 1 for the first */
    size_t syllable; /* the last one */
    bool is_held;    /* a line goes on from it */
};

struct verses {
    size_t n;
    struct verse items[VERSES_MAX];
};

static struct verse *find_verse(struct verses *verses, const char *name)
{
    for (size_t v = 0; v < verses->n; v++) {
        if (strcmp(verses->items[v].name, name) == 0) {
            return &verses->items[v];
        }
    }
    if (verses->n == VERSES_MAX) {
        return NULL;
    }
    /* Verses without a number come after those with one. */
    struct verse *const verse = &verses->items[verses->n];
    *verse = (struct verse){.name = name, .number = 10000 + (long)verses->n};
    (void)hbk_number_parse_whole(name, 0, 9999, &verse->number);
    verse->rank = (unsigned)++verses->n;
    return verse;
}

/* The words of a syllable, with those that run into it; its last hyphen. */
static const char *text_of(struct hbk_musicxml_reader *reader,
                           const xmlNode *lyric, bool *hyphen)
{
    struct hbk_text text = {.arena = reader->arena};
    for (const xmlNode *at = lyric->children; at != NULL; at = at->next) {
        if (hbk_xml_is(at, "text")) {
            hbk_text_add(&text, hbk_xml_text(reader->arena, at));
        } else if (hbk_xml_is(at, "elision")) {
            const char *const sign = hbk_xml_text(reader->arena, at);
            hbk_text_add(&text, sign[0] == '\0' ? "\u203F" : sign);
        } else if (hbk_xml_is(at, "syllabic")) {
            const char *const kind = hbk_xml_text(reader->arena, at);
            *hyphen = strcmp(kind, "begin") == 0 || strcmp(kind, "middle") == 0;
        }
    }
    return text.length == 0 ? "" : hbk_text_string(&text);
}

static void hold(struct hbk_musicxml_reader *reader, struct verse *verse,
                 size_t event)
{
    if (verse->is_held) {
        reader->build.tune->marks.syllables[verse->syllable].last = event;
    }
}

static void read_lyric(struct hbk_musicxml_reader *reader, const xmlNode *lyric,
                       size_t event, struct verses *verses)
{
    struct hbk_build *const build = &reader->build;
    const char *const name = hbk_xml_attribute(reader->arena, lyric, "number");
    struct verse *const verse = find_verse(verses, name == NULL ? "1" : name);
    bool hyphen = false;
    const char *const text = text_of(reader, lyric, &hyphen);
    const xmlNode *const extend = hbk_xml_child(lyric, "extend");
    if (hbk_xml_child(lyric, "laughing") != NULL ||
        hbk_xml_child(lyric, "humming") != NULL) {
        hbk_build_left_out(build, "sign for the singer",
                           "signs for the singer");
    }
    if (hbk_xml_says(lyric, "print-object", "no")) {
        return;
    }
    if (verse == NULL) {
        hbk_build_left_out(build, "syllable of a further verse",
                           "syllables of further verses");
        return;
    }
    if (text[0] == '\0') {
        hold(reader, verse, event);
        verse->is_held =
            verse->is_held && !hbk_xml_says(extend, "type", "stop");
        return;
    }
    struct hbk_tune_syllable *const syllable = hbk_build_syllable(
        build, event, verse->rank, text, hbk_xml_place(reader->file, lyric));
    if (syllable != NULL) {
        syllable->hyphen = hyphen;
        verse->syllable = build->tune->marks.n_syllables - 1;
        verse->is_held =
            extend != NULL && !hbk_xml_says(extend, "type", "stop");
    }
}

/* Whether a note has words, or a line, in this verse. */
static bool has_lyric(const xmlNode *note, const struct verse *verse)
{
    for (const xmlNode *at = hbk_xml_child(note, "lyric"); at != NULL;
         at = hbk_xml_next(at, "lyric")) {
        if (hbk_xml_says(at, "number", verse->name) ||
            (!hbk_xml_has(at, "number") && strcmp(verse->name, "1") == 0)) {
            return true;
        }
    }
    return false;
}

static void read_lyrics(struct hbk_musicxml_reader *reader, const xmlNode *note,
                        size_t event, struct verses *verses)
{
    const enum hbk_tune_kind kind = reader->build.tune->events[event].kind;
    for (size_t v = 0; v < verses->n && kind != HBK_TUNE_GRACE; v++) {
        struct verse *const verse = &verses->items[v];
        if (kind == HBK_TUNE_REST) {
            verse->is_held = false;
        } else if (!has_lyric(note, verse)) {
            hold(reader, verse, event);
        }
    }
    for (const xmlNode *at = hbk_xml_child(note, "lyric"); at != NULL;
         at = hbk_xml_next(at, "lyric")) {
        if (kind != HBK_TUNE_REST) {
            read_lyric(reader, at, event, verses);
        } else if (hbk_xml_child(at, "text") != NULL) {
            hbk_build_left_out(&reader->build, "syllable under a rest",
                               "syllables under rests");
        }
    }
}

static int by_number(const void *a, const void *b)
{
    const struct verse *const one = a;
    const struct verse *const two = b;
    return (one->number > two->number) - (one->number < two->number);
}

/* The verses from the top down by their numbers, whichever came first. */
static void rank_verses(struct hbk_tune *tune, struct verses *verses)
{
    unsigned ranks[VERSES_MAX + 1] = {0};
    if (verses->n == 0) {
        return;
    }
    qsort(verses->items, verses->n, sizeof(verses->items[0]), by_number);
    for (size_t v = 0; v < verses->n; v++) {
        ranks[verses->items[v].rank] = (unsigned)v + 1;
    }
    for (size_t i = 0; i < tune->marks.n_syllables; i++) {
        struct hbk_tune_syllable *const syllable = &tune->marks.syllables[i];
        syllable->verse = ranks[syllable->verse];
    }
    tune->marks.n_verses = (unsigned)verses->n;
}

/* ---- notations ---- */

static const struct kind {
    const char *name, *one, *many;
} others[] = {
    /* Articulations. */
    {"scoop", "slide", "slides"},
    {"plop", "slide", "slides"},
    {"doit", "slide", "slides"},
    {"falloff", "slide", "slides"},
    {"stress", "mark of stress", "marks of stress"},
    {"unstress", "mark of stress", "marks of stress"},
    {"soft-accent", "soft accent", "soft accents"},
    {"other-articulation", "special sign", "special signs"},
    /* Ornaments. */
    {"wavy-line", "line after a trill", "lines after trills"},
    {"tremolo", "tremolo", "tremolos"},
    {"shake", "old ornament", "old ornaments"},
    {"schleifer", "old ornament", "old ornaments"},
    {"haydn", "old ornament", "old ornaments"},
    /* What other players do. */
    {"up-bow", "bow mark", "bow marks"},
    {"down-bow", "bow mark", "bow marks"},
    {"harmonic", "mark for strings", "marks for strings"},
    {"thumb-position", "mark for strings", "marks for strings"},
    {"pluck", "mark for strings", "marks for strings"},
    {"snap-pizzicato", "mark for strings", "marks for strings"},
    {"fret", "mark for strings", "marks for strings"},
    {"string", "mark for strings", "marks for strings"},
    {"hammer-on", "mark for strings", "marks for strings"},
    {"pull-off", "mark for strings", "marks for strings"},
    {"bend", "slide", "slides"},
    {"tap", "mark for strings", "marks for strings"},
    {"golpe", "mark for strings", "marks for strings"},
    {"heel", "pedal mark", "pedal marks"},
    {"toe", "pedal mark", "pedal marks"},
    {"fingernails", "mark for strings", "marks for strings"},
    {"handbell", "sign for other instruments", "signs for other instruments"},
    {"double-tongue", "tonguing mark", "tonguing marks"},
    {"triple-tongue", "tonguing mark", "tonguing marks"},
    {"hole", "fingering diagram", "fingering diagrams"},
    {"arrow", "special sign", "special signs"},
    {"brass-bend", "slide", "slides"},
    {"flip", "slide", "slides"},
    {"smear", "slide", "slides"},
    {"half-muted", "mute sign", "mute signs"},
    {"harmon-mute", "mute sign", "mute signs"},
    {"other-technical", "special sign", "special signs"},
    /* What stands in notations itself. */
    {"glissando", "glissando", "glissandos"},
    {"slide", "slide", "slides"},
    {"arpeggiate", "arpeggio", "arpeggios"},
    {"non-arpeggiate", "bracket", "brackets"},
    {"other-notation", "special sign", "special signs"},
};

bool hbk_musicxml_is_strange(struct hbk_arena *arena, const xmlNode *ornament)
{
    return hbk_xml_is(ornament, "other-ornament") &&
           strcmp(hbk_xml_text(arena, ornament), "roll") != 0;
}

static void count_other(struct hbk_build *build, const xmlNode *node)
{
    if (hbk_musicxml_is_strange(build->arena, node)) {
        hbk_build_left_out(build, "special sign", "special signs");
    }
    const bool is_later = hbk_xml_says(node, "type", "stop") ||
                          hbk_xml_says(node, "type", "continue");
    for (size_t i = 0; i < sizeof(others) / sizeof(others[0]); i++) {
        if (!is_later && hbk_xml_is(node, others[i].name)) {
            hbk_build_left_out(build, others[i].one, others[i].many);
        }
    }
}

/* Slurs and ties are drawn as whole lines. */
static void count_dots(struct hbk_build *build, const xmlNode *node)
{
    const bool is_broken = hbk_xml_says(node, "line-type", "dashed") ||
                           hbk_xml_says(node, "line-type", "dotted");
    if (is_broken && hbk_xml_says(node, "type", "start") &&
        (hbk_xml_is(node, "slur") || hbk_xml_is(node, "tied"))) {
        hbk_build_left_out(build, "dotting of a slur or tie",
                           "dottings of slurs and ties");
    }
}

static void count_group(struct hbk_build *build, const xmlNode *group)
{
    for (const xmlNode *at = group == NULL ? NULL : group->children; at != NULL;
         at = at->next) {
        count_other(build, at);
    }
}

static void add_sign(struct hbk_musicxml_reader *reader, const xmlNode *node,
                     enum hbk_tune_mark_kind kind, size_t event,
                     const char *text)
{
    struct hbk_build_mark *const mark =
        hbk_build_mark(&reader->build, kind, hbk_build_at_event(event),
                       hbk_xml_place(reader->file, node));
    if (mark != NULL) {
        mark->mark.text = text;
        mark->mark.side =
            hbk_xml_says(node, "placement", "above")   ? HBK_TUNE_ABOVE
            : hbk_xml_says(node, "placement", "below") ? HBK_TUNE_BELOW
                                                       : HBK_TUNE_FREE;
    }
}

static void read_technical(struct hbk_musicxml_reader *reader,
                           const xmlNode *technical, size_t event)
{
    for (const xmlNode *at = technical == NULL ? NULL : technical->children;
         at != NULL; at = at->next) {
        if (hbk_xml_is(at, "stopped")) {
            add_sign(reader, at, HBK_TUNE_MARK_PLUS, event, "");
        } else if (hbk_xml_is(at, "open") || hbk_xml_is(at, "open-string")) {
            add_sign(reader, at, HBK_TUNE_MARK_OPEN, event, "");
        } else {
            count_other(&reader->build, at);
        }
    }
}

static void read_notations(struct hbk_musicxml_reader *reader,
                           const xmlNode *notations, size_t event)
{
    struct hbk_build *const build = &reader->build;
    for (const xmlNode *at = notations->children; at != NULL; at = at->next) {
        if (hbk_xml_is(at, "dynamics")) {
            const char *const text = hbk_musicxml_dynamics(reader->arena, at);
            const bool is_plain = strspn(text, "pmfrszn") == strlen(text);
            if (text[0] != '\0') {
                add_sign(reader, at,
                         is_plain ? HBK_TUNE_MARK_DYNAMIC : HBK_TUNE_MARK_WORDS,
                         event, text);
            }
        } else if (hbk_xml_is(at, "technical")) {
            read_technical(reader, at, event);
        } else if (hbk_xml_is(at, "articulations") ||
                   hbk_xml_is(at, "ornaments")) {
            count_group(build, at);
        } else if (hbk_xml_is(at, "accidental-mark")) {
            hbk_build_left_out(build, "accidental above a note",
                               "accidentals above notes");
        } else if (hbk_xml_says(at, "type", "let-ring")) {
            hbk_build_left_out(build, "tie to nothing", "ties to nothing");
        } else {
            count_other(build, at);
        }
        count_dots(build, at);
    }
}

/* The first note of the chord that a note is in: it carries what is said. */
static const xmlNode *first_of_chord(const xmlNode *note)
{
    while (hbk_xml_child(note, "chord") != NULL) {
        const xmlNode *before = note->prev;
        while (before != NULL && !hbk_xml_is(before, "note")) {
            before = before->prev;
        }
        if (before == NULL) {
            break;
        }
        note = before;
    }
    return note;
}

void hbk_musicxml_note_marks(struct hbk_musicxml_reader *reader)
{
    struct hbk_tune *const tune = reader->build.tune;
    struct verses verses = {.n = 0};
    hbk_musicxml_print_jump(reader);
    for (size_t i = 0; i < tune->n_events && !reader->build.failed; i++) {
        if (reader->notes[i] == NULL) {
            continue;
        }
        const xmlNode *const note = first_of_chord(reader->notes[i]);
        read_lyrics(reader, note, i, &verses);
        for (const xmlNode *at = hbk_xml_child(note, "notations"); at != NULL;
             at = hbk_xml_next(at, "notations")) {
            read_notations(reader, at, i);
        }
        const xmlNode *const head = hbk_xml_child(note, "notehead");
        const char *const shape = hbk_xml_text(reader->arena, head);
        if (head != NULL && strcmp(shape, "normal") != 0) {
            hbk_build_left_out(&reader->build, "special note head",
                               "special note heads");
        }
    }
    rank_verses(tune, &verses);
}
