/* SPDX-License-Identifier: MIT
 * fill: exact levels, squeezed air, surfaces as meshes, cups while printing; the end against a flood. */
#include "cavity/cavity.h"
#include "column/flood.h"
#include "course/course.h"
#include "hydrostatic/quasistatic.h"

#include "failing.h"
#include "flooded.h"
#include "shapes.h"
#include "spans.h"

static const double PI = 3.14159265358979323846, G = 9.80665; /* m/s2 */

/* Unit cube below x + y + z = t: (t^3 - 3 max(0, t - 1)^3 + 3 max(0, t - 2)^3) / 6 (by inclusion and
 * exclusion), scaled by 10; and back. */
START_TEST(cube_on_its_corner)
{
    vug_context *ctx = test_context();
    shape s = {.vertex_count = 0};
    const double lo[3] = {1, 2, 3}, hi[3] = {11, 12, 13}, up[3] = {2, 2, 2};
    double volume, level;
    shape_box(&s, lo, hi, 0);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    for (int i = 0; i <= 30; i++) {
        double t = 0.1 * i, b = fmax(0.0, t - 1.0), c = fmax(0.0, t - 2.0);
        double want = 1000.0 * (t * t * t - 3.0 * b * b * b + 3.0 * c * c * c) / 6.0;
        double at = (6.0 + 10.0 * t) / sqrt(3.0);
        ck_ok(ctx, vug_mesh_volume_below(ctx, mesh, up, at, &volume));
        ck_close(volume, want, 1e-9);
        if (i == 0 || i == 30)
            continue;
        ck_ok(ctx, vug_mesh_level(ctx, mesh, up, want, &level));
        ck_close(level, at, 1e-9);
    }
    ck_ok(ctx, vug_mesh_volume_below(ctx, mesh, up, 1e9, &volume));
    ck_near(volume, 1000.0, 1e-12);
    ck_assert_int_eq(vug_mesh_level(ctx, mesh, up, 1001.0, &level), VUG_ERR_DOMAIN);
    ck_assert_int_eq(vug_mesh_level(ctx, mesh, up, NAN, &level), VUG_ERR_DOMAIN);
    ck_assert_int_eq(vug_mesh_volume_below(ctx, mesh, up, NAN, &volume), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_mesh_volume_below(ctx, NULL, up, 0.0, &volume), VUG_ERR_ARGUMENT);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* Lying capsule R = 20, L = 100: python3-fluids 1.0.22, TANK(D=40, L=100, horizontal=True, sideA=
 * 'spherical', sideB='spherical', sideA_a=20, sideB_a=20).h_from_V(60000) = 16.24645852165906; and a
 * lying torus R = 20, r = 5, half full: 2 pi R pi r^2 / 2 = 4934.802201 (Pappus). The mesh's facets lie
 * inside: 1e-3. */
START_TEST(round_meshes)
{
    vug_context *ctx = test_context();
    shape s = {.vertex_count = 0};
    double profile[2 * 400], level, volume;
    const double z[3] = {0, 0, 1}, x[3] = {1, 0, 0};
    size_t n = shape_arc(profile, 0, 0.0, 0.0, 20.0, -90.0, 0.0, 90);
    n = shape_arc(profile, n, 0.0, 100.0, 20.0, 0.0, 90.0, 90);
    shape_revolve(&s, profile, n, 400, 0);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    ck_ok(ctx, vug_mesh_level(ctx, mesh, x, 60000.0, &level));
    ck_near(level + 20.0, 16.24645852165906, 1e-3);
    vug_mesh_free(mesh);
    n = shape_arc(profile, 0, 20.0, 0.0, 5.0, 0.0, 360.0, 180);
    shape_revolve(&s, profile, n - 1, 400, 0);
    mesh = shape_mesh(ctx, &s);
    ck_ok(ctx, vug_mesh_volume_below(ctx, mesh, z, 0.0, &volume));
    ck_near(volume, 4934.802201, 1e-3);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A course on a scene, filled by its first mouth. */
static vug_course *fill_course(vug_context *ctx, vugi_scene *scene)
{
    const uint32_t inlet = 0;
    vug_course *c = vugi_course_new(ctx, scene);
    double *level = malloc(scene->graph.arc_count * sizeof *level);
    for (size_t m = 0; m < scene->mouth_count; m++)
        c->open[m] = true;
    vugi_fill_task task = {.scene = scene,
        .inlet = &inlet,
        .inlets = 1,
        .air_open = c->open,
        .liquid_open = c->open,
        .volume = INFINITY};
    ck_ok(ctx, vugi_quasistatic_run(ctx, &task, &c->history, level));
    c->summary.inlet = scene->mouth[0].opening;
    ck_ok(ctx, vugi_course_finish(ctx, c));
    vugi_scene_free(scene);
    free(level);
    return c;
}

/* Boyle: 10 mL under 20 kPa gauge become 10 x 101325 / 121325 = 8.3515 mL; under 50 mm of water alone
 * 0.995193 of it (101325 / (101325 + rho g H), H to the surface as it rises: hence 1e-3). */
START_TEST(boyle)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 40, 0, 20, 0, 10}}, {cut_box, {0, 20, 0, 20, 0, 35}},
        {cut_box, {30, 40, 0, 20, 0, 60}}};
    const test_mouth mouth[] = {{35, 10, 60, 3, 60, 60}};
    vug_course *c = fill_course(ctx, make_scene(ctx, part, 3, 0, 40, 0, 20, 0.5, mouth, 1));
    vug_moment *m = NULL;
    vug_fluid light, water;
    double volume = 0.0, extra;
    vug_fluid_init(&water, sizeof water);
    vug_fluid_init(&light, sizeof light);
    light.density_kg_m3 = 1.0;
    ck_near(c->summary.trapped_mm3, 10000.0, 1e-9);
    ck_ok(ctx, vug_course_at_time(ctx, c, INFINITY, &m));
    ck_ok(ctx, vug_moment_squeeze(ctx, m, &light, 20000.0, 0.0, &volume, 1, &extra));
    ck_near(volume, 8351.5, 1e-4);
    ck_near(extra, 10000.0 - 8351.5, 1e-3);
    ck_ok(ctx, vug_moment_squeeze(ctx, m, &water, 0.0, 101325.0, &volume, 1, &extra));
    ck_near(volume, 10000.0 * 101325.0 / (101325.0 + 998.2 * G * 0.050), 2e-4);
    ck_assert_int_eq(vug_moment_squeeze(ctx, m, NULL, NAN, 0.0, NULL, 0, &extra), VUG_ERR_DOMAIN);
    ck_assert_int_eq(vug_moment_squeeze(ctx, m, NULL, 0.0, -1.0, NULL, 0, &extra), VUG_ERR_DOMAIN);
    ck_assert_int_eq(vug_moment_squeeze(ctx, m, NULL, 0.0, 0.0, NULL, 1, &extra), VUG_ERR_ARGUMENT);
    vug_moment_free(m);
    vug_course_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Many balls joined by thin bars: a fill never leaves less air than the flood (Priority-Flood, Barnes,
 * Lehman and Mulla 2014), which knows no order of events, and nearly always as much: more only where
 * liquid that comes first cuts off air that could have left later. One more vent never leaves more. */
START_TEST(end_equals_the_flood)
{
    vug_context *ctx = test_context();
    unsigned seed = 7;
    size_t compared = 0, equal = 0;
    for (int round = 0; round < 60; round++) {
        solid part[12];
        test_mouth mouth[3];
        double trapped[2];
        for (size_t i = 0; i < 12; i++) {
            double r[4];
            for (int k = 0; k < 4; k++)
                r[k] = (double)((seed = seed * 1103515245u + 12345u) >> 8 & 0xffff) / 65536.0;
            part[i] = (solid){cut_ball, {6 + 28 * r[0], 6 + 18 * r[1], 30 * r[2], 3 + 3 * r[3]}};
            if (i >= 6) { /* a bar along x or y from the ball before it */
                const double *b = part[i - 6].a;
                part[i] = r[3] < 0.5
                    ? (solid){cut_box,
                        {fmin(b[0], 20), fmax(b[0], 20), b[1] - 1, b[1] + 1, b[2] - 1, b[2] + 1}}
                    : (solid){cut_box,
                        {19, 21, fmin(b[1], 15), fmax(b[1], 15), b[2] - 1, b[2] + 1}};
            }
        }
        part[5] = (solid){cut_box, {19, 21, 3, 27, -2, 32}};
        for (size_t k = 0; k < 3; k++) {
            const double *b = part[k].a;
            double lip = b[2] - 1.0 + k, top = lip + 1.5;
            mouth[k] = (test_mouth){b[0], b[1], 0.5 * (lip + top), 0.6, lip, top};
        }
        for (size_t vents = 2; vents <= 3; vents++) {
            vug_course *c = fill_course(ctx,
                make_scene(ctx, part, 12, 0, 40, 0, 30, 0.5, mouth, vents));
            const vugi_scene *s = c->scene;
            trapped[vents - 2] = c->summary.capacity_mm3 - c->summary.liquid_mm3;
            if (c->summary.end == VUG_END_FULL && c->summary.liquid_mm3 > 0.0) {
                vugi_flood flood = {.level = NULL};
                vugi_seed seeds[64];
                size_t n = 0;
                for (size_t k = 0; k < vents; k++) {
                    uint32_t *span;
                    size_t count = spans_near(&s->columns, mouth[k].x, mouth[k].y, mouth[k].z, 0.6,
                        &span);
                    for (size_t i = 0; i < count && n < 64; i++)
                        seeds[n++] = (vugi_seed){span[i], mouth[k].top, 0.0};
                    free(span);
                }
                ck_ok(ctx,
                    vugi_flood_run(ctx, &vugi_default_allocator, &s->columns, false, seeds, n,
                        &flood));
                /* Hollows of a few columns are counted to their neighbours: 20 columns each. */
                double least = flooded_trapped(&s->columns, &flood);
                double slack = 0.002 * c->summary.capacity_mm3;
                ck_assert_double_ge(trapped[vents - 2], least - slack);
                equal += trapped[vents - 2] <= least + slack;
                vugi_flood_free(&vugi_default_allocator, &flood);
                compared++;
            }
            vug_course_free(c);
        }
        ck_assert_double_le(trapped[1], trapped[0] * (1.0 + 1e-9) + 1e-6);
    }
    ck_assert_uint_gt(compared, 60);
    ck_assert_uint_gt(10 * equal, 9 * compared);
    vug_context_free(ctx);
}
END_TEST

/* ---- cups ---------------------------------------------------------------------- */

static vug_cavities *ball_with(vug_context *ctx, double z)
{
    const double holes[7] = {0, 0, 22 * z, 0, 0, z, 3};
    vug_cavities *c = NULL;
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    vug_mesh *mesh = shape_hollow_ball(ctx, 20.0, 22.0, 0.0, 200);
    ck_ok(ctx, vug_cavities_find(ctx, mesh, holes, 1, &options, &c));
    vug_mesh_free(mesh);
    return c;
}

/* A ball R = 20 whose bore is printed last is a cup to the end, pi 400 mm2 at its widest; with the bore
 * printed first there is none, and lifting at 1 mm/s draws the section times speed through the bore. */
START_TEST(cups_of_a_ball)
{
    vug_context *ctx = test_context();
    const double up[3] = {0, 0, 1};
    vug_cup_options o;
    vug_cup_info cup = {.struct_size = sizeof cup};
    vug_cups *cups = NULL;
    size_t layers;
    ck_assert_int_eq(vug_cup_options_init(&o, sizeof o), VUG_OK);
    vug_cavities *c = ball_with(ctx, 1.0);
    ck_ok(ctx, vug_cups_find(ctx, c, NULL, up, NULL, 0, &o, &cups));
    ck_assert_uint_eq(vug_cups_count(cups), 1);
    ck_assert_int_eq(vug_cups_get(cups, 0, &cup), VUG_OK);
    ck_close(cup.lo_mm, -20.0, 0.2);
    ck_close(cup.hi_mm, 22.0, 0.2);
    ck_near(cup.area_mm2, PI * 400.0, 0.005);
    ck_near(cup.resin_mm3, 33510.32 + PI * 2.25 * 2.0, 0.005);
    ck_close(cup.point_mm[2], -20.0, 0.2);
    double through;
    vug_fluid resin;
    vug_fluid_init(&resin, sizeof resin);
    resin.density_kg_m3 = 1100.0;
    resin.consistency_pa_sn = 0.2;
    resin.surface_tension_n_m = 0.030;
    const double suction = 2000.0;
    ck_ok(ctx, vug_hole_flow_immersed(ctx, &resin, cup.relief_mm, 2.0, &suction, 1, &through));
    ck_near(through, cup.area_mm2 * 1.0, 1e-3);
    vug_cups_free(cups);
    vug_cavities_free(c);
    c = ball_with(ctx, -1.0);
    ck_ok(ctx, vug_cups_find(ctx, c, NULL, up, NULL, 0, NULL, &cups));
    const double *row = vug_cups_layers(cups, &layers);
    double most = 0.0, pressure, closed = 0.0;
    for (size_t i = 0; i < layers; i++) {
        most = fmax(most, row[4 * i + 3]);
        if (row[4 * i] > -21.9)
            closed = fmax(closed, row[4 * i + 1]);
    }
    ck_assert_double_le(closed, 10.0);
    const double drawn = PI * 400.0;
    ck_ok(ctx, vug_hole_pressure_immersed(ctx, &resin, 3.0, 2.0, &drawn, 1, &pressure));
    ck_near(most, pressure, 0.05);
    vug_cups_free(cups);
    o.layer_mm = NAN;
    ck_assert_int_eq(vug_cups_find(ctx, c, NULL, up, NULL, 0, &o, &cups), VUG_ERR_ARGUMENT);
    o.layer_mm = 1e-9;
    ck_assert_int_eq(vug_cups_find(ctx, c, NULL, up, NULL, 0, &o, &cups), VUG_ERR_LIMIT);
    o.layer_mm = 0.0;
    o.cavity = 3;
    ck_assert_int_eq(vug_cups_find(ctx, c, NULL, up, NULL, 0, &o, &cups), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_cups_find(NULL, c, NULL, up, NULL, 0, NULL, &cups), VUG_ERR_ARGUMENT);
    ck_assert_uint_eq(vug_cups_count(NULL), 0);
    ck_assert_ptr_null(vug_cups_layers(NULL, NULL));
    vug_cups_free(NULL);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static vug_status look_at_all(vug_context *ctx, void *data)
{
    const double up[3] = {0.2, 0.0, 1.0};
    vug_fill_options o;
    vug_cup_options p;
    vug_course *course = NULL;
    vug_moment *moment = NULL;
    vug_mesh *mesh = NULL;
    vug_cups *cups = NULL;
    double level;
    vug_fill_options_init(&o, sizeof o);
    vug_cup_options_init(&p, sizeof p);
    o.columns_across = p.columns_across = 16;
    p.layer_mm = 1.0;
    vug_status status = vug_fill_run(ctx, data, NULL, up, NULL, 0, &o, &course);
    if (!status)
        status = vug_course_at_volume(ctx, course, 20000.0, &moment);
    if (!status)
        status = vug_moment_surface(ctx, moment, &mesh);
    if (!status)
        status = vug_mesh_level(ctx, vug_cavities_mesh(data, 0, NULL), up, 100.0, &level);
    if (!status)
        status = vug_cups_find(ctx, data, NULL, up, NULL, 0, &p, &cups);
    vug_cups_free(cups);
    vug_mesh_free(mesh);
    vug_moment_free(moment);
    vug_course_free(course);
    return status;
}

START_TEST(runs_out_of_memory_cleanly)
{
    vug_context *ctx = test_context();
    vug_cavities *c = ball_with(ctx, 1.0);
    failing_until_success(look_at_all, c);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("fill, more");
    TCase *all = tcase_create("all");
    tcase_add_test(all, cube_on_its_corner);
    tcase_add_test(all, round_meshes);
    tcase_add_test(all, boyle);
    tcase_add_test(all, end_equals_the_flood);
    tcase_add_test(all, cups_of_a_ball);
    tcase_add_test(all, runs_out_of_memory_cleanly);
    suite_add_tcase(suite, all);
    return test_run(suite);
}
