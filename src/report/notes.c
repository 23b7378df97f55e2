#include "report/notes.h"

#include "base/json.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "notes/verdict.h"
#include "report/beside.h"
#include "report/columns.h"
#include "report/fingers.h"
#include "report/held.h"
#include "report/members.h"
#include "report/read.h"
#include "report/screen.h"
#include "report/stuck.h"
#include "sheet/words/words.h"

#include <math.h>

static size_t count_rows(const struct hbk_notes_view *view)
{
    return view->held != NULL    ? view->held->n
           : view->known != NULL ? view->n_rows
                                 : view->notes->n;
}

static const struct hbk_note *row_note(const struct hbk_notes_view *view,
                                       size_t row)
{
    return view->held != NULL    ? &view->held->notes[row].note
           : view->known != NULL ? &view->rows[row]
                                 : &view->notes->notes[row];
}

/* The same row as a note of a chord; NULL where there is none. */
static const struct hbk_held_note *row_held(const struct hbk_notes_view *view,
                                            size_t row)
{
    return view->held != NULL && view->held->is_just ? &view->held->notes[row]
                                                     : NULL;
}

enum { WIDE_NAME = 10, WIDE_SYLLABLES = 12, WIDE_PRESS = 12, WIDE_AIM = 13 };

/* Of a column with the names of notes. */
static int name_width(const struct hbk_notes *notes)
{
    return notes->notation.naming == HBK_NAMES_SOLFEGE ? WIDE_SYLLABLES
                                                       : WIDE_NAME;
}

/* "C4", or "C♯4 D♭4" for a black note, in a column. */
static void add_names(const struct hbk_notes *notes, int note,
                      struct hbk_text *out)
{
    const enum hbk_naming naming = notes->notation.naming;
    const size_t start = out->length;
    char name[HBK_NAME_SIZE];
    hbk_text_add(out, hbk_spelling_said(hbk_note_sharp(note), naming,
                                        HBK_UNICODE, name));
    if (hbk_note_is_black(note)) {
        hbk_text_addf(
            out, " %s",
            hbk_spelling_said(hbk_note_flat(note), naming, HBK_UNICODE, name));
    }
    hbk_report_pad(out, start, (size_t)name_width(notes));
}
/* Where a held note should lie: "third -14". */
static void add_aim(const struct hbk_held_note *held, struct hbk_text *out)
{
    const size_t start = out->length;
    hbk_text_addf(out, "%s %+.0f", held->degree,
                  hbk_report_whole(held->aim_cents));
    hbk_report_pad(out, start, WIDE_AIM);
}

/* In a column; marked where the lip must do much. */
static void add_cents(double judged, double cents, struct hbk_text *out)
{
    const bool is_far = fabs(judged) >= HBK_UNRELIABLE_CENTS;
    hbk_text_addf(out, "%s%+7.0f%s", is_far ? HBK_CAUTION : "",
                  hbk_report_whole(cents), is_far ? HBK_PLAIN : "");
}

/* The first fingering and so many alternates as are asked for. */
static size_t count_shown(const struct hbk_notes_view *view,
                          const struct hbk_note *note)
{
    return view->alternates < note->n ? view->alternates + 1 : note->n;
}

static bool is_unreliable(const struct hbk_fingering *f)
{
    return (f->verdict & HBK_VERDICT_UNRELIABLE) != 0;
}

/* Whether any fingering that is shown of any note is. */
static bool shows_unreliable(const struct hbk_notes_view *view)
{
    for (size_t i = 0; i < count_rows(view); i++) {
        const struct hbk_note *const note = row_note(view, i);
        for (size_t k = 0; k < count_shown(view, note); k++) {
            if (is_unreliable(&note->fingerings[k])) {
                return true;
            }
        }
    }
    return false;
}

/* How far a trigger is pulled for it, if one is. */
static void add_pull(const struct hbk_fingering *f, const char *before,
                     struct hbk_text *out)
{
    if (f->drawn_m > 0.0) {
        hbk_text_addf(out, "%spulled" HBK_KEPT_BLANK "%.0f" HBK_KEPT_BLANK "mm",
                      before, 1000.0 * f->drawn_m);
    }
}

static void add_first(const struct hbk_notes_view *view, size_t row,
                      struct hbk_text *out)
{
    const struct hbk_fingering *const f = row_note(view, row)->fingerings;
    const struct hbk_held_note *const held = row_held(view, row);
    char label[HBK_LABEL_SIZE];
    hbk_text_addf(out, "%-*s %7u ", WIDE_PRESS,
                  hbk_horn_press_label(view->notes->horn, f->press, label),
                  f->partial);
    add_cents(held == NULL ? f->cents : 0.0, f->cents, out);
    if (held != NULL) {
        hbk_text_add(out, " ");
        add_cents(f->cents - held->aim_cents, f->cents - held->aim_cents, out);
    }
    hbk_text_add(out, is_unreliable(f) ? " ? " HBK_HANG : "   " HBK_HANG);
    add_pull(f, "", out);
}

static void add_alternate(const struct hbk_notes_view *view, size_t row,
                          size_t i, struct hbk_text *out)
{
    const struct hbk_fingering *const f = &row_note(view, row)->fingerings[i];
    const struct hbk_held_note *const held = row_held(view, row);
    const double off = f->cents - (held == NULL ? 0.0 : held->aim_cents);
    const bool is_next = i > 1 || f[-1].drawn_m > 0.0;
    char label[HBK_LABEL_SIZE];
    hbk_text_addf(out, "%s%s" HBK_KEPT_BLANK "(%u," HBK_KEPT_BLANK "%+.0f)%s",
                  is_next ? "  " : "",
                  hbk_horn_press_label(view->notes->horn, f->press, label),
                  f->partial, hbk_report_whole(off),
                  is_unreliable(f) ? "?" : "");
    add_pull(f, HBK_KEPT_BLANK, out);
}

static void text_row(const struct hbk_notes_view *view, size_t row,
                     struct hbk_text *out)
{
    const struct hbk_note *const note = row_note(view, row);
    add_names(view->notes,
              hbk_notation_note(&view->notes->notation, note->written), out);
    if (view->sounding) {
        add_names(view->notes, note->sounding, out);
    }
    if (row_held(view, row) != NULL) {
        add_aim(row_held(view, row), out);
    }
    if (view->known != NULL) {
        hbk_beside_text_cells(view->notes, view->known, note->written, out);
    }
    if (note->n == 0) {
        hbk_text_add(out, HBK_CAUTION "not available" HBK_PLAIN "\n");
        return;
    }
    add_first(view, row, out);
    const size_t shown = count_shown(view, note);
    for (size_t i = 1; i < shown; i++) {
        add_alternate(view, row, i, out);
    }
    if (shown < note->n) {
        hbk_text_addf(out, "  +%zu" HBK_KEPT_BLANK "more", note->n - shown);
    }
    hbk_text_add(out, "\n");
}

void hbk_notes_brief(const struct hbk_notes_view *view, struct hbk_text *out)
{
    hbk_report_sentence(out, hbk_words_not_to_learn(out->arena, view->notes));
    for (size_t i = 0; i < count_rows(view); i++) {
        const struct hbk_note *const note = row_note(view, i);
        char label[HBK_LABEL_SIZE] = "-";
        if (note->n > 0) {
            hbk_horn_press_label(view->notes->horn, note->fingerings[0].press,
                                 label);
        }
        add_names(view->notes,
                  hbk_notation_note(&view->notes->notation, note->written),
                  out);
        hbk_text_addf(out, "%s\n", label);
    }
}

void hbk_notes_text(const struct hbk_notes_view *view, struct hbk_text *out)
{
    const bool is_just = view->held != NULL && view->held->is_just;
    hbk_text_add(out, hbk_words_head(out->arena, view->notes));
    hbk_report_fingers(view->notes, out);
    if (view->held != NULL) {
        const char *const others = view->held->other_words;
        hbk_text_addf(out, "%s\n%s%s", view->held->words, others,
                      others[0] == '\0' ? "" : "\n");
    }
    if (view->known != NULL) {
        hbk_text_add(out, "\nThe horn you know: ");
        hbk_text_add(out, hbk_words_head(out->arena, view->known));
        hbk_beside_text_head(view->notes, view->known, out);
    }
    hbk_text_addf(out, "\n" HBK_HEAD "%-*s", name_width(view->notes),
                  hbk_read_heading(view->notes));
    if (view->sounding) {
        hbk_text_addf(out, "%-*s", name_width(view->notes), "sounding");
    }
    if (is_just) {
        hbk_text_addf(out, "%-*s", WIDE_AIM, "in chord");
    }
    if (view->known != NULL) {
        hbk_beside_text_cells(view->notes, view->known, -1, out);
    }
    hbk_text_addf(out,
                  "%-*s %7s %7s%s   " HBK_HANG
                  "alternate fingerings (partial, %s)" HBK_PLAIN "\n",
                  WIDE_PRESS, "fingering", "partial", "cents",
                  is_just ? "     off" : "", is_just ? "off" : "cents");
    bool is_cut = false;
    for (size_t i = 0; i < count_rows(view); i++) {
        const struct hbk_note *const note = row_note(view, i);
        text_row(view, i, out);
        is_cut = is_cut || count_shown(view, note) < note->n;
    }
    if (shows_unreliable(view)) {
        hbk_text_add(out, "\n? unreliable: more than 30 cents off, or on an "
                          "out-of-tune partial.\n");
    }
    if (is_cut && view->all_by != NULL) {
        hbk_text_addf(out, "\n%s shows every alternate fingering.\n",
                      view->all_by);
    }
    if (is_just) {
        hbk_text_add(out, "\nCents are from equal temperament; off is from "
                          "the place in the chord.\n");
    }
    if (view->stuck != NULL) {
        hbk_stuck_text(view->notes, view->stuck, out);
    }
}

/* The end of a row: of a fingering, or of a note out of reach. */
static void csv_end(const struct hbk_notes_view *view, size_t row,
                    const struct hbk_fingering *f, struct hbk_text *out)
{
    const struct hbk_held_note *const held = row_held(view, row);
    if (view->known != NULL) {
        hbk_beside_csv(view->notes, view->known, row_note(view, row)->written,
                       out);
    } else if (held != NULL && f != NULL) {
        hbk_text_addf(out, ",%.2f,%.2f", held->aim_cents,
                      f->cents - held->aim_cents);
    } else if (view->held != NULL) {
        hbk_text_add(out, ",,");
    }
    hbk_read_csv(view->notes,
                 hbk_read_sharp(view->notes, row_note(view, row)->written),
                 out);
    hbk_text_add(out, "\r\n");
}

void hbk_notes_csv(const struct hbk_notes_view *view, struct hbk_text *out)
{
    const char *const more = view->known != NULL ? HBK_BESIDE_CSV_NAMES
                             : view->held != NULL
                                 ? ",just_target_cents,just_cents"
                                 : "";
    hbk_text_addf(out,
                  "written,sounding,target_hz,rank,label,partial,hz,cents,"
                  "response_db,cost,pulled_mm%s",
                  more);
    hbk_read_csv_names(view->notes, out);
    hbk_text_add(out, "\r\n");
    for (size_t row = 0; row < count_rows(view); row++) {
        const struct hbk_note *const note = row_note(view, row);
        char written[HBK_NAME_SIZE];
        char sounding[HBK_NAME_SIZE];
        hbk_spelling_name(hbk_note_sharp(note->written), HBK_ASCII, written);
        hbk_spelling_name(hbk_note_sharp(note->sounding), HBK_ASCII, sounding);
        if (note->n == 0) {
            hbk_text_addf(out, "%s,%s,%.3f,,,,,,,,", written, sounding,
                          note->target_hz);
            csv_end(view, row, NULL, out);
        }
        for (size_t i = 0; i < note->n; i++) {
            const struct hbk_fingering *const f = &note->fingerings[i];
            char label[HBK_LABEL_SIZE];
            hbk_text_addf(
                out, "%s,%s,%.3f,%zu,%s,%u,%.3f,%.2f,%.1f,%.1f,%.1f", written,
                sounding, note->target_hz, i + 1,
                hbk_horn_press_label(view->notes->horn, f->press, label),
                f->partial, f->hz, f->cents, f->response_db, f->cost,
                1000.0 * f->drawn_m);
            csv_end(view, row, f, out);
        }
    }
}

static void json_note(const struct hbk_notes_view *view, size_t row,
                      struct hbk_json *json)
{
    const struct hbk_note *const note = row_note(view, row);
    const struct hbk_held_note *const held = row_held(view, row);
    char name[HBK_NAME_SIZE];
    hbk_json_open_object(json, NULL);
    hbk_json_string(
        json, "written",
        hbk_spelling_name(hbk_note_sharp(note->written), HBK_ASCII, name));
    hbk_read_json(view->notes, hbk_read_sharp(view->notes, note->written),
                  json);
    hbk_json_string(
        json, "sounding",
        hbk_spelling_name(hbk_note_sharp(note->sounding), HBK_ASCII, name));
    hbk_json_number(json, "target_hz", note->target_hz, 3);
    if (held != NULL) {
        hbk_json_string(json, "degree", held->degree);
        hbk_json_number(json, "just_target_cents", held->aim_cents, 2);
    }
    hbk_json_open_array(json, "fingerings");
    for (size_t i = 0; i < note->n; i++) {
        const struct hbk_fingering *const f = &note->fingerings[i];
        hbk_json_open_object(json, NULL);
        hbk_notes_json_fields(view->notes, f, json);
        if (held != NULL) {
            hbk_json_number(json, "just_cents", f->cents - held->aim_cents, 2);
        }
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    if (view->known != NULL) {
        hbk_beside_json(view->notes, view->known, note->written, json);
    }
    hbk_json_close_object(json);
}

static void json_tuned(const struct hbk_notes *notes, struct hbk_json *json)
{
    const struct hbk_tuned *const tuned = &notes->tuned;
    char name[HBK_NAME_SIZE];
    hbk_json_open_object(json, "tuning");
    hbk_json_string(
        json, "note",
        hbk_spelling_name(hbk_note_sharp(tuned->note), HBK_ASCII, name));
    hbk_json_number(json, "before_cents", tuned->before_cents, 2);
    hbk_json_number(json, "after_cents", tuned->after_cents, 2);
    hbk_json_open_array(json, "slides");
    for (size_t s = 0; s < tuned->n_draws; s++) {
        hbk_json_open_object(json, NULL);
        hbk_json_string(json, "slide", notes->horn->slides[s].name);
        hbk_json_number(json, "pulled_mm", 1000.0 * tuned->draw_m[s], 2);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
    hbk_json_close_object(json);
}

/* How a horn stands: what it is, its setting and its tuning. */
static void json_head(const struct hbk_notes *notes, struct hbk_json *json)
{
    hbk_notes_json_horn(notes, json);
    if (hbk_notes_not_to_learn_from(notes)) {
        hbk_json_bool(json, "learn_from", false);
    }
    if (notes->horn->fitted.n_names > 0) {
        hbk_report_json_shape(notes->horn, json);
    }
    json_tuned(notes, json);
}

void hbk_notes_json(const struct hbk_notes_view *view, struct hbk_text *out)
{
    const struct hbk_notes *const notes = view->notes;
    struct hbk_json json = hbk_report_json_begin("hornbook-notes/2", out);
    char name[HBK_NAME_SIZE];
    json_head(notes, &json);
    if (view->held != NULL) {
        hbk_held_json(view->held, &json);
    }
    if (view->known != NULL) {
        hbk_json_open_object(&json, "beside");
        json_head(view->known, &json);
        hbk_json_close_object(&json);
    }
    hbk_json_open_array(&json, "notes");
    for (size_t i = 0; i < count_rows(view); i++) {
        json_note(view, i, &json);
    }
    hbk_json_close_array(&json);
    hbk_json_open_array(&json, "not_available");
    for (size_t i = 0; i < count_rows(view); i++) {
        const struct hbk_note *const note = row_note(view, i);
        if (note->n == 0) {
            hbk_json_string(&json, NULL,
                            hbk_spelling_name(hbk_note_sharp(note->written),
                                              HBK_ASCII, name));
        }
    }
    hbk_json_close_array(&json);
    if (view->stuck != NULL) {
        hbk_stuck_json(notes->horn, view->stuck, &json);
    }
    hbk_report_json_end(&json);
}
