#include "reader/file_kind.h"

#include "base/file.h"

#include <stdio.h>
#include <string.h>

enum hbk_file_kind hbk_peek_kind(const char *path)
{
    static const struct {
        const char *key;
        enum hbk_file_kind kind;
    } kinds[] = {{"hornbook:", HBK_FILE_HORN},
                 {"hornbook_readings:", HBK_FILE_READINGS},
                 {"hornbook_order:", HBK_FILE_ORDER}};
    enum hbk_file_kind kind = HBK_FILE_OTHER;
    char line[256];
    FILE *const file = hbk_file_peek(path);
    while (file != NULL && fgets(line, sizeof(line), file) != NULL) {
        const char *const at = line + strspn(line, " \t\r\n\xEF\xBB\xBF");
        if (*at == '\0' || *at == '#' || *at == '%' ||
            strncmp(at, "---", 3) == 0) {
            continue;
        }
        for (size_t i = 0; i < sizeof(kinds) / sizeof(kinds[0]); i++) {
            if (strncmp(at, kinds[i].key, strlen(kinds[i].key)) == 0) {
                kind = kinds[i].kind;
            }
        }
        break;
    }
    if (file != NULL) {
        (void)fclose(file);
    }
    return kind;
}
