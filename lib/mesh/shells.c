/* SPDX-License-Identifier: MIT */
#include "mesh/shells.h"

#include "base/disjoint_set.h"
#include "mesh/sums.h"
#include "mesh/tally.h"

#include <string.h>

/* ---- numbering: union-find over triangles, the lower number is the root ------------- */

/* A collapsed triangle has no edges: it goes with the first triangle at its corners. */
static void place_collapsed(const vug_mesh *mesh, uint32_t *parent, uint32_t *at_vertex)
{
    for (size_t v = 0; v < mesh->vertex_count; v++)
        at_vertex[v] = UINT32_MAX;
    for (size_t h = 3 * mesh->triangle_count; h-- > 0;)
        if (!vugi_triangle_collapsed(mesh->triangles + h / 3 * 3))
            at_vertex[mesh->triangles[h]] = (uint32_t)(h / 3);
    for (size_t h = 0; h < 3 * mesh->triangle_count; h++) {
        uint32_t t = (uint32_t)(h / 3), *neighbour = &at_vertex[mesh->triangles[h]];
        if (!vugi_triangle_collapsed(mesh->triangles + 3 * (size_t)t))
            continue;
        if (*neighbour == UINT32_MAX)
            *neighbour = t;
        else if (h % 3 == 0 || vugi_sets_find(parent, t) == t)
            vugi_sets_unite(parent, t, *neighbour);
    }
}

/* Roots become numbers: a root is the lowest triangle of its shell, so it comes first. */
static uint64_t number_roots(uint32_t *parent, size_t count)
{
    uint64_t shells = 0;
    for (size_t t = 0; t < count; t++) {
        uint32_t p = parent[t];
        parent[t] = p == t ? (uint32_t)shells++ : parent[p];
    }
    return shells;
}

vug_status vugi_shells_number(vug_context *ctx, const vug_mesh *mesh, const vugi_edges *edges,
    uint32_t **of, uint64_t *count)
{
    const vugi_allocator *mem = &ctx->mem;
    size_t triangles = mesh->triangle_count;
    uint32_t *other = vugi_alloc(mem, triangles, 3 * sizeof *other);
    uint32_t *parent = vugi_alloc(mem, triangles, sizeof *parent);
    uint32_t *at_vertex = vugi_alloc(mem, mesh->vertex_count, sizeof *at_vertex);
    vug_status status = other && parent && at_vertex ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        status = vugi_edges_pair(ctx, mesh, edges, other);
    if (status)
        goto done;
    vugi_sets_init(parent, triangles);
    for (size_t h = 0; h < 3 * triangles; h++)
        if (other[h] != UINT32_MAX && other[h] < h)
            vugi_sets_unite(parent, (uint32_t)(h / 3), other[h] / 3);
    place_collapsed(mesh, parent, at_vertex);
    for (size_t t = 0; t < triangles; t++)
        parent[t] = vugi_sets_find(parent, (uint32_t)t);
    *count = number_roots(parent, triangles);
    *of = parent;
    parent = NULL;
done:
    vugi_free(mem, other);
    vugi_free(mem, parent);
    vugi_free(mem, at_vertex);
    return status;
}

/* ---- the object ------------------------------------------------------------------------ */

static void sort_triangles(vug_shells *shells)
{
    memset(shells->first, 0, (shells->count + 1) * sizeof *shells->first);
    for (size_t t = 0; t < shells->triangle_count; t++)
        shells->first[shells->of[t] + 1]++;
    for (size_t s = 0; s < shells->count; s++)
        shells->first[s + 1] += shells->first[s];
    for (size_t t = 0; t < shells->triangle_count; t++)
        shells->order[shells->first[shells->of[t]]++] = (uint32_t)t;
    for (size_t s = shells->count; s > 0; s--)
        shells->first[s] = shells->first[s - 1];
    shells->first[0] = 0;
}

static void measure_shell(const vug_mesh *mesh, const vug_shells *shells, size_t s, uint32_t *seen)
{
    vug_mesh_measures *m = &shells->measures[s];
    const uint32_t *triangle = shells->order + shells->first[s];
    size_t count = shells->first[s + 1] - shells->first[s];
    const double *start = mesh->xyz + 3 * (size_t)mesh->triangles[3 * (size_t)triangle[0]];
    memcpy(m->lo_mm, start, sizeof m->lo_mm);
    memcpy(m->hi_mm, start, sizeof m->hi_mm);
    m->struct_size = sizeof *m;
    m->triangles = count;
    m->shells = 1;
    vugi_sums sums = {.volume6 = 0.0};
    for (size_t i = 0; i < count; i++) {
        for (size_t k = 0; k < 3; k++) {
            uint32_t v = mesh->triangles[3 * (size_t)triangle[i] + k];
            if (seen[v] == s + 1)
                continue;
            seen[v] = (uint32_t)s + 1;
            m->vertices++;
            for (size_t j = 0; j < 3; j++) {
                double x = mesh->xyz[3 * (size_t)v + j];
                m->lo_mm[j] = x < m->lo_mm[j] ? x : m->lo_mm[j];
                m->hi_mm[j] = x > m->hi_mm[j] ? x : m->hi_mm[j];
            }
        }
        vugi_sums_triangle(&sums, mesh, triangle[i], start);
    }
    vugi_sums_finish(&sums, start, m);
}

static vug_status measure_shells(vug_context *ctx, const vug_mesh *mesh, const vugi_edges *edges,
    vug_shells *shells)
{
    vug_status status = vugi_edges_tally(ctx, mesh, edges, shells->of, shells->count,
        shells->measures);
    if (status)
        return status;
    uint32_t *seen = vugi_calloc(&ctx->mem, mesh->vertex_count, sizeof *seen);
    if (!seen)
        return vugi_fail_memory(ctx);
    for (size_t s = 0; !status && s < shells->count; s++) {
        measure_shell(mesh, shells, s, seen);
        if (s % 1024 == 0)
            status = vugi_step(ctx, 0.6 + 0.4 * (double)s / (double)shells->count);
    }
    vugi_free(&ctx->mem, seen);
    return status;
}

vug_status vugi_shells_find(vug_context *ctx, const vug_mesh *mesh, vug_shells **out)
{
    uint64_t count = 0;
    vugi_edges edges;
    vug_shells *shells = NULL;
    vug_status status = vugi_edges_build(ctx, mesh, &edges);
    if (status)
        return status;
    shells = vugi_calloc(&ctx->mem, 1, sizeof *shells);
    if (!shells) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    shells->mem = ctx->mem;
    status = vugi_step(ctx, 0.3);
    if (status)
        goto done;
    shells->triangle_count = mesh->triangle_count;
    status = vugi_shells_number(ctx, mesh, &edges, &shells->of, &count);
    if (!status)
        status = vugi_step(ctx, 0.6);
    if (status)
        goto done;
    shells->count = (size_t)count;
    shells->order = vugi_alloc(&ctx->mem, shells->triangle_count, sizeof *shells->order);
    shells->first = vugi_alloc(&ctx->mem, shells->count + 1, sizeof *shells->first);
    shells->measures = vugi_calloc(&ctx->mem, shells->count, sizeof *shells->measures);
    if (!shells->order || !shells->first || !shells->measures) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    sort_triangles(shells);
    status = measure_shells(ctx, mesh, &edges, shells);
    if (!status)
        status = vugi_step(ctx, 1.0);
done:
    vugi_edges_free(ctx, &edges);
    if (status)
        vug_shells_free(shells);
    else
        *out = shells;
    return status;
}

vug_status vug_mesh_shells(vug_context *ctx, const vug_mesh *mesh, vug_shells **out)
{
    if (!ctx || !mesh || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx        ? "ctx"
                : !mesh ? "mesh"
                        : "out");
    vugi_progress_begin(ctx, "finding shells");
    return vugi_shells_find(ctx, mesh, out);
}

void vug_shells_free(vug_shells *shells)
{
    if (!shells)
        return;
    vugi_allocator mem = shells->mem;
    vugi_free(&mem, shells->of);
    vugi_free(&mem, shells->order);
    vugi_free(&mem, shells->first);
    vugi_free(&mem, shells->measures);
    vugi_free(&mem, shells);
}

size_t vug_shells_count(const vug_shells *shells)
{
    return shells ? shells->count : 0;
}

const uint32_t *vug_shells_of_triangles(const vug_shells *shells)
{
    return shells ? shells->of : NULL;
}

vug_status vug_shells_get(const vug_shells *shells, size_t index, vug_mesh_measures *measures)
{
    if (!shells || !measures)
        return VUG_ERR_ARGUMENT;
    if (index >= shells->count)
        return VUG_ERR_NOT_FOUND;
    return vugi_struct_write(NULL, measures, &shells->measures[index], sizeof *measures,
        "vug_mesh_measures");
}
