/* SPDX-License-Identifier: MIT */
#include "shape/bore/carving.h"

#include <string.h>

bool vugi_carving_begin(vugi_carving *carving, const vugi_allocator *mem, const vug_mesh *mesh)
{
    *carving = (vugi_carving){.mem = *mem};
    size_t vertices = mesh->vertex_count, triangles = mesh->triangle_count;
    if (!vugi_reserve(mem, &carving->xyz, &carving->vertex_capacity, vertices + vertices / 8,
            3 * sizeof(double))
        || !vugi_reserve(mem, &carving->triangle, &carving->triangle_capacity,
            triangles + triangles / 8, 3 * sizeof(uint32_t)))
        return false;
    memcpy(carving->xyz, mesh->xyz, vertices * 3 * sizeof(double));
    memcpy(carving->triangle, mesh->triangles, triangles * 3 * sizeof(uint32_t));
    carving->vertex_count = carving->first_vertices = vertices;
    carving->triangle_count = carving->first_triangles = triangles;
    return true;
}

void vugi_carving_free(vugi_carving *carving)
{
    vugi_free(&carving->mem, carving->xyz);
    vugi_free(&carving->mem, carving->triangle);
    carving->xyz = NULL;
    carving->triangle = NULL;
}

static void renumber(const vugi_carving *c, uint32_t *number, double *xyz, size_t *vertices,
    uint32_t *triangles, size_t *count)
{
    *vertices = *count = 0;
    for (size_t t = 0; t < c->triangle_count; t++) {
        const uint32_t *row = c->triangle + 3 * t;
        if (row[0] != VUGI_CARVED)
            for (int k = 0; k < 3; k++)
                number[row[k]] = 1;
    }
    for (size_t v = 0; v < c->vertex_count; v++)
        if (number[v]) {
            memcpy(xyz + 3 * *vertices, c->xyz + 3 * v, 3 * sizeof *xyz);
            number[v] = (uint32_t)(*vertices)++;
        }
    for (size_t t = 0; t < c->triangle_count; t++) {
        const uint32_t *row = c->triangle + 3 * t;
        if (row[0] == VUGI_CARVED)
            continue;
        for (size_t k = 0; k < 3; k++)
            triangles[3 * *count + k] = number[row[k]];
        ++*count;
    }
}

vug_status vugi_carving_end(vug_context *ctx, vugi_carving *carving, vug_mesh **out)
{
    const vugi_allocator *mem = &carving->mem;
    uint32_t *number = vugi_calloc(mem, carving->vertex_count, sizeof *number);
    double *xyz = vugi_alloc(mem, carving->vertex_count, 3 * sizeof *xyz);
    uint32_t *triangles = vugi_alloc(mem, carving->triangle_count, 3 * sizeof *triangles);
    vug_status status = number && xyz && triangles ? VUG_OK : vugi_fail_memory(ctx);
    if (!status) {
        size_t vertices, count;
        renumber(carving, number, xyz, &vertices, triangles, &count);
        if (count == 0) {
            status = vugi_fail(ctx, VUG_ERR_MESH, "nothing is left of the part");
        } else {
            *out = vugi_mesh_adopt(mem, xyz, vertices, triangles, count);
            xyz = NULL;
            triangles = NULL;
            status = *out ? VUG_OK : vugi_fail_memory(ctx);
        }
    }
    vugi_free(mem, number);
    vugi_free(mem, xyz);
    vugi_free(mem, triangles);
    return status;
}
