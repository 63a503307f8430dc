/* SPDX-License-Identifier: MIT
 * The part against the light, against lengths worked by hand. */
#include "../shapes.h"
#include "../test.h"

enum { SIDE = 90 };

static unsigned char pixel[SIDE][SIDE][4];

/* A picture of SIDE x SIDE pixels, rows from the top down, 255 times the share of light. */
static void render(vug_context *ctx, const vug_mesh *mesh, const vug_cavities *cavities,
    const vug_moment *moment, vug_backlit look)
{
    look.linear = 1;
    memset(pixel, 77, sizeof pixel);
    ck_ok(ctx,
        vug_backlit_render(ctx, mesh, cavities, moment, &look, SIDE, SIDE, &pixel[0][0][0], 0));
}

static vug_backlit usual(void)
{
    vug_backlit look;
    ck_assert_int_eq(vug_backlit_init(&look, sizeof look), VUG_OK);
    return look;
}

/* Beer-Lambert, in bytes: rounded, so within half of one. */
static double byte(double attenuation, double length)
{
    return 255.0 * exp(-attenuation * length);
}

START_TEST(a_box_dims_by_its_thickness)
{
    vug_context *ctx = test_context();
    shape s = {.xyz = NULL};
    shape_box(&s, (const double[3]){0, 0, 0}, (const double[3]){9, 4, 9}, 0);
    vug_mesh *box = shape_mesh(ctx, &s);
    vug_backlit look = usual();
    look.background[2] = 0.5;
    render(ctx, box, NULL, NULL, look);
    /* from the front 4 mm; the box takes 0.9 of the picture */
    for (int k = 0; k < 3; k++) {
        double light = look.background[k];
        ck_close(pixel[45][45][k], light * byte(look.resin_per_mm[k], 4.0), 0.51);
        ck_close(pixel[8][8][k], light * byte(look.resin_per_mm[k], 4.0), 0.51);
        ck_close(pixel[2][45][k], 255.0 * light, 0.51);
        ck_close(pixel[45][2][k], 255.0 * light, 0.51);
    }
    ck_assert_int_eq(pixel[45][45][3], 255);
    /* from 30 degrees to the side the line through the middle is 4 / cos(30) long: by hand */
    look.toward[0] = 0.5;
    look.toward[1] = -0.5 * sqrt(3.0);
    render(ctx, box, NULL, NULL, look);
    ck_close(pixel[45][45][0], byte(0.10, 4.0 / cos(30.0 * 3.14159265358979 / 180.0)), 0.51);
    /* as a screen wants it: sRGB of 0.5 is 0.7354 (IEC 61966-2-1), 187.5 */
    look.toward[0] = 0.0;
    look.toward[1] = -1.0;
    look.resin_per_mm[0] = log(2.0) / 4.0;
    ck_ok(ctx, vug_backlit_render(ctx, box, NULL, NULL, &look, SIDE, SIDE, &pixel[0][0][0], 0));
    ck_close(pixel[45][45][0], 187.5, 1.0);
    vug_mesh_free(box);
    vug_context_free(ctx);
}
END_TEST

/* Right is right and up is up: a bar that reaches to +x and +z, seen from the front and the back. */
START_TEST(the_picture_is_not_mirrored)
{
    vug_context *ctx = test_context();
    shape s = {.xyz = NULL};
    shape_box(&s, (const double[3]){0, 0, 0}, (const double[3]){20, 1, 1}, 0);
    shape_box(&s, (const double[3]){18, 0, 3}, (const double[3]){20, 1, 20}, 0);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    vug_backlit look = usual();
    render(ctx, mesh, NULL, NULL, look);
    ck_assert(pixel[20][82][0] < 250 && pixel[20][8][0] == 255);
    ck_assert(pixel[84][45][0] < 250 && pixel[5][45][0] == 255);
    look.toward[1] = 1.0;
    render(ctx, mesh, NULL, NULL, look);
    ck_assert(pixel[20][8][0] < 250 && pixel[20][82][0] == 255);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A ball and a shell: the chord at distance r from the middle is 2 sqrt(b^2 - r^2), less 2 sqrt(a^2 - r^2). The
 * facets of 120 around, in steps of 3 degrees both ways, lie within 2 b (1 - cos(1.5 degrees)) of the sphere: 0.0069
 * and 0.0055 mm, and that over the cosine at which the line meets it. */
START_TEST(a_ball_dims_by_its_chord)
{
    vug_context *ctx = test_context();
    vug_mesh *shell = shape_hollow_ball(ctx, 8.0, 10.0, 0.0, 120);
    vug_cavities *cavities = NULL;
    ck_ok(ctx, vug_cavities_find(ctx, shell, NULL, 0, NULL, &cavities));
    ck_assert_uint_eq(vug_cavities_count(cavities), 1);
    vug_backlit look = usual();
    const double side[3][3] = {{0, -1, 0}, {0.3, 0.5, 0.8}, {1, 0, 0}};
    double worst = 0.0;
    for (int way = 0; way < 3; way++) {
        memcpy(look.toward, side[way], sizeof look.toward);
        look.liquid_per_mm[0] = 0.03;
        for (look.filled = 0; look.filled <= 1; look.filled++) {
            render(ctx, shell, cavities, NULL, look);
            for (int row = 0; row < SIDE; row++) {
                for (int i = 0; i < SIDE; i++) {
                    /* 20 mm over 0.9 of the picture */
                    double h = 20.0 / (0.9 * SIDE), x = (i - 44.5) * h, y = (row - 44.5) * h;
                    double r2 = x * x + y * y;
                    if (fabs(sqrt(r2) - 10.0) < 0.1 || fabs(sqrt(r2) - 8.0) < 0.1)
                        continue; /* facets end inside the circle: there is no telling */
                    double outer = 2.0 * sqrt(fmax(0.0, 100.0 - r2)),
                           inner = 2.0 * sqrt(fmax(0.0, 64.0 - r2));
                    double want = byte(1.0, 0.10 * (outer - inner) + 0.03 * look.filled * inner);
                    double steep = 10.0 * 0.0069 / sqrt(fmax(1e-9, 100.0 - r2));
                    if (r2 < 64.0)
                        steep += 8.0 * 0.0055 / sqrt(64.0 - r2);
                    double slack = 0.51 + (r2 < 100.0 ? 255.0 * 0.10 * 2.0 * steep : 0.0);
                    worst = fmax(worst, fabs(pixel[row][i][0] - want) / slack);
                }
            }
        }
    }
    ck_assert_msg(worst <= 1.0, "off by %g of what facets and rounding explain", worst);
    vug_cavities_free(cavities);
    vug_mesh_free(shell);
    vug_context_free(ctx);
}
END_TEST

/* A hollow block, 20 x 20 x 40 with 2 mm walls and a bore in its roof, filled half with its roof up. */
static void add_block(shape *s, double x)
{
    shape_box(s, (const double[3]){x, 0, 0}, (const double[3]){x + 20, 20, 40}, 0);
    shape_box(s, (const double[3]){x + 2, 2, 2}, (const double[3]){x + 18, 18, 38}, 1);
}

static vug_cavities *half_full(vug_context *ctx, double volume, const double up[3],
    vug_moment **moment)
{
    shape s = {.xyz = NULL};
    add_block(&s, 0.0);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    const double hole[7] = {10, 10, 40, 0, 0, 1, 2};
    vug_cavities *cavities = cavities_by_hole(ctx, mesh, hole);
    vug_course *course = NULL;
    ck_ok(ctx, vug_fill_run(ctx, cavities, NULL, up, NULL, 0, NULL, &course));
    ck_ok(ctx, vug_course_at_volume(ctx, course, volume, moment));
    vug_course_free(course);
    return cavities;
}

static vug_mesh *block(vug_context *ctx)
{
    shape s = {.xyz = NULL};
    add_block(&s, 0.0);
    return shape_mesh(ctx, &s);
}

START_TEST(liquid_stands_to_its_level)
{
    vug_context *ctx = test_context();
    vug_moment *moment = NULL;
    const double up[3] = {0, 0, 1};
    vug_cavities *cavities = half_full(ctx, 16.0 * 16.0 * 18.0, up, &moment);
    vug_mesh *mesh = block(ctx);
    vug_backlit look = usual();
    look.liquid_per_mm[0] = 0.05;
    /* from the front: 4 mm of resin everywhere, 16 mm of liquid up to z = 20, the middle of the picture */
    render(ctx, mesh, cavities, moment, look);
    ck_close(pixel[47][45][0], byte(1.0, 0.4 + 0.05 * 16.0), 0.51);
    ck_close(pixel[70][40][0], byte(1.0, 0.4 + 0.05 * 16.0), 0.51);
    ck_close(pixel[42][45][0], byte(1.0, 0.4), 0.51);
    ck_close(pixel[20][40][0], byte(1.0, 0.4), 0.51);
    /* from above: 4 mm of resin and 18 mm of liquid, off the bore */
    memcpy(look.toward, (const double[3]){0, 0, 1}, sizeof look.toward);
    memcpy(look.up, (const double[3]){0, 1, 0}, sizeof look.up);
    render(ctx, mesh, cavities, moment, look);
    ck_close(pixel[30][30][0], byte(1.0, 0.4 + 0.05 * 18.0), 0.51);
    /* through the bore that is planned: 2 mm less resin */
    ck_close(pixel[45][45][0], byte(1.0, 0.2 + 0.05 * 18.0), 0.51);
    /* from 45 degrees above the front, the line through (10, 10, 20): sqrt(2) mm for each mm across; it
     * enters the resin at y 0 and leaves it at y 20 (16 mm across in the cavity, 4 in the resin), and 8 mm of
     * those across lie below z = 20: by hand */
    memcpy(look.toward, (const double[3]){0, -1, 1}, sizeof look.toward);
    memcpy(look.up, (const double[3]){0, 0, 1}, sizeof look.up);
    render(ctx, mesh, cavities, moment, look);
    double h = (20.0 + 40.0) / sqrt(2.0) / (0.9 * SIDE); /* half a pixel aside of the middle */
    ck_close(pixel[44][45][0], byte(1.0, sqrt(2.0) * (0.10 * 4.0 + 0.05 * 8.0)),
        1.0 + 255 * 0.05 * h);
    vug_moment_free(moment);
    vug_mesh_free(mesh);
    vug_cavities_free(cavities);
    vug_context_free(ctx);
}
END_TEST

/* A second block beside the first, which nothing was let into: its 16 mm hold air, or liquid if all else is said to be
 * filled. */
START_TEST(what_a_moment_does_not_tell_of)
{
    vug_context *ctx = test_context();
    vug_moment *moment = NULL;
    vug_course *course = NULL;
    const double up[3] = {0, 0, 1}, hole[7] = {10, 10, 40, 0, 0, 1, 2};
    shape s = {.xyz = NULL};
    add_block(&s, 0.0);
    add_block(&s, 30.0);
    vug_cavities *cavities = cavities_by_hole(ctx, shape_mesh(ctx, &s), hole);
    s = (shape){.xyz = NULL};
    add_block(&s, 0.0);
    add_block(&s, 30.0);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    ck_ok(ctx, vug_fill_run(ctx, cavities, NULL, up, NULL, 0, NULL, &course));
    ck_ok(ctx, vug_course_at_volume(ctx, course, 16.0 * 16.0 * 18.0, &moment));
    ck_assert_uint_eq(vug_cavities_count(cavities), 2);
    vug_backlit look = usual();
    look.liquid_per_mm[0] = 0.05;
    for (look.filled = 0; look.filled <= 1; look.filled++) {
        render(ctx, mesh, cavities, moment, look);
        ck_close(pixel[60][20][0], byte(1.0, 0.4 + 0.05 * 16.0), 0.51);
        ck_close(pixel[60][70][0], byte(1.0, 0.4 + 0.05 * 16.0 * look.filled), 0.51);
    }
    vug_moment_free(moment);
    vug_course_free(course);
    vug_cavities_free(cavities);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* The same liquid held askew lies askew: with (1, 0, 1) up the level is the plane x + z = constant. 16 x 16 x 18
 * mm3 in the box 16 x 16 x 36: the plane through the middle, x + z = 10 + 20 (by symmetry). */
START_TEST(liquid_held_askew)
{
    vug_context *ctx = test_context();
    vug_moment *moment = NULL;
    const double up[3] = {1, 0, 1};
    vug_cavities *cavities = half_full(ctx, 16.0 * 16.0 * 18.0, up, &moment);
    vug_mesh *mesh = block(ctx);
    vug_backlit look = usual();
    look.liquid_per_mm[0] = 0.05;
    render(ctx, mesh, cavities, moment, look);
    double h = 40.0 / (0.9 * SIDE);
    int wrong = 0, seen = 0;
    for (int row = 0; row < SIDE; row++) {
        for (int i = 0; i < SIDE; i++) {
            double x = 10.0 + (i - 44.5) * h, z = 20.0 - (row - 44.5) * h;
            if (x < 2.1 || x > 17.9 || z < 2.1 || z > 37.9 || fabs(x + z - 30.0) < 0.3)
                continue;
            if (z > 20.0 && fabs(x - 10.0) < 1.2)
                continue; /* beside the bore */
            double want = byte(1.0, 0.4 + (x + z < 30.0 ? 0.05 * 16.0 : 0.0));
            wrong += fabs(pixel[row][i][0] - want) > 0.51;
            seen++;
        }
    }
    ck_assert_int_gt(seen, 2000);
    ck_assert_msg(wrong == 0, "%d of %d pixels are wrong", wrong, seen);
    /* from another side: the depths of all pixels together are the volume */
    memcpy(look.toward, (const double[3]){0.7, -0.2, 0.4}, sizeof look.toward);
    look.resin_per_mm[0] = 0.0;
    look.liquid_per_mm[0] = 0.01;
    render(ctx, mesh, cavities, moment, look);
    double depth = 0.0, lo = INFINITY, hi = -INFINITY, flat = sqrt(0.53);
    for (int row = 0; row < SIDE; row++)
        for (int i = 0; i < SIDE; i++)
            depth += -log(pixel[row][i][0] / 255.0) / 0.01;
    /* pixel size by the taller side: up in the picture is (-0.28, 0.08, 0.53) / |.|; corners by hand */
    double length = sqrt(0.49 + 0.04 + 0.16),
           top[3] = {-0.28 / (flat * length), 0.08 / (flat * length), 0.53 / (flat * length)};
    for (int c = 0; c < 8; c++) {
        double y = (c & 1 ? 20.0 : 0.0) * top[0] + (c & 2 ? 20.0 : 0.0) * top[1]
            + (c & 4 ? 40.0 : 0.0) * top[2];
        lo = fmin(lo, y);
        hi = fmax(hi, y);
    }
    h = (hi - lo) / (0.9 * SIDE);
    ck_near(depth * h * h, 16.0 * 16.0 * 18.0, 0.01);
    vug_moment_free(moment);
    vug_mesh_free(mesh);
    vug_cavities_free(cavities);
    vug_context_free(ctx);
}
END_TEST

START_TEST(bad_input_is_refused)
{
    vug_context *ctx = test_context();
    vug_mesh *ball = shape_hollow_ball(ctx, 8.0, 10.0, 0.0, 24);
    vug_backlit look = usual();
    unsigned char *p = &pixel[0][0][0];
    ck_assert_int_eq(vug_backlit_render(NULL, ball, NULL, NULL, NULL, 9, 9, p, 0),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_backlit_render(ctx, NULL, NULL, NULL, NULL, 9, 9, p, 0), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_backlit_render(ctx, ball, NULL, NULL, NULL, 9, 9, NULL, 0),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_backlit_render(ctx, ball, NULL, NULL, NULL, 9, 9, p, 35),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_backlit_render(ctx, ball, NULL, NULL, NULL, 0, 9, p, 0), VUG_ERR_LIMIT);
    ck_assert_int_eq(vug_backlit_render(ctx, ball, NULL, NULL, NULL, 9, 100000, p, 0),
        VUG_ERR_LIMIT);
    look.scale_mm = 1e-4;
    ck_assert_int_eq(vug_backlit_render(ctx, ball, NULL, NULL, &look, 9, 9, p, 0), VUG_ERR_LIMIT);
    look = usual();
    look.up[2] = 0.0;
    ck_assert_int_eq(vug_backlit_render(ctx, ball, NULL, NULL, &look, 9, 9, p, 0),
        VUG_ERR_ARGUMENT);
    look.up[1] = 3.0; /* along the line of sight */
    ck_assert_int_eq(vug_backlit_render(ctx, ball, NULL, NULL, &look, 9, 9, p, 0),
        VUG_ERR_ARGUMENT);
    ck_assert(strstr(vug_context_message(ctx), "up"));
    look = usual();
    look.resin_per_mm[1] = -1.0;
    ck_assert_int_eq(vug_backlit_render(ctx, ball, NULL, NULL, &look, 9, 9, p, 0), VUG_ERR_DOMAIN);
    ck_assert(strstr(vug_context_message(ctx), "resin_per_mm[1]"));
    look = usual();
    look.background[0] = NAN;
    ck_assert_int_eq(vug_backlit_render(ctx, ball, NULL, NULL, &look, 9, 9, p, 0), VUG_ERR_DOMAIN);
    /* a row's stride: what lies between rows is not touched */
    memset(pixel, 7, sizeof pixel);
    ck_ok(ctx, vug_backlit_render(ctx, ball, NULL, NULL, NULL, 4, 4, p, 20));
    for (int row = 0; row < 3; row++)
        for (int k = 16; k < 20; k++)
            ck_assert_int_eq(p[20 * row + k], 7);
    vug_mesh_free(ball);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("backlit");
    TCase *tc = tcase_create("backlit");
    tcase_add_test(tc, a_box_dims_by_its_thickness);
    tcase_add_test(tc, the_picture_is_not_mirrored);
    tcase_add_test(tc, a_ball_dims_by_its_chord);
    tcase_add_test(tc, liquid_stands_to_its_level);
    tcase_add_test(tc, what_a_moment_does_not_tell_of);
    tcase_add_test(tc, liquid_held_askew);
    tcase_add_test(tc, bad_input_is_refused);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
