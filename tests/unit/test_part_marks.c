#include "sheet/part/part_sheet.h"
#include "support/engraved.h"
#include "support/real_ruler.h"
#include "support/rng.h"
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"

#include "base/file.h"
#include "engrave/dynamic.h"

#include <math.h>

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

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(every_mark_is_drawn_clear_of_all_else),
        cmocka_unit_test(whatever_marks_there_are_are_drawn),
    };
    return run_with_fonts("part_marks", tests, sizeof(tests) / sizeof(tests[0]),
                          &real);
}
