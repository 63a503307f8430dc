/* SPDX-License-Identifier: MIT
 * STL as text: solid NAME, facets of `facet normal x y z outer loop vertex x y z ... endloop
 * endfacet`, endsolid NAME. Read word by word, so spacing and lines do not matter, in any case. */
#include "mesh/stl_text.h"

#include "base/vec.h"
#include "mesh/number.h"
#include "mesh/stl_normal.h"

#include <math.h>
#include <string.h>

enum {
    LOOK = 2048,      /* bytes that show whether a file is text */
    BATCH = 4096,     /* triangles gathered before they are welded */
    MAX_CORNERS = 64, /* of one facet: some programs write polygons */
    SHOWN = 24        /* bytes of an unexpected word in a message */
};

/* ---- words ------------------------------------------------------------------------------ */

typedef struct word {
    const unsigned char *text;
    size_t length; /* 0 at the end of the file */
} word;

typedef struct reader {
    vugi_facets *facets;
    const unsigned char *start, *at, *end;
    size_t line;
    word next;      /* looked at, not taken yet */
    double *corner; /* rows of 9, waiting to be welded */
    size_t waiting;
    size_t strange_line; /* first line that is not STL, 0: none */
    char strange[SHOWN + 1];
    bool ended; /* by endsolid */
} reader;

static bool is_space(unsigned char c)
{
    return c <= ' '; /* control bytes and NUL too */
}

static void skip_space(reader *r)
{
    for (; r->at < r->end && is_space(*r->at); r->at++)
        if (*r->at == '\n' || (*r->at == '\r' && !(r->at + 1 < r->end && r->at[1] == '\n')))
            r->line++;
}

static void advance(reader *r)
{
    skip_space(r);
    r->next.text = r->at;
    while (r->at < r->end && !is_space(*r->at))
        r->at++;
    r->next.length = (size_t)(r->at - r->next.text);
}

static bool word_is(word w, const char *name)
{
    size_t i = 0;
    for (; i < w.length && name[i]; i++)
        if ((w.text[i] | 0x20) != (unsigned char)name[i])
            return false;
    return i == w.length && !name[i];
}

/* Takes the next word if it is name, or if it is "end" and the one after it is the rest. */
static bool take(reader *r, const char *name)
{
    if (word_is(r->next, name)) {
        advance(r);
        return true;
    }
    if (strncmp(name, "end", 3) != 0 || !word_is(r->next, "end"))
        return false;
    reader saved = *r;
    advance(r);
    if (word_is(r->next, name + 3)) {
        advance(r);
        return true;
    }
    *r = saved;
    return false;
}

static void show(word w, char shown[SHOWN + 1])
{
    size_t n = w.length < SHOWN ? w.length : SHOWN;
    for (size_t i = 0; i < n; i++)
        shown[i] = (char)(w.text[i] > ' ' && w.text[i] < 0x7f ? w.text[i] : '?');
    shown[n] = 0;
}

static vug_status fail_word(reader *r, const char *expected)
{
    char shown[SHOWN + 1];
    show(r->next, shown);
    if (r->next.length == 0)
        return vugi_fail(r->facets->ctx, VUG_ERR_FORMAT,
            "%s: line %zu: the file ends inside a facet, where %s should follow: cut off",
            r->facets->name, r->line, expected);
    return vugi_fail(r->facets->ctx, VUG_ERR_FORMAT, "%s: line %zu: '%s' where %s should follow",
        r->facets->name, r->line, shown, expected);
}

/* ---- facets ------------------------------------------------------------------------------- */

static vug_status flush(reader *r)
{
    vugi_facets *f = r->facets;
    if (r->waiting == 0)
        return VUG_OK;
    if (!vugi_reserve(&f->ctx->mem, &f->triangle, &f->capacity, f->count + r->waiting,
            3 * sizeof *f->triangle))
        return vugi_fail_memory(f->ctx);
    vug_status status = vugi_weld_points(f->ctx, &f->weld, r->corner, 3 * r->waiting,
        f->triangle + 3 * f->count);
    if (status)
        return status;
    f->count += r->waiting;
    r->waiting = 0;
    if (f->count > VUG_MAX_TRIANGLES)
        return vugi_fail(f->ctx, VUG_ERR_LIMIT, "%s: line %zu: more than %d triangles", f->name,
            r->line, VUG_MAX_TRIANGLES);
    return vugi_step(f->ctx, (double)(r->at - r->start) / (double)(r->end - r->start));
}

/* The stated normal, zero unless three numbers follow. Files without are common. */
static void read_normal(reader *r, double normal[3])
{
    int count = 0;
    take(r, "normal");
    while (r->next.length && !word_is(r->next, "outer") && !word_is(r->next, "vertex")
        && !word_is(r->next, "endfacet") && !word_is(r->next, "facet")) {
        if (count < 3
            && vugi_number_read(r->next.text, r->next.length, &normal[count]) == VUGI_NUMBER_OK)
            count++;
        advance(r);
    }
    for (int k = 0; count < 3 && k < 3; k++)
        normal[k] = 0.0;
}

static vug_status fail_coordinate(reader *r, int kind, int k)
{
    char shown[SHOWN + 1];
    show(r->next, shown);
    if (kind == VUGI_NUMBER_NOT_FINITE)
        return vugi_fail(r->facets->ctx, VUG_ERR_MESH,
            "%s: line %zu: coordinate %c is '%s', not a finite number", r->facets->name, r->line,
            'x' + k, shown);
    if (kind == VUGI_NUMBER_BAD)
        return fail_word(r,
            memchr(r->next.text, ',', r->next.length)
                ? "a number with a decimal point (not a comma)"
                : "a coordinate");
    return vugi_fail(r->facets->ctx, VUG_ERR_LIMIT,
        "%s: line %zu: coordinate %c is %s, the limit is %g mm; check the unit of the model",
        r->facets->name, r->line, 'x' + k, shown, (double)VUG_MAX_COORDINATE_MM);
}

static vug_status read_vertex(reader *r, double p[3])
{
    for (int k = 0; k < 3; k++) {
        int kind = vugi_number_read(r->next.text, r->next.length, &p[k]);
        if (kind != VUGI_NUMBER_OK || fabs(p[k]) > VUG_MAX_COORDINATE_MM)
            return fail_coordinate(r, kind, k);
        advance(r);
    }
    return VUG_OK;
}

/* A fan from the first corner covers a polygon if no triangle of it turns against the whole and
 * all lie in one plane. */
static bool fan_is_sound(double (*p)[3], size_t count)
{
    double whole[3] = {0.0, 0.0, 0.0}, part[3];
    for (size_t i = 1; i + 1 < count; i++) {
        vugi_triangle_cross(p[0], p[i], p[i + 1], part);
        for (int k = 0; k < 3; k++)
            whole[k] += part[k];
    }
    double size2 = vugi_dot(whole, whole);
    for (size_t i = 1; i + 1 < count; i++) {
        vugi_triangle_cross(p[0], p[i], p[i + 1], part);
        double along = vugi_dot(part, whole);
        if (along < 0.0 || vugi_dot(part, part) * size2 - along * along > 1e-6 * size2 * size2)
            return false;
    }
    return size2 > 0.0;
}

static vug_status add_triangles(reader *r, double (*p)[3], size_t count, const double normal[3],
    size_t line)
{
    if (count < 3)
        return vugi_fail(r->facets->ctx, VUG_ERR_FORMAT,
            "%s: line %zu: a facet with %zu vertices; it needs 3", r->facets->name, line, count);
    if (count > 3 && !fan_is_sound(p, count))
        return vugi_fail(r->facets->ctx, VUG_ERR_FORMAT,
            "%s: line %zu: a facet with %zu vertices that are no flat convex polygon; STL has 3",
            r->facets->name, line, count);
    if (count > 3 && r->facets->polygons++ == 0)
        vugi_warn(r->facets->ctx,
            "%s: line %zu: a facet with %zu vertices (STL has 3), split "
            "into triangles",
            r->facets->name, line, count);
    for (size_t i = 1; i + 1 < count; i++) {
        double *corner = r->corner + 9 * r->waiting++;
        memcpy(corner, p[0], sizeof p[0]);
        memcpy(corner + 3, p[i], 2 * sizeof p[0]);
        r->facets->against += vugi_stl_normal_against(normal, corner);
        if (r->waiting == BATCH) {
            vug_status status = flush(r);
            if (status)
                return status;
        }
    }
    return VUG_OK;
}

/* After the word facet. */
static vug_status read_facet(reader *r)
{
    double p[MAX_CORNERS][3], normal[3] = {0.0, 0.0, 0.0};
    size_t count = 0, line = r->line;
    read_normal(r, normal);
    if (take(r, "outer") && !take(r, "loop"))
        return fail_word(r, "'loop'");
    while (take(r, "vertex")) {
        if (count == MAX_CORNERS)
            return vugi_fail(r->facets->ctx, VUG_ERR_FORMAT,
                "%s: line %zu: a facet with more than %d vertices", r->facets->name, r->line,
                MAX_CORNERS);
        vug_status status = read_vertex(r, p[count++]);
        if (status)
            return status;
    }
    take(r, "endloop");
    if (!take(r, "endfacet"))
        return fail_word(r, count < 3 ? "'vertex'" : "'endfacet'");
    return add_triangles(r, p, count, normal, line);
}

/* ---- the file ------------------------------------------------------------------------------ */

/* The rest of the line is a name, up to the words facet normal for files in one line. */
static void skip_name(reader *r)
{
    size_t line = r->line;
    while (r->next.length && r->line == line) {
        reader saved = *r;
        if (word_is(r->next, "facet")) {
            advance(r);
            bool facet = word_is(r->next, "normal");
            *r = saved;
            if (facet)
                return;
        }
        advance(r);
    }
}

static void skip_strange(reader *r)
{
    if (!r->strange_line) {
        r->strange_line = r->line;
        show(r->next, r->strange);
    }
    skip_name(r);
}

static bool misplaced(word w)
{
    return word_is(w, "outer") || word_is(w, "loop") || word_is(w, "vertex")
        || word_is(w, "endloop") || word_is(w, "endfacet");
}

static vug_status read_words(reader *r)
{
    vug_status status = VUG_OK;
    advance(r);
    while (!status && r->next.length) {
        if (take(r, "facet")) {
            r->ended = false;
            status = read_facet(r);
        } else if (misplaced(r->next)) {
            status = fail_word(r, "'facet' or 'endsolid'");
        } else {
            size_t line = r->line;
            bool end = take(r, "endsolid");
            bool known = end || take(r, "solid");
            r->ended = end || (r->ended && !known);
            if (!known)
                skip_strange(r);
            else if (r->line == line)
                skip_name(r);
        }
    }
    return status ? status : flush(r);
}

static vug_status judge(const reader *r)
{
    const vugi_facets *f = r->facets;
    if (f->count == 0 && r->strange_line)
        return vugi_fail(f->ctx, VUG_ERR_FORMAT,
            "%s: line %zu: '%s' is no STL, and no facet "
            "follows",
            f->name, r->strange_line, r->strange);
    if (r->strange_line)
        vugi_warn(f->ctx, "%s: line %zu: '%s' is no STL; such lines are ignored", f->name,
            r->strange_line, r->strange);
    if (f->count && !r->ended)
        vugi_warn(f->ctx,
            "%s: line %zu: 'endsolid' is missing at the end; the file may be cut "
            "off",
            f->name, r->line);
    return VUG_OK;
}

vug_status vugi_stl_read_text(vugi_facets *facets, const unsigned char *data, size_t size)
{
    vug_context *ctx = facets->ctx;
    size_t mark = size >= 3 && memcmp(data, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0; /* UTF-8 mark */
    reader r = {.facets = facets, .start = data, .at = data + mark, .end = data + size, .line = 1};
    r.corner = vugi_alloc(&ctx->mem, BATCH, 9 * sizeof *r.corner);
    vug_status status = r.corner ? VUG_OK : vugi_fail_memory(ctx);
    if (!status)
        status = vugi_weld_begin(ctx, &facets->weld, size / 500); /* about 250 bytes a facet */
    if (!status)
        status = read_words(&r);
    if (!status)
        status = judge(&r);
    vugi_free(&ctx->mem, r.corner);
    return status;
}

/* ---- kind of file -------------------------------------------------------------------------- */

bool vugi_stl_all_text(const unsigned char *data, size_t size)
{
    while (size && data[size - 1] == 0)
        size--; /* padding */
    for (size_t i = 0; i < size && i < LOOK; i++)
        if (data[i] < ' ' && !(data[i] >= '\t' && data[i] <= '\r'))
            return false;
    return size > 0;
}

bool vugi_stl_is_text(const unsigned char *data, size_t size)
{
    size_t mark = size >= 3 && memcmp(data, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
    reader r = {.at = data + mark, .end = data + size};
    advance(&r);
    return (word_is(r.next, "solid") || word_is(r.next, "facet")) && vugi_stl_all_text(data, size);
}
