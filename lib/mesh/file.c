/* SPDX-License-Identifier: MIT */
#include "mesh/file.h"

#include "base/format.h"
#include "mesh/system.h"

#include "config.h"

#include <errno.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>

enum { BLOCK = 8 << 20, TRIES = 1000 };

const char *vugi_file_reason(int error)
{
    switch (error) {
    case ENOENT:
        return "no such file or directory";
    case EACCES:
        return "permission denied";
    case EPERM:
        return "not permitted";
    case EISDIR:
        return "it is a directory";
    case ENOTDIR:
        return "a part of the path is not a directory";
    case ENOSPC:
        return "no space left on the device";
    case EROFS:
        return "the file system is read-only";
    case EMFILE:
    case ENFILE:
        return "too many open files";
    case ENAMETOOLONG:
        return "the name is too long";
    case EFBIG:
        return "the file is too large";
    case EILSEQ:
        return "the name is not UTF-8";
    case EIO:
        return "the device failed";
    default:
        return "the system refused";
    }
}

static vug_status fail_io(vug_context *ctx, const char *path, const char *verb, int error)
{
    return vugi_fail(ctx, VUG_ERR_IO, "%s: cannot %s: %s", path, verb, vugi_file_reason(error));
}

/* ---- reading ---------------------------------------------------------------------- */

/* Size of a regular file, 0 for a pipe and the like. */
static vug_status look(vug_context *ctx, const char *path, FILE *file, uint64_t limit,
    uint64_t *size)
{
    struct stat info;
    if (fstat(fileno(file), &info) != 0)
        return fail_io(ctx, path, "read", errno);
    if (S_ISDIR(info.st_mode))
        return fail_io(ctx, path, "read", EISDIR);
    *size = S_ISREG(info.st_mode) ? (uint64_t)info.st_size : 0;
    if (*size > limit)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "%s: %llu bytes; the limit is %llu", path,
            (unsigned long long)*size, (unsigned long long)limit);
    if (*size > SIZE_MAX / 2)
        return vugi_fail_memory(ctx);
    return VUG_OK;
}

/* Reads to the end; expect is the size if known, which may turn out wrong. */
static vug_status read_all(vug_context *ctx, const char *path, FILE *file, uint64_t expect,
    uint64_t limit, unsigned char **data, size_t *size)
{
    size_t capacity = 0;
    if (!vugi_reserve(&ctx->mem, data, &capacity, (size_t)expect + 1, 1))
        return vugi_fail_memory(ctx);
    for (;;) {
        if (*size == capacity && !vugi_reserve(&ctx->mem, data, &capacity, *size + BLOCK, 1))
            return vugi_fail_memory(ctx);
        size_t want = capacity - *size < BLOCK ? capacity - *size : BLOCK;
        size_t got = fread(*data + *size, 1, want, file);
        if (got == 0)
            break;
        *size += got;
        if (*size > limit)
            return vugi_fail(ctx, VUG_ERR_LIMIT, "%s: more than %llu bytes", path,
                (unsigned long long)limit);
        vug_status status = vugi_step(ctx, (double)*size / (double)(*size + capacity));
        if (status)
            return status;
    }
    return ferror(file) ? fail_io(ctx, path, "read", errno) : VUG_OK;
}

vug_status vugi_file_read(vug_context *ctx, const char *path, uint64_t limit, unsigned char **data,
    size_t *size)
{
    FILE *file = vugi_system_read(path);
    if (!file)
        return fail_io(ctx, path, "open", errno);
    unsigned char *own = NULL;
    size_t own_size = 0;
    uint64_t expect = 0;
    vug_status status = look(ctx, path, file, limit, &expect);
    if (!status) {
        setvbuf(file, NULL, _IONBF, 0); /* blocks are large: no second copy */
        status = read_all(ctx, path, file, expect, limit, &own, &own_size);
    }
    fclose(file);
    if (status) {
        vugi_free(&ctx->mem, own);
        return status;
    }
    *data = own;
    *size = own_size;
    return VUG_OK;
}

/* ---- writing ------------------------------------------------------------------------ */

struct vugi_file_out {
    vugi_allocator mem;
    FILE *file;
    char *path, *temporary;
    bool direct; /* no temporary file: written as it comes */
    int error;
};

static char *copy_name(const vugi_allocator *mem, const char *path, size_t more)
{
    size_t length = strlen(path);
    char *copy = vugi_alloc(mem, length + 1 + more, 1);
    if (copy)
        memcpy(copy, path, length + 1);
    return copy;
}

/* Opens the first free name path.N.tmp; a device or a pipe itself, which must not be replaced. */
static void open_temporary(vugi_file_out *out)
{
    out->direct = vugi_system_device(out->path);
    size_t length = strlen(out->path);
    for (unsigned n = 0; n < TRIES && !out->file; n++) {
        if (!out->direct)
            vugi_print(out->temporary + length, 16, ".%u.tmp", n);
        out->file = out->direct ? vugi_system_write(out->path) : vugi_system_create(out->temporary);
        out->error = out->file ? 0 : errno;
        if (out->error != EEXIST)
            return;
    }
}

vug_status vugi_file_create(vug_context *ctx, const char *path, vugi_file_out **out)
{
    vugi_file_out *own = vugi_calloc(&ctx->mem, 1, sizeof *own);
    if (!own)
        return vugi_fail_memory(ctx);
    own->mem = ctx->mem;
    own->path = copy_name(&ctx->mem, path, 0);
    own->temporary = copy_name(&ctx->mem, path, 16);
    if (!own->path || !own->temporary) {
        vugi_file_drop(own);
        return vugi_fail_memory(ctx);
    }
    open_temporary(own);
    if (!own->file) {
        vug_status status = fail_io(ctx, path, "write", own->error);
        vugi_file_drop(own);
        return status;
    }
    *out = own;
    return VUG_OK;
}

void vugi_file_write(vugi_file_out *file, const void *data, size_t size)
{
    if (!file->error && fwrite(data, 1, size, file->file) != size)
        file->error = errno ? errno : EIO;
}

vug_status vugi_file_commit(vug_context *ctx, vugi_file_out *file)
{
    FILE *stream = file->file;
    file->file = NULL;
    if (fclose(stream) != 0 && !file->error)
        file->error = errno;
    if (!file->error && !file->direct && !vugi_system_rename(file->temporary, file->path))
        file->error = errno;
    vug_status status = VUG_OK;
    if (file->error) {
        status = fail_io(ctx, file->path, "write", file->error);
        if (!file->direct)
            vugi_system_remove(file->temporary);
    }
    vugi_file_drop(file);
    return status;
}

void vugi_file_drop(vugi_file_out *file)
{
    if (!file)
        return;
    if (file->file) {
        fclose(file->file);
        if (!file->direct)
            vugi_system_remove(file->temporary);
    }
    vugi_allocator mem = file->mem;
    vugi_free(&mem, file->path);
    vugi_free(&mem, file->temporary);
    vugi_free(&mem, file);
}
