/* SPDX-License-Identifier: MIT
 * Cavities whose holes let no air in for the liquid that is to run out: one narrow hole alone, or some that are near each
 * other or at one height. */
#ifndef VUGI_PLAN_BORES_LONE_H
#define VUGI_PLAN_BORES_LONE_H

#include "plan/bores/site.h"
#include "plan/planning.h"

/* The only hole into a cavity: how wide it is, and its number. */
typedef struct vugi_lone {
    double diameter;
    size_t opening;
} vugi_lone;

/* Has a cavity one hole alone among the openings that are not closed? */
bool vugi_lone_hole(const vug_cavities *cavities, const bool *closed, int32_t cavity,
    vugi_lone *own);

/* Cavities of a model whose holes, with those at these sites, may hold the rinsing liquid in: in the pose that is easy to
 * hold in which they are fewest, since all are washed in one. None in a part that is printed: it has the holes that it
 * has. */
size_t vugi_lone_count(const vugi_planning *p, const vugi_site *site, size_t sites);

#endif
