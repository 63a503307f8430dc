/* SPDX-License-Identifier: MIT
 * Poses that words can say: a side of the part that looks up, and one lean in steps of 5 degrees, so that one
 * of the four sides around it rises, or two neighbours alike. No two poses of the set are the same
 * direction: a lean goes on to where another side is up. Turned over, each is another of the set. */
#include "pose/say.h"

#include "base/angle.h"
#include "base/vec.h"

#include <math.h>
#include <stdlib.h>

static const char *const names[VUGI_SIDES] = {"right side", "left side", "back", "front", "top",
    "base"};

/* Where two are as near, the first one is said. */
static const int order[VUGI_SIDES] = {VUGI_TOP, VUGI_BASE, VUGI_FRONT, VUGI_BACK, VUGI_RIGHT,
    VUGI_LEFT};

const char *vugi_side_name(int side)
{
    return names[side];
}

void vugi_side_vector(int side, double out[3])
{
    for (int k = 0; k < 3; k++)
        out[k] = 0.0;
    out[side / 2] = side % 2 ? -1.0 : 1.0;
}

int vugi_side_around(int up, int i)
{
    const int axis[2] = {(up / 2 + 1) % 3, (up / 2 + 2) % 3};
    return 2 * axis[i % 2] + i / 2;
}

void vugi_said(const vugi_saying *say, double up[3])
{
    double lean = VUGI_LEAN_STEP * say->lean_steps * VUGI_DEGREE, to[3];
    vugi_side_vector(say->up, up);
    if (say->lean_steps == 0)
        return;
    double share = sin(lean) * (say->rise[1] < 0 ? 1.0 : sqrt(0.5));
    for (int k = 0; k < 3; k++)
        up[k] *= cos(lean);
    for (int i = 0; i < 2 && say->rise[i] >= 0; i++) {
        vugi_side_vector(say->rise[i], to);
        for (int k = 0; k < 3; k++)
            up[k] += share * to[k];
    }
}

static int rank(int side)
{
    for (int i = 0; i < VUGI_SIDES; i++)
        if (order[i] == side)
            return i;
    return VUGI_SIDES;
}

/* To one side 45 degrees are half way to where that side is up; to two, all three are alike at 54.7. */
bool vugi_sayable(const vugi_saying *say)
{
    const int *rise = say->rise;
    if (say->lean_steps == 0)
        return rise[0] < 0 && rise[1] < 0;
    if (say->lean_steps < 0 || rise[0] < 0 || rise[0] / 2 == say->up / 2)
        return false;
    if (rise[1] < 0)
        return say->lean_steps < 9 || (say->lean_steps == 9 && rank(say->up) < rank(rise[0]));
    if (rise[1] / 2 == say->up / 2 || rise[1] / 2 == rise[0] / 2 || rank(rise[0]) > rank(rise[1]))
        return false;
    return say->lean_steps < 11 || (say->lean_steps == 11 && say->up / 2 == VUGI_TOP / 2);
}

/* The lean of one way to say it that comes nearest. */
static void try_lean(const double up[3], int side, int first, int second, vugi_saying *best,
    double *nearest)
{
    vugi_saying straight = {side, {-1, -1}, 0}, say = {side, {first, second}, 0};
    double f[3], along, rise[3] = {0.0, 0.0, 0.0}, to[3];
    vugi_side_vector(side, f);
    for (int i = 0; i < 2 && say.rise[i] >= 0; i++) {
        vugi_side_vector(say.rise[i], to);
        for (int k = 0; k < 3; k++)
            rise[k] += to[k];
    }
    along = vugi_dot(rise, up) / (second < 0 ? 1.0 : sqrt(2.0));
    double lean = atan2(along, vugi_dot(f, up)) * VUGI_RADIAN;
    say.lean_steps = (int)floor(lean / VUGI_LEAN_STEP + 0.5);
    while (say.lean_steps > 0 && !vugi_sayable(&say))
        say.lean_steps--;
    if (say.lean_steps <= 0)
        say = straight;
    vugi_said(&say, to);
    double near = vugi_dot(to, up);
    if (near > *nearest + 1e-12) {
        *nearest = near;
        *best = say;
    }
}

vugi_saying vugi_say(const double up[3])
{
    vugi_saying best = {VUGI_TOP, {-1, -1}, 0};
    double nearest = -2.0;
    for (int s = 0; s < VUGI_SIDES; s++)
        for (int i = 0; i < VUGI_SIDES; i++) {
            if (order[i] / 2 == order[s] / 2)
                continue;
            try_lean(up, order[s], order[i], -1, &best, &nearest);
            for (int k = i + 1; k < VUGI_SIDES; k++)
                if (order[k] / 2 != order[s] / 2 && order[k] / 2 != order[i] / 2)
                    try_lean(up, order[s], order[i], order[k], &best, &nearest);
        }
    return best;
}

void vugi_say_nearest(double up[3])
{
    vugi_saying say = vugi_say(up);
    vugi_said(&say, up);
}
