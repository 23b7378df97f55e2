#include "sheet/part/part_sheet.h"
#include "support/engraved.h"
#include "support/golden.h"
#include "support/real_ruler.h"
#include "support/rng.h"
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "engrave/dynamic.h"

#include <dirent.h>
#include <math.h>
#include <stdlib.h>

static struct hbk_ruler real;

/* How many of each kind of mark, and words that are sung. */
struct count {
    size_t dynamics, hairpins, words, tempos, counts, letters, segnos, codas,
        jumps, fermatas, hands;
};

static bool is_signs(const struct hbk_tune_mark *mark)
{
    return mark->kind == HBK_TUNE_MARK_DYNAMIC &&
           hbk_dynamic_is_drawn(mark->text);
}

/* What a melody holds. */
static struct count held(const struct hbk_tune *tune)
{
    struct count count = {0};
    for (size_t i = 0; i < tune->marks.n; i++) {
        const struct hbk_tune_mark *mark = &tune->marks.items[i];
        switch (mark->kind) {
        case HBK_TUNE_MARK_DYNAMIC:
            count.dynamics += is_signs(mark);
            count.words += !is_signs(mark);
            break;
        case HBK_TUNE_MARK_CRESCENDO:
        case HBK_TUNE_MARK_DIMINUENDO:
            count.hairpins++;
            break;
        case HBK_TUNE_MARK_WORDS:
            count.words++;
            break;
        case HBK_TUNE_MARK_TEMPO:
            count.tempos += mark->text[0] != '\0';
            count.counts += mark->metronome.beat.num > 0;
            break;
        case HBK_TUNE_MARK_REHEARSAL:
            count.letters++;
            break;
        case HBK_TUNE_MARK_SEGNO:
            count.segnos++;
            break;
        case HBK_TUNE_MARK_CODA:
            count.codas++;
            break;
        case HBK_TUNE_MARK_JUMP:
            count.jumps++;
            break;
        case HBK_TUNE_MARK_FERMATA:
            count.fermatas++;
            break;
        case HBK_TUNE_MARK_PLUS:
        case HBK_TUNE_MARK_OPEN:
            count.hands++;
            break;
        }
    }
    return count;
}

static bool begins(const char *text, const char *with)
{
    return text != NULL && strncmp(text, with, strlen(with)) == 0;
}

static bool is_dynamic_glyph(uint32_t glyph)
{
    return glyph >= HBK_GLYPH_DYNAMIC_R && glyph <= HBK_GLYPH_DYNAMIC_F;
}

/* Whether words of the tune's marks of that kind are these. */
static bool are_words_of(const struct hbk_tune *tune,
                         enum hbk_tune_mark_kind kind, const char *text)
{
    for (size_t i = 0; i < tune->marks.n; i++) {
        const struct hbk_tune_mark *mark = &tune->marks.items[i];
        if (mark->kind == kind && strcmp(mark->text, text) == 0) {
            return true;
        }
    }
    return false;
}

static void count_text(const struct hbk_tune *tune, const struct hbk_mark *mark,
                       struct count *count)
{
    count->words += mark->face == HBK_FACE_ITALIC &&
                    (are_words_of(tune, HBK_TUNE_MARK_WORDS, mark->text) ||
                     are_words_of(tune, HBK_TUNE_MARK_DYNAMIC, mark->text));
    count->letters += begins(mark->reads, "rehearsal mark ");
    if (mark->face == HBK_FACE_BOLD) {
        count->counts += begins(mark->text, "= ");
        count->tempos += are_words_of(tune, HBK_TUNE_MARK_TEMPO, mark->text);
        count->jumps += are_words_of(tune, HBK_TUNE_MARK_JUMP, mark->text);
    }
}

/* What stands on the pages. */
static struct count drawn(const struct laid *laid)
{
    const struct hbk_tune *tune = &laid->document.tune;
    struct count count = {0};
    for (size_t p = 0; p < laid->sheet.n_pages; p++) {
        const struct hbk_page *page = &laid->sheet.pages[p];
        for (size_t i = 0; i < page->n; i++) {
            const struct hbk_mark *mark = &page->marks[i];
            if (mark->kind == HBK_GLYPH) {
                count.dynamics += is_dynamic_glyph(mark->glyph) &&
                                  mark->text != NULL && mark->text[0] != '\0';
                count.segnos += mark->glyph == HBK_GLYPH_SEGNO;
                count.codas += mark->glyph == HBK_GLYPH_CODA;
            } else if (mark->kind == HBK_SAY) {
                count.hairpins += strstr(mark->text, "endo begins") != NULL;
                count.fermatas += begins(mark->text, "fermata");
                count.hands +=
                    begins(mark->text, "stopped") || begins(mark->text, "open");
            } else if (mark->kind == HBK_TEXT) {
                count_text(tune, mark, &count);
            }
        }
    }
    return count;
}

/* A verse as the melody has it. */
static const char *verse_held(const struct laid *laid, unsigned verse)
{
    const struct hbk_tune_marks *marks = &laid->document.tune.marks;
    struct hbk_text out = {.arena = laid->sheet.arena};
    for (size_t i = 0; i < marks->n_syllables; i++) {
        const struct hbk_tune_syllable *syllable = &marks->syllables[i];
        if (syllable->verse == verse) {
            const char *text = syllable->text;
            text += strspn(text, "0123456789.");
            text += strspn(text, " ");
            hbk_text_addf(&out, "%s%s", text, syllable->hyphen ? "" : " ");
        }
    }
    return hbk_text_string(&out);
}

/* A verse as it is read out, line by line. */
static const char *verse_drawn(const struct laid *laid, unsigned verse)
{
    struct hbk_text out = {.arena = laid->sheet.arena};
    const bool only = laid->document.tune.marks.n_verses == 1;
    const char *head =
        only ? "words: "
             : hbk_arena_printf(laid->sheet.arena, "verse %u: ", verse);
    for (size_t p = 0; p < laid->sheet.n_pages; p++) {
        const struct hbk_page *page = &laid->sheet.pages[p];
        for (size_t i = 0; i < page->n; i++) {
            const char *reads = page->marks[i].reads;
            if (begins(reads, head)) {
                /* A word that goes on in the next line ends with a hyphen. */
                const char *words = reads + strlen(head);
                const size_t n = strlen(words);
                const bool goes_on = n > 2 && strcmp(words + n - 2, "- ") == 0;
                hbk_text_put(&out, words, goes_on ? n - 2 : n);
            }
        }
    }
    return hbk_text_string(&out);
}

static void check_verses(const struct laid *laid)
{
    for (unsigned v = 1; v <= laid->document.tune.marks.n_verses; v++) {
        assert_string_equal(verse_drawn(laid, v), verse_held(laid, v));
    }
}

static void check_all_drawn(const struct laid *laid)
{
    const struct count in = held(&laid->document.tune);
    const struct count out = drawn(laid);
    assert_int_equal(in.dynamics, out.dynamics);
    assert_int_equal(in.hairpins, out.hairpins);
    assert_int_equal(in.words, out.words);
    assert_int_equal(in.tempos, out.tempos);
    assert_int_equal(in.counts, out.counts);
    assert_int_equal(in.letters, out.letters);
    assert_int_equal(in.segnos, out.segnos);
    assert_int_equal(in.codas, out.codas);
    assert_int_equal(in.jumps, out.jumps);
    assert_int_equal(in.fermatas, out.fermatas);
    assert_int_equal(in.hands, out.hands);
    check_verses(laid);
}

/* Fingerings of every width. */
static void finger(struct laid *laid)
{
    static const char *const labels[] = {"0", "1-2", "1-2-3", "2", "1-3"};
    static const uint32_t presses[] = {0, 3, 7, 2, 5};
    const size_t n = laid->document.tune.n_events;
    laid->fingerings =
        HBK_ARENA_ARRAY(&laid->arena, struct hbk_part_fingering, n + 1);
    for (size_t i = 0; i < n; i++) {
        laid->fingerings[i] =
            (struct hbk_part_fingering){.label = labels[i % 5],
                                        .press = presses[i % 5],
                                        .shown = true,
                                        .departure = i % 6 == 1,
                                        .hard = i % 9 > 6};
    }
}

/* On a paper: everything there, nothing touching anything. */
static void check_part(struct laid *laid,
                       const struct hbk_part_options *options,
                       const struct hbk_horn *horn,
                       const struct hbk_ruler *ruler)
{
    lay_part(laid, options, horn, ruler);
    check_no_clash(&laid->sheet, ruler);
    check_all_drawn(laid);
}

static void every_mark_is_drawn_clear_of_all_else(void **state)
{
    (void)state;
    struct solved cornet;
    solved_read(&cornet, "cornet-b-flat");
    const struct hbk_ruler fixed = fixed_ruler();
    for (int tune = 1; tune <= 2; tune++) {
        struct laid laid;
        read_tune(&laid, "tests/data/marks.abc", tune == 1 ? "1" : "2");
        finger(&laid);
        for (int k = 0; k < 3 * HBK_PAPER_COUNT; k++) {
            const struct hbk_part_options options = {
                .paper = (enum hbk_paper)(k / 3),
                .circles = k % 3 == 1,
                .sounding = k % 3 == 2,
                .sounds_higher_by = -2};
            check_part(&laid, &options, &cornet.horn, &real);
            if (k % 3 == 0) {
                check_part(&laid, &options, &cornet.horn, &fixed);
            }
        }
        close_laid(&laid);
    }
    solved_close(&cornet);
}

static int is_tune(const struct dirent *entry)
{
    return strstr(entry->d_name, ".abc") != NULL ||
           strstr(entry->d_name, ".musicxml") != NULL;
}

/*
 * The tunes whose marks test_marks_counted.c counts in the file and in the
 * melody.
 */
static void every_mark_of_the_collection_is_drawn_once(void **state)
{
    (void)state;
    struct dirent **files = NULL;
    const int n = scandir("tests/data/marks", &files, is_tune, alphasort);
    assert_int_equal(n, 20);
    struct solved cornet;
    solved_read(&cornet, "cornet-b-flat");
    for (int i = 0; i < n; i++) {
        struct laid laid = {.sheet = {.n_pages = 0}};
        char path[300];
        (void)snprintf(path, sizeof(path), "tests/data/marks/%s",
                       files[i]->d_name);
        const bool has_voices = strncmp(files[i]->d_name, "10", 2) == 0;
        const struct hbk_tune_options options = {.voice =
                                                     has_voices ? "2" : NULL};
        assert_int_equal(
            hbk_tune_read(path, &options, &laid.document, &laid.faults),
            HBK_OK);
        finger(&laid);
        for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
            const struct hbk_part_options part = {
                .paper = (enum hbk_paper)paper, .circles = i % 5 == 4};
            check_part(&laid, &part, &cornet.horn, &real);
        }
        close_laid(&laid);
        free(files[i]);
    }
    free(files);
    solved_close(&cornet);
}

/* A word or none of a list, with its chance in 16. */
static void add_any(struct hbk_text *out, struct rng *rng, unsigned chance,
                    size_t n, const char *const list[])
{
    if (rng_next(rng) % 16 < chance) {
        hbk_text_add(out, list[rng_next(rng) % n]);
    }
}

/* Music with marks wherever they fall, and words of any length. */
static const char *any_music(struct hbk_arena *arena, uint64_t seed)
{
    static const char *const signs[] = {"!p!",   "!mf!",   "!sfz!", "!ffff!",
                                        "!rfz!", "!pppp!", "!fp!",  "!mp!"};
    static const char *const pins[] = {"!<(!", "!<)!", "!>(!", "!>)!"};
    static const char *const words[] = {
        "\"_dolce\"",
        "\"^Solo\"",
        "\"_cresc.\"",
        "\"_sempre piu animato e con molto fuoco ma non\"",
        "\"^marcato il basso\"",
        "\"^rit.\"",
        "\"^a tempo\""};
    static const char *const others[] = {
        "!segno!",     "!coda!",
        "!fermata!",   "!trill!",
        "!plus!",      "!open!",
        "[P:A]",       "[P:Trio]",
        "[Q:1/4=99]",  "[Q:\"Presto\" 3/8=120]",
        "!D.C.!",      "!fine!",
        "\"^To Coda\""};
    static const char *const notes[] = {
        "B2",   "c>d",    "f4",      "C,2",      "g''2",  "z2",
        "(ag)", "{cd}e2", "^c2 =c2", "A/B/c/d/", "G2-G2", "b2"};
    static const char *const sung[] = {"la ",      "a-",  "straight-",
                                       "length- ", "_ ",  "through ",
                                       "* ",       "O, ", "-"};
    struct rng rng = {seed};
    struct hbk_text out = {.arena = arena};
    hbk_text_add(&out, "M:none\nL:1/8\nQ:\"Allegro\" 1/4=100\nK:Eb\n");
    for (int line = 0; line < 6; line++) {
        for (int bar = 0; bar < 5; bar++) {
            for (int i = 0; i < 3; i++) {
                add_any(&out, &rng, 2, 13, others);
                add_any(&out, &rng, 3, 7, words);
                add_any(&out, &rng, 5, 4, pins);
                add_any(&out, &rng, 6, 8, signs);
                add_any(&out, &rng, 16, 12, notes);
            }
            hbk_text_add(&out, rng_next(&rng) % 7 == 0 ? "||" : "|");
        }
        hbk_text_add(&out, "\n");
        for (unsigned verse = 0; verse < rng_next(&rng) % 3; verse++) {
            hbk_text_add(&out, "w:");
            for (int i = 0; i < 15; i++) {
                add_any(&out, &rng, 16, 9, sung);
            }
            hbk_text_add(&out, "\n");
        }
    }
    return hbk_text_string(&out);
}

static void whatever_marks_there_are_are_drawn(void **state)
{
    (void)state;
    size_t n = 0;
    struct solved cornet;
    solved_read(&cornet, "cornet-b-flat");
    for (uint32_t seed = 1; seed <= 60; seed++) {
        struct laid laid;
        struct hbk_arena arena = {0};
        read_text(&laid, any_music(&arena, seed));
        finger(&laid);
        const struct hbk_part_options options = {
            .paper = (enum hbk_paper)(seed % HBK_PAPER_COUNT),
            .circles = seed % 7 == 0};
        check_part(&laid, &options, &cornet.horn, &real);
        n += laid.document.tune.marks.n;
        close_laid(&laid);
        hbk_arena_finish(&arena);
    }
    assert_true(n > 1500);
    solved_close(&cornet);
}

/* Marks are read out at their notes, verses after the line, in whole words. */
static void marks_are_read_where_they_stand(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nQ:\"Lento\" 1/2=60\nK:C\n"
                     "!p!C \"_dolce\"D .E !<(!F|[P:B]!mf!!<)!G !trill!A z "
                     "!fermata!B !fermata!|\"^rit.\"c4 \"^Fine\"|]\n"
                     "w: Sing-ing_ on the_ shore");
    const struct hbk_ruler ruler = fixed_ruler();
    lay_part(&laid, NULL, NULL, &ruler);
    const char *words = said(&laid);
    static const char *const wanted[] = {
        "Lento half ",
        "= 60 ",
        "piano ",
        "bar 1: C4 ",
        "dolce D4 ",
        "staccato E4 ",
        "crescendo begins F4 ",
        "mezzo forte ",
        "bar 2: G4 ",
        "trill A4 ",
        "fermata B4 fermata ",
        "rit. bar 3: C5 Fine ",
    };
    for (size_t i = 0; i < sizeof(wanted) / sizeof(wanted[0]); i++) {
        const char *at = strstr(words, wanted[i]);
        if (at == NULL) {
            print_error("\"%s\" is not in: %s\n", wanted[i], words);
            fail();
        }
        words = at + strlen(wanted[i]);
    }
    assert_string_equal(verse_drawn(&laid, 1), "Singing on the shore ");
    close_laid(&laid);
}

/* A hairpin or a word that goes on does so on the next line. */
static void what_goes_on_is_drawn_on_every_line(void **state)
{
    (void)state;
    struct laid laid;
    struct hbk_arena arena = {0};
    struct hbk_text music = {.arena = &arena};
    hbk_text_add(&music, "M:4/4\nL:1/1\nK:C\n!<(!c");
    for (int i = 0; i < 40; i++) {
        hbk_text_add(&music, "|c");
    }
    hbk_text_add(&music, "!<)!|c\nw: O-|");
    for (int i = 0; i < 40; i++) {
        hbk_text_add(&music, "_|");
    }
    hbk_text_add(&music, " ver");
    read_text(&laid, hbk_text_string(&music));
    const struct hbk_ruler ruler = fixed_ruler();
    lay_part(&laid, NULL, NULL, &ruler);
    size_t clefs = 0;
    for (size_t i = 0; i < laid.sheet.pages[0].n; i++) {
        clefs += laid.sheet.pages[0].marks[i].glyph == HBK_GLYPH_G_CLEF;
    }
    assert_true(clefs > 2);
    assert_int_equal(count_marks(&laid, HBK_PATH), 2 * clefs);
    assert_int_equal(drawn(&laid).hairpins, 1);
    check_no_clash(&laid.sheet, &ruler);
    hbk_arena_finish(&arena);
    close_laid(&laid);
}

/* Words wider than a line go on below it, none is lost. */
static void long_words_are_broken(void **state)
{
    (void)state;
    struct laid laid;
    read_text(&laid, "M:4/4\nL:1/4\nK:C\n"
                     "\"_with the utmost delicacy and a sense of things that "
                     "have been lost and will not return in this life\"C "
                     "\"^Allegro assai e sempre piu animato ma non senza "
                     "espressione e con molto fuoco nella parte del solo\"D E "
                     "F|");
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_part_options options = {.paper = HBK_A6};
    lay_part(&laid, &options, NULL, &ruler);
    check_no_clash(&laid.sheet, &ruler);
    const char *words = sheet_words(&laid.sheet);
    check_words_say(words,
                    "with the utmost delicacy and a sense of things that "
                    "have been lost and will not return in this life");
    check_words_say(words,
                    "Allegro assai e sempre piu animato ma non senza "
                    "espressione e con molto fuoco nella parte del solo");
    close_laid(&laid);
}

/* Where words are sung, what says how loud stands above. */
static void dynamics_stand_clear_of_words_that_are_sung(void **state)
{
    (void)state;
    static const char *const musics[] = {"!p!C D E F|",
                                         "!p!C D E F|\nw:a b c d"};
    const struct hbk_ruler ruler = fixed_ruler();
    for (int sung = 0; sung < 2; sung++) {
        struct laid laid;
        struct hbk_arena arena = {0};
        read_text(&laid, hbk_arena_printf(&arena, "M:4/4\nL:1/4\nK:C\n%s",
                                          musics[sung]));
        lay_part(&laid, NULL, NULL, &ruler);
        double head = 0.0;
        double piano = 0.0;
        for (size_t i = 0; i < laid.sheet.pages[0].n; i++) {
            const struct hbk_mark *mark = &laid.sheet.pages[0].marks[i];
            head = mark->glyph == HBK_GLYPH_BLACK_HEAD ? mark->y : head;
            piano = mark->glyph == HBK_GLYPH_DYNAMIC_P ? mark->y : piano;
        }
        assert_true(sung ? piano < head - 5.0 : piano > head + 3.0);
        hbk_arena_finish(&arena);
        close_laid(&laid);
    }
}

/* Titles, names and stanzas have their places. */
static void all_that_is_said_of_a_tune_is_on_its_part(void **state)
{
    (void)state;
    struct laid laid;
    read_tune(&laid, "tests/data/marks.abc", "2");
    struct hbk_tune *tune = &laid.document.tune;
    tune->subtitle = "A ballad\nin three verses";
    tune->lyricist = "E. Hartley";
    tune->arranger = "P. Moss";
    tune->rights = "Free to use";
    const struct hbk_ruler ruler = fixed_ruler();
    for (int paper = 0; paper < HBK_PAPER_COUNT; paper++) {
        const struct hbk_part_options options = {.paper =
                                                     (enum hbk_paper)paper};
        lay_part(&laid, &options, NULL, &ruler);
        check_no_clash(&laid.sheet, &ruler);
        const char *words = sheet_words(&laid.sheet);
        check_words_say(words, "A ballad in three verses");
        check_words_say(words, "words: E. Hartley J. Crow arr. P. Moss");
        check_words_say(words, "Free to use");
        check_words_say(words, "4. And when the harvest moon was high The "
                               "miller's lad came home,");
        check_words_say(words, "5. So here's a health to maid and man,");
    }
    close_laid(&laid);
}

/* Both tunes as somebody has looked at them. */
static void parts_are_laid_out_as_before(void **state)
{
    const bool *const update = *state;
    const struct hbk_ruler ruler = fixed_ruler();
    for (int tune = 1; tune <= 2; tune++) {
        struct laid laid;
        read_tune(&laid, "tests/data/marks.abc", tune == 1 ? "1" : "2");
        finger(&laid);
        lay_part(&laid, NULL, NULL, &ruler);
        check_golden(&laid.sheet,
                     tune == 1 ? "tests/golden/part-quickstep-A4.txt"
                               : "tests/golden/part-song-A4.txt",
                     *update);
        close_laid(&laid);
    }
}

int main(int argc, char **argv)
{
    bool update = argc > 1 && strcmp(argv[1], "--update") == 0;
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_mark_is_drawn_clear_of_all_else),
        cmocka_unit_test(every_mark_of_the_collection_is_drawn_once),
        cmocka_unit_test(whatever_marks_there_are_are_drawn),
        cmocka_unit_test(marks_are_read_where_they_stand),
        cmocka_unit_test(what_goes_on_is_drawn_on_every_line),
        cmocka_unit_test(long_words_are_broken),
        cmocka_unit_test(dynamics_stand_clear_of_words_that_are_sung),
        cmocka_unit_test(all_that_is_said_of_a_tune_is_on_its_part),
        cmocka_unit_test_prestate(parts_are_laid_out_as_before, &update),
    };
    return run_with_fonts("part_marks", tests, sizeof(tests) / sizeof(tests[0]),
                          &real);
}
