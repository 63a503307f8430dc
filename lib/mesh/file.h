/* SPDX-License-Identifier: MIT
 * Whole files in, whole files out. */
#ifndef VUGI_MESH_FILE_H
#define VUGI_MESH_FILE_H

#include "base/base.h"

/* Reads the file into *data (from ctx's allocator, the caller frees it). A file of more than
 * limit bytes is refused before it is read. Errors: VUG_ERR_IO (the message names path and
 * reason), VUG_ERR_LIMIT, VUG_ERR_MEMORY, VUG_ERR_CANCELLED. */
vug_status vugi_file_read(vug_context *ctx, const char *path, uint64_t limit, unsigned char **data,
    size_t *size);

/* A file being written under a temporary name beside path; commit renames it to path, drop
 * removes it. Either ends it. The first failed write makes commit fail. */
typedef struct vugi_file_out vugi_file_out;
vug_status vugi_file_create(vug_context *ctx, const char *path, vugi_file_out **out);
void vugi_file_write(vugi_file_out *file, const void *data, size_t size);
vug_status vugi_file_commit(vug_context *ctx, vugi_file_out *file);
void vugi_file_drop(vugi_file_out *file);

/* Why the last C library call failed, in a few words that do not depend on the locale. */
const char *vugi_file_reason(int error);

#endif
