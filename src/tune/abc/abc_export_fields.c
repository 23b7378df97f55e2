#include "tune/abc/abc_export_part.h"

#include "tune/melody/write.h"

#include <inttypes.h>
#include <string.h>

/* The head of a new ABC file, and the fields within its music. */

static void put_line(struct hbk_text *out, const char *field, const char *text)
{
    hbk_text_add(out, field);
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

void hbk_abc_put_changes(struct hbk_abc_export *writer, size_t event)
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
}

void hbk_abc_put_tempos(struct hbk_abc_export *writer, size_t event)
{
    const struct hbk_tune *const tune = writer->tune;
    struct hbk_text *const out = writer->out;
    while (writer->tempo < tune->n_tempos &&
           tune->tempos[writer->tempo].event <= event) {
        const struct hbk_tune_tempo *const tempo =
            &tune->tempos[writer->tempo++];
        hbk_text_add(out, "[");
        hbk_abc_put_tempo(out, tempo->words, tempo);
        hbk_text_add(out, "]");
    }
}

/* Calls for each line of a text that has any. */
static void put_lines(struct hbk_text *out, const char *field,
                      const char *lines)
{
    for (const char *at = lines; *at != '\0';) {
        const size_t n = strcspn(at, "\n");
        put_line(out, field, hbk_arena_copy(out->arena, at, n));
        at += n + (at[n] == '\n');
    }
}

/* The tempo of the beginning, unless another mark is printed before it. */
static void put_first_tempo(struct hbk_abc_export *writer)
{
    const struct hbk_tune *const tune = writer->tune;
    const struct hbk_tune_marks *const marks = &tune->marks;
    const struct hbk_tune_mark *const mark = marks->n > 0 ? marks->items : NULL;
    const bool is_printed = mark != NULL && mark->kind == HBK_TUNE_MARK_TEMPO &&
                            mark->at.time.num == 0 && mark->at.event == 0;
    const bool is_given = tune->n_tempos > 0 && tune->tempos[0].event == 0;
    if (is_printed) {
        (void)hbk_mark_stop(&writer->stops, 0, 0, false);
        hbk_abc_put_tempo_mark(writer, mark, writer->out);
        hbk_text_add(writer->out, "\n");
    } else if (is_given && mark == NULL) {
        const struct hbk_tune_tempo *const tempo =
            &tune->tempos[writer->tempo++];
        hbk_abc_put_tempo(writer->out, tempo->words, tempo);
        hbk_text_add(writer->out, "\n");
    }
}

void hbk_abc_put_header(struct hbk_abc_export *writer)
{
    const struct hbk_tune *const tune = writer->tune;
    struct hbk_text *const out = writer->out;
    put_line(out, "T:", tune->title);
    put_lines(out, "T:", tune->subtitle);
    put_lines(out, "C:", tune->composer);
    /* ABC has no fields for these. */
    put_lines(out, "N:Words: ", tune->lyricist);
    put_lines(out, "N:Arranged: ", tune->arranger);
    put_lines(out, "N:", tune->rights);
    put_meter(out, &tune->meters[writer->meter++]);
    hbk_text_add(out, "\nL:1/8\n");
    if (tune->form != NULL) {
        put_line(out, "P:", tune->form);
    }
    put_first_tempo(writer);
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

void hbk_abc_put_stanzas(const struct hbk_abc_export *writer)
{
    for (size_t i = 0; i < writer->tune->marks.n_stanzas; i++) {
        put_line(writer->out, "W:", writer->tune->marks.stanzas[i]);
    }
}
