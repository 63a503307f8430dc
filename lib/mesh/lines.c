/* SPDX-License-Identifier: MIT */
#include "mesh/lines.h"
#include "mesh/number.h"

#include <string.h>

vugi_word vugi_lines_word(vugi_lines *lines)
{
    while (lines->at < lines->end && *lines->at <= ' ' && *lines->at != '\n')
        lines->at++;
    vugi_word word = {lines->at, 0};
    if (lines->at < lines->end && *lines->at == '#')
        return word;
    while (lines->at<lines->end && * lines->at> ' ')
        lines->at++;
    word.length = (size_t)(lines->at - word.text);
    return word;
}

void vugi_lines_skip(vugi_lines *lines)
{
    while (lines->at < lines->end && *lines->at != '\n')
        lines->at++;
    lines->line += lines->at < lines->end;
    lines->at += lines->at < lines->end;
}

vugi_word vugi_lines_first(vugi_lines *lines)
{
    for (;;) {
        vugi_word word = vugi_lines_word(lines);
        if (word.length || lines->at == lines->end)
            return word;
        vugi_lines_skip(lines);
    }
}

bool vugi_word_is(vugi_word word, const char *text)
{
    return word.length == strlen(text) && memcmp(word.text, text, word.length) == 0;
}

bool vugi_word_count(vugi_word word, size_t limit, size_t *count)
{
    *count = 0;
    for (size_t i = 0; i < word.length; i++) {
        if (word.text[i] < '0' || word.text[i] > '9' || *count > limit)
            return false;
        *count = 10 * *count + (size_t)(word.text[i] - '0');
    }
    return word.length > 0 && *count <= limit;
}

vug_status vugi_lines_fail(const vugi_lines *lines, const char *expected)
{
    return vugi_fail(lines->gather->ctx, VUG_ERR_FORMAT, "%s: line %zu: %s should stand here",
        lines->gather->name, lines->line, expected);
}

vug_status vugi_lines_point(vugi_lines *lines, vugi_word word, double p[3])
{
    for (int k = 0; k < 3; k++) {
        if (k)
            word = vugi_lines_word(lines);
        int kind = vugi_number_read(word.text, word.length, &p[k]);
        if (kind == VUGI_NUMBER_NOT_FINITE)
            return vugi_fail(lines->gather->ctx, VUG_ERR_MESH,
                "%s: line %zu: coordinate %c is not a finite number", lines->gather->name,
                lines->line, 'x' + k);
        if (kind == VUGI_NUMBER_BAD)
            return vugi_lines_fail(lines, "a vertex of three numbers");
    }
    return VUG_OK;
}

/* ---- polygons ------------------------------------------------------------------------------ */

enum { STRIDE = 65536 }; /* corners between two looks at cancel: one line can be the whole file */

vug_status vugi_fans_corner(vugi_fans *fans, size_t vertex)
{
    if (fans->corners >= 2) {
        if (!vugi_reserve(&fans->ctx->mem, &fans->triangle, &fans->capacity, fans->count + 1,
                3 * sizeof *fans->triangle))
            return vugi_fail_memory(fans->ctx);
        const uint32_t t[3] = {fans->first, fans->last, (uint32_t)vertex};
        memcpy(fans->triangle + 3 * fans->count++, t, sizeof t);
    }
    if (fans->corners++ == 0)
        fans->first = (uint32_t)vertex;
    fans->last = (uint32_t)vertex;
    return fans->corners % STRIDE == 0 ? vugi_step(fans->ctx, 0.0) : VUG_OK;
}

void vugi_fans_close(vugi_fans *fans)
{
    fans->corners = 0;
}
