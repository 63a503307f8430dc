/* SPDX-License-Identifier: MIT
 * Parts with more openings than a word has bits, and more bores than a plan may be asked for, through the
 * public calls. Volumes are sums by hand over the boxes that the parts are made of. */
#include "cavity/set.h"
#include "sieve.h"
#include "test.h"

static const double SIDE = 2.0, HEIGHT = 6.0;

typedef struct part {
    vug_context *ctx;
    vug_mesh *mesh;
    vug_cavities *cavities;
    size_t holes;
    double volume; /* of the cavity with its bores */
} part;

/* The middles of the holes, as a maker names them. */
static double *name_holes(size_t holes)
{
    size_t across = (size_t)ceil(sqrt((double)holes));
    double *named = calloc(holes, 7 * sizeof *named);
    ck_assert_ptr_nonnull(named);
    for (size_t i = 0; i < holes; i++) {
        double row[7] = {SIDE * (2.0 * (double)(i % across) + 1.5),
            SIDE * (2.0 * (double)(i / across) + 1.5), 2.0 * SIDE + HEIGHT, 0.0, 0.0, 1.0, SIDE};
        memcpy(named + 7 * i, row, sizeof row);
    }
    return named;
}

static part sieve_of(size_t holes)
{
    double *named = name_holes(holes);
    part p = {.holes = holes};
    double inside = SIDE * (2.0 * ceil(sqrt((double)holes)) - 1.0);
    p.volume = inside * inside * HEIGHT + (double)holes * SIDE * SIDE * SIDE;
    ck_assert_int_eq(vug_context_create(NULL, &p.ctx), VUG_OK);
    ck_assert_ptr_nonnull(p.mesh = sieve(p.ctx, holes, SIDE, HEIGHT));
    ck_ok(p.ctx, vug_cavities_find(p.ctx, p.mesh, named, holes, NULL, &p.cavities));
    free(named);
    ck_assert_uint_eq(vug_cavities_count(p.cavities), 1);
    ck_assert_uint_eq(vug_cavities_opening_count(p.cavities), holes);
    return p;
}

static void throw_away(part *p)
{
    vug_cavities_free(p->cavities);
    vug_mesh_free(p->mesh);
    vug_context_free(p->ctx);
}

static const size_t counts[] = {65, 64, 63, 300};
enum {
    COUNTS = sizeof counts / sizeof *counts,
    SMALLER = COUNTS - 1,
    ONE = 1
}; /* the slower, the fewer */

static const double upright[3] = {0.0, 0.0, 1.0}, over[3] = {0.0, 0.0, -1.0},
                    aslant[3] = {0.3, 0.1, 1.0};

/* Upright all air has a way out; upside down the outer rims are the lowest points there are: all stays. */
START_TEST(pockets_and_scan)
{
    part p = sieve_of(counts[_i]);
    vug_pockets *pockets = NULL;
    ck_ok(p.ctx, vug_pockets_find(p.ctx, p.cavities, upright, NULL, 0, NULL, &pockets));
    ck_assert_uint_eq(vug_pockets_count(pockets), 0);
    vug_pockets_free(pockets);
    ck_ok(p.ctx, vug_pockets_find(p.ctx, p.cavities, over, NULL, 0, NULL, &pockets));
    ck_assert_uint_eq(vug_pockets_count(pockets), 1);
    ck_near(vug_pockets_trapped_mm3(pockets), p.volume, 0.02);
    vug_pockets_free(pockets);

    vug_pose_options options;
    vug_pose_scan *scan = NULL;
    vug_pose_options_init(&options, sizeof options);
    options.pose_count = 6;
    options.columns_across = 40;
    options.criteria = 1;
    ck_ok(p.ctx, vug_pose_scan_run(p.ctx, p.cavities, NULL, 0, &options, &scan));
    for (size_t i = 0; i < vug_pose_scan_count(scan); i++) {
        vug_pose_info info = {.struct_size = sizeof info};
        ck_ok(p.ctx, vug_pose_scan_get(scan, i, &info));
        ck_assert_uint_lt(info.cover_count, p.holes);
        ck_assert(info.cover_count > 0 || info.cover == NULL);
        for (size_t k = 0; k < info.cover_count; k++)
            ck_assert_uint_lt(info.cover[k],
                k + 1 < info.cover_count ? info.cover[k + 1] : p.holes);
        /* aslant all but the highest row or two lie lower; a row has up to 18 */
        double tilt = fmax(fabs(info.up[0]), fabs(info.up[1]));
        if (tilt > 0.2)
            ck_assert_uint_ge(info.cover_count, p.holes / 2);
    }
    vug_pose_scan_free(scan);
    throw_away(&p);
}
END_TEST

static vug_course *filled(const part *p, const double up[3], size_t sealed)
{
    vug_course *course = NULL;
    vug_fill_options options;
    int32_t *roles = calloc(p->holes, sizeof *roles);
    ck_assert_ptr_nonnull(roles);
    for (size_t i = 0; i < sealed; i++)
        roles[i] = VUG_ROLE_SEALED;
    vug_fill_options_init(&options, sizeof options);
    options.columns_across = 40;
    options.inlet = (int32_t)p->holes - 1;
    ck_ok(p->ctx, vug_fill_run(p->ctx, p->cavities, NULL, up, roles, p->holes, &options, &course));
    free(roles);
    return course;
}

START_TEST(fill_and_turn)
{
    part p = sieve_of(counts[_i]);
    vug_course *course = filled(&p, upright, p.holes - 2), *turned = NULL;
    vug_course_info sum = {.struct_size = sizeof sum};
    vug_moment *end = NULL;
    vug_fill_options options;
    ck_ok(p.ctx, vug_course_get(course, &sum));
    ck_near(sum.capacity_mm3, p.volume, 1e-4);
    ck_assert_int_eq(sum.inlet, (int32_t)p.holes - 1);
    /* the sealed bores keep their air, the room below is full */
    ck_assert_double_gt(sum.liquid_mm3, 0.97 * (p.volume - (double)p.holes * pow(SIDE, 3.0)));

    ck_ok(p.ctx, vug_course_at_time(p.ctx, course, INFINITY, &end));
    vug_fill_options_init(&options, sizeof options);
    options.columns_across = 40 + p.holes / 3; /* a bore is more than three columns wide */
    ck_ok(p.ctx, vug_fill_turn(p.ctx, p.cavities, NULL, end, aslant, NULL, 0, &options, &turned));
    ck_ok(p.ctx, vug_course_get(turned, &sum));
    ck_near(sum.liquid_mm3 + sum.trapped_mm3 + sum.empty_mm3, p.volume, 1e-3);
    vug_moment_free(end);
    vug_course_free(turned);
    vug_course_free(course);
    throw_away(&p);
}
END_TEST

START_TEST(drain_and_cups)
{
    part p = sieve_of(counts[_i]);
    vug_drain_options drain;
    vug_cup_options options;
    vug_course *course = NULL;
    vug_course_info sum = {.struct_size = sizeof sum};
    vug_cups *cups = NULL;
    vug_drain_options_init(&drain, sizeof drain);
    bool quick = test_quick();
    drain.columns_across = quick ? 36 : 72; /* else a bore is more than three columns wide */
    ck_ok(p.ctx, vug_drain_run(p.ctx, p.cavities, NULL, aslant, NULL, 0, &drain, &course));
    ck_ok(p.ctx, vug_course_get(course, &sum));
    if (!quick)
        ck_near(sum.capacity_mm3, p.volume, 1e-4);
    vug_course_free(course);
    course = NULL;
    ck_ok(p.ctx, vug_drain_run(p.ctx, p.cavities, NULL, over, NULL, 0, &drain, &course));
    ck_ok(p.ctx, vug_course_get(course, &sum));
    /* hole side down, the floor beside the holes is level: next to nothing stays */
    ck_assert_double_lt(sum.liquid_mm3, 0.02 * p.volume);
    vug_course_free(course);

    vug_cup_options_init(&options, sizeof options);
    options.columns_across = 100;
    ck_ok(p.ctx, vug_cups_find(p.ctx, p.cavities, NULL, over, NULL, 0, &options, &cups));
    ck_assert_uint_eq(vug_cups_count(cups), 0); /* vents from the first layer on */
    vug_cups_free(cups);
    throw_away(&p);
}
END_TEST

START_TEST(plan_with_all_of_them)
{
    part p = sieve_of(counts[_i]);
    vug_plan_options options;
    vug_plan *plan = NULL;
    vug_plan_info info = {.struct_size = sizeof info};
    vug_step_info step = {.struct_size = sizeof step};
    vug_plan_options_init(&options, sizeof options);
    options.columns_across = 24;
    options.verify_across = 24;
    options.pose_count = 2;
    options.max_turns = 1;
    options.max_bores = 1;
    options.limit = 0.0; /* so that a bore is tried too */
    options.tilt_deg = test_quick() ? 0.0 : options.tilt_deg;
    ck_ok(p.ctx, vug_plan_make(p.ctx, p.cavities, NULL, NULL, NULL, 0, &options, &plan));
    ck_assert_uint_gt(vug_plan_count(plan), 0);
    for (size_t i = 0; i < vug_plan_count(plan); i++) {
        ck_ok(p.ctx, vug_plan_get(plan, i, &info));
        for (int32_t sequence = VUG_PLAN_FILL; sequence <= VUG_PLAN_DRAIN; sequence++)
            for (size_t k = 0; k < (sequence ? info.drain_steps : info.steps); k++) {
                ck_ok(p.ctx, vug_plan_step(plan, i, sequence, k, &step));
                for (size_t n = 0; n < step.cover_count; n++)
                    ck_assert_uint_lt(step.cover[n],
                        n + 1 < step.cover_count ? step.cover[n + 1] : p.holes + info.bores);
                for (size_t n = 0; n < step.vent_count; n++)
                    ck_assert_uint_lt(step.vent[n],
                        n + 1 < step.vent_count ? step.vent[n + 1] : p.holes + info.bores);
            }
    }
    vug_plan_free(plan);
    throw_away(&p);
}
END_TEST

/* Nobody names them: what is found is not counted against the names. */
START_TEST(found_and_not_named)
{
    vug_context *ctx = NULL;
    vug_cavities *cavities = NULL;
    vug_course *course = NULL;
    vug_course_info sum = {.struct_size = sizeof sum};
    vug_drain_options drain;
    ck_assert_int_eq(vug_context_create(NULL, &ctx), VUG_OK);
    vug_mesh *mesh = sieve(ctx, 100, SIDE, HEIGHT);
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, NULL, &cavities));
    ck_assert_uint_gt(vug_cavities_opening_count(cavities), 64);
    vug_drain_options_init(&drain, sizeof drain);
    drain.columns_across = test_quick() ? 60 : 280;
    ck_ok(ctx, vug_drain_run(ctx, cavities, NULL, over, NULL, 0, &drain, &course));
    ck_ok(ctx, vug_course_get(course, &sum));
    ck_assert_double_lt(sum.liquid_mm3, 0.02 * sum.capacity_mm3);
    vug_course_free(course);
    vug_cavities_free(cavities);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* The door: what is refused, and that nothing short of it is. */
START_TEST(openings_have_a_limit)
{
    vug_context *ctx = NULL;
    ck_assert_int_eq(vug_context_create(NULL, &ctx), VUG_OK);
    ck_assert_int_eq(vugi_openings_allowed(ctx, VUG_MAX_OPENINGS - 1), VUG_OK);
    ck_assert_int_eq(vugi_openings_allowed(ctx, VUG_MAX_OPENINGS), VUG_OK);
    ck_assert_int_eq(vugi_openings_allowed(ctx, VUG_MAX_OPENINGS + 1), VUG_ERR_LIMIT);
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "65537 openings, at most 65536"));

    double *holes = calloc((size_t)VUG_MAX_OPENINGS + 1, 7 * sizeof *holes);
    vug_mesh *mesh = comb(ctx, 2, SIDE, HEIGHT);
    vug_cavities *cavities = NULL;
    ck_assert(holes && mesh);
    ck_assert_int_eq(vug_cavities_find(ctx, mesh, holes, (size_t)VUG_MAX_OPENINGS + 1, NULL,
                         &cavities),
        VUG_ERR_LIMIT);
    ck_assert_int_ne(vug_cavities_find(ctx, mesh, holes, VUG_MAX_OPENINGS, NULL, &cavities),
        VUG_ERR_LIMIT); /* they are no holes, so it is refused all the same */
    ck_assert_ptr_null(cavities);
    free(holes);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A plan for legs up, without turns, in which bores cost nothing and no air may stay. */
static vug_plan_options legs_up(uint32_t columns, uint32_t bores)
{
    vug_plan_options options;
    vug_plan_options_init(&options, sizeof options);
    options.columns_across = options.verify_across = columns;
    options.pose_count = 4;
    options.bore_cost = 0.0;
    options.pose_given = 1;
    options.first_up[2] = 1.0;
    options.max_turns = 0;
    options.max_bores = bores;
    options.limit = 0.0;
    options.tilt_deg = test_quick() ? 0.0 : options.tilt_deg;
    return options;
}

/* A closed comb held legs up has a pocket under the end of each leg, more than bores are allowed; the
 * first opening comes on top of them, 17 in the search. */
START_TEST(more_pockets_than_bores)
{
    vug_context *ctx = NULL;
    vug_cavities *cavities = NULL;
    vug_plan_options options;
    vug_plan *plan = NULL;
    vug_plan_info info = {.struct_size = sizeof info};
    vug_plan_bore_info bore = {.struct_size = sizeof bore};
    uint32_t most = 0;
    ck_assert_int_eq(vug_context_create(NULL, &ctx), VUG_OK);
    vug_mesh *mesh = comb(ctx, 20, 3.0, 12.0);
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, NULL, &cavities));
    ck_assert_uint_eq(vug_cavities_opening_count(cavities), 0);
    const double columns = 82.0;
    options = legs_up((uint32_t)columns, VUG_MAX_BORES);
    ck_ok(ctx, vug_plan_make(ctx, cavities, NULL, NULL, NULL, 0, &options, &plan));
    for (size_t i = 0; i < vug_plan_count(plan); i++) {
        ck_ok(ctx, vug_plan_get(plan, i, &info));
        most = info.bores > most ? info.bores : most;
        /* Legs without a bore keep all their air, 3 x 3 x 12 mm each, of which two columns over 117 mm see a square
         * of 2.85; the others what is above its rim. */
        double closed = (20.0 - info.bores) * 3.0 * 3.0 * 12.0, seen = 2.0 * 117.0 / columns / 3.0;
        ck_assert_double_ge(info.trapped_mm3, seen * seen * closed);
        ck_assert_double_le(info.trapped_mm3, closed + 0.2 * info.bores * 3.0 * 3.0 * 12.0);
        for (uint32_t k = 0; k < info.bores; k++)
            ck_ok(ctx, vug_plan_bore(plan, i, k, &bore));
    }
    ck_assert_uint_ge(most, VUG_MAX_BORES);
    vug_plan_free(plan);
    vug_cavities_free(cavities);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A comb held legs up that may have a bore for each leg, though most have a hole of their own: no more bores than legs
 * without one, each on its own. */
START_TEST(no_bore_on_a_vented_leg)
{
    enum { LEGS = 8, VENTED = 5 };
    vug_context *ctx = NULL;
    vug_cavities *cavities = NULL;
    vug_plan_options options;
    vug_plan *plan = NULL;
    vug_plan_info info = {.struct_size = sizeof info};
    vug_plan_bore_info bore = {.struct_size = sizeof bore};
    double hole[VENTED][7];
    uint32_t most = 0;
    ck_assert_int_eq(vug_context_create(NULL, &ctx), VUG_OK);
    vug_mesh *mesh = comb(ctx, LEGS, 3.0, 12.0);
    for (int i = 0; i < VENTED; i++)
        memcpy(hole[i], (double[7]){6.0 * i + 4.5, 4.5, 21.0, 0.0, 0.0, 1.0, 2.0}, sizeof hole[i]);
    ck_ok(ctx, vug_cavities_find(ctx, mesh, hole[0], VENTED, NULL, &cavities));
    options = legs_up(82, LEGS);
    ck_ok(ctx, vug_plan_make(ctx, cavities, NULL, NULL, NULL, 0, &options, &plan));
    for (size_t i = 0; i < vug_plan_count(plan); i++) {
        bool drilled[LEGS] = {false};
        ck_ok(ctx, vug_plan_get(plan, i, &info));
        most = info.bores > most ? info.bores : most;
        for (uint32_t k = 0; k < info.bores; k++) {
            ck_ok(ctx, vug_plan_bore(plan, i, k, &bore));
            long leg = lround((bore.point_mm[0] - 4.5) / 6.0);
            ck_assert_msg(leg >= VENTED && leg < LEGS && !drilled[leg], "plan %zu: leg %ld", i,
                leg);
            drilled[leg] = true;
        }
    }
    ck_assert_uint_eq(most, LEGS - VENTED);
    vug_plan_free(plan);
    vug_cavities_free(cavities);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

static void add(Suite *suite, const char *name, const TTest *test, int times)
{
    TCase *tc = tcase_create(name);
    tcase_set_timeout(tc, 300);
    tcase_add_loop_test(tc, test, 0, times);
    suite_add_tcase(suite, tc);
}

int main(void)
{
    Suite *suite = suite_create("sieve");
    add(suite, "scan", pockets_and_scan, SMALLER);
    add(suite, "fill", fill_and_turn, test_quick() ? SMALLER : COUNTS);
    add(suite, "drain", drain_and_cups, ONE);
    add(suite, "plan", plan_with_all_of_them, ONE);
    add(suite, "found", found_and_not_named, 1);
    add(suite, "limit", openings_have_a_limit, 1);
    add(suite, "comb", more_pockets_than_bores, test_quick() ? 0 : 1);
    add(suite, "vented legs", no_bore_on_a_vented_leg, 1);
    return test_run(suite);
}
