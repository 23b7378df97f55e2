#ifndef HBK_HORN_ABOUT_H
#define HBK_HORN_ABOUT_H

#include "horn/control.h"
#include "music/clef.h"

struct hbk_arena;
struct hbk_horn;

/*
 * What can be done with a horn and asked of it by those who do not look
 * inside: its insides are in horn/horn.h.
 */

/*
 * An empty horn that lives in the arena, to be read into. Finish it before the
 * arena.
 */
struct hbk_horn *hbk_horn_new(struct hbk_arena *arena);

/* Releases what the horn owns. NULL and a zeroed horn are fine. */
void hbk_horn_finish(struct hbk_horn *horn);

/* What the horn is called on every sheet; lives as long as the horn. */
const char *hbk_horn_name(const struct hbk_horn *horn);

/* In which it is written, whoever reads it. */
enum hbk_clef hbk_horn_clef(const struct hbk_horn *horn);

/* How many controls it has; at most HBK_CONTROLS_MAX. */
size_t hbk_horn_n_controls(const struct hbk_horn *horn);

/* One of them, below that number, in the order of the file; borrowed. */
const struct hbk_control *hbk_horn_control(const struct hbk_horn *horn,
                                           size_t i);

/* Index of the control of that kind and name, or -1. */
int hbk_horn_find_control(const struct hbk_horn *horn,
                          enum hbk_control_kind kind, const char *name);

/* The controls of a kind, as one press. */
uint32_t hbk_horn_kind_press(const struct hbk_horn *horn,
                             enum hbk_control_kind kind);

bool hbk_horn_has_kind(const struct hbk_horn *horn, enum hbk_control_kind kind);

#endif
