/* SPDX-License-Identifier: MIT */
#include "cavity/mouth.h"

#include "base/angle.h"
#include "base/eigen.h"
#include "base/vec.h"
#include "cavity/section.h"

#include <assert.h>
#include <math.h>
#include <string.h>

enum { RAYS = 128, AXIS_ROUNDS = 4, STEPS = 400, PIECES = 32, OUT_STEPS = 8 };

/* Outward of its narrowest section a hole may widen by so much of its radius, and by so much of the
 * way from there; beyond is the lip: a fillet, a chamfer, a countersink. In all it may not grow to
 * more than so many times the narrowest area. */
static const double LIP = 0.02, FLARE = 0.25, WIDEST = 2.0;

/* Beyond its rim there is soon so much more room than in a hole, in its radii; a skin that is aslant, at 60 degrees to the axis,
 * goes along for 1.7 of them. */
static const double ROOMY = 1.2, BEYOND = 2.2;

typedef struct follow {
    vug_context *ctx;
    const vugi_tree *tree;
    const uint32_t *other;
    double reach;
    uint32_t *list;
    size_t list_capacity;
} follow;

/* Is a wall between two places? */
static bool is_between(const vugi_tree *tree, const double p[3], const double q[3])
{
    double way[3];
    vugi_subtract(q, p, way);
    return vugi_tree_ray(tree, p, way, 0.0, NULL) < 1.0;
}

double vugi_farthest(const vugi_tree *tree, double p[3], const double u[3], const double v[3],
    double step)
{
    const double start[3] = {p[0], p[1], p[2]}, most = 4.0 * step * step;
    double best = vugi_tree_nearest(tree, p, INFINITY, NULL, NULL);
    for (double least = 1e-3 * step; step > least;) {
        bool moved = false;
        for (int d = 0; d < (v ? 4 : 2); d++) {
            double q[3];
            vugi_along(p, d < 2 ? u : v, d % 2 ? -step : step, q);
            if (vugi_square_distance(q, start) > most || is_between(tree, p, q))
                continue;
            double r = vugi_tree_nearest(tree, q, INFINITY, NULL, NULL);
            if (r > best) {
                best = r;
                memcpy(p, q, sizeof q);
                moved = true;
            }
        }
        if (!moved)
            step *= 0.5;
    }
    return best;
}

/* ---- sections -------------------------------------------------------------- */

typedef struct section {
    vugi_plane plane;
    vugi_loop loop;
    double centroid[3]; /* of the loop's area */
} section;

static void find_centroid(section *s)
{
    const vugi_loop *loop = &s->loop;
    double a[2], b[2], cu = 0.0, cv = 0.0;
    vugi_in_plane(&s->plane, loop->point + 3 * (loop->count - 1), a);
    for (size_t i = 0; i < loop->count; i++) {
        vugi_in_plane(&s->plane, loop->point + 3 * i, b);
        double cross = a[0] * b[1] - a[1] * b[0];
        cu += (a[0] + b[0]) * cross;
        cv += (a[1] + b[1]) * cross;
        memcpy(a, b, sizeof a);
    }
    for (int k = 0; k < 3; k++)
        s->centroid[k] = s->plane.center[k]
            + (cu * s->plane.u[k] + cv * s->plane.v[k]) / (6.0 * loop->area);
}

/* The loop around center in the plane square to normal. Its nearest triangles are listed first: the
 * loop comes at least as near as the wall that a ray in the plane meets first. */
static vug_status cut_section(follow *f, const double center[3], const double normal[3], section *s,
    bool *found)
{
    double wall = INFINITY, lo[3], hi[3];
    size_t count = 0;
    s->plane = vugi_plane_at(center, normal);
    for (int d = 0; d < 8; d++) {
        double direction[3], angle = VUGI_PI / 4.0 * d;
        for (int k = 0; k < 3; k++)
            direction[k] = cos(angle) * s->plane.u[k] + sin(angle) * s->plane.v[k];
        wall = fmin(wall, vugi_tree_ray(f->tree, center, direction, 0.0, NULL));
    }
    *found = false;
    if (!(wall < f->reach))
        return VUG_OK;
    for (int k = 0; k < 3; k++) {
        lo[k] = center[k] - 1.1 * wall;
        hi[k] = center[k] + 1.1 * wall;
    }
    if (!vugi_tree_in_box(f->tree, lo, hi, &f->list, &count, &f->list_capacity))
        return vugi_fail_memory(f->ctx);
    vug_status status = vugi_section_hole(f->ctx, f->tree->mesh, f->other, f->list, count,
        &s->plane, f->reach, &s->loop, found);
    if (!status && *found)
        find_centroid(s);
    return status;
}

static void section_free(const vugi_allocator *mem, section *s)
{
    vugi_loop_free(mem, &s->loop);
}

static void section_swap(section *a, section *b)
{
    section t = *a;
    *a = *b;
    *b = t;
}

static double equal_radius(const section *s)
{
    return sqrt(s->loop.area / VUGI_PI);
}

/* ---- axis ------------------------------------------------------------------ */

static void align(double axis[3], const double along[3])
{
    if (vugi_dot(axis, along) < 0.0)
        for (int k = 0; k < 3; k++)
            axis[k] = -axis[k];
}

/* A piece of a loop: the normal of its triangle, and its length. */
typedef struct piece {
    double normal[3], length;
} piece;

static size_t loop_pieces(const vug_mesh *mesh, const vugi_loop *loop, piece *out)
{
    size_t count = 0, step = (loop->count + PIECES - 1) / PIECES;
    for (size_t i = 0; i < loop->count; i += step) {
        size_t j = (i + 1) % loop->count; /* the piece from i to j lies in triangle[i] */
        double d[3];
        vugi_subtract(loop->point + 3 * j, loop->point + 3 * i, d);
        out[count].length = vugi_length(d);
        vugi_triangle_normal(mesh, loop->triangle[i], out[count++].normal);
    }
    return count;
}

/* How much of the loop's length runs along an axis, within the angle whose sine is given. */
static double running_along(const piece *p, size_t count, const double axis[3], double sine)
{
    double sum = 0.0;
    for (size_t i = 0; i < count; i++)
        sum += fabs(vugi_dot(p[i].normal, axis)) <= sine ? p[i].length : 0.0;
    return sum;
}

/* The axis that most of the loop runs along, from the pairs of its normals: a loop that touches what
 * lies beyond the ends of the hole still shows the hole's own direction (after Fischler and Bolles 1981,
 * Commun. ACM 24:381-395, with all pairs in place of random ones). */
static bool agreed_axis(const piece *p, size_t count, double axis[3])
{
    double best = 0.0;
    for (size_t i = 0; i < count; i++) {
        for (size_t j = i + 1; j < count; j++) {
            const double *m = p[i].normal, *n = p[j].normal;
            double c[3];
            vugi_cross(m, n, c);
            if (vugi_normalise(c) < 0.2)
                continue;
            double along = running_along(p, count, c, 0.05);
            if (along > best) {
                best = along;
                memcpy(axis, c, sizeof c);
            }
        }
    }
    return best > 0.0;
}

/* The direction that the wall along the loop runs in: most nearly square to the normals of all of it that
 * agree. */
static void wall_direction(const vug_mesh *mesh, const section *s, double axis[3])
{
    double m[3][3] = {{0.0}}, agreed[3] = {0.0, 0.0, 0.0};
    piece p[PIECES];
    size_t count = loop_pieces(mesh, &s->loop, p);
    bool agree = agreed_axis(p, count, agreed);
    for (size_t i = 0; i < count; i++) {
        if (agree && fabs(vugi_dot(p[i].normal, agreed)) > 0.2)
            continue;
        for (int a = 0; a < 3; a++)
            for (int b = 0; b < 3; b++)
                m[a][b] += p[i].length * p[i].normal[a] * p[i].normal[b];
    }
    vugi_smallest_eigenvector(m, axis);
    align(axis, s->plane.normal);
}

/* The direction in which a hole is open, from the walls that its inscribed ball sees close by. */
static void open_direction(const vugi_tree *tree, const double center[3], double radius,
    const double along[3], double axis[3])
{
    double m[3][3] = {{0.0}};
    for (int i = 0; i < RAYS; i++) {
        double d[3];
        vugi_sphere_point((size_t)i, RAYS, d);
        double t = vugi_tree_ray(tree, center, d, 0.0, NULL);
        if (t > 1.4 * radius)
            continue;
        for (int p = 0; p < 3; p++)
            for (int q = 0; q < 3; q++)
                m[p][q] += d[p] * d[q];
    }
    vugi_smallest_eigenvector(m, axis);
    align(axis, along);
}

/* A section square to axis, through the middle of this one or a little outward of it: turned there, its
 * plane may meet the cavity. */
static vug_status turn_section(follow *f, const section *from, const double axis[3], section *trial,
    bool *found)
{
    static const double out[] = {0.0, 0.5, 1.0, 2.0};
    double r = equal_radius(from), at[3];
    vug_status status = VUG_OK;
    *found = false;
    for (size_t i = 0; i < sizeof out / sizeof *out && !status && !*found; i++) {
        vugi_along(from->centroid, axis, out[i] * r, at);
        status = cut_section(f, at, axis, trial, found);
        *found = *found && trial->loop.area <= 1.02 * from->loop.area;
    }
    return status;
}

/* Turns a section until it is square to its own wall, as long as that does not make it larger. */
static vug_status square_up(follow *f, section *best)
{
    section trial = {.loop = {.count = 0}};
    vug_status status = VUG_OK;
    for (int round = 0; round < AXIS_ROUNDS; round++) {
        double better[3];
        bool here;
        wall_direction(f->tree->mesh, best, better);
        status = turn_section(f, best, better, &trial, &here);
        if (status || !here)
            break;
        section_swap(&trial, best);
    }
    section_free(&f->ctx->mem, &trial);
    return status;
}

/* Keeps the smaller of best and the section at center. */
static vug_status try_section(follow *f, const double center[3], const double normal[3],
    section *best, bool *found)
{
    section trial = {.loop = {.count = 0}};
    bool here;
    vug_status status = cut_section(f, center, normal, &trial, &here);
    if (!status && here && (!*found || trial.loop.area < best->loop.area)) {
        section_swap(&trial, best);
        *found = true;
    }
    section_free(&f->ctx->mem, &trial);
    return status;
}

/* Any direction at all, on the outward half of the sphere. */
static vug_status try_all_directions(follow *f, const vugi_mouth *mouth, section *best, bool *found)
{
    vug_status status = VUG_OK;
    for (int i = 0; i < RAYS && !status; i++) {
        double d[3];
        vugi_sphere_point((size_t)i, RAYS, d);
        if (vugi_dot(d, mouth->normal) > 0.0)
            status = try_section(f, mouth->center, d, best, found);
    }
    return status;
}

/* A way out of the hole, step by step in the direction in which it is open, always in the middle of it. */
typedef struct walk {
    double at[3], radius; /* of the ball that fits there */
    double axis[3];       /* the way it came */
    double open[3];       /* and the way on */
    double first;         /* its first radius */
    int steps;
} walk;

static walk walk_start(const vugi_tree *tree, const vugi_mouth *mouth)
{
    walk w;
    memcpy(w.at, mouth->center, sizeof w.at);
    memcpy(w.axis, mouth->normal, sizeof w.axis);
    vugi_plane across = vugi_plane_at(w.at, w.axis);
    w.radius = w.first = vugi_farthest(tree, w.at, across.u, across.v, mouth->slack);
    w.steps = 0;
    open_direction(tree, w.at, w.radius, w.axis, w.open);
    return w;
}

/* false: it is out, or has come far enough. */
static bool walk_on(const vugi_tree *tree, walk *w)
{
    if (vugi_dot(w->open, w->axis) > 0.5)
        memcpy(w->axis, w->open, sizeof w->axis);
    vugi_along(w->at, w->axis, 0.5 * w->radius, w->at);
    vugi_plane across = vugi_plane_at(w->at, w->axis);
    w->radius = vugi_farthest(tree, w->at, across.u, across.v, 0.25 * w->radius);
    if (++w->steps >= OUT_STEPS || w->radius >= 2.0 * w->first)
        return false;
    open_direction(tree, w->at, w->radius, w->axis, w->open);
    return true;
}

bool vugi_mouth_goes_on(const vugi_tree *tree, const vugi_hole *hole, double radius,
    vugi_mouth *next)
{
    walk w = {.radius = radius, .first = radius};
    memcpy(w.at, hole->center, sizeof w.at);
    memcpy(w.axis, hole->normal, sizeof w.axis);
    memcpy(w.open, hole->normal, sizeof w.open);
    while (walk_on(tree, &w) && w.radius < ROOMY * radius) {
        if (vugi_point_distance(w.at, hole->center) < BEYOND * radius)
            continue;
        *next = (vugi_mouth){.reach = 6.0 * radius,
            .slack = 0.25 * radius,
            .area = VUGI_PI * radius * radius};
        memcpy(next->center, w.at, sizeof next->center);
        memcpy(next->normal, w.axis, sizeof next->normal);
        return true;
    }
    return false;
}

/* Sections further out. Where the hole meets the cavity at a slant a plane finds no loop of its own. */
static vug_status walk_out(follow *f, const vugi_mouth *mouth, section *best, bool *found)
{
    walk w = walk_start(f->tree, mouth);
    vug_status status;
    do
        status = try_section(f, w.at, w.open, best, found);
    while (!status && walk_on(f->tree, &w));
    return status;
}

/* The smallest section near the middle of the hole: every one holds the disc of the inscribed ball,
 * and the one square to the bore holds least besides. */
static vug_status settle(follow *f, const vugi_mouth *mouth, section *best, bool *found)
{
    vug_status status = VUG_OK;
    *found = false;
    for (int i = -4; i <= 4 && !status; i++) {
        double at[3], axis[3];
        vugi_plane across = vugi_plane_at(mouth->center, mouth->normal);
        vugi_along(mouth->center, mouth->normal, 0.5 * i * mouth->slack, at);
        double radius = vugi_farthest(f->tree, at, across.u, across.v, 0.5 * mouth->slack);
        status = try_section(f, at, mouth->normal, best, found);
        open_direction(f->tree, at, radius, mouth->normal, axis);
        if (!status)
            status = try_section(f, at, axis, best, found);
    }
    if (!status)
        status = walk_out(f, mouth, best, found);
    if (!status && (!*found || best->loop.area > 2.0 * mouth->area))
        status = try_all_directions(f, mouth, best, found);
    if (!status && *found)
        status = square_up(f, best);
    /* A section through the cavity itself is no opening. */
    *found = *found && best->loop.area < 4.0 * mouth->area + 4.0 * mouth->slack * mouth->slack;
    return status;
}

/* ---- out to the end ---------------------------------------------------------- */

static double turned(const double a[3], const double b[3])
{
    return acos(fmax(-1.0, fmin(1.0, vugi_dot(a, b))));
}

/* The narrowest section so far, and how far back it is. */
typedef struct narrows {
    double radius, since;
} narrows;

static bool within_lip(const narrows *n, double radius, double step)
{
    return radius <= (1.0 + LIP) * n->radius + FLARE * (n->since + step)
        && radius * radius <= WIDEST * n->radius * n->radius;
}

static void move_on(narrows *n, double radius, double step)
{
    n->since += step;
    if (radius <= 1.01 * n->radius)
        n->since = 0.0;
    n->radius = fmin(n->radius, radius);
}

/* Walks inward to the narrowest section near by, so that what widens outward of it can be told. */
static vug_status go_to_narrowest(follow *f, section *best)
{
    section trial = {.loop = {.count = 0}};
    double step = 0.1 * equal_radius(best), axis[3], at[3];
    vug_status status = VUG_OK;
    memcpy(axis, best->plane.normal, sizeof axis);
    memcpy(at, best->centroid, sizeof at);
    for (int i = 0; i < 30 && !status; i++) {
        bool here;
        vugi_along(at, axis, -step, at);
        status = cut_section(f, at, axis, &trial, &here);
        if (status || !here || trial.loop.area > 1.05 * best->loop.area)
            break;
        if (trial.loop.area < 0.99 * best->loop.area)
            section_swap(&trial, best);
    }
    section_free(&f->ctx->mem, &trial);
    return status;
}

/* Follows the hole outward, around bends too, as long as the section stays closed and short of a
 * lip; near the end in ever smaller steps. */
static vug_status go_out(follow *f, section *best)
{
    section trial = {.loop = {.count = 0}};
    double r = equal_radius(best), step = 0.1 * r;
    narrows narrow = {r, 0.0};
    double axis[3], from[3];
    vug_status status = VUG_OK;
    memcpy(axis, best->plane.normal, sizeof axis);
    memcpy(from, best->centroid, sizeof from);
    for (int i = 0; i < STEPS && step > 1e-3 * r && !status; i++) {
        double at[3], bend[3];
        bool here;
        vugi_along(from, axis, step, at);
        status = cut_section(f, at, axis, &trial, &here);
        if (status)
            break;
        if (!here || !within_lip(&narrow, equal_radius(&trial), step)) {
            step *= 0.5;
            continue;
        }
        section_swap(&trial, best);
        move_on(&narrow, equal_radius(best), step);
        memcpy(from, best->centroid, sizeof from);
        wall_direction(f->tree->mesh, best, bend);
        double angle = turned(axis, bend);
        if (angle > 0.02 && angle < 0.4 && step > 0.1 * r)
            memcpy(axis, bend, sizeof axis);
    }
    section_free(&f->ctx->mem, &trial);
    return status;
}

/* Length of the bore behind the outermost section, and where it ends: to where the section is half as
 * large again, or no longer closed. */
static vug_status go_in(follow *f, const section *cap, vugi_hole *hole)
{
    section trial = {.loop = {.count = 0}};
    double r = equal_radius(cap), step = 0.25 * r;
    double axis[3];
    vug_status status = VUG_OK;
    memcpy(hole->inner, cap->centroid, sizeof hole->inner);
    for (int k = 0; k < 3; k++)
        axis[k] = -cap->plane.normal[k];
    for (int i = 0; i < STEPS && step > 1e-3 * r && !status; i++) {
        double at[3], normal[3], bend[3];
        bool here;
        vugi_along(hole->inner, axis, step, at);
        for (int k = 0; k < 3; k++)
            normal[k] = -axis[k];
        status = cut_section(f, at, normal, &trial, &here);
        if (status)
            break;
        if (!here || trial.loop.area > 1.5 * cap->loop.area) {
            step *= 0.5;
            continue;
        }
        hole->bore_length += vugi_point_distance(trial.centroid, hole->inner);
        memcpy(hole->inner, trial.centroid, sizeof hole->inner);
        wall_direction(f->tree->mesh, &trial, bend);
        double angle = turned(normal, bend);
        if (angle > 0.02 && angle < 0.4 && step > 0.1 * r)
            for (int k = 0; k < 3; k++)
                axis[k] = -bend[k];
    }
    section_free(&f->ctx->mem, &trial);
    return status;
}

/* Farthest point of the loop from its centroid. */
static double reach_of(const section *s)
{
    double most = 0.0;
    for (size_t i = 0; i < s->loop.count; i++) {
        most = fmax(most, vugi_square_distance(s->loop.point + 3 * i, s->centroid));
    }
    return sqrt(most);
}

vug_status vugi_mouth_follow(vug_context *ctx, const vugi_tree *tree, const uint32_t *other,
    const vugi_mouth *mouth, vugi_hole *hole, bool *found)
{
    follow f = {.ctx = ctx, .tree = tree, .other = other, .reach = mouth->reach};
    section cap = {.loop = {.count = 0}};
    vug_status status = settle(&f, mouth, &cap, found);
    if (!status && *found)
        status = go_to_narrowest(&f, &cap);
    if (!status && *found)
        status = go_out(&f, &cap);
    if (!status && *found) {
        *hole = (vugi_hole){.reach = 1.001 * reach_of(&cap), .placed = true};
        memcpy(hole->center, cap.centroid, sizeof hole->center);
        memcpy(hole->normal, cap.plane.normal, sizeof hole->normal);
        status = go_in(&f, &cap, hole);
    }
    section_free(&ctx->mem, &cap);
    vugi_free(&ctx->mem, f.list);
    return status;
}
