/* SPDX-License-Identifier: MIT
 * plan: throats and stiff paint hold bubbles back. */
#include "airtree/pose_set.h"

#include "plan/planning.h"
#include "plan/verify/bubbles.h"

#include "failing.h"
#include "shapes.h"
#include "test.h"

static const double PI = 3.14159265358979323846, G = 9.80665;

/* Two balls of radius 8 mm, one over the other, joined by a straight neck of this radius. Openings of
 * 2 mm radius: at the top of the upper ball, and, if asked for, at the equator of the lower one. */
enum { BALL = 8, APART = 20 };

static vug_cavities *two_balls(vug_context *ctx, double neck, int side_hole, double factor)
{
    double inner[2 * 256], outer[] = {0, -10, 11, -10, 11, 30, 0, 30};
    double angle = acos(neck / BALL) * 180.0 / PI;
    shape s = {0};
    size_t n = shape_arc(inner, 0, 0.0, 0.0, BALL, -90.0, angle, 60);
    n = shape_arc(inner, n, 0.0, APART, BALL, -angle, 90.0, 60);
    shape_revolve(&s, outer, 4, 96, 0);
    shape_revolve(&s, inner, n, 96, 1);
    shape_scale(&s, factor);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    vug_cavities *c = NULL;
    double hole[14] = {0, 0, 30 * factor, 0, 0, 1, 4 * factor, 11 * factor, 0, 0, 1, 0, 0,
        4 * factor};
    ck_ok(ctx, vug_cavities_find(ctx, mesh, hole, side_hole ? 2 : 1, NULL, &c));
    vug_mesh_free(mesh);
    return c;
}

/* The lower ball with half of the neck, by the handbook formulas for a segment and a cylinder. */
static double lower_volume(double neck)
{
    double z = sqrt(BALL * BALL - neck * neck), zone = PI * (BALL * BALL * z - z * z * z / 3.0);
    return 2.0 / 3.0 * PI * BALL * BALL * BALL + zone + PI * neck * neck * (0.5 * APART - z);
}

static vug_fluid fluid(double density, double tension, double consistency, double yield)
{
    vug_fluid f;
    vug_fluid_init(&f, sizeof f);
    f.density_kg_m3 = density;
    f.surface_tension_n_m = tension;
    f.consistency_pa_sn = consistency;
    f.yield_stress_pa = yield;
    f.contact_angle_deg = 0.0;
    return f;
}

static vug_plan *plan_for(vug_context *ctx, const vug_cavities *c, const vug_fluid *f,
    vug_plan_info *info)
{
    vug_plan *plan = NULL;
    vug_plan_options o;
    vug_plan_options_init(&o, sizeof o);
    o.columns_across = 70;
    o.verify_across = 140;
    o.pose_count = 26;
    o.max_turns = 2;
    o.max_bores = 0;
    ck_ok(ctx, vug_plan_make(ctx, c, f, NULL, NULL, 0, &o, &plan));
    info->struct_size = sizeof *info;
    ck_ok(ctx, vug_plan_get(plan, 0, info));
    return plan;
}

/* Filled by the upper ball alone, the lower one gets nothing through a neck in which liquid stands over
 * air: of radius under 0.917622 sqrt(tension / (density g)) (marginal meniscus in a wetted tube; the
 * same as Bretherton's 0.842, J. Fluid Mech. 10:166, 1961), or, in stiff paint, under yield stress /
 * (0.143 density g) (Tsamopoulos et al. 2008, J. Fluid Mech. 601). A neck a little wider lets all air
 * out. */
START_TEST(a_neck_holds_under_the_limit)
{
    vug_context *ctx = test_context();
    const vug_fluid list[] = {fluid(998.207, 0.072736, 1.0016e-3, 0.0), /* water, 20 C, IAPWS */
        fluid(1100.0, 0.035, 10.0, 0.0), fluid(1200.0, 0.035, 2.0, 4.0)};
    const double limit[] = {0.917622 * sqrt(0.072736 / (998.207 * G)) * 1e3,
        0.917622 * sqrt(0.035 / (1100.0 * G)) * 1e3, 4.0 / (0.143 * 1200.0 * G) * 1e3};
    for (int i = 0; i < 3; i++)
        for (int wide = 0; wide < 2; wide++) {
            double neck = limit[i] * (wide ? 1.04 : 0.96);
            vug_plan_info info;
            vug_cavities *c = two_balls(ctx, neck, 0, 1.0);
            vug_plan *plan = plan_for(ctx, c, list + i, &info);
            ck_near(info.throat_limit_mm, 2.0 * limit[i], 1e-4);
            ck_assert_uint_eq(info.throats, wide ? 0 : 1);
            ck_assert_int_eq(vug_plan_caution(plan, 0, VUG_CAUTION_THROAT), !wide);
            ck_assert_int_eq(info.within_limit, wide);
            if (wide) {
                ck_close(info.trapped_mm3, 0.0, 0.005 * info.capacity_mm3);
            } else {
                ck_near(info.throat_mm, 2.0 * neck, 0.02);
                ck_near(info.trapped_mm3, lower_volume(neck), 0.02);
                ck_near(info.searched_mm3, lower_volume(neck), 0.04);
            }
            vug_plan_free(plan);
            vug_cavities_free(c);
        }
    vug_context_free(ctx);
}
END_TEST

/* Lengths times 3 and tension times 9: the same Bond number, so the same answer, 27 times as large.
 * Lengths alone: the neck is too wide to hold. */
START_TEST(scaling_scales_the_answer)
{
    vug_context *ctx = test_context();
    vug_fluid thin = fluid(1100.0, 0.035, 10.0, 0.0), taut = fluid(1100.0, 9.0 * 0.035, 10.0, 0.0);
    double neck = 0.8 * 0.917622 * sqrt(0.035 / (1100.0 * G)) * 1e3;
    vug_cavities *small = two_balls(ctx, neck, 0, 1.0), *large = two_balls(ctx, neck, 0, 3.0);
    vug_plan_info a, b, free;
    vug_plan_free(plan_for(ctx, small, &thin, &a));
    vug_plan_free(plan_for(ctx, large, &taut, &b));
    vug_plan_free(plan_for(ctx, large, &thin, &free));
    ck_near(b.trapped_mm3, 27.0 * a.trapped_mm3, 1e-3);
    ck_near(b.throat_mm, 3.0 * a.throat_mm, 1e-3);
    ck_assert_uint_eq(a.throats, 1);
    ck_assert_uint_eq(free.throats, 0);
    ck_assert_uint_eq(free.within_limit, 1);
    vug_cavities_free(small);
    vug_cavities_free(large);
    vug_context_free(ctx);
}
END_TEST

/* In any pose, at any spacing, there is no way past a barrier: two pieces with it, one without, and nothing
 * of the volume is lost. */
START_TEST(no_way_past_a_gate)
{
    enum { POSES = 60 };
    vug_context *ctx = test_context();
    double ups[3 * POSES];
    vug_sphere_points(POSES - 6, ups);
    for (int i = 0; i < 6; i++)
        for (int k = 0; k < 3; k++)
            ups[3 * (POSES - 6 + i) + k] = k == i / 2 ? (i % 2 ? -1.0 : 1.0) : 0.0;
    for (int round = 0; round < 2; round++) {
        vug_cavities *c = two_balls(ctx, round ? 3.0 : 1.6, 0, 1.0);
        vugi_barriers barriers, none;
        ck_ok(ctx, vugi_barriers_build(ctx, c, 7.0, &barriers));
        ck_ok(ctx, vugi_barriers_build(ctx, c, 0.0, &none));
        ck_assert_uint_eq(barriers.count, 1);
        ck_assert_uint_eq(none.count, 0);
        for (double h = 0.15; h < 1.0; h *= 1.5) {
            vugi_pose_set with, without;
            ck_ok(ctx, vugi_pose_set_build(ctx, c, &barriers, ups, NULL, POSES, h, &with));
            ck_ok(ctx, vugi_pose_set_build(ctx, c, &none, ups, NULL, POSES, h, &without));
            for (size_t i = 0; i < POSES; i++) {
                const vugi_airtree *d = with.tree + i, *e = without.tree + i;
                double room = 0.0;
                int roots = 0, whole = 0;
                for (size_t k = 0; k < d->count; k++)
                    if (d->node[k].parent == VUGI_NO_AIRNODE && d->node[k].room > 1.0) {
                        roots++;
                        room += d->node[k].room;
                        ck_close(d->node[k].room, 0.5 * d->volume, 0.05 * d->volume);
                    }
                for (size_t k = 0; k < e->count; k++)
                    whole += e->node[k].parent == VUGI_NO_AIRNODE && e->node[k].room > 1.0;
                ck_assert_msg(roots == 2, "%d pieces at spacing %g with (%g, %g, %g) up", roots, h,
                    ups[3 * i], ups[3 * i + 1], ups[3 * i + 2]);
                ck_assert_int_eq(whole, 1);
                ck_near(d->volume, e->volume, 1e-9);
                ck_near(room, d->volume, 1e-3);
            }
            vugi_pose_set_free(&ctx->mem, &with);
            vugi_pose_set_free(&ctx->mem, &without);
        }
        vugi_barriers_free(&ctx->mem, &barriers);
        vug_cavities_free(c);
    }
    vug_context_free(ctx);
}
END_TEST

/* Upside down the lower ball is the upper: its air above the rim of its hole stays, the segment of
 * height 8 - 2 (handbook), with the neck open or not, since paint comes in on one side and air goes out on the
 * other. Then upright: the air rises through the neck to the hole at the top, or waits below the neck,
 * or, in paint that holds bubbles of its size, does not move. */
static vug_status turn_over(vug_context *ctx, const vug_cavities *c, double limit, double held,
    double h, vugi_bubbles_step step[2])
{
    const double up[6] = {0, 0, -1, 0, 0, 1};
    const bool closed[2] = {false, false};
    double capacity;
    vugi_barriers barriers;
    vug_status status = vugi_barriers_build(ctx, c, limit, &barriers);
    vugi_bubbles_task task = {.cavities = c,
        .closed = closed,
        .barriers = &barriers,
        .held = held,
        .up = up,
        .steps = 2,
        .h = h,
        .turn_step_deg = h > 1.0 ? 60.0 : 0.0};
    if (!status)
        status = vugi_bubbles_run(ctx, &task, step, &capacity);
    vugi_barriers_free(&ctx->mem, &barriers);
    return status;
}

START_TEST(air_waits_below_a_neck)
{
    vug_context *ctx = test_context();
    vug_cavities *c = two_balls(ctx, 2.5, 1, 1.0);
    vugi_bubbles_step open[2], shut[2], stiff[2], loose[2];
    double height = BALL - 2.0, segment = PI * height * height * (3.0 * BALL - height) / 3.0;
    ck_ok(ctx, turn_over(ctx, c, 4.9, 0.0, 0.2, open));
    ck_ok(ctx, turn_over(ctx, c, 5.1, 0.0, 0.2, shut));
    ck_ok(ctx, turn_over(ctx, c, 4.9, 1.1 * segment, 0.2, stiff));
    ck_ok(ctx, turn_over(ctx, c, 4.9, 0.9 * segment, 0.2, loose));
    ck_near(open[0].trapped, segment, 0.03);
    ck_near(shut[0].trapped, open[0].trapped, 1e-3);
    ck_close(open[1].trapped, 0.0, 0.01 * segment);
    ck_near(shut[1].trapped, shut[0].trapped, 1e-6);
    ck_near(stiff[1].trapped, open[0].trapped, 1e-6);
    ck_near(loose[1].trapped, open[1].trapped, 1e-9);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static vug_status coarse_turn(vug_context *ctx, void *cavities)
{
    vugi_bubbles_step step[2];
    return turn_over(ctx, cavities, 5.1, 1.0, 1.5, step);
}

START_TEST(no_memory_is_survived)
{
    vug_context *ctx = test_context();
    vug_cavities *c = two_balls(ctx, 2.5, 1, 1.0);
    failing_until_success(coarse_turn, c);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("plan throat");
    TCase *tc = tcase_create("throat");
    if (!test_quick()) {
        tcase_add_test(tc, a_neck_holds_under_the_limit);
        tcase_add_test(tc, scaling_scales_the_answer);
    }
    tcase_add_test(tc, no_way_past_a_gate);
    tcase_add_test(tc, air_waits_below_a_neck);
    tcase_add_test(tc, no_memory_is_survived);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
