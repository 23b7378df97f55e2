#ifndef HBK_BASE_JSON_H
#define HBK_BASE_JSON_H

#include "base/text.h"

/*
 * Writes one JSON value (RFC 8259), two spaces a level. Start with
 * {.out = ...}. `name` is NULL inside an array and for the outermost value.
 */
struct hbk_json {
    struct hbk_text *out;
    unsigned depth;
    bool has_items; /* the open object or array already has an item */
};

void hbk_json_open_object(struct hbk_json *json, const char *name);
void hbk_json_close_object(struct hbk_json *json);
void hbk_json_open_array(struct hbk_json *json, const char *name);
void hbk_json_close_array(struct hbk_json *json);
void hbk_json_string(struct hbk_json *json, const char *name,
                     const char *value);
/* A number with a fixed count of decimals; NaN and infinity become null. */
void hbk_json_number(struct hbk_json *json, const char *name, double value,
                     int decimals);
void hbk_json_whole(struct hbk_json *json, const char *name, long value);
void hbk_json_bool(struct hbk_json *json, const char *name, bool value);
void hbk_json_null(struct hbk_json *json, const char *name);

/* The final newline. */
void hbk_json_finish(struct hbk_json *json);

#endif
