#include "base/file.h"

#include "base/text.h"

#include <errno.h>
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum {
    H_READ = 1,
    H_TOO_LARGE = 2,
    H_FOLDER = 3,
    H_WRITE = 4,
    H_NOT_A_FILE = 5
};

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
        hbk_fault_add(faults, in_file(path), H_READ, "cannot be opened: %s",
                      strerror(errno));
        return HBK_ERR_INPUT;
    }
    struct stat info;
    if (fstat(fd, &info) != 0) {
        info = (struct stat){0};
    }
    if (S_ISDIR(info.st_mode)) {
        hbk_fault_add(faults, in_file(path), H_FOLDER,
                      "is a folder; name a file in it");
        (void)close(fd);
        return HBK_ERR_INPUT;
    }
    if (!is_input && !S_ISREG(info.st_mode)) {
        hbk_fault_add(faults, in_file(path), H_NOT_A_FILE,
                      "is not a file; to read what a program writes, name - "
                      "for standard input");
        (void)close(fd);
        return HBK_ERR_INPUT;
    }
    struct hbk_text text = {.arena = arena};
    hbk_text_add(&text, "");
    const enum hbk_status status = read_all(fd, limit, &text);
    if (status == HBK_ERR_DOMAIN) {
        hbk_fault_add(faults, in_file(path), H_TOO_LARGE,
                      "is larger than %zu KiB; a file of this kind never is",
                      limit / 1024);
    } else if (status != HBK_OK) {
        hbk_fault_add(faults, in_file(path), H_READ, "cannot be read: %s",
                      strerror(errno));
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

/* The temporary file being written, so that a signal can remove it. */
static char temporary[4096];

void hbk_file_tidy(void)
{
    if (temporary[0] != '\0') {
        (void)unlink(temporary);
    }
}

static bool write_all(int fd, const char *bytes, size_t length)
{
    while (length > 0) {
        const ssize_t put = write(fd, bytes, length);
        if (put < 0 && errno == EINTR) {
            continue;
        }
        if (put <= 0) {
            return false;
        }
        bytes += put;
        length -= (size_t)put;
    }
    return true;
}

static bool replace_file(const char *path, const char *bytes, size_t length)
{
    const int size = snprintf(temporary, sizeof(temporary), "%s.XXXXXX", path);
    if (size < 0 || (size_t)size >= sizeof(temporary)) {
        temporary[0] = '\0';
        errno = ENAMETOOLONG;
        return false;
    }
    const int fd = mkstemp(temporary);
    if (fd < 0) {
        temporary[0] = '\0';
        return false;
    }
    const mode_t mask = umask(0);
    (void)umask(mask);
    bool good = fchmod(fd, 0666 & ~mask) == 0 && write_all(fd, bytes, length) &&
                fsync(fd) == 0;
    good = close(fd) == 0 && good;
    good = good && rename(temporary, path) == 0;
    if (!good) {
        const int why = errno;
        (void)unlink(temporary);
        errno = why;
    }
    temporary[0] = '\0';
    return good;
}

static bool write_in_place(int fd, bool is_ours, const char *bytes,
                           size_t length)
{
    if (fd < 0) {
        return false;
    }
    const bool good = write_all(fd, bytes, length);
    const int why = errno;
    const bool closed = !is_ours || close(fd) == 0;
    if (!good) {
        errno = why;
    }
    return good && closed;
}

enum hbk_status hbk_file_write(const char *path, const char *bytes,
                               size_t length, struct hbk_faults *faults)
{
    struct stat info;
    bool good = false;
    if (strcmp(path, "-") == 0) {
        good = write_in_place(STDOUT_FILENO, false, bytes, length);
    } else if (stat(path, &info) == 0 && !S_ISREG(info.st_mode)) {
        good = write_in_place(open(path, O_WRONLY | O_CLOEXEC), true, bytes,
                              length);
    } else {
        good = replace_file(path, bytes, length);
    }
    if (!good) {
        hbk_fault_add(faults, in_file(path), H_WRITE, "cannot be written: %s",
                      strerror(errno));
        return HBK_ERR_OUTPUT;
    }
    return HBK_OK;
}
