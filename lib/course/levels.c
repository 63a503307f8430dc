/* SPDX-License-Identifier: MIT
 * From levels of arcs back to heights of liquid in the columns, and a section through them. */
#include "course/levels.h"

#include "base/sort.h"
#include "column/section.h"
#include "column/waterline.h"
#include "gravity/section.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A surface: the columns of the arc at its level. */
typedef struct surface {
    double z;
    uint32_t arc;
} surface;

/* A height at which the sections are looked at: just under a surface, or just above a sill. */
typedef struct look {
    double z;
    bool dry;
} look;

typedef struct painter {
    const vug_moment *moment;
    const look *look;
    double *top;
    double *dry; /* of each span: the lowest floor of an empty arc that it reaches up into */
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

static void paint(const painter *p, double z, const vugi_section *section)
{
    const vugi_graph *g = &p->moment->scene->graph;
    const vugi_columns *c = g->columns;
    for (size_t k = 0; k < (size_t)c->nx * (size_t)c->ny; k++) {
        uint32_t arc = vugi_graph_arc(g, vugi_section_arc(section, k), z, false);
        if (arc == VUGI_NONE || fabs(p->moment->level[arc] - z) > 2.0 * g->sweep.scale.step
            || !is_surface(p->moment, arc))
            continue;
        uint32_t s = vugi_section_span(section, k);
        p->top[s] = fmax(c->lo[s], fmin(c->hi[s], p->moment->level[arc]));
    }
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
static void dry(const painter *p, double z, const vugi_section *section)
{
    const vugi_graph *g = &p->moment->scene->graph;
    const vugi_columns *c = g->columns;
    for (size_t k = 0; k < (size_t)c->nx * (size_t)c->ny; k++) {
        uint32_t arc = vugi_graph_arc(g, vugi_section_arc(section, k), z, false);
        if (arc == VUGI_NONE || !is_dry(p->moment, arc))
            continue;
        uint32_t s = vugi_section_span(section, k);
        double floor = fmax(c->lo[s], g->arc[arc].lo);
        p->dry[s] = z >= g->arc[arc].lo ? fmin(p->dry[s], floor) : p->dry[s];
    }
}

static vug_status look_at(void *user, size_t stop, const vugi_section *section)
{
    const painter *p = user;
    (p->look[stop].dry ? dry : paint)(p, p->look[stop].z, section);
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
static size_t list_looks(const surface *list, size_t count, double step, double shift, bool dry,
    look *to)
{
    size_t looks = 0;
    for (size_t i = 0; i < count; i++)
        if (looks == 0 || list[i].z + shift > to[looks - 1].z + step)
            to[looks++] = (look){list[i].z + shift, dry};
    return looks;
}

static int by_height(const void *a, const void *b, const void *user)
{
    const look *x = a, *y = b;
    (void)user;
    return x->z != y->z ? (x->z > y->z) - (x->z < y->z) : x->dry - y->dry;
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

/* All heights to look at, in order. */
static bool list_all(const vugi_allocator *mem, const vug_moment *m, look **list, double **z,
    size_t *count)
{
    const vugi_graph *g = &m->scene->graph;
    const double step = g->sweep.scale.step;
    size_t found = 0;
    surface *end = vugi_alloc(mem, g->arc_count, sizeof *end);
    *list = vugi_alloc(mem, 2 * g->arc_count, sizeof **list);
    *z = vugi_alloc(mem, 2 * g->arc_count, sizeof **z);
    *count = 0;
    bool good = end && *list && *z && list_surfaces(mem, m, end, &found);
    if (good)
        *count = list_looks(end, found, step, -step, false, *list);
    good = good && list_dry(mem, m, end, &found);
    if (good)
        *count += list_looks(end, found, step, step, true, *list + *count);
    good = good && vugi_sort(mem, *list, *count, sizeof **list, by_height, NULL);
    for (size_t i = 0; i < *count && good; i++)
        (*z)[i] = (*list)[i].z;
    vugi_free(mem, end);
    return good;
}

static vug_status find_levels(vug_context *ctx, const vugi_allocator *mem, const vug_moment *m,
    double *top)
{
    const vugi_graph *g = &m->scene->graph;
    const vugi_columns *c = g->columns;
    look *list = NULL;
    double *z = NULL, *empty = vugi_alloc(mem, c->count + 1, sizeof *empty);
    size_t count = 0;
    bool good = empty && list_all(mem, m, &list, &z, &count);
    vug_status status = good ? VUG_OK : vugi_fail_memory(ctx);
    for (size_t s = 0; s < c->count && good; s++) {
        uint32_t arc = vugi_arc_at_floor(g, s);
        top[s] = arc != VUGI_NONE && stands_in_liquid(m, arc, c->lo[s]) ? c->hi[s] : c->lo[s];
        empty[s] = INFINITY;
    }
    painter p = {.moment = m, .look = list, .top = top, .dry = empty};
    if (!status)
        status = vugi_sections(ctx, mem, &g->sweep, z, count, look_at, &p);
    for (size_t s = 0; s < c->count && !status; s++)
        top[s] = fmin(top[s], empty[s]);
    vugi_free(mem, list);
    vugi_free(mem, z);
    vugi_free(mem, empty);
    return status;
}

vug_status vugi_column_levels(vug_context *ctx, const vugi_allocator *mem, const vug_moment *m,
    double *top)
{
    if (!m->top)
        return find_levels(ctx, mem, m, top);
    memcpy(top, m->top, m->scene->columns.count * sizeof *top);
    return VUG_OK;
}

vug_status vugi_moment_look(vug_context *ctx, vug_moment *m)
{
    if (m->top)
        return VUG_OK;
    double *top = vugi_alloc(&m->mem, m->scene->columns.count + 1, sizeof *top);
    vug_status status = top ? find_levels(ctx, &m->mem, m, top) : vugi_fail_memory(ctx);
    if (status)
        vugi_free(&m->mem, top);
    else
        m->top = top;
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
