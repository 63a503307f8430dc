/* SPDX-License-Identifier: MIT
 * Fuzz target: any bytes as OBJ, as PLY and as OFF, by the readers themselves. What loads must be
 * sound, and repair must come to an end with it. */
#include "mesh/gather.h"
#include "mesh/obj.h"
#include "mesh/off.h"
#include "mesh/ply.h"

#include "fuzz.h"

#include <math.h>
#include <stdlib.h>

const char *const fuzz_kept[] = {"fuzz/corpus/formats", NULL};
const unsigned fuzz_rounds = 40;

static void require(int true_or_abort)
{
    if (!true_or_abort)
        abort();
}

static void check_mesh(vug_context *ctx, const vug_mesh *mesh)
{
    vug_mesh *clean = NULL;
    vug_mesh_measures m = {.struct_size = sizeof m};
    for (size_t i = 0; i < 3 * vug_mesh_triangle_count(mesh); i++)
        require(vug_mesh_triangles(mesh)[i] < vug_mesh_vertex_count(mesh));
    for (size_t i = 0; i < 3 * vug_mesh_vertex_count(mesh); i++)
        require(fabs(vug_mesh_vertices(mesh)[i]) <= VUG_MAX_COORDINATE_MM);
    vug_status status = vug_mesh_clean(ctx, mesh, NULL, &clean, NULL);
    require(status == VUG_OK || status == VUG_ERR_MESH);
    require(!clean || vug_mesh_measure(ctx, clean, &m) == VUG_OK);
    vug_mesh_free(clean);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static vug_status (*const readers[])(vugi_gather *, const unsigned char *, size_t,
        double) = {vugi_read_obj, vugi_read_ply, vugi_read_off};
    for (size_t i = 0; i < sizeof readers / sizeof *readers; i++) {
        vug_context *ctx = NULL;
        vug_mesh *mesh = NULL;
        require(vug_context_create(NULL, &ctx) == VUG_OK);
        vugi_gather gather = {.ctx = ctx, .name = "fuzz"};
        vug_status status = readers[i](&gather, data, size, 0.0);
        if (!status)
            status = vugi_gather_end(&gather, &mesh);
        vugi_gather_free(&gather);
        require((status == VUG_OK) == (mesh != NULL));
        require(status == VUG_OK || vug_context_message(ctx)[0] != 0);
        if (mesh)
            check_mesh(ctx, mesh);
        vug_mesh_free(mesh);
        vug_context_free(ctx);
    }
    return 0;
}
