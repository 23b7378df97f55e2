#include "cli/cli.h"

#include "base/file.h"
#include "base/text.h"
#include "cli/command_table.h"
#include "cli/terminal.h"

#include <locale.h>
#include <signal.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

static void explain_all(struct hbk_text *out)
{
    hbk_text_add(out, "Usage: hornbook COMMAND ...\n\n"
                      "HORN is a horn file (YAML) or the name of a shipped "
                      "horn; where several are taken, also a folder of horn "
                      "files.\n\n");
    for (size_t i = 0; i < hbk_n_commands; i++) {
        hbk_text_addf(out, "  %-10s %-17s " HBK_HANG "%s\n",
                      hbk_commands[i].name, hbk_commands[i].words,
                      hbk_commands[i].does);
    }
    hbk_text_add(out, "\n'hornbook help COMMAND' tells the options of a "
                      "command; 'hornbook --version' tells which hornbook "
                      "this is.\n\n"
                      "Exit: 0 done, 1 the answer is no, 2 usage, 3 input "
                      "refused, 4 output not written, 5 out of memory.\n");
}

static void explain_command(const struct hbk_command *command,
                            struct hbk_text *out)
{
    hbk_text_addf(out, "Usage: hornbook %s %s\n%s\n\n", command->name,
                  command->words, command->does);
    hbk_options_explain(out, command->takes);
    hbk_text_addf(out, "\nFor example:\n  hornbook %s %s\n", command->name,
                  command->example);
}

/* The help of a command, or of all for NULL. */
static void print_help(const struct hbk_command *command, FILE *to)
{
    struct hbk_arena arena = {0};
    struct hbk_text help = {.arena = &arena};
    struct hbk_text laid = {.arena = &arena};
    const struct hbk_screen screen =
        to == stdout ? hbk_terminal_of(NULL) : hbk_screen_of_file();
    if (command == NULL) {
        explain_all(&help);
    } else {
        explain_command(command, &help);
    }
    hbk_screen_lay(&screen, hbk_text_string(&help), &laid);
    fputs(hbk_text_string(&laid), to);
    hbk_arena_finish(&arena);
}

static int flushed(void)
{
    return fflush(stdout) == 0 ? HBK_EXIT_DONE : HBK_EXIT_OUTPUT;
}

static bool is_one_of(const char *word, const char *a, const char *b)
{
    return strcmp(word, a) == 0 || strcmp(word, b) == 0;
}

static bool wants_help(int argc, char *argv[])
{
    for (int i = 1; i < argc && strcmp(argv[i], "--") != 0; i++) {
        if (is_one_of(argv[i], "--help", "-h")) {
            return true;
        }
    }
    return false;
}

static int run_command(const struct hbk_command *command, int argc,
                       char *argv[])
{
    if (wants_help(argc, argv)) {
        print_help(command, stdout);
        return flushed();
    }
    struct hbk_options options;
    if (!hbk_options_read(argc, argv, command->takes, &options)) {
        return HBK_EXIT_USAGE;
    }
    options.writes = command->writes;
    if (!options.quiet) {
        hbk_terminal_watch(command->name);
    }
    const int code = command->run(&options);
    hbk_terminal_wipe();
    return code;
}

/* The command of that name, or NULL with the nearest one told. */
static const struct hbk_command *find_command(const char *name)
{
    const char *names[HBK_COMMANDS_MOST + 1];
    for (size_t i = 0; i < hbk_n_commands; i++) {
        names[i] = hbk_commands[i].name;
        if (strcmp(name, names[i]) == 0) {
            return &hbk_commands[i];
        }
    }
    names[hbk_n_commands] = "help";
    const char *const near = hbk_text_nearest(name, names, hbk_n_commands + 1);
    fprintf(stderr, "hornbook: there is no command '%s'%s%s%s\n", name,
            near == NULL ? "" : "; did you mean '", near == NULL ? "" : near,
            near == NULL ? "" : "'?");
    fputs("Try 'hornbook --help'.\n", stderr);
    return NULL;
}

/* hornbook help, or hornbook help COMMAND; options are passed over. */
static int help(int n_words, char *words[])
{
    while (n_words > 0 && words[0][0] == '-') {
        words++;
        n_words--;
    }
    while (n_words > 0 && words[n_words - 1][0] == '-') {
        n_words--;
    }
    if (n_words > 1) {
        return hbk_usage("help", "name one command, not %d", n_words);
    }
    if (n_words == 0 || strcmp(words[0], "help") == 0) {
        print_help(NULL, stdout);
        return flushed();
    }
    const struct hbk_command *const command = find_command(words[0]);
    if (command == NULL) {
        return HBK_EXIT_USAGE;
    }
    print_help(command, stdout);
    return flushed();
}

static void on_signal(int number)
{
    /* It only unlinks and renames, as a handler may (POSIX 2.4.3). */
    hbk_file_tidy(); /* NOLINT(bugprone-signal-handler) */
    _exit(128 + number);
}

/*
 * GLib, which sets the text, stops a program so where it gets no memory or no
 * thread; no call of it returns that as a failure.
 */
static void on_trap(int number)
{
    static const char words[] = "hornbook: out of memory\n";
    (void)number;
    hbk_file_tidy(); /* NOLINT(bugprone-signal-handler) */
    (void)!write(STDERR_FILENO, words, sizeof(words) - 1);
    _exit(HBK_EXIT_MEMORY);
}

/* Tidies up on a signal, unless whoever called has it ignored. */
static void tidy_on(int number)
{
    if (signal(number, on_signal) == SIG_IGN) {
        (void)signal(number, SIG_IGN);
    }
}

int main(int argc, char *argv[])
{
    /* Only what a letter is: numbers stay as every file writes them. */
    (void)setlocale(LC_CTYPE, "");
    hbk_arena_on_exhaustion(hbk_file_tidy);
    tidy_on(SIGINT);
    tidy_on(SIGTERM);
    (void)signal(SIGTRAP, on_trap);
    (void)signal(SIGXFSZ, SIG_IGN); /* a write then fails, and is told */
    if (argc < 2) {
        print_help(NULL, stderr);
        return HBK_EXIT_USAGE;
    }
    if (is_one_of(argv[1], "--help", "-h")) {
        return help(0, NULL);
    }
    if (strcmp(argv[1], "help") == 0) {
        return help(argc - 2, argv + 2);
    }
    if (strcmp(argv[1], "--version") == 0) {
        printf("hornbook %s\nMIT license, the hornbook authors\n", HBK_VERSION);
        return flushed();
    }
    const struct hbk_command *const command = find_command(argv[1]);
    return command == NULL ? HBK_EXIT_USAGE
                           : run_command(command, argc - 1, argv + 1);
}
