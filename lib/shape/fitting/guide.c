/* SPDX-License-Identifier: MIT
 * A sleeve to drill through, whose underside fits the skin. */
#include "shape/fitting/envelope.h"

#include "shape/bore/reach.h"
#include "shape/bore/row.h"

#include "base/angle.h"

#include <math.h>
#include <string.h>

enum { SECTORS = 96, RINGS = 13, LEAST_HEIGHT = 3 };

static const vug_guide_options defaults = {.struct_size = sizeof defaults,
    .clearance_mm = 0.2,
    .play_mm = 0.2,
    .wall_mm = 4.0,
    .height_mm = 12.0};

vug_status vug_guide_options_init(vug_guide_options *options, size_t size)
{
    return vugi_struct_init(options, size, &defaults, sizeof defaults);
}

static vug_status check_options(vug_context *ctx, const vug_guide_options *o)
{
    vug_status status = vugi_check_number(ctx, "clearance_mm", o->clearance_mm, 0.0, 5.0);
    if (!status)
        status = vugi_check_number(ctx, "play_mm", o->play_mm, 0.0, 5.0);
    if (!status)
        status = vugi_check_number(ctx, "wall_mm", o->wall_mm, 1.0, 100.0);
    if (!status)
        status = vugi_check_number(ctx, "skirt_mm", o->skirt_mm, 0.0, 1e3);
    if (!status)
        status = vugi_check_number(ctx, "drill_mm", o->drill_mm, 0.0, 1e3);
    if (!status)
        status = vugi_check_number(ctx, "height_mm", o->height_mm, LEAST_HEIGHT, 1e3);
    return status;
}

typedef struct sleeve {
    vugi_tool frame;
    double inner, outer; /* radii; the inner one is that of a circle within the polygon */
    double top, lowest;  /* along w, which goes into the part */
} sleeve;

static double radius_of(const sleeve *s, size_t ring)
{
    double inner = s->inner / cos(VUGI_PI / SECTORS);
    return inner + (s->outer - inner) * (double)ring / (RINGS - 1);
}

static void place_of(const sleeve *s, size_t ring, size_t sector, double x[3])
{
    double angle = 2.0 * VUGI_PI * (double)sector / SECTORS;
    x[0] = radius_of(s, ring) * cos(angle);
    x[1] = radius_of(s, ring) * sin(angle);
}

/* Vertices: at the top the inner ring, then the outer; then the rings of the underside. */
static void fill_vertices(const sleeve *s, const vugi_envelope *envelope, double clearance,
    double *xyz)
{
    for (size_t i = 0; i < (RINGS + 2) * (size_t)SECTORS; i++) {
        size_t row = i / SECTORS, ring = row == 0 ? 0 : row == 1 ? RINGS - 1 : row - 2;
        double x[3];
        place_of(s, ring, i % SECTORS, x);
        x[2] = row < 2 ? s->top
                       : fmin(vugi_envelope_at(envelope, x[0], x[1]) - clearance, s->lowest);
        vugi_tool_part(&s->frame, x, xyz + 3 * i);
    }
}

/* The strip between two rows of vertices, seen from where a lies left of b's way around. */
static uint32_t *strip(uint32_t *row, uint32_t a, uint32_t b)
{
    for (uint32_t j = 0; j < SECTORS; j++) {
        uint32_t k = (j + 1) % SECTORS;
        const uint32_t corner[6] = {a * SECTORS + j, a * SECTORS + k, b * SECTORS + k,
            a * SECTORS + j, b * SECTORS + k, b * SECTORS + j};
        memcpy(row, corner, sizeof corner);
        row += 6;
    }
    return row;
}

static vug_status build(vug_context *ctx, const sleeve *s, const vugi_envelope *envelope,
    double clearance, vug_mesh **out)
{
    size_t vertices = (RINGS + 2) * (size_t)SECTORS, triangles = (RINGS + 2) * (size_t)SECTORS * 2;
    double *xyz = vugi_alloc(&ctx->mem, vertices, 3 * sizeof *xyz);
    uint32_t *row = vugi_alloc(&ctx->mem, triangles, 3 * sizeof *row), *next = row;
    if (!xyz || !row) {
        vugi_free(&ctx->mem, xyz);
        vugi_free(&ctx->mem, row);
        return vugi_fail_memory(ctx);
    }
    fill_vertices(s, envelope, clearance, xyz);
    next = strip(next, 0, 1);            /* top */
    next = strip(next, 1, RINGS + 1);    /* outside */
    for (uint32_t i = RINGS; i > 1; i--) /* underside, inward */
        next = strip(next, i + 1, i);
    strip(next, 2, 0); /* hole */
    *out = vugi_mesh_adopt(&ctx->mem, xyz, vertices, row, triangles);
    return *out ? VUG_OK : vugi_fail_memory(ctx);
}

/* Where the sleeve is, by the skin and the end of the hole on its axis. */
static vug_status place(vug_context *ctx, const double *bore, const vug_guide_options *o,
    const vugi_reach *reach, sleeve *s)
{
    double depth = bore[VUGI_BORE_DEPTH], end = depth > 0.0 ? reach->skin + depth : reach->to;
    if (!isfinite(depth))
        end = reach->last;
    s->top = o->drill_mm > 0.0 ? end - o->drill_mm : reach->skin - o->height_mm;
    s->lowest = reach->skin + (o->skirt_mm > 0.0 ? o->skirt_mm : 2.0 * s->outer);
    if (s->top > reach->skin - LEAST_HEIGHT)
        return vugi_fail(ctx, VUG_ERR_DOMAIN,
            "%g mm of drill is free and the hole ends %g mm below the skin: there have to be %d mm "
            "above "
            "it for a guide; let more of the drill stand out",
            o->drill_mm, end - reach->skin, LEAST_HEIGHT);
    return VUG_OK;
}

static vug_status check_room(vug_context *ctx, const sleeve *s, const vugi_envelope *envelope,
    double clearance)
{
    for (size_t i = 0; i < RINGS * (size_t)SECTORS; i++) {
        double x[3];
        place_of(s, i / SECTORS, i % SECTORS, x);
        double i0 = floor((x[0] - envelope->lo[0]) / envelope->step + 0.5);
        double j0 = floor((x[1] - envelope->lo[1]) / envelope->step + 0.5);
        bool blocked = envelope->blocked[(size_t)j0 * envelope->across[0] + (size_t)i0];
        if (blocked || vugi_envelope_at(envelope, x[0], x[1]) - clearance < s->top + 0.5)
            return vugi_fail(ctx, VUG_ERR_MESH,
                "another part of the surface is in the guide's way, %.1f mm from the axis of the "
                "hole: "
                "make the guide thinner or lower",
                hypot(x[0], x[1]));
    }
    return VUG_OK;
}

static vug_status fit(vug_context *ctx, const vugi_carving *carving, const double *bore,
    const vug_guide_options *o, sleeve *s, vug_mesh **out)
{
    double radius = 0.5 * bore[VUGI_BORE_DIAMETER];
    double step = o->wall_mm / 12.0, rim = s->outer + o->clearance_mm + 3.0 * step;
    const double lo[2] = {-rim, -rim}, hi[2] = {rim, rim};
    vugi_reachable list = {NULL, 0, 0};
    vugi_envelope envelope = {.mem = ctx->mem};
    vugi_reach reach;
    uint8_t *mark = vugi_alloc(&ctx->mem, carving->vertex_count, 1);
    vug_status status = mark && vugi_reachable_find(carving, &s->frame, 1.5 * rim, mark, &list)
        ? vugi_reach_find(carving, &s->frame, &list, radius, &reach)
        : VUG_ERR_MEMORY;
    if (status == VUG_ERR_NOT_FOUND)
        vugi_fail(ctx, status,
            "the bore misses the part: there is no solid at its point or further on");
    else if (status == VUG_ERR_MEMORY)
        vugi_fail_memory(ctx);
    if (!status)
        status = place(ctx, bore, o, &reach, s);
    if (!status)
        status = vugi_envelope_make(ctx, carving, &s->frame, &list, lo, hi, step, s->top,
            &envelope);
    if (!status)
        status = vugi_envelope_widen(ctx, &envelope, o->clearance_mm);
    if (!status)
        status = check_room(ctx, s, &envelope, o->clearance_mm);
    if (!status)
        status = build(ctx, s, &envelope, o->clearance_mm, out);
    vugi_envelope_free(&envelope);
    vugi_free(&ctx->mem, list.triangle);
    vugi_free(&ctx->mem, mark);
    return status;
}

vug_status vug_shape_guide(vug_context *ctx, const vug_mesh *mesh, const double *bore,
    const vug_guide_options *options, vug_mesh **out)
{
    if (!ctx || !mesh || !bore || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx        ? "ctx"
                : !mesh ? "mesh"
                : !bore ? "bore"
                        : "out");
    vug_guide_options own = defaults;
    vug_status status = vugi_struct_read(ctx, &own, sizeof own, options, "vug_guide_options");
    if (!status)
        status = check_options(ctx, &own);
    if (!status)
        status = vugi_bore_check(ctx, bore, 0);
    if (!status && (bore[VUGI_BORE_DIAMETER] + 2.0 * own.wall_mm) * 12.0 / own.wall_mm > 1800.0)
        status = vugi_fail(ctx, VUG_ERR_DOMAIN,
            "a wall of %g mm is too thin for a guide around a hole of %g mm", own.wall_mm,
            bore[VUGI_BORE_DIAMETER]);
    if (status)
        return status;
    vugi_progress_begin(ctx, "fitting a guide");
    sleeve s = {.inner = 0.5 * (bore[VUGI_BORE_DIAMETER] + own.play_mm)};
    s.outer = s.inner + own.wall_mm;
    vugi_bore_frame(bore, &s.frame);
    vugi_carving carving;
    status = vugi_carving_begin(&carving, &ctx->mem, mesh) ? fit(ctx, &carving, bore, &own, &s, out)
                                                           : vugi_fail_memory(ctx);
    vugi_carving_free(&carving);
    return status;
}
