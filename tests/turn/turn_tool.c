/* SPDX-License-Identifier: MIT
 * Turns columns over that are partly filled, for the comparison with a voxel model. On standard input
 * many cases as columns_text.h has it, each followed by the volume to fill with before it is turned
 * over with all mouths closed. Two lines for each: the heights of the liquid in each span before, and
 * after, there with the spans of each column the other way up. */
#include "turn/drops.h"
#include "turn/settle.h"

#include "course/levels.h"
#include "hydrostatic/quasistatic.h"

#include "columns_over.h"
#include "columns_text.h"

#include <string.h>

static int print_tops(vug_context *ctx, const vug_moment *moment)
{
    size_t count = moment->scene->columns.count;
    double *top = malloc((count + 1) * sizeof *top);
    if (vugi_column_levels(ctx, &vugi_default_allocator, moment, top))
        return 0;
    for (size_t s = 0; s < count; s++)
        printf("%.17g ", top[s] - moment->scene->columns.lo[s]);
    putchar('\n');
    free(top);
    return 1;
}

static int fill_with(vug_context *ctx, const input *in, vugi_scene *scene, double volume,
    double *level)
{
    vugi_history history = {.mem = vugi_default_allocator};
    const uint32_t inlet = 0;
    vugi_fill_task task = {.scene = scene,
        .inlet = &inlet,
        .inlets = 1,
        .air_open = in->open,
        .liquid_open = in->open,
        .volume = volume};
    vug_status status = vugi_quasistatic_run(ctx, &task, &history, level);
    vugi_history_free(&history);
    return status == VUG_OK;
}

/* The columns upside down, and the mouths with them: in them z is minus what it was. */
static int build_over(vug_context *ctx, const input *in, const vugi_columns *c, vugi_scene **over)
{
    const double down[3] = {0.0, 0.0, -1.0};
    size_t n = (size_t)c->nx * (size_t)c->ny;
    vugi_scene_mouth mouth[MOUTHS];
    vugi_opening_span span[MOUTHS];
    vugi_columns o = columns_over(c);
    for (size_t k = 0; k < n; k++)
        for (size_t i = 0; i < in->mouths; i++)
            if (in->span[i].span >= c->first[k] && in->span[i].span < c->first[k + 1])
                span[i] = (vugi_opening_span){span_over(c, k, in->span[i].span), -in->mouth[i].lip,
                    -in->mouth[i].top};
    for (size_t i = 0; i < in->mouths; i++) {
        mouth[i] = in->mouth[i];
        mouth[i].span = span + i;
        mouth[i].top = -in->mouth[i].lip;
        mouth[i].lip = -in->mouth[i].top;
    }
    return !vugi_scene_make(ctx, &vugi_default_allocator, &o, down, 0, 0.0, mouth, in->mouths, NULL,
        0, NULL, over);
}

static int turn_over(vug_context *ctx, input *in, double volume)
{
    const double up[3] = {0.0, 0.0, 1.0};
    vugi_scene *scene = NULL, *over = NULL;
    vugi_drop *drop = NULL;
    size_t count = 0;
    if (vugi_scene_make(ctx, &vugi_default_allocator, &in->columns, up, 0, 0.0, in->mouth,
            in->mouths, NULL, 0, NULL, &scene))
        return 0;
    double *level = malloc(scene->graph.arc_count * sizeof *level);
    double *now = malloc(scene->graph.arc_count * sizeof *now);
    const vug_moment before = {.scene = scene, .level = level};
    int ok = fill_with(ctx, in, scene, volume, level) && print_tops(ctx, &before)
        && build_over(ctx, in, &scene->columns, &over);
    bool air = ok && vugi_levels_volume(&scene->graph, level) > 0.5 * scene->graph.capacity;
    ok = ok && !vugi_drops_cut(ctx, &vugi_default_allocator, &before, over, air, &drop, &count)
        && !vugi_drops_settle(ctx, over, air, drop, count, now);
    const vug_moment after = {.scene = over, .level = now};
    ok = ok && print_tops(ctx, &after);
    free(level);
    free(now);
    free(drop);
    vugi_scene_free(scene);
    vugi_scene_free(over);
    return ok;
}

int main(void)
{
    vug_context *ctx = NULL;
    input in = {.mouths = 0};
    double volume;
    if (vug_context_create(NULL, &ctx) != VUG_OK)
        return 1;
    while (read_columns(&in))
        if (!read_mouths(&in) || scanf("%lf", &volume) != 1 || !turn_over(ctx, &in, volume)) {
            fprintf(stderr, "turn_tool: %s\n", vug_context_message(ctx));
            return 1;
        }
    vug_context_free(ctx);
    return 0;
}
