/* SPDX-License-Identifier: MIT
 * OFF, the Object File Format of Geomview, as text: a line for each vertex and for each face, with
 * normals or colours after what counts. */
#include "mesh/off.h"

#include "mesh/lines.h"

#include <string.h>

/* Every vertex and every face takes two bytes at least, so the size bounds the counts. */
static vug_status read_head(vugi_lines *r, size_t *vertices, size_t *faces)
{
    size_t limit = (size_t)(r->end - r->at) / 2;
    vugi_word word = vugi_lines_first(r);
    if (word.length < 3 || memcmp(word.text + word.length - 3, "OFF", 3) != 0)
        return vugi_lines_fail(r, "the word OFF");
    for (size_t i = 0; i + 3 < word.length; i++)
        if (word.text[i] == '4' || word.text[i] == 'n')
            return vugi_fail(r->gather->ctx, VUG_ERR_UNSUPPORTED,
                "%s: vertices have other than three coordinates", r->gather->name);
    word = vugi_lines_first(r);
    if (vugi_word_is(word, "BINARY"))
        return vugi_fail(r->gather->ctx, VUG_ERR_UNSUPPORTED, "%s: binary OFF; save it as text",
            r->gather->name);
    if (!vugi_word_count(word, limit, vertices)
        || !vugi_word_count(vugi_lines_word(r), limit, faces))
        return vugi_lines_fail(r,
            "the numbers of vertices and faces, that fit the size of the file,");
    vugi_lines_skip(r);
    return VUG_OK;
}

static vug_status read_face(vugi_lines *r, size_t vertices, vugi_fans *fans)
{
    size_t corners = 0, v = 0;
    if (!vugi_word_count(vugi_lines_first(r), vertices, &corners))
        return vugi_lines_fail(r, "a face");
    for (size_t i = 0; i < corners; i++) {
        if (!vugi_word_count(vugi_lines_word(r), UINT32_MAX, &v))
            return vugi_lines_fail(r, "a vertex number");
        if (v >= vertices)
            return vugi_fail(r->gather->ctx, VUG_ERR_MESH,
                "%s: line %zu: vertex %zu, but there "
                "are %zu, numbered from 0",
                r->gather->name, r->line, v, vertices);
        vug_status status = vugi_fans_corner(fans, v);
        if (status)
            return status;
    }
    vugi_fans_close(fans);
    vugi_lines_skip(r);
    return VUG_OK;
}

static vug_status read_body(vugi_lines *r, size_t vertices, size_t faces, double *xyz,
    vugi_fans *fans)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; !status && i < vertices + faces; i++) {
        if (i < vertices) {
            status = vugi_lines_point(r, vugi_lines_first(r), xyz + 3 * i);
            vugi_lines_skip(r);
        } else {
            status = read_face(r, vertices, fans);
        }
        if (!status && i % 65536 == 0)
            status = vugi_step(r->gather->ctx, 0.0);
    }
    return status;
}

vug_status vugi_read_off(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm)
{
    const vugi_allocator *mem = &gather->ctx->mem;
    vugi_lines r = {gather, data, data + size, 1};
    vugi_fans fans = {.ctx = gather->ctx};
    size_t vertices = 0, faces = 0;
    vug_status status = read_head(&r, &vertices, &faces);
    if (status)
        return status;
    double *xyz = vugi_alloc(mem, vertices, 3 * sizeof *xyz);
    status = xyz ? read_body(&r, vertices, faces, xyz, &fans) : vugi_fail_memory(gather->ctx);
    vugi_place3 place = vugi_place3_scale(unit_mm > 0.0 ? unit_mm : 1.0);
    if (!status && fans.count)
        status = vugi_gather_add(gather, xyz, vertices, fans.triangle, fans.count, &place);
    vugi_free(mem, xyz);
    vugi_free(mem, fans.triangle);
    return status;
}
