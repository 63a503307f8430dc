/* SPDX-License-Identifier: MIT */
#ifndef VUGI_MESH_ZIP_MEMORY_H
#define VUGI_MESH_ZIP_MEMORY_H

#include "base/memory.h"

#define ZLIB_CONST /* what goes in is not changed */
#include <zlib.h>

/* A stream whose memory zlib takes from mem, which has to outlive it. */
z_stream vugi_zip_stream(vugi_allocator *mem);

#endif
