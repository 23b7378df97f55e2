#include "horn/horn.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

const char *hbk_part_name(enum hbk_part part)
{
    static const char *const names[HBK_PART_COUNT] = {
        [HBK_PART_LENGTH] = "length",         [HBK_PART_BORE] = "bore",
        [HBK_PART_MOUTHPIECE] = "mouthpiece", [HBK_PART_KEYS] = "keys",
        [HBK_PART_HOLES] = "holes",           [HBK_PART_VALVES] = "valves",
        [HBK_PART_SLIDES] = "slides",         [HBK_PART_CROOKS] = "crooks",
        [HBK_PART_FINGERS] = "fingers",       [HBK_PART_TUNING] = "tuning",
        [HBK_PART_PARTIALS] = "partials",
    };
    return names[part];
}

void hbk_horn_init(struct hbk_horn *horn)
{
    *horn = (struct hbk_horn){
        .written_c4_sounds = HBK_NOTE_C4,
        .clef = HBK_TREBLE,
        .tuning_note = HBK_NOTE_C4 + 12,
        .a4_hz = 440.0,
        .temperature_c = 20.0,
        .length_m = NAN,
        .fundamental_hz = NAN,
        .partials = {.lowest = 2, .highest = 8},
    };
    /* Far from any note of the scale: 31, 49, 41 and 31 cents off. */
    static const unsigned far_off[] = {7, 11, 13, 14};
    for (size_t i = 0; i < sizeof(far_off) / sizeof(far_off[0]); i++) {
        horn->partials.avoid[far_off[i]] = true;
    }
}

void hbk_horn_finish(struct hbk_horn *horn)
{
    hbk_arena_finish(&horn->arena);
}

int hbk_horn_find_control(const struct hbk_horn *horn,
                          enum hbk_control_kind kind, const char *name)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind == kind &&
            strcmp(horn->controls[i].name, name) == 0) {
            return (int)i;
        }
    }
    return -1;
}

bool hbk_horn_has_kind(const struct hbk_horn *horn, enum hbk_control_kind kind)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind == kind) {
            return true;
        }
    }
    return false;
}

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
