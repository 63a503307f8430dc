/* SPDX-License-Identifier: MIT
 * Round holes: each is a prism, or a cone's frustum, of as many sides as asked for, taken away one after
 * the other. Where rounding leaves a cut open it is tried again with the tool turned a little. */
#include "shape/bore/cut.h"
#include "shape/bore/reach.h"

#include "base/angle.h"
#include "base/vec.h"

#include <math.h>

enum {
    POINT = 0,
    DIRECTION = 3,
    DIAMETER = 6,
    DEPTH,
    TAPER,
    SINK,
    SINK_ANGLE,
    ATTEMPTS = 16,
    VOLUME = 0,
    FROM,
    TO,
    SIDES
};

typedef struct job {
    vug_context *ctx;
    vugi_carving carving;
    vugi_reachable list;
    uint8_t *mark;
    size_t mark_capacity;
    double error;
    double size; /* largest coordinate */
    size_t number;
    const double *row;
    double *cut;
} job;

/* ---- what is asked ------------------------------------------------------------------------------ */

static vug_status check_number(const job *j, int column, const char *name, double least, double most)
{
    double x = j->row[column];
    if (x >= least && x <= most)
        return VUG_OK;
    return vugi_fail(j->ctx, VUG_ERR_DOMAIN, "bore %zu: %s is %g; it goes from %g to %g", j->number,
        name, x, least, most);
}

static vug_status check_row(const job *j)
{
    const double *row = j->row;
    for (int k = 0; k < 3; k++)
        if (!isfinite(row[POINT + k]) || fabs(row[POINT + k]) > VUG_MAX_COORDINATE_MM
            || !isfinite(row[DIRECTION + k]))
            return vugi_fail(j->ctx, VUG_ERR_DOMAIN,
                "bore %zu: coordinate %c of its point or direction is not a usable number", j->number,
                'x' + k);
    if (!(vugi_length(row + DIRECTION) > 0.0) || !isfinite(vugi_length(row + DIRECTION)))
        return vugi_fail(j->ctx, VUG_ERR_DOMAIN, "bore %zu: its direction has no length", j->number);
    vug_status status = check_number(j, DIAMETER, "the diameter in mm", 0.01, 1e6);
    if (!status)
        status = check_number(j, DEPTH, "the depth in mm", 0.0, INFINITY);
    if (!status)
        status = check_number(j, TAPER, "the taper's angle", 0.0, 90.0);
    if (!status)
        status = check_number(j, SINK, "the countersink's diameter in mm", 0.0, 1e6);
    if (!status)
        status = check_number(j, SINK_ANGLE, "the countersink's angle", 0.0, 170.0);
    if (!status && row[SINK] > 0.0 && row[SINK] <= row[DIAMETER])
        status = vugi_fail(j->ctx, VUG_ERR_DOMAIN,
            "bore %zu: the countersink is %g mm wide, the bore %g mm; make it wider, or 0 for none",
            j->number, row[SINK], row[DIAMETER]);
    return status;
}

/* ---- one tool ------------------------------------------------------------------------------------- */

static vug_status find_reachable(job *j, const vugi_tool *tool, double radius)
{
    if (!vugi_reserve(&j->carving.mem, &j->mark, &j->mark_capacity, j->carving.vertex_count, 1)
        || !vugi_reachable_find(&j->carving, tool, radius, j->mark, &j->list))
        return vugi_fail_memory(j->ctx);
    return VUG_OK;
}

static double widest(const vugi_tool *tool)
{
    return fmax(vugi_tool_radius_at(tool, tool->lo), vugi_tool_radius_at(tool, tool->hi));
}

/* Takes the tool away, turned by another part of a step at each attempt; the demand on new edges is
 * halved each time. */
static vug_status take_away(job *j, vugi_tool *tool, uint32_t sides)
{
    double diameter = 2.0 * widest(tool), lo = tool->lo, hi = tool->hi;
    double shortest = fmax(1e-5 * diameter, 2.4e-7 * j->size); /* twice a float's step */
    vug_status status = find_reachable(j, tool, widest(tool));
    if (status)
        return status;
    for (int attempt = 0; attempt < ATTEMPTS; attempt++) {
        double part = 0.3819660112501051 * (double)(attempt + 1) + 0.0573 * (double)j->number;
        vugi_tool_turn(tool, sides, (part - floor(part)) * 2.0 * VUGI_PI / sides);
        tool->lo = lo - 1e-7 * attempt * diameter;
        tool->hi = hi + 1e-7 * attempt * diameter;
        vugi_cut_result result;
        status = vugi_cut(&j->carving, tool, &j->list, ldexp(shortest, -attempt), &result);
        if (!status)
            j->cut[VOLUME] += result.volume_mm3;
        if (status != VUG_ERR_MESH)
            break;
        status = vugi_step(j->ctx, (double)j->number);
        if (status)
            return status;
    }
    if (status == VUG_ERR_MESH)
        return vugi_fail(j->ctx, status,
            "bore %zu cannot be cut: within %g mm of its axis the mesh is open, crosses itself, or has "
            "edges of more than two triangles; vug_mesh_clean() may help, or move the bore",
            j->number, 0.5 * diameter);
    if (status == VUG_ERR_MEMORY)
        return vugi_fail_memory(j->ctx);
    if (status == VUG_ERR_LIMIT)
        return vugi_fail(j->ctx, status, "bore %zu: the mesh would have more than %d triangles",
            j->number, VUG_MAX_TRIANGLES);
    return status;
}

/* ---- one bore --------------------------------------------------------------------------------------- */

static vug_status find_reach(job *j, vugi_tool *tool, double diameter, vugi_reach *reach)
{
    vug_status status = find_reachable(j, tool, 0.5 * diameter);
    if (status)
        return status;
    status = vugi_reach_find(&j->carving, tool, &j->list, 0.5 * diameter, reach);
    if (status == VUG_ERR_NOT_FOUND)
        return vugi_fail(j->ctx, status,
            "bore %zu misses the part: there is no solid at its point or further on", j->number);
    return status ? vugi_fail_memory(j->ctx) : VUG_OK;
}

static void set_ends(job *j, vugi_tool *tool, const vugi_reach *reach)
{
    double diameter = j->row[DIAMETER], depth = j->row[DEPTH];
    tool->lo = reach->from - fmin(0.5 * diameter, 0.5 * reach->before);
    j->cut[FROM] = reach->skin;
    if (!isfinite(depth)) {
        j->cut[TO] = reach->last;
        tool->hi = reach->last + 0.5 * diameter;
    } else if (depth > 0.0) {
        j->cut[TO] = tool->hi = reach->skin + depth;
        for (int i = 0; i < 4; i++) /* no skin without a thickness in front of a flat facet */
            if (vugi_reach_flat(&j->carving, tool, &j->list, tool->hi, 1e-6 * diameter))
                tool->hi += 1e-5 * diameter;
    } else {
        j->cut[TO] = reach->to;
        tool->hi = reach->to + fmin(0.5 * diameter, 0.5 * reach->behind);
    }
}

/* Radius of the corners, from that of the round section at skin and what it gains by each mm. */
static void set_radius(vugi_tool *tool, uint32_t sides, double skin, double radius, double growth)
{
    double share = vugi_tool_corner_radius(2.0, sides);
    tool->growth = share * growth;
    tool->radius = share * (radius - growth * skin);
}

static vug_status sink(job *j, vugi_tool *tool, double skin, double before, double end)
{
    double angle = j->row[SINK_ANGLE] > 0.0 ? j->row[SINK_ANGLE] : 90.0;
    double slope = tan(0.5 * angle * VUGI_DEGREE), radius = 0.5 * j->row[SINK];
    double narrow = 0.7 * fmin(0.5 * j->row[DIAMETER], vugi_tool_radius_at(tool, end));
    uint32_t sides = vugi_tool_sides(j->row[SINK], j->error);
    tool->lo = before;
    tool->hi = skin + (radius - narrow) / slope;
    if (tool->hi >= end)
        return vugi_fail(j->ctx, VUG_ERR_DOMAIN,
            "bore %zu: a countersink of %g mm and %g degrees is deeper than the bore, %g mm", j->number,
            j->row[SINK], angle, end - skin);
    set_radius(tool, sides, skin, radius, -slope);
    vug_status status = take_away(j, tool, sides);
    return status == VUG_ERR_NOT_FOUND ? VUG_OK : status;
}

static vug_status bore(job *j)
{
    const double *row = j->row;
    double diameter = row[DIAMETER], direction[3] = {row[3], row[4], row[5]};
    vugi_normalise(direction);
    vugi_tool tool;
    vugi_tool_frame(&tool, row + POINT, direction);
    vugi_reach reach, wide;
    vug_status status = VUG_OK;
    if (row[SINK] > 0.0)
        status = find_reach(j, &tool, row[SINK], &wide);
    if (!status)
        status = find_reach(j, &tool, diameter, &reach);
    if (status)
        return status;
    set_ends(j, &tool, &reach);
    uint32_t sides = vugi_tool_sides(diameter, j->error);
    set_radius(&tool, sides, reach.skin, 0.5 * diameter, -tan(0.5 * row[TAPER] * VUGI_DEGREE));
    if (!(vugi_tool_radius_at(&tool, tool.hi) > 0.01 * diameter))
        return vugi_fail(j->ctx, VUG_ERR_DOMAIN,
            "bore %zu: %g mm wide and tapered by %g degrees it comes to a point within its depth, %g mm",
            j->number, diameter, row[TAPER], tool.hi - reach.skin);
    double end = tool.hi;
    status = take_away(j, &tool, sides);
    if (status == VUG_ERR_NOT_FOUND)
        return vugi_fail(j->ctx, status, "bore %zu misses the part: nothing solid lies within it",
            j->number);
    j->cut[SIDES] = sides;
    if (!status && row[SINK] > 0.0)
        status = sink(j, &tool, reach.skin,
            wide.from - fmin(0.5 * row[SINK], 0.5 * wide.before), end);
    return status;
}

static vug_status bore_all(job *j, const double *bores, size_t count, double *cuts)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; !status && i < count; i++) {
        double own[VUG_BORE_CUT] = {0.0};
        j->number = i;
        j->row = bores + VUG_BORE_ROW * i;
        j->cut = own;
        status = check_row(j);
        if (!status)
            status = bore(j);
        if (!status)
            status = vugi_step(j->ctx, (double)(i + 1) / (double)(count + 1));
        for (size_t k = 0; !status && k < VUG_BORE_CUT; k++)
            cuts[VUG_BORE_CUT * i + k] = own[k];
    }
    return status;
}

/* ---- the call ---------------------------------------------------------------------------------------- */

static const vug_bore_options defaults = {.struct_size = sizeof defaults, .error_mm = 0.01};

vug_status vug_bore_options_init(vug_bore_options *options, size_t size)
{
    return vugi_struct_init(options, size, &defaults, sizeof defaults);
}

static double largest(const vug_mesh *mesh)
{
    double size = 0.0;
    for (int k = 0; k < 3; k++)
        size = fmax(size, fmax(fabs(mesh->lo[k]), fabs(mesh->hi[k])));
    return size;
}

vug_status vug_shape_bore(vug_context *ctx, const vug_mesh *mesh, const double *bores, size_t count,
    const vug_bore_options *options, double *cuts, vug_mesh **out)
{
    if (!ctx || !mesh || !bores || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx         ? "ctx"
                : !mesh  ? "mesh"
                : !bores ? "bores"
                         : "out");
    vug_bore_options own = defaults;
    vug_status status = vugi_struct_read(ctx, &own, sizeof own, options, "vug_bore_options");
    if (status)
        return status;
    if (!(own.error_mm >= 1e-6 && own.error_mm <= 1e3))
        return vugi_fail(ctx, VUG_ERR_DOMAIN, "error_mm is %g; it goes from 1e-6 to 1000", own.error_mm);
    if (count == 0 || count > VUG_MAX_OPENINGS)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%zu bores; it takes 1 to %d", count, VUG_MAX_OPENINGS);
    vugi_progress_begin(ctx, "boring");
    job j = {.ctx = ctx, .error = own.error_mm, .size = largest(mesh)};
    double *rows = vugi_alloc(&ctx->mem, count, VUG_BORE_CUT * sizeof *rows);
    status = vugi_carving_begin(&j.carving, &ctx->mem, mesh) && rows ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        status = bore_all(&j, bores, count, rows);
    if (!status)
        status = vugi_carving_end(ctx, &j.carving, out);
    for (size_t i = 0; !status && cuts && i < VUG_BORE_CUT * count; i++)
        cuts[i] = rows[i];
    vugi_carving_free(&j.carving);
    vugi_free(&ctx->mem, j.list.triangle);
    vugi_free(&ctx->mem, j.mark);
    vugi_free(&ctx->mem, rows);
    return status;
}
