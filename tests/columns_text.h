/* SPDX-License-Identifier: MIT
 * Columns and mouths as text on standard input, for the tools that are compared with voxel models:
 *   nx ny h mirror, then for each column: count, lo hi ...
 *   mouths, then for each: column lip top (its span is the one that holds both), open (0, 1) */
#ifndef VUG_TEST_COLUMNS_TEXT_H
#define VUG_TEST_COLUMNS_TEXT_H

#include "gravity/scene.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { MOUTHS = 8 };

typedef struct input {
    vugi_columns columns;
    vugi_scene_mouth mouth[MOUTHS];
    vugi_opening_span span[MOUTHS];
    bool open[MOUTHS];
    size_t mouths;
    int mirror;
} input;

static inline int read_columns(input *in)
{
    vugi_columns *c = &in->columns;
    size_t capacity = 0;
    *c = (vugi_columns){.basis = {1, 0, 0, 0, 1, 0, 0, 0, 1}, .zlo = INFINITY, .zhi = -INFINITY};
    if (scanf("%d %d %lf %d", &c->nx, &c->ny, &c->h, &in->mirror) != 4)
        return 0;
    size_t n = (size_t)c->nx * (size_t)c->ny;
    c->first = malloc((n + 1) * sizeof *c->first);
    for (size_t k = 0; k < n; k++) {
        size_t count;
        c->first[k] = (uint32_t)c->count;
        if (scanf("%zu", &count) != 1)
            return 0;
        if (c->count + count > capacity) {
            capacity = 2 * (c->count + count);
            c->lo = realloc(c->lo, capacity * sizeof *c->lo);
            c->hi = realloc(c->hi, capacity * sizeof *c->hi);
        }
        for (size_t i = 0; i < count; i++, c->count++) {
            if (scanf("%lf %lf", c->lo + c->count, c->hi + c->count) != 2)
                return 0;
            c->zlo = fmin(c->zlo, c->lo[c->count]);
            c->zhi = fmax(c->zhi, c->hi[c->count]);
        }
    }
    c->first[n] = (uint32_t)c->count;
    c->body = calloc(c->count + 1, sizeof *c->body);
    return 1;
}

static inline int read_mouths(input *in)
{
    const vugi_columns *c = &in->columns;
    if (scanf("%zu", &in->mouths) != 1 || in->mouths > MOUTHS)
        return 0;
    for (size_t i = 0; i < in->mouths; i++) {
        size_t column;
        int open;
        vugi_scene_mouth *m = in->mouth + i;
        *m = (vugi_scene_mouth){.opening = (int32_t)i,
            .spans = 1,
            .span = in->span + i,
            .diameter = 50.0,
            .tubes = {1.0, 50.0},
            .length = 1.0};
        if (scanf("%zu %lf %lf %d", &column, &m->lip, &m->top, &open) != 4)
            return 0;
        in->open[i] = open != 0;
        m->point[0] = c->h * (double)(column % (size_t)c->nx);
        m->point[1] = c->h * (double)(column / (size_t)c->nx);
        m->point[2] = 0.5 * (m->lip + m->top);
        for (uint32_t s = c->first[column]; s < c->first[column + 1]; s++)
            if (c->lo[s] <= m->lip && m->top <= c->hi[s])
                in->span[i] = (vugi_opening_span){s, m->top, m->lip};
    }
    return 1;
}

#endif
