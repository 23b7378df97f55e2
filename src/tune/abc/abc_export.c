#include "tune/abc/abc_export.h"

#include "base/messages.h"
#include "tune/abc/abc_fingering.h"
#include "tune/abc/abc_signs.h"
#include "tune/melody/write.h"

#include <inttypes.h>
#include <string.h>

/* The tune as a new ABC 2.1 file with the unit length 1/8. */

enum { BARS_A_LINE = 4 };

struct writer {
    const struct hbk_tune *tune;
    const struct hbk_tune_fingering *fingerings;
    struct hbk_text *out;
    size_t texts;                   /* fingerings so far */
    size_t key, meter, clef, tempo; /* the next change of each */
    int alter[7][12];               /* signs in the bar, as the reader has it */
    bool marked[7][12];
    int latest[7];
};

static void put_title(struct hbk_text *out, char field, const char *text)
{
    hbk_text_addf(out, "%c:", field);
    for (const char *c = text; *c != '\0'; c++) {
        if (*c == '\\' || *c == '%' || *c == '&') {
            hbk_text_add(out, "\\");
        }
        hbk_text_put(out, (unsigned char)*c < 0x20 ? " " : c, 1);
    }
    hbk_text_add(out, "\n");
}

static void put_meter(struct hbk_text *out, const struct hbk_tune_meter *meter)
{
    if (meter->beats == 0) {
        hbk_text_add(out, "M:none");
    } else if (meter->sign != HBK_TUNE_METER_NUMBERS) {
        hbk_text_add(out, meter->sign == HBK_TUNE_METER_CUT ? "M:C|" : "M:C");
    } else if (meter->groups != NULL) {
        hbk_text_addf(out, "M:(%s)/%u", meter->groups, meter->unit);
    } else {
        hbk_text_addf(out, "M:%u/%u", meter->beats, meter->unit);
    }
}

static void put_signature(struct hbk_text *out, const struct hbk_tune_key *key)
{
    static const struct {
        const char *mode;
        int shift;
    } modes[] = {{"minor", 3},   {"dorian", 2},  {"phrygian", 4},
                 {"lydian", -1}, {"locrian", 5}, {"mixolydian", 1},
                 {"aeolian", 3}, {"ionian", 0}};
    static const char tonics[] = "FCGDAEB";
    if (!key->traditional) {
        static const char *const signs[] = {"__", "_", "=", "^", "^^"};
        hbk_text_add(out, "exp");
        for (int step = 0; step < 7; step++) {
            if (key->alter[step] != 0) {
                hbk_text_addf(out, " %s%c", signs[key->alter[step] + 2],
                              "cdefgab"[step]);
            }
        }
        return;
    }
    if (key->fifths == 0 && key->mode[0] == '\0') {
        hbk_text_add(out, "none");
        return;
    }
    const char *mode = "";
    int place = key->fifths + 1;
    for (size_t i = 0; i < sizeof(modes) / sizeof(modes[0]); i++) {
        if (strcmp(key->mode, modes[i].mode) == 0) {
            mode = modes[i].mode;
            place += modes[i].shift;
        }
    }
    /* One flat to the left of F, one sharp to the right of B. */
    const char *const sign = place < 0 ? "b" : place > 6 ? "#" : "";
    hbk_text_addf(out, "%c%s%s%s", tonics[(place + 7) % 7], sign,
                  mode[0] == '\0' ? "" : " ", mode);
}

static void put_clef(struct hbk_text *out, const struct hbk_tune_clef *clef)
{
    const char *name = "treble";
    int usual = 2;
    if (clef->sign == 'F') {
        name = "bass";
        usual = 4;
    } else if (clef->sign == 'C') {
        name = clef->line == 4 ? "tenor" : "alto";
        usual = clef->line == 4 ? 4 : 3;
    } else if (clef->sign == 'P' || clef->sign == 'N') {
        name = clef->sign == 'P' ? "perc" : "none";
        usual = clef->line;
    }
    hbk_text_addf(out, " clef=%s", name);
    if (clef->line != usual) {
        hbk_text_addf(out, "%d", clef->line);
    }
    hbk_text_add(out, clef->octave > 0 ? "+8" : clef->octave < 0 ? "-8" : "");
}

static void put_tempo(struct hbk_text *out, const struct hbk_tune_tempo *tempo)
{
    hbk_text_add(out, "Q:");
    if (tempo->words[0] != '\0') {
        /* A bracket would end a field within music, a quote the words. */
        hbk_text_add(out, "\"");
        for (const char *c = tempo->words; *c != '\0'; c++) {
            const bool is_plain =
                (unsigned char)*c >= 0x20 && strchr("\"[]%\\", *c) == NULL;
            hbk_text_put(out, is_plain ? c : " ", 1);
        }
        hbk_text_add(out, "\" ");
    }
    hbk_text_addf(out, "%" PRId64 "/%" PRId64 "=", tempo->beat.num,
                  tempo->beat.den);
    hbk_write_decimal(out, tempo->beats);
}

static void put_changes(struct writer *writer, size_t event)
{
    const struct hbk_tune *const tune = writer->tune;
    struct hbk_text *const out = writer->out;
    const bool has_key =
        writer->key < tune->n_keys && tune->keys[writer->key].event == event;
    const bool has_clef = writer->clef < tune->n_clefs &&
                          tune->clefs[writer->clef].event == event;
    if (has_key || has_clef) {
        hbk_text_add(out, "[K:");
        if (has_key) {
            put_signature(out, &tune->keys[writer->key++]);
        }
        if (has_clef) {
            put_clef(out, &tune->clefs[writer->clef++]);
        }
        hbk_text_add(out, "]");
    }
    if (writer->meter < tune->n_meters &&
        tune->meters[writer->meter].event == event) {
        hbk_text_add(out, "[");
        put_meter(out, &tune->meters[writer->meter++]);
        hbk_text_add(out, "]");
    }
    if (writer->tempo < tune->n_tempos &&
        tune->tempos[writer->tempo].event == event) {
        hbk_text_add(out, "[");
        put_tempo(out, &tune->tempos[writer->tempo++]);
        hbk_text_add(out, "]");
    }
}

/*
 * Whether the sign must stand: also where readers would differ on whether an
 * accidental reaches into other octaves.
 */
static bool needs_sign(const struct writer *writer, size_t event)
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

static void put_pitch(struct writer *writer, size_t event)
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

static bool put_length(struct writer *writer,
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

static void put_tuplet(struct writer *writer, size_t event)
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

static void put_grace(struct writer *writer, size_t event)
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

static bool put_event(struct writer *writer, size_t event)
{
    const struct hbk_tune *const tune = writer->tune;
    const struct hbk_tune_event *const at = &tune->events[event];
    struct hbk_text *const out = writer->out;
    put_changes(writer, event);
    put_tuplet(writer, event);
    if (at->kind == HBK_TUNE_GRACE) {
        put_grace(writer, event);
        return true;
    }
    put_times(out, "(", at->slur_starts);
    if (at->kind == HBK_TUNE_NOTE) {
        const size_t before = out->length;
        hbk_abc_put_fingering(out, tune, writer->fingerings, event);
        writer->texts += out->length == before
                             ? 0
                             : hbk_abc_count_texts(out->bytes + before);
    }
    put_decorations(out, at->articulation);
    struct hbk_ratio full = hbk_tune_full_bar(hbk_tune_meter_at(tune, event));
    full = full.num == 0 ? hbk_ratio_whole(1) : full; /* as the reader does */
    if (at->kind == HBK_TUNE_REST && at->whole_bar &&
        hbk_ratio_equal(full, at->length)) {
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

static void put_bar_line(struct writer *writer, size_t bar)
{
    static const char *const cores[] = {
        [HBK_TUNE_BAR_PLAIN] = "|",   [HBK_TUNE_BAR_DOUBLE] = "||",
        [HBK_TUNE_BAR_FINAL] = "|]",  [HBK_TUNE_BAR_THICK_THIN] = "[|",
        [HBK_TUNE_BAR_DOTTED] = ".|", [HBK_TUNE_BAR_INVISIBLE] = "[|]"};
    const struct hbk_tune *const tune = writer->tune;
    const struct hbk_tune_bar *const here = &tune->bars[bar];
    const struct hbk_tune_bar *const next =
        bar + 1 < tune->n_bars ? here + 1 : NULL;
    const char *core = cores[here->right];
    if (here->right == HBK_TUNE_BAR_DOTTED && here->repeat_end > 0) {
        core = "|";
    }
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

/* "Fine; D.C." as one decoration or text after the other. */
static void put_jump(struct hbk_text *out, const char *jump)
{
    while (*jump != '\0') {
        const char *const end = strstr(jump, "; ");
        const size_t n = end == NULL ? strlen(jump) : (size_t)(end - jump);
        const char *const one = hbk_arena_copy(out->arena, jump, n);
        const char *const name = hbk_abc_jump_name(one);
        if (name != NULL) {
            hbk_text_addf(out, "!%s!", name);
        } else {
            hbk_text_add(out, "\"^");
            for (const char *c = one; *c != '\0'; c++) {
                hbk_text_add(out, strchr("\\%&", *c) != NULL ? "\\" : "");
                hbk_text_put(out, *c == '"' ? "'" : c, 1);
            }
            hbk_text_add(out, "\"");
        }
        jump += n + (end == NULL ? 0 : 2);
    }
}

static bool put_bar(struct writer *writer, size_t bar)
{
    const struct hbk_tune *const tune = writer->tune;
    const struct hbk_tune_bar *const here = &tune->bars[bar];
    const unsigned bits = here->signs.bits;
    const size_t last = here->first + (here->count > 0 ? here->count - 1 : 0);
    if (here->part != 0) {
        hbk_text_addf(writer->out, "[P:%c]", here->part);
    }
    for (size_t i = here->first; i < here->first + here->count; i++) {
        const size_t segno =
            (bits & HBK_SIGN_SEGNO_WITHIN) != 0 ? last : here->first;
        const size_t coda =
            (bits & HBK_SIGN_CODA_WITHIN) != 0 ? last : here->first;
        hbk_text_add(writer->out, here->segno && i == segno ? "!segno!" : "");
        hbk_text_add(writer->out, here->coda && i == coda ? "!coda!" : "");
        if (!put_event(writer, i)) {
            return false;
        }
        const bool is_beamed = tune->events[i].beam == HBK_TUNE_BEAM_BEGIN ||
                               tune->events[i].beam == HBK_TUNE_BEAM_CONTINUE;
        const bool is_grace = tune->events[i].kind == HBK_TUNE_GRACE;
        hbk_text_add(writer->out, is_beamed || is_grace ? "" : " ");
    }
    if (here->jump != NULL) {
        put_jump(writer->out, here->jump);
    }
    put_bar_line(writer, bar);
    const bool breaks =
        bar + 1 == tune->n_bars || bar % BARS_A_LINE == BARS_A_LINE - 1;
    hbk_text_add(writer->out, breaks ? "\n" : " ");
    return true;
}

static void put_header(struct writer *writer)
{
    const struct hbk_tune *const tune = writer->tune;
    struct hbk_text *const out = writer->out;
    put_title(out, 'T', tune->title);
    if (tune->composer[0] != '\0') {
        put_title(out, 'C', tune->composer);
    }
    put_meter(out, &tune->meters[writer->meter++]);
    hbk_text_add(out, "\nL:1/8\n");
    if (tune->form != NULL) {
        hbk_text_addf(out, "P:%s\n", tune->form);
    }
    if (tune->n_tempos > 0 && tune->tempos[0].event == 0) {
        put_tempo(out, &tune->tempos[writer->tempo++]);
        hbk_text_add(out, "\n");
    }
    hbk_text_add(out, "K:");
    put_signature(out, &tune->keys[writer->key++]);
    const struct hbk_tune_clef *const clef = &tune->clefs[writer->clef++];
    put_clef(out, clef);
    const int transpose = tune->transpose - (12 * clef->octave);
    if (transpose != 0) {
        hbk_text_addf(out, " transpose=%d", transpose);
    }
    hbk_text_add(out, "\n");
}

enum hbk_status hbk_tune_to_abc(const struct hbk_tune *tune,
                                const struct hbk_tune_fingering *fingerings,
                                struct hbk_text *out, struct hbk_faults *faults)
{
    if (!hbk_write_check(tune, fingerings, faults)) {
        return HBK_ERR_INPUT;
    }
    struct hbk_text text = {.arena = out->arena};
    struct writer writer = {
        .tune = tune, .fingerings = fingerings, .out = &text};
    for (int step = 0; step < 7; step++) {
        writer.latest[step] = -1;
    }
    put_header(&writer);
    if (tune->n_bars > 0 && tune->bars[0].repeat_start) {
        hbk_text_add(&text, "|:");
    }
    if (tune->n_bars > 0 && tune->bars[0].ending != NULL) {
        hbk_text_addf(&text, "[%s ", tune->bars[0].ending);
    }
    for (size_t bar = 0; bar < tune->n_bars; bar++) {
        if (!put_bar(&writer, bar)) {
            hbk_fault_add(faults, tune->bars[bar].place, HBK_H_LENGTH_TOO_FINE,
                          "bar %.40s: a length there is too fine to be "
                          "written as ABC",
                          tune->bars[bar].number);
            return HBK_ERR_DOMAIN;
        }
    }
    hbk_text_add(out, "%abc-2.1\nI:abc-creator hornbook\nX:1\n");
    if (fingerings != NULL && writer.texts > 0) {
        /* So that a later call can replace them. */
        hbk_abc_put_remark(out, writer.texts, NULL, NULL);
        hbk_text_add(out, "\n");
    }
    hbk_text_put(out, text.bytes, text.length);
    return HBK_OK;
}
