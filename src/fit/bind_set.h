#ifndef HBK_FIT_BIND_SET_H
#define HBK_FIT_BIND_SET_H

#include "base/fault.h"
#include "horn/readings.h"
#include "horn/stuck.h"
#include "solve/rig.h"

/*
 * The names in a file of readings looked up on a horn, with what is wrong
 * about them. Private to fit/bind.c.
 */
struct hbk_binder {
    const struct hbk_readings *readings;
    const struct hbk_horn *horn;
    struct hbk_arena *arena;
    struct hbk_faults *faults;
    size_t n_rigs;
    struct hbk_rig *rigs;
    struct hbk_stuck stuck; /* in every reading */
};

/* A fingering that the horn has not, in words that help. */
void hbk_bind_say_press(const struct hbk_binder *b,
                        const struct hbk_reading *reading);

/*
 * What is down in a reading: what fingers press and what was stuck with it;
 * `all` keeps what is stuck here too.
 */
uint32_t hbk_bind_stuck(const struct hbk_binder *b,
                        const struct hbk_reading *reading, uint32_t press,
                        struct hbk_stuck *all);

/* The rig of a reading; a set that several readings share is told once. */
size_t hbk_bind_rig(struct hbk_binder *b, const struct hbk_reading *reading,
                    const struct hbk_reading *before, size_t before_rig);

#endif
