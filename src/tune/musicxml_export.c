#include "tune/musicxml.h"

#include "tune/write.h"

#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/*
 * The tune as a new MusicXML 4.0 file. Within each element the children
 * stand in the order of the schema; a wrong order is what makes most files
 * invalid.
 */

enum { SLURS_MAX = 16 };

struct export
{
    const struct hbk_tune *tune;
    const struct hbk_tune_fingering *fingerings;
    struct hbk_text *out;
    int64_t divisions;
    bool slur_open[SLURS_MAX];
    int slur_order[SLURS_MAX]; /* numbers of the open slurs, oldest first */
    size_t n_slurs;
    size_t key, meter, clef, tempo; /* the next change of each */
};

static void put_escaped(struct hbk_text *out, const char *text)
{
    for (const char *c = text; *c != '\0'; c++) {
        switch (*c) {
        case '&':
            hbk_text_add(out, "&amp;");
            break;
        case '<':
            hbk_text_add(out, "&lt;");
            break;
        case '>':
            hbk_text_add(out, "&gt;");
            break;
        case '"':
            hbk_text_add(out, "&quot;");
            break;
        default:
            hbk_text_put(out, (unsigned char)*c < 0x20 ? " " : c, 1);
            break;
        }
    }
}

static void put_element(struct hbk_text *out, const char *indent,
                        const char *name, const char *text)
{
    hbk_text_addf(out, "%s<%s>", indent, name);
    put_escaped(out, text);
    hbk_text_addf(out, "</%s>\n", name);
}

static int64_t common_divisor(int64_t a, int64_t b)
{
    while (b != 0) {
        const int64_t rest = a % b;
        a = b;
        b = rest;
    }
    return a;
}

/* The fewest divisions of a quarter in which every length is whole. */
static bool find_divisions(const struct hbk_tune *tune, int64_t *divisions)
{
    enum { DIVISIONS_MAX = 1000000000 };
    int64_t all = 1;
    for (size_t i = 0; i < tune->n_events; i++) {
        struct hbk_ratio quarters;
        if (!hbk_ratio_mul(tune->events[i].length, hbk_ratio_whole(4),
                           &quarters)) {
            return false;
        }
        const int64_t factor = quarters.den / common_divisor(all, quarters.den);
        if (factor > DIVISIONS_MAX / all) {
            return false;
        }
        all *= factor;
        if (quarters.num / quarters.den > INT64_MAX / all / 2) {
            return false;
        }
    }
    *divisions = all;
    return true;
}

static int64_t duration_of(const struct export *export, struct hbk_ratio length)
{
    return length.num * (4 * export->divisions / length.den);
}

static void put_key(struct hbk_text *out, const struct hbk_tune_key *key)
{
    hbk_text_add(out, "        <key>");
    if (key->traditional) {
        hbk_text_addf(out, "<fifths>%d</fifths>", key->fifths);
        if (key->mode[0] != '\0') {
            hbk_text_add(out, "<mode>");
            put_escaped(out, key->mode);
            hbk_text_add(out, "</mode>");
        }
    } else {
        for (int step = 0; step < 7; step++) {
            if (key->alter[step] != 0) {
                hbk_text_addf(out,
                              "<key-step>%c</key-step><key-alter>%d"
                              "</key-alter>",
                              "CDEFGAB"[step], key -> alter[step]);
            }
        }
    }
    hbk_text_add(out, "</key>\n");
}

static void put_time(struct hbk_text *out, const struct hbk_tune_meter *meter)
{
    if (meter->beats == 0) {
        hbk_text_add(out, "        <time><senza-misura/></time>\n");
        return;
    }
    const char *const symbol =
        meter->sign == HBK_TUNE_METER_COMMON ? " symbol=\"common\""
        : meter->sign == HBK_TUNE_METER_CUT  ? " symbol=\"cut\""
                                             : "";
    hbk_text_addf(out, "        <time%s><beats>", symbol);
    if (meter->groups != NULL) {
        put_escaped(out, meter->groups);
    } else {
        hbk_text_addf(out, "%u", meter->beats);
    }
    hbk_text_addf(out, "</beats><beat-type>%u</beat-type></time>\n",
                  meter->unit);
}

static void put_clef(struct hbk_text *out, const struct hbk_tune_clef *clef)
{
    const char letter[2] = {clef->sign, '\0'};
    const char *const sign = clef->sign == 'P'   ? "percussion"
                             : clef->sign == 'N' ? "none"
                                                 : letter;
    hbk_text_addf(out, "        <clef><sign>%s</sign><line>%d</line>", sign,
                  clef->line);
    if (clef->octave != 0) {
        hbk_text_addf(out, "<clef-octave-change>%d</clef-octave-change>",
                      clef->octave);
    }
    hbk_text_add(out, "</clef>\n");
}

static void put_transpose(struct hbk_text *out, int transpose)
{
    static const int diatonic[12] = {0, 1, 1, 2, 2, 3, 3, 4, 5, 5, 6, 6};
    const int sign = transpose < 0 ? -1 : 1;
    const int semitones = abs(transpose) % 12;
    const int octaves = abs(transpose) / 12;
    hbk_text_addf(out,
                  "        <transpose><diatonic>%d</diatonic><chromatic>%d"
                  "</chromatic>",
                  sign * diatonic[semitones], sign * semitones);
    if (octaves != 0) {
        hbk_text_addf(out, "<octave-change>%d</octave-change>", sign * octaves);
    }
    hbk_text_add(out, "</transpose>\n");
}

/* The attributes and the tempo that begin at this event. */
static void put_changes(struct export *export, size_t event, bool is_first)
{
    const struct hbk_tune *const tune = export->tune;
    struct hbk_text *const out = export->out;
    const bool key =
        export->key < tune->n_keys && tune->keys[export->key].event == event;
    const bool meter = export->meter < tune->n_meters &&
                       tune->meters[export->meter].event == event;
    const bool clef = export->clef < tune->n_clefs &&
                      tune->clefs[export->clef].event == event;
    if (key || meter || clef || is_first) {
        hbk_text_add(out, "      <attributes>\n");
        if (is_first) {
            hbk_text_addf(out, "        <divisions>%" PRId64 "</divisions>\n",
                          export->divisions);
        }
        if (key) {
            put_key(out, &tune->keys[export->key++]);
        }
        if (meter) {
            put_time(out, &tune->meters[export->meter++]);
        }
        if (clef) {
            put_clef(out, &tune->clefs[export->clef++]);
        }
        if (is_first && tune->transpose != 0) {
            put_transpose(out, tune->transpose);
        }
        hbk_text_add(out, "      </attributes>\n");
    }
    if (export->tempo < tune->n_tempos &&
        tune->tempos[export->tempo].event == event) {
        struct hbk_text number = {.arena = out->arena};
        hbk_write_decimal(&number, tune->tempos[export->tempo++].quarters);
        hbk_text_addf(out,
                      "      <direction placement=\"above\">\n"
                      "        <direction-type><metronome><beat-unit>quarter"
                      "</beat-unit><per-minute>%s</per-minute></metronome>"
                      "</direction-type>\n"
                      "        <sound tempo=\"%s\"/>\n"
                      "      </direction>\n",
                      number.bytes, number.bytes);
    }
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

/* The outermost beam is given; the others follow from the flags. */
static void put_beams(struct export *export, size_t event)
{
    const struct hbk_tune *const tune = export->tune;
    const struct hbk_tune_event *const at = &tune->events[event];
    const bool from =
        at->beam == HBK_TUNE_BEAM_CONTINUE || at->beam == HBK_TUNE_BEAM_END;
    const bool on =
        at->beam == HBK_TUNE_BEAM_CONTINUE || at->beam == HBK_TUNE_BEAM_BEGIN;
    const size_t before = neighbour(tune, event, false);
    const size_t after = neighbour(tune, event, true);
    const unsigned left =
        from && before != HBK_TUNE_NONE ? flags_of(&tune->events[before]) : 0;
    const unsigned right =
        on && after != HBK_TUNE_NONE ? flags_of(&tune->events[after]) : 0;
    for (unsigned n = 1; (from || on) && n <= flags_of(at) && n <= 8; n++) {
        const bool joins_left = n == 1 ? from : left >= n;
        const bool joins_right = n == 1 ? on : right >= n;
        const char *const text = joins_left && joins_right ? "continue"
                                 : joins_left              ? "end"
                                 : joins_right             ? "begin"
                                 : from                    ? "backward hook"
                                                           : "forward hook";
        hbk_text_addf(export->out, "        <beam number=\"%u\">%s</beam>\n", n,
                      text);
    }
}

static void put_slurs(struct export *export, const struct hbk_tune_event *event)
{
    unsigned stops = event->slur_stops;
    unsigned starts = event->slur_starts;
    /* A slur that ends on this note began before; the youngest ends first. */
    for (; stops > 0 && export->n_slurs > 0; stops--) {
        const int number = export->slur_order[--export->n_slurs];
        export->slur_open[number] = false;
        hbk_text_addf(export->out,
                      "          <slur number=\"%d\" type=\"stop\"/>\n",
                      number + 1);
    }
    for (; starts > 0 && export->n_slurs < SLURS_MAX; starts--) {
        int number = 0;
        while (export->slur_open[number]) {
            number++;
        }
        export->slur_open[number] = true;
        export->slur_order[export->n_slurs++] = number;
        hbk_text_addf(export->out,
                      "          <slur number=\"%d\" type=\"start\"/>\n",
                      number + 1);
    }
    for (; stops > 0 && export->n_slurs > 0; stops--) {
        const int number = export->slur_order[--export->n_slurs];
        export->slur_open[number] = false;
        hbk_text_addf(export->out,
                      "          <slur number=\"%d\" type=\"stop\"/>\n",
                      number + 1);
    }
}

static void put_tuplet(struct export *export, size_t event)
{
    const struct hbk_tune *const tune = export->tune;
    const size_t index = tune->events[event].tuplet;
    if (index == HBK_TUNE_NONE) {
        return;
    }
    const struct hbk_tune_tuplet *const tuplet = &tune->tuplets[index];
    size_t first = tuplet->first;
    while (tune->events[first].kind == HBK_TUNE_GRACE) {
        first++;
    }
    if (event == first) {
        hbk_text_add(export->out,
                     "          <tuplet number=\"1\" type=\"start\"/>\n");
    }
    if (event + 1 == tuplet->first + tuplet->count) {
        hbk_text_add(export->out,
                     "          <tuplet number=\"1\" type=\"stop\"/>\n");
    }
}

static void put_fingering(struct export *export, size_t event)
{
    const struct hbk_tune_fingering fingering =
        hbk_write_fingering(export->tune, export->fingerings, event);
    struct hbk_text *const out = export->out;
    if (fingering.main == NULL) {
        return;
    }
    hbk_text_add(out, "          <technical>\n"
                      "            <fingering placement=\"below\">");
    put_escaped(out, fingering.main);
    hbk_text_add(out, "</fingering>\n");
    for (size_t k = 0; k < fingering.n_alternates; k++) {
        hbk_text_add(out, "            <fingering alternate=\"yes\" "
                          "placement=\"below\">");
        put_escaped(out, fingering.alternates[k]);
        hbk_text_add(out, "</fingering>\n");
    }
    hbk_text_add(out, "          </technical>\n");
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
    };
    const unsigned others = HBK_TUNE_FERMATA | HBK_TUNE_TRILL;
    if ((bits & HBK_TUNE_TRILL) != 0) {
        hbk_text_add(out, "          <ornaments><trill-mark/></ornaments>\n");
    }
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

static void put_notations(struct export *export, size_t event)
{
    const struct hbk_tune_event *const at = &export->tune->events[event];
    struct hbk_text *const out = export->out;
    static const char begin[] = "        <notations>\n";
    hbk_text_add(out, begin);
    const size_t empty = out->length;
    if (at->tie_stop) {
        hbk_text_add(out, "          <tied type=\"stop\"/>\n");
    }
    if (at->tie_start) {
        hbk_text_add(out, "          <tied type=\"start\"/>\n");
    }
    put_slurs(export, at);
    put_tuplet(export, event);
    put_fingering(export, event);
    put_articulations(out, at->articulation);
    if (out->length == empty) {
        out->length -= sizeof(begin) - 1;
        out->bytes[out->length] = '\0';
    } else {
        hbk_text_add(out, "        </notations>\n");
    }
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

static void put_time_modification(struct export *export,
                                  const struct hbk_tune_event *event)
{
    if (event->tuplet == HBK_TUNE_NONE) {
        return;
    }
    const struct hbk_tune_tuplet *const tuplet =
        &export->tune->tuplets[event->tuplet];
    hbk_text_addf(export->out,
                  "        <time-modification><actual-notes>%u</actual-notes>"
                  "<normal-notes>%u</normal-notes></time-modification>\n",
                  tuplet->actual, tuplet->normal);
}

static void put_event(struct export *export, size_t event)
{
    const struct hbk_tune_event *const at = &export->tune->events[event];
    struct hbk_text *const out = export->out;
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
                      duration_of(export, at->length));
    }
    hbk_text_add(out, at->tie_stop ? "        <tie type=\"stop\"/>\n" : "");
    hbk_text_add(out, at->tie_start ? "        <tie type=\"start\"/>\n" : "");
    hbk_text_add(out, "        <voice>1</voice>\n");
    if (at->value != HBK_TUNE_NO_VALUE && !at->whole_bar) {
        put_element(out, "        ", "type", hbk_musicxml_type(at->value));
        for (unsigned dot = 0; dot < at->dots; dot++) {
            hbk_text_add(out, "        <dot/>\n");
        }
    }
    if (!is_rest) {
        put_accidental(out, at);
    }
    put_time_modification(export, at);
    put_beams(export, event);
    put_notations(export, event);
    hbk_text_add(out, "      </note>\n");
}

static void put_left(struct hbk_text *out, const struct hbk_tune_bar *bar)
{
    if (!bar->repeat_start && bar->ending == NULL) {
        return;
    }
    hbk_text_add(out, "      <barline location=\"left\">");
    if (bar->repeat_start) {
        hbk_text_add(out, "<bar-style>heavy-light</bar-style>");
    }
    if (bar->ending != NULL) {
        hbk_text_addf(out, "<ending number=\"%s\" type=\"start\"/>",
                      bar->ending);
    }
    if (bar->repeat_start) {
        hbk_text_add(out, "<repeat direction=\"forward\"/>");
    }
    hbk_text_add(out, "</barline>\n");
}

static void put_right(struct hbk_text *out, const struct hbk_tune_bar *bar,
                      const char *ending)
{
    static const char *const styles[] = {
        [HBK_TUNE_BAR_PLAIN] = "regular",
        [HBK_TUNE_BAR_DOUBLE] = "light-light",
        [HBK_TUNE_BAR_FINAL] = "light-heavy",
        [HBK_TUNE_BAR_THICK_THIN] = "heavy-light",
        [HBK_TUNE_BAR_DOTTED] = "dotted",
        [HBK_TUNE_BAR_INVISIBLE] = "none"};
    const bool is_repeat = bar->repeat_end > 0;
    if (bar->right == HBK_TUNE_BAR_PLAIN && !is_repeat && !bar->ending_stop) {
        return;
    }
    const bool is_plain_repeat = is_repeat && bar->right == HBK_TUNE_BAR_PLAIN;
    hbk_text_addf(out,
                  "      <barline location=\"right\"><bar-style>%s"
                  "</bar-style>",
                  is_plain_repeat ? "light-heavy" : styles[bar->right]);
    if (bar->ending_stop) {
        hbk_text_addf(out, "<ending number=\"%s\" type=\"%s\"/>", ending,
                      is_repeat ? "stop" : "discontinue");
    }
    if (is_repeat) {
        hbk_text_add(out, "<repeat direction=\"backward\"");
        if (bar->repeat_end != 2) {
            hbk_text_addf(out, " times=\"%u\"", bar->repeat_end);
        }
        hbk_text_add(out, "/>");
    }
    hbk_text_add(out, "</barline>\n");
}

static void put_measures(struct export *export)
{
    const struct hbk_tune *const tune = export->tune;
    struct hbk_text *const out = export->out;
    const char *ending = "1";
    for (size_t b = 0; b < tune->n_bars; b++) {
        const struct hbk_tune_bar *const bar = &tune->bars[b];
        hbk_text_add(out, "    <measure number=\"");
        put_escaped(out, bar->number);
        hbk_text_add(out, bar->implicit ? "\" implicit=\"yes\">\n" : "\">\n");
        put_left(out, bar);
        if (b == 0) {
            put_changes(export, 0, true);
        }
        ending = bar->ending != NULL ? bar->ending : ending;
        for (size_t i = bar->first; i < bar->first + bar->count; i++) {
            if (i > 0) {
                put_changes(export, i, false);
            }
            put_event(export, i);
        }
        if (b + 1 == tune->n_bars) {
            put_changes(export, tune->n_events, false);
        }
        put_right(out, bar, ending);
        hbk_text_add(out, "    </measure>\n");
    }
}

static void put_heading(struct export *export)
{
    const struct hbk_tune *const tune = export->tune;
    struct hbk_text *const out = export->out;
    hbk_text_add(out,
                 "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                 "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML "
                 "4.0 Partwise//EN\" "
                 "\"http://www.musicxml.org/dtds/partwise.dtd\">\n"
                 "<score-partwise version=\"4.0\">\n");
    if (tune->title[0] != '\0') {
        hbk_text_add(out, "  <work>\n");
        put_element(out, "    ", "work-title", tune->title);
        hbk_text_add(out, "  </work>\n");
    }
    hbk_text_add(out, "  <identification>\n");
    if (tune->composer[0] != '\0') {
        hbk_text_add(out, "    <creator type=\"composer\">");
        put_escaped(out, tune->composer);
        hbk_text_add(out, "</creator>\n");
    }
    hbk_text_add(out, "    <encoding><software>hornbook</software></encoding>\n"
                      "  </identification>\n");
    if (tune->concert) {
        hbk_text_add(out, "  <defaults><concert-score/></defaults>\n");
    }
    hbk_text_add(out, "  <part-list>\n    <score-part id=\"P1\">\n");
    put_element(out, "      ", "part-name", tune->part);
    hbk_text_add(out, "    </score-part>\n  </part-list>\n"
                      "  <part id=\"P1\">\n");
}

enum hbk_status
hbk_tune_to_musicxml(const struct hbk_tune *tune,
                     const struct hbk_tune_fingering *fingerings,
                     struct hbk_text *out, struct hbk_faults *faults)
{
    if (!hbk_write_check(tune, fingerings, faults)) {
        return HBK_ERR_INPUT;
    }
    struct export export = {.tune = tune, .fingerings = fingerings, .out = out};
    if (!find_divisions(tune, &export.divisions)) {
        hbk_fault_add(faults, (struct hbk_place){.file = tune->file},
                      H_DIVISIONS,
                      "the lengths have no common division of the beat that "
                      "MusicXML can be given");
        return HBK_ERR_DOMAIN;
    }
    put_heading(&export);
    put_measures(&export);
    hbk_text_add(out, "  </part>\n</score-partwise>\n");
    return HBK_OK;
}
