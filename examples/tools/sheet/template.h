/* SPDX-License-Identifier: MIT
 * Where to drill, in true size. */
#ifndef TOOLS_SHEET_TEMPLATE_H
#define TOOLS_SHEET_TEMPLATE_H

#include "paper.h"

#include "../plan/fill_plan.h"

/* A line of 100 mm to check the printer by. */
void template_scale(pages *p);

/* For each bore the part as the drill sees it, with distances from what can be found on it. false without
 * memory. */
bool template_draw(pages *p, const fill_plan *plan);

#endif
