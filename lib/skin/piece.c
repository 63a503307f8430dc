/* SPDX-License-Identifier: MIT
 * Cuts the skin of cavities into pieces. */
#include "skin/piece.h"

#include "base/threads.h"
#include "base/vec.h"
#include "cavity/raygrid.h"

#include <math.h>
#include <string.h>

typedef struct cutting {
    double spacing;
    vugi_skin_piece *piece; /* NULL: they are only counted */
    size_t count;
    vugi_skin_piece now; /* its inward and triangle */
} cutting;

static void add(cutting *c, const double corner[3][3], double area)
{
    vugi_skin_piece *p = c->piece ? c->piece + c->count : NULL;
    c->count++;
    if (!p)
        return;
    *p = c->now;
    p->area = area;
    for (int k = 0; k < 3; k++)
        p->point[k] = (corner[0][k] + corner[1][k] + corner[2][k]) / 3.0;
}

/* Halves a triangle across its longest edge until none is too long: slivers stay few pieces. */
static void halve(cutting *c, const double corner[3][3], double area)
{
    double longest = 0.0, half[3][3];
    int at = 0;
    for (int k = 0; k < 3; k++) {
        double length = vugi_point_distance(corner[k], corner[(k + 1) % 3]);
        if (length > longest) {
            longest = length;
            at = k;
        }
    }
    if (!(longest > c->spacing)) {
        add(c, corner, area);
        return;
    }
    const double *a = corner[at], *b = corner[(at + 1) % 3], *far = corner[(at + 2) % 3];
    for (int side = 0; side < 2; side++) {
        for (int k = 0; k < 3; k++) {
            double middle = 0.5 * (a[k] + b[k]);
            half[0][k] = side == 0 ? a[k] : middle;
            half[1][k] = side == 0 ? middle : b[k];
            half[2][k] = far[k];
        }
        halve(c, (const double(*)[3])half, 0.5 * area);
    }
}

static void cut_triangle(cutting *c, const vug_mesh *mesh, uint32_t t)
{
    double corner[3][3], normal[3];
    for (size_t k = 0; k < 3; k++)
        memcpy(corner[k], mesh->xyz + 3 * (size_t)mesh->triangles[3 * (size_t)t + k],
            sizeof corner[k]);
    vugi_triangle_cross(corner[0], corner[1], corner[2], normal);
    double area = 0.5 * vugi_normalise(normal);
    c->now = (vugi_skin_piece){.triangle = t, .seen = 1.0};
    for (int k = 0; k < 3; k++)
        c->now.inward[k] = -normal[k]; /* the mesh looks out of the liquid */
    if (area > 0.0)
        halve(c, (const double(*)[3])corner, area);
}

/* The walls of a cavity, without the caps in its openings. */
static void cut_cavity(cutting *c, const vugi_cavity *cavity)
{
    for (uint32_t t = 0; t < cavity->mesh->triangle_count; t++)
        if (cavity->tag[t] < 0)
            cut_triangle(c, cavity->mesh, t);
}

size_t vugi_pieces_count(const vug_cavities *cavities, double spacing)
{
    cutting c = {.spacing = spacing};
    for (size_t i = 0; i < cavities->cavity_count; i++)
        cut_cavity(&c, cavities->cavity + i);
    return c.count;
}

vug_status vugi_pieces_cut(vug_context *ctx, const vug_cavities *cavities, struct vug_skin *skin)
{
    cutting c = {.spacing = skin->spacing};
    skin->part_count = cavities->cavity_count;
    skin->part = vugi_calloc(&skin->mem, skin->part_count, sizeof *skin->part);
    skin->piece_count = vugi_pieces_count(cavities, skin->spacing);
    skin->piece = c.piece = vugi_alloc(&skin->mem, skin->piece_count + 1, sizeof *skin->piece);
    if (!skin->part || !skin->piece)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < skin->part_count; i++) {
        const vugi_cavity *cavity = cavities->cavity + i;
        vugi_skin_part *part = skin->part + i;
        *part = (vugi_skin_part){.first = c.count,
            .triangles = cavity->mesh->triangle_count,
            .volume = cavity->volume};
        cut_cavity(&c, cavity);
        part->count = c.count - part->first;
    }
    return VUG_OK;
}

/* ---- how visible ------------------------------------------------------------------- */

/* The line to a viewer leaves the part through the wall that the piece is on, and meets nothing more. */
static double cosine_seen(const vugi_raygrid *rays, const vugi_skin_piece *p, const double view[3],
    double slack)
{
    double cosine = -vugi_dot(p->inward, view), from[3];
    if (!(cosine > 0.0))
        return 0.0;
    vugi_along(p->point, p->inward, -slack, from);
    vugi_hit out = vugi_raygrid_hit(rays, from, view, 0.0);
    if (!(out.distance < INFINITY) || !out.out)
        return 0.0;
    bool clear = vugi_raygrid_hit(rays, from, view, out.distance + slack).distance == INFINITY;
    return clear ? cosine : 0.0;
}

vug_status vugi_pieces_see(vug_context *ctx, const vug_cavities *cavities, const double *view,
    size_t view_count, struct vug_skin *skin)
{
    vugi_raygrid rays;
    const vug_mesh *mesh = cavities->part;
    double slack = 1e-6 * vugi_point_distance(mesh->hi, mesh->lo);
    vug_status status = vugi_raygrid_build(ctx, &ctx->mem, mesh, &rays);
    if (status)
        return status;
    int threads = vugi_threads(ctx, skin->piece_count);
    (void)threads; /* without OpenMP */
#pragma omp parallel for schedule(dynamic, 256) num_threads(threads)
    for (size_t i = 0; i < skin->piece_count; i++) {
        vugi_skin_piece *p = skin->piece + i;
        p->seen = 0.0;
        for (size_t v = 0; v < view_count; v++)
            p->seen += cosine_seen(&rays, p, view + 3 * v, slack) / (double)view_count;
    }
    vugi_raygrid_free(&ctx->mem, &rays);
    return VUG_OK;
}
