/* SPDX-License-Identifier: MIT
 * Shared by the Check suites: one main, one context, temporary files. */
#ifndef VUG_TEST_H
#define VUG_TEST_H

#include "vug.h"

#include <check.h>
#include <math.h>
#include <stdio.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>

/* Fails with the context's message unless the call worked. */
#define ck_ok(ctx, call) \
    do { \
        vug_status ck_status_ = (call); \
        ck_assert_msg(ck_status_ == VUG_OK, "%s: %s: %s", #call, vug_status_name(ck_status_), \
            vug_context_message(ctx)); \
    } while (0)

/* Within a relative error of the expected value. */
#define ck_near(got, want, relative) \
    do { \
        double ck_got_ = (got), ck_want_ = (want); \
        ck_assert_msg(fabs(ck_got_ - ck_want_) <= (relative)*fabs(ck_want_), \
            "%s = %.12g, expected %.12g within %g", #got, ck_got_, ck_want_, (double)(relative)); \
    } while (0)

/* Within an absolute error of the expected value. */
#define ck_close(got, want, absolute) \
    do { \
        double ck_got_ = (got), ck_want_ = (want); \
        ck_assert_msg(fabs(ck_got_ - ck_want_) <= (absolute), "%s = %.12g, expected %.12g +- %g", \
            #got, ck_got_, ck_want_, (double)(absolute)); \
    } while (0)

/* Under sanitizers it is memory that counts: what repeats the same steps at another size has run without them. */
static inline bool test_quick(void)
{
    return getenv("VUG_QUICK") != NULL;
}

static inline vug_context *test_context(void)
{
    vug_context *ctx = NULL;
    ck_assert_int_eq(vug_context_create(NULL, &ctx), VUG_OK);
    return ctx;
}

/* Number of warnings that the context keeps. */
static inline size_t warning_count(const vug_context *ctx)
{
    size_t count = 0;
    while (vug_context_warning(ctx, count))
        count++;
    return count;
}

static inline int test_run(Suite *suite)
{
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_NORMAL);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

/* In this process and without a word of its own, for what prints times. */
static inline int test_run_here(Suite *suite)
{
    SRunner *runner = srunner_create(suite);
    srunner_set_fork_status(runner, CK_NOFORK);
    srunner_run_all(runner, CK_SILENT);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed ? EXIT_FAILURE : EXIT_SUCCESS;
}

#endif
