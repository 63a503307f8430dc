/* SPDX-License-Identifier: MIT
 * The part is put into a box that is open at one corner of its floor. The room around the part is a
 * cavity of the box then; while it fills, all of it that still reaches that corner is the vat, and any
 * other piece is a cup. Where the part stands on the plate, the room begins at the plate: what the part
 * shuts off there is a room without a way out, and a cup as a whole. */
#include "outside.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { BOX_POINTS = 8, BOX_TRIANGLES = 12 };
static const double room_mm = 4.0, wall_mm = 1.0, bore_mm = 2.0;

void printing_ask(const printing_settings *settings, int64_t columns, vug_cup_options *options,
    vug_fluid *resin)
{
    vug_cup_options_init(options, sizeof *options);
    vug_fluid_init(resin, sizeof *resin);
    resin->density_kg_m3 = settings->vat_kg_m3;
    resin->consistency_pa_sn = settings->vat_pa_s;
    options->columns_across = (uint32_t)columns;
    options->layer_mm = settings->layer_mm;
    options->lift_mm_s = settings->lift_mm_s;
    options->suction_pa = settings->film_pa;
}

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

/* Corner c of the box has its bits as its sides; its faces are seen from outside. */
static void add_box(double axis[3][3], const double lo[3], const double hi[3], uint32_t first,
    double *xyz, uint32_t *triangle)
{
    static const uint32_t face[BOX_TRIANGLES][3] = {{0, 2, 1}, {1, 2, 3}, {4, 5, 6}, {5, 7, 6},
        {0, 1, 4}, {1, 5, 4}, {2, 6, 3}, {3, 6, 7}, {0, 4, 2}, {2, 4, 6}, {1, 3, 5}, {3, 7, 5}};
    for (uint32_t c = 0; c < BOX_POINTS; c++) {
        double at[3];
        for (int k = 0; k < 3; k++)
            at[k] = c >> k & 1 ? hi[k] : lo[k];
        to_part(axis, at, xyz + 3 * c);
    }
    for (int t = 0; t < BOX_TRIANGLES; t++)
        for (int k = 0; k < 3; k++)
            triangle[3 * t + k] = first + face[t][k];
}

/* A box from which the mesh is taken away: the part from a box gives the room around it, the room from a box its walls. */
static vug_status box_without(vug_context *ctx, const vug_mesh *mesh, double axis[3][3],
    const double lo[3], const double hi[3], vug_mesh **out)
{
    size_t points = vug_mesh_vertex_count(mesh), triangles = vug_mesh_triangle_count(mesh);
    double *xyz = malloc(3 * (points + BOX_POINTS) * sizeof *xyz);
    uint32_t *triangle = malloc(3 * (triangles + BOX_TRIANGLES) * sizeof *triangle);
    vug_status status = VUG_ERR_MEMORY;
    if (xyz && triangle) {
        memcpy(xyz, vug_mesh_vertices(mesh), 3 * points * sizeof *xyz);
        const uint32_t *t = vug_mesh_triangles(mesh);
        for (size_t i = 0; i < 3 * triangles; i++)
            triangle[i] = t[i - i % 3 + 2 - i % 3];
        add_box(axis, lo, hi, (uint32_t)points, xyz + 3 * points, triangle + 3 * triangles);
        points += BOX_POINTS;
        triangles += BOX_TRIANGLES;
        status = vug_mesh_from_arrays(ctx, xyz, points, 3 * sizeof *xyz, triangle, triangles,
            3 * sizeof *triangle, out);
    }
    free(xyz);
    free(triangle);
    return status;
}

/* What of the body lies above a level: the rest is taken away by a bore that is wider than the body. */
static vug_status cut_off_below(vug_context *ctx, const vug_mesh *body, double axis[3][3],
    const double lo[3], const double hi[3], double level, vug_mesh **out)
{
    const double before[3] = {0.5 * (lo[0] + hi[0]), 0.5 * (lo[1] + hi[1]), lo[2] - 1.0};
    double bore[VUG_BORE_ROW] = {0.0};
    vug_bore_options options;
    vug_bore_options_init(&options, sizeof options);
    to_part(axis, before, bore);
    for (int k = 0; k < 3; k++)
        bore[3 + k] = axis[2][k];
    bore[6] = 2.0 * hypot(hi[0] - lo[0], hi[1] - lo[1]);
    bore[7] = level - lo[2];
    options.error_mm = fmin(0.1 * bore[6], 1000.0); /* eight sides will do */
    return vug_shape_bore(ctx, body, bore, 1, &options, NULL, out);
}

/* The room around the part, from the plate up. A part that is not clear where it meets the plate is looked at as if on
 * supports: *plate is as low as can be then. */
static vug_status make_room(vug_context *ctx, const vug_mesh *mesh, double axis[3][3],
    const double lo[3], const double hi[3], double *plate, vug_mesh **room)
{
    vug_mesh *around = NULL;
    vug_status status = box_without(ctx, mesh, axis, lo, hi, &around);
    if (!status && *plate > lo[2]) {
        status = cut_off_below(ctx, around, axis, lo, hi, *plate, room);
        if (status != VUG_ERR_MESH) {
            vug_mesh_free(around);
            return status;
        }
        status = VUG_OK;
    }
    *plate = -INFINITY;
    *room = around;
    return status;
}

/* The rooms of the box: that with a hole in its floor, and those that the part shuts off on the plate. */
static vug_status find_rooms(vug_context *ctx, const vug_mesh *boxed, double axis[3][3],
    const double lo[3], vug_cavities **rooms)
{
    const double corner[3] = {lo[0] + wall_mm + 0.5 * room_mm, lo[1] + wall_mm + 0.5 * room_mm,
        lo[2]};
    double hole[7] = {0.0, 0.0, 0.0, -axis[2][0], -axis[2][1], -axis[2][2], bore_mm};
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    to_part(axis, corner, hole);
    return vug_cavities_find(ctx, boxed, hole, 1, &options, rooms);
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

static bool begins_below(const vug_cups *cups, double level)
{
    vug_cup_info cup = {.struct_size = sizeof cup};
    return vug_cups_get(cups, 0, &cup) == VUG_OK && cup.lo_mm < level;
}

/* Cups of the room with the hole, and of those on the plate; any other room is sealed in the part. */
static vug_status find_cups(vug_context *ctx, const vug_cavities *rooms, const double *up,
    int64_t columns, const printing_settings *settings, outside *out)
{
    vug_opening_info hole = {.struct_size = sizeof hole};
    vug_cup_options options;
    vug_fluid resin;
    printing_ask(settings, columns, &options, &resin);
    size_t count = vug_cavities_count(rooms);
    out->cups = calloc(count, sizeof *out->cups);
    vug_status status = out->cups ? vug_cavities_opening(rooms, 0, &hole) : VUG_ERR_MEMORY;
    for (size_t i = 0; !status && i < count; i++) {
        vug_cups *cups = NULL;
        options.cavity = (int32_t)i;
        status = vug_cups_find(ctx, rooms, &resin, up, NULL, 0, &options, &cups);
        if (!status && (i == hole.cavity || begins_below(cups, out->plate)))
            out->cups[out->rooms++] = cups;
        else
            vug_cups_free(cups);
    }
    return status;
}

vug_status outside_find(vug_context *ctx, const vug_mesh *mesh, const double *up, int64_t columns,
    const printing_settings *settings, outside *out)
{
    double axis[3][3], lo[3], hi[3];
    vug_mesh *room = NULL, *boxed = NULL;
    vug_cavities *rooms = NULL;
    *out = (outside){0};
    make_axes(up, axis);
    find_extent(mesh, axis, lo, hi);
    double plate = settings->supports ? -INFINITY : lo[2] + 0.5 * settings->layer_mm;
    for (int k = 0; k < 3; k++) {
        lo[k] -= room_mm;
        hi[k] += room_mm;
    }
    vug_status status = make_room(ctx, mesh, axis, lo, hi, &plate, &room);
    out->plate = plate + settings->layer_mm;
    lo[2] = fmax(lo[2], plate);
    for (int k = 0; k < 3; k++) {
        lo[k] -= wall_mm;
        hi[k] += wall_mm;
    }
    if (!status)
        status = box_without(ctx, room, axis, lo, hi, &boxed);
    if (!status)
        status = find_rooms(ctx, boxed, axis, lo, &rooms);
    if (!status)
        status = find_cups(ctx, rooms, up, columns, settings, out);
    vug_cavities_free(rooms);
    vug_mesh_free(boxed);
    vug_mesh_free(room);
    return status;
}

void outside_free(outside *found)
{
    for (size_t i = 0; i < found->rooms; i++)
        vug_cups_free(found->cups[i]);
    free(found->cups);
}
