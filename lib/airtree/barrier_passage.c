/* SPDX-License-Identifier: MIT
 * Barriers in a first fill: where liquid comes in on one side and air goes out on the other, nothing has
 * to pass anything. */
#include "airtree/barrier_passage.h"

#include "airtree/air.h"
#include "base/disjoint_set.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* What the barriers join: each root node is a piece of the cavity between barriers. */
typedef struct joints {
    const vugi_airtree *d;
    const vugi_vents *v;
    const vugi_barriers *barriers;
    uint32_t *root;      /* of each node */
    uint32_t *parent;    /* union-find over roots */
    unsigned char *open; /* of each root: it has an opening */
    uint32_t *side; /* roots on both sides of each barrier, 2 each; VUGI_NO_AIRNODE: none there */
} joints;

static void join_gate(joints *j, size_t g)
{
    if (j->side[2 * g] != VUGI_NO_AIRNODE && j->side[2 * g + 1] != VUGI_NO_AIRNODE)
        j->parent[vugi_sets_find(j->parent, j->side[2 * g])] = vugi_sets_find(j->parent,
            j->side[2 * g + 1]);
}

/* Is there an opening in the piece that root n belongs to now? */
static bool reaches_opening(joints *j, uint32_t n)
{
    uint32_t piece = vugi_sets_find(j->parent, n);
    for (uint32_t i = 0; i < j->d->count; i++)
        if (j->open[i] && vugi_sets_find(j->parent, i) == piece)
            return true;
    return false;
}

/* With the barrier shut, both sides still have an opening. */
static bool flows_through(joints *j, size_t g)
{
    if (j->side[2 * g] == VUGI_NO_AIRNODE || j->side[2 * g + 1] == VUGI_NO_AIRNODE)
        return false;
    vugi_sets_init(j->parent, j->d->count);
    for (size_t k = 0; k < j->barriers->count; k++)
        if (k != g)
            join_gate(j, k);
    return reaches_opening(j, j->side[2 * g]) && reaches_opening(j, j->side[2 * g + 1]);
}

static void look_at_domes(joints *j)
{
    for (size_t i = j->d->count; i-- > 0;) { /* parts come before their parents */
        uint32_t parent = j->d->node[i].parent;
        j->root[i] = parent == VUGI_NO_AIRNODE ? (uint32_t)i : j->root[parent];
        if (j->v->vent[i] >= 0)
            j->open[j->root[i]] = 1;
    }
}

static void look_at_spans(joints *j)
{
    const vugi_airtree *d = j->d;
    for (size_t i = 0; i < 2 * j->barriers->count; i++)
        j->side[i] = VUGI_NO_AIRNODE;
    for (size_t s = 0; s < d->span_count; s++)
        for (int k = 0; k < 4 && d->side[s].at[k] != 0; k++) {
            int number = d->side[s].at[k];
            j->side[2 * (abs(number) - 1) + (number > 0)] = j->root[d->entry[s]];
        }
}

static double top_of(const vugi_barrier *barrier, const double up[3])
{
    const vugi_plane *p = &barrier->plane;
    double top = -INFINITY;
    for (size_t i = 0; i < barrier->corners; i++) {
        const double *c = barrier->corner + 2 * i;
        double z = 0.0;
        for (int k = 0; k < 3; k++)
            z += up[k] * (p->center[k] + c[0] * p->u[k] + c[1] * p->v[k]);
        top = fmax(top, z);
    }
    return top;
}

/* Air leaves while the liquid beside the barrier is below its highest point. */
static void open_gate(const joints *j, size_t g, vugi_vents *filling)
{
    const vugi_airtree *d = j->d;
    double level = top_of(j->barriers->barrier + g, d->basis + 6);
    for (size_t s = 0; s < d->span_count; s++)
        for (int k = 0; k < 4 && d->side[s].at[k] != 0; k++)
            if ((size_t)abs(d->side[s].at[k]) == g + 1)
                vugi_vents_span(d, (uint32_t)s, level, VUGI_VENT_GATE, filling);
}

static bool copy_vents(const vugi_allocator *mem, const vugi_vents *from, size_t count,
    vugi_vents *to)
{
    to->room = vugi_alloc(mem, count, sizeof *to->room);
    to->level = vugi_alloc(mem, count, sizeof *to->level);
    to->vent = vugi_alloc(mem, count, sizeof *to->vent);
    if (!to->room || !to->level || !to->vent)
        return false;
    memcpy(to->room, from->room, count * sizeof *to->room);
    memcpy(to->level, from->level, count * sizeof *to->level);
    memcpy(to->vent, from->vent, count * sizeof *to->vent);
    return true;
}

vug_status vugi_vents_filling(vug_context *ctx, const vugi_allocator *mem, const vugi_airtree *d,
    const vugi_vents *v, const vugi_barriers *barriers, vugi_vents *filling)
{
    joints j = {.d = d, .v = v, .barriers = barriers};
    bool good = copy_vents(mem, v, d->count, filling);
    j.root = vugi_alloc(mem, d->count, sizeof *j.root);
    j.parent = vugi_alloc(mem, d->count, sizeof *j.parent);
    j.open = vugi_calloc(mem, d->count, 1);
    j.side = vugi_alloc(mem, 2 * barriers->count, sizeof *j.side);
    good = good && j.root && j.parent && j.open && j.side;
    if (good) {
        look_at_domes(&j);
        look_at_spans(&j);
        for (size_t g = 0; g < barriers->count; g++)
            if (flows_through(&j, g))
                open_gate(&j, g, filling);
        for (size_t i = 0; i < d->count; i++)
            filling->room[i] = filling->vent[i] < 0
                ? d->node[i].room
                : vugi_airnode_volume(d, (uint32_t)i, filling->level[i]);
    } else {
        vugi_vents_free(mem, filling);
    }
    vugi_free(mem, j.root);
    vugi_free(mem, j.parent);
    vugi_free(mem, j.open);
    vugi_free(mem, j.side);
    return good ? VUG_OK : vugi_fail_memory(ctx);
}
