#include "support/passages.h"

#include "passage/lip.h"
#include "passage/surcharge.h"
#include "passage/timing.h"

/* The prices of passage/find.h: the least is found, each charged once. */

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

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
        cmocka_unit_test(as_good_as_trying_everything),
        cmocka_unit_test(choices_are_priced_for_the_whole),
        cmocka_unit_test(a_departure_is_charged_once),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
