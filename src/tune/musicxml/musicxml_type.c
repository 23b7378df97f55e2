#include "tune/musicxml/musicxml_type.h"

#include "tune/melody/tune.h"

#include <string.h>

static const char *const types[] = {"breve",  "whole", "half",  "quarter",
                                    "eighth", "16th",  "32nd",  "64th",
                                    "128th",  "256th", "512th", "1024th"};

int hbk_musicxml_value(const char *name)
{
    for (size_t i = 0; i < sizeof(types) / sizeof(types[0]); i++) {
        if (strcmp(types[i], name) == 0) {
            return (int)i - 1;
        }
    }
    return HBK_TUNE_NO_VALUE;
}

const char *hbk_musicxml_type(int value)
{
    return types[value + 1];
}
