/* SPDX-License-Identifier: MIT
 * OBJ as text: v lines are vertices, f lines are faces whose corners are VERTEX[/TEXTURE[/NORMAL]],
 * numbered from 1, or from the last one back when negative. All else is passed over. */
#include "mesh/obj.h"

#include "mesh/lines.h"

typedef struct obj_reader {
    vugi_lines lines;
    double *xyz;
    size_t count, capacity;
    vugi_fans fans;
} obj_reader;

static vug_status add_vertex(obj_reader *r)
{
    vug_context *ctx = r->lines.gather->ctx;
    if (!vugi_reserve(&ctx->mem, &r->xyz, &r->capacity, r->count + 1, 3 * sizeof *r->xyz))
        return vugi_fail_memory(ctx);
    vug_status status = vugi_lines_point(&r->lines, vugi_lines_word(&r->lines),
        r->xyz + 3 * r->count);
    r->count += status == VUG_OK;
    return status;
}

/* The vertex of a corner such as 7, 7/1, 7//2 or -1. */
static bool corner_vertex(vugi_word word, size_t count, size_t *vertex)
{
    vugi_word number = word;
    bool back = word.length && word.text[0] == '-';
    if (back) {
        number.text++;
        number.length--;
    }
    for (size_t i = 0; i < number.length; i++)
        if (number.text[i] == '/')
            number.length = i;
    size_t n = 0;
    if (!vugi_word_count(number, count, &n) || n == 0)
        return false;
    *vertex = back ? count - n : n - 1;
    return true;
}

/* A backslash at the end of a line continues it. */
static vugi_word next_corner(vugi_lines *lines)
{
    vugi_word word = vugi_lines_word(lines);
    while (vugi_word_is(word, "\\")) {
        vugi_lines_skip(lines);
        word = vugi_lines_word(lines);
    }
    return word;
}

static vug_status add_face(obj_reader *r)
{
    for (vugi_word w; (w = next_corner(&r->lines)).length != 0;) {
        size_t vertex = 0;
        if (!corner_vertex(w, r->count, &vertex))
            return vugi_fail(r->lines.gather->ctx, VUG_ERR_FORMAT,
                "%s: line %zu: a face names a "
                "vertex that is none of the %zu so far",
                r->lines.gather->name, r->lines.line, r->count);
        vug_status status = vugi_fans_corner(&r->fans, vertex);
        if (status)
            return status;
    }
    vugi_fans_close(&r->fans);
    return VUG_OK;
}

static vug_status read_lines(obj_reader *r)
{
    vug_status status = VUG_OK;
    for (size_t n = 0; !status; n++) {
        vugi_word word = vugi_lines_first(&r->lines);
        if (word.length == 0)
            break;
        if (vugi_word_is(word, "v"))
            status = add_vertex(r);
        else if (vugi_word_is(word, "f"))
            status = add_face(r);
        vugi_lines_skip(&r->lines);
        if (!status && n % 65536 == 0)
            status = vugi_step(r->lines.gather->ctx, 0.0);
    }
    if (!status && r->count > UINT32_MAX)
        status = vugi_fail(r->lines.gather->ctx, VUG_ERR_LIMIT, "%s: more than %lu vertices",
            r->lines.gather->name, (unsigned long)UINT32_MAX);
    return status;
}

vug_status vugi_read_obj(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm)
{
    const vugi_allocator *mem = &gather->ctx->mem;
    obj_reader r = {.lines = {gather, data, data + size, 1}, .fans = {.ctx = gather->ctx}};
    vug_status status = read_lines(&r);
    vugi_place3 place = vugi_place3_scale(unit_mm > 0.0 ? unit_mm : 1.0);
    if (!status && r.fans.count)
        status = vugi_gather_add(gather, r.xyz, r.count, r.fans.triangle, r.fans.count, &place);
    vugi_free(mem, r.xyz);
    vugi_free(mem, r.fans.triangle);
    return status;
}
