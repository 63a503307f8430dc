/* SPDX-License-Identifier: MIT */
#include "cavity/hole.h"

#include "base/angle.h"
#include "base/root.h"
#include "base/sort.h"
#include "base/vec.h"
#include "cavity/cap.h"
#include "cavity/depth.h"
#include "cavity/ray.h"
#include "cavity/rim.h"
#include "cavity/sink.h"

#include "mesh/edges.h"
#include "mesh/hit.h"

#include <math.h>
#include <string.h>

/* How far the search for a hole goes, in reaches. */
static const double SEARCH_OUT = 1.0, SEARCH_IN = 4.0, BORE_MOST = 10.0;

/* Of bores that cross, a place is on the wall of one if it is off the median distance from its axis by no more than so
 * many times what half of all are, and so much of that distance. */
static const double ASIDE = 3.0, SMOOTH = 0.01;

/* An oblique section of a bore is no wider than that, in areas of the bore. */
static const double WIDER = 2.0;

/* A mouth whose middle is so far off the axis, in radii, is amid a bend. */
static const double BENT = 0.1;

typedef struct search {
    vug_context *ctx;
    const vug_mesh *part;
    const uint32_t *other;
    const vugi_hole *hole; /* its normal is the bore's axis */
    double normal[3];      /* of the planes; another one for an oblique bore */
    double reach;
    uint32_t *near_list;
    size_t near_count;
    /* Of those triangles: how far along the planes' normal they reach from the hole, lowest and highest in turn; room for the
     * numbers of those that a plane meets. NULL: not known. */
    double *heights;
    uint32_t *met;
    double along[3]; /* the normal for which they are known */
} search;

/* The hole in one plane. */
typedef struct section {
    vugi_plane plane;
    vugi_loop loop;
} section;

static void along(const vugi_hole *hole, double depth, double p[3])
{
    for (int k = 0; k < 3; k++)
        p[k] = hole->center[k] - depth * hole->normal[k];
}

static void forget_heights(search *s)
{
    vugi_free(&s->ctx->mem, s->heights);
    vugi_free(&s->ctx->mem, s->met);
    s->heights = NULL;
    s->met = NULL;
}

/* The triangles that can matter: those whose bounds come within radius of the hole. */
static vug_status list_near(search *s, double radius)
{
    const vug_mesh *mesh = s->part;
    size_t capacity = 0;
    s->near_count = 0;
    forget_heights(s);
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        const uint32_t *v = mesh->triangles + 3 * t;
        double d2 = 0.0;
        for (int k = 0; k < 3; k++) {
            double a = mesh->xyz[3 * (size_t)v[0] + (size_t)k];
            double b = mesh->xyz[3 * (size_t)v[1] + (size_t)k];
            double c = mesh->xyz[3 * (size_t)v[2] + (size_t)k];
            double lo = vugi_lesser(a, vugi_lesser(b, c)), x = s->hole->center[k];
            double hi = vugi_greater(a, vugi_greater(b, c));
            double d = vugi_greater(0.0, vugi_greater(lo - x, x - hi));
            d2 += d * d;
        }
        if (d2 > radius * radius)
            continue;
        if (!vugi_reserve(&s->ctx->mem, &s->near_list, &capacity, s->near_count + 1,
                sizeof *s->near_list))
            return vugi_fail_memory(s->ctx);
        s->near_list[s->near_count++] = (uint32_t)t;
    }
    return VUG_OK;
}

static vug_status measure_heights(search *s)
{
    if (s->heights && memcmp(s->along, s->normal, sizeof s->along) == 0)
        return VUG_OK;
    forget_heights(s);
    memcpy(s->along, s->normal, sizeof s->along);
    s->heights = vugi_alloc(&s->ctx->mem, 2 * s->near_count, sizeof *s->heights);
    s->met = vugi_alloc(&s->ctx->mem, s->near_count, sizeof *s->met);
    if (!s->heights || !s->met)
        return vugi_fail_memory(s->ctx);
    for (size_t i = 0; i < s->near_count; i++) {
        const uint32_t *v = s->part->triangles + 3 * (size_t)s->near_list[i];
        double lo = INFINITY, hi = -INFINITY, d[3];
        for (int k = 0; k < 3; k++) {
            vugi_subtract(s->part->xyz + 3 * (size_t)v[k], s->hole->center, d);
            const double at = vugi_dot(d, s->normal);
            lo = at < lo ? at : lo;
            hi = at > hi ? at : hi;
        }
        s->heights[2 * i] = lo;
        s->heights[2 * i + 1] = hi;
    }
    return VUG_OK;
}

/* The triangles that a plane at this height meets, and those that it may by rounding. */
static size_t list_met(search *s, double height)
{
    const double slack = 1e-6 * s->reach;
    size_t count = 0;
    for (size_t i = 0; i < s->near_count; i++)
        if (s->heights[2 * i] <= height + slack && s->heights[2 * i + 1] >= height - slack)
            s->met[count++] = s->near_list[i];
    return count;
}

/* The loop around the hole's axis at a depth below its centre. */
static vug_status loop_at(search *s, double depth, double reach, section *cut, bool *found)
{
    double center[3];
    vug_status status = vugi_step(s->ctx, 0.0);
    if (!status)
        status = measure_heights(s);
    if (status)
        return status;
    along(s->hole, depth, center);
    cut->plane = vugi_plane_at(center, s->normal);
    const size_t count = list_met(s, -depth * vugi_dot(s->hole->normal, s->normal));
    return vugi_section_hole(s->ctx, s->part, s->other, s->met, count, &cut->plane, reach,
        &cut->loop, found);
}

/* Steps inward from depth `from` to `to` until there is a closed loop: *bad is the last depth without,
 * *good the first with one. */
static vug_status step_inward(search *s, double from, double to, double step, section *cut,
    double *bad, double *good, bool *found)
{
    vug_status status = VUG_OK;
    *found = false;
    for (*good = from; *good <= to && !status && !*found;) {
        *bad = *good;
        *good += step;
        status = loop_at(s, *good, s->hole->reach, cut, found);
    }
    return status;
}

typedef struct loop_search {
    search *s;
    section *cut;
    vug_status status;
} loop_search;

static bool no_loop(void *user, double depth)
{
    loop_search *t = user;
    bool found = false;
    if (!t->status)
        t->status = loop_at(t->s, depth, t->s->reach, t->cut, &found);
    return !found;
}

/* Outermost depth with a closed loop: steps inward, closer ones if the wall is thin, then halves
 * the last step. */
static vug_status outermost(search *s, section *cut, double *depth, bool *found)
{
    double reach = s->reach, bad = 0.0, good = 0.0;
    vug_status status = step_inward(s, -SEARCH_OUT * reach, SEARCH_IN * reach, 0.05 * reach, cut,
        &bad, &good, found);
    if (!status && !*found)
        status = step_inward(s, -0.3 * reach, 0.5 * reach, 0.004 * reach, cut, &bad, &good, found);
    if (*found && !status) {
        loop_search t = {s, cut, VUG_OK};
        vugi_halve(no_loop, &t, &bad, &good, 16, 0.0);
        status = t.status;
    }
    if (*found && !status) {
        good += 1e-4 * reach; /* clear of the rim itself */
        status = loop_at(s, good, reach, cut, found);
    }
    *depth = good;
    return status;
}

/* Is the way out along the axis open? A dead end behind a wall has loops, but is no hole. */
static bool open_outside(const search *s, double depth)
{
    double from[3];
    along(s->hole, depth, from);
    double wall = vugi_ray_hit(s->part, from, s->hole->normal, 0.0, NULL);
    return wall > fmax(depth, 0.0) + 0.5 * s->hole->reach;
}

/* Length of the bore below depth: until the loop widens by half its area, shrinks away or ends.
 * *widens: it ended by widening. */
static vug_status bore_length(search *s, const section *cap, double depth, double *length,
    bool *widens)
{
    section trial = {.loop = {.count = 0}};
    double reach = s->reach, step = 0.1 * sqrt(cap->loop.area), good = depth, bad;
    double wide = 1.5 * cap->loop.area, most = depth + BORE_MOST * reach;
    bool narrow = true;
    vug_status status = VUG_OK;
    *widens = false;
    for (bad = depth + step; bad < most && narrow && !status; bad += step) {
        bool found;
        status = loop_at(s, bad, 2.0 * reach, &trial, &found);
        narrow = found && trial.loop.area < wide;
        *widens = found && !narrow;
        if (narrow)
            good = bad;
    }
    for (int i = 0; i < 12 && !narrow && !status; i++) {
        bool found;
        double middle = 0.5 * (good + good + step);
        status = loop_at(s, middle, 2.0 * reach, &trial, &found);
        if (found && trial.loop.area < wide)
            good = middle;
        else
            step *= 0.5;
    }
    vugi_loop_free(&s->ctx->mem, &trial.loop);
    *length = good - depth;
    return status;
}

/* Does the bore end on solid, as a hollow in the skin does, or where it turns? */
static bool dead_end(const search *s, const section *cap, double depth)
{
    double end[3], inward[3];
    along(s->hole, depth, end);
    for (int k = 0; k < 3; k++)
        inward[k] = -s->hole->normal[k];
    return vugi_ray_hit(s->part, end, inward, 0.0, NULL) < 0.3 * sqrt(cap->loop.area);
}

/* ---- no section ------------------------------------------------------------------- */

/* An oblique bore in a thin wall may have no section: its rim reaches further in on one side than its mouth
 * does on the other. Its wall is there all around all the same, found from the axis place by place. */
enum { RING = 36, RING_DEPTHS = 48 };

/* Sine of the angle that a wall may be off the named axis by, and how far from it, in diameters. */
static const double RING_STEEP = 0.2, RING_LEAST = 0.4, RING_MOST = 0.6;

/* The wall of the bore from a depth of its axis in a direction across. */
static bool wall_at(const search *s, double depth, const double across[3], uint32_t *triangle,
    double point[3])
{
    const vug_mesh *mesh = s->part;
    double from[3], nearest = INFINITY, n[3];
    along(s->hole, depth, from);
    for (size_t i = 0; i < s->near_count; i++) {
        bool out;
        double t = vugi_mesh_hit(mesh, s->near_list[i], from, across, &out);
        if (t <= 0.0 || t >= nearest)
            continue;
        nearest = t;
        *triangle = s->near_list[i];
    }
    if (!(nearest >= RING_LEAST * s->hole->diameter && nearest <= RING_MOST * s->hole->diameter))
        return false;
    const uint32_t *v = mesh->triangles + 3 * (size_t)*triangle;
    vugi_triangle_cross(mesh->xyz + 3 * (size_t)v[0], mesh->xyz + 3 * (size_t)v[1],
        mesh->xyz + 3 * (size_t)v[2], n);
    vugi_normalise(n);
    vugi_along(from, across, nearest, point);
    return fabs(vugi_dot(n, s->hole->normal)) <= RING_STEEP && vugi_dot(n, across) < 0.0;
}

/* Amid the outermost stretch of wall in a direction across, and where that ends inward. */
static bool outermost_wall(const search *s, const double across[3], uint32_t *triangle,
    double point[3], double *depth, double *end)
{
    uint32_t of[RING_DEPTHS];
    double at[RING_DEPTHS][3], reach = s->hole->reach, from = -1.5 * reach;
    double step = (SEARCH_IN * reach - from) / RING_DEPTHS;
    int count = 0, first = 0;
    for (int i = 0; i < RING_DEPTHS; i++) {
        if (wall_at(s, from + i * step, across, of + count, at[count])) {
            first = count == 0 ? i : first;
            count++;
        } else if (count > 0) {
            break;
        }
    }
    if (count == 0)
        return false;
    *triangle = of[count / 2];
    memcpy(point, at[count / 2], 3 * sizeof *point);
    *depth = from + (first + count / 2) * step;
    *end = from + (first + count - 1) * step;
    return true;
}

/* Of the triangles that can matter those that come as near to the axis as its wall may be: what a ray across meets farther
 * off is none. */
static vug_status list_beside(const search *s, const vugi_plane *across, search *out)
{
    const double most = RING_MOST * s->hole->diameter;
    *out = *s;
    out->near_count = 0;
    out->near_list = vugi_alloc(&s->ctx->mem, s->near_count + 1, sizeof *out->near_list);
    if (!out->near_list)
        return vugi_fail_memory(s->ctx);
    for (size_t i = 0; i < s->near_count; i++) {
        double low[2] = {INFINITY, INFINITY}, high[2] = {-INFINITY, -INFINITY}, d[3];
        for (int k = 0; k < 3; k++) {
            size_t corner = s->part->triangles[3 * (size_t)s->near_list[i] + (size_t)k];
            vugi_subtract(s->part->xyz + 3 * corner, s->hole->center, d);
            const double at[2] = {vugi_dot(d, across->u), vugi_dot(d, across->v)};
            for (int a = 0; a < 2; a++) {
                low[a] = fmin(low[a], at[a]);
                high[a] = fmax(high[a], at[a]);
            }
        }
        if (fmax(low[0], low[1]) <= most && fmin(high[0], high[1]) >= -most)
            out->near_list[out->near_count++] = s->near_list[i];
    }
    return VUG_OK;
}

/* A ring of places on the wall around the axis in place of a section, as far as it is there. depth: of the
 * innermost; end: of the wall's inner end, in the mean. */
static vug_status list_ring(search *s, section *ring, double *depth, double *end)
{
    const vugi_allocator *mem = &s->ctx->mem;
    vugi_loop *loop = &ring->loop;
    search beside;
    ring->plane = vugi_plane_at(s->hole->center, s->hole->normal);
    *depth = -INFINITY;
    *end = 0.0;
    if (!vugi_reserve(mem, &loop->triangle, &loop->capacity, RING, sizeof *loop->triangle)
        || !vugi_reserve(mem, &loop->point, &loop->point_capacity, 3 * (size_t)RING,
            sizeof *loop->point))
        return vugi_fail_memory(s->ctx);
    vug_status status = list_beside(s, &ring->plane, &beside);
    loop->count = 0;
    for (int i = 0; i < RING && !status; i++) {
        double across[3], here, last, angle = 2.0 * VUGI_PI * i / RING;
        for (int k = 0; k < 3; k++)
            across[k] = cos(angle) * ring->plane.u[k] + sin(angle) * ring->plane.v[k];
        if (!outermost_wall(&beside, across, loop->triangle + loop->count,
                loop->point + 3 * loop->count, &here, &last))
            continue;
        loop->count++;
        *depth = fmax(*depth, here);
        *end += last;
    }
    *end /= fmax(1.0, (double)loop->count);
    vugi_free(mem, beside.near_list);
    return status;
}

/* ---- measures --------------------------------------------------------------------- */

/* Nearest that the closed line through the points comes to the axis. */
static double nearest_to_axis(const vugi_wall *w, const double *point, size_t count)
{
    double best = INFINITY, a[3], b[3];
    vugi_wall_frame(w, point + 3 * (count - 1), a);
    for (size_t i = 0; i < count; i++) {
        vugi_wall_frame(w, point + 3 * i, b);
        double ex = b[0] - a[0], ey = b[1] - a[1], l2 = ex * ex + ey * ey;
        double t = l2 > 0.0 ? -(a[0] * ex + a[1] * ey) / l2 : 0.0;
        t = fmin(1.0, fmax(0.0, t));
        best = fmin(best, hypot(a[0] + t * ex, a[1] + t * ey));
        memcpy(a, b, sizeof a);
    }
    return best;
}

/* Area of a closed line seen along the axis. */
static double area_across(const vugi_wall *w, const double *point, size_t count)
{
    double area[3];
    vugi_area_vector(point, count, area);
    return fabs(vugi_dot(area, w->axis));
}

/* The width is that of the bore, the area and the length around are those of the rim. */
static void measure_rim(const vugi_wall *w, const section *narrow, vugi_opening *o)
{
    double level, outer;
    const size_t n = o->outline_count;
    const double *neck = o->outline + 3 * (n + o->mouth_count);
    vugi_wall_level(w, o->outline, n, &outer, o->rim_slope);
    level = outer;
    if (o->neck_count > 0)
        vugi_wall_level(w, neck, o->neck_count, &level, o->rim_slope);
    vugi_opening_rim_size(o, w->axis);
    double across = w->clean ? area_across(w, narrow->loop.point, narrow->loop.count)
                             : VUGI_PI * w->radius * w->radius;
    o->radius = sqrt(fmin(across, area_across(w, o->outline, n)) / VUGI_PI);
    o->inscribed_radius = nearest_to_axis(w, o->outline, n);
    if (w->clean)
        o->inscribed_radius = fmin(o->inscribed_radius,
            nearest_to_axis(w, narrow->loop.point, narrow->loop.count));
    o->inscribed_radius = fmin(o->inscribed_radius, o->radius);
    memcpy(o->axis, w->axis, sizeof o->axis);
    vugi_along(w->origin, w->axis, outer, o->center);
    o->rim_level = level - outer;
}

/* The inner end. A bent bore has its own length along the bend, and the place where it ends. */
static vug_status measure_mouth(search *s, const vugi_wall *w, const section *start, double length,
    const double inner[3], vugi_opening *o)
{
    double beyond = 0.0;
    for (int k = 0; k < 3; k++)
        beyond += (o->center[k] - start->plane.center[k]) * w->axis[k];
    memcpy(o->inner, inner, sizeof o->inner);
    o->bore_length = length + beyond;
    o->mouth_level = -o->bore_length;
    if (o->mouth_count == 0)
        return VUG_OK;
    vugi_opening_mouth(w, o);
    return vugi_bore_depth(s->ctx, s->part, w, o);
}

/* Where a bore has a bend one side of its wall leaves the axis there and the other comes up to it: how far the middle
 * of its mouth, by angles, is off the axis, in radii. */
static double off_axis(const vug_mesh *mesh, const vugi_wall *w)
{
    double middle[2] = {0.0, 0.0}, before[3], here[3], turned = 0.0;
    for (size_t i = 0; i <= w->mouth_count; i++) {
        uint32_t h = w->mouth[i % w->mouth_count];
        vugi_wall_frame(w, mesh->xyz + 3 * (size_t)vugi_edge_from(mesh, h), here);
        double angle = i == 0 ? 0.0
                              : atan2(before[0] * here[1] - before[1] * here[0],
                                  before[0] * here[0] + before[1] * here[1]);
        for (int k = 0; k < 2 && i > 0; k++)
            middle[k] += 0.5 * angle * (before[k] + here[k]);
        turned += angle;
        memcpy(before, here, sizeof before);
    }
    return hypot(middle[0], middle[1]) / (fabs(turned) * w->radius);
}

/* Does the wall reach as far in as the bore was followed, and along one axis? */
static bool is_straight(const vug_mesh *mesh, const vugi_wall *w, const section *start,
    double length, const double inner[3])
{
    double xys[3], begin[3], end = 0.0, r = sqrt(start->loop.area / VUGI_PI);
    vugi_wall_frame(w, inner, xys);
    vugi_wall_frame(w, start->plane.center, begin);
    for (size_t i = 0; i < w->mouth_count; i++) {
        double at[3];
        vugi_wall_frame(w, mesh->xyz + 3 * (size_t)vugi_edge_from(mesh, w->mouth[i]), at);
        end += at[2] / (double)w->mouth_count;
    }
    return w->mouth_count > 0 && hypot(xys[0], xys[1]) < r && length < begin[2] - end + r
        && off_axis(mesh, w) < BENT;
}

static vug_status copy_ends(vug_context *ctx, const vug_mesh *mesh, const vugi_wall *w,
    bool straight, vugi_opening *o)
{
    size_t rim = w->rim_count, mouth = straight ? w->mouth_count : 0, neck = w->neck_count;
    o->outline = vugi_alloc(&ctx->mem, 3 * (rim + mouth + neck), sizeof *o->outline);
    if (!o->outline)
        return vugi_fail_memory(ctx);
    o->outline_count = rim;
    o->mouth_count = mouth;
    o->neck_count = neck;
    for (size_t i = 0; i < rim + mouth + neck; i++) {
        uint32_t h = i < rim  ? w->rim[i]
            : i < rim + mouth ? w->mouth[i - rim]
                              : w->neck[i - rim - mouth];
        memcpy(o->outline + 3 * i, mesh->xyz + 3 * (size_t)vugi_edge_from(mesh, h),
            3 * sizeof *o->outline);
    }
    return VUG_OK;
}

/* The skin's own direction around a hole: the mean of the normals that look its way. */
static bool skin_normal(const search *s, double normal[3])
{
    const vug_mesh *mesh = s->part;
    const vugi_hole *hole = s->hole;
    double sum[3] = {0.0, 0.0, 0.0};
    for (size_t i = 0; i < s->near_count; i++) {
        const uint32_t *v = mesh->triangles + 3 * (size_t)s->near_list[i];
        const double *a = mesh->xyz + 3 * (size_t)v[0], *b = mesh->xyz + 3 * (size_t)v[1];
        const double *c = mesh->xyz + 3 * (size_t)v[2];
        double n[3], d2 = INFINITY;
        for (int corner = 0; corner < 3; corner++)
            d2 = fmin(d2, vugi_square_distance(mesh->xyz + 3 * (size_t)v[corner], hole->center));
        vugi_triangle_cross(a, b, c, n);
        double along_axis = vugi_dot(n, hole->normal);
        double size = vugi_length(n);
        if (d2 > hole->reach * hole->reach || along_axis < 0.3 * size)
            continue;
        for (int k = 0; k < 3; k++)
            sum[k] += n[k];
    }
    double length = vugi_length(sum);
    for (int k = 0; k < 3 && length > 0.0; k++)
        normal[k] = sum[k] / length;
    return length > 0.0;
}

/* A cap square to the hole's axis if the wall closes around it there, else one along the skin, as an
 * oblique bore in a thin wall needs. */
static vug_status find_cap(search *s, section *cut, double *depth, bool *found)
{
    vug_status status = outermost(s, cut, depth, found);
    if (status || *found || !skin_normal(s, s->normal))
        return status;
    s->reach *= 1.5;
    return outermost(s, cut, depth, found);
}

/* A section a little down the bore, clear of its ends, if it is no wider than that at its outer end. */
static vug_status go_down(search *s, double depth, double length, section *cut)
{
    section trial = {.loop = {.count = 0}};
    double r = sqrt(cut->loop.area / VUGI_PI);
    bool found;
    vug_status status = loop_at(s, depth + fmin(0.5 * length, 2.0 * r), s->reach, &trial, &found);
    if (!status && found && trial.loop.area <= 1.02 * cut->loop.area) {
        section swap = *cut;
        *cut = trial;
        trial = swap;
    }
    vugi_loop_free(&s->ctx->mem, &trial.loop);
    return status;
}

/* Grows the wall from a section that starts at a depth, with what is known of the bore behind it. */
static vug_status grow_from(search *s, double depth, double length, const double inner[3],
    section *cut, vugi_wall *wall, vugi_opening *o, bool *found)
{
    section narrow = {.loop = {.count = 0}};
    vug_status status = loop_at(s, depth, s->reach, &narrow, found);
    if (!status && *found)
        status = go_down(s, depth, length, &narrow);
    if (!status && *found) { /* seen along the bore's axis: the section may be oblique */
        const vugi_plane across = vugi_plane_at(narrow.plane.center, s->hole->normal);
        status = vugi_wall_grow(s->ctx, s->part, s->other, &across, &narrow.loop, wall, found);
    }
    if (!status && !*found)
        status = vugi_wall_strip(s->ctx, s->part, s->other, &cut->plane, &cut->loop, wall, found);
    if (!status && *found)
        status = vugi_sink_find(s->ctx, s->part, s->other, wall);
    if (!status && *found)
        status = copy_ends(s->ctx, s->part, wall, is_straight(s->part, wall, cut, length, inner),
            o);
    if (!status && *found) {
        measure_rim(wall, &narrow, o);
        vugi_cap_fit(s->part, s->other, wall, o);
        status = measure_mouth(s, wall, cut, length, inner, o);
        vugi_opening_find_wall(o);
    }
    vugi_loop_free(&s->ctx->mem, &narrow.loop);
    return status;
}

/* A named hole that has no section. Its bore is known by the wall alone. */
static vug_status place_ring(search *s, section *ring, vugi_wall *wall, vugi_opening *o,
    bool *found)
{
    double depth, length, inner[3];
    vug_status status = list_ring(s, ring, &depth, &length);
    *found = !status && ring->loop.count == RING && open_outside(s, depth);
    if (!status && *found)
        status = vugi_wall_grow(s->ctx, s->part, s->other, &ring->plane, &ring->loop, wall, found);
    if (!status && *found && wall->ends < 2) { /* a hollow in the skin */
        vugi_wall_free(&s->ctx->mem, wall);
        *found = false;
    }
    if (!status && *found)
        status = copy_ends(s->ctx, s->part, wall, true, o);
    if (!status && *found) {
        measure_rim(wall, ring, o);
        vugi_cap_fit(s->part, s->other, wall, o);
        along(s->hole, length, inner);
        status = measure_mouth(s, wall, ring, length, inner, o);
        vugi_opening_find_wall(o);
    }
    return status;
}

/* A hole whose bore is known already. */
static vug_status place_known(search *s, section *cut, vugi_wall *wall, vugi_opening *o,
    bool *found)
{
    const vugi_hole *hole = s->hole;
    vug_status status = list_near(s, s->reach);
    if (!status)
        status = loop_at(s, 0.0, s->reach, cut, found);
    if (!status && *found)
        status = grow_from(s, 0.0, hole->bore_length, hole->inner, cut, wall, o, found);
    return status;
}

/* Is a section so far in and so much wider than the bore that someone named that it is the room behind? A countersunk
 * bore is wide at the skin. */
static bool is_beyond(const search *s, const section *cut, double depth)
{
    double d = s->hole->diameter;
    return d > 0.0 && depth > d && cut->loop.area > WIDER * 0.25 * VUGI_PI * d * d;
}

/* A hole that someone named. */
static vug_status place_named(search *s, section *cut, vugi_wall *wall, vugi_opening *o,
    bool *found)
{
    double depth = 0.0, length = 0.0, inner[3];
    bool widens;
    vug_status status = list_near(s, (BORE_MOST + SEARCH_IN + 2.0) * s->hole->reach);
    if (!status)
        status = find_cap(s, cut, &depth, found);
    if (!status && (!*found || is_beyond(s, cut, depth))) {
        section ring = {.loop = {.count = 0}};
        bool seen = *found, placed;
        status = place_ring(s, &ring, wall, o, &placed);
        vugi_loop_free(&s->ctx->mem, &ring.loop);
        *found = placed;
        if (status || placed || !seen)
            return status;
        *found = true;
    }
    *found = *found && open_outside(s, depth);
    if (status || !*found)
        return status;
    status = bore_length(s, cut, depth, &length, &widens);
    if (!status)
        status = vugi_step(s->ctx, 0.0);
    if (status)
        return status;
    along(s->hole, depth + length, inner);
    status = grow_from(s, depth, length, inner, cut, wall, o, found);
    if (!status && *found && !widens && wall->ends < 2 && dead_end(s, cut, depth + length)) {
        vugi_wall_free(&s->ctx->mem, wall);
        vugi_free(&s->ctx->mem, o->outline);
        o->outline = NULL;
        *found = false;
    }
    return status;
}

/* ---- one rim of several -------------------------------------------------------------- */

static bool passes(const vugi_hole *p, const vugi_hole *q, double reach)
{
    double away[3];
    vugi_subtract(q->center, p->center, away);
    double along = vugi_dot(away, p->normal), far2 = vugi_dot(away, away);
    return fabs(along) < reach && far2 - along * along < reach * reach;
}

bool vugi_holes_meet(const vugi_hole *p, const vugi_hole *q)
{
    double reach = p->diameter + q->diameter; /* a rim is longer than its bore is wide */
    return p->diameter > 0.0 && q->diameter > 0.0 && !p->placed && !q->placed
        && vugi_dot(p->normal, q->normal) > 0.0 && passes(p, q, reach) && passes(q, p, reach);
}

static int compare_lengths(const void *left, const void *right, const void *user)
{
    (void)user;
    const double *p = left, *q = right;
    return (*p > *q) - (*p < *q);
}

static double median_of(const vugi_allocator *mem, double *x, size_t count)
{
    return vugi_sort(mem, x, count, sizeof *x, compare_lengths, NULL) ? x[count / 2] : NAN;
}

/* Drops places of a ring that are not as far from the axis as most: they are of another bore's wall. */
static vug_status keep_own(const search *s, vugi_loop *loop)
{
    const vugi_allocator *mem = &s->ctx->mem;
    const size_t n = loop->count;
    double *away = vugi_alloc(mem, 2 * n + 1, sizeof *away), *scratch = away + n;
    if (!away)
        return vugi_fail_memory(s->ctx);
    for (size_t i = 0; i < n; i++) {
        double d[3];
        vugi_subtract(loop->point + 3 * i, s->hole->center, d);
        double along = vugi_dot(d, s->hole->normal);
        scratch[i] = away[i] = sqrt(fmax(0.0, vugi_dot(d, d) - along * along));
    }
    const double middle = n > 0 ? median_of(mem, scratch, n) : 0.0;
    for (size_t i = 0; i < n; i++)
        scratch[i] = fabs(away[i] - middle);
    const double off = n > 0 ? median_of(mem, scratch, n) : 0.0;
    loop->count = 0;
    for (size_t i = 0; i < n; i++) {
        if (!(fabs(away[i] - middle) <= ASIDE * off + SMOOTH * middle))
            continue;
        loop->triangle[loop->count] = loop->triangle[i];
        memmove(loop->point + 3 * loop->count++, loop->point + 3 * i, 3 * sizeof *loop->point);
    }
    vugi_free(mem, away);
    return VUG_OK;
}

static vug_status list_rings(vug_context *ctx, const vug_mesh *part, const uint32_t *other,
    const vugi_hole *const *hole, size_t count, vugi_plane *plane, vugi_loop *loop)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; i < count && !status; i++) {
        search s = {.ctx = ctx, .part = part, .other = other, .hole = hole[i]};
        section ring = {.loop = {.count = 0}};
        double depth, end;
        s.reach = hole[i]->reach;
        status = list_near(&s, (SEARCH_IN + 2.0) * s.reach);
        if (!status)
            status = list_ring(&s, &ring, &depth, &end);
        if (!status)
            status = keep_own(&s, &ring.loop);
        plane[i] = ring.plane;
        loop[i] = ring.loop;
        vugi_free(&ctx->mem, s.near_list);
    }
    return status;
}

/* Both bores are between the opening and the cavity: it has no mouth of its own, and is as long as the wall of the
 * bores is all around. */
static void measure_joined(const vug_mesh *mesh, const vugi_wall *w, vugi_opening *o)
{
    const section none = {.loop = {.count = 0}};
    double height = 0.0;
    measure_rim(w, &none, o);
    if (w->mouth_count > 0)
        vugi_wall_winding(mesh, w, w->mouth, w->mouth_count, &height);
    vugi_wall_frame(w, o->center, o->inner);
    o->bore_length = fmax(0.0, o->inner[2] - height);
    o->mouth_level = -o->bore_length;
    vugi_along(o->center, w->axis, -o->bore_length, o->inner);
}

/* Does a rim go around the first of some bores and another one, if there is one? */
static bool is_shared(const bool *around, size_t count)
{
    size_t others = count == 1;
    for (size_t i = 1; i < count; i++)
        others += around[i];
    return around[0] && others > 0;
}

vug_status vugi_hole_join(vug_context *ctx, const vug_mesh *part, const uint32_t *other,
    const vugi_hole *const *hole, size_t count, vugi_wall *wall, vugi_opening *opening,
    bool *around, bool *found)
{
    const vugi_allocator *mem = &ctx->mem;
    vugi_plane *plane = vugi_alloc(mem, count, sizeof *plane);
    vugi_loop *loop = vugi_calloc(mem, count, sizeof *loop);
    vug_status status = plane && loop ? list_rings(ctx, part, other, hole, count, plane, loop)
                                      : vugi_fail_memory(ctx);
    *found = false;
    if (!status)
        status = vugi_wall_join(ctx, part, other, plane, loop, count, wall, around, found);
    if (!status && *found && !is_shared(around, count)) {
        vugi_wall_free(mem, wall);
        *found = false;
    }
    if (!status && *found) {
        wall->clean = false; /* there is no section */
        status = copy_ends(ctx, part, wall, false, opening);
    }
    if (!status && *found) {
        measure_joined(part, wall, opening);
        vugi_cap_fit(part, other, wall, opening);
    }
    for (size_t i = 0; i < count && loop; i++)
        vugi_loop_free(mem, loop + i);
    vugi_free(mem, plane);
    vugi_free(mem, loop);
    return status;
}

/* ---- any hole ------------------------------------------------------------------------- */

/* Does the bore's outer end go farther from the axis that someone named than its bore is wide? Where bores cross right
 * below the skin a section across one goes through the others. */
static bool strays(const vugi_hole *hole, const vugi_opening *o)
{
    const size_t from = o->neck_count > 0 ? o->outline_count + o->mouth_count : 0;
    const size_t count = o->neck_count > 0 ? o->neck_count : o->outline_count;
    bool far = false;
    for (size_t i = from; i < from + count; i++) {
        double d[3];
        vugi_subtract(o->outline + 3 * i, hole->center, d);
        double along = vugi_dot(d, hole->normal);
        far |= vugi_dot(d, d) - along * along > hole->diameter * hole->diameter;
    }
    return far;
}

/* A rim that strays gives way to one that the bore's own wall has, if there is one. */
static vug_status keep_to_own(search *s, vugi_wall *wall, vugi_opening *opening)
{
    const vugi_allocator *mem = &s->ctx->mem;
    vugi_wall own = {.rim = NULL};
    vugi_opening by_own = {.cavity = -1};
    bool around, found;
    if (!strays(s->hole, opening))
        return VUG_OK;
    vug_status status = vugi_hole_join(s->ctx, s->part, s->other, &s->hole, 1, &own, &by_own,
        &around, &found);
    if (!status && found && !strays(s->hole, &by_own)) {
        vugi_wall swap = *wall;
        *wall = own;
        own = swap;
        vugi_free(mem, opening->outline);
        *opening = by_own;
        by_own.outline = NULL;
    }
    vugi_wall_free(mem, &own);
    vugi_free(mem, by_own.outline);
    return status;
}

/* A slot is longer than a bore of its area is wide: so many times it is looked for. */
static const double SLOT = 2.0;

static vug_status place_slot(search *s, section *cut, vugi_wall *wall, vugi_opening *opening,
    bool *found)
{
    const vugi_hole *named = s->hole;
    vugi_hole slot = *named;
    s->reach = slot.reach = SLOT * named->reach;
    s->hole = &slot;
    memcpy(s->normal, named->normal, sizeof s->normal);
    vug_status status = place_named(s, cut, wall, opening, found);
    s->hole = named;
    return status;
}

vug_status vugi_hole_place(vug_context *ctx, const vug_mesh *part, const uint32_t *other,
    const vugi_hole *hole, vugi_wall *wall, vugi_opening *opening, bool *found)
{
    search s = {.ctx = ctx, .part = part, .other = other, .hole = hole, .reach = hole->reach};
    section cut = {.loop = {.count = 0}};
    *found = false;
    memcpy(s.normal, hole->normal, sizeof s.normal);
    vug_status status = hole->placed ? place_known(&s, &cut, wall, opening, found)
                                     : place_named(&s, &cut, wall, opening, found);
    if (!status && !*found && !hole->placed)
        status = place_slot(&s, &cut, wall, opening, found);
    if (!status && *found && !hole->placed)
        status = keep_to_own(&s, wall, opening);
    forget_heights(&s);
    vugi_loop_free(&ctx->mem, &cut.loop);
    vugi_free(&ctx->mem, s.near_list);
    return status;
}
