#include "horn/stuck_list.h"

#include "base/number.h"
#include "base/text.h"
#include "horn/about.h"
#include "horn/horn.h"

#include <string.h>

/* The words for the two states of a control: at rest and pressed. */
struct states {
    const char *kind;
    enum hbk_control_kind control;
    const char *word[2];
    const char *also; /* another word for the second */
};

static const struct states all_states[] = {
    {"key", HBK_KEY, {"open", "closed"}, "shut"},
    {"valve", HBK_VALVE, {"up", "down"}, NULL},
    {"trigger", HBK_TRIGGER, {"in", "out"}, NULL},
};

static const char slide_kind[] = "slide:";
static const char mended[] = "mended";

enum { KINDS = sizeof(all_states) / sizeof(all_states[0]), ITEM_SIZE = 160 };

#define TRAVEL_SLACK_M 1e-9

/* A list being read. */
struct parse {
    const struct hbk_horn *horn;
    struct hbk_stuck stuck;
    uint32_t controls, slides; /* named so far */
    bool is_twofold;
    struct hbk_text *why;
};

static bool begins(const char *text, const char *start)
{
    return strncmp(text, start, strlen(start)) == 0;
}

size_t hbk_stuck_item_length(const char *list)
{
    const size_t length = strcspn(list, ",");
    if (!begins(list + strspn(list, " "), slide_kind)) {
        return length;
    }
    /* A slide may have a comma in its name, before the equals sign. */
    const size_t name = strcspn(list, "=");
    return length < name && list[name] == '=' ? name + strcspn(list + name, ",")
                                              : length;
}

size_t hbk_stuck_subject_length(const char *item, size_t length)
{
    size_t subject = length;
    while (subject > 0 && item[subject - 1] != '=') {
        subject--;
    }
    subject = subject > 0 ? subject - 1 : length;
    while (subject > 0 && item[subject - 1] == ' ') {
        subject--;
    }
    return subject;
}

static bool refuse_form(const char *item, bool is_first, struct hbk_text *why)
{
    if (!is_first && item[0] != '\0' &&
        item[strspn(item, "0123456789 m")] == '\0') {
        hbk_text_addf(why,
                      "'%s': commas stand between what is stuck; write "
                      "decimals with a point, as in slide:main=12.5",
                      item);
        return false;
    }
    hbk_text_addf(why,
                  "'%s': write key:3=open or key:3=closed, valve:2=up or "
                  "valve:2=down, slide:main=in or, 12 mm out, slide:main=12, "
                  "and =mended for what works again",
                  item);
    return false;
}

static bool refuse_name(const struct parse *p, const struct states *s,
                        const char *item, const char *name)
{
    size_t n = 0;
    hbk_text_addf(p->why, "'%s': this horn has no %s %s", item, s->kind, name);
    for (size_t i = 0; i < p->horn->n_controls; i++) {
        if (p->horn->controls[i].kind == s->control) {
            hbk_text_addf(p->why, "%s%s", n++ == 0 ? "; it has " : ", ",
                          p->horn->controls[i].name);
        }
    }
    return false;
}

static bool refuse_slide(const struct parse *p, const char *item,
                         const char *name)
{
    const struct hbk_horn *const horn = p->horn;
    hbk_text_addf(p->why, "'%s': this horn has no slide '%s'", item, name);
    for (size_t s = 0; s < horn->n_slides; s++) {
        hbk_text_addf(p->why, "%s'%s'", s == 0 ? "; it has " : ", ",
                      horn->slides[s].name);
    }
    return false;
}

static bool read_control(struct parse *p, const struct states *s,
                         const char *item, const char *name, const char *state)
{
    const bool is_mended = strcmp(state, mended) == 0;
    const bool is_second = strcmp(state, s->word[1]) == 0 ||
                           (s->also != NULL && strcmp(state, s->also) == 0);
    if (!is_mended && !is_second && strcmp(state, s->word[0]) != 0) {
        hbk_text_addf(p->why, "'%s': a %s is stuck %s or %s, or it is %s%s",
                      item, s->kind, s->word[0], s->word[1], mended,
                      s->control == HBK_KEY
                          ? "; one that is missing is open, or closed if its "
                            "hole is covered"
                          : "");
        return false;
    }
    const int control = hbk_horn_find_control(p->horn, s->control, name);
    if (control < 0) {
        return refuse_name(p, s, item, name);
    }
    /* A key is pressed when it is not as it rests, whichever that is. */
    const bool is_pressed =
        s->control == HBK_KEY
            ? is_second == p->horn->controls[control].stands_open
            : is_second;
    const uint32_t bit = UINT32_C(1) << control;
    const uint32_t down = !is_mended && is_pressed ? bit : 0;
    const uint32_t up = !is_mended && !is_pressed ? bit : 0;
    p->is_twofold = p->is_twofold || ((p->controls & bit) != 0 &&
                                      ((p->stuck.held_down & bit) != down ||
                                       (p->stuck.held_up & bit) != up));
    p->controls |= bit;
    p->stuck.held_down = (p->stuck.held_down & ~bit) | down;
    p->stuck.held_up = (p->stuck.held_up & ~bit) | up;
    return true;
}

static bool read_slide(struct parse *p, const char *item, const char *name,
                       const char *state)
{
    const struct hbk_horn *const horn = p->horn;
    const bool is_mended = strcmp(state, mended) == 0;
    double mm = 0.0;
    if (!is_mended && strcmp(state, "in") != 0 &&
        (!hbk_number_parse(state, &mm) || mm < 0.0)) {
        hbk_text_addf(p->why,
                      "'%s': a slide is stuck in or so many mm out, "
                      "as in slide:main=12, or it is %s",
                      item, mended);
        return false;
    }
    size_t s = 0;
    while (s < horn->n_slides && strcmp(horn->slides[s].name, name) != 0) {
        s++;
    }
    if (s == horn->n_slides) {
        return refuse_slide(p, item, name);
    }
    const double travel_m = horn->slides[s].travel_m;
    const double out_m = mm / 1000.0;
    if (out_m > travel_m + TRAVEL_SLACK_M) {
        hbk_text_addf(p->why, "'%s': slide %s pulls out %g mm, not more", item,
                      name, travel_m * 1000.0);
        return false;
    }
    const uint32_t bit = UINT32_C(1) << s;
    const uint32_t is_stuck = is_mended ? 0 : bit;
    p->is_twofold = p->is_twofold || ((p->slides & bit) != 0 &&
                                      ((p->stuck.slides & bit) != is_stuck ||
                                       p->stuck.slide_out_m[s] != out_m));
    p->slides |= bit;
    p->stuck.slides = (p->stuck.slides & ~bit) | is_stuck;
    p->stuck.slide_out_m[s] = out_m;
    return true;
}

/* One "key:3=open", `length` bytes without blanks at the ends. */
static bool read_item(struct parse *p, const char *at, size_t length)
{
    char item[ITEM_SIZE];
    char name[ITEM_SIZE];
    const bool fits = length < ITEM_SIZE;
    size_t kept = fits ? length : ITEM_SIZE - 1;
    while (!fits && ((unsigned char)at[kept] & 0xC0U) == 0x80U) {
        kept--; /* no half letters */
    }
    memcpy(item, at, kept);
    item[kept] = '\0';
    const size_t end = hbk_stuck_subject_length(item, kept);
    const char *state = item + end;
    state += strspn(state, " ");
    const size_t colon = strcspn(item, ":");
    if (!fits || *state != '=' || colon >= end || item[colon + 1] == ' ') {
        return refuse_form(item, (p->controls | p->slides) == 0, p->why);
    }
    state += 1 + strspn(state + 1, " ");
    const size_t size = end - colon - 1;
    memcpy(name, item + colon + 1, size);
    name[size] = '\0';
    if (begins(item, slide_kind)) {
        return read_slide(p, item, name, state);
    }
    for (size_t i = 0; i < KINDS; i++) {
        if (strlen(all_states[i].kind) == colon &&
            begins(item, all_states[i].kind)) {
            return read_control(p, &all_states[i], item, name, state);
        }
    }
    return refuse_form(item, (p->controls | p->slides) == 0, p->why);
}

bool hbk_stuck_parse(const struct hbk_horn *horn, const struct hbk_stuck *base,
                     const char *list, struct hbk_stuck *stuck,
                     struct hbk_text *why)
{
    struct parse p = {.horn = horn, .why = why};
    if (base != NULL) {
        p.stuck = *base;
    }
    for (const char *at = list;; at++) {
        at += strspn(at, " ");
        const size_t whole = hbk_stuck_item_length(at);
        size_t length = whole;
        while (length > 0 && at[length - 1] == ' ') {
            length--;
        }
        if (!read_item(&p, at, length)) {
            return false;
        }
        at += whole;
        if (*at == '\0') {
            break;
        }
    }
    if (p.is_twofold) {
        hbk_text_addf(why, "'%s': nothing is stuck both ways", list);
        return false;
    }
    *stuck = p.stuck;
    return true;
}
