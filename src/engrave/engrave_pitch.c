#include "engrave/engrave_pitch.h"

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

enum { OCTAVES = 12 };

/* A line or space of the staff in a bar. */
struct place {
    int alter;        /* in force */
    bool altered;     /* by a sign in this bar */
    bool told;        /* a reminder of another octave stood here */
    bool misled;      /* the bar before left it altered, and nobody said so */
    int altered_last; /* by the bar before, where misled */
};

/* By step and octave + 1. */
struct memory {
    struct place places[7][OCTAVES];
};

static void begin_bar(struct memory *memory, const struct hbk_tune_key *key,
                      bool is_new_key)
{
    for (int step = 0; step < 7; step++) {
        for (int octave = 0; octave < OCTAVES; octave++) {
            struct place *place = &memory->places[step][octave];
            *place = (struct place){.alter = key->alter[step],
                                    .misled = place->altered && !is_new_key &&
                                              place->alter != key->alter[step],
                                    .altered_last = place->alter};
        }
    }
}

static int octave_of(struct hbk_spelling spelling)
{
    const int octave = spelling.octave + 1;
    return octave < 0 ? 0 : octave >= OCTAVES ? OCTAVES - 1 : octave;
}

/* Whether the same note of another octave was altered otherwise in the bar. */
static bool differs_elsewhere(const struct memory *memory,
                              struct hbk_spelling spelling)
{
    for (int octave = 0; octave < OCTAVES; octave++) {
        const struct place *place = &memory->places[spelling.step][octave];
        if (place->altered && place->alter != spelling.alter) {
            return true;
        }
    }
    return false;
}

/* The note before or after one, grace notes among them; -1 for none. */
static int neighbour(const struct hbk_engraving *eng, size_t i, int by)
{
    const size_t next = by < 0 ? i - 1 : i + 1;
    if ((by < 0 && i == 0) || next >= eng->n_notes ||
        eng->notes[next].source->kind == HBK_TUNE_REST) {
        return -1;
    }
    return (int)next;
}

/* How many half tones in a row lead from a note that way, at most two. */
static int half_tones(const struct hbk_engraving *eng, size_t i, int by,
                      int rise)
{
    int n = 0;
    size_t from = i;
    while (n < 2) {
        const int to = neighbour(eng, from, by);
        if (to < 0 ||
            eng->notes[to].source->note - eng->notes[from].source->note !=
                by * rise) {
            break;
        }
        from = (size_t)to;
        n++;
    }
    return n;
}

/* Within two half tones in a row, up or down. */
static bool is_in_chromatic_run(const struct hbk_engraving *eng, size_t i)
{
    for (int rise = -1; rise <= 1; rise += 2) {
        if (half_tones(eng, i, -1, rise) + half_tones(eng, i, 1, rise) >= 2) {
            return true;
        }
    }
    return false;
}

/* Whether the note before stands on the same line or space. */
static bool follows_itself(const struct hbk_engraving *eng, size_t i)
{
    const int before = neighbour(eng, i, -1);
    return before >= 0 && eng->notes[before].pos == eng->notes[i].pos;
}

/*
 * Whether a player may well still think of another alteration. Where half
 * tone follows half tone every alteration is told anyway, and none is
 * expected to last beyond the next note; the source may know better.
 */
static bool wants_reminder(const struct hbk_engraving *eng,
                           const struct memory *memory, size_t i)
{
    const struct hbk_tune_event *event = eng->notes[i].source;
    const struct hbk_spelling spelling = event->spelling;
    const struct place *place =
        &memory->places[spelling.step][octave_of(spelling)];
    if (place->misled && place->altered_last != spelling.alter) {
        return event->accidental != HBK_TUNE_NOT_PRINTED ||
               follows_itself(eng, i) || !is_in_chromatic_run(eng, i);
    }
    return !place->altered && !place->told &&
           differs_elsewhere(memory, spelling);
}

static void settle(struct hbk_engraving *eng, struct memory *memory, size_t i)
{
    struct hbk_eng_note *note = &eng->notes[i];
    const struct hbk_tune_event *event = note->source;
    const struct hbk_spelling spelling = event->spelling;
    const bool is_later_piece = event->tie_stop && event->head != note->event;
    if (event->kind == HBK_TUNE_REST || is_later_piece) {
        return;
    }
    struct place *place = &memory->places[spelling.step][octave_of(spelling)];
    const bool is_editors = event->accidental == HBK_TUNE_EDITORIAL;
    const bool is_called = event->accidental == HBK_TUNE_CAUTIONARY;
    if (place->alter != spelling.alter) {
        note->sign = accidental_glyph(spelling.alter);
        note->bracketed = is_editors;
        place->alter = spelling.alter;
        place->altered = true;
    } else if (is_called || is_editors || wants_reminder(eng, memory, i)) {
        note->sign = accidental_glyph(spelling.alter);
        note->courtesy = true;
        note->bracketed = is_called || is_editors;
        place->told = true;
    }
    place->misled = false;
}

void hbk_eng_accidentals(struct hbk_engraving *eng)
{
    const struct hbk_tune *tune = eng->tune;
    struct memory memory = {.places = {{{.alter = 0}}}};
    size_t bar = HBK_ENG_NONE;
    const struct hbk_tune_key *key = NULL;
    for (size_t i = 0; i < eng->n_notes; i++) {
        const struct hbk_eng_note *note = &eng->notes[i];
        const struct hbk_tune_key *now = hbk_tune_key_at(tune, note->event);
        /* A key that changes says itself what is in force. */
        const bool is_new_key = now != key;
        if (note->source->bar != bar || is_new_key) {
            const bool follows = bar != HBK_ENG_NONE &&
                                 note->source->bar == bar + 1 && !is_new_key;
            begin_bar(&memory, now, !follows);
        }
        bar = note->source->bar;
        key = now;
        settle(eng, &memory, i);
    }
}
