/* SPDX-License-Identifier: MIT */
#include "mesh/zip.h"

#include "mesh/zip_memory.h"

#include <string.h>

enum {
    END_SIZE = 22,     /* of the record that ends an archive, without its comment */
    ENTRY_SIZE = 46,   /* of a row of the list, without name, extra field and comment */
    LOCAL_SIZE = 30,   /* of the header before what is packed */
    WIDE_SIZE = 56,    /* of the wide record that the end's fields of all ones stand for */
    LOCATOR_SIZE = 20, /* of what tells where that is; it goes before the end */
    WIDE_FIELD = 1,    /* number of the extra field with an entry's wide numbers */
    STORED = 0,
    DEFLATED = 8,
    ENCRYPTED = 1, /* bit of the flags */
    PIECE = 65536
};

static uint32_t read16(const unsigned char *at)
{
    return (uint32_t)at[0] | (uint32_t)at[1] << 8;
}

static uint32_t read32(const unsigned char *at)
{
    return read16(at) | read16(at + 2) << 16;
}

static uint64_t read64(const unsigned char *at)
{
    return (uint64_t)read32(at) | (uint64_t)read32(at + 4) << 32;
}

/* ---- the list ------------------------------------------------------------------------------ */

/* Where the record that ends the archive begins, looked for from the back; size: there is none. */
static size_t find_end(const unsigned char *data, size_t size)
{
    if (size < END_SIZE)
        return size;
    for (size_t at = size - END_SIZE, seen = 0; seen <= UINT16_MAX; at--, seen++) {
        if (memcmp(data + at, "PK\005\006", 4) == 0
            && at + END_SIZE + read16(data + at + 20) <= size)
            return at;
        if (at == 0)
            break;
    }
    return size;
}

/* The wide record, if there is one. Writers may put it beside an end whose numbers would do. */
static const unsigned char *find_wide(const unsigned char *data, size_t end)
{
    if (end < LOCATOR_SIZE + WIDE_SIZE || memcmp(data + end - LOCATOR_SIZE, "PK\006\007", 4) != 0)
        return NULL;
    uint64_t at = read64(data + end - LOCATOR_SIZE + 8);
    bool there = at <= end - LOCATOR_SIZE - WIDE_SIZE && memcmp(data + at, "PK\006\006", 4) == 0;
    return there ? data + at : NULL;
}

vug_status vugi_zip_open(vugi_zip *zip, vug_context *ctx, const char *name,
    const unsigned char *data, size_t size)
{
    size_t end = find_end(data, size);
    if (end == size)
        return vugi_fail(ctx, VUG_ERR_FORMAT, "%s: the archive has no end; is the file whole?",
            name);
    const unsigned char *wide = find_wide(data, end);
    uint64_t count = wide ? read64(wide + 32) : read16(data + end + 10);
    uint64_t list = wide ? read64(wide + 48) : read32(data + end + 16);
    if (list > end || count > (end - list) / ENTRY_SIZE)
        return vugi_fail(ctx, VUG_ERR_FORMAT, "%s: the archive's list lies outside of the file",
            name);
    *zip = (vugi_zip){ctx, name, data, end, (size_t)list, (size_t)count};
    return VUG_OK;
}

/* Numbers of all ones stand in the wide field instead, one after the other. */
static void read_wide(const unsigned char *field, size_t size, vugi_zip_entry *entry)
{
    uint64_t *const value[] = {&entry->unpacked, &entry->packed, &entry->begin};
    while (size >= 4) {
        size_t length = read16(field + 2), at = 4;
        if (length > size - 4)
            return;
        for (int i = 0; read16(field) == WIDE_FIELD && i < 3; i++) {
            if (*value[i] != UINT32_MAX)
                continue;
            if (at + 8 > length + 4)
                return;
            *value[i] = read64(field + at);
            at += 8;
        }
        field += 4 + length;
        size -= 4 + length;
    }
}

static unsigned char lower(unsigned char c)
{
    return c >= 'A' && c <= 'Z' ? (unsigned char)(c | 0x20) : c;
}

static bool same_path(const unsigned char *stored, size_t length, const char *path)
{
    if (length != strlen(path))
        return false;
    for (size_t i = 0; i < length; i++)
        if (lower(stored[i]) != lower((unsigned char)path[i]))
            return false;
    return true;
}

bool vugi_zip_find(const vugi_zip *zip, const char *path, vugi_zip_entry *entry)
{
    const unsigned char *data = zip->data;
    size_t at = zip->list;
    for (size_t i = 0; i < zip->count; i++) {
        if (zip->size - at < ENTRY_SIZE || memcmp(data + at, "PK\001\002", 4) != 0)
            return false;
        size_t length = read16(data + at + 28);
        size_t whole = ENTRY_SIZE + length + read16(data + at + 30) + read16(data + at + 32);
        if (zip->size - at < whole)
            return false;
        if (same_path(data + at + ENTRY_SIZE, length, path)) {
            bool encrypted = read16(data + at + 8) & ENCRYPTED;
            *entry = (vugi_zip_entry){.method = encrypted ? UINT32_MAX : read16(data + at + 10),
                .crc = read32(data + at + 16),
                .packed = read32(data + at + 20),
                .unpacked = read32(data + at + 24),
                .begin = read32(data + at + 42)};
            read_wide(data + at + ENTRY_SIZE + length, read16(data + at + 30), entry);
            return true;
        }
        at += whole;
    }
    return false;
}

/* ---- one entry ------------------------------------------------------------------------------- */

typedef struct reading {
    const vugi_zip *zip;
    const char *path;
    const vugi_zip_entry *entry;
    vugi_zip_sink sink;
    void *user;
    double lo, hi;
    uint32_t crc;
    uint64_t done;
} reading;

static vug_status hand_on(reading *r, const unsigned char *data, size_t size, bool last)
{
    const vugi_zip *zip = r->zip;
    r->done += size;
    r->crc = (uint32_t)crc32(r->crc, data, (uInt)size);
    if (r->done > r->entry->unpacked
        || (last && (r->done < r->entry->unpacked || r->crc != r->entry->crc)))
        return vugi_fail(zip->ctx, VUG_ERR_FORMAT,
            "%s: %s is damaged: its length or check sum is wrong", zip->name, r->path);
    double part = r->entry->unpacked ? (double)r->done / (double)r->entry->unpacked : 1.0;
    vug_status status = vugi_step(zip->ctx, r->lo + part * (r->hi - r->lo));
    return status ? status : r->sink(r->user, data, size, last);
}

static vug_status read_stored(reading *r, const unsigned char *packed)
{
    vug_status status = VUG_OK;
    size_t size = (size_t)r->entry->packed, at = 0;
    do {
        size_t piece = size - at < PIECE ? size - at : PIECE;
        at += piece;
        status = hand_on(r, packed + at - piece, piece, at == size);
    } while (!status && at < size);
    return status;
}

/* Gives zlib the next of what is packed, which may be more than its counters hold. */
static void refill(z_stream *stream, uint64_t *left)
{
    if (stream->avail_in == 0 && *left) {
        stream->avail_in = *left < UINT32_MAX ? (uInt)*left : UINT32_MAX;
        *left -= stream->avail_in;
    }
}

static vug_status inflate_all(reading *r, z_stream *stream, unsigned char *piece)
{
    vug_status status = VUG_OK;
    uint64_t left = r->entry->packed;
    for (int result = Z_OK; !status && result != Z_STREAM_END;) {
        refill(stream, &left);
        stream->next_out = piece;
        stream->avail_out = PIECE;
        result = inflate(stream, Z_NO_FLUSH);
        if (result == Z_MEM_ERROR)
            return vugi_fail_memory(r->zip->ctx);
        if (result != Z_OK && result != Z_STREAM_END)
            return vugi_fail(r->zip->ctx, VUG_ERR_FORMAT, "%s: %s is damaged: it does not unpack",
                r->zip->name, r->path);
        status = hand_on(r, piece, PIECE - stream->avail_out, result == Z_STREAM_END);
    }
    return status;
}

static vug_status read_deflated(reading *r, const unsigned char *packed)
{
    const vugi_allocator *mem = &r->zip->ctx->mem;
    vugi_allocator own = *mem;
    z_stream stream = vugi_zip_stream(&own);
    stream.next_in = packed;
    unsigned char *piece = vugi_alloc(mem, PIECE, 1);
    bool begun = piece && inflateInit2(&stream, -MAX_WBITS) == Z_OK;
    vug_status status = begun ? inflate_all(r, &stream, piece) : vugi_fail_memory(r->zip->ctx);
    if (begun)
        inflateEnd(&stream);
    vugi_free(mem, piece);
    return status;
}

vug_status vugi_zip_read(const vugi_zip *zip, const char *path, const vugi_zip_entry *entry,
    vugi_zip_sink sink, void *user, double lo, double hi)
{
    const unsigned char *data = zip->data;
    reading r = {zip, path, entry, sink, user, lo, hi, 0, 0};
    size_t at = (size_t)entry->begin, size = zip->size;
    bool there = entry->begin <= size && size - at >= LOCAL_SIZE
        && memcmp(data + at, "PK\003\004", 4) == 0;
    if (there)
        at += LOCAL_SIZE + read16(data + at + 26) + read16(data + at + 28);
    if (!there || at > size || size - at < entry->packed)
        return vugi_fail(zip->ctx, VUG_ERR_FORMAT, "%s: %s lies outside of the file", zip->name,
            path);
    if (entry->method == STORED && entry->packed == entry->unpacked)
        return read_stored(&r, data + at);
    if (entry->method == DEFLATED)
        return read_deflated(&r, data + at);
    return vugi_fail(zip->ctx, VUG_ERR_UNSUPPORTED,
        "%s: %s is encrypted or packed in a way that is not known here", zip->name, path);
}
