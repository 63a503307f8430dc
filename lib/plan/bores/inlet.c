/* SPDX-License-Identifier: MIT
 * The first openings of cavities that have none. */
#include "plan/bores/inlet.h"

#include "base/vec.h"
#include "plan/bores/lone.h"
#include "plan/bores/top.h"
#include "plan/bores/width.h"
#include "plan/verify/move.h"

/* A second opening for the air, as far from the first, all[sites], as the same pose has a place for. One by which what is
 * inside would be held all the same is none. */
static vug_status second_opening(vugi_planning *p, size_t pose, const vugi_width *width,
    vugi_site *all, size_t sites, bool *found)
{
    vugi_site *site = all + sites;
    const vugi_airtree *tree = p->pose_set.tree + pose;
    vugi_bubble bubble = vugi_whole(tree, site->cavity);
    const vugi_airnode *node = tree->node + bubble.node;
    double far = 0.0, inside[3], least = 3.0 * site->bore.diameter_mm;
    *found = false;
    for (uint32_t i = node->first; i < node->last; i++) {
        uint32_t s = tree->member[i];
        double point[3];
        if (tree->ends[s].hi < node->top - 0.05 * p->size || tree->body[s] != site->cavity)
            continue;
        vugi_airtree_point(tree, s, tree->ends[s].hi - 0.3 * tree->h, point);
        double d2 = vugi_square_distance(point, site->inner);
        if (d2 <= far)
            continue;
        far = d2;
        /* a little back from the far wall */
        for (int k = 0; k < 3; k++)
            inside[k] = point[k] + (site->inner[k] - point[k]) * 0.1;
    }
    if (far < least * least)
        return VUG_OK;
    vug_status status = vugi_site_find(p->ctx, &p->skin, inside, 1, site->cavity,
        p->pose_set.up + 3 * pose, width, site + 1, found);
    *found = *found && vugi_lone_count(p, all, sites + 2) <= vugi_lone_count(p, all, sites);
    return status;
}

static bool has_opening(const vugi_planning *p, size_t cavity)
{
    for (size_t i = 0; i < p->cavities->opening_count; i++)
        if (!p->closed[i] && p->cavities->opening[i].cavity == (int32_t)cavity)
            return true;
    return false;
}

/* The largest cavity has to get one. A trace of a cavity is not worth a hole. */
static bool wants_opening(const vugi_planning *p, size_t cavity)
{
    return p->reached[cavity] && !has_opening(p, cavity)
        && (cavity == 0 || p->cavities->cavity[cavity].volume >= VUGI_LEAST_MM3);
}

vug_status vugi_plan_inlets(vugi_planning *p, size_t most, vugi_site *site, size_t *sites)
{
    vugi_top_task task = {.only = p->first};
    vug_status status = VUG_OK;
    for (size_t i = 0; i < p->cavities->cavity_count && *sites < most && !status; i++) {
        size_t pose = 0;
        bool found, second = false;
        if (!wants_opening(p, i))
            continue;
        task.cavity = (int32_t)i;
        task.width = vugi_inlet_width(p, i);
        status = vugi_plan_top(p, &task, site, *sites, &pose, &found);
        if (!status && !found && i == 0)
            status = vugi_fail(p->ctx, VUG_ERR_NOT_FOUND,
                "no place for a first opening can be reached "
                "straight from outside: leave less clear of bores, or name a hole");
        if (status || !found)
            continue;
        task.only = (uint32_t)pose; /* all are filled in one pose */
        if (*sites + 2 <= most)
            status = second_opening(p, pose, &task.width, site, *sites, &second);
        *sites += second ? 2 : 1;
    }
    return status;
}
