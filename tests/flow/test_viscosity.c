/* SPDX-License-Identifier: MIT
 * The law of a fluid, by hand. */
#include "test.h"

#include "flow/viscosity.h"

static vug_fluid fluid_of(double yield, double consistency, double index)
{
    vug_fluid fluid;
    vug_fluid_init(&fluid, sizeof fluid);
    fluid.yield_stress_pa = yield;
    fluid.consistency_pa_sn = consistency;
    fluid.flow_index = index;
    return fluid;
}

/* 10 Pa and 2 Pa s^0.5: at 100 / s the stress is 10 + 2 * 10 = 30 Pa, the viscosity 30 / 100. */
START_TEST(herschel_bulkley)
{
    const vug_fluid f = fluid_of(10.0, 2.0, 0.5);
    ck_assert(!vugi_fluid_is_newtonian(&f));
    ck_assert_double_eq(vugi_fluid_yield(&f), 10.0);
    ck_assert_double_eq_tol(vugi_fluid_stress(&f, 100.0), 30.0, 1e-12);
    ck_assert_double_eq_tol(vugi_fluid_viscosity(&f, 100.0), 0.3, 1e-15);
    ck_assert_double_eq_tol(vugi_fluid_flowing_viscosity(&f, 100.0), 0.2, 1e-15);
    ck_assert_double_eq_tol(vugi_fluid_rate(&f, 30.0), 100.0, 1e-10);
    ck_assert_double_eq(vugi_fluid_rate(&f, 10.0), 0.0);
    ck_assert_double_eq(vugi_fluid_rate(&f, 3.0), 0.0);
}
END_TEST

/* Newton's: stress = viscosity * rate, also where nothing moves; a power of it is none, nor is Bingham's. */
START_TEST(newton)
{
    const vug_fluid thin = fluid_of(0.0, 2.0, 0.9), bingham = fluid_of(1.0, 2.0, 1.0);
    vug_fluid f = bingham;
    ck_assert(!vugi_fluid_is_newtonian(&thin));
    ck_assert(!vugi_fluid_is_newtonian(&bingham));
    ck_assert_double_eq(vugi_fluid_viscosity(&bingham, 4.0), 2.25);
    vugi_fluid_set_newtonian(&f, 0.25);
    ck_assert(vugi_fluid_is_newtonian(&f));
    ck_assert_double_eq(f.density_kg_m3, bingham.density_kg_m3);
    ck_assert_double_eq(vugi_fluid_viscosity(&f, 0.0), 0.25);
    ck_assert_double_eq(vugi_fluid_viscosity(&f, 7.0), 0.25);
    ck_assert_double_eq(vugi_fluid_stress(&f, 8.0), 2.0);
    ck_assert_double_eq(vugi_fluid_rate(&f, 2.0), 8.0);
}
END_TEST

/* The rate is the inverse of the stress, over the laws that are let in. */
START_TEST(inverse)
{
    for (double index = 0.1; index <= 2.0; index += 0.38)
        for (double rate = 1e-2; rate <= 1e4; rate *= 10.0) {
            const vug_fluid f = fluid_of(0.5, 1.5, index);
            ck_assert_double_eq_tol(vugi_fluid_rate(&f, vugi_fluid_stress(&f, rate)) / rate, 1.0,
                1e-12);
        }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("viscosity");
    TCase *tc = tcase_create("law");
    tcase_add_test(tc, herschel_bulkley);
    tcase_add_test(tc, newton);
    tcase_add_test(tc, inverse);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
