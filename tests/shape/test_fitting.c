/* SPDX-License-Identifier: MIT
 * Plugs, guides and cradles against volumes worked by hand, and pieces saved together. */
#include "base/vec.h"

#include "../failing.h"
#include "../shapes.h"
#include "../test.h"

static const double PI = 3.14159265358979323846;

enum { ROW = VUG_BORE_ROW };

static vug_mesh *slab(vug_context *ctx)
{
    shape s = {0};
    shape_box(&s, (double[3]){0, 0, 0}, (double[3]){40, 30, 5}, 0);
    return shape_mesh(ctx, &s);
}

/* Volume of a sound solid, which is freed. */
static double volume_of(vug_context *ctx, vug_mesh *mesh)
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
    ck_assert_int_eq(m.closed, 1);
    ck_assert_uint_eq(m.edges_nonmanifold + m.degenerate, 0);
    vug_mesh_free(mesh);
    return m.volume_mm3;
}

static double frustum(double height, double a, double b)
{
    return PI * height / 3.0 * (a * a + a * b + b * b);
}

START_TEST(plugs)
{
    /* By hand; polygons have the area of their round sections, so frustums are exact. */
    vug_context *ctx = test_context();
    vug_mesh *out = NULL;
    vug_plug_options options;
    ck_assert_int_eq(vug_plug_options_init(&options, sizeof options), VUG_OK);
    const double straight[ROW] = {20, 15, 5, 0, 0, -1, 6, 4};
    ck_ok(ctx,
        vug_shape_plug(ctx, straight, NULL, &out)); /* head 1 x 4, shank 2.9, 0.1 short of 4 */
    ck_near(volume_of(ctx, out), PI * 16.0 + PI * 2.9 * 2.9 * 3.9, 1e-9);
    const double sunk[ROW] = {20, 15, 5, 0, 0, -1, 6, 0, 10, 9, 90};
    double taper = 5.0 * PI / 180.0, shank = 3.0 - 0.1 / cos(taper),
           top = 4.5 - 0.1 / cos(PI / 4.0);
    double meets = (top - shank) / (1.0 - tan(taper)), neck = top - meets;
    double end = shank - 4.0 * tan(taper);
    options.head_mm = 0.0;
    options.length_mm = 4.0;
    ck_ok(ctx, vug_shape_plug(ctx, sunk, &options, &out));
    ck_near(volume_of(ctx, out), frustum(meets, top, neck) + frustum(4.0 - meets, neck, end), 1e-9);
    options.clearance_mm = 3.0;
    ck_assert_int_eq(vug_shape_plug(ctx, straight, &options, &out), VUG_ERR_DOMAIN);
    options.clearance_mm = NAN;
    ck_assert_int_eq(vug_shape_plug(ctx, straight, &options, &out), VUG_ERR_DOMAIN);
    ck_assert_int_eq(vug_shape_plug(ctx, NULL, NULL, &out), VUG_ERR_ARGUMENT);
    vug_context_free(ctx);
}
END_TEST

START_TEST(guides)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = slab(ctx), *out = NULL;
    vug_guide_options options;
    ck_assert_int_eq(vug_guide_options_init(&options, sizeof options), VUG_OK);
    /* On a flat skin it is a ring, by hand: 96 sides, those of the hole around its circle, from 0.2 above
     * the skin to 12. */
    const double row[ROW] = {20, 15, 5, 0, 0, -1, 6};
    double inner = 3.1 / cos(PI / 96.0), area = 48.0 * sin(PI / 48.0);
    ck_ok(ctx, vug_shape_guide(ctx, mesh, row, NULL, &out));
    ck_near(volume_of(ctx, out), area * (7.1 * 7.1 - inner * inner) * 11.8, 1e-9);
    /* The stop: through 5 mm of wall with 25 mm of drill, 20 mm above the skin. */
    options.drill_mm = 25.0;
    ck_ok(ctx, vug_shape_guide(ctx, mesh, row, &options, &out));
    ck_near(volume_of(ctx, out), area * (7.1 * 7.1 - inner * inner) * 19.8, 1e-9);
    options.drill_mm = 6.0;
    ck_assert_int_eq(vug_shape_guide(ctx, mesh, row, &options, &out), VUG_ERR_DOMAIN);
    ck_assert_int_eq(vug_shape_guide(ctx, mesh, NULL, NULL, &out), VUG_ERR_ARGUMENT);
    const double past[ROW] = {90, 15, 5, 0, 0, -1, 6};
    ck_assert_int_eq(vug_shape_guide(ctx, mesh, past, NULL, &out), VUG_ERR_NOT_FOUND);
    vug_mesh_free(mesh);
    /* On a ball of 20 mm every vertex of its underside keeps the clearance, and hardly more than a step of
     * its grid and the slope there allow. */
    shape s = {0};
    double profile[2 * 91];
    shape_revolve(&s, profile, shape_arc(profile, 0, 0.0, 0.0, 20.0, -90.0, 90.0, 90), 180, 0);
    mesh = shape_mesh(ctx, &s);
    const double pole[ROW] = {0, 0, 20, 0, 0, -1, 3, 2};
    ck_ok(ctx, vug_shape_guide(ctx, mesh, pole, NULL, &out));
    double least = INFINITY, most = 0.0;
    for (size_t v = 2 * 96; v < vug_mesh_vertex_count(out); v++) {
        const double *p = vug_mesh_vertices(out) + 3 * v;
        double away = sqrt(p[0] * p[0] + p[1] * p[1] + p[2] * p[2]) - 20.0;
        least = fmin(least, away);
        most = fmax(most, away);
    }
    ck_assert_msg(least > 0.17 && most < 0.6, "%g to %g mm from the ball", least, most);
    vug_mesh_free(out);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(cradles)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = slab(ctx), *out = NULL;
    const double up[3] = {0, 0, 2}, down[3] = {0, 0, 0};
    vug_cradle_options options;
    double stand = 0.0;
    ck_assert_int_eq(vug_cradle_options_init(&options, sizeof options), VUG_OK);
    options.depth_mm = 4.0;
    options.cells = 500; /* steps of 0.1 */
    ck_ok(ctx, vug_shape_cradle(ctx, mesh, up, NULL, 0, &options, &stand, &out));
    /* By hand: a block of 50 x 40 x 7.3 less the slab with 0.3 around it, 4.3 deep; its walls lie within two
     * steps of there. Centre of mass 20 mm from the nearer edges. */
    double volume = volume_of(ctx, out), want = 50.0 * 40.0 * 7.3 - 40.6 * 30.6 * 4.3;
    ck_assert_msg(volume < want + 1.0 && volume > want - 4.3 * 2.0 * (40.6 + 30.6) * 0.2, "%g, %g",
        volume, want);
    ck_near(stand, 20.0, 1e-9);
    /* A shaft of 3 + 2 x 2 through the floor, 3 thick. */
    const double opening[4] = {20, 15, 0, 3};
    ck_ok(ctx, vug_shape_cradle(ctx, mesh, up, opening, 1, &options, NULL, &out));
    ck_near(volume - volume_of(ctx, out), PI * 3.5 * 3.5 * 3.0, 1e-6);
    ck_assert_int_eq(vug_shape_cradle(ctx, mesh, down, NULL, 0, NULL, NULL, &out), VUG_ERR_DOMAIN);
    ck_assert_int_eq(vug_shape_cradle(ctx, mesh, NULL, NULL, 0, NULL, NULL, &out),
        VUG_ERR_ARGUMENT);
    options.cells = 16;
    options.margin_mm = 1.0;
    ck_assert_int_eq(vug_shape_cradle(ctx, mesh, up, NULL, 0, &options, NULL, &out),
        VUG_ERR_DOMAIN);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* How far a point is from the edge of a cradle's base, seen from above: the least of what the base reaches beyond it in
 * 720 directions. */
static double inside_base(const vug_mesh *cradle, const double up[3], const double at[3])
{
    const double *v = vug_mesh_vertices(cradle);
    size_t count = vug_mesh_vertex_count(cradle);
    double lowest = INFINITY, least = INFINITY, x[3], y[3];
    vugi_cross(up, (double[3]){1, 0, 0}, x);
    vugi_normalise(x);
    vugi_cross(up, x, y);
    for (size_t i = 0; i < count; i++)
        lowest = fmin(lowest, vugi_dot(up, v + 3 * i));
    for (int k = 0; k < 720; k++) {
        double a = cos(k * PI / 360.0), b = sin(k * PI / 360.0), reach = -INFINITY;
        for (size_t i = 0; i < count; i++) {
            double p[3];
            vugi_subtract(v + 3 * i, at, p);
            if (vugi_dot(up, v + 3 * i) < lowest + 1e-6)
                reach = fmax(reach, a * vugi_dot(x, p) + b * vugi_dot(y, p));
        }
        least = fmin(least, reach);
    }
    return least;
}

/* A tower with a chamber on one side, held askew: its centre of mass is above the base, and as far from the edge as the
 * margin at least, whether it is empty or full of what is as heavy. Centres of two boxes, by hand. */
START_TEST(stands_empty_and_full)
{
    vug_context *ctx = test_context();
    shape s = {0};
    shape_box(&s, (double[3]){0, 0, 0}, (double[3]){20, 16, 60}, 0);
    shape_box(&s, (double[3]){2, 2, 30}, (double[3]){12, 14, 58}, 1);
    vug_mesh *mesh = shape_mesh(ctx, &s), *out = NULL;
    const double whole = 20 * 16 * 60, chamber = 10 * 12 * 28, full[3] = {10, 8, 30};
    const double middle[3] = {7, 8, 44};
    double up[3] = {0.3, 0.2, 0.9}, empty[3], stand = 0.0;
    vugi_normalise(up);
    for (int k = 0; k < 3; k++)
        empty[k] = (whole * full[k] - chamber * middle[k]) / (whole - chamber);
    ck_ok(ctx, vug_shape_cradle(ctx, mesh, up, NULL, 0, NULL, &stand, &out));
    double alone = inside_base(out, up, empty), filled = inside_base(out, up, full);
    ck_assert_msg(alone >= 5.0 && filled >= 5.0, "%g and %g mm from the edge", alone, filled);
    ck_assert_msg(stand <= alone + 1e-9 && alone < stand + 0.2, "%g, told %g", alone, stand);
    vug_mesh_free(out);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static vug_status fit_all(vug_context *ctx, void *data)
{
    vug_mesh *guide = NULL, *cradle = NULL, *plug = NULL;
    const double row[ROW] = {20, 15, 5, 0, 0, -1, 6}, up[3] = {1, 0, 1},
                 opening[4] = {20, 15, 0, 3};
    vug_cradle_options options;
    vug_cradle_options_init(&options, sizeof options);
    options.cells = 40;
    vug_status status = vug_shape_guide(ctx, data, row, NULL, &guide);
    if (!status)
        status = vug_shape_cradle(ctx, data, up, opening, 1, &options, NULL, &cradle);
    if (!status)
        status = vug_shape_plug(ctx, row, NULL, &plug);
    vug_mesh_free(guide);
    vug_mesh_free(cradle);
    vug_mesh_free(plug);
    return status;
}

START_TEST(failing_memory)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = slab(ctx);
    failing_until_success(fit_all, mesh);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(pieces_in_one_file)
{
    vug_context *ctx = test_context();
    if (vug_feature("3mf")) {
        vug_mesh *part = slab(ctx), *plug = NULL, *both = NULL;
        const double row[ROW] = {20, 15, 5, 0, 0, -1, 6, 4};
        char path[] = "vug_pieces_XXXXXX.3mf";
        ck_assert_int_ge(mkstemps(path, 4), 0);
        ck_ok(ctx, vug_shape_plug(ctx, row, NULL, &plug));
        const vug_mesh *const pieces[2] = {part, plug}, *const none[1] = {NULL};
        const char *const names[2] = {"part <1>", NULL};
        ck_ok(ctx, vug_mesh_save_pieces(ctx, pieces, names, 2, path));
        ck_ok(ctx, vug_mesh_load(ctx, path, NULL, &both));
        ck_near(volume_of(ctx, both), 40.0 * 30.0 * 5.0 + PI * 16.0 + PI * 2.9 * 2.9 * 3.9, 1e-6);
        ck_assert_int_eq(vug_mesh_save_pieces(ctx, none, NULL, 1, path), VUG_ERR_ARGUMENT);
        ck_assert_int_eq(vug_mesh_save_pieces(ctx, pieces, NULL, 0, path), VUG_ERR_ARGUMENT);
        remove(path);
        vug_mesh_free(part);
        vug_mesh_free(plug);
    }
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("fitting");
    TCase *tc = tcase_create("fitting");
    tcase_add_test(tc, plugs);
    tcase_add_test(tc, guides);
    tcase_add_test(tc, cradles);
    tcase_add_test(tc, stands_empty_and_full);
    tcase_add_test(tc, failing_memory);
    tcase_add_test(tc, pieces_in_one_file);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
