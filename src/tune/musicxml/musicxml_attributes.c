#include "tune/musicxml/score.h"

#include "base/messages.h"
#include "base/number.h"
#include "tune/melody/build_marks.h"
#include "tune/musicxml/musicxml_type.h"

#include <string.h>
#include <strings.h>

static const char steps[] = "CDEFGAB";

/* A whole number in a child element; false where it is missing or odd. */
static bool whole_in(struct hbk_musicxml_reader *reader, const xmlNode *node,
                     const char *name, long limit, long *value)
{
    return hbk_number_parse_whole(
        hbk_xml_text(reader->arena, hbk_xml_child(node, name)), -limit, limit,
        value);
}

/* Whether it is said of the staff that is read, or of all. */
static bool is_own_staff(struct hbk_musicxml_reader *reader,
                         const xmlNode *node)
{
    const char *const number = hbk_xml_attribute(reader->arena, node, "number");
    long staff = 0;
    return number == NULL || (hbk_number_parse_whole(number, 1, 99, &staff) &&
                              staff == reader->staff);
}

/* Beyond seven signs the first ones become double sharps or flats. */
static struct hbk_tune_key far_key(int fifths, const char *mode)
{
    const int most = fifths > 7 ? 7 : fifths < -7 ? -7 : fifths;
    struct hbk_tune_key key = hbk_build_key(most, mode);
    const struct hbk_tune_key more = hbk_build_key(fifths - most, "");
    for (int i = 0; i < 7; i++) {
        key.alter[i] += more.alter[i];
    }
    if (most != fifths) {
        key.traditional = false;
        key.fifths = 0;
    }
    return key;
}

static void read_key(struct hbk_musicxml_reader *reader, const xmlNode *node)
{
    const char *mode = hbk_xml_text(reader->arena, hbk_xml_child(node, "mode"));
    mode = strcmp(mode, "none") == 0 ? "" : mode;
    long fifths = 0;
    if (whole_in(reader, node, "fifths", 14, &fifths)) {
        hbk_build_set_key(&reader->build, far_key((int)fifths, mode));
        return;
    }
    struct hbk_tune_key key = {.mode = ""};
    const xmlNode *step = hbk_xml_child(node, "key-step");
    while (step != NULL) {
        const char *const letter = hbk_xml_text(reader->arena, step);
        const char *const at =
            letter[0] == '\0' ? NULL : strchr(steps, letter[0]);
        long alter = 0;
        if (at != NULL &&
            hbk_number_parse_whole(
                hbk_xml_text(reader->arena, hbk_xml_next(step, "key-alter")),
                -2, 2, &alter)) {
            key.alter[at - steps] = (int)alter;
        } else {
            hbk_build_left_out(&reader->build,
                               "quarter tone in a key signature",
                               "quarter tones in key signatures");
        }
        step = hbk_xml_next(step, "key-step");
    }
    hbk_build_set_key(&reader->build, key);
}

/* "3" or "3+2"; 0 when it cannot be read. */
static unsigned sum_of_beats(const char *text)
{
    unsigned sum = 0;
    const char *at = text;
    for (;;) {
        at += strspn(at, " ");
        unsigned part = 0;
        size_t n = 0;
        for (; at[n] >= '0' && at[n] <= '9' && n < 4; n++) {
            part = (10 * part) + (unsigned)(at[n] - '0');
        }
        at += n;
        at += strspn(at, " ");
        sum += part;
        if (n == 0 || part == 0 || sum > 999 || (*at != '+' && *at != '\0')) {
            return 0;
        }
        if (*at == '\0') {
            return sum;
        }
        at++;
    }
}

/* Adds one pair of beats and beat-type to the meter, on the finer unit. */
static bool add_beats(struct hbk_musicxml_reader *reader, const xmlNode *beats,
                      struct hbk_tune_meter *meter)
{
    const char *const text = hbk_xml_text(reader->arena, beats);
    const unsigned sum = sum_of_beats(text);
    long unit = 0;
    if (sum == 0 ||
        !hbk_number_parse_whole(
            hbk_xml_text(reader->arena, hbk_xml_next(beats, "beat-type")), 1,
            1024, &unit) ||
        (unit & (unit - 1)) != 0) {
        return false;
    }
    const unsigned fine = (unsigned)unit;
    if (meter->beats == 0) {
        meter->unit = fine;
        meter->groups = strchr(text, '+') != NULL ? text : NULL;
    } else {
        meter->groups = NULL;
    }
    const unsigned common = meter->unit > fine ? meter->unit : fine;
    meter->beats =
        (meter->beats * (common / meter->unit)) + (sum * (common / fine));
    meter->unit = common;
    return meter->beats <= 100000;
}

static void read_time(struct hbk_musicxml_reader *reader, const xmlNode *node)
{
    struct hbk_tune_meter meter = {.unit = 4};
    if (hbk_xml_says(node, "symbol", "common")) {
        meter.sign = HBK_TUNE_METER_COMMON;
    } else if (hbk_xml_says(node, "symbol", "cut")) {
        meter.sign = HBK_TUNE_METER_CUT;
    }
    for (const xmlNode *beats = hbk_xml_child(node, "beats"); beats != NULL;
         beats = hbk_xml_next(beats, "beats")) {
        if (!add_beats(reader, beats, &meter)) {
            hbk_build_warn(&reader->build, hbk_xml_place(reader->file, node),
                           HBK_H_XML_METER,
                           "bar %.20s: the meter cannot be read; the bars are "
                           "taken as long as their notes",
                           hbk_build_bar_name(&reader->build));
            hbk_build_set_meter(&reader->build,
                                (struct hbk_tune_meter){.unit = 4});
            return;
        }
    }
    if (hbk_xml_child(node, "interchangeable") != NULL) {
        hbk_build_left_out(&reader->build, "second meter beside the first",
                           "second meters beside the first");
    }
    hbk_build_set_meter(&reader->build, meter);
}

static void read_clef(struct hbk_musicxml_reader *reader, const xmlNode *node)
{
    static const struct {
        const char *name;
        char sign;
        int line;
    } signs[] = {
        {"G", 'G', 2}, {"F", 'F', 4}, {"C", 'C', 3}, {"percussion", 'P', 3}};
    struct hbk_tune_clef clef = {.sign = 'N', .line = 3};
    const char *const name =
        hbk_xml_text(reader->arena, hbk_xml_child(node, "sign"));
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        if (strcmp(name, signs[i].name) == 0) {
            clef.sign = signs[i].sign;
            clef.line = signs[i].line;
        }
    }
    long number = 0;
    if (whole_in(reader, node, "line", 5, &number) && number >= 1) {
        clef.line = (int)number;
    }
    if (whole_in(reader, node, "clef-octave-change", 2, &number)) {
        clef.octave = (int)number;
    }
    hbk_build_set_clef(&reader->build, clef);
}

static void read_transpose(struct hbk_musicxml_reader *reader,
                           const xmlNode *node)
{
    struct hbk_tune *const tune = reader->build.tune;
    long chromatic = 0;
    long octaves = 0;
    (void)whole_in(reader, node, "chromatic", 60, &chromatic);
    (void)whole_in(reader, node, "octave-change", 5, &octaves);
    if (hbk_xml_child(node, "double") != NULL) {
        octaves--;
    }
    const int transpose = (int)(chromatic + (12 * octaves));
    if (tune->concert) {
        return;
    }
    if (tune->n_events > 0 && transpose != tune->transpose) {
        if (!reader->transpose_told) {
            hbk_build_warn(&reader->build, hbk_xml_place(reader->file, node),
                           HBK_H_TRANSPOSE_CHANGE,
                           "bar %.20s: the transposition changes; the notes "
                           "are read as written, the sounding ones go by the "
                           "beginning",
                           hbk_build_bar_name(&reader->build));
        }
        reader->transpose_told = true;
        return;
    }
    tune->transpose = transpose;
    tune->says_transposition = true;
}

void hbk_musicxml_attributes(struct hbk_musicxml_reader *reader,
                             const xmlNode *node)
{
    (void)hbk_musicxml_divisions(reader, node);
    for (const xmlNode *at = node->children; at != NULL; at = at->next) {
        if (hbk_xml_is(at, "key") && is_own_staff(reader, at)) {
            read_key(reader, at);
        } else if (hbk_xml_is(at, "time") && is_own_staff(reader, at)) {
            read_time(reader, at);
        } else if (hbk_xml_is(at, "clef") &&
                   (is_own_staff(reader, at) &&
                    (reader->staff == 1 || hbk_xml_has(at, "number")))) {
            read_clef(reader, at);
        } else if (hbk_xml_is(at, "transpose") && is_own_staff(reader, at)) {
            read_transpose(reader, at);
        }
    }
}

/* What a direction prints of the tempo; quarters 0 for no mark. */
static struct hbk_tune_tempo printed_tempo(struct hbk_musicxml_reader *reader,
                                           const xmlNode *direction)
{
    struct hbk_tune_tempo tempo = {.words = ""};
    for (const xmlNode *type = hbk_xml_child(direction, "direction-type");
         type != NULL; type = hbk_xml_next(type, "direction-type")) {
        const xmlNode *const words = hbk_xml_child(type, "words");
        const xmlNode *const mark = hbk_xml_child(type, "metronome");
        const int value = hbk_musicxml_value(
            hbk_xml_text(reader->arena, hbk_xml_child(mark, "beat-unit")));
        if (words != NULL && tempo.words[0] == '\0') {
            tempo.words = hbk_xml_text(reader->arena, words);
        }
        if (value == HBK_TUNE_NO_VALUE ||
            !hbk_number_parse(
                hbk_xml_text(reader->arena, hbk_xml_child(mark, "per-minute")),
                &tempo.beats)) {
            continue;
        }
        unsigned dots = 0;
        for (const xmlNode *dot = hbk_xml_child(mark, "beat-unit-dot");
             dot != NULL && dots < 3;
             dot = hbk_xml_next(dot, "beat-unit-dot")) {
            dots++;
        }
        tempo.beat = hbk_build_length(value, dots);
        tempo.quarters = tempo.beats * 4.0 * hbk_ratio_value(tempo.beat);
    }
    return tempo;
}

static void set_tempo(struct hbk_musicxml_reader *reader,
                      struct hbk_tune_tempo tempo)
{
    if (tempo.quarters >= 0.5 && tempo.quarters <= 20000.0) {
        hbk_build_set_tempo(&reader->build, tempo);
    }
}

/* What sounds goes before what is printed, which names the beat. */
static void read_sound(struct hbk_musicxml_reader *reader, const xmlNode *node,
                       struct hbk_tune_tempo printed)
{
    const char *const tempo = hbk_xml_attribute(reader->arena, node, "tempo");
    double quarters = 0.0;
    if (tempo != NULL && hbk_number_parse(tempo, &quarters)) {
        printed.quarters = quarters;
    }
    set_tempo(reader, printed);
}

void hbk_musicxml_sound(struct hbk_musicxml_reader *reader, const xmlNode *node)
{
    struct hbk_tune_tempo printed = {.words = ""};
    const struct hbk_tune *const tune = reader->build.tune;
    if (tune->n_tempos > 0 &&
        tune->tempos[tune->n_tempos - 1].event == tune->n_events) {
        /* It says how fast the mark that was printed just here is. */
        printed.beat = tune->tempos[tune->n_tempos - 1].beat;
        printed.words = tune->tempos[tune->n_tempos - 1].words;
    }
    read_sound(reader, node, printed);
}

void hbk_musicxml_direction(struct hbk_musicxml_reader *reader,
                            const xmlNode *node)
{
    read_sound(reader, hbk_xml_child(node, "sound"),
               printed_tempo(reader, node));
}

static enum hbk_tune_barline style_of(const char *name)
{
    static const struct {
        const char *name;
        enum hbk_tune_barline style;
    } styles[] = {
        {"light-light", HBK_TUNE_BAR_DOUBLE},
        {"light-heavy", HBK_TUNE_BAR_FINAL},
        {"heavy-light", HBK_TUNE_BAR_THICK_THIN},
        {"dotted", HBK_TUNE_BAR_DOTTED},
        {"dashed", HBK_TUNE_BAR_DASHED},
        {"heavy", HBK_TUNE_BAR_HEAVY},
        {"heavy-heavy", HBK_TUNE_BAR_HEAVY_HEAVY},
        {"tick", HBK_TUNE_BAR_TICK},
        {"short", HBK_TUNE_BAR_SHORT},
        {"none", HBK_TUNE_BAR_INVISIBLE},
    };
    for (size_t i = 0; i < sizeof(styles) / sizeof(styles[0]); i++) {
        if (strcmp(name, styles[i].name) == 0) {
            return styles[i].style;
        }
    }
    return HBK_TUNE_BAR_PLAIN;
}

/* The numbers in "1, 2" as bits; "1" where there is none. */
static uint64_t passes_of(const char *numbers)
{
    uint64_t passes = 0;
    unsigned value = 0;
    for (const char *c = numbers; c == numbers || c[-1] != '\0'; c++) {
        if (*c >= '0' && *c <= '9') {
            value = value > 99 ? value : (10 * value) + (unsigned)(*c - '0');
            continue;
        }
        if (value >= 1 && value <= 64) {
            passes |= (uint64_t)1 << (value - 1);
        }
        value = 0;
    }
    return passes == 0 ? 1 : passes;
}

static unsigned times_of(struct hbk_musicxml_reader *reader,
                         const xmlNode *repeat)
{
    const char *const text = hbk_xml_attribute(reader->arena, repeat, "times");
    long times = 2;
    if (text != NULL) {
        (void)hbk_number_parse_whole(text, 2, HBK_BUILD_TIMES_MAX, &times);
    }
    return (unsigned)times;
}

void hbk_musicxml_barline(struct hbk_musicxml_reader *reader,
                          const xmlNode *node)
{
    const bool is_within = hbk_xml_says(node, "location", "middle");
    const enum hbk_tune_barline style =
        style_of(hbk_xml_text(reader->arena, hbk_xml_child(node, "bar-style")));
    if (is_within && !hbk_musicxml_split(reader, node, style)) {
        return;
    }
    struct hbk_tune_bar *const bar = hbk_build_last_bar(&reader->build);
    struct hbk_tune_bar *const before = is_within ? bar - 1 : bar;
    const bool is_left = hbk_xml_says(node, "location", "left");
    const xmlNode *const repeat = hbk_xml_child(node, "repeat");
    if (hbk_xml_says(repeat, "direction", "forward")) {
        bar->repeat_start = true;
    } else if (hbk_xml_says(repeat, "direction", "backward")) {
        before->repeat_end = times_of(reader, repeat);
    }
    const xmlNode *const ending = hbk_xml_child(node, "ending");
    const char *const numbers =
        hbk_xml_attribute(reader->arena, ending, "number");
    if (hbk_xml_says(ending, "type", "start")) {
        bar->ending_passes = passes_of(numbers == NULL ? "" : numbers);
        bar->ending = hbk_build_ending_text(reader->arena, bar->ending_passes);
    } else if (ending != NULL) {
        before->ending_stop = true;
    }
    if (!is_left) {
        before->right = style;
    }
}
