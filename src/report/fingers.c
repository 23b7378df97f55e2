#include "report/fingers.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "report/screen.h"

void hbk_report_fingers(const struct hbk_notes *notes, struct hbk_text *out)
{
    const struct hbk_horn *const horn = notes->horn;
    for (size_t i = 0; i < horn->n_controls; i++) {
        const struct hbk_control *const control = &horn->controls[i];
        char label[HBK_LABEL_SIZE];
        hbk_text_addf(
            out, "%s%s" HBK_KEPT_BLANK "%s%s", i == 0 ? "Fingers: " : ", ",
            hbk_horn_control_label(horn, i, label, sizeof(label)),
            control->n_fingers > 0 ? hbk_finger_name(control->fingers[0])
                                   : "no finger",
            control->stands_open ? " (open at rest)" : "");
    }
    hbk_text_add(out, horn->n_controls > 0 ? ".\n" : "");
}
