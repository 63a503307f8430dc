/* SPDX-License-Identifier: MIT
 * The network's places. The gravity graph knows heights: two chambers that a slot in their floor joins are one arc below
 * its roof and share one node there. Hydraulically they are two places with the slot between. So a node has a spot
 * for each chamber that it touches, and a throat joins two spots once: inside the arc that rises through it, or across
 * the arc that it lies in, or else at a node where both its chambers meet. */
#include "transient/spots.h"

#include "base/disjoint_set.h"
#include "base/sort.h"
#include "gravity/cut.h"

#include <math.h>
#include <string.h>

static const double least_share = 0.1; /* of a section, for a chamber to count */

/* ---- chambers at the ends of arcs ------------------------------------------------- */

void vugi_end_chambers_count(vugi_end_chambers *e, int32_t chamber)
{
    int k = 0;
    if (chamber < 0)
        return;
    e->all++;
    while (k < VUGI_END_CHAMBERS && e->cells[k] > 0 && e->chamber[k] != chamber)
        k++;
    if (k == VUGI_END_CHAMBERS)
        return;
    e->chamber[k] = chamber;
    e->cells[k]++;
}

int32_t vugi_end_chamber(const vugi_end_chambers *e)
{
    int best = 0;
    for (int k = 1; k < VUGI_END_CHAMBERS; k++)
        if (e->cells[k] > e->cells[best])
            best = k;
    return e->cells[best] > 0 ? e->chamber[best] : -1;
}

static bool counts(const vugi_end_chambers *e, int k)
{
    return e->cells[k] > 0 && e->cells[k] >= least_share * e->all;
}

static bool has(const vugi_end_chambers *e, int32_t chamber)
{
    for (int k = 0; k < VUGI_END_CHAMBERS; k++)
        if (counts(e, k) && e->chamber[k] == chamber)
            return true;
    return false;
}

bool vugi_end_single(const vugi_end_chambers *e)
{
    int n = 0;
    for (int k = 0; k < VUGI_END_CHAMBERS; k++)
        n += counts(e, k);
    return n < 2;
}

/* ---- spots --------------------------------------------------------------------------- */

typedef struct builder {
    const vugi_allocator *mem;
    const vugi_scene *scene;
    const vugi_graph *g;
    const vugi_end_chambers *low, *high;
    vugi_resistance *out;
    size_t spot_room, joint_room;
    uint32_t *first; /* of each node, its first spot */
    bool *used;      /* of each throat */
    uint32_t *group; /* of each spot: scratch */
} builder;

static bool add_spot(builder *b, uint32_t node, int32_t chamber)
{
    vugi_resistance *r = b->out;
    if (!vugi_reserve(b->mem, &r->spot, &b->spot_room, r->spots + 1, sizeof *r->spot))
        return false;
    r->spot[r->spots++] = (vugi_spot){node, chamber};
    return true;
}

static uint32_t spot_of(const builder *b, uint32_t node, int32_t chamber)
{
    uint32_t end = node + 1 < b->g->node_count ? b->first[node + 1] : (uint32_t)b->out->spots;
    for (uint32_t s = b->first[node]; s < end; s++)
        if (b->out->spot[s].chamber == chamber)
            return s;
    return b->first[node];
}

static bool add_chambers(builder *b, uint32_t node, const vugi_end_chambers *e)
{
    for (int k = 0; k < VUGI_END_CHAMBERS; k++) {
        bool known = !counts(e, k);
        for (size_t s = b->first[node]; s < b->out->spots; s++)
            known |= b->out->spot[s].chamber == e->chamber[k];
        if (!known && !add_spot(b, node, e->chamber[k]))
            return false;
    }
    return true;
}

static bool find_spots(builder *b)
{
    const vugi_graph *g = b->g;
    for (uint32_t i = 0; i < g->node_count; i++) {
        const vugi_node *n = g->node + i;
        b->first[i] = (uint32_t)b->out->spots;
        for (uint32_t k = n->link; k < n->link + n->downs + n->ups; k++)
            if (!add_chambers(b, i, (k < n->link + n->downs ? b->high : b->low) + g->link[k]))
                return false;
        if (b->out->spots == b->first[i] && !add_spot(b, i, -1))
            return false;
    }
    for (uint32_t a = 0; a < g->arc_count; a++) {
        b->out->foot[a] = spot_of(b, g->arc[a].from, vugi_end_chamber(b->low + a));
        b->out->crown[a] = spot_of(b, g->arc[a].to, vugi_end_chamber(b->high + a));
    }
    return true;
}

/* ---- throats ---------------------------------------------------------------------------- */

static bool add_joint(builder *b, vugi_joint cross)
{
    vugi_resistance *r = b->out;
    if (!vugi_reserve(b->mem, &r->joint, &b->joint_room, r->joints + 1, sizeof *r->joint))
        return false;
    r->joint[r->joints++] = cross;
    return true;
}

/* What the walls hold between two knots, where they are within so many radii of the throat. */
static double near_walls(const builder *b, const vugi_scene_throat *t, uint32_t lo, uint32_t hi)
{
    const double near = 3.0;
    double sum = 0.0;
    for (uint32_t i = lo; i < hi; i++) {
        double edge = b->out->knot[i + 1].edge - b->out->knot[i].edge;
        double length = b->out->knot[i + 1].length - b->out->knot[i].length;
        if (2.0 * length < near * t->radius * edge)
            sum += fmin(edge, 2.0 * length / t->radius);
    }
    return sum;
}

/* Of a throat in an arc: what it says, unless that is clearly more. Columns know its own walls less well. Both limits are by
 * trial, against slots between chambers (test_throat). */
static double held(const builder *b, const vugi_scene_throat *t, uint32_t lo, uint32_t hi)
{
    const double clearly = 1.1;
    double sum = near_walls(b, t, lo, hi);
    return sum > clearly * t->edge ? sum : t->edge;
}

/* The stretch of an arc between the middles of two chambers resists as the throat between them does, where it is narrow:
 * all of the throat goes with what is thin there. A yield stress holds at walls near enough too. */
static void pass_throat(builder *b, uint32_t arc, const vugi_scene_throat *t)
{
    const vugi_arc *a = b->g->arc + arc;
    const vugi_knot *k = b->g->knot;
    vugi_path *path = b->out->knot;
    uint32_t lo = a->knot, hi = a->knot + a->knots - 1;
    while (lo + 1 < hi && k[lo + 1].z <= t->low)
        lo++;
    while (hi > lo + 1 && k[hi - 1].z >= t->high)
        hi--;
    vugi_path from = path[lo], to = path[hi];
    double thin = to.thin - from.thin, edge = held(b, t, lo, hi);
    if (!(thin > 0.0))
        return;
    for (uint32_t i = lo + 1; i < a->knot + a->knots; i++) {
        double part = (fmin(path[i].thin, to.thin) - from.thin) / thin;
        vugi_path own = path[i],
                  more = i < hi
            ? (vugi_path){0.0, 0.0, 0.0}
            : (vugi_path){own.length - to.length, own.thin - to.thin, own.edge - to.edge};
        path[i] = (vugi_path){from.length + part * t->length + more.length,
            from.thin + part * t->thin + more.thin, from.edge + part * edge + more.edge};
    }
}

/* Of what is thin beside a throat so much is left, as a yield stress there has to have a way. */
static const double hair = 0.01;

/* What the throat holds already of an arc below the one that is in it: the way up from the middle of the chamber. A yield
 * stress holds at walls near enough too. */
static void pass_below(builder *b, uint32_t arc, const vugi_scene_throat *t)
{
    const vugi_arc *a = b->g->arc + arc;
    const vugi_knot *k = b->g->knot;
    vugi_path *path = b->out->knot;
    uint32_t lo = a->knot, hi = a->knot + a->knots - 1;
    while (lo + 1 < hi && k[lo + 1].z <= t->low)
        lo++;
    for (uint32_t i = hi; i > lo; i--) {
        double edge = path[lo].edge + near_walls(b, t, lo, i);
        double thin = path[lo].thin + hair * (path[i].thin - path[lo].thin);
        path[i] = (vugi_path){path[i].length, thin, edge};
    }
}

/* The same of an arc above: the way up to the middle of the chamber. */
static void pass_above(builder *b, uint32_t arc, const vugi_scene_throat *t)
{
    const vugi_arc *a = b->g->arc + arc;
    const vugi_knot *k = b->g->knot;
    vugi_path *path = b->out->knot;
    uint32_t end = a->knot + a->knots, hi = a->knot;
    while (hi + 1 < end && k[hi].z < t->high)
        hi++;
    double beside = near_walls(b, t, a->knot, hi);
    vugi_path held = path[hi];
    for (uint32_t i = end; i-- > hi + 1;)
        path[i] = (vugi_path){path[i].length, path[i].thin - (1.0 - hair) * held.thin,
            beside + path[i].edge - held.edge};
    for (uint32_t i = hi + 1; i-- > a->knot;)
        path[i] = (vugi_path){path[i].length, hair * path[i].thin, near_walls(b, t, a->knot, i)};
}

static bool is_between(const vugi_scene_throat *t, const vugi_end_chambers *e)
{
    int32_t chamber = vugi_end_chamber(e);
    return chamber < 0 || chamber == t->a || chamber == t->b;
}

/* Of the arcs beyond the ends of one that is in a throat and leads no farther, as far as they are in its chambers. */
static void pass_beyond(builder *b, uint32_t arc, const vugi_scene_throat *t)
{
    const vugi_arc *a = b->g->arc + arc;
    const vugi_node *from = b->g->node + a->from, *to = b->g->node + a->to;
    const uint32_t *down = b->g->link + from->link, *up = b->g->link + to->link + to->downs;
    for (uint32_t k = 0; a->lo > t->low && k < from->downs; k++)
        if (is_between(t, b->high + down[k]))
            pass_below(b, down[k], t);
    for (uint32_t k = 0; a->hi < t->high && k < to->ups; k++)
        if (is_between(t, b->low + up[k]))
            pass_above(b, up[k], t);
}

/* The throat of two chambers not used yet that is nearest to a height; NULL: none. */
static const vugi_scene_throat *throat_between(const builder *b, int32_t p, int32_t q, double z)
{
    const vugi_scene_throat *best = NULL;
    for (size_t i = 0; i < b->scene->throat_count; i++) {
        const vugi_scene_throat *t = b->scene->throat + i;
        bool same = (t->a == p && t->b == q) || (t->a == q && t->b == p);
        if (same && !b->used[i] && (!best || fabs(t->at[2] - z) < fabs(best->at[2] - z)))
            best = t;
    }
    return best;
}

static void use(builder *b, const vugi_scene_throat *t)
{
    b->used[t - b->scene->throat] = true;
}

/* Arcs that rise from one chamber into another. */
static void pass_arcs(builder *b)
{
    for (uint32_t a = 0; a < b->g->arc_count; a++) {
        int32_t low = vugi_end_chamber(b->low + a), high = vugi_end_chamber(b->high + a);
        if (low < 0 || high < 0 || low == high || has(b->low + a, high) || has(b->high + a, low))
            continue;
        const vugi_arc *arc = b->g->arc + a;
        const vugi_scene_throat *t = throat_between(b, low, high, 0.5 * (arc->lo + arc->hi));
        double near = t ? 1e-6 + VUGI_THROAT_RADII * t->radius * fabs(t->along[2]) : 0.0;
        if (!t || t->at[2] < arc->lo - near || t->at[2] > arc->hi + near)
            continue;
        pass_throat(b, a, t);
        pass_beyond(b, a, t);
        use(b, t);
    }
}

/* Throats that join spots of a node, between height lo and hi. */
static bool join_spots(builder *b, uint32_t node, uint32_t arc, double lo, double hi)
{
    uint32_t first = b->first[node];
    uint32_t end = node + 1 < b->g->node_count ? b->first[node + 1] : (uint32_t)b->out->spots;
    for (uint32_t s = first; s < end; s++)
        for (uint32_t r = first; r < s; r++) {
            const vugi_spot *p = b->out->spot + s, *q = b->out->spot + r;
            double z = b->g->node[node].z;
            const vugi_scene_throat *t = throat_between(b, p->chamber, q->chamber, z);
            while (t && t->at[2] >= lo && t->at[2] <= hi) {
                use(b, t);
                if (!add_joint(b,
                        (vugi_joint){VUGI_JOINT_THROAT, arc, r, s, {t->length, t->thin, t->edge}}))
                    return false;
                t = throat_between(b, p->chamber, q->chamber, z);
            }
        }
    return true;
}

/* An arc whose section lies in several chambers: side by side up to its end as a pipe, at one level with a surface. */
static bool cross_arc(builder *b, uint32_t a)
{
    const vugi_arc *arc = b->g->arc + a;
    const vugi_path none = {0.0, 0.0, 0.0}, up = vugi_path_through(b->scene, b->out, a);
    if (!vugi_end_single(b->high + a) && !join_spots(b, arc->to, a, arc->lo, arc->hi))
        return false;
    for (int k = 0; k < VUGI_END_CHAMBERS; k++) {
        if (!counts(b->low + a, k))
            continue;
        int32_t chamber = b->low[a].chamber[k];
        uint32_t foot = spot_of(b, arc->from, chamber), crown = spot_of(b, arc->to, chamber);
        if (foot == b->out->foot[a])
            continue;
        if (!add_joint(b, (vugi_joint){VUGI_JOINT_SURFACE, a, b->out->foot[a], foot, none})
            || (has(b->high + a, chamber)
                && !add_joint(b, (vugi_joint){VUGI_JOINT_PIPE, a, foot, crown, up})))
            return false;
    }
    return true;
}

/* Two spots that are joined once liquid stands at a height. */
typedef struct tie {
    double z;
    uint32_t from, to;
} tie;

static int by_height(const void *a, const void *b, const void *user)
{
    const tie *x = a, *y = b;
    (void)user;
    if (x->z != y->z)
        return x->z < y->z ? -1 : 1;
    if (x->from != y->from)
        return x->from < y->from ? -1 : 1;
    return x->to < y->to ? -1 : x->to > y->to;
}

static double spot_height(const builder *b, uint32_t spot)
{
    return b->g->node[b->out->spot[spot].node].z;
}

static tie tie_of(const builder *b, uint32_t from, uint32_t to)
{
    return (tie){fmax(spot_height(b, from), spot_height(b, to)), from, to};
}

/* A surface joins two spots until its arc is full: then a pipe in the other chamber goes on from there, or nothing. */
static bool goes_on(const builder *b, size_t surface)
{
    const vugi_joint *c = b->out->joint + surface;
    return surface + 1 < b->out->joints && c[1].kind == VUGI_JOINT_PIPE && c[1].arc == c->arc
        && c[1].from == c->to;
}

/* The spot is joined by a surface, and once that has gone by what goes on above. */
static bool floats(const builder *b, uint32_t spot)
{
    for (size_t i = 0; i < b->out->joints; i++) {
        const vugi_joint *c = b->out->joint + i;
        if (c->kind == VUGI_JOINT_SURFACE && (c->from == spot || c->to == spot) && goes_on(b, i))
            return true;
    }
    return false;
}

/* What joins the spots of a node that nothing else does: the throat between their chambers, though it may lie in another
 * place too, or nothing that resists. */
static vugi_path way_between(const builder *b, uint32_t from, uint32_t to)
{
    int32_t p = b->out->spot[from].chamber, q = b->out->spot[to].chamber;
    for (size_t i = 0; i < b->scene->throat_count; i++) {
        const vugi_scene_throat *t = b->scene->throat + i;
        if ((t->a == p && t->b == q) || (t->a == q && t->b == p))
            return (vugi_path){t->length, t->thin, t->edge};
    }
    return (vugi_path){0.0, 0.0, 0.0};
}

/* The spots of a node hang together by what lies below it: what stands there must find its way down when all above is
 * dry. */
static bool join_at(builder *b, const tie *at, bool full)
{
    uint32_t first = b->first[b->out->spot[at->from].node];
    if (vugi_sets_find(b->group, at->from) == vugi_sets_find(b->group, first)
        || (full && (floats(b, at->from) || floats(b, first))))
        return true;
    vugi_sets_unite(b->group, at->from, first);
    return add_joint(b,
        (vugi_joint){VUGI_JOINT_THROAT, VUGI_NONE, first, at->from,
            way_between(b, first, at->from)});
}

/* From the lowest tie upward; a spot is tied to itself after all that ends at its height. full: surfaces have gone. */
static bool join_ties(builder *b, tie *list, bool full)
{
    size_t n = 0, spots = b->out->spots, joints = b->out->joints;
    for (uint32_t a = 0; a < b->g->arc_count; a++)
        list[n++] = tie_of(b, b->out->foot[a], b->out->crown[a]);
    for (size_t i = 0; i < joints; i++)
        if (b->out->joint[i].kind != VUGI_JOINT_SURFACE || (!full && goes_on(b, i)))
            list[n++] = tie_of(b, b->out->joint[i].from, b->out->joint[i].to);
    for (uint32_t s = 0; s < spots; s++)
        list[n++] = tie_of(b, s, s);
    if (!vugi_sort(b->mem, list, n, sizeof *list, by_height, NULL))
        return false;
    vugi_sets_init(b->group, spots);
    for (size_t i = 0, own = 0; i < n; i++) {
        vugi_sets_unite(b->group, list[i].from, list[i].to);
        if (i + 1 < n && list[i + 1].z == list[i].z)
            continue;
        for (; own <= i; own++)
            if (list[own].from == list[own].to && !join_at(b, list + own, full))
                return false;
    }
    return true;
}

static bool join_rest(builder *b)
{
    bool ok = true;
    for (int full = 0; full < 2 && ok; full++) {
        size_t most = b->g->arc_count + b->out->joints + b->out->spots;
        tie *list = vugi_alloc(b->mem, most, sizeof *list);
        ok = list && join_ties(b, list, full == 1);
        vugi_free(b->mem, list);
    }
    return ok;
}

static bool build(builder *b)
{
    const vugi_graph *g = b->g;
    if (!find_spots(b))
        return false;
    b->group = vugi_alloc(b->mem, b->out->spots, sizeof *b->group);
    if (!b->group)
        return false;
    for (size_t i = 0; i < b->scene->door_count; i++)
        use(b, b->scene->throat + b->scene->door[i].throat);
    pass_arcs(b);
    for (uint32_t a = 0; a < g->arc_count; a++)
        if ((!vugi_end_single(b->low + a) || !vugi_end_single(b->high + a)) && !cross_arc(b, a))
            return false;
    for (uint32_t i = 0; i < g->node_count; i++)
        if (!join_spots(b, i, VUGI_NONE, -INFINITY, INFINITY))
            return false;
    return join_rest(b);
}

vug_status vugi_spots_build(vug_context *ctx, const vugi_allocator *mem, const vugi_scene *scene,
    const vugi_end_chambers *low, const vugi_end_chambers *high, vugi_resistance *out)
{
    const vugi_graph *g = &scene->graph;
    builder b = {.mem = mem, .scene = scene, .g = g, .low = low, .high = high, .out = out};
    b.first = vugi_alloc(mem, g->node_count, sizeof *b.first);
    b.used = vugi_calloc(mem, scene->throat_count, sizeof *b.used);
    out->foot = vugi_alloc(mem, g->arc_count, sizeof *out->foot);
    out->crown = vugi_alloc(mem, g->arc_count, sizeof *out->crown);
    bool ok = b.first && b.used && out->foot && out->crown && build(&b);
    vugi_free(mem, b.first);
    vugi_free(mem, b.used);
    vugi_free(mem, b.group);
    return ok ? VUG_OK : vugi_fail_memory(ctx);
}

void vugi_spots_free(const vugi_allocator *mem, vugi_resistance *r)
{
    vugi_free(mem, r->foot);
    vugi_free(mem, r->crown);
    vugi_free(mem, r->spot);
    vugi_free(mem, r->joint);
}
