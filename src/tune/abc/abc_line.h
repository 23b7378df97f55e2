#ifndef HBK_TUNE_ABC_ABC_LINE_H
#define HBK_TUNE_ABC_ABC_LINE_H

#include "tune/abc/abc.h"

/* At the end: leaves the line of that number (tune/melody/line.h). */
void hbk_abc_line(struct hbk_abc *abc, int number);

#endif
