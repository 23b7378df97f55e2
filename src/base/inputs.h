#ifndef HBK_BASE_INPUTS_H
#define HBK_BASE_INPUTS_H

#include <stdbool.h>
#include <sys/stat.h>

/*
 * The files this process has read, known by device and inode: whatever a
 * path calls it, and through whatever link, a file is found again. What is
 * no regular file is not kept. One that is deleted meanwhile may leave its
 * inode to a new file, which then counts as read: that is refused without
 * need, but nothing is lost. From any thread.
 */
void hbk_inputs_add(const struct stat *info);
bool hbk_inputs_have(const struct stat *info);

#endif
