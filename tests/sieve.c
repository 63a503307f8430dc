/* SPDX-License-Identifier: MIT
 * Boxes of a lattice that is not even: cells are full or empty, and the faces between them are the
 * mesh. */
#include "sieve.h"

#include <math.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

typedef struct lattice {
    size_t n[3];
    double *at[3]; /* n + 1 places along each axis */
    bool *full;
} lattice;

static bool is_full(const lattice *l, const long c[3])
{
    for (int k = 0; k < 3; k++)
        if (c[k] < 0 || c[k] >= (long)l->n[k])
            return false;
    return l->full[((size_t)c[2] * l->n[1] + (size_t)c[1]) * l->n[0] + (size_t)c[0]];
}

static uint32_t vertex(const lattice *l, const long c[3])
{
    return (uint32_t)(((size_t)c[2] * (l->n[1] + 1) + (size_t)c[1]) * (l->n[0] + 1) + (size_t)c[0]);
}

/* The face of cell c on its side of the axis, seen from outside against the clock. */
static void put_face(const lattice *l, const long c[3], int axis, int side, uint32_t *triangle)
{
    static const int around[4][2] = {{0, 0}, {1, 0}, {1, 1}, {0, 1}};
    static const int split[6] = {0, 1, 2, 0, 2, 3};
    uint32_t corner[4];
    for (int i = 0; i < 4; i++) {
        long p[3] = {c[0], c[1], c[2]};
        p[axis] += side;
        p[(axis + 1) % 3] += around[side ? i : 3 - i][0];
        p[(axis + 2) % 3] += around[side ? i : 3 - i][1];
        corner[i] = vertex(l, p);
    }
    for (int i = 0; i < 6; i++)
        triangle[i] = corner[split[i]];
}

static size_t put_faces(const lattice *l, uint32_t *triangles)
{
    size_t count = 0;
    long c[3];
    for (c[2] = 0; c[2] < (long)l->n[2]; c[2]++)
        for (c[1] = 0; c[1] < (long)l->n[1]; c[1]++)
            for (c[0] = 0; c[0] < (long)l->n[0]; c[0]++)
                for (int f = 0; f < 6 && is_full(l, c); f++) {
                    long next[3] = {c[0], c[1], c[2]};
                    next[f / 2] += f % 2 ? 1 : -1;
                    if (is_full(l, next))
                        continue;
                    put_face(l, c, f / 2, f % 2, triangles + 6 * count++);
                }
    return 2 * count;
}

static vug_mesh *mesh_of(vug_context *ctx, const lattice *l)
{
    size_t cells = l->n[0] * l->n[1] * l->n[2];
    size_t vertices = (l->n[0] + 1) * (l->n[1] + 1) * (l->n[2] + 1), v = 0;
    double *xyz = malloc(3 * vertices * sizeof *xyz);
    uint32_t *triangles = malloc(36 * cells * sizeof *triangles);
    vug_mesh *mesh = NULL;
    for (size_t z = 0; xyz && z <= l->n[2]; z++)
        for (size_t y = 0; y <= l->n[1]; y++)
            for (size_t x = 0; x <= l->n[0]; x++, v++) {
                xyz[3 * v] = l->at[0][x];
                xyz[3 * v + 1] = l->at[1][y];
                xyz[3 * v + 2] = l->at[2][z];
            }
    if (xyz && triangles
        && vug_mesh_from_arrays(ctx, xyz, vertices, 0, triangles, put_faces(l, triangles), 0,
            &mesh))
        mesh = NULL;
    free(xyz);
    free(triangles);
    return mesh;
}

static bool open_lattice(lattice *l, const double height[3], double side)
{
    bool good = (l->full = malloc(l->n[0] * l->n[1] * l->n[2])) != NULL;
    for (int k = 0; k < 3; k++)
        good &= (l->at[k] = calloc(l->n[k] + 1, sizeof **l->at)) != NULL;
    for (int k = 0; good && k < 3; k++)
        for (size_t i = 0; i < l->n[k]; i++)
            l->at[k][i + 1] = l->at[k][i] + (k == 2 ? height[i] : side);
    if (good)
        memset(l->full, 1, l->n[0] * l->n[1] * l->n[2]);
    return good;
}

static void close_lattice(lattice *l)
{
    free(l->full);
    for (int k = 0; k < 3; k++)
        free(l->at[k]);
}

static void empty(lattice *l, size_t x, size_t y, size_t z)
{
    l->full[(z * l->n[1] + y) * l->n[0] + x] = false;
}

vug_mesh *sieve(vug_context *ctx, size_t holes, double side, double height)
{
    size_t across = (size_t)ceil(sqrt((double)holes)), wide = 2 * across + 1;
    lattice l = {.n = {wide, wide, 3}};
    const double layers[3] = {side, height, side};
    vug_mesh *mesh = NULL;
    if (open_lattice(&l, layers, side)) {
        for (size_t y = 1; y + 1 < wide; y++)
            for (size_t x = 1; x + 1 < wide; x++)
                empty(&l, x, y, 1);
        for (size_t i = 0; i < holes; i++)
            empty(&l, 2 * (i % across) + 1, 2 * (i / across) + 1, 2);
        mesh = mesh_of(ctx, &l);
    }
    close_lattice(&l);
    return mesh;
}

vug_mesh *comb(vug_context *ctx, size_t legs, double side, double height)
{
    lattice l = {.n = {2 * legs + 1, 3, 4}};
    const double layers[4] = {side, side, height, side};
    vug_mesh *mesh = NULL;
    if (open_lattice(&l, layers, side)) {
        for (size_t x = 1; x < 2 * legs; x++)
            empty(&l, x, 1, 1);
        for (size_t x = 1; x < 2 * legs; x += 2)
            empty(&l, x, 1, 2);
        mesh = mesh_of(ctx, &l);
    }
    close_lattice(&l);
    return mesh;
}
