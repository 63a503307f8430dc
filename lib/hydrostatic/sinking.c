/* SPDX-License-Identifier: MIT
 * Upside down as the mirror is, liquid leaves by an opening or over a sill beyond its surface. */
#include "hydrostatic/sinking.h"

#include <assert.h>
#include <math.h>

/* What an arc holds comes down to a node that is passed beside it: it runs over there. */
static bool ends_at_sill(const vugi_sinking *s, uint32_t arc)
{
    const vugi_graph *g = &s->scene->graph;
    const vugi_node *n = g->node + g->arc[arc].from;
    const uint32_t *air = s->links->air;
    if (air[arc] == VUGI_NONE || s->level[arc] > g->arc[arc].lo)
        return false;
    for (uint32_t k = n->link + n->downs; k < n->link + n->downs + n->ups; k++) {
        uint32_t b = g->link[k];
        if (s->level[b] > g->arc[b].lo && air[b] != air[arc]
            && (air[b] == VUGI_NONE || s->links->vented[air[b]]))
            return true;
    }
    return false;
}

/* What an arc holds comes down to the edge of a door, and runs through it to where less stands. */
static double end_at_door(const vugi_sinking *s, uint32_t air)
{
    const vugi_scene *scene = s->scene;
    double z = -INFINITY;
    for (size_t i = 0; i < 2 * scene->door_count; i++) {
        const vugi_door *d = scene->door + i / 2;
        const int side = (int)(i % 2);
        uint32_t from = vugi_door_air(&scene->graph, s->level, d, side);
        uint32_t other = s->links->air[d->arc[1 - side]];
        if (from != VUGI_NONE && s->links->air[from] == air && other != air
            && vugi_door_air(&scene->graph, s->level, d, 1 - side) == VUGI_NONE
            && (other == VUGI_NONE || s->links->vented[other]))
            z = fmax(z, d->hi);
    }
    return z;
}

/* In a bore that leads down and out the surface comes to its inner end: what is beyond its sill is as in any other. */
double vugi_sinking_limit(const vugi_sinking *s, uint32_t arc)
{
    assert(arc < s->scene->graph.arc_count);
    uint32_t air = s->links->air[arc];
    double z = -INFINITY;
    if (air == VUGI_NONE)
        return z;
    for (size_t i = 0; i < s->scene->vent_count; i++) {
        const vugi_port *p = s->scene->vent + i;
        if (!s->air_open[p->mouth] || s->links->air[p->arc] != air
            || !vugi_port_free(&s->scene->graph, s->level, p))
            continue;
        z = fmax(z, p->z);
        double within = s->scene->mouth[p->mouth].inner_lip;
        if (within > p->z && (arc == p->arc || arc == s->scene->landing[p->mouth]))
            z = fmax(z,
                within + s->scene->columns.h); /* the columns have the bore's end near there */
    }
    for (uint32_t a = 0; a < s->scene->graph.arc_count; a++)
        if (s->links->air[a] == air && ends_at_sill(s, a))
            z = fmax(z, s->scene->graph.arc[a].lo);
    return fmax(z, end_at_door(s, air));
}

/* Air stands in the arc, or comes into it by an opening. */
static bool has_air(const vugi_sinking *s, uint32_t arc)
{
    bool lands = false;
    for (size_t m = 0; m < s->scene->mouth_count; m++)
        lands = lands || (s->air_open[m] && s->scene->landing[m] == arc);
    return lands || s->level[arc] > s->scene->graph.arc[arc].lo;
}

void vugi_sinking_vents(const vugi_sinking *s, double tolerance)
{
    for (uint32_t a = 0; a < s->scene->graph.arc_count; a++) {
        uint32_t air = s->links->air[a];
        if (air != VUGI_NONE && !s->links->vented[air] && has_air(s, a)
            && s->level[a] < vugi_sinking_limit(s, a) - tolerance)
            s->links->vented[air] = true;
    }
}
