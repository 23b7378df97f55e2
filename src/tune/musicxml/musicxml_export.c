#include "tune/musicxml/musicxml_anew.h"

#include "base/messages.h"
#include "tune/musicxml/musicxml_export_marks.h"
#include "tune/musicxml/musicxml_export_note.h"
#include "tune/musicxml/musicxml_type.h"
#include <inttypes.h>
#include <stdlib.h>
#include <string.h>

/* The fewest divisions of a quarter in which every length is whole. */
static bool find_divisions(const struct hbk_tune *tune, int64_t *divisions)
{
    enum { DIVISIONS_MAX = 1000000000 };
    int64_t all = 1;
    for (size_t i = 0; i < tune->n_events; i++) {
        struct hbk_ratio quarters;
        struct hbk_ratio reduced;
        if (!hbk_ratio_mul(tune->events[i].length, hbk_ratio_whole(4),
                           &quarters) ||
            !hbk_ratio_make(all, quarters.den, &reduced)) {
            return false;
        }
        const int64_t factor = reduced.den;
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

static void put_key(struct hbk_text *out, const struct hbk_tune_key *key)
{
    hbk_text_add(out, "        <key>");
    if (key->traditional) {
        hbk_text_addf(out, "<fifths>%d</fifths>", key->fifths);
        if (key->mode[0] != '\0') {
            hbk_text_add(out, "<mode>");
            hbk_text_add_xml(out, key->mode);
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
        hbk_text_add_xml(out, meter->groups);
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

/* How many bars of rest are written as one from an event on, or 0. */
static unsigned rests_from(const struct hbk_tune *tune, size_t event)
{
    if (event >= tune->n_events) {
        return 0;
    }
    const struct hbk_tune_bar *const bar = &tune->bars[tune->events[event].bar];
    return bar->first == event ? bar->rests : 0;
}

/* The attributes that begin at this event. */
static void put_changes(struct hbk_musicxml_export *writer, size_t event,
                        bool is_first)
{
    const struct hbk_tune *const tune = writer->tune;
    struct hbk_text *const out = writer->out;
    const bool key =
        writer->key < tune->n_keys && tune->keys[writer->key].event == event;
    const bool meter = writer->meter < tune->n_meters &&
                       tune->meters[writer->meter].event == event;
    const bool clef = writer->clef < tune->n_clefs &&
                      tune->clefs[writer->clef].event == event;
    const unsigned rests = rests_from(tune, event);
    if (key || meter || clef || is_first || rests > 0) {
        hbk_text_add(out, "      <attributes>\n");
        if (is_first) {
            hbk_text_addf(out, "        <divisions>%" PRId64 "</divisions>\n",
                          writer->divisions);
        }
        if (key) {
            put_key(out, &tune->keys[writer->key++]);
        }
        if (meter) {
            put_time(out, &tune->meters[writer->meter++]);
        }
        if (clef) {
            put_clef(out, &tune->clefs[writer->clef++]);
        }
        if (is_first && tune->transpose != 0) {
            put_transpose(out, tune->transpose);
        }
        if (rests > 0) {
            hbk_text_addf(out,
                          "        <measure-style><multiple-rest>%u"
                          "</multiple-rest></measure-style>\n",
                          rests);
        }
        hbk_text_add(out, "      </attributes>\n");
    }
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

static void put_right(const struct hbk_tune *tune, size_t b, const char *ending,
                      struct hbk_text *out)
{
    static const char *const styles[] = {
        [HBK_TUNE_BAR_PLAIN] = "regular",
        [HBK_TUNE_BAR_DOUBLE] = "light-light",
        [HBK_TUNE_BAR_FINAL] = "light-heavy",
        [HBK_TUNE_BAR_THICK_THIN] = "heavy-light",
        [HBK_TUNE_BAR_DOTTED] = "dotted",
        [HBK_TUNE_BAR_DASHED] = "dashed",
        [HBK_TUNE_BAR_HEAVY] = "heavy",
        [HBK_TUNE_BAR_HEAVY_HEAVY] = "heavy-heavy",
        [HBK_TUNE_BAR_TICK] = "tick",
        [HBK_TUNE_BAR_SHORT] = "short",
        [HBK_TUNE_BAR_INVISIBLE] = "none"};
    const struct hbk_tune_bar *const bar = &tune->bars[b];
    const bool is_repeat = bar->repeat_end > 0;
    const bool is_held = hbk_musicxml_has_fermata(tune, b);
    if (bar->right == HBK_TUNE_BAR_PLAIN && !is_repeat && !is_held &&
        !bar->ending_stop) {
        return;
    }
    const bool is_plain_repeat = is_repeat && bar->right == HBK_TUNE_BAR_PLAIN;
    hbk_text_addf(out,
                  "      <barline location=\"right\"><bar-style>%s"
                  "</bar-style>",
                  is_plain_repeat ? "light-heavy" : styles[bar->right]);
    hbk_text_add(out, is_held ? "<fermata/>" : "");
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

static void put_measures(struct hbk_musicxml_export *writer)
{
    const struct hbk_tune *const tune = writer->tune;
    struct hbk_text *const out = writer->out;
    const char *ending = "1";
    for (size_t b = 0; b < tune->n_bars; b++) {
        const struct hbk_tune_bar *const bar = &tune->bars[b];
        hbk_text_add(out, "    <measure number=\"");
        hbk_text_add_xml(out, bar->number);
        hbk_text_add(out, bar->implicit ? "\" implicit=\"yes\">\n" : "\">\n");
        put_left(out, bar);
        if (b == 0) {
            put_changes(writer, 0, true);
        }
        ending = bar->ending != NULL ? bar->ending : ending;
        for (size_t i = bar->first; i < bar->first + bar->count; i++) {
            if (i > 0) {
                put_changes(writer, i, false);
            }
            hbk_musicxml_put_marks(writer, b, i, false);
            hbk_musicxml_put_sounds(writer, i);
            hbk_musicxml_put_event(writer, i);
            hbk_musicxml_put_marks(writer, b, i, true);
        }
        hbk_musicxml_put_marks(writer, b, HBK_TUNE_NONE, true);
        if (b + 1 == tune->n_bars) {
            put_changes(writer, tune->n_events, false);
            hbk_musicxml_put_sounds(writer, tune->n_events);
        }
        put_right(tune, b, ending, out);
        hbk_text_add(out, "    </measure>\n");
    }
}

static void put_heading(struct hbk_musicxml_export *writer)
{
    const struct hbk_tune *const tune = writer->tune;
    struct hbk_text *const out = writer->out;
    hbk_text_add(out,
                 "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                 "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML "
                 "4.0 Partwise//EN\" "
                 "\"http://www.musicxml.org/dtds/partwise.dtd\">\n"
                 "<score-partwise version=\"4.0\">\n");
    if (tune->title[0] != '\0') {
        hbk_text_add(out, "  <work>\n");
        hbk_musicxml_put_element(out, "    ", "work-title", tune->title);
        hbk_text_add(out, "  </work>\n");
    }
    hbk_text_add(out, "  <identification>\n");
    hbk_musicxml_put_names(tune, out);
    hbk_text_add(out, "    <encoding><software>hornbook</software></encoding>\n"
                      "  </identification>\n");
    if (tune->concert) {
        hbk_text_add(out, "  <defaults><concert-score/></defaults>\n");
    }
    hbk_musicxml_put_credits(tune, out);
    hbk_text_add(out, "  <part-list>\n    <score-part id=\"P1\">\n");
    hbk_musicxml_put_element(out, "      ", "part-name", tune->part);
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
    struct hbk_musicxml_export writer = {
        .tune = tune,
        .fingerings = fingerings,
        .out = out,
        .tuplet = HBK_TUNE_NONE,
        .lost = {.arena = out->arena},
        .stops = hbk_mark_stops_of(tune, out->arena)};
    if (!find_divisions(tune, &writer.divisions)) {
        hbk_fault_add(faults, (struct hbk_place){.file = tune->file},
                      HBK_H_LENGTH_TOO_FINE,
                      "the lengths have no common division of the beat that "
                      "MusicXML can be given");
        return HBK_ERR_DOMAIN;
    }
    if (tune->form != NULL) {
        hbk_fault_warn(
            faults, (struct hbk_place){.file = tune->file},
            HBK_H_ABC_PART_ORDER,
            "the order of parts P:%.40s is not followed in MusicXML, "
            "which cannot say it",
            tune->form);
    }
    put_heading(&writer);
    put_measures(&writer);
    hbk_text_add(out, "  </part>\n</score-partwise>\n");
    hbk_lost_tell(&writer.lost, tune, faults);
    return HBK_OK;
}
