/* SPDX-License-Identifier: MIT
 * One pose: options, columns, flood from the vents. */
#include "pose/pose.h"

#include "base/vec.h"
#include "cavity/rim.h"
#include "cavity/set.h"
#include "cavity/spacing.h"
#include "cavity/trust.h"
#include "column/columns.h"
#include "column/pose.h"
#include "mesh/terrain.h"

#include <math.h>

static const vug_pose_options pose_defaults = {.struct_size = sizeof(vug_pose_options)};

vug_status vug_pose_options_init(vug_pose_options *options, size_t size)
{
    return vugi_struct_init(options, size, &pose_defaults, sizeof pose_defaults);
}

vug_status vugi_unit(vug_context *ctx, const char *name, const double *given, double unit[3])
{
    if (!given)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL", name);
    double length = vugi_length(given);
    if (!(length > 1e-150) || !isfinite(length))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "%s is (%g, %g, %g): it must be finite and not zero", name, given[0], given[1],
            given[2]);
    for (int k = 0; k < 3; k++)
        unit[k] = given[k] / length;
    return VUG_OK;
}

static vug_status read_roles(vug_context *ctx, const vug_cavities *c, const int32_t *roles,
    size_t count, int32_t **role)
{
    if ((roles || count > 0) && count != c->opening_count)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%zu roles given for %zu openings: give one each",
            count, c->opening_count);
    if (!roles && count > 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "roles is NULL, but role_count is %zu", count);
    for (size_t i = 0; i < count; i++)
        if (roles[i] < VUG_ROLE_OPEN || roles[i] > VUG_ROLE_SEALED)
            return vugi_fail(ctx, VUG_ERR_ARGUMENT,
                "role %d of opening %zu is not a VUG_ROLE_ number", (int)roles[i], i);
    if (!(*role = vugi_alloc(&ctx->mem, c->opening_count, sizeof **role)))
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < c->opening_count; i++)
        (*role)[i] = roles ? roles[i] : VUG_ROLE_OPEN;
    return VUG_OK;
}

vug_status vugi_pose_setup_read(vug_context *ctx, const vug_cavities *cavities,
    const int32_t *roles, size_t role_count, const vug_pose_options *options, uint32_t usual,
    vugi_pose_setup *setup)
{
    vug_pose_options *own = &setup->options;
    *setup = (vugi_pose_setup){.options = pose_defaults};
    vug_status status = vugi_struct_read(ctx, own, sizeof *own, options, "vug_pose_options");
    if (status)
        return status;
    if (cavities->cavity_count == 0)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "the part has no cavity: hollow it first");
    if (own->pose_count > 10000000)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "%u poses asked for, at most 10000000 are allowed",
            (unsigned)own->pose_count);
    if (!(own->refine_deg == 0.0) && !(own->refine_deg >= 0.1 && own->refine_deg <= 30.0))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "refine_deg is %g, it must be 0 or 0.1 to 30",
            own->refine_deg);
    setup->pose_count = own->pose_count ? own->pose_count : 1000;
    status = vugi_read_spacing(ctx, cavities, 0, cavities->cavity_count, own->columns_across, usual,
        own->spacing_mm, &setup->spacing);
    return status ? status : read_roles(ctx, cavities, roles, role_count, &setup->role);
}

void vugi_pose_setup_free(vug_context *ctx, vugi_pose_setup *setup)
{
    vugi_free(&ctx->mem, setup->role);
    setup->role = NULL;
}

/* A seed for each span at an opening that air can leave by. */
static vug_status vent_seeds(vug_context *ctx, const vugi_allocator *mem, const vug_cavities *c,
    const vugi_pose_setup *setup, const vugi_columns *columns, vugi_seed **seed, size_t *count)
{
    const vugi_pose_spans at = vugi_spans_of_columns(columns);
    size_t capacity = 0;
    vug_status status = VUG_OK;
    for (size_t i = 0; i < c->opening_count && !status; i++) {
        vugi_opening_span *span;
        size_t spans;
        if (setup->role[i] == VUG_ROLE_SEALED)
            continue;
        double error = vugi_opening_error(c, c->opening + i, columns->basis + 6, false);
        status = vugi_opening_spans(ctx, mem, c->opening + i, &at, true, &span, &spans);
        if (status)
            break;
        if (vugi_reserve(mem, seed, &capacity, *count + spans, sizeof **seed))
            for (size_t k = 0; k < spans; k++)
                (*seed)[(*count)++] = (vugi_seed){span[k].span, span[k].top, error};
        else
            status = vugi_fail_memory(ctx);
        vugi_free(mem, span);
    }
    return status;
}

/* Of the whole: by so much more than their spacing over the walls what columns hold may differ from what there is. */
static const double LITTLE = 1e-3;

/* Do the columns hold about as much as the walls say? They do not where those cross each other. */
static bool agree(const vugi_pose_room *room)
{
    const vugi_columns *c = &room->columns;
    double h2 = c->h * c->h, held = 0.0, whole = 0.0;
    for (size_t s = 0; s < c->count; s++) {
        double k = h2 * room->scale[c->body[s]];
        held += k * (c->hi[s] - fmin(c->hi[s], fmax(c->lo[s], room->flood.level[s])));
        whole += k * (c->hi[s] - c->lo[s]);
    }
    return fabs(held - room->walls.caught.volume)
        <= c->h * room->walls.caught.side + LITTLE * whole;
}

/* What the walls trap. room->exact: it can be told. */
static bool trap_exactly(const vugi_allocator *mem, const vug_cavities *cavities,
    const vugi_pose_setup *setup, vugi_pose_room *room)
{
    const vugi_bodies bodies = vugi_cavities_bodies(cavities);
    const vugi_columns *columns = room->sound ? NULL : &room->columns;
    if (!vugi_wall_look_at(mem, cavities, 0, cavities->cavity_count, setup->role, &bodies,
            room->basis, columns, false, &room->walls))
        return false;
    room->exact = room->walls.known;
    if (!room->exact || room->sound)
        return true;
    if (!vugi_flood_from(mem, &bodies, columns, false, &room->walls.flood, room->walls.gates.error,
            cavities->opening_count, &room->flood))
        return false;
    room->exact = agree(room);
    return true;
}

/* What is trapped in the pose: by the walls, or else by the columns. */
static vug_status trap(vug_context *ctx, const vugi_allocator *mem, const vug_cavities *cavities,
    const vugi_pose_setup *setup, vugi_pose_room *room)
{
    vugi_seed *seed = NULL;
    size_t seed_count = 0;
    if (!trap_exactly(mem, cavities, setup, room))
        return vugi_fail_memory(ctx);
    if (room->exact)
        return VUG_OK;
    vug_status status = vent_seeds(ctx, mem, cavities, setup, &room->columns, &seed, &seed_count);
    if (!status)
        status = vugi_flood_run(ctx, mem, &room->columns, false, seed, seed_count, &room->flood);
    vugi_free(mem, seed);
    const vugi_bodies bodies = vugi_cavities_bodies(cavities);
    if (!status
        && !vugi_flood_sharpen(mem, &bodies, 0, &room->columns, false, &room->flood, &room->sills))
        status = vugi_fail_memory(ctx);
    return status;
}

/* What volumes of each cavity are multiplied by. */
static vug_status find_scales(vug_context *ctx, const vugi_allocator *mem, const vug_cavities *c,
    vugi_pose_room *room)
{
    const vugi_columns *columns = &room->columns;
    if (!vugi_reserve(mem, &room->scale, &room->scale_capacity, c->cavity_count,
            sizeof *room->scale))
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < c->cavity_count; i++)
        room->scale[i] = 0.0;
    for (size_t s = 0; s < columns->count; s++)
        room->scale[columns->body[s]] += columns->hi[s] - columns->lo[s];
    for (size_t i = 0; i < c->cavity_count; i++)
        room->scale[i] = vugi_volume_scale(c->cavity[i].volume,
            room->scale[i] * columns->h * columns->h);
    return VUG_OK;
}

vug_status vugi_pose_sum(vug_context *ctx, const vugi_allocator *mem, const vug_cavities *c,
    const vugi_pose_setup *setup, vugi_pose_room *room, vugi_pose_sums *sums)
{
    vugi_estimate *e = &sums->estimate;
    double sealed = 0.0;
    for (size_t i = 0; i < c->cavity_count; i++)
        sealed += vugi_caps_error(c, i, setup->role);
    if (room->exact)
        *e = vugi_estimate_exact(vugi_cavities_volume(c), &room->walls.caught,
            vugi_cavities_grain(c), sealed);
    else if (!vugi_estimate_flood(mem, &room->columns, &room->flood, false, room->scale,
                 &room->estimate, e))
        return vugi_fail_memory(ctx);
    sums->capacity = e->volume;
    sums->trapped = e->caught;
    sums->capacity_error = fabs(vugi_cavities_volume(c) - e->volume);
    sums->known_error = room->exact ? 0.0 : sums->capacity_error + sealed;
    for (size_t i = 0; i < c->cavity_count; i++) {
        sums->capacity_error += vugi_cavity_error(c, i);
        sums->known_error += room->exact ? vugi_grid_error(c, i) : c->cavity[i].volume_error;
    }
    sums->trapped_error = vugi_caught_error(e, sums->known_error);
    return VUG_OK;
}

vug_status vugi_pose_columns(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, double spacing, const double up[3], vugi_columns *columns)
{
    const vugi_bodies bodies = vugi_cavities_bodies(cavities);
    vug_status status = vugi_columns_build(ctx, mem, &bodies, up, spacing, columns);
    for (size_t i = 0; !status && i < cavities->opening_count; i++)
        vugi_opening_fit(cavities->opening + i, columns);
    return status;
}

double vugi_pose_room_bytes(const vug_cavities *cavities)
{
    static const double per_corner = 25.0, per_opening = 5e3;
    const vugi_bodies bodies = vugi_cavities_bodies(cavities);
    double bytes = per_opening * (double)cavities->opening_count;
    if (!vugi_wall_flood_can(&bodies) || !vugi_wall_flood_sound(&bodies))
        return 0.0;
    for (size_t m = 0; m < bodies.count; m++)
        bytes += per_corner * (double)vugi_terrain_of(bodies.mesh[m])->corner_count;
    return bytes;
}

vug_status vugi_pose_trap(vug_context *ctx, const vugi_allocator *mem, const vug_cavities *cavities,
    const vugi_pose_setup *setup, const double up[3], vugi_pose_room *room)
{
    const vugi_bodies bodies = vugi_cavities_bodies(cavities);
    vug_status status = VUG_OK;
    vugi_basis(up, room->basis);
    room->sound = vugi_wall_flood_can(&bodies) && vugi_wall_flood_sound(&bodies);
    if (!room->sound)
        status = vugi_pose_columns(ctx, mem, cavities, setup->spacing, up, &room->columns);
    if (!room->sound && !status)
        status = find_scales(ctx, mem, cavities, room);
    return status ? status : trap(ctx, mem, cavities, setup, room);
}

vug_status vugi_pose_trap_over(vug_context *ctx, const vugi_allocator *mem,
    const vug_cavities *cavities, const vugi_pose_setup *setup, vugi_pose_room *room)
{
    if (!room->sound)
        vugi_columns_reflect(&room->columns);
    for (int k = 0; k < 9; k++)
        room->basis[k] = -room->basis[k];
    return trap(ctx, mem, cavities, setup, room);
}

void vugi_pose_room_free(const vugi_allocator *mem, vugi_pose_room *room)
{
    vugi_columns_free(mem, &room->columns);
    vugi_flood_free(mem, &room->flood);
    vugi_free(mem, room->scale);
    vugi_estimate_room_free(mem, &room->estimate);
    vugi_sill_room_free(mem, &room->sills);
    vugi_wall_look_free(mem, &room->walls);
}
