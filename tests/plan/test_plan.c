/* SPDX-License-Identifier: MIT
 * plan: trapped air of a pose, scans over poses, bores for pockets. */
#include "base/base.h"
#include "cavity/cavity.h"
#include "pose/stability.h"

#include "failing.h"
#include "shapes.h"
#include "test.h"

static const double PI = 3.14159265358979323846;

/* Sphere R = 20 with a round hole of chord 3 on its equator, in a 2 mm wall. */
static vug_cavities *ball_with_rim(vug_context *ctx, int drilled, double factor)
{
    double hole[7] = {22.0 * factor, 0.0, 0.0, 1.0, 0.0, 0.0, 3.0 * factor};
    const double y[3] = {0.0, 1.0, 0.0};
    shape s = shape_of_mesh(shape_hollow_ball(ctx, 20.0, 22.0, drilled ? 1.5 : 0.0, 300));
    shape_turn(&s, y, 90.0); /* the bore from +z to +x */
    shape_scale(&s, factor);
    return cavities_by_hole(ctx, shape_mesh(ctx, &s), hole);
}

/* Air above the rim's highest point stays: the cap above z = 1.5 of a ball R = 20, 14873.739519 by
 * pi h^2 (3R - h) / 3, any handbook. The cavity holds the ball and the bore. */
START_TEST(rim_on_the_equator)
{
    vug_context *ctx = test_context();
    const double up[3] = {0.0, 0.0, 2.0};
    for (int drilled = 0; drilled < 2; drilled++) {
        vug_cavities *c = ball_with_rim(ctx, drilled, 1.0);
        vug_pockets *p = NULL;
        vug_pocket_info info = {.struct_size = sizeof info};
        ck_ok(ctx, vug_pockets_find(ctx, c, up, NULL, 0, NULL, &p));
        double h = 44.0 / 280.0;
        ck_near(vug_pockets_capacity_mm3(p), 33510.321638 + PI * 2.25 * 2.0, 0.002);
        ck_close(vug_pockets_trapped_mm3(p), 14873.739519, 0.01 * 33510.0);
        ck_assert_uint_eq(vug_pockets_count(p), 1);
        ck_assert_int_eq(vug_pockets_get(p, 0, &info), VUG_OK);
        ck_close(info.level_mm, 1.5, h);
        ck_close(info.top_mm[2], 20.0, h);
        ck_close(info.top_mm[0], 0.0, 2.0 * h + 1.0);
        ck_near(info.area_mm2, PI * (400.0 - 2.25), 0.02);
        ck_assert_int_eq(info.sealed, 0);
        vug_pockets_free(p);
        vug_cavities_free(c);
    }
    vug_context_free(ctx);
}
END_TEST

/* The hole turned up by 45 degrees: the inner rim, at 19.944 mm on the axis, R = 1.5, ends at
 * (19.944 + 1.5) / sqrt(2) = 15.163, and the cap of the ball above stays (same handbook formula).
 * The bore leads up from there and keeps nothing. */
START_TEST(rim_of_a_slanting_bore)
{
    vug_context *ctx = test_context();
    const double up[3] = {1.0, 0.0, 1.0};
    double h = 20.0 - (sqrt(400.0 - 2.25) + 1.5) / sqrt(2.0), cap = PI * h * h * (60.0 - h) / 3.0;
    for (int drilled = 0; drilled < 2; drilled++) {
        vug_cavities *c = ball_with_rim(ctx, drilled, 1.0);
        vug_pockets *p = NULL;
        vug_pocket_info info = {.struct_size = sizeof info};
        ck_ok(ctx, vug_pockets_find(ctx, c, up, NULL, 0, NULL, &p));
        ck_assert_uint_eq(vug_pockets_count(p), 1);
        ck_assert_int_eq(vug_pockets_get(p, 0, &info), VUG_OK);
        ck_close(info.level_mm, 20.0 - h, 44.0 / 280.0);
        ck_near(vug_pockets_trapped_mm3(p), cap, 0.02);
        vug_pockets_free(p);
        vug_cavities_free(c);
    }
    vug_context_free(ctx);
}
END_TEST

START_TEST(sealed_opening_traps_all)
{
    vug_context *ctx = test_context();
    vug_cavities *c = ball_with_rim(ctx, 1, 1.0);
    vug_pockets *p = NULL;
    vug_pocket_info info = {.struct_size = sizeof info};
    const double up[3] = {1.0, 0.0, 0.0};
    const int32_t sealed = VUG_ROLE_SEALED, odd = 17;
    ck_ok(ctx, vug_pockets_find(ctx, c, up, &sealed, 1, NULL, &p));
    ck_near(vug_pockets_trapped_mm3(p), vug_pockets_capacity_mm3(p), 1e-12);
    ck_assert_int_eq(vug_pockets_get(p, 0, &info), VUG_OK);
    ck_assert_int_eq(info.sealed, 1);
    ck_assert_int_eq(vug_pockets_get(p, 1, &info), VUG_ERR_NOT_FOUND);
    vug_pockets_free(p);
    /* bore up: nothing stays, in the bore (14 mm3) neither */
    ck_ok(ctx, vug_pockets_find(ctx, c, up, NULL, 0, NULL, &p));
    ck_close(vug_pockets_trapped_mm3(p), 0.0, 0.05);
    vug_pockets_free(p);
    ck_assert_int_eq(vug_pockets_find(ctx, c, up, &odd, 1, NULL, &p), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pockets_find(ctx, c, up, &odd, 3, NULL, &p), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pockets_find(ctx, c, up, NULL, 1, NULL, &p), VUG_ERR_ARGUMENT);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

START_TEST(stands_on_an_edge)
{
    /* A wedge on the edge from (-1, 0, 0) to (3, 0, 0): it falls over by as much as its mass is aside of the
     * edge, or beyond an end of it. By hand, in whatever order the corners come. */
    static const double xyz[12] = {3, 0, 0, 0, 5, 4, -1, 0, 0, 0, -5, 4};
    static const uint32_t faces[12] = {0, 1, 2, 0, 2, 3, 0, 3, 1, 1, 3, 2};
    const double up[3] = {0, 0, 1}, aside[3] = {1, 2, 2}, beyond[3] = {6, 4, 2};
    vug_context *ctx;
    vug_mesh *mesh;
    double margin;
    ck_ok(NULL, vug_context_create(NULL, &ctx));
    ck_ok(ctx, vug_mesh_from_arrays(ctx, xyz, 4, 0, faces, 4, 0, &mesh));
    ck_ok(ctx, vugi_static_margin(&ctx->mem, mesh, aside, up, 0.05, &margin));
    ck_close(margin, -2.0, 1e-12);
    ck_ok(ctx, vugi_static_margin(&ctx->mem, mesh, beyond, up, 0.05, &margin));
    ck_close(margin, -5.0, 1e-12);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* Twice the size: eight times the volume, in the same pose; half the spacing: nearer the truth. */
START_TEST(scale_and_refine)
{
    vug_context *ctx = test_context();
    const double up[3] = {0.1, -0.2, 0.95};
    vug_cavities *small = ball_with_rim(ctx, 1, 1.0), *big = ball_with_rim(ctx, 1, 2.0);
    vug_pockets *a = NULL, *b = NULL;
    ck_ok(ctx, vug_pockets_find(ctx, small, up, NULL, 0, NULL, &a));
    ck_ok(ctx, vug_pockets_find(ctx, big, up, NULL, 0, NULL, &b));
    ck_near(vug_pockets_trapped_mm3(b), 8.0 * vug_pockets_trapped_mm3(a), 1e-3);
    vug_pockets_free(b);
    double last = 0.0;
    for (uint32_t n = 70; n <= 1120; n *= 2) {
        vug_pose_options options;
        vug_pose_options_init(&options, sizeof options);
        options.columns_across = n;
        ck_ok(ctx, vug_pockets_find(ctx, small, up, NULL, 0, &options, &b));
        if (n > 70)
            ck_near(vug_pockets_trapped_mm3(b), last, 4.0 / n);
        last = vug_pockets_trapped_mm3(b);
        vug_pockets_free(b);
    }
    vug_pockets_free(a);
    vug_cavities_free(small);
    vug_cavities_free(big);
    vug_context_free(ctx);
}
END_TEST

/* The best pose of a ball with one hole is hole up; threads do not change a bit. */
START_TEST(scan_finds_the_hole_up)
{
    vug_cavities *c;
    vug_pose_scan *one = NULL, *two = NULL;
    vug_context_options options;
    vug_pose_options poses;
    vug_context *ctx = NULL, *other = NULL;
    vug_context_options_init(&options, sizeof options);
    options.threads = 1;
    vug_context_create(&options, &ctx);
    options.threads = 3;
    vug_context_create(&options, &other);
    c = ball_with_rim(ctx, 1, 1.0);
    vug_pose_options_init(&poses, sizeof poses);
    poses.pose_count = 300;
    poses.columns_across = 60;
    ck_ok(ctx, vug_pose_scan_run(ctx, c, NULL, 0, &poses, &one));
    ck_ok(other, vug_pose_scan_run(other, c, NULL, 0, &poses, &two));
    ck_assert_uint_eq(vug_pose_scan_count(one), 300);
    ck_assert_mem_eq(vug_pose_scan_trapped_mm3(one), vug_pose_scan_trapped_mm3(two),
        300 * sizeof(double));
    const double *up = vug_pose_scan_ups(one) + 3 * vug_pose_scan_best(one);
    ck_assert(up[0] > 0.97);
    ck_assert_uint_eq(vug_pose_scan_best(one), vug_pose_scan_best(two));
    vug_pose_scan_free(one);
    vug_pose_scan_free(two);
    vug_cavities_free(c);
    vug_context_free(ctx);
    vug_context_free(other);
}
END_TEST

/* Refined to half a degree the bore of the ball points straight up; what stays as air in a pose
 * stays as liquid in the opposite one; a ball stands on a point, so it falls over or nearly so. */
START_TEST(scan_refines_and_knows_more)
{
    vug_context *ctx = test_context();
    vug_cavities *c = ball_with_rim(ctx, 1, 1.0);
    vug_pose_scan *scan = NULL;
    vug_pose_options options;
    vug_pose_info best = {.struct_size = sizeof best}, other = {.struct_size = sizeof other};
    vug_pose_options_init(&options, sizeof options);
    options.pose_count = 100;
    options.columns_across = 100;
    options.refine_deg = 0.5;
    options.criteria = 1;
    ck_ok(ctx, vug_pose_scan_run(ctx, c, NULL, 0, &options, &scan));
    ck_assert_uint_gt(vug_pose_scan_count(scan), 100);
    ck_assert_int_eq(vug_pose_scan_get(scan, vug_pose_scan_best(scan), &best), VUG_OK);
    ck_assert(best.up[0]
        > cos(5.0 * PI / 180.0)); /* flat ceilings of the bore: any small lean is as good */
    ck_assert_int_eq(best.criteria, 1);
    ck_close(best.lowest_lip_mm, best.highest_lip_mm, 0.0);
    ck_assert_uint_eq(best.cover_count, 0);
    ck_assert(best.stand_mm < 2.0);
    for (size_t i = 0; i < vug_pose_scan_count(scan); i++) {
        vug_pockets *p = NULL;
        ck_assert_int_eq(vug_pose_scan_get(scan, i, &other), VUG_OK);
        ck_assert(other.trapped_mm3 >= best.trapped_mm3);
        ck_close(other.trapped_mm3, vug_pose_scan_trapped_mm3(scan)[i], 0.0);
        if (i % 25 != 0)
            continue;
        const double down[3] = {-other.up[0], -other.up[1], -other.up[2]};
        options.columns_across = 100;
        ck_ok(ctx, vug_pockets_find(ctx, c, down, NULL, 0, &options, &p));
        ck_near(other.residue_mm3, vug_pockets_trapped_mm3(p), 1e-9);
        vug_pockets_free(p);
    }
    ck_assert_int_eq(vug_pose_scan_get(scan, 100000, &other), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_pose_scan_get(NULL, 0, &other), VUG_ERR_ARGUMENT);
    vug_pose_scan_free(scan);
    scan = NULL;
    options.refine_deg = -1.0;
    ck_assert_int_eq(vug_pose_scan_run(ctx, c, NULL, 0, &options, &scan), VUG_ERR_ARGUMENT);
    options.refine_deg = NAN;
    ck_assert_int_eq(vug_pose_scan_run(ctx, c, NULL, 0, &options, &scan), VUG_ERR_ARGUMENT);
    ck_assert_ptr_null(scan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static int32_t stop_late(void *user, double fraction, const char *stage)
{
    (void)user;
    (void)stage;
    return fraction > 0.3;
}

START_TEST(scan_can_be_cancelled)
{
    vug_context *ctx = test_context();
    vug_cavities *c = ball_with_rim(ctx, 1, 1.0);
    vug_pose_scan *scan = NULL;
    ctx->pause_ns = 0; /* hear of all */
    ck_ok(ctx, vug_context_set_progress(ctx, stop_late, NULL));
    ck_assert_int_eq(vug_pose_scan_run(ctx, c, NULL, 0, NULL, &scan), VUG_ERR_CANCELLED);
    ck_assert_ptr_null(scan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Equal areas: the mean of each coordinate is 0, of its square 1/3 (moments of the unit sphere). */
START_TEST(sphere_points_are_even)
{
    double ups[3 * 1000];
    ck_assert_int_eq(vug_sphere_points(1000, ups), VUG_OK);
    for (int k = 0; k < 3; k++) {
        double sum = 0.0, square = 0.0;
        for (int i = 0; i < 1000; i++) {
            sum += ups[3 * i + k];
            square += ups[3 * i + k] * ups[3 * i + k];
        }
        ck_close(sum / 1000.0, 0.0, 2e-3);
        ck_close(square / 1000.0, 1.0 / 3.0, 2e-3);
    }
    ck_assert_int_eq(vug_sphere_points(0, ups), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_sphere_points(3, NULL), VUG_ERR_ARGUMENT);
}
END_TEST

/* Drilling where the bore is proposed must let the air out. */
START_TEST(proposed_bore_frees_the_pocket)
{
    vug_context *ctx = test_context();
    const double up[3] = {0.0, 0.6, 0.8};
    vug_mesh *mesh = shape_hollow_ball(ctx, 20.0, 22.0, 0.0, 200);
    double holes[14] = {22.0, 0.0, 0.0, 1.0, 0.0, 0.0, 3.0};
    vug_cavities *c = NULL;
    vug_pockets *p = NULL;
    vug_bore_info bore = {.struct_size = sizeof bore};
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, holes, 1, &options, &c));
    ck_ok(ctx, vug_pockets_find(ctx, c, up, NULL, 0, NULL, &p));
    ck_assert(vug_pockets_trapped_mm3(p) > 10000.0);
    ck_ok(ctx, vug_pockets_bore(ctx, c, p, 0, &bore));
    ck_near(bore.depth_mm, 2.0, 0.05); /* the wall */
    ck_close(bore.point_mm[1], 22.0 * 0.6, 1.0);
    ck_close(bore.point_mm[2], 22.0 * 0.8, 1.0);
    ck_assert_int_eq(vug_pockets_bore(ctx, c, p, 7, &bore), VUG_ERR_NOT_FOUND);
    vug_pockets_free(p);
    vug_cavities_free(c);
    for (int k = 0; k < 3; k++) {
        holes[7 + k] = bore.point_mm[k];
        holes[10 + k] = -bore.direction[k];
    }
    holes[13] = 1.0;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, holes, 2, &options, &c));
    ck_ok(ctx, vug_pockets_find(ctx, c, up, NULL, 0, NULL, &p));
    ck_close(vug_pockets_trapped_mm3(p), 0.0, 0.001 * vug_pockets_capacity_mm3(p));
    vug_pockets_free(p);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* Rows of a section through the middle: a disc of liquid and a segment of air. */
START_TEST(section_shows_liquid_and_air)
{
    vug_context *ctx = test_context();
    vug_cavities *c = ball_with_rim(ctx, 0, 1.0);
    vug_pockets *p = NULL;
    const double up[3] = {0.0, 0.0, 1.0}, origin[3] = {0.0, 0.0, 0.0}, view[3] = {0.0, 1.0, 0.0};
    double *rows = NULL, liquid = 0.0, air = 0.0;
    size_t count = 0;
    ck_ok(ctx, vug_pockets_find(ctx, c, up, NULL, 0, NULL, &p));
    ck_ok(ctx, vug_pockets_section(ctx, p, origin, view, &rows, &count));
    double h = 42.0 / 280.0;
    for (size_t i = 0; i < count; i++) {
        liquid += h * (rows[4 * i + 2] - rows[4 * i + 1]);
        air += h * (rows[4 * i + 3] - rows[4 * i + 2]);
    }
    /* disc R = 20 cut at z = 1.5, and half the bore's length of 2 mm beside it: handbook segment */
    double segment = 400.0 * acos(1.5 / 20.0) - 1.5 * sqrt(400.0 - 2.25);
    ck_near(air, segment, 0.06);
    ck_near(liquid, 400.0 * PI - segment, 0.06);
    ck_assert_int_eq(vug_pockets_section(ctx, p, origin, up, &rows, &count), VUG_ERR_ARGUMENT);
    vug_free(ctx, rows);

    /* Seen from -y, +x is on the right: the hole's bore sticks out there, to x = 22. */
    const double from_front[3] = {0.0, -1.0, 0.0};
    ck_ok(ctx, vug_pockets_section(ctx, p, origin, from_front, &rows, &count));
    ck_close(rows[4 * (count - 1)], 22.0, 2.0 * h);
    ck_close(rows[0], -20.0, 2.0 * h);
    vug_free(ctx, rows);

    /* A point far away, beside the part or no number at all. */
    const double far_along[3] = {1e9, 0.0, 0.0}, beside[3] = {0.0, 1e9, 0.0};
    const double bad[3] = {0.0, NAN, 0.0};
    ck_ok(ctx, vug_pockets_section(ctx, p, far_along, view, &rows, &count));
    ck_assert_uint_gt(count, 200);
    vug_free(ctx, rows);
    ck_ok(ctx, vug_pockets_section(ctx, p, beside, view, &rows, &count));
    ck_assert_uint_eq(count, 0);
    ck_assert_ptr_null(rows);
    ck_assert_int_eq(vug_pockets_section(ctx, p, bad, view, &rows, &count), VUG_ERR_ARGUMENT);
    vug_pockets_free(p);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Everything from the mesh to the bore, with the n-th request for memory failing: a clean refusal,
 * then success; nothing left behind either way. */
static vug_status whole_way(vug_context *ctx, void *data)
{
    const vug_mesh *mesh = data;
    const double holes[14] = {22.0, 0.0, 0.0, 1.0, 0.0, 0.0, 3.0, 0.0, 0.0, 22.0, 0.0, 0.0, 1.0,
        3.0};
    const double up[3] = {0.0, 0.6, -0.8}, origin[3] = {0.0, 0.0, 0.0}, view[3] = {1.0, 0.0, 0.0};
    vug_cavities *c = NULL;
    vug_pockets *p = NULL;
    vug_pose_scan *scan = NULL;
    vug_bore_info bore = {.struct_size = sizeof bore};
    vug_cavity_options options;
    vug_pose_options pose;
    double *rows = NULL;
    size_t count = 0;
    vug_cavity_options_init(&options, sizeof options);
    vug_pose_options_init(&pose, sizeof pose);
    options.detect = 0;
    pose.pose_count = 5;
    pose.columns_across = 20;
    vug_status status = vug_cavities_find(ctx, mesh, holes, 2, &options, &c);
    if (!status)
        status = vug_pockets_find(ctx, c, up, NULL, 0, &pose, &p);
    if (!status)
        status = vug_pockets_section(ctx, p, origin, view, &rows, &count);
    if (!status)
        status = vug_pockets_bore(ctx, c, p, 0, &bore);
    if (!status)
        status = vug_pose_scan_run(ctx, c, NULL, 0, &pose, &scan);
    vug_free(ctx, rows);
    vug_pose_scan_free(scan);
    vug_pockets_free(p);
    vug_cavities_free(c);
    return status;
}

START_TEST(memory_runs_out_cleanly)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = shape_hollow_ball(ctx, 20.0, 22.0, 1.5, 24); /* one hole there, one to drill */
    ck_assert_int_gt(failing_until_success(whole_way, mesh), 50);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("plan");
    TCase *tc = tcase_create("plan");
    tcase_add_test(tc, rim_on_the_equator);
    tcase_add_test(tc, rim_of_a_slanting_bore);
    tcase_add_test(tc, sealed_opening_traps_all);
    tcase_add_test(tc, scale_and_refine);
    tcase_add_test(tc, stands_on_an_edge);
    tcase_add_test(tc, scan_finds_the_hole_up);
    tcase_add_test(tc, scan_refines_and_knows_more);
    tcase_add_test(tc, scan_can_be_cancelled);
    tcase_add_test(tc, sphere_points_are_even);
    tcase_add_test(tc, proposed_bore_frees_the_pocket);
    tcase_add_test(tc, section_shows_liquid_and_air);
    tcase_add_test(tc, memory_runs_out_cleanly);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
