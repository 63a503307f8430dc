/* SPDX-License-Identifier: MIT
 * plan: steps that are played until little enough air is left, and played on from there. */
#include "base/base.h"
#include "plan/verify/chances.h"
#include "plan/verify/replay.h"

#include "cavity/cavity.h"

#include "blocks.h"

enum { STEPS = 4 };

static const double SPACING = 0.5;

typedef struct played {
    vug_context *ctx;
    vug_cavities *cavities;
    vug_fluid fluid;
    bool closed[1];
    vugi_move move[STEPS];
    vugi_outcome outcome[STEPS];
    vugi_stand stand;
    bool whole;
} played;

/* Upright, where the right chamber keeps its air above the passage; then the left end up, where some of it comes to the
 * opening's chamber; upright and topped up; and again. */
static void begin(played *p)
{
    static const double up[STEPS][3] = {{0, 0, 1}, {-1, 0, 0}, {0, 0, 1}, {0, 0, 1}};
    *p = (played){.ctx = test_context(), .stand = {.left = INFINITY}};
    p->cavities = two_chambers(p->ctx);
    vug_fluid_init(&p->fluid, sizeof p->fluid);
    ck_assert(vugi_moves_make(&p->ctx->mem, p->cavities, p->move, STEPS));
    for (int k = 0; k < STEPS; k++) {
        memcpy(p->move[k].up, up[k], sizeof up[k]);
        p->move[k].open[0] = up[k][2] > 0.0;
        p->move[k].feed[0].inlet = up[k][2] > 0.0 ? 0 : -1;
    }
}

static double play(played *p, size_t keep, double enough)
{
    const vugi_replay task = {.cavities = p->cavities,
        .closed = p->closed,
        .fluid = &p->fluid,
        .h = SPACING,
        .brief = true,
        .enough = enough};
    double left = NAN;
    memset(p->outcome, 0, sizeof p->outcome);
    ck_ok(p->ctx,
        vugi_replay_fill_from(p->ctx, &task, p->move, keep, STEPS, p->outcome, &p->stand, &left,
            &p->whole));
    return left;
}

static void end(played *p)
{
    vug_moment_free(p->stand.now);
    vugi_moves_free(&p->ctx->mem, p->move, STEPS);
    vug_cavities_free(p->cavities);
    vug_context_free(p->ctx);
}

/* By hand: the right chamber is 8 high and the passage 4, so that 10 x 8 x 4 = 320 mm3 stay above it at first; with the
 * left end up they rise into the left chamber, and upright again they leave by its lid. */
START_TEST(all_is_played)
{
    played p;
    begin(&p);
    const double left = play(&p, STEPS, 0.0);
    ck_assert(p.whole);
    ck_assert_uint_eq(p.stand.steps, STEPS);
    ck_close(p.outcome[0].left, 320.0, 5.0);
    ck_close(p.outcome[1].left, 320.0, 5.0);
    ck_close(p.outcome[2].left, 0.0, 5.0);
    ck_close(left, 0.0, 5.0);
    end(&p);
}
END_TEST

/* With a quarter of the cavity, 336 mm3, the first step leaves little enough: what it leaves is the most that stays. Played
 * on from there it comes to the very same as in one go. */
START_TEST(enough_stops_it_and_it_goes_on)
{
    played p, other;
    begin(&p);
    begin(&other);
    const double bound = play(&p, STEPS, 0.25);
    ck_assert(!p.whole);
    ck_assert_uint_eq(p.stand.steps, 1);
    ck_close(bound, 320.0, 5.0);
    ck_assert_double_eq(play(&p, STEPS, 0.25), bound); /* it stands there */
    const double on = play(&p, STEPS, 0.0);
    ck_assert(p.whole);
    ck_assert_double_eq(on, play(&other, STEPS, 0.0));
    ck_assert_double_le(on, bound);
    ck_assert_double_eq(play(&p, STEPS, 0.0), on); /* nothing is to be played */
    end(&p);
    end(&other);
}
END_TEST

/* With less than a fifth it is played until the air is out. */
START_TEST(too_much_is_played_on)
{
    played p;
    begin(&p);
    const double left = play(&p, STEPS, 0.2);
    ck_assert(!p.whole);
    ck_assert_uint_eq(p.stand.steps, 3);
    ck_close(left, 0.0, 5.0);
    end(&p);
}
END_TEST

/* What is kept is from before the steps that change; the rest is played each time. */
START_TEST(what_is_kept_stays)
{
    played p;
    begin(&p);
    const double left = play(&p, 2, 0.0);
    ck_assert(p.whole);
    ck_assert_uint_eq(p.stand.steps, 2);
    ck_close(p.stand.left, 320.0, 5.0);
    ck_assert_double_eq(play(&p, 2, 0.0), left);
    ck_assert_double_eq(play(&p, STEPS, 0.0), left);
    ck_assert_uint_eq(p.stand.steps, STEPS);
    end(&p);
}
END_TEST

/* Half of the samples, of a cavity of 1000 mm3, with a limit of 5 mm3: none misses it, or so many do. By the binomial 15
 * misses or more of 20 come once in 48 times (21700 of 1048576) where every second hand misses it; 14 or more once in 17. */
START_TEST(half_of_the_samples_say_enough)
{
    enum { HALF = VUG_PLAN_SAMPLES / 2 };
    vugi_planning p = {.options = {.limit = 0.005}};
    vugi_option o = {.info = {.capacity_mm3 = 1000.0}};
    static vugi_verification s;
    s.p = &p;
    s.o = &o;
    for (size_t over = 0; over <= HALF; over++) {
        for (size_t i = 0; i < HALF; i++)
            s.seen[i] = i < over ? 6.0 : 4.0;
        ck_assert_int_eq(vugi_chances_known(&s, HALF, 0.0), over == 0 || over >= 15);
        ck_assert(vugi_chances_known(&s, HALF, 1.5)); /* so much less is left: none misses it */
        ck_assert(!vugi_chances_known(&s, HALF / 2, 0.0));
        ck_assert(vugi_chances_known(&s, VUG_PLAN_SAMPLES, 0.0));
    }
}
END_TEST

int main(void)
{
    Suite *suite = suite_create("plan_samples");
    TCase *tests = tcase_create("plan_samples");
    tcase_add_test(tests, all_is_played);
    tcase_add_test(tests, enough_stops_it_and_it_goes_on);
    tcase_add_test(tests, too_much_is_played_on);
    tcase_add_test(tests, what_is_kept_stays);
    tcase_add_test(tests, half_of_the_samples_say_enough);
    suite_add_tcase(suite, tests);
    return test_run(suite);
}
