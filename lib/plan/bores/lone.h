/* SPDX-License-Identifier: MIT
 * Holes that are the only one of their cavity: what is to run out by them may stay in. */
#ifndef VUGI_PLAN_BORES_LONE_H
#define VUGI_PLAN_BORES_LONE_H

#include "plan/bores/site.h"
#include "plan/planning.h"

/* Cavities of a model whose only hole, with those at these sites, may hold the rinsing liquid in. None in a part that is
 * printed: it has the holes that it has. */
size_t vugi_lone_count(const vugi_planning *p, const vugi_site *site, size_t sites);

/* Another hole for each of them, where there is a place for it; most sites of all. */
vug_status vugi_plan_company(vugi_planning *p, size_t most, vugi_site *site, size_t *sites);

#endif
