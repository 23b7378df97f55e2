#ifndef HBK_RENDER_MESSAGES_H
#define HBK_RENDER_MESSAGES_H

/* The messages of this folder; see the register in DEVELOPERS.md. */
enum {
    HBK_H_FONT_MISSING = 150,
    HBK_H_NOT_THE_FONT = 151,
    HBK_H_FONT_LIBRARY = 152,
    HBK_H_NO_CHARACTER = 153,
    HBK_H_DRAWING = 154,
    HBK_H_EPOCH = 155
};

#endif
