/* SPDX-License-Identifier: MIT
 * New bores: the fewest that do, one more at a time. */
#include "plan/bores/bores.h"

#include "plan/bores/candidates.h"
#include "plan/bores/company.h"
#include "plan/bores/inlet.h"
#include "plan/bores/sets.h"
#include "plan/search/alternatives.h"

#include <assert.h>
#include <string.h>

/* Sets of each size whose turns are searched: 3, and more as the poses are fewer. */
enum { SEARCHED = 3, MOST_SEARCHED = 48, WORK = 40000 };

typedef struct drilling {
    vugi_planning *p;
    vugi_candidates candidates;
    vugi_site site[VUGI_SITES];
    size_t most; /* sites at all */
    size_t base; /* of them, those that are there from the start */
    vugi_set best[MOST_SEARCHED];
} drilling;

static size_t most_searched(const vugi_planning *p)
{
    size_t poses = p->pose_set.count, sets = WORK / (poses * (poses + 32));
    return sets < SEARCHED ? SEARCHED : sets > MOST_SEARCHED ? MOST_SEARCHED : sets;
}

static void lay_out(drilling *d, const vugi_set *set, size_t size)
{
    assert(d->base + size <= sizeof d->site / sizeof d->site[0]);
    for (size_t i = 0; i < size; i++)
        d->site[d->base + i] = d->candidates.list[set->member[i]].site;
}

/* The turns of the most promising sets of this size, to take fewer than without. *used: fewest of all, or
 * max_turns + 1; the set that takes them is put first. */
static vug_status search_sets(drilling *d, size_t size, size_t count, uint32_t max_turns,
    uint32_t *used)
{
    vug_status status = VUG_OK;
    size_t best = 0;
    *used = max_turns + 1;
    for (size_t i = 0; i<count && * used> vugi_least_turns(d->p) && !status; i++) {
        uint32_t turns, most = *used - 1;
        lay_out(d, d->best + i, size);
        status = vugi_plan_turns(d->p, d->site, d->base + size, most, &turns);
        if (!status && turns <= most) {
            *used = turns;
            best = i;
        }
    }
    vugi_set first = d->best[0];
    d->best[0] = d->best[best];
    d->best[best] = first;
    return status;
}

/* One more bore. *added: there was a place for it. */
static vug_status one_more(drilling *d, size_t size, const vugi_set *smaller, uint32_t max_turns,
    uint32_t *used, bool *added)
{
    size_t count = 0, most = most_searched(d->p);
    double left = 0.0;
    lay_out(d, smaller, size - 1);
    vug_status status = vugi_candidates_fill(&d->candidates, d->site, d->base + size - 1);
    if (!status)
        status = vugi_sets_rank(&d->candidates, d->site, d->base, size, smaller, d->best, most,
            &count, &left);
    *added = count > 0;
    if (!status && count > 0)
        status = search_sets(d, size, count, max_turns, used);
    if (!status && count > 0 && left > 0.0 && *used > vugi_least_turns(d->p))
        d->p->searched_all = false;
    return status;
}

static vug_status drill(drilling *d, uint32_t turns)
{
    vugi_planning *p = d->p;
    vugi_set best = {{0}, 0.0};
    vug_status status = VUG_OK;
    size_t most = d->most - d->base < p->options.max_bores ? d->most - d->base
                                                           : p->options.max_bores;
    for (size_t size = 1; size <= most && turns > vugi_least_turns(p) && !status; size++) {
        uint32_t used, max_turns = turns > p->options.max_turns ? p->options.max_turns : turns - 1;
        bool added;
        status = one_more(d, size, &best, max_turns, &used, &added);
        if (status || !added)
            break;
        best = d->best[0];
        if (used <= max_turns)
            turns = used;
    }
    return status;
}

/* A part without openings gets its first ones besides. */
static size_t most_sites(const vugi_planning *p, bool needed)
{
    size_t taken = p->cavities->opening_count, most = p->options.max_bores;
    size_t room = taken < VUG_MAX_OPENINGS ? VUG_MAX_OPENINGS - taken : 0;
    most += needed ? VUGI_FIRST_SITES : 0;
    return most < room ? most : room;
}

vug_status vugi_plan_bores(vugi_planning *p, bool needed, uint32_t turns_without)
{
    uint32_t with = turns_without;
    drilling *d = vugi_calloc(&p->ctx->mem, 1, sizeof *d);
    if (!d)
        return vugi_fail_memory(p->ctx);
    d->p = p;
    d->most = most_sites(p, needed);
    vug_status status = vugi_candidates_open(p, &d->candidates);
    if (!status && p->model)
        status = vugi_plan_inlets(p, d->most, d->site, &d->base);
    if (!status && p->model)
        status = vugi_plan_company(p, d->most, d->site, &d->base);
    if (!status && d->base > 0)
        status = vugi_plan_turns(p, d->site, d->base, p->options.max_turns, &with);
    if (!status)
        status = drill(d, with < turns_without ? with : turns_without);
    vugi_candidates_close(&d->candidates);
    vugi_free(&p->ctx->mem, d);
    return status;
}
