/* SPDX-License-Identifier: MIT
 * The first openings of cavities that have none. */
#ifndef VUGI_PLAN_BORES_INLET_H
#define VUGI_PLAN_BORES_INLET_H

#include "plan/bores/site.h"
#include "plan/planning.h"

/* The first openings of each cavity that is to be reached and has none: an inlet, and another where the same pose has a
 * place; most of all. */
vug_status vugi_plan_inlets(vugi_planning *p, size_t most, vugi_site *site, size_t *sites);

#endif
