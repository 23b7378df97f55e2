/*
 * Who reads it: which clef and which notes a player gets, that what sounds and
 * its fingering stay the same, and what keys and notes are then called.
 */
#include "support/sheets.h"
#include "support/solved.h"

#include "edition/perform.h"
#include "notes/beside.h"
#include "notes/scales.h"
#include "passage/scale.h"
#include "sheet/words/words.h"
#include "sheet/words/words_beside.h"
#include "sheet/words/words_read.h"
#include "solve/reads.h"
#include "tune/document.h"

#define COUNT(list) (sizeof(list) / sizeof((list)[0]))

/* The notation of a horn that was solved, for another player. */
static struct hbk_notation read_as(const struct solved *s, enum hbk_reads reads)
{
    struct hbk_notes notes = s->notes;
    struct hbk_faults faults = {0};
    notes.setting.reads = reads;
    return hbk_notation_for(&notes, &faults);
}

static void solved_as(struct solved *s, const char *name, enum hbk_reads reads,
                      enum hbk_naming names)
{
    solved_read(s, name);
    s->setting.reads = reads;
    s->setting.names = names;
    solved_run(s);
}

/*
 * From memory, as bands have written since the time of these horns: in treble
 * clef a baritone or euphonium in B flat sounds a ninth lower, a bass in E flat
 * an octave and a sixth; in bass clef all of them as written. An ophicleide in
 * C, as low as a euphonium, sounds an octave lower in treble clef, one in
 * B flat a ninth, and written C is its open note.
 */
static void the_rule_gives_what_bands_write(void **state)
{
    (void)state;
    static const struct {
        const char *horn;
        enum hbk_reads reads;
        enum hbk_clef clef;
        int sounds; /* what the C that is read sounds, from middle C */
    } cases[] = {
        {"cornet-b-flat", HBK_READS_OWN, HBK_TREBLE, -2},
        {"cornet-b-flat", HBK_READS_TREBLE, HBK_TREBLE, -2},
        {"cornet-b-flat", HBK_READS_TREBLE_BFLAT, HBK_TREBLE, -2},
        {"cornet-b-flat", HBK_READS_CONCERT, HBK_TREBLE, 0},
        {"cornet-b-flat", HBK_READS_BASS, HBK_BASS, 0},
        {"baritone-b-flat", HBK_READS_TREBLE_BFLAT, HBK_TREBLE, -14},
        {"baritone-b-flat", HBK_READS_TREBLE, HBK_TREBLE, -14},
        {"baritone-b-flat", HBK_READS_BASS, HBK_BASS, 0},
        {"baritone-b-flat", HBK_READS_CONCERT, HBK_BASS, 0},
        {"bass-e-flat", HBK_READS_TREBLE_EFLAT, HBK_TREBLE, -21},
        {"bass-e-flat", HBK_READS_TREBLE_BFLAT, HBK_TREBLE, -26},
        {"bass-e-flat", HBK_READS_CONCERT, HBK_BASS, 0},
        {"keyed-bugle-c-6", HBK_READS_TREBLE_BFLAT, HBK_TREBLE, -2},
        {"ophicleide-c-11", HBK_READS_OWN, HBK_BASS, 0},
        {"ophicleide-c-11", HBK_READS_CONCERT, HBK_BASS, 0},
        {"ophicleide-c-11", HBK_READS_TREBLE, HBK_TREBLE, -12},
        {"ophicleide-c-11", HBK_READS_TREBLE_BFLAT, HBK_TREBLE, -14},
        {"ophicleide-b-flat-11-museum", HBK_READS_TREBLE, HBK_TREBLE, -14},
        {"trombone-six-independent", HBK_READS_CONCERT, HBK_TENOR, 0},
        {"trombone-six-independent", HBK_READS_TREBLE, HBK_TREBLE, -14},
    };
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct solved s;
        solved_as(&s, cases[i].horn, cases[i].reads, HBK_NAMES_ENGLISH);
        const struct hbk_notation *const notation = &s.notes.notation;
        const int sounds =
            s.notes.written_c4_sounds - HBK_NOTE_C4 - notation->shift;
        if (notation->clef != cases[i].clef || sounds != cases[i].sounds) {
            fail_msg("%s, %s: %s clef, C sounds %d", cases[i].horn,
                     hbk_reads_name(cases[i].reads),
                     hbk_clef_name(notation->clef), sounds);
        }
        solved_close(&s);
    }
}

/* Ledger lines of a whole compass, counted note by note from the staff. */
static int ledgers(const struct hbk_notes *notes, enum hbk_clef clef, int shift)
{
    int n = 0;
    for (int w = notes->lowest; w <= notes->highest; w++) {
        const int up = hbk_spelling_staff_step(hbk_note_usual(w + shift)) -
                       hbk_clef_bottom_step(clef);
        for (int line = -2; line >= up; line -= 2) {
            n++;
        }
        for (int line = 10; line <= up; line += 2) {
            n++;
        }
    }
    return n;
}

static void check_reading(const struct solved *s, const char *name,
                          enum hbk_reads reads)
{
    static const int above[HBK_READS_COUNT] = {
        [HBK_READS_TREBLE_BFLAT] = 2, [HBK_READS_TREBLE_EFLAT] = 9};
    const struct hbk_notation notation = read_as(s, reads);
    const int sounds = s->notes.written_c4_sounds - HBK_NOTE_C4;
    const int over = notation.shift - sounds;
    const bool is_treble = reads == HBK_READS_TREBLE ||
                           reads == HBK_READS_TREBLE_BFLAT ||
                           reads == HBK_READS_TREBLE_EFLAT;
    bool right = true;
    if (reads == HBK_READS_BASS || reads == HBK_READS_CONCERT) {
        right = over == 0;
    } else if (reads != HBK_READS_TREBLE) {
        right = ((over - above[reads]) % 12 + 12) % 12 == 0;
    } else if (s->horn.clef == HBK_TREBLE) {
        right = notation.shift == 0;
    }
    right = right && (!is_treble || notation.clef == HBK_TREBLE) &&
            (reads != HBK_READS_BASS || notation.clef == HBK_BASS);
    if (is_treble && notation.shift != 0) {
        const int here = ledgers(&s->notes, HBK_TREBLE, notation.shift);
        right = right &&
                here < ledgers(&s->notes, HBK_TREBLE, notation.shift - 12) &&
                here <= ledgers(&s->notes, HBK_TREBLE, notation.shift + 12);
    }
    if (!right) {
        fail_msg("%s, %s: %s clef, %+d", name, hbk_reads_name(reads),
                 hbk_clef_name(notation.clef), notation.shift);
    }
}

/* A reading moves by what it says, to the octave with the fewest ledgers. */
static void every_horn_can_be_read_by_everyone(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *horns = NULL;
    n = hbk_shipped_list(&arena, &horns);
    assert_true(n > 30);
    for (size_t i = 0; i < n; i++) {
        struct solved s;
        solved_open(&s, horns[i].name);
        const struct hbk_notation own = read_as(&s, HBK_READS_OWN);
        assert_int_equal(own.shift, 0);
        assert_int_equal(own.clef, s.horn.clef);
        for (int r = HBK_READS_OWN + 1; r < HBK_READS_COUNT; r++) {
            check_reading(&s, horns[i].name, (enum hbk_reads)r);
        }
        solved_close(&s);
    }
    hbk_arena_finish(&arena);
}

static void check_same_notes(const struct hbk_notes *a,
                             const struct hbk_notes *b)
{
    assert_int_equal(a->n, b->n);
    for (size_t i = 0; i < a->n; i++) {
        const struct hbk_note *const x = &a->notes[i];
        const struct hbk_note *const y = &b->notes[i];
        assert_int_equal(x->written, y->written);
        assert_int_equal(x->sounding, y->sounding);
        assert_int_equal(x->n, y->n);
        for (size_t f = 0; f < x->n; f++) {
            assert_int_equal(x->fingerings[f].press, y->fingerings[f].press);
            assert_int_equal(x->fingerings[f].partial,
                             y->fingerings[f].partial);
            check_abs(x->fingerings[f].cents, y->fingerings[f].cents, 0.0);
        }
    }
}

/* Nothing that is found depends on who asks; with a crook in, neither. */
static void what_sounds_is_fingered_alike_for_every_reader(void **state)
{
    (void)state;
    static const struct {
        const char *horn;
        int crook;
    } cases[] = {{"cornopean-b-flat", 0},
                 {"cornopean-b-flat", -1},
                 {"ophicleide-c-9", -1},
                 {"cornet-six-independent", -1},
                 {"trombone-six-independent", -1},
                 {"euphonium-b-flat-compensating-4", -1}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        struct solved own;
        solved_read(&own, cases[i].horn);
        own.setting.crook = cases[i].crook;
        solved_run(&own);
        for (int r = HBK_READS_OWN; r < HBK_READS_COUNT; r++) {
            struct solved s;
            solved_read(&s, cases[i].horn);
            s.setting.crook = cases[i].crook;
            s.setting.reads = (enum hbk_reads)r;
            s.setting.names = (enum hbk_naming)(r % HBK_NAMING_COUNT);
            solved_run(&s);
            check_same_notes(&own.notes, &s.notes);
            assert_int_equal(s.notes.notation.naming, r % HBK_NAMING_COUNT);
            solved_close(&s);
        }
        solved_close(&own);
    }
}

/*
 * A crook in A lowers the horn by a semitone; who reads parts in B flat reads a
 * semitone lower what was C, and who reads the horn as it stands, C.
 */
static void a_crook_moves_what_is_read_at_pitch(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "cornopean-b-flat");
    while (strcmp(s.horn.crooks[++s.setting.crook].name, "A") != 0) {
    }
    solved_run(&s);
    assert_int_equal(read_as(&s, HBK_READS_TREBLE).shift, 0);
    assert_int_equal(read_as(&s, HBK_READS_TREBLE_BFLAT).shift, -1);
    assert_int_equal(read_as(&s, HBK_READS_CONCERT).shift, -3);
    solved_close(&s);
}

/* So does nothing that is stuck, and no pitch. */
static void what_is_stuck_moves_nothing(void **state)
{
    (void)state;
    struct solved s;
    solved_read(&s, "cornet-six-independent");
    s.setting.reads = HBK_READS_TREBLE;
    s.setting.stuck.held_up = 1U; /* the valve with the shortest tube */
    s.setting.a4_hz = 431.0;
    solved_run(&s);
    assert_int_equal(s.notes.notation.shift, 0);
    assert_int_equal(s.notes.notation.clef, HBK_TREBLE);
    solved_close(&s);
}

static void only_a_staff_that_is_left_far_behind_is_told(void **state)
{
    (void)state;
    struct solved s;
    solved_as(&s, "keyed-bugle-c-6", HBK_READS_BASS, HBK_NAMES_ENGLISH);
    assert_int_equal(s.faults.count, 1);
    /* C6 over A3, the top line of the bass clef: eight lines. */
    check_words_say(s.faults.items[0].text, "in the bass clef this horn needs "
                                            "up to 8 ledger lines; 'concert'");
    solved_close(&s);
    solved_as(&s, "euphonium-b-flat-compensating-4", HBK_READS_BASS,
              HBK_NAMES_ENGLISH);
    assert_int_equal(s.faults.count, 0);
    solved_close(&s);
}

static const char *key_read(struct solved *s, const char *number)
{
    const int i = hbk_horn_find_control(&s->horn, HBK_KEY, number);
    assert_true(i >= 0);
    return hbk_words_key_short(&s->arena, &s->notes, (size_t)i);
}

/* The number of the key with that letter, whatever the file numbers it. */
static const char *number_of(const struct solved *s, const char *called)
{
    for (size_t i = 0; i < s->horn.n_controls; i++) {
        if (s->horn.controls[i].called != NULL &&
            strcmp(s->horn.controls[i].called, called) == 0) {
            return s->horn.controls[i].name;
        }
    }
    fail_msg("no key is called %s", called);
    return "";
}

static void
a_key_is_called_by_what_it_gives_to_whom_its_name_misleads(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "keyed-bugle-c-6");
    assert_string_equal(key_read(&s, number_of(&s, "D")), "D");
    solved_close(&s);
    solved_as(&s, "keyed-bugle-c-6", HBK_READS_TREBLE_BFLAT, HBK_NAMES_ENGLISH);
    assert_string_equal(key_read(&s, number_of(&s, "D")), "E");
    assert_string_equal(key_read(&s, number_of(&s, "B")), "C\u266F");
    solved_close(&s);
    solved_as(&s, "keyed-bugle-c-6", HBK_READS_OWN, HBK_NAMES_GERMAN);
    assert_string_equal(key_read(&s, number_of(&s, "D")), "D");
    assert_string_equal(key_read(&s, number_of(&s, "B")), "H");
    solved_close(&s);
    solved_as(&s, "keyed-bugle-c-6", HBK_READS_CONCERT, HBK_NAMES_SOLFEGE);
    assert_string_equal(key_read(&s, number_of(&s, "D")), "r\u00E9");
    solved_close(&s);
}

static void heads_speak_of_the_c_that_is_read(void **state)
{
    (void)state;
    struct solved s;
    solved_as(&s, "bass-e-flat", HBK_READS_TREBLE_BFLAT, HBK_NAMES_GERMAN);
    assert_string_equal(
        hbk_words_read_sounds(&s.arena, &s.notes),
        "Written C sounds B, two octaves and a whole tone lower");
    assert_string_equal(hbk_words_reads(&s.arena, &s.notes),
                        "Read in the treble clef. ");
    /* Written C5, the tuning note, is read a fourth higher. */
    check_words_say(hbk_words_slides(&s.arena, &s.notes, HBK_WORDS_FULL),
                    "Tuned on F5 (open)");
    /* Its written G4 sounds B flat 2. */
    assert_string_equal(
        hbk_words_read_sounding(&s.arena, &s.notes, note_of("G4")), "B2");
    assert_string_equal(hbk_words_read(&s.arena, &s.notes, note_of("F#4")),
                        "H4");
    assert_string_equal(hbk_words_read_both(&s.arena, &s.notes, note_of("C#5")),
                        "Fis5 or Ges5");
    solved_close(&s);
    solved_as(&s, "bass-e-flat", HBK_READS_BASS, HBK_NAMES_SOLFEGE);
    assert_string_equal(hbk_words_read_sounds(&s.arena, &s.notes),
                        "Written do sounds do, as written");
    solved_close(&s);
    solved_open(&s, "bass-e-flat");
    assert_string_equal(hbk_words_reads(&s.arena, &s.notes), "");
    solved_close(&s);
}

/* Signature and spelling move together, and every note stays in its key. */
static void a_key_is_read_in_another(void **state)
{
    (void)state;
    struct solved s;
    solved_as(&s, "ophicleide-c-9", HBK_READS_TREBLE_BFLAT, HBK_NAMES_ENGLISH);
    const struct hbk_scales *const scales = hbk_scales_of(&s.notes, &s.arena);
    const struct hbk_notation *const notation = &s.notes.notation;
    for (size_t k = 0; k < HBK_KEYS; k++) {
        const struct hbk_scale *const key = &scales->keys[k];
        const struct hbk_scale read = hbk_scale_read(key, notation);
        assert_in_range(read.signature + HBK_FLATS_MOST, 0, 11);
        /* A tone up is two fifths up, or ten down. */
        assert_true(read.signature == key->signature + 2 ||
                    read.signature == key->signature - 10);
        for (size_t i = 0; i < key->n; i++) {
            const int note = hbk_notation_note(notation, key->notes[i].written);
            assert_true(hbk_scale_degree(&read, note) ==
                        hbk_scale_degree(key, key->notes[i].written));
            assert_int_equal(hbk_spelling_note(hbk_scale_spelling(&read, note)),
                             note);
        }
    }
    char name[HBK_KEY_NAME_SIZE];
    const struct hbk_scale flats = {.signature = -1};
    const struct hbk_scale read = hbk_scale_read(&flats, notation);
    assert_string_equal(hbk_scale_name(&flats, HBK_ASCII, name), "F major");
    assert_string_equal(hbk_scale_name(&read, HBK_ASCII, name), "G major");
    const struct hbk_scale both = {.signature = -HBK_FLATS_MOST, .minor = true};
    assert_string_equal(
        hbk_scale_called(&both, HBK_NAMES_GERMAN, HBK_UNICODE, name),
        "Es/Dis minor");
    assert_string_equal(
        hbk_scale_called(&both, HBK_NAMES_SOLFEGE, HBK_UNICODE, name),
        "mi\u266D/r\u00E9\u266F minor");
    solved_close(&s);
}

/*
 * Whoever reads parts in B flat on either finds the same written note at the
 * same pitch, octaves apart: a bass in E flat is fingered as it sounds there.
 */
static void beside_compares_what_is_read(void **state)
{
    (void)state;
    struct solved here;
    struct solved known;
    solved_as(&here, "bass-e-flat", HBK_READS_TREBLE_BFLAT, HBK_NAMES_ENGLISH);
    solved_as(&known, "cornet-b-flat", HBK_READS_TREBLE_BFLAT,
              HBK_NAMES_ENGLISH);
    const int written = note_of("G4"); /* read as C5 */
    assert_int_equal(hbk_beside_written(&here.notes, &known.notes, written),
                     note_of("C5"));
    const struct hbk_fingering *const then =
        hbk_beside_known(&here.notes, &known.notes, written);
    assert_non_null(then);
    assert_int_equal(then->press, 0);
    /* Written A4 is read D5: 1-2 here, 1-3 or 1 on the cornet. */
    assert_int_equal(hbk_beside_note(&here.notes, &known.notes, note_of("A4")),
                     HBK_BESIDE_OTHER);
    check_words_say(hbk_beside_sounds(&here.arena, &here.notes, &known.notes),
                    "two octaves lower than on the horn you know");
    solved_close(&here);
    solved_close(&known);
}

static const char four_bars[] =
    "X:1\nT:Four\nM:4/4\nL:1/4\nK:C\nC D E ^F|G A B c|c B A G|F E D C|\n";

/* A part for a bass in E flat, as its player reads it in bass clef. */
static void a_part_is_moved_with_clef_and_key(void **state)
{
    (void)state;
    const struct hbk_perform_ask ask = hbk_perform_ask_none();
    struct hbk_performed performed[2];
    struct solved s[2];
    struct hbk_tune_document document = {.source = NULL};
    struct hbk_faults faults = {0};
    struct hbk_arena arena = {0};
    assert_int_equal(hbk_tune_read_bytes("own.abc", four_bars,
                                         strlen(four_bars), NULL, &document,
                                         &faults),
                     HBK_OK);
    for (int i = 0; i < 2; i++) {
        solved_as(&s[i], "bass-e-flat", i == 0 ? HBK_READS_OWN : HBK_READS_BASS,
                  HBK_NAMES_ENGLISH);
        assert_int_equal(hbk_perform(&ask, &document.tune, &s[i].notes, &arena,
                                     &performed[i], &faults),
                         HBK_OK);
    }
    const struct hbk_tune *const own = performed[0].view.tune;
    const struct hbk_tune *const read = performed[1].view.tune;
    assert_int_equal(own->clefs[0].sign, 'G');
    assert_int_equal(read->clefs[0].sign, 'F');
    assert_int_equal(read->clefs[0].line, 4);
    assert_int_equal(read->keys[0].fifths, -3); /* E flat major */
    assert_int_equal(read->transpose, 0);
    for (size_t e = 0; e < own->n_events; e++) {
        assert_int_equal(read->events[e].note, own->events[e].note - 21);
        assert_int_equal(hbk_spelling_note(read->events[e].spelling),
                         read->events[e].note);
        assert_int_equal(performed[1].view.written->events[e].note,
                         own->events[e].note);
    }
    char name[HBK_NAME_SIZE];
    assert_string_equal(
        hbk_spelling_name(read->events[3].spelling, HBK_ASCII, name), "A2");
    assert_int_equal(performed[0].passage.n, performed[1].passage.n);
    for (size_t i = 0; i < performed[0].passage.n; i++) {
        const struct hbk_passage_note *const a = &performed[0].passage.notes[i];
        const struct hbk_passage_note *const b = &performed[1].passage.notes[i];
        assert_int_equal(a->candidates->of[a->taken]->press,
                         b->candidates->of[b->taken]->press);
    }
    hbk_tune_document_finish(&document);
    hbk_arena_finish(&arena);
    solved_close(&s[0]);
    solved_close(&s[1]);
}

static void readings_are_known_by_their_words(void **state)
{
    (void)state;
    enum hbk_reads reads = HBK_READS_COUNT;
    for (int r = HBK_READS_OWN + 1; r < HBK_READS_COUNT; r++) {
        assert_true(hbk_reads_parse(hbk_reads_name((enum hbk_reads)r), &reads));
        assert_int_equal(reads, r);
    }
    assert_false(hbk_reads_parse("own", &reads));
    assert_false(hbk_reads_parse("treble-b", &reads));
    struct solved s;
    struct hbk_wishes wishes = hbk_wishes_none();
    solved_read(&s, "cornet-b-flat");
    struct hbk_text why = {.arena = &s.arena};
    wishes.reads = "tenor";
    assert_int_equal(hbk_setting_make(&s.horn, &wishes, &s.setting, &why),
                     HBK_WISH_READS);
    assert_string_equal(hbk_text_string(&why),
                        "what is read is 'treble', 'bass', 'treble-bflat', "
                        "'treble-eflat' or 'concert', not 'tenor'");
    wishes.reads = "concert";
    wishes.names = "french";
    why = (struct hbk_text){.arena = &s.arena};
    assert_int_equal(hbk_setting_make(&s.horn, &wishes, &s.setting, &why),
                     HBK_WISH_NAMES);
    check_words_say(hbk_text_string(&why), "not 'french'");
    solved_close(&s);
}

/* The letters of an interval, but for a second sign where there was one. */
static void a_spelling_keeps_its_letters(void **state)
{
    (void)state;
    static const struct {
        int shift;
        const char *from, *to;
    } cases[] = {{2, "F#4", "G#4"},   {2, "Gb4", "Ab4"},  {2, "B4", "C#5"},
                 {-21, "C4", "Eb2"},  {-21, "F#4", "A2"}, {5, "Bb3", "Eb4"},
                 {-12, "F#4", "F#3"}, {14, "E#4", "G5"},  {-2, "C4", "Bb3"}};
    for (size_t i = 0; i < COUNT(cases); i++) {
        const struct hbk_notation notation = {.shift = cases[i].shift};
        struct hbk_spelling from;
        char name[HBK_NAME_SIZE];
        assert_true(hbk_spelling_parse(cases[i].from, &from));
        const struct hbk_spelling to = hbk_notation_spelling(&notation, from);
        assert_int_equal(hbk_spelling_note(to),
                         hbk_spelling_note(from) + cases[i].shift);
        assert_string_equal(hbk_spelling_name(to, HBK_ASCII, name),
                            cases[i].to);
    }
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(the_rule_gives_what_bands_write),
        cmocka_unit_test(every_horn_can_be_read_by_everyone),
        cmocka_unit_test(what_sounds_is_fingered_alike_for_every_reader),
        cmocka_unit_test(a_crook_moves_what_is_read_at_pitch),
        cmocka_unit_test(what_is_stuck_moves_nothing),
        cmocka_unit_test(only_a_staff_that_is_left_far_behind_is_told),
        cmocka_unit_test(
            a_key_is_called_by_what_it_gives_to_whom_its_name_misleads),
        cmocka_unit_test(heads_speak_of_the_c_that_is_read),
        cmocka_unit_test(a_key_is_read_in_another),
        cmocka_unit_test(beside_compares_what_is_read),
        cmocka_unit_test(a_part_is_moved_with_clef_and_key),
        cmocka_unit_test(readings_are_known_by_their_words),
        cmocka_unit_test(a_spelling_keeps_its_letters),
    };
    return cmocka_run_group_tests_name("notation", tests, NULL, NULL);
}
