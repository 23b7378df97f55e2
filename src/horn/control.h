#ifndef HBK_HORN_CONTROL_H
#define HBK_HORN_CONTROL_H

#include "horn/provenance.h"

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

/*
 * What a finger works. A press is a set of controls as a bit mask: bit i is
 * control i of the horn. 0 is the horn at rest.
 */
enum { HBK_CONTROLS_MAX = 32, HBK_FINGERS_MAX = 4 };

enum hbk_finger {
    HBK_L_THUMB,
    HBK_L_INDEX,
    HBK_L_MIDDLE,
    HBK_L_RING,
    HBK_L_LITTLE,
    HBK_R_THUMB,
    HBK_R_INDEX,
    HBK_R_MIDDLE,
    HBK_R_RING,
    HBK_R_LITTLE,
    HBK_FINGER_COUNT
};

/* "left thumb", "right ring" ... */
const char *hbk_finger_name(enum hbk_finger finger);
/* For sentences: "left thumb", "right ring finger". */
const char *hbk_finger_words(enum hbk_finger finger);
/* Reads such a name as hbk_finger_name() gives, in capitals or not. */
bool hbk_finger_parse(const char *text, enum hbk_finger *finger);
bool hbk_finger_is_left(enum hbk_finger finger);
/* 0 thumb, 1 index, 2 middle, 3 ring, 4 little. */
int hbk_finger_digit(enum hbk_finger finger);
/* "thumb", "index" ... of either hand. */
const char *hbk_digit_name(int digit);

enum hbk_control_kind {
    HBK_KEY,    /* opens or shuts holes */
    HBK_VALVE,  /* brings loops in or takes them out */
    HBK_TRIGGER /* draws a slide while playing */
};

/* How a valve is made; it decides stroke and feel, not pitch. */
enum hbk_action {
    HBK_ACTION_UNKNOWN,
    HBK_ACTION_PISTON,        /* slim */
    HBK_ACTION_WIDE_PISTON,   /* Berlin: short travel, more mass */
    HBK_ACTION_EARLY_PISTON,  /* slim, with a long stroke */
    HBK_ACTION_DOUBLE_PISTON, /* Vienna */
    HBK_ACTION_ROTARY,        /* rotary, mechanical linkage */
    HBK_ACTION_STRING_ROTARY  /* rotary, string action */
};

enum { HBK_ACTION_COUNT = HBK_ACTION_STRING_ROTARY + 1 };

/* "piston", "string rotary" ... as a file has it; "" for an unknown one. */
const char *hbk_action_name(enum hbk_action action);

struct hbk_control {
    enum hbk_control_kind kind;
    const char *name;   /* as the file has it: "1"; unique within its kind */
    const char *called; /* what the touch is called ("F#"), or NULL */
    bool stands_open;   /* key: its hole is open at rest */
    bool rests_in;      /* valve: its loop is in at rest (ascending) */
    bool alone;         /* never pressed together with another control */
    size_t n_fingers;   /* at least 1 */
    enum hbk_finger fingers[HBK_FINGERS_MAX]; /* the usual one first */
    enum hbk_action action;                   /* valves */
    double stroke_m;                          /* NAN when not given */
    enum hbk_provenance provenance;
};

/* "key 1", "valve 2", "trigger T" into `text`, for sentences. */
char *hbk_control_words(const struct hbk_control *control, char *text,
                        size_t size);

#endif
