#include "tune/abc/abc_export_part.h"

#include "base/number.h"
#include "tune/abc/abc_fingering.h"
#include "tune/abc/abc_signs.h"
#include "tune/melody/build_words.h"
#include "tune/melody/write.h"

#include <inttypes.h>
#include <string.h>

/* ---- marks ---- */

/* A bracket would end a field within music, a quote the words. */
static void put_quoted(struct hbk_text *out, const char *words)
{
    hbk_text_add(out, "\"");
    for (const char *c = words; *c != '\0'; c++) {
        const bool is_plain =
            (unsigned char)*c >= 0x20 && strchr("\"[]%\\", *c) == NULL;
        hbk_text_put(out, is_plain ? c : " ", 1);
    }
    hbk_text_add(out, "\"");
}

void hbk_abc_put_tempo(struct hbk_text *out, const char *words,
                       const struct hbk_tune_tempo *tempo)
{
    hbk_text_add(out, "Q:");
    if (words[0] != '\0') {
        put_quoted(out, words);
        hbk_text_add(out, tempo == NULL ? "" : " ");
    }
    if (tempo != NULL) {
        hbk_text_addf(out, "%" PRId64 "/%" PRId64 "=", tempo->beat.num,
                      tempo->beat.den);
        hbk_write_decimal(out, tempo->beats);
    }
}

/* The number of the tempo that a mark is of, NULL for none. */
static const struct hbk_tune_tempo *
tempo_of(const struct hbk_abc_export *writer, const struct hbk_tune_mark *mark)
{
    const struct hbk_tune *const tune = writer->tune;
    return writer->tempo < tune->n_tempos &&
                   tune->tempos[writer->tempo].event <= mark->at.event
               ? &tune->tempos[writer->tempo]
               : NULL;
}

/* What a metronome mark says, as far as it is a number; false for none. */
static bool number_of(struct hbk_abc_export *writer,
                      const struct hbk_tune_metronome *metronome,
                      struct hbk_tune_tempo *tempo)
{
    const char *const digits = strpbrk(metronome->count, "0123456789");
    size_t used = 0;
    tempo->beat = metronome->beat;
    if (digits == NULL || !hbk_number_prefix(digits, &tempo->beats, &used)) {
        return false;
    }
    const bool is_plain = digits == metronome->count && digits[used] == '\0' &&
                          !metronome->in_parentheses;
    hbk_lost_count(&writer->lost, "word or bracket in a metronome mark",
                   "words or brackets in metronome marks", !is_plain);
    return true;
}

/* "dotted quarter" */
static void put_value(struct hbk_ratio value, struct hbk_text *words)
{
    static const char *const names[] = {
        "double whole", "whole", "half",  "quarter", "eighth", "16th",
        "32nd",         "64th",  "128th", "256th",   "512th",  "1024th"};
    unsigned dots = 0;
    const size_t i = (size_t)hbk_tune_value_of(value, &dots) + 1;
    hbk_text_add(words, dots > 1   ? "double dotted "
                        : dots > 0 ? "dotted "
                                   : "");
    hbk_text_add(words, i < sizeof(names) / sizeof(names[0]) ? names[i] : "?");
}

/* What is no number stands as words: "quarter = dotted quarter". */
static void put_equation(const struct hbk_tune_metronome *metronome,
                         struct hbk_text *words)
{
    hbk_text_add(words, words->length > 0 ? " " : "");
    put_value(metronome->beat, words);
    hbk_text_add(words, " = ");
    if (metronome->equals.num > 0) {
        put_value(metronome->equals, words);
    } else {
        hbk_text_add(words, metronome->count);
    }
}

void hbk_abc_put_tempo_mark(struct hbk_abc_export *writer,
                            const struct hbk_tune_mark *mark,
                            struct hbk_text *out)
{
    const struct hbk_tune_tempo *const tempo = tempo_of(writer, mark);
    struct hbk_tune_tempo printed = {.beats = 0.0};
    writer->tempo += tempo != NULL;
    if (mark->metronome.beat.num > 0 &&
        number_of(writer, &mark->metronome, &printed)) {
        hbk_abc_put_tempo(out, mark->text, &printed);
        return;
    }
    struct hbk_text words = {.arena = out->arena};
    hbk_text_add(&words, mark->text);
    if (mark->metronome.beat.num > 0) {
        put_equation(&mark->metronome, &words);
    }
    hbk_abc_put_tempo(out, hbk_text_string(&words), tempo);
}

/* In brackets, whose own closing one may not stand within. */
static void put_letter(struct hbk_text *fields, const char *text)
{
    hbk_text_add(fields, "[P:");
    for (const char *c = text; *c != '\0'; c++) {
        const bool is_plain =
            (unsigned char)*c >= 0x20 && strchr("[]%\\", *c) == NULL;
        hbk_text_put(fields, is_plain ? c : " ", 1);
    }
    hbk_text_add(fields, "]");
}

/* A text that reads as a fingering has no place said, so that it is none. */
static void put_annotation(struct hbk_abc_export *writer,
                           const struct hbk_tune_mark *mark,
                           struct hbk_text *signs)
{
    const bool is_free = mark->side == HBK_TUNE_FREE ||
                         hbk_abc_is_fingering(mark->text) ||
                         mark->text[0] == '{';
    const char *const sign = is_free                        ? "@"
                             : mark->side == HBK_TUNE_BELOW ? "_"
                                                            : "^";
    if (sign[0] == '_') {
        writer->texts++;
        writer->n_others++;
        hbk_text_addf(&writer->others, " %zu", writer->texts);
    }
    hbk_text_addf(signs, "\"%s", sign);
    hbk_abc_escape(signs, mark->text);
    hbk_text_add(signs, "\"");
}

/* Words with a place, which will be known for what they are. */
static void put_tempo(struct hbk_abc_export *writer,
                      const struct hbk_tune_mark *mark, struct hbk_text *fields,
                      struct hbk_text *signs)
{
    if (mark->side != HBK_TUNE_FREE && tempo_of(writer, mark) == NULL &&
        mark->metronome.beat.num == 0 &&
        hbk_build_kind_of_words(mark->text) == HBK_TUNE_MARK_TEMPO) {
        put_annotation(writer, mark, signs);
        return;
    }
    hbk_text_add(fields, "[");
    hbk_abc_put_tempo_mark(writer, mark, fields);
    hbk_text_add(fields, "]");
}

static void put_jump(struct hbk_abc_export *writer,
                     const struct hbk_tune_mark *mark, struct hbk_text *signs)
{
    const char *const name = hbk_abc_jump_name(mark->text);
    if (name != NULL) {
        hbk_text_addf(signs, "!%s!", name);
    } else {
        put_annotation(writer, mark, signs);
    }
}

static void put_beginning(struct hbk_abc_export *writer,
                          const struct hbk_tune_mark *mark,
                          struct hbk_text *fields, struct hbk_text *signs)
{
    switch (mark->kind) {
    case HBK_TUNE_MARK_DYNAMIC:
        hbk_text_addf(signs, "!%s!", mark->text);
        break;
    case HBK_TUNE_MARK_CRESCENDO:
        hbk_text_add(signs, "!<(!");
        break;
    case HBK_TUNE_MARK_DIMINUENDO:
        hbk_text_add(signs, "!>(!");
        break;
    case HBK_TUNE_MARK_WORDS:
        put_annotation(writer, mark, signs);
        break;
    case HBK_TUNE_MARK_TEMPO:
        put_tempo(writer, mark, fields, signs);
        break;
    case HBK_TUNE_MARK_REHEARSAL:
        put_letter(fields, mark->text);
        break;
    case HBK_TUNE_MARK_SEGNO:
        hbk_text_add(signs, "!segno!");
        break;
    case HBK_TUNE_MARK_CODA:
        hbk_text_add(signs, "!coda!");
        break;
    case HBK_TUNE_MARK_JUMP:
        put_jump(writer, mark, signs);
        break;
    case HBK_TUNE_MARK_FERMATA:
        hbk_text_add(signs, "!fermata!");
        break;
    case HBK_TUNE_MARK_PLUS:
        hbk_text_add(signs, "!plus!");
        break;
    case HBK_TUNE_MARK_OPEN:
        hbk_text_add(signs, "!open!");
        break;
    }
}

static void put_end(const struct hbk_tune_mark *mark, struct hbk_text *signs)
{
    hbk_text_add(signs, mark->kind == HBK_TUNE_MARK_CRESCENDO    ? "!<)!"
                        : mark->kind == HBK_TUNE_MARK_DIMINUENDO ? "!>)!"
                                                                 : "");
}

/* What ABC has no way to say of a mark. */
static void count_lost(struct hbk_abc_export *writer,
                       const struct hbk_mark_stop *stop)
{
    const struct hbk_tune_bar *const bar = &writer->tune->bars[stop->at.bar];
    struct hbk_ratio end = bar->onset;
    const bool is_within = stop->is_after &&
                           hbk_ratio_add(bar->onset, bar->length, &end) &&
                           hbk_ratio_compare(stop->at.time, end) < 0;
    const bool is_dashed = stop->is_end && !hbk_mark_is_hairpin(stop->mark);
    hbk_lost_count(&writer->lost, "dashed line", "dashed lines", is_dashed);
    hbk_lost_count(&writer->lost, "place within a long note",
                   "places within long notes", is_within && !is_dashed);
    hbk_lost_count(&writer->lost, "ring at the end of a hairpin",
                   "rings at the ends of hairpins",
                   stop->is_end && stop->mark->to_nothing);
}

void hbk_abc_put_marks(struct hbk_abc_export *writer, size_t bar, size_t event,
                       struct hbk_text *fields, struct hbk_text *signs)
{
    for (const struct hbk_mark_stop *stop =
             hbk_mark_stop(&writer->stops, bar, event, false);
         stop != NULL;
         stop = hbk_mark_stop(&writer->stops, bar, event, false)) {
        count_lost(writer, stop);
        if (stop->is_end) {
            put_end(stop->mark, signs);
        } else {
            put_beginning(writer, stop->mark, fields, signs);
        }
    }
}

/* ---- words ---- */

/* A syllable with what would end it made harmless. */
static void put_syllable(struct hbk_text *line, const char *text)
{
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == ' ') {
            hbk_text_add(line, "~");
        } else if (*c == '-') {
            hbk_text_add(line, "\\-");
        } else if (strchr("_*|~", *c) != NULL || (unsigned char)*c < 0x20) {
            hbk_text_add(line, "'");
        } else {
            hbk_text_add(line, *c == '\\' || *c == '%' ? "\\" : "");
            hbk_text_put(line, c, 1);
        }
    }
}

/* What a verse has under one note, of the last syllable up to it. */
static void put_word(const struct hbk_tune_syllable *syllable, size_t event,
                     struct hbk_text *line)
{
    if (syllable == NULL || syllable->last < event) {
        hbk_text_add(line, " *");
    } else if (syllable->event == event) {
        hbk_text_add(line, line->bytes[line->length - 1] == '-' ? "" : " ");
        put_syllable(line, syllable->text);
        hbk_text_add(line, syllable->hyphen ? "-" : "");
    } else {
        hbk_text_add(line, syllable->hyphen ? "-" : "_");
    }
}

/* One verse under these events. */
static void put_verse(struct hbk_abc_export *writer, unsigned verse,
                      size_t from, size_t to)
{
    const struct hbk_tune *const tune = writer->tune;
    const struct hbk_tune_marks *const marks = &tune->marks;
    const struct hbk_tune_syllable **const latest = &writer->sung[verse];
    size_t next = hbk_tune_syllables_from(marks, from);
    hbk_text_add(writer->out, "w:");
    for (size_t i = from; i < to; i++) {
        for (; next < marks->n_syllables && marks->syllables[next].event <= i;
             next++) {
            if (marks->syllables[next].verse == verse) {
                *latest = &marks->syllables[next];
            }
        }
        if (tune->events[i].kind == HBK_TUNE_NOTE) {
            put_word(*latest, i, writer->out);
        }
    }
    hbk_text_add(writer->out, "\n");
}

/* The last verse that has a word under these events, 0 for none. */
static unsigned last_verse(const struct hbk_tune_marks *marks, size_t from,
                           size_t to)
{
    unsigned last = 0;
    for (size_t i = hbk_tune_syllables_from(marks, from);
         i < marks->n_syllables && marks->syllables[i].event < to; i++) {
        const unsigned verse = marks->syllables[i].verse;
        last = verse > last ? verse : last;
    }
    return last;
}

void hbk_abc_put_words(struct hbk_abc_export *writer, size_t from, size_t to)
{
    const unsigned verses = last_verse(&writer->tune->marks, from, to);
    for (unsigned verse = 1; verse <= verses; verse++) {
        put_verse(writer, verse, from, to);
    }
}
