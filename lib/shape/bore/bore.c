/* SPDX-License-Identifier: MIT
 * Round holes: each is a prism, or a cone's frustum, of as many sides as asked for, taken away one after
 * the other. Where rounding leaves a cut open it is tried again with the tool turned a little. */
#include "shape/bore/bore.h"

#include "shape/bore/cut.h"
#include "shape/bore/reach.h"
#include "shape/bore/row.h"

#include "base/angle.h"
#include "base/vec.h"

#include <math.h>

enum { ATTEMPTS = 16, VOLUME = 0, FROM, TO, SIDES };

/* Of a bore, along its axis. */
typedef struct stretch {
    double skin, lo, hi; /* of its tool */
    double sink_lo;      /* where the countersink's begins */
} stretch;

typedef struct job {
    vug_context *ctx;
    vugi_carving carving;
    vugi_reachable list;
    double listed; /* radius around the axis that list is of; 0: of another bore, or cut since */
    uint8_t *mark;
    size_t mark_capacity;
    double error;
    double size; /* largest coordinate */
    double done; /* share of the bores */
    size_t number;
    const double *row;
    double *cut;
} job;

/* ---- one tool ------------------------------------------------------------------------------------- */

static vug_status find_reachable(job *j, const vugi_tool *tool, double radius)
{
    if (radius <= j->listed)
        return VUG_OK;
    j->listed = 1.3 * radius;
    if (!vugi_reserve(&j->carving.mem, &j->mark, &j->mark_capacity, j->carving.vertex_count, 1)
        || !vugi_reachable_find(&j->carving, tool, j->listed, j->mark, &j->list))
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
        status = vugi_cut(&j->carving, tool, &j->list, ldexp(shortest, -attempt), 1e-7 * shortest,
            &result);
        if (!status) {
            j->cut[VOLUME] += result.volume_mm3;
            j->listed = 0.0;
        }
        if (status != VUG_ERR_MESH)
            break;
        vug_status stopped = vugi_step(j->ctx, j->done);
        if (stopped)
            return stopped;
    }
    if (status == VUG_ERR_MESH)
        return vugi_fail(j->ctx, status,
            "bore %zu cannot be cut: within %g mm of its axis the mesh is open, crosses itself, or "
            "has "
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

/* Where the tool begins and ends. */
static void set_ends(job *j, const vugi_tool *tool, const vugi_reach *reach, stretch *span)
{
    double diameter = j->row[VUGI_BORE_DIAMETER], depth = j->row[VUGI_BORE_DEPTH];
    span->skin = j->cut[FROM] = reach->skin;
    span->lo = reach->from
        - fmin((reach->runs_before ? 0.05 : 0.5) * diameter, 0.5 * reach->before);
    if (!isfinite(depth)) {
        j->cut[TO] = reach->last;
        span->hi = reach->last + 0.5 * diameter;
    } else if (depth > 0.0) {
        j->cut[TO] = span->hi = reach->skin + depth;
        for (int i = 0; i < 4; i++) /* no skin without a thickness in front of a flat facet */
            if (vugi_reach_flat(&j->carving, tool, &j->list, span->hi, 1e-6 * diameter))
                span->hi += 1e-5 * diameter;
    } else {
        j->cut[TO] = reach->to;
        span->hi = reach->to + fmin((reach->runs_on ? 0.05 : 0.5) * diameter, 0.5 * reach->behind);
    }
}

/* Radius of the corners, from that of the round section at skin and what it gains by each mm. */
static void set_radius(vugi_tool *tool, uint32_t sides, double skin, double radius, double growth)
{
    double share = vugi_tool_corner_radius(2.0, sides);
    tool->growth = share * growth;
    tool->radius = share * (radius - growth * skin);
}

static vugi_tool bore_tool(const job *j, const stretch *span)
{
    vugi_tool tool = {.lo = span->lo, .hi = span->hi};
    vugi_bore_frame(j->row, &tool);
    set_radius(&tool, vugi_tool_sides(j->row[VUGI_BORE_DIAMETER], j->error), span->skin,
        0.5 * j->row[VUGI_BORE_DIAMETER], -tan(0.5 * j->row[VUGI_BORE_TAPER] * VUGI_DEGREE));
    return tool;
}

/* The countersink's cone ends within the bore. */
static vugi_tool sink_tool(const job *j, const stretch *span)
{
    double slope = tan(0.5 * vugi_bore_sink_angle(j->row) * VUGI_DEGREE),
           radius = 0.5 * j->row[VUGI_BORE_SINK];
    vugi_tool bore = bore_tool(j, span), tool = {.lo = span->sink_lo};
    double narrow = 0.7
        * fmin(0.5 * j->row[VUGI_BORE_DIAMETER], vugi_tool_radius_at(&bore, span->hi));
    vugi_bore_frame(j->row, &tool);
    tool.hi = span->skin + (radius - narrow) / slope;
    set_radius(&tool, vugi_tool_sides(j->row[VUGI_BORE_SINK], j->error), span->skin, radius,
        -slope);
    return tool;
}

static vug_status check_shape(const job *j, const stretch *span)
{
    const double *row = j->row;
    vugi_tool tool = bore_tool(j, span);
    if (!(vugi_tool_radius_at(&tool, span->hi) > 0.01 * row[VUGI_BORE_DIAMETER]))
        return vugi_fail(j->ctx, VUG_ERR_DOMAIN,
            "bore %zu: %g mm wide and tapered by %g degrees it comes to a point within its depth, "
            "%g mm",
            j->number, row[VUGI_BORE_DIAMETER], row[VUGI_BORE_TAPER], span->hi - span->skin);
    if (row[VUGI_BORE_SINK] > 0.0 && sink_tool(j, span).hi >= span->hi)
        return vugi_fail(j->ctx, VUG_ERR_DOMAIN,
            "bore %zu: a countersink of %g mm and %g degrees is deeper than the bore, %g mm",
            j->number, row[VUGI_BORE_SINK], vugi_bore_sink_angle(row), span->hi - span->skin);
    return VUG_OK;
}

/* All is looked for on the part as it is given, so that the order of the bores makes no difference. */
static vug_status look(job *j, stretch *span)
{
    vugi_tool tool;
    vugi_reach reach, wide;
    vug_status status = vugi_bore_check(j->ctx, j->row, j->number);
    if (status)
        return status;
    vugi_bore_frame(j->row, &tool);
    if (j->row[VUGI_BORE_SINK] > 0.0)
        status = find_reach(j, &tool, j->row[VUGI_BORE_SINK], &wide);
    if (!status)
        status = find_reach(j, &tool, j->row[VUGI_BORE_DIAMETER], &reach);
    if (status)
        return status;
    set_ends(j, &tool, &reach, span);
    if (j->row[VUGI_BORE_SINK] > 0.0)
        span->sink_lo = wide.from - fmin(0.5 * j->row[VUGI_BORE_SINK], 0.5 * wide.before);
    return check_shape(j, span);
}

/* What is not there any more, other bores have taken. */
static vug_status cut(job *j, stretch *span)
{
    vugi_tool tool = bore_tool(j, span);
    uint32_t sides = vugi_tool_sides(j->row[VUGI_BORE_DIAMETER], j->error);
    j->cut[SIDES] = sides;
    vug_status status = take_away(j, &tool, sides);
    if ((status == VUG_OK || status == VUG_ERR_NOT_FOUND) && j->row[VUGI_BORE_SINK] > 0.0) {
        tool = sink_tool(j, span);
        status = take_away(j, &tool, vugi_tool_sides(j->row[VUGI_BORE_SINK], j->error));
    }
    return status == VUG_ERR_NOT_FOUND ? VUG_OK : status;
}

static vug_status each_bore(job *j, const double *bores, size_t count, double *cuts, stretch *spans,
    vug_status (*part)(job *j, stretch *span))
{
    vug_status status = VUG_OK;
    for (size_t i = 0; !status && i < count; i++) {
        j->number = i;
        j->row = bores + VUG_BORE_ROW * i;
        j->cut = cuts + VUG_BORE_CUT * i;
        j->listed = 0.0;
        j->done += 0.5 / (double)(count + 1);
        status = part(j, &spans[i]);
        if (!status)
            status = vugi_step(j->ctx, j->done);
    }
    return status;
}

static double largest(const vug_mesh *mesh)
{
    double size = 0.0;
    for (int k = 0; k < 3; k++)
        size = fmax(size, fmax(fabs(mesh->lo[k]), fabs(mesh->hi[k])));
    return size;
}

vug_status vugi_bore_mesh(vug_context *ctx, const vug_mesh *mesh, const double *bores, size_t count,
    double error_mm, double *cuts, vug_mesh **out)
{
    job j = {.ctx = ctx, .error = error_mm, .size = largest(mesh)};
    double *rows = vugi_calloc(&ctx->mem, count, VUG_BORE_CUT * sizeof *rows);
    stretch *spans = vugi_calloc(&ctx->mem, count, sizeof *spans);
    vug_status status = vugi_carving_begin(&j.carving, &ctx->mem, mesh) && rows && spans
        ? VUG_OK
        : vugi_fail_memory(ctx);
    if (!status)
        status = each_bore(&j, bores, count, rows, spans, look);
    if (!status)
        status = each_bore(&j, bores, count, rows, spans, cut);
    if (!status)
        status = vugi_carving_end(ctx, &j.carving, out);
    for (size_t i = 0; !status && cuts && i < VUG_BORE_CUT * count; i++)
        cuts[i] = rows[i];
    vugi_carving_free(&j.carving);
    vugi_free(&ctx->mem, j.list.triangle);
    vugi_free(&ctx->mem, j.mark);
    vugi_free(&ctx->mem, rows);
    vugi_free(&ctx->mem, spans);
    return status;
}

/* ---- the call ---------------------------------------------------------------------------------------- */

static const vug_bore_options defaults = {.struct_size = sizeof defaults, .error_mm = 0.01};

vug_status vug_bore_options_init(vug_bore_options *options, size_t size)
{
    return vugi_struct_init(options, size, &defaults, sizeof defaults);
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
        return vugi_fail(ctx, VUG_ERR_DOMAIN, "error_mm is %g; it goes from 1e-6 to 1000",
            own.error_mm);
    if (count == 0 || count > VUG_MAX_OPENINGS)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%zu bores; it takes 1 to %d", count,
            VUG_MAX_OPENINGS);
    vugi_progress_begin(ctx, "boring");
    return vugi_bore_mesh(ctx, mesh, bores, count, own.error_mm, cuts, out);
}
