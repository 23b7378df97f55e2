#include "sheet/part/part_sheet.h"

#include "engrave/engrave_dynamics.h"
#include "engrave/engrave_line.h"
#include "engrave/engrave_lyrics.h"
#include "engrave/engrave_notes.h"
#include "engrave/engrave_space.h"
#include "engrave/quill.h"
#include "horn/about.h"
#include "sheet/part/part_words.h"

#include <math.h>
#include <string.h>

/* In staff spaces: white between the ink of two lines of music. */
static const double least_gap = 1.6;
static const double widest_gap = 7.0;
static const double usual_gap = 3.0; /* on a page that is not full */

static const double least_staff = 4.0; /* mm */
static const double widest_staff = 9.0;

/* A line of music, drawn and measured, before it has its place. */
struct row {
    struct hbk_page *page;
    double above, below; /* mm from the lowest line of its staff */
    size_t n_asides;     /* what is read out at a note */
    const struct hbk_eng_aside *asides;
};

struct part {
    const struct hbk_part_options *options;
    struct hbk_paper_size paper;
    struct hbk_pad pad;
    struct hbk_engraving eng;
    struct hbk_fingers fingers;
    struct hbk_part_text text;
    double space; /* mm */
    double width;
    size_t n_rows;
    struct row *rows;
    size_t n_pages;
    size_t page;           /* the one that is open, from 1 */
    bool draw;             /* else pages are only counted */
    size_t *begins, *ends; /* by event: marks of its fingering in its row */
};

struct sizes {
    double staff, unit;
};

static struct sizes sizes_of(enum hbk_paper paper)
{
    static const struct sizes sizes[HBK_PAPER_COUNT] = {
        [HBK_A4] = {7.0, 1.0},     [HBK_A3] = {9.0, 1.3},
        [HBK_A5] = {6.0, 0.9},     [HBK_A6] = {5.0, 0.83},
        [HBK_LETTER] = {7.0, 1.0},
    };
    return sizes[paper];
}

/* Collects and spaces the music with the fingerings in a shape. */
static void engrave(struct part *part, bool labelled, struct hbk_engraving *eng)
{
    *eng = (struct hbk_engraving){.arena = part->eng.arena,
                                  .tune = part->eng.tune,
                                  .naming = part->eng.naming,
                                  .first_bar = part->eng.first_bar,
                                  .other_tempo = part->options->other_tempo,
                                  .end_bar = part->eng.end_bar};
    hbk_eng_collect(eng, labelled ? hbk_fingers_widths(&part->fingers,
                                                       &part->pad, part->space)
                                  : NULL);
    hbk_eng_measure_lyrics(eng, &part->pad, part->space);
    hbk_eng_space(eng, part->width / part->space);
}

/* The music on one endless line, as loose as lines are on the average. */
static double natural_width(const struct hbk_engraving *eng)
{
    double width = 0.0;
    for (size_t b = 0; b < eng->n_bars; b++) {
        width += eng->bars[b].lead + eng->bars[b].tail;
    }
    for (size_t i = 0; i < eng->n_columns; i++) {
        const struct hbk_eng_column *column = &eng->columns[i];
        width += fmax(column->least, HBK_ENG_LOOSE * column->ideal);
    }
    return width;
}

/*
 * Numbers beside each other as players write them, unless they would push
 * the notes apart by more than this share.
 */
static const double pushed_apart = 1.15;

static void choose_shape(struct part *part)
{
    struct hbk_fingers *fingers = &part->fingers;
    fingers->space = part->space;
    if (part->options->circles) {
        hbk_cells_arrange(fingers->horn, part->options->stuck, &fingers->cells);
        fingers->size = hbk_fingers_size(&fingers->cells, part->space);
        fingers->shape = HBK_FINGERS_CELLS;
        return;
    }
    fingers->shape = HBK_FINGERS_ROW;
    struct hbk_engraving bare;
    struct hbk_engraving row;
    engrave(part, false, &bare);
    engrave(part, true, &row);
    if (natural_width(&row) > pushed_apart * natural_width(&bare)) {
        fingers->shape = HBK_FINGERS_STACK;
    }
}

/* Adds a mark of a row to the last page. */
static void copy_mark(struct part *part, const struct hbk_mark *mark, double dy)
{
    struct hbk_mark copy = *mark;
    copy.y += dy;
    if (mark->n_points > 0) {
        struct hbk_point *points =
            HBK_ARENA_ARRAY(part->eng.arena, struct hbk_point, mark->n_points);
        for (size_t i = 0; i < mark->n_points; i++) {
            points[i].x = mark->points[i].x;
            points[i].y = mark->points[i].y + dy;
        }
        copy.points = points;
    }
    part->pad.group = mark->group;
    hbk_pad_add(&part->pad, copy);
}

/* The notes of a line: first to before the end. */
static void notes_of(const struct hbk_engraving *eng,
                     const struct hbk_eng_line *line, size_t *first,
                     size_t *end)
{
    const struct hbk_eng_bar *from = &eng->bars[line->first];
    const struct hbk_eng_bar *to = &eng->bars[line->first + line->n - 1];
    const size_t after = to->first + to->n;
    *first = from->first < eng->n_columns ? eng->columns[from->first].first
                                          : eng->n_notes;
    *end = after < eng->n_columns ? eng->columns[after].first : eng->n_notes;
}

/* A row being copied, in the order in which it is read out. */
struct copy {
    struct part *part;
    const struct row *row;
    double dy;
    bool *copied; /* by mark of the row */
};

static void copy_range(struct copy *copy, size_t begin, size_t end)
{
    for (size_t i = begin; i < end; i++) {
        if (!copy->copied[i]) {
            copy->copied[i] = true;
            copy_mark(copy->part, &copy->row->page->marks[i], copy->dy);
        }
    }
}

static void copy_asides(struct copy *copy, size_t note, bool after)
{
    for (size_t i = 0; i < copy->row->n_asides; i++) {
        const struct hbk_eng_aside *aside = &copy->row->asides[i];
        if (aside->note == note && aside->after == after) {
            copy_range(copy, aside->begin, aside->end);
        }
    }
}

/* What stands at a note is read out with it, and its fingering after it. */
static void copy_row(struct part *part, size_t number, double bottom)
{
    const struct row *row = &part->rows[number];
    const struct hbk_engraving *eng = &part->eng;
    const size_t n = row->page->n;
    struct copy copy = {part, row, bottom,
                        HBK_ARENA_ARRAY(eng->arena, bool, n + 1)};
    size_t note;
    size_t end;
    notes_of(eng, &eng->lines[number], &note, &end);
    hbk_pad_open(&part->pad, HBK_TAG_PARAGRAPH);
    size_t at = 0;
    for (; note < end; note++) {
        copy_range(&copy, at, eng->notes[note].marks_from);
        copy_asides(&copy, note, false);
        at = eng->notes[note].marks;
        copy_range(&copy, eng->notes[note].marks_from, at);
        const size_t event = eng->notes[note].event;
        copy_range(&copy, part->begins[event], part->ends[event]);
        copy_asides(&copy, note, true);
    }
    copy_range(&copy, at, n);
    hbk_pad_close(&part->pad, HBK_TAG_PARAGRAPH);
}

/* Circles and crosses are no words: the note says what they mean instead. */
static void say_signs(const struct part *part, struct hbk_eng_view *view)
{
    for (size_t i = view->first; i < view->end; i++) {
        struct hbk_eng_note *note = &view->eng->notes[i];
        if (part->options->circles &&
            hbk_fingers_at(&part->fingers, note->event)) {
            note->says = part->fingers.fingerings[note->event].label;
        } else if (hbk_fingers_out(&part->fingers, note->event)) {
            note->says = "not available";
        }
    }
}

static void draw_row(struct part *part, size_t number)
{
    struct hbk_engraving *eng = &part->eng;
    struct hbk_eng_line *line = &eng->lines[number];
    hbk_eng_place(eng, line);
    struct hbk_sheet scratch = {.arena = eng->arena};
    struct hbk_pad pad = {.sheet = &scratch,
                          .ruler = part->pad.ruler,
                          .groups = part->pad.groups};
    hbk_pad_page(&pad, part->paper, "");
    struct hbk_quill quill;
    hbk_quill_open(&quill, &pad, part->paper.margin, 0.0, part->space,
                   line->room);
    struct hbk_eng_view view = {.eng = eng, .line = line, .quill = &quill};
    notes_of(eng, line, &view.first, &view.end);
    say_signs(part, &view);
    hbk_eng_draw_line(&view);
    /* Grids of hands are tall: dynamics go above them, but below numbers. */
    const bool is_tall = part->fingers.shape == HBK_FINGERS_CELLS;
    if (is_tall) {
        hbk_eng_draw_dynamics(&view, false);
    }
    const struct hbk_fingers_used used =
        hbk_fingers_draw(&part->fingers, &view, part->begins, part->ends);
    if (!is_tall) {
        hbk_eng_draw_dynamics(&view, false);
    }
    hbk_eng_draw_lyrics(&view);
    part->text.used.any |= used.any;
    part->text.used.departure |= used.departure;
    part->text.used.hard |= used.hard;
    part->text.used.unreachable |= used.unreachable;
    part->pad.groups = pad.groups;
    struct row *row = &part->rows[number];
    row->page = &scratch.pages[0];
    row->n_asides = view.n_asides;
    row->asides = view.asides;
    const double far = 1e6;
    row->above = hbk_quill_top(&quill, -far, far) * part->space;
    row->below = -hbk_quill_bottom(&quill, -far, far) * part->space;
}

static const char *page_of_pages(const struct part *part)
{
    return hbk_arena_printf(part->eng.arena, "page %zu of %zu", part->page,
                            part->n_pages);
}

/* Turns to the next page, draws its head; returns where the music begins. */
static double turn_page(struct part *part)
{
    const double margin = part->paper.margin;
    const bool is_first = part->page++ == 0;
    const char *title = part->text.title;
    if (part->draw) {
        hbk_pad_page(&part->pad, part->paper,
                     is_first
                         ? title
                         : hbk_arena_printf(part->eng.arena, "%s, page %zu",
                                            title, part->page));
    }
    return margin + (is_first ? hbk_part_head : hbk_part_running_head)(
                        &part->pad, &part->text, page_of_pages(part),
                        part->draw, margin, margin);
}

static double row_height(const struct part *part, size_t row)
{
    return part->rows[row].above + part->rows[row].below;
}

/* Rows from `row` on that fit in a height, at least one. */
static size_t rows_that_fit(const struct part *part, size_t row, double height)
{
    size_t n = 0;
    double used = 0.0;
    while (row + n < part->n_rows) {
        used +=
            row_height(part, row + n) + (n > 0 ? least_gap * part->space : 0.0);
        if (n > 0 && used > height + 1e-9) {
            break;
        }
        n++;
    }
    return n;
}

/* Draws n rows between two heights; spare room goes between them. */
static double draw_rows(struct part *part, size_t row, size_t n, double y,
                        double bottom, double widest)
{
    double used = 0.0;
    for (size_t i = 0; i < n; i++) {
        used += row_height(part, row + i);
    }
    double gap = n > 1 ? (bottom - y - used) / (double)(n - 1) : 0.0;
    gap = fmax(least_gap * part->space, fmin(gap, widest * part->space));
    for (size_t i = 0; i < n; i++) {
        if (part->draw) {
            copy_row(part, row + i, y + part->rows[row + i].above);
        }
        y += row_height(part, row + i) + (i + 1 < n ? gap : 0.0);
    }
    return y;
}

static double foot_height(struct part *part)
{
    double height = 0.0;
    for (size_t i = 0; i < hbk_part_foot_blocks(&part->text); i++) {
        height +=
            hbk_part_foot_block(&part->pad, &part->text, i, false, 0.0, 0.0);
    }
    return height;
}

/* What stands below the music, at the end of the page if it fits there. */
static void lay_foot(struct part *part, double y)
{
    const double end = part->paper.height - part->paper.margin;
    const double height = foot_height(part);
    y = y + height <= end + 1e-9 ? fmin(y + part->space, end - height)
                                 : y + part->space;
    for (size_t i = 0; i < hbk_part_foot_blocks(&part->text); i++) {
        const double takes =
            hbk_part_foot_block(&part->pad, &part->text, i, false, 0.0, 0.0);
        if (y + takes > end + 1e-9) {
            y = turn_page(part);
        }
        y += hbk_part_foot_block(&part->pad, &part->text, i, part->draw,
                                 part->paper.margin, y);
    }
}

/* All pages; or, not drawing, only how many they are. */
static void lay_pages(struct part *part, bool draw)
{
    const double end = part->paper.height - part->paper.margin;
    const double foot = foot_height(part);
    part->draw = draw;
    part->page = 0;
    double y = turn_page(part);
    for (size_t row = 0; row < part->n_rows;) {
        size_t n = rows_that_fit(part, row, end - y);
        const bool is_last = row + n == part->n_rows;
        double bottom = is_last ? end - foot : end;
        if (is_last && rows_that_fit(part, row, bottom - y) < n) {
            bottom = end; /* the foot goes on to the next page */
        }
        y = draw_rows(part, row, n, y, bottom,
                      is_last ? usual_gap : widest_gap);
        row += n;
        if (row < part->n_rows) {
            y = turn_page(part);
        }
    }
    lay_foot(part, y);
    part->n_pages = part->page;
}

/* "Solo cornet"; the name of a voice where the source has none of the part. */
static const char *part_name(const struct hbk_tune *tune,
                             struct hbk_arena *arena)
{
    if (tune->part[0] != '\0' || tune->voice[0] == '\0') {
        return tune->part;
    }
    const bool is_number =
        strspn(tune->voice, "0123456789") == strlen(tune->voice);
    return hbk_arena_printf(arena, "%s%s", is_number ? "Voice " : "",
                            tune->voice);
}

/* Copies what the sheet says of itself. */
static void name_sheet(struct part *part)
{
    const struct hbk_tune *tune = part->eng.tune;
    struct hbk_sheet *sheet = part->pad.sheet;
    const char *title = part->options->title;
    if (title == NULL) {
        title = tune->title[0] == '\0' ? "Passage" : tune->title;
    }
    sheet->title = hbk_arena_copy(sheet->arena, title, strlen(title));
    const struct hbk_part_words *words = part->text.words;
    const char *subject =
        words != NULL && words->heading != NULL ? words->heading : "";
    sheet->subject = hbk_arena_copy(sheet->arena, subject, strlen(subject));
    sheet->kind = "part";
    part->text.title = sheet->title;
    part->text.subtitle = tune->subtitle;
    part->text.lyricist = tune->lyricist;
    part->text.composer = tune->composer;
    part->text.arranger = tune->arranger;
    part->text.rights = tune->rights;
    part->text.n_stanzas = tune->marks.n_stanzas;
    part->text.stanzas = tune->marks.stanzas;
    part->text.part = part_name(tune, sheet->arena);
    const struct hbk_horn *horn = part->fingers.horn;
    part->text.horn = horn == NULL ? "" : hbk_horn_name(horn);
}

static bool is_sound(const struct hbk_tune *tune,
                     const struct hbk_part_options *options,
                     const struct hbk_horn *horn)
{
    const bool staff_fits =
        options->staff_mm == 0.0 ||
        (options->staff_mm >= least_staff && options->staff_mm <= widest_staff);
    return tune->n_events > 0 && options->first_bar < tune->n_bars &&
           staff_fits && (!options->circles || horn != NULL);
}

enum hbk_status hbk_sheet_part(const struct hbk_tune *tune,
                               const struct hbk_part_fingering *fingerings,
                               const struct hbk_part_words *words,
                               const struct hbk_part_options *options,
                               const struct hbk_horn *horn,
                               const struct hbk_ruler *ruler,
                               struct hbk_sheet *sheet)
{
    static const struct hbk_part_options usual = {.paper = HBK_A4};
    options = options == NULL ? &usual : options;
    if (!is_sound(tune, options, horn)) {
        return HBK_ERR_DOMAIN;
    }
    const struct sizes sizes = sizes_of(options->paper);
    const size_t left = tune->n_bars - options->first_bar;
    const size_t n_bars =
        options->n_bars == 0 || options->n_bars > left ? left : options->n_bars;
    struct part part = {
        .options = options,
        .paper = hbk_paper_size(options->paper),
        .pad = {.sheet = sheet, .ruler = ruler},
        .eng = {.arena = sheet->arena,
                .tune = tune,
                .naming = options->naming,
                .first_bar = options->first_bar,
                .end_bar = options->first_bar + n_bars},
        .fingers = {.tune = tune,
                    .fingerings = fingerings,
                    .horn = horn,
                    .sounding = options->sounding,
                    .sounds_higher_by = options->sounds_higher_by,
                    .naming = options->naming},
        .text = {.words = words, .unit = sizes.unit},
    };
    part.space =
        0.25 * (options->staff_mm > 0.0 ? options->staff_mm : sizes.staff);
    part.width = part.paper.width - 2.0 * part.paper.margin;
    part.text.width = part.width;
    part.text.fingers = &part.fingers;
    part.begins = HBK_ARENA_ARRAY(sheet->arena, size_t, tune->n_events + 1);
    part.ends = HBK_ARENA_ARRAY(sheet->arena, size_t, tune->n_events + 1);
    name_sheet(&part);
    choose_shape(&part);
    engrave(&part, true, &part.eng);
    hbk_eng_break(&part.eng, part.width / part.space);
    part.n_rows = part.eng.n_lines;
    part.rows = HBK_ARENA_ARRAY(sheet->arena, struct row, part.n_rows);
    for (size_t i = 0; i < part.n_rows; i++) {
        draw_row(&part, i);
    }
    lay_pages(&part, false);
    lay_pages(&part, true);
    return HBK_OK;
}
