#ifndef HBK_TESTS_PRIMER_PAGES_H
#define HBK_TESTS_PRIMER_PAGES_H

#include "support/check.h"
#include "support/sheets.h"

#include "engrave/glyph.h"
#include "horn/about.h"
#include "horn/press.h"
#include "sheet/primer/primer_given.h"
#include "sheet/primer/primer_taught.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* What every primer keeps to, looked for on its pages. */

/* Words can be read; the dots of notes are no words. */
static inline void check_letters(const struct hbk_sheet *sheet)
{
    static const double least = 7.0;
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            if (mark->kind == HBK_TEXT && !is_in_dot(&sheet->pages[p], i) &&
                mark->size < HBK_PT(least) - TOL_SIZE) {
                print_error("%s: \"%s\" has %.2f pt\n", sheet->title,
                            mark->text, mark->size / HBK_PT(1.0));
                fail();
            }
        }
    }
}

/* The page on which the chart is over. */
static inline size_t first_after_chart(const struct hbk_sheet *sheet)
{
    for (size_t p = 0; p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            if (mark->kind == HBK_TEXT &&
                strcmp(mark->text, "This horn") == 0) {
                return p;
            }
        }
    }
    fail_msg("%s: nothing after the chart", sheet->title);
    return 0;
}

/* Every note that a text names, "F\u266F4", may be asked for. */
static inline void check_names(const struct hbk_sheet *sheet, size_t page,
                               const struct hbk_primer *primer,
                               const char *text, size_t *n)
{
    static const char ends[] = " ,:()/\u2013-";
    for (const char *at = text + strspn(text, ends); *at != '\0';
         at += strspn(at, ends)) {
        char name[HBK_NAME_SIZE];
        const size_t length = strcspn(at, ends);
        (void)snprintf(name, sizeof(name), "%.*s", (int)length, at);
        int written = 0;
        at += length;
        if (length >= sizeof(name) || !hbk_note_parse(name, &written)) {
            continue;
        }
        if (!hbk_primer_asks(primer, written)) {
            fail_msg("%s, page %zu: %s is asked for, and no lesson has it: "
                     "\"%s\"",
                     sheet->title, page + 1, name, text);
        }
        (*n)++;
    }
}

/* Where a mark stands in a table. */
struct in_table {
    bool is_cell;
    size_t column, sounding; /* what the tuner says is no written note */
};

static inline void step_in_table(struct in_table *in,
                                 const struct hbk_mark *mark)
{
    const bool opens = mark->kind == HBK_OPEN;
    if (mark->kind == HBK_TEXT && strncmp(mark->text, "The tuner", 9) == 0) {
        in->sounding = in->column;
    } else if (opens && mark->tag == HBK_TAG_TABLE) {
        in->sounding = 0;
    } else if (opens && mark->tag == HBK_TAG_ROW) {
        in->column = 0;
    } else if (opens || mark->kind == HBK_CLOSE) {
        const bool is_cell =
            mark->tag == HBK_TAG_CELL || mark->tag == HBK_TAG_HEADER;
        in->column += opens && (is_cell || mark->tag == HBK_TAG_COLUMN) ? 1 : 0;
        in->is_cell = is_cell ? opens : in->is_cell;
    }
}

/*
 * In tables, diagrams and music no note stands that is not taught, but for
 * those beyond the lessons; sentences may name one, to say what it is.
 */
static inline void check_asked(const struct hbk_sheet *sheet,
                               const struct hbk_primer *primer)
{
    const struct hbk_notes *const notes = primer->notes;
    size_t n = 0;
    size_t n_white = 0;
    bool is_beyond = false;
    for (size_t p = first_after_chart(sheet); p < sheet->n_pages; p++) {
        struct in_table in = {.is_cell = false};
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            step_in_table(&in, mark);
            const bool asks = mark->kind == HBK_GLYPH ||
                              (in.is_cell && in.column != in.sounding);
            if (mark->kind == HBK_OPEN && mark->tag == HBK_TAG_HEADING) {
                is_beyond = strcmp(mark[1].text, "Beyond the lessons") == 0;
            } else if (mark->text != NULL && asks && !is_beyond) {
                check_names(sheet, p, primer, mark->text, &n);
            }
        }
    }
    /* The gamut alone names every white note that there is. */
    for (size_t i = 0; i < notes->n; i++) {
        const int written = notes->notes[i].written;
        n_white +=
            hbk_primer_asks(primer, written) && !hbk_note_is_black(written) ? 1
                                                                            : 0;
    }
    assert_true(n >= n_white && n > 0);
}

/* The chart to fill in asks for every note of the lessons, and no other. */
static inline void check_blank(const struct hbk_sheet *sheet,
                               const struct hbk_primer *primer)
{
    const char *const words = sheet_words(sheet);
    const char *const from = strstr(words, "A chart to fill in from memory");
    assert_non_null(from);
    const char *const to = strstr(from, "Your tuner");
    assert_non_null(to);
    const char *const rows =
        hbk_arena_printf(sheet->arena, "%.*s", (int)(to - from), from);
    for (int written = 0; written <= HBK_NOTE_MAX; written++) {
        char name[HBK_NAME_SIZE];
        hbk_spelling_name(hbk_note_sharp(written), HBK_UNICODE, name);
        const char *const row = hbk_arena_printf(sheet->arena, " %s ", name);
        const bool is_asked = hbk_primer_taught(primer, written) != NULL;
        if ((strstr(rows, row) != NULL) != is_asked) {
            fail_msg("%s: %s in the chart to fill in", sheet->title, name);
        }
    }
}

/* Whether two figures say the same, "12" and "1-2" too. */
static inline bool same_figure(const char *a, const char *b)
{
    while (*a != '\0' || *b != '\0') {
        a += *a == '-' ? 1 : 0;
        b += *b == '-' ? 1 : 0;
        if (*a != *b) {
            return false;
        }
        a += *a != '\0' ? 1 : 0;
        b += *b != '\0' ? 1 : 0;
    }
    return true;
}

/* The head that stands over a figure: the nearest across, then up. */
static inline const struct hbk_mark *head_over(const struct hbk_page *page,
                                               const struct hbk_mark *figure)
{
    static const double least_down = 3.0;
    static const double half_head = 0.15;
    const struct hbk_mark *best = NULL;
    double least = 0.0;
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *const mark = &page->marks[i];
        const double down = figure->y - mark->y;
        if (mark->kind != HBK_GLYPH || mark->text == NULL ||
            down < least_down) {
            continue;
        }
        const double across =
            fabs(mark->x + half_head * mark->size - figure->x);
        const double far = 4.0 * across + down;
        if (best == NULL || far < least) {
            best = mark;
            least = far;
        }
    }
    return best;
}

/* Its written note: "F\u266F4", "bar 2: F\u266F4, breath". */
static inline int note_over(const struct hbk_page *page,
                            const struct hbk_mark *figure)
{
    const struct hbk_mark *const head = head_over(page, figure);
    assert_non_null(head);
    const char *const colon = strchr(head->text, ':');
    const char *const from = colon == NULL ? head->text : colon + 2;
    char name[HBK_NAME_SIZE];
    int written = 0;
    (void)snprintf(name, sizeof(name), "%.*s", (int)strcspn(from, " ,("), from);
    if (!hbk_note_parse(name, &written)) {
        fail_msg("\"%s\" over %s", head->text, figure->text);
    }
    return written;
}

/* Whether a lesson says that fingers stay down so, in this octave or another.
 */
static inline bool is_told(const struct hbk_primer *primer, int written,
                           const char *figure)
{
    const struct hbk_lessons *const lessons = primer->lessons;
    const struct hbk_fingering *const usual =
        hbk_notes_find(primer->notes, written)->fingerings;
    for (size_t k = 0; k < lessons->n; k++) {
        for (size_t a = 0; a < lessons->lessons[k].n_new; a++) {
            const struct hbk_lesson_note *const added =
                &lessons->lessons[k].added[a];
            for (size_t h = 0; h < added->n_holds; h++) {
                const struct hbk_lesson_hold *const hold = &added->holds[h];
                char label[HBK_LABEL_SIZE];
                hbk_horn_press_label(primer->notes->horn,
                                     hold->fingering->press, label);
                const struct hbk_fingering *const of =
                    hbk_notes_find(primer->notes, hold->to)->fingerings;
                if (usual->press == of->press && same_figure(label, figure)) {
                    return true;
                }
            }
        }
    }
    return false;
}

/*
 * Every figure below a note, anywhere, is the one that was taught for it, or
 * one that a lesson tells of.
 */
static inline void check_figures(const struct hbk_sheet *sheet,
                                 const struct hbk_primer *primer)
{
    const struct hbk_horn *const horn = primer->notes->horn;
    size_t n = 0;
    for (size_t p = first_after_chart(sheet); p < sheet->n_pages; p++) {
        const struct hbk_page *const page = &sheet->pages[p];
        for (size_t i = 0; i < page->n; i++) {
            const struct hbk_mark *const figure = &page->marks[i];
            if (figure->kind != HBK_TEXT || figure->face != HBK_FACE_FIGURE ||
                strncmp(figure->text, "lip", 3) == 0 || is_in_dot(page, i)) {
                continue;
            }
            const int written = note_over(page, figure);
            char label[HBK_LABEL_SIZE];
            hbk_horn_press_label(
                horn, hbk_notes_find(primer->notes, written)->fingerings->press,
                label);
            if (!same_figure(label, figure->text) &&
                !is_told(primer, written, figure->text)) {
                fail_msg("%s, page %zu: %s for note %d, which is taught as %s",
                         sheet->title, p + 1, figure->text, written, label);
            }
            n++;
        }
    }
    assert_true(n > 0);
}

/* Signs of music with the words that explain them. */
static const struct {
    uint32_t glyph;
    const char *words;
} explained[] = {{HBK_GLYPH_G_CLEF, "is the treble clef"},
                 {HBK_GLYPH_F_CLEF, "is the bass clef"},
                 {HBK_GLYPH_C_CLEF, "is a C clef"},
                 {HBK_GLYPH_SHARP, "A sharp ("},
                 {HBK_GLYPH_FLAT, "A flat ("},
                 {HBK_GLYPH_NATURAL, "A natural ("},
                 {HBK_GLYPH_DOUBLE_SHARP, "A small cross before a note"},
                 {HBK_GLYPH_REST_4, "A zigzag is a silent beat"},
                 {HBK_GLYPH_REST_8, "A rest with one hook"},
                 {HBK_GLYPH_OPEN_HEAD, "A half note, white with a stem"},
                 {HBK_GLYPH_BLACK_HEAD, "A quarter note, black with a stem"},
                 {HBK_GLYPH_BREATH, "Breathe where a comma stands"}};

/* Words of music with those that explain them. */
static const struct {
    const char *word, *words;
} terms[] = {{"half note", "A half note, "},
             {"quarter note", "A quarter note, "},
             {"eighth note", "An eighth note has"},
             {"dotted half", "A dot adds half"},
             {"raises a semitone", "A semitone is the smallest"},
             {"is partial ", "counted from the lowest"},
             {"Tempos:", "a minute"},
             {"cents ", "a tuner counts 100 cents"},
             {" tied ", "A curve between two notes"}};

/* Heads, clefs and the like, which stand with whatever they belong to. */
static inline bool needs_no_words(uint32_t glyph)
{
    static const uint32_t plain[] = {HBK_GLYPH_WHOLE_HEAD};
    for (size_t i = 0; i < sizeof(plain) / sizeof(plain[0]); i++) {
        if (glyph == plain[i]) {
            return true;
        }
    }
    return false;
}

/* The words of a sign; NULL for none that is known. */
static inline const char *words_of(uint32_t glyph)
{
    for (size_t k = 0; k < sizeof(explained) / sizeof(explained[0]); k++) {
        if (glyph == explained[k].glyph) {
            return explained[k].words;
        }
    }
    return NULL;
}

/* No sign stands before its explanation, and none has no explanation. */
static inline void check_sign(const struct hbk_sheet *sheet, size_t page,
                              uint32_t glyph, const char *said)
{
    const char *const words = words_of(glyph);
    if (words == NULL && !needs_no_words(glyph)) {
        fail_msg("%s, page %zu: nothing explains U+%X", sheet->title, page + 1,
                 (unsigned)glyph);
    } else if (words != NULL && strstr(said, words) == NULL) {
        fail_msg("%s, page %zu: a sign before \"%s\"", sheet->title, page + 1,
                 words);
    }
}

/* Nor a word of music. */
static inline void check_term(const struct hbk_sheet *sheet, size_t page,
                              const char *text, const char *said)
{
    for (size_t k = 0; k < sizeof(terms) / sizeof(terms[0]); k++) {
        if (strstr(text, terms[k].word) != NULL &&
            strstr(said, terms[k].words) == NULL) {
            fail_msg("%s, page %zu: \"%s\" before \"%s\"", sheet->title,
                     page + 1, text, terms[k].words);
        }
    }
}

static inline void check_explained(const struct hbk_sheet *sheet)
{
    struct hbk_text said = {.arena = sheet->arena};
    hbk_text_add(&said, "");
    for (size_t p = first_after_chart(sheet); p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            if (mark->kind == HBK_TEXT) {
                hbk_text_addf(&said, "%s ", mark->text);
                check_term(sheet, p, mark->text, hbk_text_string(&said));
            } else if (mark->kind == HBK_GLYPH) {
                check_sign(sheet, p, mark->glyph, hbk_text_string(&said));
            }
        }
    }
}

/* Where pages come to: words, what was drawn, and figures since a heading. */
struct section {
    struct hbk_text words;
    uint32_t glyphs[24];
    size_t n_glyphs, n_figures;
};

static inline void take_in_section(struct section *section,
                                   const struct hbk_mark *mark)
{
    bool is_new = mark->kind == HBK_GLYPH;
    for (size_t i = 0; i < section->n_glyphs; i++) {
        is_new &= section->glyphs[i] != mark->glyph;
    }
    if (is_new && section->n_glyphs < 24) {
        section->glyphs[section->n_glyphs++] = mark->glyph;
    } else if (mark->kind == HBK_TEXT) {
        hbk_text_addf(&section->words, "%s ", mark->text);
        section->n_figures += mark->face == HBK_FACE_FIGURE ? 1 : 0;
    }
}

/* What a section explains it has: its signs, and its figures or none. */
static inline void check_section(const struct hbk_sheet *sheet,
                                 struct section *section)
{
    const char *const words = hbk_text_string(&section->words);
    for (size_t k = 0; k < sizeof(explained) / sizeof(explained[0]); k++) {
        bool is_drawn = false;
        for (size_t i = 0; i < section->n_glyphs; i++) {
            is_drawn |= section->glyphs[i] == explained[k].glyph;
        }
        if (strstr(words, explained[k].words) != NULL && !is_drawn) {
            fail_msg("%s: \"%s\" and no such sign: %.200s", sheet->title,
                     explained[k].words, words);
        }
    }
    const bool is_bare = strstr(words, "so no figures") != NULL ||
                         strstr(words, "tunes have no figures") != NULL;
    if ((is_bare && section->n_figures > 0) ||
        (strstr(words, "new notes of its lesson alone") != NULL &&
         section->n_figures == 0)) {
        fail_msg("%s: %zu figures: %.200s", sheet->title, section->n_figures,
                 words);
    }
}

/* Each sign is explained where it is drawn, in lessons, tunes, exercises. */
static inline void check_drawn(const struct hbk_sheet *sheet)
{
    struct section section = {.words = {.arena = sheet->arena}};
    hbk_text_add(&section.words, "");
    for (size_t p = first_after_chart(sheet); p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            /* The scales have headings of their own within their chapter. */
            if (mark->kind == HBK_OPEN && mark->tag == HBK_TAG_HEADING &&
                strstr(mark[1].text, " major") == NULL &&
                strstr(mark[1].text, " minor") == NULL) {
                check_section(sheet, &section);
                section = (struct section){.words = {.arena = sheet->arena}};
                hbk_text_add(&section.words, "");
            }
            take_in_section(&section, mark);
        }
    }
    check_section(sheet, &section);
}

/* How far down a page there is ink, of its height. */
static inline double filled(const struct hbk_page *page)
{
    double low = 0.0;
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *const mark = &page->marks[i];
        if (mark->kind != HBK_OPEN && mark->kind != HBK_CLOSE) {
            low = fmax(low, mark->y + fmax(0.0, mark->dy));
        }
    }
    return low / page->height;
}

/* What a heading is of stands below it, not overleaf. */
static inline void check_headings(const struct hbk_sheet *sheet)
{
    for (size_t p = first_after_chart(sheet); p < sheet->n_pages; p++) {
        const struct hbk_page *const page = &sheet->pages[p];
        const char *last = NULL;
        for (size_t i = 0; i < page->n; i++) {
            if (page->marks[i].kind == HBK_OPEN) {
                last = page->marks[i].tag == HBK_TAG_HEADING
                           ? page->marks[i + 1].text
                           : NULL;
            }
        }
        if (last != NULL) {
            fail_msg("%s, page %zu: ends with \"%s\"", sheet->title, p + 1,
                     last);
        }
    }
}

/*
 * Pages are full, but for a few that end before something whole; the last
 * three, with the chart to fill in and the tuner's page, end where they end.
 */
static inline void check_full(const struct hbk_sheet *sheet)
{
    static const double least = 0.42;
    static const double mean = 0.78;
    const size_t first = first_after_chart(sheet);
    double all = 0.0;
    size_t n = 0;
    for (size_t p = first; p + 3 < sheet->n_pages; p++) {
        const double here = filled(&sheet->pages[p]);
        if (here < least) {
            fail_msg("%s, page %zu: ends at %.2f", sheet->title, p + 1, here);
        }
        all += here;
        n++;
    }
    if (n > 0 && all / (double)n < mean) {
        fail_msg("%s: pages end at %.2f", sheet->title, all / (double)n);
    }
}

/* All music stands on staves of one size. */
static inline void check_staves(const struct hbk_sheet *sheet)
{
    double size = 0.0;
    for (size_t p = first_after_chart(sheet); p < sheet->n_pages; p++) {
        for (size_t i = 0; i < sheet->pages[p].n; i++) {
            const struct hbk_mark *const mark = &sheet->pages[p].marks[i];
            if (mark->kind == HBK_GLYPH && mark->glyph == HBK_GLYPH_OPEN_HEAD) {
                assert_true(size == 0.0 || fabs(mark->size - size) < 1e-6);
                size = mark->size;
            }
        }
    }
    assert_true(size > 0.0);
}

/* Whether below its running head the page goes on with a line of music. */
static inline bool goes_on_with_music(const struct hbk_page *page)
{
    size_t n_open = 0;
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_mark *const mark = &page->marks[i];
        n_open += mark->kind == HBK_OPEN ? 1 : 0;
        if (n_open > 2 || (n_open == 2 && (mark->kind == HBK_CLOSE ||
                                           (mark->kind == HBK_OPEN &&
                                            mark->tag != HBK_TAG_PARAGRAPH)))) {
            return false;
        }
        if (n_open == 2 && mark->kind == HBK_GLYPH) {
            return true;
        }
    }
    return false;
}

/* A tune goes on where the page lies beside the one before; counts those. */
static inline size_t check_parted(const struct hbk_sheet *sheet)
{
    size_t n = 0;
    for (size_t p = first_after_chart(sheet) + 1; p < sheet->n_pages; p++) {
        if (!goes_on_with_music(&sheet->pages[p])) {
            continue;
        }
        if (p % 2 == 1) {
            fail_msg("%s, page %zu: a tune goes on over the leaf", sheet->title,
                     p + 1);
        }
        n++;
    }
    return n;
}

#endif
