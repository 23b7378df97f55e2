#ifndef HBK_BEGIN_FINGERS_H
#define HBK_BEGIN_FINGERS_H

#include "base/arena.h"
#include "horn/control.h"

/* "[left thumb, right thumb]", or one without brackets, as a file has them. */
const char *hbk_fingers_written(struct hbk_arena *arena,
                                const struct hbk_control *control);

#endif
