/* SPDX-License-Identifier: MIT
 * Any format in. */
#include "mesh/load.h"

#include "mesh/file.h"
#include "mesh/format.h"
#include "mesh/obj.h"
#include "mesh/off.h"
#include "mesh/ply.h"
#include "mesh/stl.h"
#include "mesh/threemf_save.h"

#include "config.h"

#include <math.h>

/* ---- units -------------------------------------------------------------------------------- */

static double longest_side(const vug_mesh *mesh)
{
    double side = 0.0;
    for (int k = 0; k < 3; k++)
        side = fmax(side, mesh->hi[k] - mesh->lo[k]);
    return side;
}

/* Prints are some millimetres to some hundred millimetres long. What is far from that was likely
 * drawn in another unit (common practice, no source). */
static void warn_of_size(vug_context *ctx, const vug_mesh *mesh, const char *path)
{
    double side = longest_side(mesh);
    if (side <= 0.0)
        return;
    if (side < 0.5)
        vugi_warn(ctx,
            "%s: the part is only %.3g mm long; it looks like metres (then %.3g mm): "
            "give the unit",
            path, side, 1000.0 * side);
    else if (side < 5.0)
        vugi_warn(ctx,
            "%s: the part is only %.3g mm long; it may be in inches (then %.3g mm): "
            "give the unit",
            path, side, 25.4 * side);
    else if (side > 2000.0)
        vugi_warn(ctx,
            "%s: the part is %.4g mm long, more than a printer makes; it may be in "
            "micrometres (then %.3g mm): give the unit",
            path, side, side / 1000.0);
}

static vug_mesh *scaled(vug_context *ctx, vug_mesh *mesh, double factor)
{
    for (size_t i = 0; i < 3 * mesh->vertex_count; i++)
        mesh->xyz[i] *= factor; /* nobody else has the mesh yet */
    double *xyz = mesh->xyz;
    uint32_t *triangles = mesh->triangles;
    size_t vertices = mesh->vertex_count, count = mesh->triangle_count;
    mesh->xyz = NULL;
    mesh->triangles = NULL;
    vug_mesh_free(mesh);
    return vugi_mesh_adopt(&ctx->mem, xyz, vertices, triangles, count);
}

static vug_status scale_stl(vug_context *ctx, vug_mesh **mesh, double factor)
{
    double size = 0.0;
    for (int k = 0; k < 3; k++)
        size = fmax(size, fmax(fabs((*mesh)->lo[k]), fabs((*mesh)->hi[k])));
    if (size * factor > VUG_MAX_COORDINATE_MM)
        return vugi_fail(ctx, VUG_ERR_LIMIT, "a coordinate of %g mm; the limit is %g mm",
            size * factor, (double)VUG_MAX_COORDINATE_MM);
    *mesh = scaled(ctx, *mesh, factor);
    return *mesh ? VUG_OK : vugi_fail_memory(ctx);
}

/* ---- the call ------------------------------------------------------------------------------ */

static const vug_mesh_load_options load_defaults = {.struct_size = sizeof(vug_mesh_load_options),
    .warn_of_size = 1};

vug_status vug_mesh_load_options_init(vug_mesh_load_options *options, size_t size)
{
    return vugi_struct_init(options, size, &load_defaults, sizeof load_defaults);
}

static vug_status read_stl(vug_context *ctx, const char *path, const unsigned char *data,
    size_t size, double unit_mm, vug_mesh **out)
{
    vug_mesh *mesh = NULL;
    vug_status status = vugi_stl_load(ctx, data, size, path, &mesh);
    if (!status && unit_mm > 0.0 && (unit_mm < 1.0 || unit_mm > 1.0))
        status = scale_stl(ctx, &mesh, unit_mm);
    if (status)
        vug_mesh_free(mesh);
    else
        *out = mesh;
    return status;
}

static vug_status read_any(vug_context *ctx, const char *path, int32_t format,
    const unsigned char *data, size_t size, double unit_mm, vug_mesh **out)
{
    if (size == 0)
        return vugi_fail(ctx, VUG_ERR_FORMAT, "%s: the file is empty", path);
    if (format == VUG_FORMAT_STL)
        return read_stl(ctx, path, data, size, unit_mm, out);
    vugi_gather gather = {.ctx = ctx, .name = path};
    vug_status status = format == VUG_FORMAT_3MF ? vugi_read_3mf(&gather, data, size, unit_mm)
        : format == VUG_FORMAT_OBJ               ? vugi_read_obj(&gather, data, size, unit_mm)
        : format == VUG_FORMAT_OFF               ? vugi_read_off(&gather, data, size, unit_mm)
                                                 : vugi_read_ply(&gather, data, size, unit_mm);
    if (!status)
        status = vugi_gather_end(&gather, out);
    if (!status && gather.unit_mm > 0.0)
        (*out)->unit_mm = gather.unit_mm;
    vugi_gather_free(&gather);
    return status;
}

static vug_status read_options(vug_context *ctx, const vug_mesh_load_options *options,
    vug_mesh_load_options *own)
{
    *own = load_defaults;
    vug_status status = vugi_struct_read(ctx, own, sizeof *own, options, "vug_mesh_load_options");
    if (!status && (own->format < VUG_FORMAT_AUTO || own->format >= VUG_FORMAT_COUNT))
        status = vugi_fail(ctx, VUG_ERR_ARGUMENT, "format %d is not one of %d .. %d",
            (int)own->format, VUG_FORMAT_AUTO, VUG_FORMAT_COUNT - 1);
    if (!status && (!(own->unit_mm >= 0.0) || own->unit_mm > 1e6))
        status = vugi_fail(ctx, VUG_ERR_ARGUMENT, "unit_mm is %g; it must be from 0 to 1e6",
            own->unit_mm);
    return status;
}

/* A whole file at data, called name. */
static vug_status read_file(vug_context *ctx, const char *name, const unsigned char *data,
    size_t size, const vug_mesh_load_options *options, vug_mesh **out)
{
    vug_mesh *mesh = NULL;
    const char *foreign = options->format ? NULL : vugi_foreign_kind(data, size);
    if (foreign)
        return vugi_fail(ctx, VUG_ERR_FORMAT, "%s: it is %s, no mesh", name, foreign);
    int32_t format = options->format ? options->format : vugi_format_of(name, data, size);
    vug_status status = read_any(ctx, name, format, data, size, options->unit_mm, &mesh);
    if (status)
        return status;
    if (options->warn_of_size && options->unit_mm <= 0.0 && format != VUG_FORMAT_3MF)
        warn_of_size(ctx, mesh, name);
    if (options->unit_mm > 0.0)
        mesh->unit_mm = options->unit_mm;
    *out = mesh;
    return VUG_OK;
}

vug_status vug_mesh_load(vug_context *ctx, const char *path, const vug_mesh_load_options *options,
    vug_mesh **out)
{
    vug_mesh_load_options own;
    if (!ctx || !path || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx        ? "ctx"
                : !path ? "path"
                        : "out");
    vug_status status = read_options(ctx, options, &own);
    if (status)
        return status;
    vugi_progress_begin(ctx, "reading");
    unsigned char *data = NULL;
    size_t size = 0;
    vugi_range saved = vugi_progress_enter(ctx, 0.0, 0.3, "reading");
    status = vugi_file_read(ctx, path, VUGI_STL_MAX_BYTES, &data, &size);
    vugi_progress_leave(ctx, saved);
    if (status)
        return status;
    saved = vugi_progress_enter(ctx, 0.3, 1.0, "reading");
    status = read_file(ctx, path, data, size, &own, out);
    vugi_progress_leave(ctx, saved);
    vugi_free(&ctx->mem, data);
    return status;
}

vug_status vug_mesh_load_memory(vug_context *ctx, const void *data, size_t size, const char *name,
    const vug_mesh_load_options *options, vug_mesh **out)
{
    vug_mesh_load_options own;
    if (!ctx || !out || (!data && size))
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL", !ctx ? "ctx" : !out ? "out" : "data");
    vug_status status = read_options(ctx, options, &own);
    if (status)
        return status;
    vugi_progress_begin(ctx, "reading");
    return read_file(ctx, name ? name : "memory", data, size, &own, out);
}

/* ---- without zlib and expat -------------------------------------------------------------------- */

#ifndef HAVE_3MF
vug_status vugi_read_3mf(vugi_gather *gather, const unsigned char *data, size_t size,
    double unit_mm)
{
    (void)data;
    (void)size;
    (void)unit_mm;
    return vugi_fail(gather->ctx, VUG_ERR_UNSUPPORTED,
        "%s: this library is built without zlib and expat, "
        "by which it reads 3MF; save the part as STL",
        gather->name);
}

vug_status vugi_3mf_save(vug_context *ctx, const vugi_3mf_piece *pieces, size_t count,
    const char *path)
{
    (void)pieces;
    (void)count;
    return vugi_fail(ctx, VUG_ERR_UNSUPPORTED,
        "%s: this library is built without zlib, by which it writes 3MF; save the part as STL",
        path);
}
#endif
