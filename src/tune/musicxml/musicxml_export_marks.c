#include "tune/musicxml/musicxml_export_marks.h"

#include "tune/musicxml/musicxml_type.h"

#include <string.h>

/* ---- directions ---- */

static void put_dynamic(struct hbk_text *out, const char *text)
{
    static const char names[] =
        " p pp ppp pppp ppppp pppppp f ff fff ffff fffff ffffff mp mf sf sfp "
        "sfpp fp rf rfz sfz sffz fz n pf sfzp ";
    const char *const spaced = hbk_arena_printf(out->arena, " %s ", text);
    hbk_text_add(out, "<direction-type><dynamics>");
    if (strstr(names, spaced) != NULL) {
        hbk_text_addf(out, "<%s/>", text);
    } else {
        hbk_text_add(out, "<other-dynamics>");
        hbk_text_add_xml(out, text);
        hbk_text_add(out, "</other-dynamics>");
    }
    hbk_text_add(out, "</dynamics></direction-type>");
}

/* The closed end of a hairpin is where it begins to grow or is all gone. */
static void put_wedge(struct hbk_text *out, const struct hbk_mark_stop *stop)
{
    const bool grows = stop->mark->kind == HBK_TUNE_MARK_CRESCENDO;
    const bool is_ring = stop->mark->to_nothing && grows != stop->is_end;
    hbk_text_addf(out,
                  "<direction-type><wedge type=\"%s\" number=\"%u\"%s/>"
                  "</direction-type>",
                  stop->is_end ? "stop"
                  : grows      ? "crescendo"
                               : "diminuendo",
                  stop->number, is_ring ? " niente=\"yes\"" : "");
}

static void put_dashes(struct hbk_text *out, const struct hbk_mark_stop *stop)
{
    hbk_text_addf(out,
                  "<direction-type><dashes type=\"%s\" number=\"%u\"/>"
                  "</direction-type>",
                  stop->is_end ? "stop" : "start", stop->number);
}

static void put_text(struct hbk_text *out, const char *element,
                     const char *attributes, const char *text)
{
    hbk_text_addf(out, "<direction-type><%s%s>", element, attributes);
    hbk_text_add_xml(out, text);
    hbk_text_addf(out, "</%s></direction-type>", element);
}

static void put_beat(struct hbk_text *out, struct hbk_ratio beat)
{
    unsigned dots = 0;
    const int value = hbk_tune_value_of(beat, &dots);
    hbk_text_addf(out, "<beat-unit>%s</beat-unit>", hbk_musicxml_type(value));
    for (; dots > 0; dots--) {
        hbk_text_add(out, "<beat-unit-dot/>");
    }
}

static void put_metronome(struct hbk_text *out,
                          const struct hbk_tune_metronome *metronome)
{
    hbk_text_addf(out, "<direction-type><metronome%s>",
                  metronome->in_parentheses ? " parentheses=\"yes\"" : "");
    put_beat(out, metronome->beat);
    if (metronome->equals.num > 0) {
        put_beat(out, metronome->equals);
    } else {
        hbk_text_add(out, "<per-minute>");
        hbk_text_add_xml(out, metronome->count);
        hbk_text_add(out, "</per-minute>");
    }
    hbk_text_add(out, "</metronome></direction-type>");
}

static void put_tempo(struct hbk_text *out, const struct hbk_tune_mark *mark)
{
    if (mark->text[0] != '\0') {
        put_text(out, "words", "", mark->text);
    }
    if (mark->metronome.beat.num > 0) {
        put_metronome(out, &mark->metronome);
    }
}

/* What begins here, but for the line that it may be. */
static void put_beginning(struct hbk_text *out,
                          const struct hbk_tune_mark *mark)
{
    switch (mark->kind) {
    case HBK_TUNE_MARK_DYNAMIC:
        put_dynamic(out, mark->text);
        break;
    case HBK_TUNE_MARK_WORDS:
        put_text(out, "words", " font-style=\"italic\"", mark->text);
        break;
    case HBK_TUNE_MARK_TEMPO:
        put_tempo(out, mark);
        break;
    case HBK_TUNE_MARK_REHEARSAL:
        put_text(out, "rehearsal", "", mark->text);
        break;
    case HBK_TUNE_MARK_SEGNO:
        hbk_text_add(out, "<direction-type><segno/></direction-type>");
        break;
    case HBK_TUNE_MARK_CODA:
        hbk_text_add(out, "<direction-type><coda/></direction-type>");
        break;
    case HBK_TUNE_MARK_JUMP:
        put_text(out, "words", "", mark->text);
        break;
    case HBK_TUNE_MARK_CRESCENDO:
    case HBK_TUNE_MARK_DIMINUENDO:
    case HBK_TUNE_MARK_FERMATA:
    case HBK_TUNE_MARK_PLUS:
    case HBK_TUNE_MARK_OPEN:
        break;
    }
}

static void put_type(struct hbk_text *out, const struct hbk_mark_stop *stop)
{
    if (!stop->is_end) {
        put_beginning(out, stop->mark);
    }
    if (hbk_mark_is_hairpin(stop->mark)) {
        put_wedge(out, stop);
    } else if (stop->number > 0) {
        put_dashes(out, stop);
    }
}

/* The sound of a tempo that is printed here. */
static void put_sound(struct hbk_musicxml_export *writer)
{
    const struct hbk_tune_tempo *const tempo =
        &writer->tune->tempos[writer->tempo++];
    hbk_text_add(writer->out, "<sound tempo=\"");
    hbk_write_decimal(writer->out, tempo->quarters);
    hbk_text_add(writer->out, "\"/>");
}

void hbk_musicxml_put_sounds(struct hbk_musicxml_export *writer, size_t event)
{
    const struct hbk_tune *const tune = writer->tune;
    while (writer->tempo < tune->n_tempos &&
           tune->tempos[writer->tempo].event <= event) {
        hbk_text_add(writer->out, "      ");
        put_sound(writer);
        hbk_text_add(writer->out, "\n");
    }
}

/* How far behind the cursor it stands, which is at the event's end. */
static void put_offset(struct hbk_musicxml_export *writer,
                       const struct hbk_tune_spot *at)
{
    const struct hbk_tune_event *const event = &writer->tune->events[at->event];
    struct hbk_ratio end = event->onset;
    struct hbk_ratio offset = hbk_ratio_whole(0);
    if (hbk_ratio_add(event->onset, event->length, &end) &&
        hbk_ratio_sub(at->time, end, &offset) && offset.num != 0) {
        hbk_text_add(writer->out, "<offset>");
        hbk_write_decimal(writer->out, (double)offset.num / (double)offset.den *
                                           (double)(4 * writer->divisions));
        hbk_text_add(writer->out, "</offset>");
    }
}

static bool is_of_note(const struct hbk_tune_mark *mark)
{
    return mark->kind == HBK_TUNE_MARK_PLUS ||
           mark->kind == HBK_TUNE_MARK_OPEN ||
           mark->kind == HBK_TUNE_MARK_FERMATA;
}

static void put_direction(struct hbk_musicxml_export *writer,
                          const struct hbk_mark_stop *stop)
{
    static const char *const sides[] = {
        [HBK_TUNE_FREE] = "",
        [HBK_TUNE_ABOVE] = " placement=\"above\"",
        [HBK_TUNE_BELOW] = " placement=\"below\""};
    const struct hbk_tune *const tune = writer->tune;
    struct hbk_text *const out = writer->out;
    hbk_text_addf(out, "      <direction%s>", sides[stop->mark->side]);
    put_type(out, stop);
    if (stop->is_after) {
        put_offset(writer, &stop->at);
    }
    const bool is_tempo = stop->mark->kind == HBK_TUNE_MARK_TEMPO &&
                          !stop->is_end && writer->tempo < tune->n_tempos &&
                          tune->tempos[writer->tempo].event == stop->at.event;
    if (is_tempo) {
        put_sound(writer);
    }
    hbk_text_add(out, "</direction>\n");
}

void hbk_musicxml_put_marks(struct hbk_musicxml_export *writer, size_t bar,
                            size_t event, bool is_after)
{
    for (const struct hbk_mark_stop *stop =
             hbk_mark_stop(&writer->stops, bar, event, is_after);
         stop != NULL;
         stop = hbk_mark_stop(&writer->stops, bar, event, is_after)) {
        if (!is_of_note(stop->mark)) {
            put_direction(writer, stop);
        }
    }
}

/* ---- what belongs to a bar line or a note ---- */

bool hbk_musicxml_has_fermata(const struct hbk_tune *tune, size_t bar)
{
    const struct hbk_tune_marks *const marks = &tune->marks;
    size_t i = hbk_tune_marks_from(marks, tune->bars[bar].first);
    for (; i < marks->n && marks->items[i].at.bar <= bar; i++) {
        if (marks->items[i].kind == HBK_TUNE_MARK_FERMATA) {
            return true;
        }
    }
    return false;
}

void hbk_musicxml_put_stops(const struct hbk_tune *tune, size_t event,
                            struct hbk_text *out)
{
    const struct hbk_tune_marks *const marks = &tune->marks;
    for (size_t i = hbk_tune_marks_from(marks, event);
         i < marks->n && marks->items[i].at.event == event; i++) {
        const enum hbk_tune_mark_kind kind = marks->items[i].kind;
        hbk_text_add(out, kind == HBK_TUNE_MARK_PLUS   ? "<stopped/>"
                          : kind == HBK_TUNE_MARK_OPEN ? "<open/>"
                                                       : "");
    }
}

/* Whether the syllable before of the same verse has a hyphen. */
static bool goes_on(const struct hbk_tune_marks *marks, size_t syllable)
{
    for (size_t i = syllable; i-- > 0;) {
        if (marks->syllables[i].verse == marks->syllables[syllable].verse) {
            return marks->syllables[i].hyphen;
        }
    }
    return false;
}

static void put_lyric(const struct hbk_tune_marks *marks, size_t i,
                      struct hbk_text *out)
{
    const struct hbk_tune_syllable *const syllable = &marks->syllables[i];
    const bool is_inside = goes_on(marks, i);
    hbk_text_addf(out,
                  "        <lyric number=\"%u\"><syllabic>%s</syllabic><text>",
                  syllable->verse,
                  is_inside ? (syllable->hyphen ? "middle" : "end")
                            : (syllable->hyphen ? "begin" : "single"));
    hbk_text_add_xml(out, syllable->text);
    const bool is_held = syllable->last > syllable->event && !syllable->hyphen;
    hbk_text_addf(out, "</text>%s</lyric>\n",
                  is_held ? "<extend type=\"start\"/>" : "");
}

void hbk_musicxml_put_lyrics(struct hbk_musicxml_export *writer, size_t event)
{
    const struct hbk_tune_marks *const marks = &writer->tune->marks;
    for (size_t i = writer->syllable; i < marks->n_syllables; i++) {
        const struct hbk_tune_syllable *const syllable = &marks->syllables[i];
        if (syllable->event > event) {
            break;
        }
        if (syllable->event == event) {
            put_lyric(marks, i, writer->out);
        } else if (syllable->last == event && !syllable->hyphen) {
            hbk_text_addf(writer->out,
                          "        <lyric number=\"%u\"><extend type=\"stop\"/>"
                          "</lyric>\n",
                          syllable->verse);
        }
    }
    while (writer->syllable < marks->n_syllables &&
           marks->syllables[writer->syllable].last <= event) {
        writer->syllable++;
    }
}

/* ---- the head and the foot ---- */

/* Calls for each line of a text that has any. */
static void put_lines(struct hbk_text *out, const char *before,
                      const char *lines, const char *after)
{
    for (const char *at = lines; *at != '\0';) {
        const size_t n = strcspn(at, "\n");
        hbk_text_add(out, before);
        hbk_text_add_xml(out, hbk_arena_copy(out->arena, at, n));
        hbk_text_add(out, after);
        at += n + (at[n] == '\n');
    }
}

void hbk_musicxml_put_names(const struct hbk_tune *tune, struct hbk_text *out)
{
    put_lines(out, "    <creator type=\"composer\">", tune->composer,
              "</creator>\n");
    put_lines(out, "    <creator type=\"lyricist\">", tune->lyricist,
              "</creator>\n");
    put_lines(out, "    <creator type=\"arranger\">", tune->arranger,
              "</creator>\n");
    put_lines(out, "    <rights>", tune->rights, "</rights>\n");
}

/* Words of the page, all of one type. */
static void put_credit(struct hbk_text *out, const char *type,
                       const char *const *texts, size_t n)
{
    if (n == 0) {
        return;
    }
    hbk_text_addf(out, "  <credit page=\"1\"><credit-type>%s</credit-type>\n",
                  type);
    for (size_t i = 0; i < n; i++) {
        hbk_text_add(out, "    <credit-words>");
        hbk_text_add_xml(out, texts[i]);
        hbk_text_add(out, "</credit-words>\n");
    }
    hbk_text_add(out, "  </credit>\n");
}

void hbk_musicxml_put_credits(const struct hbk_tune *tune, struct hbk_text *out)
{
    enum { LINES_MAX = 20 };
    const char *lines[LINES_MAX];
    size_t n = 0;
    for (const char *at = tune->subtitle; *at != '\0' && n < LINES_MAX; n++) {
        const size_t length =
            n + 1 == LINES_MAX ? strlen(at) : strcspn(at, "\n");
        lines[n] = hbk_arena_copy(out->arena, at, length);
        at += length + (at[length] == '\n');
    }
    put_credit(out, "subtitle", lines, n);
    put_credit(out, "lyrics", tune->marks.stanzas, tune->marks.n_stanzas);
}
