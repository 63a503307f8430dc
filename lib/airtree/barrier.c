/* SPDX-License-Identifier: MIT
 * Which throats hold air back, and their sections. */
#include "airtree/barrier.h"

#include "base/angle.h"
#include "mesh/edges.h"

#include <math.h>
#include <string.h>

enum { ROUND = 24, FAR = 12 }; /* corners of a stand-in; radii within which a section must end */

void vugi_barriers_free(const vugi_allocator *mem, vugi_barriers *barriers)
{
    for (size_t i = 0; i < barriers->count; i++)
        vugi_free(mem, barriers->barrier[i].corner);
    vugi_free(mem, barriers->barrier);
    *barriers = (vugi_barriers){.count = 0};
}

/* The cavity's mesh turned inside out: around a throat it is the wall that is solid. */
static vug_mesh *wall_of(const vugi_allocator *mem, const vug_mesh *mesh)
{
    double *xyz = vugi_alloc(mem, 3 * mesh->vertex_count, sizeof *xyz);
    uint32_t *triangles = vugi_alloc(mem, 3 * mesh->triangle_count, sizeof *triangles);
    if (!xyz || !triangles) {
        vugi_free(mem, xyz);
        vugi_free(mem, triangles);
        return NULL;
    }
    memcpy(xyz, mesh->xyz, 3 * mesh->vertex_count * sizeof *xyz);
    for (size_t t = 0; t < mesh->triangle_count; t++)
        for (size_t k = 0; k < 3; k++)
            triangles[3 * t + k] = mesh->triangles[3 * t + 2 - k];
    return vugi_mesh_adopt(mem, xyz, mesh->vertex_count, triangles, mesh->triangle_count);
}

/* The loop's points in the plane; a circle where the mesh gives no loop. */
static bool take_corners(const vugi_allocator *mem, const vugi_loop *loop, bool found,
    vugi_barrier *barrier)
{
    barrier->corners = found ? loop->count : ROUND;
    barrier->corner = vugi_alloc(mem, 2 * barrier->corners, sizeof *barrier->corner);
    if (!barrier->corner)
        return false;
    for (size_t i = 0; i < barrier->corners; i++) {
        double *c = barrier->corner + 2 * i, angle = 2.0 * VUGI_PI * (double)i / ROUND;
        if (found) {
            vugi_in_plane(&barrier->plane, loop->point + 3 * i, c);
        } else {
            c[0] = 0.5 * barrier->diameter * cos(angle);
            c[1] = 0.5 * barrier->diameter * sin(angle);
        }
        barrier->reach = fmax(barrier->reach, hypot(c[0], c[1]));
    }
    return true;
}

static vug_status add_barriers(vug_context *ctx, const vugi_cavity *cavity, int32_t body,
    const vug_mesh *wall, const uint32_t *other, vugi_barriers *barriers)
{
    vug_status status = VUG_OK;
    vugi_loop loop = {.count = 0};
    for (size_t i = 0; i < cavity->throat_count && !status; i++) {
        const vugi_place *throat = cavity->throat + i;
        bool found;
        if (!(2.0 * throat->radius < barriers->limit))
            continue;
        vugi_barrier barrier = {.body = body,
            .diameter = 2.0 * throat->radius,
            .plane = vugi_plane_at(throat->center, throat->direction)};
        status = vugi_section_hole(ctx, wall, other, NULL, 0, &barrier.plane, FAR * throat->radius,
            &loop, &found);
        if (!status && !take_corners(&ctx->mem, &loop, found, &barrier))
            status = vugi_fail_memory(ctx);
        if (!status)
            barriers->barrier[barriers->count++] = barrier;
        if (!status)
            status = vugi_step(ctx, 0.0);
    }
    vugi_loop_free(&ctx->mem, &loop);
    return status;
}

static size_t narrow_throats(const vugi_cavity *cavity, double limit)
{
    size_t count = 0;
    for (size_t i = 0; i < cavity->throat_count; i++)
        count += 2.0 * cavity->throat[i].radius < limit;
    return count;
}

static vug_status add_cavity(vug_context *ctx, const vugi_cavity *cavity, int32_t body,
    vugi_barriers *barriers)
{
    vug_mesh *wall = wall_of(&ctx->mem, cavity->mesh);
    uint32_t *other = wall ? vugi_alloc(&ctx->mem, 3 * wall->triangle_count, sizeof *other) : NULL;
    vug_status status = other ? vugi_mesh_neighbours(ctx, wall, other) : vugi_fail_memory(ctx);
    if (!status)
        status = add_barriers(ctx, cavity, body, wall, other, barriers);
    vugi_free(&ctx->mem, other);
    vug_mesh_free(wall);
    return status;
}

vug_status vugi_barriers_build(vug_context *ctx, const vug_cavities *cavities, double limit,
    vugi_barriers *barriers)
{
    size_t most = 0;
    vug_status status = VUG_OK;
    *barriers = (vugi_barriers){.limit = limit};
    for (size_t i = 0; i < cavities->cavity_count; i++)
        most += narrow_throats(cavities->cavity + i, limit);
    if (most == 0)
        return VUG_OK;
    if (most >= INT16_MAX)
        return vugi_fail(ctx, VUG_ERR_LIMIT,
            "%zu throats are too narrow for bubbles, at most %d can "
            "be planned with",
            most, INT16_MAX - 1);
    barriers->barrier = vugi_alloc(&ctx->mem, most, sizeof *barriers->barrier);
    if (!barriers->barrier)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < cavities->cavity_count && !status; i++)
        if (narrow_throats(cavities->cavity + i, limit) > 0)
            status = add_cavity(ctx, cavities->cavity + i, (int32_t)i, barriers);
    if (status)
        vugi_barriers_free(&ctx->mem, barriers);
    return status;
}
