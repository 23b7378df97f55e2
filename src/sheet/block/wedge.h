#ifndef HBK_SHEET_BLOCK_WEDGE_H
#define HBK_SHEET_BLOCK_WEDGE_H

/* The deviation of a note as a signed number, "+4", "−14", "±0", into `text`.
 */
enum { HBK_CENTS_SIZE = 16 };
char *hbk_cents_text(double cents, char text[HBK_CENTS_SIZE]);

#endif
