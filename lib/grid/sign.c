/* SPDX-License-Identifier: MIT
 * Which cells of a grid lie in the solid: winding numbers along three axes, by majority. */
#include "grid/sign.h"

#include "grid/grid.h"

#include <math.h>
#include <string.h>

/* Corners are rounded to 1/UNIT of a cell sideways, so that the tests below are exact integers and
 * every column meets a closed mesh exactly as often inward as outward. */
enum { UNIT = 65536 };

/* All of them may cross in one place: what they change there must fit in an int32_t, and twice that in a
 * cell of work. */
enum { MOST_TRIANGLES = (1 << 30) - 1 };

/* A cell's byte while votes are gathered: their sum, and a bit for each axis along which the
 * surface lies between the cell before and this one. */
enum { NO_VOTES = 4, VOTE_MASK = 7, CROSSED = 16 };

/* One axis at a time: columns run along axis a, and (u, v) are the other two. */
typedef struct axis {
    const vug_mesh *mesh;
    const uint32_t *weight; /* of each triangle, or NULL */
    const vugi_grid *grid;
    int a, u, v;
    size_t stride; /* cells from one to the next along a */
    size_t ustride, vstride;
    uint32_t *cross;  /* each cell: 0, or twice the winding change before it and 1: it is crossed */
    int32_t *total;   /* winding change of each column, v * nu + u */
    uint8_t *touched; /* columns that meet the mesh */
} axis;

typedef struct corner {
    int64_t u, v;
    double w;
} corner;

static corner corner_of(const axis *x, uint32_t vertex)
{
    const double *p = x->mesh->xyz + 3 * (size_t)vertex;
    const vugi_grid *g = x->grid;
    double u = (p[x->u] - g->origin[x->u]) / g->h, v = (p[x->v] - g->origin[x->v]) / g->h;
    /* Local grids see only a piece of the part: far corners stay in the range of the integers. */
    const double far = 4.0 * VUG_MAX_COLUMNS_ACROSS;
    u = fmin(fmax(u, -far), far);
    v = fmin(fmax(v, -far), far);
    return (corner){llround(u * UNIT), llround(v * UNIT), (p[x->a] - g->origin[x->a]) / g->h};
}

/* Twice the area of p, q, r: positive when counter-clockwise. */
static int64_t turn(const corner *p, const corner *q, int64_t ru, int64_t rv)
{
    return (q->u - p->u) * (rv - p->v) - (q->v - p->v) * (ru - p->u);
}

/* A point on the edge p -> q belongs to the triangle on this side: as if all points were moved by
 * an infinitely small step, so exactly one of the two sides has it. */
static int64_t edge_bias(const corner *p, const corner *q)
{
    int64_t du = q->u - p->u, dv = q->v - p->v;
    return dv > 0 || (dv == 0 && du < 0) ? 0 : -1;
}

static void record(const axis *x, int32_t u, int32_t v, double w, int32_t change)
{
    size_t column = (size_t)v * (size_t)x->grid->n[x->u] + (size_t)u;
    x->total[column] += change;
    x->touched[column] = 1;
    double at = ceil(w);
    if (at >= x->grid->n[x->a])
        return;
    size_t along = at > 0.0 ? (size_t)at : 0;
    size_t c = (size_t)u * x->ustride + (size_t)v * x->vstride + along * x->stride;
    x->cross[c] = (x->cross[c] + 2u * (uint32_t)change) | 1u;
}

static int32_t first_point(int64_t units)
{
    int64_t q = units / UNIT;
    return (int32_t)(q * UNIT < units ? q + 1 : q);
}

static int32_t last_point(int64_t units)
{
    int64_t q = units / UNIT;
    return (int32_t)(q * UNIT > units ? q - 1 : q);
}

static int64_t min3(int64_t a, int64_t b, int64_t c)
{
    int64_t m = a < b ? a : b;
    return m < c ? m : c;
}

static int64_t max3(int64_t a, int64_t b, int64_t c)
{
    int64_t m = a > b ? a : b;
    return m > c ? m : c;
}

/* Lies the triangle surely beside the columns from lo on, below hi, in direction a? A local grid sees a small piece of the
 * part, and most triangles are known by this to have nothing to do with it. */
static bool lies_beside(const axis *x, const uint32_t *tri, int a, int32_t lo, int32_t hi)
{
    const double *xyz = x->mesh->xyz;
    const double p = xyz[3 * (size_t)tri[0] + (size_t)a], q = xyz[3 * (size_t)tri[1] + (size_t)a],
                 r = xyz[3 * (size_t)tri[2] + (size_t)a];
    const double from = x->grid->origin[a] + (lo - 1) * x->grid->h,
                 to = x->grid->origin[a] + hi * x->grid->h;
    return (p < from && q < from && r < from) || (p > to && q > to && r > to);
}

/* Records the columns with vlo <= v < vhi that triangle t meets. */
static void rasterise(const axis *x, size_t t, int32_t vlo, int32_t vhi)
{
    const uint32_t *tri = x->mesh->triangles + 3 * t;
    if (lies_beside(x, tri, x->u, 0, x->grid->n[x->u]) || lies_beside(x, tri, x->v, vlo, vhi))
        return;
    corner p = corner_of(x, tri[0]), q = corner_of(x, tri[1]), r = corner_of(x, tri[2]);
    int64_t area = turn(&p, &q, r.u, r.v);
    if (area == 0)
        return;
    int32_t weight = x->weight ? (int32_t)x->weight[t] : 1;
    int32_t change = area > 0 ? -weight
                              : weight; /* facing along the axis: going out of the solid */
    if (area < 0) {
        corner swap = q;
        q = r;
        r = swap;
        area = -area;
    }
    int32_t u0 = first_point(min3(p.u, q.u, r.u)), u1 = last_point(max3(p.u, q.u, r.u));
    int32_t v0 = first_point(min3(p.v, q.v, r.v)), v1 = last_point(max3(p.v, q.v, r.v));
    u0 = u0 < 0 ? 0 : u0;
    u1 = u1 >= x->grid->n[x->u] ? x->grid->n[x->u] - 1 : u1;
    v0 = v0 < vlo ? vlo : v0;
    v1 = v1 >= vhi ? vhi - 1 : v1;
    int64_t bias[3] = {edge_bias(&q, &r), edge_bias(&r, &p), edge_bias(&p, &q)};
    for (int32_t v = v0; v <= v1; v++) {
        int64_t pv = (int64_t)v * UNIT, pu = (int64_t)u0 * UNIT;
        int64_t e[3] = {turn(&q, &r, pu, pv), turn(&r, &p, pu, pv), turn(&p, &q, pu, pv)};
        const int64_t de[3] = {-(r.v - q.v) * UNIT, -(p.v - r.v) * UNIT, -(q.v - p.v) * UNIT};
        for (int32_t u = u0; u <= u1; u++) {
            if (e[0] + bias[0] >= 0 && e[1] + bias[1] >= 0 && e[2] + bias[2] >= 0) {
                double w = ((double)e[0] * p.w + (double)e[1] * q.w + (double)e[2] * r.w)
                    / (double)area;
                record(x, u, v, w, change);
            }
            for (int s = 0; s < 3; s++)
                e[s] += de[s];
        }
    }
}

/* Sums the crossings of rows of cells upward into winding numbers, and lets clean columns vote.
 * A row runs over x; wind, clean: one place for each cell of the row. Clears what it has read. */
static void vote_row(const axis *x, size_t c, size_t nx, size_t column, size_t column_step,
    int32_t *wind, uint8_t *cell)
{
    for (size_t i = 0; i < nx; i++) {
        uint32_t cross = x->cross[c + i];
        if (cross) {
            wind[i] += (int32_t)(cross & ~1u) / 2;
            cell[c + i] |= (uint8_t)(CROSSED << x->a);
            x->cross[c + i] = 0;
        }
        if (x->total[column + i * column_step] == 0)
            cell[c + i] = (uint8_t)(wind[i] > 0 ? cell[c + i] + 1 : cell[c + i] - 1);
    }
}

/* Columns along x: the winding number runs along the row itself. */
static void vote_along_x(const axis *x, int32_t j, int32_t k, uint8_t *cell)
{
    const vugi_grid *g = x->grid;
    size_t column = (size_t)k * (size_t)g->n[1] + (size_t)j;
    size_t c = vugi_grid_cell(g, 0, j, k);
    int32_t wind = 0;
    for (int32_t i = 0; i < g->n[0]; i++)
        vote_row(x, c + (size_t)i, 1, column, 0, &wind, cell);
}

static vug_status vote_axis(vug_context *ctx, axis *x, uint8_t *cell)
{
    const vugi_grid *g = x->grid;
    int32_t slices = x->a == 2 ? g->n[1] : g->n[2], deep = x->a == 2 ? g->n[2] : g->n[1];
    int threads = vugi_threads(ctx, (size_t)slices);
    size_t nx = (size_t)g->n[0];
    int32_t *wind = vugi_calloc(&ctx->mem, (size_t)threads * nx, sizeof *wind);
    if (!wind)
        return vugi_fail_memory(ctx);
#pragma omp parallel for schedule(static) num_threads(threads)
    for (int32_t s = 0; s < slices; s++) {
        if (vugi_pulse(ctx, 0.3 * x->a + 0.15 * (1.0 + (double)s / slices)))
            continue;
        int32_t *own = wind + (size_t)vugi_thread_index() * nx;
        memset(own, 0, nx * sizeof *own);
        for (int32_t d = 0; d < deep; d++) {
            if (x->a == 0)
                vote_along_x(x, d, s, cell);
            else if (x->a == 1) /* u is z, v is x: column x * nz + z */
                vote_row(x, vugi_grid_cell(g, 0, d, s), nx, (size_t)s, (size_t)g->n[2], own, cell);
            else /* u is x, v is y: column y * nx + x */
                vote_row(x, vugi_grid_cell(g, 0, s, d), nx, (size_t)s * nx, 1, own, cell);
        }
    }
    vugi_free(&ctx->mem, wind);
    return VUG_OK;
}

static vug_status sign_axis(vug_context *ctx, axis *x, uint8_t *cell, vugi_sign_report *report)
{
    const vugi_grid *g = x->grid;
    const size_t stride[3] = {1, (size_t)g->n[0], (size_t)g->n[0] * (size_t)g->n[1]};
    size_t columns = (size_t)g->n[x->u] * (size_t)g->n[x->v];
    x->stride = stride[x->a];
    x->ustride = stride[x->u];
    x->vstride = stride[x->v];
    x->total = vugi_calloc(&ctx->mem, columns, sizeof *x->total);
    x->touched = vugi_calloc(&ctx->mem, columns, 1);
    vug_status status = x->total && x->touched ? VUG_OK : vugi_fail_memory(ctx);
    if (status)
        goto done;

    /* Each thread has its own range of v, so no two write the same column. */
    int threads = vugi_threads(ctx, (size_t)g->n[x->v]);
#pragma omp parallel for schedule(static) num_threads(threads)
    for (int piece = 0; piece < threads; piece++) {
        int32_t vlo = (int32_t)((int64_t)g->n[x->v] * piece / threads);
        int32_t vhi = (int32_t)((int64_t)g->n[x->v] * (piece + 1) / threads);
        for (size_t t = 0; t < x->mesh->triangle_count; t++) {
            if (x->weight && x->weight[t] == 0)
                continue;
            if (t % 4096 == 0
                && vugi_pulse(ctx, 0.3 * x->a + 0.15 * (double)t / (double)x->mesh->triangle_count))
                break;
            rasterise(x, t, vlo, vhi);
        }
    }
    for (size_t c = 0; c < columns; c++) {
        report->columns += x->touched[c];
        report->leaking += x->total[c] != 0;
    }
    status = vote_axis(ctx, x, cell);
done:
    vugi_free(&ctx->mem, x->total);
    vugi_free(&ctx->mem, x->touched);
    return status;
}

/* A cell without a majority follows its six neighbours. Reads votes, writes nothing. */
static bool neighbours_solid(const vugi_grid *g, const uint8_t *cell, int32_t i, int32_t j,
    int32_t k)
{
    static const int step[6][3] = {{1, 0, 0}, {-1, 0, 0}, {0, 1, 0}, {0, -1, 0}, {0, 0, 1},
        {0, 0, -1}};
    int sum = 0;
    for (int s = 0; s < 6; s++) {
        int32_t at[3] = {i + step[s][0], j + step[s][1], k + step[s][2]};
        if (at[0] >= 0 && at[0] < g->n[0] && at[1] >= 0 && at[1] < g->n[1] && at[2] >= 0
            && at[2] < g->n[2])
            sum += (cell[vugi_grid_cell(g, at[0], at[1], at[2])] & VOTE_MASK) - NO_VOTES;
    }
    return sum > 0;
}

static bool solid_at(const vugi_grid *g, const uint8_t *cell, size_t c, int32_t i, int32_t j,
    int32_t k)
{
    int votes = (cell[c] & VOTE_MASK) - NO_VOTES;
    return votes > 0 || (votes == 0 && neighbours_solid(g, cell, i, j, k));
}

/* Is there a wall between this void cell and a void cell before it? */
static bool sheet_at(const vugi_grid *g, const uint8_t *cell, size_t c, int32_t i, int32_t j,
    int32_t k)
{
    size_t nx = (size_t)g->n[0], plane = nx * (size_t)g->n[1];
    return (i > 0 && (cell[c] & CROSSED) && !solid_at(g, cell, c - 1, i - 1, j, k))
        || (j > 0 && (cell[c] & CROSSED << 1) && !solid_at(g, cell, c - nx, i, j - 1, k))
        || (k > 0 && (cell[c] & CROSSED << 2) && !solid_at(g, cell, c - plane, i, j, k - 1));
}

/* From votes to signs, in another array, because both look at the votes of their neighbours. */
static void decide_slice(const vugi_grid *g, const uint8_t *cell, uint8_t *sign, int32_t k,
    uint64_t *disputed, uint64_t *sheets)
{
    for (int32_t j = 0; j < g->n[1]; j++) {
        size_t c = vugi_grid_cell(g, 0, j, k);
        for (int32_t i = 0; i < g->n[0]; i++, c++) {
            int votes = (cell[c] & VOTE_MASK) - NO_VOTES;
            bool solid = solid_at(g, cell, c, i, j, k);
            bool sheet = !solid && cell[c] >= CROSSED && sheet_at(g, cell, c, i, j, k);
            *disputed += votes != 3 && votes != -3;
            *sheets += sheet;
            sign[c] = (uint8_t)(solid ? VUGI_SOLID : sheet ? VUGI_SHEET : VUGI_VOID);
        }
    }
}

/* No votes, no crossings. */
static vug_status clear(vug_context *ctx, const vugi_grid *grid, uint8_t *cell, uint32_t *work)
{
    const size_t plane = (size_t)grid->n[0] * (size_t)grid->n[1], slices = (size_t)grid->n[2];
#pragma omp parallel for schedule(static) num_threads(vugi_threads(ctx, slices))
    for (size_t k = 0; k < slices; k++) {
        if (vugi_pulse(ctx, 0.0))
            continue;
        memset(cell + k * plane, NO_VOTES, plane);
        memset(work + k * plane, 0, plane * sizeof *work);
    }
    return vugi_step(ctx, 0.0);
}

vug_status vugi_grid_sign(vug_context *ctx, const vug_mesh *mesh, const uint32_t *weight,
    const vugi_grid *grid, uint8_t *cell, uint32_t *work, vugi_sign_report *report)
{
    size_t count = vugi_grid_count(grid);
    if (mesh->triangle_count > MOST_TRIANGLES)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "inside and outside of %zu triangles; the limit is %d",
            mesh->triangle_count, MOST_TRIANGLES);
    vugi_sign_report own = {0};
    vug_status status = clear(ctx, grid, cell, work);
    for (int a = 0; a < 3 && !status; a++) {
        axis x = {.mesh = mesh,
            .weight = weight,
            .grid = grid,
            .a = a,
            .u = (a + 1) % 3,
            .v = (a + 2) % 3,
            .cross = work};
        status = sign_axis(ctx, &x, cell, &own);
        if (!status)
            status = vugi_step(ctx, 0.3 * (a + 1));
    }
    if (status)
        return status;

    uint8_t *sign = (uint8_t *)work;
    uint64_t disputed = 0, sheets = 0;
#pragma omp parallel for schedule(static) reduction(+ : disputed, sheets) \
    num_threads(vugi_threads(ctx, (size_t)grid->n[2]))
    for (int32_t k = 0; k < grid->n[2]; k++)
        if (!vugi_pulse(ctx, 0.9 + 0.1 * k / grid->n[2]))
            decide_slice(grid, cell, sign, k, &disputed, &sheets);
    memcpy(cell, sign, count);
    own.disputed = disputed;
    own.sheets = sheets;
    *report = own;
    return vugi_step(ctx, 1.0);
}
