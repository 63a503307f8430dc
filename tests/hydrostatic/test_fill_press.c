/* SPDX-License-Identifier: MIT
 * fill: closed air under pressure, and pools that push each other through it. */
#include "hydrostatic/compressible.h"

#include "transient/run.h"

#include "failing.h"
#include "shapes.h"
#include "spans.h"

typedef struct outcome {
    vugi_scene *scene;
    vugi_history history;
    vugi_compressible_result result;
    double *level;
    double liquid;
} outcome;

/* open: of each mouth, air passes. air, inlet: heads in mm. */
static outcome fill_scene(vug_context *ctx, vugi_scene *scene, const bool *open, double air,
    double inlet_mm, bool release)
{
    outcome o = {.scene = scene, .history = {.mem = vugi_default_allocator}};
    const uint32_t inlet = 0;
    vugi_compressible task = {.air_head = air,
        .inlet_head = inlet_mm,
        .release = release,
        .fill = {.scene = scene,
            .inlet = &inlet,
            .inlets = 1,
            .air_open = open,
            .liquid_open = open,
            .volume = INFINITY}};
    o.level = malloc(scene->graph.arc_count * sizeof *o.level);
    ck_ok(ctx, vugi_compressible_run(ctx, &task, &o.history, o.level, &o.result));
    o.liquid = vugi_levels_volume(&scene->graph, o.level);
    return o;
}

static void outcome_free(outcome *o)
{
    vugi_history_free(&o->history);
    free(o->level);
    vugi_scene_free(o->scene);
}

static const bool all_open[8] = {true, true, true, true, true, true, true, true};
static const bool first_tight[8] = {false, true, true, true, true, true, true, true};

/* Boyle's own figures for air under mercury in a bent tube, 1662 (New Experiments, 2nd edition, "A table of
 * the condensation of the air"; reprinted in Huygens, Oeuvres completes IV; the numbers here from memory): spaces
 * of a quarter inch that the air takes, and the pressure on it in inches of mercury. */
static const double boyle[][2] = {{48, 29.125}, {46, 30.5625}, {44, 31.9375}, {42, 33.5},
    {40, 35.3125}, {38, 37.0}, {36, 39.3125}, {34, 41.625}, {32, 44.1875}, {30, 47.0625},
    {28, 50.3125}, {26, 54.3125}, {24, 58.8125}, {23, 61.3125}, {22, 64.0625}, {21, 67.0625},
    {20, 70.6875}, {19, 74.125}, {18, 77.875}, {17, 82.75}, {16, 87.875}, {15, 93.0625},
    {14, 100.4375}, {13, 107.8125}, {12, 117.5625}};

START_TEST(bent_tube_of_1662)
{
    vug_context *ctx = test_context();
    const double inch = 25.4, area = 25.0;
    const solid part[] = {{cut_box, {0, 5, 0, 5, -5, 12 * inch}}, {cut_box, {0, 20, 0, 5, -5, 0}},
        {cut_box, {15, 20, 0, 5, -5, 110 * inch}}};
    const test_mouth mouth[] = {{17.5, 2.5, 110 * inch, 2, 110 * inch, 110 * inch}};
    outcome o = fill_scene(ctx, make_scene(ctx, part, 3, 0, 20, 0, 5, 1.0, mouth, 1), all_open,
        29.125 * inch, 0.0, false);
    const vugi_graph *g = &o.scene->graph;
    for (size_t i = 0; i < sizeof boyle / sizeof boyle[0]; i++) {
        double in_closed = (48 - boyle[i][0]) / 4 * inch;
        double in_open = in_closed + (boyle[i][1] - 29.125) * inch, level[8], air = 0.0;
        vugi_frame frame;
        ck_assert_uint_le(g->arc_count, 8);
        vugi_history_at(&o.history, g, 500.0 + area * (in_closed + in_open), false, level, &frame);
        air = g->capacity - vugi_levels_volume(g, level);
        air -= area * (110 * inch - in_open); /* about what is empty in the open leg */
        ck_close(air / (area * 0.25 * inch), boyle[i][0], 0.01 * 48);
    }
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

/* By hand: the closed leg of 40 over the bend, A = 100, the open one to 1000 over it; level x in the closed
 * leg: (P + 1000 - x) (40 - x) = 40 P, P = 10000 mm of water. */
START_TEST(closed_leg_by_the_quadratic)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 45}}, {cut_box, {0, 30, 0, 10, 0, 5}},
        {cut_box, {20, 30, 0, 10, 0, 1005}}};
    const test_mouth mouth[] = {{25, 5, 1005, 3, 1005, 1005}};
    outcome o = fill_scene(ctx, make_scene(ctx, part, 3, 0, 30, 0, 10, 1.0, mouth, 1), all_open,
        10000.0, 0.0, false);
    double b = 10000.0 + 1000.0 + 40.0, c = 40.0 * 1000.0, x = 0.5 * (b - sqrt(b * b - 4.0 * c));
    ck_assert_int_eq(o.history.end, VUG_END_FULL);
    ck_near(o.liquid, 100.0 * (1000.0 + x) + 1500.0, 1e-9);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

/* A bottle without a vent under a tight syringe: V P / (P0 + P) goes in, by Boyle's law. Let in at the
 * bottom it comes back when the syringe is taken off, but for what lies under the inlet. */
START_TEST(tight_syringe)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 50}}};
    const test_mouth top[] = {{5, 5, 50, 3, 50, 50}}, low[] = {{5, 5, 0, 3, 0, 0}};
    const double air = 10000.0, press = 2500.0;
    outcome o = fill_scene(ctx, make_scene(ctx, part, 1, 0, 10, 0, 10, 0.5, top, 1), first_tight,
        air, press, true);
    ck_near(o.liquid, 5000.0 * press / (air + press), 1e-9);
    ck_near(o.result.peak_head, press, 1e-9);
    ck_close(o.result.returned, 0.0, 1e-12); /* air hisses out above it */
    outcome_free(&o);
    /* From below the liquid, x high, helps to press: (P0 + P - x) (50 - x) = 50 P0. */
    o = fill_scene(ctx, make_scene(ctx, part, 1, 0, 10, 0, 10, 0.5, low, 1), first_tight, air,
        press, false);
    double b = air + press + 50.0, x = 0.5 * (b - sqrt(b * b - 4.0 * 50.0 * press));
    ck_near(o.liquid, 100.0 * x, 1e-9);
    outcome_free(&o);
    o = fill_scene(ctx, make_scene(ctx, part, 1, 0, 10, 0, 10, 0.5, low, 1), first_tight, air,
        press, true);
    ck_near(o.result.returned, 100.0 * x, 1e-6);
    ck_close(o.liquid, 0.0, 1e-6);
    outcome_free(&o);
    /* Without pressure nothing goes in. */
    o = fill_scene(ctx, make_scene(ctx, part, 1, 0, 10, 0, 10, 0.5, top, 1), first_tight, air, 0.0,
        false);
    ck_assert_int_eq(o.history.end, VUG_END_BLOCKED);
    ck_close(o.liquid, 0.0, 1e-12);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

/* Pressing on, by hand, P0 = 10000 mm of the liquid outside, P by the syringe, over its own height at the inlet. A jar
 * of 10 x 10, 45 high, on a foot of 5; beside it, for an inlet that looks up, a leg of 10 x 10 to `leg`. Air of the
 * height `shut` is cut off in the jar, which then takes up to x of it: (P0 + P + z - (45 - shut + x)) (shut - x) =
 * P0 shut, z the height of the inlet. */
typedef struct inlet_case {
    const char *name;
    test_mouth mouth;
    double z, shut;
    bool tight, falls;
} inlet_case;

static const inlet_case inlets[] = {
    {"up, loose", {25, 5, 60, 3, 60, 60}, 60, 40, false, false},
    {"up, its lip a little below the end of the leg", {25, 5, 60, 3, 59.8, 60}, 59.9, 40, false,
        false},
    {"aside, loose", {0.5, 5, 30, 1.5, 29, 31}, 30, 14, false, false},
    {"aside, tight", {0.5, 5, 30, 1.5, 29, 31}, 30, 45, true, true},
    {"below, tight", {5, 5, 0, 3, 0, 0}, 0, 45, true, false},
    {"above, tight", {5, 5, 45, 3, 45, 45}, 45, 45, true, true},
};

static void check_inlet(const inlet_case *c, double press)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 45}}, {cut_box, {0, 30, 0, 10, 0, 5}},
        {cut_box, {20, 30, 0, 10, 0, 60}}};
    bool up = c->z > 50.0;
    double x1 = up ? 30.0 : 10.0;
    outcome o = fill_scene(ctx, make_scene(ctx, part, up ? 3 : 1, 0, x1, 0, 10, 0.5, &c->mouth, 1),
        c->tight ? first_tight : all_open, 10000.0, press, false);
    double drive = press + c->z - (45.0 - c->shut); /* at the level where the air was cut off */
    double b = 10000.0 + drive + c->shut, k = c->shut * drive;
    double x = 0.5 * (b - sqrt(b * b - 4.0 * k));
    if (c->falls) /* into air, which has the syringe's pressure */
        x = c->shut * press / (10000.0 + press);
    double air = 100.0 * (c->shut - x);
    ck_assert_msg(fabs(o.scene->graph.capacity - o.liquid - air) <= 1e-3 * 100.0 * c->shut,
        "%s at %g: %.3f mm3 of air, by hand %.3f", c->name, press,
        o.scene->graph.capacity - o.liquid, air);
    double own = c->tight ? 0.0
                          : 0.5 * (c->mouth.top - c->mouth.lip); /* its rim is over its middle */
    ck_close(o.result.peak_head, fmax(press, own), 1e-3 * press + 0.1);
    outcome_free(&o);
    vug_context_free(ctx);
}

START_TEST(pressing_on_at_each_inlet)
{
    const double press[] = {0.0, 50.0, 500.0, 5000.0};
    for (size_t i = 0; i < sizeof press / sizeof press[0]; i++)
        check_inlet(inlets + _i, press[i]);
}
END_TEST

/* How far air of the height `shut` yields by the same quadratic. */
static double yields(const inlet_case *c, double press)
{
    double drive = press + c->z - (45.0 - c->shut), b = 10000.0 + drive + c->shut;
    return 0.5 * (b - sqrt(b * b - 4.0 * c->shut * drive));
}

/* The syringe is taken off. By hand: an inlet that was loose gives back what the air yields to the pressure; of a tight one
 * over the liquid air hisses out and nothing else; from one below it all runs out. */
START_TEST(released_at_each_inlet)
{
    const inlet_case *c = inlets + _i;
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 45}}, {cut_box, {0, 30, 0, 10, 0, 5}},
        {cut_box, {20, 30, 0, 10, 0, 60}}};
    const double press[] = {50.0, 500.0, 5000.0};
    bool up = c->z > 50.0;
    for (size_t i = 0; i < sizeof press / sizeof press[0]; i++) {
        vug_context *ctx = test_context();
        outcome o = fill_scene(ctx,
            make_scene(ctx, part, up ? 3 : 1, 0, up ? 30.0 : 10.0, 0, 10, 0.5, &c->mouth, 1),
            c->tight ? first_tight : all_open, 10000.0, press[i], true);
        double back = yields(c, press[i]) - (c->tight ? 0.0 : yields(c, 0.0));
        double left = c->falls ? c->shut * press[i] / (10000.0 + press[i]) : 0.0;
        if (c->falls)
            back = 0.0;
        ck_assert_msg(fabs(o.result.returned - 100.0 * back) <= 1e-3 * 100.0 * c->shut,
            "%s at %g: %.3f mm3 came back, by hand %.3f", c->name, press[i], o.result.returned,
            100.0 * back);
        if (c->tight)
            ck_close(o.liquid, 100.0 * left, 1e-3 * 100.0 * c->shut);
        else
            ck_close(o.scene->graph.capacity - o.liquid, 100.0 * (c->shut - yields(c, 0.0)),
                1e-3 * 100.0 * c->shut);
        outcome_free(&o);
        vug_context_free(ctx);
    }
}
END_TEST

/* Taken off again, what the air had yielded comes back by the inlet, down to what it holds without: by hand the
 * difference of the two. */
START_TEST(released_at_the_lip)
{
    vug_context *ctx = test_context();
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 45}}, {cut_box, {0, 30, 0, 10, 0, 5}},
        {cut_box, {20, 30, 0, 10, 0, 60}}};
    const test_mouth mouth[] = {{25, 5, 60, 3, 60, 60}};
    double x[2];
    for (int i = 0; i < 2; i++) {
        double drive = (i == 0 ? 0.0 : 500.0) + 60.0 - 5.0, b = 10000.0 + drive + 40.0;
        x[i] = 0.5 * (b - sqrt(b * b - 4.0 * 40.0 * drive));
    }
    outcome o = fill_scene(ctx, make_scene(ctx, part, 3, 0, 30, 0, 10, 1.0, mouth, 1), all_open,
        10000.0, 500.0, true);
    ck_near(o.result.returned, 100.0 * (x[1] - x[0]), 1e-3);
    ck_near(o.scene->graph.capacity - o.liquid, 100.0 * (40.0 - x[0]), 1e-3);
    outcome_free(&o);
    vug_context_free(ctx);
}
END_TEST

/* ---- windings ------------------------------------------------------------------------- */

enum { WINDINGS = 4 };

/* A tube up and down n times, 10 x 10, drawn flat: legs from 0 to 40, bends below 5 and above 35. The
 * first leg goes up to `high`, the last ends open at 40. */
static vugi_scene *windings(vug_context *ctx, int n, double high)
{
    solid part[4 * WINDINGS + 4];
    size_t count = 0;
    part[count++] = (solid){cut_box, {0, 10, 0, 10, 0, high}};
    for (int i = 0; i <= n; i++) {
        double x = 40.0 * i;
        part[count++] = (solid){cut_box, {x, x + 30, 0, 10, 0, 5}};
        part[count++] = (solid){cut_box, {x + 20, x + 30, 0, 10, 0, 40}};
        if (i == n)
            break;
        part[count++] = (solid){cut_box, {x + 20, x + 50, 0, 10, 35, 40}};
        part[count++] = (solid){cut_box, {x + 40, x + 50, 0, 10, 0, 40}};
    }
    const test_mouth mouth[] = {{5, 5, high, 3, high, high}, {40.0 * n + 25, 5, 40, 3, 40, 40}};
    return make_scene(ctx, part, count, 0, 40.0 * n + 30, 0, 10, 1.0, mouth, 2);
}

/* The head that drives liquid through the windings is the sum of the differences of level in them (Mortimer,
 * The Coil Pumps, Loughborough 1988; Deane and Bevan, A hydrostatic model of the Wirtz pump, 2018).
 * Each crest keeps the air that was in it and in the leg after it when the foot of that leg closed: a + 30 long
 * over the way down from the sill at 35 to the foot at 5, and 5 x 30 in the crest. Air of the last winding is
 * under the head of one, that before it of two, and so on: pressures and lengths from the outlet backwards. */
static double head_of_windings(int n, double air, double outlet)
{
    const double area = 100.0, crest = 500.0 + 500.0 + 500.0; /* 30 x 10 x 5 over the sill */
    double sealed = crest + 30.0 * area, head = outlet, shift = 0.0;
    for (int i = 0; i < n; i++) {
        /* near level y of this winding's pool, whose far surface stands at `head` over the outside: air
         * excess head - y; its volume crest + (35 - y) area. */
        double lo = -200.0, hi = 35.0;
        for (int k = 0; k < 200; k++) {
            double y = 0.5 * (lo + hi), volume = crest + (35.0 - y) * area;
            if ((1.0 + (head - y) / air) * volume > sealed)
                lo = y;
            else
                hi = y;
        }
        shift = head - lo;   /* excess pressure of that air */
        head = 35.0 + shift; /* of the pool before it, which is full to the sill */
    }
    return head;
}

START_TEST(heads_of_windings_add_up)
{
    vug_context *ctx = test_context();
    for (int n = 1; n <= WINDINGS; n++)
        for (int k = 0; k < 2; k++) {
            double air = k == 0 ? INFINITY : 1000.0, head = head_of_windings(n, air, 40.0);
            /* Rigid: each winding holds 30, and the outlet is 40 high, at the end of the last leg. */
            if (k == 0)
                ck_near(head, 40.0 + 30.0 * n, 1e-9);
            outcome o = fill_scene(ctx, windings(ctx, n, head + 1.0), all_open, air, 0.0, false);
            double spilled = -1.0;
            for (size_t i = 0; i < o.history.event_count; i++)
                if (o.history.event[i].kind == VUG_EVENT_SPILL && o.history.event[i].opening == 1)
                    spilled = o.history.event[i].liquid;
            ck_assert_msg(spilled > 0.0, "%d windings: the outlet stays dry", n);
            double level[64], top = 0.0;
            vugi_frame frame;
            ck_assert_uint_le(o.scene->graph.arc_count, 64);
            vugi_history_at(&o.history, &o.scene->graph, spilled, false, level, &frame);
            for (size_t i = 0; i < o.scene->graph.arc_count; i++)
                if (level[i] > o.scene->graph.arc[i].lo)
                    top = fmax(top, level[i]);
            ck_near(top, head, 1e-6);
            outcome_free(&o);
            /* A leg that is a little too low for it spills itself first, and the windings stay shut. */
            o = fill_scene(ctx, windings(ctx, n, head - 1.0), all_open, air, 0.0, false);
            ck_assert_int_eq(o.history.event[o.history.event_count - 1].opening, 0);
            outcome_free(&o);
        }
    vug_context_free(ctx);
}
END_TEST

/* ---- air that is pushed down ------------------------------------------------------------ */

/* A bent tube, legs at x 0 and 20, that opens above z 55 into a chamber from 40 to 70, 30 to 60 high, on two legs of
 * 5 x 10; these stand on a duct with the open riser at 90. */
static vugi_scene *chamber_on_legs(vug_context *ctx)
{
    const solid part[] = {{cut_box, {0, 10, 0, 10, 0, 200}}, {cut_box, {0, 30, 0, 10, 0, 5}},
        {cut_box, {20, 30, 0, 10, 0, 60}}, {cut_box, {20, 70, 0, 10, 55, 60}},
        {cut_box, {40, 70, 0, 10, 30, 60}}, {cut_box, {40, 45, 0, 10, 0, 30}},
        {cut_box, {65, 70, 0, 10, 0, 30}}, {cut_box, {40, 100, 0, 10, 0, 5}},
        {cut_box, {90, 100, 0, 10, 0, 200}}};
    const test_mouth mouth[] = {{5, 5, 200, 3, 200, 200}, {95, 5, 200, 3, 200, 200}};
    return make_scene(ctx, part, 9, 0, 100, 0, 10, 1.0, mouth, 2);
}

/* Levels by x: first tube, second tube, chamber or its legs, riser. */
static void set_levels(const vugi_graph *g, const double z[4], double *level)
{
    for (uint32_t a = 0; a < g->arc_count; a++) {
        const vugi_node *n = g->node + g->arc[a].from;
        double point[3];
        vugi_span_point(g, n->span, n->z, point);
        double top = point[0] < 15 ? z[0] : point[0] < 35 ? z[1] : point[0] < 85 ? z[2] : z[3];
        level[a] = fmax(g->arc[a].lo, fmin(g->arc[a].hi, n->downs == 0 ? 5.0 : top));
    }
}

static double height_at(const vugi_graph *g, const double *level, double lo, double hi)
{
    double sum = 0.0;
    size_t count = 0;
    for (uint32_t a = 0; a < g->arc_count; a++)
        if (fabs(g->arc[a].lo - lo) < 1e-9 && fabs(g->arc[a].hi - hi) < 1e-9) {
            sum += level[a];
            count++;
        }
    ck_assert_uint_gt(count, 0);
    return sum / (double)count;
}

/* By hand, air that does not give: the first bend stands at 10, the second at 35 in the chamber.
 * The second tube of the first rises by 25 to 35 and pushes 2500 mm3 of air before it: 1500 of the chamber, down to its
 * legs at 30, the rest 10 in both of them, to 20. The riser takes 2500, to 60: the air is under 60 - 20 = 40, the
 * first tube stands at 35 + 40 = 75. In went 2500 + 6500.
 * By 40, to 50: the legs are empty, down to 5, the riser stands at 75. By 4 more: 400 of air bubble away up the riser,
 * which stays; the air is under 75 - 5 = 70, the first tube stands at 54 + 70 = 124. In went 4400 + 11400. */
static const struct {
    double in, tube, other, legs, riser;
} pushed[] = {{9000, 75, 35, 20, 60}, {15800, 124, 54, 5, 75}};

static void check_pushed(vug_context *ctx, vugi_scene *scene, size_t stage, bool in_time)
{
    const vugi_graph *g = &scene->graph;
    const double before[4] = {10, 10, 35, 35};
    const double near = in_time ? 0.1 : 1e-6; /* in time: what holds bubbles back, and steps */
    const uint32_t inlet = 0;
    double start[32], level[32];
    ck_assert_uint_le(g->arc_count, 32);
    set_levels(g, before, start);
    const double inside = vugi_levels_volume(g, start);
    ck_near(inside, 1500.0 + 1000.0 + 3000.0 + 2500.0 + 1500.0 + 3000.0, 1e-9);
    const vugi_fill_task still = {.scene = scene,
        .inlet = &inlet,
        .inlets = 1,
        .air_open = all_open,
        .liquid_open = all_open,
        .volume = inside + pushed[stage].in,
        .start = start};
    vugi_history history = {.mem = vugi_default_allocator};
    vug_fluid water;
    vug_fluid_init(&water, sizeof water);
    const vugi_compressible task = {.fill = still, .air_head = INFINITY};
    const vugi_transient slow = {.fill = still, .fluid = &water, .rate = 1e-2};
    vugi_compressible_result result;
    vugi_transient_result later;
    ck_ok(ctx,
        in_time ? vugi_transient_run(ctx, &slow, &history, level, &later)
                : vugi_compressible_run(ctx, &task, &history, level, &result));
    ck_close(height_at(g, level, 5.0, 30.0), pushed[stage].legs, near);
    ck_close(height_at(g, level, 30.0, 55.0), 30.0, near);
    ck_close(height_at(g, level, 5.0, 55.0), pushed[stage].other, near);
    ck_close(height_at(g, level, 5.0, 200.0), 0.5 * (pushed[stage].tube + pushed[stage].riser),
        near);
    ck_near(vugi_levels_volume(g, level), inside + pushed[stage].in, 1e-6);
    vugi_history_free(&history);
}

START_TEST(air_is_pushed_into_legs_and_away)
{
    vug_context *ctx = test_context();
    vugi_scene *scene = chamber_on_legs(ctx);
    for (size_t stage = 0; stage < sizeof pushed / sizeof pushed[0]; stage++) {
        check_pushed(ctx, scene, stage, false);
        check_pushed(ctx, scene, stage, true);
    }
    vugi_scene_free(scene);
    vug_context_free(ctx);
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("fill under pressure");
    TCase *press = tcase_create("press");
    tcase_set_timeout(press, 60);
    tcase_add_test(press, bent_tube_of_1662);
    tcase_add_test(press, closed_leg_by_the_quadratic);
    tcase_add_test(press, tight_syringe);
    tcase_add_loop_test(press, pressing_on_at_each_inlet, 0,
        (int)(sizeof inlets / sizeof inlets[0]));
    tcase_add_test(press, released_at_the_lip);
    tcase_add_loop_test(press, released_at_each_inlet, 0, sizeof inlets / sizeof inlets[0]);
    tcase_add_test(press, heads_of_windings_add_up);
    tcase_add_test(press, air_is_pushed_into_legs_and_away);
    suite_add_tcase(suite, press);
    return test_run(suite);
}
