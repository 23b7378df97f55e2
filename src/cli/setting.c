#include "cli/cli.h"

#include "base/text.h"
#include "solve/slides.h"
#include "solve/solve.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

static bool find_crook(const struct hbk_horn *horn, const char *name,
                       int *crook)
{
    for (size_t i = 0; i < horn->n_crooks; i++) {
        if (strcmp(horn->crooks[i].name, name) == 0) {
            *crook = (int)i;
            return true;
        }
    }
    return false;
}

bool hbk_set_crook(const struct hbk_horn *horn, const char *name,
                   struct hbk_setting *setting, struct hbk_text *why)
{
    if (find_crook(horn, name, &setting->crook) || strcmp(name, "none") == 0) {
        return true;
    }
    if (horn->n_crooks == 0) {
        hbk_text_add(why, "this horn has no crooks");
        return false;
    }
    hbk_text_addf(why, "there is no crook '%s'; this horn has: ", name);
    for (size_t i = 0; i < horn->n_crooks; i++) {
        hbk_text_addf(why, "%s%s", i == 0 ? "" : ", ", horn->crooks[i].name);
    }
    return false;
}

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

/* One "key:3=open" of a --stuck list. */
static bool read_stuck_item(const struct hbk_horn *horn, const char *item,
                            struct hbk_setting *setting)
{
    char kind[12];
    char name[12];
    char state[8];
    int used = 0;
    if (sscanf(item, "%11[a-z]:%11[^=]=%7[a-z]%n", kind, name, state, &used) !=
            3 ||
        item[used] != '\0') {
        return false;
    }
    for (size_t i = 0; i < sizeof(all_states) / sizeof(all_states[0]); i++) {
        const struct states *const s = &all_states[i];
        const int control = strcmp(kind, s->kind) == 0
                                ? hbk_horn_find_control(horn, s->control, name)
                                : -1;
        const bool is_second = strcmp(state, s->word[1]) == 0;
        if (control < 0 || (!is_second && strcmp(state, s->word[0]) != 0)) {
            continue;
        }
        /* A key is pressed when it is not as it rests, whichever that is. */
        const bool pressed =
            s->control == HBK_KEY
                ? is_second == horn->controls[control].stands_open
                : is_second;
        const uint32_t bit = UINT32_C(1) << control;
        setting->held_down |= pressed ? bit : 0;
        setting->held_up |= pressed ? 0 : bit;
        return true;
    }
    return false;
}

bool hbk_set_stuck(const struct hbk_horn *horn, const char *list,
                   struct hbk_setting *setting, struct hbk_text *why)
{
    const char *at = list;
    for (;;) {
        char item[64];
        const size_t length = strcspn(at, ",");
        (void)snprintf(item, sizeof(item), "%.*s",
                       (int)(length < sizeof(item) ? length : sizeof(item) - 1),
                       at);
        if (!read_stuck_item(horn, item, setting)) {
            hbk_text_addf(why,
                          "'%s': write key:3=open or key:3=shut, valve:2=up "
                          "or valve:2=down, with a key or valve that this "
                          "horn has",
                          item);
            return false;
        }
        if (at[length] == '\0') {
            break;
        }
        at += length + 1;
    }
    if ((setting->held_down & setting->held_up) != 0) {
        hbk_text_addf(why, "'%s': nothing is stuck both ways", list);
        return false;
    }
    return true;
}

int hbk_read_setting(const struct hbk_horn *horn,
                     const struct hbk_options *options,
                     struct hbk_setting *setting)
{
    *setting = hbk_setting_of(horn);
    setting->raw = options->raw;
    if (!isnan(options->a4_hz)) {
        setting->a4_hz = options->a4_hz;
    }
    if (!isnan(options->temperature_c)) {
        setting->temperature_c = options->temperature_c;
    }
    if (!isnan(options->lip_cents)) {
        setting->lip_cents = options->lip_cents;
    }
    struct hbk_arena scratch = {0};
    struct hbk_text why = {.arena = &scratch};
    int code = HBK_EXIT_DONE;
    if (options->crook != NULL &&
        !hbk_set_crook(horn, options->crook, setting, &why)) {
        code = hbk_usage(options->command, "%s", hbk_text_string(&why));
    } else if (options->stuck != NULL &&
               !hbk_set_stuck(horn, options->stuck, setting, &why)) {
        code = hbk_usage(options->command, "--stuck %s", hbk_text_string(&why));
    }
    hbk_arena_finish(&scratch);
    return code;
}

enum hbk_status hbk_pull_valves(const struct hbk_horn *horn,
                                const struct hbk_options *options,
                                struct hbk_arena *arena,
                                struct hbk_setting *setting,
                                struct hbk_faults *faults)
{
    if (!options->pull_valves || setting->raw) {
        return HBK_OK;
    }
    struct hbk_slides slides;
    struct hbk_faults told = {0};
    const enum hbk_status status =
        hbk_slides_plan(horn, setting, arena, &slides, &told);
    if (status != HBK_OK) {
        hbk_faults_hand_on(&told, faults);
        return status;
    }
    *setting = slides.notes.setting;
    return HBK_OK;
}
