/* SPDX-License-Identifier: MIT
 * An opening of a bore that is planned: where a round bar meets the skin and the wall of the cavity. */
#include "cavity/planned.h"

#include "base/angle.h"
#include "base/vec.h"
#include "cavity/depth.h"
#include "cavity/ray.h"
#include "cavity/section.h"
#include "cavity/wall.h"

#include <math.h>
#include <string.h>

enum { AROUND = 48 };

/* Along a line of the bore's wall skin and cavity lie at most so many radii from where their planes on the axis
 * have them, half a ball's depth; what is farther is something else that the bore passes by. Planes steeper than
 * four to one have no end in a bore. */
static const double AWAY = 1.05, STEEPEST = 4.0;

typedef struct drilling {
    vug_context *ctx;
    const vug_cavities *cavities;
    int32_t cavity;
    vugi_plane plane; /* square to the axis, at the skin on it */
    double inward[3], radius;
    double wall;                     /* depth of the cavity's wall on the axis */
    double skin_reach, wall_reach;   /* how far from there they may lie on the bore's wall */
    uint32_t *part_list, *wall_list; /* triangles by the bore */
    size_t part_count, wall_count;
} drilling;

/* First cavity wall along the ray, and whose. */
static double cavity_behind(const vug_cavities *c, const double origin[3], const double inward[3],
    int32_t *cavity, uint32_t *triangle)
{
    double nearest = INFINITY;
    for (size_t i = 0; i < c->cavity_count; i++) {
        uint32_t t;
        double s = vugi_ray_hit(c->cavity[i].mesh, origin, inward, 0.0, &t);
        if (s < nearest) {
            nearest = s;
            *cavity = (int32_t)i;
            *triangle = t;
        }
    }
    return nearest;
}

/* How far along the axis a surface may lie from where the axis meets it in a triangle. */
static double reach_of(const drilling *d, const vug_mesh *mesh, uint32_t triangle)
{
    const uint32_t *v = mesh->triangles + 3 * (size_t)triangle;
    double n[3];
    vugi_triangle_cross(mesh->xyz + 3 * (size_t)v[0], mesh->xyz + 3 * (size_t)v[1],
        mesh->xyz + 3 * (size_t)v[2], n);
    double along = fabs(vugi_dot(n, d->inward)), length = vugi_length(n);
    double aside = sqrt(fmax(0.0, length * length - along * along));
    double slope = aside < STEEPEST * along ? aside / along : STEEPEST;
    return d->radius * (slope + AWAY);
}

/* Finds skin and cavity on the axis. false: there is no wall to go through. */
static bool find_axis(drilling *d, const vugi_hole *hole)
{
    double start[3], skin;
    uint32_t on_skin = 0, on_cavity = 0;
    d->radius = 0.5 * hole->diameter;
    for (int k = 0; k < 3; k++)
        d->inward[k] = -hole->normal[k];
    vugi_along(hole->center, hole->normal, 2.0 * d->radius, start);
    skin = vugi_ray_hit(d->cavities->part, start, d->inward, 0.0, &on_skin);
    d->wall = cavity_behind(d->cavities, start, d->inward, &d->cavity, &on_cavity) - skin;
    if (!(d->wall < INFINITY) || !(d->wall > 1e-6 * d->radius)) /* started inside the cavity */
        return false;
    d->skin_reach = reach_of(d, d->cavities->part, on_skin);
    d->wall_reach = reach_of(d, d->cavities->cavity[d->cavity].mesh, on_cavity);
    vugi_along(start, d->inward, skin, start);
    d->plane = vugi_plane_at(start, hole->normal);
    return true;
}

static void on_wall(const drilling *d, int i, double depth, double p[3])
{
    double angle = 2.0 * VUGI_PI * i / AROUND, c = d->radius * cos(angle),
           s = d->radius * sin(angle);
    for (int k = 0; k < 3; k++)
        p[k] = d->plane.center[k] + c * d->plane.u[k] + s * d->plane.v[k] + depth * d->inward[k];
}

/* Depth of the cavity's wall on line i, INFINITY where the bore passes it by. */
static double wall_depth(const drilling *d, int i)
{
    double from[3], most = d->wall_reach;
    on_wall(d, i, d->wall - most, from);
    double s = vugi_ray_hit_of(d->cavities->cavity[d->cavity].mesh, d->wall_list, d->wall_count,
        from, d->inward, 0.0, NULL);
    return s < 2.0 * most ? d->wall - most + s : INFINITY;
}

/* Depth of the skin on line i, seen from the solid above the cavity's wall. */
static double skin_depth(const drilling *d, int i, double wall)
{
    double from[3];
    bool out = false;
    on_wall(d, i, wall, from);
    double s = vugi_ray_hit_of(d->cavities->part, d->part_list, d->part_count, from,
        d->plane.normal, 1e-6 * d->radius, &out);
    return out && fabs(wall - s) < d->skin_reach ? wall - s : 0.0;
}

/* The rim, then the mouth, as points of the outline. *deep: the deepest of the mouth. */
static void find_ends(const drilling *d, double *outline, double *deep)
{
    double wall[AROUND];
    *deep = d->wall;
    for (int i = 0; i < AROUND; i++) {
        wall[i] = wall_depth(d, i);
        if (wall[i] < INFINITY)
            *deep = fmax(*deep, wall[i]);
    }
    for (int i = 0; i < AROUND; i++) {
        wall[i] = fmin(wall[i], *deep);
        double skin = skin_depth(d, i, wall[i]);
        on_wall(d, i, skin, outline + (size_t)3 * (size_t)i);
        on_wall(d, i, fmax(wall[i], skin), outline + (size_t)3 * (size_t)(AROUND + i));
    }
}

/* A normal of the plane s = slope . (x, y) along the axis. */
static void plane_normal(const vugi_plane *plane, const double slope[2], double normal[3])
{
    for (int k = 0; k < 3; k++)
        normal[k] = plane->normal[k] - slope[0] * plane->u[k] - slope[1] * plane->v[k];
}

static void measure(const drilling *d, double deep, vugi_opening *o, vugi_bore *bore,
    double volume[2])
{
    const vugi_plane *p = &d->plane;
    vugi_wall w = {.radius = d->radius};
    memcpy(w.origin, p->center, sizeof w.origin);
    memcpy(w.axis, p->normal, sizeof w.axis);
    memcpy(w.u, p->u, sizeof w.u);
    memcpy(w.v, p->v, sizeof w.v);
    o->cavity = bore->body = d->cavity;
    o->planned = true;
    o->radius = o->inscribed_radius = bore->radius = d->radius;
    memcpy(o->center, p->center, sizeof o->center);
    memcpy(o->axis, p->normal, sizeof o->axis);
    vugi_opening_rim_size(o, p->normal);
    vugi_wall_level(&w, o->outline, o->outline_count, &o->rim_level, o->rim_slope);
    vugi_opening_mouth(&w, o);

    /* A disc's mean of a surface that is even or a paraboloid is amid its edge's and its middle's. Skin and
     * wall may be faceted each in its own way, so what one is off does not make up for the other. */
    double ends = o->rim_level - o->mouth_level, axis = d->wall,
           area = VUGI_PI * d->radius * d->radius;
    volume[0] = 0.5 * area * (ends + axis);
    volume[1] = 0.5 * area * (fabs(o->rim_level) + fabs(o->mouth_level + axis));
    o->bore_length = d->wall;
    vugi_along(p->center, d->inward, d->wall, o->inner);

    double sunk = 0.0; /* of the mouth below its plane */
    for (size_t i = 0; i < o->mouth_count; i++) {
        double at[3];
        vugi_wall_frame(&w, o->outline + 3 * (o->outline_count + i), at);
        sunk = fmax(sunk,
            o->mouth_level + o->mouth_slope[0] * at[0] + o->mouth_slope[1] * at[1] - at[2]);
    }
    sunk = fmin(sunk, deep) + 0.02 * d->radius;
    memcpy(bore->axis, d->inward, sizeof bore->axis);
    vugi_along(p->center, p->normal, o->rim_level, bore->mouth);
    bore->length = ends + sunk;
    plane_normal(p, o->rim_slope, bore->rim);
    plane_normal(p, o->mouth_slope, bore->end);
}

static vug_status drill(drilling *d, vugi_opening *o, vugi_bore *bore, double volume[2])
{
    const vug_mesh *wall = d->cavities->cavity[d->cavity].mesh;
    double deep = 0.0, most = 1.0001 * d->radius;
    vug_status status = vugi_triangles_along(d->ctx, d->cavities->part, &d->plane, most,
        &d->part_list, &d->part_count);
    if (!status)
        status = vugi_triangles_along(d->ctx, wall, &d->plane, most, &d->wall_list, &d->wall_count);
    if (status)
        return status;
    o->outline = vugi_alloc(&d->ctx->mem, (size_t)2 * AROUND * 3, sizeof *o->outline);
    if (!o->outline)
        return vugi_fail_memory(d->ctx);
    o->outline_count = o->mouth_count = AROUND;
    find_ends(d, o->outline, &deep);
    measure(d, deep, o, bore, volume);
    return VUG_OK;
}

vug_status vugi_hole_plan(vug_context *ctx, const vug_cavities *cavities, const vugi_hole *hole,
    vugi_opening *opening, vugi_bore *bore, double volume[2], bool *found)
{
    drilling d = {.ctx = ctx, .cavities = cavities, .cavity = -1};
    vug_status status = VUG_OK;
    volume[0] = volume[1] = 0.0;
    *found = find_axis(&d, hole);
    if (*found)
        status = drill(&d, opening, bore, volume);
    *found = *found && !status;
    vugi_free(&ctx->mem, d.part_list);
    vugi_free(&ctx->mem, d.wall_list);
    return status;
}
