#include "cli/ask.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

bool hbk_can_ask(void)
{
    return isatty(STDIN_FILENO) != 0 && isatty(STDERR_FILENO) != 0;
}

/* A line without its end; NULL at the end of the input. What is too long for
 * any answer is dropped. */
static const char *read_line(struct hbk_arena *arena)
{
    char line[1024];
    if (fgets(line, sizeof(line), stdin) == NULL) {
        return NULL;
    }
    const size_t length = strcspn(line, "\n");
    bool at_end = line[length] == '\n';
    for (int c = 0; !at_end && c != EOF; at_end = at_end || c == '\n') {
        c = getchar();
    }
    return hbk_arena_copy(arena, line, length);
}

bool hbk_ask(const struct hbk_asking *asking, struct hbk_arena *arena)
{
    fprintf(stderr, "\n%s\n", asking->words);
    for (;;) {
        fprintf(stderr, "[%s] ", asking->usual);
        (void)fflush(stderr);
        const char *const line = read_line(arena);
        if (line == NULL) {
            fputc('\n', stderr);
            return false;
        }
        if (line[strspn(line, " \t\r")] == '\0' ||
            asking->take(asking->ctx, line)) {
            return true;
        }
        fprintf(stderr, "%s.\n", asking->why(asking->ctx));
    }
}
