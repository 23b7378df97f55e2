#ifndef HBK_FIT_PARAMETERS_H
#define HBK_FIT_PARAMETERS_H

#include "horn/partials.h"
#include "horn/site.h"

struct hbk_arena;
struct hbk_horn;

/*
 * What is uncertain about a horn: the numbers of its file that readings may
 * correct. Each is a deviation d from the file, which is expected to be 0
 * with the standard deviation `sd`; d has the unit in which errors of that
 * kind are even, so that one horn is as likely to be short as long.
 */
enum hbk_parameter_kind {
    HBK_FIT_PITCH,      /* length model: cents by which the tube is sharp */
    HBK_FIT_LENGTH,     /* bore model: m more tube at the receiver */
    HBK_FIT_OFFSET,     /* bore model: cents of the player's offset */
    HBK_FIT_LOOP,       /* natural logarithm of a loop's length */
    HBK_FIT_HOLE_RAISE, /* length model: semitones more */
    HBK_FIT_HOLE_PLACE, /* m further from the bell */
    HBK_FIT_HOLE_SIZE,  /* bore model: logarithm of the effective diameter */
    HBK_FIT_VOLUME,     /* bore model: logarithm of the cup's volume */
    HBK_FIT_FLARE,      /* bore model: logarithm of the bore's width half
                           way down its bell half; the ends keep theirs */
    HBK_FIT_STRETCH,    /* length model: cents of one partial */
    HBK_FIT_CROOK       /* logarithm of the tube a crook adds */
};

struct hbk_parameter {
    enum hbk_parameter_kind kind;
    size_t index; /* site, partial or crook */
    double sd;    /* prior standard deviation of d, > 0 */
};

enum { HBK_PARAMETERS_MAX = 2 * HBK_SITES_MAX + HBK_PARTIALS_MAX + 64 };

struct hbk_parameters {
    const struct hbk_horn *horn; /* as the file has it; borrowed */
    size_t n;                    /* at most HBK_PARAMETERS_MAX */
    struct hbk_parameter items[HBK_PARAMETERS_MAX];
};

/*
 * How far a figure may be off, by where it comes from (one standard
 * deviation). Judgements of ours, chosen to be about twice what a careful
 * person with the object in hand would claim; `horn->fitted` replaces them
 * where earlier readings have told more.
 */
struct hbk_prior {
    double measured, catalogue, assumed; /* unstated counts as assumed */
};
struct hbk_prior hbk_parameter_prior(enum hbk_parameter_kind kind);

/* Everything uncertain about the horn. */
void hbk_parameters_list(const struct hbk_horn *horn,
                         struct hbk_parameters *parameters);

/*
 * The horn with the deviations d[n] put in. `changed` borrows from the horn
 * and from the arena, and must not be finished.
 *
 * Returns false when the result is no horn any more: a hole beyond the bell,
 * a key that raises by nothing.
 */
bool hbk_parameters_apply(const struct hbk_parameters *parameters,
                          const double d[], struct hbk_arena *arena,
                          struct hbk_horn *changed);

/* Beyond which place of the axis HBK_FIT_LENGTH moves everything, m. */
double hbk_parameters_insert_m(const struct hbk_horn *horn);

/* A value as the file has it, and what its deviation means for it. */
struct hbk_parameter_value {
    double value;     /* with d put in */
    double per_d;     /* by how much it moves for a small d */
    const char *unit; /* "mm", "%", "cents", "semitones", "ml", "Hz" */
    int decimals;     /* that are worth writing into a file */
};

struct hbk_parameter_value
hbk_parameter_value(const struct hbk_parameters *parameters, size_t i,
                    double d);

/* "loop of valve 1", "place of key 3"; lives in the arena. */
const char *hbk_parameter_words(const struct hbk_parameters *parameters,
                                size_t i, struct hbk_arena *arena);

#endif
