#ifndef HBK_REPORT_HELD_H
#define HBK_REPORT_HELD_H

#include "base/json.h"
#include "notes/held.h"

/* The member "chord" of an open JSON object: which chord is held. */
void hbk_held_json(const struct hbk_held *held, struct hbk_json *json);

#endif
