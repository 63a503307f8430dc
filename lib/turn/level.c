/* SPDX-License-Identifier: MIT
 * Liquid that finds its level when the part is opened: surfaces of one pool under the air outside. */
#include "turn/level.h"

#include "base/root.h"

#include <math.h>

typedef struct pool_level {
    const vugi_graph *g;
    const vugi_links *links;
    double *level;
    uint32_t pool;
} pool_level;

static bool is_surface(const pool_level *p, uint32_t arc)
{
    uint32_t air = p->links->pool[arc] != p->pool
        ? VUGI_NONE
        : vugi_links_air_over(p->g, p->level, p->links, arc);
    return air != VUGI_NONE && p->links->vented[air];
}

/* Volume in the surfaces' arcs if they stood at z. */
static double volume_at(const pool_level *p, double z)
{
    double sum = 0.0;
    for (uint32_t a = 0; a < p->g->arc_count; a++)
        if (is_surface(p, a))
            sum += vugi_arc_volume(p->g, a, z);
    return sum;
}

typedef struct level_search {
    const pool_level *p;
    double volume;
} level_search;

static bool holds_less(void *user, double z)
{
    const level_search *s = user;
    return volume_at(s->p, z) < s->volume;
}

/* Brings one pool to one level. Returns how far a surface has moved. */
static double level_pool(const pool_level *p, double *now)
{
    const vugi_graph *g = p->g;
    double lo = INFINITY, hi = -INFINITY, have = 0.0, moved = 0.0;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        now[a] = p->level[a];
        if (!is_surface(p, a))
            continue;
        lo = fmin(lo, p->level[a]);
        hi = fmax(hi, p->level[a]);
        have += vugi_arc_volume(g, a, p->level[a]);
    }
    level_search search = {p, have};
    vugi_halve(holds_less, &search, &lo, &hi, 200, 0.0);
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (is_surface(p, a))
            now[a] = fmax(g->arc[a].lo, fmin(g->arc[a].hi, hi));
    for (uint32_t a = 0; a < g->arc_count; a++)
        moved = fmax(moved, fabs(now[a] - p->level[a]));
    return moved;
}

vug_status vugi_level_out(vug_context *ctx, const vugi_scene *s, const bool *open, double *level,
    vugi_links *links)
{
    const vugi_graph *g = &s->graph;
    const double still = 1e-9 * (s->columns.zhi - s->columns.zlo);
    double *now = vugi_alloc(&s->mem, g->arc_count, sizeof *now);
    bool moved = true;
    if (!now)
        return vugi_fail_memory(ctx);
    for (size_t round = 0; moved && round < g->arc_count + 8; round++) {
        moved = false;
        vugi_links_find(s, level, open, links);
        for (uint32_t pool = 0; pool < links->pool_count && !moved; pool++) {
            const pool_level p = {g, links, level, pool};
            moved = level_pool(&p, now) > still;
        }
        for (uint32_t a = 0; a < g->arc_count && moved; a++)
            level[a] = now[a];
    }
    vugi_free(&s->mem, now);
    return VUG_OK;
}
