/* SPDX-License-Identifier: MIT
 * How far the volumes at the end of a course may be off: by as much as those of a flood from the same
 * openings over the same columns, with which pockets are found. */
#include "course/error.h"

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

/* What is told of liquid and air when the whole is scaled to the capacity. A fill that ends for want of
 * liquid has as much as was put in. */
static void tell(const vug_cavities *cavities, vug_course *c, const vugi_estimate *e)
{
    vug_course_info *s = &c->summary;
    double whole = s->capacity_error_mm3;
    for (size_t m = 0; m < c->scene->mouth_count; m++)
        if (c->open[m]) /* what is under its cap has left */
            whole -= vugi_cap_error(cavities->opening + c->scene->mouth[m].opening);
    double caught = vugi_caught_error(e, fmax(0.0, whole));
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
    vugi_estimate e;
    double *scale = vugi_calloc(&c->mem, cavity + 1, sizeof *scale);
    vug_status status = scale ? find_seeds(ctx, cavities, c, &seed, &count) : vugi_fail_memory(ctx);
    if (!status)
        status = flood_from(ctx, c, seed, count, &flood);
    if (!status) {
        scale[cavity] = vugi_volume_scale(c->summary.capacity_mm3, vugi_columns_volume(columns));
        c->summary.trusted = vugi_cavity_trusted(cavities, cavity);
        c->summary.capacity_error_mm3 = vugi_cavity_error(cavities, cavity)
            + fabs(cavities->cavity[cavity].volume - c->summary.capacity_mm3);
        if (vugi_estimate_flood(&c->mem, columns, &flood, c->draining, scale, &room, &e))
            tell(cavities, c, &e);
        else
            status = vugi_fail_memory(ctx);
    }
    vugi_estimate_room_free(&c->mem, &room);
    vugi_flood_free(&c->mem, &flood);
    vugi_free(&c->mem, seed);
    vugi_free(&c->mem, scale);
    return status;
}
