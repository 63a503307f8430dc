/* SPDX-License-Identifier: MIT
 * cavity: wall thickness, on shapes where it is plain geometry. */
#include "cavity/cavity.h"
#include "cavity/thickness.h"

#include "shapes.h"
#include "test.h"

static const double PI = 3.14159265358979323846;

static vug_thickness_info summary(const vug_thickness *t)
{
    vug_thickness_info info = {.struct_size = sizeof info};
    ck_assert_int_eq(vug_thickness_get(t, &info), VUG_OK);
    return info;
}

static void ball(shape *s, double radius, double z0, int inward)
{
    double profile[2 * 81];
    shape_arc(profile, 0, 0.0, z0, radius, -90.0, 90.0, 80);
    shape_revolve(s, profile, 81, 160, inward);
}

static vug_cavities *find(vug_context *ctx, const vug_mesh *mesh)
{
    vug_cavity_options options;
    vug_cavities *c = NULL;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, &options, &c));
    return c;
}

START_TEST(even_wall)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = shape_hollow_ball(ctx, 18.0, 20.0, 0.0, 160);
    vug_cavities *c = find(ctx, mesh);
    vug_thickness *both = NULL, *outer = NULL;
    ck_ok(ctx, vug_thickness_measure(ctx, mesh, NULL, 2.0, &both));
    ck_ok(ctx, vug_thickness_measure(ctx, mesh, c, 2.0, &outer));
    vug_thickness_info info = summary(outer);
    /* Archimedes: 4 pi R^2; the wall is the difference of the radii. */
    ck_near(info.area_mm2, 4.0 * PI * 400.0, 1e-3);
    ck_near(summary(both).area_mm2, 4.0 * PI * (400.0 + 324.0), 1e-3);
    /* Facets of 1/160 turn stand off the ball by (1 - cos(pi / 160)) R = 0.004. */
    ck_close(info.min_mm, 2.0, 0.01);
    ck_close(info.max_mm, 2.0, 0.01);
    ck_close(info.p50_mm, 2.0, 0.01);
    const double *vertex = vug_thickness_vertices(outer);
    size_t measured = 0;
    for (size_t v = 0; v < vug_mesh_vertex_count(mesh); v++) {
        const double *p = vug_mesh_vertices(mesh) + 3 * v;
        int on_outer = sqrt(p[0] * p[0] + p[1] * p[1] + p[2] * p[2]) > 19.0;
        ck_assert_int_eq(vertex[v] > 0.0, on_outer);
        measured += (size_t)on_outer;
    }
    ck_assert_uint_eq(info.samples, measured);
    vug_thickness_free(both);
    vug_thickness_free(outer);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A core of 18 in a ball of 20, moved up by 1. The ball of radius r that touches the outside at height
 * 20 cos a and the core: (20 - r)^2 + 1 - 2 (20 - r) cos a = (18 + r)^2, the cosine rule. */
static double eccentric(double cos_a)
{
    return 2.0 * (401.0 - 40.0 * cos_a - 324.0) / (76.0 - 2.0 * cos_a);
}

START_TEST(uneven_wall)
{
    vug_context *ctx = test_context();
    shape s = {.xyz = NULL};
    ball(&s, 20.0, 0.0, 0);
    ball(&s, 18.0, 1.0, 1);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    vug_cavities *c = find(ctx, mesh);
    vug_thickness *t = NULL;
    ck_ok(ctx, vug_thickness_measure(ctx, mesh, c, 2.0, &t));
    const double *vertex = vug_thickness_vertices(t), *xyz = vug_mesh_vertices(mesh);
    vug_mesh_free(mesh); /* shared: still there */
    for (size_t v = 0; v < vug_mesh_vertex_count(mesh); v++)
        if (vertex[v] > 0.0)
            ck_close(vertex[v], eccentric(xyz[3 * v + 2] / 20.0), 0.015);
    vug_thickness_info info = summary(t);
    /* By hand: above 20 - (18 + 1), below 20 - (18 - 1). */
    ck_close(info.min_mm, 1.0, 0.01);
    ck_close(info.min_at_mm[2], 20.0, 0.1);
    ck_close(info.max_mm, 3.0, 0.01);
    ck_assert(info.min_mm < info.p1_mm && info.p1_mm < info.p5_mm && info.p5_mm < info.p50_mm);

    /* Below 1.2: cos a above 77 - 0.6 * 76 over 40 - 1.2; its zone is 2 pi R (1 - cos a) R. */
    double *rows, bins[4], least = (77.0 - 0.6 * 76.0) / (40.0 - 1.2), sum = 0.0;
    size_t count;
    ck_ok(ctx, vug_thickness_spots(ctx, t, 1.2, &rows, &count));
    ck_assert_uint_eq(count, 1);
    ck_close(rows[3], info.min_mm, 1e-12);
    ck_close(rows[2], 20.0, 0.1);
    /* Within one ring of vertices, 2.25 degrees: 2 pi R^2 sin a da. */
    ck_close(rows[4], 2.0 * PI * 400.0 * (1.0 - least),
        2.0 * PI * 400.0 * sqrt(1.0 - least * least) * PI / 80.0);
    vug_free(ctx, rows);
    ck_ok(ctx, vug_thickness_spots(ctx, t, 0.5, &rows, &count));
    ck_assert_uint_eq(count, 0);
    vug_free(ctx, rows);

    ck_assert_int_eq(vug_thickness_histogram(t, 1.0, 3.0, bins, 4), VUG_OK);
    for (int b = 0; b < 4; b++)
        sum += bins[b];
    ck_near(sum, info.area_mm2, 1e-9);

    double side;
    const double at[3] = {25.0, 0.0, 0.0};
    ck_assert_int_eq(vug_thickness_at(t, at, &side), VUG_OK);
    ck_close(side, eccentric(0.0), 0.02);
    vug_thickness_free(t);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A box of 12 triangles: the wall is thin in the middle of its faces, where no vertex is, and not at
 * its edges, where the faces only turn. Walls are differences of the boxes' sides, by hand. */
START_TEST(large_triangles)
{
    vug_context *ctx = test_context();
    shape s = {.xyz = NULL};
    shape_box(&s, (const double[3]){0, 0, 0}, (const double[3]){40, 30, 20}, 0);
    shape_box(&s, (const double[3]){2, 2, 1}, (const double[3]){38, 28, 18}, 1);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    vug_cavities *c = find(ctx, mesh);
    vug_thickness *t = NULL;
    double wall;
    ck_ok(ctx, vug_thickness_measure(ctx, mesh, c, 0.5, &t));
    vug_thickness_info info = summary(t);
    ck_near(info.area_mm2, 2.0 * (40.0 * 30.0 + 30.0 * 20.0 + 20.0 * 40.0), 1e-9);
    ck_close(info.min_mm, 1.0, 1e-6);
    ck_close(info.min_at_mm[2], 0.0, 1e-9);
    ck_close(info.p50_mm, 2.0, 1e-3);
    ck_assert_int_eq(vug_thickness_at(t, (const double[3]){20, 15, 25}, &wall), VUG_OK);
    ck_close(wall, 2.0, 1e-6);
    ck_assert_int_eq(vug_thickness_at(t, (const double[3]){20, 15, -1}, &wall), VUG_OK);
    ck_close(wall, 1.0, 1e-6);
    vug_thickness_free(t);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* Two boxes that touch in a square of 6 by 6, and a box whose cavity reaches its skin in one of 10 by 10:
 * there is no thickness to tell there, each square counts on both its sides. Samples stand no farther apart
 * than the spacing, so areas are right to a strip of that width around the square. */
START_TEST(walls_in_one_place)
{
    static const double half = 0.25, lo[2][3] = {{10, 2, 2}, {0, 5, 5}},
                        hi[2][3] = {{20, 8, 8}, {10, 15, 15}}, side[2] = {6, 10};
    for (int inward = 0; inward < 2; inward++) {
        vug_context *ctx = test_context();
        double size = inward ? 20.0 : 10.0, square = side[inward] * side[inward];
        shape s = {.xyz = NULL};
        shape_box(&s, (const double[3]){0, 0, 0}, (const double[3]){size, size, size}, 0);
        shape_box(&s, lo[inward], hi[inward], inward);
        vug_mesh *mesh = shape_mesh(ctx, &s);
        vug_thickness *t = NULL;
        ck_ok(ctx, vug_thickness_measure(ctx, mesh, NULL, 2.0 * half, &t));
        vug_thickness_info info = summary(t);
        ck_close(info.coincident_mm2, 2.0 * square, 2.0 * 4.0 * side[inward] * half);
        ck_close(info.coincident_at_mm[0], inward ? 0.0 : 10.0, 1e-9);
        /* The ball at the corner (10, 10, 10), along the diagonal, touches (10, 8, 8): 8 / (4 / sqrt 3). */
        ck_close(info.min_mm, inward ? 5.0 : 2.0 * sqrt(3.0), 1e-3);
        ck_assert(info.p1_mm >= info.min_mm);
        vug_thickness_free(t);
        vug_mesh_free(mesh);
        vug_context_free(ctx);
    }
}
END_TEST

START_TEST(bad_input_is_refused)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = shape_hollow_ball(ctx, 18.0, 20.0, 0.0, 24);
    vug_thickness *t = NULL;
    vug_thickness_info info;
    double x, *rows;
    size_t count;
    const double nowhere[3] = {0.0, NAN, 0.0};
    ck_assert_int_eq(vug_thickness_measure(NULL, mesh, NULL, 0.0, &t), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_thickness_measure(ctx, NULL, NULL, 0.0, &t), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_thickness_measure(ctx, mesh, NULL, 0.0, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_thickness_measure(ctx, mesh, NULL, -1.0, &t), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_thickness_measure(ctx, mesh, NULL, NAN, &t), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_thickness_measure(ctx, mesh, NULL, 1e-9, &t), VUG_ERR_LIMIT);
    ck_assert_ptr_null(t);
    vug_context_cancel(ctx);
    ck_assert_int_eq(vug_thickness_measure(ctx, mesh, NULL, 0.0, &t), VUG_ERR_CANCELLED);
    ck_ok(ctx, vug_thickness_measure(ctx, mesh, NULL, 0.0, &t));
    info.struct_size = 0;

    ck_assert_int_eq(vug_thickness_get(t, &info), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_thickness_get(NULL, &info), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_thickness_at(t, nowhere, &x), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_thickness_histogram(t, 2.0, 1.0, &x, 1), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_thickness_histogram(t, 1.0, 2.0, &x, 0), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_thickness_spots(ctx, t, INFINITY, &rows, &count), VUG_ERR_ARGUMENT);
    ck_assert_ptr_null(vug_thickness_vertices(NULL));
    vug_thickness_free(NULL);
    vug_thickness_free(t);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("thickness");
    TCase *tc = tcase_create("thickness");
    tcase_set_timeout(tc, 120);
    tcase_add_test(tc, even_wall);
    tcase_add_test(tc, uneven_wall);
    tcase_add_test(tc, large_triangles);
    tcase_add_test(tc, walls_in_one_place);
    tcase_add_test(tc, bad_input_is_refused);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
