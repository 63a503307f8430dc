/* SPDX-License-Identifier: MIT
 * How far the volumes at the end of a course may be off. Where it ends as a flood over its columns from the same openings
 * does, the walls themselves say what it should have left behind. Else, or where they cannot say, by as much as
 * that flood is off. */
#include "course/error.h"

#include "cavity/gates.h"
#include "cavity/trust.h"
#include "column/columns.h"
#include "column/estimate.h"
#include "column/flood.h"
#include "column/sill.h"
#include "gravity/ease.h"

#include <math.h>

/* The spans at the openings that are open: for air their highest point counts, for liquid their lowest. */
static vug_status find_seeds(vug_context *ctx, const vug_cavities *cavities, const vug_course *c,
    vugi_seed **seed, size_t *count)
{
    const vugi_scene *s = c->scene;
    size_t capacity = 0;
    vug_status status = VUG_OK;
    for (size_t m = 0; m < s->mouth_count && !status; m++)
        if (c->open[m])
            status = vugi_ease_seeds(ctx, &c->mem, cavities,
                cavities->opening + s->mouth[m].opening, c->draining, &s->columns, seed, count,
                &capacity);
    return status;
}

/* What it takes to look at the walls themselves. */
typedef struct walls {
    vugi_wall_look look;
    int32_t *role; /* of each opening: open or sealed */
    vugi_bore *bore;
} walls;

/* *exact: what the walls say is caught, and *known: they can say it. false: no memory. */
static bool ask_walls(const vugi_allocator *mem, const vug_cavities *cavities, const vug_course *c,
    double scale, walls *w, vugi_estimate *exact, bool *known)
{
    const vugi_columns *columns = &c->scene->columns;
    const size_t cavity = c->summary.cavity;
    vugi_bodies bodies;
    *known = false;
    w->role = vugi_alloc(mem, cavities->opening_count, sizeof *w->role);
    w->bore = vugi_alloc(mem, cavities->bore_count, sizeof *w->bore);
    if (!w->role || !w->bore)
        return false;
    for (size_t i = 0; i < cavities->opening_count; i++)
        w->role[i] = VUG_ROLE_SEALED;
    for (size_t m = 0; m < c->scene->mouth_count; m++)
        if (c->open[m])
            w->role[c->scene->mouth[m].opening] = VUG_ROLE_OPEN;
    vugi_cavity_bodies(cavities, cavity, w->bore, &bodies);
    if (!vugi_wall_look_at(mem, cavities, cavity, 1, w->role, &bodies, columns->basis, columns,
            c->draining, &w->look))
        return false;
    *known = w->look.known;
    if (*known)
        *exact = vugi_estimate_exact(scale * vugi_columns_volume(columns), &w->look.caught,
            vugi_cavities_grain(cavities), vugi_caps_error(cavities, cavity, w->role));
    return true;
}

static void walls_free(const vugi_allocator *mem, walls *w)
{
    vugi_wall_look_free(mem, &w->look);
    vugi_free(mem, w->role);
    vugi_free(mem, w->bore);
}

/* What is told of liquid and air when the whole is scaled to the capacity. A fill that ends for want of
 * liquid has as much as was put in. */
static void tell(const vug_cavities *cavities, vug_course *c, const vugi_estimate *e,
    const vugi_estimate *exact, const int32_t *role)
{
    vug_course_info *s = &c->summary;
    double whole = fabs(cavities->cavity[s->cavity].volume - s->capacity_mm3)
        + cavities->cavity[s->cavity].volume_error + vugi_caps_error(cavities, s->cavity, role);
    double caught = vugi_caught_error(e, whole);
    /* It ended as a flood does, within what the columns resolve: then it is off by what walls say it is. */
    double told = c->draining ? s->liquid_mm3 : s->capacity_mm3 - s->liquid_mm3;
    if (exact && fabs(told - e->caught) <= caught)
        caught = fabs(told - exact->caught)
            + vugi_caught_error(exact, vugi_grid_error(cavities, s->cavity));
    bool measured = s->end == VUG_END_SUPPLY || s->end == VUG_END_SPILL;
    s->trapped_error_mm3 = c->draining ? 0.0 : caught;
    s->liquid_error_mm3 = c->draining ? caught : measured ? 0.0 : caught + s->capacity_error_mm3;
}

/* The flood from the openings that are open. */
static vug_status flood_from(vug_context *ctx, const vug_course *c, const vugi_seed *seed,
    size_t count, vugi_flood *flood)
{
    const vugi_columns *columns = &c->scene->columns;
    vug_status status = vugi_flood_run(ctx, &c->mem, columns, c->draining, seed, count, flood);
    if (!status && !vugi_flood_recall(&c->mem, columns, c->draining, &c->scene->sharp, flood))
        status = vugi_fail_memory(ctx);
    return status;
}

vug_status vugi_course_set_errors(vug_context *ctx, const vug_cavities *cavities, vug_course *c)
{
    const vugi_columns *columns = &c->scene->columns;
    const size_t cavity = c->summary.cavity;
    vugi_seed *seed = NULL;
    size_t count = 0;
    vugi_flood flood = {.level = NULL};
    vugi_estimate_room room = {.caught = NULL};
    vugi_estimate e, exact;
    walls w = {.role = NULL};
    bool known = false;
    double *scale = vugi_calloc(&c->mem, cavity + 1, sizeof *scale);
    vug_status status = scale ? find_seeds(ctx, cavities, c, &seed, &count) : vugi_fail_memory(ctx);
    if (!status)
        status = flood_from(ctx, c, seed, count, &flood);
    if (!status) {
        scale[cavity] = vugi_volume_scale(c->summary.capacity_mm3, vugi_columns_volume(columns));
        c->summary.trusted = vugi_cavity_trusted(cavities, cavity);
        c->summary.capacity_error_mm3 = vugi_cavity_error(cavities, cavity)
            + fabs(cavities->cavity[cavity].volume - c->summary.capacity_mm3);
        if (ask_walls(&c->mem, cavities, c, scale[cavity], &w, &exact, &known)
            && vugi_estimate_flood(&c->mem, columns, &flood, c->draining, scale, &room, &e))
            tell(cavities, c, &e, known ? &exact : NULL, w.role);
        else
            status = vugi_fail_memory(ctx);
    }
    walls_free(&c->mem, &w);
    vugi_estimate_room_free(&c->mem, &room);
    vugi_flood_free(&c->mem, &flood);
    vugi_free(&c->mem, seed);
    vugi_free(&c->mem, scale);
    return status;
}
