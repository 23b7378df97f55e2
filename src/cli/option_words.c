#include "cli/option_list.h"

#include "begin/horn_kind.h"
#include "horn/about.h"
#include "horn/control.h"
#include "notes/setting.h"
#include "page/paper.h"
#include "sheet/chart/chart.h"

#include <string.h>

static const char *layout_word(size_t i)
{
    return i < HBK_LAYOUT_COUNT ? hbk_layout_name((enum hbk_layout)i) : NULL;
}

static const char *paper_word(size_t i)
{
    return i < HBK_PAPER_COUNT ? hbk_paper_name((enum hbk_paper)i) : NULL;
}

static const char *kind_word(size_t i)
{
    const struct hbk_horn_kind *kinds = NULL;
    return i < hbk_horn_kinds(&kinds) ? kinds[i].word : NULL;
}

/* All but the first, which stands for nothing said. */
static const char *action_word(size_t i)
{
    const size_t action = 1 + i;
    return action < HBK_ACTION_COUNT ? hbk_action_name((enum hbk_action)action)
                                     : NULL;
}

static const char *clef_word(size_t i)
{
    return i < HBK_CLEF_COUNT ? hbk_clef_name((enum hbk_clef)i) : NULL;
}

static const char *naming_word(size_t i)
{
    return i < HBK_NAMING_COUNT ? hbk_naming_name((enum hbk_naming)i) : NULL;
}

static const char *valve_slides_word(size_t i)
{
    return i < HBK_VALVE_SLIDES_COUNT
               ? hbk_valve_slides_name((enum hbk_valve_slides)i)
               : NULL;
}

/* All but the first, which stands for nothing said. */
static const char *reads_word(size_t i)
{
    const size_t reads = HBK_READS_OWN + 1 + i;
    return reads < HBK_READS_COUNT ? hbk_reads_name((enum hbk_reads)reads)
                                   : NULL;
}

const char *hbk_option_word(const char *option, size_t i)
{
    static const struct {
        const char *option;
        const char *(*word)(size_t i);
    } fixed[] = {{"action", action_word}, {"clef", clef_word},
                 {"kind", kind_word},     {"layout", layout_word},
                 {"names", naming_word},  {"paper", paper_word},
                 {"reads", reads_word},   {"valve-slides", valve_slides_word}};
    for (size_t k = 0; k < sizeof(fixed) / sizeof(fixed[0]); k++) {
        if (strcmp(option, fixed[k].option) == 0) {
            return fixed[k].word(i);
        }
    }
    return NULL;
}
