/* SPDX-License-Identifier: MIT
 * Floor 2: a part in a pose, as vertical lines. The cavity meshes are turned so that up is +z,
 * rasterised onto a square grid of points in xy, and each column is cut into spans that lie in a
 * cavity. A span's ends are exact in z; only xy is sampled. */
#ifndef VUGI_COLUMN_COLUMN_H
#define VUGI_COLUMN_COLUMN_H

#include "mesh/mesh.h"

/* What gets rasterised: closed meshes that bound liquid space (turned outward from it), and
 * straight bores that are planned but not in the mesh yet. Borrowed pointers. */
typedef struct vugi_bore {
    double mouth[3]; /* centre of the outer end */
    double axis[3];  /* unit, from outside to inside */
    double radius, length;
    int32_t body; /* the body that it opens into */
    double rim[3],
        end[3]; /* normals of the planes that it ends in, through mouth and the point `length`
                              behind it; 0: square to the axis */
} vugi_bore;

typedef struct vugi_bodies {
    const vug_mesh *const *mesh;
    size_t count;
    const vugi_bore *bore;
    size_t bore_count;
} vugi_bodies;

/* Sheets that a span meets, for columns that were cut at some: +number on one side of a sheet,
 * -number on the other, 0 for none. */
typedef struct vugi_sides {
    int16_t at[4];
} vugi_sides;

#define VUGI_NO_TRIANGLE UINT32_MAX

typedef struct vugi_columns {
    double basis[9]; /* rows: x, y and up of the pose, in part coordinates */
    double h;        /* spacing of the columns, mm */
    double x0, y0;   /* column (i, j) stands at x0 + i h, y0 + j h */
    double zlo, zhi; /* lowest and highest span end */
    int32_t nx, ny;
    size_t count;    /* spans */
    uint32_t *first; /* nx * ny + 1: spans of column c are first[c] .. first[c + 1] - 1, upward */
    double *lo, *hi; /* ends of each span */
    int32_t *body;   /* body that each span lies in */
    uint32_t *floor,
        *ceiling;     /* of each span: the triangle that ends it, counted over all bodies, or
                                  VUGI_NO_TRIANGLE: a planned bore does */
    vugi_sides *side; /* of each span; NULL: there are no sheets */
    struct vugi_columns_room *room; /* scratch, reused from pose to pose */
} vugi_columns;

static inline bool vugi_sides_part(const vugi_sides *a, const vugi_sides *b)
{
    for (int i = 0; i < 4 && a->at[i] != 0; i++)
        for (int k = 0; k < 4; k++)
            if (a->at[i] == -b->at[k])
                return true;
    return false;
}

/* Two spans of neighbouring columns touch when their z ranges overlap and no sheet parts them. */
static inline bool vugi_spans_touch(const vugi_columns *c, size_t a, size_t b)
{
    return c->lo[a] < c->hi[b] && c->lo[b] < c->hi[a] && c->body[a] == c->body[b]
        && !(c->side && vugi_sides_part(c->side + a, c->side + b));
}

/* The ceiling of a span, or (liquid) its floor seen upside down. */
static inline double vugi_span_ceiling(const vugi_columns *columns, bool liquid, size_t span)
{
    return liquid ? -columns->lo[span] : columns->hi[span];
}

#endif
