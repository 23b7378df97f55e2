#ifndef HBK_SHEET_WORDS_FIT_WORDS_H
#define HBK_SHEET_WORDS_FIT_WORDS_H

#include "base/arena.h"
#include "notes/fitted.h"

/*
 * What is said of a fit, on paper as on a terminal. Sentences live in the
 * arena and end with a full stop; "" where there is nothing to say.
 */

/* Whether the readings told anything of a value worth showing. */
bool hbk_fit_is_told(const struct hbk_fit_value *value);

/*
 * Whether a table of what was learned of the horn has a row for it: it changed
 * by more than it is uncertain.
 */
bool hbk_fit_has_row(const struct hbk_fit_value *value);

/*
 * The numbers of the values that have a row, those that changed most for how
 * surely they are known first; how many in `n`. The arena owns them.
 */
const size_t *hbk_fit_rows_order(struct hbk_arena *arena,
                                 const struct hbk_fit_report *report,
                                 size_t *n);

/* The values of the horn that came out as the file has them. */
const char *hbk_fit_words_kept(struct hbk_arena *arena,
                               const struct hbk_fit_report *report);

/* How far off the readings were and are, and how surely notes are known. */
const char *hbk_fit_words_gain(struct hbk_arena *arena,
                               const struct hbk_fit_report *report);
const char *hbk_fit_words_sure(struct hbk_arena *arena,
                               const struct hbk_fit_report *report);

/* How far the bore was bent between its ends, of which there are no rows. */
const char *hbk_fit_words_shape(struct hbk_arena *arena,
                                const struct hbk_fit_report *report);

/* Whether a player was fitted: names of keys alone have none. */
bool hbk_fit_has_player(const struct hbk_fit_report *report);

/* What the marks and columns of a sheet's rows of readings mean. */
const char *hbk_fit_words_marks(struct hbk_arena *arena,
                                const struct hbk_fit_report *report);

/* The same of the columns of a table on a terminal. */
const char *hbk_fit_words_columns(struct hbk_arena *arena,
                                  const struct hbk_fit_report *report);

/* The values of which the readings tell nothing. */
const char *hbk_fit_words_untold(struct hbk_arena *arena,
                                 const struct hbk_fit_report *report);

/* What was learned of the player, and where it is shown. */
const char *hbk_fit_words_player(struct hbk_arena *arena,
                                 const struct hbk_fit_report *report);

/*
 * What is odd: values that moved further than is likely, readings that scatter
 * more than they state, and all of them off as another pitch would have it.
 */
const char *hbk_fit_words_odd(struct hbk_arena *arena,
                              const struct hbk_fit_report *report);

/* The pairs of values of which only the effect together is known. */
const char *hbk_fit_words_twins(struct hbk_arena *arena,
                                const struct hbk_fit_report *report);

/*
 * The readings that alone tell of their key or valve, so that no slip in
 * them could be seen.
 */
const char *hbk_fit_words_alone(struct hbk_arena *arena,
                                const struct hbk_fit_report *report);

/*
 * That the fitted file, too, says that nobody should learn from its chart, or
 * of a crook that was in, and when that may be taken out.
 */
const char *hbk_fit_words_learning(struct hbk_arena *arena,
                                   const struct hbk_fit_report *report);

/*
 * How the horn was set up for the readings: of[i] tells which of n ways that
 * of reading i is, words[k] what way k is, as "crook A, main 12 mm, A = 440
 * Hz". Ways stand in the order of the readings.
 */
struct hbk_fit_setups {
    size_t n;
    const char *const *words;
    const size_t *of;
};

struct hbk_fit_setups hbk_fit_setups(struct hbk_arena *arena,
                                     const struct hbk_fit_report *report);

/* All ways as one sentence; with letters where there are several. */
const char *hbk_fit_words_setups(struct hbk_arena *arena,
                                 const struct hbk_fit_setups *setups);

/* The letters of way k: a to z, then aa to az and so on. */
const char *hbk_fit_setup_letters(struct hbk_arena *arena, size_t k);

#endif
