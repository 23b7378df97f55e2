#include "solve/setting.h"

#include "horn/horn.h"
#include "horn/stuck.h"
#include "horn/stuck_list.h"
#include "solve/rest.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* The breath as it leaves the lungs, and how much of it stays in the horn. */
static const double breath_c = 37.0;
static const double breath_share = 1.0 / 3.0;

struct hbk_wishes hbk_wishes_none(void)
{
    return (struct hbk_wishes){.a4_hz = (double)NAN,
                               .temperature_c = (double)NAN,
                               .room_c = (double)NAN,
                               .lip_cents = (double)NAN};
}

double hbk_air_in_horn_c(double room_c)
{
    return room_c + (breath_share * (breath_c - room_c));
}

struct hbk_setting hbk_setting_of(const struct hbk_horn *horn)
{
    return (struct hbk_setting){
        .a4_hz = horn->a4_hz,
        .temperature_c = horn->temperature_c,
        .room_c = (double)NAN,
        .crook = -1,
        .stuck = horn->stuck,
        .lip_cents = HBK_LIP_CENTS,
    };
}

int hbk_setting_written_c4(const struct hbk_horn *horn,
                           const struct hbk_setting *setting)
{
    if (setting->crook < 0) {
        return horn->written_c4_sounds;
    }
    const struct hbk_crook *const crook = &horn->crooks[setting->crook];
    if (crook->has_written_c4) {
        return crook->written_c4_sounds;
    }
    /* By the nearest semitone that the added tube lowers the open horn. */
    const double rest_m = hbk_axis_at_rest(horn);
    const double lowered = 12.0 * log2((rest_m + crook->adds_m) / rest_m);
    return horn->written_c4_sounds - (int)lround(lowered);
}

static bool find_crook(const struct hbk_horn *horn, const char *name,
                       struct hbk_setting *setting)
{
    for (size_t i = 0; i < horn->n_crooks; i++) {
        if (strcmp(horn->crooks[i].name, name) == 0) {
            setting->crook = (int)i;
            return true;
        }
    }
    return strcmp(name, "none") == 0;
}

static bool put_crook(const struct hbk_horn *horn, const char *name,
                      struct hbk_setting *setting, struct hbk_text *why)
{
    if (find_crook(horn, name, setting)) {
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

static bool find_mouthpiece(const struct hbk_horn *horn, const char *name,
                            struct hbk_setting *setting)
{
    for (size_t i = 0; i < horn->n_mouthpieces; i++) {
        if (strcmp(horn->mouthpieces[i].name, name) == 0) {
            setting->mouthpiece = i + 1;
            return true;
        }
    }
    return strcmp(name, "own") == 0;
}

static bool put_mouthpiece(const struct hbk_horn *horn, const char *name,
                           struct hbk_setting *setting, struct hbk_text *why)
{
    if (find_mouthpiece(horn, name, setting)) {
        return true;
    }
    if (horn->n_mouthpieces == 0) {
        hbk_text_add(why, horn->model == HBK_MODEL_BORE
                              ? "this horn lists no other mouthpieces"
                              : "this horn is described by its length, to "
                                "which a mouthpiece makes no difference");
        return false;
    }
    hbk_text_addf(why, "there is no mouthpiece '%s'; this horn has: own", name);
    for (size_t i = 0; i < horn->n_mouthpieces; i++) {
        hbk_text_addf(why, ", %s", horn->mouthpieces[i].name);
    }
    return false;
}

static bool put_valve_slides(const char *word, struct hbk_setting *setting,
                             struct hbk_text *why)
{
    for (int i = 0; i < HBK_VALVE_SLIDES_COUNT; i++) {
        const enum hbk_valve_slides how = (enum hbk_valve_slides)i;
        if (strcmp(word, hbk_valve_slides_name(how)) == 0) {
            setting->valve_slides = how;
            return true;
        }
    }
    hbk_text_addf(why, "valve slides are set 'in', 'own' or 'best', not '%s'",
                  word);
    return false;
}

static bool put_temperature(const struct hbk_wishes *wishes,
                            struct hbk_setting *setting, struct hbk_text *why)
{
    const bool horn_given = !isnan(wishes->temperature_c);
    if (horn_given && !isnan(wishes->room_c)) {
        hbk_text_add(why, "the temperature is given twice, of the air in the "
                          "horn and of the room; give one of them");
        return false;
    }
    if (horn_given) {
        setting->temperature_c = wishes->temperature_c;
    } else if (!isnan(wishes->room_c)) {
        setting->room_c = wishes->room_c;
        setting->temperature_c = hbk_air_in_horn_c(wishes->room_c);
    }
    return true;
}

static bool put_reads(const char *word, struct hbk_setting *setting,
                      struct hbk_text *why)
{
    if (hbk_reads_parse(word, &setting->reads)) {
        return true;
    }
    hbk_text_add(why, "what is read is ");
    for (int i = HBK_READS_OWN + 1; i < HBK_READS_COUNT; i++) {
        hbk_text_addf(why, "'%s'%s", hbk_reads_name((enum hbk_reads)i),
                      i + 2 < HBK_READS_COUNT   ? ", "
                      : i + 1 < HBK_READS_COUNT ? " or "
                                                : "");
    }
    hbk_text_addf(why, ", not '%s'", word);
    return false;
}

static bool put_names(const char *word, struct hbk_setting *setting,
                      struct hbk_text *why)
{
    if (hbk_naming_parse(word, &setting->names)) {
        return true;
    }
    hbk_text_addf(why,
                  "names of notes are 'english', 'german' or 'solfege', not "
                  "'%s'",
                  word);
    return false;
}

enum hbk_wish hbk_setting_make(const struct hbk_horn *horn,
                               const struct hbk_wishes *wishes,
                               struct hbk_setting *setting,
                               struct hbk_text *why)
{
    *setting = hbk_setting_of(horn);
    setting->raw = wishes->raw;
    setting->as_played = wishes->as_played;
    if (!isnan(wishes->a4_hz)) {
        setting->a4_hz = wishes->a4_hz;
    }
    if (!isnan(wishes->lip_cents)) {
        setting->lip_cents = wishes->lip_cents;
    }
    if (!put_temperature(wishes, setting, why)) {
        return HBK_WISH_TEMPERATURE;
    }
    if (wishes->crook != NULL &&
        !put_crook(horn, wishes->crook, setting, why)) {
        return HBK_WISH_CROOK;
    }
    if (wishes->mouthpiece != NULL &&
        !put_mouthpiece(horn, wishes->mouthpiece, setting, why)) {
        return HBK_WISH_MOUTHPIECE;
    }
    if (wishes->stuck != NULL &&
        !hbk_stuck_parse(horn, &horn->stuck, wishes->stuck, &setting->stuck,
                         why)) {
        return HBK_WISH_STUCK;
    }
    if (wishes->valve_slides != NULL && wishes->raw) {
        hbk_text_add(why, "raw leaves every slide where it stands, so valve "
                          "slides cannot be set; leave out one of them");
        return HBK_WISH_VALVE_SLIDES;
    }
    if (wishes->valve_slides != NULL &&
        !put_valve_slides(wishes->valve_slides, setting, why)) {
        return HBK_WISH_VALVE_SLIDES;
    }
    if (wishes->reads != NULL && !put_reads(wishes->reads, setting, why)) {
        return HBK_WISH_READS;
    }
    if (wishes->names != NULL && !put_names(wishes->names, setting, why)) {
        return HBK_WISH_NAMES;
    }
    return HBK_WISH_ALL;
}

struct hbk_setting hbk_setting_beside(const struct hbk_horn *horn,
                                      const struct hbk_wishes *wishes)
{
    struct hbk_wishes shared = *wishes;
    shared.crook = NULL;
    shared.mouthpiece = NULL;
    shared.stuck = NULL;
    struct hbk_setting setting;
    struct hbk_text why = {0};
    const enum hbk_wish wish = hbk_setting_make(horn, &shared, &setting, &why);
    assert(wish == HBK_WISH_ALL);
    (void)wish;
    if (wishes->crook != NULL) {
        (void)find_crook(horn, wishes->crook, &setting);
    }
    if (wishes->mouthpiece != NULL) {
        (void)find_mouthpiece(horn, wishes->mouthpiece, &setting);
    }
    return setting;
}
