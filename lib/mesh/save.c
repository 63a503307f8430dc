/* SPDX-License-Identifier: MIT
 * Little-endian numbers into bytes; 3MF out. */
#include "mesh/save.h"
#include "mesh/tally.h"
#include "mesh/load.h"
#include "mesh/measure.h"

#include <string.h>

void vugi_put_u32(unsigned char *p, uint32_t u)
{
    for (int k = 0; k < 4; k++)
        p[k] = (unsigned char)(u >> (8 * k));
}

void vugi_put_float(unsigned char *p, double value)
{
    float f = (float)value;
    uint32_t u;
    memcpy(&u, &f, sizeof u);
    vugi_put_u32(p, u);
}

vug_status vug_mesh_save_3mf(vug_context *ctx, const vug_mesh *mesh, const char *path)
{
    if (!ctx || !mesh || !path)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx        ? "ctx"
                : !mesh ? "mesh"
                        : "path");
    vugi_progress_begin(ctx, "writing 3MF");
    vugi_edges edges;
    vug_mesh_measures m = {.struct_size = sizeof m};
    vug_status status = vugi_edges_build(ctx, mesh, &edges);
    if (status)
        return status;
    status = vugi_edges_tally(ctx, mesh, &edges, NULL, 1, &m);
    vugi_edges_free(ctx, &edges);
    if (!status)
        status = vugi_write_3mf(ctx, mesh, m.closed && m.edges_nonmanifold == 0, path);
    return status;
}
