#include "cli/cli.h"

#include "base/file.h"
#include "base/text.h"

#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static const struct command {
    const char *name;
    const char *takes;
    const char *does;
    int (*run)(int argc, char *argv[]);
} commands[] = {
    {"check", "HORN...", "look through horn files and say what is wrong",
     hbk_cmd_check},
    {"horns", "", "list the horns that come with the program", hbk_cmd_horns},
    {"notes", "HORN", "the notes a horn reaches, their fingerings and tuning",
     hbk_cmd_notes},
    {"chart", "HORN -o FILE", "a fingering chart to print: pdf, svg or png",
     hbk_cmd_chart},
    {"column", "HORN", "the impedance of the tube and its maxima, or a plot",
     hbk_cmd_column},
};

enum { N_COMMANDS = sizeof(commands) / sizeof(commands[0]) };

static void print_help(FILE *to)
{
    fputs("Usage: hornbook COMMAND ...\n\n"
          "HORN is a horn file (YAML) or the name of a shipped horn.\n\n",
          to);
    for (size_t i = 0; i < N_COMMANDS; i++) {
        fprintf(to, "  %-6s %-13s %s\n", commands[i].name, commands[i].takes,
                commands[i].does);
    }
    fputs("\nnotes and chart:\n"
          "  --a4 HZ            pitch of A4 (the horn's own)\n"
          "  --temperature C    of the air in the tube, degrees Celsius\n"
          "  --crook NAME       with that crook or shank in\n"
          "  --stuck LIST       key:3=open,valve:2=down: what cannot move\n"
          "  --lip CENTS        how far you trust yourself to bend (60)\n"
          "  --raw              slides left in, not tuned first\n"
          "  --sounding         also name the notes as they sound\n"
          "  -o, --output FILE  where the result goes; - is standard output; "
          "further\n"
          "                     pages of an svg or png go to FILE-2 and so on\n"
          "  --format NAME      text, csv, json; pdf, svg, png (else by the\n"
          "                     ending of FILE)\n"
          "notes:\n"
          "  --json             the same as --format json\n"
          "  --hold \"E5 G5\"     best-tuned fingerings of notes to be held\n"
          "chart:\n"
          "  --layout wall      the full chart\n"
          "  --paper NAME       A4 (usual), A5, A6, Letter\n"
          "  --title TEXT       in place of the horn's name\n"
          "  --dpi N            of a png (150)\n"
          "column (with --paper, --title, --dpi and --json too):\n"
          "  --fingering 1-3    the press to look at; up to 6 times (0)\n"
          "  --to HZ            upper end of the curve (1400)\n"
          "  --points N         of the curve (1000)\n"
          "all:\n"
          "  -q, --quiet        no warnings\n"
          "  -h, --help         this text; --version tells which hornbook\n\n"
          "Exit: 0 done, 1 the answer is no, 2 usage, 3 input refused,\n"
          "4 output not written, 5 out of memory.\n",
          to);
}

static void on_signal(int number)
{
    hbk_file_tidy();
    _exit(128 + number);
}

int main(int argc, char *argv[])
{
    /* Only what a letter is: numbers stay as every file writes them. */
    (void)setlocale(LC_CTYPE, "");
    hbk_arena_on_exhaustion(hbk_file_tidy);
    (void)signal(SIGINT, on_signal);
    (void)signal(SIGTERM, on_signal);
    (void)signal(SIGXFSZ, SIG_IGN); /* a write then fails, and is told */
    if (argc < 2) {
        print_help(stderr);
        return HBK_EXIT_USAGE;
    }
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++) {
        if (strcmp(argv[i], "--help") == 0 || strcmp(argv[i], "-h") == 0) {
            print_help(stdout);
            return fflush(stdout) == 0 ? HBK_EXIT_DONE : HBK_EXIT_OUTPUT;
        }
    }
    if (strcmp(argv[1], "--version") == 0) {
        printf("hornbook %s\nMIT licence, the hornbook authors\n", HBK_VERSION);
        return fflush(stdout) == 0 ? HBK_EXIT_DONE : HBK_EXIT_OUTPUT;
    }
    const char *names[N_COMMANDS];
    for (size_t i = 0; i < N_COMMANDS; i++) {
        names[i] = commands[i].name;
        if (strcmp(argv[1], commands[i].name) == 0) {
            return commands[i].run(argc - 1, argv + 1);
        }
    }
    const char *const near = hbk_text_nearest(argv[1], names, N_COMMANDS);
    fprintf(stderr, "hornbook: there is no command '%s'%s%s%s\n", argv[1],
            near == NULL ? "" : "; did you mean '", near == NULL ? "" : near,
            near == NULL ? "" : "'?");
    fputs("Try 'hornbook --help'.\n", stderr);
    return HBK_EXIT_USAGE;
}
