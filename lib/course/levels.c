/* SPDX-License-Identifier: MIT
 * From levels of arcs back to heights of liquid in the columns, and a section through them. */
#include "course/levels.h"

#include "base/sort.h"
#include "column/section.h"
#include "column/waterline.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

/* A surface: the columns of the arc at its level. */
typedef struct surface {
    double z;
    uint32_t arc;
} surface;

typedef struct painter {
    const vug_moment *moment;
    const surface *list;
    size_t count;
    const double *stop;
    double *top;
} painter;

static int by_z(const void *a, const void *b, const void *user)
{
    const surface *x = a, *y = b;
    (void)user;
    if (x->z != y->z)
        return x->z < y->z ? -1 : 1;
    return x->arc < y->arc ? -1 : x->arc > y->arc;
}

/* A surface within rounding of the floor is none, and would not be met by the sections. */
static bool is_dry(const vug_moment *m, uint32_t arc)
{
    assert(arc < m->scene->graph.arc_count);
    const vugi_graph *g = &m->scene->graph;
    const vugi_arc *a = g->arc + arc;
    return m->level[arc] <= a->lo + 2.0 * g->sweep.scale.step && a->lo < a->hi;
}

/* Inside an arc, or at the end of a full one that nothing stands over. */
static bool is_surface(const vug_moment *m, uint32_t arc)
{
    assert(arc < m->scene->graph.arc_count);
    const vugi_graph *g = &m->scene->graph;
    const vugi_arc *a = g->arc + arc;
    return !is_dry(m, arc) && (m->level[arc] < a->hi || !vugi_node_flooded(g, m->level, a->to));
}

static vug_status paint(void *user, size_t stop, const vugi_section *section)
{
    painter *p = user;
    const vugi_graph *g = &p->moment->scene->graph;
    const vugi_columns *c = g->columns;
    double z = p->stop[stop];
    for (size_t k = 0; k < (size_t)c->nx * (size_t)c->ny; k++) {
        uint32_t arc = vugi_graph_arc(g, vugi_section_arc(section, k), z, false);
        if (arc == VUGI_NONE || !is_surface(p->moment, arc)
            || fabs(p->moment->level[arc] - z) > 2.0 * g->sweep.scale.step)
            continue;
        uint32_t s = vugi_section_span(section, k);
        p->top[s] = fmax(c->lo[s], fmin(c->hi[s], p->moment->level[arc]));
    }
    return VUG_OK;
}

/* Is there liquid over a floor at height z in this arc? Flat floors lie at the very end of the arc. */
static bool stands_in_liquid(const vug_moment *m, uint32_t arc, double z)
{
    const vugi_graph *g = &m->scene->graph;
    const vugi_arc *a = g->arc + arc;
    return m->level[arc] > z + 2.0 * g->sweep.scale.step
        || (m->level[arc] >= a->hi && z >= a->hi - g->sweep.scale.step
            && vugi_node_flooded(g, m->level, a->to));
}

/* Columns that reach up from liquid into an arc that stayed empty over it, as a pocket does that
 * begins at a sill: the section is just above the sill. */
static vug_status dry(void *user, size_t stop, const vugi_section *section)
{
    painter *p = user;
    const vugi_graph *g = &p->moment->scene->graph;
    const vugi_columns *c = g->columns;
    for (size_t k = 0; k < (size_t)c->nx * (size_t)c->ny; k++) {
        uint32_t arc = vugi_graph_arc(g, vugi_section_arc(section, k), p->stop[stop], false);
        if (arc == VUGI_NONE || !is_dry(p->moment, arc))
            continue;
        uint32_t s = vugi_section_span(section, k);
        double floor = fmax(c->lo[s], g->arc[arc].lo);
        p->top[s] = p->stop[stop] >= g->arc[arc].lo ? fmin(p->top[s], floor) : p->top[s];
    }
    return VUG_OK;
}

/* Empty arcs over liquid: heights of their lower ends. */
static bool list_dry(const vugi_allocator *mem, const vug_moment *m, surface *list, size_t *count)
{
    const vugi_graph *g = &m->scene->graph;
    *count = 0;
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (is_dry(m, a) && vugi_node_flooded(g, m->level, g->arc[a].from))
            list[(*count)++] = (surface){g->arc[a].lo, a};
    return vugi_sort(mem, list, *count, sizeof *list, by_z, NULL);
}

/* Distinct heights of a list, each moved by shift. */
static size_t list_stops(const surface *list, size_t count, double step, double shift, double *stop)
{
    size_t stops = 0;
    for (size_t i = 0; i < count; i++)
        if (stops == 0 || list[i].z + shift > stop[stops - 1] + step)
            stop[stops++] = list[i].z + shift;
    return stops;
}

static bool list_surfaces(const vugi_allocator *mem, const vug_moment *m, surface *list,
    size_t *count)
{
    const vugi_graph *g = &m->scene->graph;
    *count = 0;
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (is_surface(m, a))
            list[(*count)++] = (surface){m->level[a], a};
    return vugi_sort(mem, list, *count, sizeof *list, by_z, NULL);
}

bool vugi_arc_surface(const vug_moment *m, uint32_t arc, uint32_t *pool)
{
    const vugi_graph *g = &m->scene->graph;
    if (is_surface(m, arc)) {
        *pool = m->links.pool[arc];
        return true;
    }
    if (!is_dry(m, arc) || !vugi_node_flooded(g, m->level, g->arc[arc].from))
        return false;
    *pool = m->links.pool[vugi_arc_below(g, arc)];
    return true;
}

vug_status vugi_column_levels(vug_context *ctx, const vugi_allocator *mem, const vug_moment *m,
    double *top)
{
    const vugi_graph *g = &m->scene->graph;
    const vugi_columns *c = g->columns;
    double step = g->sweep.scale.step;
    surface *list = vugi_alloc(mem, g->arc_count, sizeof *list);
    double *stop = vugi_alloc(mem, 2 * g->arc_count, sizeof *stop);
    vug_status status = list && stop ? VUG_OK : vugi_fail_memory(ctx);
    if (status)
        goto done;
    for (size_t s = 0; s < c->count; s++) {
        uint32_t arc = vugi_arc_at_floor(g, s);
        top[s] = arc != VUGI_NONE && stands_in_liquid(m, arc, c->lo[s]) ? c->hi[s] : c->lo[s];
    }
    painter p = {.moment = m, .list = list, .stop = stop, .top = top};
    if (!list_surfaces(mem, m, list, &p.count)) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    size_t stops = 0;
    for (size_t i = 0; i < p.count; i++)
        if (stops == 0 || list[i].z > stop[stops - 1] + step)
            stop[stops++] = list[i].z;
    double *below = stop + g->arc_count;
    for (size_t i = 0; i < stops; i++)
        below[i] = stop[i] - step; /* just under each surface */
    status = vugi_sweep_again(ctx, mem, &g->sweep, below, stops, paint, &p);
    if (!status && !list_dry(mem, m, list, &p.count))
        status = vugi_fail_memory(ctx);
    if (status)
        goto done;
    stops = list_stops(list, p.count, step, step, stop);
    status = vugi_sweep_again(ctx, mem, &g->sweep, stop, stops, dry, &p);
done:
    vugi_free(mem, list);
    vugi_free(mem, stop);
    return status;
}

/* ---- a section for drawing ------------------------------------------------------ */

static double surface_in(const void *user, size_t span)
{
    const double *top = user;
    return top[span];
}

vug_status vug_moment_section(vug_context *ctx, const vug_moment *moment, const double *point,
    const double *direction, double **rows, size_t *row_count)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!moment || !point || !direction || !rows || !row_count)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "moment, point, direction, rows or row_count is NULL");
    const vugi_columns *c = &moment->scene->columns;
    double *top = vugi_alloc(&ctx->mem, c->count + 1, sizeof *top);
    if (!top)
        return vugi_fail_memory(ctx);
    vug_status status = vugi_column_levels(ctx, &ctx->mem, moment, top);
    if (!status)
        status = vugi_columns_section(ctx, c, point, direction, surface_in, top, rows, row_count);
    vugi_free(&ctx->mem, top);
    return status;
}

vug_status vug_moment_levels(vug_context *ctx, const vug_moment *moment, const double *points,
    size_t count, double *levels_mm)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!moment)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "moment is NULL");
    const vugi_columns *c = &moment->scene->columns;
    double *top = vugi_alloc(&ctx->mem, c->count + 1, sizeof *top);
    if (!top)
        return vugi_fail_memory(ctx);
    vug_status status = vugi_column_levels(ctx, &ctx->mem, moment, top);
    if (!status)
        status = vugi_columns_levels(ctx, c, top, points, count, levels_mm);
    vugi_free(&ctx->mem, top);
    return status;
}
