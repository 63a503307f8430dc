/* SPDX-License-Identifier: MIT
 * What holds bubbles back in a fluid: throats, and the fluid itself. */
#include "plan/barriers.h"

#include "base/angle.h"
#include "flow/viscosity.h"

#include <math.h>

/* Turned, the walls are wet: what rises through a throat is a long bubble in a film of liquid, and it
 * stands still under the first diameter of vug_bubble_held() (Bretherton 1961; with a yield stress, * Tsamopoulos et al. 2008). A round bubble under the second stands still anywhere. */
static vug_status barriers_in(const vugi_planning *p, const vug_fluid *fluid,
    vugi_barriers *barriers, double *held)
{
    double throat = 0.0, wide = 0.0;
    vug_status status = vug_bubble_held(p->ctx, fluid, &throat, &wide);
    if (!status)
        status = vugi_barriers_build(p->ctx, p->cavities, throat, barriers);
    double radius = 0.5 * wide;
    *held = 4.0 / 3.0 * VUGI_PI * radius * radius * radius;
    return status;
}

vug_status vugi_plan_barriers(vugi_planning *p)
{
    vug_status status = barriers_in(p, &p->fluid, &p->barriers, &p->held);
    for (int i = 0; i < 2 && !status; i++) {
        const vug_fluid other = vugi_fluid_off(&p->fluid, i ? 1.0 + VUGI_OFF : 1.0 - VUGI_OFF);
        status = barriers_in(p, &other, p->off_barriers + i, p->off_held + i);
    }
    return status;
}

void vugi_plan_barriers_free(vugi_planning *p)
{
    vugi_barriers_free(&p->ctx->mem, &p->barriers);
    for (int i = 0; i < 2; i++)
        vugi_barriers_free(&p->ctx->mem, p->off_barriers + i);
}

/* Air behind barriers, where no opening is, stays however the part is turned: the same in any pose. */
double vugi_plan_locked_in(const vugi_planning *p)
{
    const vugi_airtree *d = p->pose_set.tree;
    const vugi_vents *v = p->pose_set.vents;
    double locked = 0.0;
    if (p->barriers.count == 0)
        return 0.0;
    for (size_t i = 0; i < d->count; i++) {
        if (d->node[i].parent != VUGI_NO_AIRNODE)
            continue;
        bool
            open = false; /* members of a node follow those of its parts, whose numbers are lower */
        for (size_t k = 0; k <= i && !open; k++)
            open = v->vent[k] >= 0 && d->node[k].first >= d->node[i].first
                && d->node[k].last <= d->node[i].last;
        locked += open ? 0.0 : d->node[i].room;
    }
    return locked;
}

/* Dry, the walls meet the liquid at its contact angle, and throats somewhat wider hold back too. */
static bool holds_dry(const vugi_planning *p)
{
    double dry = 0.0;
    if (vug_exchange_diameter(NULL, &p->fluid, &dry, NULL))
        return false;
    for (size_t i = 0; i < p->cavities->cavity_count; i++)
        for (size_t k = 0; k < p->cavities->cavity[i].throat_count; k++) {
            double diameter = 2.0 * p->cavities->cavity[i].throat[k].radius;
            if (diameter >= p->barriers.limit && diameter < dry)
                return true;
        }
    return false;
}

uint32_t vugi_plan_barrier_cautions(const vugi_planning *p)
{
    uint32_t bits = 0;
    if (p->barriers.count > 0)
        bits |= 1u << VUG_CAUTION_THROAT;
    if (holds_dry(p))
        bits |= 1u << VUG_CAUTION_HELD;
    return bits;
}

void vugi_plan_barrier_info(const vugi_planning *p, vug_plan_info *info)
{
    info->throat_limit_mm = p->barriers.limit;
    info->throats = (uint32_t)p->barriers.count;
    info->throat_mm = 0.0;
    for (size_t i = 0; i < p->barriers.count; i++)
        if (i == 0 || p->barriers.barrier[i].diameter < info->throat_mm)
            info->throat_mm = p->barriers.barrier[i].diameter;
}
