#ifndef HBK_CLI_BEGIN_WORDS_H
#define HBK_CLI_BEGIN_WORDS_H

#include <stdbool.h>

/*
 * What options say of a horn that a file is begun for, in the words that
 * begin/answers.h reads; NULL for what was not given.
 */
struct hbk_begin_words {
    const char *pattern;
    const char *kind;
    const char *key;
    const char *keys;
    const char *valves;
    const char *open;
    const char *called;
    const char *lowers;
    const char *action;
    const char *loops;
    const char *clef;
    const char *length;
    const char *name;
    bool replace; /* a file that is there */
    bool form;    /* in place of the file */
};

#endif
