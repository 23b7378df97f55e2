/*
 * A fitted horn written to a file and read again is the fitted horn, for
 * every way of describing one that the shipped and the good files show.
 */
#include "support/rng.h"
#include "support/solved.h"

#include "fit/changes.h"
#include "fit/fit.h"
#include "fit/predict.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "reader/horn_write.h"

enum { READ_MAX = 40 };

/* Thousandths of a mm, rounded: 0.035 on one shipped horn, 0.03 on the rest. */
static const double print_cents = 0.04;

/* Every second note of a horn, best fingering, as its tuner might show it. */
struct notebook {
    struct hbk_reading_set set;
    struct hbk_reading items[READ_MAX];
    struct hbk_readings readings;
    size_t n;
    struct hbk_sounding asked[READ_MAX];
    struct hbk_rig rig;
    double draw_m[16];
    struct hbk_soundings soundings;
};

static void fill(struct notebook *book, const struct hbk_notes *notes,
                 struct hbk_arena *arena)
{
    const struct hbk_horn *const horn = notes->horn;
    struct rng rng = {.state = 11};
    const double overall = 25.0;
    memset(book, 0, sizeof(*book));
    for (size_t i = 0;
         i < notes->n && book->n<READ_MAX; i += notes->n> 12 ? 2 : 1) {
        const struct hbk_note *const note = &notes->notes[i];
        const struct hbk_fingering *const best = note->fingerings;
        if (note->n == 0 || best->drawn_m > 0.0) {
            continue;
        }
        char label[HBK_LABEL_SIZE];
        hbk_horn_press_label(horn, best->press, label);
        book->items[book->n] = (struct hbk_reading){
            .note = note->written,
            .fingering = hbk_arena_printf(arena, "%s", label),
            .partial = best->partial,
            .cents = best->cents + overall + 6.0 * rng_normal(&rng),
            .uncertainty_cents = 3.0,
            .a4_hz = horn->a4_hz,
            .temperature_c = horn->temperature_c,
            .set = &book->set};
        book->asked[book->n++] =
            (struct hbk_sounding){.press = best->press,
                                  .partial = best->partial,
                                  .reference_hz = note->target_hz};
    }
    book->readings = (struct hbk_readings){.path = "book.yaml",
                                           .source = "made: \"by chance\"",
                                           .n = book->n,
                                           .readings = book->items};
    book->rig = (struct hbk_rig){.temperature_c = horn->temperature_c,
                                 .crook = -1,
                                 .draw_m = book->draw_m};
    book->soundings = (struct hbk_soundings){
        .n = book->n, .items = book->asked, .n_rigs = 1, .rigs = &book->rig};
    hbk_soundings_prepare(&book->soundings, arena);
}

static const char *rewrite(const struct hbk_horn *horn,
                           const struct hbk_fit *fit, struct hbk_arena *arena)
{
    struct hbk_fit_edition edition;
    struct hbk_faults faults = {0};
    struct hbk_text out = {.arena = arena};
    hbk_fit_edit(fit, arena, &edition);
    const struct hbk_horn_edition job = {.path = horn->path,
                                         .changes = &edition.changes,
                                         .fitted = &edition.fitted,
                                         .remark = edition.remark,
                                         .headline = "fitted"};
    assert_int_equal(hbk_horn_rewrite(&job, arena, &out, &faults), HBK_OK);
    return hbk_text_string(&out);
}

/* What a horn, without any deviation, sounds. */
static void sound(const struct hbk_horn *horn, const struct notebook *book,
                  double cents[])
{
    static struct hbk_parameters list;
    const double none[HBK_PARAMETERS_MAX] = {0};
    hbk_parameters_list(horn, &list);
    assert_int_equal(hbk_predict(&list, none, &book->soundings, NULL, cents),
                     HBK_OK);
}

static void check_written(const char *name, const struct hbk_horn *horn,
                          const struct hbk_horn *again)
{
    assert_string_equal(again->name, horn->name);
    assert_int_equal(again->n_controls, horn->n_controls);
    assert_int_equal(again->n_sites, horn->n_sites);
    assert_int_equal(again->n_slides, horn->n_slides);
    assert_int_equal(again->n_crooks, horn->n_crooks);
    assert_int_equal(again->n_remarks, horn->n_remarks + 1);
    for (size_t i = 0; i < horn->n_remarks; i++) {
        assert_string_equal(again->remarks[i], horn->remarks[i]);
    }
    if (horn->source != NULL) {
        assert_string_equal(again->source, horn->source);
    }
    if (again->fitted.n_readings < 4) {
        print_error("%s: %zu readings\n", name, again->fitted.n_readings);
    }
    assert_true(again->fitted.n_readings > 3);
    assert_true(again->fitted.n > 0);
    assert_string_equal(again->fitted.source, "made: \"by chance\"");
    for (size_t i = 0; i < again->fitted.n; i++) {
        const struct hbk_fitted_value *const value = &again->fitted.values[i];
        if (!(value->uncertainty > 0.0) || value->n_readings == 0) {
            print_error("%s: %s\n", name, value->what);
        }
        assert_true(value->uncertainty > 0.0 && value->n_readings > 0);
    }
}

/* What goes in beyond tube that was put in has moved with it. */
static void check_places(const struct hbk_fit *fit,
                         const struct hbk_horn *again, struct hbk_arena *arena)
{
    const double print_m = 1e-5;
    struct hbk_horn after;
    (void)hbk_parameters_apply(&fit->parameters, fit->d, arena, &after);
    for (size_t i = 0; i < after.n_slides; i++) {
        if (!isnan(after.slides[i].at_m)) {
            check_abs(again->slides[i].at_m, after.slides[i].at_m, print_m);
        }
    }
    for (size_t i = 0; i < after.n_crooks; i++) {
        assert_int_equal(isnan(again->crooks[i].at_m),
                         isnan(after.crooks[i].at_m));
        if (!isnan(after.crooks[i].at_m)) {
            check_abs(again->crooks[i].at_m, after.crooks[i].at_m, print_m);
        }
    }
}

/* What of the bore is assumed ends at the stations where it ended. */
static void check_assumed(const struct hbk_bore *was, const struct hbk_bore *is)
{
    assert_int_equal(is->n_assumed, was->n_assumed);
    for (size_t i = 0; i < was->n_assumed; i++) {
        for (size_t k = 0; k < was->n_stations; k++) {
            if (was->stations[k].x_m == was->assumed[i].from_m) {
                check_abs(is->assumed[i].from_m, is->stations[k].x_m, 0.0);
            }
            if (was->stations[k].x_m == was->assumed[i].to_m) {
                check_abs(is->assumed[i].to_m, is->stations[k].x_m, 0.0);
            }
        }
    }
}

static void check_round_trip(const char *name)
{
    static struct solved s;
    static struct notebook book;
    static struct hbk_horn again;
    solved_open(&s, name);
    fill(&book, &s.notes, &s.arena);
    struct hbk_fit fit;
    struct hbk_faults faults = {0};
    assert_int_equal(
        hbk_fit_horn(&s.horn, &book.readings, &s.arena, &fit, &faults), HBK_OK);
    const char *const text = rewrite(&s.horn, &fit, &s.arena);
    faults = (struct hbk_faults){0};
    const enum hbk_status status =
        hbk_horn_read_text("fitted.yaml", text, strlen(text), &again, &faults);
    if (status != HBK_OK) {
        char line[600];
        hbk_fault_format(&faults.items[0], line, sizeof(line));
        print_error("%s: %s\n%s\n", name, line, text);
    }
    assert_int_equal(status, HBK_OK);
    check_written(name, &s.horn, &again);
    check_places(&fit, &again, &s.arena);
    check_assumed(&s.horn.bore, &again.bore);
    double want[READ_MAX];
    double got[READ_MAX];
    assert_int_equal(
        hbk_predict(&fit.parameters, fit.d, &book.soundings, NULL, want),
        HBK_OK);
    sound(&again, &book, got);
    for (size_t i = 0; i < book.n; i++) {
        if (!(fabs(got[i] - want[i]) < print_cents)) {
            print_error("%s, note %zu\n%s\n", name, i, text);
        }
        check_abs(got[i], want[i], print_cents);
    }
    hbk_horn_finish(&again);
    solved_close(&s);
}

static void every_shipped_horn_comes_back(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t i = 0; i < n; i++) {
        check_round_trip(horns[i].name);
    }
    hbk_arena_finish(&arena);
}

/* Ways of describing a horn that no shipped one needs. */
static void other_horns_come_back(void **state)
{
    (void)state;
    static const char *const names[] = {
        "tests/data/good/compensating.yaml",
        "tests/data/good/ascending.yaml",
        "tests/data/good/six-independent.yaml",
        "tests/data/good/keyed-bugle-by-length.yaml",
        "tests/data/good/based-on.yaml",
        "tests/data/good/based-on-twice.yaml",
        "tests/data/good/yaml-forms.yaml",
        "tests/data/good/cornet-by-bore.yaml",
        "tests/data/good/bugle-by-bore.yaml",
        "tests/data/good/quick-change.yaml",
    };
    for (size_t i = 0; i < sizeof(names) / sizeof(names[0]); i++) {
        check_round_trip(names[i]);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_shipped_horn_comes_back),
        cmocka_unit_test(other_horns_come_back),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
