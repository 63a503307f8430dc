/* SPDX-License-Identifier: MIT
 * grid: signs, distances, basins, surface nets. The distance transform and the merge tree are also
 * held against scipy, gudhi and skimage in test_grid.py. */
#include "grid/basin.h"
#include "grid/distance.h"
#include "grid/grid.h"
#include "grid/net.h"
#include "grid/sign.h"

#include "test.h"

static const double pi = 3.14159265358979323846;

static vugi_grid cube_grid(vug_context *ctx, double half, int32_t cells)
{
    const double lo[3] = {-half, -half, -half}, hi[3] = {half, half, half};
    vugi_grid grid;
    ck_ok(ctx, vugi_grid_fit(ctx, lo, hi, cells, 2, &grid));
    return grid;
}

typedef double (*shape_fn)(const double p[3]);

static vug_mesh *mesh_of(vug_context *ctx, const vugi_grid *grid, shape_fn shape)
{
    size_t count = vugi_grid_count(grid);
    float *field = malloc(count * sizeof *field);
    vug_mesh *mesh = NULL;
    for (size_t c = 0; c < count; c++) {
        double p[3];
        vugi_grid_point(grid, c, p);
        field[c] = (float)shape(p);
    }
    ck_ok(ctx, vugi_surface_net(ctx, grid, field, 0.0, &mesh));
    free(field);
    return mesh;
}

static double volume(const vug_mesh *mesh)
{
    double sum = 0.0;
    for (size_t t = 0; t < mesh->triangle_count; t++) {
        const uint32_t *v = mesh->triangles + 3 * t;
        const double *a = mesh->xyz + 3 * (size_t)v[0], *b = mesh->xyz + 3 * (size_t)v[1];
        const double *c = mesh->xyz + 3 * (size_t)v[2];
        sum += a[0] * (b[1] * c[2] - b[2] * c[1]) + a[1] * (b[2] * c[0] - b[0] * c[2])
            + a[2] * (b[0] * c[1] - b[1] * c[0]);
    }
    return sum / 6.0;
}

static double ball(const double p[3])
{
    return sqrt(p[0] * p[0] + p[1] * p[1] + p[2] * p[2]) - 20.0;
}

static double torus(const double p[3])
{
    return hypot(hypot(p[0], p[1]) - 20.0, p[2]) - 5.0;
}

START_TEST(grids_fit_or_are_refused)
{
    vug_context *ctx = test_context();
    vugi_grid grid = cube_grid(ctx, 10.0, 20);
    ck_assert_int_eq(grid.n[0], 25); /* 20 cells have 21 points; and a margin of 2 on both sides */
    ck_close(grid.h, 1.0, 1e-15);
    double p[3];
    for (size_t c = 0; c < vugi_grid_count(&grid); c += 97) {
        int32_t at[3];
        vugi_grid_point(&grid, c, p);
        vugi_grid_place(&grid, c, at);
        ck_assert_uint_eq(vugi_grid_nearest(&grid, p), c);
        ck_assert_uint_eq(vugi_grid_cell(&grid, at[0], at[1], at[2]), c);
    }
    p[1] = 1e300;
    ck_assert_uint_eq(vugi_grid_nearest(&grid, p), SIZE_MAX);
    p[1] = NAN;
    ck_assert_uint_eq(vugi_grid_nearest(&grid, p), SIZE_MAX);
    const double lo[3] = {0.0, 0.0, 0.0}, hi[3] = {1.0, 1.0, 1.0}, nan3[3] = {1.0, NAN, 1.0};
    ck_assert_int_eq(vugi_grid_fit(ctx, lo, nan3, 10, 2, &grid), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vugi_grid_fit(ctx, lo, lo, 10, 2, &grid), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vugi_grid_fit(ctx, hi, lo, 10, 2, &grid), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vugi_grid_fit(ctx, lo, hi, 0, 2, &grid), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vugi_grid_fit(ctx, lo, hi, 4000, 2, &grid), VUG_ERR_LIMIT);
    ck_assert_int_eq(vugi_grid_fit(ctx, lo, hi, 20000, 2, &grid), VUG_ERR_LIMIT);
    vug_context_free(ctx);
}
END_TEST

START_TEST(surface_nets_have_the_volume)
{
    vug_context *ctx = test_context();
    vugi_grid grid = cube_grid(ctx, 27.0, 108);
    vug_mesh *mesh = mesh_of(ctx, &grid, ball);
    /* 4/3 pi R^3; a net is a chord surface, so it lies inside by a part of h^2 / R. */
    ck_near(volume(mesh), 4.0 / 3.0 * pi * 8000.0, 2e-3);
    for (size_t v = 0; v < mesh->vertex_count; v++)
        ck_close(ball(mesh->xyz + 3 * v), 0.0, 0.1 * grid.h);
    vug_mesh_free(mesh);
    mesh = mesh_of(ctx, &grid, torus);
    ck_near(volume(mesh), 2.0 * pi * pi * 20.0 * 25.0, 5e-3); /* 2 pi^2 R r^2, Pappus */
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(surface_nets_are_refused_at_the_border)
{
    vug_context *ctx = test_context();
    vugi_grid grid = cube_grid(ctx, 1.0, 4);
    float field[729];
    vug_mesh *mesh = NULL;
    ck_assert_uint_eq(vugi_grid_count(&grid), 729);
    for (int c = 0; c < 729; c++)
        field[c] = 1.0f;
    ck_assert_int_eq(vugi_surface_net(ctx, &grid, field, 0.0, &mesh), VUG_ERR_NOT_FOUND);
    field[9 * 9 * 4 + 9 * 4] = -1.0f;
    ck_assert_int_eq(vugi_surface_net(ctx, &grid, field, 0.0, &mesh), VUG_ERR_MESH);
    field[9 * 9 * 4 + 9 * 4] = 1.0f;
    field[9 * 9 * 4 + 9 * 4 + 4] = -1.0f; /* one point: an octahedron */
    field[9 * 9 * 5 + 9 * 5 + 4] = -1.0f; /* and another, touching at an edge: apart */
    ck_ok(ctx, vugi_surface_net(ctx, &grid, field, 0.0, &mesh));
    /* A net has a vertex in each of the 8 cubes about a point and two triangles over each of its 6 edges. */
    ck_assert_uint_eq(mesh->vertex_count, 16);
    ck_assert_uint_eq(mesh->triangle_count, 24);
    ck_close(volume(mesh), 2.0 * grid.h * grid.h * grid.h * 0.125 * 1.0, 0.06);
    vug_mesh_free(mesh);
    for (int c = 0; c < 729; c++)
        field[c] = 1.0f;
    field[9 * 9 + 9 + 1] = -1.0f; /* one step from three borders: whole all the same */
    ck_ok(ctx, vugi_surface_net(ctx, &grid, field, 0.0, &mesh));
    ck_assert_uint_eq(mesh->vertex_count, 8);
    ck_assert_uint_eq(mesh->triangle_count, 12);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

typedef struct signs {
    uint8_t *cell;
    uint32_t *work;
    size_t solid, count;
    vugi_sign_report report;
} signs;

static signs sign(vug_context *ctx, const vug_mesh *mesh, const vugi_grid *grid)
{
    signs s = {.count = vugi_grid_count(grid)};
    s.cell = malloc(s.count);
    s.work = malloc(s.count * sizeof *s.work);
    ck_ok(ctx, vugi_grid_sign(ctx, mesh, NULL, grid, s.cell, s.work, &s.report));
    for (size_t c = 0; c < s.count; c++)
        s.solid += s.cell[c] == VUGI_SOLID;
    return s;
}

static void signs_free(signs *s)
{
    free(s->cell);
    free(s->work);
}

START_TEST(signs_count_the_volume)
{
    vug_context *ctx = test_context();
    vugi_grid fine = cube_grid(ctx, 27.0, 90), grid = cube_grid(ctx, 27.0, 64);
    vug_mesh *mesh = mesh_of(ctx, &fine, torus);
    signs s = sign(ctx, mesh, &grid);
    ck_assert_uint_eq(s.report.leaking, 0);
    ck_assert_uint_eq(s.report.disputed, 0);
    ck_assert_uint_gt(s.solid, 10000);
    for (size_t c = 0; c < s.count; c++) {
        double p[3];
        vugi_grid_point(&grid, c, p);
        if (fabs(torus(p)) > 0.2)
            ck_assert_int_eq(s.cell[c] == VUGI_SOLID, torus(p) < 0.0);
    }
    signs_free(&s);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(a_gap_does_not_flood_the_part)
{
    vug_context *ctx = test_context();
    vugi_grid fine = cube_grid(ctx, 27.0, 90), grid = cube_grid(ctx, 27.0, 64);
    vug_mesh *mesh = mesh_of(ctx, &fine, ball);
    signs whole = sign(ctx, mesh, &grid);
    mesh->triangle_count -= 40; /* a gap of some cells near the top */
    signs torn = sign(ctx, mesh, &grid);
    size_t differ = 0;
    for (size_t c = 0; c < whole.count; c++)
        differ += whole.cell[c] != torn.cell[c];
    ck_assert_uint_gt(torn.report.leaking, 0);
    ck_assert_uint_lt(torn.report.leaking, torn.report.columns / 100);
    ck_assert_uint_le(differ, 4);
    signs_free(&whole);
    signs_free(&torn);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* Cells reachable by faces from the corner of the grid. */
static size_t flood(const vugi_grid *g, const uint8_t *cell, uint8_t *seen)
{
    size_t count = vugi_grid_count(g), head = 0, tail = 0;
    uint32_t *queue = malloc(count * sizeof *queue);
    memset(seen, 0, count);
    queue[tail++] = 0;
    seen[0] = 1;
    while (head < tail) {
        int32_t at[3];
        vugi_grid_place(g, queue[head++], at);
        for (int s = 0; s < 6; s++) {
            int32_t to[3] = {at[0], at[1], at[2]};
            to[s / 2] += s % 2 ? 1 : -1;
            if (to[s / 2] < 0 || to[s / 2] >= g->n[s / 2])
                continue;
            size_t c = vugi_grid_cell(g, to[0], to[1], to[2]);
            if (!seen[c] && cell[c] == VUGI_VOID) {
                seen[c] = 1;
                queue[tail++] = (uint32_t)c;
            }
        }
    }
    free(queue);
    return tail;
}

/* A ball with itself taken out of it at 0.985 of the size: a wall of 0.3, thinner than the cells
 * that it is looked at with. */
static vug_mesh *thin_shell(vug_context *ctx)
{
    vugi_grid fine = cube_grid(ctx, 21.0, 60);
    vug_mesh *skin = mesh_of(ctx, &fine, ball);
    size_t v = skin->vertex_count, t = skin->triangle_count;
    double *xyz = vugi_alloc(&ctx->mem, 6 * v, sizeof *xyz);
    uint32_t *triangles = vugi_alloc(&ctx->mem, 6 * t, sizeof *triangles);
    memcpy(xyz, skin->xyz, 3 * v * sizeof *xyz);
    memcpy(triangles, skin->triangles, 3 * t * sizeof *triangles);
    for (size_t i = 0; i < 3 * v; i++)
        xyz[3 * v + i] = 0.985 * xyz[i];
    for (size_t i = 0; i < 3 * t; i++)
        triangles[3 * t + i] = (uint32_t)v + triangles[i / 3 * 3 + (2 - i % 3)];
    vug_mesh_free(skin);
    vug_mesh *shell = vugi_mesh_adopt(&ctx->mem, xyz, 2 * v, triangles, 2 * t);
    ck_assert_ptr_nonnull(shell);
    return shell;
}

START_TEST(walls_thinner_than_a_cell_hold)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = thin_shell(ctx);
    for (int32_t cells = 20; cells <= 80; cells += 20) {
        vugi_grid grid = cube_grid(ctx, 21.0, cells);
        signs s = sign(ctx, mesh, &grid);
        uint8_t *seen = malloc(s.count);
        flood(&grid, s.cell, seen);
        ck_assert_uint_gt(s.report.sheets, 0);
        for (size_t c = 0; c < s.count; c++) {
            double p[3];
            vugi_grid_point(&grid, c, p);
            if (seen[c])
                ck_assert_msg(ball(p) > -0.2, "leaked at %d cells", cells);
        }
        ck_assert(!seen[vugi_grid_nearest(&grid, (const double[3]){0.0, 0.0, 0.0})]);
        signs_free(&s);
        free(seen);
    }
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(basins_of_two_balls)
{
    /* Two cones of 9 and 7 that meet at 4: the lower one is born at 7 and dies at 4. */
    enum { N = 13 };
    vug_context *ctx = test_context();
    const int32_t n[3] = {N, 3, 1};
    uint32_t value[N * 3], label[N * 3];
    static const uint32_t profile[N] = {0, 7, 8, 9, 8, 6, 4, 5, 7, 6, 5, 3, 0};
    for (int c = 0; c < N * 3; c++)
        value[c] = c / N == 1 ? profile[c % N] : profile[c % N] > 2 ? 2 : 0;
    vugi_basins basins;
    vugi_branch branch[8];
    ck_ok(ctx, vugi_basins_build(ctx, n, value, 6, false, label, &basins));
    ck_assert_uint_eq(basins.count, 2);
    ck_assert_uint_eq(basins.pass_count, 1);
    ck_assert_uint_eq(basins.pass[0].value, 4);
    ck_assert_uint_eq(basins.pass[0].cell, N + 6);
    ck_ok(ctx, vugi_merge_tree(ctx, &basins, branch));
    ck_assert_uint_eq(branch[0].birth, 9);
    ck_assert_uint_eq(branch[0].death, 0);
    ck_assert_uint_eq(branch[0].saddle, UINT32_MAX);
    ck_assert_uint_eq(branch[1].birth, 7);
    ck_assert_uint_eq(branch[1].death, 4);
    ck_assert_uint_eq(label[N], UINT32_MAX);
    ck_assert_uint_eq(label[N + 2], 0);
    ck_assert_uint_eq(label[N + 9], 1);
    vugi_basins_free(&ctx->mem, &basins);
    vug_context_free(ctx);
}
END_TEST

START_TEST(threads_change_nothing)
{
    vug_context_options options;
    vugi_grid grid;
    uint32_t *first = NULL;
    for (uint32_t threads = 1; threads <= 3; threads++) {
        vug_context *ctx = NULL;
        ck_assert_int_eq(vug_context_options_init(&options, sizeof options), VUG_OK);
        options.threads = threads;
        ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_OK);
        grid = cube_grid(ctx, 27.0, 50);
        vug_mesh *mesh = mesh_of(ctx, &grid, torus);
        signs s = sign(ctx, mesh, &grid);
        uint32_t *label = malloc(s.count * sizeof *label);
        vugi_basins basins;
        ck_ok(ctx, vugi_distance(ctx, grid.n, s.cell, false, s.work));
        ck_ok(ctx, vugi_basins_build(ctx, grid.n, s.work, 6, true, label, &basins));
        if (first)
            ck_assert_mem_eq(label, first, s.count * sizeof *label);
        vugi_basins_free(&ctx->mem, &basins);
        signs_free(&s);
        vug_mesh_free(mesh);
        vug_context_free(ctx);
        if (first)
            free(label);
        else
            first = label;
    }
    free(first);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("grid");
    TCase *tc = tcase_create("grid");
    tcase_add_test(tc, grids_fit_or_are_refused);
    tcase_add_test(tc, surface_nets_have_the_volume);
    tcase_add_test(tc, surface_nets_are_refused_at_the_border);
    tcase_add_test(tc, signs_count_the_volume);
    tcase_add_test(tc, a_gap_does_not_flood_the_part);
    tcase_add_test(tc, walls_thinner_than_a_cell_hold);
    tcase_add_test(tc, basins_of_two_balls);
    tcase_add_test(tc, threads_change_nothing);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
