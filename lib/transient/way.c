/* SPDX-License-Identifier: MIT
 * Shortest ways through full arcs and throats (Bellman and Ford: few arcs, and no order to keep). */
#include "transient/way.h"

#include <math.h>

vug_status vugi_ways_make(vug_context *ctx, const vugi_scene *scene, vugi_ways *w)
{
    *w = (vugi_ways){.scene = scene};
    vug_status status = vugi_resistance_build(ctx, &scene->mem, scene, &w->resistance);
    if (status)
        return status;
    w->to = vugi_alloc(&scene->mem, w->resistance.spots, sizeof *w->to);
    w->reached = vugi_alloc(&scene->mem, w->resistance.spots, sizeof *w->reached);
    return w->to && w->reached ? VUG_OK : vugi_fail_memory(ctx);
}

void vugi_ways_free(vugi_ways *w)
{
    if (!w->scene)
        return;
    vugi_free(&w->scene->mem, w->to);
    vugi_free(&w->scene->mem, w->reached);
    vugi_resistance_free(&w->scene->mem, &w->resistance);
}

static vugi_path sum(vugi_path a, vugi_path b)
{
    return (vugi_path){a.length + b.length, a.thin + b.thin, a.edge + b.edge};
}

/* Between two heights in an arc. */
static vugi_path stretch(const vugi_ways *w, uint32_t arc, double z, double to)
{
    vugi_path a = vugi_path_to(w->scene, &w->resistance, arc, fmin(z, to));
    vugi_path b = vugi_path_to(w->scene, &w->resistance, arc, fmax(z, to));
    return (vugi_path){b.length - a.length, b.thin - a.thin, b.edge - a.edge};
}

static bool is_full(const vugi_ways *w, uint32_t arc, const double *level)
{
    return level[arc] >= w->scene->graph.arc[arc].hi;
}

/* Where liquid from an arc gets to the mouth: the height, or false. */
static bool mouth_in(const vugi_ways *w, uint32_t mouth, uint32_t arc, double *z)
{
    for (size_t i = 0; i < w->scene->lip_count; i++) {
        const vugi_port *p = w->scene->lip + i;
        if (p->mouth != mouth || p->arc != arc)
            continue;
        const vugi_arc *a = w->scene->graph.arc + arc;
        *z = fmax(a->lo, fmin(a->hi, vugi_scene_mouth_inside(w->scene->mouth + mouth)));
        return true;
    }
    return false;
}

static bool reach(vugi_ways *w, uint32_t spot, vugi_path path)
{
    if (w->reached[spot] && w->to[spot].thin <= path.thin)
        return false;
    w->reached[spot] = true;
    w->to[spot] = path;
    return true;
}

/* Over one arc or throat, either way. */
static bool pass(vugi_ways *w, uint32_t a, uint32_t b, vugi_path path)
{
    bool more = false;
    if (w->reached[a])
        more |= reach(w, b, sum(w->to[a], path));
    if (w->reached[b])
        more |= reach(w, a, sum(w->to[b], path));
    return more;
}

/* Liquid stands in the node: over it, or in an arc that ends there. */
static bool is_wet(const vugi_ways *w, uint32_t spot, const double *level)
{
    const vugi_graph *g = &w->scene->graph;
    const vugi_node *n = g->node + w->resistance.spot[spot].node;
    for (uint32_t k = n->link; k < n->link + n->downs; k++)
        if (!is_full(w, g->link[k], level))
            return false;
    return n->downs > 0;
}

void vugi_ways_from(vugi_ways *w, uint32_t mouth, const double *level)
{
    const vugi_graph *g = &w->scene->graph;
    const vugi_resistance *r = &w->resistance;
    double z;
    for (size_t i = 0; i < r->spots; i++)
        w->reached[i] = false;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (!mouth_in(w, mouth, a, &z) || level[a] <= g->arc[a].lo)
            continue;
        reach(w, r->foot[a], stretch(w, a, g->arc[a].lo, z));
        if (is_full(w, a, level))
            reach(w, r->crown[a], stretch(w, a, z, g->arc[a].hi));
    }
    bool more = true;
    for (size_t round = 0; more && round <= r->spots; round++) {
        more = false;
        for (uint32_t a = 0; a < g->arc_count; a++)
            if (is_full(w, a, level))
                more |= pass(w, r->foot[a], r->crown[a], vugi_path_through(w->scene, r, a));
        for (size_t i = 0; i < r->joints; i++) {
            const vugi_joint *c = r->joint + i;
            if (is_wet(w, c->from, level) && is_wet(w, c->to, level))
                more |= pass(w, c->from, c->to, c->path);
        }
    }
}

vugi_path vugi_ways_to(const vugi_ways *w, uint32_t mouth, uint32_t arc, const double *level)
{
    const vugi_path none = {0.0, 0.0, 0.0};
    double z;
    if (mouth_in(w, mouth, arc, &z))
        return stretch(w, arc, z, fmax(z, level[arc]));
    uint32_t foot = w->resistance.foot[arc];
    if (!w->reached[foot])
        return none;
    return sum(w->to[foot], vugi_path_to(w->scene, &w->resistance, arc, level[arc]));
}
