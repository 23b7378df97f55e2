#ifndef HBK_CLI_WHICH_OUT_H
#define HBK_CLI_WHICH_OUT_H

#include "base/text.h"
#include "notes/which.h"

/* The layouts in order of likelihood, for reading on a terminal. */
void hbk_which_text(const struct hbk_which *which, struct hbk_text *out);

/* The same for other programs; its fields are public. */
void hbk_which_json(const struct hbk_which *which, struct hbk_text *out);

#endif
