/* SPDX-License-Identifier: MIT
 * A cavity from the cells of the grid, for parts that cannot be cut. */
#include "cavity/gridded.h"

#include "base/angle.h"
#include "base/vec.h"
#include "cavity/wall.h"
#include "grid/net.h"
#include "mesh/edges.h"
#include "mesh/measure.h"

#include <assert.h>
#include <math.h>
#include <string.h>

typedef struct gridded {
    vug_context *ctx;
    const vugi_void *v;
    int32_t number;
    vugi_cavity *cavity;
    size_t *border; /* of each opening: its border in v */
    size_t count;
} gridded;

static bool in_cavity(const gridded *g, uint32_t label)
{
    return label < vugi_label_outside && g->v->chamber[label].cavity == g->number;
}

/* Bounds of the cavity's cells and two more around, cut off at the border of the grid. */
static void bound_cells(const gridded *g, int32_t lo[3], int32_t hi[3])
{
    const vugi_grid *grid = &g->v->grid;
    size_t count = vugi_grid_count(grid);
    for (int a = 0; a < 3; a++) {
        lo[a] = grid->n[a];
        hi[a] = -1;
    }
    for (size_t c = 0; c < count; c++) {
        int32_t at[3];
        if (!in_cavity(g, g->v->label[c]))
            continue;
        vugi_grid_place(grid, c, at);
        for (int a = 0; a < 3; a++) {
            lo[a] = at[a] < lo[a] ? at[a] : lo[a];
            hi[a] = at[a] > hi[a] ? at[a] : hi[a];
        }
    }
}

static vug_status make_mesh(gridded *g)
{
    const vugi_grid *from = &g->v->grid;
    int32_t lo[3], hi[3];
    bound_cells(g, lo, hi);
    vugi_grid box = {.h = from->h};
    for (int a = 0; a < 3; a++) {
        box.n[a] = hi[a] - lo[a] + 3;
        box.origin[a] = from->origin[a] + from->h * (lo[a] - 1);
    }
    float *field = vugi_alloc(&g->ctx->mem, vugi_grid_count(&box), sizeof *field);
    if (!field)
        return vugi_fail_memory(g->ctx);
    for (int32_t k = 0; k < box.n[2]; k++) {
        for (int32_t j = 0; j < box.n[1]; j++) {
            for (int32_t i = 0; i < box.n[0]; i++) {
                int32_t x = i + lo[0] - 1, y = j + lo[1] - 1, z = k + lo[2] - 1;
                bool rim = i == 0 || j == 0 || k == 0 || i == box.n[0] - 1 || j == box.n[1] - 1
                    || k == box.n[2] - 1;
                bool in = !rim && in_cavity(g, g->v->label[vugi_grid_cell(from, x, y, z)]);
                field[vugi_grid_cell(&box, i, j, k)] = in ? -0.5f : 0.5f;
            }
        }
    }
    vug_status status = vugi_surface_net(g->ctx, &box, field, 0.0, &g->cavity->mesh);
    vugi_free(&g->ctx->mem, field);
    return status;
}

/* Twice the area vector of a triangle, and its middle. */
static void triangle_vector(const vug_mesh *mesh, size_t t, double n[3], double middle[3])
{
    assert(t < mesh->triangle_count);
    const uint32_t *v = mesh->triangles + 3 * t;
    const double *a = mesh->xyz + 3 * (size_t)v[0], *b = mesh->xyz + 3 * (size_t)v[1];
    const double *c = mesh->xyz + 3 * (size_t)v[2];
    for (int k = 0; k < 3; k++) {
        int x = (k + 1) % 3, y = (k + 2) % 3;
        n[k] = (b[x] - a[x]) * (c[y] - a[y]) - (b[y] - a[y]) * (c[x] - a[x]);
        middle[k] = (a[k] + b[k] + c[k]) / 3.0;
    }
}

/* The opening whose border is nearest, if the void in front of the triangle is the outside. */
static int32_t tag_of(const gridded *g, size_t t)
{
    double n[3], middle[3], front[3], length = 0.0, nearest = INFINITY;
    int32_t tag = -1;
    triangle_vector(g->cavity->mesh, t, n, middle);
    for (int k = 0; k < 3; k++)
        length += n[k] * n[k];
    length = sqrt(length);
    for (int k = 0; k < 3; k++)
        front[k] = middle[k] + (length > 0.0 ? 0.6 * g->v->grid.h * n[k] / length : 0.0);
    size_t cell = vugi_grid_nearest(&g->v->grid, front);
    if (cell == SIZE_MAX || g->v->label[cell] != vugi_label_outside)
        return -1;
    for (size_t i = 0; i < g->count; i++) {
        const vugi_border *border = g->v->border + g->border[i];
        double d = 0.0;
        for (int k = 0; k < 3; k++)
            d += (middle[k] - border->center[k]) * (middle[k] - border->center[k]);
        d = sqrt(d) - border->extent;
        if (d < nearest && d < 2.0 * g->v->grid.h) {
            nearest = d;
            tag = (int32_t)i;
        }
    }
    return tag;
}

/* The triangles of one cap. */
typedef struct cap {
    const int32_t *tag;
    int32_t number;
} cap;

static bool in_cap(const void *set, uint32_t t)
{
    const cap *c = set;
    return c->tag[t] == c->number;
}

/* Walks around the cap from half-edge start; corners go to point, if that is given. Returns how many. */
static size_t walk_ring(const gridded *g, const uint32_t *other, const cap *c, uint32_t start,
    uint8_t *seen, double *point)
{
    const vug_mesh *mesh = g->cavity->mesh;
    size_t count = 0;
    uint32_t h = start;
    do {
        if (point)
            memcpy(point + 3 * count, mesh->xyz + 3 * (size_t)vugi_edge_from(mesh, h),
                3 * sizeof *point);
        seen[h] = 1;
        count++;
        h = vugi_border_next(mesh, other, in_cap, c, h);
    } while (h != start && count < 3 * mesh->triangle_count);
    return count;
}

/* The longest ring around the cap: corners that it comes by twice are no end of it. */
static vug_status trace_outline(gridded *g, const uint32_t *other, int32_t number, vugi_opening *o)
{
    const vug_mesh *mesh = g->cavity->mesh;
    const cap c = {g->cavity->tag, number};
    size_t longest = 0;
    uint32_t best = 0;
    uint8_t *seen = vugi_calloc(&g->ctx->mem, 3 * mesh->triangle_count, 1);
    if (!seen)
        return vugi_fail_memory(g->ctx);
    for (uint32_t h = 0; h < 3 * mesh->triangle_count; h++) {
        if (!in_cap(&c, h / 3) || seen[h] || (other[h] != UINT32_MAX && in_cap(&c, other[h])))
            continue;
        size_t count = walk_ring(g, other, &c, h, seen, NULL);
        best = count > longest ? h : best;
        longest = count > longest ? count : longest;
    }
    o->outline = vugi_alloc(&g->ctx->mem, 3 * longest, sizeof *o->outline);
    if (o->outline && longest > 0)
        o->outline_count = walk_ring(g, other, &c, best, seen, o->outline);
    vugi_free(&g->ctx->mem, seen);
    return o->outline ? VUG_OK : vugi_fail_memory(g->ctx);
}

static void measure_outline(vugi_opening *o)
{
    for (size_t i = 0; i < o->outline_count; i++) {
        const double *p = o->outline + 3 * i, *q = o->outline + 3 * ((i + 1) % o->outline_count);
        o->perimeter += vugi_point_distance(q, p);
    }
}

static vug_status measure_opening(gridded *g, const uint32_t *other, int32_t number,
    vugi_opening *o)
{
    const vug_mesh *mesh = g->cavity->mesh;
    const vugi_border *border = g->v->border + g->border[number];
    double sum[3] = {0.0, 0.0, 0.0}, middle[3], weight = 0.0, n[3];
    *o = (vugi_opening){.cavity = -1};
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        if (g->cavity->tag[t] != number)
            continue;
        triangle_vector(mesh, t, n, middle);
        double size = vugi_length(n);
        weight += size;
        for (int k = 0; k < 3; k++) {
            sum[k] += 0.5 * n[k];
            o->center[k] += size * middle[k];
        }
    }
    o->area = vugi_length(sum);
    for (int k = 0; k < 3; k++) {
        o->center[k] = weight > 0.0 ? o->center[k] / weight : border->center[k];
        o->normal[k] = o->area > 0.0 ? sum[k] / o->area : border->normal[k];
        o->axis[k] = o->normal[k];
        o->inner[k] = o->center[k];
    }
    o->radius = sqrt(o->area / VUGI_PI);
    o->inscribed_radius = fmin(o->radius, sqrt((double)border->value) * g->v->grid.h);
    vug_status status = trace_outline(g, other, number, o);
    if (!status)
        measure_outline(o);
    return status;
}

static vug_status measure_openings(gridded *g, vugi_opening *opening)
{
    const vug_mesh *mesh = g->cavity->mesh;
    uint32_t *other = vugi_alloc(&g->ctx->mem, 3 * mesh->triangle_count, sizeof *other);
    vug_status status = other ? vugi_mesh_neighbours(g->ctx, mesh, other)
                              : vugi_fail_memory(g->ctx);
    for (size_t i = 0; i < g->count && !status; i++)
        status = measure_opening(g, other, (int32_t)i, opening + i);
    vugi_free(&g->ctx->mem, other);
    return status;
}

/* A wall lies within half a cell of where the grid has it. Along a flat wall that goes with the cells nothing evens out. */
static vug_status measure_cavity(gridded *g)
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    vugi_range saved = vugi_progress_enter(g->ctx, 0.95, 1.0, "measuring");
    vug_status status = vugi_mesh_measure(g->ctx, g->cavity->mesh, &m);
    vugi_progress_leave(g->ctx, saved);
    if (status)
        return status;
    g->cavity->volume = m.volume_mm3;
    g->cavity->volume_error = 0.5 * g->v->grid.h * m.area_mm2;
    g->cavity->area = m.area_mm2;
    memcpy(g->cavity->centroid, m.centroid_mm, sizeof g->cavity->centroid);
    for (size_t t = 0; t < g->cavity->mesh->triangle_count; t++) {
        double n[3], middle[3];
        if (g->cavity->tag[t] < 0)
            continue;
        triangle_vector(g->cavity->mesh, t, n, middle);
        g->cavity->area -= 0.5 * vugi_length(n);
    }
    return VUG_OK;
}

/* Borders with the outside, but for cracks of a cell or two. */
static vug_status list_borders(gridded *g)
{
    g->border = vugi_alloc(&g->ctx->mem, g->v->border_count, sizeof *g->border);
    if (!g->border)
        return vugi_fail_memory(g->ctx);
    for (size_t i = 0; i < g->v->border_count; i++) {
        const vugi_border *border = g->v->border + i;
        if (border->b == VUGI_OUTSIDE && g->v->chamber[border->a].cavity == g->number
            && border->faces > 4)
            g->border[g->count++] = i;
    }
    return VUG_OK;
}

/* Openings that no triangle caps are none: the others move up. */
static void drop_empty(gridded *g, vugi_opening *opening)
{
    size_t kept = 0;
    for (size_t i = 0; i < g->count; i++) {
        bool real = opening[i].outline_count >= 3 && opening[i].area > 0.0;
        for (size_t t = 0; t < g->cavity->mesh->triangle_count; t++)
            if (g->cavity->tag[t] == (int32_t)i)
                g->cavity->tag[t] = real ? (int32_t)kept : -1;
        if (real)
            opening[kept++] = opening[i];
        else
            vugi_free(&g->ctx->mem, opening[i].outline);
    }
    g->count = kept;
}

vug_status vugi_gridded_cavity(vug_context *ctx, const vugi_void *v, int32_t number,
    vugi_cavity *cavity, vugi_opening **opening, size_t *opening_count)
{
    vugi_cavity own = {.gridded = true};
    gridded g = {.ctx = ctx, .v = v, .number = number, .cavity = &own};
    vugi_opening *list = NULL;
    vug_status status = list_borders(&g);
    if (!status)
        status = make_mesh(&g);
    if (!status) {
        own.tag = vugi_alloc(&ctx->mem, own.mesh->triangle_count, sizeof *own.tag);
        list = vugi_calloc(&ctx->mem, g.count, sizeof *list);
        if (!own.tag || !list)
            status = vugi_fail_memory(ctx);
    }
    if (!status) {
        for (size_t t = 0; t < own.mesh->triangle_count; t++)
            own.tag[t] = tag_of(&g, t);
        status = measure_openings(&g, list);
        if (!status)
            drop_empty(&g, list);
    }
    if (!status)
        status = measure_cavity(&g);
    if (!status) {
        own.sealed = g.count == 0;
        *cavity = own;
        *opening = list;
        *opening_count = g.count;
    } else {
        for (size_t i = 0; list && i < g.count; i++)
            vugi_free(&ctx->mem, list[i].outline);
        vugi_free(&ctx->mem, list);
        vug_mesh_free(own.mesh);
        vugi_free(&ctx->mem, own.tag);
    }
    vugi_free(&ctx->mem, g.border);
    return status;
}
