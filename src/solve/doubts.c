#include "solve/doubts.h"

#include "base/number.h"
#include "base/text.h"
#include "horn/tube.h"
#include "music/pitch.h"
#include "solve/length_column.h"

#include <math.h>
#include <stdio.h>

enum {
    H_LENGTH_UNIT = 410,
    H_OPEN_NOT_C = 411,
    H_KEYS_BACKWARDS = 412,
    H_OCTAVE = 413,
    H_PARTIAL_LEFT_OUT = 414,
    H_KEYS_ALIKE = 415,
    H_VALVE_IDLE = 416,
    H_VALVES_ALIKE = 417,
    H_VALVES_ONE_FINGER = 418
};

/* No brass instrument is that short, m. */
static const double shortest_m = 0.4;
/* A length and a pitch agree when they come so near. */
static const double length_slack_cents = 200.0;
/* Further off than slides and a strange pitch make it, nearer than a slip. */
static const double open_slack_cents = 75.0;
static const double semitone_slack_cents = 35.0;
/* Less than a valve of any use does; the least difference between two. */
static const double idle_cents = 40.0;
static const double alike_cents = 10.0;
static const double alike_semitones = 0.1;

static struct hbk_place whole_file(const struct hbk_horn *horn)
{
    return (struct hbk_place){.file = horn->path};
}

static double axis_m(const struct hbk_horn *horn)
{
    return horn->model == HBK_MODEL_LENGTH
               ? hbk_length_at_rest(horn)
               : horn->bore.stations[horn->bore.n_stations - 1].x_m;
}

/* How far f lies from the nearest octave of reference, -600 to 600. */
static double off_octave(double hz, double reference_hz)
{
    const double cents = hbk_cents(hz, reference_hz);
    return cents - (1200.0 * round(cents / 1200.0));
}

/* Whether it was told that the length is in another unit. */
static bool doubt_length(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    static const struct {
        const char *name, *sign;
        double mm;
    } units[] = {{"inches", "in", 25.4}, {"centimetres", "cm", 10.0}};
    const double c4_hz = hbk_note_hz(horn->written_c4_sounds, horn->a4_hz);
    const double is_m = axis_m(horn);
    if (is_m >= shortest_m) {
        return false;
    }
    for (size_t i = 0; i < sizeof(units) / sizeof(units[0]); i++) {
        const double meant_m = is_m * units[i].mm;
        const double hz =
            hbk_plain_speed(horn->temperature_c) / (2.0 * meant_m);
        if (fabs(off_octave(hz, c4_hz)) > length_slack_cents ||
            hz > 1.5 * c4_hz) {
            continue;
        }
        hbk_fault_warn(faults, whole_file(horn), H_LENGTH_UNIT,
                       "%s: a tube of %g mm is too short for what it should "
                       "sound; if these are %s, %g %s are %.1f mm",
                       horn->model == HBK_MODEL_BORE ? "bore" : "length",
                       is_m * 1000.0, units[i].name, is_m * 1000.0,
                       units[i].sign, meant_m * 1000.0);
        return true;
    }
    return false;
}

/* Cents of the open horn from its own C, by the middle of its low partials. */
static bool open_cents(const struct hbk_horn *horn, double *cents)
{
    enum { LOW = 2, HIGH = 8 };
    const struct hbk_rig rig = {.temperature_c = horn->temperature_c,
                                .crook = -1};
    const uint32_t open = 0;
    struct hbk_peak peaks[HBK_PEAK_STRIDE];
    struct hbk_faults unheard = {0}; /* told when the horn is solved */
    const double c4_hz = hbk_note_hz(horn->written_c4_sounds, horn->a4_hz);
    double off[HIGH];
    size_t n = 0;
    if (hbk_column_peaks(horn, &rig, 1, &open, peaks, &unheard) != HBK_OK) {
        return false;
    }
    for (unsigned p = LOW; p <= HIGH; p++) {
        if (peaks[p].hz <= 0.0) {
            continue;
        }
        const double value = off_octave(peaks[p].hz / p, c4_hz);
        size_t at = n++;
        for (; at > 0 && off[at - 1] > value; at--) {
            off[at] = off[at - 1];
        }
        off[at] = value;
    }
    if (n > 0) {
        *cents = off[n / 2];
    }
    return n > 0;
}

static void doubt_open(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    double cents = 0.0;
    /* What is written as it sounds need not have a C open. */
    if (horn->written_c4_sounds % 12 == 0 || !open_cents(horn, &cents) ||
        fabs(cents) <= open_slack_cents) {
        return;
    }
    const int sounds = horn->written_c4_sounds + (int)lround(cents / 100.0);
    char own[HBK_NAME_SIZE];
    char open[HBK_NAME_SIZE];
    hbk_spelling_letter(hbk_note_usual(horn->written_c4_sounds), HBK_ASCII,
                        own);
    hbk_spelling_letter(hbk_note_usual(sounds), HBK_ASCII, open);
    const bool is_german = (open[0] == 'B' && own[0] == 'B') &&
                           fabs(fabs(cents) - 100.0) < semitone_slack_cents;
    hbk_fault_warn(faults, whole_file(horn), H_OPEN_NOT_C,
                   "open, the horn sounds %s, %.0f cents %s its own C, which "
                   "is %s by written_c4_sounds; %s",
                   open, fabs(cents), cents > 0.0 ? "above" : "below", own,
                   is_german ? "B flat, which is B in German, is written Bb "
                               "here"
                             : "check its length and that note");
}

/* What tells where the hole of a key is: higher is nearer to the player. */
static double key_place(const struct hbk_horn *horn, size_t key, bool by_raise)
{
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind == HBK_HOLE && site->terms[0] == UINT32_C(1) << key) {
            return by_raise ? site->hole.raises : site->hole.from_bell_m;
        }
    }
    return NAN;
}

/* Pairs of keys whose numbers and places run the same or opposite ways. */
static void count_pairs(const struct hbk_horn *horn, bool by_raise,
                        size_t *alike, size_t *opposite)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        for (size_t k = 0; k < i; k++) {
            long a = 0;
            long b = 0;
            const double step =
                key_place(horn, i, by_raise) - key_place(horn, k, by_raise);
            if (horn->controls[i].kind != HBK_KEY ||
                horn->controls[k].kind != HBK_KEY || isnan(step) ||
                step == 0.0 ||
                !hbk_number_parse_whole(horn->controls[i].name, 1, 99, &a) ||
                !hbk_number_parse_whole(horn->controls[k].name, 1, 99, &b)) {
                continue;
            }
            if ((a > b) == (step > 0.0)) {
                ++*alike;
            } else {
                ++*opposite;
            }
        }
    }
}

static void doubt_key_numbers(const struct hbk_horn *horn,
                              struct hbk_faults *faults)
{
    enum { FEW = 3, TIMES = 4 };
    size_t alike = 0;
    size_t opposite = 0;
    count_pairs(horn, true, &alike, &opposite);
    const bool by_raise = alike + opposite > 0;
    if (!by_raise) {
        count_pairs(horn, false, &alike, &opposite);
    }
    if (opposite >= FEW && opposite > TIMES * alike) {
        hbk_fault_warn(faults, whole_file(horn), H_KEYS_BACKWARDS,
                       "keys: their numbers and %s run opposite ways; keys "
                       "are numbered from the bell, and the first raises least",
                       by_raise ? "what they raise by"
                                : "the distances of their holes from the bell");
    }
}

/* An open key said to be shut: it then raises what the next one does. */
static void doubt_open_key(const struct hbk_horn *horn,
                           struct hbk_faults *faults)
{
    const int first = hbk_horn_find_control(horn, HBK_KEY, "1");
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (first < 0 || horn->controls[i].stands_open) {
            return;
        }
    }
    const double raises =
        first < 0 ? (double)NAN : key_place(horn, (size_t)first, true);
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind == HBK_KEY && (int)i != first &&
            fabs(key_place(horn, i, true) - raises) < alike_semitones) {
            hbk_fault_warn(faults, whole_file(horn), H_KEYS_ALIKE,
                           "keys 1 and %s both raise by %g semitone%s, and no "
                           "key stands open; if key 1 does, write 'rest: open' "
                           "and 'raises: -%g'",
                           horn->controls[i].name, raises,
                           raises == 1.0 ? "" : "s", raises);
            return;
        }
    }
}

/* Cents that a valve alone lowers or raises by, from its own loops. */
static double valve_cents(const struct hbk_horn *horn, size_t valve,
                          const struct hbk_site **loop)
{
    const double rest_m = axis_m(horn);
    double tube_m = rest_m;
    for (size_t k = 0; k < horn->n_sites; k++) {
        const struct hbk_site *const site = &horn->sites[k];
        if (site->kind == HBK_LOOP && !site->loop.is_drawn &&
            site->n_terms == 1 && site->terms[0] == UINT32_C(1) << valve) {
            tube_m +=
                (site->at_rest ? -1.0 : 1.0) * hbk_loop_length(site, rest_m);
            *loop = site;
        }
    }
    return fabs(hbk_cents(tube_m, rest_m));
}

static void doubt_idle_valve(const struct hbk_horn *horn, size_t valve,
                             struct hbk_faults *faults)
{
    const struct hbk_site *loop = NULL;
    const double cents = valve_cents(horn, valve, &loop);
    char advice[96] = "check its loop";
    if (loop == NULL || cents >= idle_cents) {
        return;
    }
    const double value = loop->loop.value;
    if (loop->loop.measure == HBK_LOOP_METRES && value * 1000.0 < 50.0) {
        (void)snprintf(advice, sizeof(advice),
                       "if the loop is a share of the tube, write '%g %%'",
                       value * 1000.0);
    } else if (loop->loop.measure == HBK_LOOP_CENTS && value <= 12.0) {
        (void)snprintf(advice, sizeof(advice),
                       "cents are wanted, as in %g for %g semitone%s",
                       value * 100.0, value, value == 1.0 ? "" : "s");
    } else if (loop->loop.measure == HBK_LOOP_SHARE) {
        (void)snprintf(advice, sizeof(advice),
                       "a tone takes about 12 %% of the tube");
    }
    hbk_fault_warn(faults, loop->origin, H_VALVE_IDLE,
                   "valve %s %s by %.0f cents only; %s",
                   horn->controls[valve].name,
                   loop->at_rest ? "raises" : "lowers", cents, advice);
}

static void doubt_two_valves(const struct hbk_horn *horn, size_t first,
                             size_t second, struct hbk_faults *faults)
{
    const struct hbk_control *const a = &horn->controls[first];
    const struct hbk_control *const b = &horn->controls[second];
    const struct hbk_site *loop = NULL;
    const struct hbk_site *other = NULL;
    const double cents = valve_cents(horn, first, &loop);
    const double cents_too = valve_cents(horn, second, &other);
    if (loop != NULL && other != NULL && loop->at_rest == other->at_rest &&
        cents >= idle_cents && fabs(cents - cents_too) < alike_cents) {
        hbk_fault_warn(faults, other->origin, H_VALVES_ALIKE,
                       "valves %s and %s both %s by %.0f cents; check their "
                       "loops",
                       a->name, b->name, loop->at_rest ? "raise" : "lower",
                       cents_too);
    }
    if (a->n_fingers == 1 && b->n_fingers == 1 &&
        a->fingers[0] == b->fingers[0] && !a->alone && !b->alone) {
        hbk_fault_warn(faults, other == NULL ? whole_file(horn) : other->origin,
                       H_VALVES_ONE_FINGER,
                       "valves %s and %s are both worked by the %s, so they "
                       "are never down together; check their fingers",
                       a->name, b->name, hbk_finger_words(a->fingers[0]));
    }
}

static void doubt_valves(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind != HBK_VALVE) {
            continue;
        }
        doubt_idle_valve(horn, i, faults);
        for (size_t k = 0; k < i; k++) {
            if (horn->controls[k].kind == HBK_VALVE) {
                doubt_two_valves(horn, k, i, faults);
            }
        }
    }
}

void hbk_doubt_horn(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    if (!doubt_length(horn, faults)) {
        doubt_open(horn, faults);
        doubt_valves(horn, faults);
    }
    doubt_key_numbers(horn, faults);
    doubt_open_key(horn, faults);
}

/* Every note on high partials: written an octave above where it is played. */
static bool doubt_octave(const struct hbk_notes *notes,
                         struct hbk_faults *faults)
{
    enum { HIGH = 4 };
    const struct hbk_horn *const horn = notes->horn;
    unsigned lowest = HBK_PARTIALS_MAX;
    size_t n = 0;
    for (size_t i = 0; i < notes->n; i++) {
        const struct hbk_note *const note = &notes->notes[i];
        if (note->n > 0 && note->fingerings[0].partial < lowest) {
            lowest = note->fingerings[0].partial;
        }
        n += note->n > 0 ? 1 : 0;
    }
    if (!horn->has_compass || n < 2 || lowest < HIGH ||
        horn->partials.lowest >= HIGH / 2 + 1) {
        return false;
    }
    char name[HBK_NAME_SIZE];
    hbk_fault_warn(
        faults, whole_file(horn), H_OCTAVE,
        "written_c4_sounds: no note of the compass is played on a partial "
        "below %u; if that is not meant, is it an octave too high? An octave "
        "lower is %s",
        lowest,
        hbk_spelling_name(hbk_note_usual(horn->written_c4_sounds - 12),
                          HBK_ASCII, name));
    return true;
}

/*
 * The lowest octave lies below all that sounds, the fundamental with it: then
 * it is written an octave too low. Where the fundamental would give most of
 * it, players are more likely to use that.
 */
static bool doubt_low_octave(const struct hbk_notes *notes,
                             const struct hbk_gaps *gaps,
                             struct hbk_faults *faults)
{
    enum { OCTAVE = 12 };
    const struct hbk_horn *const horn = notes->horn;
    size_t n = 0;       /* how many in a row, from the bottom */
    size_t n_given = 0; /* how many of these the fundamental would give */
    for (; n < gaps->n; n++) {
        if (gaps->items[n].written != notes->lowest + (int)n) {
            break;
        }
        n_given += gaps->items[n].reason == HBK_GAP_PARTIAL ? 1 : 0;
    }
    if (!horn->has_compass || n < OCTAVE || 3 * n_given > 2 * n) {
        return false;
    }
    char name[HBK_NAME_SIZE];
    char low[HBK_NAME_SIZE];
    char high[HBK_NAME_SIZE];
    hbk_spelling_name(hbk_note_usual(notes->lowest), HBK_ASCII, low);
    hbk_spelling_name(hbk_note_usual(notes->lowest + (int)n - 1), HBK_ASCII,
                      high);
    hbk_fault_warn(
        faults, whole_file(horn), H_OCTAVE,
        "written_c4_sounds: the lowest octave of the compass, %s to %s, is out "
        "of reach; is it an octave too low? An octave higher is %s",
        low, high,
        hbk_spelling_name(hbk_note_usual(horn->written_c4_sounds + OCTAVE),
                          HBK_ASCII, name));
    return true;
}

static void doubt_partials(const struct hbk_notes *notes,
                           const struct hbk_gaps *gaps,
                           struct hbk_faults *faults)
{
    enum { FEW = 3 };
    const struct hbk_partials *const used = &notes->horn->partials;
    size_t below = 0;
    size_t above = 0;
    unsigned lowest = used->lowest;
    unsigned highest = used->highest;
    for (size_t i = 0; i < gaps->n; i++) {
        const struct hbk_gap *const gap = &gaps->items[i];
        if (gap->reason == HBK_GAP_PARTIAL && gap->partial < used->lowest) {
            below++;
            lowest = gap->partial < lowest ? gap->partial : lowest;
        } else if (gap->reason == HBK_GAP_PARTIAL) {
            above++;
            highest = gap->partial > highest ? gap->partial : highest;
        }
    }
    if (below >= FEW) {
        hbk_fault_warn(faults, whole_file(notes->horn), H_PARTIAL_LEFT_OUT,
                       "partials: %zu of %zu notes of the compass are lost "
                       "because players are said to use no partial below %u; "
                       "if they do, write 'partials: {lowest: %u}'",
                       below, notes->n, used->lowest, lowest);
    }
    if (above >= FEW) {
        hbk_fault_warn(faults, whole_file(notes->horn), H_PARTIAL_LEFT_OUT,
                       "partials: %zu of %zu notes of the compass are lost "
                       "because players are said to use no partial above %u; "
                       "if they do, write 'partials: {highest: %u}'",
                       above, notes->n, used->highest, highest);
    }
}

void hbk_doubt_notes(const struct hbk_notes *notes, const struct hbk_gaps *gaps,
                     struct hbk_faults *faults)
{
    if (!doubt_octave(notes, faults) &&
        !doubt_low_octave(notes, gaps, faults)) {
        doubt_partials(notes, gaps, faults);
    }
}
