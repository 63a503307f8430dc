/* SPDX-License-Identifier: MIT
 * Which places of the graph liquid joins, and what is between them. */
#include "transient/network.h"

#include "cavity/atlas.h"
#include "flow/flow.h"
#include "flow/viscosity.h"

#include <math.h>
#include <string.h>

/* Places between which less is lost are one, mm. */
static const double unseen_mm = 1e-3;

/* So much head gives where nothing resists, when all flows there. */
static const double stiff_mm = 0.02;

/* ---- places ------------------------------------------------------------------------------ */

/* Mouths, and then both sides of each door. */
static uint32_t stop_count(const vugi_scene *s)
{
    return (uint32_t)(s->mouth_count + 2 * s->door_count);
}

static uint32_t stop_of_door(const vugi_network *n, size_t door, int side)
{
    return (uint32_t)(n->scene->mouth_count + 2 * door) + (uint32_t)side;
}

/* Spots of the resistance come first; then the stops, the surfaces and the airs. */
uint32_t vugi_network_stop(const vugi_network *n, uint32_t stop)
{
    return (uint32_t)n->resistance.spots + stop;
}

uint32_t vugi_network_surface(const vugi_network *n, uint32_t arc)
{
    return vugi_network_stop(n, stop_count(n->scene)) + arc;
}

static uint32_t place_of_air(const vugi_network *n, uint32_t air)
{
    return vugi_network_surface(n, (uint32_t)n->scene->graph.arc_count) + air;
}

uint32_t vugi_network_air(const vugi_network *n, uint32_t air)
{
    return air != VUGI_NONE && n->airs[air] ? place_of_air(n, air) : VUGI_NONE;
}

static uint32_t side_of(const vugi_network *n, size_t door, int side)
{
    return vugi_network_stop(n, stop_of_door(n, door, side));
}

static bool is_full(const vugi_network *n, uint32_t arc)
{
    return n->level[arc] >= n->scene->graph.arc[arc].hi;
}

static bool is_wet(const vugi_network *n, uint32_t node)
{
    return n->scene->graph.node[node].downs == 0
        || vugi_node_flooded(&n->scene->graph, n->level, node);
}

/* ---- ways -------------------------------------------------------------------------------- */

/* Slopes as vugi_ask has them: what a yield stress holds gives way on a move. */
static double flow_way(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    const vugi_network *n = f->of;
    double far, flow = vugi_path_flow(n->fluid, &n->way[f->index].path, head[0] - head[1], slope);
    if (ask->near > 0.0 && !vugi_fluid_is_newtonian(n->fluid)) {
        vugi_path_flow(n->fluid, &n->way[f->index].path, fabs(head[0] - head[1]) + ask->near, &far);
        slope[0] = fmax(slope[0], far);
    }
    slope[1] = -slope[0];
    return flow;
}

/* What all flow together loses along a way, mm. */
static double loss(const vugi_network *n, const vugi_path *path)
{
    return vugi_path_resists(path) ? n->most * vugi_path_resistance(n->fluid, path, n->most) : 0.0;
}

/* A way that loses nothing to speak of makes one place of two. */
static bool add_way(vugi_network *n, uint32_t from, uint32_t to, vugi_path path)
{
    double lost = loss(n, &path);
    if (lost < unseen_mm) {
        vugi_heads_unite(&n->heads, from, to);
        return true;
    }
    n->lost += lost;
    if (!vugi_reserve(&n->scene->mem, &n->way, &n->way_room, n->ways + 1, sizeof *n->way))
        return false;
    n->way[n->ways] = (vugi_network_way){from, to, path};
    return vugi_heads_put(&n->heads, flow_way, n, n->ways++, from, to, VUGI_NONE);
}

/* Where in an arc a stop is; what falls in from above comes to its surface. */
static double stop_height(const vugi_network *n, uint32_t stop, uint32_t arc)
{
    const vugi_scene *s = n->scene;
    const vugi_arc *a = s->graph.arc + arc;
    double z = INFINITY;
    if (stop < s->mouth_count) {
        z = vugi_scene_mouth_inside(s->mouth + stop);
    } else {
        size_t side = stop - s->mouth_count;
        const vugi_door *d = s->door + side / 2;
        z = d->arc[side % 2] == arc ? d->z : INFINITY;
    }
    return fmax(a->lo, fmin(a->hi, z));
}

/* The spot at an end of an arc in the mouth's own chamber, if that is another than the arc's; at the upper one as long as
 * the arc is full, for else nothing stands there. */
static uint32_t spot_beside(const vugi_network *n, uint32_t mouth, uint32_t arc, bool full)
{
    const vugi_scene *s = n->scene;
    const vugi_resistance *r = &n->resistance;
    uint32_t foot = r->foot[arc], crown = r->crown[arc];
    int32_t chamber = s->atlas ? vugi_atlas_chamber(s->atlas, s->mouth[mouth].inside) : -1;
    if (chamber < 0 || chamber == r->spot[foot].chamber || chamber == r->spot[crown].chamber)
        return VUGI_NONE;
    for (uint32_t i = 0; i < r->spots; i++)
        if ((r->spot[i].node == r->spot[foot].node
                || (full && r->spot[i].node == r->spot[crown].node))
            && r->spot[i].chamber == chamber)
            return i;
    return VUGI_NONE;
}

/* The next mouth or door of an arc above a place in it, in order of height and number. */
static uint32_t next_stop(const vugi_network *n, uint32_t arc, uint32_t last, double z, double top)
{
    uint32_t best = VUGI_NONE, stops = stop_count(n->scene);
    double low = INFINITY;
    for (uint32_t m = 0; m < stops; m++) {
        if (n->port[m] != arc)
            continue;
        double at = fmin(top, stop_height(n, m, arc));
        bool later = at > z || (at == z && (last == VUGI_NONE || m > last));
        if (later && at < low) {
            best = m;
            low = at;
        }
    }
    return best;
}

static vugi_path sum(vugi_path a, vugi_path b)
{
    return (vugi_path){a.length + b.length, a.thin + b.thin, a.edge + b.edge};
}

/* Bores have a law of their own. */
static vugi_path stretch(const vugi_network *n, uint32_t arc, double z, double to)
{
    double from = n->in_bore[arc].from;
    vugi_path a = vugi_path_to(n->scene, &n->resistance, arc, fmin(from, z));
    vugi_path b = vugi_path_to(n->scene, &n->resistance, arc, fmin(from, to));
    return (vugi_path){b.length - a.length, b.thin - a.thin, b.edge - a.edge};
}

/* The arc is the bore of the mouth, which the law of the opening holds already. */
static bool is_bore(const vugi_network *n, uint32_t mouth, uint32_t arc)
{
    const vugi_scene_mouth *m = n->scene->mouth + mouth;
    double bore = vugi_tubes_area(&m->tubes) * (m->length + m->diameter);
    return n->scene->graph.arc[arc].volume <= 2.0 * bore;
}

/* Nothing goes through a full arc that ends there: only what begins in it. */
static bool is_blind(const vugi_network *n, uint32_t a)
{
    return vugi_arc_is_basin(&n->scene->graph, a) || vugi_arc_is_dome(&n->scene->graph, a);
}

/* Along the way to the inner end of a bore, and on in it. */
static bool join_bore(vugi_network *n, uint32_t arc, uint32_t at, vugi_path way, uint32_t end)
{
    const vugi_bore_stretch *s = n->in_bore + arc;
    vugi_bore_part *part = n->bore + s->mouth;
    uint32_t inner = vugi_network_stop(n, s->mouth);
    double slope;
    vugi_bore_fill(n->fluid, n->scene->mouth + s->mouth, s, is_full(n, arc) ? s->to : n->level[arc],
        part);
    if (!add_way(n, at, inner, way))
        return false;
    if (vugi_outlet_flow(&part->law, unseen_mm, &slope) < n->most)
        return vugi_heads_put(&n->heads, vugi_bore_law, part, s->mouth, inner, end, VUGI_NONE);
    vugi_heads_unite(&n->heads, inner, end);
    return true;
}

/* From the foot of an arc by its mouths and doors up to its surface, or to its crown. */
static bool join_arc(vugi_network *n, uint32_t a)
{
    const vugi_arc *arc = n->scene->graph.arc + a;
    const vugi_resistance *r = &n->resistance;
    bool full = !n->surface[a], roof = full && vugi_arc_is_dome(&n->scene->graph, a);
    uint32_t end = full ? r->crown[a] : vugi_network_surface(n, a);
    uint32_t at = r->foot[a], last = VUGI_NONE, m;
    double z = arc->lo, top = n->level[a];
    vugi_path way = r->down[a];
    while ((m = next_stop(n, a, last, z, top)) != VUGI_NONE) {
        double next = fmin(top, stop_height(n, m, a));
        uint32_t beside = VUGI_NONE;
        if (m < n->scene->mouth_count)
            beside = is_bore(n, m, a) ? (roof ? r->foot[a] : end) : spot_beside(n, m, a, full);
        way = sum(way, stretch(n, a, z, next));
        last = m;
        z = next;
        if (beside != VUGI_NONE) {
            vugi_heads_unite(&n->heads, vugi_network_stop(n, m), beside);
            continue;
        }
        if (!add_way(n, at, vugi_network_stop(n, m), way))
            return false;
        at = vugi_network_stop(n, m);
        way = (vugi_path){0.0, 0.0, 0.0};
    }
    if (full && is_blind(n, a) && at == r->foot[a])
        return true;
    way = sum(way, stretch(n, a, z, top));
    if (n->in_bore[a].mouth != VUGI_NONE && top >= n->in_bore[a].from)
        return join_bore(n, a, at, way, end);
    return add_way(n, at, end, is_full(n, a) ? sum(way, r->up[a]) : way);
}

static bool join_throats(vugi_network *n)
{
    const vugi_resistance *r = &n->resistance;
    for (size_t i = 0; i < r->joints; i++) {
        const vugi_joint *c = r->joint + i;
        bool pipe = c->arc != VUGI_NONE && is_full(n, c->arc) && !n->surface[c->arc];
        if (is_wet(n, r->spot[c->from].node) && is_wet(n, r->spot[c->to].node)
            && (c->kind == VUGI_JOINT_THROAT || (c->kind == VUGI_JOINT_PIPE) == pipe)
            && !add_way(n, c->from, c->to, c->path))
            return false;
    }
    return true;
}

/* ---- doors ------------------------------------------------------------------------------- */

uint32_t vugi_network_rest(const vugi_graph *g, const double *level, uint32_t arc)
{
    for (;;) {
        const vugi_node *from = g->node + g->arc[arc].from;
        uint32_t next = VUGI_NONE;
        for (uint32_t k = from->link; k < from->link + from->downs && next == VUGI_NONE; k++)
            if (level[g->link[k]] < g->arc[g->link[k]].hi)
                next = g->link[k];
        if (next == VUGI_NONE || level[arc] > g->arc[arc].lo)
            return arc;
        arc = next;
    }
}

static bool is_free(const vugi_network_door *d)
{
    return d->lost < unseen_mm;
}

/* The arcs that the doors open into, or that take what falls through them. */
static void find_doors(vugi_network *n)
{
    const vugi_scene *s = n->scene;
    for (size_t i = 0; i < s->door_count; i++) {
        vugi_network_door *d = n->door + i;
        d->open = true;
        d->air = vugi_slit_air(&s->graph, n->level, n->links, s->door + i);
        for (int k = 0; k < 2; k++) {
            uint32_t a = s->door[i].arc[k], *port = n->port + stop_of_door(n, i, k);
            *port = is_full(n, a) ? a : vugi_network_rest(&s->graph, n->level, a);
            if (!is_full(n, *port) && !n->surface[*port])
                d->open = false;
        }
        for (int k = 0; k < 2 && !d->open; k++)
            n->port[stop_of_door(n, i, k)] = VUGI_NONE;
    }
}

/* Through a door, by what drives: as much as a plain liquid as thick as this one is at its stress. With its slopes, by what
 * drives on either side and by what shears. */
static double sheared_flow(const vugi_network *n, const vugi_slit *slit, double drive, double press,
    double near, double *by_drive, double *by_press)
{
    double steep, far, flow = vugi_path_flow(n->fluid, &slit->path, press, &steep);
    vugi_path_flow(n->fluid, &slit->path, fabs(press) + near, &far);
    *by_drive = press != 0.0 ? flow / press : steep;
    *by_press = press != 0.0 ? drive / press * fmax(0.0, fmax(steep, far) - *by_drive) : 0.0;
    return *by_drive * drive;
}

/* By the heights on its sides, over the air in it. */
static double flow_door(const vugi_ask *ask, const vugi_flow *f, const double head[3],
    double slope[3])
{
    const vugi_network *n = f->of;
    const vugi_network_door *d = n->door + f->index;
    bool air = d->air != VUGI_NONE;
    double drive[2], press[2], shear[2], far;
    for (int k = 0; k < 2; k++) {
        double height = head[k] - head[2];
        vugi_slit_drive(&d->slit, air, height + ask->near, slope + k);
        drive[k] = vugi_slit_drive(&d->slit, air, height, &far);
        slope[k] = fmax(slope[k], far);
        vugi_slit_press(&d->slit, air, height + ask->near, shear + k);
        press[k] = vugi_slit_press(&d->slit, air, height, &far);
        shear[k] = fmax(shear[k], far);
    }
    double all = drive[0] - drive[1], by_drive = n->stiff, by_press = 0.0;
    double flow = is_free(d)
        ? by_drive * all
        : sheared_flow(n, &d->slit, all, press[0] - press[1], ask->near, &by_drive, &by_press);
    for (int k = 0; k < 2; k++)
        slope[k] = (k == 0 ? 1.0 : -1.0) * (by_drive * slope[k] + by_press * shear[k]);
    slope[2] = -slope[0] - slope[1];
    return flow;
}

/* Where nothing resists liquid on both sides has one head. */
static bool join_doors(vugi_network *n)
{
    const vugi_scene *s = n->scene;
    for (size_t i = 0; i < s->door_count; i++) {
        vugi_network_door *d = n->door + i;
        uint32_t a = side_of(n, i, 0), b = side_of(n, i, 1);
        n->lost += d->lost;
        if (d->open && is_free(d) && vugi_door_wet(&s->graph, n->level, s->door + i)) {
            vugi_heads_unite(&n->heads, a, b);
            d->open = false;
        }
        d->flow = n->heads.flows;
        if (d->open
            && !vugi_heads_put(&n->heads, flow_door, n, i, a, b, vugi_network_air(n, d->air)))
            return false;
    }
    return true;
}

double vugi_network_fed(const vugi_network *n, uint32_t arc)
{
    double flow = 0.0;
    for (size_t i = 0; i < n->scene->door_count; i++) {
        double own = n->door[i].open ? n->heads.flow[n->door[i].flow].flow : 0.0;
        for (int k = 0; k < 2; k++)
            if (n->port[stop_of_door(n, i, k)] == arc)
                flow += fmax(0.0, k == 0 ? -own : own);
    }
    return flow;
}

/* ---- the network --------------------------------------------------------------------------- */

bool vugi_network_join(vugi_network *n, const double *level, const vugi_links *links)
{
    bool ok = true;
    n->level = level;
    n->links = links;
    n->ways = 0;
    n->lost = 0.0;
    vugi_heads_begin(&n->heads);
    find_doors(n);
    for (uint32_t a = 0; a < n->scene->graph.arc_count && ok; a++)
        if (n->surface[a] || is_full(n, a))
            ok = join_arc(n, a);
    return ok && join_doors(n) && join_throats(n);
}

double vugi_network_area(const vugi_graph *g, uint32_t arc, double low, double high)
{
    double below = vugi_arc_area(g, arc, low);
    return high < g->arc[arc].hi ? fmax(below, vugi_arc_area(g, arc, high)) : below;
}

static bool make_doors(vugi_network *n)
{
    const vugi_scene *s = n->scene;
    n->door = vugi_alloc(&s->mem, s->door_count, sizeof *n->door);
    for (size_t i = 0; i < s->door_count && n->door; i++) {
        vugi_slit slit = vugi_slit_make(s, s->door + i);
        n->door[i] = (vugi_network_door){.slit = slit, .lost = loss(n, &slit.path)};
    }
    return n->door;
}

static bool make_bores(vugi_network *n)
{
    const vugi_scene *s = n->scene;
    n->in_bore = vugi_alloc(&s->mem, s->graph.arc_count, sizeof *n->in_bore);
    n->bore = vugi_calloc(&s->mem, s->mouth_count, sizeof *n->bore);
    if (!n->in_bore || !n->bore)
        return false;
    vugi_bores_find(s, n->in_bore);
    return true;
}

vug_status vugi_network_make(vug_context *ctx, const vugi_scene *scene, const vug_fluid *fluid,
    double most, vugi_network *n)
{
    const vugi_allocator *mem = &scene->mem;
    size_t arcs = scene->graph.arc_count;
    *n = (vugi_network){.scene = scene, .fluid = fluid, .most = most, .stiff = most / stiff_mm};
    vug_status status = vugi_resistance_build(ctx, mem, scene, &n->resistance);
    if (status)
        return status;
    n->surface = vugi_calloc(mem, arcs, sizeof *n->surface);
    n->airs = vugi_calloc(mem, arcs, sizeof *n->airs);
    n->port = vugi_alloc(mem, stop_count(scene), sizeof *n->port);
    for (uint32_t m = 0; m < stop_count(scene) && n->port; m++)
        n->port[m] = VUGI_NONE;
    bool ok = vugi_heads_alloc(mem, place_of_air(n, (uint32_t)arcs), &n->heads) && make_doors(n)
        && make_bores(n) && n->surface && n->airs && n->port;
    n->heads.late = place_of_air(n, 0);
    return ok ? VUG_OK : vugi_fail_memory(ctx);
}

void vugi_network_free(vugi_network *n)
{
    if (!n->scene)
        return;
    const vugi_allocator *mem = &n->scene->mem;
    void *all[] = {n->surface, n->airs, n->port, n->in_bore, n->bore, n->door, n->way};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(mem, all[i]);
    vugi_heads_free(&n->heads);
    vugi_resistance_free(mem, &n->resistance);
}
