/* SPDX-License-Identifier: MIT
 * A fill in time as it is asked for, and what it gives: types that the files of this room share. */
#ifndef VUGI_TRANSIENT_TASK_H
#define VUGI_TRANSIENT_TASK_H

#include "hydrostatic/history.h"
#include "hydrostatic/run.h"

typedef struct vugi_transient {
    vugi_fill_task fill;
    const vug_fluid *fluid;
    double rate; /* mm3/s, or by the table: rows of time and the rate from then on */
    const double *table;
    size_t rows;
    double pressure; /* Pa; above 0: what drives the liquid through the inlet instead */
    double air_head; /* pressure of the air outside as a height of the liquid, mm; 0: air
                        keeps its volume, but passes pressure on */
    bool rigid;      /* closed air keeps its volume and its place */
    bool settle;     /* go on after the last of the liquid until all is level */
} vugi_transient;

typedef struct vugi_transient_result {
    double time;          /* when the last liquid went in */
    double settled;       /* when all was level again; -1: it stays on a slope */
    double lag;           /* greatest difference of level within one pool, mm */
    double slope;         /* difference left at the end that the yield stress holds, mm */
    double peak_pressure; /* at the inlet, Pa */
    double sill_head;     /* greatest head over a sill, mm */
    unsigned rounds;      /* in which flows and resistances came to agree, most in one step */
} vugi_transient_result;

#endif
