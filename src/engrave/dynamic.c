#include "engrave/dynamic.h"

#include "engrave/glyph.h"

#include <math.h>
#include <string.h>

/*
 * A letter: where its ink begins from where it is set, and how far the next
 * one is set from it. Measured on Noto Music 2.000, in staff spaces.
 */
struct letter {
    char name;
    uint32_t glyph;
    double left, advance;
};

static const struct letter *letter_of(char name)
{
    static const struct letter letters[] = {
        {'r', HBK_GLYPH_DYNAMIC_R, 0.012, 1.361},
        {'s', HBK_GLYPH_DYNAMIC_S, 0.102, 1.119},
        {'z', HBK_GLYPH_DYNAMIC_Z, -0.197, 1.115},
        {'p', HBK_GLYPH_DYNAMIC_P, -0.357, 1.525},
        {'m', HBK_GLYPH_DYNAMIC_M, -0.107, 1.926},
        {'f', HBK_GLYPH_DYNAMIC_F, -0.553, 1.197},
    };
    for (size_t i = 0; i < sizeof(letters) / sizeof(letters[0]); i++) {
        if (letters[i].name == name) {
            return &letters[i];
        }
    }
    return NULL;
}

bool hbk_dynamic_is_drawn(const char *text)
{
    for (const char *at = text; *at != '\0'; at++) {
        if (letter_of(*at) == NULL) {
            return false;
        }
    }
    return text[0] != '\0';
}

/* Ink of all letters from the first one's left edge; draws with a quill. */
static double walk(struct hbk_quill *quill, double x, double y,
                   const char *text)
{
    const double first = letter_of(text[0])->left;
    double set = x - first;
    double right = x;
    for (const char *at = text; *at != '\0'; at++) {
        const struct letter *letter = letter_of(*at);
        const double left = set + letter->left;
        if (quill != NULL) {
            hbk_quill_glyph(
                quill, left, y, 1.0, letter->glyph,
                at == text ? hbk_arena_printf(quill->pad->sheet->arena, "%s ",
                                              hbk_dynamic_said(text))
                           : "");
        }
        right = fmax(right, left + hbk_glyph_box(letter->glyph).width);
        set += letter->advance;
    }
    return right - x;
}

double hbk_dynamic_width(const char *text)
{
    return walk(NULL, 0.0, 0.0, text);
}

void hbk_dynamic_draw(struct hbk_quill *quill, double x, double y,
                      const char *text)
{
    walk(quill, x, y, text);
}

const char *hbk_dynamic_said(const char *text)
{
    static const char *const words[][2] = {
        {"p", "piano"},
        {"pp", "pianissimo"},
        {"ppp", "pianississimo"},
        {"mp", "mezzo piano"},
        {"mf", "mezzo forte"},
        {"f", "forte"},
        {"ff", "fortissimo"},
        {"fff", "fortississimo"},
        {"fp", "forte piano"},
        {"pf", "piano forte"},
        {"sf", "sforzando"},
        {"sfz", "sforzando"},
        {"sffz", "sforzando fortissimo"},
        {"sfp", "sforzando piano"},
        {"sfpp", "sforzando pianissimo"},
        {"fz", "forzando"},
        {"rf", "rinforzando"},
        {"rfz", "rinforzando"},
    };
    for (size_t i = 0; i < sizeof(words) / sizeof(words[0]); i++) {
        if (strcmp(text, words[i][0]) == 0) {
            return words[i][1];
        }
    }
    return text;
}
