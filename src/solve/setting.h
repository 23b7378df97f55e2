#ifndef HBK_SOLVE_SETTING_H
#define HBK_SOLVE_SETTING_H

#include "base/text.h"
#include "notes/notes.h"

/* How far a player is trusted to bend a note unless told otherwise. */
#define HBK_LIP_CENTS 60.0

/*
 * What somebody says of how a horn is set before it is played, by a command
 * line or by an order, before it is held against a horn. Numbers are NAN and
 * pointers NULL where nothing is said: then it is as the horn's file has it.
 */
struct hbk_wishes {
    double a4_hz;
    double temperature_c; /* mean of the air in the horn; or */
    double room_c;        /* what the thermometer on the wall says */
    double lip_cents;
    const char *crook;      /* by name, "none" for none */
    const char *mouthpiece; /* by name, "own" for the horn's own */
    const char *stuck;      /* see horn/stuck_list.h; over what the file says */
    const char *valve_slides; /* "in", "own" or "best" */
    const char *reads;        /* of enum hbk_reads, "treble" */
    const char *names;        /* of enum hbk_naming, "german" */
    bool raw;                 /* slides as they stand, nothing tuned */
    bool as_played; /* with the habit of the player of the horn's file */
};

/* Nothing said. */
struct hbk_wishes hbk_wishes_none(void);

/* What is the fault, for those who name options or places in a file. */
enum hbk_wish {
    HBK_WISH_ALL,         /* all can be met */
    HBK_WISH_TEMPERATURE, /* both temperatures given */
    HBK_WISH_CROOK,
    HBK_WISH_MOUTHPIECE,
    HBK_WISH_STUCK,
    HBK_WISH_VALVE_SLIDES,
    HBK_WISH_READS,
    HBK_WISH_NAMES
};

/*
 * The setting of a horn that the wishes ask for.
 *
 * why   receives what would be right, as a sentence without its full stop
 *
 * Returns HBK_WISH_ALL, or the wish that this horn cannot meet; `setting` is
 * then not to be used.
 */
enum hbk_wish hbk_setting_make(const struct hbk_horn *horn,
                               const struct hbk_wishes *wishes,
                               struct hbk_setting *setting,
                               struct hbk_text *why);

/*
 * The setting of a horn that stands beside the one the wishes are for: a
 * player's other horn at the same pitch, in the same room, with the same hand
 * for the valve slides. It has the crook and the mouthpiece of that name if it
 * has one, else none and its own, and is stuck as its own file says: what is
 * stuck belongs to one horn. Who reads it reads both alike.
 *
 * wishes   such that the other horn could meet them
 */
struct hbk_setting hbk_setting_beside(const struct hbk_horn *horn,
                                      const struct hbk_wishes *wishes);

/* The horn's own pitch and temperature, no crook, stuck as its file says. */
struct hbk_setting hbk_setting_of(const struct hbk_horn *horn);

/* The sounding note of written C4 with the setting's crook. */
int hbk_setting_written_c4(const struct hbk_horn *horn,
                           const struct hbk_setting *setting);

/*
 * The mean temperature of the air in a horn that is being played, from that
 * of the room: a third of the way from the room to the breath (37 degrees).
 * The air enters at about the temperature of the breath and leaves at little
 * above the room's; no published course of it along a brass instrument was
 * found, and the third is our own choice.
 */
double hbk_air_in_horn_c(double room_c);

#endif
