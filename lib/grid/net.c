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
    uint8_t *mask[2];   /* and its corners that are below */
    uint8_t parts[256]; /* for each mask: its parts, and the part of each corner */
    uint8_t part[256][8];
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

/* Parts of the inside corners, joined along edges, are numbered by their lowest corner. Apart, they get a vertex
 * each, so that pieces that touch at an edge or a corner of a cell stay separate sheets. */
static void find_parts(net *s, unsigned mask)
{
    int of[8], number[8], count = 0;
    for (int i = 0; i < 8; i++)
        of[i] = i;
    for (int round = 0; round < 4; round++)
        for (int e = 0; e < 12; e++)
            if ((mask >> edge[e][0] & 1) && (mask >> edge[e][1] & 1)) {
                int lower = of[edge[e][0]] < of[edge[e][1]] ? of[edge[e][0]] : of[edge[e][1]];
                of[edge[e][0]] = of[edge[e][1]] = lower;
            }
    for (int i = 0; i < 8; i++) {
        number[i] = count;
        count += (mask >> i & 1) && of[i] == i;
        s->part[mask][i] = (uint8_t)(mask >> i & 1 ? number[of[i]] : 0);
    }
    s->parts[mask] = (uint8_t)count;
}

static bool add_vertex(net *s, size_t c, const int32_t at[3], unsigned mask, int part)
{
    double sum[3] = {0.0, 0.0, 0.0};
    int crossings = 0;
    for (int e = 0; e < 12; e++) {
        int p = edge[e][0], q = edge[e][1];
        if ((mask >> p & 1) == (mask >> q & 1))
            continue;
        if (s->part[mask][mask >> p & 1 ? p : q] != part)
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

/* Corners below along one row of cubes; from one cube to the next half of them are the same. */
static void find_masks(const net *s, int32_t j, int32_t k, uint8_t *mask)
{
    size_t c = vugi_grid_cell(s->grid, 0, j, k);
    unsigned last = 0;
    for (size_t i = 0; i < s->nx; i++, c++) {
        unsigned column = 0;
        for (int corner = 0; corner < 8; corner += 2)
            column |= (unsigned)below(s, corner_cell(s, c, corner)) << corner;
        if (i > 0)
            mask[i - 1] = (uint8_t)(last | column << 1);
        last = column;
    }
}

static bool add_vertices(net *s, int32_t k)
{
    for (int32_t j = 0; j + 1 < s->grid->n[1]; j++) {
        uint32_t *first = s->first[k & 1] + (size_t)j * s->nx;
        uint8_t *mask = s->mask[k & 1] + (size_t)j * s->nx;
        find_masks(s, j, k, mask);
        for (int32_t i = 0; i + 1 < s->grid->n[0]; i++) {
            if (mask[i] == 0 || mask[i] == 255)
                continue;
            first[i] = (uint32_t)s->vertices;
            for (int part = 0; part < s->parts[mask[i]]; part++)
                if (!add_vertex(s, vugi_grid_cell(s->grid, i, j, k), (const int32_t[3]){i, j, k},
                        mask[i], part))
                    return false;
        }
    }
    return true;
}

/* The vertex of cube (i, j, k) for the inside corner at grid point (pi, pj, pk). */
static uint32_t vertex_at(const net *s, int32_t i, int32_t j, int32_t k, const int32_t p[3])
{
    size_t at = (size_t)j * s->nx + (size_t)i;
    int corner = (p[0] - i) | (p[1] - j) << 1 | (p[2] - k) << 2;
    return s->first[k & 1][at] + s->part[s->mask[k & 1][at]][corner];
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

/* The quad around the grid edge from point p along axis a. The four cubes around it are counter-clockwise seen
 * from the far end. */
static bool add_edge(net *s, const int32_t p[3], int a, bool in)
{
    int32_t far[3] = {p[0], p[1], p[2]};
    far[a]++;
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

/* Quads of the edges whose cubes are in layers k - 1 and k: from the first corner of each cube of layer k, where the
 * surface crosses them. On the border of the grid all is above. */
static bool add_quads(net *s, int32_t k)
{
    for (int32_t j = 0; j + 1 < s->grid->n[1]; j++) {
        const uint8_t *row = s->mask[k & 1] + (size_t)j * s->nx;
        for (int32_t i = 0; i + 1 < s->grid->n[0]; i++) {
            const int32_t p[3] = {i, j, k};
            unsigned mask = row[i];
            if (mask == 0 || mask == 255)
                continue;
            for (int a = 0; a < 3; a++)
                if ((mask & 1) != (mask >> (1 << a) & 1) && !add_edge(s, p, a, mask & 1))
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
        s.mask[l] = vugi_alloc(&ctx->mem, s.nx * s.ny, 1);
        if (!s.first[l] || !s.mask[l])
            status = vugi_fail_memory(ctx);
    }
    for (unsigned mask = 0; mask < 256; mask++)
        find_parts(&s, mask);
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
    for (int l = 0; l < 2; l++) {
        vugi_free(&ctx->mem, s.first[l]);
        vugi_free(&ctx->mem, s.mask[l]);
    }
    vugi_free(&ctx->mem, s.xyz);
    vugi_free(&ctx->mem, s.triangle);
    return status;
}
