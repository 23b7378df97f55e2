#include "support/engraved.h"

#include "engrave/engrave_beam.h"
#include "engrave/engrave_notes.h"
#include "engrave/engrave_pitch.h"
#include "engrave/engrave_shape.h"
#include "engrave/engrave_signs.h"
#include "engrave/engrave_space.h"

/* Notes, columns and bars of the whole tune. */
static struct hbk_engraving engrave(struct laid *laid)
{
    struct hbk_engraving eng = {.arena = &laid->arena,
                                .tune = &laid->document.tune,
                                .end_bar = laid->document.tune.n_bars};
    hbk_eng_collect(&eng, NULL);
    return eng;
}

static int pos_of(const char *name, const struct hbk_tune_clef *clef)
{
    struct hbk_spelling spelling;
    assert_true(hbk_spelling_parse(name, &spelling));
    return hbk_spelling_staff_step(spelling) - hbk_eng_bottom_step(clef);
}

/*
 * The places of seven sharps and seven flats in the four clefs of practice,
 * from memory, as any primer of notation shows them.
 */
static void signatures_stand_in_their_places(void **state)
{
    (void)state;
    static const struct {
        struct hbk_tune_clef clef;
        const char *sharps[7], *flats[7];
    } cases[] = {
        {{0, 'G', 2, 0},
         {"F5", "C5", "G5", "D5", "A4", "E5", "B4"},
         {"B4", "E5", "A4", "D5", "G4", "C5", "F4"}},
        {{0, 'F', 4, 0},
         {"F3", "C3", "G3", "D3", "A2", "E3", "B2"},
         {"B2", "E3", "A2", "D3", "G2", "C3", "F2"}},
        {{0, 'C', 3, 0},
         {"F4", "C4", "G4", "D4", "A3", "E4", "B3"},
         {"B3", "E4", "A3", "D4", "G3", "C4", "F3"}},
        {{0, 'C', 4, 0},
         {"F3", "C4", "G3", "D4", "A3", "E4", "B3"},
         {"B3", "E4", "A3", "D4", "G3", "C4", "F3"}},
    };
    const struct hbk_tune_key sharp = {.fifths = 7,
                                       .alter = {1, 1, 1, 1, 1, 1, 1}};
    const struct hbk_tune_key flat = {.fifths = -7,
                                      .alter = {-1, -1, -1, -1, -1, -1, -1}};
    const struct hbk_tune_key none = {.fifths = 0};
    struct hbk_eng_sign signs[HBK_ENG_SIGNS_MAX];
    for (size_t c = 0; c < sizeof(cases) / sizeof(cases[0]); c++) {
        const struct hbk_tune_clef *clef = &cases[c].clef;
        assert_int_equal(hbk_eng_signature(&sharp, NULL, clef, signs), 7);
        for (size_t i = 0; i < 7; i++) {
            assert_int_equal(signs[i].glyph, HBK_GLYPH_SHARP);
            assert_int_equal(signs[i].pos, pos_of(cases[c].sharps[i], clef));
        }
        assert_int_equal(hbk_eng_signature(&flat, &sharp, clef, signs), 7);
        for (size_t i = 0; i < 7; i++) {
            assert_int_equal(signs[i].glyph, HBK_GLYPH_FLAT);
            assert_int_equal(signs[i].pos, pos_of(cases[c].flats[i], clef));
        }
        /* A key without signs says so where it follows one with them. */
        assert_int_equal(hbk_eng_signature(&none, NULL, clef, signs), 0);
        assert_int_equal(hbk_eng_signature(&none, &flat, clef, signs), 7);
        assert_int_equal(signs[0].glyph, HBK_GLYPH_NATURAL);
        assert_int_equal(signs[0].pos, pos_of(cases[c].flats[0], clef));
    }
}

/* In no clef that a part may have does a signature leave the staff. */
static void signatures_keep_to_the_staff(void **state)
{
    (void)state;
    static const struct hbk_tune_clef clefs[] = {
        {0, 'C', 1, 0}, {0, 'C', 2, 0}, {0, 'C', 5, 0},  {0, 'F', 3, 0},
        {0, 'F', 5, 0}, {0, 'G', 1, 0}, {0, 'G', 2, -1}, {0, 'F', 4, 1}};
    for (size_t c = 0; c < sizeof(clefs) / sizeof(clefs[0]); c++) {
        for (int sign = -1; sign < 2; sign += 2) {
            struct hbk_tune_key key = {.fifths = 7 * sign};
            for (int i = 0; i < 7; i++) {
                key.alter[i] = sign;
            }
            struct hbk_eng_sign signs[HBK_ENG_SIGNS_MAX];
            assert_int_equal(hbk_eng_signature(&key, NULL, &clefs[c], signs),
                             7);
            for (int i = 0; i < 7; i++) {
                assert_in_range(signs[i].pos + 2, 0, 11);
            }
        }
    }
}

/*
 * Below the middle line up, above it down, on it down unless both neighbours
 * go up (Gould, Behind Bars, as reported).
 */
static void stems_point_to_the_middle(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nK:C\nC A B c | A B A f | e B A c");
    const struct hbk_engraving eng = engrave(&laid);
    static const bool up[] = {true, true,  false, false, true, true,
                              true, false, false, false, true, false};
    assert_int_equal(eng.n_notes, 12);
    for (size_t i = 0; i < eng.n_notes; i++) {
        assert_int_equal(eng.notes[i].up, up[i]);
    }
    close_laid(&laid);
}

static void a_beam_goes_by_the_farthest_note(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/8\nK:C\nCc Af cE GB");
    const struct hbk_engraving eng = engrave(&laid);
    assert_int_equal(eng.n_beams, 4);
    assert_true(eng.beams[0].up);  /* C4 six below, C5 one above */
    assert_false(eng.beams[1].up); /* A4 one below, F5 four above */
    assert_true(eng.beams[2].up);  /* E4 four below */
    assert_true(eng.beams[3].up);  /* G4 two below, B4 on the line */
    close_laid(&laid);
}

/* C4 and A5 need one line, C6 two, G3 below two, C3 four (any primer). */
static void ledger_lines_are_as_many_as_needed(void **state)
{
    (void)state;
    static const struct {
        const char *note;
        int lines;
    } cases[] = {{"D4", 0},  {"C4", -1}, {"B3", -1}, {"A3", -2},
                 {"G3", -2}, {"C3", -4}, {"G5", 0},  {"A5", 1},
                 {"B5", 1},  {"C6", 2},  {"D6", 2},  {"E6", 3}};
    const struct hbk_tune_clef treble = {0, 'G', 2, 0};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        assert_int_equal(hbk_eng_ledger_lines(pos_of(cases[i].note, &treble)),
                         cases[i].lines);
    }
}

/* In a space, above the line of a head on a line (Gould, p. 54). */
static void dots_stand_in_spaces(void **state)
{
    (void)state;
    for (int pos = -6; pos < 14; pos++) {
        const double y = hbk_eng_dot_y(pos);
        check_abs(y - floor(y), 0.5, 1e-12);
        check_abs(y - hbk_eng_y(pos), pos % 2 == 0 ? 0.5 : 0.0, 1e-12);
    }
}

/* "s" sharp, "f" flat, "n" natural, capitals for reminders, "-" for none. */
static const char *signs_of(const struct hbk_engraving *eng)
{
    struct hbk_text out = {.arena = eng->arena};
    for (size_t i = 0; i < eng->n_notes; i++) {
        const struct hbk_eng_note *note = &eng->notes[i];
        if (note->source->kind == HBK_TUNE_REST) {
            continue;
        }
        char sign = '-';
        sign = note->sign == HBK_GLYPH_SHARP ? 's' : sign;
        sign = note->sign == HBK_GLYPH_FLAT ? 'f' : sign;
        sign = note->sign == HBK_GLYPH_NATURAL ? 'n' : sign;
        sign = note->sign == HBK_GLYPH_DOUBLE_SHARP ? 'x' : sign;
        sign = note->sign == HBK_GLYPH_DOUBLE_FLAT ? 'b' : sign;
        if (note->courtesy) {
            sign = (char)(sign - 'a' + 'A');
        }
        hbk_text_put(&out, &sign, 1);
    }
    return hbk_text_string(&out);
}

/* Parentheses only where the source calls an accidental a reminder. */
static void reminders_are_plain_unless_the_source_calls_them_so(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nK:C\n^F4 | F4 | G4");
    laid.document.tune.events[2].accidental = HBK_TUNE_CAUTIONARY;
    const struct hbk_engraving eng = engrave(&laid);
    assert_true(eng.notes[1].courtesy && !eng.notes[1].bracketed);
    assert_true(eng.notes[2].courtesy && eng.notes[2].bracketed);
    laid.document.tune.events[0].accidental = HBK_TUNE_EDITORIAL;
    const struct hbk_engraving edited = engrave(&laid);
    assert_true(!edited.notes[0].courtesy && edited.notes[0].bracketed);
    assert_true(hbk_eng_sign_room(&eng.notes[2]) >
                hbk_eng_sign_room(&eng.notes[1]) + 1.0);
    close_laid(&laid);
}

/*
 * How many bars each bar of rest stands for; "." for any other bar. Between
 * them nothing may be told.
 */
static const char *rests_of(const struct hbk_engraving *eng)
{
    struct hbk_text out = {.arena = eng->arena};
    for (size_t b = 0; b < eng->n_bars; b++) {
        const struct hbk_eng_bar *bar = &eng->bars[b];
        const struct hbk_eng_note *note =
            &eng->notes[eng->columns[bar->first].first];
        const size_t n = bar->last - bar->bar + 1;
        assert_int_equal(note->n_bars, n);
        if (note->fills_bar) {
            hbk_text_addf(&out, "%zu ", n);
        } else {
            hbk_text_add(&out, ". ");
        }
    }
    return hbk_text_string(&out);
}

static void bars_of_rest_are_written_as_one(void **state)
{
    (void)state;
    static const struct {
        const char *music, *bars;
    } cases[] = {
        {"c4|Z12|c4|z4|z4|c4", ". 12 . 2 . "},
        {"z4|c4|z4|", "1 . 1 "},
        {"Z3||Z2|[K:D]Z2|[M:3/4]Z2|[K:clef=bass]Z4|c3|", "3 2 2 2 4 . "},
        {"c4|Z2|:Z3:|[1Z2:|[2Z2|]", ". 2 3 2 2 "},
        {"c4|Z2|!segno!Z2|!coda!Z2!D.C.!|Z2|", ". 2 2 2 2 "},
        {"c4|z4|z2z2|!fermata!z4|z2|z4|x4|z4|", ". 1 . 1 1 1 1 1 "},
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct laid laid;
        char music[120];
        (void)snprintf(music, sizeof(music), "M:4/4\nL:1/4\nK:C\n%s",
                       cases[i].music);
        read_text(&laid, music);
        const struct hbk_engraving eng = engrave(&laid);
        assert_string_equal(rests_of(&eng), cases[i].bars);
        close_laid(&laid);
    }
}

/* What stands over or under the staff parts bars of rest; so does a range. */
static void marks_part_bars_of_rest(void **state)
{
    (void)state;
    static const struct {
        size_t bar;
        int64_t time; /* in whole notes, a bar each */
        int64_t den;
        const char *bars;
    } cases[] = {{0, 0, 1, "6 . "},
                 {2, 2, 1, "2 4 . "},
                 {2, 3, 1, "3 3 . "},
                 {2, 5, 2, "2 1 3 . "},
                 {5, 6, 1, "6 . "}};
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct laid laid;
        read_text(&laid, "M:4/4\nL:1/4\nK:C\nZ6|c4");
        struct hbk_tune_mark mark = {
            .kind = HBK_TUNE_MARK_REHEARSAL,
            .at = {cases[i].bar, {cases[i].time, cases[i].den}, cases[i].bar},
            .text = "A"};
        mark.end = mark.at;
        laid.document.tune.marks.n = 1;
        laid.document.tune.marks.items = &mark;
        const struct hbk_engraving eng = engrave(&laid);
        assert_string_equal(rests_of(&eng), cases[i].bars);
        close_laid(&laid);
    }
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nK:C\nZ9|c4");
    laid.document.tune.bars[0].rests = 4; /* as the source has it */
    struct hbk_engraving eng = {.arena = &laid.arena,
                                .tune = &laid.document.tune,
                                .first_bar = 0,
                                .end_bar = 7};
    hbk_eng_collect(&eng, NULL);
    assert_string_equal(rests_of(&eng), "4 3 ");
    close_laid(&laid);
}

static void accidentals_are_those_the_bar_demands(void **state)
{
    (void)state;
    static const struct {
        const char *music, *signs;
    } cases[] = {
        /* Repeated in the bar: once. In the next bar a natural reminds. */
        {"K:C\n^F F ^F G | F F G A", "s---N---"},
        {"K:D\nF C =F =F | F G F A", "--n-S---"},
        /* Another octave is another place, with a reminder. */
        {"K:C\n^C =c ^C =c", "sN--"},
        /* In the next bar on the same line or space only, and only once. */
        {"K:C\n^C4 | c C c C | C4", "s-N---"},
        {"K:C\n^C4 | G4 | C4", "s--"},
        {"K:C\n^C4 | ^C4 | C4", "ssN"},
        {"K:C\n^C2 =C2 | C4", "sn-"},
        /* Where half tone follows half tone, none lasts into the next bar. */
        {"K:C\nF ^F G ^G | G ^F =F E | _E D ^D =E | F ^F G2",
         "-s-sNsn-f-sn-s-"},
        {"K:C\n^F G ^G A | F ^F G c", "s-s--s--"},
        {"K:C\n^F G ^G A | F G B2", "s-s-NN-"},
        /* A tie carries over the bar line; what follows needs its own. */
        {"K:C\n^F4- | F ^F =F G", "s-sn-"},
        {"K:C\nG2 _B2- | B2 =B2", "-f-N"},
        {"K:F\n^^C __D _B B | =B2 ^B2", "xb--ns"},
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct laid laid;
        char music[80];
        (void)snprintf(music, sizeof(music), "M:4/4\nL:1/4\n%s",
                       cases[i].music);
        read_text(&laid, music);
        const struct hbk_engraving eng = engrave(&laid);
        assert_string_equal(signs_of(&eng), cases[i].signs);
        close_laid(&laid);
    }
}

/* Without beams of its own, music is beamed by the meter. */
static void beams_follow_the_meter(void **state)
{
    (void)state;
    static const struct {
        const char *music;
        const char *groups; /* notes under each beam */
    } cases[] = {
        {"M:4/4\nL:1/8\nK:C\nC D E F G A B c", "44"},
        {"M:3/4\nL:1/8\nK:C\nC D E F G A", "6"},
        {"M:6/8\nL:1/8\nK:C\nC D E F G A", "33"},
        {"M:2/4\nL:1/16\nK:C\nC D E F G2 A B", "43"},
        {"M:5/8\nL:1/8\nK:C\nC D E F G", "32"},
        {"M:7/8\nL:1/8\nK:C\nC D E F G A B", "223"},
        {"M:4/4\nL:1/8\nK:C\nC2 D E F2 z G | A z B c d2 e2", "22"},
    };
    for (size_t i = 0; i < sizeof(cases) / sizeof(cases[0]); i++) {
        struct laid laid;
        read_text(&laid, cases[i].music);
        struct hbk_tune *tune = &laid.document.tune;
        for (size_t k = 0; k < tune->n_events; k++) {
            tune->events[k].beam = HBK_TUNE_BEAM_NONE;
        }
        const struct hbk_engraving eng = engrave(&laid);
        char groups[32] = "";
        for (size_t b = 0; b < eng.n_beams; b++) {
            groups[b] = (char)('0' + eng.beams[b].n);
        }
        assert_string_equal(groups, cases[i].groups);
        close_laid(&laid);
    }
}

/* Each doubling of the length adds the same distance. */
static void spacing_grows_with_the_logarithm(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/8\nK:C\nCDEF GABc | C8 | C4 D4 | C2D2E2F2");
    struct hbk_engraving eng = engrave(&laid);
    hbk_eng_space(&eng, 400.0);
    check_abs(eng.shortest, 0.125, 1e-12);
    check_abs(eng.columns[0].ideal, 2.4, 1e-9);
    check_abs(eng.columns[12].ideal, 3.6, 1e-9); /* of the quarters */
    check_abs(eng.columns[9].ideal, 4.8, 1e-9);
    check_abs(eng.columns[8].ideal, 6.0, 1e-9);
    close_laid(&laid);
}

/* No column reaches into the next or to its bar line. */
static void check_columns(const struct hbk_engraving *eng,
                          const struct hbk_eng_line *line)
{
    for (size_t b = line->first; b < line->first + line->n; b++) {
        const struct hbk_eng_bar *bar = &eng->bars[b];
        double free_from = b == line->first ? 0.0 : bar->x;
        for (size_t i = bar->first; i < bar->first + bar->n; i++) {
            const struct hbk_eng_column *column = &eng->columns[i];
            assert_true(column->x - column->left >= free_from + 0.3);
            free_from = column->x + column->right;
        }
        assert_true(bar->end >= free_from + 0.5);
    }
}

/* Every line but the last ends with its staff; no bar is lost. */
static void lines_are_filled(void **state)
{
    (void)state;
    for (int tune = 1; tune <= 12; tune++) {
        struct laid laid;
        char name[4];
        (void)snprintf(name, sizeof(name), "%d", tune);
        read_tune(&laid, "tests/data/tunes.abc", name);
        struct hbk_engraving eng = engrave(&laid);
        const double width = 190.0 / 1.75;
        hbk_eng_space(&eng, width);
        hbk_eng_break(&eng, width);
        size_t next = 0;
        for (size_t i = 0; i < eng.n_lines; i++) {
            struct hbk_eng_line *line = &eng.lines[i];
            assert_int_equal(line->first, next);
            next += line->n;
            hbk_eng_place(&eng, line);
            const struct hbk_eng_bar *last = &eng.bars[next - 1];
            const double end =
                hbk_eng_draw_bar_line(&eng, last->bar, true, NULL, last->end);
            check_abs(end + line->courtesy, line->width, 1e-6);
            check_columns(&eng, line);
            if (i + 1 < eng.n_lines) {
                check_abs(line->width, width, 0.0);
            }
        }
        assert_int_equal(next, eng.n_bars);
        close_laid(&laid);
    }
}

/* The beams of a pair may not leave a wedge of white within the staff. */
static void beams_sit_straddle_or_hang(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/8\nK:C\nFG AB cd ef | GE fd CE gc' | "
                     "A,G, DA Bf FA");
    struct hbk_engraving eng = engrave(&laid);
    hbk_eng_space(&eng, 110.0);
    hbk_eng_break(&eng, 110.0);
    for (size_t i = 0; i < eng.n_lines; i++) {
        hbk_eng_place(&eng, &eng.lines[i]);
    }
    assert_int_equal(eng.n_beams, 12);
    for (size_t b = 0; b < eng.n_beams; b++) {
        struct hbk_eng_beam *beam = &eng.beams[b];
        hbk_eng_slant(&eng, beam);
        const int a = eng.notes[beam->first].pos;
        const int z = eng.notes[beam->first + 1].pos;
        assert_true((beam->y1 - beam->y0) * (z - a) >= 0.0);
        assert_true(fabs(beam->y1 - beam->y0) <= 1.25 + 1e-9);
        const double ends[2] = {beam->y0, beam->y1};
        for (int k = 0; k < 2; k++) {
            const double quarters = 4.0 * ends[k];
            check_abs(quarters, floor(quarters + 0.5), 1e-9);
            if (ends[k] > 0.0 && ends[k] < 4.0) {
                assert_true(fabs(ends[k] - floor(ends[k]) - 0.5) > 0.1);
            }
        }
        /* A stem is never under two and a half spaces. */
        for (size_t k = 0; k < 2; k++) {
            const struct hbk_eng_note *note = &eng.notes[beam->first + k];
            assert_true(fabs(note->tip - hbk_eng_y(note->pos)) >= 2.25);
        }
    }
    close_laid(&laid);
}

/* One rest alone in its bar is a whole rest in the middle, in any meter. */
static void a_rest_for_a_bar_stands_in_its_middle(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:3/4\nL:1/4\nK:C\nC D E | z3 | F2 z");
    struct hbk_engraving eng = engrave(&laid);
    hbk_eng_space(&eng, 60.0);
    hbk_eng_break(&eng, 60.0);
    assert_int_equal(eng.n_lines, 1);
    hbk_eng_place(&eng, &eng.lines[0]);
    const struct hbk_eng_note *rest = &eng.notes[3];
    assert_true(rest->fills_bar);
    assert_false(eng.notes[5].fills_bar);
    check_abs(rest->x + 0.5 * rest->width,
              0.5 * (eng.bars[1].x + eng.bars[1].end), 1e-9);
    close_laid(&laid);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(signatures_stand_in_their_places),
        cmocka_unit_test(signatures_keep_to_the_staff),
        cmocka_unit_test(stems_point_to_the_middle),
        cmocka_unit_test(a_beam_goes_by_the_farthest_note),
        cmocka_unit_test(ledger_lines_are_as_many_as_needed),
        cmocka_unit_test(dots_stand_in_spaces),
        cmocka_unit_test(accidentals_are_those_the_bar_demands),
        cmocka_unit_test(reminders_are_plain_unless_the_source_calls_them_so),
        cmocka_unit_test(bars_of_rest_are_written_as_one),
        cmocka_unit_test(marks_part_bars_of_rest),
        cmocka_unit_test(beams_follow_the_meter),
        cmocka_unit_test(spacing_grows_with_the_logarithm),
        cmocka_unit_test(lines_are_filled),
        cmocka_unit_test(beams_sit_straddle_or_hang),
        cmocka_unit_test(a_rest_for_a_bar_stands_in_its_middle),
    };
    return cmocka_run_group_tests_name("engrave", tests, NULL, NULL);
}
