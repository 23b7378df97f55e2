#include "fit/trouble_player.h"

#include "fit/parameters.h"
#include "fit/trouble_priors.h"

#include <math.h>

/* How far off a slip may be, one standard deviation. */
static const double slip_cents = 100.0;

/* Errors, with pitch and slope in them, that a curve has; beyond, its ends. */
static const double curve_step = 0.5;
static const double curve_most = 699.0;
enum { CURVE_SIZE = 2801, CURVE_MIDDLE = CURVE_SIZE / 2 };

static const double pitch_most = 150.0;
static const double slope_most = 3.5 * HBK_FIT_SLOPE_CENTS;
/* The grid: no coarser, and no finer whatever the page tells. */
static const double step_most = 3.0;
static const double step_least = 1.0;
/* Of what the page tells, so many standard deviations from point to point. */
static const double step_sd = 2.0;

/* Less likely than the likeliest by that, logarithms, adds nothing. */
static const double negligible = 16.0;

/* The logarithm of the density of an error, or of a slip. */
static double log_density(double error, double sd)
{
    const double log_root_turn = 0.91893853320467274; /* ln(2 pi) / 2 */
    const double z = error / sd;
    const double s = error / slip_cents;
    const double sound = exp(-0.5 * z * z) * (1.0 - HBK_TROUBLE_SLIP) / sd;
    const double slip = exp(-0.5 * s * s) * HBK_TROUBLE_SLIP / slip_cents;
    return log(sound + slip) - log_root_turn;
}

static const double *draw_curve(double sd, struct hbk_arena *arena)
{
    double *const curve = HBK_ARENA_ARRAY(arena, double, CURVE_SIZE);
    for (int k = 0; k < CURVE_SIZE; k++) {
        curve[k] = log_density(curve_step * (k - CURVE_MIDDLE), sd);
    }
    return curve;
}

/* Readings that are as uncertain share a curve. */
static const double *const *draw_curves(size_t n, const double sd[],
                                        struct hbk_arena *arena)
{
    const double **const curves = HBK_ARENA_ARRAY(arena, const double *, n);
    for (size_t i = 0; i < n; i++) {
        for (size_t k = 0; k < i && curves[i] == NULL; k++) {
            curves[i] = sd[k] == sd[i] ? curves[k] : NULL;
        }
        if (curves[i] == NULL) {
            curves[i] = draw_curve(sd[i], arena);
        }
    }
    return curves;
}

/* The density of a normal distribution about 0. */
static double normal(double value, double sd)
{
    const double root_turn = 2.5066282746310002; /* sqrt(2 pi) */
    const double z = value / sd;
    return exp(-0.5 * z * z) / (root_turn * sd);
}

static double pitch_density(double pitch)
{
    const double far = 1.0 / (2.0 * pitch_most);
    return ((1.0 - HBK_TROUBLE_ASTRAY) *
            normal(pitch, HBK_TROUBLE_PITCH_CENTS)) +
           (HBK_TROUBLE_ASTRAY * far);
}

static double slope_density(double slope)
{
    return normal(slope, HBK_FIT_SLOPE_CENTS);
}

static double value_at(const struct hbk_trouble_grid *grid, size_t k)
{
    return grid->step * ((double)k - (0.5 * (double)(grid->n - 1)));
}

/* told_sd: how closely the page tells the amount, all else known. */
static struct hbk_trouble_grid grid_of(double most, double told_sd,
                                       double (*density)(double),
                                       struct hbk_arena *arena)
{
    const double step = fmin(fmax(step_sd * told_sd, step_least), step_most);
    struct hbk_trouble_grid grid = {
        .n = (2 * (size_t)(most / step)) + 1,
        .step = step,
    };
    double *const log_prior = HBK_ARENA_ARRAY(arena, double, grid.n);
    for (size_t k = 0; k < grid.n; k++) {
        log_prior[k] = log(step * density(value_at(&grid, k)));
    }
    grid.log_prior = log_prior;
    return grid;
}

struct hbk_trouble_player hbk_trouble_player_of(size_t n,
                                                const double octaves[],
                                                const double sd[],
                                                struct hbk_arena *arena)
{
    double *const most_left = HBK_ARENA_ARRAY(arena, double, n + 1);
    double of_pitch = 0.0;
    double of_slope = 0.0;
    for (size_t i = n; i-- > 0;) {
        most_left[i] = most_left[i + 1] + log_density(0.0, sd[i]);
        of_pitch += 1.0 / (sd[i] * sd[i]);
        of_slope += octaves[i] * octaves[i] / (sd[i] * sd[i]);
    }
    return (struct hbk_trouble_player){
        .n = n,
        .octaves = octaves,
        .curves = draw_curves(n, sd, arena),
        .most_left = most_left,
        .pitch =
            grid_of(pitch_most, 1.0 / sqrt(of_pitch), pitch_density, arena),
        .slope =
            grid_of(slope_most, 1.0 / sqrt(of_slope), slope_density, arena),
    };
}

/* Where a curve has an error; any pitch may be added to it. */
static double place_of(double error)
{
    const double most = curve_most - pitch_most;
    return (fmin(fmax(error, -most), most) / curve_step) + CURVE_MIDDLE;
}

/* What a curve has at a place between two of its points. */
static double read_off(const double curve[], double place)
{
    const int k = (int)place;
    return curve[k] + ((place - k) * (curve[k + 1] - curve[k]));
}

/*
 * Of all readings at one pitch and one slope. places: of the errors without
 * the pitch, on their curves. Below `least` it need not be known, and is
 * -INFINITY.
 */
static double log_page(const struct hbk_trouble_player *player,
                       const double places[], double pitch, double log_prior,
                       double least)
{
    const double shift = pitch / curve_step;
    double sum = log_prior;
    for (size_t i = 0; i < player->n; i++) {
        if (sum + player->most_left[i] < least) {
            return -INFINITY;
        }
        sum += read_off(player->curves[i], places[i] - shift);
    }
    return sum;
}

/* Adds up exp(log) of many, whose greatest may be below what exp() knows. */
struct log_sum {
    double most, sum;
};

static void add_log(struct log_sum *total, double log_value)
{
    if (log_value > total->most) {
        total->sum = (total->sum * exp(total->most - log_value)) + 1.0;
        total->most = log_value;
    } else {
        total->sum += exp(log_value - total->most);
    }
}

bool hbk_trouble_player_ask(const struct hbk_trouble_player *player,
                            const double errors[],
                            struct hbk_trouble_played *best,
                            double *log_likelihood)
{
    struct hbk_arena scratch = {0};
    double *const places = HBK_ARENA_ARRAY(&scratch, double, player->n);
    struct log_sum total = {.most = -INFINITY};
    const double before = best->log_most;
    for (size_t s = 0; s < player->slope.n; s++) {
        const double slope = value_at(&player->slope, s);
        for (size_t i = 0; i < player->n; i++) {
            places[i] = place_of(errors[i] - (slope * player->octaves[i]));
        }
        for (size_t p = 0; p < player->pitch.n; p++) {
            const double pitch = value_at(&player->pitch, p);
            const double here = log_page(player, places, pitch,
                                         player->slope.log_prior[s] +
                                             player->pitch.log_prior[p],
                                         best->log_most - negligible);
            if (isinf(here)) {
                continue;
            }
            add_log(&total, here);
            if (here > best->log_most) {
                *best = (struct hbk_trouble_played){here, pitch, slope};
            }
        }
    }
    hbk_arena_finish(&scratch);
    *log_likelihood = total.most + (total.sum > 0.0 ? log(total.sum) : 0.0);
    return best->log_most > before;
}
