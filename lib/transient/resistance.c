/* SPDX-License-Identifier: MIT
 * Resistance of arcs. Upward, by the area and the outline of each section: a section is so many tubes
 * of its hydraulic radius (exact for one tube; a square duct comes out 12 % too high). Sideways, at a
 * node, along the line from the middle of the wider arc to the middle of the branch, by what the flow
 * joints there. An estimate where the way turns. */
#include "transient/resistance.h"

#include "transient/spots.h"

#include "base/sort.h"
#include "cavity/atlas.h"
#include "gravity/cut.h"
#include "column/pose.h"
#include "gravity/section.h"
#include "flow/flow.h"
#include "flow/viscosity.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>

static double section_radius(const vugi_graph *g, double area, double outline)
{
    double h = g->columns->h, round = sqrt(area / VUGI_PI);
    return fmax(0.5 * h, outline > 0.0 ? fmin(round, 2.0 * area / outline) : round);
}

static void sum_knots(const vugi_graph *g, vugi_path *out)
{
    double h = g->columns->h;
    for (size_t i = 0; i < g->arc_count; i++) {
        const vugi_arc *a = g->arc + i;
        vugi_path way = {0.0, 0.0, 0.0};
        for (uint32_t k = a->knot; k < a->knot + a->knots; k++) {
            out[k] = way;
            if (k + 1 == a->knot + a->knots)
                break;
            double area = fmax(h * h, g->knot[k].area), dz = g->knot[k + 1].z - g->knot[k].z;
            double r = section_radius(g, area, g->knot[k].outline);
            way.length += dz;
            way.thin += 8.0 * dz / (area * r * r);
            way.edge += 2.0 * dz / r;
        }
    }
}

/* ---- sideways ----------------------------------------------------------------- */

/* Sums over the pixels of an arc's section near one of its ends. */
typedef struct spread {
    double n, x, y, xx, yy;
} spread;

/* A look at an arc near one of its ends, some way in: right at the end, where pieces join or part, the
 * section between them has no width yet. */
typedef enum look_kind { NEAR_LOW, NEAR_HIGH, IN_THROAT } look_kind;
typedef struct look {
    double z;
    uint32_t arc; /* in a throat: of `neck` */
    look_kind kind;
} look;

/* So many places along a throat are looked at, a radius apart. */
enum { ALONG = 2 * VUGI_THROAT_RADII + 1 };

typedef struct survey {
    const vugi_scene *scene;
    look *look; /* by height */
    size_t count;
    spread *low, *high; /* of each arc */
    vugi_end_chambers *low_in, *high_in;
    uint32_t *neck; /* ALONG for each throat: the arc there, or VUGI_NONE */
} survey;

static int by_height(const void *a, const void *b, const void *user)
{
    const look *x = a, *y = b;
    (void)user;
    if (x->z != y->z)
        return x->z < y->z ? -1 : 1;
    if (x->arc != y->arc)
        return x->arc < y->arc ? -1 : 1;
    return (int)x->kind - (int)y->kind;
}

static void place_along(const vugi_scene *s, uint32_t i, double at[3])
{
    const vugi_scene_throat *t = s->throat + i / ALONG;
    double far = ((int)(i % ALONG) - ALONG / 2) * t->radius;
    for (int k = 0; k < 3; k++)
        at[k] = t->at[k] + far * t->along[k];
}

static bool make_survey(const vugi_allocator *mem, const vugi_scene *scene, survey *v)
{
    const vugi_graph *g = &scene->graph;
    *v = (survey){.scene = scene,
        .look = vugi_alloc(mem, 2 * g->arc_count + ALONG * scene->throat_count, sizeof *v->look),
        .low = vugi_calloc(mem, g->arc_count, sizeof *v->low),
        .high = vugi_calloc(mem, g->arc_count, sizeof *v->high),
        .low_in = vugi_calloc(mem, g->arc_count, sizeof *v->low_in),
        .high_in = vugi_calloc(mem, g->arc_count, sizeof *v->high_in),
        .neck = vugi_alloc(mem, ALONG * scene->throat_count, sizeof *v->neck)};
    if (!v->look || !v->low || !v->high || !v->low_in || !v->high_in || !v->neck)
        return false;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        double lo = g->arc[a].lo, hi = g->arc[a].hi, h = hi - lo;
        double in_low = 0.5 * fmin(h, sqrt(vugi_arc_area(g, a, lo + 0.1 * h) / VUGI_PI));
        double in_high = 0.5 * fmin(h, sqrt(vugi_arc_area(g, a, hi - 0.1 * h) / VUGI_PI));
        v->look[v->count++] = (look){lo + in_low, a, NEAR_LOW};
        v->look[v->count++] = (look){hi - in_high, a, NEAR_HIGH};
    }
    for (uint32_t i = 0; i < ALONG * scene->throat_count; i++) {
        double at[3];
        place_along(scene, i, at);
        v->neck[i] = VUGI_NONE;
        v->look[v->count++] = (look){at[2], i, IN_THROAT};
    }
    return vugi_sort(mem, v->look, v->count, sizeof *v->look, by_height, NULL);
}

static void free_survey(const vugi_allocator *mem, survey *v)
{
    vugi_free(mem, v->look);
    vugi_free(mem, v->low);
    vugi_free(mem, v->high);
    vugi_free(mem, v->low_in);
    vugi_free(mem, v->high_in);
    vugi_free(mem, v->neck);
}

/* Chamber at a pixel of the section. */
static int32_t chamber_at(const vugi_scene *s, double x, double y, double z)
{
    const vugi_columns *c = &s->columns;
    const double pose[3] = {c->x0 + x, c->y0 + y, z};
    double part[3];
    vugi_to_part(c->basis, pose, part);
    return vugi_atlas_chamber(s->atlas, part);
}

static void look_into_throat(survey *v, const look *l, const vugi_section *section)
{
    const vugi_columns *c = &v->scene->columns;
    double at[3];
    place_along(v->scene, l->arc, at);
    double x = floor((at[0] - c->x0) / c->h + 0.5), y = floor((at[1] - c->y0) / c->h + 0.5);
    if (!(x >= 0.0 && y >= 0.0 && x < c->nx && y < c->ny))
        return;
    uint32_t raw = vugi_section_arc(section, (size_t)y * (size_t)c->nx + (size_t)x);
    v->neck[l->arc] = raw == VUGI_NONE ? raw : vugi_graph_arc(&v->scene->graph, raw, l->z, false);
}

static vug_status look_at(void *user, size_t stop, const vugi_section *section)
{
    survey *v = user;
    const vugi_columns *c = &v->scene->columns;
    const look *l = v->look + stop;
    if (l->kind == IN_THROAT) {
        look_into_throat(v, l, section);
        return VUG_OK;
    }
    spread *s = (l->kind == NEAR_HIGH ? v->high : v->low) + l->arc;
    for (size_t k = 0; k < (size_t)c->nx * (size_t)c->ny; k++) {
        uint32_t raw = vugi_section_arc(section, k);
        if (raw == VUGI_NONE || vugi_graph_arc(&v->scene->graph, raw, l->z, false) != l->arc)
            continue;
        double x = c->h * (double)(k % (size_t)c->nx), y = c->h * (double)(k / (size_t)c->nx);
        *s = (spread){s->n + 1.0, s->x + x, s->y + y, s->xx + x * x, s->yy + y * y};
        if (v->scene->atlas && k % 3 == 0)
            vugi_end_chambers_count((l->kind == NEAR_HIGH ? v->high_in : v->low_in) + l->arc,
                chamber_at(v->scene, x, y, l->z));
    }
    return VUG_OK;
}

typedef vug_status (*look_fn)(void *user, size_t stop, const vugi_section *section);

static vug_status walk(vug_context *ctx, const vugi_allocator *mem, const vugi_scene *scene,
    const look *list, size_t count, look_fn fn, void *user)
{
    double *z = vugi_alloc(mem, count, sizeof *z);
    if (!z)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < count; i++)
        z[i] = list[i].z;
    vug_status status = vugi_sections(ctx, mem, &scene->graph.sweep, z, count, fn, user);
    vugi_free(mem, z);
    return status;
}

/* ---- ends in a bore --------------------------------------------------------------- */

/* Bores are no part of a chamber: an arc that ends above in one belongs to the chamber met first on the way down, if
 * that is one alone. Below, mouths say themselves where they open. */
enum { DEEPER = 3 };

typedef struct deep {
    survey *v;
    look *look; /* by height; arc: of `met`, not of the graph */
    size_t count;
    vugi_end_chambers *met; /* of each arc: DEEPER, from its upper end downward */
} deep;

static bool meets_none(const vugi_end_chambers *e)
{
    return e->all == 0;
}

static vug_status look_deeper(void *user, size_t stop, const vugi_section *section)
{
    deep *d = user;
    const vugi_scene *s = d->v->scene;
    const vugi_columns *c = &s->columns;
    const look *l = d->look + stop;
    for (size_t k = 0; k < (size_t)c->nx * (size_t)c->ny; k += 3) {
        uint32_t raw = vugi_section_arc(section, k);
        if (raw == VUGI_NONE || vugi_graph_arc(&s->graph, raw, l->z, false) != l->arc / DEEPER)
            continue;
        double x = c->h * (double)(k % (size_t)c->nx), y = c->h * (double)(k / (size_t)c->nx);
        vugi_end_chambers_count(d->met + l->arc, chamber_at(s, x, y, l->z));
    }
    return VUG_OK;
}

static bool make_deep(const vugi_allocator *mem, survey *v, deep *d)
{
    const vugi_graph *g = &v->scene->graph;
    size_t looks = DEEPER * g->arc_count;
    *d = (deep){.v = v,
        .look = vugi_alloc(mem, looks, sizeof *d->look),
        .met = vugi_calloc(mem, looks, sizeof *d->met)};
    if (!d->look || !d->met)
        return false;
    for (uint32_t a = 0; a < g->arc_count; a++)
        for (uint32_t i = 0; i < DEEPER && meets_none(v->high_in + a); i++) {
            double part = (i + 1.0) / (DEEPER + 1.0), h = g->arc[a].hi - g->arc[a].lo;
            d->look[d->count++] = (look){g->arc[a].hi - part * h, a * DEEPER + i, NEAR_HIGH};
        }
    return vugi_sort(mem, d->look, d->count, sizeof *d->look, by_height, NULL);
}

static void take_deep(survey *v, const deep *d)
{
    for (uint32_t a = 0; a < v->scene->graph.arc_count; a++) {
        vugi_end_chambers *e = v->high_in + a;
        if (!meets_none(e))
            continue;
        for (uint32_t i = 0; i < DEEPER && meets_none(e); i++)
            *e = d->met[a * DEEPER + i];
        if (!vugi_end_single(e)) /* it is not known which */
            *e = (vugi_end_chambers){.all = 0};
    }
}

static vug_status look_into_bores(vug_context *ctx, const vugi_allocator *mem, survey *v)
{
    deep d = {.v = v};
    vug_status status = VUG_OK;
    if (!v->scene->atlas)
        return VUG_OK;
    if (!make_deep(mem, v, &d))
        status = vugi_fail_memory(ctx);
    if (!status && d.count > 0)
        status = walk(ctx, mem, v->scene, d.look, d.count, look_deeper, &d);
    if (!status)
        take_deep(v, &d);
    vugi_free(mem, d.look);
    vugi_free(mem, d.met);
    return status;
}

/* ---- arcs in a throat ---------------------------------------------------------------- */

/* A throat that leans is an arc of its own, which the chambers' border may leave to one of them: it leads from the lower to
 * the higher all the same, if what it resists by its columns is of the size of what the throat does, and it leads up by so
 * much. */
static const double about = 0.15, least_rise = 0.2;

static vugi_end_chambers all_in(int32_t chamber)
{
    return (vugi_end_chambers){.chamber = {chamber}, .cells = {1}, .all = 1};
}

/* It leads from one chamber into another already. */
static bool is_parted(const survey *v, uint32_t arc)
{
    const vugi_end_chambers *low = v->low_in + arc, *high = v->high_in + arc;
    int32_t from = vugi_end_chamber(low), to = vugi_end_chamber(high);
    return vugi_end_single(low) && vugi_end_single(high) && from >= 0 && to >= 0 && from != to;
}

/* Between the middles of the throat's chambers, by the knots: what else is narrow in an arc, as a bore, is no throat. */
static double thin_of(const survey *v, const vugi_path *knot, uint32_t arc,
    const vugi_scene_throat *t)
{
    const vugi_graph *g = &v->scene->graph;
    const vugi_arc *a = g->arc + arc;
    uint32_t lo = a->knot, hi = a->knot + a->knots - 1;
    while (lo < hi && g->knot[lo + 1].z <= t->low)
        lo++;
    while (hi > lo && g->knot[hi - 1].z >= t->high)
        hi--;
    return knot[hi].thin - knot[lo].thin;
}

static void take_necks(survey *v, const vugi_path *knot)
{
    const vugi_scene *s = v->scene;
    for (size_t i = 0; i < ALONG * s->throat_count; i++) {
        const vugi_scene_throat *t = s->throat + i / ALONG;
        uint32_t a = v->neck[i];
        if (a == VUGI_NONE || fabs(t->along[2]) < least_rise || is_parted(v, a)
            || thin_of(v, knot, a, t) < about * t->thin)
            continue;
        v->low_in[a] = all_in(t->along[2] > 0.0 ? t->a : t->b);
        v->high_in[a] = all_in(t->along[2] > 0.0 ? t->b : t->a);
    }
}

static bool is_door(const vugi_scene *s, size_t throat)
{
    for (size_t i = 0; i < s->door_count; i++)
        if (s->door[i].throat == throat)
            return true;
    return false;
}

/* A door, or a joint of spots, holds all that its throat resists. Where that leans, pieces of it beside the border are arcs
 * of their own, down to wedges without a width: they resist no more. They hold no more than the throat does. */
static void leave_to_throats(const survey *v, vugi_resistance *out)
{
    const vugi_scene *s = v->scene;
    const vugi_path none = {0.0, 0.0, 0.0};
    for (size_t i = 0; i < ALONG * s->throat_count; i++) {
        const vugi_scene_throat *t = s->throat + i / ALONG;
        const vugi_path way = {t->length, t->thin, t->edge};
        uint32_t a = v->neck[i];
        if (a == VUGI_NONE || s->graph.arc[a].volume > 2.0 * vugi_path_volume(&way))
            continue;
        const vugi_arc *arc = s->graph.arc + a;
        if (!is_door(s, i / ALONG)
            && (is_parted(v, a) || thin_of(v, out->knot, a, t) >= about * t->thin))
            continue;
        for (uint32_t k = arc->knot; k < arc->knot + arc->knots; k++)
            out->knot[k] = none;
        out->down[a] = out->up[a] = none;
    }
}

/* What begins at the lower end of a throat comes from the chamber below it. */
static void look_below_cuts(survey *v)
{
    const vugi_graph *g = &v->scene->graph;
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (vugi_arc_is_cut(g, a))
            v->low_in[a] = v->high_in[vugi_arc_below(g, a)];
}

/* The arc that a branch meets at a node: the one on the other side when it is alone there. */
static uint32_t wide_arc(const vugi_graph *g, uint32_t branch, bool above)
{
    const vugi_node *n = g->node + (above ? g->arc[branch].from : g->arc[branch].to);
    if (above ? n->downs != 1 || n->ups < 2 : n->ups != 1 || n->downs < 2)
        return VUGI_NONE;
    return g->link[above ? n->link : n->link + n->downs];
}

/* A line to the middle of a branch from that of the wider arc, and how far the flow spreads from it: at
 * first as the wider arc does, at last as the branch. */
typedef struct line {
    double x, y, dx, dy; /* from, unit along */
    double length, wide, narrow;
    double z;   /* the node's height */
    bool below; /* the wider arc is below it */
} line;

/* Half the length of the straight line that is spread as widely as the section. */
static double reach(const spread *s, double h)
{
    double x = s->x / s->n, y = s->y / s->n;
    double variance = fmax(0.0, s->xx / s->n - x * x) + fmax(0.0, s->yy / s->n - y * y);
    return fmax(h, sqrt(3.0 * variance));
}

/* Below a node where arcs part, above one where they join. */
static bool make_line(const survey *v, uint32_t branch, bool above, line *out)
{
    const vugi_graph *g = &v->scene->graph;
    double h = g->columns->h;
    uint32_t wide = wide_arc(g, branch, above);
    if (wide == VUGI_NONE)
        return false;
    /* Between chambers the throats count. */
    const vugi_end_chambers *wide_in = (above ? v->high_in : v->low_in) + wide;
    const vugi_end_chambers *branch_in = (above ? v->low_in : v->high_in) + branch;
    if (!vugi_end_single(wide_in) || vugi_end_chamber(wide_in) != vugi_end_chamber(branch_in))
        return false;
    const spread *w = (above ? v->high : v->low) + wide, *b = (above ? v->low : v->high) + branch;
    if (w->n <= 0.0 || b->n <= 0.0)
        return false;
    double x = w->x / w->n, y = w->y / w->n, dx = b->x / b->n - x, dy = b->y / b->n - y;
    double d = hypot(dx, dy), narrow = reach(b, h);
    if (d < h)
        return false;
    *out = (line){.x = x,
        .y = y,
        .dx = dx / d,
        .dy = dy / d,
        .length = d,
        .wide = fmax(narrow, reach(w, h)),
        .narrow = narrow,
        .z = above ? g->arc[branch].lo : g->arc[branch].hi,
        .below = above};
    return true;
}

enum { PIECES = 64 };

typedef struct piece {
    double volume, columns;
} piece;

/* What of the cavity lies along the line, by pieces. */
static void fill_pieces(const vugi_graph *g, const line *l, size_t pieces, piece *out)
{
    const vugi_columns *c = g->columns;
    double h = c->h, far = hypot(l->length, l->wide);
    int32_t i0 = (int32_t)fmax(0.0, floor((l->x - far) / h));
    int32_t i1 = (int32_t)fmin(c->nx - 1.0, ceil((l->x + far) / h));
    int32_t j0 = (int32_t)fmax(0.0, floor((l->y - far) / h));
    int32_t j1 = (int32_t)fmin(c->ny - 1.0, ceil((l->y + far) / h));
    for (int32_t j = j0; j <= j1; j++) {
        for (int32_t i = i0; i <= i1; i++) {
            double x = h * i - l->x, y = h * j - l->y, along = x * l->dx + y * l->dy;
            double beside = l->wide + (l->narrow - l->wide) * along / l->length;
            if (along < 0.0 || along >= l->length || fabs(x * l->dy - y * l->dx) > beside)
                continue;
            double bottom = l->below ? l->z - 2.0 * beside : l->z, top = bottom + 2.0 * beside;
            size_t column = (size_t)j * (size_t)c->nx + (size_t)i;
            double high = 0.0;
            for (uint32_t s = c->first[column]; s < c->first[column + 1]; s++)
                if (g->sweep.floor_arc[s] != VUGI_NONE)
                    high += fmax(0.0, fmin(c->hi[s], top) - fmax(c->lo[s], bottom));
            if (high <= 0.0)
                continue;
            size_t n = (size_t)(along / l->length * (double)pieces);
            out[n].volume += h * h * high;
            out[n].columns += 1.0;
        }
    }
}

/* Along the line: each piece as a duct of its mean height and width. Pieces that no column falls into
 * are bridged by the mean of the others. */
static vugi_path along_line(const vugi_graph *g, const line *l)
{
    piece part[PIECES] = {{0.0, 0.0}};
    double h = g->columns->h;
    double fine = fmax(h, 0.5 * l->narrow); /* so that a corner of the wall counts by its share */
    size_t pieces = (size_t)fmax(1.0, fmin(PIECES, floor(l->length / fine))), met = 0;
    vugi_path way = {l->length, 0.0, 0.0};
    double d = l->length / (double)pieces;
    fill_pieces(g, l, pieces, part);
    for (size_t i = 0; i < pieces; i++) {
        if (part[i].columns <= 0.0)
            continue;
        double area = fmax(h * h, part[i].volume / d);
        double high = fmax(h, part[i].volume / (part[i].columns * h * h)), wide = area / high;
        double r = fmax(0.5 * h, area / (high + wide));
        way.thin += 8.0 * d / (area * r * r);
        way.edge += 2.0 * d / r;
        met++;
    }
    if (met == 0)
        return (vugi_path){0.0, 0.0, 0.0};
    double scale = (double)pieces / (double)met;
    return (vugi_path){way.length, way.thin * scale, way.edge * scale};
}

static void join_ways(const survey *v, vugi_resistance *out)
{
    const vugi_graph *g = &v->scene->graph;
    const vugi_path none = {0.0, 0.0, 0.0};
    line l;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        out->down[a] = make_line(v, a, true, &l) ? along_line(g, &l) : none;
        out->up[a] = make_line(v, a, false, &l) ? along_line(g, &l) : none;
    }
}

vug_status vugi_resistance_build(vug_context *ctx, const vugi_allocator *mem,
    const vugi_scene *scene, vugi_resistance *out)
{
    const vugi_graph *g = &scene->graph;
    out->knot = vugi_alloc(mem, g->knot_count, sizeof *out->knot);
    out->down = vugi_alloc(mem, g->arc_count, sizeof *out->down);
    out->up = vugi_alloc(mem, g->arc_count, sizeof *out->up);
    vug_status status = out->knot && out->down && out->up ? VUG_OK : vugi_fail_memory(ctx);
    survey v = {.scene = scene};
    if (!status && !make_survey(mem, scene, &v))
        status = vugi_fail_memory(ctx);
    if (!status) {
        sum_knots(g, out->knot);
        status = walk(ctx, mem, scene, v.look, v.count, look_at, &v);
    }
    if (!status)
        status = look_into_bores(ctx, mem, &v);
    if (!status) {
        take_necks(&v, out->knot);
        look_below_cuts(&v);
        join_ways(&v, out);
        leave_to_throats(&v, out);
        status = vugi_spots_build(ctx, mem, scene, v.low_in, v.high_in, out);
    }
    free_survey(mem, &v);
    if (status)
        vugi_resistance_free(mem, out);
    return status;
}

void vugi_resistance_free(const vugi_allocator *mem, vugi_resistance *r)
{
    vugi_free(mem, r->knot);
    vugi_free(mem, r->down);
    vugi_free(mem, r->up);
    vugi_spots_free(mem, r);
    *r = (vugi_resistance){.knot = NULL};
}
