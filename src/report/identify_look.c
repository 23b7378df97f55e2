#include "report/identify_look.h"

#include "fit/identify.h"
#include "horn/horn.h"
#include "music/pitch.h"
#include "sheet/words/words.h"
#include "sheet/words/words_system.h"

#include <string.h>

static size_t count(const struct hbk_horn *horn, enum hbk_control_kind kind)
{
    size_t n = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        n += horn->controls[i].kind == kind ? 1 : 0;
    }
    return n;
}

/* Of the valves, when all are of one kind. */
static enum hbk_action action_of(const struct hbk_horn *horn)
{
    bool any = false;
    enum hbk_action action = HBK_ACTION_UNKNOWN;
    for (size_t i = 0; i < horn->n_controls; i++) {
        const struct hbk_control *const control = &horn->controls[i];
        if (control->kind == HBK_VALVE) {
            action = !any || action == control->action ? control->action
                                                       : HBK_ACTION_UNKNOWN;
            any = true;
        }
    }
    return action;
}

const char *hbk_identify_word(const struct hbk_identified *found, size_t i)
{
    const struct hbk_horn *const horn = found->layouts[i].horn;
    for (size_t k = 0; k < found->n; k++) {
        const struct hbk_horn *const other = found->layouts[k].horn;
        if (strcmp(other->id, horn->id) == 0 &&
            strcmp(other->path, horn->path) != 0) {
            return horn->path;
        }
    }
    return horn->id;
}

static void add_count(size_t n, const char *thing, struct hbk_text *out)
{
    hbk_text_addf(out, "%zu %s%s", n, thing, n == 1 ? "" : "s");
}

void hbk_identify_count(const struct hbk_horn *horn, struct hbk_text *out)
{
    const size_t keys = count(horn, HBK_KEY);
    const size_t valves = count(horn, HBK_VALVE);
    if (keys > 0 || valves == 0) {
        add_count(keys, "key", out);
    }
    if (valves > 0) {
        hbk_text_add(out, keys > 0 ? " and " : "");
        add_count(valves, "valve", out);
    }
}

/* "key 1 is open at rest", "no key is open at rest", "keys 1 and 2 ...". */
static void add_open(const struct hbk_horn *horn, struct hbk_text *out)
{
    size_t left = 0;
    for (size_t i = 0; i < horn->n_controls; i++) {
        left += horn->controls[i].stands_open ? 1 : 0;
    }
    if (left == 0) {
        hbk_text_add(out,
                     count(horn, HBK_KEY) > 0 ? "no key is open at rest" : "");
        return;
    }
    const bool is_one = left == 1;
    hbk_text_add(out, is_one ? "key" : "keys");
    const char *before = " ";
    for (size_t i = 0; i < horn->n_controls; i++) {
        if (horn->controls[i].stands_open) {
            hbk_text_addf(out, "%s%s", before, horn->controls[i].name);
            left--;
            before = left == 1 ? " and " : ", ";
        }
    }
    hbk_text_add(out, is_one ? " is open at rest" : " are open at rest");
}

/* "rotary valves", where the file says so of all of them. */
static void add_action(const struct hbk_horn *horn, struct hbk_text *out)
{
    const enum hbk_action action = action_of(horn);
    if (action != HBK_ACTION_UNKNOWN) {
        hbk_text_addf(out, "%ss", hbk_words_action(action));
    }
}

static void add_sounding_c(const struct hbk_horn *horn, struct hbk_text *out)
{
    char name[HBK_NAME_SIZE];
    hbk_text_addf(out, "its written C4 sounds %s",
                  hbk_note_name(horn->written_c4_sounds, HBK_UNICODE, name));
}

static const struct hbk_horn *live_horn(const struct hbk_identified *found,
                                        size_t place)
{
    const struct hbk_identified_layout *const layout =
        &found->layouts[found->order[place]];
    return layout->probability > HBK_IDENTIFY_WORTH ? layout->horn : NULL;
}

/* One thing that can be seen or heard, in words. */
typedef void feature(const struct hbk_horn *horn, struct hbk_text *out);

static const char *words(feature *of, const struct hbk_horn *horn,
                         struct hbk_arena *arena)
{
    struct hbk_text text = {.arena = arena};
    of(horn, &text);
    return hbk_text_string(&text);
}

/* Whether two of the horns left differ; what is not known is no difference. */
static bool is_telling(const struct hbk_identified *found, feature *of,
                       struct hbk_arena *arena)
{
    const char *first = "";
    for (size_t i = 0; i < found->n; i++) {
        const struct hbk_horn *const horn = live_horn(found, i);
        const char *const said = horn == NULL ? "" : words(of, horn, arena);
        if (said[0] == '\0') {
            continue;
        }
        if (first[0] != '\0' && strcmp(first, said) != 0) {
            return true;
        }
        first = said;
    }
    return false;
}

bool hbk_identify_look(const struct hbk_identified *found, struct hbk_text *out)
{
    static feature *const features[] = {hbk_identify_count, add_action,
                                        add_open, add_sounding_c};
    enum { FEATURES = sizeof(features) / sizeof(features[0]) };
    bool tells[FEATURES] = {false};
    bool any = false;
    for (size_t f = 0; f < FEATURES && live_horn(found, 0) != NULL; f++) {
        tells[f] = is_telling(found, features[f], out->arena);
        any |= tells[f];
    }
    for (size_t i = 0; any && i < found->n; i++) {
        const struct hbk_horn *const horn = live_horn(found, i);
        const char *before = ": ";
        if (horn == NULL) {
            continue;
        }
        hbk_text_addf(out, "  %s", hbk_identify_word(found, found->order[i]));
        for (size_t f = 0; f < FEATURES; f++) {
            const char *const said =
                tells[f] ? words(features[f], horn, out->arena) : "";
            if (said[0] != '\0') {
                hbk_text_addf(out, "%s%s", before, said);
                before = ", ";
            }
        }
        hbk_text_add(out, "\n");
    }
    return any;
}
