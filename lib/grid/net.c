/* SPDX-License-Identifier: MIT
 * A closed mesh of a level surface, one vertex in each cube that the surface crosses. */
#include "grid/net.h"

#include "grid/grid.h"

#include <math.h>
#include <string.h>

/* Corners of a cube: bit 0 is x, bit 1 is y, bit 2 is z. Its 12 edges: */
static const uint8_t edge[12][2] = {
    {0, 1},
    {2, 3},
    {4, 5},
    {6, 7},
    {0, 2},
    {1, 3},
    {4, 6},
    {5, 7},
    {0, 4},
    {1, 5},
    {2, 6},
    {3, 7},
};

typedef struct net {
    vug_context *ctx;
    const vugi_grid *grid;
    const float *field;
    double iso;
    size_t nx, ny;
    uint32_t *first[2]; /* first vertex of each cube of the layer below and of this one */
    double *xyz;
    size_t vertices, vertex_room;
    uint32_t *triangle;
    size_t triangles, triangle_room;
} net;

static bool below(const net *s, size_t c)
{
    return (double)s->field[c] < s->iso;
}

static size_t corner_cell(const net *s, size_t c, int corner)
{
    return c + (size_t)(corner & 1) + (size_t)(corner >> 1 & 1) * s->nx
        + (size_t)(corner >> 2) * s->nx * s->ny;
}

static unsigned corners_below(const net *s, size_t c)
{
    unsigned mask = 0;
    for (int i = 0; i < 8; i++)
        mask |= (unsigned)below(s, corner_cell(s, c, i)) << i;
    return mask;
}

/* Part of the inside corners, joined along edges, that a corner belongs to: parts are numbered by
 * their lowest corner. Apart, they get a vertex each, so that pieces that touch at an edge or
 * a corner of a cell stay separate sheets. */
static int part_of(unsigned mask, int corner, int *parts)
{
    int of[8], count = 0, result = -1;
    for (int i = 0; i < 8; i++)
        of[i] = i;
    for (int round = 0; round < 4; round++)
        for (int e = 0; e < 12; e++)
            if ((mask >> edge[e][0] & 1) && (mask >> edge[e][1] & 1)) {
                int lower = of[edge[e][0]] < of[edge[e][1]] ? of[edge[e][0]] : of[edge[e][1]];
                of[edge[e][0]] = of[edge[e][1]] = lower;
            }
    for (int i = 0; i < 8; i++) {
        if (!(mask >> i & 1) || of[i] != i)
            continue;
        if (corner >= 0 && of[corner] == i)
            result = count;
        count++;
    }
    if (parts)
        *parts = count;
    return result;
}

static bool add_vertex(net *s, size_t c, const int32_t at[3], unsigned mask, int part)
{
    double sum[3] = {0.0, 0.0, 0.0};
    int crossings = 0;
    for (int e = 0; e < 12; e++) {
        int p = edge[e][0], q = edge[e][1];
        if ((mask >> p & 1) == (mask >> q & 1))
            continue;
        if (part_of(mask, mask >> p & 1 ? p : q, NULL) != part)
            continue;
        double fp = (double)s->field[corner_cell(s, c, p)] - s->iso;
        double fq = (double)s->field[corner_cell(s, c, q)] - s->iso;
        double t = fp / (fp - fq);
        for (int a = 0; a < 3; a++)
            sum[a] += (p >> a & 1) + t * ((q >> a & 1) - (p >> a & 1));
        crossings++;
    }
    if (!vugi_reserve(&s->ctx->mem, &s->xyz, &s->vertex_room, 3 * (s->vertices + 1),
            sizeof *s->xyz))
        return false;
    for (int a = 0; a < 3; a++)
        s->xyz[3 * s->vertices + (size_t)a] = s->grid->origin[a]
            + s->grid->h * (at[a] + sum[a] / crossings);
    s->vertices++;
    return true;
}

static bool add_vertices(net *s, int32_t k)
{
    uint32_t *first = s->first[k & 1];
    for (int32_t j = 0; j + 1 < s->grid->n[1]; j++) {
        for (int32_t i = 0; i + 1 < s->grid->n[0]; i++) {
            size_t c = vugi_grid_cell(s->grid, i, j, k);
            unsigned mask = corners_below(s, c);
            if (mask == 0 || mask == 255)
                continue;
            first[(size_t)j * s->nx + (size_t)i] = (uint32_t)s->vertices;
            int parts;
            part_of(mask, -1, &parts);
            for (int part = 0; part < parts; part++)
                if (!add_vertex(s, c, (const int32_t[3]){i, j, k}, mask, part))
                    return false;
        }
    }
    return true;
}

/* The vertex of cube (i, j, k) for the inside corner at grid point (pi, pj, pk). */
static uint32_t vertex_at(const net *s, int32_t i, int32_t j, int32_t k, const int32_t p[3])
{
    unsigned mask = corners_below(s, vugi_grid_cell(s->grid, i, j, k));
    int corner = (p[0] - i) | (p[1] - j) << 1 | (p[2] - k) << 2;
    return s->first[k & 1][(size_t)j * s->nx + (size_t)i] + (uint32_t)part_of(mask, corner, NULL);
}

static double squared_length(const net *s, uint32_t p, uint32_t q)
{
    double sum = 0.0;
    for (size_t a = 0; a < 3; a++) {
        double d = s->xyz[3 * (size_t)p + a] - s->xyz[3 * (size_t)q + a];
        sum += d * d;
    }
    return sum;
}

static bool add_quad(net *s, const uint32_t q[4])
{
    if (!vugi_reserve(&s->ctx->mem, &s->triangle, &s->triangle_room, 3 * (s->triangles + 2),
            sizeof *s->triangle))
        return false;
    bool other = squared_length(s, q[1], q[3]) < squared_length(s, q[0], q[2]);
    const uint32_t split[2][6] = {
        {q[0], q[1], q[2], q[0], q[2], q[3]},
        {q[1], q[2], q[3], q[1], q[3], q[0]},
    };
    memcpy(s->triangle + 3 * s->triangles, split[other], sizeof split[0]);
    s->triangles += 2;
    return true;
}

/* The quad around the grid edge from point p along axis a, if the surface crosses it. The four
 * cubes around it are counter-clockwise seen from the far end. */
static bool add_edge(net *s, const int32_t p[3], int a)
{
    int32_t far[3] = {p[0], p[1], p[2]};
    far[a]++;
    bool in = below(s, vugi_grid_cell(s->grid, p[0], p[1], p[2]));
    if (in == below(s, vugi_grid_cell(s->grid, far[0], far[1], far[2])))
        return true;
    const int32_t *inner = in ? p : far;
    static const int8_t around[4][2] = {{-1, -1}, {0, -1}, {0, 0}, {-1, 0}};
    uint32_t quad[4];
    for (int c = 0; c < 4; c++) {
        const int8_t *step = around[in ? c : 3 - c];
        int32_t cube[3] = {p[0], p[1], p[2]};
        cube[(a + 1) % 3] += step[0];
        cube[(a + 2) % 3] += step[1];
        quad[c] = vertex_at(s, cube[0], cube[1], cube[2], inner);
    }
    return add_quad(s, quad);
}

/* An edge has four cubes around it unless it lies on the border of the grid, where all is above. */
static bool has_cubes(const net *s, const int32_t p[3], int a)
{
    const int32_t *n = s->grid->n;
    int b = (a + 1) % 3, c = (a + 2) % 3;
    return p[a] + 1 < n[a] && p[b] > 0 && p[b] + 1 < n[b] && p[c] > 0 && p[c] + 1 < n[c];
}

/* Quads of the edges whose cubes are in layers k - 1 and k. */
static bool add_quads(net *s, int32_t k)
{
    for (int32_t j = 0; j < s->grid->n[1]; j++) {
        for (int32_t i = 0; i < s->grid->n[0]; i++) {
            const int32_t p[3] = {i, j, k};
            for (int a = 0; a < 3; a++)
                if (has_cubes(s, p, a) && !add_edge(s, p, a))
                    return false;
        }
    }
    return true;
}

static bool border_below(const net *s)
{
    const int32_t *n = s->grid->n;
    for (int32_t k = 0; k < n[2]; k++)
        for (int32_t j = 0; j < n[1]; j++) {
            bool rim = k == 0 || k == n[2] - 1 || j == 0 || j == n[1] - 1;
            for (int32_t i = 0; i < n[0]; i += rim || n[0] == 1 ? 1 : n[0] - 1)
                if (below(s, vugi_grid_cell(s->grid, i, j, k)))
                    return true;
        }
    return false;
}

static vug_status build(net *s)
{
    for (int32_t k = 0; k + 1 < s->grid->n[2]; k++) {
        if (!add_vertices(s, k) || !add_quads(s, k))
            return vugi_fail_memory(s->ctx);
        if (s->vertices > INT32_MAX || s->triangles > VUG_MAX_TRIANGLES)
            return vugi_fail(s->ctx, VUG_ERR_LIMIT, "surface of the grid: more than %d triangles",
                VUG_MAX_TRIANGLES);
        vug_status status = vugi_step(s->ctx, (k + 1.0) / s->grid->n[2]);
        if (status)
            return status;
    }
    if (s->triangles == 0)
        return vugi_fail(s->ctx, VUG_ERR_NOT_FOUND, "the field is nowhere below %g", s->iso);
    return VUG_OK;
}

vug_status vugi_surface_net(vug_context *ctx, const vugi_grid *grid, const float *field, double iso,
    vug_mesh **out)
{
    net s = {.ctx = ctx,
        .grid = grid,
        .field = field,
        .iso = iso,
        .nx = (size_t)grid->n[0],
        .ny = (size_t)grid->n[1]};
    if (border_below(&s))
        return vugi_fail(ctx, VUG_ERR_MESH, "the field is below %g at the border of the grid", iso);
    vug_status status = VUG_OK;
    for (int l = 0; l < 2; l++) {
        s.first[l] = vugi_alloc(&ctx->mem, s.nx * s.ny, sizeof *s.first[l]);
        if (!s.first[l])
            status = vugi_fail_memory(ctx);
    }
    if (!status)
        status = build(&s);
    if (!status) {
        vug_mesh *mesh = vugi_mesh_adopt(&ctx->mem, s.xyz, s.vertices, s.triangle, s.triangles);
        s.xyz = NULL; /* adopted, or freed by vugi_mesh_adopt */
        s.triangle = NULL;
        if (mesh)
            *out = mesh;
        else
            status = vugi_fail_memory(ctx);
    }
    vugi_free(&ctx->mem, s.first[0]);
    vugi_free(&ctx->mem, s.first[1]);
    vugi_free(&ctx->mem, s.xyz);
    vugi_free(&ctx->mem, s.triangle);
    return status;
}
