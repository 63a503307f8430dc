/* SPDX-License-Identifier: MIT
 * The plan as a picture: the air that stays without the vents, and the vents that let it out. */
#include "picture_pockets.h"
#include "plan.h"

#include <stdlib.h>
#include <string.h>

static picture_mark opening_mark(const fill_plan *plan, const plan_opening *o)
{
    picture_mark m = {.diameter_mm = o->info.diameter_mm};
    bool inlet = o == &plan->openings[plan->inlet];
    memcpy(m.point_mm, o->info.center_mm, sizeof m.point_mm);
    memcpy(m.outward, o->info.normal, sizeof m.outward);
    memcpy(m.label, o->label, sizeof m.label);
    m.kind = o->vent ? MARK_DRILL : inlet ? MARK_INLET : MARK_VENT;
    if (o->vent) {
        m.depth_mm = o->vent->bore.depth_mm;
        snprintf(m.text, sizeof m.text, "drill %.2g mm wide, %.1f mm deep; frees %.2f mL of air",
            plan->settings->drill_mm, m.depth_mm, 1e-3 * o->vent->pocket.volume_mm3);
    } else {
        snprintf(m.text, sizeof m.text, "opening, %.1f mm wide: %s", o->info.diameter_mm,
            inlet ? "fill here" : o->cover ? "cover once paint shows" : "leave open for the air");
    }
    return m;
}

static vug_status draw(const example *program, const fill_plan *plan, const char *base,
    drawing *picture, int *code)
{
    char title[200], subtitle[200], pose[96], name[64];
    vug_status status = drawing_take_pockets(plan->ctx, plan->cavities, plan->pockets, picture);
    if (status)
        return status;
    plan_pose_words(plan->up, pose, sizeof pose);
    short_name(plan->settings->file, name);
    snprintf(title, sizeof title, "%s: hold it with %s", name, pose);
    int used = snprintf(subtitle, sizeof subtitle, "%.1f mL of paint in %lld loads of %g mL.  Air "
        "left: %.1f %% of the cavity", 1e-3 * (plan->capacity_mm3 - plan->trapped_mm3),
        (long long)plan->supply.loads, plan->settings->syringe_ml,
        plan_percent(plan, plan->trapped_mm3));
    if (plan->vent_count > 0)
        snprintf(subtitle + used, sizeof subtitle - (size_t)used, ", %.1f %% without the vents",
            plan_percent(plan, vug_pockets_trapped_mm3(plan->pockets)));
    picture->title = title;
    picture->subtitle = subtitle;
    *code = picture_write(program, picture, base);
    return VUG_OK;
}

int plan_draw(const example *program, const fill_plan *plan, const char *base)
{
    picture_mark marks[VUG_MAX_OPENINGS];
    for (size_t i = 0; i < plan->opening_count; i++)
        marks[i] = opening_mark(plan, &plan->openings[i]);
    drawing picture = {
        .xyz = vug_mesh_vertices(plan->mesh), .vertex_count = vug_mesh_vertex_count(plan->mesh),
        .triangles = vug_mesh_triangles(plan->mesh),
        .triangle_count = vug_mesh_triangle_count(plan->mesh),
        .up = {plan->up[0], plan->up[1], plan->up[2]}, .spacing_mm = plan->spacing_mm,
        .marks = marks, .mark_count = plan->opening_count,
        .liquid = "paint", .air_name = "air caught without the vents"};
    int code = FAILED;
    vug_status status = draw(program, plan, base, &picture, &code);
    drawing_pockets_free(&picture);
    return status ? fail_status(program, plan->ctx, status) : code;
}
