#include "sheet/chart/plate_plan.h"

#include "sheet/block/heading.h"
#include "sheet/chart/plate_columns.h"
#include "sheet/chart/plate_words.h"

#include <math.h>

/* Heights of rows: as they should be, and what may be made of them. */
static const double tall_row = 8.2;
static const double tall_row_of_few = 10.0;
static const double good_row = 5.0;
static const double least_row = 3.65;

static const double most_growth = 1.34;
static const double title_top = 14.0;

static double title_height(const struct hbk_plate *plate)
{
    return (title_top + 20.0 + 4.6 * (double)plate->set.n) * plate->s;
}

/* What a system takes but for the rows of its table. */
static double system_height(const struct hbk_plate *plate,
                            const struct hbk_plate_system *system)
{
    return hbk_plate_names_height(plate) +
           hbk_plate_staff_height(plate, system) +
           hbk_plate_figure_height(plate) + hbk_plate_below_height(plate);
}

/* What is left for the rows of all tables of a page. */
static double room_for_rows(const struct hbk_plate *plate)
{
    double used =
        title_height(plate) + hbk_instrument_above(&plate->instrument) +
        hbk_instrument_below(&plate->instrument) + 2.0 * plate->s +
        hbk_plate_foot_height(plate) + (HBK_PLATE_FRAME + 3.0) * plate->s;
    for (size_t i = 0; i < plate->with_tube; i++) {
        used += system_height(plate, &plate->systems[i]);
    }
    return plate->paper.height - used;
}

/* The same on a page without the instrument, which has one table. */
static double room_on_further_page(const struct hbk_plate *plate)
{
    double tallest = 0.0;
    for (size_t i = plate->with_tube; i < plate->n_systems; i++) {
        tallest = fmax(tallest, system_height(plate, &plate->systems[i]));
    }
    return plate->paper.height -
           (HBK_PLATE_MARGIN + HBK_PLATE_FRAME + 3.0) * plate->s -
           hbk_running_head_height(plate->s) - hbk_plate_foot_height(plate) -
           tallest;
}

static double room_for_each_table(const struct hbk_plate *plate)
{
    double room = 1e9;
    if (plate->with_tube > 0) {
        room = room_for_rows(plate) / (double)plate->with_tube;
    } else if (room_for_rows(plate) < 0.0) {
        return -1.0;
    }
    if (plate->with_tube < plate->n_systems) {
        room = fmin(room, room_on_further_page(plate));
    }
    return room;
}

/* Whether rows of that height fit with so many lines of other fingerings. */
static bool try_rows(struct hbk_plate *plate, size_t others, double least)
{
    plate->others = others;
    const double room = room_for_each_table(plate);
    if (plate->n_rows == 0) {
        plate->row_height = 0.0;
        return room >= 0.0;
    }
    const double most =
        (plate->n_rows <= 3 ? tall_row_of_few : tall_row) * plate->s;
    plate->row_height = fmin(most, room / (double)plate->n_rows);
    return plate->row_height >= least * plate->s;
}

/* The most lines of other fingerings that some note could fill. */
static size_t lines_wanted(const struct hbk_plate *plate, size_t most)
{
    size_t wanted = 0;
    for (size_t i = 0; i < plate->n; i++) {
        size_t k = 0;
        while (k < most &&
               hbk_plate_other(plate, &plate->columns[i], k + 1) != NULL) {
            k++;
        }
        wanted = k > wanted ? k : wanted;
    }
    return wanted;
}

/* Every other fingering stands below the table, or else overleaf. */
static bool try_every(struct hbk_plate *plate)
{
    if (!plate->is_every) {
        return false;
    }
    plate->every_line = lines_wanted(plate, SIZE_MAX);
    if (try_rows(plate, plate->every_line, good_row)) {
        return true;
    }
    plate->overleaf = plate->every_line > 0;
    /* What explains them goes overleaf too. */
    plate->others = 0;
    hbk_plate_words(plate);
    return false;
}

/* What is given up, in this order. */
static void give_up(struct hbk_plate *plate)
{
    if (try_every(plate)) {
        return;
    }
    const size_t most =
        plate->is_every ? 0 : lines_wanted(plate, plate->s > 1.2 ? 3 : 2);
    for (size_t others = most + 1; others-- > 0;) {
        if (try_rows(plate, others, others > 1 ? good_row : least_row)) {
            return;
        }
    }
    /* What is known of the horn on a further page; then each system. */
    plate->known_apart = true;
    for (size_t with_tube = plate->n_systems + 1; with_tube-- > 0;) {
        plate->with_tube = with_tube;
        for (size_t others = most + 1; others-- > 0;) {
            if (try_rows(plate, others, least_row)) {
                return;
            }
        }
    }
    plate->row_height = least_row * plate->s;
}

/* What is left over: the instrument grows, then air above the names. */
static void share_rest(struct hbk_plate *plate)
{
    const size_t tables = plate->with_tube;
    const double rows = plate->row_height * (double)(tables * plate->n_rows);
    const double left = fmax(0.0, room_for_rows(plate) - rows);
    const double tall = hbk_instrument_above(&plate->instrument) +
                        hbk_instrument_below(&plate->instrument);
    plate->instrument.growth =
        fmin(most_growth, 1.0 + 0.62 * left / fmax(tall, 1.0));
    while (plate->instrument.growth > 1.0 && room_for_rows(plate) < rows) {
        plate->instrument.growth = fmax(1.0, plate->instrument.growth - 0.02);
    }
    plate->air = tables == 0 ? 0.0
                             : 0.5 * fmax(0.0, room_for_rows(plate) - rows) /
                                   (double)tables;
}

void hbk_plate_choose(struct hbk_plate *plate)
{
    const double s = plate->s;
    const double x = (HBK_PLATE_MARGIN + HBK_INSTRUMENT_MOUTHPIECE + 1.0) * s;
    plate->instrument = (struct hbk_instrument){
        .notes = plate->notes,
        .unit = s,
        .growth = 1.0,
        .x = x,
        .width = plate->paper.width - x - (HBK_PLATE_MARGIN + 3.0) * s};
    hbk_plate_place(plate);
    plate->with_tube = plate->n_systems;
    plate->others = lines_wanted(plate, plate->is_every  ? SIZE_MAX
                                        : plate->s > 1.2 ? 3
                                                         : 2);
    hbk_plate_words(plate);
    give_up(plate);
    share_rest(plate);
}
