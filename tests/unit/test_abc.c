#include "support/tunes.h"

#include "tune/melody/unfold.h"

/*
 * What the standard leaves to read between its lines (ABC 2.1, sections in
 * the comments), and choices among tunes and voices. What is refused is in
 * test_abc_refused.c.
 */

/* A tune with this header (after X: and T:, before K:) and music. */
static const char *with_header(struct hbk_arena *arena, const char *first,
                               const char *header, const char *key,
                               const char *music)
{
    return hbk_arena_printf(arena, "%sX:1\nT:t\n%sK:%s\n%s\n", first, header,
                            key, music);
}

struct expectation {
    const char *header, *key, *music, *played;
    unsigned warning; /* 0: none must come */
};

static void try_one(const char *first, const struct expectation *want)
{
    struct hbk_arena arena = {.newest = NULL};
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const char *const text =
        with_header(&arena, first, want->header, want->key, want->music);
    read_good("t.abc", text, &document, &faults);
    const char *const got = played_text(&document.tune, &arena);
    const bool right_fault = want->warning == 0
                                 ? faults.count == 0
                                 : has_fault(&faults, want->warning);
    if (strcmp(got, want->played) != 0 || !right_fault) {
        print_error("music: %s\n", want->music);
        print_faults(&faults);
    }
    assert_string_equal(got, want->played);
    assert_true(right_fault);
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
}

static void try_all(const char *first, const struct expectation *cases,
                    size_t n)
{
    for (size_t i = 0; i < n; i++) {
        try_one(first, &cases[i]);
    }
}

#define COUNT(array) (sizeof(array) / sizeof((array)[0]))

/* 11.3, and 4.11 where it is silent on ties over bar lines. */
static void accidentals_last_as_long_as_the_bar(void **state)
{
    (void)state;
    static const struct expectation cases[] = {
        {"L:1/4\n", "C", "^F f2 z|f4|", "F#4 1/4, F#5 1/2, r 1/4, F5 1", 224},
        {"L:1/4\n%%propagate-accidentals octave\n", "C", "^F f F|",
         "F#4 1/4, F5 1/4, F#4 1/4", 0},
        {"L:1/4\n", "C", "^F ^f =F|", "F#4 1/4, F#5 1/4, F4 1/4", 0},
        {"L:1/4\n", "C", "^F-|F F|", "F#4 1/2, F4 1/4", 0},
        {"L:1/4\n", "C", "^F [K:G] F c|1 C:|2 F|]",
         "F#4 1/4, F#4 1/4, C5 1/4, C4 1/4, F#4 1/4, F#4 1/4, C5 1/4, "
         "F#4 1/4",
         0},
        {"L:1/4\n", "C", "|:^F :: F :|", "F#4 1/4, F#4 1/4, F4 1/4, F4 1/4", 0},
        {"L:1/4\n", "C", "^F [M:2/4] F | F F |",
         "F#4 1/4, F#4 1/4, F4 1/4, F4 1/4", 0},
        {"L:1/4\n", "C", "{^f}g f|", "G5 1/4, F#5 1/4", 0},
        {"L:1/4\n", "D", "{f}g =f f|", "G5 1/4, F5 1/4, F5 1/4", 0},
    };
    try_all("", cases, COUNT(cases));
}

/* 4.8 to 4.10. */
static void repeats_go_back_to_where_they_should(void **state)
{
    (void)state;
    static const struct expectation cases[] = {
        {"L:1/4\n", "C", "C|D:|E|", "C4 1/4, D4 1/4, C4 1/4, D4 1/4, E4 1/4",
         0},
        {"L:1/4\n", "C", "C:|D:|", "C4 1/4, C4 1/4, D4 1/4, D4 1/4", 0},
        {"L:1/4\n", "C", "C||D:|", "C4 1/4, D4 1/4, D4 1/4", 0},
        {"L:1/4\n", "C", "|:C||D:|", "C4 1/4, D4 1/4, C4 1/4, D4 1/4", 0},
        {"L:1/4\n", "C", "C|:D:|E", "C4 1/4, D4 1/4, D4 1/4, E4 1/4", 0},
        {"L:1/4\n", "C", "|::C::|", "C4 1/4, C4 1/4, C4 1/4", 0},
        {"L:1/4\n", "C", "C[1D:|[2E|]F|",
         "C4 1/4, D4 1/4, C4 1/4, E4 1/4, F4 1/4", 0},
        {"L:1/4\n", "C", "|:C|1,3 D:|2 E:|4 F|]",
         "C4 1/4, D4 1/4, C4 1/4, E4 1/4, C4 1/4, D4 1/4, C4 1/4, F4 1/4", 0},
        {"L:1/4\n", "C", "|:C|1-2 D:|3 E||F:|",
         "C4 1/4, D4 1/4, C4 1/4, D4 1/4, C4 1/4, E4 1/4, F4 1/4, F4 1/4", 0},
        {"L:1/4\n", "C", "|:C|1 D:|2 E:|F:|",
         "C4 1/4, D4 1/4, C4 1/4, E4 1/4, F4 1/4, F4 1/4", 0},
        {"L:1/4\n", "C", "C [|] D .| E [| F |]",
         "C4 1/4, D4 1/4, E4 1/4, F4 1/4", 0},
        {"L:1/4\n", "C", "|:c-|c:|c", "C5 1/2, C5 1/2, C5 1/4", 0},
        {"L:1/4\n", "C", "!D.C.!C|D", "C4 1/4, C4 1/4, D4 1/4", 235},
    };
    try_all("", cases, COUNT(cases));
}

/* 4.3, 4.4, 4.11, 4.13. */
static void lengths_stay_exact(void **state)
{
    (void)state;
    static const struct expectation cases[] = {
        {"L:1/8\n", "C", "A3/ A/ A// A/4 A5/8",
         "A4 3/16, A4 1/16, A4 1/32, A4 1/32, A4 5/64", 0},
        {"L:1/128\n", "C", "(3A/A/A/", "A4 1/384, A4 1/384, A4 1/384", 0},
        {"L:1/8\n", "C", "A>>B A<<B A>>>B",
         "A4 7/32, B4 1/32, A4 1/32, B4 7/32, A4 15/64, B4 1/64", 0},
        {"L:1/8\n", "C", "(3A>BA", "A4 1/8, B4 1/24, A4 1/12", 0},
        {"L:1/8\n", "C", "A2>B", "A4 3/8, B4 1/16", 226},
        {"L:1/8\n", "C", "(3D2E2F2", "D4 1/6, E4 1/6, F4 1/6", 0},
        {"L:1/8\n", "C", "A>z z<A", "A4 3/16, r 1/16, r 1/16, A4 3/16", 0},
        {"L:1/8\n", "C", "c4-c2 c", "C5 3/4, C5 1/8", 0},
        {"L:1/8\n", "C", "c4 -c4", "C5 1", 225},
        {"L:1/8\n", "C", "abc|-cba", "A5 1/8, B5 1/8, C5 1/4, B5 1/8, A5 1/8",
         225},
        {"L:1/8\n", "C", "c-d", "C5 1/8, D5 1/8", 205},
        {"L:1/8\n", "C", "^c-_d", "C#5 1/4", 0},
        {"L:1/8\n", "C", "(3ab", "A5 1/12, B5 1/12", 227},
        {"M:3/4\n", "C", "Z2|C6|", "r 3/4, r 3/4, C4 3/4", 0},
        {"M:C|\n", "C", "C8|", "C4 1", 0},
        {"M:(2+3+2)/8\nL:1/8\n", "C", "C7|", "C4 7/8", 0},
        {"M:2/4\n", "C", "A4 A4|", "A4 1/4, A4 1/4", 0},
        {"M:3/4\n", "C", "A6|", "A4 3/4", 0},
        {"M:C\nL:1\n", "C", "A|", "A4 1", 0},
    };
    try_all("", cases, COUNT(cases));
}

/* 3.1.14 and 4.6; HP has no signature, Hp has. */
static void keys_and_clefs_are_told_apart(void **state)
{
    (void)state;
    static const struct expectation cases[] = {
        {"L:1/4\n", "C", "F[K:bass]F[K:G]F[K:clef=alto]F",
         "F4 1/4, F4 1/4, F#4 1/4, F#4 1/4", 0},
        {"L:1/4\n", "HP", "FC", "F4 1/4, C4 1/4", 0},
        {"L:1/4\n", "Hp", "FCG", "F#4 1/4, C#4 1/4, G4 1/4", 0},
        {"L:1/4\n", "D Phr ^f", "fFeB", "F#5 1/4, F#4 1/4, Eb5 1/4, Bb4 1/4",
         0},
        {"L:1/4\n", "D exp _b ^f", "FBC", "F#4 1/4, Bb4 1/4, C4 1/4", 0},
        {"L:1/4\n", "C#", "FCGDAEB",
         "F#4 1/4, C#4 1/4, G#4 1/4, D#4 1/4, A#4 1/4, E#4 1/4, B#4 1/4", 0},
        {"L:1/4\n", "Abm", "BEADGCF",
         "Bb4 1/4, Eb4 1/4, Ab4 1/4, Db4 1/4, Gb4 1/4, Cb4 1/4, Fb4 1/4", 0},
        {"L:1/4\n", "G mixolydian", "FB", "F4 1/4, B4 1/4", 0},
        {"L:1/4\n", "Eb DOR", "GDF", "Gb4 1/4, Db4 1/4, F4 1/4", 0},
        {"L:1/4\n", "F lyd octave=-1", "Bc", "B3 1/4, C4 1/4", 0},
        {"L:1/4\n", "", "Fc", "F4 1/4, C5 1/4", 0},
    };
    try_all("", cases, COUNT(cases));
}

/* 2.2.5, 2.2.6, 3.2, 3.3, 4.7, 4.14, 5, 6.1, 12.2. */
static void what_stands_around_the_notes_is_no_note(void **state)
{
    (void)state;
    static const struct expectation cases[] = {
        {"L:1/4\n", "C", "C \"Gm7\"D \"_1-2\"E !fermata!F ~G .A HA uB|",
         "C4 1/4, D4 1/4, E4 1/4, F4 1/4, G4 1/4, A4 1/4, A4 1/4, B4 1/4", 268},
        {"L:1/4\nU:h=!trill!\n", "C", "hC D|", "C4 1/4, D4 1/4", 0},
        {"L:1/4\n", "C", "hC D|", "C4 1/4, D4 1/4", 228},
        {"L:1/4\n", "C", "C D\\\n% a comment between\nE|\nw: a b 1\\-2\nW:end",
         "C4 1/4, D4 1/4, E4 1/4", 0},
        {"L:1/4\n", "C", "C [Q:1/4=60] D [r:C D E] E y3 F|",
         "C4 1/4, D4 1/4, E4 1/4, F4 1/4", 0},
        {"L:1/4\n", "C", "C!D|", "C4 1/4, D4 1/4", 0},
        {"L:1/4\n", "C", "C+fermata+D|", "C4 1/4, D4 1/4", 0},
        {"L:1/4\n", "C", "C|\nE:|\nG|",
         "C4 1/4, E4 1/4, C4 1/4, E4 1/4, G4 1/4", 0},
        {"L:1/4\n", "C", "C|\nE:words|\nG|", "C4 1/4, G4 1/4", 230},
        {"L:1/4\n", "C", "C .(D E) .-F|", "C4 1/4, D4 1/4, E4 1/4, F4 1/4",
         225},
        {"L:1/4\n", "C", "C|\n \nD|", "C4 1/4", 0},
        {"L:1/4\nN:a\n+:b\nI:abc-include x.abh\n", "C", "C|", "C4 1/4", 221},
        {"L:1/4\nP:AB\n", "C", "P:A\nC|", "C4 1/4", 235},
        {"L:1/4\nP:AB\n", "C", "C|", "C4 1/4", 222},
        {"L:1/4\n", "C", "C|\nj:what\nD|", "C4 1/4, D4 1/4", 232},
    };
    try_all("", cases, COUNT(cases));
}

static void marks_come_with_their_note(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc",
              "X:1\nT:Caf\\'e &amp; \\u266fK\nC:N. N.\nM:4/4\nL:1/8\n"
              "Q:1/8 3/8=40 \"slow\"\nK:D bass\n"
              "((3.A{/^gf}BTc) (d2|\"_1-2\"He4)) {a}z2 efg|[Q:120] [K:C]A|\n",
              &document, &faults);
    const struct hbk_tune *const tune = &document.tune;
    assert_string_equal(tune->title, "Caf\xC3\xA9 & \xE2\x99\xAFK");
    assert_string_equal(tune->composer, "N. N.");
    assert_int_equal(tune->n_events, 13);
    const struct hbk_tune_event *const e = tune->events;
    assert_int_equal(e[0].slur_starts, 1);
    assert_int_equal(e[0].articulation, HBK_TUNE_STACCATO);
    assert_int_equal(e[1].kind, HBK_TUNE_GRACE);
    assert_int_equal(e[1].note, 80);
    assert_true(e[1].slash);
    assert_int_equal(e[1].main, 3);
    assert_int_equal(e[2].note, 78);
    assert_int_equal(e[4].articulation, HBK_TUNE_TRILL);
    assert_int_equal(e[4].slur_stops, 1);
    assert_int_equal(tune->tuplets[0].count, 5);
    assert_int_equal(e[4].tuplet, 0);
    assert_int_equal(e[6].articulation, HBK_TUNE_FERMATA);
    assert_string_equal(e[6].fingering, "1-2");
    assert_int_equal(e[6].value, 1);
    assert_int_equal(e[7].main, 8);
    assert_int_equal(e[9].beam, HBK_TUNE_BEAM_BEGIN);
    assert_int_equal(e[10].beam, HBK_TUNE_BEAM_CONTINUE);
    assert_int_equal(e[11].beam, HBK_TUNE_BEAM_END);
    assert_int_equal(tune->n_keys, 2);
    assert_int_equal(tune->keys[0].fifths, 2);
    assert_int_equal(tune->keys[1].event, 12);
    assert_int_equal(hbk_tune_clef_at(tune, 12)->sign, 'F');
    assert_int_equal(tune->n_tempos, 2);
    check_abs(tune->tempos[0].quarters, 80.0, 1e-9);
    check_abs(tune->tempos[0].beats, 40.0, 1e-9);
    assert_int_equal(tune->tempos[0].beat.den, 2); /* 1/8 and 3/8 */
    assert_string_equal(tune->tempos[0].words, "slow");
    check_abs(tune->tempos[1].quarters, 60.0, 1e-9); /* 120 eighths */
    check_abs(tune->tempos[1].beats, 120.0, 1e-9);
    assert_int_equal(tune->tempos[1].beat.den, 8);
    char where[HBK_TUNE_WHERE_SIZE];
    assert_string_equal(hbk_tune_where(tune, 11, where), "bar 1, beat 5");
    hbk_tune_document_finish(&document);
}

static void a_tempo_governs_from_its_note_on(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const double none = (double)NAN;
    read_good("t.abc", "X:1\nT:t\nL:1/4\nK:C\nC [Q:1/4=30]D E [Q:1/2=40]F|\n",
              &document, &faults);
    const struct hbk_tune *const tune = &document.tune;
    assert_null(hbk_tune_tempo_at(tune, 0));
    assert_ptr_equal(hbk_tune_tempo_at(tune, 1), &tune->tempos[0]);
    assert_ptr_equal(hbk_tune_tempo_at(tune, 2), &tune->tempos[0]);
    assert_ptr_equal(hbk_tune_tempo_at(tune, 3), &tune->tempos[1]);
    check_abs(hbk_tune_quarters_at(tune, 0, none), HBK_TUNE_ASSUMED_QUARTERS,
              0.0);
    check_abs(hbk_tune_quarters_at(tune, 2, none), 30.0, 1e-12);
    check_abs(hbk_tune_quarters_at(tune, 3, none), 80.0, 1e-12);
    check_abs(hbk_tune_quarters_at(tune, 3, 55.0), 55.0, 0.0);
    assert_true(hbk_tune_is_tempo_assumed(tune, none));
    assert_false(hbk_tune_is_tempo_assumed(tune, 55.0));
    hbk_tune_begin_at(&document.tune, 70.0, &document.arena);
    assert_false(hbk_tune_is_tempo_assumed(tune, none));
    check_abs(hbk_tune_quarters_at(tune, 0, none), 70.0, 0.0);
    hbk_tune_document_finish(&document);
}

/* A dotted quarter at 60 dotted quarters is a second; a tie counts twice. */
static void seconds_follow_the_tempo(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc",
              "X:1\nT:t\nL:1/8\nQ:3/8=60\nK:C\nC3-[Q:1/4=30]C2 {e}D2|\n",
              &document, &faults);
    struct hbk_tune_performance played;
    assert_int_equal(
        hbk_tune_unfold(&document.tune, (double)NAN, &document.arena, &played),
        HBK_OK);
    assert_int_equal(played.n, 3);
    assert_false(played.tempo_assumed);
    check_abs(played.items[0].length_s, 3.0, 1e-12);
    check_abs(played.items[1].length_s, 0.0, 0.0);
    check_abs(played.items[2].onset_s, 3.0, 1e-12);
    check_abs(played.items[2].length_s, 2.0, 1e-12);
    assert_int_equal(
        hbk_tune_unfold(&document.tune, 120.0, &document.arena, &played),
        HBK_OK);
    check_abs(played.items[2].onset_s, 1.25, 1e-12);
    hbk_tune_document_finish(&document);
}

static void bars_are_numbered_as_a_musician_counts(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc", "X:1\nT:t\nM:4/4\nL:1/4\nK:C\nC|DDDD|DDD:|:C|DDDD:|]\n",
              &document, &faults);
    static const char *const numbers[] = {"0", "1", "2", "2", "3"};
    assert_int_equal(faults.count, 0);
    assert_int_equal(document.tune.n_bars, COUNT(numbers));
    for (size_t i = 0; i < COUNT(numbers); i++) {
        assert_string_equal(document.tune.bars[i].number, numbers[i]);
        assert_int_equal(document.tune.bars[i].implicit, i == 0 || i == 3);
    }
    hbk_tune_document_finish(&document);
}

static void a_bar_that_is_not_full_is_named(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("t.abc", "X:1\nT:t\nM:4/4\nL:1/4\nK:C\nCCCC|CCC|CCCCC|CCCC|]\n",
              &document, &faults);
    assert_int_equal(faults.count, 2);
    assert_int_equal(faults.items[0].number, 204);
    assert_non_null(strstr(faults.items[0].text, "bar 2"));
    assert_non_null(strstr(faults.items[1].text, "bar 3"));
    hbk_tune_document_finish(&document);
}

static void several_tunes_want_a_choice(void **state)
{
    (void)state;
    static const char book[] = "M:2/4\nL:1/4\n\nwords before\nX:1\nT:One\nK:C\n"
                               "CC|\n\nX:7\nT:Seven\nK:G\nFF|\nX:8\nT:Eight\n"
                               "K:C\nEE|\n";
    read_bad("book.abc", book, 212, "1 (One), 7 (Seven), 8 (Eight)");
    static const struct {
        const char *tune, *played;
        unsigned warning;
    } cases[] = {{"1", "C4 1/4, C4 1/4", 0},
                 {"7", "F#4 1/4, F#4 1/4", 231},
                 {"Eight", "E4 1/4, E4 1/4", 0}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        const struct hbk_tune_options options = {.tune = cases[i].tune};
        assert_int_equal(hbk_tune_read_bytes("book.abc", book, strlen(book),
                                             &options, &document, &faults),
                         HBK_OK);
        assert_string_equal(played_text(&document.tune, &document.arena),
                            cases[i].played);
        assert_int_equal(document.tune.meters[0].beats, 2);
        assert_int_equal(faults.count, cases[i].warning == 0 ? 0 : 1);
        hbk_tune_document_finish(&document);
    }
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    const struct hbk_tune_options options = {.tune = "2"};
    assert_int_equal(hbk_tune_read_bytes("book.abc", book, strlen(book),
                                         &options, &document, &faults),
                     HBK_ERR_INPUT);
    assert_int_equal(faults.items[0].number, 213);
    hbk_tune_document_finish(&document);
}

static void several_voices_want_a_choice(void **state)
{
    (void)state;
    static const char duet[] =
        "X:1\nT:t\nL:1/4\nM:2/4\nV:low clef=bass name=\"Low horn\"\nV:high\n"
        "K:C\n[V:high]cd|\nV:low\nC,[D,F,] \"_x]\"|\n[V:high] ef|[V:low]E,2|\n";
    read_bad("t.abc", duet, 214, "low, high");
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    struct hbk_tune_options options = {.voice = "high"};
    assert_int_equal(hbk_tune_read_bytes("t.abc", duet, strlen(duet), &options,
                                         &document, &faults),
                     HBK_OK);
    assert_string_equal(played_text(&document.tune, &document.arena),
                        "C5 1/4, D5 1/4, E5 1/4, F5 1/4");
    assert_int_equal(document.tune.clefs[0].sign, 'G');
    hbk_tune_document_finish(&document);
    document = (struct hbk_tune_document){.source = NULL};
    options.voice = "middle";
    assert_int_equal(hbk_tune_read_bytes("t.abc", duet, strlen(duet), &options,
                                         &document, &faults),
                     HBK_ERR_INPUT);
    assert_int_equal(faults.items[0].number, 215);
    hbk_tune_document_finish(&document);
}

/* 2.2: text around tunes is ignored, so a page with a tune in it will do. */
static void a_tune_is_found_in_other_text(void **state)
{
    (void)state;
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {.count = 0};
    read_good("page.html",
              "<html><body>\n<pre>\n\nX:1\nT:t\nL:1/4\nK:C\nC\n\n</pre>\n",
              &document, &faults);
    assert_string_equal(played_text(&document.tune, &document.arena), "C4 1/4");
    hbk_tune_document_finish(&document);
}

/*
 * The melodies of tests/data/tunes.abc: public domain, from memory. The
 * counts are of the note letters and bar lines in the file.
 */
static void every_tune_of_the_book_reads_and_fills_its_bars(void **state)
{
    (void)state;
    static const struct {
        const char *tune;
        size_t notes, bars;
    } book[] = {{"1", 24, 7},  {"2", 41, 14},  {"3", 44, 16},  {"4", 42, 12},
                {"5", 32, 12}, {"6", 62, 16},  {"7", 54, 16},  {"8", 56, 17},
                {"9", 62, 21}, {"10", 55, 17}, {"11", 15, 10}, {"12", 16, 4}};
    for (size_t i = 0; i < COUNT(book); i++) {
        struct hbk_tune_document document = {.source = NULL};
        struct hbk_faults faults = {.count = 0};
        const struct hbk_tune_options options = {.tune = book[i].tune};
        assert_int_equal(
            hbk_tune_read("tests/data/tunes.abc", &options, &document, &faults),
            HBK_OK);
        print_faults(&faults);
        size_t notes = 0;
        for (size_t k = 0; k < document.tune.n_events; k++) {
            notes += document.tune.events[k].kind == HBK_TUNE_NOTE;
        }
        if (notes != book[i].notes || document.tune.n_bars != book[i].bars) {
            print_error("tune %s: %zu notes, %zu bars\n", book[i].tune, notes,
                        document.tune.n_bars);
        }
        assert_int_equal(faults.count, 0);
        assert_int_equal(notes, book[i].notes);
        assert_int_equal(document.tune.n_bars, book[i].bars);
        hbk_tune_document_finish(&document);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(accidentals_last_as_long_as_the_bar),
        cmocka_unit_test(repeats_go_back_to_where_they_should),
        cmocka_unit_test(lengths_stay_exact),
        cmocka_unit_test(keys_and_clefs_are_told_apart),
        cmocka_unit_test(what_stands_around_the_notes_is_no_note),
        cmocka_unit_test(marks_come_with_their_note),
        cmocka_unit_test(a_tempo_governs_from_its_note_on),
        cmocka_unit_test(seconds_follow_the_tempo),
        cmocka_unit_test(bars_are_numbered_as_a_musician_counts),
        cmocka_unit_test(a_bar_that_is_not_full_is_named),
        cmocka_unit_test(several_tunes_want_a_choice),
        cmocka_unit_test(several_voices_want_a_choice),
        cmocka_unit_test(a_tune_is_found_in_other_text),
        cmocka_unit_test(every_tune_of_the_book_reads_and_fills_its_bars),
    };
    return cmocka_run_group_tests_name("abc", tests, NULL, NULL);
}
