/* SPDX-License-Identifier: MIT
 * Draining, as the caller asks for it. */
#include "drain/breakout.h"
#include "drain/emptying.h"

#include "cavity/cavity.h"
#include "cavity/spacing.h"
#include "course/course.h"
#include "course/error.h"
#include "gravity/stage.h"
#include "hydrostatic/liquid.h"
#include "turn/turn.h"

#include <math.h>

static const vug_drain_options defaults = {.struct_size = sizeof defaults, .cavity = -1};

vug_status vug_drain_options_init(vug_drain_options *options, size_t size)
{
    return vugi_struct_init(options, size, &defaults, sizeof defaults);
}

typedef struct job {
    vug_drain_options options;
    vug_fluid fluid;
    int32_t *role; /* of each opening */
    bool *open;    /* the same, whether anything passes it */
    vugi_stage stage;
} job;

/* The moment says which cavity it is, and how far apart the columns are unless the options do. */
static vug_status read_begin(vug_context *ctx, const vug_cavities *c, job *j)
{
    vug_drain_options *o = &j->options;
    const vugi_graph *g = &o->begin->scene->graph;
    vug_status status = vugi_turn_check(ctx, c, o->begin);
    if (status)
        return status;
    if (o->cavity >= 0 && o->cavity != g->sweep.body)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavity is %d, and from a moment of cavity %d",
            (int)o->cavity, (int)g->sweep.body);
    j->stage.cavity = (size_t)g->sweep.body;
    if (o->columns_across == 0 && o->spacing_mm <= 0.0)
        o->spacing_mm = o->begin->scene->columns.h;
    return VUG_OK;
}

static vug_status read_options(vug_context *ctx, const vug_cavities *c, const vug_fluid *fluid,
    const vug_drain_options *given, job *j)
{
    vug_drain_options *o = &j->options;
    *o = defaults;
    vug_status status = vugi_struct_read(ctx, o, sizeof *o, given, "vug_drain_options");
    if (status || (status = vugi_read_liquid(ctx, "vug_drain_run", fluid, &j->fluid)))
        return status;
    if (!(o->drip_s >= 0.0) || !isfinite(o->drip_s))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "drip_s is %g, it must be 0 or more", o->drip_s);
    if (c->cavity_count == 0)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "the part has no cavity: hollow it first");
    if (o->cavity < -1 || o->cavity >= (int64_t)c->cavity_count)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "cavity is %d, there are %zu, from 0",
            (int)o->cavity, c->cavity_count);
    if (o->begin)
        return read_begin(ctx, c, j);
    j->stage.cavity = o->cavity >= 0 ? (size_t)o->cavity : 0;
    for (size_t i = 0; i < c->opening_count && o->cavity < 0; i++)
        if (j->role[i] != VUG_ROLE_SEALED) {
            j->stage.cavity = (size_t)c->opening[i].cavity;
            break;
        }
    return VUG_OK;
}

static void measure_film(vug_course *c, const job *j)
{
    const vugi_cavity *cavity = j->stage.cavities->cavity + j->stage.cavity;
    vugi_emptying_film(c, &j->fluid, cavity->area,
        j->options.drip_s > 0.0 ? j->options.drip_s : VUGI_DRIP_S);
}

/* *start: of each arc, what is inside once the part is turned; NULL: all are full. The caller frees it. */
static vug_status turn(vug_context *ctx, const job *j, vugi_scene *scene, double **start)
{
    if (!j->options.begin)
        return VUG_OK;
    *start = vugi_alloc(&ctx->mem, scene->graph.arc_count, sizeof **start);
    return *start ? vugi_turn_levels(ctx, j->options.begin, scene, *start) : vugi_fail_memory(ctx);
}

/* Would anything run out, once air comes in for it? */
static bool would_run(const vug_course *c)
{
    const vugi_history *h = &c->history;
    return h->frame_count > 0
        && h->frame[0].liquid - c->summary.liquid_mm3 > 1e-6 * c->summary.capacity_mm3;
}

/* Where no air breaks in for it, nothing comes by itself, whatever the head would drive. */
static vug_status hold(vug_context *ctx, const job *j, vug_course *c)
{
    const vug_cavities *cavities = j->stage.cavities;
    if (!would_run(c))
        return VUG_OK;
    bool *closed = vugi_alloc(&ctx->mem, cavities->opening_count, sizeof *closed);
    if (!closed)
        return vugi_fail_memory(ctx);
    for (size_t i = 0; i < cavities->opening_count; i++)
        closed[i] = j->role[i] == VUG_ROLE_SEALED;
    if (!vugi_breaks_out(&j->fluid, cavities, closed, j->stage.cavity, j->stage.up)) {
        c->summary.time_s = -1.0;
        c->summary.held = 1;
    }
    vugi_free(&ctx->mem, closed);
    return VUG_OK;
}

static vug_status drain(vug_context *ctx, const job *j, vug_course *c)
{
    for (uint32_t m = 0; m < c->scene->mouth_count; m++)
        c->open[m] = j->open[c->scene->mouth[m].opening];
    double *start = NULL;
    vug_status status = turn(ctx, j, c->scene, &start);
    if (!status)
        status = vugi_emptying_run(ctx, c, &j->fluid, start);
    if (!status && start)
        c->summary.start_mm3 = vugi_levels_volume(&c->scene->graph, start);
    vugi_free(&ctx->mem, start);
    if (status)
        return status;
    c->summary.cavity = (uint32_t)j->stage.cavity;
    measure_film(c, j);
    return hold(ctx, j, c);
}

vug_status vug_drain_run(vug_context *ctx, const vug_cavities *cavities, const vug_fluid *fluid,
    const double *up, const int32_t *roles, size_t role_count, const vug_drain_options *options,
    vug_course **out)
{
    job j = {.stage = {.cavities = cavities,
                 .doors = true,
                 .sills = VUGI_SILLS_LIQUID,
                 .dips = VUGI_SILLS_LIQUID}};
    vugi_scene *scene = NULL;
    vug_course *course = NULL;
    vug_status status;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or out is NULL");
    if ((status = vugi_read_up(ctx, up, j.stage.up))
        || (status = vugi_read_roles(ctx, cavities, roles, role_count, &j.role))
        || (status = vugi_open_by_role(ctx, cavities, j.role, &j.open))
        || (status = read_options(ctx, cavities, fluid, options, &j))
        || (status = vugi_read_spacing(ctx, cavities, j.stage.cavity, 1, j.options.columns_across,
                VUGI_ACROSS, j.options.spacing_mm, &j.stage.spacing)))
        goto done;
    j.stage.open = j.open;
    vugi_progress_begin(ctx, "columns");
    if ((status = vugi_step(ctx, 0.0))
        || (status = vugi_stage_scene(ctx, &ctx->mem, &j.stage, &scene)))
        goto done;
    status = vugi_step(ctx, 0.6);
    if (!status && !(course = vugi_course_new(ctx, scene)))
        status = vugi_fail_memory(ctx);
    vugi_scene_free(scene);
    if (!status)
        status = drain(ctx, &j, course);
    if (!status)
        status = vugi_course_set_errors(ctx, cavities, course);
    if (!status)
        status = vugi_step(ctx, 1.0);
    if (status)
        vug_course_free(course);
    else
        *out = course;
done:
    vugi_free(&ctx->mem, j.open);
    vugi_free(&ctx->mem, j.role);
    return status;
}
