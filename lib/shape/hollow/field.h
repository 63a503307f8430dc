/* SPDX-License-Identifier: MIT
 * A field over a grid whose level 0 is a surface at a distance from a mesh: below 0 in the region that the
 * surface bounds. */
#ifndef VUGI_HOLLOW_FIELD_H
#define VUGI_HOLLOW_FIELD_H

#include "grid/grid.h"

#include "mesh/tree.h"

typedef struct vugi_field {
    const vugi_tree *tree;
    vugi_grid grid;
    double distance; /* from the mesh, mm */
    bool within; /* the region lies in the solid, deeper than distance; else all that is nearer */
    double up[3], floor; /* the region ends where up . x is below floor; -INFINITY: it does not */
    float *value; /* at each cell, in mm; exact near 0, elsewhere to a step and true in sign */
    double deep;  /* with depth: mm; how far in that is exact */
    float *depth; /* NULL, or gets how far each cell of the body is from the mesh, 0 outside */
    uint32_t *
        near; /* gets, at each cell whose value is exact, the nearest triangle; NULL: not known any more */
    const uint8_t *lowered; /* NULL, or 1 for cells whose value was made larger afterwards */
} vugi_field;

/* How far p lies below the floor; -INFINITY without one. */
double vugi_field_above(const vugi_field *field, const double p[3]);

/* Does one of the cells around p have a value that was made larger? */
bool vugi_field_lowered(const vugi_field *field, const double p[3]);

/* A triangle that is nearest to a cell around p, if that is known, else the other one. */
uint32_t vugi_field_near(const vugi_field *field, const double p[3], uint32_t other);

/* Value at any point on the right side of the mesh. inward: the unit vector along which it falls as fast as the way is
 * long, into the region. *triangle: of the mesh, any, quickest if it is near; gets the nearest. */
double vugi_field_at(const vugi_field *field, const double p[3], uint32_t *triangle,
    double inward[3]);

/* Fills value and near, which have a place for each cell. body: not 0 where cells are solid. Source: exact Euclidean distances to the triangles wherever the sign hangs on them; further off, distances
 * between cells decide. */
vug_status vugi_field_fill(vug_context *ctx, vugi_field *field, const uint8_t *body);

#endif
