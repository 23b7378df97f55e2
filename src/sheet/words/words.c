#include "sheet/words/words.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "notes/verdict.h"

#include <math.h>
#include <string.h>

const char *hbk_words_count(struct hbk_arena *arena, size_t n, bool capital)
{
    static const char *const small[] = {
        "no",    "one",   "two",  "three", "four",   "five",  "six",
        "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    if (n >= sizeof(small) / sizeof(small[0])) {
        return hbk_arena_printf(arena, "%zu", n);
    }
    char *word = hbk_arena_copy(arena, small[n], strlen(small[n]));
    if (capital) {
        word[0] = (char)(word[0] - 'a' + 'A');
    }
    return word;
}

const char *hbk_words_interval(struct hbk_arena *arena, int semitones)
{
    static const char *const names[] = {
        "a unison",          "a semitone",      "a whole tone",
        "a tone and a half", "two whole tones", "a fourth",
        "three whole tones", "a fifth",         "a minor sixth",
        "a major sixth",     "a minor seventh", "a major seventh"};
    const int size = semitones < 0 ? -semitones : semitones;
    const int octaves = size / 12;
    const int rest = size % 12;
    if (octaves == 0) {
        return names[rest];
    }
    const char *whole =
        octaves == 1
            ? "an octave"
            : hbk_arena_printf(arena, "%s octaves",
                               hbk_words_count(arena, (size_t)octaves, false));
    return rest == 0 ? whole
                     : hbk_arena_printf(arena, "%s and %s", whole, names[rest]);
}

struct hbk_spelling hbk_horn_key(int written_c4_sounds)
{
    /* Horns are in A flat and D flat, not in G sharp and C sharp. */
    return hbk_note_is_black(written_c4_sounds) && written_c4_sounds % 12 != 6
               ? hbk_note_flat(written_c4_sounds)
               : hbk_note_usual(written_c4_sounds);
}

/* What a written note sounds, spelled as far from it as that key from C. */
struct hbk_spelling hbk_sounding_spelling(int written, int written_c4_sounds)
{
    const int sounding = written + written_c4_sounds - HBK_NOTE_C4;
    const struct hbk_spelling key = hbk_horn_key(written_c4_sounds);
    const struct hbk_spelling from = hbk_note_usual(written);
    /* Letters from C0, which may lie below it. */
    const int letter =
        7 * (from.octave + key.octave - 4) + from.step + key.step;
    struct hbk_spelling to = {.step = ((letter % 7) + 7) % 7};
    to.octave = (letter - to.step) / 7;
    to.alter = sounding - hbk_spelling_note(to);
    return to.alter < -1 || to.alter > 1 ? hbk_note_usual(sounding) : to;
}

const char *hbk_words_sounding(struct hbk_arena *arena, int written,
                               int written_c4_sounds)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(
        arena, "%s",
        hbk_spelling_name(hbk_sounding_spelling(written, written_c4_sounds),
                          HBK_UNICODE, name));
}

const char *hbk_words_whom(struct hbk_arena *arena, const char *whom)
{
    return whom == NULL ? "" : hbk_arena_printf(arena, "For %s", whom);
}

const char *hbk_words_sounds(struct hbk_arena *arena, int written_c4_sounds)
{
    char name[HBK_NAME_SIZE];
    hbk_spelling_letter(hbk_horn_key(written_c4_sounds), HBK_UNICODE, name);
    const int up = written_c4_sounds - HBK_NOTE_C4;
    if (up == 0) {
        return "Written C sounds C, as written";
    }
    return hbk_arena_printf(arena, "Written C sounds %s, %s %s", name,
                            hbk_words_interval(arena, up),
                            up > 0 ? "higher" : "lower");
}

static void add_run(struct hbk_text *text, int low, int high)
{
    char name[HBK_NAME_SIZE];
    hbk_text_add(text, text->length > 0 ? ", " : "");
    hbk_text_add(text, hbk_note_name(low, HBK_UNICODE, name));
    if (high > low) {
        hbk_text_add(text, high == low + 1 ? ", " : " to ");
        hbk_text_add(text, hbk_note_name(high, HBK_UNICODE, name));
    }
}

const char *hbk_words_note_runs(struct hbk_arena *arena, size_t n,
                                const int notes[])
{
    struct hbk_text text = {.arena = arena};
    size_t from = 0;
    for (size_t i = 1; i <= n; i++) {
        if (i == n || notes[i] != notes[i - 1] + 1) {
            add_run(&text, notes[from], notes[i - 1]);
            from = i;
        }
    }
    return hbk_text_string(&text);
}

static void add_part(struct hbk_text *text, const struct hbk_horn *horn,
                     enum hbk_provenance kind, const char *heading)
{
    size_t count = 0;
    for (size_t i = 0; i < HBK_PART_COUNT; i++) {
        if (horn->provenance[i] == kind) {
            hbk_text_addf(text, "%s%s", count == 0 ? heading : ", ",
                          hbk_part_name((enum hbk_part)i));
            count++;
        }
    }
    hbk_text_add(text, count > 0 ? ". " : "");
}

/* Whether the horn has such a part, so that its source could be said. */
static bool has_part(const struct hbk_horn *horn, enum hbk_part part)
{
    switch (part) {
    case HBK_PART_LENGTH:
        return horn->model == HBK_MODEL_LENGTH;
    case HBK_PART_BORE:
        return horn->model == HBK_MODEL_BORE;
    case HBK_PART_MOUTHPIECE:
        return horn->bore.mouthpiece.given;
    case HBK_PART_KEYS:
        return hbk_horn_has_kind(horn, HBK_KEY);
    case HBK_PART_HOLES:
        return hbk_horn_has_kind(horn, HBK_KEY) &&
               horn->model == HBK_MODEL_BORE;
    case HBK_PART_VALVES:
        return hbk_horn_has_kind(horn, HBK_VALVE);
    case HBK_PART_SLIDES:
        return horn->n_slides > 0;
    case HBK_PART_CROOKS:
        return horn->n_crooks > 0;
    case HBK_PART_FINGERS:
        return horn->n_controls > 0;
    case HBK_PART_TUNING:
    case HBK_PART_PARTIALS:
    case HBK_PART_COUNT:
        break;
    }
    return false;
}

static bool says_provenance(const struct hbk_horn *horn)
{
    for (size_t i = 0; i < HBK_PART_COUNT; i++) {
        if (horn->provenance[i] != HBK_UNSTATED) {
            return true;
        }
    }
    return false;
}

static void add_unsaid(struct hbk_text *text, const struct hbk_horn *horn)
{
    const char *before = "Source not given for: ";
    for (int i = 0; i < HBK_PART_COUNT; i++) {
        if (has_part(horn, (enum hbk_part)i)) {
            hbk_text_addf(text, "%s%s", before,
                          hbk_part_name((enum hbk_part)i));
            before = ", ";
        }
    }
    hbk_text_add(text, ". ");
}

const char *hbk_words_provenance(struct hbk_arena *arena,
                                 const struct hbk_horn *horn)
{
    struct hbk_text text = {.arena = arena};
    add_part(&text, horn, HBK_MEASURED, "Measured: ");
    add_part(&text, horn, HBK_CATALOGUE, "From a catalogue or survey: ");
    add_part(&text, horn, HBK_ASSUMED, "Assumed: ");
    add_part(&text, horn, HBK_OF_PATTERN, "Of the pattern, not of this horn: ");
    if (!says_provenance(horn)) {
        add_unsaid(&text, horn);
    }
    return hbk_text_string(&text);
}

/* "bore", "bore and holes", ... of what decides the sound; "" for none. */
static const char *sounding_parts(struct hbk_arena *arena,
                                  const struct hbk_horn *horn,
                                  enum hbk_provenance kind)
{
    static const enum hbk_part parts[] = {HBK_PART_BORE, HBK_PART_MOUTHPIECE,
                                          HBK_PART_HOLES};
    const char *names[3];
    size_t n = 0;
    for (size_t i = 0; i < 3; i++) {
        if (horn->provenance[parts[i]] == kind) {
            names[n++] = hbk_part_name(parts[i]);
        }
    }
    return n == 0   ? ""
           : n == 1 ? names[0]
           : n == 2 ? hbk_arena_printf(arena, "%s and %s", names[0], names[1])
                    : hbk_arena_printf(arena, "%s, %s and %s", names[0],
                                       names[1], names[2]);
}

const char *hbk_words_not_to_learn(struct hbk_arena *arena,
                                   const struct hbk_notes *notes)
{
    if (notes->horn->not_to_learn_from) {
        return "NOT TO LEARN FROM: too much of this horn is assumed to tell "
               "its true fingerings.";
    }
    if (!hbk_notes_not_to_learn_from(notes)) {
        return "";
    }
    const struct hbk_crook *const crook =
        &notes->horn->crooks[notes->setting.crook];
    return hbk_arena_printf(arena,
                            "NOT TO LEARN FROM with the %s %s: too much is "
                            "assumed to tell its true fingerings.%s%s",
                            hbk_words_key(arena, crook->name), crook->kind,
                            crook->remark == NULL ? "" : " ",
                            crook->remark == NULL ? "" : crook->remark);
}

const char *hbk_words_remarks(struct hbk_arena *arena,
                              const struct hbk_notes *notes)
{
    const struct hbk_horn *const horn = notes->horn;
    const int crook = notes->setting.crook;
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < horn->n_remarks; i++) {
        hbk_text_addf(&text, "%s%s", i == 0 ? "" : " ", horn->remarks[i]);
    }
    /* Where nobody is to learn from it, it stands beside that. */
    if (crook >= 0 && horn->crooks[crook].remark != NULL &&
        (horn->not_to_learn_from || !horn->crooks[crook].not_to_learn_from)) {
        hbk_text_addf(&text, "%s%s", horn->n_remarks > 0 ? " " : "",
                      horn->crooks[crook].remark);
    }
    return hbk_text_string(&text);
}

const char *hbk_words_assumed(struct hbk_arena *arena,
                              const struct hbk_notes *notes)
{
    const struct hbk_horn *const horn = notes->horn;
    const char *const assumed = sounding_parts(arena, horn, HBK_ASSUMED);
    const char *const pattern = sounding_parts(arena, horn, HBK_OF_PATTERN);
    const bool both = assumed[0] != '\0' && pattern[0] != '\0';
    if (hbk_notes_not_to_learn_from(notes)) {
        return hbk_words_not_to_learn(arena, notes);
    }
    if (assumed[0] == '\0' && pattern[0] == '\0') {
        return "";
    }
    return hbk_arena_printf(
        arena,
        "Computed with %s%s%s%s%s%s: how a horn of its kind works, not how "
        "this one plays.",
        assumed[0] == '\0' ? "" : "assumed ", assumed, both ? ", and " : "",
        pattern[0] == '\0' ? "" : "the ", pattern,
        pattern[0] == '\0' ? "" : " of a pattern");
}

const char *hbk_words_cautions(void)
{
    return "Let a repairer or conservator look over an old horn before its "
           "keys or valves are moved. Never force a stuck key, valve, slide, "
           "crook or mouthpiece. An old mouthpiece may contain lead or carry "
           "verdigris: have it cleaned or replated by a repairer, or use a "
           "modern one. Brass is loud: protect your hearing and your "
           "neighbor\u2019s. Dry the horn after playing.";
}

const char *hbk_words_cautions_short(void)
{
    return "Have a repairer or conservator look over an old horn before its "
           "keys or valves are moved. Never force a key, valve, slide, crook "
           "or mouthpiece. Old mouthpieces may hold lead or verdigris: have "
           "them cleaned or replated, or use a modern one. Brass is loud: "
           "protect your hearing. Dry the horn after playing.";
}

const char *hbk_words_key(struct hbk_arena *arena, const char *name)
{
    const size_t length = strcspn(name, " ");
    char with_octave[HBK_NAME_SIZE];
    struct hbk_spelling spelling;
    if (length > 0 && length <= 2) {
        memcpy(with_octave, name, length);
        memcpy(with_octave + length, "4", 2);
        if (hbk_spelling_parse(with_octave, &spelling)) {
            char letter[HBK_NAME_SIZE];
            return hbk_arena_printf(
                arena, "%s%s",
                hbk_spelling_letter(spelling, HBK_UNICODE, letter),
                name + length);
        }
    }
    return name;
}

/* The valve whose slide a trigger pulls in a press; NULL for any other. */
static const struct hbk_control *pulled_valve(const struct hbk_horn *horn,
                                              uint32_t press)
{
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *site = &horn->sites[k];
        if (site->kind != HBK_LOOP || !site->loop.is_drawn ||
            (site->terms[0] & ~press) != 0) {
            continue;
        }
        for (size_t i = 0; i < horn->n_controls; i++) {
            if (horn->controls[i].kind == HBK_VALVE &&
                (site->terms[0] >> i & 1u) != 0) {
                return &horn->controls[i];
            }
        }
    }
    return NULL;
}

const char *hbk_words_draw(struct hbk_arena *arena, const struct hbk_horn *horn,
                           const struct hbk_fingering *fingering)
{
    const double mm = round(fingering->drawn_m * 1e3);
    if (mm < 1.0) {
        return "";
    }
    const struct hbk_control *valve = pulled_valve(horn, fingering->press);
    return valve == NULL
               ? hbk_arena_printf(arena, "pull %.0f mm", mm)
               : hbk_arena_printf(arena, "slide of valve %s: pull %.0f mm",
                                  valve->name, mm);
}

const char *hbk_words_lip(double cents)
{
    static const char *const words[] = {"lip down", "", "lip up"};
    return words[hbk_lip_needed(cents) + 1];
}

const char *hbk_words_known(struct hbk_arena *arena,
                            const struct hbk_horn *horn)
{
    const char *source = horn->source == NULL ? "" : horn->source;
    const size_t length = strlen(source);
    const bool ended = length == 0 || strchr(".!?", source[length - 1]) != NULL;
    /* Words that do not begin a sentence follow a colon. */
    const bool begun = length == 0 || !(source[0] >= 'a' && source[0] <= 'z');
    return hbk_arena_printf(
        arena, "%s%s%s%s%s", hbk_words_provenance(arena, horn),
        begun ? "" : "Source: ", source, ended ? "" : ".",
        horn->model == HBK_MODEL_LENGTH
            ? " Calculated from tube length only; response is not "
              "predicted."
            : "");
}
