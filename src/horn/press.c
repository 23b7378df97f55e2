#include "horn/press.h"

#include "horn/about.h"
#include "horn/horn.h"

#include <stdio.h>
#include <string.h>

/*
 * Keys and valves on one horn both count from 1, so both take a letter. A
 * trigger takes one only if something else has its name.
 */
static bool needs_letter(const struct hbk_horn *horn, size_t i)
{
    const struct hbk_control *const control = &horn->controls[i];
    if (control->kind != HBK_TRIGGER) {
        return hbk_horn_has_kind(horn, HBK_KEY) &&
               hbk_horn_has_kind(horn, HBK_VALVE);
    }
    for (size_t k = 0; k < horn->n_controls; k++) {
        if (horn->controls[k].kind != HBK_TRIGGER &&
            strcmp(horn->controls[k].name, control->name) == 0) {
            return true;
        }
    }
    return false;
}

char *hbk_horn_control_label(const struct hbk_horn *horn, size_t i, char *label,
                             size_t size)
{
    static const char letters[] = {
        [HBK_KEY] = 'k', [HBK_VALVE] = 'v', [HBK_TRIGGER] = 't'};
    const struct hbk_control *const control = &horn->controls[i];
    if (needs_letter(horn, i)) {
        (void)snprintf(label, size, "%c%s", letters[control->kind],
                       control->name);
    } else {
        (void)snprintf(label, size, "%s", control->name);
    }
    return label;
}

char *hbk_horn_press_label(const struct hbk_horn *horn, uint32_t press,
                           char label[HBK_LABEL_SIZE])
{
    (void)snprintf(label, HBK_LABEL_SIZE, "0");
    size_t length = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        if ((press >> i & 1U) == 0 || length + 12 >= HBK_LABEL_SIZE) {
            continue;
        }
        if (length > 0) {
            label[length++] = '-';
        }
        hbk_horn_control_label(horn, i, label + length,
                               HBK_LABEL_SIZE - length);
        length += strlen(label + length);
    }
    return label;
}

static bool find_label(const struct hbk_horn *horn, const char *word,
                       size_t length, uint32_t *bit)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        char label[32];
        hbk_horn_control_label(horn, i, label, sizeof(label));
        if (strlen(label) == length && strncmp(label, word, length) == 0) {
            *bit = UINT32_C(1) << i;
            return true;
        }
    }
    return false;
}

bool hbk_horn_press_parse(const struct hbk_horn *horn, const char *label,
                          uint32_t *press)
{
    uint32_t read = 0;
    const char *at = label;
    const bool is_open = strcmp(label, "0") == 0 || strcmp(label, "open") == 0;
    while (!is_open) {
        const size_t length = strcspn(at, "-");
        uint32_t bit = 0;
        if (!find_label(horn, at, length, &bit) || (read & bit) != 0) {
            return false;
        }
        read |= bit;
        if (at[length] == '\0') {
            break;
        }
        at += length + 1;
    }
    *press = read;
    return true;
}
