#include "support/solved.h"

#include "base/text.h"
#include "horn/stuck.h"
#include "horn/stuck_list.h"
#include "passage/scale.h"
#include "sheet/article/scales_sheet.h"
#include "support/grip.h"
#include "support/ruler.h"
#include "support/sheets.h"

#include <math.h>
#include <stdlib.h>

static const double tol_rounding = 1e-9;

struct judged {
    struct solved s;
    struct hbk_keywork keywork;
    const struct hbk_scales *scales;
};

static void judged_run(struct judged *j)
{
    solved_run(&j->s);
    hbk_keywork_make(&j->s.horn, &j->s.notes.fingers, &j->keywork);
    j->scales = hbk_scales_of(&j->s.notes, &j->s.arena);
}

static void judged_open(struct judged *j, const char *name)
{
    solved_read(&j->s, name);
    judged_run(j);
}

/* By the name of its signature: "Gb major" for G flat and F sharp. */
static const struct hbk_scale *key_of(const struct judged *j, const char *name)
{
    for (size_t i = 0; i < HBK_KEYS; i++) {
        const struct hbk_scale *const key = &j->scales->keys[i];
        char tonic[HBK_NAME_SIZE];
        char text[HBK_KEY_NAME_SIZE];
        (void)snprintf(
            text, sizeof(text), "%s %s",
            hbk_spelling_letter(hbk_scale_tonic(key), HBK_ASCII, tonic),
            key->minor ? "minor" : "major");
        if (strcmp(text, name) == 0) {
            return key;
        }
    }
    fail_msg("there is no %s", name);
    return NULL;
}

/*
 * The circle of fifths as any primer prints it, each key once: where it has
 * two names, by the fewer accidentals.
 */
static void keys_have_their_names(void **state)
{
    (void)state;
    static const char *const names[HBK_KEYS] = {
        "Gb/F# major", "Eb/D# minor", "Db major", "Bb minor", "Ab major",
        "F minor",     "Eb major",    "C minor",  "Bb major", "G minor",
        "F major",     "D minor",     "C major",  "A minor",  "G major",
        "E minor",     "D major",     "B minor",  "A major",  "F# minor",
        "E major",     "C# minor",    "B major",  "G# minor"};
    struct judged j;
    judged_open(&j, "cornet-b-flat");
    for (size_t i = 0; i < HBK_KEYS; i++) {
        char name[HBK_KEY_NAME_SIZE];
        assert_string_equal(hbk_scale_name(&j.scales->keys[i], HBK_ASCII, name),
                            names[i]);
    }
    solved_close(&j.s);
}

/* Scales as any primer prints them, the first note of each within compass. */
static void scales_are_spelled_as_taught(void **state)
{
    (void)state;
    static const struct {
        const char *key, *notes;
    } taught[] = {
        {"C major", "G3 A3 B3 C4 D4 E4 F4 G4 "},
        {"A minor", "G#3 A3 B3 C4 D4 E4 F4 G#4 "},
        {"Eb major", "G3 Ab3 Bb3 C4 D4 Eb4 F4 G4 "},
        {"C minor", "G3 Ab3 B3 C4 D4 Eb4 F4 G4 "},
        {"Gb major", "Gb3 Ab3 Bb3 Cb4 Db4 Eb4 F4 Gb4 "},
        {"Eb minor", "Gb3 Ab3 Bb3 Cb4 D4 Eb4 F4 Gb4 "},
        {"Db major", "Gb3 Ab3 Bb3 C4 Db4 Eb4 F4 Gb4 "},
        {"B major", "F#3 G#3 A#3 B3 C#4 D#4 E4 F#4 "},
        {"G# minor", "F##3 G#3 A#3 B3 C#4 D#4 E4 F##4 "},
    };
    struct judged j;
    judged_open(&j, "cornet-b-flat");
    for (size_t i = 0; i < sizeof(taught) / sizeof(taught[0]); i++) {
        const struct hbk_scale *const key = key_of(&j, taught[i].key);
        struct hbk_text text = {.arena = &j.s.arena};
        for (size_t k = 0; k < HBK_DEGREES + 1; k++) {
            char name[HBK_NAME_SIZE];
            hbk_text_addf(&text, "%s ",
                          hbk_spelling_name(
                              hbk_scale_spelling(key, key->notes[k].written),
                              HBK_ASCII, name));
        }
        assert_string_equal(hbk_text_string(&text), taught[i].notes);
    }
    solved_close(&j.s);
}

/* What the keys say of reach, counted anew from the notes. */
static void reach_is_counted(void **state)
{
    (void)state;
    struct judged j;
    judged_open(&j, "cornet-b-flat-two-valve");
    /* Without a third valve C#4, D4, D#4 and G#4 are out of reach. */
    const struct hbk_scale *const c = key_of(&j, "C major");
    assert_int_equal(c->n - c->n_reached, 1);
    char name[HBK_NAME_SIZE];
    assert_string_equal(
        hbk_spelling_name(hbk_scale_spelling(c, c->notes[c->run].written),
                          HBK_ASCII, name),
        "E4");
    assert_int_equal(c->octaves, 1); /* C5 to C6 */
    const struct hbk_scale *const e = key_of(&j, "E major");
    assert_int_equal(e->n - e->n_reached, 3);
    for (size_t i = 0; i < HBK_KEYS; i++) {
        const struct hbk_scale *const key = &j.scales->keys[i];
        size_t reached = 0;
        for (size_t k = 0; k < key->n; k++) {
            const struct hbk_note *const note =
                hbk_notes_find(&j.s.notes, key->notes[k].written);
            assert_int_equal(note->n > 0, key->notes[k].taken != NULL);
            reached += note->n > 0 ? 1 : 0;
        }
        assert_int_equal(reached, key->n_reached);
        assert_true(key->n_awkward <= key->n_moves);
        assert_true(key->n_moves < key->n || key->n == 0);
    }
    solved_close(&j.s);
}

static double cost_of_step(const struct judged *j,
                           const struct hbk_fingering *a,
                           const struct hbk_fingering *b)
{
    struct hbk_grip low;
    struct hbk_grip high;
    if (!cheapest_grip(&j->keywork, a->press, &low) ||
        !cheapest_grip(&j->keywork, b->press, &high)) {
        return (double)INFINITY;
    }
    const struct hbk_move up = hbk_move_between(&j->keywork, &low, &high);
    const struct hbk_move down = hbk_move_between(&j->keywork, &high, &low);
    const struct hbk_ease_move move = {.reasons = up.reasons | down.reasons,
                                       .need_s = fmax(up.least_s, down.least_s),
                                       .available_s = HBK_SCALE_S};
    return hbk_ease_move_price(&move);
}

/* The notes of a key as a set of the twelve. */
static unsigned set_of(const struct hbk_scale *key)
{
    unsigned set = 0;
    for (size_t i = 0; i < key->n; i++) {
        set |= 1U << key->notes[i].written % 12;
    }
    return set;
}

/* The name on a sheet, between ", ", ": " or "; " and the like. */
static bool names_in(const char *list, const char *name)
{
    const size_t length = strlen(name);
    for (const char *at = list; (at = strstr(at, name)) != NULL; at++) {
        const bool ends = strchr(", ;.", at[length]) != NULL;
        if (ends && (at == list || at[-1] == ' ')) {
            return true;
        }
    }
    return false;
}

/* Text between two marks in the words of a sheet; "" without the first. */
static const char *between(struct hbk_arena *arena, const char *words,
                           const char *first, const char *const ends[3])
{
    const char *const at = strstr(words, first);
    if (at == NULL) {
        return "";
    }
    const char *const from = at + strlen(first);
    size_t length = strlen(from);
    for (size_t i = 0; i < 3; i++) {
        const char *const end = strstr(from, ends[i]);
        if (end != NULL && (size_t)(end - from) < length) {
            length = (size_t)(end - from);
        }
    }
    return hbk_arena_printf(arena, "%.*s", (int)length, from);
}

/* "C, G major; A minor" as two lists; either may lack. */
static void part_modes(struct hbk_arena *arena, const char *list,
                       const char *modes[2])
{
    const char *const major = strstr(list, " major");
    modes[0] = major == NULL ? ""
                             : hbk_arena_printf(arena, "%.*s.",
                                                (int)(major - list), list);
    modes[1] = major == NULL ? list : major + strlen(" major");
}

/*
 * On the sheet each key stands in the list it belongs to and in no other; the
 * lists are those of the order and as long as they promise.
 */
static void check_lists(struct judged *j)
{
    struct hbk_arena *const arena = &j->s.arena;
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_sheet_options options = {.paper = HBK_A4};
    struct hbk_sheet sheet = {.arena = arena};
    assert_int_equal(
        hbk_sheet_scales(&j->s.notes, j->scales, &options, &ruler, &sheet),
        HBK_OK);
    const char *const words = sheet_words(&sheet);
    static const char *const heads[] = {[HBK_LIES_WELL] = "Easiest scales: ",
                                        [HBK_LIES_BADLY] = "Hardest scales: ",
                                        [HBK_LIES_NOT] = "No whole octave: "};
    static const char *const ends[] = {"Hardest scales", "No whole", "Major"};
    size_t n[2][4] = {{0}};
    for (size_t i = 0; i < HBK_KEYS; i++) {
        const struct hbk_scale *const key = &j->scales->keys[i];
        n[key->minor][key->lies]++;
        assert_int_equal(key->lies == HBK_LIES_NOT, key->place == 0);
        char tonics[HBK_KEY_NAME_SIZE];
        hbk_scale_tonics_called(key, HBK_NAMES_ENGLISH, HBK_UNICODE, tonics);
        for (int lies = HBK_LIES_WELL;
             j->scales->n_placed > 0 && lies <= HBK_LIES_NOT; lies++) {
            const char *modes[2];
            part_modes(arena, between(arena, words, heads[lies], ends), modes);
            assert_int_equal(names_in(modes[key->minor], tonics),
                             (int)key->lies == lies);
        }
        for (size_t k = 0; k < HBK_KEYS; k++) {
            const struct hbk_scale *const other = &j->scales->keys[k];
            if (key->minor == other->minor && key->lies == HBK_LIES_WELL &&
                other->lies != HBK_LIES_WELL && other->place > 0) {
                assert_true(key->place_in_mode <= other->place_in_mode);
                assert_true(key->price <= other->price);
            }
        }
    }
    for (size_t mode = 0; mode < 2; mode++) {
        const size_t placed = 12 - n[mode][HBK_LIES_NOT];
        assert_true(2 * n[mode][HBK_LIES_WELL] <= placed + 1);
        assert_true(n[mode][HBK_LIES_WELL] <= 4);
        assert_true(n[mode][HBK_LIES_BADLY] <= 2);
        assert_true(placed == 0 || n[mode][HBK_LIES_WELL] > 0);
    }
}

/* Every shipped horn, whole and with each key or valve stuck either way. */
static void no_key_lies_well_and_badly(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t h = 0; h < n; h++) {
        struct judged j;
        judged_open(&j, horns[h].name);
        check_lists(&j);
        const size_t n_controls = j.s.horn.n_controls;
        solved_close(&j.s);
        for (size_t k = 0; k < 2 * n_controls; k++) {
            solved_read(&j.s, horns[h].name);
            const uint32_t control = UINT32_C(1) << k / 2;
            j.s.setting.stuck.held_down = k % 2 == 0 ? control : 0;
            j.s.setting.stuck.held_up = k % 2 == 0 ? 0 : control;
            judged_run(&j);
            check_lists(&j);
            solved_close(&j.s);
        }
    }
    hbk_arena_finish(&arena);
}

/* What a section leader was told of a bugle that had lost two keys. */
static void a_bugle_that_lost_keys_gets_one_answer(void **state)
{
    (void)state;
    struct judged j;
    solved_read(&j.s, "keyed-bugle-c-6");
    struct hbk_text why = {.arena = &j.s.arena};
    assert_true(hbk_stuck_parse(&j.s.horn, NULL, "key:3=shut,key:5=shut",
                                &j.s.setting.stuck, &why));
    judged_run(&j);
    check_lists(&j);
    /* Without D and E no key lies on it that wants them low down. */
    assert_int_equal(key_of(&j, "C major")->lies, HBK_LIES_NOT);
    assert_int_equal(key_of(&j, "Ab major")->lies, HBK_LIES_WELL);
    assert_int_equal(key_of(&j, "B major")->lies, HBK_LIES_BADLY);
    solved_close(&j.s);
}

/* Two names of one key are one key: no two have the same notes. */
static void every_key_stands_once(void **state)
{
    (void)state;
    struct judged j;
    judged_open(&j, "keyed-bugle-c-6");
    for (size_t i = 0; i < HBK_KEYS; i++) {
        for (size_t k = 0; k < i; k++) {
            assert_int_not_equal(set_of(&j.scales->keys[i]),
                                 set_of(&j.scales->keys[k]));
        }
    }
    solved_close(&j.s);
}

/* Where in the order a key stands. */
static size_t order_of(const struct judged *j, const struct hbk_scale *key)
{
    size_t at = 0;
    while (&j->scales->keys[j->scales->order[at]] != key) {
        at++;
    }
    return at;
}

/* Places are counted anew: one more than the keys that are cheaper. */
static void places_follow_the_price(void **state)
{
    (void)state;
    static const char *const horns[] = {
        "ophicleide-c-11", "keyed-bugle-b-flat-7-saxon",
        "cornet-b-flat-two-valve", "keyed-trumpet-e-flat-5"};
    for (size_t h = 0; h < sizeof(horns) / sizeof(horns[0]); h++) {
        struct judged j;
        judged_open(&j, horns[h]);
        for (size_t i = 0; i < HBK_KEYS; i++) {
            const struct hbk_scale *const key = &j.scales->keys[i];
            unsigned before = 0;
            unsigned before_in_mode = 0;
            for (size_t k = 0; k < HBK_KEYS; k++) {
                const struct hbk_scale *const other = &j.scales->keys[k];
                const bool is_cheaper =
                    other->octaves > 0 && other->price < key->price;
                before += is_cheaper ? 1 : 0;
                before_in_mode +=
                    is_cheaper && other->minor == key->minor ? 1 : 0;
            }
            assert_int_equal(key->place, key->octaves > 0 ? before + 1 : 0);
            assert_int_equal(key->place_in_mode,
                             key->octaves > 0 ? before_in_mode + 1 : 0);
            /* Those without an octave behind all others. */
            assert_int_equal(order_of(&j, key) < j.scales->n_placed,
                             key->octaves > 0);
        }
        solved_close(&j.s);
    }
}

/* Major keys, "C G b" for C, G and B flat: each of `first` before `then`. */
static void check_before(const struct judged *j, const char *first,
                         const char *then)
{
    for (const char *a = first; *a != '\0'; a += a[1] == '\0' ? 1 : 2) {
        for (const char *b = then; *b != '\0'; b += b[1] == '\0' ? 1 : 2) {
            char text[2][HBK_KEY_NAME_SIZE];
            const char keys[2] = {*a, *b};
            for (size_t i = 0; i < 2; i++) {
                /* A small letter is the flat: b for Bb. */
                const bool is_flat = keys[i] >= 'a';
                (void)snprintf(text[i], sizeof(text[i]), "%c%s major",
                               is_flat ? keys[i] - 'a' + 'A' : keys[i],
                               is_flat ? "b" : "");
            }
            const struct hbk_scale *const x = key_of(j, text[0]);
            const struct hbk_scale *const y = key_of(j, text[1]);
            if (x->place_in_mode >= y->place_in_mode) {
                print_error("%s: %s is %u, %s %u\n", j->s.horn.name, text[0],
                            x->place_in_mode, text[1], y->place_in_mode);
            }
            assert_true(x->place_in_mode < y->place_in_mode);
        }
    }
}

static void check_horn(const char *name, const char *first, const char *then)
{
    struct judged j;
    judged_open(&j, name);
    check_before(&j, first, then);
    solved_close(&j.s);
}

/*
 * C, G, F and D are the keys of the keyed bugle (common practice, no source),
 * B flat and E flat keep the right thumb at work (inferred from the keys of
 * National Music Museum 7312 and its like).
 */
static void the_keyed_bugle_likes_c_g_f_and_d(void **state)
{
    (void)state;
    check_horn("keyed-bugle-c-6", "C G F D", "b e a A d E B g");
    check_horn("keyed-bugle-b-flat-6", "C G F D", "b e a A d E B g");
    /* The bored bugles say themselves that they are no charts to learn from
       (learn_from), or have other fingers: they are no witnesses here. */
    /* Nor do six accidentals come before one or none in the minor. */
    struct judged j;
    judged_open(&j, "keyed-bugle-c-6");
    static const char *const plain[] = {"A minor", "D minor", "E minor"};
    static const char *const black[] = {"Eb minor", "G# minor", "F# minor"};
    for (size_t i = 0; i < sizeof(plain) / sizeof(plain[0]); i++) {
        for (size_t k = 0; k < sizeof(black) / sizeof(black[0]); k++) {
            assert_true(key_of(&j, plain[i])->place <
                        key_of(&j, black[k])->place);
        }
    }
    solved_close(&j.s);
}

/* Common practice, no source: what cornet tutors begin and end with. */
static void the_cornet_likes_few_accidentals(void **state)
{
    (void)state;
    check_horn("cornet-b-flat", "C F G b D", "g d B a");
    check_horn("cornet-b-flat-semitone-first", "C F G b D", "g d B a");
    check_horn("saxhorn-soprano-b-flat", "C F G b D", "g d B a");
}

/* Common practice, no source: C and its neighbours before six accidentals. */
static void the_ophicleide_likes_its_own_key(void **state)
{
    (void)state;
    check_horn("ophicleide-c-9", "C F b G", "D d g B E A");
    check_horn("ophicleide-c-11", "C F b G", "d g B E A");
    struct judged j;
    judged_open(&j, "ophicleide-c-11");
    assert_true(key_of(&j, "F minor")->place < key_of(&j, "Gb major")->place);
    solved_close(&j.s);
}

/* Partials 2 to 8 are no scale: the seven notes of a natural horn. */
static void no_scale_lies_on_a_natural_horn(void **state)
{
    (void)state;
    struct judged j;
    judged_open(&j, "bugle-b-flat");
    assert_int_equal(j.scales->n_placed, 0);
    for (size_t i = 0; i < HBK_KEYS; i++) {
        assert_int_equal(j.scales->keys[i].place, 0);
        assert_int_equal(j.scales->keys[i].octaves, 0);
    }
    solved_close(&j.s);
}

/*
 * What the lip corrects does not count: the price of C major, whose only
 * deviation of more than 3 cents is the fifth partial's 14, is that of its
 * moves alone.
 */
static void the_lip_corrects_without_a_thought(void **state)
{
    (void)state;
    struct judged j;
    judged_open(&j, "keyed-bugle-c-6");
    const struct hbk_scale *const c = key_of(&j, "C major");
    check_abs(c->worst_cents, -14.0, 0.5); /* 5/4 against equal steps */
    double sum = 0.0;
    for (size_t i = 0; i + 1 < c->n; i++) {
        sum += cost_of_step(&j, c->notes[i].taken, c->notes[i + 1].taken);
    }
    check_abs(c->price, sum / (double)c->n_moves, tol_rounding);
    solved_close(&j.s);
}

enum { TRIED = 5 };

/* The least over every choice for a few notes whose neighbours are given. */
static double brute(const struct judged *j, const struct hbk_scale_note *notes,
                    size_t n, const struct hbk_fingering *before, size_t at)
{
    if (at == n) {
        return 0.0;
    }
    const struct hbk_note *const note =
        hbk_notes_find(&j->s.notes, notes[at].written);
    double best = (double)INFINITY;
    for (size_t i = 0; i < note->n; i++) {
        const struct hbk_fingering *const f = &note->fingerings[i];
        const double cost = f->cost + cost_of_step(j, before, f) +
                            brute(j, notes, n, f, at + 1);
        best = fmin(best, cost);
    }
    return best;
}

/* Any stretch of a cheapest way is itself the cheapest between its ends. */
static void the_way_is_the_cheapest(void **state)
{
    (void)state;
    struct judged j;
    judged_open(&j, "cornet-b-flat");
    for (size_t i = 0; i < HBK_KEYS; i += 7) {
        const struct hbk_scale *const key = &j.scales->keys[i];
        const struct hbk_scale_note *const run = &key->notes[key->run];
        assert_true(key->n_run > TRIED);
        /* Open to the right, so that the last stretch is compared. */
        const struct hbk_scale_note *const from = &run[key->n_run - TRIED];
        double cost = 0.0;
        for (size_t k = 0; k < TRIED; k++) {
            cost += from[k].taken->cost +
                    cost_of_step(&j, (&from[k])[-1].taken, from[k].taken);
        }
        check_abs(cost, brute(&j, from, TRIED, from[-1].taken, 0),
                  tol_rounding);
    }
    solved_close(&j.s);
}

/* Of what was learned the first fingering and one more, and nothing else. */
static void a_learner_takes_what_he_learned(void **state)
{
    (void)state;
    struct judged j;
    struct hbk_learned learned[HBK_NOTE_MAX + 1] = {{.n = 0}};
    size_t n_other = 0;
    size_t n_more = 0;
    judged_open(&j, "keyed-bugle-c-6");
    const int b = note_of("B4");
    const struct hbk_fingering *const more = fingering_of(&j.s, "B4", "5", 0);
    for (int written = note_of("B3"); written <= note_of("G5"); written++) {
        learned[written] = (struct hbk_learned){
            .n = 1, .of = {hbk_notes_find(&j.s.notes, written)->fingerings}};
    }
    learned[b].of[learned[b].n++] = more;
    const struct hbk_scales *const scales =
        hbk_scales_learned(&j.s.notes, learned, &j.s.arena);
    for (size_t i = 0; i < HBK_KEYS; i++) {
        for (size_t k = 0; k < scales->keys[i].n; k++) {
            const struct hbk_scale_note *const note = &scales->keys[i].notes[k];
            const struct hbk_note *const found =
                hbk_notes_find(&j.s.notes, note->written);
            const bool is_learned = learned[note->written].n > 0;
            assert_true(note->taken == more ||
                        note->taken ==
                            (is_learned ? &found->fingerings[0] : NULL));
            n_more += note->taken == more ? 1 : 0;
            n_other += note->taken != NULL &&
                               note->taken != j.scales->keys[i].notes[k].taken
                           ? 1
                           : 0;
        }
    }
    assert_true(n_other > 0);
    assert_true(n_more > 0);
    solved_close(&j.s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(keys_have_their_names),
        cmocka_unit_test(scales_are_spelled_as_taught),
        cmocka_unit_test(reach_is_counted),
        cmocka_unit_test(every_key_stands_once),
        cmocka_unit_test(no_key_lies_well_and_badly),
        cmocka_unit_test(a_bugle_that_lost_keys_gets_one_answer),
        cmocka_unit_test(places_follow_the_price),
        cmocka_unit_test(the_keyed_bugle_likes_c_g_f_and_d),
        cmocka_unit_test(the_cornet_likes_few_accidentals),
        cmocka_unit_test(the_ophicleide_likes_its_own_key),
        cmocka_unit_test(no_scale_lies_on_a_natural_horn),
        cmocka_unit_test(the_lip_corrects_without_a_thought),
        cmocka_unit_test(the_way_is_the_cheapest),
        cmocka_unit_test(a_learner_takes_what_he_learned),
    };
    return cmocka_run_group_tests(tests, NULL, NULL);
}
