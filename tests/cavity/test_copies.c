/* SPDX-License-Identifier: MIT
 * One solid written very often in one place, and very many solids beside each other: what is alike is
 * looked at once, so neither takes minutes. */
#include "grid/sign.h"
#include "mesh/same.h"

#include "shapes.h"
#include "test.h"

static const double corner[12] = {0, 0, 0, 20, 0, 0, 0, 20, 0, 0, 0, 20};
static const uint32_t face[12] = {0, 2, 1, 0, 1, 3, 1, 2, 3, 0, 3, 2};

static vug_mesh *copies(vug_context *ctx, size_t count)
{
    vug_mesh *mesh = NULL;
    uint32_t *t = malloc(count * sizeof face);
    ck_assert_ptr_nonnull(t);
    for (size_t i = 0; i < count; i++)
        memcpy(t + 12 * i, face, sizeof face);
    ck_ok(ctx, vug_mesh_from_arrays(ctx, corner, 4, 0, t, 4 * count, 0, &mesh));
    free(t);
    return mesh;
}

/* 65536 copies once were none, in a number of 16 bits. With or without weights the copies are solid where
 * the one is. */
START_TEST(copies_are_solid)
{
    vug_context *ctx = test_context();
    vug_mesh *one = copies(ctx, 1), *many = copies(ctx, 65536);
    vugi_grid grid;
    vugi_sign_report report;
    uint32_t *weight = NULL;
    ck_ok(ctx, vugi_mesh_weights(ctx, one, &weight));
    ck_assert_ptr_null(weight);
    ck_ok(ctx, vugi_mesh_weights(ctx, many, &weight));
    ck_assert_ptr_nonnull(weight);
    ck_assert_uint_eq(weight[0], 65536);
    ck_assert_uint_eq(weight[4], 0);
    ck_ok(ctx, vugi_grid_fit(ctx, one->lo, one->hi, 8, 2, &grid));
    size_t n = vugi_grid_count(&grid);
    uint8_t *expected = malloc(n), *got = malloc(n);
    uint32_t *work = malloc(n * sizeof *work);
    ck_ok(ctx, vugi_grid_sign(ctx, one, NULL, &grid, expected, work, &report));
    for (int with = 0; with < 2; with++) {
        ck_ok(ctx, vugi_grid_sign(ctx, many, with ? weight : NULL, &grid, got, work, &report));
        ck_assert_int_eq(memcmp(got, expected, n), 0);
    }
    vug_free(ctx, weight);
    free(expected);
    free(got);
    free(work);
    vug_mesh_free(one);
    vug_mesh_free(many);
    vug_context_free(ctx);
}
END_TEST

/* Triangles x cells took minutes, and so did shells x shells. The wall is that of the one. */
START_TEST(copies_take_no_time)
{
    vug_context *ctx = test_context();
    vug_mesh *one = copies(ctx, 1), *many = copies(ctx, 65536);
    vug_cavities *c = NULL;
    vug_thickness *t[2] = {NULL, NULL};
    vug_thickness_info info[2] = {{.struct_size = sizeof *info}, {.struct_size = sizeof *info}};
    vug_cavity_options o;
    vug_cavity_options_init(&o, sizeof o);
    o.cells_across = 100;
    ck_ok(ctx, vug_cavities_find(ctx, many, NULL, 0, &o, &c));
    ck_assert_uint_eq(vug_cavities_count(c), 0);
    ck_ok(ctx, vug_thickness_measure(ctx, one, NULL, 1.0, &t[0]));
    ck_ok(ctx, vug_thickness_measure(ctx, many, NULL, 1.0, &t[1]));
    for (int i = 0; i < 2; i++)
        ck_assert_int_eq(vug_thickness_get(t[i], &info[i]), VUG_OK);
    ck_near(info[1].max_mm, info[0].max_mm, 1e-9);
    ck_near(info[1].min_mm, info[0].min_mm, 1e-9);
    ck_assert_uint_eq(info[0].samples, info[1].samples);
    ck_near(info[1].area_mm2, 65536.0 * info[0].area_mm2, 1e-9);
    vug_thickness_free(t[0]);
    vug_thickness_free(t[1]);
    vug_cavities_free(c);
    vug_mesh_free(one);
    vug_mesh_free(many);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("copies");
    TCase *tc = tcase_create("copies");
    tcase_set_timeout(tc, 30);
    tcase_add_test(tc, copies_are_solid);
    tcase_add_test(tc, copies_take_no_time);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
