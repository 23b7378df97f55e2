#include "support/passages.h"

#include "base/file.h"
#include "horn/horn.h"
#include "passage/lip.h"
#include "passage/surcharge.h"
#include "passage/timing.h"
#include "tune/melody/transpose.h"

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* All 31 notes as taught (common practice, no source), slowly. */
static void a_slow_chromatic_scale_is_as_taught(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    played_run(&p,
               "F#3 G3 G#3 A3 Bb3 B3 C4 C#4 D4 Eb4 E4 F4 F#4 G4 G#4 A4 Bb4 B4 "
               "C5 C#5 D5 Eb5 E5 F5 F#5 G5 G#5 A5 Bb5 B5 C6",
               60.0);
    assert_string_equal(
        played_labels(&p),
        "1-2-3 1-3 2-3 1-2 1 2 0 1-2-3 1-3 2-3 1-2 1 2 0 2-3 1-2 1 2 0 1-2 1 2 "
        "0 1 2 0 2-3 1-2 1 2 0");
    assert_int_equal(p.passage.n_departures, 0);
    assert_int_equal(p.passage.n_hard, 0);
    played_close(&p);
}

/* Airs that everybody knows, at the tempo written over them. */
static void plain_tunes_are_as_taught(void **state)
{
    (void)state;
    static const char *const horns[] = {"cornet-b-flat", "cornopean-b-flat",
                                        "keyed-bugle-c-6"};
    for (size_t h = 0; h < COUNT(horns); h++) {
        struct played p;
        played_horn(&p, horns[h]);
        for (int x = 1; x <= 12; x++) {
            char number[8];
            (void)snprintf(number, sizeof(number), "%d", x);
            const struct hbk_tune_options which = {.tune = number};
            struct hbk_faults faults = {.count = 0};
            played_forget(&p);
            assert_int_equal(hbk_tune_read("tests/data/tunes.abc", &which,
                                           &p.document, &faults),
                             HBK_OK);
            played_find(&p, (double)NAN, false, 1);
            assert_int_equal(p.passage.n_out, 0);
            assert_int_equal(p.passage.n_hard, 0);
            /* Its dotted figure is quick enough for two B's on the bugle. */
            const bool quick = x == 7 && h == 2;
            assert_int_equal(p.passage.n_departures, quick ? 2 : 0);
        }
        played_close(&p);
    }
}

/*
 * What players do when it goes fast (common practice, no source): shakes
 * stay on one partial, and one finger does them.
 */
static void fast_shakes_keep_partial_and_fingers(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    played_run(&p,
               "(F#5:1/16 E5:1/16 F#5:1/16 E5:1/16 F#5:1/16 E5:1/16 F#5:1/16 "
               "E5:1/16) F#5",
               120.0);
    assert_string_equal(played_labels(&p), "2 1-2 2 1-2 2 1-2 2 1-2 2");
    assert_string_equal(
        p.passage.notes[1].why,
        "with 0, after F\xE2\x99\xAF"
        "5: the partial changes from 6 to 5, and back after it");
    assert_int_equal(p.passage.notes[1].candidates->of[1]->partial, 6);
    played_run(
        &p,
        "D4:1/16 E4:1/16 D4:1/16 E4:1/16 D4:1/16 E4:1/16 D4:1/16 E4:1/16 D4",
        120.0);
    assert_string_equal(played_labels(&p), "1-3 3 1-3 3 1-3 3 1-3 3 1-3");
    assert_string_equal(
        p.passage.notes[1].why,
        "with 1-2, after D4: valve 3 up as valve 2 goes down (right ring, "
        "right middle), and back after it; with 3, valve 3 stays down");
    /* The same notes at leisure. */
    played_run(&p, "D4 E4 D4 E4 D4 | F#5 E5 F#5 E5 F#5", 120.0);
    assert_string_equal(played_labels(&p), "1-3 1-2 1-3 1-2 1-3 2 0 2 0 2");
    played_close(&p);
}

/*
 * A key stays open under a higher one (inferred from the keys of National
 * Music Museum 10787; fingers of 7312 there).
 */
static void fast_crossings_on_keys_hold_the_lower_one(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "keyed-bugle-c-6");
    played_run(&p, "E4:1/16 F4:1/16 E4:1/16 F4:1/16 E4", 120.0);
    assert_string_equal(played_labels(&p), "5 5-6 5 5-6 5");
    assert_string_equal(
        p.passage.notes[1].why,
        "with 6, after E4: key 5 up as key 6 goes down (left thumb, left "
        "index), and back after it; with 5-6, key 5 stays down");
    /* The two thumbs. */
    played_run(&p, "Eb4:1/16 E4:1/16 Eb4:1/16 E4:1/16 Eb4", 120.0);
    assert_string_equal(played_labels(&p), "4 4-5 4 4-5 4");
    assert_non_null(strstr(p.passage.notes[1].why, "two thumbs in turn"));
    played_run(&p, "E4 F4 Eb4 E4 C#4 D4", 100.0);
    assert_string_equal(played_labels(&p), "5 6 4 5 2 3");
    played_close(&p);
}

/*
 * Key 5 and 6 together sound as 6, so 6 may come before 5 is gone; 12 and 13
 * together sound as neither.
 */
static void crossing_is_safe_where_no_wrong_note_sounds(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "keyed-bugle-c-6");
    played_run(&p, "E4 F4", 60.0);
    /* The left thumb up, 16 + 55 * 1.1; half of 20; a second finger 10. */
    check_abs(p.passage.notes[1].hands_s, 0.0765 + 0.010 + 0.010, 1e-12);
    played_close(&p);
    played_horn(&p, "cornet-b-flat");
    played_run(&p, "D4 E4", 60.0);
    check_abs(p.passage.notes[1].hands_s, 0.1175, 1e-12);
    played_close(&p);
}

/* Rests and short notes give the fingers time, slurs take it. */
static void time_is_what_rests_and_articulation_leave(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    played_read(&p, "X:1\nT:t\nM:4/4\nL:1/8\nQ:1/4=100\nK:C\nC D z E (F G) .A "
                    "B|HC z DE4|]\n");
    played_find(&p, (double)NAN, false, 1);
    static const double want[] = {0.3, 0.6,
                                  0.3, 0.3 * HBK_TIMING_SLURRED,
                                  0.3, 0.3 * HBK_TIMING_STACCATO,
                                  0.3, 0.6 * HBK_TIMING_FERMATA,
                                  0.3};
    for (size_t i = 0; i < COUNT(want); i++) {
        check_abs(p.passage.notes[i + 1].available_s, want[i], 1e-9);
        assert_int_equal(p.passage.notes[i + 1].before, i);
    }
    assert_int_equal(p.passage.notes[0].before, HBK_TUNE_NONE);
    played_close(&p);
}

static void grace_notes_come_before_the_beat(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    played_read(&p,
                "X:1\nT:t\nM:2/4\nL:1/4\nQ:1/4=100\nK:C\nD{EF}D|{C}E/4{DCDC}"
                "E/4E3/2|]\n");
    played_find(&p, (double)NAN, false, 1);
    const struct hbk_passage_note *const notes = p.passage.notes;
    check_abs(notes[1].available_s, 0.6 - (2 * HBK_TIMING_GRACE_S), 1e-9);
    check_abs(notes[2].available_s, HBK_TIMING_GRACE_S * HBK_TIMING_SLURRED,
              1e-9);
    /* Four of them share half of a note of 0.15 s. */
    const double each_s = 0.15 * HBK_TIMING_GRACE_SHARE / 4.0;
    check_abs(notes[7].available_s, each_s * HBK_TIMING_SLURRED, 1e-9);
    /* They are quick at any tempo, so none is called hard. */
    assert_int_equal(p.passage.n_hard, 0);
    played_close(&p);
}

/* The tempo that is told really suffices, and hardly anything faster. */
static void hard_places_become_playable(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    static const char *const run = "C4:1/16 D4:1/16 F4:1/16 C#4:1/16 C4:1/16";
    played_run(&p, run, 200.0);
    assert_true(p.passage.n_hard > 0);
    double slowest = 200.0;
    for (size_t i = 0; i < p.passage.n; i++) {
        const struct hbk_passage_note *const note = &p.passage.notes[i];
        const bool hard = fmax(note->hands_s, note->lip_s) >
                          HBK_PASSAGE_HARD * note->available_s;
        assert_true(hard == (note->playable_quarters > 0.0));
        slowest = hard ? fmin(slowest, note->playable_quarters) : slowest;
    }
    const char *const labels = played_labels(&p);
    char fast[64];
    (void)snprintf(fast, sizeof(fast), "%s", labels);
    played_run(&p, run, slowest * 0.999);
    assert_string_equal(played_labels(&p), fast);
    assert_int_equal(p.passage.n_hard, 0);
    played_run(&p, run, slowest * 1.001);
    assert_int_equal(p.passage.n_hard, 1);
    played_close(&p);
}

static void what_the_file_says_is_kept(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    static const char *const abc =
        "X:1\nT:t\nM:4/4\nL:1/4\nQ:1/4=100\nK:C\n\"_3\"E\"_13\"G\"_1-2\"D"
        "\"_9\"C|\"_0\"C\"_1+2+3\"^C\"_open\"G\"_2\"B|]\n";
    played_read(&p, abc);
    played_find(&p, (double)NAN, true, 2);
    assert_string_equal(played_labels(&p), "3 1-3 1-3 0 0 1-2-3 0 2");
    static const enum hbk_passage_kept want[] = {
        HBK_PASSAGE_KEPT,    HBK_PASSAGE_KEPT, HBK_PASSAGE_UNPLAYABLE,
        HBK_PASSAGE_UNKNOWN, HBK_PASSAGE_KEPT, HBK_PASSAGE_KEPT,
        HBK_PASSAGE_KEPT,    HBK_PASSAGE_KEPT};
    for (size_t i = 0; i < COUNT(want); i++) {
        assert_int_equal(p.passage.notes[i].kept, want[i]);
    }
    assert_string_equal(p.passage.notes[0].why, "as the file has it");
    assert_int_equal(p.passage.notes[0].n_choices, 1);
    /* Without being asked, nothing is kept. */
    played_find(&p, (double)NAN, false, 1);
    assert_string_equal(played_labels(&p), "1-2 0 1-3 0 0 1-2-3 0 2");
    assert_int_equal(p.passage.notes[0].kept, HBK_PASSAGE_FREE);
    played_close(&p);
}

/* A trill asks for a fingering that has one, to the next note of the key. */
static void trills_use_their_table(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    played_read(&p, "X:1\nT:t\nM:4/4\nL:1/4\nQ:1/4=100\nK:C\n!trill!e2 "
                    "!trill!D2|!trill!G2!trill!c'2|]\n");
    played_find(&p, (double)NAN, false, 1);
    assert_string_equal(played_labels(&p), "1-2 1-3 1-3 0");
    const struct hbk_passage_note *const notes = p.passage.notes;
    assert_int_equal(notes[0].trill.interval, 1);
    assert_int_equal(notes[1].trill.kind, HBK_TRILL_EASY);
    assert_int_equal(notes[1].trill.upper->press, 4); /* valve 3 */
    assert_string_equal(notes[2].why, "for the trill");
    assert_int_equal(notes[3].trill.kind, HBK_TRILL_NONE);
    assert_true(notes[3].wants_trill);
    /* With F sharp in the key, the trill of E is a whole tone. */
    played_read(&p, "X:1\nT:t\nM:4/4\nL:1/4\nQ:1/4=100\nK:G\n!trill!e4|]\n");
    played_find(&p, (double)NAN, false, 1);
    assert_int_equal(p.passage.notes[0].trill.interval, 2);
    assert_string_equal(played_labels(&p), "1-2");
    played_close(&p);
}

static void notes_out_of_reach_are_listed(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat-two-valve");
    played_run(&p, "C4 D4 E4 | G#4 C3 C5", 100.0);
    assert_int_equal(p.passage.n_out, 3);
    assert_int_equal(p.passage.out[0], 1);
    assert_int_equal(p.passage.out[1], 3);
    assert_int_equal(p.passage.out[2], 4);
    assert_int_equal(p.passage.n, 3);
    assert_int_equal(p.passage.note_of[1], HBK_TUNE_NONE);
    assert_int_equal(p.passage.note_of[2], 1);
    /* From C4 to E4 there are two quarter notes. */
    check_abs(p.passage.notes[1].available_s, 1.2, 1e-9);
    /* Nothing but such notes. */
    played_run(&p, "C2 D2", 100.0);
    assert_int_equal(p.passage.n, 0);
    assert_int_equal(p.passage.n_out, 2);
    assert_int_equal(p.passage.n_ways, 1);
    played_close(&p);
}

/* The same tube, read by its sounding notes: tune and horn moved alike. */
static void moving_tune_and_horn_changes_no_fingering(void **state)
{
    (void)state;
    static const char *const run =
        "C4:1/16 D4:1/16 E4:1/16 D4:1/16 E4:1/16 F4:1/16 G4:1/16 E4:1/16 | "
        "E5:1/16 F#5:1/16 E5:1/16 F#5:1/16 "
        "G5:1/16 F#5:1/16 E5:1/16 D5:1/16 | C#5:1/16 D5:1/16 C#5:1/16 A4:1/16 "
        "G4";
    static const char *const horns[] = {"cornet-b-flat",
                                        "keyed-bugle-b-flat-6"};
    for (size_t h = 0; h < COUNT(horns); h++) {
        struct played p;
        played_horn(&p, horns[h]);
        played_run(&p, run, 126.0);
        char labels[256];
        (void)snprintf(labels, sizeof(labels), "%s", played_labels(&p));
        const double price = p.passage.ways[0].price;
        assert_true(p.passage.n_departures > 0);
        struct hbk_horn *const horn = &p.horn.horn;
        const int shift = horn->written_c4_sounds - HBK_NOTE_C4;
        horn->written_c4_sounds -= shift;
        horn->tuning_note += shift;
        horn->lowest += shift;
        horn->highest += shift;
        solved_run(&p.horn);
        struct hbk_tune moved;
        assert_int_equal(
            hbk_tune_transposed(&p.document.tune, shift, &p.arena, &moved),
            HBK_OK);
        p.document.tune = moved;
        played_find(&p, 126.0, false, 3);
        assert_string_equal(played_labels(&p), labels);
        check_abs(p.passage.ways[0].price, price, 1e-6);
        played_close(&p);
    }
}

/* Two notes of one performance, and what they are played with. */
struct both {
    const struct hbk_candidates *from, *to;
    size_t x, y;
    double time_s;
};

/* What hands and lip cost between them. */
static double price_between(const struct played *p, const struct both *both)
{
    const struct hbk_fingering *const f = both->from->of[both->x];
    const struct hbk_fingering *const g = both->to->of[both->y];
    const double hands =
        hbk_pressed_price(hbk_candidates_move_s(&p->keywork, both->from,
                                                both->x, both->to, both->y),
                          both->time_s);
    const bool one_sound = both->from != both->to && f->press == g->press &&
                           f->partial == g->partial;
    return hands +
           (one_sound
                ? HBK_PRICE_ONE_SOUND
                : hbk_pressed_price(hbk_lip_least_s(f->partial, g->partial),
                                    both->time_s));
}

/*
 * The price of a whole performance as passage/find.h states it, on a horn of
 * valves; `held` says whether what is charged for holding is in it.
 */
static double price_of(const struct played *p,
                       const struct hbk_tune_performance *performance,
                       const size_t pick[], bool held)
{
    double price = 0.0;
    for (size_t i = 0; i < performance->n; i++) {
        const struct hbk_tune_played *const item = &performance->items[i];
        const size_t note = p->passage.note_of[item->event];
        const struct hbk_candidates *const list =
            p->passage.notes[note].candidates;
        const struct hbk_fingering *const f = list->of[pick[note]];
        const double cents2 = f->cents * f->cents;
        price +=
            f->cost - cents2 + (cents2 * hbk_lip_heard(item->length_s)) +
            (pick[note] > 0 ? hbk_departure_price(list->of[0], f) : 0.0) +
            (pick[note] > 0 && held ? hbk_held_price(item->length_s) : 0.0);
        if (i == 0) {
            continue;
        }
        const size_t before = p->passage.note_of[item[-1].event];
        const struct both both = {.from = p->passage.notes[before].candidates,
                                  .to = list,
                                  .x = pick[before],
                                  .y = pick[note],
                                  .time_s = item->onset_s - item[-1].onset_s};
        price += price_between(p, &both);
    }
    return price;
}

enum { WAYS = 3, NOTES_MAX = 8 };

/* Whether a fingering was left to choose (hbk_graph_bar_strays). */
static bool is_open(const struct hbk_passage_note *note, size_t candidate)
{
    for (size_t k = 0; k < note->n_choices; k++) {
        if (note->choices[k].candidate == candidate) {
            return true;
        }
    }
    return false;
}

static bool are_open(const struct played *p, const size_t pick[])
{
    for (size_t i = 0; i < p->passage.n; i++) {
        if (!is_open(&p->passage.notes[i], pick[i])) {
            return false;
        }
    }
    return true;
}

/* The least prices of all sets of open fingerings, by trying every one. */
static void try_everything(const struct played *p,
                           const struct hbk_tune_performance *performance,
                           double best[WAYS])
{
    size_t pick[NOTES_MAX] = {0};
    for (size_t w = 0; w < WAYS; w++) {
        best[w] = INFINITY;
    }
    for (;;) {
        double price = are_open(p, pick) ? price_of(p, performance, pick, true)
                                         : (double)INFINITY;
        for (size_t w = 0; w < WAYS; w++) {
            if (price < best[w]) {
                const double worse = best[w];
                best[w] = price;
                price = worse;
            }
        }
        size_t i = p->passage.n;
        while (i > 0 &&
               ++pick[i - 1] == p->passage.notes[i - 1].candidates->n) {
            pick[--i] = 0;
        }
        if (i == 0) {
            return;
        }
    }
}

/* xorshift64* (Vigna 2016, from memory): the same numbers everywhere. */
static size_t below(uint64_t *seed, size_t n)
{
    *seed ^= *seed >> 12;
    *seed ^= *seed << 25;
    *seed ^= *seed >> 27;
    return (size_t)(((*seed * UINT64_C(2685821657736338717)) >> 33) % n);
}

/* A tune of a few short notes; three in four have repeats or endings. */
static void make_tune(uint64_t *seed, char abc[256])
{
    static const char *const names[] = {"=D", "=E", "=F", "^F", "=G",
                                        "^G", "=A", "=c", "^c", "=d",
                                        "=e", "=f", "^f", "=g"};
    static const char *const shapes[] = {"%s%s%s%s%s%s|]", "|:%s%s%s%s%s:|%s|]",
                                         "%s|:%s%s%s|1%s:|2%s|]",
                                         "|:%s%s|1%s%s:|2%s:|3%s|]"};
    char note[6][16];
    for (size_t i = 0; i < COUNT(note); i++) {
        (void)snprintf(note[i], sizeof(note[i]), "%s%s",
                       names[below(seed, COUNT(names))],
                       below(seed, 4) == 0 ? "2" : "");
    }
    const int used =
        snprintf(abc, 256, "X:1\nT:t\nM:none\nL:1/16\nQ:1/4=%zu\nK:C\n",
                 80 + below(seed, 240));
    char bars[128];
    const size_t shape = below(seed, COUNT(shapes));
    /* The shapes are ours, and each has six places. */
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
    (void)snprintf(bars, sizeof(bars), shapes[shape], note[0], note[1], note[2],
                   note[3], note[4], note[5]);
#pragma GCC diagnostic pop
    (void)snprintf(abc + used, 256 - (size_t)used, "%s\n", bars);
}

/* The model of passage/find.h and the search together, repeats among them. */
static void as_good_as_trying_everything(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    size_t departed = 0;
    for (uint64_t first = 1; first <= 400; first++) {
        uint64_t seed = first;
        char abc[256];
        make_tune(&seed, abc);
        played_read(&p, abc);
        played_find(&p, (double)NAN, false, WAYS);
        assert_int_equal(p.passage.n, 6);
        assert_true(p.passage.exact);
        struct hbk_tune_performance performance;
        assert_int_equal(hbk_tune_unfold(&p.document.tune, (double)NAN,
                                         &p.arena, &performance),
                         HBK_OK);
        double best[WAYS];
        try_everything(&p, &performance, best);
        for (size_t w = 0; w < p.passage.n_ways; w++) {
            /* Each cost is rounded to a thousandth. */
            const struct hbk_passage_way *const way = &p.passage.ways[w];
            /* Times are rounded to a nanosecond. */
            const double limit = fmax(0.05, 1e-6 * best[w]);
            if (fabs(way->price + way->held - best[w]) > limit) {
                print_error("seed %u: %s", (unsigned)first, abc);
            }
            check_abs(way->price + way->held, best[w], limit);
        }
        departed += p.passage.n_departures > 0 ? 1 : 0;
    }
    assert_true(departed > 50); /* else little was asked */
    played_close(&p);
}

/* The price of another choice is what the whole then costs more. */
static void choices_are_priced_for_the_whole(void **state)
{
    (void)state;
    struct played p;
    played_horn(&p, "cornet-b-flat");
    played_read(&p,
                "X:1\nT:t\nM:none\nL:1/16\nQ:1/4=120\nK:C\n|:DEDE|1 e^fef:|2 "
                "gage|]\n");
    played_find(&p, (double)NAN, false, 1);
    struct hbk_tune_performance performance;
    assert_int_equal(
        hbk_tune_unfold(&p.document.tune, (double)NAN, &p.arena, &performance),
        HBK_OK);
    size_t pick[16] = {0};
    for (size_t i = 0; i < p.passage.n; i++) {
        pick[i] = p.passage.notes[i].taken;
        assert_int_equal(p.passage.notes[i].times, i < 4 ? 2 : 1);
    }
    const double whole = price_of(&p, &performance, pick, false);
    check_abs(p.passage.ways[0].price, whole, 0.05);
    for (size_t i = 0; i < p.passage.n; i++) {
        const struct hbk_passage_note *const note = &p.passage.notes[i];
        assert_int_equal(note->choices[0].candidate, note->taken);
        assert_int_equal(note->n_choices, note->candidates->n);
        for (size_t k = 1; k < note->n_choices; k++) {
            assert_true(note->choices[k].extra_cost >=
                        note->choices[k - 1].extra_cost);
            pick[i] = note->choices[k].candidate;
            check_abs(note->choices[k].extra_cost,
                      price_of(&p, &performance, pick, false) - whole, 0.05);
        }
        pick[i] = note->taken;
    }
    played_close(&p);
}

/*
 * One note held alone: what another fingering costs more. Leaving what is
 * taught is charged by the ranking and not once more by the passage; another
 * that is taught as well costs the passage's own price.
 */
static void a_departure_is_charged_once(void **state)
{
    (void)state;
    static const struct {
        const char *horn, *note, *usual, *other;
        double charged, added;
    } cases[] = {
        {"cornet-b-flat", "E4", "1-2", "3", HBK_PRICE_UNTAUGHT_VALVES, 0.0},
        {"keyed-bugle-c-6", "B4", "1", "5", 0.0, HBK_PRICE_DEPARTURE},
        {"keyed-bugle-c-6", "Bb5", "4", "0", HBK_PRICE_UNTAUGHT_KEYS, 0.0},
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct played p;
        played_horn(&p, cases[i].horn);
        played_run(&p, cases[i].note, 60.0);
        const struct hbk_passage_note *const note = &p.passage.notes[0];
        const struct hbk_fingering *const usual =
            fingering_of(&p.horn, cases[i].note, cases[i].usual, 0);
        const struct hbk_fingering *const other =
            fingering_of(&p.horn, cases[i].note, cases[i].other, 0);
        assert_ptr_equal(note->candidates->of[0], usual);
        check_abs(other->untaught, cases[i].charged, 0.0);
        check_abs(hbk_departure_price(usual, other), cases[i].added, 0.0);
        /* Held so long that all of both deviations counts but a tenth. */
        const double deaf = 1.0 - hbk_lip_heard(1.0);
        const double heard = deaf * ((other->cents * other->cents) -
                                     (usual->cents * usual->cents));
        bool seen = false;
        for (size_t k = 0; k < note->n_choices; k++) {
            if (note->candidates->of[note->choices[k].candidate] == other) {
                seen = true;
                check_abs(note->choices[k].extra_cost,
                          other->cost - usual->cost - heard + cases[i].added,
                          0.05);
            }
        }
        assert_true(seen);
        played_close(&p);
    }
    /* Both untaught, or from an untaught one to what is taught: all of it. */
    const struct hbk_fingering taught = {.untaught = 0.0};
    const struct hbk_fingering left = {.untaught = 250.0};
    check_abs(hbk_departure_price(&left, &left), HBK_PRICE_DEPARTURE, 0.0);
    check_abs(hbk_departure_price(&left, &taught), HBK_PRICE_DEPARTURE, 0.0);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(a_slow_chromatic_scale_is_as_taught),
        cmocka_unit_test(plain_tunes_are_as_taught),
        cmocka_unit_test(fast_shakes_keep_partial_and_fingers),
        cmocka_unit_test(fast_crossings_on_keys_hold_the_lower_one),
        cmocka_unit_test(crossing_is_safe_where_no_wrong_note_sounds),
        cmocka_unit_test(time_is_what_rests_and_articulation_leave),
        cmocka_unit_test(grace_notes_come_before_the_beat),
        cmocka_unit_test(hard_places_become_playable),
        cmocka_unit_test(what_the_file_says_is_kept),
        cmocka_unit_test(trills_use_their_table),
        cmocka_unit_test(notes_out_of_reach_are_listed),
        cmocka_unit_test(moving_tune_and_horn_changes_no_fingering),
        cmocka_unit_test(as_good_as_trying_everything),
        cmocka_unit_test(choices_are_priced_for_the_whole),
        cmocka_unit_test(a_departure_is_charged_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
