#include "solve/doubts.h"

#include "acoustics/air.h"
#include "base/messages.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "solve/doubts_controls.h"
#include "solve/doubts_pitch.h"
#include "solve/doubts_slides.h"
#include "solve/reads.h"
#include "solve/rest.h"

#include <math.h>

/* No brass instrument is that short, m. */
static const double shortest_m = 0.4;
/* A length and a pitch agree when they come so near. */
static const double length_slack_cents = 200.0;
/* Further off than slides and a strange pitch make it, nearer than a slip. */
static const double open_slack_cents = 75.0;
static const double crook_slack_cents = 60.0;
/* Partial 1 is at the highest the C that is written C4, and some sharper. */
static const double high_share = 1.5;
static const double semitone_slack_cents = 25.0;
/* Beyond the mouthpiece no bore widens or narrows so much and back again. */
static const double mouthpiece_m = 0.15;
static const double bulge = 2.0;

/* Whether it was told that the length is in another unit. */
static bool doubt_length(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    static const struct {
        const char *name, *sign;
        double mm;
    } units[] = {{"inches", "in", 25.4}, {"centimeters", "cm", 10.0}};
    const double c4_hz = hbk_note_hz(horn->written_c4_sounds, horn->a4_hz);
    const double is_m = hbk_axis_at_rest(horn);
    if (is_m >= shortest_m || !isnan(horn->fundamental_hz)) {
        return false;
    }
    for (size_t i = 0; i < sizeof(units) / sizeof(units[0]); i++) {
        const double meant_m = is_m * units[i].mm;
        const double hz =
            hbk_speed_of_sound(horn->temperature_c) / (2.0 * meant_m);
        if (fabs(hbk_cents_in_octave(hz, c4_hz)) > length_slack_cents ||
            hz > high_share * c4_hz) {
            continue;
        }
        hbk_fault_warn(faults, hbk_whole_file(horn->path), HBK_H_LENGTH_UNIT,
                       "%s: a tube of %g mm is too short for what it should "
                       "sound; if these are %s, %g %s are %.1f mm",
                       horn->model == HBK_MODEL_BORE ? "bore" : "length",
                       is_m * 1000.0, units[i].name, is_m * 1000.0,
                       units[i].sign, meant_m * 1000.0);
        return true;
    }
    return false;
}

/* Whether it was told that partial 1 lies above what it is an octave below. */
static bool doubt_fundamental(const struct hbk_horn *horn,
                              struct hbk_faults *faults)
{
    const double c4_hz = hbk_note_hz(horn->written_c4_sounds, horn->a4_hz);
    if (!(horn->fundamental_hz > high_share * c4_hz)) {
        return false;
    }
    hbk_fault_warn(faults, hbk_whole_file(horn->path), HBK_H_FUNDAMENTAL_HIGH,
                   "fundamental: %.4g Hz is higher than written C4, which "
                   "sounds %.4g Hz; it is that of the whole tube, an octave or "
                   "two lower",
                   horn->fundamental_hz, c4_hz);
    return true;
}

/* Valves one at a time: the open horn is the lowest of them, not the C. */
static bool is_independent(const struct hbk_horn *horn)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (!horn->controls[i].alone || !horn->controls[i].rests_in) {
            return false;
        }
    }
    return horn->n_controls > 0;
}

static void doubt_open(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    double cents = 0.0;
    /* In the other clefs what is written as it sounds need not have a C. */
    const bool as_it_sounds = horn->written_c4_sounds % 12 == 0;
    if ((as_it_sounds && horn->clef != HBK_TREBLE) || is_independent(horn) ||
        !hbk_open_cents(horn, 0, &cents) || fabs(cents) <= open_slack_cents) {
        return;
    }
    const int sounds =
        horn->written_c4_sounds + (int)lround(cents / HBK_SEMITONE_CENTS);
    char own[HBK_NAME_SIZE];
    char open[HBK_NAME_SIZE];
    hbk_spelling_letter(hbk_note_usual(horn->written_c4_sounds), HBK_ASCII,
                        own);
    hbk_spelling_letter(hbk_note_usual(sounds), HBK_ASCII, open);
    const bool is_german =
        (open[0] == 'B' && own[0] == 'B') &&
        fabs(fabs(cents) - HBK_SEMITONE_CENTS) < semitone_slack_cents;
    hbk_fault_warn(faults, hbk_whole_file(horn->path), HBK_H_OPEN_NOT_C,
                   "open, the horn sounds %s, %.0f cents %s its own C, which "
                   "is %s by written_c4_sounds; %s",
                   open, fabs(cents), cents > 0.0 ? "above" : "below", own,
                   is_german      ? "B flat, which is B in German, is "
                                    "written Bb here"
                   : as_it_sounds ? "for parts that are written higher or "
                                    "lower than they sound, give what written "
                                    "C4 sounds"
                                  : "check its length and that note");
}

/* Whether a station is far wider or narrower than both its neighbours. */
static bool doubt_bore(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    const struct hbk_bore *const bore = &horn->bore;
    for (size_t i = 1; i + 1 < bore->n_stations; i++) {
        const struct hbk_station *const s = &bore->stations[i];
        const double low = fmin(s[-1].radius_m, s[1].radius_m);
        const double high = fmax(s[-1].radius_m, s[1].radius_m);
        if (s->x_m > mouthpiece_m &&
            (s->radius_m > bulge * high || s->radius_m * bulge < low)) {
            hbk_fault_warn(faults, hbk_whole_file(horn->path), HBK_H_BORE_BULGE,
                           "bore, station %zu: %g mm at %g mm, but %g mm "
                           "before it and %g mm after; check that diameter",
                           i + 1, s->radius_m * 2000.0, s->x_m * 1000.0,
                           s[-1].radius_m * 2000.0, s[1].radius_m * 2000.0);
            return true;
        }
    }
    return false;
}

/*
 * A crook that is said to leave the key as it is, or to raise it: the length
 * tells which key that is.
 */
static void doubt_crook_key(const struct hbk_horn *horn,
                            const struct hbk_crook *crook, double lowers,
                            struct hbk_faults *faults)
{
    const int meant = (int)fmax(
        horn->written_c4_sounds - round(lowers / HBK_SEMITONE_CENTS), 0.0);
    const bool is_own = crook->written_c4_sounds == horn->written_c4_sounds;
    char said[HBK_NAME_SIZE];
    char makes[HBK_NAME_SIZE];
    hbk_fault_warn(
        faults, hbk_whole_file(horn->path), HBK_H_CROOK_LENGTH,
        "crook %s: its written_c4_sounds, %s, %s, but %g mm lower the horn by "
        "%.0f cents, to %s; check both",
        crook->name, hbk_note_name(crook->written_c4_sounds, HBK_ASCII, said),
        is_own ? "is the horn's own" : "is above the horn's",
        crook->adds_m * 1000.0, lowers, hbk_note_name(meant, HBK_ASCII, makes));
}

/* What a crook adds, against the key it is said to put the horn in. */
static void doubt_crooks(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    const double rest_m = hbk_axis_at_rest(horn);
    for (size_t c = 0; c < horn->n_crooks; c++) {
        const struct hbk_crook *const crook = &horn->crooks[c];
        const double lowers = hbk_cents(rest_m + crook->adds_m, rest_m);
        const double wanted = HBK_SEMITONE_CENTS * (horn->written_c4_sounds -
                                                    crook->written_c4_sounds);
        if (!crook->has_written_c4 ||
            fabs(lowers - wanted) <= crook_slack_cents) {
            continue;
        }
        if (wanted <= 0.0) {
            doubt_crook_key(horn, crook, lowers, faults);
            continue;
        }
        hbk_fault_warn(faults, hbk_whole_file(horn->path), HBK_H_CROOK_LENGTH,
                       "crook %s: %g mm lower the horn by %.0f cents, but its "
                       "written_c4_sounds is %.0f below the horn's; that "
                       "takes about %.0f mm",
                       crook->name, crook->adds_m * 1000.0, lowers, wanted,
                       1000.0 * rest_m * (hbk_cents_ratio(wanted) - 1.0));
    }
}

/* A tuning note that has the name of what C sounds. */
static void doubt_tuning_note(const struct hbk_horn *horn,
                              struct hbk_faults *faults)
{
    const int own = horn->written_c4_sounds % 12;
    const int note = horn->tuning_note;
    char name[HBK_NAME_SIZE];
    char written[HBK_NAME_SIZE];
    if (own == 0 || note % 12 != own || horn->has_tuning_press) {
        return;
    }
    const int meant = note - horn->written_c4_sounds + HBK_NOTE_C4;
    hbk_fault_warn(
        faults, hbk_whole_file(horn->path), HBK_H_TUNING_NOTE_SOUNDING,
        "tuning: note: %s is a written note here; if what sounds is meant, "
        "that is written %s",
        hbk_note_name(note, HBK_ASCII, name),
        hbk_note_name(meant, HBK_ASCII, written));
}

void hbk_doubt_horn(const struct hbk_horn *horn, struct hbk_faults *faults)
{
    if (!doubt_length(horn, faults) && !doubt_fundamental(horn, faults)) {
        if (!doubt_bore(horn, faults)) {
            doubt_open(horn, faults);
        }
        doubt_crooks(horn, faults);
        hbk_doubt_valves(horn, faults);
    }
    hbk_doubt_keys(horn, faults);
    hbk_doubt_slides(horn, faults);
    doubt_tuning_note(horn, faults);
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
        faults, hbk_whole_file(horn->path), HBK_H_OCTAVE_OUT,
        "written_c4_sounds: no note of the compass is played on a partial "
        "below %u; if that is not meant, is it an octave too high? An octave "
        "lower is %s",
        lowest, hbk_note_name(horn->written_c4_sounds - 12, HBK_ASCII, name));
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
    hbk_note_name(notes->lowest, HBK_ASCII, low);
    hbk_note_name(notes->lowest + (int)n - 1, HBK_ASCII, high);
    hbk_fault_warn(
        faults, hbk_whole_file(horn->path), HBK_H_OCTAVE_OUT,
        "written_c4_sounds: the lowest octave of the compass, %s to %s, is "
        "not available; is it an octave too low? An octave higher is %s",
        low, high,
        hbk_note_name(horn->written_c4_sounds + OCTAVE, HBK_ASCII, name));
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
        hbk_fault_warn(faults, hbk_whole_file(notes->horn->path),
                       HBK_H_PARTIAL_LEFT_OUT,
                       "partials: %zu of %zu notes of the compass are lost "
                       "because players are said to use no partial below %u; "
                       "if they do, write 'partials: {lowest: %u}'",
                       below, notes->n, used->lowest, lowest);
    }
    if (above >= FEW) {
        hbk_fault_warn(faults, hbk_whole_file(notes->horn->path),
                       HBK_H_PARTIAL_LEFT_OUT,
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
    hbk_doubt_pitch(notes, faults);
}
