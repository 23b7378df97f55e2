#include "reader/fields.h"

#include "base/text.h"
#include "reader/messages.h"

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

void hbk_fields_known(const struct hbk_fields *fields,
                      const char *const known[], size_t n)
{
    for (size_t i = 0; i < fields->map->n; i++) {
        const struct hbk_entry *const entry = &fields->map->entries[i];
        if (is_known(entry->name, known, n)) {
            continue;
        }
        /* Beyond the room for faults nobody reads the suggestion. */
        const char *const nearest =
            fields->faults->count < HBK_FAULTS_MAX
                ? hbk_text_nearest(entry->name, known, n)
                : NULL;
        char shown[HBK_SHOWN_SIZE];
        hbk_fault_add(fields->faults, entry->place, HBK_H_UNKNOWN_NAME,
                      "%s%s'%s' is unknown here; %s%s%s", fields->words,
                      separator(fields), hbk_shown(entry->name, shown),
                      nearest == NULL ? "leave it out" : "did you mean '",
                      nearest == NULL ? "" : nearest,
                      nearest == NULL ? "" : "'?");
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
