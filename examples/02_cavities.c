/* SPDX-License-Identifier: MIT
 * Finds the cavities of a part, their openings, chambers and throats. */
#include <stdio.h>
#include <stdlib.h>
#include <vug.h>

int main(int argc, char **argv)
{
    const char *file = argc > 1 ? argv[1] : "gourd.stl";
    vug_context *ctx = NULL;
    vug_mesh *part = NULL;
    vug_cavities *inside = NULL;

    vug_status status = vug_context_create(NULL, &ctx);
    if (!status)
        status = vug_mesh_load(ctx, file, NULL, &part);
    if (!status)
        status = vug_cavities_find(ctx, part, NULL, 0, NULL, &inside);
    for (size_t i = 0; !status && i < vug_cavities_count(inside); i++) {
        vug_cavity_info info = {.struct_size = sizeof info};
        status = vug_cavities_get(inside, i, &info);
        if (!status)
            printf("cavity %zu: %.3f ml, %s, %u chambers, %u throats\n", i, 1e-3 * info.volume_mm3,
                info.sealed ? "sealed" : "open", (unsigned)info.chambers, (unsigned)info.throats);
    }
    for (size_t i = 0; !status && i < vug_cavities_opening_count(inside); i++) {
        vug_opening_info hole = {.struct_size = sizeof hole};
        status = vug_cavities_opening(inside, i, &hole);
        if (!status)
            printf("opening %zu: %.2f mm wide at (%.1f, %.1f, %.1f), into cavity %u\n", i,
                hole.diameter_mm, hole.center_mm[0], hole.center_mm[1], hole.center_mm[2],
                (unsigned)hole.cavity);
    }
    if (status)
        fprintf(stderr, "%s\n", vug_context_message(ctx));

    vug_cavities_free(inside);
    vug_mesh_free(part);
    vug_context_free(ctx);
    return status ? EXIT_FAILURE : EXIT_SUCCESS;
}
