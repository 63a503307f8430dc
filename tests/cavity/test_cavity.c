/* SPDX-License-Identifier: MIT
 * cavity: sealed shells, named holes, planned bores, nesting. */
#include "cavity/cavity.h"
#include "cavity/clear.h"
#include "cavity/sound.h"
#include "mesh/handles.h"
#include "mesh/terrain.h"
#include "shapes.h"
#include "test.h"

static const double PI = 3.14159265358979323846;

static vug_cavities *find(vug_context *ctx, const vug_mesh *mesh, const double *holes, size_t count)
{
    vug_cavity_options options;
    vug_cavities *cavities = NULL;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, holes, count, &options, &cavities));
    return cavities;
}

static vug_cavity_info cavity(const vug_cavities *c, size_t i)
{
    vug_cavity_info info = {.struct_size = sizeof info};
    ck_assert_int_eq(vug_cavities_get(c, i, &info), VUG_OK);
    return info;
}

static vug_opening_info opening(const vug_cavities *c, size_t i)
{
    vug_opening_info info = {.struct_size = sizeof info};
    ck_assert_int_eq(vug_cavities_opening(c, i, &info), VUG_OK);
    return info;
}

static void check_closed(vug_context *ctx, const vug_cavities *c, size_t i)
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    ck_ok(ctx, vug_mesh_measure(ctx, vug_cavities_mesh(c, i, NULL), &m));
    ck_assert_int_eq(m.closed, 1);
    ck_assert(m.volume_mm3 > 0.0);
}

/* Volume and area of a sphere: any handbook. */
START_TEST(sealed_ball)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = shape_hollow_ball(ctx, 18.0, 20.0, 0.0, 400);
    vug_cavities *c = find(ctx, mesh, NULL, 0);
    vug_mesh_free(mesh); /* the cavities keep what they need */
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_assert_uint_eq(vug_cavities_opening_count(c), 0);
    vug_cavity_info info = cavity(c, 0);
    ck_assert_int_eq(info.sealed, 1);
    ck_assert_int_eq(info.exact, 1);
    ck_near(info.volume_mm3, 4.0 / 3.0 * PI * 18.0 * 18.0 * 18.0, 2e-4);
    ck_near(info.area_mm2, 4.0 * PI * 18.0 * 18.0, 2e-4);
    ck_close(info.centroid_mm[2], 0.0, 1e-6);
    check_closed(ctx, c, 0);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A bore in the mesh: named, it is found, capped and measured. The liquid space is the ball, and
 * the bore up to the skin: cylinder and caps by formula. */
START_TEST(bored_ball)
{
    vug_context *ctx = test_context();
    const double a = 18.0, b = 20.0, r = 1.5;
    const double rim_out = sqrt(b * b - r * r), rim_in = sqrt(a * a - r * r);
    const double ball = 4.0 / 3.0 * PI * a * a * a;
    const double cap = PI * (a - rim_in) * (a - rim_in) * (2.0 * a + rim_in) / 3.0;
    const double want = ball - cap + PI * r * r * (rim_out - rim_in);
    const double axes[3][3] = {{0.0, 0.0, 1.0}, {1.0, 0.0, 0.0}, {0.4, -0.5, 0.3}};
    vug_mesh *upright = shape_hollow_ball(ctx, a, b, r, 360);
    for (int i = test_quick() ? 2 : 0; i < 3; i++) {
        shape s = {.xyz = NULL};
        s.vertex_count = vug_mesh_vertex_count(upright);
        s.triangle_count = vug_mesh_triangle_count(upright);
        s.xyz = malloc(3 * s.vertex_count * sizeof *s.xyz);
        s.triangles = malloc(3 * s.triangle_count * sizeof *s.triangles);
        memcpy(s.xyz, vug_mesh_vertices(upright), 3 * s.vertex_count * sizeof *s.xyz);
        memcpy(s.triangles, vug_mesh_triangles(upright),
            3 * s.triangle_count * sizeof *s.triangles);
        double l = sqrt(
            axes[i][0] * axes[i][0] + axes[i][1] * axes[i][1] + axes[i][2] * axes[i][2]);
        double n[3] = {axes[i][0] / l, axes[i][1] / l, axes[i][2] / l};
        double turn[3] = {-n[1], n[0], 0.0}; /* z x n */
        if (i > 0)
            shape_turn(&s, turn, acos(n[2]) * 180.0 / PI);
        vug_mesh *mesh = shape_mesh(ctx, &s);
        double hole[7] = {b * n[0], b * n[1], b * n[2], n[0], n[1], n[2], 2.0 * r};
        vug_cavities *c = find(ctx, mesh, hole, 1);
        ck_assert_uint_eq(vug_cavities_count(c), 1);
        vug_cavity_info info = cavity(c, 0);
        ck_assert_int_eq(info.sealed, 0);
        ck_assert_uint_eq(info.openings, 1);
        ck_near(info.volume_mm3, want, 5e-4);
        check_closed(ctx, c, 0);
        vug_opening_info o = opening(c, 0);
        ck_assert_int_eq(o.planned, 0);
        ck_near(o.diameter_mm, 2.0 * r, 1e-3);
        ck_near(o.inscribed_diameter_mm, 2.0 * r, 1e-3);
        ck_near(o.area_mm2, PI * r * r, 1e-3);
        ck_near(o.perimeter_mm, 2.0 * PI * r, 1e-3);
        ck_near(o.bore_length_mm, b - a,
            0.005); /* the balls' own on the axis, where there is no skin */
        for (int k = 0; k < 3; k++)
            ck_close(o.center_mm[k], rim_out * n[k], 0.02);
        const double *points = NULL;
        size_t count = 0;
        ck_assert_int_eq(vug_cavities_opening_outline(c, 0, &points, &count), VUG_OK);
        ck_assert_uint_ge(count, 360);
        vug_cavities_free(c);
        vug_mesh_free(mesh);
    }
    vug_mesh_free(upright);
    vug_context_free(ctx);
}
END_TEST

/* An oblique bore through a thin flat lid: no plane square to it closes all around, so the cap lies
 * along the skin. A box with a bore sheared by 45 degrees: area of the ellipse by formula. */
START_TEST(oblique_bore)
{
    vug_context *ctx = test_context();
    enum { N = 64 };
    const double r = 1.5, wall = 1.0, top = 10.0;
    shape s = {.xyz = NULL};
    /* an upright can whose lid has a hole; then the lid's wall is sheared along x */
    const double can[8][2] = {{0, 0}, {12, 0}, {12, top}, {r, top}, {r, top - wall},
        {11, top - wall}, {11, 1}, {0, 1}};
    shape_revolve(&s, can[0], 8, N, 0);
    for (size_t i = 0; i < s.vertex_count; i++) {
        double *p = s.xyz + 3 * i;
        if (hypot(p[0], p[1]) < r + 0.1 && p[2] > 5.0)
            p[0] = p[0] * sqrt(2.0) + (p[2] - top);
    }
    vug_mesh *mesh = shape_mesh(ctx, &s);
    const double hole[7] = {0.0, 0.0, top, 1.0, 0.0, 1.0, 2.0 * r};
    vug_cavities *c = find(ctx, mesh, hole, 1);
    vug_opening_info o = opening(c, 0);
    ck_assert_int_eq(o.planned, 0);
    ck_near(o.area_mm2, PI * r * r * sqrt(2.0), 0.003);
    ck_near(o.diameter_mm, 2.0 * r, 0.003);
    ck_near(o.inscribed_diameter_mm, 2.0 * r, 0.003);
    ck_close(o.normal[2], 1.0, 1e-6);
    ck_near(o.bore_length_mm, wall * sqrt(2.0), 0.01);
    check_closed(ctx, c, 0);
    ck_near(cavity(c, 0).volume_mm3, PI * 121.0 * 8.0 + o.area_mm2 * wall, 0.003);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* The tags tell wall from cap: areas of the triangles of each, by half the cross product. */
START_TEST(tags_part_wall_from_cap)
{
    vug_context *ctx = test_context();
    vug_mesh *ball = shape_hollow_ball(ctx, 18.0, 20.0, 1.5, 60);
    const double hole[7] = {0.0, 0.0, 20.0, 0.0, 0.0, 1.0, 3.0};
    vug_cavities *c = find(ctx, ball, hole, 1);
    const int32_t *tag = NULL;
    const vug_mesh *mesh = vug_cavities_mesh(c, 0, &tag);
    double area[2] = {0.0, 0.0};
    for (size_t t = 0; t < vug_mesh_triangle_count(mesh); t++) {
        const uint32_t *v = vug_mesh_triangles(mesh) + 3 * t;
        const double *p = vug_mesh_vertices(mesh) + 3 * (size_t)v[0];
        double e[2][3];
        for (int i = 0; i < 2; i++)
            for (int k = 0; k < 3; k++)
                e[i][k] = vug_mesh_vertices(mesh)[3 * (size_t)v[i + 1] + (size_t)k] - p[k];
        double x = e[0][1] * e[1][2] - e[0][2] * e[1][1], y = e[0][2] * e[1][0] - e[0][0] * e[1][2];
        double z = e[0][0] * e[1][1] - e[0][1] * e[1][0];
        ck_assert(tag[t] == -1 || tag[t] == 0);
        area[tag[t] + 1] += 0.5 * sqrt(x * x + y * y + z * z);
    }
    ck_near(area[0], cavity(c, 0).area_mm2, 1e-9);
    ck_near(area[1], opening(c, 0).area_mm2, 1e-9);
    ck_assert_ptr_null(vug_cavities_mesh(c, 1, &tag));
    ck_assert_ptr_null(tag);
    ck_assert_ptr_null(vug_cavities_mesh(NULL, 0, &tag));
    vug_cavities_free(c);
    vug_mesh_free(ball);
    vug_context_free(ctx);
}
END_TEST

/* No hole in the mesh: a bore through the wall is planned, its length the wall's thickness. */
START_TEST(planned_bore)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = shape_hollow_ball(ctx, 18.0, 20.0, 0.0, 400);
    const double hole[7] = {20.0, 0.0, 0.0, 5.0, 0.0, 0.0, 3.0};
    vug_cavities *c = find(ctx, mesh, hole, 1);
    ck_assert_uint_eq(vug_cavities_opening_count(c), 1);
    vug_opening_info o = opening(c, 0);
    ck_assert_int_eq(o.planned, 1);
    ck_near(o.bore_length_mm, 2.0, 2e-3);
    ck_close(o.center_mm[0], 20.0, 2e-3);
    ck_assert_int_eq(cavity(c, 0).sealed, 0);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* By hand: askew, end to side, parallel, end to end, and a point. */
START_TEST(stretches_are_apart)
{
    static const double at[][5][3] = {{{-1, 0, 0}, {1, 0, 0}, {0, -1, 2}, {0, 1, 2}, {2}},
        {{0, 0, 0}, {1, 0, 0}, {0.5, 3, 0}, {0.5, 5, 0}, {3}},
        {{0, 0, 0}, {4, 0, 0}, {2, 1, 0}, {9, 1, 0}, {1}},
        {{0, 0, 0}, {1, 0, 0}, {4, 4, 0}, {4, 9, 0}, {5}},
        {{0, 0, 0}, {0, 0, 0}, {-5, 0, 2}, {5, 0, 2}, {2}}};
    for (size_t i = 0; i < sizeof at / sizeof *at; i++) {
        ck_close(vugi_stretch_distance(at[i][0], at[i][1], at[i][2], at[i][3]), at[i][4][0], 1e-12);
        ck_close(vugi_stretch_distance(at[i][3], at[i][2], at[i][1], at[i][0]), at[i][4][0], 1e-12);
    }
}
END_TEST

/* A box with two sealed rooms, one of which holds a loose cube with a void of its own. */
START_TEST(nested_boxes)
{
    vug_context *ctx = test_context();
    shape s = {.xyz = NULL};
    const double box[10][3] = {{0, 0, 0}, {40, 20, 20}, {2, 2, 2}, {18, 18, 18}, {22, 2, 2},
        {38, 18, 18}, {5, 5, 5}, {12, 12, 12}, {7, 7, 7}, {10, 10, 10}};
    shape_box(&s, box[0], box[1], 0);
    shape_box(&s, box[2], box[3], 1);
    shape_box(&s, box[4], box[5], 1);
    shape_box(&s, box[6], box[7], 0);
    shape_box(&s, box[8], box[9], 0); /* inside out: to be noticed */
    vug_mesh *mesh = shape_mesh(ctx, &s);
    vug_cavities *c = find(ctx, mesh, NULL, 0);
    ck_assert_uint_eq(vug_cavities_count(c), 3);
    ck_near(cavity(c, 0).volume_mm3, 16.0 * 16.0 * 16.0, 1e-9);
    ck_near(cavity(c, 1).volume_mm3, 16.0 * 16.0 * 16.0 - 7.0 * 7.0 * 7.0, 1e-9);
    ck_near(cavity(c, 2).volume_mm3, 27.0, 1e-9);
    ck_assert_uint_eq(warning_count(ctx), 1);
    for (size_t i = 0; i < 3; i++)
        check_closed(ctx, c, i);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A hole right through is a cavity when both of its ends are named, and only then. */
START_TEST(tunnel_when_asked)
{
    vug_context *ctx = test_context();
    shape s = {.xyz = NULL};
    const double pipe[4][2] = {{10, 0}, {12, 0}, {12, 50}, {10, 50}};
    shape_revolve(&s, pipe[0], 4, 128, 0);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    const double ends[14] = {0, 0, 50, 0, 0, 1, 20, 0, 0, 0, 0, 0, -1, 20};
    vug_cavities *c = NULL;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, NULL, &c));
    ck_assert_uint_eq(vug_cavities_count(c), 0);
    vug_cavities_free(c);
    c = NULL;
    ck_assert_int_eq(vug_cavities_find(ctx, mesh, ends, 1, NULL, &c), VUG_ERR_NOT_FOUND);
    ck_ok(ctx, vug_cavities_find(ctx, mesh, ends, 2, NULL, &c));
    ck_assert_uint_eq(vug_cavities_count(c), 1);
    ck_assert_uint_eq(vug_cavities_opening_count(c), 2);
    ck_near(cavity(c, 0).volume_mm3, PI * 100.0 * 50.0, 1e-3);
    ck_near(opening(c, 0).diameter_mm, 20.0, 1e-3);
    check_closed(ctx, c, 0);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(bad_input_is_refused)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = shape_hollow_ball(ctx, 18.0, 20.0, 0.0, 24);
    vug_cavities *c = NULL;
    double hole[7] = {20.0, 0.0, 0.0, 1.0, 0.0, 0.0, 3.0};
    const double bad[5][2] = {{0, NAN}, {6, 0.0}, {6, -1.0}, {3, INFINITY}, {6, INFINITY}};
    for (int i = 0; i < 5; i++) {
        double row[7];
        memcpy(row, hole, sizeof row);
        row[(int)bad[i][0]] = bad[i][1];
        ck_assert_int_eq(vug_cavities_find(ctx, mesh, row, 1, NULL, &c), VUG_ERR_ARGUMENT);
    }
    hole[3] = 0.0; /* no direction */
    ck_assert_int_eq(vug_cavities_find(ctx, mesh, hole, 1, NULL, &c), VUG_ERR_ARGUMENT);
    hole[3] = -1.0; /* the wrong way round: leads away from the part */
    ck_assert_int_eq(vug_cavities_find(ctx, mesh, hole, 1, NULL, &c), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_cavities_find(ctx, mesh, NULL, 1, NULL, &c), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_cavities_find(ctx, NULL, NULL, 0, NULL, &c), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_cavities_find(NULL, mesh, NULL, 0, NULL, &c), VUG_ERR_ARGUMENT);
    ck_assert_ptr_null(c);
    ck_assert_uint_eq(vug_cavities_count(NULL), 0);
    ck_assert_ptr_null(vug_cavities_mesh(NULL, 0, NULL));
    vug_cavities_free(NULL);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* Two blocks of 2 x 2 x 2 mm in a row, the second begins amid the first. No edge of one goes through a face of the other: all
 * run within its faces. By hand: their walls enclose 8 + 8 mm3, columns find 3 x 2 x 2. One block alone is sound. */
START_TEST(shells_on_each_other_are_not_sound)
{
    vug_context *ctx = test_context();
    for (int blocks = 1; blocks <= 2; blocks++) {
        shape s = {.xyz = NULL};
        for (int i = 0; i < blocks; i++)
            shape_box(&s, (double[3]){i, 0.0, 0.0}, (double[3]){2.0 + i, 2.0, 2.0}, 0);
        vugi_cavity cavity = {.mesh = shape_mesh(ctx, &s), .volume = 8.0 * blocks};
        ck_ok(ctx, vugi_cavity_lay(ctx, &cavity));
        ck_assert_int_eq(vugi_terrain_of(cavity.mesh)->sound, blocks == 1);
        vug_mesh_free(cavity.mesh);
    }
    vug_context_free(ctx);
}
END_TEST

/* A can of 48 sides in another, but for one corner of its lid that comes out through the other's: solid all through, by hand.
 * Hardly a corner of it tells. Turned the other way the smaller one is a cavity. */
START_TEST(a_can_that_comes_out_is_no_cavity)
{
    const double outer[8] = {0, -10, 10, -10, 10, 10, 0, 10};
    const double inner[8] = {0, -9.75, 9.8, -9.75, 9.8, 9.75, 0, _i == 0 ? 10.5 : 9.75};
    const double up[3] = {0, 0, 1};
    vug_context *ctx = test_context();
    shape s = {.xyz = NULL};
    shape_revolve(&s, inner, 4, 48, _i);
    shape_turn(&s, up, 1.7);
    shape_revolve(&s, outer, 4, 48, 0);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    vug_cavities *c = find(ctx, mesh, NULL, 0);
    ck_assert_uint_eq(vug_cavities_count(c), (size_t)_i);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* The genus of a ball is 0, of a ring 1 (any book on topology): where no cavity is found a ring's hole is told, as that of
 * a tube is. */
START_TEST(passages_are_told)
{
    const double ball[10] = {0, -5, 3, -4, 5, 0, 3, 4, 0, 5}, ring[6] = {4, -1, 6, 0, 4, 1};
    for (size_t rings = 0; rings < 3; rings++) {
        vug_context *ctx = test_context();
        shape s = {.xyz = NULL};
        size_t handles;
        shape_revolve(&s, ball, 5, 24, 0);
        for (size_t i = 0; i < rings; i++) {
            shape_shift(&s, 20, 0, 0);
            shape_revolve(&s, ring, 3, 24, 0);
        }
        vug_mesh *mesh = shape_mesh(ctx, &s);
        ck_ok(ctx, vugi_mesh_handles(ctx, mesh, &handles));
        ck_assert_uint_eq(handles, rings);
        vug_cavities_free(find(ctx, mesh, NULL, 0));
        ck_assert_uint_eq(warning_count(ctx), rings > 0);
        vug_mesh_free(mesh);
        vug_context_free(ctx);
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("cavity");
    TCase *tc = tcase_create("cavity");
    tcase_add_test(tc, shells_on_each_other_are_not_sound);
    tcase_add_test(tc, sealed_ball);
    tcase_add_test(tc, bored_ball);
    tcase_add_test(tc, oblique_bore);
    tcase_add_test(tc, tags_part_wall_from_cap);
    tcase_add_test(tc, planned_bore);
    tcase_add_test(tc, stretches_are_apart);
    tcase_add_test(tc, nested_boxes);
    tcase_add_test(tc, tunnel_when_asked);
    tcase_add_loop_test(tc, a_can_that_comes_out_is_no_cavity, 0, 2);
    tcase_add_test(tc, passages_are_told);
    tcase_add_test(tc, bad_input_is_refused);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
