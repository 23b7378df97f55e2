#include "horn/control.h"

#include <stdio.h>
#include <string.h>

static const char *const finger_names[HBK_FINGER_COUNT] = {
    [HBK_L_THUMB] = "left thumb",   [HBK_L_INDEX] = "left index",
    [HBK_L_MIDDLE] = "left middle", [HBK_L_RING] = "left ring",
    [HBK_L_LITTLE] = "left little", [HBK_R_THUMB] = "right thumb",
    [HBK_R_INDEX] = "right index",  [HBK_R_MIDDLE] = "right middle",
    [HBK_R_RING] = "right ring",    [HBK_R_LITTLE] = "right little",
};

const char *hbk_finger_name(enum hbk_finger finger)
{
    return finger_names[finger];
}

const char *hbk_finger_words(enum hbk_finger finger)
{
    static const char *const words[HBK_FINGER_COUNT] = {
        "left thumb",          "left index finger",   "left middle finger",
        "left ring finger",    "left little finger",  "right thumb",
        "right index finger",  "right middle finger", "right ring finger",
        "right little finger",
    };
    return words[finger];
}

/* Whether a text is that name, in capitals or not. */
static bool is_name(const char *text, const char *name)
{
    size_t i = 0;
    for (; text[i] != '\0'; i++) {
        const char c = text[i];
        const char lower = c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
        if (lower != name[i]) {
            return false;
        }
    }
    return name[i] == '\0';
}

bool hbk_finger_parse(const char *text, enum hbk_finger *finger)
{
    for (int i = 0; i < HBK_FINGER_COUNT; i++) {
        if (is_name(text, finger_names[i])) {
            *finger = (enum hbk_finger)i;
            return true;
        }
    }
    return false;
}

const char *hbk_action_name(enum hbk_action action)
{
    static const char *const names[] = {
        [HBK_ACTION_UNKNOWN] = "",
        [HBK_ACTION_PISTON] = "piston",
        [HBK_ACTION_WIDE_PISTON] = "wide piston",
        [HBK_ACTION_EARLY_PISTON] = "early piston",
        [HBK_ACTION_DOUBLE_PISTON] = "double piston",
        [HBK_ACTION_ROTARY] = "rotary",
        [HBK_ACTION_STRING_ROTARY] = "string rotary"};
    return names[action];
}

bool hbk_finger_is_left(enum hbk_finger finger)
{
    return finger <= HBK_L_LITTLE;
}

int hbk_finger_digit(enum hbk_finger finger)
{
    return (int)finger % 5;
}

const char *hbk_digit_name(int digit)
{
    static const char *const names[] = {"thumb", "index", "middle", "ring",
                                        "little"};
    return names[digit];
}

char *hbk_control_words(const struct hbk_control *control, char *text,
                        size_t size)
{
    static const char *const kinds[] = {
        [HBK_KEY] = "key", [HBK_VALVE] = "valve", [HBK_TRIGGER] = "trigger"};
    (void)snprintf(text, size, "%s %s", kinds[control->kind], control->name);
    return text;
}
