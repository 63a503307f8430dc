/* SPDX-License-Identifier: MIT
 * fill: draining, what stays behind and how long it takes. */
#include "drain/emptying.h"
#include "drain/glug.h"
#include "drain/wall_film.h"

#include "cavity/cavity.h"
#include "cavity/spacing.h"
#include "course/course.h"
#include "gravity/stage.h"

#include "blocks.h"
#include "failing.h"
#include "shapes.h"
#include "spans.h"

static const double PI = 3.14159265358979323846, G = 9.80665; /* m/s2 */

/* Drains through mouths that are all open. The mouths' lengths are those of their bores. */
static vug_course *empty_scene(vug_context *ctx, vugi_scene *scene, const vug_fluid *fluid,
    double length)
{
    vug_course *c = vugi_course_new(ctx, scene);
    for (size_t m = 0; m < scene->mouth_count; m++) {
        c->open[m] = true;
        scene->mouth[m].length = length;
    }
    ck_ok(ctx, vugi_emptying_run(ctx, c, fluid, NULL));
    vugi_scene_free(scene);
    ck_near(c->summary.liquid_mm3 + c->summary.trapped_mm3 + c->summary.empty_mm3,
        c->summary.capacity_mm3, 1e-9);
    return c;
}

/* A liquid without viscosity or tension to speak of: through a hole of no length the discharge
 * coefficient is then 0.611 and Torricelli's law is exact. */
static vug_fluid thin_fluid(void)
{
    vug_fluid f;
    vug_fluid_init(&f, sizeof f);
    f.consistency_pa_sn = 1e-7;
    f.surface_tension_n_m = 0.0;
    return f;
}

static double cd_a(double d) /* discharge coefficient times area, mm2 */
{
    vug_fluid f = thin_fluid();
    double flow, pressure = f.density_kg_m3 * G * 0.05;
    ck_assert_int_eq(vug_hole_flow(NULL, &f, d, 0.0, &pressure, 1, &flow), VUG_OK);
    ck_near(flow / (0.25 * PI * d * d) / 1000.0, 0.611 * sqrt(2.0 * G * 0.05), 0.01);
    return flow / 1000.0 / sqrt(2.0 * G * 0.05);
}

/* Torricelli: t = integral of A dh / (Cd a sqrt(2 g h)); closed forms in any hydraulics handbook.
 * Lengths in mm become m: 1e-3 per sqrt(mm). */
START_TEST(torricelli)
{
    vug_context *ctx = test_context();
    vug_fluid f = thin_fluid();
    const double d = 3.0, h = 0.25, ca = cd_a(d);
    const solid tank[] = {{cut_frustum, {20, 20, 0, 50, 20, 20}}};
    const test_mouth on_tank[] = {{20, 20, 0.01, d / 2, 0, 0}, {20, 20, 50, 5, 50, 50}};
    vug_course *c = empty_scene(ctx, make_scene(ctx, tank, 1, 0, 40, 0, 40, h, on_tank, 2), &f,
        0.0);
    ck_near(c->summary.time_s, PI * 400.0 / ca * sqrt(2.0 * 0.05 / G), 0.005);
    vug_course_free(c);
    const solid cone[] = {{cut_frustum, {20, 20, 0, 50, 0, 20}}};
    const test_mouth on_cone[] = {{20, 20, 0.5, d / 2, 0, 0}, {20, 20, 50, 5, 50, 50}};
    c = empty_scene(ctx, make_scene(ctx, cone, 1, 0, 40, 0, 40, h, on_cone, 2), &f, 0.0);
    ck_near(c->summary.time_s, PI * 400.0 / ca * sqrt(2.0 * 0.05 / G) / 5.0, 0.005);
    vug_course_free(c);
    const solid ball[] = {{cut_ball, {20, 20, 20, 20}}};
    const test_mouth on_ball[] = {{20, 20, 0.5, d / 2, 0, 0}, {20, 20, 39, 3, 40, 40}};
    c = empty_scene(ctx, make_scene(ctx, ball, 1, 0, 40, 0, 40, h, on_ball, 2), &f, 0.0);
    ck_near(c->summary.time_s, 16.0 * PI * pow(0.020, 2.5) / (15.0 * ca * 1e-6 * sqrt(G)), 0.005);
    ck_near(c->summary.time_s, 14.038833 * 0.61 / 0.611, 0.02); /* the number of Cd 0.61 */
    vug_course_free(c);
    /* cylinder R = 20, L = 100 on its side: 4 L (2 R)^1.5 / (3 Cd a sqrt(2 g)) */
    const solid lying[] = {{cut_lying, {0, 100, 20, 20, 20}}};
    const test_mouth on_lying[] = {{50, 20, 0.5, d / 2, 0, 0}, {50, 20, 39, 3, 40, 40}};
    c = empty_scene(ctx, make_scene(ctx, lying, 1, 0, 100, 0, 40, h, on_lying, 2), &f, 0.0);
    ck_near(c->summary.time_s, 4.0 * 0.1 * pow(0.040, 1.5) / (3.0 * ca * 1e-6 * sqrt(2.0 * G)),
        0.005);
    ck_near(c->summary.time_s, 55.858743 * 0.61 / 0.611, 0.02); /* the number of Cd 0.61 */
    vug_course_free(c);
    vug_context_free(ctx);
}
END_TEST

static double time_between(vug_context *ctx, const vug_course *c, double from_mm3, double to_mm3)
{
    double time[2];
    for (int i = 0; i < 2; i++) {
        vug_moment *m = NULL;
        vug_moment_info info = {.struct_size = sizeof info};
        ck_ok(ctx, vug_course_at_volume(ctx, c, i ? to_mm3 : from_mm3, &m));
        ck_assert_int_eq(vug_moment_get(m, &info), VUG_OK);
        ck_near(info.liquid_mm3, i ? to_mm3 : from_mm3, 1e-6);
        time[i] = info.time_s;
        vug_moment_free(m);
    }
    return time[1] - time[0];
}

/* A tank of constant area A on a long thin tube: the head falls as exp(-t / tau), tau = 128 mu L A /
 * (pi D^4 rho g) (Hagen and Poiseuille; any hydraulics handbook). The ends add 3 pi / 8 radii to the
 * length. And a short hole against the flow area's own sum of the same integral. */
START_TEST(hole_in_a_wall)
{
    vug_context *ctx = test_context();
    const solid tank[] = {{cut_frustum, {20, 20, 100, 200, 20, 20}}};
    const test_mouth on_tube[] = {{20, 20, 100.01, 1, 0, 0}, {20, 20, 200, 5, 200, 200}};
    const solid flat[] = {{cut_frustum, {20, 20, 1, 51, 20, 20}}};
    const test_mouth in_wall[] = {{20, 20, 1.01, 1.5, 0, 0}, {20, 20, 51, 5, 51, 51}};
    double expected;
    vug_fluid f;
    vug_fluid_init(&f, sizeof f);
    f.surface_tension_n_m = 0.0;
    f.consistency_pa_sn = 0.2;
    vug_course *c = empty_scene(ctx, make_scene(ctx, tank, 1, 0, 40, 0, 40, 0.5, on_tube, 2), &f,
        100.0);
    double area = c->summary.capacity_mm3 / 100.0;
    double tau = 128.0 * 0.2 * (0.1 + 3.0 * PI / 8.0 * 1e-3) * area * 1e-6
        / (PI * pow(2e-3, 4.0) * f.density_kg_m3 * G);
    ck_near(time_between(ctx, c, area * 80.0, area * 20.0), tau * log(180.0 / 120.0), 0.01);
    vug_course_free(c);
    f.consistency_pa_sn = 1.002e-3;
    c = empty_scene(ctx, make_scene(ctx, flat, 1, 0, 40, 0, 40, 0.5, in_wall, 2), &f, 2.0);
    area = c->summary.capacity_mm3 / 50.0;
    ck_ok(ctx,
        vug_drain_time(ctx, &f, 3.0, 2.0, (double[]){5.0, 50.0}, (double[]){area, area}, 2,
            &expected));
    ck_near(time_between(ctx, c, area * 49.0, area * 4.0), expected, 0.005);
    vug_course_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A closed tank whose air comes in low on its side empties at a steady rate down to there: Mariotte's
 * bottle. */
START_TEST(mariotte)
{
    vug_context *ctx = test_context();
    vug_fluid f = thin_fluid();
    const solid tank[] = {{cut_box, {0, 20, 0, 20, 0, 60}}, {cut_box, {20, 24, 8, 12, 18, 20}}};
    const test_mouth mouth[] = {{10, 10, 0.01, 1.0, 0, 0}, {23.5, 10, 19, 1.0, 18, 20}};
    double flow;
    vug_course *c = empty_scene(ctx, make_scene(ctx, tank, 2, 0, 24, 0, 20, 0.5, mouth, 2), &f,
        0.0);
    ck_ok(ctx, vug_hole_flow(ctx, &f, 2.0, 0.0, &(double){f.density_kg_m3 * G * 0.020}, 1, &flow));
    double full = c->summary.capacity_mm3, part = 400.0 * 15.0;
    double first = time_between(ctx, c, full, full - part);
    ck_near(first, part / flow, 0.02); /* the air's own pressure drop is the rest */
    ck_near(time_between(ctx, c, full - part, full - 2.0 * part), first, 1e-6);
    vug_course_free(c);
    vug_context_free(ctx);
}
END_TEST

/* What stays in three basins with a side lip: up to each sill on the way out. */
START_TEST(residue_behind_sills)
{
    vug_context *ctx = test_context();
    vug_fluid f = thin_fluid();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 60}}, {cut_box, {10, 12, 0, 10, 20, 60}},
        {cut_box, {12, 22, 0, 10, 5, 60}}, {cut_box, {22, 24, 0, 10, 30, 60}},
        {cut_box, {24, 34, 0, 10, 2, 60}}};
    const test_mouth mouth[] = {{5, 5, 0.01, 2, 0, 0}, {5, 5, 60, 3, 60, 60}};
    vug_course *c = empty_scene(ctx, make_scene(ctx, part, 5, 0, 34, 0, 10, 0.5, mouth, 2), &f,
        1.0);
    ck_near(c->summary.liquid_mm3, 100.0 * (20.0 - 5.0) + 100.0 * (30.0 - 2.0), 1e-9);
    ck_assert_uint_eq(c->summary.pools, 2);
    ck_assert_int_eq(c->summary.end, VUG_END_DRAINED);
    ck_assert_uint_eq(vug_course_event_count(c), 5);
    vug_event_info e = {.struct_size = sizeof e};
    vug_course_event(c, 0, &e);
    ck_assert_int_eq(e.kind, VUG_EVENT_LIP);
    ck_assert_int_eq(e.opening, 1);
    vug_course_event(c, 1, &e);
    ck_assert_int_eq(e.kind, VUG_EVENT_LEFT);
    ck_near(e.volume_mm3, 2800.0, 1e-9);
    ck_near(e.level_mm, 30.0, 1e-9);
    vug_course_event(c, 2, &e);
    ck_near(e.volume_mm3, 1500.0, 1e-9);
    vug_course_event(c, 4, &e);
    ck_assert_int_eq(e.kind, VUG_EVENT_EMPTY);
    vug_course_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A vessel with a hole in its floor and one with a hole in its side or roof, that a well joins: over a sill 15 mm high to the one,
 * under a rim 10 mm high to the other. By hand (communicating vessels): nothing of the well runs up to a lip that is higher
 * than its sill; where that is lower, both stand at it. No tension: nothing holds it. */
START_TEST(no_liquid_climbs_to_an_opening)
{
    const double lip[3] = {12.0, 20.0, 30.0};
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 60}}, {cut_box, {10, 12, 0, 10, 15, 60}},
        {cut_box, {12, 22, 0, 10, 5, 60}}, {cut_box, {22, 24, 0, 10, 5, 10}},
        {cut_box, {24, 34, 0, 10, 5, 30}}};
    for (int i = 0; i < 3; i++) {
        const test_mouth mouth[] = {{5, 5, 0.01, 2, 0, 0}, {5, 5, 60, 3, 60, 60},
            {33, 5, i < 2 ? 5.01 : 30.0, 1.5, lip[i], lip[i] + (i < 2 ? 3.0 : 0.0)}};
        vug_context *ctx = test_context();
        vug_fluid f = thin_fluid();
        vug_course *c = empty_scene(ctx, make_scene(ctx, part, 5, 0, 34, 0, 10, 0.5, mouth, 3), &f,
            1.0);
        ck_near(c->summary.liquid_mm3, 200.0 * (fmin(lip[i], 15.0) - 5.0) + 100.0, 1e-3);
        ck_assert_int_eq(c->summary.held, 0);
        ck_assert_double_gt(c->summary.time_s, 0.0);
        vug_course_free(c);
        vug_context_free(ctx);
    }
}
END_TEST

/* A lone hole below the exchange diameter (4.99 mm for water that wets, Bretherton 1961) holds its
 * liquid; a wide one glugs; nothing runs out of a closed vessel. */
START_TEST(lone_holes)
{
    vug_context *ctx = test_context();
    vug_fluid water;
    vug_fluid_init(&water, sizeof water);
    const solid part[] = {{cut_box, {0, 20, 0, 20, 0, 20}}};
    const test_mouth narrow[] = {{10, 10, 0.01, 1.5, 0, 0}}, wide[] = {{10, 10, 0.01, 8.0, 0, 0}};
    vug_course *c = empty_scene(ctx, make_scene(ctx, part, 1, 0, 20, 0, 20, 0.5, narrow, 1), &water,
        2.0);
    ck_assert_int_eq(c->summary.held, 1);
    ck_assert_double_eq(c->summary.time_s, -1.0);
    ck_close(c->summary.liquid_mm3, 0.0, 1e-6);
    vug_course_free(c);
    c = empty_scene(ctx, make_scene(ctx, part, 1, 0, 20, 0, 20, 0.5, wide, 1), &water, 2.0);
    ck_assert_int_eq(c->summary.held, 0);
    ck_near(c->summary.time_s, c->summary.capacity_mm3 / vugi_glug(&water, 16.0), 1e-6);
    vug_course_free(c);
    c = empty_scene(ctx, make_scene(ctx, part, 1, 0, 20, 0, 20, 0.5, NULL, 0), &water, 2.0);
    ck_assert_int_eq(c->summary.end, VUG_END_BLOCKED);
    ck_near(c->summary.liquid_mm3, 8000.0, 1e-9);
    vug_course_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Jeffreys 1930 (from memory): sqrt(mu z / (rho g t)); mu 0.2, z 40 mm, 600 s, 1100 kg/m3 gives 0.0352
 * mm at the lower end and 2/3 of it on average. A yield stress holds ty / (rho g): 10 Pa of 1200 kg/m3
 * 0.850 mm. */
START_TEST(film)
{
    vug_fluid f;
    vug_fluid_init(&f, sizeof f);
    f.consistency_pa_sn = 0.2;
    f.density_kg_m3 = 1100.0;
    ck_near(vugi_film(&f, 40.0, 600.0), 0.0352 * 2.0 / 3.0, 0.005);
    f.density_kg_m3 = 1200.0;
    f.yield_stress_pa = 10.0;
    ck_near(vugi_film(&f, 40.0, 600.0), 0.850, 0.001);
}
END_TEST

/* ---- the public call -------------------------------------------------------------- */

static vug_cavities *ball(vug_context *ctx, const double *holes, size_t count)
{
    vug_cavities *c = NULL;
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    vug_mesh *mesh = shape_hollow_ball(ctx, 20.0, 22.0, 0.0, 200);
    ck_ok(ctx, vug_cavities_find(ctx, mesh, holes, count, &options, &c));
    vug_mesh_free(mesh);
    return c;
}

/* A hollow box with two bores in its flat floor: the heights that sections draw hold the liquid of
 * each moment of the drain. */
START_TEST(sections_hold_the_liquid)
{
    vug_context *ctx = test_context();
    const double outer[2][3] = {{-17, -12, -2}, {17, 12, 22}},
                 inner[2][3] = {{-15, -10, 0}, {15, 10, 20}};
    const double holes[2][7] = {{-8.5, -1.5, -2, 0, 0, -1, 3}, {8.5, 2, -2, 0, 0, -1, 3}};
    const double up[3] = {0.0, 0.0, 1.0}, toward[3] = {0.0, -1.0, 0.0};
    shape box = {0};
    vug_cavities *c = NULL;
    vug_course *course = NULL;
    vug_course_info sum = {.struct_size = sizeof sum};
    vug_drain_options o;
    ck_assert_int_eq(vug_drain_options_init(&o, sizeof o), VUG_OK);
    o.columns_across = 60;
    shape_box(&box, outer[0], outer[1], 0);
    shape_box(&box, inner[0], inner[1], 1);
    vug_mesh *mesh = shape_mesh(ctx, &box);
    ck_ok(ctx, vug_cavities_find(ctx, mesh, holes[0], 2, NULL, &c));
    ck_ok(ctx, vug_drain_run(ctx, c, NULL, up, NULL, 0, &o, &course));
    ck_assert_int_eq(vug_course_get(course, &sum), VUG_OK);
    for (int i = 1; i <= 10; i += 3) {
        vug_moment *moment = NULL;
        double volume = 0.0;
        ck_ok(ctx, vug_course_at_volume(ctx, course, 0.1 * i * sum.capacity_mm3, &moment));
        for (double y = -12.0; y < 12.0; y += sum.spacing_mm) {
            double *rows = NULL, point[3] = {0.0, y, 0.0};
            size_t count = 0;
            ck_ok(ctx, vug_moment_section(ctx, moment, point, toward, &rows, &count));
            for (size_t k = 0; k < count; k++)
                volume += (rows[4 * k + 2] - rows[4 * k + 1]) * sum.spacing_mm * sum.spacing_mm;
            vug_free(ctx, rows);
        }
        ck_near(volume, 0.1 * i * sum.capacity_mm3, 0.02);
        vug_moment_free(moment);
    }
    vug_course_free(course);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* The rim on the equator upside down: the cap below its lowest point stays, pi h^2 (3R - h) / 3 with h =
 * 18.5: 14873.739519, in a ball with two bores, one on top. */
START_TEST(public_ball)
{
    vug_context *ctx = test_context();
    const double holes[14] = {22, 0, 0, 1, 0, 0, 3, 0, 0, 22, 0, 0, 1, 3}, up[3] = {0, 0, 1};
    vug_cavities *c = ball(ctx, holes, 2);
    vug_course *course = NULL;
    vug_course_info s = {.struct_size = sizeof s};
    vug_drain_options o;
    ck_assert_int_eq(vug_drain_options_init(&o, sizeof o), VUG_OK);
    ck_ok(ctx, vug_drain_run(ctx, c, NULL, up, NULL, 0, &o, &course));
    ck_assert_int_eq(vug_course_get(course, &s), VUG_OK);
    ck_near(s.liquid_mm3, 14873.739519, 0.005);
    ck_assert_uint_eq(s.pools, 1);
    ck_assert_double_gt(s.time_s, 1.0);
    ck_assert_double_lt(s.time_s, 120.0);
    ck_assert_double_gt(s.film_mm, 0.0);
    ck_assert_double_gt(s.film_mm3, 0.0);
    vug_course_free(course);
    const int32_t sealed[2] = {VUG_ROLE_SEALED, VUG_ROLE_SEALED};
    ck_ok(ctx, vug_drain_run(ctx, c, NULL, up, sealed, 2, NULL, &course));
    vug_course_get(course, &s);
    ck_assert_int_eq(s.end, VUG_END_BLOCKED);
    ck_near(s.liquid_mm3, s.capacity_mm3, 1e-12);
    vug_course_free(course);
    vug_fluid bad;
    vug_fluid_init(&bad, sizeof bad);
    bad.consistency_pa_sn = NAN;
    ck_assert_int_eq(vug_drain_run(ctx, c, &bad, up, NULL, 0, &o, &course), VUG_ERR_DOMAIN);
    o.drip_s = -1.0;
    ck_assert_int_eq(vug_drain_run(ctx, c, NULL, up, NULL, 0, &o, &course), VUG_ERR_ARGUMENT);
    o.drip_s = 0.0;
    o.cavity = 5;
    ck_assert_int_eq(vug_drain_run(ctx, c, NULL, up, NULL, 0, &o, &course), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_drain_run(NULL, c, NULL, up, NULL, 0, NULL, &course), VUG_ERR_ARGUMENT);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* By hand: out of a hole in the flat top nothing runs, however wide it is. Nothing hangs in it, and no air that came in would
 * change that. */
START_TEST(nothing_runs_up)
{
    vug_context *ctx = test_context();
    const double outer[2][3] = {{-17, -12, -2}, {17, 12, 22}},
                 inner[2][3] = {{-15, -10, 0}, {15, 10, 20}};
    const double hole[7] = {8.5, 2, 22, 0, 0, 1, 3}, up[3] = {0, 0, 1};
    shape box = {0};
    vug_course *course = NULL;
    vug_course_info s = {.struct_size = sizeof s};
    shape_box(&box, outer[0], outer[1], 0);
    shape_box(&box, inner[0], inner[1], 1);
    vug_cavities *c = cavities_by_hole(ctx, shape_mesh(ctx, &box), hole);
    ck_ok(ctx, vug_drain_run(ctx, c, NULL, up, NULL, 0, NULL, &course));
    ck_assert_int_eq(vug_course_get(course, &s), VUG_OK);
    ck_assert_int_eq(s.end, VUG_END_BLOCKED);
    ck_assert_int_eq(s.held, 0);
    ck_assert(s.time_s == 0.0);
    ck_near(s.liquid_mm3, s.capacity_mm3, 1e-6);
    vug_course_free(course);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A lone hole of 3 mm below lets no air in: 2 x 0.918 capillary lengths of water are 4.99 mm (Bretherton
 * 1961). The course says that nothing leaves by itself, without a time that is no number. */
START_TEST(held_for_ever)
{
    vug_context *ctx = test_context();
    const double holes[7] = {22, 0, 0, 1, 0, 0, 3}, up[3] = {-1, 0, 0};
    vug_cavities *c = ball(ctx, holes, 1);
    vug_course *course = NULL;
    vug_course_info s = {.struct_size = sizeof s};
    double *rows = NULL;
    size_t count = 0;
    ck_ok(ctx, vug_drain_run(ctx, c, NULL, up, NULL, 0, NULL, &course));
    ck_assert_int_eq(vug_course_get(course, &s), VUG_OK);
    ck_assert_int_eq(s.held, 1);
    ck_ok(ctx, vug_course_curve(ctx, course, &rows, &count));
    ck_assert_uint_gt(count, 1);
    ck_assert(rows[0] == 0.0);
    for (size_t i = 1; i < count; i++)
        ck_assert(rows[3 * i] == -1.0);
    vug_free(ctx, rows);
    for (int i = 0; i <= 4; i++) {
        vug_moment *moment = NULL;
        vug_moment_info info = {.struct_size = sizeof info};
        ck_ok(ctx, vug_course_at_volume(ctx, course, 0.25 * i * s.capacity_mm3, &moment));
        ck_assert_int_eq(vug_moment_get(moment, &info), VUG_OK);
        ck_assert(info.time_s == (i == 4 ? 0.0 : -1.0));
        vug_moment_free(moment);
    }
    vug_course_free(course);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* What is left in the scene of a pose, without times, and how many doors it has. */
static double left_in(vug_context *ctx, const vug_cavities *c, const double up[3], bool doors,
    size_t *count)
{
    vugi_stage stage = {.cavities = c, .doors = doors, .sills = VUGI_SILLS_LIQUID};
    vugi_scene *scene = NULL;
    ck_ok(ctx, vugi_read_up(ctx, up, stage.up));
    ck_ok(ctx, vugi_read_spacing(ctx, c, 0, 1, 240, VUGI_ACROSS, 0.0, &stage.spacing));
    ck_ok(ctx, vugi_stage_scene(ctx, &ctx->mem, &stage, &scene));
    *count = scene->door_count;
    vug_course *course = vugi_course_new(ctx, scene);
    for (size_t m = 0; m < scene->mouth_count; m++)
        course->open[m] = true;
    vugi_scene_free(scene);
    ck_ok(ctx, vugi_emptying_run(ctx, course, NULL, NULL));
    double left = course->summary.liquid_mm3 / course->summary.capacity_mm3;
    vug_course_free(course);
    return left;
}

/* Three chambers in a row, slots between them at the floor and half way up; a hole in the first one's floor and one in the roof
 * of the first and of the last. */
static vug_cavities *row(vug_context *ctx)
{
    static blocks b;
    vug_cavities *c = NULL;
    vug_cavity_options options;
    const double holes[] = {8, 8, 0, 0, 0, -1, 4, 8, 8, 30, 0, 0, 1, 4, 72, 8, 30, 0, 0, 1, 4};
    vug_cavity_options_init(&options, sizeof options);
    options.cells_across = 80;
    memset(&b, 0, sizeof b);
    dig(&b, 1, 7, 1, 7, 1, 14);
    dig(&b, 7, 16, 1, 7, 1, 3);
    dig(&b, 16, 23, 1, 7, 1, 14);
    dig(&b, 23, 32, 1, 7, 6, 8);
    dig(&b, 32, 39, 1, 7, 1, 14);
    vug_mesh *part = part_of(ctx, &b, 2.0);
    ck_ok(ctx, vug_cavities_find(ctx, part, holes, 3, &options, &c));
    vug_mesh_free(part);
    return c;
}

/* Communicating vessels: once all has come to rest it does not matter how long the way between two chambers held it back, so
 * that what stays behind is the same whether the graph is parted at doors or not. The row turned about itself, and leant a
 * little. */
START_TEST(doors_keep_nothing)
{
    vug_context *ctx = test_context();
    vug_cavities *c = row(ctx);
    size_t parted = 0, none;
    for (int i = 0; i < 40; i++) {
        size_t doors;
        double turn = 2.0 * PI * i / 40.0;
        const double up[3] = {0.3 * sin(2.4 * i), sin(turn), cos(turn)};
        double with = left_in(ctx, c, up, true, &doors),
               without = left_in(ctx, c, up, false, &none);
        ck_assert_msg(fabs(with - without) <= 5e-4, "pose %d: %g, without doors %g", i, with,
            without);
        parted += doors > 0;
    }
    ck_assert_uint_gt(parted, 5);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* What was let in without hurry, where no door parts the graph, is all there when it is drained in the same pose, where doors
 * do: no more comes out than went in, and it is told to be as much. */
START_TEST(drained_where_it_was_filled)
{
    vug_context *ctx = test_context();
    vug_cavities *c = row(ctx);
    const int32_t shut[3] = {VUG_ROLE_SEALED, VUG_ROLE_OPEN, VUG_ROLE_OPEN};
    for (int i = 0; i < 6; i++) {
        const double up[3] = {0.06 * (i - 3), 0.0, 1.0};
        vug_course *filled = NULL, *drained = NULL;
        vug_moment *inside = NULL;
        vug_course_info in = {.struct_size = sizeof in}, out = {.struct_size = sizeof out};
        vug_fill_options fill;
        vug_drain_options drain;
        vug_fill_options_init(&fill, sizeof fill);
        vug_drain_options_init(&drain, sizeof drain);
        fill.rigid_air = 1;
        fill.volume_mm3 = 4000.0;
        fill.columns_across = drain.columns_across = 240;
        ck_ok(ctx, vug_fill_run(ctx, c, NULL, up, shut, 3, &fill, &filled));
        ck_ok(ctx, vug_course_at_time(ctx, filled, INFINITY, &inside));
        drain.begin = inside;
        ck_ok(ctx, vug_drain_run(ctx, c, NULL, up, NULL, 0, &drain, &drained));
        vug_course_get(filled, &in);
        vug_course_get(drained, &out);
        ck_close(in.liquid_mm3, 4000.0, 1e-6);
        ck_close(out.start_mm3, 4000.0, 0.02 * 4000.0); /* pieces of columns across a sill */
        ck_assert(out.liquid_mm3 <= out.start_mm3);
        vug_moment_free(inside);
        vug_course_free(filled);
        vug_course_free(drained);
    }
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static vug_status drain_it(vug_context *ctx, void *data)
{
    const double up[3] = {0.3, 0.0, 1.0};
    vug_drain_options o;
    vug_course *course = NULL;
    vug_drain_options_init(&o, sizeof o);
    o.columns_across = 20;
    vug_status status = vug_drain_run(ctx, data, NULL, up, NULL, 0, &o, &course);
    vug_course_free(course);
    return status;
}

/* A bore of 1 mm straight through the wall of a ball, 20 and 22 mm, that leads down by 60 degrees: its rim's top is
 * 22 sin 60 - 0.5 cos 60 mm below the middle (less what the ball curves over it, 6 micrometres), its inner end 1.7 mm
 * higher. By hand the air leaves while liquid stands below that, pi h^2 (3 R - h) / 3 of the ball and next to nothing of the
 * bore, less than its pi / 4 x 2 mm3: at every spacing, whatever the bore is to the columns. Liquid that stands above
 * it, the part turned over, stays but for as much. */
static const double down[3] = {-0.86602540378443865, 0.0, 0.5};

START_TEST(bore_that_leads_steeply_down)
{
    vug_context *ctx = test_context();
    const double holes[7] = {22, 0, 0, 1, 0, 0, 1}, upside_down[3] = {-down[0], 0.0, -down[2]};
    const double h = 20.0 - (22.0 * 0.86602540378443865 - 0.25), pi = 3.14159265358979324;
    const double cap = pi * h * h * (60.0 - h) / 3.0, slack = 0.5 * pi;
    const uint32_t columns[4] = {40, 100, 160, 280};
    vug_cavities *c = ball(ctx, holes, 1);
    for (int i = 0; i < 4; i++) {
        vug_course *filled = NULL, *drained = NULL;
        vug_course_info in = {.struct_size = sizeof in}, out = {.struct_size = sizeof out};
        vug_fill_options fill;
        vug_drain_options drain;
        vug_fill_options_init(&fill, sizeof fill);
        vug_drain_options_init(&drain, sizeof drain);
        fill.rigid_air = 1;
        fill.columns_across = drain.columns_across = columns[i];
        ck_ok(ctx, vug_fill_run(ctx, c, NULL, down, NULL, 0, &fill, &filled));
        ck_ok(ctx, vug_drain_run(ctx, c, NULL, upside_down, NULL, 0, &drain, &drained));
        vug_course_get(filled, &in);
        vug_course_get(drained, &out);
        ck_close(in.liquid_mm3, cap + 0.5 * slack, slack + 0.01 * cap);
        ck_close(out.capacity_mm3 - out.liquid_mm3, cap + 0.5 * slack, slack + 0.01 * cap);
        vug_course_free(filled);
        vug_course_free(drained);
    }
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static vug_status fill_down_and_drain(vug_context *ctx, void *data)
{
    const double upside_down[3] = {-down[0], 0.0, -down[2]};
    vug_fill_options fill;
    vug_drain_options drain;
    vug_course *course = NULL;
    vug_fill_options_init(&fill, sizeof fill);
    vug_drain_options_init(&drain, sizeof drain);
    fill.columns_across = drain.columns_across = 20;
    vug_status status = vug_fill_run(ctx, data, NULL, down, NULL, 0, &fill, &course);
    vug_course_free(course);
    course = NULL;
    if (!status)
        status = vug_drain_run(ctx, data, NULL, upside_down, NULL, 0, &drain, &course);
    vug_course_free(course);
    return status;
}

START_TEST(runs_out_of_memory_cleanly)
{
    vug_context *ctx = test_context();
    const double holes[14] = {22, 0, 0, 1, 0, 0, 3, 0, 0, 22, 0, 0, 1, 3};
    vug_cavities *c = ball(ctx, holes, 2);
    failing_until_success(drain_it, c);
    vug_cavities_free(c);
    c = ball(ctx, (const double[7]){22, 0, 0, 1, 0, 0, 1}, 1);
    failing_until_success(fill_down_and_drain, c);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("drain");
    TCase *scene = tcase_create("scene");
    tcase_add_test(scene, torricelli);
    tcase_add_test(scene, hole_in_a_wall);
    tcase_add_test(scene, mariotte);
    tcase_add_test(scene, residue_behind_sills);
    tcase_add_test(scene, no_liquid_climbs_to_an_opening);
    tcase_add_test(scene, lone_holes);
    tcase_add_test(scene, film);
    suite_add_tcase(suite, scene);
    TCase *public = tcase_create("public");
    tcase_add_test(public, public_ball);
    tcase_add_test(public, held_for_ever);
    tcase_add_test(public, nothing_runs_up);
    if (!test_quick())
        tcase_add_test(public, doors_keep_nothing);
    tcase_add_test(public, drained_where_it_was_filled);
    tcase_add_test(public, sections_hold_the_liquid);
    tcase_add_test(public, bore_that_leads_steeply_down);
    tcase_add_test(public, runs_out_of_memory_cleanly);
    suite_add_tcase(suite, public);
    return test_run(suite);
}
