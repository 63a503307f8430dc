/* SPDX-License-Identifier: MIT
 * Filling without hurry under air that gives: closed air shrinks by Boyle's law, and a pool pushes on
 * the next through the air between them. */
#ifndef VUGI_HYDROSTATIC_COMPRESSIBLE_H
#define VUGI_HYDROSTATIC_COMPRESSIBLE_H

#include "hydrostatic/history.h"
#include "hydrostatic/run.h"

typedef struct vugi_compressible {
    vugi_fill_task fill;
    double air_head;   /* pressure of the air outside as a height of the liquid, mm; INFINITY:
                          air keeps its volume */
    double inlet_head; /* mm up to which the syringe goes on once no open surface can rise */
    bool release;      /* then it is taken off, and liquid flows back until nothing drives it */
} vugi_compressible;

typedef struct vugi_compressible_result {
    double peak_head; /* at the inlet, mm */
    double returned;  /* mm3 */
} vugi_compressible_result;

/* As vugi_quasistatic_run(). */
vug_status vugi_compressible_run(vug_context *ctx, const vugi_compressible *task,
    vugi_history *history, double *level, vugi_compressible_result *result);

#endif
