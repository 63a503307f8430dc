/* SPDX-License-Identifier: MIT
 * fill: the gravity graph, and filling without hurry. */
#include "cavity/cavity.h"
#include "course/course_types.h"
#include "course/levels.h"
#include "hydrostatic/quasistatic.h"

#include "failing.h"
#include "shapes.h"
#include "spans.h"

static const double PI = 3.14159265358979323846;

typedef struct outcome {
    vugi_scene *scene;
    vugi_history history;
    double *level;
    vugi_links links;
    double liquid, trapped, empty;
} outcome;

/* Fills by the first mouth, all mouths open, and measures what is left. */
static outcome fill_scene(vug_context *ctx, vugi_scene *scene, double volume, bool stop)
{
    static const bool open[8] = {true, true, true, true, true, true, true, true};
    outcome o = {.scene = scene, .history = {.mem = vugi_default_allocator}};
    const vugi_graph *g = &scene->graph;
    o.level = malloc(g->arc_count * sizeof *o.level);
    const uint32_t inlet = 0;
    vugi_fill_task task = {.scene = scene,
        .inlet = &inlet,
        .inlets = 1,
        .air_open = open,
        .liquid_open = open,
        .volume = volume,
        .stop_at_spill = stop};
    ck_ok(ctx, vugi_quasistatic_run(ctx, &task, &o.history, o.level));
    ck_assert(vugi_links_alloc(&vugi_default_allocator, g, &o.links));
    vugi_links_find(scene, o.level, open, &o.links);
    o.liquid = vugi_levels_volume(g, o.level);
    for (uint32_t a = 0; a < g->arc_count; a++) {
        double air = g->arc[a].volume - vugi_arc_volume(g, a, o.level[a]);
        if (o.links.air[a] != VUGI_NONE)
            *(o.links.vented[o.links.air[a]] ? &o.empty : &o.trapped) += air;
    }
    ck_near(o.liquid + o.trapped + o.empty, g->capacity, 1e-9);
    return o;
}

static void outcome_free(outcome *o)
{
    vugi_history_free(&o->history);
    vugi_links_free(&vugi_default_allocator, &o->links);
    free(o->level);
    vugi_scene_free(o->scene);
}

/* Events of the run, in order: kind, liquid, level. */
typedef struct expected {
    int32_t kind;
    double liquid, level;
} expected;

static void check_events(const outcome *o, const expected *want, size_t count)
{
    for (size_t i = 0; i < count && i < o->history.event_count; i++) {
        const vugi_event *e = o->history.event + i;
        ck_assert_msg(e->kind == want[i].kind, "event %zu is %d, expected %d", i, e->kind,
            want[i].kind);
        ck_close(e->liquid, want[i].liquid, 1e-5 * (1.0 + want[i].liquid));
        ck_close(e->level, want[i].level, 1e-6);
    }
    ck_assert_uint_eq(o->history.event_count, count);
}

#define FILL(list, x1, y1, h, mouth) \
    fill_scene(ctx, \
        make_scene(ctx, list, sizeof list / sizeof list[0], 0.0, x1, 0.0, y1, h, mouth, \
            sizeof mouth / sizeof mouth[0]), \
        INFINITY, false)

/* All volumes of boxes by length x width x height. */
START_TEST(u_tube)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 50}}, {cut_box, {20, 30, 0, 10, 0, 40}},
        {cut_box, {0, 30, 0, 10, 0, 5}}};
    const test_mouth mouth[] = {{5, 5, 50, 3, 50, 50}, {25, 5, 40, 3, 40, 40}};
    outcome o = FILL(part, 30.0, 10.0, 0.5, mouth);
    const expected want[] = {{VUG_EVENT_BASIN, 0, 0}, {VUG_EVENT_SPILL, 8500, 40},
        {VUG_EVENT_RIM, 8500, 40}, {VUG_EVENT_SPILL, 9500, 50}, {VUG_EVENT_RIM, 9500, 50},
        {VUG_EVENT_FULL, 9500, 0}};
    check_events(&o, want, sizeof want / sizeof want[0]);
    ck_assert_int_eq(o.history.end, VUG_END_FULL);
    outcome_free(&o);
    /* Without a vent the second leg keeps its air from the top of the bend up: 35 x 10 x 10. */
    o = fill_scene(ctx, make_scene(ctx, part, 3, 0, 30, 0, 10, 0.5, mouth, 1), INFINITY, false);
    ck_near(o.trapped, 3500.0, 1e-6);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

START_TEST(joined_at_the_top)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 50}}, {cut_box, {20, 30, 0, 10, 0, 50}},
        {cut_box, {0, 30, 0, 10, 40, 50}}};
    const test_mouth mouth[] = {{5, 5, 50, 3, 50, 50}};
    outcome o = FILL(part, 30.0, 10.0, 0.5, mouth);
    const expected want[] = {{VUG_EVENT_BASIN, 0, 0}, {VUG_EVENT_SILL, 4000, 40},
        {VUG_EVENT_BASIN, 4000, 0}, {VUG_EVENT_MERGE, 8000, 40}, {VUG_EVENT_SPILL, 11000, 50},
        {VUG_EVENT_RIM, 11000, 50}, {VUG_EVENT_FULL, 11000, 0}};
    check_events(&o, want, sizeof want / sizeof want[0]);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

/* Three basins in a row with sills at 20 and 30, filled from either end. */
START_TEST(three_basins)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 60}}, {cut_box, {10, 12, 0, 10, 20, 60}},
        {cut_box, {12, 22, 0, 10, 5, 60}}, {cut_box, {22, 24, 0, 10, 30, 60}},
        {cut_box, {24, 34, 0, 10, 2, 60}}};
    const test_mouth left[] = {{5, 5, 60, 3, 60, 60}}, right[] = {{29, 5, 60, 3, 60, 60}};
    outcome o = FILL(part, 34.0, 10.0, 0.5, left);
    const expected from_left[] = {{VUG_EVENT_BASIN, 0, 0}, {VUG_EVENT_SILL, 2000, 20},
        {VUG_EVENT_BASIN, 2000, 5}, {VUG_EVENT_MERGE, 3500, 20}, {VUG_EVENT_SILL, 5700, 30},
        {VUG_EVENT_BASIN, 5700, 2}, {VUG_EVENT_MERGE, 8500, 30}, {VUG_EVENT_SPILL, 18700, 60},
        {VUG_EVENT_RIM, 18700, 60}, {VUG_EVENT_FULL, 18700, 0}};
    check_events(&o, from_left, sizeof from_left / sizeof from_left[0]);
    outcome_free(&o);
    o = FILL(part, 34.0, 10.0, 0.5, right);
    const expected from_right[] = {{VUG_EVENT_BASIN, 0, 2}, {VUG_EVENT_SILL, 2800, 30},
        {VUG_EVENT_BASIN, 2800, 5}, {VUG_EVENT_SILL, 4300, 20}, {VUG_EVENT_BASIN, 4300, 0},
        {VUG_EVENT_MERGE, 6300, 20}, {VUG_EVENT_MERGE, 8500, 30}, {VUG_EVENT_SPILL, 18700, 60},
        {VUG_EVENT_RIM, 18700, 60}, {VUG_EVENT_FULL, 18700, 0}};
    check_events(&o, from_right, sizeof from_right / sizeof from_right[0]);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

/* Liquid by the heights that a section draws: columns that reach from the pool up into a pocket must
 * end at the pool. */
static double liquid_in_columns(vug_context *ctx, const outcome *o)
{
    const vugi_columns *c = &o->scene->columns;
    vug_moment moment = {.scene = o->scene, .level = o->level};
    double *top = malloc((c->count + 1) * sizeof *top), sum = 0.0;
    ck_assert_ptr_nonnull(top);
    ck_ok(ctx, vugi_column_levels(ctx, &vugi_default_allocator, &moment, top));
    for (size_t s = 0; s < c->count; s++)
        sum += (top[s] - c->lo[s]) * c->h * c->h;
    free(top);
    return sum;
}

/* Blind towers on a box keep all their air; the one with the opening does not. */
START_TEST(blind_towers)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 30, 0, 30, 0, 10}}, {cut_box, {0, 5, 0, 5, 0, 40}},
        {cut_box, {20, 25, 20, 25, 0, 30}}, {cut_box, {10, 15, 10, 15, 0, 20}}};
    const test_mouth mouth[] = {{2.5, 2.5, 40, 2, 40, 40}};
    outcome o = FILL(part, 30.0, 30.0, 0.5, mouth);
    const expected want[] = {{VUG_EVENT_BASIN, 0, 0}, {VUG_EVENT_POCKET, 9000, 10},
        {VUG_EVENT_POCKET, 9000, 10}, {VUG_EVENT_SPILL, 9750, 40}, {VUG_EVENT_RIM, 9750, 40},
        {VUG_EVENT_FULL, 9750, 0}};
    check_events(&o, want, sizeof want / sizeof want[0]);
    ck_near(o.trapped, 750.0, 1e-6);
    ck_near(liquid_in_columns(ctx, &o), o.liquid, 1e-3);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

/* An S of three runs, up, down, up: the liquid at the foot of the second run cuts off the air in
 * the first bend, which bars the way when the inlet run is full. */
START_TEST(trap_like_bend)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 50}}, {cut_box, {10, 20, 0, 10, 0, 5}},
        {cut_box, {20, 30, 0, 10, 0, 30}}, {cut_box, {30, 40, 0, 10, 25, 30}},
        {cut_box, {40, 50, 0, 10, 0, 30}}, {cut_box, {50, 60, 0, 10, 0, 5}},
        {cut_box, {60, 70, 0, 10, 0, 60}}};
    const test_mouth mouth[] = {{5, 5, 50, 3, 50, 50}, {65, 5, 60, 3, 60, 60}};
    outcome o = FILL(part, 70.0, 10.0, 0.5, mouth);
    /* To 25 in both legs of the first U, 2 x 25 x 100 and the bend 500; then over the sill into the
     * second U, until its bend is under liquid at 5: 3 x 500. The air above, up to 30, is cut off:
     * 20 x 100 + 5 x 100 at the sill + 5 x 100 + 25 x 100 ... */
    ck_assert_int_eq(o.history.end, VUG_END_CUT_OFF);
    ck_near(o.trapped, 100.0 * (5.0 + 5.0 + 25.0), 1e-6);
    ck_near(o.empty, 100.0 * 55.0, 1e-6);
    ck_near(o.liquid, 5000.0 + 500.0 + 1500.0 + 100.0 * 25.0, 1e-6);
    ck_near(liquid_in_columns(ctx, &o), o.liquid, 1e-3);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

static double level_for(const outcome *o, double volume)
{
    double level[64], z = -INFINITY;
    vugi_frame frame;
    const vugi_graph *g = &o->scene->graph;
    ck_assert_uint_le(g->arc_count, 64);
    vugi_history_at(&o->history, g, volume, false, level, &frame);
    ck_near(vugi_levels_volume(g, level), volume, 1e-9);
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (level[a] > g->arc[a].lo)
            z = fmax(z, level[a]);
    return z;
}

/* Volumes below a level: ball pi h^2 (3R - h) / 3, frustum pi h (R1^2 + R1 R2 + R2^2) / 3 (any
 * handbook); lying capsule R = 20, L = 100: python3-fluids TANK(...).h_from_V(60000) =
 * 16.24645852165906 above the lowest point. */
START_TEST(levels_of_round_vessels)
{
    vug_context *ctx = test_context();
    const double h = 0.2;
    const solid ball[] = {{cut_ball, {20, 20, 0, 20}}, {cut_box, {19, 21, 19, 21, 0, 21}}};
    const test_mouth on_ball[] = {{20, 20, 21, 1, 21, 21}};
    outcome o = FILL(ball, 40.0, 40.0, h, on_ball);
    ck_close(level_for(&o, 5235.987756), -10.0, 0.1 * h);
    ck_close(level_for(&o, 16755.160819), 0.0, 0.1 * h);
    ck_close(level_for(&o, 28274.333882), 10.0, 0.1 * h);
    outcome_free(&o);
    const solid frustum[] = {{cut_frustum, {20, 20, 0, 30, 20, 10}}};
    const test_mouth on_frustum[] = {{20, 20, 30, 5, 30, 30}};
    o = FILL(frustum, 40.0, 40.0, h, on_frustum);
    ck_near(o.liquid, 21991.148575, 1e-3);
    ck_close(level_for(&o, PI * 15.0 * (400.0 + 300.0 + 225.0) / 3.0), 15.0, 0.1 * h);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

/* The air of a ball R = 20 with a round hole of chord 3 on its equator stays above the hole's highest
 * point: pi h^2 (3R - h) / 3 with h = 18.5 is 14873.739519. */
START_TEST(rim_on_the_equator)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_ball, {20, 20, 0, 20}}, {cut_box, {38, 44, 18.5, 21.5, -1.5, 1.5}}};
    const test_mouth mouth[] = {{43.9, 20, 0, 1.5, -1.5, 1.5}};
    outcome o = FILL(part, 44.0, 40.0, 0.1, mouth);
    ck_near(o.trapped, 14873.739519, 1e-4);
    ck_close(o.level[0], 1.5, 1e-6);
    const vugi_event *e = o.history.event + 1;
    ck_assert_int_eq(e->kind, VUG_EVENT_SPILL);
    ck_close(e->level, -1.5, 1e-6);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

START_TEST(limited_liquid_and_first_spill)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 50}}, {cut_box, {20, 30, 0, 10, 0, 40}},
        {cut_box, {0, 30, 0, 10, 0, 5}}};
    const test_mouth mouth[] = {{5, 5, 50, 3, 50, 50}, {25, 5, 40, 3, 40, 40}};
    outcome o = fill_scene(ctx, make_scene(ctx, part, 3, 0, 30, 0, 10, 0.5, mouth, 2), 3500.0,
        false);
    ck_assert_int_eq(o.history.end, VUG_END_SUPPLY);
    ck_near(o.liquid, 3500.0, 1e-9);
    ck_close(level_for(&o, 3500.0), 15.0, 1e-6);
    outcome_free(&o);
    o = fill_scene(ctx, make_scene(ctx, part, 3, 0, 30, 0, 10, 0.5, mouth, 2), INFINITY, true);
    ck_assert_int_eq(o.history.end, VUG_END_SPILL);
    ck_near(o.liquid, 8500.0, 1e-7);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

/* Stopped anywhere and taken up again, the fill ends as it does in one go: by the definition of a state. */
START_TEST(taken_up_again)
{
    static const bool open[1] = {true};
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 20, 0, 10, 0, 20}}, {cut_box, {0, 5, 0, 10, 20, 30}},
        {cut_box, {20, 22, 0, 10, 12, 20}}, {cut_box, {22, 40, 0, 10, 0, 40}}};
    const test_mouth mouth[] = {{31, 5, 40, 3, 40, 40}};
    const uint32_t inlet = 0;
    outcome whole = FILL(part, 40.0, 10.0, 0.5, mouth);
    const vugi_graph *g = &whole.scene->graph;
    double *level = malloc(g->arc_count * sizeof *level);
    ck_assert_double_gt(whole.trapped, 100.0);
    for (int i = 1; i < 10; i++) {
        vugi_history again = {.mem = vugi_default_allocator};
        outcome part_way = fill_scene(ctx, vugi_scene_share(whole.scene), whole.liquid * i / 10.0,
            false);
        vugi_fill_task task = {.scene = whole.scene,
            .inlet = &inlet,
            .inlets = 1,
            .air_open = open,
            .liquid_open = open,
            .volume = INFINITY,
            .start = part_way.level};
        ck_ok(ctx, vugi_quasistatic_run(ctx, &task, &again, level));
        for (uint32_t a = 0; a < g->arc_count; a++)
            ck_close(level[a], whole.level[a], 1e-9);
        ck_near(again.frame[0].liquid, part_way.liquid, 1e-12);
        ck_assert_int_eq(again.end, whole.history.end);
        vugi_history_free(&again);
        outcome_free(&part_way);
    }
    free(level);
    outcome_free(&whole);
    vug_context_free(ctx);
}
END_TEST

/* At each moment liquid + trapped + empty is the capacity, and liquid never falls in any arc. */
START_TEST(conservation_through_the_history)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_ball, {15, 15, 10, 9}}, {cut_ball, {32, 15, 14, 9}},
        {cut_ball, {49, 15, 8, 9}}, {cut_box, {15, 50, 13, 17, 8, 15}},
        {cut_box, {31, 33, 14, 16, 14, 40}}, {cut_ball, {32, 15, 40, 6}}};
    const test_mouth mouth[] = {{32, 15, 45, 2, 46, 46}};
    outcome o = FILL(part, 60.0, 30.0, 0.25, mouth);
    const vugi_graph *g = &o.scene->graph;
    double *before = malloc(g->arc_count * sizeof *before);
    double *now = malloc(g->arc_count * sizeof *now);
    for (int i = 0; i <= 200; i++) {
        double volume = o.liquid * i / 200.0;
        vugi_frame frame;
        vugi_history_at(&o.history, g, volume, false, now, &frame);
        ck_close(vugi_levels_volume(g, now), volume, 1e-9 * g->capacity);
        for (uint32_t a = 0; a < g->arc_count && i > 0; a++)
            ck_assert_double_ge(now[a], before[a]);
        memcpy(before, now, g->arc_count * sizeof *before);
    }
    ck_assert_double_gt(o.trapped, 0.0);
    free(before);
    free(now);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

/* ---- the public calls ---------------------------------------------------------- */

/* A ball R = 20 in a wall of 2, with a bore of 3 turned by angle degrees from +z towards +x. */
static vug_cavities *bored_ball(vug_context *ctx, double angle)
{
    const double y[3] = {0.0, 1.0, 0.0};
    double a = angle * PI / 180.0;
    double hole[7] = {22.0 * sin(a), 0.0, 22.0 * cos(a), sin(a), 0.0, cos(a), 3.0};
    shape s = shape_of_mesh(shape_hollow_ball(ctx, 20.0, 22.0, 1.5, 200));
    shape_turn(&s, y, angle);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    return cavities_by_hole(ctx, mesh, hole);
}

START_TEST(public_ball)
{
    vug_context *ctx = test_context();
    vug_cavities *c = bored_ball(ctx, 90.0);
    vug_course *course = NULL;
    vug_fill_options options;
    vug_event_info event = {.struct_size = sizeof event};
    vug_moment *moment = NULL;
    vug_moment_info info = {.struct_size = sizeof info};
    vug_pocket_info pocket;
    vug_pool_info pool = {.struct_size = sizeof pool};
    const double up[3] = {0.0, 0.0, 3.0};
    double volume, level, *rows = NULL;
    const double origin[3] = {0.0, 0.0, 0.0}, toward[3] = {0.0, 1.0, 0.0};
    size_t row_count = 0;
    ck_assert_int_eq(vug_fill_options_init(&options, sizeof options), VUG_OK);
    options.rate_mm3_s = 100.0;
    ck_ok(ctx, vug_fill_run(ctx, c, NULL, up, NULL, 0, &options, &course));
    vug_cavities_free(c);
    vug_course_info s = summary_of(course);
    ck_assert_int_eq(s.end, VUG_END_FULL);
    ck_near(s.trapped_mm3, 14873.739519, 0.005);
    ck_near(s.liquid_mm3 + s.trapped_mm3 + s.empty_mm3, s.capacity_mm3, 1e-9);
    ck_near(s.capacity_mm3, 33510.321638 + PI * 2.25 * 2.0, 0.003);
    ck_near(s.time_s, s.liquid_mm3 / 100.0, 1e-9);
    ck_assert_int_eq(s.first_spill_opening, 0);
    ck_near(s.first_spill_mm3, 14873.739519, 0.005); /* by symmetry */
    ck_assert_uint_eq(vug_course_event_count(course), 5);
    ck_assert_int_eq(vug_course_event(course, 3, &event), VUG_OK);
    ck_assert_int_eq(event.kind, VUG_EVENT_POCKET);
    ck_near(event.volume_mm3, s.trapped_mm3, 1e-9);
    ck_assert_int_eq(vug_course_event(course, 5, &event), VUG_ERR_NOT_FOUND);
    ck_ok(ctx, vug_course_at_time(ctx, course, 52.35987756, &moment));
    vug_course_free(course);
    ck_assert_int_eq(vug_moment_get(moment, &info), VUG_OK);
    ck_near(info.liquid_mm3, 5235.987756, 1e-9);
    ck_assert_uint_eq(info.pools, 1);
    ck_assert_uint_eq(info.pockets, 0);
    ck_assert_int_eq(vug_moment_pool(moment, 0, &pool), VUG_OK);
    ck_close(pool.level_mm, -10.0, s.spacing_mm);
    ck_close(pool.bottom_mm[2], -20.0, s.spacing_mm);
    ck_near(pool.area_mm2, PI * 300.0, 0.01);
    ck_ok(ctx, vug_moment_pool_volume(ctx, moment, 0, 0.0, &volume));
    ck_near(volume, 16755.160819, 0.005);
    ck_ok(ctx, vug_moment_pool_level(ctx, moment, 0, volume, &level));
    ck_close(level, 0.0, 1e-6);
    ck_assert_int_eq(vug_moment_pool_volume(ctx, moment, 0, 99.0, &volume), VUG_ERR_DOMAIN);
    ck_assert_int_eq(vug_moment_pocket(moment, 0, &pocket), VUG_ERR_NOT_FOUND);
    ck_ok(ctx, vug_moment_section(ctx, moment, origin, toward, &rows, &row_count));
    ck_assert_uint_gt(row_count, 250);
    double wet = 0.0; /* of the disc R = 20, the segment below -10: R^2 acos(1/2) - 10 sqrt(300) */
    for (size_t i = 0; i < row_count; i++)
        wet += (rows[4 * i + 2] - rows[4 * i + 1]) * s.spacing_mm;
    ck_near(wet, 400.0 * acos(0.5) - 10.0 * sqrt(300.0), 0.01);
    vug_free(ctx, rows);
    /* A point far along the plane cuts the same and takes no longer; one far beside it cuts nothing. */
    const double far_along[3] = {1e9, 0.0, 0.0}, beside[3] = {0.0, 1e9, 0.0};
    size_t same = 0;
    ck_ok(ctx, vug_moment_section(ctx, moment, far_along, toward, &rows, &same));
    ck_close((double)same, (double)row_count, 2.0);
    vug_free(ctx, rows);
    ck_ok(ctx, vug_moment_section(ctx, moment, beside, toward, &rows, &same));
    ck_assert_uint_eq(same, 0);
    ck_assert_ptr_null(rows);
    vug_moment_free(moment);
    vug_context_free(ctx);
}
END_TEST

/* Poured through a hole narrower than the exchange diameter, with no other way out for the air,
 * nothing goes in; 3 mm is below the 4.99 mm of water that wets (2 x 0.918 capillary lengths,
 * Bretherton 1961). A vent beside it lets it in. */
/* A spacing that is given for a whole plate still tells the shape of each cavity on it. The half below the rim by hand. */
START_TEST(spacing_of_larger_parts)
{
    vug_context *ctx = test_context();
    vug_cavities *c = bored_ball(ctx, 90.0);
    vug_course *course = NULL;
    vug_fill_options options;
    const double up[3] = {0.0, 0.0, 1.0};
    ck_assert_int_eq(vug_fill_options_init(&options, sizeof options), VUG_OK);
    options.spacing_mm = 25.0;
    ck_ok(ctx, vug_fill_run(ctx, c, NULL, up, NULL, 0, &options, &course));
    vug_course_info s = summary_of(course);
    ck_assert_double_lt(s.spacing_mm, 1.1); /* 40 over a diameter and the bore */
    ck_near(s.trapped_mm3, 14873.739519, 0.02);
    vug_course_free(course);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

START_TEST(poured_through_a_narrow_hole)
{
    vug_context *ctx = test_context();
    vug_cavities *c = bored_ball(ctx, 0.0);
    const double up[3] = {0.0, 0.0, 1.0};
    vug_course *course = NULL;
    vug_fill_options options;
    vug_fill_options_init(&options, sizeof options);
    options.entry = VUG_ENTRY_POURED;
    ck_ok(ctx, vug_fill_run(ctx, c, NULL, up, NULL, 0, &options, &course));
    vug_course_info s = summary_of(course);
    ck_assert_int_eq(s.end, VUG_END_BLOCKED);
    ck_assert_int_eq(s.held, 1);
    ck_assert_double_eq(s.liquid_mm3, 0.0);
    ck_near(s.trapped_mm3, s.capacity_mm3, 1e-12);
    vug_course_free(course);
    options.entry = VUG_ENTRY_INJECTED;
    ck_ok(ctx, vug_fill_run(ctx, c, NULL, up, NULL, 0, &options, &course));
    s = summary_of(course);
    ck_near(s.liquid_mm3, s.capacity_mm3, 1e-9);
    vug_course_free(course);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Boyle: a closed volume V under a tight syringe of P takes V P / (P0 + P). */
START_TEST(tight_syringe_on_a_ball)
{
    vug_context *ctx = test_context();
    vug_cavities *c = bored_ball(ctx, 0.0);
    const double on_top[3] = {0.0, 0.0, 1.0}, below[3] = {0.0, 0.0, -1.0};
    vug_fill_options o;
    vug_fill_options_init(&o, sizeof o);
    o.inlet_sealed = 1;
    o.pressure_pa = 20000.0;
    for (int i = 0; i < 2; i++) {
        vug_course *course = NULL;
        vug_course_info s = {.struct_size = sizeof s};
        ck_ok(ctx, vug_fill_run(ctx, c, NULL, i ? below : on_top, NULL, 0, &o, &course));
        ck_ok(ctx, vug_course_get(course, &s));
        /* With the hole above the liquid exactly; below it the head of up to 40 mm counts too, 0.4 kPa. */
        ck_near(s.liquid_mm3, s.capacity_mm3 * 20000.0 / 121325.0, i ? 0.02 : 1e-6);
        ck_near(s.peak_pressure_pa, 20000.0, 1e-6);
        vug_course_free(course);
    }
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

START_TEST(refuses_bad_arguments)
{
    vug_context *ctx = test_context();
    vug_cavities *c = bored_ball(ctx, 0.0);
    const double up[3] = {0.0, 0.0, 1.0}, none[3] = {0.0, 0.0, 0.0}, nan[3] = {NAN, 0.0, 1.0};
    const int32_t sealed = VUG_ROLE_SEALED, odd = 9;
    vug_course *course = NULL;
    vug_fill_options o;
    vug_fill_options_init(&o, sizeof o);
    ck_assert_int_eq(vug_fill_run(NULL, c, NULL, up, NULL, 0, NULL, &course), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_run(ctx, NULL, NULL, up, NULL, 0, NULL, &course), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, NULL, NULL, 0, NULL, &course), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, none, NULL, 0, NULL, &course), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, nan, NULL, 0, NULL, &course), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, up, &sealed, 1, NULL, &course), VUG_ERR_NOT_FOUND);
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, up, &odd, 1, NULL, &course), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, up, &odd, 5, NULL, &course), VUG_ERR_ARGUMENT);
    o.inlet = 3;
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, up, NULL, 0, &o, &course), VUG_ERR_NOT_FOUND);
    o.inlet = -1;
    o.rate_mm3_s = NAN;
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, up, NULL, 0, &o, &course), VUG_ERR_ARGUMENT);
    o.rate_mm3_s = 0.0;
    o.entry = 7;
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, up, NULL, 0, &o, &course), VUG_ERR_ARGUMENT);
    o.entry = 0;
    o.columns_across = 3;
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, up, NULL, 0, &o, &course), VUG_ERR_ARGUMENT);
    o.columns_across = 0;
    o.spacing_mm = -1.0;
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, up, NULL, 0, &o, &course), VUG_ERR_ARGUMENT);
    o.spacing_mm = 0.0;
    o.air_pressure_pa = -1.0;
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, up, NULL, 0, &o, &course), VUG_ERR_ARGUMENT);
    o.air_pressure_pa = 0.0;
    o.release = 1;
    o.rigid_air = 2;
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, up, NULL, 0, &o, &course), VUG_ERR_ARGUMENT);
    o.rigid_air = 1;
    ck_assert_int_eq(vug_fill_run(ctx, c, NULL, up, NULL, 0, &o, &course), VUG_ERR_ARGUMENT);
    ck_assert_ptr_null(course);
    ck_assert_int_eq(vug_course_get(NULL, NULL), VUG_ERR_ARGUMENT);
    ck_assert_uint_eq(vug_course_event_count(NULL), 0);
    ck_assert_int_eq(vug_course_at_volume(ctx, NULL, 1.0, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_moment_get(NULL, NULL), VUG_ERR_ARGUMENT);
    vug_course_free(NULL);
    vug_moment_free(NULL);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static vug_status fill_and_look(vug_context *ctx, void *data)
{
    const double up[3] = {0.2, 0.0, 1.0}, origin[3] = {0.0, 0.0, 0.0}, toward[3] = {0.0, 1.0, 0.0};
    vug_fill_options o;
    vug_course *course = NULL;
    vug_moment *moment = NULL;
    double *rows = NULL;
    size_t count;
    vug_fill_options_init(&o, sizeof o);
    o.columns_across = 24;
    vug_status status = vug_fill_run(ctx, data, NULL, up, NULL, 0, &o, &course);
    if (!status)
        status = vug_course_at_volume(ctx, course, 9000.0, &moment);
    if (!status)
        status = vug_moment_section(ctx, moment, origin, toward, &rows, &count);
    vug_free(ctx, rows);
    vug_moment_free(moment);
    vug_course_free(course);
    return status;
}

START_TEST(runs_out_of_memory_cleanly)
{
    vug_context *ctx = test_context();
    vug_cavities *c = bored_ball(ctx, 0.0);
    failing_until_success(fill_and_look, c);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("fill");
    TCase *still = tcase_create("still");
    tcase_add_test(still, u_tube);
    tcase_add_test(still, joined_at_the_top);
    tcase_add_test(still, three_basins);
    tcase_add_test(still, blind_towers);
    tcase_add_test(still, trap_like_bend);
    tcase_add_test(still, levels_of_round_vessels);
    tcase_add_test(still, rim_on_the_equator);
    tcase_add_test(still, limited_liquid_and_first_spill);
    tcase_add_test(still, taken_up_again);
    tcase_add_test(still, conservation_through_the_history);
    suite_add_tcase(suite, still);
    TCase *public = tcase_create("public");
    tcase_add_test(public, public_ball);
    tcase_add_test(public, spacing_of_larger_parts);
    tcase_add_test(public, poured_through_a_narrow_hole);
    tcase_add_test(public, tight_syringe_on_a_ball);
    tcase_add_test(public, refuses_bad_arguments);
    tcase_add_test(public, runs_out_of_memory_cleanly);
    suite_add_tcase(suite, public);
    return test_run(suite);
}
