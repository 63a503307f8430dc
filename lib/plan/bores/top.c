/* SPDX-License-Identifier: MIT
 * A place for an opening at the top that a cavity has in some pose. */
#include "plan/bores/top.h"

#include "plan/bores/lone.h"
#include "plan/cost.h"
#include "plan/search/alternatives.h"

#include <math.h>

vugi_bubble vugi_whole(const vugi_airtree *tree, int32_t cavity)
{
    vugi_bubble bubble = {.node = VUGI_NO_AIRNODE};
    for (uint32_t i = 0; i < tree->count; i++)
        if (tree->node[i].parent == VUGI_NO_AIRNODE && tree->body[tree->node[i].apex] == cavity
            && tree->node[i].room > bubble.volume)
            bubble = (vugi_bubble){i, tree->node[i].room, tree->node[i].top - 4.0 * tree->h};
    return bubble;
}

/* At the top in this pose. *value: what speaks against it; INFINITY: there is no place. */
static vug_status try_pose(vugi_planning *p, const vugi_top_task *task, size_t pose,
    vugi_site *site, size_t sites, double *value)
{
    const vugi_airtree *tree = p->pose_set.tree + pose;
    const vugi_bubble bubble = vugi_whole(tree, task->cavity);
    double inside[3 * VUGI_POINTS], air = 0.0;
    bool found;
    *value = INFINITY;
    if (bubble.node == VUGI_NO_AIRNODE)
        return VUG_OK;
    const size_t count = vugi_points_under(tree, &bubble, inside);
    vugi_site *here = site + sites;
    vug_status status = vugi_site_find(p->ctx, &p->skin, inside, count, task->cavity,
        p->pose_set.up + 3 * pose, &task->width, here, &found);
    if (status || !found || (task->lone > 0 && vugi_lone_count(p, site, sites + 1) >= task->lone))
        return status;
    status = vugi_plan_vent(p, site, sites + 1);
    if (!status)
        status = vugi_pose_set_first(p->ctx, &p->pose_set, pose, &air);
    *value = vugi_cost_first_opening(air / p->pose_set.capacity, here->cost, here->bore.visibility,
        p->pose_set.ease[pose]);
    return status;
}

vug_status vugi_plan_top(vugi_planning *p, const vugi_top_task *task, vugi_site *site, size_t sites,
    size_t *pose, bool *found)
{
    double best = INFINITY;
    vugi_site chosen;
    for (size_t i = 0; i < p->pose_set.count; i++) {
        double value;
        if (p->pose_set.ease[i] > vugi_cost_ease_first()
            || (task->only != UINT32_MAX && i != task->only))
            continue;
        vug_status status = try_pose(p, task, i, site, sites, &value);
        if (status)
            return status;
        if (value >= best)
            continue;
        best = value;
        chosen = site[sites];
        if (pose)
            *pose = i;
    }
    *found = best < INFINITY;
    if (*found)
        site[sites] = chosen;
    return VUG_OK;
}
