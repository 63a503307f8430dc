/* SPDX-License-Identifier: MIT
 * Another hole where those of a cavity may hold the rinsing liquid in. */
#include "plan/bores/company.h"

#include "plan/bores/lone.h"
#include "plan/bores/top.h"
#include "plan/bores/width.h"

vug_status vugi_plan_company(vugi_planning *p, size_t most, vugi_site *site, size_t *sites)
{
    vug_status status = VUG_OK;
    for (size_t i = 0; i < p->cavities->cavity_count && *sites < most && !status; i++) {
        const vugi_top_task task = {.cavity = (int32_t)i,
            .only = UINT32_MAX,
            .lone = vugi_lone_count(p, site, *sites),
            .width = vugi_second_width(p)};
        bool found = false;
        if (task.lone > 0)
            status = vugi_plan_top(p, &task, site, *sites, NULL, &found);
        *sites += found;
    }
    return status;
}
