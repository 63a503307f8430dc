/* SPDX-License-Identifier: MIT
 * Which shell lies inside which. */
#ifndef VUGI_MESH_NESTING_H
#define VUGI_MESH_NESTING_H

#include "mesh/mesh.h"
#include "mesh/shells.h"

typedef struct vugi_nesting {
    size_t count;     /* of shells */
    uint32_t *parent; /* shell directly around, or UINT32_MAX */
    uint32_t *depth;  /* shells around; those that cross one another count once */
    uint32_t *body;   /* lowest shell of those that cross one another, this one included */
} vugi_nesting;

/* Parity of crossings of a ray from some vertices of each shell, exact but where shells touch,
 * whatever way the triangles turn. Open shells count by the majority of three rays. A shell that
 * is partly inside another is not inside it: they cross (as far as those vertices show) and form
 * one body. unsure: NULL, or of each vertex how little it tells, 0: all; a shell asks those of its own that tell
 * most. Allocates from ctx. */
vug_status vugi_shells_nesting(vug_context *ctx, const vug_mesh *mesh, const vug_shells *shells,
    const uint8_t *unsure, vugi_nesting *nesting);
void vugi_nesting_free(vug_context *ctx, vugi_nesting *nesting);

#endif
