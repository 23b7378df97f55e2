#include "tune/musicxml/score.h"

#include "base/messages.h"
#include "base/number.h"
#include "base/text.h"
#include "tune/melody/build_marks.h"
#include "tune/melody/build_words.h"
#include "tune/melody/sign_words.h"
#include "tune/musicxml/musicxml_type.h"

#include <string.h>

/* What a direction prints, as marks. */

struct direction {
    struct hbk_musicxml_reader *reader;
    const xmlNode *node;
    struct hbk_build_spot spot;
    enum hbk_tune_side side;
    bool is_tempo;         /* it also sets how fast the music goes */
    bool is_jump;          /* it also leads elsewhere */
    struct hbk_text words; /* read so far and not yet a mark */
    bool is_framed;        /* they stand in a frame */
    struct hbk_tune_metronome metronome;
    bool is_printed; /* something was */
};

static bool is_present(const struct hbk_tune_metronome *metronome)
{
    return metronome->beat.num > 0;
}

static struct hbk_build_mark *add(struct direction *direction,
                                  enum hbk_tune_mark_kind kind)
{
    struct hbk_build_mark *const mark =
        hbk_build_mark(&direction->reader->build, kind, direction->spot,
                       hbk_xml_place(direction->reader->file, direction->node));
    if (mark != NULL) {
        mark->mark.side = direction->side;
    }
    direction->is_printed = true;
    return mark;
}

static void add_text(struct direction *direction, enum hbk_tune_mark_kind kind,
                     const char *text)
{
    if (text[0] != '\0') {
        struct hbk_build_mark *const mark = add(direction, kind);
        if (mark != NULL) {
            mark->mark.text = text;
        }
    }
}

/* Words without the brackets that stood about the metronome mark. */
static const char *without_brackets(struct direction *direction,
                                    const char *words)
{
    size_t end = strlen(words);
    bool is_open = false;
    while (end > 0 && strchr(" ()[]", words[end - 1]) != NULL) {
        is_open = is_open || strchr("([", words[end - 1]) != NULL;
        end--;
    }
    if (!is_open) {
        return words;
    }
    direction->metronome.in_parentheses = true;
    return hbk_arena_copy(direction->reader->arena, words, end);
}

static enum hbk_tune_mark_kind kind_of(const struct direction *direction,
                                       const char *words)
{
    enum { FRAMED_MAX = 24 };
    const enum hbk_tune_mark_kind kind = hbk_build_kind_of_words(words);
    if (is_present(&direction->metronome)) {
        return HBK_TUNE_MARK_TEMPO;
    }
    if (direction->is_framed && strlen(words) <= FRAMED_MAX) {
        return HBK_TUNE_MARK_REHEARSAL;
    }
    if (kind == HBK_TUNE_MARK_WORDS && direction->is_jump) {
        return HBK_TUNE_MARK_JUMP;
    }
    return kind == HBK_TUNE_MARK_WORDS && direction->is_tempo
               ? HBK_TUNE_MARK_TEMPO
               : kind;
}

/* The words and the metronome mark that were read become a mark. */
static void flush(struct direction *direction)
{
    struct hbk_build *const build = &direction->reader->build;
    const bool has_metronome = is_present(&direction->metronome);
    const char *words =
        direction->words.length == 0 ? "" : hbk_text_string(&direction->words);
    words = has_metronome ? without_brackets(direction, words) : words;
    if (words[0] != '\0' || has_metronome) {
        const enum hbk_tune_mark_kind kind = kind_of(direction, words);
        struct hbk_build_mark *mark =
            words[0] == '\0'
                ? add(direction, kind)
                : hbk_build_words(
                      build, words, direction->spot,
                      hbk_xml_place(direction->reader->file, direction->node));
        if (mark != NULL) {
            mark->mark.kind = kind;
            mark->mark.side = direction->side;
            mark->mark.metronome =
                has_metronome ? direction->metronome : mark->mark.metronome;
        }
        /* Whoever goes back does so at the end of a bar. */
        if (mark != NULL && kind == HBK_TUNE_MARK_JUMP &&
            (hbk_sign_words(words, NULL) & HBK_SIGN_JUMP) != 0) {
            mark->at = hbk_build_at_bar_end(build);
            mark->end = mark->at;
        }
        direction->is_printed = true;
    }
    direction->words = (struct hbk_text){.arena = build->arena};
    direction->metronome.beat = hbk_ratio_whole(0);
    direction->is_framed = false;
}

static void read_words(struct direction *direction, const xmlNode *node)
{
    const char *const text = hbk_xml_text(direction->reader->arena, node);
    if (text[0] == '\0') {
        return;
    }
    if (direction->words.length > 0) {
        hbk_text_add(&direction->words, " ");
    }
    hbk_text_add(&direction->words, text);
    const char *const frame =
        hbk_xml_attribute(direction->reader->arena, node, "enclosure");
    direction->is_framed = frame != NULL && strcmp(frame, "none") != 0 &&
                           strcmp(frame, "underline") != 0;
}

/* The note that an element names, with the dots that follow it; 0 for none. */
static struct hbk_ratio beat_of(struct hbk_musicxml_reader *reader,
                                const xmlNode *unit)
{
    const int value =
        unit == NULL ? HBK_TUNE_NO_VALUE
                     : hbk_musicxml_value(hbk_xml_text(reader->arena, unit));
    unsigned dots = 0;
    for (const xmlNode *at = unit == NULL ? NULL : unit->next;
         at != NULL && dots < 3 && !hbk_xml_is(at, "beat-unit");
         at = at->next) {
        dots += hbk_xml_is(at, "beat-unit-dot");
    }
    return value == HBK_TUNE_NO_VALUE ? hbk_ratio_whole(0)
                                      : hbk_build_length(value, dots);
}

static void read_metronome(struct direction *direction, const xmlNode *node)
{
    struct hbk_musicxml_reader *const reader = direction->reader;
    const xmlNode *const unit = hbk_xml_child(node, "beat-unit");
    const struct hbk_ratio beat = beat_of(reader, unit);
    if (hbk_xml_says(node, "print-object", "no")) {
        return;
    }
    if (beat.num == 0 || hbk_xml_child(node, "beat-unit-tied") != NULL) {
        hbk_build_left_out(&reader->build, "equation of note values",
                           "equations of note values");
        return;
    }
    direction->metronome = (struct hbk_tune_metronome){
        .beat = beat,
        .count = hbk_xml_text(reader->arena, hbk_xml_child(node, "per-minute")),
        .equals = beat_of(reader, hbk_xml_next(unit, "beat-unit")),
        .in_parentheses = hbk_xml_says(node, "parentheses", "yes")};
}

const char *hbk_musicxml_dynamics(struct hbk_arena *arena, const xmlNode *node)
{
    struct hbk_text text = {.arena = arena};
    for (const xmlNode *at = node->children; at != NULL; at = at->next) {
        if (hbk_xml_is(at, "other-dynamics")) {
            hbk_text_add(&text, text.length > 0 ? " " : "");
            hbk_text_add(&text, hbk_xml_text(arena, at));
        } else if (at->type == XML_ELEMENT_NODE) {
            hbk_text_add(&text, (const char *)at->name);
        }
    }
    return text.length == 0 ? "" : hbk_text_string(&text);
}

static void read_dynamics(struct direction *direction, const xmlNode *node)
{
    const char *const text =
        hbk_musicxml_dynamics(direction->reader->arena, node);
    const bool is_plain = strspn(text, "pmfrszn") == strlen(text);
    add_text(direction, is_plain ? HBK_TUNE_MARK_DYNAMIC : HBK_TUNE_MARK_WORDS,
             text);
}

static unsigned number_of(struct hbk_musicxml_reader *reader,
                          const xmlNode *node)
{
    long number = 1;
    const char *const text = hbk_xml_attribute(reader->arena, node, "number");
    if (text != NULL) {
        (void)hbk_number_parse_whole(text, 1, 16, &number);
    }
    return (unsigned)number;
}

static void end_line(struct direction *direction, const xmlNode *node,
                     bool is_hairpin)
{
    struct hbk_musicxml_reader *const reader = direction->reader;
    struct hbk_build_mark *const mark = hbk_build_end_line(
        &reader->build, is_hairpin, number_of(reader, node), direction->spot);
    if (mark == NULL) {
        hbk_build_warn(&reader->build, hbk_xml_place(reader->file, node),
                       HBK_H_MARK_OPEN,
                       is_hairpin ? "a hairpin ends here that never began"
                                  : "a dashed line ends here that never began");
    } else if (hbk_xml_says(node, "niente", "yes")) {
        mark->mark.to_nothing = true;
    }
}

static void read_wedge(struct direction *direction, const xmlNode *node)
{
    const bool opens = hbk_xml_says(node, "type", "crescendo");
    if (hbk_xml_says(node, "type", "stop")) {
        end_line(direction, node, true);
    } else if (opens || hbk_xml_says(node, "type", "diminuendo")) {
        struct hbk_build_mark *const mark =
            add(direction,
                opens ? HBK_TUNE_MARK_CRESCENDO : HBK_TUNE_MARK_DIMINUENDO);
        if (mark != NULL) {
            mark->mark.to_nothing = hbk_xml_says(node, "niente", "yes");
            hbk_build_begin_line(&direction->reader->build, mark,
                                 number_of(direction->reader, node));
        }
    }
}

/* The words that dashes go on with: of this direction, or the one before. */
static struct hbk_build_mark *words_before(struct direction *direction)
{
    const struct hbk_build_marks *const marks = &direction->reader->build.marks;
    enum { LOOK_BACK = 4 };
    for (size_t i = marks->n; i-- > 0 && i + LOOK_BACK >= marks->n;) {
        struct hbk_build_mark *const mark = &marks->items[i];
        const bool is_words = mark->mark.kind == HBK_TUNE_MARK_WORDS ||
                              mark->mark.kind == HBK_TUNE_MARK_TEMPO;
        if (is_words && !mark->is_open && mark->at.bar == direction->spot.bar &&
            hbk_ratio_compare(mark->at.time, direction->spot.time) <= 0) {
            return mark;
        }
    }
    return NULL;
}

static void read_dashes(struct direction *direction, const xmlNode *node)
{
    struct hbk_build *const build = &direction->reader->build;
    if (hbk_xml_says(node, "type", "stop")) {
        end_line(direction, node, false);
    } else if (hbk_xml_says(node, "type", "start")) {
        struct hbk_build_mark *const words = words_before(direction);
        if (words != NULL) {
            hbk_build_begin_line(build, words,
                                 number_of(direction->reader, node));
        } else {
            hbk_build_left_out(build, "dashed line", "dashed lines");
        }
    }
}

/* What no sheet of a horn shows. */
static void count_type(struct hbk_musicxml_reader *reader, const xmlNode *node)
{
    static const struct {
        const char *name, *one, *many;
    } kinds[] = {
        {"bracket", "bracket", "brackets"},
        {"octave-shift", "octave line", "octave lines"},
        {"pedal", "pedal mark", "pedal marks"},
        {"harp-pedals", "diagram of harp pedals", "diagrams of harp pedals"},
        {"damp", "sign for other instruments", "signs for other instruments"},
        {"damp-all", "sign for other instruments",
         "signs for other instruments"},
        {"eyeglasses", "sign for other instruments",
         "signs for other instruments"},
        {"string-mute", "mute sign", "mute signs"},
        {"scordatura", "tuning of strings", "tunings of strings"},
        {"image", "picture", "pictures"},
        {"symbol", "special sign", "special signs"},
        {"principal-voice", "bracket", "brackets"},
        {"percussion", "sign for other instruments",
         "signs for other instruments"},
        {"accordion-registration", "sign for other instruments",
         "signs for other instruments"},
        {"staff-divide", "sign of divided staves", "signs of divided staves"},
        {"other-direction", "special sign", "special signs"},
    };
    const bool is_later = hbk_xml_says(node, "type", "stop") ||
                          hbk_xml_says(node, "type", "continue") ||
                          hbk_xml_says(node, "type", "change") ||
                          hbk_xml_says(node, "type", "discontinue") ||
                          hbk_xml_says(node, "type", "resume");
    for (size_t i = 0; i < sizeof(kinds) / sizeof(kinds[0]); i++) {
        if (!is_later && hbk_xml_is(node, kinds[i].name)) {
            hbk_build_left_out(&reader->build, kinds[i].one, kinds[i].many);
        }
    }
}

static void read_type(struct direction *direction, const xmlNode *at)
{
    if (hbk_xml_is(at, "words")) {
        read_words(direction, at);
        return;
    }
    if (hbk_xml_is(at, "metronome")) {
        read_metronome(direction, at);
        return;
    }
    flush(direction);
    if (hbk_xml_is(at, "rehearsal")) {
        add_text(direction, HBK_TUNE_MARK_REHEARSAL,
                 hbk_xml_text(direction->reader->arena, at));
    } else if (hbk_xml_is(at, "segno")) {
        (void)add(direction, HBK_TUNE_MARK_SEGNO);
    } else if (hbk_xml_is(at, "coda")) {
        (void)add(direction, HBK_TUNE_MARK_CODA);
    } else if (hbk_xml_is(at, "dynamics")) {
        read_dynamics(direction, at);
    } else if (hbk_xml_is(at, "wedge")) {
        read_wedge(direction, at);
    } else if (hbk_xml_is(at, "dashes")) {
        read_dashes(direction, at);
    } else {
        count_type(direction->reader, at);
    }
}

static struct hbk_build_spot spot_of(struct hbk_musicxml_reader *reader,
                                     const xmlNode *node)
{
    struct hbk_ratio time = reader->cursor;
    struct hbk_ratio offset;
    struct hbk_ratio whole;
    const char *const text =
        hbk_xml_text(reader->arena, hbk_xml_child(node, "offset"));
    const bool is_back = text[0] == '-';
    if (hbk_ratio_parse(text + (is_back ? 1 : 0), &offset) &&
        hbk_ratio_mul(reader->divisions, hbk_ratio_whole(4), &whole) &&
        hbk_ratio_div(offset, whole, &offset)) {
        (void)(is_back ? hbk_ratio_sub(time, offset, &time)
                       : hbk_ratio_add(time, offset, &time));
    }
    return hbk_build_at_time(&reader->build,
                             time.num < 0 ? hbk_ratio_whole(0) : time);
}

/* Whether all staves heed it: tempo, letters, signs of the played order. */
static bool is_for_all(const xmlNode *node)
{
    static const char *const names[] = {"rehearsal", "segno", "coda",
                                        "metronome"};
    const xmlNode *const sound = hbk_xml_child(node, "sound");
    bool is_one = hbk_xml_has(sound, "tempo");
    for (const xmlNode *type = hbk_xml_child(node, "direction-type");
         type != NULL; type = hbk_xml_next(type, "direction-type")) {
        for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
            is_one = is_one || hbk_xml_child(type, names[i]) != NULL;
        }
    }
    return is_one || hbk_musicxml_sound_jump(sound) != NULL;
}

bool hbk_musicxml_is_own_staff(struct hbk_musicxml_reader *reader,
                               const xmlNode *node)
{
    long staff = 0;
    return !hbk_number_parse_whole(
               hbk_xml_text(reader->arena, hbk_xml_child(node, "staff")), 1, 99,
               &staff) ||
           reader->staff == 0 || staff == reader->staff;
}

void hbk_musicxml_direction_marks(struct hbk_musicxml_reader *reader,
                                  const xmlNode *node)
{
    const xmlNode *const sound = hbk_xml_child(node, "sound");
    if (!hbk_musicxml_is_own_staff(reader, node) && !is_for_all(node)) {
        hbk_build_left_out(&reader->build, "mark of another staff",
                           "marks of another staff");
        return;
    }
    struct direction direction = {
        .reader = reader,
        .node = node,
        .spot = spot_of(reader, node),
        .side = hbk_xml_says(node, "placement", "above")   ? HBK_TUNE_ABOVE
                : hbk_xml_says(node, "placement", "below") ? HBK_TUNE_BELOW
                                                           : HBK_TUNE_FREE,
        .is_tempo = hbk_xml_has(sound, "tempo"),
        .is_jump = hbk_musicxml_sound_jump(sound) != NULL,
        .words = {.arena = reader->arena},
        .metronome = {.beat = hbk_ratio_whole(0)},
    };
    for (const xmlNode *type = hbk_xml_child(node, "direction-type");
         type != NULL; type = hbk_xml_next(type, "direction-type")) {
        for (const xmlNode *at = type->children; at != NULL; at = at->next) {
            if (at->type == XML_ELEMENT_NODE) {
                read_type(&direction, at);
            }
        }
    }
    flush(&direction);
    if (!direction.is_printed) {
        hbk_musicxml_silent_jump(reader, sound);
    }
}
