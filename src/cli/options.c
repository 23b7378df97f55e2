#include "cli/cli.h"

#include "base/number.h"
#include "solve/curve.h"

#include <getopt.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <string.h>

int hbk_usage(const char *command, const char *fmt, ...)
{
    fprintf(stderr, "hornbook %s: ", command);
    va_list args;
    va_start(args, fmt);
    vfprintf(stderr, fmt, args);
    va_end(args);
    fprintf(stderr, "\nTry 'hornbook --help'.\n");
    return HBK_EXIT_USAGE;
}

enum option_code {
    CODE_A4 = 256,
    CODE_TEMPERATURE,
    CODE_LIP,
    CODE_CROOK,
    CODE_STUCK,
    CODE_RAW,
    CODE_FORMAT,
    CODE_JSON,
    CODE_HOLD,
    CODE_LAYOUT,
    CODE_PAPER,
    CODE_DPI,
    CODE_TITLE,
    CODE_SOUNDING,
    CODE_FINGERING,
    CODE_TO,
    CODE_POINTS
};

static const struct option long_options[] = {
    {"a4", required_argument, NULL, CODE_A4},
    {"temperature", required_argument, NULL, CODE_TEMPERATURE},
    {"lip", required_argument, NULL, CODE_LIP},
    {"crook", required_argument, NULL, CODE_CROOK},
    {"stuck", required_argument, NULL, CODE_STUCK},
    {"raw", no_argument, NULL, CODE_RAW},
    {"output", required_argument, NULL, 'o'},
    {"format", required_argument, NULL, CODE_FORMAT},
    {"json", no_argument, NULL, CODE_JSON},
    {"hold", required_argument, NULL, CODE_HOLD},
    {"layout", required_argument, NULL, CODE_LAYOUT},
    {"paper", required_argument, NULL, CODE_PAPER},
    {"dpi", required_argument, NULL, CODE_DPI},
    {"title", required_argument, NULL, CODE_TITLE},
    {"sounding", no_argument, NULL, CODE_SOUNDING},
    {"fingering", required_argument, NULL, CODE_FINGERING},
    {"to", required_argument, NULL, CODE_TO},
    {"points", required_argument, NULL, CODE_POINTS},
    {"quiet", no_argument, NULL, 'q'},
    {"help", no_argument, NULL, 'h'},
    {NULL, 0, NULL, 0},
};

/* The sets an option belongs to; 0 for those every command takes. */
static unsigned set_of(int code)
{
    switch (code) {
    case CODE_A4:
    case CODE_TEMPERATURE:
    case CODE_LIP:
    case CODE_CROOK:
    case CODE_STUCK:
    case CODE_RAW:
        return HBK_TAKES_SETTING;
    case 'o':
    case CODE_FORMAT:
        return HBK_TAKES_OUTPUT;
    case CODE_JSON:
        return HBK_TAKES_NOTES | HBK_TAKES_COLUMN;
    case CODE_HOLD:
        return HBK_TAKES_NOTES;
    case CODE_LAYOUT:
        return HBK_TAKES_SHEET;
    case CODE_PAPER:
    case CODE_DPI:
    case CODE_TITLE:
        return HBK_TAKES_SHEET | HBK_TAKES_COLUMN;
    case CODE_FINGERING:
    case CODE_TO:
    case CODE_POINTS:
        return HBK_TAKES_COLUMN;
    case CODE_SOUNDING:
        return HBK_TAKES_NAMES;
    default:
        return 0;
    }
}

static const char *name_of(int code)
{
    for (const struct option *o = long_options; o->name != NULL; o++) {
        if (o->val == code) {
            return o->name;
        }
    }
    return "";
}

/* A number from low to high, with the unit to name when it is not one. */
static bool take_number(const char *command, int code, double low, double high,
                        const char *unit, double *value)
{
    if (hbk_number_parse(optarg, value) && *value >= low && *value <= high) {
        return true;
    }
    (void)hbk_usage(command, "--%s takes a number from %g to %g%s, not '%s'",
                    name_of(code), low, high, unit, optarg);
    return false;
}

static void take_word(int code, struct hbk_options *options)
{
    switch (code) {
    case CODE_CROOK:
        options->crook = optarg;
        break;
    case CODE_STUCK:
        options->stuck = optarg;
        break;
    case CODE_RAW:
        options->raw = true;
        break;
    case 'o':
        options->output = optarg;
        break;
    case CODE_FORMAT:
        options->format = optarg;
        break;
    case CODE_JSON:
        options->json = true;
        break;
    case CODE_HOLD:
        options->hold = optarg;
        break;
    case CODE_LAYOUT:
        options->layout = optarg;
        break;
    case CODE_PAPER:
        options->paper = optarg;
        break;
    case CODE_TITLE:
        options->title = optarg;
        break;
    case CODE_SOUNDING:
        options->sounding = true;
        break;
    case 'q':
        options->quiet = true;
        break;
    case 'h':
        options->help = true;
        break;
    default:
        break;
    }
}

static bool take_fingering(const char *command, struct hbk_options *options)
{
    if (options->n_fingerings == HBK_CURVES_MAX) {
        (void)hbk_usage(command, "--fingering can be given %d times at most",
                        HBK_CURVES_MAX);
        return false;
    }
    options->fingerings[options->n_fingerings++] = optarg;
    return true;
}

static bool take_points(const char *command, struct hbk_options *options)
{
    if (!take_number(command, CODE_POINTS, HBK_CURVE_POINTS_LEAST,
                     HBK_CURVE_POINTS_MOST, "", &options->points)) {
        return false;
    }
    if (options->points != floor(options->points)) {
        (void)hbk_usage(command, "--points takes a whole number, not '%s'",
                        optarg);
        return false;
    }
    return true;
}

static bool take(const char *command, int code, struct hbk_options *options)
{
    switch (code) {
    case CODE_A4:
        return take_number(command, code, 300.0, 600.0, " Hz", &options->a4_hz);
    case CODE_TEMPERATURE:
        return take_number(command, code, -10.0, 50.0, " degrees Celsius",
                           &options->temperature_c);
    case CODE_LIP:
        return take_number(command, code, 0.0, 300.0, " cents",
                           &options->lip_cents);
    case CODE_DPI:
        return take_number(command, code, 36.0, 1200.0, "", &options->dpi);
    case CODE_FINGERING:
        return take_fingering(command, options);
    case CODE_TO:
        return take_number(command, code, HBK_CURVE_TO_LEAST_HZ,
                           HBK_CURVE_TO_MOST_HZ, " Hz", &options->to_hz);
    case CODE_POINTS:
        return take_points(command, options);
    default:
        take_word(code, options);
        return true;
    }
}

bool hbk_options_read(int argc, char *argv[], unsigned takes,
                      struct hbk_options *options)
{
    *options = (struct hbk_options){.a4_hz = (double)NAN,
                                    .temperature_c = (double)NAN,
                                    .lip_cents = (double)NAN,
                                    .dpi = (double)NAN,
                                    .to_hz = (double)NAN,
                                    .points = (double)NAN};
    const char *const command = argv[0];
    opterr = 0;
    optind = 1;
    int code = 0;
    while ((code = getopt_long(argc, argv, ":o:qh", long_options, NULL)) !=
           -1) {
        if (code == ':') {
            (void)hbk_usage(command, "%s wants a value", argv[optind - 1]);
            return false;
        }
        if (code == '?') {
            (void)hbk_usage(command, "there is no option '%s'",
                            argv[optind - 1]);
            return false;
        }
        const unsigned set = set_of(code);
        if (set != 0 && (takes & set) == 0) {
            (void)hbk_usage(command, "--%s does not belong to this command",
                            name_of(code));
            return false;
        }
        if (code == 'o' && optarg[0] == '\0') {
            (void)hbk_usage(command, "--output names no file");
            return false;
        }
        if (!take(command, code, options)) {
            return false;
        }
    }
    options->n_words = (size_t)(argc - optind);
    options->words = argv + optind;
    return true;
}
