/* SPDX-License-Identifier: MIT */
#include "mesh/threemf_save.h"

#include "mesh/zip_save.h"

#include <string.h>

#define XML "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"

static const char types[] = XML
    "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\">"
    "<Default Extension=\"rels\" "
    "ContentType=\"application/vnd.openxmlformats-package.relationships+xml\"/>"
    "<Default Extension=\"model\" "
    "ContentType=\"application/vnd.ms-package.3dmanufacturing-3dmodel+xml\"/></Types>\n";
static const char relations[] = XML
    "<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\">"
    "<Relationship Id=\"model\" Target=\"/3D/model.model\" "
    "Type=\"http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel\"/></Relationships>\n";
static const char model_begin[] = XML
    "<model unit=\"millimeter\" xml:lang=\"en-US\" "
    "xmlns=\"http://schemas.microsoft.com/3dmanufacturing/core/2015/02\">\n<resources>\n";

/* Text on its way into the archive. */
typedef struct writing {
    vug_context *ctx;
    vugi_zip_out *zip;
    char text[32768];
    size_t used;
    double done, whole; /* rows, for progress */
} writing;

enum { LONGEST = 160 /* of one row */ };

static vug_status flush(writing *w)
{
    vug_status status = vugi_zip_add(w->zip, w->text, w->used);
    w->used = 0;
    return status ? status : vugi_step(w->ctx, w->done / w->whole);
}

static vug_status room(writing *w)
{
    return sizeof w->text - w->used < LONGEST ? flush(w) : VUG_OK;
}

static vug_status put(writing *w, const char *text)
{
    vug_status status = VUG_OK;
    for (; !status && *text; text++) {
        status = room(w);
        w->text[w->used++] = *text;
    }
    return status;
}

/* A name within quotes. Characters that XML has no place for become blanks. */
static vug_status put_name(writing *w, const char *name)
{
    vug_status status = put(w, " name=\"");
    for (; !status && *name; name++) {
        char one[2] = {(char)((unsigned char)*name < ' ' ? ' ' : *name), 0};
        status = put(w,
            *name == '&'       ? "&amp;"
                : *name == '<' ? "&lt;"
                : *name == '"' ? "&quot;"
                               : one);
    }
    return status ? status : put(w, "\"");
}

static vug_status put_vertices(writing *w, const vug_mesh *mesh)
{
    vug_status status = put(w, "<mesh><vertices>\n");
    for (size_t v = 0; !status && v < mesh->vertex_count; v++) {
        const double *p = mesh->xyz + 3 * v;
        status = room(w);
        w->used += vugi_print(w->text + w->used, LONGEST,
            "<vertex x=\"%.12g\" y=\"%.12g\" z=\"%.12g\"/>\n", p[0], p[1], p[2]);
        w->done++;
    }
    return status ? status : put(w, "</vertices>");
}

static vug_status put_triangles(writing *w, const vug_mesh *mesh)
{
    vug_status status = put(w, "<triangles>\n");
    for (size_t t = 0; !status && t < mesh->triangle_count; t++) {
        const uint32_t *v = mesh->triangles + 3 * t;
        w->done++;
        if (v[0] == v[1] || v[1] == v[2] || v[2] == v[0])
            continue;
        status = room(w);
        w->used += vugi_print(w->text + w->used, LONGEST,
            "<triangle v1=\"%u\" v2=\"%u\" v3=\"%u\"/>\n", v[0], v[1], v[2]);
    }
    return status ? status : put(w, "</triangles></mesh>");
}

static vug_status put_object(writing *w, const vugi_3mf_piece *piece, size_t number)
{
    char begin[LONGEST];
    vugi_print(begin, sizeof begin, "<object id=\"%zu\" type=\"%s\"", number,
        piece->closed ? "model" : "surface");
    vug_status status = put(w, begin);
    if (!status && piece->name)
        status = put_name(w, piece->name);
    if (!status)
        status = put(w, ">");
    if (!status)
        status = put_vertices(w, piece->mesh);
    if (!status)
        status = put_triangles(w, piece->mesh);
    return status ? status : put(w, "</object>\n");
}

static vug_status put_model(writing *w, const vugi_3mf_piece *pieces, size_t count)
{
    vug_status status = put(w, model_begin);
    for (size_t i = 0; !status && i < count; i++)
        status = put_object(w, &pieces[i], i + 1);
    if (!status)
        status = put(w, "</resources>\n<build>\n");
    for (size_t i = 0; !status && i < count; i++) {
        char item[LONGEST];
        vugi_print(item, sizeof item, "<item objectid=\"%zu\"/>\n", i + 1);
        status = put(w, item);
    }
    if (!status)
        status = put(w, "</build>\n</model>\n");
    return status ? status : flush(w);
}

static vug_status put_whole(vugi_zip_out *zip, const char *name, const char *text)
{
    vug_status status = vugi_zip_begin(zip, name);
    if (!status)
        status = vugi_zip_add(zip, text, strlen(text));
    return status ? status : vugi_zip_end(zip);
}

static vug_status put_all(writing *w, const vugi_3mf_piece *pieces, size_t count)
{
    vug_status status = put_whole(w->zip, "[Content_Types].xml", types);
    if (!status)
        status = put_whole(w->zip, "_rels/.rels", relations);
    if (!status)
        status = vugi_zip_begin(w->zip, "3D/model.model");
    if (!status)
        status = put_model(w, pieces, count);
    if (!status)
        status = vugi_zip_end(w->zip);
    return status
        ? status
        : vugi_step(w->ctx, 1.0); /* the last look at cancel: what is committed is there */
}

vug_status vugi_3mf_save(vug_context *ctx, const vugi_3mf_piece *pieces, size_t count,
    const char *path)
{
    writing *w = vugi_calloc(&ctx->mem, 1, sizeof *w);
    if (!w)
        return vugi_fail_memory(ctx);
    w->ctx = ctx;
    w->whole = 1.0;
    for (size_t i = 0; i < count; i++)
        w->whole += (double)(pieces[i].mesh->vertex_count + pieces[i].mesh->triangle_count);
    vug_status status = vugi_zip_create(ctx, path, &w->zip);
    if (!status) {
        status = put_all(w, pieces, count);
        if (status)
            vugi_zip_drop(w->zip);
        else
            status = vugi_zip_commit(w->zip);
    }
    vugi_free(&ctx->mem, w);
    return status;
}
