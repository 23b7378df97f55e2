#include "base/json.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static void quote(struct hbk_text *out, const char *value)
{
    hbk_text_add(out, "\"");
    for (const char *c = value; *c != '\0'; c++) {
        const unsigned char byte = (unsigned char)*c;
        if (byte == '"' || byte == '\\') {
            hbk_text_addf(out, "\\%c", *c);
        } else if (byte < 0x20) {
            hbk_text_addf(out, "\\u%04x", byte);
        } else {
            hbk_text_put(out, c, 1);
        }
    }
    hbk_text_add(out, "\"");
}

static void begin(struct hbk_json *json, const char *name)
{
    if (json->has_items) {
        hbk_text_add(json->out, ",");
    }
    if (json->depth > 0) {
        hbk_text_addf(json->out, "\n%*s", (int)(2 * json->depth), "");
    }
    if (name != NULL) {
        quote(json->out, name);
        hbk_text_add(json->out, ": ");
    }
    json->has_items = true;
}

static void open_with(struct hbk_json *json, const char *name,
                      const char *bracket)
{
    begin(json, name);
    hbk_text_add(json->out, bracket);
    json->depth++;
    json->has_items = false;
}

static void close_with(struct hbk_json *json, const char *bracket)
{
    json->depth--;
    if (json->has_items) {
        hbk_text_addf(json->out, "\n%*s", (int)(2 * json->depth), "");
    }
    hbk_text_add(json->out, bracket);
    json->has_items = true;
}

void hbk_json_open_object(struct hbk_json *json, const char *name)
{
    open_with(json, name, "{");
}

void hbk_json_close_object(struct hbk_json *json)
{
    close_with(json, "}");
}

void hbk_json_open_array(struct hbk_json *json, const char *name)
{
    open_with(json, name, "[");
}

void hbk_json_close_array(struct hbk_json *json)
{
    close_with(json, "]");
}

void hbk_json_string(struct hbk_json *json, const char *name, const char *value)
{
    begin(json, name);
    quote(json->out, value);
}

void hbk_json_number(struct hbk_json *json, const char *name, double value,
                     int decimals)
{
    if (!isfinite(value)) {
        hbk_json_null(json, name);
        return;
    }
    begin(json, name);
    char digits[64];
    const int length =
        snprintf(digits, sizeof(digits), "%.*f", decimals, value);
    /* No negative zero: -0.0 and 0.0 are the same number to a reader. */
    const bool is_zero = strspn(digits, "-0.") == (size_t)length;
    hbk_text_add(json->out, is_zero && digits[0] == '-' ? digits + 1 : digits);
}

void hbk_json_whole(struct hbk_json *json, const char *name, long value)
{
    begin(json, name);
    hbk_text_addf(json->out, "%ld", value);
}

void hbk_json_bool(struct hbk_json *json, const char *name, bool value)
{
    begin(json, name);
    hbk_text_add(json->out, value ? "true" : "false");
}

void hbk_json_null(struct hbk_json *json, const char *name)
{
    begin(json, name);
    hbk_text_add(json->out, "null");
}

void hbk_json_finish(struct hbk_json *json)
{
    hbk_text_add(json->out, "\n");
}
