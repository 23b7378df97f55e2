#include "report/trills.h"

#include "base/json.h"
#include "horn/about.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "report/columns.h"
#include "report/fingers.h"
#include "report/members.h"
#include "report/screen.h"
#include "sheet/words/words.h"

enum { HALVES = 2 };

/* Of the trills of one note, which: the semitone, then the whole tone. */
static const struct hbk_trill *trill_at(const struct hbk_trills_view *view,
                                        size_t note, size_t half)
{
    return half == 0 ? &view->trills->half[note] : &view->trills->whole[note];
}

static const char *lower_name(const struct hbk_trill *trill,
                              enum hbk_accidentals style,
                              char name[HBK_NAME_SIZE])
{
    return hbk_spelling_name(hbk_trill_lower(trill->written, trill->interval),
                             style, name);
}

static const char *upper_name(const struct hbk_trill *trill,
                              enum hbk_accidentals style,
                              char name[HBK_NAME_SIZE])
{
    return hbk_spelling_name(hbk_trill_upper(trill->written, trill->interval),
                             style, name);
}

static bool is_there(const struct hbk_trill *trill)
{
    return trill->kind != HBK_TRILL_NONE;
}

/* Controls that stay, that begin up and that begin down, while it trills. */
static uint32_t held_by(const struct hbk_trill *trill)
{
    return trill->main->press & trill->upper->press;
}

static uint32_t up_at_first(const struct hbk_trill *trill)
{
    return trill->upper->press & ~trill->main->press;
}

static uint32_t down_at_first(const struct hbk_trill *trill)
{
    return trill->main->press & ~trill->upper->press;
}

enum { WIDE_NOTE = 6, WIDE_SOUNDING = 10, WIDE_PRESS = 9, WIDE_KIND = 9 };

static void add_padded(struct hbk_text *out, size_t width, const char *text)
{
    const size_t start = out->length;
    hbk_text_add(out, text);
    hbk_report_pad(out, start, width);
}

static void text_row(const struct hbk_trills_view *view,
                     const struct hbk_trill *trill, struct hbk_text *out)
{
    const struct hbk_notes *const notes = view->notes;
    char name[HBK_NAME_SIZE];
    char label[HBK_LABEL_SIZE];
    add_padded(out, WIDE_NOTE, lower_name(trill, HBK_UNICODE, name));
    if (view->sounding) {
        add_padded(out, WIDE_SOUNDING,
                   hbk_words_sounding(out->arena, trill->written,
                                      notes->written_c4_sounds));
    }
    add_padded(out, WIDE_NOTE, upper_name(trill, HBK_UNICODE, name));
    if (!is_there(trill)) {
        hbk_text_add(out, "no trill\n");
        return;
    }
    add_padded(out, WIDE_PRESS,
               hbk_horn_press_label(notes->horn, trill->main->press, label));
    add_padded(out, WIDE_PRESS,
               hbk_horn_press_label(notes->horn, trill->upper->press, label));
    add_padded(out, WIDE_KIND, hbk_trill_kind_name(trill->kind));
    hbk_text_addf(out, HBK_HANG "%s\n", trill->words);
}

/* Above the last note with a trill there is nothing to tell. */
static size_t count_told(const struct hbk_trills_view *view)
{
    size_t n = view->trills->n;
    while (n > 0 && !is_there(trill_at(view, n - 1, 0)) &&
           !is_there(trill_at(view, n - 1, 1))) {
        n--;
    }
    return n;
}

void hbk_trills_text(const struct hbk_trills_view *view, struct hbk_text *out)
{
    static const char *const titles[HALVES] = {
        "Trills to the semitone above", "Trills to the whole tone above"};
    const size_t n = count_told(view);
    hbk_text_add(out, hbk_words_head(out->arena, view->notes));
    hbk_report_fingers(view->notes, out);
    if (n == 0) {
        hbk_text_add(out, "\nNo trill can be played on this horn.\n");
        return;
    }
    for (size_t half = 0; half < HALVES; half++) {
        hbk_text_addf(out, "\n" HBK_HEAD "%s\n%-*s", titles[half], WIDE_NOTE,
                      "note");
        if (view->sounding) {
            hbk_text_addf(out, "%-*s", WIDE_SOUNDING, "sounding");
        }
        hbk_text_addf(out, "%-*s%-*s%-*s%-*sfingers" HBK_PLAIN "\n", WIDE_NOTE,
                      "to", WIDE_PRESS, "from", WIDE_PRESS, "to", WIDE_KIND,
                      "");
        for (size_t i = 0; i < n; i++) {
            if (view->notes->notes[i].n > 0) {
                text_row(view, trill_at(view, i, half), out);
            }
        }
    }
}

static void csv_fingering(const struct hbk_notes *notes,
                          const struct hbk_fingering *f, struct hbk_text *out)
{
    char label[HBK_LABEL_SIZE];
    hbk_text_addf(out, ",%s,%u,%.2f",
                  hbk_horn_press_label(notes->horn, f->press, label),
                  f->partial, f->cents);
}

void hbk_trills_csv(const struct hbk_trills_view *view, struct hbk_text *out)
{
    hbk_text_add(
        out, "written,interval,lower_name,upper_name,kind,label,partial,cents,"
             "upper_label,upper_partial,upper_cents,held,begins_up,"
             "begins_down,least_s,cost,words\r\n");
    for (size_t i = 0; i < HALVES * view->trills->n; i++) {
        const struct hbk_trill *const trill =
            trill_at(view, i / HALVES, i % HALVES);
        char lower[HBK_NAME_SIZE];
        char upper[HBK_NAME_SIZE];
        char written[HBK_NAME_SIZE];
        hbk_text_addf(out, "%s,%d,%s,%s,%s",
                      hbk_spelling_name(hbk_note_sharp(trill->written),
                                        HBK_ASCII, written),
                      trill->interval, lower_name(trill, HBK_ASCII, lower),
                      upper_name(trill, HBK_ASCII, upper),
                      hbk_trill_kind_name(trill->kind));
        if (!is_there(trill)) {
            hbk_text_add(out, ",,,,,,,,,,,,\r\n");
            continue;
        }
        csv_fingering(view->notes, trill->main, out);
        csv_fingering(view->notes, trill->upper, out);
        const uint32_t moves[] = {held_by(trill), up_at_first(trill),
                                  down_at_first(trill)};
        for (size_t k = 0; k < sizeof(moves) / sizeof(moves[0]); k++) {
            char label[HBK_LABEL_SIZE];
            hbk_text_addf(
                out, ",%s",
                hbk_horn_press_label(view->notes->horn, moves[k], label));
        }
        hbk_text_addf(out, ",%.4f,%.1f,", trill->least_s, trill->price);
        hbk_text_add_csv(out, trill->words);
        hbk_text_add(out, "\r\n");
    }
}

static void json_controls(const struct hbk_horn *horn, const char *name,
                          uint32_t controls, struct hbk_json *json)
{
    char label[HBK_LABEL_SIZE];
    hbk_json_open_array(json, name);
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        if ((controls >> i & 1U) != 0) {
            hbk_json_string(
                json, NULL,
                hbk_horn_control_label(horn, i, label, sizeof(label)));
        }
    }
    hbk_json_close_array(json);
}

static void json_fingering(const struct hbk_notes *notes, const char *name,
                           const struct hbk_fingering *f, struct hbk_json *json)
{
    hbk_json_open_object(json, name);
    hbk_notes_json_fields(notes, f, json);
    hbk_json_close_object(json);
}

static void json_trill(const struct hbk_trills_view *view,
                       const struct hbk_trill *trill, struct hbk_json *json)
{
    const struct hbk_horn *const horn = view->notes->horn;
    char name[HBK_NAME_SIZE];
    hbk_json_open_object(json, NULL);
    hbk_json_string(
        json, "written",
        hbk_spelling_name(hbk_note_sharp(trill->written), HBK_ASCII, name));
    hbk_json_whole(json, "interval", trill->interval);
    hbk_json_string(json, "lower_name", lower_name(trill, HBK_ASCII, name));
    hbk_json_string(json, "upper_name", upper_name(trill, HBK_ASCII, name));
    hbk_json_string(json, "kind", hbk_trill_kind_name(trill->kind));
    if (is_there(trill)) {
        json_fingering(view->notes, "lower", trill->main, json);
        json_fingering(view->notes, "upper", trill->upper, json);
        json_controls(horn, "held", held_by(trill), json);
        json_controls(horn, "begins_up", up_at_first(trill), json);
        json_controls(horn, "begins_down", down_at_first(trill), json);
        hbk_json_number(json, "least_s", trill->least_s, 4);
        hbk_json_number(json, "cost", trill->price, 1);
        hbk_json_string(json, "words", trill->words);
    }
    hbk_json_close_object(json);
}

void hbk_trills_json(const struct hbk_trills_view *view, struct hbk_text *out)
{
    struct hbk_json json = hbk_report_json_begin("hornbook-trills/1", out);
    hbk_notes_json_horn(view->notes, &json);
    hbk_json_open_array(&json, "trills");
    for (size_t i = 0; i < HALVES * view->trills->n; i++) {
        json_trill(view, trill_at(view, i / HALVES, i % HALVES), &json);
    }
    hbk_json_close_array(&json);
    hbk_report_json_end(&json);
}
