/* SPDX-License-Identifier: MIT
 * Parts made of unit cells, for tests of cavities with few, straight passages. */
#ifndef VUG_TEST_BLOCKS_H
#define VUG_TEST_BLOCKS_H

#include "cavity/cavity.h"

#include "shapes.h"
#include "test.h"

enum { CELLS = 40 };

/* A part made of unit cells: cells with cavity in them, in a wall one cell thick. The mesh is the
 * boundary of the wall. */
typedef struct blocks {
    unsigned char cavity[CELLS][CELLS][CELLS]; /* x, y, z */
} blocks;

static inline void dig(blocks *b, int x0, int x1, int y0, int y1, int z0, int z1)
{
    for (int x = x0; x < x1; x++)
        for (int y = y0; y < y1; y++)
            for (int z = z0; z < z1; z++)
                b->cavity[x][y][z] = 1;
}

static inline int cavity_at(const blocks *b, int x, int y, int z)
{
    return x >= 0 && y >= 0 && z >= 0 && x < CELLS && y < CELLS && z < CELLS && b->cavity[x][y][z];
}

static inline int near_cavity(const blocks *b, int x, int y, int z)
{
    for (int i = -1; i <= 1; i++)
        for (int j = -1; j <= 1; j++)
            for (int k = -1; k <= 1; k++)
                if (cavity_at(b, x + i, y + j, z + k))
                    return 1;
    return 0;
}

/* The two sides of the face of cell (x, y, z) towards axis k differ: a square facing out of the
 * first. */
static inline void add_block_face(shape *s, int x, int y, int z, int k, int flip, double size)
{
    int at[3] = {x, y, z}, u = (k + 1) % 3, v = (k + 2) % 3;
    double p[4][3];
    for (int i = 0; i < 4; i++) {
        int corner[3] = {at[0], at[1], at[2]};
        corner[k] += 1;
        corner[u] += i == 1 || i == 2;
        corner[v] += i >= 2;
        for (int j = 0; j < 3; j++)
            p[i][j] = size * (corner[j] - 1);
    }
    if (s->vertex_count % 4096 == 0)
        s->xyz = realloc(s->xyz, 3 * (s->vertex_count + 4096) * sizeof *s->xyz);
    memcpy(s->xyz + 3 * s->vertex_count, p, sizeof p);
    if (s->triangle_count % 2048 == 0)
        s->triangles = realloc(s->triangles, 3 * (s->triangle_count + 2048) * sizeof *s->triangles);
    uint32_t a = (uint32_t)s->vertex_count, *t = s->triangles + 3 * s->triangle_count;
    uint32_t there[6] = {a, a + 1, a + 2, a, a + 2, a + 3};
    uint32_t back[6] = {a, a + 2, a + 1, a, a + 3, a + 2};
    memcpy(t, flip ? back : there, sizeof there);
    s->vertex_count += 4;
    s->triangle_count += 2;
}

static inline vug_mesh *part_of(vug_context *ctx, const blocks *b, double size)
{
    static unsigned char solid[CELLS + 2][CELLS + 2][CELLS + 2];
    shape s = {0};
    for (int x = 0; x < CELLS + 2; x++)
        for (int y = 0; y < CELLS + 2; y++)
            for (int z = 0; z < CELLS + 2; z++)
                solid[x][y][z] = !cavity_at(b, x - 1, y - 1, z - 1)
                    && near_cavity(b, x - 1, y - 1, z - 1);
    for (int x = 0; x < CELLS + 2; x++)
        for (int y = 0; y < CELLS + 2; y++)
            for (int z = 0; z < CELLS + 2; z++)
                for (int k = 0; k < 3; k++) {
                    int n[3] = {x, y, z};
                    n[k]++;
                    int next = n[k] < CELLS + 2 && solid[n[0]][n[1]][n[2]];
                    if (solid[x][y][z] != next)
                        add_block_face(&s, x, y, z, k, next, size);
                }
    return shape_mesh(ctx, &s);
}

static inline vug_cavities *cavities_of(vug_context *ctx, const blocks *b, const double *holes,
    size_t count)
{
    vug_cavities *c = NULL;
    vug_mesh *part = part_of(ctx, b, 1.0);
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    ck_ok(ctx, vug_cavities_find(ctx, part, holes, count, &options, &c));
    vug_mesh_free(part);
    return c;
}

/* Two chambers of 10 x 8 x 8 beside each other, joined by a passage of 4 x 4 x 4 at the floor: 1344 mm3. The opening is
 * in the lid of the left one. */
static inline vug_cavities *two_chambers(vug_context *ctx)
{
    static blocks b;
    const double hole[7] = {6, 5, 9, 0, 0, 1, 2};
    memset(&b, 0, sizeof b);
    dig(&b, 1, 11, 1, 9, 1, 9);
    dig(&b, 11, 15, 3, 7, 1, 5);
    dig(&b, 15, 25, 1, 9, 1, 9);
    return cavities_of(ctx, &b, hole, 1);
}

#endif
