/* SPDX-License-Identifier: MIT
 * One height after the other: the edges that cross it get a corner there, one for each edge, so that what was
 * closed stays closed. */
#include "shape/level/slabs.h"

#include "column/pose.h"
#include "shape/level/edges.h"

#include <math.h>
#include <string.h>

static bool is_above(const vugi_slabs *s, uint32_t corner, double z)
{
    return s->xyz[3 * (size_t)corner + 2] > z;
}

/* The place of the corner that stands alone on its side of z; 3: all are on one side. */
static size_t lone_corner(const vugi_slabs *s, const uint32_t t[3], double z)
{
    bool up[3] = {is_above(s, t[0], z), is_above(s, t[1], z), is_above(s, t[2], z)};
    if (up[0] == up[1])
        return up[1] == up[2] ? 3 : 2;
    return up[0] == up[2] ? 1 : 0;
}

static bool list_crossings(const vugi_slabs *s, double z, vugi_level_edges *c)
{
    c->count = 0;
    for (size_t t = 0; t < s->triangle_count; t++) {
        const uint32_t *v = s->triangles + 3 * t;
        size_t k = lone_corner(s, v, z);
        if (k < 3
            && (!vugi_level_edges_add(&s->mem, c, v[k], v[(k + 1) % 3])
                || !vugi_level_edges_add(&s->mem, c, v[k], v[(k + 2) % 3])))
            return false;
    }
    return vugi_level_edges_sort(&s->mem, c);
}

/* One corner for each edge, at height number k. */
static bool add_corners(vugi_slabs *s, uint32_t k, vugi_level_edges *c)
{
    const size_t all = s->corners + c->count;
    if (!vugi_reserve(&s->mem, &s->xyz, &s->xyz_capacity, 3 * all, sizeof *s->xyz)
        || !vugi_reserve(&s->mem, &s->on, &s->on_capacity, all, sizeof *s->on))
        return false;
    for (size_t i = 0; i < c->count; i++) {
        const double *p = s->xyz + 3 * (size_t)c->edge[i].a, *q = s->xyz + 3 * (size_t)c->edge[i].b;
        double *at = s->xyz + 3 * s->corners, share = (s->height[k] - p[2]) / (q[2] - p[2]);
        at[0] = p[0] + share * (q[0] - p[0]);
        at[1] = p[1] + share * (q[1] - p[1]);
        at[2] = s->height[k];
        s->on[s->corners] = k + 1;
        c->edge[i].corner = (uint32_t)s->corners++;
    }
    return true;
}

static bool part_triangles(vugi_slabs *s, double z, const vugi_level_edges *c)
{
    for (size_t t = 0, count = s->triangle_count; t < count; t++) {
        size_t k = lone_corner(s, s->triangles + 3 * t, z);
        if (k == 3)
            continue;
        if (!vugi_reserve(&s->mem, &s->triangles, &s->triangle_capacity,
                3 * (s->triangle_count + 2), sizeof *s->triangles))
            return false;
        uint32_t *v = s->triangles + 3 * t, a = v[k], b = v[(k + 1) % 3], d = v[(k + 2) % 3];
        uint32_t p = vugi_level_edges_corner(c, a, b), q = vugi_level_edges_corner(c, a, d);
        const uint32_t own[3] = {a, p, q}, more[6] = {p, b, d, p, d, q};
        memcpy(v, own, sizeof own);
        memcpy(s->triangles + 3 * s->triangle_count, more, sizeof more);
        s->triangle_count += 2;
    }
    return true;
}

/* Heights that no corner of the mesh is at: one that is goes up a little. */
static void clear_heights(vugi_slabs *s)
{
    for (size_t k = 0; k < s->heights; k++) {
        double z = s->height[k], near = VUGI_SLAB_CLEAR;
        for (int tries = 0; tries < 16 && near < 2.0 * VUGI_SLAB_CLEAR; tries++) {
            near = 2.0 * VUGI_SLAB_CLEAR;
            for (size_t i = 0; i < s->corners && near >= VUGI_SLAB_CLEAR; i++)
                near = fmin(near, fabs(s->xyz[3 * i + 2] - z));
            if (near < VUGI_SLAB_CLEAR)
                z += 2.5 * VUGI_SLAB_CLEAR;
        }
        s->height[k] = k > 0 ? fmax(z, s->height[k - 1] + VUGI_SLAB_CLEAR) : z;
    }
}

static bool copy_in(vugi_slabs *s, const vug_mesh *mesh, const double basis[9],
    const double *height, size_t heights)
{
    s->xyz_capacity = 3 * mesh->vertex_count;
    s->on_capacity = mesh->vertex_count;
    s->triangle_capacity = 3 * mesh->triangle_count;
    s->xyz = vugi_alloc(&s->mem, s->xyz_capacity, sizeof *s->xyz);
    s->on = vugi_calloc(&s->mem, s->on_capacity, sizeof *s->on);
    s->triangles = vugi_alloc(&s->mem, s->triangle_capacity, sizeof *s->triangles);
    s->height = vugi_alloc(&s->mem, heights + 1, sizeof *s->height);
    if (!s->xyz || !s->on || !s->triangles || !s->height)
        return false;
    for (size_t i = 0; i < mesh->vertex_count; i++)
        vugi_to_pose(basis, mesh->xyz + 3 * i, s->xyz + 3 * i);
    memcpy(s->triangles, mesh->triangles, 3 * mesh->triangle_count * sizeof *s->triangles);
    if (heights > 0)
        memcpy(s->height, height, heights * sizeof *height);
    s->corners = mesh->vertex_count;
    s->triangle_count = mesh->triangle_count;
    s->heights = heights;
    return true;
}

vug_status vugi_slabs_make(vug_context *ctx, const vug_mesh *mesh, const double basis[9],
    const double *height, size_t heights, vugi_slabs *s)
{
    *s = (vugi_slabs){.mem = ctx->mem};
    vugi_level_edges c = {NULL, 0, 0};
    bool ok = copy_in(s, mesh, basis, height, heights);
    if (ok)
        clear_heights(s);
    for (size_t k = 0; k < heights && ok; k++)
        ok = list_crossings(s, s->height[k], &c) && add_corners(s, (uint32_t)k, &c)
            && part_triangles(s, s->height[k], &c);
    vugi_free(&s->mem, c.edge);
    return ok ? VUG_OK : vugi_fail_memory(ctx);
}

void vugi_slabs_free(vugi_slabs *s)
{
    vugi_free(&s->mem, s->xyz);
    vugi_free(&s->mem, s->on);
    vugi_free(&s->mem, s->triangles);
    vugi_free(&s->mem, s->height);
}

bool vugi_slabs_above(const vugi_slabs *s, size_t triangle, uint32_t corner)
{
    const uint32_t *v = s->triangles + 3 * triangle;
    double z = s->height[s->on[corner] - 1], off = 0.0;
    for (int k = 0; k < 3; k++) {
        double d = s->xyz[3 * (size_t)v[k] + 2] - z;
        off = fabs(d) > fabs(off) ? d : off;
    }
    return off > 0.0;
}
