#include "begin/question.h"

#include "base/text.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "sheet/words/words.h"

#include <math.h>
#include <string.h>

/* Every question, in its order. */
static const struct {
    const char *option;
    const char *words;
} questions[HBK_ASK_COUNT] = {
    [HBK_ASK_KIND] = {"kind", NULL}, /* with the list of kinds */
    [HBK_ASK_KEY] = {"key", "In what key is it? The note that sounds when C is "
                            "read, as in Bb."},
    [HBK_ASK_KEYS] = {"keys", "How many keys has it? Count those that are open "
                              "at rest, too."},
    [HBK_ASK_VALVES] = {"valves", NULL},
    [HBK_ASK_OPEN] = {"open",
                      "Which keys are open while nobody presses them? Number "
                      "them from the\nbell; none if all are closed."},
    [HBK_ASK_CALLED] = {"called",
                        "Which note is each key for, from the bell? What is "
                        "engraved on it, or the\nwritten note that it gives "
                        "alone."},
    [HBK_ASK_LOWERS] = {"lowers",
                        "By how many semitones does each valve lower, pressed "
                        "alone? 2 is a whole tone;\n+2 is a valve that raises "
                        "by one."},
    [HBK_ASK_ACTION] = {"action",
                        "How are the valves made? piston, wide piston, early "
                        "piston, double piston,\nrotary or string rotary."},
    [HBK_ASK_LOOPS] = {"loops", "How long is the loop of each valve, in mm, if "
                                "you have measured them?"},
    [HBK_ASK_CLEF] = {"clef",
                      "In what clef is it read? In treble its open notes are "
                      "read as C and G; in\nbass, tenor or alto notes are "
                      "read as they sound."},
    [HBK_ASK_A4] = {"a4", "At what pitch does it play, A4 in Hz, with its "
                          "slides where you tune them?"},
    [HBK_ASK_LENGTH] = {"length", NULL},
    [HBK_ASK_TEMPERATURE] = {"temperature", NULL},
    [HBK_ASK_NAME] = {"name", "What shall its charts call it?"},
};

const char *hbk_question_option(enum hbk_question question)
{
    return questions[question].option;
}

const char *hbk_question_words(enum hbk_question question,
                               const struct hbk_answers *answers,
                               const struct hbk_draft *draft)
{
    if (question == HBK_ASK_KIND) {
        return hbk_arena_printf(answers->arena, "What horn is it?\n%s",
                                hbk_horn_kinds_listed());
    }
    const enum hbk_system system = answers->kind->system;
    const char *const words = questions[question].words;
    if (question == HBK_ASK_VALVES) {
        return system == HBK_SYSTEM_VALVES ? "How many valves has it?"
               : system == HBK_SYSTEM_KEYS
                   ? "How many valves has it besides? Most have none."
                   : NULL;
    }
    const bool is_of_keys =
        question == HBK_ASK_OPEN || question == HBK_ASK_CALLED;
    const bool is_of_valves = question == HBK_ASK_LOWERS ||
                              question == HBK_ASK_ACTION ||
                              question == HBK_ASK_LOOPS;
    const bool is_asked =
        !(is_of_keys && draft->n_keys == 0) &&
        !(is_of_valves && draft->n_valves == 0) &&
        !(question == HBK_ASK_KEYS && system != HBK_SYSTEM_KEYS);
    return is_asked ? words : NULL;
}

/* What the keys are called, with commas where one has a blank. */
static const char *usual_called(struct hbk_arena *arena,
                                const struct hbk_draft *draft)
{
    struct hbk_text text = {.arena = arena};
    const char *between = " ";
    double below = 0.0;
    const char *names[HBK_BEGIN_KEYS_MAX];
    for (size_t i = draft->n_keys; i-- > 0;) {
        const struct hbk_draft_key *const key = &draft->keys[i];
        char name[HBK_NAME_SIZE];
        below += key->is_open ? key->raises : 0.0;
        const double from_open = key->is_open ? below : key->raises;
        hbk_spelling_letter(
            hbk_note_usual(HBK_NOTE_C4 + (int)lround(from_open)), HBK_ASCII,
            name);
        names[i] = key->called != NULL ? key->called
                                       : hbk_arena_printf(arena, "%s", name);
        between = strchr(names[i], ' ') != NULL ? ", " : between;
    }
    for (size_t i = 0; i < draft->n_keys; i++) {
        hbk_text_addf(&text, "%s%s", i == 0 ? "" : between, names[i]);
    }
    return hbk_text_string(&text);
}

static const char *usual_open(struct hbk_arena *arena,
                              const struct hbk_draft *draft)
{
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < draft->n_keys; i++) {
        if (draft->keys[i].is_open) {
            hbk_text_addf(&text, "%s%zu", text.length == 0 ? "" : " ", i + 1);
        }
    }
    return text.length == 0 ? "none" : hbk_text_string(&text);
}

static const char *usual_lowers(struct hbk_arena *arena,
                                const struct hbk_draft *draft)
{
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < draft->n_valves; i++) {
        const int lowers = draft->valves[i].lowers;
        hbk_text_addf(&text, "%s%s%d", i == 0 ? "" : " ", lowers < 0 ? "+" : "",
                      lowers < 0 ? -lowers : lowers);
    }
    return hbk_text_string(&text);
}

static const char *usual_key(struct hbk_arena *arena,
                             const struct hbk_answers *answers)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(
        arena, "%s",
        hbk_spelling_letter(hbk_horn_key(answers->kind->sounds), HBK_ASCII,
                            name));
}

const char *hbk_question_usual(enum hbk_question question,
                               const struct hbk_answers *answers,
                               const struct hbk_draft *draft)
{
    struct hbk_arena *const arena = answers->arena;
    switch (question) {
    case HBK_ASK_KIND:
        return "cornet";
    case HBK_ASK_KEY:
        return usual_key(arena, answers);
    case HBK_ASK_KEYS:
        return hbk_arena_printf(arena, "%zu", draft->n_keys);
    case HBK_ASK_VALVES:
        return hbk_arena_printf(arena, "%zu", draft->n_valves);
    case HBK_ASK_OPEN:
        return usual_open(arena, draft);
    case HBK_ASK_CALLED:
        return usual_called(arena, draft);
    case HBK_ASK_LOWERS:
        return usual_lowers(arena, draft);
    case HBK_ASK_ACTION:
        return hbk_action_name(draft->valves[0].action);
    case HBK_ASK_CLEF:
        return hbk_clef_name(draft->clef);
    case HBK_ASK_A4:
        return hbk_arena_printf(arena, "%g", draft->a4_hz);
    case HBK_ASK_NAME:
        return draft->name;
    case HBK_ASK_LOOPS:
    case HBK_ASK_LENGTH:
    case HBK_ASK_TEMPERATURE:
    case HBK_ASK_COUNT:
        break;
    }
    return "";
}

const char *hbk_question_missing(const struct hbk_answers *answers)
{
    const bool *const given = answers->given;
    if (answers->kind == NULL) {
        return given[HBK_ASK_KEY] ? "--kind" : "--kind and --key";
    }
    const enum hbk_system system = answers->kind->system;
    const char *const counted =
        system == HBK_SYSTEM_KEYS && !given[HBK_ASK_KEYS]       ? "--keys"
        : system == HBK_SYSTEM_VALVES && !given[HBK_ASK_VALVES] ? "--valves"
                                                                : "";
    return given[HBK_ASK_KEY] ? counted
           : counted[0] == '\0'
               ? "--key"
               : hbk_arena_printf(answers->arena, "--key and %s", counted);
}

bool hbk_answers_of_pattern(struct hbk_answers *answers,
                            const struct hbk_pattern *pattern)
{
    const struct hbk_horn *const horn = pattern->horn;
    const struct hbk_horn_kind *kinds = NULL;
    const size_t n = hbk_horn_kinds(&kinds);
    size_t longest = 0;
    size_t counts[2] = {0, 0}; /* keys, valves */
    for (size_t i = 0; i < n; i++) {
        const size_t length = strlen(kinds[i].pattern);
        if (length > longest &&
            strncmp(pattern->name, kinds[i].pattern, length) == 0) {
            answers->kind = &kinds[i];
            longest = length;
        }
    }
    for (size_t i = 0; i < horn->n_controls; i++) {
        counts[0] += horn->controls[i].kind == HBK_KEY ? 1 : 0;
        counts[1] += horn->controls[i].kind == HBK_VALVE ? 1 : 0;
    }
    if (longest == 0 || counts[0] > HBK_BEGIN_KEYS_MAX ||
        counts[1] > HBK_BEGIN_VALVES_MAX) {
        return false;
    }
    answers->pattern = pattern;
    answers->sounds = horn->written_c4_sounds;
    answers->n_keys = counts[0];
    answers->n_valves = counts[1];
    answers->given[HBK_ASK_KIND] = true;
    answers->given[HBK_ASK_KEY] = true;
    answers->given[HBK_ASK_KEYS] = true;
    answers->given[HBK_ASK_VALVES] = true;
    return true;
}
