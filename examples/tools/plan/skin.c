/* SPDX-License-Identifier: MIT
 * The steps of a plan played once more, by the calls that they are told for, with the skin that they wet. */
#include "skin.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* One cavity, step by step. */
typedef struct player {
    const fill_plan *plan;
    size_t cavity;
    vug_skin *skin;
    vug_moment *now; /* NULL: nothing was let in yet */
    int32_t *role;   /* of the openings in the step that is played */
} player;

/* ---- the steps --------------------------------------------------------------------------- */

static vug_status go_on(player *p, const double up[3], vug_fill_options *options)
{
    const fill_plan *plan = p->plan;
    vug_course *course = NULL;
    vug_status status;
    do {
        status = p->now ? vug_fill_turn(plan->ctx, plan->drilled, &plan->paint.typical, p->now, up,
                     p->role, plan->opening_count, options, &course)
                        : vug_fill_run(plan->ctx, plan->drilled, &plan->paint.typical, up, p->role,
                            plan->opening_count, options, &course);
        /* air that gives may have no rest: then it keeps its volume, as in the plan */
    } while (status == VUG_ERR_CONVERGENCE && !options->rigid_air && (options->rigid_air = 1));
    if (!status)
        status = vug_skin_wet(plan->ctx, p->skin, &plan->paint.typical, course);
    vug_moment_free(p->now);
    p->now = NULL;
    if (!status)
        status = vug_course_at_time(plan->ctx, course, INFINITY, &p->now);
    vug_course_free(course);
    return status;
}

/* In a pose; by an opening, or with all of them covered (NULL). */
static vug_status play(player *p, const double up[3], const vug_step_info *step,
    const uint32_t *feed)
{
    vug_fill_options options;
    vug_status status = vug_fill_options_init(&options, sizeof options);
    options.spacing_mm = p->plan->info.spacing_mm;
    for (size_t i = 0; i < p->plan->opening_count; i++)
        p->role[i] = feed && fill_plan_listed((opening_list){step->open, step->open_count}, i)
            ? VUG_ROLE_OPEN
            : VUG_ROLE_SEALED;
    if (feed) {
        options.inlet = (int32_t)*feed;
        options.volume_mm3 = step->feed_most_mm3[feed - step->feed];
    }
    return status ? status : go_on(p, up, &options);
}

static const uint32_t *feed_of(const player *p, const vug_step_info *step)
{
    for (size_t i = 0; i < step->feed_count; i++)
        if (p->plan->openings[step->feed[i]].info.cavity == p->cavity)
            return step->feed + i;
    return NULL;
}

/* What is in it already where no fill tells how it came there. */
static vug_status begin(player *p)
{
    const fill_plan *plan = p->plan;
    const vug_step_info *first = plan->fill;
    if (!plan->info.given || first->feed_count > 0 || fill_plan_start_cavity(plan) != p->cavity)
        return VUG_OK;
    vug_status status = vug_moment_make(plan->ctx, plan->drilled, p->cavity, first->up,
        plan->info.spacing_mm, 1e3 * plan->settings->inside_ml, plan->settings->air.number,
        plan->settings->air.count, &p->now);
    return status ? status : play(p, first->up, first, NULL);
}

static vug_status play_all(player *p)
{
    const fill_plan *plan = p->plan;
    vug_status status = begin(p);
    for (uint32_t k = 0; k < plan->info.steps && !status; k++) {
        const vug_step_info *step = plan->fill + k;
        const uint32_t *feed = feed_of(p, step);
        for (size_t i = 0; i < step->way_count && p->now && !status; i++)
            status = play(p, step->way + 3 * i, step, NULL);
        if (!status && (feed || (p->now && k >= (uint32_t)plan->info.given)))
            status = play(p, step->up, step, feed);
    }
    vug_moment_free(p->now);
    p->now = NULL;
    return status;
}

static vug_status wet(const fill_plan *plan, vug_skin **skin)
{
    player p = {.plan = plan, .role = calloc(plan->opening_count + 1, sizeof *p.role)};
    vug_status status = p.role ? vug_skin_make(plan->ctx, plan->drilled, NULL, &p.skin)
                               : VUG_ERR_MEMORY;
    for (; p.cavity < vug_cavities_count(plan->drilled) && !status; p.cavity++)
        status = play_all(&p);
    free(p.role);
    *skin = p.skin;
    return status;
}

/* ---- for the picture ----------------------------------------------------------------------- */

static unsigned char kind_of(const double *row, int most)
{
    double area = 0.0;
    for (int i = 0; i < 3; i++)
        if (row[i] > area) {
            most = SKIN_BACKED + i;
            area = row[i];
        }
    return (unsigned char)most;
}

/* What skin is that no figure tells of: bare where its cavity opens, and nothing went in. */
static int kind_without(const fill_plan *plan, size_t cavity)
{
    vug_cavity_info info = {.struct_size = sizeof info};
    for (uint32_t k = 0; k < plan->info.steps; k++)
        for (size_t i = 0; i < plan->fill[k].feed_count; i++)
            if (plan->openings[plan->fill[k].feed[i]].info.cavity == cavity)
                return SKIN_UNKNOWN;
    if (plan->info.given || vug_cavities_get(plan->drilled, cavity, &info) || info.openings == 0)
        return SKIN_UNKNOWN;
    return SKIN_BARE;
}

/* Makes room for the walls of all cavities. */
static vug_status make_room(const fill_plan *plan, picture_skin *skin)
{
    size_t vertices = 0, triangles = 0;
    for (size_t i = 0; i < vug_cavities_count(plan->drilled); i++) {
        const vug_mesh *mesh = vug_cavities_mesh(plan->drilled, i, NULL);
        vertices += vug_mesh_vertex_count(mesh);
        triangles += vug_mesh_triangle_count(mesh);
    }
    skin->xyz = malloc((3 * vertices + 1) * sizeof *skin->xyz);
    skin->triangles = malloc((3 * triangles + 1) * sizeof *skin->triangles);
    skin->kind = malloc(triangles + 1);
    return skin->xyz && skin->triangles && skin->kind ? VUG_OK : VUG_ERR_MEMORY;
}

/* Adds the walls of a cavity, without the caps of its openings. */
static vug_status add_walls(const fill_plan *plan, const vug_skin *wetted, size_t cavity,
    picture_skin *skin)
{
    const int32_t *tag = NULL;
    const vug_mesh *mesh = vug_cavities_mesh(plan->drilled, cavity, &tag);
    const uint32_t *corner = vug_mesh_triangles(mesh);
    const size_t base = skin->vertex_count, count = vug_mesh_vertex_count(mesh);
    const int without = kind_without(plan, cavity);
    double *rows = NULL;
    size_t row_count = 0;
    vug_status status = vug_skin_triangles(plan->ctx, wetted, cavity, &rows, &row_count);
    memcpy(skin->xyz + 3 * base, vug_mesh_vertices(mesh), 3 * count * sizeof *skin->xyz);
    skin->vertex_count += count;
    for (size_t t = 0; t < row_count && !status; t++) {
        if (tag[t] >= 0)
            continue;
        for (size_t k = 0; k < 3; k++)
            skin->triangles[3 * skin->triangle_count + k] = (uint32_t)base + corner[3 * t + k];
        skin->kind[skin->triangle_count++] = kind_of(rows + 4 * t, without);
    }
    vug_free(plan->ctx, rows);
    return status;
}

/* As the plan's text has it; nothing of it is drawn: no words. */
static vug_status tell(const fill_plan *plan, double area, const char *liquid, const char *words,
    char text[80])
{
    char percent[24];
    vug_status status = vug_percent_words(plan->ctx, area, plan->info.skin_mm2, percent,
        sizeof percent);
    text[0] = '\0';
    if (!status && area > 0.0)
        snprintf(text, 80, "%.30s%s: %s", liquid, words, percent);
    return status;
}

vug_status plan_skin(const fill_plan *plan, picture_skin *skin)
{
    const vug_plan_info *info = &plan->info;
    vug_skin *wetted = NULL;
    *skin = (picture_skin){.xyz = NULL};
    vug_status status = wet(plan, &wetted);
    if (!status)
        status = make_room(plan, skin);
    for (size_t i = 0; i < vug_cavities_count(plan->drilled) && !status; i++)
        status = add_walls(plan, wetted, i, skin);
    vug_skin_free(wetted);
    if (!status)
        status = tell(plan, info->backed_mm2, plan->paint.name, " behind it",
            skin->text[SKIN_BACKED]);
    if (!status)
        status = tell(plan, info->filmed_mm2, "a film of ", plan->paint.name,
            skin->text[SKIN_FILMED]);
    if (!status)
        status = tell(plan, info->bare_mm2, "bare", "", skin->text[SKIN_BARE]);
    return status;
}

void plan_skin_free(picture_skin *skin)
{
    free(skin->xyz);
    free(skin->triangles);
    free(skin->kind);
}
