/* SPDX-License-Identifier: MIT
 * Cavities to scenes: only the cavity in question becomes columns. */
#include "gravity/stage.h"

#include "gravity/dip.h"
#include "gravity/ease.h"

#include "base/vec.h"
#include "cavity/atlas.h"
#include "cavity/cavity.h"
#include "cavity/rim.h"
#include "column/columns.h"
#include "column/pose.h"
#include "column/raster.h"

#include <math.h>

vug_status vugi_read_up(vug_context *ctx, const double *up, double unit[3])
{
    if (!up)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "up is NULL");
    double big = fmax(fabs(up[0]), fmax(fabs(up[1]), fabs(up[2])));
    if (!(big > 0.0) || !isfinite(up[0]) || !isfinite(up[1]) || !isfinite(up[2]))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "up is %g, %g, %g: not a direction", up[0], up[1],
            up[2]);
    double v[3] = {up[0] / big, up[1] / big, up[2] / big};
    double length = vugi_length(v);
    for (int k = 0; k < 3; k++)
        unit[k] = v[k] / length;
    return VUG_OK;
}

vug_status vugi_read_roles(vug_context *ctx, const vug_cavities *cavities, const int32_t *roles,
    size_t role_count, int32_t **role)
{
    if (role_count > 0 && !roles)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "roles is NULL with %zu roles", role_count);
    if (role_count > cavities->opening_count)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%zu roles for %zu openings", role_count,
            cavities->opening_count);
    for (size_t i = 0; i < role_count; i++)
        if (roles[i] < VUG_ROLE_OPEN || roles[i] > VUG_ROLE_SEALED)
            return vugi_fail(ctx, VUG_ERR_ARGUMENT,
                "role of opening %zu is %d, it must be %d to %d", i, (int)roles[i],
                (int)VUG_ROLE_OPEN, (int)VUG_ROLE_SEALED);
    if (!(*role = vugi_alloc(&ctx->mem, cavities->opening_count, sizeof **role)))
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < cavities->opening_count; i++)
        (*role)[i] = i < role_count ? roles[i] : VUG_ROLE_OPEN;
    return VUG_OK;
}

vug_status vugi_open_by_role(vug_context *ctx, const vug_cavities *cavities, const int32_t *role,
    bool **open)
{
    if (!(*open = vugi_alloc(&ctx->mem, cavities->opening_count, sizeof **open)))
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < cavities->opening_count; i++)
        (*open)[i] = role[i] != VUG_ROLE_SEALED;
    return VUG_OK;
}

/* Columns of one cavity and the bores into it, with its own number as their body. sharp: see vugi_ease_sills(). */
static vug_status build_columns(vug_context *ctx, const vugi_allocator *mem,
    const vugi_stage *stage, vugi_columns *columns, vugi_sharps *sharp)
{
    const vug_cavities *c = stage->cavities;
    vugi_bore *bore = vugi_alloc(mem, c->bore_count, sizeof *bore);
    if (!bore)
        return vugi_fail_memory(ctx);
    vugi_bodies bodies;
    vugi_cavity_bodies(c, stage->cavity, bore, &bodies);
    vug_status status = vugi_columns_build(ctx, mem, &bodies, stage->up, stage->spacing, columns);
    for (size_t s = 0; !status && s < columns->count; s++)
        columns->body[s] = (int32_t)stage->cavity;
    for (size_t i = 0; !status && i < c->opening_count; i++)
        if (c->opening[i].cavity == (int32_t)stage->cavity)
            vugi_opening_fit(c->opening + i, columns);
    const vugi_easing of = {c, stage->cavity, stage->open, &bodies};
    if (!status && (stage->sills & VUGI_SILLS_AIR))
        status = vugi_ease_sills(ctx, mem, &of, false, columns, sharp);
    if (!status && (stage->sills & VUGI_SILLS_LIQUID))
        status = vugi_ease_sills(ctx, mem, &of, true, columns, sharp);
    vugi_free(mem, bore);
    return status;
}

static vug_status find_mouths(vug_context *ctx, const vugi_allocator *mem, const vugi_stage *stage,
    const vugi_columns *columns, vugi_scene_mouth *mouth, vugi_opening_span **span, size_t *count)
{
    const vug_cavities *c = stage->cavities;
    const vugi_pose_spans spans = vugi_spans_of_columns(columns);
    vug_status status = VUG_OK;
    for (size_t i = 0; i < c->opening_count && !status; i++) {
        const vugi_opening *o = c->opening + i;
        if (o->cavity != (int32_t)stage->cavity)
            continue;
        vugi_scene_mouth m = {.opening = (int32_t)i,
            .diameter = 2.0 * o->inscribed_radius,
            .tubes = vugi_section_tubes(o->radius, o->inscribed_radius),
            .length = o->bore_length};
        vugi_opening_rim(o, stage->up, &m.inner_top, &m.inner_lip);
        vugi_opening_outer_rim(o, stage->up, &m.top, &m.lip);
        for (int k = 0; k < 3; k++) {
            m.point[k] = o->center[k];
            m.inside[k] = o->inner[k] - 0.5 * o->inscribed_radius * o->axis[k];
        }
        status = vugi_opening_spans(ctx, mem, o, &spans, true, span + *count, &m.spans);
        m.span = span[*count];
        if (!status)
            mouth[(*count)++] = m;
    }
    return status;
}

static double true_volume(const vugi_stage *stage, const vugi_columns *columns)
{
    double own = vugi_columns_volume(columns);
    return own * vugi_volume_scale(stage->cavities->cavity[stage->cavity].volume, own);
}

/* The throats whose resistance is known, in the pose of the columns. Returns how many. */
static size_t place_throats(const vugi_stage *stage, const vugi_columns *columns,
    vugi_scene_throat *throat)
{
    const vugi_cavity *c = stage->cavities->cavity + stage->cavity;
    size_t count = 0;
    for (size_t i = 0; i < c->throat_count; i++) {
        const vugi_place *t = c->throat + i;
        double a[3], b[3];
        if (t->thin <= 0.0)
            continue;
        vugi_scene_throat *out = throat + count++;
        *out = (vugi_scene_throat){t->a, t->b, {0}, 0.0, 0.0, t->length, t->thin, t->edge,
            t->radius, {0}};
        vugi_to_pose(columns->basis, t->center, out->at);
        vugi_to_pose(columns->basis, c->chamber[t->a].center, a);
        vugi_to_pose(columns->basis, c->chamber[t->b].center, b);
        vugi_to_pose(columns->basis, t->direction, out->along);
        out->low = fmin(a[2], b[2]);
        out->high = fmax(a[2], b[2]);
    }
    return count;
}

/* Bytes in use at the most for each span, measured: columns, graph and what is needed between; what resists, for what
 * happens in time; and the same upside down, which a drain looks at. */
static const double PER_SPAN = 256.0, OF_TIME = 48.0, UPSIDE_DOWN = 80.0;

/* Spans of a pose: one stands in each column under each of the ceilings, of which half the shadows of all triangles come
 * from. */
static double spans_expected(const vugi_stage *stage)
{
    const vug_mesh *mesh = stage->cavities->cavity[stage->cavity].mesh;
    double shadow = 0.0, cross[3];
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        const uint32_t *v = mesh->triangles + 3 * t;
        vugi_triangle_cross(mesh->xyz + 3 * (size_t)v[0], mesh->xyz + 3 * (size_t)v[1],
            mesh->xyz + 3 * (size_t)v[2], cross);
        shadow += 0.25 * fabs(vugi_dot(cross, stage->up));
    }
    return shadow / (stage->spacing * stage->spacing);
}

static vug_status expect_memory(vug_context *ctx, const vugi_stage *stage)
{
    if (!vugi_memory_limited(ctx))
        return VUG_OK;
    const double each = PER_SPAN + (stage->doors ? OF_TIME : 0.0)
        + (stage->sills == VUGI_SILLS_LIQUID ? UPSIDE_DOWN : 0.0);
    return vugi_expect_memory(ctx, each * spans_expected(stage), "this pose in such columns");
}

vug_status vugi_stage_scene(vug_context *ctx, const vugi_allocator *mem, const vugi_stage *stage,
    vugi_scene **out)
{
    vugi_columns columns = {.nx = 0};
    vugi_sharps sharp = {.count = 0};
    vugi_scene *made = NULL;
    size_t most = stage->cavities->opening_count, count = 0;
    vug_status status = expect_memory(ctx, stage);
    if (status)
        return status;
    vugi_scene_mouth *mouth = vugi_alloc(mem, most, sizeof *mouth);
    vugi_opening_span **span = vugi_calloc(mem, most, sizeof *span);
    const vugi_cavity *c = stage->cavities->cavity + stage->cavity;
    vugi_scene_throat *throat = vugi_alloc(mem, c->throat_count, sizeof *throat);
    status = mouth && span && throat ? build_columns(ctx, mem, stage, &columns, &sharp)
                                     : vugi_fail_memory(ctx);
    if (!status)
        status = find_mouths(ctx, mem, stage, &columns, mouth, span, &count);
    if (!status)
        status = vugi_scene_make(ctx, mem, &columns, stage->up, (int32_t)stage->cavity,
            true_volume(stage, &columns), mouth, count, throat,
            place_throats(stage, &columns, throat), stage->doors ? c->atlas : NULL, &made);
    if (!status) {
        made->wall = vugi_mesh_share(c->mesh);
        made->atlas = vugi_atlas_share(c->atlas);
        made->sharp = sharp;
    }
    if (!status && stage->dips)
        status = vugi_dip(ctx, made, stage->dips == VUGI_SILLS_LIQUID, stage->open);
    if (status)
        vugi_scene_free(made);
    else
        *out = made;
    vugi_columns_free(mem, &columns);
    for (size_t i = 0; i < count; i++)
        vugi_free(mem, span[i]);
    vugi_free(mem, span);
    vugi_free(mem, mouth);
    vugi_free(mem, throat);
    return status;
}
