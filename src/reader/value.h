#ifndef HBK_READER_VALUE_H
#define HBK_READER_VALUE_H

#include "reader/limits.h"
#include "reader/tree.h"

/*
 * One value of a tree, read as what it should be. Each reader returns true
 * and sets its result, or records one fault that says what would be right,
 * returns false and leaves the result alone. A node that was reported before
 * is refused silently.
 */

/* What a scalar is by the core schema of YAML 1.2. */
enum hbk_scalar_type {
    HBK_IS_NOTHING, /* empty, ~ or null */
    HBK_IS_BOOL,
    HBK_IS_NUMBER,
    HBK_IS_TEXT
};

enum hbk_scalar_type hbk_node_type(const struct hbk_node *scalar);

/* A value, and how sentences name it: "key 3: diameter". */
struct hbk_asked {
    const struct hbk_node *node;
    const char *owner; /* "key 3"; "" for the file itself */
    const char *name;  /* "diameter" */
    struct hbk_faults *faults;
};

enum hbk_unit {
    HBK_UNIT_NONE,
    HBK_UNIT_MM,
    HBK_UNIT_ML,
    HBK_UNIT_HZ,
    HBK_UNIT_CENTS,
    HBK_UNIT_SEMITONES,
    HBK_UNIT_CELSIUS,
    HBK_UNIT_PER_CENT
};

/* What a number may be, ends included. */
struct hbk_range {
    double low, high;
    enum hbk_unit unit;
};

/* What people may say of pitch and of air. */
#define HBK_RANGE_A4                                                           \
    ((struct hbk_range){HBK_A4_LEAST_HZ, HBK_A4_MOST_HZ, HBK_UNIT_HZ})
#define HBK_RANGE_AIR                                                          \
    ((struct hbk_range){HBK_AIR_LEAST_C, HBK_AIR_MOST_C, HBK_UNIT_CELSIUS})

/*
 * Whether it is one value that says something and has no quotation marks of
 * print, which only free text has. The other readers ask first; `wanted` is
 * what should stand there, for the message.
 */
bool hbk_value_is_word(struct hbk_asked asked, const char *wanted);
/* A number without quotation marks, in the unit of the range. */
bool hbk_value_number(struct hbk_asked asked, struct hbk_range range,
                      double *value);
bool hbk_value_whole(struct hbk_asked asked, long low, long high, long *value);
/* true or false. */
bool hbk_value_bool(struct hbk_asked asked, bool *value);
/*
 * Text; runs of blanks and line ends become one blank. From 1 to `most`
 * characters, no control characters. Lives in the arena.
 */
bool hbk_value_text(struct hbk_asked asked, size_t most,
                    struct hbk_arena *arena, const char **value);
/* A note as in music/pitch.h, 0 to 127. */
bool hbk_value_note(struct hbk_asked asked, int *value);
/* The index of the value among `words`. */
bool hbk_value_choice(struct hbk_asked asked, const char *const words[],
                      size_t n, size_t *value);
/*
 * What a control is called in fingerings: 1 to 8 letters, digits or signs of
 * ASCII, without blank - = , : and not "0", which means nothing pressed.
 */
bool hbk_value_control_name(struct hbk_asked asked, const char **value);
/* Whether it is a list of `low` to `high` items. */
bool hbk_value_list(struct hbk_asked asked, size_t low, size_t high);
/* Whether it is a mapping; `form` shows one, for the message. */
bool hbk_value_map(struct hbk_asked asked, const char *form);

/* Adds an error about the value, "key 3: diameter: ..." at its place. */
void hbk_value_fault(struct hbk_asked asked, unsigned number, const char *fmt,
                     ...) HBK_PRINTF(3, 4);

#endif
