/* SPDX-License-Identifier: MIT
 * The part is put into a box that is open at one corner of its floor. The room around the part is a
 * cavity of the box then; while it fills, all of it that still reaches that corner is the vat, and any
 * other piece is a cup. */
#include "outside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { BOX_POINTS = 8, BOX_TRIANGLES = 12 };
static const double room_mm = 4.0, wall_mm = 1.0, bore_mm = 2.0;

static double along(const double *a, const double *b)
{
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}

/* Unit axes; the third is up. */
static void make_axes(const double *up, double axis[3][3])
{
    double length = sqrt(along(up, up));
    for (int i = 0; i < 3; i++)
        axis[2][i] = up[i] / length;
    const double *w = axis[2];
    int least = fabs(w[0]) < fabs(w[1]) ? (fabs(w[0]) < fabs(w[2]) ? 0 : 2)
                                        : (fabs(w[1]) < fabs(w[2]) ? 1 : 2);
    double aside[3] = {0.0, 0.0, 0.0};
    aside[least] = 1.0;
    for (int i = 0; i < 3; i++)
        axis[0][i] = aside[i] - w[least] * w[i];
    double size = sqrt(along(axis[0], axis[0]));
    for (int i = 0; i < 3; i++)
        axis[0][i] /= size;
    for (int i = 0; i < 3; i++)
        axis[1][i] = w[(i + 1) % 3] * axis[0][(i + 2) % 3] - w[(i + 2) % 3] * axis[0][(i + 1) % 3];
}

static void find_extent(const vug_mesh *mesh, double axis[3][3], double lo[3], double hi[3])
{
    const double *xyz = vug_mesh_vertices(mesh);
    for (int k = 0; k < 3; k++) {
        lo[k] = INFINITY;
        hi[k] = -INFINITY;
    }
    for (size_t i = 0; i < vug_mesh_vertex_count(mesh); i++)
        for (int k = 0; k < 3; k++) {
            double at = along(xyz + 3 * i, axis[k]);
            lo[k] = fmin(lo[k], at);
            hi[k] = fmax(hi[k], at);
        }
}

double outside_lowest(const vug_mesh *mesh, const double *up)
{
    double axis[3][3], lo[3], hi[3];
    make_axes(up, axis);
    find_extent(mesh, axis, lo, hi);
    return lo[2];
}

static void to_part(double axis[3][3], const double at[3], double point[3])
{
    for (int i = 0; i < 3; i++)
        point[i] = at[0] * axis[0][i] + at[1] * axis[1][i] + at[2] * axis[2][i];
}

/* Corner c of the box has its bits as its sides; faces are seen from outside, or from inside. */
static void add_box(double axis[3][3], const double lo[3], const double hi[3], double margin,
    bool inside_out, uint32_t first, double *xyz, uint32_t *triangle)
{
    static const uint32_t face[BOX_TRIANGLES][3] = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6},
        {0, 1, 4}, {1, 5, 4}, {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    for (uint32_t c = 0; c < BOX_POINTS; c++) {
        double at[3];
        for (int k = 0; k < 3; k++)
            at[k] = c >> k & 1 ? hi[k] + margin : lo[k] - margin;
        to_part(axis, at, xyz + 3 * c);
    }
    for (int t = 0; t < BOX_TRIANGLES; t++)
        for (int k = 0; k < 3; k++)
            triangle[3 * t + k] = first + face[t][inside_out ? 2 - k : k];
}

/* The part in its box, as one mesh. */
static vug_status box_in(vug_context *ctx, const vug_mesh *mesh, double axis[3][3],
    const double lo[3], const double hi[3], vug_mesh **boxed)
{
    size_t points = vug_mesh_vertex_count(mesh), triangles = vug_mesh_triangle_count(mesh);
    double *xyz = malloc(3 * (points + 2 * BOX_POINTS) * sizeof *xyz);
    uint32_t *triangle = malloc(3 * (triangles + 2 * BOX_TRIANGLES) * sizeof *triangle);
    vug_status status = VUG_ERR_MEMORY;
    if (xyz && triangle) {
        memcpy(xyz, vug_mesh_vertices(mesh), 3 * points * sizeof *xyz);
        memcpy(triangle, vug_mesh_triangles(mesh), 3 * triangles * sizeof *triangle);
        add_box(axis, lo, hi, room_mm + wall_mm, false, (uint32_t)points, xyz + 3 * points,
            triangle + 3 * triangles);
        points += BOX_POINTS;
        triangles += BOX_TRIANGLES;
        add_box(axis, lo, hi, room_mm, true, (uint32_t)points, xyz + 3 * points,
            triangle + 3 * triangles);
        points += BOX_POINTS;
        triangles += BOX_TRIANGLES;
        status = vug_mesh_from_arrays(ctx, xyz, points, 3 * sizeof *xyz, triangle, triangles,
            3 * sizeof *triangle, boxed);
    }
    free(xyz);
    free(triangle);
    return status;
}

/* The cavity of the box, by its hole. */
static vug_status find_room(vug_context *ctx, const vug_mesh *boxed, double axis[3][3],
    const double lo[3], vug_cavities **room, int32_t *cavity)
{
    const double corner[3] = {lo[0] - 0.5 * room_mm, lo[1] - 0.5 * room_mm,
        lo[2] - room_mm - wall_mm};
    double hole[7] = {0.0, 0.0, 0.0, -axis[2][0], -axis[2][1], -axis[2][2], bore_mm};
    vug_cavity_options options;
    vug_opening_info info = {.struct_size = sizeof info};
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    to_part(axis, corner, hole);
    vug_status status = vug_cavities_find(ctx, boxed, hole, 1, &options, room);
    for (size_t i = 0; !status && i < vug_cavities_opening_count(*room); i++) {
        status = vug_cavities_opening(*room, i, &info);
        *cavity = (int32_t)info.cavity;
    }
    return status;
}

/* Does a line from the point, along a direction that no part is built along, leave the closed mesh? */
static bool crosses(const double *a, const double *b, const double *c, const double *from)
{
    static const double ray[3] = {0.3713906763, 0.5570860145, 0.7427813527};
    double ab[3], ac[3], at[3], normal[3], across[3];
    for (int k = 0; k < 3; k++) {
        ab[k] = b[k] - a[k];
        ac[k] = c[k] - a[k];
        at[k] = from[k] - a[k];
    }
    for (int k = 0; k < 3; k++) {
        int i = (k + 1) % 3, j = (k + 2) % 3;
        normal[k] = ab[i] * ac[j] - ab[j] * ac[i];
        across[k] = at[i] * ray[j] - at[j] * ray[i];
    }
    double facing = along(normal, ray);
    if (facing == 0.0)
        return false;
    double u = -along(ac, across) / facing, v = along(ab, across) / facing;
    return u >= 0.0 && v >= 0.0 && u + v <= 1.0 && along(normal, at) / facing < 0.0;
}

bool outside_is_in(const vug_mesh *mesh, const double point[3])
{
    const double *xyz = vug_mesh_vertices(mesh);
    const uint32_t *t = vug_mesh_triangles(mesh);
    bool in = false;
    for (size_t i = 0; i < vug_mesh_triangle_count(mesh); i++, t += 3)
        in ^= crosses(xyz + 3 * (size_t)t[0], xyz + 3 * (size_t)t[1], xyz + 3 * (size_t)t[2],
            point);
    return in;
}

vug_status outside_cups(vug_context *ctx, const vug_mesh *mesh, const double *up, int64_t columns,
    const printing_settings *settings, vug_cups **out)
{
    double axis[3][3], lo[3], hi[3];
    vug_mesh *boxed = NULL;
    vug_cavities *room = NULL;
    vug_cup_options options;
    vug_fluid resin;
    vug_cup_options_init(&options, sizeof options);
    vug_fluid_init(&resin, sizeof resin);
    resin.density_kg_m3 = settings->vat_kg_m3;
    resin.consistency_pa_sn = settings->vat_pa_s;
    options.columns_across = (uint32_t)columns;
    options.layer_mm = settings->layer_mm;
    options.lift_mm_s = settings->lift_mm_s;
    options.suction_pa = settings->film_pa;
    make_axes(up, axis);
    find_extent(mesh, axis, lo, hi);
    vug_status status = box_in(ctx, mesh, axis, lo, hi, &boxed);
    if (!status)
        status = find_room(ctx, boxed, axis, lo, &room, &options.cavity);
    if (!status)
        status = vug_cups_find(ctx, room, &resin, up, NULL, 0, &options, out);
    vug_cavities_free(room);
    vug_mesh_free(boxed);
    return status;
}
