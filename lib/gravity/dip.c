/* SPDX-License-Identifier: MIT
 * Bores that lead steeply down and out: joined to their chamber at the height of their rims. */
#include "gravity/dip.h"

#include "gravity/cut.h"
#include "gravity/descend.h"
#include "gravity/mirror.h"

#include "base/disjoint_set.h"
#include "column/pose.h"

#include <assert.h>
#include <math.h>
#include <string.h>

/* So many spacings around the inner end its chamber is looked for. */
static const double AROUND = 3.0;

typedef struct dip {
    vug_context *ctx;
    vugi_scene *s;
    bool liquid;
    bool *dips;     /* of each mouth */
    bool *alone;    /* of each mouth: it leads farther on than the others, by its rim */
    uint32_t *bore; /* of each mouth: the last arc in its bore */
    uint32_t *
        landing; /* of each mouth: the last arc on the way from its inner end; VUGI_NONE: its bore */
} dip;

static double rim_of(const dip *d, const vugi_scene_mouth *m)
{
    return d->liquid ? m->lip : m->top;
}

/* ---- where a needle through the bore lets go -------------------------------------------- */

static double distance_of(const vugi_columns *c, uint32_t span, uint32_t column, const double at[3])
{
    double x = c->x0 + c->h * (double)(column % (uint32_t)c->nx) - at[0];
    double y = c->y0 + c->h * (double)(column / (uint32_t)c->nx) - at[1];
    double z = fmax(0.0, fmax(c->lo[span] - at[2], at[2] - c->hi[span]));
    return sqrt(x * x + y * y + z * z);
}

/* The span nearest to the inner end of the bore from which liquid does not run into the bore itself; VUGI_NONE: there is
 * none. s: the scene, for liquid its mirror. */
static vug_status find_inner(vug_context *ctx, const vugi_scene *s, const vugi_scene_mouth *m,
    uint32_t bore, vugi_descent *room, uint32_t *landing, uint32_t *inner)
{
    const vugi_columns *c = &s->columns;
    double at[3], best = 0.5 * m->diameter + AROUND * c->h;
    vug_status status = VUG_OK;
    *inner = VUGI_NONE;
    vugi_to_pose(c->basis, m->inside, at);
    for (uint32_t n = 0; n < c->count && !status; n++) {
        double away = distance_of(c, n, s->graph.sweep.column[n], at);
        if (!(away < best) || vugi_arc_at_floor(&s->graph, n) == VUGI_NONE)
            continue;
        if (landing[n] == VUGI_UNKNOWN)
            status = vugi_descend_known(ctx, &s->mem, &s->graph, room, n, landing);
        if (status || landing[n] == VUGI_NONE || landing[n] == bore)
            continue;
        best = away;
        *inner = n;
    }
    return status;
}

/* Entries of steep bores are moved to their inner ends. s: the scene, for liquid its mirror. */
static vug_status move_entries(dip *d, vugi_scene *s)
{
    vugi_descent room = {.mark = NULL};
    uint32_t *landing = vugi_alloc(&s->mem, s->columns.count, sizeof *landing);
    vug_status status = landing ? VUG_OK : vugi_fail_memory(d->ctx);
    for (size_t n = 0; n < s->columns.count && landing; n++)
        landing[n] = VUGI_UNKNOWN;
    for (uint32_t m = 0; m < s->mouth_count && !status; m++) {
        uint32_t inner = VUGI_NONE;
        d->bore[m] = s->landing[m];
        if (!d->dips[m])
            continue;
        status = find_inner(d->ctx, s, s->mouth + m, s->landing[m], &room, landing, &inner);
        if (status || inner == VUGI_NONE)
            continue;
        d->landing[m] = landing[inner];
        d->s->entry[m] = d->liquid
            ? vugi_mirror_span(&s->columns, s->graph.sweep.column[inner], inner)
            : inner;
    }
    vugi_descent_free(&s->mem, &room);
    vugi_free(&s->mem, landing);
    return status;
}

static vug_status find_landings(dip *d)
{
    vugi_scene *mirror = NULL;
    if (!d->liquid)
        return move_entries(d, d->s);
    vug_status status = vugi_scene_mirror(d->ctx, d->s, &mirror);
    if (!status)
        status = move_entries(d, mirror);
    vugi_scene_free(mirror);
    return status;
}

/* ---- joining -------------------------------------------------------------------------------- */

/* What was at an arc before cuts is at one of its pieces. */
static void find_pieces(vugi_scene *s)
{
    const vugi_graph *g = &s->graph;
    for (size_t i = 0; i < s->vent_count; i++)
        s->vent[i].arc = vugi_arc_piece(g, s->vent[i].arc, s->vent[i].z, true);
    for (size_t i = 0; i < s->lip_count; i++)
        s->lip[i].arc = vugi_arc_piece(g, s->lip[i].arc, s->lip[i].z, false);
    for (size_t i = 0; i < 2 * s->door_count; i++) {
        uint32_t *arc = s->door[i / 2].arc + i % 2;
        *arc = vugi_arc_piece(g, *arc, s->door[i / 2].z, false);
    }
    for (size_t i = 0; i < 4 * s->door_count; i++) {
        vugi_door *d = s->door + i / 4;
        const bool roof = i % 4 > 1;
        uint32_t *arc = d->end[roof] + i % 2;
        *arc = vugi_arc_piece(g, *arc, roof ? d->hi : d->lo, roof);
    }
}

/* The lowest piece of an arc, for liquid the highest. */
static uint32_t last_piece(const dip *d, uint32_t arc)
{
    const vugi_columns *c = &d->s->columns;
    return vugi_arc_piece(&d->s->graph, arc, d->liquid ? c->zhi + 1.0 : c->zlo - 1.0, d->liquid);
}

static bool add_port(vugi_scene *s, bool liquid, vugi_port port)
{
    vugi_port **list = liquid ? &s->lip : &s->vent;
    size_t *count = liquid ? &s->lip_count : &s->vent_count, room = 0, at = 0;
    if (!vugi_reserve(&s->mem, list, &room, *count + 1, sizeof **list))
        return false;
    while (at < *count && (*list)[at].mouth <= port.mouth)
        at++;
    memmove(*list + at + 1, *list + at, (*count - at) * sizeof **list);
    (*list)[at] = port;
    (*count)++;
    return true;
}

static void drop_ports(vugi_scene *s, bool liquid, uint32_t mouth)
{
    vugi_port *list = liquid ? s->lip : s->vent;
    size_t *count = liquid ? &s->lip_count : &s->vent_count, kept = 0;
    for (size_t i = 0; i < *count; i++)
        if (list[i].mouth != mouth)
            list[kept++] = list[i];
    *count = kept;
}

/* From an arc on up, for liquid down, to the one that passes a height. VUGI_NONE: none does. */
static uint32_t go_to(const dip *d, uint32_t arc, double z)
{
    const vugi_graph *g = &d->s->graph;
    for (;;) {
        const vugi_arc *a = g->arc + arc;
        const vugi_node *n = g->node + (d->liquid ? a->from : a->to);
        if (d->liquid ? a->lo < z : a->hi > z)
            return a->lo < z && z < a->hi ? arc : VUGI_NONE;
        if ((d->liquid ? n->downs : n->ups) == 0)
            return VUGI_NONE;
        arc = g->link[d->liquid ? n->link : n->link + n->downs];
    }
}

/* Sets of the arcs that hang together beyond a height. */
static void hang_together(const dip *d, double z, uint32_t *parent)
{
    const vugi_graph *g = &d->s->graph;
    vugi_sets_init(parent, g->arc_count);
    for (const vugi_node *n = g->node; n < g->node + g->node_count; n++)
        for (uint32_t k = 1; (d->liquid ? n->z < z : n->z > z) && k < n->downs + n->ups; k++)
            vugi_sets_unite(parent, g->link[n->link], g->link[n->link + k]);
}

/* How many arcs of one set, or of all, pass a height. */
static size_t arcs_at(const dip *d, double z, uint32_t *parent, uint32_t set)
{
    const vugi_graph *g = &d->s->graph;
    size_t count = 0;
    for (uint32_t a = 0; a < g->arc_count; a++)
        count += g->arc[a].lo < z && z < g->arc[a].hi
            && (set == VUGI_NONE || vugi_sets_find(parent, a) == set);
    return count;
}

/* The arcs of one set, or all, that pass a height meet there, and a mouth opens into each. place: a span there, or VUGI_NONE. */
static bool join_set(dip *d, uint32_t mouth, double z, uint32_t *parent, uint32_t set,
    uint32_t place)
{
    vugi_scene *s = d->s;
    vugi_graph *g = &s->graph;
    const size_t arcs = g->arc_count;
    uint32_t node = VUGI_NONE;
    for (uint32_t a = 0; a < arcs; a++) {
        uint32_t own = (uint32_t)g->node_count;
        if (!(g->arc[a].lo < z && z < g->arc[a].hi)
            || (set != VUGI_NONE && vugi_sets_find(parent, a) != set))
            continue;
        const uint32_t span = place == VUGI_NONE ? g->node[g->arc[a].from].span : place;
        if (!vugi_graph_cut(&s->mem, g, a, z, span)
            || (node != VUGI_NONE && !vugi_graph_join(&s->mem, g, node, own)))
            return false;
        node = node == VUGI_NONE ? own : node;
        uint32_t near = d->liquid ? (uint32_t)g->arc_count - 1 : a;
        if (!add_port(s, d->liquid, (vugi_port){mouth, near, z}))
            return false;
    }
    return true;
}

/* What passes the height of a rim and hangs together with the bore beyond it meets there: liquid that stands as high in any
 * of it stands so in the bore. Of a bore that the columns do not show: all that passes. */
static bool join_at_rim(dip *d, uint32_t mouth)
{
    vugi_scene *s = d->s;
    const vugi_graph *g = &s->graph;
    const double z = rim_of(d, s->mouth + mouth);
    uint32_t bore = d->bore[mouth], place = VUGI_NONE, set = VUGI_NONE;
    uint32_t *parent = vugi_alloc(&s->mem, g->arc_count, sizeof *parent);
    if (!parent)
        return false;
    bore = bore == VUGI_NONE ? bore : go_to(d, last_piece(d, bore), z);
    if (bore != VUGI_NONE) {
        hang_together(d, z, parent);
        set = vugi_sets_find(parent, bore);
        place = g->node[d->liquid ? g->arc[bore].to : g->arc[bore].from].span;
    }
    if (!d->dips[mouth] && (bore == VUGI_NONE || arcs_at(d, z, parent, set) < 2)) {
        vugi_free(&s->mem, parent);
        return true;
    }
    drop_ports(s, d->liquid, mouth);
    const bool fits = join_set(d, mouth, z, parent, set, place);
    if (fits)
        find_pieces(s);
    vugi_free(&s->mem, parent);
    return fits;
}

/* The chamber behind a bore lies all beyond its rim: what comes into it runs out by the bore first. */
static bool join_beyond(dip *d, uint32_t mouth)
{
    vugi_scene *s = d->s;
    vugi_graph *g = &s->graph;
    const double rim = rim_of(d, s->mouth + mouth);
    if (d->landing[mouth] == VUGI_NONE || d->bore[mouth] == VUGI_NONE)
        return true;
    const uint32_t bore = last_piece(d, d->bore[mouth]), room = last_piece(d, d->landing[mouth]);
    const double z = d->liquid ? g->arc[room].hi : g->arc[room].lo;
    const uint32_t node = d->liquid ? g->arc[room].to : g->arc[room].from;
    const uint32_t at = go_to(d, bore, z), own = (uint32_t)g->node_count;
    if (at == VUGI_NONE || (d->liquid ? z > rim : z < rim))
        return true;
    if (!vugi_graph_cut(&s->mem, g, at, z, g->node[node].span)
        || !vugi_graph_join(&s->mem, g, node, own))
        return false;
    find_pieces(s);
    s->mouth[mouth].basin = last_piece(d, bore);
    return true;
}

/* ---- which bores ---------------------------------------------------------------------------- */

/* How far on air gets by a mouth, or liquid: upward counts, of liquid downward. */
static double way_of(const dip *d, const vugi_scene_mouth *m)
{
    return d->liquid ? -m->inner_lip : m->inner_top;
}

/* Does its rim lie before all of its inner end? */
static bool is_steep(const dip *d, const vugi_scene_mouth *m)
{
    return d->liquid ? m->inner_top < m->lip : m->inner_lip > m->top;
}

/* Do all others that are open end before its rim, which more than one arc passes? */
static bool leads_on(const dip *d, const bool *open, size_t mouth)
{
    const vugi_scene *s = d->s;
    const double way = way_of(d, s->mouth + mouth), rim = rim_of(d, s->mouth + mouth);
    bool alone = way == (d->liquid ? -rim : rim) && arcs_at(d, rim, NULL, VUGI_NONE) > 1;
    for (size_t m = 0; m < s->mouth_count && alone; m++)
        alone = m == mouth || (open && !open[s->mouth[m].opening]) || way_of(d, s->mouth + m) < way;
    return alone;
}

/* Bores that lead steeply down and out beyond all other openings that are open: liquid that comes to the inner end of one
 * while air leaves by another fills it as any other leg. */
static bool choose(dip *d, const bool *open)
{
    const vugi_scene *s = d->s;
    double others = -INFINITY;
    bool any = false;
    for (size_t m = 0; m < s->mouth_count; m++) {
        const bool is_open = !open || open[s->mouth[m].opening];
        d->landing[m] = VUGI_NONE;
        d->dips[m] = is_open && is_steep(d, s->mouth + m);
        d->alone[m] = is_open && !d->dips[m] && leads_on(d, open, m);
        if (!d->dips[m] && is_open)
            others = fmax(others, way_of(d, s->mouth + m));
    }
    for (size_t m = 0; m < s->mouth_count; m++) {
        const double end = d->liquid ? -s->mouth[m].inner_top : s->mouth[m].inner_lip;
        d->dips[m] = d->dips[m] && end > others;
        any = any || d->dips[m] || d->alone[m];
    }
    return any;
}

vug_status vugi_dip(vug_context *ctx, vugi_scene *s, bool liquid, const bool *open)
{
    dip d = {.ctx = ctx, .s = s, .liquid = liquid};
    vug_status status = VUG_OK;
    d.dips = vugi_alloc(&s->mem, s->mouth_count, sizeof *d.dips);
    d.alone = vugi_alloc(&s->mem, s->mouth_count, sizeof *d.alone);
    d.bore = vugi_alloc(&s->mem, s->mouth_count, sizeof *d.bore);
    d.landing = vugi_alloc(&s->mem, s->mouth_count, sizeof *d.landing);
    if (!d.dips || !d.alone || !d.bore || !d.landing) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    if (!choose(&d, open) || (status = find_landings(&d)))
        goto done;
    bool fits = true;
    for (uint32_t m = 0; m < s->mouth_count && fits; m++)
        fits = !(d.dips[m] || d.alone[m]) || (join_at_rim(&d, m) && join_beyond(&d, m));
    status = fits ? vugi_scene_land(ctx, s) : vugi_fail_memory(ctx);
done:
    vugi_free(&s->mem, d.dips);
    vugi_free(&s->mem, d.alone);
    vugi_free(&s->mem, d.bore);
    vugi_free(&s->mem, d.landing);
    return status;
}
