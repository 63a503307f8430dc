/* SPDX-License-Identifier: MIT */
#include "cavity/cylinder.h"

#include "base/angle.h"
#include "base/circle.h"
#include "base/eigen.h"
#include "base/vec.h"
#include "cavity/section.h"

#include <math.h>
#include <string.h>

/* Rays from so many places see the wall; axes are tried by the normals of so many of the triangles they
 * meet. */
enum {
    RAYS = 96,
    PLACES = 3,
    TRIED = 32,
    FITS = 4,
    SECTORS = 24,
    SECTORS_LEAST = 22,
    SEEN_LEAST = 12
};

/* What is farther off than so many inscribed radii is not looked at. */
static const double FAR = 4.0;

/* A normal is square to the axis up to such a cosine, two normals tell an axis if the sine of their angle is so large. */
static const double SQUARE = 0.1, TELLING = 0.2;

/* A place seen is on the wall if it is as far from the axis, up to such a share of the radius, and faces it within
 * such a cosine; a triangle is if its corners are, up to that much. */
static const double ROUGHLY = 0.15, FACES = 0.9, EXACTLY = 0.03, STEEP = 0.2425;

/* A bore is no wider than that, in areas of the border: beyond is the cavity itself. */
static const double WIDEST = 4.0;

typedef struct spot { /* where a ray meets the mesh */
    double point[3], normal[3];
    uint32_t triangle;
} spot;

typedef struct cylinder {
    double point[3], axis[3]; /* on the axis; unit, outward */
    double radius;
} cylinder;

typedef struct look {
    vug_context *ctx;
    const vugi_tree *tree;
    const uint32_t *other;
    double widest; /* radius */
    spot *seen;
    size_t count;
    uint8_t *mark;  /* of each triangle */
    uint32_t *list; /* the triangles of the wall */
    size_t listed, room;
} look;

static void look_from(look *l, const double from[3], double most)
{
    for (int i = 0; i < RAYS; i++) {
        spot *s = l->seen + l->count;
        double d[3];
        vugi_sphere_point((size_t)i, RAYS, d);
        double t = vugi_tree_ray(l->tree, from, d, 0.0, &s->triangle);
        if (!(t < most) || !(vugi_triangle_normal(l->tree->mesh, s->triangle, s->normal) > 0.0))
            continue;
        vugi_along(from, d, t, s->point);
        l->count++;
    }
}

static void look_around(look *l, const vugi_mouth *mouth)
{
    const vugi_plane across = vugi_plane_at(mouth->center, mouth->normal);
    double middle[3];
    memcpy(middle, mouth->center, sizeof middle);
    const double radius = vugi_farthest(l->tree, middle, across.u, across.v, mouth->slack);
    for (int i = 0; i < PLACES; i++) {
        double from[3];
        vugi_along(middle, mouth->normal, 0.5 * (i - 1) * radius, from);
        look_from(l, from, FAR * radius);
    }
}

/* How far from the axis a place is; inward: unit, from there to the axis. */
static double away(const cylinder *c, const double p[3], double inward[3])
{
    double d[3];
    vugi_subtract(c->point, p, d);
    vugi_along(d, c->axis, -vugi_dot(d, c->axis), inward);
    return vugi_normalise(inward);
}

static bool sees_wall(const cylinder *c, const spot *s)
{
    double inward[3];
    if (fabs(vugi_dot(s->normal, c->axis)) > SQUARE)
        return false;
    double rho = away(c, s->point, inward);
    return fabs(rho - c->radius) <= ROUGHLY * c->radius && vugi_dot(inward, s->normal) >= FACES;
}

/* The cylinder whose wall has both spots: its axis is square to their normals, and they meet in it. */
static bool through(const spot *p, const spot *q, double widest, cylinder *c)
{
    double across[3], apart[3];
    vugi_cross(p->normal, q->normal, c->axis);
    if (vugi_normalise(c->axis) < TELLING)
        return false;
    vugi_subtract(q->point, p->point, apart);
    vugi_cross(c->axis, q->normal, across);
    double a = vugi_dot(apart, across) / vugi_dot(p->normal, across);
    vugi_cross(c->axis, p->normal, across);
    double b = -vugi_dot(apart, across) / vugi_dot(q->normal, across);
    if (!(a > 0.0 && b > 0.0 && fabs(a - b) <= ROUGHLY * (a + b) && a + b <= 2.0 * widest))
        return false;
    c->radius = 0.5 * (a + b);
    vugi_along(p->point, p->normal, a, c->point);
    return true;
}

/* The cylinder that most of what is seen lies on, of those through two places (after Fischler and Bolles 1981, Commun.
 * ACM 24:381-395, with all pairs in place of random ones). */
static bool agreed(const look *l, cylinder *best)
{
    size_t most = 0, step = (l->count + TRIED - 1) / TRIED;
    for (size_t i = 0; i < l->count; i += step) {
        for (size_t j = i + step; j < l->count; j += step) {
            cylinder c;
            size_t on = 0;
            if (!through(l->seen + i, l->seen + j, l->widest, &c))
                continue;
            for (size_t k = 0; k < l->count; k++)
                on += sees_wall(&c, l->seen + k);
            if (on > most) {
                most = on;
                *best = c;
            }
        }
    }
    return most >= SEEN_LEAST;
}

/* ---- its wall --------------------------------------------------------------- */

static bool on_wall(const look *l, const cylinder *c, uint32_t t, double slack)
{
    const vug_mesh *mesh = l->tree->mesh;
    double n[3], inward[3];
    if (!(vugi_triangle_normal(mesh, t, n) > 0.0) || fabs(vugi_dot(n, c->axis)) > STEEP)
        return false;
    for (size_t k = 0; k < 3; k++)
        if (fabs(away(c, mesh->xyz + 3 * (size_t)mesh->triangles[3 * (size_t)t + k], inward)
                - c->radius)
            > slack * c->radius)
            return false;
    return vugi_dot(n, inward) > 0.0;
}

static bool take(look *l, uint32_t t)
{
    if (!vugi_reserve(&l->ctx->mem, &l->list, &l->room, l->listed + 1, sizeof *l->list))
        return false;
    l->mark[t] = 1;
    l->list[l->listed++] = t;
    return true;
}

/* All triangles on the wall that hang together with those that were seen. */
static vug_status list_wall(look *l, const cylinder *c, double slack)
{
    for (size_t i = 0; i < l->listed; i++)
        l->mark[l->list[i]] = 0;
    l->listed = 0;
    for (size_t i = 0; i < l->count; i++) {
        uint32_t t = l->seen[i].triangle;
        if (!l->mark[t] && on_wall(l, c, t, slack) && !take(l, t))
            return vugi_fail_memory(l->ctx);
    }
    for (size_t i = 0; i < 3 * l->listed; i++) {
        uint32_t t = l->other[3 * (size_t)l->list[i / 3] + i % 3];
        if (t != UINT32_MAX && !l->mark[t] && on_wall(l, c, t, slack) && !take(l, t))
            return vugi_fail_memory(l->ctx);
    }
    return VUG_OK;
}

static const double *corner(const look *l, size_t i)
{
    const vug_mesh *mesh = l->tree->mesh;
    return mesh->xyz + 3 * (size_t)mesh->triangles[3 * (size_t)l->list[i / 3] + i % 3];
}

/* The axis most nearly square to the normals of the wall by their areas. */
static void fit_axis(const look *l, cylinder *c)
{
    double m[3][3] = {{0.0}};
    for (size_t i = 0; i < l->listed; i++) {
        double normal[3], area = vugi_triangle_normal(l->tree->mesh, l->list[i], normal);
        for (int a = 0; a < 3; a++)
            for (int b = 0; b < 3; b++)
                m[a][b] += area * normal[a] * normal[b];
    }
    vugi_smallest_eigenvector(m, c->axis);
}

/* The axis and the circle nearest to the wall's corners across it. */
static vug_status fit(const look *l, cylinder *c, bool *found)
{
    const size_t n = 3 * l->listed;
    double *xy = vugi_alloc(&l->ctx->mem, 2 * n + 1, sizeof *xy), middle[2], sum = 0.0;
    if (!xy)
        return vugi_fail_memory(l->ctx);
    fit_axis(l, c);
    vugi_plane plane = vugi_plane_at(c->point, c->axis);
    for (size_t i = 0; i < n; i++)
        vugi_in_plane(&plane, corner(l, i), xy + 2 * i);
    *found = vugi_circle_fit(xy, NULL, n, middle);
    if (*found) {
        for (size_t i = 0; i < n; i++)
            sum += hypot(xy[2 * i] - middle[0], xy[2 * i + 1] - middle[1]);
        c->radius = sum / (double)n;
        vugi_along(c->point, plane.u, middle[0], c->point);
        vugi_along(c->point, plane.v, middle[1], c->point);
    }
    vugi_free(&l->ctx->mem, xy);
    return VUG_OK;
}

/* Where the wall ends along the axis, and whether it is there all around. */
typedef struct extent {
    bool there[SECTORS];
    double outer[SECTORS], inner[SECTORS];
} extent;

static void spread(const look *l, const vugi_plane *plane, size_t t, extent *e)
{
    double turn[3], s[3];
    for (size_t k = 0; k < 3; k++) {
        double p[2];
        const double *at = corner(l, 3 * t + k);
        vugi_in_plane(plane, at, p);
        turn[k] = (atan2(p[1], p[0]) / VUGI_PI + 1.0) * 0.5 * SECTORS;
        s[k] = vugi_above(plane, at);
        if (k > 0) /* the short way around from the first corner */
            turn[k] += SECTORS * round((turn[0] - turn[k]) / SECTORS);
    }
    double from = fmin(turn[0], fmin(turn[1], turn[2])), to = fmax(turn[0], fmax(turn[1], turn[2]));
    for (int i = (int)floor(from); i <= (int)floor(to); i++) {
        int k = (i % SECTORS + SECTORS) % SECTORS;
        double high = fmax(s[0], fmax(s[1], s[2])), low = fmin(s[0], fmin(s[1], s[2]));
        e->outer[k] = e->there[k] ? fmax(e->outer[k], high) : high;
        e->inner[k] = e->there[k] ? fmin(e->inner[k], low) : low;
        e->there[k] = true;
    }
}

/* Is there a section all of which lies on the wall, so far along the axis? */
static vug_status has_section(const look *l, const cylinder *c, double along, bool *found)
{
    vugi_loop loop = {.count = 0};
    double center[3];
    vugi_along(c->point, c->axis, along, center);
    vugi_plane plane = vugi_plane_at(center, c->axis);
    vug_status status = vugi_section_hole(l->ctx, l->tree->mesh, l->other, l->list, l->listed,
        &plane, (1.0 + EXACTLY) * c->radius, &loop, found);
    for (size_t i = 0; i < loop.count && *found && !status; i++)
        *found = l->mark[loop.triangle[i]];
    vugi_loop_free(&l->ctx->mem, &loop);
    return status;
}

/* What is known of the bore: a section near its outer end, or how someone would name it. *found: its wall is there all around. */
static vug_status describe(const look *l, const cylinder *c, vugi_hole *hole, bool *found)
{
    extent e = {{false}, {0.0}, {0.0}};
    double outer = 0.0, inner = 0.0, top = INFINITY, bottom = -INFINITY, at;
    int sectors = 0;
    bool section = false;
    vug_status status = VUG_OK;
    vugi_plane plane = vugi_plane_at(c->point, c->axis);
    for (size_t t = 0; t < l->listed; t++)
        spread(l, &plane, t, &e);
    for (int i = 0; i < SECTORS; i++) {
        if (!e.there[i])
            continue;
        sectors++;
        outer += e.outer[i];
        inner += e.inner[i];
        top = fmin(top, e.outer[i]);
        bottom = fmax(bottom, e.inner[i]);
    }
    *found = sectors >= SECTORS_LEAST;
    if (!*found)
        return VUG_OK;
    outer /= sectors;
    inner /= sectors;
    at = top - fmin(0.5 * (top - bottom), 0.5 * c->radius);
    if (top > bottom)
        status = has_section(l, c, at, &section);
    at = section ? at : outer;
    *hole = (vugi_hole){.seen = true, .placed = section, .bore_length = at - inner};
    hole->reach = section ? (1.0 + EXACTLY) * c->radius : 2.0 * c->radius;
    hole->diameter = section ? 0.0 : 2.0 * c->radius;
    memcpy(hole->normal, c->axis, sizeof hole->normal);
    vugi_along(c->point, c->axis, at, hole->center);
    vugi_along(c->point, c->axis, inner, hole->inner);
    return status;
}

/* Turns the axis to where nothing is in its way; where that is so of neither end or both, by the border. */
static void turn_outward(const look *l, const vugi_mouth *mouth, cylinder *c)
{
    double back[3] = {-c->axis[0], -c->axis[1], -c->axis[2]};
    bool ahead_free = isinf(vugi_tree_ray(l->tree, c->point, c->axis, 0.0, NULL));
    bool back_free = isinf(vugi_tree_ray(l->tree, c->point, back, 0.0, NULL));
    if (ahead_free == back_free ? vugi_dot(c->axis, mouth->normal) < 0.0 : back_free)
        memcpy(c->axis, back, sizeof back);
}

static vug_status find_wall(look *l, const vugi_mouth *mouth, vugi_hole *hole, bool *found)
{
    cylinder c;
    vug_status status = VUG_OK;
    look_around(l, mouth);
    *found = agreed(l, &c);
    for (int i = 0; i < FITS && *found && !status; i++) {
        status = list_wall(l, &c, i == 0 ? ROUGHLY : EXACTLY);
        if (!status)
            status = fit(l, &c, found);
    }
    if (status || !*found)
        return status;
    turn_outward(l, mouth, &c);
    return describe(l, &c, hole, found);
}

vug_status vugi_cylinder_find(vug_context *ctx, const vugi_tree *tree, const uint32_t *other,
    const vugi_mouth *mouth, vugi_hole *hole, bool *found)
{
    look l = {.ctx = ctx, .tree = tree, .other = other};
    vug_status status = VUG_OK;
    *found = false;
    l.widest = sqrt(WIDEST * (mouth->area + mouth->slack * mouth->slack) / VUGI_PI);
    l.seen = vugi_alloc(&ctx->mem, RAYS * PLACES, sizeof *l.seen);
    l.mark = vugi_calloc(&ctx->mem, tree->mesh->triangle_count, sizeof *l.mark);
    if (!l.seen || !l.mark)
        status = vugi_fail_memory(ctx);
    if (!status)
        status = find_wall(&l, mouth, hole, found);
    vugi_free(&ctx->mem, l.seen);
    vugi_free(&ctx->mem, l.mark);
    vugi_free(&ctx->mem, l.list);
    return status;
}
