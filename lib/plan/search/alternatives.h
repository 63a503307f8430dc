/* SPDX-License-Identifier: MIT
 * From the search's sequences to alternatives. */
#ifndef VUGI_PLAN_SEARCH_ALTERNATIVES_H
#define VUGI_PLAN_SEARCH_ALTERNATIVES_H

#include "plan/bores/site.h"
#include "plan/planning.h"

/* Adds the best sequences with the given new bores to the alternatives. turns_used: fewest turns
 * within the limit, by the verification too, or max_turns + 1. */
vug_status vugi_plan_turns(vugi_planning *p, vugi_site *site, size_t sites, uint32_t max_turns,
    uint32_t *turns_used);

/* Vents of all pose sets: the part's own openings and the sites. */
vug_status vugi_plan_vent(vugi_planning *p, vugi_site *site, size_t sites);

void vugi_option_free(const vugi_allocator *mem, vugi_option *option);

#endif
