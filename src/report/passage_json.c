#include "report/passage.h"

#include "base/json.h"
#include "horn/about.h"
#include "horn/press.h"
#include "report/members.h"
#include "report/passage_moved.h"
#include "report/passage_played.h"
#include "report/read.h"

#include <math.h>

static void json_place(const struct hbk_passage_view *view, size_t event,
                       struct hbk_json *json)
{
    const struct hbk_tune_event *const e = &view->written->events[event];
    char name[HBK_NAME_SIZE];
    char text[HBK_RATIO_TEXT];
    struct hbk_ratio since = hbk_ratio_whole(0);
    (void)hbk_ratio_sub(e->onset, view->tune->bars[e->bar].onset, &since);
    hbk_json_string(json, "bar", view->tune->bars[e->bar].number);
    hbk_json_string(json, "onset", hbk_ratio_text(since, text));
    hbk_json_string(json, "length", hbk_ratio_text(e->held, text));
    hbk_json_bool(json, "grace", e->kind == HBK_TUNE_GRACE);
    hbk_json_string(
        json, "written",
        hbk_spelling_name(hbk_note_sharp(e->note), HBK_ASCII, name));
    hbk_json_string(
        json, "sounding",
        hbk_spelling_name(hbk_note_sharp(e->note +
                                         view->notes->written_c4_sounds -
                                         HBK_NOTE_C4),
                          HBK_ASCII, name));
    hbk_json_string(json, "spelled",
                    hbk_spelling_name(e->spelling, HBK_ASCII, name));
    hbk_read_json(view->notes, view->tune->events[event].spelling, json);
}

static void json_trill(const struct hbk_passage_view *view,
                       const struct hbk_passage_note *note,
                       struct hbk_json *json)
{
    hbk_json_open_object(json, "trill");
    hbk_json_string(json, "kind", hbk_trill_kind_name(note->trill.kind));
    hbk_json_whole(json, "semitones", note->trill.interval);
    if (note->trill.kind != HBK_TRILL_NONE) {
        hbk_json_open_object(json, "upper");
        hbk_notes_json_fields(view->notes, note->trill.upper, json);
        hbk_json_close_object(json);
    }
    hbk_json_close_object(json);
}

static void json_choices(const struct hbk_passage_view *view,
                         const struct hbk_passage_note *note,
                         struct hbk_json *json)
{
    hbk_json_open_array(json, "others");
    for (size_t k = 1; k < note->n_choices && k <= view->others; k++) {
        const struct hbk_passage_choice *const choice = &note->choices[k];
        hbk_json_open_object(json, NULL);
        hbk_notes_json_fields(view->notes,
                              note->candidates->of[choice->candidate], json);
        hbk_json_number(json, "extra_cost", choice->extra_cost, 3);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

/* How the note is come to, where one is played before it. */
static void json_junction(const struct hbk_passage_note *note,
                          struct hbk_json *json)
{
    if (note->before == HBK_TUNE_NONE) {
        return;
    }
    hbk_json_number(json, "hands_s", note->hands_s, 4);
    hbk_json_number(json, "lip_s", note->lip_s, 4);
    hbk_json_number(json, "available_s", note->available_s, 4);
    if (note->playable_quarters > 0.0) {
        hbk_json_number(json, "playable_at", floor(note->playable_quarters), 0);
    }
}

static const char *kept_name(enum hbk_passage_kept kept)
{
    switch (kept) {
    case HBK_PASSAGE_FREE:
        return "free";
    case HBK_PASSAGE_KEPT:
        return "kept";
    case HBK_PASSAGE_UNKNOWN:
        return "unknown";
    case HBK_PASSAGE_UNPLAYABLE:
        return "unplayable";
    }
    return "";
}

static void json_note(const struct hbk_passage_view *view,
                      const struct hbk_passage_note *note,
                      struct hbk_json *json)
{
    char label[HBK_LABEL_SIZE];
    hbk_json_open_object(json, NULL);
    json_place(view, note->event, json);
    hbk_notes_json_fields(view->notes, note->candidates->of[note->taken], json);
    hbk_json_bool(json, "usual", note->taken == 0);
    if (note->why != NULL) {
        hbk_json_string(json, "usual_label",
                        hbk_horn_press_label(view->notes->horn,
                                             note->candidates->of[0]->press,
                                             label));
        hbk_json_string(json, "why", note->why);
    }
    hbk_json_string(json, "file", kept_name(note->kept));
    hbk_json_whole(json, "times", (long)note->times);
    json_junction(note, json);
    if (note->wants_trill) {
        json_trill(view, note, json);
    }
    json_choices(view, note, json);
    hbk_json_close_object(json);
}

static void json_ways(const struct hbk_passage_view *view,
                      struct hbk_json *json)
{
    const struct hbk_passage *const passage = view->passage;
    hbk_json_open_array(json, "ways");
    for (size_t w = 0; w < passage->n_ways; w++) {
        if (!hbk_passage_is_new_way(view, w)) {
            continue;
        }
        hbk_json_open_object(json, NULL);
        hbk_json_number(json, "total_cost", passage->ways[w].price, 3);
        hbk_json_open_array(json, "labels");
        for (size_t i = 0; i < passage->n; i++) {
            const size_t pick = passage->ways[w].pick[i];
            char label[HBK_LABEL_SIZE];
            if (!hbk_passage_shows(view, passage->notes[i].event)) {
                continue;
            }
            hbk_json_string(json, NULL,
                            hbk_horn_press_label(
                                view->notes->horn,
                                passage->notes[i].candidates->of[pick]->press,
                                label));
        }
        hbk_json_close_array(json);
        hbk_json_close_object(json);
    }
    hbk_json_close_array(json);
}

static void json_tempo(const struct hbk_passage_view *view,
                       struct hbk_json *json)
{
    hbk_json_open_object(json, "tempo");
    hbk_json_number(json, "quarters",
                    hbk_tune_quarters_at(view->tune, 0, view->quarters), 2);
    hbk_json_bool(json, "asked", !isnan(view->quarters));
    hbk_json_bool(json, "assumed", view->passage->tempo_assumed);
    hbk_json_close_object(json);
}

static void json_key(const char *name, const struct hbk_tune_key *key,
                     struct hbk_json *json)
{
    char letter[HBK_NAME_SIZE];
    hbk_json_open_object(json, name);
    hbk_json_string(
        json, "note",
        hbk_spelling_letter(hbk_tune_tonic(key), HBK_ASCII, letter));
    hbk_json_string(json, "mode", key->mode);
    hbk_json_whole(json, "signature", key->fifths);
    hbk_json_close_object(json);
}

/* How the part was taken, and where it stands on the player's paper. */
static void json_placing(const struct hbk_passage_view *view,
                         struct hbk_json *json)
{
    const struct hbk_placing *const placing = &view->placing;
    const char *const chosen = hbk_passage_chosen(view, json->out->arena);
    hbk_json_string(json, "taken_as", hbk_taken_name(placing->taken));
    hbk_json_string(json, "clef", hbk_clef_name(view->notes->notation.clef));
    json_key("key", &placing->found.key, json);
    if (placing->rekeyed) {
        json_key("key_before", &placing->stays.key, json);
    }
    hbk_json_whole(json, "moved_semitones", hbk_placing_moved(placing));
    hbk_json_whole(json, "octaves", placing->octaves);
    hbk_json_whole(json, "transposed_semitones", placing->semitones);
    if (chosen != NULL) {
        hbk_json_string(json, "chosen", chosen);
    }
}

void hbk_passage_json(const struct hbk_passage_view *view, struct hbk_text *out)
{
    const struct hbk_passage *const passage = view->passage;
    struct hbk_json json = hbk_report_json_begin("hornbook-passage/2", out);
    hbk_json_string(&json, "horn", hbk_horn_name(view->notes->horn));
    hbk_json_string(&json, "title", view->tune->title);
    hbk_json_string(&json, "part", view->tune->part);
    hbk_report_json_line(&view->tune->line, &json);
    hbk_notes_json_setting(view->notes, &json);
    json_tempo(view, &json);
    json_placing(view, &json);
    hbk_played_json(view->tune, &json);
    hbk_json_bool(&json, "exact", passage->exact);
    hbk_json_whole(&json, "alternates",
                   (long)hbk_passage_count(view).departures);
    hbk_json_open_array(&json, "notes");
    for (size_t i = 0; i < passage->n; i++) {
        if (hbk_passage_shows(view, passage->notes[i].event)) {
            json_note(view, &passage->notes[i], &json);
        }
    }
    hbk_json_close_array(&json);
    hbk_json_open_array(&json, "not_available");
    for (size_t i = 0; i < passage->n_out; i++) {
        if (!hbk_passage_in_bars(view, passage->out[i])) {
            continue;
        }
        hbk_json_open_object(&json, NULL);
        json_place(view, passage->out[i], &json);
        hbk_json_close_object(&json);
    }
    hbk_json_close_array(&json);
    json_ways(view, &json);
    hbk_report_json_end(&json);
}
