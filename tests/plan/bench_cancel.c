/* SPDX-License-Identifier: MIT
 * Benchmark of cancelling: how long each of the long calls takes to come back, cancelled by another
 * thread at many moments, and the longest silence between two reports of progress in an undisturbed run. Each
 * call has so many seconds, its moments taken over all of it but not in order: what they reached is printed.
 * Usage: bench_cancel [-s SECONDS] [MESH HOLE...] (40; holes as 7 numbers with commas); else the coral, with
 * about 250000 triangles. */
#define _POSIX_C_SOURCE 200809L

#include "plan/planning.h"

#include "cavity/cavity.h"
#include "course/course_types.h"

#include "../bench.h"
#include "calls.h"

#include "vug.h"

#include <math.h>
#include <pthread.h>
#include <stdatomic.h>
#include <stdbool.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

enum { MOMENTS = 12, HOLES = 16 }; /* moments at most */

typedef struct part {
    vug_mesh *mesh;
    vug_cavities *cavities;
    double hole[7 * HOLES];
    size_t holes;
} part;

/* ---- the calls --------------------------------------------------------------------------- */

static vug_status find(vug_context *ctx, const part *p)
{
    return call_find(ctx, p->mesh, p->hole, p->holes, 1);
}

static vug_status detect(vug_context *ctx, const part *p)
{
    return call_find(ctx, p->mesh, NULL, 0, 1);
}

static vug_status thickness(vug_context *ctx, const part *p)
{
    return call_thickness(ctx, p->mesh, p->cavities);
}

static vug_status hollow(vug_context *ctx, const part *p)
{
    vug_mesh *made = NULL;
    vug_hollow_options o;
    vug_hollow_options_init(&o, sizeof o);
    o.wall_mm = 0.5; /* the coral's own walls are hollowed */
    o.chamber_mm = 1.5;
    vug_status status = vug_shape_hollow(ctx, p->mesh, &o, &made, NULL, NULL, NULL);
    vug_mesh_free(made);
    return status;
}

static vug_status scan(vug_context *ctx, const part *p)
{
    vug_pose_options o;
    vug_pose_options_init(&o, sizeof o);
    o.pose_count = 300;
    o.criteria = 1;
    o.refine_deg = 1.0;
    return call_scan(ctx, p->cavities, &o);
}

static const double base_up[3] = {0.0, 0.0, -1.0};

static vug_status fill(vug_context *ctx, const part *p)
{
    return call_fill(ctx, p->cavities, base_up, 1.0, 50.0, 0);
}

static vug_status fill_in_time(vug_context *ctx, const part *p)
{
    return call_fill(ctx, p->cavities, base_up, 1.0, 50.0, 1);
}

static vug_status drain(vug_context *ctx, const part *p)
{
    return call_drain(ctx, p->cavities);
}

static vug_status plan_thick(vug_context *ctx, const part *p)
{
    return call_plan(ctx, p->cavities, VUG_FLUID_CRAFT_ACRYLIC);
}

static vug_status plan_thin(vug_context *ctx, const part *p)
{
    return call_plan(ctx, p->cavities, VUG_FLUID_THINNED_ACRYLIC);
}

typedef struct call {
    const char *name;
    vug_status (*run)(vug_context *ctx, const part *p);
} call;

static const call calls[] = {{"cavities, holes named", find}, {"cavities, holes found", detect},
    {"wall thickness", thickness}, {"hollow", hollow}, {"pose scan", scan}, {"fill", fill},
    {"fill in time", fill_in_time}, {"drain", drain}, {"plan, stiff paint", plan_thick},
    {"plan, thin paint", plan_thin}};

/* ---- measuring ------------------------------------------------------------------------------- */

/* What one call may take in all, and what it may not answer later than, in seconds. */
static double budget = 40.0;
static const double ANSWER = 0.05;

/* The longest silence, and the stages before and after it. */
typedef struct listening {
    double last, longest, until; /* then the run is over */
    char stage[48], before[48], after[48];
    double at, at_most; /* how far it came */
} listening;

static int32_t listen(void *user, double fraction, const char *stage)
{
    listening *l = user;
    double time = bench_now();
    if (time - l->last > l->longest) {
        l->longest = time - l->last;
        l->at = fraction;
        memcpy(l->before, l->stage, sizeof l->before);
        snprintf(l->after, sizeof l->after, "%s", stage);
    }
    snprintf(l->stage, sizeof l->stage, "%s", stage);
    l->last = time;
    l->at_most = fraction;
    return time > l->until;
}

typedef struct stopper {
    vug_context *ctx;
    double after, pressed;
} stopper;

static void *press(void *user)
{
    stopper *s = user;
    struct timespec pause = {(time_t)s->after, (long)(1e9 * (s->after - floor(s->after)))};
    nanosleep(&pause, NULL);
    s->pressed = bench_now();
    vug_context_cancel(s->ctx);
    return NULL;
}

/* Cancels a fresh call after so many seconds; the time until it is back, 0 if it was done before. */
static double cancel_after(const call *c, const part *p, double after)
{
    vug_context *ctx = NULL;
    pthread_t thread;
    if (vug_context_create(NULL, &ctx))
        exit(1);
    stopper s = {ctx, after, 0.0};
    if (pthread_create(&thread, NULL, press, &s))
        exit(1);
    vug_status status = c->run(ctx, p);
    double back = bench_now();
    pthread_join(thread, NULL);
    if (status && status != VUG_ERR_CANCELLED)
        bench_must(ctx, status);
    vug_context_free(ctx);
    return status ? back - s.pressed : 0.0;
}

/* Moments of a run of which each is far from those before: the golden ratio's multiples (Weyl). */
static double moment(int i)
{
    double whole;
    return modf(0.5 + 0.6180339887498949 * i, &whole);
}

/* An undisturbed run, stopped at half of the budget if it is not done by then. Its seconds. */
static double listen_to(const call *c, const part *p, listening *l)
{
    vug_context *ctx = NULL;
    if (vug_context_create(NULL, &ctx))
        exit(1);
    bench_must(ctx, vug_context_set_progress(ctx, listen, l));
    double start = l->last = bench_now();
    l->until = start + 0.5 * budget;
    vug_status status = c->run(ctx, p);
    if (status != VUG_ERR_CANCELLED) {
        bench_must(ctx, status);
        listen(l, 1.0, "the end");
    }
    vug_context_free(ctx);
    return bench_now() - start;
}

/* false: some cancel was answered late. */
static bool measure(const call *c, const part *p)
{
    listening l = {.longest = 0.0};
    double end = bench_now() + budget, worst = 0.0, worst_at = 0.0, whole = listen_to(c, p, &l);
    int done = 0;
    for (; done < MOMENTS && (done == 0 || bench_now() + moment(done) * whole < end); done++) {
        double after = whole * moment(done), took = cancel_after(c, p, after);
        if (took > worst) {
            worst = took;
            worst_at = after;
        }
    }
    printf("%-24s %6.2f s to %3.0f %%; back at most %4.0f ms after cancel (%d moments, at %.2f s); "
           "longest silence "
           "%4.0f ms, %.2f, %s to %s\n",
        c->name, whole, 1e2 * l.at_most, 1e3 * worst, done, worst_at, 1e3 * l.longest, l.at,
        l.before, l.after);
    fflush(stdout);
    return worst <= ANSWER;
}

static void read_holes(part *p, int count, char **text)
{
    static const double demo[14] = {-8.5, -1.5, 0, 0, 0, -1, 3, 8.5, 2, 0, 0, 0, -1, 3};
    p->holes = count > 0 ? (size_t)count : 2;
    memcpy(p->hole, demo, sizeof demo);
    for (int i = 0; i < count; i++) {
        double *h = p->hole + 7 * i;
        if (i >= HOLES
            || sscanf(text[i], "%lf,%lf,%lf,%lf,%lf,%lf,%lf", h, h + 1, h + 2, h + 3, h + 4, h + 5,
                   h + 6)
                != 7) {
            fprintf(stderr, "bench_cancel: %s is not 7 numbers, or a hole too many\n", text[i]);
            exit(2);
        }
    }
}

int main(int argc, char **argv)
{
    vug_context *ctx = NULL;
    static part p;
    size_t late = 0, count = sizeof calls / sizeof *calls;
    if (argc > 2 && strcmp(argv[1], "-s") == 0) {
        budget = atof(argv[2]);
        argc -= 2;
        argv += 2;
    }
    const char *path = argc > 1 ? argv[1] : "bench_cancel.stl";
    read_holes(&p, argc > 2 ? argc - 2 : 0, argv + 2);
    if (argc < 2
        && system("./examples/tools/vug-coral --resolution 180 --out bench_cancel.stl") != 0) {
        fprintf(stderr, "bench_cancel: the coral program failed\n");
        return 1;
    }
    bench_must(ctx, vug_context_create(NULL, &ctx));
    bench_must(ctx, vug_mesh_load(ctx, path, NULL, &p.mesh));
    bench_must(ctx, vug_cavities_find(ctx, p.mesh, p.hole, p.holes, NULL, &p.cavities));
    printf("cancelling at up to %d moments within %g s a call, %zu triangles\n", MOMENTS, budget,
        vug_mesh_triangle_count(p.mesh));
    for (size_t i = 0; i < count; i++)
        late += !measure(calls + i, &p);
    printf("%zu of %zu calls answered each cancel within %.0f ms\n", count - late, count,
        1e3 * ANSWER);
    vug_cavities_free(p.cavities);
    vug_mesh_free(p.mesh);
    vug_context_free(ctx);
    if (argc < 2)
        remove(path);
    return 0;
}
