/* SPDX-License-Identifier: MIT */
#include "cavity/wall.h"

#include "base/angle.h"
#include "base/circle.h"
#include "base/sort.h"
#include "base/vec.h"
#include "mesh/edges.h"

#include <math.h>
#include <string.h>

/* A corner belongs to the wall up to so much of the radius outside its outline; where the wall is as
 * steep as this (sine of its angle to the axis: 14 degrees), up to so much more. Beyond is the lip: a
 * fillet, a chamfer, a countersink. */
static const double LIP = 0.02, STEEP = 0.2425, FLARE_OUT = 0.42, FLARE_IN = 0.23, NOTCH = 0.25,
                    SLIVER = 0.1, OFF = 0.12;

/* A triangle faces outward from such a cosine to the axis on, and is more than rounding if its height is so much of
 * its length. One that is not has no face, and is on the wall if it leaves the outline by no more than such a
 * share of the radius. */
static const double FACING = 0.5, FLAT = 1e-6, FLAT_OUT = 0.002;

/* Steeper slivers are the skin's if they lie in one plane with skin that leaves the outline. */
static const double FACING_WITH_SKIN = 0.25, ONE_PLANE = 1.0 - 1e-9;

/* An outline is round if its farthest point is at most so many times as far as its nearest; noise of the
 * mesh is inside the circle through the farthest then. */
static const double ROUND = 1.25;

/* And no flat of it is nearer than that of a polygon between a square and a pentagon, in farthest points: of a square
 * that is 0.71, of a pentagon 0.81. */
static const double FLATTEST = 0.75;

enum { FITS = 4, AROUND_MOST = 4096, PATCH = 48, THROUGH = 3, FEW = 6 };

typedef struct growth {
    vug_context *ctx;
    const vug_mesh *mesh;
    const uint32_t *other;
    const vugi_loop *loop;
    vugi_wall *wall;
    double *outline;        /* of the section seen along the axis: x, y */
    double radius, nearest; /* farthest point of it from the axis, and nearest of a round one */
    double equal;           /* mean distance of its points, or radius of the circle of equal area */
    double level;           /* mean s of the section */
    bool round;
    bool gaps; /* its points are what is left of a ring: pieces between them may lie off the wall */
    double *rho;    /* scratch: distances of its points from the axis */
    bool *clean;    /* of each piece of the section: its triangle runs along the axis */
    uint8_t *mark;  /* of each triangle: 1 in the wall, 2 << k when its edge k has been walked */
    uint32_t *list; /* the triangles of the wall */
    size_t count, capacity;
} growth;

void vugi_wall_frame(const vugi_wall *w, const double p[3], double xys[3])
{
    double d[3];
    vugi_subtract(p, w->origin, d);
    xys[0] = vugi_dot(d, w->u);
    xys[1] = vugi_dot(d, w->v);
    xys[2] = vugi_dot(d, w->axis);
}

/* ---- frame --------------------------------------------------------------------- */

static void set_axis(vugi_wall *w, const double origin[3], const double axis[3])
{
    vugi_plane plane = vugi_plane_at(origin, axis);
    memcpy(w->origin, origin, sizeof w->origin);
    memcpy(w->axis, axis, sizeof w->axis);
    memcpy(w->u, plane.u, sizeof w->u);
    memcpy(w->v, plane.v, sizeof w->v);
}

static void move_origin(growth *g, const double to[2])
{
    for (size_t i = 0; i < g->loop->count; i++) {
        g->outline[2 * i] -= to[0];
        g->outline[2 * i + 1] -= to[1];
    }
    for (int k = 0; k < 3; k++)
        g->wall->origin[k] += to[0] * g->wall->u[k] + to[1] * g->wall->v[k];
}

/* Area of the outline and its centroid, moved to the origin. */
static double center_outline(growth *g)
{
    const size_t n = g->loop->count;
    double area = 0.0, cx = 0.0, cy = 0.0;
    for (size_t i = 0; i < n; i++) {
        const double *a = g->outline + 2 * i, *b = g->outline + 2 * ((i + 1) % n);
        double cross = a[0] * b[1] - a[1] * b[0];
        area += 0.5 * cross;
        cx += (a[0] + b[0]) * cross / 6.0;
        cy += (a[1] + b[1]) * cross / 6.0;
    }
    const double center[2] = {cx / area, cy / area};
    if (area > 0.0)
        move_origin(g, center);
    return fmax(area, 0.0);
}

/* Marks the pieces that lie on the wall: that run along the axis and face it. If most do not, the hole is
 * a funnel, and all count. */
static void find_clean(growth *g)
{
    const vugi_loop *loop = g->loop;
    const vugi_wall *w = g->wall;
    size_t count = 0;
    for (size_t i = 0; i < loop->count; i++) {
        const double *p = g->outline + 2 * i, *q = g->outline + 2 * ((i + 1) % loop->count);
        double n[3];
        vugi_triangle_normal(g->mesh, loop->triangle[i], n);
        g->clean[i] = fabs(vugi_dot(n, w->axis)) <= STEEP
            && vugi_dot(n, w->u) * (p[0] + q[0]) + vugi_dot(n, w->v) * (p[1] + q[1]) < 0.0;
        count += g->clean[i];
    }
    g->wall->clean = count == loop->count;
    for (size_t i = 0; i < loop->count && 2 * count < loop->count; i++)
        g->clean[i] = true;
}

static int compare_lengths(const void *left, const void *right, const void *user)
{
    (void)user;
    const double *p = left, *q = right;
    return (*p > *q) - (*p < *q);
}

/* What lies well off the circle that most points share is not its wall. Returns whether there was any, but
 * not so much that the circle is none. */
static bool drop_far(growth *g, const double center[2])
{
    const size_t n = g->loop->count;
    size_t count = 0, dropped = 0;
    for (size_t i = 0; i < n; i++)
        if (g->clean[i])
            g->rho[count++] = hypot(g->outline[2 * i] - center[0],
                g->outline[2 * i + 1] - center[1]);
    if (count == 0
        || !vugi_sort(&g->ctx->mem, g->rho, count, sizeof *g->rho, compare_lengths, NULL))
        return false;
    double median = g->rho[count / 2];
    for (size_t i = 0; i < n; i++) {
        double rho = hypot(g->outline[2 * i] - center[0], g->outline[2 * i + 1] - center[1]);
        if (!g->clean[i] || fabs(rho - median) <= OFF * median)
            continue;
        g->clean[i] = g->wall->clean = false;
        dropped++;
    }
    return dropped > 0 && 3 * dropped < count;
}

/* The circle nearest to the clean points. */
static bool fit_circle(const growth *g, double center[2])
{
    return vugi_circle_fit(g->outline, g->clean, g->loop->count, center);
}

/* Are the clean pieces about a centre on a circle? Points alone are too of a slot that is long: all are at its ends. */
static bool is_round(growth *g, const double center[2])
{
    const size_t n = g->loop->count;
    double sum = 0.0, flat = INFINITY;
    size_t count = 0;
    g->radius = 0.0;
    g->nearest = INFINITY;
    for (size_t i = 0; i < n; i++) {
        if (!g->clean[i])
            continue;
        const double *p = g->outline + 2 * i, *q = g->outline + 2 * ((i + 1) % n);
        double rho = hypot(p[0] - center[0], p[1] - center[1]);
        if (!g->gaps)
            flat = fmin(flat,
                hypot(0.5 * (p[0] + q[0]) - center[0], 0.5 * (p[1] + q[1]) - center[1]));
        g->radius = fmax(g->radius, rho);
        g->nearest = fmin(g->nearest, rho);
        sum += rho;
        count++;
    }
    g->equal = sum / (double)count;
    return g->radius <= ROUND * g->nearest && flat >= FLATTEST * g->radius;
}

static void corner_at(const growth *g, uint32_t t, size_t k, double xys[3])
{
    vugi_wall_frame(g->wall, g->mesh->xyz + 3 * (size_t)g->mesh->triangles[3 * (size_t)t + k], xys);
}

/* Places on a wall need not be its corners, which are farther out. */
static void reach_corners(growth *g)
{
    const double most = (1.0 + LIP) * g->radius;
    for (size_t i = 0; i < 3 * g->loop->count; i++) {
        double xys[3];
        corner_at(g, g->loop->triangle[i / 3], i % 3, xys);
        double rho = hypot(xys[0], xys[1]);
        if (g->clean[i / 3] && rho <= most)
            g->radius = fmax(g->radius, rho);
    }
}

/* Sees the section along the axis. false: it is no outline then. */
static bool see_outline(growth *g)
{
    const vugi_loop *loop = g->loop;
    double center[2];
    g->level = 0.0;
    for (size_t i = 0; i < loop->count; i++) {
        double xys[3];
        vugi_wall_frame(g->wall, loop->point + 3 * i, xys);
        memcpy(g->outline + 2 * i, xys, 2 * sizeof *xys);
        g->level += xys[2] / (double)loop->count;
    }
    find_clean(g);
    g->round = fit_circle(g, center) && is_round(g, center);
    for (int i = 0; i < FITS && fit_circle(g, center) && drop_far(g, center); i++)
        g->round = fit_circle(g, center) && is_round(g, center);
    if (g->round) {
        move_origin(g, center);
        reach_corners(g);
        g->wall->radius = g->equal;
        return true;
    }
    double area = center_outline(g);
    g->equal = g->wall->radius = sqrt(area / VUGI_PI);
    return area > 0.0;
}

/* How far outside the outline a place across the axis lies; below 0: inside. */
static double outside(const growth *g, double x, double y)
{
    if (g->round)
        return hypot(x, y) - g->radius;
    double best2 = INFINITY;
    bool in = false;
    for (size_t i = 0, n = g->loop->count; i < n; i++) {
        const double *a = g->outline + 2 * i, *b = g->outline + 2 * ((i + 1) % n);
        double ex = b[0] - a[0], ey = b[1] - a[1], l2 = ex * ex + ey * ey;
        double t = l2 > 0.0 ? ((x - a[0]) * ex + (y - a[1]) * ey) / l2 : 0.0;
        t = fmin(1.0, fmax(0.0, t));
        double dx = a[0] + t * ex - x, dy = a[1] + t * ey - y;
        best2 = fmin(best2, dx * dx + dy * dy);
        if ((a[1] > y) != (b[1] > y) && x < a[0] + (y - a[1]) / (b[1] - a[1]) * ex)
            in = !in;
    }
    return in ? -sqrt(best2) : sqrt(best2);
}

/* ---- growing ------------------------------------------------------------------- */

/* How far a triangle reaches outside the outline. */
static double farthest(const growth *g, uint32_t t)
{
    double far = -INFINITY;
    for (size_t k = 0; k < 3; k++) {
        double xys[3];
        corner_at(g, t, k, xys);
        far = fmax(far, outside(g, xys[0], xys[1]));
    }
    return far;
}

/* Normal of a triangle, and its height over its longest side as a share of that: the normal of a sliver
 * tells nothing. */
static double shape_of(const growth *g, uint32_t t, double n[3])
{
    const uint32_t *v = g->mesh->triangles + 3 * (size_t)t;
    double longest2 = 0.0, area = vugi_triangle_normal(g->mesh, t, n);
    for (int k = 0; k < 3; k++) {
        const double *p = g->mesh->xyz + 3 * (size_t)v[k];
        longest2 = fmax(longest2,
            vugi_square_distance(p, g->mesh->xyz + 3 * (size_t)v[(k + 1) % 3]));
    }
    return longest2 > 0.0 ? 2.0 * area / longest2 : 0.0;
}

/* A triangle beside the wall: how far it reaches out of the outline, and how far in, its middle, shape and
 * normal. */
typedef struct beside {
    double far, least, middle[3], shape, normal[3], along;
} beside;

static beside look_beside(const growth *g, uint32_t t)
{
    beside b = {.far = -INFINITY, .least = INFINITY};
    for (size_t k = 0; k < 3; k++) {
        double xys[3];
        corner_at(g, t, k, xys);
        double off = outside(g, xys[0], xys[1]);
        b.far = fmax(b.far, off);
        b.least = fmin(b.least, off);
        for (int i = 0; i < 3; i++)
            b.middle[i] += xys[i] / 3.0;
    }
    b.shape = shape_of(g, t, b.normal);
    b.along = vugi_dot(b.normal, g->wall->axis);
    return b;
}

/* Does a triangle lie in one plane with one beside it that leaves the outline? Those without a face, `through` of
 * them, are passed. */
static bool goes_on(const growth *g, uint32_t t, const double normal[3], int through)
{
    for (size_t k = 0; k < 3; k++) {
        uint32_t o = g->other[3 * (size_t)t + k];
        if (o == UINT32_MAX || g->mark[o])
            continue;
        const beside next = look_beside(g, o);
        if (next.shape <= FLAT
                ? through > 0 && goes_on(g, o, normal, through - 1)
                : next.far > LIP * g->equal && vugi_dot(next.normal, normal) > ONE_PLANE)
            return true;
    }
    return false;
}

/* One that lies all along the outline and is part of the skin, or of the cavity's surface, as far as its face tells;
 * one without a face is if it leaves the outline. */
static bool is_sliver(const growth *g, uint32_t t, const beside *b)
{
    const double outward = b->middle[2] > g->level ? b->along : -b->along;
    if (b->least <= -LIP * g->equal)
        return false;
    if (b->shape <= FLAT)
        return b->far > FLAT_OUT * g->equal;
    return outward > FACING_WITH_SKIN && goes_on(g, t, b->normal, THROUGH);
}

/* Does a triangle that hangs together with the wall belong to it? */
static bool belongs(const growth *g, uint32_t t)
{
    const beside b = look_beside(g, t);
    if (b.far <= LIP * g->equal)
        return !(b.middle[2] > g->level && b.along > FACING && b.shape > FLAT
                   && b.least > -LIP * g->equal)
            && !is_sliver(g, t, &b);
    if (b.far > (b.middle[2] > g->level ? FLARE_OUT : FLARE_IN) * g->equal)
        return false;
    return b.shape > SLIVER && fabs(b.along) <= STEEP
        && vugi_dot(b.normal, g->wall->u) * b.middle[0]
            + vugi_dot(b.normal, g->wall->v) * b.middle[1]
        < 0.0;
}

static bool take(growth *g, uint32_t t)
{
    if (g->mark[t])
        return true;
    if (!vugi_reserve(&g->ctx->mem, &g->list, &g->capacity, g->count + 1, sizeof *g->list))
        return false;
    g->mark[t] = 1;
    g->list[g->count++] = t;
    return true;
}

/* Takes in triangles that lie between two edges of the border, so that the ends run smoothly. */
static bool fill_notches(growth *g)
{
    for (size_t i = 0; i < 3 * g->count; i++) {
        uint32_t o = g->other[3 * (size_t)g->list[i / 3] + i % 3];
        size_t sides = 0;
        for (size_t k = 0; k < 3 && o != UINT32_MAX; k++) {
            uint32_t n = g->other[3 * (size_t)o + k];
            sides += n != UINT32_MAX && g->mark[n];
        }
        if (sides < 2)
            continue;
        const beside b = look_beside(g, o);
        if (b.far <= NOTCH * g->equal && !is_sliver(g, o, &b) && !take(g, o))
            return false;
    }
    return true;
}

/* All that hangs together with a triangle outside the wall, if it is not more than a patch: few triangles, none
 * far from the wall, as those of the skin of a plain part are. Returns how many triangles, 0: more. */
static size_t patch_from(const growth *g, uint32_t start, uint32_t patch[PATCH])
{
    size_t count = 1;
    patch[0] = start;
    for (size_t i = 0; i < count; i++) {
        if (farthest(g, patch[i]) > FLARE_OUT * g->equal)
            return 0;
        for (size_t k = 0; k < 3; k++) {
            uint32_t o = g->other[3 * (size_t)patch[i] + k];
            bool known = o == UINT32_MAX || g->mark[o];
            for (size_t j = 0; j < count && !known; j++)
                known = patch[j] == o;
            if (known)
                continue;
            if (count == PATCH)
                return 0;
            patch[count++] = o;
        }
    }
    return count;
}

/* Takes in patches that the wall surrounds. */
static bool fill_patches(growth *g)
{
    uint32_t patch[PATCH];
    for (size_t i = 0; i < 3 * g->count; i++) {
        uint32_t o = g->other[3 * (size_t)g->list[i / 3] + i % 3];
        size_t count = o == UINT32_MAX || g->mark[o] ? 0 : patch_from(g, o, patch);
        for (size_t k = 0; k < count; k++)
            if (!take(g, patch[k]))
                return false;
    }
    return true;
}

/* The triangles of the section that lie on the wall, and what hangs together with them and belongs. */
static bool grow(growth *g)
{
    for (size_t i = 0; i < g->count; i++)
        g->mark[g->list[i]] = 0;
    g->count = 0;
    for (size_t i = 0; i < g->loop->count; i++)
        if (g->clean[i] && farthest(g, g->loop->triangle[i]) <= FLARE_OUT * g->equal
            && !take(g, g->loop->triangle[i]))
            return false;
    for (size_t i = 0; i < g->count; i++) {
        for (size_t k = 0; k < 3; k++) {
            uint32_t o = g->other[3 * (size_t)g->list[i] + k];
            if (o != UINT32_MAX && !g->mark[o] && belongs(g, o) && !take(g, o))
                return false;
        }
    }
    return fill_notches(g) && fill_patches(g);
}

/* ---- the axis -------------------------------------------------------------------- */

/* Does a triangle lie along the outline? */
static bool is_along(const growth *g, uint32_t t)
{
    const beside b = look_beside(g, t);
    const double slack = LIP * g->equal, inside = g->round ? g->nearest - g->radius : 0.0;
    return b.far <= slack && b.least >= inside - slack;
}

/* Direction most nearly square to the normals of the wall, of all of it or of what lies along the outline, weighted by
 * area. false: they do not tell one. Two of three axes of the sum lie across; the third is their cross product. */
static bool fit_axis(const growth *g, bool all, double axis[3])
{
    double a = 0.0, b = 0.0, c = 0.0, p = 0.0, q = 0.0, sum = 0.0;
    for (size_t i = 0; i < g->count; i++) {
        double n[3], area = vugi_triangle_normal(g->mesh, g->list[i], n);
        double x = vugi_dot(n, g->wall->u), y = vugi_dot(n, g->wall->v),
               z = vugi_dot(n, g->wall->axis);
        if (fabs(z) > 0.5 || !(all || is_along(g, g->list[i])))
            continue;
        a += area * x * x;
        b += area * x * y;
        c += area * y * y;
        p += area * x * z;
        q += area * y * z;
        sum += area;
    }
    /* n . (axis + s u + t v) = 0 in the least squares: a 2 by 2 system for s and t. */
    double det = a * c - b * b;
    if (!(det > 1e-3 * sum * sum))
        return false;
    double s = -(c * p - b * q) / det, t = -(a * q - b * p) / det;
    if (s * s + t * t > 4.0)
        return false;
    double length = sqrt(1.0 + s * s + t * t);
    for (int k = 0; k < 3; k++)
        axis[k] = (g->wall->axis[k] + s * g->wall->u[k] + t * g->wall->v[k]) / length;
    return true;
}

/* The axis that the wall shows: by what lies along the outline, for the rest may be another leg of a bore with a bend. */
static bool find_axis(const growth *g, double axis[3])
{
    return fit_axis(g, false, axis) || fit_axis(g, true, axis);
}

/* Grows the wall, and again along the axis that it shows, until that stays. */
static vug_status fit(growth *g, bool *found)
{
    *found = false;
    for (int i = 0; i < FITS; i++) {
        double axis[3], origin[3];
        if (!see_outline(g))
            return VUG_OK;
        if (!grow(g))
            return vugi_fail_memory(g->ctx);
        if (i + 1 == FITS || !find_axis(g, axis) || vugi_dot(axis, g->wall->axis) > 1.0 - 1e-12)
            break;
        memcpy(origin, g->wall->origin, sizeof origin);
        set_axis(g->wall, origin, axis);
    }
    *found = true;
    return VUG_OK;
}

/* ---- its two ends ------------------------------------------------------------------ */

uint32_t vugi_across(const vug_mesh *mesh, const uint32_t *other, uint32_t h)
{
    uint32_t o = other[h], from = vugi_edge_from(mesh, h), to = vugi_edge_to(mesh, h);
    if (o == UINT32_MAX)
        return UINT32_MAX;
    for (uint32_t k = 0; k < 3; k++) {
        uint32_t e = 3 * o + k;
        if (other[e] == h / 3 && vugi_edge_from(mesh, e) == to && vugi_edge_to(mesh, e) == from)
            return e;
    }
    return UINT32_MAX;
}

static uint32_t next_in_triangle(uint32_t h)
{
    return h % 3 == 2 ? h - 2 : h + 1;
}

uint32_t vugi_border_next(const vug_mesh *mesh, const uint32_t *other, vugi_member_fn member,
    const void *set, uint32_t h)
{
    uint32_t e = next_in_triangle(h);
    for (int turns = 0; turns < AROUND_MOST; turns++) {
        uint32_t o = vugi_across(mesh, other, e);
        if (o == UINT32_MAX || !member(set, o / 3))
            break;
        e = next_in_triangle(o);
    }
    return e;
}

static bool in_wall(const void *set, uint32_t t)
{
    return ((const growth *)set)->mark[t] & 1;
}

/* Walks along the border of the wall from half-edge h. */
static bool walk(growth *g, uint32_t h, uint32_t **half, size_t *count)
{
    size_t capacity = 0;
    while (!(g->mark[h / 3] & 2 << h % 3)) {
        g->mark[h / 3] |= (uint8_t)(2 << h % 3);
        if (!vugi_reserve(&g->ctx->mem, half, &capacity, *count + 1, sizeof **half))
            return false;
        (*half)[(*count)++] = h;
        h = vugi_border_next(g->mesh, g->other, in_wall, g, h);
    }
    return true;
}

int vugi_wall_winding(const vug_mesh *mesh, const vugi_wall *w, const uint32_t *half, size_t count,
    double *height)
{
    double turned = 0.0, before[3], here[3];
    *height = 0.0;
    for (size_t i = 0; i <= count; i++) {
        vugi_wall_frame(w, mesh->xyz + 3 * (size_t)vugi_edge_from(mesh, half[i % count]), here);
        if (i > 0) {
            turned += atan2(before[0] * here[1] - before[1] * here[0],
                before[0] * here[0] + before[1] * here[1]);
            *height += here[2] / (double)count;
        }
        memcpy(before, here, sizeof before);
    }
    return (int)lrint(turned / (2.0 * VUGI_PI));
}

/* The outermost walk that goes around counter-clockwise is the rim, the innermost of the others the
 * mouth. What does not go around is the end of another hole in this one's wall. */
static void sort_end(growth *g, uint32_t **half, size_t count, double end[2])
{
    vugi_wall *w = g->wall;
    double height = 0.0;
    int turns = count > 2 ? vugi_wall_winding(g->mesh, w, *half, count, &height) : 0;
    bool rim = turns == 1 && height > end[0], mouth = turns == -1 && height < end[1];
    if (!rim && !mouth)
        return;
    uint32_t **place = rim ? &w->rim : &w->mouth, *loser = *place;
    *place = *half;
    *half = loser;
    *(rim ? &w->rim_count : &w->mouth_count) = count;
    end[rim ? 0 : 1] = height;
}

static vug_status find_ends(growth *g)
{
    double end[2] = {-INFINITY, INFINITY};
    g->wall->ends = 0;
    for (size_t i = 0; i < 3 * g->count; i++) {
        uint32_t h = 3 * g->list[i / 3] + (uint32_t)(i % 3), o = g->other[h], *half = NULL;
        size_t count = 0;
        if ((o != UINT32_MAX && g->mark[o]) || (g->mark[h / 3] & 2 << h % 3))
            continue;
        bool fits = walk(g, h, &half, &count);
        g->wall->ends++;
        if (fits)
            sort_end(g, &half, count, end);
        vugi_free(&g->ctx->mem, half);
        if (!fits)
            return vugi_fail_memory(g->ctx);
    }
    return VUG_OK;
}

static vug_status start(growth *g)
{
    const vugi_allocator *mem = &g->ctx->mem;
    size_t count = g->loop->count;
    *g->wall = (vugi_wall){.rim = NULL};
    g->outline = vugi_alloc(mem, 2 * count, sizeof *g->outline);
    g->rho = vugi_alloc(mem, count, sizeof *g->rho);
    g->clean = vugi_alloc(mem, count, sizeof *g->clean);
    g->mark = vugi_calloc(mem, g->mesh->triangle_count, sizeof *g->mark);
    return g->outline && g->rho && g->clean && g->mark ? VUG_OK : vugi_fail_memory(g->ctx);
}

static void release(growth *g)
{
    const vugi_allocator *mem = &g->ctx->mem;
    vugi_free(mem, g->outline);
    vugi_free(mem, g->rho);
    vugi_free(mem, g->clean);
    vugi_free(mem, g->mark);
    vugi_free(mem, g->list);
}

/* A wall without a rim is none. */
static void finish(growth *g, vug_status status, bool *found)
{
    *found = !status && g->wall->rim_count > 0;
    if (!*found)
        vugi_wall_free(&g->ctx->mem, g->wall);
    release(g);
}

vug_status vugi_wall_grow(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    const vugi_plane *plane, const vugi_loop *loop, vugi_wall *wall, bool *found)
{
    growth g = {.ctx = ctx, .mesh = mesh, .other = other, .loop = loop, .wall = wall};
    vug_status status = start(&g);
    set_axis(wall, plane->center, plane->normal);
    if (!status)
        status = fit(&g, found);
    if (!status && *found)
        status = find_ends(&g);
    finish(&g, status, found);
    return status;
}

vug_status vugi_wall_strip(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    const vugi_plane *plane, const vugi_loop *loop, vugi_wall *wall, bool *found)
{
    growth g = {.ctx = ctx, .mesh = mesh, .other = other, .loop = loop, .wall = wall};
    vug_status status = start(&g);
    bool seen = false;
    set_axis(wall, plane->center, plane->normal);
    if (!status)
        seen = see_outline(&g);
    for (size_t i = 0; i < loop->count && seen && !status; i++)
        if (!take(&g, loop->triangle[i]))
            status = vugi_fail_memory(ctx);
    if (!status && !fill_patches(&g))
        status = vugi_fail_memory(ctx);
    if (!status && seen)
        status = find_ends(&g);
    wall->mouth_count = 0;
    finish(&g, status, found);
    return status;
}

/* Adds the wall that grows from the loop of one bore; *own: it alone. */
static vug_status add_wall(growth *all, const vugi_plane *plane, const vugi_loop *loop,
    vugi_wall *own)
{
    growth g = {.ctx = all->ctx,
        .mesh = all->mesh,
        .other = all->other,
        .loop = loop,
        .wall = own,
        .gaps = true};
    bool seen = false;
    vug_status status = start(&g);
    set_axis(own, plane->center, plane->normal);
    if (!status && loop->count >= FEW)
        status = fit(&g, &seen);
    for (size_t i = 0; i < g.count && seen && !status; i++)
        if (!take(all, g.list[i]))
            status = vugi_fail_memory(g.ctx);
    release(&g);
    return status;
}

vug_status vugi_wall_join(vug_context *ctx, const vug_mesh *mesh, const uint32_t *other,
    const vugi_plane *plane, const vugi_loop *loop, size_t count, vugi_wall *wall, bool *around,
    bool *found)
{
    growth all = {.ctx = ctx, .mesh = mesh, .other = other, .loop = loop, .wall = wall};
    vugi_wall first = {.rim = NULL}, own;
    vug_status status = start(&all);
    for (size_t i = 0; i < count && !status; i++)
        status = add_wall(&all, plane + i, loop + i, i == 0 ? &first : &own);
    *wall = first;
    if (!status)
        status = find_ends(&all);
    finish(&all, status, found);
    for (size_t i = 0; i < count && *found; i++) {
        double height;
        set_axis(&own, plane[i].center, plane[i].normal);
        around[i] = vugi_wall_winding(mesh, &own, wall->rim, wall->rim_count, &height) == 1;
    }
    return status;
}

void vugi_wall_free(const vugi_allocator *mem, vugi_wall *wall)
{
    vugi_free(mem, wall->rim);
    vugi_free(mem, wall->mouth);
    vugi_free(mem, wall->neck);
    wall->rim = wall->mouth = wall->neck = NULL;
    wall->rim_count = wall->mouth_count = wall->neck_count = 0;
}

/* ---- heights along the axis ------------------------------------------------------------ */

void vugi_wall_level(const vugi_wall *w, const double *point, size_t count, double *level,
    double slope[2])
{
    double m[6] = {0.0}, r[3] = {0.0}; /* 1, x, y, xx, xy, yy; s, xs, ys */
    for (size_t i = 0; i < count; i++) {
        double before[3], here[3], after[3];
        vugi_wall_frame(w, point + 3 * ((i + count - 1) % count), before);
        vugi_wall_frame(w, point + 3 * i, here);
        vugi_wall_frame(w, point + 3 * ((i + 1) % count), after);
        double weight = fabs(atan2(before[0] * after[1] - before[1] * after[0],
            before[0] * after[0] + before[1] * after[1]));
        const double c[3] = {1.0, here[0], here[1]};
        m[0] += weight;
        m[1] += weight * c[1];
        m[2] += weight * c[2];
        m[3] += weight * c[1] * c[1];
        m[4] += weight * c[1] * c[2];
        m[5] += weight * c[2] * c[2];
        for (int k = 0; k < 3; k++)
            r[k] += weight * c[k] * here[2];
    }
    /* About the weighted middle, where level and slopes part. */
    double x = m[1] / m[0], y = m[2] / m[0], s = r[0] / m[0];
    double xx = m[3] - m[0] * x * x, xy = m[4] - m[0] * x * y, yy = m[5] - m[0] * y * y;
    double xs = r[1] - m[0] * x * s, ys = r[2] - m[0] * y * s, det = xx * yy - xy * xy;
    slope[0] = det > 0.0 ? (yy * xs - xy * ys) / det : 0.0;
    slope[1] = det > 0.0 ? (xx * ys - xy * xs) / det : 0.0;
    *level = s - slope[0] * x - slope[1] * y;
}
