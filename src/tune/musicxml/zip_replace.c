#include "base/messages.h"
#include "tune/musicxml/zip.h"
#include "tune/musicxml/zip_deflate.h"
#include "tune/musicxml/zip_fields.h"

#include <string.h>

/*
 * One entry of a zip file replaced: its packed bytes give way to others, and
 * the few numbers that speak of it, or of where something is, follow.
 */

enum { SIZES = 12, SIGN_SIZE = 4, FLAG_SIZES_FOLLOW = 8 };

/* A copy of the file whose numbers are changed before it is cut and joined. */
struct patch {
    const struct hbk_zip *zip;
    char *bytes;
    size_t begin, end; /* the entry's packed bytes */
    uint32_t grows;    /* by how much, modulo two to the 32 */
    char old_sizes[SIZES], new_sizes[SIZES]; /* crc, packed, unpacked */
};

static void set_four(char *at, uint32_t value)
{
    for (int i = 0; i < 4; i++) {
        at[i] = (char)(value >> (8 * i) & 0xFF);
    }
}

static void set_sizes(char *at, const struct hbk_zip_entry *entry)
{
    set_four(at, entry->crc);
    set_four(at + 4, (uint32_t)entry->packed_size);
    set_four(at + 8, entry->size);
}

/* Changes an offset of something behind the entry's bytes. */
static void move(const struct patch *patch, size_t at)
{
    const uint32_t offset = hbk_zip_four(patch->bytes + at);
    if (offset >= patch->end) {
        set_four(patch->bytes + at, offset + patch->grows);
    }
}

/* Changes the sizes at an offset, if that is what stands there. */
static bool resize(const struct patch *patch, size_t at)
{
    if (patch->zip->length - at < SIZES ||
        memcmp(patch->bytes + at, patch->old_sizes, SIZES) != 0) {
        return false;
    }
    memcpy(patch->bytes + at, patch->new_sizes, SIZES);
    return true;
}

/* The header before the packed bytes, or what follows them in its place. */
static void resize_local(const struct patch *patch, size_t local)
{
    const unsigned flags = hbk_zip_two(patch->bytes + local + 6);
    (void)resize(patch, local + 14);
    if ((flags & FLAG_SIZES_FOLLOW) != 0 && !resize(patch, patch->end) &&
        patch->zip->length - patch->end >= SIGN_SIZE) {
        (void)resize(patch, patch->end + SIGN_SIZE);
    }
}

/* Whether nothing else lies across the entry's bytes. */
static bool is_apart(const struct patch *patch, size_t local)
{
    const struct hbk_zip *const zip = patch->zip;
    if (zip->end < patch->end && zip->end + HBK_ZIP_END_SIZE > local) {
        return false;
    }
    for (size_t i = 0; i < zip->n; i++) {
        const struct hbk_zip_entry *const other = &zip->entries[i];
        const size_t from = other->local;
        const size_t to =
            (size_t)(other->packed - zip->bytes) + other->packed_size;
        const bool is_across =
            (from != local && from < patch->end && to > local) ||
            (other->record < patch->end &&
             other->record + HBK_ZIP_CENTRAL_SIZE > local);
        if (is_across) {
            return false;
        }
    }
    return true;
}

static struct hbk_zip_entry pack_as(const struct hbk_zip_entry *entry,
                                    const struct hbk_text *old,
                                    const struct hbk_text *now,
                                    struct hbk_arena *arena)
{
    struct hbk_zip_entry fresh = *entry;
    struct hbk_text packed = {.arena = arena};
    fresh.crc = hbk_zip_crc(now->bytes, now->length);
    fresh.size = (uint32_t)now->length;
    fresh.packed = now->bytes;
    fresh.packed_size = now->length;
    if (entry->method == 8) {
        const struct hbk_zip_way way = hbk_zip_way_of(
            old->bytes, old->length, entry->packed, entry->packed_size);
        if (!hbk_zip_deflate(now->bytes, now->length, way, &packed)) {
            hbk_arena_exhausted();
        }
        fresh.packed = packed.bytes;
        fresh.packed_size = packed.length;
    }
    return fresh;
}

enum hbk_status hbk_zip_replace(const struct hbk_zip *zip,
                                const struct hbk_zip_entry *entry,
                                const struct hbk_text *old,
                                const struct hbk_text *now,
                                struct hbk_text *out, struct hbk_faults *faults)
{
    const struct hbk_zip_entry fresh = pack_as(entry, old, now, out->arena);
    const size_t begin = (size_t)(entry->packed - zip->bytes);
    struct patch patch = {
        .zip = zip,
        .bytes = hbk_arena_copy(out->arena, zip->bytes, zip->length),
        .begin = begin,
        .end = begin + entry->packed_size,
        .grows = (uint32_t)fresh.packed_size - (uint32_t)entry->packed_size};
    if (!is_apart(&patch, entry->local)) {
        hbk_fault_add(faults, (struct hbk_place){.file = zip->file},
                      HBK_H_ZIP_DAMAGED,
                      "the container is damaged: two of its files lie across "
                      "each other");
        return HBK_ERR_INPUT;
    }
    set_sizes(patch.old_sizes, entry);
    set_sizes(patch.new_sizes, &fresh);
    resize_local(&patch, entry->local);
    for (size_t i = 0; i < zip->n; i++) {
        if (zip->entries[i].local == entry->local) {
            (void)resize(&patch, zip->entries[i].record + 16);
        }
        move(&patch, zip->entries[i].record + 42);
    }
    move(&patch, zip->end + 16);
    hbk_text_put(out, patch.bytes, begin);
    hbk_text_put(out, fresh.packed, fresh.packed_size);
    hbk_text_put(out, patch.bytes + patch.end, zip->length - patch.end);
    return HBK_OK;
}
