/* SPDX-License-Identifier: MIT */
#include "page.h"
#include "json.h"
#include "../tool/fail.h"
#include "../tool/file_name.h"
#include "../tool/json.h"
#include "../tool/whole_file.h"

#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* Where part and plan go in the page. */
static const char part_mark[] = "id=\"part\" data-name=\"", plan_mark[] = "id=\"made\">";

/* Of the plan in words: a paragraph is one line, which the page breaks itself. */
enum { ALL_IN_ONE_LINE = 10000 };

/* ---- the page without a part ------------------------------------------------------------- */

static const char *page_file(void)
{
    const char *named = getenv("VUG_PAGE");
    return named && *named ? named : VUG_PAGE_FILE;
}

/* All of the file, ended; free(). NULL: it cannot be read. */
static char *read_text(FILE *stream)
{
    char *text = NULL;
    long size = -1;
    if (fseek(stream, 0, SEEK_END) == 0 && (size = ftell(stream)) > 0
        && fseek(stream, 0, SEEK_SET) == 0 && (text = malloc((size_t)size + 1)) != NULL) {
        size_t got = fread(text, 1, (size_t)size, stream);
        text[got] = '\0';
        if (got == (size_t)size)
            return text;
    }
    free(text);
    return NULL;
}

/* Does it have places for part and plan, in this order? */
static bool is_page(const char *text)
{
    const char *part = strstr(text, part_mark), *plan = strstr(text, plan_mark);
    return part && plan && part < plan && strncmp(part + strlen(part_mark), "\">", 2) == 0;
}

/* The page without a part; free(). NULL, with a message. */
static char *read_page(const tool *program)
{
    const char *file = page_file();
    FILE *stream = fopen(file, "rb");
    char *text = stream ? read_text(stream) : NULL;
    const bool good = text && is_page(text);
    if (!stream)
        fail(program,
            "the page %s is not there: make page, then make install, where Emscripten and npm are, "
            "or name it by VUG_PAGE",
            file);
    else if (!good)
        fail(program, "%s is no page that a part and a plan can be written into", file);
    if (stream)
        fclose(stream);
    if (good)
        return text;
    free(text);
    return NULL;
}

/* ---- the part: a binary STL in base 64 ---------------------------------------------------- */

typedef struct coder {
    FILE *stream;
    unsigned char held[3];
    int count;
} coder;

static void flush(coder *c)
{
    static const char sign[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    uint32_t all = (uint32_t)c->held[0] << 16 | (uint32_t)c->held[1] << 8 | c->held[2];
    if (c->count == 0)
        return;
    for (int i = 0; i < 4; i++)
        fputc(i <= c->count ? sign[all >> (18 - 6 * i) & 63] : '=', c->stream);
    memset(c->held, 0, sizeof c->held);
    c->count = 0;
}

static void put(coder *c, uint32_t word, int bytes)
{
    for (int i = 0; i < bytes; i++) {
        c->held[c->count++] = (unsigned char)(word >> (8 * i));
        if (c->count == 3)
            flush(c);
    }
}

static void put_part(FILE *stream, const vug_mesh *mesh)
{
    coder c = {.stream = stream};
    const double *xyz = vug_mesh_vertices(mesh);
    const uint32_t *corner = vug_mesh_triangles(mesh);
    size_t triangles = vug_mesh_triangle_count(mesh);
    put(&c, 0, 4);
    for (int i = 0; i < 19; i++)
        put(&c, 0, 4); /* 80 bytes of header */
    put(&c, (uint32_t)triangles, 4);
    for (size_t t = 0; t < triangles; t++) {
        for (int k = 0; k < 3; k++)
            put(&c, 0, 4); /* the normal goes by the corners */
        for (int k = 0; k < 9; k++) {
            float x = (float)xyz[3 * (size_t)corner[3 * t + (size_t)k / 3] + (size_t)k % 3];
            uint32_t word;
            memcpy(&word, &x, sizeof word);
            put(&c, word, 4);
        }
        put(&c, 0, 2);
    }
    flush(&c);
}

/* ---- the plan: the JSON that --json writes, its words, and the holes that were named ---------- */

static json_t *made_json(const fill_plan *plan, const char *text)
{
    const number_rows *given = &plan->settings->mesh.holes;
    json_t *made = plan_json(plan), *named = json_array();
    for (size_t i = 0; i < given->count; i++) {
        json_t *row = json_array();
        for (size_t k = 0; k < given->width; k++)
            json_array_append_new(row, json_real(given->number[given->width * i + k]));
        json_array_append_new(named, row);
    }
    json_object_set_new(made, "named", named);
    json_object_set_new(made, "text", json_string(text));
    return made;
}

/* ---- all of it ------------------------------------------------------------------------------ */

static void put_name(FILE *stream, const char *name)
{
    for (; *name; name++) {
        if (*name == '&' || *name == '"' || *name == '<')
            fprintf(stream, "&#%d;", *name);
        else
            fputc(*name, stream);
    }
}

static bool put_all(FILE *stream, const fill_plan *plan, const char *page, const char *name,
    json_t *made)
{
    const char *after = strstr(page, part_mark) + strlen(part_mark),
               *rest = strstr(page, plan_mark) + strlen(plan_mark);
    fwrite(page, 1, (size_t)(after - page), stream);
    put_name(stream, name);
    fputs("\">", stream);
    put_part(stream, plan->mesh);
    after += 2;
    fwrite(after, 1, (size_t)(rest - after), stream);
    int failed = json_dumpf(made, stream, JSON_COMPACT | JSON_ESCAPE_SLASH);
    fputs(rest, stream);
    return !failed && !ferror(stream);
}

static int write_page(const tool *program, const fill_plan *plan, const char *page,
    const char *file, json_t *made)
{
    char name[64], *beside = NULL;
    short_name(plan->settings->file, name);
    FILE *stream = whole_open(program, file, &beside);
    if (!stream)
        return FAILED;
    bool good = put_all(stream, plan, page, name, made);
    if (!good)
        fail(program, "%s cannot be written from %s", file, page_file());
    return whole_close(program, stream, file, beside, good);
}

int plan_page_ready(const tool *program)
{
    char *page = read_page(program);
    int code = page ? DONE : FAILED;
    free(page);
    return code;
}

int plan_page(const tool *program, const fill_plan *plan, const char *file)
{
    char name[64], *text = NULL, *page = read_page(program);
    if (!page)
        return FAILED;
    short_name(plan->settings->file, name);
    vug_status status = vug_plan_text(plan->ctx, plan->made, 0, name, plan->paint.name,
        plan->rinse.name, ALL_IN_ONE_LINE, &text);
    json_t *made = status ? NULL : made_json(plan, text);
    int code = status ? fail_status(program, plan->ctx, status)
        : made        ? write_page(program, plan, page, file, made)
                      : fail(program, "no memory");
    json_decref(made);
    vug_free(plan->ctx, text);
    free(page);
    return code;
}
