/* SPDX-License-Identifier: MIT
 * The long calls on one part, one job each, as small as they come: for the fuzz target and for the test of
 * allocations that fail. A job makes its result, looks at it and frees it; a call that fails must have left
 * its result alone, or the process dies. */
#ifndef VUG_TEST_JOBS_H
#define VUG_TEST_JOBS_H

#include "vug.h"

#include <math.h>
#include <stdlib.h>

enum { JOB_ACROSS = 20 }; /* cells, columns */

typedef struct job_part {
    vug_mesh *mesh;
    vug_cavities *cavities; /* or NULL */
    double hole[7];
    size_t holes;
    double up[3];
    vug_fluid fluid;
} job_part;

static inline void job_must(int true_or_abort)
{
    if (!true_or_abort)
        abort();
}

static inline vug_status job_ends(vug_context *ctx, vug_status status, const void *out)
{
    job_must((status == VUG_OK) == (out != NULL));
    job_must(status == VUG_OK || vug_context_message(ctx)[0] != 0);
    return status;
}

/* The same of a call that makes a mesh, which nobody needs. */
static inline vug_status job_mesh_ends(vug_context *ctx, vug_status status, vug_mesh *out)
{
    job_ends(ctx, status, out);
    vug_mesh_free(out);
    return status;
}

static inline vug_status job_clean(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_mesh *out = NULL;
    vug_mesh_clean_report report = {.struct_size = sizeof report, .degenerate_removed = 12345};
    vug_status status = vug_mesh_clean(ctx, p->mesh, NULL, &out, &report);
    job_ends(ctx, status, out);
    job_must(status == VUG_OK || report.degenerate_removed == 12345);
    vug_mesh_free(out);
    return status;
}

static inline vug_status job_measure(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_mesh_measures m = {.struct_size = sizeof m, .shells = 12345};
    vug_status status = vug_mesh_measure(ctx, p->mesh, &m);
    job_must(status == VUG_OK ? isfinite(m.volume_mm3) && m.shells > 0 : m.shells == 12345);
    return status;
}

static inline vug_status job_shells(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_shells *out = NULL;
    vug_status status = vug_mesh_shells(ctx, p->mesh, &out);
    job_ends(ctx, status, out);
    vug_shells_free(out);
    return status;
}

static inline vug_status job_cavities(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_cavities *out = NULL;
    vug_cavity_options o;
    vug_cavity_options_init(&o, sizeof o);
    o.cells_across = JOB_ACROSS;
    vug_status status = vug_cavities_find(ctx, p->mesh, p->hole, p->holes, &o, &out);
    job_ends(ctx, status, out);
    for (size_t i = 0; i < vug_cavities_count(out); i++) {
        vug_cavity_info info = {.struct_size = sizeof info};
        job_must(vug_cavities_get(out, i, &info) == VUG_OK && isfinite(info.volume_mm3));
    }
    vug_cavities_free(out);
    return status;
}

static inline vug_status job_thickness(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_thickness *out = NULL;
    vug_mesh_measures m = {.struct_size = sizeof m};
    double longest = 0.0;
    if (!vug_mesh_measure(ctx, p->mesh, &m))
        for (size_t k = 0; k < 3; k++)
            longest = fmax(longest, m.hi_mm[k] - m.lo_mm[k]);
    vug_status status = vug_thickness_measure(ctx, p->mesh, p->cavities, longest / JOB_ACROSS,
        &out);
    job_ends(ctx, status, out);
    vug_thickness_free(out);
    return status;
}

static inline vug_status job_pockets(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_pockets *out = NULL;
    vug_pose_options o;
    vug_pose_options_init(&o, sizeof o);
    o.columns_across = JOB_ACROSS;
    vug_status status = vug_pockets_find(ctx, p->cavities, p->up, NULL, 0, &o, &out);
    job_ends(ctx, status, out);
    job_must(isfinite(vug_pockets_trapped_mm3(out)));
    vug_pockets_free(out);
    return status;
}

static inline vug_status job_scan(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_pose_scan *out = NULL;
    vug_pose_options o;
    vug_pose_options_init(&o, sizeof o);
    o.columns_across = JOB_ACROSS;
    o.pose_count = 8;
    vug_status status = vug_pose_scan_run(ctx, p->cavities, NULL, 0, &o, &out);
    job_ends(ctx, status, out);
    vug_pose_scan_free(out);
    return status;
}

static inline vug_fill_options job_fill_options(void)
{
    vug_fill_options o;
    vug_fill_options_init(&o, sizeof o);
    o.columns_across = JOB_ACROSS;
    return o;
}

static inline vug_status job_fill(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_course *out = NULL;
    vug_fill_options o = job_fill_options();
    vug_status status = vug_fill_run(ctx, p->cavities, &p->fluid, p->up, NULL, 0, &o, &out);
    job_ends(ctx, status, out);
    vug_course_free(out);
    return status;
}

/* Half full, then on its head. */
static inline vug_status job_turn(vug_context *ctx, void *data)
{
    const job_part *p = data;
    const double down[3] = {-p->up[0], -p->up[1], -p->up[2]};
    vug_course *first = NULL, *out = NULL;
    vug_moment *half = NULL;
    vug_fill_options o = job_fill_options();
    vug_course_info info = {.struct_size = sizeof info};
    vug_status status = vug_fill_run(ctx, p->cavities, &p->fluid, p->up, NULL, 0, &o, &first);
    if (!status)
        status = vug_course_get(first, &info);
    if (!status)
        status = vug_course_at_volume(ctx, first, 0.5 * info.liquid_mm3, &half);
    if (!status) {
        status = vug_fill_turn(ctx, p->cavities, &p->fluid, half, down, NULL, 0, &o, &out);
        job_ends(ctx, status, out);
    }
    vug_course_free(out);
    vug_moment_free(half);
    vug_course_free(first);
    return status;
}

static inline vug_status job_drain(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_course *out = NULL;
    vug_drain_options o;
    vug_drain_options_init(&o, sizeof o);
    o.columns_across = JOB_ACROSS;
    vug_status status = vug_drain_run(ctx, p->cavities, &p->fluid, p->up, NULL, 0, &o, &out);
    job_ends(ctx, status, out);
    vug_course_free(out);
    return status;
}

static inline vug_status job_cups(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_cups *out = NULL;
    vug_cup_options o;
    vug_cup_options_init(&o, sizeof o);
    o.columns_across = JOB_ACROSS;
    o.layer_mm = 1.0;
    vug_status status = vug_cups_find(ctx, p->cavities, NULL, p->up, NULL, 0, &o, &out);
    job_ends(ctx, status, out);
    vug_cups_free(out);
    return status;
}

static inline vug_status job_plan(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_plan *out = NULL;
    char *text = NULL;
    vug_plan_options o;
    vug_plan_options_init(&o, sizeof o);
    o.columns_across = o.verify_across = JOB_ACROSS;
    o.pose_count = 8;
    o.max_turns = 1;
    o.max_bores = 1;
    o.max_repeats = 0;
    vug_status status = vug_plan_make(ctx, p->cavities, &p->fluid, NULL, NULL, 0, &o, &out);
    job_ends(ctx, status, out);
    if (!status) {
        status = vug_plan_text(ctx, out, 0, "part", "paint", NULL, 80, &text);
        job_ends(ctx, status, text);
    }
    vug_free(ctx, text);
    vug_plan_free(out);
    return status;
}

static inline vug_status job_rate_limit(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_fill_options o = job_fill_options();
    double rate = -1.0;
    vug_status status = vug_fill_rate_limit(ctx, p->cavities, &p->fluid, p->up, NULL, 0, &o, &rate);
    job_must(status ? rate == -1.0 : rate >= 0.0);
    return status;
}

/* Which skin paint wets in a fill. */
static inline vug_status job_skin(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_skin *out = NULL;
    vug_course *course = NULL;
    double *rows = NULL;
    size_t count = 0;
    vug_fill_options o = job_fill_options();
    vug_skin_options so;
    vug_skin_options_init(&so, sizeof so);
    so.spacing_mm = 2.0;
    vug_status status = vug_skin_make(ctx, p->cavities, &so, &out);
    job_ends(ctx, status, out);
    if (!status)
        status = vug_fill_run(ctx, p->cavities, &p->fluid, p->up, NULL, 0, &o, &course);
    if (!status)
        status = vug_skin_wet(ctx, out, &p->fluid, course);
    if (!status) {
        status = vug_skin_triangles(ctx, out, 0, &rows, &count);
        job_ends(ctx, status, rows);
    }
    vug_free(ctx, rows);
    vug_course_free(course);
    vug_skin_free(out);
    return status;
}

static inline vug_status job_backlit(vug_context *ctx, void *data)
{
    enum { SIDE_PIXELS = 16 };
    const job_part *p = data;
    uint8_t pixel[4 * SIDE_PIXELS * SIDE_PIXELS] = {0};
    vug_backlit o;
    vug_backlit_init(&o, sizeof o);
    return vug_backlit_render(ctx, p->mesh, p->cavities, NULL, &o, SIDE_PIXELS, SIDE_PIXELS, pixel,
        4 * SIDE_PIXELS);
}

static inline vug_status job_hollow(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_mesh *out = NULL;
    vug_hollow_options o;
    vug_hollow_options_init(&o, sizeof o);
    o.cells = 3 * JOB_ACROSS;
    o.wall_mm = 0.9; /* two walls and a chamber find room in those of the solid of cells */
    o.throat_mm = o.chamber_mm = 1.8;
    vug_status status = vug_shape_hollow(ctx, p->mesh, &o, &out, NULL, NULL, NULL);
    return job_mesh_ends(ctx, status, out);
}

/* A row of the calls that take one: through the wall opposite the hole. */
static inline void job_row(const job_part *p, double row[VUG_BORE_ROW])
{
    for (size_t k = 0; k < VUG_BORE_ROW; k++)
        row[k] = k < 3 ? -p->hole[k] : k < 7 ? p->hole[k] : 0.0;
    row[6] = 2.0;
}

static inline vug_status job_bore(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_mesh *out = NULL;
    double row[VUG_BORE_ROW];
    job_row(p, row);
    vug_status status = vug_shape_bore(ctx, p->mesh, row, 1, NULL, NULL, &out);
    return job_mesh_ends(ctx, status, out);
}

static inline vug_status job_plug(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_mesh *out = NULL;
    double row[VUG_BORE_ROW];
    job_row(p, row);
    vug_status status = vug_shape_plug(ctx, row, NULL, &out);
    return job_mesh_ends(ctx, status, out);
}

static inline vug_status job_guide(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_mesh *out = NULL;
    double row[VUG_BORE_ROW];
    job_row(p, row);
    vug_status status = vug_shape_guide(ctx, p->mesh, row, NULL, &out);
    return job_mesh_ends(ctx, status, out);
}

static inline vug_status job_cradle(vug_context *ctx, void *data)
{
    const job_part *p = data;
    vug_mesh *out = NULL;
    vug_cradle_options o;
    vug_cradle_options_init(&o, sizeof o);
    o.cells = 2 * JOB_ACROSS;
    vug_status status = vug_shape_cradle(ctx, p->mesh, p->up, NULL, 0, &o, NULL, &out);
    return job_mesh_ends(ctx, status, out);
}

typedef struct job {
    const char *name;
    vug_status (*run)(vug_context *ctx, void *data);
    int needs_cavities;
} job;

static const job jobs[] = {{"vug_mesh_measure", job_measure, 0}, {"vug_mesh_shells", job_shells, 0},
    {"vug_mesh_clean", job_clean, 0}, {"vug_cavities_find", job_cavities, 0},
    {"vug_thickness_measure", job_thickness, 0}, {"vug_pockets_find", job_pockets, 1},
    {"vug_pose_scan_run", job_scan, 1}, {"vug_fill_run", job_fill, 1},
    {"vug_fill_turn", job_turn, 1}, {"vug_drain_run", job_drain, 1}, {"vug_cups_find", job_cups, 1},
    {"vug_plan_make", job_plan, 1}, {"vug_fill_rate_limit", job_rate_limit, 1},
    {"vug_skin_wet", job_skin, 1}, {"vug_backlit_render", job_backlit, 1},
    {"vug_shape_hollow", job_hollow, 0}, {"vug_shape_bore", job_bore, 0},
    {"vug_shape_plug", job_plug, 0}, {"vug_shape_guide", job_guide, 0},
    {"vug_shape_cradle", job_cradle, 0}};

enum { JOBS = sizeof jobs / sizeof *jobs };

#endif
