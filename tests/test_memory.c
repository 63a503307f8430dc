/* SPDX-License-Identifier: MIT
 * Memory that runs out, in each long call: allocation after allocation fails, or a limit is set. */
#include "failing.h"
#include "jobs.h"
#include "shapes.h"

static job_part make_part(vug_context *ctx)
{
    job_part p = {.mesh = shape_hollow_ball(ctx, 8.0, 10.0, 2.5, 12)};
    const double hole[7] = {0.0, 0.0, 10.0, 0.0, 0.0, 1.0, 5.0};
    vug_cavity_options o;
    vug_cavity_options_init(&o, sizeof o);
    o.cells_across = JOB_ACROSS;
    memcpy(p.hole, hole, sizeof hole);
    p.holes = 1;
    p.up[2] = 1.0;
    ck_assert_int_eq(vug_fluid_init(&p.fluid, sizeof p.fluid), VUG_OK);
    ck_ok(ctx, vug_cavities_find(ctx, p.mesh, p.hole, 1, &o, &p.cavities));
    ck_assert_uint_eq(vug_cavities_count(p.cavities), 1);
    return p;
}

static void free_part(job_part *p)
{
    vug_cavities_free(p->cavities);
    vug_mesh_free(p->mesh);
}

/* The first allocations each, then one in so many. */
START_TEST(each_call_says_so)
{
    vug_context *ctx = test_context();
    job_part p = make_part(ctx);
    failing_some_until_success(jobs[_i].run, &p, 8);
    free_part(&p);
    vug_context_free(ctx);
}
END_TEST

/* What is used stays below the limit whatever it is, and the message says what was wanted. */
START_TEST(each_call_keeps_the_limit)
{
    vug_context *free_one = test_context();
    job_part p = make_part(free_one);
    uint64_t limit = 20000;
    for (;; limit *= 4) {
        failing f;
        vug_context_options options;
        vug_context *ctx = NULL, *under = failing_context(&f);
        long before = atomic_load(&f.held);
        vug_context_options_init(&options, sizeof options);
        options.alloc = failing_alloc;
        options.realloc = failing_realloc;
        options.free = failing_free;
        options.alloc_user = &f;
        options.memory_limit_bytes = limit;
        ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_OK);
        vug_status status = jobs[_i].run(ctx, &p);
        if (status)
            ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "limit"));
        vug_context_free(ctx);
        ck_assert_int_eq(atomic_load(&f.held), before);
        vug_context_free(under);
        if (status == VUG_OK)
            break;
        ck_assert_int_eq(status, VUG_ERR_MEMORY);
        ck_assert_uint_lt(limit, UINT64_C(1) << 32);
    }
    free_part(&p);
    vug_context_free(free_one);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("memory");
    TCase *tc = tcase_create("memory");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, each_call_says_so, 0, JOBS);
    tcase_add_loop_test(tc, each_call_keeps_the_limit, 0, JOBS);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
