/* SPDX-License-Identifier: MIT
 * Cuts the air or the liquid of a moment into pieces of columns and finds them in another pose. */
#include "turn/drops.h"

#include "column/pose.h"
#include "course/levels.h"

#include <math.h>

enum { MOST = 40000 }; /* pieces, about */

typedef struct cutter {
    const vugi_allocator *mem;
    const vugi_columns *from;
    const vugi_scene *to;
    double grain;       /* mm, of a column */
    double reach;       /* mm: a span so near takes a piece that lies in none */
    double found, lost; /* length in all */
    vugi_drop *drop;
    size_t count, capacity;
} cutter;

static double part_of_span(const vugi_columns *c, const double *top, size_t s, bool air, double *lo)
{
    *lo = air ? top[s] : c->lo[s];
    return fmax(0.0, air ? c->hi[s] - top[s] : top[s] - c->lo[s]);
}

/* Squared distance of the nearest span of a column, VUGI_NONE in *span if it has none nearer than
 * best. */
static double nearest_in(const vugi_scene *s, size_t column, double away, double z, double best,
    uint32_t *span)
{
    const vugi_columns *c = &s->columns;
    for (uint32_t n = c->first[column]; n < c->first[column + 1]; n++) {
        double dz = fmax(0.0, fmax(c->lo[n] - z, z - c->hi[n]));
        if (s->graph.sweep.floor_arc[n] == VUGI_NONE || away + dz * dz >= best)
            continue;
        best = away + dz * dz;
        *span = n;
    }
    return best;
}

/* The span at a point of the pose, or the nearest within reach mm. */
static uint32_t span_at(const vugi_scene *s, const double p[3], double reach)
{
    const vugi_columns *c = &s->columns;
    uint32_t span = VUGI_NONE;
    double best = reach * reach;
    int64_t ci = llround((p[0] - c->x0) / c->h), cj = llround((p[1] - c->y0) / c->h);
    for (int64_t ring = 0; (double)(ring - 1) * c->h < sqrt(best); ring++) {
        for (int64_t j = cj - ring; j <= cj + ring; j++) {
            bool whole = j == cj - ring || j == cj + ring;
            for (int64_t i = ci - ring; i <= ci + ring; i += whole || ring == 0 ? 1 : 2 * ring) {
                if (i < 0 || j < 0 || i >= c->nx || j >= c->ny)
                    continue;
                double dx = c->x0 + c->h * (double)i - p[0], dy = c->y0 + c->h * (double)j - p[1];
                double away = ring == 0 ? 0.0 : dx * dx + dy * dy;
                best = nearest_in(s, (size_t)(j * c->nx + i), away, p[2], best, &span);
            }
        }
    }
    return span;
}

/* One piece, of some size, around a point of the part. */
static bool cut_piece(cutter *k, const double part[3], double size)
{
    const vugi_columns *c = &k->to->columns;
    double p[3];
    vugi_to_pose(c->basis, part, p);
    uint32_t span = span_at(k->to, p, k->reach);
    if (span == VUGI_NONE) {
        k->lost += size;
        return true;
    }
    if (!vugi_reserve(k->mem, &k->drop, &k->capacity, k->count + 1, sizeof *k->drop))
        return false;
    k->found += size;
    k->drop[k->count++] = (vugi_drop){size, fmax(c->lo[span], fmin(c->hi[span], p[2])), span};
    return true;
}

static bool cut_span(cutter *k, double x, double y, double lo, double length)
{
    int pieces = (int)fmax(1.0, ceil(length / k->grain));
    for (int i = 0; i < pieces; i++) {
        double pose[3] = {x, y, lo + length * (i + 0.5) / pieces}, part[3];
        vugi_to_part(k->from->basis, pose, part);
        if (!cut_piece(k, part, length / pieces))
            return false;
    }
    return true;
}

static vug_status cut_all(vug_context *ctx, cutter *k, const vug_moment *from, const double *top,
    bool air)
{
    const vugi_columns *c = k->from;
    const vugi_sweep *sweep = &from->scene->graph.sweep;
    double all = 0.0, lo;
    for (size_t s = 0; s < c->count; s++)
        if (sweep->floor_arc[s] != VUGI_NONE)
            all += part_of_span(c, top, s, air, &lo);
    k->grain = fmax(c->h, all / MOST);
    for (size_t s = 0; s < c->count; s++) {
        double length = part_of_span(c, top, s, air, &lo);
        if (sweep->floor_arc[s] == VUGI_NONE || length <= 0.0)
            continue;
        uint32_t column = sweep->column[s];
        double x = c->x0 + c->h * (double)(column % (uint32_t)c->nx);
        double y = c->y0 + c->h * (double)(column / (uint32_t)c->nx);
        if (!cut_span(k, x, y, lo, length))
            return vugi_fail_memory(ctx);
    }
    return VUG_OK;
}

/* What is lost of much is a sign of another cavity. A speck in a bore that no column of this pose hits is not. */
static vug_status check_lost(vug_context *ctx, const cutter *k, const vugi_graph *g)
{
    const double speck = 1e-3 * g->capacity, moving = k->found + k->lost;
    if (k->lost <= 0.02 * moving || k->lost * k->from->h * k->from->h <= speck)
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_ARGUMENT,
        "the moment is of another cavity: %.1f %% of what moves lies outside this one",
        100.0 * k->lost / moving);
}

/* No two points of a cavity are further apart, mm. */
static double whole_way(const vugi_columns *c)
{
    return c->h * (double)(c->nx + c->ny) + c->zhi - c->zlo;
}

/* Too little for any column to show: a piece at the end of each arc that has some. */
static bool cut_ends(cutter *k, const vug_moment *from, bool air)
{
    const vugi_graph *g = &from->scene->graph;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        double liquid = vugi_arc_volume(g, a, from->level[a]);
        double volume = air ? g->arc[a].volume - liquid : liquid, part[3];
        const vugi_node *n = g->node + (air ? g->arc[a].to : g->arc[a].from);
        if (!(volume > 0.0))
            continue;
        vugi_span_point(g, n->span, n->z, part);
        if (!cut_piece(k, part, volume))
            return false;
    }
    return true;
}

vug_status vugi_drops_cut(vug_context *ctx, const vugi_allocator *mem, const vug_moment *from,
    const vugi_scene *to, bool air, vugi_drop **drop, size_t *count)
{
    const vugi_graph *g = &from->scene->graph;
    cutter k = {.mem = mem,
        .from = &from->scene->columns,
        .to = to,
        .reach = 4.0 * fmax(from->scene->columns.h, to->columns.h)};
    double liquid = vugi_levels_volume(g, from->level);
    double room = to->graph.capacity, volume = air ? fmax(0.0, room - liquid) : fmin(liquid, room);
    double *top = vugi_alloc(mem, k.from->count + 1, sizeof *top);
    vug_status status = top ? vugi_column_levels(ctx, mem, from, top) : vugi_fail_memory(ctx);
    if (!status)
        status = cut_all(ctx, &k, from, top, air);
    if (!status)
        status = check_lost(ctx, &k, g);
    if (!status && k.count == 0 && k.lost > 0.0) { /* a speck: wherever it is nearest to */
        k.reach = whole_way(&to->columns);
        status = cut_all(ctx, &k, from, top, air);
    }
    vugi_free(mem, top);
    if (!status && k.count == 0 && !cut_ends(&k, from, air))
        status = vugi_fail_memory(ctx);
    if (status) {
        vugi_free(mem, k.drop);
        return status;
    }
    for (size_t i = 0; i < k.count; i++)
        k.drop[i].volume *= volume / k.found;
    *drop = k.drop;
    *count = k.count;
    return VUG_OK;
}

/* ---- without a moment before ---------------------------------------------------------- */

vug_status vugi_drops_even(vug_context *ctx, const vugi_allocator *mem, const vugi_scene *to,
    double volume, vugi_drop **drop, size_t *count)
{
    const vugi_columns *c = &to->columns;
    cutter k = {.mem = mem, .from = c, .to = to};
    double all = 0.0;
    for (size_t s = 0; s < c->count; s++)
        all += to->graph.sweep.floor_arc[s] != VUGI_NONE ? c->hi[s] - c->lo[s] : 0.0;
    const double grain = fmax(c->h, all / MOST);
    for (size_t s = 0; s < c->count; s++) {
        double length = c->hi[s] - c->lo[s];
        if (to->graph.sweep.floor_arc[s] == VUGI_NONE || !(length > 0.0))
            continue;
        size_t pieces = (size_t)fmax(1.0, ceil(length / grain));
        if (!vugi_reserve(mem, &k.drop, &k.capacity, k.count + pieces, sizeof *k.drop)) {
            vugi_free(mem, k.drop);
            return vugi_fail_memory(ctx);
        }
        for (size_t i = 0; i < pieces; i++)
            k.drop[k.count++] = (vugi_drop){volume * length / all / (double)pieces,
                c->lo[s] + length * ((double)i + 0.5) / (double)pieces, (uint32_t)s};
    }
    *drop = k.drop;
    *count = k.count;
    return VUG_OK;
}

/* Air is seen through a wall, and pointed at on the skin (walls of prints are thinner). */
static const double SEEN_MM = 10.0;

vug_status vugi_drops_at(vug_context *ctx, const vugi_allocator *mem, const vugi_scene *to,
    const double *point, size_t points, double volume, vugi_drop **drop, size_t *count)
{
    const vugi_columns *c = &to->columns;
    vugi_drop *own = vugi_alloc(mem, points, sizeof *own);
    if (!own)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < points; i++) {
        const double *at = point + 3 * i;
        double p[3];
        vugi_to_pose(c->basis, at, p);
        uint32_t span = span_at(to, p, SEEN_MM);
        if (span == VUGI_NONE) {
            vugi_free(mem, own);
            return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
                "air at (%g, %g, %g): the cavity is more than %g mm away", at[0], at[1], at[2],
                SEEN_MM);
        }
        own[i] = (vugi_drop){volume / (double)points, fmax(c->lo[span], fmin(c->hi[span], p[2])),
            span};
    }
    *drop = own;
    *count = points;
    return VUG_OK;
}
