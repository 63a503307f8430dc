/* SPDX-License-Identifier: MIT
 * Chambers and throats. */
#include "cavity/place.h"

#include "base/angle.h"
#include "cavity/atlas.h"
#include "cavity/mouth.h"
#include "cavity/section.h"
#include "cavity/throat.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { BALL_STEPS = 16 };

/* Moves p away from its nearest wall as long as that makes its ball larger. Few steps: in the middle of
 * a round chamber all walls are nearest, and each question is a long one. */
static double settle_ball(const vugi_tree *tree, double p[3], double step)
{
    double wall[3], radius = vugi_tree_nearest(tree, p, INFINITY, wall, NULL);
    for (int i = 0; i < BALL_STEPS && radius > 0.0; i++) {
        double q[3], beyond[3];
        for (int k = 0; k < 3; k++)
            q[k] = p[k] + step * (p[k] - wall[k]) / radius;
        double r = vugi_tree_nearest(tree, q, INFINITY, beyond, NULL);
        if (r > radius) {
            radius = r;
            memcpy(p, q, sizeof q);
            memcpy(wall, beyond, sizeof beyond);
        } else {
            step *= 0.5;
        }
    }
    return radius;
}

static void add_chamber(const vugi_tree *tree, const vugi_void *v, const vugi_chamber *from,
    vugi_place *to)
{
    *to = (vugi_place){.a = -1, .b = -1};
    vugi_grid_point(&v->grid, from->peak, to->center);
    to->radius = settle_ball(tree, to->center, v->grid.h);
    to->volume = (double)from->cells * v->grid.h * v->grid.h * v->grid.h;
}

/* Widest ball in the plane across the throat at s along it from start. */
static double across_at(const vugi_tree *tree, const double start[3], const vugi_plane *across,
    double s, double step, double p[3])
{
    for (int k = 0; k < 3; k++)
        p[k] = start[k] + s * across->normal[k];
    return vugi_farthest(tree, p, across->u, across->v, step);
}

/* Narrowest such place within two cells, by golden section (Kiefer 1953). */
static void settle_throat(const vugi_tree *tree, double h, vugi_place *throat)
{
    const double golden = 0.6180339887498949,
                 start[3] = {throat->center[0], throat->center[1], throat->center[2]};
    vugi_plane across = vugi_plane_at(start, throat->direction);
    double lo = -2.0 * h, hi = 2.0 * h, p[3];
    double s = hi - golden * (hi - lo), t = lo + golden * (hi - lo);
    double fs = across_at(tree, start, &across, s, h, p),
           ft = across_at(tree, start, &across, t, h, p);
    while (hi - lo > 0.02 * h) {
        if (fs <= ft) {
            hi = t;
            t = s;
            ft = fs;
            s = hi - golden * (hi - lo);
            fs = across_at(tree, start, &across, s, h, p);
        } else {
            lo = s;
            s = t;
            fs = ft;
            t = lo + golden * (hi - lo);
            ft = across_at(tree, start, &across, t, h, p);
        }
    }
    throat->radius = across_at(tree, start, &across, 0.5 * (lo + hi), h, throat->center);
}

/* How far a throat goes on as wide to one side of its middle, along its direction: beyond its end the wall that is nearest is
 * its edge, where a ball somewhat wider has room and where one does that is wider still; in a cone the end would move on
 * between the two. INFINITY: farther than it counts, or it widens step by step. */
static double straight_to(const vugi_tree *tree, const vugi_place *throat, double sign)
{
    const double step = 0.125, most = 24.0, wider[2] = {1.25, 1.45}, hair = 0.05;
    double r = throat->radius, end[2] = {INFINITY, INFINITY}, p[3];
    int met = 0;
    for (double far = step; far <= most && met < 2; far += step) {
        for (int k = 0; k < 3; k++)
            p[k] = throat->center[k] + sign * far * r * throat->direction[k];
        double room = vugi_tree_nearest(tree, p, INFINITY, NULL, NULL);
        while (met < 2 && room >= wider[met] * r)
            end[met++] = far * r - sqrt(room * room - r * r);
    }
    bool edge = met == 2 && end[0] > -hair * r && fabs(end[1] - end[0]) <= hair * r;
    return edge ? fmax(0.0, end[0]) : INFINITY;
}

/* The section at the middle, as it is seen from there: all of it if it bulges nowhere inward. */
static vugi_straight look_across(const vugi_tree *tree, const vugi_place *throat, double length)
{
    enum { RAYS = 512 };
    const double turn = VUGI_PI / RAYS;
    vugi_plane across = vugi_plane_at(throat->center, throat->direction);
    vugi_straight out = {length, 0.0, INFINITY};
    for (int i = 0; i < RAYS; i++) {
        double ray[3], far[2];
        for (int side = 0; side < 2; side++) {
            double sign = side ? -1.0 : 1.0;
            for (int k = 0; k < 3; k++)
                ray[k] = sign * (cos(turn * i) * across.u[k] + sin(turn * i) * across.v[k]);
            far[side] = vugi_tree_ray(tree, throat->center, ray, 0.0, NULL);
            out.area += 0.5 * turn * far[side] * far[side];
        }
        out.half = fmin(out.half, 0.5 * (far[0] + far[1]));
    }
    return out;
}

static vugi_straight straight_part(const vugi_tree *tree, const vugi_place *throat)
{
    double length = straight_to(tree, throat, -1.0) + straight_to(tree, throat, 1.0);
    vugi_straight out = {length, 0.0, throat->radius};
    if (isfinite(length))
        out = look_across(tree, throat, length);
    if (!isfinite(out.area))
        out.area = 0.0;
    return out;
}

static bool within(const vugi_void *v, const vugi_border *border, int32_t number)
{
    return border->b != VUGI_OUTSIDE && v->chamber[border->a].cavity == number;
}

/* Room for more chambers and throats behind those that the cavity has. */
static vug_status make_room(vug_context *ctx, vugi_cavity *cavity, size_t chambers, size_t throats)
{
    vugi_place *chamber = vugi_realloc(&ctx->mem, cavity->chamber, cavity->chamber_count + chambers,
        sizeof *chamber);
    if (!chamber)
        return vugi_fail_memory(ctx);
    cavity->chamber = chamber;
    vugi_place *throat = vugi_realloc(&ctx->mem, cavity->throat, cavity->throat_count + throats,
        sizeof *throat);
    if (!throat)
        return vugi_fail_memory(ctx);
    cavity->throat = throat;
    return VUG_OK;
}

vug_status vugi_places_add(vug_context *ctx, const vugi_tree *tree, const vugi_void *v,
    int32_t number, vugi_cavity *cavity)
{
    int32_t first = 0, offset = (int32_t)cavity->chamber_count;
    while (v->chamber[first].cavity != number)
        first++;
    size_t chambers = 0, throats = 0;
    for (size_t i = 0; i < v->chamber_count; i++)
        chambers += v->chamber[i].cavity == number;
    for (size_t i = 0; i < v->border_count; i++)
        throats += within(v, v->border + i, number);
    vug_status status = make_room(ctx, cavity, chambers, throats);
    if (status)
        return status;
    for (size_t i = 0; i < chambers && !status; i++) {
        add_chamber(tree, v, v->chamber + first + i, cavity->chamber + cavity->chamber_count++);
        status = vugi_step(ctx, 0.95);
    }
    uint8_t *mark = throats > 0 ? vugi_calloc(&ctx->mem, vugi_grid_count(&v->grid), 1) : NULL;
    if (!status && throats > 0 && !mark)
        status = vugi_fail_memory(ctx);
    for (size_t i = 0; i < v->border_count && !status; i++) {
        const vugi_border *border = v->border + i;
        if (!within(v, border, number))
            continue;
        vugi_place *t = cavity->throat + cavity->throat_count++;
        *t = (vugi_place){.a = border->a - first + offset, .b = border->b - first + offset};
        vugi_grid_point(&v->grid, border->cell, t->center);
        memcpy(t->direction, border->normal, sizeof t->direction);
        if (t->direction[0] == 0.0 && t->direction[1] == 0.0 && t->direction[2] == 0.0)
            t->direction[2] = 1.0; /* a closed border: any direction is as good */
        settle_throat(tree, v->grid.h, t);
        status = vugi_throat_measure(ctx, tree->mesh, v, border, straight_part(tree, t), mark, t);
    }
    vugi_free(&ctx->mem, mark);
    return status ? status : vugi_atlas_add(ctx, v, number, offset, cavity);
}

double vugi_winding(const vug_mesh *mesh, const double p[3])
{
    double sum = 0.0;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        double e[3][3], l[3];
        for (size_t c = 0; c < 3; c++) {
            const double *q = mesh->xyz + 3 * (size_t)mesh->triangles[3 * t + c];
            for (int k = 0; k < 3; k++)
                e[c][k] = q[k] - p[k];
            l[c] = sqrt(e[c][0] * e[c][0] + e[c][1] * e[c][1] + e[c][2] * e[c][2]);
        }
        double det = e[0][0] * (e[1][1] * e[2][2] - e[1][2] * e[2][1])
            + e[0][1] * (e[1][2] * e[2][0] - e[1][0] * e[2][2])
            + e[0][2] * (e[1][0] * e[2][1] - e[1][1] * e[2][0]);
        double ab = e[0][0] * e[1][0] + e[0][1] * e[1][1] + e[0][2] * e[1][2];
        double bc = e[1][0] * e[2][0] + e[1][1] * e[2][1] + e[1][2] * e[2][2];
        double ca = e[2][0] * e[0][0] + e[2][1] * e[0][1] + e[2][2] * e[0][2];
        sum += atan2(det, l[0] * l[1] * l[2] + ab * l[2] + bc * l[0] + ca * l[1]);
    }
    return sum / (2.0 * VUGI_PI);
}
