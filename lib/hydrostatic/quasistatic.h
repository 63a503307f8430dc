/* SPDX-License-Identifier: MIT
 * Filling without hurry: liquid always finds its level before more comes. */
#ifndef VUGI_HYDROSTATIC_QUASISTATIC_H
#define VUGI_HYDROSTATIC_QUASISTATIC_H

#include "hydrostatic/history.h"

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
    bool stop_at_spill;  /* else the mouth is covered for liquid and the fill goes on */
    const double *start; /* of each arc: its level at first; NULL: all are empty */
    const vugi_source
        *source; /* liquid comes from there, and mouths do not count; NULL: by the inlets */
} vugi_fill_task;

/* level: of each arc, the end. Event times are 0. */
vug_status vugi_quasistatic_run(vug_context *ctx, const vugi_fill_task *task, vugi_history *history,
    double *level);

#endif
