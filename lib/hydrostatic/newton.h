/* SPDX-License-Identifier: MIT
 * Liquid and closed air at rest against each other. A pool has one head: the height at which the
 * pressure in it is that of the air outside. Closed air has one excess pressure, told as a height of
 * the liquid too. Where they meet, the surface stands at the difference. */
#ifndef VUGI_HYDROSTATIC_NEWTON_H
#define VUGI_HYDROSTATIC_NEWTON_H

#include "gravity/graph.h"

/* The top of the liquid in one arc. */
typedef struct vugi_surface {
    uint32_t arc;
    uint32_t pool, air; /* bodies below and above */
    double from;        /* where it stood */
    double misfit;      /* by how much that was not at rest; goes with the part */
    double lo, hi;      /* the next things that happen to it below and above */
    double z;           /* where it stands; past an end of the arc if it would go on */
    bool fixed;         /* does not move */
    unsigned tries;     /* how often it has run over, or let air escape, in this step */
} vugi_surface;

/* A pool, or one piece of air. */
typedef struct vugi_body {
    bool air, vented; /* vented: under the pressure outside */
    double head;
    double amount; /* of a pool: liquid in the arcs of its surfaces; of air: its volume at
                      the pressure outside. mm3 */
    double whole;  /* of air: volume in arcs without a surface */
    double feed;   /* what comes in, mm3; goes with the part */
    uint32_t tied; /* runs over: its head is that of this body, and */
    double tie;    /* so much more; else VUGI_NONE */
    uint32_t to;   /* and the body that takes what leaves; VUGI_NONE: it is gone */
    uint32_t row;
    double residual; /* amount found less amount there should be */
} vugi_body;

typedef struct vugi_balance {
    vugi_allocator mem;
    const vugi_graph *graph;
    double compressibility; /* share of its volume that air loses for each mm of head */
    vugi_surface *surface;
    size_t surfaces, surface_capacity;
    vugi_body *body;
    size_t bodies, body_capacity;
    double *matrix, *right, *start, *taken;
    size_t rows, matrix_capacity, right_capacity, start_capacity, taken_capacity;
} vugi_balance;

bool vugi_balance_body(vugi_balance *b, vugi_body body, uint32_t *number);
bool vugi_balance_surface(vugi_balance *b, vugi_surface surface);

/* Makes room for all bodies there are. */
bool vugi_balance_ready(vugi_balance *b);

/* Heads and surfaces once that part of the feeds is in and of the misfits is gone. Newton's method
 * from the heads of now. false: it does not converge. */
bool vugi_balance_solve(vugi_balance *b, double part);

/* What has left a body that runs over, mm3; negative: it should not run over. */
double vugi_balance_left(const vugi_balance *b, uint32_t body);

void vugi_balance_free(vugi_balance *b);

#endif
