/* SPDX-License-Identifier: MIT
 * What was wetted, as a whole, by triangle and by spot. */
#include "skin/spots.h"

#include <assert.h>

typedef struct sums {
    double area[4], seen[4]; /* by VUGI_PIECE_ */
    double film;
} sums;

static void add(sums *s, const vugi_skin_piece *p)
{
    int state = vugi_piece_state(p);
    s->area[state] += p->area;
    s->seen[state] += p->area * p->seen;
    s->film += state == VUGI_PIECE_FILMED ? p->area * p->film : 0.0;
}

static vug_status largest_spot(vug_context *ctx, const vug_skin *skin, vug_skin_info *info)
{
    vugi_skin_spot *spot = NULL;
    size_t count = 0;
    vug_status status = vugi_skin_find_spots(ctx, skin, &spot, &count);
    if (!status && count > 0) {
        info->spot_mm2 = spot->area;
        for (int k = 0; k < 3; k++)
            info->spot_at_mm[k] = spot->middle[k];
    }
    vugi_free(&ctx->mem, spot);
    return status;
}

vug_status vug_skin_get(vug_context *ctx, const vug_skin *skin, vug_skin_info *info)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!skin || !info)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "skin or info is NULL");
    vug_skin_info own = {.struct_size = sizeof own};
    sums all = {.film = 0.0};
    for (size_t i = 0; i < skin->part_count; i++) {
        const vugi_skin_part *part = skin->part + i;
        own.courses += part->courses;
        for (size_t n = 0; n < part->count && part->courses > 0; n++)
            add(&all, skin->piece + part->first + n);
    }
    own.backed_mm2 = all.area[VUGI_PIECE_BACKED];
    own.filmed_mm2 = all.area[VUGI_PIECE_FILMED];
    own.bare_mm2 = all.area[VUGI_PIECE_BARE];
    own.unknown_mm2 = all.area[VUGI_PIECE_UNKNOWN];
    own.area_mm2 = own.backed_mm2 + own.filmed_mm2 + own.bare_mm2 + own.unknown_mm2;
    double seen = 0.0;
    for (int k = 0; k < 4; k++)
        seen += all.seen[k];
    if (seen > 0.0) {
        own.backed_share = all.seen[VUGI_PIECE_BACKED] / seen;
        own.filmed_share = all.seen[VUGI_PIECE_FILMED] / seen;
        own.bare_share = all.seen[VUGI_PIECE_BARE] / seen;
    }
    own.film_mm = own.filmed_mm2 > 0.0 ? all.film / own.filmed_mm2 : 0.0;
    vug_status status = largest_spot(ctx, skin, &own);
    return status ? status : vugi_struct_write(ctx, info, &own, sizeof own, "vug_skin_info");
}

vug_status vug_skin_triangles(vug_context *ctx, const vug_skin *skin, size_t cavity, double **rows,
    size_t *row_count)
{
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!skin || !rows || !row_count)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "skin, rows or row_count is NULL");
    if (cavity >= skin->part_count)
        return vugi_fail(ctx, VUG_ERR_NOT_FOUND, "there is no cavity %zu, there are %zu", cavity,
            skin->part_count);
    const vugi_skin_part *part = skin->part + cavity;
    double *out = vugi_calloc(&ctx->mem, 4 * part->triangles, sizeof *out);
    if (!out)
        return vugi_fail_memory(ctx);
    for (size_t n = part->first; n < part->first + part->count; n++) {
        const vugi_skin_piece *p = skin->piece + n;
        double *row = out + 4 * (size_t)p->triangle;
        int state = vugi_piece_state(p);
        assert(p->triangle < part->triangles);
        if (state != VUGI_PIECE_UNKNOWN)
            row[state] += p->area;
        if (state == VUGI_PIECE_FILMED)
            row[3] += p->area * p->film;
    }
    for (size_t t = 0; t < part->triangles; t++)
        if (out[4 * t + VUGI_PIECE_FILMED] > 0.0)
            out[4 * t + 3] /= out[4 * t + VUGI_PIECE_FILMED];
    *rows = out;
    *row_count = part->triangles;
    return VUG_OK;
}

vug_status vug_skin_spots(vug_context *ctx, const vug_skin *skin, double **rows, size_t *row_count)
{
    vugi_skin_spot *spot = NULL;
    size_t count = 0;
    double *out = NULL;
    if (!ctx)
        return VUG_ERR_ARGUMENT;
    if (!skin || !rows || !row_count)
        return vugi_fail(ctx, VUG_ERR_ARGUMENT, "skin, rows or row_count is NULL");
    vug_status status = vugi_skin_find_spots(ctx, skin, &spot, &count);
    if (!status && count > 0 && !(out = vugi_alloc(&ctx->mem, 5 * count, sizeof *out)))
        status = vugi_fail_memory(ctx);
    for (size_t i = 0; i < count && !status; i++) {
        double *row = out + 5 * i;
        for (int k = 0; k < 3; k++)
            row[k] = spot[i].middle[k];
        row[3] = spot[i].area;
        row[4] = spot[i].seen;
    }
    vugi_free(&ctx->mem, spot);
    if (status)
        return status;
    *rows = out;
    *row_count = count;
    return VUG_OK;
}
