#include "horn/about.h"

#include "horn/horn.h"

#include <assert.h>
#include <string.h>

struct hbk_horn *hbk_horn_new(struct hbk_arena *arena)
{
    struct hbk_horn *const horn = HBK_ARENA_ARRAY(arena, struct hbk_horn, 1);
    hbk_horn_init(horn);
    return horn;
}

void hbk_horn_finish(struct hbk_horn *horn)
{
    if (horn != NULL) {
        hbk_arena_finish(&horn->arena);
    }
}

const char *hbk_horn_name(const struct hbk_horn *horn)
{
    return horn->name;
}

enum hbk_clef hbk_horn_clef(const struct hbk_horn *horn)
{
    return horn->clef;
}

size_t hbk_horn_n_controls(const struct hbk_horn *horn)
{
    return horn->n_controls;
}

const struct hbk_control *hbk_horn_control(const struct hbk_horn *horn,
                                           size_t i)
{
    assert(i < horn->n_controls);
    return &horn->controls[i];
}

int hbk_horn_find_control(const struct hbk_horn *horn,
                          enum hbk_control_kind kind, const char *name)
{
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].kind == kind &&
            strcmp(horn->controls[i].name, name) == 0) {
            return (int)i;
        }
    }
    return -1;
}

uint32_t hbk_horn_kind_press(const struct hbk_horn *horn,
                             enum hbk_control_kind kind)
{
    uint32_t press = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        press |= horn->controls[i].kind == kind ? UINT32_C(1) << i : 0;
    }
    return press;
}

bool hbk_horn_has_kind(const struct hbk_horn *horn, enum hbk_control_kind kind)
{
    return hbk_horn_kind_press(horn, kind) != 0;
}
