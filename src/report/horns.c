#include "report/horns.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "report/columns.h"
#include "report/members.h"
#include "report/screen.h"

enum { WIDE_WORD = 39 };

void hbk_horns_text(size_t n, const struct hbk_listed_horn horns[],
                    struct hbk_text *out)
{
    for (size_t i = 0; i < n; i++) {
        const size_t start = out->length;
        hbk_text_add(out, horns[i].word);
        hbk_report_pad(out, start, WIDE_WORD);
        const bool is_measured = horns[i].is_measured;
        const bool is_not = horns[i].horn->not_to_learn_from;
        hbk_text_addf(
            out, HBK_HANG "%s%s%s%s%s\n", hbk_horn_name(horns[i].horn),
            is_measured || is_not ? " (" : "", is_measured ? "measured" : "",
            !is_not       ? ""
            : is_measured ? ", not to learn from"
                          : "not to learn from",
            is_measured || is_not ? ")" : "");
    }
}

void hbk_horns_brief(size_t n, const struct hbk_listed_horn horns[],
                     struct hbk_text *out)
{
    for (size_t i = 0; i < n; i++) {
        hbk_text_addf(out, "%s\n", horns[i].word);
    }
}

static long count(const struct hbk_horn *horn, enum hbk_control_kind kind)
{
    long n = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        n += horn->controls[i].kind == kind ? 1 : 0;
    }
    return n;
}

static void json_horn(const struct hbk_listed_horn *listed,
                      struct hbk_json *json)
{
    const struct hbk_horn *const horn = listed->horn;
    char name[HBK_NAME_SIZE];
    hbk_json_open_object(json, NULL);
    hbk_json_string(json, "horn", listed->word);
    hbk_json_string(json, "name", hbk_horn_name(horn));
    hbk_json_string(json, "written_c4_sounds",
                    hbk_note_name(horn->written_c4_sounds, HBK_ASCII, name));
    hbk_json_number(json, "a4_hz", horn->a4_hz, 2);
    hbk_json_whole(json, "keys", count(horn, HBK_KEY));
    hbk_json_whole(json, "valves", count(horn, HBK_VALVE));
    hbk_json_bool(json, "has_bore", horn->model == HBK_MODEL_BORE);
    hbk_json_bool(json, "measured", listed->is_measured);
    hbk_json_bool(json, "learn_from", !horn->not_to_learn_from);
    hbk_json_open_array(json, "crooks");
    for (size_t i = 0; i < horn->n_crooks; i++) {
        hbk_json_string(json, NULL, horn->crooks[i].name);
    }
    hbk_json_close_array(json);
    hbk_json_close_object(json);
}

void hbk_horns_json(size_t n, const struct hbk_listed_horn horns[],
                    struct hbk_text *out)
{
    struct hbk_json json = hbk_report_json_begin("hornbook-horns/1", out);
    hbk_json_open_array(&json, "horns");
    for (size_t i = 0; i < n; i++) {
        json_horn(&horns[i], &json);
    }
    hbk_json_close_array(&json);
    hbk_report_json_end(&json);
}
