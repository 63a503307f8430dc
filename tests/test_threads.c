/* SPDX-License-Identifier: MIT
 * The promises about threads, with threads made by the test itself, so that a thread sanitizer
 * sees them all: one context a thread, objects shared, cancel and progress from anywhere. */
#include "base/base.h"
#include "mesh/mesh.h"
#include "mesh/shells.h"

#include "test.h"

#include <pthread.h>
#include <stdatomic.h>
#include <time.h>

enum { THREADS = 4, TURNS = 48, RINGS = 25 };

static void wait_ms(long ms)
{
    struct timespec span = {ms / 1000, ms % 1000 * 1000000};
    nanosleep(&span, NULL);
}

static double seconds(void)
{
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + 1e-9 * (double)now.tv_nsec;
}

/* A ball of radius 10 mm: rings of latitude with a vertex at each pole. */
static vug_mesh *ball(vug_context *ctx)
{
    static const double pi = 3.14159265358979323846;
    double xyz[RINGS * TURNS + 2][3];
    uint32_t face[2 * RINGS * TURNS][3];
    for (int r = 0; r < RINGS; r++) {
        for (int t = 0; t < TURNS; t++) {
            double polar = pi * (r + 1) / (RINGS + 1), turn = 2.0 * pi * t / TURNS;
            xyz[r * TURNS + t][0] = 10.0 * sin(polar) * cos(turn);
            xyz[r * TURNS + t][1] = 10.0 * sin(polar) * sin(turn);
            xyz[r * TURNS + t][2] = 10.0 * cos(polar);
        }
    }
    uint32_t top = RINGS * TURNS, bottom = top + 1;
    memcpy(xyz[top], (double[3]){0.0, 0.0, 10.0}, sizeof xyz[top]);
    memcpy(xyz[bottom], (double[3]){0.0, 0.0, -10.0}, sizeof xyz[bottom]);
    size_t n = 0;
    for (uint32_t t = 0; t < TURNS; t++) {
        uint32_t u = (t + 1) % TURNS;
        memcpy(face[n++], (uint32_t[3]){top, t, u}, sizeof face[0]);
        memcpy(face[n++], (uint32_t[3]){bottom, (RINGS - 1) * TURNS + u, (RINGS - 1) * TURNS + t},
            sizeof face[0]);
        for (uint32_t r = 0; r + 1 < RINGS; r++) {
            uint32_t a = r * TURNS + t, b = r * TURNS + u;
            memcpy(face[n++], (uint32_t[3]){a, a + TURNS, b + TURNS}, sizeof face[0]);
            memcpy(face[n++], (uint32_t[3]){a, b + TURNS, b}, sizeof face[0]);
        }
    }
    vug_mesh *mesh = NULL;
    ck_ok(ctx, vug_mesh_from_arrays(ctx, xyz[0], RINGS * TURNS + 2, 0, face[0], n, 0, &mesh));
    return mesh;
}

/* ---- many contexts, one shared mesh ------------------------------------------------------ */

typedef struct job {
    const vug_mesh *shared;
    vug_mesh_measures measures;
    vug_status status;
} job;

static void *measure_shared(void *user)
{
    job *mine = user;
    vug_context *ctx = NULL;
    vug_shells *shells = NULL;
    mine->measures.struct_size = sizeof mine->measures;
    mine->status = vug_context_create(NULL, &ctx);
    for (int i = 0; i < 5 && !mine->status; i++) {
        mine->status = vug_mesh_measure(ctx, mine->shared, &mine->measures);
        if (!mine->status)
            mine->status = vug_mesh_shells(ctx, mine->shared, &shells);
        vug_shells_free(shells);
        shells = NULL;
    }
    vug_context_free(ctx);
    return NULL;
}

START_TEST(contexts_in_threads_share_a_mesh)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = ball(ctx);
    vug_context_free(ctx); /* the mesh lives on */
    pthread_t thread[THREADS];
    job jobs[THREADS];
    for (int i = 0; i < THREADS; i++) {
        jobs[i] = (job){.shared = mesh};
        ck_assert_int_eq(pthread_create(&thread[i], NULL, measure_shared, &jobs[i]), 0);
    }
    for (int i = 0; i < THREADS; i++) {
        pthread_join(thread[i], NULL);
        ck_assert_int_eq(jobs[i].status, VUG_OK);
        ck_assert_mem_eq(&jobs[i].measures, &jobs[0].measures, sizeof jobs[0].measures);
    }
    /* A ball's volume from below: 4/3 pi r^3 (handbook); the polyhedron lies inside it. */
    double true_volume = 4188.790204786391;
    ck_assert(jobs[0].measures.volume_mm3 < true_volume);
    ck_near(jobs[0].measures.volume_mm3, true_volume, 0.02);
    vug_mesh_free(mesh);
}
END_TEST

/* ---- made here, freed there ---------------------------------------------------------------- */

static void *free_there(void *user)
{
    vug_mesh_free(user);
    return NULL;
}

START_TEST(objects_may_be_freed_by_another_thread)
{
    vug_context *ctx = test_context();
    pthread_t thread[THREADS];
    for (int i = 0; i < THREADS; i++)
        ck_assert_int_eq(pthread_create(&thread[i], NULL, free_there, ball(ctx)), 0);
    vug_context_free(ctx);
    for (int i = 0; i < THREADS; i++)
        pthread_join(thread[i], NULL);
}
END_TEST

/* ---- cancel and progress from outside -------------------------------------------------------- */

typedef struct long_call {
    vug_context *ctx;
    atomic_int running;
    vug_status status;
    double ended;
} long_call;

/* As a long call of the library does: steps until it is told to stop. */
static void *run_long(void *user)
{
    long_call *call = user;
    vugi_progress_begin(call->ctx, "work");
    atomic_store(&call->running, 1);
    for (int i = 0; !call->status; i++) {
        wait_ms(1);
        call->status = vugi_step(call->ctx, 1.0 - 1.0 / (1.0 + 0.01 * i));
    }
    call->ended = seconds();
    return NULL;
}

START_TEST(another_thread_watches_and_cancels)
{
    long_call call = {.ctx = test_context()};
    pthread_t thread;
    ck_assert_int_eq(pthread_create(&thread, NULL, run_long, &call), 0);
    while (!atomic_load(&call.running))
        wait_ms(1);
    double last = 0.0;
    for (int i = 0; i < 20; i++) {
        double now = vug_context_progress(call.ctx);
        ck_assert(now >= last && now <= 1.0);
        last = now;
        wait_ms(2);
    }
    ck_assert(last > 0.0);
    double asked = seconds();
    vug_context_cancel(call.ctx);
    pthread_join(thread, NULL);
    ck_assert_int_eq(call.status, VUG_ERR_CANCELLED);
    ck_assert(call.ended - asked < 0.1);
    vug_context_free(call.ctx);
}
END_TEST

/* ---- the host's allocator is called from all of them ------------------------------------------- */

static atomic_long blocks;

static void *count_alloc(void *user, size_t size)
{
    void *ptr = malloc(size);
    if (ptr)
        atomic_fetch_add((atomic_long *)user, 1);
    return ptr;
}

static void *count_realloc(void *user, void *ptr, size_t size)
{
    void *moved = realloc(ptr, size);
    if (moved && !ptr)
        atomic_fetch_add((atomic_long *)user, 1);
    return moved;
}

static void count_free(void *user, void *ptr)
{
    atomic_fetch_sub((atomic_long *)user, 1);
    free(ptr);
}

static void *build_with_allocator(void *user)
{
    vug_context *ctx = NULL;
    *(vug_status *)user = vug_context_create(&(vug_context_options){.struct_size = sizeof(
                                                                        vug_context_options),
                                                 .alloc = count_alloc,
                                                 .realloc = count_realloc,
                                                 .free = count_free,
                                                 .alloc_user = &blocks},
        &ctx);
    if (ctx)
        vug_mesh_free(ball(ctx));
    vug_context_free(ctx);
    return NULL;
}

START_TEST(allocator_is_balanced_over_threads)
{
    pthread_t thread[THREADS];
    vug_status status[THREADS];
    for (int i = 0; i < THREADS; i++)
        ck_assert_int_eq(pthread_create(&thread[i], NULL, build_with_allocator, &status[i]), 0);
    for (int i = 0; i < THREADS; i++) {
        pthread_join(thread[i], NULL);
        ck_assert_int_eq(status[i], VUG_OK);
    }
    ck_assert_int_eq(atomic_load(&blocks), 0);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("threads");
    TCase *tc = tcase_create("threads");
    tcase_add_test(tc, contexts_in_threads_share_a_mesh);
    tcase_add_test(tc, objects_may_be_freed_by_another_thread);
    tcase_add_test(tc, another_thread_watches_and_cancels);
    tcase_add_test(tc, allocator_is_balanced_over_threads);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
