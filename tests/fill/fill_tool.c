/* SPDX-License-Identifier: MIT
 * Fills columns given on standard input as columns_text.h has it, for the comparison with a voxel model.
 * mirror 1: turns the scene over before it fills it, so columns come upside down.
 * Many cases may follow one another. One line for each: liquid trapped empty events, then
 * (kind liquid volume) of each event. With two arguments, the pressure outside as a height of the
 * liquid and the share of the cavity to fill (0: all of it), closed air gives; the heights of the liquid in
 * all spans follow. A third is a rate in mm3/s, for a fill in time. */
#include "course/course_types.h"
#include "course/levels.h"
#include "course/state.h"
#include "gravity/mirror.h"
#include "hydrostatic/compressible.h"
#include "hydrostatic/quasistatic.h"
#include "transient/run.h"

#include "columns_text.h"

/* Heights of the liquid in the spans; takes over the levels. */
static int print_tops(vug_context *ctx, vugi_scene *scene, bool *open, double *level)
{
    const vug_course course = {.mem = vugi_default_allocator, .scene = scene, .open = open};
    const vugi_frame end = {.liquid = 0.0};
    vug_moment *moment;
    double *top = malloc((scene->columns.count + 1) * sizeof *top);
    if (!top || vugi_state_make(ctx, &course, &vugi_default_allocator, level, &end, &moment)
        || vugi_column_levels(ctx, &vugi_default_allocator, moment, top))
        return 0;
    for (size_t i = 0; i < scene->columns.count; i++)
        printf(" %.17g", top[i]);
    vug_moment_free(moment);
    free(top);
    return 1;
}

static vug_status fill_in_time(vug_context *ctx, const vugi_compressible *task, double rate,
    vugi_history *history, double *level)
{
    vug_fluid water;
    vugi_transient_result result;
    vug_fluid_init(&water, sizeof water);
    const vugi_transient timed = {.fill = task->fill,
        .fluid = &water,
        .rate = rate,
        .air_head = task->air_head};
    return vugi_transient_run(ctx, &timed, history, level, &result);
}

static int fill(vug_context *ctx, input *in, double air_head, double share, double rate)
{
    const double up[3] = {0.0, 0.0, 1.0};
    vugi_scene *scene;
    vugi_history history = {.mem = vugi_default_allocator};
    vugi_links links;
    if (vugi_scene_make(ctx, &vugi_default_allocator, &in->columns, up, 0, 0.0, in->mouth,
            in->mouths, NULL, 0, NULL, &scene))
        return 0;
    if (in->mirror) {
        vugi_scene *turned;
        if (vugi_scene_mirror(ctx, scene, &turned))
            return 0;
        vugi_scene_free(scene);
        scene = turned;
    }
    const vugi_graph *g = &scene->graph;
    double *level = vugi_alloc(&vugi_default_allocator, g->arc_count, sizeof *level),
           air[2] = {0.0, 0.0};
    const uint32_t inlet = 0;
    vugi_compressible task = {.air_head = air_head,
        .fill = {.scene = scene,
            .inlet = &inlet,
            .inlets = 1,
            .air_open = in->open,
            .liquid_open = in->open,
            .volume = share > 0.0 ? share * g->capacity : INFINITY}};
    vugi_compressible_result result;
    vug_status status;
    if (rate > 0.0)
        status = fill_in_time(ctx, &task, rate, &history, level);
    else if (air_head > 0.0)
        status = vugi_compressible_run(ctx, &task, &history, level, &result);
    else
        status = vugi_quasistatic_run(ctx, &task.fill, &history, level);
    if (status || !vugi_links_alloc(&vugi_default_allocator, g, &links))
        return 0;
    vugi_links_find(scene, level, in->open, &links);
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (links.air[a] != VUGI_NONE)
            air[links.vented[links.air[a]]] += g->arc[a].volume - vugi_arc_volume(g, a, level[a]);
    printf("%.17g %.17g %.17g %zu", vugi_levels_volume(g, level), air[0], air[1],
        history.event_count);
    for (size_t i = 0; i < history.event_count; i++)
        printf(" %d %.17g %.17g", history.event[i].kind, history.event[i].liquid,
            history.event[i].volume);
    if (air_head > 0.0 && !print_tops(ctx, scene, in->open, level))
        return 0;
    putchar('\n');
    vugi_links_free(&vugi_default_allocator, &links);
    vugi_history_free(&history);
    vugi_scene_free(scene);
    if (!(air_head > 0.0))
        vugi_free(&vugi_default_allocator, level);
    return 1;
}

int main(int argc, char **argv)
{
    vug_context *ctx = NULL;
    input in = {.mouths = 0};
    double air_head = argc > 1 ? atof(argv[1]) : 0.0, share = argc > 2 ? atof(argv[2]) : 0.0,
           rate = argc > 3 ? atof(argv[3]) : 0.0;
    if (vug_context_create(NULL, &ctx) != VUG_OK)
        return 1;
    while (read_columns(&in))
        if (!read_mouths(&in) || !fill(ctx, &in, air_head, share, rate)) {
            fprintf(stderr, "fill_tool: %s\n", vug_context_message(ctx));
            return 1;
        }
    vug_context_free(ctx);
    return 0;
}
