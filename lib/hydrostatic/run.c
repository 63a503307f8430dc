/* SPDX-License-Identifier: MIT
 * What happens to liquid and air while a fill runs. */
#include "hydrostatic/run.h"

#include "hydrostatic/sinking.h"

#include <assert.h>
#include <math.h>
#include <string.h>

bool vugi_run_note(vugi_run *r, int32_t kind, uint32_t mouth, uint32_t node, double level,
    double volume)
{
    assert(mouth == VUGI_NONE ? node < r->g->node_count : mouth < r->scene->mouth_count);
    vugi_event e = {.kind = kind,
        .opening = -1,
        .liquid = r->liquid,
        .level = level,
        .volume = volume};
    if (mouth != VUGI_NONE) {
        e.opening = r->scene->mouth[mouth].opening;
        memcpy(e.point, r->scene->mouth[mouth].point, sizeof e.point);
    } else {
        vugi_span_point(r->g, r->g->node[node].span, r->g->node[node].z, e.point);
    }
    return vugi_history_event(r->history, e);
}

/* ---- air that gets cut off ------------------------------------------------ */

typedef struct cut_off {
    double volume, level;
    uint32_t top; /* node: the highest place */
} cut_off;

static cut_off measure_air(const vugi_run *r, uint32_t air)
{
    assert(air < r->links.air_count);
    cut_off c = {0.0, -INFINITY, VUGI_NONE};
    for (uint32_t a = 0; a < r->g->arc_count; a++) {
        if (r->links.air[a] != air)
            continue;
        const vugi_arc *arc = r->g->arc + a;
        c.volume += arc->volume - vugi_arc_volume(r->g, a, r->level[a]);
        if (r->links.pool[a] != VUGI_NONE)
            c.level = fmax(c.level, r->level[a]);
        if (c.top == VUGI_NONE || arc->hi > r->g->node[c.top].z)
            c.top = arc->to;
    }
    return c;
}

/* Air that is new to have no way out: a pocket, or nothing worth the name, which fills. */
static bool find_pockets(vugi_run *r, bool *again)
{
    *again = false;
    for (uint32_t air = 0; air < r->links.air_count; air++) {
        bool fresh = false;
        for (uint32_t a = 0; a < r->g->arc_count && !fresh; a++)
            fresh = r->links.air[a] == air && !r->links.vented[air] && !r->sealed[a];
        if (!fresh)
            continue;
        cut_off c = measure_air(r, air);
        bool nothing = r->liquid > 0.0 && c.volume <= 1e-9 * r->g->capacity;
        for (uint32_t a = 0; a < r->g->arc_count; a++) {
            if (r->links.air[a] != air)
                continue;
            r->sealed[a] = true;
            if (nothing) {
                r->liquid += r->g->arc[a].volume - vugi_arc_volume(r->g, a, r->level[a]);
                r->level[a] = r->g->arc[a].hi;
                *again = true;
            }
        }
        if (!nothing && r->liquid > 0.0
            && !vugi_run_note(r, VUG_EVENT_POCKET, VUGI_NONE, c.top, c.level, c.volume))
            return false;
    }
    return true;
}

/* ---- where liquid goes ------------------------------------------------------ */

vug_status vugi_run_sill(vugi_run *r, uint32_t node, uint32_t k)
{
    assert(node < r->g->node_count && k < r->g->link_count);
    if (r->sill[k])
        return VUG_OK;
    r->sill[k] = true;
    return vugi_run_note(r, VUG_EVENT_SILL, VUGI_NONE, node, r->g->node[node].z, 0.0)
        ? VUG_OK
        : vugi_fail_memory(r->ctx);
}

vug_status vugi_run_go_down(vugi_run *r, uint32_t pool, uint32_t node, uint32_t k, uint32_t *basin)
{
    vug_status status = vugi_run_sill(r, node, k);
    return status ? status : vugi_run_way_down(r, pool, k, basin);
}

vug_status vugi_run_way_down(vugi_run *r, uint32_t pool, uint32_t k, uint32_t *basin)
{
    assert(k < r->g->link_count);
    const vugi_graph *g = r->g;
    *basin = VUGI_NONE;
    if (g->sill[k] != VUGI_NONE) {
        for (uint32_t a = 0; a < g->arc_count; a++)
            r->blocked[a] = r->links.pool[a] == pool;
        vug_status status = vugi_descend(r->ctx, &r->scene->mem, g, &r->descent, g->sill[k],
            r->blocked, basin);
        if (status)
            return status;
    }
    /* Out of a hollow that the sampling makes the way can lead up and over: then straight down. */
    if (*basin == VUGI_NONE || g->arc[*basin].lo > g->arc[g->link[k]].hi)
        *basin = vugi_basin_below(g, g->link[k]);
    return VUG_OK;
}

/* Liquid stands over the lip; or at it, where that is pressed on. At the bottom of a basin it does from the
 * first drop. Nothing that comes to a lip unpressed is pushed on against closed air. */
static bool is_under(const vugi_run *r, const vugi_port *lip)
{
    if (!r->pressed)
        return r->level[lip->arc] > lip->z;
    const vugi_arc *arc = r->g->arc + lip->arc;
    bool wet = r->level[lip->arc] > arc->lo || r->g->node[arc->from].downs == 0;
    return wet && r->level[lip->arc] >= lip->z - r->tolerance;
}

uint32_t vugi_run_inlet(const vugi_run *r, uint32_t inlet, bool *under)
{
    assert(inlet < r->scene->mouth_count);
    const uint32_t landing = r->scene->landing[inlet];
    uint32_t arc = VUGI_NONE;
    *under = false;
    for (size_t i = 0; i < r->scene->lip_count && !*under; i++) {
        const vugi_port *p = r->scene->lip + i;
        if (p->mouth != inlet || (p->arc != landing && vugi_arc_is_alone(r->g, p->arc)))
            continue;
        *under = is_under(r, p);
        if (*under || r->links.air[p->arc] != VUGI_NONE)
            arc = p->arc;
    }
    return arc;
}

/* The pool over the inlet if it is under liquid, else the basin below it. */
uint32_t vugi_run_start(const vugi_run *r, uint32_t inlet)
{
    assert(inlet < r->scene->mouth_count);
    bool under;
    uint32_t arc = vugi_run_inlet(r, inlet, &under);
    return under ? arc : r->scene->landing[inlet];
}

vug_status vugi_run_reach(vugi_run *r, uint32_t basin)
{
    assert(basin < r->g->arc_count);
    const vugi_arc *arc = r->g->arc + basin;
    if (r->reached[basin])
        return VUG_OK;
    r->reached[basin] = true;
    return vugi_run_note(r, VUG_EVENT_BASIN, VUGI_NONE, arc->from, arc->lo, 0.0)
        ? VUG_OK
        : vugi_fail_memory(r->ctx);
}

uint32_t vugi_run_overflow(const vugi_run *r, uint32_t arc, bool vented)
{
    assert(arc < r->g->arc_count);
    const vugi_graph *g = r->g;
    const vugi_node *to = g->node + g->arc[arc].to;
    uint32_t best = VUGI_NONE;
    for (uint32_t k = to->link; k < to->link + to->downs; k++) {
        uint32_t b = g->link[k];
        if (r->level[b] >= g->arc[b].hi || (vented && !r->links.vented[r->links.air[b]]))
            continue;
        if (best == VUGI_NONE
            || (g->sill[k] != VUGI_NONE && g->sill[best] != VUGI_NONE
                && g->columns->lo[g->sill[k]] < g->columns->lo[g->sill[best]]))
            best = k;
    }
    return best;
}

int32_t vugi_run_end(const vugi_run *r)
{
    bool vented = false;
    for (uint32_t i = 0; i < r->links.air_count; i++)
        vented |= r->links.vented[i];
    return r->liquid <= 1e-6 * r->g->capacity ? VUG_END_BLOCKED
        : vented                              ? VUG_END_CUT_OFF
                                              : VUG_END_FULL;
}

void vugi_run_bare(vugi_run *r, uint32_t node, double *press)
{
    assert(node < r->g->node_count);
    assert(r->g->node[node].ups > 0);
    const vugi_node *n = r->g->node + node;
    uint32_t above = r->g->link[n->link + n->downs];
    for (uint32_t k = n->link; k < n->link + n->downs; k++) {
        uint32_t a = r->g->link[k];
        r->level[a] = fmax(r->g->arc[a].lo, r->g->arc[a].hi - 0.1 * r->tolerance);
        press[a] = press[above];
    }
    r->flooded[node] = false;
}

double vugi_run_next(const vugi_run *r, uint32_t arc)
{
    assert(arc < r->g->arc_count);
    double level = r->level[arc], z = r->g->arc[arc].hi;
    for (size_t i = 0; i < r->scene->vent_count; i++) {
        const vugi_port *p = r->scene->vent + i;
        /* An opening at the very bottom passes air until the first drop. */
        double rim = fmax(p->z, r->g->arc[arc].lo + r->tolerance);
        if (p->arc == arc && r->task->air_open[p->mouth] && rim > level && rim < z)
            z = rim;
    }
    for (size_t i = 0; i < r->scene->door_count; i++) {
        const vugi_door *d = r->scene->door + i;
        bool at = vugi_door_air(r->g, r->level, d, 0) == arc
            || vugi_door_air(r->g, r->level, d, 1) == arc;
        if (at && d->hi > level + r->tolerance && d->hi < z)
            z = d->hi;
    }
    for (size_t i = 0; i < r->scene->lip_count; i++) {
        const vugi_port *p = r->scene->lip + i;
        if (p->arc == arc && vugi_run_can_spill(r, p) && p->z > level + r->tolerance && p->z < z)
            z = p->z;
    }
    return z;
}

bool vugi_run_can_spill(const vugi_run *r, const vugi_port *lip)
{
    assert(lip->mouth < r->scene->mouth_count);
    return r->task->liquid_open[lip->mouth] && !r->spilled[lip->mouth];
}

bool vugi_run_spill(vugi_run *r, const vugi_port *lip)
{
    r->spilled[lip->mouth] = true;
    r->stopped |= r->task->stop_at_spill;
    return vugi_run_note(r, VUG_EVENT_SPILL, lip->mouth, VUGI_NONE, lip->z, 0.0);
}

/* ---- what has happened ------------------------------------------------------ */

/* Does air still leave by a mouth: by any of the arcs it opens into? *level: where it ends to. */
static bool mouth_free(const vugi_run *r, uint32_t mouth, double *level)
{
    *level = -INFINITY;
    for (size_t i = 0; i < r->scene->vent_count; i++) {
        const vugi_port *p = r->scene->vent + i;
        if (p->mouth != mouth)
            continue;
        if (vugi_port_free(r->g, r->level, p))
            return true;
        *level = fmax(*level, p->z);
    }
    return false;
}

bool vugi_run_rims(vugi_run *r)
{
    for (size_t i = 0; i < r->scene->vent_count; i++) {
        uint32_t mouth = r->scene->vent[i].mouth;
        double level;
        if (!r->task->air_open[mouth] || r->covered[mouth] || mouth_free(r, mouth, &level))
            continue;
        r->covered[mouth] = true;
        if (!vugi_run_note(r, VUG_EVENT_RIM, mouth, VUGI_NONE, level, 0.0))
            return false;
    }
    return true;
}

bool vugi_run_merges(vugi_run *r)
{
    for (uint32_t n = 0; n < r->g->node_count; n++) {
        if (r->flooded[n] || !vugi_node_flooded(r->g, r->level, n))
            continue;
        r->flooded[n] = true;
        if (r->g->node[n].downs > 1
            && !vugi_run_note(r, VUG_EVENT_MERGE, VUGI_NONE, n, r->g->node[n].z, 0.0))
            return false;
    }
    return true;
}

/* Air makes room if it is that of the arc where the liquid comes from. */
static void find_room(vugi_run *r, uint32_t from)
{
    assert(from == VUGI_NONE || from < r->g->arc_count);
    uint32_t own = from == VUGI_NONE ? VUGI_NONE : r->links.air[from];
    for (uint32_t air = 0; air < r->links.air_count; air++)
        r->links.vented[air] = own == VUGI_NONE || own == air;
}

static vugi_sinking sinking_of(vugi_run *r)
{
    return (vugi_sinking){r->scene, r->level, r->task->air_open, &r->links};
}

double vugi_run_limit(vugi_run *r, uint32_t arc)
{
    vugi_sinking sinking = sinking_of(r);
    return r->task->weighs ? vugi_sinking_limit(&sinking, arc) : INFINITY;
}

/* What is connected now. Once more if air that is nothing worth the name has filled. */
bool vugi_run_look(vugi_run *r)
{
    if (r->task->source) {
        vugi_links_find(r->scene, r->level, r->task->air_open, &r->links);
        find_room(r, r->task->source->from);
        return true;
    }
    const vugi_sinking sinking = sinking_of(r);
    bool again = true;
    while (again) {
        vugi_links_find(r->scene, r->level, r->task->air_open, &r->links);
        if (r->task->weighs)
            vugi_sinking_vents(&sinking, r->tolerance);
        if (!find_pockets(r, &again))
            return false;
    }
    return true;
}

void vugi_run_begin(vugi_run *r)
{
    const double *start = r->task->start;
    for (uint32_t a = 0; a < r->g->arc_count; a++) {
        r->before[a] = r->g->arc[a].lo;
        r->level[a] = start ? start[a] : r->before[a];
        r->reached[a] = r->level[a] > r->before[a];
    }
    if (!start)
        return;
    r->liquid = vugi_levels_volume(r->g, r->level);
    vugi_links_find(r->scene, r->level, r->task->air_open, &r->links);
    for (uint32_t a = 0; a < r->g->arc_count; a++)
        r->sealed[a] = r->links.air[a] != VUGI_NONE && !r->links.vented[r->links.air[a]];
    for (uint32_t n = 0; n < r->g->node_count; n++)
        r->flooded[n] = vugi_node_flooded(r->g, r->level, n);
    for (size_t i = 0; i < r->scene->vent_count; i++) {
        uint32_t mouth = r->scene->vent[i].mouth;
        double level;
        r->covered[mouth] = !mouth_free(r, mouth, &level);
    }
}

bool vugi_run_frame(vugi_run *r, vugi_frame frame)
{
    assert(fabs(r->liquid - vugi_levels_volume(r->g, r->level)) <= 1e-6 * r->g->capacity);
    bool ok = vugi_history_frame(r->history, r->g, r->before, r->level, frame);
    memcpy(r->before, r->level, r->g->arc_count * sizeof *r->level);
    return ok;
}

bool vugi_run_alloc(vugi_run *r)
{
    const vugi_allocator *mem = &r->scene->mem;
    size_t arcs = r->g->arc_count, mouths = r->scene->mouth_count;
    r->tolerance = 1e-9 * fmax(1e-3, r->scene->columns.zhi - r->scene->columns.zlo);
    r->before = vugi_alloc(mem, arcs, sizeof *r->before);
    r->sealed = vugi_calloc(mem, arcs, sizeof *r->sealed);
    r->reached = vugi_calloc(mem, arcs, sizeof *r->reached);
    r->flooded = vugi_calloc(mem, r->g->node_count, sizeof *r->flooded);
    r->spilled = vugi_calloc(mem, mouths, sizeof *r->spilled);
    r->covered = vugi_calloc(mem, mouths, sizeof *r->covered);
    r->sill = vugi_calloc(mem, r->g->link_count, sizeof *r->sill);
    r->blocked = vugi_alloc(mem, arcs, sizeof *r->blocked);
    r->visited = vugi_alloc(mem, arcs, sizeof *r->visited);
    r->rising = vugi_alloc(mem, arcs, sizeof *r->rising);
    return vugi_links_alloc(mem, r->g, &r->links) && r->before && r->sealed && r->reached
        && r->flooded && r->spilled && r->covered && r->sill && r->blocked && r->visited
        && r->rising;
}

void vugi_run_free(vugi_run *r)
{
    const vugi_allocator *mem = &r->scene->mem;
    void *all[] = {r->before, r->sealed, r->reached, r->flooded, r->spilled, r->covered, r->sill,
        r->blocked, r->visited, r->rising};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(mem, all[i]);
    vugi_links_free(mem, &r->links);
    vugi_descent_free(mem, &r->descent);
}
