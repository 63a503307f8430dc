/* SPDX-License-Identifier: MIT
 * From the settings to the library's plan, and its parts gathered for those who print and draw it. */
#include "make.h"

#include "../tool/fail.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static int load(const tool *program, fill_plan *plan)
{
    const plan_settings *s = plan->settings;
    vug_cavity_options options;
    vug_status status = vug_context_create(NULL, &plan->ctx);
    if (status)
        return fail(program, "no memory");
    status = vug_mesh_load(plan->ctx, s->file, NULL, &plan->mesh);
    if (status)
        return fail_status(program, plan->ctx, status);
    vug_cavity_options_init(&options, sizeof options);
    if (s->design)
        options.detect = 0;
    status = vug_cavities_find(plan->ctx, plan->mesh, s->holes.number, s->holes.count, &options,
        &plan->cavities);
    if (status)
        return fail(program, "%s: %s", s->file, vug_context_message(plan->ctx));
    if (vug_cavities_count(plan->cavities) == 0)
        return fail(program,
            "%s: there is no cavity in it; if it opens by a hole, name that with "
            "--hole",
            s->file);
    if (vug_cavities_opening_count(plan->cavities) == 0 && !s->design)
        return fail(program,
            "%s: its cavity has no opening; name one with --hole, or let openings be "
            "proposed with --design",
            s->file);
    return DONE;
}

static int fluid_by_name(const tool *program, const fill_plan *plan, const char *name,
    int32_t level, vug_fluid *fluid)
{
    vug_fluid_init(fluid, sizeof *fluid);
    for (int32_t i = 0; vug_fluid_preset_name(i); i++) {
        if (strcmp(vug_fluid_preset_name(i), name) != 0)
            continue;
        vug_status status = vug_fluid_preset(plan->ctx, i, level, plan->settings->temperature_c,
            fluid);
        return status ? fail_status(program, plan->ctx, status) : DONE;
    }
    return fail_usage(program, "there is no fluid \"%s\"", name);
}

/* The paint as a range, and what it is rinsed with. */
static int fluids(const tool *program, fill_plan *plan)
{
    const plan_settings *s = plan->settings;
    vug_fluid *paint[VUG_LEVEL_COUNT] = {&plan->paint_low, &plan->paint, &plan->paint_high};
    int code = DONE;
    for (int32_t level = 0; level < VUG_LEVEL_COUNT && code == DONE; level++) {
        code = fluid_by_name(program, plan, s->paint, level, paint[level]);
        if (s->angle_deg >= 0.0)
            paint[level]->contact_angle_deg = s->angle_deg;
    }
    return code == DONE ? fluid_by_name(program, plan, s->rinse, VUG_TYPICAL, &plan->rinse) : code;
}

static int run(const tool *program, fill_plan *plan)
{
    const plan_settings *s = plan->settings;
    size_t count = vug_cavities_opening_count(plan->cavities);
    vug_plan_options options;
    vug_plan_options_init(&options, sizeof options);
    if (s->inlet >= 0 && (size_t)s->inlet >= count)
        return fail_usage(program, "--inlet %lld: the part has %zu openings, numbered from 0",
            (long long)s->inlet, count);
    int32_t *roles = calloc(count + 1, sizeof *roles); /* all open */
    if (!roles)
        return fail(program, "no memory");
    if (s->inlet >= 0)
        roles[s->inlet] = VUG_ROLE_INLET;
    options.pose_given = s->pose_given;
    memcpy(options.first_up, s->up, sizeof options.first_up);
    options.verify_across = (uint32_t)s->columns;
    options.pose_count = (uint32_t)s->poses;
    options.max_turns = (uint32_t)s->turns;
    options.max_bores = (uint32_t)s->bores;
    options.limit = 0.01 * s->limit_percent;
    options.bore_mm = s->drill_mm;
    options.syringe_ml = s->syringe_ml;
    options.keep_clear = s->clear.number;
    options.keep_clear_count = s->clear.count;
    options.preferred = s->prefer.number;
    options.preferred_count = s->prefer.count;
    options.view = s->views.number;
    options.view_count = s->views.count;
    options.fluid_low = &plan->paint_low;
    options.fluid_high = &plan->paint_high;
    vug_status status = vug_plan_make(plan->ctx, plan->cavities, &plan->paint, &plan->rinse, roles,
        count, &options, &plan->made);
    free(roles);
    return status ? fail_status(program, plan->ctx, status) : DONE;
}

/* ---- the best alternative -------------------------------------------------------- */

static vug_status gather_steps(fill_plan *plan)
{
    plan->info.struct_size = sizeof plan->info;
    vug_status status = vug_plan_get(plan->made, 0, &plan->info);
    for (uint32_t i = 0; i < plan->info.steps && !status; i++) {
        plan->fill[i].struct_size = plan->drain[i].struct_size = sizeof *plan->fill;
        status = vug_plan_step(plan->made, 0, VUG_PLAN_FILL, i, plan->fill + i);
        if (!status)
            status = vug_plan_step(plan->made, 0, VUG_PLAN_DRAIN, i, plan->drain + i);
    }
    if (!status && !(plan->bores = calloc(plan->info.bores + 1, sizeof *plan->bores)))
        return VUG_ERR_MEMORY;
    for (uint32_t i = 0; i < plan->info.bores && !status; i++) {
        plan->bores[i].struct_size = sizeof *plan->bores;
        status = vug_plan_bore(plan->made, 0, i, plan->bores + i);
    }
    plan->drilled = vug_plan_cavities(plan->made, 0);
    return status;
}

static vug_status gather_openings(fill_plan *plan)
{
    unsigned own = 0;
    plan->opening_count = vug_cavities_opening_count(plan->drilled);
    plan->openings = calloc(plan->opening_count + 1, sizeof *plan->openings);
    if (!plan->openings)
        return VUG_ERR_MEMORY;
    for (size_t i = 0; i < plan->opening_count; i++) {
        plan_opening *o = &plan->openings[i];
        o->info.struct_size = sizeof o->info;
        vug_status status = vug_cavities_opening(plan->drilled, i, &o->info);
        if (status)
            return status;
        for (uint32_t k = 0; k < plan->info.bores; k++) {
            if (plan->bores[k].opening != i)
                continue;
            o->bore = &plan->bores[k];
            snprintf(o->label, sizeof o->label, "%u", (unsigned)(k + 1) % 1000);
        }
        if (!o->bore && own < 26)
            snprintf(o->label, sizeof o->label, "%c", (char)('A' + own++));
        else if (!o->bore)
            snprintf(o->label, sizeof o->label, "A%u", own++ % 1000);
    }
    return VUG_OK;
}

/* What stays after the first step, for the picture. */
static vug_status look_at_first(fill_plan *plan)
{
    vug_pose_options options;
    double longest = 0.0;
    for (size_t i = 0; i < vug_cavities_count(plan->drilled); i++) {
        vug_cavity_info info = {.struct_size = sizeof info};
        vug_status status = vug_cavities_get(plan->drilled, i, &info);
        if (status)
            return status;
        for (int k = 0; k < 3; k++)
            longest = fmax(longest, info.hi_mm[k] - info.lo_mm[k]);
    }
    plan->spacing_mm = longest / (double)plan->settings->columns;
    vug_pose_options_init(&options, sizeof options);
    options.spacing_mm = plan->spacing_mm;
    return vug_pockets_find(plan->ctx, plan->drilled, plan->fill[0].up, NULL, 0, &options,
        &plan->pockets);
}

int plan_make(const tool *program, fill_plan *plan)
{
    int code = load(program, plan);
    if (code == DONE)
        code = fluids(program, plan);
    if (code == DONE)
        code = run(program, plan);
    if (code != DONE)
        return code;
    vug_status status = gather_steps(plan);
    if (!status)
        status = gather_openings(plan);
    if (!status)
        status = look_at_first(plan);
    return status ? fail_status(program, plan->ctx, status) : DONE;
}
