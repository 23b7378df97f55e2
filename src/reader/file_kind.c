#include "reader/file_kind.h"

#include "base/file.h"
#include "reader/kind.h"

#include <stdio.h>
#include <string.h>

enum hbk_file_kind hbk_peek_kind(const char *path)
{
    static const struct {
        const struct hbk_kind *is;
        enum hbk_file_kind kind;
    } kinds[] = {{&hbk_kind_horn, HBK_FILE_HORN},
                 {&hbk_kind_readings, HBK_FILE_READINGS},
                 {&hbk_kind_order, HBK_FILE_ORDER}};
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
            const size_t length = strlen(kinds[i].is->name);
            if (strncmp(at, kinds[i].is->name, length) == 0 &&
                at[length] == ':') {
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
