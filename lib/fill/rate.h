/* SPDX-License-Identifier: MIT
 * The rate of filling that is just not too high. */
#ifndef VUGI_FILL_RATE_H
#define VUGI_FILL_RATE_H

#include "fill/job.h"

#include "gravity/scene.h"

/* The highest rate at which nothing spills before the rest is full, VUGI_RATE_MOST at most; 0: nothing
 * ever spills. */
#define VUGI_RATE_MOST 1e5   /* mm3/s; 100 mL/s is more than a hand gives */
#define VUGI_RATE_LEAST 1e-3 /* mm3/s; a drop in a minute is hundreds of times as much */
vug_status vugi_rate_limit(vug_context *ctx, const vugi_fill_job *job, vugi_scene *scene,
    double *rate);

#endif
