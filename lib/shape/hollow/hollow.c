/* SPDX-License-Identifier: MIT
 * A solid part gets an inner surface: the level of the distance from its skin. With a least throat that level
 * lies deeper by the half of it, and the inner surface is at that distance from there: every place of the cavity is
 * reached by a ball as wide as the throat (opening, Matheron, Serra). */
#include "base/angle.h"
#include "base/vec.h"

#include "column/pose.h"

#include "grid/net.h"
#include "grid/sign.h"

#include "mesh/measure.h"
#include "mesh/sums.h"
#include "mesh/tree.h"

#include "shape/hollow/fillable.h"
#include "shape/hollow/fit.h"
#include "shape/hollow/region.h"
#include "shape/hollow/simplify.h"
#include "shape/hollow/solid.h"
#include "shape/hollow/turned.h"

#include <math.h>
#include <string.h>

/* Steps of the grid that a wall and half a throat need at least, and that they get when nothing is said. */
static const double STEPS_LEAST = 2.0, STEPS_GOOD = 5.0;

static const double SLOPE_MOST = 60.0; /* degrees */

/* Bytes in use at the most, measured, surfaces included. */
static const double PER_POINT = 11.0;

enum { CELLS_FEW = 120, CELLS_MANY = 320 };

typedef struct job {
    vug_context *ctx;
    const vug_mesh *mesh;
    vug_hollow_options o;
    vugi_tree tree;
    vugi_grid grid;
    uint8_t *in; /* first the cells of the solid, then of the region */
    uint32_t *work;
    float *value;
    double floor, widest; /* mm; of the part's largest ball the radius */
    vug_hollow_info info;
    const vug_mesh *given; /* mesh, or what it was turned from */
    vug_mesh *turned;      /* into the pose that it is filled in; or NULL */
    double basis[9];       /* of that pose */
    float *depth;          /* if it is made to be filled: of each cell, from the skin */
    uint8_t *lowered;      /* then, too: cells that are not cavity any more */
} job;

vug_status vug_hollow_options_init(vug_hollow_options *options, size_t size)
{
    const vug_hollow_options defaults = {.struct_size = sizeof defaults,
        .wall_mm = 2.0,
        .chamber_mm = 3.0,
        .up = {0.0, 0.0, 1.0},
        .slope_deg = 10.0,
        .fill_up = {0.0, 0.0, 1.0},
        .outlet_mm = {(double)NAN, (double)NAN, (double)NAN}};
    return vugi_struct_init(options, size, &defaults, sizeof defaults);
}

/* ---- what is asked ------------------------------------------------------------------- */

static vug_status check_number(vug_context *ctx, const char *name, double value, bool may_be_0)
{
    if (isfinite(value) && (value > 0.0 || (may_be_0 && value == 0.0)))
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is %g, it must be %s", name, value,
        may_be_0 ? "0 or more" : "above 0");
}

static vug_status check_direction(vug_context *ctx, const char *name, double up[3])
{
    for (int k = 0; k < 3; k++)
        if (!isfinite(up[k]))
            return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s has a number that is not finite", name);
    if (!(vugi_normalise(up) > 0.0))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is no direction: its length is 0", name);
    return VUG_OK;
}

static vug_status check_fillable(vug_context *ctx, vug_hollow_options *o)
{
    if (!isfinite(o->most_wall_mm) || o->most_wall_mm < o->wall_mm)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "most_wall_mm is %g, it must be 0 or no less than wall_mm, which is %g",
            o->most_wall_mm, o->wall_mm);
    if (!(o->slope_deg >= 0.0 && o->slope_deg <= SLOPE_MOST))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "slope_deg is %g, it must be 0 to %g", o->slope_deg,
            SLOPE_MOST);
    int given = isfinite(o->outlet_mm[0]) + isfinite(o->outlet_mm[1]) + isfinite(o->outlet_mm[2]);
    int none = isnan(o->outlet_mm[0]) + isnan(o->outlet_mm[1]) + isnan(o->outlet_mm[2]);
    if (given != 3 && none != 3)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "outlet_mm must be three finite numbers, or three times NAN for none");
    return check_direction(ctx, "fill_up", o->fill_up);
}

static vug_status check_options(vug_context *ctx, vug_hollow_options *o)
{
    vug_status status = check_number(ctx, "wall_mm", o->wall_mm, false);
    if (!status)
        status = check_number(ctx, "chamber_mm", o->chamber_mm, true);
    if (!status)
        status = check_number(ctx, "throat_mm", o->throat_mm, true);
    if (!status)
        status = check_number(ctx, "base_mm", o->base_mm, true);
    if (status)
        return status;
    status = check_number(ctx, "simplify_mm", o->simplify_mm, true);
    if (status)
        return status;
    if (o->simplify_mm > 0.0 && !vugi_simplify_known())
        return vugi_fail(ctx, VUG_ERR_UNSUPPORTED,
            "simplify_mm is %g, and this build of the library is without meshoptimizer: use 0, "
            "and fewer cells for fewer triangles",
            o->simplify_mm);
    if (o->cells < 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cells is %d, it must be 0 or more", (int)o->cells);
    status = check_direction(ctx, "up", o->up);
    return status || o->most_wall_mm == 0.0 ? status : check_fillable(ctx, o);
}

static vug_status check_mesh(vug_context *ctx, const vug_mesh *mesh)
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    vug_status status = vugi_mesh_measure(ctx, mesh, &m);
    if (status)
        return status;
    if (!m.closed)
        return vugi_fail(ctx, VUG_ERR_MESH,
            "the mesh is not closed (%llu open edges): there is no inside to hollow; clean it "
            "first",
            (unsigned long long)m.edges_open);
    if (!(m.volume_mm3 > 0.0))
        return vugi_fail(ctx, VUG_ERR_MESH,
            "the mesh is turned inside out: its volume is %g mm3; clean it first", m.volume_mm3);
    return VUG_OK;
}

/* The grid, so fine that wall and throat are a few steps. */
static vug_status lay_grid(job *j)
{
    double longest = 0.0, finest = j->o.wall_mm;
    for (int a = 0; a < 3; a++)
        longest = fmax(longest, j->mesh->hi[a] - j->mesh->lo[a]);
    if (j->o.throat_mm > 0.0)
        finest = fmin(finest, 0.5 * j->o.throat_mm);
    double least = ceil(STEPS_LEAST * longest / finest - 1e-9);
    double cells = j->o.cells;
    if (j->o.cells == 0)
        cells = fmax(least, fmin(CELLS_MANY, fmax(CELLS_FEW, ceil(STEPS_GOOD * longest / finest))));
    if (least > VUG_MAX_COLUMNS_ACROSS)
        return vugi_fail(j->ctx, VUG_ERR_LIMIT,
            "a wall or half a throat of %g mm is too fine for a part %g mm long", finest, longest);
    if (cells < least)
        return vugi_fail(j->ctx, VUG_ERR_ARGUMENT,
            "%d cells along %g mm are too coarse for a wall or half a throat of %g mm: use %d or "
            "more, or 0",
            (int)j->o.cells, longest, finest, (int)least);
    vug_status status = vugi_grid_fit(j->ctx, j->mesh->lo, j->mesh->hi, (int32_t)cells, 2,
        &j->grid);
    return status
        ? status
        : vugi_expect_memory(j->ctx, PER_POINT * (double)vugi_grid_count(&j->grid), "hollowing");
}

static void find_floor(job *j)
{
    double lowest = INFINITY;
    for (size_t v = 0; v < j->mesh->vertex_count; v++)
        lowest = fmin(lowest, vugi_dot(j->o.up, j->mesh->xyz + 3 * v));
    j->floor = j->o.base_mm > 0.0 ? lowest + j->o.base_mm : -INFINITY;
}

/* ---- which pieces stay ------------------------------------------------------------- */

/* How many bodies p lies in: ways out less ways in along a ray. */
static int winding_along(const vugi_tree *tree, const double p[3], const double ray[3])
{
    double at = 0.0;
    int winding = 0;
    uint32_t t = 0;
    while ((at = vugi_tree_ray(tree, p, ray, at, &t)) != INFINITY) {
        const uint32_t *tri = tree->mesh->triangles + 3 * (size_t)t;
        double n[3];
        vugi_triangle_cross(tree->mesh->xyz + 3 * (size_t)tri[0],
            tree->mesh->xyz + 3 * (size_t)tri[1], tree->mesh->xyz + 3 * (size_t)tri[2], n);
        winding += vugi_dot(n, ray) > 0.0 ? 1 : -1;
    }
    return winding;
}

/* A ray through an edge may count it twice: two of three have to agree. */
static int winding_at(const vugi_tree *tree, const double p[3])
{
    static const double ray[3][3] = {{0.8191, 0.3307, 0.4688}, {-0.2711, 0.9013, -0.3379},
        {0.1733, -0.5171, 0.8382}};
    int first = winding_along(tree, p, ray[0]), second = winding_along(tree, p, ray[1]);
    return first == second ? first : winding_along(tree, p, ray[2]);
}

/* A chamber is as wide as its largest ball. Where bodies overlap, a cavity in both would count as solid once. */
static bool keep_piece(const vugi_piece *piece, void *user)
{
    job *j = user;
    j->widest = fmax(j->widest, piece->depth + j->o.wall_mm + 0.5 * j->o.throat_mm);
    double wide = 2.0 * piece->depth + j->o.throat_mm;
    j->info.too_small += wide < j->o.chamber_mm && wide >= 0.5 * j->o.chamber_mm;
    if (wide < j->o.chamber_mm)
        return false;
    bool once = winding_at(&j->tree, piece->place) == 1;
    j->info.overlaps += !once;
    return once;
}

/* The deepest cell of the whole grid tells how wide the part is at most. */
static vug_status fail_thin(job *j, const vugi_field *field)
{
    for (size_t c = 0, count = vugi_grid_count(&j->grid); c < count; c++)
        j->widest = fmax(j->widest, field->distance - (double)field->value[c]);
    return vugi_fail(j->ctx, VUG_ERR_NOT_FOUND,
        "too thin to hollow: the widest ball inside is %.3g mm, and two walls of %g mm with a "
        "chamber "
        "of %g mm between need %g mm%s",
        2.0 * j->widest, j->o.wall_mm, fmax(j->o.chamber_mm, j->o.throat_mm),
        2.0 * j->o.wall_mm + fmax(j->o.chamber_mm, j->o.throat_mm),
        j->o.base_mm > 0.0 ? " above the base" : "");
}

static vug_status choose_pieces(job *j, vugi_field *field)
{
    size_t kept, dropped;
    size_t count = vugi_grid_count(&j->grid);
    for (size_t c = 0; c < count; c++)
        j->in[c] = field->value[c] < 0.0f;
    vug_status status = vugi_region_pieces(j->ctx, field, j->in, keep_piece, j, &kept, &dropped);
    if (status)
        return status;
    j->info.chambers = kept;
    if (kept > 0)
        return vugi_region_part_corners(j->ctx, field, j->in);
    if (j->info.overlaps)
        return vugi_fail(j->ctx, VUG_ERR_MESH,
            "where there is room, bodies overlap: make one body of them first");
    return fail_thin(j, field);
}

/* ---- made to be filled ---------------------------------------------------------------- */

/* From here on all is done in the pose; the results are turned back. */
static vug_status turn_into_pose(job *j)
{
    double p[3];
    vugi_basis(j->o.fill_up, j->basis);
    vug_status status = vugi_turned(j->ctx, j->given, j->basis, &j->turned);
    if (status)
        return status;
    j->mesh = j->turned;
    vugi_to_pose(j->basis, j->o.up, p);
    memcpy(j->o.up, p, sizeof p);
    vugi_to_pose(j->basis, j->o.outlet_mm, p);
    memcpy(j->o.outlet_mm, p, sizeof p);
    return VUG_OK;
}

/* Scraps that lowering ceilings left are no chambers: less than half a ball of the least chamber. */
static bool keep_part(const vugi_piece *piece, void *user)
{
    const job *j = user;
    double wide = fmax(j->o.chamber_mm, 2.0 * j->grid.h);
    return (double)piece->cells * pow(j->grid.h, 3.0) >= VUGI_PI / 12.0 * pow(wide, 3.0);
}

static vug_status shape_region(job *j, vugi_field *field, double from, double to)
{
    vugi_fillable f = {.ctx = j->ctx,
        .skin = j->mesh,
        .grid = &j->grid,
        .value = field->value,
        .depth = j->depth,
        .lowered = j->lowered,
        .work = field->near,
        .most = j->o.most_wall_mm,
        .slope_deg = j->o.slope_deg,
        .clear = fmax(2.0 * j->grid.h, fmax(j->o.throat_mm, 0.5 * j->o.chamber_mm))};
    memcpy(f.outlet, j->o.outlet_mm, sizeof f.outlet);
    field->near = NULL;
    vugi_range saved = vugi_progress_enter(j->ctx, from, to, "lowering ceilings");
    vug_status status = vugi_fillable_shape(&f);
    vugi_progress_leave(j->ctx, saved);
    if (status)
        return status;
    j->info.slope_deg = f.slope_deg;
    j->info.added_mm3 = f.added;
    j->info.trapped_before_mm3 = f.trapped[0];
    j->info.trapped_mm3 = f.trapped[1];
    j->info.bare_before_mm2 = f.bare[0];
    j->info.bare_mm2 = f.bare[1];
    field->lowered = j->lowered;
    size_t kept, dropped;
    for (size_t c = 0, count = vugi_grid_count(&j->grid); c < count; c++)
        j->in[c] = field->value[c] < 0.0f;
    status = vugi_region_pieces(j->ctx, field, j->in, keep_part, j, &kept, &dropped);
    j->info.chambers = kept;
    if (!status && kept == 0)
        status = vugi_fail(j->ctx, VUG_ERR_NOT_FOUND,
            "with its ceilings lowered towards that outlet nothing is left of the cavity: choose "
            "an outlet higher up");
    return status ? status : vugi_region_part_corners(j->ctx, field, j->in);
}

/* ---- surfaces ----------------------------------------------------------------------- */

/* Takes the net of a field to its level. thick: the wall behind it counts. */
static vug_status fit_net(job *j, const vugi_field *field, bool thick, vug_mesh *net)
{
    vugi_inner_wall wall = {.ctx = j->ctx, .step = j->grid.h};
    double *before = vugi_alloc(&j->ctx->mem, net->vertex_count, 3 * sizeof *before);
    vug_status status = before ? VUG_OK : vugi_fail_memory(j->ctx);
    if (!status && thick)
        status = vugi_wall_begin(j->ctx, &j->tree, j->o.wall_mm, net, &wall);
    if (!status) {
        memcpy(before, net->xyz, 3 * net->vertex_count * sizeof *before);
        vugi_range saved = vugi_progress_enter(j->ctx, 0.3, 0.6, "fitting the inner surface");
        status = vugi_fit_vertices(j->ctx, field, net, thick ? &wall : NULL);
        vugi_progress_leave(j->ctx, saved);
    }
    if (!status) {
        vugi_range saved = vugi_progress_enter(j->ctx, 0.6, 1.0, "mending the inner surface");
        status = vugi_fit_mend(j->ctx, before, net, thick ? &wall : NULL);
        vugi_progress_leave(j->ctx, saved);
    }
    j->info.least_wall_mm = wall.least;
    vugi_wall_end(j->ctx, &wall);
    vugi_free(&j->ctx->mem, before);
    return status;
}

static vug_status make_surface(job *j, const vugi_field *field, bool thick, vug_mesh **out)
{
    vug_mesh *net = NULL;
    vug_status status = vugi_surface_net(j->ctx, &j->grid, field->value, 0.0, &net);
    if (!status)
        status = fit_net(j, field, thick, net);
    if (status)
        vug_mesh_free(net);
    else
        *out = net;
    return status;
}

static vug_status keep_solid(job *j)
{
    const size_t plane = (size_t)j->grid.n[0] * (size_t)j->grid.n[1], slices = (size_t)j->grid.n[2];
#pragma omp parallel for schedule(static) num_threads(vugi_threads(j->ctx, slices))
    for (size_t k = 0; k < slices; k++) {
        if (vugi_pulse(j->ctx, 0.25))
            continue;
        for (size_t c = k * plane; c < (k + 1) * plane; c++)
            j->in[c] = j->in[c] == VUGI_SOLID;
    }
    return vugi_step(j->ctx, 0.25);
}

/* The field of the skin, as far in as the wall and half the throat. */
static vug_status fill_first(job *j, vugi_field *field)
{
    vugi_sign_report report;
    vugi_range saved = vugi_progress_enter(j->ctx, 0.1, 0.25, "sampling the part");
    vug_status status = vugi_grid_sign(j->ctx, j->mesh, NULL, &j->grid, j->in, j->work, &report);
    vugi_progress_leave(j->ctx, saved);
    if (status)
        return status;
    status = keep_solid(j);
    if (status)
        return status;
    saved = vugi_progress_enter(j->ctx, 0.25, 0.5, "distance from the skin");
    status = vugi_field_fill(j->ctx, field, j->in);
    vugi_progress_leave(j->ctx, saved);
    return status ? status : choose_pieces(j, field);
}

/* What is left of the progress, from `begun` on. */
static vug_status shape_and_surface(job *j, vugi_field *field, double begun, vug_mesh **out)
{
    double shaped = j->depth ? begun + 0.3 : begun;
    vug_status status = j->depth ? shape_region(j, field, begun, shaped) : VUG_OK;
    if (status)
        return status;
    vugi_range saved = vugi_progress_enter(j->ctx, shaped, 1.0, "inner surface");
    status = make_surface(j, field, true, out);
    vugi_progress_leave(j->ctx, saved);
    return status;
}

/* From the core back out by half the throat. */
static vug_status grow_core(job *j, vug_mesh *core, vug_mesh **out)
{
    vugi_tree tree = {.node = NULL};
    vug_status status = vugi_tree_build(j->ctx, core, &tree);
    vugi_range saved = vugi_progress_enter(j->ctx, 0.0, 0.3, "room for throats");
    vugi_field field = {.tree = &tree,
        .grid = j->grid,
        .distance = 0.5 * j->o.throat_mm,
        .floor = -INFINITY,
        .value = j->value,
        .near = j->work};
    if (!status)
        status = vugi_field_fill(j->ctx, &field, j->in);
    if (!status) {
        for (size_t c = 0, count = vugi_grid_count(&j->grid); c < count; c++)
            j->in[c] = field.value[c] < 0.0f;
        status = vugi_region_part_corners(j->ctx, &field, j->in);
    }
    vugi_progress_leave(j->ctx, saved);
    if (!status)
        status = shape_and_surface(j, &field, 0.3, out);
    vugi_tree_free(&tree);
    return status;
}

static vug_status make_inner(job *j, vug_mesh **out)
{
    double half = 0.5 * j->o.throat_mm;
    vugi_field field = {.tree = &j->tree,
        .grid = j->grid,
        .distance = j->o.wall_mm + half,
        .within = true,
        .floor = j->floor + half,
        .value = j->value,
        .near = j->work,
        .deep = j->o.most_wall_mm - j->grid.h,
        .depth = j->depth};
    memcpy(field.up, j->o.up, sizeof field.up);
    vug_status status = fill_first(j, &field);
    if (status)
        return status;
    vugi_range saved = vugi_progress_enter(j->ctx, 0.5, 0.9, "inner surface");
    if (half > 0.0) {
        vug_mesh *core = NULL;
        vugi_range part = vugi_progress_enter(j->ctx, 0.0, 0.4, "inner surface");
        status = make_surface(j, &field, false, &core);
        vugi_progress_leave(j->ctx, part);
        part = vugi_progress_enter(j->ctx, 0.4, 1.0, "inner surface");
        if (!status)
            status = grow_core(j, core, out);
        vugi_progress_leave(j->ctx, part);
        vug_mesh_free(core);
    } else {
        status = shape_and_surface(j, &field, 0.0, out);
    }
    vugi_progress_leave(j->ctx, saved);
    return status;
}

/* ---- the result --------------------------------------------------------------------- */

/* The part as it was, bit for bit, and after it the inner surface, turned so that its solid lies behind it. */
static vug_status join_meshes(vug_context *ctx, const vug_mesh *outer, const vug_mesh *inner,
    vug_mesh **out)
{
    size_t vertices = outer->vertex_count + inner->vertex_count;
    size_t triangles = outer->triangle_count + inner->triangle_count;
    if (triangles > VUG_MAX_TRIANGLES)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "%zu triangles; the limit is %d: use fewer cells",
            triangles, VUG_MAX_TRIANGLES);
    double *xyz = vugi_alloc(&ctx->mem, vertices, 3 * sizeof *xyz);
    uint32_t *tri = vugi_alloc(&ctx->mem, triangles, 3 * sizeof *tri);
    if (!xyz || !tri) {
        vugi_free(&ctx->mem, xyz);
        vugi_free(&ctx->mem, tri);
        return vugi_fail_memory(ctx);
    }
    memcpy(xyz, outer->xyz, 3 * outer->vertex_count * sizeof *xyz);
    memcpy(xyz + 3 * outer->vertex_count, inner->xyz, 3 * inner->vertex_count * sizeof *xyz);
    memcpy(tri, outer->triangles, 3 * outer->triangle_count * sizeof *tri);
    uint32_t *to = tri + 3 * outer->triangle_count;
    for (size_t t = 0; t < inner->triangle_count; t++)
        for (size_t k = 0; k < 3; k++)
            to[3 * t + k] = (uint32_t)outer->vertex_count + inner->triangles[3 * t + 2 - k];
    vug_mesh *mesh = vugi_mesh_adopt(&ctx->mem, xyz, vertices, tri, triangles);
    if (!mesh)
        return vugi_fail_memory(ctx);
    mesh->unit_mm = outer->unit_mm;
    *out = mesh;
    return VUG_OK;
}

static void measure_inner(job *j, const vug_mesh *inner)
{
    vugi_sums sums = {.volume6 = 0.0};
    for (size_t t = 0; t < inner->triangle_count; t++)
        vugi_sums_triangle(&sums, inner, t, inner->lo);
    j->info.volume_mm3 = sums.volume6 / 6.0;
    j->info.area_mm2 = sums.area2 / 2.0;
    j->info.triangles = inner->triangle_count;
    j->info.step_mm = j->grid.h;
}

/* A ceiling in steps of the grid is as steep as asked for when it is nearly so. */
static const double NEARLY = 0.9;

/* The surface is still turned out of the cavity, so ceilings look up. In the pose, z is up. */
static double flat_area(const vug_mesh *inner, double slope_deg)
{
    double area = 0.0, steep = cos(NEARLY * slope_deg * VUGI_DEGREE);
    for (size_t t = 0; t < inner->triangle_count; t++) {
        const uint32_t *corner = inner->triangles + 3 * t;
        double cross[3];
        vugi_triangle_cross(inner->xyz + 3 * (size_t)corner[0], inner->xyz + 3 * (size_t)corner[1],
            inner->xyz + 3 * (size_t)corner[2], cross);
        double twice = vugi_length(cross);
        area += cross[2] > steep * twice ? 0.5 * twice : 0.0;
    }
    return area;
}

static vug_status find_spots(job *j, double **rows, size_t *row_count)
{
    vugi_field skin = {.tree = &j->tree, .grid = j->grid, .floor = j->floor};
    memcpy(skin.up, j->o.up, sizeof skin.up);
    for (size_t c = 0, count = vugi_grid_count(&j->grid); c < count && j->lowered; c++)
        j->in[c] |= j->lowered[c]; /* solid on purpose */
    vugi_range saved = vugi_progress_enter(j->ctx, 0.97, 1.0, "what stayed solid");
    vug_status status = vugi_solid_spots(j->ctx, &skin, j->o.wall_mm, j->in, rows, row_count);
    vugi_progress_leave(j->ctx, saved);
    return status;
}

static bool alloc_cells(job *j)
{
    size_t count = vugi_grid_count(&j->grid);
    j->in = vugi_alloc(&j->ctx->mem, count, 1);
    j->work = vugi_alloc(&j->ctx->mem, count, sizeof *j->work);
    j->value = vugi_alloc(&j->ctx->mem, count, sizeof *j->value);
    if (j->turned) {
        j->depth = vugi_alloc(&j->ctx->mem, count, sizeof *j->depth);
        j->lowered = vugi_alloc(&j->ctx->mem, count, 1);
    }
    return j->in && j->work && j->value && (!j->turned || (j->depth && j->lowered));
}

static vug_status simplify(job *j, vug_mesh **inner)
{
    j->info.triangles_before = (*inner)->triangle_count;
    if (j->o.simplify_mm == 0.0)
        return VUG_OK;
    vugi_simplifying s = {.ctx = j->ctx,
        .outer = &j->tree,
        .least = vugi_wall_least(j->o.wall_mm, j->grid.h),
        .step = j->grid.h,
        .bound = j->o.simplify_mm,
        .thinnest = j->info.least_wall_mm};
    vugi_range saved = vugi_progress_enter(j->ctx, 0.9, 0.97, "simplifying the inner surface");
    vug_status status = vugi_simplify(&s, inner);
    vugi_progress_leave(j->ctx, saved);
    j->info.least_wall_mm = s.thinnest;
    j->info.simplify_error_mm = s.error;
    return status;
}

static vug_status run(job *j, vug_mesh **out, double **rows, size_t *row_count)
{
    vug_mesh *inner = NULL;
    vug_status status = check_mesh(j->ctx, j->mesh);
    if (!status && j->o.most_wall_mm > 0.0)
        status = turn_into_pose(j);
    if (!status)
        status = lay_grid(j);
    if (!status)
        status = vugi_tree_build(j->ctx, j->mesh, &j->tree);
    if (!status && !alloc_cells(j))
        status = vugi_fail_memory(j->ctx);
    if (status)
        return status;
    find_floor(j);
    status = make_inner(j, &inner);
    if (!status)
        status = simplify(j, &inner);
    if (!status) {
        measure_inner(j, inner);
        status = vugi_step(j->ctx, 0.97);
    }
    if (!status && rows)
        status = find_spots(j, rows, row_count);
    if (!status && j->turned) {
        j->info.flat_mm2 = flat_area(inner, j->o.slope_deg);
        vugi_turn_back(j->basis, inner->xyz, inner->vertex_count, 3);
        if (rows)
            vugi_turn_back(j->basis, *rows, *row_count, VUGI_SPOT_NUMBERS);
    }
    if (!status)
        status = join_meshes(j->ctx, j->given, inner, out);
    if (!status)
        status = vugi_step(j->ctx, 1.0);
    vug_mesh_free(inner);
    return status;
}

vug_status vug_shape_hollow(vug_context *ctx, const vug_mesh *mesh,
    const vug_hollow_options *options, vug_mesh **out, vug_hollow_info *info, double **rows,
    size_t *row_count)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!mesh || !out || (rows && !row_count))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "mesh, out or row_count is NULL");
    job j = {.ctx = ctx, .mesh = mesh, .given = mesh, .info = {.struct_size = sizeof j.info}};
    vug_status status = vug_hollow_options_init(&j.o, sizeof j.o);
    if (!status)
        status = vugi_struct_read(ctx, &j.o, sizeof j.o, options, "vug_hollow_options");
    if (!status && info)
        status = vugi_struct_check(ctx, info, "vug_hollow_info");
    if (!status)
        status = check_options(ctx, &j.o);
    if (status)
        return status;
    vugi_progress_begin(ctx, "hollowing");
    vug_mesh *own = NULL;
    double *spots = NULL;
    size_t spot_count = 0;
    status = run(&j, &own, rows ? &spots : NULL, &spot_count);
    if (!status && info)
        status = vugi_struct_write(ctx, info, &j.info, sizeof j.info, "vug_hollow_info");
    if (!status) {
        *out = own;
        own = NULL;
    }
    if (!status && rows) {
        *rows = spots;
        *row_count = spot_count;
        spots = NULL;
    }
    vug_mesh_free(own);
    vugi_free(&ctx->mem, spots);
    vugi_tree_free(&j.tree);
    vugi_free(&ctx->mem, j.in);
    vugi_free(&ctx->mem, j.work);
    vugi_free(&ctx->mem, j.value);
    vugi_free(&ctx->mem, j.depth);
    vugi_free(&ctx->mem, j.lowered);
    vug_mesh_free(j.turned);
    return status;
}
