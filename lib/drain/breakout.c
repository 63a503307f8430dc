/* SPDX-License-Identifier: MIT
 * Does a liquid run out of a pose by itself, air coming in for it? */
#include "drain/breakout.h"

#include <math.h>

static double height_of(const vugi_opening *o, const double up[3])
{
    return o->center[0] * up[0] + o->center[1] * up[1] + o->center[2] * up[2];
}

/* Air has to break in at one opening as a bubble, against 4 tension / diameter, while liquid breaks out
 * at the other as a drop, against the same there (Laplace's pressure in a round opening): the head between them
 * must be more than both. vug_capillary_hold_head() is either as a head. */
double vugi_breakout_head(const vug_fluid *liquid, double a_mm, double b_mm)
{
    double in, out;
    if (vug_capillary_hold_head(NULL, liquid, a_mm, &in)
        || vug_capillary_hold_head(NULL, liquid, b_mm, &out))
        return INFINITY;
    return in + out;
}

static bool pair_exchanges(const vug_fluid *liquid, const vugi_opening *a, const vugi_opening *b,
    const double up[3])
{
    return fabs(height_of(a, up) - height_of(b, up))
        > vugi_breakout_head(liquid, 2.0 * a->inscribed_radius, 2.0 * b->inscribed_radius);
}

/* One opening of its own, or one of each pair with it. */
static bool takes_part(const vug_fluid *liquid, const vug_cavities *c, const bool *closed,
    size_t index, double alone, const double up[3])
{
    const vugi_opening *o = c->opening + index;
    if (2.0 * o->inscribed_radius >= alone)
        return true;
    for (size_t i = 0; i < c->opening_count; i++)
        if (i != index && !closed[i] && c->opening[i].cavity == o->cavity
            && pair_exchanges(liquid, o, c->opening + i, up))
            return true;
    return false;
}

bool vugi_breaks_out(const vug_fluid *liquid, const vug_cavities *c, const bool *closed,
    size_t cavity, const double up[3])
{
    double alone;
    bool open = false;
    if (vug_exchange_diameter(NULL, liquid, &alone, NULL))
        return true;
    for (size_t i = 0; i < c->opening_count; i++) {
        if (closed[i] || c->opening[i].cavity != (int32_t)cavity)
            continue;
        if (takes_part(liquid, c, closed, i, alone, up))
            return true;
        open = true;
    }
    return !open;
}
