#ifndef HBK_TUNE_ABC_ABC_GROUP_H
#define HBK_TUNE_ABC_ABC_GROUP_H

#include "tune/abc/abc.h"

/* What joins notes or adorns them. */

/* The standard decorations by letter. */
void hbk_abc_default_symbols(struct hbk_abc *abc);
/* Adds the decoration of this name to the next note. */
void hbk_abc_decorate(struct hbk_abc *abc, const char *name, size_t length);

/* > and < after a note. */
void hbk_abc_broken(struct hbk_abc *abc);
void hbk_abc_tie(struct hbk_abc *abc);
/* ( before a digit, at `abc->at`. */
void hbk_abc_tuplet(struct hbk_abc *abc);
/* ), at `abc->at`. */
void hbk_abc_slur_end(struct hbk_abc *abc);

#endif
