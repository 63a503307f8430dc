/* SPDX-License-Identifier: MIT
 * What runs out of the part as it stands, without and with a vent drilled into its top. */
#include <stdio.h>
#include <stdlib.h>
#include <vug.h>

int main(int argc, char **argv)
{
    const char *file = argc > 1 ? argv[1] : "gourd.stl";
    vug_context *ctx = NULL;
    vug_mesh *part = NULL;
    vug_cavities *inside = NULL;
    vug_course *course = NULL;
    const double up[3] = {0, 0, 1};
    const double holes[14] = {
        0, 0, 0, 0, 0, -1, 4,     /* in the mesh: a point, the way out, the diameter */
        6.9, 4.4, 48, 0, 0, 1, 2, /* to drill */
    };

    vug_status status = vug_context_create(NULL, &ctx);
    if (!status)
        status = vug_mesh_load(ctx, file, NULL, &part);
    if (!status)
        status = vug_cavities_find(ctx, part, holes, 2, NULL, &inside);
    for (int32_t vent = 0; !status && vent < 2; vent++) {
        const int32_t roles[2] = {VUG_ROLE_OPEN, vent ? VUG_ROLE_OPEN : VUG_ROLE_SEALED};
        vug_course_info end = {.struct_size = sizeof end};
        status = vug_drain_run(ctx, inside, NULL, up, roles, 2, NULL, &course);
        if (!status)
            status = vug_course_get(course, &end);
        if (!status && end.held)
            printf("%s: it does not run out by itself, no air gets in\n",
                vent ? "vented" : "closed");
        else if (!status)
            printf("%s: done in %.0f s\n", vent ? "vented" : "closed", end.time_s);
        if (!status)
            printf("  %.0f of %.0f mm3 stay behind, and %.0f mm3 as a film\n", end.liquid_mm3,
                end.capacity_mm3, end.film_mm3);
        vug_course_free(course);
    }
    if (status)
        fprintf(stderr, "%s\n", vug_context_message(ctx));

    vug_cavities_free(inside);
    vug_mesh_free(part);
    vug_context_free(ctx);
    return status ? EXIT_FAILURE : EXIT_SUCCESS;
}
