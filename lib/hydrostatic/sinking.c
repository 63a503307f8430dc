/* SPDX-License-Identifier: MIT
 * Upside down as the mirror is, liquid leaves by an opening or over a sill beyond its surface. */
#include "hydrostatic/sinking.h"

#include <assert.h>
#include <math.h>

/* What an arc holds comes down to a node that is passed beside it: it runs over there. */
static bool ends_at_sill(const vugi_run *r, uint32_t arc)
{
    const vugi_graph *g = r->g;
    const vugi_node *n = g->node + g->arc[arc].from;
    const uint32_t *air = r->links.air;
    if (air[arc] == VUGI_NONE || r->level[arc] > g->arc[arc].lo)
        return false;
    for (uint32_t k = n->link + n->downs; k < n->link + n->downs + n->ups; k++) {
        uint32_t b = g->link[k];
        if (r->level[b] > g->arc[b].lo && air[b] != air[arc]
            && (air[b] == VUGI_NONE || r->links.vented[air[b]]))
            return true;
    }
    return false;
}

double vugi_sinking_limit(const vugi_run *r, uint32_t arc)
{
    assert(arc < r->g->arc_count);
    uint32_t air = r->links.air[arc];
    double z = -INFINITY;
    if (!r->task->weighs)
        return INFINITY;
    if (air == VUGI_NONE)
        return z;
    for (size_t i = 0; i < r->scene->vent_count; i++) {
        const vugi_port *p = r->scene->vent + i;
        if (r->task->air_open[p->mouth] && r->links.air[p->arc] == air
            && vugi_port_free(r->g, r->level, p))
            z = fmax(z, p->z);
    }
    for (uint32_t a = 0; a < r->g->arc_count; a++)
        if (r->links.air[a] == air && ends_at_sill(r, a))
            z = fmax(z, r->g->arc[a].lo);
    return z;
}

/* Air stands in the arc, or comes into it by an opening. */
static bool has_air(const vugi_run *r, uint32_t arc)
{
    bool lands = false;
    for (size_t m = 0; m < r->scene->mouth_count; m++)
        lands = lands || (r->task->air_open[m] && r->scene->landing[m] == arc);
    return lands || r->level[arc] > r->g->arc[arc].lo;
}

void vugi_sinking_vents(vugi_run *r)
{
    for (uint32_t a = 0; r->task->weighs && a < r->g->arc_count; a++) {
        uint32_t air = r->links.air[a];
        if (air != VUGI_NONE && !r->links.vented[air] && has_air(r, a)
            && r->level[a] < vugi_sinking_limit(r, a) - r->tolerance)
            r->links.vented[air] = true;
    }
}
