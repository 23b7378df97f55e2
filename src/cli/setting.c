#include "cli/setting.h"

#include "base/text.h"

struct hbk_wishes hbk_wishes_of(const struct hbk_options *options)
{
    return (struct hbk_wishes){.a4_hz = options->a4_hz,
                               .temperature_c = options->temperature_c,
                               .room_c = options->room_c,
                               .lip_cents = options->lip_cents,
                               .crook = options->crook,
                               .mouthpiece = options->mouthpiece,
                               .stuck = options->stuck,
                               .valve_slides = options->valve_slides,
                               .reads = options->reads,
                               .names = options->names,
                               .raw = options->raw,
                               .as_played = options->player};
}

int hbk_unmet(const struct hbk_options *options, enum hbk_wish wish,
              const char *why)
{
    static const char *const where[] = {
        [HBK_WISH_ALL] = "",
        [HBK_WISH_TEMPERATURE] = "--temperature and --room: ",
        [HBK_WISH_CROOK] = "",
        [HBK_WISH_MOUTHPIECE] = "",
        [HBK_WISH_STUCK] = "--stuck ",
        [HBK_WISH_VALVE_SLIDES] = "--valve-slides: ",
        [HBK_WISH_READS] = "--reads: ",
        [HBK_WISH_NAMES] = "--names: "};
    return hbk_usage(options->command, "%s%s", where[wish], why);
}

int hbk_read_setting(const struct hbk_horn *horn,
                     const struct hbk_options *options,
                     struct hbk_setting *setting)
{
    const struct hbk_wishes wishes = hbk_wishes_of(options);
    struct hbk_arena scratch = {0};
    struct hbk_text why = {.arena = &scratch};
    const enum hbk_wish wish = hbk_setting_make(horn, &wishes, setting, &why);
    const int code = wish == HBK_WISH_ALL
                         ? HBK_EXIT_DONE
                         : hbk_unmet(options, wish, hbk_text_string(&why));
    hbk_arena_finish(&scratch);
    return code;
}
