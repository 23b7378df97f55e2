#ifndef HBK_CLI_CLI_H
#define HBK_CLI_CLI_H

#include "base/fault.h"
#include "base/text.h"
#include "cli/begin_words.h"
#include "notes/curve.h"

#include <stdio.h>

struct hbk_horn;
struct hbk_outgoing;

/*
 * The thin program round the library: arguments in, results on standard
 * output or in files, messages on standard error, one exit code.
 */
enum hbk_exit {
    HBK_EXIT_DONE = 0,
    HBK_EXIT_NO = 1, /* a sound question whose answer is no */
    HBK_EXIT_USAGE = 2,
    HBK_EXIT_INPUT = 3,  /* an input was refused */
    HBK_EXIT_OUTPUT = 4, /* an output could not be written */
    HBK_EXIT_MEMORY = 5  /* see base/arena.h */
};

/* What a command was asked. Numbers are NAN, pointers NULL when not given. */
struct hbk_options {
    const char *command;
    unsigned writes; /* of enum hbk_output: what its result can be */
    const char *output;
    const char *format;
    double a4_hz;
    double temperature_c;
    double room_c;
    double lip_cents;
    double dpi;
    double to_hz;
    double points;
    const char *crook;
    const char *mouthpiece;
    const char *stuck;
    const char *valve_slides;
    const char *reads;
    const char *names;
    const char *hold;
    const char *why;
    const char *root;
    const char *layout;
    const char *beside;
    const char *paper;
    const char *title;
    const char *report;
    size_t n_fingerings;
    const char *fingerings[HBK_CURVES_MAX];
    const char *run;
    const char *part;
    const char *voice, *line;
    const char *tune;
    const char *bars;
    const char *range, *knows;
    const char *sound;
    const char *octave;
    const char *transpose;
    const char *to_key;
    double tempo;
    double choices;
    struct hbk_begin_words begin;
    bool from_sounding, key_names;
    bool keep;
    bool bare;
    bool only_departures, practice;
    bool circles;
    bool sounding;
    bool large, fold;
    bool trills;
    bool all, brief, faults;
    bool plain;
    bool json, raw, player;
    double jobs;
    bool quiet;
    /* Set by a command: one file more, written with its result or not at all */
    const struct hbk_outgoing *with;
    size_t n_words; /* what is not an option: horns, files */
    char *const *words;
};

/*
 * Which options a command takes, besides --quiet and --help. What a command
 * never takes is in none of its sets, so that its --help is true.
 */
enum hbk_option_set {
    HBK_TAKES_SETTING = 1 << 0,    /* a4, room, crook, stuck and the like */
    HBK_TAKES_OUTPUT = 1 << 1,     /* output */
    HBK_TAKES_JSON = 1 << 2,       /* json */
    HBK_TAKES_PAPER = 1 << 3,      /* paper, dpi, title */
    HBK_TAKES_NAMES = 1 << 4,      /* sounding */
    HBK_TAKES_LIP = 1 << 5,        /* lip */
    HBK_TAKES_LAYOUT = 1 << 6,     /* layout, beside */
    HBK_TAKES_HOLD = 1 << 7,       /* hold, root, why, trills, all, plain */
    HBK_TAKES_RESONANCES = 1 << 8, /* fingering, to, points */
    HBK_TAKES_TUNE = 1 << 9,       /* tempo, line, tune, octave and the like */
    HBK_TAKES_PASSAGE = 1 << 10,   /* run, bars, practice and the like */
    HBK_TAKES_RAW = 1 << 11,       /* raw */
    HBK_TAKES_PITCH = 1 << 12,     /* a4, temperature, room, valve-slides */
    HBK_TAKES_STUCK = 1 << 18,     /* stuck */
    HBK_TAKES_BESIDE = 1 << 13,    /* beside, of a table */
    HBK_TAKES_REPORT = 1 << 14,    /* report, key-names */
    HBK_TAKES_JOBS = 1 << 15,      /* jobs */
    HBK_TAKES_FOLDER = 1 << 16,    /* output as a folder */
    HBK_TAKES_FORMAT = 1 << 17,    /* format */
    HBK_TAKES_READS = 1 << 19,     /* reads, names */
    HBK_TAKES_BRIEF = 1 << 20,     /* brief, of notes and fingerings */
    HBK_TAKES_NAMES_ALONE = 1 << 21, /* brief, of a list of horns */
    HBK_TAKES_BEGIN = 1 << 22,       /* kind, key, keys ... form, replace */
    HBK_TAKES_RANGE = 1 << 23,       /* range */
    HBK_TAKES_PRIMER = 1 << 24,      /* large, fold */
    HBK_TAKES_KNOWS = 1 << 26,       /* knows */
    HBK_TAKES_FAULTS = 1 << 25,      /* faults */
    HBK_TAKES_PLAYER = 1 << 27       /* player */
};

/* Reads the options of argv[0]; of wrong usage, told in one line, false. */
bool hbk_options_read(int argc, char *argv[], unsigned takes,
                      struct hbk_options *options);

/* The options of the sets in `takes`, a line each, for --help. */
void hbk_options_explain(struct hbk_text *out, unsigned takes);

/* Prints a line of wrong usage with a hint; returns HBK_EXIT_USAGE. */
int hbk_usage(const char *command, const char *fmt, ...) HBK_PRINTF(2, 3);

/* Prints every fault on standard error; `quiet` keeps warnings back. */
void hbk_print_faults(const struct hbk_faults *faults, bool quiet);
/* The same lines as text, for those who print them in their turn. */
void hbk_add_faults(const struct hbk_faults *faults, bool quiet,
                    struct hbk_text *text);

/* The exit code that goes with a failed status. */
int hbk_exit_of(enum hbk_status status);

/*
 * Reads a horn by path or by the name of a shipped one. On failure the
 * faults are printed, and the exit code returned is not HBK_EXIT_DONE.
 */
int hbk_load_horn(const char *word, bool quiet, struct hbk_horn *horn);

#endif
