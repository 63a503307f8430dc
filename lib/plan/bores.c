/* SPDX-License-Identifier: MIT
 * New bores: candidates from the domes of good poses, the fewest that do, one more at a time. */
#include "plan/plan.h"

#include <math.h>
#include <string.h>

enum { LOOKED_AT = 8, BUBBLES = 5, CANDIDATES = 24, POINTS = 5, SEARCHED = 3 };

typedef struct candidate {
    vugi_site site;
    double top[3];             /* of the dome, part coordinates */
    double up[3];
    double air;                /* share left by the best first fill with it, and with those before */
    double value;              /* less is better */
} candidate;

typedef struct drilling {
    vugi_planning *p;
    candidate *list;
    size_t count;
    double *air;               /* of a first fill, of each pose */
    uint32_t *order;           /* poses by rising air */
} drilling;

static double distance2(const double a[3], const double b[3])
{
    double d2 = 0.0;
    for (int k = 0; k < 3; k++)
        d2 += (a[k] - b[k]) * (a[k] - b[k]);
    return d2;
}

/* ---- poses by the air a first fill leaves ------------------------------------------- */

static vug_status first_fills(drilling *d)
{
    vugi_planning *p = d->p;
    for (size_t i = 0; i < p->stances.count; i++) {
        vug_status status = vugi_stances_first(p->ctx, &p->stances, i, d->air + i);
        if (status)
            return status;
        size_t at = i;
        for (; at > 0 && d->air[d->order[at - 1]] > d->air[i]; at--)
            d->order[at] = d->order[at - 1];
        d->order[at] = (uint32_t)i;
    }
    return VUG_OK;
}

/* Least air of a first fill in a pose that may be filled in, with what its pose costs. */
static double best_first(const drilling *d, double *value)
{
    const vugi_planning *p = d->p;
    double least = INFINITY;
    *value = INFINITY;
    for (size_t i = 0; i < p->stances.count; i++) {
        if (p->first != UINT32_MAX && i != p->first)
            continue;
        double over = fmax(0.0, d->air[i] - p->limit) / p->stances.capacity;
        least = fmin(least, d->air[i]);
        *value = fmin(*value, 100.0 * over + 0.2 * p->stances.ease[i]);
    }
    return least;
}

/* ---- candidates ------------------------------------------------------------------------ */

/* Points just under the ceiling of a dome: its top, and others nearly as high. */
static size_t points_under(const vugi_domes *d, const vugi_bubble *bubble, double *inside)
{
    const vugi_dome *dome = d->dome + bubble->dome;
    double high = dome->top - bubble->level, drop = fmin(0.3 * d->h, 0.25 * high);
    size_t count = 0, members = dome->last - dome->first;
    vugi_domes_point(d, dome->apex, dome->top - drop, inside + 3 * count++);
    double near_top = dome->top - fmax(0.5 * d->h, 0.04 * high);
    size_t step = members / 64 + 1;
    for (size_t i = 0; i < members && count < POINTS; i += step) {
        uint32_t s = d->member[dome->first + i];
        if (s != dome->apex && d->hi[s] > near_top)
            vugi_domes_point(d, s, d->hi[s] - drop, inside + 3 * count++);
    }
    return count;
}

static bool looked_at(const drilling *d, const double top[3], const double up[3])
{
    double close = fmax(2.0 * d->p->h, 0.02 * d->p->size);
    for (size_t i = 0; i < d->count; i++) {
        const double *u = d->list[i].up;
        if (distance2(d->list[i].top, top) < close * close
            && u[0] * up[0] + u[1] * up[1] + u[2] * up[2] > 0.7)
            return true;
    }
    return false;
}

static vug_status add_candidate(drilling *d, size_t pose, const vugi_bubble *bubble, double least_mm)
{
    vugi_planning *p = d->p;
    const vugi_domes *domes = p->stances.domes + pose;
    const double *up = p->stances.up + 3 * pose;
    double inside[3 * POINTS], top[3];
    bool found;
    if (d->count == CANDIDATES)
        return VUG_OK;
    vugi_domes_point(domes, domes->dome[bubble->dome].apex, domes->dome[bubble->dome].top, top);
    if (looked_at(d, top, up))
        return VUG_OK;
    candidate *c = d->list + d->count;
    size_t count = points_under(domes, bubble, inside);
    vug_status status = vugi_site_find(p->ctx, &p->skin, inside, count,
        domes->body[domes->dome[bubble->dome].apex], up, least_mm, &c->site, &found);
    if (status || !found)
        return status;
    memcpy(c->top, top, sizeof c->top);
    memcpy(c->up, up, sizeof c->up);
    d->count++;
    return VUG_OK;
}

/* The largest bubbles of a first fill in one pose. */
static vug_status look_at_pose(drilling *d, size_t pose)
{
    vugi_planning *p = d->p;
    const vugi_domes *domes = p->stances.domes + pose;
    vugi_air_room room = {.rising = NULL};
    vugi_air air = {.own = vugi_alloc(&p->ctx->mem, domes->count, sizeof(double))};
    vugi_bubble *bubble = NULL;
    size_t count = 0;
    vug_status status = air.own && vugi_air_room_ready(&p->ctx->mem, domes, &room) ? VUG_OK
        : vugi_fail_memory(p->ctx);
    if (!status) {
        const vugi_vents *vents = vugi_stances_filling(&p->stances, pose);
        vugi_air_first(domes, vents, &room, &air);
        status = vugi_air_bubbles(p->ctx, &p->ctx->mem, domes, vents, air.own, &bubble, &count);
    }
    for (int k = 0; k < BUBBLES && !status; k++) {
        size_t largest = SIZE_MAX;
        for (size_t i = 0; i < count; i++)
            if (largest == SIZE_MAX || bubble[i].volume > bubble[largest].volume)
                largest = i;
        if (largest == SIZE_MAX || bubble[largest].volume < 0.1 * p->limit)
            break;
        status = add_candidate(d, pose, bubble + largest, 0.0);
        bubble[largest].volume = -1.0;
    }
    vugi_free(&p->ctx->mem, bubble);
    vugi_free(&p->ctx->mem, air.own);
    vugi_air_room_free(&p->ctx->mem, &room);
    return status;
}

/* ---- one more bore --------------------------------------------------------------------- */

/* Values each candidate on top of the sites there are: what the best first fill would leave. */
static vug_status value_all(drilling *d, vugi_site *site, size_t sites)
{
    vugi_planning *p = d->p;
    for (size_t i = 0; i < d->count; i++) {
        candidate *c = d->list + i;
        vug_status status = vugi_step(p->ctx, (double)i / (double)d->count);
        if (status)
            return status;
        site[sites] = c->site;
        status = vugi_plan_vent(p, site, sites + 1);
        if (!status)
            status = first_fills(d);
        if (status)
            return status;
        c->air = best_first(d, &c->value);
        c->value += 0.5 * c->site.cost;
    }
    return VUG_OK;
}

static void sort_candidates(drilling *d)
{
    for (size_t i = 1; i < d->count; i++) {
        candidate moving = d->list[i];
        size_t at = i;
        for (; at > 0 && d->list[at - 1].value > moving.value; at--)
            d->list[at] = d->list[at - 1];
        d->list[at] = moving;
    }
}

/* Candidates from the poses that are best with the sites so far; the few most promising ones get
 * their turns searched. The best goes into site[sites]. */
static vug_status one_more(drilling *d, vugi_site *site, size_t sites, uint32_t max_turns,
    uint32_t *turns, bool *added)
{
    vugi_planning *p = d->p;
    vug_status status = vugi_plan_vent(p, site, sites);
    d->count = 0;
    *added = false;
    if (!status)
        status = first_fills(d);
    if (!status && p->first != UINT32_MAX)
        status = look_at_pose(d, p->first);
    for (size_t k = 0; k < LOOKED_AT && k < p->stances.count && !status; k++)
        status = look_at_pose(d, d->order[k]);
    if (!status)
        status = value_all(d, site, sites);
    if (status || d->count == 0)
        return status;
    sort_candidates(d);
    *turns = max_turns + 1;
    size_t best = 0;
    for (size_t i = 0; i < SEARCHED && i < d->count && !status; i++) {
        uint32_t used, most = *turns > 0 ? *turns - 1 : 0;
        if (i > 0 && *turns == 0)
            break;
        site[sites] = d->list[i].site;
        status = vugi_plan_turns(p, site, sites + 1, most, &used);
        if (!status && used <= most) {
            *turns = used;
            best = i;
        }
    }
    site[sites] = d->list[best].site;
    *added = true;
    return status;
}

/* ---- the first opening -------------------------------------------------------------------- */

/* Diameter for filling by needle and for rinsing: it lets air in where liquid goes out, if it can. */
static double inlet_least(const vugi_planning *p)
{
    vug_hole_task task;
    vug_hole_choice choice;
    vug_hole_task_init(&task, sizeof task);
    vug_hole_choice_init(&choice, sizeof choice);
    task.needle_mm = 1.651; /* 16 G, a usual blunt needle for paint */
    task.exchange = 1;
    if (vug_hole_choose(NULL, &p->solvent, &task, &choice))
        return 3.0;
    return choice.least_mm;
}

/* The whole cavity as a bubble: its top is the place for the inlet. */
static vugi_bubble whole(const vugi_domes *d, int32_t body)
{
    vugi_bubble bubble = {.dome = VUGI_NO_DOME};
    for (uint32_t i = 0; i < d->count; i++)
        if (d->dome[i].parent == VUGI_NO_DOME && d->body[d->dome[i].apex] == body
            && d->dome[i].room > bubble.volume)
            bubble = (vugi_bubble){i, d->dome[i].room, d->dome[i].top - 4.0 * d->h};
    return bubble;
}

/* A second opening for the air, as far from the first as the same pose has a place for. */
static vug_status second_opening(drilling *d, size_t pose, vugi_site *site, bool *found)
{
    vugi_planning *p = d->p;
    const vugi_domes *domes = p->stances.domes + pose;
    vugi_bubble bubble = whole(domes, site->cavity);
    const vugi_dome *dome = domes->dome + bubble.dome;
    double far = 0.0, inside[3], least = 3.0 * site->bore.diameter_mm;
    *found = false;
    for (uint32_t i = dome->first; i < dome->last; i++) {
        uint32_t s = domes->member[i];
        double point[3];
        if (domes->hi[s] < dome->top - 0.05 * p->size || domes->body[s] != site->cavity)
            continue;
        vugi_domes_point(domes, s, domes->hi[s] - 0.3 * domes->h, point);
        double d2 = distance2(point, site->inner);
        if (d2 <= far)
            continue;
        far = d2;
        /* a little back from the far wall */
        for (int k = 0; k < 3; k++)
            inside[k] = point[k] + (site->inner[k] - point[k]) * 0.1;
    }
    if (far < least * least)
        return VUG_OK;
    return vugi_site_find(p->ctx, &p->skin, inside, 1, site->cavity, p->stances.up + 3 * pose,
        site->bore.diameter_mm, site + 1, found);
}

/* Proposes an inlet, and a second opening, where the first fill leaves least and it shows least. */
static vug_status first_openings(drilling *d, vugi_site *site, size_t *sites)
{
    vugi_planning *p = d->p;
    double best = INFINITY, least_mm = inlet_least(p);
    size_t best_pose = 0;
    for (size_t i = 0; i < p->stances.count; i++) {
        double inside[3 * POINTS], air, value;
        vugi_site here;
        bool found;
        if (p->stances.ease[i] > 0.2 || (p->first != UINT32_MAX && i != p->first))
            continue;
        vugi_bubble bubble = whole(p->stances.domes + i, 0);
        if (bubble.dome == VUGI_NO_DOME)
            continue;
        size_t count = points_under(p->stances.domes + i, &bubble, inside);
        vug_status status = vugi_site_find(p->ctx, &p->skin, inside, count, 0,
            p->stances.up + 3 * i, least_mm, &here, &found);
        if (!status && found)
            status = vugi_plan_vent(p, &here, 1);
        if (!status && found)
            status = vugi_stances_first(p->ctx, &p->stances, i, &air);
        if (status)
            return status;
        if (!found)
            continue;
        value = air / p->stances.capacity + here.cost + here.bore.visibility + p->stances.ease[i];
        if (value < best) {
            best = value;
            best_pose = i;
            site[0] = here;
        }
    }
    if (!(best < INFINITY))
        return vugi_fail(p->ctx, VUG_ERR_NOT_FOUND, "no place for a first opening can be reached "
            "straight from outside: leave less clear of bores, or name a hole");
    bool second;
    vug_status status = second_opening(d, best_pose, site, &second);
    *sites = second ? 2 : 1;
    return status;
}

vug_status vugi_plan_bores(vugi_planning *p, bool needed, uint32_t turns_without)
{
    vugi_site site[VUG_MAX_BORES + 3];
    size_t sites = 0, base;
    uint32_t turns = turns_without;
    drilling d = {.p = p};
    vug_status status = VUG_OK;
    d.list = vugi_alloc(&p->ctx->mem, CANDIDATES, sizeof *d.list);
    d.air = vugi_alloc(&p->ctx->mem, p->stances.count, sizeof *d.air);
    d.order = vugi_alloc(&p->ctx->mem, p->stances.count, sizeof *d.order);
    if (!d.list || !d.air || !d.order)
        status = vugi_fail_memory(p->ctx);
    if (!status && needed)
        status = first_openings(&d, site, &sites);
    if (!status && needed)
        status = vugi_plan_turns(p, site, sites, p->options.max_turns, &turns);
    base = sites;
    while (!status && turns > 0 && sites - base < p->options.max_bores && sites < VUG_MAX_BORES
        && p->cavities->opening_count + sites < VUG_MAX_OPENINGS) {
        uint32_t most = turns > p->options.max_turns ? p->options.max_turns : turns - 1;
        bool added;
        uint32_t used = turns;
        status = one_more(&d, site, sites, most, &used, &added);
        if (status || !added)
            break;
        sites++;
        if (used <= most)
            turns = used;
    }
    vugi_free(&p->ctx->mem, d.list);
    vugi_free(&p->ctx->mem, d.air);
    vugi_free(&p->ctx->mem, d.order);
    return status;
}
