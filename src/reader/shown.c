#include "reader/shown.h"

#include <string.h>

enum { SHOWN_COLUMNS = 40 };

char *hbk_shown(const char *text, char shown[HBK_SHOWN_SIZE])
{
    size_t columns = 0;
    size_t used = 0;
    for (size_t i = 0; text[i] != '\0'; i++) {
        const unsigned char c = (unsigned char)text[i];
        columns += (c & 0xC0U) != 0x80U;
        if (columns > SHOWN_COLUMNS) {
            memcpy(shown + used, "...", 3);
            used += 3;
            break;
        }
        shown[used++] = c < ' ' || c == 0x7F ? '?' : text[i];
    }
    shown[used] = '\0';
    return shown;
}
