/* SPDX-License-Identifier: MIT */
#include "mesh/zip_save.h"

#include "mesh/bytes.h"
#include "mesh/file.h"
#include "mesh/zip_memory.h"

#include <string.h>

enum {
    LOCAL_SIZE = 30,
    ENTRY_SIZE = 46,
    END_SIZE = 22,
    VERSION = 20, /* of the format that is needed: 2.0, for deflate */
    DEFLATED = 8,
    FIRST_DAY = 33 /* 1 January 1980: the same bytes whenever it is written */
};

typedef struct entry {
    const char *name;
    uint32_t crc, packed, unpacked, begin;
} entry;

struct vugi_zip_out {
    vug_context *ctx;
    vugi_allocator mem;
    const char *path;
    vugi_file_out *file;
    uint64_t written;
    entry *entries;
    size_t count, room;
    z_stream stream;
    bool packing;
    uint64_t unpacked;
    unsigned char *packed; /* of the entry at hand */
    size_t packed_size, packed_room;
};

static void put16(unsigned char *at, uint32_t value)
{
    at[0] = (unsigned char)(value & 0xff);
    at[1] = (unsigned char)(value >> 8 & 0xff);
}

static void put(vugi_zip_out *out, const void *data, size_t size)
{
    vugi_file_write(out->file, data, size);
    out->written += size;
}

vug_status vugi_zip_create(vug_context *ctx, const char *path, vugi_zip_out **out)
{
    vugi_zip_out *zip = vugi_calloc(&ctx->mem, 1, sizeof *zip);
    if (!zip)
        return vugi_fail_memory(ctx);
    zip->ctx = ctx;
    zip->mem = ctx->mem;
    zip->path = path;
    vug_status status = vugi_file_create(ctx, path, &zip->file);
    if (status)
        vugi_zip_drop(zip);
    else
        *out = zip;
    return status;
}

vug_status vugi_zip_begin(vugi_zip_out *out, const char *name)
{
    if (!vugi_reserve(&out->mem, &out->entries, &out->room, out->count + 1, sizeof *out->entries))
        return vugi_fail_memory(out->ctx);
    out->entries[out->count++] = (entry){.name = name, .begin = (uint32_t)out->written};
    out->packed_size = 0;
    out->unpacked = 0;
    out->stream = vugi_zip_stream(&out->mem);
    out->packing = deflateInit2(&out->stream, Z_DEFAULT_COMPRESSION, Z_DEFLATED, -MAX_WBITS, 8,
                       Z_DEFAULT_STRATEGY)
        == Z_OK;
    return out->packing ? VUG_OK : vugi_fail_memory(out->ctx);
}

/* Gives zlib what there is, and takes what it has packed. */
static vug_status pack(vugi_zip_out *out, int flush)
{
    enum { PIECE = 65536 };
    do {
        if (!vugi_reserve(&out->mem, &out->packed, &out->packed_room, out->packed_size + PIECE, 1))
            return vugi_fail_memory(out->ctx);
        out->stream.next_out = out->packed + out->packed_size;
        out->stream.avail_out = PIECE;
        deflate(&out->stream, flush);
        out->packed_size += PIECE - out->stream.avail_out;
    } while (out->stream.avail_out == 0);
    return VUG_OK;
}

vug_status vugi_zip_add(vugi_zip_out *out, const void *data, size_t size)
{
    entry *e = &out->entries[out->count - 1];
    e->crc = (uint32_t)crc32(e->crc, data, (uInt)size);
    out->unpacked += size;
    out->stream.next_in = data;
    out->stream.avail_in = (uInt)size;
    return pack(out, Z_NO_FLUSH);
}

static void put_common(unsigned char *at, const entry *e)
{
    put16(at, VERSION);
    put16(at + 2, 0);
    put16(at + 4, DEFLATED);
    put16(at + 6, 0);
    put16(at + 8, FIRST_DAY);
    vugi_put_u32(at + 10, e->crc);
    vugi_put_u32(at + 14, e->packed);
    vugi_put_u32(at + 18, e->unpacked);
    put16(at + 22, (uint32_t)strlen(e->name));
    put16(at + 24, 0);
}

vug_status vugi_zip_end(vugi_zip_out *out)
{
    entry *e = &out->entries[out->count - 1];
    unsigned char head[LOCAL_SIZE] = "PK\003\004";
    out->stream.avail_in = 0;
    vug_status status = pack(out, Z_FINISH);
    deflateEnd(&out->stream);
    out->packing = false;
    if (status)
        return status;
    if (out->unpacked > UINT32_MAX || out->written + out->packed_size > UINT32_MAX - UINT16_MAX)
        return vugi_fail(out->ctx, VUG_ERR_LIMIT, "%s: more than 4 GiB; save the part as STL",
            out->path);
    e->packed = (uint32_t)out->packed_size;
    e->unpacked = (uint32_t)out->unpacked;
    put_common(head + 4, e);
    put(out, head, sizeof head);
    put(out, e->name, strlen(e->name));
    put(out, out->packed, out->packed_size);
    return VUG_OK;
}

static void put_list(vugi_zip_out *out)
{
    uint32_t begin = (uint32_t)out->written;
    for (size_t i = 0; i < out->count; i++) {
        const entry *e = &out->entries[i];
        unsigned char row[ENTRY_SIZE] = "PK\001\002";
        put16(row + 4, VERSION);
        put_common(row + 6, e);
        vugi_put_u32(row + 42, e->begin);
        put(out, row, sizeof row);
        put(out, e->name, strlen(e->name));
    }
    unsigned char end[END_SIZE] = "PK\005\006";
    put16(end + 8, (uint32_t)out->count);
    put16(end + 10, (uint32_t)out->count);
    vugi_put_u32(end + 12, (uint32_t)out->written - begin);
    vugi_put_u32(end + 16, begin);
    put(out, end, sizeof end);
}

vug_status vugi_zip_commit(vugi_zip_out *out)
{
    put_list(out);
    vug_status status = vugi_file_commit(out->ctx, out->file);
    out->file = NULL;
    vugi_zip_drop(out);
    return status;
}

void vugi_zip_drop(vugi_zip_out *out)
{
    if (!out)
        return;
    if (out->packing)
        deflateEnd(&out->stream);
    if (out->file)
        vugi_file_drop(out->file);
    vugi_allocator mem = out->mem;
    vugi_free(&mem, out->entries);
    vugi_free(&mem, out->packed);
    vugi_free(&mem, out);
}
