/* SPDX-License-Identifier: MIT
 * Filling, as the caller asks for it. */
#include "fill/fill.h"

#include "fill/job.h"
#include "fill/waits.h"

#include "cavity/cavity.h"
#include "cavity/spacing.h"
#include "course/course.h"
#include "course/error.h"
#include "flow/flow.h"
#include "flow/wait.h"
#include "hydrostatic/compressible.h"
#include "hydrostatic/liquid.h"
#include "hydrostatic/quasistatic.h"
#include "transient/run.h"
#include "turn/level.h"

#include <math.h>
#include <string.h>

static const vug_fill_options defaults = {.struct_size = sizeof defaults, .inlet = -1};

vug_status vug_fill_options_init(vug_fill_options *options, size_t size)
{
    return vugi_struct_init(options, size, &defaults, sizeof defaults);
}

typedef vugi_fill_job job;

static vug_status read_flag(vug_context *ctx, const char *name, int32_t value)
{
    if (value == 0 || value == 1)
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is %d, it must be 0 or 1", name, (int)value);
}

static vug_status read_amount(vug_context *ctx, const char *name, double value)
{
    if (value >= 0.0 && isfinite(value))
        return VUG_OK;
    return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is %g, it must be 0 or more", name, value);
}

static vug_status read_rates(vug_context *ctx, const vug_fill_options *o)
{
    if (o->rate_count > 0 && !o->rates)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "rates is NULL with %zu rows", o->rate_count);
    for (size_t i = 0; i < o->rate_count; i++) {
        const double *row = o->rates + 2 * i;
        double least = i > 0 ? row[-2] : 0.0;
        bool rising = i > 0 ? row[0] > least : row[0] >= 0.0;
        if (!rising || !isfinite(row[0]) || !(row[1] >= 0.0) || !isfinite(row[1]))
            return vugi_fail(ctx, VUG_ERR_ARGUMENT,
                "row %zu of rates is %g s, %g mm3/s: times must "
                "rise from 0 and rates be 0 or more",
                i, row[0], row[1]);
    }
    if (!o->viscous && (o->settle || o->rate_count > 0))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "settle and rates need viscous");
    if (o->release && (o->viscous || o->rigid_air))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "release does not go with viscous or rigid_air");
    return VUG_OK;
}

static vug_status read_options(vug_context *ctx, const vug_fluid *fluid,
    const vug_fill_options *given, job *j)
{
    vug_fill_options *o = &j->options;
    *o = defaults;
    vug_status status = vugi_struct_read(ctx, o, sizeof *o, given, "vug_fill_options");
    if (status || (status = read_flag(ctx, "inlet_sealed", o->inlet_sealed))
        || (status = read_flag(ctx, "stop_at_spill", o->stop_at_spill))
        || (status = read_amount(ctx, "volume_mm3", o->volume_mm3))
        || (status = read_amount(ctx, "rate_mm3_s", o->rate_mm3_s))
        || (status = read_flag(ctx, "viscous", o->viscous))
        || (status = read_flag(ctx, "settle", o->settle))
        || (status = read_amount(ctx, "pressure_pa", o->pressure_pa))
        || (status = read_flag(ctx, "rigid_air", o->rigid_air))
        || (status = read_amount(ctx, "air_pressure_pa", o->air_pressure_pa))
        || (status = read_flag(ctx, "release", o->release)) || (status = read_rates(ctx, o)))
        return status;
    if (o->entry != VUG_ENTRY_INJECTED && o->entry != VUG_ENTRY_POURED)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "entry is %d, it must be %d (injected) or %d (poured)", (int)o->entry,
            (int)VUG_ENTRY_INJECTED, (int)VUG_ENTRY_POURED);
    status = vugi_read_liquid(ctx, "vug_fill_run", fluid, &j->fluid);
    return status ? status : vugi_range_check(ctx, o->fluid_low, &j->fluid, o->fluid_high);
}

/* Openings of other cavities count as sealed if the cavity is given. */
static vug_status choose_cavity(vug_context *ctx, const vug_cavities *c, size_t cavity, job *j)
{
    if (cavity == SIZE_MAX)
        return VUG_OK;
    for (size_t i = 0; i < c->opening_count; i++) {
        if (c->opening[i].cavity == (int32_t)cavity)
            continue;
        if (j->options.inlet == (int32_t)i)
            return vugi_fail(ctx, VUG_ERR_ARGUMENT,
                "inlet is opening %zu, it is not one of cavity %zu", i, cavity);
        j->role[i] = VUG_ROLE_SEALED;
    }
    return VUG_OK;
}

static vug_status choose_inlet(vug_context *ctx, const vug_cavities *c, job *j)
{
    int64_t inlet = j->options.inlet;
    if (inlet < -1 || inlet >= (int64_t)c->opening_count)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
            "inlet is opening %lld, there are %zu openings, from 0", (long long)inlet,
            c->opening_count);
    for (size_t i = 0; i < c->opening_count && inlet < 0; i++)
        if (j->role[i] == VUG_ROLE_INLET)
            inlet = (int64_t)i;
    for (size_t i = 0; i < c->opening_count && inlet < 0; i++)
        if (j->role[i] != VUG_ROLE_SEALED)
            inlet = (int64_t)i;
    if (inlet < 0)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND,
            c->cavity_count == 0 ? "the part has no cavity: hollow it first"
                                 : "no opening to fill by: name a hole, or plan a bore");
    if (j->role[inlet] == VUG_ROLE_SEALED)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "opening %lld is the inlet and sealed at once",
            (long long)inlet);
    j->inlet = (size_t)inlet;
    return VUG_OK;
}

/* The inlet passes no air if it is sealed, or poured full and narrow. */
static vug_status open_inlet(vug_context *ctx, const vug_cavities *c, job *j)
{
    if (j->inlet == SIZE_MAX)
        return VUG_OK;
    j->open[j->inlet] &= !j->options.inlet_sealed;
    if (j->options.entry != VUG_ENTRY_POURED)
        return VUG_OK;
    double free_mm, pinned_mm;
    vug_status status = vug_exchange_diameter(ctx, &j->fluid, &free_mm, &pinned_mm);
    j->inlet_narrow = !status && 2.0 * c->opening[j->inlet].inscribed_radius < free_mm;
    j->open[j->inlet] &= !j->inlet_narrow;
    return status;
}

/* Whether air passes each mouth and liquid can spill there. */
static void open_mouths(const job *j, vug_course *c, bool *spills)
{
    const vugi_scene *s = c->scene;
    for (size_t m = 0; m < s->mouth_count; m++) {
        bool sealed = j->role[s->mouth[m].opening] == VUG_ROLE_SEALED;
        bool inlet = (size_t)s->mouth[m].opening == j->inlet;
        c->open[m] = j->open[s->mouth[m].opening];
        spills[m] = !sealed && !(inlet && j->options.inlet_sealed) && !(inlet && j->inlet_covered)
            && !(j->covered && vugi_bitset_has(j->covered, (size_t)s->mouth[m].opening));
    }
    c->summary.held = j->inlet_narrow;
}

static uint32_t mouth_of(const vugi_scene *s, size_t opening)
{
    for (uint32_t m = 0; m < s->mouth_count; m++)
        if ((size_t)s->mouth[m].opening == opening)
            return m;
    return VUGI_NONE;
}

/* Without hurry the times follow from the volumes. */
static void set_times(vug_course *c, double rate)
{
    vugi_history *h = &c->history;
    if (rate <= 0.0)
        return;
    for (size_t i = 0; i < h->event_count; i++)
        h->event[i].time = (h->event[i].liquid - c->summary.start_mm3) / rate;
    for (size_t i = 0; i < h->frame_count; i++) /* what flows back takes no time of its own */
        h->frame[i].time = fmax(i > 0 ? h->frame[i - 1].time : 0.0,
            (h->frame[i].liquid - c->summary.start_mm3) / rate);
    c->summary.time_s = h->frame_count > 0 ? h->frame[h->frame_count - 1].time : 0.0;
}

static double air_pressure(const vug_fill_options *o)
{
    return o->air_pressure_pa > 0.0 ? o->air_pressure_pa : VUGI_ATMOSPHERE;
}

static vug_status fill_in_time(vug_context *ctx, const job *j, const vugi_fill_task *fill,
    vug_course *c, double *level)
{
    const vug_fill_options *o = &j->options;
    vugi_transient task = {.fill = *fill,
        .fluid = &j->fluid,
        .rate = o->rate_mm3_s,
        .table = o->rates,
        .rows = o->rate_count,
        .pressure = o->pressure_pa,
        .settle = o->settle != 0,
        .rigid = o->rigid_air != 0,
        .air_head = air_pressure(o) / vugi_head_pressure(&j->fluid, 1.0)};
    vugi_transient_result result;
    vug_status status = vugi_transient_run(ctx, &task, &c->history, level, &result);
    if (status)
        return status;
    c->summary.time_s = result.time;
    c->summary.settled_s = result.settled;
    c->summary.slope_mm = result.slope;
    c->summary.lag_mm = result.lag;
    c->summary.peak_pressure_pa = result.peak_pressure;
    c->summary.sill_head_mm = result.sill_head;
    c->compressible = !o->rigid_air;
    return VUG_OK;
}

/* Pressures as heights of the liquid in mm. */
static vug_status fill_under_air(vug_context *ctx, const job *j, const vugi_fill_task *fill,
    vug_course *c, double *level)
{
    const vug_fill_options *o = &j->options;
    double pa_per_mm = vugi_head_pressure(&j->fluid, 1.0);
    vugi_compressible task = {.fill = *fill,
        .air_head = air_pressure(o) / pa_per_mm,
        .inlet_head = o->pressure_pa / pa_per_mm,
        .release = o->release != 0};
    vugi_compressible_result result;
    vug_status status = vugi_compressible_run(ctx, &task, &c->history, level, &result);
    if (status)
        return status;
    for (size_t i = 0; i < c->history.frame_count; i++)
        c->history.frame[i].pressure *= pa_per_mm;
    c->summary.peak_pressure_pa = result.peak_head * pa_per_mm;
    c->summary.returned_mm3 = result.returned;
    c->compressible = true;
    return VUG_OK;
}

/* What is inside at first, as it stands when the openings are free. */
static vug_status find_start(vug_context *ctx, const job *j, const vug_course *c, double *level)
{
    const vugi_scene *s = c->scene;
    vugi_links links;
    vug_status status = VUG_OK;
    memcpy(level, j->start, s->graph.arc_count * sizeof *level);
    if (!vugi_links_alloc(&c->mem, &s->graph, &links))
        status = vugi_fail_memory(ctx);
    else
        status = vugi_level_out(ctx, s, c->open, level, &links);
    vugi_links_free(&c->mem, &links);
    return status;
}

/* Nothing is let in: the course is one moment. */
static vug_status stay(vug_context *ctx, vug_course *c, const double *level)
{
    const vugi_graph *g = &c->scene->graph;
    double *empty = vugi_alloc(&c->mem, g->arc_count, sizeof *empty);
    if (!empty)
        return vugi_fail_memory(ctx);
    for (uint32_t a = 0; a < g->arc_count; a++)
        empty[a] = g->arc[a].lo;
    bool ok = vugi_history_frame(&c->history, g, empty, level,
        (vugi_frame){.liquid = vugi_levels_volume(g, level), .together = true});
    vugi_free(&c->mem, empty);
    c->history.end = VUG_END_SUPPLY;
    return ok ? VUG_OK : vugi_fail_memory(ctx);
}

static vug_status let_in(vug_context *ctx, const job *j, vug_course *c, const bool *spills,
    double *level)
{
    const vugi_scene *s = c->scene;
    uint32_t inlet = mouth_of(s, j->inlet);
    vugi_fill_task task = {.scene = c->scene,
        .inlet = &inlet,
        .inlets = 1,
        .air_open = c->open,
        .liquid_open = spills,
        .stop_at_spill = j->options.stop_at_spill != 0,
        .volume = j->options.volume_mm3 > 0.0 ? j->options.volume_mm3 : INFINITY,
        .start = j->start ? level : NULL};
    if (j->start)
        task.volume += vugi_levels_volume(&s->graph, level);
    if (j->options.viscous)
        return fill_in_time(ctx, j, &task, c, level);
    if (j->options.rigid_air)
        return vugi_quasistatic_run(ctx, &task, &c->history, level);
    return fill_under_air(ctx, j, &task, c, level);
}

static vug_status fill(vug_context *ctx, const job *j, vug_course *c)
{
    const vugi_scene *s = c->scene;
    double *level = vugi_alloc(&c->mem, s->graph.arc_count, sizeof *level);
    bool *spills = vugi_alloc(&c->mem, s->mouth_count, sizeof *spills);
    vug_status status = level && spills ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        open_mouths(j, c, spills);
    if (!status && j->start)
        status = find_start(ctx, j, c, level);
    if (!status && j->start)
        c->summary.start_mm3 = vugi_levels_volume(&s->graph, level);
    if (!status)
        status = j->inlet == SIZE_MAX ? stay(ctx, c, level) : let_in(ctx, j, c, spills, level);
    vugi_free(&c->mem, level);
    vugi_free(&c->mem, spills);
    if (status)
        return status;
    c->summary.cavity = (uint32_t)j->stage.cavity;
    c->summary.inlet = j->inlet == SIZE_MAX ? -1 : (int32_t)j->inlet;
    if (!j->options.viscous)
        set_times(c, j->options.rate_mm3_s);
    return vugi_course_finish(ctx, c);
}

vug_status vugi_fill_read(vug_context *ctx, const vug_cavities *cavities, const vug_fluid *fluid,
    const double *up, const int32_t *roles, size_t role_count, const vug_fill_options *options,
    size_t cavity, job *j)
{
    vug_status status;
    *j = (job){.stage = {.cavities = cavities, .sills = VUGI_SILLS_AIR, .dips = VUGI_SILLS_AIR}};
    if ((status = vugi_read_up(ctx, up, j->stage.up))
        || (status = read_options(ctx, fluid, options, j))
        || (status = vugi_read_roles(ctx, cavities, roles, role_count, &j->role))
        || (status = choose_cavity(ctx, cavities, cavity, j)))
        return status;
    bool closed = cavity != SIZE_MAX && j->options.inlet == -1;
    for (size_t i = 0; i < cavities->opening_count; i++)
        closed &= j->role[i] == VUG_ROLE_SEALED;
    j->inlet = SIZE_MAX;
    if (!closed && (status = choose_inlet(ctx, cavities, j)))
        return status;
    j->stage.cavity = closed ? cavity : (size_t)cavities->opening[j->inlet].cavity;
    if (j->options.viscous && closed)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "viscous needs an opening that is not sealed");
    if ((status = vugi_open_by_role(ctx, cavities, j->role, &j->open))
        || (status = open_inlet(ctx, cavities, j)))
        return status;
    j->stage.open = j->open;
    j->stage.doors = j->options.viscous != 0;
    return vugi_read_spacing(ctx, cavities, j->stage.cavity, 1, j->options.columns_across,
        VUGI_ACROSS, j->options.spacing_mm, &j->stage.spacing);
}

void vugi_fill_job_free(vug_context *ctx, job *j)
{
    vugi_free(&ctx->mem, j->role);
    vugi_free(&ctx->mem, j->open);
    j->role = NULL;
    j->open = NULL;
}

vug_status vugi_fill_scene(vug_context *ctx, const job *j, vugi_scene *scene, vug_course **out)
{
    vug_course *course = vugi_course_new(ctx, scene);
    if (!course)
        return vugi_fail_memory(ctx);
    vug_status status = fill(ctx, j, course);
    if (status) {
        vug_course_free(course);
        return status;
    }
    *out = course;
    return VUG_OK;
}

vug_status vugi_fill_driven(vug_context *ctx, const job *j)
{
    const vug_fill_options *o = &j->options;
    if (o->viscous && o->rate_mm3_s <= 0.0 && o->rate_count == 0 && o->pressure_pa <= 0.0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "a viscous fill needs rate_mm3_s, rates or pressure_pa");
    return VUG_OK;
}

vug_status vug_fill_run(vug_context *ctx, const vug_cavities *cavities, const vug_fluid *fluid,
    const double *up, const int32_t *roles, size_t role_count, const vug_fill_options *options,
    vug_course **out)
{
    job j = {.role = NULL};
    vugi_scene *scene = NULL;
    vug_course *course = NULL;
    vug_status status;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or out is NULL");
    status = vugi_fill_read(ctx, cavities, fluid, up, roles, role_count, options, SIZE_MAX, &j);
    if (!status)
        status = vugi_fill_driven(ctx, &j);
    if (!status) {
        vugi_progress_begin(ctx, "columns");
        status = vugi_step(ctx, 0.0);
    }
    if (!status)
        status = vugi_stage_scene(ctx, &ctx->mem, &j.stage, &scene);
    if (!status)
        status = vugi_step(ctx, 0.5);
    if (!status)
        status = vugi_fill_scene(ctx, &j, scene, &course);
    if (!status)
        status = vugi_course_set_errors(ctx, cavities, course);
    if (!status)
        status = vugi_fill_waits(ctx, &j, NULL, course);
    vugi_scene_free(scene);
    vugi_fill_job_free(ctx, &j);
    if (!status)
        status = vugi_step(ctx, 1.0);
    if (status)
        vug_course_free(course);
    else
        *out = course;
    return status;
}
