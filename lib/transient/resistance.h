/* SPDX-License-Identifier: MIT
 * What the inside of a cavity resists in a pose. */
#ifndef VUGI_TRANSIENT_RESISTANCE_H
#define VUGI_TRANSIENT_RESISTANCE_H

#include "transient/path.h"

vug_status vugi_resistance_build(vug_context *ctx, const vugi_allocator *mem,
    const vugi_scene *scene, vugi_resistance *out);
void vugi_resistance_free(const vugi_allocator *mem, vugi_resistance *resist);

#endif
