/* SPDX-License-Identifier: MIT
 * STL in: which kind it is, and the binary kind. */
#include "mesh/stl.h"

#include "base/format.h"
#include "mesh/stl_normal.h"
#include "mesh/stl_text.h"

#include <math.h>
#include <string.h>

static uint32_t get_u32(const unsigned char *p)
{
    return (uint32_t)p[0] | (uint32_t)p[1] << 8 | (uint32_t)p[2] << 16 | (uint32_t)p[3] << 24;
}

static double get_float(const unsigned char *p)
{
    uint32_t u = get_u32(p);
    float f;
    memcpy(&f, &u, sizeof f);
    return (double)f;
}

/* ---- binary --------------------------------------------------------------------------- */

enum { BATCH = 4096 }; /* facets decoded before they are welded */

/* Text tools that do not know a byte replace it by U+FFFD, EF BF BD: such a file is lost. */
static bool mangled_by_text_tool(const unsigned char *data, size_t size)
{
    size_t marks = 0, look = size < 65536 ? size : 65536;
    for (size_t i = VUGI_STL_HEADER; i + 2 < look; i++)
        marks += data[i] == 0xEF && data[i + 1] == 0xBF && data[i + 2] == 0xBD;
    return marks > 3 && marks > look / 100;
}

/* How many facets there are: the size decides, the header's count is only compared. */
static vug_status count_facets(vugi_facets *facets, const unsigned char *data, size_t size,
    size_t *count)
{
    size_t body = size - VUGI_STL_HEADER, whole = body / VUGI_STL_FACET;
    size_t rest = body % VUGI_STL_FACET, stated = get_u32(data + 80);
    if (rest && mangled_by_text_tool(data, size))
        return vugi_fail(facets->ctx, VUG_ERR_FORMAT,
            "%s: a text tool has replaced bytes of this "
            "binary STL; copy the original file again as it is",
            facets->name);
    if (rest && stated == 0)
        return vugi_fail(facets->ctx, VUG_ERR_FORMAT,
            "%s: this is no STL file: it is no text, "
            "and %zu bytes are no whole number of facets",
            facets->name, size);
    if (rest && stated > whole)
        return vugi_fail(facets->ctx, VUG_ERR_FORMAT,
            "%s: byte %zu: the file ends inside "
            "triangle %zu of the %zu that its header promises: cut off, or no STL",
            facets->name, size, whole, stated);
    if (rest)
        vugi_warn(facets->ctx, "%s: %zu bytes after the last of %zu triangles are ignored",
            facets->name, body - stated * VUGI_STL_FACET, stated);
    else if (stated != whole)
        vugi_warn(facets->ctx,
            "%s: the header says %zu triangles, but the size is that of %zu; "
            "reading %zu",
            facets->name, stated, whole, whole);
    *count = rest ? stated : whole;
    if (*count > VUG_MAX_TRIANGLES)
        return vugi_fail(facets->ctx, VUG_ERR_LIMIT, "%s: %zu triangles; the limit is %d",
            facets->name, *count, VUG_MAX_TRIANGLES);
    return VUG_OK;
}

/* Says what is wrong with number i of the corners that start at triangle first. */
static vug_status fail_corner(vugi_facets *facets, const double *corner, size_t first, size_t i)
{
    size_t t = first + i / 9;
    char what[VUGI_MESSAGE_SIZE];
    vugi_print(what, sizeof what, "%s: byte %zu: triangle %zu, corner", facets->name,
        VUGI_STL_HEADER + VUGI_STL_FACET * t + 12 + 4 * (i % 9), t);
    return vugi_mesh_check_point(facets->ctx, corner + i / 3 * 3, what, i / 3 % 3);
}

/* Decodes count facets from number first on. */
static vug_status read_batch(vugi_facets *facets, const unsigned char *data, size_t first,
    size_t count, double *corner)
{
    bool good = true;
    for (size_t t = 0; t < count; t++) {
        const unsigned char *at = data + VUGI_STL_HEADER + VUGI_STL_FACET * (first + t);
        double normal[3];
        for (size_t k = 0; k < 3; k++)
            normal[k] = get_float(at + 4 * k);
        for (size_t k = 0; k < 9; k++) {
            double x = get_float(at + 12 + 4 * k);
            good &= fabs(x) <= VUG_MAX_COORDINATE_MM; /* false for NaN */
            corner[9 * t + k] = x;
        }
        facets->against += vugi_stl_normal_against(normal, corner + 9 * t);
    }
    for (size_t i = 0; !good && i < 9 * count; i++)
        if (!(fabs(corner[i]) <= VUG_MAX_COORDINATE_MM))
            return fail_corner(facets, corner, first, i);
    return vugi_weld_points(facets->ctx, &facets->weld, corner, 3 * count,
        facets->triangle + 3 * first);
}

vug_status vugi_stl_read_binary(vugi_facets *facets, const unsigned char *data, size_t size)
{
    vug_context *ctx = facets->ctx;
    size_t count = 0;
    vug_status status = count_facets(facets, data, size, &count);
    if (status)
        return status;
    double *corner = vugi_alloc(&ctx->mem, BATCH, 9 * sizeof *corner);
    facets->triangle = vugi_alloc(&ctx->mem, count, 3 * sizeof *facets->triangle);
    status = corner && facets->triangle ? vugi_weld_begin(ctx, &facets->weld, count / 2 + 2)
                                        : vugi_fail_memory(ctx);
    for (size_t first = 0; !status && first < count; first += BATCH) {
        size_t n = count - first < BATCH ? count - first : BATCH;
        status = read_batch(facets, data, first, n, corner);
        if (!status && first / BATCH % 16 == 0)
            status = vugi_step(ctx, (double)first / (double)count);
    }
    facets->count = count;
    vugi_free(&ctx->mem, corner);
    return status;
}

/* ---- either kind ---------------------------------------------------------------------- */

static vug_status read_facets(vugi_facets *facets, const unsigned char *data, size_t size)
{
    if (size == 0)
        return vugi_fail(facets->ctx, VUG_ERR_FORMAT, "%s: the file is empty", facets->name);
    bool fits = size >= VUGI_STL_HEADER && (size - VUGI_STL_HEADER) % VUGI_STL_FACET == 0
        && (size - VUGI_STL_HEADER) / VUGI_STL_FACET == get_u32(data + 80);
    if (!fits && vugi_stl_is_text(data, size))
        return vugi_stl_read_text(facets, data, size);
    if (size < VUGI_STL_HEADER)
        return vugi_fail(facets->ctx, VUG_ERR_FORMAT,
            "%s: this is no STL file: no STL text, and "
            "%zu bytes are fewer than the %d of a binary header",
            facets->name, size, VUGI_STL_HEADER);
    if (!fits && vugi_stl_all_text(data, size))
        return vugi_fail(facets->ctx, VUG_ERR_FORMAT,
            "%s: line 1: this is text, but no STL: "
            "'solid' or 'facet' should come first",
            facets->name);
    return vugi_stl_read_binary(facets, data, size);
}

vug_status vugi_stl_load(vug_context *ctx, const unsigned char *data, size_t size, const char *name,
    vug_mesh **out)
{
    vugi_facets facets = {.ctx = ctx, .name = name};
    vug_status status = read_facets(&facets, data, size);
    if (!status && facets.count == 0)
        status = vugi_fail(ctx, VUG_ERR_MESH, "%s: there is no triangle in it", name);
    if (!status && facets.against > facets.count / 100)
        vugi_warn(ctx,
            "%s: the normals of %zu of %zu triangles contradict the order of their "
            "corners; the order is used",
            name, facets.against, facets.count);
    if (!status) {
        status = vugi_mesh_from_weld(ctx, &facets.weld, facets.triangle, facets.count, out);
        facets.triangle = NULL;
    }
    vugi_weld_free(&facets.weld);
    vugi_free(&ctx->mem, facets.triangle);
    return status;
}
