/* SPDX-License-Identifier: MIT
 * The public face of cavities: find, list, free. */
#include "cavity/build.h"
#include "cavity/cavity.h"
#include "cavity/detect.h"
#include "cavity/extend.h"
#include "cavity/gaps.h"
#include "cavity/set.h"
#include "cavity/trust.h"
#include "cavity/void_types.h"

#include "mesh/handles.h"
#include "mesh/measure.h"

#include <math.h>
#include <string.h>

static const vug_cavity_options cavity_defaults = {
    .struct_size = sizeof(vug_cavity_options),
    .detect = 1,
    .min_ratio = 1.5,
};

/* Seen so far: windows of 2.1 mm in a scan are missed with cells of 0.73 mm, found with 0.49. */
static const double WINDOW_CELLS = 4.0;

vug_status vug_cavity_options_init(vug_cavity_options *options, size_t size)
{
    return vugi_struct_init(options, size, &cavity_defaults, sizeof cavity_defaults);
}

static vug_status read_options(vug_context *ctx, const vug_mesh *mesh,
    const vug_cavity_options *given, vug_cavity_options *own)
{
    *own = cavity_defaults;
    vug_status status = vugi_struct_read(ctx, own, sizeof *own, given, "vug_cavity_options");
    if (status)
        return status;
    if (own->min_ratio == 0.0)
        own->min_ratio = cavity_defaults.min_ratio;
    if (own->cells_across != 0 && (own->cells_across < 8 || own->cells_across > 2048))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cells_across is %u, it must be 8 to 2048",
            (unsigned)own->cells_across);
    if (!(own->min_ratio >= 1.0) || !(own->min_ratio < 1e6))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "min_ratio is %g, it must be at least 1",
            own->min_ratio);
    if (!(own->min_volume_mm3 >= 0.0) || !isfinite(own->min_volume_mm3))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "min_volume_mm3 is %g, it must be 0 or more",
            own->min_volume_mm3);
    if (own->min_volume_mm3 == 0.0) {
        own->min_volume_mm3 = 1e-6;
        for (int k = 0; k < 3; k++)
            own->min_volume_mm3 *= mesh->hi[k] - mesh->lo[k];
    }
    return VUG_OK;
}

/* One row of 7 doubles to a hole; the direction is made unit. */
static vug_status read_hole(vug_context *ctx, const double *row, size_t index, vugi_hole *hole)
{
    for (int k = 0; k < 7; k++)
        if (!isfinite(row[k]))
            return vugi_fail(ctx, VUG_ERR_ARGUMENT, "hole %zu: value %d is not finite", index, k);
    double length = sqrt(row[3] * row[3] + row[4] * row[4] + row[5] * row[5]);
    if (!(length > 0.0) || !isfinite(length))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "hole %zu: the direction (%g, %g, %g) has no length; give it outward", index, row[3],
            row[4], row[5]);
    if (!(row[6] > 0.0))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "hole %zu: diameter %g mm is not above 0", index,
            row[6]);
    *hole = (vugi_hole){.diameter = row[6], .reach = row[6]};
    for (int k = 0; k < 3; k++) {
        hole->center[k] = row[k];
        hole->normal[k] = row[3 + k] / length;
    }
    return VUG_OK;
}

static vug_status read_holes(vug_context *ctx, const double *holes, size_t count, vugi_hole **out)
{
    vug_status status = VUG_OK;
    vugi_hole *hole = vugi_alloc(&ctx->mem, count, sizeof *hole);
    if (!hole)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < count && !status; i++)
        status = read_hole(ctx, holes + 7 * i, i, hole + i);
    if (status)
        vugi_free(&ctx->mem, hole);
    else
        *out = hole;
    return status;
}

static vug_status measure(vug_context *ctx, const vug_mesh *mesh, vug_mesh_measures *m)
{
    *m = (vug_mesh_measures){.struct_size = sizeof *m};
    vugi_range saved = vugi_progress_enter(ctx, 0.0, 0.05, "measuring");
    vug_status status = vugi_mesh_measure(ctx, mesh, m);
    vugi_progress_leave(ctx, saved);
    return status;
}

/* Gaps of a few triangles are closed, in a copy. */
static vug_status close_gaps(vug_context *ctx, const vug_mesh *mesh, vug_mesh_measures *m,
    vug_mesh **closed)
{
    uint64_t before = m->edges_open;
    vug_status status = vugi_gaps_close(ctx, mesh, closed);
    if (!status)
        status = measure(ctx, *closed, m);
    if (!status && m->edges_open == 0)
        vugi_warn(ctx,
            "the mesh has %llu open edges around gaps of a few triangles: they are closed "
            "here for the search",
            (unsigned long long)before);
    return status;
}

/* Whether the mesh can be parted: no edge is open and neighbours face the same way. Otherwise its
 * cavities can still be seen on the grid, if one looks for them. *part is what to look at: the mesh, or a
 * copy without its small gaps. */
static vug_status check_closed(vug_context *ctx, const vug_mesh *mesh,
    const vug_cavity_options *own, size_t hole_count, vug_mesh **part, bool *closed)
{
    vug_mesh_measures m;
    *part = vugi_mesh_share(mesh);
    vug_status status = measure(ctx, mesh, &m);
    if (!status && m.edges_open > 0 && own->detect) {
        vug_mesh *copy = NULL;
        status = close_gaps(ctx, mesh, &m, &copy);
        if (copy) {
            vug_mesh_free(*part);
            *part = copy;
        }
    }
    if (status)
        return status;
    *closed = m.edges_open == 0 && m.edges_flipped == 0 && (m.closed || own->detect);
    if (*closed || (own->detect && hole_count == 0))
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_MESH,
        "the mesh is not closed (%llu open, %llu non-manifold, %llu inconsistently turned edges): "
        "repair it first",
        (unsigned long long)m.edges_open, (unsigned long long)m.edges_nonmanifold,
        (unsigned long long)m.edges_flipped);
}

/* What is open on two sides alike is no cavity until its holes are named: of a tube nothing tells which ends it has. */
static vug_status tell_passages(vug_context *ctx, const vug_mesh *part)
{
    size_t count = 0;
    vug_status status = vugi_mesh_handles(ctx, part, &count);
    if (!status && count > 0)
        vugi_warn(ctx,
            "no cavity is found, but the part has %zu passage%s open at both ends, such as a tube "
            "or "
            "the hole of a ring: to take one for a cavity, name the holes at its ends",
            count, count == 1 ? "" : "s");
    return status;
}

vug_status vug_cavities_find(vug_context *ctx, const vug_mesh *mesh, const double *holes,
    size_t hole_count, const vug_cavity_options *options, vug_cavities **out)
{
    vug_cavity_options own;
    vugi_hole *hole = NULL;
    vug_mesh *part = NULL;
    vug_cavities *found = NULL;
    bool closed = true;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!mesh || !out || (hole_count > 0 && !holes))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "mesh, holes or out is NULL");
    vug_status status = vugi_openings_allowed(ctx, hole_count);
    if (status)
        return status;
    vugi_progress_begin(ctx, "cavities");
    status = read_options(ctx, mesh, options, &own);
    if (!status)
        status = read_holes(ctx, holes, hole_count, &hole);
    if (!status)
        status = check_closed(ctx, mesh, &own, hole_count, &part, &closed);
    if (!status)
        status = vugi_step(ctx, 0.1);
    vugi_range saved = vugi_progress_enter(ctx, 0.1, 1.0, "cavities");
    if (!status)
        status = own.detect
            ? vugi_cavities_detect(ctx, part, closed, hole, hole_count, &own, &found)
            : vugi_cavities_build(ctx, part, hole, hole_count, own.min_volume_mm3, NULL, &found);
    vugi_progress_leave(ctx, saved);
    if (!status && closed && found->cavity_count == 0)
        status = tell_passages(ctx, part);
    vugi_free(&ctx->mem, hole);
    vug_mesh_free(part);
    if (!status)
        status = vugi_openings_allowed(ctx, found->opening_count);
    if (!status)
        status = vugi_step(ctx, 1.0);
    if (status)
        vug_cavities_free(found);
    else
        *out = found;
    return status;
}

vug_status vug_cavities_with_bores(vug_context *ctx, const vug_cavities *cavities,
    const double *holes, size_t hole_count, vug_cavities **out)
{
    vugi_hole *hole = NULL;
    vug_cavities *extended = NULL;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !out || (hole_count > 0 && !holes))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities, holes or out is NULL");
    vug_status status = vugi_openings_allowed(ctx, hole_count);
    if (status)
        return status;
    vugi_progress_begin(ctx, "bores");
    status = read_holes(ctx, holes, hole_count, &hole);
    if (!status)
        status = vugi_cavities_extend(ctx, cavities, hole, hole_count, true, &extended);
    vugi_free(&ctx->mem, hole);
    if (!status)
        status = vugi_step(ctx, 1.0);
    if (status)
        vug_cavities_free(extended);
    else
        *out = extended;
    return status;
}

vug_status vug_cavities_sight(const vug_cavities *c, vug_sight_info *info)
{
    if (!c || !info)
        return VUG_ERR_ARGUMENT;
    const vug_sight_info own = {.struct_size = sizeof own,
        .cells_across = c->cells_across,
        .cell_mm = c->cell,
        .window_mm = WINDOW_CELLS * c->cell,
        .hollow_mm = (2.0 * VUGI_HOLLOW_CELLS + sqrt(3.0)) * c->cell};
    return vugi_struct_write(NULL, info, &own, sizeof own, "vug_sight_info");
}

size_t vug_cavities_count(const vug_cavities *c)
{
    return c ? c->cavity_count : 0;
}

size_t vug_cavities_opening_count(const vug_cavities *c)
{
    return c ? c->opening_count : 0;
}

/* Openings of one cavity follow one another: the first, and how many. */
static uint32_t count_openings(const vug_cavities *c, size_t cavity, uint32_t *first)
{
    uint32_t count = 0;
    *first = 0;
    for (size_t k = c->opening_count; k > 0; k--)
        if (c->opening[k - 1].cavity == (int32_t)cavity) {
            *first = (uint32_t)(k - 1);
            count++;
        }
    return count;
}

vug_status vug_cavities_get(const vug_cavities *c, size_t index, vug_cavity_info *info)
{
    if (!c || !info)
        return VUG_ERR_ARGUMENT;
    if (index >= c->cavity_count)
        return VUG_ERR_NOT_FOUND;
    const vugi_cavity *cavity = c->cavity + index;
    vug_cavity_info own = {.struct_size = sizeof own,
        .sealed = cavity->sealed,
        .exact = !cavity->gridded,
        .chambers = (uint32_t)cavity->chamber_count,
        .throats = (uint32_t)cavity->throat_count,
        .volume_mm3 = cavity->volume,
        .volume_error_mm3 = vugi_cavity_error(c, index),
        .area_mm2 = cavity->area,
        .trusted = vugi_cavity_trusted(c, index)};
    own.openings = count_openings(c, index, &own.first_opening);
    memcpy(own.centroid_mm, cavity->centroid, sizeof own.centroid_mm);
    memcpy(own.lo_mm, cavity->mesh->lo, sizeof own.lo_mm);
    memcpy(own.hi_mm, cavity->mesh->hi, sizeof own.hi_mm);
    return vugi_struct_write(NULL, info, &own, sizeof own, "vug_cavity_info");
}

vug_status vug_cavities_opening(const vug_cavities *c, size_t index, vug_opening_info *info)
{
    if (!c || !info)
        return VUG_ERR_ARGUMENT;
    if (index >= c->opening_count)
        return VUG_ERR_NOT_FOUND;
    const vugi_opening *o = c->opening + index;
    vug_opening_info own = {.struct_size = sizeof own,
        .cavity = (uint32_t)o->cavity,
        .planned = o->planned,
        .diameter_mm = 2.0 * o->radius,
        .inscribed_diameter_mm = 2.0 * o->inscribed_radius,
        .area_mm2 = o->area,
        .perimeter_mm = o->perimeter,
        .bore_length_mm = o->bore_length,
        .exact = vugi_opening_exact(c, o)};
    memcpy(own.center_mm, o->center, sizeof own.center_mm);
    memcpy(own.normal, o->normal, sizeof own.normal);
    memcpy(own.inner_mm, o->inner, sizeof own.inner_mm);
    return vugi_struct_write(NULL, info, &own, sizeof own, "vug_opening_info");
}

vug_status vug_cavities_opening_outline(const vug_cavities *c, size_t index, const double **points,
    size_t *count)
{
    if (!c || !points || !count)
        return VUG_ERR_ARGUMENT;
    if (index >= c->opening_count)
        return VUG_ERR_NOT_FOUND;
    *points = c->opening[index].outline;
    *count = c->opening[index].outline_count;
    return VUG_OK;
}

const vug_mesh *vug_cavities_mesh(const vug_cavities *c, size_t index, const int32_t **tags)
{
    bool there = c && index < c->cavity_count;
    if (tags)
        *tags = there ? c->cavity[index].tag : NULL;
    return there ? c->cavity[index].mesh : NULL;
}
