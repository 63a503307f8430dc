/* SPDX-License-Identifier: MIT
 * Loads a mesh and says whether it is sound, how large it is and how much resin it takes. */
#include <stdio.h>
#include <stdlib.h>
#include <vug.h>

int main(int argc, char **argv)
{
    const char *file = argc > 1 ? argv[1] : "gourd.stl";
    vug_context *ctx = NULL;
    vug_mesh *part = NULL;
    vug_mesh_measures m = {.struct_size = sizeof m};

    vug_status status = vug_context_create(NULL, &ctx);
    if (!status)
        status = vug_mesh_load(ctx, file, NULL, &part);
    if (!status)
        status = vug_mesh_measure(ctx, part, &m);
    if (!status) {
        printf("%llu triangles in %llu shells, %s\n", (unsigned long long)m.triangles,
            (unsigned long long)m.shells, m.closed ? "closed" : "not closed");
        printf("%.1f x %.1f x %.1f mm\n", m.hi_mm[0] - m.lo_mm[0], m.hi_mm[1] - m.lo_mm[1],
            m.hi_mm[2] - m.lo_mm[2]);
        printf("%.3f ml of resin\n", 1e-3 * m.volume_mm3);
    }
    for (size_t i = 0; vug_context_warning(ctx, i); i++)
        fprintf(stderr, "warning: %s\n", vug_context_warning(ctx, i));
    if (status)
        fprintf(stderr, "%s\n", vug_context_message(ctx));

    vug_mesh_free(part); /* NULL is allowed, and any order */
    vug_context_free(ctx);
    return status ? EXIT_FAILURE : EXIT_SUCCESS;
}
