#include "sheet/primer/primer_signs.h"

#include "base/text.h"
#include "engrave/glyph.h"
#include "sheet/block/signs.h"
#include "sheet/primer/primer_music.h"

#include <string.h>

enum sign {
    SIGN_TREBLE, /* clefs */
    SIGN_BASS,
    SIGN_C_CLEF,
    SIGN_TWO_NAMES, /* of black notes in diagrams */
    SIGN_LIP,       /* below diagrams */
    SIGN_BEATS,     /* 4/4 */
    SIGN_WHOLE,
    SIGN_HALF,
    SIGN_QUARTER,
    SIGN_EIGHTH,
    SIGN_SIXTEENTH,
    SIGN_DOTTED_HALF,
    SIGN_DOTTED,
    SIGN_REST_HALF,
    SIGN_REST_QUARTER,
    SIGN_REST_WHOLE,
    SIGN_REST_EIGHTH,
    SIGN_REST_DOTTED,
    SIGN_BREATH,
    SIGN_TIE,
    SIGN_SLUR,
    SIGN_SHARP,
    SIGN_FLAT,
    SIGN_NATURAL,
    SIGN_DOUBLE_SHARP,
    SIGN_SIGNATURE,
    SIGN_ONE_SHARP, /* at the clef, or more */
    SIGN_ONE_FLAT,
    SIGN_METER, /* three beats, two beats */
    SIGN_SIX,   /* in eighths */
    SIGN_UPBEAT,
    SIGN_REPEAT,
    SIGN_ENDINGS,
    SIGN_FERMATA,
    SIGN_TEMPO,
    SIGN_TRIPLET,
    SIGN_FIGURES_ONCE, /* in a study: of a note that is known, once */
    SIGN_FIGURES_NEW,  /* in a tune: of the notes of its lesson alone */
    SIGN_FIGURES_BARE, /* in a tune without these */
    SIGN_FIGURES_NONE, /* in a tune: of none */
    SIGN_COUNT
};

static const char *const words[SIGN_COUNT] = {
    [SIGN_TREBLE] = "The sign that the lines begin with is the treble clef: it "
                    "curls round the second line from below, and a note on "
                    "that line is %s.",
    [SIGN_BASS] = "The sign that the lines begin with is the bass clef: its "
                  "two dots stand about the fourth line from below, and a "
                  "note on that line is %s. Whoever has read the treble clef "
                  "only reads these notes anew.",
    [SIGN_C_CLEF] = "The sign that the lines begin with is a C clef: a note on "
                    "the line that runs through its middle is %s. Whoever has "
                    "read the treble clef only reads these notes anew.",
    [SIGN_TWO_NAMES] = "Two names over one fingering, one with a sharp and one "
                       "with a flat, are one note: music writes it either "
                       "way.",
    [SIGN_LIP] = "Lip with an arrow below a note: bend it with the lips, up "
                 "with firmer lips and faster air, down with looser lips and "
                 "slower air.",
    [SIGN_BEATS] = "The figures 4/4 at the beginning: four beats in every bar, "
                   "from bar line to bar line; count them aloud first. A small "
                   "figure above the beginning of a line counts the bars; a "
                   "thick bar line is the end.",
    [SIGN_WHOLE] = "A whole note, white without a stem, lasts four beats.",
    [SIGN_HALF] = "A half note, white with a stem, lasts two beats.",
    [SIGN_QUARTER] = "A quarter note, black with a stem, lasts one beat.",
    [SIGN_EIGHTH] = "An eighth note has a flag, or a beam to its neighbor: two "
                    "of them to a beat.",
    [SIGN_SIXTEENTH] = "A sixteenth note has two flags or beams: four of them "
                       "to a beat.",
    [SIGN_DOTTED_HALF] = "A dot adds half of a note\u2019s own length: a "
                         "dotted half note lasts three beats.",
    [SIGN_DOTTED] = "A dot after a quarter note adds half a beat: a dotted "
                    "quarter note lasts one beat and a half.",
    [SIGN_REST_HALF] = "A rest is silent: a block that sits on a line is a "
                       "rest of two beats.",
    [SIGN_REST_QUARTER] = "A zigzag is a silent beat, a rest of one.",
    [SIGN_REST_WHOLE] = "A block that hangs from a line is a rest of a whole "
                        "bar.",
    [SIGN_REST_EIGHTH] = "A rest with one hook lasts half a beat, as an eighth "
                         "note does.",
    [SIGN_REST_DOTTED] = "A dot adds half to a rest, as to a note.",
    [SIGN_BREATH] = "Breathe where a comma stands above the staff.",
    [SIGN_TIE] = "A curve between two notes of the same pitch ties them: play "
                 "one long note.",
    [SIGN_SLUR] = "A curve over different notes is a slur: tongue only the "
                  "first and keep the air moving.",
    [SIGN_SHARP] = "A sharp (\u266F) raises a note by a semitone; before a "
                   "note it holds until the bar line.",
    [SIGN_FLAT] = "A flat (\u266D) lowers a note by a semitone; before a note "
                  "it holds until the bar line.",
    [SIGN_NATURAL] = "A natural (\u266E) takes a sharp or flat back.",
    [SIGN_DOUBLE_SHARP] = "A small cross before a note raises it by a whole "
                          "tone.",
    [SIGN_SIGNATURE] =
        "Signs beside the clef, the key signature, hold for the whole line, on "
        "every note of that name. They tell the key of the music, that is the "
        "scale it is made of, and are nothing that fingers press.",
    [SIGN_ONE_SHARP] = "One sharp beside the clef is the scale of %s.",
    [SIGN_ONE_FLAT] = "One flat beside the clef is the scale of %s.",
    [SIGN_METER] = "The upper figure at the beginning is the number of beats "
                   "in a bar: 3 counts three, 2 counts two.",
    [SIGN_SIX] = "6/8 has two slow beats in a bar, each of three eighth notes.",
    [SIGN_UPBEAT] = "The first bar is short: its notes lead into the first "
                    "strong beat.",
    [SIGN_REPEAT] = "Two dots at a double bar line: play from the facing dots, "
                    "or from the beginning, once more.",
    [SIGN_ENDINGS] = "Under bracket 1 the first time, under bracket 2 the "
                     "second time.",
    [SIGN_FERMATA] = "A dot under an arc: hold the note longer than written.",
    [SIGN_TEMPO] = "A note with an equals sign and a number is the speed: so "
                   "many beats a minute, on a metronome.",
    [SIGN_TRIPLET] = "A 3 over three notes: play them in the time of two.",
    [SIGN_FIGURES_ONCE] =
        "From this lesson on a study has its figures under the new notes, and "
        "under any other note the first time only. Play the rest from memory; "
        "the chart has them all.",
    [SIGN_FIGURES_NEW] = "This tune has figures under the new notes of its "
                         "lesson alone.",
    [SIGN_FIGURES_BARE] = "This tune has no new notes and so no figures: the "
                          "chart has them all.",
    [SIGN_FIGURES_NONE] = "From this tune on, tunes have no figures: the chart "
                          "has them all."};

static uint64_t bit(enum sign sign)
{
    return UINT64_C(1) << (unsigned)sign;
}

static uint64_t rest_of(const struct hbk_tune_event *event)
{
    if (event->hidden) {
        return 0;
    }
    const enum sign sign = event->whole_bar || event->value <= 0
                               ? SIGN_REST_WHOLE
                           : event->value == 1 ? SIGN_REST_HALF
                           : event->value == 2 ? SIGN_REST_QUARTER
                                               : SIGN_REST_EIGHTH;
    return bit(sign) | (event->dots > 0 ? bit(SIGN_REST_DOTTED) : 0U);
}

static uint64_t value_of(const struct hbk_tune_event *event)
{
    switch (event->value) {
    case 0:
        return bit(SIGN_WHOLE);
    case 1:
        return bit(event->dots > 0 ? SIGN_DOTTED_HALF : SIGN_HALF);
    case 2:
        return event->dots > 0 ? bit(SIGN_DOTTED) | bit(SIGN_EIGHTH)
                               : bit(SIGN_QUARTER);
    case 3:
        return bit(SIGN_EIGHTH) | (event->dots > 0 ? bit(SIGN_SIXTEENTH) : 0U);
    case 4:
        return bit(SIGN_SIXTEENTH);
    default:
        return 0;
    }
}

static uint64_t sign_of(int alter)
{
    return bit(alter > 1   ? SIGN_DOUBLE_SHARP
               : alter > 0 ? SIGN_SHARP
               : alter < 0 ? SIGN_FLAT
                           : SIGN_NATURAL);
}

static uint64_t event_signs(const struct hbk_tune_event *event)
{
    if (event->kind == HBK_TUNE_REST) {
        return rest_of(event);
    }
    uint64_t signs = value_of(event);
    signs |= event->tie_start ? bit(SIGN_TIE) : 0U;
    signs |= event->slur_starts > 0 ? bit(SIGN_SLUR) : 0U;
    signs |= event->tuplet != HBK_TUNE_NONE ? bit(SIGN_TRIPLET) : 0U;
    signs |=
        (event->articulation & HBK_TUNE_BREATH) != 0 ? bit(SIGN_BREATH) : 0U;
    signs |=
        (event->articulation & HBK_TUNE_FERMATA) != 0 ? bit(SIGN_FERMATA) : 0U;
    return signs;
}

/* What is drawn as signs of its own: before notes, beside clefs, and these. */
static uint64_t drawn_signs(struct hbk_booklet *booklet,
                            const struct hbk_tune *written)
{
    static const struct {
        uint32_t glyph;
        enum sign sign;
    } signs[] = {{HBK_GLYPH_G_CLEF, SIGN_TREBLE},
                 {HBK_GLYPH_F_CLEF, SIGN_BASS},
                 {HBK_GLYPH_C_CLEF, SIGN_C_CLEF},
                 {HBK_GLYPH_SHARP, SIGN_SHARP},
                 {HBK_GLYPH_FLAT, SIGN_FLAT},
                 {HBK_GLYPH_NATURAL, SIGN_NATURAL},
                 {HBK_GLYPH_DOUBLE_SHARP, SIGN_DOUBLE_SHARP}};
    const struct hbk_figures figures = hbk_figures_all(HBK_FIGURED_NEVER);
    const struct hbk_booklet_music music = hbk_booklet_engrave(
        booklet, written, &figures, booklet->article.x, booklet->article.width);
    uint64_t all = 0;
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        all |= hbk_part_music_has(music.music, signs[i].glyph)
                   ? bit(signs[i].sign)
                   : 0U;
    }
    return all;
}

static uint64_t signature_of(int fifths)
{
    return fifths == 0
               ? 0U
               : bit(SIGN_SIGNATURE) |
                     (fifths > 0 ? bit(SIGN_ONE_SHARP) : bit(SIGN_ONE_FLAT));
}

/* Whether anything stands beside the clef. */
static uint64_t keys_of(const struct hbk_tune *tune)
{
    uint64_t signs = 0;
    for (size_t k = 0; k < tune->n_keys; k++) {
        signs |= signature_of(tune->keys[k].fifths);
    }
    return signs;
}

static uint64_t bar_signs(const struct hbk_tune *tune)
{
    uint64_t signs = 0;
    for (size_t b = 0; b < tune->n_bars; b++) {
        const struct hbk_tune_bar *const bar = &tune->bars[b];
        signs |= bar->repeat_end > 0 ? bit(SIGN_REPEAT) : 0U;
        signs |= bar->ending != NULL ? bit(SIGN_ENDINGS) : 0U;
    }
    return signs;
}

uint64_t hbk_primer_signs_of(struct hbk_booklet *booklet,
                             const struct hbk_tune *written)
{
    const struct hbk_tune *const tune = hbk_booklet_read(booklet, written);
    uint64_t signs =
        bar_signs(tune) | drawn_signs(booklet, written) | keys_of(tune);
    for (size_t e = 0; e < tune->n_events; e++) {
        signs |= event_signs(&tune->events[e]);
    }
    const struct hbk_tune_meter *const meter = &tune->meters[0];
    signs |= bit(meter->unit == 8                        ? SIGN_SIX
                 : meter->beats == 4 && meter->unit == 4 ? SIGN_BEATS
                                                         : SIGN_METER);
    signs |= tune->n_tempos > 0 ? bit(SIGN_TEMPO) : 0U;
    signs |= tune->n_bars > 1 && tune->bars[0].implicit ? bit(SIGN_UPBEAT) : 0U;
    return signs;
}

uint64_t hbk_primer_signs_of_keys(const struct hbk_scales *keys, size_t n,
                                  const struct hbk_notation *notation)
{
    uint64_t signs = 0;
    for (size_t i = 0; i < keys->n_placed && i < n; i++) {
        const struct hbk_scale key =
            hbk_scale_read(&keys->keys[keys->order[i]], notation);
        const int leading = hbk_spelling_note(hbk_scale_tonic(&key)) - 1;
        signs |= signature_of(key.signature);
        signs |= key.signature > 0   ? bit(SIGN_SHARP)
                 : key.signature < 0 ? bit(SIGN_FLAT)
                                     : 0U;
        signs |=
            key.minor ? sign_of(hbk_scale_spelling(&key, leading).alter) : 0U;
    }
    return signs;
}

static uint64_t clef_sign(enum hbk_clef clef)
{
    return bit(clef == HBK_TREBLE ? SIGN_TREBLE
               : clef == HBK_BASS ? SIGN_BASS
                                  : SIGN_C_CLEF);
}

uint64_t hbk_primer_signs_of_diagrams(const struct hbk_notes *notes,
                                      const int written[], size_t n)
{
    const struct hbk_notation *const notation = &notes->notation;
    uint64_t signs = clef_sign(notation->clef);
    for (size_t i = 0; i < n; i++) {
        const struct hbk_note *const note = hbk_notes_find(notes, written[i]);
        signs |= hbk_note_is_black(hbk_notation_note(notation, written[i]))
                     ? bit(SIGN_SHARP) | bit(SIGN_FLAT) | bit(SIGN_TWO_NAMES)
                     : 0U;
        signs |=
            note != NULL && note->n > 0 &&
                    hbk_sign_lip(note->fingerings[0].cents) != HBK_SIGN_NONE
                ? bit(SIGN_LIP)
                : 0U;
    }
    return signs;
}

uint64_t hbk_primer_sign_of_figures(enum hbk_booklet_figured how)
{
    static const enum sign signs[] = {[HBK_BOOKLET_ONCE] = SIGN_FIGURES_ONCE,
                                      [HBK_BOOKLET_NEW] = SIGN_FIGURES_NEW,
                                      [HBK_BOOKLET_BARE] = SIGN_FIGURES_BARE,
                                      [HBK_BOOKLET_NONE] = SIGN_FIGURES_NONE};
    return how == HBK_BOOKLET_FULL ? 0U : bit(signs[how]);
}

/* Words with a name in place of %s. */
static const char *with_name(struct hbk_arena *arena, const char *pattern,
                             const char *name)
{
    const char *const at = strstr(pattern, "%s");
    return hbk_arena_printf(arena, "%.*s%s%s", (int)(at - pattern), pattern,
                            name, at + 2);
}

/* The words of a sign, with the note that some of them name. */
static const char *words_of(const struct hbk_booklet *booklet, enum sign sign)
{
    static const struct {
        enum sign sign;
        struct hbk_spelling note;
        bool has_octave;
    } names[] = {{SIGN_TREBLE, {.step = 4, .octave = 4}, true},
                 {SIGN_BASS, {.step = 3, .octave = 3}, true},
                 {SIGN_C_CLEF, {.step = 0, .octave = 4}, true},
                 {SIGN_ONE_SHARP, {.step = 4, .octave = 4}, false},
                 {SIGN_ONE_FLAT, {.step = 3, .octave = 4}, false}};
    const enum hbk_naming naming = booklet->primer->notes->notation.naming;
    char name[HBK_NAME_SIZE];
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        if (names[i].sign == sign) {
            return with_name(booklet->article.pad.sheet->arena, words[sign],
                             names[i].has_octave
                                 ? hbk_spelling_said(names[i].note, naming,
                                                     HBK_UNICODE, name)
                                 : hbk_spelling_called(names[i].note, naming,
                                                       HBK_UNICODE, name));
        }
    }
    return words[sign];
}

const char *hbk_primer_explanation(const struct hbk_booklet *booklet,
                                   uint64_t signs)
{
    struct hbk_text text = {.arena = booklet->article.pad.sheet->arena};
    const uint64_t new_ones = signs & ~booklet->explained;
    for (int sign = 0; sign < SIGN_COUNT; sign++) {
        if ((new_ones & bit((enum sign)sign)) != 0) {
            hbk_text_addf(&text, "%s%s", text.length > 0 ? " " : "",
                          words_of(booklet, (enum sign)sign));
        }
    }
    return hbk_text_string(&text);
}

const char *hbk_primer_explain(struct hbk_booklet *booklet, uint64_t signs)
{
    const char *const explanation = hbk_primer_explanation(booklet, signs);
    booklet->explained |= signs;
    return explanation;
}
