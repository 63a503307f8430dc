/* SPDX-License-Identifier: MIT
 * After I. Sutherland, G. Hodgman, Reentrant polygon clipping, Communications of the ACM 17, 1974. Where an
 * edge of the mesh passes a plane is always taken from the whole edge, from its lower vertex: that
 * depends on edge and plane alone, and so does every decision about it. */
#include "shape/bore/slice.h"

#include <assert.h>

/* Where the way from a to b passes a plane at whose other sides they lie. */
static void pass(const vugi_tool *tool, uint32_t plane, const double *a, const double *b, double x[3])
{
    double ha = vugi_tool_height(tool, plane, a), hb = vugi_tool_height(tool, plane, b);
    double t = ha / (ha - hb);
    for (int k = 0; k < 3; k++)
        x[k] = a[k] + t * (b[k] - a[k]);
}

typedef struct cutter {
    const vugi_tool *tool;
    const uint32_t *vertex;
    double (*x)[3];
    uint32_t plane;
} cutter;

static vugi_slice_corner crossing(const cutter *c, const vugi_slice_corner *p,
    const vugi_slice_corner *q, bool leaves)
{
    uint32_t name = c->plane + VUGI_SLICE_PLANE;
    vugi_slice_corner corner = {.out = leaves ? name : p->out};
    corner.edge[0] = p->out < name ? p->out : name;
    corner.edge[1] = p->out < name ? name : p->out;
    const double *a = p->x, *b = q->x;
    if (p->out < VUGI_SLICE_PLANE) {
        uint32_t i = p->out, j = (i + 1) % 3;
        bool up = c->vertex[i] < c->vertex[j];
        a = c->x[up ? i : j];
        b = c->x[up ? j : i];
    } else if (!leaves) {
        a = q->x; /* either way from the inner end */
        b = p->x;
    }
    pass(c->tool, c->plane, a, b, corner.x);
    return corner;
}

/* One plane. false: more than one way in. */
static bool clip(const cutter *c, vugi_slice *slice)
{
    const vugi_slice_corner *from = slice->corner[slice->side];
    vugi_slice_corner *to = slice->corner[!slice->side];
    size_t n = slice->count, count = 0, ways = 0;
    bool inside[VUGI_SLICE_MOST];
    for (size_t i = 0; i < n; i++) {
        inside[i] = vugi_tool_height(c->tool, c->plane, from[i].x) < 0.0;
        count += inside[i];
    }
    if (count == n)
        return true;
    slice->count = count;
    if (count == 0)
        return true;
    count = 0;
    for (size_t i = 0; i < n; i++) {
        size_t j = (i + 1) % n;
        if (inside[i])
            to[count++] = from[i];
        if (inside[i] != inside[j]) {
            to[count++] = crossing(c, &from[i], &from[j], inside[i]);
            ways++;
        }
    }
    assert(count <= VUGI_SLICE_MOST);
    slice->count = count;
    slice->side = !slice->side;
    return ways == 2;
}

bool vugi_slice_triangle(const vugi_tool *tool, const uint32_t vertex[3], double x[3][3],
    vugi_slice *slice)
{
    slice->side = 0;
    slice->count = 3;
    for (uint32_t k = 0; k < 3; k++)
        slice->corner[0][k] = (vugi_slice_corner){
            {x[k][0], x[k][1], x[k][2]}, true, {0, 0}, k};
    cutter c = {tool, vertex, x, 0};
    for (; c.plane < tool->sides + 2 && slice->count > 0; c.plane++)
        if (!clip(&c, slice))
            return false;
    return true;
}
