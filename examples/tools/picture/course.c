/* SPDX-License-Identifier: MIT */
#include "course.h"

#include "curves.h"
#include "newhole.h"
#include "picture.h"
#include "pockets.h"
#include "../tool/amounts.h"
#include "../tool/fail.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { STAGE_COUNT = 6 }; /* unless volumes are given */

static picture_mark opening_mark(const course_picture *course, size_t index, int32_t inlet)
{
    picture_mark m = {.kind = course->drain ? MARK_OUTLET : MARK_VENT};
    vug_opening_info info = {.struct_size = sizeof info};
    if (vug_cavities_opening(course->cavities, index, &info))
        return m;
    newhole_take(&info, &m);
    if (course->roles[index] == VUG_ROLE_SEALED)
        m.kind = MARK_SEALED;
    else if (!course->drain && (int32_t)index == inlet)
        m.kind = MARK_INLET;
    vug_opening_letter(NULL, index, m.label, sizeof m.label);
    snprintf(m.text, sizeof m.text, "opening %s, %.12s mm wide", m.label,
        amount_mm(info.diameter_mm).text);
    return m;
}

/* Where to cut: as the air that stays caught asks; for a drain, the liquid, which is the air of the
 * pose upside down. */
static vug_status choose_cut(vug_context *ctx, const course_picture *course, drawing *picture)
{
    vug_pose_options options;
    vug_pockets *pockets = NULL;
    double up[3];
    vug_pose_options_init(&options, sizeof options);
    options.spacing_mm = picture->spacing_mm;
    for (int k = 0; k < 3; k++)
        up[k] = course->drain ? -picture->up[k] : picture->up[k];
    vug_status status = vug_pockets_find(ctx, course->cavities, up, course->roles,
        course->opening_count, &options, &pockets);
    if (!status)
        status = drawing_take_pockets(ctx, course->cavities, &(drawing_state){.pockets = pockets},
            picture);
    vug_pockets_free(pockets);
    return status;
}

/* How much is inside at a stage: as asked, or in even steps; of a drain from full to what is left. */
static double stage_volume(const course_picture *course, const vug_course_info *summary, size_t i)
{
    double left = summary->liquid_mm3, full = summary->capacity_mm3;
    if (course->at_count)
        return course->at_mm3[i];
    return course->drain ? full - (full - left) * (double)i / (STAGE_COUNT - 1)
                         : left * ((double)i + 1.0) / STAGE_COUNT;
}

static vug_status take_stage(vug_context *ctx, const course_picture *course, const drawing *picture,
    const vug_course_info *summary, size_t index, picture_stage *stage)
{
    vug_moment *moment = NULL;
    vug_moment_info info = {.struct_size = sizeof info};
    double volume = stage_volume(course, summary, index);
    bool last = course->drain ? volume <= summary->liquid_mm3 : volume >= summary->liquid_mm3;
    vug_status status = last ? vug_course_at_time(ctx, course->course, INFINITY, &moment)
                             : vug_course_at_volume(ctx, course->course, volume, &moment);
    if (!status)
        status = vug_moment_get(moment, &info);
    if (!status)
        status = drawing_section(ctx, &(drawing_state){.moment = &moment, .moment_count = 1},
            picture, &stage->spans, &stage->span_count);
    if (!status) {
        stage->air_free = !last || course->drain;
        int used = snprintf(stage->text, sizeof stage->text, "%zu: %.2f mL inside", index + 1,
            1e-3 * info.liquid_mm3);
        if (info.time_s > 0.0 && isfinite(info.time_s))
            snprintf(stage->text + used, sizeof stage->text - (size_t)used, " after %.3g s",
                info.time_s);
        else if (info.time_s < 0.0)
            snprintf(stage->text + used, sizeof stage->text - (size_t)used, ", not by itself");
    }
    vug_moment_free(moment);
    return status;
}

static vug_status draw(const tool *program, vug_context *ctx, const course_picture *course,
    drawing *picture, picture_stage *stages, size_t count, int *code)
{
    vug_course_info summary = {.struct_size = sizeof summary};
    vug_status status = vug_course_get(course->course, &summary);
    picture_mark *marks = calloc(course->opening_count + 1, sizeof *marks);
    if (!marks)
        return VUG_ERR_MEMORY;
    for (size_t i = 0; i < course->opening_count; i++)
        marks[i] = opening_mark(course, i, summary.inlet);
    picture->marks = marks;
    picture->mark_count = course->opening_count;
    picture->spacing_mm = summary.spacing_mm;
    if (!status)
        status = choose_cut(ctx, course, picture);
    for (size_t i = 0; i < count && !status; i++)
        status = take_stage(ctx, course, picture, &summary, i, &stages[i]);
    bool caught = false;
    for (size_t i = 0; i < count; i++)
        caught = caught || !stages[i].air_free;
    picture->air_free = true; /* for the key */
    if (!caught)
        picture->air_count = 0;
    curves taken;
    vug_status curved = curves_take(ctx, course->course, course->cavities, picture->up,
        course->drain, &taken);
    picture->curves = &taken;
    status = status ? status : curved;
    if (!status)
        *code = picture_write_stages(program, picture, stages, count, course->base);
    picture->marks = NULL;
    picture->mark_count = 0;
    picture->curves = NULL;
    curves_free(&taken);
    free(marks);
    return status;
}

int course_draw(const tool *program, vug_context *ctx, const course_picture *course)
{
    const vug_mesh *mesh = course->mesh;
    const size_t count = course->at_count ? course->at_count : STAGE_COUNT;
    picture_stage *stages = calloc(count, sizeof *stages);
    int code = FAILED;
    if (!stages)
        return fail(program, "no memory");
    drawing picture = {.title = course->title,
        .subtitle = course->subtitle,
        .liquid = course->liquid,
        .air_name = "air that stays caught"};
    double length = sqrt(course->up[0] * course->up[0] + course->up[1] * course->up[1]
        + course->up[2] * course->up[2]);
    for (int k = 0; k < 3; k++)
        picture.up[k] = course->up[k] / length;
    picture.xyz = vug_mesh_vertices(mesh);
    picture.vertex_count = vug_mesh_vertex_count(mesh);
    picture.triangles = vug_mesh_triangles(mesh);
    picture.triangle_count = vug_mesh_triangle_count(mesh);
    vug_status status = draw(program, ctx, course, &picture, stages, count, &code);
    for (size_t i = 0; i < count; i++)
        free(stages[i].spans);
    free(stages);
    drawing_pockets_free(&picture);
    return status ? fail_status(program, ctx, status) : code;
}
