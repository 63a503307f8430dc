/* SPDX-License-Identifier: MIT */
#include "shape/bore/points.h"

static size_t hash(const vugi_point *p)
{
    uint64_t h = p->kind;
    const uint32_t part[3] = {p->a, p->b, p->c};
    for (int k = 0; k < 3; k++) {
        h = (h ^ part[k]) * 0x9E3779B97F4A7C15u;
        h ^= h >> 29;
    }
    return (size_t)h;
}

static bool same(const vugi_point *p, const vugi_point *q)
{
    return p->kind == q->kind && p->a == q->a && p->b == q->b && p->c == q->c;
}

static size_t find_slot(const vugi_points *points, const vugi_point *p)
{
    size_t at = hash(p) & (points->slots - 1);
    while (points->slot[at] && !same(&points->point[points->slot[at] - 1], p))
        at = (at + 1) & (points->slots - 1);
    return at;
}

static bool grow(vugi_points *points)
{
    size_t slots = points->slots ? 2 * points->slots : 256;
    uint32_t *slot = vugi_calloc(&points->mem, slots, sizeof *slot);
    if (!slot)
        return false;
    vugi_free(&points->mem, points->slot);
    points->slot = slot;
    points->slots = slots;
    for (size_t i = 0; i < points->count; i++)
        slot[find_slot(points, &points->point[i])] = (uint32_t)i + 1;
    return true;
}

bool vugi_points_add(vugi_points *points, const vugi_point *point, uint32_t *number)
{
    if (2 * points->count >= points->slots && !grow(points))
        return false;
    size_t at = find_slot(points, point);
    if (!points->slot[at]) {
        if (!vugi_reserve(&points->mem, &points->point, &points->capacity, points->count + 1,
                sizeof *points->point))
            return false;
        points->point[points->count++] = *point;
        points->slot[at] = (uint32_t)points->count;
    }
    *number = points->slot[at] - 1;
    return true;
}

void vugi_points_free(vugi_points *points)
{
    vugi_free(&points->mem, points->point);
    vugi_free(&points->mem, points->slot);
    points->point = NULL;
    points->slot = NULL;
    points->count = points->capacity = points->slots = 0;
}
