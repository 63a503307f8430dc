/* SPDX-License-Identifier: MIT
 * light: curing, walls, paint films, relief, coats. */
#include "test.h"

#include <fenv.h>

START_TEST(working_curve)
{
    /* Jacobs 1992, Cd = Dp ln(E/Ec): Dp 0.150 mm, Ec 8: E 20, 30, 60 cure 0.137444, 0.198263,
     * 0.302235 mm; 0.200 mm takes 30.3493 mJ/cm2; twice the dose adds Dp ln 2 = 0.103972 mm. */
    const double dose[4] = {20.0, 30.0, 60.0, 7.0}, want[3] = {0.137444, 0.198263, 0.302235};
    double depth[4], one, back, penetration, critical;
    ck_ok(NULL, vug_cure_depth(NULL, 0.150, 8.0, dose, 4, depth));
    for (int i = 0; i < 3; i++)
        ck_near(depth[i], want[i], 5e-6);
    ck_assert(depth[3] == 0.0);
    ck_near(depth[2] - depth[1], 0.103972, 5e-6);
    ck_ok(NULL, vug_cure_dose(NULL, 0.150, 8.0, &(double){0.200}, 1, &one));
    ck_near(one, 30.3493, 1e-5);
    ck_ok(NULL, vug_cure_depth(NULL, 0.150, 8.0, &one, 1, &back));
    ck_near(back, 0.200, 1e-12);
    ck_ok(NULL, vug_cure_fit(NULL, dose, depth, 3, &penetration, &critical));
    ck_near(penetration, 0.150, 1e-9);
    ck_near(critical, 8.0, 1e-9);
    const double falling[2] = {0.3, 0.2};
    ck_assert_int_eq(vug_cure_fit(NULL, dose, falling, 2, &penetration, &critical), VUG_ERR_DOMAIN);
    ck_assert_int_eq(vug_cure_fit(NULL, dose, falling, 1, &penetration, &critical),
        VUG_ERR_ARGUMENT);
    /* three points that lie on no curve: slope and intercept of a regression worked by hand,
     * ln(dose) 0, 1, 2 and depths 0.1, 0.3, 0.35: 0.125 and 0.125 */
    const double e[3] = {1.0, 2.718281828459045, 7.38905609893065}, d[3] = {0.1, 0.3, 0.35};
    ck_ok(NULL, vug_cure_fit(NULL, e, d, 3, &penetration, &critical));
    ck_near(penetration, 0.125, 1e-12);
    ck_near(critical, exp(-0.125 / 0.125), 1e-12);
}
END_TEST

START_TEST(light_reaches_the_inside)
{
    /* Beer-Lambert: 1 mm at Dp 0.15 lets 1.273e-3 through, 2 mm 1.62e-6. View factor of a disc
     * from a spot on its axis, r^2/(r^2 + h^2) (Siegel and Howell, catalogue of configuration
     * factors). */
    vug_cure_inside inside;
    double wall, opening, time;
    ck_assert_int_eq(vug_cure_inside_init(&inside, sizeof inside), VUG_OK);
    inside.penetration_mm = 0.15;
    inside.wall_mm = 1.0;
    ck_ok(NULL, vug_cure_through(NULL, &inside, &wall, &opening, &time));
    ck_near(wall, 1.273e-3, 1e-3);
    ck_assert(opening == 0.0);
    ck_near(time, 1000.0 / (10.0 * wall), 1e-9);
    inside.wall_mm = 2.0;
    inside.opening_mm = 6.0;
    inside.distance_mm = 4.0;
    ck_ok(NULL, vug_cure_through(NULL, &inside, &wall, &opening, &time));
    ck_near(wall, 1.62e-6, 1e-3);
    ck_near(opening, 9.0 / 25.0, 1e-12);
    inside.opening_mm = 0.0;
    inside.wall_mm = 1000.0;
    ck_assert_int_eq(vug_cure_through(NULL, &inside, NULL, NULL, &time), VUG_ERR_DOMAIN);
    ck_ok(NULL, vug_cure_through(NULL, &inside, &wall, NULL, NULL));
    ck_assert_int_eq(vug_cure_through(NULL, &inside, NULL, NULL, NULL), VUG_ERR_ARGUMENT);
}
END_TEST

START_TEST(walls_dim)
{
    /* Beer-Lambert; Fresnel at normal incidence: n 1.5 reflects 4 % a face (textbook). */
    const double thickness[3] = {0.0, 1.0, 3.0};
    double share[3];
    ck_ok(NULL, vug_wall_transmission(NULL, 0.5, 1.0, thickness, 3, share));
    ck_near(share[0], 1.0, 1e-12);
    ck_near(share[2], exp(-1.5), 1e-12);
    ck_ok(NULL, vug_wall_transmission(NULL, 0.5, 1.5, &(double){0.0}, 1, &share[0]));
    ck_near(share[0], 0.96 * 0.96, 1e-12);
}
END_TEST

START_TEST(films_hide)
{
    /* Kubelka-Munk without absorption: R = ((1-Rg) SX + Rg)/((1-Rg) SX + 1); contrast ratio over
     * 0 and 0.8 (ISO 6504-1): SX 1, 5, 10, 20: 0.600, 0.925926, 0.974026, 0.992063; 0.98 at SX
     * 11.721463. With K/S 0.01: 0.98 at 8.167600, R infinity 0.868226 (hyperbolic form,
     * evaluated by scipy). */
    const double sx[4] = {1.0, 5.0, 10.0, 20.0}, want[4] = {0.600, 0.925926, 0.974026, 0.992063};
    double ratio[4], x, r, t;
    ck_ok(NULL, vug_film_contrast(NULL, 0.0, 1.0, sx, 4, ratio));
    for (int i = 0; i < 4; i++)
        ck_near(ratio[i], want[i], 1e-6);
    ck_ok(NULL, vug_film_hiding(NULL, 0.0, 100.0, 0.98, &x));
    ck_near(x, 0.11721463, 1e-7);
    ck_ok(NULL, vug_film_hiding(NULL, 1.0, 100.0, 0.98, &x));
    ck_near(x, 0.08167600, 1e-7);
    ck_ok(NULL, vug_film_reflectance(NULL, 1.0, 100.0, 0.3, &(double){1e6}, 1, &r));
    ck_near(r, 0.868226, 1e-6);
    ck_ok(NULL,
        vug_film_reflectance(NULL, 2.0, 0.0, 0.8, &(double){0.25}, 1,
            &r)); /* twice through a filter */
    ck_near(r, 0.8 * exp(-1.0), 1e-12);
    ck_ok(NULL, vug_film_transmittance(NULL, 2.0, 0.0, &(double){0.25}, 1, &t));
    ck_near(t, exp(-0.5), 1e-12);
    ck_ok(NULL, vug_film_transmittance(NULL, 0.0, 4.0, &(double){0.5}, 1, &t)); /* 1/(1 + SX) */
    ck_near(t, 1.0 / 3.0, 1e-12);
    ck_ok(NULL, vug_film_blocking(NULL, 10.0, 0.0, 0.001, &x));
    ck_near(x, log(1000.0) / 10.0, 1e-9);
    ck_assert_int_eq(vug_film_contrast(NULL, 1.0, 0.0, &(double){1.0}, 1, &r), VUG_ERR_DOMAIN);
    ck_assert_int_eq(vug_film_blocking(NULL, 0.0, 0.0, 0.5, &x), VUG_ERR_DOMAIN);
}
END_TEST

START_TEST(films_hide_more_when_thicker)
{
    for (int i = 0; i < 49; i++) {
        double k = pow(10.0, i % 7 - 3.0), s = pow(10.0, i / 7 - 3.0);
        double last = -1.0, last_t = 2.0, x = 1e-3;
        for (int j = 0; j < 20; j++, x *= 2.0) {
            double ratio, r, t;
            ck_ok(NULL, vug_film_contrast(NULL, k, s, &x, 1, &ratio));
            ck_ok(NULL, vug_film_transmittance(NULL, k, s, &x, 1, &t));
            ck_ok(NULL, vug_film_reflectance(NULL, k, s, 0.5, &x, 1, &r));
            ck_assert(ratio >= last - 1e-12 && ratio <= 1.0 + 1e-12);
            ck_assert(t <= last_t && t >= 0.0 && r >= 0.0 && r <= 1.0);
            last = ratio;
            last_t = t;
        }
    }
}
END_TEST

START_TEST(relief_reads_through_a_thin_skin)
{
    vug_relief relief;
    const double skin[4] = {0.25, 0.5, 1.0, 2.0};
    double contrast[4], limit, at, wide, high;
    ck_assert_int_eq(vug_relief_init(&relief, sizeof relief), VUG_OK);
    ck_ok(NULL, vug_relief_contrast(NULL, &relief, skin, 4, contrast));
    for (int i = 1; i < 4; i++)
        ck_assert(contrast[i] < contrast[i - 1]);
    ck_ok(NULL, vug_relief_skin(NULL, &relief, &limit));
    ck_ok(NULL, vug_relief_contrast(NULL, &relief, &limit, 1, &at));
    ck_near(at, 0.02, 1e-6);
    relief.width_mm = 4.0;
    ck_ok(NULL, vug_relief_skin(NULL, &relief, &wide));
    ck_assert(wide > limit);
    relief.width_mm = 2.0;
    relief.height_mm = 0.8;
    ck_ok(NULL, vug_relief_skin(NULL, &relief, &high));
    ck_assert(high > limit);
    /* A wave much wider than the skin is not blurred: the reflectances of two step wedges alone */
    relief.width_mm = 1000.0;
    relief.height_mm = 0.5;
    double thick, thin;
    ck_ok(NULL, vug_relief_contrast(NULL, &relief, &(double){1.0}, 1, &at));
    ck_ok(NULL, vug_film_reflectance(NULL, 0.02, 0.5, 0.05, &(double){1.25}, 1, &thick));
    ck_ok(NULL, vug_film_reflectance(NULL, 0.02, 0.5, 0.05, &(double){0.75}, 1, &thin));
    ck_near(at, (thick - thin) / (thick + thin), 1e-4);
    relief.height_mm = 0.001;
    relief.width_mm = 0.01;
    relief.scattering_per_mm = 0.01;
    ck_assert_int_eq(vug_relief_skin(NULL, &relief, &limit), VUG_ERR_NOT_FOUND);
}
END_TEST

START_TEST(coats_and_fillings)
{
    /* Spreading rate 20 m2/L is 50 um wet (ISO 6504-3). 10000 mm2 at 25 um dry and half solids. */
    vug_coat coat = {.struct_size = sizeof coat};
    double film;
    ck_ok(NULL, vug_coat_plan(NULL, 10000.0, 60000.0, 0.025, 0.5, 0.03, &coat));
    ck_near(coat.wet_mm, 0.050, 1e-12);
    ck_assert_int_eq(coat.coats, 2);
    ck_near(coat.coat_paint_mm3, 500.0, 1e-12);
    ck_near(coat.saved_mm3, 59500.0, 1e-12);
    /* Jeffreys 1930, sqrt(mu z / (rho g t)): mu 0.2, z 40 mm, 600 s, rho 1100: 0.0352 mm; a yield
     * stress of 10 Pa holds 0.850 mm of rho 1200 on a standing wall. */
    vug_fluid fluid;
    ck_assert_int_eq(vug_fluid_init(&fluid, sizeof fluid), VUG_OK);
    fluid.consistency_pa_sn = 0.2;
    fluid.density_kg_m3 = 1100.0;
    ck_ok(NULL, vug_film_hang(NULL, &fluid, 90.0, 40.0, 600.0, &film));
    ck_near(film, 0.0352, 2e-3);
    fluid.density_kg_m3 = 1200.0;
    fluid.yield_stress_pa = 10.0;
    ck_ok(NULL, vug_film_hang(NULL, &fluid, 90.0, 40.0, 600.0, &film));
    ck_near(film, 0.850, 1e-3);
}
END_TEST

START_TEST(bad_numbers_are_refused)
{
    const double bad[] = {NAN, INFINITY, -INFINITY, -1.0, 1e300};
    for (size_t i = 0; i < 5; i++) {
        double out = -7.0, b = bad[i];
        ck_assert_int_eq(vug_cure_depth(NULL, 0.1, 8.0, &b, 1, &out), VUG_ERR_DOMAIN);
        ck_assert_int_eq(vug_cure_depth(NULL, b, 8.0, &(double){9.0}, 1, &out), VUG_ERR_DOMAIN);
        ck_assert_int_eq(vug_cure_dose(NULL, 0.1, 8.0, &b, 1, &out), VUG_ERR_DOMAIN);
        ck_assert_int_eq(vug_wall_transmission(NULL, b, 1.5, &(double){1.0}, 1, &out),
            VUG_ERR_DOMAIN);
        ck_assert_int_eq(vug_wall_transmission(NULL, 1.0, 1.5, &b, 1, &out), VUG_ERR_DOMAIN);
        ck_assert_int_eq(vug_film_reflectance(NULL, 1.0, b, 0.5, &(double){1.0}, 1, &out),
            VUG_ERR_DOMAIN);
        ck_assert_int_eq(vug_film_contrast(NULL, 1.0, 1.0, &b, 1, &out), VUG_ERR_DOMAIN);
        ck_assert_int_eq(vug_film_hiding(NULL, 1.0, 1.0, b, &out), VUG_ERR_DOMAIN);
        ck_assert_int_eq(vug_film_blocking(NULL, b, 1.0, 0.5, &out), VUG_ERR_DOMAIN);
        ck_assert_int_eq(vug_relief_contrast(NULL, NULL, &b, 1, &out), VUG_ERR_DOMAIN);
        ck_assert_int_eq(vug_film_hang(NULL, NULL, b, 1.0, 1.0, &out), VUG_ERR_DOMAIN);
        vug_coat coat = {.struct_size = sizeof coat};
        ck_assert_int_eq(vug_coat_plan(NULL, b, 1.0, 1.0, 0.5, 0.1, &coat), VUG_ERR_DOMAIN);
        ck_assert(out == -7.0);
    }
    ck_assert_int_eq(vug_film_hiding(NULL, 1.0, 1.0, 0.98, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_relief_skin(NULL, NULL, NULL), VUG_ERR_ARGUMENT);
}
END_TEST

static uint64_t seed = 0x853c49e6748fea9bu;

static double between(double lo, double hi) /* evenly in the logarithm; a fixed seed */
{
    seed ^= seed << 13;
    seed ^= seed >> 7;
    seed ^= seed << 17;
    return lo * pow(hi / lo, (double)(seed >> 11) / 9007199254740992.0);
}

START_TEST(extremes_stay_finite)
{
    for (int i = 0; i < 1000; i++) {
        double k = i % 7 ? between(1e-9, 1e6) : 0.0, s = between(1e-9, 1e6), out = 0.0;
        double x = between(1e-9, 1e6);
        ck_ok(NULL,
            vug_film_reflectance(NULL, k, i % 5 ? s : 0.0, between(1e-6, 1.0), &x, 1, &out));
        ck_assert(out >= 0.0 && out <= 1.0 + 1e-12);
        ck_ok(NULL, vug_film_transmittance(NULL, k, s, &x, 1, &out));
        ck_assert(out >= 0.0 && out <= 1.0 + 1e-12);
        ck_ok(NULL, vug_film_contrast(NULL, k, s, &x, 1, &out));
        ck_assert(out >= 0.0 && out <= 1.0 + 1e-12);
        double ratio = between(1e-3, 0.99), back;
        ck_ok(NULL, vug_film_hiding(NULL, k, s, ratio, &out));
        ck_ok(NULL, vug_film_contrast(NULL, k, s, &(double){fmin(out, 1e6)}, 1, &back));
        if (out < 1e6)
            ck_near(back, ratio, 1e-6);
        ck_ok(NULL, vug_film_blocking(NULL, k, s, ratio, &out));
        ck_assert(isfinite(out) && out > 0.0);
        vug_relief relief;
        ck_assert_int_eq(vug_relief_init(&relief, sizeof relief), VUG_OK);
        relief.height_mm = between(1e-4, 100.0);
        relief.width_mm = between(1e-3, 1e3);
        relief.absorption_per_mm = between(1e-9, 1e4);
        relief.scattering_per_mm = between(1e-9, 1e4);
        relief.threshold = between(1e-6, 1.0);
        vug_status status = vug_relief_skin(NULL, &relief, &out);
        ck_assert(status == VUG_OK || status == VUG_ERR_NOT_FOUND);
        ck_assert(isfinite(out));
        status = vug_cure_dose(NULL, between(1e-6, 1e4), between(1e-6, 1e6),
            &(double){between(1e-6, 1e5)}, 1, &out);
        ck_assert(status == VUG_OK || status == VUG_ERR_DOMAIN);
        ck_assert(isfinite(out));
    }
}
END_TEST

/* Nothing is divided by zero on the way to a refusal. */
START_TEST(refusals_divide_by_nothing)
{
    double out = 0.0, penetration = 0.0, critical = 0.0;
    const double thickness = 2.0, dose[2] = {10.0, 10.0}, depth[2] = {0.1, 0.2};
    feclearexcept(FE_ALL_EXCEPT);
    ck_assert_int_eq(vug_wall_transmission(NULL, 0.1, -1.0, &thickness, 1, &out), VUG_ERR_DOMAIN);
    ck_assert(!fetestexcept(FE_DIVBYZERO));
    ck_assert_int_eq(vug_cure_fit(NULL, dose, depth, 2, &penetration, &critical), VUG_ERR_DOMAIN);
    ck_assert(!fetestexcept(FE_DIVBYZERO));
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("light");
    TCase *tc = tcase_create("light");
    tcase_add_test(tc, working_curve);
    tcase_add_test(tc, light_reaches_the_inside);
    tcase_add_test(tc, walls_dim);
    tcase_add_test(tc, films_hide);
    tcase_add_test(tc, films_hide_more_when_thicker);
    tcase_add_test(tc, relief_reads_through_a_thin_skin);
    tcase_add_test(tc, coats_and_fillings);
    tcase_add_test(tc, bad_numbers_are_refused);
    tcase_add_test(tc, extremes_stay_finite);
    tcase_add_test(tc, refusals_divide_by_nothing);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
