/* SPDX-License-Identifier: MIT
 * A child after fork() of a process that has run calls on many threads: its calls end, with the same
 * figures. Its threads are gone (POSIX.1-2017, fork: the child has the one thread that called it). */
#define _POSIX_C_SOURCE 200809L /* fork, alarm */

#include "shapes.h"
#include "test.h"

#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

static vug_context *context_of(uint32_t threads)
{
    vug_context_options options;
    vug_context *ctx = NULL;
    ck_assert_int_eq(vug_context_options_init(&options, sizeof options), VUG_OK);
    options.threads = threads;
    ck_assert_int_eq(vug_context_create(&options, &ctx), VUG_OK);
    return ctx;
}

/* A loop in each of the ways that the library has them: over triangles, cells, poses. */
static vug_status work(vug_context *ctx, const vug_mesh *mesh, double figure[2])
{
    vug_mesh_measures m = {.struct_size = sizeof m};
    vug_cavities *c = NULL;
    vug_pose_scan *scan = NULL;
    vug_pose_options poses;
    vug_pose_info info = {.struct_size = sizeof info};
    vug_pose_options_init(&poses, sizeof poses);
    poses.pose_count = 8;
    poses.columns_across = 20;
    vug_status status = vug_mesh_measure(ctx, mesh, &m);
    if (!status)
        status = vug_cavities_find(ctx, mesh, NULL, 0, NULL, &c);
    if (!status)
        status = vug_pose_scan_run(ctx, c, NULL, 0, &poses, &scan);
    if (!status)
        status = vug_pose_scan_get(scan, 3, &info);
    figure[0] = m.volume_mm3;
    figure[1] = info.trapped_mm3;
    vug_pose_scan_free(scan);
    vug_cavities_free(c);
    return status;
}

/* Works in a child and returns its wait status; a child that hangs is ended by the alarm. */
static int work_in_child(vug_context *ctx, const vug_mesh *mesh, const double want[2])
{
    int ended = -1;
    fflush(NULL);
    pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0) {
        double got[2];
        signal(SIGALRM, SIG_DFL); /* Check's own would end the test without a word */
        alarm(20);
        vug_status status = work(ctx, mesh, got);
        _exit(status ? 1 : memcmp(got, want, sizeof got) != 0 ? 2 : 0);
    }
    ck_assert_int_eq(waitpid(child, &ended, 0), child);
    return ended;
}

START_TEST(children_work)
{
    double want[2], again[2];
    vug_context *ctx = context_of(4), *unused = context_of(4);
    vug_mesh *mesh = shape_hollow_ball(ctx, 20.0, 22.0, 1.5, 200);
    ck_ok(ctx, work(ctx, mesh, want));
    ck_assert_int_eq(work_in_child(ctx, mesh, want), 0);    /* with the parent's context */
    ck_assert_int_eq(work_in_child(unused, mesh, want), 0); /* with one that had no call yet */
    ck_ok(ctx, work(ctx, mesh, again));                     /* and the parent goes on */
    ck_assert_mem_eq(again, want, sizeof want);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
    vug_context_free(unused);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("fork");
    TCase *tc = tcase_create("fork");
    tcase_set_timeout(tc, 90);
    tcase_add_test(tc, children_work);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
