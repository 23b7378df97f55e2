#ifndef HBK_TUNE_MUSICXML_MUSICXML_TYPE_H
#define HBK_TUNE_MUSICXML_MUSICXML_TYPE_H

/* `value` for the name of a note type, HBK_TUNE_NO_VALUE for others. */
int hbk_musicxml_value(const char *name);
/* The name for a value from -1 to 10. */
const char *hbk_musicxml_type(int value);

#endif
