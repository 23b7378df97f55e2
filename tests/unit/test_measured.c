/*
 * The horns measured by museums, and the invented ones with a bore. What the
 * catalogues record is checked to the figure; what the solver makes of it is
 * a check of plausibility, never of the objects' intonation: flare,
 * mouthpiece, chimneys and unrecorded holes are assumed.
 */
#include "support/solved.h"

#include "horn/horn.h"
#include "solve/bore_chain.h"
#include "solve/column.h"

enum { PRESSES_MAX = HBK_CONTROLS_MAX + 1 };

/* A horn with everything home, and the peaks of one press after another. */
struct bored {
    struct solved s;
    size_t n;
    uint32_t presses[PRESSES_MAX];
    struct hbk_peak peaks[PRESSES_MAX * HBK_PEAK_STRIDE];
};

/* Press 0 is nothing, press i control i alone. */
static void bored_open(struct bored *b, const char *name)
{
    solved_read(&b->s, name);
    const struct hbk_horn *const horn = &b->s.horn;
    assert_int_equal(horn->model, HBK_MODEL_BORE);
    const struct hbk_rig rig = {.temperature_c = 20.0, .crook = -1};
    b->n = horn->n_controls + 1;
    b->presses[0] = 0;
    for (size_t i = 1; i < b->n; i++) {
        b->presses[i] = UINT32_C(1) << (i - 1);
    }
    assert_int_equal(
        hbk_column_peaks(horn, &rig, b->n, b->presses, b->peaks, &b->s.faults),
        HBK_OK);
}

static void bored_close(struct bored *b)
{
    solved_close(&b->s);
}

static double peak_hz(const struct bored *b, size_t press, unsigned partial)
{
    const double hz = b->peaks[press * HBK_PEAK_STRIDE + partial].hz;
    assert_true(hz > 0.0);
    return hz;
}

/* The diameter, in mm, of the station at x_mm; fails where there is none. */
static double diameter_at(const struct hbk_horn *horn, double x_mm)
{
    for (size_t i = 0; i < horn->bore.n_stations; i++) {
        const struct hbk_station *const station = &horn->bore.stations[i];
        if (fabs(1000.0 * station->x_m - x_mm) < 0.01) {
            return 2000.0 * station->radius_m;
        }
    }
    print_error("%s: no station at %g mm\n", horn->id, x_mm);
    fail();
    return 0.0;
}

/*
 * Distances from the receiver, or below 0 from the bell rim, and diameters,
 * mm, of the catalogues of the National Music Museum (10787, 7111, 7161) and
 * of MINIM-UK (42770, 41216, 41219, 41289). At 25 mm stands the narrowest
 * bore of the bugles, whose place is not recorded.
 */
static void the_catalogues_bores_stand_as_recorded(void **state)
{
    (void)state;
    static const struct {
        const char *horn;
        double length_mm, bell_mm;
        double bore[9][2];
    } cases[] = {
        {"keyed-bugle-c-6-munich", 1201, 155, {{0, 12.1}, {25, 11.3}}},
        {"keyed-bugle-b-flat-7-saxon", 1332, 145, {{0, 12.3}, {25, 11.8}}},
        {"keyed-trumpet-f-museum", 1811, 116, {{0, 10}}},
        {"ophicleide-c-9-museum",
         2499,
         209,
         {{0, 11.9},
          {15, 11.55},
          {291, 20.55},
          {336, 20.55},
          {444, 22.95},
          {494, 22.95},
          {719, 30.45},
          {-1250, 46},
          {-721, 65.05}}},
        {"ophicleide-c-11-museum",
         2452,
         209,
         {{0, 12},
          {22, 11.4},
          {360, 19.1},
          {405, 19.1},
          {554, 23.7},
          {888, 33},
          {970, 33},
          {-1226, 43},
          {-779, 60.8}}},
        {"ophicleide-b-flat-11-museum",
         2766,
         214,
         {{0, 13.4},
          {40, 12.95},
          {1035, 33},
          {1096, 33},
          {1383, 43.1},
          {-944, 60.95}}},
        {"cornet-b-flat-echo-bell-museum",
         1264, /* assumed */
         117,
         {{35, 8.55}, {347, 11.7}, {567, 11.7}, {-289, 16.95}, {-17.5, 67}}},
    };
    for (size_t c = 0; c < sizeof(cases) / sizeof(cases[0]); c++) {
        struct solved s;
        solved_read(&s, cases[c].horn);
        const double length_mm = 1000.0 * hbk_bore_axis_m(&s.horn);
        check_abs(length_mm, cases[c].length_mm, 1e-9);
        check_abs(diameter_at(&s.horn, length_mm), cases[c].bell_mm, 1e-9);
        for (size_t i = 0; i < 9 && cases[c].bore[i][1] > 0.0; i++) {
            const double x_mm = cases[c].bore[i][0];
            check_abs(
                diameter_at(&s.horn, x_mm < 0.0 ? length_mm + x_mm : x_mm),
                cases[c].bore[i][1], 1e-9);
        }
        solved_close(&s);
    }
}

/* The same catalogues: hole centres from the bell end and diameters, mm. */
static void the_catalogues_holes_stand_as_recorded(void **state)
{
    (void)state;
    static const struct {
        const char *horn;
        double holes[7][2];
    } cases[] = {
        {"keyed-bugle-c-6-munich",
         {{127, 27}, {212, 20}, {273, 25}, {321, 20}, {421, 20}, {476, 17}}},
        {"keyed-bugle-b-flat-7-saxon",
         {{107, 29},
          {191, 20},
          {249, 24},
          {301, 17},
          {380, 13},
          {440, 13.5},
          {475, 12}}},
    };
    for (size_t c = 0; c < sizeof(cases) / sizeof(cases[0]); c++) {
        struct solved s;
        solved_read(&s, cases[c].horn);
        for (size_t i = 0; i < s.horn.n_sites; i++) {
            const struct hbk_hole *const hole = &s.horn.sites[i].hole;
            check_abs(1000.0 * hole->from_bell_m, cases[c].holes[i][0], 1e-9);
            check_abs(1000.0 * hole->diameter_m, cases[c].holes[i][1], 1e-9);
            assert_int_equal(s.horn.sites[i].at_rest, i == 0);
        }
        solved_close(&s);
    }
    /* Sounding lengths of 1811 and 1698 mm, the lowest key shut and open. */
    struct solved s;
    solved_read(&s, "keyed-trumpet-f-museum");
    check_abs(1000.0 * hbk_bore_hole_m(&s.horn, &s.horn.sites[0]), 1698, 1e-9);
    solved_close(&s);
}

/*
 * The names engraved on the six keys (National Music Museum 10787): H, Cis,
 * D, Es, E, F, the first with its key shut. Opening one key after another
 * raises the second resonance in order, and each note lies within 70 cents
 * of its place above the B of the shut tube. The assumed bore was chosen with
 * this in view: the check guards the file and the solver, and says nothing
 * new of the object.
 */
static void the_engraved_notes_lie_where_the_keys_put_them(void **state)
{
    (void)state;
    static const char *const horns[] = {"keyed-bugle-c-6-munich",
                                        "keyed-bugle-e-flat-bore"};
    for (size_t h = 0; h < sizeof(horns) / sizeof(horns[0]); h++) {
        struct bored b;
        bored_open(&b, horns[h]);
        double below = peak_hz(&b, 1, 2); /* key 1 shut: every hole shut */
        const double lowest = below;
        for (size_t key = 1; key + 1 < b.n; key++) {
            const double hz = peak_hz(&b, key == 1 ? 0 : key, 2);
            assert_true(hz > below);
            check_abs(hbk_cents(hz, lowest), 100.0 * (double)key, 70.0);
            below = hz;
        }
        bored_close(&b);
    }
}

/*
 * With every key shut an ophicleide in C sounds the B below, one in B flat
 * the A, as first partial (Grove's Dictionary, 1880; the key names of the
 * catalogues), at the pitch its catalogue gives.
 */
static void the_all_shut_note_of_an_ophicleide_is_found(void **state)
{
    (void)state;
    static const struct {
        const char *horn, *note;
        double a4_hz;
    } cases[] = {{"ophicleide-c-9-museum", "B1", 435.0},
                 {"ophicleide-c-11-museum", "B1", 452.4},
                 {"ophicleide-b-flat-11-museum", "A1", 452.4}};
    for (size_t c = 0; c < sizeof(cases) / sizeof(cases[0]); c++) {
        struct bored b;
        bored_open(&b, cases[c].horn);
        const double note = hbk_note_hz(note_of(cases[c].note), cases[c].a4_hz);
        check_abs(hbk_cents(peak_hz(&b, 1, 1), note), 0.0, 70.0);
        /* Nothing else opens below the semitone of key 1. */
        for (size_t i = 2; i < b.n; i++) {
            assert_true(peak_hz(&b, i, 1) > peak_hz(&b, 0, 1));
        }
        bored_close(&b);
    }
}

/*
 * Makers aim at partials near a harmonic series. Cents from the mean of
 * those named; the bounds of the invented horns are what was asked of them,
 * those of the objects what the assumptions give, rounded up.
 */
static void the_partials_lie_near_a_harmonic_series(void **state)
{
    (void)state;
    static const struct {
        const char *horn;
        size_t press; /* 1: key 1 shut */
        unsigned low, high;
        double within;
    } cases[] = {{"keyed-bugle-e-flat-bore", 0, 2, 6, 40.0},
                 {"keyed-bugle-e-flat-bore", 1, 2, 6, 40.0},
                 {"cornet-b-flat-bore", 0, 2, 8, 40.0},
                 {"cornet-b-flat-echo-bell-museum", 0, 2, 8, 40.0},
                 {"keyed-bugle-c-6-munich", 0, 2, 6, 40.0},
                 {"keyed-bugle-c-6-munich", 1, 2, 6, 40.0},
                 {"keyed-bugle-b-flat-7-saxon", 1, 2, 6, 60.0},
                 {"keyed-trumpet-f-museum", 0, 3, 8, 45.0},
                 {"ophicleide-c-9-museum", 1, 2, 6, 70.0},
                 {"ophicleide-c-11-museum", 1, 2, 6, 50.0},
                 {"ophicleide-b-flat-11-museum", 1, 2, 6, 100.0}};
    for (size_t c = 0; c < sizeof(cases) / sizeof(cases[0]); c++) {
        struct bored b;
        bored_open(&b, cases[c].horn);
        double cents[HBK_PEAK_STRIDE];
        double sum = 0.0;
        for (unsigned p = cases[c].low; p <= cases[c].high; p++) {
            cents[p] = hbk_cents(peak_hz(&b, cases[c].press, p), p * 55.0);
            sum += cents[p];
        }
        const double mean = sum / (cases[c].high - cases[c].low + 1);
        for (unsigned p = cases[c].low; p <= cases[c].high; p++) {
            check_abs(cents[p], mean, cases[c].within);
        }
        bored_close(&b);
    }
}

/*
 * Valves of the usual compromise lower by about 2, 1 and 3 semitones; the
 * third a little more (published table of tuning tendencies).
 */
static void loops_lower_by_their_semitones(void **state)
{
    (void)state;
    static const char *const horns[] = {"cornet-b-flat-bore",
                                        "cornet-b-flat-echo-bell-museum"};
    static const double lowers[] = {200.0, 100.0, 315.0};
    for (size_t h = 0; h < 2; h++) {
        struct bored b;
        bored_open(&b, horns[h]);
        for (size_t valve = 1; valve <= 3; valve++) {
            const double cents =
                hbk_cents(peak_hz(&b, 0, 4), peak_hz(&b, valve, 4));
            check_abs(cents, lowers[valve - 1], 25.0);
        }
        bored_close(&b);
    }
}

/* An object is never shown as if all of it were measured. */
static void every_bore_says_what_is_assumed(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    const struct hbk_shipped_horn *horns = NULL;
    const size_t n = hbk_shipped_list(&arena, &horns);
    size_t bored = 0;
    for (size_t i = 0; i < n; i++) {
        struct solved s;
        solved_read(&s, horns[i].name);
        if (s.horn.model == HBK_MODEL_BORE) {
            bored++;
            assert_int_equal(s.horn.provenance[HBK_PART_MOUTHPIECE],
                             HBK_ASSUMED);
            assert_true(s.horn.n_remarks > 0);
        } else {
            assert_false(horns[i].is_measured);
        }
        solved_close(&s);
    }
    assert_int_equal(bored, 9);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_catalogues_bores_stand_as_recorded),
        cmocka_unit_test(the_catalogues_holes_stand_as_recorded),
        cmocka_unit_test(the_engraved_notes_lie_where_the_keys_put_them),
        cmocka_unit_test(the_all_shut_note_of_an_ophicleide_is_found),
        cmocka_unit_test(the_partials_lie_near_a_harmonic_series),
        cmocka_unit_test(loops_lower_by_their_semitones),
        cmocka_unit_test(every_bore_says_what_is_assumed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
