/* SPDX-License-Identifier: MIT
 * From the search's sequences to alternatives. */
#include "plan/search/alternatives.h"

#include "plan/barriers.h"
#include "plan/bores/lone.h"
#include "plan/cost.h"
#include "plan/verify/verify.h"

#include <math.h>
#include <string.h>

/* The search sees coarse columns and straight turns: it aims below the limit. */
static const double AIM = 0.85;

/* The structs that callers get show the lists as const. */
static void free_list(const vugi_allocator *mem, const void *list)
{
    void *own;
    memcpy(&own, &list, sizeof own);
    vugi_free(mem, own);
}

static void free_lists(const vugi_allocator *mem, const vug_step_info *step)
{
    free_list(mem, step->cover);
    free_list(mem, step->vent);
    free_list(mem, step->feed);
    free_list(mem, step->feed_mm3);
    free_list(mem, step->feed_most_mm3);
    free_list(mem, step->open);
    free_list(mem, step->show);
    free_list(mem, step->way);
}

void vugi_option_free(const vugi_allocator *mem, vugi_option *option)
{
    if (!option)
        return;
    for (size_t k = 0; k <= VUGI_MAX_TURNS; k++) {
        free_lists(mem, option->fill + k);
        free_lists(mem, option->drain + k);
    }
    vugi_plan_proof_free(mem, option->proof);
    vugi_free(mem, option->site);
    vugi_free(mem, option->closed);
    vugi_free(mem, option->later);
    vugi_free(mem, option->stuck);
    vug_cavities_free(option->cavities);
    vugi_free(mem, option);
}

vug_status vugi_plan_vent(vugi_planning *p, vugi_site *site, size_t sites)
{
    const vugi_allocator *mem = &p->ctx->mem;
    size_t own = p->cavities->opening_count, all = own + sites;
    const vugi_opening **opening = vugi_alloc(mem, all, sizeof *opening);
    vugi_opening *drilled = vugi_alloc(mem, sites, sizeof *drilled);
    bool *closed = vugi_alloc(mem, all, sizeof *closed);
    bool good = opening && drilled && closed;
    for (size_t i = 0; i < own && good; i++) {
        opening[i] = p->cavities->opening + i;
        closed[i] = p->closed[i];
    }
    for (size_t i = 0; i < sites && good; i++) {
        drilled[i] = vugi_site_opening(site + i);
        opening[own + i] = drilled + i;
        closed[own + i] = false;
    }
    vug_status status = good ? vugi_pose_set_vent(p->ctx, opening, closed, all, own, &p->pose_set)
                             : vugi_fail_memory(p->ctx);
    vugi_free(mem, opening);
    vugi_free(mem, drilled);
    vugi_free(mem, closed);
    return status;
}

static double cost_of(const vugi_planning *p, const vugi_tilt *tilt, const vugi_site *site,
    size_t sites, double share)
{
    const vug_plan_options *o = &p->options;
    double cost = vugi_cost_of_turns(o, tilt->effort) + vugi_cost_of_air(o, share);
    for (size_t i = 0; i < sites; i++)
        cost += vugi_cost_of_bore(o, site[i].cost);
    return cost + vugi_cost_of_lone(o, vugi_lone_count(p, site, sites));
}

static double left(const vugi_tilt *tilt)
{
    return tilt->air[tilt->turns];
}

/* The worst alternative makes room when all places are taken. */
static size_t place_for(vugi_planning *p, double cost, bool within)
{
    vug_plan *plan = p->plan;
    size_t worst = 0;
    if (plan->count < VUGI_ALTERNATIVES)
        return plan->count;
    for (size_t i = 1; i < plan->count; i++) {
        const vug_plan_info *a = &plan->option[i]->info, *b = &plan->option[worst]->info;
        if (a->within_limit < b->within_limit
            || (a->within_limit == b->within_limit && a->cost > b->cost))
            worst = i;
    }
    const vug_plan_info *w = &plan->option[worst]->info;
    bool better = (int32_t)within > w->within_limit
        || ((int32_t)within == w->within_limit && cost < w->cost);
    return better ? worst : SIZE_MAX;
}

/* *added: NULL if there are better ones enough. */
static vug_status add_option(vugi_planning *p, const vugi_tilt *tilt, const vugi_site *site,
    size_t sites, vugi_option **added)
{
    double share = fmax(0.0, left(tilt) - p->sealed) / (p->pose_set.capacity - p->sealed);
    double cost = cost_of(p, tilt, site, sites, share);
    bool within = left(tilt) <= p->limit;
    size_t place = place_for(p, cost, within);
    *added = NULL;
    if (place == SIZE_MAX)
        return VUG_OK;
    vugi_option *option = vugi_calloc(&p->plan->mem, 1, sizeof *option);
    if (!option)
        return vugi_fail_memory(p->ctx);
    option->tilt = *tilt;
    for (uint32_t k = 0; k <= tilt->turns; k++)
        memcpy(option->up + 3 * k, p->pose_set.up + 3 * (size_t)tilt->pose[k], 3 * sizeof(double));
    option->sites = sites;
    option->site = vugi_alloc(&p->plan->mem, sites, sizeof *site);
    if (!option->site) {
        vugi_free(&p->plan->mem, option);
        return vugi_fail_memory(p->ctx);
    }
    if (sites > 0)
        memcpy(option->site, site, sites * sizeof *site);
    option->lone = vugi_lone_count(p, site, sites);
    option->searched = share;
    option->info.cost = cost;
    option->info.within_limit = within;
    if (place < p->plan->count)
        vugi_option_free(&p->plan->mem, p->plan->option[place]);
    else
        p->plan->count++;
    p->plan->option[place] = *added = option;
    return VUG_OK;
}

/* The best ways to turn with holes at these sites, one for each number of turns that improves on fewer. */
static vug_status search_turns(vugi_planning *p, vugi_site *site, size_t sites, uint32_t max_turns,
    vugi_tilt *best, size_t *count)
{
    size_t poses = p->pose_set.count;
    bool slow = p->turn_step_deg > 0.0; /* turns that cost many times as much to follow */
    vugi_tilt_task task = {.first = p->first,
        .last = UINT32_MAX,
        .max_turns = max_turns,
        .width = 3,
        .frontier = (uint32_t)(slow ? poses / 2 : poses + 32),
        .limit = p->sealed + AIM * (p->limit - p->sealed),
        .same = 2e-4 * p->pose_set.capacity,
        .turn_step_deg = p->turn_step_deg,
        .held = p->held,
        .start = p->start.given ? &p->start : NULL};
    vug_status status = vugi_plan_vent(p, site, sites);
    if (!status && max_turns > 1 && vugi_plan_locked_in(p) > p->limit)
        task.max_turns = 1; /* more turns won't do it: a glance at what one does */
    return status ? status : vugi_tilt_search(p->ctx, &p->pose_set, &task, best, count);
}

vug_status vugi_plan_turns(vugi_planning *p, vugi_site *site, size_t sites, uint32_t max_turns,
    uint32_t *turns_used)
{
    vugi_tilt best[VUG_MAX_TURNS + 1];
    size_t count = 0;
    vug_status status = search_turns(p, site, sites, max_turns, best, &count);
    if (status)
        return status;
    *turns_used = max_turns + 1;
    double least = INFINITY;
    for (size_t i = 0; i < count && !status; i++) {
        bool within = left(best + i) <= p->limit;
        /* to do nothing is a way on if that is within the limit, or if nothing helps */
        if (p->start.given && i == 0 && (sites > 0 || (!within && count > 1)))
            continue;
        vugi_option *added = NULL;
        /* a turn more is worth a line when it halves the air, or comes within the limit */
        if (within || i + 1 == count || left(best + i) - p->sealed < 0.5 * (least - p->sealed)) {
            status = add_option(p, best + i, site, sites, &added);
            least = left(best + i);
        }
        if (!status && within && added)
            status = vugi_plan_verify(p, added);
        if (within && (!added || added->info.within_limit) && *turns_used > max_turns)
            *turns_used = best[i].turns;
    }
    return status;
}
