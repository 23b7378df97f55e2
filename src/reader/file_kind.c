#include "reader/file_kind.h"

#include "base/file.h"
#include "reader/kind.h"

#include <stdio.h>
#include <string.h>

static enum hbk_file_kind file_of(const struct hbk_kind *kind)
{
    return kind == &hbk_kind_horn       ? HBK_FILE_HORN
           : kind == &hbk_kind_order    ? HBK_FILE_ORDER
           : kind == &hbk_kind_readings ? HBK_FILE_READINGS
                                        : HBK_FILE_OTHER;
}

enum hbk_file_kind hbk_peek_kind(const char *path)
{
    enum hbk_file_kind kind = HBK_FILE_OTHER;
    char line[256];
    FILE *const file = hbk_file_peek(path);
    while (file != NULL && fgets(line, sizeof(line), file) != NULL) {
        const char *const at = line + strspn(line, " \t\r\n\xEF\xBB\xBF");
        if (*at == '\0' || *at == '#' || *at == '%' ||
            strncmp(at, "---", 3) == 0) {
            continue;
        }
        for (size_t i = 0; i < HBK_KINDS; i++) {
            const size_t length = strlen(hbk_kinds[i]->name);
            if (strncmp(at, hbk_kinds[i]->name, length) == 0 &&
                at[length] == ':') {
                kind = file_of(hbk_kinds[i]);
            }
        }
        break;
    }
    if (file != NULL) {
        (void)fclose(file);
    }
    return kind;
}

const char *hbk_file_kind_is(enum hbk_file_kind kind)
{
    for (size_t i = 0; i < HBK_KINDS; i++) {
        if (file_of(hbk_kinds[i]) == kind) {
            return hbk_kinds[i]->is;
        }
    }
    return NULL;
}
