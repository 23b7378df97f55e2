#include "cli/terminal.h"

#include <langinfo.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/time.h>
#include <unistd.h>

/* Lines that are longer are hard to read, lines that are shorter no table. */
enum { COLUMNS_LEAST = 40, COLUMNS_MOST = 120 };

bool hbk_terminal_has_color(int stream)
{
    const char *const kind = getenv("TERM");
    const char *const none =
        getenv("NO_COLOR"); /* common practice, no source */
    return isatty(stream) != 0 && (none == NULL || none[0] == '\0') &&
           kind != NULL && kind[0] != '\0' && strcmp(kind, "dumb") != 0;
}

static size_t columns_of(int stream)
{
    struct winsize size = {0};
    if (ioctl(stream, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) {
        return HBK_SCREEN_COLUMNS;
    }
    return size.ws_col < COLUMNS_LEAST  ? COLUMNS_LEAST
           : size.ws_col > COLUMNS_MOST ? COLUMNS_MOST
                                        : size.ws_col;
}

struct hbk_screen hbk_terminal_of(const char *path)
{
    if ((path != NULL && strcmp(path, "-") != 0) ||
        isatty(STDOUT_FILENO) == 0) {
        return hbk_screen_of_file();
    }
    const bool has_utf8 = strcmp(nl_langinfo(CODESET), "UTF-8") == 0;
    return (struct hbk_screen){.columns = columns_of(STDOUT_FILENO),
                               .has_signs = has_utf8,
                               .has_utf8 = has_utf8,
                               .has_color =
                                   hbk_terminal_has_color(STDOUT_FILENO)};
}

struct hbk_screen hbk_terminal_of_messages(void)
{
    return (struct hbk_screen){.columns = isatty(STDERR_FILENO) != 0
                                              ? columns_of(STDERR_FILENO)
                                              : SIZE_MAX,
                               .has_utf8 = true};
}

/* What a signal handler may look at: the command, and the seconds so far. */
static const char *volatile watched;
static volatile sig_atomic_t seconds;

static void put(const char *text)
{
    /* Nothing can be done where even that fails. */
    if (write(STDERR_FILENO, text, strlen(text)) < 0) {
        return;
    }
}

static void on_second(int number)
{
    (void)number;
    const char *const name = watched;
    char digits[16];
    size_t at = sizeof(digits) - 1;
    digits[at] = '\0';
    if (name == NULL) {
        return; /* wiped meanwhile, by another thread */
    }
    seconds++;
    for (int left = seconds; left > 0 && at > 0; left /= 10) {
        digits[--at] = (char)('0' + left % 10);
    }
    put("\r");
    put(name);
    put(": at work for ");
    put(digits + at);
    put(" s ");
}

static void set_timer(time_t every_s)
{
    const struct itimerval timer = {.it_interval = {.tv_sec = every_s},
                                    .it_value = {.tv_sec = every_s}};
    (void)setitimer(ITIMER_REAL, &timer, NULL);
}

void hbk_terminal_watch(const char *command)
{
    struct sigaction action = {.sa_handler = on_second, .sa_flags = SA_RESTART};
    if (isatty(STDERR_FILENO) == 0) {
        return;
    }
    watched = command;
    (void)sigemptyset(&action.sa_mask);
    (void)sigaction(SIGALRM, &action, NULL);
    set_timer(1);
}

void hbk_terminal_wipe(void)
{
    if (watched == NULL) {
        return;
    }
    set_timer(0);
    watched = NULL;
    if (seconds > 0) {
        put("\r\x1B[K");
    }
}

/* The word that says how bad it is stands out on a terminal that can. */
static void print_colored(const char *lines)
{
    static const struct {
        const char *word, *color;
    } kinds[] = {{"error:", "\x1B[1;31m"}, {"warning:", "\x1B[1;33m"}};
    if (!hbk_terminal_has_color(STDERR_FILENO)) {
        fputs(lines, stderr);
        return;
    }
    for (const char *line = lines; *line != '\0';) {
        const size_t length = strcspn(line, "\n") + 1;
        const char *word = NULL;
        size_t k = 0;
        for (size_t i = 0; i < 2 && word == NULL; i++) {
            word = strstr(line, kinds[i].word);
            word = word != NULL && word < line + length ? word : NULL;
            k = i;
        }
        if (word == NULL) {
            fprintf(stderr, "%.*s", (int)length, line);
        } else {
            const int n = (int)strlen(kinds[k].word);
            fprintf(stderr, "%.*s%s%.*s\x1B[0m%.*s", (int)(word - line), line,
                    kinds[k].color, n, word, (int)(line + length - word) - n,
                    word + n);
        }
        line += length;
    }
}

void hbk_terminal_messages(const struct hbk_text *lines)
{
    const struct hbk_screen screen = hbk_terminal_of_messages();
    struct hbk_text laid = {.arena = lines->arena};
    if (lines->length > 0) {
        hbk_screen_lay(&screen, hbk_text_string(lines), &laid);
        hbk_terminal_wipe();
        print_colored(hbk_text_string(&laid));
    }
}
