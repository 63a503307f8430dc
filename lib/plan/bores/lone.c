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

bool vugi_lone_find(const vugi_planning *p, const vugi_site *site, size_t sites, int32_t cavity,
    vugi_lone *own)
{
    size_t count = 0;
    for (size_t i = 0; i < p->cavities->opening_count; i++) {
        const vugi_opening *o = p->cavities->opening + i;
        if (p->closed[i] || o->cavity != cavity)
            continue;
        memcpy(own->inner, o->inner, sizeof own->inner);
        own->diameter = 2.0 * o->radius;
        count++;
    }
    for (size_t i = 0; i < sites; i++) {
        if (site[i].cavity != cavity)
            continue;
        memcpy(own->inner, site[i].inner, sizeof own->inner);
        own->diameter = site[i].bore.diameter_mm;
        count++;
    }
    return p->model && count == 1 && own->diameter <= sure_mm(p);
}

size_t vugi_lone_count(const vugi_planning *p, const vugi_site *site, size_t sites)
{
    size_t count = 0;
    vugi_lone own;
    for (size_t i = 0; i < p->cavities->cavity_count; i++)
        count += vugi_lone_find(p, site, sites, (int32_t)i, &own);
    return count;
}
