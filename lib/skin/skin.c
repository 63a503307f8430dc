/* SPDX-License-Identifier: MIT
 * The public face of skins: made, and freed. */
#include "skin/skin.h"

#include "skin/piece.h"

#include "base/vec.h"
#include "cavity/spacing.h"

#include <math.h>

static const vug_skin_options skin_defaults = {
    .struct_size = sizeof(vug_skin_options),
    .depth_mm = 0.2,
    .after_s = 60.0,
};

/* Pieces in all, by area: what a table of them may take of memory. */
static const double MOST_PIECES = 5e7;

vug_status vug_skin_options_init(vug_skin_options *options, size_t size)
{
    return vugi_struct_init(options, size, &skin_defaults, sizeof skin_defaults);
}

static vug_status check_ranges(vug_context *ctx, const vug_skin_options *o)
{
    const struct {
        const char *name;
        double value, lo, hi;
    } list[] = {
        {"spacing_mm", o->spacing_mm, 0.0, 1e6},
        {"depth_mm", o->depth_mm, 0.0, 1e3},
        {"after_s", o->after_s, 1e-3, 1e9},
    };
    for (size_t i = 0; i < sizeof list / sizeof *list; i++)
        if (!(list[i].value >= list[i].lo && list[i].value <= list[i].hi))
            return vugi_fail(ctx, VUG_ERR_ARGUMENT,
                "vug_skin_options.%s is %g, it must be %g to %g", list[i].name, list[i].value,
                list[i].lo, list[i].hi);
    if (o->view && o->view_count == 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "vug_skin_options.view is given, but view_count is 0");
    if (!o->view && o->view_count > 0)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT,
            "vug_skin_options.view is NULL, but view_count is %zu", o->view_count);
    return VUG_OK;
}

/* Where nobody says how wide pieces are: so many along the longest side of a cavity. */
static double usual_spacing(const vug_cavities *cavities)
{
    double longest = 0.0;
    for (size_t i = 0; i < cavities->cavity_count; i++)
        longest = fmax(longest, vugi_cavities_spread(cavities, i, 1).longest);
    return longest / 100.0;
}

double vugi_skin_pieces_bytes(const vug_cavities *cavities)
{
    return (double)vugi_pieces_count(cavities, usual_spacing(cavities))
        * (double)sizeof(vugi_skin_piece);
}

/* The spacing, and whether it makes too many pieces. */
static vug_status read_spacing(vug_context *ctx, const vug_cavities *cavities, double *spacing)
{
    double area = 0.0;
    for (size_t i = 0; i < cavities->cavity_count; i++)
        area += cavities->cavity[i].area;
    if (*spacing == 0.0)
        *spacing = usual_spacing(cavities);
    if (!(area < MOST_PIECES * 0.25 * *spacing * *spacing))
        return vugi_fail(ctx, VUG_ERR_LIMIT,
            "spacing_mm is %g, on %g mm2 of skin it must be at least %g", *spacing, area,
            sqrt(area / (0.25 * MOST_PIECES)) * (1.0 + 1e-9));
    return VUG_OK;
}

static vug_status see(vug_context *ctx, const vug_cavities *cavities, const vug_skin_options *o,
    struct vug_skin *skin)
{
    double *unit = vugi_alloc(&ctx->mem, 3 * o->view_count, sizeof *unit);
    vug_status status = unit ? VUG_OK : vugi_fail_memory(ctx);
    for (size_t i = 0; i < o->view_count && !status; i++) {
        double *u = unit + 3 * i;
        for (int k = 0; k < 3; k++)
            u[k] = o->view[3 * i + (size_t)k];
        double length = vugi_normalise(u);
        if (!(length > 0.0) || !isfinite(length))
            status = vugi_fail(ctx, VUG_ERR_ARGUMENT,
                "vug_skin_options.view: row %zu has no usable length", i);
    }
    if (!status)
        status = vugi_pieces_see(ctx, cavities, unit, o->view_count, skin);
    vugi_free(&ctx->mem, unit);
    return status;
}

vug_status vug_skin_make(vug_context *ctx, const vug_cavities *cavities,
    const vug_skin_options *options, vug_skin **out)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!cavities || !out)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "cavities or out is NULL");
    vug_skin_options o = skin_defaults;
    vug_status status = vugi_struct_read(ctx, &o, sizeof o, options, "vug_skin_options");
    if (!status)
        status = check_ranges(ctx, &o);
    if (!status && cavities->cavity_count == 0)
        status = vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no cavity, and so no skin");
    if (!status)
        status = read_spacing(ctx, cavities, &o.spacing_mm);
    if (status)
        return status;
    vug_skin *skin = vugi_calloc(&ctx->mem, 1, sizeof *skin);
    if (!skin)
        return vugi_fail_memory(ctx);
    skin->mem = ctx->mem;
    skin->spacing = o.spacing_mm;
    skin->depth = o.depth_mm;
    skin->after = o.after_s;
    status = vugi_pieces_cut(ctx, cavities, skin);
    if (!status && o.view)
        status = see(ctx, cavities, &o, skin);
    if (status)
        vug_skin_free(skin);
    else
        *out = skin;
    return status;
}

void vug_skin_free(vug_skin *skin)
{
    if (!skin)
        return;
    vugi_allocator mem = skin->mem;
    vugi_free(&mem, skin->part);
    vugi_free(&mem, skin->piece);
    vugi_free(&mem, skin);
}
