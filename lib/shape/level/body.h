/* SPDX-License-Identifier: MIT
 * What of a cavity lies above or below some levels in some of its columns, as a closed mesh: the cavity's own
 * triangles, parted at the levels, and flat lids there. */
#ifndef VUGI_SHAPE_BODY_H
#define VUGI_SHAPE_BODY_H

#include "column/column.h"
#include "mesh/mesh.h"

/* Does height z of a span belong to it? */
typedef bool (*vugi_span_holds)(const void *user, size_t span, double z);

typedef struct vugi_level_body {
    const vug_mesh *wall; /* of the cavity: closed, outward */
    const vugi_columns *columns;
    const double *level; /* where it has a surface; rising, apart */
    size_t levels;
    vugi_span_holds holds;
    const void *user;
    double volume; /* what it holds by its columns */
    double error;  /* how far that may be off the truth */
} vugi_level_body;

/* The mesh, outward. Levels are known as well as the columns see sills, so one at which the cavity's mesh leaks over a
 * sill is moved, by a spacing at most. surface: its lids that look up alone, as an open mesh.
 * VUG_ERR_MESH: it cannot be closed so that it holds the volume, within the error, 1 % and 4 cubes of the spacing;
 * VUG_ERR_NOT_FOUND: there are no such lids. */
vug_status vugi_body_mesh(vug_context *ctx, const vugi_level_body *body, bool surface,
    vug_mesh **out);

/* Sorts heights to rise, and leaves out those that lie no more than so far over one that is kept. false: no memory. */
bool vugi_levels_apart(const vugi_allocator *mem, double apart, double *level, size_t *count);

#endif
