#ifndef HBK_FIT_NAMED_H
#define HBK_FIT_NAMED_H

#include "fit/fit.h"

/*
 * A horn fitted to the names of its keys (fit/names.h), and to readings of a
 * tuner beside them if there are any. What they move is in fit/unknowns.h.
 *
 * Names are followed only where they fit the horn better than wrong names do:
 * the same with all notes of keys that are shut at rest a semitone higher, and
 * a semitone lower. The sum that is made least must be less by
 * HBK_NAMES_MARGIN than with either. (If each name were off by chance alone,
 * e^(margin / 2) to 1 could be laid on them; what the models lack makes that
 * less.)
 */
#define HBK_NAMES_MARGIN 9.2

/*
 * read   a tuner's readings, or NULL
 *
 * Returns as hbk_fit_horn(); or HBK_ERR_NO_RESULT, with the reason in
 * `faults`, when the keys have no names to go by or names that fit no better
 * than wrong ones: the horn is then to be left as it is. With readings the
 * reason is a warning and they alone are followed; fit->report.names.n is 0.
 */
enum hbk_status hbk_fit_named(const struct hbk_horn *horn,
                              const struct hbk_readings *read,
                              struct hbk_arena *arena, struct hbk_fit *fit,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The fit itself: to the names that hbk_names_take() found, with a tuner's
 * readings after them or without. Fitted once as they are stated, names are
 * then taken to be as uncertain as they lie from the fit to all others (root
 * mean square), HBK_NAMES_CENTS at least, and fitted again: a maker missed more
 * than one key in one direction, and what they scatter shows it. Returns as
 * hbk_fit_horn().
 */
enum hbk_status hbk_fit_taken(const struct hbk_horn *horn,
                              const struct hbk_readings *taken,
                              struct hbk_arena *arena, struct hbk_fit *fit,
                              struct hbk_faults *faults) HBK_MUST_CHECK;

/*
 * The pitch of a horn fitted to names alone: A4 with its tuning note in tune
 * and its slides where they were before, so that they can go both ways. The
 * pitch the names mean, at which the tuning note has its error as all others,
 * where no key and no open note is called by the tuning note.
 */
double hbk_named_a4_hz(const struct hbk_fit *fit);

#endif
