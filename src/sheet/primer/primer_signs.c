#include "sheet/primer/primer_signs.h"

#include "base/text.h"
#include "sheet/primer/primer_music.h"

enum sign {
    SIGN_BEATS, /* 4/4 */
    SIGN_WHOLE,
    SIGN_HALF,
    SIGN_QUARTER,
    SIGN_EIGHTH,
    SIGN_SIXTEENTH,
    SIGN_DOTTED_HALF,
    SIGN_DOTTED,
    SIGN_REST,
    SIGN_BREATH,
    SIGN_TIE,
    SIGN_SLUR,
    SIGN_SIGNATURE,
    SIGN_SHARP,
    SIGN_FLAT,
    SIGN_NATURAL,
    SIGN_METER, /* three beats, two beats */
    SIGN_SIX,   /* in eighths */
    SIGN_UPBEAT,
    SIGN_REPEAT,
    SIGN_ENDINGS,
    SIGN_FERMATA,
    SIGN_TEMPO,
    SIGN_TRIPLET,
    SIGN_COUNT
};

static const char *const words[SIGN_COUNT] = {
    [SIGN_BEATS] = "The figures 4/4 at the beginning: four beats in every bar, "
                   "from bar line to bar line; count them aloud first.",
    [SIGN_WHOLE] = "A white note without a stem lasts four beats.",
    [SIGN_HALF] = "A white note with a stem lasts two beats.",
    [SIGN_QUARTER] = "A black note with a stem lasts one beat.",
    [SIGN_EIGHTH] = "A flag, or a beam from note to note, halves a black note: "
                    "two eighth notes to a beat.",
    [SIGN_SIXTEENTH] = "Two flags or beams: four sixteenth notes to a beat.",
    [SIGN_DOTTED_HALF] = "A dot adds half of a note\u2019s own length: a "
                         "dotted half note lasts three beats.",
    [SIGN_DOTTED] = "A dotted quarter note lasts one beat and a half.",
    [SIGN_REST] = "Rests are silent beats: a block that sits on a line lasts "
                  "two, a zigzag lasts one.",
    [SIGN_BREATH] = "Breathe where a comma stands above the staff.",
    [SIGN_TIE] = "A curve between two notes of the same pitch ties them: play "
                 "one long note.",
    [SIGN_SLUR] = "A curve over different notes is a slur: tongue only the "
                  "first and keep the air moving.",
    [SIGN_SIGNATURE] = "Sharps or flats at the clef hold for the whole line, "
                       "on every note of that name.",
    [SIGN_SHARP] = "A sharp (\u266F) raises a note by a semitone until the bar "
                   "line.",
    [SIGN_FLAT] = "A flat (\u266D) lowers a note by a semitone until the bar "
                  "line.",
    [SIGN_NATURAL] = "A natural (\u266E) takes a sharp or flat back.",
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
    [SIGN_TRIPLET] = "A 3 over three notes: play them in the time of two."};

static unsigned bit(enum sign sign)
{
    return 1U << (unsigned)sign;
}

static unsigned value_of(const struct hbk_tune_event *event)
{
    if (event->kind == HBK_TUNE_REST) {
        return event->hidden ? 0 : bit(SIGN_REST);
    }
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

static unsigned event_signs(const struct hbk_tune *tune,
                            const struct hbk_tune_event *event)
{
    unsigned signs = value_of(event);
    if (event->kind == HBK_TUNE_REST) {
        return signs;
    }
    const struct hbk_tune_key *const key =
        hbk_tune_key_at(tune, (size_t)(event - tune->events));
    if (event->spelling.alter != key->alter[event->spelling.step]) {
        signs |= bit(event->spelling.alter > 0   ? SIGN_SHARP
                     : event->spelling.alter < 0 ? SIGN_FLAT
                                                 : SIGN_NATURAL);
    }
    signs |= event->tie_start ? bit(SIGN_TIE) : 0U;
    signs |= event->slur_starts > 0 ? bit(SIGN_SLUR) : 0U;
    signs |= event->tuplet != HBK_TUNE_NONE ? bit(SIGN_TRIPLET) : 0U;
    signs |=
        (event->articulation & HBK_TUNE_BREATH) != 0 ? bit(SIGN_BREATH) : 0U;
    signs |=
        (event->articulation & HBK_TUNE_FERMATA) != 0 ? bit(SIGN_FERMATA) : 0U;
    return signs;
}

static unsigned bar_signs(const struct hbk_tune *tune)
{
    unsigned signs = 0;
    for (size_t b = 0; b < tune->n_bars; b++) {
        const struct hbk_tune_bar *const bar = &tune->bars[b];
        signs |= bar->repeat_end > 0 ? bit(SIGN_REPEAT) : 0U;
        signs |= bar->ending != NULL ? bit(SIGN_ENDINGS) : 0U;
    }
    return signs;
}

unsigned hbk_primer_signs_of(struct hbk_booklet *booklet,
                             const struct hbk_tune *written)
{
    const struct hbk_tune *const tune = hbk_booklet_read(booklet, written);
    unsigned signs = bar_signs(tune);
    for (size_t e = 0; e < tune->n_events; e++) {
        signs |= event_signs(tune, &tune->events[e]);
    }
    const struct hbk_tune_meter *const meter = &tune->meters[0];
    signs |= bit(meter->unit == 8                        ? SIGN_SIX
                 : meter->beats == 4 && meter->unit == 4 ? SIGN_BEATS
                                                         : SIGN_METER);
    signs |= tune->keys[0].fifths != 0 ? bit(SIGN_SIGNATURE) : 0U;
    signs |= tune->n_tempos > 0 ? bit(SIGN_TEMPO) : 0U;
    signs |= tune->n_bars > 1 && tune->bars[0].implicit ? bit(SIGN_UPBEAT) : 0U;
    return signs;
}

const char *hbk_primer_explain(struct hbk_booklet *booklet, unsigned signs)
{
    struct hbk_text text = {.arena = booklet->article.pad.sheet->arena};
    const unsigned new_ones = signs & ~booklet->explained;
    for (int sign = 0; sign < SIGN_COUNT; sign++) {
        if ((new_ones & bit((enum sign)sign)) != 0) {
            hbk_text_addf(&text, "%s%s", text.length > 0 ? " " : "",
                          words[sign]);
        }
    }
    booklet->explained |= signs;
    return hbk_text_string(&text);
}
