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

enum { STRIP = 16 }; /* layers */

typedef struct net {
    vug_context *ctx;
    const vugi_grid *grid;
    const float *field;
    double iso;
    size_t nx, plane;
    int32_t layers;     /* of cubes */
    uint8_t *mask;      /* of each cube, its corners that are below */
    uint8_t parts[256]; /* for each mask: its parts, and the part of each corner */
    uint8_t part[256][8];
    size_t *vertices, *triangles; /* in the layers below each, and in all of them */
    uint32_t *first;              /* two layers for each thread: first vertex of each cube */
    double *xyz;
    uint32_t *triangle;
} net;

static bool below(const net *s, size_t c)
{
    return (double)s->field[c] < s->iso;
}

static size_t corner_cell(const net *s, size_t c, int corner)
{
    return c + (size_t)(corner & 1) + (size_t)(corner >> 1 & 1) * s->nx
        + (size_t)(corner >> 2) * s->plane;
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

/* ---- masks ------------------------------------------------------------------------- */

/* Corners below along one row of cubes; from one cube to the next half of them are the same. */
static void find_masks(const net *s, int32_t j, int32_t k)
{
    size_t c = vugi_grid_cell(s->grid, 0, j, k);
    uint8_t *mask = s->mask + c;
    unsigned last = 0;
    for (size_t i = 0; i < s->nx; i++, c++) {
        unsigned column = 0;
        for (int corner = 0; corner < 8; corner += 2)
            column |= (unsigned)below(s, corner_cell(s, c, corner)) << corner;
        if (i > 0)
            mask[i - 1] = (uint8_t)(last | column << 1);
        last = column;
    }
    mask[s->nx - 1] = 0; /* no cube */
}

static bool mixed(unsigned mask)
{
    return mask != 0 && mask != 255;
}

/* Does the edge along axis a from the first corner of a cube cross the surface? */
static bool crosses(unsigned mask, int a)
{
    return (mask & 1) != (mask >> (1 << a) & 1);
}

/* Masks of a layer, and how many vertices and triangles it has. */
static void look_at_layer(net *s, int32_t k)
{
    size_t vertices = 0, quads = 0;
    for (int32_t j = 0; j + 1 < s->grid->n[1]; j++) {
        find_masks(s, j, k);
        const uint8_t *mask = s->mask + vugi_grid_cell(s->grid, 0, j, k);
        for (size_t i = 0; i < s->nx; i++)
            if (mixed(mask[i])) {
                vertices += s->parts[mask[i]];
                quads += (size_t)crosses(mask[i], 0) + crosses(mask[i], 1) + crosses(mask[i], 2);
            }
    }
    s->vertices[k] = vertices;
    s->triangles[k] = 2 * quads;
}

/* Numbers become those of the layers below. */
static void sum_up(size_t *number, int32_t layers)
{
    size_t sum = 0;
    for (int32_t k = 0; k <= layers; k++) {
        size_t here = k < layers ? number[k] : 0;
        number[k] = sum;
        sum += here;
    }
}

/* ---- vertices ---------------------------------------------------------------------- */

static void place_vertex(const net *s, size_t c, const int32_t at[3], int part, double xyz[3])
{
    unsigned mask = s->mask[c];
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
    for (int a = 0; a < 3; a++)
        xyz[a] = s->grid->origin[a] + s->grid->h * (at[a] + sum[a] / crossings);
}

static void place_layer(const net *s, int32_t k)
{
    double *xyz = s->xyz + 3 * s->vertices[k];
    for (int32_t j = 0; j + 1 < s->grid->n[1]; j++) {
        size_t row = vugi_grid_cell(s->grid, 0, j, k);
        for (int32_t i = 0; i + 1 < s->grid->n[0]; i++) {
            unsigned mask = s->mask[row + (size_t)i];
            if (!mixed(mask))
                continue;
            for (int part = 0; part < s->parts[mask]; part++, xyz += 3)
                place_vertex(s, row + (size_t)i, (const int32_t[3]){i, j, k}, part, xyz);
        }
    }
}

/* ---- triangles --------------------------------------------------------------------- */

typedef struct strip { /* of layers, one after the other */
    const net *s;
    uint32_t *first[2]; /* of the layer below and of this one */
    uint32_t *next;     /* where triangles go */
} strip;

static void number_layer(const strip *b, int32_t k)
{
    const net *s = b->s;
    const uint8_t *mask = s->mask + vugi_grid_cell(s->grid, 0, 0, k);
    uint32_t *first = b->first[k & 1], vertex = (uint32_t)s->vertices[k];
    for (size_t c = 0, cubes = s->plane - s->nx; c < cubes; c++)
        if (mixed(mask[c])) {
            first[c] = vertex;
            vertex += s->parts[mask[c]];
        }
}

/* The vertex of cube (i, j, k) for the inside corner at grid point (pi, pj, pk). */
static uint32_t vertex_at(const strip *b, int32_t i, int32_t j, int32_t k, const int32_t p[3])
{
    size_t at = (size_t)j * b->s->nx + (size_t)i;
    int corner = (p[0] - i) | (p[1] - j) << 1 | (p[2] - k) << 2;
    return b->first[k & 1][at] + b->s->part[b->s->mask[(size_t)k * b->s->plane + at]][corner];
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

static void add_quad(strip *b, const uint32_t q[4])
{
    bool other = squared_length(b->s, q[1], q[3]) < squared_length(b->s, q[0], q[2]);
    const uint32_t split[2][6] = {
        {q[0], q[1], q[2], q[0], q[2], q[3]},
        {q[1], q[2], q[3], q[1], q[3], q[0]},
    };
    memcpy(b->next, split[other], sizeof split[0]);
    b->next += 6;
}

/* The quad around the grid edge from point p along axis a. The four cubes around it are counter-clockwise seen
 * from the far end. */
static void add_edge(strip *b, const int32_t p[3], int a, bool in)
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
        quad[c] = vertex_at(b, cube[0], cube[1], cube[2], inner);
    }
    add_quad(b, quad);
}

/* Quads of the edges whose cubes are in layers k - 1 and k: from the first corner of each cube of layer k, where the
 * surface crosses them. On the border of the grid all is above. */
static void add_quads(strip *b, int32_t k)
{
    const net *s = b->s;
    for (int32_t j = 0; j + 1 < s->grid->n[1]; j++) {
        const uint8_t *row = s->mask + vugi_grid_cell(s->grid, 0, j, k);
        for (int32_t i = 0; i + 1 < s->grid->n[0]; i++) {
            const int32_t p[3] = {i, j, k};
            for (int a = 0; a < 3 && mixed(row[i]); a++)
                if (crosses(row[i], a))
                    add_edge(b, p, a, row[i] & 1);
        }
    }
}

static void fill_strip(const net *s, int32_t from, int32_t to)
{
    uint32_t *room = s->first + 2 * s->plane * (size_t)vugi_thread_index();
    strip b = {.s = s,
        .first = {room, room + s->plane},
        .next = s->triangle + 3 * s->triangles[from]};
    if (from > 0)
        number_layer(&b, from - 1);
    for (int32_t k = from; k < to; k++) {
        number_layer(&b, k);
        add_quads(&b, k);
    }
}

/* ---- all of it --------------------------------------------------------------------- */

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

static vug_status count(net *s)
{
    for (unsigned mask = 0; mask < 256; mask++)
        find_parts(s, mask);
#pragma omp parallel for schedule(dynamic, 1) num_threads(vugi_threads(s->ctx, (size_t)s->layers))
    for (int32_t k = 0; k < s->layers; k++)
        if (!vugi_pulse(s->ctx, 0.4 * k / s->layers))
            look_at_layer(s, k);
    vug_status status = vugi_step(s->ctx, 0.4);
    if (status)
        return status;
    sum_up(s->vertices, s->layers);
    sum_up(s->triangles, s->layers);
    if (s->vertices[s->layers] > INT32_MAX || s->triangles[s->layers] > VUG_MAX_TRIANGLES)
        return vugi_fail(s->ctx, VUG_ERR_LIMIT, "surface of the grid: more than %d triangles",
            VUG_MAX_TRIANGLES);
    if (s->triangles[s->layers] == 0)
        return vugi_fail(s->ctx, VUG_ERR_NOT_FOUND, "the field is nowhere below %g", s->iso);
    return VUG_OK;
}

static vug_status build(net *s)
{
    const vugi_allocator *mem = &s->ctx->mem;
    int32_t strips = (s->layers + STRIP - 1) / STRIP;
    int threads = vugi_threads(s->ctx, (size_t)strips);
    s->xyz = vugi_alloc(mem, s->vertices[s->layers], 3 * sizeof *s->xyz);
    s->triangle = vugi_alloc(mem, s->triangles[s->layers], 3 * sizeof *s->triangle);
    s->first = vugi_alloc(mem, 2 * s->plane * (size_t)threads, sizeof *s->first);
    if (!s->xyz || !s->triangle || !s->first)
        return vugi_fail_memory(s->ctx);
#pragma omp parallel for schedule(dynamic, 1) num_threads(threads)
    for (int32_t k = 0; k < s->layers; k++)
        if (!vugi_pulse(s->ctx, 0.4 + 0.3 * k / s->layers))
            place_layer(s, k);
#pragma omp parallel for schedule(dynamic, 1) num_threads(threads)
    for (int32_t b = 0; b < strips; b++)
        if (!vugi_pulse(s->ctx, 0.7 + 0.3 * b / strips))
            fill_strip(s, b * STRIP, b + 1 < strips ? (b + 1) * STRIP : s->layers);
    return vugi_step(s->ctx, 1.0);
}

vug_status vugi_surface_net(vug_context *ctx, const vugi_grid *grid, const float *field, double iso,
    vug_mesh **out)
{
    const vugi_allocator *mem = &ctx->mem;
    net s = {.ctx = ctx,
        .grid = grid,
        .field = field,
        .iso = iso,
        .nx = (size_t)grid->n[0],
        .plane = (size_t)grid->n[0] * (size_t)grid->n[1],
        .layers = grid->n[2] - 1};
    if (border_below(&s))
        return vugi_fail(ctx, VUG_ERR_MESH, "the field is below %g at the border of the grid", iso);
    s.mask = vugi_alloc(mem, vugi_grid_count(grid), 1);
    s.vertices = vugi_alloc(mem, (size_t)grid->n[2], sizeof *s.vertices);
    s.triangles = vugi_alloc(mem, (size_t)grid->n[2], sizeof *s.triangles);
    vug_status status = s.mask && s.vertices && s.triangles ? count(&s) : vugi_fail_memory(ctx);
    if (!status)
        status = build(&s);
    if (!status) {
        vug_mesh *mesh = vugi_mesh_adopt(mem, s.xyz, s.vertices[s.layers], s.triangle,
            s.triangles[s.layers]);
        s.xyz = NULL; /* adopted, or freed by vugi_mesh_adopt */
        s.triangle = NULL;
        if (mesh)
            *out = mesh;
        else
            status = vugi_fail_memory(ctx);
    }
    vugi_free(mem, s.mask);
    vugi_free(mem, s.vertices);
    vugi_free(mem, s.triangles);
    vugi_free(mem, s.first);
    vugi_free(mem, s.xyz);
    vugi_free(mem, s.triangle);
    return status;
}
