/* SPDX-License-Identifier: MIT
 * fill: filling in time, with a liquid that needs a head to flow. */
#include "transient/bores.h"
#include "transient/heads.h"
#include "transient/run.h"

#include "cavity/cavity.h"
#include "course/course_types.h"
#include "hydrostatic/compressible.h"
#include "hydrostatic/linear.h"

#include "failing.h"
#include "shapes.h"
#include "spans.h"

static const double PI = 3.14159265358979323846, G = 9.80665; /* m/s2 */

typedef struct outcome {
    vugi_history history;
    vugi_transient_result result;
    double *level;
} outcome;

static const bool all_open[8] = {true, true, true, true, true, true, true, true};

static vug_fluid fluid_of(double viscosity)
{
    vug_fluid f;
    vug_fluid_init(&f, sizeof f);
    f.density_kg_m3 = 1000.0;
    f.consistency_pa_sn = viscosity;
    return f;
}

/* air_head: the pressure outside in mm; INFINITY: air does not give. */
static outcome run_in_air(vug_context *ctx, vugi_scene *scene, const vug_fluid *fluid, double rate,
    double volume, bool stop, double air_head)
{
    const uint32_t inlet = 0;
    outcome o = {.history = {.mem = vugi_default_allocator}};
    vugi_transient task = {.fill = {.scene = scene,
                               .inlet = &inlet,
                               .inlets = 1,
                               .air_open = all_open,
                               .liquid_open = all_open,
                               .volume = volume,
                               .stop_at_spill = stop},
        .fluid = fluid,
        .rate = rate,
        .settle = true,
        .air_head = isfinite(air_head) ? air_head : 0.0};
    o.level = malloc(scene->graph.arc_count * sizeof *o.level);
    ck_ok(ctx, vugi_transient_run(ctx, &task, &o.history, o.level, &o.result));
    return o;
}

static outcome run_timed(vug_context *ctx, vugi_scene *scene, const vug_fluid *fluid, double rate,
    double volume, bool stop)
{
    return run_in_air(ctx, scene, fluid, rate, volume, stop, INFINITY);
}

static outcome run_still(vug_context *ctx, vugi_scene *scene, double air_head)
{
    const uint32_t inlet = 0;
    outcome o = {.history = {.mem = vugi_default_allocator}};
    vugi_compressible task = {.air_head = air_head,
        .fill = {.scene = scene,
            .inlet = &inlet,
            .inlets = 1,
            .air_open = all_open,
            .liquid_open = all_open,
            .volume = INFINITY}};
    vugi_compressible_result result;
    o.level = malloc(scene->graph.arc_count * sizeof *o.level);
    ck_ok(ctx, vugi_compressible_run(ctx, &task, &o.history, o.level, &result));
    return o;
}

static void outcome_free(outcome *o)
{
    vugi_history_free(&o->history);
    free(o->level);
}

/* A wide leg with the inlet and a second vessel on a thin upright tube, on one foot. */
static vugi_scene *two_vessels(vug_context *ctx)
{
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 60}}, {cut_box, {0, 30, 0, 10, 0, 10}},
        {cut_frustum, {25, 5, 5, 30, 1, 1}}, {cut_box, {20, 30, 0, 10, 30, 50}}};
    const test_mouth mouth[] = {{5, 5, 60, 3, 60, 60}, {25, 5, 50, 3, 50, 50}};
    return make_scene(ctx, part, 4, 0, 30, 0, 10, 0.1, mouth, 2);
}

/* Level of the inlet's leg less that of the vessel on the tube. */
static double difference(const vugi_scene *scene, const outcome *o)
{
    const vugi_graph *g = &scene->graph;
    double leg = 0.0, vessel = 0.0;
    for (uint32_t a = 0; a < g->arc_count; a++) {
        if (g->arc[a].hi > 59.9)
            leg = o->level[a];
        else if (g->arc[a].hi > 49.9)
            vessel = o->level[a];
    }
    return leg - vessel;
}

/* Both vessels rise alike when half of the rate goes through the tube: head = (rate / 2) 8 mu L / (pi
 * r^4 rho g), Hagen and Poiseuille. */
START_TEST(poiseuille)
{
    vug_context *ctx = test_context();
    vugi_scene *scene = two_vessels(ctx);
    vug_fluid f = fluid_of(0.1);
    const double rate = 12.0;
    double head = 0.5 * rate * 1e-9 * 8.0 * 0.1 * 0.020 / (PI * 1e-12) / (1000.0 * G) * 1e3;
    /* Foot, tube, and both vessels up to about 45. */
    outcome o = run_timed(ctx, scene, &f, rate, 3000.0 + 62.8 + 3500.0 + 1500.0, false);
    double slope = o.history.frame[o.history.frame_count - 1].time; /* has settled */
    ck_assert_double_gt(slope, o.result.time);
    ck_assert_double_le(fabs(difference(scene, &o)), 0.051);
    outcome_free(&o);
    const uint32_t inlet = 0;
    vugi_transient task = {.fill = {.scene = scene,
                               .inlet = &inlet,
                               .inlets = 1,
                               .air_open = all_open,
                               .liquid_open = all_open,
                               .volume = 8062.8},
        .fluid = &f,
        .rate = rate};
    o.history = (vugi_history){.mem = vugi_default_allocator};
    o.level = malloc(scene->graph.arc_count * sizeof *o.level);
    ck_ok(ctx, vugi_transient_run(ctx, &task, &o.history, o.level, &o.result));
    ck_near(difference(scene, &o), head, 0.05);
    ck_near(o.result.time, 8062.8 / rate, 1e-6);
    outcome_free(&o);
    vugi_scene_free(scene);
    vug_context_free(ctx);
}
END_TEST

/* Elimination against a sum by hand, and where there is no one answer: a row of nothing, rows that say the same,
 * a coefficient that is no number. */
START_TEST(elimination)
{
    double good[] = {0.0, 2.0, 1.0, 1.0}, x[] = {4.0, 5.0}; /* 2 y = 4, x + y = 5 */
    ck_assert(vugi_eliminate(good, x, 2));
    ck_assert_double_eq(x[0], 3.0);
    ck_assert_double_eq(x[1], 2.0);
    double bad[][4] = {{1.0, 0.0, 0.0, 0.0}, {1.0, 2.0, 2.0, 4.0}, {NAN, 0.0, 0.0, 1.0},
        {1.0, NAN, 0.0, 1.0}};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        double right[] = {1.0, 1.0};
        ck_assert(!vugi_eliminate(bad[i], right, 2));
    }
}
END_TEST

/* Resistances of a Newtonian liquid do not depend on the flow, so few rounds agree; with a yield stress they do,
 * more are needed, and what still goes to and fro after the last is too little to see. */
START_TEST(rounds_until_flows_agree)
{
    vug_context *ctx = test_context();
    vugi_scene *scene = two_vessels(ctx);
    vug_fluid f = fluid_of(0.1);
    outcome o = run_timed(ctx, scene, &f, 40.0, 8062.8, false);
    unsigned newtonian = o.result.rounds;
    ck_assert_uint_ge(newtonian, 2); /* the second shows that the first was right */
    ck_assert_uint_le(newtonian, 10);
    outcome_free(&o);
    f.yield_stress_pa = 2.0;
    o = run_timed(ctx, scene, &f, 40.0, 8062.8, false);
    ck_assert_uint_gt(o.result.rounds, newtonian);
    ck_assert_uint_le(o.result.rounds, VUGI_HEADS_ROUNDS);
    outcome_free(&o);
    vugi_scene_free(scene);
    vug_context_free(ctx);
}
END_TEST

/* Flows that nothing determines are not passed off as an answer: here a viscosity that is no number, which the
 * public calls refuse. */
START_TEST(flows_that_do_not_agree)
{
    vug_context *ctx = test_context();
    vugi_scene *scene = two_vessels(ctx);
    vug_fluid f = fluid_of((double)NAN);
    const uint32_t inlet = 0;
    outcome o = {.history = {.mem = vugi_default_allocator}};
    vugi_transient task = {.fill = {.scene = scene,
                               .inlet = &inlet,
                               .inlets = 1,
                               .air_open = all_open,
                               .liquid_open = all_open,
                               .volume = 8062.8},
        .fluid = &f,
        .rate = 40.0};
    o.level = malloc(scene->graph.arc_count * sizeof *o.level);
    ck_assert_int_eq(vugi_transient_run(ctx, &task, &o.history, o.level, &o.result),
        VUG_ERR_CONVERGENCE);
    ck_assert_ptr_nonnull(strstr(vug_context_message(ctx), "flows do not agree"));
    outcome_free(&o);
    vugi_scene_free(scene);
    vug_context_free(ctx);
}
END_TEST

/* What a yield stress holds: wall area times yield against the pressure on the section (force balance):
 * 2 yield L / r in the tube, 4 yield L / a in the square ducts of the leg, the foot and the vessel. */
START_TEST(yield_leaves_a_slope)
{
    vug_context *ctx = test_context();
    vugi_scene *scene = two_vessels(ctx);
    const vugi_graph *g = &scene->graph;
    vug_fluid f = fluid_of(0.1);
    f.yield_stress_pa = 2.0;
    outcome o = run_timed(ctx, scene, &f, 40.0, 8062.8, false);
    double ducts = 0.0;
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (g->arc[a].hi > 49.9)
            ducts += o.level[a] - (g->arc[a].hi > 59.9 ? 10.0 : 30.0);
    double held = 2.0 * (2.0 * 20.0 + 0.4 * (ducts + 15.0)) / (1000.0 * G) * 1e3;
    ck_near(difference(scene, &o), held, 0.05);
    ck_near(o.result.slope, difference(scene, &o), 1e-9);
    ck_assert_double_eq(o.result.settled, -1.0);
    const vugi_event *last = o.history.event + o.history.event_count - 1;
    ck_assert_int_eq(last->kind, VUG_EVENT_SLOPE); /* in the leg that was fed */
    ck_near(last->level, fmax(o.level[1], o.level[2]), 1e-9);
    outcome_free(&o);
    vugi_scene_free(scene);
    vug_context_free(ctx);
}
END_TEST

/* Levelling after a load: two tanks A on a tube relax as exp(-2 t k / A), k = pi r^4 rho g / (8 mu L). */
START_TEST(levelling)
{
    vug_context *ctx = test_context();
    vugi_scene *scene = two_vessels(ctx);
    vug_fluid f = fluid_of(0.1);
    outcome o = run_timed(ctx, scene, &f, 40.0, 8062.8, false);
    double k = PI * 1e-12 * 1000.0 * G / (8.0 * 0.1 * 0.020);
    double start = 0.0;
    const vugi_frame *frame = o.history.frame;
    for (size_t i = 0; i < o.history.frame_count; i++)
        if (frame[i].time <= o.result.time)
            start = frame[i].time;
    double head = 0.5 * 40.0e-9 / k * 1e3;
    ck_near(start, o.result.time, 1e-9);
    ck_near(o.result.settled - o.result.time, log(head / 0.05) * 100e-6 / (2.0 * k), 0.15);
    outcome_free(&o);
    vugi_scene_free(scene);
    vug_context_free(ctx);
}
END_TEST

/* The same after each of two loads, a table of rates with a pause between: each event LEVEL comes so much later than
 * the end of its load as the exponential says, from the head of the load's flow down to 0.05 mm. */
START_TEST(levelling_after_each_load)
{
    vug_context *ctx = test_context();
    vugi_scene *scene = two_vessels(ctx);
    vug_fluid f = fluid_of(0.1);
    const double rates[] = {0.0, 40.0, 190.0, 0.0, 600.0, 20.0, 620.0, 0.0};
    const uint32_t inlet = 0;
    outcome o = {.history = {.mem = vugi_default_allocator}};
    vugi_transient task = {.fill = {.scene = scene,
                               .inlet = &inlet,
                               .inlets = 1,
                               .air_open = all_open,
                               .liquid_open = all_open,
                               .volume = INFINITY},
        .fluid = &f,
        .table = rates,
        .rows = 4,
        .settle = true};
    o.level = malloc(scene->graph.arc_count * sizeof *o.level);
    ck_ok(ctx, vugi_transient_run(ctx, &task, &o.history, o.level, &o.result));
    double k = PI * 1e-12 * 1000.0 * G / (8.0 * 0.1 * 0.020), level[2] = {0.0, 0.0};
    size_t count = 0;
    for (size_t i = 0; i < o.history.event_count; i++)
        if (o.history.event[i].kind == VUG_EVENT_LEVEL && count < 2)
            level[count++] = o.history.event[i].time;
    ck_assert_uint_eq(count, 2);
    ck_near(level[0] - 190.0, log(0.5 * 40.0e-9 / k * 1e3 / 0.05) * 100e-6 / (2.0 * k), 0.15);
    ck_near(level[1] - 620.0, log(0.5 * 20.0e-9 / k * 1e3 / 0.05) * 100e-6 / (2.0 * k), 0.15);
    ck_near(level[1], o.result.settled, 1e-12);
    ck_near(vugi_levels_volume(&scene->graph, o.level), 40.0 * 190.0 + 20.0 * 20.0, 1e-6);
    outcome_free(&o);
    vugi_scene_free(scene);
    vug_context_free(ctx);
}
END_TEST

typedef struct part {
    solid list[8];
    size_t count;
    double x1, y1;
    test_mouth mouth[2];
    size_t mouths;
} part;

static const part parts[] = {
    {{{cut_box, {0, 10, 0, 10, 0, 60}}, {cut_box, {10, 12, 0, 10, 20, 60}},
         {cut_box, {12, 22, 0, 10, 5, 60}}, {cut_box, {22, 24, 0, 10, 30, 60}},
         {cut_box, {24, 34, 0, 10, 2, 60}}},
        5, 34, 10, {{29, 5, 60, 3, 60, 60}}, 1},
    {{{cut_box, {0, 30, 0, 30, 0, 10}}, {cut_box, {0, 5, 0, 5, 0, 40}},
         {cut_box, {20, 25, 20, 25, 0, 30}}, {cut_box, {10, 15, 10, 15, 0, 20}}},
        4, 30, 30, {{2.5, 2.5, 40, 2, 40, 40}}, 1},
    {{{cut_box, {0, 10, 0, 10, 0, 50}}, {cut_box, {10, 20, 0, 10, 0, 5}},
         {cut_box, {20, 30, 0, 10, 0, 30}}, {cut_box, {30, 40, 0, 10, 25, 30}},
         {cut_box, {40, 50, 0, 10, 0, 30}}, {cut_box, {50, 60, 0, 10, 0, 5}},
         {cut_box, {60, 70, 0, 10, 0, 60}}},
        7, 70, 10, {{5, 5, 50, 3, 50, 50}, {65, 5, 60, 3, 60, 60}}, 2},
    {{{cut_ball, {15, 15, 10, 9}}, {cut_ball, {32, 15, 14, 9}}, {cut_ball, {49, 15, 8, 9}},
         {cut_box, {15, 50, 13, 17, 8, 15}}, {cut_box, {31, 33, 14, 16, 14, 40}},
         {cut_ball, {32, 15, 40, 6}}},
        6, 60, 30, {{32, 15, 45, 2, 46, 46}}, 1},
    {{{cut_box, {0, 10, 0, 10, 0, 50}}, {cut_box, {20, 30, 0, 10, 0, 40}},
         {cut_box, {0, 30, 4, 6, 0, 2}}},
        3, 30, 10, {{5, 5, 50, 3, 50, 50}, {25, 5, 40, 3, 40, 40}}, 2},
};

/* Air that leaves by a long thin vent: Hagen and Poiseuille, 128 mu L Q / (pi d^4), and what the ends
 * cost: 3 mu Q / r^3 (Dagan, Weinbaum, Pfeffer 1982), and up to 2.3 rho v^2 / 2 for developing laminar flow in a
 * tube (any handbook). Viscosity of air 1.82e-5 Pa s. */
START_TEST(vents_resist)
{
    vug_context *ctx = test_context();
    const solid box[] = {{cut_box, {0, 10, 0, 10, 0, 50}}};
    const test_mouth mouth[] = {{2.5, 5, 50, 2, 50, 50}, {7.5, 5, 50, 2, 50, 50}};
    const bool tight[2] = {false, true};
    vugi_scene *scene = make_scene(ctx, box, 1, 0, 10, 0, 10, 0.5, mouth, 2);
    const double rate = 100.0, d = 0.3e-3, length = 8e-3;
    scene->mouth[1].diameter = d * 1e3;
    scene->mouth[1].tubes = (vugi_tubes){1.0, d * 1e3};
    scene->mouth[1].length = length * 1e3;
    vug_fluid f = fluid_of(0.001);
    const uint32_t inlet = 0;
    outcome o = {.history = {.mem = vugi_default_allocator}};
    vugi_transient task = {.fill = {.scene = scene,
                               .inlet = &inlet,
                               .inlets = 1,
                               .air_open = tight,
                               .liquid_open = tight,
                               .volume = 2500.0},
        .fluid = &f,
        .rate = rate,
        .air_head = 10332.0};
    o.level = malloc(scene->graph.arc_count * sizeof *o.level);
    ck_ok(ctx, vugi_transient_run(ctx, &task, &o.history, o.level, &o.result));
    double speed = rate * 1e-9 / (0.25 * PI * d * d);
    double tube = 128.0 * 1.82e-5 * length * rate * 1e-9 / (PI * d * d * d * d);
    tube += 3.0 * 1.82e-5 * rate * 1e-9 / (0.125 * d * d * d);
    ck_assert_double_ge(o.result.peak_pressure, tube);
    ck_assert_double_le(o.result.peak_pressure, tube + 2.3 * 0.5 * 1.204 * speed * speed);
    ck_near(vugi_levels_volume(&scene->graph, o.level), 2500.0, 1e-6);
    outcome_free(&o);
    vugi_scene_free(scene);
    vug_context_free(ctx);
}
END_TEST

/* Slower and slower, the same things happen at the same volumes as without hurry, to the same end. */
START_TEST(slow_is_still)
{
    vug_context *ctx = test_context();
    vug_fluid f = fluid_of(0.01);
    for (size_t i = 0; i < 2 * sizeof parts / sizeof parts[0]; i++) {
        const part *p = parts + i / 2;
        double air_head = i % 2 == 0 ? INFINITY : 2000.0;
        vugi_scene *scene = make_scene(ctx, p->list, p->count, 0, p->x1, 0, p->y1, 0.5, p->mouth,
            p->mouths);
        outcome still = run_still(ctx, scene, air_head);
        outcome slow = run_in_air(ctx, scene, &f, 1e-3, INFINITY, false, air_head);
        double capacity = scene->graph.capacity;
        ck_assert_int_eq(slow.history.end, still.history.end);
        ck_close(vugi_levels_volume(&scene->graph, slow.level),
            vugi_levels_volume(&scene->graph, still.level), 1e-4 * capacity);
        for (int32_t kind = VUG_EVENT_BASIN; kind <= VUG_EVENT_FULL; kind++) {
            double sum[2] = {0.0, 0.0};
            size_t count[2] = {0, 0};
            for (size_t e = 0; e < still.history.event_count; e++)
                if (still.history.event[e].kind == kind) {
                    sum[0] += still.history.event[e].liquid;
                    count[0]++;
                }
            for (size_t e = 0; e < slow.history.event_count; e++)
                if (slow.history.event[e].kind == kind) {
                    sum[1] += slow.history.event[e].liquid;
                    count[1]++;
                }
            ck_assert_msg(count[0] == count[1],
                "part %zu: %zu events of kind %d, without hurry %zu", i, count[1], kind, count[0]);
            ck_close(sum[1], sum[0], 0.004 * capacity * (double)(count[0] + 1)); /* a step each */
        }
        outcome_free(&still);
        outcome_free(&slow);
        vugi_scene_free(scene);
    }
    vug_context_free(ctx);
}
END_TEST

/* More rate never delays a spill; liquid inside is what was let in, at every moment. */
START_TEST(haste_spills_sooner)
{
    vug_context *ctx = test_context();
    vug_fluid f = fluid_of(1.0);
    const part *p = parts + 4;
    vugi_scene *scene = make_scene(ctx, p->list, p->count, 0, p->x1, 0, p->y1, 0.5, p->mouth, 2);
    double last = INFINITY, liquid = 0.0;
    for (double rate = 0.1; rate < 1e5; rate *= 3.0) {
        outcome o = run_timed(ctx, scene, &f, rate, INFINITY, true);
        const vugi_event *e = o.history.event + o.history.event_count - 1;
        ck_assert_int_eq(o.history.end, VUG_END_SPILL);
        while (e->kind != VUG_EVENT_SPILL)
            e--;
        ck_assert_double_le(e->time, last * (1.0 + 1e-6));
        last = e->time;
        liquid = e->liquid;
        for (size_t i = 0; i < o.history.frame_count; i++) {
            const vugi_frame *frame = o.history.frame + i;
            ck_close(frame->liquid, rate * frame->time, 1e-5 * scene->graph.capacity);
        }
        outcome_free(&o);
    }
    /* So fast that the second leg is all but empty above the foot, which is one arc. */
    ck_close(liquid, 5000.0 + 40.0 + 200.0, 20.0);
    vugi_scene_free(scene);
    vug_context_free(ctx);
}
END_TEST

/* ---- the public calls --------------------------------------------------------------- */

/* A ball with a hole on top and one at the side: liquid comes in on top. */
static vug_cavities *ball(vug_context *ctx)
{
    const double holes[14] = {0, 0, 22, 0, 0, 1, 4, 22, 0, 0, 1, 0, 0, 3};
    vug_cavities *c = NULL;
    vug_cavity_options options;
    vug_cavity_options_init(&options, sizeof options);
    options.detect = 0;
    vug_mesh *mesh = shape_hollow_ball(ctx, 20.0, 22.0, 0.0, 120);
    ck_ok(ctx, vug_cavities_find(ctx, mesh, holes, 2, &options, &c));
    vug_mesh_free(mesh);
    return c;
}

START_TEST(public_calls)
{
    vug_context *ctx = test_context();
    vug_cavities *c = ball(ctx);
    vug_fluid f = fluid_of(1.0);
    vug_fill_options o;
    vug_course *course = NULL;
    vug_course_info s = {.struct_size = sizeof s};
    const double up[3] = {0, 0, 1}, rates[4] = {0.0, 500.0, 10.0, 0.0};
    double *rows = NULL, limit;
    size_t row_count = 0;
    vug_fill_options_init(&o, sizeof o);
    o.columns_across = 80;
    o.viscous = 1;
    ck_assert_int_eq(vug_fill_run(ctx, c, &f, up, NULL, 0, &o, &course), VUG_ERR_ARGUMENT);
    o.rates = rates;
    o.rate_count = 2;
    ck_ok(ctx, vug_fill_run(ctx, c, &f, up, NULL, 0, &o, &course));
    vug_course_get(course, &s);
    ck_assert_int_eq(s.end, VUG_END_SUPPLY);
    ck_near(s.liquid_mm3, 5000.0, 1e-6);
    ck_near(s.time_s, 10.0, 1e-6);
    ck_ok(ctx, vug_course_curve(ctx, course, &rows, &row_count));
    ck_assert_uint_gt(row_count, 10);
    ck_near(rows[3 * (row_count - 1) + 1], 5000.0, 1e-6);
    vug_free(ctx, rows);
    vug_course_free(course);
    o.rate_count = 0;
    o.pressure_pa = 500.0;
    ck_ok(ctx, vug_fill_run(ctx, c, &f, up, NULL, 0, &o, &course));
    vug_course_get(course, &s);
    ck_assert_int_eq(s.end, VUG_END_FULL);
    double flow;
    ck_ok(ctx, vug_hole_flow(ctx, &f, 4.0, 2.0, &(double){500.0}, 1, &flow));
    ck_near(s.time_s, s.liquid_mm3 / flow,
        0.08); /* the head of the last liquid holds it up a little */
    vug_course_free(course);
    /* A ball is so wide that it spills by its lip at any rate that a hand can give. */
    o.pressure_pa = 0.0;
    o.viscous = 0;
    ck_ok(ctx, vug_fill_rate_limit(ctx, c, &f, up, NULL, 0, &o, &limit));
    ck_assert_double_ge(limit, 1e5);
    const int32_t sealed[2] = {VUG_ROLE_INLET, VUG_ROLE_SEALED};
    o.inlet_sealed = 1;
    ck_assert_int_eq(vug_fill_rate_limit(ctx, c, &f, up, sealed, 2, &o, &limit), VUG_ERR_NOT_FOUND);
    o.inlet_sealed = 0;
    o.settle = 1;
    ck_assert_int_eq(vug_fill_run(ctx, c, &f, up, NULL, 0, &o, &course), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_course_curve(ctx, NULL, &rows, &row_count), VUG_ERR_ARGUMENT);
    ck_assert_int_eq(vug_fill_rate_limit(NULL, c, &f, up, NULL, 0, &o, &limit), VUG_ERR_ARGUMENT);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

static vug_status fill_slowly(vug_context *ctx, void *data)
{
    const double up[3] = {0.2, 0.0, 1.0};
    vug_fill_options o;
    vug_course *course = NULL;
    vug_fill_options_init(&o, sizeof o);
    o.columns_across = 16;
    o.viscous = 1;
    o.rate_mm3_s = 100.0;
    o.volume_mm3 = 4000.0;
    vug_status status = vug_fill_run(ctx, data, NULL, up, NULL, 0, &o, &course);
    vug_course_free(course);
    return status;
}

START_TEST(runs_out_of_memory_cleanly)
{
    vug_context *ctx = test_context();
    vug_cavities *c = ball(ctx);
    failing_until_success(fill_slowly, c);
    vug_cavities_free(c);
    vug_context_free(ctx);
}
END_TEST

/* What goes both ways through a bore has a slope at rest too, that of its slow flow: Poiseuille with 3 pi / 16 radii more at
 * the end that it comes in by (Dagan, Weinbaum & Pfeffer 1982). Without one no step of a bore that is full found a balance. */
START_TEST(bore_at_rest_has_a_slope)
{
    const vugi_scene_mouth mouth = {.tubes = {.count = 1.0, .diameter = 2.0}, .length = 4.0};
    const vugi_ask ask = {0.0, false};
    vugi_bore_part full = {.eighths = 8};
    const vugi_flow of = {.law = vugi_bore_law, .of = &full};
    vug_fluid water;
    double slope[3], head[3] = {50.0, 50.0, 0.0};
    vug_fluid_init(&water, sizeof water);
    full.law = vugi_outlet_bore(&water, &mouth, mouth.length);
    double resists = 8.0 * water.consistency_pa_sn * (4.0 + 3.0 * PI / 16.0) * 1e-3 / (PI * 1e-12);
    double want = 1e-3 * water.density_kg_m3 * 9.80665 / resists * 1e9;
    ck_assert_double_eq(vugi_bore_law(&ask, &of, head, slope), 0.0);
    ck_near(slope[0], want, 0.01);
    ck_near(slope[1], -want, 0.01);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("fill in time");
    TCase *network = tcase_create("network");
    tcase_add_test(network, bore_at_rest_has_a_slope);
    tcase_add_test(network, elimination);
    tcase_add_test(network, rounds_until_flows_agree);
    tcase_add_test(network, flows_that_do_not_agree);
    tcase_add_test(network, poiseuille);
    tcase_add_test(network, yield_leaves_a_slope);
    tcase_add_test(network, levelling);
    tcase_add_test(network, levelling_after_each_load);
    tcase_add_test(network, vents_resist);
    tcase_add_test(network, slow_is_still);
    tcase_add_test(network, haste_spills_sooner);
    suite_add_tcase(suite, network);
    TCase *public = tcase_create("public");
    tcase_add_test(public, public_calls);
    tcase_add_test(public, runs_out_of_memory_cleanly);
    suite_add_tcase(suite, public);
    return test_run(suite);
}
