#include "solve/setting.h"
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "engrave/signature.h"
#include "passage/scale.h"
#include "sheet/article/beside.h"
#include "sheet/words/words_beside.h"

static enum hbk_beside_note change(const struct solved *here,
                                   const struct solved *known, const char *name)
{
    return hbk_beside_note(&here->notes, &known->notes, note_of(name));
}

/*
 * Two horns that differ in nothing but the order of valves 1 and 2: what one
 * plays with 1 the other plays with 2, and 1-2 and open stay.
 */
static void reversed_valves_change_places(void **state)
{
    (void)state;
    struct solved here, known;
    solved_open(&here, "cornet-b-flat-semitone-first");
    solved_open(&known, "cornet-b-flat");
    assert_int_equal(change(&here, &known, "C5"), HBK_BESIDE_SAME);
    assert_int_equal(change(&here, &known, "E4"), HBK_BESIDE_SAME);
    assert_int_equal(change(&here, &known, "C#4"), HBK_BESIDE_SAME);
    assert_int_equal(change(&here, &known, "F4"), HBK_BESIDE_OTHER);
    assert_int_equal(change(&here, &known, "B4"), HBK_BESIDE_OTHER);
    assert_int_equal(change(&here, &known, "D4"), HBK_BESIDE_OTHER);
    assert_int_equal(change(&here, &known, "G#4"), HBK_BESIDE_OTHER);
    assert_int_equal(change(&here, &known, "C2"), HBK_BESIDE_NEITHER);
    struct hbk_arena *const arena = &here.arena;
    assert_string_equal(
        hbk_beside_warning(arena, &here.notes, &known.notes),
        "REVERSED VALVES: valve 1 a semitone, valve 2 a whole tone");
    assert_string_equal(
        hbk_beside_warning(arena, &known.notes, &here.notes),
        "REVERSED VALVES: valve 1 a whole tone, valve 2 a semitone");
    check_words_say(hbk_beside_reversed(arena, &here.notes, &known.notes),
                    "what you know as 1 is 2 here, and 2 is 1.");
    assert_string_equal(hbk_beside_beyond(arena, &here.notes, &known.notes),
                        "");
    assert_string_equal(
        hbk_beside_sounds(&here.arena, &here.notes, &known.notes),
        "The same written note sounds the same on both.");
    solved_close(&here);
    solved_close(&known);
}

static void a_horn_beside_itself_changes_nothing(void **state)
{
    (void)state;
    struct solved here;
    solved_open(&here, "keyed-bugle-c-6");
    assert_string_equal(
        hbk_beside_summary(&here.arena, &here.notes, &here.notes),
        "All 26 notes of both horns keep their fingering.");
    assert_string_equal(
        hbk_beside_warning(&here.arena, &here.notes, &here.notes), "");
    assert_string_equal(
        hbk_beside_pressing(&here.arena, &here.notes, &here.notes),
        "A finger does what you know: a key opens a hole and raises the "
        "pitch.");
    check_words_say(hbk_beside_rest(&here.arena, &here.notes, &here.notes),
                    "Key 1 is open at rest, as you know it.");
    check_words_say(hbk_beside_reversed(&here.arena, &here.notes, &here.notes),
                    "Nothing is reversed");
    assert_string_equal(
        hbk_beside_beyond(&here.arena, &here.notes, &here.notes), "");
    solved_close(&here);
}

/* Solves a horn as wished, or as it is set beside another. */
static void solve_wished(struct solved *s, const struct hbk_wishes *wishes,
                         bool is_beside)
{
    struct hbk_text why = {.arena = &s->arena};
    if (is_beside) {
        s->setting = hbk_setting_beside(&s->horn, wishes);
    } else {
        assert_int_equal(hbk_setting_make(&s->horn, wishes, &s->setting, &why),
                         HBK_WISH_ALL);
    }
    s->faults = (struct hbk_faults){0}; /* far off its pitch it warns */
    solved_run(s);
}

/* How many written notes are not fingered as on the horn known. */
static size_t count_changes(const struct solved *here,
                            const struct solved *known)
{
    size_t n = 0;
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        const enum hbk_beside_note what =
            hbk_beside_note(&here->notes, &known->notes, written);
        n += what == HBK_BESIDE_SAME || what == HBK_BESIDE_NEITHER ? 0 : 1;
    }
    return n;
}

/* Both horns under every pitch and temperature, as wished. */
static void check_changes(struct solved *here, struct solved *known,
                          struct hbk_wishes wishes, size_t want)
{
    static const double pitches_hz[] = {415.0, 427.3, 440.0, 452.5, 466.0};
    static const double airs_c[] = {10.0, 21.7, 30.0};
    for (size_t i = 0; i < sizeof(pitches_hz) / sizeof(pitches_hz[0]); i++) {
        for (size_t k = 0; k < sizeof(airs_c) / sizeof(airs_c[0]); k++) {
            wishes.a4_hz = pitches_hz[i];
            wishes.temperature_c = airs_c[k];
            solve_wished(here, &wishes, false);
            solve_wished(known, &wishes, true);
            const size_t got = count_changes(here, known);
            if (got != want) {
                print_error("%s at %.1f Hz, %.1f degrees: %zu notes change\n",
                            here->horn.id, wishes.a4_hz, wishes.temperature_c,
                            got);
            }
            assert_int_equal(got, want);
        }
    }
}

static void a_horn_beside_itself_changes_nothing_however_it_is_set(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t i = 0; i < n; i++) {
        struct solved here, known;
        solved_read(&here, horns[i].name);
        solved_read(&known, horns[i].name);
        struct hbk_wishes wishes = hbk_wishes_none();
        check_changes(&here, &known, wishes, 0);
        for (size_t c = 0; c < here.horn.n_crooks; c++) {
            wishes.crook = here.horn.crooks[c].name;
            check_changes(&here, &known, wishes, 0);
        }
        solved_close(&here);
        solved_close(&known);
    }
    hbk_arena_finish(&arena);
}

/*
 * What 1 and 2 alone and with 3 give, of 31 notes: counted in the fingerings
 * that are taught for three valves (common practice, no source).
 */
static void reversed_valves_change_18_notes_however_they_are_set(void **state)
{
    (void)state;
    struct solved here, known;
    solved_read(&here, "cornet-b-flat-semitone-first");
    solved_read(&known, "cornet-b-flat");
    struct hbk_wishes wishes = hbk_wishes_none();
    static const char *const slides[] = {NULL, "in", "best"};
    for (size_t i = 0; i < sizeof(slides) / sizeof(slides[0]); i++) {
        wishes.valve_slides = slides[i];
        check_changes(&here, &known, wishes, 18);
    }
    solved_close(&here);
    solved_close(&known);
}

/* Pitch, air and hand are the player's; crook and mishap the horn's. */
static void a_horn_beside_is_set_by_the_same_wishes(void **state)
{
    (void)state;
    struct solved known, plain;
    solved_read(&known, "cornopean-b-flat");
    solved_read(&plain, "cornet-b-flat");
    plain.horn.stuck.held_down = 4;
    struct hbk_wishes wishes = hbk_wishes_none();
    wishes.a4_hz = 443.7;
    wishes.room_c = 13.0;
    wishes.lip_cents = 35.0;
    wishes.crook = "A";
    wishes.stuck = "valve:2=down";
    wishes.valve_slides = "in";
    const struct hbk_setting with = hbk_setting_beside(&known.horn, &wishes);
    const struct hbk_setting without = hbk_setting_beside(&plain.horn, &wishes);
    assert_int_equal(known.horn.n_crooks > 0 && with.crook >= 0, true);
    assert_string_equal(known.horn.crooks[with.crook].name, "A");
    assert_int_equal(without.crook, -1);
    assert_int_equal(with.stuck.held_down, 0);
    assert_int_equal(without.stuck.held_down, 4); /* as its own file says */
    check_abs(with.a4_hz, 443.7, 0.0);
    check_abs(with.room_c, 13.0, 0.0);
    check_abs(with.temperature_c, 21.0, 1e-9); /* a third towards 37 */
    check_abs(with.lip_cents, 35.0, 0.0);
    assert_int_equal(with.valve_slides, HBK_VALVE_SLIDES_HOME);
    assert_false(with.raw);
    solved_close(&known);
    solved_close(&plain);
}

/*
 * Keys 1 to 6 of both horns do the same, but every one lies under another
 * finger (National Music Museum 7312, and the nine-key
 * ophicleide of the horn's file): only what presses nothing is kept.
 */
static void a_number_under_another_finger_is_no_fingering_kept(void **state)
{
    (void)state;
    struct solved here, known;
    solved_open(&here, "ophicleide-c-9");
    solved_open(&known, "keyed-bugle-c-6");
    assert_int_equal(change(&here, &known, "C4"), HBK_BESIDE_SAME); /* open */
    assert_int_equal(change(&here, &known, "G4"), HBK_BESIDE_SAME);
    static const char *const pressed[] = {"B3", "C#4", "D4", "D#4", "F4"};
    for (size_t i = 0; i < sizeof(pressed) / sizeof(pressed[0]); i++) {
        assert_int_equal(change(&here, &known, pressed[i]), HBK_BESIDE_FINGER);
        assert_int_equal(change(&known, &here, pressed[i]), HBK_BESIDE_FINGER);
    }
    assert_non_null(
        strstr(hbk_beside_summary(&here.arena, &here.notes, &known.notes),
               "Of the 14 written notes that both horns have, 3 keep their "
               "fingering, 10 have the same numbers under another finger and 1 "
               "changes."));
    solved_close(&here);
    solved_close(&known);
}

static void what_is_new_and_what_is_gone_is_told(void **state)
{
    (void)state;
    struct solved here, known;
    solved_open(&here, "bass-e-flat-4");
    solved_open(&known, "bass-e-flat");
    check_words_say(
        hbk_beside_beyond(&here.arena, &here.notes, &known.notes),
        "Valve 4 is new: under the left index finger, it lowers a fourth. Both "
        "hands are used here; on the horn you know the right hand alone.");
    check_words_say(hbk_beside_beyond(&here.arena, &known.notes, &here.notes),
                    "There is no valve 4.");
    solved_close(&known);
    solved_open(&known, "cornet-b-flat");
    /* E flat, an octave down, against B flat: a fifth and an octave... */
    const char *sounds =
        hbk_beside_sounds(&here.arena, &here.notes, &known.notes);
    assert_non_null(strstr(sounds, "an octave and a fifth lower than on the "
                                   "horn you know"));
    solved_close(&here);
    solved_open(&here, "ophicleide-c-9");
    assert_non_null(
        strstr(hbk_beside_sounds(&here.arena, &here.notes, &known.notes),
               "read in the bass clef, the horn you know in the treble clef"));
    assert_int_equal(change(&here, &known, "C2"), HBK_BESIDE_NEW);
    assert_int_equal(change(&here, &known, "C6"), HBK_BESIDE_LOST);
    solved_close(&here);
    solved_close(&known);
}

/* Numbers with a line beneath. */
static size_t underlined(const struct hbk_sheet *sheet)
{
    size_t n = 0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *page = &sheet->pages[p];
        for (size_t i = 1; i < page->n; i++) {
            const struct hbk_mark *mark = &page->marks[i];
            const struct hbk_mark *before = &page->marks[i - 1];
            n += mark->kind == HBK_LINE && before->kind == HBK_TEXT &&
                         mark->group == before->group &&
                         before->face == HBK_FACE_FIGURE && mark->dx > 0.0 &&
                         mark->dy == 0.0 && mark->y > before->y
                     ? 1
                     : 0;
        }
    }
    return n;
}

static void charts_beside_others_have_no_clash(void **state)
{
    (void)state;
    static const char *const pairs[][2] = {
        {"cornet-b-flat-semitone-first", "cornet-b-flat"},
        {"ophicleide-c-11", "bass-e-flat-4"},
        {"keyed-bugle-c-tone-valve", "ophicleide-c-9"},
        {"cornet-six-independent", "bugle-b-flat"},
        {"bugle-b-flat", "keyed-bugle-e-flat-9"},
    };
    static const enum hbk_layout layouts[] = {HBK_LAYOUT_WALL,
                                              HBK_LAYOUT_STAND};
    const struct hbk_ruler ruler = fixed_ruler();
    for (size_t i = 0; i < sizeof(pairs) / sizeof(pairs[0]); i++) {
        struct solved here, known;
        solved_open(&here, pairs[i][0]);
        solved_open(&known, pairs[i][1]);
        for (int k = 0; k < 2 * HBK_PAPER_COUNT; k++) {
            const struct hbk_sheet_options options = {
                .paper = (enum hbk_paper)(k / 2),
                .whom = "Ada Fenwick, Larkmoor Keyed Bugle Band",
                .beside = &known.notes};
            struct hbk_sheet sheet = {.arena = &here.arena};
            if (!hbk_layout_takes(layouts[k % 2], options.paper)) {
                continue;
            }
            assert_int_equal(hbk_sheet_chart(layouts[k % 2], &here.notes,
                                             &options, &ruler, &sheet),
                             HBK_OK);
            check_no_clash(&sheet, &ruler);
            check_sheet_says(&sheet, "For Ada Fenwick, Larkmoor");
            check_sheet_says(&sheet, known.horn.name);
            if (layouts[k % 2] == HBK_LAYOUT_WALL) {
                check_sheet_says(&sheet, "nderlined: ");
            }
            if (i == 0 && k == 0) {
                /*
                 * Valve 1 for 2 and 2 for 1: 18 of the 31 notes differ, so the
                 * 13 others are marked, here and overleaf.
                 */
                assert_int_equal(underlined(&sheet), 26);
            }
        }
        solved_close(&here);
        solved_close(&known);
    }
}

/* The places are those of every printed key signature. */
static void signatures_stand_where_engravers_put_them(void **state)
{
    (void)state;
    static const struct {
        enum hbk_clef clef;
        int sharps;
        const char *notes;
    } cases[] = {
        {HBK_TREBLE, 7, "F5 C5 G5 D5 A4 E5 B4"},
        {HBK_TREBLE, -7, "B4 E5 A4 D5 G4 C5 F4"},
        {HBK_BASS, 7, "F3 C3 G3 D3 A2 E3 B2"},
        {HBK_BASS, -7, "B2 E3 A2 D3 G2 C3 F2"},
        {HBK_ALTO, 7, "F4 C4 G4 D4 A3 E4 B3"},
        {HBK_ALTO, -7, "B3 E4 A3 D4 G3 C4 F3"},
        {HBK_TENOR, 7, "F3 C4 G3 D4 A3 E4 B3"},
        {HBK_TENOR, -7, "B3 E4 A3 D4 G3 C4 F3"},
        {HBK_TREBLE, 2, "F5 C5"},
        {HBK_BASS, -1, "B2"},
    };
    const struct hbk_ruler ruler = fixed_ruler();
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct hbk_arena arena = {0};
        struct hbk_sheet sheet = {.arena = &arena};
        struct hbk_pad pad = {.sheet = &sheet, .ruler = &ruler};
        hbk_pad_page(&pad, hbk_paper_size(HBK_A6), "page");
        const struct hbk_staff staff = {
            .clef = cases[i].clef, .x = 10, .bottom = 30, .space = 1.7};
        hbk_signature_draw(&pad, &staff, cases[i].sharps, 20.0);
        const struct hbk_page *const page = &sheet.pages[0];
        const char *at = cases[i].notes;
        double right = 0.0;
        for (size_t k = 0; k < page->n; k++) {
            char name[4] = {at[0], at[1], '\0'};
            struct hbk_spelling spelling;
            assert_true(hbk_spelling_parse(name, &spelling));
            check_abs(page->marks[k].y,
                      hbk_staff_y(&staff, hbk_spelling_staff_step(spelling)),
                      1e-9);
            assert_true(page->marks[k].x > right);
            right = page->marks[k].x;
            at += at[2] == '\0' ? 2 : 3;
        }
        assert_int_equal(*at, '\0');
        hbk_arena_finish(&arena);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(reversed_valves_change_places),
        cmocka_unit_test(a_horn_beside_itself_changes_nothing),
        cmocka_unit_test(
            a_horn_beside_itself_changes_nothing_however_it_is_set),
        cmocka_unit_test(reversed_valves_change_18_notes_however_they_are_set),
        cmocka_unit_test(a_horn_beside_is_set_by_the_same_wishes),
        cmocka_unit_test(a_number_under_another_finger_is_no_fingering_kept),
        cmocka_unit_test(what_is_new_and_what_is_gone_is_told),
        cmocka_unit_test(charts_beside_others_have_no_clash),
        cmocka_unit_test(signatures_stand_where_engravers_put_them),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
