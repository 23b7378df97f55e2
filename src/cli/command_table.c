#include "cli/command_table.h"

#include "cli/cli.h"
#include "cli/commands.h"
#include "cli/output.h"

const struct hbk_command hbk_commands[] = {
    {"check", "HORN...",
     "say what is understood of horn files, and what is wrong", "my-horn.yaml",
     HBK_TAKES_JSON, hbk_cmd_check, 0},
    {"horns", "[WORD...]", "list the horns that come with the program", "keyed",
     HBK_TAKES_JSON | HBK_TAKES_NAMES_ALONE, hbk_cmd_horns, 0},
    {"new", "[-o FILE]", "a horn file to begin with, or a form to measure by",
     "--kind cornet --key Eb --valves 3 -o e-flat.yaml",
     HBK_TAKES_BEGIN | HBK_TAKES_OUTPUT | HBK_TAKES_FORMAT | HBK_TAKES_PAPER,
     hbk_cmd_new, HBK_OUT_SHEETS},
    {"notes", "HORN", "the notes a horn reaches, their fingerings and tuning",
     "cornet-b-flat --a4 443",
     HBK_TAKES_SETTING | HBK_TAKES_PLAYER | HBK_TAKES_RAW | HBK_TAKES_LIP |
         HBK_TAKES_OUTPUT | HBK_TAKES_FORMAT | HBK_TAKES_JSON | HBK_TAKES_HOLD |
         HBK_TAKES_NAMES | HBK_TAKES_BESIDE | HBK_TAKES_READS | HBK_TAKES_BRIEF,
     hbk_cmd_notes, HBK_OUT_TEXT | HBK_OUT_CSV | HBK_OUT_JSON},
    {"chart", "HORN -o FILE", "a fingering chart to print: pdf, svg or png",
     "keyed-bugle-b-flat-6 -o chart.pdf",
     HBK_TAKES_SETTING | HBK_TAKES_PLAYER | HBK_TAKES_RAW | HBK_TAKES_LIP |
         HBK_TAKES_OUTPUT | HBK_TAKES_FORMAT | HBK_TAKES_PAPER |
         HBK_TAKES_LAYOUT | HBK_TAKES_NAMES | HBK_TAKES_READS,
     hbk_cmd_chart, HBK_OUT_SHEETS},
    {"passage", "HORN TUNE", "fingerings for a tune at its tempo",
     "cornet-b-flat tune.abc -o part.pdf",
     HBK_TAKES_SETTING | HBK_TAKES_PLAYER | HBK_TAKES_RAW | HBK_TAKES_LIP |
         HBK_TAKES_OUTPUT | HBK_TAKES_FORMAT | HBK_TAKES_JSON | HBK_TAKES_TUNE |
         HBK_TAKES_PASSAGE | HBK_TAKES_PAPER | HBK_TAKES_NAMES |
         HBK_TAKES_READS | HBK_TAKES_BRIEF,
     hbk_cmd_passage,
     HBK_OUT_TEXT | HBK_OUT_JSON | HBK_OUT_ABC | HBK_OUT_MUSICXML |
         HBK_OUT_MXL | HBK_OUT_SHEETS},
    {"slides", "HORN", "how far to pull every slide, or a card to print",
     "cornet-b-flat --room 15",
     HBK_TAKES_SETTING | HBK_TAKES_PLAYER | HBK_TAKES_LIP | HBK_TAKES_OUTPUT |
         HBK_TAKES_FORMAT | HBK_TAKES_JSON | HBK_TAKES_PAPER | HBK_TAKES_READS,
     hbk_cmd_slides,
     HBK_OUT_TEXT | HBK_OUT_CSV | HBK_OUT_JSON | HBK_OUT_SHEETS},
    {"pitch", "HORN...", "a common pitch for these horns, and who must pull",
     "cornet-b-flat bass-e-flat --temperature 18",
     HBK_TAKES_PITCH | HBK_TAKES_STUCK | HBK_TAKES_PLAYER | HBK_TAKES_OUTPUT |
         HBK_TAKES_FORMAT | HBK_TAKES_JSON | HBK_TAKES_JOBS,
     hbk_cmd_pitch, HBK_OUT_TEXT | HBK_OUT_CSV | HBK_OUT_JSON},
    {"choose", "TUNE HORN...", "which of these horns suits a part",
     "tune.abc cornet-b-flat cornopean-b-flat",
     HBK_TAKES_SETTING | HBK_TAKES_PLAYER | HBK_TAKES_RAW | HBK_TAKES_LIP |
         HBK_TAKES_OUTPUT | HBK_TAKES_FORMAT | HBK_TAKES_JSON | HBK_TAKES_TUNE |
         HBK_TAKES_JOBS,
     hbk_cmd_choose, HBK_OUT_TEXT | HBK_OUT_CSV | HBK_OUT_JSON},
    {"resonances", "HORN",
     "the impedance of the tube and its maxima, or a plot",
     "cornet-b-flat-bore --fingering 1-3 -o curve.pdf",
     HBK_TAKES_SETTING | HBK_TAKES_RAW | HBK_TAKES_OUTPUT | HBK_TAKES_FORMAT |
         HBK_TAKES_JSON | HBK_TAKES_PAPER | HBK_TAKES_RESONANCES,
     hbk_cmd_resonances, HBK_OUT_CSV | HBK_OUT_JSON | HBK_OUT_SHEETS},
    {"scales", "HORN", "how well each written key suits a horn",
     "cornet-b-flat -o scales.pdf",
     HBK_TAKES_SETTING | HBK_TAKES_PLAYER | HBK_TAKES_RAW | HBK_TAKES_LIP |
         HBK_TAKES_OUTPUT | HBK_TAKES_FORMAT | HBK_TAKES_JSON |
         HBK_TAKES_PAPER | HBK_TAKES_READS,
     hbk_cmd_scales,
     HBK_OUT_TEXT | HBK_OUT_CSV | HBK_OUT_JSON | HBK_OUT_SHEETS},
    {"lessons", "HORN", "what to learn first on a horn, note by note, and why",
     "keyed-bugle-c-6 --knows cornet-b-flat",
     HBK_TAKES_SETTING | HBK_TAKES_PLAYER | HBK_TAKES_RAW | HBK_TAKES_LIP |
         HBK_TAKES_OUTPUT | HBK_TAKES_FORMAT | HBK_TAKES_JSON |
         HBK_TAKES_READS | HBK_TAKES_RANGE | HBK_TAKES_KNOWS,
     hbk_cmd_lessons, HBK_OUT_TEXT | HBK_OUT_JSON},
    {"primer", "HORN -o FILE",
     "a booklet to learn a horn from: lessons, tunes, scales",
     "keyed-bugle-c-6 --knows cornet-b-flat -o primer.pdf",
     HBK_TAKES_SETTING | HBK_TAKES_PLAYER | HBK_TAKES_RAW | HBK_TAKES_LIP |
         HBK_TAKES_OUTPUT | HBK_TAKES_FORMAT | HBK_TAKES_PAPER |
         HBK_TAKES_READS | HBK_TAKES_RANGE | HBK_TAKES_KNOWS | HBK_TAKES_PRIMER,
     hbk_cmd_primer, HBK_OUT_SHEETS},
    {"print", "ORDER [-o FOLDER]", "every sheet of an order file (YAML)",
     "order.yaml -o sheets", HBK_TAKES_FOLDER | HBK_TAKES_JOBS, hbk_cmd_print,
     0},
    {"fit", "HORN [READINGS]", "fit a horn file to what your tuner showed",
     "cornet-b-flat readings.yaml -o my-cornet.yaml",
     HBK_TAKES_OUTPUT | HBK_TAKES_JSON | HBK_TAKES_REPORT | HBK_TAKES_PAPER,
     hbk_cmd_fit, 0},
    {"identify", "READINGS HORN...",
     "which of these layouts an unsigned horn has, or what is wrong with one",
     "readings.yaml cornet-b-flat cornet-e-flat-rotary",
     HBK_TAKES_OUTPUT | HBK_TAKES_FORMAT | HBK_TAKES_JSON | HBK_TAKES_FAULTS,
     hbk_cmd_identify, HBK_OUT_TEXT | HBK_OUT_JSON},
};

const size_t hbk_n_commands = sizeof(hbk_commands) / sizeof(hbk_commands[0]);

_Static_assert(sizeof(hbk_commands) / sizeof(hbk_commands[0]) <=
                   HBK_COMMANDS_MOST,
               "whoever lists the commands has room for so many");
