#include "tune/musicxml/zip.h"

#include "base/messages.h"
#include "tune/melody/build.h"
#include "tune/musicxml/zip_deflate.h"
#include "tune/musicxml/zip_fields.h"

#include <assert.h>
#include <string.h>
#include <zlib.h>

enum {
    COMMENT_MAX = 65535,
    FLAG_ENCRYPTED = 1,
    FLAG_UTF8 = 1 << 11,
    DATE_1980 = 0x21, /* 1 January 1980 */
    VERSION = 20
};

static const char end_sign[] = "PK\5\6";
static const char central_sign[] = "PK\1\2";
static const char local_sign[] = "PK\3\4";

/* A file being listed. */
struct archive {
    const char *file, *bytes;
    size_t length;
    size_t at; /* in the central directory */
    struct hbk_arena *arena;
    struct hbk_faults *faults;
};

static enum hbk_status refuse(const char *file, unsigned number,
                              struct hbk_faults *faults, const char *text)
{
    hbk_fault_add(faults, (struct hbk_place){.file = file}, number, "%s", text);
    return HBK_ERR_INPUT;
}

static enum hbk_status damaged(const struct archive *archive)
{
    return refuse(archive->file, HBK_H_ZIP_DAMAGED, archive->faults,
                  "the container is damaged");
}

/* The end record, searched from the end over the comment. */
static const char *find_end(const char *bytes, size_t length)
{
    if (length < HBK_ZIP_END_SIZE) {
        return NULL;
    }
    const size_t last = length - HBK_ZIP_END_SIZE;
    const size_t least = last > COMMENT_MAX ? last - COMMENT_MAX : 0;
    for (size_t at = last + 1; at-- > least;) {
        if (memcmp(bytes + at, end_sign, 4) == 0) {
            return bytes + at;
        }
    }
    return NULL;
}

/* Names must not lead out of the archive, nor hide what they are. */
static bool is_safe_name(const char *name, size_t length)
{
    if (length == 0 || name[0] == '/' || memchr(name, '\\', length) != NULL ||
        memchr(name, ':', length) != NULL || !hbk_text_is_utf8(name, length)) {
        return false;
    }
    size_t from = 0;
    for (size_t i = 0; i <= length; i++) {
        if (i < length && name[i] != '/') {
            continue;
        }
        if (i - from == 2 && memcmp(name + from, "..", 2) == 0) {
            return false;
        }
        from = i + 1;
    }
    return true;
}

/* Where the packed bytes are, by the header that stands before them. */
static bool find_packed(const struct archive *archive, size_t offset,
                        struct hbk_zip_entry *entry)
{
    const char *const bytes = archive->bytes;
    const size_t length = archive->length;
    if (offset > length || length - offset < HBK_ZIP_LOCAL_SIZE ||
        memcmp(bytes + offset, local_sign, 4) != 0) {
        return false;
    }
    const size_t name_length = hbk_zip_two(bytes + offset + 26);
    const size_t skip =
        HBK_ZIP_LOCAL_SIZE + name_length + hbk_zip_two(bytes + offset + 28);
    if (length - offset < skip || length - offset - skip < entry->packed_size) {
        return false;
    }
    entry->packed = bytes + offset + skip;
    return strlen(entry->name) == name_length &&
           memcmp(bytes + offset + HBK_ZIP_LOCAL_SIZE, entry->name,
                  name_length) == 0;
}

/* One record of the central directory. */
static enum hbk_status read_record(struct archive *archive,
                                   struct hbk_zip_entry *entry)
{
    const size_t left =
        archive->at > archive->length ? 0 : archive->length - archive->at;
    const char *const record = archive->bytes + (archive->length - left);
    if (left < HBK_ZIP_CENTRAL_SIZE || memcmp(record, central_sign, 4) != 0) {
        return damaged(archive);
    }
    const size_t name_length = hbk_zip_two(record + 28);
    const size_t size = HBK_ZIP_CENTRAL_SIZE + name_length +
                        hbk_zip_two(record + 30) + hbk_zip_two(record + 32);
    if (left < size) {
        return damaged(archive);
    }
    if (!is_safe_name(record + HBK_ZIP_CENTRAL_SIZE, name_length)) {
        return refuse(archive->file, HBK_H_ZIP_NAME, archive->faults,
                      "the container holds a name that leads out of it");
    }
    if ((hbk_zip_two(record + 8) & FLAG_ENCRYPTED) != 0) {
        return refuse(archive->file, HBK_H_ZIP_KIND, archive->faults,
                      "the container is encrypted");
    }
    *entry = (struct hbk_zip_entry){
        .name = hbk_arena_copy(archive->arena, record + HBK_ZIP_CENTRAL_SIZE,
                               name_length),
        .method = hbk_zip_two(record + 10),
        .crc = hbk_zip_four(record + 16),
        .size = hbk_zip_four(record + 24),
        .packed_size = hbk_zip_four(record + 20),
        .local = hbk_zip_four(record + 42),
        .record = archive->at,
    };
    if (entry->method != 0 && entry->method != 8) {
        return refuse(archive->file, HBK_H_ZIP_KIND, archive->faults,
                      "the container is packed in a way that MusicXML does "
                      "not allow; only stored and deflated files are read");
    }
    if (!find_packed(archive, entry->local, entry)) {
        return damaged(archive);
    }
    archive->at += size;
    return HBK_OK;
}

enum hbk_status hbk_zip_open(const char *file, const char *bytes, size_t length,
                             struct hbk_arena *arena, struct hbk_zip *zip,
                             struct hbk_faults *faults)
{
    const char *const end = find_end(bytes, length);
    if (end == NULL) {
        return refuse(file, HBK_H_ZIP_DAMAGED, faults,
                      "the container is cut off: its list of files is missing");
    }
    const size_t n = hbk_zip_two(end + 10);
    if (n > HBK_ZIP_ENTRIES_MAX) {
        return refuse(file, HBK_H_ZIP_ENTRIES, faults,
                      "the container holds more than 1000 files");
    }
    struct archive archive = {.file = file,
                              .bytes = bytes,
                              .length = length,
                              .at = hbk_zip_four(end + 16),
                              .arena = arena,
                              .faults = faults};
    *zip = (struct hbk_zip){
        .file = file,
        .bytes = bytes,
        .length = length,
        .end = (size_t)(end - bytes),
        .entries = HBK_ARENA_ARRAY(arena, struct hbk_zip_entry, n)};
    for (; zip->n < n; zip->n++) {
        HBK_TRY(read_record(&archive, &zip->entries[zip->n]));
    }
    return HBK_OK;
}

const struct hbk_zip_entry *hbk_zip_find(const struct hbk_zip *zip,
                                         const char *name)
{
    for (size_t i = 0; i < zip->n; i++) {
        if (strcmp(zip->entries[i].name, name) == 0) {
            return &zip->entries[i];
        }
    }
    return NULL;
}

/* HBK_ERR_DOMAIN when it grows beyond `most` bytes. */
static enum hbk_status inflate_all(const struct hbk_zip_entry *entry,
                                   size_t most, struct hbk_text *out)
{
    z_stream stream = {.zalloc = Z_NULL};
    if (inflateInit2(&stream, -MAX_WBITS) != Z_OK) {
        return HBK_ERR_INPUT;
    }
    /* zlib only reads through next_in, but its type says otherwise. */
    union {
        const char *from;
        Bytef *to;
    } input = {.from = entry->packed};
    stream.next_in = input.to;
    stream.avail_in = (uInt)entry->packed_size;
    enum hbk_status status = HBK_OK;
    int result = Z_OK;
    while (result == Z_OK) {
        char buffer[16384];
        stream.next_out = (Bytef *)buffer;
        stream.avail_out = sizeof(buffer);
        result = inflate(&stream, Z_NO_FLUSH);
        hbk_text_put(out, buffer, sizeof(buffer) - stream.avail_out);
        if (out->length > most) {
            status = HBK_ERR_DOMAIN;
            break;
        }
    }
    if (status == HBK_OK && result != Z_STREAM_END) {
        status = HBK_ERR_INPUT;
    }
    (void)inflateEnd(&stream);
    return status;
}

enum hbk_status hbk_zip_unpack(const struct hbk_zip *zip,
                               const struct hbk_zip_entry *entry, size_t limit,
                               struct hbk_text *out, struct hbk_faults *faults)
{
    enum { SLACK = 4096 }; /* short texts may well shrink more */
    const size_t by_ratio = (HBK_ZIP_RATIO_MAX * entry->packed_size) + SLACK;
    const size_t most = by_ratio < limit ? by_ratio : limit;
    assert(out->length == 0);
    enum hbk_status status = HBK_OK;
    if (entry->method == 8) {
        status = inflate_all(entry, most, out);
    } else if (entry->packed_size > limit) {
        status = HBK_ERR_DOMAIN;
    } else {
        hbk_text_put(out, entry->packed, entry->packed_size);
    }
    if (status == HBK_ERR_DOMAIN) {
        return refuse(zip->file, HBK_H_ZIP_LARGE, faults,
                      "a file in the container unpacks to far more than music "
                      "ever needs");
    }
    if (status != HBK_OK ||
        hbk_zip_crc(out->bytes, out->length) != entry->crc) {
        return refuse(zip->file, HBK_H_ZIP_DAMAGED, faults,
                      "a file in the container is damaged");
    }
    return HBK_OK;
}

struct hbk_zip_entry hbk_zip_pack(const char *name, const char *bytes,
                                  size_t length, bool is_stored,
                                  struct hbk_arena *arena)
{
    struct hbk_zip_entry entry = {
        .name = name,
        .crc = hbk_zip_crc(bytes, length),
        .size = (uint32_t)length,
        .packed = bytes,
        .packed_size = length,
    };
    struct hbk_text packed = {.arena = arena};
    if (!is_stored && hbk_zip_deflate(bytes, length, hbk_zip_best, &packed)) {
        entry.method = 8;
        entry.packed = packed.bytes;
        entry.packed_size = packed.length;
    }
    return entry;
}

static void put_two(struct hbk_text *out, unsigned value)
{
    const char bytes[2] = {(char)(value & 0xFF), (char)(value >> 8 & 0xFF)};
    hbk_text_put(out, bytes, sizeof(bytes));
}

static void put_four(struct hbk_text *out, uint32_t value)
{
    put_two(out, value & 0xFFFF);
    put_two(out, value >> 16);
}

/* The fields that the local and the central header have in common. */
static void put_common(struct hbk_text *out, const struct hbk_zip_entry *entry)
{
    bool is_ascii = true;
    for (const char *c = entry->name; *c != '\0'; c++) {
        is_ascii = is_ascii && (unsigned char)*c < 0x80;
    }
    put_two(out, VERSION);
    put_two(out, is_ascii ? 0 : FLAG_UTF8);
    put_two(out, entry->method);
    put_two(out, 0);
    put_two(out, DATE_1980);
    put_four(out, entry->crc);
    put_four(out, (uint32_t)entry->packed_size);
    put_four(out, entry->size);
    put_two(out, (unsigned)strlen(entry->name));
    put_two(out, 0);
}

void hbk_zip_write(const struct hbk_zip_entry *entries, size_t n,
                   struct hbk_text *out)
{
    struct hbk_text list = {.arena = out->arena};
    const size_t begin = out->length;
    for (size_t i = 0; i < n; i++) {
        const size_t offset = out->length - begin;
        hbk_text_put(out, local_sign, 4);
        put_common(out, &entries[i]);
        hbk_text_add(out, entries[i].name);
        hbk_text_put(out, entries[i].packed, entries[i].packed_size);
        hbk_text_put(&list, central_sign, 4);
        put_two(&list, VERSION);
        put_common(&list, &entries[i]);
        put_two(&list, 0); /* comment */
        put_two(&list, 0); /* disk */
        put_two(&list, 0);
        put_four(&list, 0);
        put_four(&list, (uint32_t)offset);
        hbk_text_add(&list, entries[i].name);
    }
    const size_t offset = out->length - begin;
    hbk_text_put(out, hbk_text_string(&list), list.length);
    hbk_text_put(out, end_sign, 4);
    put_two(out, 0);
    put_two(out, 0);
    put_two(out, (unsigned)n);
    put_two(out, (unsigned)n);
    put_four(out, (uint32_t)list.length);
    put_four(out, (uint32_t)offset);
    put_two(out, 0);
}
