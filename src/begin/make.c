#include "begin/make.h"

#include "begin/make_keys.h"
#include "begin/make_valves.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "sheet/words/words.h"

#include <math.h>

enum { OCTAVE = 12 };

/* The middle of a compass on a treble staff is no lower, sounding C4. */
static const int treble_middle = HBK_NOTE_C4;

/*
 * Semitones from the pattern's written notes to this horn's. In a treble clef
 * the open horn has its C, by octaves to where the staff is; in the other
 * clefs notes are written as they sound.
 */
static int written_shift(const struct hbk_horn *pattern, enum hbk_clef clef,
                         int sounds)
{
    if (clef != HBK_TREBLE) {
        return sounds - HBK_NOTE_C4;
    }
    int shift = 0;
    while (pattern->has_compass &&
           pattern->lowest + pattern->highest + 2 * shift < 2 * treble_middle) {
        shift += OCTAVE;
    }
    return shift;
}

/* What is on a slide moves with the length of the horn, to whole mm. */
static double moved_mm(double metres, int semitones)
{
    const double mm = 1000.0 * metres;
    return semitones == 0 ? mm : fmax(round(mm * exp2(-semitones / 12.0)), 1.0);
}

static size_t valve_number(const struct hbk_horn *horn, int control)
{
    size_t number = 0;
    for (int i = 0; i <= control; i++) {
        number += horn->controls[i].kind == HBK_VALVE ? 1 : 0;
    }
    return number;
}

/* Those of the main tube, and of valves that the horn has. */
static void take_slides(const struct hbk_answers *answers,
                        struct hbk_draft *draft)
{
    const struct hbk_horn *const from = draft->pattern->horn;
    struct hbk_draft_slide *const slides =
        HBK_ARENA_ARRAY(answers->arena, struct hbk_draft_slide, from->n_slides);
    for (size_t i = 0; i < from->n_slides; i++) {
        const struct hbk_slide *const slide = &from->slides[i];
        const size_t valve =
            slide->valve < 0 ? 0 : valve_number(from, slide->valve);
        if (valve > draft->n_valves) {
            continue;
        }
        const double travel_mm = moved_mm(slide->travel_m, draft->moved);
        slides[draft->n_slides++] = (struct hbk_draft_slide){
            .name = slide->name,
            .valve = valve,
            .travel_mm = travel_mm,
            .stands_out_mm =
                slide->stands_out_m > 0.0
                    ? fmin(moved_mm(slide->stands_out_m, draft->moved),
                           travel_mm)
                    : 0.0,
            .legs = slide->legs};
    }
    draft->slides = slides;
}

/* Crooks, called by the key they put the horn in. */
static void take_crooks(const struct hbk_answers *answers,
                        struct hbk_draft *draft)
{
    const struct hbk_horn *const from = draft->pattern->horn;
    struct hbk_draft_crook *const crooks =
        HBK_ARENA_ARRAY(answers->arena, struct hbk_draft_crook, from->n_crooks);
    for (size_t i = 0; i < from->n_crooks; i++) {
        const struct hbk_crook *const crook = &from->crooks[i];
        char name[HBK_NAME_SIZE];
        const int sounds = crook->written_c4_sounds + draft->moved;
        if (!crook->has_written_c4) {
            continue;
        }
        hbk_spelling_letter(hbk_horn_key(sounds), HBK_ASCII, name);
        crooks[draft->n_crooks++] = (struct hbk_draft_crook){
            .name = hbk_arena_printf(answers->arena, "%s", name),
            .kind = crook->kind,
            .adds_mm = moved_mm(crook->adds_m, draft->moved),
            .sounds = sounds};
    }
    draft->crooks = crooks;
}

/* "seven keys", "four keys and a valve", "three pistons"; "" for neither. */
static const char *counted(struct hbk_arena *arena,
                           const struct hbk_draft *draft)
{
    const enum hbk_action action =
        draft->n_valves > 0 ? draft->valves[0].action : HBK_ACTION_UNKNOWN;
    const char *const keys =
        draft->n_keys == 0
            ? ""
            : hbk_arena_printf(arena, "%s key%s",
                               hbk_words_count(arena, draft->n_keys, false),
                               draft->n_keys == 1 ? "" : "s");
    if (draft->n_valves == 0) {
        return keys;
    }
    const char *const made = action == HBK_ACTION_PISTON        ? "piston"
                             : action == HBK_ACTION_ROTARY      ? "rotary valve"
                             : action == HBK_ACTION_WIDE_PISTON ? "wide piston"
                                                                : "valve";
    return hbk_arena_printf(arena, "%s%s%s %s%s", keys,
                            draft->n_keys > 0 ? " and " : "",
                            hbk_words_count(arena, draft->n_valves, false),
                            made, draft->n_valves == 1 ? "" : "s");
}

/* "Keyed bugle in B flat, seven keys". */
static const char *usual_name(const struct hbk_answers *answers,
                              const struct hbk_draft *draft, int sounds)
{
    struct hbk_arena *const arena = answers->arena;
    const struct hbk_spelling key = hbk_horn_key(sounds);
    const char *const parts = counted(arena, draft);
    char letter[HBK_NAME_SIZE];
    hbk_spelling_letter(key, HBK_ASCII, letter);
    return hbk_arena_printf(arena, "%s in %c%s%s%s", answers->kind->title,
                            letter[0],
                            key.alter < 0   ? " flat"
                            : key.alter > 0 ? " sharp"
                                            : "",
                            parts[0] == '\0' ? "" : ", ", parts);
}

/* What was said is of this horn, the rest of the pattern. */
static void state_provenance(const struct hbk_answers *answers,
                             struct hbk_draft *draft)
{
    const bool *const given = answers->given;
    enum hbk_provenance *const known = draft->provenance;
    known[HBK_PART_LENGTH] = given[HBK_ASK_LENGTH] ? HBK_MEASURED : HBK_ASSUMED;
    known[HBK_PART_TUNING] = given[HBK_ASK_A4] ? HBK_MEASURED : HBK_ASSUMED;
    if (draft->n_keys > 0) {
        known[HBK_PART_KEYS] = given[HBK_ASK_CALLED] || given[HBK_ASK_OPEN]
                                   ? HBK_ASSUMED
                                   : HBK_OF_PATTERN;
    }
    if (draft->n_valves > 0) {
        known[HBK_PART_VALVES] =
            given[HBK_ASK_LOOPS] ? HBK_MEASURED : HBK_OF_PATTERN;
    }
    if (draft->n_keys + draft->n_valves > 0) {
        known[HBK_PART_FINGERS] = HBK_OF_PATTERN;
    }
    if (draft->n_slides > 0) {
        known[HBK_PART_SLIDES] = HBK_OF_PATTERN;
    }
    if (draft->n_crooks > 0) {
        known[HBK_PART_CROOKS] = HBK_OF_PATTERN;
    }
}

void hbk_draft_make(const struct hbk_answers *answers,
                    const struct hbk_patterns *patterns,
                    struct hbk_draft *draft)
{
    const bool *const given = answers->given;
    const struct hbk_pattern *const pattern =
        hbk_pattern_nearest(patterns, answers);
    const struct hbk_horn *const from = pattern->horn;
    const int sounds =
        given[HBK_ASK_KEY] ? answers->sounds : answers->kind->sounds;
    *draft = (struct hbk_draft){
        .pattern = pattern,
        .clef = given[HBK_ASK_CLEF] ? answers->clef : answers->kind->clef,
        .a4_hz = given[HBK_ASK_A4] ? answers->a4_hz : HBK_A4_USUAL_HZ,
        .temperature_c = given[HBK_ASK_TEMPERATURE] ? answers->temperature_c
                                                    : from->temperature_c,
        .length_mm = given[HBK_ASK_LENGTH] ? answers->length_mm : (double)NAN,
        .partials = from->partials,
        .n_keys = hbk_answers_keys(answers),
        .n_valves = hbk_answers_valves(answers),
        .moved = sounds - from->written_c4_sounds};
    const int shift = written_shift(from, draft->clef, sounds);
    draft->written_c4_sounds =
        draft->clef == HBK_TREBLE ? sounds - shift : HBK_NOTE_C4;
    draft->tuning_note = from->tuning_note + shift;
    if (from->has_compass) {
        draft->lowest = from->lowest + shift;
        draft->highest = from->highest + shift;
    }
    draft->fundamental = pattern->fundamental + draft->moved;
    hbk_draft_keys(answers, draft, shift);
    hbk_draft_valves(answers, draft);
    take_slides(answers, draft);
    take_crooks(answers, draft);
    state_provenance(answers, draft);
    draft->name = given[HBK_ASK_NAME] ? answers->name
                                      : usual_name(answers, draft, sounds);
}
