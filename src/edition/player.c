#include "edition/player.h"

#include "base/messages.h"
#include "base/text.h"
#include "edition/beside.h"
#include "horn/about.h"
#include "horn/horn.h"
#include "reader/horn_word.h"
#include "solve/doubts_pitch.h"
#include "solve/setting.h"
#include "solve/solve.h"

#include <assert.h>

/* What the order says of how this player's horn is set. */
static struct hbk_wishes wishes_of(const struct hbk_order_player *player)
{
    struct hbk_wishes wishes = hbk_wishes_none();
    wishes.a4_hz = player->setting.a4_hz;
    wishes.temperature_c = player->setting.temperature_c;
    wishes.room_c = player->setting.room_c;
    wishes.valve_slides = player->setting.valve_slides;
    wishes.reads = player->setting.reads;
    wishes.names = player->setting.names;
    wishes.as_played = player->setting.as_played;
    wishes.lip_cents = player->lip_cents;
    wishes.crook = player->crook.text;
    wishes.mouthpiece = player->mouthpiece.text;
    wishes.stuck = player->stuck.text;
    return wishes;
}

/* The setting that the order asks for; what this horn cannot meet is told. */
static enum hbk_status make_setting(const struct hbk_player *player,
                                    const struct hbk_wishes *wishes,
                                    struct hbk_arena *arena,
                                    struct hbk_setting *setting,
                                    struct hbk_faults *faults)
{
    const struct hbk_order_player *const asked = player->asked;
    struct hbk_text why = {.arena = arena};
    const enum hbk_wish unmet =
        hbk_setting_make(player->horn, wishes, setting, &why);
    if (unmet == HBK_WISH_ALL) {
        return HBK_OK;
    }
    /* The reader of orders has refused whatever no horn can meet. */
    const struct {
        enum hbk_wish wish;
        const struct hbk_order_word *word;
        unsigned number;
        const char *name;
    } words[] = {{HBK_WISH_CROOK, &asked->crook, HBK_H_ORDER_CROOK, "crook"},
                 {HBK_WISH_MOUTHPIECE, &asked->mouthpiece,
                  HBK_H_ORDER_MOUTHPIECE, "mouthpiece"},
                 {HBK_WISH_STUCK, &asked->stuck, HBK_H_ORDER_STUCK, "stuck"}};
    size_t i = 0;
    while (words[i].wish != unmet) {
        assert(i + 1 < sizeof(words) / sizeof(words[0]));
        i++;
    }
    hbk_fault_add(faults, words[i].word->place, words[i].number, "%s: %s: %s",
                  asked->name, words[i].name, hbk_text_string(&why));
    return HBK_ERR_INPUT;
}

/*
 * Reads a horn that the order names. A name that no horn has is told where it
 * stands in the order; what is wrong in a horn's file, at its own place.
 */
static enum hbk_status read_named(const struct hbk_order_word *word,
                                  const char *player, const char *field,
                                  struct hbk_arena *arena,
                                  struct hbk_horn *horn,
                                  struct hbk_faults *faults)
{
    struct hbk_faults told = {0};
    const enum hbk_status status =
        hbk_horn_read_word(word->text, arena, horn, &told);
    if (told.count == 1 && told.items[0].number == HBK_H_NO_SUCH_HORN) {
        hbk_fault_add(faults, word->place, HBK_H_NO_SUCH_HORN, "%s: %s: %s",
                      player, field, told.items[0].text);
    } else {
        hbk_faults_hand_on(&told, faults);
    }
    return status;
}

/* That a stuck slide keeps the horn from the pitch asked for. */
static void warn_off_pitch(const struct hbk_player *player,
                           struct hbk_faults *faults)
{
    const struct hbk_order_player *const asked = player->asked;
    const struct hbk_notes *const notes = &player->notes;
    const int s = hbk_stuck_off_pitch(notes);
    if (s >= 0) {
        hbk_fault_warn(
            faults,
            asked->stuck.text != NULL ? asked->stuck.place : asked->horn.place,
            HBK_H_ORDER_STUCK_OFF_PITCH,
            "%s: A = %g Hz is asked for, but slide %s is stuck %g mm out, "
            "where the horn plays at A = %.1f Hz; is that meant?",
            asked->name, notes->setting.a4_hz, notes->horn->slides[s].name,
            1000.0 * notes->setting.stuck.slide_out_m[s],
            notes->tuned.pitch_hz);
    }
}

enum hbk_status hbk_player_open(const struct hbk_order *order, size_t index,
                                struct hbk_arena *arena,
                                struct hbk_player *player,
                                struct hbk_faults *faults)
{
    const struct hbk_order_player *const asked = &order->players[index];
    *player = (struct hbk_player){
        .asked = asked,
        .whom = hbk_arena_printf(arena, "%s, %s", asked->name, order->band)};
    const struct hbk_wishes wishes = wishes_of(asked);
    struct hbk_setting setting;
    player->horn = hbk_horn_new(arena);
    HBK_TRY(read_named(&asked->horn, asked->name, "horn", arena, player->horn,
                       faults));
    HBK_TRY(make_setting(player, &wishes, arena, &setting, faults));
    if (asked->knows.text != NULL) {
        struct hbk_notes *const known =
            HBK_ARENA_ARRAY(arena, struct hbk_notes, 1);
        player->known = hbk_horn_new(arena);
        HBK_TRY(read_named(&asked->knows, asked->name, "knows", arena,
                           player->known, faults));
        HBK_TRY(hbk_solve_beside(player->known, &wishes, arena, known, faults));
        player->known_notes = known;
    }
    HBK_TRY(hbk_solve(player->horn, &setting, arena, &player->notes, faults));
    warn_off_pitch(player, faults);
    return HBK_OK;
}

void hbk_player_finish(struct hbk_player *player)
{
    hbk_horn_finish(player->horn);
    hbk_horn_finish(player->known);
}
