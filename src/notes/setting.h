#ifndef HBK_NOTES_SETTING_H
#define HBK_NOTES_SETTING_H

#include "horn/stuck.h"
#include "notes/notation.h"

#include <stdbool.h>

/* Where the slides of the valves are set; see solve/setup.h. */
enum hbk_valve_slides {
    HBK_VALVE_SLIDES_OWN,  /* as far below the open horn as at its own pitch */
    HBK_VALVE_SLIDES_HOME, /* pushed in */
    HBK_VALVE_SLIDES_BEST, /* the best compromise of all first choices */
    HBK_VALVE_SLIDES_COUNT
};

/* "own", "in" or "best". */
const char *hbk_valve_slides_name(enum hbk_valve_slides how);

/* The circumstances of one question. */
struct hbk_setting {
    double a4_hz;         /* asked for; the horn may not reach it */
    double temperature_c; /* mean of the air in the horn */
    double room_c;        /* of the room, when that was said; else NAN */
    int crook;            /* index into horn->crooks, -1 for none */
    size_t mouthpiece;    /* 0 the horn's own, i horn->mouthpieces[i - 1] */
    struct hbk_stuck stuck;
    double lip_cents; /* how far a player is trusted to bend, > 0 */
    bool raw;         /* leave the slides in: no tuning first */
    bool as_played;   /* with the player's habit, not as the horn itself is */
    enum hbk_valve_slides valve_slides;
    /*
     * Nothing is charged for leaving what is taught (solve/taught.h): what the
     * lengths, partials and fingers of the horn say by themselves.
     */
    bool free_hand;
    enum hbk_reads reads;  /* who reads the sheets, and in what names; */
    enum hbk_naming names; /* neither changes anything computed */
};

#endif
