/* SPDX-License-Identifier: MIT
 * Trapped air under pressure: Boyle's law, pressure times volume stays. */
#include "base/root.h"
#include "course/course_types.h"

#include "flow/flow.h"
#include "hydrostatic/liquid.h"

#include <assert.h>
#include <math.h>

/* A pocket with liquid up to level z in all of its arcs. */
static double air_volume(const vug_moment *m, uint32_t air, double z)
{
    assert(air < m->links.air_count);
    const vugi_graph *g = &m->scene->graph;
    double volume = 0.0;
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (m->links.air[a] == air)
            volume += g->arc[a].volume - vugi_arc_volume(g, a, fmax(m->level[a], z));
    return volume;
}

typedef struct squeeze {
    double level, top,
        head; /* of the pocket's lowest surface, its highest point, the liquid's top */
    bool fed; /* the inlet's pressure reaches it */
} squeeze;

static bool reaches(const vug_moment *m, uint32_t pool)
{
    assert(pool < m->links.pool_count);
    const vugi_scene *s = m->scene;
    for (size_t i = 0; i < s->lip_count; i++)
        if (s->lip[i].mouth == m->inlet && m->links.pool[s->lip[i].arc] == pool)
            return true;
    return false;
}

/* false: no liquid touches it. */
static bool look(const vug_moment *m, uint32_t air, squeeze *q)
{
    const vugi_graph *g = &m->scene->graph;
    *q = (squeeze){INFINITY, -INFINITY, -INFINITY, false};
    uint32_t pool = VUGI_NONE;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (m->links.air[a] != air)
            continue;
        q->top = fmax(q->top, g->arc[a].hi);
        if (m->links.pool[a] != VUGI_NONE && m->level[a] < q->level) {
            q->level = m->level[a];
            pool = m->links.pool[a];
        }
    }
    for (uint32_t a = 0; a < g->arc_count && pool != VUGI_NONE; a++)
        if (m->links.pool[a] == pool)
            q->head = fmax(q->head, m->level[a]);
    q->fed = pool != VUGI_NONE && reaches(m, pool);
    return pool != VUGI_NONE;
}

typedef struct pressing {
    const vug_moment *m;
    const squeeze *q;
    const vug_fluid *fluid;
    uint32_t air;
    double outside, amount; /* Pa; Pa mm3 of the air there is */
} pressing;

/* Would more air than there is stand over that level? */
static bool holds_more(void *user, double level)
{
    const pressing *p = user;
    double inside = p->outside + vugi_head_pressure(p->fluid, fmax(0.0, p->q->head - level));
    return inside * air_volume(p->m, p->air, level) > p->amount;
}

/* Volume at which air stands against head and pressure that was at the air's pressure, or under the head
 * already. */
static double squeezed(const vug_moment *m, uint32_t air, const squeeze *q, const vug_fluid *fluid,
    double pressure, double outside)
{
    double lo = q->level, hi = q->top, now = outside;
    if (m->compressible)
        now += vugi_head_pressure(fluid, fmax(0.0, q->head - q->level));
    pressing press = {m, q, fluid, air, outside + (q->fed ? pressure : 0.0),
        now * air_volume(m, air, q->level)};
    vugi_halve(holds_more, &press, &lo, &hi, 100, 0.0);
    return air_volume(m, air, lo);
}

vug_status vug_moment_squeeze(vug_context *ctx, const vug_moment *moment, const vug_fluid *fluid,
    double pressure_pa, double air_pressure_pa, double *volumes_mm3, size_t volume_count,
    double *liquid_mm3)
{
    vug_fluid own;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!moment || !liquid_mm3 || (volume_count > 0 && !volumes_mm3))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "moment, volumes_mm3 or liquid_mm3 is NULL");
    vug_status status = vugi_read_liquid(ctx, "vug_moment_squeeze", fluid, &own);
    if (status)
        return status;
    double outside = air_pressure_pa == 0.0 ? VUGI_ATMOSPHERE : air_pressure_pa;
    if (!(pressure_pa >= 0.0) || !isfinite(pressure_pa) || !(outside > 0.0) || !isfinite(outside))
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "pressure_pa is %g and air_pressure_pa %g: they must be 0 "
            "or more",
            pressure_pa, air_pressure_pa);
    double extra = 0.0;
    for (size_t i = 0; i < moment->info.pockets; i++) {
        squeeze q;
        uint32_t air = moment->pocket_air[i];
        double volume = moment->pocket[i].volume_mm3, small = volume;
        if (look(moment, air, &q))
            small = squeezed(moment, air, &q, &own, pressure_pa, outside);
        extra += volume - small;
        if (i < volume_count)
            volumes_mm3[i] = small;
    }
    *liquid_mm3 = extra;
    return VUG_OK;
}
