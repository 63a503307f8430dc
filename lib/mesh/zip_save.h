/* SPDX-License-Identifier: MIT
 * Archives written to a file (ZIP, PKWARE's APPNOTE 6.3.3): one entry after the other, packed as it
 * comes, so that only the packed bytes of one entry are kept. */
#ifndef VUGI_MESH_ZIP_SAVE_H
#define VUGI_MESH_ZIP_SAVE_H

#include "base/base.h"

typedef struct vugi_zip_out vugi_zip_out;

/* Begins an archive at path, under a temporary name until it is committed. */
vug_status vugi_zip_create(vug_context *ctx, const char *path, vugi_zip_out **out);

/* Begins an entry; name must stay until the archive is committed. */
vug_status vugi_zip_begin(vugi_zip_out *out, const char *name);
vug_status vugi_zip_add(vugi_zip_out *out, const void *data, size_t size);
vug_status vugi_zip_end(vugi_zip_out *out);

/* Either ends the archive: commit writes the list and renames it to its path, drop removes it. */
vug_status vugi_zip_commit(vugi_zip_out *out);
void vugi_zip_drop(vugi_zip_out *out);

#endif
