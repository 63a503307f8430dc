/* SPDX-License-Identifier: MIT
 * Fuzz target: any bytes as a part, through every long call there is. The first byte says how the bytes
 * are a mesh: raw floats, which may be not numbers, huge or denormal; small whole numbers, which often
 * meet; or cells of a solid, whose corners and triangles are then damaged. */
#include "../jobs.h"
#include "fuzz.h"

#include <string.h>

const char *const fuzz_kept[] = {"fuzz/corpus/part", NULL};
const unsigned fuzz_rounds = 1;

enum { SIDE = 6, VERTICES = 4096, TRIANGLES = 2 * SIDE * SIDE * (SIDE + 1) * 3 };

typedef struct bytes {
    const uint8_t *data;
    size_t size;
} bytes;

typedef struct soup {
    double xyz[3 * VERTICES];
    uint32_t triangle[3 * TRIANGLES];
    size_t vertices, triangles;
} soup;

static uint8_t next(bytes *b)
{
    if (b->size == 0)
        return 0;
    b->size--;
    return *b->data++;
}

static double next_float(bytes *b)
{
    float x;
    uint8_t raw[sizeof x];
    for (size_t i = 0; i < sizeof raw; i++)
        raw[i] = next(b);
    memcpy(&x, raw, sizeof x);
    return x;
}

/* A count, the corners, then triangles until the bytes end. */
static void read_soup(bytes *b, int raw, soup *s)
{
    s->vertices = 3 + next(b) % 32;
    for (size_t i = 0; i < 3 * s->vertices; i++)
        s->xyz[i] = raw ? next_float(b) : (int8_t)next(b) / 8.0;
    while (b->size >= 3 && s->triangles < 256) {
        for (size_t k = 0; k < 3; k++)
            s->triangle[3 * s->triangles + k] = next(b) % (uint32_t)s->vertices;
        s->triangles++;
    }
}

static void add_face(soup *s, const int at[3], int axis, int flip)
{
    static const int turn[2][4] = {{0, 1, 2, 3}, {0, 3, 2, 1}};
    int u = (axis + 1) % 3, v = (axis + 2) % 3;
    uint32_t first = (uint32_t)s->vertices, *t = s->triangle + 3 * s->triangles;
    if (s->vertices + 4 > VERTICES || s->triangles + 2 > TRIANGLES)
        return;
    for (int i = 0; i < 4; i++) {
        int c[3] = {at[0], at[1], at[2]};
        c[axis]++;
        c[u] += turn[flip][i] == 1 || turn[flip][i] == 2;
        c[v] += turn[flip][i] >= 2;
        for (int k = 0; k < 3; k++)
            s->xyz[3 * s->vertices + (size_t)k] = 3.0 * c[k];
        s->vertices++;
    }
    const uint32_t corner[6] = {first, first + 1, first + 2, first, first + 2, first + 3};
    memcpy(t, corner, sizeof corner);
    s->triangles += 2;
}

/* The skin of a hollow cube of cells with a bore, some of whose cells the bytes turn over. */
static void read_cells(bytes *b, soup *s)
{
    uint8_t solid[SIDE + 2][SIDE + 2][SIDE + 2];
    memset(solid, 0, sizeof solid);
    for (int i = 1; i <= SIDE; i++)
        for (int j = 1; j <= SIDE; j++)
            for (int k = 1; k <= SIDE; k++)
                solid[i][j][k] = i == 1 || j == 1 || k == 1 || i == SIDE || j == SIDE || k == SIDE;
    solid[3][3][SIDE] = 0;
    for (int n = next(b) % 16; n > 0; n--) {
        int i = 1 + next(b) % SIDE, j = 1 + next(b) % SIDE, k = 1 + next(b) % SIDE;
        solid[i][j][k] ^= 1;
    }
    for (int i = 0; i <= SIDE; i++)
        for (int j = 0; j <= SIDE; j++)
            for (int k = 0; k <= SIDE; k++) {
                const int at[3] = {i, j, k};
                const int other[3] = {solid[i + 1][j][k], solid[i][j + 1][k], solid[i][j][k + 1]};
                for (int a = 0; a < 3; a++)
                    if (solid[i][j][k] != other[a])
                        add_face(s, at, a, other[a]);
            }
}

/* One corner or triangle after another is spoilt. */
static void damage(bytes *b, soup *s)
{
    static const double odd[] = {NAN, INFINITY, 1e300, -1e9, 1e-310, 0.0, 1e-7, 9.0};
    for (int n = next(b) % 8; n > 0 && s->triangles > 0; n--) {
        size_t kind = next(b), at = next(b) + 256u * next(b);
        uint32_t *t = s->triangle + 3 * (at % s->triangles);
        if (kind % 8 == 0)
            s->xyz[at % (3 * s->vertices)] = odd[kind / 8 % 8];
        else if (kind % 8 == 1)
            s->xyz[at % (3 * s->vertices)] += 0.01 * (int8_t)kind;
        else if (kind % 8 == 2)
            t[1] = t[2];
        else if (kind % 8 == 3)
            t[0] = (uint32_t)(at * 7 % s->vertices);
        else if (kind % 8 == 4 && s->triangles < TRIANGLES)
            memcpy(s->triangle + 3 * s->triangles++, t, 3 * sizeof *t);
        else if (kind % 8 == 5)
            memcpy(t, s->triangle + 3 * --s->triangles, 3 * sizeof *t);
        else {
            uint32_t swap = t[0];
            t[0] = t[1];
            t[1] = swap;
        }
    }
}

static void read_task(bytes *b, job_part *p)
{
    const double hole[7] = {10.5, 10.5, 21.0, 0.0, 0.0, 1.0, 3.0};
    memcpy(p->hole, hole, sizeof hole);
    p->holes = next(b) % 2;
    if (next(b) % 4 == 1)
        for (int k = 0; k < 7; k++)
            p->hole[k] = next_float(b);
    p->up[2] = 1.0;
    for (int k = 0; k < 3; k++)
        p->up[k] += (int8_t)next(b) / 64.0;
    vug_fluid_init(&p->fluid, sizeof p->fluid);
    if (next(b) % 4 == 1) {
        p->fluid.yield_stress_pa = next_float(b);
        p->fluid.consistency_pa_sn = next_float(b);
    }
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    static soup s;
    bytes b = {data, size};
    job_part p = {.mesh = NULL};
    vug_context *ctx = NULL;
    vug_context_options options;
    vug_cavity_options co;
    vug_context_options_init(&options, sizeof options);
    vug_cavity_options_init(&co, sizeof co);
    options.threads = 1;
    options.memory_limit_bytes = (uint64_t)1 << 30;
    co.cells_across = JOB_ACROSS;
    job_must(vug_context_create(&options, &ctx) == VUG_OK);
    s.vertices = s.triangles = 0;
    int kind = next(&b) % 4;
    read_task(&b, &p);
    if (kind < 2)
        read_soup(&b, kind, &s);
    else
        read_cells(&b, &s);
    damage(&b, &s);
    vug_status status = vug_mesh_from_arrays(ctx, s.xyz, s.vertices, 0, s.triangle, s.triangles, 0,
        &p.mesh);
    if (job_ends(ctx, status, p.mesh) == VUG_OK
        && vug_cavities_find(ctx, p.mesh, p.hole, p.holes, &co, &p.cavities) != VUG_OK)
        job_must(p.cavities == NULL);
    for (size_t i = 0; i < JOBS && p.mesh; i++)
        if (!jobs[i].needs_cavities || p.cavities)
            jobs[i].run(ctx, &p);
    vug_cavities_free(p.cavities);
    vug_mesh_free(p.mesh);
    vug_context_free(ctx);
    return 0;
}
