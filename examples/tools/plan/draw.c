/* SPDX-License-Identifier: MIT
 * The plan as a picture: the part in its first pose, the air that the turns then let out, and the
 * bores to drill. */
#include "draw.h"

#include "skin.h"
#include "../picture/newhole.h"
#include "../picture/picture.h"
#include "../picture/pockets.h"
#include "../tool/amounts.h"
#include "../tool/fail.h"
#include "../tool/file_name.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static picture_mark opening_mark(const fill_plan *plan, size_t i)
{
    const plan_opening *o = &plan->openings[i];
    const vug_step_info *first = plan->fill;
    picture_mark m = {.kind = MARK_SEALED};
    const bool planned = o->info.planned != 0;
    const bool given = plan->info.given; /* then all is covered at first */
    bool inlet = !given && fill_plan_listed((opening_list){first->feed, first->feed_count}, i);
    bool open = inlet
        || (!given && fill_plan_listed((opening_list){first->open, first->open_count}, i));
    const char *use = inlet ? "fill here"
        : given && planned  ? "when its step says so"
        : given             ? "covered now"
        : !open             ? "keep covered at first"
        : fill_plan_listed((opening_list){first->show, first->show_count}, i)
        ? "cover once it shows"
        : "leave open for the air";
    newhole_take(&o->info, &m);
    memcpy(m.label, o->label, sizeof m.label);
    m.kind = planned ? MARK_DRILL : inlet ? MARK_INLET : open ? MARK_VENT : MARK_SEALED;
    if (planned) {
        snprintf(m.text, sizeof m.text, "%s %.12s mm wide, %.1f mm deep: %s",
            plan->info.in_model ? "in the model," : "drill", amount_mm(m.diameter_mm).text,
            m.depth_mm, use);
    } else {
        snprintf(m.text, sizeof m.text, "opening, %.12s mm wide: %s",
            amount_mm(o->info.diameter_mm).text, use);
    }
    return m;
}

/* What is done in a pose, short. */
static picture_pose step_pose(const fill_plan *plan, size_t i)
{
    const vug_step_info *step = &plan->fill[i];
    picture_pose pose;
    memcpy(pose.up, step->up, sizeof pose.up);
    const bool now = i == 0 && plan->info.given;
    pose.inlet = now ? -1 : step->inlet;
    pose.open = step->open;
    pose.open_count = now ? 0 : step->open_count;
    if (now)
        snprintf(pose.text, sizeof pose.text, "now: %.16s in it, %.20s air",
            amount_drawn(step->inject_mm3).text, fill_plan_share(plan, step->trapped_mm3).text);
    else if (step->inlet >= 0 && (size_t)step->inlet < plan->opening_count)
        snprintf(pose.text, sizeof pose.text, "%u: %.16s by %.7s%s, %.20s air left",
            (unsigned)i + 1 - (unsigned)plan->info.given, amount_drawn(step->inject_mm3).text,
            plan->openings[step->inlet].label, step->feed_count > 1 ? " and others" : "",
            fill_plan_share(plan, step->trapped_mm3).text);
    else if (i == 0)
        snprintf(pose.text, sizeof pose.text, "1: takes none");
    else
        snprintf(pose.text, sizeof pose.text, "%u: all covered, wait",
            (unsigned)i + 1 - (unsigned)plan->info.given);
    return pose;
}

/* What is done again in the end, short; "" for nothing. */
static void write_again(const fill_plan *plan, char *text, size_t size)
{
    const vug_plan_info *info = &plan->info;
    const unsigned last = fill_plan_told(plan) - (unsigned)info->given;
    const unsigned times = (unsigned)info->repeats;
    text[0] = '\0';
    if (times == 0)
        return;
    if (info->again == info->repeats)
        snprintf(text, size, "; then held anew, %u x", times);
    else if (last + (unsigned)info->given > 2)
        snprintf(text, size, "; then %u and %u again, %u x", last - 1, last, times);
    else
        snprintf(text, size, "; then all over again, %u x", times);
}

/* How it is after the first step, or now, where something is inside already. What nothing was let into is empty. */
static vug_status take_state(const fill_plan *plan, drawing *picture)
{
    vug_status status = VUG_OK;
    vug_moment **now = calloc(plan->first_count + 1, sizeof *now),
               **empty = calloc(plan->first_count + 1, sizeof *empty);
    if (!now || !empty)
        status = VUG_ERR_MEMORY;
    for (size_t i = 0; i < plan->first_count && !status; i++) {
        now[i] = plan->first[i].moment;
        if (!now[i])
            status = vug_moment_make(plan->ctx, plan->drilled, i, plan->fill[0].up,
                plan->info.spacing_mm, 0.0, NULL, 0, empty + i);
        if (!now[i])
            now[i] = empty[i];
    }
    const drawing_state state = {.moment = now, .moment_count = plan->first_count};
    if (!status)
        status = drawing_take_pockets(plan->ctx, plan->drilled, &state, picture);
    for (size_t i = 0; i < plan->first_count && empty; i++)
        vug_moment_free(empty[i]);
    free(empty);
    free(now);
    return status;
}

static vug_status draw(const tool *program, const fill_plan *plan, const char *base,
    drawing *picture, int *code)
{
    char title[320], subtitle[240], pose[200] = "", name[64], again[64];
    const unsigned turns = fill_plan_turns(plan);
    vug_status status = take_state(plan, picture);
    if (!status)
        status = vug_pose_words(plan->ctx, NULL, plan->fill[0].up, pose, sizeof pose);
    if (status)
        return status;
    if (plan->fill[0].trapped_mm3 < LEAST_MM3) /* nobody finds it */
        picture->air_count = 0;
    short_name(plan->settings->file, name);
    snprintf(title, sizeof title, "%s: %s %s%s", name, plan->info.given ? "held" : "hold it",
        strncmp(pose, "its ", 4) == 0 ? "with " : "", pose);
    int used;
    if (fill_plan_unfilled(plan))
        used = snprintf(subtitle, sizeof subtitle, "It can't be filled so: hardly any %s stays",
            plan->paint.name);
    else
        used = snprintf(subtitle, sizeof subtitle,
            "%s of %s in %lld load%s of %g mL.  Air left: %s of the cavity",
            amount_drawn(plan->info.inject_mm3).text, plan->paint.name, (long long)plan->info.loads,
            plan->info.loads == 1 ? "" : "s", plan->info.syringe_ml,
            fill_plan_share(plan, plan->info.trapped_mm3).text);
    if (turns > 0)
        snprintf(subtitle + used, sizeof subtitle - (size_t)used,
            ", after %u turn%s; before, the %s shown here", turns, turns == 1 ? "" : "s",
            fill_plan_share(plan, plan->fill[0].trapped_mm3).text);
    write_again(plan, again, sizeof again);
    picture->again = again;
    picture->title = title;
    picture->subtitle = subtitle;
    *code = picture_write(program, picture, base);
    return VUG_OK;
}

int plan_draw(const tool *program, const fill_plan *plan, const char *base)
{
    picture_mark *marks = calloc(plan->opening_count + 1, sizeof *marks);
    if (!marks)
        return fail(program, "no memory");
    picture_pose poses[VUG_MAX_TURNS + 1];
    for (size_t i = 0; i < fill_plan_told(plan); i++)
        poses[i] = step_pose(plan, i);
    for (size_t i = 0; i < plan->opening_count; i++)
        marks[i] = opening_mark(plan, i);
    drawing picture = {.xyz = vug_mesh_vertices(plan->mesh),
        .vertex_count = vug_mesh_vertex_count(plan->mesh),
        .triangles = vug_mesh_triangles(plan->mesh),
        .triangle_count = vug_mesh_triangle_count(plan->mesh),
        .spacing_mm = plan->info.spacing_mm,
        .marks = marks,
        .mark_count = plan->opening_count,
        .poses = poses,
        .pose_count = fill_plan_told(plan),
        .liquid = fill_plan_unfilled(plan) ? NULL : plan->paint.name,
        .air_name = plan->info.given    ? "air inside now"
            : fill_plan_turns(plan) > 0 ? "air to be turned out"
                                        : "air that stays"};
    memcpy(picture.up, plan->fill[0].up, sizeof picture.up);
    int code = FAILED;
    picture_skin skin;
    vug_status status = plan_skin(plan, &skin);
    picture.skin = &skin;
    if (!status)
        status = draw(program, plan, base, &picture, &code);
    plan_skin_free(&skin);
    drawing_pockets_free(&picture);
    free(marks);
    return status ? fail_status(program, plan->ctx, status) : code;
}
