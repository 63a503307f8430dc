/* SPDX-License-Identifier: MIT
 * Thick paint is pressed in from below, slowly and fast: how long it takes, and what the syringe feels. */
#include <stdio.h>
#include <stdlib.h>
#include <vug.h>

int main(int argc, char **argv)
{
    const char *file = argc > 1 ? argv[1] : "gourd.stl";
    vug_context *ctx = NULL;
    vug_mesh *part = NULL;
    vug_cavities *inside = NULL;
    vug_fluid paint;
    vug_fill_options options;
    const double up[3] = {0, 0, 1}, rates_mm3_s[2] = {100, 1000};
    const double holes[14] = {0, 0, 0, 0, 0, -1, 4, 6.9, 4.4, 48, 0, 0, 1, 2}; /* 2nd: to drill */
    const int32_t roles[2] = {VUG_ROLE_INLET, VUG_ROLE_VENT};
    vug_fluid_init(&paint, sizeof paint);
    vug_fill_options_init(&options, sizeof options);
    options.viscous = 1;
    options.inlet_sealed = 1; /* the syringe fits tightly */
    options.columns_across = 100;

    vug_status status = vug_context_create(NULL, &ctx);
    if (!status)
        status = vug_mesh_load(ctx, file, NULL, &part);
    if (!status)
        status = vug_cavities_find(ctx, part, holes, 2, NULL, &inside);
    if (!status)
        status = vug_fluid_preset(ctx, VUG_FLUID_CRAFT_ACRYLIC, VUG_TYPICAL, 20.0, &paint);
    for (int i = 0; !status && i < 2; i++) {
        vug_course *course = NULL;
        vug_course_info end = {.struct_size = sizeof end};
        options.rate_mm3_s = rates_mm3_s[i];
        status = vug_fill_run(ctx, inside, &paint, up, roles, 2, &options, &course);
        if (!status)
            status = vug_course_get(course, &end);
        if (!status)
            printf("%.1f ml in %.0f s, at up to %.0f Pa; %.2f ml of air stay\n",
                1e-3 * end.liquid_mm3, end.time_s, end.peak_pressure_pa, 1e-3 * end.trapped_mm3);
        vug_course_free(course);
    }
    if (status)
        fprintf(stderr, "%s\n", vug_context_message(ctx));

    vug_cavities_free(inside);
    vug_mesh_free(part);
    vug_context_free(ctx);
    return status ? EXIT_FAILURE : EXIT_SUCCESS;
}
