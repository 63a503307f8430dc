/* SPDX-License-Identifier: MIT
 * PLY, the polygon file format (G. Turk, 1994), as text or binary in either byte order: a header
 * that names elements and their properties, then the elements' rows. x, y, z of the vertices and
 * the vertex numbers of the faces are taken, all else is passed over. */
#include "mesh/ply.h"

#include "mesh/lines.h"
#include "mesh/number.h"

#include <math.h>
#include <string.h>

enum { MAX_ELEMENTS = 16, MAX_PROPERTIES = 64 };

typedef enum ply_type {
    PLY_INT8,
    PLY_UINT8,
    PLY_INT16,
    PLY_UINT16,
    PLY_INT32,
    PLY_UINT32,
    PLY_FLOAT,
    PLY_DOUBLE,
    PLY_NONE
} ply_type;

typedef enum ply_role { PLY_OTHER, PLY_X, PLY_Y, PLY_Z, PLY_CORNERS } ply_role;

typedef struct ply_property {
    ply_type type, count_type; /* count_type: PLY_NONE unless it is a list */
    ply_role role;
} ply_property;

typedef struct ply_element {
    size_t count;
    bool vertex, face;
    int properties;
    ply_property property[MAX_PROPERTIES];
} ply_element;

typedef struct ply_reader {
    vugi_lines lines;
    const unsigned char *start;
    bool text, big; /* big: the byte order is big-endian */
    int elements;
    ply_element element[MAX_ELEMENTS];
    double *xyz;
    size_t vertices;
    vugi_fans fans;
} ply_reader;

/* ---- header -------------------------------------------------------------------------------- */

static ply_type type_of(vugi_word word)
{
    static const struct {
        const char *name;
        ply_type type;
    } names[] = {
        {"char", PLY_INT8},
        {"int8", PLY_INT8},
        {"uchar", PLY_UINT8},
        {"uint8", PLY_UINT8},
        {"short", PLY_INT16},
        {"int16", PLY_INT16},
        {"ushort", PLY_UINT16},
        {"uint16", PLY_UINT16},
        {"int", PLY_INT32},
        {"int32", PLY_INT32},
        {"uint", PLY_UINT32},
        {"uint32", PLY_UINT32},
        {"float", PLY_FLOAT},
        {"float32", PLY_FLOAT},
        {"double", PLY_DOUBLE},
        {"float64", PLY_DOUBLE},
    };
    for (size_t i = 0; i < sizeof names / sizeof *names; i++)
        if (vugi_word_is(word, names[i].name))
            return names[i].type;
    return PLY_NONE;
}

static ply_role role_of(const ply_element *element, vugi_word name, bool list)
{
    if (element->vertex && !list)
        return vugi_word_is(name, "x") ? PLY_X
            : vugi_word_is(name, "y")  ? PLY_Y
            : vugi_word_is(name, "z")  ? PLY_Z
                                       : PLY_OTHER;
    bool corners = vugi_word_is(name, "vertex_indices") || vugi_word_is(name, "vertex_index");
    return element->face && list && corners ? PLY_CORNERS : PLY_OTHER;
}

static vug_status read_property(ply_reader *r)
{
    if (r->elements == 0)
        return vugi_lines_fail(&r->lines, "an element before its properties");
    ply_element *element = &r->element[r->elements - 1];
    if (element->properties == MAX_PROPERTIES)
        return vugi_fail(r->lines.gather->ctx, VUG_ERR_LIMIT,
            "%s: line %zu: more than %d "
            "properties",
            r->lines.gather->name, r->lines.line, MAX_PROPERTIES);
    ply_property p = {PLY_NONE, PLY_NONE, PLY_OTHER};
    vugi_word word = vugi_lines_word(&r->lines);
    bool list = vugi_word_is(word, "list");
    if (list) {
        p.count_type = type_of(vugi_lines_word(&r->lines));
        word = vugi_lines_word(&r->lines);
    }
    p.type = type_of(word);
    if (p.type == PLY_NONE || (list && (p.count_type == PLY_NONE || p.count_type >= PLY_FLOAT)))
        return vugi_lines_fail(&r->lines, "the type of a property");
    p.role = role_of(element, vugi_lines_word(&r->lines), list);
    element->property[element->properties++] = p;
    return VUG_OK;
}

static vug_status read_element(ply_reader *r)
{
    if (r->elements == MAX_ELEMENTS)
        return vugi_fail(r->lines.gather->ctx, VUG_ERR_LIMIT, "%s: line %zu: more than %d elements",
            r->lines.gather->name, r->lines.line, MAX_ELEMENTS);
    ply_element *element = &r->element[r->elements++];
    vugi_word name = vugi_lines_word(&r->lines);
    element->vertex = vugi_word_is(name, "vertex");
    element->face = vugi_word_is(name, "face");
    /* every row takes a byte at least, so the size bounds the count */
    size_t room = (size_t)(r->lines.end - r->start);
    if (!vugi_word_count(vugi_lines_word(&r->lines), room, &element->count))
        return vugi_lines_fail(&r->lines, "a number of elements that fits the size of the file");
    return VUG_OK;
}

static vug_status read_format(ply_reader *r)
{
    vugi_word word = vugi_lines_word(&r->lines);
    r->text = vugi_word_is(word, "ascii");
    r->big = vugi_word_is(word, "binary_big_endian");
    if (r->text || r->big || vugi_word_is(word, "binary_little_endian"))
        return VUG_OK;
    return vugi_lines_fail(&r->lines, "a format: ascii, binary_little_endian, binary_big_endian");
}

static vug_status read_header(ply_reader *r)
{
    vugi_lines_skip(&r->lines); /* ply */
    bool format = false;
    vug_status status = VUG_OK;
    while (!status) {
        vugi_word word = vugi_lines_first(&r->lines);
        if (word.length == 0)
            return vugi_lines_fail(&r->lines, "end_header");
        bool end = vugi_word_is(word, "end_header");
        if (vugi_word_is(word, "format")) {
            format = true;
            status = read_format(r);
        } else if (vugi_word_is(word, "element")) {
            status = read_element(r);
        } else if (vugi_word_is(word, "property")) {
            status = read_property(r);
        }
        if (!status)
            vugi_lines_skip(&r->lines);
        if (end)
            return format ? status
                          : vugi_lines_fail(&r->lines, "a format, before the header's end,");
    }
    return status;
}

/* ---- rows ----------------------------------------------------------------------------------- */

static vug_status fail_end(ply_reader *r, const char *what)
{
    if (r->text)
        return vugi_lines_fail(&r->lines, what);
    return vugi_fail(r->lines.gather->ctx, VUG_ERR_FORMAT,
        "%s: byte %zu: the file is cut off, "
        "%s should follow",
        r->lines.gather->name, (size_t)(r->lines.at - r->start), what);
}

static double decode(const unsigned char b[8], ply_type type)
{
    uint64_t u = 0;
    float f;
    double d;
    for (int i = 7; i >= 0; i--)
        u = u << 8 | b[i];
    uint32_t low = (uint32_t)u;
    switch (type) {
    case PLY_INT8:
        return (double)(int8_t)b[0];
    case PLY_UINT8:
        return (double)b[0];
    case PLY_INT16:
        return (double)(int16_t)(uint16_t)low;
    case PLY_UINT16:
        return (double)(uint16_t)low;
    case PLY_INT32:
        return (double)(int32_t)low;
    case PLY_UINT32:
        return (double)low;
    case PLY_FLOAT:
        memcpy(&f, &low, sizeof f);
        return (double)f;
    case PLY_DOUBLE:
        memcpy(&d, &u, sizeof d);
        return d;
    case PLY_NONE:
        break;
    }
    return 0.0;
}

static vug_status read_binary(ply_reader *r, ply_type type, double *value)
{
    static const size_t sizes[] = {1, 1, 2, 2, 4, 4, 4, 8, 0};
    size_t size = sizes[type];
    unsigned char b[8] = {0};
    if ((size_t)(r->lines.end - r->lines.at) < size)
        return fail_end(r, "a number");
    for (size_t i = 0; i < size; i++)
        b[r->big ? size - 1 - i : i] = r->lines.at[i];
    r->lines.at += size;
    *value = decode(b, type);
    return VUG_OK;
}

static vug_status read_scalar(ply_reader *r, ply_type type, double *value)
{
    if (!r->text)
        return read_binary(r, type, value);
    vugi_word word = vugi_lines_first(&r->lines);
    int kind = vugi_number_read(word.text, word.length, value);
    if (kind == VUGI_NUMBER_NOT_FINITE)
        *value = (double)NAN;
    return kind == VUGI_NUMBER_BAD ? vugi_lines_fail(&r->lines, "a number") : VUG_OK;
}

static vug_status add_corner(ply_reader *r, double value)
{
    if (value >= 0.0 && value < (double)r->vertices)
        return vugi_fans_corner(&r->fans, (size_t)value);
    return vugi_fail(r->lines.gather->ctx, VUG_ERR_MESH,
        "%s: a face names vertex %.0f, but there "
        "are %zu, numbered from 0",
        r->lines.gather->name, value, r->vertices);
}

static vug_status read_list(ply_reader *r, const ply_property *p)
{
    double count = 0.0, value = 0.0;
    vug_status status = read_scalar(r, p->count_type, &count);
    if (!status && !(count >= 0.0 && count <= (double)(r->lines.end - r->lines.at)))
        status = fail_end(r, "the length of a list that fits the size of the file");
    for (size_t i = 0; !status && i < (size_t)count; i++) {
        status = read_scalar(r, p->type, &value);
        if (!status && p->role == PLY_CORNERS)
            status = add_corner(r, value);
    }
    vugi_fans_close(&r->fans);
    return status;
}

static vug_status read_row(ply_reader *r, const ply_element *element, double *xyz)
{
    for (int i = 0; i < element->properties; i++) {
        const ply_property *p = &element->property[i];
        double value = 0.0;
        vug_status status = p->count_type != PLY_NONE ? read_list(r, p)
                                                      : read_scalar(r, p->type, &value);
        if (status)
            return status;
        if (p->role >= PLY_X && p->role <= PLY_Z)
            xyz[p->role - PLY_X] = value;
    }
    return VUG_OK;
}

static bool has_point(const ply_element *element)
{
    int found = 0;
    for (int i = 0; i < element->properties; i++)
        if (element->property[i].role >= PLY_X && element->property[i].role <= PLY_Z)
            found |= 1 << (element->property[i].role - PLY_X);
    return found == 7;
}

static vug_status read_rows(ply_reader *r, const ply_element *element)
{
    vug_context *ctx = r->lines.gather->ctx;
    double unused[3];
    if (element->vertex) {
        if (r->xyz || !has_point(element))
            return vugi_fail(ctx, VUG_ERR_FORMAT, "%s: the vertices need x, y and z, once",
                r->lines.gather->name);
        r->xyz = vugi_alloc(&ctx->mem, element->count, 3 * sizeof *r->xyz);
        if (!r->xyz)
            return vugi_fail_memory(ctx);
        r->vertices = element->count;
    }
    vug_status status = VUG_OK;
    for (size_t row = 0; !status && row < element->count; row++) {
        status = read_row(r, element, element->vertex ? r->xyz + 3 * row : unused);
        if (!status && row % 65536 == 0)
            status = vugi_step(ctx, 0.0);
    }
    return status;
}

vug_status vugi_read_ply(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm)
{
    const vugi_allocator *mem = &gather->ctx->mem;
    ply_reader *r = vugi_calloc(mem, 1, sizeof *r);
    if (!r)
        return vugi_fail_memory(gather->ctx);
    r->lines = (vugi_lines){gather, data, data + size, 1};
    r->start = data;
    r->fans.ctx = gather->ctx;
    vug_status status = read_header(r);
    for (int i = 0; !status && i < r->elements; i++)
        status = read_rows(r, &r->element[i]);
    vugi_place3 place = vugi_place3_scale(unit_mm > 0.0 ? unit_mm : 1.0);
    if (!status && r->fans.count)
        status = vugi_gather_add(gather, r->xyz, r->vertices, r->fans.triangle, r->fans.count,
            &place);
    vugi_free(mem, r->xyz);
    vugi_free(mem, r->fans.triangle);
    vugi_free(mem, r);
    return status;
}
