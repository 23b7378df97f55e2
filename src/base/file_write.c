#include "base/file.h"
#include "base/inputs.h"
#include "base/messages.h"

#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

/* One file on its way to its name. */
struct pending {
    const struct hbk_outgoing *file;
    const char *target; /* links followed; NULL to write it in place */
    bool is_there;      /* a file of that name, with: */
    struct stat older;
    char *temporary; /* the new bytes, in the target's folder; or NULL */
    char *aside;     /* a second name of the older file meanwhile; or NULL */
    bool is_moving;  /* it takes its name now, or has taken it */
};

/* All of them, so that a signal can take them back. */
static struct {
    struct pending *files;
    size_t n;
    bool are_done; /* all have their names */
} underway;

static void take_back(const struct pending *pending)
{
    if (pending->is_moving && !pending->is_there) {
        (void)unlink(pending->target);
    }
    if (pending->is_moving && pending->aside != NULL) {
        (void)rename(pending->aside, pending->target);
    }
}

void hbk_file_tidy(void)
{
    for (size_t i = underway.n; i > 0; i--) {
        const struct pending *const pending = &underway.files[i - 1];
        if (!underway.are_done) {
            take_back(pending);
        }
        if (pending->aside != NULL) {
            (void)unlink(pending->aside);
        }
        if (pending->temporary != NULL) {
            (void)unlink(pending->temporary);
        }
    }
    underway.n = 0;
}

/* Adds the reason that errno has. */
static bool fails(const char *path, struct hbk_faults *faults)
{
    hbk_fault_add(faults, (struct hbk_place){.file = path}, HBK_H_CANNOT_WRITE,
                  "cannot be written: %s", strerror(errno));
    return false;
}

static bool is_same(const struct stat *a, const struct stat *b)
{
    return a->st_dev == b->st_dev && a->st_ino == b->st_ino;
}

/* Whether the older file is the one that the output was made from. */
static bool is_over(const struct pending *pending)
{
    const char *const over = pending->file->over;
    struct stat info;
    return over != NULL &&
           (strcmp(over, "-") == 0 ? fstat(STDIN_FILENO, &info)
                                   : stat(over, &info)) == 0 &&
           is_same(&info, &pending->older);
}

/* A link that the system keeps for a program's own output, as /dev/stdout. */
static bool is_standard_output(const struct stat *found)
{
    struct stat own;
    return fstat(STDOUT_FILENO, &own) == 0 && is_same(&own, found);
}

/*
 * Follows a link; false with errno set. What is no regular file is written as
 * it stands and needs no other name; where the system keeps such a link, as
 * /dev/stdout to a pipe, there is none.
 */
static bool follow(struct pending *pending, struct hbk_arena *arena)
{
    if (stat(pending->target, &pending->older) != 0) {
        return false;
    }
    if (!S_ISREG(pending->older.st_mode) ||
        is_standard_output(&pending->older)) {
        pending->target = NULL;
        return true;
    }
    char *const path = realpath(pending->target, NULL);
    if (path == NULL) {
        return false;
    }
    pending->target = hbk_arena_copy(arena, path, strlen(path));
    free(path);
    return true;
}

/* Finds out what is there, and whether it may be replaced. */
static bool look(struct pending *pending, struct hbk_arena *arena,
                 struct hbk_faults *faults)
{
    const char *const path = pending->file->path;
    struct stat *const older = &pending->older;
    if (strcmp(path, "-") == 0) {
        return true;
    }
    pending->target = path;
    if (lstat(path, older) != 0) {
        return errno == ENOENT || fails(path, faults);
    }
    if (S_ISLNK(older->st_mode) && !follow(pending, arena)) {
        return fails(path, faults);
    }
    if (S_ISDIR(older->st_mode)) {
        errno = EISDIR;
        return fails(path, faults);
    }
    if (!S_ISREG(older->st_mode)) {
        pending->target = NULL;
    }
    if (hbk_inputs_have(older) && !is_over(pending)) {
        hbk_fault_add(faults, (struct hbk_place){.file = path},
                      HBK_H_WOULD_OVERWRITE,
                      "is a file that this command reads, and would be lost; "
                      "give the output another name");
        return false;
    }
    pending->is_there = true;
    return access(path, W_OK) == 0 || fails(path, faults);
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

/* The older file's owner where that is allowed, and its permissions. */
static bool set_owner(int fd, const struct pending *pending)
{
    if (!pending->is_there) {
        const mode_t mask = umask(0);
        (void)umask(mask);
        return fchmod(fd, 0666 & ~mask) == 0;
    }
    const struct stat *const older = &pending->older;
    mode_t mode = older->st_mode & 0777;
    if (fchown(fd, older->st_uid, older->st_gid) != 0 &&
        fchown(fd, (uid_t)-1, older->st_gid) != 0) {
        mode &= ~(mode_t)070; /* it would be for another group */
    }
    return fchmod(fd, mode) == 0;
}

/* Short, so that a name may be as long as the disk takes it. */
static char *temporary_name(const char *target, struct hbk_arena *arena)
{
    const char *const slash = strrchr(target, '/');
    const size_t folder = slash == NULL ? 0 : (size_t)(slash - target) + 1;
    return hbk_arena_printf(arena, "%.*s.hornbook-XXXXXX", (int)folder, target);
}

static bool write_temporary(struct pending *pending, struct hbk_arena *arena)
{
    const struct hbk_outgoing *const file = pending->file;
    pending->temporary = temporary_name(pending->target, arena);
    const int fd = mkstemp(pending->temporary);
    if (fd < 0) {
        return false;
    }
    const bool good = write_all(fd, file->bytes, file->length) &&
                      set_owner(fd, pending) && fsync(fd) == 0;
    const int why = errno;
    const bool closed = close(fd) == 0;
    if (!good) {
        errno = why;
    }
    return good && closed;
}

static bool write_in_place(const struct hbk_outgoing *file, bool is_output)
{
    const int fd =
        is_output ? STDOUT_FILENO : open(file->path, O_WRONLY | O_CLOEXEC);
    if (fd < 0) {
        return false;
    }
    const bool good = write_all(fd, file->bytes, file->length);
    const int why = errno;
    const bool closed = is_output || close(fd) == 0;
    if (!good) {
        errno = why;
    }
    return good && closed;
}

/* Where a disk gives a file no second name, it has only that for a moment. */
static bool put_aside(struct pending *pending, struct hbk_arena *arena)
{
    char *const aside = hbk_arena_printf(arena, "%s.old", pending->temporary);
    pending->aside = aside;
    return link(pending->target, aside) == 0 ||
           rename(pending->target, aside) == 0;
}

/* Gives every file its name; where one cannot, says which. */
static bool move(struct pending *files, size_t n, struct hbk_arena *arena,
                 struct hbk_faults *faults)
{
    for (size_t i = 0; i < n; i++) {
        if (files[i].temporary == NULL) {
            continue;
        }
        files[i].is_moving = true;
        /* The last is one step, which leaves the older file or the new. */
        if ((i + 1 < n && files[i].is_there && !put_aside(&files[i], arena)) ||
            rename(files[i].temporary, files[i].target) != 0) {
            return fails(files[i].file->path, faults);
        }
        files[i].temporary = NULL;
    }
    return true;
}

/* Whether an earlier one is the same file, by a link. */
static bool is_twice(const struct pending *files, size_t i,
                     struct hbk_faults *faults)
{
    for (size_t k = 0; k < i && files[i].is_there; k++) {
        if (files[i].target != NULL && files[k].target != NULL &&
            files[k].is_there && is_same(&files[i].older, &files[k].older)) {
            hbk_fault_add(
                faults, (struct hbk_place){.file = files[i].file->path},
                HBK_H_SAME_OUTPUT, "is the same file as the output %.200s",
                files[k].file->path);
            return true;
        }
    }
    return false;
}

static bool write_files(struct pending *files, size_t n,
                        struct hbk_arena *arena, struct hbk_faults *faults)
{
    for (size_t i = 0; i < n; i++) {
        if (!look(&files[i], arena, faults) || is_twice(files, i, faults)) {
            return false;
        }
    }
    for (size_t i = 0; i < n; i++) {
        if (files[i].target != NULL && !write_temporary(&files[i], arena)) {
            return fails(files[i].file->path, faults);
        }
    }
    for (size_t i = 0; i < n; i++) {
        const struct hbk_outgoing *const file = files[i].file;
        const bool is_output =
            strcmp(file->path, "-") == 0 || is_standard_output(&files[i].older);
        if (files[i].target == NULL && !write_in_place(file, is_output)) {
            return fails(file->path, faults);
        }
    }
    return move(files, n, arena, faults);
}

enum hbk_status hbk_files_write(const struct hbk_outgoing *files, size_t n,
                                struct hbk_faults *faults)
{
    struct hbk_arena arena = {0};
    underway.files = HBK_ARENA_ARRAY(&arena, struct pending, n);
    for (size_t i = 0; i < n; i++) {
        underway.files[i].file = &files[i];
    }
    underway.are_done = false;
    underway.n = n;
    underway.are_done = write_files(underway.files, n, &arena, faults);
    const bool good = underway.are_done;
    hbk_file_tidy();
    hbk_arena_finish(&arena);
    return good ? HBK_OK : HBK_ERR_OUTPUT;
}

enum hbk_status hbk_file_may_write(const char *path, struct hbk_faults *faults)
{
    struct hbk_arena arena = {0};
    const struct hbk_outgoing file = {.path = path};
    struct pending pending = {.file = &file};
    const bool may = look(&pending, &arena, faults);
    hbk_arena_finish(&arena);
    return may ? HBK_OK : HBK_ERR_OUTPUT;
}
