/* SPDX-License-Identifier: MIT
 * What the chambers of a cavity hold in a pose: pieces of the columns, each counted where it lies. */
#include "course/chambers.h"

#include "cavity/atlas.h"
#include "column/pose.h"
#include "course/course_types.h"
#include "course/levels.h"

#include <math.h>
#include <string.h>

/* Places along the longest side that are looked at: a chamber has a hundred and more. */
enum { ACROSS = 64 };

static void count_span(const vugi_scene *s, const double at[2], double lo, double hi, double grain,
    double liquid[VUGI_CHAMBERS])
{
    const vugi_columns *c = &s->columns;
    int pieces = (int)fmax(1.0, ceil((hi - lo) / grain));
    for (int i = 0; i < pieces; i++) {
        double pose[3] = {at[0], at[1], lo + (hi - lo) * (i + 0.5) / pieces}, part[3];
        vugi_to_part(c->basis, pose, part);
        int32_t chamber = vugi_atlas_chamber(s->atlas, part);
        if (chamber >= 0)
            liquid[chamber] += (hi - lo) / pieces;
    }
}

vug_status vugi_chambers_liquid(vug_context *ctx, const vug_moment *moment,
    double liquid[VUGI_CHAMBERS])
{
    const vugi_scene *s = moment->scene;
    const vugi_columns *c = &s->columns;
    memset(liquid, 0, VUGI_CHAMBERS * sizeof *liquid);
    if (!s->atlas)
        return VUG_OK;
    double *top = vugi_alloc(&ctx->mem, c->count + 1, sizeof *top);
    if (!top)
        return vugi_fail_memory(ctx);
    vug_status status = vugi_column_levels(ctx, &ctx->mem, moment, top);
    int32_t longest = c->nx > c->ny ? c->nx : c->ny, step = longest / ACROSS + 1;
    double counted = 0.0, all = vugi_levels_volume(&s->graph, moment->level);
    for (int32_t j = step / 2; j < c->ny && !status; j += step)
        for (int32_t i = step / 2; i < c->nx; i += step) {
            size_t column = (size_t)j * (size_t)c->nx + (size_t)i;
            const double at[2] = {c->x0 + c->h * i, c->y0 + c->h * j};
            for (uint32_t n = c->first[column]; n < c->first[column + 1]; n++)
                if (s->graph.sweep.floor_arc[n] != VUGI_NONE && top[n] > c->lo[n])
                    count_span(s, at, c->lo[n], top[n], step * c->h, liquid);
        }
    vugi_free(&ctx->mem, top);
    for (int i = 0; i < VUGI_CHAMBERS; i++)
        counted += liquid[i];
    for (int i = 0; i < VUGI_CHAMBERS && counted > 0.0; i++)
        liquid[i] *= all / counted;
    return status;
}
