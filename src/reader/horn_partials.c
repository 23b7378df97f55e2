#include "reader/work.h"

#include "acoustics/air.h"
#include "base/messages.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "reader/shown.h"

#include <math.h>

/* Which partials a player uses. */

/* The usual highest, and how near a partial must come to the top note. */
enum { USUAL_HIGHEST = 8 };
static const double near_cents = 50.0;
/* A bore tells its length along the axis, which is not quite the half wave. */
static const double octave_slack_cents = 350.0;

/*
 * The frequency of partial 1 at rest, about; NAN when the tube was refused.
 * A bore is as long as its axis, nearly: its partial 1 is the written C next
 * to that, for on nearly every horn partials 1, 2, 4 and 8 are such (common
 * practice, no source).
 */
static double fundamental_hz(const struct hbk_work *work)
{
    const struct hbk_horn *const horn = work->horn;
    if (!isnan(horn->fundamental_hz)) {
        return horn->fundamental_hz;
    }
    const double hz =
        hbk_speed_of_sound(horn->temperature_c) / (2.0 * work->tube_m);
    if (horn->model != HBK_MODEL_BORE || isnan(hz)) {
        return hz;
    }
    const double c4_hz = hbk_note_hz(horn->written_c4_sounds, horn->a4_hz);
    const double octaves = round(hbk_cents(hz, c4_hz) / HBK_OCTAVE_CENTS);
    const double c_hz = c4_hz * exp2(octaves);
    return fabs(hbk_cents(hz, c_hz)) <= octave_slack_cents ? c_hz : hz;
}

/*
 * The lowest partial, 8 or higher and not to be avoided, that reaches the top
 * of the compass on the horn at rest; with valves one to lower from. 8 where
 * no compass is given.
 */
static unsigned usual_highest(const struct hbk_work *work)
{
    const struct hbk_horn *const horn = work->horn;
    const double hz = fundamental_hz(work);
    if (!horn->has_compass || !(hz > 0.0)) {
        return USUAL_HIGHEST;
    }
    const double top_hz = hbk_note_hz(
        horn->highest + horn->written_c4_sounds - HBK_NOTE_C4, horn->a4_hz);
    unsigned partial = USUAL_HIGHEST;
    while (partial < HBK_PARTIALS_MAX &&
           (horn->partials.avoid[partial] ||
            hbk_cents(partial * hz, top_hz) < -near_cents)) {
        partial++;
    }
    return partial;
}

static void read_avoid(const struct hbk_fields *fields,
                       struct hbk_partials *partials)
{
    const struct hbk_node *list = NULL;
    if (hbk_field_list(fields, "avoid", 0, HBK_PARTIALS_MAX, &list) !=
        HBK_GOT) {
        return;
    }
    for (unsigned p = 0; p <= HBK_PARTIALS_MAX; p++) {
        partials->avoid[p] = false;
    }
    struct hbk_asked asked = hbk_fields_ask(fields, "avoid");
    for (size_t i = 0; i < list->n; i++) {
        long partial = 0;
        asked.node = &list->items[i];
        if (hbk_value_whole(asked, 1, HBK_PARTIALS_MAX, &partial)) {
            partials->avoid[partial] = true;
        }
    }
}

/* The number of a partial as a name of a mapping has it; 0 for none. */
static unsigned partial_of(const char *name)
{
    unsigned partial = 0;
    for (size_t i = 0; name[i] != '\0'; i++) {
        if (i == 2 || name[i] < (i == 0 ? '1' : '0') || name[i] > '9') {
            return 0;
        }
        partial = (10 * partial) + (unsigned)(name[i] - '0');
    }
    return partial <= HBK_PARTIALS_MAX ? partial : 0;
}

static void read_stretch(const struct hbk_fields *fields,
                         struct hbk_partials *partials)
{
    static const struct hbk_range range = {-300.0, 300.0, HBK_UNIT_CENTS};
    struct hbk_fields stretch;
    if (hbk_field_map(fields, "stretch", "{3: -5, 5: +8}", &stretch) !=
        HBK_GOT) {
        return;
    }
    for (size_t i = 0; i < stretch.map->n; i++) {
        const struct hbk_entry *const entry = &stretch.map->entries[i];
        const unsigned partial = partial_of(entry->name);
        if (hbk_fields_half_number(&stretch, i)) {
            continue;
        }
        if (partial == 0) {
            char shown[HBK_SHOWN_SIZE];
            hbk_fault_add(fields->faults, entry->place, HBK_H_NOT_A_PARTIAL,
                          "%s: '%s' is not the number of a partial; write one "
                          "from 1 to %d before the colon, its cents after it",
                          stretch.words, hbk_shown(entry->name, shown),
                          HBK_PARTIALS_MAX);
            continue;
        }
        (void)hbk_field_number(&stretch, entry->name, range,
                               &partials->stretch_cents[partial]);
    }
}

static void read_ends(const struct hbk_fields *fields,
                      struct hbk_partials *partials)
{
    long lowest = partials->lowest;
    long highest = partials->highest;
    const enum hbk_got low =
        hbk_field_whole(fields, "lowest", 1, HBK_PARTIALS_MAX, &lowest);
    const enum hbk_got high =
        hbk_field_whole(fields, "highest", 1, HBK_PARTIALS_MAX, &highest);
    if (low != HBK_REFUSED && high != HBK_REFUSED && lowest > highest) {
        hbk_fields_fault(fields, HBK_H_PARTIALS_UPSIDE_DOWN,
                         "the lowest, %ld, is above the highest, %ld; "
                         "exchange them",
                         lowest, highest);
    }
    partials->lowest = (unsigned)lowest;
    partials->highest = (unsigned)highest;
}

void hbk_work_partials(struct hbk_work *work)
{
    static const char *const known[] = {"lowest", "highest", "avoid",
                                        "stretch"};
    struct hbk_partials *const partials = &work->horn->partials;
    struct hbk_fields fields;
    const enum hbk_got got = hbk_field_map(&work->top, "partials",
                                           "{lowest: 2, highest: 8}", &fields);
    if (got == HBK_GOT) {
        hbk_fields_known(&fields, known, sizeof(known) / sizeof(known[0]));
        read_avoid(&fields, partials);
        read_stretch(&fields, partials);
    }
    partials->highest = usual_highest(work);
    if (got == HBK_GOT) {
        read_ends(&fields, partials);
    }
}
