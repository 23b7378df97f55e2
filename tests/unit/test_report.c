/*
 * Every report from plain results, without any argument of a program: what
 * stands in its JSON and in its rows is what was found, and the columns of
 * its text line up.
 */
#include "support/editions.h"
#include "support/told.h"

#include "horn/press.h"
#include "notes/beside.h"
#include "passage/scale.h"
#include "report/choose.h"
#include "report/notes.h"
#include "report/passage.h"
#include "report/passage_hard.h"
#include "report/passage_tempo.h"
#include "report/scales.h"
#include "report/slides.h"
#include "solve/slides.h"

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

static const char *name_of(int note, struct hbk_arena *arena)
{
    char name[HBK_NAME_SIZE];
    return hbk_arena_printf(
        arena, "%s", hbk_spelling_name(hbk_note_sharp(note), HBK_ASCII, name));
}

static const char *label_of(const struct hbk_horn *horn, uint32_t press,
                            struct hbk_arena *arena)
{
    char label[HBK_LABEL_SIZE];
    return hbk_arena_printf(arena, "%s",
                            hbk_horn_press_label(horn, press, label));
}

static void notes_are_reported_as_they_were_found(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "cornet-b-flat");
    const struct hbk_notes_view view = {
        .notes = &s.notes, .sounding = true, .alternates = SIZE_MAX};
    struct told told = told_in(&s.arena);
    hbk_notes_json(&view, &told.json);
    hbk_notes_csv(&view, &told.csv);
    const struct hbk_node root = json_tree(&told.json, &s.arena);
    json_says(&root, "format", "hornbook-notes/2");
    json_says(&root, "horn", s.horn.name);
    json_says(&root, "written_c4_sounds", "A#3");
    json_near(&root, "a4_hz", 440.0, 2);
    json_is(&root, "room_c", "null");
    json_is(&root, "crook", "null");
    assert_int_equal(json_count(&root, "notes"), s.notes.n);
    assert_int_equal(json_count(&root, "not_available"), 0);
    assert_null(json_find(&root, "chord"));
    assert_null(json_find(&root, "beside"));
    assert_null(json_find(&root, "stuck"));
    size_t row = 0;
    for (size_t i = 0; i < s.notes.n; i++) {
        const struct hbk_note *const note = &s.notes.notes[i];
        const struct hbk_node *const found = &json_at(&root, "notes")->items[i];
        json_says(found, "written", name_of(note->written, &s.arena));
        json_says(found, "sounding", name_of(note->sounding, &s.arena));
        json_near(found, "target_hz", note->target_hz, 3);
        assert_int_equal(json_count(found, "fingerings"), note->n);
        for (size_t k = 0; k < note->n; k++, row++) {
            const struct hbk_fingering *const f = &note->fingerings[k];
            const struct hbk_node *const given =
                &json_at(found, "fingerings")->items[k];
            json_says(given, "label", label_of(&s.horn, f->press, &s.arena));
            assert_int_equal(json_count(given, "press"),
                             __builtin_popcount(f->press));
            json_near(given, "cents", f->cents, 2);
            json_near(given, "hz", f->hz, 3);
            assert_string_equal(
                csv_at(hbk_text_string(&told.csv), row, "label", &s.arena),
                label_of(&s.horn, f->press, &s.arena));
            check_abs(strtod(csv_at(hbk_text_string(&told.csv), row, "cents",
                                    &s.arena),
                             NULL),
                      f->cents, 0.0051);
        }
    }
    assert_int_equal(csv_rows(hbk_text_string(&told.csv), &s.arena), row);
    solved_close(&s);
}

/*
 * Each number ends under the last letter of its heading, on every horn: no
 * fingering or name is too wide for its column.
 */
static void columns_of_notes_line_up_on_every_horn(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t h = 0; h < n; h++) {
        struct solved s;
        solved_open(&s, horns[h].name);
        const struct hbk_notes_view view = {.notes = &s.notes,
                                            .sounding = true};
        struct told told = told_in(&s.arena);
        hbk_notes_text(&view, &told.text);
        const char *const head = line_with(&told.text, "written", &s.arena);
        const size_t partial = column_behind(head, "partial", &s.arena);
        const size_t press = column_behind(head, "sounding  ", &s.arena);
        for (size_t i = 0; i < s.notes.n; i++) {
            const struct hbk_note *const note = &s.notes.notes[i];
            char name[HBK_NAME_SIZE];
            hbk_spelling_name(hbk_note_sharp(note->written), HBK_UNICODE, name);
            const char *const line = line_with(
                &told.text, hbk_arena_printf(&s.arena, "\n%s ", name) + 1,
                &s.arena);
            if (note->n == 0) {
                assert_int_equal(column_behind(line, "not available", &s.arena),
                                 press + strlen("not available"));
                continue;
            }
            check_ends(
                line, partial,
                hbk_arena_printf(&s.arena, "%u", note->fingerings[0].partial));
        }
        solved_close(&s);
    }
    hbk_arena_finish(&arena);
}

static void a_held_chord_says_how_far_off_it_is(void **state)
{
    (void)state;
    struct solved s;
    struct hbk_held held;
    held_open(&s, "C5 E5 G5", &held);
    const struct hbk_notes_view view = {
        .notes = &s.notes, .held = &held, .alternates = SIZE_MAX};
    struct told told = told_in(&s.arena);
    hbk_notes_json(&view, &told.json);
    hbk_notes_text(&view, &told.text);
    hbk_notes_csv(&view, &told.csv);
    const struct hbk_node root = json_tree(&told.json, &s.arena);
    json_says(&root, "chord.kind", "major");
    json_says(&root, "chord.root", "C5");
    json_is(&root, "chord.root_given", "false");
    json_says(&root, "chord.temperament", "just");
    json_says(&root, "chord.words", held.words);
    assert_int_equal(json_count(&root, "notes"), 3);
    json_says(&root, "notes.1.degree", "third");
    json_near(&root, "notes.1.just_target_cents", held.notes[1].aim_cents, 2);
    const struct hbk_fingering *const f = &held.notes[1].note.fingerings[0];
    json_near(&root, "notes.1.fingerings.0.just_cents",
              f->cents - held.notes[1].aim_cents, 2);
    check_says(&told.text, held.words);
    check_says(&told.text, "third -14");
    assert_string_equal(
        csv_at(hbk_text_string(&told.csv), 0, "just_target_cents", &s.arena),
        "0.00");
    solved_close(&s);
}

static void beside_another_horn_each_note_says_what_changes(void **state)
{
    (void)state;
    struct solved here, known;
    solved_open(&here, "cornet-b-flat-semitone-first");
    solved_open(&known, "cornet-b-flat");
    struct hbk_arena *const arena = &here.arena;
    struct hbk_notes_view view = {
        .notes = &here.notes, .known = &known.notes, .alternates = SIZE_MAX};
    view.rows = hbk_beside_rows(&here.notes, &known.notes, arena, &view.n_rows);
    assert_true(view.n_rows >= here.notes.n);
    struct told told = told_in(arena);
    hbk_notes_json(&view, &told.json);
    hbk_notes_csv(&view, &told.csv);
    hbk_notes_text(&view, &told.text);
    const struct hbk_node root = json_tree(&told.json, arena);
    json_says(&root, "beside.horn", known.horn.name);
    assert_int_equal(json_count(&root, "notes"), view.n_rows);
    size_t changed = 0;
    for (size_t i = 0; i < view.n_rows; i++) {
        const struct hbk_node *const note = &json_at(&root, "notes")->items[i];
        const enum hbk_beside_note is =
            hbk_beside_note(&here.notes, &known.notes, view.rows[i].written);
        const bool changes = is == HBK_BESIDE_OTHER || is == HBK_BESIDE_NEW ||
                             is == HBK_BESIDE_LOST || is == HBK_BESIDE_FINGER;
        json_is(note, "changed", changes ? "true" : "false");
        changed += changes ? 1 : 0;
    }
    assert_true(changed > 5 && changed < view.n_rows);
    (void)csv_rows(hbk_text_string(&told.csv), arena);
    check_says(&told.text, "REVERSED VALVES: valve 1 a semitone");
    solved_close(&here);
    solved_close(&known);
}

static void what_is_stuck_is_counted_and_named(void **state)
{
    (void)state;
    struct solved s;
    struct hbk_account account;
    stuck_open(&s, &account);
    const struct hbk_notes_view view = {
        .notes = &s.notes, .stuck = &account, .alternates = SIZE_MAX};
    struct told told = told_in(&s.arena);
    hbk_notes_json(&view, &told.json);
    hbk_notes_text(&view, &told.text);
    const struct hbk_node root = json_tree(&told.json, &s.arena);
    assert_int_equal(json_count(&root, "stuck.lost"), account.lost);
    assert_int_equal(json_count(&root, "stuck.changed"), account.other);
    json_near(&root, "stuck.unchanged", (double)account.same, 0);
    check_says(&told.text, "With what is stuck\n");
    check_says(&told.text, "lost: ");
    solved_close(&s);
}

static void slides_are_reported_as_they_are_set(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "cornet-b-flat");
    const struct hbk_slides slides = solved_slides(&s);
    struct told told = told_in(&s.arena);
    hbk_slides_json(&slides, &told.json);
    hbk_slides_csv(&slides, &told.csv);
    hbk_slides_text(&slides, &told.text);
    const struct hbk_node root = json_tree(&told.json, &s.arena);
    assert_int_equal(json_count(&root, "slides"), slides.n);
    assert_int_equal(json_count(&root, "notes"), slides.notes.n);
    assert_int_equal(json_count(&root, "temperatures"), slides.n_warmths);
    for (size_t i = 0; i < slides.n; i++) {
        const struct hbk_node *const slide =
            &json_at(&root, "slides")->items[i];
        json_says(slide, "slide", s.horn.slides[i].name);
        json_near(slide, "pulled_mm", 1000.0 * slides.pulls[i].draw_m, 2);
        assert_string_equal(
            csv_at(hbk_text_string(&told.csv), i, "slide", &s.arena),
            s.horn.slides[i].name);
        /* The travel stands in its column, in whole mm here. */
        const char *const head = line_with(&told.text, "slide", &s.arena);
        const char *const line =
            line_with(&told.text, s.horn.slides[i].name, &s.arena);
        check_ends(line, column_behind(head, "travel", &s.arena),
                   hbk_arena_printf(&s.arena, "%.4g",
                                    1000.0 * s.horn.slides[i].travel_m));
    }
    json_near(&root, "highest_a4_hz", slides.reach.highest_hz, 2);
    solved_close(&s);
}

static void keys_are_reported_in_their_order(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-c-6");
    const struct hbk_scales *const scales = hbk_scales_of(&s.notes, &s.arena);
    const struct hbk_scales_view view = {&s.notes, scales};
    struct told told = told_in(&s.arena);
    hbk_scales_json(&view, &told.json);
    hbk_scales_csv(&view, &told.csv);
    hbk_scales_text(&view, &told.text);
    const struct hbk_node root = json_tree(&told.json, &s.arena);
    assert_int_equal(json_count(&root, "keys"), HBK_KEYS);
    assert_int_equal(csv_rows(hbk_text_string(&told.csv), &s.arena), HBK_KEYS);
    for (size_t i = 0; i < HBK_KEYS; i++) {
        const struct hbk_node *const key = &json_at(&root, "keys")->items[i];
        json_near(key, "moves", (double)scales->keys[i].n_moves, 0);
        json_near(key, "rms_cents", scales->keys[i].rms_cents, 2);
        char name[HBK_KEY_NAME_SIZE];
        check_says(&told.text,
                   hbk_scale_name(&scales->keys[i], HBK_UNICODE, name));
    }
    solved_close(&s);
}

/* A run with two other ways of each note. */
static void run_open(struct performance *run, const char *horn,
                     const char *notes, double tempo)
{
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    ask.tempo = tempo;
    ask.choices = 2.0;
    perform_text(run, horn, notes, true, &ask);
}

static void a_passage_is_reported_note_by_note(void **state)
{
    (void)state;
    struct performance run;
    run_open(&run, "cornet-b-flat", "C5 D5 E5:1/8 F5:1/8 | C8 G5", (double)NAN);
    const struct hbk_passage *const passage = &run.performed.passage;
    struct hbk_arena *const arena = &run.arena;
    struct told told = told_in(arena);
    hbk_passage_json(&run.performed.view, &told.json);
    hbk_passage_text(&run.performed.view, "a metronome", &told.text);
    const struct hbk_node root = json_tree(&told.json, arena);
    json_says(&root, "format", "hornbook-passage/2");
    json_near(&root, "tempo.quarters", HBK_TUNE_ASSUMED_QUARTERS, 2);
    json_is(&root, "tempo.asked", "false");
    json_is(&root, "tempo.assumed", "true");
    assert_int_equal(json_count(&root, "notes"), 5);
    assert_int_equal(json_count(&root, "not_available"), 1);
    json_says(&root, "not_available.0.written", "C8");
    json_says(&root, "not_available.0.bar", "2");
    json_says(&root, "notes.2.onset", "1/2");
    json_says(&root, "notes.2.length", "1/8");
    json_says(&root, "notes.2.sounding", "D5");
    json_says(&root, "notes.4.file", "free");
    for (size_t i = 0; i < passage->n; i++) {
        const struct hbk_passage_note *const note = &passage->notes[i];
        const struct hbk_node *const given = &json_at(&root, "notes")->items[i];
        json_says(given, "label",
                  label_of(&run.horn.horn,
                           note->candidates->of[note->taken]->press, arena));
        json_is(given, "usual", note->taken == 0 ? "true" : "false");
    }
    assert_int_equal(json_count(&root, "ways.0.labels"), passage->n);
    check_says(&told.text,
               "Tempo: quarter = 100, for the tune gives none; say another "
               "with a metronome.\n");
    check_says(&told.text, "not available");
    check_says(&told.text, "5 written notes");
    perform_done(&run);
}

/* Semiquavers that no hand makes, and the same ones slowly. */
static void hard_places_are_told_with_a_tempo_that_holds(void **state)
{
    (void)state;
    static const char notes[] = "C4:1/16 C#4:1/16 D4:1/16 D#4:1/16 E4:1/16 "
                                "F4:1/16 F#4:1/16 G4:1/16 G#4:1/16 A4:1/16";
    struct performance run;
    size_t n = 0;
    run_open(&run, "cornet-b-flat", notes, 400.0);
    const char *const *const hard =
        hbk_passage_hard(&run.performed.view, &run.arena, &n);
    assert_true(n >= 2);
    assert_non_null(strstr(hard[0], "playable from about quarter = "));
    assert_non_null(strstr(hard[n - 1], "Times and tempos are estimates."));
    assert_string_equal(hbk_passage_tempo(&run.performed.view, &run.arena),
                        "quarter = 400, as asked");
    struct told told = told_in(&run.arena);
    hbk_passage_text(&run.performed.view, NULL, &told.text);
    check_says(&told.text, hard[0]);
    perform_done(&run);
    run_open(&run, "cornet-b-flat", notes, 40.0);
    (void)hbk_passage_hard(&run.performed.view, &run.arena, &n);
    assert_int_equal(n, 0);
    perform_done(&run);
}

/* Downwards, so that what is said can be played; in tenths below ten. */
static void a_pace_is_told_in_the_beat_of_its_place(void **state)
{
    (void)state;
    static const char abc[] =
        "X:1\nL:1/8\nM:6/8\nK:C\n[Q:3/8=40]CDE FGA|[Q:1/2=30]c6|\n";
    struct performance p;
    struct hbk_perform_ask ask = hbk_perform_ask_none();
    perform_abc(&p, "cornet-b-flat", abc, &ask);
    const struct hbk_passage_view *const view = &p.performed.view;
    assert_string_equal(hbk_passage_tempo(view, &p.arena),
                        "dotted quarter = 40 at first, at the tempo written");
    assert_string_equal(hbk_passage_pace(view, 0, 100.0, &p.arena),
                        "dotted quarter = 66");
    assert_string_equal(hbk_passage_pace(view, 6, 100.0, &p.arena),
                        "half note = 50");
    assert_string_equal(hbk_passage_pace(view, 6, 9.9, &p.arena),
                        "half note = 4.9");
    ask.tempo = 90.0;
    perform_again(&p, &ask);
    assert_string_equal(hbk_passage_pace(view, 6, 100.0, &p.arena),
                        "quarter = 100");
    perform_done(&p);
}

static void a_choice_is_reported_with_what_it_lost(void **state)
{
    (void)state;
    const struct hbk_suit_out out[] = {{"3", 84}, {"3", 84}, {"4", 85}};
    const struct hbk_chosen horns[] = {
        {.word = "own, \"old\".yaml",
         .name = "Cornet",
         .written_c4_sounds = 58,
         .placing = {.taken = HBK_TAKEN_STATED, .for_horn = 2},
         .suit = {.n_notes = 10,
                  .n_out = 3,
                  .out = out,
                  .a4_hz = 440.0,
                  .pitch_hz = 430.0,
                  .left_cents = -39.8,
                  .rms_cents = 8.0,
                  .worst_cents = -21.0,
                  .worst_written = 62,
                  .worst_bar = "2",
                  .n_hard = 1,
                  .playable_quarters = 90.6,
                  .quarters = 120.0,
                  .lost_reach = 79.0,
                  .lost_pitch = 19.9,
                  .score = 1.1}},
        {.word = "low",
         .name = "Low",
         .placing = {.taken = HBK_TAKEN_STATED, .for_horn = 19, .octaves = -2},
         .suit = {.n_notes = 4,
                  .a4_hz = 440.0,
                  .worst_bar = "1",
                  .lost_octave = 10.0,
                  .score = 90.0}},
        {.word = "high", .name = "High", .unwritable = true}};
    const struct hbk_choice choice = {.title = "Tune",
                                      .quarters = 120.0,
                                      .tempo_assumed = true,
                                      .semitones = -2,
                                      .n = COUNT(horns),
                                      .horns = horns};
    struct hbk_arena arena = {0};
    struct told told = told_in(&arena);
    hbk_choose_json(&choice, &told.json);
    hbk_choose_csv(&choice, &told.csv);
    hbk_choose_text(&choice, &told.text);
    const struct hbk_node root = json_tree(&told.json, &arena);
    json_is(&root, "tempo_assumed", "true");
    json_says(&root, "horns.0.horn", horns[0].word);
    json_near(&root, "horns.0.lost.pitch", 19.9, 2);
    assert_int_equal(json_count(&root, "horns.0.not_available"), 3);
    json_says(&root, "horns.0.not_available.2.written", "C#6");
    assert_int_equal(csv_rows(hbk_text_string(&told.csv), &arena), 3);
    assert_string_equal(
        csv_at(hbk_text_string(&told.csv), 1, "octaves", &arena), "-2");
    assert_string_equal(csv_at(hbk_text_string(&told.csv), 1, "shift", &arena),
                        "-5");
    json_says(&root, "horns.0.taken_as", "stated");
    json_is(&root, "horns.1.octaves", "-2");
    json_is(&root, "horns.1.shift", "-5");
    json_near(&root, "horns.1.lost.octave", 10.0, 2);
    assert_string_equal(csv_at(hbk_text_string(&told.csv), 0, "horn", &arena),
                        horns[0].word);
    check_says(&told.text, "Tune, 120 quarter notes a minute (assumed)");
    check_says(&told.text,
               "3 of 10 notes not available (bar 3: C6, bar 4: C\u266F6)");
    check_says(&told.text,
               "all 40 cents flat of A = 440 Hz, plays at A = 430.0 Hz");
    check_says(&told.text, "at worst -21 (D4, bar 2)");
    check_says(&told.text,
               "1 move too quick at 120 quarter notes a minute, all in "
               "time at 90");
    check_says(&told.text,
               "moved a whole tone up. Lost: notes 79.0, pitch 19.9.");
    check_says(&told.text, "taken by the transposition that it states");
    check_says(&told.text, "It is played a whole tone lower, as asked.");
    check_says(&told.text, "The part is played two octaves lower, and moved a "
                           "fourth down. Lost: octave 10.0.");
    check_says(&told.text, "leaves the notes that can be written");
    hbk_arena_finish(&arena);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(notes_are_reported_as_they_were_found),
        cmocka_unit_test(columns_of_notes_line_up_on_every_horn),
        cmocka_unit_test(a_held_chord_says_how_far_off_it_is),
        cmocka_unit_test(beside_another_horn_each_note_says_what_changes),
        cmocka_unit_test(what_is_stuck_is_counted_and_named),
        cmocka_unit_test(slides_are_reported_as_they_are_set),
        cmocka_unit_test(keys_are_reported_in_their_order),
        cmocka_unit_test(a_passage_is_reported_note_by_note),
        cmocka_unit_test(hard_places_are_told_with_a_tempo_that_holds),
        cmocka_unit_test(a_pace_is_told_in_the_beat_of_its_place),
        cmocka_unit_test(a_choice_is_reported_with_what_it_lost),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
