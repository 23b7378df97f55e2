#ifndef HBK_BASE_ENDING_H
#define HBK_BASE_ENDING_H

#include <stdbool.h>

/*
 * What the ending of a file's name says it is. Small and capital letters are
 * alike, something must stand before the ending, and NULL has none.
 */
bool hbk_ends(const char *name, const char *ending);

/* .yaml or .yml: horns, orders and readings. */
bool hbk_ends_as_yaml(const char *name);
/* .musicxml, .xml or .mxl. */
bool hbk_ends_as_musicxml(const char *name);
/* One of these or .abc. */
bool hbk_ends_as_tune(const char *name);

#endif
