/* SPDX-License-Identifier: MIT
 * A fill while it runs: what both ways of filling, without hurry and in time, share. */
#ifndef VUGI_HYDROSTATIC_RUN_H
#define VUGI_HYDROSTATIC_RUN_H

#include "hydrostatic/history.h"

#include "gravity/descend.h"
#include "gravity/graph.h"
#include "gravity/links.h"
#include "gravity/scene.h"

/* Liquid let go inside a closed cavity. */
typedef struct vugi_source {
    uint32_t basin; /* arc to which it runs */
    uint32_t from;  /* arc that it comes from: what makes room for it goes there; VUGI_NONE:
                       room is made for it everywhere */
} vugi_source;

typedef struct vugi_fill_task {
    vugi_scene *scene;
    const uint32_t *inlet; /* mouths: liquid comes in by the first by which any can */
    size_t inlets;
    const bool *air_open;    /* of each mouth: air passes */
    const bool *liquid_open; /* of each mouth: liquid that reaches the lip is seen to spill */
    double volume; /* liquid at hand with what is inside at first; INFINITY: as much as goes in */
    bool stop_at_spill; /* else the mouth is covered for liquid and the fill goes on */
    /* The mirror of a drain: what is displaced is liquid, which comes to no opening that is not beyond its own surface. */
    bool weighs;
    const double *start; /* of each arc: its level at first; NULL: all are empty */
    const vugi_source
        *source; /* liquid comes from there, and mouths do not count; NULL: by the inlets */
} vugi_fill_task;

typedef struct vugi_run {
    const vugi_fill_task *task;
    const vugi_scene *scene;
    const vugi_graph *g;
    vugi_history *history;
    vug_context *ctx;
    double *level, *before;
    double liquid, tolerance;
    vugi_links links;
    vugi_descent descent;
    bool *sealed;            /* of each arc: its air is cut off */
    bool *reached;           /* of each arc: liquid has come to this basin */
    bool *flooded;           /* of each node */
    bool *spilled, *covered; /* of each mouth */
    bool *sill;              /* of each link: liquid has gone down here */
    bool *blocked;           /* of each arc: liquid does not go back there */
    uint32_t *visited;       /* of each arc: pool visited in this walk */
    uint32_t *rising;        /* arcs whose surface rises next */
    size_t rising_count;
    bool stopped;
    bool pressed; /* something presses at the inlet: what stands at its lip is under it */
} vugi_run;

/* Scratch and links, and fuzz. */
bool vugi_run_alloc(vugi_run *run);
void vugi_run_free(vugi_run *run);

/* The levels to begin with. What is covered, flooded or cut off then is no event. */
void vugi_run_begin(vugi_run *run);

/* Notes an event at a mouth, or else at a node. */
bool vugi_run_note(vugi_run *run, int32_t kind, uint32_t mouth, uint32_t node, double level,
    double volume);

/* Notes that liquid comes to a basin, for the first time. */
vug_status vugi_run_reach(vugi_run *run, uint32_t basin);

/* The link by which a full arc runs over: into a neighbour that is not full, by the lowest way down. vented: only
 * where air has a way out. VUGI_NONE: it does not. */
uint32_t vugi_run_overflow(const vugi_run *run, uint32_t arc, bool vented);

/* Level of the next thing that happens to a surface that rises in an arc: its end, a rim, a lip. */
double vugi_run_next(const vugi_run *run, uint32_t arc);

/* Liquid at this lip would be seen to spill; now it does, and the fill ends or the mouth is covered. */
bool vugi_run_can_spill(const vugi_run *run, const vugi_port *lip);
bool vugi_run_spill(vugi_run *run, const vugi_port *lip);

/* What is connected at the levels of now; pockets that are new. */
bool vugi_run_look(vugi_run *run);

/* How far the surface in an arc can rise; INFINITY where what is displaced has no weight. */
double vugi_run_limit(vugi_run *run, uint32_t arc);

/* Rims that have gone under, and sills. */
bool vugi_run_rims(vugi_run *run);
bool vugi_run_merges(vugi_run *run);

/* Liquid that air pushes down to a node leaves it: the arcs below are full no more, by a hair. press: of each
 * arc, excess pressure of its air, which goes along. */
void vugi_run_bare(vugi_run *run, uint32_t node, double *press);

/* Notes that liquid goes over the node into the arc below it at link k, for the first time. */
vug_status vugi_run_sill(vugi_run *run, uint32_t node, uint32_t k);

/* The basin in which liquid from the pool ends up that goes down link k. */
vug_status vugi_run_way_down(vugi_run *run, uint32_t pool, uint32_t k, uint32_t *basin);

/* Both. */
vug_status vugi_run_go_down(vugi_run *run, uint32_t pool, uint32_t node, uint32_t k,
    uint32_t *basin);

/* The arc at a mouth in which liquid stands over it, else one with air there; VUGI_NONE: neither. */
uint32_t vugi_run_inlet(const vugi_run *run, uint32_t inlet, bool *under);

/* The pool over a mouth if it is under liquid, else the basin below it. */
uint32_t vugi_run_start(const vugi_run *run, uint32_t inlet);

/* VUG_END_ of a fill in which nothing rises any more. */
int32_t vugi_run_end(const vugi_run *run);

/* Writes the state down. */
bool vugi_run_frame(vugi_run *run, vugi_frame frame);

#endif
