/* SPDX-License-Identifier: MIT
 * Formats of mesh files: which one a file is. */
#ifndef VUGI_MESH_FORMAT_H
#define VUGI_MESH_FORMAT_H

#include "base/base.h"

/* Does a name end so, in upper or lower case? ending: lower case. */
bool vugi_ends_with(const char *path, const char *ending);

/* The VUG_FORMAT_ by what the file begins with, and where that is not clear, by the end of its
 * name. */
int32_t vugi_format_of(const char *path, const unsigned char *data, size_t size);

/* What a file is that begins so and is no mesh, such as "a PNG picture", or NULL. */
const char *vugi_foreign_kind(const unsigned char *data, size_t size);

#endif
