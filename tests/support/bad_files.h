#ifndef HBK_TESTS_BAD_FILES_H
#define HBK_TESTS_BAD_FILES_H

#include "support/check.h"

#include "base/fault.h"
#include "base/file.h"
#include "base/text.h"

#include <dirent.h>
#include <string.h>

/* What a faulty file is told, a line a message; lives in the arena. */
typedef const char *messages_of_file(void *ctx, const char *path,
                                     struct hbk_arena *arena);

static inline const char *lines_of(const struct hbk_faults *faults,
                                   struct hbk_arena *arena)
{
    struct hbk_text text = {.arena = arena};
    for (size_t i = 0; i < faults->count; i++) {
        char line[1024];
        hbk_fault_format(&faults->items[i], line, sizeof(line));
        hbk_text_addf(&text, "%s\n", line);
    }
    return hbk_text_string(&text);
}

/*
 * Every x.yaml of the folder gives exactly the words in x.err; there are at
 * least so many.
 */
static inline void check_bad_files(const char *folder, size_t least,
                                   messages_of_file *messages, void *ctx)
{
    struct hbk_arena arena = {0};
    size_t n = 0;
    size_t wrong = 0;
    DIR *const dir = opendir(folder);
    assert_non_null(dir);
    for (const struct dirent *e = readdir(dir); e != NULL; e = readdir(dir)) {
        const char *const dot = strrchr(e->d_name, '.');
        if (dot == NULL || strcmp(dot, ".yaml") != 0) {
            continue;
        }
        char *want = NULL;
        size_t length = 0;
        struct hbk_faults faults = {0};
        const char *const path =
            hbk_arena_printf(&arena, "%s/%s", folder, e->d_name);
        const char *const err = hbk_arena_printf(
            &arena, "%s/%.*s.err", folder, (int)(dot - e->d_name), e->d_name);
        const char *const got = messages(ctx, path, &arena);
        assert_int_equal(
            hbk_file_read(err, 100000, &arena, &want, &length, &faults),
            HBK_OK);
        if (strcmp(got, want) != 0) {
            print_error("%s: got\n%swant\n%s\n", path, got, want);
            wrong++;
        }
        n++;
    }
    (void)closedir(dir);
    assert_int_equal(wrong, 0);
    assert_true(n >= least);
    hbk_arena_finish(&arena);
}

#endif
