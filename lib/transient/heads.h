/* SPDX-License-Identifier: MIT
 * Heads at which flows balance: one for each place, liquid or air, with flows between places by those heads. The steps of
 * a fill and of a drain in time both state their places and flows here. */
#ifndef VUGI_TRANSIENT_HEADS_H
#define VUGI_TRANSIENT_HEADS_H

#include "transient/skyline.h"

#include "gravity/sweep.h"

/* How a flow is asked: its slopes are the steepest within `near` mm, for what gives way on a move, as a yield stress does or
 * the lip of an opening, has no slope where it begins; rough: far from the balance yet. */
typedef struct vugi_ask {
    double near;
    bool rough;
} vugi_ask;

/* mm3/s by the heads in mm at up to three places, and how that grows with each. It leaves the first, comes to the second,
 * grows with the one and falls with the other. VUGI_NONE: outside, 0 mm. */
enum { VUGI_FLOW_ENDS = 3 };
typedef struct vugi_flow vugi_flow;
typedef double (*vugi_flow_law)(const vugi_ask *ask, const vugi_flow *flow,
    const double head[VUGI_FLOW_ENDS], double slope[VUGI_FLOW_ENDS]);
struct vugi_flow {
    vugi_flow_law law;
    const void *of; /* for the law: whose, and which of it */
    size_t index;
    uint32_t place[VUGI_FLOW_ENDS], row[VUGI_FLOW_ENDS];
    double flow; /* at the heads of now */
    /* share that does not arrive: of air, which shrinks as it comes to a higher pressure */
    double lost;
};

/* Rounds after which what does not balance yet is left alone. */
enum { VUGI_HEADS_ROUNDS = 150 };

typedef struct vugi_heads {
    const vugi_allocator *mem;
    size_t places;
    size_t late;           /* from this place on they get the last rows, as they know many others */
    uint32_t *group, *row; /* of each place; VUGI_NONE: no flow knows it */
    double *known;         /* of each place: its head in the balance before, NAN: none */
    vugi_flow *flow;
    size_t flows, flow_room;
    size_t rows, row_room;
    double *head, *low, *high; /* of each row, and between which that lies */
    double *next, *force, *move;
    vugi_skyline matrix;
    double near,
        fade;      /* mm, for vugi_ask; by how much less it is next where slopes are too steep */
    double best;   /* the least in all that was not balanced so far, mm3/s */
    double rest;   /* mm3/s by which the flows at a place do not balance, at most */
    size_t rounds; /* so far */
    int round;     /* of the last balance */
} vugi_heads;

bool vugi_heads_alloc(const vugi_allocator *mem, size_t places, vugi_heads *heads);
void vugi_heads_free(vugi_heads *heads);

/* No flows, each place by itself. Then places are united, flows added, rows made, and heads set. false: no memory. */
void vugi_heads_begin(vugi_heads *heads);
void vugi_heads_unite(vugi_heads *heads, uint32_t place, uint32_t other);
bool vugi_heads_add(vugi_heads *heads, vugi_flow flow);
bool vugi_heads_rows(vugi_heads *heads);

/* The same of a flow that loses nothing. */
bool vugi_heads_put(vugi_heads *heads, vugi_flow_law law, const void *of, size_t index,
    uint32_t from, uint32_t to, uint32_t third);

/* They have one head. */
bool vugi_heads_same(const vugi_heads *heads, uint32_t place, uint32_t other);

/* NAN: no flow knows it. */
double vugi_heads_at(const vugi_heads *heads, uint32_t place);

/* Of all, 0 at least. */
double vugi_heads_highest(const vugi_heads *heads);

/* Where the head is looked for from; no head goes beyond low and high. */
void vugi_heads_from(vugi_heads *heads, uint32_t place, double head, double low, double high);

/* usual: a flow of some size among these; all: what would move all volume in the step, mm3/s. How far it came says rest. */
vug_status vugi_heads_solve(vug_context *ctx, vugi_heads *heads, double usual, double all);

#endif
