#include "horn/stuck.h"

#include <stdio.h>
#include <string.h>

/* The words for the two states of a control: at rest and pressed. */
struct states {
    const char *kind;
    enum hbk_control_kind control;
    const char *word[2];
};

static const struct states all_states[] = {
    {"key", HBK_KEY, {"open", "shut"}},
    {"valve", HBK_VALVE, {"up", "down"}},
    {"trigger", HBK_TRIGGER, {"in", "out"}},
};

enum { KINDS = sizeof(all_states) / sizeof(all_states[0]), ITEM_SIZE = 64 };

static void say_form(const char *item, struct hbk_text *why)
{
    hbk_text_addf(why,
                  "'%s': write key:3=open or key:3=shut, valve:2=up or "
                  "valve:2=down, with a key or valve that this horn has",
                  item);
}

static void say_names(const struct hbk_horn *horn, const struct states *s,
                      const char *item, const char *name, struct hbk_text *why)
{
    hbk_text_addf(why, "'%s': this horn has no %s %s", item, s->kind, name);
    size_t n = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind == s->control) {
            hbk_text_addf(why, "%s%s", n++ == 0 ? "; it has " : ", ",
                          horn->controls[i].name);
        }
    }
}

/* One "key:3=open". */
static bool read_item(const struct hbk_horn *horn, const char *item,
                      struct hbk_stuck *stuck, struct hbk_text *why)
{
    char kind[12];
    char name[12];
    char state[8];
    int used = 0;
    const struct states *s = NULL;
    if (sscanf(item, "%11[a-z]:%11[^=]=%7[a-z]%n", kind, name, state, &used) ==
            3 &&
        item[used] == '\0') {
        for (size_t i = 0; i < KINDS; i++) {
            s = strcmp(kind, all_states[i].kind) == 0 ? &all_states[i] : s;
        }
    }
    const bool is_second = s != NULL && strcmp(state, s->word[1]) == 0;
    if (s == NULL || (!is_second && strcmp(state, s->word[0]) != 0)) {
        say_form(item, why);
        return false;
    }
    const int control = hbk_horn_find_control(horn, s->control, name);
    if (control < 0) {
        say_names(horn, s, item, name, why);
        return false;
    }
    /* A key is pressed when it is not as it rests, whichever that is. */
    const bool pressed = s->control == HBK_KEY
                             ? is_second == horn->controls[control].stands_open
                             : is_second;
    const uint32_t bit = UINT32_C(1) << control;
    stuck->held_down |= pressed ? bit : 0;
    stuck->held_up |= pressed ? 0 : bit;
    return true;
}

bool hbk_stuck_parse(const struct hbk_horn *horn, const char *list,
                     struct hbk_stuck *stuck, struct hbk_text *why)
{
    struct hbk_stuck found = {0};
    const char *at = list;
    for (;;) {
        char item[ITEM_SIZE];
        at += strspn(at, " ");
        const size_t whole = strcspn(at, ",");
        size_t length = whole < ITEM_SIZE ? whole : ITEM_SIZE - 1;
        while (length > 0 && at[length - 1] == ' ') {
            length--;
        }
        (void)snprintf(item, sizeof(item), "%.*s", (int)length, at);
        if (!read_item(horn, item, &found, why)) {
            return false;
        }
        if (at[whole] == '\0') {
            break;
        }
        at += whole + 1;
    }
    if ((found.held_down & found.held_up) != 0) {
        hbk_text_addf(why, "'%s': nothing is stuck both ways", list);
        return false;
    }
    *stuck = found;
    return true;
}
