/* SPDX-License-Identifier: MIT
 * host_tool: a stand-in for a larger program that carries the library inside, as a plug-in would: the
 * host's own allocator with a limit, meshes from the host's arrays, one context for each of two
 * worker threads, a progress bar drawn by the main thread, and a job that the user stops. */
#include "../examples/tools/tool/fail.h"
#include "../examples/tools/tool/json.h"
#include "../examples/tools/tool/options.h"

#include <math.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

static const double pi = 3.141592653589793;

enum { JOBS = 2, TURNS = 64, PROFILE = 8 };

/* ---- the host's memory: counted, with a limit for all jobs together ------------------- */

typedef struct host_memory {
    atomic_size_t used, peak, limit;
} host_memory;

/* The size stands before each block, in a space that keeps the block aligned for any type. */
static const size_t margin = sizeof(max_align_t) > sizeof(size_t) ? sizeof(max_align_t)
                                                                  : sizeof(size_t);

static int account(host_memory *memory, size_t give, size_t take)
{
    size_t used = atomic_fetch_add(&memory->used, give) + give;
    if (used > atomic_load(&memory->limit) && give > take) {
        atomic_fetch_sub(&memory->used, give);
        return 0;
    }
    atomic_fetch_sub(&memory->used, take);
    size_t peak = atomic_load(&memory->peak);
    while (used > peak && !atomic_compare_exchange_weak(&memory->peak, &peak, used))
        continue;
    return 1;
}

static void *host_alloc(void *user, size_t size)
{
    if (size > SIZE_MAX - margin || !account(user, size, 0))
        return NULL;
    char *block = malloc(margin + size);
    if (!block) {
        account(user, 0, size);
        return NULL;
    }
    memcpy(block, &size, sizeof size);
    return block + margin;
}

static void *host_realloc(void *user, void *ptr, size_t size)
{
    if (!ptr)
        return host_alloc(user, size);
    char *block = (char *)ptr - margin;
    size_t before;
    memcpy(&before, block, sizeof before);
    if (size > SIZE_MAX - margin || !account(user, size, before))
        return NULL;
    char *moved = realloc(block, margin + size);
    if (!moved) {
        account(user, before, size);
        return NULL;
    }
    memcpy(moved, &size, sizeof size);
    return moved + margin;
}

static void host_free(void *user, void *ptr)
{
    char *block = (char *)ptr - margin;
    size_t size;
    memcpy(&size, block, sizeof size);
    account(user, 0, size);
    free(block);
}

/* ---- the host's part: a round bottle, its profile turned about z ----------------------- */

/* Rows of r and z, from the lid's top inside, round the cavity, out by the bore and up the skin. */
static void bottle_profile(double wall, double profile[PROFILE][2])
{
    const double rows[PROFILE][2] = {{0, 40 - wall}, {15 - wall, 40 - wall}, {15 - wall, wall},
        {2, wall}, {2, 0}, {15, 0}, {15, 40}, {0, 40}};
    memcpy(profile, rows, sizeof rows);
}

static vug_status bottle(vug_context *ctx, double wall, vug_mesh **out)
{
    double profile[PROFILE][2], xyz[PROFILE * TURNS][3];
    uint32_t face[2 * PROFILE * TURNS][3];
    size_t faces = 0;
    bottle_profile(wall, profile);
    for (int i = 0; i < PROFILE; i++) {
        for (int t = 0; t < TURNS; t++) {
            double turn = 2.0 * pi * t / TURNS;
            xyz[i * TURNS + t][0] = profile[i][0] * cos(turn);
            xyz[i * TURNS + t][1] = profile[i][0] * sin(turn);
            xyz[i * TURNS + t][2] = profile[i][1];
        }
    }
    for (uint32_t i = 0; i + 1 < PROFILE; i++) {
        for (uint32_t t = 0; t < TURNS; t++) {
            uint32_t u = (t + 1) % TURNS, a = i * TURNS, b = a + TURNS;
            if (profile[i][0] > 0.0)
                memcpy(face[faces++], (uint32_t[3]){a + t, a + u, b + (i + 2 < PROFILE ? u : t)},
                    sizeof face[0]);
            if (profile[i + 1][0] > 0.0)
                memcpy(face[faces++], (uint32_t[3]){a + t, b + u, b + t}, sizeof face[0]);
        }
    }
    /* Vertices on the axis coincide; the library welds them. */
    return vug_mesh_from_arrays(ctx, xyz[0], PROFILE * TURNS, 0, face[0], faces, 0, out);
}

/* ---- a job: one context, one thread ------------------------------------------------------ */

typedef struct job {
    const char *name;
    double wall;
    int64_t poses;
    vug_context *ctx;
    atomic_int done;
    vug_status status;
    char message[512];
    double capacity_mm3, trapped_mm3, best_up[3];
} job;

static vug_status look_at_poses(job *mine, const vug_cavities *cavities)
{
    vug_pose_options options;
    vug_pose_scan *scan = NULL;
    vug_cavity_info info = {.struct_size = sizeof info};
    vug_status status = vug_pose_options_init(&options, sizeof options);
    if (!status)
        status = vug_cavities_get(cavities, 0, &info);
    if (status)
        return status;
    options.pose_count = (uint32_t)mine->poses;
    options.columns_across = 80;
    status = vug_pose_scan_run(mine->ctx, cavities, NULL, 0, &options, &scan);
    if (!status) {
        size_t best = vug_pose_scan_best(scan);
        mine->capacity_mm3 = info.volume_mm3;
        mine->trapped_mm3 = vug_pose_scan_trapped_mm3(scan)[best];
        memcpy(mine->best_up, vug_pose_scan_ups(scan) + 3 * best, sizeof mine->best_up);
    }
    vug_pose_scan_free(scan);
    return status;
}

static void *run_job(void *user)
{
    job *mine = user;
    const double hole[7] = {0, 0, 0, 0, 0, -1, 4};
    vug_mesh *mesh = NULL;
    vug_cavities *cavities = NULL;
    mine->status = bottle(mine->ctx, mine->wall, &mesh);
    if (!mine->status)
        mine->status = vug_cavities_find(mine->ctx, mesh, hole, 1, NULL, &cavities);
    vug_mesh_free(mesh);
    if (!mine->status)
        mine->status = look_at_poses(mine, cavities);
    vug_cavities_free(cavities);
    if (mine->status)
        snprintf(mine->message, sizeof mine->message, "%s", vug_context_message(mine->ctx));
    atomic_store(&mine->done, 1);
    return NULL;
}

/* ---- the main thread: draws, and stops a job ------------------------------------------- */

static void draw(job *jobs)
{
    fputc('\r', stderr);
    for (int i = 0; i < JOBS; i++) {
        int marks = (int)(20.0 * vug_context_progress(jobs[i].ctx));
        fprintf(stderr, "%s [%.*s%.*s]  ", jobs[i].name, marks, "####################", 20 - marks,
            "                    ");
    }
    fflush(stderr);
}

static void watch(job *jobs, double cancel_after)
{
    const struct timespec moment = {0, 20 * 1000000};
    bool bar = isatty(STDERR_FILENO) != 0, running = true;
    for (double waited = 0.0; running; waited += 0.02) {
        if (bar)
            draw(jobs);
        if (waited >= cancel_after && !atomic_load(&jobs[JOBS - 1].done))
            vug_context_cancel(jobs[JOBS - 1].ctx);
        nanosleep(&moment, NULL);
        running = false;
        for (int i = 0; i < JOBS; i++)
            running = running || !atomic_load(&jobs[i].done);
    }
    if (bar)
        fputc('\n', stderr);
}

static vug_status make_context(host_memory *memory, vug_context **out)
{
    vug_context_options options;
    vug_status status = vug_context_options_init(&options, sizeof options);
    if (status)
        return status;
    options.threads = 1; /* two jobs share the machine */
    options.alloc = host_alloc;
    options.realloc = host_realloc;
    options.free = host_free;
    options.alloc_user = memory;
    return vug_context_create(&options, out);
}

/* ---- what came of it ------------------------------------------------------------------------ */

static json_t *report_json(const job *jobs, host_memory *memory)
{
    json_t *parts = json_array();
    for (int i = 0; i < JOBS; i++) {
        json_t *part = json_pack("{s:s, s:s}", "name", jobs[i].name, "status",
            vug_status_name(jobs[i].status));
        if (!jobs[i].status) {
            json_object_set_new(part, "capacity_mm3", json_real(jobs[i].capacity_mm3));
            json_object_set_new(part, "trapped_mm3", json_real(jobs[i].trapped_mm3));
            json_object_set_new(part, "best_up", json_triple(jobs[i].best_up));
        }
        json_array_append_new(parts, part);
    }
    return json_pack("{s:o, s:{s:I, s:I}}", "parts", parts, "memory", "peak_bytes",
        (json_int_t)atomic_load(&memory->peak), "left_bytes",
        (json_int_t)atomic_load(&memory->used));
}

static void print_report(const job *jobs, host_memory *memory)
{
    for (int i = 0; i < JOBS; i++) {
        if (jobs[i].status == VUG_ERR_CANCELLED)
            printf("%s: stopped by the user\n", jobs[i].name);
        else if (jobs[i].status)
            printf("%s: %s\n", jobs[i].name, jobs[i].message);
        else
            printf("%s: holds %.1f ml; held with %.2f %.2f %.2f up, %.2f ml of air stay\n",
                jobs[i].name, jobs[i].capacity_mm3 / 1000.0, jobs[i].best_up[0], jobs[i].best_up[1],
                jobs[i].best_up[2], jobs[i].trapped_mm3 / 1000.0);
    }
    printf("the library took at most %.1f MB of the host's memory and left %zu bytes\n",
        (double)atomic_load(&memory->peak) / 1e6, atomic_load(&memory->used));
}

int main(int argc, char **argv)
{
    int64_t poses = 300, limit_mb = 512;
    double cancel_after = 1e9;
    const char *json = NULL;
    const option options[] = {
        {"--poses", "N", "poses that each job looks at; 300 unless given", OPTION_WHOLE, &poses, 1,
            10000000, 0},
        {"--cancel-after", "SECONDS", "stop the second job after this time, as a user would",
            OPTION_NUMBER, &cancel_after, 0, 1e9, 0},
        {"--memory", "MB", "what the host lets the library have; 512 unless given", OPTION_WHOLE,
            &limit_mb, 1, 1000000, 0},
        {"--json", "FILE|-", "write the results as JSON", OPTION_TEXT, &json, 0, 0, 0},
    };
    const tool program = {"host_tool", "", 0,
        "Shows how a larger program carries the library: its own allocator, two contexts in two "
        "threads, a progress bar, and a job that is stopped from outside.",
        NULL, options, sizeof options / sizeof options[0]};
    int code = options_read(&program, argc, argv, NULL);
    if (code != GO_ON)
        return code;

    host_memory memory = {0};
    atomic_store(&memory.limit, (size_t)limit_mb * 1000000);
    job jobs[JOBS] = {{.name = "thin bottle", .wall = 1.5}, {.name = "thick bottle", .wall = 4.0}};
    pthread_t thread[JOBS];
    code = DONE;
    int started = 0;
    for (int i = 0; i < JOBS && code == DONE; i++) {
        jobs[i].poses = poses;
        vug_status status = make_context(&memory, &jobs[i].ctx);
        if (status)
            code = fail_status(&program, jobs[i].ctx, status);
        else if (pthread_create(&thread[i], NULL, run_job, &jobs[i]) != 0)
            code = fail(&program, "no thread for the job");
        else
            started++;
    }
    if (code == DONE)
        watch(jobs, cancel_after);
    for (int i = 0; i < started; i++)
        pthread_join(thread[i], NULL);
    for (int i = 0; i < JOBS; i++)
        vug_context_free(jobs[i].ctx);
    for (int i = 0; i < JOBS && code == DONE; i++)
        if (jobs[i].status && jobs[i].status != VUG_ERR_CANCELLED)
            code = fail(&program, "%s: %s", jobs[i].name, jobs[i].message);
    if (code == DONE) {
        if (!json || strcmp(json, "-") != 0)
            print_report(jobs, &memory);
        if (json)
            code = json_write(&program, report_json(jobs, &memory), json);
    }
    return code;
}
