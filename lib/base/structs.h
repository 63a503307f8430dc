/* SPDX-License-Identifier: MIT
 * Options and results that grow: the caller's struct may be older (shorter) or newer (longer) than
 * ours. */
#ifndef VUGI_BASE_STRUCTS_H
#define VUGI_BASE_STRUCTS_H

#include "vug.h"

#include <stddef.h>

/* *given: as much of defaults (full bytes) as the caller's size has; its struct_size is set. */
vug_status vugi_struct_init(void *given, size_t size, const void *defaults, size_t full);

/* *own (full bytes, holding the defaults) gets what *given has. given may be NULL. A longer
 * struct from a newer header is accepted if what we do not know is zero. */
vug_status vugi_struct_read(vug_context *ctx, void *own, size_t full, const void *given,
    const char *name);

/* Could *given be written? For calls with several results, before the first is written. */
vug_status vugi_struct_check(vug_context *ctx, const void *given, const char *name);

/* *given gets as much of *own as given->struct_size has room for. */
vug_status vugi_struct_write(vug_context *ctx, void *given, const void *own, size_t full,
    const char *name);

#endif
