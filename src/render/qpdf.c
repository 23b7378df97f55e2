#include "render/qpdf.h"

#include <dlfcn.h>

#include <stdbool.h>
#include <stddef.h>
#include <string.h>

static const struct {
    const char *name;
    size_t offset;
} functions[] = {
#define ROW(name) {"qpdf_" #name, offsetof(struct hbk_qpdf, name)},
    HBK_QPDF_FUNCTIONS(ROW)
#undef ROW
};

const struct hbk_qpdf *hbk_qpdf_load(void)
{
    static struct hbk_qpdf qpdf;
    static bool is_loaded;
    if (is_loaded) {
        return &qpdf;
    }
    /* The version whose header this was built with. */
    void *const library = dlopen(HBK_QPDF_NAME, RTLD_LAZY | RTLD_LOCAL);
    if (library == NULL) {
        return NULL;
    }
    for (size_t i = 0; i < sizeof(functions) / sizeof(functions[0]); i++) {
        void *const found = dlsym(library, functions[i].name);
        if (found == NULL) {
            return NULL;
        }
        /* ISO C makes no function of a pointer to an object; POSIX does. */
        memcpy((char *)&qpdf + functions[i].offset, &found, sizeof(found));
    }
    is_loaded = true;
    return &qpdf;
}
