#ifndef HBK_REPORT_STUCK_H
#define HBK_REPORT_STUCK_H

#include "base/json.h"
#include "notes/account.h"

/*
 * What is lost with something stuck, what still plays and by what, in a few
 * lines for a player; and as the member "stuck" of an open JSON object.
 */
void hbk_stuck_text(const struct hbk_notes *notes,
                    const struct hbk_account *account, struct hbk_text *out);
void hbk_stuck_json(const struct hbk_horn *horn,
                    const struct hbk_account *account, struct hbk_json *json);

#endif
