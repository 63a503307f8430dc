/* SPDX-License-Identifier: MIT
 * Flow through doors. */
#include "transient/doorway.h"

#include "flow/flow.h"

#include <assert.h>
#include <math.h>

bool vugi_doorways_make(vugi_network *n)
{
    const vugi_scene *s = n->r.scene;
    n->doorway = vugi_alloc(&s->mem, s->door_count, sizeof *n->doorway);
    n->pit = vugi_calloc(&s->mem, n->r.g->node_count, sizeof *n->pit);
    if (!n->doorway || !n->pit)
        return false;
    for (size_t i = 0; i < s->door_count; i++) {
        n->doorway[i] = (vugi_doorway){.slit = vugi_slit_make(s, s->door + i),
            .spot = {VUGI_NONE, VUGI_NONE},
            .air = VUGI_NONE};
        for (int k = 0; k < 2; k++)
            n->pit[n->r.g->arc[vugi_basin_below(n->r.g, s->door[i].arc[k])].from] = true;
    }
    return true;
}

/* The arc whose foot takes what comes through: that of the door while liquid stands in it or under it, else the basin that
 * it falls into. */
static uint32_t end_of(const vugi_network *n, uint32_t arc)
{
    const vugi_graph *g = n->r.g;
    bool wet = vugi_node_flooded(g, n->r.level, g->arc[arc].from);
    return wet ? arc : vugi_basin_below(g, arc);
}

void vugi_doorways_place(vugi_network *n)
{
    const vugi_scene *s = n->r.scene;
    for (size_t i = 0; i < s->door_count; i++)
        for (int k = 0; k < 2; k++) {
            uint32_t a = end_of(n, s->door[i].arc[k]), spot = n->resistance.foot[a];
            n->doorway[i].spot[k] = spot;
            if (n->pit[n->r.g->arc[a].from] && n->r.level[a] < n->r.g->arc[a].hi)
                n->head[spot] = n->r.level[a] + n->press[a];
        }
}

static double excess_in(const vugi_network *n, const vugi_doorway *w)
{
    return w->air == VUGI_NONE ? 0.0 : n->gas[w->air].excess;
}

/* A sheet so thin, by its depth squared over the gap's, is not told from a thinner one. */
static const double most_shears = 1e4;

void vugi_doorways_measure(vugi_network *n, bool half)
{
    const vugi_scene *s = n->r.scene;
    for (size_t i = 0; i < s->door_count; i++) {
        vugi_doorway *w = n->doorway + i;
        double share = half ? 0.5 : 1.0;
        double drive = 0.0, press = 0.0, own;
        w->air = vugi_slit_air(n->r.g, n->r.level, &n->r.links, s->door + i);
        for (int k = 0; k < 2; k++) {
            double head = n->head[w->spot[k]] - excess_in(n, w), slope;
            double value = vugi_slit_drive(&w->slit, w->air != VUGI_NONE, head, &slope);
            w->slope[k] += share * (slope - w->slope[k]);
            w->base[k] = value - w->slope[k] * head;
            drive += k == 0 ? value : -value;
            value = vugi_slit_press(&w->slit, w->air != VUGI_NONE, head, &own);
            press += k == 0 ? value : -value;
        }
        /* At the flow of a full slot with the stress of the sheet. */
        double shears = fabs(drive) > 1e-9 ? fmin(most_shears, press / drive) : 1.0;
        double way = 1e-9 + vugi_path_resistance(n->task->fluid, &w->slit.path, w->flow * shears);
        w->way += share * (way - w->way);
    }
}

vugi_path vugi_doorways_way(const vugi_network *n, uint32_t arc)
{
    const vugi_scene *s = n->r.scene;
    double low = INFINITY, level = n->r.level[arc];
    for (size_t i = 0; i < s->door_count; i++)
        for (int k = 0; k < 2; k++)
            if (s->door[i].arc[k] == arc)
                low = fmin(low, s->door[i].z);
    vugi_path to = n->pipe[arc] || n->end[arc] == VUGI_END_OVER
        ? vugi_path_through(s, &n->resistance, arc)
        : vugi_path_to(s, &n->resistance, arc, level);
    vugi_path from = vugi_path_to(s, &n->resistance, arc, fmin(low, level));
    return (vugi_path){to.length - from.length, to.thin - from.thin, to.edge - from.edge};
}

static bool is_open(const vugi_network *n, const vugi_doorway *w)
{
    return n->unknown[w->spot[0]] != VUGI_NONE && n->unknown[w->spot[1]] != VUGI_NONE
        && w->spot[0] != w->spot[1];
}

void vugi_doorways_put(vugi_network *n)
{
    for (size_t i = 0; i < n->r.scene->door_count; i++) {
        const vugi_doorway *w = n->doorway + i;
        if (!is_open(n, w))
            continue;
        for (int k = 0; k < 2; k++) {
            size_t own = n->unknown[w->spot[k]], other = n->unknown[w->spot[!k]];
            n->matrix[own * n->rows + own] += w->slope[k] / w->way;
            n->matrix[own * n->rows + other] -= w->slope[!k] / w->way;
            n->right[own] -= (w->base[k] - w->base[!k]) / w->way;
            if (w->air != VUGI_NONE && n->gas[w->air].row != VUGI_NONE)
                n->matrix[own * n->rows + n->gas[w->air].row] -= (w->slope[k] - w->slope[!k])
                    / w->way;
        }
    }
}

void vugi_doorways_flow(vugi_network *n)
{
    for (size_t i = 0; i < n->r.scene->door_count; i++) {
        vugi_doorway *w = n->doorway + i;
        double over[2];
        for (int k = 0; k < 2; k++)
            over[k] = w->base[k] + w->slope[k] * (n->head[w->spot[k]] - excess_in(n, w));
        w->flow = is_open(n, w) ? (over[0] - over[1]) / w->way : 0.0;
    }
}

uint32_t vugi_doorway_falls(const vugi_network *n, size_t door, uint32_t from)
{
    const vugi_door *d = n->r.scene->door + door;
    int k = d->arc[0] == from ? 0 : 1;
    bool over = d->arc[k] == from && n->r.level[from] > fmax(d->lo, n->r.g->arc[from].lo);
    return over && n->r.level[d->arc[!k]] < d->hi ? d->arc[!k] : VUGI_NONE;
}

double vugi_doorways_head(const vugi_network *n)
{
    double head = 0.0;
    for (size_t i = 0; i < n->r.scene->door_count; i++) {
        const vugi_door *d = n->r.scene->door + i;
        double high = fmax(n->r.level[d->arc[0]], n->r.level[d->arc[1]]);
        if (fmin(n->r.level[d->arc[0]], n->r.level[d->arc[1]]) <= d->lo && high > d->lo)
            head = fmax(head, high - d->lo);
    }
    return head;
}
