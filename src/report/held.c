#include "report/held.h"

#include "music/pitch.h"

void hbk_held_json(const struct hbk_held *held, struct hbk_json *json)
{
    hbk_json_open_object(json, "chord");
    hbk_json_string(json, "temperament", held->is_just ? "just" : "equal");
    if (held->is_just) {
        hbk_json_string(json, "kind", held->chord.kind->name);
    } else {
        hbk_json_null(json, "kind");
    }
    if (held->root != NULL) {
        hbk_json_string(json, "root", held->root);
    } else {
        hbk_json_null(json, "root");
    }
    hbk_json_bool(json, "root_given", held->root_given);
    hbk_json_open_array(json, "other_roots");
    for (size_t i = 0; i < held->n_other_roots; i++) {
        char name[HBK_NAME_SIZE];
        hbk_json_string(json, NULL,
                        hbk_spelling_name(hbk_note_sharp(held->other_roots[i]),
                                          HBK_ASCII, name));
    }
    hbk_json_close_array(json);
    hbk_json_string(json, "words", held->words);
    hbk_json_close_object(json);
}
