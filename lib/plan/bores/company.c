/* SPDX-License-Identifier: MIT
 * Another hole where a cavity has one that may hold the rinsing liquid in. */
#include "plan/bores/company.h"

#include "plan/bores/lone.h"
#include "plan/bores/top.h"
#include "plan/bores/width.h"

vug_status vugi_plan_company(vugi_planning *p, size_t most, vugi_site *site, size_t *sites)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; i < p->cavities->cavity_count && *sites < most && !status; i++) {
        vugi_lone own;
        vugi_top_task task = {.cavity = (int32_t)i,
            .only = UINT32_MAX,
            .width = vugi_second_width(p)};
        bool found = false;
        if (!vugi_lone_find(p, site, *sites, (int32_t)i, &own))
            continue;
        task.away = own.inner;
        task.away_mm = own.diameter + task.width.least_mm;
        status = vugi_plan_top(p, &task, site, *sites, NULL, &found);
        *sites += found;
    }
    return status;
}
