/* SPDX-License-Identifier: MIT */
#include "cavity/cut.h"

#include "cavity/triangulate.h"

#include <string.h>

/* The outer side of a cut stands off by this share of the loop's reach, so that a cavity whose
 * corners all lie on its caps is still seen to lie inside the shell around it. */
static const double APART = 1e-6;

typedef struct builder {
    double *xyz;
    uint32_t *triangles;
    int32_t *tag;
    size_t vertex_count, triangle_count;
} builder;

static void add_triangle(builder *b, uint32_t p, uint32_t q, uint32_t r, int32_t tag)
{
    uint32_t *v = b->triangles + 3 * b->triangle_count;
    v[0] = p;
    v[1] = q;
    v[2] = r;
    b->tag[b->triangle_count++] = tag;
}

/* Splits triangle t, entered at point p and left at point q of the loop. Numbers of the new
 * vertices: in_p, in_q for the piece below the plane, out_p, out_q for the one above. */
static void split(builder *b, const vugi_tagged *in, const vugi_plane *plane, uint32_t t,
    uint32_t in_p, uint32_t in_q, uint32_t out_p, uint32_t out_q)
{
    const uint32_t *v = in->mesh->triangles + 3 * (size_t)t;
    int32_t tag = in->tag[t];
    bool up[3];
    for (int k = 0; k < 3; k++)
        up[k] = vugi_above(plane, in->mesh->xyz + 3 * (size_t)v[k]) > 0.0;
    int alone = 0; /* the corner that has a side to itself */
    while (up[alone] == up[(alone + 1) % 3] || up[alone] == up[(alone + 2) % 3])
        alone++;
    uint32_t a = v[alone], c1 = v[(alone + 1) % 3], c2 = v[(alone + 2) % 3];
    /* The loop leaves where, around the triangle, it goes from above to below. */
    if (up[alone]) { /* leaves over a-c1, came over c2-a */
        add_triangle(b, a, out_q, out_p, tag);
        add_triangle(b, c1, c2, in_p, tag);
        add_triangle(b, c1, in_p, in_q, tag);
    } else { /* came over a-c1, leaves over c2-a */
        add_triangle(b, a, in_p, in_q, tag);
        add_triangle(b, c1, c2, out_q, tag);
        add_triangle(b, c1, out_q, out_p, tag);
    }
}

/* Flat caps on both sides: the lower one faces down, against the plane's normal. */
static vug_status add_caps(vug_context *ctx, builder *b, const vugi_cut *cut, uint32_t in_first,
    uint32_t out_first)
{
    size_t count = cut->loop.count;
    vug_status status;
    double *uv = vugi_alloc(&ctx->mem, 2 * count, sizeof *uv);
    uint32_t *corner = vugi_alloc(&ctx->mem, 3 * count, sizeof *corner);
    if (!uv || !corner) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    for (size_t i = 0; i < count; i++)
        vugi_in_plane(&cut->plane, cut->loop.point + 3 * i, uv + 2 * i);
    status = vugi_triangulate(ctx, uv, count, corner);
    if (status)
        goto done;
    for (size_t i = 0; i < count - 2; i++) {
        const uint32_t *c = corner + 3 * i;
        add_triangle(b, in_first + c[0], in_first + c[2], in_first + c[1], cut->tag);
        add_triangle(b, out_first + c[0], out_first + c[1], out_first + c[2], cut->tag);
    }
done:
    vugi_free(&ctx->mem, uv);
    vugi_free(&ctx->mem, corner);
    return status;
}

static vug_status add_cut(vug_context *ctx, builder *b, const vugi_tagged *in, const vugi_cut *cut)
{
    size_t count = cut->loop.count;
    uint32_t in_first = (uint32_t)b->vertex_count, out_first = in_first + (uint32_t)count;
    double apart = APART * cut->loop.reach;
    memcpy(b->xyz + 3 * b->vertex_count, cut->loop.point, 3 * count * sizeof *b->xyz);
    b->vertex_count += count;
    for (size_t i = 0; i < count; i++, b->vertex_count++)
        for (size_t k = 0; k < 3; k++)
            b->xyz[3 * b->vertex_count + k] = cut->loop.point[3 * i + k]
                + apart * cut->plane.normal[k];
    for (size_t i = 0; i < count; i++) { /* triangle i: from point i to point i + 1 */
        uint32_t p = (uint32_t)i, q = (uint32_t)((i + 1) % count);
        split(b, in, &cut->plane, cut->loop.triangle[i], in_first + p, in_first + q, out_first + p,
            out_first + q);
    }
    return add_caps(ctx, b, cut, in_first, out_first);
}

vug_status vugi_cut_mesh(vug_context *ctx, const vugi_tagged *in, const vugi_cut *cut,
    size_t cut_count, vugi_tagged *out)
{
    const vug_mesh *mesh = in->mesh;
    vug_status status = VUG_OK;
    size_t points = 0;
    for (size_t i = 0; i < cut_count; i++)
        points += cut[i].loop.count;
    builder b = {.vertex_count = mesh->vertex_count};
    unsigned char *on_loop = vugi_calloc(&ctx->mem, mesh->triangle_count, 1);
    b.xyz = vugi_alloc(&ctx->mem, 3 * (mesh->vertex_count + 2 * points), sizeof *b.xyz);
    b.triangles = vugi_alloc(&ctx->mem, 3 * (mesh->triangle_count + 4 * points),
        sizeof *b.triangles);
    b.tag = vugi_alloc(&ctx->mem, mesh->triangle_count + 4 * points, sizeof *b.tag);
    if (!on_loop || !b.xyz || !b.triangles || !b.tag) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    memcpy(b.xyz, mesh->xyz, 3 * mesh->vertex_count * sizeof *b.xyz);
    for (size_t i = 0; i < cut_count; i++)
        for (size_t k = 0; k < cut[i].loop.count; k++)
            on_loop[cut[i].loop.triangle[k]] = 1;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        const uint32_t *v = mesh->triangles + 3 * t;
        if (!on_loop[t])
            add_triangle(&b, v[0], v[1], v[2], in->tag[t]);
    }
    for (size_t i = 0; i < cut_count && !status; i++)
        status = add_cut(ctx, &b, in, cut + i);
    if (status)
        goto done;
    vug_mesh *made = vugi_mesh_adopt(&ctx->mem, b.xyz, b.vertex_count, b.triangles,
        b.triangle_count);
    b.xyz = NULL;
    b.triangles = NULL;
    if (!made) {
        status = vugi_fail_memory(ctx);
        goto done;
    }
    out->mesh = made;
    out->tag = b.tag;
    b.tag = NULL;
done:
    vugi_free(&ctx->mem, on_loop);
    vugi_free(&ctx->mem, b.xyz);
    vugi_free(&ctx->mem, b.triangles);
    vugi_free(&ctx->mem, b.tag);
    return status;
}

void vugi_tagged_free(const vugi_allocator *mem, vugi_tagged *tagged)
{
    vug_mesh_free(tagged->mesh);
    vugi_free(mem, tagged->tag);
    *tagged = (vugi_tagged){.mesh = NULL};
}
