#ifndef HBK_PAGE_INK_H
#define HBK_PAGE_INK_H

#include "page/mark.h"

/* How light an ink is, from black (0) to white (1), as sRGB counts. */
double hbk_ink_level(enum hbk_ink ink);

#endif
