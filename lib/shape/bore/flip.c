/* SPDX-License-Identifier: MIT */
#include "shape/bore/flip.h"

#include "base/sort.h"

#include "mesh/exact.h"

#include <math.h>

enum { SWEEPS = 200 };

/* Sine of half-edges' angles: what counts as more than half a turn. */
static const double ROUNDING = 1e-12;

/* From corner h % 3 of row h / 3 to the next. */
typedef struct half {
    uint32_t low, high, h;
} half;

typedef struct net {
    const double *uv;
    uint32_t *row, *other; /* half-edge across, or UINT32_MAX */
} net;

static uint32_t next(uint32_t h)
{
    return h % 3 == 2 ? h - 2 : h + 1;
}

/* Edges of the outline stay without other, and so do those that more than two triangles share. */
static bool pair(const vugi_allocator *mem, const net *n, size_t halves)
{
    half *list = vugi_alloc(mem, halves, sizeof *list);
    if (!list)
        return false;
    for (uint32_t h = 0; h < halves; h++) {
        uint32_t a = n->row[h], b = n->row[next(h)];
        list[h] = (half){a < b ? a : b, a < b ? b : a, h};
        n->other[h] = UINT32_MAX;
    }
    bool memory = vugi_sort(mem, list, halves, sizeof *list, vugi_by_pair, NULL);
    for (size_t i = 0, end; memory && i < halves; i = end) {
        for (end = i + 1; end < halves && vugi_by_pair(&list[i], &list[end], NULL) == 0; end++)
            ;
        if (end == i + 2) {
            n->other[list[i].h] = list[i + 1].h;
            n->other[list[i + 1].h] = list[i].h;
        }
    }
    vugi_free(mem, list);
    return memory;
}

/* Twice the area of p, a, b, and the product of the ways from p to a and b: sine and cosine of the angle at p times
 * their lengths. */
static void angle_at(const double *p, const double *a, const double *b, double *sine,
    double *cosine)
{
    double x[2] = {a[0] - p[0], a[1] - p[1]}, y[2] = {b[0] - p[0], b[1] - p[1]};
    double length = hypot(x[0], x[1]) * hypot(y[0], y[1]);
    *sine = (x[0] * y[1] - x[1] * y[0]) / length;
    *cosine = (x[0] * y[0] + x[1] * y[1]) / length;
}

/* The angles across from an edge ab are more than half a turn together, and the other diagonal lies within. */
static bool wants_flip(const double *a, const double *b, const double *c, const double *d)
{
    double sine[2], cosine[2];
    angle_at(c, a, b, &sine[0], &cosine[0]);
    angle_at(d, b, a, &sine[1], &cosine[1]);
    return sine[0] * cosine[1] + cosine[0] * sine[1] < -ROUNDING && vugi_turn(a, d, c) > 0
        && vugi_turn(d, b, c) > 0;
}

static void link(const net *n, uint32_t h, uint32_t across)
{
    n->other[h] = across;
    if (across != UINT32_MAX)
        n->other[across] = h;
}

/* Of triangles a, b, c and b, a, d: a, d, c and d, b, c. */
static bool flip(const net *n, uint32_t h)
{
    uint32_t o = n->other[h];
    if (o == UINT32_MAX)
        return false;
    uint32_t bc = next(h), ca = next(bc), ad = next(o), db = next(ad);
    uint32_t a = n->row[h], b = n->row[bc], c = n->row[ca], d = n->row[db];
    if (!wants_flip(n->uv + 2 * (size_t)a, n->uv + 2 * (size_t)b, n->uv + 2 * (size_t)c,
            n->uv + 2 * (size_t)d))
        return false;
    const uint32_t across[4] = {n->other[ad], n->other[ca], n->other[db], n->other[bc]};
    uint32_t t = h - h % 3, s = o - o % 3;
    const uint32_t rows[2][3] = {{a, d, c}, {d, b, c}};
    for (uint32_t k = 0; k < 3; k++) {
        n->row[t + k] = rows[0][k];
        n->row[s + k] = rows[1][k];
    }
    link(n, t, across[0]);
    link(n, t + 2, across[1]);
    link(n, s, across[2]);
    link(n, s + 1, across[3]);
    link(n, t + 1, s + 2);
    return true;
}

bool vugi_flip(const vugi_allocator *mem, const double *uv, uint32_t *rows, size_t first,
    size_t end)
{
    if (end < first + 2)
        return true;
    size_t count = end - first;
    net n = {uv, rows + 3 * first, vugi_alloc(mem, 3 * count, sizeof *n.other)};
    bool memory = n.other && pair(mem, &n, 3 * count), flipped = memory;
    for (int sweep = 0; flipped && sweep < SWEEPS; sweep++) {
        flipped = false;
        for (uint32_t h = 0; h < 3 * count; h++)
            flipped |= flip(&n, h);
    }
    vugi_free(mem, n.other);
    return memory;
}
