/* SPDX-License-Identifier: MIT
 * Memory of steps. */
#include "plan/verify/move.h"

#include "pose/rotation.h"

#include <math.h>

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

bool vugi_moves_pace(const vugi_allocator *mem, vugi_move *move, size_t steps, double stop_deg)
{
    for (size_t k = 0; k < steps; k++) {
        double axis[3], angle = 0.0;
        if (k > 0 && stop_deg > 0.0)
            vugi_rotation_between(move[k - 1].up, move[k].up, axis, &angle);
        int parts = angle > 0.0 ? (int)ceil(angle / stop_deg - 1e-9) : 1;
        vugi_free(mem, move[k].way);
        move[k].ways = parts > 1 ? (size_t)parts - 1 : 0;
        move[k].way = NULL;
        if (move[k].ways > 0 && !(move[k].way = vugi_alloc(mem, 3 * move[k].ways, sizeof(double))))
            return false;
        for (size_t i = 0; i < move[k].ways; i++)
            vugi_rotation_up(move[k - 1].up, axis, angle * (double)(i + 1) / parts,
                move[k].way + 3 * i);
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

void vugi_outcomes_free(const vugi_allocator *mem, vugi_outcome *outcome, size_t steps)
{
    for (size_t k = 0; k < steps; k++) {
        vugi_bitset_free(mem, &outcome[k].through);
        vugi_bitset_free(mem, &outcome[k].shown);
        vugi_free(mem, outcome[k].moved_by);
        outcome[k].moved_by = NULL;
    }
}
