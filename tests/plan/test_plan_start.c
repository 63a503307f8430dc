/* SPDX-License-Identifier: MIT
 * plan: the way on from what is inside already. */
#include "base/base.h"
#include "plan/planning.h"

#include "cavity/cavity.h"

#include "blocks.h"

/* Thin paint, so that no throat of these parts, 4 mm wide, holds it back. */
static vug_fluid paint(void)
{
    vug_fluid f;
    vug_fluid_init(&f, sizeof f);
    f.consistency_pa_sn = 0.02;
    return f;
}

static vug_plan_options quick(void)
{
    vug_plan_options options;
    vug_plan_options_init(&options, sizeof options);
    options.columns_across = 50;
    options.verify_across = 100;
    options.pose_count = 26;
    options.tilt_deg = 0.0;
    options.start_given = 1;
    return options;
}

/* One step as the header says: what has been done, then turns. */
static vug_course_info replay_step(vug_context *ctx, const vug_plan *plan,
    const vug_plan_info *info, const vug_plan_options *options, uint32_t k, vug_moment **now)
{
    const vug_cavities *c = vug_plan_cavities(plan, 0);
    size_t count = vug_cavities_opening_count(c);
    vug_step_info s = {.struct_size = sizeof s};
    vug_fill_options fill;
    vug_fluid f = paint();
    vug_course *course = NULL;
    int32_t roles[8] = {VUG_ROLE_OPEN}, sealed[8];
    ck_assert_uint_le(count, 8);
    ck_ok(ctx, vug_plan_step(plan, 0, VUG_PLAN_FILL, k, &s));
    vug_fill_options_init(&fill, sizeof fill);
    fill.spacing_mm = info->spacing_mm;
    for (size_t i = 0; i < count; i++)
        sealed[i] = VUG_ROLE_SEALED;
    for (size_t i = 0; i < s.cover_count; i++)
        roles[s.cover[i]] = VUG_ROLE_SEALED;
    if (k == 0 && s.feed_count == 0)
        ck_ok(ctx,
            vug_moment_make(ctx, c, 0, s.up, info->spacing_mm, options->start_liquid_mm3,
                options->start_air, options->start_air_count, now));
    for (size_t i = 0; i <= s.way_count; i++) {
        bool last = i == s.way_count, feeds = last && s.feed_count > 0;
        vug_moment *end = NULL;
        fill.inlet = feeds ? (int32_t)s.feed[0] : -1;
        fill.volume_mm3 = feeds ? s.feed_most_mm3[0] : 0.0;
        const double *up = last ? s.up : s.way + 3 * i;
        vug_course_free(course);
        course = NULL;
        if (*now)
            ck_ok(ctx,
                vug_fill_turn(ctx, c, &f, *now, up, feeds ? roles : sealed, count, &fill, &course));
        else
            ck_ok(ctx, vug_fill_run(ctx, c, &f, up, roles, count, &fill, &course));
        ck_ok(ctx, vug_course_at_time(ctx, course, INFINITY, &end));
        vug_moment_free(*now);
        *now = end;
    }
    vug_course_info got = summary_of(course);
    vug_course_free(course);
    ck_close(got.trapped_mm3 + got.empty_mm3, s.trapped_mm3, 1e-9 * info->capacity_mm3);
    return got;
}

/* All steps by the public calls come to the plan's figures. */
static void replay(vug_context *ctx, const vug_plan *plan, const vug_plan_options *options)
{
    vug_plan_info info = {.struct_size = sizeof info};
    vug_step_info drain = {.struct_size = sizeof drain};
    vug_moment *now = NULL;
    double air = 0.0;
    ck_ok(ctx, vug_plan_get(plan, 0, &info));
    ck_assert_int_eq(info.given, 1);
    for (uint32_t k = 0; k < info.steps; k++) {
        vug_course_info got = replay_step(ctx, plan, &info, options, k, &now);
        air = got.trapped_mm3 + got.empty_mm3;
    }
    ck_close(air, info.trapped_mm3, 1e-9 * info.capacity_mm3);
    ck_assert_int_eq(vug_plan_step(plan, 0, VUG_PLAN_DRAIN, 0, &drain), VUG_ERR_NOT_FOUND);
    vug_moment_free(now);
}

static vug_plan *plan_of(vug_context *ctx, const vug_cavities *c, const vug_plan_options *options,
    vug_plan_info *info)
{
    vug_plan *plan = NULL;
    vug_fluid f = paint();
    ck_ok(ctx, vug_plan_make(ctx, c, &f, NULL, NULL, 0, options, &plan));
    info->struct_size = sizeof *info;
    ck_ok(ctx, vug_plan_get(plan, 0, info));
    replay(ctx, plan, options);
    return plan;
}

/* By hand. Upright, filled by its lid: the right chamber keeps what is above the passage, 10 x 8 x 4 = 320 mm3; the left
 * one is full, and so is the rest: 1024 mm3 went in. With the opening uppermost again after the left side was down, so
 * that the right chamber's air goes over: one turn at least, and within a half per cent after it. */
START_TEST(air_in_the_other_chamber)
{
    vug_context *ctx = test_context();
    vug_plan_info info;
    vug_plan_options options = quick();
    vug_cavities *c = two_chambers(ctx);
    vug_step_info s = {.struct_size = sizeof s};
    options.start_up[2] = 1.0;
    options.start_liquid_mm3 = 1024.0;
    options.max_bores = 0;
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    ck_ok(ctx, vug_plan_step(plan, 0, VUG_PLAN_FILL, 0, &s));
    ck_close(s.trapped_mm3, 320.0, 0.02 * 1344.0);
    ck_assert_int_eq(s.inlet, 0);
    ck_close(info.capacity_mm3, 1344.0, 8.0); /* and the opening's bore */
    ck_assert_uint_ge(info.steps, 2);
    ck_close(info.inject_mm3, s.trapped_mm3 - info.trapped_mm3, 1e-6);
    ck_assert(info.trapped_mm3 < 0.25 * s.trapped_mm3);
    ck_assert_int_eq(info.unseen, 0);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* No turn allowed but one step: the air is seen in the right chamber, and a bore in its lid lets it out where it is: it
 * comes first in the step that tops up. Held upright by order of words alone. */
START_TEST(a_hole_in_a_filled_part)
{
    vug_context *ctx = test_context();
    const double seen[3] = {20, 5, 9.5}; /* on the skin of the right chamber's lid */
    vug_plan_info info;
    vug_plan_options options = quick();
    vug_cavities *c = two_chambers(ctx);
    vug_step_info first = {.struct_size = sizeof first}, next = first;
    vug_plan_bore_info bore = {.struct_size = sizeof bore};
    char *text = NULL;
    options.start_up[2] = 1.0;
    options.start_liquid_mm3 = 1100.0;
    options.start_air = seen;
    options.start_air_count = 1;
    options.max_turns = 1;
    options.max_bores = 1;
    options.bore_cost = 0.1; /* rather a hole than a turn */
    options.turn_cost = 10.0;
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    ck_assert_uint_eq(info.bores, 1);
    ck_assert_uint_eq(info.steps, 2);
    ck_assert_int_eq(info.within_limit, 1);
    ck_ok(ctx, vug_plan_bore(plan, 0, 0, &bore));
    ck_ok(ctx, vug_plan_step(plan, 0, VUG_PLAN_FILL, 0, &first));
    ck_ok(ctx, vug_plan_step(plan, 0, VUG_PLAN_FILL, 1, &next));
    ck_assert(bore.point_mm[0] > 13.0); /* in the right chamber */
    ck_assert_uint_eq(first.feed_count, 0);
    ck_assert_uint_eq(first.cover_count, 2); /* the bore is not there yet */
    ck_assert_uint_eq(next.open_count, 2);
    ck_close(first.inject_mm3, 1100.0, 1e-6);
    ck_assert_int_eq(vug_plan_caution(plan, 0, VUG_CAUTION_FULL), 1);
    ck_assert_int_eq(vug_plan_caution(plan, 0, VUG_CAUTION_SOLVENT), 0);
    ck_ok(ctx, vug_plan_text(ctx, plan, 0, NULL, NULL, NULL, 200, &text));
    ck_assert_ptr_nonnull(strstr(text, "What is inside now: 1.1 mL"));
    ck_assert_ptr_nonnull(strstr(text, "Drill into the filled part"));
    ck_assert_ptr_nonnull(strstr(text, "Drill B, over a tray, and wipe."));
    ck_assert_ptr_nonnull(strstr(text, "Then free A, then B,")); /* in one lid */
    ck_assert_ptr_null(strstr(text, "Wash before curing"));
    ck_assert_ptr_null(strstr(text, "Dry and cure"));
    vug_free(ctx, text);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Of 1344 mm3 and a little bore 1343 are in: less than half a per cent is air. */
START_TEST(full_enough)
{
    vug_context *ctx = test_context();
    vug_plan_info info;
    vug_plan_options options = quick();
    vug_cavities *c = two_chambers(ctx);
    char *text = NULL;
    options.start_up[0] = 1.0;
    options.start_liquid_mm3 = 1343.0;
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    ck_assert_uint_eq(info.steps, 1);
    ck_assert_uint_eq(info.bores, 0);
    ck_assert_int_eq(info.within_limit, 1);
    ck_assert_int_eq(info.unseen, 1);
    ck_close(info.inject_mm3, 0.0, 0.0);
    ck_ok(ctx, vug_plan_text(ctx, plan, 0, NULL, NULL, NULL, 200, &text));
    ck_assert_ptr_nonnull(strstr(text, "Nothing is left to do but to close it"));
    vug_free(ctx, text);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Full to the brim there is no air to look for, though a fill in this pose, its opening below, takes nothing. */
START_TEST(full_to_the_brim)
{
    vug_context *ctx = test_context();
    vug_plan_info info;
    vug_plan_options options = quick();
    vug_cavities *c = two_chambers(ctx);
    options.start_up[2] = -1.0;
    options.start_liquid_mm3 = c->cavity[0].volume;
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    ck_assert_uint_eq(info.steps, 1);
    ck_assert_uint_eq(info.bores, 0);
    ck_close(info.trapped_mm3, 0.0, 1e-6);
    ck_close(info.searched_mm3, 0.0, 1e-6);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A moment by hand: 800 of the 1344 mm3 upright, air seen in the right chamber alone: that takes 320 mm3 of it above the
 * passage, the rest goes through the passage to the left one. Shaken, both have as much as finds its way there. */
START_TEST(moments_are_made)
{
    vug_context *ctx = test_context();
    const double up[3] = {0, 0, 1}, seen[3] = {20, 5, 8}, far[3] = {80, 5, 8};
    vug_cavities *c = two_chambers(ctx);
    vug_moment *m = NULL;
    vug_moment_info info = {.struct_size = sizeof info};
    vug_pocket_info pocket = {.struct_size = sizeof pocket};
    double room = c->cavity[0].volume;
    ck_ok(ctx, vug_moment_make(ctx, c, 0, up, 0.2, 800.0, seen, 1, &m));
    ck_ok(ctx, vug_moment_get(m, &info));
    ck_close(info.liquid_mm3, 800.0, 1e-9 * room);
    ck_assert_uint_eq(info.pockets, 2);
    ck_close(info.trapped_mm3, room - 800.0, 1e-9 * room);
    ck_ok(ctx, vug_moment_pocket(m, 0, &pocket));
    ck_close(pocket.volume_mm3, 320.0, 0.03 * 320.0);
    ck_assert(pocket.top_mm[0] > 15.0);
    vug_moment_free(m);
    m = NULL;
    ck_ok(ctx, vug_moment_make(ctx, c, 0, up, 0.2, room, NULL, 0, &m));
    ck_ok(ctx, vug_moment_get(m, &info));
    ck_assert_uint_eq(info.pockets, 0);
    vug_moment_free(m);
    m = NULL;
    ck_ok(ctx, vug_moment_make(ctx, c, 0, up, 0.2, 1200.0, NULL, 0, &m));
    ck_ok(ctx, vug_moment_get(m, &info));
    ck_assert_uint_eq(info.pockets, 2); /* half rises here, half there, but for the passage's */
    ck_ok(ctx, vug_moment_pocket(m, 0, &pocket));
    ck_close(pocket.volume_mm3, 0.5 * info.trapped_mm3, 0.1 * info.trapped_mm3);
    vug_moment_free(m);
    m = NULL;
    ck_assert_int_eq(vug_moment_make(ctx, c, 0, up, 0.2, 800.0, far, 1, &m), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_moment_make(ctx, c, 1, up, 0.2, 800.0, NULL, 0, &m), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_moment_make(ctx, c, 0, up, 0.2, 2.0 * room, NULL, 0, &m),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_moment_make(ctx, c, 0, up, 0.2, -1.0, NULL, 0, &m), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_moment_make(ctx, c, 0, NULL, 0.2, 1.0, NULL, 0, &m), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_moment_make(ctx, c, 0, up, 0.2, 1.0, NULL, 1, &m), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_moment_make(NULL, c, 0, up, 0.2, 1.0, NULL, 0, &m), VUG_ERR_ARGUMENT);
    ck_assert_ptr_null(m);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static void refused(vug_context *ctx, const vug_cavities *c, const vug_plan_options *options,
    const int32_t *roles, vug_status want, const char *words)
{
    vug_plan *plan = NULL;
    vug_status status = vug_plan_make(ctx, c, NULL, NULL, roles, roles ? 1 : 0, options, &plan);
    ck_assert_ptr_null(plan);
    ck_assert_int_eq(status, want);
    ck_assert_msg(strstr(vug_context_message(ctx), words) != NULL, "'%s' lacks '%s'",
        vug_context_message(ctx), words);
}

START_TEST(starts_are_refused)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = two_chambers(ctx);
    const double bad[3] = {NAN, 0, 0}, far[3] = {0, 0, 300};
    const int32_t plugged = VUG_ROLE_SEALED;
    options.start_liquid_mm3 = 500.0;
    refused(ctx, c, &options, NULL, VUG_ERR_ARGUMENT, "start_up");
    options.start_up[1] = 1.0;
    options.start_liquid_mm3 = 1400.0;
    refused(ctx, c, &options, NULL, VUG_ERR_ARGUMENT, "1400, it must be above 0 and no more than");
    options.start_liquid_mm3 = 0.0;
    refused(ctx, c, &options, NULL, VUG_ERR_ARGUMENT, "start_liquid_mm3 is 0");
    options.start_liquid_mm3 = 500.0;
    refused(ctx, c, &options, &plugged, VUG_ERR_NOT_FOUND, "every opening is plugged");
    options.start_air = bad;
    options.start_air_count = 1;
    refused(ctx, c, &options, NULL, VUG_ERR_ARGUMENT, "start_air");
    const double origin[3] = {0, 0, 0}; /* a point like any other, here on the part's corner */
    vug_plan *plan = NULL;
    options.start_air = origin;
    ck_ok(ctx, vug_plan_make(ctx, c, NULL, NULL, NULL, 0, &options, &plan));
    vug_plan_free(plan);
    options.start_air = far;
    refused(ctx, c, &options, NULL, VUG_ERR_NOT_FOUND, "air at (0, 0, 300)");
    options.start_air = NULL;
    options.pose_given = 1;
    options.first_up[2] = 1.0;
    refused(ctx, c, &options, NULL, VUG_ERR_ARGUMENT, "pose_given");
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Two chambers upright, filled by the lid of the left one, without a turn. By hand: skin in all 2 (448 - 16) + 64 = 928
 * mm2, less the opening; bare is what is over the passage in the right chamber, 80 + 4 * 36 = 224 mm2. A limit of a tenth is
 * broken, one of half is not; the air may all stay. */
START_TEST(bare_skin_has_a_limit)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = two_chambers(ctx);
    options.start_given = 0;
    options.pose_given = 1;
    options.first_up[2] = 1.0;
    options.max_turns = options.max_bores = 0;
    options.limit = 1.0;
    const struct {
        double limit;
        int32_t within;
    } list[] = {{1.0, 1}, {0.5, 1}, {0.1, 0}};
    for (size_t i = 0; i < 3; i++) {
        vug_plan_info info = {.struct_size = sizeof info};
        vug_plan *plan = NULL;
        vug_fluid f = paint();
        options.bare_limit = list[i].limit;
        ck_ok(ctx, vug_plan_make(ctx, c, &f, NULL, NULL, 0, &options, &plan));
        ck_ok(ctx, vug_plan_get(plan, 0, &info));
        ck_close(info.bare_mm2, 224.0, 0.05 * 224.0);
        ck_close(info.skin_mm2, 928.0, 0.02 * 928.0);
        ck_assert_int_eq(info.within_limit, list[i].within);
        ck_assert_int_eq(vug_plan_caution(plan, 0, VUG_CAUTION_LIMIT), !list[i].within);
        vug_plan_free(plan);
    }
    options.bare_limit = 1.5;
    refused(ctx, c, &options, NULL, VUG_ERR_ARGUMENT, "bare_limit");
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A gourd of two bulbs, held with its opening up: the rim between them keeps 306 mm3 of air (2.64 % of it, by a fill) in
 * columns that are shorter than those of the air under the opening. What the search takes for what stays is what the
 * simulation of the same steps says. */
START_TEST(each_body_of_air_begins_at_its_place)
{
    vug_context *ctx = test_context();
    const char *source = getenv("VUG_SRCDIR");
    char path[1024];
    vug_plan_options options = quick();
    vug_mesh *mesh = NULL;
    vug_cavities *c = NULL;
    vug_plan_info info;
    snprintf(path, sizeof path, "%s/examples/gourd.stl", source ? source : ".");
    ck_ok(ctx, vug_mesh_load(ctx, path, NULL, &mesh));
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, NULL, &c));
    options.columns_across = 140;
    options.pose_count = 12;
    options.max_turns = 1;
    options.max_bores = 0;
    options.start_up[2] = -1.0;
    options.start_liquid_mm3 = 9000.0;
    vug_plan *plan = plan_of(ctx, c, &options, &info);
    ck_close(info.searched_mm3, info.trapped_mm3, 0.25 * info.trapped_mm3);
    ck_assert(info.trapped_mm3 > 100.0); /* no one turn gets it out */
    vug_plan_free(plan);

    /* a hole in the upper bulb, with its opening down: the paint that is in it stands over that */
    char *text = NULL;
    vug_step_info last = {.struct_size = sizeof last};
    options.max_bores = 1;
    plan = plan_of(ctx, c, &options, &info);
    ck_assert_uint_eq(info.bores, 1);
    ck_ok(ctx, vug_plan_step(plan, 0, VUG_PLAN_FILL, 1, &last));
    ck_assert(last.up[2] > 0.5);
    ck_assert_int_eq(last.inlet, 0);
    ck_ok(ctx, vug_plan_text(ctx, plan, 0, NULL, NULL, NULL, 200, &text));
    ck_assert_ptr_nonnull(strstr(text, "press the syringe tight into A, free B,"));
    ck_assert_ptr_null(strstr(text, "Then free A"));
    vug_free(ctx, text);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_mesh_free(mesh);
    vug_context_free(ctx);
}
END_TEST

/* A swirl of a part whose every wall is down at some time wets it all. The law of coats: a dry film of 0.1 mm with solids of
 * 0.4 is 0.25 mm of wet paint on what is wetted. Its poses are an eighth of a turn apart. */
START_TEST(a_coat_instead_of_a_core)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = two_chambers(ctx);
    vug_fluid f = paint();
    vug_plan_info info = {.struct_size = sizeof info};
    vug_step_info s = {.struct_size = sizeof s};
    vug_plan *plan = NULL;
    options.start_given = 0;
    options.max_turns = options.max_bores = 0;
    f.volatile_share = 0.6;
    f.yield_stress_pa = 3.0; /* hangs as 3 / (density g) on a wall, 0.3 mm (by hand) */
    ck_ok(ctx, vug_plan_make(ctx, c, &f, NULL, NULL, 0, &options, &plan));
    ck_ok(ctx, vug_plan_get(plan, 0, &info));
    ck_assert_int_ge(info.coats, 1);
    ck_assert_int_le(info.coats, 3);
    ck_assert(info.coat_wetted_mm2 >= 0.98 * info.skin_mm2);
    ck_assert(info.coat_wetted_mm2 <= info.skin_mm2 * (1.0 + 1e-9));
    ck_near(info.coat_mm3, 0.25 * info.coat_wetted_mm2, 1e-9);
    ck_assert(info.swirl_mm3 >= 0.1 * info.capacity_mm3 * (1.0 - 1e-9));
    ck_assert(info.swirl_mm3 <= 0.3 * info.capacity_mm3 * (1.0 + 1e-9));
    for (uint32_t k = 0; k < info.coat_steps; k++) {
        ck_ok(ctx, vug_plan_step(plan, 0, VUG_PLAN_COAT, k, &s));
        ck_close(s.angle_deg, k == 0 ? 0.0 : 45.0, 1e-9);
        if (k % 8 == 0) /* twice once around, as the text says: upright at the ends of both */
            ck_close(s.up[2], 1.0, 1e-9);
    }
    ck_assert_int_eq(info.coat_steps, 17);
    ck_assert_int_eq(vug_plan_step(plan, 0, VUG_PLAN_COAT, info.coat_steps, &s), VUG_ERR_NOT_FOUND);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static vug_plan_info coat_of(vug_context *ctx, const vug_cavities *c, double yield_pa)
{
    vug_plan_options options = quick();
    vug_plan_info info = {.struct_size = sizeof info};
    vug_plan *plan = NULL;
    vug_fluid f = paint();
    options.start_given = 0;
    options.max_turns = options.max_bores = 0;
    f.volatile_share = 0.744;
    f.yield_stress_pa = yield_pa;
    ck_ok(ctx, vug_plan_make(ctx, c, &f, NULL, NULL, 0, &options, &plan));
    ck_ok(ctx, vug_plan_get(plan, 0, &info));
    vug_plan_free(plan);
    return info;
}

/* Nobody does more than 12 coats, nor waits longer than two weeks for one to dry (common practice, no source). A film that hangs on an
 * upright wall is yield / (density g) thick, and elsewhere thicker: of 0.5 Pa 51 micrometres, so that 0.1 mm of dry film are
 * 0.1 / 0.256 / 0.051 = 7.7 coats at most; of 0.05 Pa a tenth of that, some 40. A hole of a twentieth of the width lets
 * water vapour out 20 times slower or more. */
START_TEST(coats_have_limits)
{
    vug_context *ctx = test_context();
    vug_cavities *c = two_chambers(ctx);
    const vug_plan_info thick = coat_of(ctx, c, 0.5), thin = coat_of(ctx, c, 0.05);
    ck_assert_int_ge(thick.coats, 2);
    ck_assert_int_le(thick.coats, 8);
    ck_assert(
        thick.coat_mm3 < 0.5 * thick.capacity_mm3); /* so it is not the amount that forbids it */
    ck_assert_int_eq(thin.coats, 0);
    vug_cavities_free(c);
    for (int narrow = 0; narrow < 2; narrow++) {
        static blocks b;
        const double hole[7] = {8, 8, 0, 0, 0, -1, narrow ? 0.15 : 3.0};
        memset(&b, 0, sizeof b);
        dig(&b, 1, 15, 1, 15, 1, 15);
        c = cavities_of(ctx, &b, hole, 1);
        const vug_plan_info info = coat_of(ctx, c, 0.5);
        ck_assert(info.inject_mm3 > 0.5 * info.capacity_mm3); /* it can be filled */
        ck_assert_int_eq(info.coats > 0, !narrow);
        if (!narrow)
            ck_assert(20.0 * info.coat_dry_s > 14.0 * 86400.0);
        vug_cavities_free(c);
    }
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("plan start");
    TCase *tc = tcase_create("plan start");
    tcase_add_test(tc, air_in_the_other_chamber);
    tcase_add_test(tc, a_hole_in_a_filled_part);
    tcase_add_test(tc, each_body_of_air_begins_at_its_place);
    tcase_add_test(tc, full_enough);
    tcase_add_test(tc, full_to_the_brim);
    tcase_add_test(tc, moments_are_made);
    tcase_add_test(tc, starts_are_refused);
    tcase_add_test(tc, bare_skin_has_a_limit);
    tcase_add_test(tc, a_coat_instead_of_a_core);
    tcase_add_test(tc, coats_have_limits);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
