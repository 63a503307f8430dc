/* SPDX-License-Identifier: MIT
 * A fill as it was asked for, read and checked. */
#ifndef VUGI_FILL_JOB_H
#define VUGI_FILL_JOB_H

#include "base/bitset.h"
#include "fill/course.h"
#include "fill/stage.h"

typedef struct vugi_fill_job {
    vug_fill_options options;
    vug_fluid fluid;
    int32_t *role; /* of each opening */
    size_t inlet;  /* opening; SIZE_MAX: nothing is let in */
    vugi_stage stage;
    const vugi_bitset *covered; /* openings: as soon as liquid shows, no spill; NULL: none */
    const double *start;        /* of each arc of the scene: its level at first; NULL: empty */
} vugi_fill_job;

/* Checks all that the caller gave. cavity: the one to fill, SIZE_MAX: that of the inlet. Free the job also
 * after a failure. */
vug_status vugi_fill_read(vug_context *ctx, const struct vug_cavities *cavities, const double *up,
    const int32_t *roles, size_t role_count, const vug_fill_options *options, size_t cavity,
    vugi_fill_job *job);
void vugi_fill_job_free(vug_context *ctx, vugi_fill_job *job);

/* A viscous fill needs something that drives it. */
vug_status vugi_fill_driven(vug_context *ctx, const vugi_fill_job *job);

/* The highest rate at which nothing spills before the rest is full, VUGI_RATE_MOST at most; 0: nothing
 * ever spills. */
#define VUGI_RATE_MOST 1e5 /* mm3/s; 100 mL/s is more than a hand gives */
vug_status vugi_rate_limit(vug_context *ctx, const vugi_fill_job *job, vugi_scene *scene,
    double *rate);

/* One fill of a scene that is built already. */
vug_status vugi_fill_scene(vug_context *ctx, const vugi_fill_job *job, vugi_scene *scene,
    vug_course **out);

#endif
