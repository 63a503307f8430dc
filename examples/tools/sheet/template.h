/* SPDX-License-Identifier: MIT
 * Where to drill, in true size. */
#ifndef TOOLS_SHEET_TEMPLATE_H
#define TOOLS_SHEET_TEMPLATE_H

#include "paper.h"

#include "../plan/fill_plan.h"

/* A line to check the printer by, and for each bore the part as the drill sees it, with distances from what can be found
 * on it. false without memory. */
bool template_draw(pages *p, const fill_plan *plan);

#endif
