#include "sheet/block/cells.h"

#include "horn/about.h"
#include "horn/press.h"
#include "sheet/block/dot.h"

#include <math.h>

/* Radius of a disc, of its row and of its part of the column. */
static const double of_row = 0.46;
static const double of_column = 0.47;

/* Of a ringed number, likewise: a second ring must have its place. */
static const double name_of_row = 0.37;
static const double name_of_column = 0.38;

/* A small ring beside a disc: its share, and its least and largest radius. */
static const double free_share = 1.0 / 3.0;
static const double free_least = 0.6;
static const double free_most = 1.1;

enum { FINGERS = 5 };

/* Controls whose usual finger it is. */
static size_t count_of(const struct hbk_horn *horn, bool left, int digit)
{
    size_t n = 0;
    for (size_t i = 0; i < hbk_horn_n_controls(horn); i++) {
        const enum hbk_finger finger = hbk_horn_control(horn, i)->fingers[0];
        n += hbk_finger_is_left(finger) == left &&
                     hbk_finger_digit(finger) == digit
                 ? 1
                 : 0;
    }
    return n;
}

static void find_hands(struct hbk_cells *cells, size_t pair)
{
    for (int right = 0; right < 2; right++) {
        size_t most = 0;
        for (int digit = 0; digit < FINGERS; digit++) {
            const size_t n = count_of(cells->horn, right == 0, digit);
            most = n > most ? n : most;
        }
        if (most > 0) {
            cells->left[cells->n_hands] = right == 0;
            cells->abreast[cells->n_hands++] = most < pair ? most : pair;
        }
    }
}

/* The controls of one finger of one hand, from the first of its rows down. */
static void place_finger(struct hbk_cells *cells, size_t hand, int digit,
                         size_t first_row, size_t pair)
{
    const size_t all = count_of(cells->horn, cells->left[hand], digit);
    size_t done = 0;
    for (size_t i = 0; i < hbk_horn_n_controls(cells->horn); i++) {
        const enum hbk_finger finger =
            hbk_horn_control(cells->horn, i)->fingers[0];
        if (hbk_finger_is_left(finger) != cells->left[hand] ||
            hbk_finger_digit(finger) != digit) {
            continue;
        }
        const size_t line = done / pair;
        const size_t left = all - line * pair;
        cells->spots[cells->n++] =
            (struct hbk_cell_spot){.control = i,
                                   .row = first_row + line,
                                   .hand = hand,
                                   .place = done % pair,
                                   .of = left < pair ? left : pair};
        done++;
    }
}

static void arrange(struct hbk_cells *cells, size_t pair)
{
    find_hands(cells, pair);
    for (int digit = 0; digit < FINGERS; digit++) {
        size_t most = 0;
        for (size_t hand = 0; hand < cells->n_hands; hand++) {
            const size_t n = count_of(cells->horn, cells->left[hand], digit);
            most = n > most ? n : most;
            place_finger(cells, hand, digit, cells->n_rows, pair);
        }
        for (size_t n = 0; n < most; n += pair) {
            cells->digits[cells->n_rows++] = digit;
        }
    }
}

void hbk_cells_arrange(const struct hbk_horn *horn, uint32_t stuck,
                       struct hbk_cells *cells)
{
    size_t pair = HBK_CELLS_ABREAST;
    do {
        *cells = (struct hbk_cells){.horn = horn, .stuck = stuck};
        arrange(cells, pair++);
    } while (cells->n_rows > HBK_CELLS_ROWS &&
             pair <= hbk_horn_n_controls(horn));
}

const char *hbk_cells_finger(const struct hbk_cells *cells, size_t row)
{
    const int digit = cells->digits[row];
    return row > 0 && cells->digits[row - 1] == digit ? ""
                                                      : hbk_digit_name(digit);
}

size_t hbk_cells_across(const struct hbk_cells *cells)
{
    return cells->abreast[0] + cells->abreast[1];
}

struct hbk_cells_size hbk_cells_least(const struct hbk_cells *cells,
                                      double radius)
{
    return (struct hbk_cells_size){.width = radius / of_column *
                                            (double)hbk_cells_across(cells),
                                   .row = radius / of_row,
                                   .most = radius};
}

/* Width that one control has. */
static double column_of(const struct hbk_cells *cells,
                        const struct hbk_cells_size *size)
{
    const size_t across = hbk_cells_across(cells);
    return across == 0 ? size->width : size->width / (double)across;
}

double hbk_cells_radius(const struct hbk_cells *cells,
                        const struct hbk_cells_size *size)
{
    const double radius =
        fmin(of_row * size->row, of_column * column_of(cells, size));
    return size->most > 0.0 ? fmin(radius, size->most) : radius;
}

/* Of the small rings. */
static double free_radius(double radius)
{
    return fmin(fmax(free_share * radius, free_least), free_most);
}

double hbk_cells_height(const struct hbk_cells *cells,
                        const struct hbk_cells_size *size)
{
    return size->row * (double)cells->n_rows;
}

double hbk_cells_hand(const struct hbk_cells *cells,
                      const struct hbk_cells_size *size, size_t hand)
{
    return hand == 0 ? 0.0 : column_of(cells, size) * (double)cells->abreast[0];
}

struct hbk_point hbk_cells_at(const struct hbk_cells *cells,
                              const struct hbk_cells_size *size, size_t spot)
{
    const struct hbk_cell_spot *of = &cells->spots[spot];
    const double wide =
        column_of(cells, size) * (double)cells->abreast[of->hand];
    return (struct hbk_point){hbk_cells_hand(cells, size, of->hand) +
                                  wide * ((double)of->place + 0.5) /
                                      (double)of->of,
                              size->row * ((double)of->row + 0.5)};
}

void hbk_cells_draw(struct hbk_pad *pad, const struct hbk_cells *cells,
                    const struct hbk_cells_size *size, struct hbk_point at,
                    uint32_t press, bool doubtful)
{
    const double radius = hbk_cells_radius(cells, size);
    hbk_pad_group(pad);
    for (size_t i = 0; i < cells->n; i++) {
        const size_t control = cells->spots[i].control;
        const struct hbk_point spot = hbk_cells_at(cells, size, i);
        char label[HBK_LABEL_SIZE];
        const struct hbk_dot dot = {
            at.x + spot.x, at.y + spot.y, radius,
            hbk_horn_control_label(cells->horn, control, label, sizeof(label))};
        if ((press >> control & 1u) == 0) {
            hbk_dot_free(pad, dot.x, dot.y, free_radius(radius));
        } else if (doubtful) {
            hbk_dot_doubtful(pad, &dot);
        } else {
            hbk_dot_pressed(pad, &dot);
        }
        if ((cells->stuck >> control & 1u) != 0) {
            hbk_dot_cross(pad, dot.x, dot.y, 0.6 * radius);
        }
    }
}

void hbk_cells_letters(struct hbk_pad *pad, const struct hbk_cells *cells,
                       const struct hbk_cells_size *size, double x, double y,
                       struct hbk_style style)
{
    style.align = HBK_CENTRE;
    hbk_pad_group(pad);
    for (size_t hand = 0; hand < cells->n_hands; hand++) {
        const double end = hand + 1 < cells->n_hands
                               ? hbk_cells_hand(cells, size, hand + 1)
                               : size->width;
        hbk_pad_text(pad, x + 0.5 * (hbk_cells_hand(cells, size, hand) + end),
                     y, style, cells->left[hand] ? "L" : "R");
    }
}

double hbk_cells_words(const struct hbk_pad *pad, const struct hbk_cells *cells,
                       struct hbk_style style)
{
    double widest = 0.0;
    for (size_t row = 0; row < cells->n_rows; row++) {
        widest = fmax(widest,
                      hbk_pad_width(pad, style, hbk_cells_finger(cells, row)));
    }
    return widest + 0.35 * style.size;
}

void hbk_cells_map(struct hbk_pad *pad, const struct hbk_cells *cells,
                   const struct hbk_cells_map *map, double x, double y)
{
    hbk_pad_group(pad);
    for (size_t row = 0; row < cells->n_rows; row++) {
        /* Between the tops of tall letters and what hangs below the line. */
        hbk_pad_text(pad, x,
                     y + map->size.row * ((double)row + 0.5) +
                         0.25 * map->style.size,
                     map->style, hbk_cells_finger(cells, row));
    }
    const double radius = fmin(name_of_row * map->size.row,
                               name_of_column * column_of(cells, &map->size));
    for (size_t i = 0; i < cells->n; i++) {
        const size_t control = cells->spots[i].control;
        const struct hbk_point spot = hbk_cells_at(cells, &map->size, i);
        char label[HBK_LABEL_SIZE];
        const struct hbk_dot dot = {
            x + map->words + spot.x, y + spot.y,
            map->size.most > 0.0 ? fmin(radius, map->size.most) : radius,
            hbk_horn_control_label(cells->horn, control, label, sizeof(label))};
        hbk_dot_name(pad, &dot,
                     hbk_horn_control(cells->horn, control)->stands_open);
        if ((cells->stuck >> control & 1u) != 0) {
            hbk_dot_cross(pad, dot.x, dot.y, dot.radius);
        }
    }
}
