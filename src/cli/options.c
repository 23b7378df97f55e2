#include "cli/cli.h"

#include "base/jobs.h"
#include "base/number.h"
#include "base/text.h"
#include "cli/option_list.h"
#include "cli/terminal.h"
#include "reader/limits.h"
#include "render/render.h"
#include "report/screen.h"
#include "solve/curve.h"

#include <getopt.h>
#include <math.h>
#include <stdarg.h>
#include <string.h>

int hbk_usage(const char *command, const char *fmt, ...)
{
    hbk_terminal_wipe();
    fprintf(stderr, "hornbook %s: ", command);
    va_list args;
    va_start(args, fmt);
    vfprintf(stderr, fmt, args);
    va_end(args);
    fprintf(stderr, "\nTry 'hornbook %s --help'.\n", command);
    return HBK_EXIT_USAGE;
}

enum kind {
    SWITCH, /* bool */
    WORD,   /* const char * */
    NUMBER, /* double from low to high */
    WHOLE,  /* double without a fraction */
    PRESS   /* one more of options->fingerings */
};

struct row {
    const char *name;
    char letter;    /* a short form, or 0 */
    unsigned takes; /* the sets it belongs to; 0 for every command */
    enum kind kind;
    size_t offset; /* of its field in struct hbk_options */
    double low, high;
    const char *unit;  /* said after the range */
    const char *value; /* what stands for it in the help */
    const char *help;
};

#define AT(field) offsetof(struct hbk_options, field)

/* Every option of every command, in the order of the help. */
static const struct row rows[] = {
    {"a4", 0, HBK_TAKES_SETTING | HBK_TAKES_PITCH, NUMBER, AT(a4_hz),
     HBK_A4_LEAST_HZ, HBK_A4_MOST_HZ, " Hz", "HZ",
     "pitch of A4 (the horn's own)"},
    {"temperature", 0, HBK_TAKES_SETTING | HBK_TAKES_PITCH, NUMBER,
     AT(temperature_c), HBK_AIR_LEAST_C, HBK_AIR_MOST_C, " degrees Celsius",
     "C", "mean of the air in the horn (the horn's own)"},
    {"room", 0, HBK_TAKES_SETTING | HBK_TAKES_PITCH, NUMBER, AT(room_c),
     HBK_AIR_LEAST_C, HBK_AIR_MOST_C, " degrees Celsius", "C",
     "of the room; the air in the horn is warmer"},
    {"crook", 0, HBK_TAKES_SETTING, WORD, AT(crook), 0, 0, "", "NAME",
     "with that crook or shank in"},
    {"mouthpiece", 0, HBK_TAKES_SETTING, WORD, AT(mouthpiece), 0, 0, "", "NAME",
     "with that mouthpiece of the horn's file in"},
    {"stuck", 0, HBK_TAKES_SETTING | HBK_TAKES_STUCK, WORD, AT(stuck), 0, 0, "",
     "LIST", "key:3=open,valve:2=down: what cannot move"},
    {"raw", 0, HBK_TAKES_RAW, SWITCH, AT(raw), 0, 0, "", "",
     "slides as the horn's file has them, nothing tuned first"},
    {"player", 0, HBK_TAKES_PLAYER, SWITCH, AT(player), 0, 0, "", "",
     "as the player of the horn's file plays it, not the horn alone"},
    {"valve-slides", 0, HBK_TAKES_SETTING | HBK_TAKES_PITCH, WORD,
     AT(valve_slides), 0, 0, "", "HOW",
     "own (usual: the valve's own interval), best or in (all in)"},
    {"jobs", 0, HBK_TAKES_JOBS, WHOLE, AT(jobs), 1.0, HBK_THREADS_MAX, "", "N",
     "so many at once (one a processor)"},
    {"lip", 0, HBK_TAKES_LIP, NUMBER, AT(lip_cents), 0.0, HBK_LIP_MOST_CENTS,
     " cents", "CENTS", "how far you trust yourself to bend (60)"},
    {"reads", 0, HBK_TAKES_READS, WORD, AT(reads), 0, 0, "", "HOW",
     "treble, bass, treble-bflat, treble-eflat or concert: what you read"},
    {"names", 0, HBK_TAKES_READS, WORD, AT(names), 0, 0, "", "HOW",
     "of notes: english (usual), german or solfege"},
    {"sounding", 0, HBK_TAKES_NAMES, SWITCH, AT(sounding), 0, 0, "", "",
     "also name the notes as they sound"},
    {"hold", 0, HBK_TAKES_HOLD, WORD, AT(hold), 0, 0, "", "NOTES",
     "\"C5 E5 G5\": best in tune for a chord that is held"},
    {"root", 0, HBK_TAKES_HOLD, WORD, AT(root), 0, 0, "", "NOTE",
     "of the held chord (found from its notes)"},
    {"all", 0, HBK_TAKES_HOLD, SWITCH, AT(all), 0, 0, "", "",
     "every alternate fingering; else three of a note"},
    {"brief", 0, HBK_TAKES_BRIEF, SWITCH, AT(brief), 0, 0, "", "",
     "as text, nothing but notes and their fingerings"},
    {"brief", 0, HBK_TAKES_NAMES_ALONE, SWITCH, AT(brief), 0, 0, "", "",
     "as text, nothing but the names to type"},
    {"why", 0, HBK_TAKES_HOLD, WORD, AT(why), 0, 0, "", "NOTES",
     "\"Eb4 B4\": where their fingerings and tuning come from"},
    {"plain", 0, HBK_TAKES_HOLD, SWITCH, AT(plain), 0, 0, "", "",
     "a sentence a note in words alone, to be read out"},
    {"trills", 0, HBK_TAKES_HOLD, SWITCH, AT(trills), 0, 0, "", "",
     "the trills of every note in place of its fingerings"},
    {"fingering", 0, HBK_TAKES_RESONANCES, PRESS, 0, 0, 0, "", "1-3",
     "the press to look at; up to 6 times (0)"},
    {"to", 0, HBK_TAKES_RESONANCES, NUMBER, AT(to_hz), HBK_CURVE_TO_LEAST_HZ,
     HBK_CURVE_TO_MOST_HZ, " Hz", "HZ", "upper end of the curve (1400)"},
    {"points", 0, HBK_TAKES_RESONANCES, WHOLE, AT(points),
     HBK_CURVE_POINTS_LEAST, HBK_CURVE_POINTS_MOST, "", "N",
     "of the curve (1000)"},
    {"run", 0, HBK_TAKES_PASSAGE, WORD, AT(run), 0, 0, "", "NOTES",
     "\"C5 D5 E5:1/8 (F5:1/8 G5)\" in place of a file"},
    {"tempo", 0, HBK_TAKES_TUNE, NUMBER, AT(tempo), 5.0, 1000.0, "", "Q",
     "quarter notes a minute, in place of the tune's own"},
    {"bars", 0, HBK_TAKES_PASSAGE, WORD, AT(bars), 0, 0, "", "23-26",
     "show these bars; the search sees the whole tune"},
    {"choices", 0, HBK_TAKES_PASSAGE, WHOLE, AT(choices), 0, 8, "", "N",
     "alternates for each note and the whole (1; on a part 0)"},
    {"practice", 0, HBK_TAKES_PASSAGE, SWITCH, AT(practice), 0, 0, "", "",
     "only the hard places, each note with its next choice"},
    {"only-departures", 0, HBK_TAKES_PASSAGE, SWITCH, AT(only_departures), 0, 0,
     "", "", "show and write only alternate fingerings"},
    {"circles", 0, HBK_TAKES_PASSAGE, SWITCH, AT(circles), 0, 0, "", "",
     "on a sheet, fingers as circles in place of numbers"},
    {"sound", 0, HBK_TAKES_PASSAGE, WORD, AT(sound), 0, 0, "", "FILE.wav",
     "also as the horn would sound; begin quietly when you listen"},
    {"keep", 0, HBK_TAKES_PASSAGE, SWITCH, AT(keep), 0, 0, "", "",
     "honor the fingerings that stand in the file"},
    {"bare", 0, HBK_TAKES_PASSAGE, SWITCH, AT(bare), 0, 0, "", "",
     "take out again the fingerings written into TUNE"},
    {"part", 0, HBK_TAKES_TUNE, WORD, AT(part), 0, 0, "", "NAME",
     "of a score: its name, id or number"},
    {"voice", 0, HBK_TAKES_TUNE, WORD, AT(voice), 0, 0, "", "NAME",
     "of a part with several"},
    {"line", 0, HBK_TAKES_TUNE, WORD, AT(line), 0, 0, "", "WORD",
     "of chords and divided parts: top (usual), bottom, or 2"},
    {"tune", 0, HBK_TAKES_TUNE, WORD, AT(tune), 0, 0, "", "NAME",
     "of a book of tunes: its number or title"},
    {"range", 0, HBK_TAKES_RANGE, WORD, AT(range), 0, 0, "", "NOTES",
     "C4-C5: the notes to keep to, as you read them (G3-G5)"},
    {"from-sounding", 0, HBK_TAKES_TUNE, SWITCH, AT(from_sounding), 0, 0, "",
     "", "the file has the notes as they sound"},
    {"octave", 0, HBK_TAKES_TUNE, WORD, AT(octave), 0, 0, "", "N",
     "so many octaves up, as -1 down; auto: the best for the horn"},
    {"transpose", 0, HBK_TAKES_TUNE, WORD, AT(transpose), 0, 0, "", "BY",
     "M2, -m3, P5 ... or semitones; minus is down"},
    {"to-key", 0, HBK_TAKES_PASSAGE, WORD, AT(to_key), 0, 0, "", "KEY",
     "into that key; auto, auto:5: the easiest within 3, 5 semitones"},
    {"kind", 0, HBK_TAKES_BEGIN, WORD, AT(begin.kind), 0, 0, "", "WORD",
     "keyed bugle, cornet ...; keyed or valved for others"},
    {"key", 0, HBK_TAKES_BEGIN, WORD, AT(begin.key), 0, 0, "", "NOTE",
     "of the horn, as in Bb; Bb3: what written C4 sounds"},
    {"keys", 0, HBK_TAKES_BEGIN, WORD, AT(begin.keys), 0, 0, "", "N",
     "how many keys it has"},
    {"valves", 0, HBK_TAKES_BEGIN, WORD, AT(begin.valves), 0, 0, "", "N",
     "how many valves it has"},
    {"open", 0, HBK_TAKES_BEGIN, WORD, AT(begin.open), 0, 0, "", "LIST",
     "keys that are open at rest, from the bell; or none"},
    {"called", 0, HBK_TAKES_BEGIN, WORD, AT(begin.called), 0, 0, "", "LIST",
     "\"B C# D Eb\": the note each key is for, from the bell"},
    {"lowers", 0, HBK_TAKES_BEGIN, WORD, AT(begin.lowers), 0, 0, "", "LIST",
     "\"2 1 3\": semitones each valve lowers; +2 raises"},
    {"loops", 0, HBK_TAKES_BEGIN, WORD, AT(begin.loops), 0, 0, "", "LIST",
     "\"182 88 294\": the loop of each valve as measured, mm"},
    {"action", 0, HBK_TAKES_BEGIN, WORD, AT(begin.action), 0, 0, "", "WORD",
     "of the valves: piston, rotary, early piston ..."},
    {"clef", 0, HBK_TAKES_BEGIN, WORD, AT(begin.clef), 0, 0, "", "NAME",
     "treble: open is C; bass, alto, tenor: as it sounds"},
    {"a4", 0, HBK_TAKES_BEGIN, NUMBER, AT(a4_hz), HBK_A4_LEAST_HZ,
     HBK_A4_MOST_HZ, " Hz", "HZ", "the pitch it plays at (440)"},
    {"temperature", 0, HBK_TAKES_BEGIN, NUMBER, AT(temperature_c),
     HBK_AIR_LEAST_C, HBK_AIR_MOST_C, " degrees Celsius", "C",
     "mean of the air in the horn then (20)"},
    {"length", 0, HBK_TAKES_BEGIN, WORD, AT(begin.length), 0, 0, "", "MM",
     "half wave of the open horn, if it is known"},
    {"name", 0, HBK_TAKES_BEGIN, WORD, AT(begin.name), 0, 0, "", "TEXT",
     "what charts call it"},
    {"pattern", 0, HBK_TAKES_BEGIN, WORD, AT(begin.pattern), 0, 0, "", "HORN",
     "the shipped pattern to begin from (the nearest)"},
    {"form", 0, HBK_TAKES_BEGIN, SWITCH, AT(begin.form), 0, 0, "", "",
     "in place of a horn file, a form to measure by"},
    {"replace", 0, HBK_TAKES_BEGIN, SWITCH, AT(begin.replace), 0, 0, "", "",
     "write over FILE if it is there"},
    {"faults", 0, HBK_TAKES_FAULTS, SWITCH, AT(faults), 0, 0, "", "",
     "HORN READINGS: what is wrong with a horn that played well"},
    {"key-names", 0, HBK_TAKES_REPORT, SWITCH, AT(key_names), 0, 0, "", "",
     "follow what its keys are called; READINGS may be left out"},
    {"report", 0, HBK_TAKES_REPORT, WORD, AT(report), 0, 0, "", "FILE",
     "the report as txt, json, pdf, svg or png"},
    {"layout", 0, HBK_TAKES_LAYOUT, WORD, AT(layout), 0, 0, "", "NAME",
     "plate (usual), wall, stand, card, large or trills"},
    {"large", 0, HBK_TAKES_LAYOUT, SWITCH, AT(large), 0, 0, "", "",
     "the chart in large print: short for --layout large"},
    {"large", 0, HBK_TAKES_PRIMER, SWITCH, AT(large), 0, 0, "", "",
     "in large print, with the stand chart in place of the plate"},
    {"knows", 0, HBK_TAKES_KNOWS, WORD, AT(knows), 0, 0, "", "HORN2",
     "also what carries over from that horn, and what turns round"},
    {"fold", 0, HBK_TAKES_PRIMER, SWITCH, AT(fold), 0, 0, "", "",
     "two pages on each side of a sheet, in order when it is folded"},
    {"beside", 0, HBK_TAKES_LAYOUT, WORD, AT(beside), 0, 0, "", "HORN2",
     "adds what changes for a player of that horn (plate, wall, stand)"},
    {"beside", 0, HBK_TAKES_BESIDE, WORD, AT(beside), 0, 0, "", "HORN2",
     "adds what changes for a player of that horn"},
    {"paper", 0, HBK_TAKES_PAPER, WORD, AT(paper), 0, 0, "", "NAME",
     "A4 (usual; slides: A6), A3, A5, A6, Letter"},
    {"title", 0, HBK_TAKES_PAPER, WORD, AT(title), 0, 0, "", "TEXT",
     "in place of the horn's name"},
    {"dpi", 0, HBK_TAKES_PAPER, NUMBER, AT(dpi), HBK_DPI_LOW, HBK_DPI_HIGH, "",
     "N", "of a png (150)"},
    {"json", 0, HBK_TAKES_JSON, SWITCH, AT(json), 0, 0, "", "",
     "the answer for other programs, as JSON"},
    {"output", 'o', HBK_TAKES_OUTPUT, WORD, AT(output), 0, 0, "", "FILE",
     "where the result goes; - is standard output"},
    {"format", 0, HBK_TAKES_FORMAT, WORD, AT(format), 0, 0, "", "NAME",
     "of the result, else by the ending of FILE"},
    {"output", 'o', HBK_TAKES_FOLDER, WORD, AT(output), 0, 0, "", "FOLDER",
     "where the sheets go (a folder named as the order)"},
    {"quiet", 'q', 0, SWITCH, AT(quiet), 0, 0, "", "",
     "no warnings, and no word of what was written"},
};

enum { N_ROWS = sizeof(rows) / sizeof(rows[0]), CODE_FIRST = 256 };

size_t hbk_options_list(unsigned takes,
                        struct hbk_option_shown shown[HBK_OPTIONS_MOST])
{
    _Static_assert((int)N_ROWS < (int)HBK_OPTIONS_MOST, "and --help");
    size_t n = 0;
    for (size_t i = 0; i < N_ROWS; i++) {
        const struct row *const row = &rows[i];
        if (row->takes != 0 && (row->takes & takes) == 0) {
            continue;
        }
        shown[n++] = (struct hbk_option_shown){
            .name = row->name,
            .letter = row->letter,
            .value = row->value,
            .help = row->help,
            .is_number = row->kind == NUMBER || row->kind == WHOLE,
            .low = row->low,
            .high = row->high,
            .unit = row->unit};
    }
    shown[n++] = (struct hbk_option_shown){.name = "help",
                                           .letter = 'h',
                                           .value = "",
                                           .help = "this text",
                                           .unit = ""};
    return n;
}

void hbk_options_explain(struct hbk_text *out, unsigned takes)
{
    struct hbk_option_shown shown[HBK_OPTIONS_MOST];
    const size_t n = hbk_options_list(takes, shown);
    for (size_t i = 0; i < n; i++) {
        const struct hbk_option_shown *const option = &shown[i];
        char left[64];
        const char dash[] = {'-', option->letter, ',', ' ', '\0'};
        (void)snprintf(left, sizeof(left), "%s--%s%s%s",
                       option->letter == 0 ? "" : dash, option->name,
                       option->value[0] == '\0' ? "" : " ", option->value);
        hbk_text_addf(out, "  %-20s " HBK_HANG "%s\n", left, option->help);
    }
}

/* Whether a comma stands where a point would give a number in range; told. */
static bool is_decimal_comma(const struct row *row, const char *command)
{
    char meant[32];
    const size_t length = strlen(optarg);
    const size_t comma = strcspn(optarg, ",");
    double value = 0.0;
    if (length >= sizeof(meant) || comma == length) {
        return false;
    }
    memcpy(meant, optarg, length + 1);
    meant[comma] = '.';
    if (!hbk_number_parse(meant, &value) ||
        !(value >= row->low && value <= row->high)) {
        return false;
    }
    (void)hbk_usage(command,
                    "--%s: '%s': write decimals with a point, as in %s",
                    row->name, optarg, meant);
    return true;
}

/* A number in its range; wrong usage is told. */
static bool take_number(const struct row *row, const char *command,
                        double *value)
{
    if (is_decimal_comma(row, command)) {
        return false;
    }
    if (!hbk_number_parse(optarg, value) ||
        !(*value >= row->low && *value <= row->high)) {
        (void)hbk_usage(command,
                        "--%s takes a number from %g to %g%s, not '%s'",
                        row->name, row->low, row->high, row->unit, optarg);
        return false;
    }
    if (row->kind == WHOLE && *value != floor(*value)) {
        (void)hbk_usage(command, "--%s takes a whole number, not '%s'",
                        row->name, optarg);
        return false;
    }
    return true;
}

static bool take_press(const struct row *row, struct hbk_options *options)
{
    if (options->n_fingerings == HBK_CURVES_MAX) {
        (void)hbk_usage(options->command, "--%s can be given %d times at most",
                        row->name, HBK_CURVES_MAX);
        return false;
    }
    options->fingerings[options->n_fingerings++] = optarg;
    return true;
}

static bool take(const struct row *row, struct hbk_options *options)
{
    char *const field = (char *)options + row->offset;
    switch (row->kind) {
    case SWITCH: {
        const bool on = true;
        memcpy(field, &on, sizeof(on));
        return true;
    }
    case WORD: {
        const char *const word = optarg;
        if (row->letter == 'o' && word[0] == '\0') {
            (void)hbk_usage(options->command, "--output names no file");
            return false;
        }
        memcpy(field, &word, sizeof(word));
        return true;
    }
    case NUMBER:
    case WHOLE: {
        double value = 0.0;
        if (!take_number(row, options->command, &value)) {
            return false;
        }
        memcpy(field, &value, sizeof(value));
        return true;
    }
    case PRESS:
        return take_press(row, options);
    }
    return true;
}

/*
 * The row of what getopt_long returned, NULL for nothing of ours; of two
 * rows with one name that which the command takes.
 */
static const struct row *row_of(int code, unsigned takes)
{
    const struct row *found =
        code >= CODE_FIRST ? &rows[code - CODE_FIRST] : NULL;
    for (size_t i = 0; i < N_ROWS; i++) {
        const struct row *const row = &rows[i];
        if (found == NULL && row->letter != 0 && row->letter == code) {
            found = row;
        }
        if (found != NULL && strcmp(row->name, found->name) == 0 &&
            (row->takes == 0 || (row->takes & takes) != 0)) {
            return row;
        }
    }
    return found;
}

/* Nothing given. */
static struct hbk_options nothing_given(const char *command)
{
    struct hbk_options options = {.command = command};
    const double none = (double)NAN;
    for (size_t i = 0; i < N_ROWS; i++) {
        if (rows[i].kind == NUMBER || rows[i].kind == WHOLE) {
            memcpy((char *)&options + rows[i].offset, &none, sizeof(none));
        }
    }
    return options;
}

/* The option that getopt_long stopped at; a short one may be in a row. */
static const char *stopped_at(int argc, char *argv[])
{
    const bool is_short = optopt > 0 && optopt < CODE_FIRST;
    return is_short && optind < argc && argv[optind][0] == '-' &&
                   strchr(argv[optind], optopt) != NULL
               ? argv[optind]
               : argv[optind - 1];
}

static bool refuse(const char *command, unsigned takes, int code,
                   const char *given)
{
    if (code == ':') {
        (void)hbk_usage(command, "%s wants a value", given);
        return false;
    }
    const char *names[N_ROWS];
    size_t n = 0;
    for (size_t i = 0; i < N_ROWS; i++) {
        if (rows[i].takes == 0 || (rows[i].takes & takes) != 0) {
            names[n++] = rows[i].name;
        }
    }
    const char *const word = given + strspn(given, "-");
    const char *near = hbk_text_nearest(word, names, n);
    for (size_t i = 0; i < n && word[0] != '\0'; i++) {
        /* Half a word means the whole one. */
        near = strncmp(names[i], word, strlen(word)) == 0 ? names[i] : near;
    }
    (void)hbk_usage(command, "there is no option '%s'%s%s%s", given,
                    near == NULL ? "" : "; did you mean '--",
                    near == NULL ? "" : near, near == NULL ? "" : "'?");
    return false;
}

bool hbk_options_read(int argc, char *argv[], unsigned takes,
                      struct hbk_options *options)
{
    struct option known[N_ROWS + 1] = {{NULL, 0, NULL, 0}};
    for (int i = 0; i < N_ROWS; i++) {
        known[i] = (struct option){rows[i].name,
                                   rows[i].kind == SWITCH ? no_argument
                                                          : required_argument,
                                   NULL, CODE_FIRST + i};
    }
    *options = nothing_given(argv[0]);
    opterr = 0;
    optind = 1;
    int code = 0;
    while ((code = getopt_long(argc, argv, ":o:q", known, NULL)) != -1) {
        const struct row *const row = row_of(code, takes);
        if (row == NULL) {
            return refuse(argv[0], takes, code, stopped_at(argc, argv));
        }
        if (row->takes != 0 && (takes & row->takes) == 0) {
            (void)hbk_usage(argv[0], "--%s does not belong to this command",
                            row->name);
            return false;
        }
        if (!take(row, options)) {
            return false;
        }
    }
    options->n_words = (size_t)(argc - optind);
    options->words = argv + optind;
    return true;
}
