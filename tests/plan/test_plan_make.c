/* SPDX-License-Identifier: MIT
 * plan: whole plans of parts whose best plan is known. */
#include "base/base.h"
#include "plan/planning.h"

#include "cavity/cavity.h"
#include "course/course_types.h"

#include "blocks.h"
#include "failing.h"

/* Thick paint: bubbles stay where they are while the part is turned. */
static vug_fluid paint(void)
{
    vug_fluid f;
    vug_fluid_init(&f, sizeof f);
    f.density_kg_m3 = 1200.0;
    f.surface_tension_n_m = 0.035;
    f.consistency_pa_sn = 2.0;
    return f;
}

static vug_plan *plan_of(vug_context *ctx, const vug_cavities *c, const vug_plan_options *options,
    vug_plan_info *info)
{
    vug_plan *plan = NULL;
    vug_fluid f = paint();
    ck_ok(ctx, vug_plan_make(ctx, c, &f, NULL, NULL, 0, options, &plan));
    ck_assert_uint_ge(vug_plan_count(plan), 1);
    info->struct_size = sizeof *info;
    ck_ok(ctx, vug_plan_get(plan, 0, info));
    return plan;
}

static vug_plan_options quick(void)
{
    vug_plan_options options;
    vug_plan_options_init(&options, sizeof options);
    options.columns_across = 60;
    options.verify_across = 120;
    return options;
}

/* Paint comes wherever air does not stay: what is bare is the wall of pockets. Where a pocket of volume v is deeper
 * than light reaches (0.2 mm), its ceiling has less than v / 0.2 mm; as much again for its sides (by hand). */
static void no_bare_skin(const vug_plan_info *info)
{
    ck_near(info->backed_mm2 + info->filmed_mm2 + info->bare_mm2, info->skin_mm2, 2e-3);
    ck_assert(info->skin_mm2 > 0.0 && info->backed_mm2 > 0.9 * info->skin_mm2);
    ck_assert_msg(info->bare_mm2 <= 2.0 * info->trapped_mm3 / 0.2 + 2e-3 * info->skin_mm2,
        "%g of %g mm2 bare, %g mm3 of air", info->bare_mm2, info->skin_mm2, info->trapped_mm3);
    ck_assert(info->spot_mm2 <= info->bare_mm2 * (1.0 + 1e-9));
}

static double up_z(const vug_plan *plan, size_t alternative, size_t step, int k)
{
    vug_step_info s = {.struct_size = sizeof s};
    ck_assert_int_eq(vug_plan_step(plan, alternative, VUG_PLAN_FILL, step, &s), VUG_OK);
    return s.up[k];
}

/* Each bore proposed can be named as a hole, beside one that is there: it is planned there. */
static void can_be_named(vug_context *ctx, const vug_cavities *c, const double hole[7],
    const vug_plan *plan, uint32_t bores)
{
    for (uint32_t i = 0; i < bores; i++) {
        vug_plan_bore_info bore = {.struct_size = sizeof bore};
        vug_opening_info o = {.struct_size = sizeof o};
        vug_cavities *again = NULL;
        vug_cavity_options options;
        double rows[14];
        vug_cavity_options_init(&options, sizeof options);
        options.detect = 0;
        ck_ok(ctx, vug_plan_bore(plan, 0, i, &bore));
        memcpy(rows, hole, 7 * sizeof *rows);
        for (int k = 0; k < 3; k++) {
            rows[7 + k] = bore.point_mm[k];
            rows[10 + k] = -bore.direction[k];
        }
        rows[13] = bore.diameter_mm;
        ck_ok(ctx, vug_cavities_find(ctx, c->part, rows, 2, &options, &again));
        ck_assert_uint_eq(vug_cavities_opening_count(again), 2);
        ck_ok(ctx, vug_cavities_opening(again, 1, &o));
        ck_assert_int_eq(o.planned, 1);
        ck_near(o.diameter_mm, bore.diameter_mm, 1e-9);
        ck_near(o.bore_length_mm, bore.depth_mm, 1e-6);
        vug_cavities_free(again);
    }
}

/* A bulb on a stem, the hole at the end of the stem below: upside down, nothing is to be drilled.
 * Held upright by order it needs exactly one vent, at its top: a pose needs as many vents as it has
 * closed local highs (Bose, van Kreveld, Toussaint 1998, CAD 30(4):245-254). */
START_TEST(bulb_needs_its_top)
{
    static blocks b;
    vug_context *ctx = test_context();
    const double hole[7] = {20.5, 20.5, 0, 0, 0, -1, 2};
    vug_plan_info info;
    vug_plan_options options = quick();
    dig(&b, 14, 27, 14, 27, 15, 30);
    dig(&b, 17, 24, 17, 24, 30, 34);
    dig(&b, 19, 22, 19, 22, 1, 15);
    vug_cavities *c = cavities_of(ctx, &b, hole, 1);
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    ck_assert_uint_eq(info.bores, 0);
    ck_assert_uint_eq(info.within_limit, 1);
    no_bare_skin(&info);
    vug_plan_free(plan);
    options.pose_given = 1;
    options.first_up[2] = 1.0;
    options.max_turns = 0;
    plan = plan_of(ctx, c, &options, &info);
    vug_plan_bore_info bore = {.struct_size = sizeof bore};
    ck_assert_uint_eq(info.bores, 1);
    ck_assert_uint_eq(info.within_limit, 1);
    no_bare_skin(&info);
    ck_assert_int_eq(vug_plan_bore(plan, 0, 0, &bore), VUG_OK);
    ck_assert(bore.point_mm[2] > 33.0); /* the highest cells end at z = 34 */
    ck_near(bore.depth_mm, 1.0, 0.5);
    ck_assert_uint_eq(vug_cavities_opening_count(vug_plan_cavities(plan, 0)), 2);
    ck_assert_int_eq(vug_plan_bore(plan, 0, 1, &bore), VUG_ERR_NOT_FOUND);
    can_be_named(ctx, c, hole, plan, info.bores);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Blind tubes all one way, from a gallery with the hole at its other side: turned over they drain
 * upward, so nothing is to be drilled, in one pose. Held the wrong way each tube needs its vent. */
START_TEST(comb_is_turned_over)
{
    static blocks b;
    vug_context *ctx = test_context();
    const double hole[7] = {20.5, 20.5, 9, 0, 0, -1, 2};
    vug_plan_info info;
    vug_plan_options options = quick();
    dig(&b, 4, 37, 18, 23, 10, 14);
    for (int k = 0; k < 4; k++)
        dig(&b, 5 + 9 * k, 9 + 9 * k, 18, 23, 14, 30);
    vug_cavities *c = cavities_of(ctx, &b, hole, 1);
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    ck_assert_uint_eq(info.bores, 0);
    ck_assert_uint_eq(info.steps - info.again, 1);
    ck_assert_uint_eq(info.within_limit, 1);
    ck_assert(up_z(plan, 0, 0, 2) < -0.7);
    vug_plan_free(plan);
    options.pose_given = 1;
    options.first_up[2] = 1.0;
    options.max_turns = 0;
    options.max_bores = 6;
    plan = plan_of(ctx, c, &options, &info);
    ck_assert_uint_eq(info.bores, 4);
    ck_assert_uint_eq(info.within_limit, 1);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A hub with arms along +x, -x, +y, -y and +z, the hole below. A straight arm keeps its air exactly
 * while its end is no lower than its mouth. With -z up the four level arms are a tie; leaning lets two
 * of them go and catches the other two, so one pose never does; a turn to the opposite lean lets
 * the others go. No new hole is needed, one turn is. */
START_TEST(star_needs_one_turn)
{
    static blocks b;
    vug_context *ctx = test_context();
    const double hole[7] = {20.5, 20.5, 11, 0, 0, -1, 3};
    vug_plan_info info;
    vug_plan_options options = quick();
    dig(&b, 17, 24, 17, 24, 12, 24);
    dig(&b, 24, 37, 18, 23, 15, 20);
    dig(&b, 4, 17, 18, 23, 15, 20);
    dig(&b, 18, 23, 24, 37, 15, 20);
    dig(&b, 18, 23, 4, 17, 15, 20);
    dig(&b, 18, 23, 18, 23, 24, 36);
    options.max_bores = 0;
    vug_cavities *c = cavities_of(ctx, &b, hole, 1);
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    ck_assert_uint_eq(info.bores, 0);
    ck_assert_uint_le(info.steps - info.again, 2);
    ck_assert_uint_eq(info.within_limit, 1);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static void same_numbers(const uint32_t *a, size_t count, const uint32_t *b, size_t others)
{
    ck_assert_uint_eq(count, others);
    for (size_t i = 0; i < count; i++)
        ck_assert_uint_eq(a[i], b[i]);
}

static void same_plans(const vug_plan *a, const vug_plan *b)
{
    ck_assert_uint_eq(vug_plan_count(a), vug_plan_count(b));
    for (size_t i = 0; i < vug_plan_count(a); i++) {
        vug_plan_info p = {.struct_size = sizeof p}, q = {.struct_size = sizeof q};
        ck_assert_int_eq(vug_plan_get(a, i, &p), VUG_OK);
        ck_assert_int_eq(vug_plan_get(b, i, &q), VUG_OK);
        ck_assert_mem_eq(&p, &q, sizeof p);
        for (int32_t sequence = 0; sequence < 2; sequence++)
            for (uint32_t k = 0; k < (sequence ? p.drain_steps : p.steps); k++) {
                vug_step_info s = {.struct_size = sizeof s}, t = {.struct_size = sizeof t};
                ck_assert_int_eq(vug_plan_step(a, i, sequence, k, &s), VUG_OK);
                ck_assert_int_eq(vug_plan_step(b, i, sequence, k, &t), VUG_OK);
                same_numbers(s.cover, s.cover_count, t.cover, t.cover_count);
                same_numbers(s.vent, s.vent_count, t.vent, t.vent_count);
                same_numbers(s.feed, s.feed_count, t.feed, t.feed_count);
                for (size_t f = 0; f < s.feed_count; f++)
                    ck_close(s.feed_mm3[f], t.feed_mm3[f], 0.0);
                same_numbers(s.open, s.open_count, t.open, t.open_count);
                same_numbers(s.show, s.show_count, t.show, t.show_count);
                ck_assert_uint_eq(s.way_count, t.way_count);
                s.open = t.open = s.show = t.show = NULL;
                s.feed_most_mm3 = t.feed_most_mm3 = s.way = t.way = NULL;
                s.cover = t.cover = s.vent = t.vent = s.feed = t.feed = NULL;
                s.feed_mm3 = t.feed_mm3 = NULL; /* the rest byte for byte */
                ck_assert_mem_eq(&s, &t, sizeof s);
            }
    }
}

/* An elbow and a hook: something to do for every stage. */
static vug_cavities *hook_wide(vug_context *ctx, size_t holes, double diameter)
{
    static blocks b;
    const double hole[7] = {6.5, 20.5, 0, 0, 0, -1, diameter};
    memset(&b, 0, sizeof b);
    dig(&b, 4, 9, 18, 23, 1, 30);
    dig(&b, 9, 30, 18, 23, 25, 30);
    dig(&b, 25, 30, 18, 23, 10, 25);
    dig(&b, 15, 25, 18, 23, 10, 14);
    return cavities_of(ctx, &b, hole, holes);
}

static vug_cavities *hook(vug_context *ctx, size_t holes)
{
    return hook_wide(ctx, holes, 3.0);
}

START_TEST(same_for_any_number_of_threads)
{
    vug_context_options one;
    vug_context *ctx = test_context(), *single = NULL;
    vug_plan_info info;
    vug_plan_options options = quick();
    vug_context_options_init(&one, sizeof one);
    one.threads = 1;
    ck_assert_int_eq(vug_context_create(&one, &single), VUG_OK);
    vug_cavities *c = hook(ctx, 1);
    vug_plan *a = plan_of(ctx, c, &options, &info), *b = plan_of(single, c, &options, &info);
    same_plans(a, b);
    vug_plan_free(a);
    vug_plan_free(b);
    vug_cavities_free(c);
    vug_context_free(ctx);
    vug_context_free(single);
}
END_TEST

static void check_books_of_drain(vug_context *ctx, const vug_plan *plan, size_t index,
    const vug_plan_info *info)
{
    double out = 0.0, left = 0.0;
    vug_step_info d = {.struct_size = sizeof d};
    ck_assert_uint_ge(info->drain_steps, 1);
    ck_assert_uint_le(info->drain_steps, 4);
    for (uint32_t k = 0; k < info->drain_steps; k++) {
        ck_ok(ctx, vug_plan_step(plan, index, VUG_PLAN_DRAIN, k, &d));
        out += d.inject_mm3;
        left = d.trapped_mm3;
        ck_assert(d.stuck_mm3 >= 0.0 && d.stuck_mm3 <= d.inject_mm3);
        ck_assert(k == 0 || d.inject_mm3 >= 50.0); /* a step is worth its turn */
        ck_close(d.up[0] * d.up[0] + d.up[1] * d.up[1] + d.up[2] * d.up[2], 1.0, 1e-12);
    }
    ck_near(out + left, info->capacity_mm3, 1e-9);
    ck_close(info->residue_mm3, left, 1e-9 * info->capacity_mm3);
    ck_assert_int_eq(vug_plan_step(plan, index, VUG_PLAN_DRAIN, info->drain_steps, &d),
        VUG_ERR_NOT_FOUND);
}

/* No two alternatives that a maker would not tell apart, and none that asks for more and gives no less air. */
static void check_differ(const vug_plan *plan)
{
    for (size_t i = 0; i < vug_plan_count(plan); i++)
        for (size_t k = 0; k < vug_plan_count(plan); k++) {
            vug_plan_info a = {.struct_size = sizeof a}, b = {.struct_size = sizeof b};
            ck_assert_int_eq(vug_plan_get(plan, i, &a), VUG_OK);
            ck_assert_int_eq(vug_plan_get(plan, k, &b), VUG_OK);
            bool more = b.bores >= a.bores && b.steps >= a.steps
                && b.within_limit <= a.within_limit;
            ck_assert(i >= k || !more || b.trapped_mm3 < a.trapped_mm3 - 1e-3 * a.capacity_mm3);
            ck_assert(i >= k || !more || b.trapped_mm3 < 0.9 * a.trapped_mm3 + 1e-9);
        }
}

/* Sums that must hold in any plan: what goes in and what stays make up the cavity, and so do
 * what runs out, what is drawn out and what stays; an opening that air leaves by is not sealed. */
START_TEST(books_balance)
{
    vug_context *ctx = test_context();
    vug_plan_info info;
    vug_plan_options options = quick();
    vug_cavities *c = hook(ctx, 1);
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    vug_cavity_info cavity = {.struct_size = sizeof cavity};
    for (size_t i = 0; i < vug_plan_count(plan); i++) {
        double in = 0.0, left = 0.0;
        ck_ok(ctx, vug_plan_get(plan, i, &info));
        ck_assert_int_eq(vug_cavities_get(vug_plan_cavities(plan, i), 0, &cavity), VUG_OK);
        ck_near(info.capacity_mm3, cavity.volume_mm3, 1e-12);
        for (uint32_t k = 0; k < info.steps; k++) {
            vug_step_info s = {.struct_size = sizeof s};
            ck_ok(ctx, vug_plan_step(plan, i, VUG_PLAN_FILL, k, &s));
            in += s.inject_mm3;
            left = s.trapped_mm3;
            ck_close(s.up[0] * s.up[0] + s.up[1] * s.up[1] + s.up[2] * s.up[2], 1.0, 1e-12);
            ck_assert(s.inlet >= 0 || s.inject_mm3 < 1.0);
        }
        ck_near(in + left, info.capacity_mm3, 1e-9);
        ck_near(info.inject_mm3, in, 1e-9);
        ck_close(info.trapped_mm3, left, 1e-9 * info.capacity_mm3);
        check_books_of_drain(ctx, plan, i, &info);
    }
    check_differ(plan);
    vug_step_info s = {.struct_size = sizeof s};
    ck_assert_int_eq(vug_plan_step(plan, 0, 7, 0, &s), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_plan_step(plan, 99, VUG_PLAN_FILL, 0, &s), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_plan_step(plan, 0, VUG_PLAN_FILL, 99, &s), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_plan_caution(plan, 0, VUG_CAUTION_RESIN), 1);
    ck_assert_int_eq(vug_plan_caution(plan, 0, VUG_CAUTION_COUNT), 0);
    ck_assert_ptr_null(vug_plan_cavities(plan, 99));
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* The last steps are those before them once more: two with a turn, or the only pose, which is no turn. And their leans
 * are what is told: each of four sides rises in turn, by as much. */
static void check_repeats(vug_context *ctx, const vug_plan *plan, size_t index,
    const vug_plan_info *info)
{
    const uint32_t first = info->steps - info->again, back = first > 1 ? 2 : 1;
    vug_step_info s = {.struct_size = sizeof s}, like = {.struct_size = sizeof like};
    ck_assert_uint_ge(first, 1);
    ck_assert_uint_eq(info->again, back * info->repeats);
    for (uint32_t k = first; k < info->steps; k++) {
        ck_ok(ctx, vug_plan_step(plan, index, VUG_PLAN_FILL, k, &s));
        ck_ok(ctx, vug_plan_step(plan, index, VUG_PLAN_FILL, k - back, &like));
        ck_assert_mem_eq(s.up, like.up, sizeof s.up);
        ck_assert(back > 1 || s.angle_deg == 0.0);
        if (k - back == 0 && back > 1)
            ck_assert_int_eq(s.inlet, -1); /* a first fill is not done again */
        else
            ck_assert_int_eq(s.inlet, like.inlet);
        ck_assert(s.lean_deg == like.lean_deg);
    }
    for (uint32_t k = 0; k < info->steps; k++) {
        ck_ok(ctx, vug_plan_step(plan, index, VUG_PLAN_FILL, k, &s));
        double sum[3] = {0.0, 0.0, 0.0};
        if (!(s.lean_deg > 0.0))
            continue;
        ck_assert_uint_ge(s.way_count, 5);
        const double *lean = s.way + 3 * (s.way_count - 5);
        ck_assert_mem_eq(lean, s.up, sizeof s.up);
        for (int i = 1; i < 5; i++) {
            const double *to = lean + 3 * i;
            double cosine = to[0] * s.up[0] + to[1] * s.up[1] + to[2] * s.up[2];
            ck_close(cosine, cos(s.lean_deg * 3.14159265358979323846 / 180.0), 1e-12);
            for (int j = 0; j < 3; j++)
                sum[j] += to[j] / cosine - s.up[j];
        }
        bool straight = fabs(s.up[0]) + fabs(s.up[1]) + fabs(s.up[2]) < 1.0 + 1e-9;
        for (int j = 0; j < 3 && straight; j++)
            ck_close(sum[j], 0.0, 1e-12); /* to opposite sides */
    }
}

/* Steps that hands often miss are done again: the same with none allowed comes out within the limit less often, and
 * takes as many steps less. Enough is 19 times out of 20. */
START_TEST(unsure_hands_do_it_again)
{
    vug_context *ctx = test_context();
    vug_plan_info info, once;
    vug_plan_options options = quick();
    vug_cavities *c = hook(ctx, 1);
    uint32_t most = 0;
    options.max_bores = 0;
    options.limit = 0.01;
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    for (size_t i = 0; i < vug_plan_count(plan); i++) {
        ck_ok(ctx, vug_plan_get(plan, i, &info));
        check_repeats(ctx, plan, i, &info);
        most = info.repeats > most ? info.repeats : most;
    }
    ck_ok(ctx, vug_plan_get(plan, 0, &info));
    options.max_repeats = 0;
    vug_plan *plain = plan_of(ctx, c, &options, &once);
    ck_assert_uint_eq(once.repeats, 0);
    ck_assert_uint_gt(most, 0);
    ck_assert_uint_eq(info.steps - info.again, once.steps);
    ck_assert_double_lt(once.chance, 0.95);
    ck_assert_double_gt(info.chance, once.chance);
    vug_plan_free(plain);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Two rooms of 10 and 5 cells a side that only their own holes lead into, and one of 4 that is closed: what is
 * injected by a hole is no more than its room takes, and the closed one gets nothing. */
START_TEST(each_room_by_its_own_hole)
{
    static blocks b;
    vug_context *ctx = test_context();
    const double hole[14] = {6, 6, 12, 0, 0, 1, 3, 22.5, 5.5, 12, 0, 0, 1, 3};
    vug_plan_info info;
    vug_plan_options options = quick();
    options.pose_given = 1;
    options.first_up[2] = 1.0;
    options.max_turns = options.max_bores = 0;
    dig(&b, 1, 11, 1, 11, 1, 11);
    dig(&b, 20, 25, 3, 8, 6, 11);
    dig(&b, 30, 34, 3, 7, 6, 10);
    vug_cavities *c = cavities_of(ctx, &b, hole, 2);
    ck_assert_uint_eq(vug_cavities_count(c), 3);
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    vug_step_info s = {.struct_size = sizeof s}, d = {.struct_size = sizeof d};
    ck_ok(ctx, vug_plan_step(plan, 0, VUG_PLAN_FILL, 0, &s));
    ck_ok(ctx, vug_plan_step(plan, 0, VUG_PLAN_DRAIN, 0, &d));
    ck_assert_uint_eq(s.feed_count, 2);
    ck_assert_int_eq(s.inlet, (int32_t)s.feed[0]);
    ck_assert_uint_eq(d.feed_count, 0);
    ck_assert_uint_eq(s.cover_count, 0);
    const double room[2] = {1000.0, 125.0}; /* and the bore: pi / 4 * 9 * 1 */
    for (size_t i = 0; i < 2; i++) {
        vug_opening_info o = {.struct_size = sizeof o};
        ck_assert_int_eq(vug_cavities_opening(vug_plan_cavities(plan, 0), s.feed[i], &o), VUG_OK);
        ck_assert_uint_eq(o.cavity, i);
        ck_assert(s.feed_mm3[i] <= room[i] + 7.07 + 1e-6);
        ck_assert(s.feed_mm3[i] >= 0.97 * room[i]);
    }
    ck_near(s.feed_mm3[0] + s.feed_mm3[1], s.inject_mm3, 1e-12);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* The spacing of 280 x 280 columns over the two longest sides of the part's cavity. */
static double fine_spacing(const vug_cavities *c)
{
    const vug_mesh *mesh = vug_cavities_mesh(c, 0, NULL);
    double product = 1.0, shortest = INFINITY;
    for (int k = 0; k < 3; k++) {
        double lo = INFINITY, hi = -INFINITY;
        for (size_t v = 0; v < vug_mesh_vertex_count(mesh); v++) {
            lo = fmin(lo, vug_mesh_vertices(mesh)[3 * v + (size_t)k]);
            hi = fmax(hi, vug_mesh_vertices(mesh)[3 * v + (size_t)k]);
        }
        product *= hi - lo;
        shortest = fmin(shortest, hi - lo);
    }
    return sqrt(product / shortest) / 280.0;
}

/* One call: fills or turns what is in *now, NULL at first, and moves it on. inlet -1: with all sealed. */
static vug_course_info one_call(vug_context *ctx, const vug_cavities *c, const double *up,
    const int32_t *roles, vug_fill_options *fill, vug_moment **now)
{
    vug_course *course = NULL;
    vug_moment *end = NULL;
    vug_fluid f = paint();
    size_t count = vug_cavities_opening_count(c);
    if (*now)
        ck_ok(ctx, vug_fill_turn(ctx, c, &f, *now, up, roles, count, fill, &course));
    else
        ck_ok(ctx, vug_fill_run(ctx, c, &f, up, roles, count, fill, &course));
    vug_course_info s = summary_of(course);
    ck_ok(ctx, vug_course_at_time(ctx, course, INFINITY, &end));
    vug_moment_free(*now);
    vug_course_free(course);
    *now = end;
    return s;
}

/* One step in the one cavity by the public calls, as it is told. */
static vug_course_info one_step(vug_context *ctx, const vug_cavities *c, const vug_step_info *step,
    double spacing, vug_moment **now)
{
    vug_fill_options fill;
    int32_t roles[8], sealed[8];
    ck_assert_uint_le(vug_cavities_opening_count(c), 8);
    vug_fill_options_init(&fill, sizeof fill);
    fill.spacing_mm = spacing;
    for (size_t i = 0; i < 8; i++) {
        roles[i] = VUG_ROLE_OPEN;
        sealed[i] = VUG_ROLE_SEALED;
    }
    for (size_t i = 0; i < step->way_count; i++)
        one_call(ctx, c, step->way + 3 * i, sealed, &fill, now);
    for (size_t i = 0; i < step->cover_count; i++)
        roles[step->cover[i]] = VUG_ROLE_SEALED;
    ck_assert_uint_eq(step->cover_count + step->open_count, vug_cavities_opening_count(c));
    fill.inlet = step->inlet;
    if (step->feed_count > 0)
        fill.volume_mm3 = step->feed_most_mm3[0];
    return one_call(ctx, c, step->up, step->inlet < 0 ? sealed : roles, &fill, now);
}

/* What the steps of an alternative leave by the public calls, where the hook's own hole is so wide. */
static double left_with(vug_context *ctx, const vug_plan *plan, size_t index,
    const vug_plan_info *info, double diameter)
{
    vug_cavities *c = hook_wide(ctx, 1, diameter);
    vug_moment *now = NULL;
    vug_course_info summary = {.struct_size = sizeof summary};
    for (uint32_t k = 0; k < info->steps; k++) {
        vug_step_info s = {.struct_size = sizeof s};
        ck_ok(ctx, vug_plan_step(plan, index, VUG_PLAN_FILL, k, &s));
        summary = one_step(ctx, c, &s, fine_spacing(c), &now);
    }
    vug_moment_free(now);
    vug_cavities_free(c);
    return summary.trapped_mm3 + summary.empty_mm3;
}

/* Hardly askew, only the holes are a tenth off: the worst of three widths, each of a third of the samples, for what
 * coarse columns see of the same poses takes nothing away and adds nothing. New holes let all of it out at any width. */
START_TEST(a_little_askew_is_as_told)
{
    vug_context *ctx = test_context();
    vug_plan_info info;
    vug_plan_options options = quick();
    vug_cavities *c = hook(ctx, 1);
    options.tilt_deg = 1e-3;
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    for (size_t i = 0; i < vug_plan_count(plan); i++) {
        ck_ok(ctx, vug_plan_get(plan, i, &info));
        double worst = info.trapped_mm3;
        for (int w = -1; w <= 1 && info.bores == 0; w++)
            worst = fmax(worst, left_with(ctx, plan, i, &info, 3.0 + 0.3 * w));
        ck_close(info.tilted_mm3, worst, 2e-3 * info.capacity_mm3);
    }
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Where no opening is covered on the way, the rate that the public call finds on 60 columns. */
static void check_rate(vug_context *ctx, const vug_cavities *c, const vug_step_info *step,
    double spacing)
{
    vug_fill_options fill;
    vug_fluid f = paint();
    double rate = 0.0;
    vug_fill_options_init(&fill, sizeof fill);
    fill.inlet = step->inlet;
    fill.spacing_mm = spacing;
    if (step->cover_count > 0 || step->show_count > 0)
        return;
    vug_status status = vug_fill_rate_limit(ctx, c, &f, step->up, NULL, 0, &fill, &rate);
    ck_assert(status == VUG_OK || status == VUG_ERR_NOT_FOUND);
    ck_near(step->rate_mm3_s, status || rate >= 1e5 ? 0.0 : rate, 1e-9);
}

/* What runs out by itself: all by the end of the flow, or so much by the time that is told. */
static void check_running(vug_context *ctx, const vug_course *course, const vug_step_info *s)
{
    vug_moment *then = NULL;
    vug_moment_info info = {.struct_size = sizeof info};
    vug_course_info summary = summary_of(course);
    ck_assert((s->time_s < 0.0) == (s->wait_s < 0.0));
    ck_assert(s->wait_s < 0.0 || s->wait_s >= s->time_s);
    if (s->time_s < 0.0) {
        ck_close(s->stuck_mm3, s->inject_mm3, 1e-9 * summary.capacity_mm3);
        return;
    }
    if (summary.time_s >= 0.0)
        ck_close(summary.time_s, s->time_s, 1e-9 * fmax(1.0, s->time_s));
    ck_ok(ctx, vug_course_at_time(ctx, course, s->time_s, &then));
    ck_assert_int_eq(vug_moment_get(then, &info), VUG_OK);
    ck_close(info.liquid_mm3, s->trapped_mm3 + s->stuck_mm3, 1e-9 * summary.capacity_mm3);
    vug_moment_free(then);
}

/* The steps of the drain by the public calls, each from where the one before ended. */
static void check_drain(vug_context *ctx, const vug_plan *plan, size_t index, double spacing)
{
    const vug_cavities *final = vug_plan_cavities(plan, index);
    vug_plan_info info = {.struct_size = sizeof info};
    vug_moment *now = NULL;
    ck_ok(ctx, vug_plan_get(plan, index, &info));
    for (uint32_t k = 0; k < info.drain_steps; k++) {
        vug_course *course = NULL;
        vug_step_info s = {.struct_size = sizeof s};
        vug_drain_options drain;
        vug_drain_options_init(&drain, sizeof drain);
        drain.spacing_mm = spacing;
        drain.begin = now;
        ck_ok(ctx, vug_plan_step(plan, index, VUG_PLAN_DRAIN, k, &s));
        ck_ok(ctx, vug_drain_run(ctx, final, NULL, s.up, NULL, 0, &drain, &course));
        vug_course_info summary = summary_of(course);
        ck_close(summary.liquid_mm3, s.trapped_mm3, 1e-9 * info.capacity_mm3);
        if (k == 0)
            ck_close(summary.capacity_mm3 - summary.liquid_mm3, s.inject_mm3,
                1e-9 * info.capacity_mm3);
        if (s.inject_mm3 > 1.0) {
            check_running(ctx, course, &s);
        }
        vug_moment_free(now);
        now = NULL;
        ck_ok(ctx, vug_course_at_time(ctx, course, INFINITY, &now));
        vug_course_free(course);
    }
    vug_moment_free(now);
}

/* The first step's trapped air by another algorithm on the final part. */
static void check_pockets(vug_context *ctx, const vug_cavities *final, const vug_step_info *first,
    double capacity)
{
    vug_pockets *pockets = NULL;
    ck_ok(ctx, vug_pockets_find(ctx, final, first->up, NULL, 0, NULL, &pockets));
    ck_close(first->trapped_mm3, vug_pockets_trapped_mm3(pockets), 0.005 * capacity);
    vug_pockets_free(pockets);
}

/* The simulation of the fill, step by step on the final part, says what the plan says; and the drain
 * what drains say. */
START_TEST(every_step_is_what_a_fill_says)
{
    vug_context *ctx = test_context();
    vug_plan_info info;
    vug_plan_options options = quick();
    options.verify_across = 280;
    vug_cavities *c = hook(ctx, 1);
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    double spacing = fine_spacing(c);
    uint32_t most = 0;
    for (size_t i = 0; i < vug_plan_count(plan); i++) {
        const vug_cavities *final = vug_plan_cavities(plan, i);
        vug_moment *now = NULL;
        vug_step_info s = {.struct_size = sizeof s};
        ck_ok(ctx, vug_plan_get(plan, i, &info));
        for (uint32_t k = 0; k < info.steps; k++) {
            ck_ok(ctx, vug_plan_step(plan, i, VUG_PLAN_FILL, k, &s));
            vug_course_info summary = one_step(ctx, final, &s, spacing, &now);
            if (k == 0) {
                check_rate(ctx, final, &s, spacing * 280.0 / 60.0);
                check_pockets(ctx, final, &s, info.capacity_mm3);
            } else {
                ck_close(s.rate_mm3_s, 0.0, 0.0);
            }
            ck_close(summary.liquid_mm3 - summary.start_mm3, s.inject_mm3,
                1e-6 * info.capacity_mm3);
            ck_close(summary.trapped_mm3 + summary.empty_mm3, s.trapped_mm3,
                1e-9 * info.capacity_mm3);
            ck_close(summary.empty_mm3, s.empty_mm3, 1e-9 * info.capacity_mm3);
        }
        vug_moment_free(now);
        most = info.steps > most ? info.steps : most;
        /* bubbles on coarse columns, another algorithm, come to the same */
        ck_close(info.searched_mm3, info.trapped_mm3, 0.01 * info.capacity_mm3);
        check_drain(ctx, plan, i, spacing);
    }
    ck_assert_uint_gt(most, 1);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A flat square spiral in the y-z plane, blind in its middle, the hole at its outer end. Whatever the
 * pose, a winding around has a highest place that keeps air; turning about x hands it on, and it has to
 * go around as often as the spiral does: more windings take more turns. A helix would not: it drains
 * with its axis upright. */
static uint32_t turns_of_spiral(vug_context *ctx, int legs)
{
    static blocks b;
    static const int dy[4] = {1, 0, -1, 0}, dz[4] = {0, 1, 0, -1};
    int y = 18, z = 18;
    memset(&b, 0, sizeof b);
    for (int leg = 0; leg < legs; leg++) {
        int length = 5 * (leg / 2 + 1), k = leg % 4;
        for (int i = 0; i <= length; i++)
            dig(&b, 2, 5, y + i * dy[k], y + i * dy[k] + 3, z + i * dz[k], z + i * dz[k] + 3);
        y += length * dy[k];
        z += length * dz[k];
    }
    int last = (legs - 1) % 4;
    const double hole[7] = {3.5, y + 1.5 + 2.5 * dy[last], z + 1.5 + 2.5 * dz[last], 0, dy[last],
        dz[last], 2};
    vug_cavities *c = cavities_of(ctx, &b, hole, 1);
    vug_plan_options options = quick();
    vug_plan_info info;
    options.pose_count = 26; /* the sides, edges and corners of a cube */
    options.max_turns = 12;
    options.max_bores = 0;
    options.limit = 0.02;
    options.tilt_deg = 0.0; /* in exact hands no turn is done again */
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    ck_assert_msg(info.within_limit, "%d legs: %g of %g mm3 stay after %u turns", legs,
        info.trapped_mm3, info.capacity_mm3, (unsigned)info.steps - 1);
    uint32_t turns = info.steps - 1;
    vug_plan_free(plan);
    vug_cavities_free(c);
    return turns;
}

START_TEST(spiral_takes_its_windings)
{
    vug_context *ctx = test_context();
    uint32_t one = turns_of_spiral(ctx, 3), two = turns_of_spiral(ctx, 6);
    ck_assert_msg(two > one, "3 legs take %u turns, 6 legs %u", (unsigned)one, (unsigned)two);
    vug_context_free(ctx);
}
END_TEST

/* No opening yet: an inlet is proposed, out of the sight of anyone who looks from above, and not
 * where the caller forbids. */
START_TEST(design_proposes_the_inlet)
{
    vug_context *ctx = test_context();
    vug_plan_info info;
    vug_plan_bore_info bore = {.struct_size = sizeof bore};
    vug_plan_options options = quick();
    vug_cavities *c = hook(ctx, 0);
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    ck_assert_uint_ge(info.bores, 1);
    ck_ok(ctx, vug_plan_bore(plan, 0, 0, &bore));
    ck_assert_msg(bore.direction[2] > 0.5,
        "not into the underside: (%g, %g, %g) towards (%g, %g, %g), "
        "seen %g",
        bore.point_mm[0], bore.point_mm[1], bore.point_mm[2], bore.direction[0], bore.direction[1],
        bore.direction[2], bore.visibility);
    ck_assert(bore.diameter_mm >= 1.651); /* a 16 G needle goes through: 1.651 mm, gauge charts */
    double first[3] = {bore.point_mm[0], bore.point_mm[1], bore.point_mm[2]};
    vug_plan_free(plan);
    const double clear[4] = {first[0], first[1], first[2], 6.0};
    options.keep_clear = clear;
    options.keep_clear_count = 1;
    plan = plan_of(ctx, c, &options, &info);
    for (uint32_t k = 0; k < info.bores; k++) {
        ck_ok(ctx, vug_plan_bore(plan, 0, k, &bore));
        double d2 = 0.0;
        for (int j = 0; j < 3; j++)
            d2 += (bore.point_mm[j] - first[j]) * (bore.point_mm[j] - first[j]);
        ck_assert(d2 > 36.0);
    }
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static int32_t stop_at(void *user, double fraction, const char *stage)
{
    (void)stage;
    return fraction >= *(const double *)user;
}

START_TEST(can_be_cancelled_anywhere)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hook(ctx, 1);
    const double at[] = {0.0, 0.1, 0.35, 0.55, 0.7, 0.85, 0.99};
    for (size_t i = 0; i < sizeof at / sizeof *at; i++) {
        vug_plan *plan = NULL;
        double limit = at[i];
        ctx->pause_ns = 0; /* hear of all */
        ck_ok(ctx, vug_context_set_progress(ctx, stop_at, &limit));
        ck_assert_int_eq(vug_plan_make(ctx, c, NULL, NULL, NULL, 0, &options, &plan),
            VUG_ERR_CANCELLED);
        ck_assert_ptr_null(plan);
    }
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Two holes in the side of a box, one over the other or side by side: how the rinsing liquid comes out. */
static int32_t needs_help(vug_context *ctx, double diameter, double apart, const double up[3])
{
    static blocks b;
    const double hole[14] = {15, 8, 12, -1, 0, 0, diameter, 15, 8 + (apart == 0.0 ? 6.0 : 0.0),
        12 + apart, -1, 0, 0, diameter};
    memset(&b, 0, sizeof b);
    dig(&b, 16, 26, 4, 24, 4, 38);
    vug_cavities *c = cavities_of(ctx, &b, hole, 2);
    vug_plan_options options = quick();
    vug_fluid f = paint(), rinse;
    vug_plan *plan = NULL;
    vug_step_info step = {.struct_size = sizeof step};
    options.pose_given = 1;
    memcpy(options.first_up, up, sizeof options.first_up);
    options.max_turns = options.max_bores = 0;
    vug_fluid_init(&rinse, sizeof rinse); /* isopropanol at 20 C: CRC Handbook, 44th edition */
    rinse.density_kg_m3 = 786.0;
    rinse.surface_tension_n_m = 0.0217;
    rinse.consistency_pa_sn = 2.37e-3;
    rinse.contact_angle_deg = 0.0;
    ck_ok(ctx, vug_plan_make(ctx, c, &f, &rinse, NULL, 0, &options, &plan));
    ck_ok(ctx, vug_plan_step(plan, 0, VUG_PLAN_DRAIN, 0, &step));
    int32_t caution = vug_plan_caution(plan, 0, VUG_CAUTION_EXCHANGE);
    ck_assert_int_eq(caution, step.wait_s < 0.0 || step.stuck_mm3 >= 50.0);
    vug_plan_free(plan);
    vug_cavities_free(c);
    return caution;
}

/* Isopropanol does not pass air in a hole under 2 x 0.917622 sqrt(tension / (density g)) = 3.08 mm (marginal
 * meniscus in a wetted tube). Two holes of 2 mm let it out when the head between them is more than
 * Laplace's 4 tension / diameter for the air that breaks in and the drop that breaks out: each 5.63 mm of
 * it. It is washed in a pose that has the head, where there is one, however it is filled: no pose has more than the
 * holes are apart. */
START_TEST(narrow_holes_need_a_head)
{
    vug_context *ctx = test_context();
    const double upright[3] = {0, 0, 1}, lying[3] = {1, 0, 0};
    ck_assert_int_eq(needs_help(ctx, 2.0, 0.0, upright), 1);
    ck_assert_int_eq(needs_help(ctx, 2.0, 10.8, upright), 1);
    ck_assert_int_eq(needs_help(ctx, 2.0, 11.8, upright), 0);
    ck_assert_int_eq(needs_help(ctx, 2.0, 20.0, lying), 0);
    ck_assert_int_eq(needs_help(ctx, 3.0, 0.0, upright), 1);
    ck_assert_int_eq(needs_help(ctx, 3.2, 0.0, upright), 0);
    vug_context_free(ctx);
}
END_TEST

typedef struct heard {
    double last;
    int tenth[10]; /* reports in each tenth of the way */
} heard;

static int32_t hear(void *user, double fraction, const char *stage)
{
    heard *h = user;
    ck_assert_ptr_nonnull(stage);
    ck_assert(fraction >= h->last && fraction <= 1.0);
    h->last = fraction;
    h->tenth[fraction < 1.0 ? (int)(10.0 * fraction) : 9]++;
    return 0;
}

/* Progress only grows, ends at 1, and is heard of in every tenth of the way that takes its time: the
 * header's promise. */
START_TEST(progress_goes_on)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_plan_info info;
    heard h = {0.0, {0}};
    vug_cavities *c = hook(ctx, 1);
    options.max_turns = 0;
    ctx->pause_ns = 0; /* hear of all */
    ctx->threads = 1;  /* the caller alone reports; its share is else up to the machine's load */
    ck_ok(ctx, vug_context_set_progress(ctx, hear, &h));
    vug_plan_free(plan_of(ctx, c, &options, &info));
    ck_assert_uint_ge(info.bores, 1);
    ck_assert(h.last == 1.0);
    ck_assert_int_ge(h.tenth[0], 10); /* poses */
    ck_assert_int_ge(h.tenth[1] + h.tenth[2], 3);
    ck_assert_int_ge(h.tenth[5] + h.tenth[6] + h.tenth[7], 5); /* bores */
    ck_assert_int_ge(h.tenth[8] + h.tenth[9], 3);              /* proofs */
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

START_TEST(bad_input_is_refused)
{
    vug_context *ctx = test_context();
    vug_cavities *c = hook(ctx, 1);
    vug_plan *plan = NULL;
    vug_plan_options o = quick();
    vug_fluid f = paint();
    const int32_t odd = 99;
    const double nan_row[4] = {0, NAN, 0, 1};
    ck_assert_int_eq(vug_plan_make(NULL, c, NULL, NULL, NULL, 0, &o, &plan), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_plan_make(ctx, NULL, NULL, NULL, NULL, 0, &o, &plan), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_plan_make(ctx, c, NULL, NULL, NULL, 0, &o, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_plan_make(ctx, c, NULL, NULL, &odd, 1, &o, &plan), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_plan_make(ctx, c, NULL, NULL, &odd, 2, &o, &plan), VUG_ERR_ARGUMENT);
    f.consistency_pa_sn = 1e300;
    ck_assert_int_eq(vug_plan_make(ctx, c, &f, NULL, NULL, 0, &o, &plan), VUG_ERR_DOMAIN);
    o.limit = NAN;
    ck_assert_int_eq(vug_plan_make(ctx, c, NULL, NULL, NULL, 0, &o, &plan), VUG_ERR_ARGUMENT);
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "limit"));
    o = quick();
    o.pose_given = 1;
    ck_assert_int_eq(vug_plan_make(ctx, c, NULL, NULL, NULL, 0, &o, &plan), VUG_ERR_ARGUMENT);
    o = quick();
    o.keep_clear = nan_row;
    o.keep_clear_count = 1;
    ck_assert_int_eq(vug_plan_make(ctx, c, NULL, NULL, NULL, 0, &o, &plan), VUG_ERR_ARGUMENT);
    o = quick();
    o.max_turns = 1000;
    ck_assert_int_eq(vug_plan_make(ctx, c, NULL, NULL, NULL, 0, &o, &plan), VUG_ERR_ARGUMENT);
    o = quick();
    o.triangle_flag_count = 3;
    ck_assert_int_eq(vug_plan_make(ctx, c, NULL, NULL, NULL, 0, &o, &plan), VUG_ERR_ARGUMENT);
    ck_assert_ptr_null(plan);
    vug_plan_free(NULL);
    ck_assert_uint_eq(vug_plan_count(NULL), 0);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

START_TEST(words_for_poses_and_turns)
{
    vug_context *ctx = test_context();
    const double up[3] = {0, 0, 5}, over[3] = {0, 0, -1}, right[3] = {1, 0, 0}, none[3] = {0, 0, 0};
    const double lean[3] = {0, 1, 1.7320508075688772}; /* 30 degrees from upright */
    char text[200];
    ck_ok(ctx, vug_pose_words(ctx, NULL, up, text, sizeof text));
    ck_assert_str_eq(text, "upright, its top straight up");
    ck_ok(ctx, vug_pose_words(ctx, NULL, lean, text, sizeof text));
    ck_assert_str_eq(text, "upright, its top up, leaning 30 degrees so that its back rises");
    ck_ok(ctx, vug_pose_words(ctx, up, over, text, sizeof text));
    ck_assert_ptr_nonnull(strstr(text, "turn it over"));
    ck_ok(ctx, vug_pose_words(ctx, up, right, text, sizeof text));
    ck_assert_ptr_nonnull(strstr(text, "90 degrees"));
    ck_assert_ptr_nonnull(strstr(text, "lying, its right side straight up"));
    ck_ok(ctx, vug_pose_words(ctx, up, right, text, 5));
    ck_assert_uint_eq(strlen(text), 4);
    ck_assert_int_eq(vug_pose_words(ctx, NULL, none, text, sizeof text), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pose_words(ctx, NULL, up, NULL, 9), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_pose_words(ctx, up, over, text, 0), VUG_ERR_ARGUMENT);
    for (int32_t k = 0; k < VUG_CAUTION_COUNT; k++)
        ck_assert_ptr_nonnull(vug_caution_text(k));
    ck_assert_ptr_null(vug_caution_text(VUG_CAUTION_COUNT));
    ck_assert_ptr_null(vug_caution_text(-1));
    vug_context_free(ctx);
}
END_TEST

static vug_status plan_it(vug_context *ctx, void *cavities)
{
    vug_plan *plan = NULL;
    vug_plan_options options = quick();
    options.columns_across = 24;
    options.verify_across = 32;
    options.pose_count = 8;
    options.max_turns = 1;
    options.max_bores = 1;
    vug_status status = vug_plan_make(ctx, cavities, NULL, NULL, NULL, 0, &options, &plan);
    vug_plan_free(plan);
    return status;
}

/* Some of the many allocations fail in turn: always a clean VUG_ERR_MEMORY, nothing left behind. */
START_TEST(no_memory_is_survived)
{
    vug_context *ctx = test_context();
    vug_cavities *cavities = hook(ctx, 1);
    failing_by(plan_it, cavities, 4, test_quick() ? 0.5 : 1.0 / 3.0);
    vug_cavities_free(cavities);
    vug_context_free(ctx);
}
END_TEST

/* A shut ball with a wall of 2 mm, by hand, one triangle of its skin and one of the wall left out: its cavity is measured on a grid, which lies
 * beside the wall, and that is as thick all the same. */
START_TEST(walls_by_a_grid_are_as_thick)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_plan_info info = {.struct_size = sizeof info};
    vug_cavities *c = NULL;
    vug_plan *plan = NULL;
    vug_cavity_info cavity = {.struct_size = sizeof cavity};
    shape s = shape_of_mesh(shape_hollow_ball(ctx, 8.0, 10.0, 0.0, 64));
    s.triangle_count--;
    memmove(s.triangles, s.triangles + 3, 3 * --s.triangle_count * sizeof *s.triangles);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, NULL, &c));
    ck_ok(ctx, vug_cavities_get(c, 0, &cavity));
    ck_assert_int_eq(cavity.exact, 0);
    options.design = 1;
    options.max_turns = 0;
    ck_ok(ctx, vug_plan_make(ctx, c, NULL, NULL, NULL, 0, &options, &plan));
    ck_ok(ctx, vug_plan_get(plan, 0, &info));
    ck_near(info.wall_mm, 2.0, 0.01);
    char *told = NULL, doubt[400]; /* the plan says it in the very words that other programs do */
    ck_ok(ctx, vug_doubt_words(ctx, c, -1, doubt, sizeof doubt));
    ck_assert_msg(strncmp(doubt, "Not sure about the cavity: ", 27) == 0, "%s", doubt);
    ck_ok(ctx, vug_plan_text(ctx, plan, 0, NULL, NULL, NULL, 10000, &told));
    ck_assert_ptr_nonnull(strstr(told, doubt));
    vug_free(ctx, told);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("plan make");
    TCase *tc = tcase_create("plan");
    tcase_add_test(tc, bulb_needs_its_top);
    tcase_add_test(tc, star_needs_one_turn);
    tcase_add_test(tc, books_balance);
    tcase_add_test(tc, each_room_by_its_own_hole);
    if (!test_quick()) {
        tcase_add_test(tc, comb_is_turned_over);
        tcase_add_test(tc, same_for_any_number_of_threads);
        tcase_add_test(tc, unsure_hands_do_it_again);
        tcase_add_test(tc, a_little_askew_is_as_told);
        tcase_add_test(tc, every_step_is_what_a_fill_says);
        tcase_add_test(tc, spiral_takes_its_windings);
        tcase_add_test(tc, narrow_holes_need_a_head);
    }
    tcase_add_test(tc, design_proposes_the_inlet);
    tcase_add_test(tc, walls_by_a_grid_are_as_thick);
    tcase_add_test(tc, can_be_cancelled_anywhere);
    tcase_add_test(tc, progress_goes_on);
    tcase_add_test(tc, bad_input_is_refused);
    tcase_add_test(tc, words_for_poses_and_turns);
    tcase_add_test(tc, no_memory_is_survived);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
