/* SPDX-License-Identifier: MIT
 * Heads at which the flows balance. Each flow grows with the head that drives it, so that the balance is the lowest
 * point of one convex sum, and Newton's method with each step ended where that sum stops to fall comes to it. */
#include "drain/waters.h"

#include "base/disjoint_set.h"
#include "base/sort.h"
#include "cavity/atlas.h"
#include "flow/flow.h"
#include "flow/viscosity.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { ROUNDS = 150, ROUGH = 3, CUTS = 40 };

static const double unseen_mm = 1e-3;

/* By so much a pinned head gives when all openings draw on it. */
static const double pinned_mm = 0.02;

/* ---- places ------------------------------------------------------------------------------ */

/* Mouths, and then both sides of each door. */
static uint32_t stop_count(const vugi_waters *w)
{
    return (uint32_t)(w->scene->mouth_count + 2 * w->scene->door_count);
}

static uint32_t stop_of_door(const vugi_waters *w, size_t door, int side)
{
    return (uint32_t)(w->scene->mouth_count + 2 * door) + (uint32_t)side;
}

/* Spots of the resistance come first; then the stops, the surfaces and the airs. */
static uint32_t place_of_stop(const vugi_waters *w, uint32_t stop)
{
    return (uint32_t)w->resistance.spots + stop;
}

static uint32_t place_in_arc(const vugi_waters *w, size_t arc)
{
    return place_of_stop(w, stop_count(w)) + (uint32_t)arc;
}

static uint32_t place_of_surface(const vugi_waters *w, size_t surface)
{
    return place_in_arc(w, w->surface[surface].arc);
}

static uint32_t place_of_air(const vugi_waters *w, uint32_t air)
{
    return place_in_arc(w, w->scene->graph.arc_count) + air;
}

static size_t place_count(const vugi_waters *w)
{
    return place_of_air(w, (uint32_t)w->scene->graph.arc_count);
}

static uint32_t row_of(const vugi_waters *w, uint32_t place)
{
    return w->row[vugi_sets_find(w->group, place)];
}

bool vugi_waters_level(const vugi_waters *w, size_t surface, size_t other)
{
    return row_of(w, place_of_surface(w, surface)) == row_of(w, place_of_surface(w, other));
}

static bool is_full(const vugi_waters *w, uint32_t arc, const double *level)
{
    return level[arc] >= w->scene->graph.arc[arc].hi;
}

static bool is_wet(const vugi_graph *g, const double *level, uint32_t node)
{
    return g->node[node].downs == 0 || vugi_node_flooded(g, level, node);
}

/* Loses nothing to speak of. */
static bool is_free(const vugi_waters *w, const vugi_path *path)
{
    return !(path->length > 0.0) || !(path->thin > 0.0) || !(path->edge > 0.0)
        || w->most * vugi_path_resistance(w->fluid, path, w->most) < w->drop;
}

/* A way that loses nothing to speak of makes one place of two. */
static bool add_way(vugi_waters *w, uint32_t from, uint32_t to, vugi_path path)
{
    if (is_free(w, &path)) {
        vugi_sets_unite(w->group, from, to);
        return true;
    }
    if (!vugi_reserve(&w->scene->mem, &w->way, &w->way_room, w->ways + 1, sizeof *w->way))
        return false;
    w->way[w->ways++] = (vugi_water_way){from, to, path};
    return true;
}

/* Where in an arc a stop is; what falls in from above comes to its surface. */
static double stop_height(const vugi_waters *w, uint32_t stop, uint32_t arc)
{
    const vugi_scene *s = w->scene;
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

uint32_t vugi_waters_rest(const vugi_graph *g, const double *level, uint32_t arc)
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

static bool has_surface(const vugi_waters *w, uint32_t arc)
{
    for (size_t i = 0; i < w->surfaces; i++)
        if (w->surface[i].arc == arc)
            return true;
    return false;
}

/* The arcs that the doors open into, or that take what falls through them. */
static void find_doors(vugi_waters *w, const double *level)
{
    const vugi_scene *s = w->scene;
    for (size_t i = 0; i < s->door_count; i++) {
        vugi_water_door *d = w->door + i;
        d->open = true;
        d->air = vugi_slit_air(&s->graph, level, &w->links, s->door + i);
        for (int k = 0; k < 2; k++) {
            uint32_t a = s->door[i].arc[k], *port = w->port + stop_of_door(w, i, k);
            *port = is_full(w, a, level) ? a : vugi_waters_rest(&s->graph, level, a);
            if (!is_full(w, *port, level) && !has_surface(w, *port))
                d->open = false;
        }
        for (int k = 0; k < 2 && !d->open; k++)
            w->port[stop_of_door(w, i, k)] = VUGI_NONE;
    }
}

/* Where nothing resists liquid on both sides has one head. */
static void join_doors(vugi_waters *w, const double *level)
{
    const vugi_scene *s = w->scene;
    for (size_t i = 0; i < s->door_count; i++) {
        vugi_water_door *d = w->door + i;
        if (!d->open || !d->free || !vugi_door_wet(&s->graph, level, s->door + i))
            continue;
        vugi_sets_unite(w->group, place_of_stop(w, stop_of_door(w, i, 0)),
            place_of_stop(w, stop_of_door(w, i, 1)));
        d->open = false;
    }
}

/* The arc by which liquid comes to each mouth: the largest that has any at its lip. */
static void find_ports(vugi_waters *w, const double *level)
{
    const vugi_scene *s = w->scene;
    const vugi_graph *g = &s->graph;
    for (uint32_t m = 0; m < s->mouth_count; m++)
        w->port[m] = VUGI_NONE;
    for (size_t i = 0; i < s->lip_count; i++) {
        const vugi_port *p = s->lip + i;
        uint32_t *best = w->port + p->mouth;
        bool wet = level[p->arc] > p->z
            || (level[p->arc] > g->arc[p->arc].lo && p->z <= g->arc[p->arc].lo)
            || (level[p->arc] <= g->arc[p->arc].lo && is_wet(g, level, g->arc[p->arc].from));
        if (w->open[p->mouth] && p->mouth != w->air && wet
            && (*best == VUGI_NONE || g->arc[*best].volume < g->arc[p->arc].volume))
            *best = p->arc;
    }
}

/* The spot at an end of an arc in the mouth's own chamber, if that is another than the arc's; at the upper one as long as
 * the arc is full, for else nothing stands there. */
static uint32_t spot_beside(const vugi_waters *w, uint32_t mouth, uint32_t arc, bool full)
{
    const vugi_scene *s = w->scene;
    const vugi_resistance *r = &w->resistance;
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
static uint32_t next_stop(const vugi_waters *w, uint32_t arc, uint32_t last, double z, double top)
{
    uint32_t best = VUGI_NONE, stops = stop_count(w);
    double low = INFINITY;
    for (uint32_t m = 0; m < stops; m++) {
        if (w->port[m] != arc)
            continue;
        double at = fmin(top, stop_height(w, m, arc));
        bool later = at > z || (at == z && (last == VUGI_NONE || m > last));
        if (later && at < low) {
            best = m;
            low = at;
        }
    }
    return best;
}

static vugi_path stretch(const vugi_waters *w, uint32_t arc, double z, double to)
{
    vugi_path a = vugi_path_to(w->scene, &w->resistance, arc, z);
    vugi_path b = vugi_path_to(w->scene, &w->resistance, arc, to);
    return (vugi_path){b.length - a.length, b.thin - a.thin, b.edge - a.edge};
}

/* The arc is the bore of the mouth, which the law of the opening holds already. */
static bool is_bore(const vugi_waters *w, uint32_t mouth, uint32_t arc)
{
    const vugi_scene_mouth *m = w->scene->mouth + mouth;
    double bore = 0.25 * VUGI_PI * m->diameter * m->diameter * (m->length + m->diameter);
    return w->scene->graph.arc[arc].volume <= 2.0 * bore;
}

/* Nothing goes through a full arc that ends there: only what begins in it. */
static bool is_blind(const vugi_waters *w, uint32_t a)
{
    const vugi_graph *g = &w->scene->graph;
    const vugi_node *from = g->node + g->arc[a].from, *to = g->node + g->arc[a].to;
    return (from->downs == 0 && from->ups == 1) || (to->ups == 0 && to->downs == 1);
}

/* From the foot of an arc by its mouths and doors up to its surface, or to its crown. */
static bool join_arc(vugi_waters *w, uint32_t a, uint32_t end, double top)
{
    const vugi_arc *arc = w->scene->graph.arc + a;
    const vugi_resistance *r = &w->resistance;
    uint32_t at = r->foot[a], last = VUGI_NONE, m;
    double z = arc->lo;
    vugi_path way = r->down[a];
    bool blind = end == r->crown[a] && is_blind(w, a);
    while ((m = next_stop(w, a, last, z, top)) != VUGI_NONE) {
        double next = fmin(top, stop_height(w, m, a));
        uint32_t beside = VUGI_NONE;
        if (m < w->scene->mouth_count)
            beside = is_bore(w, m, a) ? end : spot_beside(w, m, a, end == r->crown[a]);
        vugi_path part = stretch(w, a, z, next);
        last = m;
        way = (vugi_path){way.length + part.length, way.thin + part.thin, way.edge + part.edge};
        z = next;
        if (beside != VUGI_NONE) {
            vugi_sets_unite(w->group, place_of_stop(w, m), beside);
            continue;
        }
        if (!add_way(w, at, place_of_stop(w, m), way))
            return false;
        at = place_of_stop(w, m);
        way = (vugi_path){0.0, 0.0, 0.0};
    }
    if (blind && at == r->foot[a])
        return true;
    vugi_path part = stretch(w, a, z, top);
    vugi_path up = end == r->crown[a] ? r->up[a] : (vugi_path){0.0, 0.0, 0.0};
    return add_way(w, at, end,
        (vugi_path){way.length + part.length + up.length, way.thin + part.thin + up.thin,
            way.edge + part.edge + up.edge});
}

static bool join_throats(vugi_waters *w, const double *level)
{
    const vugi_graph *g = &w->scene->graph;
    const vugi_resistance *r = &w->resistance;
    for (size_t i = 0; i < r->joints; i++) {
        const vugi_joint *c = r->joint + i;
        bool pipe = c->arc != VUGI_NONE && is_full(w, c->arc, level);
        if (is_wet(g, level, r->spot[c->from].node) && is_wet(g, level, r->spot[c->to].node)
            && (c->kind == VUGI_JOINT_THROAT || (c->kind == VUGI_JOINT_PIPE) == pipe)
            && !add_way(w, c->from, c->to, c->path))
            return false;
    }
    return true;
}

/* One for each place at which full arcs end below what is dry. */
static bool find_spills(vugi_waters *w, const double *level)
{
    const vugi_graph *g = &w->scene->graph;
    w->spills = 0;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        const vugi_node *n = g->node + g->arc[a].to;
        uint32_t place = w->resistance.crown[a], into = VUGI_NONE;
        bool known = !is_full(w, a, level);
        for (uint32_t k = n->link; k < n->link + n->downs && into == VUGI_NONE; k++)
            if (!is_full(w, g->link[k], level))
                into = g->link[k];
        for (size_t i = 0; i < w->spills; i++)
            known = known || w->spill[i].place == place;
        if (known || into == VUGI_NONE)
            continue;
        if (!vugi_reserve(&w->scene->mem, &w->spill, &w->spill_room, w->spills + 1,
                sizeof *w->spill))
            return false;
        w->spill[w->spills++] = (vugi_water_spill){place, into, g->arc[a].hi, 0.0};
    }
    return true;
}

/* ---- rows ---------------------------------------------------------------------------------- */

static bool has_vents(const vugi_waters *w, const vugi_water_top *s)
{
    return isnan(s->pinned) && w->links.air[s->arc] != VUGI_NONE;
}

static void give_row(vugi_waters *w, uint32_t place, uint32_t *queue)
{
    uint32_t group = vugi_sets_find(w->group, place);
    if (w->row[group] != VUGI_NONE)
        return;
    queue[w->rows] = group;
    w->row[group] = (uint32_t)w->rows++;
}

/* What couples two places: ways, and then doors. false: it is shut. */
static bool coupled(const vugi_waters *w, size_t i, uint32_t group[2])
{
    if (i >= w->ways && !w->door[i - w->ways].open)
        return false;
    for (int k = 0; k < 2; k++) {
        uint32_t place = i >= w->ways ? place_of_stop(w, stop_of_door(w, i - w->ways, k))
            : k == 0                  ? w->way[i].from
                                      : w->way[i].to;
        group[k] = vugi_sets_find(w->group, place);
    }
    return true;
}

/* Of the air in a door; VUGI_NONE: none that has a row. */
static uint32_t row_in_door(const vugi_waters *w, const vugi_water_door *d)
{
    return d->open && d->air != VUGI_NONE ? row_of(w, place_of_air(w, d->air)) : VUGI_NONE;
}

/* From each place on to those that it is joined with, so that rows that know each other are near (Cuthill and McKee
 * 1969); the airs last. */
static void number_rows(vugi_waters *w, uint32_t *queue)
{
    size_t done = 0, pairs = w->ways + w->scene->door_count;
    uint32_t pair[2];
    w->rows = 0;
    memset(w->row, 0xff, place_count(w) * sizeof *w->row);
    for (size_t i = 0; i < w->ways + w->surfaces + stop_count(w); i++) {
        size_t s = i - w->ways, m = s - w->surfaces;
        if (i < w->ways)
            give_row(w, w->way[i].from, queue);
        else if (s < w->surfaces)
            give_row(w, place_of_surface(w, s), queue);
        else if (w->port[m] != VUGI_NONE)
            give_row(w, place_of_stop(w, (uint32_t)m), queue);
        for (; done < w->rows; done++)
            for (size_t k = 0; k < pairs; k++)
                if (coupled(w, k, pair) && (pair[0] == queue[done] || pair[1] == queue[done]))
                    give_row(w, pair[0] == queue[done] ? pair[1] : pair[0], queue);
    }
    w->liquids = w->rows;
    for (size_t s = 0; s < w->surfaces; s++)
        if (has_vents(w, w->surface + s))
            give_row(w, place_of_air(w, w->links.air[w->surface[s].arc]), queue);
}

static void pair_rows(vugi_waters *w, uint32_t a, uint32_t b)
{
    uint32_t hi = a > b ? a : b, lo = a > b ? b : a;
    w->matrix.first[hi] = w->matrix.first[hi] < lo ? w->matrix.first[hi] : lo;
}

static bool make_rows(vugi_waters *w)
{
    const vugi_allocator *mem = &w->scene->mem;
    double **vector[] = {&w->head, &w->next, &w->force, &w->move};
    uint32_t *queue = vugi_alloc(mem, place_count(w), sizeof *queue);
    if (!queue)
        return false;
    number_rows(w, queue);
    vugi_free(mem, queue);
    size_t room = w->row_room;
    for (int i = 0; i < 4; i++) {
        room = w->row_room;
        if (!vugi_reserve(mem, vector[i], &room, w->rows, sizeof **vector[i]))
            return false;
    }
    w->row_room = room;
    if (!vugi_skyline_rows(mem, &w->matrix, w->rows))
        return false;
    uint32_t pair[2];
    for (size_t i = 0; i < w->ways + w->scene->door_count; i++)
        if (coupled(w, i, pair))
            pair_rows(w, w->row[pair[0]], w->row[pair[1]]);
    for (size_t i = 0; i < w->scene->door_count; i++)
        for (int k = 0; k < 2 && row_in_door(w, w->door + i) != VUGI_NONE; k++)
            pair_rows(w, row_of(w, place_of_stop(w, stop_of_door(w, i, k))),
                row_in_door(w, w->door + i));
    for (size_t s = 0; s < w->surfaces; s++)
        if (has_vents(w, w->surface + s))
            pair_rows(w, row_of(w, place_of_surface(w, s)),
                row_of(w, place_of_air(w, w->links.air[w->surface[s].arc])));
    return true;
}

/* Heads to begin with: those of the step before, or of the highest surface. And between which they lie. */
static void guess_heads(vugi_waters *w, const double *level)
{
    w->low = INFINITY;
    w->high = -INFINITY;
    for (uint32_t m = 0; m < w->scene->mouth_count; m++)
        if (w->port[m] != VUGI_NONE)
            w->low = fmin(w->low, w->outlet[m].zero);
    for (size_t s = 0; s < w->surfaces; s++) {
        const vugi_water_top *t = w->surface + s;
        double z = isnan(t->pinned) ? level[t->arc] : t->pinned;
        w->low = fmin(w->low, fmin(z, w->scene->graph.arc[t->arc].lo));
        w->high = fmax(w->high, z);
    }
    w->low = fmin(w->low, w->high) - 1.0;
    w->high = w->high + 1.0;
    for (size_t i = 0; i < w->rows; i++)
        w->head[i] = w->high;
    for (uint32_t p = 0; p < place_count(w); p++) {
        uint32_t row = row_of(w, p);
        if (row != VUGI_NONE && !isnan(w->known[p]))
            w->head[row] = fmax(w->low, fmin(w->high, w->known[p]));
    }
    for (size_t k = w->liquids; k < w->rows; k++)
        w->head[k] = 0.0; /* of the airs */
}

vug_status vugi_waters_join(vug_context *ctx, vugi_waters *w, const double *level)
{
    const vugi_graph *g = &w->scene->graph;
    bool ok = true;
    size_t s = 0;
    w->ways = 0;
    vugi_sets_init(w->group, place_count(w));
    find_ports(w, level);
    find_doors(w, level);
    for (uint32_t a = 0; a < g->arc_count && ok; a++) {
        bool mine = s < w->surfaces && w->surface[s].arc == a;
        if (mine)
            ok = join_arc(w, a, place_of_surface(w, s++), level[a]);
        else if (is_full(w, a, level))
            ok = join_arc(w, a, w->resistance.crown[a], g->arc[a].hi);
    }
    join_doors(w, level);
    ok = ok && join_throats(w, level) && find_spills(w, level) && make_rows(w);
    if (ok)
        guess_heads(w, level);
    return ok ? VUG_OK : vugi_fail_memory(ctx);
}

/* ---- the balance ------------------------------------------------------------------------- */

static void add(vugi_waters *w, bool slopes, uint32_t row, double flow, double slope)
{
    w->force[row] += flow;
    if (slopes)
        *vugi_skyline_at(&w->matrix, row, row) += slope;
}

static void couple(vugi_waters *w, uint32_t a, uint32_t b, double slope)
{
    if (a != b)
        *vugi_skyline_at(&w->matrix, a > b ? a : b, a > b ? b : a) -= slope;
}

/* Slopes are the steepest within w->near: what gives way on a move, as a yield stress does or the lip of an opening,
 * has no slope where it begins. */
static void flow_ways(vugi_waters *w, const double *head, bool slopes)
{
    bool plain = vugi_fluid_is_newtonian(w->fluid);
    for (size_t i = 0; i < w->ways; i++) {
        uint32_t from = row_of(w, w->way[i].from), to = row_of(w, w->way[i].to);
        double slope,
            flow = vugi_path_flow(w->fluid, &w->way[i].path, head[from] - head[to], &slope);
        if (from == to)
            continue;
        if (slopes && w->near > 0.0 && !plain) {
            double far;
            vugi_path_flow(w->fluid, &w->way[i].path, fabs(head[from] - head[to]) + w->near, &far);
            slope = fmax(slope, far);
        }
        add(w, slopes, from, flow, slope);
        add(w, slopes, to, -flow, slope);
        if (slopes)
            couple(w, from, to, slope);
    }
}

/* Through a door, by what drives: as much as a plain liquid as thick as this one is at its stress. With its slopes, by what
 * drives on either side and by what shears. */
static double sheared_flow(const vugi_waters *w, const vugi_slit *slit, double drive, double press,
    double *by_drive, double *by_press)
{
    double steep, far, flow = vugi_path_flow(w->fluid, &slit->path, press, &steep);
    vugi_path_flow(w->fluid, &slit->path, fabs(press) + w->near, &far);
    *by_drive = press != 0.0 ? flow / press : steep;
    *by_press = press != 0.0 ? drive / press * fmax(0.0, fmax(steep, far) - *by_drive) : 0.0;
    return *by_drive * drive;
}

/* Through a door by the heights on its sides, over the air in it; with its slopes, the steepest within w->near. */
static double door_flow(const vugi_waters *w, const vugi_water_door *d, const uint32_t row[2],
    const double *head, double slope[2])
{
    uint32_t air = row_in_door(w, d);
    double over = air == VUGI_NONE ? 0.0 : head[air], drive[2], press[2], shear[2], far;
    for (int k = 0; k < 2; k++) {
        double height = head[row[k]] - over;
        vugi_slit_drive(&d->slit, d->air != VUGI_NONE, height + w->near, slope + k);
        drive[k] = vugi_slit_drive(&d->slit, d->air != VUGI_NONE, height, &far);
        slope[k] = fmax(slope[k], far);
        vugi_slit_press(&d->slit, d->air != VUGI_NONE, height + w->near, shear + k);
        press[k] = vugi_slit_press(&d->slit, d->air != VUGI_NONE, height, &far);
        shear[k] = fmax(shear[k], far);
    }
    double all = drive[0] - drive[1], by_drive = w->most / pinned_mm, by_press = 0.0;
    double flow = d->free
        ? by_drive * all
        : sheared_flow(w, &d->slit, all, press[0] - press[1], &by_drive, &by_press);
    for (int k = 0; k < 2; k++)
        slope[k] = by_drive * slope[k] + by_press * shear[k];
    return flow;
}

/* What the one side adds to the flow the other does not take away as quickly, where a sheet is thin: the matrix stays
 * symmetric by the lesser of both, and the rest holds on to the air, for it is heights over that that count. */
static void flow_doors(vugi_waters *w, const double *head, bool slopes)
{
    for (size_t i = 0; i < w->scene->door_count; i++) {
        vugi_water_door *d = w->door + i;
        d->flow = 0.0;
        if (!d->open)
            continue;
        const uint32_t row[2] = {row_of(w, place_of_stop(w, stop_of_door(w, i, 0))),
            row_of(w, place_of_stop(w, stop_of_door(w, i, 1)))};
        double slope[2], flow = door_flow(w, d, row, head, slope);
        if (row[0] == row[1])
            continue;
        d->flow = flow;
        add(w, slopes, row[0], flow, slope[0]);
        add(w, slopes, row[1], -flow, slope[1]);
        if (!slopes)
            continue;
        couple(w, row[0], row[1], fmin(slope[0], slope[1]));
        uint32_t air = row_in_door(w, d);
        double rest = fabs(slope[0] - slope[1]);
        if (air == VUGI_NONE)
            continue;
        add(w, true, air, 0.0, rest);
        couple(w, row[slope[0] > slope[1] ? 0 : 1], air, rest);
    }
}

/* Far from the balance as from nothing: as all jets' flows grow less and less, this comes to them from above. */
static double outlet_slope(const vugi_waters *w, const vugi_outlet *o, double head, double flow,
    double slope)
{
    double far, over = head - o->zero - o->start;
    vugi_outlet_flow(o, head + w->near, &far);
    slope = fmax(slope, far);
    return w->rough && over > 0.0 ? fmax(slope, flow / over) : slope;
}

static void flow_mouths(vugi_waters *w, const double *head, bool slopes)
{
    const vugi_scene *s = w->scene;
    for (uint32_t m = 0; m < s->mouth_count; m++) {
        double slope;
        if (w->port[m] == VUGI_NONE)
            continue;
        uint32_t row = row_of(w, place_of_stop(w, m));
        double flow = vugi_outlet_flow(w->outlet + m, head[row], &slope);
        if (slopes)
            slope = outlet_slope(w, w->outlet + m, head[row], flow, slope);
        add(w, slopes, row, flow, slope);
    }
}

/* Over a sill, as nothing resists there. */
static void flow_spills(vugi_waters *w, const double *head, bool slopes)
{
    double stiff = w->most / pinned_mm;
    for (size_t i = 0; i < w->spills; i++) {
        vugi_water_spill *s = w->spill + i;
        uint32_t row = row_of(w, s->place);
        s->flow = 0.0;
        if (row == VUGI_NONE)
            continue;
        s->flow = stiff * fmax(0.0, head[row] - s->z);
        add(w, slopes, row, s->flow, head[row] + w->near > s->z ? stiff : 0.0);
    }
}

/* Air in by the mouths that it is at. A mouth counts once for each air. */
static void flow_airs(vugi_waters *w, const double *head, bool slopes)
{
    const vugi_scene *s = w->scene;
    for (size_t i = 0; i < s->vent_count; i++) {
        const vugi_port *p = s->vent + i;
        uint32_t air = w->links.air[p->arc];
        bool again = false;
        if (!w->open[p->mouth] || air == VUGI_NONE || row_of(w, place_of_air(w, air)) == VUGI_NONE)
            continue;
        for (size_t k = i; k-- > 0 && s->vent[k].mouth == p->mouth;)
            again = again || w->links.air[s->vent[k].arc] == air;
        if (again)
            continue;
        uint32_t row = row_of(w, place_of_air(w, air));
        double slope, flow = vugi_outlet_flow(w->inlet + p->mouth, fabs(head[row]), &slope);
        if (slopes)
            slope = outlet_slope(w, w->inlet + p->mouth, fabs(head[row]), flow, slope);
        add(w, slopes, row, copysign(flow, head[row]), slope);
    }
}

/* Area of an arc at the wider of two heights. */
static double steepest(const vugi_graph *g, uint32_t arc, double low, double high)
{
    double below = vugi_arc_area(g, arc, low);
    return high < g->arc[arc].hi ? fmax(below, vugi_arc_area(g, arc, high)) : below;
}

/* What comes down from a surface in dt: mm3/s. */
static double comes_down(vugi_waters *w, size_t s, const double *head, double dt, double *slope)
{
    vugi_water_top *t = w->surface + s;
    const vugi_graph *g = &w->scene->graph;
    double h = head[row_of(w, place_of_surface(w, s))];
    *slope = 0.0;
    if (!isnan(t->pinned)) {
        double stiff = w->most / pinned_mm, all = fmax(0.0, t->from - t->least) / dt;
        double flow = stiff * (t->pinned - h);
        if (flow > -stiff * w->near && flow < all + stiff * w->near)
            *slope = stiff;
        flow = fmax(0.0, fmin(all, flow));
        t->to = t->from - dt * flow;
        return flow;
    }
    uint32_t air = has_vents(w, t) ? row_of(w, place_of_air(w, w->links.air[t->arc])) : VUGI_NONE;
    double z = h - (air == VUGI_NONE ? 0.0 : head[air]), volume = vugi_arc_volume(g, t->arc, z);
    double up = z + w->near, down = z - w->near;
    if (down < g->arc[t->arc].hi && vugi_arc_volume(g, t->arc, up) > t->least)
        *slope = steepest(g, t->arc, down, up) / dt;
    t->to = fmax(volume, t->least);
    return (t->from - t->to) / dt;
}

static void flow_surfaces(vugi_waters *w, const double *head, double dt, bool slopes)
{
    for (size_t s = 0; s < w->surfaces; s++) {
        const vugi_water_top *t = w->surface + s;
        uint32_t row = row_of(w, place_of_surface(w, s));
        double slope, flow = comes_down(w, s, head, dt, &slope);
        add(w, slopes, row, -flow, slope);
        if (!has_vents(w, t))
            continue;
        uint32_t air = row_of(w, place_of_air(w, w->links.air[t->arc]));
        add(w, slopes, air, flow, slope);
        if (slopes)
            couple(w, row, air, slope);
    }
}

/* What leaves each place less what comes; with its slopes. Returns the greatest. */
static double weigh(vugi_waters *w, const double *head, double dt, bool slopes)
{
    double worst = 0.0;
    memset(w->force, 0, w->rows * sizeof *w->force);
    for (size_t i = 0; slopes && i < w->rows; i++)
        *vugi_skyline_at(&w->matrix, i, i) = 1e-9; /* a place that nothing tells stays put */
    flow_ways(w, head, slopes);
    flow_doors(w, head, slopes);
    flow_mouths(w, head, slopes);
    flow_spills(w, head, slopes);
    flow_airs(w, head, slopes);
    flow_surfaces(w, head, dt, slopes);
    for (size_t i = 0; i < w->rows; i++)
        worst = fmax(worst, fabs(w->force[i]));
    return worst;
}

/* How much the sum whose slopes the flows are falls along the move, at heads: it is lowest where that is nothing. */
static double falls(const vugi_waters *w)
{
    double sum = 0.0;
    for (size_t i = 0; i < w->rows; i++)
        sum -= w->force[i] * w->move[i];
    return sum;
}

/* No head goes beyond what drives them all, and no air is sucked at by more than all of that. */
static double within(const vugi_waters *w, size_t row, double head)
{
    double all = w->high - w->low;
    return row < w->liquids ? fmax(w->low, fmin(w->high, head)) : fmax(-all, fmin(all, head));
}

/* Newton's move; where it leads up, for its limits, each head by its own slope: that leads down. */
static double find_move(vugi_waters *w)
{
    for (size_t i = 0; i < w->rows; i++) {
        w->next[i] = *vugi_skyline_at(&w->matrix, i, i);
        w->move[i] = -w->force[i];
    }
    vugi_skyline_solve(&w->matrix, w->move);
    for (size_t i = 0; i < w->rows; i++)
        w->move[i] = within(w, i, w->head[i] + w->move[i]) - w->head[i];
    double fall = falls(w);
    if (fall > 0.0)
        return fall;
    for (size_t i = 0; i < w->rows; i++)
        w->move[i] = within(w, i, w->head[i] - w->force[i] / w->next[i]) - w->head[i];
    return falls(w);
}

static double fall_at(vugi_waters *w, double part, double dt)
{
    for (size_t i = 0; i < w->rows; i++)
        w->next[i] = w->head[i] + part * w->move[i];
    weigh(w, w->next, dt, false);
    return falls(w);
}

/* The greatest change along a way, mm. */
static double most_moved(const vugi_waters *w)
{
    double most = 0.0;
    for (size_t i = 0; i < w->ways; i++) {
        double from = w->move[row_of(w, w->way[i].from)], to = w->move[row_of(w, w->way[i].to)];
        most = fmax(most, fabs(from - to));
    }
    return most;
}

/* Moves down to about the lowest point on the way: as the sum is convex, its fall grows less all along. A move that gets
 * only a small part of its way has met what is steeper there than its slopes said: the next look farther. */
static void move(vugi_waters *w, double dt)
{
    double first = find_move(w), lo = 0.0, hi = 1.0, at_lo = first, part = 1.0;
    double fall = fall_at(w, part, dt), at_hi = fall;
    for (int cut = 0; cut < CUTS; cut++) {
        if (fall >= -0.25 * first && (part >= 1.0 || fall <= 0.5 * first))
            break;
        part = lo + (hi - lo) * fmax(0.1, fmin(0.9, at_lo / (at_lo - at_hi)));
        fall = fall_at(w, part, dt);
        *(fall > 0.0 ? &lo : &hi) = part;
        *(fall > 0.0 ? &at_lo : &at_hi) = fall;
    }
    double moved = part * most_moved(w);
    w->near = part < 0.3 ? fmin(w->high - w->low, fmax(4.0 * w->near, moved))
                         : fmin(w->near, fmax(0.25 * w->near, 0.5 * moved));
    memcpy(w->head, w->next, w->rows * sizeof *w->head);
}

double vugi_waters_fed(const vugi_waters *w, uint32_t arc)
{
    double flow = 0.0;
    for (size_t i = 0; i < w->scene->door_count; i++) {
        double to[2] = {-w->door[i].flow, w->door[i].flow};
        for (int k = 0; k < 2; k++)
            flow += w->port[stop_of_door(w, i, k)] == arc ? fmax(0.0, to[k]) : 0.0;
    }
    return flow;
}

vug_status vugi_waters_step(vug_context *ctx, vugi_waters *w, double dt)
{
    assert(dt > 0.0);
    /* Small beside what flows, and in volume as small as rounding lets it be: steps of slow sheets last days. */
    double all = w->scene->graph.capacity / dt, last = INFINITY;
    double most = fmax(1e-9 * w->most, 1e-13 * all), goal = fmin(most, 1e-10 * all);
    w->near = 0.0;
    for (int round = 0; round < ROUNDS; round++) {
        w->rough = round < ROUGH || round % ROUGH == 0;
        if (!vugi_skyline_values(&w->scene->mem, &w->matrix))
            return vugi_fail_memory(ctx);
        w->rest = weigh(w, w->head, dt, true);
        w->rounds++;
        if (w->rest <= goal || (w->rest <= most && w->rest > 0.5 * last))
            break;
        last = w->rest;
        move(w, dt);
    }
    for (uint32_t p = 0; p < place_count(w); p++)
        w->known[p] = row_of(w, p) == VUGI_NONE ? NAN : w->head[row_of(w, p)];
    return VUG_OK;
}

/* ---- memory -------------------------------------------------------------------------------- */

static bool make_doors(vugi_waters *w)
{
    const vugi_scene *s = w->scene;
    w->door = vugi_alloc(&s->mem, s->door_count, sizeof *w->door);
    for (size_t i = 0; i < s->door_count && w->door; i++) {
        vugi_slit slit = vugi_slit_make(s, s->door + i);
        w->door[i] = (vugi_water_door){.slit = slit, .free = is_free(w, &slit.path)};
    }
    return w->door;
}

/* The tables; most: what all openings can pass. */
static bool make_outlets(vugi_waters *w)
{
    const vugi_scene *s = w->scene;
    w->outlet = vugi_calloc(&s->mem, s->mouth_count, sizeof *w->outlet);
    w->inlet = vugi_calloc(&s->mem, s->mouth_count, sizeof *w->inlet);
    for (uint32_t m = 0; m < s->mouth_count && w->outlet && w->inlet; m++) {
        double slope, high = s->columns.zhi - s->columns.zlo;
        if (!w->open[m])
            continue;
        high += fmax(0.0, s->columns.zlo - s->mouth[m].lip); /* along its bore */
        w->outlet[m] = vugi_outlet_liquid(w->fluid, s->mouth + m, high);
        w->inlet[m] = vugi_outlet_air(w->fluid, s->mouth + m, high);
        w->most += vugi_outlet_flow(w->outlet + m, s->columns.zhi, &slope);
    }
    w->most = fmax(w->most, 1e-6);
    return w->outlet && w->inlet;
}

vug_status vugi_waters_make(vug_context *ctx, const vugi_scene *scene, const vug_fluid *fluid,
    const bool *open, uint32_t air, vugi_waters *w)
{
    const vugi_allocator *mem = &scene->mem;
    *w = (vugi_waters){.scene = scene, .fluid = fluid, .open = open, .air = air, .drop = unseen_mm};
    vug_status status = vugi_resistance_build(ctx, mem, scene, &w->resistance);
    if (status)
        return status;
    size_t places = place_count(w);
    w->surface = vugi_alloc(mem, scene->graph.arc_count, sizeof *w->surface);
    w->port = vugi_alloc(mem, stop_count(w), sizeof *w->port);
    w->group = vugi_alloc(mem, places, sizeof *w->group);
    w->row = vugi_alloc(mem, places, sizeof *w->row);
    w->known = vugi_alloc(mem, places, sizeof *w->known);
    for (size_t p = 0; p < places && w->known; p++)
        w->known[p] = NAN;
    bool ok = vugi_links_alloc(mem, &scene->graph, &w->links) && make_outlets(w) && make_doors(w)
        && w->surface && w->port && w->group && w->row && w->known;
    return ok ? VUG_OK : vugi_fail_memory(ctx);
}

void vugi_waters_free(vugi_waters *w)
{
    if (!w->scene)
        return;
    const vugi_allocator *mem = &w->scene->mem;
    void *all[] = {w->surface, w->door, w->spill, w->outlet, w->inlet, w->port, w->way, w->group,
        w->row, w->known, w->head, w->next, w->force, w->move};
    for (size_t i = 0; i < sizeof all / sizeof all[0]; i++)
        vugi_free(mem, all[i]);
    vugi_skyline_free(mem, &w->matrix);
    vugi_links_free(mem, &w->links);
    vugi_resistance_free(mem, &w->resistance);
}
