#include "base/file.h"

#include "base/inputs.h"
#include "base/messages.h"
#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

static struct hbk_place in_file(const char *path)
{
    return (struct hbk_place){.file = path};
}

static enum hbk_status read_all(int fd, size_t limit, struct hbk_text *text)
{
    char buffer[65536];
    for (;;) {
        const ssize_t got = read(fd, buffer, sizeof(buffer));
        if (got < 0 && errno == EINTR) {
            continue;
        }
        if (got < 0) {
            return HBK_ERR_INPUT;
        }
        if (got == 0) {
            return HBK_OK;
        }
        hbk_text_put(text, buffer, (size_t)got);
        if (text->length > limit) {
            return HBK_ERR_DOMAIN;
        }
    }
}

enum hbk_status hbk_file_read(const char *path, size_t limit,
                              struct hbk_arena *arena, char **bytes,
                              size_t *length, struct hbk_faults *faults)
{
    const bool is_input = strcmp(path, "-") == 0;
    /* Without O_NONBLOCK a pipe that nobody writes to would hang here. */
    const int fd =
        is_input ? STDIN_FILENO : open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    if (fd < 0) {
        hbk_fault_add(faults, in_file(path), HBK_H_CANNOT_READ,
                      "cannot be opened: %s", strerror(errno));
        return HBK_ERR_INPUT;
    }
    struct stat info;
    if (fstat(fd, &info) != 0) {
        info = (struct stat){0};
    }
    if (S_ISDIR(info.st_mode)) {
        hbk_fault_add(faults, in_file(path), HBK_H_IS_A_FOLDER,
                      "is a folder; name a file in it");
        (void)close(fd);
        return HBK_ERR_INPUT;
    }
    if (!is_input && !S_ISREG(info.st_mode)) {
        hbk_fault_add(faults, in_file(path), HBK_H_NOT_A_FILE,
                      "is not a file; to read what a program writes, name - "
                      "for standard input");
        (void)close(fd);
        return HBK_ERR_INPUT;
    }
    hbk_inputs_add(&info);
    struct hbk_text text = {.arena = arena};
    hbk_text_add(&text, "");
    const enum hbk_status status = read_all(fd, limit, &text);
    if (status == HBK_ERR_DOMAIN) {
        hbk_fault_add(faults, in_file(path), HBK_H_FILE_TOO_LARGE,
                      "is larger than %zu KiB; a file of this kind never is",
                      limit / 1024);
    } else if (status != HBK_OK) {
        hbk_fault_add(faults, in_file(path), HBK_H_CANNOT_READ,
                      "cannot be read: %s", strerror(errno));
    }
    if (!is_input) {
        (void)close(fd);
    }
    if (status != HBK_OK) {
        return HBK_ERR_INPUT;
    }
    *bytes = text.bytes;
    *length = text.length;
    return HBK_OK;
}

void hbk_file_guard(const char *path)
{
    struct stat info;
    if (stat(path, &info) == 0) {
        hbk_inputs_add(&info);
    }
}

FILE *hbk_file_peek(const char *path)
{
    const int fd = open(path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
    struct stat info;
    if (fd >= 0 && fstat(fd, &info) == 0 && S_ISREG(info.st_mode)) {
        return fdopen(fd, "rb");
    }
    if (fd >= 0) {
        (void)close(fd);
    }
    return NULL;
}
