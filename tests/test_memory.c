/* SPDX-License-Identifier: MIT
 * Memory that runs out, in each long call: allocation after allocation fails, or a limit is set. */
#include "counted.h"
#include "failing.h"
#include "jobs.h"
#include "shapes.h"

static job_part make_part(vug_context *ctx)
{
    job_part p = {.mesh = shape_hollow_ball(ctx, 6.0, 10.0, 2.5, 12)};
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

/* ---- told beforehand -------------------------------------------------------------------- */

static vug_status find_cavities(vug_context *ctx, const void *mesh)
{
    vug_cavity_options o;
    vug_cavities *c = NULL;
    vug_cavity_options_init(&o, sizeof o);
    o.cells_across = 200;
    vug_status status = vug_cavities_find(ctx, mesh, NULL, 0, &o, &c);
    vug_cavities_free(c);
    return status;
}

static vug_status hollow(vug_context *ctx, const void *mesh)
{
    vug_hollow_options o;
    vug_mesh *made = NULL;
    double *rows = NULL;
    size_t count;
    vug_hollow_options_init(&o, sizeof o);
    o.cells = 200;
    vug_status status = vug_shape_hollow(ctx, mesh, &o, &made, NULL, &rows, &count);
    vug_mesh_free(made);
    vug_free(ctx, rows);
    return status;
}

static vug_status fill_at(vug_context *ctx, const void *part, double rate_mm3_s)
{
    const job_part *p = part;
    vug_fill_options o;
    vug_course *course = NULL;
    vug_fill_options_init(&o, sizeof o);
    o.columns_across = 600;
    o.rate_mm3_s = rate_mm3_s;
    o.viscous = rate_mm3_s > 0.0;
    vug_status status = vug_fill_run(ctx, p->cavities, &p->fluid, p->up, NULL, 0, &o, &course);
    vug_course_free(course);
    return status;
}

static vug_status fill(vug_context *ctx, const void *part)
{
    return fill_at(ctx, part, 0.0);
}

static vug_status fill_in_time(vug_context *ctx, const void *part)
{
    return fill_at(ctx, part, 300.0);
}

static vug_status drain(vug_context *ctx, const void *part)
{
    const job_part *p = part;
    vug_drain_options o;
    vug_course *course = NULL;
    vug_drain_options_init(&o, sizeof o);
    o.columns_across = 600;
    vug_status status = vug_drain_run(ctx, p->cavities, &p->fluid, p->up, NULL, 0, &o, &course);
    vug_course_free(course);
    return status;
}

static vug_status find_cups(vug_context *ctx, const void *part)
{
    const job_part *p = part;
    vug_cup_options o;
    vug_cups *cups = NULL;
    vug_cup_options_init(&o, sizeof o);
    o.columns_across = 600;
    o.layer_mm = 1.0;
    vug_status status = vug_cups_find(ctx, p->cavities, &p->fluid, p->up, NULL, 0, &o, &cups);
    vug_cups_free(cups);
    return status;
}

/* A part and its cavities, in columns or at points so far apart. */
typedef struct asked {
    const vug_mesh *mesh;
    const vug_cavities *cavities;
    double spacing;
    uint32_t across;
    int32_t criteria;
} asked;

static vug_status measure_walls(vug_context *ctx, const void *part)
{
    const asked *a = part;
    vug_thickness *t = NULL;
    vug_status status = vug_thickness_measure(ctx, a->mesh, a->cavities, a->spacing, &t);
    vug_thickness_free(t);
    return status;
}

static vug_status look_through(vug_context *ctx, const void *part)
{
    const asked *a = part;
    vug_backlit o;
    vug_backlit_init(&o, sizeof o);
    o.filled = 1;
    uint8_t *pixel = malloc(4 * (size_t)a->across * a->across);
    vug_status status = vug_backlit_render(ctx, a->mesh, a->cavities, NULL, &o, a->across,
        a->across, pixel, 0);
    free(pixel);
    return status;
}

static vug_status find_pockets(vug_context *ctx, const void *part)
{
    const asked *a = part;
    const double up[3] = {0.3, 0.2, 0.9};
    vug_pockets *pockets = NULL;
    vug_status status = vug_pockets_find(ctx, a->cavities, up, NULL, 0, NULL, &pockets);
    vug_pockets_free(pockets);
    return status;
}

static vug_status scan(vug_context *ctx, const void *part)
{
    const asked *a = part;
    vug_pose_options o;
    vug_pose_scan *found = NULL;
    vug_pose_options_init(&o, sizeof o);
    o.pose_count = 200;
    o.criteria = a->criteria;
    vug_status status = vug_pose_scan_run(ctx, a->cavities, NULL, 0, &o, &found);
    vug_pose_scan_free(found);
    return status;
}

/* Steps as they are told: what hands do takes less at a time. */
static vug_status plan(vug_context *ctx, const void *part)
{
    const asked *a = part;
    vug_plan_options o;
    vug_plan *made = NULL;
    vug_plan_options_init(&o, sizeof o);
    o.tilt_deg = 0.0;
    o.max_bores = 1;
    vug_status status = vug_plan_make(ctx, a->cavities, NULL, NULL, NULL, 0, &o, &made);
    vug_plan_free(made);
    return status;
}

static vug_mesh *ball(vug_context *ctx)
{
    double profile[2 * 41];
    shape s = {.xyz = NULL};
    shape_arc(profile, 0, 0.0, 0.0, 20.0, -90.0, 90.0, 40);
    shape_revolve(&s, profile, 41, 80, 0);
    return shape_mesh(ctx, &s);
}

/* What work on what there is takes of a context's memory. */
typedef vug_status (*work)(vug_context *ctx, const void *on);

/* It takes so much, says so before it takes it where it may not, right to such a share, and leaves nothing behind. */
static void tells_to(work run, const void *on, double share)
{
    counted c;
    vug_context *free_one = counted_context(&c, 1, 0);
    ck_assert_ptr_nonnull(free_one);
    size_t before = c.used;
    ck_ok(free_one, run(free_one, on));
    double took = (double)(c.most - before), told = 0.0;
    vug_context_free(free_one);
    vug_context *tight = counted_context(&c, 1, (uint64_t)(0.4 * took));
    ck_assert_ptr_nonnull(tight);
    ck_assert_int_eq(run(tight, on), VUG_ERR_MEMORY);
    const char *number = strstr(vug_context_message(tight), "about ");
    ck_assert_ptr_nonnull(number);
    told = 1e6 * strtod(number + 6, NULL);
    ck_assert_msg(fabs(told / took - 1.0) < share, "told %g, took %g", told, took);
    ck_assert_uint_lt(c.most, (size_t)(0.1 * took));
    vug_context_free(tight);
    ck_assert_uint_eq(c.used, 0);
}

static void tells_before(work run, const void *on)
{
    tells_to(run, on, 0.25);
}

START_TEST(cells_are_told_before)
{
    vug_context *ctx = test_context();
    for (int i = 0; i < 2; i++) {
        vug_mesh *mesh = shape_hollow_ball(ctx, 8.0, 10.0, i ? 2.5 : 0.0, 64);
        tells_before(find_cavities, mesh);
        vug_mesh_free(mesh);
    }
    vug_mesh *mesh = ball(ctx);
    tells_before(find_cavities, mesh);
    tells_before(hollow, mesh);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

START_TEST(columns_are_told_before)
{
    vug_context *ctx = test_context();
    job_part p = make_part(ctx);
    tells_before(fill, &p);
    tells_before(fill_in_time, &p);
    tells_before(drain, &p);
    tells_before(find_cups, &p);
    free_part(&p);
    vug_context_free(ctx);
}
END_TEST

/* A ball, the coral that the library's own program makes, and a part of others with a ball sealed in it. */
static vug_mesh *part_of(vug_context *ctx, int i)
{
    char path[1024];
    vug_mesh *mesh = NULL;
    if (i < 2)
        return shape_hollow_ball(ctx, 8.0, 10.0, i ? 2.5 : 0.0, 48);
    if (i == 2) {
        ck_assert_int_eq(system("./examples/tools/vug-coral --resolution 40 --out coral-memory.stl"
                                " > coral-memory.txt"),
            0);
        ck_ok(ctx, vug_mesh_load(ctx, "coral-memory.stl", NULL, &mesh));
        remove("coral-memory.stl");
        remove("coral-memory.txt");
        return mesh;
    }
    const char *root = getenv("VUG_SRCDIR");
    snprintf(path, sizeof path, "%s/tests/data/%s", root ? root : ".",
        i == 3 ? "csg_with_sealed_ball.stl" : "openings/box1020.stl");
    ck_ok(ctx, vug_mesh_load(ctx, path, NULL, &mesh));
    return mesh;
}

START_TEST(parts_are_told_before)
{
    vug_context *ctx = test_context();
    vug_mesh *mesh = part_of(ctx, _i);
    vug_cavities *cavities = NULL;
    vug_cavity_options o;
    vug_cavity_options_init(&o, sizeof o);
    o.cells_across = 100;
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, &o, &cavities));
    ck_assert_uint_eq(vug_cavities_count(cavities), 1);
    asked a = {mesh, cavities, 0.0, 200, 0};
    for (; a.across <= 800; a.across *= 2)
        tells_before(look_through, &a);
    tells_before(find_pockets, &a);
    for (a.criteria = 0; a.criteria < 2; a.criteria++)
        tells_before(scan, &a);
    tells_before(measure_walls, &a);
    a.spacing = 1.0;
    tells_before(measure_walls, &a);
    if (_i > 0 && !test_quick())
        tells_to(plan, &a, 1.0 / 3.0);
    vug_cavities_free(cavities);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("memory");
    TCase *tc = tcase_create("memory");
    tcase_set_timeout(tc, 60);
    tcase_add_loop_test(tc, each_call_says_so, 0, JOBS);
    tcase_add_loop_test(tc, each_call_keeps_the_limit, 0, JOBS);
    tcase_add_test(tc, cells_are_told_before);
    tcase_add_test(tc, columns_are_told_before);
    tcase_add_loop_test(tc, parts_are_told_before, 0, test_quick() ? 2 : 5);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
