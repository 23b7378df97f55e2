/*
 * Sheets for one player agree: whatever the pitch, the temperature, the crook
 * and the valve slides, the words printed on each are read back and held
 * against one result.
 */
#include "solve/setting.h"
#include "support/ruler.h"
#include "support/sheets.h"
#include "support/solved.h"
#include "support/trills.h"

#include "horn/press.h"
#include "passage/scale.h"
#include "sheet/article/scales_sheet.h"
#include "sheet/article/slide_card.h"
#include "sheet/block/wedge.h"
#include "sheet/chart/gamut.h"
#include "sheet/words/words.h"
#include "sheet/words/words_slides.h"
#include "solve/slides.h"

#include <stdlib.h>

/* What one player asks for. */
struct wish {
    double a4_hz, temperature_c;
    int crook;
    enum hbk_valve_slides valve_slides;
};

static void solve_as(struct solved *s, const struct wish *wish)
{
    s->setting = hbk_setting_of(&s->horn);
    s->setting.a4_hz = wish->a4_hz;
    s->setting.temperature_c = wish->temperature_c;
    s->setting.crook = wish->crook;
    s->setting.valve_slides = wish->valve_slides;
    s->faults = (struct hbk_faults){0};
    solved_run(s);
}

/* The note that is printed under that name, sharp or flat. */
static const struct hbk_note *named(const struct solved *s, const char *name)
{
    for (size_t i = 0; i < s->notes.n; i++) {
        char sharp[HBK_NAME_SIZE];
        char flat[HBK_NAME_SIZE];
        const int written = s->notes.notes[i].written;
        hbk_spelling_name(hbk_note_sharp(written), HBK_UNICODE, sharp);
        hbk_spelling_name(hbk_note_flat(written), HBK_UNICODE, flat);
        if (strcmp(sharp, name) == 0 || strcmp(flat, name) == 0) {
            return &s->notes.notes[i];
        }
    }
    return NULL;
}

static const char *first_label(const struct solved *s,
                               const struct hbk_note *note,
                               char label[HBK_LABEL_SIZE])
{
    if (s->horn.n_controls == 0) {
        (void)snprintf(label, HBK_LABEL_SIZE, "%u",
                       note->fingerings[0].partial);
        return label;
    }
    return hbk_horn_press_label(&s->horn, note->fingerings[0].press, label);
}

static void lay_chart(const struct solved *s, enum hbk_layout layout,
                      struct hbk_sheet *sheet)
{
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_sheet_options options = with_trills(
        (struct hbk_sheet_options){.paper = layout == HBK_LAYOUT_CARD ? HBK_A6
                                                                      : HBK_A4},
        layout, &s->notes, sheet->arena);
    assert_int_equal(
        hbk_sheet_chart(layout, &s->notes, &options, &ruler, sheet), HBK_OK);
}

/* The next mark of text from `at` on, up to the end of its row, or NULL. */
static const char *next_text(const struct hbk_page *page, size_t *at)
{
    while (*at < page->n) {
        const struct hbk_mark *const mark = &page->marks[(*at)++];
        if (mark->kind == HBK_TEXT) {
            return mark->text;
        }
        if (mark->kind == HBK_CLOSE && mark->tag == HBK_TAG_ROW) {
            return NULL;
        }
    }
    return NULL;
}

/*
 * Plate, stand and card have their notes in the order of the scale, and octaves
 * at C alone: the k-th cell is the k-th note that the wall has. Where there is
 * little room the hyphens are left out.
 */
static void check_cell(const struct solved *s, enum hbk_layout layout, size_t k,
                       const struct hbk_page *page, size_t at)
{
    struct hbk_gamut_notes chosen;
    struct hbk_arena arena = {0};
    hbk_gamut_choose(&arena, &s->notes, &chosen);
    if (k >= chosen.n) {
        /* Overleaf the wall has once more what has alternates. */
        assert_int_equal(layout, HBK_LAYOUT_WALL);
        hbk_arena_finish(&arena);
        return;
    }
    const struct hbk_note *const note = &s->notes.notes[chosen.shown[k]];
    char label[HBK_LABEL_SIZE];
    char bare[HBK_LABEL_SIZE] = "";
    const char *const wanted =
        note->n == 0 ? "\u2013" : first_label(s, note, label);
    size_t n = 0;
    for (const char *from = wanted; *from != '\0'; from++) {
        bare[n] = *from;
        n += *from == '-' ? 0 : 1;
    }
    bare[n] = '\0';
    bool found = false;
    char cents[HBK_CENTS_SIZE] = "";
    bool in_tune = layout != HBK_LAYOUT_WALL || note->n == 0;
    if (!in_tune) {
        hbk_cents_text(note->fingerings[0].cents, cents);
    }
    for (const char *text = next_text(page, &at); text != NULL;
         text = next_text(page, &at)) {
        found = found || strcmp(text, wanted) == 0 || strcmp(text, bare) == 0;
        in_tune = in_tune || strcmp(text, cents) == 0;
    }
    assert_true(in_tune);
    if (!found) {
        print_error("note %d: no %s on the sheet\n", note->written, wanted);
    }
    assert_true(found);
    hbk_arena_finish(&arena);
}

/* A row of a note begins with its names; one of heads does not. */
static bool opens_note(const struct hbk_page *page, size_t i)
{
    return page->marks[i].kind == HBK_OPEN &&
           page->marks[i].tag == HBK_TAG_ROW &&
           page->marks[i + 1].tag == HBK_TAG_HEADER;
}

/* Returns how many bars were read. */
static size_t check_gamut(const struct solved *s, enum hbk_layout layout,
                          const struct hbk_sheet *sheet)
{
    size_t n = 0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *const page = &sheet->pages[p];
        for (size_t i = 0; i < page->n; i++) {
            if (opens_note(page, i)) {
                check_cell(s, layout, n, page, i + 1);
                n++;
            }
        }
    }
    return n;
}

/* "worst D4, 17 sharp": cents of the first choice. */
static size_t check_worst(const struct solved *s, const char *words)
{
    static const char before[] = "worst ";
    size_t n = 0;
    for (const char *at = words; (at = strstr(at, before)) != NULL; n++) {
        at += strlen(before);
        char name[HBK_NAME_SIZE];
        (void)snprintf(name, sizeof(name), "%.*s", (int)strcspn(at, ","), at);
        struct hbk_spelling spelling;
        assert_true(hbk_spelling_parse(name, &spelling));
        const struct hbk_note *const note =
            hbk_notes_find(&s->notes, hbk_spelling_note(spelling));
        assert_non_null(note);
        const double cents = note->fingerings[0].cents;
        char said[64];
        (void)snprintf(said, sizeof(said), ", %.0f %s", fabs(round(cents)),
                       cents > 0.0 ? "sharp" : "flat");
        at += strlen(name);
        assert_int_equal(strncmp(at, said, strlen(said)), 0);
    }
    return n;
}

/* A cell of a slide card: "C♯" "4" "1-2-3" "↓38"; false for another. */
static bool check_still_off(const struct solved *s, const struct hbk_page *page,
                            size_t at)
{
    const char *const letter = next_text(page, &at);
    const char *const octave = letter == NULL ? NULL : next_text(page, &at);
    char name[2 * HBK_NAME_SIZE];
    (void)snprintf(name, sizeof(name), "%s%s", letter == NULL ? "" : letter,
                   octave == NULL ? "" : octave);
    const struct hbk_note *const note = named(s, name);
    if (note == NULL) {
        return false;
    }
    char label[HBK_LABEL_SIZE];
    char lip[32];
    const double cents = note->fingerings[0].cents;
    assert_string_equal(
        next_text(page, &at),
        hbk_horn_press_label(&s->horn, note->fingerings[0].press, label));
    (void)snprintf(lip, sizeof(lip), "%s%.0f",
                   cents > 0.0 ? "\u2193" : "\u2191", fabs(cents));
    assert_string_equal(next_text(page, &at), lip);
    return true;
}

/* Every note that stays out stands on the card as on the wall, and no other. */
static void check_slide_card(const struct solved *s,
                             const struct hbk_sheet *sheet)
{
    size_t wanted = 0;
    for (size_t i = 0; i < s->notes.n; i++) {
        const struct hbk_note *const note = &s->notes.notes[i];
        wanted += note->n > 0 && fabs(round(note->fingerings[0].cents)) >=
                                     HBK_STAYS_OUT_CENTS
                      ? 1
                      : 0;
    }
    size_t found = 0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        const struct hbk_page *const page = &sheet->pages[p];
        for (size_t i = 0; i < page->n; i++) {
            size_t at = i + 1;
            if (opens_note(page, i)) {
                found += check_still_off(s, page, at) ? 1 : 0;
            }
        }
    }
    assert_int_equal(found, wanted);
}

static void check_head(const struct solved *s, struct hbk_arena *arena,
                       const struct hbk_sheet *sheet,
                       enum hbk_words_length length)
{
    check_sheet_says(sheet, hbk_words_pitch(arena, &s->setting));
    check_sheet_says(sheet, hbk_words_slides(arena, &s->notes, length));
    check_sheet_says(sheet, hbk_words_setting(arena, &s->notes));
    check_sheet_says(sheet, hbk_words_rest(arena, &s->notes, length));
}

static void check_charts(const struct solved *s, struct hbk_arena *arena)
{
    size_t bars[HBK_LAYOUT_COUNT] = {0};
    for (int i = 0; i < HBK_LAYOUT_COUNT; i++) {
        const enum hbk_layout layout = (enum hbk_layout)i;
        struct hbk_sheet sheet = {.arena = arena};
        lay_chart(s, layout, &sheet);
        if (layout == HBK_LAYOUT_TRILLS) {
            /* Its cells are read back in test_trills_sheet.c. */
            check_head(s, arena, &sheet, HBK_WORDS_BRIEF);
            continue;
        }
        check_head(s, arena, &sheet,
                   layout == HBK_LAYOUT_LARGE ? HBK_WORDS_FULL
                                              : HBK_WORDS_BRIEF);
        bars[layout] = check_gamut(s, layout, &sheet);
    }
    const size_t n = bars[HBK_LAYOUT_PLATE];
    assert_true(n > 0);
    assert_true(bars[HBK_LAYOUT_WALL] >= n);
    assert_int_equal(bars[HBK_LAYOUT_STAND], n);
    assert_int_equal(bars[HBK_LAYOUT_LARGE], n);
    assert_int_equal(bars[HBK_LAYOUT_CARD], n);
}

/* All sheets of one player. The card of the slides is solved on its own. */
static void check_player(struct solved *s, const struct wish *wish)
{
    struct hbk_arena arena = {0};
    struct hbk_faults faults = {0};
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_sheet_options options = {.paper = HBK_A4};
    solve_as(s, wish);
    check_charts(s, &arena);
    struct hbk_sheet scales = {.arena = &arena};
    assert_int_equal(hbk_sheet_scales(&s->notes,
                                      hbk_scales_of(&s->notes, &arena),
                                      &options, &ruler, &scales),
                     HBK_OK);
    check_head(s, &arena, &scales, HBK_WORDS_FULL);
    (void)check_worst(s, sheet_words(&scales));
    struct hbk_slides slides;
    assert_int_equal(
        hbk_slides_plan(&s->horn, &s->setting, &arena, &slides, &faults),
        HBK_OK);
    struct hbk_sheet card = {.arena = &arena};
    hbk_sheet_slide_card(&slides, &options, &ruler, &card);
    check_sheet_says(&card, hbk_words_pitch(&arena, &s->setting));
    check_sheet_says(&card, hbk_words_setting(&arena, &s->notes));
    check_sheet_says(&card, hbk_words_tuned(&arena, &s->notes));
    check_sheet_says(&card, hbk_words_rest(&arena, &s->notes, HBK_WORDS_FULL));
    check_slide_card(s, &card);
    for (size_t i = 0; i < slides.n; i++) {
        check_abs(slides.pulls[i].draw_m, s->notes.tuned.draw_m[i], 1e-12);
    }
    hbk_arena_finish(&arena);
}

static void every_sheet_of_a_player_agrees(void **state)
{
    (void)state;
    static const struct wish wishes[] = {
        {440.0, 20.0, -1, HBK_VALVE_SLIDES_OWN},
        {452.5, 18.0, -1, HBK_VALVE_SLIDES_OWN},
        {415.0, 30.0, -1, HBK_VALVE_SLIDES_HOME},
        {433.0, 10.0, -1, HBK_VALVE_SLIDES_BEST},
    };
    struct hbk_arena arena = {0};
    size_t n = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t i = 0; i < n; i++) {
        struct solved s;
        solved_read(&s, horns[i].name);
        for (size_t k = 0; k < sizeof(wishes) / sizeof(wishes[0]); k++) {
            check_player(&s, &wishes[k]);
        }
        solved_close(&s);
    }
    hbk_arena_finish(&arena);
}

static void every_crook_gives_sheets_that_agree(void **state)
{
    (void)state;
    struct hbk_arena arena = {0};
    size_t n = 0;
    size_t crooks = 0;
    const struct hbk_shipped_horn *const horns = all_shipped(&arena, &n);
    for (size_t i = 0; i < n; i++) {
        struct solved s;
        solved_read(&s, horns[i].name);
        for (int crook = 0; crook < (int)s.horn.n_crooks; crook++) {
            for (int how = 0; how < HBK_VALVE_SLIDES_COUNT; how++) {
                const struct wish wish = {s.horn.a4_hz, 24.0, crook,
                                          (enum hbk_valve_slides)how};
                check_player(&s, &wish);
                crooks++;
            }
        }
        solved_close(&s);
    }
    assert_true(crooks >= 9);
    hbk_arena_finish(&arena);
}

/* That the reading back reads: counts on a sheet whose contents are known. */
static void what_is_printed_is_read_back(void **state)
{
    (void)state;
    struct solved s;
    solved_open(&s, "cornet-b-flat");
    struct hbk_sheet wall = {.arena = &s.arena};
    lay_chart(&s, HBK_LAYOUT_WALL, &wall);
    assert_true(check_gamut(&s, HBK_LAYOUT_WALL, &wall) >= s.notes.n);
    const struct hbk_ruler ruler = fixed_ruler();
    const struct hbk_sheet_options options = {.paper = HBK_A4};
    struct hbk_sheet scales = {.arena = &s.arena};
    assert_int_equal(hbk_sheet_scales(&s.notes,
                                      hbk_scales_of(&s.notes, &s.arena),
                                      &options, &ruler, &scales),
                     HBK_OK);
    assert_true(check_worst(&s, sheet_words(&scales)) >= 20);
    solved_close(&s);
}

int main(void)
{
    const struct CMUnitTest tests[] = {
        cmocka_unit_test(what_is_printed_is_read_back),
        cmocka_unit_test(every_sheet_of_a_player_agrees),
        cmocka_unit_test(every_crook_gives_sheets_that_agree),
    };
    return cmocka_run_group_tests_name("agree", tests, NULL, NULL);
}
