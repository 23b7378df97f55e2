#include "horn/slide_name.h"

#include "horn/about.h"
#include "horn/control.h"

#include <stdbool.h>
#include <string.h>

/* Whether the first letters of a text are that word, in capitals or not. */
static bool is_word(const char *text, size_t length, const char *word)
{
    bool is_same = strlen(word) == length;
    for (size_t i = 0; is_same && i < length; i++) {
        const char c = text[i];
        is_same = (c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c) == word[i];
    }
    return is_same;
}

int hbk_slide_named_valve(const struct hbk_horn *horn, const char *slide)
{
    static const char *const numbers[][3] = {
        {"1", "first", "1st"},  {"2", "second", "2nd"}, {"3", "third", "3rd"},
        {"4", "fourth", "4th"}, {"5", "fifth", "5th"},  {"6", "sixth", "6th"},
    };
    static const char *const others[] = {"valve", "slide", "loop",
                                         "tube",  "upper", "lower"};
    const int whole = hbk_horn_find_control(horn, HBK_VALVE, slide);
    int valve = -1;
    for (const char *at = slide; whole < 0 && *at != '\0';) {
        at += strspn(at, " -_.");
        const size_t length = strcspn(at, " -_.");
        bool is_other = length == 0;
        for (size_t i = 0; i < sizeof(others) / sizeof(others[0]); i++) {
            is_other = is_other || is_word(at, length, others[i]);
        }
        int named = -1;
        for (size_t i = 0; i < sizeof(numbers) / sizeof(numbers[0]); i++) {
            for (size_t k = 0; k < 3; k++) {
                if (is_word(at, length, numbers[i][k])) {
                    named =
                        hbk_horn_find_control(horn, HBK_VALVE, numbers[i][0]);
                }
            }
        }
        if (!is_other && (named < 0 || valve >= 0)) {
            return -1;
        }
        valve = is_other ? valve : named;
        at += length;
    }
    return whole >= 0 ? whole : valve;
}
