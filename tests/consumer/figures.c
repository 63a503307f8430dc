/* SPDX-License-Identifier: MIT
 * The figures of one part, a line each, to compare between machines: files out and in again (under a name
 * that is not ASCII), cavities, trapped air, a fill in time, a drain, a plan and its words.
 *
 *     figures PART FOLDER */
#include <stdio.h>
#include <vug.h>

static const double up[3] = {0, 0, 1};

/* Saved twice under one name, so that a file is replaced, and loaded again. */
static vug_status files(vug_context *ctx, const vug_mesh *part, const char *folder)
{
    static const char *const endings[] = {"stl", "ply"};
    vug_status status = VUG_OK;
    for (int i = 0; i < 2 && !status; i++) {
        char path[1024];
        vug_mesh *again = NULL;
        vug_mesh_measures m = {.struct_size = sizeof m};
        snprintf(path, sizeof path, "%s/Gef\xc3\xa4\xc3\x9f \xce\xa9.%s", folder, endings[i]);
        for (int times = 0; times < 2 && !status; times++)
            status = vug_mesh_save(ctx, part, path, VUG_FORMAT_AUTO, NULL);
        if (!status)
            status = vug_mesh_load(ctx, path, NULL, &again);
        if (!status)
            status = vug_mesh_measure(ctx, again, &m);
        if (!status)
            printf("%s %.12g\n", endings[i], m.volume_mm3);
        vug_mesh_free(again);
    }
    return status;
}

static vug_status air(vug_context *ctx, const vug_cavities *inside)
{
    vug_pockets *pockets = NULL;
    vug_cavity_info cavity = {.struct_size = sizeof cavity};
    vug_pockets_info all = {.struct_size = sizeof all};
    vug_status status = vug_cavities_get(inside, 0, &cavity);
    if (!status)
        status = vug_pockets_find(ctx, inside, up, NULL, 0, NULL, &pockets);
    if (!status)
        status = vug_pockets_totals(pockets, &all);
    if (!status)
        printf("cavity %.12g %.12g\nair %.12g\n", cavity.volume_mm3, cavity.area_mm2,
            all.trapped_mm3);
    vug_pockets_free(pockets);
    return status;
}

static void tell(const char *name, const vug_course *course)
{
    vug_course_info end = {.struct_size = sizeof end};
    if (!vug_course_get(course, &end))
        printf("%s %.12g %.12g %.12g\n", name, end.liquid_mm3, end.trapped_mm3, end.time_s);
}

static vug_status courses(vug_context *ctx, const vug_cavities *inside)
{
    static const int32_t roles[2] = {VUG_ROLE_INLET, VUG_ROLE_VENT};
    vug_course *fill = NULL, *drain = NULL;
    vug_fluid paint;
    vug_fill_options options;
    vug_drain_options draining;
    vug_fluid_init(&paint, sizeof paint);
    vug_fill_options_init(&options, sizeof options);
    vug_drain_options_init(&draining, sizeof draining);
    options.viscous = options.inlet_sealed = 1;
    options.rate_mm3_s = 500;
    options.columns_across = draining.columns_across = 60;
    vug_status status = vug_fluid_preset(ctx, VUG_FLUID_CRAFT_ACRYLIC, VUG_TYPICAL, 20.0, &paint);
    if (!status)
        status = vug_fill_run(ctx, inside, &paint, up, roles, 2, &options, &fill);
    if (!status)
        status = vug_drain_run(ctx, inside, NULL, up, NULL, 0, &draining, &drain);
    if (!status) {
        tell("fill", fill);
        tell("drain", drain);
    }
    vug_course_free(fill);
    vug_course_free(drain);
    return status;
}

static vug_status plan(vug_context *ctx, const vug_cavities *inside)
{
    vug_plan *made = NULL;
    vug_plan_info info = {.struct_size = sizeof info};
    vug_plan_options options;
    char *text = NULL;
    vug_plan_options_init(&options, sizeof options);
    options.columns_across = options.verify_across = 50;
    options.pose_count = 20;
    options.max_turns = options.max_bores = 1;
    vug_status status = vug_plan_make(ctx, inside, NULL, NULL, NULL, 0, &options, &made);
    if (!status)
        status = vug_plan_get(made, 0, &info);
    if (!status)
        status = vug_plan_text(ctx, made, 0, NULL, NULL, NULL, 0, &text);
    if (!status)
        printf("plan %.12g %.12g\n%s", info.trapped_mm3, info.inject_mm3, text);
    vug_free(ctx, text);
    vug_plan_free(made);
    return status;
}

int main(int argc, char **argv)
{
    static const double holes[14] = {0, 0, 0, 0, 0, -1, 4, 6.9, 4.4, 48, 0, 0, 1, 2};
    vug_context *ctx = NULL;
    vug_mesh *part = NULL;
    vug_cavities *inside = NULL;
    if (argc != 3)
        return 2;
    vug_status status = vug_context_create(NULL, &ctx);
    if (!status)
        status = vug_mesh_load(ctx, argv[1], NULL, &part);
    if (!status)
        status = files(ctx, part, argv[2]);
    if (!status)
        status = vug_cavities_find(ctx, part, holes, 2, NULL, &inside);
    if (!status)
        status = air(ctx, inside);
    if (!status)
        status = courses(ctx, inside);
    if (!status)
        status = plan(ctx, inside);
    if (status)
        fprintf(stderr, "figures: %s\n", vug_context_message(ctx));
    vug_cavities_free(inside);
    vug_mesh_free(part);
    vug_context_free(ctx);
    return status != VUG_OK;
}
