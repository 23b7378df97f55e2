#ifndef HBK_BEGIN_WRITE_PARTS_H
#define HBK_BEGIN_WRITE_PARTS_H

#include "base/text.h"
#include "begin/draft.h"

/* The parts of a horn file that are lists; nothing for what it has not. */
void hbk_write_keys(const struct hbk_draft *draft, struct hbk_text *out);
void hbk_write_valves(const struct hbk_draft *draft, struct hbk_text *out);
void hbk_write_slides(const struct hbk_draft *draft, struct hbk_text *out);
void hbk_write_crooks(const struct hbk_draft *draft, struct hbk_text *out);

#endif
