#include "cli/cli.h"

#include "base/text.h"
#include "horn/stuck.h"
#include "solve/slides.h"
#include "solve/solve.h"

#include <math.h>
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

bool hbk_set_stuck(const struct hbk_horn *horn, const char *list,
                   struct hbk_setting *setting, struct hbk_text *why)
{
    struct hbk_stuck stuck = {0};
    if (!hbk_stuck_parse(horn, list, &stuck, why)) {
        return false;
    }
    setting->stuck.held_down = stuck.held_down;
    setting->stuck.held_up = stuck.held_up;
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
