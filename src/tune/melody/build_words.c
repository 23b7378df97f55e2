#include "tune/melody/build_words.h"

#include "tune/melody/sign_words.h"

#include <ctype.h>
#include <string.h>
#include <strings.h>

/* What words about music are about, where only the words tell. */

bool hbk_build_is_dynamic(const char *words)
{
    static const char *const dynamics[] = {
        "p",  "pp",     "ppp",   "pppp", "ppppp", "pppppp", "f",    "ff", "fff",
        "mp", "ffff",   "fffff", "mf",   "sf",    "sfp",    "sfpp", "fp", "rf",
        "fz", "ffffff", "rfz",   "sfz",  "sffz",  "pf",     "sfzp", "ffz"};
    for (size_t i = 0; i < sizeof(dynamics) / sizeof(dynamics[0]); i++) {
        if (strcmp(words, dynamics[i]) == 0) {
            return true;
        }
    }
    return false;
}

/* Whether it begins so and a word ends there. */
static bool begins(const char *words, const char *with)
{
    const size_t n = strlen(with);
    return strncasecmp(words, with, n) == 0 &&
           (with[n - 1] == '.' || !isalpha((unsigned char)words[n]));
}

/* What goes before the word that tells: "molto rit.", "poco più mosso". */
static const char *skip_degree(const char *words)
{
    static const char *const degrees[] = {
        "poco",    "molto",    "un",     "un poco", "con",      "very",
        "not too", "a little", "sempre", "subito",  "gradually"};
    for (size_t i = sizeof(degrees) / sizeof(degrees[0]); i-- > 0;) {
        if (begins(words, degrees[i])) {
            const char *const rest = words + strlen(degrees[i]);
            const char *const word = rest + strspn(rest, " ");
            return *word == '\0' ? words : word;
        }
    }
    return words;
}

static bool is_tempo(const char *words)
{
    static const char *const tempos[] = {"Grave",
                                         "Largo",
                                         "Larghetto",
                                         "Lento",
                                         "Adagio",
                                         "Adagietto",
                                         "Andante",
                                         "Andantino",
                                         "Moderato",
                                         "Allegretto",
                                         "Allegro",
                                         "Vivace",
                                         "Vivo",
                                         "Vivacissimo",
                                         "Presto",
                                         "Prestissimo",
                                         "Maestoso",
                                         "Tempo",
                                         "a tempo",
                                         "in tempo",
                                         "l'istesso",
                                         "l\u2019istesso",
                                         "rit.",
                                         "rit",
                                         "ritard.",
                                         "ritardando",
                                         "ritenuto",
                                         "riten.",
                                         "rall.",
                                         "rall",
                                         "rallentando",
                                         "accel.",
                                         "accel",
                                         "accelerando",
                                         "string.",
                                         "stringendo",
                                         "pi\u00F9 mosso",
                                         "piu mosso",
                                         "meno mosso",
                                         "mosso",
                                         "pi\u00F9 lento",
                                         "piu lento",
                                         "pi\u00F9 allegro",
                                         "piu allegro",
                                         "allarg.",
                                         "allargando",
                                         "slargando",
                                         "slowly",
                                         "slow",
                                         "slower",
                                         "quick",
                                         "quickly",
                                         "fast",
                                         "faster",
                                         "lively",
                                         "doppio movimento",
                                         "alla breve",
                                         "Marcia",
                                         "alla marcia",
                                         "Langsam",
                                         "Schnell",
                                         "M\u00E4\u00DFig",
                                         "Lebhaft",
                                         "Bewegt",
                                         "Lent",
                                         "Vif",
                                         "Mod\u00E9r\u00E9",
                                         "Anim\u00E9"};
    const char *const word = skip_degree(words);
    for (size_t i = 0; i < sizeof(tempos) / sizeof(tempos[0]); i++) {
        if (begins(words, tempos[i]) || begins(word, tempos[i])) {
            return true;
        }
    }
    return false;
}

enum hbk_tune_mark_kind hbk_build_kind_of_words(const char *words)
{
    return hbk_build_is_dynamic(words)        ? HBK_TUNE_MARK_DYNAMIC
           : hbk_sign_words(words, NULL) != 0 ? HBK_TUNE_MARK_JUMP
           : is_tempo(words)                  ? HBK_TUNE_MARK_TEMPO
                                              : HBK_TUNE_MARK_WORDS;
}
