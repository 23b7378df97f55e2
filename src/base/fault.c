#include "base/fault.h"

#include <stdarg.h>
#include <stdio.h>
#include <string.h>

/* The name, or the end of it from the first whole letter that has room. */
static void copy_name(const char *file, char copy[HBK_FAULT_FILE])
{
    static const char dots[] = "...";
    const size_t length = strlen(file);
    if (length < HBK_FAULT_FILE) {
        memcpy(copy, file, length + 1);
        return;
    }
    const char *end = file + length - (HBK_FAULT_FILE - sizeof(dots));
    while (((unsigned char)*end & 0xC0U) == 0x80U) {
        end++;
    }
    (void)snprintf(copy, HBK_FAULT_FILE, "%s%s", dots, end);
}

/* Room for one more, filled but for its text; NULL when there is none. */
static struct hbk_fault *take(struct hbk_faults *faults, struct hbk_place place,
                              unsigned number, bool warning)
{
    faults->errors += warning ? 0 : 1;
    if (faults->count == HBK_FAULTS_MAX) {
        faults->beyond++;
        return NULL;
    }
    struct hbk_fault *const slot = &faults->items[faults->count++];
    *slot = (struct hbk_fault){.line = place.line,
                               .column = place.column,
                               .number = number,
                               .warning = warning};
    if (place.file != NULL) {
        copy_name(place.file[0] == '\0' ? "''" : place.file, slot->file);
    }
    return slot;
}

__attribute__((format(printf, 2, 0))) static void
put_words(struct hbk_fault *slot, const char *fmt, va_list args)
{
    if (slot != NULL) {
        (void)vsnprintf(slot->text, sizeof(slot->text), fmt, args);
    }
}

void hbk_fault_add(struct hbk_faults *faults, struct hbk_place place,
                   unsigned number, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    put_words(take(faults, place, number, false), fmt, args);
    va_end(args);
}

void hbk_fault_warn(struct hbk_faults *faults, struct hbk_place place,
                    unsigned number, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    put_words(take(faults, place, number, true), fmt, args);
    va_end(args);
}

void hbk_faults_hand_on(const struct hbk_faults *from, struct hbk_faults *to)
{
    for (size_t i = 0; i < from->count; i++) {
        if (to->count < HBK_FAULTS_MAX) {
            to->items[to->count++] = from->items[i];
        } else {
            to->beyond++;
        }
    }
    to->beyond += from->beyond;
    to->errors += from->errors;
}

void hbk_fault_format(const struct hbk_fault *fault, char *line, size_t size)
{
    char place[64] = "";
    const bool named = fault->file[0] != '\0';
    if (fault->line > 0 && fault->column > 0) {
        (void)snprintf(place, sizeof(place), "%u:%u: ", fault->line,
                       fault->column);
    } else if (fault->line > 0) {
        (void)snprintf(place, sizeof(place), "%u: ", fault->line);
    } else if (named) {
        (void)snprintf(place, sizeof(place), " ");
    }
    (void)snprintf(line, size, "%s%s%s%s: %s [H%03u]", fault->file,
                   named ? ":" : "", place,
                   fault->warning ? "warning" : "error", fault->text,
                   fault->number);
}
