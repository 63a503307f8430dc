/* SPDX-License-Identifier: MIT
 * Cavities made to be filled: bodies whose lowered ceilings and trapped air are known by formula, by hand. */
#include "base/base.h"

#include "../failing.h"
#include "../shapes.h"
#include "../test.h"

static const double PI = 3.14159265358979323846;

enum { AROUND = 64 };

/* Slopes are measured along eight directions: a way across is longer than the straight one by no more than this,
 * 1 / cos 22.5 degrees. */
static const double ZIGZAG = 1.0824;

static vug_hollow_options options_of(double wall, double most, int32_t cells)
{
    vug_hollow_options o;
    ck_assert_int_eq(vug_hollow_options_init(&o, sizeof o), VUG_OK);
    o.wall_mm = wall;
    o.most_wall_mm = most;
    o.cells = cells;
    return o;
}

static vug_hollow_info hollow(vug_context *ctx, const vug_mesh *mesh, const vug_hollow_options *o,
    vug_mesh **out)
{
    vug_hollow_info info = {.struct_size = sizeof info};
    vug_mesh_measures m = {.struct_size = sizeof m};
    vug_mesh *made = NULL;
    ck_ok(ctx, vug_shape_hollow(ctx, mesh, o, &made, &info, NULL, NULL));
    ck_ok(ctx, vug_mesh_measure(ctx, made, &m));
    ck_assert_int_eq(m.closed, 1);
    ck_assert_uint_eq(m.edges_open + m.edges_nonmanifold + m.edges_flipped + m.degenerate, 0);
    ck_assert(info.least_wall_mm >= o->wall_mm - 0.1 * info.step_mm);
    ck_assert(info.bare_mm2 <= info.bare_before_mm2);
    ck_assert(info.trapped_mm3 <= info.trapped_before_mm3);
    ck_assert_mem_eq(vug_mesh_vertices(made), vug_mesh_vertices(mesh),
        vug_mesh_vertex_count(mesh) * 3 * sizeof(double));
    if (out)
        *out = made;
    else
        vug_mesh_free(made);
    return info;
}

static vug_mesh *box(vug_context *ctx)
{
    shape s = {0};
    shape_box(&s, (double[3]){0, 0, 0}, (double[3]){40, 30, 20}, 0);
    return shape_mesh(ctx, &s);
}

/* Of the distance from the middle, over a rectangle. */
static double integral(double a, double b)
{
    enum { N = 200 };
    double sum = 0.0;
    for (int i = 0; i < N; i++)
        for (int j = 0; j < N; j++)
            sum += hypot(a * ((i + 0.5) / N - 0.5), b * ((j + 0.5) / N - 0.5));
    return sum * a * b / (N * N);
}

/* A flat ceiling at z = 18 becomes a roof that falls by 10 degrees on all sides from its middle. */
START_TEST(a_flat_ceiling)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = box(ctx), *out = NULL;
    vug_hollow_options o = options_of(2, 8, 60);
    vug_hollow_info info = hollow(ctx, mesh, &o, &out);
    double fall = tan(10 * PI / 180), exact = fall * integral(36, 26), h = info.step_mm;
    ck_close(info.slope_deg, 10, 1e-12);
    ck_assert_msg(info.added_mm3 > 0.98 * exact && info.added_mm3 < 1.02 * ZIGZAG * exact,
        "%g of %g", info.added_mm3, exact);
    ck_near(info.volume_mm3, 36.0 * 26 * 16 - info.added_mm3, 0.01);
    const double *xyz = vug_mesh_vertices(out);
    size_t seen = 0;
    for (size_t v = vug_mesh_vertex_count(mesh); v < vug_mesh_vertex_count(out); v++) {
        const double *p = xyz + 3 * v;
        double r = hypot(p[0] - 20, p[1] - 15);
        ck_assert_msg(p[2] < 18 - fall * r + h, "%g at %g", p[2], r);
        if (p[2] < 10 || p[0] < 3 || p[0] > 37 || p[1] < 3 || p[1] > 27)
            continue;
        seen++;
        ck_assert_msg(p[2] > 18 - ZIGZAG * fall * r - h, "%g at %g", p[2], r);
    }
    ck_assert_uint_gt(seen, 1000);
    ck_assert_msg(info.flat_mm2 < 0.15 * 36 * 26, "%g", info.flat_mm2); /* its ridges and its rim */
    vug_mesh_free(out);

    /* towards a corner instead */
    o.outlet_mm[0] = o.outlet_mm[1] = 2;
    o.outlet_mm[2] = 18;
    o.slope_deg = 4;
    info = hollow(ctx, mesh, &o, NULL);
    exact = tan(4 * PI / 180) * integral(72, 52) / 4;
    ck_assert_msg(info.added_mm3 > 0.96 * exact && info.added_mm3 < 1.04 * ZIGZAG * exact,
        "%g of %g", info.added_mm3, exact);

    /* no more than the greatest wall: nowhere above 15, but for the outlet */
    o = options_of(2, 5, 60);
    o.slope_deg = 45;
    info = hollow(ctx, mesh, &o, &out);
    xyz = vug_mesh_vertices(out);
    for (size_t v = vug_mesh_vertex_count(mesh); v < vug_mesh_vertex_count(out); v++) {
        const double *p = xyz + 3 * v;
        bool inside = p[0] > 5 && p[0] < 35 && p[1] > 5 && p[1] < 25 && p[2] > 10;
        ck_assert_msg(!inside || p[2] > 15, "%g, %g, %g", p[0], p[1], p[2]);
    }
    /* a pit 3 mm deep at 45 degrees is all that there is room for: the rest is flat */
    ck_assert(info.flat_mm2 > 0.75 * 36 * 26 && info.flat_mm2 < 36 * 26);
    vug_mesh_free(out);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* The same box held on an edge, and turned by hand so that it stands on it: one answer. */
START_TEST(any_pose)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = box(ctx), *turned = NULL;
    double c = cos(0.5), s = sin(0.5), xyz[24];
    const double *from = vug_mesh_vertices(mesh);
    ck_assert_uint_eq(vug_mesh_vertex_count(mesh), 8);
    for (int v = 0; v < 8; v++) {
        xyz[3 * v] = c * from[3 * v] + s * from[3 * v + 2];
        xyz[3 * v + 1] = from[3 * v + 1];
        xyz[3 * v + 2] = -s * from[3 * v] + c * from[3 * v + 2];
    }
    ck_ok(ctx,
        vug_mesh_from_arrays(ctx, xyz, 8, 0, vug_mesh_triangles(mesh),
            vug_mesh_triangle_count(mesh), 0, &turned));
    vug_hollow_options o = options_of(2, 6, 48);
    vug_hollow_info upright = hollow(ctx, turned, &o, NULL);
    o.fill_up[0] = -3 * s;
    o.fill_up[2] = 3 * c;
    vug_hollow_info held = hollow(ctx, mesh, &o, NULL);
    ck_near(held.volume_mm3, upright.volume_mm3, 0.002);
    ck_close(held.added_mm3, upright.added_mm3, 0.02 * upright.added_mm3);
    vug_mesh_free(turned);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A low drum with a tower in its middle and a ring around, whose room ends above the drum's ceiling. */
static vug_mesh *ring_and_tower(vug_context *ctx)
{
    const double profile[] = {0, 0, 22, 0, 22, 26, 12, 26, 12, 14, 8, 14, 8, 40, 0, 40};
    shape s = {0};
    shape_revolve(&s, profile, 8, AROUND, 0);
    return shape_mesh(ctx, &s);
}

/* By hand: air stays in the ring from the drum's ceiling, 12, to its own, 24, between radii 14 and 20. */
START_TEST(a_pocket)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = ring_and_tower(ctx);
    vug_hollow_options o = options_of(2, 6.5, 80);
    o.slope_deg = 0;
    vug_hollow_info filled = hollow(ctx, mesh, &o, NULL);
    double ring = PI * (20 * 20 - 14 * 14) * 12;
    ck_near(filled.trapped_before_mm3, ring, 0.02);
    ck_assert_msg(filled.trapped_mm3 < 0.005 * ring, "%g", filled.trapped_mm3);
    ck_near(filled.added_mm3, ring, 0.02);

    /* What is farther than 4.5 from the skin, less a step, stays: 12 + 4.5 to 22 - 4.5, up to 26 - 4.5. */
    o.most_wall_mm = 4.5;
    vug_hollow_info some = hollow(ctx, mesh, &o, NULL);
    double h = some.step_mm, in = 16.5 - h, out = 17.5 + h;
    ck_near(some.trapped_mm3, PI * (out * out - in * in) * (21.5 + h - 12), 0.1);
    ck_assert_uint_eq(some.chambers, 1);

    /* A slope would take the liquid that stands up to the drum's ceiling from skin in the ring: it has to do without. */
    o = options_of(2, 6.5, 80);
    o.slope_deg = 8;
    vug_hollow_info sloped = hollow(ctx, mesh, &o, NULL);
    ck_assert_msg(sloped.trapped_mm3 < 0.005 * ring, "%g", sloped.trapped_mm3);
    ck_near(sloped.added_mm3, filled.added_mm3, 0.02);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* The rounder kind of inside keeps its rule: nothing deeper than the greatest wall is lost. */
START_TEST(with_a_throat)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = ring_and_tower(ctx);
    vug_hollow_options o = options_of(2, 6.5, 64);
    o.throat_mm = 3;
    o.base_mm = 4;
    vug_hollow_info info = hollow(ctx, mesh, &o, NULL);
    ck_assert(info.trapped_before_mm3 > 0.9 * PI * (20 * 20 - 14 * 14) * 11);
    ck_assert(info.trapped_mm3 < 0.02 * info.trapped_before_mm3);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static void refused(vug_context *ctx, const vug_mesh *mesh, const vug_hollow_options *o,
    const char *says)
{
    vug_mesh *out = NULL;
    ck_assert_int_eq(vug_shape_hollow(ctx, mesh, o, &out, NULL, NULL, NULL), VUG_ERR_ARGUMENT);
    ck_assert_msg(strstr(vug_context_message(ctx), says), "%s", vug_context_message(ctx));
    ck_assert_ptr_null(out);
}

START_TEST(faults)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = box(ctx);
    for (int fault = 0; fault < 7; fault++) {
        vug_hollow_options o = options_of(2, 5, 40);
        const char *says[] = {"most_wall_mm", "most_wall_mm", "slope_deg", "slope_deg", "fill_up",
            "fill_up", "outlet_mm"};
        double *values[] = {&o.most_wall_mm, &o.most_wall_mm, &o.slope_deg, &o.slope_deg,
            o.fill_up + 2, o.fill_up + 1, o.outlet_mm + 1};
        const double bad[] = {1.9, (double)NAN, 61, -1, 0, (double)INFINITY, 3};
        *values[fault] = bad[fault];
        refused(ctx, mesh, &o, says[fault]);
    }
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static vug_status hollow_it(vug_context *ctx, void *mesh)
{
    vug_mesh *out = NULL;
    double *rows = NULL;
    size_t count = 0;
    vug_hollow_options o = options_of(1, 2, 20);
    o.chamber_mm = 1;
    vug_status status = vug_shape_hollow(ctx, mesh, &o, &out, NULL, &rows, &count);
    vug_free(ctx, rows);
    vug_mesh_free(out);
    return status;
}

START_TEST(memory)
{
    vug_context *ctx = test_context();
    shape s = {0};
    shape_box(&s, (double[3]){0, 0, 0}, (double[3]){10, 8, 6}, 0);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    ck_assert_int_gt(failing_by(hollow_it, mesh, 5, test_quick() ? 0.5 : 0.2), 100);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(same_bytes)
{
    vug_mesh *out[3] = {NULL, NULL, NULL};
    for (uint32_t threads = 1; threads <= 3; threads++) {
        vug_context_options c;
        vug_context *ctx = NULL;
        ck_assert_int_eq(vug_context_options_init(&c, sizeof c), VUG_OK);
        c.threads = threads;
        ck_assert_int_eq(vug_context_create(&c, &ctx), VUG_OK);
        vug_mesh *mesh = ring_and_tower(ctx);
        vug_hollow_options o = options_of(2, 5, 50);
        o.fill_up[0] = 0.3;
        hollow(ctx, mesh, &o, out + threads - 1);
        vug_mesh_free(mesh);
        vug_context_free(ctx);
    }
    for (int k = 1; k < 3; k++) {
        ck_assert_uint_eq(vug_mesh_vertex_count(out[k]), vug_mesh_vertex_count(out[0]));
        ck_assert_mem_eq(vug_mesh_vertices(out[k]), vug_mesh_vertices(out[0]),
            vug_mesh_vertex_count(out[0]) * 3 * sizeof(double));
        vug_mesh_free(out[k]);
    }
    vug_mesh_free(out[0]);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("fillable");
    TCase *all = tcase_create("all");
    tcase_set_timeout(all, 120);
    tcase_add_test(all, a_flat_ceiling);
    tcase_add_test(all, any_pose);
    tcase_add_test(all, a_pocket);
    tcase_add_test(all, with_a_throat);
    tcase_add_test(all, faults);
    tcase_add_test(all, memory);
    tcase_add_test(all, same_bytes);
    suite_add_tcase(suite, all);
    return test_run(suite);
}
