/* SPDX-License-Identifier: MIT
 * The path whose narrowest place is widest: the cells that the way has come to are taken widest first. */
#include "cavity/way.h"

#include "base/heap.h"
#include "base/vec.h"

#include <math.h>
#include <string.h>

/* Where the outside is wide open the way may go anywhere: it is given up after so many cells. */
enum { CELLS_MOST = 1 << 20, START = 6, NOT_YET = 7, SHUT = 8 };

/* After so many cells someone may cancel. */
enum { LOOKS = 1 << 16 };

/* Half the thickness of a plug, in cells: no way from face to face of cells passes it. */
static const double THICK = 0.9;

typedef struct step {
    uint32_t value, cell;
} step;

typedef struct search {
    vug_context *ctx;
    const vugi_void *v;
    vugi_ways *ways;
    step *heap;
    size_t count, room;
} search;

static bool wider(const void *a, const void *b)
{
    const step *p = a, *q = b;
    return p->value != q->value ? p->value > q->value : p->cell < q->cell;
}

static bool push(search *s, size_t cell, uint8_t from)
{
    const step next = {s->v->squared[cell], (uint32_t)cell};
    vugi_ways *w = s->ways;
    if (!vugi_reserve(&s->ctx->mem, &s->heap, &s->room, s->count + 1, sizeof next)
        || !vugi_reserve(&s->ctx->mem, &w->touched, &w->touched_room, w->touched_count + 1,
            sizeof *w->touched))
        return false;
    w->touched[w->touched_count++] = (uint32_t)cell;
    w->from[cell] = from;
    vugi_heap_push(s->heap, &s->count, sizeof next, &next, wider);
    return true;
}

/* The neighbour of a cell in direction d of six; SIZE_MAX: it is beyond the grid. */
static size_t neighbour(const vugi_grid *g, size_t cell, int d)
{
    const size_t stride[3] = {1, (size_t)g->n[0], (size_t)g->n[0] * (size_t)g->n[1]};
    int32_t at[3];
    vugi_grid_place(g, cell, at);
    const int32_t to = at[d / 2] + (d % 2 ? -1 : 1);
    if (to < 0 || to >= g->n[d / 2])
        return SIZE_MAX;
    return d % 2 ? cell - stride[d / 2] : cell + stride[d / 2];
}

/* Goes on from a cell. *end: it is at the end of the grid. */
static bool go_on(search *s, size_t cell, bool *end)
{
    *end = false;
    for (int d = 0; d < 6; d++) {
        size_t to = neighbour(&s->v->grid, cell, d);
        *end |= to == SIZE_MAX;
        if (to == SIZE_MAX || s->v->label[to] != vugi_label_outside || s->ways->from[to] != NOT_YET)
            continue;
        if (!push(s, to, (uint8_t)(d ^ 1)))
            return false;
    }
    return true;
}

/* The way back from its end, turned around. */
static bool trace(const search *s, size_t end, vugi_way *way)
{
    const uint8_t *from = s->ways->from;
    size_t count = 1;
    for (size_t c = end; from[c] != START; c = neighbour(&s->v->grid, c, from[c]))
        count++;
    way->cell = vugi_alloc(&s->ctx->mem, count, sizeof *way->cell);
    if (!way->cell)
        return false;
    way->count = count;
    way->cell[count - 1] = (uint32_t)end;
    for (size_t i = count - 1; i > 0; i--)
        way->cell[i - 1] = (uint32_t)neighbour(&s->v->grid, way->cell[i], from[way->cell[i]]);
    return true;
}

static void find_narrowest(const vugi_void *v, vugi_way *way)
{
    for (size_t i = 1; i < way->count; i++)
        if (v->squared[way->cell[i]] <= v->squared[way->cell[way->narrowest]])
            way->narrowest = i;
}

static vug_status make_room(vug_context *ctx, const vugi_void *v, vugi_ways *ways)
{
    const size_t cells = vugi_grid_count(&v->grid);
    if (ways->from)
        return VUG_OK;
    ways->from = vugi_alloc(&ctx->mem, cells, sizeof *ways->from);
    if (!ways->from)
        return vugi_fail_memory(ctx);
    memset(ways->from, NOT_YET, cells);
    return VUG_OK;
}

vug_status vugi_ways_shut(vug_context *ctx, const vugi_void *v, const vugi_plug *plug,
    vugi_ways *ways)
{
    const vugi_grid *g = &v->grid;
    int32_t lo[3], hi[3], at[3];
    vug_status status = make_room(ctx, v, ways);
    if (status)
        return status;
    for (int a = 0; a < 3; a++) {
        const double middle = (plug->center[a] - g->origin[a]) / g->h, far = plug->reach / g->h;
        lo[a] = (int32_t)fmax(0.0, floor(middle - far - 1.0));
        hi[a] = (int32_t)fmin(g->n[a] - 1.0, ceil(middle + far + 1.0));
    }
    for (at[2] = lo[2]; at[2] <= hi[2]; at[2]++) {
        for (at[1] = lo[1]; at[1] <= hi[1]; at[1]++) {
            for (at[0] = lo[0]; at[0] <= hi[0]; at[0]++) {
                size_t c = vugi_grid_cell(g, at[0], at[1], at[2]);
                double p[3], away[3];
                vugi_grid_point(g, c, p);
                vugi_subtract(p, plug->center, away);
                double along = vugi_dot(away, plug->normal);
                if (fabs(along) <= THICK * g->h
                    && vugi_dot(away, away) - along * along <= plug->reach * plug->reach)
                    ways->from[c] = SHUT;
            }
        }
    }
    return VUG_OK;
}

/* For the next search; what is shut stays so. */
static void clear(vugi_ways *ways)
{
    for (size_t i = 0; i < ways->touched_count; i++)
        ways->from[ways->touched[i]] = NOT_YET;
    ways->touched_count = 0;
}

vug_status vugi_way_out(vug_context *ctx, const vugi_void *v, const vugi_border *border,
    vugi_ways *ways, vugi_way *out)
{
    search s = {.ctx = ctx, .v = v, .ways = ways};
    step at = {0, border->cell};
    bool end = false;
    *out = (vugi_way){.cell = NULL};
    vug_status status = make_room(ctx, v, ways);
    if (status)
        return status;
    bool fits = ways->from[border->cell] == SHUT || push(&s, border->cell, START);
    for (size_t i = 0; i < CELLS_MOST && fits && !end && s.count > 0 && !status; i++) {
        vugi_heap_pop(s.heap, &s.count, sizeof at, &at, wider);
        fits = go_on(&s, at.cell, &end);
        if (i % LOOKS == LOOKS - 1)
            status = vugi_step(ctx, 0.74);
    }
    if (fits && end && !status) {
        fits = trace(&s, at.cell, out);
        if (fits)
            find_narrowest(v, out);
    }
    clear(ways);
    vugi_free(&ctx->mem, s.heap);
    return status ? status : fits ? VUG_OK : vugi_fail_memory(ctx);
}

void vugi_ways_free(const vugi_allocator *mem, vugi_ways *ways)
{
    vugi_free(mem, ways->from);
    vugi_free(mem, ways->touched);
    *ways = (vugi_ways){.from = NULL};
}

void vugi_way_free(const vugi_allocator *mem, vugi_way *way)
{
    vugi_free(mem, way->cell);
    *way = (vugi_way){.cell = NULL};
}
