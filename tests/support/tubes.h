#ifndef HBK_TESTS_TUBES_H
#define HBK_TESTS_TUBES_H

#include "acoustics/chain.h"
#include "acoustics/profile.h"

#include "support/air.h"
#include "support/scan.h"

/*
 * Air columns whose resonances are known from outside the project, for the
 * tests of the chain and of the walk. Every builder takes the arena that the
 * chain then lives in.
 */
typedef struct hbk_chain tube_builder(struct hbk_arena *arena);

static inline struct hbk_chain plane_chain(struct hbk_arena *arena,
                                           enum hbk_bell bell)
{
    return (struct hbk_chain){
        .arena = arena, .fronts = HBK_FRONTS_PLANE, .bell = bell};
}

static inline struct hbk_chain one_tube(struct hbk_arena *arena,
                                        enum hbk_bell bell, double length_m,
                                        double near_m, double far_m)
{
    struct hbk_chain chain = plane_chain(arena, bell);
    hbk_chain_add_tube(&chain, (struct hbk_tube){length_m, near_m, far_m});
    return chain;
}

static inline struct hbk_chain cylinder_1m(struct hbk_arena *arena)
{
    return one_tube(arena, HBK_BELL_UNFLANGED, 1.0, 0.008, 0.008);
}

static inline struct hbk_chain cylinder_2m(struct hbk_arena *arena)
{
    return one_tube(arena, HBK_BELL_UNFLANGED, 2.0, 0.006, 0.006);
}

static inline struct hbk_chain cylinder_flanged(struct hbk_arena *arena)
{
    return one_tube(arena, HBK_BELL_FLANGED, 1.0, 0.008, 0.008);
}

static inline struct hbk_chain cone_near_complete(struct hbk_arena *arena)
{
    return one_tube(arena, HBK_BELL_UNFLANGED, 2.4, 0.0005, 0.05);
}

static inline struct hbk_chain cone_narrow(struct hbk_arena *arena)
{
    return one_tube(arena, HBK_BELL_UNFLANGED, 1.2, 0.006, 0.04);
}

static inline struct hbk_chain cone_wide(struct hbk_arena *arena)
{
    return one_tube(arena, HBK_BELL_UNFLANGED, 2.4, 0.006, 0.1);
}

/* A cylinder 1 m by 10 mm with one hole at 0.7 m: site 0. */
static inline struct hbk_chain one_hole(struct hbk_arena *arena,
                                        enum hbk_bell bell,
                                        const struct hbk_side_hole *hole)
{
    struct hbk_chain chain = plane_chain(arena, bell);
    hbk_chain_add_tube(&chain, (struct hbk_tube){0.7, 0.01, 0.01});
    hbk_chain_add_hole(&chain, 0, hole);
    hbk_chain_add_tube(&chain, (struct hbk_tube){0.3, 0.01, 0.01});
    return chain;
}

static inline struct hbk_chain cylinder_hole(struct hbk_arena *arena)
{
    const struct hbk_side_hole hole = {
        .radius_m = 0.007, .chimney_m = 0.0092, .rim = HBK_RIM_WIDE};
    return one_hole(arena, HBK_BELL_UNFLANGED, &hole);
}

static inline struct hbk_chain cylinder_padded(struct hbk_arena *arena)
{
    const struct hbk_side_hole hole = {.radius_m = 0.007,
                                       .chimney_m = 0.0092,
                                       .wall_m = 0.0005,
                                       .pad_radius_m = 0.009,
                                       .pad_lift_m = 0.005,
                                       .rim = HBK_RIM_WIDE};
    return one_hole(arena, HBK_BELL_UNFLANGED, &hole);
}

static inline struct hbk_chain cylinder_wall_hole(struct hbk_arena *arena)
{
    const struct hbk_side_hole hole = {
        .radius_m = 0.007, .chimney_m = 0.0092, .rim = HBK_RIM_CYLINDER};
    return one_hole(arena, HBK_BELL_UNFLANGED, &hole);
}

static inline struct hbk_chain cylinder_collar(struct hbk_arena *arena)
{
    const struct hbk_side_hole hole = {.radius_m = 0.007,
                                       .chimney_m = 0.0092,
                                       .wall_m = 0.002,
                                       .rim = HBK_RIM_THIN};
    return one_hole(arena, HBK_BELL_UNFLANGED, &hole);
}

static inline struct hbk_chain cylinder_plain_hole(struct hbk_arena *arena)
{
    const struct hbk_side_hole hole = {
        .radius_m = 0.007, .chimney_m = 0.0092, .plain = true};
    return one_hole(arena, HBK_BELL_IDEAL, &hole);
}

/* Three holes in the narrow cone: sites 0 to 2 from the mouthpiece. */
static inline struct hbk_chain cone_holes(struct hbk_arena *arena)
{
    static const double at_m[] = {0.0, 0.80, 0.95, 1.08, 1.2};
    static const double radius_m[] = {0.009, 0.011, 0.013};
    struct hbk_chain chain = plane_chain(arena, HBK_BELL_UNFLANGED);
    const double slope = 0.034 / 1.2;
    for (unsigned i = 0; i < 4; i++) {
        hbk_chain_add_tube(&chain,
                           (struct hbk_tube){at_m[i + 1] - at_m[i],
                                             0.006 + (slope * at_m[i]),
                                             0.006 + (slope * at_m[i + 1])});
        if (i < 3) {
            const struct hbk_side_hole hole = {.radius_m = radius_m[i],
                                               .chimney_m = 0.004,
                                               .rim = HBK_RIM_WIDE};
            hbk_chain_add_hole(&chain, i, &hole);
        }
    }
    return chain;
}

/* Trumpet bell section measured by Kemp 2002, thesis Edinburgh, table 4.1. */
static inline struct hbk_chain trumpet_bell(struct hbk_arena *arena)
{
    static const double z_cm[] = {0,     0.2,   0.7,  7.0,  11.02, 11.87,
                                  16.21, 20.73, 25.0, 29.7, 34.5,  36.9,
                                  39.0,  42.5,  45.4, 48.2, 49.7,  50.4};
    static const double r_mm[] = {6.8,  6.5,  6.5,  6.5,   6.5,  6.72,
                                  7.32, 8.25, 9.12, 10.07, 11.7, 12.7,
                                  13.7, 16.2, 19.8, 32.7,  47.5, 64.5};
    struct hbk_profile_point points[18];
    for (size_t i = 0; i < 18; i++) {
        points[i] =
            (struct hbk_profile_point){z_cm[i] / 100.0, r_mm[i] / 1000.0};
    }
    struct hbk_chain chain = plane_chain(arena, HBK_BELL_UNFLANGED);
    hbk_chain_add_profile(&chain, 18, points);
    return chain;
}

static inline struct hbk_chain cylinder_cup(struct hbk_arena *arena)
{
    const struct hbk_mouthpiece_bore mouthpiece = {.volume_m3 = 1.5e-6,
                                                   .throat_length_m = 0.02,
                                                   .throat_radius_m = 0.0019};
    struct hbk_chain chain = plane_chain(arena, HBK_BELL_UNFLANGED);
    hbk_chain_add_mouthpiece(&chain, &mouthpiece);
    hbk_chain_add_tube(&chain, (struct hbk_tube){2.0, 0.006, 0.006});
    return chain;
}

/* The same with spherical fronts. */
static inline struct hbk_chain trumpet_bell_spherical(struct hbk_arena *arena)
{
    struct hbk_chain chain = trumpet_bell(arena);
    chain.fronts = HBK_FRONTS_SPHERICAL;
    hbk_chain_find_cup(&chain);
    return chain;
}

/* An invented trumpet whose stations begin with a cup like a bowl. */
static const double BOWL_MM[][2] = {
    {0, 8.25},    {2, 8.1},     {4, 7.5},     {6, 6.5},     {8, 5.0},
    {9.5, 3.5},   {10.5, 2.4},  {12, 1.83},   {15, 1.83},   {75, 4.3},
    {250, 5.85},  {900, 5.85},  {1050, 7.2},  {1150, 9.0},  {1220, 11.8},
    {1270, 16.0}, {1300, 21.5}, {1320, 29.0}, {1335, 41.0}, {1345, 60.0}};
enum {
    N_BOWL = sizeof(BOWL_MM) / sizeof(BOWL_MM[0]),
    BOWL_THROAT = 7 /* the first station of it */
};

static inline struct hbk_profile_point bowl_point(size_t i)
{
    return (struct hbk_profile_point){BOWL_MM[i][0] / 1000.0,
                                      BOWL_MM[i][1] / 1000.0};
}

static inline struct hbk_chain trumpet_bowl(struct hbk_arena *arena)
{
    struct hbk_chain chain = {.arena = arena};
    struct hbk_profile_point points[N_BOWL];
    for (size_t i = 0; i < N_BOWL; i++) {
        points[i] = bowl_point(i);
    }
    hbk_chain_add_profile(&chain, N_BOWL, points);
    hbk_chain_find_cup(&chain);
    return chain;
}

/*
 * Resonances in Hz at 20 and 27 degrees Celsius, maxima of |Z|; a zero ends a
 * list. tests/reference/column.py makes them, which has the formulas of the
 * program and solves them by other means: it checks arithmetic. To be met
 * within 0.1 cent.
 */
enum { CASE_MODES = 10, N_TUBE_CASES = 17 };
struct tube_case {
    const char *name;
    tube_builder *build;
    uint64_t word;
    double hz[2][CASE_MODES];
};

#define TOL_MODEL_CENTS 0.1

static const double CASE_CELSIUS[2] = {20.0, 27.0};

static const struct tube_case TUBE_CASES[N_TUBE_CASES] = {
    {"cylinder 1 m, a 8 mm",
     cylinder_1m,
     0,
     {{83.546, 252.990, 422.859, 592.905, 763.057, 933.282, 1103.562, 1273.887},
      {84.499, 255.915, 427.766, 599.799, 771.941, 944.158, 1116.431,
       1288.750}}},
    {"cylinder 2 m, a 6 mm",
     cylinder_2m,
     0,
     {{41.073, 125.447, 210.223, 295.165, 380.205, 465.311, 550.466, 635.659},
      {41.529, 126.875, 212.634, 298.564, 384.594, 470.692, 556.840, 643.027}}},
    {"cylinder 1 m, a 8 mm, flanged",
     cylinder_flanged,
     0,
     {{83.409, 252.575, 422.164, 591.933, 761.811, 931.766, 1101.783, 1271.851},
      {84.362, 255.495, 427.063, 598.816, 770.680, 942.625, 1114.632,
       1286.691}}},
    {"cone 0.5 to 50 mm, 2.4 m",
     cone_near_complete,
     0,
     {{69.237, 138.439, 207.719, 277.054, 346.434, 415.854, 485.315, 554.817},
      {70.040, 140.044, 210.128, 280.268, 350.454, 420.682, 490.952, 561.264}}},
    {"cone 6 to 40 mm, 1.2 m",
     cone_narrow,
     0,
     {{119.869, 244.923, 375.402, 509.439, 645.605, 783.088, 921.437, 1060.396},
      {121.266, 247.780, 379.786, 515.393, 653.156, 792.251, 932.222,
       1072.811}}},
    {"cone 6 to 100 mm, 2.4 m",
     cone_wide,
     0,
     {{65.421, 131.107, 197.274, 263.994, 331.261, 399.024, 467.218, 535.782},
      {66.186, 132.640, 199.582, 267.084, 335.139, 403.696, 472.690, 542.058}}},
    /* The holes of the next two are those measured by Dalmont, Nederveen,
       Dubos et al. 2002, as quoted by others. */
    {"cylinder, shut hole",
     cylinder_hole,
     0,
     {{83.794, 252.132, 422.450, 593.614, 760.226, 930.358, 1104.634, 1270.452},
      {84.756, 255.056, 427.365, 600.532, 769.094, 941.219, 1117.536,
       1285.298}}},
    {"cylinder, open hole",
     cylinder_hole,
     1,
     {{115.255, 344.716, 495.631, 597.981, 815.350, 992.453, 1105.158,
       1300.925},
      {116.583, 348.723, 501.398, 604.950, 824.863, 1004.038, 1118.069,
       1316.127}}},
    {"cylinder, open hole under a pad",
     cylinder_padded,
     1,
     {{115.061, 343.925, 493.939, 597.848, 814.245, 990.427, 1105.137,
       1300.120},
      {116.387, 347.922, 499.687, 604.816, 823.746, 1001.989, 1118.048,
       1315.313}}},
    {"cylinder, open hole in its wall",
     cylinder_wall_hole,
     1,
     {{115.637, 346.262, 499.104, 598.263, 817.572, 996.722, 1105.206,
       1302.562},
      {116.970, 350.287, 504.910, 605.235, 827.112, 1008.357, 1118.118,
       1317.784}}},
    {"cylinder, open hole with a collar",
     cylinder_collar,
     1,
     {{115.493, 345.681, 497.792, 598.153, 816.728, 995.094, 1105.188,
       1301.935},
      {116.824, 349.699, 503.584, 605.124, 826.257, 1006.710, 1118.099,
       1317.149}}},
    {"cone, three shut holes",
     cone_holes,
     0,
     {{119.907, 244.802, 375.252, 509.200, 645.264, 782.907, 920.907, 1060.065},
      {121.304, 247.657, 379.634, 515.152, 652.811, 792.068, 931.686,
       1072.477}}},
    {"cone, lowest hole open",
     cone_holes,
     4,
     {{125.478, 256.254, 391.799, 528.629, 663.732, 796.388, 927.528, 1061.590},
      {126.940, 259.244, 396.375, 534.809, 671.496, 805.708, 938.386,
       1074.020}}},
    {"trumpet bell section",
     trumpet_bell,
     0,
     {{266.210, 576.707, 914.152, 1260.159, 1604.400, 1959.030, 2309.526,
       2642.298},
      {269.293, 583.421, 924.818, 1274.873, 1623.145, 1981.932, 2336.544,
       2673.223}}},
    {"trumpet bell section, spherical",
     trumpet_bell_spherical,
     0,
     {{265.552, 572.771, 899.640, 1260.394, 1645.084, 1978.719, 2307.133,
       2620.746},
      {268.627, 579.439, 910.137, 1275.083, 1664.315, 2001.860, 2334.129,
       2651.424}}},
    {"cylinder 2 m behind a cup",
     cylinder_cup,
     0,
     {{40.742, 124.336, 208.190, 292.071, 375.911, 459.654, 543.225, 626.485},
      {41.194, 125.747, 210.566, 295.415, 380.223, 464.935, 549.475, 633.703}}},
    {"trumpet with a bowl",
     trumpet_bowl,
     0,
     {{80.747, 234.272, 362.673, 479.311, 597.205, 711.699, 822.451, 936.261,
       1054.120, 1175.454},
      {81.658, 236.954, 366.846, 484.843, 604.114, 719.954, 832.012, 947.175,
       1066.435, 1189.175}}},
};

/* Lossless columns with an ideal open end. */
static inline struct hbk_chain exact_cylinder(struct hbk_arena *arena)
{
    return one_tube(arena, HBK_BELL_IDEAL, 1.0, 0.0087, 0.0087);
}

static inline struct hbk_chain exact_complete_cone(struct hbk_arena *arena)
{
    return one_tube(arena, HBK_BELL_IDEAL, 2.4, 1e-7, 0.05);
}

static inline struct hbk_chain exact_narrow_cone(struct hbk_arena *arena)
{
    return one_tube(arena, HBK_BELL_IDEAL, 1.2, 0.006, 0.04);
}

static inline struct hbk_chain exact_wide_cone(struct hbk_arena *arena)
{
    return one_tube(arena, HBK_BELL_IDEAL, 2.4, 0.006, 0.1);
}

static inline struct hbk_chain exact_exponential(struct hbk_arena *arena)
{
    struct hbk_profile_point points[101];
    for (size_t i = 0; i <= 100; i++) {
        const double x = (double)i / 100.0;
        points[i] = (struct hbk_profile_point){x, 0.006 * pow(10.0, x)};
    }
    struct hbk_chain chain = plane_chain(arena, HBK_BELL_IDEAL);
    hbk_chain_add_profile(&chain, 101, points);
    return chain;
}

/* a = B y^-0.7, y from 1.01 m at the closed end to 0.01 m at the mouth. */
static inline struct hbk_chain exact_bessel_horn(struct hbk_arena *arena)
{
    struct hbk_profile_point points[201];
    for (size_t i = 0; i <= 200; i++) {
        const double y = 1.01 * pow(0.01 / 1.01, (double)i / 200.0);
        points[i] = (struct hbk_profile_point){1.01 - y, 0.005 * pow(y, -0.7)};
    }
    struct hbk_chain chain = plane_chain(arena, HBK_BELL_IDEAL);
    hbk_chain_add_profile(&chain, 201, points);
    return chain;
}

/*
 * Closed forms with c = 343.28164767 m/s (Keefe's air at 20 C), closed input,
 * ideal open end: the conditions are named; a zero ends a list. `cents` is how
 * near they must be met.
 */
enum { N_EXACT_CASES = 8 };
struct exact_case {
    const char *condition;
    tube_builder *build;
    uint64_t word;
    double cents;
    double hz[CASE_MODES];
};

#define TOL_CLOSED_FORM_CENTS 1e-3

static const struct exact_case EXACT_CASES[N_EXACT_CASES] = {
    {"f = (2n - 1) c / 4L",
     exact_cylinder,
     0,
     TOL_CLOSED_FORM_CENTS,
     {85.820412, 257.461236, 429.102060, 600.742883, 772.383707, 944.024531,
      1115.665355, 1287.306179}},
    /* The apex is cut off at 0.1 um, worth 0.0035 cent. */
    {"f = n c / 2L",
     exact_complete_cone,
     0,
     0.004,
     {71.517010, 143.034020, 214.551030, 286.068040, 357.585050, 429.102060,
      500.619070, 572.136080}},
    {"tan kL = -k x1, x1 = 0.211764706 m",
     exact_narrow_cone,
     0,
     TOL_CLOSED_FORM_CENTS,
     {122.807090, 250.940861, 384.492922, 521.534760, 660.605059, 800.876164,
      941.893659, 1083.399117}},
    {"tan kL = -k x1, x1 = 0.153191489 m",
     exact_wide_cone,
     0,
     TOL_CLOSED_FORM_CENTS,
     {67.272864, 134.807201, 202.781805, 271.265315, 340.241534, 409.650655,
      479.420580, 549.483380}},
    {"tan bL = -2b/m, k^2 = b^2 + m^2/4, m = 4.605170186",
     exact_exponential,
     0,
     TOL_CLOSED_FORM_CENTS,
     {179.622994, 307.414737, 461.652238, 624.622048, 791.173710, 959.491423,
      1128.798990, 1298.714113}},
    {"J1.2(k y0) Y0.2(k y1) = Y1.2(k y0) J0.2(k y1)",
     exact_bessel_horn,
     0,
     TOL_CLOSED_FORM_CENTS,
     {146.441783, 315.385896, 485.056958, 654.934883, 824.920623, 994.983313,
      1165.110631, 1335.296716}},
    {"tan k 0.7 = cot k 0.3 + (b/a)^2 cot kt",
     cylinder_plain_hole,
     1,
     TOL_CLOSED_FORM_CENTS,
     {119.557300, 357.733805, 534.661658, 605.380685, 836.896268, 1045.579157}},
    {"tan k 0.7 = cot k 0.3 - (b/a)^2 tan kt",
     cylinder_plain_hole,
     0,
     TOL_CLOSED_FORM_CENTS,
     {85.740651, 256.331854, 428.142244, 600.676187, 769.586314, 940.674264}},
};

/* The maxima of a column up to a limit, in Hz; returns how many. */
enum { MODES_ROOM = 64 };
typedef size_t find_modes(const struct hbk_chain *chain,
                          const struct hbk_air *air, uint64_t word,
                          double limit_hz, double hz[MODES_ROOM]);

/* `except` is passed over, NULL for none. */
static inline void check_closed_forms(find_modes *find, tube_builder *except)
{
    const struct hbk_air air = air_at(20.0, true);
    check_abs(air.speed, 343.28164767, 1e-8);
    for (size_t c = 0; c < N_EXACT_CASES; c++) {
        const struct exact_case *const want = &EXACT_CASES[c];
        if (want->build == except) {
            continue;
        }
        struct hbk_arena arena = {NULL};
        const struct hbk_chain chain = want->build(&arena);
        double hz[MODES_ROOM];
        const size_t n = find(&chain, &air, want->word, 1400.0, hz);
        for (size_t m = 0; m < CASE_MODES && want->hz[m] > 0.0; m++) {
            assert_true(m < n);
            check_abs(cents_between(hz[m], want->hz[m]), 0.0, want->cents);
        }
        hbk_arena_finish(&arena);
    }
}

static inline void check_against_model(find_modes *find)
{
    for (size_t c = 0; c < N_TUBE_CASES; c++) {
        const struct tube_case *const want = &TUBE_CASES[c];
        struct hbk_arena arena = {NULL};
        const struct hbk_chain chain = want->build(&arena);
        for (size_t t = 0; t < 2; t++) {
            const struct hbk_air air = air_at(CASE_CELSIUS[t], false);
            double hz[MODES_ROOM];
            size_t modes = 0;
            while (modes < CASE_MODES && want->hz[t][modes] > 0.0) {
                modes++;
            }
            const size_t n = find(&chain, &air, want->word,
                                  want->hz[t][modes - 1] * 1.01, hz);
            assert_true(n >= modes);
            for (size_t m = 0; m < modes; m++) {
                check_abs(cents_between(hz[m], want->hz[t][m]), 0.0,
                          TOL_MODEL_CENTS);
            }
        }
        hbk_arena_finish(&arena);
    }
}

#endif
