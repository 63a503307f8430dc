/* SPDX-License-Identifier: MIT
 * A part is turned with its openings covered, and what is in it moves: the lesser of liquid and air as
 * pieces through the other. Then the fill goes on. */
#include "turn/turn.h"

#include "cavity/cavity.h"
#include "turn/drops.h"
#include "turn/settle.h"

#include <math.h>
#include <string.h>

static bool same_columns(const vugi_columns *a, const vugi_columns *b)
{
    size_t columns = (size_t)a->nx * (size_t)a->ny;
    return a->nx == b->nx && a->ny == b->ny && a->count == b->count && a->h == b->h
        && a->x0 == b->x0 && a->y0 == b->y0 && memcmp(a->basis, b->basis, sizeof a->basis) == 0
        && memcmp(a->first, b->first, columns * sizeof *a->first) == 0
        && memcmp(a->lo, b->lo, a->count * sizeof *a->lo) == 0
        && memcmp(a->hi, b->hi, a->count * sizeof *a->hi) == 0;
}

/* Doors and sills part one more than another that was made of the same columns. */
static bool same_arcs(const vugi_graph *a, const vugi_graph *b)
{
    if (a->arc_count != b->arc_count)
        return false;
    for (size_t i = 0; i < a->arc_count; i++)
        if (a->arc[i].from != b->arc[i].from || a->arc[i].to != b->arc[i].to
            || a->arc[i].lo != b->arc[i].lo || a->arc[i].hi != b->arc[i].hi)
            return false;
    return true;
}

/* Turned by nothing they stay. */
vug_status vugi_turn_levels(vug_context *ctx, const vug_moment *from, vugi_scene *to, double *level)
{
    const vugi_graph *g = &from->scene->graph;
    vugi_drop *drop = NULL;
    size_t count = 0;
    bool air = vugi_levels_volume(g, from->level) > 0.5 * g->capacity;
    if (same_arcs(g, &to->graph) && same_columns(&from->scene->columns, &to->columns)) {
        memcpy(level, from->level, g->arc_count * sizeof *level);
        return VUG_OK;
    }
    vug_status status = vugi_drops_cut(ctx, &to->mem, from, to, air, &drop, &count);
    if (!status)
        status = vugi_drops_settle(ctx, to, air, drop, count, level);
    vugi_free(&to->mem, drop);
    return status;
}

/* Volumes of one cavity in two poses differ by no more than this, or it is another cavity. */
static const double SAME = 0.1;

vug_status vugi_turn_check(vug_context *ctx, const vug_cavities *c, const vug_moment *from)
{
    size_t cavity = (size_t)from->scene->graph.sweep.body;
    double volume = from->scene->graph.capacity;
    if (cavity >= c->cavity_count || fabs(c->cavity[cavity].volume - volume) > SAME * volume)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "the moment is of cavity %zu with %g mm3, which is not "
            "one of these cavities",
            cavity, volume);
    return VUG_OK;
}
