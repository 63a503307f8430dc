/* SPDX-License-Identifier: MIT
 * A mesh out, in a format. */
#include "mesh/edges.h"
#include "mesh/format.h"
#include "mesh/mesh.h"
#include "mesh/ply_save.h"
#include "mesh/stl_save.h"
#include "mesh/tally.h"
#include "mesh/threemf_save.h"

#include <string.h>

/* What a file is called without its folder and its ending, cut to what fits. */
static void stem_of(const char *path, char *stem, size_t size)
{
    const char *slash = strrchr(path, '/'), *name = slash ? slash + 1 : path;
    const char *dot = strrchr(name, '.');
    size_t length = dot ? (size_t)(dot - name) : strlen(name);
    if (length >= size)
        length = size - 1;
    memcpy(stem, name, length);
    stem[length] = 0;
}

static vug_status save_3mf(vug_context *ctx, const vug_mesh *mesh, const char *path)
{
    vugi_progress_begin(ctx, "writing 3MF");
    vugi_edges edges;
    vug_mesh_measures m = {.struct_size = sizeof m};
    vug_status status = vugi_edges_build(ctx, mesh, &edges);
    if (status)
        return status;
    status = vugi_edges_tally(ctx, mesh, &edges, NULL, 1, &m);
    vugi_edges_free(ctx, &edges);
    char stem[128];
    stem_of(path, stem, sizeof stem);
    const vugi_3mf_piece piece = {mesh, stem, m.closed && m.edges_nonmanifold == 0};
    if (!status)
        status = vugi_3mf_save(ctx, &piece, 1, path);
    return status;
}

/* ---- the call ------------------------------------------------------------------------------ */

static int32_t format_of_name(const char *path)
{
    return vugi_ends_with(path, ".stl") ? VUG_FORMAT_STL
        : vugi_ends_with(path, ".ply")  ? VUG_FORMAT_PLY
        : vugi_ends_with(path, ".3mf")  ? VUG_FORMAT_3MF
                                        : VUG_FORMAT_NONE;
}

vug_status vug_mesh_save(vug_context *ctx, const vug_mesh *mesh, const char *path, int32_t format,
    const uint8_t *rgb)
{
    if (!ctx || !mesh || !path)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx        ? "ctx"
                : !mesh ? "mesh"
                        : "path");
    if (format < VUG_FORMAT_AUTO || format >= VUG_FORMAT_COUNT)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "format %d is not one of %d .. %d", (int)format,
            VUG_FORMAT_AUTO, VUG_FORMAT_COUNT - 1);
    if (format == VUG_FORMAT_AUTO)
        format = format_of_name(path);
    if (format != VUG_FORMAT_STL && format != VUG_FORMAT_PLY && format != VUG_FORMAT_3MF)
        return vugi_fail(ctx, VUG_ERR_UNSUPPORTED,
            "%s: written are STL, PLY and 3MF; let the name end in .stl, .ply or .3mf, or name the "
            "format",
            path);
    if (rgb && format != VUG_FORMAT_PLY)
        return vugi_fail(ctx, VUG_ERR_UNSUPPORTED, "%s: colours need PLY", path);
    return format == VUG_FORMAT_STL ? vugi_save_stl(ctx, mesh, path)
        : format == VUG_FORMAT_PLY  ? vugi_save_ply(ctx, mesh, rgb, path)
                                    : save_3mf(ctx, mesh, path);
}
