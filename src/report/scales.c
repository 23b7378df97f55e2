#include "report/scales.h"

#include "base/json.h"
#include "horn/about.h"
#include "horn/press.h"
#include "report/columns.h"
#include "report/members.h"
#include "report/read.h"
#include "report/screen.h"
#include "sheet/words/words.h"

static const char *note_name(struct hbk_arena *arena,
                             const struct hbk_scale *key, int written,
                             enum hbk_accidentals style)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(
        arena, "%s",
        hbk_spelling_name(hbk_scale_spelling(key, written), style, name));
}

/* The note as it is spelled in the key that is read. */
static struct hbk_spelling read_spelling(const struct hbk_notes *notes,
                                         const struct hbk_scale *key,
                                         int written)
{
    const struct hbk_scale read = hbk_scale_read(key, &notes->notation);
    return hbk_scale_spelling(&read,
                              hbk_notation_note(&notes->notation, written));
}

/* The same as it is named. */
static const char *read_name(struct hbk_arena *arena,
                             const struct hbk_notes *notes,
                             const struct hbk_scale *key, int written)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(
        arena, "%s",
        hbk_spelling_said(read_spelling(notes, key, written),
                          notes->notation.naming, HBK_UNICODE, name));
}

/* Notes of the scale out of reach, by their names in the key. */
static const char *missing_notes(struct hbk_arena *arena,
                                 const struct hbk_scale *key,
                                 enum hbk_accidentals style)
{
    struct hbk_text list = {.arena = arena};
    for (size_t i = 0; i < key->n; i++) {
        if (key->notes[i].taken == NULL) {
            hbk_text_addf(&list, "%s%s", list.length == 0 ? "" : " ",
                          note_name(arena, key, key->notes[i].written, style));
        }
    }
    return hbk_text_string(&list);
}

static const char *run_words(struct hbk_arena *arena,
                             const struct hbk_notes *notes,
                             const struct hbk_scale *key)
{
    if (key->n_run == 0) {
        return "-";
    }
    return hbk_arena_printf(
        arena, "%s to %s",
        read_name(arena, notes, key, key->notes[key->run].written),
        read_name(arena, notes, key,
                  key->notes[key->run + key->n_run - 1].written));
}

enum { WIDE_TUNING = 24, WIDE_PLACES = 13 };

/* Columns of names, which syllables make wider. */
struct widths {
    int key, run;
};

static struct widths widths_of(const struct hbk_notes *notes)
{
    static const struct widths widths[HBK_NAMING_COUNT] = {
        [HBK_NAMES_ENGLISH] = {13, 12},
        [HBK_NAMES_GERMAN] = {15, 14},
        [HBK_NAMES_SOLFEGE] = {17, 15}};
    return widths[notes->notation.naming];
}

static void add_place(unsigned place, const char *gap, struct hbk_text *out)
{
    if (place == 0) {
        hbk_text_addf(out, "    -%s", gap);
    } else {
        hbk_text_addf(out, "%5u%s", place, gap);
    }
}

static void text_row(const struct hbk_notes *notes, const struct hbk_scale *key,
                     struct hbk_text *out)
{
    struct hbk_arena *const arena = out->arena;
    const struct widths widths = widths_of(notes);
    char name[HBK_KEY_NAME_SIZE];
    add_place(key->place_in_mode, " ", out);
    add_place(key->place, "  ", out);
    size_t start = out->length;
    const struct hbk_scale read = hbk_scale_read(key, &notes->notation);
    hbk_text_add(out, hbk_scale_called(&read, notes->notation.naming,
                                       HBK_UNICODE, name));
    hbk_report_pad(out, start, (size_t)widths.key);
    start = out->length;
    hbk_text_add(out, run_words(arena, notes, key));
    hbk_report_pad(out, start, (size_t)widths.run);
    start = out->length;
    hbk_text_addf(out, "%2zu/%-3zu ", key->n_reached, key->n);
    if (key->n_reached > 0) {
        hbk_text_addf(out, "%4.0f  %+4.0f %s", hbk_report_whole(key->rms_cents),
                      hbk_report_whole(key->worst_cents),
                      read_name(arena, notes, key, key->worst));
    }
    hbk_report_pad(out, start, WIDE_TUNING);
    hbk_text_addf(out, "%2zu of %zu", key->n_awkward, key->n_moves);
    if (key->n_awkward > 0) {
        const struct hbk_scale_move *const worst = &key->awkward[0];
        hbk_text_addf(
            out, "\n%*s%s\u2013%s: " HBK_HANG "%s", WIDE_PLACES, "",
            read_name(arena, notes, key, key->notes[worst->from].written),
            read_name(arena, notes, key, key->notes[worst->from + 1].written),
            worst->why);
    }
    hbk_text_add(out, "\n");
}

static void text_rows(const struct hbk_scales_view *view, bool minor,
                      struct hbk_text *out)
{
    const struct widths widths = widths_of(view->notes);
    hbk_text_addf(out,
                  HBK_HEAD "%s   all  %-*s%-*snotes   rms  worst"
                           "      awkward" HBK_PLAIN "\n",
                  minor ? "minor" : "major", widths.key, "scale", widths.run,
                  "unbroken");
    for (size_t i = 0; i < HBK_KEYS; i++) {
        const struct hbk_scale *const key =
            &view->scales->keys[view->scales->order[i]];
        if (key->minor == minor) {
            text_row(view->notes, key, out);
        }
    }
}

void hbk_scales_text(const struct hbk_scales_view *view, struct hbk_text *out)
{
    struct hbk_arena *const arena = out->arena;
    const struct hbk_notes *const notes = view->notes;
    hbk_text_addf(out, "%s\n", hbk_words_head(arena, notes));
    if (view->scales->n_placed == 0) {
        hbk_text_add(out, HBK_SCALES_NONE "\n\n");
    }
    text_rows(view, false, out);
    hbk_text_add(out, "\n");
    text_rows(view, true, out);
    hbk_text_add(out,
                 "\nThe first number is the place among the major or the minor "
                 "scales, the second that among all. A scale with no whole "
                 "octave on the horn has none. A scale with two names "
                 "is listed once, under the name with fewer accidentals. "
                 "Minor scales are harmonic. Cents are those of the first "
                 "fingerings. Awkward moves are those of the easiest way "
                 "through the scale, in eighth notes at quarter = 120; below "
                 "the scale stands the slowest of them.\n");
}

/* "easy", "hard" or "not available"; "" for what lies between. */
static const char *lies_word(enum hbk_scale_lie lies)
{
    static const char *const words[] = {[HBK_LIES_BETWEEN] = "",
                                        [HBK_LIES_WELL] = "easy",
                                        [HBK_LIES_BADLY] = "hard",
                                        [HBK_LIES_NOT] = "not available"};
    return words[lies];
}

/* What the key is to whoever reads it, and the end of its row. */
static void csv_read_key(const struct hbk_notes *notes,
                         const struct hbk_scale *key, struct hbk_text *out)
{
    const struct hbk_scale read = hbk_scale_read(key, &notes->notation);
    char name[HBK_KEY_NAME_SIZE];
    if (hbk_read_asked(notes)) {
        hbk_text_addf(out, ",%s", hbk_scale_name(&read, HBK_ASCII, name));
    }
    if (hbk_read_named(notes)) {
        hbk_text_addf(
            out, ",%s",
            hbk_scale_called(&read, notes->notation.naming, HBK_ASCII, name));
    }
    hbk_text_add(out, "\r\n");
}

static void json_read_key(const struct hbk_notes *notes,
                          const struct hbk_scale *key, struct hbk_json *json)
{
    const struct hbk_scale read = hbk_scale_read(key, &notes->notation);
    char name[HBK_KEY_NAME_SIZE];
    if (hbk_read_asked(notes)) {
        hbk_json_string(json, "read", hbk_scale_name(&read, HBK_ASCII, name));
    }
    if (hbk_read_named(notes)) {
        hbk_json_string(
            json, "called",
            hbk_scale_called(&read, notes->notation.naming, HBK_ASCII, name));
    }
}

void hbk_scales_csv(const struct hbk_scales_view *view, struct hbk_text *out)
{
    struct hbk_arena *const arena = out->arena;
    hbk_text_add(out, "place,key,signature,notes,available,missing,run_low,"
                      "run_high,octaves,rms_cents,worst_cents,worst_note,"
                      "moves,awkward,cost,place_in_mode,ease");
    hbk_read_csv_names(view->notes, out);
    hbk_text_add(out, "\r\n");
    for (size_t i = 0; i < HBK_KEYS; i++) {
        const struct hbk_scale *const key = &view->scales->keys[i];
        char name[HBK_KEY_NAME_SIZE];
        if (key->place > 0) {
            hbk_text_addf(out, "%u", key->place);
        }
        hbk_text_addf(out, ",%s,%d,%zu,%zu,%s,",
                      hbk_scale_name(key, HBK_ASCII, name), key->signature,
                      key->n, key->n_reached,
                      missing_notes(arena, key, HBK_ASCII));
        if (key->n_run > 0) {
            const struct hbk_scale_note *const run = &key->notes[key->run];
            hbk_text_addf(
                out, "%s,%s,%u,",
                note_name(arena, key, run[0].written, HBK_ASCII),
                note_name(arena, key, run[key->n_run - 1].written, HBK_ASCII),
                key->octaves);
            hbk_text_addf(out, "%.2f,%.2f,%s,", key->rms_cents,
                          key->worst_cents,
                          note_name(arena, key, key->worst, HBK_ASCII));
        } else {
            hbk_text_add(out, ",,0,,,,");
        }
        hbk_text_addf(out, "%zu,%zu,%.1f,", key->n_moves, key->n_awkward,
                      key->price);
        if (key->place > 0) {
            hbk_text_addf(out, "%u", key->place_in_mode);
        }
        hbk_text_addf(out, ",%s", lies_word(key->lies));
        csv_read_key(view->notes, key, out);
    }
}

static void json_notes(const struct hbk_scales_view *view,
                       const struct hbk_scale *key, struct hbk_json *json)
{
    struct hbk_arena *const arena = json->out->arena;
    hbk_json_open_array(json, "notes");
    for (size_t i = 0; i < key->n; i++) {
        const struct hbk_scale_note *const note = &key->notes[i];
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "name",
                        note_name(arena, key, note->written, HBK_ASCII));
        char name[HBK_NAME_SIZE];
        hbk_json_string(
            json, "written",
            hbk_spelling_name(hbk_note_sharp(note->written), HBK_ASCII, name));
        hbk_read_json(view->notes,
                      read_spelling(view->notes, key, note->written), json);
        if (note->taken == NULL) {
            hbk_json_null(json, "label");
        } else {
            char label[HBK_LABEL_SIZE];
            hbk_json_string(json, "label",
                            hbk_horn_press_label(view->notes->horn,
                                                 note->taken->press, label));
            hbk_json_whole(json, "partial", (long)note->taken->partial);
        }
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_moves(const struct hbk_scale *key, struct hbk_json *json)
{
    struct hbk_arena *const arena = json->out->arena;
    hbk_json_open_array(json, "awkward");
    for (size_t i = 0; i < key->n_awkward; i++) {
        const struct hbk_scale_move *const move = &key->awkward[i];
        hbk_json_open_object(json, NULL);
        hbk_json_string(
            json, "from",
            note_name(arena, key, key->notes[move->from].written, HBK_ASCII));
        hbk_json_string(json, "to",
                        note_name(arena, key,
                                  key->notes[move->from + 1].written,
                                  HBK_ASCII));
        hbk_json_number(json, "least_s", move->least_s, 3);
        hbk_json_string(json, "why", move->why);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_key(const struct hbk_scales_view *view,
                     const struct hbk_scale *key, struct hbk_json *json)
{
    struct hbk_arena *const arena = json->out->arena;
    char name[HBK_KEY_NAME_SIZE];
    hbk_json_open_object(json, NULL);
    hbk_json_string(json, "key", hbk_scale_name(key, HBK_ASCII, name));
    json_read_key(view->notes, key, json);
    hbk_json_whole(json, "signature", key->signature);
    hbk_json_string(json, "mode", key->minor ? "minor" : "major");
    if (key->place > 0) {
        hbk_json_whole(json, "place", (long)key->place);
        hbk_json_whole(json, "place_in_mode", (long)key->place_in_mode);
    } else {
        hbk_json_null(json, "place");
        hbk_json_null(json, "place_in_mode");
    }
    if (key->lies == HBK_LIES_BETWEEN) {
        hbk_json_null(json, "ease");
    } else {
        hbk_json_string(json, "ease", lies_word(key->lies));
    }
    hbk_json_number(json, "cost", key->price, 1);
    hbk_json_whole(json, "available", (long)key->n_reached);
    hbk_json_whole(json, "octaves", (long)key->octaves);
    hbk_json_open_object(json, "run");
    if (key->n_run > 0) {
        const struct hbk_scale_note *const run = &key->notes[key->run];
        hbk_json_string(json, "low",
                        note_name(arena, key, run[0].written, HBK_ASCII));
        hbk_json_string(
            json, "high",
            note_name(arena, key, run[key->n_run - 1].written, HBK_ASCII));
    }
    hbk_json_close_object(json);
    hbk_json_number(json, "rms_cents", key->rms_cents, 2);
    hbk_json_number(json, "worst_cents", key->worst_cents, 2);
    if (key->n_reached > 0) {
        hbk_json_string(json, "worst_note",
                        note_name(arena, key, key->worst, HBK_ASCII));
    }
    hbk_json_number(json, "care_share", key->care_share, 4);
    hbk_json_whole(json, "moves", (long)key->n_moves);
    json_moves(key, json);
    json_notes(view, key, json);
    hbk_json_close_object(json);
}

void hbk_scales_json(const struct hbk_scales_view *view, struct hbk_text *out)
{
    struct hbk_json json = hbk_report_json_begin("hornbook-scales/2", out);
    hbk_json_string(&json, "horn", hbk_horn_name(view->notes->horn));
    hbk_json_string(&json, "minor", "harmonic");
    hbk_notes_json_setting(view->notes, &json);
    hbk_json_open_array(&json, "keys");
    for (size_t i = 0; i < HBK_KEYS; i++) {
        json_key(view, &view->scales->keys[i], &json);
    }
    hbk_json_close_array(&json);
    hbk_report_json_end(&json);
}
