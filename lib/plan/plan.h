/* SPDX-License-Identifier: MIT
 * A plan being made, and when it is done. */
#ifndef VUGI_PLAN_H
#define VUGI_PLAN_H

#include "plan/pose.h"
#include "plan/site.h"
#include "plan/tilt.h"

/* A part without openings gets an inlet and another besides the bores that were asked for. */
enum { VUGI_ALTERNATIVES = 8, VUGI_FIRST_SITES = 2, VUGI_SITES = VUG_MAX_BORES + VUGI_FIRST_SITES };

/* One way to do it: bores, and a sequence of poses. */
typedef struct vugi_option {
    vugi_tilt tilt; /* pose: numbers of candidate poses at first, not used later */
    double up[3 * (VUGI_MAX_TURNS + 1)];
    vugi_site *site;
    size_t sites;
    double searched; /* share of the cavity that the search saw stay */
    vug_plan_info info;
    vug_plan_step fill[VUGI_MAX_TURNS + 1], drain[VUGI_MAX_TURNS + 1];
    vug_cavities *cavities;
    bool *closed;      /* of each of its openings */
    uint32_t cautions; /* bit for each */
    bool proven;
} vugi_option;

struct vug_plan {
    vugi_allocator mem;
    size_t count;
    vugi_option *option[VUGI_ALTERNATIVES];
};

/* What all stages need. */
typedef struct vugi_planning {
    vug_context *ctx;
    const vug_cavities *cavities;
    vug_plan_options options;
    vug_fluid fluid, solvent;
    int32_t *role; /* of each opening */
    bool *closed;
    double size;      /* longest side of the cavities' bounds, mm */
    double h;         /* spacing in the search */
    double center[3]; /* of mass of the part */
    vugi_stances stances;
    uint32_t first;       /* candidate pose to fill in, or UINT32_MAX */
    double limit;         /* mm3 that may stay, as the search sees it */
    double turn_step_deg; /* how far a turn goes before bubbles have moved; 0: all the way */
    vugi_gates gates;     /* throats too narrow for bubbles in this fluid */
    double held;          /* mm3: smaller bubbles do not move in it */
    double passage;       /* mean width of the cavities, 4 V / S, mm; INFINITY: not known */
    bool searched_all;    /* the turns of every set of bores were searched */
    vugi_skin skin;
    vug_plan *plan;
} vugi_planning;

/* Candidate poses: those easy to hold, some spread evenly, and the best refined to a degree. */
vug_status vugi_plan_poses(vugi_planning *p);

/* Throats and bubbles that stay put in the fluid: sets gates and held. */
vug_status vugi_plan_hold(vugi_planning *p);
double vugi_plan_locked_in(const vugi_planning *p);
uint32_t vugi_plan_hold_cautions(const vugi_planning *p);
void vugi_plan_hold_info(const vugi_planning *p, vug_plan_info *info);

/* Adds the best sequences with the given new bores to the alternatives. turns_used: fewest turns
 * within the limit, by the proof too, or max_turns + 1. */
vug_status vugi_plan_turns(vugi_planning *p, vugi_site *site, size_t sites, uint32_t max_turns,
    uint32_t *turns_used);

/* Adds alternatives with new bores. needed: the part has no opening yet. */
vug_status vugi_plan_bores(vugi_planning *p, bool needed, uint32_t turns_without);

/* Plays an alternative through and fills in its figures. */
vug_status vugi_plan_prove(vugi_planning *p, vugi_option *option);

/* Whether liquid runs out of each cavity in a pose by itself: by an opening wide enough for air and liquid
 * to pass each other, or by two at different heights. closed: of each opening. */
bool vugi_plan_exchanges(const vug_fluid *liquid, const vug_cavities *cavities, const bool *closed,
    const double up[3]);

/* How fast the first step may go: played on coarse columns. */
vug_status vugi_plan_rate(vugi_planning *p, vugi_option *option);

/* Vents of all stances: the part's own openings and the sites. */
vug_status vugi_plan_vent(vugi_planning *p, vugi_site *site, size_t sites);

/* The caller's fluid (NULL: water), checked. */
vug_status vugi_plan_fluid(vug_context *ctx, const vug_fluid *given, vug_fluid *own);

void vugi_option_free(const vugi_allocator *mem, vugi_option *option);

#endif
