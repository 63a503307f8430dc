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

/* Is it a solid? */
static vug_status look(vug_context *ctx, vugi_3mf_piece *piece)
{
    vugi_edges edges;
    vug_mesh_measures m = {.struct_size = sizeof m};
    vug_status status = vugi_edges_build(ctx, piece->mesh, &edges);
    if (status)
        return status;
    status = vugi_edges_tally(ctx, piece->mesh, &edges, NULL, 1, &m);
    vugi_edges_free(ctx, &edges);
    piece->closed = m.closed && m.edges_nonmanifold == 0;
    return status;
}

static vug_status save_3mf(vug_context *ctx, const vug_mesh *mesh, const char *path)
{
    vugi_progress_begin(ctx, "writing 3MF");
    char stem[128];
    stem_of(path, stem, sizeof stem);
    vugi_3mf_piece piece = {mesh, stem, false};
    vug_status status = look(ctx, &piece);
    return status ? status : vugi_3mf_save(ctx, &piece, 1, path);
}

/* ---- the calls ------------------------------------------------------------------------------ */

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

vug_status vug_mesh_save_pieces(vug_context *ctx, const vug_mesh *const *pieces,
    const char *const *names, size_t count, const char *path)
{
    if (!ctx || !pieces || !path)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%s is NULL",
            !ctx          ? "ctx"
                : !pieces ? "pieces"
                          : "path");
    if (count == 0 || count > VUG_MAX_OPENINGS)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "%zu pieces; a file takes 1 to %d", count,
            VUG_MAX_OPENINGS);
    vugi_progress_begin(ctx, "writing 3MF");
    vugi_3mf_piece *list = vugi_alloc(&ctx->mem, count, sizeof *list);
    vug_status status = list ? VUG_OK : vugi_fail_memory(ctx);
    for (size_t i = 0; !status && i < count; i++) {
        list[i] = (vugi_3mf_piece){pieces[i], names ? names[i] : NULL, false};
        status = pieces[i] ? look(ctx, &list[i])
                           : vugi_fail(ctx, VUG_ERR_ARGUMENT, "piece %zu is NULL", i);
    }
    if (!status)
        status = vugi_3mf_save(ctx, list, count, path);
    vugi_free(&ctx->mem, list);
    return status;
}
