/* SPDX-License-Identifier: MIT
 * One step of a fill: its places and flows brought into balance. Steps in time are implicit (backward Euler), so wide
 * arcs, which level at once, and stiff air cost no small steps. */
#include "transient/filling.h"

#include "transient/falls.h"
#include "transient/gas.h"
#include "transient/inlet.h"
#include "transient/surfaces.h"

#include <math.h>

/* ---- the step ------------------------------------------------------------------------ */

/* No head lies farther off than all that comes in loses on all ways together, beyond what any part stands or is pressed by. */
static double most_head(const vugi_filling *n)
{
    return 1e8 + n->net.lost * fmax(1.0, fabs(n->rate) / n->net.most);
}

static void set_heads(vugi_filling *n)
{
    vugi_heads *b = &n->net.heads;
    const vugi_graph *g = n->r.g;
    double high = g->columns->zlo, most = most_head(n);
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (n->net.surface[a])
            high = fmax(high, n->r.level[a] + n->press[a]);
    for (uint32_t p = 0; p < b->late; p++)
        vugi_heads_from(b, p, isnan(b->known[p]) ? high : b->known[p], -most, most);
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (n->net.surface[a])
            vugi_heads_from(b, vugi_network_surface(&n->net, a), n->r.level[a] + n->press[a], -most,
                most);
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        if (n->net.airs[i])
            vugi_heads_from(b, vugi_network_air(&n->net, i), n->gas[i].excess, -most, most);
}

static void take_heads(vugi_filling *n)
{
    for (uint32_t i = 0; i < n->r.links.air_count; i++)
        if (n->net.airs[i])
            n->gas[i].excess = vugi_heads_at(&n->net.heads, vugi_network_air(&n->net, i));
    vugi_surfaces_take(n);
    vugi_inlet_take(n);
}

vug_status vugi_filling_flows(vugi_filling *n, uint32_t fed, double dt)
{
    vug_status status = vugi_falls_find(n);
    if (status)
        return status;
    if (fed != VUGI_NONE && n->end[fed] != VUGI_END_NONE)
        n->net.surface[fed] = true;
    n->dt = dt;
    bool ok = vugi_network_join(&n->net, n->r.level, &n->r.links) && vugi_falls_add(n)
        && vugi_surfaces_add(n) && vugi_inlet_add(n, fed) && vugi_gas_add(n)
        && vugi_heads_rows(&n->net.heads);
    if (!ok)
        return vugi_fail_memory(n->r.ctx);
    set_heads(n);
    status = vugi_heads_solve(n->r.ctx, &n->net.heads, n->net.most, n->r.g->capacity / dt);
    take_heads(n);
    return status;
}

/* ---- memory ------------------------------------------------------------------------ */

/* What comes in at most, freely. */
static double most_rate(const vugi_filling *n)
{
    double most = n->task->pressure > 0.0 ? vugi_inlet_driven(n, 0.0) : n->task->rate;
    for (size_t i = 0; i < n->task->rows && !(n->task->pressure > 0.0); i++)
        most = fmax(most, n->task->table[2 * i + 1]);
    return fmax(most, 1e-6);
}

static bool alloc_links(vugi_filling *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    const vugi_scene *s = n->r.scene;
    size_t links = n->r.g->link_count;
    n->sill = vugi_alloc(mem, links, sizeof *n->sill);
    n->sill_known = vugi_calloc(mem, links, sizeof *n->sill_known);
    n->basin = vugi_alloc(mem, links, sizeof *n->basin);
    n->vent = vugi_calloc(mem, s->mouth_count, sizeof *n->vent);
    for (size_t k = 0; k < links && n->basin; k++)
        n->basin[k] = VUGI_NONE;
    for (uint32_t m = 0; m < s->mouth_count && n->vent; m++)
        if (n->r.task->air_open[m])
            n->vent[m] = vugi_outlet_air(n->task->fluid, s->mouth + m,
                s->columns.zhi - s->columns.zlo);
    return n->sill && n->sill_known && n->basin && n->vent
        && vugi_links_alloc(mem, n->r.g, &n->probe);
}

static bool alloc(vugi_filling *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    size_t arcs = n->r.g->arc_count;
    double **number[] = {&n->volume, &n->next, &n->flow, &n->press, &n->rim, &n->sill_head};
    uint32_t **which[] = {&n->link, &n->to, &n->over, &n->beside};
    bool ok = true;
    for (size_t i = 0; i < sizeof number / sizeof number[0]; i++)
        ok = (*number[i] = vugi_calloc(mem, arcs, sizeof **number[i])) && ok;
    for (size_t i = 0; i < sizeof which / sizeof which[0]; i++)
        ok = (*which[i] = vugi_alloc(mem, arcs, sizeof **which[i])) && ok;
    n->end = vugi_calloc(mem, arcs, sizeof *n->end);
    n->hung = vugi_calloc(mem, arcs, sizeof *n->hung);
    n->held = vugi_calloc(mem, arcs, sizeof *n->held);
    n->gas = vugi_calloc(mem, arcs, sizeof *n->gas);
    return ok && n->end && n->hung && n->held && n->gas && alloc_links(n);
}

vug_status vugi_filling_make(vug_context *ctx, vugi_filling *n)
{
    if (!vugi_run_alloc(&n->r) || !alloc(n))
        return vugi_fail_memory(ctx);
    return vugi_network_make(ctx, n->r.scene, n->task->fluid, most_rate(n), &n->net);
}

void vugi_filling_free(vugi_filling *n)
{
    const vugi_allocator *mem = &n->r.scene->mem;
    void *all[] = {n->volume, n->next, n->flow, n->press, n->rim, n->sill_head, n->link, n->to,
        n->sill, n->sill_known, n->basin, n->over, n->beside, n->end, n->hung, n->held, n->gas,
        n->vent};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(mem, all[i]);
    vugi_links_free(mem, &n->probe);
    vugi_network_free(&n->net);
    vugi_run_free(&n->r);
}
