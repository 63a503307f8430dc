/* SPDX-License-Identifier: MIT
 * From the settings to the library's plan, and its parts gathered for those who print and draw it. */
#include "make.h"

#include "../tool/fail.h"
#include "../tool/liquid.h"
#include "../tool/progress.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* A solid part gets its cavity first. */
static int hollow(const tool *program, fill_plan *plan)
{
    vug_hollow_options options;
    vug_hollow_options_init(&options, sizeof options);
    options.wall_mm = plan->settings->wall_mm;
    options.simplify_mm = plan->settings->simplify_mm;
    if (hollowed_make(plan->ctx, &options, &plan->mesh, &plan->hollowed))
        return fail(program, "%s: %s", plan->settings->file, vug_context_message(plan->ctx));
    return DONE;
}

/* Less than a syringe measures is no cavity to plan for, but a flaw of the mesh, or a part in another unit. */
static int check_room(const tool *program, const fill_plan *plan)
{
    const double least_mm3 = 50.0;
    double room = 0.0;
    for (size_t i = 0; i < vug_cavities_count(plan->cavities); i++) {
        vug_cavity_info info = {.struct_size = sizeof info};
        if (!vug_cavities_get(plan->cavities, i, &info))
            room += info.volume_mm3;
    }
    if (room >= least_mm3)
        return DONE;
    return fail(program,
        "%s: all its cavities hold less than 0.05 mL, which no syringe measures; see if the unit "
        "is right; if the part opens by a hole, name that with --hole",
        plan->settings->file);
}

static int load(const tool *program, fill_plan *plan)
{
    const plan_settings *s = plan->settings;
    vug_cavity_options options;
    int code = context_open(program, &plan->ctx);
    if (code == DONE)
        code = mesh_open(program, plan->ctx, s->file, &s->mesh, &plan->mesh);
    if (code == DONE && s->wall_mm > 0.0)
        code = hollow(program, plan);
    if (code != DONE)
        return code;
    vug_cavity_options_init(&options, sizeof options);
    vug_status status = vug_cavities_find(plan->ctx, plan->mesh, s->mesh.holes.number,
        s->mesh.holes.count, &options, &plan->cavities);
    if (status)
        return fail(program, "%s: %s", s->file, vug_context_message(plan->ctx));
    if (vug_cavities_count(plan->cavities) == 0)
        return fail(program,
            "%s: there is no cavity in it; if it opens by a hole, name that with "
            "--hole; if it is solid, hollow it with --design and --hollow",
            s->file);
    if (vug_cavities_opening_count(plan->cavities) == 0 && !s->design)
        return fail(program,
            "%s: its cavity has no opening; name one with --hole, or let openings be "
            "proposed with --design",
            s->file);
    return check_room(program, plan);
}

/* The paint as a range. */
static int find_paint(const tool *program, const plan_settings *s, known_liquid *paint)
{
    int code = liquid_by_name(program, "--liquid", s->paint, s->temperature_c, paint);
    if (s->angle_deg >= 0.0)
        paint->low.contact_angle_deg = paint->typical.contact_angle_deg =
            paint->high.contact_angle_deg = s->angle_deg;
    return code;
}

/* More than there is room for is a slip of whoever measured it. */
static int check_inside(const tool *program, const fill_plan *plan)
{
    const plan_settings *s = plan->settings;
    vug_cavity_info info = {.struct_size = sizeof info};
    if (vug_cavities_get(plan->cavities, fill_plan_start_cavity(plan), &info)
        || 1e3 * s->inside_ml <= info.volume_mm3)
        return DONE;
    return fail(program,
        "--inside-ml %g: the cavity holds %.1f mL; what ran out again, or is left in the syringe, "
        "does not count",
        s->inside_ml, 1e-3 * info.volume_mm3);
}

static bool all_sealed(const int32_t *roles, size_t count)
{
    for (size_t i = 0; i < count; i++)
        if (roles[i] != VUG_ROLE_SEALED)
            return false;
    return count > 0;
}

/* Which openings are plugged, and which one is filled by. */
static int read_roles(const tool *program, const plan_settings *s, size_t count, int32_t *roles)
{
    if (s->inlet >= 0 && (size_t)s->inlet >= count)
        return fail_opening(program, "--inlet", s->inlet, count);
    for (size_t i = 0; i < s->plugged.count; i++) {
        int64_t opening = (int64_t)s->plugged.number[i];
        if ((size_t)opening >= count)
            return fail_opening(program, "--plugged", opening, count);
        if (opening == s->inlet)
            return fail_usage(program, "--plugged and --inlet name the same opening");
        roles[opening] = VUG_ROLE_SEALED;
    }
    if (s->inside_ml > 0.0 && all_sealed(roles, count))
        return fail(program,
            "--plugged names every opening: nothing more goes in, or out; clear one");
    if (s->inlet >= 0)
        roles[s->inlet] = VUG_ROLE_INLET;
    return DONE;
}

static int run(const tool *program, fill_plan *plan)
{
    const plan_settings *s = plan->settings;
    size_t count = vug_cavities_opening_count(plan->cavities);
    vug_plan_options options;
    vug_plan_options_init(&options, sizeof options);
    int32_t *roles = calloc(count + 1, sizeof *roles); /* all open */
    int code = roles ? read_roles(program, s, count, roles) : fail(program, "no memory");
    if (code != DONE) {
        free(roles);
        return code;
    }
    options.start_given = s->inside_ml > 0.0;
    memcpy(options.start_up, s->held, sizeof options.start_up);
    options.start_liquid_mm3 = 1e3 * s->inside_ml;
    options.start_air = s->air.number;
    options.start_air_count = s->air.count;
    options.design = s->design;
    options.pose_given = s->pose_given;
    memcpy(options.first_up, s->up, sizeof options.first_up);
    options.verify_across = (uint32_t)s->columns;
    options.pose_count = (uint32_t)s->poses;
    options.max_turns = (uint32_t)s->turns;
    options.max_repeats = (uint32_t)s->repeats;
    options.max_bores = (uint32_t)s->bores;
    options.limit = 0.01 * s->limit_percent;
    options.bare_limit = 0.01 * s->bare_percent;
    options.bore_mm = s->drill_mm;
    options.syringe_ml = s->syringe_ml;
    options.keep_clear = s->clear.number;
    options.keep_clear_count = s->clear.count;
    options.preferred = s->prefer.number;
    options.preferred_count = s->prefer.count;
    options.view = s->views.number;
    options.view_count = s->views.count;
    options.fluid_low = &plan->paint.low;
    options.fluid_high = &plan->paint.high;
    vug_status status = vug_plan_make(plan->ctx, plan->cavities, &plan->paint.typical,
        &plan->rinse.typical, roles, count, &options, &plan->made);
    free(roles);
    return status ? fail_status(program, plan->ctx, status) : DONE;
}

/* ---- the best alternative -------------------------------------------------------- */

static vug_status gather_steps(fill_plan *plan)
{
    plan->info.struct_size = sizeof plan->info;
    vug_status status = vug_plan_get(plan->made, 0, &plan->info);
    for (uint32_t i = 0; i < plan->info.steps && !status; i++) {
        plan->fill[i].struct_size = sizeof *plan->fill;
        status = vug_plan_step(plan->made, 0, VUG_PLAN_FILL, i, plan->fill + i);
    }
    for (uint32_t i = 0; i < plan->info.drain_steps && !status; i++) {
        plan->drain[i].struct_size = sizeof *plan->drain;
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
    plan->opening_count = vug_cavities_opening_count(plan->drilled);
    plan->openings = calloc(plan->opening_count + 1, sizeof *plan->openings);
    if (!plan->openings)
        return VUG_ERR_MEMORY;
    for (size_t i = 0; i < plan->opening_count; i++) {
        plan_opening *o = &plan->openings[i];
        o->info.struct_size = sizeof o->info;
        vug_status status = vug_cavities_opening(plan->drilled, i, &o->info);
        if (!status)
            status = vug_plan_letter(plan->ctx, plan->made, 0, i, o->label, sizeof o->label);
        if (status)
            return status;
        for (uint32_t k = 0; k < plan->info.bores; k++)
            if (plan->bores[k].opening == i)
                o->bore = &plan->bores[k];
    }
    return VUG_OK;
}

/* One cavity's share of the first step, once more: its pockets. */
static vug_status fill_first(fill_plan *plan, size_t cavity, const int32_t *roles, first_air *first)
{
    const vug_step_info *step = plan->fill;
    vug_fill_options options;
    vug_course *course = NULL;
    vug_status status = vug_fill_options_init(&options, sizeof options);
    vug_cavity_info info = {.struct_size = sizeof info};
    if (!status)
        status = vug_cavities_get(plan->drilled, cavity, &info);
    first->info = (vug_moment_info){.struct_size = sizeof first->info,
        .empty_mm3 = info.openings > 0 ? info.volume_mm3 : 0.0};
    options.spacing_mm = plan->info.spacing_mm;
    for (size_t i = 0; i < step->feed_count && !status; i++) {
        if (plan->openings[step->feed[i]].info.cavity != cavity)
            continue;
        options.inlet = (int32_t)step->feed[i];
        options.volume_mm3 = step->feed_most_mm3[i];
        status = vug_fill_run(plan->ctx, plan->drilled, &plan->paint.typical, step->up, roles,
            plan->opening_count, &options, &course);
        if (!status)
            status = vug_course_at_time(plan->ctx, course, INFINITY, &first->moment);
        if (!status)
            status = vug_moment_get(first->moment, &first->info);
        vug_course_free(course);
        course = NULL;
    }
    return status;
}

/* What is inside already, where no fill tells how it came there. */
static vug_status make_first(fill_plan *plan)
{
    const vug_step_info *step = plan->fill;
    const plan_settings *s = plan->settings;
    const size_t cavity = fill_plan_start_cavity(plan);
    first_air *first = plan->first + cavity;
    if (step->feed_count > 0)
        return VUG_OK;
    vug_status status = vug_moment_make(plan->ctx, plan->drilled, cavity, step->up,
        plan->info.spacing_mm, 1e3 * s->inside_ml, s->air.number, s->air.count, &first->moment);
    return status ? status : vug_moment_get(first->moment, &first->info);
}

static vug_status fill_all_first(fill_plan *plan)
{
    vug_status status = VUG_OK;
    size_t count = vug_cavities_count(plan->drilled);
    int32_t *roles = calloc(plan->opening_count + 1, sizeof *roles);
    plan->first = calloc(count + 1, sizeof *plan->first);
    if (!roles || !plan->first)
        status = VUG_ERR_MEMORY;
    for (size_t i = 0; i < plan->fill[0].cover_count && !status; i++)
        roles[plan->fill[0].cover[i]] = VUG_ROLE_SEALED;
    plan->first_count = status ? 0 : count;
    for (size_t i = 0; i < count && !status; i++)
        status = fill_first(plan, i, roles, plan->first + i);
    if (!status && plan->info.given)
        status = make_first(plan);
    free(roles);
    return status;
}

int plan_make(const tool *program, fill_plan *plan)
{
    int code = load(program, plan);
    if (code == DONE)
        code = check_inside(program, plan);
    if (code == DONE)
        code = find_paint(program, plan->settings, &plan->paint);
    if (code == DONE)
        code = liquid_by_name(program, "--rinse", plan->settings->rinse,
            plan->settings->temperature_c, &plan->rinse);
    if (code == DONE)
        code = run(program, plan);
    if (code != DONE)
        return code;
    vug_status status = gather_steps(plan);
    if (!status)
        status = gather_openings(plan);
    if (!status)
        status = fill_all_first(plan);
    return status ? fail_status(program, plan->ctx, status) : DONE;
}
