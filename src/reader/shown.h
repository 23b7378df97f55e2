#ifndef HBK_READER_SHOWN_H
#define HBK_READER_SHOWN_H

enum { HBK_SHOWN_SIZE = 176 };

/*
 * The user's words as a message quotes them: at most 40 characters, control
 * characters as '?'. Returns `shown`.
 */
char *hbk_shown(const char *text, char shown[HBK_SHOWN_SIZE]);

#endif
