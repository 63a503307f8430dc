/* SPDX-License-Identifier: MIT */
#include "cavity/detect.h"

#include "cavity/build.h"
#include "cavity/confirm.h"
#include "cavity/cylinder.h"
#include "cavity/gridded.h"
#include "cavity/insert.h"
#include "cavity/place.h"
#include "cavity/ring.h"
#include "cavity/set.h"
#include "cavity/void.h"
#include "cavity/way.h"

#include "base/angle.h"
#include "base/vec.h"
#include "mesh/edges.h"

#include <math.h>
#include <string.h>

/* A chamber is told from the next one when its ball is this many times as wide as the throat. */
static const double CHAMBER_RATIO = 1.5;

/* Cells along the longest side where nobody asked for a number: as many as 16 million cells allow in any
 * part, and half as many again where that is too coarse, but not more than this in all. */
enum { CELLS_FIRST = 256, CELLS_FINE = 384, CELLS_MOST = 1 << 26 };

/* On the way out round bores are looked for at so many places. */
enum { PLACES_ON_WAY = 6 };

/* A bore has no more legs than that. */
enum { LEGS_MOST = 4 };

typedef struct detection {
    vug_context *ctx;
    const vug_mesh *part;
    bool closed; /* the part can be cut */
    vugi_void v;
    vugi_tree tree;
    uint32_t *other; /* neighbours of the part's triangles */
    vugi_hole *hole; /* named, then found */
    size_t named_count, hole_count, hole_room;
    vugi_ways ways;
    size_t shut; /* holes that are shut on them */
} detection;

/* ---- holes ------------------------------------------------------------------ */

/* How far its outline is from the middle of a hole that was found. */
static double own_reach(const vugi_hole *p)
{
    return p->seen && !p->placed ? 0.5 * p->diameter : p->reach;
}

static bool same_hole(const vugi_hole *p, const vugi_hole *q)
{
    double d2 = 0.0, turned = 0.0;
    for (int k = 0; k < 3; k++) {
        d2 += (p->center[k] - q->center[k]) * (p->center[k] - q->center[k]);
        turned += p->normal[k] * q->normal[k];
    }
    double reach = fmin(own_reach(p), own_reach(q));
    if (!(p->placed || p->seen) || !(q->placed || q->seen))
        reach = p->reach + q->reach;
    return d2 < reach * reach && turned > 0.5;
}

static bool known_already(const detection *d, const vugi_hole *hole)
{
    for (size_t i = 0; i < d->hole_count; i++)
        if (same_hole(d->hole + i, hole))
            return true;
    return false;
}

static uint32_t label_at(const vugi_void *v, const double from[3], const double direction[3],
    double length)
{
    double p[3];
    for (int k = 0; k < 3; k++)
        p[k] = from[k] + length * direction[k];
    size_t c = vugi_grid_nearest(&v->grid, p);
    return c == SIZE_MAX ? vugi_label_outside : v->label[c];
}

/* Is the middle of a border between cavity and outside in a bore? */
static bool is_in_bore(const vugi_hole *hole, const double middle[3])
{
    double in[3];
    vugi_subtract(hole->center, middle, in);
    double along = vugi_dot(in, hole->normal), far2 = vugi_dot(in, in) - along * along;
    return fabs(along) <= hole->bore_length + own_reach(hole)
        && far2 <= own_reach(hole) * own_reach(hole);
}

/* Does the hole lead from outside into a cavity, as the grid sees it? Beyond its ends the first void
 * that is met must be the right one; a bore that ends in the wall beside the cavity has the border in it. */
static bool leads_inside(const detection *d, const vugi_hole *hole, const vugi_mouth *mouth)
{
    double h = d->v.grid.h, far = 4.0 * h + 6.0 * own_reach(hole);
    uint32_t inner = vugi_label_solid, outer = vugi_label_solid;
    for (double s = 0.0; s < far && inner >= vugi_label_outside; s += 0.5 * h)
        inner = label_at(&d->v, hole->inner, hole->normal, -s);
    for (double s = 0.5 * h; s < far && outer != vugi_label_outside; s += 0.5 * h)
        outer = label_at(&d->v, hole->center, hole->normal, s);
    bool in = inner < vugi_label_outside || (hole->seen && is_in_bore(hole, mouth->center));
    return in && outer == vugi_label_outside;
}

/* From a place to the hole there: vugi_cylinder_find() or vugi_mouth_follow(). */
typedef vug_status (*finder)(vug_context *ctx, const vugi_tree *tree, const uint32_t *other,
    const vugi_mouth *mouth, vugi_hole *hole, bool *found);

/* Goes around bends to the last leg of a hole that goes on. */
static vug_status go_around(detection *d, vugi_hole *hole)
{
    vugi_mouth mouth;
    vug_status status = VUG_OK;
    bool found = true;
    for (int i = 0; i < LEGS_MOST && found && !status; i++) {
        vugi_hole leg;
        if (!vugi_mouth_goes_on(&d->tree, hole, own_reach(hole), &mouth))
            break;
        status = vugi_cylinder_find(d->ctx, &d->tree, d->other, &mouth, &leg, &found);
        found = found && !same_hole(&leg, hole);
        if (status || !found)
            break;
        leg.bore_length += hole->bore_length;
        memcpy(leg.inner, hole->inner, sizeof leg.inner);
        *hole = leg;
    }
    return status;
}

/* Takes the hole at a place if it leads inside. *done: it does, or is known. */
static vug_status find_at(detection *d, finder find, const vugi_mouth *mouth, bool *done)
{
    vugi_hole hole;
    bool found;
    vug_status status = vugi_step(d->ctx, 0.74);
    if (!status)
        status = find(d->ctx, &d->tree, d->other, mouth, &hole, &found);
    if (status || !found)
        return status;
    bool inside = leads_inside(d, &hole, mouth);
    if (inside)
        status = go_around(d, &hole);
    *done = known_already(d, &hole);
    if (status || *done || !inside)
        return status;
    if (!vugi_reserve(&d->ctx->mem, &d->hole, &d->hole_room, d->hole_count + 1, sizeof hole))
        return vugi_fail_memory(d->ctx);
    d->hole[d->hole_count++] = hole;
    *done = true;
    return VUG_OK;
}

/* Where to look on the way out: at a cell of it. */
static vugi_mouth mouth_on_way(const vugi_void *v, const vugi_way *way, size_t at)
{
    const double h = v->grid.h, radius = h * sqrt((double)v->squared[way->cell[at]]);
    const size_t aside = 1 + (size_t)(radius / h);
    const size_t from = at > aside ? at - aside : 0,
                 to = at + aside < way->count ? at + aside : way->count - 1;
    vugi_mouth mouth = {.reach = 6.0 * radius + 4.0 * h,
        .slack = h,
        .area = VUGI_PI * (radius + 0.5 * h) * (radius + 0.5 * h)};
    double before[3], after[3];
    vugi_grid_point(&v->grid, way->cell[at], mouth.center);
    vugi_grid_point(&v->grid, way->cell[from], before);
    vugi_grid_point(&v->grid, way->cell[to], after);
    vugi_subtract(after, before, mouth.normal);
    vugi_normalise(mouth.normal);
    return mouth;
}

/* A round bore along the way out from its narrowest place on: where it opens into the cavity by its side alone it is wider
 * further out. */
static vug_status find_on_way(detection *d, const vugi_way *way, bool *done)
{
    vug_status status = VUG_OK;
    size_t at = way->narrowest;
    for (int i = 0; i < PLACES_ON_WAY && at < way->count && !*done && !status; i++) {
        vugi_mouth mouth = mouth_on_way(&d->v, way, at);
        status = find_at(d, vugi_cylinder_find, &mouth, done);
        at += 1 + (size_t)sqrt((double)d->v.squared[way->cell[at]]);
    }
    return status;
}

/* A found hole, shut inside of its outer end. */
static vugi_plug plug_of(const vugi_hole *hole, double h)
{
    const double reach = own_reach(hole), most = 0.5 * hole->bore_length;
    vugi_plug plug = {.reach = 1.1 * reach + h};
    memcpy(plug.normal, hole->normal, sizeof plug.normal);
    vugi_along(hole->center, hole->normal, hole->placed ? 0.0 : -fmin(most, 0.5 * reach + h),
        plug.center);
    return plug;
}

/* The widest way out from a border that passes none of the holes found. */
static vug_status way_left(detection *d, const vugi_border *border, vugi_way *way)
{
    vug_status status = VUG_OK;
    *way = (vugi_way){.cell = NULL};
    for (; d->shut < d->hole_count && !status; d->shut++) {
        const vugi_plug plug = plug_of(d->hole + d->shut, d->v.grid.h);
        status = vugi_ways_shut(d->ctx, &d->v, &plug, &d->ways);
    }
    return status ? status : vugi_way_out(d->ctx, &d->v, border, &d->ways, way);
}

/* Along the way out, then along the sections at the border itself, if it has not been looked at, and where the way is narrowest.
 * *done: a hole is there, or no way. */
static vug_status find_beyond(detection *d, const vugi_border *border, const vugi_mouth *mouth,
    bool *done)
{
    vugi_way way = {.cell = NULL};
    vug_status status = way_left(d, border, &way);
    if (!status)
        status = find_on_way(d, &way, done);
    if (!status && !*done && mouth)
        status = find_at(d, vugi_mouth_follow, mouth, done);
    if (!status && !*done && way.count > 0) {
        vugi_mouth narrowest = mouth_on_way(&d->v, &way, way.narrowest);
        status = find_at(d, vugi_mouth_follow, &narrowest, done);
    }
    vugi_way_free(&d->ctx->mem, &way);
    return status;
}

/* The holes behind a border: more than one where bores meet on their way out. */
static vug_status find_behind(detection *d, const vugi_border *border)
{
    bool done = false, more;
    vugi_mouth mouth = {.reach = 3.0 * border->extent + 4.0 * d->v.grid.h,
        .slack = d->v.grid.h,
        .area = border->area};
    vugi_grid_point(&d->v.grid, border->cell, mouth.center);
    memcpy(mouth.normal, border->normal, sizeof mouth.normal);
    vug_status status = find_at(d, vugi_cylinder_find, &mouth, &done);
    const vugi_mouth *unseen = done ? NULL : &mouth;
    do {
        const size_t known = d->hole_count;
        done = false;
        if (!status)
            status = find_beyond(d, border, unseen, &done);
        more = unseen ? done : d->hole_count > known;
        unseen = NULL;
    } while (!status && more);
    return status;
}

/* Holes that the grid resolves: the borders of chambers with the outside. */
static vug_status find_wide_holes(detection *d)
{
    vug_status status = VUG_OK;
    d->shut = d->named_count;
    for (size_t i = 0; i < d->v.border_count && !status; i++)
        if (d->v.border[i].b == VUGI_OUTSIDE)
            status = find_behind(d, d->v.border + i);
    vugi_ways_free(&d->ctx->mem, &d->ways);
    return status;
}

/* Is there a hole already whose bore passes by the middle of this ring? */
static bool ring_is_known(const detection *d, const vugi_mouth *ring)
{
    for (size_t i = 0; i < d->hole_count; i++) {
        const vugi_hole *hole = d->hole + i;
        double along = 0.0, across2 = 0.0;
        for (int k = 0; k < 3; k++)
            along += (hole->center[k] - ring->center[k]) * hole->normal[k];
        for (int k = 0; k < 3; k++) {
            double x = ring->center[k] - hole->center[k] + along * hole->normal[k];
            across2 += x * x;
        }
        double slack = 2.0 * d->v.grid.h + own_reach(hole);
        if (along > -slack && along < hole->bore_length + slack && across2 < slack * slack)
            return true;
    }
    return false;
}

static vug_status find_narrow_holes(detection *d)
{
    vugi_mouth *ring = NULL;
    size_t count = 0;
    vug_status status = vugi_rings_find(d->ctx, d->part, d->other, &d->v, &ring, &count);
    for (size_t i = 0; i < count && !status; i++) {
        bool done = ring_is_known(d, ring + i);
        if (!done)
            status = find_at(d, vugi_cylinder_find, ring + i, &done);
        if (!status && !done)
            status = find_at(d, vugi_mouth_follow, ring + i, &done);
    }
    vugi_free(&d->ctx->mem, ring);
    return status;
}

static vug_status find_holes(detection *d)
{
    if (d->v.cavity_count == 0)
        return VUG_OK;
    vug_status status = vugi_tree_build(d->ctx, d->part, &d->tree);
    if (status || !d->closed)
        return status;
    status = vugi_step(d->ctx, 0.72);
    if (status)
        return status;
    d->other = vugi_alloc(&d->ctx->mem, 3 * d->part->triangle_count, sizeof *d->other);
    status = d->other ? vugi_mesh_neighbours(d->ctx, d->part, d->other) : vugi_fail_memory(d->ctx);
    if (!status)
        status = vugi_step(d->ctx, 0.74);
    if (!status)
        status = find_wide_holes(d);
    if (!status)
        status = vugi_step(d->ctx, 0.77);
    if (!status)
        status = find_narrow_holes(d);
    return status;
}

/* ---- all of it ---------------------------------------------------------------- */

static vug_status take_named(detection *d, const vugi_hole *named, size_t count)
{
    if (!vugi_reserve(&d->ctx->mem, &d->hole, &d->hole_room, count + 1, sizeof *d->hole))
        return vugi_fail_memory(d->ctx);
    if (count > 0)
        memcpy(d->hole, named, count * sizeof *named);
    d->named_count = d->hole_count = count;
    return VUG_OK;
}

/* Takes out the holes found that lead nowhere. *none: there were none. */
static void drop_astray(detection *d, const bool *astray, bool *none)
{
    size_t kept = 0;
    *none = true;
    for (size_t i = 0; i < d->hole_count; i++) {
        if (astray[i])
            *none = false;
        else
            d->hole[kept++] = d->hole[i];
    }
    d->hole_count = kept;
}

static vug_status build_nothing(detection *d, vug_cavities **out)
{
    *out = vugi_cavities_new(&d->ctx->mem, d->part);
    return *out ? VUG_OK : vugi_fail_memory(d->ctx);
}

/* Cuts, and cuts again without the holes that turn out to lead nowhere. */
static vug_status build(detection *d, double min_volume, vug_cavities **out)
{
    if (!d->closed)
        return build_nothing(d, out);
    bool *astray = vugi_alloc(&d->ctx->mem, d->hole_count + 1, sizeof *astray);
    bool done = false;
    vug_status status = astray ? VUG_OK : vugi_fail_memory(d->ctx);
    while (!status && !done) {
        vug_cavities *made = NULL;
        memset(astray, 0, d->hole_count * sizeof *astray);
        status = vugi_cavities_build(d->ctx, d->part, d->hole, d->hole_count, min_volume, astray,
            &made);
        if (status)
            break;
        drop_astray(d, astray, &done);
        if (done)
            *out = made;
        else
            vug_cavities_free(made);
    }
    vugi_free(&d->ctx->mem, astray);
    if (status == VUG_ERR_MESH && d->named_count == 0)
        status = build_nothing(d, out);
    return status;
}

/* ---- the grid's cavities and the mesh's ------------------------------------------ */

static double grid_volume(const vugi_void *v, int32_t number)
{
    double cells = 0.0;
    for (size_t i = 0; i < v->chamber_count; i++)
        if (v->chamber[i].cavity == number)
            cells += (double)v->chamber[i].cells;
    return cells * v->grid.h * v->grid.h * v->grid.h;
}

/* The cavity of the mesh that holds the deepest point of cavity number `number` of the grid, or -1. */
static int32_t holder(const detection *d, const vug_cavities *c, int32_t number)
{
    size_t first = 0;
    double peak[3];
    while (d->v.chamber[first].cavity != number)
        first++;
    vugi_grid_point(&d->v.grid, d->v.chamber[first].peak, peak);
    for (size_t i = 0; i < c->cavity_count; i++) {
        const vug_mesh *mesh = c->cavity[i].mesh;
        bool inside = true;
        for (int k = 0; k < 3; k++)
            inside = inside && peak[k] > mesh->lo[k] && peak[k] < mesh->hi[k];
        if (inside && vugi_winding(mesh, peak) > 0.5)
            return (int32_t)i;
    }
    return -1;
}

static vug_status add_gridded(detection *d, int32_t number, vug_cavities *c)
{
    vugi_cavity cavity;
    vugi_opening *opening = NULL;
    size_t count = 0;
    vug_status status = vugi_gridded_cavity(d->ctx, &d->v, number, &cavity, &opening, &count);
    if (status)
        return status;
    status = vugi_places_add(d->ctx, &d->tree, &d->v, number, &cavity);
    if (!status)
        status = vugi_cavities_insert(d->ctx, c, &cavity, opening, count);
    if (status) {
        vugi_cavity_free(&d->ctx->mem, &cavity);
        for (size_t i = 0; i < count; i++)
            vugi_free(&d->ctx->mem, opening[i].outline);
    } else {
        vugi_warn(d->ctx,
            "a cavity of %.4g mm3 around (%.4g, %.4g, %.4g) is measured on the grid of "
            "%.3g mm: its openings could not be cut in the mesh",
            cavity.volume, cavity.centroid[0], cavity.centroid[1], cavity.centroid[2], d->v.grid.h);
    }
    vugi_free(&d->ctx->mem, opening);
    return status;
}

/* Takes out cavities of the mesh that the grid does not confirm. of: of each cavity of the grid, goes along. */
static void drop_wrong(const detection *d, vug_cavities *c, int32_t *of)
{
    for (size_t j = c->cavity_count; j-- > 0;) {
        if (vugi_void_confirms(&d->v, c, j, of))
            continue;
        vugi_cavities_remove(c, j);
        for (size_t i = 0; i < d->v.cavity_count; i++) {
            if (of[i] == (int32_t)j)
                of[i] = -1;
            else if (of[i] > (int32_t)j)
                of[i]--;
        }
    }
}

/* Each cavity of the grid gives its chambers to its counterpart, or becomes one itself. */
static vug_status reconcile(detection *d, double min_volume, vug_cavities *c)
{
    vug_status status = VUG_OK;
    size_t count = d->v.cavity_count;
    int32_t *of = vugi_alloc(&d->ctx->mem, count, sizeof *of);
    if (!of)
        return vugi_fail_memory(d->ctx);
    for (size_t i = 0; i < count && !status; i++) {
        of[i] = holder(d, c, (int32_t)i);
        status = vugi_step(d->ctx, 0.95);
    }
    if (!status)
        drop_wrong(d, c, of);
    for (size_t i = 0; i < count && !status; i++)
        if (of[i] >= 0)
            status = vugi_places_add(d->ctx, &d->tree, &d->v, (int32_t)i, c->cavity + of[i]);
    for (size_t i = 0; i < count && !status; i++)
        if (of[i] < 0 && grid_volume(&d->v, (int32_t)i) >= min_volume)
            status = add_gridded(d, (int32_t)i, c);
    vugi_free(&d->ctx->mem, of);
    return status;
}

/* Enough of the lines through the mesh must be closed for a majority to mean anything. */
static vug_status check_leaks(detection *d)
{
    const vugi_sign_report *sign = &d->v.sign;
    if (sign->leaking > 0.05 * (double)sign->columns)
        return vugi_fail(d->ctx, VUG_ERR_MESH,
            "the mesh is too open to tell inside from outside: %.0f %% of the lines through it end "
            "in "
            "a gap; close it first",
            100.0 * (double)sign->leaking / (double)sign->columns);
    if (!d->closed)
        vugi_warn(d->ctx,
            "the mesh is not closed: its cavities are measured on a grid of %.3g mm "
            "(%.2g %% of the lines through it end in a gap)",
            d->v.grid.h, 100.0 * (double)sign->leaking / (double)sign->columns);
    return VUG_OK;
}

/* On as many cells as were asked for, or as the part needs. */
static vug_status look(detection *d, const vug_cavity_options *options, uint32_t *across)
{
    vugi_void_rule rule = {(int32_t)options->cells_across, options->min_ratio, CHAMBER_RATIO};
    bool free_choice = rule.cells_across == 0;
    vugi_range saved = vugi_progress_enter(d->ctx, 0.0, 0.7, "looking for cavities");
    if (free_choice)
        rule.cells_across = CELLS_FIRST;
    vug_status status = vugi_void_build(d->ctx, d->part, &rule, &d->v);
    vugi_progress_leave(d->ctx, saved);
    const double finer = (double)CELLS_FINE / CELLS_FIRST;
    if (!status && free_choice && d->v.coarse
        && (double)vugi_grid_count(&d->v.grid) * finer * finer * finer <= CELLS_MOST) {
        vugi_void_free(&d->ctx->mem, &d->v);
        rule.cells_across = CELLS_FINE;
        saved = vugi_progress_enter(d->ctx, 0.7, 0.72, "looking closer");
        status = vugi_void_build(d->ctx, d->part, &rule, &d->v);
        vugi_progress_leave(d->ctx, saved);
    }
    *across = (uint32_t)rule.cells_across;
    return status;
}

vug_status vugi_cavities_detect(vug_context *ctx, const vug_mesh *part, bool closed,
    const vugi_hole *named, size_t named_count, const vug_cavity_options *options,
    vug_cavities **out)
{
    detection d = {.ctx = ctx, .part = part, .closed = closed};
    vug_cavities *made = NULL;
    uint32_t across = 0;
    vug_status status = take_named(&d, named, named_count);
    if (!status)
        status = look(&d, options, &across);
    if (!status)
        status = check_leaks(&d);
    if (!status)
        status = find_holes(&d);
    if (!status)
        status = vugi_step(ctx, 0.8);
    if (!status) {
        vugi_range saved = vugi_progress_enter(ctx, 0.8, 0.95, "cutting");
        status = build(&d, options->min_volume_mm3, &made);
        vugi_progress_leave(ctx, saved);
    }
    if (!status)
        status = reconcile(&d, options->min_volume_mm3, made);
    if (!status) {
        made->cells_across = across;
        made->cell = d.v.grid.h;
        *out = made;
        made = NULL;
    }
    vug_cavities_free(made);
    vugi_void_free(&ctx->mem, &d.v);
    vugi_tree_free(&d.tree);
    vugi_free(&ctx->mem, d.other);
    vugi_free(&ctx->mem, d.hole);
    return status;
}
