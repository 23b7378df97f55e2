/*
 * Reports about horns as wholes, from plain results: a band's pitch,
 * resonances, a fit, layouts told apart, what check understands.
 */
#include "support/editions.h"
#include "support/told.h"

#include "edition/check.h"
#include "fit/identify.h"
#include "horn/horn.h"
#include "notes/slides.h"
#include "passage/trill.h"
#include "report/fit.h"
#include "report/identify.h"
#include "report/pitch.h"
#include "report/resonances.h"
#include "report/trills.h"
#include "solve/curve.h"

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

static void a_band_is_told_where_it_meets(void **state)
{
    (void)state;
    static const char *const words[] = {"cornet-b-flat", "keyed-bugle-c-6"};
    struct solved s[COUNT(words)];
    struct hbk_pitch_member members[COUNT(words)];
    struct hbk_pitch_place places[COUNT(words)];
    struct hbk_arena arena = {0};
    for (size_t i = 0; i < COUNT(words); i++) {
        solved_read(&s[i], words[i]);
        assert_int_equal(hbk_pitch_reach(&s[i].horn, &s[i].setting, &arena,
                                         &members[i], &s[i].faults),
                         HBK_OK);
        assert_int_equal(hbk_pitch_place(&members[i], 437.0, &arena, &places[i],
                                         &s[i].faults),
                         HBK_OK);
    }
    const struct hbk_pitch_view view = {
        .n = COUNT(words),
        .words = words,
        .members = members,
        .pitch = hbk_common_pitch_at(COUNT(words), members, 437.0),
        .asked = true,
        .places = places};
    struct told told = told_in(&arena);
    hbk_pitch_text(&view, &told.text);
    hbk_pitch_csv(&view, &told.csv);
    hbk_pitch_json(&view, &told.json);
    const struct hbk_node root = json_tree(&told.json, &arena);
    json_says(&root, "format", "hornbook-pitch/1");
    json_near(&root, "a4_hz", 437.0, 2);
    json_is(&root, "named", "null");
    assert_int_equal(json_count(&root, "horns"), COUNT(words));
    const char *const csv = hbk_text_string(&told.csv);
    assert_int_equal(csv_rows(csv, &arena), COUNT(words));
    for (size_t i = 0; i < COUNT(words); i++) {
        const struct hbk_node *const horn = &json_at(&root, "horns")->items[i];
        json_says(horn, "horn", words[i]);
        json_says(horn, "name", s[i].horn.name);
        assert_int_equal(json_count(horn, "slides"), s[i].horn.n_slides);
        json_near(horn, "slides.0.pulled_mm",
                  1000.0 * places[i].tuned.draw_m[0], 2);
        json_near(
            horn, "slides.0.left_mm",
            1000.0 * (s[i].horn.slides[0].travel_m - places[i].tuned.draw_m[0]),
            2);
        assert_string_equal(csv_at(csv, i, "name", &arena), s[i].horn.name);
        check_says(&told.text, s[i].horn.name);
    }
    check_says(&told.text, "437.0 Hz");
    check_says(&told.text, "ISO 16:1975");
    for (size_t i = 0; i < COUNT(words); i++) {
        solved_close(&s[i]);
    }
    hbk_arena_finish(&arena);
}

static void resonances_are_told_a_row_a_frequency(void **state)
{
    (void)state;
    struct solved s;
    struct hbk_curves curves;
    solved_read(&s, "keyed-bugle-c-6-munich");
    const uint32_t presses[] = {0, 1};
    const struct hbk_curve_ask ask = {.n = COUNT(presses),
                                      .presses = presses,
                                      .to_hz = 1000.0,
                                      .n_points = HBK_CURVE_POINTS_LEAST};
    assert_int_equal(hbk_curves_compute(&s.horn, &s.setting, &ask, &s.arena,
                                        &curves, &s.faults),
                     HBK_OK);
    struct told told = told_in(&s.arena);
    hbk_resonances_csv(&curves, &told.csv);
    hbk_resonances_json(&curves, &told.json);
    const char *const csv = hbk_text_string(&told.csv);
    assert_int_equal(csv_rows(csv, &s.arena), ask.n_points);
    const char *const last =
        csv_at(csv, ask.n_points - 1, "level_db 1", &s.arena);
    check_abs(strtod(last, NULL), curves.curves[1].level_db[ask.n_points - 1],
              0.00051);
    /* Each maximum once, in the row it lies nearest to. */
    size_t n_told = 0;
    const struct hbk_curve *const second = &curves.curves[1];
    for (size_t k = 0; k < ask.n_points; k++) {
        const char *const hz = csv_at(csv, k, "maximum_hz 1", &s.arena);
        if (*hz != '\0') {
            const struct hbk_curve_maximum *const m = &second->maxima[n_told];
            assert_true(n_told++ < second->n_maxima);
            check_abs(strtod(hz, NULL), m->at.hz, 0.00051);
            check_abs(strtod(csv_at(csv, k, "played_hz 1", &s.arena), NULL),
                      m->heard.hz, 0.00051);
            check_abs(m->at.hz, curves.hz[k], 10.0); /* rows 20 Hz apart */
        }
    }
    assert_int_equal(n_told, second->n_maxima);
    const struct hbk_node root = json_tree(&told.json, &s.arena);
    assert_int_equal(json_count(&root, "hz"), ask.n_points);
    json_near(&root, "hz.49", 1000.0, 3);
    json_is(&root, "tuned", "true");
    assert_int_equal(json_count(&root, "fingerings"), COUNT(presses));
    json_says(&root, "fingerings.1.label", "1");
    for (size_t c = 0; c < COUNT(presses); c++) {
        const struct hbk_curve *const curve = &curves.curves[c];
        const struct hbk_node *const given =
            &json_at(&root, "fingerings")->items[c];
        assert_int_equal(json_count(given, "maxima"), curve->n_maxima);
        assert_true(curve->n_maxima > 2);
        for (size_t m = 0; m < curve->n_maxima; m++) {
            const struct hbk_node *const maximum =
                &json_at(given, "maxima")->items[m];
            json_near(maximum, "hz", curve->maxima[m].at.hz, 3);
            json_near(maximum, "played_hz", curve->maxima[m].heard.hz, 3);
            json_near(maximum, "played_cents", curve->maxima[m].heard.cents, 2);
            json_near(maximum, "q", curve->maxima[m].q, 1);
        }
    }
    solved_close(&s);
}

static void a_fit_tells_each_reading_and_each_number(void **state)
{
    (void)state;
    struct fitted f;
    fitted_open(&f);
    struct hbk_arena *const arena = &f.horn.arena;
    const struct hbk_fit_report *const report = &f.fit.report;
    struct told told = told_in(arena);
    hbk_fit_text(report, &told.text);
    hbk_fit_json(report, &told.json);
    const struct hbk_node root = json_tree(&told.json, arena);
    json_says(&root, "format", "hornbook-fit/1");
    json_near(&root, "used", (double)report->n_used, 0);
    json_near(&root, "set_aside", (double)(f.readings.n - report->n_used), 0);
    json_near(&root, "after_rms_cents", report->after_rms, 2);
    assert_int_equal(json_count(&root, "readings"), f.readings.n);
    assert_int_equal(json_count(&root, "values"), report->n_values);
    assert_int_equal(json_count(&root, "next"), report->n_next);
    /* The line that heads the readings, and each below it. */
    const char *const head = line_with(&told.text, "written", arena);
    const size_t heard = column_behind(head, "tuner", arena);
    const size_t alone = column_behind(head, "horn", arena);
    const size_t played = column_behind(head, "played", arena);
    for (size_t i = 0; i < f.readings.n; i++) {
        const struct hbk_fit_reading *const item = &report->items[i];
        const struct hbk_node *const given =
            &json_at(&root, "readings")->items[i];
        json_near(given, "reading_cents", item->reading->cents, 2);
        json_near(given, "line", (double)item->reading->place.line, 0);
        json_says(given, "state",
                  item->state == HBK_FIT_USED      ? "used"
                  : item->state == HBK_FIT_SLIPPED ? "slipped"
                                                   : "no note near");
        char name[HBK_NAME_SIZE];
        hbk_note_name(item->written, HBK_UNICODE, name);
        const char *const line =
            line_with(&told.text, hbk_arena_printf(arena, "%s ", name), arena);
        check_ends(line, heard,
                   hbk_arena_printf(arena, "%+.0f", item->reading->cents));
        if (item->state != HBK_FIT_FAR) {
            json_near(given, "horn_alone_cents", item->horn_cents, 2);
            json_near(given, "after_cents", item->after_cents, 2);
            check_ends(line, alone,
                       hbk_arena_printf(arena, "%+.0f", item->horn_cents));
            check_ends(line, played,
                       hbk_arena_printf(arena, "%+.0f", item->after_cents));
        }
    }
    check_says(&told.text, "not used: a semitone low?");
    fitted_close(&f);
}

static void layouts_are_told_with_the_likeliest_first(void **state)
{
    (void)state;
    struct solved s[2];
    struct hbk_readings readings;
    struct hbk_identified found;
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    solved_read(&s[0], "ophicleide-c-11");
    solved_read(&s[1], "ophicleide-c-9");
    const struct hbk_horn *const horns[] = {&s[0].horn, &s[1].horn};
    assert_int_equal(hbk_readings_read(tuner_page, &readings, &faults), HBK_OK);
    assert_int_equal(
        hbk_identify(COUNT(horns), horns, &readings, &arena, &found), HBK_OK);
    struct told told = told_in(&arena);
    hbk_identify_text(&found, &told.text);
    hbk_identify_json(&found, &told.json);
    const struct hbk_node root = json_tree(&told.json, &arena);
    json_is(&root, "explained", "true");
    json_near(&root, "readings", (double)readings.n, 0);
    assert_int_equal(json_count(&root, "layouts"), COUNT(horns));
    for (size_t i = 0; i < COUNT(horns); i++) {
        const struct hbk_identified_layout *const layout =
            &found.layouts[found.order[i]];
        const struct hbk_node *const given =
            &json_at(&root, "layouts")->items[i];
        json_says(given, "id", layout->horn->id);
        json_near(given, "probability", layout->probability, 6);
        json_near(given, "rms_cents", layout->rms_cents, 1);
    }
    json_says(&root, "layouts.0.id", "ophicleide-c-9");
    json_says(&root, "layouts.0.has", "9 keys");
    check_says(&told.text, "20 notes tried, 2 layouts asked about.");
    check_says(&told.text, " 100.0 %  Ophicleide in C, nine keys");
    hbk_readings_finish(&readings);
    solved_close(&s[0]);
    solved_close(&s[1]);
    hbk_arena_finish(&arena);
}

/* Compass, controls and slides of the shipped file, in the trade's words. */
static void what_is_understood_of_a_horn_is_told_in_facts(void **state)
{
    (void)state;
    struct solved s;
    struct hbk_understood found;
    solved_read(&s, "cornet-b-flat");
    assert_int_equal(hbk_understand(&s.horn, &s.arena, &found, &s.faults),
                     HBK_OK);
    struct hbk_text text = {.arena = &s.arena};
    hbk_check_text(&found, &text);
    check_says(&text, "written C5, open, sounds B\u266D4 on partial 4");
    check_says(&text,
               "valve 1 lowers a whole tone, valve 2 lowers a semitone, valve "
               "3 lowers a tone and a half");
    check_says(&text, "31 of 31 from F\u266F3 to C6 are available");
    check_says(&text, "third (loop of valve 3)");
    check_says(&text, hbk_arena_printf(
                          &s.arena, "with its slides %.1f to %.1f Hz",
                          found.reach->lowest_hz, found.reach->highest_hz));
    assert_null(strstr(hbk_text_string(&text), "not "));
    solved_close(&s);
}

/* Some horns at one pitch, as told. */
static const char *pitch_text(size_t n, struct solved s[], double a4_hz,
                              struct hbk_arena *arena)
{
    const char **const words = HBK_ARENA_ARRAY(arena, const char *, n);
    struct hbk_pitch_member *const members =
        HBK_ARENA_ARRAY(arena, struct hbk_pitch_member, n);
    struct hbk_pitch_place *const places =
        HBK_ARENA_ARRAY(arena, struct hbk_pitch_place, n);
    for (size_t i = 0; i < n; i++) {
        words[i] = s[i].horn.id;
        assert_int_equal(hbk_pitch_reach(&s[i].horn, &s[i].setting, arena,
                                         &members[i], &s[i].faults),
                         HBK_OK);
        assert_int_equal(hbk_pitch_place(&members[i], a4_hz, arena, &places[i],
                                         &s[i].faults),
                         HBK_OK);
    }
    const struct hbk_pitch_view view = {
        .n = n,
        .words = words,
        .members = members,
        .pitch = hbk_common_pitch_at(n, members, a4_hz),
        .asked = true,
        .places = places};
    struct hbk_text text = {.arena = arena};
    hbk_pitch_text(&view, &text);
    return hbk_text_string(&text);
}

/* At 500 Hz every horn of a band is flat, at 400 sharp. */
static void a_band_is_told_by_how_much_it_stays_off(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct solved s[2];
    solved_read(&s[0], "cornet-b-flat");
    solved_read(&s[1], "keyed-bugle-c-6");
    static const struct {
        double a4_hz;
        const char *side;
    } cases[] = {{500.0, "flat"}, {400.0, "sharp"}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        double sum_cents = 0.0;
        const char *const text = pitch_text(2, s, cases[i].a4_hz, &arena);
        for (size_t h = 0; h < 2; h++) {
            struct hbk_pitch_member member;
            assert_int_equal(hbk_pitch_reach(&s[h].horn, &s[h].setting, &arena,
                                             &member, &s[h].faults),
                             HBK_OK);
            const double cents = fabs(hbk_pitch_error(&member, cases[i].a4_hz));
            sum_cents += round(cents);
            check_line(text, hbk_arena_printf(&arena, ": %.0f cents %s", cents,
                                              cases[i].side));
        }
        check_line(text, hbk_arena_printf(
                             &arena, "together they are still %.0f cents off.",
                             sum_cents));
    }
    solved_close(&s[0]);
    solved_close(&s[1]);
    hbk_arena_finish(&arena);
}

/* A cornet, and what its tuning slide reaches, which lives in the arena. */
static const struct hbk_reach *read_with_reach(struct solved *s,
                                               struct hbk_arena *arena)
{
    struct hbk_pitch_member *const member =
        HBK_ARENA_ARRAY(arena, struct hbk_pitch_member, 1);
    solved_read(s, "cornet-b-flat");
    assert_int_equal(
        hbk_pitch_reach(&s->horn, &s->setting, arena, member, &s->faults),
        HBK_OK);
    return &member->setups[0].reach;
}

/* Within reach, but nearer to the end of the slide than is good. */
static void a_slide_near_its_end_is_told(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct solved s;
    const struct hbk_reach *const reach = read_with_reach(&s, &arena);
    check_line(pitch_text(1, &s,
                          0.5 * (reach->kept_highest_hz + reach->highest_hz),
                          &arena),
               ": in tune; hardly anything is left to push in\n");
    check_line(pitch_text(1, &s,
                          0.5 * (reach->kept_lowest_hz + reach->lowest_hz),
                          &arena),
               ": in tune; hardly anything is left to pull\n");
    check_line(
        pitch_text(1, &s,
                   0.5 * (reach->kept_lowest_hz + reach->kept_highest_hz),
                   &arena),
        ": in tune\n");
    /* A valve slide that is stuck stays out, and is told. */
    s.setting.stuck.slides = 1u << 1;
    s.setting.stuck.slide_out_m[1] = 0.006;
    check_line(pitch_text(1, &s, 440.0, &arena), " mm (stuck)");
    solved_close(&s);
    hbk_arena_finish(&arena);
}

/* From half a cent on a horn is not in tune: 0.6 to 1.4 cents are told as 1. */
static void a_cent_off_is_not_in_tune(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    struct solved s;
    const struct hbk_reach *const reach = read_with_reach(&s, &arena);
    static const struct {
        double beyond_cents;
        const char *above, *below;
    } cases[] = {{0.4, ": in tune", ": in tune"},
                 {0.6, ": 1 cent flat", ": 1 cent sharp"},
                 {1.0, ": 1 cent flat", ": 1 cent sharp"},
                 {1.4, ": 1 cent flat", ": 1 cent sharp"},
                 {1.6, ": 2 cents flat", ": 2 cents sharp"}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        const double ratio = hbk_cents_ratio(cases[i].beyond_cents);
        check_line(pitch_text(1, &s, reach->highest_hz * ratio, &arena),
                   cases[i].above);
        check_line(pitch_text(1, &s, reach->lowest_hz / ratio, &arena),
                   cases[i].below);
    }
    solved_close(&s);
    hbk_arena_finish(&arena);
}

static void what_a_horn_lacks_is_told_by_its_reason(void **state)
{
    (void)state;
    struct solved s;
    struct hbk_understood found = {.reach = NULL};
    solved_open(&s, "cornet-b-flat");
    s.horn.stuck.slides = 1u << 1;
    s.horn.stuck.slide_out_m[1] = 0.006;
    static const struct hbk_gap items[] = {{60, HBK_GAP_FAR, 0, -110.0},
                                           {61, HBK_GAP_PARTIAL, 9, 0.0},
                                           {64, HBK_GAP_FAR, 0, 61.0},
                                           {66, HBK_GAP_NONE, 0, 0.0}};
    const struct hbk_gaps gaps = {COUNT(items), items};
    const struct hbk_reach reach = {.lowest_hz = 430.0, .highest_hz = 446.0};
    found = (struct hbk_understood){&s.notes, &gaps, &reach};
    struct hbk_text text = {.arena = &s.arena};
    hbk_check_text(&found, &text);
    check_says(&text, hbk_arena_printf(&s.arena, "%zu of %zu from ",
                                       s.notes.n - COUNT(items), s.notes.n));
    check_says(&text,
               "  not C4, E4: the nearest fingering is 61 to 110 cents off\n");
    check_says(&text, "partial 9 would give it, but only ");
    check_says(&text, "not F\u266F4: nothing sounds near it\n");
    check_says(&text, " stuck, out 6 of ");
    solved_close(&s);
}

/* Every line of a text for the terminal fits its 80 columns. */
static void check_columns(const struct hbk_text *text)
{
    const char *at = shown_in(text, HBK_SCREEN_COLUMNS);
    while (*at != '\0') {
        const size_t length = strcspn(at, "\n");
        char line[512];
        assert_true(length < sizeof(line));
        memcpy(line, at, length);
        line[length] = '\0';
        assert_true(hbk_text_columns(line) <= HBK_SCREEN_COLUMNS);
        at += length + (at[length] == '\n' ? 1 : 0);
    }
}

static void check_trill_told(const struct hbk_notes *notes,
                             const struct hbk_trill *trill,
                             const struct hbk_node *node, const char *csv,
                             size_t row, struct hbk_arena *arena)
{
    const char *const kind = hbk_trill_kind_name(trill->kind);
    char label[HBK_LABEL_SIZE];
    json_says(node, "kind", kind);
    json_near(node, "interval", trill->interval, 0);
    assert_string_equal(csv_at(csv, row, "kind", arena), kind);
    if (trill->kind == HBK_TRILL_NONE) {
        assert_string_equal(csv_at(csv, row, "words", arena), "");
        return;
    }
    hbk_horn_press_label(notes->horn, trill->main->press, label);
    json_says(node, "lower.label", label);
    assert_string_equal(csv_at(csv, row, "label", arena), label);
    hbk_horn_press_label(notes->horn, trill->upper->press, label);
    json_says(node, "upper.label", label);
    assert_string_equal(csv_at(csv, row, "upper_label", arena), label);
    json_near(node, "least_s", trill->least_s, 4);
    json_near(node, "cost", trill->price, 1);
    json_says(node, "words", trill->words);
    assert_string_equal(csv_at(csv, row, "words", arena), trill->words);
    const uint32_t moves = trill->main->press ^ trill->upper->press;
    assert_int_equal(json_count(node, "begins_up") +
                         json_count(node, "begins_down"),
                     (size_t)__builtin_popcount(moves));
    hbk_horn_press_label(notes->horn, moves & trill->main->press, label);
    assert_string_equal(csv_at(csv, row, "begins_down", arena), label);
}

static void trills_are_told_with_what_moves(void **state)
{
    (void)state;
    static const char *const names[] = {"keyed-bugle-c-6", "cornet-b-flat",
                                        "keyed-bugle-c-tone-valve",
                                        "bugle-b-flat"};
    for (size_t i = 0; i < COUNT(names); i++) {
        struct solved s;
        solved_open(&s, names[i]);
        const struct hbk_trills *const trills =
            hbk_trills_of(&s.notes, &s.arena);
        const struct hbk_trills_view view = {
            .notes = &s.notes, .trills = trills, .sounding = i % 2 == 1};
        struct told told = told_in(&s.arena);
        hbk_trills_text(&view, &told.text);
        hbk_trills_csv(&view, &told.csv);
        hbk_trills_json(&view, &told.json);
        const struct hbk_node root = json_tree(&told.json, &s.arena);
        const char *const csv = hbk_text_string(&told.csv);
        json_says(&root, "format", "hornbook-trills/1");
        assert_int_equal(json_count(&root, "trills"), 2 * s.notes.n);
        assert_int_equal(csv_rows(csv, &s.arena), 2 * s.notes.n);
        for (size_t k = 0; k < 2 * s.notes.n; k++) {
            check_trill_told(
                &s.notes,
                k % 2 == 0 ? &trills->half[k / 2] : &trills->whole[k / 2],
                &json_at(&root, "trills")->items[k], csv, k, &s.arena);
        }
        check_says(&told.text, "Trills to the whole tone above");
        check_columns(&told.text);
        if (i == 0) {
            check_says(&told.text, "right ring finger on key 2; key 1 is held");
            assert_string_equal(csv_at(csv, 3, "lower_name", &s.arena), "C4");
            assert_string_equal(csv_at(csv, 2, "upper_name", &s.arena), "Db4");
        }
        solved_close(&s);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(trills_are_told_with_what_moves),
        cmocka_unit_test(a_band_is_told_where_it_meets),
        cmocka_unit_test(resonances_are_told_a_row_a_frequency),
        cmocka_unit_test(a_fit_tells_each_reading_and_each_number),
        cmocka_unit_test(layouts_are_told_with_the_likeliest_first),
        cmocka_unit_test(what_is_understood_of_a_horn_is_told_in_facts),
        cmocka_unit_test(a_band_is_told_by_how_much_it_stays_off),
        cmocka_unit_test(a_slide_near_its_end_is_told),
        cmocka_unit_test(a_cent_off_is_not_in_tune),
        cmocka_unit_test(what_a_horn_lacks_is_told_by_its_reason),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
