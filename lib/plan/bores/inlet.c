/* SPDX-License-Identifier: MIT
 * The first openings of a part that has none. */
#include "plan/bores/inlet.h"

#include "base/vec.h"
#include "plan/bores/candidates.h"
#include "plan/bores/width.h"
#include "plan/cost.h"
#include "plan/search/alternatives.h"

#include <math.h>

/* The whole cavity as a bubble: its top is the place for the inlet. */
static vugi_bubble whole(const vugi_airtree *d, int32_t body)
{
    vugi_bubble bubble = {.node = VUGI_NO_AIRNODE};
    for (uint32_t i = 0; i < d->count; i++)
        if (d->node[i].parent == VUGI_NO_AIRNODE && d->body[d->node[i].apex] == body
            && d->node[i].room > bubble.volume)
            bubble = (vugi_bubble){i, d->node[i].room, d->node[i].top - 4.0 * d->h};
    return bubble;
}

/* A second opening for the air, as far from the first as the same pose has a place for. */
static vug_status second_opening(vugi_planning *p, size_t pose, const vugi_width *width,
    vugi_site *site, bool *found)
{
    const vugi_airtree *tree = p->pose_set.tree + pose;
    vugi_bubble bubble = whole(tree, site->cavity);
    const vugi_airnode *node = tree->node + bubble.node;
    double far = 0.0, inside[3], least = 3.0 * site->bore.diameter_mm;
    *found = false;
    for (uint32_t i = node->first; i < node->last; i++) {
        uint32_t s = tree->member[i];
        double point[3];
        if (tree->hi[s] < node->top - 0.05 * p->size || tree->body[s] != site->cavity)
            continue;
        vugi_airtree_point(tree, s, tree->hi[s] - 0.3 * tree->h, point);
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
    return vugi_site_find(p->ctx, &p->skin, inside, 1, site->cavity, p->pose_set.up + 3 * pose,
        width, site + 1, found);
}

/* Where the first fill leaves least and it shows least. */
vug_status vugi_plan_inlet(vugi_planning *p, vugi_site *site, size_t *sites)
{
    double best = INFINITY;
    const vugi_width width = vugi_inlet_width(p, 0);
    size_t best_pose = 0;
    for (size_t i = 0; i < p->pose_set.count; i++) {
        double inside[3 * VUGI_POINTS], air, value;
        vugi_site here;
        bool found;
        if (p->pose_set.ease[i] > vugi_cost_ease_first()
            || (p->first != UINT32_MAX && i != p->first))
            continue;
        vugi_bubble bubble = whole(p->pose_set.tree + i, 0);
        if (bubble.node == VUGI_NO_AIRNODE)
            continue;
        size_t count = vugi_points_under(p->pose_set.tree + i, &bubble, inside);
        vug_status status = vugi_site_find(p->ctx, &p->skin, inside, count, 0,
            p->pose_set.up + 3 * i, &width, &here, &found);
        if (!status && found)
            status = vugi_plan_vent(p, &here, 1);
        if (!status && found)
            status = vugi_pose_set_first(p->ctx, &p->pose_set, i, &air);
        if (status)
            return status;
        if (!found)
            continue;
        value = vugi_cost_first_opening(air / p->pose_set.capacity, here.cost, here.bore.visibility,
            p->pose_set.ease[i]);
        if (value < best) {
            best = value;
            best_pose = i;
            site[0] = here;
        }
    }
    if (!(best < INFINITY))
        return vugi_fail(p->ctx, VUG_ERR_NOT_FOUND,
            "no place for a first opening can be reached "
            "straight from outside: leave less clear of bores, or name a hole");
    bool second;
    vug_status status = second_opening(p, best_pose, &width, site, &second);
    *sites = second ? 2 : 1;
    return status;
}
