/* SPDX-License-Identifier: MIT
 * Holes that are the only one of their cavity. */
#include "plan/bores/lone.h"

#include <string.h>

/* A wider hole lets air in past the liquid however its rim is. 0: nobody knows. */
static double sure_mm(const vugi_planning *p)
{
    double pinned = 0.0;
    return vug_exchange_diameter(NULL, &p->solvent, NULL, &pinned) ? 0.0 : pinned;
}

bool vugi_lone_hole(const vug_cavities *c, const bool *closed, const vugi_site *site, size_t sites,
    int32_t cavity, vugi_lone *own)
{
    size_t count = 0;
    for (size_t i = 0; i < c->opening_count; i++) {
        const vugi_opening *o = c->opening + i;
        if (closed[i] || o->cavity != cavity)
            continue;
        memcpy(own->inner, o->inner, sizeof own->inner);
        own->diameter = 2.0 * o->radius;
        own->opening = i;
        count++;
    }
    for (size_t i = 0; i < sites; i++) {
        if (site[i].cavity != cavity)
            continue;
        memcpy(own->inner, site[i].inner, sizeof own->inner);
        own->diameter = site[i].bore.diameter_mm;
        own->opening = SIZE_MAX;
        count++;
    }
    return count == 1;
}

bool vugi_lone_find(const vugi_planning *p, const vugi_site *site, size_t sites, int32_t cavity,
    vugi_lone *own)
{
    return p->model && vugi_lone_hole(p->cavities, p->closed, site, sites, cavity, own)
        && own->diameter <= sure_mm(p);
}

size_t vugi_lone_count(const vugi_planning *p, const vugi_site *site, size_t sites)
{
    size_t count = 0;
    vugi_lone own;
    for (size_t i = 0; i < p->cavities->cavity_count; i++)
        count += vugi_lone_find(p, site, sites, (int32_t)i, &own);
    return count;
}
