#include "engrave/engrave_pitch.h"

#include <string.h>

int hbk_eng_bottom_step(const struct hbk_tune_clef *clef)
{
    /* Steps from C4: a G clef names G4, an F clef F3, a C clef C4. */
    int named = 4;
    int line = clef->line;
    if (clef->sign == 'F') {
        named = -4;
    } else if (clef->sign == 'C') {
        named = 0;
    } else if (clef->sign != 'G') {
        line = 2; /* no clef is read as the treble clef */
    }
    return named - 2 * (line - 1) + 7 * clef->octave;
}

static uint32_t accidental_glyph(int alter)
{
    static const uint32_t glyphs[] = {HBK_GLYPH_DOUBLE_FLAT, HBK_GLYPH_FLAT,
                                      HBK_GLYPH_NATURAL, HBK_GLYPH_SHARP,
                                      HBK_GLYPH_DOUBLE_SHARP};
    return glyphs[alter + 2];
}

/* Steps of the scale (0 for C) in the order of signatures. */
static const int sharps[7] = {3, 0, 4, 1, 5, 2, 6};
static const int flats[7] = {6, 2, 5, 1, 4, 0, 3};

/*
 * Half spaces above the lowest line for the signs of the treble clef (any
 * primer of notation); other clefs move the pattern. Where it would leave
 * the staff, sharps begin below instead, as they do in the tenor clef.
 */
static const int treble_sharps[7] = {8, 5, 9, 6, 3, 7, 4};
static const int tenor_sharps[7] = {2, 6, 3, 7, 4, 8, 5};
static const int treble_flats[7] = {4, 7, 3, 6, 2, 5, 1};

/* The octave of a pattern that a clef wants: from lowest to lowest + 6. */
static int shift_of(const struct hbk_tune_clef *clef, int lowest)
{
    int shift = 2 - hbk_eng_bottom_step(clef);
    while (shift < lowest) {
        shift += 7;
    }
    while (shift > lowest + 6) {
        shift -= 7;
    }
    return shift;
}

static int place_of(bool is_sharp, size_t i, const struct hbk_tune_clef *clef)
{
    if (!is_sharp) {
        const int shift = shift_of(clef, -3);
        const int pos = treble_flats[i] + shift;
        return pos > 9 || (shift > 2 && i % 2 == 1) ? pos - 7 : pos;
    }
    const int shift = shift_of(clef, -3);
    if (shift <= 0) {
        return treble_sharps[i] + shift;
    }
    /* The tenor clef lies one above the treble clef. */
    const int pos = tenor_sharps[i] + shift - 1;
    return pos > 9 ? pos - 7 : pos;
}

size_t hbk_eng_signature(const struct hbk_tune_key *key,
                         const struct hbk_tune_key *before,
                         const struct hbk_tune_clef *clef,
                         struct hbk_eng_sign signs[HBK_ENG_SIGNS_MAX])
{
    size_t n = 0;
    for (int kind = 0; kind < 2; kind++) {
        for (size_t i = 0; i < 7; i++) {
            const bool is_sharp = kind == 0;
            const int alter = key->alter[is_sharp ? sharps[i] : flats[i]];
            if (is_sharp ? alter > 0 : alter < 0) {
                signs[n++] = (struct hbk_eng_sign){accidental_glyph(alter),
                                                   place_of(is_sharp, i, clef)};
            }
        }
    }
    if (n > 0 || before == NULL) {
        return n;
    }
    n = hbk_eng_signature(before, NULL, clef, signs);
    for (size_t i = 0; i < n; i++) {
        signs[i].glyph = HBK_GLYPH_NATURAL;
    }
    return n;
}

/* What is in force: by step and octave + 1, in the bar. */
struct memory {
    int alter[7][12];
    bool altered[7];        /* by a sign in this bar */
    int latest[7];          /* the last alteration of a step, any octave */
    bool altered_before[7]; /* in the bar before */
    int latest_before[7];
};

static void begin_bar(struct memory *memory, const struct hbk_tune_key *key)
{
    memcpy(memory->altered_before, memory->altered, sizeof(memory->altered));
    memcpy(memory->latest_before, memory->latest, sizeof(memory->latest));
    for (int step = 0; step < 7; step++) {
        for (int octave = 0; octave < 12; octave++) {
            memory->alter[step][octave] = key->alter[step];
        }
        memory->latest[step] = key->alter[step];
        memory->altered[step] = false;
    }
}

static int *in_force(struct memory *memory, struct hbk_spelling spelling)
{
    int octave = spelling.octave + 1;
    octave = octave < 0 ? 0 : octave > 11 ? 11 : octave;
    return &memory->alter[spelling.step][octave];
}

/* Whether a player may well still think of another alteration. */
static bool wants_reminder(const struct memory *memory,
                           struct hbk_spelling spelling)
{
    const int step = spelling.step;
    if (memory->altered[step]) {
        return memory->latest[step] != spelling.alter;
    }
    return memory->altered_before[step] &&
           memory->latest_before[step] != spelling.alter;
}

static void settle(struct memory *memory, struct hbk_eng_note *note)
{
    const struct hbk_tune_event *event = note->source;
    const struct hbk_spelling spelling = event->spelling;
    const bool is_later_piece = event->tie_stop && event->head != note->event;
    if (event->kind == HBK_TUNE_REST || is_later_piece) {
        return;
    }
    int *const alter = in_force(memory, spelling);
    if (*alter != spelling.alter) {
        note->sign = accidental_glyph(spelling.alter);
        *alter = spelling.alter;
        memory->altered[spelling.step] = true;
        memory->latest[spelling.step] = spelling.alter;
    } else if (wants_reminder(memory, spelling) ||
               event->accidental == HBK_TUNE_CAUTIONARY) {
        note->sign = accidental_glyph(spelling.alter);
        note->courtesy = true;
        memory->altered[spelling.step] = true;
        memory->latest[spelling.step] = spelling.alter;
    }
    memory->altered_before[spelling.step] = false;
}

void hbk_eng_accidentals(struct hbk_engraving *eng)
{
    const struct hbk_tune *tune = eng->tune;
    struct memory memory = {.altered = {false}};
    size_t bar = HBK_ENG_NONE;
    const struct hbk_tune_key *key = NULL;
    for (size_t i = 0; i < eng->n_notes; i++) {
        struct hbk_eng_note *note = &eng->notes[i];
        const struct hbk_tune_key *now = hbk_tune_key_at(tune, note->event);
        if (note->source->bar != bar || now != key) {
            begin_bar(&memory, now);
        }
        /* A key that changes says itself what is in force. */
        if (key != NULL && now != key) {
            memset(memory.altered_before, 0, sizeof(memory.altered_before));
        }
        bar = note->source->bar;
        key = now;
        settle(&memory, note);
    }
}
