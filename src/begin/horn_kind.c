#include "begin/horn_kind.h"

#include "base/text.h"

#include <ctype.h>
#include <string.h>

enum { BB2 = 46, EB2 = 39, EB3 = 51, F3 = 53, BB3 = 58, C4 = 60 };
enum { EB4 = 63 };

static const struct hbk_horn_kind all[] = {
    {"keyed bugle", "key bugle", "Keyed bugle", "keyed-bugle-", HBK_SYSTEM_KEYS,
     C4, 6, HBK_TREBLE, false},
    {"ophicleide", NULL, "Ophicleide", "ophicleide-", HBK_SYSTEM_KEYS, C4, 9,
     HBK_BASS, false},
    {"keyed trumpet", NULL, "Keyed trumpet", "keyed-trumpet-", HBK_SYSTEM_KEYS,
     EB4, 5, HBK_TREBLE, false},
    {"cornet", NULL, "Cornet", "cornet-", HBK_SYSTEM_VALVES, BB3, 3, HBK_TREBLE,
     false},
    {"cornopean", NULL, "Cornopean", "cornopean-", HBK_SYSTEM_VALVES, BB3, 3,
     HBK_TREBLE, false},
    {"saxhorn", "soprano saxhorn", "Saxhorn", "saxhorn-", HBK_SYSTEM_VALVES,
     BB3, 3, HBK_TREBLE, false},
    {"flugelhorn", "fluegelhorn", "Flugelhorn", "saxhorn-", HBK_SYSTEM_VALVES,
     BB3, 3, HBK_TREBLE, false},
    {"alto horn", "tenor horn", "Alto horn", "alto-", HBK_SYSTEM_VALVES, EB3, 3,
     HBK_TREBLE, false},
    {"baritone", NULL, "Baritone", "baritone-", HBK_SYSTEM_VALVES, BB2, 3,
     HBK_TREBLE, false},
    {"euphonium", NULL, "Euphonium", "euphonium-", HBK_SYSTEM_VALVES, BB2, 4,
     HBK_TREBLE, false},
    {"bass", "tuba", "Bass", "bass-", HBK_SYSTEM_VALVES, EB2, 3, HBK_TREBLE,
     false},
    {"horn", "french horn", "Horn", "horn-", HBK_SYSTEM_VALVES, F3, 3,
     HBK_TREBLE, false},
    {"valve trombone", "trombone", "Valve trombone", "baritone-",
     HBK_SYSTEM_VALVES, BB2, 3, HBK_BASS, false},
    {"six-valve trombone", NULL, "Trombone with independent valves",
     "trombone-six-", HBK_SYSTEM_VALVES, C4, 6, HBK_TENOR, true},
    {"six-valve cornet", NULL, "Cornet with independent valves", "cornet-six-",
     HBK_SYSTEM_VALVES, C4, 6, HBK_TREBLE, true},
    {"bugle", "duty bugle", "Bugle", "bugle-", HBK_SYSTEM_PLAIN, BB3, 0,
     HBK_TREBLE, false},
    {"keyed", "keyed horn", "Keyed horn", "keyed-bugle-", HBK_SYSTEM_KEYS, C4,
     6, HBK_TREBLE, false},
    {"valved", "valved horn", "Valved horn", "cornet-", HBK_SYSTEM_VALVES, BB3,
     3, HBK_TREBLE, false},
};

enum { N_KINDS = sizeof(all) / sizeof(all[0]), WORD_SIZE = 40 };

/* Small letters, one blank for blanks, dashes and underlines. */
static void plain(const char *text, char word[WORD_SIZE])
{
    size_t n = 0;
    text += strspn(text, " \t-_");
    while (*text != '\0' && n + 2 < WORD_SIZE) {
        const size_t gap = strspn(text, " \t-_");
        text += gap;
        if (gap > 0 && *text != '\0') {
            word[n++] = ' ';
        }
        if (*text != '\0') {
            word[n++] = (char)tolower((unsigned char)*text++);
        }
    }
    word[n] = '\0';
}

const struct hbk_horn_kind *hbk_horn_kind_find(const char *text,
                                               const char **nearest)
{
    char asked[WORD_SIZE];
    char word[WORD_SIZE];
    const char *words[2 * N_KINDS];
    size_t n = 0;
    plain(text, asked);
    for (size_t i = 0; i < N_KINDS; i++) {
        const char *const names[] = {all[i].word, all[i].other};
        for (size_t k = 0; k < 2 && names[k] != NULL; k++) {
            plain(names[k], word);
            if (strcmp(asked, word) == 0) {
                return &all[i];
            }
            words[n++] = names[k];
        }
    }
    *nearest = hbk_text_nearest(asked, words, n);
    return NULL;
}

size_t hbk_horn_kind_of_pattern(const char *name)
{
    size_t longest = 0;
    for (size_t i = 0; i < N_KINDS; i++) {
        const size_t length = strlen(all[i].pattern);
        if (length > longest && strncmp(name, all[i].pattern, length) == 0) {
            longest = length;
        }
    }
    return longest;
}

size_t hbk_horn_kinds(const struct hbk_horn_kind **kinds)
{
    *kinds = all;
    return N_KINDS;
}

const char *hbk_horn_kinds_listed(void)
{
    return "  keyed bugle, ophicleide, keyed trumpet, cornet, cornopean, "
           "saxhorn,\n"
           "  flugelhorn, alto horn, baritone, euphonium, bass, horn, valve\n"
           "  trombone, six-valve trombone, six-valve cornet,\n"
           "  bugle (without keys);\n"
           "  keyed or valved for any other";
}
