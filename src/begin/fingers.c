#include "begin/fingers.h"

#include "base/text.h"

const char *hbk_fingers_written(struct hbk_arena *arena,
                                const struct hbk_control *control)
{
    struct hbk_text text = {.arena = arena};
    const bool is_list = control->n_fingers > 1;
    for (size_t i = 0; i < control->n_fingers; i++) {
        hbk_text_addf(&text, "%s%s",
                      i > 0     ? ", "
                      : is_list ? "["
                                : "",
                      hbk_finger_name(control->fingers[i]));
    }
    hbk_text_add(&text, is_list ? "]" : "");
    return hbk_text_string(&text);
}
