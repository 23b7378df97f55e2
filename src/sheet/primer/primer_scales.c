#include "sheet/primer/primer_parts.h"

#include "base/text.h"
#include "horn/about.h"
#include "horn/press.h"
#include "sheet/article/scales_sheet.h"
#include "sheet/primer/primer_moves.h"
#include "sheet/primer/primer_music.h"
#include "sheet/primer/primer_notes.h"
#include "sheet/primer/primer_signs.h"
#include "sheet/primer/primer_table.h"
#include "sheet/primer/primer_taught.h"
#include "sheet/primer/primer_words.h"
#include "sheet/words/words_read.h"
#include "sheet/words/words_signs.h"

#include <math.h>
#include <string.h>

/* mm at unit 1. */
static const double gamut_cell = 12.6;
static const double gamut_stretch = 6.0;
static const double blank_least = 7.2;
static const double blank_row = 8.5;
static const double blank_most = 18.0; /* on a page of its own */

/* An exercise; none with NULL for its music. */
struct exercise {
    const char *heading, *how;
    const struct hbk_tune *tune;
    enum hbk_figured figured;
    bool is_usual; /* by first fingerings alone */
};

/* The same while it waits for its place. */
struct waiting {
    const char *words;
    uint64_t signs;
    struct hbk_booklet_music music;
    double height; /* below its heading */
};

static struct waiting lay(struct hbk_booklet *booklet,
                          const struct exercise *exercise)
{
    struct hbk_article *const article = &booklet->article;
    struct hbk_figures figures = hbk_figures_all(exercise->figured);
    figures.is_usual = exercise->is_usual;
    struct waiting waiting = {
        .signs = hbk_primer_signs_of(booklet, exercise->tune),
        .music = hbk_booklet_engrave(booklet, exercise->tune, &figures,
                                     article->x, article->width)};
    const char *const explained =
        hbk_primer_explanation(booklet, waiting.signs);
    waiting.words =
        hbk_arena_printf(article->pad.sheet->arena, "%s%s%s", exercise->how,
                         explained[0] == '\0' ? "" : " ", explained);
    waiting.height = hbk_booklet_mm(booklet, 2.0) + waiting.music.height +
                     hbk_booklet_words_height(booklet, waiting.words);
    return waiting;
}

static void put_exercise(struct hbk_booklet *booklet,
                         const struct exercise *exercise)
{
    const struct waiting waiting = lay(booklet, exercise);
    (void)hbk_primer_explain(booklet, waiting.signs);
    hbk_booklet_heading(booklet, exercise->heading, waiting.height);
    hbk_booklet_words(booklet, waiting.words);
    hbk_booklet_music(booklet, &waiting.music);
}

/* The next; another, where only that has room on this page. */
static size_t next_exercise(struct hbk_booklet *booklet,
                            const struct exercise list[], size_t n)
{
    const struct hbk_article *const article = &booklet->article;
    for (size_t i = 0; i < n; i++) {
        const double head =
            hbk_booklet_heading_height(booklet, list[i].heading);
        if (article->y + head + lay(booklet, &list[i]).height <= article->end) {
            return i;
        }
    }
    return 0;
}

static void put_exercises(struct hbk_booklet *booklet, struct exercise list[],
                          size_t n)
{
    size_t left = 0;
    for (size_t i = 0; i < n; i++) {
        if (list[i].tune != NULL) {
            list[left++] = list[i];
        }
    }
    while (left > 0) {
        const size_t at = next_exercise(booklet, list, left);
        put_exercise(booklet, &list[at]);
        memmove(list + at, list + at + 1, (left - at - 1) * sizeof(list[0]));
        left--;
    }
}

/* "C♯4 (2)", as the trill has it. */
static const char *trilled(struct hbk_arena *arena,
                           const struct hbk_notes *notes, int written,
                           const struct hbk_fingering *fingering)
{
    char label[HBK_LABEL_SIZE];
    hbk_horn_press_label(notes->horn, fingering->press, label);
    return hbk_arena_printf(arena, "%s (%s)",
                            hbk_words_read(arena, notes, written), label);
}

/* The trills that one free finger makes, each with what the finger does. */
static void put_trills(struct hbk_booklet *booklet)
{
    enum { COLUMNS = 3, MOST = 12 };
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_primer *const primer = booklet->primer;
    const char **const cells =
        HBK_ARENA_ARRAY(arena, const char *, COLUMNS *MOST);
    size_t n = 0;
    for (size_t i = 0; i < primer->trills->n && n < MOST; i++) {
        const struct hbk_trill *const both[] = {&primer->trills->half[i],
                                                &primer->trills->whole[i]};
        for (size_t k = 0; k < 2 && n < MOST; k++) {
            const struct hbk_trill *const trill = both[k];
            if (trill->kind != HBK_TRILL_EASY ||
                hbk_primer_taught(primer, trill->written) == NULL ||
                hbk_primer_taught(primer, trill->written + trill->interval) ==
                    NULL) {
                continue;
            }
            cells[n * COLUMNS] =
                trilled(arena, primer->notes, trill->written, trill->main);
            cells[(n * COLUMNS) + 1] =
                trilled(arena, primer->notes, trill->written + trill->interval,
                        trill->upper);
            cells[(n * COLUMNS) + 2] = trill->words;
            n++;
        }
    }
    if (n == 0) {
        return;
    }
    const struct hbk_booklet_table table = {
        .n_columns = COLUMNS,
        .heads = {"From", "To", "What trills"},
        .shares = {0.22, 0.22, 0.56},
        .n_rows = n,
        .cells = cells};
    hbk_booklet_heading(booklet, "Easy trills",
                        hbk_booklet_mm(booklet, 12.0) +
                            hbk_booklet_table_height(booklet, &table));
    hbk_booklet_words(booklet,
                      "A trill goes to the note above and back, quickly and "
                      "evenly. In these only one finger moves.");
    hbk_booklet_table(booklet, &table);
}

/* "2. C♯4 (2) and E♭4 (4): key 2 up as key 4 goes down. 50, 60, 72." */
static const char *drill_words(struct hbk_arena *arena,
                               const struct hbk_notes *notes,
                               const struct hbk_primer_drill *drill,
                               size_t number)
{
    return hbk_arena_printf(arena, "%zu. %s and %s: %s. Tempos: %s.", number,
                            hbk_primer_note(arena, notes, drill->low),
                            hbk_primer_note(arena, notes, drill->high),
                            drill->why, drill->tempos);
}

/* One of them, where it stands whole. */
static void put_drill(struct hbk_booklet *booklet, const char *words,
                      const struct hbk_booklet_music *music)
{
    hbk_booklet_room(booklet,
                     hbk_booklet_words_height(booklet, words) + music->height);
    hbk_booklet_words(booklet, words);
    hbk_booklet_music(booklet, music);
}

/* Moves that fingers find awkward, with tempos to climb. */
static void put_drills(struct hbk_booklet *booklet)
{
    static const char how[] =
        "Repeat each until it is even, then take the next tempo, in quarter "
        "notes a minute. Move all fingers at the same moment.";
    struct hbk_article *const article = &booklet->article;
    struct hbk_arena *const arena = article->pad.sheet->arena;
    const struct hbk_primer *const primer = booklet->primer;
    const struct hbk_figures figures = hbk_figures_all(HBK_FIGURED_ONCE);
    size_t n = 0;
    const struct hbk_primer_drill *const drills =
        hbk_primer_drills(primer, arena, &n);
    if (n == 0) {
        return;
    }
    struct hbk_booklet_music *const music =
        HBK_ARENA_ARRAY(arena, struct hbk_booklet_music, n);
    uint64_t signs = 0;
    for (size_t i = 0; i < n; i++) {
        const struct hbk_tune *const tune =
            hbk_primer_drill_tune(primer, &drills[i], arena);
        music[i] = hbk_booklet_engrave(booklet, tune, &figures, article->x,
                                       article->width);
        signs |= hbk_primer_signs_of(booklet, tune);
    }
    const char *const words = hbk_arena_printf(
        arena, "%s %s", how, hbk_primer_explain(booklet, signs));
    const char *const first = drill_words(arena, primer->notes, &drills[0], 1);
    hbk_booklet_heading(booklet, "Awkward moves",
                        hbk_booklet_words_height(booklet, words) +
                            hbk_booklet_words_height(booklet, first) +
                            music[0].height + hbk_booklet_mm(booklet, 2.0));
    hbk_booklet_words(booklet, words);
    for (size_t i = 0; i < n; i++) {
        put_drill(booklet, drill_words(arena, primer->notes, &drills[i], i + 1),
                  &music[i]);
    }
}

/* Notes with their diagrams under a heading, as many in a row as stand. */
static void put_strips(struct hbk_booklet *booklet, const char *heading,
                       const char *words, const int written[], size_t n)
{
    struct hbk_article *const article = &booklet->article;
    const double room = article->width - hbk_booklet_mm(booklet, 34.0);
    size_t most = (size_t)(room / hbk_booklet_mm(booklet, gamut_cell));
    most = most > HBK_BOOKLET_NOTES_MOST ? HBK_BOOKLET_NOTES_MOST : most;
    const size_t rows = (n + most - 1) / most;
    const size_t per_row = (n + rows - 1) / rows;
    const struct hbk_booklet_notes top = hbk_booklet_notes(
        booklet, written, per_row, gamut_cell, article->width);
    hbk_booklet_heading(booklet, heading,
                        hbk_booklet_words_height(booklet, words) + top.height);
    hbk_booklet_words(booklet, words);
    for (size_t first = 0; first < n; first += per_row) {
        const size_t here = n - first < per_row ? n - first : per_row;
        const struct hbk_booklet_notes strip = hbk_booklet_notes(
            booklet, written + first, here, gamut_cell, article->width);
        hbk_booklet_room(booklet, strip.height);
        hbk_article_stretch(article, hbk_booklet_mm(booklet, gamut_stretch));
        hbk_booklet_notes_draw(booklet, &strip,
                               (struct hbk_point){article->x, article->y});
        article->y += strip.height + hbk_booklet_mm(booklet, 4.0);
    }
}

/* Of a horn without lessons: all that it has, with diagrams. */
static void put_all(struct hbk_booklet *booklet)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_primer *const primer = booklet->primer;
    const struct hbk_notes *const notes = primer->notes;
    int *const asked = HBK_ARENA_ARRAY(arena, int, notes->n);
    size_t n = 0;
    for (size_t i = 0; i < notes->n; i++) {
        if (notes->notes[i].n > 0) {
            asked[n++] = notes->notes[i].written;
        }
    }
    /* Else the first notes have said it, with their diagrams. */
    const char *const figures = primer->lessons->first.n == 0
                                    ? hbk_words_signs(arena, notes, false)
                                    : "";
    const char *const words = hbk_arena_printf(
        arena, "Every note of the horn, from the lowest up. %s%s", figures,
        hbk_primer_explain(booklet,
                           hbk_primer_signs_of_diagrams(notes, asked, n)));
    put_strips(booklet, "The whole gamut", words, asked, n);
}

/* " Beyond these the horn has G♯5 (2), A5 (3): ..."; "" for nothing else. */
static const char *beyond(const struct hbk_primer *primer,
                          struct hbk_arena *arena)
{
    const struct hbk_notes *const notes = primer->notes;
    struct hbk_text names = {.arena = arena};
    for (size_t i = 0; i < notes->n; i++) {
        const int written = notes->notes[i].written;
        if (notes->notes[i].n > 0 &&
            hbk_primer_taught(primer, written) == NULL) {
            hbk_text_addf(&names, "%s%s", names.length == 0 ? "" : ", ",
                          hbk_primer_note(arena, notes, written));
        }
    }
    return names.length == 0
               ? ""
               : hbk_arena_printf(arena,
                                  " No lesson has %s; the horn has them too. "
                                  "Try them when the others are sure.",
                                  hbk_text_string(&names));
}

/* The notes that lessons have, to be filled in from memory. */
static void put_blank(struct hbk_booklet *booklet)
{
    enum { COLUMNS = 6, HALF = COLUMNS / 2 };
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_primer *const primer = booklet->primer;
    const struct hbk_notes *const notes = primer->notes;
    int asked[HBK_NOTE_MAX + 1];
    size_t n = 0;
    for (size_t i = 0; i < notes->n; i++) {
        if (hbk_primer_taught(primer, notes->notes[i].written) != NULL) {
            asked[n++] = notes->notes[i].written;
        }
    }
    const size_t rows = (n + 1) / 2;
    const char **const cells =
        HBK_ARENA_ARRAY(arena, const char *, COLUMNS *rows);
    for (size_t i = 0; i < 2 * rows; i++) {
        const char **const cell =
            cells + (i % rows * COLUMNS) + (i / rows * HALF);
        cell[0] = i < n ? hbk_words_read_both(arena, notes, asked[i]) : "";
        cell[1] = "";
        cell[2] = "";
    }
    const char *const figure =
        hbk_horn_n_controls(notes->horn) > 0 ? "Fingering" : "Partial";
    struct hbk_booklet_table table = {
        .n_columns = COLUMNS,
        .heads = {"Note", figure, "My tuner", "Note", figure, "My tuner"},
        .shares = {0.18, 0.16, 0.16, 0.18, 0.16, 0.16},
        .n_rows = rows,
        .cells = cells,
        .least = blank_row};
    static const char title[] = "A chart to fill in from memory";
    const char *const how = hbk_arena_printf(
        arena,
        "Close the chart, write %s from memory, then compare; play each note "
        "and write what your tuner shows beside it.",
        hbk_horn_n_controls(notes->horn) > 0 ? "the fingering of each note"
                                             : "the partial of each note");
    const struct hbk_article *const article = &booklet->article;
    const double head = hbk_booklet_heading_height(booklet, title) +
                        hbk_booklet_words_height(booklet, how);
    table.least = blank_least;
    const bool fits =
        article->y + head + hbk_booklet_table_height(booklet, &table) <=
        article->end;
    table.least = blank_row;
    const double tall = hbk_booklet_table_height(booklet, &table);
    if (fits && article->y + head + tall > article->end) {
        table.least = blank_least;
    } else if (!fits) {
        /* Overleaf its rows have the whole page. */
        const double room = article->end - article->top - head - tall;
        table.least += fmin(fmax(0.0, room / hbk_booklet_mm(booklet, 1.0)) /
                                (double)(rows + 1),
                            blank_most - blank_row);
    }
    hbk_booklet_heading(booklet, title,
                        hbk_booklet_words_height(booklet, how) +
                            hbk_booklet_table_height(booklet, &table));
    hbk_booklet_words(booklet, how);
    hbk_booklet_table(booklet, &table);
}

/* " C♯ is the D♭ you know." of notes that stand under their other name. */
static const char *renamed(const struct hbk_primer *primer,
                           const struct hbk_scales *keys,
                           struct hbk_arena *arena)
{
    enum { OCTAVE = 12 };
    const struct hbk_notation *const read = &primer->notes->notation;
    bool told[OCTAVE] = {false};
    struct hbk_text text = {.arena = arena};
    hbk_text_add(&text, "");
    for (size_t i = 0; i < keys->n_placed; i++) {
        struct hbk_scale_octave octave;
        if (!hbk_scale_octave_find(primer->notes, &keys->keys[keys->order[i]],
                                   HBK_SCALE_CHORD, &octave)) {
            continue;
        }
        for (size_t k = 0; k < HBK_SCALE_UP; k++) {
            const int written = hbk_scale_octave_note(&octave, k)->written;
            const struct hbk_spelling here = hbk_scale_spelling(
                &octave.read, hbk_notation_note(read, written));
            const struct hbk_spelling known = hbk_notation_spelling(
                read, hbk_primer_spelling(primer, written));
            if (told[written % OCTAVE] || here.step == known.step) {
                continue;
            }
            char name[HBK_NAME_SIZE];
            char other[HBK_NAME_SIZE];
            hbk_text_addf(
                &text, "%s%s is the %s you know",
                text.length == 0 ? " One note may have two names: " : ", ",
                hbk_spelling_called(here, read->naming, HBK_UNICODE, name),
                hbk_spelling_called(known, read->naming, HBK_UNICODE, other));
            told[written % OCTAVE] = true;
        }
    }
    hbk_text_add(&text, text.length > 0 ? "." : "");
    return hbk_text_string(&text);
}

/* What a scale is, which are here and how to play them. */
static const char *keys_words(struct hbk_booklet *booklet,
                              const struct hbk_scales *keys)
{
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    const struct hbk_notation *const read = &booklet->primer->notes->notation;
    const struct hbk_scale *const first = &keys->keys[keys->order[0]];
    const struct hbk_scale *const last =
        &keys->keys[keys->order[keys->n_placed - 1]];
    const char *const home = hbk_scale_tonic_read(arena, first, read);
    return hbk_arena_printf(
        arena,
        "A scale has the notes of a key in their order: the scale of %s begins "
        "and ends on %s, its home, where the horn has the room.%s Play each "
        "with one breath up and one breath down, as you learned its notes. "
        "Here are the keys of this booklet\u2019s music, then those with few "
        "sharps or flats; a sheet of scales goes by the fingers and may have "
        "others.%s %s",
        home, home,
        last->minor
            ? " Major sounds bright; minor, its third note a semitone lower, "
              "dark."
            : "",
        renamed(booklet->primer, keys, arena),
        hbk_primer_explain(
            booklet, hbk_primer_signs_of_keys(keys, HBK_PRIMER_KEYS, read)));
}

/* The keys that are taught, written out in the size of all music. */
static void put_keys(struct hbk_booklet *booklet)
{
    static const char none[] = "No key has a whole scale of the notes that the "
                               "lessons have.";
    struct hbk_article *const article = &booklet->article;
    const struct hbk_primer *const primer = booklet->primer;
    const struct hbk_scales *const keys =
        hbk_primer_keys(primer, article->pad.sheet->arena);
    const struct hbk_scales_size size = {HBK_SCALE_CHORD, article->unit,
                                         0.25 * booklet->staff};
    struct hbk_scales_written *const written =
        hbk_scales_written_plan(article, primer->notes, keys, &size);
    const char *const how = written == NULL ? none : keys_words(booklet, keys);
    hbk_booklet_chapter(
        booklet, "Scales and movements",
        hbk_booklet_words_height(booklet, how) +
            (written == NULL ? 0.0 : hbk_scales_written_height(written)));
    hbk_booklet_words(booklet, how);
    if (written != NULL) {
        hbk_scales_written_draw(written);
    }
}

/* " Left out, as no lesson has them: A♭3, B♭3." of those between others. */
static const char *left_between(const struct hbk_primer *primer,
                                struct hbk_arena *arena)
{
    const struct hbk_lesson *const last =
        &primer->lessons->lessons[primer->lessons->n - 1];
    struct hbk_text names = {.arena = arena};
    size_t n = 0;
    for (int written = last->low; written < last->high; written++) {
        if (hbk_primer_taught(primer, written) == NULL) {
            hbk_text_addf(&names, "%s%s", n == 0 ? "" : ", ",
                          hbk_words_read(arena, primer->notes, written));
            n++;
        }
    }
    return n == 0
               ? ""
               : hbk_arena_printf(arena, " Left out, as no lesson has %s: %s.",
                                  n == 1 ? "it" : "them",
                                  hbk_text_string(&names));
}

/* What moves fingers and lip over the notes that are taught. */
static void put_movements(struct hbk_booklet *booklet)
{
    const struct hbk_primer *const primer = booklet->primer;
    struct hbk_arena *const arena = booklet->article.pad.sheet->arena;
    struct exercise list[] = {
        {"Slurs on the lips alone",
         "No finger moves: lips and air change the note.",
         hbk_primer_slurs(primer, arena), HBK_FIGURED_ONCE, true},
        {"The leading note",
         "The key that is open at rest is pressed for the middle note and let "
         "go again: hear it lean upward.",
         hbk_primer_leading(primer, arena), HBK_FIGURED_ALWAYS, true},
        {"Arpeggios",
         "First, third and fifth note of each of these scales, up and down: "
         "the chord of its key.",
         hbk_primer_arpeggios(primer, arena), HBK_FIGURED_ONCE, true},
        {"The chromatic scale",
         hbk_arena_printf(
             arena,
             "Every semitone of the range, up and down; slowly, and every note "
             "as long as its neighbor. Between the letters the way up has "
             "sharps and the way down flats: the same notes under their other "
             "names.%s",
             left_between(primer, arena)),
         primer->lessons->first.is_open ? NULL
                                        : hbk_primer_chromatic(primer, arena),
         HBK_FIGURED_ONCE, false},
        {"The whole gamut",
         hbk_arena_printf(
             arena,
             "From the lowest note that you have to the highest, in half "
             "notes; say each name before you play it. The way down has no "
             "figures: go by heart.%s",
             beyond(primer, arena)),
         hbk_primer_gamut(primer, arena), HBK_FIGURED_ONCE, false}};
    put_exercises(booklet, list, sizeof(list) / sizeof(list[0]));
    put_drills(booklet);
    put_trills(booklet);
}

void hbk_primer_scales(struct hbk_booklet *booklet)
{
    const struct hbk_primer *const primer = booklet->primer;
    if (primer->lessons->n > 0) {
        put_keys(booklet);
        put_movements(booklet);
        put_blank(booklet);
    } else {
        put_all(booklet);
    }
}
