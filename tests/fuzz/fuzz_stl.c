/* SPDX-License-Identifier: MIT
 * Fuzz target: any bytes as an STL file. What loads must be sound and must survive the calls that
 * come next. With clang: -fsanitize=fuzzer,address,undefined; without, replay.c feeds the corpus. */
#include "mesh/mesh.h"
#include "mesh/shells.h"

#include "fuzz.h"
#include "vug.h"

#include <math.h>
#include <stdlib.h>

const char *const fuzz_kept[] = {"fuzz/corpus/stl", "data/stl_malformed", NULL};
const unsigned fuzz_rounds = 40;

static void require(int true_or_abort)
{
    if (!true_or_abort)
        abort();
}

static void check_mesh(vug_context *ctx, const vug_mesh *mesh)
{
    size_t vertices = vug_mesh_vertex_count(mesh), count = vug_mesh_triangle_count(mesh);
    vug_mesh_measures m = {.struct_size = sizeof m};
    vug_shells *shells = NULL;
    require(count > 0 && vertices > 0 && vertices <= 3 * count);
    for (size_t i = 0; i < 3 * count; i++)
        require(vug_mesh_triangles(mesh)[i] < vertices);
    for (size_t i = 0; i < 3 * vertices; i++)
        require(isfinite(vug_mesh_vertices(mesh)[i]));
    require(vug_mesh_measure(ctx, mesh, &m) == VUG_OK);
    require(isfinite(m.volume_mm3) && m.area_mm2 >= 0.0 && isfinite(m.centroid_mm[0]));
    require(vug_mesh_shells(ctx, mesh, &shells) == VUG_OK);
    require(vug_shells_count(shells) == m.shells);
    vug_shells_free(shells);
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const vug_mesh_load_options stl = {.struct_size = sizeof stl, .format = VUG_FORMAT_STL};
    vug_context *ctx = NULL;
    vug_mesh *mesh = NULL;
    require(vug_context_create(NULL, &ctx) == VUG_OK);
    vug_status status = vug_mesh_load_memory(ctx, data, size, "fuzz", &stl, &mesh);
    require((status == VUG_OK) == (mesh != NULL));
    if (mesh)
        check_mesh(ctx, mesh);
    else
        require(vug_context_message(ctx)[0] != 0);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    return 0;
}
