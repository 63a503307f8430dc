/* SPDX-License-Identifier: MIT
 * Types that the files of the network share: the gravity graph as a network in time. Full arcs are pipes,
 * arcs with a surface are tanks at their end, flooded nodes are junctions, air that hangs together is one piece
 * of gas, and openings let it out against their own resistance. */
#ifndef VUGI_TRANSIENT_NETWORK_TYPES_H
#define VUGI_TRANSIENT_NETWORK_TYPES_H

#include "transient/resistance.h"
#include "transient/sill.h"
#include "transient/slit.h"
#include "transient/task.h"

#include "hydrostatic/run.h"

typedef enum vugi_end { VUGI_END_NONE, VUGI_END_TANK, VUGI_END_OVER } vugi_end;

/* One piece of air. Pressures are heights of the liquid in mm above that outside. */
typedef struct vugi_gas {
    double excess;
    double amount;      /* volume at the pressure outside, mm3 */
    double before, now; /* volume before and after the step, mm3 */
    double vents;       /* what leaves by open mouths for each mm of excess, mm3/s */
    double gained;      /* from other air, mm3/s */
    uint32_t row;
} vugi_gas;

/* A door: between which spots, and what drives the flow from either, as base + slope times the head there over that of the
 * air in it, mm. */
typedef struct vugi_doorway {
    vugi_slit slit;
    uint32_t spot[2], air;
    double base[2], slope[2];
    double way, flow;
} vugi_doorway;

typedef struct vugi_network {
    vugi_run r;
    const vugi_transient *task;
    vugi_resistance resistance;
    double compressibility; /* share of its volume that air loses for each mm */
    double *volume, *next;  /* of each arc: liquid now, and after the step */
    double *flow;           /* of each arc: upward in it */
    double *before;         /* the same in the round before */
    double *source;         /* of each arc: falls onto its surface, from the inlet and over sills */
    double *direct, *fallen; /* of each arc: from the inlet alone; scratch */
    uint32_t *to;            /* of each arc that runs over: the arc onto whose surface it falls */
    double *way, *area; /* of each arc: head over flow, and volume over height, in this round */
    double *form;       /* scratch: a flow as a sum over the unknowns, and what is constant in it */
    double *press;      /* of each arc: excess pressure of its air */
    double *head;       /* of each spot */
    double *matrix, *right;
    uint32_t *unknown;              /* of each spot: its row, or VUGI_NONE */
    double *joint_way, *joint_flow; /* of what joins spots besides the arcs */
    uint32_t inlet_arc, inlet_spot; /* where the inlet opens into; the spot above that arc */
    double
        *sill_base; /* of that head at no flow from below, by its tangent at the flow of now, mm */
    double *sill_head; /* of each arc that runs over: how much higher than its sill it stands, mm */
    vugi_sill_shape *sill; /* of each link, once liquid has gone over it */
    bool *sill_known;
    uint32_t *basin;    /* of each link: where liquid lands that goes down it, or VUGI_NONE */
    uint32_t *over;     /* of each arc: the air over its surface, or VUGI_NONE */
    uint32_t *beside;   /* of each dry arc: the air into which its own escapes, or VUGI_NONE */
    unsigned char *end; /* of each arc: vugi_end */
    bool *pipe;
    bool *hung;            /* of each arc: stands over a dry throat and runs down through it */
    vugi_doorway *doorway; /* of each door of the scene */
    bool *pit;             /* of each node: the lowest place of a chamber with a door */
    vugi_links probe;      /* scratch: what would be connected */
    double dt;             /* of the step, s */
    bool *held; /* of each arc: a tank that gives all it has; a full arc where nothing runs over */
    vugi_gas *gas; /* of each air */
    size_t rows;
    bool firm; /* a step that is not cut any further */
    double rate;
    unsigned rounds; /* of the last flows */
    double change;   /* of a flow in the last of them, mm3/s; INFINITY: they are not determined */
    uint32_t bared;  /* node that air wants to enter from above, or VUGI_NONE */
} vugi_network;

#endif
