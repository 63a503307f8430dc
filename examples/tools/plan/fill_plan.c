/* SPDX-License-Identifier: MIT */
#include "fill_plan.h"

#include <stdio.h>

void fill_plan_free(fill_plan *plan)
{
    vug_pockets_free(plan->pockets);
    vug_plan_free(plan->made);
    vug_cavities_free(plan->cavities);
    vug_mesh_free(plan->mesh);
    vug_context_free(plan->ctx);
}

double fill_plan_percent(const fill_plan *plan, double volume_mm3)
{
    return 100.0 * volume_mm3 / plan->info.capacity_mm3;
}

void fill_plan_labels(const fill_plan *plan, uint64_t openings, char *text, size_t size)
{
    size_t used = 0, left = 0;
    text[0] = '\0';
    for (size_t i = 0; i < plan->opening_count; i++)
        left += openings >> i & 1u;
    for (size_t i = 0; i < plan->opening_count && used + 16 < size; i++) {
        if (!(openings >> i & 1u))
            continue;
        const char *comma = used == 0 ? "" : left == 1 ? " and " : ", ";
        used += (size_t)snprintf(text + used, size - used, "%s%s", comma, plan->openings[i].label);
        left--;
    }
}
