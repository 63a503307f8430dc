/* SPDX-License-Identifier: MIT
 * Floor 0: disjoint sets of the numbers 0 .. count - 1, as an array of parents; a root is its own
 * parent. Path halving keeps the trees flat (Tarjan, van Leeuwen, J. ACM 31(2), 1984). */
#ifndef VUGI_DISJOINT_SET_H
#define VUGI_DISJOINT_SET_H

#include <stddef.h>
#include <stdint.h>

/* Each number a set of its own. */
static inline void vugi_sets_init(uint32_t *parent, size_t count)
{
    for (size_t i = 0; i < count; i++)
        parent[i] = (uint32_t)i;
}

/* The root of i's set. */
static inline uint32_t vugi_sets_find(uint32_t *parent, uint32_t i)
{
    while (parent[i] != i) {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    return i;
}

/* Makes one set of two, whose root is the lowest number in it, whatever the order of the calls: so
 * roots come before all others in a walk by number. Where another member has to lead, find both
 * roots and set the parent of the one that gives way. */
static inline void vugi_sets_unite(uint32_t *parent, uint32_t a, uint32_t b)
{
    a = vugi_sets_find(parent, a);
    b = vugi_sets_find(parent, b);
    if (a < b)
        parent[b] = a;
    else
        parent[a] = b;
}

#endif
