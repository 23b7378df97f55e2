#include "sheet/chart/plate_columns.h"

#include "engrave/staff.h"
#include "sheet/chart/gamut.h"

#include <math.h>

/* At unit 1, mm. */
static const double half_tone = 1.5; /* of a natural, with both names */
static const double least_for_pairs = 6.7;
static const double least_column = 5.1;
static const double least_column_with_cents = 5.3;
static const double widest_space = 1.9;
static const double widest_space_alone = 2.6; /* without a table */

/* No number is smaller, points. */
static const double least_figure = 10.0;

/* Where the columns of a system stand, and how wide they are. */
static void set_columns(struct hbk_plate *plate,
                        const struct hbk_plate_system *system)
{
    double units = 0.0;
    for (size_t i = 0; i < system->n; i++) {
        const bool wide =
            plate->pairs && plate->columns[system->first + i].is_half;
        units += wide ? half_tone : 1.0;
    }
    double x = HBK_PLATE_MARGIN * plate->s + plate->label;
    const double room = plate->paper.width - x -
                        (HBK_PLATE_MARGIN + HBK_PLATE_NUMBERS) * plate->s;
    /* A short system does not spread its columns out. */
    double step = room / units;
    if (system->first == 0) {
        plate->unit_width = step;
    }
    step = fmin(step, 1.3 * plate->unit_width);
    for (size_t i = 0; i < system->n; i++) {
        struct hbk_plate_column *column = &plate->columns[system->first + i];
        column->x = x;
        column->width =
            step * (plate->pairs && column->is_half ? half_tone : 1.0);
        x += column->width;
    }
}

static double narrowest(const struct hbk_plate *plate, bool pairs)
{
    double units = 0.0;
    for (size_t i = 0; i < plate->n; i++) {
        units += pairs && plate->columns[i].is_half ? half_tone : 1.0;
    }
    const double room =
        plate->paper.width -
        (2.0 * HBK_PLATE_MARGIN + HBK_PLATE_NUMBERS) * plate->s - plate->label;
    return room / units;
}

/* Breaks at the C that divides the columns most evenly. */
static void break_at_c(struct hbk_plate *plate)
{
    size_t best = 0;
    for (size_t i = 1; i < plate->n; i++) {
        const double off = fabs((double)i - 0.5 * (double)plate->n);
        if (plate->columns[i].is_c &&
            (best == 0 || off < fabs((double)best - 0.5 * (double)plate->n))) {
            best = i;
        }
    }
    best = best == 0 ? (plate->n + 1) / 2 : best;
    plate->n_systems = 2;
    plate->systems[0] = (struct hbk_plate_system){.first = 0, .n = best};
    plate->systems[1] =
        (struct hbk_plate_system){.first = best, .n = plate->n - best};
}

static void measure_staff(struct hbk_plate *plate,
                          struct hbk_plate_system *system)
{
    const enum hbk_clef clef = plate->notes->notation.clef;
    hbk_clef_reach(clef, &system->staff_above, &system->staff_below);
    for (size_t i = 0; i < system->n; i++) {
        struct hbk_heads heads =
            hbk_heads_of(plate->columns[system->first + i].read);
        heads.n = plate->pairs ? heads.n : 1;
        double above = 0.0;
        double below = 0.0;
        hbk_heads_reach(clef, &heads, &above, &below);
        system->staff_above = fmax(system->staff_above, above);
        system->staff_below = fmax(system->staff_below, below);
    }
}

/* Whether the numbers of the naturals can be read in columns so wide. */
static bool figures_fit(const struct hbk_plate *plate, double width)
{
    const struct hbk_style style =
        hbk_style_of(HBK_FACE_FIGURE, least_figure, plate->s, HBK_CENTRE);
    for (size_t i = 0; i < plate->n; i++) {
        const struct hbk_plate_column *column = &plate->columns[i];
        const struct hbk_fingering *first = hbk_plate_other(plate, column, 0);
        if (first == NULL || column->is_half) {
            continue;
        }
        const char *text =
            hbk_gamut_label(plate->pad.sheet->arena, plate->notes, first);
        const struct hbk_style fit = hbk_plate_fit(
            &plate->pad, style, width - 0.7 * plate->s, 0.5, &text);
        if (fit.size < style.size - 1e-6) {
            return false;
        }
    }
    return true;
}

/* Columns, staves and the size of their staff. */
static void place_systems(struct hbk_plate *plate)
{
    const double s = plate->s;
    double least = 1e9;
    for (size_t i = 0; i < plate->n_systems; i++) {
        set_columns(plate, &plate->systems[i]);
        measure_staff(plate, &plate->systems[i]);
        least = fmin(least, plate->columns[plate->systems[i].first].width);
    }
    for (size_t i = 0; i < plate->n; i++) {
        least = fmin(least, plate->columns[i].width);
    }
    plate->space =
        fmin((plate->n_rows > 0 ? widest_space : widest_space_alone) * s,
             plate->pairs ? least * half_tone / 7.0 : least / 3.75);
}

void hbk_plate_place(struct hbk_plate *plate)
{
    const double s = plate->s;
    plate->n_systems = 1;
    plate->systems[0] = (struct hbk_plate_system){.first = 0, .n = plate->n};
    plate->pairs = narrowest(plate, true) >= least_for_pairs * s &&
                   figures_fit(plate, narrowest(plate, true));
    const double least_width =
        plate->is_every ? least_column_with_cents : least_column;
    if (!plate->pairs && narrowest(plate, false) < least_width * s) {
        break_at_c(plate);
    }
    place_systems(plate);
}

void hbk_plate_turn(struct hbk_plate *plate)
{
    plate->n_rows = 0;
    plate->row_height = 0.0;
    plate->has_slide = false;
    plate->air = 0.0;
    break_at_c(plate);
    plate->pairs = false; /* all columns alike, for the longest */
    place_systems(plate);
}

size_t hbk_plate_lines(const struct hbk_plate *plate,
                       const struct hbk_plate_system *system)
{
    size_t lines = 0;
    for (size_t i = 0; i < system->n; i++) {
        const size_t n = plate->columns[system->first + i].note->n;
        lines = n > lines + 1 ? n - 1 : lines;
    }
    return lines;
}
