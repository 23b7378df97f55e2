#ifndef HBK_CLI_TERMINAL_H
#define HBK_CLI_TERMINAL_H

#include "base/text.h"
#include "report/screen.h"

/*
 * The screen of what goes to `path`: the terminal for NULL or "-", where
 * standard output is one; else that of a file.
 */
struct hbk_screen hbk_terminal_of(const char *path);

/*
 * From now on, where standard error is a terminal, it says every second how
 * long the command has been at work, in one line that is written over, until
 * hbk_terminal_wipe(); that is to be called before anything is printed.
 */
void hbk_terminal_watch(const char *command);
void hbk_terminal_wipe(void);

/* Of messages on standard error: a line each, or as wide as its terminal. */
struct hbk_screen hbk_terminal_of_messages(void);

/* Prints such messages, laid out and with color for standard error. */
void hbk_terminal_messages(const struct hbk_text *lines);

/* Whether lines on this stream, a file descriptor, may have color. */
bool hbk_terminal_has_color(int stream);

#endif
