/* SPDX-License-Identifier: MIT
 * Bores against volumes worked by hand; what no bore touches; faults, limits, memory, cancelling. */
#include "base/base.h"
#include "base/context_types.h"

#include "../failing.h"
#include "../shapes.h"
#include "../test.h"

static const double PI = 3.14159265358979323846;

enum { ROW = VUG_BORE_ROW, CUT = VUG_BORE_CUT };

static vug_mesh *slab(vug_context *ctx)
{
    shape s = {0};
    shape_box(&s, (double[3]){0, 0, 0}, (double[3]){40, 30, 5}, 0);
    return shape_mesh(ctx, &s);
}

static vug_mesh_measures measures_of(vug_context *ctx, const vug_mesh *mesh)
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_measure(ctx, mesh, &m));
    return m;
}

/* Bores and returns the volume that the mesh has lost; the result has to be sound. */
static double lost(vug_context *ctx, const vug_mesh *mesh, const double *rows, size_t count,
    double error, double *cuts)
{
    vug_bore_options options;
    ck_assert_int_eq(vug_bore_options_init(&options, sizeof options), VUG_OK);
    options.error_mm = error;
    vug_mesh *out = NULL;
    ck_ok(ctx, vug_shape_bore(ctx, mesh, rows, count, &options, cuts, &out));
    vug_mesh_measures before = measures_of(ctx, mesh), after = measures_of(ctx, out);
    ck_assert_int_eq(after.closed, 1);
    ck_assert_uint_eq(after.edges_open + after.edges_nonmanifold + after.edges_flipped, 0);
    ck_assert_uint_eq(after.degenerate, 0);
    vug_mesh_free(out);
    return before.volume_mm3 - after.volume_mm3;
}

START_TEST(a_flat_wall)
{
    /* By hand: the polygon has the round section's area, so a prism through a flat wall takes away
     * pi/4 d^2 times the wall's length along the bore, whatever the number of sides. */
    vug_context *ctx = test_context();
    vug_mesh *mesh = slab(ctx);
    const double straight = PI * 9.0 * 5.0;
    double cuts[CUT];
    for (double error = 0.5; error > 1e-5; error /= 7.0) {
        const double row[ROW] = {20, 15, 5, 0, 0, -3, 6};
        double volume = lost(ctx, mesh, row, 1, error, cuts);
        ck_near(volume, straight, 1e-9);
        ck_near(cuts[0], volume, 1e-9);
        ck_close(cuts[1], 0.0, 1e-12);
        ck_close(cuts[2], 5.0, 1e-12);
        /* corner and middle of a side of the polygon of equal area (its apothem from
         * n r^2 tan(pi/n) = pi R^2) lie within the error */
        double apothem = 3.0 * sqrt(PI / cuts[3] / tan(PI / cuts[3]));
        ck_assert(3.0 - apothem <= error && apothem / cos(PI / cuts[3]) - 3.0 <= error);
    }
    for (int angle = 10; angle < 80; angle += 10) { /* slanting: 5 mm / cos */
        double a = angle * PI / 180.0;
        const double row[ROW] = {20, 15, 5, sin(a), 0, -cos(a), 3, INFINITY};
        if (20.0 + 5.0 * tan(a) + 1.6 / cos(a) < 40.0)
            ck_near(lost(ctx, mesh, row, 1, 0.01, cuts), PI * 2.25 * 5.0 / cos(a), 1e-9);
    }
    const double blind[ROW] = {20, 15, 5, 0, 0, -1, 6, 2};
    ck_near(lost(ctx, mesh, blind, 1, 0.01, NULL), PI * 9.0 * 2.0, 1e-9);
    const double whole[ROW] = {20, 15, 5, 0, 0, -1, 6, 5}; /* as deep as the wall: no skin stays */
    ck_near(lost(ctx, mesh, whole, 1, 0.01, NULL), straight, 1e-9);
    const double lengthwise[ROW] = {0, 15, 2.5, 1, 0, 0, 3, INFINITY};
    ck_near(lost(ctx, mesh, lengthwise, 1, 0.01, NULL), PI * 2.25 * 40.0, 1e-9);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(taper_and_countersink)
{
    /* By hand: frustum pi h / 3 (R^2 + R r + r^2). */
    vug_context *ctx = test_context();
    vug_mesh *mesh = slab(ctx);
    double r = 3.0 - 5.0 * tan(5.0 * PI / 180.0);
    const double taper[ROW] = {20, 15, 5, 0, 0, -1, 6, 0, 10};
    ck_near(lost(ctx, mesh, taper, 1, 0.01, NULL), PI * 5.0 / 3.0 * (9.0 + 3.0 * r + r * r), 1e-9);
    /* Countersink 9 mm at 90 degrees over a bore of 6: 1.5 deep, less the bore's part in it. Cone and
     * bore meet in polygons that are turned against each other, hence the error asked for. */
    double cone = PI * 1.5 / 3.0 * (4.5 * 4.5 + 4.5 * 3.0 + 9.0);
    const double sunk[ROW] = {20, 15, 5, 0, 0, -1, 6, 0, 0, 9, 90};
    ck_near(lost(ctx, mesh, sunk, 1, 1e-4, NULL), PI * 9.0 * 3.5 + cone, 1e-5);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(a_ball)
{
    /* Napkin ring: what is left of a ball bored through its middle is pi h^3 / 6, h the length of the
     * bore. The ball's facets (here 360 around) lose their share: the same ring of the inscribed body of
     * revolution, whose ball lacks 3e-4. */
    vug_context *ctx = test_context();
    shape s = {0};
    double profile[2 * 181];
    size_t n = shape_arc(profile, 0, 0.0, 0.0, 20.0, -90.0, 90.0, 180);
    shape_revolve(&s, profile, n, 360, 0);
    vug_mesh *ball = shape_mesh(ctx, &s);
    const double row[ROW] = {0, 0, 20, 0, 0, -1, 10, INFINITY};
    double volume = measures_of(ctx, ball).volume_mm3;
    double left = volume - lost(ctx, ball, row, 1, 1e-4, NULL);
    ck_near(left, PI * pow(2.0 * sqrt(400.0 - 25.0), 3) / 6.0, 3e-4);
    const double aside[ROW] = {20 * 0.6, 0, 20 * 0.8, -0.6, 0, -0.8, 10, INFINITY};
    ck_near(volume - lost(ctx, ball, aside, 1, 1e-4, NULL), left, 3e-5);
    vug_mesh_free(ball);
    vug_context_free(ctx);
}
END_TEST

START_TEST(awkward_places)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = slab(ctx);
    const double straight = PI * 9.0 * 5.0;
    /* By hand: along an edge half, at a corner a quarter (a polygon's half and quarter differ from the
     * circle's by less than its error times the diameter). */
    const double edge[ROW] = {20, 0, 5, 0, 0, -1, 6}, corner[ROW] = {0, 0, 5, 0, 0, -1, 6};
    ck_close(lost(ctx, mesh, edge, 1, 1e-3, NULL), 0.5 * straight, 5e-3 * 6.0);
    ck_close(lost(ctx, mesh, corner, 1, 1e-3, NULL), 0.25 * straight, 5e-3 * 6.0);
    const double along[ROW] = {0, 0, 0, 1, 0, 0, 2,
        INFINITY}; /* a quarter round along the whole edge */
    ck_close(lost(ctx, mesh, along, 1, 1e-3, NULL), 0.25 * PI * 40.0, 1e-3 * 2.0 * 40.0);
    const double tangent[ROW] = {3, 15, 5, 0, 0, -1, 6};
    ck_close(lost(ctx, mesh, tangent, 1, 1e-3, NULL), straight, 1e-3 * 5.0 * 6.0);
    /* Overlapping: the same bore again (nothing more), and one that is 2 mm aside: the lens of two equal
     * circles 2 r^2 acos(d/2r) - d/2 sqrt(4 r^2 - d^2) is taken away once. */
    double lens = 18.0 * acos(1.0 / 3.0) - sqrt(36.0 - 4.0);
    const double rows[3 * ROW] = {10, 15, 5, 0, 0, -1, 6, 0, 0, 0, 0, 10, 15, 5, 0, 0, -1, 6, 0, 0,
        0, 0, 12, 15, 5, 0, 0, -1, 6, 0, 0, 0, 0};
    ck_close(lost(ctx, mesh, rows, 3, 1e-4, NULL), 2.0 * straight - 5.0 * lens, 1e-2);
    vug_mesh_free(mesh);
    /* Through a hollow ball: the wall at the point alone, or both. */
    vug_mesh *ball = shape_hollow_ball(ctx, 8.0, 10.0, 0.0, 64);
    const double one[ROW] = {10, 0, 0, -1, 0, 0, 2}, both[ROW] = {10, 0, 0, -1, 0, 0, 2, INFINITY};
    double once = lost(ctx, ball, one, 1, 0.01, NULL);
    ck_near(once, PI * 2.0, 0.02);
    ck_near(lost(ctx, ball, both, 1, 0.01, NULL), 2.0 * once, 0.01);
    vug_mesh_free(ball);
    vug_context_free(ctx);
}
END_TEST

START_TEST(what_is_not_touched_stays)
{
    vug_context *ctx = test_context();
    vug_mesh *ball = shape_hollow_ball(ctx, 8.0, 10.0, 0.0, 48), *out = NULL;
    const double row[ROW] = {10, 0, 0, -1, 0, 0, 2};
    ck_ok(ctx, vug_shape_bore(ctx, ball, row, 1, NULL, NULL, &out));
    const double *xyz = vug_mesh_vertices(ball), *moved = vug_mesh_vertices(out);
    const uint32_t *from = vug_mesh_triangles(ball), *to = vug_mesh_triangles(out);
    size_t kept = 0;
    for (size_t t = 0; t < vug_mesh_triangle_count(ball); t++) {
        bool same = true;
        for (int k = 0; k < 3; k++)
            same &= memcmp(xyz + 3 * (size_t)from[3 * t + k], moved + 3 * (size_t)to[3 * kept + k],
                        24)
                == 0;
        if (same)
            kept++;
        else /* only where a corner lies within the bore's radius and one facet's length */
            ck_assert(
                hypot(xyz[3 * (size_t)from[3 * t] + 1], xyz[3 * (size_t)from[3 * t] + 2]) < 3.0);
    }
    ck_assert(kept > vug_mesh_triangle_count(ball) - 200);
    vug_mesh_free(ball);
    vug_mesh_free(out);
    vug_context_free(ctx);
}
END_TEST

static void refused(vug_context *ctx, const vug_mesh *mesh, const double row[ROW], vug_status want,
    const char *says)
{
    vug_mesh *out = NULL;
    double cuts[CUT] = {7.0};
    ck_assert_int_eq(vug_shape_bore(ctx, mesh, row, 1, NULL, cuts, &out), want);
    ck_assert_msg(strstr(vug_context_message(ctx), says), "%s", vug_context_message(ctx));
    ck_assert(out == NULL && cuts[0] == 7.0);
}

START_TEST(refusals)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = slab(ctx), *out = NULL;
    double row[ROW] = {20, 15, 5, 0, 0, -1, 6};
    ck_assert_int_eq(vug_shape_bore(NULL, mesh, row, 1, NULL, NULL, &out), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_shape_bore(ctx, NULL, row, 1, NULL, NULL, &out), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_shape_bore(ctx, mesh, NULL, 1, NULL, NULL, &out), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_shape_bore(ctx, mesh, row, 0, NULL, NULL, &out), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_shape_bore(ctx, mesh, row, 1, NULL, NULL, NULL), VUG_ERR_ARGUMENT);
    vug_bore_options options;
    ck_assert_int_eq(vug_bore_options_init(NULL, sizeof options), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_bore_options_init(&options, sizeof options), VUG_OK);
    options.error_mm = NAN;
    ck_assert_int_eq(vug_shape_bore(ctx, mesh, row, 1, &options, NULL, &out), VUG_ERR_DOMAIN);
    static const struct {
        int column;
        double number;
        vug_status status;
        const char *says;
    } wrong[] = {{0, NAN, VUG_ERR_DOMAIN, "coordinate x"}, {5, 0.0, VUG_ERR_DOMAIN, "no length"},
        {6, 0.0, VUG_ERR_DOMAIN, "diameter"}, {6, NAN, VUG_ERR_DOMAIN, "diameter"},
        {7, -1.0, VUG_ERR_DOMAIN, "depth"}, {8, 91.0, VUG_ERR_DOMAIN, "taper"},
        {9, 5.0, VUG_ERR_DOMAIN, "countersink"}, {9, 60.0, VUG_ERR_DOMAIN, "deeper than the bore"},
        {8, 80.0, VUG_ERR_DOMAIN, "to a point"}, {0, 50.0, VUG_ERR_NOT_FOUND, "bore 0 misses"},
        {2, -1.0, VUG_ERR_NOT_FOUND, "bore 0 misses"}, {6, 300.0, VUG_ERR_MESH, "nothing is left"}};
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        double bad[ROW];
        memcpy(bad, row, sizeof bad);
        bad[wrong[i].column] = wrong[i].number;
        refused(ctx, mesh, bad, wrong[i].status, wrong[i].says);
    }
    /* One triangle is missing where the bore goes. */
    vug_mesh *open = NULL;
    ck_ok(ctx,
        vug_mesh_from_arrays(ctx, vug_mesh_vertices(mesh), vug_mesh_vertex_count(mesh), 0,
            vug_mesh_triangles(mesh) + 3, vug_mesh_triangle_count(mesh) - 1, 0, &open));
    bool broke = false;
    for (int side = 0; side < 6; side++) { /* from each side of the slab through all */
        double at[ROW] = {20, 15, 2.5, 0, 0, 0, 4, INFINITY};
        at[side / 2] = side % 2 ? (const double[3]){40, 30, 5}[side / 2] : 0.0;
        at[3 + side / 2] = side % 2 ? -1.0 : 1.0;
        vug_status status = vug_shape_bore(ctx, open, at, 1, NULL, NULL, &out);
        broke |= status == VUG_ERR_MESH;
        ck_assert(status == VUG_OK || status == VUG_ERR_MESH || status == VUG_ERR_NOT_FOUND);
        vug_mesh_free(status ? NULL : out);
        out = NULL;
    }
    ck_assert(broke);
    vug_mesh_free(open);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static vug_status bore_it(vug_context *ctx, void *data)
{
    vug_mesh *out = NULL;
    const double rows[2 * ROW] = {10, 0, 0, -1, 0, 0, 2, 0, 0, 3, 90, 0, 10, 0, 0, -1, 0, 2, 1};
    vug_status status = vug_shape_bore(ctx, data, rows, 2, NULL, NULL, &out);
    vug_mesh_free(out);
    return status;
}

static int32_t stop_at_once(void *user, double fraction, const char *stage)
{
    (void)user;
    (void)stage;
    return fraction > 0.0;
}

START_TEST(failing_memory_and_cancel)
{
    vug_context *ctx = test_context();
    vug_mesh *ball = shape_hollow_ball(ctx, 8.0, 10.0, 0.0, 24);
    failing_until_success(bore_it, ball);
    ctx->pause_ns = 0; /* hear of all */
    ck_ok(ctx, vug_context_set_progress(ctx, stop_at_once, NULL));
    ck_assert_int_eq(bore_it(ctx, ball), VUG_ERR_CANCELLED);
    vug_mesh_free(ball);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("bore");
    TCase *tc = tcase_create("bore");
    tcase_add_test(tc, a_flat_wall);
    tcase_add_test(tc, taper_and_countersink);
    tcase_add_test(tc, a_ball);
    tcase_add_test(tc, awkward_places);
    tcase_add_test(tc, what_is_not_touched_stays);
    tcase_add_test(tc, refusals);
    tcase_add_test(tc, failing_memory_and_cancel);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
