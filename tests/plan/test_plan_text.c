/* SPDX-License-Identifier: MIT
 * A plan in words: it says the plan's own poses, amounts that a hand can measure, letters, and what is to be
 * drilled. */
#include "plan/planning.h"
#include "plan/text/amounts.h"

#include "../examples/tools/tool/amounts.c" /* the programs' own words */
#include "../examples/tools/tool/tool.h"
#include "blocks.h"
#include "shapes.h"
#include "test.h"

static vug_plan_options quick(void)
{
    vug_plan_options options;
    ck_assert_int_eq(vug_plan_options_init(&options, sizeof options), VUG_OK);
    options.pose_count = 40;
    options.columns_across = 40;
    options.verify_across = 60;
    return options;
}

/* A hub with two arms that end blind. */
static void dig_hub(blocks *b)
{
    memset(b, 0, sizeof *b);
    dig(b, 16, 25, 16, 25, 10, 18);
    dig(b, 25, 36, 18, 23, 11, 16);
    dig(b, 16, 21, 25, 34, 11, 16);
}

/* And a hole below that is named and not there yet. */
static vug_cavities *hub(vug_context *ctx)
{
    static blocks b;
    const double hole[7] = {20.5, 20.5, 9, 0, 0, -1, 2};
    dig_hub(&b);
    return cavities_of(ctx, &b, hole, 1);
}

static vug_plan *plan_of(vug_context *ctx, const vug_cavities *c, const vug_plan_options *options)
{
    vug_plan *plan = NULL;
    ck_ok(ctx, vug_plan_make(ctx, c, NULL, NULL, NULL, 0, options, &plan));
    return plan;
}

/* White space to one space each: lines may be broken anywhere. */
static void flatten(char *text)
{
    char *to = text;
    for (const char *at = text; *at; at++)
        if (*at != ' ' && *at != '\n')
            *to++ = *at;
        else if (to > text && to[-1] != ' ')
            *to++ = ' ';
    *to = '\0';
}

/* The pose that begins at "its", alone. */
static bool pose_at(vug_context *ctx, const char *at, double up[3])
{
    char one[160];
    snprintf(one, sizeof one, "%.*s", (int)strcspn(at, ".:"), at);
    return vug_pose_parse(ctx, one, up) == VUG_OK;
}

/* Of draining, then of filling. */
/* Steps that are done again are told by their numbers. */
static size_t list_told(vug_context *ctx, const vug_plan *plan, size_t index,
    const vug_plan_info *info, vug_step_info *told)
{
    size_t count = 0;
    for (int32_t sequence = VUG_PLAN_DRAIN; sequence >= VUG_PLAN_FILL; sequence--)
        for (uint32_t i = 0; i < (sequence ? info->drain_steps : info->steps - info->again); i++) {
            told[count] = (vug_step_info){.struct_size = sizeof *told};
            ck_ok(ctx, vug_plan_step(plan, index, sequence, i, told + count++));
        }
    return count;
}

/* All poses of the text from "Wash" on: those of draining, then those of filling. */
static void compare_poses(vug_context *ctx, const vug_plan *plan, size_t index, char *text)
{
    vug_plan_info info = {.struct_size = sizeof info};
    vug_step_info step[2 * (VUG_MAX_TURNS + 1)];
    size_t told = 0;
    flatten(text);
    ck_ok(ctx, vug_plan_get(plan, index, &info));
    size_t count = list_told(ctx, plan, index, &info, step);
    for (const char *at = strstr(text, "Wash before curing"); (at = strstr(at, "its ")); at += 4) {
        double up[3];
        if (!pose_at(ctx, at, up))
            continue;
        ck_assert_uint_lt(told, count);
        for (int k = 0; k < 3; k++)
            ck_close(up[k], step[told].up[k], 1e-9);
        told++;
    }
    ck_assert_uint_eq(told, count);
}

/* Every alternative, broken at two widths. */
START_TEST(words_are_the_plans_poses)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hub(ctx);
    vug_plan *plan = plan_of(ctx, c, &options);
    ck_assert_uint_ge(vug_plan_count(plan), 1);
    for (size_t i = 0; i < vug_plan_count(plan); i++)
        for (uint32_t width = 40; width < 100; width += 58) {
            char *text = NULL;
            ck_ok(ctx, vug_plan_text(ctx, plan, i, "hub", "ink", "water", width, &text));
            size_t longest = 0;
            for (const char *at = text; *at; at += strcspn(at, "\n") + 1)
                longest = strcspn(at, "\n") > longest ? strcspn(at, "\n") : longest;
            ck_assert_uint_le(longest, width);
            ck_assert_ptr_nonnull(strstr(text, "Fill with ink"));
            compare_poses(ctx, plan, i, text);
            vug_free(ctx, text);
        }
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* The pose that is asked for is taken where words can say it: 23 degrees towards +x become 25. */
START_TEST(given_pose_is_said)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hub(ctx);
    vug_step_info step = {.struct_size = sizeof step};
    options.pose_given = 1;
    options.max_turns = 0;
    options.max_bores = 0;
    options.first_up[0] = sin(23.0 * 3.14159265358979 / 180.0);
    options.first_up[2] = cos(23.0 * 3.14159265358979 / 180.0);
    vug_plan *plan = plan_of(ctx, c, &options);
    ck_ok(ctx, vug_plan_step(plan, 0, VUG_PLAN_FILL, 0, &step));
    ck_close(step.up[0], sin(25.0 * 3.14159265358979 / 180.0), 1e-12);
    ck_close(step.up[2], cos(25.0 * 3.14159265358979 / 180.0), 1e-12);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A hole that is named but not in the mesh is to be drilled, and no opening that the part has. */
START_TEST(named_hole_is_to_be_drilled)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hub(ctx);
    char *text = NULL, name[24];
    options.max_bores = 0;
    vug_plan *plan = plan_of(ctx, c, &options);
    ck_ok(ctx, vug_plan_text(ctx, plan, 0, NULL, NULL, NULL, 0, &text));
    ck_assert_ptr_null(strstr(text, "Openings the part has"));
    ck_assert_ptr_null(strstr(text, "No new hole"));
    ck_assert_ptr_null(strstr(text, "Drill")); /* shut as it is: it can't be washed first */
    ck_assert_ptr_nonnull(strstr(text, "Before printing"));
    ck_assert_ptr_nonnull(strstr(text,
        "  A  2.0 mm wide at (20.5, 20.5, 9.0), towards (0.00, 0.00, 1.00), "
        "1.0 mm through"));
    ck_ok(ctx, vug_plan_letter(ctx, plan, 0, 0, name, sizeof name));
    ck_assert_str_eq(name, "A");
    ck_assert_int_eq(vug_plan_letter(ctx, plan, 0, 1, name, sizeof name), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_plan_letter(ctx, plan, 99, 0, name, sizeof name), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_plan_letter(ctx, NULL, 0, 0, name, sizeof name), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_plan_letter(ctx, plan, 0, 0, NULL, 0), VUG_ERR_ARGUMENT);
    vug_free(ctx, text);
    text = NULL;
    ck_assert_int_eq(vug_plan_text(ctx, plan, 99, NULL, NULL, NULL, 0, &text), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_plan_text(ctx, plan, 0, NULL, NULL, NULL, 39, &text), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_plan_text(ctx, NULL, 0, NULL, NULL, NULL, 0, &text), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_plan_text(ctx, plan, 0, NULL, NULL, NULL, 0, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_plan_text(NULL, plan, 0, NULL, NULL, NULL, 0, &text), VUG_ERR_ARGUMENT);
    ck_assert_ptr_null(text);
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* What a syringe with marks of 0.05 mL, a clock and a person can do. */
START_TEST(amounts_are_for_hands)
{
    ck_assert_str_eq(vugi_words_ml(0.0).text, "less than 0.05 mL");
    ck_assert_str_eq(vugi_words_ml(49.9).text, "less than 0.05 mL");
    ck_assert_str_eq(vugi_words_ml(50.0).text, "0.05 mL");
    ck_assert_str_eq(vugi_words_ml(340.0).text, "0.35 mL");
    ck_assert_str_eq(vugi_words_ml(980.0).text, "1.0 mL");
    ck_assert_str_eq(vugi_words_ml(12649.0).text, "12.6 mL");
    ck_assert_str_eq(vugi_words_ml(123456.0).text, "123 mL");
    ck_assert_str_eq(vugi_words_ml(999400.0).text, "999 mL");
    ck_assert_str_eq(vugi_words_ml(21260.4e3).text, "21.3 L");
    ck_assert_str_eq(vugi_words_time(0.1).text, "5 seconds");
    ck_assert_str_eq(vugi_words_time(51.0).text, "55 seconds");
    ck_assert_str_eq(vugi_words_time(59.0).text, "1 minute");
    ck_assert_str_eq(vugi_words_time(61.0).text, "1.5 minutes");
    ck_assert_str_eq(vugi_words_time(601.0).text, "15 minutes");
    ck_assert_str_eq(vugi_words_time(7300.0).text, "2.5 hours");
    ck_assert_str_eq(vugi_words_time(86400.0).text, "24 hours");
    ck_assert_str_eq(vugi_words_long(7200.0).text, "2 hours");
    ck_assert_str_eq(vugi_words_long(1.5 * 86400.0).text, "2 days");
    ck_assert_str_eq(vugi_words_long(20.0 * 86400.0).text, "3 weeks");
    ck_assert_str_eq(vugi_words_long(100.0 * 86400.0).text, "15 weeks");
    ck_assert_str_eq(vugi_words_long(1e9).text, "a year");
    ck_assert_str_eq(vugi_words_percent(0.0, 5.0).text, "0 %");
    ck_assert_str_eq(vugi_words_percent(1e-6, 5.0).text, "less than 0.01 %");
    ck_assert_str_eq(vugi_words_percent(1.0, 300.0).text, "0.33 %");
    ck_assert_str_eq(vugi_words_percent(1.0, 3.0).text, "33 %");
    ck_assert_str_eq(vugi_words_percent(99.6, 100.0).text,
        "99.6 %"); /* or parts would be more than the whole */
    ck_assert_str_eq(vugi_words_percent(99.999, 100.0).text, "99.99 %");
    ck_assert_str_eq(vugi_words_percent(97.77, 100.0).text, "97.8 %");
    ck_assert_str_eq(vugi_words_percent(89.77, 100.0).text, "90 %");
    ck_assert_str_eq(vugi_words_percent(100.0, 100.0).text, "100 %");
    vug_context *ctx = test_context();
    char text[24] = "";
    ck_ok(ctx, vug_percent_words(ctx, 46.0, 12560.0, text, sizeof text));
    ck_assert_str_eq(text, "0.37 %");
    ck_assert_int_eq(vug_percent_words(ctx, NAN, 1.0, text, sizeof text), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_percent_words(ctx, 1.0, INFINITY, text, sizeof text), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_percent_words(ctx, -1.0, 1.0, text, sizeof text), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_percent_words(ctx, 1.0, 0.0, text, sizeof text), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_percent_words(ctx, 1.0, 1.0, NULL, 0), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_percent_words(NULL, 1.0, 1.0, text, sizeof text), VUG_ERR_ARGUMENT);
    vug_context_free(ctx);
    ck_assert_str_eq(vugi_words_rate(350.0).text, "0.35 mL a second");
    ck_assert_str_eq(vugi_words_rate(5.0).text, "0.3 mL a minute");
    ck_assert_str_eq(vugi_words_mm(2.5).text, "2.5");
    ck_assert_str_eq(vugi_words_mm(0.449).text, "0.45");
}
END_TEST

/* A number stays on the line of its unit, or of what it counts: no line of words ends in a digit. */
START_TEST(numbers_keep_their_units)
{
    static blocks b;
    vug_context *ctx = test_context();
    const double hole[7] = {8, 8, 0, 0, 0, -1, 2};
    vug_plan_options options;
    vug_plan *plan = NULL;
    char *text = NULL;
    vug_plan_options_init(&options, sizeof options);
    options.columns_across = options.verify_across = 40;
    options.pose_count = 12;
    options.max_turns = 1;
    memset(&b, 0, sizeof b);
    dig(&b, 1, 15, 1, 15, 1, 12);
    dig(&b, 6, 9, 6, 9, 12, 20);
    vug_cavities *c = cavities_of(ctx, &b, hole, 1);
    ck_ok(ctx, vug_plan_make(ctx, c, NULL, NULL, NULL, 0, &options, &plan));
    for (uint32_t width = 60; width < 110; width += 7) {
        ck_ok(ctx, vug_plan_text(ctx, plan, 0, NULL, NULL, NULL, width, &text));
        for (const char *p = text; *p; p++)
            ck_assert_msg(!(p[0] >= '0' && p[0] <= '9' && p[1] == '\n' && p[2] == ' '),
                "width %u: a line ends in %.20s", (unsigned)width, p > text + 19 ? p - 19 : text);
        vug_free(ctx, text);
        text = NULL;
    }
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* One syringe is named, and it fits: what 1 mL holds is not measured with 10. */
START_TEST(one_syringe_is_named)
{
    static blocks b;
    vug_context *ctx = test_context();
    const double hole[7] = {8, 8, 0, 0, 0, -1, 2};
    vug_plan_options options = quick();
    char *text = NULL;
    options.max_turns = options.max_bores = 0;
    for (int high = 0; high < 2; high++) { /* 8 x 8 x 8 mm are half a mL, 8 x 8 x 18 are 1.2 */
        memset(&b, 0, sizeof b);
        dig(&b, 4, 12, 4, 12, 1, high ? 19 : 9);
        vug_cavities *c = cavities_of(ctx, &b, hole, 1);
        vug_plan *plan = plan_of(ctx, c, &options);
        ck_ok(ctx, vug_plan_text(ctx, plan, 0, NULL, NULL, NULL, 0, &text));
        flatten(text);
        ck_assert_msg(!strstr(text, "better one"), "%s", text);
        ck_assert_msg(strstr(text, high ? " 10 mL syringe" : " a 1 mL syringe") != NULL, "%s",
            text);
        ck_assert_msg(!strstr(text, high ? " 1 mL syringe" : " 10 mL syringe"), "%s", text);
        vug_free(ctx, text);
        vug_plan_free(plan);
        vug_cavities_free(c);
    }
    vug_context_free(ctx);
}
END_TEST

static char *text_of(vug_context *ctx, const vug_cavities *c, double volatile_share)
{
    vug_plan_options options = quick();
    vug_plan *plan = NULL;
    vug_fluid f;
    char *text = NULL;
    vug_fluid_init(&f, sizeof f);
    f.volatile_share = volatile_share;
    options.max_turns = options.max_bores = 0;
    ck_ok(ctx, vug_plan_make(ctx, c, &f, NULL, NULL, 0, &options, &plan));
    ck_ok(ctx, vug_plan_text(ctx, plan, 0, "hub", NULL, NULL, 100, &text));
    flatten(text);
    vug_plan_free(plan);
    return text;
}

/* What sets or cures neither dries, nor freezes, nor boils: only what dries is told so, and shrinks by what leaves. */
START_TEST(what_sets_does_not_dry)
{
    vug_context *ctx = test_context();
    vug_cavities *c = hub(ctx);
    char *sets = text_of(ctx, c, 0.0), *dries = text_of(ctx, c, 0.6);
    ck_assert_ptr_nonnull(strstr(sets, "It sets: mix it"));
    ck_assert_ptr_nonnull(strstr(sets, "Let it set first"));
    ck_assert_ptr_null(strstr(sets, "Frost"));
    ck_assert_ptr_null(strstr(sets, "Paint with water in it"));
    ck_assert_ptr_null(strstr(sets, "paint with water in it"));
    ck_assert_ptr_null(strstr(dries, "It sets"));
    ck_assert_ptr_nonnull(strstr(dries, "shrinks to 40 %"));
    vug_free(ctx, sets);
    vug_free(ctx, dries);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* The text of the first alternative as it is now says one and not the other. */
static void says(vug_context *ctx, const vug_plan *plan, const char *words, const char *other)
{
    char *text = NULL;
    ck_ok(ctx, vug_plan_text(ctx, plan, 0, NULL, NULL, NULL, 0, &text));
    flatten(text);
    ck_assert_msg(strstr(text, words) != NULL, "it does not say '%s'", words);
    ck_assert_msg(strstr(text, other) == NULL, "it says '%s'", other);
    vug_free(ctx, text);
}

/* Resin that runs out, that leaves most inside, and that does not run at all; and a wait that nobody stands by. */
START_TEST(patience_ends)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hub(ctx);
    vug_plan *plan = plan_of(ctx, c, &options);
    vug_plan_info *info = &plan->option[0]->info;
    vug_step_info *drain = plan->option[0]->drain, *fill = plan->option[0]->fill;
    const double room = info->capacity_mm3;
    info->resin_s = 100.0;
    info->resin_mm3 = 0.4 * room;
    says(ctx, plan, "First let the raw resin run out, held as in 1: up to 2.5 minutes",
        "hardly runs");
    /* what is left after that runs out in the other poses, as long again in each; it is for the rinses where there is none */
    says(ctx, plan, "of it is left, for the rinses.", "as long again");
    const uint32_t drains = info->drain_steps;
    double none[3] = {0.0, 0.0, 0.0}, *stuck = plan->option[0]->stuck;
    drain[1] = drain[2] = drain[0];
    plan->option[0]->stuck = none;
    info->drain_steps = 2;
    says(ctx, plan, "is left: give it as long again held as in 2.", "in each of the others");
    info->drain_steps = 3;
    says(ctx, plan, "is left: give it as long again held in each of the others.", "held as in 2");
    info->resin_mm3 = 49.0; /* no syringe measures it */
    says(ctx, plan, "Then less than 0.05 mL of it is left, for the rinses.", "as long again");
    info->drain_steps = drains;
    plan->option[0]->stuck = stuck;
    drain[1] = drain[2] = (vug_step_info){
        .struct_size = 0}; /* what they point to is the first one's */
    info->resin_mm3 = 0.6 * room;
    says(ctx, plan, "the raw resin, which hardly runs out by itself here: draw it out by A",
        "First let the raw resin run out");
    info->resin_s = 86400.0; /* and half as long again */
    info->resin_mm3 = 0.1 * room;
    says(ctx, plan, "the raw resin, which does not run out by itself here", "hardly runs");
    info->resin_s = -1.0;
    says(ctx, plan, "the raw resin, which does not run out by itself here", "hardly runs");
    drain->inject_mm3 = room;
    drain->stuck_mm3 = 0.0;
    drain->wait_s = 600.0;
    says(ctx, plan, "run out: give it 10 minutes.", "does not run out by itself: draw");
    drain->wait_s = 601.0;
    says(ctx, plan, "run out: give it 15 minutes, or draw it out by A.",
        "does not run out by itself: draw");
    drain->wait_s = -1.0;
    says(ctx, plan, "It does not run out by itself: draw", "run out: give it");
    fill->wait_s = 60.0;
    fill->wait_high_s = 120.0;
    says(ctx, plan, "Wait meanwhile: 1 minute.", "narrow place");
    fill->wait_high_s = 121.0;
    says(ctx, plan,
        "Wait meanwhile: 1 minute, if it is thick or old 2.5 minutes, for air and paint to pass "
        "each "
        "other in a narrow place",
        "tap and shake it");
    fill->wait_high_s = -1.0;
    says(ctx, plan, "Wait meanwhile: 1 minute, if it is thick or old never", "tap and shake it");
    fill->wait_s = 86401.0;
    says(ctx, plan, "Wait meanwhile: tap and shake it, or draw the air out", "narrow place");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Air that a small cavity needs is no less than a syringe measures; a wall like paper holds no plug; and a needle does
 * not go through the other wall. */
START_TEST(small_and_thin_parts_can_be_done)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hub(ctx);
    vug_plan *plan = plan_of(ctx, c, &options);
    vugi_option *o = plan->option[0];
    o->info.trapped_mm3 = 1.0;
    o->info.warm_air_mm3 = 4.0;
    o->info.frost_air_mm3 = 20.0;
    o->info.capacity_mm3 = 200.0;
    says(ctx, plan, "draw 0.05 mL out again, so that 0.05 mL of air",
        "The air that stays is enough");
    says(ctx, plan, "Frost of -18 C would want 0.05 mL of air, 25 % of the cavity",
        "less than 0.05 mL of air, ");
    o->info.warm_air_mm3 = 1.0;
    says(ctx, plan, "The air that stays is enough for warmth", "draw 0.05 mL out again");
    for (size_t i = 0; i < o->cavities->opening_count; i++)
        o->cavities->opening[i].bore_length = 0.3;
    says(ctx, plan, "the wall is too thin there to hold a plug", "wipe it clean 0.3 mm deep");
    /* half of 4 V / A, which is 4 / 3 of the radius of a ball: here of 4 mm */
    for (size_t i = 0; i < o->cavities->cavity_count; i++) {
        o->cavities->cavity[i].volume = 4.0 / 3.0 * 3.14159265358979 * 64.0;
        o->cavities->cavity[i].area = 4.0 * 3.14159265358979 * 16.0;
    }
    says(ctx, plan, "Push the needle 2 mm past the wall.", "Push the needle 5 mm");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A hub whose only hole looks straight down: held so it takes nothing, and that is said, not sealed or coated. Turned over
 * it fills. */
START_TEST(what_takes_no_paint_is_told_so)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hub(ctx);
    options.pose_given = 1;
    options.first_up[2] = 1.0;
    options.max_turns = options.max_bores = 0;
    vug_plan *plan = plan_of(ctx, c, &options);
    const vug_plan_info *info = &plan->option[0]->info;
    ck_assert_int_eq((int)info->loads, 0);
    ck_assert_int_eq(info->coats, 0);
    ck_assert_int_eq(vug_plan_caution(plan, 0, VUG_CAUTION_SEALED), 0);
    ck_assert_int_eq(vug_plan_caution(plan, 0, VUG_CAUTION_GLUE), 0);
    ck_assert_int_eq(vug_plan_caution(plan, 0, VUG_CAUTION_LIMIT), 1);
    static const char *const senseless[] = {"load", "Seal", "Or coat", "Try the", "glue", "Show",
        "of paint, with", "1 mL syringe", "Fill with", "No new hole"};
    for (size_t i = 0; i < sizeof senseless / sizeof *senseless; i++)
        says(ctx, plan, "It can't be filled so", senseless[i]);
    says(ctx, plan, "What would help: allow a turn, another pose to begin with or a new hole.",
        "Thin it");
    vug_plan_free(plan);
    options.first_up[2] = -1.0;
    plan = plan_of(ctx, c, &options);
    says(ctx, plan, "Fill with", "It can't be filled so");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* The programs' words for an amount and the plan's: what no syringe measures is alike, and more is the same to what a
 * syringe measures. */
START_TEST(programs_tell_the_same_amount)
{
    static const double mm[] = {0.6, 1.0, 2.45, 3.0, 3.949, 12.86};
    for (size_t i = 0; i < sizeof mm / sizeof *mm; i++)
        ck_assert_str_eq(vugi_words_mm(mm[i]).text, amount_mm(mm[i]).text);
    static const double mm3[] = {1e-9, 1.0, 49.9, 50.0, 74.0, 340.0, 960.0, 12649.0, 99900.0};
    for (size_t i = 0; i < sizeof mm3 / sizeof *mm3; i++) {
        const vugi_words plan = vugi_words_ml(mm3[i]);
        const amount told = amount_ml(mm3[i]);
        char *unit = NULL;
        if (mm3[i] < VUGI_LEAST_MM3) {
            ck_assert_str_eq(plan.text, told.text);
            continue;
        }
        ck_assert_double_le(fabs(strtod(plan.text, &unit) - strtod(told.text, NULL)),
            mm3[i] < 975.0 ? 0.025 : 0.05);
        ck_assert_str_eq(unit, " mL");
        ck_assert_ptr_nonnull(strstr(told.text, unit));
    }
    for (double x = 1e-3; x < 1e8; x *= 1.07)
        ck_assert_str_eq(vugi_words_ml(x).text, amount_drawn(x).text);
    ck_assert_double_eq(LEAST_MM3, VUGI_LEAST_MM3);
}
END_TEST

/* What is drilled into a filled part is drilled once, though its step is done again. */
START_TEST(a_step_again_drills_no_more)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = NULL;
    const char *source = getenv("VUG_SRCDIR");
    char file[1024];
    snprintf(file, sizeof file, "%s/examples/gourd.stl", source ? source : ".");
    vug_mesh *mesh = NULL;
    ck_ok(ctx, vug_mesh_load(ctx, file, NULL, &mesh));
    ck_ok(ctx, vug_cavities_find(ctx, mesh, NULL, 0, NULL, &c));
    vug_mesh_free(mesh);
    options.start_given = 1;
    options.start_up[2] = -1.0;
    options.start_liquid_mm3 = 9000.0;
    options.max_turns = 1;
    vug_plan *plan = plan_of(ctx, c, &options);
    size_t found = SIZE_MAX;
    for (size_t i = 0; i < plan->count; i++)
        if (plan->option[i]->sites > 0)
            found = i;
    ck_assert_uint_ne(found, SIZE_MAX);
    vugi_option *o = plan->option[found], *first = plan->option[0];
    plan->option[0] = o;
    plan->option[found] = first;
    o->info.repeats = 1; /* the first step again, from how it is held now */
    o->info.again = 2;
    o->info.steps = 4;
    memcpy(o->fill[2].up, o->fill[0].up, sizeof o->fill[2].up);
    says(ctx, plan, "and do 1 again, but for the drilling", "do 1 again, also");
    o->info.steps = 2;
    o->info.repeats = o->info.again = 0;
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A room with a hole so wide in its floor and one in its roof, as it is held. */
static vug_plan *plan_with_two_holes(vug_context *ctx, double below, double above, vug_cavities **c)
{
    static blocks b;
    const double holes[14] = {6, 6, 0, 0, 0, -1, below, 12, 12, 13, 0, 0, 1, above};
    vug_plan_options options = quick();
    options.max_turns = options.max_bores = 0;
    memset(&b, 0, sizeof b);
    dig(&b, 1, 16, 1, 16, 1, 12);
    *c = cavities_of(ctx, &b, holes, 2);
    return plan_of(ctx, *c, &options);
}

/* A part that is printed is washed by its own hole alone, whatever is drilled later. Air comes in past water by a lone hole
 * from 5.0 mm on, or from 20.9 mm on: 2 x 0.918 and 3.832 x 2 capillary lengths of 2.73 mm (Bretherton 1961; first zero of
 * J1). */
START_TEST(washed_by_a_hole_alone)
{
    vug_context *ctx = test_context();
    vug_cavities *c;
    vug_plan *plan = plan_with_two_holes(ctx, 6.0, 2.0, &c);
    const vug_cavities *with = plan->option[0]->cavities;
    says(ctx, plan, "Wash before", "A lone hole such as");
    for (size_t i = 0; i < with->opening_count; i++) /* as a hole is that is drilled once cured */
        plan->option[0]->later[i] = with->opening[i].radius < 1.5;
    says(ctx, plan, ", 6.0 mm wide, may or may not run", "2.0 mm wide,");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Where the wall lets less than half of the light through, the widest hole that is there is turned to the lamp, by its letter. */
START_TEST(light_comes_by_a_letter)
{
    vug_context *ctx = test_context();
    vug_cavities *c;
    vug_plan *plan = plan_with_two_holes(ctx, 4.0, 6.0, &c);
    vugi_option *o = plan->option[0];
    o->wall_light = 0.51;
    says(ctx, plan, "Turn it before the lamp, so that all sides get light.",
        "to the lamp all that time");
    o->wall_light = 0.49;
    says(ctx, plan,
        "Less than half of that light comes through the wall, the rest by an opening: turn B to "
        "the lamp",
        "Turn it before the lamp");
    o->wall_light = 0.04;
    says(ctx, plan, "Hardly any of that light comes through the wall", "Less than half");
    for (size_t i = 0; i < o->cavities->opening_count; i++) /* drilled once cured */
        o->later[i] = o->cavities->opening[i].radius > 2.5;
    says(ctx, plan, "turn A to the lamp", "turn B to the lamp");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Where more air stays than may, nobody is told that no new hole is needed. */
START_TEST(no_new_hole_is_needed_where_it_is_good)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    static blocks b;
    const double hole[7] = {8, 8, 0, 0, 0, -1, 4};
    options.max_turns = 0;
    options.pose_given = 1;
    options.first_up[2] = -1.0;
    memset(&b, 0, sizeof b);
    dig(&b, 1, 16, 1, 16, 1, 12);
    vug_cavities *c = cavities_of(ctx, &b, hole, 1);
    vug_plan *plan = plan_of(ctx, c, &options);
    vug_plan_info *info = &plan->option[0]->info;
    vug_cavities *with = (vug_cavities *)plan->option[0]->cavities;
    with->opening[0].planned = false; /* as one that the part has */
    plan->option[0]->sites = 0;
    info->within_limit = 1;
    says(ctx, plan, "No new hole is needed.", "No new hole that was tried");
    info->within_limit = 0;
    says(ctx, plan, "No new hole that was tried makes it better.", "No new hole is needed.");
    plan->most_bores = 0;
    says(ctx, plan, "No new hole: none was allowed.", "No new hole is needed.");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A hole that looks down on the table is shut by it; by hand the hub's hole does so with its top up. */
START_TEST(what_stands_on_a_hole_is_propped_up)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hub(ctx);
    vug_plan *plan = plan_of(ctx, c, &options);
    vugi_option *o = plan->option[0];
    for (uint32_t k = 0; k < o->info.steps; k++)
        o->fill[k].stand_mm = 0.0;
    o->info.drain_steps = 1;
    o->drain->stand_mm = 5.0;
    memcpy(o->drain->up, (double[3]){0, 0, 1}, sizeof o->drain->up);
    says(ctx, plan, "straight up. It stands so, but on A: prop it up.", "stands so by itself");
    memcpy(o->drain->up, (double[3]){0, 0, -1}, sizeof o->drain->up);
    says(ctx, plan, "straight up. It stands so by itself.", "prop it up");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* By hand: 9.3 mL at 8 / 3 mm3/s take 58 minutes, 0.2 mL of them 75 s. 4 L of the default liquid's 1000 kg/m3 weigh 4 kg. */
START_TEST(hands_can_fill_it_so)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hub(ctx);
    vug_plan *plan = plan_of(ctx, c, &options);
    vugi_option *o = plan->option[0];
    o->fill->inject_mm3 = o->info.inject_mm3 = 9300.0;
    o->info.syringe_ml = 10.0;
    o->fill->rate_mm3_s = 8.0 / 3.0;
    plan->fluid.volatile_share = 0.5;
    says(ctx, plan,
        "60 minutes for each load, or it spills: in pushes of 0.2 mL, one every 1.5 minutes.",
        "use what sets no sooner");
    plan->fluid.volatile_share = 0.0;
    says(ctx, plan, "takes 60 minutes at least so: use what sets no sooner",
        "and fill that with glue");
    says(ctx, plan, " before it sets. Once it has, ", "mm deep and fill");
    o->fill->rate_mm3_s = 9300.0 / 200.0;
    says(ctx, plan, "Take at least 3.5 minutes for each load, or it spills.", "in pushes");
    o->info.loads = 25;
    o->info.inject_mm3 = 4e6;
    plan->fluid.density_kg_m3 = 1000.0;
    says(ctx, plan, "Let it run in by A with a hose that leaves room", "Inject by");
    says(ctx, plan, "Push the hose", "Push the needle");
    says(ctx, plan, "it weighs 4 kg more than empty", "or it spills");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* So much solvent as fills a large part is not even fetched. By hand: with a tenth of 1 L and 1 mL that stays, two times a
 * 100th part stays of it. */
START_TEST(large_parts_are_swirled)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hub(ctx);
    vug_plan *plan = plan_of(ctx, c, &options);
    vug_plan_info *info = &plan->option[0]->info;
    info->resin_s = -1.0;
    info->rinses = 1;
    info->rinse_mm3 = 400e3;
    info->residue_mm3 = 1000.0;
    info->film_mm3 = 0.0;
    info->capacity_mm3 = 401e3;
    says(ctx, plan, "Rinse it once, with fresh liquid, 400 mL in all", "swirl it with");
    says(ctx, plan, "- 400 mL of", "1 time");
    says(ctx, plan, "- a syringe kept for raw resin", "First let the raw resin");
    info->rinse_mm3 = 1e6;
    info->capacity_mm3 = 1001e3;
    says(ctx, plan,
        "swirl it with 100 mL of fresh liquid at a time, so that it comes to all sides, "
        "2 times, 200 mL in all",
        "Rinse it once");
    says(ctx, plan, "- 200 mL of", "1.0 L of the");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* What is told of holes and throats goes with what the plan comes to. */
START_TEST(advice_goes_with_the_outcome)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hub(ctx);
    options.design = 1;
    vug_plan *plan = plan_of(ctx, c, &options);
    vugi_option *o = plan->option[0];
    o->cautions |= 1u << VUG_CAUTION_THROAT | 1u << VUG_CAUTION_SEARCH;
    o->info.within_limit = 1;
    says(ctx, plan, "it pushes the air through them", "a bore of its own");
    says(ctx, plan, "more columns before printing", "before drilling");
    o->info.within_limit = 0;
    says(ctx, plan, "a bore of its own", "it pushes the air through them");
    o->info.in_model = 1;
    o->info.bores = 1;
    o->info.chance = 0.5;
    for (size_t i = 0; i < plan->count; i++)
        plan->option[i]->info.chance = 0.5;
    says(ctx, plan, "before you print, plan again", "before you drill");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A hole that no needle for paint passes is named; one that is drilled later is drilled wider, and was not washed by. */
START_TEST(a_narrow_hole_is_named)
{
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_cavities *c = hub(ctx);
    vug_plan *plan = plan_of(ctx, c, &options);
    vugi_option *o = plan->option[0];
    o->info.needle_gauge = 0;
    o->info.in_model = 0;
    o->later[o->fill[0].feed[0]] = false;
    says(ctx, plan, "A, by which it goes in, is too narrow", "told below");
    says(ctx, plan, "by hand with a drill, over a tray, before anything else", "The hole it goes");
    o->later[o->fill[0].feed[0]] = true;
    says(ctx, plan, "with another drill than is told below", "before anything else");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A second cavity of 3 x 3 x 3 with a hole of its own: less than a syringe measures. It decides no needle. */
START_TEST(a_stray_cavity_is_left_out)
{
    static blocks b;
    const double holes[14] = {7.5, 7.5, 0, 0, 0, -1, 6, 21.5, 3.5, 0, 0, 0, -1, 2};
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    memset(&b, 0, sizeof b);
    dig(&b, 1, 16, 1, 16, 1, 12);
    dig(&b, 20, 23, 2, 5, 1, 4);
    options.max_bores = 0;
    vug_cavities *c = cavities_of(ctx, &b, holes, 2);
    vug_plan *plan = plan_of(ctx, c, &options);
    vug_plan_info info = {.struct_size = sizeof info};
    vug_needle wide = {.struct_size = sizeof wide}, narrow = wide;
    ck_ok(ctx, vug_plan_get(plan, 0, &info));
    ck_ok(ctx, vug_needle_through(ctx, 6.0, 0.4, &wide));
    ck_ok(ctx, vug_needle_through(ctx, 2.0, 0.4, &narrow));
    ck_assert_int_ne(wide.gauge, narrow.gauge);
    ck_assert_int_eq(info.needle_gauge, wide.gauge);
    says(ctx, plan, "leave that out", "by B: leave that out, by");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* A chamber of 14 x 14 x 14 that nothing leads to, three times as large as the hub beside it: no hand leaves more air in
 * the hub than it takes. */
START_TEST(what_is_sealed_is_nobodys_air)
{
    static blocks b;
    const double hole[7] = {20.5, 20.5, 9, 0, 0, -1, 4};
    vug_context *ctx = test_context();
    vug_plan_options options = quick();
    vug_fluid paint = {.struct_size = sizeof paint};
    vug_plan *plan = NULL;
    vug_plan_info info = {.struct_size = sizeof info};
    double bubble = 0.0;
    dig_hub(&b);
    dig(&b, 1, 15, 1, 15, 1, 15);
    options.max_bores = 0;
    ck_ok(ctx, vug_fluid_preset(ctx, VUG_FLUID_CRAFT_ACRYLIC, VUG_HIGH, 20.0, &paint));
    ck_ok(ctx,
        vug_bubble_held(ctx, &paint, NULL,
            &bubble)); /* so stiff that the bubbles are followed too */
    ck_assert_double_gt(bubble, 1.0);
    vug_cavities *c = cavities_of(ctx, &b, hole, 1);
    ck_ok(ctx, vug_plan_make(ctx, c, &paint, NULL, NULL, 0, &options, &plan));
    ck_ok(ctx, vug_plan_get(plan, 0, &info));
    ck_close(info.sealed_mm3, 2744.0, 1e-6);
    ck_assert_double_le(info.tilted_mm3, info.capacity_mm3);
    says(ctx, plan, "of what openings lead to", "of the cavity, however");
    vug_plan_free(plan);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("plan text");
    TCase *tc = tcase_create("plan text");
    tcase_add_test(tc, words_are_the_plans_poses);
    tcase_add_test(tc, given_pose_is_said);
    tcase_add_test(tc, named_hole_is_to_be_drilled);
    tcase_add_test(tc, amounts_are_for_hands);
    tcase_add_test(tc, numbers_keep_their_units);
    tcase_add_test(tc, what_sets_does_not_dry);
    tcase_add_test(tc, one_syringe_is_named);
    tcase_add_test(tc, patience_ends);
    tcase_add_test(tc, small_and_thin_parts_can_be_done);
    tcase_add_test(tc, what_takes_no_paint_is_told_so);
    tcase_add_test(tc, programs_tell_the_same_amount);
    tcase_add_test(tc, a_step_again_drills_no_more);
    tcase_add_test(tc, washed_by_a_hole_alone);
    tcase_add_test(tc, light_comes_by_a_letter);
    tcase_add_test(tc, no_new_hole_is_needed_where_it_is_good);
    tcase_add_test(tc, what_stands_on_a_hole_is_propped_up);
    tcase_add_test(tc, hands_can_fill_it_so);
    tcase_add_test(tc, large_parts_are_swirled);
    tcase_add_test(tc, advice_goes_with_the_outcome);
    tcase_add_test(tc, a_narrow_hole_is_named);
    tcase_add_test(tc, a_stray_cavity_is_left_out);
    tcase_add_test(tc, what_is_sealed_is_nobodys_air);
    suite_add_tcase(suite, tc);
    return test_run(suite);
}
