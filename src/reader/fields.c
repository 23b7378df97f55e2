#include "reader/fields.h"

#include "base/messages.h"
#include "base/text.h"
#include "reader/shown.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

static bool is_known(const char *name, const char *const known[], size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (strcmp(name, known[i]) == 0) {
            return true;
        }
    }
    return false;
}

static const char *separator(const struct hbk_fields *fields)
{
    return fields->words[0] == '\0' ? "" : ": ";
}

/*
 * Whether entry `i` is the other half of a number with a comma: within braces
 * {travel: 25,5} gives 25 the name before and nothing the name 5.
 */
static bool is_half_number(const struct hbk_node *map, size_t i)
{
    const struct hbk_entry *const entry = &map->entries[i];
    if (i == 0 || entry->name[0] == '\0' ||
        entry->name[strspn(entry->name, "0123456789")] != '\0') {
        return false;
    }
    const struct hbk_node *const before = &map->entries[i - 1].value;
    return entry->value.kind == HBK_SCALAR && !entry->value.is_quoted &&
           entry->value.text[0] == '\0' && before->kind == HBK_SCALAR &&
           !before->is_quoted && before->text[0] != '\0' &&
           before->text[strspn(before->text, "+-0123456789")] == '\0';
}

bool hbk_fields_half_number(const struct hbk_fields *fields, size_t i)
{
    if (!is_half_number(fields->map, i)) {
        return false;
    }
    const struct hbk_entry *const half = &fields->map->entries[i];
    const struct hbk_entry *const before = half - 1;
    char whole[HBK_SHOWN_SIZE];
    char rest[HBK_SHOWN_SIZE];
    char name[HBK_SHOWN_SIZE];
    hbk_shown(before->value.text, whole);
    hbk_shown(half->name, rest);
    hbk_fault_add(fields->faults, half->place, HBK_H_TRAILING,
                  "%s%s%s: '%s,%s': write decimals with a point, as in %s.%s",
                  fields->words, separator(fields),
                  hbk_shown(before->name, name), whole, rest, whole, rest);
    return true;
}

/* "; did you mean 'loop'?", or what there is where that is little. */
static void say_known(const struct hbk_fields *fields, const char *name,
                      const char *const known[], size_t n,
                      struct hbk_text *text)
{
    enum { FEW = 12 };
    /* Beyond the room for faults nobody reads the suggestion. */
    if (fields->faults->count >= HBK_FAULTS_MAX) {
        return;
    }
    const char *const nearest = hbk_text_nearest(name, known, n);
    if (nearest != NULL) {
        hbk_text_addf(text, "did you mean '%s'?", nearest);
    } else if (n > FEW || fields->words[0] == '\0') {
        hbk_text_add(text, "leave it out");
    } else {
        hbk_text_add(text, "it can be ");
        for (size_t i = 0; i < n; i++) {
            hbk_text_addf(text, "%s%s",
                          i == 0       ? ""
                          : i + 1 == n ? " or "
                                       : ", ",
                          known[i]);
        }
    }
}

bool hbk_fields_meant(const struct hbk_fields *fields, const char *name)
{
    char hint[64];
    (void)snprintf(hint, sizeof(hint), "did you mean '%s'?", name);
    for (size_t f = 0; f < fields->faults->count; f++) {
        const struct hbk_fault *const fault = &fields->faults->items[f];
        if (fault->number != HBK_H_UNKNOWN_NAME ||
            strstr(fault->text, hint) == NULL) {
            continue;
        }
        for (size_t i = 0; i < fields->map->n; i++) {
            const struct hbk_place *const place =
                &fields->map->entries[i].place;
            if (place->line == fault->line && place->column == fault->column &&
                strcmp(place->file, fault->file) == 0) {
                return true;
            }
        }
    }
    return false;
}

void hbk_fields_known(const struct hbk_fields *fields,
                      const char *const known[], size_t n)
{
    for (size_t i = 0; i < fields->map->n; i++) {
        const struct hbk_entry *const entry = &fields->map->entries[i];
        if (is_known(entry->name, known, n) ||
            hbk_fields_half_number(fields, i)) {
            continue;
        }
        struct hbk_text advice = {.arena = fields->arena};
        char shown[HBK_SHOWN_SIZE];
        say_known(fields, entry->name, known, n, &advice);
        hbk_fault_add(fields->faults, entry->place, HBK_H_UNKNOWN_NAME,
                      "%s%s'%s' is unknown here; %s", fields->words,
                      separator(fields), hbk_shown(entry->name, shown),
                      hbk_text_string(&advice));
    }
}

const struct hbk_node *hbk_fields_find(const struct hbk_fields *fields,
                                       const char *name)
{
    const struct hbk_entry *const entry = hbk_node_entry(fields->map, name);
    return entry == NULL ? NULL : &entry->value;
}

void hbk_fields_missing(const struct hbk_fields *fields, const char *name,
                        const char *advice)
{
    if (hbk_fields_meant(fields, name)) {
        return; /* misspelled, and told so */
    }
    hbk_fault_add(fields->faults, fields->map->place, HBK_H_MISSING,
                  "%s%s'%s' is missing; write %s", fields->words,
                  separator(fields), name, advice);
}

void hbk_fields_fault(const struct hbk_fields *fields, unsigned number,
                      const char *fmt, ...)
{
    char sentence[sizeof(fields->faults->items[0].text)];
    va_list args;
    va_start(args, fmt);
    (void)vsnprintf(sentence, sizeof(sentence), fmt, args);
    va_end(args);
    hbk_fault_add(fields->faults, fields->map->place, number, "%s%s%s",
                  fields->words, separator(fields), sentence);
}

struct hbk_asked hbk_fields_ask(const struct hbk_fields *fields,
                                const char *name)
{
    return (struct hbk_asked){.node = hbk_fields_find(fields, name),
                              .owner = fields->words,
                              .name = name,
                              .faults = fields->faults};
}

static enum hbk_got got(bool is_good)
{
    return is_good ? HBK_GOT : HBK_REFUSED;
}

enum hbk_got hbk_field_number(const struct hbk_fields *fields, const char *name,
                              struct hbk_range range, double *value)
{
    const struct hbk_asked asked = hbk_fields_ask(fields, name);
    return asked.node == NULL ? HBK_ABSENT
                              : got(hbk_value_number(asked, range, value));
}

enum hbk_got hbk_field_whole(const struct hbk_fields *fields, const char *name,
                             long low, long high, long *value)
{
    const struct hbk_asked asked = hbk_fields_ask(fields, name);
    return asked.node == NULL ? HBK_ABSENT
                              : got(hbk_value_whole(asked, low, high, value));
}

enum hbk_got hbk_field_bool(const struct hbk_fields *fields, const char *name,
                            bool *value)
{
    const struct hbk_asked asked = hbk_fields_ask(fields, name);
    return asked.node == NULL ? HBK_ABSENT : got(hbk_value_bool(asked, value));
}

enum hbk_got hbk_field_text(const struct hbk_fields *fields, const char *name,
                            size_t most, const char **value)
{
    const struct hbk_asked asked = hbk_fields_ask(fields, name);
    return asked.node == NULL
               ? HBK_ABSENT
               : got(hbk_value_text(asked, most, fields->arena, value));
}

enum hbk_got hbk_field_note(const struct hbk_fields *fields, const char *name,
                            int *value)
{
    const struct hbk_asked asked = hbk_fields_ask(fields, name);
    return asked.node == NULL ? HBK_ABSENT : got(hbk_value_note(asked, value));
}

enum hbk_got hbk_field_choice(const struct hbk_fields *fields, const char *name,
                              const char *const words[], size_t n,
                              size_t *value)
{
    const struct hbk_asked asked = hbk_fields_ask(fields, name);
    return asked.node == NULL ? HBK_ABSENT
                              : got(hbk_value_choice(asked, words, n, value));
}

enum hbk_got hbk_field_list(const struct hbk_fields *fields, const char *name,
                            size_t low, size_t high,
                            const struct hbk_node **list)
{
    const struct hbk_asked asked = hbk_fields_ask(fields, name);
    if (asked.node == NULL) {
        return HBK_ABSENT;
    }
    if (!hbk_value_list(asked, low, high)) {
        return HBK_REFUSED;
    }
    *list = asked.node;
    return HBK_GOT;
}

enum hbk_got hbk_field_map(const struct hbk_fields *fields, const char *name,
                           const char *form, struct hbk_fields *inner)
{
    const struct hbk_asked asked = hbk_fields_ask(fields, name);
    if (asked.node == NULL) {
        return HBK_ABSENT;
    }
    if (!hbk_value_map(asked, form)) {
        return HBK_REFUSED;
    }
    const char *const words =
        fields->words[0] == '\0'
            ? name
            : hbk_arena_printf(fields->arena, "%s: %s", fields->words, name);
    *inner = (struct hbk_fields){.map = asked.node,
                                 .words = words,
                                 .arena = fields->arena,
                                 .faults = fields->faults};
    return HBK_GOT;
}
