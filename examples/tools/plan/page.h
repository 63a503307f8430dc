/* SPDX-License-Identifier: MIT
 * The page to work with, with the part and its plan inside. */
#ifndef TOOLS_PLAN_PAGE_H
#define TOOLS_PLAN_PAGE_H

#include "fill_plan.h"

/* Is there a page to write the part into? DONE, or FAILED with a message: before the long work. */
int plan_page_ready(const tool *program);

/* Writes one HTML file that opens without a network: the page that was installed, the part as it was read, the
 * best alternative. DONE or an exit code. */
int plan_page(const tool *program, const fill_plan *plan, const char *file);

#endif
