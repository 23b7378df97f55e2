#ifndef HBK_TESTS_SOLVED_H
#define HBK_TESTS_SOLVED_H

#include "solve/setting.h"
#include "support/check.h"

#include "horn/about.h"
#include "horn/horn.h"
#include "horn/press.h"
#include "music/pitch.h"
#include "reader/horn_file.h"
#include "reader/shipped.h"
#include "solve/slides.h"
#include "solve/solve.h"

#include <stdio.h>
#include <string.h>

/* A shipped horn, read and solved under its own pitch and temperature. */
struct solved {
    struct hbk_horn horn;
    struct hbk_arena arena;
    struct hbk_faults faults;
    struct hbk_setting setting;
    struct hbk_notes notes;
};

static inline void solved_read(struct solved *s, const char *name)
{
    *s = (struct solved){0};
    const char *const path = hbk_shipped_find(name, &s->arena, &s->faults);
    assert_non_null(path);
    const enum hbk_status status = hbk_horn_read(path, &s->horn, &s->faults);
    if (status != HBK_OK) {
        print_error("%s: %s\n", name, s->faults.items[0].text);
    }
    assert_int_equal(status, HBK_OK);
    s->setting = hbk_setting_of(&s->horn);
}

static inline void solved_run(struct solved *s)
{
    const enum hbk_status status =
        hbk_solve(&s->horn, &s->setting, &s->arena, &s->notes, &s->faults);
    assert_int_equal(status, HBK_OK);
}

static inline void solved_open(struct solved *s, const char *name)
{
    solved_read(s, name);
    solved_run(s);
}

/* The plan of its slides. */
static inline struct hbk_slides solved_slides(struct solved *s)
{
    struct hbk_slides slides;
    assert_int_equal(
        hbk_slides_plan(&s->horn, &s->setting, &s->arena, &slides, &s->faults),
        HBK_OK);
    return slides;
}

static inline void solved_close(struct solved *s)
{
    hbk_arena_finish(&s->arena);
    hbk_horn_finish(&s->horn);
}

static inline int note_of(const char *name)
{
    int note = 0;
    assert_true(hbk_note_parse(name, &note));
    return note;
}

static inline const struct hbk_note *note_at(const struct solved *s,
                                             const char *name)
{
    const struct hbk_note *const note =
        hbk_notes_find(&s->notes, note_of(name));
    assert_non_null(note);
    return note;
}

/* The fingering of a note with that label, on that partial (0 for any). */
static inline const struct hbk_fingering *fingering_of(const struct solved *s,
                                                       const char *name,
                                                       const char *label,
                                                       unsigned partial)
{
    const struct hbk_note *const note = note_at(s, name);
    uint32_t press = 0;
    assert_true(hbk_horn_press_parse(&s->horn, label, &press));
    for (size_t i = 0; i < note->n; i++) {
        if (note->fingerings[i].press == press &&
            (partial == 0 || note->fingerings[i].partial == partial)) {
            return &note->fingerings[i];
        }
    }
    return NULL;
}

/*
 * Checks first choices from note `low` upwards: `taught` holds one word a
 * note, "-" for out of reach, "1/5" where either may come first and the
 * other must follow; "~2/4" where the rest need not follow.
 */
static inline void check_first_choices(const struct solved *s, const char *low,
                                       const char *taught)
{
    int written = note_of(low);
    const char *at = taught;
    while (*at != '\0') {
        char word[32];
        const size_t length = strcspn(at, " ");
        assert_true(length < sizeof(word));
        memcpy(word, at, length);
        word[length] = '\0';
        at += length + (at[length] == ' ' ? 1 : 0);
        const struct hbk_note *const note = hbk_notes_find(&s->notes, written);
        assert_non_null(note);
        char name[HBK_NAME_SIZE];
        hbk_note_name(written++, HBK_ASCII, name);
        if (strcmp(word, "-") == 0) {
            if (note->n != 0) {
                print_error("%s %s should be out of reach\n", s->horn.id, name);
            }
            assert_int_equal(note->n, 0);
            continue;
        }
        const bool is_loose = word[0] == '~';
        char *const first = word + (is_loose ? 1 : 0);
        char *const second = strchr(first, '/');
        if (second != NULL) {
            *second = '\0';
        }
        char label[2][HBK_LABEL_SIZE] = {"none", "none"};
        for (size_t i = 0; i < 2 && i < note->n; i++) {
            hbk_horn_press_label(&s->horn, note->fingerings[i].press, label[i]);
        }
        const char *const other = second == NULL ? NULL : second + 1;
        const bool as_named =
            strcmp(label[0], first) == 0 &&
            (other == NULL || is_loose || strcmp(label[1], other) == 0);
        const bool other_way = other != NULL &&
                               strstr(other, label[0]) != NULL &&
                               (is_loose || strcmp(label[1], first) == 0);
        if (!as_named && !other_way) {
            print_error("%s %s: %s then %s, taught %s %s\n", s->horn.id, name,
                        label[0], label[1], first, other == NULL ? "" : other);
        }
        assert_true(as_named || other_way);
    }
}

/* The horns that come with the program, more than 20; in the arena. */
static inline const struct hbk_shipped_horn *
all_shipped(struct hbk_arena *arena, size_t *n)
{
    const struct hbk_shipped_horn *horns = NULL;
    *n = hbk_shipped_list(arena, &horns);
    assert_true(*n > 20);
    return horns;
}

#endif
