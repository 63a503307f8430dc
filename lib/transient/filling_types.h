/* SPDX-License-Identifier: MIT
 * Types that the files of a fill in time share. */
#ifndef VUGI_TRANSIENT_FILLING_TYPES_H
#define VUGI_TRANSIENT_FILLING_TYPES_H

#include "transient/network.h"
#include "transient/outlet.h"
#include "transient/task.h"

#include "hydrostatic/run.h"

/* A surface that can rise, or one at the upper end of its arc that runs over there. */
typedef enum vugi_end { VUGI_END_NONE, VUGI_END_TANK, VUGI_END_OVER } vugi_end;

/* One piece of air. Pressures are heights of the liquid in mm above that outside. */
typedef struct vugi_gas {
    double excess;
    double amount; /* volume at the pressure outside, mm3 */
    double before; /* volume before the step, mm3 */
} vugi_gas;

typedef struct vugi_filling {
    vugi_run r;
    const vugi_transient *task;
    vugi_network net;
    /* share of its volume that air loses for each mm; below 0: it keeps its place */
    double compressibility;
    double *volume, *next; /* of each arc: liquid now, and after the step */
    double *flow;          /* of each arc: what its surface gains in the step, mm3/s */
    double *press;         /* of each arc: excess pressure of its air */
    double *rim;           /* of each surface that can rise: the level of its next event */
    double *sill_head; /* of each arc that runs over: how much higher than its sill it stands, mm */
    uint32_t *link;    /* of each full arc: that by which it runs over, or VUGI_NONE */
    uint32_t *to;      /* of each arc that runs over or down: the arc onto whose surface it falls */
    vugi_outlet *sill; /* of each link, once it is known */
    bool *sill_known;
    uint32_t *basin;    /* of each link: where liquid lands that goes down it, once it has */
    uint32_t *over;     /* of each arc: the air over its surface, or VUGI_NONE */
    uint32_t *beside;   /* of each dry arc: the air into which its own escapes, or VUGI_NONE */
    unsigned char *end; /* of each arc: vugi_end */
    bool *hung;         /* of each arc: stands over a dry throat and runs down through it */
    bool *held;         /* of each arc: its surface has given all that it had */
    vugi_links probe;   /* scratch: what would be connected */
    vugi_gas *gas;      /* of each air */
    vugi_outlet *vent;  /* of each mouth: air out */
    uint32_t inlet_arc; /* where the inlet opens into */
    bool inlet_under;   /* liquid */
    double dt;          /* of the step, s */
    double rate;        /* comes in, mm3/s */
    uint32_t bared;     /* node that air wants to enter from above, or VUGI_NONE */
} vugi_filling;

#endif
