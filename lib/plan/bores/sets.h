/* SPDX-License-Identifier: MIT
 * Sets of candidates by the air that a first fill leaves with them. */
#ifndef VUGI_PLAN_BORES_SETS_H
#define VUGI_PLAN_BORES_SETS_H

#include "plan/bores/candidates.h"
#include "plan/bores/site.h"

/* The best sets of `size`, up to most, best first, among all there are when those are no more than
 * VUGI_SETS, else among those that have all but one member from smaller. *left: how many there are besides.
 * base: sites that every set goes with, the same each time. */
vug_status vugi_sets_rank(vugi_candidates *candidates, vugi_site *base, size_t bases, size_t size,
    const vugi_set *smaller, vugi_set *best, size_t most, size_t *count, double *left);

#endif
