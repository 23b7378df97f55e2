#ifndef HBK_BASE_MESSAGES_H
#define HBK_BASE_MESSAGES_H

/*
 * The stable numbers of what the program can say, HBK_H_CANNOT_READ and so
 * on; base/messages.def lists them with meanings and examples.
 */
enum hbk_message {
#define HBK_MESSAGE(number, name, meaning, example) name = (number),
#define HBK_RETIRED(number, meaning)
#include "base/messages.def"
#undef HBK_MESSAGE
#undef HBK_RETIRED
};

#endif
