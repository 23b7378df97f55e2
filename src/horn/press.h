#ifndef HBK_HORN_PRESS_H
#define HBK_HORN_PRESS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

struct hbk_horn;

/* How the controls of a horn are named to a player. */

/*
 * The name of control `i` within a press: its number, with k or v before it
 * where the horn has both keys and valves. Returns `label`.
 */
char *hbk_horn_control_label(const struct hbk_horn *horn, size_t i, char *label,
                             size_t size);

enum { HBK_LABEL_SIZE = 128 };

/* "0", "1-3", "k2-v1": the controls of a press, in the order of the file. */
char *hbk_horn_press_label(const struct hbk_horn *horn, uint32_t press,
                           char label[HBK_LABEL_SIZE]);

/*
 * The press that such a label names; controls in any order, "0" for none.
 * Returns false if it names a control the horn has not.
 */
bool hbk_horn_press_parse(const struct hbk_horn *horn, const char *label,
                          uint32_t *press);

#endif
