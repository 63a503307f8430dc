/* SPDX-License-Identifier: MIT
 * The widest way out of a cavity on the grid, from where it borders on the outside. */
#ifndef VUGI_CAVITY_WAY_H
#define VUGI_CAVITY_WAY_H

#include "cavity/void_types.h"

typedef struct vugi_way {
    uint32_t *cell; /* from the border to the end of the grid */
    size_t count;
    size_t narrowest; /* the last place that is as narrow as any */
} vugi_way;

/* Where a hole is shut: a disc. */
typedef struct vugi_plug {
    double center[3], normal[3], reach;
} vugi_plug;

/* What searches on one grid share: an all-zero one is empty. */
typedef struct vugi_ways {
    uint8_t *from;     /* of each cell: the neighbour that the way comes from */
    uint32_t *touched; /* cells that the way has come to */
    size_t touched_count, touched_room;
} vugi_ways;

void vugi_ways_free(const vugi_allocator *mem, vugi_ways *ways);

/* Shuts a hole for the searches that follow. */
vug_status vugi_ways_shut(vug_context *ctx, const vugi_void *v, const vugi_plug *plug,
    vugi_ways *ways);

/* The border of a cavity with the outside follows edges of the cavity, and may be anywhere in them; what it leads to is where
 * the way out from there is narrowest, through no plug. count 0: there is none that is found soon. */
vug_status vugi_way_out(vug_context *ctx, const vugi_void *v, const vugi_border *border,
    vugi_ways *ways, vugi_way *out);
void vugi_way_free(const vugi_allocator *mem, vugi_way *way);

#endif
