#ifndef HBK_READER_WORK_H
#define HBK_READER_WORK_H

#include "horn/control.h"
#include "horn/site.h"
#include "reader/fields.h"

struct hbk_horn;
struct hbk_station;

/*
 * A horn being read: what the parts of the horn reader share. Private to
 * src/reader. Each part reads its names of the file into the horn and adds
 * what is wrong to the faults; none stops at a fault.
 */
struct hbk_work {
    struct hbk_horn *horn;
    struct hbk_fields top;
    /*
     * Axis of the tube: its length, or for a horn of which only the
     * fundamental is known an upper bound; NAN when that was refused.
     */
    double tube_m;
    bool tube_is_bound;
    bool controls_overflow, sites_overflow; /* reported */
    struct hbk_fields control_fields[HBK_CONTROLS_MAX];
    struct hbk_fields site_fields[HBK_SITES_MAX]; /* where it was described */
    size_t site_control[HBK_SITES_MAX];           /* that works it */
};

/* The parts, in the order in which they are called. */
void hbk_work_about(struct hbk_work *work);
void hbk_work_tube(struct hbk_work *work);
void hbk_work_mouthpieces(struct hbk_work *work); /* after the tube */
void hbk_work_partials(struct hbk_work *work);    /* after the tube */
void hbk_work_keys(struct hbk_work *work);
void hbk_work_valves(struct hbk_work *work);
void hbk_work_slides(struct hbk_work *work);
void hbk_work_stuck(struct hbk_work *work); /* after controls and slides */
void hbk_work_check(struct hbk_work *work);
void hbk_work_fitted(struct hbk_work *work);

/* An entry of one of the lists: {key: 3, ...}. */
struct hbk_work_entry {
    struct hbk_fields fields; /* words: "key 3" */
    const char *name;         /* NULL when it was refused */
};

/*
 * The list of that name with at most `most` entries, or NULL when it is not
 * there or was refused.
 */
const struct hbk_node *hbk_work_list(struct hbk_work *work, const char *name,
                                     size_t most);

/*
 * Entry `i` of such a list; `kind` is the field that names it, such as
 * "key". False, after a fault, if it is no mapping.
 */
bool hbk_work_entry(struct hbk_work *work, const struct hbk_node *list,
                    size_t i, const char *kind, struct hbk_work_entry *entry);

/*
 * Adds a control with its name, fingers, action, provenance and whether it
 * is alone. Returns its index, or HBK_CONTROLS_MAX when there is no room.
 */
size_t hbk_work_add_control(struct hbk_work *work, enum hbk_control_kind kind,
                            const struct hbk_work_entry *entry);

/* Adds a site that a control works, with one term; NULL: no room. */
struct hbk_site *hbk_work_add_site(struct hbk_work *work,
                                   const struct hbk_fields *fields,
                                   size_t control, const struct hbk_site *site);

/* Refuses a name that is reserved, or that an entry before it has. */
void hbk_work_check_name(const struct hbk_fields *fields, const char *kind,
                         const char *name, const char *reserved, bool is_taken);

/* A list of stations; returns how many there are, 0 if any was refused. */
size_t hbk_work_stations(const struct hbk_fields *fields, const char *name,
                         size_t most, const struct hbk_station **result);

/* A length in mm, as metres. */
enum hbk_got hbk_work_mm(const struct hbk_fields *fields, const char *name,
                         double low_mm, double high_mm, double *metres);

/* `at`, which must lie within the tube. */
enum hbk_got hbk_work_at(const struct hbk_work *work,
                         const struct hbk_fields *fields, double *at_m);

/* `travel` in mm; false after a fault, also when there is none. */
bool hbk_work_travel(const struct hbk_fields *fields, double *travel_m);

/* measured, catalogue, assumed or pattern. */
void hbk_work_provenance(const struct hbk_fields *fields, const char *name,
                         enum hbk_provenance *provenance);

/* The widest bore at a place of a bore horn, m. */
double hbk_work_bore_radius(const struct hbk_work *work, double at_m);

enum { HBK_TUBE_MAX_MM = 30000, HBK_LIST_MAX = 100 };

#endif
