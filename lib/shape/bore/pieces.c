/* SPDX-License-Identifier: MIT
 * Triangles less the tool. */
#include "shape/bore/pieces.h"

#include "base/vec.h"

#include <assert.h>
#include <math.h>

/* Coordinates across the largest part of the normal: counter-clockwise stays so, and nothing is rounded. */
typedef struct flat {
    int u, v;
} flat;

static flat flatten(double x[3][3])
{
    double n[3];
    vugi_triangle_cross(x[0], x[1], x[2], n);
    int k = fabs(n[0]) > fabs(n[1]) ? 0 : 1;
    k = fabs(n[2]) >= fabs(n[k]) ? 2 : k;
    int u = (k + 1) % 3, v = (k + 2) % 3;
    return n[k] > 0.0 ? (flat){u, v} : (flat){v, u};
}

static bool add_outline(vugi_cutting *cut, flat f, uint32_t id, const double x[3])
{
    const double uv[2] = {x[f.u], x[f.v]};
    return vugi_outline_add(&cut->outline, id, uv);
}

/* The point of a corner of the slice of triangle t. */
static vug_status number_of(vugi_cutting *cut, uint32_t t, const vugi_slice_corner *corner,
    uint32_t *number)
{
    const uint32_t *vertex = cut->carving->triangle + 3 * (size_t)t;
    vugi_point p = {.x = {corner->x[0], corner->x[1], corner->x[2]}};
    assert(!corner->own);
    if (corner->edge[0] < VUGI_SLICE_PLANE) {
        uint32_t a = vertex[corner->edge[0]], b = vertex[(corner->edge[0] + 1) % 3];
        if (corner->edge[1] < VUGI_SLICE_PLANE)
            return VUG_ERR_MESH;
        p.kind = VUGI_POINT_EDGE;
        p.a = a < b ? a : b;
        p.b = a < b ? b : a;
        p.c = corner->edge[1] - VUGI_SLICE_PLANE;
    } else {
        int32_t edge = vugi_tool_edge(cut->tool, corner->edge[0] - VUGI_SLICE_PLANE,
            corner->edge[1] - VUGI_SLICE_PLANE);
        if (edge == VUGI_TOOL_NO_EDGE)
            return VUG_ERR_MESH;
        p.kind = VUGI_POINT_PIERCE;
        p.a = (uint32_t)edge;
        p.b = t;
    }
    return vugi_points_add(&cut->points, &p, number) ? VUG_OK : VUG_ERR_MEMORY;
}

static vug_status add_corner(vugi_cutting *cut, uint32_t t, flat f, const vugi_slice_corner *corner)
{
    uint32_t number;
    vug_status status = number_of(cut, t, corner, &number);
    if (!status && !add_outline(cut, f, cut->base + number, cut->points.point[number].x))
        status = VUG_ERR_MEMORY;
    return status;
}

static vug_status list_seams(vugi_cutting *cut, uint32_t t, const vugi_slice_corner *corner,
    size_t n)
{
    for (size_t i = 0; i < n; i++) {
        if (corner[i].out < VUGI_SLICE_PLANE)
            continue;
        vugi_seam seam = {.plane = corner[i].out - VUGI_SLICE_PLANE};
        vug_status status = number_of(cut, t, &corner[i], &seam.from);
        if (!status)
            status = number_of(cut, t, &corner[(i + 1) % n], &seam.to);
        if (!status
            && !vugi_reserve(&cut->carving->mem, &cut->seam, &cut->seam_capacity,
                cut->seam_count + 1, sizeof *cut->seam))
            status = VUG_ERR_MEMORY;
        if (status)
            return status;
        cut->seam[cut->seam_count++] = seam;
    }
    return VUG_OK;
}

/* The tool pierces the triangle's inside: a hole. */
static vug_status outline_hole(vugi_cutting *cut, uint32_t t, flat f, double x[3][3],
    const vugi_slice_corner *corner, size_t n)
{
    const uint32_t *vertex = cut->carving->triangle + 3 * (size_t)t;
    for (int k = 0; k < 3; k++)
        if (!add_outline(cut, f, vertex[k], x[k]))
            return VUG_ERR_MEMORY;
    if (!vugi_outline_close(&cut->outline))
        return VUG_ERR_MEMORY;
    for (size_t i = n; i-- > 0;) {
        vug_status status = add_corner(cut, t, f, &corner[i]);
        if (status)
            return status;
    }
    return vugi_outline_close(&cut->outline) ? VUG_OK : VUG_ERR_MEMORY;
}

/* The piece outside between corner first of the slice, where the triangle's edge leaves the tool, and
 * corner last, where it comes in again: along the triangle's edges there, along the tool back. */
static vug_status outline_piece(vugi_cutting *cut, uint32_t t, flat f, double x[3][3],
    const vugi_slice_corner *corner, size_t n, size_t first, size_t last)
{
    const uint32_t *vertex = cut->carving->triangle + 3 * (size_t)t;
    uint32_t leaves = corner[(first + n - 1) % n].out, enters = corner[last].out;
    vug_status status = add_corner(cut, t, f, &corner[first]);
    uint32_t k = leaves;
    do {
        k = (k + 1) % 3;
        if (!status && !add_outline(cut, f, vertex[k], x[k]))
            status = VUG_ERR_MEMORY;
    } while (k != enters);
    for (size_t i = last; !status && i != first; i = (i + n - 1) % n)
        status = add_corner(cut, t, f, &corner[i]);
    if (!status && !vugi_outline_close(&cut->outline))
        status = VUG_ERR_MEMORY;
    return status;
}

static vug_status outline_pieces(vugi_cutting *cut, uint32_t t, double x[3][3])
{
    const vugi_slice_corner *corner = cut->slice->corner[cut->slice->side];
    size_t n = cut->slice->count, planes = 0;
    flat f = flatten(x);
    vugi_outline_clear(&cut->outline);
    for (size_t i = 0; i < n; i++)
        planes += corner[i].out >= VUGI_SLICE_PLANE;
    if (planes == n)
        return outline_hole(cut, t, f, x, corner, n);
    vug_status status = VUG_OK;
    for (size_t first = 0; !status && first < n; first++) {
        if (corner[first].out < VUGI_SLICE_PLANE
            || corner[(first + n - 1) % n].out >= VUGI_SLICE_PLANE)
            continue;
        size_t last = (first + 1) % n;
        while (corner[last].out >= VUGI_SLICE_PLANE)
            last = (last + 1) % n;
        status = outline_piece(cut, t, f, x, corner, n, first, last);
    }
    return status;
}

static vug_status cut_triangle(vugi_cutting *cut, uint32_t t)
{
    double x[3][3];
    vugi_carving_corners(cut->carving, cut->tool, t, x);
    if (!vugi_slice_triangle(cut->tool, cut->carving->triangle + 3 * (size_t)t, x, cut->slice))
        return VUG_ERR_MESH;
    size_t n = cut->slice->count;
    if (n == 0)
        return VUG_OK;
    if (!vugi_reserve(&cut->carving->mem, &cut->removed, &cut->removed_capacity,
            cut->removed_count + 1, sizeof *cut->removed))
        return VUG_ERR_MEMORY;
    cut->removed[cut->removed_count++] = t;
    vug_status status = list_seams(cut, t, cut->slice->corner[cut->slice->side], n);
    if (!status)
        status = outline_pieces(cut, t, x);
    if (!status && cut->outline.loops > 0)
        status = vugi_patch(&cut->outline, false, &cut->added);
    return status;
}

vug_status vugi_cut_pieces(vugi_cutting *cut)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; !status && i < cut->list->count; i++)
        status = cut_triangle(cut, cut->list->triangle[i]);
    return status;
}
