/* SPDX-License-Identifier: MIT
 * Types that the files of a plan share: a plan being made, and when it is done. */
#ifndef VUGI_PLAN_PLANNING_H
#define VUGI_PLAN_PLANNING_H

#include "plan/bores/site.h"
#include "plan/search/tilt.h"
#include "plan/start.h"
#include "plan/verify/move.h"

#include "airtree/barrier.h"
#include "airtree/pose_set.h"
#include "cavity/cavity.h"

#include <math.h>

/* A part without openings gets an inlet and another besides the bores that were asked for. */
enum { VUGI_ALTERNATIVES = 8, VUGI_FIRST_SITES = 2, VUGI_SITES = VUG_MAX_BORES + VUGI_FIRST_SITES };

struct vugi_verification;

/* One way to do it: bores, and a sequence of poses. */
typedef struct vugi_option {
    vugi_tilt tilt; /* pose: numbers of candidate poses at first, not used later */
    double up[3 * (VUGI_MAX_TURNS + 1)];
    vugi_site *site;
    size_t sites;
    double risk;     /* what it costs, in turns, that it may miss the limit */
    double searched; /* share of the cavity that the search saw stay */
    size_t lone;     /* cavities whose holes may hold in what is to run out, see bores/lone.h */
    double missed;   /* mm3: cavities that are to be reached and that no opening leads to */
    vug_plan_info info;
    vug_step_info fill[VUGI_MAX_TURNS + 1], drain[VUGI_MAX_TURNS + 1];
    vug_cavities *cavities;
    bool *closed;  /* of each of its openings */
    bool *later;   /* of each: closed, or drilled only after curing */
    double *stuck; /* mm3 of each cavity that doesn't run out by itself, drain step by drain step */
    double wall_light;               /* share of the curing light that comes through the wall */
    uint32_t cautions;               /* bit for each */
    struct vugi_verification *proof; /* while it is played through */
} vugi_option;

/* The share that stays air of what is to be filled, when trapped_mm3 stays in what openings lead to. */
static inline double vugi_option_air(const vugi_option *o, double trapped_mm3)
{
    return (trapped_mm3 + o->missed) / (o->info.capacity_mm3 + o->missed);
}

/* Is there room in a cavity that a syringe measures? In the only one there is. */
static inline bool vugi_option_is_worth(const vugi_option *o, size_t cavity)
{
    return o->cavities->cavity[cavity].volume >= fmin(VUGI_LEAST_MM3, o->info.capacity_mm3);
}

/* Mean width of the narrowest cavity, 4 V / S, mm; INFINITY: not known. */
static inline double vugi_passage(const vug_cavities *cavities)
{
    double narrow = INFINITY;
    for (size_t i = 0; i < cavities->cavity_count; i++) {
        const vugi_cavity *c = cavities->cavity + i;
        if (c->area > 0.0)
            narrow = fmin(narrow, 4.0 * c->volume / c->area);
    }
    return narrow;
}

/* Does an empty part take nothing that a syringe measures? */
static inline bool vugi_option_unfilled(const vugi_option *o)
{
    return !o->info.given && o->info.inject_mm3 < VUGI_LEAST_MM3;
}

enum { VUGI_COAT_STEPS = 17, VUGI_WASHES = 4 };

/* How the part as it is gets held to wash it. */
typedef struct vugi_wash {
    double up[3 * VUGI_WASHES];
    size_t count; /* 0: not known yet */
} vugi_wash;

/* A little paint swirled around in the part as it is, or in the model. */
typedef struct vugi_coat {
    double up[3 * VUGI_COAT_STEPS];
    int32_t coats; /* 0: it makes none */
    double share;  /* of the room */
    double wetted, paint, dry_s;
} vugi_coat;

struct vug_plan {
    vugi_allocator mem;
    size_t count;
    vugi_option *option[VUGI_ALTERNATIVES];
    double tilt_deg, limit;          /* as in the options */
    uint32_t most_bores, most_turns; /* too */
    bool pose_given;
    double bare_limit;
    vugi_coat coat;
    vug_fluid fluid, solvent;
};

/* What all stages need. */
typedef struct vugi_planning {
    vug_context *ctx;
    const vug_cavities *cavities;
    vug_plan_options options;
    vug_fluid fluid, solvent;
    int32_t *role; /* of each opening */
    bool *closed;
    double size;      /* longest side of the cavities, mm: the search counts columns along it */
    double square;    /* what simulations count theirs along, as fills and drains do, mm */
    double h;         /* spacing in the search */
    double center[3]; /* of mass of the part */
    vugi_pose_set pose_set;
    uint32_t first; /* candidate pose to fill in, or UINT32_MAX */
    double limit;   /* mm3 that may stay, as the search sees it, sealed included */
    double sealed;  /* of that, in cavities that no opening leads to while one leads to another */
    bool *reached;  /* of each cavity: it is to be filled */
    bool model;     /* new holes are printed with it */
    double turn_step_deg;   /* how far a turn goes before bubbles have moved; 0: all the way */
    vugi_barriers barriers; /* throats too narrow for bubbles in this fluid */
    double held;            /* mm3: smaller bubbles do not move in it */
    vugi_barriers off_barriers[2]; /* the same in paint a tenth easier and a tenth stiffer */
    double off_held[2];
    double passage;    /* vugi_passage() without new bores */
    double wall, thin; /* mm: in front of the cavities, less on half and on a twentieth of them */
    bool searched_all; /* the turns of every set of bores were searched */
    vugi_start start;
    vugi_skin skin;
    vugi_wash wash; /* with the holes that are there */
    vug_plan *plan;
} vugi_planning;

/* A new bore in a part that has paint in it takes a step to let the air out. */
static inline uint32_t vugi_least_turns(const vugi_planning *p)
{
    return p->start.given ? 1 : 0;
}

/* The opening to inject by that the caller named, -1: none. */
static inline int32_t vugi_inlet_named(const vugi_planning *p)
{
    for (size_t i = 0; i < p->cavities->opening_count; i++)
        if (p->role[i] == VUG_ROLE_INLET)
            return (int32_t)i;
    return -1;
}

#endif
