/* SPDX-License-Identifier: MIT
 * The edges at one height and of one side are walked to loops, what they hold to the left; loops in loops are holes. */
#include "shape/level/lids.h"

#include "base/sort.h"
#include "mesh/exact.h"

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

typedef struct walk {
    const double *xyz;
    const vugi_lid_edge *edge; /* of one height and side, by where they begin */
    size_t count;
    bool *walked;
    vugi_outline *outline;
} walk;

/* A corner as the lid's own side sees it. */
static void flatten(const walk *w, const vugi_lid_edge *edge, uint32_t corner, double uv[2])
{
    const double *p = w->xyz + 3 * (size_t)corner;
    uv[0] = edge->below ? p[0] : p[1];
    uv[1] = edge->below ? p[1] : p[0];
}

/* Does one go left more sharply from last into a than into b, which begin where it ends? Back is no way to the left. */
static bool is_sharper(const walk *w, const vugi_lid_edge *last, const vugi_lid_edge *a,
    const vugi_lid_edge *b)
{
    double from[2], at[2], to_a[2], to_b[2];
    flatten(w, last, last->from, from);
    flatten(w, last, last->to, at);
    flatten(w, last, a->to, to_a);
    flatten(w, last, b->to, to_b);
    const int left_a = vugi_turn(from, at, to_a), left_b = vugi_turn(from, at, to_b);
    return left_a != left_b ? left_a > left_b : vugi_turn(at, to_a, to_b) < 0;
}

/* The edge that begins where `last` ends and goes left most sharply, so that what lies to the left is in one piece there:
 * the first of the loop, or one not walked yet; count: none. */
static size_t next_edge(const walk *w, size_t first, const vugi_lid_edge *last)
{
    const vugi_lid_edge key = {last->to, 0, last->height, last->below};
    size_t best = w->count;
    for (size_t i = vugi_lower_bound(&key, w->edge, w->count, sizeof *w->edge, by_place, NULL);
         i < w->count && by_place(&key, w->edge + i, NULL) == 0; i++)
        if ((!w->walked[i] || i == first)
            && (best == w->count || is_sharper(w, last, w->edge + i, w->edge + best)))
            best = i;
    return best;
}

static vug_status walk_loop(const walk *w, size_t first)
{
    size_t i = first;
    do {
        double uv[2];
        w->walked[i] = true;
        flatten(w, w->edge + i, w->edge[i].from, uv);
        if (!vugi_outline_add(w->outline, w->edge[i].from, uv))
            return VUG_ERR_MEMORY;
        i = next_edge(w, first, w->edge + i);
        if (i == w->count)
            return VUG_ERR_MESH;
    } while (i != first);
    return vugi_outline_close(w->outline) ? VUG_OK : VUG_ERR_MEMORY;
}

/* The lids of edges that have one height and one side. */
static vug_status close_group(const walk *w, bool crossing, vugi_rows *rows)
{
    vug_status status = VUG_OK;
    vugi_outline_clear(w->outline);
    for (size_t i = 0; i < w->count && !status; i++)
        if (!w->walked[i])
            status = walk_loop(w, i);
    return status ? status : vugi_patch(w->outline, crossing, rows);
}

vug_status vugi_lids(vug_context *ctx, const double *xyz, vugi_lid_edge *edge, size_t count,
    bool crossing, vugi_rows *rows, size_t *up)
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
        const walk w = {xyz, edge + first, end - first, walked + first, &outline};
        status = close_group(&w, crossing, rows);
        if (edge[first].below)
            *up = rows->count;
    }
    vugi_outline_free(&outline);
    vugi_free(&ctx->mem, walked);
    return status == VUG_ERR_MEMORY ? vugi_fail_memory(ctx) : status;
}
