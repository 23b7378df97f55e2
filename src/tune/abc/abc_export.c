#include "tune/abc/abc_export.h"

#include "base/messages.h"
#include "tune/abc/abc_export_part.h"
#include "tune/abc/abc_fingering.h"
#include "tune/melody/write.h"

#include <inttypes.h>
#include <string.h>

/* The tune as a new ABC 2.1 file with the unit length 1/8. */

enum { BARS_A_LINE = 4 };

/*
 * Whether the sign must stand: also where readers would differ on whether an
 * accidental reaches into other octaves.
 */
static bool needs_sign(const struct hbk_abc_export *writer, size_t event)
{
    const struct hbk_tune_event *const at = &writer->tune->events[event];
    const struct hbk_spelling spelling = at->spelling;
    if (at->accidental != HBK_TUNE_NOT_PRINTED) {
        return true;
    }
    if (at->tie_stop && at->head != event) {
        return false;
    }
    const int octave = spelling.octave + 1;
    const int signature =
        hbk_tune_key_at(writer->tune, event)->alter[spelling.step];
    const int latest = writer->latest[spelling.step];
    const int near = writer->marked[spelling.step][octave]
                         ? writer->alter[spelling.step][octave]
                         : signature;
    const int far = latest < 0 ? near : writer->alter[spelling.step][latest];
    return near != spelling.alter || far != spelling.alter;
}

static void put_pitch(struct hbk_abc_export *writer, size_t event)
{
    static const char *const signs[] = {"__", "_", "=", "^", "^^"};
    const struct hbk_spelling spelling = writer->tune->events[event].spelling;
    if (needs_sign(writer, event)) {
        const int octave = spelling.octave + 1;
        hbk_text_add(writer->out, signs[spelling.alter + 2]);
        writer->alter[spelling.step][octave] = spelling.alter;
        writer->marked[spelling.step][octave] = true;
        writer->latest[spelling.step] = octave;
    }
    const bool is_low = spelling.octave < 5;
    const char letter = (is_low ? "CDEFGAB" : "cdefgab")[spelling.step];
    hbk_text_put(writer->out, &letter, 1);
    for (int octave = spelling.octave; octave < 4; octave++) {
        hbk_text_add(writer->out, ",");
    }
    for (int octave = spelling.octave; octave > 5; octave--) {
        hbk_text_add(writer->out, "'");
    }
}

static bool put_length(struct hbk_abc_export *writer,
                       const struct hbk_tune_event *event)
{
    struct hbk_ratio units = hbk_ratio_whole(0);
    struct hbk_ratio factor = {.num = 8, .den = 1};
    if (event->tuplet != HBK_TUNE_NONE) {
        const struct hbk_tune_tuplet *const tuplet =
            &writer->tune->tuplets[event->tuplet];
        const struct hbk_ratio ratio = {.num = tuplet->actual,
                                        .den = tuplet->normal};
        if (!hbk_ratio_mul(factor, ratio, &factor)) {
            return false;
        }
    }
    if (!hbk_ratio_mul(event->length, factor, &units)) {
        return false;
    }
    if (units.num != 1) {
        hbk_text_addf(writer->out, "%" PRId64, units.num);
    }
    if (units.den != 1) {
        hbk_text_addf(writer->out, "/%" PRId64, units.den);
    }
    return units.num <= 9999 && units.den <= 9999;
}

static void put_tuplet(struct hbk_abc_export *writer, size_t event)
{
    const struct hbk_tune *const tune = writer->tune;
    size_t index = tune->events[event].tuplet;
    if (event > 0 && tune->events[event - 1].kind == HBK_TUNE_GRACE &&
        tune->events[event - 1].bar == tune->events[event].bar) {
        return; /* told before the first grace note */
    }
    /* Grace notes before its first note are within the group. */
    for (size_t i = event;
         i < tune->n_events && tune->events[i].kind == HBK_TUNE_GRACE; i++) {
        index =
            i + 1 < tune->n_events ? tune->events[i + 1].tuplet : HBK_TUNE_NONE;
    }
    if (index == HBK_TUNE_NONE || tune->tuplets[index].first != event) {
        return;
    }
    const struct hbk_tune_tuplet *const tuplet = &tune->tuplets[index];
    size_t notes = 0;
    for (size_t i = event; i < event + tuplet->count; i++) {
        notes += tune->events[i].kind != HBK_TUNE_GRACE;
    }
    hbk_lost_count(&writer->lost, "tuplet within a tuplet",
                   "tuplets within tuplets",
                   tuplet->nest > 0 && tuplet->inner > 0);
    hbk_text_addf(writer->out, "(%u:%u:%zu", tuplet->actual, tuplet->normal,
                  notes);
}

static void put_decorations(struct hbk_text *out, unsigned articulation)
{
    static const struct {
        unsigned bit;
        const char *sign;
    } signs[] = {
        {HBK_TUNE_STACCATO, "."},
        {HBK_TUNE_STACCATISSIMO, "!wedge!"},
        {HBK_TUNE_TENUTO, "!tenuto!"},
        {HBK_TUNE_ACCENT, "!>!"},
        {HBK_TUNE_MARCATO, "!marcato!"},
        {HBK_TUNE_FERMATA, "!fermata!"},
        {HBK_TUNE_TRILL, "!trill!"},
        {HBK_TUNE_BREATH, "!breath!"},
        {HBK_TUNE_CAESURA, "!caesura!"},
        {HBK_TUNE_TURN, "!turn!"},
        {HBK_TUNE_INVERTED_TURN, "!invertedturn!"},
        {HBK_TUNE_MORDENT, "!mordent!"},
        {HBK_TUNE_UPPER_MORDENT, "!uppermordent!"},
        {HBK_TUNE_ROLL, "!roll!"},
    };
    for (size_t i = 0; i < sizeof(signs) / sizeof(signs[0]); i++) {
        if ((articulation & signs[i].bit) != 0) {
            hbk_text_add(out, signs[i].sign);
        }
    }
}

static void put_times(struct hbk_text *out, const char *sign, unsigned times)
{
    for (unsigned i = 0; i < times; i++) {
        hbk_text_add(out, sign);
    }
}

static void put_grace(struct hbk_abc_export *writer, size_t event)
{
    const struct hbk_tune *const tune = writer->tune;
    const struct hbk_tune_event *const at = &tune->events[event];
    const bool is_first =
        event == 0 || tune->events[event - 1].kind != HBK_TUNE_GRACE;
    const bool is_last = event + 1 == tune->n_events ||
                         tune->events[event + 1].kind != HBK_TUNE_GRACE ||
                         tune->events[event + 1].bar != at->bar;
    if (is_first || tune->events[event - 1].bar != at->bar) {
        hbk_text_add(writer->out, at->slash ? "{/" : "{");
    }
    put_times(writer->out, "(", at->slur_starts);
    put_pitch(writer, event);
    put_times(writer->out, ")", at->slur_stops);
    hbk_text_add(writer->out, is_last ? "}" : "");
}

static bool follows_grace(const struct hbk_tune *tune, size_t event)
{
    return event > 0 && tune->events[event - 1].kind == HBK_TUNE_GRACE &&
           tune->events[event - 1].bar == tune->events[event].bar;
}

/* The note of grace notes, or the last of them. */
static size_t main_of(const struct hbk_tune *tune, size_t event)
{
    while (event + 1 < tune->n_events && follows_grace(tune, event + 1)) {
        event++;
    }
    return event;
}

/* What stands before a note and its grace notes, in brackets. */
static void put_fields(struct hbk_abc_export *writer, size_t event)
{
    const struct hbk_tune *const tune = writer->tune;
    hbk_abc_put_changes(writer, event);
    if (!follows_grace(tune, event)) {
        const size_t note = main_of(tune, event);
        hbk_abc_put_marks(writer, tune->events[event].bar, note, writer->out,
                          &writer->signs);
        hbk_abc_put_tempos(writer, note);
    }
}

/* The marks that are waiting for their note or bar line. */
static void put_signs(struct hbk_abc_export *writer)
{
    hbk_text_put(writer->out, hbk_text_string(&writer->signs),
                 writer->signs.length);
    writer->signs = (struct hbk_text){.arena = writer->out->arena};
}

/* The fingerings of a note, and the signs that are its own. */
static void put_own_signs(struct hbk_abc_export *writer, size_t event)
{
    const struct hbk_tune_event *const at = &writer->tune->events[event];
    struct hbk_text *const out = writer->out;
    if (at->kind == HBK_TUNE_NOTE) {
        const size_t before = out->length;
        hbk_abc_put_fingering(out, writer->tune, writer->fingerings, event);
        writer->texts += out->length == before
                             ? 0
                             : hbk_abc_count_texts(out->bytes + before);
    }
    put_decorations(out, at->articulation);
    hbk_text_add(out, at->accidental == HBK_TUNE_CAUTIONARY  ? "!courtesy!"
                      : at->accidental == HBK_TUNE_EDITORIAL ? "!editorial!"
                                                             : "");
    hbk_lost_count(&writer->lost, "accidental at an ornament",
                   "accidentals at ornaments",
                   (at->articulation & HBK_TUNE_TRILL_SIGN) != 0);
}

/* Whether nothing but a rest is in its bar, however it is drawn. */
static bool is_bar_of_rest(const struct hbk_tune *tune, size_t event)
{
    const struct hbk_tune_event *const at = &tune->events[event];
    struct hbk_ratio full = hbk_tune_full_bar(hbk_tune_meter_at(tune, event));
    full = full.num == 0 ? hbk_ratio_whole(1) : full; /* as the reader does */
    return at->kind == HBK_TUNE_REST && hbk_ratio_equal(full, at->length);
}

static bool put_event(struct hbk_abc_export *writer, size_t event)
{
    const struct hbk_tune *const tune = writer->tune;
    const struct hbk_tune_event *const at = &tune->events[event];
    struct hbk_text *const out = writer->out;
    put_fields(writer, event);
    put_tuplet(writer, event);
    if (at->kind == HBK_TUNE_GRACE) {
        put_grace(writer, event);
        return true;
    }
    put_times(out, "(", at->slur_starts);
    put_signs(writer);
    put_own_signs(writer, event);
    const bool is_whole = at->whole_bar || tune->bars[at->bar].rests > 1;
    if (is_whole && is_bar_of_rest(tune, event)) {
        hbk_text_add(out, at->hidden ? "X" : "Z");
        return true;
    }
    if (at->kind == HBK_TUNE_REST) {
        hbk_text_add(out, at->hidden ? "x" : "z");
    } else {
        put_pitch(writer, event);
    }
    if (!put_length(writer, at)) {
        return false;
    }
    hbk_text_add(out, at->tie_start ? "-" : "");
    put_times(out, ")", at->slur_stops);
    return true;
}

static void put_bar_line(struct hbk_abc_export *writer, size_t bar)
{
    static const char *const cores[] = {
        [HBK_TUNE_BAR_PLAIN] = "|",      [HBK_TUNE_BAR_DOUBLE] = "||",
        [HBK_TUNE_BAR_FINAL] = "|]",     [HBK_TUNE_BAR_THICK_THIN] = "[|",
        [HBK_TUNE_BAR_DOTTED] = ".|",    [HBK_TUNE_BAR_DASHED] = ".|",
        [HBK_TUNE_BAR_HEAVY] = "|",      [HBK_TUNE_BAR_HEAVY_HEAVY] = "||",
        [HBK_TUNE_BAR_TICK] = "|",       [HBK_TUNE_BAR_SHORT] = "|",
        [HBK_TUNE_BAR_INVISIBLE] = "[|]"};
    const struct hbk_tune *const tune = writer->tune;
    const struct hbk_tune_bar *const here = &tune->bars[bar];
    const struct hbk_tune_bar *const next =
        bar + 1 < tune->n_bars ? here + 1 : NULL;
    const char *core = cores[here->right];
    if (core[0] == '.' && here->repeat_end > 0) {
        core = "|";
    }
    hbk_lost_count(&writer->lost, "special bar line", "special bar lines",
                   here->right >= HBK_TUNE_BAR_DASHED &&
                       here->right <= HBK_TUNE_BAR_SHORT);
    put_times(writer->out, ":",
              here->repeat_end > 0 ? here->repeat_end - 1 : 0);
    hbk_text_add(writer->out, core);
    hbk_text_add(writer->out, next != NULL && next->repeat_start ? ":" : "");
    if (next != NULL && next->ending != NULL) {
        hbk_text_add(writer->out, next->ending);
    }
    memset(writer->marked, 0, sizeof(writer->marked));
    for (int step = 0; step < 7; step++) {
        writer->latest[step] = -1;
    }
}

/* Whether something begins with an event that must be written there. */
static bool begins_at(const struct hbk_abc_export *writer, size_t bar)
{
    const struct hbk_tune *const tune = writer->tune;
    const size_t event = tune->bars[bar].first;
    const struct hbk_mark_stops *const stops = &writer->stops;
    return (writer->key < tune->n_keys &&
            tune->keys[writer->key].event <= event) ||
           (writer->meter < tune->n_meters &&
            tune->meters[writer->meter].event <= event) ||
           (writer->clef < tune->n_clefs &&
            tune->clefs[writer->clef].event <= event) ||
           (writer->tempo < tune->n_tempos &&
            tune->tempos[writer->tempo].event <= event) ||
           (stops->next < stops->n && stops->items[stops->next].at.bar <= bar);
}

/* How many bars of rest go as one: as many as hold nothing else. */
static size_t rests_from(const struct hbk_abc_export *writer, size_t bar)
{
    const struct hbk_tune *const tune = writer->tune;
    const size_t most = tune->bars[bar].rests;
    const struct hbk_mark_stops *const stops = &writer->stops;
    size_t n = 1;
    for (; n < most; n++) {
        const struct hbk_tune_bar *const last = &tune->bars[bar + n - 1];
        const struct hbk_tune_bar *const next = &tune->bars[bar + n];
        const bool is_plain = last->right == HBK_TUNE_BAR_PLAIN &&
                              last->repeat_end == 0 && !last->ending_stop &&
                              !next->repeat_start && next->ending == NULL;
        if (!is_plain || last->count != 1 || next->count != 1 ||
            !is_bar_of_rest(tune, last->first) ||
            !is_bar_of_rest(tune, next->first) ||
            tune->events[last->first].hidden ||
            tune->events[next->first].hidden || begins_at(writer, bar + n) ||
            (stops->next < stops->n &&
             stops->items[stops->next].at.bar < bar + n)) {
            break;
        }
    }
    return n;
}

/* What is in a bar, and the next `rests` - 1 that are rests like it. */
static bool put_events(struct hbk_abc_export *writer, size_t bar)
{
    const struct hbk_tune *const tune = writer->tune;
    const struct hbk_tune_bar *const here = &tune->bars[bar];
    for (size_t i = here->first; i < here->first + here->count; i++) {
        if (!put_event(writer, i)) {
            return false;
        }
        const bool is_beamed = tune->events[i].beam == HBK_TUNE_BEAM_BEGIN ||
                               tune->events[i].beam == HBK_TUNE_BEAM_CONTINUE;
        const bool is_grace = tune->events[i].kind == HBK_TUNE_GRACE;
        hbk_text_add(writer->out, is_beamed || is_grace ? "" : " ");
    }
    return true;
}

/* A bar, or several of rest as one; the next bar, or n_bars + 1 on failure. */
static size_t put_bar(struct hbk_abc_export *writer, size_t bar)
{
    const struct hbk_tune *const tune = writer->tune;
    if (!put_events(writer, bar)) {
        return tune->n_bars + 1;
    }
    const size_t rests = rests_from(writer, bar);
    if (rests > 1) {
        writer->out->length--; /* the space behind the rest */
        hbk_text_addf(writer->out, "%zu ", rests);
    }
    const size_t last = bar + rests - 1;
    hbk_abc_put_marks(writer, last, HBK_TUNE_NONE, writer->out, &writer->signs);
    put_signs(writer);
    put_bar_line(writer, last);
    const bool breaks = last + 1 == tune->n_bars ||
                        bar / BARS_A_LINE != (last + 1) / BARS_A_LINE;
    hbk_text_add(writer->out, breaks ? "\n" : " ");
    if (breaks) {
        const size_t end = tune->bars[last].first + tune->bars[last].count;
        hbk_abc_put_words(writer, writer->line, end);
        writer->line = end;
    }
    return last + 1;
}

enum hbk_status hbk_tune_to_abc(const struct hbk_tune *tune,
                                const struct hbk_tune_fingering *fingerings,
                                struct hbk_text *out, struct hbk_faults *faults)
{
    if (!hbk_write_check(tune, fingerings, faults)) {
        return HBK_ERR_INPUT;
    }
    struct hbk_text text = {.arena = out->arena};
    struct hbk_abc_export writer = {
        .tune = tune,
        .fingerings = fingerings,
        .out = &text,
        .signs = {.arena = out->arena},
        .others = {.arena = out->arena},
        .stops = hbk_mark_stops_of(tune, out->arena),
        .sung = HBK_ARENA_ARRAY(out->arena, const struct hbk_tune_syllable *,
                                (size_t)tune->marks.n_verses + 1),
        .lost = {.arena = out->arena},
    };
    for (int step = 0; step < 7; step++) {
        writer.latest[step] = -1;
    }
    hbk_abc_put_header(&writer);
    if (tune->n_bars > 0 && tune->bars[0].repeat_start) {
        hbk_text_add(&text, "|:");
    }
    if (tune->n_bars > 0 && tune->bars[0].ending != NULL) {
        hbk_text_addf(&text, "[%s ", tune->bars[0].ending);
    }
    for (size_t bar = 0; bar < tune->n_bars;) {
        const size_t next = put_bar(&writer, bar);
        if (next > tune->n_bars) {
            hbk_fault_add(faults, tune->bars[bar].place, HBK_H_LENGTH_TOO_FINE,
                          "bar %.40s: a length there is too fine to be "
                          "written as ABC",
                          tune->bars[bar].number);
            return HBK_ERR_DOMAIN;
        }
        bar = next;
    }
    hbk_abc_put_stanzas(&writer);
    hbk_lost_tell(&writer.lost, tune, faults);
    hbk_text_add(out, "%abc-2.1\nI:abc-creator hornbook\nX:1\n");
    if (fingerings != NULL && writer.texts > writer.n_others) {
        /* So that a later call can replace them. */
        hbk_abc_put_remark(out, writer.texts, writer.others.bytes, NULL);
        hbk_text_add(out, "\n");
    }
    hbk_text_put(out, text.bytes, text.length);
    return HBK_OK;
}
