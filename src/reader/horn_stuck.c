#include "reader/work.h"

#include "base/messages.h"
#include "base/text.h"
#include "horn/horn.h"
#include "horn/stuck.h"
#include "horn/stuck_list.h"
#include "reader/based_stuck.h"

/* What is broken: `stuck`, a text (horn/stuck.h) or a list of such. */

/* One text, checked alone so that its fault stands at its place. */
static bool read_item(const struct hbk_work *work, struct hbk_asked asked,
                      struct hbk_text *list)
{
    struct hbk_arena *const arena = work->top.arena;
    struct hbk_text why = {.arena = arena};
    struct hbk_stuck unused;
    const char *text = NULL;
    if (asked.node->kind != HBK_SCALAR) {
        hbk_value_fault(asked, HBK_H_NO_VALUE,
                        "write what is stuck without blanks around the colon, "
                        "as in key:3=open");
        return false;
    }
    if (!hbk_value_text(asked, HBK_STUCK_COLUMNS_MAX, arena, &text)) {
        return false;
    }
    if (!hbk_stuck_parse(work->horn, NULL, text, &unused, &why)) {
        hbk_value_fault(asked, HBK_H_STUCK, "%s", hbk_text_string(&why));
        return false;
    }
    hbk_text_addf(list, "%s%s", list->length == 0 ? "" : ", ", text);
    return true;
}

void hbk_work_stuck(struct hbk_work *work)
{
    struct hbk_asked asked = hbk_fields_ask(&work->top, "stuck");
    const struct hbk_node *const node = asked.node;
    if (node == NULL || node->is_faulty) {
        return;
    }
    const bool is_list = node->kind == HBK_LIST;
    if (is_list && !hbk_value_list(asked, 0, HBK_STUCK_ITEMS_MAX)) {
        return;
    }
    struct hbk_text list = {.arena = work->top.arena};
    struct hbk_text why = {.arena = work->top.arena};
    bool is_good = true;
    for (size_t i = 0; i < (is_list ? node->n : 1); i++) {
        asked.node = is_list ? &node->items[i] : node;
        is_good = read_item(work, asked, &list) && is_good;
    }
    asked.node = node;
    if (is_good && list.length > 0 &&
        !hbk_stuck_parse(work->horn, NULL, hbk_text_string(&list),
                         &work->horn->stuck, &why)) {
        hbk_value_fault(asked, HBK_H_STUCK, "%s", hbk_text_string(&why));
    }
}
