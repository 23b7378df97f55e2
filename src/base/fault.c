#include "base/fault.h"

#include <stdarg.h>
#include <stdio.h>

__attribute__((format(printf, 3, 0))) static void
record(struct hbk_faults *faults, struct hbk_fault fault, const char *fmt,
       va_list args)
{
    faults->errors += fault.warning ? 0 : 1;
    if (faults->count == HBK_FAULTS_MAX) {
        faults->beyond++;
        return;
    }
    struct hbk_fault *const slot = &faults->items[faults->count++];
    *slot = fault;
    (void)vsnprintf(slot->text, sizeof(slot->text), fmt, args);
}

void hbk_fault_add(struct hbk_faults *faults, struct hbk_place place,
                   unsigned number, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    record(faults, (struct hbk_fault){.place = place, .number = number}, fmt,
           args);
    va_end(args);
}

void hbk_fault_warn(struct hbk_faults *faults, struct hbk_place place,
                    unsigned number, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    record(
        faults,
        (struct hbk_fault){.place = place, .number = number, .warning = true},
        fmt, args);
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
    if (fault->place.line > 0 && fault->place.column > 0) {
        (void)snprintf(place, sizeof(place), "%u:%u: ", fault->place.line,
                       fault->place.column);
    } else if (fault->place.line > 0) {
        (void)snprintf(place, sizeof(place), "%u: ", fault->place.line);
    } else if (fault->place.file != NULL) {
        (void)snprintf(place, sizeof(place), " ");
    }
    const char *const file = fault->place.file;
    (void)snprintf(line, size, "%s%s%s%s: %s [H%03u]", file == NULL ? "" : file,
                   file == NULL ? "" : ":", place,
                   fault->warning ? "warning" : "error", fault->text,
                   fault->number);
}
