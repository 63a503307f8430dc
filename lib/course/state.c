/* SPDX-License-Identifier: MIT
 * The state at one moment: which liquid is one pool, which air is one pocket. */
#include "course/state.h"

#include "base/root.h"
#include "base/sort.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

void vug_moment_free(vug_moment *m)
{
    if (!m)
        return;
    vugi_allocator mem = m->mem;
    vugi_free(&mem, m->level);
    vugi_free(&mem, m->top);
    vugi_links_free(&mem, &m->links);
    vugi_free(&mem, m->pocket);
    vugi_free(&mem, m->pocket_air);
    vugi_free(&mem, m->pool);
    vugi_free(&mem, m->pool_number);
    vugi_scene_free(m->scene);
    vugi_free(&mem, m);
}

/* ---- pockets --------------------------------------------------------------- */

static void pocket_of(const vug_moment *m, uint32_t air, vug_pocket_info *info)
{
    assert(air < m->links.air_count);
    const vugi_graph *g = &m->scene->graph;
    double top = -INFINITY, level = INFINITY, bottom = INFINITY;
    *info = (vug_pocket_info){.struct_size = sizeof *info, .cavity = (uint32_t)g->sweep.body};
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (m->links.air[a] != air)
            continue;
        const vugi_node *n = g->node + g->arc[a].to;
        info->volume_mm3 += g->arc[a].volume - vugi_arc_volume(g, a, m->level[a]);
        bottom = fmin(bottom, m->level[a]);
        if (m->links.pool[a] != VUGI_NONE) {
            level = fmin(level, m->level[a]);
            info->area_mm2 += vugi_arc_area(g, a, m->level[a]);
        }
        if (n->z > top) {
            top = n->z;
            vugi_span_point(g, n->span, n->z, info->top_mm);
        }
    }
    info->level_mm = isfinite(level) ? level : bottom;
}

typedef struct numbered_pocket {
    vug_pocket_info info;
    uint32_t air;
} numbered_pocket;

static int by_pocket_volume(const void *a, const void *b, const void *user)
{
    const numbered_pocket *x = a, *y = b;
    (void)user;
    if (x->info.volume_mm3 != y->info.volume_mm3)
        return x->info.volume_mm3 > y->info.volume_mm3 ? -1 : 1;
    return x->air < y->air ? -1 : x->air > y->air;
}

static bool list_pockets(vug_moment *m)
{
    uint32_t count = m->links.air_count, n = 0;
    numbered_pocket *list = vugi_alloc(&m->mem, count, sizeof *list);
    m->pocket = vugi_alloc(&m->mem, count, sizeof *m->pocket);
    m->pocket_air = vugi_alloc(&m->mem, count, sizeof *m->pocket_air);
    bool ok = list && m->pocket && m->pocket_air;
    for (uint32_t air = 0; air < count && ok; air++) {
        list[n].air = air;
        pocket_of(m, air, &list[n].info);
        double volume = list[n].info.volume_mm3;
        if (m->links.vented[air])
            m->info.empty_mm3 += volume;
        else
            m->info.trapped_mm3 += volume;
        n += !m->links.vented[air] && volume > 0.0;
    }
    ok = ok && vugi_sort(&m->mem, list, n, sizeof *list, by_pocket_volume, NULL);
    for (uint32_t i = 0; i < n && ok; i++) {
        m->pocket[i] = list[i].info;
        m->pocket_air[i] = list[i].air;
    }
    m->info.pockets = ok ? n : 0;
    vugi_free(&m->mem, list);
    return ok;
}

/* ---- pools ------------------------------------------------------------------ */

typedef struct numbered_pool {
    vug_pool_info info;
    uint32_t number;
} numbered_pool;

static vug_pool_info pool_of(const vug_moment *m, uint32_t pool)
{
    assert(pool < m->links.pool_count);
    const vugi_graph *g = &m->scene->graph;
    vug_pool_info info = {.struct_size = sizeof info};
    double bottom = INFINITY, level = -INFINITY, full = -INFINITY;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (m->links.pool[a] != pool)
            continue;
        const vugi_node *n = g->node + g->arc[a].from;
        info.volume_mm3 += vugi_arc_volume(g, a, m->level[a]);
        full = fmax(full, m->level[a]);
        if (m->level[a] < g->arc[a].hi) {
            level = fmax(level, m->level[a]);
            info.area_mm2 += vugi_arc_area(g, a, m->level[a]);
            info.surfaces++;
        }
        if (n->z < bottom) {
            bottom = n->z;
            vugi_span_point(g, n->span, n->z, info.bottom_mm);
        }
    }
    info.level_mm = info.surfaces > 0 ? level : full;
    return info;
}

static int by_pool_volume(const void *a, const void *b, const void *user)
{
    const numbered_pool *x = a, *y = b;
    (void)user;
    if (x->info.volume_mm3 != y->info.volume_mm3)
        return x->info.volume_mm3 > y->info.volume_mm3 ? -1 : 1;
    return x->number < y->number ? -1 : x->number > y->number;
}

static bool list_pools(vug_moment *m)
{
    uint32_t count = m->links.pool_count;
    numbered_pool *list = vugi_alloc(&m->mem, count, sizeof *list);
    m->pool = vugi_alloc(&m->mem, count, sizeof *m->pool);
    m->pool_number = vugi_alloc(&m->mem, count, sizeof *m->pool_number);
    bool ok = list && m->pool && m->pool_number;
    uint32_t n = 0;
    for (uint32_t i = 0; ok && i < count; i++) {
        list[n] = (numbered_pool){pool_of(m, i), i};
        n += list[n].info.volume_mm3 > 0.0;
    }
    ok = ok && vugi_sort(&m->mem, list, n, sizeof *list, by_pool_volume, NULL);
    for (uint32_t i = 0; ok && i < n; i++) {
        m->pool[i] = list[i].info;
        m->pool_number[i] = list[i].number;
    }
    m->info.pools = n;
    vugi_free(&m->mem, list);
    return ok;
}

/* ---- the moment --------------------------------------------------------------- */

/* None is known better than all of them at the end. */
static void set_errors(vug_moment *m, const vug_course *course)
{
    const vug_course_info *s = &course->summary;
    double error = course->draining ? s->liquid_error_mm3 : s->trapped_error_mm3;
    for (uint32_t i = 0; i < m->info.pockets; i++)
        m->pocket[i].volume_error_mm3 = error;
    for (uint32_t i = 0; i < m->info.pools; i++)
        m->pool[i].volume_error_mm3 = error;
}

vug_status vugi_state_make(vug_context *ctx, const vug_course *course, const vugi_allocator *mem,
    double *level, const vugi_frame *frame, vug_moment **out)
{
    vug_moment *m = vugi_calloc(mem, 1, sizeof *m);
    if (!m) {
        vugi_free(mem, level);
        return vugi_fail_memory(ctx);
    }
    m->mem = *mem;
    m->scene = vugi_scene_share(course->scene);
    m->level = level;
    const vugi_graph *g = &m->scene->graph;
    if (!vugi_links_alloc(mem, g, &m->links)) {
        vug_moment_free(m);
        return vugi_fail_memory(ctx);
    }
    vugi_links_find(m->scene, level, course->open, &m->links);
    m->info = (vug_moment_info){.struct_size = sizeof m->info,
        .time_s = isfinite(frame->time) ? frame->time : -1.0, /* held: never by itself */
        .liquid_mm3 = vugi_levels_volume(g, level)};
    m->compressible = course->compressible;
    m->inlet = VUGI_NONE;
    for (uint32_t i = 0; i < m->scene->mouth_count; i++)
        if (m->scene->mouth[i].opening == course->summary.inlet)
            m->inlet = i;
    if (!list_pockets(m) || !list_pools(m)) {
        vug_moment_free(m);
        return vugi_fail_memory(ctx);
    }
    set_errors(m, course);
    *out = m;
    return VUG_OK;
}

vug_status vug_moment_get(const vug_moment *moment, vug_moment_info *info)
{
    if (!moment || !info)
        return VUG_ERR_ARGUMENT;
    return vugi_struct_write(NULL, info, &moment->info, sizeof moment->info, "vug_moment_info");
}

vug_status vug_moment_pocket(const vug_moment *moment, size_t index, vug_pocket_info *info)
{
    if (!moment || !info)
        return VUG_ERR_ARGUMENT;
    if (index >= moment->info.pockets)
        return VUG_ERR_NOT_FOUND;
    return vugi_struct_write(NULL, info, moment->pocket + index, sizeof *moment->pocket,
        "vug_pocket_info");
}

vug_status vug_moment_pool(const vug_moment *moment, size_t index, vug_pool_info *info)
{
    if (!moment || !info)
        return VUG_ERR_ARGUMENT;
    if (index >= moment->info.pools)
        return VUG_ERR_NOT_FOUND;
    return vugi_struct_write(NULL, info, moment->pool + index, sizeof *moment->pool,
        "vug_pool_info");
}

/* ---- level and volume of a pool -------------------------------------------------- */

/* A surface that moves with the pool's level: not under a pocket, and up with the others. */
static bool is_open_surface(const vug_moment *m, uint32_t pool, uint32_t arc, double level)
{
    const vugi_graph *g = &m->scene->graph;
    return m->links.pool[arc] == pool && m->level[arc] < g->arc[arc].hi
        && m->links.vented[m->links.air[arc]]
        && m->level[arc] >= level - 1e-6 * (1.0 + fabs(level));
}

typedef struct open_pool {
    uint32_t number;
    double level, lo, hi; /* now, and the range over which the pool keeps its shape */
    double still;         /* volume of what does not move */
} open_pool;

static vug_status read_pool(vug_context *ctx, const vug_moment *m, size_t index, open_pool *p)
{
    const vugi_graph *g = &m->scene->graph;
    if (index >= m->info.pools)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no pool %zu, there are %u", index,
            (unsigned)m->info.pools);
    *p = (open_pool){.number = m->pool_number[index],
        .level = -INFINITY,
        .lo = -INFINITY,
        .hi = INFINITY,
        .still = m->pool[index].volume_mm3};
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (is_open_surface(m, p->number, a, -INFINITY))
            p->level = fmax(p->level, m->level[a]);
    if (!isfinite(p->level))
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "pool %zu has no open surface: its level can't change", index);
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (!is_open_surface(m, p->number, a, p->level))
            continue;
        p->lo = fmax(p->lo, g->arc[a].lo);
        p->hi = fmin(p->hi, g->arc[a].hi);
        p->still -= vugi_arc_volume(g, a, m->level[a]);
    }
    return VUG_OK;
}

static double pool_volume(const vug_moment *m, const open_pool *p, double z)
{
    const vugi_graph *g = &m->scene->graph;
    double volume = p->still;
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (is_open_surface(m, p->number, a, p->level))
            volume += vugi_arc_volume(g, a, z);
    return volume;
}

vug_status vug_moment_pool_volume(vug_context *ctx, const vug_moment *moment, size_t index,
    double level_mm, double *volume_mm3)
{
    if (!moment || !volume_mm3)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "moment or volume_mm3 is NULL");
    open_pool p;
    vug_status status = read_pool(ctx, moment, index, &p);
    if (status)
        return status;
    if (!(level_mm >= p.lo && level_mm <= p.hi))
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "level_mm is %g, pool %zu keeps its shape from %g to %g", level_mm, index, p.lo, p.hi);
    *volume_mm3 = pool_volume(moment, &p, level_mm);
    return VUG_OK;
}

typedef struct pool_search {
    const vug_moment *moment;
    const open_pool *pool;
    double volume;
} pool_search;

static bool holds_less(void *user, double level)
{
    const pool_search *s = user;
    return pool_volume(s->moment, s->pool, level) < s->volume;
}

vug_status vug_moment_pool_level(vug_context *ctx, const vug_moment *moment, size_t index,
    double volume_mm3, double *level_mm)
{
    if (!moment || !level_mm)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "moment or level_mm is NULL");
    open_pool p;
    vug_status status = read_pool(ctx, moment, index, &p);
    if (status)
        return status;
    double lo = p.lo, hi = p.hi, least = pool_volume(moment, &p, lo);
    double most = pool_volume(moment, &p, hi), slack = 1e-9 * most;
    if (!(volume_mm3 >= least - slack && volume_mm3 <= most + slack))
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "volume_mm3 is %g, pool %zu keeps its shape from %g to "
            "%g",
            volume_mm3, index, least, most);
    pool_search search = {moment, &p, volume_mm3};
    vugi_halve(holds_less, &search, &lo, &hi, 200, 0.0);
    *level_mm = volume_mm3 <= least ? p.lo : hi;
    return VUG_OK;
}
