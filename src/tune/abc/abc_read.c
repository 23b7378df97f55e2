#include "tune/abc/abc_read.h"

#include "base/messages.h"
#include "base/number.h"
#include "tune/abc/abc.h"
#include "tune/abc/abc_bar.h"
#include "tune/abc/abc_field.h"
#include "tune/abc/abc_file.h"
#include "tune/abc/abc_fingering.h"
#include "tune/abc/abc_group.h"
#include "tune/abc/abc_line.h"
#include "tune/abc/abc_mark.h"
#include "tune/abc/abc_music.h"
#include "tune/abc/abc_source.h"
#include "tune/abc/abc_text.h"
#include "tune/melody/build_marks.h"
#include "tune/melody/source.h"

#include <string.h>

static const char *line_text(struct hbk_abc *abc, size_t from)
{
    return hbk_abc_line_text(&abc->source, abc->line, from, abc->build.arena);
}

/* Where lines that are typeset as they stand are closed; 0 for nowhere. */
static size_t find_block_end(struct hbk_abc *abc)
{
    struct hbk_abc_line line = abc->line;
    while (line.next < abc->source.end && !abc->no_blocks) {
        line =
            hbk_abc_line_at(abc->source.bytes, abc->source.end, line.next, 0);
        if (hbk_abc_line_begins(&abc->source, line, "%%end")) {
            return line.next;
        }
    }
    abc->no_blocks = true;
    return 0;
}

/* %%begintext to %%endtext and their like; false if the line is none of it. */
static bool block_line(struct hbk_abc *abc)
{
    if (abc->block_end == 0 &&
        hbk_abc_line_begins(&abc->source, abc->line, "%%begin")) {
        abc->block_end = find_block_end(abc);
        abc->is_text_block =
            hbk_abc_line_begins(&abc->source, abc->line, "%%begintext");
        return abc->block_end > 0;
    }
    const bool is_last = abc->line.next == abc->block_end;
    if (abc->block_end == 0 || is_last) {
        abc->block_end = 0;
        return is_last;
    }
    const char *const text = line_text(abc, abc->line.begin);
    if (abc->is_text_block &&
        (text[0] != '\0' || abc->line.end > abc->line.begin + 2)) {
        hbk_build_left_out(&abc->build, "line of text on the page",
                           "lines of text on the page");
    }
    return true;
}

/* Comments and %% lines; false if the line is neither. */
static bool comment_line(struct hbk_abc *abc)
{
    const struct hbk_abc_line *const line = &abc->line;
    const char *const at = abc->source.bytes + line->begin;
    const size_t n = line->end - line->begin;
    if (n == 0 || at[0] != '%') {
        return false;
    }
    const size_t length = strlen(HBK_ABC_REMARK);
    const bool in_header = !abc->in_body && line->begin > abc->source.begin;
    if (in_header && n >= length && memcmp(at, HBK_ABC_REMARK, length) == 0) {
        abc->source.remark = line->begin;
        abc->source.remark_end = line->next;
    } else if (n > 1 && at[1] == '%') {
        hbk_abc_instruction(abc, line_text(abc, line->begin + 2));
    }
    return true;
}

static bool is_field_line(const struct hbk_abc *abc)
{
    const struct hbk_abc_line *const line = &abc->line;
    return line->end - line->begin >= 2 &&
           abc->source.bytes[line->begin + 1] == ':' &&
           (hbk_abc_is_letter(abc->source.bytes[line->begin]) ||
            abc->source.bytes[line->begin] == '+');
}

/* The text of a field with the +: lines that follow; comments may too. */
static const char *whole_text(struct hbk_abc *abc)
{
    struct hbk_text whole = {.arena = abc->build.arena};
    hbk_text_add(&whole, line_text(abc, abc->line.begin + 2));
    struct hbk_abc_line line = abc->line;
    while (line.next < abc->source.end) {
        line = hbk_abc_line_at(abc->source.bytes, abc->source.end, line.next,
                               line.number + 1);
        const char *const at = abc->source.bytes + line.begin;
        const size_t n = line.end - line.begin;
        if (n >= 2 && at[0] == '+' && at[1] == ':') {
            hbk_text_add(&whole, " ");
            hbk_text_add(&whole,
                         hbk_abc_line_text(&abc->source, line, line.begin + 2,
                                           abc->build.arena));
        } else if (n == 0 || at[0] != '%') {
            break;
        }
    }
    return hbk_text_string(&whole);
}

static void field_line(struct hbk_abc *abc)
{
    const char letter = abc->source.bytes[abc->line.begin];
    if (letter == '+' || !hbk_abc_count_extra(abc)) {
        return; /* read with the field that it goes on with */
    }
    const bool is_text = strchr("CTWws", letter) != NULL;
    if (!hbk_abc_field(abc, letter,
                       is_text ? whole_text(abc)
                               : line_text(abc, abc->line.begin + 2))) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->line.begin),
                       HBK_H_ABC_UNKNOWN_FIELD, "the field %c: is not known",
                       letter);
    }
}

/* Letters that begin notes and rests do not begin fields within the music. */
static bool is_music_line(struct hbk_abc *abc)
{
    if (!is_field_line(abc)) {
        return true;
    }
    const char letter = abc->source.bytes[abc->line.begin];
    const char after = abc->line.end - abc->line.begin > 2
                           ? abc->source.bytes[abc->line.begin + 2]
                           : '\0';
    const bool is_note = strchr("ABCDEFGXYZabcdefgxyz", letter) != NULL;
    if (!is_note) {
        return false;
    }
    if (after == '|' || after == ':') {
        return true; /* the note E and the bar line :| */
    }
    const struct hbk_place place = hbk_abc_place(abc, abc->line.begin);
    if (abc->source.strict) {
        hbk_build_error(&abc->build, place, HBK_H_ABC_INFO_IN_MUSIC,
                        "the field %c: stands within the music; it belongs "
                        "before K:",
                        letter);
    } else {
        hbk_build_warn(&abc->build, place, HBK_H_ABC_INFO_IN_MUSIC,
                       "the field %c: stands within the music and is passed "
                       "over",
                       letter);
    }
    return false;
}

static void body_line(struct hbk_abc *abc)
{
    if (comment_line(abc)) {
        return;
    }
    if (is_music_line(abc)) {
        hbk_abc_music_line(abc);
    } else if (strchr("ABCDEFGXYZabcdefgxyz",
                      abc->source.bytes[abc->line.begin]) == NULL) {
        field_line(abc);
    }
}

/* What the header said becomes the beginning of the tune. */
static void begin_music(struct hbk_abc *abc)
{
    if (!abc->said.unit_given) {
        const struct hbk_ratio full = hbk_tune_full_bar(&abc->said.meter);
        const bool is_short =
            abc->said.meter.beats > 0 && 4 * full.num < 3 * full.den;
        abc->said.unit = (struct hbk_ratio){.num = 1, .den = is_short ? 16 : 8};
    }
    hbk_build_set_meter(&abc->build, abc->said.meter);
    hbk_build_set_key(&abc->build, abc->said.key);
    hbk_build_set_clef(&abc->build, abc->said.clef);
    if (abc->said.unit_tempo.beats > 0.0) {
        hbk_abc_set_unit_tempo(abc, abc->said.unit_tempo);
    }
    abc->in_body = true;
    abc->voices.current = abc->voices.chosen < 0 ? -1 : 0;
    if (abc->said.tempo_words != NULL) {
        hbk_abc_mark_tempo(abc, abc->said.tempo_words, abc->said.tempo_given);
    }
    if (abc->said.order != NULL && abc->said.order[0] != '\0') {
        hbk_abc_mark_order(abc, abc->said.order);
    }
    if (abc->source.remark_end > 0) {
        /* The first number of the remark counts the texts. */
        size_t count = 0;
        const char *const bytes = abc->source.bytes;
        abc->texts.others = hbk_abc_number_at(
            bytes + abc->source.remark + strlen(HBK_ABC_REMARK),
            bytes + abc->source.remark_end, &count);
    }
}

static void header_line(struct hbk_abc *abc, bool is_of_file)
{
    if (comment_line(abc)) {
        return;
    }
    if (!is_field_line(abc)) {
        hbk_build_warn(&abc->build, hbk_abc_place(abc, abc->line.begin),
                       HBK_H_STRAY_SIGN,
                       "this line before K: is no field and is passed over");
        return;
    }
    const char letter = abc->source.bytes[abc->line.begin];
    if (is_of_file && (letter == 'T' || letter == 'K' || letter == 'V')) {
        return;
    }
    field_line(abc);
    if (letter == 'K' && !is_of_file) {
        begin_music(abc);
    }
}

static void read_lines(struct hbk_abc *abc)
{
    abc->line = (struct hbk_abc_line){.next = abc->source.start};
    while (abc->line.next < abc->source.header_end && !abc->build.failed) {
        abc->line = hbk_abc_line_at(abc->source.bytes, abc->source.length,
                                    abc->line.next, abc->line.number + 1);
        header_line(abc, true);
    }
    abc->line = (struct hbk_abc_line){.next = abc->source.begin,
                                      .number = abc->source.begin_line - 1};
    while (abc->line.next < abc->source.end && !abc->build.failed) {
        abc->line = hbk_abc_line_at(abc->source.bytes, abc->source.end,
                                    abc->line.next, abc->line.number + 1);
        if (block_line(abc)) {
            continue;
        }
        if (abc->in_body) {
            body_line(abc);
        } else {
            header_line(abc, false);
        }
    }
    if (!abc->in_body && !abc->build.failed) {
        hbk_build_error(&abc->build, hbk_abc_place(abc, abc->line.begin),
                        HBK_H_ABC_NO_KEY,
                        "the tune has no K: line, after which its notes begin");
    }
}

/* %abc-2.1 and above is read strictly. */
static bool is_strict(const struct hbk_abc *abc)
{
    static const char begin[] = "%abc-";
    const size_t n = sizeof(begin) - 1;
    double version = 0.0;
    size_t used = 0;
    const char *const at = abc->source.bytes + abc->source.start;
    return strncmp(at, begin, n) == 0 &&
           hbk_number_prefix(at + n, &version, &used) && version >= 2.05;
}

/* Notes without a space between them share a beam. */
static void group_beams(struct hbk_tune *tune)
{
    struct hbk_tune_event *last = NULL;
    for (size_t i = 0; i < tune->n_events; i++) {
        struct hbk_tune_event *const event = &tune->events[i];
        if (event->kind == HBK_TUNE_GRACE) {
            continue;
        }
        const bool may_beam = event->kind == HBK_TUNE_NOTE &&
                              event->value >= 3 &&
                              event->value != HBK_TUNE_NO_VALUE;
        const bool goes_on =
            may_beam && last != NULL && event->beam == HBK_TUNE_BEAM_CONTINUE;
        if (!goes_on && last != NULL && last->beam == HBK_TUNE_BEAM_CONTINUE) {
            last->beam = HBK_TUNE_BEAM_END;
        }
        if (goes_on && last->beam == HBK_TUNE_BEAM_NONE) {
            last->beam = HBK_TUNE_BEAM_BEGIN;
        }
        event->beam = goes_on ? HBK_TUNE_BEAM_CONTINUE : HBK_TUNE_BEAM_NONE;
        last = may_beam ? event : NULL;
    }
    if (last != NULL && last->beam == HBK_TUNE_BEAM_CONTINUE) {
        last->beam = HBK_TUNE_BEAM_END;
    }
}

static void begin_reading(struct hbk_abc *abc, struct hbk_build build,
                          const char *name, const char *bytes, size_t length)
{
    *abc = (struct hbk_abc){
        .build = build,
        .source = {.file = name,
                   .bytes = bytes,
                   .length = length,
                   .start = strncmp(bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0},
        .said = {.meter = {.unit = 4},
                 .key = hbk_build_key(0, ""),
                 .clef = {.sign = 'G', .line = 2}},
        .music = {.last = HBK_TUNE_NONE,
                  .point = HBK_TUNE_NONE,
                  .target = HBK_TUNE_NONE},
    };
    abc->build.beams_are_joins = true;
    abc->build.bars_to_number = true;
    for (size_t k = 0; k < HBK_LINE_VOICES_MAX; k++) {
        abc->voiced.before[k] = HBK_TUNE_NONE;
    }
    abc->source.strict = is_strict(abc);
    hbk_abc_default_symbols(abc);
    hbk_abc_forget_accidentals(abc);
}

/* Whether a tune has a sign of the played order or the label of a part. */
static bool says_order(const struct hbk_tune *tune)
{
    for (size_t b = 0; b < tune->n_bars; b++) {
        if (tune->bars[b].signs.bits != 0 || tune->bars[b].part != 0) {
            return true;
        }
    }
    return false;
}

/* Where only the first voice has such signs, they are meant for all. */
static void take_over_signs(struct hbk_abc *abc,
                            const struct hbk_tune_options *wanted)
{
    struct hbk_tune *const tune = abc->build.tune;
    if (abc->voices.chosen < 1 || says_order(tune)) {
        return;
    }
    struct hbk_tune_document first = {.format = HBK_TUNE_ABC};
    struct hbk_faults unheard = {.count = 0};
    struct hbk_tune_options options = {.voice = NULL};
    if (wanted != NULL) {
        options = *wanted;
    }
    options.voice = abc->voices.names[0];
    hbk_tune_document_begin(&first, HBK_TUNE_ABC, abc->source.file);
    struct hbk_abc *const other =
        HBK_ARENA_ARRAY(&first.arena, struct hbk_abc, 1);
    begin_reading(other,
                  (struct hbk_build){.arena = &first.arena,
                                     .faults = &unheard,
                                     .tune = &first.tune},
                  abc->source.file, abc->source.bytes, abc->source.length);
    if (hbk_abc_find_tune(other, &options)) {
        read_lines(other);
        hbk_abc_music_end(other);
    }
    const bool fits = !other->build.failed && first.tune.n_bars == tune->n_bars;
    for (size_t b = 0; fits && b < tune->n_bars; b++) {
        const struct hbk_tune_bar *const from = &first.tune.bars[b];
        struct hbk_tune_bar *const to = &tune->bars[b];
        to->signs = from->signs;
        to->part = from->part;
        to->jump = from->jump == NULL
                       ? NULL
                       : hbk_arena_copy(abc->build.arena, from->jump,
                                        strlen(from->jump));
        hbk_build_sign_marks(&abc->build, b, to->signs.bits, to->jump,
                             from->place);
    }
    hbk_arena_finish(&first.arena);
}

enum hbk_status hbk_abc_read(const char *name, const char *bytes, size_t length,
                             const struct hbk_tune_options *options,
                             struct hbk_tune_document *document,
                             struct hbk_faults *faults)
{
    enum { ABC_MAX = 8 * 1024 * 1024 };
    if (length > ABC_MAX) {
        hbk_fault_add(faults, (struct hbk_place){.file = name},
                      HBK_H_TUNE_TOO_LARGE,
                      "more than %d MiB of ABC; save the one tune that is "
                      "wanted",
                      ABC_MAX / (1024 * 1024));
        return HBK_ERR_INPUT;
    }
    struct hbk_abc *const abc =
        HBK_ARENA_ARRAY(&document->arena, struct hbk_abc, 1);
    begin_reading(abc,
                  (struct hbk_build){.arena = &document->arena,
                                     .faults = faults,
                                     .tune = &document->tune},
                  name, bytes, length);
    if (!hbk_abc_find_tune(abc, options)) {
        return HBK_ERR_INPUT;
    }
    abc->keeps_about = options != NULL && options->keep_about;
    read_lines(abc);
    if (!abc->build.failed) {
        hbk_abc_music_end(abc);
        hbk_abc_line(abc,
                     options == NULL || options->line == 0 ? 1 : options->line);
    }
    struct hbk_tune *const tune = &document->tune;
    tune->voice =
        abc->voices.chosen < 0 ? "" : abc->voices.names[abc->voices.chosen];
    document->source->abc = abc;
    if (!abc->build.failed) {
        take_over_signs(abc, options);
    }
    HBK_TRY(hbk_build_finish(&abc->build));
    group_beams(tune);
    return HBK_OK;
}
