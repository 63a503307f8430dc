/* SPDX-License-Identifier: MIT
 * Memory of steps. */
#include "plan/verify/move.h"

#include "base/angle.h"
#include "base/vec.h"
#include "pose/rotation.h"
#include "pose/say.h"

#include <math.h>
#include <string.h>

bool vugi_moves_make(const vugi_allocator *mem, const vug_cavities *c, vugi_move *move,
    size_t steps)
{
    bool good = true;
    for (size_t k = 0; k < steps; k++) {
        move[k] = (vugi_move){.open = vugi_calloc(mem, c->opening_count, sizeof(bool)),
            .feed = vugi_calloc(mem, c->cavity_count, sizeof(vugi_feed))};
        good &= move[k].open && move[k].feed;
        for (size_t i = 0; i < c->cavity_count && move[k].feed; i++)
            move[k].feed[i].inlet = -1;
    }
    return good;
}

/* Leant so that each side rises that is next to the one that is up, one after the other around; the last pose is the one
 * leant from. */
static void lean(const vugi_move *move, double *way)
{
    const int up = vugi_say(move->up).up;
    const double angle = move->lean_deg * VUGI_DEGREE;
    memcpy(way, move->up, 3 * sizeof *way);
    for (int i = 0; i < VUGI_LEANS; i++) {
        double side[3], *to = way + 3 * (i + 1);
        vugi_side_vector(vugi_side_around(up, i), side);
        double along = vugi_dot(side, move->up);
        double across = sqrt(fmax(0.0, 1.0 - along * along));
        for (int k = 0; k < 3; k++)
            to[k] = cos(angle) * move->up[k]
                + sin(angle) * (side[k] - along * move->up[k]) / across;
    }
}

/* Poses on the way of a turn by an angle. */
static size_t rests(double angle, double stop_deg)
{
    return angle > 0.0 && stop_deg > 0.0 ? (size_t)ceil(angle / stop_deg - 1e-9) - 1 : 0;
}

bool vugi_moves_pace(const vugi_allocator *mem, vugi_move *move, size_t steps, double stop_deg)
{
    for (size_t k = 0; k < steps; k++) {
        double axis[3], angle = 0.0;
        if (k > 0)
            vugi_rotation_between(move[k - 1].up, move[k].up, axis, &angle);
        const size_t turn = rests(angle, stop_deg),
                     leans = move[k].lean_deg > 0.0 ? 1 + VUGI_LEANS : 0;
        vugi_free(mem, move[k].way);
        move[k].ways = turn + leans;
        move[k].way = NULL;
        if (move[k].ways > 0 && !(move[k].way = vugi_alloc(mem, 3 * move[k].ways, sizeof(double))))
            return false;
        for (size_t i = 0; i < turn; i++)
            vugi_rotation_up(move[k - 1].up, axis, angle * (double)(i + 1) / (double)(turn + 1),
                move[k].way + 3 * i);
        if (leans > 0)
            lean(move + k, move[k].way + 3 * turn);
    }
    return true;
}

void vugi_moves_free(const vugi_allocator *mem, vugi_move *move, size_t steps)
{
    for (size_t k = 0; k < steps; k++) {
        vugi_free(mem, move[k].open);
        vugi_free(mem, move[k].feed);
        vugi_free(mem, move[k].way);
        move[k].open = NULL;
        move[k].feed = NULL;
        move[k].way = NULL;
    }
}

bool vugi_outcomes_make(const vugi_allocator *mem, const vug_cavities *c, vugi_outcome *outcome,
    size_t steps)
{
    bool good = true;
    for (size_t k = 0; k < steps; k++) {
        outcome[k] = (vugi_outcome){
            .moved_by = vugi_calloc(mem, c->cavity_count, sizeof *outcome[k].moved_by)};
        good &= vugi_bitset_make(mem, c->opening_count, &outcome[k].through);
        good &= vugi_bitset_make(mem, c->opening_count, &outcome[k].shown);
        good &= outcome[k].moved_by != NULL;
    }
    return good;
}

void vugi_outcome_copy(const vug_cavities *c, const vugi_outcome *from, vugi_outcome *to)
{
    vugi_outcome own = *from;
    own.moved_by = to->moved_by;
    own.through = to->through;
    own.shown = to->shown;
    *to = own;
    memcpy(to->moved_by, from->moved_by, c->cavity_count * sizeof *to->moved_by);
    memcpy(to->through.word, from->through.word, to->through.words * sizeof *to->through.word);
    memcpy(to->shown.word, from->shown.word, to->shown.words * sizeof *to->shown.word);
}

void vugi_outcomes_free(const vugi_allocator *mem, vugi_outcome *outcome, size_t steps)
{
    for (size_t k = 0; k < steps; k++) {
        vugi_bitset_free(mem, &outcome[k].through);
        vugi_bitset_free(mem, &outcome[k].shown);
        vugi_free(mem, outcome[k].moved_by);
        outcome[k].moved_by = NULL;
    }
}
