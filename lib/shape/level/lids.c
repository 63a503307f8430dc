/* SPDX-License-Identifier: MIT
 * The edges at one height and of one side are walked to loops; loops in loops are holes. */
#include "shape/level/lids.h"

#include "base/sort.h"

#include <string.h>

/* Those that look up first, then by height, then by where they begin. */
static int by_place(const void *left, const void *right, const void *user)
{
    const vugi_lid_edge *p = left, *q = right;
    (void)user;
    if (p->below != q->below)
        return p->below ? -1 : 1;
    if (p->height != q->height)
        return p->height < q->height ? -1 : 1;
    return (p->from > q->from) - (p->from < q->from);
}

/* The first edge not walked yet that begins where `last` ends; count: none. */
static size_t next_edge(const vugi_lid_edge *edge, size_t count, const bool *walked,
    const vugi_lid_edge *last)
{
    const vugi_lid_edge key = {last->to, 0, last->height, last->below};
    size_t i = vugi_lower_bound(&key, edge, count, sizeof *edge, by_place, NULL);
    while (i < count && by_place(&key, edge + i, NULL) == 0 && walked[i])
        i++;
    return i < count && by_place(&key, edge + i, NULL) == 0 ? i : count;
}

static vug_status walk_loop(const vugi_slabs *s, const vugi_lid_edge *edge, size_t count,
    size_t start, bool *walked, vugi_outline *outline)
{
    for (size_t i = start;;) {
        const double *p = s->xyz + 3 * (size_t)edge[i].from;
        const double uv[2] = {edge[i].below ? p[0] : p[1], edge[i].below ? p[1] : p[0]};
        walked[i] = true;
        if (!vugi_outline_add(outline, edge[i].from, uv))
            return VUG_ERR_MEMORY;
        if (edge[i].to == edge[start].from)
            break;
        i = next_edge(edge, count, walked, edge + i);
        if (i == count)
            return VUG_ERR_MESH;
    }
    return vugi_outline_close(outline) ? VUG_OK : VUG_ERR_MEMORY;
}

/* The lids of edges start to end - 1, which have one height and one side. */
static vug_status close_group(const vugi_slabs *s, const vugi_lid_edge *edge, size_t count,
    bool *walked, vugi_outline *outline, vugi_rows *rows)
{
    vug_status status = VUG_OK;
    vugi_outline_clear(outline);
    for (size_t i = 0; i < count && !status; i++)
        if (!walked[i])
            status = walk_loop(s, edge, count, i, walked, outline);
    return status ? status : vugi_patch(outline, rows);
}

vug_status vugi_lids(vug_context *ctx, const vugi_slabs *slabs, vugi_lid_edge *edge, size_t count,
    vugi_rows *rows, size_t *up)
{
    vugi_outline outline = {.mem = ctx->mem};
    bool *walked = vugi_calloc(&ctx->mem, count + 1, sizeof *walked);
    vug_status status = walked && vugi_sort(&ctx->mem, edge, count, sizeof *edge, by_place, NULL)
        ? VUG_OK
        : VUG_ERR_MEMORY;
    *up = 0;
    for (size_t first = 0, end; first < count && !status; first = end) {
        for (end = first + 1; end < count && edge[end].height == edge[first].height
             && edge[end].below == edge[first].below;)
            end++;
        status = close_group(slabs, edge + first, end - first, walked + first, &outline, rows);
        if (edge[first].below)
            *up = rows->count;
    }
    vugi_outline_free(&outline);
    vugi_free(&ctx->mem, walked);
    return status == VUG_ERR_MEMORY ? vugi_fail_memory(ctx) : status;
}
