/* SPDX-License-Identifier: MIT
 * Cavities whose holes let no air in for the liquid that is to run out. */
#include "plan/bores/lone.h"

#include "base/vec.h"
#include "drain/breakout.h"
#include "plan/verify/wash.h"

#include <math.h>
#include <string.h>

/* The height of one hole over another has to be more than the head that they need: holes print a tenth narrower, which takes
 * a ninth more head, and 5 degrees of a hand take a tenth of the height on a slant of 45: 1 / 0.9 times cos 45 / cos 50. */
static const double APART = 1.25;

typedef struct hole {
    double at[3], mm;
} hole;

/* Number i of the openings and, after them, of the sites, if it is an open one of the cavity. */
static bool hole_at(const vugi_planning *p, const vugi_site *site, size_t i, int32_t cavity,
    hole *h)
{
    const vug_cavities *c = p->cavities;
    if (i >= c->opening_count) {
        const vugi_site *own = site + (i - c->opening_count);
        memcpy(h->at, own->bore.point_mm, sizeof h->at);
        h->mm = own->bore.diameter_mm;
        return own->cavity == cavity;
    }
    memcpy(h->at, c->opening[i].center, sizeof h->at);
    h->mm = 2.0 * c->opening[i].inscribed_radius;
    return !p->closed[i] && c->opening[i].cavity == cavity;
}

bool vugi_lone_hole(const vug_cavities *c, const bool *closed, int32_t cavity, vugi_lone *own)
{
    size_t count = 0;
    for (size_t i = 0; i < c->opening_count; i++) {
        const vugi_opening *o = c->opening + i;
        if (closed[i] || o->cavity != cavity)
            continue;
        own->diameter = 2.0 * o->radius;
        own->opening = i;
        count++;
    }
    return count == 1;
}

/* A wider hole lets air in past the liquid however its rim is. 0: nobody knows. */
static double sure_mm(const vugi_planning *p)
{
    double pinned = 0.0;
    return vug_exchange_diameter(NULL, &p->solvent, NULL, &pinned) ? 0.0 : pinned;
}

/* In this pose, does air come in by one of them while liquid leaves by the other? */
static bool pass(const vugi_planning *p, const hole *a, const hole *b, const double up[3])
{
    double between[3];
    vugi_subtract(a->at, b->at, between);
    return fabs(vugi_dot(between, up)) > APART * vugi_breakout_head(&p->solvent, a->mm, b->mm);
}

static bool held(const vugi_planning *p, const vugi_site *site, size_t sites, int32_t cavity,
    const double up[3])
{
    const size_t all = p->cavities->opening_count + sites;
    const double sure = sure_mm(p);
    bool any = false;
    for (size_t i = 0; i < all; i++) {
        hole a, b;
        if (!hole_at(p, site, i, cavity, &a))
            continue;
        any = true;
        if (a.mm > sure)
            return false;
        for (size_t k = 0; k < i; k++)
            if (hole_at(p, site, k, cavity, &b) && pass(p, &a, &b, up))
                return false;
    }
    return any;
}

size_t vugi_lone_count(const vugi_planning *p, const vugi_site *site, size_t sites)
{
    const vugi_pose_set *set = &p->pose_set;
    size_t least = SIZE_MAX;
    for (size_t k = 0; k < set->count && k < VUGI_EASY && p->model && least > 0; k++) {
        size_t count = 0;
        for (size_t i = 0; i < p->cavities->cavity_count; i++)
            count += held(p, site, sites, (int32_t)i, set->up + 3 * k);
        least = count < least ? count : least;
    }
    return least < SIZE_MAX ? least : 0;
}
