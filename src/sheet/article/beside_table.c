#include "sheet/article/beside_table.h"

#include "base/arena.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "sheet/block/dot.h"
#include "sheet/block/said.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* At unit 1, mm. */
static const double label_width = 32.0;
static const double clef_room = 11.0;
static const double half_tone = 1.5; /* of a natural, with both names */
static const double least_for_pairs = 6.7;
static const double widest_space = 1.9;
static const double overhang = 0.9;     /* of ledger lines, and white, spaces */
static const double widest_unit = 15.0; /* a column of a natural */
static const double widest_alone = 26.0; /* of a single staff */

/* The least that a staff may be, mm on any paper. */
static const double least_space = 1.3;

/* Points; names of stacked half-tones are smaller. */
static const double name_points = 12.5;
static const double half_points = 10.2;
static const double octave_points = 7.5;
static const double label_points = 10.5;
static const double here_points = 14.0;
static const double known_points = 12.0;
static const double least_figure = 10.0;
static const double least_label = 8.5;
static const double least_name = 9.0;

static const double most_figure_growth = 1.3;
static const double evenness = 1.45; /* of the largest over the smallest */

static const double here_row = 7.6; /* of the table, mm at unit 1 */
static const double known_row = 6.8;
static const double below_system = 2.6;

/* Every sign is at least 3 mm across. */
static const double least_sign = 1.5;

/* ---- What stands in it --------------------------------------------------- */

/* A dash for none. */
static const char *label_of(struct hbk_arena *arena,
                            const struct hbk_horn *horn,
                            const struct hbk_fingering *fingering)
{
    char label[HBK_LABEL_SIZE];
    if (fingering == NULL) {
        return "\u2013";
    }
    hbk_horn_press_label(horn, fingering->press, label);
    return hbk_arena_copy(arena, label, strlen(label));
}

/* Notes of this horn's compass; what it lacks there only where that is rare. */
static void list_notes(struct hbk_beside_page *page, bool with_lost)
{
    struct hbk_arena *const arena = page->pad.sheet->arena;
    page->n = 0;
    for (size_t i = 0; i < page->here->n; i++) {
        const struct hbk_note *const note = &page->here->notes[i];
        const enum hbk_beside_note what =
            hbk_beside_note(page->here, page->known, note->written);
        if (what == HBK_BESIDE_NEITHER ||
            (what == HBK_BESIDE_LOST && !with_lost)) {
            continue;
        }
        page->columns[page->n++] = (struct hbk_beside_column){
            .written = note->written,
            .read = hbk_notation_note(&page->here->notation, note->written),
            .what = what,
            .here = label_of(arena, page->here->horn,
                             note->n > 0 ? &note->fingerings[0] : NULL),
            .known = label_of(
                arena, page->known->horn,
                hbk_beside_known(page->here, page->known, note->written))};
    }
}

void hbk_beside_list(struct hbk_beside_page *page)
{
    page->columns = HBK_ARENA_ARRAY(page->pad.sheet->arena,
                                    struct hbk_beside_column, page->here->n);
    list_notes(page, true);
    size_t n[HBK_BESIDE_LOST + 1] = {0};
    for (size_t i = 0; i < page->n; i++) {
        n[page->columns[i].what]++;
    }
    if (3 * n[HBK_BESIDE_LOST] > page->n) {
        list_notes(page, false);
    }
    /* What most notes do bears no sign. */
    static const enum hbk_beside_note common[] = {
        HBK_BESIDE_SAME, HBK_BESIDE_FINGER, HBK_BESIDE_OTHER};
    size_t all = 0;
    for (size_t i = 0; i < 3; i++) {
        all += n[common[i]];
        page->unmarked = n[common[i]] > n[page->unmarked] || i == 0
                             ? common[i]
                             : page->unmarked;
    }
    page->has_sign = all > n[page->unmarked];
}

static bool is_half(const struct hbk_beside_column *column)
{
    return hbk_note_is_black(column->read);
}

/* ---- Where it stands ----------------------------------------------------- */

/* Even shares, broken at a C where one is near. */
static void break_up(struct hbk_beside_page *page, size_t n)
{
    const size_t near = page->n / n / 4;
    page->n_systems = n;
    size_t first = 0;
    for (size_t i = 0; i < n; i++) {
        size_t end = (page->n * (i + 1)) / n;
        for (size_t away = 0; i + 1 < n && away <= near; away++) {
            if (end + away < page->n &&
                page->columns[end + away].read % 12 == 0) {
                end += away;
                break;
            }
            if (end > first + away &&
                page->columns[end - away].read % 12 == 0) {
                end -= away;
                break;
            }
        }
        page->systems[i] =
            (struct hbk_beside_system){.first = first, .n = end - first};
        first = end;
    }
}

static double units_of(const struct hbk_beside_page *page,
                       const struct hbk_beside_system *system, bool pairs)
{
    double units = 0.0;
    for (size_t i = 0; i < system->n; i++) {
        units += pairs && is_half(&page->columns[system->first + i]) ? half_tone
                                                                     : 1.0;
    }
    return units;
}

/* The width of a natural's column in the fullest system. */
static double unit_width(const struct hbk_beside_page *page, bool pairs)
{
    double most = 1.0;
    for (size_t i = 0; i < page->n_systems; i++) {
        most = fmax(most, units_of(page, &page->systems[i], pairs));
    }
    return fmin((page->width - label_width * page->s) / most,
                (page->n_systems == 1 ? widest_alone : widest_unit) *
                    fmax(1.0, page->s));
}

static void set_columns(struct hbk_beside_page *page, double unit)
{
    for (size_t i = 0; i < page->n_systems; i++) {
        double x = page->x + label_width * page->s;
        for (size_t k = 0; k < page->systems[i].n; k++) {
            struct hbk_beside_column *column =
                &page->columns[page->systems[i].first + k];
            column->x = x;
            column->width =
                unit * (page->pairs && is_half(column) ? half_tone : 1.0);
            x += column->width;
        }
    }
}

static struct hbk_heads heads_of(const struct hbk_beside_page *page,
                                 const struct hbk_beside_column *column)
{
    struct hbk_heads heads = hbk_heads_of(column->read);
    heads.n = page->pairs ? heads.n : 1;
    return heads;
}

static void measure_staff(struct hbk_beside_page *page,
                          struct hbk_beside_system *system)
{
    const enum hbk_clef clef = page->here->notation.clef;
    hbk_clef_reach(clef, &system->above, &system->below);
    for (size_t i = 0; i < system->n; i++) {
        const struct hbk_heads heads =
            heads_of(page, &page->columns[system->first + i]);
        double above = 0.0;
        double below = 0.0;
        hbk_heads_reach(clef, &heads, &above, &below);
        system->above = fmax(system->above, above);
        system->below = fmax(system->below, below);
    }
}

/* No number is so much larger than the smallest that it seems to shout. */
static struct hbk_style number_style(const struct hbk_beside_page *page,
                                     const struct hbk_beside_column *column,
                                     double points, const char *text)
{
    const double growth = fmin(page->growth, most_figure_growth);
    struct hbk_style style =
        hbk_beside_style(page, HBK_FACE_FIGURE, points * growth, least_figure);
    style.align = HBK_CENTRE;
    style.size = fmin(style.size, HBK_PT(evenness * page->figure));
    return hbk_pad_fit(&page->pad, style, column->width - 0.7 * page->s, 0.4,
                       text);
}

/* The smallest number there is, in points. */
static double smallest_figure(const struct hbk_beside_page *page)
{
    double least = INFINITY;
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_beside_column *column = &page->columns[i];
        least = fmin(
            least, number_style(page, column, here_points, column->here).size);
        least = fmin(
            least, number_style(page, column, here_points, column->known).size);
    }
    return least / HBK_PT(1.0);
}

/* The widest staff whose heads keep to their columns. */
static double staff_space(const struct hbk_beside_page *page)
{
    double space = fmax(widest_space * page->growth * page->s, least_space);
    for (size_t i = 0; i < page->n; i++) {
        const struct hbk_heads heads = heads_of(page, &page->columns[i]);
        space = fmin(space, page->columns[i].width /
                                (hbk_heads_width(&heads, 1.0) + overhang));
    }
    return space;
}

/* With both names of a half-tone side by side, or one above the other. */
static bool lay_columns(struct hbk_beside_page *page, bool pairs)
{
    page->pairs = pairs;
    set_columns(page, unit_width(page, pairs));
    const double space = staff_space(page);
    page->space = fmax(space, least_space);
    page->figure = INFINITY;
    page->figure = smallest_figure(page);
    return space >= least_space && page->figure >= least_figure - 1e-6;
}

bool hbk_beside_lay_systems(struct hbk_beside_page *page, size_t n)
{
    break_up(page, n);
    const bool fits = (unit_width(page, true) >= least_for_pairs * page->s &&
                       lay_columns(page, true)) ||
                      lay_columns(page, false);
    for (size_t i = 0; i < n; i++) {
        measure_staff(page, &page->systems[i]);
    }
    return fits;
}

/* Heights of what stands in a system, top to bottom. */
static double names_height(const struct hbk_beside_page *page)
{
    return (page->pairs ? 5.8 : 9.0) * fmax(page->s, 0.75);
}

static double staff_height(const struct hbk_beside_page *page,
                           const struct hbk_beside_system *system)
{
    return (system->above + 4.0 + system->below) * page->space + 2.4 * page->s;
}

static double row_here(const struct hbk_beside_page *page)
{
    return fmax(here_row * page->growth * page->s, 5.2);
}

static double row_known(const struct hbk_beside_page *page)
{
    return fmax(known_row * page->growth * page->s, 5.0);
}

static double sign_radius(const struct hbk_beside_page *page)
{
    return fmax(least_sign * page->s, least_sign);
}

static double row_signs(const struct hbk_beside_page *page)
{
    return page->has_sign ? 2.0 * sign_radius(page) + 2.2 * page->s : 0.0;
}

double hbk_beside_system_height(const struct hbk_beside_page *page,
                                const struct hbk_beside_system *system)
{
    return names_height(page) + staff_height(page, system) + row_here(page) +
           row_known(page) + row_signs(page) + below_system * page->s;
}

/* ---- Drawn ----------------------------------------------------------------
 */

static double centre_of(const struct hbk_beside_column *column)
{
    return column->x + 0.5 * column->width;
}

static double right_of(const struct hbk_beside_page *page,
                       const struct hbk_beside_system *system)
{
    const struct hbk_beside_column *last =
        &page->columns[system->first + system->n - 1];
    return last->x + last->width;
}

static void draw_tint(struct hbk_beside_page *page,
                      const struct hbk_beside_system *system, double tall)
{
    page->pad.group = 0;
    for (size_t i = 0; i < system->n; i++) {
        const struct hbk_beside_column *column =
            &page->columns[system->first + i];
        if (is_half(column)) {
            hbk_pad_panel(&page->pad, column->x, page->y, column->width, tall,
                          HBK_TINT);
        }
    }
}

/* Octaves are numbered at C and at the first note of a staff. */
static void draw_octave_name(struct hbk_beside_page *page,
                             const struct hbk_beside_column *column, double y,
                             struct hbk_style style, const char *name)
{
    struct hbk_pad *pad = &page->pad;
    char octave[16];
    (void)snprintf(octave, sizeof(octave), "%d",
                   hbk_note_sharp(column->read).octave);
    const struct hbk_style small =
        hbk_beside_style(page, HBK_FACE_PLAIN, octave_points, octave_points);
    const double gap = 0.3 * page->s;
    const double wide = hbk_pad_width(pad, style, name);
    const double with = wide + gap + hbk_pad_width(pad, small, octave);
    const double left = centre_of(column) - 0.5 * with;
    style.align = HBK_LEFT;
    hbk_pad_text(pad, left, y, style, name);
    hbk_pad_text(pad, left + wide + gap, y + 0.7 * page->s, small, octave);
}

static void draw_name(struct hbk_beside_page *page,
                      const struct hbk_beside_column *column, bool first)
{
    struct hbk_pad *pad = &page->pad;
    const enum hbk_naming naming = page->here->notation.naming;
    const double room = column->width - 0.5 * page->s;
    const double base = page->y + names_height(page) - 1.2 * page->s;
    char sharp[HBK_NAME_SIZE];
    char flat[HBK_NAME_SIZE];
    hbk_spelling_called(hbk_note_sharp(column->read), naming, HBK_UNICODE,
                        sharp);
    hbk_spelling_called(hbk_note_flat(column->read), naming, HBK_UNICODE, flat);
    struct hbk_style style = hbk_beside_style(
        page, HBK_FACE_BOLD, is_half(column) ? half_points : name_points,
        least_name);
    style.align = HBK_CENTRE;
    hbk_pad_group(pad);
    if (is_half(column) && page->pairs) {
        const char *const both =
            hbk_arena_printf(pad->sheet->arena, "%s %s", sharp, flat);
        hbk_pad_text(pad, centre_of(column), base,
                     hbk_pad_fit(pad, style, room, 0.7, both), both);
    } else if (is_half(column)) {
        const double step = 1.06 * style.size;
        hbk_pad_text(pad, centre_of(column), base - step,
                     hbk_pad_fit(pad, style, room, 0.7, sharp), sharp);
        hbk_pad_text(pad, centre_of(column), base,
                     hbk_pad_fit(pad, style, room, 0.7, flat), flat);
    } else {
        const double lift = page->pairs ? 0.0 : 0.45 * style.size;
        style = hbk_pad_fit(pad, style, room, 0.7, sharp);
        if (first || column->read % 12 == 0) {
            draw_octave_name(page, column, base - lift, style, sharp);
        } else {
            hbk_pad_text(pad, centre_of(column), base - lift, style, sharp);
        }
    }
}

static void draw_staff(struct hbk_beside_page *page,
                       const struct hbk_beside_system *system)
{
    struct hbk_pad *pad = &page->pad;
    const double left = page->columns[system->first].x - clef_room * page->s;
    const struct hbk_staff staff = {.clef = page->here->notation.clef,
                                    .x = left,
                                    .bottom =
                                        page->y + names_height(page) + page->s +
                                        (system->above + 4.0) * page->space,
                                    .width = right_of(page, system) - left,
                                    .space = page->space,
                                    .naming = page->here->notation.naming};
    hbk_pad_open_figure(
        pad,
        hbk_said_staff(pad->sheet->arena, page->here,
                       page->columns[system->first].written,
                       page->columns[system->first + system->n - 1].written));
    hbk_staff_lines(pad, &staff);
    hbk_staff_clef(pad, &staff);
    pad->group = 0; /* these touch the lines of the staff */
    for (int end = 0; end < 2; end++) {
        hbk_pad_line(pad, end == 0 ? left : left + staff.width,
                     staff.bottom - 4.0 * page->space, 0.0, 4.0 * page->space,
                     fmax(0.16 * page->s, 0.12));
    }
    for (size_t i = 0; i < system->n; i++) {
        const struct hbk_beside_column *column =
            &page->columns[system->first + i];
        const struct hbk_heads heads = heads_of(page, column);
        hbk_heads_draw(pad, &staff, centre_of(column), &heads);
    }
    hbk_pad_close(pad, HBK_TAG_FIGURE);
}

static void draw_rules(struct hbk_beside_page *page,
                       const struct hbk_beside_system *system, double y)
{
    const double s = page->s;
    const double right = right_of(page, system);
    const double tall = row_here(page) + row_known(page);
    const double fine = fmax(0.13 * s, 0.12);
    page->pad.group = 0;
    hbk_pad_add(&page->pad, (struct hbk_mark){.kind = HBK_LINE,
                                              .ink = HBK_GREY,
                                              .x = page->x,
                                              .y = y + row_here(page),
                                              .dx = right - page->x,
                                              .pen = fine});
    for (size_t i = 0; i <= system->n; i++) {
        const struct hbk_beside_column *column =
            i < system->n ? &page->columns[system->first + i] : NULL;
        const bool strong =
            i == 0 || (column != NULL && column->read % 12 == 0);
        hbk_pad_add(&page->pad,
                    (struct hbk_mark){.kind = HBK_LINE,
                                      .ink = strong ? HBK_BLACK : HBK_GREY,
                                      .x = column == NULL ? right : column->x,
                                      .y = y,
                                      .dy = tall,
                                      .pen = strong ? 0.5 * s : fine});
    }
    hbk_pad_line(&page->pad, page->x, y, right - page->x, 0.0, 0.42 * s);
    hbk_pad_line(&page->pad, page->x, y + tall, right - page->x, 0.0, 0.42 * s);
}

/* The name of a row; `brief` where there is no room for it. */
static void draw_label(struct hbk_beside_page *page, double middle,
                       enum hbk_face face, const char *text, const char *brief)
{
    const double room = (label_width - 1.5) * page->s;
    struct hbk_style style =
        hbk_beside_style(page, face, label_points, least_label);
    const double least = HBK_PT(least_label) / style.size;
    style = hbk_pad_fit(&page->pad, style, room, least, text);
    const char *const told =
        hbk_pad_width(&page->pad, style, text) > room ? brief : text;
    hbk_pad_group(&page->pad);
    hbk_pad_open(&page->pad, HBK_TAG_ARTIFACT);
    hbk_pad_text(&page->pad, page->x + 0.6 * page->s,
                 middle + 0.26 * style.size, style, told);
    hbk_pad_close(&page->pad, HBK_TAG_ARTIFACT);
}

/* A dot for another fingering, a ring for another finger, = for the same. */
static void draw_sign(struct hbk_beside_page *page,
                      const struct hbk_beside_column *column, double middle)
{
    struct hbk_pad *pad = &page->pad;
    const double radius = sign_radius(page);
    const double x = centre_of(column);
    if (column->what == page->unmarked) {
        return;
    }
    hbk_pad_group(pad);
    if (column->what == HBK_BESIDE_OTHER) {
        hbk_pad_disc(pad, x, middle, radius);
    } else if (column->what == HBK_BESIDE_FINGER) {
        const double pen = 0.3 * radius;
        hbk_pad_ring(pad, x, middle, radius - 0.5 * pen, pen);
    } else if (column->what == HBK_BESIDE_SAME) {
        struct hbk_style style =
            hbk_beside_style(page, HBK_FACE_BOLD, 14.0, 12.0);
        style.align = HBK_CENTRE;
        hbk_pad_text(pad, x, middle + 0.40 * style.size, style, "=");
    }
}

static void draw_number(struct hbk_beside_page *page,
                        const struct hbk_beside_column *column, double middle,
                        double points, const char *text)
{
    const struct hbk_style style = number_style(page, column, points, text);
    hbk_pad_group(&page->pad);
    hbk_pad_open(&page->pad, HBK_TAG_CELL);
    hbk_pad_read_as(&page->pad, strcmp(text, "0") == 0 ? "open" : NULL);
    hbk_pad_text(&page->pad, centre_of(column), middle + 0.36 * style.size,
                 style, text);
    hbk_pad_read_as(&page->pad, NULL);
    hbk_pad_close(&page->pad, HBK_TAG_CELL);
}

/* What the sign of a note says. */
static const char *const changes[] = {
    [HBK_BESIDE_NEITHER] = "on neither horn",
    [HBK_BESIDE_SAME] = "the same",
    [HBK_BESIDE_FINGER] = "the same numbers, another finger",
    [HBK_BESIDE_OTHER] = "a different fingering",
    [HBK_BESIDE_NEW] = "on this horn only",
    [HBK_BESIDE_LOST] = "not on this horn"};

void hbk_beside_system_draw(struct hbk_beside_page *page,
                            const struct hbk_beside_system *system)
{
    const double table =
        page->y + names_height(page) + staff_height(page, system);
    const double here = table + 0.5 * row_here(page);
    const double known = table + row_here(page) + 0.5 * row_known(page);
    static const char *const heads[] = {"Note", "This horn",
                                        "The horn you know", "Change"};
    const double sign =
        table + row_here(page) + row_known(page) + 0.5 * row_signs(page);
    draw_tint(page, system,
              names_height(page) + staff_height(page, system) + row_here(page) +
                  row_known(page) + row_signs(page));
    draw_staff(page, system);
    draw_rules(page, system, table);
    draw_label(page, here, HBK_FACE_CAPS, "This horn", "here");
    draw_label(page, known, HBK_FACE_ITALIC, "the horn you know", "you know");
    hbk_pad_open(&page->pad, HBK_TAG_TABLE);
    hbk_pad_open(&page->pad, HBK_TAG_ROW);
    for (size_t i = 0; i < sizeof(heads) / sizeof(heads[0]); i++) {
        hbk_pad_open(&page->pad, HBK_TAG_COLUMN);
        hbk_pad_say(&page->pad, page->x, here, heads[i]);
        hbk_pad_close(&page->pad, HBK_TAG_COLUMN);
    }
    hbk_pad_close(&page->pad, HBK_TAG_ROW);
    for (size_t i = 0; i < system->n; i++) {
        const struct hbk_beside_column *column =
            &page->columns[system->first + i];
        hbk_pad_open(&page->pad, HBK_TAG_ROW);
        hbk_said_open_name(&page->pad, page->here, column->written);
        draw_name(page, column, i == 0);
        hbk_said_close_name(&page->pad);
        draw_number(page, column, here, here_points, column->here);
        draw_number(page, column, known, known_points, column->known);
        hbk_pad_open(&page->pad, HBK_TAG_CELL);
        hbk_pad_say(&page->pad, centre_of(column), sign, changes[column->what]);
        hbk_pad_read_as(&page->pad, "");
        draw_sign(page, column, sign);
        hbk_pad_read_as(&page->pad, NULL);
        hbk_pad_close(&page->pad, HBK_TAG_CELL);
        hbk_pad_close(&page->pad, HBK_TAG_ROW);
    }
    hbk_pad_close(&page->pad, HBK_TAG_TABLE);
}
