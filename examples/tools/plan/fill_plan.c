/* SPDX-License-Identifier: MIT */
#include "fill_plan.h"

#include "../tool/tool.h"

#include <math.h>
#include <stdlib.h>

void fill_plan_free(fill_plan *plan)
{
    for (size_t i = 0; i < plan->first_count; i++)
        vug_moment_free(plan->first[i].moment);
    free(plan->first);
    free(plan->openings);
    free(plan->bores);
    vug_plan_free(plan->made);
    vug_cavities_free(plan->cavities);
    vug_free(plan->ctx, plan->hollowed.spots);
    vug_mesh_free(plan->mesh);
    vug_context_free(plan->ctx);
}

double fill_plan_percent(const fill_plan *plan, double volume_mm3)
{
    return 100.0 * volume_mm3 / plan->info.capacity_mm3;
}

bool fill_plan_unfilled(const fill_plan *plan)
{
    return !plan->info.given && plan->info.inject_mm3 < LEAST_MM3;
}

uint32_t fill_plan_told(const fill_plan *plan)
{
    return plan->info.steps - plan->info.again;
}

unsigned fill_plan_turns(const fill_plan *plan)
{
    unsigned turns = 0;
    for (uint32_t k = 1; k < plan->info.steps; k++)
        turns += plan->fill[k].angle_deg > 0.0;
    return turns;
}

percent_words fill_plan_share(const fill_plan *plan, double volume_mm3)
{
    percent_words words = {"0 %"};
    vug_percent_words(plan->ctx, fmax(0.0, volume_mm3), plan->info.capacity_mm3, words.text,
        sizeof words.text);
    return words;
}

size_t fill_plan_start_cavity(const fill_plan *plan)
{
    const plan_settings *s = plan->settings;
    size_t opening = s->inlet >= 0 ? (size_t)s->inlet : 0;
    vug_opening_info info = {.struct_size = sizeof info};
    for (size_t i = 0; i < s->plugged.count && s->inlet < 0; i++)
        for (size_t k = 0; k < s->plugged.count; k++)
            opening += s->plugged.number[k] == (double)opening;
    return vug_cavities_opening(plan->cavities, opening, &info) ? 0 : info.cavity;
}

bool fill_plan_listed(opening_list list, size_t opening)
{
    for (size_t i = 0; i < list.count; i++)
        if (list.number[i] == opening)
            return true;
    return false;
}
