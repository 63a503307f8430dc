/* SPDX-License-Identifier: MIT */
#include "shape/level/edges.h"

#include "base/sort.h"

#include <assert.h>

static vugi_level_edge between(uint32_t a, uint32_t b)
{
    return (vugi_level_edge){a < b ? a : b, a < b ? b : a, 0};
}

bool vugi_level_edges_add(const vugi_allocator *mem, vugi_level_edges *e, uint32_t a, uint32_t b)
{
    if (!vugi_reserve(mem, &e->edge, &e->capacity, e->count + 1, sizeof *e->edge))
        return false;
    e->edge[e->count++] = between(a, b);
    return true;
}

bool vugi_level_edges_sort(const vugi_allocator *mem, vugi_level_edges *e)
{
    size_t kept = 0;
    if (!vugi_sort(mem, e->edge, e->count, sizeof *e->edge, vugi_by_pair, NULL))
        return false;
    for (size_t i = 0; i < e->count; i++)
        if (kept == 0 || vugi_by_pair(e->edge + kept - 1, e->edge + i, NULL) != 0)
            e->edge[kept++] = e->edge[i];
    e->count = kept;
    return true;
}

uint32_t vugi_level_edges_corner(const vugi_level_edges *e, uint32_t a, uint32_t b)
{
    const vugi_level_edge key = between(a, b);
    const vugi_level_edge *found = vugi_search(&key, e->edge, e->count, sizeof key, vugi_by_pair,
        NULL);
    assert(found);
    return found->corner;
}
