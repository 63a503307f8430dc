/* SPDX-License-Identifier: MIT
 * One step as it is done, and what came of it: the instruction that is told is what the simulation gets. */
#ifndef VUGI_PLAN_VERIFY_MOVE_H
#define VUGI_PLAN_VERIFY_MOVE_H

#include "base/bitset.h"
#include "cavity/cavity.h"
#include "plan/start.h"

/* Liquid of less than this is none, mm3. */
#define VUGI_NOTHING_MM3 0.5
/* Less than this, in mm3, no syringe measures: no step is made for it. */
#define VUGI_LEAST_MM3 50.0

/* What is let into one cavity. */
typedef struct vugi_feed {
    int32_t inlet; /* opening; -1: nothing is let in, and all its openings stay covered */
    double most;   /* mm3 at hand; 0: as much as goes in */
} vugi_feed;

/* All openings are covered, the part is turned, those named are opened, liquid is let in or runs out. */
typedef struct vugi_move {
    double up[3]; /* unit */
    double
        lean_deg; /* once there, so that each of the four sides around rises in turn; 0: not at all */
    double *way; /* poses on the turn, and of the leans, at which bubbles come to rest, 3 each */
    size_t ways;
    bool *open;      /* of each opening */
    vugi_feed *feed; /* of each cavity; filling only */
} vugi_move;

enum { VUGI_LEANS = 4 };

typedef struct vugi_outcome {
    double moved; /* mm3: liquid that goes in; draining: that runs out */
    double left;  /* air that stays; draining: liquid */
    double empty; /* of that, air with an opening that no liquid drives it to */
    double time; /* s, draining: until what runs out by itself within a day has; -1: nothing does */
    double stuck; /* of moved, draining: what does not run out by itself */
    double film;  /* draining: of liquid on the walls, not in left */
    double wait
        [3]; /* s, filling: for air and paint to pass each other in throats, typical, low and high;
                       -1: never */
    double *moved_by;    /* of each cavity, of moved; draining: of stuck */
    vugi_bitset through; /* openings by which air leaves; draining: by which liquid leaves */
    vugi_bitset shown;   /* openings that were open and came under liquid; filling only */
} vugi_outcome;

/* On what steps are played. */
typedef struct vugi_replay {
    const vug_cavities *cavities;
    const bool *closed; /* of each opening: never used */
    const vug_fluid *fluid;
    const vug_fluid *fluid_low, *fluid_high; /* the ends of its range, or NULL */
    double h;
    const vugi_start *start; /* what is inside before the first step; NULL: nothing */
    bool brief;              /* volumes alone are wanted of an outcome */
    /* Share of a cavity: with no more air than that in it, the steps to come are not played where vugi_replay_fill_from()
     * plays them. Steps let air out and none in: what there is, is the most that may stay. 0: all are. */
    double enough;
    /* With sills as columns have them: one of many, through coarse columns, that are tried or compared and give no figure
     * of a plan; those come from sills as a fill and a drain have them. */
    bool plain;
    vug_skin *skin; /* gets all courses of a filling; NULL: not wanted */
} vugi_replay;

bool vugi_moves_make(const vugi_allocator *mem, const vug_cavities *cavities, vugi_move *move,
    size_t steps);

/* Bubbles come to rest at least every so many degrees of each turn, 0: only at its end; and in each lean. false: no
 * memory. */
bool vugi_moves_pace(const vugi_allocator *mem, vugi_move *move, size_t steps, double stop_deg);
void vugi_moves_free(const vugi_allocator *mem, vugi_move *move, size_t steps);

bool vugi_outcomes_make(const vugi_allocator *mem, const vug_cavities *cavities,
    vugi_outcome *outcome, size_t steps);
/* to: as made, of the same openings. */
void vugi_outcome_copy(const vug_cavities *cavities, const vugi_outcome *from, vugi_outcome *to);
void vugi_outcomes_free(const vugi_allocator *mem, vugi_outcome *outcome, size_t steps);

#endif
