/* SPDX-License-Identifier: MIT
 * fill: a part turned with liquid and air in it. */
#include "turn/drops.h"
#include "turn/level.h"
#include "turn/settle.h"

#include "cavity/cavity.h"
#include "course/levels.h"
#include "hydrostatic/quasistatic.h"

#include "columns_over.h"
#include "failing.h"
#include "shapes.h"
#include "spans.h"

static const double PI = 3.14159265358979323846;
static const bool all_open[8] = {true, true, true, true, true, true, true, true};

/* ---- vessels of boxes and cylinders, in poses given as solids ------------------------- */

typedef struct state {
    vugi_scene *scene;
    double *level;
} state;

static state state_of(vugi_scene *scene)
{
    return (state){scene, malloc(scene->graph.arc_count * sizeof(double))};
}

static void state_free(state *s)
{
    vugi_scene_free(s->scene);
    free(s->level);
}

/* The same columns upside down: heights change their sign. */
static vugi_scene *upside_down(vug_context *ctx, const vugi_columns *c)
{
    const double down[3] = {0.0, 0.0, -1.0};
    vugi_scene *scene = NULL;
    vugi_columns o = columns_over(c);
    ck_ok(ctx,
        vugi_scene_make(ctx, &vugi_default_allocator, &o, down, 0, 0.0, NULL, 0, NULL, 0, NULL,
            &scene));
    return scene;
}

static state fill_to(vug_context *ctx, vugi_scene *scene, double volume)
{
    const uint32_t inlet = 0;
    vugi_history history = {.mem = vugi_default_allocator};
    state s = state_of(scene);
    vugi_fill_task task = {.scene = scene,
        .inlet = &inlet,
        .inlets = 1,
        .air_open = all_open,
        .liquid_open = all_open,
        .volume = volume};
    ck_ok(ctx, vugi_quasistatic_run(ctx, &task, &history, s.level));
    vugi_history_free(&history);
    return s;
}

/* From a state into another scene. Conserves to 1e-9 of the capacity. */
static state turn_into(vug_context *ctx, const state *from, vugi_scene *to)
{
    state s = state_of(to);
    const vug_moment moment = {.scene = from->scene, .level = from->level};
    double liquid = vugi_levels_volume(&from->scene->graph, from->level);
    double capacity = to->graph.capacity;
    bool air = liquid > 0.5 * capacity;
    vugi_drop *drop = NULL;
    size_t count = 0;
    ck_ok(ctx, vugi_drops_cut(ctx, &vugi_default_allocator, &moment, to, air, &drop, &count));
    ck_ok(ctx, vugi_drops_settle(ctx, to, air, drop, count, s.level));
    free(drop);
    ck_close(vugi_levels_volume(&to->graph, s.level), liquid, 1e-9 * capacity);
    return s;
}

static double *tops_of(vug_context *ctx, const state *s)
{
    const vug_moment moment = {.scene = s->scene, .level = s->level};
    double *top = malloc((s->scene->columns.count + 1) * sizeof *top);
    ck_ok(ctx, vugi_column_levels(ctx, &vugi_default_allocator, &moment, top));
    return top;
}

/* Height of the liquid in the column at x, y of the pose. */
static double top_at(vug_context *ctx, const state *s, double x, double y)
{
    const vugi_columns *c = &s->scene->columns;
    double *top = tops_of(ctx, s);
    size_t i = (size_t)((x - c->x0) / c->h + 0.5), j = (size_t)((y - c->y0) / c->h + 0.5);
    double z = top[c->first[j * (size_t)c->nx + i]];
    free(top);
    return z;
}

#define SCENE(list, x1, y1, mouth) \
    make_scene(ctx, list, sizeof list / sizeof list[0], 0.0, x1, 0.0, y1, 0.5, mouth, \
        sizeof mouth / sizeof mouth[0])

/* A box of 30 x 20 x 20 with three blind towers of 4 x 4, 10, 15 and 20 high, and a hole in its ceiling:
 * the towers stay empty. Turned over, their 720 mm3 of air stand 1.2 mm high under the floor. */
START_TEST(towers_turned_over)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 30, 0, 20, 0, 20}}, {cut_box, {2, 6, 8, 12, 20, 30}},
        {cut_box, {12, 16, 8, 12, 20, 35}}, {cut_box, {22, 26, 8, 12, 20, 40}}};
    const test_mouth mouth[] = {{15, 3, 20, 1.5, 20, 20}};
    state up = fill_to(ctx, SCENE(part, 30, 20, mouth), INFINITY);
    ck_near(vugi_levels_volume(&up.scene->graph, up.level), 12000.0, 1e-9);
    state over = turn_into(ctx, &up, upside_down(ctx, &up.scene->columns));
    ck_close(top_at(ctx, &over, 4, 10), -1.2, 1e-6);
    ck_close(top_at(ctx, &over, 28, 2), -1.2, 1e-6);
    state back = turn_into(ctx, &over, upside_down(ctx, &over.scene->columns));
    /* Back again it finds just as much room in the towers as there is of it. */
    ck_close(top_at(ctx, &back, 24, 10), 20.0, 1e-6);
    ck_close(top_at(ctx, &back, 14, 10), 20.0, 1e-6);
    ck_close(top_at(ctx, &back, 4, 10), 20.0, 1e-6);
    state_free(&up);
    state_free(&over);
    state_free(&back);
    vug_context_free(ctx);
}
END_TEST

/* A cylinder on its side, R = 10, 40 long, filled to an eighth, three quarters, then stood up: the level
 * is the volume over pi R^2. */
START_TEST(cylinder_stood_up)
{
    vug_context *ctx = test_context();
    const solid lying[] = {{cut_lying, {0, 40, 15, 15, 10}}};
    const test_mouth hole[] = {{20, 15, 24.5, 1, 24.5, 25}};
    const solid upright[] = {{cut_frustum, {15, 15, 0, 40, 10, 10}}};
    for (int i = 1; i < 8; i += 2) {
        double volume = PI * 100.0 * 40.0 * i / 8.0;
        state side = fill_to(ctx, SCENE(lying, 40, 30, hole), volume);
        vugi_columns c = make_columns(upright, 1, 0.0, 30.0, 0.0, 30.0, 0.5);
        const double basis[9] = {0, 1, 0, 0, 0, 1, 1, 0, 0}, x[3] = {1, 0, 0};
        vugi_scene *scene = NULL;
        memcpy(c.basis, basis, sizeof basis);
        ck_ok(ctx,
            vugi_scene_make(ctx, &vugi_default_allocator, &c, x, 0, 0.0, NULL, 0, NULL, 0, NULL,
                &scene));
        state stood = turn_into(ctx, &side, scene);
        /* the columns' own areas: 0.2 and 0.7 % off */
        ck_close(top_at(ctx, &stood, 15.2, 15.2), 5.0 * i, 0.01 * 40.0);
        state_free(&side);
        state_free(&stood);
    }
    vug_context_free(ctx);
}
END_TEST

/* Two cellars joined at the top alone, liquid in the left one: what is at rest stays, but for the pieces
 * of columns, 0.5 mm long, that lie across the height where the cellars join. */
START_TEST(turned_by_nothing)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 40}}, {cut_box, {20, 30, 0, 10, 5, 40}},
        {cut_box, {0, 30, 0, 10, 30, 40}}, {cut_box, {22, 26, 2, 6, 40, 55}}};
    const test_mouth mouth[] = {{3, 5, 40, 2, 40, 40}};
    for (int i = 1; i <= 20; i++) {
        state a = fill_to(ctx, SCENE(part, 30, 10, mouth), 450.0 * i);
        state b = turn_into(ctx, &a, vugi_scene_share(a.scene));
        double *before = tops_of(ctx, &a), *after = tops_of(ctx, &b);
        for (size_t s = 0; s < a.scene->columns.count; s++)
            ck_close(after[s], before[s], 0.25);
        free(before);
        free(after);
        state_free(&a);
        state_free(&b);
    }
    vug_context_free(ctx);
}
END_TEST

/* A U-tube whose right leg is blind, turned over: legs of 10 x 10 up to 60, joined by 30 x 10 x 5. The
 * left leg is full, the right one keeps 100 x 55 of air less what came over. Over the other way, the air
 * fills the 1500 mm3 above the legs, and what is left hangs below that in the leg that it came from: the
 * other leg is cut off from it and stays full. By hand. */
START_TEST(cut_off_leg_stays_full)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 60}}, {cut_box, {20, 30, 0, 10, 0, 60}},
        {cut_box, {0, 30, 0, 10, 0, 5}}};
    const test_mouth mouth[] = {{5, 5, 60, 3, 60, 60}};
    state up = fill_to(ctx, SCENE(part, 30, 10, mouth), INFINITY);
    double air = up.scene->graph.capacity - vugi_levels_volume(&up.scene->graph, up.level);
    ck_near(air, 5500.0, 1e-9);
    state over = turn_into(ctx, &up, upside_down(ctx, &up.scene->columns));
    ck_close(top_at(ctx, &over, 5, 5), -5.0, 1e-6);
    ck_close(top_at(ctx, &over, 25, 5), -5.0 - (5500.0 - 1500.0) / 100.0, 1e-6);
    state_free(&up);
    state_free(&over);
    vug_context_free(ctx);
}
END_TEST

/* Air and liquid change places when the world is upside down: a turn from A to B with one in the other
 * is the turn from B to A with the other in the one. */
START_TEST(mirror_image)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_ball, {15, 15, 10, 9}}, {cut_ball, {32, 15, 14, 9}},
        {cut_ball, {49, 15, 8, 9}}, {cut_box, {15, 32, 13, 17, 7, 13}},
        {cut_box, {32, 50, 13, 17, 8.5, 15}}, {cut_box, {31, 33, 14, 16, 14, 40}},
        {cut_ball, {32, 15, 40, 6}}};
    const test_mouth mouth[] = {{32, 15, 45, 2, 46, 46}};
    for (int i = 1; i < 12; i++) {
        state a = fill_to(ctx, SCENE(part, 60, 30, mouth), 750.0 * i);
        state b = turn_into(ctx, &a, upside_down(ctx, &a.scene->columns));
        state mirror = state_of(vugi_scene_share(b.scene));
        for (size_t k = 0; k < b.scene->graph.arc_count; k++)
            mirror.level[k] = b.scene->graph.arc[k].lo;
        /* the air of A, as liquid in the columns of B: arcs have other numbers, so by their ends */
        const vugi_graph *ga = &a.scene->graph, *gb = &b.scene->graph;
        ck_assert_uint_eq(ga->arc_count, gb->arc_count);
        for (size_t k = 0; k < ga->arc_count; k++) {
            size_t found = 0;
            for (size_t m = 0; m < gb->arc_count; m++)
                if (fabs(gb->arc[m].lo + ga->arc[k].hi) < 1e-9
                    && fabs(gb->arc[m].hi + ga->arc[k].lo) < 1e-9
                    && fabs(gb->arc[m].volume - ga->arc[k].volume) < 1e-6) {
                    mirror.level[m] = -a.level[k];
                    found++;
                }
            ck_assert_uint_eq(found, 1);
        }
        state c = turn_into(ctx, &mirror, vugi_scene_share(a.scene));
        double *turned = tops_of(ctx, &b), *image = tops_of(ctx, &c), most = 0.0;
        for (size_t k = 0; k < (size_t)a.scene->columns.nx * (size_t)a.scene->columns.ny; k++) {
            const uint32_t *first = a.scene->columns.first;
            for (uint32_t s = first[k]; s < first[k + 1]; s++)
                most = fmax(most, fabs(image[s] + turned[first[k] + first[k + 1] - 1 - s]));
        }
        ck_close(most, 0.0, 1e-9);
        free(turned);
        free(image);
        state_free(&a);
        state_free(&b);
        state_free(&mirror);
        state_free(&c);
    }
    vug_context_free(ctx);
}
END_TEST

/* Legs of one U-tube at 30 and 10, then both open: 20 and 20. */
START_TEST(opened_and_level)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 60}}, {cut_box, {20, 30, 0, 10, 0, 60}},
        {cut_box, {0, 30, 0, 10, 0, 5}}};
    const test_mouth mouth[] = {{5, 5, 60, 3, 60, 60}, {25, 5, 60, 3, 60, 60}};
    state s = fill_to(ctx, SCENE(part, 30, 10, mouth), 2000.0);
    vugi_links links;
    double sum = 4000.0 + 500.0;
    ck_assert(vugi_links_alloc(&vugi_default_allocator, &s.scene->graph, &links));
    for (uint32_t a = 0, k = 0; a < s.scene->graph.arc_count; a++)
        if (s.scene->graph.arc[a].lo > 1.0)
            s.level[a] = k++ ? 10.0 : 30.0;
    ck_near(vugi_levels_volume(&s.scene->graph, s.level), sum, 1e-9);
    ck_ok(ctx, vugi_level_out(ctx, s.scene, all_open, s.level, &links));
    ck_close(top_at(ctx, &s, 5, 5), 20.0, 1e-6);
    ck_close(top_at(ctx, &s, 25, 5), 20.0, 1e-6);
    ck_near(vugi_levels_volume(&s.scene->graph, s.level), sum, 1e-9);
    vugi_links_free(&vugi_default_allocator, &links);
    state_free(&s);
    vug_context_free(ctx);
}
END_TEST

/* ---- the public call ------------------------------------------------------------------- */

/* A ball R = 20 about x, 0, 0 in a wall of 2, with a bore of 3 towards +z. */
static vug_cavities *bored_ball(vug_context *ctx, double x, double radius)
{
    double hole[7] = {x, 0.0, radius + 2.0, 0.0, 0.0, 1.0, 3.0};
    shape s = shape_of_mesh(shape_hollow_ball(ctx, radius, radius + 2.0, 1.5, 120));
    shape_shift(&s, x, 0.0, 0.0);
    vug_mesh *mesh = shape_mesh(ctx, &s);
    return cavities_by_hole(ctx, mesh, hole);
}

static vug_moment *end_of(vug_context *ctx, vug_course *course)
{
    vug_moment *end = NULL;
    ck_ok(ctx, vug_course_at_time(ctx, course, INFINITY, &end));
    vug_course_free(course);
    return end;
}

static vug_moment *half_full(vug_context *ctx, const vug_cavities *c, double volume)
{
    const double up[3] = {0.0, 0.0, 1.0};
    vug_fill_options options;
    vug_course *course = NULL;
    vug_fill_options_init(&options, sizeof options);
    options.columns_across = 100;
    options.volume_mm3 = volume;
    ck_ok(ctx, vug_fill_run(ctx, c, NULL, up, NULL, 0, &options, &course));
    return end_of(ctx, course);
}

/* Whatever is up, liquid in a ball stands as high: its centre is the level of half of it, and
 * pi h^2 (3 R - h) / 3 below h over the lowest point (any geometry text). */
START_TEST(ball_turned_slowly)
{
    vug_context *ctx = test_context();
    vug_cavities *c = bored_ball(ctx, 0.0, 20.0);
    const int32_t sealed[1] = {VUG_ROLE_SEALED};
    const double part[2] = {PI * 100.0 * 50.0 / 3.0, PI * 900.0 * 30.0 / 3.0},
                 level[2] = {-10.0, 10.0};
    for (int k = 0; k < 2; k++) {
        vug_moment *now = half_full(ctx, c, part[k]);
        double spacing = now->scene->columns.h;
        for (int i = 1; i <= 12; i++) {
            const double up[3] = {sin(0.4 * i), 0.5 * sin(0.9 * i), cos(0.4 * i)};
            vug_course *course = NULL;
            vug_pool_info pool = {.struct_size = sizeof pool};
            ck_ok(ctx, vug_fill_turn(ctx, c, NULL, now, up, sealed, 1, NULL, &course));
            vug_moment_free(now);
            vug_course_info s = summary_of(course);
            ck_assert_int_eq(s.end, VUG_END_SUPPLY);
            ck_assert_int_eq(s.inlet, -1);
            ck_close(s.liquid_mm3, part[k], 1e-9 * s.capacity_mm3 * i);
            ck_close(s.start_mm3, s.liquid_mm3, 1e-9 * s.capacity_mm3);
            ck_near(s.spacing_mm, spacing, 1e-12);
            now = end_of(ctx, course);
            ck_assert_int_eq(vug_moment_pool(now, 0, &pool), VUG_OK);
            ck_close(pool.level_mm, level[k],
                0.15); /* the ball has 120 facets around, and a bore */
        }
        vug_moment_free(now);
    }
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* Exactly, as a course too. */
START_TEST(not_turned_at_all)
{
    vug_context *ctx = test_context();
    vug_cavities *c = bored_ball(ctx, 0.0, 20.0);
    const double aside[3] = {1.0, 0.0, 0.2};
    vug_course *course = NULL;
    vug_pocket_info before = {.struct_size = sizeof before}, after = {.struct_size = sizeof after};
    ck_ok(ctx, vug_fill_run(ctx, c, NULL, aside, NULL, 0, NULL, &course));
    vug_moment *first = end_of(ctx, course);
    ck_ok(ctx, vug_fill_turn(ctx, c, NULL, first, aside, NULL, 0, NULL, &course));
    vug_course_info s = summary_of(course);
    ck_near(s.liquid_mm3, s.start_mm3, 1e-12);
    vug_moment *second = end_of(ctx, course);
    ck_assert_int_eq(vug_moment_pocket(first, 0, &before), VUG_OK);
    ck_assert_int_eq(vug_moment_pocket(second, 0, &after), VUG_OK);
    ck_assert_double_eq(before.volume_mm3, after.volume_mm3);
    ck_assert_double_eq(before.level_mm, after.level_mm);
    vug_moment_free(first);
    vug_moment_free(second);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* The bore looks aside, half stays air; turned up with it, the rest goes in. */
START_TEST(topped_up)
{
    vug_context *ctx = test_context();
    vug_cavities *c = bored_ball(ctx, 0.0, 20.0);
    const double aside[3] = {1.0, 0.0, 0.0}, up[3] = {0.0, 0.0, 1.0};
    vug_course *course = NULL;
    vug_fill_options options;
    vug_fill_options_init(&options, sizeof options);
    options.rate_mm3_s = 100.0;
    ck_ok(ctx, vug_fill_run(ctx, c, NULL, aside, NULL, 0, &options, &course));
    vug_course_info first = summary_of(course);
    ck_near(first.trapped_mm3, 14873.739519,
        0.005); /* above the rim: pi h^2 (3 R - h) / 3, h = 18.5 */
    vug_moment *now = end_of(ctx, course);
    ck_ok(ctx, vug_fill_turn(ctx, c, NULL, now, up, NULL, 0, &options, &course));
    vug_course_info second = summary_of(course);
    ck_assert_int_eq(second.end, VUG_END_FULL);
    ck_close(second.start_mm3, first.liquid_mm3, 1e-9 * first.capacity_mm3);
    ck_near(second.liquid_mm3, second.capacity_mm3, 1e-9);
    ck_near(second.time_s, (second.liquid_mm3 - second.start_mm3) / 100.0, 1e-9);
    vug_course_free(course);
    options.volume_mm3 = 1000.0;
    for (int viscous = 0; viscous < 2; viscous++) {
        options.viscous = viscous;
        ck_ok(ctx, vug_fill_turn(ctx, c, NULL, now, up, NULL, 0, &options, &course));
        second = summary_of(course);
        ck_assert_int_eq(second.end, VUG_END_SUPPLY);
        ck_near(second.liquid_mm3, first.liquid_mm3 + 1000.0, 1e-7);
        ck_near(second.time_s, 10.0, 1e-6);
        vug_course_free(course);
    }
    vug_moment_free(now);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

START_TEST(refuses_what_does_not_fit)
{
    vug_context *ctx = test_context();
    vug_cavities *c = bored_ball(ctx, 0.0, 20.0), *small = bored_ball(ctx, 0.0, 10.0),
                 *away = bored_ball(ctx, 30.0, 20.0);
    const double up[3] = {0.0, 1.0, 0.0}, nan_up[3] = {0.0, NAN, 1.0};
    const int32_t sealed[1] = {VUG_ROLE_SEALED}, wrong[1] = {9};
    vug_moment *now = half_full(ctx, c, 10000.0);
    vug_course *course = NULL;
    vug_fill_options options;
    vug_fill_options_init(&options, sizeof options);
    ck_assert_int_eq(vug_fill_turn(NULL, c, NULL, now, up, NULL, 0, NULL, &course),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_turn(ctx, NULL, NULL, now, up, NULL, 0, NULL, &course),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_turn(ctx, c, NULL, NULL, up, NULL, 0, NULL, &course),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_turn(ctx, c, NULL, now, NULL, NULL, 0, NULL, &course),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_turn(ctx, c, NULL, now, up, NULL, 0, NULL, NULL), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_turn(ctx, c, NULL, now, nan_up, NULL, 0, NULL, &course),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_turn(ctx, c, NULL, now, up, wrong, 1, NULL, &course),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_turn(ctx, small, NULL, now, up, NULL, 0, NULL, &course),
        VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_turn(ctx, away, NULL, now, up, NULL, 0, NULL, &course),
        VUG_ERR_ARGUMENT);
    options.inlet = 0;
    ck_assert_int_eq(vug_fill_turn(ctx, c, NULL, now, up, sealed, 1, &options, &course),
        VUG_ERR_ARGUMENT);
    options.inlet = 7;
    ck_assert_int_eq(vug_fill_turn(ctx, c, NULL, now, up, NULL, 0, &options, &course),
        VUG_ERR_NOT_FOUND);
    options.inlet = -1;
    options.viscous = 1;
    ck_assert_int_eq(vug_fill_turn(ctx, c, NULL, now, up, NULL, 0, &options, &course),
        VUG_ERR_ARGUMENT);
    options.rate_mm3_s = 1.0;
    ck_assert_int_eq(vug_fill_turn(ctx, c, NULL, now, up, sealed, 1, &options, &course),
        VUG_ERR_ARGUMENT);
    options.viscous = 0;
    options.volume_mm3 = NAN;
    ck_assert_int_eq(vug_fill_turn(ctx, c, NULL, now, up, NULL, 0, &options, &course),
        VUG_ERR_ARGUMENT);
    vug_context_cancel(ctx);
    ck_assert_int_eq(vug_fill_turn(ctx, c, NULL, now, up, NULL, 0, NULL, &course),
        VUG_ERR_CANCELLED);
    ck_assert_ptr_null(course);
    vug_moment_free(now);
    vug_cavities_free(c);
    vug_cavities_free(small);
    vug_cavities_free(away);
    vug_context_free(ctx);
}
END_TEST

typedef struct turning {
    vug_cavities *cavities;
    vug_moment *from;
} turning;

static vug_status turn_once(vug_context *ctx, void *data)
{
    const turning *t = data;
    const double up[3] = {0.3, 1.0, 0.2};
    vug_course *course = NULL;
    vug_fill_options coarse;
    vug_fill_options_init(&coarse, sizeof coarse);
    coarse.columns_across = 12;
    vug_status status = vug_fill_turn(ctx, t->cavities, NULL, t->from, up, NULL, 0, &coarse,
        &course);
    vug_course_free(course);
    return status;
}

START_TEST(runs_out_of_memory_cleanly)
{
    vug_context *ctx = test_context();
    turning t = {.cavities = bored_ball(ctx, 0.0, 20.0)};
    t.from = half_full(ctx, t.cavities, 1000.0);
    failing_until_success(turn_once, &t);
    vug_moment_free(t.from);
    vug_cavities_free(t.cavities);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("turn");
    TCase *vessels = tcase_create("vessels"), *public_call = tcase_create("public");
    tcase_add_test(vessels, towers_turned_over);
    tcase_add_test(vessels, cylinder_stood_up);
    tcase_add_test(vessels, turned_by_nothing);
    tcase_add_test(vessels, cut_off_leg_stays_full);
    tcase_add_test(vessels, mirror_image);
    tcase_add_test(vessels, opened_and_level);
    suite_add_tcase(suite, vessels);
    tcase_set_timeout(public_call, 60.0);
    tcase_add_test(public_call, ball_turned_slowly);
    tcase_add_test(public_call, not_turned_at_all);
    tcase_add_test(public_call, topped_up);
    tcase_add_test(public_call, refuses_what_does_not_fit);
    tcase_add_test(public_call, runs_out_of_memory_cleanly);
    suite_add_tcase(suite, public_call);
    return test_run(suite);
}
