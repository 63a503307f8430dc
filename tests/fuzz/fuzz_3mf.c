/* SPDX-License-Identifier: MIT
 * Fuzz target: any bytes as a 3MF file, an archive with XML in it. The packed bytes of the kept files are
 * damaged as well as the archive around them. */
#include "../jobs.h"
#include "fuzz.h"

const char *const fuzz_kept[] = {"data/3mf_malformed", "data/bomb30.3mf", NULL};
const unsigned fuzz_rounds = 40;

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static const vug_mesh_load_options o = {.struct_size = sizeof o, .format = VUG_FORMAT_3MF};
    vug_context *ctx = NULL;
    vug_context_options options;
    job_part p = {.mesh = NULL};
    vug_context_options_init(&options, sizeof options);
    options.memory_limit_bytes = (uint64_t)1 << 28;
    job_must(vug_context_create(&options, &ctx) == VUG_OK);
    vug_status status = vug_mesh_load_memory(ctx, data, size, "fuzz", &o, &p.mesh);
    if (job_ends(ctx, status, p.mesh) == VUG_OK) {
        size_t vertices = vug_mesh_vertex_count(p.mesh);
        for (size_t i = 0; i < 3 * vug_mesh_triangle_count(p.mesh); i++)
            job_must(vug_mesh_triangles(p.mesh)[i] < vertices);
        for (size_t i = 0; i < 3 * vertices; i++)
            job_must(fabs(vug_mesh_vertices(p.mesh)[i]) <= VUG_MAX_COORDINATE_MM);
        job_measure(ctx, &p);
    }
    vug_mesh_free(p.mesh);
    vug_context_free(ctx);
    return 0;
}
