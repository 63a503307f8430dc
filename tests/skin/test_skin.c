/* SPDX-License-Identifier: MIT
 * skin: what paint wets. Areas of caps (Archimedes: 2 pi radius height) and of walls of boxes by hand. */
#include "shapes.h"
#include "test.h"

static const double PI = 3.14159265358979323846, G = 9.80665; /* m/s2 */

/* A box, 30 x 20 x 10 inside, wall 2, its corner at the origin; a bore to drill through its top. */
static vug_cavities *box(vug_context *ctx)
{
    const double lo[3] = {-2, -2, -2}, hi[3] = {32, 22, 12}, in[3] = {0}, to[3] = {30, 20, 10};
    const double hole[7] = {15.1, 10.2, 12, 0, 0, 1, 2};
    shape s = {.xyz = NULL};
    shape_box(&s, lo, hi, 0);
    shape_box(&s, in, to, 1);
    return cavities_by_hole(ctx, shape_mesh(ctx, &s), hole);
}

static vug_course *pour(vug_context *ctx, const vug_cavities *c, const double up[3], double volume)
{
    vug_fill_options o;
    vug_course *course = NULL;
    vug_fill_options_init(&o, sizeof o);
    o.volume_mm3 = volume;
    o.rigid_air = 1;
    o.columns_across = 140;
    ck_ok(ctx, vug_fill_run(ctx, c, NULL, up, NULL, 0, &o, &course));
    return course;
}

/* All openings covered. */
static vug_course *turn(vug_context *ctx, const vug_cavities *c, const vug_course *from,
    const double up[3])
{
    const int32_t sealed = VUG_ROLE_SEALED;
    vug_moment *end = NULL;
    vug_course *course = NULL;
    ck_ok(ctx, vug_course_at_time(ctx, from, INFINITY, &end));
    ck_ok(ctx, vug_fill_turn(ctx, c, NULL, end, up, &sealed, 1, NULL, &course));
    vug_moment_free(end);
    return course;
}

static vug_skin *skin_of(vug_context *ctx, const vug_cavities *c, double depth, double spacing,
    const double *view)
{
    vug_skin_options o;
    vug_skin *skin = NULL;
    ck_assert_int_eq(vug_skin_options_init(&o, sizeof o), VUG_OK);
    o.depth_mm = depth;
    o.spacing_mm = spacing;
    o.view = view;
    o.view_count = view ? 1 : 0;
    ck_ok(ctx, vug_skin_make(ctx, c, &o, &skin));
    return skin;
}

static vug_skin_info info_of(vug_context *ctx, const vug_skin *skin)
{
    vug_skin_info info = {.struct_size = sizeof info};
    ck_ok(ctx, vug_skin_get(ctx, skin, &info));
    ck_near(info.backed_mm2 + info.filmed_mm2 + info.bare_mm2 + info.unknown_mm2, info.area_mm2,
        1e-12);
    return info;
}

/* A cap, then the opposite one: the first keeps a film. */
START_TEST(ball)
{
    vug_context *ctx = test_context();
    const double a = 18.0, h = 9.0, cap = 2.0 * PI * a * h;
    const double hole[7] = {0, 0, 20, 0, 0, 1, 3}, up[3] = {0.3, 0.2, 1}, over[3] = {0.3, 0.3, -1};
    vug_cavities *c = cavities_by_hole(ctx, shape_hollow_ball(ctx, a, 20.0, 1.5, 160), hole);
    vug_course *first = pour(ctx, c, up, PI * h * h * (3.0 * a - h) / 3.0);
    vug_course *second = turn(ctx, c, first, over);
    vug_skin *skin = skin_of(ctx, c, 0.0, 0.0, NULL);
    ck_ok(ctx, vug_skin_wet(ctx, skin, NULL, first));
    vug_skin_info info = info_of(ctx, skin);
    ck_near(info.backed_mm2, cap, 5e-3);
    ck_assert(info.filmed_mm2 == 0.0 && info.film_mm == 0.0);
    vug_cavity_info cavity = {.struct_size = sizeof cavity};
    ck_assert_int_eq(vug_cavities_get(c, 0, &cavity), VUG_OK);
    ck_near(info.area_mm2, cavity.area_mm2, 1e-9);
    ck_near(info.spot_mm2, info.bare_mm2, 1e-3);
    ck_ok(ctx, vug_skin_wet(ctx, skin, NULL, second));
    info = info_of(ctx, skin);
    ck_near(info.backed_mm2, cap, 1e-2); /* the bore's mouth is in it */
    ck_near(info.filmed_mm2, cap, 5e-3);
    ck_assert_uint_eq(info.courses, 2);
    vug_skin_free(skin);
    vug_course_free(first);
    vug_course_free(second);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Sum of a column of the rows over the triangles that look to one side. */
static double sum_of(vug_context *ctx, const vug_skin *skin, const vug_cavities *c, int axis,
    double sign, int column)
{
    const vug_mesh *mesh = vug_cavities_mesh(c, 0, NULL);
    const double *xyz = vug_mesh_vertices(mesh);
    const uint32_t *t = vug_mesh_triangles(mesh);
    double *rows = NULL, sum = 0.0, most = 0.0;
    size_t count = 0;
    ck_ok(ctx, vug_skin_triangles(ctx, skin, 0, &rows, &count));
    ck_assert_uint_eq(count, vug_mesh_triangle_count(mesh));
    for (size_t i = 0; i < count; i++) {
        double end = sign > 0.0 ? (double[]){30, 20, 10}[axis] : 0.0;
        bool there = true;
        for (int k = 0; k < 3; k++)
            there = there && xyz[3 * t[3 * i + (size_t)k] + (size_t)axis] == end;
        sum += there ? rows[4 * i + (size_t)column] : 0.0;
        most = fmax(most, there ? rows[4 * i + 3] : 0.0);
    }
    vug_free(ctx, rows);
    return column == 3 ? most : sum;
}

/* 4 mm deep on its floor, then on its end, 12 mm deep. */
START_TEST(box_turned)
{
    vug_context *ctx = test_context();
    const double up[3] = {0, 0, 1}, end[3] = {1, 0, 0};
    vug_cavities *c = box(ctx);
    vug_course *first = pour(ctx, c, up, 2400.0), *second = turn(ctx, c, first, end);
    vug_skin *skin = skin_of(ctx, c, 0.0, 0.0, NULL);
    vug_fluid paint;
    vug_fluid_init(&paint, sizeof paint);
    paint.density_kg_m3 = 1200.0;
    paint.yield_stress_pa = 3.0;
    ck_ok(ctx, vug_skin_wet(ctx, skin, &paint, first));
    vug_skin_info info = info_of(ctx, skin);
    ck_near(info.area_mm2, 2200.0, 1e-9);
    ck_near(info.backed_mm2, 600.0 + 4.0 * 100.0, 5e-3);
    ck_near(info.bare_mm2, 1200.0, 5e-3);
    ck_near(sum_of(ctx, skin, c, 2, -1.0, 0), 600.0, 1e-9);
    ck_near(sum_of(ctx, skin, c, 2, 1.0, 2), 600.0, 1e-9);
    ck_near(sum_of(ctx, skin, c, 0, 1.0, 0), 4.0 * 20.0, 0.04); /* half a piece of 0.3 mm */
    ck_ok(ctx, vug_skin_wet(ctx, skin, &paint, second));
    info = info_of(ctx, skin);
    ck_near(info.backed_mm2, 200.0 + 12.0 * 60.0, 5e-3);
    ck_near(info.filmed_mm2, 18.0 * 20.0 + 4.0 * 20.0 + 2.0 * 18.0 * 4.0, 1e-2);
    ck_near(sum_of(ctx, skin, c, 2, -1.0, 1), 18.0 * 20.0, 1e-2);
    /* Upright now: what the yield stress holds, in mm. */
    ck_near(sum_of(ctx, skin, c, 2, -1.0, 3), 1e3 * 3.0 / (1200.0 * G), 1e-6);
    vug_skin_free(skin);
    vug_course_free(first);
    vug_course_free(second);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A layer of air of 0.1 mm under the ceiling. */
START_TEST(depth)
{
    vug_context *ctx = test_context();
    const double up[3] = {0, 0, 1};
    vug_cavities *c = box(ctx);
    vug_course *course = pour(ctx, c, up, 9.9 * 600.0);
    vug_skin *touching = skin_of(ctx, c, 0.0, 0.15, NULL), *near = skin_of(ctx, c, 0.2, 0.15, NULL);
    ck_ok(ctx, vug_skin_wet(ctx, touching, NULL, course));
    ck_ok(ctx, vug_skin_wet(ctx, near, NULL, course));
    ck_close(info_of(ctx, touching).bare_mm2, 600.0 + 0.1 * 100.0, 0.075 * 100.0);
    ck_close(info_of(ctx, near).bare_mm2, 0.1 * 100.0, 0.075 * 100.0); /* the sides, above it */
    vug_skin_free(touching);
    vug_skin_free(near);
    vug_course_free(course);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* From above the ceiling alone is seen, from below the floor alone, from the side an end. */
START_TEST(seen)
{
    vug_context *ctx = test_context();
    const double up[3] = {0, 0, 1}, down[3] = {0, 0, -5}, side[3] = {2, 0, 0};
    const double *view[3] = {up, down, side}, bare[3] = {1.0, 0.0, 0.6};
    vug_cavities *c = box(ctx);
    vug_course *course = pour(ctx, c, up, 2400.0);
    for (int i = 0; i < 3; i++) {
        vug_skin *skin = skin_of(ctx, c, 0.0, 0.0, view[i]);
        ck_ok(ctx, vug_skin_wet(ctx, skin, NULL, course));
        vug_skin_info info = info_of(ctx, skin);
        ck_close(info.bare_share, bare[i], i < 2 ? 1e-12 : 0.01);
        ck_close(info.backed_share + info.bare_share, 1.0, 1e-12);
        vug_skin_free(skin);
    }
    vug_course_free(course);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* On its end and over on the other: a belt between stays bare, but for what the two ends share. */
START_TEST(spots)
{
    vug_context *ctx = test_context();
    const double end[3] = {1, 0, 0}, up[3] = {0, 0, 1};
    double *rows = NULL;
    size_t count = 9;
    vug_cavities *c = box(ctx);
    vug_course *first = pour(ctx, c, end, 4000.0); /* 20 mm of 30: ends below the bore's place */
    vug_skin *skin = skin_of(ctx, c, 0.0, 0.0, NULL);
    vug_course *second = turn(ctx, c, first, up); /* 6.67 mm of 10 */
    ck_ok(ctx, vug_skin_spots(ctx, skin, &rows, &count));
    ck_assert(count == 0 && rows == NULL); /* no course yet: nothing is counted */
    ck_ok(ctx, vug_skin_wet(ctx, skin, NULL, first));
    ck_ok(ctx, vug_skin_wet(ctx, skin, NULL, second));
    vug_skin_info info = info_of(ctx, skin);
    vug_course_info s = summary_of(first);
    /* Above 2/3 of the height, in the last third of the length: ceiling, two sides, one end. */
    const double x = 30.0 - s.liquid_mm3 / 200.0, z = 10.0 - s.liquid_mm3 / 600.0;
    const double bare = x * 20.0 + 2.0 * x * z + 20.0 * z;
    ck_near(info.bare_mm2, bare, 1e-2);
    ck_ok(ctx, vug_skin_spots(ctx, skin, &rows, &count));
    ck_assert_uint_eq(count, 1);
    ck_near(rows[3], info.bare_mm2, 1e-12);
    ck_close(rows[0], 30.0 - 0.5 * x, 2.0);
    ck_close(rows[2], 10.0, 1.0);
    ck_assert(rows[3] == info.spot_mm2 && rows[1] == info.spot_at_mm[1] && rows[4] == 1.0);
    vug_free(ctx, rows);
    vug_skin_free(skin);
    vug_course_free(first);
    vug_course_free(second);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Full by a hole in its top: the bare rest lies round the hole. Half drained: what was full is filmed. */
START_TEST(filled_and_drained)
{
    vug_context *ctx = test_context();
    const double hole[7] = {0, 0, 20, 0, 0, 1, 3}, up[3] = {0, 0, 1}, side[3] = {1, 0, 0};
    vug_cavities *c = cavities_by_hole(ctx, shape_hollow_ball(ctx, 18.0, 20.0, 1.5, 96), hole);
    vug_course *course = pour(ctx, c, up, 0.0), *out = NULL;
    vug_moment *end = NULL;
    vug_drain_options o;
    vug_skin *skin = skin_of(ctx, c, 0.0, 0.0, NULL);
    ck_ok(ctx, vug_skin_wet(ctx, skin, NULL, course));
    vug_skin_info full = info_of(ctx, skin);
    ck_assert(full.bare_mm2 < 1e-3 * full.area_mm2);
    ck_ok(ctx, vug_course_at_time(ctx, course, INFINITY, &end));
    vug_drain_options_init(&o, sizeof o);
    o.begin = end;
    ck_ok(ctx, vug_drain_run(ctx, c, NULL, side, NULL, 0, &o, &out));
    ck_ok(ctx, vug_skin_wet(ctx, skin, NULL, out));
    vug_skin_info half = info_of(ctx, skin);
    ck_near(half.backed_mm2, 2.0 * PI * 18.0 * (18.0 - 1.5), 0.02); /* up to the lip of the hole */
    ck_assert(half.bare_mm2 <= full.bare_mm2);
    ck_assert(half.film_mm > 0.0 && half.film_mm < 0.1); /* water after a minute: about 5 um */
    vug_moment_free(end);
    vug_skin_free(skin);
    vug_course_free(course);
    vug_course_free(out);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

START_TEST(refused)
{
    vug_context *ctx = test_context();
    const double up[3] = {0, 0, 1}, none[3] = {0};
    const double hole[7] = {0, 0, 20, 0, 0, 1, 3};
    vug_cavities *c = box(ctx);
    vug_cavities *other = cavities_by_hole(ctx, shape_hollow_ball(ctx, 18.0, 20.0, 1.5, 24), hole);
    vug_course *course = pour(ctx, other, up, 100.0);
    vug_skin *skin = NULL;
    vug_skin_options o;
    vug_skin_info info = {.struct_size = sizeof info};
    double *rows = NULL;
    size_t count = 0;
    vug_skin_options_init(&o, sizeof o);
    o.spacing_mm = 1e-5;
    ck_assert_int_eq(vug_skin_make(ctx, c, &o, &skin), VUG_ERR_LIMIT);
    o.spacing_mm = NAN;
    ck_assert_int_eq(vug_skin_make(ctx, c, &o, &skin), VUG_ERR_ARGUMENT);
    o.spacing_mm = 0.0;
    o.view = none;
    ck_assert_int_eq(vug_skin_make(ctx, c, &o, &skin), VUG_ERR_ARGUMENT);
    o.view_count = 1;
    ck_assert_int_eq(vug_skin_make(ctx, c, &o, &skin), VUG_ERR_ARGUMENT);
    ck_assert_ptr_null(strstr(vug_context_message(ctx), "(null)"));
    ck_assert_ptr_null(skin);
    ck_assert_int_eq(vug_skin_make(NULL, c, NULL, &skin), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_skin_make(ctx, NULL, NULL, &skin), VUG_ERR_ARGUMENT);
    ck_ok(ctx, vug_skin_make(ctx, c, NULL, &skin));
    ck_assert_int_eq(vug_skin_wet(ctx, skin, NULL, course), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_skin_wet(ctx, skin, NULL, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_skin_get(ctx, NULL, &info), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_skin_triangles(ctx, skin, 1, &rows, &count), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_skin_spots(ctx, skin, NULL, &count), VUG_ERR_ARGUMENT);
    vug_skin_free(NULL);
    vug_skin_free(skin);
    vug_course_free(course);
    vug_cavities_free(other);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("skin");
    TCase *all = tcase_create("all");
    tcase_set_timeout(all, 60);
    tcase_add_test(all, ball);
    tcase_add_test(all, box_turned);
    tcase_add_test(all, depth);
    tcase_add_test(all, seen);
    tcase_add_test(all, spots);
    tcase_add_test(all, filled_and_drained);
    tcase_add_test(all, refused);
    suite_add_tcase(suite, all);
    return test_run(suite);
}
