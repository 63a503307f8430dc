/* SPDX-License-Identifier: MIT
 * Filling without hurry: liquid always finds its level before more comes. */
#ifndef VUGI_STILL_H
#define VUGI_STILL_H

#include "fill/history.h"

typedef struct vugi_still {
    vugi_scene *scene;
    const uint32_t *inlet;     /* mouths: liquid comes in by the first by which any can */
    size_t inlets;
    const bool *air_open;      /* of each mouth: air passes */
    const bool *liquid_open;   /* of each mouth: liquid that reaches the lip is seen to spill */
    double volume;             /* liquid at hand; INFINITY: as much as goes in */
    bool stop_at_spill;        /* else the mouth is covered for liquid and the fill goes on */
} vugi_still;

/* level: of each arc, the end. Event times are 0. */
vug_status vugi_still_run(vug_context *ctx, const vugi_still *task, vugi_history *history,
    double *level);

#endif
