/*
 * The horns measured by museums, and the invented ones with a bore. That the
 * files say what the records do is for test_records.c; what the solver makes
 * of them is a check of plausibility, never of the objects' intonation:
 * flare, mouthpiece, chimneys and unrecorded holes are assumed.
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

/*
 * The names engraved on the six keys (National Music Museum 10787): H, Cis,
 * D, Es, E, F, the first with its key shut. Opening one key after another
 * raises the second resonance in order, and none comes a semitone from its
 * name, which would make it its neighbour. The assumed bore was chosen with
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
            check_abs(hbk_cents(hz, lowest), 100.0 * (double)key, 100.0);
            below = hz;
        }
        bored_close(&b);
    }
}

/*
 * With every key shut an ophicleide in C sounds the B below, one in B flat
 * the A, as first partial (Grove's Dictionary, 1880; the key names of the
 * catalogues), at the pitch its catalogue gives. The first resonance of a wide
 * horn lies sharp of its lowest note, but by less than the semitone to the
 * next.
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
        check_abs(hbk_cents(peak_hz(&b, 1, 1), note), 0.0, 100.0);
        /* Nothing else opens below the semitone of key 1. */
        for (size_t i = 2; i < b.n; i++) {
            assert_true(peak_hz(&b, i, 1) > peak_hz(&b, 0, 1));
        }
        bored_close(&b);
    }
}

/*
 * Makers aim at partials near a harmonic series, and the invented horns were
 * made with that in view: within 40 cents of the mean of those named, which is
 * what was asked of them. Nothing of the kind is asked of the objects.
 */
static void invented_partials_lie_near_a_harmonic_series(void **state)
{
    (void)state;
    static const struct {
        const char *horn;
        size_t press; /* 1: key 1 shut */
        unsigned low, high;
    } cases[] = {{"keyed-bugle-e-flat-bore", 0, 2, 6},
                 {"keyed-bugle-e-flat-bore", 1, 2, 6},
                 {"cornet-b-flat-bore", 0, 2, 8}};
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
            check_abs(cents[p], mean, 40.0);
        }
        bored_close(&b);
    }
}

/*
 * Valves of the usual compromise lower by about 2, 1 and 3 semitones; the
 * third a little more (published table of tuning tendencies). The bore is no
 * cylinder, so that no figure of a cylinder holds: each lies nearer to its
 * own interval than to any other.
 */
static void loops_lower_by_their_semitones(void **state)
{
    (void)state;
    static const char *const horns[] = {"cornet-b-flat-bore",
                                        "cornet-b-flat-echo-bell-museum",
                                        "cornet-b-flat-low-pitch-museum"};
    static const double lowers[] = {200.0, 100.0, 315.0};
    for (size_t h = 0; h < 3; h++) {
        struct bored b;
        bored_open(&b, horns[h]);
        for (size_t valve = 1; valve <= 3; valve++) {
            const double cents =
                hbk_cents(peak_hz(&b, 0, 4), peak_hz(&b, valve, 4));
            check_abs(cents, lowers[valve - 1], 50.0);
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
    assert_int_equal(bored, 10);
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_engraved_notes_lie_where_the_keys_put_them),
        cmocka_unit_test(the_all_shut_note_of_an_ophicleide_is_found),
        cmocka_unit_test(invented_partials_lie_near_a_harmonic_series),
        cmocka_unit_test(loops_lower_by_their_semitones),
        cmocka_unit_test(every_bore_says_what_is_assumed),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
