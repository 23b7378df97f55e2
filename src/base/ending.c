#include "base/ending.h"

#include <stddef.h>
#include <string.h>
#include <strings.h>

bool hbk_ends(const char *name, const char *ending)
{
    const size_t length = name == NULL ? 0 : strlen(name);
    const size_t tail = strlen(ending);
    return length > tail && strcasecmp(name + length - tail, ending) == 0;
}

bool hbk_ends_as_yaml(const char *name)
{
    return hbk_ends(name, ".yaml") || hbk_ends(name, ".yml");
}

bool hbk_ends_as_musicxml(const char *name)
{
    return hbk_ends(name, ".musicxml") || hbk_ends(name, ".xml") ||
           hbk_ends(name, ".mxl");
}

bool hbk_ends_as_tune(const char *name)
{
    return hbk_ends(name, ".abc") || hbk_ends_as_musicxml(name);
}
