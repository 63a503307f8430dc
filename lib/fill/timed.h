/* SPDX-License-Identifier: MIT
 * Filling in time: liquid that needs a head to move through the cavity. */
#ifndef VUGI_TIMED_H
#define VUGI_TIMED_H

#include "fill/resist.h"
#include "fill/run.h"

typedef struct vugi_timed {
    vugi_still still;
    const vug_fluid *fluid;
    double rate; /* mm3/s, or by the table: rows of time and the rate from then on */
    const double *table;
    size_t rows;
    double pressure; /* Pa; above 0: what drives the liquid through the inlet instead */
    double air_head; /* pressure of the air outside as a height of the liquid, mm; 0: air
                        keeps its volume, but passes pressure on */
    bool rigid;      /* closed air keeps its volume and its place */
    bool settle;     /* go on after the last of the liquid until all is level */
} vugi_timed;

typedef struct vugi_timed_result {
    double time;          /* when the last liquid went in */
    double settled;       /* when all was level again; -1: it stays on a slope */
    double lag;           /* greatest difference of level within one pool, mm */
    double slope;         /* difference left at the end that the yield stress holds, mm */
    double peak_pressure; /* at the inlet, Pa */
    unsigned rounds;      /* in which flows and resistances came to agree, most in one step */
} vugi_timed_result;

vug_status vugi_timed_run(vug_context *ctx, const vugi_timed *task, vugi_history *history,
    double *level, vugi_timed_result *result);

#endif
