#ifndef HBK_REPORT_CHOOSE_H
#define HBK_REPORT_CHOOSE_H

#include "base/text.h"
#include "notes/notes.h"
#include "passage/placing.h"
#include "passage/suit.h"
#include "tune/melody/line.h"

/* A horn that was looked at, and what was found. */
struct hbk_chosen {
    const char *word; /* as the user named it */
    const char *name;
    /* The horn, where it was tried as its player plays it; else NULL. */
    const struct hbk_horn *as_played;
    int written_c4_sounds;
    struct hbk_placing placing; /* where the part was put for it */
    bool unwritable; /* moved for it, the part leaves the notes there are */
    struct hbk_suit suit;
};

struct hbk_choice {
    const char *title; /* of the tune, or "" */
    int semitones;     /* it was asked for in another key; up is positive */
    struct hbk_tune_line line;
    bool tempo_assumed;
    double quarters; /* where the tune begins */
    size_t n;
    const struct hbk_chosen *horns; /* best first */
};

/*
 * As text with the reasons in words; as comma-separated values (RFC 4180), a
 * row a horn; as JSON.
 */
void hbk_choose_text(const struct hbk_choice *choice, struct hbk_text *out);
void hbk_choose_csv(const struct hbk_choice *choice, struct hbk_text *out);
void hbk_choose_json(const struct hbk_choice *choice, struct hbk_text *out);

#endif
