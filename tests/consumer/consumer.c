/* SPDX-License-Identifier: MIT
 * Someone else's program: is the library that runs the one whose header was read, and does it
 * measure a cube (volume a^3, area 6 a^2)? */
#include <math.h>
#include <stdio.h>
#include <string.h>
#include <vug.h>

static const double corner[8][3] = {{0, 0, 0}, {2, 0, 0}, {0, 2, 0}, {2, 2, 0}, {0, 0, 2},
    {2, 0, 2}, {0, 2, 2}, {2, 2, 2}};
static const uint32_t face[12][3] = {{0, 2, 3}, {0, 3, 1}, {4, 5, 7}, {4, 7, 6}, {0, 1, 5},
    {0, 5, 4}, {2, 6, 7}, {2, 7, 3}, {0, 4, 6}, {0, 6, 2}, {1, 3, 7}, {1, 7, 5}};

int main(void)
{
    vug_context *ctx = NULL;
    vug_mesh *mesh = NULL;
    vug_mesh_measures m = {.struct_size = sizeof m};
    if (strcmp(vug_version_string(), VUG_VERSION_STRING) != 0)
        return 1;
    int failed = vug_context_create(NULL, &ctx)
        || vug_mesh_from_arrays(ctx, corner[0], 8, 0, face[0], 12, 0, &mesh)
        || vug_mesh_measure(ctx, mesh, &m) || fabs(m.volume_mm3 - 8.0) > 1e-12
        || fabs(m.area_mm2 - 24.0) > 1e-12;
    if (failed)
        fprintf(stderr, "%s\n", vug_context_message(ctx));
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    return failed;
}
