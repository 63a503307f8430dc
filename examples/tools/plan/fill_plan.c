/* SPDX-License-Identifier: MIT */
#include "fill_plan.h"

#include <stdio.h>
#include <stdlib.h>

void fill_plan_free(fill_plan *plan)
{
    for (size_t i = 0; i < plan->first_count; i++)
        vug_moment_free(plan->first[i].moment);
    free(plan->first);
    free(plan->openings);
    free(plan->bores);
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

bool fill_plan_listed(opening_list list, size_t opening)
{
    for (size_t i = 0; i < list.count; i++)
        if (list.number[i] == opening)
            return true;
    return false;
}

void fill_plan_labels(const fill_plan *plan, opening_list list, char *text, size_t size)
{
    size_t used = 0;
    text[0] = '\0';
    for (size_t i = 0; i < list.count; i++) {
        size_t left = list.count - i;
        if (used + 24 >= size && left > 1) {
            snprintf(text + used, size - used, " and %u more", (unsigned)left);
            return;
        }
        const char *comma = used == 0 ? "" : left == 1 ? " and " : ", ";
        used += (size_t)snprintf(text + used, size - used, "%s%s", comma,
            plan->openings[list.number[i]].label);
    }
}

void fill_plan_feeds(const fill_plan *plan, const vug_step_info *step, char *text, size_t size)
{
    size_t used = 0;
    text[0] = '\0';
    if (step->feed_count == 0 && step->inlet >= 0)
        snprintf(text, size, "%.2f mL by %s", 1e-3 * step->inject_mm3,
            plan->openings[step->inlet].label);
    for (size_t i = 0; i < step->feed_count && used < size; i++)
        used += (size_t)snprintf(text + used, size - used, "%s%.2f mL by %s",
            i == 0                          ? ""
                : i + 1 == step->feed_count ? " and "
                                            : ", ",
            1e-3 * step->feed_mm3[i], plan->openings[step->feed[i]].label);
}
