#include "tune/musicxml/musicxml_export_note.h"

#include "tune/musicxml/musicxml_export_marks.h"
#include "tune/musicxml/musicxml_type.h"

#include <inttypes.h>
#include <string.h>

void hbk_musicxml_put_element(struct hbk_text *out, const char *indent,
                              const char *name, const char *text)
{
    hbk_text_addf(out, "%s<%s>", indent, name);
    hbk_text_add_xml(out, text);
    hbk_text_addf(out, "</%s>\n", name);
}

static int64_t duration_of(const struct hbk_musicxml_export *writer,
                           struct hbk_ratio length)
{
    return length.num * (4 * writer->divisions / length.den);
}

static void put_accidental(struct hbk_text *out,
                           const struct hbk_tune_event *event)
{
    static const char *const names[] = {"flat-flat", "flat", "natural", "sharp",
                                        "double-sharp"};
    if (event->accidental == HBK_TUNE_NOT_PRINTED) {
        return;
    }
    hbk_text_addf(
        out, "        <accidental%s>%s</accidental>\n",
        event->accidental == HBK_TUNE_CAUTIONARY  ? " cautionary=\"yes\""
        : event->accidental == HBK_TUNE_EDITORIAL ? " editorial=\"yes\""
                                                  : "",
        names[event->spelling.alter + 2]);
}

static unsigned flags_of(const struct hbk_tune_event *event)
{
    return event->value >= 3 && event->value != HBK_TUNE_NO_VALUE
               ? (unsigned)event->value - 2
               : 0;
}

/* The next note or rest in this direction, or HBK_TUNE_NONE. */
static size_t neighbour(const struct hbk_tune *tune, size_t event, bool after)
{
    size_t i = event;
    for (;;) {
        if (after ? i + 1 >= tune->n_events : i == 0) {
            return HBK_TUNE_NONE;
        }
        i = after ? i + 1 : i - 1;
        if (tune->events[i].kind != HBK_TUNE_GRACE) {
            return i;
        }
    }
}

/* The flags of the next note or rest in this direction. */
static unsigned flags_beside(const struct hbk_tune *tune, size_t event,
                             bool after)
{
    const size_t other = neighbour(tune, event, after);
    return other == HBK_TUNE_NONE ? 0 : flags_of(&tune->events[other]);
}

static const char *beam_word(bool joins_left, bool joins_right, bool from)
{
    return joins_left && joins_right ? "continue"
           : joins_left              ? "end"
           : joins_right             ? "begin"
           : from                    ? "backward hook"
                                     : "forward hook";
}

/* The outermost beam is given; the others follow from the flags. */
static void put_beams(struct hbk_musicxml_export *writer, size_t event)
{
    const struct hbk_tune *const tune = writer->tune;
    const struct hbk_tune_event *const at = &tune->events[event];
    const bool from =
        at->beam == HBK_TUNE_BEAM_CONTINUE || at->beam == HBK_TUNE_BEAM_END;
    const bool on =
        at->beam == HBK_TUNE_BEAM_CONTINUE || at->beam == HBK_TUNE_BEAM_BEGIN;
    if (!from && !on) {
        return;
    }
    const unsigned left = from ? flags_beside(tune, event, false) : 0;
    const unsigned right = on ? flags_beside(tune, event, true) : 0;
    for (unsigned n = 1; n <= flags_of(at) && n <= 8; n++) {
        hbk_text_addf(writer->out, "        <beam number=\"%u\">%s</beam>\n", n,
                      beam_word(n == 1 ? from : left >= n,
                                n == 1 ? on : right >= n, from));
    }
}

/* Ends up to n of the slurs that are open; the youngest ends first. */
static void stop_slurs(struct hbk_musicxml_export *writer, unsigned n)
{
    for (; n > 0 && writer->n_slurs > 0; n--) {
        const int number = writer->slur_order[--writer->n_slurs];
        writer->slur_open[number] = false;
        hbk_text_addf(writer->out,
                      "          <slur number=\"%d\" type=\"stop\"/>\n",
                      number + 1);
    }
}

static void put_slurs(struct hbk_musicxml_export *writer,
                      const struct hbk_tune_event *event)
{
    /* A slur that ends on this note began before, if any did. */
    const unsigned before = (unsigned)writer->n_slurs < event->slur_stops
                                ? (unsigned)writer->n_slurs
                                : event->slur_stops;
    stop_slurs(writer, before);
    unsigned starts = event->slur_starts;
    for (; starts > 0 && writer->n_slurs < HBK_MUSICXML_SLURS_MAX; starts--) {
        int number = 0;
        while (writer->slur_open[number]) {
            number++;
        }
        writer->slur_open[number] = true;
        writer->slur_order[writer->n_slurs++] = number;
        hbk_text_addf(writer->out,
                      "          <slur number=\"%d\" type=\"start\"/>\n",
                      number + 1);
    }
    stop_slurs(writer, event->slur_stops - before);
}

static void put_tuplet(struct hbk_musicxml_export *writer, size_t event)
{
    const struct hbk_tune *const tune = writer->tune;
    const size_t index = tune->events[event].tuplet;
    if (index == HBK_TUNE_NONE) {
        return;
    }
    const struct hbk_tune_tuplet *const tuplet = &tune->tuplets[index];
    if (index != writer->tuplet) {
        writer->tuplet = index;
        hbk_lost_count(&writer->lost, "tuplet within a tuplet",
                       "tuplets within tuplets",
                       tuplet->nest > 0 && tuplet->inner > 0);
        hbk_text_add(writer->out,
                     "          <tuplet number=\"1\" type=\"start\"/>\n");
    }
    if (event + 1 == tuplet->first + tuplet->count) {
        hbk_text_add(writer->out,
                     "          <tuplet number=\"1\" type=\"stop\"/>\n");
    }
}

static void put_fingering(struct hbk_text *out,
                          const struct hbk_tune_fingering *fingering)
{
    hbk_text_add(out, "<technical>\n"
                      "            <fingering placement=\"below\">");
    hbk_text_add_xml(out, fingering->main);
    hbk_text_add(out, "</fingering>\n");
    for (size_t k = 0; k < fingering->n_alternates; k++) {
        hbk_text_add(out, "            <fingering alternate=\"yes\" "
                          "placement=\"below\">");
        hbk_text_add_xml(out, fingering->alternates[k]);
        hbk_text_add(out, "</fingering>\n");
    }
    hbk_text_add(out, "          </technical>\n");
}

static void put_ornaments(struct hbk_text *out, unsigned bits)
{
    static const struct {
        unsigned bit;
        const char *xml;
    } names[] = {
        {HBK_TUNE_TRILL, "<trill-mark/>"},
        {HBK_TUNE_TURN, "<turn/>"},
        {HBK_TUNE_INVERTED_TURN, "<inverted-turn/>"},
        {HBK_TUNE_MORDENT, "<mordent/>"},
        {HBK_TUNE_UPPER_MORDENT, "<inverted-mordent/>"},
        {HBK_TUNE_ROLL, "<other-ornament>roll</other-ornament>"},
        /* The schema has the signs after their ornament. */
        {HBK_TUNE_SIGN_SHARP, "<accidental-mark>sharp</accidental-mark>"},
        {HBK_TUNE_SIGN_FLAT, "<accidental-mark>flat</accidental-mark>"},
        {HBK_TUNE_SIGN_NATURAL, "<accidental-mark>natural</accidental-mark>"},
        {HBK_TUNE_SIGN_DOUBLE_SHARP,
         "<accidental-mark>double-sharp</accidental-mark>"},
        {HBK_TUNE_SIGN_DOUBLE_FLAT,
         "<accidental-mark>flat-flat</accidental-mark>"},
    };
    if ((bits & (HBK_TUNE_TRILL | HBK_TUNE_ORNAMENT)) == 0) {
        return;
    }
    hbk_text_add(out, "          <ornaments>");
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        hbk_text_add(out, (bits & names[i].bit) != 0 ? names[i].xml : "");
    }
    hbk_text_add(out, "</ornaments>\n");
}

static void put_articulations(struct hbk_text *out, unsigned bits)
{
    static const struct {
        unsigned bit;
        const char *name;
    } names[] = {
        {HBK_TUNE_ACCENT, "accent"},
        {HBK_TUNE_MARCATO, "strong-accent"},
        {HBK_TUNE_STACCATO, "staccato"},
        {HBK_TUNE_TENUTO, "tenuto"},
        {HBK_TUNE_STACCATISSIMO, "staccatissimo"},
        {HBK_TUNE_BREATH, "breath-mark"},
        {HBK_TUNE_CAESURA, "caesura"},
    };
    const unsigned others = HBK_TUNE_FERMATA | HBK_TUNE_TRILL |
                            HBK_TUNE_ORNAMENT | HBK_TUNE_TRILL_SIGN;
    put_ornaments(out, bits);
    if ((bits & ~others) != 0) {
        hbk_text_add(out, "          <articulations>");
        for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
            if ((bits & names[i].bit) != 0) {
                hbk_text_addf(out, "<%s/>", names[i].name);
            }
        }
        hbk_text_add(out, "</articulations>\n");
    }
    if ((bits & HBK_TUNE_FERMATA) != 0) {
        hbk_text_add(out, "          <fermata/>\n");
    }
}

/* What is stopped with the hand, and what is not. */
static void put_stops(const struct hbk_tune *tune, size_t event,
                      struct hbk_text *out)
{
    struct hbk_text stops = {.arena = out->arena};
    hbk_musicxml_put_stops(tune, event, &stops);
    if (stops.length > 0) {
        hbk_text_addf(out, "          <technical>%s</technical>\n",
                      stops.bytes);
    }
}

/* What the writer of fingerings into files marks, so that it is found again. */
static void put_mark(struct hbk_musicxml_export *writer, const char *element)
{
    if (writer->fingerings != NULL) {
        hbk_text_addf(writer->out, "<?hornbook %s?>", element);
    }
}

static void put_notations(struct hbk_musicxml_export *writer, size_t event)
{
    const struct hbk_tune_event *const at = &writer->tune->events[event];
    struct hbk_text *const out = writer->out;
    struct hbk_text before = {.arena = out->arena};
    struct hbk_text after = {.arena = out->arena};
    writer->out = &before;
    hbk_text_add(&before,
                 at->tie_stop ? "          <tied type=\"stop\"/>\n" : "");
    hbk_text_add(&before,
                 at->tie_start ? "          <tied type=\"start\"/>\n" : "");
    put_slurs(writer, at);
    put_tuplet(writer, event);
    put_stops(writer->tune, event, &before);
    put_articulations(&after, at->articulation);
    writer->out = out;
    const struct hbk_tune_fingering fingering =
        hbk_write_fingering(writer->tune, writer->fingerings, event);
    const bool alone = before.length == 0 && after.length == 0;
    if (alone && fingering.main == NULL) {
        return;
    }
    hbk_text_add(out, "        ");
    if (alone) {
        put_mark(writer, "notations");
    }
    hbk_text_add(out, "<notations>\n");
    hbk_text_put(out, hbk_text_string(&before), before.length);
    if (fingering.main != NULL) {
        hbk_text_add(out, "          ");
        if (!alone) {
            put_mark(writer, "technical");
        }
        put_fingering(out, &fingering);
    }
    hbk_text_put(out, hbk_text_string(&after), after.length);
    hbk_text_add(out, "        </notations>\n");
}

static void put_pitch(struct hbk_text *out, const struct hbk_tune_event *event)
{
    hbk_text_addf(out, "        <pitch><step>%c</step>",
                  "CDEFGAB"[event->spelling.step]);
    if (event->spelling.alter != 0) {
        hbk_text_addf(out, "<alter>%d</alter>", event->spelling.alter);
    }
    hbk_text_addf(out, "<octave>%d</octave></pitch>\n", event->spelling.octave);
}

static void put_time_modification(struct hbk_musicxml_export *writer,
                                  const struct hbk_tune_event *event)
{
    if (event->tuplet == HBK_TUNE_NONE) {
        return;
    }
    const struct hbk_tune_tuplet *const tuplet =
        &writer->tune->tuplets[event->tuplet];
    hbk_text_addf(writer->out,
                  "        <time-modification><actual-notes>%u</actual-notes>"
                  "<normal-notes>%u</normal-notes></time-modification>\n",
                  tuplet->actual, tuplet->normal);
}

void hbk_musicxml_put_event(struct hbk_musicxml_export *writer, size_t event)
{
    const struct hbk_tune_event *const at = &writer->tune->events[event];
    struct hbk_text *const out = writer->out;
    const bool is_rest = at->kind == HBK_TUNE_REST;
    hbk_text_add(out, is_rest && at->hidden
                          ? "      <note print-object=\"no\">\n"
                          : "      <note>\n");
    if (at->kind == HBK_TUNE_GRACE) {
        hbk_text_add(out, at->slash ? "        <grace slash=\"yes\"/>\n"
                                    : "        <grace/>\n");
    }
    if (is_rest) {
        hbk_text_add(out, at->whole_bar ? "        <rest measure=\"yes\"/>\n"
                                        : "        <rest/>\n");
    } else {
        put_pitch(out, at);
    }
    if (at->kind != HBK_TUNE_GRACE) {
        hbk_text_addf(out, "        <duration>%" PRId64 "</duration>\n",
                      duration_of(writer, at->length));
    }
    hbk_text_add(out, at->tie_stop ? "        <tie type=\"stop\"/>\n" : "");
    hbk_text_add(out, at->tie_start ? "        <tie type=\"start\"/>\n" : "");
    hbk_text_add(out, "        <voice>1</voice>\n");
    if (at->value != HBK_TUNE_NO_VALUE && !at->whole_bar) {
        hbk_musicxml_put_element(out, "        ", "type",
                                 hbk_musicxml_type(at->value));
        for (unsigned dot = 0; dot < at->dots; dot++) {
            hbk_text_add(out, "        <dot/>\n");
        }
    }
    if (!is_rest) {
        put_accidental(out, at);
    }
    put_time_modification(writer, at);
    put_beams(writer, event);
    put_notations(writer, event);
    hbk_musicxml_put_lyrics(writer, event);
    hbk_text_add(out, "      </note>\n");
}
