/* SPDX-License-Identifier: MIT
 * column: the level of the liquid at points. */
#include "shapes.h"
#include "test.h"

static const double PI = 3.14159265358979323846;
static const double UP[3] = {0.0, 0.0, 1.0};

/* A round cavity, R = 15, 20 high, and 30 high within r = 5; a ring of wall from r = 5 to 10 hangs from the
 * top down to z = 10. A hole in the middle of the top. So the ring's outside is a dome of its own, whose
 * air stands down to z = 10. */
static vug_cavities *two_domes(vug_context *ctx)
{
    const double outside[8] = {0.0, -2.0, 17.0, -2.0, 17.0, 32.0, 0.0, 32.0};
    const double inside[16] = {0.0, 0.0, 15.0, 0.0, 15.0, 20.0, 10.0, 20.0, 10.0, 10.0, 5.0, 10.0,
        5.0, 30.0, 0.0, 30.0};
    const double hole[7] = {0.0, 0.0, 32.0, 0.0, 0.0, 1.0, 3.0};
    shape s = {0};
    shape_revolve(&s, outside, 4, 240, 0);
    shape_revolve(&s, inside, 8, 240, 1);
    return cavities_by_hole(ctx, shape_mesh(ctx, &s), hole);
}

/* On the wall of the outer dome below and above its waterline, in the middle, and far away. */
static const double POINTS[6][3] = {{15.0, 0.0, 4.0}, {15.0, 0.0, 9.9}, {0.0, -15.0, 15.0},
    {10.0, 0.0, 19.0}, {0.0, 5.0, 25.0}, {60.0, 0.0, 5.0}};

/* By hand: 10 all over the outer dome's spans, also on the full ceiling of the ring; the middle is
 * full, to no less than its top at 30. */
START_TEST(full_to_the_sill)
{
    vug_context *ctx = test_context();
    vug_cavities *c = two_domes(ctx);
    vug_pockets *p = NULL;
    vug_pocket_info info = {.struct_size = sizeof info};
    double level[6];
    ck_ok(ctx, vug_pockets_find(ctx, c, UP, NULL, 0, NULL, &p));
    ck_assert_int_eq(vug_pockets_get(p, 0, &info), VUG_OK);
    ck_close(info.level_mm, 10.0, 1e-9);
    ck_ok(ctx, vug_pockets_levels(ctx, p, POINTS[0], 6, level));
    for (int i = 0; i < 4; i++)
        ck_assert_double_eq(level[i], info.level_mm);
    ck_assert_double_ge(level[4], 30.0);
    ck_assert(isnan(level[5]));
    vug_pockets_free(p);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* 5 mm of liquid on the floor: its volume is that of a disc, and one level holds for wet and dry. */
START_TEST(on_the_way)
{
    vug_context *ctx = test_context();
    vug_cavities *c = two_domes(ctx);
    vug_course *course = NULL;
    vug_moment *moment = NULL;
    double level[6], wedge = 240.0 / 2.0 * sin(2.0 * PI / 240.0) * 225.0; /* area of the polygon */
    ck_ok(ctx, vug_fill_run(ctx, c, NULL, UP, NULL, 0, NULL, &course));
    ck_ok(ctx, vug_course_at_volume(ctx, course, 5.0 * wedge, &moment));
    ck_ok(ctx, vug_moment_levels(ctx, moment, POINTS[0], 6, level));
    for (int i = 0; i < 5; i++)
        ck_close(level[i], 5.0, 0.01);
    ck_assert(isnan(level[5]));
    vug_moment_free(moment);
    ck_ok(ctx, vug_course_at_volume(ctx, course, 0.0, &moment));
    ck_ok(ctx, vug_moment_levels(ctx, moment, POINTS[0], 6, level));
    for (int i = 0; i < 5; i++)
        ck_close(level[i], 0.0, 1e-6); /* dry: the bottom */
    vug_moment_free(moment);
    vug_course_free(course);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A ball tilted any way: all corners of its wall have the pocket's level, but for those in the columns that
 * come through the bore, which are full to its top. */
START_TEST(one_level_in_a_ball)
{
    vug_context *ctx = test_context();
    const double hole[7] = {0.0, 0.0, 22.0, 0.0, 0.0, 1.0, 3.0}, tilted[3] = {1.0, 0.3, 0.2};
    shape s = shape_of_mesh(shape_hollow_ball(ctx, 20.0, 22.0, 0.0, 120));
    vug_cavities *c = cavities_by_hole(ctx, shape_mesh(ctx, &s), hole);
    vug_pockets *p = NULL;
    vug_pocket_info info = {.struct_size = sizeof info};
    ck_ok(ctx, vug_pockets_find(ctx, c, tilted, NULL, 0, NULL, &p));
    ck_assert_int_eq(vug_pockets_get(p, 0, &info), VUG_OK);
    const vug_mesh *wall = vug_cavities_mesh(c, 0, NULL);
    size_t count = vug_mesh_vertex_count(wall);
    double *level = calloc(count, sizeof *level);
    ck_assert_ptr_nonnull(level);
    ck_ok(ctx, vug_pockets_levels(ctx, p, vug_mesh_vertices(wall), count, level));
    const double *at = vug_mesh_vertices(wall);
    size_t others = 0;
    for (size_t i = 0; i < count; i++) {
        double height = (at[3 * i] + 0.3 * at[3 * i + 1] + 0.2 * at[3 * i + 2]) / sqrt(1.13);
        bool full = level[i] > info.level_mm && height < level[i];
        others += full;
        ck_assert(full || level[i] == info.level_mm);
    }
    ck_assert_uint_lt(20 * others, count);
    free(level);
    vug_pockets_free(p);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

START_TEST(bad_points)
{
    vug_context *ctx = test_context();
    vug_cavities *c = two_domes(ctx);
    vug_pockets *p = NULL;
    const double bad[6] = {0.0, 0.0, 1.0, 0.0, NAN, 0.0};
    double level[2] = {7.0, 7.0};
    ck_ok(ctx, vug_pockets_find(ctx, c, UP, NULL, 0, NULL, &p));
    ck_assert_int_eq(vug_pockets_levels(ctx, p, bad, 2, level), VUG_ERR_ARGUMENT);
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "point 1 "));
    ck_assert_double_eq(level[0], 7.0);
    ck_assert_int_eq(vug_pockets_levels(ctx, p, NULL, 2, level), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pockets_levels(ctx, p, bad, 2, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pockets_levels(ctx, NULL, bad, 1, level), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pockets_levels(NULL, p, bad, 1, level), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_moment_levels(ctx, NULL, bad, 1, level), VUG_ERR_ARGUMENT);
    ck_ok(ctx, vug_pockets_levels(ctx, p, NULL, 0, NULL));
    vug_pockets_free(p);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("waterline");
    TCase *tc = tcase_create("levels");
    tcase_add_test(tc, full_to_the_sill);
    tcase_add_test(tc, on_the_way);
    tcase_add_test(tc, one_level_in_a_ball);
    tcase_add_test(tc, bad_points);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
