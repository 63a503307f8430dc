/* SPDX-License-Identifier: MIT
 * Pieces of a region of cells, and corners at which it would touch itself. */
#include "shape/hollow/region.h"

#include "base/disjoint_set.h"

#include <math.h>
#include <string.h>

/* ---- pieces: runs of cells along x, joined where they touch ------------------------- */

typedef struct run {
    int32_t from, to; /* the first cell, and past the last */
} run;

typedef struct runs {
    vug_context *ctx;
    vugi_field *field;
    uint8_t *in;
    run *run;
    size_t count, room;
    size_t *first; /* of each row, and past the last */
    uint32_t *parent;
    vugi_piece *piece; /* at the root of each */
} runs;

static bool find_runs(runs *r)
{
    const vugi_grid *g = &r->field->grid;
    size_t rows = (size_t)g->n[1] * (size_t)g->n[2];
    r->first = vugi_alloc(&r->ctx->mem, rows + 1, sizeof *r->first);
    if (!r->first)
        return false;
    for (size_t row = 0; row < rows; row++) {
        const uint8_t *in = r->in + row * (size_t)g->n[0];
        r->first[row] = r->count;
        for (int32_t i = 0; i < g->n[0]; i++) {
            if (!in[i])
                continue;
            if (!vugi_reserve(&r->ctx->mem, &r->run, &r->room, r->count + 1, sizeof *r->run))
                return false;
            int32_t from = i;
            while (i < g->n[0] && in[i])
                i++;
            r->run[r->count++] = (run){from, i};
        }
    }
    r->first[rows] = r->count;
    return true;
}

/* Joins the runs of two rows that lie side by side. */
static void join_rows(runs *r, size_t a, size_t b)
{
    size_t i = r->first[a], j = r->first[b];
    while (i < r->first[a + 1] && j < r->first[b + 1]) {
        const run *p = r->run + i, *q = r->run + j;
        if (p->from < q->to && q->from < p->to)
            vugi_sets_unite(r->parent, (uint32_t)i, (uint32_t)j);
        if (p->to < q->to)
            i++;
        else
            j++;
    }
}

static bool join_runs(runs *r)
{
    size_t ny = (size_t)r->field->grid.n[1], rows = ny * (size_t)r->field->grid.n[2];
    r->parent = vugi_alloc(&r->ctx->mem, r->count, sizeof *r->parent);
    r->piece = vugi_calloc(&r->ctx->mem, r->count, sizeof *r->piece);
    if (!r->parent || !r->piece)
        return false;
    vugi_sets_init(r->parent, r->count);
    for (size_t row = 0; row < rows; row++) {
        if (row % ny)
            join_rows(r, row, row - 1);
        if (row >= ny)
            join_rows(r, row, row - ny);
    }
    return true;
}

/* Size and deepest cell of each piece. */
static void measure_runs(runs *r)
{
    size_t nx = (size_t)r->field->grid.n[0];
    size_t rows = (size_t)r->field->grid.n[1] * (size_t)r->field->grid.n[2];
    for (size_t row = 0; row < rows; row++)
        for (size_t i = r->first[row]; i < r->first[row + 1]; i++) {
            vugi_piece *piece = r->piece + vugi_sets_find(r->parent, (uint32_t)i);
            for (int32_t x = r->run[i].from; x < r->run[i].to; x++) {
                size_t c = row * nx + (size_t)x;
                if (piece->cells++ == 0 || r->field->value[c] < r->field->value[piece->deepest])
                    piece->deepest = c;
            }
        }
}

static void drop_run(runs *r, size_t row, size_t i)
{
    size_t c = row * (size_t)r->field->grid.n[0];
    for (int32_t x = r->run[i].from; x < r->run[i].to; x++) {
        r->in[c + (size_t)x] = 0;
        r->field->value[c + (size_t)x] = (float)r->field->grid.h;
    }
}

/* From the deepest cell to the deepest point around it, no farther than to its neighbours: what lies deeper beyond is
 * another piece's. Steps along the axes, halved when none leads deeper, or when they could go through the skin: beyond
 * it distances grow for ever. */
static void find_deepest(const vugi_field *field, vugi_piece *piece)
{
    double inward[3], start[3];
    uint32_t triangle = 0;
    vugi_grid_point(&field->grid, piece->deepest, start);
    memcpy(piece->place, start, sizeof start);
    piece->depth = -vugi_field_at(field, piece->place, &triangle, inward);
    for (double step = 0.5 * field->grid.h; step > 0.02 * field->grid.h;) {
        bool deeper = false, inside = step < piece->depth + field->distance;
        for (int k = 0; k < 6 && inside && !deeper; k++) {
            double p[3] = {piece->place[0], piece->place[1], piece->place[2]};
            p[k / 2] += k % 2 ? step : -step;
            if (fabs(p[k / 2] - start[k / 2]) > field->grid.h)
                continue;
            double depth = -vugi_field_at(field, p, &triangle, inward);
            deeper = depth > piece->depth + 0.01 * step;
            if (deeper) {
                memcpy(piece->place, p, sizeof p);
                piece->depth = depth;
            }
        }
        if (!deeper)
            step *= 0.5;
    }
}

static void choose(runs *r, vugi_keep_fn keep, void *user, size_t *kept, size_t *dropped)
{
    size_t rows = (size_t)r->field->grid.n[1] * (size_t)r->field->grid.n[2];
    for (size_t row = 0; row < rows; row++)
        for (size_t i = r->first[row]; i < r->first[row + 1]; i++) {
            uint32_t root = vugi_sets_find(r->parent, (uint32_t)i);
            vugi_piece *piece = r->piece + root;
            if (root == i) { /* comes before all others of its piece */
                find_deepest(r->field, piece);
                bool stays = keep(piece, user);
                *kept += stays;
                *dropped += !stays;
                piece->cells = stays ? piece->cells : 0;
            }
            if (piece->cells == 0)
                drop_run(r, row, i);
        }
}

vug_status vugi_region_pieces(vug_context *ctx, vugi_field *field, uint8_t *in, vugi_keep_fn keep,
    void *user, size_t *kept, size_t *dropped)
{
    runs r = {.ctx = ctx, .field = field, .in = in};
    vug_status status = find_runs(&r) && join_runs(&r) ? VUG_OK : vugi_fail_memory(ctx);
    *kept = *dropped = 0;
    if (!status)
        status = vugi_step(ctx, 0.5);
    if (!status) {
        measure_runs(&r);
        choose(&r, keep, user, kept, dropped);
        status = vugi_step(ctx, 1.0);
    }
    vugi_free(&ctx->mem, r.run);
    vugi_free(&ctx->mem, r.first);
    vugi_free(&ctx->mem, r.parent);
    vugi_free(&ctx->mem, r.piece);
    return status;
}

/* ---- corners -------------------------------------------------------------------------- */

/* The corners of a cube's six faces, around each. Corner: bit 0 is x, bit 1 is y, bit 2 is z. */
static const uint8_t face[6][4] = {
    {0, 1, 3, 2},
    {4, 5, 7, 6},
    {0, 1, 5, 4},
    {2, 3, 7, 6},
    {0, 2, 6, 4},
    {1, 3, 7, 5},
};

typedef struct cubes {
    vug_context *ctx;
    vugi_field *field;
    uint8_t *in;
    uint8_t suspect[256]; /* for each set of corners inside: those one of which has to go */
    size_t *stack;
    size_t count, room;
} cubes;

/* Corners inside that meet others, or part corners outside, at an edge or a corner alone. */
static uint8_t suspects_of(unsigned mask)
{
    unsigned suspects = 0;
    for (int f = 0; f < 6; f++) {
        unsigned a = 1u << face[f][0] | 1u << face[f][2], b = 1u << face[f][1] | 1u << face[f][3];
        if ((mask & (a | b)) == a || (mask & (a | b)) == b)
            suspects |= mask & (a | b);
    }
    for (int i = 0; i < 4; i++) {
        unsigned across = 1u << i | 1u << (7 - i);
        if (mask == across || (mask ^ 255u) == across)
            suspects |= mask;
    }
    return (uint8_t)suspects;
}

static size_t corner_cell(const vugi_grid *g, size_t c, int corner)
{
    size_t nx = (size_t)g->n[0];
    return c + (size_t)(corner & 1) + (size_t)(corner >> 1 & 1) * nx
        + (size_t)(corner >> 2) * nx * (size_t)g->n[1];
}

static unsigned mask_of(const cubes *s, size_t c)
{
    unsigned mask = 0;
    for (int i = 0; i < 8; i++)
        mask |= (unsigned)s->in[corner_cell(&s->field->grid, c, i)] << i;
    return mask;
}

static bool push(cubes *s, size_t c)
{
    if (!vugi_reserve(&s->ctx->mem, &s->stack, &s->room, s->count + 1, sizeof *s->stack))
        return false;
    s->stack[s->count++] = c;
    return true;
}

/* Takes out the shallowest of the suspects of cube c, and looks at the cubes around that cell again. */
static bool part_cube(cubes *s, size_t c)
{
    const vugi_grid *g = &s->field->grid;
    unsigned suspects = s->suspect[mask_of(s, c)];
    size_t out = SIZE_MAX;
    for (int i = 0; i < 8; i++) {
        size_t cell = corner_cell(g, c, i);
        if ((suspects >> i & 1)
            && (out == SIZE_MAX || s->field->value[cell] > s->field->value[out]))
            out = cell;
    }
    if (out == SIZE_MAX)
        return true;
    s->in[out] = 0;
    s->field->value[out] = (float)(1e-3 * g->h);
    for (int i = 0; i < 8; i++)
        if (!push(s, out - corner_cell(g, 0, i)))
            return false;
    return true;
}

static bool find_cubes(cubes *s, int32_t k)
{
    const vugi_grid *g = &s->field->grid;
    size_t nx = (size_t)g->n[0], plane = nx * (size_t)g->n[1];
    for (int32_t j = 0; j + 1 < g->n[1]; j++) {
        const uint8_t *in = s->in + vugi_grid_cell(g, 0, j, k);
        unsigned last = 0;
        for (size_t i = 0; i < nx; i++, in++) {
            unsigned column = (unsigned)(in[0] | in[nx] << 2 | in[plane] << 4
                | in[plane + nx] << 6);
            if (i > 0 && s->suspect[last | column << 1] && !push(s, (size_t)(in - s->in) - 1))
                return false;
            last = column;
        }
    }
    return true;
}

vug_status vugi_region_part_corners(vug_context *ctx, vugi_field *field, uint8_t *in)
{
    cubes s = {.ctx = ctx, .field = field, .in = in};
    int32_t nz = field->grid.n[2];
    vug_status status = VUG_OK;
    for (unsigned mask = 0; mask < 256; mask++)
        s.suspect[mask] = suspects_of(mask);
    for (int32_t k = 0; k + 1 < nz && !status; k++)
        status = find_cubes(&s, k) ? vugi_step(ctx, (double)k / nz) : vugi_fail_memory(ctx);
    while (s.count && !status)
        if (!part_cube(&s, s.stack[--s.count]))
            status = vugi_fail_memory(ctx);
    vugi_free(&ctx->mem, s.stack);
    return status;
}
