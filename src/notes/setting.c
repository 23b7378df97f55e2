#include "notes/setting.h"

const char *hbk_valve_slides_name(enum hbk_valve_slides how)
{
    static const char *const names[] = {[HBK_VALVE_SLIDES_OWN] = "own",
                                        [HBK_VALVE_SLIDES_HOME] = "in",
                                        [HBK_VALVE_SLIDES_BEST] = "best"};
    return names[how];
}
