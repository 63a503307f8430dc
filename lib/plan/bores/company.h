/* SPDX-License-Identifier: MIT
 * Another hole where those of a cavity may hold the rinsing liquid in. */
#ifndef VUGI_PLAN_BORES_COMPANY_H
#define VUGI_PLAN_BORES_COMPANY_H

#include "plan/bores/site.h"
#include "plan/planning.h"

/* For each such cavity, see bores/lone.h, where there is a place for it; most sites of all. */
vug_status vugi_plan_company(vugi_planning *p, size_t most, vugi_site *site, size_t *sites);

#endif
