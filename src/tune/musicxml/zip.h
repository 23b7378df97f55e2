#ifndef HBK_TUNE_MUSICXML_ZIP_H
#define HBK_TUNE_MUSICXML_ZIP_H

#include "base/fault.h"
#include "base/text.h"

#include <stdint.h>

/*
 * Zip files as MusicXML uses them (APPNOTE 6.3; stored or deflated entries,
 * no encryption, no 64-bit extension). Nothing is ever written to disk, and
 * the sizes that a file claims are not believed.
 */

enum {
    HBK_ZIP_ENTRIES_MAX = 1000,
    HBK_ZIP_RATIO_MAX = 200 /* inflated to deflated size */
};

struct hbk_zip_entry {
    const char *name;
    unsigned method; /* 0 stored, 8 deflated */
    uint32_t crc, size;
    const char *packed; /* borrowed from the file's bytes */
    size_t packed_size;
    size_t local, record; /* where its header and its record in the list are */
};

struct hbk_zip {
    const char *file;
    const char *bytes;
    size_t length;
    size_t end; /* where the end record is */
    size_t n;
    struct hbk_zip_entry *entries;
};

/*
 * Lists the entries. `bytes` is borrowed for as long as the list is used.
 * Returns HBK_OK, or HBK_ERR_INPUT with the reason added to `faults`.
 */
enum hbk_status hbk_zip_open(const char *file, const char *bytes, size_t length,
                             struct hbk_arena *arena, struct hbk_zip *zip,
                             struct hbk_faults *faults) HBK_MUST_CHECK;

/* The entry of exactly this name, or NULL. */
const struct hbk_zip_entry *hbk_zip_find(const struct hbk_zip *zip,
                                         const char *name);

/*
 * Unpacks an entry of at most `limit` bytes; the size is counted while
 * inflating, the checksum is compared.
 */
enum hbk_status hbk_zip_unpack(const struct hbk_zip *zip,
                               const struct hbk_zip_entry *entry, size_t limit,
                               struct hbk_text *out,
                               struct hbk_faults *faults) HBK_MUST_CHECK;

/* An entry made of `length` bytes, deflated unless `is_stored`. */
struct hbk_zip_entry hbk_zip_pack(const char *name, const char *bytes,
                                  size_t length, bool is_stored,
                                  struct hbk_arena *arena);

/*
 * The zip file with these bytes in place of an entry's own, and everything
 * else in it as it is. Whatever zlib had packed is packed as before.
 *
 * entry   one of those of `zip`
 * old     what it holds, unpacked
 *
 * Returns HBK_OK; HBK_ERR_INPUT when other parts of the file lie across the
 * entry's bytes.
 */
enum hbk_status
hbk_zip_replace(const struct hbk_zip *zip, const struct hbk_zip_entry *entry,
                const struct hbk_text *old, const struct hbk_text *now,
                struct hbk_text *out, struct hbk_faults *faults) HBK_MUST_CHECK;

/* The zip file of these entries, dated 1 January 1980 each. */
void hbk_zip_write(const struct hbk_zip_entry *entries, size_t n,
                   struct hbk_text *out);

#endif
